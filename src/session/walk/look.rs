//! What is seen of a thing from close by: what eyes, hands and a radio check honestly show, no more.

use super::holes::{hole_for, stamped};
use super::instruments::{level_reading_rad, rule_reading_m};
use super::thing::{Thing, rail};
use crate::domain::limits::OVAL;
use crate::domain::math::{deg, rad};
use crate::domain::pipe::SizeSystem;
use crate::domain::rig::End;
use crate::domain::spec::{Coupler, EscapementKind, LineSpec, Motion};
use crate::domain::zone::Zone;
use crate::texts::Message;
use crate::words;

/// A column that leans less looks upright, rad (ours).
const LOOKS_UPRIGHT_RAD: f64 = rad(1.0);
/// A level or a rule that shows less shows nothing, rad and m.
const NOTHING_RAD: f64 = rad(0.05);
const NOTHING_M: f64 = 0.001;

/// What tells more than the eye.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Aids {
    /// The string is stretched along the line's centre.
    pub string: bool,
    /// The rack is still empty.
    pub open: bool,
}

/// What is seen of a thing.
pub fn look(thing: Thing, line: &LineSpec, aids: Aids) -> Vec<Message> {
    let faults = &line.faults;
    let either = |wrong: bool, bad: &'static str, good: &'static str| {
        vec![Message::new(if wrong { bad } else { good })]
    };
    match thing {
        Thing::Size => vec![match hole_for(line.escapement.size_setting_m) {
            Some(hole) => Message::new("look-size").with("size", stamped(hole)),
            None => Message::new("look-size-between"),
        }],
        Thing::Interlock => either(
            !line.escapement.interlock,
            "look-interlock-bridged",
            "look-interlock-sound",
        ),
        Thing::Plate => {
            let rated_kn = line.rack.rated_load_n / 1e3;
            vec![Message::new("look-plate").measured("rated", rated_kn, 0)]
        }
        Thing::Pins(side) => pins(line, side),
        Thing::GateDrive(side) => either(
            faults.rail(side).gate_late_s > 0.0,
            "look-gate-drive-kinked",
            "look-gate-drive-sound",
        ),
        Thing::Surface(side) => {
            let surface = words::surface(rail(line, side).surface);
            vec![Message::new("look-surface").with("surface", surface)]
        }
        Thing::Chock(side) => either(
            faults.rail(side).chock_missing,
            "look-chock-missing",
            "look-chock-there",
        ),
        Thing::Gauge(_) => vec!["look-gauge".into()],
        Thing::RailFoot(side) => either(
            !rail(line, side).foot.padded,
            "look-foot-bare",
            "look-foot-padded",
        ),
        Thing::Column(end) => column(line, end, aids),
        Thing::ColumnFeet(end) => {
            let column = line.cradles.column(end);
            let bare = [column.rack_foot, column.outer_foot].map(|foot| !foot.padded);
            vec![Message::new(match bare {
                [false, false] => "look-feet-padded",
                [true, true] => "look-feet-bare",
                [true, false] => "look-feet-rack-bare",
                [false, true] => "look-feet-outer-bare",
            })]
        }
        Thing::Hoses(motion) => hoses(line, motion),
        Thing::Rollers => either(
            faults.roller_seized,
            "look-rollers-seized",
            "look-rollers-sound",
        ),
        Thing::Cradles => vec!["look-cradles".into()],
        Thing::Machine => vec!["look-machine".into()],
        Thing::Radio => either(faults.radio_dead, "look-radio-dead", "look-radio-sound"),
        Thing::Cones => vec![match Zone::new(&line.zone.cones) {
            Ok(zone) => {
                let gap = zone.widest_gap();
                Message::new("look-cones")
                    .with("cones", zone.cones().len())
                    .with("from", gap.cones[0])
                    .with("to", gap.cones[1])
                    .measured("gap", gap.width_m, 0)
            }
            Err(fault) => words::zone_fault(&fault),
        }],
        Thing::Stick(stick) => pipe(line, stick, aids),
    }
}

