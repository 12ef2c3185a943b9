//! The loader, the people and the exclusion zone.

use super::super::Scenario;
use super::super::check::Findings;
use super::super::raw::File;
use super::{TOUCH_M, at_most_m, least_in_cm_m, report, warn};
use crate::domain::loader::{braking_limit_m_per_s2, capacity_at};
use crate::domain::math::deg;
use crate::domain::plan::{self, FORK_WIDTH_M, Footprint, Steel};
use crate::domain::rig::Rig;
use crate::domain::spec::{Duty, LoaderSpec, PersonSpec, Place, StickSpec};
use crate::domain::zone::{AREA_MIN_M2, CONES_APART_M, SITE_M, Zone, ZoneFault};
use crate::texts::Message;

/// Sticks of a run, on the rack and from the loader.
const MOST_STICKS: usize = 12;
/// People on the site, points of a path, and cones: no real site has more.
const MOST_PEOPLE: usize = 20;
const MOST_WAYPOINTS: usize = 50;
const MOST_CONES: usize = 40;
/// Forks reach under so much of a stick's diameter at least (two operators' training guides; no
/// clause of a standard).
const FORK_PART_OF_DIAMETER: f64 = 2.0 / 3.0;

pub(super) fn check(file: &File, scenario: &Scenario, rig: &Rig, findings: &mut Findings) {
    if let (Some(loader), Some(last)) = (&scenario.line.loader, scenario.line.sticks.last()) {
        sticks_in_all(scenario, loader, findings);
        forks(scenario, loader, last, findings);
        fork_length(loader, last, findings);
        capacity(loader, last, findings);
        braking(scenario, loader, findings);
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
        let what = Message::new("fault-sticks-in-all")
            .with("row", row)
            .with("sticks", loader.sticks);
        let allowed = Message::new("allowed-sticks-in-all")
            .with("all", MOST_STICKS)
            .with("most", MOST_STICKS.saturating_sub(row));
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
    let mut what = Message::new("fault-forks-apart")
        .measured("spread", loader.fork_spread_m, 2)
        .measured("room", room_m, 2);
    if off_m > 0.0 {
        what = Message::new("fault-forks-off")
            .with("what", what)
            .measured("off", off_m, 2);
    }
    let allowed = if most_m > 0.0 {
        at_most_m(most_m)
    } else {
        Message::new("allowed-forks")
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
        let what = Message::new("warning-capacity")
            .measured("mass", mass_kg, 0)
            .measured("before", load_centre_m, 2)
            .measured("carries", carries_kg, 0);
        warn(findings, "loader.capacity_kg", what);
    }
}

/// Forks so short that a stick lies on their tips: a warning.
fn fork_length(loader: &LoaderSpec, last: &StickSpec, findings: &mut Findings) {
    if !findings.is_sure_of(&["loader.fork_length_m", "pipe.size", "row"]) {
        return;
    }
    let diameter_m = last.pipe.outside_diameter_m;
    let least_m = FORK_PART_OF_DIAMETER * diameter_m;
    if loader.fork_length_m + TOUCH_M < least_m {
        let what = Message::new("warning-fork-length")
            .measured("length", loader.fork_length_m, 2)
            .measured("pipe", diameter_m, 2)
            .measured("least", least_in_cm_m(least_m), 2);
        warn(findings, "loader.fork_length_m", what);
    }
}

/// Braking at which a stick leaves the forks' face: a warning.
fn braking(scenario: &Scenario, loader: &LoaderSpec, findings: &mut Findings) {
    let (braking, tilt, fall) = (
        "loader.braking_m_per_s2",
        "loader.back_tilt_deg",
        "ground.cross_fall_deg",
    );
    if !findings.is_sure_of(&[braking, tilt, fall]) {
        return;
    }
    // It drives down the rack towards the line.
    let fall_rad = scenario.line.ground.cross_fall_rad;
    let most_m_per_s2 = braking_limit_m_per_s2(loader.back_tilt_rad - fall_rad);
    if loader.braking_m_per_s2 <= most_m_per_s2 {
        return;
    }
    let mut braked = Message::new("warning-braking")
        .with("braking", loader.braking_m_per_s2)
        .measured("tilt", deg(loader.back_tilt_rad), 1);
    if fall_rad != 0.0 {
        braked = Message::new(if fall_rad > 0.0 {
            "warning-on-falling-ground"
        } else {
            "warning-on-rising-ground"
        })
        .with("what", braked)
        .measured("fall", deg(fall_rad.abs()), 1);
    }
    let what = if most_m_per_s2 > 0.0 {
        Message::new("warning-leaves-face")
            .with("what", braked)
            .measured("from", most_m_per_s2, 2)
    } else {
        Message::new("warning-never-at-face").with("what", braked)
    };
    // Said of what the file itself gives.
    let given = [braking, tilt, fall]
        .into_iter()
        .find(|path| findings.is_given(path));
    warn(findings, given.unwrap_or(braking), what);
}

fn people(scenario: &Scenario, rig: &Rig, findings: &mut Findings) {
    let people = &scenario.line.people;
    if people.len() > MOST_PEOPLE {
        let what = Message::new("fault-people").with("people", people.len());
        report(findings, "people", what, and_fewer(MOST_PEOPLE));
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
            let what = Message::new("fault-path").with("points", person.path.len());
            let allowed = and_fewer(MOST_WAYPOINTS);
            report(findings, &format!("{path}.path"), what, allowed);
        } else if is_steel_known {
            way(person, &path, &steel, findings);
        }
    }
}

