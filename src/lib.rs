//! x
pub mod bench;
pub mod circuit;
pub mod fault;
pub mod scenario;
pub mod vehicle;
pub mod written;
pub mod survey;
