//! What somebody at the line did, or left undone.

use serde::Serialize;

use super::log::Log;
use crate::domain::spec::Item;
use crate::sim::controls::{Button, Call, Controls};
use crate::texts::Message;
use crate::words;

/// Something done or left undone, from a tick on.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Act {
    pub tick: u64,
    pub deed: Deed,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub enum Deed {
    /// Part of the set-out was left as it was found.
    LeftAsFound(Part),
    /// A fault was not reported.
    LeftFault(Item),
    Pressed(Button),
    /// Feed was let go.
    LetGo,
    Called(Call),
    /// The power was left on.
    NotIsolated,
    /// People were not called out.
    NotCleared,
    /// The row was not chocked.
    NotChocked,
    /// The horn was not sounded.
    NoHorn,
    /// Nothing was done for too long.
    Tarried,
}

/// A part of the set-out.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize)]
pub enum Part {
    Pitch,
    SizeSetting,
    Pins,
    Zone,
    Pads,
    Interlock,
    Load,
    Machine,
}

impl Log {
    /// The last press of one of some buttons up to a tick.
    pub fn last_press(&self, tick: u64, of: impl Fn(Button) -> bool) -> Option<Act> {
        let mut last = None;
        let mut before = Controls::default();
        for change in self
            .controls
            .iter()
            .take_while(|change| change.tick <= tick)
        {
            let now = change.controls;
            if let Some(button) = now.pressed_since(&before).find(|&button| of(button)) {
                last = Some(Act {
                    tick: change.tick,
                    deed: Deed::Pressed(button),
                });
            }
            before = now;
        }
        last
    }

    /// The last call of some up to a tick.
    pub fn last_call(&self, tick: u64, of: impl Fn(Call) -> bool) -> Option<Act> {
        let changes = self
            .controls
            .iter()
            .take_while(|change| change.tick <= tick);
        let said = changes.filter_map(|change| {
            let call = change.controls.call.filter(|call| of(*call))?;
            Some(Act {
                tick: change.tick,
                deed: Deed::Called(call),
            })
        });
        said.last()
    }

    /// When feed was last let go up to a tick.
    pub fn last_let_go(&self, tick: u64) -> Option<Act> {
        let mut last = None;
        let mut before = false;
        for change in self
            .controls
            .iter()
            .take_while(|change| change.tick <= tick)
        {
            let now = change.controls.has(Button::Feed);
            if before && !now {
                last = Some(Act {
                    tick: change.tick,
                    deed: Deed::LetGo,
                });
            }
            before = now;
        }
        last
    }

    /// The last press of one of some buttons up to a tick, or else the last act.
    pub fn press(&self, tick: u64, of: impl Fn(Button) -> bool) -> Act {
        self.last_press(tick, of)
            .unwrap_or_else(|| self.last_act(tick))
    }

    /// The last call of a kind up to a tick, or else the last act.
    pub fn call(&self, tick: u64, call: Call) -> Act {
        self.last_call(tick, |said| said == call)
            .unwrap_or_else(|| self.last_act(tick))
    }

    /// The last thing done up to a tick that moves pipe or people; where nothing was, that nobody was
    /// called out.
    pub fn last_act(&self, tick: u64) -> Act {
        let press = self.last_press(tick, moves_pipe);
        let call = self.last_call(tick, |call| call != Call::Clear);
        let not_cleared = Act {
            tick: 0,
            deed: Deed::NotCleared,
        };
        let acts = press.into_iter().chain(call);
        acts.max_by_key(|act| act.tick).unwrap_or(not_cleared)
    }
}

/// Whether a button moves pipe.
pub fn moves_pipe(button: Button) -> bool {
    button != Button::Horn
}

impl Act {
    /// What was done, in words.
    pub fn said(&self) -> Message {
        match self.deed {
            Deed::LeftAsFound(part) => Message::new(match part {
                Part::Pitch => "act-pitch",
                Part::SizeSetting => "act-size-setting",
                Part::Pins => "act-pins",
                Part::Pads => "act-pads",
                Part::Zone => "act-zone",
                Part::Interlock => "act-interlock",
                Part::Load => "act-load",
                Part::Machine => "act-machine",
            }),
            Deed::LeftFault(item) => Message::new("act-fault").with("item", words::item(item)),
            Deed::Pressed(button) => {
                Message::new("act-pressed").with("button", words::button(button))
            }
            Deed::LetGo => Message::new("act-let-go"),
            Deed::Called(call) => Message::new("act-called").with("call", words::call(call)),
            Deed::NotIsolated => Message::new("act-not-isolated"),
            Deed::NotCleared => Message::new("act-not-cleared"),
            Deed::NotChocked => Message::new("act-not-chocked"),
            Deed::NoHorn => Message::new("act-no-horn"),
            Deed::Tarried => Message::new("act-tarried"),
        }
    }
}
