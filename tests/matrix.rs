//! Who passes what: every operator on every shipped scenario, judged, against a committed table that
//! says 'passes', 'loses points by', 'fails by' or 'does not apply'.
//!
//! By default the expert is tried on every scenario and everybody in error on two of those where they
//! fail by their mistake, each with the scenario's own seed. `CHOCKLINE_SEEDS=20 cargo test --release
//! --test matrix` tries these with twenty seeds; `CHOCKLINE_TABLE=3` tries every cell with three, and
//! with `CHOCKLINE_WRITE=1` writes the table anew.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};
use std::sync::Mutex;

use chockline::judge::{Finding, Logger, judge};
use chockline::operator::{Ending, Member, ROSTER, member};
use chockline::scenario::{Scenario, load};
use chockline::sim::line::Line;
use rayon::prelude::*;

const TABLE: &str = "tests/data/matrix.csv";

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

fn scenarios() -> BTreeMap<String, Scenario> {
    let files: Vec<PathBuf> = fs::read_dir(root().join("scenarios"))
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .filter(|path| path.extension().is_some_and(|extension| extension == "ron"))
        .collect();
    let name = |path: &Path| path.file_stem().unwrap().to_str().unwrap().to_owned();
    let loaded = files.iter();
    loaded
        .map(|path| (name(path), load(path).unwrap().scenario))
        .collect()
}

/// The committed table: scenario and operator to result.
fn table() -> BTreeMap<(String, String), String> {
    let text = fs::read_to_string(root().join(TABLE)).unwrap_or_default();
    let rows = text.lines().skip(1).map(|line| {
        let mut cells = line.split(',').map(str::to_owned);
        let mut cell = || cells.next().unwrap();
        ((cell(), cell()), cell())
    });
    rows.collect()
}

/// What an operator comes to on a scenario, and all that was found. A run that has failed by the
/// operator's own finding can only lose more, and is broken off.
fn result(scenario: &Scenario, member: &Member, seed: u64) -> (String, Vec<String>) {
    let open = scenario.set_out_open;
    if member.applies(&scenario.line, open).is_err() {
        return ("does not apply".to_owned(), Vec::new());
    }
    let mut operator = member.operator();
    let as_found = scenario.line_for(seed);
    let spec = operator.set_out(&as_found, open).applied(&as_found, open);
    let spec = spec.expect("a line set out");
    let mut line = Line::build(&spec);
    let mut logger = Logger::default();
    let has_own = |findings: &[Finding]| {
        let mut kinds = findings.iter().map(|finding| finding.kind);
        member.finding.filter(|own| kinds.any(|kind| kind == *own))
    };
    let mut rested = 0;
    while line.time_s() < scenario.time_limit_s && rested <= REST_TICKS {
        let controls = operator.controls(&line);
        line.tick(&controls);
        logger.observe(&line, &controls);
        assert_eq!(line.fault(), None);
        let rests = operator.is_done() && line.is_at_rest();
        rested = if rests { rested + 1 } else { 0 };
        if line.tick_count().is_multiple_of(LOOK_EVERY_TICKS) {
            let log = logger.log();
            let verdict = judge(scenario, &spec, log);
            let lost = verdict.score.critical || verdict.score.points < verdict.score.pass_mark;
            if lost && let Some(own) = has_own(&verdict.findings) {
                return (format!("fails by {}", own.id()), Vec::new());
            }
        }
    }
    let ending = if rested > REST_TICKS {
        Ending::AtRest
    } else {
        Ending::TimeLimit
    };
    let verdict = judge(scenario, &spec, &logger.finish(&line, ending));
    let found = verdict.findings.iter().map(|finding| {
        let time_s = finding.tick as f64 / 240.0;
        let measured = finding.measured.map(|measured| measured.value);
        format!("{} at {time_s:.1} s {measured:?}", finding.kind.id())
    });
    let result = match (has_own(&verdict.findings), verdict.score.passed) {
        (Some(own), false) => format!("fails by {}", own.id()),
        (Some(own), true) => format!("loses points by {}", own.id()),
        (None, true) => "passes".to_owned(),
        (None, false) => "fails".to_owned(),
    };
    (result, found.collect())
}

/// How long everything lies still at the end of a run, ticks.
const REST_TICKS: u32 = 240;
/// How often it is looked whether a run has failed already, ticks.
const LOOK_EVERY_TICKS: u64 = 1200;

