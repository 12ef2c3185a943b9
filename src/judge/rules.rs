//! The rules: which facts of a log are findings. Every rule reads the log and the line as it was run,
//! and names the act that is at fault.

use super::act::{Act, Deed, Part, moves_pipe};
use super::finding::{Finding, Measured};
use super::log::{Noted, Sample};
use super::{Case, time_s};
use crate::domain::envelope::{Adequacy, adequacy_as_set_out};
use crate::domain::finding::FindingKind as Kind;
use crate::domain::fusion::high_low_limit_m;
use crate::domain::limits;
use crate::domain::math::{deg, rad};
use crate::domain::pipe::Pipe;
use crate::domain::rig::End;
use crate::domain::spec::{Item, Motion};
use crate::operator::Ending;
use crate::sim::controls::{Button, Call};
use crate::sim::drive::Way;
use crate::sim::line::{BarFrom, Event, EventKind, PersonId, StickPlace};
use crate::sim::world::{DT_S, StickId};
use crate::texts::Message;
use crate::words;

/// Ticks in a time, s.
pub(super) fn ticks(time_s: f64) -> u64 {
    (time_s / f64::from(DT_S)).round() as u64
}

/// All findings of a case, in the order of their ticks.
pub(super) fn findings(case: &Case) -> Vec<Finding> {
    let mut found = Vec::new();
    for noted in &case.log.events {
        found.extend(of_event(case, noted));
    }
    found.extend(people_in_the_zone(case));
    found.extend(stops_unheeded(case));
    found.extend(stops_too_late(case));
    found.extend(before_the_first_feed(case));
    found.extend(horns(case));
    found.extend(rack_load(case));
    found.extend(tilts(case));
    found.extend(hand_overs(case));
    found.extend(loading(case));
    found.extend(in_vain(case));
    found.extend(slow_cycles(case));
    found.extend(left_live(case));
    found.sort_by_key(|finding| (finding.tick, finding.kind));
    // One act that comes to the same thing several times is told once.
    let mut told: Vec<Finding> = Vec::with_capacity(found.len());
    for finding in found {
        let same = |known: &Finding| {
            known.kind == finding.kind
                && known.act == finding.act
                && known.stick == finding.stick
                && known.person == finding.person
                && known.fact == finding.fact
        };
        if !told.iter().any(same) {
            told.push(finding);
        }
    }
    told
}

fn is_feed(button: Button) -> bool {
    button == Button::Feed
}

