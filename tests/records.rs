//! The records store: nothing that was written is lost, whatever is done to the program, the disk or the
//! clock; several programs at once; what is made of it.
//!
//! `CHOCKLINE_KILLS=200` kills a writer at so many moments, `CHOCKLINE_CLASS=20000` sums up a class of
//! 200 people with so many attempts (in a release build within a second).

#[path = "common/attempts.rs"]
mod attempts;

use std::collections::BTreeSet;
use std::fs;
use std::io::{BufRead, BufReader, Read};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Output, Stdio};
use std::time::{Duration, Instant};

use attempts::{attempt, findings};
use chockline::records::{
    Attempt, Carried, Correction, Exercise, Records, RecordsError, Standing, Trained, Which,
    certificate,
};
use chockline::texts::{Lang, Texts};
use rusqlite::Connection;

/// Tells the test below that it is the writer, and to which store.
const WRITER: &str = "CHOCKLINE_TEST_WRITER";

fn number_from(variable: &str, usual: u64) -> u64 {
    let given = std::env::var(variable).ok();
    given.and_then(|given| given.parse().ok()).unwrap_or(usual)
}

struct Bench {
    folder: tempfile::TempDir,
}

impl Bench {
    fn new() -> Self {
        Self {
            folder: tempfile::tempdir().unwrap(),
        }
    }

    fn path(&self, name: &str) -> PathBuf {
        self.folder.path().join(name)
    }

    fn store(&self) -> PathBuf {
        self.path("records.sqlite")
    }

    fn records(&self) -> Records {
        Records::open(&self.store()).unwrap()
    }

    /// The program, on this store.
    fn run(&self, args: &[&str]) -> Output {
        let store = self.store();
        let output = Command::new(env!("CARGO_BIN_EXE_chockline"))
            .args(["--lang", "en", "records", "--store"])
            .arg(store)
            .args(args)
            .current_dir(self.folder.path())
            .stdin(Stdio::null())
            .output();
        output.unwrap()
    }

    fn says(&self, args: &[&str], code: i32) -> String {
        let output = self.run(args);
        let said = String::from_utf8([output.stdout, output.stderr].concat()).unwrap();
        assert_eq!(output.status.code(), Some(code), "{args:?}: {said}");
        said
    }
}

fn uids(path: &Path) -> BTreeSet<String> {
    let all = Which {
        void: true,
        ..Which::default()
    };
    let attempts = Records::open(path).unwrap().attempts(all).unwrap();
    attempts.iter().map(|it| it.uid.to_string()).collect()
}

/// The other end of the tests below: writes attempts and tells of each when it is on the disk, until it
/// is killed or has written what it was asked for.
#[test]
fn writer() {
    let Ok(asked) = std::env::var(WRITER) else {
        // Run by itself it writes nothing; the tests below call it.
        return;
    };
    let mut parts = asked.splitn(3, ':');
    let mut number = || parts.next().unwrap().parse::<u64>().unwrap();
    let (from, count) = (number(), number());
    let path = PathBuf::from(parts.next().unwrap());
    let mut records = Records::open(&path).unwrap();
    for number in from..from + count {
        let attempt = attempt(number, Some("Ana"));
        records.add(&attempt, &findings(number)).unwrap();
        println!("written {}", attempt.uid);
    }
}

fn write(path: &Path, from: u64, count: u64) -> Child {
    let mut command = Command::new(std::env::current_exe().unwrap());
    command
        .args(["--exact", "writer", "--nocapture"])
        .env(WRITER, format!("{from}:{count}:{}", path.display()))
        .stdout(Stdio::piped())
        .stderr(Stdio::null());
    command.spawn().unwrap()
}

/// What a writer has told of.
fn told(said: &str) -> Vec<String> {
    let lines = said
        .lines()
        .filter_map(|line| Some(line.split_once("written ")?.1.trim().to_owned()));
    lines.filter(|uid| uid.len() == 36).collect()
}

