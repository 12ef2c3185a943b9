//! Holds the tree of a file against the table of fields: every fault at once.

use std::collections::{BTreeMap, BTreeSet};

use super::fault::{Finding, is_unprintable, line_of, shown};
use super::reader::{Entry, Node, Span, Value, decimal, whole};
use super::table::{Field, Group, Kind, LeftOut, Measure, listing, with_unit};
use crate::texts::{Filling, Message};

/// Faults listed at most. A file with more is no scenario, and a hostile one has a hundred thousand.
const MOST: usize = 200;

/// What checking has found.
#[derive(Debug, Default)]
pub(super) struct Findings {
    faults: Vec<Finding>,
    pub warnings: Vec<Finding>,
    unlisted: usize,
    /// Parts of the text that are wrong. Blanked, they leave a text that `ron` can read, so that
    /// the geometry of the rest is checked in the same round.
    pub blanks: Vec<Span>,
    /// Paths whose value is not known for sure.
    doubtful: BTreeSet<String>,
    /// Where each field and group that is given stands.
    places: BTreeMap<String, usize>,
}

impl Findings {
    pub fn fault(&mut self, finding: Finding) {
        if self.faults.len() < MOST {
            self.faults.push(finding);
        } else {
            self.unlisted += 1;
        }
    }

    /// Counts a fault without wording it, where there are too many; false where there are not.
    fn is_counted_only(&mut self) -> bool {
        let full = self.faults.len() >= MOST;
        self.unlisted += usize::from(full);
        full
    }

    pub fn is_faulty(&self) -> bool {
        !self.faults.is_empty()
    }

    /// All faults, with a last one that counts those not listed.
    pub fn into_faults(mut self) -> Vec<Finding> {
        if self.unlisted > 0 {
            let at = self.faults.iter().map(|fault| fault.at).max().unwrap_or(0);
            let what = Message::new("fault-unlisted").with("count", self.unlisted);
            self.faults.push(Finding::new(at, "", what));
        }
        self.faults
    }

    /// Whether the field itself is given in the file.
    pub fn is_given(&self, path: &str) -> bool {
        self.places.contains_key(path)
    }

    /// Where to point for a field: at its value, or at the innermost group around it.
    pub fn place(&self, path: &str) -> usize {
        let mut path = path;
        loop {
            if let Some(at) = self.places.get(path) {
                return *at;
            }
            match path.rfind(['.', '[']) {
                Some(end) => path = path.get(..end).unwrap_or_default(),
                None => return self.places.get("").copied().unwrap_or(0),
            }
        }
    }

    /// Whether a rule that reads these fields and groups can be judged.
    pub fn is_sure_of(&self, paths: &[&str]) -> bool {
        paths.iter().all(|path| {
            self.doubtful
                .iter()
                .all(|doubtful| !is_within(doubtful, path) && !is_within(path, doubtful))
        })
    }

    /// Drops a wrong piece of the text and remembers what is no longer known.
    fn set_aside(&mut self, span: Span, path: &str) {
        self.blanks.push(span);
        self.doubt(path);
    }

    fn doubt(&mut self, path: &str) {
        if self.doubtful.len() < MOST {
            self.doubtful.insert(path.to_owned());
        }
    }
}

/// Whether `path` is `group` or lies in it.
fn is_within(path: &str, group: &str) -> bool {
    path.strip_prefix(group)
        .is_some_and(|rest| rest.is_empty() || rest.starts_with(['.', '[']))
}

/// Checks the whole file.
pub(super) fn check(text: &str, root: &Node<'_>, table: &Group) -> Findings {
    let mut checker = Checker {
        text,
        table,
        findings: Findings::default(),
    };
    if !checker.group(root, table, "") {
        // Nothing is known about a file that is no group.
        checker.findings.doubt("");
    }
    checker.findings
}

struct Checker<'t> {
    text: &'t str,
    table: &'t Group,
    findings: Findings,
}

