//! The cradles and the fusion machine, against the rack and the set-out of the trade.

use std::mem::discriminant;

use super::super::Scenario;
use super::super::build::outside_diameter_m;
use super::super::check::Findings;
use super::super::raw::File;
use super::{TOUCH_M, at_least_m, at_most_m, least_in_cm_m, most_in_cm_m, report, source, warn};
use crate::domain::layout::{SetOut, SetOutFinding};
use crate::domain::plan::{self, Beside};
use crate::domain::rig::{End, Rig};
use crate::domain::spec::{Place, StickSpec};
use crate::texts::Message;

/// What places cradles and machine along the line.
const SET_OUT: [&str; 6] = [
    "pipe.length_m",
    "pipe.size",
    "cradles.spacing_m",
    "machine.near_cradle_to_jaws_m",
    "machine.half_length_m",
    "rack.rail_spacing_m",
];

pub(super) fn check(file: &File, scenario: &Scenario, rig: &Rig, findings: &mut Findings) {
    cradles_under_the_sticks(file, scenario, rig, findings);
    cradles_beside_the_rack(rig, findings);
    cradles_above_ground(scenario, rig, findings);
    machine_on_its_own_ground(rig, findings);
    centreline(file, scenario, rig, findings);
    set_out(file, rig, findings);
    set_out_of_odd_lengths(file, scenario, rig, findings);
    sticks_short_of_the_machine(file, scenario, rig, findings);
    side_shift(scenario, findings);
}

/// Cradles must be under the longest stick of the row; one that does not lie on both is warned of.
fn cradles_under_the_sticks(file: &File, scenario: &Scenario, rig: &Rig, findings: &mut Findings) {
    if !findings.is_sure_of(&["pipe.length_m", "cradles.spacing_m", "row"]) {
        return;
    }
    let spacing_m = rig.spec().cradles.spacing_m;
    let sticks = &scenario.line.sticks;
    let longest_m = sticks
        .iter()
        .map(|stick| stick.pipe.length_m)
        .fold(0.0, f64::max);
    let most_m = longest_m - 2.0 * rig.cradle_half_width_m();
    if spacing_m > most_m + TOUCH_M {
        let what = Message::new("fault-cradles-apart")
            .measured("spacing", spacing_m, 2)
            .measured("length", longest_m, 2);
        report(findings, "cradles.spacing_m", what, at_most_m(most_m));
        return;
    }
    let mut told = Vec::new();
    for (index, stick) in sticks.iter().enumerate() {
        let spare_m = spare_over_cradles_m(stick, rig);
        if spare_m - stick.offset_m.abs() >= -TOUCH_M {
            continue;
        }
        let (number, length_m) = (index + 1, stick.pipe.length_m);
        let (path, what) = if spare_m < -TOUCH_M {
            let path = source(file, findings, index, "length_m", "pipe.length_m");
            let what = Message::new("warning-short-of-cradles")
                .with("stick", number)
                .measured("length", length_m, 2);
            (path, what)
        } else {
            let path = source(file, findings, index, "offset_m", "row.offset_m");
            let what = Message::new("warning-off-cradles")
                .with("stick", number)
                .measured("off", stick.offset_m, 2);
            (path, what)
        };
        if !told.contains(&path) {
            warn(findings, &path, what);
            told.push(path);
        }
    }
}

/// How far a stick in the middle reaches past the cradles' faces at either end, m; negative where it
/// does not lie on all of them.
fn spare_over_cradles_m(stick: &StickSpec, rig: &Rig) -> f64 {
    0.5 * (stick.pipe.length_m - rig.spec().cradles.spacing_m) - rig.cradle_half_width_m()
}

/// Cradles that rise where a rail, a pin or a receiver arm stands.
fn cradles_beside_the_rack(rig: &Rig, findings: &mut Findings) {
    if !findings.is_sure_of(&SET_OUT[..3])
        || !findings.is_sure_of(&["cradles", "rack", "escapement"])
    {
        return;
    }
    let spacing_m = rig.spec().cradles.spacing_m;
    let taken = plan::beside_cradles(rig);
    let clash = taken
        .iter()
        .find(|beside| beside.is_in_the_way_at(spacing_m));
    let Some(&Beside {
        id,
        taken_from_m: mut from_m,
        taken_to_m: mut to_m,
    }) = clash
    else {
        return;
    };
    // Out of this one, and out of whatever else is there.
    for _ in &taken {
        for other in &taken {
            if other.taken_from_m < to_m && from_m < other.taken_to_m {
                (from_m, to_m) = (from_m.min(other.taken_from_m), to_m.max(other.taken_to_m));
            }
        }
    }
    let what = Message::new("fault-cradles-rise-into")
        .measured("spacing", spacing_m, 2)
        .with("steel", Message::new(id));
    let allowed = if most_in_cm_m(from_m) > 0.0 {
        Message::new("allowed-less-or-more")
            .with("less", at_most_m(from_m))
            .with("more", at_least_m(to_m))
    } else {
        at_least_m(to_m)
    };
    let (spacing, rails) = ("cradles.spacing_m", "rack.rail_spacing_m");
    if !findings.is_given(spacing) && findings.is_given(rails) {
        let allowed = Message::new("allowed-rails-elsewhere")
            .with("field", spacing)
            .with("allowed", allowed);
        report(findings, rails, what, allowed);
    } else {
        report(findings, spacing, what, allowed);
    }
}