#[test]
fn killed_at_any_moment_no_written_attempt_is_lost() {
    let bench = Bench::new();
    let kills = number_from("CHOCKLINE_KILLS", 12);
    let mut written = BTreeSet::new();
    let mut chance = 12345_u64;
    for round in 0..kills {
        let mut child = write(&bench.store(), 1_000_000 * round, 1_000_000);
        let mut lines = BufReader::new(child.stdout.take().unwrap());
        let mut said = String::new();
        // Every other time from the start of the program on, else while it writes.
        while round % 2 == 1 && !said.contains("written") {
            assert_ne!(lines.read_line(&mut said).unwrap(), 0);
        }
        chance = chance
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1);
        std::thread::sleep(Duration::from_micros((chance >> 33) % 60_000));
        child.kill().unwrap();
        child.wait().unwrap();
        // A line may be cut in the middle, also in the middle of a letter.
        let mut rest = Vec::new();
        lines.read_to_end(&mut rest).unwrap();
        said.push_str(&String::from_utf8_lossy(&rest));
        written.extend(told(&said));
        let kept = uids(&bench.store());
        let lost: Vec<_> = written.difference(&kept).collect();
        assert!(lost.is_empty(), "round {round}: {lost:?}");
        let checked = bench.records().check().unwrap();
        assert!(checked.faults.is_empty(), "round {round}: {checked:?}");
    }
    assert!(written.len() as u64 >= kills / 2, "they were writing");
    println!("{kills} kills, {} attempts", written.len());
}

#[test]
fn several_programs_write_at_once_and_nothing_is_lost() {
    let bench = Bench::new();
    let (programs, each) = (5, 40);
    // The store itself is made by all of them at once.
    let mut children: Vec<Child> = (0..programs)
        .map(|program| write(&bench.store(), 1000 * program, each))
        .collect();
    let mut written = BTreeSet::new();
    for child in &mut children {
        let mut said = String::new();
        child
            .stdout
            .take()
            .unwrap()
            .read_to_string(&mut said)
            .unwrap();
        written.extend(told(&said));
        assert!(child.wait().unwrap().success());
    }
    assert_eq!(written.len() as u64, programs * each);
    assert_eq!(uids(&bench.store()), written);
    let records = bench.records();
    assert!(records.check().unwrap().faults.is_empty());
    assert_eq!(records.people(None).unwrap().len(), 1, "one Ana");
}

#[test]
fn an_attempt_comes_back_as_it_was_written_and_is_not_written_twice() {
    let bench = Bench::new();
    let mut records = bench.records();
    let written: Vec<Attempt> = (0..6).map(|n| attempt(n, Some("Ana Núñez"))).collect();
    for _ in 0..2 {
        for (number, attempt) in (0..).zip(&written) {
            records.add(attempt, &findings(number)).unwrap();
        }
    }
    assert_eq!(records.attempts(Which::default()).unwrap(), written);
    for (number, attempt) in (0..).zip(&written) {
        let kept = records.kept(attempt.uid).unwrap().unwrap();
        assert_eq!(kept.attempt, *attempt);
        assert_eq!(kept.findings, findings(number));
        assert_eq!(records.find(&attempt.ticket).unwrap(), kept);
        let short = &attempt.uid.to_string()[..8];
        assert_eq!(records.find(short).unwrap(), kept);
    }
    for none in ["", "zzzz", "run-99"] {
        assert!(records.find(none).is_err(), "{none}");
    }
}

#[test]
fn what_is_written_cannot_be_changed_and_is_put_right_by_what_says_why() {
    let bench = Bench::new();
    let mut records = bench.records();
    let [first, second] = [attempt(3, Some("Ana")), attempt(6, Some("Ana"))];
    for (attempt, number) in [(&first, 3), (&second, 6)] {
        records.add(attempt, &findings(number)).unwrap();
    }
    records.add_people(&["Bo".to_owned()], "", None).unwrap();
    let bo = records.find_person("Bo").unwrap();
    let db = Connection::open(bench.store()).unwrap();
    for table in ["attempts", "findings", "rules"] {
        for change in [
            format!("DELETE FROM {table}"),
            format!("UPDATE {table} SET rowid = 9"),
        ] {
            let change = change.replace(
                "rowid = 9",
                if table == "findings" {
                    "tick = 1"
                } else {
                    "rowid = 9"
                },
            );
            let refused = db.execute(&change, []).unwrap_err().to_string();
            assert!(refused.contains("only added to"), "{change}: {refused}");
        }
    }
    let correct =
        |records: &mut Records, what, why| records.correct(first.uid, &what, "The trainer", why);
    assert!(correct(&mut records, Correction::Void, "  ").is_err());
    correct(&mut records, Correction::Person(bo.id), "wrong name given").unwrap();
    correct(&mut records, Correction::Note, "late start").unwrap();
    let kept = records.kept(first.uid).unwrap().unwrap();
    assert_eq!(kept.attempt.trainee.as_deref(), Some("Bo"));
    assert_eq!(kept.corrections.len(), 2);
    let refused = db.execute("UPDATE corrections SET why = 'x'", []);
    assert!(refused.unwrap_err().to_string().contains("only added to"));
    correct(&mut records, Correction::Void, "the screen went dark").unwrap();
    assert_eq!(
        records.attempts(Which::default()).unwrap(),
        std::slice::from_ref(&second)
    );
    let refused = records.sign_off(first.uid, "The trainer", "", None);
    assert_eq!(refused.unwrap_err().message().id(), "records-sign-off-void");
    records
        .sign_off(
            second.uid,
            "The trainer",
            "good eye",
            Some("2027-05-01".parse().unwrap()),
        )
        .unwrap();
    let kept = records.kept(second.uid).unwrap().unwrap();
    assert_eq!(kept.sign_offs[0].by.as_deref(), Some("The trainer"));
    assert_eq!(
        records.due_after(&kept).unwrap(),
        Some("2027-05-01".parse().unwrap())
    );
    let all = Which {
        void: true,
        ..Which::default()
    };
    assert_eq!(
        records.attempts(all).unwrap().len(),
        2,
        "both still stand there"
    );
}

