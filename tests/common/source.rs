//! The sources as text, for the tests that read them.

// Every test file uses its own part.
#![allow(dead_code)]

use std::fs;
use std::path::{Path, PathBuf};

pub fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

/// All files below a folder, sorted.
pub fn files_below(folder: &Path) -> Vec<PathBuf> {
    let mut files = Vec::new();
    for entry in fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            files.extend(files_below(&path));
        } else {
            files.push(path);
        }
    }
    files.sort();
    files
}

/// A file of sources.
pub struct Source {
    /// From the repository's root, with forward slashes.
    pub name: String,
    pub raw: String,
    /// The same without comments, and with empty strings; lines keep their numbers.
    pub code: String,
    /// What stands between quotes, outside of comments and attributes.
    pub literals: Vec<Literal>,
}

/// A text between quotes.
pub struct Literal {
    /// From 1.
    pub line: usize,
    pub text: String,
}

pub fn sources(folder: &str) -> Vec<Source> {
    let sources: Vec<Source> = files_below(&root().join(folder))
        .into_iter()
        .filter(|path| path.extension().is_some_and(|extension| extension == "rs"))
        .map(|path| {
            let raw = fs::read_to_string(&path).unwrap();
            let parts = path.strip_prefix(root()).unwrap().components();
            let parts: Vec<_> = parts
                .map(|part| part.as_os_str().to_string_lossy())
                .collect();
            Source::new(parts.join("/"), raw)
        })
        .collect();
    assert!(
        !sources.is_empty(),
        "no sources below {folder}; if it moved, tell this test"
    );
    sources
}

impl Source {
    pub fn new(name: String, raw: String) -> Self {
        let (code, literals) = parts_of(&raw);
        Self {
            name,
            raw,
            code,
            literals,
        }
    }

    /// The folder of `src` it belongs to, if any.
    pub fn layer(&self) -> Option<&str> {
        let rest = self.name.strip_prefix("src/")?;
        rest.split_once('/').map(|(layer, _)| layer)
    }

    /// How many modules deep it is: 1 for a layer's own file.
    pub fn depth(&self) -> usize {
        let folders = self.name.matches('/').count() - 1;
        folders + usize::from(!self.name.ends_with("/mod.rs"))
    }
}

/// The code without comments and what is between quotes, keeping line breaks; and the latter.
fn parts_of(raw: &str) -> (String, Vec<Literal>) {
    let text: Vec<char> = raw.chars().collect();
    let mut code = String::with_capacity(raw.len());
    let mut literals = Vec::new();
    let mut literal = |code: &str, from: usize, to: usize| {
        if !ends_in_attribute(code) {
            literals.push(Literal {
                line: 1 + code.matches('\n').count(),
                text: text[from.min(text.len())..to.min(text.len())]
                    .iter()
                    .collect(),
            });
        }
    };
    let mut i = 0;
    let at = |i: usize| text.get(i).copied().unwrap_or('\0');
    let word = |c: char| c.is_alphanumeric() || c == '_';
    while i < text.len() {
        let start = i;
        match at(i) {
            '/' if at(i + 1) == '/' => {
                while i < text.len() && at(i) != '\n' {
                    i += 1;
                }
            }
            '/' if at(i + 1) == '*' => {
                let mut depth = 0;
                loop {
                    if at(i) == '/' && at(i + 1) == '*' {
                        depth += 1;
                        i += 2;
                    } else if at(i) == '*' && at(i + 1) == '/' {
                        depth -= 1;
                        i += 2;
                    } else {
                        i += 1;
                    }
                    if depth == 0 || i >= text.len() {
                        break;
                    }
                }
            }
            'r' if (at(i + 1) == '"' || at(i + 1) == '#')
                && (start == 0 || !word(at(start - 1)) || at(start - 1) == 'b') =>
            {
                let mut hashes = 0;
                while at(i + 1 + hashes) == '#' {
                    hashes += 1;
                }
                if at(i + 1 + hashes) != '"' {
                    // A raw name such as r#type.
                    code.push('r');
                    i += 1;
                    continue;
                }
                i += 2 + hashes;
                let from = i;
                while i < text.len() && !(at(i) == '"' && (1..=hashes).all(|k| at(i + k) == '#')) {
                    i += 1;
                }
                literal(&code, from, i);
                i += 1 + hashes;
                code.push_str("\"\"");
            }
            '"' => {
                i += 1;
                while i < text.len() && at(i) != '"' {
                    i += if at(i) == '\\' { 2 } else { 1 };
                }
                literal(&code, start + 1, i);
                i += 1;
                code.push_str("\"\"");
            }
            // A character; otherwise a lifetime.
            '\'' if at(i + 1) == '\\' => {
                i += 3;
                while i < text.len() && at(i) != '\'' {
                    i += 1;
                }
                i += 1;
            }
            '\'' if at(i + 2) == '\'' => i += 3,
            c => {
                code.push(c);
                i += 1;
                continue;
            }
        }
        let breaks = text[start..i.min(text.len())]
            .iter()
            .filter(|c| **c == '\n');
        code.extend(breaks);
    }
    (code, literals)
}

/// Whether code ends inside of an attribute's brackets.
fn ends_in_attribute(code: &str) -> bool {
    let Some(inside) = code.rfind("#[").or_else(|| code.rfind("#![")) else {
        return false;
    };
    let mut depth = 0;
    let closes = |c: char| {
        depth += i32::from(c == '[') - i32::from(c == ']');
        c == ']' && depth == 0
    };
    !code[inside..].chars().any(closes)
}