impl Checker<'_> {
    /// Checks a group; false where the node is none.
    fn group(&mut self, node: &Node<'_>, group: &Group, path: &str) -> bool {
        let at = node.span.start;
        self.findings.places.insert(path.to_owned(), at);
        let entries = match &node.value {
            Value::Group(None, entries) => entries,
            Value::Group(Some(word), entries) => {
                let what = Message::new("fault-word-before-group").with("word", shown(word));
                self.findings
                    .fault(Finding::new(at, path, what).allowed(Message::new("allowed-no-word")));
                self.findings.blanks.push(Span {
                    start: at,
                    end: at + word.len(),
                });
                entries
            }
            _ => {
                let what = self.instead(node);
                self.findings
                    .fault(Finding::new(at, path, what).allowed(Message::new("allowed-group")));
                return false;
            }
        };
        let mut first_places: BTreeMap<&str, usize> = BTreeMap::new();
        for entry in entries {
            let entry_path = join(path, entry.name);
            if let Some(first) = first_places.get(entry.name) {
                self.findings.set_aside(entry.span, &entry_path);
                if self.findings.is_counted_only() {
                    continue;
                }
                let what = Message::new("fault-twice").with("line", line_of(self.text, *first));
                self.findings.fault(
                    Finding::new(entry.span.start, &entry_path, what)
                        .allowed(Message::new("allowed-once")),
                );
                continue;
            }
            first_places.insert(entry.name, entry.span.start);
            self.entry(entry, group, path, &entry_path);
        }
        self.missing(group, path, at, &first_places);
        true
    }

    /// Reports required fields that are not there, also those of groups left out whole.
    fn missing(&mut self, group: &Group, path: &str, at: usize, given: &BTreeMap<&str, usize>) {
        for field in &group.fields {
            if field.left_out == LeftOut::Required && !given.contains_key(field.name) {
                let path = join(path, field.name);
                self.findings
                    .fault(Finding::new(at, &path, "fault-missing").allowed(field.kind.allowed()));
                self.findings.doubt(&path);
            }
        }
        for (name, inner) in &group.groups {
            if !given.contains_key(name) {
                self.missing(inner, &join(path, name), at, &BTreeMap::new());
            }
        }
    }

    fn entry(&mut self, entry: &Entry<'_>, group: &Group, path: &str, entry_path: &str) {
        if let Some(field) = group.fields.iter().find(|f| f.name == entry.name) {
            self.field(entry, field, entry_path);
        } else if let Some((_, inner)) = group.groups.iter().find(|(name, _)| *name == entry.name) {
            if !self.group(&entry.value, inner, entry_path) {
                self.findings.set_aside(entry.span, entry_path);
            }
        } else if let Some((_, inner)) = group.lists.iter().find(|(name, _)| *name == entry.name) {
            self.list(entry, inner, entry_path);
        } else {
            self.unknown(entry, group, path, entry_path);
        }
    }

    fn unknown(&mut self, entry: &Entry<'_>, group: &Group, path: &str, entry_path: &str) {
        self.findings.set_aside(entry.span, entry_path);
        if self.findings.is_counted_only() {
            return;
        }
        let names = names(group);
        let elsewhere = path_of(self.table, "", entry.name);
        let meant = elsewhere.or_else(|| {
            let name = nearest(entry.name, names.iter().copied())?;
            Some(join(path, name))
        });
        if let Some(meant) = &meant {
            self.findings.doubt(meant);
        }
        self.findings.fault(
            Finding::new(entry.span.start, &shown(entry_path), "fault-no-such-field")
                .allowed(listing(&names))
                .meant(meant.map(Filling::Text)),
        );
    }

    fn list(&mut self, entry: &Entry<'_>, group: &Group, path: &str) {
        let node = &entry.value;
        self.findings
            .places
            .insert(path.to_owned(), node.span.start);
        let Value::List(items) = &node.value else {
            let what = self.instead(node);
            self.findings.fault(
                Finding::new(node.span.start, path, what).allowed(Message::new("allowed-list")),
            );
            self.findings.set_aside(entry.span, path);
            return;
        };
        for (index, item) in items.iter().enumerate() {
            let item_path = format!("{path}[{}]", index + 1);
            if !self.group(&item.value, group, &item_path) {
                // Without it the rest would be counted wrongly.
                self.findings.set_aside(item.span, path);
            }
        }
    }

    fn field(&mut self, entry: &Entry<'_>, field: &Field, path: &str) {
        let node = match &entry.value.value {
            Value::Tuple(Some("Some"), items) if items.len() == 1 => {
                items.first().unwrap_or(&entry.value)
            }
            Value::Word("None") if field.left_out != LeftOut::Required => return,
            _ => &entry.value,
        };
        let at = node.span.start;
        self.findings.places.insert(path.to_owned(), at);
        if let Err((what, meant)) = self.value(node, field.kind) {
            self.findings.fault(
                Finding::new(at, path, what)
                    .allowed(field.kind.allowed())
                    .meant(meant),
            );
            self.findings.set_aside(entry.span, path);
            return;
        }
        if let (Kind::Number { unit, usual, .. }, Value::Number(written)) =
            (field.kind, &node.value)
            && let (Some(usual), Some(value)) = (usual, decimal(written))
            && !(usual.min..=usual.max).contains(&value)
        {
            let what = Message::new("fault-unusual")
                .with("value", with_unit(value, unit))
                .with("why", Message::new(usual.says));
            self.findings.warnings.push(Finding::new(at, path, what));
        }
    }

    /// Checks one value: what was found instead, and what was probably meant.
    fn value(&self, node: &Node<'_>, kind: Kind) -> Result<(), Instead> {
        let found = || self.instead(node);
        let fits = match (kind, &node.value) {
            (Kind::Number { min, max, .. }, Value::Number(written)) => {
                decimal(written).is_some_and(|value| (min..=max).contains(&value))
            }
            (Kind::Number { .. } | Kind::Count { .. }, Value::Text(text)) => {
                let bare = Some(text.trim()).filter(|text| decimal(text).is_some());
                return Err((found(), bare.map(without_quotes)));
            }
            (Kind::Count { min, max }, Value::Number(written)) => {
                whole(written).is_some_and(|value| (min..=max).contains(&value))
            }
            (Kind::Flag, Value::Flag) => true,
            (Kind::Flag, Value::Word(word)) => {
                let meant = match word.to_lowercase().as_str() {
                    "yes" | "on" => Some("true"),
                    "no" | "off" => Some("false"),
                    other => nearest(other, ["true", "false"]),
                };
                return Err((found(), meant.map(Filling::from)));
            }
            (Kind::Word(words), Value::Word(word)) if words.contains(word) => true,
            (Kind::Word(words), Value::Word(word)) => {
                return Err((
                    found(),
                    nearest(word, words.iter().copied()).map(Filling::from),
                ));
            }
            (Kind::Word(words), Value::Text(text)) => {
                let meant = nearest(text, words.iter().copied());
                return Err((found(), meant.map(without_quotes)));
            }
            (Kind::Title { longest }, Value::Text(text)) => {
                text_fits(text, longest, |_| false)? && !text.trim().is_empty()
            }
            (Kind::Prose { longest }, Value::Text(text)) => {
                text_fits(text, longest, |c| matches!(c, '\n' | '\r' | '\t'))?
            }
            (Kind::Title { .. } | Kind::Prose { .. }, Value::Word(word)) => {
                return Err((found(), Some(format!("\"{}\"", shown(word)).into())));
            }
            (Kind::Measure(measures), value) => {
                return measure(measures, value)
                    .map_err(|meant| (found(), meant.map(Filling::Text)));
            }
            _ => false,
        };
        if fits { Ok(()) } else { Err((found(), None)) }
    }

    /// A value as it stands in the file, fit to be printed, where another should stand.
    fn instead(&self, node: &Node<'_>) -> Message {
        let found: Filling = match &node.value {
            Value::Group(..) | Value::Tuple(None, _) => Message::new("found-group").into(),
            Value::List(_) => Message::new("found-list").into(),
            Value::Tuple(Some(_), _) | Value::Number(_) | Value::Word(_) | Value::Flag => {
                self.written(node).into()
            }
            Value::Text(_) => Message::new("found-text")
                .with("text", self.written(node))
                .into(),
        };
        Message::new("fault-found").with("found", found)
    }

    fn written(&self, node: &Node<'_>) -> String {
        let Span { start, end } = node.span;
        shown(self.text.get(start..end).unwrap_or_default())
    }
}