fn and_fewer(most: usize) -> Message {
    Message::new("allowed-and-fewer").with("most", most)
}

/// One person has the controls, and one says stop.
fn single_duty(duty: Duty, seen: &[Duty], path: &str, findings: &mut Findings) {
    let what = match duty {
        Duty::Operator => "fault-second-operator",
        Duty::Spotter => "fault-second-spotter",
        _ => return,
    };
    if seen.contains(&duty) {
        let path = format!("{path}.duty");
        report(findings, &path, what, Message::new("allowed-one"));
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
        let what =
            Message::new("fault-place-in-steel").with("steel", Message::new(part.steel.id()));
        let allowed = Message::new("allowed-place").with("extent", extent(part));
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
                let what = Message::new("fault-way-through-steel")
                    .with("steel", Message::new(part.steel.id()));
                let allowed = Message::new("allowed-way").with("extent", extent(part));
                report(findings, &format!("{item}.x_m"), what, allowed);
            }
        }
        from = to;
    }
}

fn extent(part: &Footprint) -> Message {
    Message::new("extent")
        .measured("x_from", part.x_from_m, 2)
        .measured("x_to", part.x_to_m, 2)
        .measured("z_from", part.z_from_m, 2)
        .measured("z_to", part.z_to_m, 2)
}

fn zone(cones: &[Place], findings: &mut Findings) {
    if cones.is_empty() || !findings.is_sure_of(&["zone"]) {
        return;
    }
    if cones.len() > MOST_CONES {
        let (what, allowed) = number_of_cones(cones.len());
        report(findings, "zone.cones", what, allowed);
        return;
    }
    let Err(fault) = Zone::new(cones) else {
        return;
    };
    let (cone, (what, allowed)) = match fault {
        ZoneFault::TooFew { cones } => (None, number_of_cones(cones)),
        ZoneFault::OffSite { cone, .. } => {
            let allowed = Message::new("allowed-on-site").with("site", SITE_M);
            (Some(cone), (Message::new("fault-cone-off-site"), allowed))
        }
        ZoneFault::TooNear { cones, apart_m } => {
            let what = Message::new("fault-cone-near")
                .measured("apart", apart_m, 2)
                .with("cone", cones[0]);
            let allowed = Message::new("allowed-cones-apart").with("least", CONES_APART_M);
            (Some(cones[1]), (what, allowed))
        }
        ZoneFault::Crosses {
            edges: [one, other],
        } => {
            let what = Message::new("fault-cones-cross")
                .with("cone", other[1])
                .with("from", one[0])
                .with("to", one[1]);
            let allowed = Message::new("allowed-cones-in-order");
            (Some(other[0]), (what, allowed))
        }
        ZoneFault::TooSmall { area_m2 } => {
            let what = Message::new("fault-zone-small").measured("area", area_m2, 2);
            let allowed = Message::new("allowed-zone-area").with("least", AREA_MIN_M2);
            (None, (what, allowed))
        }
    };
    let path = match cone {
        Some(cone) => format!("zone.cones[{cone}]"),
        None => "zone.cones".to_owned(),
    };
    report(findings, &path, what, allowed);
}

/// What is said of a number of cones that no zone has, and what is allowed.
fn number_of_cones(cones: usize) -> (Message, Message) {
    (
        Message::new("fault-cones").with("cones", cones),
        Message::new("allowed-cones").with("most", MOST_CONES),
    )
}