/// What is wrong with a result whatever the table says: the expert loses nothing, and whoever makes a
/// mistake fails by no other.
fn astray(member: &Member, result: &str, found: &[String]) -> bool {
    match member.name {
        "expert" => result != "passes" || !found.is_empty(),
        _ => result == "fails" && member.finding.is_some(),
    }
}

/// How many seeds a variable asks for.
fn asked_for(variable: &str) -> Option<u64> {
    std::env::var(variable).ok()?.parse().ok()
}

/// The seeds to try a scenario with.
fn seeds(scenario: &Scenario) -> Vec<u64> {
    asked_for("CHOCKLINE_SEEDS").map_or_else(|| vec![scenario.seed], |seeds| (1..=seeds).collect())
}

fn check(runs: &[(&str, &Scenario, &Member, u64)]) -> BTreeMap<(String, String), String> {
    let results: Mutex<BTreeMap<(String, String), String>> = Mutex::default();
    let wrong: Mutex<Vec<String>> = Mutex::default();
    runs.par_iter().for_each(|(name, scenario, member, seed)| {
        let (result, found) = result(scenario, member, *seed);
        let key = ((*name).to_owned(), member.name.to_owned());
        let mut results = results.lock().unwrap();
        let known = results.entry(key).or_insert_with(|| result.clone());
        if *known != result || astray(member, &result, &found) {
            let told = format!("{name} {} seed {seed}: {result}: {found:?}", member.name);
            println!("{told}");
            wrong.lock().unwrap().push(told);
        }
    });
    let wrong = wrong.into_inner().unwrap();
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    results.into_inner().unwrap()
}

#[test]
fn every_cell_of_the_table_holds() {
    let Some(seeds) = asked_for("CHOCKLINE_TABLE") else {
        return;
    };
    let scenarios = scenarios();
    let cells = scenarios.iter().flat_map(|(name, scenario)| {
        let members = ROSTER.iter();
        members.map(move |member| (name.as_str(), scenario, member))
    });
    let runs = cells.flat_map(|(name, scenario, member)| {
        (1..=seeds).map(move |seed| (name, scenario, member, seed))
    });
    let results = check(&runs.collect::<Vec<_>>());
    if std::env::var_os("CHOCKLINE_WRITE").is_some() {
        let mut text = String::from("scenario,operator,result\n");
        for ((scenario, operator), result) in &results {
            text.push_str(&format!("{scenario},{operator},{result}\n"));
        }
        fs::write(root().join(TABLE), &text).unwrap();
    }
    assert_eq!(table(), results);
}

#[test]
fn the_expert_loses_nothing_on_any_scenario() {
    let scenarios = scenarios();
    let expert = member("expert").unwrap();
    let runs = scenarios.iter().flat_map(|(name, scenario)| {
        let seeds = seeds(scenario).into_iter();
        seeds.map(move |seed| (name.as_str(), scenario, expert, seed))
    });
    for result in check(&runs.collect::<Vec<_>>()).values() {
        assert_eq!(result, "passes");
    }
}

/// Each by the finding that is theirs, on two scenarios at least; tried on the two with the fewest
/// sticks.
#[test]
fn everybody_in_error_comes_to_their_finding() {
    let (scenarios, table) = (scenarios(), table());
    let mut runs = Vec::new();
    for member in ROSTER.iter().filter(|member| member.finding.is_some()) {
        let mut shown: Vec<(&str, &Scenario)> = scenarios
            .iter()
            .filter(|(name, _)| {
                let key = ((*name).clone(), member.name.to_owned());
                table
                    .get(&key)
                    .is_some_and(|result| result.starts_with("fails by "))
            })
            .map(|(name, scenario)| (name.as_str(), scenario))
            .collect();
        assert!(shown.len() >= 2, "{} fails in {}", member.name, shown.len());
        shown.sort_by_key(|(_, scenario)| scenario.line.stick_count());
        for (name, scenario) in shown.into_iter().take(2) {
            let seeds = seeds(scenario).into_iter();
            runs.extend(seeds.map(|seed| (name, scenario, member, seed)));
        }
    }
    for (key, result) in check(&runs) {
        assert_eq!(table.get(&key), Some(&result), "{key:?}");
    }
}
