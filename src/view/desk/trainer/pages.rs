//! Pages about an attempt, made on a thread of their own: kept in the folder for reports, and opened in
//! the system's browser.

use std::io;
use std::path::{Path, PathBuf};
use std::sync::mpsc::{Receiver, Sender, TryRecvError, channel};
use std::thread;

use uuid::Uuid;

use crate::evidence::Output;
use crate::records::{Attempt, Kept, Records, certificate};
use crate::report::{load, report};
use crate::session::library::Library;
use crate::session::store::Store;
use crate::texts::{Message, Texts};
use crate::view::picture;

/// Opens a page for whoever wants to print it; an error where nothing could be opened.
pub type Opener = fn(&Path) -> io::Result<()>;

/// What page.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    Certificate,
    Report,
}

/// What becomes of a page.
#[derive(Clone, Debug, PartialEq)]
pub enum Stage {
    Making,
    /// It is written and being opened.
    Saved(PathBuf),
    /// It is written, and nothing could be opened.
    NotOpened(PathBuf),
    Failed(Message),
}

/// A page about an attempt.
pub struct Page {
    pub attempt: Uuid,
    pub stage: Stage,
    told: Receiver<Stage>,
}

impl Page {
    pub fn make(
        kind: Kind,
        kept: Kept,
        store: Store,
        texts: &'static Texts,
        opener: Opener,
    ) -> Self {
        let (tell, told) = channel();
        let attempt = kept.attempt.uid;
        thread::spawn(move || make(kind, &kept, &store, texts, opener, &tell));
        Self {
            attempt,
            stage: Stage::Making,
            told,
        }
    }

    /// Takes what has become of it; whether that is anything new.
    pub fn hear(&mut self) -> bool {
        match self.told.try_recv() {
            Ok(stage) => {
                self.stage = stage;
                true
            }
            Err(TryRecvError::Disconnected) if self.stage == Stage::Making => {
                self.stage = Stage::Failed("trainer-thread-lost".into());
                true
            }
            Err(_) => false,
        }
    }
}

fn make(
    kind: Kind,
    kept: &Kept,
    store: &Store,
    texts: &Texts,
    opener: Opener,
    tell: &Sender<Stage>,
) {
    let path = match written(kind, kept, store, texts) {
        Ok(path) => path,
        Err(fault) => {
            let _ = tell.send(Stage::Failed(fault));
            return;
        }
    };
    // A browser may keep whoever opens it waiting until it is closed.
    let _ = tell.send(Stage::Saved(path.clone()));
    if opener(&path).is_err() {
        let _ = tell.send(Stage::NotOpened(path));
    }
}

/// Makes a page and writes it; where it lies.
fn written(kind: Kind, kept: &Kept, store: &Store, texts: &Texts) -> Result<PathBuf, Message> {
    let (name, page) = match kind {
        Kind::Certificate => ("certificate", certified(kept, store, texts)?),
        Kind::Report => ("report", reported(&kept.attempt, store, texts)?),
    };
    let folder = store.reports();
    std::fs::create_dir_all(&folder).map_err(|error| {
        Message::new("output-unwritable")
            .with("file", folder.display().to_string())
            .with("error", error.to_string())
    })?;
    let path = folder.join(file_name(name, &kept.attempt));
    let output = Output::open(&path).map_err(|error| error.message())?;
    output
        .write(page.as_bytes())
        .map_err(|error| error.message())?;
    Ok(path)
}

/// The same attempt has the same page; attempts of other machines may have the names of ours.
fn file_name(kind: &str, attempt: &Attempt) -> String {
    let plain = |c: char| if c.is_alphanumeric() { c } else { '-' };
    let ticket: String = attempt.ticket.chars().map(plain).collect();
    let uid = attempt.uid.simple().to_string();
    format!("{kind}-{ticket}-{}.html", uid.get(..8).unwrap_or(&uid))
}

fn certified(kept: &Kept, store: &Store, texts: &Texts) -> Result<String, Message> {
    let made = || {
        let records = Records::open_to_read(&store.records_file())?;
        let library = Library::open(Some(&store.scenarios()));
        let trained = library.trained(kept, &records, texts.lang())?;
        certificate(kept, &trained, texts)
    };
    made().map_err(|error: crate::records::RecordsError| error.message())
}

fn reported(attempt: &Attempt, store: &Store, texts: &Texts) -> Result<String, Message> {
    let recording = store.recording_of(attempt).filter(|path| path.exists());
    let recording = recording.ok_or_else(|| Message::new("trainer-no-recording"))?;
    let read = load(&recording)?;
    report(&recording, read, |_| (), picture::of_moments, texts)
}
