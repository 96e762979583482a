//! What the recorder took down, as a strip of text.

use crate::bench::Recording;
use crate::circuit::Waveform;
use crate::say;
use crate::words::Texts;

/// Size of a channel's field in characters; each character is two steps high.
const COLUMNS: usize = 72;
const ROWS: usize = 8;
/// What moves by less than this, in V or A, is drawn as still.
const STILL: f64 = 0.05;
/// What lies within this, in V or A, is told in thousandths.
const SMALL: f64 = 0.1;

/// What a recording shows, in one line.
#[must_use]
pub fn recording(t: Texts, recording: &Recording) -> String {
    let (begins, ends) = recording.span();
    let channels: Vec<String> = channels(recording)
        .map(|(wave, _, unit)| {
            let extremes = wave.extremes(begins, ends);
            let (least, greatest) =
                (recorder_figure(extremes.0, extremes, unit), recorder_figure(extremes.1, extremes, unit));
            say!(t, "recording-channel", least = least, greatest = greatest)
        })
        .collect();
    let milliseconds = format!("{:.0}", (ends - begins) * 1e3);
    say!(t, "recording-over", channels = channels.join("; "), milliseconds = milliseconds)
}

/// What a recorder's figure says on a scale from `least` to `greatest`: in thousandths where all of that is small, and with
/// enough decimals that its ends differ.
#[must_use]
pub fn recorder_figure(value: f64, (least, greatest): (f64, f64), unit: &str) -> String {
    let greatest = greatest.max(least + STILL);
    let small = least.abs().max(greatest.abs()) < SMALL;
    let (value, unit) = if small { (value * 1e3, format!("m{unit}")) } else { (value, unit.to_owned()) };
    let (shift, decimals) = match (small, greatest - least < SMALL) {
        (true, _) => (1.0, 0),
        (false, true) => (1e3, 3),
        (false, false) => (1e2, 2),
    };
    // What rounds to nothing has no sign.
    let value = (value * shift).round() / shift + 0.0;
    format!("{value:.decimals$} {unit}")
}

fn channels(recording: &Recording) -> impl Iterator<Item = (&Waveform, &'static str, &'static str)> {
    let volts = recording.volts.iter().map(|wave| (wave, "setting-volts", "V"));
    volts.chain(recording.amps.iter().map(|wave| (wave, "setting-amps", "A")))
}

/// A recording drawn in characters: each channel over time, with the ends of its scale at the axis.
#[must_use]
pub fn strip(t: Texts, recording: &Recording) -> String {
    let (begins, ends) = recording.span();
    let mut text = String::new();
    for (wave, id, unit) in channels(recording) {
        text.push_str(&format!("{}\n", t.say(id)));
        text.push_str(&field(wave, (begins, ends), recording.scale(wave), unit));
    }
    let (first, last) = (format!("{:.0} ms", begins * 1e3), format!("{:.0} ms", ends * 1e3));
    let gap = COLUMNS.saturating_sub(first.chars().count());
    text.push_str(&format!("{:>11}{first}{last:>gap$}\n", ""));
    text
}

/// One channel: in each column every step from its least to its greatest value there.
fn field(wave: &Waveform, (begins, ends): (f64, f64), (least, greatest): (f64, f64), unit: &str) -> String {
    // What hardly moves is drawn as a line along the bottom and not as its own noise.
    let is_still = greatest - least < STILL;
    let span = (greatest - least).max(STILL);
    let steps = 2 * ROWS;
    let step = |value: f64| {
        let share = ((value - least) / span).clamp(0.0, 1.0);
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "from 0 to the steps")]
        let at = libm::rint(share * (steps - 1) as f64) as usize;
        at
    };
    let width = (ends - begins) / COLUMNS as f64;
    let columns: Vec<(usize, usize)> = (0..COLUMNS)
        .map(|column| {
            let from = begins + width * column as f64;
            let (low, high) = wave.extremes(from, from + width);
            (step(low), step(high))
        })
        .collect();
    let mut text = String::new();
    for row in (0..ROWS).rev() {
        let figure = |value| recorder_figure(value, (least, greatest), unit);
        let label = match row {
            row if row + 1 == ROWS && !is_still => figure(greatest),
            0 => figure(least),
            _ => String::new(),
        };
        let cells: String = columns
            .iter()
            .map(|(low, high)| {
                let inked = |step: usize| (*low..=*high).contains(&step);
                match (inked(2 * row + 1), inked(2 * row)) {
                    (true, true) => '█',
                    (true, false) => '▀',
                    (false, true) => '▄',
                    (false, false) => ' ',
                }
            })
            .collect();
        text.push_str(format!("{label:>9} ┤{cells}").trim_end());
        text.push('\n');
    }
    text
}

