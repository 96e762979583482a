//! What will happen after a delay unless its cause goes away before.

use super::ids::PartId;

/// What is due at the end of a delay.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Due {
    /// A relay's armature moves over.
    Armature(PartId),
    /// A relay's contacts bounce apart or together; how many more times they will.
    Bounce(PartId, u8),
    /// A module takes an input for changed.
    Input(PartId, usize),
    /// An electronic output at its limit shuts itself down.
    ShutDown(PartId, usize),
    /// A module stops or starts working.
    Supply(PartId),
}

impl Due {
    fn part(self) -> PartId {
        match self {
            Self::Armature(part)
            | Self::Bounce(part, _)
            | Self::Input(part, _)
            | Self::ShutDown(part, _)
            | Self::Supply(part) => part,
        }
    }
}

/// What is left of a time and is no time at all, in seconds.
pub(super) const INSTANT_SECONDS: f64 = 1e-9;

/// Delays that run, in the order in which they began.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct Timers {
    running: Vec<(Due, f64)>,
}

impl Timers {
    /// Starts a delay while its cause holds, unless it runs already; stops it where the cause has gone.
    pub(super) fn follow(&mut self, due: Due, cause: bool, seconds: f64) {
        let at = self.running.iter().position(|(running, _)| *running == due);
        match (at, cause) {
            (None, true) => self.running.push((due, seconds)),
            (Some(at), false) => {
                self.running.remove(at);
            }
            _ => {}
        }
    }

    /// Whether a relay's contacts are still bouncing.
    pub(super) fn is_bouncing(&self, part: PartId) -> bool {
        self.running.iter().any(|(due, _)| matches!(due, Due::Bounce(at, _) if *at == part))
    }

    /// Stops the delays of a part.
    pub(super) fn forget(&mut self, part: PartId) {
        self.running.retain(|(due, _)| due.part() != part);
    }

    /// Seconds until the first is due; infinite where none runs.
    pub(super) fn first_seconds(&self) -> f64 {
        self.running.iter().fold(f64::INFINITY, |first, (_, left)| first.min(*left))
    }

    /// Lets time pass.
    pub(super) fn elapse(&mut self, seconds: f64) {
        for (_, left) in &mut self.running {
            *left = (*left - seconds).max(0.0);
        }
    }

    /// Takes out the first that is due.
    pub(super) fn take_due(&mut self) -> Option<Due> {
        let at = self.running.iter().position(|(_, left)| *left <= INSTANT_SECONDS)?;
        Some(self.running.remove(at).0)
    }
}