#[test]
fn a_locked_store_is_told_and_nothing_is_lost() {
    let bench = Bench::new();
    let mut records = bench.records();
    records.add(&attempt(0, None), &[]).unwrap();
    let other = Connection::open(bench.store()).unwrap();
    other.execute_batch("BEGIN IMMEDIATE").unwrap();
    let begun = Instant::now();
    let refused = records.add(&attempt(1, None), &[]).unwrap_err();
    assert_eq!(refused.message().id(), "records-locked");
    assert!(begun.elapsed() >= Duration::from_secs(9), "it waits first");
    // Reading goes on meanwhile.
    assert!(bench.says(&["list"], 0).contains("Exercise 0"));
    other.execute_batch("ROLLBACK").unwrap();
    records.add(&attempt(1, None), &[]).unwrap();
    assert_eq!(uids(&bench.store()).len(), 2);
}

#[test]
fn a_store_that_may_only_be_read_is_read_and_says_so() {
    let bench = Bench::new();
    let mut records = bench.records();
    records.add(&attempt(0, Some("Ana")), &[]).unwrap();
    records.backup(&bench.path("copy")).unwrap();
    drop(records);
    // The file's own mark for a program that may only read it: it holds for the system's administrator
    // too.
    let mut bytes = fs::read(bench.path("copy")).unwrap();
    bytes[18] = 9;
    for ending in ["-wal", "-shm"] {
        let _ = fs::remove_file(bench.path(&format!("records.sqlite{ending}")));
    }
    fs::write(bench.store(), &bytes).unwrap();
    let said = bench.says(&["add", "Bo"], 2);
    assert!(said.contains("may not be written"), "{said}");
    assert!(bench.says(&["list"], 0).contains("Ana"));
    assert_eq!(fs::read(bench.store()).unwrap(), bytes);
    // A place where there can be no file.
    fs::write(bench.path("file"), "").unwrap();
    let nowhere = bench.path("file/records.sqlite");
    assert!(Records::open(&nowhere).is_err());
}

/// A limit on the size of files stands for a disk that is full.
#[cfg(unix)]
#[test]
fn a_full_disk_is_told_and_what_was_there_stays_whole() {
    let bench = Bench::new();
    let mut records = bench.records();
    for number in 0..20 {
        records
            .add(&attempt(number, Some("Ana")), &findings(number))
            .unwrap();
    }
    drop(records);
    let other = Bench::new();
    let mut records = other.records();
    for number in 0..800 {
        records
            .add(&attempt(number, Some("Bo")), &findings(number))
            .unwrap();
    }
    let carried = serde_json::to_vec(&records.carried(None).unwrap()).unwrap();
    fs::write(bench.path("carried.json"), carried).unwrap();
    let before = uids(&bench.store());
    let script = format!(
        "trap '' XFSZ; ulimit -f 400; exec '{}' --lang en records --store records.sqlite import carried.json",
        env!("CARGO_BIN_EXE_chockline")
    );
    let output = Command::new("bash")
        .args(["-c", &script])
        .current_dir(bench.folder.path())
        .output()
        .unwrap();
    let said = String::from_utf8(output.stderr).unwrap();
    assert_eq!(output.status.code(), Some(2), "{said}");
    assert!(said.contains("the disk does not take it"), "{said}");
    assert_eq!(
        uids(&bench.store()),
        before,
        "nothing of it, and nothing lost"
    );
    assert!(bench.records().check().unwrap().faults.is_empty());
    bench.says(&["import", "carried.json"], 0);
    assert_eq!(uids(&bench.store()).len(), 800);
}

