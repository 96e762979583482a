//! Wall-clock times of the envelope. Nothing of a job hangs on them; a paper's time limit does.

use std::time::{Duration, Instant, SystemTime, UNIX_EPOCH};

/// Tells the time.
pub trait Clock: Send {
    /// Milliseconds since 1970 began, UTC.
    fn now_ms(&mut self) -> u64;
}

/// The machine's clock, asked once; from then on time goes by what has passed. So a clock that is set anew while a job
/// is open changes nothing.
#[derive(Clone, Copy, Debug, Default)]
pub struct SystemClock {
    begun: Option<(SystemTime, Instant)>,
}

impl Clock for SystemClock {
    #[expect(
        clippy::disallowed_methods,
        reason = "only for the envelope; nothing of the job follows from it"
    )]
    fn now_ms(&mut self) -> u64 {
        let (wall, since) = *self.begun.get_or_insert_with(|| (SystemTime::now(), Instant::now()));
        let passed = wall.duration_since(UNIX_EPOCH).unwrap_or(Duration::ZERO) + since.elapsed();
        u64::try_from(passed.as_millis()).unwrap_or(u64::MAX)
    }
}

const DAY_MS: u64 = 86_400_000;

/// A time as RFC 3339 writes it, in UTC to a millisecond: `2026-03-01T09:30:00.250Z`.
#[must_use]
pub fn written(ms: u64) -> String {
    let (mut days, within) = (ms / DAY_MS, ms % DAY_MS);
    let mut year = 1970;
    while days >= days_of(year) {
        days -= days_of(year);
        year += 1;
    }
    let mut month = 1;
    while days >= days_in(year, month) {
        days -= days_in(year, month);
        month += 1;
    }
    let (hours, minutes) = (within / 3_600_000, within / 60_000 % 60);
    let (seconds, thousandths) = (within / 1000 % 60, within % 1000);
    format!("{year:04}-{month:02}-{:02}T{hours:02}:{minutes:02}:{seconds:02}.{thousandths:03}Z", days + 1)
}

/// Reads what [`written`] writes, and nothing else; `None` where it is no time.
#[must_use]
pub fn read(text: &str) -> Option<u64> {
    let number = |from: usize, to: usize| -> Option<u64> {
        text.get(from..to).filter(|part| part.bytes().all(|byte| byte.is_ascii_digit()))?.parse().ok()
    };
    let (year, month, day) = (number(0, 4)?, number(5, 7)?, number(8, 10)?);
    if year < 1970 || !(1..=12).contains(&month) || !(1..=days_in(year, month)).contains(&day) {
        return None;
    }
    let days = (1970..year).map(days_of).sum::<u64>()
        + (1..month).map(|month| days_in(year, month)).sum::<u64>()
        + day
        - 1;
    let of_day = ((number(11, 13)? * 60 + number(14, 16)?) * 60 + number(17, 19)?) * 1000 + number(20, 23)?;
    let ms = days * DAY_MS + of_day;
    // Signs between the numbers, hours above 23 and the like do not come back the same.
    (written(ms) == text).then_some(ms)
}

fn leaps(year: u64) -> bool {
    year.is_multiple_of(4) && (!year.is_multiple_of(100) || year.is_multiple_of(400))
}

fn days_of(year: u64) -> u64 {
    if leaps(year) { 366 } else { 365 }
}

fn days_in(year: u64, month: u64) -> u64 {
    match month {
        2 if leaps(year) => 29,
        2 => 28,
        4 | 6 | 9 | 11 => 30,
        _ => 31,
    }
}

#[cfg(test)]
mod tests {
    use super::{read, written};

    /// Worked out with another program (`date -u -d @N`), and the examples of RFC 3339, section 5.8, in UTC.
    #[test]
    fn known_times() {
        for (ms, text) in [
            (0, "1970-01-01T00:00:00.000Z"),
            (951_782_399_999, "2000-02-28T23:59:59.999Z"),
            (951_868_800_000, "2000-03-01T00:00:00.000Z"),
            (482_196_050_520, "1985-04-12T23:20:50.520Z"),
            (851_042_397_000, "1996-12-20T00:39:57.000Z"),
            (4_107_542_400_000, "2100-03-01T00:00:00.000Z"),
        ] {
            assert_eq!(written(ms), text);
            assert_eq!(read(text), Some(ms));
        }
    }

    #[test]
    fn what_is_no_time_is_refused() {
        for text in [
            "",
            "2026-02-29T00:00:00.000Z",
            "2026-13-01T00:00:00.000Z",
            "2026-01-01T24:00:00.000Z",
            "2026-01-01T00:60:00.000Z",
            "2026-01-01 00:00:00.000Z",
            "2026-01-01T00:00:00.000+",
            "2026-01-01T00:00:00.000Z ",
            "2026-01-01T00:00:00Z",
            "é026-01-01T00:00:00.000Z",
            "+026-01-01T00:00:00.000Z",
        ] {
            assert_eq!(read(text), None, "{text}");
        }
    }
}
