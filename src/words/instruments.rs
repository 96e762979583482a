//! What the meter and its companions do to a circuit, and how far off they may be.

use super::describe::setting_title;
use crate::bench::MeterSetting;
use crate::say;
use crate::words::Texts;

/// What a setting of the meter is.
fn about(t: Texts, setting: MeterSetting) -> Option<&'static str> {
    Some(t.say(match setting {
        MeterSetting::Off => return None,
        MeterSetting::Volts => "instruments-volts",
        MeterSetting::LowZ => "instruments-low-z",
        MeterSetting::Ohms => "instruments-ohms",
        MeterSetting::Tone => "instruments-tone",
        MeterSetting::Diode => "instruments-diode",
        MeterSetting::Amps => "instruments-amps",
    }))
}

/// The meter's settings: what each is called, what it puts on the circuit, and what it may be off.
#[must_use]
pub fn settings(t: Texts) -> Vec<(&'static str, &'static str, String)> {
    let row = |setting: MeterSetting| {
        let accuracy = setting.accuracy();
        let off = format!("±({:.1} % + {:.0})", accuracy.share * 100.0, accuracy.counts);
        Some((setting_title(t, setting), about(t, setting)?, off))
    };
    MeterSetting::ALL.into_iter().filter_map(row).collect()
}

/// What there is to know of all instruments, in paragraphs whose lines fit a terminal.
#[must_use]
pub fn notes(t: Texts) -> [&'static str; 3] {
    [t.say("instruments-note-meter"), t.say("instruments-note-clamp"), t.say("instruments-note-recorder")]
}

/// What the meter is.
#[must_use]
pub fn meter(t: Texts) -> &'static str {
    t.say("instruments-meter")
}

/// The instruments, one after another.
pub(super) fn instruments(t: Texts) -> String {
    let mut text = format!("{}\n", meter(t));
    for (title, about, off) in settings(t) {
        let row = say!(t, "instruments-row", setting = format!("{title:<21}"), about = about, off = off);
        text.push_str(&format!("  {row}\n"));
    }
    let notes: Vec<String> = notes(t).iter().map(|lines| format!("{lines}\n")).collect();
    text.push_str(&notes.join("\n"));
    text
}
