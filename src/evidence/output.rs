//! Files that a run writes: whole or not at all.

use std::fs::File;
use std::io::{ErrorKind, Write};
use std::path::{Path, PathBuf};

use tempfile::NamedTempFile;

/// A file that could not be written: which, why, and what to do.
#[derive(Debug, thiserror::Error)]
#[error("{}: cannot write: {source}; choose a folder that exists and that you may write to", path.display())]
pub struct OutputError {
    path: PathBuf,
    source: std::io::Error,
}

/// A file to be. It is opened beside its place before the run, so that a bad place is told at once,
/// and put there when it is complete; dropped before that, it leaves nothing behind. Pipes and
/// devices are written to directly.
#[derive(Debug)]
pub struct Output {
    path: PathBuf,
    way: Way,
}

#[derive(Debug)]
enum Way {
    Beside(NamedTempFile),
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
            _ => NamedTempFile::new_in(folder_of(path)).map(Way::Beside),
        };
        match way {
            Ok(way) => Ok(Self {
                path: path.to_owned(),
                way,
            }),
            Err(source) => Err(OutputError {
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
            Way::Beside(mut file) => file
                .write_all(content)
                .and_then(|()| file.as_file().sync_all())
                .and_then(|()| file.persist(&self.path).map(drop).map_err(|e| e.error)),
        };
        written.map_err(|source| OutputError {
            path: self.path,
            source,
        })
    }
}

fn folder_of(path: &Path) -> &Path {
    match path.parent() {
        Some(folder) if !folder.as_os_str().is_empty() => folder,
        _ => Path::new("."),
    }
}
