//! The roster on the shipped scenarios: every operator in error comes to their finding in two of them
//! at least.

#[path = "common/findings.rs"]
mod findings;

use std::path::Path;

use chockline::operator::{ROSTER, member};
use chockline::scenario::{Scenario, load};
use chockline::sim::line::Line;
use findings::Findings;

/// Who errs, and where it shows.
const WHERE: [(&str, [&str; 2]); 25] = [
    ("lets-go-early", ["first-shift", "receiver-down"]),
    ("feeds-too-soon", ["receiver-down", "as-found-steep"]),
    ("forgets-the-receiver", ["receiver-down", "as-found-steep"]),
    ("lowers-at-once", ["seated-too-fast", "steady-feed"]),
    ("one-end-first", ["frosted-rail", "first-shift"]),
    ("by-eye", ["flat-oval", "steady-feed"]),
    ("never-turns", ["flat-oval", "steady-feed"]),
    ("advances-low", ["first-shift", "flat-oval"]),
    ("into-the-string", ["first-shift", "flat-oval"]),
    ("rushes-the-joint", ["first-shift", "flat-oval"]),
    ("calls-nobody-out", ["visitor", "shortcut"]),
    ("bars-from-below", ["hung-stick", "hung-behind"]),
    ("jacks-under-load", ["hung-stick", "hung-behind"]),
    ("trusts-the-arrows", ["crossed-hose", "as-found-steep"]),
    ("loads-unchocked", ["loaded-row", "full-rack"]),
    ("leaves-it-live", ["receiver-down", "visitor"]),
    ("heeds-no-spotter", ["visitor", "shortcut"]),
    ("takes-as-found", ["as-found-steep", "flat-oval"]),
    ("leaves-the-setting", ["wrong-size", "small-setting"]),
    ("skips-the-walk-round", ["crossed-hose", "as-found-steep"]),
    ("no-zone", ["visitor", "shortcut"]),
    ("blows-no-horn", ["first-shift", "star-wheel"]),
    ("holds-at-the-stop", ["first-shift", "frosted-rail"]),
    ("dawdles", ["first-shift", "crossed-hose"]),
    ("overloads", ["full-rack", "hung-behind"]),
];

fn scenario(name: &str) -> Scenario {
    let path = Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("scenarios")
        .join(format!("{name}.ron"));
    load(&path)
        .unwrap_or_else(|error| panic!("{error}"))
        .scenario
}

/// Whether a member comes to their finding; if not, the story.
fn comes_to_it(name: &str, at: &str) -> Result<(), String> {
    let member = member(name).ok_or("nobody of that name")?;
    let kind = member.finding.ok_or("without a finding")?;
    let scenario = scenario(at);
    let (found, open) = (scenario.line_for(scenario.seed), scenario.set_out_open);
    member.applies(&found, open)?;
    let mut operator = member.operator();
    let set_out = operator.set_out(&found, open);
    let spec = set_out
        .applied(&found, open)
        .map_err(|fault| fault.to_string())?;
    let mut line = Line::build(&spec);
    let mut findings = Findings::new(&line, scenario.scoring.handling_time_s);
    while line.time_s() < scenario.time_limit_s && !operator.is_done() {
        let controls = operator.controls(&line);
        line.tick(&controls);
        findings.observe(&line, &controls);
        if findings.kinds.contains(&kind) {
            return Ok(());
        }
    }
    findings.end(&line, operator.is_done());
    if findings.kinds.contains(&kind) {
        return Ok(());
    }
    let events: Vec<String> = line
        .events()
        .iter()
        .map(|event| format!("{:.1} {:?}", line.time_at_s(event.tick), event.kind))
        .collect();
    Err(format!(
        "at {:.0} s, {:?}\n{}",
        line.time_s(),
        findings.kinds,
        events.join("\n")
    ))
}

fn every(part: usize) {
    let mut missed = Vec::new();
    for (name, places) in WHERE.iter().skip(part).step_by(2) {
        for at in places {
            if let Err(story) = comes_to_it(name, at) {
                missed.push(format!("{name} at {at}: {story}"));
            }
        }
    }
    assert!(missed.is_empty(), "{}", missed.join("\n\n"));
}

// Two halves, for the sake of time.

#[test]
fn every_operator_in_error_comes_to_their_finding() {
    every(0);
}

#[test]
fn every_other_operator_in_error_comes_to_theirs() {
    every(1);
}

#[test]
fn everybody_in_error_is_in_the_table() {
    for member in &ROSTER {
        let listed = WHERE.iter().any(|(name, _)| *name == member.name);
        assert_eq!(listed, member.finding.is_some(), "{}", member.name);
    }
}
