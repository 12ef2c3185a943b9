//! The loader, the people and the exclusion zone.

use super::super::Scenario;
use super::super::check::Findings;
use super::super::raw::File;
use super::machine::steel_name;
use super::{TOUCH_M, most_in_cm_m, report, warn};
use crate::domain::loader::capacity_at;
use crate::domain::plan::{self, FORK_WIDTH_M, Footprint, Steel};
use crate::domain::rig::Rig;
use crate::domain::spec::{Duty, LoaderSpec, PersonSpec, Place, StickSpec};

/// Sticks of a run, on the rack and from the loader.
const MOST_STICKS: usize = 12;
/// People on the site, points of a path, and cones: no real site has more.
const MOST_PEOPLE: usize = 20;
const MOST_WAYPOINTS: usize = 50;
const MOST_CONES: usize = 40;
/// Cones closer than this stand on one spot, m.
const SAME_SPOT_M: f64 = 0.01;

pub(super) fn check(file: &File, scenario: &Scenario, rig: &Rig, findings: &mut Findings) {
    if let (Some(loader), Some(last)) = (&scenario.line.loader, scenario.line.sticks.last()) {
        sticks_in_all(scenario, loader, findings);
        forks(scenario, loader, last, findings);
        capacity(loader, last, findings);
    }
    // Those who are there unasked stand where they may.
    if file.people.is_some() {
        people(scenario, rig, findings);
    }
    if file.zone.cones.is_some() {
        zone(&scenario.line.zone.cones, findings);
    }
}

fn sticks_in_all(scenario: &Scenario, loader: &LoaderSpec, findings: &mut Findings) {
    if !findings.is_sure_of(&["row.sticks", "loader.sticks"]) {
        return;
    }
    let row = scenario.line.sticks.len();
    if row + loader.sticks > MOST_STICKS {
        let what = format!("a row of {row} and {} from the loader", loader.sticks);
        let most = MOST_STICKS.saturating_sub(row);
        let allowed = format!("{MOST_STICKS} in all, so 0 to {most}");
        report(findings, "loader.sticks", what, allowed);
    }
}

/// The forks go down between the rails.
fn forks(scenario: &Scenario, loader: &LoaderSpec, last: &StickSpec, findings: &mut Findings) {
    if !findings.is_sure_of(&[
        "loader",
        "row",
        "pipe.length_m",
        "rack.rail_spacing_m",
        "rack.rail_width_m",
    ]) {
        return;
    }
    let rack = &scenario.line.rack;
    let room_m = rack.rail_spacing_m - rack.rail_width_m;
    let off_m = (last.offset_m + loader.off_middle_m).abs();
    let most_m = room_m - FORK_WIDTH_M - 2.0 * off_m;
    if loader.fork_spread_m <= most_m + TOUCH_M {
        return;
    }
    let mut what = format!(
        "forks {:.2} m apart in a room of {room_m:.2} m between the rails",
        loader.fork_spread_m
    );
    if off_m > 0.0 {
        what += &format!(", {off_m:.2} m off its middle");
    }
    let allowed = if most_m > 0.0 {
        format!("{:.2} m and less", most_in_cm_m(most_m))
    } else {
        "rails further apart, or forks nearer to their middle".to_owned()
    };
    report(findings, "loader.fork_spread_m", what, allowed);
}

/// A stick that is too heavy for the loader: a warning.
fn capacity(loader: &LoaderSpec, last: &StickSpec, findings: &mut Findings) {
    if !findings.is_sure_of(&["loader", "pipe", "row"]) {
        return;
    }
    let load_centre_m = last.pipe.radius_m();
    let carries_kg = capacity_at(loader.capacity_kg, loader.load_centre_m, load_centre_m);
    let mass_kg = last.pipe.mass_kg();
    if mass_kg > carries_kg {
        let what = format!(
            "a stick of {mass_kg:.0} kg, {load_centre_m:.2} m before the forks' face, where they carry {carries_kg:.0} kg"
        );
        warn(findings, "loader.capacity_kg", what);
    }
}

fn people(scenario: &Scenario, rig: &Rig, findings: &mut Findings) {
    let people = &scenario.line.people;
    if people.len() > MOST_PEOPLE {
        let what = format!("{} people", people.len());
        report(findings, "people", what, format!("{MOST_PEOPLE} and fewer"));
        return;
    }
    let steel = plan::steel(rig);
    let is_steel_known = findings.is_sure_of(&[
        "rack",
        "row",
        "pipe.size",
        "pipe.length_m",
        "pipe.ovality_pct",
        "escapement.size_setting",
        "cradles",
        "machine",
        "loader",
    ]);
    let mut seen = Vec::new();
    for (index, person) in people.iter().enumerate() {
        let path = format!("people[{}]", index + 1);
        if findings.is_sure_of(&[&format!("{path}.duty")]) {
            single_duty(person.duty, &seen, &path, findings);
            seen.push(person.duty);
        }
        if person.path.len() > MOST_WAYPOINTS {
            let what = format!("a path of {} points", person.path.len());
            let allowed = format!("{MOST_WAYPOINTS} and fewer");
            report(findings, &format!("{path}.path"), what, allowed);
        } else if is_steel_known {
            way(person, &path, &steel, findings);
        }
    }
}

/// One person has the controls, and one says stop.
fn single_duty(duty: Duty, seen: &[Duty], path: &str, findings: &mut Findings) {
    let name = match duty {
        Duty::Operator => "operator",
        Duty::Spotter => "spotter",
        _ => return,
    };
    if seen.contains(&duty) {
        let what = format!("a second {name}");
        report(findings, &format!("{path}.duty"), what, "one".to_owned());
    }
}

