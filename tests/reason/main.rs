//! Tests of what could still be wrong, what is best done next, what a job was worth.

mod account;
mod coach;
mod facts;
mod inquiry;
mod learners;
mod marks;
mod posteriors;
mod practice;
mod properties;
mod survey;
mod suspects;
mod trade_maxims;
