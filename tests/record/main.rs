//! Tests of records, papers and classes.

mod assessing;
mod attacks;
mod class;
mod golden_bits;
mod papers;
mod records;
