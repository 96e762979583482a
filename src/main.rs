//! The command line: the game, or one of the headless commands.

mod assessing;
mod command_line;
#[cfg(feature = "game")]
mod game;
mod papers;
mod picturing;

use std::process::ExitCode;

fn main() -> ExitCode {
    command_line::main()
}
