//! The rack, its row, the escapement and the receiver.

use super::super::Scenario;
use super::super::check::Findings;
use super::super::raw::{File, Size};
use super::super::scatter::{
    Scatter, beyond_stick_m, least_gap_above_gate_m, least_gap_m, reach_along_m, widest_row,
};
use super::{TOUCH_M, at_least_m, at_most_m, most_in_cm_m, report, source, warn};
use crate::domain::math::deg;
use crate::domain::plan::corners;
use crate::domain::rig::{End, Rig};
use crate::domain::spec::{EscapementKind, Place, StickSpec};
use crate::texts::Message;

/// Least part of a stick's length between the rails; closer, it see-saws on them.
const LEAST_SPACING_OF_LENGTH: f64 = 0.2;
/// Room between the lowered receiver and the ground, m.
const RECEIVER_CLEARANCE_M: f64 = 0.05;
/// Rails set by an inclinometer agree this well, degrees.
const RAIL_AGREEMENT_DEG: f64 = 0.5;
/// How far a stick's diameter may be from a wheel's size, as a part of it.
const WHEEL_FIT: f64 = 0.02;
/// The greatest gap of the first stick in a wheel's notch, as a part of its size.
const WHEEL_GAP: f64 = 0.04;

pub(super) fn check(file: &File, scenario: &Scenario, rig: &Rig, findings: &mut Findings) {
    rails_under_sticks(file, scenario, rig, findings);
    row(file, scenario, rig, findings);
    rack_length(scenario, rig, findings);
    above_ground(scenario, rig, findings);
    receiver(scenario, rig, findings);
    wheel(file, scenario, rig, findings);
    departures(file, scenario, findings);
}

/// A wheel's spokes stand where the row lies: only sticks of its own size, the first one close, fit
/// between them. And it has no pins that could be missing.
fn wheel(file: &File, scenario: &Scenario, rig: &Rig, findings: &mut Findings) {
    if scenario.line.escapement.kind == EscapementKind::PinPair
        || !findings.is_sure_of(&["escapement", "faults", "row", "pipe.size"])
    {
        return;
    }
    let setting_m = scenario.line.escapement.size_setting_m;
    let fits = |stick: &StickSpec| {
        (stick.pipe.outside_diameter_m - setting_m).abs() <= WHEEL_FIT * setting_m
    };
    if let Some(odd) = scenario.line.sticks.iter().position(|stick| !fits(stick)) {
        let path = source(file, findings, odd, "size", "escapement.size_setting");
        let pipe = &scenario.line.sticks[odd].pipe;
        let what = Message::new("fault-wheel-size")
            .with("stick", odd + 1)
            .measured("pipe", pipe.outside_diameter_m * 1e3, 0)
            .measured("wheel", setting_m * 1e3, 0);
        report(findings, &path, what, Message::new("allowed-wheel-size"));
    }
    let most_m = WHEEL_GAP * setting_m;
    if let Some(first) = scenario.line.sticks.first()
        && first.gap_m + scenario.scatter.gap_m > most_m
    {
        let path = source(file, findings, 0, "gap_mm", "row.gap_mm");
        let gap_m = first.gap_m + scenario.scatter.gap_m;
        let what = Message::new("fault-wheel-gap").measured("gap", gap_m * 1e3, 0);
        let allowed = Message::new("allowed-wheel-gap").measured("most", (most_m * 1e3).floor(), 0);
        report(findings, &path, what, allowed);
    }
    for (side, rail) in [(End::Near, "near_rail"), (End::Far, "far_rail")] {
        let faults = rig.faults(side);
        for (missing, pin) in [
            (faults.gate_missing, "gate_missing"),
            (faults.separator_missing, "separator_missing"),
            (faults.gate_stuck, "gate_stuck"),
        ] {
            if missing {
                let path = format!("faults.{rail}.{pin}");
                let allowed = Message::new("allowed-wheel-pins");
                report(findings, &path, "fault-wheel-pins", allowed);
            }
        }
    }
}

