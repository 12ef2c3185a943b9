//! The command line: one file per subcommand.

pub mod check;
pub mod run;

use std::process::ExitCode;

use clap::{Parser, Subcommand};

/// The run or the check passed.
pub const PASSED: u8 = 0;
/// The run failed.
pub const FAILED: u8 = 1;
/// Bad input or usage.
pub const BAD_INPUT: u8 = 2;
/// The program itself failed.
pub const FAULT: u8 = 3;

/// Chockline: a training simulator of the pitched-rack line that feeds large polyethylene pipe,
/// one stick at a time, to a butt-fusion machine.
#[derive(Debug, Parser)]
#[command(
    version,
    about,
    after_help = "\
Examples:
  chockline                                    the demonstration: one stick fed
  chockline run scenarios/first-release.ron    feed one stick and see what comes of it
  chockline run scenarios/as-found-steep.ron --trace steep.csv
  chockline check scenarios/*.ron              are these files sound?
  chockline check --fields                     every field a scenario file can have

Exit status: 0 passed, 1 the run failed, 2 bad input or usage, 3 a fault of the program.

A training aid. It does not replace the maker's manual, qualified instruction, local codes, a site
risk assessment, or a lift plan and ground check by a qualified or licensed person."
)]
struct Cli {
    #[command(subcommand)]
    command: Option<Command>,
}

#[derive(Debug, Subcommand)]
enum Command {
    Run(run::RunArgs),
    Check(check::CheckArgs),
}

/// Runs the program with the process's arguments.
pub fn main() -> ExitCode {
    let cli = match Cli::try_parse() {
        Ok(cli) => cli,
        Err(error) => {
            // Help and version are answers, everything else is bad usage.
            let code = if error.use_stderr() {
                BAD_INPUT
            } else {
                PASSED
            };
            let _ = error.print();
            return ExitCode::from(code);
        }
    };
    ExitCode::from(match cli.command {
        None => run::demonstrate(),
        Some(Command::Run(args)) => run::run(&args),
        Some(Command::Check(args)) => check::run(&args),
    })
}
