//! What was set before pipe moved: as it was found, as it was set, and as it should be.

use crate::domain::envelope::{Adequacy, adequacy_as_set_out};
use crate::domain::limits::{PITCH_MAX, PITCH_MIN};
use crate::domain::math::{deg, rad};
use crate::domain::rig::{End, Rig};
use crate::domain::set_out::{Setting, usual_machine, usual_spacing_m};
use crate::domain::spec::LineSpec;
use crate::session::walk::Thing;
use crate::texts::Message;
use crate::words;

/// Feet settle by a little under every row, rad.
const SETTLED_RAD: f64 = rad(0.1);
/// How exactly cradles and machine stand where they usually do, m (ours, what a tape over twelve metres
/// and a forklift give).
const PLACED_M: f64 = 0.05;

/// How a setting stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Standing {
    Right,
    Wrong,
    /// Not as usual, which may have its reason.
    Unusual,
}

/// One thing that is set.
#[derive(Clone, Debug, PartialEq)]
pub struct Row {
    pub name: Message,
    pub found: Message,
    pub set: Message,
    pub right: Message,
    pub standing: Standing,
}

impl Standing {
    fn of(is_right: bool) -> Self {
        if is_right { Self::Right } else { Self::Wrong }
    }
}

/// Everything that is set; `found` is the line before its set-out, `set` the line as it was run.
pub fn rows(found: &LineSpec, set: &LineSpec) -> Vec<Row> {
    let mut rows: Vec<Row> = End::BOTH
        .into_iter()
        .map(|rail| pitch(found, set, rail))
        .collect();
    rows.extend(size(found, set));
    rows.push(cradles(found, set));
    rows.push(machine(found, set));
    rows.extend(zone(found, set));
    rows.push(load(found, set));
    let things = Thing::all(found).into_iter();
    rows.extend(
        things
            .filter(|thing| thing.remedy().is_some())
            .filter(|thing| thing.is_faulty(found) || thing.is_faulty(set))
            .map(|thing| fault(found, set, thing)),
    );
    rows
}

fn measure(unit: &'static str, value: f64, digits: usize) -> Message {
    Message::new(unit).measured("value", value, digits)
}

fn pitch(found: &LineSpec, set: &LineSpec, rail: End) -> Row {
    let of = |line: &LineSpec| match rail {
        End::Near => line.rack.near_rail.pitch_rad,
        End::Far => line.rack.far_rail.pitch_rad,
    };
    let (low, high) = (PITCH_MIN.value, PITCH_MAX.value);
    let pitch_rad = of(set);
    Row {
        name: words::setting(&Setting::Pitch { rail, pitch_rad }),
        found: measure("paper-degrees", deg(of(found)), 1),
        set: measure("paper-degrees", deg(pitch_rad), 1),
        right: Message::new("paper-degrees-within")
            .measured("low", deg(low), 0)
            .measured("high", deg(high), 0),
        standing: Standing::of((low - SETTLED_RAD..=high + SETTLED_RAD).contains(&pitch_rad)),
    }
}

fn size(found: &LineSpec, set: &LineSpec) -> Option<Row> {
    let pipe = &set.sticks.first()?.pipe;
    let of =
        |line: &LineSpec| measure("paper-millimetres", 1e3 * line.escapement.size_setting_m, 0);
    Some(Row {
        name: "setting-size".into(),
        found: of(found),
        set: of(set),
        right: measure("paper-millimetres", 1e3 * pipe.outside_diameter_m, 0),
        standing: Standing::of(set.not_set_for().is_none()),
    })
}

fn placed(name: &'static str, found_m: f64, set_m: f64, usual_m: f64) -> Row {
    let metres = |value: f64| measure("paper-metres", value, 2);
    Row {
        name: name.into(),
        found: metres(found_m),
        set: metres(set_m),
        right: metres(usual_m),
        standing: if (set_m - usual_m).abs() <= PLACED_M {
            Standing::Right
        } else {
            Standing::Unusual
        },
    }
}

fn cradles(found: &LineSpec, set: &LineSpec) -> Row {
    let (found_m, set_m) = (found.cradles.spacing_m, set.cradles.spacing_m);
    placed("setting-cradles", found_m, set_m, usual_spacing_m(set))
}

fn machine(found: &LineSpec, set: &LineSpec) -> Row {
    placed(
        "paper-machine",
        found.machine.near_cradle_to_jaws_m,
        set.machine.near_cradle_to_jaws_m,
        usual_machine(set).near_cradle_to_jaws_m,
    )
}

/// Without anybody on the site nothing is asked of the zone.
fn zone(found: &LineSpec, set: &LineSpec) -> Option<Row> {
    let adequacy = adequacy_as_set_out(&Rig::new(set)).filter(|_| !set.people.is_empty())?;
    let cones = |line: &LineSpec| Message::new("paper-cones").with("cones", line.zone.cones.len());
    let now = cones(set);
    Some(Row {
        name: "setting-zone".into(),
        found: cones(found),
        set: match adequacy {
            Adequacy::Covers => now,
            Adequacy::Short { by_m, .. } => Message::new("paper-zone-short")
                .with("cones", now)
                .measured("by", by_m, 1),
            Adequacy::DoesNotStop => Message::new("paper-zone-endless").with("cones", now),
            Adequacy::NoZone => "paper-no-zone".into(),
        },
        right: "paper-zone-right".into(),
        standing: Standing::of(adequacy == Adequacy::Covers),
    })
}

fn load(found: &LineSpec, set: &LineSpec) -> Row {
    let load_n = |line: &LineSpec| {
        let weights = line.sticks.iter().map(|stick| stick.pipe.weight_n());
        weights.sum::<f64>()
    };
    let kilonewtons = |value_n: f64| measure("paper-kilonewtons", value_n / 1e3, 0);
    Row {
        name: "paper-load".into(),
        found: kilonewtons(load_n(found)),
        set: kilonewtons(load_n(set)),
        right: Message::new("paper-at-most").with("value", kilonewtons(set.rack.rated_load_n)),
        standing: Standing::of(load_n(set) <= set.rack.rated_load_n),
    }
}

fn fault(found: &LineSpec, set: &LineSpec, thing: Thing) -> Row {
    let (was, is) = (thing.is_faulty(found), thing.is_faulty(set));
    let word = |faulty: bool| {
        if faulty {
            "paper-faulty"
        } else {
            "paper-sound"
        }
    };
    Row {
        name: thing.name(set),
        found: word(was).into(),
        set: match (was, is) {
            (true, false) => "paper-put-right",
            (true, true) => "paper-left-faulty",
            _ => word(is),
        }
        .into(),
        right: "paper-sound".into(),
        standing: Standing::of(!is),
    }
}
