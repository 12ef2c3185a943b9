//! `chockline report`: a recorded run on paper.

use std::path::PathBuf;

use super::run::progress_bar;
use super::{BAD_INPUT, PASSED, complain};
use crate::evidence::{Output, OutputError};
use crate::judge::time_s;
use crate::report::{Pictures, Study, load, may_go, report};
use crate::texts::{Message, Texts};

#[derive(Clone, Debug, clap::Args)]
pub struct ReportArgs {
    #[arg(value_name = "RECORDING")]
    pub recording: PathBuf,

    #[arg(long, value_name = "PAGE")]
    pub out: PathBuf,

    #[arg(long)]
    pub replace: bool,

    #[arg(long)]
    pub no_pictures: bool,
}

/// Writes the report and returns the exit status.
pub fn run(args: &ReportArgs, texts: &Texts) -> u8 {
    match write(args, texts) {
        Ok(()) => PASSED,
        Err(error) => complain(&texts.say(&error), BAD_INPUT),
    }
}

fn write(args: &ReportArgs, texts: &Texts) -> Result<(), Message> {
    // What is bad about the recording is said before what is bad about the place.
    let recording = load(&args.recording)?;
    let output = open(args)?;
    let progress = progress_bar(time_s(recording.log.ticks), texts);
    progress.set_message(texts.say(&"report-running".into()));
    let page = report(
        &args.recording,
        recording,
        |line| {
            if line.tick_count().is_multiple_of(60) {
                progress.set_position((1000.0 * line.time_s()) as u64);
            }
        },
        |study| {
            progress.finish_and_clear();
            match args.no_pictures {
                true => Pictures::Without("paper-pictures-left-out".into()),
                false => drawn(study),
            }
        },
        texts,
    );
    progress.finish_and_clear();
    output
        .write(page?.as_bytes())
        .map_err(|error| error.message())
}

/// The place of the page: never the recording's own, and nobody's who has not been asked.
fn open(args: &ReportArgs) -> Result<Output, Message> {
    let output = Output::open(&args.out).map_err(|error| error.message())?;
    if output.replaces(&args.recording) {
        let taken = OutputError::Taken {
            path: args.out.clone(),
            what: "output-recording",
        };
        return Err(taken.message());
    }
    if args.out.is_file() && !args.replace && !may_go(&args.out) {
        return Err(Message::new("report-no-report").with("file", args.out.display().to_string()));
    }
    Ok(output)
}

#[cfg(not(feature = "view"))]
fn drawn(_: &Study) -> Pictures {
    Pictures::Without("paper-pictures-need-view".into())
}

#[cfg(feature = "view")]
fn drawn(study: &Study) -> Pictures {
    crate::view::picture::of_moments(study)
}
