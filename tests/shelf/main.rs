//! Tests of scenarios, vehicles and diagrams: what is on the shelf, and how more of it is written.

mod diagram;
mod shelf;
mod variation;
mod varied_jobs;
mod workshop;
mod writing;
mod written;
