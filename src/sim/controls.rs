//! What an operator can do in one tick: the buttons of the pendant, all hold-to-run, and what is said
//! over the radio.

use serde::de::{Error, Unexpected};
use serde::{Deserialize, Deserializer, Serialize};

use crate::domain::rig::End;
use crate::domain::spec::{Item, Motion};

use super::drive::Way;

/// A button of the pendant, or a crank on the rack: it works while it is held.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
pub enum Button {
    /// The escapement cycles once while held, and blocks on let-go.
    Feed,
    ReceiverUp,
    ReceiverDown,
    LiftNearUp,
    LiftNearDown,
    LiftFarUp,
    LiftFarDown,
    LiftBothUp,
    LiftBothDown,
    /// Towards the rack.
    ShiftNearIn,
    /// Away from the rack.
    ShiftNearOut,
    ShiftFarIn,
    ShiftFarOut,
    /// Counter-clockwise as seen from the machine of a right-handed line: the stick's top goes
    /// towards the rack.
    TurnIn,
    /// The stick's top goes away from the rack.
    TurnOut,
    /// Towards the machine.
    AdvanceOn,
    /// Back from the machine.
    AdvanceBack,
    Horn,
    /// The hand crank of the jack under a rail's high end.
    JackNearUp,
    JackNearDown,
    JackFarUp,
    JackFarDown,
}

impl Button {
    pub const ALL: [Self; 22] = [
        Self::Feed,
        Self::ReceiverUp,
        Self::ReceiverDown,
        Self::LiftNearUp,
        Self::LiftNearDown,
        Self::LiftFarUp,
        Self::LiftFarDown,
        Self::LiftBothUp,
        Self::LiftBothDown,
        Self::ShiftNearIn,
        Self::ShiftNearOut,
        Self::ShiftFarIn,
        Self::ShiftFarOut,
        Self::TurnIn,
        Self::TurnOut,
        Self::AdvanceOn,
        Self::AdvanceBack,
        Self::Horn,
        Self::JackNearUp,
        Self::JackNearDown,
        Self::JackFarUp,
        Self::JackFarDown,
    ];
}

/// Buttons held at once: a bit each.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, Serialize)]
pub struct Held(u32);

impl Held {
    pub const NONE: Self = Self(0);

    pub fn with(self, button: Button) -> Self {
        Self(self.0 | 1 << button as u32)
    }

    pub fn has(self, button: Button) -> bool {
        self.0 & (1 << button as u32) != 0
    }

    pub fn is_empty(&self) -> bool {
        self.0 == 0
    }

    pub fn iter(self) -> impl Iterator<Item = Button> {
        Button::ALL.into_iter().filter(move |b| self.has(*b))
    }
}

impl FromIterator<Button> for Held {
    fn from_iter<I: IntoIterator<Item = Button>>(buttons: I) -> Self {
        buttons.into_iter().fold(Self::default(), Self::with)
    }
}

impl<'de> Deserialize<'de> for Held {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let held = Self(u32::deserialize(deserializer)?);
        if held.0 >> Button::ALL.len() == 0 {
            Ok(held)
        } else {
            let found = Unexpected::Unsigned(held.0.into());
            Err(D::Error::invalid_value(found, &"buttons"))
        }
    }
}

/// What is asked of the people, by radio. They do it as soon as they can.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub enum Call {
    /// Everybody out of the line.
    Clear,
    /// The loader brings the next stick.
    Load,
    /// The loader holds the stick that hangs on the rack, from uphill.
    Hold,
    /// The loader lets go again and backs out.
    Release,
    /// The rigger sets the chocks below the lowest stick on the rack.
    Chock,
    /// The rigger takes the chocks away.
    Unchock,
    /// The rigger bars the stick that hangs, from its end at the machine or the other.
    BarFromEnd(End),
    /// The rigger bars the stick that hangs from below it: barred by every rule.
    BarFromBelow,
    /// The technician clamps the stick.
    Clamp,
    /// The technician opens the jaws.
    Unclamp,
    /// The rigger puts an item right; only with the power isolated.
    Repair(Item),
}

/// What an instructor brings about while a trainee works, to see what they make of it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
pub enum Upset {
    /// Somebody without a radio, who looks at nothing, walks up to the receiver and out again.
    Visitor,
    /// The spotter says stop for a while, for a reason that nobody else sees.
    StopCalled,
    /// A gust across the line.
    Gust,
    /// A lift's cylinder begins to leak.
    LiftCreeps(End),
    /// The spotter's radio dies.
    RadioDies,
    /// The power fails for good.
    PowerFails,
}