/// What was found in the place of a sound value, and what was probably meant.
type Instead = (Message, Option<Filling>);

fn without_quotes(value: &str) -> Filling {
    Message::new("meant-without-quotes")
        .with("value", value)
        .into()
}

fn text_fits(
    text: &str,
    longest: usize,
    is_welcome: impl Fn(char) -> bool,
) -> Result<bool, Instead> {
    if let Some(odd) = text.chars().find(|c| is_unprintable(*c) && !is_welcome(*c)) {
        let what = Message::new("fault-control-character")
            .with("character", odd.escape_default().to_string());
        return Err((what, None));
    }
    let length = text.chars().count();
    if length > longest {
        return Err((Message::new("fault-long-text").with("length", length), None));
    }
    Ok(true)
}

/// Checks a word with a number; the error is what was probably meant.
fn measure(measures: &[Measure], value: &Value<'_>) -> Result<(), Option<String>> {
    let (word, number) = match value {
        Value::Tuple(word, items) => match items.as_slice() {
            [one] => match &one.value {
                Value::Number(written) => (*word, decimal(written)),
                _ => (*word, None),
            },
            _ => (*word, None),
        },
        Value::Number(written) => (None, decimal(written)),
        Value::Word(word) => (Some(*word), None),
        _ => (None, None),
    };
    let named = word.and_then(|word| measures.iter().find(|measure| measure.word == word));
    if let (Some(named), Some(number)) = (named, number)
        && named.takes(number)
    {
        return Ok(());
    }
    let Some(number) = number else {
        let words = measures.iter().map(|measure| measure.word);
        let meant = word.and_then(|word| nearest(word, words));
        return Err(meant.map(|meant| format!("{meant}(…)")));
    };
    let spelt = word.and_then(|word| nearest(word, measures.iter().map(|measure| measure.word)));
    let likely = measures
        .iter()
        .find(|measure| Some(measure.word) == spelt && measure.takes(number))
        .or_else(|| measures.iter().find(|measure| measure.takes(number)));
    if let Some(likely) = likely {
        return Err(Some(format!("{}({number})", likely.word)));
    }
    // A size between two listed ones: the next one.
    let next = named
        .map(|named| named.values.listed())
        .unwrap_or_default()
        .into_iter()
        .min_by(|a, b| (a - number).abs().total_cmp(&(b - number).abs()))
        .filter(|next| (next - number).abs() <= 0.2 * next);
    Err(next.and_then(|next| Some(format!("{}({next})", named?.word))))
}

