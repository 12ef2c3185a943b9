//! What is said to people, before it is put into a language: the name of an entry of the catalogue
//! and what goes into its gaps.

use std::borrow::Cow;

use serde::Serialize;

/// Something to say.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Message {
    id: Cow<'static, str>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    gaps: Vec<(&'static str, Filling)>,
}

/// What goes into a gap.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
#[serde(untagged)]
pub enum Filling {
    /// A number that other words may depend on (one stick, two sticks).
    Count(u64),
    /// A name, or a measured number with its digits.
    Text(String),
    /// Words of the catalogue.
    Message(Box<Message>),
}

impl Message {
    pub fn new(id: impl Into<Cow<'static, str>>) -> Self {
        Self {
            id: id.into(),
            gaps: Vec::new(),
        }
    }

    /// Fills a gap.
    pub fn with(mut self, gap: &'static str, filling: impl Into<Filling>) -> Self {
        self.gaps.push((gap, filling.into()));
        self
    }

    /// Fills a gap with a measured number, shown with so many digits after the point.
    pub fn measured(self, gap: &'static str, value: f64, digits: usize) -> Self {
        let text = format!("{value:.digits$}");
        // What rounds to nothing has no sign.
        let is_zero = text.bytes().all(|byte| matches!(byte, b'-' | b'0' | b'.'));
        let text = text.strip_prefix('-').filter(|_| is_zero).unwrap_or(&text);
        self.with(gap, text)
    }

    pub fn id(&self) -> &str {
        &self.id
    }

    pub fn gaps(&self) -> &[(&'static str, Filling)] {
        &self.gaps
    }
}

impl From<&'static str> for Message {
    fn from(id: &'static str) -> Self {
        Self::new(id)
    }
}

impl From<String> for Filling {
    fn from(text: String) -> Self {
        Self::Text(text)
    }
}

impl From<&str> for Filling {
    fn from(text: &str) -> Self {
        Self::Text(text.to_owned())
    }
}

impl From<u64> for Filling {
    fn from(count: u64) -> Self {
        Self::Count(count)
    }
}

impl From<usize> for Filling {
    fn from(count: usize) -> Self {
        Self::Count(count as u64)
    }
}

/// A number as it is written in a file.
impl From<f64> for Filling {
    fn from(number: f64) -> Self {
        Self::Text(number.to_string())
    }
}

impl From<Message> for Filling {
    fn from(message: Message) -> Self {
        Self::Message(Box::new(message))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_rounds_to_nothing_has_no_sign() {
        let shown = |value| match Message::new("x").measured("gap", value, 1).gaps() {
            [(_, Filling::Text(text))] => text.clone(),
            other => panic!("{other:?}"),
        };
        assert_eq!([-0.04, 0.04, -0.0].map(shown), ["0.0"; 3]);
        assert_eq!(shown(-0.06), "-0.1");
        assert_eq!(shown(-10.0), "-10.0");
    }
}
