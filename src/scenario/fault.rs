//! What is wrong with a file, and where.

use std::fmt;

/// One thing wrong with a scenario file (or, as a warning, out of the ordinary), in words for the
/// person who wrote it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Fault {
    pub file: String,
    /// Line, counted from 1.
    pub line: usize,
    /// Column in characters, counted from 1.
    pub column: usize,
    /// The field, such as `rack.near_rail.pitch_deg`; empty where the fault is not about one.
    /// Items of a list are counted from 1: `row.overrides[2].gap_mm`.
    pub path: String,
    /// What was found.
    pub what: String,
    /// What is allowed there.
    pub allowed: Option<String>,
    /// What was probably meant.
    pub meant: Option<String>,
}

impl fmt::Display for Fault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}:{}:{}: ", self.file, self.line, self.column)?;
        if !self.path.is_empty() {
            write!(f, "{}: ", self.path)?;
        }
        f.write_str(&self.what)?;
        if let Some(allowed) = &self.allowed {
            write!(f, "; allowed: {allowed}")?;
        }
        if let Some(meant) = &self.meant {
            write!(f, "; did you mean {meant}?")?;
        }
        Ok(())
    }
}

/// Why a scenario file did not load.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum LoadError {
    /// Nothing could be read from that path.
    #[error("{file}: {why}")]
    Unreadable { file: String, why: String },
    /// The file was read and is wrong; never empty, in the order of the file.
    #[error("{}", lines_of(.0))]
    Faulty(Vec<Fault>),
}

fn lines_of(faults: &[Fault]) -> String {
    let lines: Vec<String> = faults.iter().map(Fault::to_string).collect();
    lines.join("\n")
}

/// A fault before its place is known as line and column.
#[derive(Clone, Debug, Default)]
pub(super) struct Finding {
    /// Byte offset in the text.
    pub at: usize,
    pub path: String,
    pub what: String,
    pub allowed: Option<String>,
    pub meant: Option<String>,
}

impl Finding {
    pub fn new(at: usize, path: &str, what: impl Into<String>) -> Self {
        Self {
            at,
            path: path.to_owned(),
            what: what.into(),
            ..Self::default()
        }
    }

    pub fn allowed(mut self, allowed: impl Into<String>) -> Self {
        self.allowed = Some(allowed.into());
        self
    }

    pub fn meant(mut self, meant: Option<String>) -> Self {
        self.meant = meant;
        self
    }
}

/// Turns byte offsets into lines and columns, in one pass over the text: a hostile file of one long
/// line with a fault at every field must not take time with the square of its length.
pub(super) fn locate(file: &str, text: &str, mut findings: Vec<Finding>) -> Vec<Fault> {
    findings.sort_by_key(|finding| finding.at);
    let (mut line, mut column, mut reached) = (1, 1, 0);
    let mut faults = Vec::with_capacity(findings.len());
    for finding in findings {
        let passed = text.get(reached..finding.at).unwrap_or_default();
        for character in passed.chars() {
            if character == '\n' {
                line += 1;
                column = 1;
            } else {
                column += 1;
            }
        }
        reached += passed.len();
        faults.push(Fault {
            file: file.to_owned(),
            line,
            column,
            path: finding.path,
            what: finding.what,
            allowed: finding.allowed,
            meant: finding.meant,
        });
    }
    faults
}

/// The line on which a byte offset lies, counted from 1.
pub(super) fn line_of(text: &str, at: usize) -> usize {
    let before = text.as_bytes().get(..at).unwrap_or_default();
    1 + before.iter().filter(|byte| **byte == b'\n').count()
}

/// A piece of the file fit to be printed: control characters written out, long pieces cut.
pub(super) fn shown(piece: &str) -> String {
    const LONGEST: usize = 48;
    let mut out = String::new();
    for (count, character) in piece.chars().enumerate() {
        if count == LONGEST {
            out.push('…');
            break;
        }
        if is_unprintable(character) {
            out.extend(character.escape_default());
        } else {
            out.push(character);
        }
    }
    out
}

/// Characters that could move a terminal's cursor or reorder what it shows.
pub(super) fn is_unprintable(character: char) -> bool {
    character.is_control()
        || matches!(character, '\u{2028}' | '\u{2029}' | '\u{202A}'..='\u{202E}' | '\u{2066}'..='\u{2069}')
}
