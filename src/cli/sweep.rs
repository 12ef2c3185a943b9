//! `chockline sweep`: the trials of a sweep file, their rows, and the answer.

use std::fs;
use std::io::IsTerminal;
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};

use indicatif::{ProgressBar, ProgressDrawTarget, ProgressStyle};

use super::{BAD_INPUT, FAILED, FAULT, PASSED, complain, print, to_json};
use crate::lab::{
    Engine, JOURNAL, Journal, Part, ROWS, Stopped, Sweep, Table, TableError, Trials, answer, keep,
    put, taken, text, write_answer,
};
use crate::texts::{Message, Texts};

#[derive(Clone, Debug, clap::Args)]
pub struct SweepArgs {
    #[arg(value_name = "FILE")]
    pub file: PathBuf,

    #[arg(long, value_name = "FOLDER")]
    pub out: PathBuf,

    #[arg(long)]
    pub resume: bool,

    #[arg(long, value_name = "PART")]
    pub part: Option<String>,

    #[arg(long, value_name = "N", default_value_t = 0)]
    pub threads: usize,
}

/// Runs the sweep and returns the exit status.
pub fn run(args: &SweepArgs, texts: &Texts) -> u8 {
    let sweep = match Sweep::load(&args.file) {
        Ok(sweep) => sweep,
        Err(error) => return complain(&error.say(texts), BAD_INPUT),
    };
    let bad = |message: Message| complain(&texts.say(&message), BAD_INPUT);
    let part = match part(args.part.as_deref(), |name| std::env::var(name).ok()) {
        Ok(part) => part,
        Err(message) => return bad(message),
    };
    if part != Part::WHOLE && sweep.budget.width.is_some() {
        return bad("lab-width-in-parts".into());
    }
    for message in sweep.cannot_show() {
        let warning = Message::new("warning").with("warning", message);
        eprintln!("{}", texts.say(&warning));
    }
    let mut table = Table::new(&sweep);
    let mut journal = match open(args, &sweep, &mut table) {
        Ok(journal) => journal,
        Err(message) => return bad(message),
    };
    let engine = match Engine::new(&sweep, args.threads) {
        Ok(engine) => engine,
        Err(message) => return complain(&texts.say(&message), FAULT),
    };
    let stop = Arc::new(AtomicBool::new(false));
    let asked = Arc::clone(&stop);
    // Without the handler an interruption ends the program at once; the journal is good for that too.
    let _ = ctrlc::set_handler(move || asked.store(true, Ordering::Relaxed));
    let bar = bar(texts);
    let trials = Trials { part, stop: &stop };
    let ended = engine.run(
        &mut table,
        &trials,
        |table, rows| journal.add(table, &sweep, rows),
        |progress| {
            bar.set_length(progress.of);
            bar.set_position(progress.done);
        },
    );
    bar.finish_and_clear();
    match ended {
        Err(error) => return bad(error.message()),
        Ok(Some(Stopped::Asked)) => {
            let message = Message::new("lab-stopped")
                .with("rows", table.rows.len())
                .with("file", args.out.join(JOURNAL).display().to_string());
            return complain(&texts.say(&message), FAILED);
        }
        Ok(Some(Stopped::Time) | None) => {}
    }
    let kept = keep(&sweep, &table, &args.out)
        .and_then(|()| journal.remove().map_err(|error| error.message()));
    if let Err(message) = kept {
        return bad(message);
    }
    if part != Part::WHOLE {
        let message = Message::new("lab-part-done")
            .with("rows", table.rows.len())
            .with("file", args.out.join(ROWS).display().to_string());
        print(&format!("{}\n", texts.say(&message)));
        return PASSED;
    }
    tell(&sweep, &table, &args.out, texts)
}

/// Writes and prints the answer that a table gives.
pub(super) fn tell(sweep: &Sweep, table: &Table, folder: &Path, texts: &Texts) -> u8 {
    let answer = answer(sweep, table);
    let written = || -> Result<(), Message> {
        put(&folder.join("answer.json"), &to_json(&answer)?)?;
        write_answer(sweep, table, &answer, folder, texts).map(|_| ())
    };
    if let Err(message) = written() {
        return complain(&texts.say(&message), BAD_INPUT);
    }
    print(&text(sweep, table, &answer, texts));
    PASSED
}

