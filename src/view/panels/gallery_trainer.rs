//! Data made up for the trainer's screen.

use bevy_egui::egui::Ui;

use super::gallery::{exercise, say};
use super::trainer::{Attempt, Form, Glance, Going, Model, Person, Row, State, Tab, show as page};
use crate::domain::finding::FindingKind;
use crate::evidence::severity;
use crate::judge::explain;
use crate::records::Standing;
use crate::session::mode::Mode;
use crate::sim::line::EventKind;
use crate::texts::{Message, Texts};
use crate::view::icons::Mark;
use crate::words;

/// Shows a screen by its name; nothing where there is none of that name.
pub fn show(name: &str, ui: &mut Ui, texts: &Texts) {
    let Some(mut state) = state(name) else {
        return;
    };
    page(ui, texts, &trainer_model(name, texts), &mut state);
}

fn state(name: &str) -> Option<State> {
    let usual = State::default();
    let with = |form: Form| State {
        form: Some(form),
        ..State::default()
    };
    Some(match name {
        "trainer" | "trainer_none" | "trainer_fault" | "trainer_person" => usual,
        "trainer_glance" => State {
            tab: Tab::Glance,
            ..usual
        },
        "trainer_going" => State {
            tab: Tab::Going,
            ..usual
        },
        "trainer_classes" | "trainer_attempt" => State {
            opened: true,
            ..usual
        },
        "trainer_add" => with(Form::People {
            names: "Ana Núñez\nBo Lund".to_owned(),
            number: "7".to_owned(),
        }),
        "trainer_sign" | "trainer_sure" => with(Form::SignOff {
            by: TRAINER.to_owned(),
            note: String::new(),
            asked: name == "trainer_sure",
        }),
        "trainer_date" => with(Form::Due {
            on: "2027-02-30".to_owned(),
            at_exercise: true,
        }),
        "trainer_void" => with(Form::Void {
            by: TRAINER.to_owned(),
            why: String::new(),
        }),
        "trainer_assess" => with(Form::Assess {
            exercise: 2,
            others: false,
        }),
        _ => return None,
    })
}

const TRAINER: &str = "Jo Vega";

const PEOPLE: [&str; 12] = [
    "Amaia Etxeberria",
    "Ana Núñez",
    "Bo Lund",
    "Carmen de la Fuente y Ortega",
    "Dragan Petrović",
    "Elif Yıldız",
    "Ivo Santos #2",
    "Ivo Santos #7",
    "Marisol Quispe",
    "Noor Haddad",
    "Olu Adebayo",
    "Zoë van Dijk",
];

fn said(texts: &Texts, passed: bool, points: f64) -> String {
    let id = match passed {
        true => "trainer-result-passed",
        false => "trainer-result-failed",
    };
    texts.say(&Message::new(id).measured("points", points, 0))
}

fn standing(person: usize, exercise: usize) -> Standing {
    let points = [92.0, 84.0, 45.0, 100.0][(person + 3 * exercise) % 4];
    match (5 * person + 3 * exercise + person * exercise) % 7 {
        0 | 5 => Standing::NotTried,
        1 | 6 => Standing::NotPassed { points: 45.0 },
        2 | 3 => Standing::Passed { points },
        _ => Standing::Mastered { points: 100.0 },
    }
}

/// Fifteen exercises that were tried: more than there is room for beside each other.
fn tried(texts: &Texts) -> Vec<(String, String)> {
    (0..15)
        .map(|i| {
            let title = exercise(texts, i % 7).name;
            let message = Message::new("summary-exercise")
                .with("title", title.as_str())
                .with("attempts", 9_u64)
                .with("tried", "8")
                .with("passed", "6")
                .with("mastered", "2");
            (title, texts.say(&message))
        })
        .collect()
}

