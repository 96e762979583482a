//! Tests of networks, laws and time.

#[path = "../common/draw.rs"]
mod draw;
#[path = "../common/netlist.rs"]
mod netlist;

mod facts;
mod fractions;
mod ngspice;
mod ngspice_transients;
mod properties;
mod transients;
mod waveforms;
