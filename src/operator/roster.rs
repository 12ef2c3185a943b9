//! Who can be put at the pendant: the expert, and people who make one realistic mistake each. Each
//! says from the facts of a line whether they apply to it.

use super::worker::{Frees, Habits, LetsGo, Worker};
use super::{Feeder, Operator};
use crate::domain::limits::PITCH_NEVER_ABOVE;
use crate::domain::math::deg;
use crate::domain::rig::{End, Rig};
use crate::domain::spec::{Duty, EscapementKind, Item, LineSpec, Motion};
use crate::texts::Message;

/// Somebody of the roster.
pub struct Member {
    /// Name on the command line and in recordings.
    pub name: &'static str,
    /// Whether they apply to a line, and why not.
    applies: fn(&LineSpec) -> Result<(), Message>,
    make: fn() -> Box<dyn Operator>,
}

impl Member {
    /// What they do, in a sentence.
    pub fn does(&self) -> Message {
        Message::new(format!("operator-{}", self.name))
    }

    /// # Errors
    /// Why this operator is of no use on this line.
    pub fn applies(&self, spec: &LineSpec) -> Result<(), Message> {
        (self.applies)(spec)
    }

    pub fn operator(&self) -> Box<dyn Operator> {
        (self.make)()
    }
}

/// The member of a name.
pub fn member(name: &str) -> Option<&'static Member> {
    ROSTER.iter().find(|member| member.name == name)
}

macro_rules! erring {
    ($name:literal, $applies:expr, { $($habit:ident: $value:expr),* $(,)? }) => {
        Member {
            name: $name,
            applies: $applies,
            make: || Box::new(Worker::new(Habits { $($habit: $value,)* ..Habits::SOUND })),
        }
    };
}

/// Everybody.
pub const ROSTER: [Member; 19] = [
    Member {
        name: "expert",
        applies: workable,
        make: || Box::new(Worker::new(Habits::SOUND)),
    },
    Member {
        name: "feeder",
        applies: |_| Ok(()),
        make: || Box::new(Feeder::default()),
    },
    erring!(
        "lets-go-early",
        |spec| workable(spec).and_then(|()| pins(spec)),
        { lets_go: LetsGo::Early }
    ),
    erring!(
        "feeds-too-soon",
        |spec| workable(spec).and_then(|()| defeated(spec)).and_then(|()| row_of_two(spec)),
        { waits_its_turn: false }
    ),
    erring!(
        "forgets-the-receiver",
        |spec| workable(spec).and_then(|()| defeated(spec)).and_then(|()| receiver_down(spec)),
        { raises_receiver: false, checks: false }
    ),
    erring!(
        "lowers-at-once",
        workable,
        { waits_for_still: false }
    ),
    erring!(
        "one-end-first",
        workable,
        { raises_together: false }
    ),
    erring!(
        "by-eye",
        workable,
        { trims: false, looks_at_end: false }
    ),
    erring!(
        "never-turns",
        |spec| workable(spec).and_then(|()| oval(spec)),
        { turns: false }
    ),
    erring!(
        "advances-low",
        workable,
        { raises_first: false, looks_at_end: false }
    ),
    erring!(
        "into-the-string",
        workable,
        { stops_short: false }
    ),
    erring!(
        "rushes-the-joint",
        workable,
        { leaves_joint: false }
    ),
    erring!(
        "calls-nobody-out",
        |spec| workable(spec).and_then(|()| somebody_walks(spec)),
        { clears: false, heeds_spotter: false }
    ),
    erring!(
        "bars-from-below",
        |spec| crewed(spec).and_then(|()| hung(spec)).and_then(|()| rigger(spec)),
        { frees: Frees::FromBelow }
    ),
    erring!(
        "jacks-under-load",
        |spec| crewed(spec).and_then(|()| hung(spec)),
        { frees: Frees::ByJacking }
    ),
    erring!(
        "trusts-the-arrows",
        |spec| crewed(spec).and_then(|()| motion_fault(spec)),
        { checks: false }
    ),
    erring!(
        "loads-unchocked",
        |spec| workable(spec).and_then(|()| loads(spec)),
        { chocks_for_loading: false }
    ),
    erring!(
        "leaves-it-live",
        workable,
        { secures: false }
    ),
    erring!(
        "heeds-no-spotter",
        |spec| workable(spec).and_then(|()| somebody_walks(spec)),
        { heeds_spotter: false }
    ),
];

