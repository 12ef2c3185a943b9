//! The program as its user meets it: commands, exit codes, files.

#[path = "common/program.rs"]
mod program;

use std::path::{Path, PathBuf};
use std::process::Output;

use chockline::evidence::{Outcome, Recording};
use chockline::operator::{Operator, Recorded};
use chockline::scenario;
use chockline::sim::line::Line;
use program::chockline;

fn code(output: &Output) -> i32 {
    output.status.code().expect("the program ends by itself")
}

fn stdout(output: &Output) -> String {
    String::from_utf8(output.stdout.clone()).expect("UTF-8")
}

fn stderr(output: &Output) -> String {
    String::from_utf8(output.stderr.clone()).expect("UTF-8")
}

fn path_in(folder: &tempfile::TempDir, name: &str) -> PathBuf {
    folder.path().join(name)
}

fn as_str(path: &Path) -> &str {
    path.to_str().expect("a temporary path is UTF-8")
}

#[test]
fn without_arguments_the_demonstration_runs() {
    let output = chockline(&[]);
    assert_eq!(code(&output), 0, "{}", stderr(&output));
    assert!(stdout(&output).contains("Every stick joined"));
    assert!(stdout(&output).contains("does not replace the maker's manual"));
}

#[test]
fn exit_codes_tell_passed_failed_and_bad_input() {
    let passed = chockline(&["run", "scenarios/first-shift.ron"]);
    assert_eq!(code(&passed), 0, "{}", stderr(&passed));
    let steep = "scenarios/as-found-steep.ron";
    let failed = chockline(&["run", steep, "--operator", "takes-as-found"]);
    assert_eq!(code(&failed), 1, "{}", stdout(&failed));
    for bad in [
        vec!["run", "scenarios/no-such.ron"],
        vec!["run"],
        vec!["run", "scenarios"],
        vec!["sing"],
        vec!["run", "scenarios/first-release.ron", "--seed", "-1"],
        vec![
            "run",
            "scenarios/first-release.ron",
            "--json",
            "/no/such/folder/x.json",
        ],
        vec![
            "run",
            "scenarios/first-release.ron",
            "--record",
            "scenarios",
        ],
    ] {
        let output = chockline(&bad);
        assert_eq!(code(&output), 2, "{bad:?}: {}", stderr(&output));
        assert!(!stderr(&output).is_empty(), "{bad:?} says nothing");
        assert!(stdout(&output).is_empty(), "{bad:?} ran all the same");
    }
    assert_eq!(code(&chockline(&["--help"])), 0);
    assert_eq!(code(&chockline(&["--version"])), 0);
}

#[test]
fn the_same_seed_gives_the_same_report_to_the_last_bit() {
    let once = chockline(&["run", "scenarios/first-shift.ron", "--seed", "7"]);
    let twice = chockline(&["run", "scenarios/first-shift.ron", "--seed", "7"]);
    assert_eq!(stdout(&once), stdout(&twice));
    let other = chockline(&["run", "scenarios/first-shift.ron", "--seed", "8"]);
    assert_ne!(stdout(&once), stdout(&other), "the seed changes nothing");
}

#[test]
fn report_trace_and_recording_are_whole_and_agree() {
    let folder = tempfile::tempdir().unwrap();
    let [json, trace, record] = ["r.json", "t.csv", "run.chock"].map(|name| path_in(&folder, name));
    let output = chockline(&[
        "run",
        "scenarios/star-wheel.ron",
        "--operator",
        "feeder",
        "--json",
        as_str(&json),
        "--trace",
        as_str(&trace),
        "--record",
        as_str(&record),
    ]);
    // Whoever feeds without the horn and walks away from a live line does not pass.
    assert_eq!(code(&output), 1, "{}", stderr(&output));

    let report: serde_json::Value = serde_json::from_slice(&std::fs::read(&json).unwrap()).unwrap();
    assert_eq!(report["outcome"], "OneStick");
    assert_eq!(report["passed"], false);
    assert_eq!(report["verdict"]["findings"][0]["kind"], "NoHorn");
    let hash = report["state_hash"].as_str().unwrap().to_owned();
    assert!(stdout(&output).contains(&hash));

    let mut table = csv::Reader::from_path(&trace).unwrap();
    let columns = table.headers().unwrap().len();
    let rows: Vec<_> = table.records().map(|row| row.unwrap()).collect();
    assert!(rows.iter().all(|row| row.len() == columns));
    let last: f64 = rows.last().unwrap()[0].parse().unwrap();
    let duration = report["duration_s"].as_f64().unwrap();
    assert!(
        (last - duration).abs() < 0.1,
        "trace ends at {last}, run at {duration} s"
    );

    let recording = Recording::load(&record).unwrap();
    assert_eq!(recording.outcome, Outcome::OneStick);
    let &(tick, end) = recording.states.hashes.last().unwrap();
    assert_eq!((tick, format!("{end:016x}")), (recording.log.ticks, hash));
}

