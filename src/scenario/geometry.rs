//! Whether the fields fit together: rules that no single field can break.

use super::Scenario;
use super::build::{OddWall, least_rack_length_m, width_on_slope_m};
use super::check::Findings;
use super::fault::Finding;
use super::raw::{File, RATIOS};
use crate::domain::math::{deg, tan};
use crate::domain::spec::StickSpec;

/// Least part of a stick's length between the rails; closer, it see-saws on them.
const LEAST_SPACING_OF_LENGTH: f64 = 0.2;
/// Height the receiver's arms need between the saddle and the ground when down, m.
const RECEIVER_CLEARANCE_M: f64 = 0.1;
/// Rails set by an inclinometer agree this well, degrees.
const RAIL_AGREEMENT_DEG: f64 = 0.5;
/// Lengths closer than this are taken for equal, m.
const TOUCH_M: f64 = 1e-6;

pub(super) fn check(file: &File, scenario: &Scenario, findings: &mut Findings) {
    overrides(file, findings);
    rails_under_sticks(file, scenario, findings);
    row(file, scenario, findings);
    rack_length(scenario, findings);
    receiver(scenario, findings);
    departures(file, scenario, findings);
}

/// Reports the walls that no pipe of their size has.
pub(super) fn walls(file: &File, odd: &[OddWall], findings: &mut Findings) {
    let mut told = Vec::new();
    for OddWall { stick, wall } in odd {
        let path = source(file, findings, *stick, "wall", "pipe.wall");
        if told.contains(&path) || !findings.is_sure_of(&[&path, "pipe.size", "row"]) {
            continue;
        }
        let nominal_mm = wall.nominal_diameter_m * 1e3;
        let wall_mm = wall.wall_min_m * 1e3;
        let ratio = nominal_mm / wall_mm;
        let what =
            format!("a wall of {wall_mm:.1} mm in a pipe of {nominal_mm:.1} mm is DR {ratio:.1}");
        let (least, most) = RATIOS;
        let allowed = format!(
            "{:.1} to {:.1} mm, which is DR {most} to {least}",
            (nominal_mm / most * 10.0).ceil() / 10.0,
            (nominal_mm / least * 10.0).floor() / 10.0
        );
        report(findings, &path, what, allowed);
        told.push(path);
    }
}

fn report(findings: &mut Findings, path: &str, what: String, allowed: String) {
    let at = findings.place(path);
    findings.fault(Finding::new(at, path, what).allowed(allowed));
}

fn warn(findings: &mut Findings, path: &str, what: String) {
    let at = findings.place(path);
    findings.warnings.push(Finding::new(at, path, what));
}

/// The field that a property of a stick comes from: its override where that gives one.
fn source(file: &File, findings: &Findings, stick: usize, own: &str, shared: &str) -> String {
    let index = file.row.overrides.iter().position(|item| {
        item.stick
            .is_some_and(|number| number as usize == stick + 1)
    });
    index
        .map(|index| format!("row.overrides[{}].{own}", index + 1))
        .filter(|path| findings.is_given(path))
        .unwrap_or_else(|| shared.to_owned())
}

fn overrides(file: &File, findings: &mut Findings) {
    if !findings.is_sure_of(&["row"]) {
        return;
    }
    let sticks = file.row.sticks();
    let mut seen = Vec::new();
    for (index, item) in file.row.overrides.iter().enumerate() {
        let Some(number) = item.stick else { continue };
        let path = format!("row.overrides[{}].stick", index + 1);
        if number > sticks {
            let what = format!("stick {number} of a row of {sticks}");
            report(findings, &path, what, format!("1 to {sticks}"));
        } else if seen.contains(&number) {
            let what = format!("stick {number} has an override already");
            report(findings, &path, what, "one for each stick".to_owned());
        }
        seen.push(number);
    }
}

fn rails_under_sticks(file: &File, scenario: &Scenario, findings: &mut Findings) {
    if !findings.is_sure_of(&["rack.rail_spacing_m", "pipe.length_m", "row"]) {
        return;
    }
    let spacing_m = scenario.line.rack.rail_spacing_m;
    let mut told = Vec::new();
    for (index, stick) in scenario.line.sticks.iter().enumerate() {
        let length_m = stick.pipe.length_m;
        let least_m = LEAST_SPACING_OF_LENGTH * length_m;
        let spare_m = 0.5 * (length_m - spacing_m);
        let (path, what, allowed) = if spacing_m >= length_m || spacing_m < least_m {
            // One fault even if all the sticks suffer from it.
            (
                "rack.rail_spacing_m".to_owned(),
                format!(
                    "rails {spacing_m:.2} m apart under a stick of {length_m:.2} m (number {})",
                    index + 1
                ),
                format!("{least_m:.2} m and more, and less than {length_m:.2} m"),
            )
        } else if stick.offset_m.abs() > spare_m + TOUCH_M {
            (
                source(file, findings, index, "offset_m", "row.offset_m"),
                format!(
                    "stick {} is {:.2} m off the middle and misses a rail",
                    index + 1,
                    stick.offset_m
                ),
                format!("-{spare_m:.2} to {spare_m:.2} m with these rails"),
            )
        } else {
            continue;
        };
        if !told.contains(&path) {
            report(findings, &path, what, allowed);
            told.push(path);
        }
    }
}