/// Makes the folder, takes in what rows are there if that is asked for, and opens the journal. What
/// belongs to something else is left alone.
fn open(args: &SweepArgs, sweep: &Sweep, table: &mut Table) -> Result<Journal, Message> {
    let folder = &args.out;
    fs::create_dir_all(folder).map_err(|source| {
        let path = folder.clone();
        TableError::Io { path, source }.message()
    })?;
    let (rows, journal) = (folder.join(ROWS), folder.join(JOURNAL));
    if !args.resume {
        if let Some(taken) = taken(folder) {
            return Err(Message::new("lab-folder-taken").with("file", taken.display().to_string()));
        }
        return Journal::begin(&journal, table, sweep).map_err(|error| error.message());
    }
    if rows.exists() {
        table.take_in(&rows).map_err(|error| error.message())?;
    }
    let opened = if journal.exists() {
        table
            .take_in(&journal)
            .and_then(|_| Journal::go_on(&journal))
    } else {
        Journal::begin(&journal, table, sweep)
    };
    opened.map_err(|error| error.message())
}

/// Which part of a sweep this machine runs: `I/N` counted from 1; `/N` with the number of the job that
/// the engine of a job array gives; `array` with the count from there too.
fn part(given: Option<&str>, variable: impl Fn(&str) -> Option<String>) -> Result<Part, Message> {
    let Some(given) = given else {
        return Ok(Part::WHOLE);
    };
    let wrong = || Message::new("lab-no-such-part").with("part", given);
    let number = |name: &str| variable(name).and_then(|text| text.trim().parse::<u64>().ok());
    let of_array = || {
        let first = number("SLURM_ARRAY_TASK_MIN").unwrap_or(0);
        let step = number("SLURM_ARRAY_TASK_STEP").unwrap_or(1).max(1);
        let slurm = number("SLURM_ARRAY_TASK_ID").and_then(|id| id.checked_sub(first));
        slurm
            .map(|beyond| beyond / step)
            .or_else(|| number("JOB_COMPLETION_INDEX"))
    };
    let no_array = || Message::new("lab-no-array").with("part", given);
    let (index, of) = match given.split_once('/') {
        None if given == "array" => (
            of_array().ok_or_else(no_array)?,
            number("SLURM_ARRAY_TASK_COUNT").ok_or_else(no_array)?,
        ),
        None => return Err(wrong()),
        Some(("", of)) => (
            of_array().ok_or_else(no_array)?,
            of.parse().map_err(|_| wrong())?,
        ),
        Some((index, of)) => {
            let index: u64 = index.parse().map_err(|_| wrong())?;
            (
                index.checked_sub(1).ok_or_else(wrong)?,
                of.parse().map_err(|_| wrong())?,
            )
        }
    };
    if index < of {
        Ok(Part { index, of })
    } else {
        Err(wrong())
    }
}

/// On a terminal: how many trials are done, how fast, and the time that is left.
fn bar(texts: &Texts) -> ProgressBar {
    let target = if std::io::stderr().is_terminal() {
        ProgressDrawTarget::stderr()
    } else {
        ProgressDrawTarget::hidden()
    };
    let bar = ProgressBar::with_draw_target(Some(0), target);
    if let Ok(style) = ProgressStyle::with_template("{bar:40} {pos}/{len} {per_sec} {eta} {msg}") {
        bar.set_style(style);
    }
    bar.set_message(texts.say(&"lab-left".into()));
    bar
}

#[cfg(test)]
mod tests {
    use super::*;

    fn of(given: &str, variables: &[(&str, &str)]) -> Option<(u64, u64)> {
        let variable = |name: &str| {
            let found = variables.iter().find(|(known, _)| *known == name);
            found.map(|(_, value)| (*value).to_owned())
        };
        part(Some(given), variable)
            .ok()
            .map(|part| (part.index, part.of))
    }

    #[test]
    fn parts_are_given_or_read_from_a_job_array() {
        assert_eq!(of("1/7", &[]), Some((0, 7)));
        assert_eq!(of("7/7", &[]), Some((6, 7)));
        for wrong in ["0/7", "8/7", "x", "1/0", "1/", "-1/3", "array", "/7"] {
            assert_eq!(of(wrong, &[]), None, "{wrong}");
        }
        let slurm = [
            ("SLURM_ARRAY_TASK_ID", "12"),
            ("SLURM_ARRAY_TASK_MIN", "10"),
            ("SLURM_ARRAY_TASK_COUNT", "5"),
        ];
        assert_eq!(of("array", &slurm), Some((2, 5)));
        assert_eq!(of("/3", &slurm), Some((2, 3)));
        let stepped = [
            ("SLURM_ARRAY_TASK_ID", "7"),
            ("SLURM_ARRAY_TASK_MIN", "1"),
            ("SLURM_ARRAY_TASK_STEP", "3"),
            ("SLURM_ARRAY_TASK_COUNT", "4"),
        ];
        assert_eq!(of("array", &stepped), Some((2, 4)));
        assert_eq!(of("/3", &[("JOB_COMPLETION_INDEX", "1")]), Some((1, 3)));
        assert_eq!(of("/3", &[("JOB_COMPLETION_INDEX", "3")]), None);
    }
}