/// A recording holds all that is needed to run it again: from its own scenario text and controls
/// the core comes to the same state at every recorded second.
#[test]
fn a_recording_runs_again_to_the_same_bits() {
    let folder = tempfile::tempdir().unwrap();
    let record = path_in(&folder, "run.chock");
    let output = chockline(&[
        "run",
        "scenarios/as-found-steep.ron",
        "--operator",
        "takes-as-found",
        "--seed",
        "3",
        "--record",
        as_str(&record),
    ]);
    assert_eq!(code(&output), 1, "{}", stderr(&output));
    let recording = Recording::load(&record).unwrap();
    let loaded =
        scenario::parse("recorded", &recording.head.scenario).expect("its own text is sound");
    let scenario = loaded.scenario;
    let as_found = scenario.line_for(recording.head.seed);
    let set_out = recording
        .head
        .set_out
        .applied(&as_found, scenario.set_out_open);
    let mut line = Line::build(&set_out.expect("a line set out"));
    let mut operator = Recorded::new(recording.log.controls.clone(), recording.log.ticks);
    let mut hashes = recording.states.hashes.iter();
    let mut next = hashes.next();
    while line.tick_count() < recording.log.ticks {
        let controls = operator.controls(&line);
        line.tick(&controls);
        if let Some(&(tick, hash)) = next
            && tick == line.tick_count()
        {
            assert_eq!(line.hash(), hash, "departs at tick {tick}");
            next = hashes.next();
        }
    }
    assert!(operator.is_done() && next.is_none());
    let events: Vec<_> = recording
        .log
        .events
        .iter()
        .map(|noted| noted.event)
        .collect();
    assert_eq!(line.events(), events);
}

#[test]
fn an_output_that_fails_leaves_nothing_behind_and_keeps_the_old_file() {
    let folder = tempfile::tempdir().unwrap();
    let json = path_in(&folder, "r.json");
    std::fs::write(&json, "old").unwrap();
    let output = chockline(&[
        "run",
        "scenarios/first-release.ron",
        "--json",
        as_str(&json),
        "--trace",
        "/no/such/folder/t.csv",
    ]);
    assert_eq!(code(&output), 2);
    assert_eq!(std::fs::read_to_string(&json).unwrap(), "old");
    assert_eq!(std::fs::read_dir(folder.path()).unwrap().count(), 1);
}

#[test]
fn no_output_replaces_the_scenario_or_another_output() {
    let folder = tempfile::tempdir().unwrap();
    let scenario = path_in(&folder, "s.ron");
    let text = std::fs::read_to_string("scenarios/first-release.ron").unwrap();
    std::fs::write(&scenario, &text).unwrap();
    let detour = folder.path().join(".").join("s.ron");
    let output = chockline(&["run", as_str(&scenario), "--json", as_str(&detour)]);
    assert_eq!(code(&output), 2);
    assert!(stderr(&output).contains("this is the scenario already"));
    assert_eq!(std::fs::read_to_string(&scenario).unwrap(), text);

    let both = path_in(&folder, "both");
    let output = chockline(&[
        "run",
        as_str(&scenario),
        "--json",
        as_str(&both),
        "--trace",
        as_str(&both),
    ]);
    assert_eq!(code(&output), 2);
    assert!(stderr(&output).contains("this is the report already"));
    assert!(!both.exists());
}

#[test]
fn a_full_disk_is_told_and_leaves_no_partial_file() {
    if !Path::new("/dev/full").exists() {
        return;
    }
    let output = chockline(&["run", "scenarios/first-shift.ron", "--json", "/dev/full"]);
    assert_eq!(code(&output), 2, "{}", stdout(&output));
    assert!(stderr(&output).contains("/dev/full"), "{}", stderr(&output));
}

