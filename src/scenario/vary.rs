//! A scenario's text with some of its fields at other values, named by their paths.
//!
//! The changed text goes through the whole check of a scenario again, so that a value that is out of
//! range or does not fit the rest is found like any other fault of a file.

use super::check::{names, nearest};
use super::fault::Fault;
use super::raw::File;
use super::reader::{self, Node, Value};
use super::table::{Described, Field, Group, Kind, LeftOut, Values};
use super::{Loaded, parse};
use crate::texts::Message;

/// What a field that can be varied may hold.
#[derive(Clone, Debug, PartialEq)]
pub enum Holds {
    Number {
        unit: &'static str,
        min: f64,
        max: f64,
    },
    Whole {
        min: u64,
        max: u64,
    },
    /// Words, flags, sizes: what is written as it stands.
    Written,
}

/// Why a path names no field that can be varied.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum NoField {
    /// Nothing of that name; perhaps another path was meant.
    Unknown { meant: Option<String> },
    /// A text, or a group of fields.
    NotAValue,
}

/// One step of a path: `overrides[2]` is a name and a place in its list, counted from 1.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
struct Step<'p> {
    name: &'p str,
    item: Option<usize>,
}

fn steps(path: &str) -> Option<Vec<Step<'_>>> {
    path.split('.')
        .map(|piece| match piece.split_once('[') {
            None => Some(Step {
                name: piece,
                item: None,
            }),
            Some((name, rest)) => {
                let number = rest.strip_suffix(']')?.parse().ok()?;
                (number > 0).then_some(Step {
                    name,
                    item: Some(number),
                })
            }
        })
        .collect()
}

/// What the field of a path may hold.
///
/// # Errors
/// Where the path names no field, or one that has no values to go through.
pub fn field(path: &str) -> Result<Holds, NoField> {
    let table = File::table();
    let unknown = || NoField::Unknown {
        meant: suggestion(&table, path),
    };
    let steps = steps(path).ok_or_else(unknown)?;
    let (last, groups) = steps.split_last().ok_or_else(unknown)?;
    let mut group = &table;
    for step in groups {
        let inner = match step.item {
            None => &group.groups,
            Some(_) => &group.lists,
        };
        let found = inner.iter().find(|(name, _)| *name == step.name);
        group = found.map(|(_, group)| group).ok_or_else(unknown)?;
    }
    let found = group.fields.iter().find(|field| field.name == last.name);
    match found {
        Some(field) if last.item.is_none() => holds(field),
        Some(_) => Err(unknown()),
        None if names(group).contains(&last.name) => Err(NoField::NotAValue),
        None => Err(unknown()),
    }
}

/// A field of the line that has values to go through, for whoever chooses one.
#[derive(Clone, Debug, PartialEq)]
pub struct LineField {
    pub path: String,
    pub meaning: Message,
    pub holds: Holds,
    /// The band of common practice or of published values.
    pub usual: Option<(f64, f64)>,
    /// What may be written, where it takes no number and its words can be listed.
    pub words: Vec<String>,
    /// What it stands for when it is left out; none where it follows from others.
    pub left_out: Option<String>,
}

/// The fields of the line, in the order of the file, without those of lists: how a run is called and
/// scored is no matter of the line.
pub fn line_fields() -> Vec<LineField> {
    const NOT_THE_LINE: [&str; 2] = ["es", "scoring"];
    let mut fields = Vec::new();
    for (name, group) in &File::table().groups {
        if !NOT_THE_LINE.contains(name) {
            describe(group, name, &mut fields);
        }
    }
    fields
}

fn describe(group: &Group, path: &str, fields: &mut Vec<LineField>) {
    for field in &group.fields {
        let Ok(holds) = holds(field) else { continue };
        let usual = match field.kind {
            Kind::Number { usual, .. } => usual.map(|usual| (usual.min, usual.max)),
            _ => None,
        };
        fields.push(LineField {
            path: format!("{path}.{}", field.name),
            meaning: field.meaning.clone(),
            holds,
            usual,
            words: words(field.kind),
            left_out: match &field.left_out {
                LeftOut::Value(value) => Some(value.clone()),
                LeftOut::Required | LeftOut::Follows(_) => None,
            },
        });
    }
    for (name, inner) in &group.groups {
        describe(inner, &format!("{path}.{name}"), fields);
    }
}