/// Lowered cradles must be above the ground.
fn cradles_above_ground(scenario: &Scenario, rig: &Rig, findings: &mut Findings) {
    if !findings.is_sure_of(&SET_OUT[..3])
        || !findings.is_sure_of(&[
            "cradles.near.offset_mm",
            "cradles.far.offset_mm",
            "rack.toe_height_m",
            "escapement.size_setting",
            "ground",
        ])
    {
        return;
    }
    let line = &scenario.line;
    let over_ground = |end: End| {
        let x_m = line.cradles.column(end).offset_m;
        let z_m = rig.cradle_z_m(end);
        rig.apex_low_m() - line.ground.height_m(Place { x_m, z_m })
    };
    for end in End::BOTH {
        let over_m = over_ground(end);
        if over_m < -TOUCH_M {
            let toe_m = line.rack.toe_height_m;
            let what = Message::new(match end {
                End::Near => "fault-near-cradle-under-ground",
                End::Far => "fault-far-cradle-under-ground",
            })
            .measured("toe", toe_m, 2)
            .measured("under", -over_m, 2);
            let allowed =
                Message::new("allowed-or-less-fall").with("allowed", at_least_m(toe_m - over_m));
            report(findings, "rack.toe_height_m", what, allowed);
            return;
        }
    }
}

/// The machine must not stand on a cradle or on the rack.
fn machine_on_its_own_ground(rig: &Rig, findings: &mut Findings) {
    if !findings.is_sure_of(&SET_OUT)
        || !findings.is_sure_of(&[
            "cradles",
            "rack",
            "escapement.size_setting",
            "row",
            "loader",
        ])
    {
        return;
    }
    let Some(part) = plan::under_machine(rig) else {
        return;
    };
    let half_length_m = rig.spec().machine.half_length_m;
    let what = Message::new("fault-machine-over")
        .measured("over", (part.z_to_m - rig.machine_end_z_m()) * 1e3, 0)
        .with("steel", Message::new(part.steel.id()));
    let allowed = at_least_m(part.z_to_m - rig.cradle_z_m(End::Near) + half_length_m);
    let (jaws, rails) = ("machine.near_cradle_to_jaws_m", "rack.rail_spacing_m");
    if !findings.is_given(jaws) && findings.is_given(rails) {
        let allowed = Message::new("allowed-rails-closer")
            .with("field", jaws)
            .with("allowed", allowed);
        report(findings, rails, what, allowed);
    } else {
        report(findings, jaws, what, allowed);
    }
}

/// The lifts must bring the row's pipe up to the jaws.
fn centreline(file: &File, scenario: &Scenario, rig: &Rig, findings: &mut Findings) {
    let (height, stroke) = ("machine.centreline_m", "cradles.lift_stroke_m");
    if !findings.is_sure_of(&[
        height,
        stroke,
        "rack.toe_height_m",
        "escapement.size_setting",
        "pipe.size",
    ]) {
        return;
    }
    let line = &scenario.line;
    let centreline_m = line.machine.centreline_m;
    let radius_m = 0.5 * outside_diameter_m(file);
    let low_m = rig.apex_low_m() + Rig::seated_over_apex_m(radius_m);
    let high_m = low_m + line.cradles.lift_stroke_m;
    if (low_m - TOUCH_M..=high_m + TOUCH_M).contains(&centreline_m) {
        return;
    }
    let what = Message::new("fault-centreline")
        .measured("height", centreline_m, 2)
        .measured("low", low_m, 2)
        .measured("high", high_m, 2);
    if findings.is_given(height) {
        let allowed = Message::new("allowed-centreline")
            .measured("low", least_in_cm_m(low_m), 2)
            .measured("high", most_in_cm_m(high_m), 2);
        report(findings, height, what, allowed);
    } else {
        report(findings, stroke, what, at_least_m(centreline_m - low_m));
    }
}

/// Where the set-out is not that of the trade: warnings.
fn set_out(file: &File, rig: &Rig, findings: &mut Findings) {
    if !findings.is_sure_of(&SET_OUT[..5]) {
        return;
    }
    for finding in set_out_findings(rig, file.pipe.length_m()) {
        let path = match finding {
            SetOutFinding::SpacingOff { .. } => "cradles.spacing_m",
            _ => "machine.near_cradle_to_jaws_m",
        };
        warn(findings, path, set_out_told(finding));
    }
}