/// What follows from a single event.
fn of_event(case: &Case, noted: &Noted) -> Option<Finding> {
    let log = case.log;
    let Event { tick, kind } = noted.event;
    let find = |kind: Kind, fact: Message, act: Act| Finding::of(noted, kind, fact, act);
    let fed = || log.press(tick, is_feed);
    Some(match kind {
        EventKind::Struck {
            by,
            speed_m_per_s,
            person,
            energy_j,
        } => find(
            Kind::Struck,
            Message::new("fact-struck")
                .with("by", words::striker(by))
                .with("person", case.person(person))
                .measured("speed", speed_m_per_s, 2)
                .measured("energy", energy_j, 0),
            log.last_act(tick),
        ),
        EventKind::PassedGate { stick, cycle, open } => {
            let first = case.first_through(cycle) == Some(stick);
            if open && first {
                return None;
            }
            let fact = if open {
                "fact-double-feed"
            } else {
                "fact-over-closed-gate"
            };
            let fact = Message::new(fact).with("stick", words::stick(stick));
            find(Kind::DoubleFeed, fact, fed())
        }
        EventKind::Lost { stick } if !case.fell_before(stick, tick) => find(
            Kind::RollOff,
            Message::new("fact-roll-off").with("stick", words::stick(stick)),
            log.last_act(tick),
        ),
        EventKind::FellFromForks { stick } => find(
            Kind::Dropped,
            Message::new("fact-dropped-from-forks").with("stick", words::stick(stick)),
            log.call(tick, Call::Load),
        ),
        EventKind::Landed {
            stick,
            fall_m_per_s,
        } if fall_m_per_s > limits::DROPPED.value => find(
            Kind::Dropped,
            Message::new("fact-dropped")
                .with("stick", words::stick(stick))
                .measured("speed", fall_m_per_s, 2),
            fed(),
        )
        .measured(fall_m_per_s, limits::DROPPED),
        EventKind::UnderStick { person, stick } => find(
            Kind::UnderStick,
            Message::new("fact-under-stick")
                .with("person", case.person(person))
                .with("stick", words::stick(stick)),
            log.last_act(tick),
        ),
        EventKind::Barred {
            stick,
            from: BarFrom::Below,
        } => find(
            Kind::FromBelow,
            Message::new("fact-from-below").with("stick", words::stick(stick)),
            log.call(tick, Call::BarFromBelow),
        ),
        EventKind::JackedUnderLoad { side } => find(
            Kind::JackUnderLoad,
            Message::new("fact-jack-under-load").with("rail", words::rail(side)),
            log.press(tick, is_jack),
        ),
        EventKind::CycleBegan {
            receiver_lowered_m,
            occupied,
        } if occupied || receiver_lowered_m > UP_M => {
            let fact = if occupied {
                Message::new("fact-fed-occupied")
            } else {
                Message::new("fact-fed-low").measured("low", 1e3 * receiver_lowered_m, 0)
            };
            find(Kind::FedUnready, fact, fed())
        }
        // Whoever stops for somebody lets go of everything; and what runs after the fed stick is
        // another matter.
        EventKind::GateClosedUnder { stick }
            if !case.stop_stands(tick) && !case.another_is_through(stick, tick) =>
        {
            find(
                Kind::LetGoEarly,
                Message::new("fact-let-go-early").with("stick", words::stick(stick)),
                log.last_let_go(tick).unwrap_or_else(|| log.last_act(tick)),
            )
        }
        EventKind::Unclamped { stick } => find(
            Kind::JointRushed,
            Message::new("fact-joint-rushed")
                .with("stick", words::stick(stick))
                .measured("held", case.held_s(stick, tick), 0)
                .measured("joint", case.spec().machine.joint_time_s, 0),
            log.call(tick, Call::Unclamp),
        )
        .against(
            case.held_s(stick, tick),
            case.spec().machine.joint_time_s,
            "s",
        ),
        EventKind::Received {
            stick,
            speed_m_per_s,
            ..
        } => {
            let entry = case.entry_fraction(stick, speed_m_per_s)?;
            if entry <= limits::ENTRY_MAX.value {
                return None;
            }
            find(
                Kind::HardSeat,
                Message::new("fact-hard-entry")
                    .with("stick", words::stick(stick))
                    .measured("speed", speed_m_per_s, 2)
                    .measured("part", 100.0 * entry, 0),
                fed(),
            )
            .measured(entry, limits::ENTRY_MAX)
        }
        EventKind::Lowered {
            stick,
            rocking_m_per_s: speed_m_per_s,
        }
        | EventKind::Seated {
            stick,
            speed_m_per_s,
        } if speed_m_per_s > limits::SEAT_MAX.value => {
            let fact = if matches!(kind, EventKind::Lowered { .. }) {
                "fact-lowered-rocking"
            } else {
                "fact-hard-seat"
            };
            find(
                Kind::HardSeat,
                Message::new(fact)
                    .with("stick", words::stick(stick))
                    .measured("speed", speed_m_per_s, 2),
                log.press(tick, |button| button == Button::ReceiverDown),
            )
            .measured(speed_m_per_s, limits::SEAT_MAX)
        }
        EventKind::RowStruck {
            stick,
            speed_m_per_s,
        } if speed_m_per_s > limits::LANDING_MAX.value => find(
            Kind::RoughLanding,
            Message::new("fact-rough-landing")
                .with("stick", words::stick(stick))
                .measured("speed", speed_m_per_s, 2),
            log.last_act(tick),
        )
        .measured(speed_m_per_s, limits::LANDING_MAX),
        _ => return None,
    })
}