#[test]
fn a_clock_that_jumps_back_changes_no_order_and_is_told() {
    let bench = Bench::new();
    let mut records = bench.records();
    let tomorrow = jiff::Timestamp::now() + Duration::from_secs(86_400);
    let ahead = Attempt {
        at: tomorrow,
        ..attempt(0, Some("Ana"))
    };
    records.add(&ahead, &[]).unwrap();
    records.add(&attempt(1, Some("Ana")), &[]).unwrap();
    let order: Vec<String> = records
        .attempts(Which::default())
        .unwrap()
        .into_iter()
        .map(|it| it.ticket)
        .collect();
    assert_eq!(order, ["run-0", "run-1"]);
    let refused = records
        .sign_off(ahead.uid, "The trainer", "", None)
        .unwrap_err();
    assert_eq!(refused.message().id(), "records-clock-back");
    assert_eq!(records.check().unwrap().clock_went_back, 0);
    // As it would be written by a machine whose clock was put back.
    let db = Connection::open(bench.store()).unwrap();
    db.execute_batch(
        "CREATE TEMP TABLE t AS SELECT * FROM attempts WHERE seq = 2; \
         UPDATE t SET seq = 3, uid = '00000000-0000-4000-8000-000000000000', ticket = 'run-2', \
         recorded_at = '2001-01-01T00:00:00Z'; INSERT INTO attempts SELECT * FROM t",
    )
    .unwrap();
    assert_eq!(records.check().unwrap().clock_went_back, 1);
    let said = bench.says(&["check"], 0);
    assert!(said.contains("The clock was put back once"), "{said}");
}

#[test]
fn whoever_is_forgotten_leaves_no_trace_but_numbers() {
    let bench = Bench::new();
    let mut records = bench.records();
    let name = "Xiomara Quetzalcóatl";
    records
        .add_people(&[name.to_owned()], "88-77-66", Some("Spring"))
        .unwrap();
    for number in 0..30 {
        records
            .add(&attempt(number, Some("Bo")), &findings(number))
            .unwrap();
    }
    let person = records.find_person(name).unwrap();
    for number in 0..10 {
        let uid = attempt(number, None).uid;
        records
            .correct(
                uid,
                &Correction::Person(person.id),
                "Trainer",
                "sat there: Xiomara",
            )
            .unwrap();
        records
            .sign_off(uid, name, "Xiomara did well", None)
            .unwrap();
    }
    records
        .set_due(&person, None, "2027-01-01".parse().unwrap())
        .unwrap();
    let carried = records.carried(None).unwrap();
    let before = records.summary(None, &[], Lang::English).unwrap();
    let gone = records.forget(&person).unwrap();
    assert_eq!(gone.len(), 10, "its recordings");
    let after = records.summary(None, &[], Lang::English).unwrap();
    assert_eq!(after.attempts, before.attempts);
    assert_eq!(after.findings, before.findings);
    assert_eq!(after.rounds, before.rounds);
    assert!(records.find_person(name).is_err());
    assert!(records.due(None).unwrap().is_empty());
    assert!(records.check().unwrap().faults.is_empty());
    // An older file of another machine does not bring them back.
    records.take_in(&carried).unwrap();
    assert!(records.find_person(name).is_err());
    drop(records);
    let uid = person.uid.to_string();
    for file in fs::read_dir(bench.folder.path()).unwrap() {
        let path = file.unwrap().path();
        let bytes = fs::read(&path).unwrap();
        for trace in ["Xiomara", "xiomara", "88-77-66"] {
            let found = bytes.windows(trace.len()).any(|it| it == trace.as_bytes());
            assert!(!found, "{trace} in {}", path.display());
        }
    }
    let db = Connection::open(bench.store()).unwrap();
    let count = "SELECT COUNT(*) FROM people WHERE uid = ?1";
    let linked: i64 = db.query_row(count, [uid], |row| row.get(0)).unwrap();
    assert_eq!(linked, 0);
}

