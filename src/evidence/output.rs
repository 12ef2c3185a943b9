//! Files that a run writes: whole or not at all.

use std::io::Write;
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
/// and put there when it is complete; dropped before that, it leaves nothing behind.
#[derive(Debug)]
pub struct Output {
    path: PathBuf,
    file: NamedTempFile,
}

impl Output {
    /// Opens an output at the given place.
    ///
    /// # Errors
    /// Where the place is a folder, or its folder cannot be written to.
    pub fn open(path: &Path) -> Result<Self, OutputError> {
        let error = |source| OutputError {
            path: path.to_owned(),
            source,
        };
        if path.is_dir() {
            return Err(error(std::io::ErrorKind::IsADirectory.into()));
        }
        let folder = match path.parent() {
            Some(folder) if !folder.as_os_str().is_empty() => folder,
            _ => Path::new("."),
        };
        Ok(Self {
            path: path.to_owned(),
            file: NamedTempFile::new_in(folder).map_err(error)?,
        })
    }

    /// Writes the content and puts the file in its place.
    ///
    /// # Errors
    /// Where the disk is full or the place has become unwritable; the old file, if any, is kept.
    pub fn write(mut self, content: &[u8]) -> Result<(), OutputError> {
        let path = self.path;
        let error = |source| OutputError {
            path: path.clone(),
            source,
        };
        self.file
            .write_all(content)
            .and_then(|()| self.file.as_file().sync_all())
            .map_err(error)?;
        self.file
            .persist(&path)
            .map_err(|failed| error(failed.error))?;
        Ok(())
    }
}
