//! Why a part has the marks that it has.

use crate::bench::WriteUpLine;

/// The share of a job that has to be done before it earns points which nothing may have called for.
pub const SOMEWHERE: f64 = 0.3;

/// One reason.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Lesson {
    /// How the choices were made.
    Reasoned {
        /// Minutes that the choices took.
        spent_minutes: f64,
        /// Expected minutes lost by choice.
        lost_minutes: f64,
        /// Tests that could tell nothing.
        idle: usize,
        /// The same done again, with nothing changed.
        again: usize,
        /// Repairs that were likelier wrong than right.
        hunches: usize,
    },
    /// The coach was asked.
    Coached {
        /// What that took off.
        marks: f64,
    },
    /// What the evidence in hand gave to what was named, when it was named.
    Evidence {
        /// From 0 to 1.
        probability: f64,
        /// It was named too early.
        early: bool,
    },
    /// Several things were wrong at once, each of which counts its share.
    SeveralAtOnce {
        /// So many were.
        wrong: usize,
        /// So many were named.
        named: usize,
    },
    /// No fault was named.
    NothingNamed,
    /// The job was referred without a name.
    Referred,
    /// What of the named fault was right.
    Named {
        /// The component.
        component: bool,
        /// The kind.
        kind: bool,
        /// The place.
        place: bool,
        /// The place was near.
        near: bool,
        /// With what confidence, in percent.
        percent: u8,
    },
    /// Repairs that mended nothing, and the bill.
    Parts {
        /// How many.
        needless: usize,
        /// The bill.
        cost: u32,
    },
    /// Minutes against the par.
    Time {
        /// Minutes that count.
        minutes: f64,
        /// The par.
        par: f64,
    },
    /// Nothing was mended.
    NothingMended,
    /// How the complaint was retested after the repair.
    Retested {
        /// How often the lid opened in the end, one time after another.
        good: usize,
        /// The last try failed: 1, else 0.
        failed: usize,
        /// How often it had to be tried.
        needed: usize,
        /// Something is still wrong.
        wrong_left: bool,
    },
    /// The fault shows only in the wet, and was not retested in the wet.
    RetestedDry,
    /// A joint was only twisted and taped.
    PoorJoint,
    /// Whether neighbouring functions were checked after the repair.
    Neighbours(bool),
    /// How many things were not put back.
    PutBack {
        /// How many.
        left: usize,
    },
    /// A point of safe work or write-up, and whether it was earned.
    Safety(SafetyPoint, bool),
    /// Nothing went against this point; but it is not earned by a job of which less than [`SOMEWHERE`] was done.
    TooLittleDone(SafetyPoint),
}

/// A point of safe work or write-up.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SafetyPoint {
    /// The cautions were read.
    CautionsRead,
    /// Eyes were protected at the battery.
    Eyes,
    /// The lid was propped before work under it.
    Lid,
    /// No ohms on a live circuit.
    OhmsOnLive,
    /// No amps across a source.
    Amps,
    /// No fuse above its slot's rating.
    Fuse,
    /// A line was written.
    Wrote(WriteUpLine),
    /// A line holds a reading.
    Figure(WriteUpLine),
}
