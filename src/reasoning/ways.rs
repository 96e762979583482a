//! Every way in which chance can fall.

use crate::bench::Chance;

/// Choices of one act that are followed both ways; of later ones the likelier side is taken.
const MOST_CHOICES: usize = 6;
/// Where a display's beat is taken to fall, as a fraction of a cycle.
const BEAT: f64 = 0.5;

/// Chance that follows a given path and notes where it could have gone another way.
struct Path {
    /// How many choices came before.
    before: usize,
    taken: Vec<(bool, f64)>,
    at: usize,
}

/// A way that chance has fallen so far.
#[derive(Clone, Copy, Debug)]
pub(super) struct Way {
    /// How likely it is.
    pub(super) probability: f64,
    choices: usize,
}

impl Way {
    /// Before anything has been left to chance.
    pub(super) const CERTAIN: Self = Self { probability: 1.0, choices: 0 };

    /// Runs something once for each way in which its chances can fall from here on: that way, and what came of it.
    pub(super) fn every_further<T, E>(
        self,
        mut run: impl FnMut(&mut dyn Chance) -> Result<T, E>,
    ) -> Result<Vec<(Self, T)>, E> {
        let mut ways = Vec::new();
        let mut path = Path { before: self.choices, taken: Vec::new(), at: 0 };
        loop {
            path.at = 0;
            let came = run(&mut path)?;
            let shares = path.taken.iter().map(|&(happens, share)| if happens { share } else { 1.0 - share });
            let probability = shares.fold(self.probability, |product, share| product * share);
            ways.push((Self { probability, choices: self.choices + path.taken.len() }, came));
            while path.taken.last().is_some_and(|&(happens, _)| !happens) {
                path.taken.pop();
            }
            match path.taken.last_mut() {
                Some(last) => last.0 = false,
                None => return Ok(ways),
            }
        }
    }
}

impl Chance for Path {
    fn happens(&mut self, probability: f64) -> bool {
        if probability <= 0.0 || probability >= 1.0 {
            return probability > 0.0;
        }
        if self.at == self.taken.len() {
            if self.before + self.at == MOST_CHOICES {
                return probability >= 0.5;
            }
            self.taken.push((true, probability));
        }
        let (happens, _) = self.taken[self.at];
        self.at += 1;
        happens
    }

    fn fraction(&mut self) -> f64 {
        BEAT
    }
}

/// Runs something once for each way in which its chances can fall: the probability of each, and what came of it.
///
/// # Errors
/// The first error of a run.
pub fn every_way<T, E>(run: impl FnMut(&mut dyn Chance) -> Result<T, E>) -> Result<Vec<(f64, T)>, E> {
    let ways = Way::CERTAIN.every_further(run)?;
    Ok(ways.into_iter().map(|(way, came)| (way.probability, came)).collect())
}
