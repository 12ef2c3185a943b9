//! Why records cannot be read or written, and what to do.

use std::path::{Path, PathBuf};

use rusqlite::ErrorCode;

use crate::evidence::OutputError;
use crate::texts::Message;

/// See the module's text.
#[derive(Debug)]
pub enum RecordsError {
    /// The database says no.
    Database {
        path: PathBuf,
        source: rusqlite::Error,
    },
    /// Written by a newer program.
    Newer {
        path: PathBuf,
        version: i64,
        known: i64,
    },
    /// A database, and not of records; or one that has been changed.
    Foreign {
        path: PathBuf,
    },
    Io {
        path: PathBuf,
        source: std::io::Error,
    },
    Output(OutputError),
    /// What was asked for cannot be done.
    Refused(Message),
}

impl RecordsError {
    pub(super) fn at(path: &Path) -> impl Fn(rusqlite::Error) -> Self + use<> {
        let path = path.to_owned();
        move |source| Self::Database {
            path: path.clone(),
            source,
        }
    }

    pub(super) fn io(path: &Path) -> impl Fn(std::io::Error) -> Self + use<> {
        let path = path.to_owned();
        move |source| Self::Io {
            path: path.clone(),
            source,
        }
    }

    /// What is wrong, and what to do.
    pub fn message(&self) -> Message {
        let of = |id: &'static str, path: &Path| {
            Message::new(id).with("file", path.display().to_string())
        };
        match self {
            Self::Database { path, source } => {
                let id = match source.sqlite_error_code() {
                    Some(ErrorCode::DatabaseBusy | ErrorCode::DatabaseLocked) => "records-locked",
                    Some(ErrorCode::ReadOnly | ErrorCode::PermissionDenied) => "records-read-only",
                    Some(ErrorCode::CannotOpen) => "records-cannot-open",
                    Some(ErrorCode::DiskFull | ErrorCode::SystemIoFailure) => "records-disk",
                    Some(ErrorCode::NotADatabase | ErrorCode::DatabaseCorrupt) => "records-damaged",
                    _ => "records-database",
                };
                let message = of(id, path);
                match id {
                    "records-locked" | "records-read-only" | "records-cannot-open" => message,
                    _ => message.with("error", source.to_string()),
                }
            }
            Self::Newer {
                path,
                version,
                known,
            } => of("records-newer", path)
                .with("version", version.to_string())
                .with("known", known.to_string()),
            Self::Foreign { path } => of("records-foreign", path),
            Self::Io { path, source } => of("records-file", path).with("error", source.to_string()),
            Self::Output(error) => error.message(),
            Self::Refused(message) => message.clone(),
        }
    }
}

impl From<Message> for RecordsError {
    fn from(message: Message) -> Self {
        Self::Refused(message)
    }
}
