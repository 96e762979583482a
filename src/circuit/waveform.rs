//! A quantity over time: straight lines between points, and jumps where two points share one time.

/// A quantity over time, in seconds: straight lines between points whose times ascend. Two points at one time are a
/// jump. Before its first point and after its last it keeps their values.
#[derive(Clone, Debug, PartialEq)]
pub struct Waveform {
    points: Vec<(f64, f64)>,
}

impl Waveform {
    /// The waveform through `points` (seconds, value); `None` where there are none, where a number is not finite, or
    /// where time runs backwards.
    #[must_use]
    pub fn through(points: Vec<(f64, f64)>) -> Option<Self> {
        let finite = points.iter().all(|(seconds, value)| seconds.is_finite() && value.is_finite());
        let ascends = points.windows(2).all(|pair| pair[0].0 <= pair[1].0);
        (finite && ascends && !points.is_empty()).then_some(Self { points })
    }

    /// Its points: seconds and value.
    #[must_use]
    pub fn points(&self) -> &[(f64, f64)] {
        &self.points
    }

    fn first(&self) -> (f64, f64) {
        self.points[0]
    }

    fn last(&self) -> (f64, f64) {
        self.points[self.points.len() - 1]
    }

    /// The time of its first point, in seconds.
    #[must_use]
    pub fn begins(&self) -> f64 {
        self.first().0
    }

    /// The time of its last point, in seconds.
    #[must_use]
    pub fn ends(&self) -> f64 {
        self.last().0
    }

    /// Its value at a time; at a jump, the value after it.
    #[must_use]
    pub fn at(&self, seconds: f64) -> f64 {
        let next = self.points.partition_point(|point| point.0 <= seconds);
        match (next.checked_sub(1).map(|at| self.points[at]), self.points.get(next)) {
            (Some(before), Some(&after)) => between(before, after, seconds),
            (Some((_, value)), None) => value,
            (None, _) => self.first().1,
        }
    }

    /// The time from which on it keeps its last value, in seconds.
    #[must_use]
    pub fn settles(&self) -> f64 {
        let (_, last) = self.last();
        let moving = self.points.iter().rposition(|(_, value)| *value != last);
        moving.map_or(self.begins(), |at| self.points[at + 1].0)
    }

