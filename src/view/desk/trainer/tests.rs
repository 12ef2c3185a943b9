use std::path::{Path, PathBuf};
use std::sync::Mutex;
use std::time::Instant;

use super::*;
use crate::records::{Attempt, Correction, Found, Records};
use crate::view::panels::trainer::{Action, Form};

/// A page that no browser opens, and one that is opened.
fn fails(_: &Path) -> std::io::Result<()> {
    Err(std::io::ErrorKind::NotFound.into())
}
static OPENED: Mutex<Vec<PathBuf>> = Mutex::new(Vec::new());
fn opens(path: &Path) -> std::io::Result<()> {
    OPENED.lock().unwrap().push(path.to_owned());
    Ok(())
}

struct Bench {
    folder: tempfile::TempDir,
    house: House,
    trainer: Trainer,
}

impl Bench {
    fn new() -> Self {
        Self::with(fails)
    }

    fn with(opener: Opener) -> Self {
        let folder = tempfile::tempdir().unwrap();
        let store = Store::at(folder.path()).unwrap();
        let house = House::at(store.clone(), Lang::English);
        let mut trainer = Trainer::of(store, opener);
        trainer.enter(&house);
        let mut bench = Self {
            folder,
            house,
            trainer,
        };
        bench.wait(|trainer| !trainer.is_reading);
        bench
    }

    fn records(&self) -> Records {
        Records::open(&self.trainer.store.records_file()).unwrap()
    }

    /// Goes on until it has come to something.
    fn wait(&mut self, come: impl Fn(&Trainer) -> bool) {
        let until = Instant::now() + Duration::from_secs(30);
        loop {
            self.trainer.drive();
            if come(&self.trainer) {
                return;
            }
            assert!(Instant::now() < until, "it does not come to it");
            std::thread::sleep(Duration::from_millis(5));
        }
    }

    fn act(&mut self, action: Action) -> Option<Turn> {
        let texts = self.house.texts();
        let turn = self.trainer.act(action, &mut self.house, texts);
        self.wait(|trainer| !trainer.is_reading && !trainer.is_writing);
        turn
    }

    fn model(&self) -> page::Model {
        self.trainer.model(self.house.texts())
    }

    /// An attempt at the exercise of a place in the library, as it is kept.
    fn attempt(&self, number: u64, trainee: &str, exercise: usize, passed: bool) -> Attempt {
        let entry = self.house.entry(exercise).unwrap();
        let course = entry.course(Mode::Assessed);
        let ticket = format!("run-{number}");
        let at = jiff::Timestamp::from_second(1_770_000_000 + 600 * number as i64).unwrap();
        Attempt {
            uid: crate::records::uid_named(Uuid::NAMESPACE_URL, ticket.as_bytes()),
            ticket,
            at,
            trainee: Some(trainee.to_owned()),
            scenario: course.id.clone(),
            scenario_hash: crate::session::store::hash_of(&course.loaded.text),
            titles: Lang::ALL
                .map(|lang| (lang.code().to_owned(), course.scenario().texts(lang).name))
                .into(),
            seed: course.seed,
            mode: "assessed".to_owned(),
            passed,
            points: if passed { 92.0 } else { 45.0 },
            pass_mark: 80.0,
            ended: Some(crate::operator::Ending::AtRest),
            outcome: None,
            duration_s: 300.0,
            breaks: 0,
            breaks_s: 0.0,
            recording: Some(format!("run-{number}.chock")),
            program: "0.1.0".to_owned(),
        }
    }

    fn keep(&self, attempt: &Attempt) {
        let found = Found {
            kind: crate::domain::finding::FindingKind::NoHorn.id().to_owned(),
            severity: crate::domain::finding::Severity::Minor,
            tick: 240,
            time_s: 1.0,
            points: 4.0,
            rule: "The rule".to_owned(),
        };
        self.records().add(attempt, &[found]).unwrap();
    }

    /// A class of three with some attempts, and the first of them looked at.
    fn class() -> Self {
        let mut bench = Self::new();
        bench.act(Action::AddClass("Spring".to_owned()));
        bench.act(Action::AddPeople {
            names: ["Ana Núñez", "Bo Lund", "Cy Ode"].map(str::to_owned).into(),
            number: String::new(),
        });
        bench.keep(&bench.attempt(1, "Ana Núñez", 0, true));
        bench.keep(&bench.attempt(2, "Ana Núñez", 1, false));
        bench.keep(&bench.attempt(3, "Bo Lund", 0, false));
        // What another program writes is seen without being asked for.
        bench.wait(|trainer| trainer.seen.summary.attempts == 3);
        bench.act(Action::Person(0));
        bench
    }
}