fn pins(line: &LineSpec, side: End) -> Vec<Message> {
    let faults = line.faults.rail(side);
    if line.escapement.kind == EscapementKind::StarWheel {
        let stuck = faults.gate_stuck;
        return vec![
            if stuck {
                "look-wheel-stuck"
            } else {
                "look-wheel"
            }
            .into(),
        ];
    }
    let mut seen: Vec<Message> = Vec::new();
    let mut see = |shows: bool, id: &'static str| {
        if shows {
            seen.push(id.into());
        }
    };
    see(faults.gate_missing, "look-gate-missing");
    see(faults.gate_stuck && !faults.gate_missing, "look-gate-stuck");
    see(faults.separator_missing, "look-separator-missing");
    see(faults.pins_are_sound(), "look-pins-sound");
    seen
}

fn hoses(line: &LineSpec, motion: Motion) -> Vec<Message> {
    let faults = line.faults.motion(motion);
    let mut seen: Vec<Message> = Vec::new();
    match faults.coupler {
        Coupler::Latched => {}
        Coupler::Half => seen.push("look-coupler-half".into()),
        Coupler::Off => seen.push("look-coupler-off".into()),
    }
    if faults.creep_m_per_s > 0.0 {
        let rollers = matches!(motion, Motion::Advance | Motion::Turn);
        let id = if rollers {
            "look-brake-worn"
        } else {
            "look-oil"
        };
        seen.push(id.into());
    }
    if seen.is_empty() {
        seen.push("look-hoses-sound".into());
    }
    seen
}

/// By the eye, by the level held to it and, where it is stretched, by the string.
fn column(line: &LineSpec, end: End, aids: Aids) -> Vec<Message> {
    let column = line.cradles.column(end);
    let by_eye = if column.lean_rad.abs() < LOOKS_UPRIGHT_RAD {
        "look-column-upright"
    } else if column.lean_rad > 0.0 {
        "look-column-leans-out"
    } else {
        "look-column-leans-in"
    };
    let level_rad = level_reading_rad(column.lean_rad);
    let by_level = if level_rad.abs() < NOTHING_RAD {
        Message::new("look-level-plumb")
    } else {
        Message::new(if level_rad > 0.0 {
            "look-level-out"
        } else {
            "look-level-in"
        })
        .measured("lean", deg(level_rad.abs()), 1)
    };
    let mut seen = vec![by_eye.into(), by_level];
    if aids.string {
        let off_m = rule_reading_m(column.offset_m);
        seen.push(if off_m.abs() < NOTHING_M {
            Message::new("look-string-middle")
        } else {
            Message::new(if off_m > 0.0 {
                "look-string-out"
            } else {
                "look-string-in"
            })
            .measured("off", 1e3 * off_m.abs(), 0)
        });
    }
    seen
}

/// The print line, and what was measured and marked at acceptance.
fn pipe(line: &LineSpec, stick: usize, aids: Aids) -> Vec<Message> {
    let Some(spec) = line.sticks.get(stick) else {
        return Vec::new();
    };
    let pipe = &spec.pipe;
    let printed = Message::new("look-stick")
        .measured("diameter", 1e3 * pipe.outside_diameter_m, 0)
        .measured("ratio", pipe.dimension_ratio(), 1)
        .measured("length", pipe.length_m, 2);
    let size: Option<SizeSystem> = hole_for(pipe.outside_diameter_m);
    let mut seen = match size {
        Some(size) => vec![printed.with("size", stamped(size))],
        None => vec![printed.with("size", Message::new("size-odd"))],
    };
    let oval = Message::new("look-oval").measured("ovality", 100.0 * pipe.ovality, 1);
    seen.push(if pipe.ovality < OVAL.value {
        Message::new("look-round")
    } else if aids.open {
        oval
    } else {
        Message::new("look-oval-lies")
            .measured("ovality", 100.0 * pipe.ovality, 1)
            .measured("angle", deg(spec.long_axis_rad), 0)
    });
    seen
}
