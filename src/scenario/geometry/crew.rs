//! The loader, the people and the exclusion zone.

use super::super::Scenario;
use super::super::check::Findings;
use super::super::raw::File;
use super::machine::steel_name;
use super::{TOUCH_M, least_in_cm_m, most_in_cm_m, report, warn};
use crate::domain::loader::{braking_limit_m_per_s2, capacity_at};
use crate::domain::math::deg;
use crate::domain::plan::{self, FORK_WIDTH_M, Footprint, Steel};
use crate::domain::rig::Rig;
use crate::domain::spec::{Duty, LoaderSpec, PersonSpec, Place, StickSpec};
use crate::domain::zone::{AREA_MIN_M2, CONES_APART_M, SITE_M, Zone, ZoneFault};

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

/// Forks so short that a stick lies on their tips: a warning.
fn fork_length(loader: &LoaderSpec, last: &StickSpec, findings: &mut Findings) {
    if !findings.is_sure_of(&["loader.fork_length_m", "pipe.size", "row"]) {
        return;
    }
    let diameter_m = last.pipe.outside_diameter_m;
    let least_m = FORK_PART_OF_DIAMETER * diameter_m;
    if loader.fork_length_m + TOUCH_M < least_m {
        let what = format!(
            "{:.2} m under a stick of OD {diameter_m:.2} m: common practice is two thirds of the diameter, {:.2} m, and more",
            loader.fork_length_m,
            least_in_cm_m(least_m)
        );
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
    let mut what = format!(
        "braking at {} m/s² with the forks tilted back by {:.1} deg",
        loader.braking_m_per_s2,
        deg(loader.back_tilt_rad)
    );
    if fall_rad != 0.0 {
        let way = if fall_rad > 0.0 { "falls" } else { "rises" };
        what += &format!(
            " on ground that {way} {:.1} deg towards the line",
            deg(fall_rad.abs())
        );
    }
    what += &if most_m_per_s2 > 0.0 {
        format!(": from {most_m_per_s2:.2} m/s² a stick leaves the forks' face")
    } else {
        ": a stick does not stay at the forks' face even without".to_owned()
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
            let allowed = format!("both within {SITE_M} m of the line's middle");
            (Some(cone), ("is not on the site".to_owned(), allowed))
        }
        ZoneFault::TooNear { cones, apart_m } => {
            let what = format!("stands {apart_m:.2} m from cone {}", cones[0]);
            let allowed = format!("{CONES_APART_M} m and more between cones");
            (Some(cones[1]), (what, allowed))
        }
        ZoneFault::Crosses {
            edges: [one, other],
        } => {
            let what = format!(
                "the side from here to cone {} meets that from cone {} to cone {}",
                other[1], one[0], one[1]
            );
            let allowed = "cones in order around the zone".to_owned();
            (Some(other[0]), (what, allowed))
        }
        ZoneFault::TooSmall { area_m2 } => {
            let what = format!("a zone of {area_m2:.2} m²");
            (None, (what, format!("{AREA_MIN_M2} m² and more")))
        }
    };
    let path = match cone {
        Some(cone) => format!("zone.cones[{cone}]"),
        None => "zone.cones".to_owned(),
    };
    report(findings, &path, what, allowed);
}

/// What is said of a number of cones that no zone has, and what is allowed.
fn number_of_cones(cones: usize) -> (String, String) {
    (
        format!("a zone of {cones} cones"),
        format!("3 to {MOST_CONES} cones, or [] for no zone"),
    )
}
