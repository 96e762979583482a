//! A class on one page: what each record earned, how reliable the paper is, and who is worth a talk.
//!
//! Records are read one line at a time. Of each a fixed handful of figures is kept, and sixteen small numbers by which ways
//! through a job are compared. Readings are not replayed here, and marks are believed: `verify` first.

mod gather;
mod outliers;
mod report;
mod statistics;
mod table;

pub use gather::{Class, Done, LeftOut, Passed};
pub use outliers::{Odd, Oddity, oddities};
pub use report::report;
pub use statistics::{Estimate, Item, alpha, correlation, covariance, estimated_mean, items, mean};
pub use table::{COLUMNS, Table};