pub fn trainer_model(name: &str, texts: &Texts) -> Model {
    let people =
        |count: u64| texts.say(&Message::new("trainer-class-people").with("people", count));
    let usual = Model {
        classes: vec![
            (say(texts, "summary-everybody"), people(57)),
            ("Otoño 2026, cuadrilla norte".to_owned(), people(12)),
            ("Apprentices".to_owned(), people(1)),
        ],
        class: 1,
        trainer: TRAINER.to_owned(),
        soon: [3_u64, 6, 12]
            .map(|months| {
                let words = texts.say(&Message::new("trainer-months").with("months", months));
                (words, format!("2027-{months:02}-28"))
            })
            .into(),
        ..Model::default()
    };
    match name {
        "trainer_none" => Model {
            class: 0,
            classes: vec![(say(texts, "summary-everybody"), people(0))],
            ..usual
        },
        "trainer_fault" => {
            let fault = Message::new("records-read-only").with("file", "/home/yard/records.sqlite");
            Model {
                people: rows(texts),
                fault: Some(texts.say(&fault)),
                busy: Some(say(texts, "trainer-reading")),
                done: Some((Mark::Caution, say(texts, "trainer-no-recording"))),
                ..usual
            }
        }
        "trainer_person" | "trainer_attempt" | "trainer_sign" | "trainer_sure" | "trainer_date"
        | "trainer_void" | "trainer_assess" => Model {
            people: rows(texts),
            person: Some(person(texts)),
            ..usual
        },
        _ => Model {
            people: rows(texts),
            glance: glance(texts),
            going: going(texts),
            ..usual
        },
    }
}

fn rows(texts: &Texts) -> Vec<Row> {
    let of = |(i, name): (usize, &&str)| {
        let passed = i % 3 != 1;
        let last = Message::new("trainer-last-said")
            .with("date", format!("2026-11-{:02}", 2 * i + 3))
            .with("exercise", exercise(texts, i % 7).name)
            .with("result", said(texts, passed, 40.0 + 5.0 * i as f64));
        let mark = if passed { Mark::Ok } else { Mark::Not };
        let due = match i % 4 {
            0 => Some((
                Some(Mark::Caution),
                texts.say(&Message::new("trainer-overdue").with("date", "2026-10-31")),
            )),
            1 => Some((None, "2027-05-31".to_owned())),
            _ => None,
        };
        let passed = Message::new("trainer-passed-of")
            .with("passed", i.to_string())
            .with("of", "22");
        Row {
            name: (*name).to_owned(),
            attempts: (2 * i).to_string(),
            passed: texts.say(&passed),
            last: (i > 0).then(|| (mark, texts.say(&last))),
            due,
        }
    };
    PEOPLE.iter().enumerate().map(of).collect()
}

fn glance(texts: &Texts) -> Glance {
    let head = Message::new("summary-head")
        .with(
            "who",
            Message::new("summary-class").with("name", "Otoño 2026, cuadrilla norte"),
        )
        .with("people", 12_u64)
        .with("attempts", 81_u64);
    let kinds = [
        (FindingKind::NoHorn, 9),
        (FindingKind::WrongSetting, 6),
        (FindingKind::DoubleFeed, 2),
    ];
    let finding = |(kind, people): (FindingKind, u64)| {
        let message = Message::new("summary-finding")
            .with("title", explain(kind).title)
            .with("people", people)
            .with("times", 2 * people)
            .measured("points", 40.0, 0);
        (people as f32 / 12.0, texts.say(&message))
    };
    let round = |(nth, share): (usize, f32)| {
        let message = Message::new("summary-round")
            .with("nth", (nth + 1).to_string())
            .with("attempts", 30_u64)
            .measured("passed", f64::from(100.0 * share), 0)
            .measured("points", f64::from(90.0 * share), 0);
        (share, texts.say(&message))
    };
    let open = Message::new("summary-open")
        .with("title", explain(FindingKind::NoHorn).title)
        .with("people", 4_u64);
    let open = Message::new("summary-open-right")
        .with("open", open)
        .with("right", explain(FindingKind::NoHorn).right);
    let next = Message::new("summary-next-exercise")
        .with("title", exercise(texts, 2).name)
        .with("mastered", "3")
        .with("people", 12_u64);
    let tried = tried(texts);
    let standings = |i: usize| (0..tried.len()).map(|j| standing(i, j)).collect();
    let people = PEOPLE.iter().enumerate();
    Glance {
        head: texts.say(&head),
        notes: vec![texts.say(&Message::new("summary-nobodys").with("attempts", 2_u64))],
        people: people
            .map(|(i, name)| ((*name).to_owned(), standings(i)))
            .collect(),
        exercises: tried,
        findings: kinds.map(finding).into(),
        rounds: [0.31, 0.55, 0.82]
            .into_iter()
            .enumerate()
            .map(round)
            .collect(),
        next: vec![texts.say(&open), texts.say(&next)],
    }
}

