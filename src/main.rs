//! The command `wheelsheet`: reads its arguments, runs, and ends with the exit code.

use std::process::ExitCode;

fn main() -> ExitCode {
    wheelsheet::cli::run()
}
