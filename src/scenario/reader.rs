//! Reads the RON of a scenario file into a tree whose every node knows its place.
//!
//! This is the part of RON that scenarios use: groups `( name: value )`, words, words with one
//! value `Ips(24)`, lists, numbers, texts and comments. What it reads is also RON; maps,
//! characters and byte strings are refused. The typed values come from the `ron` crate afterwards:
//! this tree is for finding faults and saying where they are.

use super::fault::{Finding, line_of, shown};
use crate::texts::{Filling, Message};

/// Deepest nesting of brackets. Scenarios need five.
pub(super) const DEEPEST: usize = 32;

/// A range of bytes of the text.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Span {
    pub start: usize,
    pub end: usize,
}

#[derive(Debug)]
pub(super) struct Node<'a> {
    pub span: Span,
    pub value: Value<'a>,
}

#[derive(Debug)]
pub(super) enum Value<'a> {
    /// A number as written.
    Number(&'a str),
    Text(String),
    Flag,
    /// A bare word: `Dry`.
    Word(&'a str),
    /// `( name: value, … )`, and the empty `()`.
    Group(Option<&'a str>, Vec<Entry<'a>>),
    /// `( value, … )` or, with a word, `Ips(24)`.
    Tuple(Option<&'a str>, Vec<Node<'a>>),
    List(Vec<Item<'a>>),
}

/// One field of a group.
#[derive(Debug)]
pub(super) struct Entry<'a> {
    pub name: &'a str,
    pub value: Node<'a>,
    /// From the name to the next one, or to the bracket that closes.
    pub span: Span,
}

/// One item of a list.
#[derive(Debug)]
pub(super) struct Item<'a> {
    pub value: Node<'a>,
    /// To the next one, or to the bracket that closes.
    pub span: Span,
}

/// Reads the whole text, or says what is wrong with its syntax. One fault only: behind the first
/// there is no telling what the writer meant.
pub(super) fn read(text: &str) -> Result<Node<'_>, Finding> {
    let mut reader = Reader {
        text,
        at: 0,
        depth: 0,
    };
    reader.attribute()?;
    if reader.peek().is_none() {
        return Err(reader
            .fault(reader.at, "fault-empty-file")
            .allowed(Message::new("allowed-one-scenario")));
    }
    let root = reader.value()?;
    reader.space()?;
    if reader.peek().is_some() {
        return Err(reader
            .fault(
                reader.at,
                Message::new("fault-after-end").with("found", reader.found()),
            )
            .allowed(Message::new("allowed-only-comments")));
    }
    Ok(root)
}

type Read<T> = Result<T, Finding>;

struct Reader<'a> {
    text: &'a str,
    at: usize,
    depth: usize,
}

impl<'a> Reader<'a> {
    fn fault(&self, at: usize, what: impl Into<Message>) -> Finding {
        Finding::new(at, "", what)
    }

