//! `chockline report`: a recorded run on paper.

use std::fs::File;
use std::io::Read;
use std::path::{Path, PathBuf};

use jiff::Timestamp;
use sha2::{Digest, Sha256};

use super::run::progress_bar;
use super::{BAD_INPUT, PASSED, complain};
use crate::evidence::{Output, OutputError, Recording};
use crate::judge::time_s;
use crate::report::{Paper, Pictures, Study, is_report, page};
use crate::scenario::name_of;
use crate::texts::{Message, Texts};

/// Of every picture, pixels: sharp across a sheet of paper.
#[cfg(feature = "view")]
const SIZE: [u32; 2] = [1280, 720];
/// How much of a file is looked at to tell whether it is a report.
const HEAD_BYTES: u64 = 1024;

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
    let bad = |error: Message| {
        Message::new("recording-bad")
            .with("file", name_of(&args.recording))
            .with("error", error)
    };
    // What is bad about the recording is said before what is bad about the place.
    let recording = Recording::load(&args.recording).map_err(|error| bad(error.message()))?;
    let output = open(args)?;
    let sha256 = sha256(&args.recording)?;
    let progress = progress_bar(time_s(recording.log.ticks), texts);
    progress.set_message(texts.say(&"report-running".into()));
    let study = Study::of(&name_of(&args.recording), recording, |line| {
        if line.tick_count().is_multiple_of(60) {
            progress.set_position((1000.0 * line.time_s()) as u64);
        }
    })
    .map_err(bad)?;
    progress.finish_and_clear();
    let pictures = if study.again.is_none() {
        Pictures::Without("paper-pictures-not-again".into())
    } else if args.no_pictures {
        Pictures::Without("paper-pictures-left-out".into())
    } else {
        drawn(&study)
    };
    let paper = Paper {
        file: &name_of(&args.recording),
        sha256: &sha256,
        made: Timestamp::now(),
        pictures: &pictures,
    };
    let page = page(&study, &paper, texts);
    output
        .write(page.as_bytes())
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

/// Whether a file is a report of this program. Nothing is lost with an empty one.
fn may_go(path: &Path) -> bool {
    let mut head = Vec::new();
    let read = File::open(path).and_then(|file| file.take(HEAD_BYTES).read_to_end(&mut head));
    read.is_ok() && (head.is_empty() || is_report(&head))
}

fn sha256(path: &Path) -> Result<String, Message> {
    let unreadable = |error: std::io::Error| {
        Message::new("recording-bad")
            .with("file", name_of(path))
            .with(
                "error",
                Message::new("recording-unreadable").with("error", error.to_string()),
            )
    };
    let bytes = std::fs::read(path).map_err(unreadable)?;
    let digest = Sha256::digest(&bytes);
    Ok(digest.iter().map(|byte| format!("{byte:02x}")).collect())
}

#[cfg(not(feature = "view"))]
fn drawn(_: &Study) -> Pictures {
    Pictures::Without("paper-pictures-need-view".into())
}

#[cfg(feature = "view")]
fn drawn(study: &Study) -> Pictures {
    use crate::report::Taken;
    use crate::view::camera::Viewpoint;
    use crate::view::engine;
    use crate::view::picture::Studio;

    // What draws by the processor would take minutes for the highest level.
    let studio = engine::adapter().and_then(|adapter| Studio::open(SIZE, adapter.suits()));
    let drawn = studio.and_then(|mut studio| {
        study.drawn(|line, moment| {
            let picture = studio.take(line, |yard| {
                Viewpoint::of_moment(moment.camera, moment.subject, yard.rig())
            })?;
            Ok(Taken {
                bytes: picture.jpeg()?,
                media_type: "image/jpeg",
                size: picture.size(),
            })
        })
    });
    match drawn {
        Ok(taken) => Pictures::Taken(taken),
        Err(error) => {
            Pictures::Without(Message::new("paper-pictures-failed").with("why", error.message()))
        }
    }
}