fn said(bench: &Bench) -> (Mark, String) {
    bench.model().done.unwrap()
}

#[test]
fn a_class_is_made_filled_and_looked_at() {
    let mut bench = Bench::class();
    let model = bench.model();
    let names: Vec<&str> = model
        .classes
        .iter()
        .map(|(name, _)| name.as_str())
        .collect();
    assert_eq!(names, ["Everybody", "Spring"]);
    assert_eq!((model.class, model.classes[1].1.as_str()), (1, "3 people"));
    let [ana, bo, cy] = &model.people[..] else {
        panic!("{:?}", model.people);
    };
    assert_eq!(
        (ana.name.as_str(), ana.attempts.as_str()),
        ("Ana Núñez", "2")
    );
    let of = bench.house.library().entries().len();
    assert_eq!(ana.passed, format!("1 of {of}"));
    let (mark, last) = ana.last.as_ref().unwrap();
    assert!(
        *mark == Mark::Not && last.ends_with("not passed, 45 points"),
        "{last}"
    );
    assert_eq!(
        (bo.passed.clone(), cy.last.clone()),
        (format!("0 of {of}"), None)
    );
    let glance = &model.glance;
    assert_eq!(glance.exercises.len(), 2);
    assert!(glance.people[0].1[0].is_passed() && !glance.people[0].1[1].is_passed());
    assert_eq!(glance.findings.len(), 1);
    assert!(
        (glance.findings[0].0 - 2.0 / 3.0).abs() < 1e-6,
        "two of three people"
    );
    assert_eq!(glance.rounds.len(), 1);
    assert_eq!(glance.next.len(), 2);
    // Everybody is more than the class.
    bench
        .records()
        .add_people(&["Dee".to_owned()], "", None)
        .unwrap();
    bench.act(Action::All);
    bench.act(Action::Class(0));
    assert_eq!(bench.model().people.len(), 4);
}

#[test]
fn the_first_exercise_not_passed_is_proposed_and_leads_to_a_brief_under_their_name() {
    let mut bench = Bench::class();
    let person = bench.model().person.unwrap();
    assert_eq!(person.proposed, 1);
    assert_eq!(person.attempts.len(), 2);
    assert_eq!(person.attempts[0].date, "2026-02-02", "the last first");
    let brief = |bench: &mut Bench, others| {
        let assess = Action::Assess {
            exercise: person.proposed,
            others,
        };
        match bench.act(assess) {
            Some(Turn::Brief(briefed)) => briefed.course().clone(),
            _ => panic!("no brief"),
        }
    };
    let course = brief(&mut bench, false);
    assert_eq!(course.trainee.as_deref(), Some("Ana Núñez"));
    assert_eq!(course.mode, Mode::Assessed);
    let entry = bench.house.entry(1).unwrap();
    assert_eq!(
        (course.id.as_str(), course.seed),
        (entry.id.as_str(), entry.loaded.scenario.seed)
    );
    let others = brief(&mut bench, true);
    assert_ne!(others.seed, course.seed);
    assert_eq!(others.trainee, course.trainee);
}

#[test]
fn of_two_people_of_one_name_the_attempt_is_that_of_whoever_was_assessed() {
    let mut bench = Bench::new();
    for number in ["3", "7"] {
        bench.act(Action::AddPeople {
            names: vec!["Bo Lund".to_owned()],
            number: number.to_owned(),
        });
    }
    let rows = bench.model().people;
    assert_eq!((rows.len(), rows[1].name.as_str()), (2, "Bo Lund #7"));
    bench.act(Action::Person(1));
    let assess = Action::Assess {
        exercise: 0,
        others: false,
    };
    let Some(Turn::Brief(briefed)) = bench.act(assess) else {
        panic!("no brief");
    };
    let trainee = briefed.course().trainee.clone().unwrap();
    bench.keep(&bench.attempt(1, &trainee, 0, true));
    bench.wait(|trainer| trainer.seen.kept.len() == 1);
    let rows = bench.model().people;
    assert_eq!(rows.len(), 2, "nobody new");
    assert_eq!(
        [rows[0].attempts.as_str(), rows[1].attempts.as_str()],
        ["0", "1"]
    );
}

