//! `chockline picture`: the yard at one moment of a run, drawn without a window.

use std::path::{Path, PathBuf};

use super::run::find_operator;
use super::{BAD_INPUT, FAULT, PASSED, complain};
use crate::evidence::{Output, Recording};
use crate::operator::Operator;
use crate::scenario::{self, name_of};
use crate::sim::line::{Line, PersonId};
use crate::sim::world::StickId;
use crate::texts::{Message, Texts};
use crate::view::camera::{CameraName, Viewpoint};
use crate::view::picture::Studio;
use crate::view::quality::Quality;
use crate::words;

/// What is drawn where no size is given, pixels.
const SIZE: [u32; 2] = [1280, 720];
/// The widest and the highest that every adapter can draw, pixels.
const LARGEST_PX: u32 = 4096;

#[derive(Clone, Debug, clap::Args)]
pub struct PictureArgs {
    #[arg(value_name = "FILE")]
    pub file: PathBuf,

    #[arg(long, value_name = "SECONDS", default_value_t = 0.0)]
    pub at: f64,

    #[arg(long, value_name = "CAMERA", default_value = "orbit")]
    pub camera: String,

    #[arg(long, value_name = "SIZE", default_value = "1280x720")]
    pub size: String,

    #[arg(long, value_name = "QUALITY", default_value = "high")]
    pub quality: String,

    #[arg(long, value_name = "N")]
    pub stick: Option<usize>,

    #[arg(long, value_name = "N")]
    pub person: Option<usize>,

    #[arg(long, value_name = "NAME")]
    pub operator: Option<String>,

    #[arg(long, value_name = "N")]
    pub seed: Option<u64>,

    #[arg(long, value_name = "PICTURE")]
    pub out: PathBuf,
}

/// What is asked for, checked.
struct Wanted {
    camera: CameraName,
    size: [u32; 2],
    quality: Quality,
}

/// Draws the picture and returns the exit status.
pub fn run(args: &PictureArgs, texts: &Texts) -> u8 {
    let wanted = match wanted(args) {
        Ok(wanted) => wanted,
        Err(error) => return complain(&texts.say(&error), BAD_INPUT),
    };
    let output = match Output::open(&args.out) {
        Ok(output) => output,
        Err(error) => return complain(&texts.say(&error.message()), BAD_INPUT),
    };
    let line = match line_at(args, texts) {
        Ok(line) => line,
        Err((error, status)) => return complain(&error, status),
    };
    let drawn = Studio::open(wanted.size, wanted.quality)
        .and_then(|mut studio| {
            studio.take(&line, |yard| Viewpoint {
                stick: args.stick.and_then(|n| n.checked_sub(1)).map(StickId),
                person: args.person.and_then(|n| n.checked_sub(1)).map(PersonId),
                ..Viewpoint::new(wanted.camera, yard.rig())
            })
        })
        .and_then(|picture| picture.png());
    match drawn {
        Ok(png) => match output.write(&png) {
            Ok(()) => PASSED,
            Err(error) => complain(&texts.say(&error.message()), BAD_INPUT),
        },
        Err(error) => complain(&texts.say(&error.message()), FAULT),
    }
}

fn wanted(args: &PictureArgs) -> Result<Wanted, Message> {
    let names = CameraName::ALL.map(CameraName::code).join(", ");
    let camera = CameraName::of_code(&args.camera).ok_or_else(|| {
        Message::new("cli-no-such-camera")
            .with("name", args.camera.as_str())
            .with("names", names)
    })?;
    let names = Quality::ALL.map(Quality::code).join(", ");
    let quality = Quality::of_code(&args.quality).ok_or_else(|| {
        Message::new("cli-no-such-quality")
            .with("name", args.quality.as_str())
            .with("names", names)
    })?;
    let size = size(&args.size).ok_or_else(|| {
        Message::new("cli-no-size")
            .with("size", args.size.as_str())
            .with("usual", format!("{}x{}", SIZE[0], SIZE[1]))
            .with("largest", LARGEST_PX.to_string())
    })?;
    if args.at.is_finite() && args.at >= 0.0 {
        Ok(Wanted {
            camera,
            size,
            quality,
        })
    } else {
        Err(Message::new("cli-no-moment").with("at", args.at.to_string()))
    }
}

fn size(text: &str) -> Option<[u32; 2]> {
    let (width, height) = text.split_once(['x', 'X'])?;
    let side = |text: &str| {
        text.parse()
            .ok()
            .filter(|px| (16..=LARGEST_PX).contains(px))
    };
    Some([side(width)?, side(height)?])
}

/// The line of a scenario or a recording at the moment asked for, or at its end if that is earlier.
fn line_at(args: &PictureArgs, texts: &Texts) -> Result<Line, (String, u8)> {
    if Recording::is_one(&args.file) {
        return of_recording(&args.file, args.at, texts);
    }
    let bad = |error: String| (error, BAD_INPUT);
    let loaded = scenario::load(&args.file).map_err(|error| bad(error.say(texts)))?;
    let member =
        find_operator(args.operator.as_deref(), &loaded).map_err(|error| bad(texts.say(&error)))?;
    let scenario = &loaded.scenario;
    let as_found = scenario.line_for(args.seed.unwrap_or(scenario.seed));
    let mut operator: Box<dyn Operator> = member.operator();
    let set_out = operator.set_out(&as_found, scenario.set_out_open);
    let spec = set_out
        .applied(&as_found, scenario.set_out_open)
        .map_err(|fault| bad(texts.say(&words::set_out_fault(&fault))))?;
    let mut line = Line::build(&spec);
    let until_s = args.at.min(scenario.time_limit_s);
    while line.time_s() < until_s {
        let controls = operator.controls(&line);
        line.tick(&controls);
        sound(&line, texts)?;
    }
    Ok(line)
}

fn of_recording(path: &Path, at_s: f64, texts: &Texts) -> Result<Line, (String, u8)> {
    let read = Recording::load(path).and_then(|recording| {
        let (_, spec) = recording.as_run()?;
        Ok((recording, spec))
    });
    let (recording, spec) = read.map_err(|error| {
        let bad = Message::new("recording-bad")
            .with("file", name_of(path))
            .with("error", error.message());
        (texts.say(&bad), BAD_INPUT)
    })?;
    let mut line = Line::build(&spec);
    while line.time_s() < at_s && line.tick_count() < recording.log.ticks {
        line.tick(&recording.log.controls_at(line.tick_count() + 1));
        sound(&line, texts)?;
    }
    Ok(line)
}

fn sound(line: &Line, texts: &Texts) -> Result<(), (String, u8)> {
    line.fault().map_or(Ok(()), |fault| {
        let said = Message::new("cli-simulation-failed").with("fault", words::sim_fault(fault));
        Err((texts.say(&said), FAULT))
    })
}