/// The receiver counts as up within this, m.
const UP_M: f64 = 0.005;

fn is_jack(button: Button) -> bool {
    matches!(
        button,
        Button::JackNearUp | Button::JackNearDown | Button::JackFarUp | Button::JackFarDown
    )
}

/// Somebody inside while a stick can move, for longer than it takes to see it and to stop.
fn people_in_the_zone(case: &Case) -> Vec<Finding> {
    let grace = ticks(limits::PERCEPTION_RESPONSE.value);
    let mut found = Vec::new();
    let entered = case.log.each(|kind| match kind {
        EventKind::ZoneEntered { person } => Some(*person),
        _ => None,
    });
    for (noted, person) in entered {
        let from = noted.event.tick;
        let left = case.log.events.iter().find(|other| {
            other.event.tick >= from
                && matches!(other.event.kind, EventKind::ZoneLeft { person: left } if left == person)
        });
        let until = left.map_or(case.log.ticks, |noted| noted.event.tick);
        if until - from <= grace {
            continue;
        }
        let inside_s = time_s(until - from);
        // By then everything should stand.
        let due = from + grace;
        let holds = |act: &Act| matches!(act.deed, Deed::Pressed(button) if case.log.controls_at(due).has(button));
        let act = case.log.last_press(due, moves_pipe).filter(holds);
        let act = act.unwrap_or(Act {
            tick: due,
            deed: Deed::NotIsolated,
        });
        let fact = Message::new("fact-in-zone")
            .with("person", case.person(person))
            .measured("time", inside_s, 1);
        let finding = Finding {
            tick: due,
            ..Finding::of(noted, Kind::InZone, fact, act)
        };
        found.push(finding.measured(inside_s, limits::PERCEPTION_RESPONSE));
    }
    found
}

/// Pipe was moved on after the spotter's stop, beyond the time it takes to hear and to let go.
fn stops_unheeded(case: &Case) -> Vec<Finding> {
    let log = case.log;
    let grace = ticks(limits::PERCEPTION_RESPONSE.value);
    let mut found = Vec::new();
    let said = log.each(|kind| matches!(kind, EventKind::StopSaid).then_some(()));
    for (noted, ()) in said {
        let from = noted.event.tick;
        let over = log
            .events
            .iter()
            .find(|other| other.event.tick > from && other.event.kind == EventKind::StopOver);
        let until = over.map_or(log.ticks, |noted| noted.event.tick);
        let held = |tick: u64| {
            let controls = log.controls_at(tick);
            let powered = !controls.emergency_stop && !controls.isolated;
            let mut buttons = controls.held.iter();
            powered
                .then(|| buttons.find(|&button| moves_pipe(button)))
                .flatten()
        };
        let changes = log.controls.iter().map(|change| change.tick);
        let mut moments = changes
            .filter(|tick| (from + grace..until).contains(tick))
            .chain([from + grace].into_iter().filter(|&tick| tick < until));
        let moved = moments.find_map(|tick| held(tick).map(|button| (tick, button)));
        if let Some((tick, button)) = moved {
            let act = Act {
                tick,
                deed: Deed::Pressed(button),
            };
            let fact = Message::new("fact-stop-unheeded")
                .with("button", words::button(button))
                .measured("time", time_s(tick - from), 1);
            let finding = Finding {
                tick,
                ..Finding::of(noted, Kind::StopUnheeded, fact, act)
            };
            found.push(finding.measured(time_s(tick - from), limits::PERCEPTION_RESPONSE));
        }
    }
    found
}

/// What was left as it was when pipe went for the first time, fed or by itself.
fn before_the_first_feed(case: &Case) -> Vec<Finding> {
    let goes = |noted: &&Noted| {
        matches!(
            noted.event.kind,
            EventKind::CycleBegan { .. } | EventKind::PassedGate { .. }
        )
    };
    let first = case.log.events.iter().find(goes);
    first.map_or_else(Vec::new, |noted| as_found(case, noted))
}

