//! The report of a recording's file, and whether a file is one already.

use std::fs::File;
use std::io::Read;
use std::path::Path;

use jiff::Timestamp;
use sha2::{Digest, Sha256};

use super::moments::Pictures;
use super::page::{Paper, is_report, page};
use super::study::Study;
use crate::evidence::{Recording, RecordingError};
use crate::scenario::name_of;
use crate::sim::line::Line;
use crate::texts::{Message, Texts};

/// How much of a file is looked at to tell whether it is a report.
const HEAD_BYTES: u64 = 1024;

/// Reads the recording that a report is to be made of.
///
/// # Errors
/// Where it cannot be read, is none, or has been changed.
pub fn load(path: &Path) -> Result<Recording, Message> {
    Recording::load(path).map_err(|error| bad(path, error.message()))
}

/// The report of a recording that was read from a file. It is run again for it, of which `watch` sees
/// every tick; `draw` makes the pictures, where there is something to draw.
///
/// # Errors
/// Where the recording is not sound, or its file cannot be read any more.
pub fn report(
    path: &Path,
    recording: Recording,
    watch: impl FnMut(&Line),
    draw: impl FnOnce(&Study) -> Pictures,
    texts: &Texts,
) -> Result<String, Message> {
    let file = name_of(path);
    let sha256 = sha256(path)?;
    let study = Study::of(&file, recording, watch).map_err(|error| bad(path, error))?;
    let pictures = match study.again {
        None => Pictures::Without("paper-pictures-not-again".into()),
        Some(_) => draw(&study),
    };
    let paper = Paper {
        file: &file,
        sha256: &sha256,
        made: Timestamp::now(),
        pictures: &pictures,
    };
    Ok(page(&study, &paper, texts))
}

/// Whether a report may be written over a file: it is one itself, or there is nothing to be lost.
pub fn may_go(path: &Path) -> bool {
    let mut head = Vec::new();
    let read = File::open(path).and_then(|file| file.take(HEAD_BYTES).read_to_end(&mut head));
    read.is_ok() && (head.is_empty() || is_report(&head))
}

fn bad(path: &Path, error: Message) -> Message {
    Message::new("recording-bad")
        .with("file", name_of(path))
        .with("error", error)
}

fn sha256(path: &Path) -> Result<String, Message> {
    let read = std::fs::read(path).map_err(RecordingError::Unreadable);
    let bytes = read.map_err(|error| bad(path, error.message()))?;
    let digest = Sha256::digest(&bytes);
    Ok(digest.iter().map(|byte| format!("{byte:02x}")).collect())
}
