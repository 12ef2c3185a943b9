//! What came of a run, read from what happened on the line.

use serde::{Deserialize, Serialize};

use super::figures::Figures;
use crate::domain::limits::DROPPED;
use crate::operator::Ending;
use crate::sim::line::{EventKind, Line, StickPlace};
use crate::texts::Message;

/// What came of feeding once.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum Outcome {
    /// Somebody was struck.
    Struck,
    /// Every stick has become part of the string.
    Joined,
    /// One stick lies in the receiver, the rest of the row behind the gate.
    OneStick,
    /// No stick came, or one came through the gate and stopped on its way.
    Hung,
    /// Nothing more came through, but the row has climbed the gate and leans on its top.
    Perched,
    /// More sticks than one went through in one cycle, or one went over a closed gate.
    DoubleFeed,
    /// A stick left the line.
    RollOff,
    /// A stick fell on to the receiver or into the cradles.
    Dropped,
    /// The escapement or the receiver was held by its load.
    Jammed,
    /// Feed was refused by the interlock.
    Refused,
    /// Nobody fed the line.
    NotFed,
    /// The time was over before everything lay still.
    Unsettled,
    /// The run was broken off before anything had come of it.
    BrokenOff,
}

/// A stick that stays on the gate with more than this part of the lift that takes it over has climbed
/// it (our own figure).
const PERCHED: f64 = 0.5;

impl Outcome {
    /// The outcome of a run that came to the given end. The gravest of what happened names it.
    pub fn of(line: &Line, ending: Ending, figures: &Figures) -> Self {
        let mut through = 0;
        let mut over_closed_gate = false;
        let mut lost = false;
        let mut struck = false;
        let mut dropped = false;
        let mut cycles = 0;
        let mut refused = false;
        for event in line.events() {
            match event.kind {
                EventKind::PassedGate { open, .. } => {
                    through += 1;
                    over_closed_gate |= !open;
                }
                EventKind::Lost { .. } => lost = true,
                EventKind::Struck { .. } => struck = true,
                EventKind::Landed { fall_m_per_s, .. } => dropped |= fall_m_per_s > DROPPED.value,
                EventKind::CycleBegan { .. } => cycles += 1,
                EventKind::FeedRefused => refused = true,
                _ => {}
            }
        }
        let all_joined = line
            .sticks()
            .all(|stick| line.place(stick) == StickPlace::Joined);
        if struck {
            Self::Struck
        } else if through > cycles.max(1) || over_closed_gate {
            Self::DoubleFeed
        } else if lost {
            Self::RollOff
        } else if dropped {
            Self::Dropped
        } else if all_joined {
            Self::Joined
        } else if ending == Ending::BrokenOff {
            Self::BrokenOff
        } else if cycles == 0 {
            if refused { Self::Refused } else { Self::NotFed }
        } else if line.is_stalled() {
            Self::Jammed
        } else if ending == Ending::TimeLimit {
            Self::Unsettled
        } else if figures.lean.is_some_and(|lean| lean.fraction > PERCHED) {
            Self::Perched
        } else if through == cycles
            && line
                .sticks()
                .all(|stick| line.place(stick) != StickPlace::Released)
        {
            Self::OneStick
        } else {
            Self::Hung
        }
    }

    /// The headline, in a few words.
    pub fn headline(self) -> Message {
        Message::new(match self {
            Self::Struck => "outcome-struck",
            Self::Joined => "outcome-joined",
            Self::OneStick => "outcome-one-stick",
            Self::Hung => "outcome-hung",
            Self::Perched => "outcome-perched",
            Self::DoubleFeed => "outcome-double-feed",
            Self::RollOff => "outcome-roll-off",
            Self::Dropped => "outcome-dropped",
            Self::Jammed => "outcome-jammed",
            Self::Refused => "outcome-refused",
            Self::NotFed => "outcome-not-fed",
            Self::Unsettled => "outcome-unsettled",
            Self::BrokenOff => "outcome-broken-off",
        })
    }

    /// One sentence that says what it means.
    pub fn meaning(self) -> Message {
        Message::new(match self {
            Self::Struck => "outcome-struck-means",
            Self::Joined => "outcome-joined-means",
            Self::OneStick => "outcome-one-stick-means",
            Self::Hung => "outcome-hung-means",
            Self::Perched => "outcome-perched-means",
            Self::DoubleFeed => "outcome-double-feed-means",
            Self::RollOff => "outcome-roll-off-means",
            Self::Dropped => "outcome-dropped-means",
            Self::Jammed => "outcome-jammed-means",
            Self::Refused => "outcome-refused-means",
            Self::NotFed => "outcome-not-fed-means",
            Self::Unsettled => "outcome-unsettled-means",
            Self::BrokenOff => "outcome-broken-off-means",
        })
    }
}