/// Feeds without the horn before them.
fn horns(case: &Case) -> Vec<Finding> {
    let log = case.log;
    if case.spec().people.is_empty() {
        return Vec::new();
    }
    let heard = ticks(limits::HORN_BEFORE.value);
    let sounds = |at: u64| log.controls_at(at).has(Button::Horn);
    let feeds = log.each(|kind| matches!(kind, EventKind::CycleBegan { .. }).then_some(()));
    let mut found = Vec::new();
    for (noted, ()) in feeds {
        let tick = noted.event.tick;
        let from = tick.saturating_sub(heard);
        let changes = log.controls.iter().map(|change| change.tick);
        let mut moments = changes
            .filter(|at| (from..=tick).contains(at))
            .chain([from]);
        if !moments.any(sounds) {
            let act = Act {
                tick,
                deed: Deed::NoHorn,
            };
            found.push(Finding::of(noted, Kind::NoHorn, "fact-no-horn".into(), act));
        }
    }
    found
}

fn left(part: Part) -> Act {
    Act {
        tick: 0,
        deed: Deed::LeftAsFound(part),
    }
}

fn as_found(case: &Case, noted: &Noted) -> Vec<Finding> {
    let (spec, rig) = (case.spec(), &case.rig);
    let mut found = Vec::new();
    if !spec.people.is_empty() {
        let fact = match adequacy_as_set_out(rig) {
            Some(Adequacy::Short { by_m, .. }) => {
                Some(Message::new("fact-zone-short").measured("by", by_m, 1))
            }
            Some(Adequacy::DoesNotStop) => Some("fact-zone-does-not-stop".into()),
            Some(Adequacy::NoZone) => Some("fact-no-zone".into()),
            Some(Adequacy::Covers) | None => None,
        };
        found.extend(
            fact.map(|fact| Finding::of(noted, Kind::ZoneInadequate, fact, left(Part::Zone))),
        );
    }
    let pitch_rad = case
        .sample_at(noted.event.tick)
        .map_or(End::BOTH.map(|end| rig.rail(end).pitch_rad), |sample| {
            sample.pitch_rad.map(f64::from)
        });
    let (low, high) = (limits::PITCH_MIN, limits::PITCH_MAX);
    let outside =
        |pitch_rad: &f64| !(low.value - SETTLED_RAD..=high.value + SETTLED_RAD).contains(pitch_rad);
    if let Some(&worst) = pitch_rad.iter().find(|pitch_rad| outside(pitch_rad)) {
        let limit = if worst < low.value { low } else { high };
        let fact = Message::new("fact-pitch-outside")
            .measured("near", deg(pitch_rad[0]), 1)
            .measured("far", deg(pitch_rad[1]), 1)
            .measured("low", deg(low.value), 0)
            .measured("high", deg(high.value), 0);
        let finding = Finding::of(noted, Kind::PitchOutside, fact, left(Part::Pitch));
        found.push(finding.measured(worst, limit));
    }
    let setting_m = spec.escapement.size_setting_m;
    if let Some(stick) = spec.not_set_for() {
        let pipe_m = stick.pipe.outside_diameter_m;
        let fact = Message::new("fact-wrong-setting")
            .measured("setting", 1e3 * setting_m, 0)
            .measured("pipe", 1e3 * pipe_m, 0);
        let finding = Finding::of(noted, Kind::WrongSetting, fact, left(Part::SizeSetting));
        found.push(finding.against(setting_m, pipe_m, "m"));
    }
    found.extend(faults_left(case, noted));
    found
}

/// Feet settle by a little under every row, rad.
const SETTLED_RAD: f64 = rad(0.1);

