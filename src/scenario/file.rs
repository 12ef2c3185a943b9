//! From a path to text: what may be read, and how it must be encoded.

use std::fs;
use std::io::Read;
use std::path::Path;

use super::fault::{Finding, LoadError, is_unprintable};

/// Largest scenario file, in bytes. The largest sensible one has a few thousand.
pub(super) const LARGEST: usize = 1024 * 1024;

/// Reads a regular file. Anything else is refused unopened: opening a pipe waits for its writer.
pub(super) fn read(path: &Path) -> Result<Vec<u8>, LoadError> {
    let unreadable = |why: String| LoadError::Unreadable {
        file: name_of(path),
        why,
    };
    let about = fs::metadata(path).map_err(|error| unreadable(cannot(&error)))?;
    if about.is_dir() {
        return Err(unreadable(
            "this is a directory; allowed: a scenario file".into(),
        ));
    }
    if !about.is_file() {
        return Err(unreadable(
            "this is no regular file; allowed: a scenario file".into(),
        ));
    }
    let file = fs::File::open(path).map_err(|error| unreadable(cannot(&error)))?;
    let mut bytes = Vec::new();
    // One byte more than is allowed tells a file that is too large, whatever its stated size.
    file.take(LARGEST as u64 + 1)
        .read_to_end(&mut bytes)
        .map_err(|error| unreadable(cannot(&error)))?;
    Ok(bytes)
}

fn cannot(error: &std::io::Error) -> String {
    match error.kind() {
        std::io::ErrorKind::NotFound => "there is no such file".to_owned(),
        std::io::ErrorKind::PermissionDenied => "reading it is not permitted".to_owned(),
        _ => format!("it cannot be read: {error}"),
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
    let refused = |at: usize, what: String| Finding::new(at, "", what);
    if bytes.len() > LARGEST {
        return Err(refused(0, "the file is larger than 1 MiB".to_owned())
            .allowed(format!("at most {LARGEST} bytes")));
    }
    if bytes.starts_with(&[0xFF, 0xFE]) || bytes.starts_with(&[0xFE, 0xFF]) {
        return Err(refused(0, "the file is encoded as UTF-16".to_owned())
            .allowed("UTF-8; save it again with that encoding"));
    }
    let text = std::str::from_utf8(bytes).map_err(|error| {
        let at = error.valid_up_to();
        let byte = bytes.get(at).copied().unwrap_or_default();
        let what = format!("byte 0x{byte:02X} at offset {at} is not UTF-8");
        refused(at, what).allowed("UTF-8; save it again with that encoding")
    })?;
    if let Some(at) = text.find('\0') {
        return Err(refused(at, format!("a NUL byte at offset {at}"))
            .allowed("text only; is this a binary or UTF-16 file?"));
    }
    Ok(text.strip_prefix('\u{FEFF}').unwrap_or(text))
}
