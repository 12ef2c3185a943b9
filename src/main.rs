//! The program: parse, dispatch, exit code.

use std::process::ExitCode;

fn main() -> ExitCode {
    chockline::cli::main()
}