/// Faults that a walk-round or a function check finds, and that were there when pipe was fed.
fn faults_left(case: &Case, noted: &Noted) -> Vec<Finding> {
    let faults = &case.spec().faults;
    let tick = noted.event.tick;
    let repaired: Vec<Item> = case
        .log
        .each(|kind| match kind {
            EventKind::Repaired { item } => Some(*item),
            _ => None,
        })
        .filter(|(repair, _)| repair.event.tick <= tick)
        .map(|(_, item)| item)
        .collect();
    let motions = Motion::ALL.map(Item::Motion);
    let rails = End::BOTH.map(Item::Rail);
    let items = motions
        .into_iter()
        .chain(rails)
        .chain([Item::Rollers, Item::Radio]);
    let mut found = Vec::new();
    for item in items.filter(|item| !repaired.contains(item) && faults.shows(*item)) {
        let crossed = matches!(item, Item::Motion(motion) if faults.motion(motion).crossed);
        let (kind, fact) = if crossed {
            (Kind::CrossedAccepted, "fact-crossed-accepted")
        } else {
            (Kind::FaultMissed, "fact-fault-missed")
        };
        let fact = Message::new(fact).with("item", words::item(item));
        let act = Act {
            tick: 0,
            deed: Deed::LeftFault(item),
        };
        found.push(Finding::of(noted, kind, fact, act));
    }
    let mut find = |wrong: bool, fact: Message, part: Part| {
        if wrong {
            found.push(Finding::of(noted, Kind::FaultMissed, fact, left(part)));
        }
    };
    for end in End::BOTH {
        let at_rail = |id: &'static str| Message::new(id).with("rail", words::rail(end));
        let rail = faults.rail(end);
        let pins = rail.gate_missing || rail.separator_missing;
        find(pins, at_rail("fact-pins-missing"), Part::Pins);
        find(
            rail.chock_missing,
            at_rail("fact-chock-missing"),
            Part::Pins,
        );
        let bare = !case.rig.rail(end).foot.padded;
        find(bare, at_rail("fact-foot-bare"), Part::Pads);
        let column = case.spec().cradles.column(end);
        let bare = !column.is_padded();
        let at_end = |id: &'static str| Message::new(id).with("end", words::end(end));
        find(bare, at_end("fact-column-bare"), Part::Pads);
        find(column.is_off(), at_end("fact-column-off"), Part::Machine);
    }
    let defeated = !case.spec().escapement.interlock;
    find(defeated, "fact-interlock-defeated".into(), Part::Interlock);
    found
}

/// Powered motion that went on into the harm, with the danger in sight for longer than it takes to
/// press the emergency stop.
fn stops_too_late(case: &Case) -> Vec<Finding> {
    let log = case.log;
    let grace = ticks(limits::PERCEPTION_RESPONSE.value);
    let mut found = Vec::new();
    for noted in &log.events {
        let Event { tick, kind } = noted.event;
        if !matches!(
            kind,
            EventKind::Struck { .. } | EventKind::UnderStick { .. }
        ) {
            continue;
        }
        let controls = log.controls_at(tick);
        let moving = Motion::ALL
            .into_iter()
            .find(|&motion| controls.asked(motion) != Way::Hold);
        let Some(motion) = moving.filter(|_| !controls.emergency_stop && !controls.isolated) else {
            continue;
        };
        let person = kind.person();
        let seen = log.events.iter().find(|other| {
            let in_sight = match other.event.kind {
                EventKind::ZoneEntered { person: inside } => Some(inside) == person,
                EventKind::StopSaid => true,
                _ => false,
            };
            in_sight && other.event.tick + grace <= tick
        });
        let Some(seen) = seen else { continue };
        let since_s = time_s(tick - seen.event.tick);
        let fact = Message::new("fact-stop-late")
            .with("motion", words::motion(motion))
            .measured("time", since_s, 1);
        let act = log.press(tick, moves_pipe);
        let finding = Finding::of(noted, Kind::StopLate, fact, act);
        found.push(finding.measured(since_s, limits::PERCEPTION_RESPONSE));
    }
    found
}