#[test]
fn check_lists_every_fault_with_its_place() {
    let folder = tempfile::tempdir().unwrap();
    let file = path_in(&folder, "bad.ron");
    std::fs::write(
        &file,
        "(format: 1, name: \"x\",\n pipe: (size: Ips(24), wall: Dr(17)),\n rack: (pich_deg: 5, length_m: 1e30))",
    )
    .unwrap();
    let output = chockline(&["check", as_str(&file)]);
    assert_eq!(code(&output), 2);
    let text = stdout(&output);
    assert!(text.contains(":3:9: rack.pich_deg"), "{text}");
    assert!(text.contains("did you mean rack.pitch_deg?"), "{text}");
    assert!(text.contains(":3:32: rack.length_m"), "{text}");
}

#[test]
fn an_operator_is_named_and_says_where_they_are_of_no_use() {
    let first_shift = "scenarios/first-shift.ron";
    let whole = chockline(&["run", first_shift, "--operator", "expert"]);
    assert_eq!(code(&whole), 0, "{}", stderr(&whole));
    assert!(stdout(&whole).contains("Every stick joined"));
    assert!(stdout(&whole).contains("operator 'expert'"));
    let nobody = chockline(&["run", first_shift, "--operator", "nobody"]);
    assert_eq!(code(&nobody), 2);
    assert!(stderr(&nobody).contains("there are expert, feeder"));
    let useless = chockline(&["run", first_shift, "--operator", "bars-from-below"]);
    assert_eq!(code(&useless), 2);
    assert!(stderr(&useless).contains("does not apply to this scenario"));
}

/// A recording scores as its run did, in words and for machines; what is no recording is refused.
#[test]
fn a_recording_is_scored_again() {
    let folder = tempfile::tempdir().unwrap();
    let [report, record, score] =
        ["r.json", "run.chock", "s.json"].map(|name| path_in(&folder, name));
    let run = chockline(&[
        "run",
        "scenarios/first-shift.ron",
        "--operator",
        "rushes-the-joint",
        "--json",
        as_str(&report),
        "--record",
        as_str(&record),
    ]);
    assert_eq!(code(&run), 1, "{}", stderr(&run));
    let again = chockline(&["score", as_str(&record), "--json", as_str(&score)]);
    assert_eq!(code(&again), 1, "{}", stderr(&again));
    let json = |path: &Path| -> serde_json::Value {
        serde_json::from_slice(&std::fs::read(path).unwrap()).unwrap()
    };
    assert_eq!(json(&report)["verdict"], json(&score));
    let text = stdout(&again);
    assert!(
        text.contains("Jaws opened before the joint was made"),
        "{text}"
    );
    assert!(text.contains("Act: asked to open the jaws"), "{text}");
    assert!(stdout(&run).contains(text.lines().nth(1).unwrap()));

    let whole = std::fs::read(&record).unwrap();
    let over = chockline(&["score", as_str(&record), "--json", as_str(&record)]);
    assert_eq!(code(&over), 2, "{}", stdout(&over));
    assert!(stderr(&over).contains("this is the recording already"));
    assert_eq!(std::fs::read(&record).unwrap(), whole);
    for bad in [&whole[..9], b"", b"{}", b"\xff\xfe"] {
        std::fs::write(&record, bad).unwrap();
        let output = chockline(&["score", as_str(&record)]);
        assert_eq!(code(&output), 2, "{}", stdout(&output));
        assert!(
            stderr(&output).contains("no recording"),
            "{}",
            stderr(&output)
        );
    }
}

#[test]
fn operators_and_findings_are_listed_and_explained() {
    let all = stdout(&chockline(&["operators"]));
    assert!(
        all.contains("takes-as-found") && all.contains("(pitch-outside)"),
        "{all}"
    );
    let here = stdout(&chockline(&["operators", "scenarios/first-shift.ron"]));
    assert!(here.contains("Of use on this scenario"), "{here}");
    assert!(
        here.contains("Of no use on it: the loader brings nothing"),
        "{here}"
    );
    let list = stdout(&chockline(&["explain"]));
    assert!(list.lines().count() >= 30, "{list}");
    let one = stdout(&chockline(&["explain", "high-low"]));
    assert!(one.contains("ASTM F2620") && one.contains("10 %"), "{one}");
    let unknown = chockline(&["explain", "high-lo"]);
    assert_eq!(code(&unknown), 2);
    assert!(
        stderr(&unknown).contains("high-low"),
        "{}",
        stderr(&unknown)
    );
    let spanish = stdout(&chockline(&["explain", "high-low", "--lang", "es"]));
    assert!(spanish.contains("Desalineación"), "{spanish}");
}