    /// The stretches of it between two times, each with the values at its ends.
    fn stretches(&self, from: f64, to: f64) -> impl Iterator<Item = ((f64, f64), (f64, f64))> + '_ {
        let begin = self.points.partition_point(|point| point.0 <= from).saturating_sub(1);
        let (first, last) = (self.first(), self.last());
        let ahead = (from < first.0).then(|| ((from, first.1), (first.0.min(to), first.1)));
        let behind = (last.0 < to).then(|| ((last.0.max(from), last.1), (to, last.1)));
        let inside =
            self.points[begin..].windows(2).take_while(move |pair| pair[0].0 < to).filter_map(move |pair| {
                let (start, end) = (pair[0].0.max(from), pair[1].0.min(to));
                let value = |seconds: f64| between(pair[0], pair[1], seconds);
                (start < end).then(|| ((start, value(start)), (end, value(end))))
            });
        ahead.into_iter().chain(inside).chain(behind)
    }

    /// The integral over time from one time to a later one, in seconds times its unit: exact but for rounding.
    #[must_use]
    pub fn integral(&self, from: f64, to: f64) -> f64 {
        self.stretches(from, to).map(|((a, low), (b, high))| (low / 2.0 + high / 2.0) * (b - a)).sum()
    }

    /// The least and the greatest value from one time to a later one, both sides of every jump between them included.
    #[must_use]
    pub fn extremes(&self, from: f64, to: f64) -> (f64, f64) {
        let value = self.at(from);
        self.stretches(from, to).fold((value, value), |(least, greatest), ((_, a), (_, b))| {
            (least.min(a).min(b), greatest.max(a).max(b))
        })
    }

    /// The mean from one time to a later one; at one time, the value there.
    #[must_use]
    pub fn mean(&self, from: f64, to: f64) -> f64 {
        if to <= from {
            return self.at(from);
        }
        // Rounding must not carry a mean beyond what it is the mean of.
        let (least, greatest) = self
            .stretches(from, to)
            .fold((f64::INFINITY, f64::NEG_INFINITY), |(least, greatest), ((_, a), (_, b))| {
                (least.min(a).min(b), greatest.max(a).max(b))
            });
        (self.integral(from, to) / (to - from)).clamp(least, greatest)
    }

    /// The least and the greatest mean over any `window` seconds that begins from `from` to `to`.
    ///
    /// Where the window slides by dt, the mean changes by (f(t + window) − f(t)) dt / window. Between the times at which
    /// either end of the window meets a point, that is a straight line: the mean is extreme at such times and where the
    /// line crosses zero.
    #[must_use]
    pub fn extreme_means(&self, window: f64, from: f64, to: f64) -> (f64, f64) {
        let meets = self.points.iter().flat_map(|(seconds, _)| [*seconds, seconds - window]);
        let mut begins: Vec<f64> = meets.filter(|at| (from..=to).contains(at)).chain([from, to]).collect();
        begins.sort_by(f64::total_cmp);
        begins.dedup();
        let slide = |at: f64| self.at(at + window) - self.at(at);
        let turns: Vec<f64> = begins
            .windows(2)
            .filter_map(|pair| {
                // Taken inside, where rounding cannot put either end on the wrong side of a jump.
                let quarter = (pair[1] - pair[0]) / 4.0;
                let (early, late) = (pair[0] + quarter, pair[1] - quarter);
                let (before, after) = (slide(early), slide(late));
                (before != after)
                    .then(|| early + (late - early) * (before / (before - after)))
                    .filter(|at| (pair[0]..=pair[1]).contains(at))
            })
            .collect();
        let sums = self.sums();
        let sum = |at: f64| self.sum_to(&sums, at);
        let (low, high) = self.extremes(from, to + window);
        let means = begins.iter().chain(&turns).map(|&at| (sum(at + window) - sum(at)) / window);
        means.fold((high, low), |(least, greatest), mean| {
            // Rounding must not carry a mean beyond what it is the mean of.
            let mean = mean.clamp(low, high);
            (least.min(mean), greatest.max(mean))
        })
    }

    /// The integral from the first point to each point.
    fn sums(&self) -> Vec<f64> {
        let mut sum = 0.0;
        let steps = self.points.windows(2).map(|pair| {
            sum += (pair[0].1 / 2.0 + pair[1].1 / 2.0) * (pair[1].0 - pair[0].0);
            sum
        });
        [0.0].into_iter().chain(steps).collect()
    }

    /// The integral from the first point to a time, by the integrals to all points.
    fn sum_to(&self, sums: &[f64], seconds: f64) -> f64 {
        let at = self.points.partition_point(|point| point.0 <= seconds).saturating_sub(1);
        let (from, value) = self.points[at];
        sums[at] + (value / 2.0 + self.at(seconds) / 2.0) * (seconds - from)
    }

    /// The same with every value changed.
    ///
    /// Straight lines stay straight only under a straight change: gain, offset, limits that are not passed.
    #[must_use]
    pub fn map(&self, change: impl Fn(f64) -> f64) -> Self {
        Self { points: self.points.iter().map(|&(seconds, value)| (seconds, change(value))).collect() }
    }

    /// What lies between two times, with a point at each of them.
    #[must_use]
    pub fn part(&self, from: f64, to: f64) -> Self {
        let inside = self.points.iter().copied().filter(|(seconds, _)| from < *seconds && *seconds < to);
        let end = self.stretches(from, to).last().map_or(self.at(to), |(_, (_, value))| value);
        let points = [(from, self.at(from))].into_iter().chain(inside).chain([(to, end)]).collect();
        Self { points }
    }
}