fn rack_load(case: &Case) -> Option<Finding> {
    let rated_n = case.spec().rack.rated_load_n;
    let over = |sample: &&Sample| f64::from(sample.rack_load_n) > rated_n;
    let sample = case.log.samples.iter().find(over)?;
    let load_n = f64::from(sample.rack_load_n);
    let act = case
        .log
        .last_call(sample.tick, |call| call == Call::Load)
        .unwrap_or_else(|| left(Part::Load));
    let fact = Message::new("fact-rack-overloaded")
        .measured("load", load_n / 1e3, 0)
        .measured("rated", rated_n / 1e3, 0);
    let finding = Finding::at_tick(sample.tick, Kind::RackOverloaded, fact, act);
    Some(finding.against(load_n, rated_n, "N"))
}

/// Every time that a stick in the cradles was tilted beyond the limit, with the most it reached.
fn tilts(case: &Case) -> Vec<Finding> {
    let limit = limits::LIFT_TILT_MAX;
    let mut found: Vec<Finding> = Vec::new();
    let mut peak: Option<(u64, StickId, f64)> = None;
    let mut close = |peak: &mut Option<(u64, StickId, f64)>| {
        let Some((tick, stick, tilt_rad)) = peak.take() else {
            return;
        };
        let act = case.log.press(tick, Button::is_lift);
        let fact = Message::new("fact-lift-tilt")
            .with("stick", words::stick(stick))
            .measured("tilt", deg(tilt_rad), 1)
            .measured("limit", deg(limit.value), 1);
        let finding = Finding::at_tick(tick, Kind::LiftTilt, fact, act);
        found.push(finding.with_stick(stick).measured(tilt_rad, limit));
    };
    for sample in &case.log.samples {
        let over = sample
            .tilt
            .map(|(stick, tilt_rad)| (stick, f64::from(tilt_rad).abs()))
            .filter(|(_, tilt_rad)| *tilt_rad > limit.value);
        match (over, &mut peak) {
            (Some((stick, tilt_rad)), Some((_, same, most))) if *same == stick => {
                *most = most.max(tilt_rad);
            }
            (Some((stick, tilt_rad)), _) => {
                close(&mut peak);
                peak = Some((sample.tick, stick, tilt_rad));
            }
            (None, _) => close(&mut peak),
        }
    }
    close(&mut peak);
    found
}

/// How true a stick was when the jaws took it.
fn hand_overs(case: &Case) -> Vec<Finding> {
    let mut found = Vec::new();
    let clamped = case.log.each(|kind| match *kind {
        EventKind::Clamped {
            stick,
            off_m,
            gap_m,
            long_axis_off_rad,
        } => Some((stick, off_m, gap_m, long_axis_off_rad)),
        _ => None,
    });
    for (noted, (stick, off_m, gap_m, long_axis_off_rad)) in clamped {
        let tick = noted.event.tick;
        let act = |of: fn(Button) -> bool| case.log.press(tick, of);
        let Some(pipe) = case.spec().pipe_of(stick.0) else {
            continue;
        };
        let limit_m = high_low_limit_m(pipe.wall_min_m);
        if off_m > limit_m {
            let fact = Message::new("fact-high-low")
                .with("stick", words::stick(stick))
                .measured("off", 1e3 * off_m, 1)
                .measured("limit", 1e3 * limit_m, 1);
            let finding = Finding::of(noted, Kind::HighLow, fact, act(moves_pipe));
            found.push(finding.against(off_m, limit_m, "m"));
        }
        let limit = limits::LONG_AXIS_MAX;
        if pipe.ovality >= limits::OVAL.value && long_axis_off_rad.abs() > limit.value {
            let fact = Message::new("fact-long-axis-off")
                .with("stick", words::stick(stick))
                .measured("off", deg(long_axis_off_rad.abs()), 0)
                .measured("limit", deg(limit.value), 0);
            let finding = Finding::of(noted, Kind::LongAxisOff, fact, act(moves_pipe));
            found.push(finding.measured(long_axis_off_rad.abs(), limit));
        }
        let limit = limits::GAP_MAX;
        let least_m = limits::GAP_MIN.value;
        if !(least_m..=limit.value).contains(&gap_m) {
            let fact = if gap_m < least_m {
                Message::new("fact-gap-pressed")
            } else {
                Message::new("fact-gap-off")
                    .measured("gap", 1e3 * gap_m, 0)
                    .measured("limit", 1e3 * limit.value, 0)
            };
            let fact = fact.with("stick", words::stick(stick));
            let advance = |button| matches!(button, Button::AdvanceOn | Button::AdvanceBack);
            let finding = Finding::of(noted, Kind::GapOff, fact, act(advance));
            found.push(finding.measured(gap_m, limit));
        }
    }
    found
}

