//! The command line: one file per subcommand.

pub mod check;
pub mod explain;
pub mod merge;
pub mod operators;
#[cfg(feature = "view")]
pub mod picture;
pub mod records;
pub mod replay;
pub mod report;
pub mod run;
pub mod score;
pub mod sweep;
mod usage;
pub mod window;

use std::ffi::OsString;
use std::io::Write;
use std::process::ExitCode;

use clap::{FromArgMatches, Parser, Subcommand};

pub use usage::command;

use crate::scenario::Fault;
use crate::texts::{Message, Texts};

/// The run or the check passed.
pub const PASSED: u8 = 0;
/// The run failed.
pub const FAILED: u8 = 1;
/// Bad input or usage.
pub const BAD_INPUT: u8 = 2;
/// The program itself failed.
pub const FAULT: u8 = 3;

// What commands and arguments mean stands in the catalogue.
#[derive(Debug, Parser)]
#[command(name = "chockline", version)]
struct Cli {
    #[command(subcommand)]
    command: Option<Command>,
}

#[derive(Debug, Subcommand)]
enum Command {
    Run(run::RunArgs),
    Score(score::ScoreArgs),
    Replay(replay::ReplayArgs),
    Report(report::ReportArgs),
    Operators(operators::OperatorsArgs),
    Explain(explain::ExplainArgs),
    Check(check::CheckArgs),
    Sweep(sweep::SweepArgs),
    Merge(merge::MergeArgs),
    Window(window::WindowArgs),
    Records(records::RecordsArgs),
    #[cfg(feature = "view")]
    Picture(picture::PictureArgs),
    Help {
        #[arg(value_name = "COMMAND")]
        of: Option<String>,
    },
}

/// A recording made elsewhere, where bits may differ: only its score and its poses were proved.
pub const PARTLY: u8 = 4;
/// A recording that was cut short: all that there is of it was proved.
pub const CUT_SHORT: u8 = 5;

/// Runs the program with the process's arguments.
pub fn main() -> ExitCode {
    let args: Vec<OsString> = std::env::args_os().collect();
    ExitCode::from(run_with(&args))
}

fn run_with(args: &[OsString]) -> u8 {
    let words: Vec<String> = args
        .iter()
        .map(|arg| arg.to_string_lossy().into_owned())
        .collect();
    let texts = match usage::language(&words) {
        Ok(lang) => Texts::of(lang),
        Err(code) => {
            let texts = Texts::of(usage::language_of_environment());
            return misused(texts, usage::no_such_language(&code));
        }
    };
    let parsed = command(texts)
        .try_get_matches_from(args)
        .and_then(|matches| Cli::from_arg_matches(&matches));
    match parsed.map(|cli| cli.command) {
        Ok(None) => begin(texts),
        Ok(Some(Command::Run(args))) => run::run(&args, texts),
        Ok(Some(Command::Score(args))) => score::run(&args, texts),
        Ok(Some(Command::Replay(args))) => replay::run(&args, texts),
        Ok(Some(Command::Report(args))) => report::run(&args, texts),
        Ok(Some(Command::Operators(args))) => operators::run(&args, texts),
        Ok(Some(Command::Explain(args))) => explain::run(&args, texts),
        Ok(Some(Command::Check(args))) => check::run(&args, texts),
        Ok(Some(Command::Sweep(args))) => sweep::run(&args, texts),
        Ok(Some(Command::Merge(args))) => merge::run(&args, texts),
        Ok(Some(Command::Window(args))) => window::run(&args, texts),
        Ok(Some(Command::Records(args))) => records::run(&args, texts),
        #[cfg(feature = "view")]
        Ok(Some(Command::Picture(args))) => picture::run(&args, texts),
        Ok(Some(Command::Help { of })) => match usage::help(of.as_deref(), texts) {
            Some(help) => {
                print!("{help}");
                PASSED
            }
            None => {
                let given = of.unwrap_or_default();
                misused(
                    texts,
                    Message::new("cli-unknown-command").with("command", given),
                )
            }
        },
        Err(error) => match usage::complaint(&error) {
            Some(complaint) => misused(texts, complaint),
            None => {
                let _ = error.print();
                PASSED
            }
        },
    }
}

/// The window; where there can be none, why, and the demonstration without one.
#[cfg(feature = "view")]
fn begin(texts: &Texts) -> u8 {
    match crate::view::window::open(texts.lang()) {
        Ok(()) => PASSED,
        Err(error) => {
            eprintln!("{}\n", texts.say(&error.message()));
            run::demonstrate(texts)
        }
    }
}

#[cfg(not(feature = "view"))]
fn begin(texts: &Texts) -> u8 {
    run::demonstrate(texts)
}

fn misused(texts: &Texts, complaint: Message) -> u8 {
    let error = Message::new("cli-error").with("error", complaint);
    complain(&texts.say(&error), BAD_INPUT)
}

/// A warning of a scenario file.
fn warned(warning: &Fault, texts: &Texts) -> String {
    texts.say(&Message::new("warning").with("warning", warning.say(texts)))
}

/// Prints a page. Whoever closed the output early has read enough.
fn print(page: &str) {
    let _ = std::io::stdout().lock().write_all(page.as_bytes());
}

/// A file for machines.
fn to_json(value: &impl serde::Serialize) -> Result<Vec<u8>, Message> {
    let mut bytes = serde_json::to_vec_pretty(value)
        .map_err(|error| Message::new("cli-not-json").with("error", error.to_string()))?;
    bytes.push(b'\n');
    Ok(bytes)
}

fn complain(what: &str, status: u8) -> u8 {
    eprintln!("{what}");
    status
}
