//! A recording's file while the run goes on. It grows beside its place, under the same name with
//! `.part` behind it, and is put there when it is complete: what stands in its place is whole, and
//! what was cut short is told by its name.
//!
//! A thread of its own packs, writes and waits for the disk; the run never waits.

use std::fs::{self, File, TryLockError};
use std::io::{self, Write};
use std::path::{Path, PathBuf};
use std::sync::mpsc::{Receiver, Sender, channel};
use std::sync::{Arc, Mutex};
use std::thread::JoinHandle;
use std::time::{Duration, Instant};

use super::chunk::{Breaks, Chunk, Head, Mode, Standing};
use super::frame::Writer;
use super::progress::Progress;
use super::{Recorder, Recording};
use crate::judge::Log;
use crate::sim::controls::{ControlChange, Controls};
use crate::sim::line::Line;

/// Ticks after which what has come is written: half a second, so that no more than one is lost.
const WRITE_EVERY_TICKS: u64 = 120;
/// However slowly ticks are made: no longer than this passes until they are written.
const PATIENCE: Duration = Duration::from_millis(500);

/// Where a recording grows that is to stand at a path.
pub fn part_of(path: &Path) -> PathBuf {
    let mut name = path.as_os_str().to_owned();
    name.push(".part");
    name.into()
}

/// See the module's text.
pub struct RecordingFile {
    path: PathBuf,
    /// None where it is written directly: to a pipe, or to a device.
    part: Option<PathBuf>,
    chunks: Option<Sender<Chunk>>,
    writer: Option<JoinHandle<()>>,
    fault: Arc<Mutex<Option<String>>>,
    progress: Progress,
    controls: Option<Controls>,
    written: Instant,
}

impl RecordingFile {
    /// Begins a recording that is to stand at a path: its head is on the disk when this returns.
    ///
    /// # Errors
    /// Where it cannot be written, or another program is writing it.
    pub fn begin(path: &Path, head: Head) -> io::Result<Self> {
        let is_direct = path
            .metadata()
            .is_ok_and(|known| !known.is_file() && !known.is_dir());
        let part = (!is_direct).then(|| part_of(path));
        let mut file = match &part {
            Some(part) => open_locked(part)?,
            None => File::options().write(true).open(path)?,
        };
        let mut bytes = Vec::new();
        let mut writer = Writer::begin(&mut bytes);
        let head = Chunk::Head(Box::new(head));
        writer.put(&head, &mut bytes).map_err(io::Error::other)?;
        file.write_all(&bytes)?;
        if let Some(part) = &part {
            file.sync_all()?;
            sync_folder_of(part);
        }
        let (chunks, received) = channel();
        let fault = Arc::new(Mutex::new(None));
        let told = Arc::clone(&fault);
        let synced = part.is_some();
        let thread = std::thread::spawn(move || {
            if let Err(error) = write_chunks(file, writer, &received, synced)
                && let Ok(mut told) = told.lock()
            {
                *told = Some(error.to_string());
            }
        });
        Ok(Self {
            path: path.to_owned(),
            part,
            chunks: Some(chunks),
            writer: Some(thread),
            fault,
            progress: Progress::default(),
            controls: None,
            written: Instant::now(),
        })
    }

    /// Why it is not on the disk, where it is not.
    pub fn fault(&self) -> Option<String> {
        self.fault.lock().ok().and_then(|fault| fault.clone())
    }

    /// Takes the controls of a tick that is about to be made.
    pub fn controls(&mut self, tick: u64, controls: &Controls) {
        if self.controls.as_ref() != Some(controls) {
            self.controls = Some(*controls);
            self.progress.change_is_written();
            self.put(Chunk::Controls(ControlChange {
                tick,
                controls: *controls,
            }));
        }
    }

    /// Takes a tick that has just been made, logged and taken down.
    pub fn observe(&mut self, line: &Line, log: &Log, recorder: &Recorder) {
        let due = log.ticks.is_multiple_of(WRITE_EVERY_TICKS) || self.written.elapsed() >= PATIENCE;
        if due {
            self.catch_up(line, log, recorder);
        }
    }