#[test]
fn an_attempt_is_signed_off_and_the_name_is_kept() {
    let mut bench = Bench::class();
    bench.trainer.state.form = Some(Form::SignOff {
        by: "Jo Vega".to_owned(),
        note: "Steady".to_owned(),
        asked: false,
    });
    bench.act(Action::Attempt(1));
    bench.act(Action::SignOff {
        by: "Jo Vega".to_owned(),
        note: "Steady".to_owned(),
    });
    assert_eq!(
        said(&bench),
        (Mark::Ok, "Signed off by Jo Vega.".to_owned())
    );
    assert_eq!(bench.trainer.state.form, None, "it is done");
    let model = bench.model();
    let attempts = model.person.unwrap().attempts;
    assert_eq!(attempts[1].signed, "Signed off by Jo Vega");
    assert_eq!(attempts[0].signed, "Not signed off");
    assert_eq!(model.trainer, "Jo Vega");
    let (settings, _) = crate::session::Settings::load(&bench.trainer.store.settings());
    assert_eq!(settings.trainer.as_deref(), Some("Jo Vega"));
}

#[test]
fn what_does_not_count_is_told_and_counts_no_more() {
    let mut bench = Bench::class();
    bench.act(Action::Void {
        by: "Jo Vega".to_owned(),
        why: "Somebody else helped".to_owned(),
    });
    let model = bench.model();
    let attempt = &model.person.unwrap().attempts[0];
    assert!(!attempt.counts && attempt.result.starts_with("does not count"));
    assert!(attempt.remarks[0].1.contains("Somebody else helped"));
    assert_eq!(model.people[0].attempts, "1");
    let last = model.people[0].last.as_ref().unwrap();
    assert!(last.1.contains(": passed"), "{last:?}");
}

#[test]
fn who_is_overdue_is_told_by_a_word() {
    let mut bench = Bench::class();
    for (on, at_exercise) in [("2026-03-01", true), ("2999-01-01", false)] {
        bench.act(Action::Due {
            on: on.to_owned(),
            at_exercise,
        });
    }
    let model = bench.model();
    let (mark, due) = model.people[0].due.clone().unwrap();
    assert_eq!(mark, Some(Mark::Caution));
    assert!(
        due.starts_with("2026-03-01") && due.ends_with("overdue"),
        "{due}"
    );
    assert_eq!(model.people[1].due, None);
    assert_eq!(model.soon.len(), 3);
}

#[test]
fn a_page_is_written_and_said_where_nothing_opens_it() {
    let mut bench = Bench::class();
    let texts = bench.house.texts();
    bench
        .trainer
        .act(Action::Certificate, &mut bench.house, texts);
    let stage = |trainer: &Trainer| trainer.page.as_ref().map(|page| page.stage.clone());
    bench.wait(|trainer| matches!(stage(trainer), Some(pages::Stage::NotOpened(_))));
    let Some(pages::Stage::NotOpened(path)) = stage(&bench.trainer) else {
        panic!("no page");
    };
    assert!(path.starts_with(bench.trainer.store.reports()));
    assert!(
        std::fs::read_to_string(&path)
            .unwrap()
            .contains("Ana Núñez")
    );
    let (_, said) = bench.model().person.unwrap().attempts[0]
        .page
        .clone()
        .unwrap();
    assert!(said.contains(&path.display().to_string()), "{said}");
    // There was no recording of it here.
    bench.trainer.act(Action::Report, &mut bench.house, texts);
    bench.wait(|trainer| matches!(stage(trainer), Some(pages::Stage::Failed(_))));
    let (mark, said) = bench.model().person.unwrap().attempts[0]
        .page
        .clone()
        .unwrap();
    assert!(
        mark == Mark::Caution && said.contains("recording"),
        "{said}"
    );
}

#[test]
fn a_page_is_opened() {
    let mut bench = Bench::with(opens);
    bench.keep(&bench.attempt(1, "Ana", 0, true));
    bench.wait(|trainer| trainer.seen.people.len() == 1);
    bench.act(Action::Person(0));
    let texts = bench.house.texts();
    bench
        .trainer
        .act(Action::Certificate, &mut bench.house, texts);
    bench.wait(|_| !OPENED.lock().unwrap().is_empty());
    bench.wait(|trainer| {
        let page = trainer.page.as_ref().unwrap();
        matches!(&page.stage, pages::Stage::Saved(path) if OPENED.lock().unwrap()[0] == *path)
    });
}

#[test]
fn another_program_that_writes_keeps_the_clerk_waiting_and_not_the_window() {
    let mut bench = Bench::class();
    let other = rusqlite::Connection::open(bench.trainer.store.records_file()).unwrap();
    other.execute_batch("BEGIN IMMEDIATE").unwrap();
    let begun = Instant::now();
    let texts = bench.house.texts();
    let sign = Action::SignOff {
        by: "Jo".to_owned(),
        note: String::new(),
    };
    bench.trainer.act(sign, &mut bench.house, texts);
    for _ in 0..20 {
        bench.trainer.drive();
        let model = bench.model();
        assert!(model.is_writing);
        assert_eq!(model.people.len(), 3, "what was seen is still seen");
    }
    assert!(begun.elapsed() < Duration::from_secs(5));
    other.execute_batch("COMMIT").unwrap();
    bench.wait(|trainer| !trainer.is_writing && !trainer.is_reading);
    assert_eq!(said(&bench).0, Mark::Ok);
}

