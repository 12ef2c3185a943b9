//! Who passes what: every operator on every shipped scenario, judged. The committed table says
//! 'passes', 'loses points by', 'fails by', or 'does not apply'; it holds for every seed.
//!
//! `CHOCKLINE_SEEDS=20 cargo test --release --test matrix` tries twenty seeds instead of one;
//! `CHOCKLINE_WRITE=1` writes the table anew.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};
use std::sync::Mutex;

use chockline::judge::play;
use chockline::operator::{Member, ROSTER};
use chockline::scenario::{Scenario, load};
use rayon::prelude::*;

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

fn scenarios() -> Vec<(String, Scenario)> {
    let mut files: Vec<PathBuf> = fs::read_dir(root().join("scenarios"))
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .filter(|path| path.extension().is_some_and(|extension| extension == "ron"))
        .collect();
    files.sort();
    let name = |path: &Path| path.file_stem().unwrap().to_str().unwrap().to_owned();
    files
        .iter()
        .map(|path| (name(path), load(path).unwrap().scenario))
        .collect()
}

/// What an operator comes to on a scenario, and all that was found.
fn cell(scenario: &Scenario, member: &Member, seed: u64) -> (String, Vec<String>) {
    if member
        .applies(&scenario.line, scenario.set_out_open)
        .is_err()
    {
        return ("does not apply".to_owned(), Vec::new());
    }
    let played = play(scenario, seed, member.operator().as_mut(), |_, _| ()).unwrap();
    let verdict = &played.verdict;
    let found: Vec<String> = verdict
        .findings
        .iter()
        .map(|finding| {
            let time_s = finding.tick as f64 / 240.0;
            format!(
                "{} at {time_s:.1} s {:?}",
                finding.kind.id(),
                finding.measured
            )
        })
        .collect();
    let own = member.finding.filter(|own| {
        let mut kinds = verdict.findings.iter().map(|finding| finding.kind);
        kinds.any(|kind| kind == *own)
    });
    let result = match (own, verdict.score.passed) {
        (Some(own), false) => format!("fails by {}", own.id()),
        (Some(own), true) => format!("loses points by {}", own.id()),
        (None, true) => "passes".to_owned(),
        (None, false) => "fails otherwise".to_owned(),
    };
    (result, found)
}

#[test]
fn every_operator_comes_to_what_the_table_says() {
    let seeds: u64 = std::env::var("CHOCKLINE_SEEDS")
        .ok()
        .and_then(|seeds| seeds.parse().ok())
        .unwrap_or(1);
    let scenarios = scenarios();
    let runs: Vec<(&str, &Scenario, &Member, u64)> = scenarios
        .iter()
        .flat_map(|(name, scenario)| ROSTER.iter().map(move |member| (name, scenario, member)))
        .flat_map(|(name, scenario, member)| {
            (1..=seeds).map(move |seed| (name.as_str(), scenario, member, seed))
        })
        .collect();
    let table: Mutex<BTreeMap<(String, String), String>> = Mutex::default();
    let wrong: Mutex<Vec<String>> = Mutex::default();
    runs.par_iter().for_each(|(name, scenario, member, seed)| {
        let (result, found) = cell(scenario, member, *seed);
        let key = ((*name).to_owned(), member.name.to_owned());
        let mut table = table.lock().unwrap();
        let known = table.entry(key).or_insert_with(|| result.clone());
        let unlike = *known != result;
        // Who makes no mistake loses nothing; who makes one fails or loses by that.
        let astray = (member.name == "expert"
            && (result != "passes" || !found.is_empty())
            && result != "does not apply")
            || result == "fails otherwise" && member.finding.is_some();
        if unlike || astray {
            let told = format!("{name} {} seed {seed}: {result}: {found:?}", member.name);
            println!("{told}");
            wrong.lock().unwrap().push(told);
        }
    });
    let table = table.into_inner().unwrap();
    let mut text = String::from("scenario,operator,result\n");
    for ((scenario, operator), result) in &table {
        text.push_str(&format!("{scenario},{operator},{result}\n"));
    }
    let path = root().join("tests/data/matrix.csv");
    if std::env::var_os("CHOCKLINE_WRITE").is_some() {
        fs::write(&path, &text).unwrap();
    }
    let wrong = wrong.into_inner().unwrap();
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    let committed = fs::read_to_string(&path).unwrap_or_default();
    assert_eq!(
        committed, text,
        "run with CHOCKLINE_WRITE=1 and look at the change"
    );
}

/// Every mistake shows in two scenarios at least.
#[test]
fn every_mistake_shows_in_two_scenarios() {
    let table = fs::read_to_string(root().join("tests/data/matrix.csv")).unwrap();
    for member in ROSTER.iter().filter(|member| member.finding.is_some()) {
        let shown = table
            .lines()
            .filter(|line| line.contains(&format!(",{},", member.name)) && line.contains(" by "));
        let count = shown.count();
        assert!(count >= 2, "{} shows in {count}", member.name);
    }
}