fn rails_under_sticks(file: &File, scenario: &Scenario, rig: &Rig, findings: &mut Findings) {
    if !findings.is_sure_of(&["rack.rail_spacing_m", "pipe.length_m", "row"]) {
        return;
    }
    let spacing_m = scenario.line.rack.rail_spacing_m;
    // The receiver's arms stand between the rails and must not meet in the middle.
    let arms_m = spacing_m - 2.0 * (rig.arm_z_m(End::Near) - rig.saddle_half_width_m());
    let mut told = Vec::new();
    for (index, stick) in scenario.line.sticks.iter().enumerate() {
        let length_m = stick.pipe.length_m;
        let least_m = (LEAST_SPACING_OF_LENGTH * length_m).max(arms_m);
        let reach_m = reach_along_m(stick, &scenario.scatter);
        let spare_m = reach_m - 0.5 * spacing_m;
        let (path, what, allowed) = if spare_m <= 0.0 || spacing_m + TOUCH_M < least_m {
            // One fault even if all the sticks suffer from it.
            (
                "rack.rail_spacing_m".to_owned(),
                Message::new("fault-rail-spacing")
                    .measured("spacing", spacing_m, 2)
                    .measured("length", length_m, 2)
                    .with("stick", index + 1),
                Message::new("allowed-rail-spacing")
                    .measured("least", least_m, 2)
                    .measured("less", 2.0 * reach_m, 2),
            )
        } else if stick.offset_m.abs() > spare_m + TOUCH_M {
            (
                source(file, findings, index, "offset_m", "row.offset_m"),
                Message::new("fault-off-rail")
                    .with("stick", index + 1)
                    .measured("off", stick.offset_m, 2),
                Message::new("allowed-on-rails").measured("most", spare_m, 2),
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
fn row(file: &File, scenario: &Scenario, rig: &Rig, findings: &mut Findings) {
    if !findings.is_sure_of(&[
        "row",
        "pipe.size",
        "pipe.length_m",
        "pipe.ovality_pct",
        "rack.rail_spacing_m",
        "rack.rail_width_m",
    ]) {
        return;
    }
    let as_given = Scatter::NONE;
    let mut below: Option<&StickSpec> = None;
    for (index, stick) in scenario.line.sticks.iter().enumerate() {
        let least_m = match below {
            None => least_gap_above_gate_m(stick, rig, &as_given),
            Some(below) => least_gap_m(below, stick, &as_given),
        };
        if stick.gap_m + TOUCH_M < least_m {
            let path = source(file, findings, index, "gap_mm", "row.gap_mm");
            let what = match index {
                0 => Message::new("fault-overlaps-gate"),
                _ => Message::new("fault-overlaps-stick").with("other", index),
            }
            .with("stick", index + 1)
            .measured("yaw", deg(stick.yaw_rad), 2)
            .measured("gap", stick.gap_m * 1e3, 0);
            // Rounded up, so that the number given is enough.
            let allowed = Message::new("allowed-gap").with("least", (least_m * 1e3).ceil());
            report(findings, &path, what, allowed);
        }
        below = Some(stick);
    }
}

fn rack_length(scenario: &Scenario, rig: &Rig, findings: &mut Findings) {
    if !findings.is_sure_of(&[
        "rack.length_m",
        "rack.rail_spacing_m",
        "rack.rail_width_m",
        "row",
        "loader",
        "pipe.size",
        "pipe.length_m",
        "pipe.ovality_pct",
        "escapement.size_setting",
    ]) {
        return;
    }
    let length_m = scenario.line.rack.length_m;
    let least_m = rig.rack_length_for(&widest_row(rig, &scenario.scatter));
    if length_m + TOUCH_M < least_m {
        let sticks = &scenario.line.sticks;
        let mut what = Message::new("fault-rack-short")
            .measured("length", length_m, 2)
            .with("row", sticks.len());
        let mut allowed = at_least_m(least_m);
        if let (Some(loader), Some(last)) = (&scenario.line.loader, sticks.last()) {
            what = Message::new("fault-and-loader")
                .with("what", what)
                .with("sticks", loader.sticks);
            let beyond_m = beyond_stick_m(loader, last);
            if beyond_m > 0.0 {
                what = Message::new("fault-and-forks")
                    .with("what", what)
                    .measured("beyond", beyond_m, 2);
                allowed = Message::new("allowed-or-shorter-forks").with("allowed", allowed);
            }
        }
        report(findings, "rack.length_m", what, allowed);
    }
}

/// The row must lie on the rails, not on ground that rises above them.
fn above_ground(scenario: &Scenario, rig: &Rig, findings: &mut Findings) {
    if !findings.is_sure_of(&["rack", "row", "pipe", "ground", "escapement.size_setting"]) {
        return;
    }
    let line = &scenario.line;
    let half_spacing_m = 0.5 * line.rack.rail_spacing_m;
    // Between two straight rails the extremes are at the corners of what the sticks cover.
    let ends_z_m = [-1.0, 1.0].map(|side| side * row_end_m(scenario));
    let mut least_m = f64::INFINITY;
    for along_m in [0.0, line.rack.length_m] {
        let [near, far] = End::BOTH.map(|side| rig.on_rail(side, along_m, 0.0));
        for z_m in ends_z_m {
            let part = 0.5 * (1.0 + z_m / half_spacing_m);
            let x_m = far.x_m + part * (near.x_m - far.x_m);
            let y_m = far.y_m + part * (near.y_m - far.y_m);
            least_m = least_m.min(y_m - line.ground.height_m(Place { x_m, z_m }));
        }
    }
    if least_m < 0.0 {
        let toe_m = line.rack.toe_height_m;
        let what = Message::new("fault-ground-over-row")
            .measured("toe", toe_m, 2)
            .measured("over", -least_m, 2);
        let allowed =
            Message::new("allowed-or-less-fall").with("allowed", at_least_m(toe_m - least_m));
        report(findings, "rack.toe_height_m", what, allowed);
    }
}

/// How far along the line the row reaches from the middle of the rails, m.
fn row_end_m(scenario: &Scenario) -> f64 {
    scenario
        .line
        .sticks
        .iter()
        .map(|stick| stick.offset_m.abs() + scenario.scatter.offset_m + 0.5 * stick.pipe.length_m)
        .fold(0.0, f64::max)
}

/// The lowered receiver, and the stick on it, must stay off the ground.
fn receiver(scenario: &Scenario, rig: &Rig, findings: &mut Findings) {
    if !findings.is_sure_of(&[
        "rack.toe_height_m",
        "rack.rail_spacing_m",
        "receiver.travel_m",
        "escapement.size_setting",
        "pipe.size",
        "pipe.length_m",
        "row",
        "ground",
    ]) {
        return;
    }
    let line = &scenario.line;
    let (toe_m, travel_m) = (line.rack.toe_height_m, line.receiver.travel_m);
    let room_m = room_under_receiver_m(scenario, rig);
    let lacking_m = RECEIVER_CLEARANCE_M - room_m;
    if lacking_m > TOUCH_M {
        let what = Message::new("fault-no-room-for-receiver")
            .measured("toe", toe_m, 2)
            .measured("travel", travel_m, 2);
        let (toe, travel) = ("rack.toe_height_m", "receiver.travel_m");
        let most_m = travel_m - lacking_m;
        if findings.is_given(travel) && !findings.is_given(toe) && most_in_cm_m(most_m) > 0.0 {
            let allowed = Message::new("allowed-travel").with("allowed", at_most_m(most_m));
            report(findings, travel, what, allowed);
        } else {
            let allowed =
                Message::new("allowed-toe").with("allowed", at_least_m(toe_m + lacking_m));
            report(findings, toe, what, allowed);
        }
    }
}

/// Room between the lowered receiver with a stick on it and the ground, m.
fn room_under_receiver_m(scenario: &Scenario, rig: &Rig) -> f64 {
    let line = &scenario.line;
    let travel_m = line.receiver.travel_m;
    let arm_m = rig.arm_z_m(End::Near).abs() + rig.saddle_half_width_m();
    let plates = rig.saddle(travel_m);
    let under_plates = plates.iter().flat_map(corners).flat_map(|(x_m, y_m)| {
        [-arm_m, arm_m].map(|z_m| y_m - line.ground.height_m(Place { x_m, z_m }))
    });
    let stick_y_m = rig.seat_height_m - travel_m - rig.setting_radius_m;
    let end_m = row_end_m(scenario);
    let under_stick =
        [-end_m, end_m].map(|z_m| stick_y_m - line.ground.height_m(Place { x_m: 0.0, z_m }));
    under_plates
        .chain(under_stick)
        .fold(f64::INFINITY, f64::min)
}

/// What can be tried but is not how it is done: warnings.
fn departures(file: &File, scenario: &Scenario, findings: &mut Findings) {
    let rack = &scenario.line.rack;
    let apart_deg = deg(rack.near_rail.pitch_rad - rack.far_rail.pitch_rad).abs();
    if apart_deg > RAIL_AGREEMENT_DEG {
        let what = Message::new("warning-pitches-apart").measured("apart", apart_deg, 1);
        warn(findings, "rack", what);
    }
    let setting = file.escapement.size_setting;
    if let (Some(setting), Some(size)) = (setting, file.pipe.size)
        && setting != size
    {
        let as_written = |size: Size| format!("{size:?}").replace(".0)", ")");
        let what = Message::new("warning-size-setting")
            .with("setting", as_written(setting))
            .with("pipe", as_written(size));
        warn(findings, "escapement.size_setting", what);
    }
    if !scenario.line.escapement.interlock {
        warn(findings, "escapement.interlock", "warning-interlock");
    }
    slipperiness(scenario, findings);
    rated_load(scenario, findings);
}

/// The weight of the row and of what the loader brings, against the rack's plate.
fn rated_load(scenario: &Scenario, findings: &mut Findings) {
    if !findings.is_sure_of(&["pipe", "row", "loader.sticks", "rack.rated_load_kn"]) {
        return;
    }
    let line = &scenario.line;
    let more = line.loader.map_or(0, |loader| loader.sticks);
    let brought = line.sticks.last().into_iter().cycle().take(more);
    let sticks = line.sticks.iter().chain(brought);
    let load_n: f64 = sticks.map(|stick| stick.pipe.weight_n()).sum();
    if load_n > line.rack.rated_load_n {
        let what = Message::new("warning-rated-load")
            .measured("load", load_n / 1e3, 0)
            .measured("rated", line.rack.rated_load_n / 1e3, 0);
        warn(findings, "rack.rated_load_kn", what);
    }
}

/// A surface that is slipperier by its name and rougher by its number.
fn slipperiness(scenario: &Scenario, findings: &mut Findings) {
    let contact = &scenario.line.contact;
    let slipperier = [
        (
            "contact.friction_wet",
            contact.friction_wet,
            contact.friction_dry,
            "dry-steel",
        ),
        (
            "contact.friction_frosted",
            contact.friction_frosted,
            contact.friction_wet,
            "wet-steel",
        ),
        (
            "contact.friction_glazed",
            contact.friction_glazed,
            contact.friction_frosted,
            "frosted-steel",
        ),
        (
            "contact.friction_rubber_wet",
            contact.friction_rubber_wet,
            contact.friction_rubber_dry,
            "dry-rubber",
        ),
        (
            "contact.friction_rubber_frosted",
            contact.friction_rubber_frosted,
            contact.friction_rubber_wet,
            "wet-rubber",
        ),
        (
            "contact.friction_rubber_glazed",
            contact.friction_rubber_glazed,
            contact.friction_rubber_frosted,
            "frosted-rubber",
        ),
    ];
    for (path, friction, rougher, name) in slipperier {
        if friction > rougher {
            let what = Message::new("warning-slipperiness")
                .with("friction", friction)
                .with("rougher", rougher)
                .with("surface", Message::new(name));
            warn(findings, path, what);
        }
    }
}