#[test]
fn records_of_other_machines_are_taken_in_once() {
    let [yard, office] = [Bench::new(), Bench::new()];
    let mut there = yard.records();
    there
        .add_people(&["Ana".to_owned(), "Bo".to_owned()], "", Some("Spring"))
        .unwrap();
    for number in 0..20 {
        let who = [Some("Ana"), Some("Bo"), None][number as usize % 3];
        there.add(&attempt(number, who), &findings(number)).unwrap();
    }
    let bo = there.find_person("Bo").unwrap();
    there
        .correct(
            attempt(0, None).uid,
            &Correction::Person(bo.id),
            "Cy",
            "mixed up",
        )
        .unwrap();
    there
        .correct(attempt(1, None).uid, &Correction::Void, "Cy", "power")
        .unwrap();
    there
        .sign_off(
            attempt(3, None).uid,
            "Cy",
            "",
            Some("2027-02-03".parse().unwrap()),
        )
        .unwrap();
    // The same person is known here already, under another id.
    let mut here = office.records();
    here.add(&attempt(500, Some("ana")), &[]).unwrap();
    drop(here);
    let file = office.path("yard.json");
    fs::write(&file, there.carried(None).unwrap().to_json().unwrap()).unwrap();
    let store = yard.store();
    let mut states = Vec::new();
    for from in [
        file.as_path(),
        file.as_path(),
        store.as_path(),
        file.as_path(),
    ] {
        office.says(&["import", from.to_str().unwrap()], 0);
        let records = office.records();
        let all = Which {
            void: true,
            ..Which::default()
        };
        let kept: Vec<_> = records
            .attempts(all)
            .unwrap()
            .iter()
            .map(|it| records.kept(it.uid).unwrap().unwrap())
            .collect();
        states.push((
            kept,
            records.people(None).unwrap(),
            records.classes().unwrap(),
        ));
        assert_eq!(records.due(None).unwrap().len(), 1);
        assert!(records.check().unwrap().faults.is_empty());
    }
    assert!(states.iter().all(|state| *state == states[0]));
    let (kept, people, classes) = &states[0];
    assert_eq!((kept.len(), people.len()), (21, 3), "one ana, Bo, Cy");
    assert_eq!(classes, &[("Spring".to_owned(), 2)]);
    let moved = office
        .records()
        .kept(attempt(0, None).uid)
        .unwrap()
        .unwrap();
    assert_eq!(moved.attempt.trainee.as_deref(), Some("Bo"));
    // There and back again nothing is new.
    let back = there
        .take_in(&office.records().carried(None).unwrap())
        .unwrap();
    assert_eq!((back.attempts, back.remarks), (1, 0));
}

#[test]
fn files_that_are_not_what_they_should_be_are_told_and_change_nothing() {
    let bench = Bench::new();
    let mut records = bench.records();
    for number in 0..3 {
        records
            .add(&attempt(number, Some("Ana")), &findings(number))
            .unwrap();
    }
    let good = String::from_utf8(records.carried(None).unwrap().to_json().unwrap()).unwrap();
    let before = records.attempts(Which::default()).unwrap();
    drop(records);
    let store = fs::read(bench.store()).unwrap();
    let bad: [(&str, Vec<u8>); 9] = [
        ("empty", Vec::new()),
        ("cut", good.as_bytes()[..good.len() / 2].to_vec()),
        (
            "newer",
            good.replacen("\"format\": 1", "\"format\": 2", 1).into(),
        ),
        (
            "points",
            good.replacen("\"points\": 96.0", "\"points\": 196.0", 1)
                .into(),
        ),
        ("field", good.replacen("\"seed\"", "\"sed\"", 1).into()),
        ("deep", "[".repeat(100_000).into()),
        ("store-cut", store[..store.len() / 2].to_vec()),
        (
            "store-head",
            [b"SQLite format 3\0".as_slice(), &[0; 4000]].concat(),
        ),
        ("noise", vec![0xA5; 70_000]),
    ];
    for (name, bytes) in bad {
        fs::write(bench.path(name), bytes).unwrap();
        let said = bench.says(&["import", name], 2);
        assert!(said.contains(name) && !said.contains("panicked"), "{said}");
        assert!(Carried::load(&bench.path(name)).is_err(), "{name}");
    }
    // An attempt with another result under the same id is told, and the one here stands.
    let other = good.replacen("\"points\": 96.0", "\"points\": 97.0", 1);
    fs::write(bench.path("other"), other).unwrap();
    let said = bench.says(&["import", "other"], 1);
    assert!(said.contains("the one here stands"), "{said}");
    assert_eq!(bench.records().attempts(Which::default()).unwrap(), before);
    // A bad file among good ones: none is taken in.
    fs::write(bench.path("good"), good.replace("run-", "ran-")).unwrap();
    bench.says(&["import", "good", "cut"], 2);
    assert_eq!(bench.records().attempts(Which::default()).unwrap(), before);
}