/// The value at a time on the line through two points, the first of which is not later; beyond them, theirs.
fn between(before: (f64, f64), after: (f64, f64), seconds: f64) -> f64 {
    if seconds <= before.0 {
        before.1
    } else if seconds >= after.0 {
        after.1
    } else {
        let share = (seconds - before.0) / (after.0 - before.0);
        before.1 * (1.0 - share) + after.1 * share
    }
}

#[cfg(test)]
mod tests {
    use super::Waveform;

    fn ramp_and_step() -> Waveform {
        // 0 to 10 in a second, held for a second, down to 4 at once, held for another.
        Waveform::through(vec![(0.0, 0.0), (1.0, 10.0), (2.0, 10.0), (2.0, 4.0), (3.0, 4.0)])
            .expect("times ascend")
    }

    #[test]
    fn what_is_no_waveform_is_refused() {
        for points in
            [vec![], vec![(f64::NAN, 0.0)], vec![(0.0, f64::INFINITY)], vec![(1.0, 0.0), (0.5, 0.0)]]
        {
            assert_eq!(Waveform::through(points.clone()), None, "{points:?}");
        }
    }

    #[test]
    fn values_are_read_off_the_lines_and_after_jumps() {
        let wave = ramp_and_step();
        for (seconds, value) in
            [(-1.0, 0.0), (0.0, 0.0), (0.25, 2.5), (1.5, 10.0), (2.0, 4.0), (2.5, 4.0), (9.0, 4.0)]
        {
            assert_eq!(wave.at(seconds), value, "at {seconds} s");
        }
        assert_eq!((wave.begins(), wave.ends(), wave.settles()), (0.0, 3.0, 2.0));
    }

    #[test]
    fn integrals_and_means_are_those_of_the_drawn_areas() {
        let wave = ramp_and_step();
        assert_eq!(wave.integral(0.0, 3.0), 5.0 + 10.0 + 4.0);
        assert_eq!(wave.integral(-2.0, 0.5), 1.25);
        assert_eq!(wave.integral(2.5, 5.0), 10.0);
        assert_eq!(wave.mean(0.0, 1.0), 5.0);
        assert_eq!(wave.mean(1.5, 2.5), 7.0);
        assert_eq!(wave.mean(2.0, 2.0), 4.0);
        assert_eq!(wave.extremes(0.5, 2.5), (4.0, 10.0));
        assert_eq!(wave.extremes(2.0, 3.0), (4.0, 4.0));
        assert_eq!(wave.extremes(1.5, 2.0), (10.0, 10.0), "the jump at its end has not been passed");
    }

    /// A triangle's greatest mean over a window is where the window lies evenly about its peak: 1 − window / 4.
    #[test]
    fn a_moving_mean_is_greatest_between_the_points() {
        let triangle = Waveform::through(vec![(0.0, 0.0), (1.0, 1.0), (2.0, 0.0)]).expect("times ascend");
        let (least, greatest) = triangle.extreme_means(0.5, 0.0, 1.5);
        assert!((greatest - 0.875).abs() < 1e-12, "{greatest}");
        assert!((least - 0.25).abs() < 1e-12, "{least}");
        // A pulse shorter than the window shows only its share of it.
        let pulse = Waveform::through(vec![(0.0, 0.0), (1.0, 0.0), (1.0, 12.0), (1.05, 12.0), (1.05, 0.0)])
            .expect("times ascend");
        let (least, greatest) = pulse.extreme_means(0.1, 0.0, 3.0);
        assert!((greatest - 6.0).abs() < 1e-9 && least == 0.0, "{least} {greatest}");
    }

    #[test]
    fn a_part_begins_and_ends_where_it_is_cut() {
        let part = ramp_and_step().part(0.5, 2.0);
        assert_eq!(part.points(), [(0.5, 5.0), (1.0, 10.0), (2.0, 10.0)]);
        assert_eq!(ramp_and_step().part(2.0, 2.5).points(), [(2.0, 4.0), (2.5, 4.0)]);
        assert_eq!(ramp_and_step().map(|value| 2.0 * value - 1.0).at(0.25), 4.0);
    }
}