type Applies = Result<(), Message>;

fn ask(holds: bool, why_not: &'static str) -> Applies {
    if holds {
        Ok(())
    } else {
        Err(Message::new(why_not))
    }
}

fn has(spec: &LineSpec, duty: Duty) -> bool {
    spec.people.iter().any(|person| person.duty == duty)
}

fn crewed(spec: &LineSpec) -> Applies {
    ask(has(spec, Duty::Technician), "unfit-no-technician")
}

fn rigger(spec: &LineSpec) -> Applies {
    ask(has(spec, Duty::Rigger), "unfit-no-rigger")
}

/// A line that the whole cycle can be run on: set out as it should be, or to be put right on the way.
fn workable(spec: &LineSpec) -> Applies {
    crewed(spec)?;
    let pitches = End::BOTH.map(|end| Rig::new(spec).rail(end).pitch_rad);
    let steepest = pitches[0].max(pitches[1]);
    ask(steepest <= PITCH_NEVER_ABOVE.value, "unfit-too-steep")?;
    ask(
        deg(pitches[0] - pitches[1]).abs() <= 0.5,
        "unfit-pitches-apart",
    )?;
    let setting_m = spec.escapement.size_setting_m;
    ask(
        spec.sticks
            .iter()
            .all(|s| (s.pipe.outside_diameter_m / setting_m - 1.0).abs() < 0.02),
        "unfit-not-set",
    )?;
    ask(
        !End::BOTH.iter().any(|&end| {
            let faults = spec.faults.rail(end);
            faults.gate_missing || faults.separator_missing || faults.gate_stuck
        }),
        "unfit-pins-missing",
    )?;
    if hung(spec).is_ok() {
        ask(
            spec.loader.is_some() && has(spec, Duty::Rigger),
            "unfit-hung-alone",
        )?;
    }
    Ok(())
}

fn pins(spec: &LineSpec) -> Applies {
    ask(
        spec.escapement.kind == EscapementKind::PinPair,
        "unfit-wheel",
    )
}

fn defeated(spec: &LineSpec) -> Applies {
    ask(!spec.escapement.interlock, "unfit-interlock")
}

fn row_of_two(spec: &LineSpec) -> Applies {
    ask(spec.sticks.len() > 1, "unfit-one-stick")
}

fn receiver_down(spec: &LineSpec) -> Applies {
    ask(!spec.receiver.starts_up, "unfit-receiver-up")
}

fn oval(spec: &LineSpec) -> Applies {
    ask(
        spec.sticks.iter().any(|s| s.pipe.ovality >= 0.01),
        "unfit-round",
    )
}

fn somebody_walks(spec: &LineSpec) -> Applies {
    ask(
        spec.people.iter().any(|person| !person.path.is_empty()),
        "unfit-nobody-walks",
    )
}

fn loads(spec: &LineSpec) -> Applies {
    ask(
        spec.loader.is_some_and(|loader| loader.sticks > 0),
        "unfit-no-load",
    )
}

/// Some stick's ovality and rolling resistance hold it on the flatter rail.
fn hung(spec: &LineSpec) -> Applies {
    let pitch = spec
        .rack
        .near_rail
        .pitch_rad
        .min(spec.rack.far_rail.pitch_rad);
    let arm_m = spec.contact.rolling_lever_arm_m;
    let mut sticks = spec.sticks.iter();
    let holds = sticks.any(|stick| stick.pipe.rolls_from_rad(arm_m) > pitch);
    ask(holds, "unfit-rolls")
}

fn motion_fault(spec: &LineSpec) -> Applies {
    let faulty = Motion::ALL
        .iter()
        .any(|&motion| spec.faults.is_faulty(Item::Motion(motion)));
    ask(faulty, "unfit-motions-sound")
}