#[test]
fn what_cannot_be_written_is_told_and_what_was_typed_stays() {
    let mut bench = Bench::class();
    let form = Form::People {
        names: "=x".to_owned(),
        number: String::new(),
    };
    bench.trainer.state.form = Some(form.clone());
    bench.act(Action::AddPeople {
        names: vec!["=x".to_owned()],
        number: String::new(),
    });
    let (mark, told) = said(&bench);
    assert!(mark == Mark::Caution && told.contains("no name"), "{told}");
    assert_eq!(bench.trainer.state.form, Some(form));
    // Damaged while it was open: what was seen is still shown, and why no more is.
    std::fs::write(bench.trainer.store.records_file(), [7; 5000]).unwrap();
    bench.wait(|trainer| trainer.fault.is_some());
    let model = bench.model();
    assert!(model.fault.unwrap().contains("backup"));
    assert_eq!(model.people.len(), 3);
    bench.act(Action::AddClass("Autumn".to_owned()));
    assert_eq!(said(&bench).0, Mark::Caution);
    // And nothing was written over it.
    let bytes = std::fs::read(bench.trainer.store.records_file()).unwrap();
    assert_eq!(bytes, [7; 5000]);
}

#[test]
fn nothing_is_made_where_nothing_has_been_kept_yet() {
    let bench = Bench::new();
    let model = bench.model();
    assert!(model.people.is_empty() && model.fault.is_none());
    assert_eq!(model.classes.len(), 1);
    assert!(!bench.trainer.store.records_file().exists());
    let kept = std::fs::read_dir(bench.folder.path()).unwrap();
    assert_eq!(kept.count(), 1, "the folder for recordings");
}

#[test]
fn whoever_is_left_and_come_back_to_is_still_there() {
    let mut bench = Bench::class();
    bench.trainer.leave();
    bench.records().add_class("Autumn").unwrap();
    let ana = bench.records().find_person("Ana Núñez").unwrap();
    let attempt = bench.attempt(2, "Ana Núñez", 1, false);
    let what = Correction::Person(ana.id);
    bench
        .records()
        .correct(attempt.uid, &what, "Jo", "hers")
        .unwrap();
    bench.trainer.enter(&bench.house);
    bench.wait(|trainer| !trainer.is_reading);
    let model = bench.model();
    assert_eq!(model.classes.len(), 3);
    assert_eq!(model.person.unwrap().name, "Ana Núñez");
    assert_eq!(bench.trainer.caption(), "window-trainer-person");
}

/// What was begun here leads back here, and to whoever it was begun for.
#[test]
fn an_assessment_leads_back_to_whoever_it_was_for() {
    use crate::view::desk::{Desk, Screen};

    let bench = Bench::class();
    let mut desk = Desk::new(House::at(bench.trainer.store.clone(), Lang::English));
    desk.turn(Turn::Trainer);
    let person = bench.trainer.query.person;
    let ready = |desk: &mut Desk| {
        let until = Instant::now() + Duration::from_secs(30);
        loop {
            let Screen::Trainer(trainer) = &mut desk.screen else {
                panic!("another screen");
            };
            trainer.drive();
            if !trainer.is_reading {
                return;
            }
            assert!(Instant::now() < until);
            std::thread::sleep(Duration::from_millis(5));
        }
    };
    ready(&mut desk);
    if let Screen::Trainer(trainer) = &mut desk.screen {
        trainer.query.person = person;
        trainer.look();
    }
    ready(&mut desk);
    let Screen::Trainer(trainer) = &mut desk.screen else {
        panic!("another screen");
    };
    let brief = trainer.assess(0, false, &desk.house).unwrap();
    desk.turn(brief);
    assert!(matches!(&desk.screen, Screen::Brief(_)) && desk.is_for_trainer);
    desk.turn(Turn::Exercises);
    let Screen::Trainer(trainer) = &desk.screen else {
        panic!("not back");
    };
    assert_eq!(trainer.query.person, person);
    // From the first screen on everything is as it was before.
    desk.turn(Turn::Title);
    desk.turn(Turn::Exercises);
    assert!(matches!(desk.screen, Screen::Exercises));
}