impl Upset {
    pub const ALL: [Self; 7] = [
        Self::Visitor,
        Self::StopCalled,
        Self::Gust,
        Self::LiftCreeps(End::Near),
        Self::LiftCreeps(End::Far),
        Self::RadioDies,
        Self::PowerFails,
    ];
}

/// The state of the control station in one tick, and what the instructor does in it.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Controls {
    pub held: Held,
    /// The latching emergency stop, as long as it is latched.
    pub emergency_stop: bool,
    /// The power is isolated and locked.
    pub isolated: bool,
    /// What is said in this tick. Said once, it is heard once.
    pub call: Option<Call>,
    /// What is brought about in this tick. Brought about once, it comes once.
    pub upset: Option<Upset>,
}

impl Controls {
    /// With these buttons held and nothing else.
    pub fn held(buttons: impl IntoIterator<Item = Button>) -> Self {
        Self {
            held: buttons.into_iter().collect(),
            ..Self::default()
        }
    }

    pub fn has(&self, button: Button) -> bool {
        self.held.has(button)
    }

    /// Buttons that are held now and were not before.
    pub fn pressed_since(&self, before: &Self) -> impl Iterator<Item = Button> + use<> {
        let (now, before) = (self.held, before.held);
        now.iter().filter(move |&button| !before.has(button))
    }

    /// Which way a pair of buttons tells a motion to go. Both at once hold it.
    fn way(&self, out: bool, back: bool) -> Way {
        match (out, back) {
            (true, false) => Way::Out,
            (false, true) => Way::Back,
            _ => Way::Hold,
        }
    }

    /// What a motion is told: outwards is up, away from the rack, top away from the rack, on.
    pub fn asked(&self, motion: Motion) -> Way {
        use Button as B;
        let has = |button| self.has(button);
        match motion {
            Motion::Receiver => self.way(has(B::ReceiverUp), has(B::ReceiverDown)),
            Motion::LiftNear => self.way(
                has(B::LiftNearUp) || has(B::LiftBothUp),
                has(B::LiftNearDown) || has(B::LiftBothDown),
            ),
            Motion::LiftFar => self.way(
                has(B::LiftFarUp) || has(B::LiftBothUp),
                has(B::LiftFarDown) || has(B::LiftBothDown),
            ),
            Motion::ShiftNear => self.way(has(B::ShiftNearOut), has(B::ShiftNearIn)),
            Motion::ShiftFar => self.way(has(B::ShiftFarOut), has(B::ShiftFarIn)),
            Motion::Turn => self.way(has(B::TurnOut), has(B::TurnIn)),
            Motion::Advance => self.way(has(B::AdvanceOn), has(B::AdvanceBack)),
        }
    }

    /// What the jack of a rail is told.
    pub fn jack(&self, side: End) -> Way {
        let (up, down) = match side {
            End::Near => (Button::JackNearUp, Button::JackNearDown),
            End::Far => (Button::JackFarUp, Button::JackFarDown),
        };
        self.way(self.has(up), self.has(down))
    }
}

impl Button {
    /// Whether it works a lift.
    pub fn is_lift(self) -> bool {
        matches!(
            self,
            Self::LiftNearUp
                | Self::LiftNearDown
                | Self::LiftFarUp
                | Self::LiftFarDown
                | Self::LiftBothUp
                | Self::LiftBothDown
        )
    }

    /// The two buttons of a motion: outwards (up, away from the rack, on) and back.
    pub fn of(motion: Motion) -> [Self; 2] {
        match motion {
            Motion::Receiver => [Self::ReceiverUp, Self::ReceiverDown],
            Motion::LiftNear => [Self::LiftNearUp, Self::LiftNearDown],
            Motion::LiftFar => [Self::LiftFarUp, Self::LiftFarDown],
            Motion::ShiftNear => [Self::ShiftNearOut, Self::ShiftNearIn],
            Motion::ShiftFar => [Self::ShiftFarOut, Self::ShiftFarIn],
            Motion::Turn => [Self::TurnOut, Self::TurnIn],
            Motion::Advance => [Self::AdvanceOn, Self::AdvanceBack],
        }
    }
}

/// The controls from a tick on: a run's input is the list of its changes.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct ControlChange {
    /// The first tick (counted from 1) made under these controls.
    pub tick: u64,
    pub controls: Controls,
}

/// The controls in a tick of a run whose changes are in the order of their ticks.
pub fn controls_at(changes: &[ControlChange], tick: u64) -> Controls {
    let made = changes.partition_point(|change| change.tick <= tick);
    made.checked_sub(1)
        .and_then(|last| changes.get(last))
        .map_or_else(Controls::default, |change| change.controls)
}