#[test]
fn a_class_is_summed_up() {
    let bench = Bench::new();
    let mut records = bench.records();
    records
        .add_people(
            &["Ana".to_owned(), "Bo".to_owned(), "Cy".to_owned()],
            "",
            Some("Spring"),
        )
        .unwrap();
    // Exercise 0: Ana fails, passes, passes with another seed; Bo fails; Cy does not come.
    let exercise = |number: u64, who: &str, passed: bool, seed| Attempt {
        scenario: "exercise-0".to_owned(),
        scenario_hash: "0".to_owned(),
        passed,
        points: if passed { 90.0 } else { 40.0 },
        seed,
        ..attempt(number, Some(who))
    };
    for (number, who, passed, seed) in [
        (1, "Ana", false, 1),
        (2, "Ana", true, 1),
        (3, "Ana", true, 2),
        (4, "Bo", false, 1),
    ] {
        records
            .add(&exercise(number, who, passed, seed), &findings(number))
            .unwrap();
    }
    records.add(&exercise(9, "Dee", true, 1), &[]).unwrap();
    let (class, _) = records.find_class("Spring").unwrap();
    let taught = [("exercise-0", "0"), ("exercise-1", "1")].map(|(scenario, hash)| Exercise {
        scenario: scenario.to_owned(),
        hash: hash.to_owned(),
        title: scenario.to_uppercase(),
    });
    let summary = records
        .summary(Some(class), &taught, Lang::English)
        .unwrap();
    assert_eq!((summary.attempts, summary.nobodys), (4, 0));
    let [of] = summary.exercises.as_slice() else {
        panic!("{summary:?}");
    };
    assert_eq!(
        (of.tried, of.passed, of.mastered, of.attempts),
        (2, 1, 1, 4)
    );
    assert_eq!(of.title, "EXERCISE-0");
    let standings: Vec<Standing> = summary.people.iter().map(|it| it.standings[0]).collect();
    let wanted = [
        Standing::Mastered { points: 90.0 },
        Standing::NotPassed { points: 40.0 },
        Standing::NotTried,
    ];
    assert_eq!(standings, wanted);
    let rounds: Vec<(u64, u64)> = summary
        .rounds
        .iter()
        .map(|it| (it.attempts, it.passed))
        .collect();
    assert_eq!(rounds, [(2, 0), (1, 1), (1, 1)]);
    // Found in four attempts by two people; still open in Ana's last one and Bo's.
    assert_eq!(summary.findings[0].people, 2);
    let open: Vec<&str> = summary.open.iter().map(|it| it.id.as_str()).collect();
    let last: BTreeSet<String> = [3, 4]
        .into_iter()
        .flat_map(findings)
        .map(|it| it.kind)
        .collect();
    assert_eq!(
        open.iter()
            .map(|it| (*it).to_owned())
            .collect::<BTreeSet<_>>(),
        last
    );
    assert_eq!(summary.next.unwrap().scenario, "exercise-0");
    let everybody = |records: &Records| records.summary(None, &taught, Lang::English).unwrap();
    let all = everybody(&records);
    assert_eq!((all.attempts, all.people.len()), (5, 4));
    // Whoever signs off is nobody to be taught, until they try something themselves.
    let signed = exercise(1, "Ana", false, 1).uid;
    records.sign_off(signed, "Rosa", "", None).unwrap();
    assert_eq!(everybody(&records).people.len(), 4);
    records.add(&exercise(10, "Rosa", true, 1), &[]).unwrap();
    assert_eq!(everybody(&records).people.len(), 5);
    // What is not taught any more keeps the name that it had.
    let spanish = records.summary(None, &[], Lang::Spanish).unwrap();
    let titled = exercise(10, "Rosa", true, 1);
    assert_eq!(spanish.exercises[0].title, titled.title("es"));
    assert!(!spanish.exercises[0].is_taught);
}

