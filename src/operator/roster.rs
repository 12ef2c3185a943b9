//! Who can be put at the pendant: the expert, and people who make one realistic mistake each. Each
//! says from the facts of a line whether they apply to it.

use super::worker::{Frees, Habits, LetsGo, Worker, walk_round, zone_to_set};
use super::{Feeder, Operator};
use crate::domain::finding::FindingKind;
use crate::domain::limits::{PITCH_MAX, PITCH_MIN, PITCH_NEVER_ABOVE};
use crate::domain::rig::{End, Rig};
use crate::domain::spec::{Duty, EscapementKind, LineSpec, Motion};
use crate::texts::Message;
use crate::words;

/// Somebody of the roster.
pub struct Member {
    /// Name on the command line and in recordings.
    pub name: &'static str,
    /// The finding that this habit leads to; None for those without one.
    pub finding: Option<FindingKind>,
    /// Whether they apply to a line as they have set it out, and why not.
    applies: fn(&LineSpec) -> Result<(), Message>,
    make: fn() -> Box<dyn Operator>,
}

impl Member {
    /// What they do, in a sentence.
    pub fn does(&self) -> Message {
        Message::new(format!("operator-{}", self.name))
    }

    /// # Errors
    /// Why this operator is of no use on this line as found; `open` says whether the rack is still
    /// empty.
    pub fn applies(&self, as_found: &LineSpec, open: bool) -> Result<(), Message> {
        let set_out = self.operator().set_out(as_found, open);
        let line = set_out.applied(as_found, open);
        (self.applies)(&line.map_err(|fault| words::set_out_fault(&fault))?)
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
    ($name:literal, $finding:ident, $applies:expr, { $($habit:ident: $value:expr),* $(,)? }) => {
        Member {
            name: $name,
            finding: Some(FindingKind::$finding),
            applies: $applies,
            make: || Box::new(Worker::new(Habits { $($habit: $value,)* ..Habits::SOUND })),
        }
    };
}

/// Everybody.
pub const ROSTER: [Member; 27] = [
    Member {
        name: "expert",
        finding: None,
        applies: workable,
        make: || Box::new(Worker::new(Habits::SOUND)),
    },
    Member {
        name: "feeder",
        finding: None,
        applies: |_| Ok(()),
        make: || Box::new(Feeder::default()),
    },
    erring!(
        "lets-go-early",
        LetGoEarly,
        |spec| workable(spec).and_then(|()| pins(spec)),
        { lets_go: LetsGo::Early }
    ),
    erring!(
        "feeds-too-soon",
        FedUnready,
        |spec| workable(spec).and_then(|()| defeated(spec)).and_then(|()| row_of_two(spec)),
        { waits_its_turn: false }
    ),
    erring!(
        "forgets-the-receiver",
        FedUnready,
        |spec| workable(spec).and_then(|()| defeated(spec)).and_then(|()| row_of_two(spec)),
        { raises_receiver: false }
    ),
    erring!(
        "lowers-at-once",
        HardSeat,
        workable,
        { waits_for_still: false }
    ),
    erring!(
        "one-end-first",
        LiftTilt,
        workable,
        { raises_together: false }
    ),
    erring!(
        "by-eye",
        HighLow,
        |spec| workable(spec).and_then(|()| oval(spec)),
        { trims: false, looks_at_end: false }
    ),
    erring!(
        "never-turns",
        LongAxisOff,
        |spec| workable(spec).and_then(|()| oval(spec)),
        { turns: false }
    ),
    erring!(
        "advances-low",
        NeedlessMotion,
        workable,
        { raises_first: false, looks_at_end: false }
    ),
    erring!(
        "into-the-string",
        GapOff,
        workable,
        { stops_short: false }
    ),
    erring!(
        "rushes-the-joint",
        JointRushed,
        workable,
        { leaves_joint: false }
    ),
    erring!(
        "calls-nobody-out",
        InZone,
        |spec| workable(spec).and_then(|()| somebody_walks(spec)),
        { clears: false, heeds_spotter: false }
    ),
    erring!(
        "bars-from-below",
        FromBelow,
        |spec| crewed(spec).and_then(|()| hung(spec)).and_then(|()| rigger(spec)),
        { frees: Frees::FromBelow }
    ),
    erring!(
        "jacks-under-load",
        JackUnderLoad,
        |spec| crewed(spec).and_then(|()| hung(spec)),
        { frees: Frees::ByJacking }
    ),
    erring!(
        "trusts-the-arrows",
        CrossedAccepted,
        |spec| workable(spec).and_then(|()| crossed(spec)),
        { checks: false }
    ),
    erring!(
        "loads-unchocked",
        LoadedUnchocked,
        |spec| workable(spec).and_then(|()| loads(spec)),
        { chocks_for_loading: false }
    ),
    erring!(
        "leaves-it-live",
        LeftLive,
        |spec| workable(spec).and_then(|()| row_of_two(spec)),
        { secures: false }
    ),
    erring!(
        "heeds-no-spotter",
        StopUnheeded,
        |spec| workable(spec).and_then(|()| somebody_walks(spec)),
        { heeds_spotter: false }
    ),
    erring!(
        "takes-as-found",
        PitchOutside,
        |spec| crewed(spec).and_then(|()| pitch_outside(spec)),
        { sets_pitch: false }
    ),
    erring!(
        "leaves-the-setting",
        WrongSetting,
        |spec| crewed(spec).and_then(|()| ask(spec.not_set_for().is_some(), "unfit-set")),
        { sets_size: false }
    ),
    erring!(
        "skips-the-walk-round",
        FaultMissed,
        |spec| crewed(spec).and_then(|()| fault_to_find(spec)),
        { walks_round: false }
    ),
    erring!(
        "no-zone",
        ZoneInadequate,
        |spec| workable(spec).and_then(|()| ask(zone_to_set(spec).is_some(), "unfit-zone-enough")),
        { sets_zone: false }
    ),
    erring!(
        "blows-no-horn",
        NoHorn,
        workable,
        { sounds_horn: false }
    ),
    erring!(
        "holds-at-the-stop",
        NeedlessMotion,
        workable,
        { lets_go_at_stop: false }
    ),
    erring!(
        "dawdles",
        SlowCycle,
        workable,
        { keeps_pace: false }
    ),
    erring!(
        "overloads",
        RackOverloaded,
        |spec| workable(spec).and_then(|()| loads(spec)).and_then(|()| over_plate(spec)),
        { minds_plate: false }
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

/// A line that the whole cycle can be run on as it is set out, or with a hung stick to be freed.
fn workable(spec: &LineSpec) -> Applies {
    crewed(spec)?;
    let pitches = End::BOTH.map(|end| Rig::new(spec).rail(end).pitch_rad);
    ask(
        pitches[0].max(pitches[1]) <= PITCH_NEVER_ABOVE.value,
        "unfit-too-steep",
    )?;
    ask(spec.not_set_for().is_none(), "unfit-not-set")?;
    ask(
        End::BOTH
            .iter()
            .all(|&end| spec.faults.rail(end).pins_are_sound()),
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

fn crossed(spec: &LineSpec) -> Applies {
    let crossed = Motion::ALL
        .iter()
        .any(|&motion| spec.faults.motion(motion).crossed);
    ask(crossed, "unfit-motions-sound")
}

fn pitch_outside(spec: &LineSpec) -> Applies {
    let usual = PITCH_MIN.value..=PITCH_MAX.value;
    let pitches = [spec.rack.near_rail.pitch_rad, spec.rack.far_rail.pitch_rad];
    let outside = pitches.iter().any(|pitch_rad| !usual.contains(pitch_rad));
    ask(outside, "unfit-pitch-sound")
}

fn fault_to_find(spec: &LineSpec) -> Applies {
    ask(!walk_round(spec).is_empty(), "unfit-nothing-to-find")
}

fn over_plate(spec: &LineSpec) -> Applies {
    let row_n: f64 = spec.sticks.iter().map(|s| s.pipe.weight_n()).sum();
    let brought_n = spec
        .loader
        .zip(spec.sticks.last())
        .map_or(0.0, |(loader, last)| {
            loader.sticks as f64 * last.pipe.weight_n()
        });
    ask(
        row_n + brought_n > spec.rack.rated_load_n,
        "unfit-plate-enough",
    )
}
