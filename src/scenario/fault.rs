//! What is wrong with a file, and where.

use std::fmt;

use crate::texts::{Filling, Lang, Message, Texts};

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
    pub what: Message,
    /// What is allowed there.
    pub allowed: Option<Filling>,
    /// What was probably meant.
    pub meant: Option<Filling>,
}

impl Fault {
    /// It with its place, in a language.
    pub fn say(&self, texts: &Texts) -> String {
        let mut what = self.what.clone();
        if let Some(allowed) = &self.allowed {
            what = Message::new("fault-allowed")
                .with("what", what)
                .with("allowed", allowed.clone());
        }
        if let Some(meant) = &self.meant {
            what = Message::new("fault-meant")
                .with("what", what)
                .with("meant", meant.clone());
        }
        let mut place = format!("{}:{}:{}: ", self.file, self.line, self.column);
        if !self.path.is_empty() {
            place.push_str(&self.path);
            place.push_str(": ");
        }
        place + &texts.say(&what)
    }
}

/// In English, for logs and tests.
impl fmt::Display for Fault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.say(Texts::of(Lang::English)))
    }
}

/// Why a scenario file did not load.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum LoadError {
    /// Nothing could be read from that path.
    Unreadable { file: String, why: Message },
    /// The file was read and is wrong; never empty, in the order of the file.
    Faulty(Vec<Fault>),
}

impl LoadError {
    /// It in a language, one line for each fault.
    pub fn say(&self, texts: &Texts) -> String {
        match self {
            Self::Unreadable { file, why } => format!("{file}: {}", texts.say(why)),
            Self::Faulty(faults) => {
                let lines: Vec<String> = faults.iter().map(|fault| fault.say(texts)).collect();
                lines.join("\n")
            }
        }
    }
}

/// In English, for logs and tests.
impl fmt::Display for LoadError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.say(Texts::of(Lang::English)))
    }
}

impl std::error::Error for LoadError {}

/// A fault before its place is known as line and column.
#[derive(Clone, Debug)]
pub(super) struct Finding {
    /// Byte offset in the text.
    pub at: usize,
    /// Boxed, so that an error is of modest size.
    pub path: Box<str>,
    pub what: Message,
    pub allowed: Option<Filling>,
    pub meant: Option<Filling>,
}

impl Finding {
    pub fn new(at: usize, path: &str, what: impl Into<Message>) -> Self {
        Self {
            at,
            path: path.into(),
            what: what.into(),
            allowed: None,
            meant: None,
        }
    }

    pub fn allowed(mut self, allowed: impl Into<Filling>) -> Self {
        self.allowed = Some(allowed.into());
        self
    }

    pub fn meant(mut self, meant: Option<Filling>) -> Self {
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
            path: finding.path.into(),
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