fn going(texts: &Texts) -> Vec<Going> {
    let what = |i: usize, mode: Mode| {
        let message = Message::new("trainer-going-what")
            .with("exercise", exercise(texts, i).name)
            .with("mode", mode.said());
        texts.say(&message)
    };
    let since =
        |minutes: u64| texts.say(&Message::new("trainer-going-since").with("minutes", minutes));
    let run = Message::new("trainer-going-run")
        .with("time", "3:42")
        .with("events", 17_u64);
    let last = Message::new("trainer-going-last")
        .with("time", "3:31")
        .with("event", words::event(&EventKind::CycleEnded, &[]));
    let still = Message::new("trainer-going-still").with("seconds", "48");
    vec![
        Going {
            who: "Ana Núñez".to_owned(),
            what: what(1, Mode::Assessed),
            since: since(7),
            far: vec![
                (Mark::Note, texts.say(&run)),
                (Mark::Note, texts.say(&last)),
                (Mark::Off, texts.say(&still)),
            ],
        },
        Going {
            who: say(texts, "trainer-going-nobody"),
            what: what(4, Mode::Practice),
            since: since(0),
            far: vec![(Mark::Off, say(texts, "trainer-going-unread"))],
        },
    ]
}

fn person(texts: &Texts) -> Person {
    let facts = Message::new("trainer-person-attempts")
        .with("attempts", 14_u64)
        .with("passed", "6")
        .with("of", "22");
    let overdue = Message::new("trainer-overdue").with("date", "2026-10-31");
    let due = Message::new("trainer-person-due").with("due", overdue);
    let exercises = (0..7).map(|i| (exercise(texts, i).name, standing(3, i)));
    Person {
        name: "Carmen de la Fuente y Ortega".to_owned(),
        facts: vec![texts.say(&facts)],
        due: Some((Some(Mark::Caution), texts.say(&due))),
        attempts: (0..14).map(|i| attempt(texts, i)).collect(),
        chosen: 1,
        exercises: exercises.collect(),
        proposed: 2,
    }
}

fn attempt(texts: &Texts, i: usize) -> Attempt {
    let passed = i % 3 == 1;
    let counts = i != 2;
    let signed = match passed {
        true => Message::new("trainer-signed").with("by", TRAINER),
        false => "trainer-unsigned".into(),
    };
    let result = said(texts, passed, 88.0);
    let result = match counts {
        true => result,
        false => texts.say(&Message::new("trainer-result-void").with("result", result)),
    };
    let date = format!("2026-11-{:02}", 28 - i);
    let facts = Message::new("trainer-attempt-facts")
        .with("date", format!("{date} 14:05"))
        .measured("minutes", 6.4, 1)
        .with("breaks", 1_u64)
        .with("seed", "42")
        .with("program", "0.1.0");
    let correction = Message::new("certificate-correction")
        .with("date", date.as_str())
        .with("what", Message::new("records-corrected-note"))
        .with("by", TRAINER)
        .with("why", "The radio of the hut was heard all the time.");
    let found = |(kind, time): (FindingKind, &str)| {
        let about = Message::new("trainer-found")
            .with("severity", severity(kind.severity()))
            .with("time", time)
            .measured("points", 4.0, 0);
        (
            Mark::Caution,
            texts.say(&explain(kind).title),
            texts.say(&about),
        )
    };
    let saved = Message::new("trainer-page-not-opened").with(
        "file",
        "/home/yard/.local/share/chockline/reports/certificate-first-shift.html",
    );
    Attempt {
        title: exercise(texts, i % 7).name,
        mark: match (counts, passed) {
            (false, _) => Mark::Off,
            (true, true) => Mark::Ok,
            (true, false) => Mark::Not,
        },
        date,
        result,
        signed: texts.say(&signed),
        facts: texts.say(&facts),
        remarks: vec![
            (Mark::Note, texts.say(&correction)),
            (Mark::Ok, texts.say(&signed)),
        ],
        findings: [
            (FindingKind::NoHorn, "0:31"),
            (FindingKind::HardSeat, "2:04"),
            (FindingKind::WrongSetting, "3:50"),
        ]
        .map(found)
        .into(),
        counts,
        page: Some((Mark::Note, texts.say(&saved))),
    }
}