/// What may stand for a value that is no number.
fn words(kind: Kind) -> Vec<String> {
    match kind {
        Kind::Flag => [false, true].map(|flag| flag.to_string()).to_vec(),
        Kind::Word(words) => words.iter().map(|word| (*word).to_owned()).collect(),
        Kind::Measure(measures) => {
            let listed = measures
                .iter()
                .filter(|measure| matches!(measure.values, Values::Listed(..)));
            let each = listed.flat_map(|measure| {
                let values = measure.values.listed().into_iter();
                values.map(|value| format!("{}({value})", measure.word))
            });
            each.collect()
        }
        _ => Vec::new(),
    }
}

fn holds(field: &Field) -> Result<Holds, NoField> {
    match field.kind {
        Kind::Number { unit, min, max, .. } => Ok(Holds::Number { unit, min, max }),
        Kind::Count { min, max } => Ok(Holds::Whole { min, max }),
        Kind::Flag | Kind::Word(_) | Kind::Measure(_) => Ok(Holds::Written),
        Kind::Title { .. } | Kind::Prose { .. } => Err(NoField::NotAValue),
    }
}

/// The path that is most like a wrong one: the same name elsewhere, or the nearest spelling.
fn suggestion(table: &Group, path: &str) -> Option<String> {
    let mut paths = Vec::new();
    list(table, "", &mut paths);
    let last = |path: &str| path.rsplit('.').next().unwrap_or_default().to_owned();
    let wanted = last(path);
    let same = paths.iter().find(|known| last(known) == wanted);
    let near = || {
        let name = nearest(path, paths.iter().map(String::as_str));
        name.map(str::to_owned)
    };
    same.cloned().or_else(near)
}

fn list(group: &Group, path: &str, paths: &mut Vec<String>) {
    let join = |name: &str| match path {
        "" => name.to_owned(),
        path => format!("{path}.{name}"),
    };
    let fields = group.fields.iter().filter(|field| holds(field).is_ok());
    paths.extend(fields.map(|field| join(field.name)));
    for (name, inner) in &group.groups {
        list(inner, &join(name), paths);
    }
    for (name, inner) in &group.lists {
        list(inner, &format!("{}[1]", join(name)), paths);
    }
}

/// A sound scenario, of which variants are made.
#[derive(Clone, Debug, PartialEq)]
pub struct Base {
    pub file: String,
    pub loaded: Loaded,
}

impl Base {
    /// The scenario with other values: each a path and the value as it would stand in the file.
    ///
    /// # Errors
    /// What is wrong with it then; never empty.
    pub fn with<'v>(
        &self,
        values: impl IntoIterator<Item = (&'v str, &'v str)>,
    ) -> Result<Loaded, Vec<Fault>> {
        let mut text = self.loaded.text.clone();
        for (path, value) in values {
            text = set(&text, path, value).ok_or_else(|| vec![self.no_place(path)])?;
        }
        parse(&self.file, &text)
    }

    /// What its text gives for a field, as it stands there; none where the field is left out.
    pub fn written(&self, path: &str) -> Option<String> {
        let text = &self.loaded.text;
        let root = reader::read(text).ok()?;
        let mut node = &root;
        for step in steps(path)? {
            let Value::Group(_, entries) = &node.value else {
                return None;
            };
            let entry = entries.iter().find(|entry| entry.name == step.name)?;
            node = match (step.item, &entry.value.value) {
                (None, _) => &entry.value,
                (Some(item), Value::List(items)) => &items.get(item - 1)?.value,
                (Some(_), _) => return None,
            };
        }
        text.get(node.span.start..node.span.end).map(str::to_owned)
    }

    fn no_place(&self, path: &str) -> Fault {
        Fault {
            file: self.file.clone(),
            line: 1,
            column: 1,
            path: path.to_owned(),
            what: Message::new("fault-no-such-item"),
            allowed: None,
            meant: None,
        }
    }
}

/// The text with one field at another value; none where the path leads through an item that the
/// list does not have.
fn set(text: &str, path: &str, value: &str) -> Option<String> {
    let root = reader::read(text).ok()?;
    let steps = steps(path)?;
    let mut node = &root;
    for (at, step) in steps.iter().enumerate() {
        let Value::Group(_, entries) = &node.value else {
            return None;
        };
        let Some(entry) = entries.iter().find(|entry| entry.name == step.name) else {
            return insert(text, node, steps.get(at..)?, value);
        };
        node = match (step.item, &entry.value.value) {
            (None, _) => &entry.value,
            (Some(item), Value::List(items)) => &items.get(item - 1)?.value,
            (Some(_), _) => return None,
        };
    }
    let (before, after) = (text.get(..node.span.start)?, text.get(node.span.end..)?);
    Some(format!("{before}{value}{after}"))
}

