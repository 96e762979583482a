//! How long frames take, screen by screen.

use std::time::{Duration, Instant};

/// Frames of each screen that are timed, after as many that are not.
const TIMED: u32 = 60;

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
            print_row(["screen", "median ms", "99 % ms"]);
        }
        if frame == 1 {
            self.last = None;
            self.frames.clear();
        }
        let last = self.last.replace(now);
        if frame > TIMED
            && let Some(last) = last
        {
            self.frames.push(now - last);
        }
        if frame < 2 * TIMED {
            return false;
        }
        let mut frames = std::mem::take(&mut self.frames);
        frames.sort_unstable();
        let median = frames[frames.len() / 2];
        let slowest = frames[(frames.len() * 99 / 100).min(frames.len() - 1)];
        let milliseconds = |time: Duration| format!("{:.1}", time.as_secs_f64() * 1e3);
        print_row([name, &milliseconds(median), &milliseconds(slowest)]);
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

#[expect(clippy::disallowed_methods, reason = "frames are timed; nothing of the job hangs on it")]
fn now() -> Instant {
    Instant::now()
}

#[expect(clippy::print_stdout, reason = "this is what the command is for")]
fn print_row([name, median, slow]: [&str; 3]) {
    println!("{name:<14} {median:>10} {slow:>10}");
}

/// The largest resident memory of this program so far; Linux tells it in kilobytes (proc(5), `VmHWM`: published).
fn most_memory_megabytes() -> Option<f64> {
    let status = std::fs::read_to_string("/proc/self/status").ok()?;
    let line = status.lines().find_map(|line| line.strip_prefix("VmHWM:"))?;
    line.trim().strip_suffix("kB")?.trim().parse::<f64>().ok().map(|kilobytes| kilobytes / 1024.0)
}
