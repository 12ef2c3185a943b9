//! From a path to text: what may be read, and how it must be encoded.

use std::fs;
use std::io::Read;
use std::path::Path;

use super::fault::{Finding, LoadError, is_unprintable};
use crate::texts::Message;

/// Largest scenario file, in bytes. The largest sensible one has a few thousand.
pub(super) const LARGEST: usize = 1024 * 1024;

/// Reads a regular file. Anything else is refused unopened: opening a pipe waits for its writer.
pub(super) fn read(path: &Path) -> Result<Vec<u8>, LoadError> {
    let unreadable = |why: Message| LoadError::Unreadable {
        file: name_of(path),
        why,
    };
    let about = fs::metadata(path).map_err(|error| unreadable(cannot(&error)))?;
    if about.is_dir() {
        return Err(unreadable("unreadable-directory".into()));
    }
    if !about.is_file() {
        return Err(unreadable("unreadable-irregular".into()));
    }
    let file = fs::File::open(path).map_err(|error| unreadable(cannot(&error)))?;
    let mut bytes = Vec::new();
    // One byte more than is allowed tells a file that is too large, whatever its stated size.
    file.take(LARGEST as u64 + 1)
        .read_to_end(&mut bytes)
        .map_err(|error| unreadable(cannot(&error)))?;
    Ok(bytes)
}

fn cannot(error: &std::io::Error) -> Message {
    match error.kind() {
        std::io::ErrorKind::NotFound => Message::new("unreadable-missing"),
        std::io::ErrorKind::PermissionDenied => Message::new("unreadable-forbidden"),
        _ => Message::new("unreadable").with("error", error.to_string()),
    }
}

/// The name under which faults of a file are reported.
pub(crate) fn name_of(path: &Path) -> String {
    path.display()
        .to_string()
        .replace(is_unprintable, "\u{FFFD}")
}

/// The text of a file, without a byte order mark; or why it is none, with the offset up to which it
/// is text.
pub(super) fn decode(bytes: &[u8]) -> Result<&str, Finding> {
    if bytes.len() > LARGEST {
        return Err(Finding::new(0, "", "fault-too-large")
            .allowed(Message::new("allowed-bytes").with("largest", LARGEST)));
    }
    if bytes.starts_with(&[0xFF, 0xFE]) || bytes.starts_with(&[0xFE, 0xFF]) {
        return Err(Finding::new(0, "", "fault-utf-16").allowed(Message::new("allowed-utf-8")));
    }
    let text = std::str::from_utf8(bytes).map_err(|error| {
        let at = error.valid_up_to();
        let byte = bytes.get(at).copied().unwrap_or_default();
        let what = Message::new("fault-not-utf-8")
            .with("byte", format!("0x{byte:02X}"))
            .with("at", at);
        Finding::new(at, "", what).allowed(Message::new("allowed-utf-8"))
    })?;
    if let Some(at) = text.find('\0') {
        let what = Message::new("fault-nul").with("at", at);
        return Err(Finding::new(at, "", what).allowed(Message::new("allowed-text-only")));
    }
    Ok(text.strip_prefix('\u{FEFF}').unwrap_or(text))
}
