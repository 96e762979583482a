//! What the meter and its companions do to a circuit, and how far off they may be.

use super::describe::setting_title;
use crate::bench::MeterSetting;

/// What a setting of the meter is.
fn about(setting: MeterSetting) -> Option<&'static str> {
    Some(match setting {
        MeterSetting::Off => return None,
        MeterSetting::Volts => "10 MΩ input; an open wire shows the ghost that leakage gives it; up to 60 V",
        MeterSetting::LowZ => "3 kΩ input; a ghost falls to nothing, a feed stays; up to 60 V",
        MeterSetting::Ohms => {
            "source of 2.6 V, under 350 µA; both leads' 0.1 Ω included; up to 40 MΩ; a circuit without power"
        }
        MeterSetting::Tone => {
            "ohms, with a tone below 50 Ω: one remaining strand sounds as well as a whole wire"
        }
        MeterSetting::Diode => {
            "source of 2.8 V, under 1.2 mA; a junction's drop in volts with red on its anode, OL the other way"
        }
        MeterSetting::Amps => {
            "shunt of 0.03 Ω behind the meter's own 10 A fuse; in line only: in place of a pulled fuse, feed to load"
        }
    })
}

/// The instruments, one after another.
pub(super) fn instruments() -> String {
    let mut text = String::from(
        "Meter, 6,000 counts. Each setting, what it puts on the circuit, and what it may be off:\n",
    );
    for setting in MeterSetting::ALL {
        if let Some(about) = about(setting) {
            let accuracy = setting.accuracy();
            text.push_str(&format!(
                "  {:<21} {about}; ±({:.1} % + {:.0})\n",
                setting_title(setting),
                accuracy.share * 100.0,
                accuracy.counts
            ));
        }
    }
    text.push_str(
        "The display renews itself four times a second and shows the mean of that time: what changes shows part-way once, then\n\
         settled. capture holds the least and the greatest mean over a tenth of a second until a lead or the switch is moved.\n\
         Behind a mated connector a lead back-probes, with the circuit as it works. On an open one it front-probes, and what hung\n\
         on the connector hangs there no more: volts without load. hastily takes a third of the time, and may land on the next\n\
         cavity; look tells where the probes are.\n\
         \n\
         Clamp, round one conductor at a station, behind a cavity, or the battery's cable: direct current up to 60 A, 10 mA a count,\n\
         ±(2 % + 3), no load on the circuit; its zero drifts by up to 30 mA. Plus is from a conductor's first end to its second, as\n\
         list diagram has them; in the battery's cable, out of the post.\n\
         \n\
         Recorder, volts between two leads of its own (10 MΩ) and the clamp's amps over time: armed, it takes down the next act\n\
         that works the car or joins or parts the circuit.\n",
    );
    text
}