#[test]
fn a_large_class_is_summed_up_at_once() {
    let bench = Bench::new();
    let attempts = number_from("CHOCKLINE_CLASS", 400);
    let names: Vec<String> = (0..200).map(|number| format!("Trainee {number}")).collect();
    let mut records = bench.records();
    records.add_people(&names, "", Some("All")).unwrap();
    let other = Bench::new();
    let mut made = other.records();
    for number in 0..attempts {
        let who = &names[number as usize % names.len()];
        made.add(&attempt(number, Some(who)), &findings(number))
            .unwrap();
    }
    records.take_in(&made.carried(None).unwrap()).unwrap();
    let (class, _) = records.find_class("All").unwrap();
    let begun = Instant::now();
    let summary = records.summary(Some(class), &[], Lang::English).unwrap();
    let took = begun.elapsed();
    println!("{attempts} attempts of 200 people summed up in {took:?}");
    assert_eq!((summary.attempts, summary.people.len()), (attempts, 200));
    if !cfg!(debug_assertions) {
        assert!(took < Duration::from_secs(1), "{took:?}");
    }
    assert!(took < Duration::from_secs(10), "{took:?}");
}

#[test]
fn the_table_is_read_by_others_as_it_was_written() {
    let bench = Bench::new();
    let mut records = bench.records();
    let name = "Núñez, \"Ana\"";
    records.add(&attempt(0, Some(name)), &findings(0)).unwrap();
    records
        .sign_off(attempt(0, None).uid, "Cy", "=2+3, \"well\"\r\ndone", None)
        .unwrap();
    records.add(&attempt(1, None), &[]).unwrap();
    bench.says(&["export", "--csv", "t.csv"], 0);
    let bytes = fs::read(bench.path("t.csv")).unwrap();
    let text = String::from_utf8(bytes).unwrap();
    assert!(text.ends_with("\r\n"));
    let mut reader = csv::Reader::from_reader(text.as_bytes());
    let heads = reader.headers().unwrap().clone();
    let rows: Vec<csv::StringRecord> = reader.records().collect::<Result<_, _>>().unwrap();
    let cell = |row: usize, name: &str| {
        let column = heads.iter().position(|head| head == name).unwrap();
        rows[row][column].to_owned()
    };
    assert_eq!(rows.len(), 2);
    assert_eq!(cell(0, "trainee"), name);
    assert_eq!(
        cell(0, "sign_off_note"),
        "'=2+3, \"well\"\r\ndone",
        "no formula"
    );
    assert_eq!(cell(0, "seed"), u64::MAX.to_string());
    assert_eq!(cell(1, "trainee"), "");
}

#[test]
fn the_page_about_an_attempt_says_what_it_is_and_what_it_is_not() {
    let bench = Bench::new();
    let mut records = bench.records();
    let hostile = "<script>alert('x')</script><!--body-->";
    records
        .add(&attempt(3, Some(hostile)), &findings(1))
        .unwrap();
    let uid = attempt(3, None).uid;
    let page = |records: &Records, lang| {
        let kept = records.kept(uid).unwrap().unwrap();
        certificate(&kept, &Trained::default(), Texts::of(lang)).unwrap()
    };
    let unsigned = page(&records, Lang::English);
    assert!(unsigned.contains("Not signed off"));
    records
        .sign_off(uid, "Cy Marr", "steady hands", None)
        .unwrap();
    for lang in Lang::ALL {
        let texts = Texts::of(lang);
        let page = page(&records, lang);
        for said in ["certificate-title", "certificate-no-evaluation", "caution"] {
            let said = texts.say(&said.into()).replace('\'', "&#39;");
            assert!(page.contains(&said), "{said}");
        }
        let facts = [
            format!("lang=\"{}\"", lang.code()),
            "0.1.0".to_owned(),
            "Cy Marr".to_owned(),
            uid.to_string(),
            attempt(3, None).title(lang.code()).to_owned(),
            "steady hands".to_owned(),
        ];
        for fact in facts {
            assert!(page.contains(&fact), "{fact}");
        }
        // Nothing from elsewhere, and nothing of ours that somebody else has written.
        assert!(!page.contains("<script") && !page.contains("http") && !page.contains("url("));
        assert_eq!(page.matches("<body>").count(), 1);
    }
    records
        .correct(uid, &Correction::Void, "Cy Marr", "power")
        .unwrap();
    let said = bench.says(&["certificate", &uid.to_string(), "--out", "page.html"], 2);
    assert!(said.contains("does not count"), "{said}");
    assert!(!bench.path("page.html").exists());
}

