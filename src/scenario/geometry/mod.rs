//! Whether the fields fit together: rules that no single field can break.

mod crew;
mod machine;
mod rack;

use super::Scenario;
use super::build::OddWall;
use super::check::Findings;
use super::fault::Finding;
use super::raw::File;
use super::table::range;
use crate::domain::error::DomainError;
use crate::domain::plan::TOUCH_M;
use crate::domain::rig::Rig;
use crate::texts::{Filling, Message};

pub(super) fn check(file: &File, scenario: &Scenario, findings: &mut Findings) {
    let rig = Rig::new(&scenario.line);
    overrides(file, findings);
    rack::check(file, scenario, &rig, findings);
    machine::check(file, scenario, &rig, findings);
    crew::check(file, scenario, &rig, findings);
}

/// Reports the walls that no pipe of their size has.
pub(super) fn walls(file: &File, odd: &[OddWall], findings: &mut Findings) {
    let mut told = Vec::new();
    for odd in odd {
        let path = source(file, findings, odd.stick, "wall", "pipe.wall");
        if told.contains(&path) || !findings.is_sure_of(&[&path, "pipe.size", "row"]) {
            continue;
        }
        let DomainError::OutOfRange { value, allowed, .. } = &odd.error else {
            let at = findings.place(&path);
            findings.fault(Finding::new(at, &path, "fault-no-such-pipe"));
            continue;
        };
        let nominal_m = odd.nominal_diameter_m;
        let what = Message::new("fault-wall")
            .measured("wall", value * 1e3, 1)
            .measured("pipe", nominal_m * 1e3, 1)
            .measured("ratio", nominal_m / value, 1);
        let (least_m, most_m) = (allowed.start(), allowed.end());
        // Rounded inwards, so that the numbers given are allowed themselves.
        let allowed = Message::new("allowed-wall")
            .measured("least", (least_m * 1e4).ceil() / 10.0, 1)
            .measured("most", (most_m * 1e4).floor() / 10.0, 1)
            .measured("from", nominal_m / least_m, 0)
            .measured("to", nominal_m / most_m, 0);
        report(findings, &path, what, allowed);
        told.push(path);
    }
}

/// A least length in whole centimetres, rounded so that the number itself is allowed, m.
fn least_in_cm_m(length_m: f64) -> f64 {
    ((length_m - TOUCH_M) * 100.0).ceil() / 100.0
}

/// The same of a greatest length, m.
fn most_in_cm_m(length_m: f64) -> f64 {
    ((length_m + TOUCH_M) * 100.0).floor() / 100.0
}

fn at_least_m(least_m: f64) -> Message {
    Message::new("allowed-at-least-m").measured("least", least_in_cm_m(least_m), 2)
}

fn at_most_m(most_m: f64) -> Message {
    Message::new("allowed-at-most-m").measured("most", most_in_cm_m(most_m), 2)
}

fn report(
    findings: &mut Findings,
    path: &str,
    what: impl Into<Message>,
    allowed: impl Into<Filling>,
) {
    let at = findings.place(path);
    findings.fault(Finding::new(at, path, what).allowed(allowed));
}

fn warn(findings: &mut Findings, path: &str, what: impl Into<Message>) {
    let at = findings.place(path);
    findings.warnings.push(Finding::new(at, path, what));
}

/// The field that a property of a stick comes from: its override where that gives one.
fn source(file: &File, findings: &Findings, stick: usize, own: &str, shared: &str) -> String {
    let index = file.row.overrides.iter().flatten().position(|item| {
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
    for (index, item) in file.row.overrides.iter().flatten().enumerate() {
        let Some(number) = item.stick else { continue };
        let path = format!("row.overrides[{}].stick", index + 1);
        if number > sticks {
            let what = Message::new("fault-stick-beyond-row")
                .with("stick", number.to_string())
                .with("sticks", sticks.to_string());
            report(findings, &path, what, range(1.0, f64::from(sticks)));
        } else if seen.contains(&number) {
            let what = Message::new("fault-second-override").with("stick", number.to_string());
            report(findings, &path, what, Message::new("allowed-one-override"));
        }
        seen.push(number);
    }
}
