//! Who can be put at the pendant: the expert, and people who make one realistic mistake each. Each
//! says from the facts of a line whether they apply to it.

use super::worker::{Frees, Habits, LetsGo, Worker, walk_round, zone_to_set};
use super::{Feeder, Operator};
use crate::domain::finding::FindingKind;
use crate::domain::limits::{PITCH_MAX, PITCH_MIN, PITCH_NEVER_ABOVE};
use crate::domain::rig::{End, Rig};
use crate::domain::spec::{Duty, EscapementKind, LineSpec, Motion};

/// Somebody of the roster.
pub struct Member {
    /// Name on the command line and in recordings.
    pub name: &'static str,
    /// What they do, in a sentence.
    pub does: &'static str,
    /// The finding that this habit leads to; None for those without one.
    pub finding: Option<FindingKind>,
    /// Whether they apply to a line as they have set it out, and why not.
    applies: fn(&LineSpec) -> Result<(), String>,
    make: fn() -> Box<dyn Operator>,
}

impl Member {
    /// # Errors
    /// Why this operator is of no use on this line as found; `open` says whether the rack is still
    /// empty.
    pub fn applies(&self, as_found: &LineSpec, open: bool) -> Result<(), String> {
        let set_out = self.operator().set_out(as_found, open);
        let line = set_out.applied(as_found, open);
        (self.applies)(&line.map_err(|fault| fault.to_string())?)
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
    ($name:literal, $does:literal, $finding:ident, $applies:expr, { $($habit:ident: $value:expr),* $(,)? }) => {
        Member {
            name: $name,
            does: $does,
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
        does: "Sets the line out, checks every motion, clears the line, and runs the whole cycle, looking at the stick before each next move.",
        finding: None,
        applies: workable,
        make: || Box::new(Worker::new(Habits::SOUND)),
    },
    Member {
        name: "feeder",
        does: "Feeds one stick and watches what comes of it; touches nothing else.",
        finding: None,
        applies: |_| Ok(()),
        make: || Box::new(Feeder::default()),
    },
    erring!(
        "lets-go-early",
        "Lets go of feed as soon as the stick moves: the gate comes up under it.",
        LetGoEarly,
        |spec| workable(spec).and_then(|()| pins(spec)),
        { lets_go: LetsGo::Early }
    ),
    erring!(
        "feeds-too-soon",
        "Feeds the next stick while the one before still lies in the cradles.",
        FedUnready,
        |spec| workable(spec).and_then(|()| defeated(spec)).and_then(|()| row_of_two(spec)),
        { waits_its_turn: false }
    ),
    erring!(
        "forgets-the-receiver",
        "Feeds the next stick with the receiver still down.",
        FedUnready,
        |spec| workable(spec).and_then(|()| defeated(spec)).and_then(|()| row_of_two(spec)),
        { raises_receiver: false }
    ),
    erring!(
        "lowers-at-once",
        "Lowers while the stick still rocks in the receiver.",
        HardSeat,
        workable,
        { waits_for_still: false }
    ),
    erring!(
        "one-end-first",
        "Lifts the near end all the way up before the far one.",
        LiftTilt,
        workable,
        { raises_together: false }
    ),
    erring!(
        "by-eye",
        "Lifts both ends once, by eye, and trims nothing.",
        HighLow,
        |spec| workable(spec).and_then(|()| oval(spec)),
        { trims: false, looks_at_end: false }
    ),
    erring!(
        "never-turns",
        "Leaves the long axis of an oval stick as it lies.",
        LongAxisOff,
        |spec| workable(spec).and_then(|()| oval(spec)),
        { turns: false }
    ),
    erring!(
        "advances-low",
        "Advances before the stick is raised to the centreline.",
        NeedlessMotion,
        workable,
        { raises_first: false, looks_at_end: false }
    ),
    erring!(
        "into-the-string",
        "Holds advance until the stick is against the string.",
        GapOff,
        workable,
        { stops_short: false }
    ),
    erring!(
        "rushes-the-joint",
        "Has the jaws opened at half the joint's time.",
        JointRushed,
        workable,
        { leaves_joint: false }
    ),
    erring!(
        "calls-nobody-out",
        "Neither calls people out of the line nor heeds the spotter.",
        InZone,
        |spec| workable(spec).and_then(|()| somebody_walks(spec)),
        { clears: false, heeds_spotter: false }
    ),
    erring!(
        "bars-from-below",
        "Has a hung stick levered from below, with feed held.",
        FromBelow,
        |spec| crewed(spec).and_then(|()| hung(spec)).and_then(|()| rigger(spec)),
        { frees: Frees::FromBelow }
    ),
    erring!(
        "jacks-under-load",
        "Cranks the jacks under a hung stick, with feed held.",
        JackUnderLoad,
        |spec| crewed(spec).and_then(|()| hung(spec)),
        { frees: Frees::ByJacking }
    ),
    erring!(
        "trusts-the-arrows",
        "Tries no motion before pipe moves.",
        CrossedAccepted,
        |spec| workable(spec).and_then(|()| crossed(spec)),
        { checks: false }
    ),
    erring!(
        "loads-unchocked",
        "Has the loader set sticks down on a row without chocks.",
        LoadedUnchocked,
        |spec| workable(spec).and_then(|()| loads(spec)),
        { chocks_for_loading: false }
    ),
    erring!(
        "leaves-it-live",
        "Walks away after the first stick, without isolating the line.",
        LeftLive,
        |spec| workable(spec).and_then(|()| row_of_two(spec)),
        { secures: false }
    ),
    erring!(
        "heeds-no-spotter",
        "Calls everybody out once, and then does not hear the spotter's stop.",
        StopUnheeded,
        |spec| workable(spec).and_then(|()| somebody_walks(spec)),
        { heeds_spotter: false }
    ),
    erring!(
        "takes-as-found",
        "Takes the rack's pitch as it was found.",
        PitchOutside,
        |spec| crewed(spec).and_then(|()| pitch_outside(spec)),
        { sets_pitch: false }
    ),
    erring!(
        "leaves-the-setting",
        "Leaves the escapement set for the last job's pipe.",
        WrongSetting,
        |spec| crewed(spec).and_then(|()| ask(!set_for_pipe(spec), "the escapement is set for this pipe")),
        { sets_size: false }
    ),
    erring!(
        "skips-the-walk-round",
        "Feeds without a walk round the line.",
        FaultMissed,
        |spec| crewed(spec).and_then(|()| fault_to_find(spec)),
        { walks_round: false }
    ),
    erring!(
        "no-zone",
        "Feeds with the cones as they happen to stand, or with none.",
        ZoneInadequate,
        |spec| workable(spec).and_then(|()| ask(zone_to_set(spec).is_some(), "the zone reaches far enough")),
        { sets_zone: false }
    ),
    erring!(
        "blows-no-horn",
        "Feeds without sounding the horn.",
        NoHorn,
        workable,
        { sounds_horn: false }
    ),
    erring!(
        "holds-at-the-stop",
        "Holds the receiver's button on when the receiver is down.",
        NeedlessMotion,
        workable,
        { lets_go_at_stop: false }
    ),
    erring!(
        "dawdles",
        "Leaves the first stick in the cradles and does something else.",
        SlowCycle,
        workable,
        { keeps_pace: false }
    ),
    erring!(
        "overloads",
        "Has the loader bring all its sticks, whatever the rack's plate says.",
        RackOverloaded,
        |spec| workable(spec).and_then(|()| loads(spec)).and_then(|()| over_plate(spec)),
        { minds_plate: false }
    ),
];

type Applies = Result<(), String>;

fn ask(holds: bool, why_not: &str) -> Applies {
    if holds {
        Ok(())
    } else {
        Err(why_not.to_owned())
    }
}

fn has(spec: &LineSpec, duty: Duty) -> bool {
    spec.people.iter().any(|person| person.duty == duty)
}

fn crewed(spec: &LineSpec) -> Applies {
    ask(
        has(spec, Duty::Technician),
        "there is no technician to clamp a stick",
    )
}

fn rigger(spec: &LineSpec) -> Applies {
    ask(has(spec, Duty::Rigger), "there is no rigger")
}

/// A line that the whole cycle can be run on as it is set out, or with a hung stick to be freed.
fn workable(spec: &LineSpec) -> Applies {
    crewed(spec)?;
    let pitches = End::BOTH.map(|end| Rig::new(spec).rail(end).pitch_rad);
    ask(
        pitches[0].max(pitches[1]) <= PITCH_NEVER_ABOVE.value,
        "the rack is steeper than it may ever be, and pipe lies on it",
    )?;
    ask(
        set_for_pipe(spec),
        "the escapement is not set for this pipe, and pipe lies on the rack",
    )?;
    ask(
        !End::BOTH.iter().any(|&end| {
            let faults = spec.faults.rail(end);
            faults.gate_missing || faults.separator_missing || faults.gate_stuck
        }),
        "pins are missing or stuck, and pipe lies on the rack",
    )?;
    if hung(spec).is_ok() {
        ask(
            spec.loader.is_some() && has(spec, Duty::Rigger),
            "a stick that hangs needs a rigger and a loader to be freed",
        )?;
    }
    Ok(())
}

fn set_for_pipe(spec: &LineSpec) -> bool {
    let setting_m = spec.escapement.size_setting_m;
    let mut sticks = spec.sticks.iter();
    sticks.all(|s| (s.pipe.outside_diameter_m / setting_m - 1.0).abs() < 0.02)
}

fn pins(spec: &LineSpec) -> Applies {
    ask(
        spec.escapement.kind == EscapementKind::PinPair,
        "a wheel goes on to its next notch by itself",
    )
}

fn defeated(spec: &LineSpec) -> Applies {
    ask(
        !spec.escapement.interlock,
        "the interlock refuses to feed then",
    )
}

fn row_of_two(spec: &LineSpec) -> Applies {
    ask(spec.sticks.len() > 1, "there is only one stick")
}

fn oval(spec: &LineSpec) -> Applies {
    ask(
        spec.sticks.iter().any(|s| s.pipe.ovality >= 0.01),
        "the pipe is as good as round",
    )
}

fn somebody_walks(spec: &LineSpec) -> Applies {
    ask(
        spec.people.iter().any(|person| !person.path.is_empty()),
        "nobody walks anywhere",
    )
}

fn loads(spec: &LineSpec) -> Applies {
    ask(
        spec.loader.is_some_and(|loader| loader.sticks > 0),
        "the loader brings nothing",
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
    ask(holds, "every stick rolls by itself on this rack")
}

fn crossed(spec: &LineSpec) -> Applies {
    let crossed = Motion::ALL
        .iter()
        .any(|&motion| spec.faults.motion(motion).crossed);
    ask(crossed, "every motion goes with its arrow")
}

fn pitch_outside(spec: &LineSpec) -> Applies {
    let usual = PITCH_MIN.value..=PITCH_MAX.value;
    let pitches = [spec.rack.near_rail.pitch_rad, spec.rack.far_rail.pitch_rad];
    let outside = pitches.iter().any(|pitch_rad| !usual.contains(pitch_rad));
    ask(outside, "the rack's pitch is as it should be")
}

fn fault_to_find(spec: &LineSpec) -> Applies {
    ask(!walk_round(spec).is_empty(), "a walk round finds nothing")
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
        "the rack takes all the loader brings",
    )
}