#[test]
fn the_commands_do_what_they_say() {
    let bench = Bench::new();
    assert!(bench.says(&["list"], 2).contains("no records yet"));
    assert!(
        bench
            .says(&["add", "Ana", "Bo", "--class", "Spring"], 0)
            .contains("2 people added")
    );
    assert!(bench.says(&[], 0).contains("nothing yet"));
    let mut records = bench.records();
    records.add(&attempt(3, Some("Ana")), &findings(3)).unwrap();
    records.add(&attempt(4, Some("Bo")), &findings(4)).unwrap();
    drop(records);
    assert_eq!(
        bench.says(&["list", "--person", "ana"], 0).lines().count(),
        1
    );
    assert_eq!(bench.says(&["list", "people"], 0), "Ana\nBo\n");
    assert_eq!(bench.says(&["list", "classes"], 0), "Spring: 2 people\n");
    let signed = ["sign-off", "run-3", "--by", "Cy", "--due", "2027-03-04"];
    bench.says(&signed, 0);
    assert!(bench.says(&["list", "due"], 0).contains("2027-03-04  Ana"));
    bench.says(&["due", "Bo", "2027-01-02"], 0);
    let shown = bench.says(&["show", "run-3"], 0);
    assert!(
        shown.contains("Signed off by Cy") && shown.contains("2027-03-04"),
        "{shown}"
    );
    bench.says(
        &[
            "correct",
            "run-4",
            "--why",
            "power cut",
            "--by",
            "Cy",
            "--void",
        ],
        0,
    );
    assert_eq!(bench.says(&["list"], 0).lines().count(), 1);
    let summary = bench.says(&["summary", "--class", "spring", "--json", "s.json"], 0);
    assert!(
        summary.contains("Class Spring: 2 people, 1 attempt"),
        "{summary}"
    );
    assert!(summary.contains("To teach next"), "{summary}");
    let json: serde_json::Value =
        serde_json::from_slice(&fs::read(bench.path("s.json")).unwrap()).unwrap();
    assert_eq!(json["attempts"], 1);
    bench.says(&["certificate", "run-3", "--out", "c.html"], 0);
    assert!(
        fs::read_to_string(bench.path("c.html"))
            .unwrap()
            .contains("Ana")
    );
    bench.says(&["backup", "b.sqlite"], 0);
    assert!(bench.says(&["backup", "b.sqlite"], 2).contains("b.sqlite"));
    assert!(bench.says(&["forget", "Ana"], 2).contains("--yes"));
    bench.says(&["forget", "Ana", "--yes"], 0);
    assert!(!bench.says(&["list"], 0).contains("Ana"));
    bench.says(&["restore", "b.sqlite"], 0);
    assert!(bench.says(&["list"], 0).contains("Ana"));
    assert!(bench.says(&["check"], 0).contains("It is sound"));
    let over = ["export", "--csv", "records.sqlite"];
    assert!(bench.says(&over, 2).contains("the records already"));
    for bad in [
        vec!["export"],
        vec!["show"],
        vec!["sing"],
        vec!["due", "Bo", "tomorrow"],
        vec!["sign-off", "run-3"],
        vec!["list", "--class", "none"],
        vec!["send", "--to", "http://far.example/x", "--user", "u"],
        vec!["add"],
        vec!["add", "A", "B", "--number", "1"],
        vec!["import", "none.json"],
    ] {
        let said = bench.says(&bad, 2);
        assert!(
            !said.is_empty() && !said.contains("panicked"),
            "{bad:?}: {said}"
        );
    }
    for help in ["list", "sign-off", "send"] {
        assert!(
            bench
                .says(&[help, "--help"], 0)
                .contains("Usage: chockline records")
        );
    }
}

#[test]
fn a_damaged_store_is_told_and_left_as_it_is() {
    let bench = Bench::new();
    let mut records = bench.records();
    for number in 0..60 {
        records
            .add(&attempt(number, Some("Ana")), &findings(number))
            .unwrap();
    }
    records.backup(&bench.path("b")).unwrap();
    drop(records);
    let mut bytes = fs::read(bench.path("b")).unwrap();
    // The pages behind the first.
    let end = bytes.len();
    bytes[8192..end.min(40_000)].fill(0xEE);
    fs::write(bench.store(), &bytes).unwrap();
    let said = bench.says(&["check"], bench.run(&["check"]).status.code().unwrap());
    assert!(said.contains("damaged"), "{said}");
    assert_ne!(bench.run(&["check"]).status.code(), Some(0));
    assert!(matches!(
        Records::open_copy(&bench.store()),
        Err(RecordsError::Database { .. } | RecordsError::Foreign { .. })
    ));
    bench.says(&["restore", "b"], 0);
    assert_eq!(uids(&bench.store()).len(), 60);
}
