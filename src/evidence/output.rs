//! Files that a run writes: whole or not at all.

use std::fs::File;
use std::io::{ErrorKind, Write};
use std::path::{Path, PathBuf};

use tempfile::{Builder, NamedTempFile};

use crate::texts::Message;

/// A file that cannot be written: which, why, and what to do.
#[derive(Debug)]
pub enum OutputError {
    Unwritable {
        path: PathBuf,
        source: std::io::Error,
    },
    /// `what` is the entry of the catalogue that names what it is already.
    Taken { path: PathBuf, what: &'static str },
}

impl OutputError {
    pub fn message(&self) -> Message {
        match self {
            Self::Unwritable { path, source } => Message::new("output-unwritable")
                .with("file", path.display().to_string())
                .with("error", source.to_string()),
            Self::Taken { path, what } => Message::new("output-taken")
                .with("file", path.display().to_string())
                .with("what", Message::new(*what)),
        }
    }
}

/// A file to be. Its place is tried before the run, so that a bad one is told at once. It is written
/// beside its place and put there when it is complete, so that a run that is broken off leaves nothing
/// behind. Pipes and devices are written to directly.
#[derive(Debug)]
pub struct Output {
    path: PathBuf,
    way: Way,
}

#[derive(Debug)]
enum Way {
    Beside,
    Direct(File),
}

impl Output {
    /// Opens an output at the given place.
    ///
    /// # Errors
    /// Where the place is a folder, or its folder cannot be written to.
    pub fn open(path: &Path) -> Result<Self, OutputError> {
        let way = match path.metadata() {
            Ok(known) if known.is_dir() => Err(ErrorKind::IsADirectory.into()),
            Ok(known) if !known.is_file() => {
                File::options().write(true).open(path).map(Way::Direct)
            }
            _ => NamedTempFile::new_in(folder_of(path)).map(|_| Way::Beside),
        };
        match way {
            Ok(way) => Ok(Self {
                path: path.to_owned(),
                way,
            }),
            Err(source) => Err(OutputError::Unwritable {
                path: path.to_owned(),
                source,
            }),
        }
    }

    /// Writes the content and puts the file in its place.
    ///
    /// # Errors
    /// Where the disk is full or the place has become unwritable; the old file, if any, is kept.
    pub fn write(self, content: &[u8]) -> Result<(), OutputError> {
        let written = match self.way {
            Way::Direct(mut file) => file.write_all(content),
            Way::Beside => write_beside(&self.path, content),
        };
        written.map_err(|source| OutputError::Unwritable {
            path: self.path,
            source,
        })
    }

    /// Whether it will replace the file at `path`, by whatever name that goes.
    pub fn replaces(&self, path: &Path) -> bool {
        matches!(self.way, Way::Beside) && whole(&self.path) == whole(path)
    }

    pub fn path(&self) -> &Path {
        &self.path
    }
}

/// A new file beside a place, with content, to be put there by its `persist`.
///
/// # Errors
/// Where the disk is full, or the folder cannot be written to.
pub fn beside(path: &Path, content: &[u8]) -> std::io::Result<NamedTempFile> {
    let mut builder = Builder::new();
    // As readable as any file of the user's, not as private as a temporary one; the umask applies.
    #[cfg(unix)]
    builder.permissions(std::os::unix::fs::PermissionsExt::from_mode(0o666));
    let mut file = builder.tempfile_in(folder_of(path))?;
    file.write_all(content)?;
    Ok(file)
}

fn write_beside(path: &Path, content: &[u8]) -> std::io::Result<()> {
    let file = beside(path, content)?;
    file.as_file().sync_all()?;
    file.persist(path)?;
    Ok(())
}

/// A path without links and detours; of a file that is not there yet, its folder's.
fn whole(path: &Path) -> Option<PathBuf> {
    path.canonicalize().ok().or_else(|| {
        let folder = folder_of(path).canonicalize().ok()?;
        Some(folder.join(path.file_name()?))
    })
}

fn folder_of(path: &Path) -> &Path {
    match path.parent() {
        Some(folder) if !folder.as_os_str().is_empty() => folder,
        _ => Path::new("."),
    }
}