/// Sticks set down on a row without chocks.
fn loading(case: &Case) -> Vec<Finding> {
    let mut chocked = [false; 2];
    let mut found = Vec::new();
    for noted in &case.log.events {
        match noted.event.kind {
            EventKind::ChockSet { side } => chocked[side as usize] = true,
            EventKind::ChockTaken { side } => chocked[side as usize] = false,
            EventKind::SetDown { stick }
                if chocked != [true; 2] && case.rack_holds_others(stick, noted.event.tick) =>
            {
                let tick = noted.event.tick;
                let act = Act {
                    tick: case
                        .log
                        .last_call(tick, |call| call == Call::Load)
                        .map_or(tick, |call| call.tick),
                    deed: Deed::NotChocked,
                };
                let fact = Message::new("fact-loaded-unchocked").with("stick", words::stick(stick));
                found.push(Finding::of(noted, Kind::LoadedUnchocked, fact, act));
            }
            _ => {}
        }
    }
    found
}

/// A motion held where it cannot go, longer in all than a look takes.
fn in_vain(case: &Case) -> Option<Finding> {
    let limit = limits::IN_VAIN_MAX;
    let mut held_s = [0.0; Motion::ALL.len()];
    let mut last = 0;
    for sample in &case.log.samples {
        if let Some(motion) = sample.in_vain {
            let all = &mut held_s[motion as usize];
            *all += time_s(sample.tick - last);
            if *all > limit.value {
                let tick = sample.tick;
                let act = case.log.press(tick, moves_pipe);
                let fact = Message::new("fact-needless-motion")
                    .with("motion", words::motion(motion))
                    .measured("time", *all, 0);
                let finding = Finding::at_tick(tick, Kind::NeedlessMotion, fact, act);
                return Some(finding.measured(*all, limit));
            }
        }
        last = sample.tick;
    }
    None
}

/// Sticks that took longer from the feed to the jaws than the joint leaves.
fn slow_cycles(case: &Case) -> Vec<Finding> {
    let most_s = case.scenario.scoring.handling_time_s;
    let mut found = Vec::new();
    let mut fed = None;
    for noted in &case.log.events {
        match noted.event.kind {
            EventKind::PassedGate { .. } => fed = Some(noted.event.tick),
            EventKind::Clamped { stick, .. } => {
                let Some(from) = fed.take() else { continue };
                let took_s = time_s(noted.event.tick - from);
                if took_s > most_s {
                    let fact = Message::new("fact-slow-cycle")
                        .with("stick", words::stick(stick))
                        .measured("time", took_s, 0)
                        .measured("limit", most_s, 0);
                    let act = Act {
                        tick: from,
                        deed: Deed::Tarried,
                    };
                    let finding = Finding::of(noted, Kind::SlowCycle, fact, act);
                    found.push(finding.against(took_s, most_s, "s"));
                }
            }
            _ => {}
        }
    }
    found
}

