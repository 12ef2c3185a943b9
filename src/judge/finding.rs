//! A finding: what should not have happened, with its numbers and the act at fault.

use serde::Serialize;

use super::act::Act;
use super::log::Noted;
use crate::domain::finding::FindingKind;
use crate::sim::line::PersonId;
use crate::sim::world::StickId;
use crate::texts::Message;

/// See the module's text.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Finding {
    pub kind: FindingKind,
    pub tick: u64,
    /// Where: away from the rack, up, towards the machine, m.
    pub at: Option<[f32; 3]>,
    pub stick: Option<StickId>,
    pub person: Option<PersonId>,
    pub measured: Option<Measured>,
    /// What happened, with its numbers.
    pub fact: Message,
    /// What was done, or left undone.
    pub act: Act,
}

/// A number and the limit it is held against.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Measured {
    pub value: f64,
    pub limit: f64,
    /// SI unit; "1" for a ratio.
    pub unit: &'static str,
}

impl Finding {
    /// What an event shows.
    pub(super) fn of(noted: &Noted, kind: FindingKind, fact: Message, act: Act) -> Self {
        Self {
            at: noted.at,
            stick: noted.event.kind.stick(),
            person: noted.event.kind.person(),
            ..Self::at_tick(noted.event.tick, kind, fact, act)
        }
    }

    pub(super) fn at_tick(tick: u64, kind: FindingKind, fact: Message, act: Act) -> Self {
        Self {
            kind,
            tick,
            at: None,
            stick: None,
            person: None,
            measured: None,
            fact,
            act,
        }
    }

    pub(super) fn with_stick(mut self, stick: StickId) -> Self {
        self.stick = Some(stick);
        self
    }
}

/// What there is to say about a kind of finding: its title, why it matters, what is right, and the
/// rule with its source.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Explained {
    pub title: Message,
    pub why: Message,
    pub right: Message,
    pub rule: Message,
}

/// Explains a kind.
pub fn explain(kind: FindingKind) -> Explained {
    let entry = |part: &str| {
        let message = Message::new(format!("{part}-{}", kind.id()));
        super::limit_of(kind)
            .into_iter()
            .fold(message, |message, limit| {
                message.measured(limit.0, limit.1, limit.2)
            })
    };
    Explained {
        title: entry("finding"),
        why: entry("why"),
        right: entry("right"),
        rule: entry("rule"),
    }
}
