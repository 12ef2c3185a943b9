//! `chockline run`: one scenario from start to summary, without a window.

use std::io::IsTerminal;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use indicatif::{ProgressBar, ProgressDrawTarget, ProgressStyle};

use super::{BAD_INPUT, FAILED, FAULT, PASSED, complain, print, to_json, warned};
use crate::evidence::{Output, OutputError, Report, Trace, part_of};
use crate::operator::{Member, ROSTER, member};
use crate::scenario::{self, LoadError, Loaded};
use crate::session::course::Course;
use crate::session::library::{FIRST, shipped};
use crate::session::mode::Mode;
use crate::session::run::Step;
use crate::sim::controls::Controls;
use crate::texts::{Message, Texts};
use crate::words;

/// The operator where none is named.
const OPERATOR: &str = "expert";

#[derive(Clone, Debug, Default, clap::Args)]
pub struct RunArgs {
    #[arg(value_name = "FILE")]
    pub file: PathBuf,

    #[arg(long, value_name = "NAME")]
    pub operator: Option<String>,

    #[arg(long, value_name = "N")]
    pub seed: Option<u64>,

    #[arg(long, value_name = "FILE")]
    pub json: Option<PathBuf>,

    #[arg(long, value_name = "FILE")]
    pub record: Option<PathBuf>,

    #[arg(long, value_name = "FILE")]
    pub trace: Option<PathBuf>,
}

/// Runs the demonstration and returns the exit status.
pub fn demonstrate(texts: &Texts) -> u8 {
    println!("{}\n", texts.say(&"cli-demonstration".into()));
    match scenario::parse(FIRST, shipped(FIRST).unwrap_or_default()) {
        Ok(loaded) => {
            let args = RunArgs {
                file: FIRST.into(),
                ..RunArgs::default()
            };
            run_loaded(&args, &loaded, texts)
        }
        Err(faults) => complain(&LoadError::Faulty(faults).say(texts), FAULT),
    }
}

/// Runs the scenario and returns the exit status.
pub fn run(args: &RunArgs, texts: &Texts) -> u8 {
    match scenario::load(&args.file) {
        Ok(loaded) => run_loaded(args, &loaded, texts),
        Err(error) => complain(&error.say(texts), BAD_INPUT),
    }
}

fn run_loaded(args: &RunArgs, loaded: &Loaded, texts: &Texts) -> u8 {
    let name = args.operator.as_deref();
    let operator = match find_operator(name, loaded) {
        Ok(operator) => operator,
        Err(error) => return complain(&texts.say(&error), BAD_INPUT),
    };
    let outputs = match Outputs::open(args) {
        Ok(outputs) => outputs,
        Err(error) => return complain(&texts.say(&error.message()), BAD_INPUT),
    };
    for warning in &loaded.warnings {
        eprintln!("{}", warned(warning, texts));
    }
    match simulate(args, loaded, operator, outputs, texts) {
        Ok(report) => {
            print(&report.text(texts));
            if report.passed { PASSED } else { FAILED }
        }
        Err(Failure::Output(error)) => complain(&texts.say(&error), BAD_INPUT),
        Err(Failure::Fault(error)) => {
            let part = args.record.as_deref().map(part_of);
            if let Some(part) = part.filter(|part| part.exists()) {
                let stands =
                    Message::new("recording-part-stands").with("file", part.display().to_string());
                eprintln!("{}", texts.say(&stands));
            }
            complain(&texts.say(&error), FAULT)
        }
    }
}

/// The operator that is asked for, if there is one and they apply to the scenario.
pub(super) fn find_operator(
    name: Option<&str>,
    loaded: &Loaded,
) -> Result<&'static Member, Message> {
    let name = name.unwrap_or(OPERATOR);
    let found = member(name).ok_or_else(|| {
        let names: Vec<&str> = ROSTER.iter().map(|member| member.name).collect();
        Message::new("cli-no-such-operator")
            .with("name", name)
            .with("names", names.join(", "))
    })?;
    let scenario = &loaded.scenario;
    match found.applies(&scenario.line, scenario.set_out_open) {
        Ok(()) => Ok(found),
        Err(why) => Err(Message::new("cli-operator-of-no-use")
            .with("name", name)
            .with("why", why)),
    }
}

enum Failure {
    Output(Message),
    Fault(Message),
}