#[cfg(test)]
mod tests {
    use super::{recorder_figure, recording, strip};
    use crate::bench::Recording;
    use crate::circuit::Waveform;
    use crate::words::Texts;

    #[test]
    fn a_pulse_stands_between_its_axes() {
        let pulse = vec![(-0.05, 0.0), (0.25, 0.0), (0.25, 12.0), (0.75, 12.0), (0.75, 0.0), (0.95, 0.0)];
        let taken = Recording { volts: Waveform::through(pulse), amps: None };
        let text = strip(Texts::english(), &taken);
        let lines: Vec<&str> = text.lines().collect();
        assert_eq!(lines.len(), 1 + 8 + 1, "{text}");
        assert!(lines[1].starts_with("  12.00 V ┤") && lines[8].starts_with("   0.00 V ┤"), "{text}");
        let inked = lines[1].chars().filter(|c| *c == '▀' || *c == '█').count();
        // Half of a second, and both its edges.
        assert!((35..=38).contains(&inked), "{inked} columns at the top\n{text}");
        assert!(lines[9].trim_start().starts_with("-50 ms") && lines[9].ends_with("950 ms"), "{text}");
        assert!(lines.iter().all(|line| line.chars().count() <= 11 + 72), "{text}");
        assert_eq!(recording(Texts::english(), &taken), "least 0.00 V, greatest 12.00 V over 1000 ms");
    }

    #[test]
    fn what_is_shorter_than_a_millisecond_runs_to_the_edge() {
        let kick = vec![(-0.05, 12.0), (0.1, 12.0), (0.1, -60.0), (0.1001, 0.0), (0.2, 0.0)];
        let taken = Recording { volts: Waveform::through(kick), amps: None };
        let text = strip(Texts::english(), &taken);
        let lines: Vec<&str> = text.lines().collect();
        assert!(lines[1].starts_with("  12.00 V ┤") && lines[8].starts_with("  -3.00 V ┤"), "{text}");
        assert!(lines[8].trim_end().ends_with('█'), "{text}");
        assert_eq!(recording(Texts::english(), &taken), "least -60.00 V, greatest 12.00 V over 250 ms");
    }

    #[test]
    fn what_is_still_is_a_line() {
        let still = Recording { volts: None, amps: Waveform::through(vec![(-0.05, 0.01), (0.2, 0.01)]) };
        let text = strip(Texts::english(), &still);
        assert_eq!(text.chars().filter(|c| *c == '▄').count(), 72, "{text}");
        assert!(!text.contains(['█', '▀']) && text.matches("10 mA").count() == 1, "{text}");
        assert_eq!(recording(Texts::english(), &still), "least 10 mA, greatest 10 mA over 250 ms");
    }

    #[test]
    fn a_figure_tells_the_ends_of_its_scale_apart() {
        let ends = |least: f64, greatest: f64| {
            [least, greatest].map(|one| recorder_figure(one, (least, greatest), "V"))
        };
        assert_eq!(ends(-0.0001, 0.0499), ["0 mV", "50 mV"]);
        assert_eq!(ends(-0.03, 0.02), ["-30 mV", "20 mV"]);
        assert_eq!(ends(0.02, 0.03), ["20 mV", "30 mV"]);
        assert_eq!(ends(12.601, 12.651), ["12.601 V", "12.651 V"]);
        assert_eq!(ends(-0.001, 12.6), ["0.00 V", "12.60 V"]);
        assert_eq!(recorder_figure(3.456, (0.0, 8.0), "A"), "3.46 A");
    }
}