    /// Writes all that there is so far.
    pub fn catch_up(&mut self, line: &Line, log: &Log, recorder: &Recorder) {
        let chunks = &self.chunks;
        let standing = Standing::of(line, log);
        self.progress
            .put(log, recorder.states(), standing, &mut |chunk| {
                send(chunks, chunk);
            });
        self.controls = log.controls.last().map(|change| change.controls);
        self.written = Instant::now();
    }

    /// The run has been taken back to how it stands now; all that came before has been written.
    pub fn back_to(&mut self, line: &Line, log: &Log, recorder: &Recorder) {
        let standing = Standing::of(line, log);
        let back = self.progress.back(log, recorder.states(), standing);
        self.put(back);
        self.controls = log.controls.last().map(|change| change.controls);
    }

    pub fn done(&mut self, tick: u64) {
        self.put(Chunk::Done(tick));
    }

    pub fn had_break(&mut self, breaks: Breaks) {
        self.put(Chunk::Breaks(breaks));
    }

    pub fn driven_by(&mut self, mode: Mode, operator: &str) {
        self.put(Chunk::Driver {
            mode,
            operator: operator.to_owned(),
        });
    }

    /// Completes it and puts it in its place.
    ///
    /// # Errors
    /// Where it is not on the disk.
    pub fn finish(mut self, recording: &Recording) -> io::Result<()> {
        let chunks = &self.chunks;
        let standing = Standing::told(&recording.log);
        self.progress
            .put(&recording.log, &recording.states, standing, &mut |chunk| {
                send(chunks, chunk);
            });
        if let Some(end) = recording.end() {
            self.put(Chunk::End(end));
        }
        self.close();
        if let Some(fault) = self.fault() {
            return Err(io::Error::other(fault));
        }
        if let Some(part) = &self.part {
            fs::rename(part, &self.path)?;
            sync_folder_of(&self.path);
        }
        Ok(())
    }

    /// It is of no more use.
    pub fn discard(mut self) {
        self.close();
        if let Some(part) = &self.part {
            let _ = fs::remove_file(part);
        }
    }

    fn put(&self, chunk: Chunk) {
        send(&self.chunks, chunk);
    }

    /// Waits until everything is written.
    fn close(&mut self) {
        self.chunks = None;
        if let Some(writer) = self.writer.take() {
            let _ = writer.join();
        }
    }
}

impl Drop for RecordingFile {
    fn drop(&mut self) {
        self.close();
    }
}

fn send(chunks: &Option<Sender<Chunk>>, chunk: Chunk) {
    if let Some(chunks) = chunks {
        // Where nobody writes any more, the fault is told already.
        let _ = chunks.send(chunk);
    }
}

/// A new file, or one that was left and that nobody is writing, emptied. Held as long as it is open, so
/// that no other program takes it for one that was left.
fn open_locked(part: &Path) -> io::Result<File> {
    let mut options = File::options();
    let options = options.write(true).create(true).truncate(false);
    let file = options.open(part)?;
    match file.try_lock() {
        Ok(()) => {}
        Err(TryLockError::WouldBlock) => return Err(io::ErrorKind::ResourceBusy.into()),
        Err(TryLockError::Error(error)) => return Err(error),
    }
    file.set_len(0)?;
    Ok(file)
}

fn write_chunks(
    mut file: File,
    mut writer: Writer,
    chunks: &Receiver<Chunk>,
    synced: bool,
) -> io::Result<()> {
    let mut bytes = Vec::new();
    while let Ok(chunk) = chunks.recv() {
        for chunk in [chunk].into_iter().chain(chunks.try_iter()) {
            writer.put(&chunk, &mut bytes).map_err(io::Error::other)?;
        }
        file.write_all(&bytes)?;
        bytes.clear();
        if synced {
            file.sync_data()?;
        }
    }
    Ok(())
}

/// The name of a new file is on the disk only with its folder. Where folders cannot be opened there is
/// nothing to do.
fn sync_folder_of(path: &Path) {
    let folder = path
        .parent()
        .filter(|folder| !folder.as_os_str().is_empty());
    if let Ok(folder) = File::open(folder.unwrap_or(Path::new("."))) {
        let _ = folder.sync_all();
    }
}
