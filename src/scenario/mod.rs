//! The scenario file: RON text, checked and built.
//!
//! A file goes through four steps. It is read into a tree that knows the place of everything
//! (`reader`); the tree is held against the one table of fields (`check` with `raw` and `table`);
//! what is sound is read by the `ron` crate and built into the line's description (`build`); and
//! the fields are held against each other (`geometry`). A file that fails any step gives all its
//! faults together, each with its place; no text, however wrong, makes this module panic.

mod build;
mod check;
mod describe;
mod fault;
mod file;
mod geometry;
mod raw;
mod reader;
mod scatter;
mod table;
#[cfg(test)]
mod tests;
mod vary;

use std::path::Path;

use serde::{Deserialize, Serialize};

pub use describe::field_reference;
pub use fault::{Fault, LoadError};
pub(crate) use file::name_of;
pub use raw::Goal;
pub use scatter::Scatter;
pub use vary::{Base, Holds, LineField, NoField, field, line_fields};

use crate::domain::finding::Scoring;
use crate::domain::spec::LineSpec;
use crate::texts::{Lang, Message};
use check::Findings;
use fault::{Finding, locate, shown};
use table::Described;

/// What a run is about, and the line it is run on.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Scenario {
    /// Version of the file format.
    pub format: u32,
    pub author: String,
    /// Its texts in English, or in the language of whoever wrote it.
    pub texts: ScenarioTexts,
    /// The same in Spanish; empty where they are not given.
    pub spanish: ScenarioTexts,
    /// How hard it is, 1 to 5.
    pub level: u32,
    /// How long it takes a trainee, with brief and debrief, min.
    pub takes_min: f64,
    pub seed: u64,
    /// The run ends here at the latest, s.
    pub time_limit_s: f64,
    pub goal: Goal,
    pub scoring: Scoring,
    /// Whether the line can be set out anew before pipe is loaded.
    pub set_out_open: bool,
    /// Whether the trainee is told of the line's faults; if not, they are there to be found.
    pub faults_told: bool,
    /// The line as given, with every stick where it is meant to lie.
    pub line: LineSpec,
    /// How far sticks may lie from there.
    pub scatter: Scatter,
}

/// What a scenario has to say to people.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct ScenarioTexts {
    pub name: String,
    /// What the trainee is told before the run.
    pub brief: String,
    /// What the scenario trains, for the trainer.
    pub trains: String,
    /// What can go wrong in it, for the trainer.
    pub hazards: String,
}

impl Scenario {
    /// Its texts in a language, as far as they are given in it.
    pub fn texts(&self, lang: Lang) -> ScenarioTexts {
        let or = |own: &str, other: &str| if own.is_empty() { other } else { own }.to_owned();
        match lang {
            Lang::English => self.texts.clone(),
            Lang::Spanish => ScenarioTexts {
                name: or(&self.spanish.name, &self.texts.name),
                brief: or(&self.spanish.brief, &self.texts.brief),
                trains: or(&self.spanish.trains, &self.texts.trains),
                hazards: or(&self.spanish.hazards, &self.texts.hazards),
            },
        }
    }

    /// The line as loaded by chance: the same for the same seed, and [`Scenario::line`] itself
    /// without scatter.
    pub fn line_for(&self, seed: u64) -> LineSpec {
        LineSpec {
            sticks: self.scatter.loaded(&self.line, seed),
            ..self.line.clone()
        }
    }
}

/// A scenario with what there is to say about its file.
#[derive(Clone, Debug, PartialEq)]
pub struct Loaded {
    pub scenario: Scenario,
    /// What is allowed but out of the ordinary, in the order of the file.
    pub warnings: Vec<Fault>,
    /// The text it was made from, without a byte order mark.
    pub text: String,
}

/// Loads a scenario file.
pub fn load(path: &Path) -> Result<Loaded, LoadError> {
    let bytes = file::read(path)?;
    parse_bytes(&name_of(path), &bytes).map_err(LoadError::Faulty)
}

/// Makes a scenario of the text of a file; `file_name` is only for the messages.
pub fn parse(file_name: &str, text: &str) -> Result<Loaded, Vec<Fault>> {
    parse_bytes(file_name, text.as_bytes())
}

/// Makes a scenario of the bytes of a file; the faults are never empty and in the order of the file.
pub fn parse_bytes(file_name: &str, bytes: &[u8]) -> Result<Loaded, Vec<Fault>> {
    let text = file::decode(bytes).map_err(|finding| {
        let valid = bytes.get(..finding.at).unwrap_or_default();
        locate(file_name, &String::from_utf8_lossy(valid), vec![finding])
    })?;
    let mut findings = match reader::read(text) {
        Ok(root) => check::check(text, &root, &raw::File::table()),
        Err(finding) => return Err(locate(file_name, text, vec![finding])),
    };
    let scenario = assemble(text, &mut findings);
    match scenario {
        Some(scenario) if !findings.is_faulty() => Ok(Loaded {
            scenario,
            warnings: locate(file_name, text, findings.warnings),
            text: text.to_owned(),
        }),
        _ => Err(locate(file_name, text, findings.into_faults())),
    }
}

/// Reads and builds what is sound of a text, and checks how its fields fit together.
fn assemble(text: &str, findings: &mut Findings) -> Option<Scenario> {
    let mut file: raw::File = match ron_options().from_str(&without(text, findings)) {
        Ok(file) => file,
        Err(error) => {
            // With faults already found the rest may well be past reading.
            if !findings.is_faulty() {
                let at = offset(text, error.span.start.line, error.span.start.col);
                let said = shown(&error.code.to_string());
                findings.fault(Finding::new(
                    at,
                    "",
                    Message::new("fault-not-read").with("error", said),
                ));
            }
            return None;
        }
    };
    let scenario = build::build(&file).or_else(|odd| {
        geometry::walls(&file, &odd, findings);
        build::stand_in_walls(&mut file);
        build::build(&file)
    });
    let scenario = scenario.ok()?;
    geometry::check(&file, &scenario, findings);
    Some(scenario)
}

fn ron_options() -> ron::Options {
    ron::Options::default()
        .with_default_extension(ron::extensions::Extensions::IMPLICIT_SOME)
        // Each bracket costs the typed reader several levels.
        .with_recursion_limit(8 * reader::DEEPEST)
}

/// The text with its wrong parts blanked; every other byte keeps its place.
fn without(text: &str, findings: &Findings) -> String {
    let mut bytes = text.as_bytes().to_vec();
    for span in &findings.blanks {
        for byte in bytes.get_mut(span.start..span.end).unwrap_or_default() {
            if *byte != b'\n' {
                *byte = b' ';
            }
        }
    }
    // A comment on the last line needs its end.
    bytes.push(b'\n');
    String::from_utf8_lossy(&bytes).into_owned()
}

/// Byte offset of a line and column, both counted from 1.
fn offset(text: &str, line: usize, column: usize) -> usize {
    let mut start = 0;
    for (number, content) in text.split_inclusive('\n').enumerate() {
        if number + 1 == line {
            let inside = content.char_indices().nth(column.saturating_sub(1));
            return start + inside.map_or(content.len(), |(at, _)| at);
        }
        start += content.len();
    }
    text.len()
}