fn join(path: &str, name: &str) -> String {
    if path.is_empty() {
        name.to_owned()
    } else {
        format!("{path}.{name}")
    }
}

pub(super) fn names(group: &Group) -> Vec<&'static str> {
    let fields = group.fields.iter().map(|field| field.name);
    let groups = group.groups.iter().map(|(name, _)| *name);
    let lists = group.lists.iter().map(|(name, _)| *name);
    fields.chain(groups).chain(lists).collect()
}

/// The path of the outermost field or group of that name, anywhere in the table.
fn path_of(group: &Group, path: &str, name: &str) -> Option<String> {
    if names(group).contains(&name) {
        return Some(join(path, name));
    }
    group
        .groups
        .iter()
        .find_map(|(inner, group)| path_of(group, &join(path, inner), name))
}

/// The candidate nearest to a misspelt word, if one is near at all.
pub(super) fn nearest<'c>(
    word: &str,
    candidates: impl IntoIterator<Item = &'c str>,
) -> Option<&'c str> {
    const NEAR: f64 = 0.8;
    const LONGEST: usize = 64;
    if word.len() > LONGEST {
        return None;
    }
    let word = word.to_lowercase();
    candidates
        .into_iter()
        .map(|candidate| {
            let likeness = strsim::jaro_winkler(&word, &candidate.to_lowercase());
            (likeness, candidate)
        })
        .filter(|(likeness, _)| *likeness >= NEAR)
        .max_by(|(a, _), (b, _)| a.total_cmp(b))
        .map(|(_, candidate)| candidate)
}
