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

/// The meter's settings: what each is called, what it puts on the circuit, and what it may be off.
pub(super) fn settings() -> Vec<(&'static str, &'static str, String)> {
    let row = |setting: MeterSetting| {
        let accuracy = setting.accuracy();
        let off = format!("±({:.1} % + {:.0})", accuracy.share * 100.0, accuracy.counts);
        Some((setting_title(setting), about(setting)?, off))
    };
    MeterSetting::ALL.into_iter().filter_map(row).collect()
}

/// What there is to know of all instruments, in paragraphs of one line each.
pub(super) const NOTES: [&[&str]; 3] = [
    &[
        "The display renews itself four times a second and shows the mean of that time: what changes shows part-way once, then",
        "settled. capture holds the least and the greatest mean over a tenth of a second until a lead or the switch is moved.",
        "Behind a mated connector a lead back-probes, with the circuit as it works. On an open one it front-probes, and what hung",
        "on the connector hangs there no more: volts without load. hastily takes a third of the time, and may land on the next",
        "cavity; look tells where the probes are.",
    ],
    &[
        "Clamp, round one conductor at a station, behind a cavity, or the battery's cable: direct current up to 60 A, 10 mA a count,",
        "±(2 % + 3), no load on the circuit; its zero drifts by up to 30 mA. Plus is from a conductor's first end to its second, as",
        "list diagram has them; in the battery's cable, out of the post.",
    ],
    &[
        "Recorder, volts between two leads of its own (10 MΩ) and the clamp's amps over time: armed, it takes down the next act",
        "that works the car or joins or parts the circuit.",
    ],
];

/// What the meter is.
pub(super) const METER: &str =
    "Meter, 6,000 counts. Each setting, what it puts on the circuit, and what it may be off:";

/// The instruments, one after another.
pub(super) fn instruments() -> String {
    let mut text = format!("{METER}\n");
    for (title, about, off) in settings() {
        text.push_str(&format!("  {title:<21} {about}; {off}\n"));
    }
    let notes: Vec<String> = NOTES.iter().map(|lines| format!("{}\n", lines.join("\n"))).collect();
    text.push_str(&notes.join("\n"));
    text
}