    fn rest(&self) -> &'a str {
        self.text.get(self.at..).unwrap_or_default()
    }

    fn peek(&self) -> Option<char> {
        self.rest().chars().next()
    }

    fn take(&mut self, wanted: &str) -> bool {
        let there = self.rest().starts_with(wanted);
        if there {
            self.at += wanted.len();
        }
        there
    }

    /// The text from `start` to where the reader stands.
    fn since(&self, start: usize) -> &'a str {
        self.text.get(start..self.at).unwrap_or_default()
    }

    fn skip_while(&mut self, belongs: impl Fn(char) -> bool) {
        let rest = self.rest();
        self.at += rest
            .find(|character| !belongs(character))
            .unwrap_or(rest.len());
    }

    /// What stands here, in words.
    fn found(&self) -> Filling {
        match self.peek() {
            None => Message::new("found-end-of-file").into(),
            Some(first) if is_word(first) => {
                let rest = self.rest();
                let end = rest.find(|c| !is_word(c)).unwrap_or(rest.len());
                format!("'{}'", shown(rest.get(..end).unwrap_or_default())).into()
            }
            Some(first) => format!("'{}'", shown(first.encode_utf8(&mut [0; 4]))).into(),
        }
    }

    /// Skips blanks and comments.
    fn space(&mut self) -> Read<()> {
        loop {
            self.skip_while(is_blank);
            let start = self.at;
            if self.take("//") {
                self.skip_while(|c| c != '\n');
            } else if self.take("/*") {
                let mut open = 1_usize;
                while open > 0 {
                    if self.take("/*") {
                        open += 1;
                    } else if self.take("*/") {
                        open -= 1;
                    } else if let Some(character) = self.peek() {
                        self.at += character.len_utf8();
                    } else {
                        return Err(self
                            .fault(start, "fault-comment-unended")
                            .allowed(Message::new("allowed-comment")));
                    }
                }
            } else {
                return Ok(());
            }
        }
    }

    /// The one attribute that changes nothing here, since a plain value is always taken for a
    /// given one.
    fn attribute(&mut self) -> Read<()> {
        self.space()?;
        let start = self.at;
        if !self.rest().starts_with('#') {
            return Ok(());
        }
        for part in ["#", "!", "[", "enable", "(", "implicit_some", ")", "]"] {
            self.space()?;
            if !self.take(part) {
                return Err(self
                    .fault(start, "fault-attribute")
                    .allowed(Message::new("allowed-attribute")));
            }
        }
        self.space()
    }

    fn value(&mut self) -> Read<Node<'a>> {
        self.space()?;
        let start = self.at;
        let value = match self.peek() {
            None => {
                return Err(self
                    .fault(start, "fault-value-missing")
                    .allowed(Message::new("allowed-value-and-close")));
            }
            Some('(') => self.bracket(None)?,
            Some('[') => self.list()?,
            Some('"') => self.quoted()?,
            Some('r') if self.rest().starts_with("r\"") || self.rest().starts_with("r#") => {
                self.raw_text()?
            }
            Some('b') if self.rest().starts_with("b\"") || self.rest().starts_with("b'") => {
                return Err(self
                    .fault(start, "fault-byte-string")
                    .allowed(Message::new("allowed-quoted")));
            }
            Some('{') => {
                return Err(self
                    .fault(start, "fault-map")
                    .allowed(Message::new("allowed-round-brackets")));
            }
            Some('\'' | '“' | '”' | '„' | '‘' | '’' | '«') => {
                return Err(self
                    .fault(
                        start,
                        Message::new("fault-quote").with("found", self.found()),
                    )
                    .allowed(Message::new("allowed-plain-quotes")));
            }
            Some(first) if first.is_ascii_digit() || matches!(first, '+' | '-' | '.') => {
                self.number()?
            }
            Some(first) if is_word_start(first) => {
                self.skip_while(is_word);
                let word = self.since(start);
                match word {
                    "inf" | "NaN" => Value::Number(word),
                    "true" | "false" => Value::Flag,
                    _ => {
                        let end = self.at;
                        self.space()?;
                        if self.peek() == Some('(') {
                            self.bracket(Some(word))?
                        } else {
                            self.at = end;
                            Value::Word(word)
                        }
                    }
                }
            }
            Some(_) => {
                return Err(self
                    .fault(
                        start,
                        Message::new("fault-no-value").with("found", self.found()),
                    )
                    .allowed(Message::new("allowed-value")));
            }
        };
        Ok(Node {
            span: Span {
                start,
                end: self.at,
            },
            value,
        })
    }

    fn deeper(&mut self) -> Read<()> {
        self.depth += 1;
        if self.depth > DEEPEST {
            return Err(self
                .fault(
                    self.at,
                    Message::new("fault-too-deep").with("deepest", DEEPEST),
                )
                .allowed(Message::new("allowed-depth").with("deepest", DEEPEST)));
        }
        Ok(())
    }

    /// `( … )`, with or without field names.
    fn bracket(&mut self, word: Option<&'a str>) -> Read<Value<'a>> {
        let open = self.at;
        self.deeper()?;
        self.take("(");
        self.space()?;
        let value = if self.take(")") {
            Value::Group(word, Vec::new())
        } else if self.at_field_name()? {
            Value::Group(word, self.entries(open)?)
        } else {
            let mut items = Vec::new();
            loop {
                items.push(self.value()?);
                self.space()?;
                if self.closed_or_next(open, ")")? {
                    break;
                }
            }
            Value::Tuple(word, items)
        };
        self.depth -= 1;
        Ok(value)
    }

    /// Whether a name and a colon stand here; reads nothing.
    fn at_field_name(&mut self) -> Read<bool> {
        let start = self.at;
        let mut is_name = false;
        if self.peek().is_some_and(is_word_start) {
            self.skip_while(is_word);
            self.space()?;
            is_name = matches!(self.peek(), Some(':' | '='));
        }
        self.at = start;
        Ok(is_name)
    }

    fn entries(&mut self, open: usize) -> Read<Vec<Entry<'a>>> {
        let mut entries: Vec<Entry<'a>> = Vec::new();
        loop {
            let start = self.at;
            if !self.peek().is_some_and(is_word_start) {
                let after_number = matches!(
                    entries.last().map(|entry| &entry.value.value),
                    Some(Value::Number(_))
                );
                let fault = self.fault(
                    start,
                    Message::new("fault-no-name").with("found", self.found()),
                );
                return Err(
                    if after_number && self.peek().is_some_and(|c| c.is_ascii_digit()) {
                        fault.allowed(Message::new("allowed-decimal-point"))
                    } else {
                        fault.allowed(Message::new("allowed-name-value"))
                    },
                );
            }
            self.skip_while(is_word);
            let name = self.since(start);
            self.space()?;
            if !self.take(":") {
                return Err(self
                    .fault(
                        self.at,
                        Message::new("fault-after-name")
                            .with("found", self.found())
                            .with("name", shown(name)),
                    )
                    .allowed(Message::new("allowed-colon")));
            }
            let value = self.value()?;
            self.space()?;
            let closed = self.closed_or_next(open, ")")?;
            // A bracket that closed the group is no part of its last field.
            let end = self.at - usize::from(closed);
            entries.push(Entry {
                name,
                value,
                span: Span { start, end },
            });
            if closed {
                return Ok(entries);
            }
        }
    }

    fn list(&mut self) -> Read<Value<'a>> {
        let open = self.at;
        self.deeper()?;
        self.take("[");
        self.space()?;
        let mut items = Vec::new();
        let mut closed = self.take("]");
        while !closed {
            let start = self.at;
            let value = self.value()?;
            self.space()?;
            closed = self.closed_or_next(open, "]")?;
            let end = self.at - usize::from(closed);
            items.push(Item {
                value,
                span: Span { start, end },
            });
        }
        self.depth -= 1;
        Ok(Value::List(items))
    }

    /// Behind a value: the bracket that closes (true), or a comma and something more (false). A
    /// comma before the closing bracket is welcome. Leaves the reader at the next value.
    fn closed_or_next(&mut self, open: usize, close: &str) -> Read<bool> {
        if self.take(close) {
            return Ok(true);
        }
        let comma = self.take(",");
        let behind_comma = self.at;
        self.space()?;
        if comma && self.take(close) {
            return Ok(true);
        }
        if self.peek().is_none() {
            let opened = self.text.get(open..=open).unwrap_or_default();
            return Err(self
                .fault(
                    self.at,
                    Message::new("fault-unclosed")
                        .with("bracket", opened)
                        .with("line", line_of(self.text, open)),
                )
                .allowed(Message::new("allowed-close").with("close", close)));
        }
        if comma {
            return Ok(false);
        }
        Err(self
            .fault(
                behind_comma,
                Message::new("fault-after-value").with("found", self.found()),
            )
            .allowed(Message::new("allowed-comma-or-close").with("close", close)))
    }

    fn number(&mut self) -> Read<Value<'a>> {
        let start = self.at;
        if self.peek().is_some_and(|c| matches!(c, '+' | '-')) {
            self.at += 1;
        }
        let digits = self.at;
        let hexadecimal = self.rest().starts_with("0x");
        loop {
            self.skip_while(|c| is_word(c) || c == '.');
            let exponent = self.since(digits).ends_with(['e', 'E']) && !hexadecimal;
            if !(exponent && self.peek().is_some_and(|c| matches!(c, '+' | '-'))) {
                break;
            }
            self.at += 1;
        }
        let written = self.since(start);
        if decimal(written).is_some() || whole(written).is_some() {
            Ok(Value::Number(written))
        } else {
            Err(self
                .fault(
                    start,
                    Message::new("fault-not-a-number").with("written", shown(written)),
                )
                .allowed(Message::new("allowed-digits")))
        }
    }

    fn quoted(&mut self) -> Read<Value<'a>> {
        let start = self.at;
        self.take("\"");
        let mut text = String::new();
        loop {
            let here = self.at;
            let Some(character) = self.peek() else {
                return Err(self.unended(start));
            };
            self.at += character.len_utf8();
            match character {
                '"' => return Ok(Value::Text(text)),
                '\\' => self.escape(here, &mut text)?,
                _ => text.push(character),
            }
        }
    }

    fn unended(&self, start: usize) -> Finding {
        self.fault(start, "fault-text-unended")
            .allowed(Message::new("allowed-closing-quote"))
    }

    fn escape(&mut self, start: usize, text: &mut String) -> Read<()> {
        let refused = || {
            Finding::new(start, "", "fault-escape")
                .allowed("\\n \\t \\r \\\" \\' \\\\ \\0 \\xNN \\u{NNNN}")
        };
        let Some(character) = self.peek() else {
            return Ok(()); // The caller says that the text never ends.
        };
        self.at += character.len_utf8();
        match character {
            'n' => text.push('\n'),
            't' => text.push('\t'),
            'r' => text.push('\r'),
            '0' => text.push('\0'),
            '"' | '\'' | '\\' => text.push(character),
            // A line break after '\' joins the lines.
            '\n' | '\r' => self.skip_while(|c| matches!(c, ' ' | '\t' | '\n' | '\r')),
            'x' => {
                let digits = self.rest().get(..2).ok_or_else(refused)?;
                let code = ascii_hex(digits).filter(|code| *code < 0x80);
                text.push(code.and_then(char::from_u32).ok_or_else(refused)?);
                self.at += 2;
            }
            'u' => {
                let inside = self.rest().strip_prefix('{').ok_or_else(refused)?;
                let (digits, _) = inside.split_once('}').ok_or_else(refused)?;
                let code = Some(digits).filter(|d| d.len() <= 6).and_then(ascii_hex);
                text.push(code.and_then(char::from_u32).ok_or_else(refused)?);
                self.at += digits.len() + 2;
            }
            _ => return Err(refused()),
        }
        Ok(())
    }

    fn raw_text(&mut self) -> Read<Value<'a>> {
        let start = self.at;
        self.take("r");
        let hashes = self.at;
        self.skip_while(|c| c == '#');
        let ending = format!("\"{}", self.since(hashes));
        if !self.take("\"") {
            return Err(self.fault(start, "fault-raw-text").allowed("r#\"…\"#"));
        }
        let Some((inside, _)) = self.rest().split_once(ending.as_str()) else {
            return Err(self.unended(start));
        };
        self.at += inside.len() + ending.len();
        Ok(Value::Text(inside.to_owned()))
    }
}