impl From<OutputError> for Failure {
    fn from(error: OutputError) -> Self {
        Self::Output(error.message())
    }
}

#[derive(Debug)]
struct Outputs {
    json: Option<Output>,
    record: Option<Output>,
    trace: Option<Output>,
}

impl Outputs {
    fn open(args: &RunArgs) -> Result<Self, OutputError> {
        let open = |path: &Option<PathBuf>| path.as_deref().map(Output::open).transpose();
        let outputs = Self {
            json: open(&args.json)?,
            record: open(&args.record)?,
            trace: open(&args.trace)?,
        };
        outputs.check_places(&args.file)?;
        Ok(outputs)
    }

    /// No output may replace the scenario or another output.
    fn check_places(&self, scenario: &Path) -> Result<(), OutputError> {
        let mut taken = vec![(scenario, "output-scenario")];
        let part = self.record.as_ref().map(|record| part_of(record.path()));
        taken.extend(part.as_deref().map(|part| (part, "output-recording")));
        for (output, what) in [
            (&self.json, "output-report"),
            (&self.record, "output-recording"),
            (&self.trace, "output-trace"),
        ] {
            let Some(output) = output else { continue };
            if let Some((path, what)) = taken.iter().find(|(path, _)| output.replaces(path)) {
                return Err(OutputError::Taken {
                    path: path.to_path_buf(),
                    what,
                });
            }
            taken.push((output.path(), what));
        }
        Ok(())
    }
}

fn simulate(
    args: &RunArgs,
    loaded: &Loaded,
    operator: &Member,
    outputs: Outputs,
    texts: &Texts,
) -> Result<Report, Failure> {
    let scenario = &loaded.scenario;
    let name = args.file.file_stem().unwrap_or_default().to_string_lossy();
    let mut course = Course::new(&name, Arc::new(loaded.clone()), Mode::Demonstration);
    course.seed = args.seed.unwrap_or(course.seed);
    let seed = course.seed;
    let mut trace = outputs
        .trace
        .is_some()
        .then(|| Trace::new(scenario.line.stick_count()));
    let mut run = course
        .demonstrate(operator)
        .map_err(|fault| Failure::Fault(words::set_out_fault(&fault)))?;
    if let Some(output) = &outputs.record {
        run.record(output.path())
            .map_err(|source| OutputError::Unwritable {
                path: output.path().to_owned(),
                source,
            })?;
    }
    let progress = progress_bar(scenario.time_limit_s, texts);
    let failed = |fault| {
        let fault = words::sim_fault(fault);
        Failure::Fault(Message::new("cli-simulation-failed").with("fault", fault))
    };
    loop {
        let step = run.tick(&Controls::default()).map_err(failed)?;
        let line = run.line();
        if let Some(trace) = &mut trace {
            trace.observe(line);
        }
        if line.tick_count().is_multiple_of(60) {
            progress.set_position((1000.0 * line.time_s()) as u64);
        }
        if matches!(step, Step::Ended(_)) {
            break;
        }
    }
    progress.finish_and_clear();
    let mut finished = run.finish().map_err(|failure| failed(failure.fault))?;
    if let Some(output) = &outputs.record {
        finished.write_recording(output.path())?;
    }

    let file = args.file.display().to_string();
    let played = &finished.played;
    let inquiries = played.inquiries(scenario);
    let report = Report::of(scenario, &file, seed, operator.name, played, inquiries);
    if let Some(output) = outputs.json {
        output.write(&to_json(&report.said(texts)).map_err(Failure::Fault)?)?;
    }
    if let (Some(output), Some(trace)) = (outputs.trace, trace) {
        output.write(&trace.into_bytes())?;
    }
    Ok(report)
}

/// On a terminal, how far the run has come; elsewhere nothing.
pub(super) fn progress_bar(time_limit_s: f64, texts: &Texts) -> ProgressBar {
    let target = if std::io::stderr().is_terminal() {
        ProgressDrawTarget::stderr()
    } else {
        ProgressDrawTarget::hidden()
    };
    let bar = ProgressBar::with_draw_target(Some((1000.0 * time_limit_s) as u64), target);
    if let Ok(style) = ProgressStyle::with_template("{bar:40} {msg}") {
        bar.set_style(style);
    }
    bar.set_message(texts.say(&"cli-simulating".into()));
    bar
}