/// The same of sticks of another length than the row's, where the row's own has no such warning.
fn set_out_of_odd_lengths(file: &File, scenario: &Scenario, rig: &Rig, findings: &mut Findings) {
    if !findings.is_sure_of(&SET_OUT[..5]) || !findings.is_sure_of(&["row"]) {
        return;
    }
    let row_length_m = file.pipe.length_m();
    let kinds_of_row: Vec<_> = set_out_findings(rig, row_length_m)
        .iter()
        .map(discriminant)
        .collect();
    for (index, stick) in scenario.line.sticks.iter().enumerate() {
        let length_m = stick.pipe.length_m;
        // Off a cradle it is not set out at all, and that is said already.
        if length_m == row_length_m || spare_over_cradles_m(stick, rig) < -TOUCH_M {
            continue;
        }
        let path = source(file, findings, index, "length_m", "pipe.length_m");
        for finding in set_out_findings(rig, length_m) {
            // How far a stick reaches into the machine is said stick by stick.
            if kinds_of_row.contains(&discriminant(&finding))
                || matches!(finding, SetOutFinding::NoLoadingGap { .. })
            {
                continue;
            }
            let told = set_out_told(finding);
            let told = match finding {
                SetOutFinding::SpacingOff { .. } => {
                    Message::new("warning-cradles").with("what", told)
                }
                _ => told,
            };
            let what = Message::new("warning-of-stick")
                .with("stick", index + 1)
                .measured("length", length_m, 2)
                .with("what", told);
            warn(findings, &path, what);
        }
    }
}

fn set_out_findings(rig: &Rig, stick_length_m: f64) -> Vec<SetOutFinding> {
    let (cradles, machine) = (&rig.spec().cradles, &rig.spec().machine);
    let set_out = SetOut {
        stick_length_m,
        cradle_spacing_m: cradles.spacing_m,
        near_cradle_to_jaws_m: machine.near_cradle_to_jaws_m,
        machine_half_length_m: machine.half_length_m,
    };
    set_out.findings()
}

fn set_out_told(finding: SetOutFinding) -> Message {
    match finding {
        SetOutFinding::SpacingOff {
            spacing_m,
            wanted_m,
        } => Message::new("warning-spacing")
            .measured("spacing", spacing_m, 2)
            .measured("wanted", wanted_m, 2),
        SetOutFinding::NoLoadingGap { gap_m } => {
            Message::new("warning-into-machine").measured("into", -gap_m, 2)
        }
        SetOutFinding::TailShort { overhang_m, .. } if overhang_m < 0.0 => {
            Message::new("warning-tail-off").measured("off", -overhang_m, 2)
        }
        SetOutFinding::TailShort {
            overhang_m,
            needed_m,
        } => Message::new("warning-tail-short")
            .measured("beyond", overhang_m, 2)
            .measured("needed", needed_m, 2),
        SetOutFinding::CentreOfMassOutside { beyond_m } => {
            Message::new("warning-tips").measured("beyond", beyond_m, 2)
        }
    }
}

/// Sticks that lie, or reach, further towards the machine than the row does: warnings.
fn sticks_short_of_the_machine(
    file: &File,
    scenario: &Scenario,
    rig: &Rig,
    findings: &mut Findings,
) {
    if !findings.is_sure_of(&SET_OUT[..5]) || !findings.is_sure_of(&["row"]) {
        return;
    }
    let (end_m, length_m) = (rig.machine_end_z_m(), file.pipe.length_m());
    if 0.5 * length_m > end_m {
        return; // Every stick does; that is said already.
    }
    let mut told = Vec::new();
    for (index, stick) in scenario.line.sticks.iter().enumerate() {
        let into_m = stick.offset_m + 0.5 * stick.pipe.length_m - end_m;
        if into_m <= TOUCH_M {
            continue;
        }
        let (own, shared) = if stick.offset_m > 0.0 {
            ("offset_m", "row.offset_m")
        } else {
            ("length_m", "pipe.length_m")
        };
        let path = source(file, findings, index, own, shared);
        if !told.contains(&path) {
            let what = Message::new("warning-stick-into-machine")
                .with("stick", index + 1)
                .measured("into", into_m, 2);
            warn(findings, &path, what);
            told.push(path);
        }
    }
}

/// Columns that the side-shift cannot bring to the line's centre: warnings.
fn side_shift(scenario: &Scenario, findings: &mut Findings) {
    let cradles = &scenario.line.cradles;
    let to_either_side_m = 0.5 * cradles.shift_range_m;
    for end in End::BOTH {
        let path = format!("cradles.{end}.offset_mm");
        let off_m = cradles.column(end).offset_m;
        if findings.is_sure_of(&[&path, "cradles.shift_range_m"])
            && off_m.abs() > to_either_side_m + TOUCH_M
        {
            let what = Message::new("warning-side-shift")
                .measured("off", off_m.abs() * 1e3, 0)
                .measured("covers", to_either_side_m * 1e3, 0);
            warn(findings, &path, what);
        }
    }
}