fn ascii_hex(digits: &str) -> Option<u32> {
    let all_hex = !digits.is_empty() && digits.bytes().all(|b| b.is_ascii_hexdigit());
    all_hex
        .then(|| u32::from_str_radix(digits, 16).ok())
        .flatten()
}

fn is_word_start(character: char) -> bool {
    character.is_alphabetic() || character == '_'
}

fn is_word(character: char) -> bool {
    character.is_alphanumeric() || character == '_'
}

fn is_blank(character: char) -> bool {
    matches!(
        character,
        ' ' | '\t'
            | '\n'
            | '\r'
            | '\x0B'
            | '\x0C'
            | '\u{85}'
            | '\u{200E}'
            | '\u{200F}'
            | '\u{2028}'
            | '\u{2029}'
    )
}

/// A number written in decimals; NaN and the infinities too.
pub(super) fn decimal(written: &str) -> Option<f64> {
    let unsigned = written.strip_prefix(['+', '-']).unwrap_or(written);
    let named = matches!(unsigned, "inf" | "NaN");
    let plain = unsigned.starts_with(|c: char| c.is_ascii_digit() || c == '.')
        && unsigned
            .bytes()
            .all(|b| b.is_ascii_digit() || matches!(b, b'.' | b'_' | b'e' | b'E' | b'+' | b'-'));
    if named || plain {
        written.replace('_', "").parse().ok()
    } else {
        None
    }
}

/// A whole number that is not negative, decimal or with 0x, 0o or 0b before it.
pub(super) fn whole(written: &str) -> Option<u64> {
    let unsigned = written.strip_prefix('+').unwrap_or(written);
    let (digits, base) = match unsigned.get(..2) {
        Some("0x") => (unsigned.get(2..)?, 16),
        Some("0o") => (unsigned.get(2..)?, 8),
        Some("0b") => (unsigned.get(2..)?, 2),
        _ => (unsigned, 10),
    };
    let starts_well = digits.starts_with(|c: char| c.is_ascii_hexdigit());
    starts_well
        .then(|| u64::from_str_radix(&digits.replace('_', ""), base).ok())
        .flatten()
}
