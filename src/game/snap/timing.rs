//! How long frames take, screen by screen.

use std::time::{Duration, Instant};

/// Frames of a screen before any is timed.
const BEFORE: u32 = 40;
/// Frames of a screen that are timed: of fewer than a hundred none is slower than 99 in a hundred.
const TIMED: u32 = 100;

/// What has been measured.
pub(super) struct Times {
    /// When the program was asked, and how long after that the first job stood there to be worked.
    begun: Instant,
    ready: Option<Duration>,
    /// The last frame of the screen that is timed, and how long each took.
    last: Option<Instant>,
    frames: Vec<Duration>,
}

impl Times {
    /// The program has been asked.
    pub(super) fn begin() -> Self {
        Self { begun: now(), ready: None, last: None, frames: Vec::new() }
    }

    /// Takes the time of a frame, of so many since its screen stands. True after the last one, when what was measured has been
    /// printed.
    pub(super) fn take(&mut self, name: &str, frame: u32) -> bool {
        let now = now();
        if self.ready.is_none() {
            self.ready = Some(now - self.begun);
            print_row(["screen", "median ms", "99 % ms", "frames"]);
        }
        if frame == 1 {
            self.last = None;
            self.frames.clear();
        }
        let last = self.last.replace(now);
        if frame > BEFORE
            && let Some(last) = last
        {
            self.frames.push(now - last);
        }
        if frame < BEFORE + TIMED {
            return false;
        }
        let mut frames = std::mem::take(&mut self.frames);
        frames.sort_unstable();
        let milliseconds = |percent| format!("{:.1}", percentile(&frames, percent).as_secs_f64() * 1e3);
        print_row([name, &milliseconds(50), &milliseconds(99), &frames.len().to_string()]);
        true
    }

    /// Prints what was measured beside the frames.
    #[expect(clippy::print_stdout, reason = "this is what the command is for")]
    pub(super) fn print_rest(&self) {
        if let Some(ready) = self.ready {
            println!("start to first job: {:.2} s", ready.as_secs_f64());
        }
        if let Some(most) = most_memory_megabytes() {
            println!("memory at most: {most:.0} MB");
        }
    }
}

/// The least of some times, sorted, that so many percent of them do not exceed.
fn percentile(sorted: &[Duration], percent: usize) -> Duration {
    let rank = (sorted.len() * percent).div_ceil(100);
    sorted.get(rank.saturating_sub(1)).copied().unwrap_or_default()
}

#[expect(clippy::disallowed_methods, reason = "frames are timed; nothing of the job hangs on it")]
fn now() -> Instant {
    Instant::now()
}

#[expect(clippy::print_stdout, reason = "this is what the command is for")]
fn print_row([name, median, slow, frames]: [&str; 4]) {
    println!("{name:<14} {median:>10} {slow:>10} {frames:>7}");
}

/// The largest resident memory of this program so far; Linux tells it in kilobytes (proc(5), `VmHWM`: published).
fn most_memory_megabytes() -> Option<f64> {
    let status = std::fs::read_to_string("/proc/self/status").ok()?;
    let line = status.lines().find_map(|line| line.strip_prefix("VmHWM:"))?;
    line.trim().strip_suffix("kB")?.trim().parse::<f64>().ok().map(|kilobytes| kilobytes / 1024.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_percentile_is_the_time_that_so_many_do_not_exceed() {
        let times: Vec<Duration> = (1..=100).map(Duration::from_millis).collect();
        assert_eq!(percentile(&times, 50), Duration::from_millis(50));
        assert_eq!(percentile(&times, 99), Duration::from_millis(99));
        assert_eq!(percentile(&times, 100), Duration::from_millis(100));
        assert_eq!(percentile(&times[..3], 99), Duration::from_millis(3));
        assert_eq!(percentile(&[], 99), Duration::ZERO);
    }

    #[test]
    fn so_many_frames_are_timed_as_are_printed() {
        let mut times = Times::begin();
        let mut frame = 0;
        loop {
            frame += 1;
            if frame == BEFORE + TIMED {
                assert_eq!(times.frames.len(), TIMED as usize - 1);
            }
            if times.take("bay", frame) {
                break;
            }
        }
        assert_eq!(frame, BEFORE + TIMED);
        assert!(times.frames.is_empty(), "the next screen begins anew");
    }
}