/// The text with a field, and the groups around it, that the file leaves out.
fn insert(text: &str, group: &Node<'_>, steps: &[Step<'_>], value: &str) -> Option<String> {
    if steps.iter().any(|step| step.item.is_some()) {
        return None;
    }
    let (last, groups) = steps.split_last()?;
    let mut entry = format!("{}: {value}", last.name);
    for step in groups.iter().rev() {
        entry = format!("{}: ({entry})", step.name);
    }
    let at = group.span.start + 1;
    let (before, after) = (text.get(..at)?, text.get(at..)?);
    Some(format!("{before}{entry}, {after}"))
}

#[cfg(test)]
mod tests {
    use super::*;

    const TEXT: &str =
        "( // a comment\n format: 1, name: \"x\", pipe: (size: Ips(24), wall: Dr(17)),
        row: (sticks: 3, overrides: [(stick: 2, ovality_pct: 1)]), zone: () )";

    #[test]
    fn fields_are_replaced_and_those_left_out_are_put_in() {
        for (path, value, wanted) in [
            ("row.sticks", "5", "sticks: 5,"),
            ("pipe.size", "Ips(36)", "size: Ips(36),"),
            ("rack.pitch_deg", "4.5", "rack: (pitch_deg: 4.5),"),
            (
                "rack.far_rail.pitch_deg",
                "4",
                "rack: (far_rail: (pitch_deg: 4)),",
            ),
            (
                "row.scatter.gap_mm",
                "0",
                "row: (scatter: (gap_mm: 0), sticks",
            ),
            ("row.overrides[1].ovality_pct", "2.5", "ovality_pct: 2.5)"),
            ("row.overrides[1].gap_mm", "3", "[(gap_mm: 3, stick: 2"),
        ] {
            let text = set(TEXT, path, value).unwrap();
            assert!(text.contains(wanted), "{path}: {text}");
            parse("x.ron", &text).unwrap_or_else(|faults| panic!("{path}: {faults:?}"));
        }
        assert_eq!(set(TEXT, "row.overrides[2].gap_mm", "3"), None);
        assert_eq!(set(TEXT, "people[1].x_m", "3"), None);
    }

    #[test]
    fn every_field_of_the_line_is_one_by_its_path_and_has_a_meaning() {
        let fields = line_fields();
        assert!(fields.len() > 60, "{}", fields.len());
        for known in &fields {
            assert_eq!(
                field(&known.path).as_ref(),
                Ok(&known.holds),
                "{}",
                known.path
            );
            for lang in crate::texts::Lang::ALL {
                assert!(
                    crate::texts::Texts::of(lang)
                        .try_say(&known.meaning)
                        .is_ok()
                );
            }
        }
        let of = |path: &str| fields.iter().find(|field| field.path == path).unwrap();
        assert_eq!(of("rack.pitch_deg").usual, Some((4.0, 6.0)));
        assert_eq!(of("rack.surface").words[..2], ["Dry", "Wet"]);
        assert!(
            of("escapement.size_setting")
                .words
                .contains(&"Ips(36)".to_owned())
        );
        assert_eq!(of("rack.toe_height_m").left_out.as_deref(), Some("1.3"));
        assert!(fields.iter().all(|field| field.path != "scoring.pass_mark"));
    }

    #[test]
    fn what_is_written_is_read_back() {
        let base = Base {
            file: "x.ron".to_owned(),
            loaded: parse("x.ron", TEXT).unwrap(),
        };
        for (path, value) in [
            ("row.sticks", Some("3")),
            ("pipe.size", Some("Ips(24)")),
            ("row.overrides[1].ovality_pct", Some("1")),
            ("rack.pitch_deg", None),
        ] {
            assert_eq!(base.written(path).as_deref(), value, "{path}");
        }
    }

    #[test]
    fn a_wrong_path_gets_the_nearest_one() {
        let meant = |path: &str| match field(path) {
            Err(NoField::Unknown { meant }) => meant,
            other => panic!("{path}: {other:?}"),
        };
        assert_eq!(meant("rack.pich_deg").as_deref(), Some("rack.pitch_deg"));
        assert_eq!(meant("pitch_deg").as_deref(), Some("rack.pitch_deg"));
        assert_eq!(
            meant("friction_pipe_on_pipe").as_deref(),
            Some("contact.friction_pipe_on_pipe")
        );
        assert_eq!(meant("xyzzy"), None);
        assert_eq!(field("rack"), Err(NoField::NotAValue));
        assert_eq!(field("name"), Err(NoField::NotAValue));
        assert!(matches!(field("row.sticks"), Ok(Holds::Whole { .. })));
        assert!(matches!(field("pipe.size"), Ok(Holds::Written)));
        assert!(matches!(
            field("row.overrides[2].gap_mm"),
            Ok(Holds::Number { unit: "mm", .. })
        ));
    }
}
