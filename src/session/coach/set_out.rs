//! The coach before pipe moves: what is still to be set right on the line, one thing after the other.

use super::{Action, Advice, Hint, Pointed, StepId};
use crate::domain::rig::End;
use crate::domain::set_out::Setting;
use crate::domain::spec::{Item, LineSpec};
use crate::operator::Shadow;
use crate::texts::Message;
use crate::words;

/// What is set right.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Task {
    Pitch(End),
    Size,
    Pins(End),
    Chock(End),
    RailPad(End),
    /// Looked at, and reported if something is wrong.
    Item(Item),
    Interlock,
    Zone,
    ColumnPads(End),
    Column(End),
    Cradles,
    Machine,
    /// All is as it should be: pipe may be moved.
    Begin,
}

impl Task {
    fn of(setting: &Setting) -> Self {
        match setting {
            Setting::Pitch { rail, .. } => Self::Pitch(*rail),
            Setting::Size { .. } => Self::Size,
            Setting::Pins(rail) => Self::Pins(*rail),
            Setting::Chock(rail) => Self::Chock(*rail),
            Setting::RailPad(rail) => Self::RailPad(*rail),
            Setting::Item(item) => Self::Item(*item),
            Setting::Interlock => Self::Interlock,
            Setting::Zone(_) => Self::Zone,
            Setting::ColumnPads(end) => Self::ColumnPads(*end),
            Setting::Column(end)
            | Setting::ColumnOffset { column: end, .. }
            | Setting::ColumnLean { column: end, .. } => Self::Column(*end),
            Setting::Cradles | Setting::CradleSpacing { .. } => Self::Cradles,
            Setting::Machine | Setting::MachineAt { .. } => Self::Machine,
        }
    }

    fn what(self) -> Message {
        match self {
            Self::Pitch(rail) => Message::new("coach-set-pitch").with("rail", words::rail(rail)),
            Self::Size => "coach-set-size".into(),
            Self::Pins(rail) => Message::new("coach-set-pins").with("rail", words::rail(rail)),
            Self::Chock(rail) => Message::new("coach-set-chock").with("rail", words::rail(rail)),
            Self::RailPad(rail) => {
                Message::new("coach-set-rail-pad").with("rail", words::rail(rail))
            }
            Self::Item(item) => Message::new("coach-set-item").with("item", words::item(item)),
            Self::Interlock => "coach-set-interlock".into(),
            Self::Zone => "coach-set-zone".into(),
            Self::ColumnPads(end) => {
                Message::new("coach-set-column-pads").with("end", words::end(end))
            }
            Self::Column(end) => Message::new("coach-set-column").with("end", words::end(end)),
            Self::Cradles => "coach-set-cradles".into(),
            Self::Machine => "coach-set-machine".into(),
            Self::Begin => "coach-set-begin".into(),
        }
    }

    fn why(self) -> Message {
        Message::new(match self {
            Self::Pitch(_) => "why-pitch-outside",
            Self::Size => "why-wrong-setting",
            Self::Pins(_) => "coach-why-pins",
            Self::Chock(_) => "why-loaded-unchocked",
            Self::RailPad(_) | Self::ColumnPads(_) => "coach-why-pads",
            Self::Item(_) => "why-fault-missed",
            Self::Interlock => "why-fed-unready",
            Self::Zone => "why-zone-inadequate",
            Self::Column(_) => "coach-why-column",
            Self::Cradles => "coach-why-cradles",
            Self::Machine => "coach-why-machine",
            Self::Begin => "coach-why-begin",
        })
    }

    fn parts(self) -> Vec<Pointed> {
        vec![match self {
            Self::Pitch(rail) | Self::RailPad(rail) => Pointed::Jack(rail),
            Self::Size => Pointed::Escapement(End::Near),
            Self::Pins(rail) => Pointed::Escapement(rail),
            Self::Chock(rail) => Pointed::Chock(rail),
            Self::Item(item) => Pointed::Item(item),
            Self::Interlock => Pointed::Receiver,
            Self::Zone => Pointed::Cones,
            Self::ColumnPads(end) | Self::Column(end) => Pointed::Cradle(end),
            Self::Cradles => Pointed::Cradle(End::Near),
            Self::Machine => Pointed::Machine,
            Self::Begin => Pointed::Station,
        }]
    }
}

/// What is next on a line as it is set out so far; `found` is the line as it was found, `open` says
/// whether the rack is still empty.
pub fn set_out_advice(found: &LineSpec, now: &LineSpec, open: bool) -> Advice {
    let of = Shadow::left_to_set(found, open).len();
    let left = Shadow::left_to_set(now, open);
    let task = left.first().map_or(Task::Begin, Task::of);
    Advice {
        step: StepId::SetOut(task),
        what: task.what(),
        why: task.why(),
        parts: task.parts(),
        action: None::<Action>,
        progress: (of.saturating_sub(left.len()), of),
        sticks: (0, now.stick_count()),
        hint: Hint::Full,
        off_path: None,
    }
}