/// Nobody stands or walks where steel is.
fn way(person: &PersonSpec, path: &str, steel: &[Footprint], findings: &mut Findings) {
    let is_in_the_way = |part: &&Footprint| {
        // The driver begins in the loader.
        !(person.duty == Duty::LoaderDriver && part.steel == Steel::Loader)
    };
    let is_known = |findings: &Findings, item: &str| {
        findings.is_sure_of(&[&format!("{item}.x_m"), &format!("{item}.z_m")])
    };
    let mut from = is_known(findings, path).then_some(person.start);
    let inside = from.and_then(|start| {
        steel
            .iter()
            .filter(is_in_the_way)
            .find(|part| part.is_crossed(start, start))
    });
    if let Some(part) = inside {
        let what = format!("this place is in {}", steel_name(part.steel));
        let allowed = format!("a place outside of it, which is {}", extent(part));
        report(findings, &format!("{path}.x_m"), what, allowed);
        // The way from there is not told as well.
        from = None;
    }
    for (index, waypoint) in person.path.iter().enumerate() {
        let item = format!("{path}.path[{}]", index + 1);
        let to = is_known(findings, &item).then_some(waypoint.place);
        if let (Some(from), Some(to)) = (from, to) {
            let met = steel
                .iter()
                .filter(is_in_the_way)
                .find(|part| part.is_crossed(from, to));
            if let Some(part) = met {
                let what = format!("the way there leads through {}", steel_name(part.steel));
                let allowed = format!("a way around it, which is {}", extent(part));
                report(findings, &format!("{item}.x_m"), what, allowed);
            }
        }
        from = to;
    }
}

fn extent(part: &Footprint) -> String {
    format!(
        "x {:.2} to {:.2} m, z {:.2} to {:.2} m",
        part.x_from_m, part.x_to_m, part.z_from_m, part.z_to_m
    )
}

fn zone(cones: &[Place], findings: &mut Findings) {
    if cones.is_empty() || !findings.is_sure_of(&["zone"]) {
        return;
    }
    if let Some(fault) = outline_fault(cones) {
        let path = match fault.cone {
            Some(cone) => format!("zone.cones[{}]", cone + 1),
            None => "zone.cones".to_owned(),
        };
        report(findings, &path, fault.what, fault.allowed);
    }
}

/// Why cones do not enclose a zone.
struct OutlineFault {
    /// Which cone it is about, counted from 0.
    cone: Option<usize>,
    what: String,
    allowed: String,
}

/// What is wrong with cones as the outline of a zone, if anything.
fn outline_fault(cones: &[Place]) -> Option<OutlineFault> {
    let count = cones.len();
    if !(3..=MOST_CONES).contains(&count) {
        return Some(OutlineFault {
            cone: None,
            what: format!("a zone of {count} cones"),
            allowed: format!("3 to {MOST_CONES} cones, or [] for no zone"),
        });
    }
    for (index, cone) in cones.iter().enumerate() {
        let same = |other: &Place| {
            (other.x_m - cone.x_m).abs() < SAME_SPOT_M && (other.z_m - cone.z_m).abs() < SAME_SPOT_M
        };
        if let Some(other) = cones.iter().take(index).position(same) {
            return Some(OutlineFault {
                cone: Some(index),
                what: format!("stands where cone {} does", other + 1),
                allowed: "cones in different places".to_owned(),
            });
        }
    }
    let side = |index: usize| Some((cones.get(index)?, cones.get((index + 1) % count)?));
    for second in 1..count {
        for first in 0..second {
            let (Some((a, b)), Some((c, d))) = (side(first), side(second)) else {
                continue;
            };
            let crosses = if second == first + 1 {
                folds_back(a, b, d)
            } else if first == 0 && second + 1 == count {
                folds_back(c, d, b)
            } else {
                meet(a, b, c, d)
            };
            if crosses {
                return Some(OutlineFault {
                    cone: Some(second),
                    what: format!(
                        "the side from here to cone {} meets that from cone {} to cone {}",
                        (second + 1) % count + 1,
                        first + 1,
                        first + 2
                    ),
                    allowed: "cones in order around the zone".to_owned(),
                });
            }
        }
    }
    None
}

/// Twice the area to the left of the way from `a` by `b` to `c`.
fn turn(a: &Place, b: &Place, c: &Place) -> f64 {
    (b.x_m - a.x_m) * (c.z_m - a.z_m) - (b.z_m - a.z_m) * (c.x_m - a.x_m)
}

/// Whether the way from `a` by `b` to `c` comes back over itself.
fn folds_back(a: &Place, b: &Place, c: &Place) -> bool {
    let ahead = (b.x_m - a.x_m) * (c.x_m - b.x_m) + (b.z_m - a.z_m) * (c.z_m - b.z_m);
    turn(a, b, c).abs() < TOUCH_M && ahead < 0.0
}

/// Whether two sides cross or touch.
fn meet(a: &Place, b: &Place, c: &Place, d: &Place) -> bool {
    let [of_c, of_d] = [turn(a, b, c), turn(a, b, d)];
    let [of_a, of_b] = [turn(c, d, a), turn(c, d, b)];
    if of_c * of_d < 0.0 && of_a * of_b < 0.0 {
        return true;
    }
    let on = |turned: f64, from: &Place, to: &Place, place: &Place| {
        turned == 0.0
            && (from.x_m.min(to.x_m)..=from.x_m.max(to.x_m)).contains(&place.x_m)
            && (from.z_m.min(to.z_m)..=from.z_m.max(to.z_m)).contains(&place.z_m)
    };
    on(of_c, a, b, c) || on(of_d, a, b, d) || on(of_a, c, d, a) || on(of_b, c, d, b)
}