/// The run came to its end, and a stick can still move.
fn left_live(case: &Case) -> Option<Finding> {
    let log = case.log;
    let sample = log.samples.last()?;
    let lost = log.places.contains(&StickPlace::Lost);
    if log.ending != Some(Ending::AtRest)
        || !sample.can_move
        || log.controls_at(log.ticks).isolated
        || lost
    {
        return None;
    }
    let act = Act {
        tick: log.ticks,
        deed: Deed::NotIsolated,
    };
    Some(Finding::at_tick(
        log.ticks,
        Kind::LeftLive,
        "fact-left-live".into(),
        act,
    ))
}

impl Case<'_> {
    fn person(&self, person: PersonId) -> Message {
        words::person(person, &self.spec().people)
    }

    /// Whether another stick has gone through in the cycle that a tick is in.
    fn another_is_through(&self, stick: StickId, tick: u64) -> bool {
        let before = self.log.events.iter().rev();
        let in_cycle = before
            .filter(|noted| noted.event.tick <= tick)
            .take_while(|noted| !matches!(noted.event.kind, EventKind::CycleBegan { .. }));
        in_cycle.into_iter().any(|noted| {
            matches!(noted.event.kind, EventKind::PassedGate { stick: other, .. } if other != stick)
        })
    }

    /// Whether the spotter says stop.
    fn stop_stands(&self, tick: u64) -> bool {
        let said = self.log.each(|kind| match kind {
            EventKind::StopSaid => Some(true),
            EventKind::StopOver => Some(false),
            _ => None,
        });
        let before = said.filter(|(noted, _)| noted.event.tick <= tick);
        before.last().is_some_and(|(_, stands)| stands)
    }

    /// The stick that went through first in a cycle of the escapement.
    fn first_through(&self, cycle: u32) -> Option<StickId> {
        let mut through = self.log.each(|kind| match *kind {
            EventKind::PassedGate {
                stick,
                cycle: of,
                open: true,
            } if of == cycle => Some(stick),
            _ => None,
        });
        through.next().map(|(_, stick)| stick)
    }

    /// Whether a stick had been dropped before a tick: then its end on the ground is no roll-off.
    fn fell_before(&self, stick: StickId, tick: u64) -> bool {
        self.log.events.iter().any(|noted| {
            noted.event.tick <= tick
                && match noted.event.kind {
                    EventKind::FellFromForks { stick: fallen } => fallen == stick,
                    EventKind::Landed {
                        stick: fallen,
                        fall_m_per_s,
                    } => fallen == stick && fall_m_per_s > limits::DROPPED.value,
                    _ => false,
                }
        })
    }

    /// For how long the jaws had held a stick, s.
    fn held_s(&self, stick: StickId, tick: u64) -> f64 {
        let clamped = self.log.each(|kind| match *kind {
            EventKind::Clamped { stick: held, .. } if held == stick => Some(()),
            _ => None,
        });
        let last = clamped
            .filter(|(noted, ())| noted.event.tick <= tick)
            .last();
        last.map_or(0.0, |(noted, ())| time_s(tick - noted.event.tick))
    }

    fn sample_at(&self, tick: u64) -> Option<&Sample> {
        let samples = &self.log.samples;
        let after = samples.partition_point(|sample| sample.tick <= tick);
        after.checked_sub(1).and_then(|last| samples.get(last))
    }

    /// Whether other sticks than one lay on the rack.
    fn rack_holds_others(&self, stick: StickId, tick: u64) -> bool {
        let weight_n = self.spec().pipe_of(stick.0).map_or(0.0, Pipe::weight_n);
        self.sample_at(tick)
            .is_some_and(|sample| f64::from(sample.rack_load_n) > 1.5 * weight_n)
    }
}

impl Finding {
    /// As measured against a limit of the trade.
    fn measured(self, value: f64, limit: limits::Limit) -> Self {
        self.against(value, limit.value, limit.unit)
    }

    fn against(mut self, value: f64, limit: f64, unit: &'static str) -> Self {
        self.measured = Some(Measured { value, limit, unit });
        self
    }
}