/// Skewed sticks must clear the gate and each other over all of their length.
fn row(file: &File, scenario: &Scenario, findings: &mut Findings) {
    if !findings.is_sure_of(&["row", "pipe.length_m", "rack.rail_spacing_m"]) {
        return;
    }
    let half_spacing_m = 0.5 * scenario.line.rack.rail_spacing_m;
    let mut below: Option<&StickSpec> = None;
    for (index, stick) in scenario.line.sticks.iter().enumerate() {
        let least_gap_m = match below {
            // The gate's pins or wheels stand on the rails.
            None => half_spacing_m * tan(stick.yaw_rad).abs() + stick.offset_m * tan(stick.yaw_rad),
            Some(below) => skew_gap_m(below, stick),
        };
        if stick.gap_m + TOUCH_M < least_gap_m {
            let path = source(file, findings, index, "gap_mm", "row.gap_mm");
            let neighbour = if index == 0 {
                "the gate".to_owned()
            } else {
                format!("stick {index}")
            };
            let what = format!(
                "stick {}, skewed by {:.2} deg, overlaps {neighbour} with a gap of {:.0} mm",
                index + 1,
                deg(stick.yaw_rad),
                stick.gap_m * 1e3
            );
            // Rounded up, so that the number given is enough.
            let allowed = format!("{} mm and more for this stick", (least_gap_m * 1e3).ceil());
            report(findings, &path, what, allowed);
        }
        below = Some(stick);
    }
}

/// Gap, as if none were skewed, with which the upper stick just clears the lower one.
fn skew_gap_m(lower: &StickSpec, upper: &StickSpec) -> f64 {
    let end = |stick: &StickSpec, side: f64| stick.offset_m + side * 0.5 * stick.pipe.length_m;
    // Where along the line both are.
    let from_m = end(lower, -1.0).max(end(upper, -1.0));
    let to_m = end(lower, 1.0).min(end(upper, 1.0));
    if from_m >= to_m {
        return 0.0;
    }
    let rise = |stick: &StickSpec, z_m: f64| (z_m - stick.offset_m) * tan(stick.yaw_rad);
    let lost = |z_m: f64| rise(lower, z_m) - rise(upper, z_m);
    lost(from_m).max(lost(to_m))
}

fn rack_length(scenario: &Scenario, findings: &mut Findings) {
    if !findings.is_sure_of(&[
        "rack.length_m",
        "rack.rail_spacing_m",
        "row",
        "pipe.size",
        "pipe.ovality_pct",
    ]) {
        return;
    }
    let rack = &scenario.line.rack;
    let sticks = &scenario.line.sticks;
    let least_m = least_rack_length_m(sticks, rack.rail_spacing_m);
    if rack.length_m + TOUCH_M < least_m {
        let row_m: f64 = sticks.iter().map(width_on_slope_m).sum();
        let what = format!(
            "a rack of {:.2} m is too short for a row of {} ({row_m:.2} m of pipe, with its gaps, above the gate)",
            rack.length_m,
            sticks.len()
        );
        let allowed = format!("{:.2} m and more", (least_m * 100.0).ceil() / 100.0);
        report(findings, "rack.length_m", what, allowed);
    }
}

fn receiver(scenario: &Scenario, findings: &mut Findings) {
    if !findings.is_sure_of(&["rack.toe_height_m", "receiver.travel_m"]) {
        return;
    }
    let toe_m = scenario.line.rack.toe_height_m;
    let travel_m = scenario.line.receiver.travel_m;
    let least_m = travel_m + RECEIVER_CLEARANCE_M;
    if toe_m + TOUCH_M < least_m {
        let what = format!(
            "a toe {toe_m:.2} m high leaves no room for a receiver that travels {travel_m:.2} m"
        );
        let (toe, travel) = ("rack.toe_height_m", "receiver.travel_m");
        if findings.is_given(travel) && !findings.is_given(toe) {
            let most_m = toe_m - RECEIVER_CLEARANCE_M;
            let allowed = format!("{most_m:.2} m and less at that height");
            report(findings, travel, what, allowed);
        } else {
            let allowed = format!("{least_m:.2} m and more with that travel");
            report(findings, toe, what, allowed);
        }
    }
}

/// What can be tried but is not how it is done: warnings.
fn departures(file: &File, scenario: &Scenario, findings: &mut Findings) {
    let rack = &scenario.line.rack;
    let apart_deg = deg(rack.near_rail.pitch_rad - rack.far_rail.pitch_rad).abs();
    if apart_deg > RAIL_AGREEMENT_DEG {
        let what = format!("the rails' pitches are {apart_deg:.1} deg apart; they are set alike");
        warn(findings, "rack", what);
    }
    let setting = file.escapement.size_setting;
    if let (Some(setting), Some(size)) = (setting, file.pipe.size)
        && setting != size
    {
        let what = format!("set for {setting:?}, and the pipe is {size:?}");
        warn(
            findings,
            "escapement.size_setting",
            what.replace(".0)", ")"),
        );
    }
    if !scenario.line.escapement.interlock {
        let what = "the interlock with the receiver is defeated".to_owned();
        warn(findings, "escapement.interlock", what);
    }
    let contact = &scenario.line.contact;
    let slipperier = [
        (
            "contact.friction_wet",
            contact.friction_wet,
            contact.friction_dry,
            "dry",
        ),
        (
            "contact.friction_frosted",
            contact.friction_frosted,
            contact.friction_wet,
            "wet",
        ),
        (
            "contact.friction_glazed",
            contact.friction_glazed,
            contact.friction_frosted,
            "frosted",
        ),
    ];
    for (path, friction, rougher, name) in slipperier {
        if friction > rougher {
            let what = format!("{friction} is more than the {rougher} of {name} steel");
            warn(findings, path, what);
        }
    }
}
