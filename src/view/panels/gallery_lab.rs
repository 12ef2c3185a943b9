//! The laboratory's screens with made-up data.

use bevy_egui::egui::Ui;

use super::gallery::{picture, say};
use super::lab::{self, Changed, Choosing, Field, Range, Risk, Stage, Value, Variable};
use super::lab_watch;
use crate::evidence::Outcome;
use crate::lab::Event;
use crate::scenario::line_fields;
use crate::texts::{Message, Texts};
use crate::view::icons::Mark;

/// Shows one of the laboratory's screens; nothing where it is none of them.
pub fn show(name: &str, ui: &mut Ui, texts: &Texts) {
    let state = |choosing, part| lab::State {
        choosing,
        part,
        ..lab::State::default()
    };
    let mut state = match name {
        "lab_fields" => state(Some(Choosing::Variable), 0),
        "lab_new" | "lab_wrong" => state(None, 0),
        "lab_running" | "lab_two" => state(None, 1),
        "lab_done" => state(None, 2),
        "lab_watch" => {
            lab_watch::show(ui, texts, &lab_watch_model(texts));
            return;
        }
        _ => return,
    };
    lab::show(ui, texts, &lab_model(name, ui, texts), &mut state);
}

fn range(from: f64, to: f64, unit: &str) -> Range {
    Range {
        from,
        to,
        least: from - 0.5 * (to - from).abs(),
        most: to + (to - from).abs(),
        step: 0.02 * (to - from).abs().max(0.1),
        said: format!("{from} – {to}{unit}"),
    }
}

fn meaning(path: &str, texts: &Texts) -> String {
    let fields = line_fields();
    let known = fields.iter().find(|field| field.path == path);
    known.map_or_else(String::new, |known| texts.say(&known.meaning))
}

fn variable(path: &str, range: Range, is_unmeasured: bool, texts: &Texts) -> Variable {
    Variable {
        path: path.to_owned(),
        meaning: meaning(path, texts),
        range,
        is_unmeasured,
        faults: Vec::new(),
    }
}

/// Probability that grows about a pitch.
fn curve(kind: usize, name: String, about: f64, steep: f64) -> lab::Series {
    let pitches = (4..=24).map(|i| 0.5 * f64::from(i));
    let point = |pitch: f64| {
        let share = 1.0 / (1.0 + (-steep * (pitch - about)).exp());
        let half = 0.02 + 0.4 * (share * (1.0 - share)).sqrt();
        let [low, high] = [share - 0.3 * half, share + 0.3 * half];
        [pitch, share, low.max(0.0), high.min(1.0)]
    };
    lab::Series {
        name,
        kind,
        points: pitches.map(point).collect(),
    }
}

fn curves(title: &str, texts: &Texts, shift: f64) -> lab::Curves {
    let [double, hang, off] = Event::ALL.map(|event| texts.say(&event.name()));
    lab::Curves {
        title: title.to_owned(),
        series: vec![
            curve(0, double, 8.5 + shift, 2.5),
            curve(1, hang, 3.0 + 0.5 * shift, -3.5),
            curve(2, off, 11.0, 2.0),
        ],
        pitches: (4..=24).map(|i| 0.5 * f64::from(i)).collect(),
        chosen: Some(9),
    }
}

fn bars(texts: &Texts, set_up: &str, from: f64, to: f64) -> Vec<lab::Bar> {
    let bar = |id: &'static str, fill, from: f64, to: f64| lab::Bar {
        name: format!("{set_up}{}", say(texts, id)),
        said: format!("{from} – {to}°"),
        fill,
        spans: vec![(from, to)],
    };
    vec![
        bar("lab-window-estimate", lab::Fill::Open, 1.2, 11.4),
        bar("lab-window-shown", lab::Fill::Ruled, from, to),
        bar("lab-window-worst", lab::Fill::Crossed, from + 0.5, to - 0.5),
        bar("lab-window-narrowed", lab::Fill::Full, from + 0.5, 6.0),
    ]
}

fn told(texts: &Texts) -> Vec<(Mark, String)> {
    let same = Message::new("labscreen-same").measured("time", 3.42, 2);
    vec![
        (Mark::Danger, texts.say(&Outcome::DoubleFeed.headline())),
        (Mark::Ok, texts.say(&same)),
    ]
}

fn numbers() -> Vec<(String, String)> {
    [
        ("contact.friction_dry", "0.213"),
        ("contact.rolling_lever_arm_mm", "2.413\u{202f}mm"),
        ("pipe.ovality_pct", "1.120\u{202f}%"),
    ]
    .map(|(path, value)| (path.to_owned(), value.to_owned()))
    .to_vec()
}

fn point(ui: &Ui, texts: &Texts) -> lab::Point {
    let kind = |what: Message, count: usize| {
        let message = Message::new("labscreen-kind").with("what", what);
        texts.say(&message.with("count", count))
    };
    let outcomes = [
        (Mark::Ok, Outcome::OneStick),
        (Mark::Danger, Outcome::DoubleFeed),
        (Mark::Ok, Outcome::OneStick),
        (Mark::Caution, Outcome::Hung),
    ];
    let trials = outcomes.into_iter().enumerate();
    let title = Message::new("labscreen-point").with("pitch", "6.5°");
    let trial = Message::new("labscreen-trial").with("trial", 2usize);
    lab::Point {
        title: texts.say(&title),
        kinds: vec![
            kind("labscreen-all".into(), 60),
            kind(Outcome::OneStick.headline(), 57),
            kind(Outcome::DoubleFeed.headline(), 2),
            kind(Outcome::Hung.headline(), 1),
        ],
        kind: 0,
        trials: trials
            .map(|(i, (mark, outcome))| lab::Trial {
                title: texts.say(&Message::new("labscreen-number").with("trial", i + 1)),
                mark,
                said: texts.say(&outcome.headline()),
                is_chosen: i == 1,
            })
            .collect(),
        page: 0,
        pages: 8,
        chosen: Some(lab::Chosen {
            title: texts.say(&trial.with("pitch", "6.5°")),
            picture: Some(picture(ui.ctx())),
            clock: "0:03".to_owned(),
            plays: Some(true),
            told: told(texts),
            numbers: numbers(),
        }),
    }
}

pub fn lab_model(name: &str, ui: &Ui, texts: &Texts) -> lab::Model {
    let is_new = matches!(name, "lab_new" | "lab_fields" | "lab_wrong");
    let is_two = name == "lab_two";
    let mut variables = vec![
        variable("contact.friction_dry", range(0.15, 0.4, ""), true, texts),
        variable(
            "contact.rolling_lever_arm_mm",
            range(0.5, 5.0, "\u{202f}mm"),
            true,
            texts,
        ),
        variable(
            "pipe.ovality_pct",
            range(0.0, 3.5, "\u{202f}%"),
            false,
            texts,
        ),
    ];
    if name == "lab_wrong" {
        variables[1].range = range(5.0, 0.5, "\u{202f}mm");
        variables[1].faults = vec![say(texts, "sweep-empty-range")];
    }
    let changed = Changed {
        path: "row.sticks".to_owned(),
        meaning: meaning("row.sticks", texts),
        said: texts.say(
            &Message::new("labscreen-instead")
                .with("value", "3")
                .with("base", "6"),
        ),
        value: Value::Number {
            now: 3.0,
            least: 1.0,
            most: 12.0,
            step: 1.0,
        },
    };
    let word = Changed {
        path: "rack.surface".to_owned(),
        meaning: meaning("rack.surface", texts),
        said: texts.say(
            &Message::new("labscreen-instead")
                .with("value", "Wet")
                .with("base", "Dry"),
        ),
        value: Value::Word {
            ends: [false, false],
        },
    };
    let fields = line_fields().into_iter().filter(|field| {
        [
            "row.sticks",
            "row.gap_mm",
            "rack.toe_height_m",
            "weather.wind_m_per_s",
        ]
        .contains(&field.path.as_str())
    });
    let below = |below: &str| texts.say(&Message::new("labscreen-below").with("below", below));
    let pace = Message::new("labscreen-pace")
        .with("done", 412u64)
        .with("of", 1260u64)
        .with("rate", "14.2")
        .with("left", "0:59");
    let all = Message::new("labscreen-rows")
        .with("done", 1260u64)
        .with("of", 1260u64);
    let [base, other] = ["lab-as-in-base", "labscreen-rack"].map(|id| say(texts, id));
    lab::Model {
        bases: vec![
            say(texts, "labscreen-rack"),
            super::gallery::exercise(texts, 0).name,
        ],
        base: 0,
        pitch: range(2.0, 12.0, "°"),
        steps: (["0.25°", "0.5°", "1°", "2°"].map(str::to_owned).to_vec(), 1),
        trials: (
            ["20", "60", "300", "1000", "3000"]
                .map(str::to_owned)
                .to_vec(),
            1,
        ),
        variables,
        second: if is_two {
            vec![changed, word]
        } else {
            Vec::new()
        },
        fields: fields
            .map(|field| Field {
                path: field.path.clone(),
                meaning: texts.say(&field.meaning),
                is_number: true,
            })
            .collect(),
        confidences: (["90 %", "95 %", "99 %"].map(str::to_owned).to_vec(), 1),
        seed: 1,
        risks: Event::ALL
            .map(|event| Risk {
                name: texts.say(&event.name()),
                said: below("5\u{202f}%"),
                ends: [false, false],
            })
            .to_vec(),
        faults: if name == "lab_wrong" {
            let fault = Message::new("labscreen-fault")
                .with("place", "against")
                .with("what", Message::new("sweep-empty-range"));
            vec![texts.say(&fault)]
        } else {
            Vec::new()
        },
        warnings: vec![
            texts.say(
                &Message::new("labscreen-trials-all")
                    .with("trials", 1260u64)
                    .with("pitches", 21u64),
            ),
        ],
        stage: match name {
            "lab_running" => Stage::Running,
            "lab_two" => Stage::Stopped,
            "lab_done" => Stage::Done,
            _ => Stage::Nothing,
        },
        progress: match name {
            "lab_running" | "lab_two" => Some((0.33, texts.say(&pace))),
            "lab_done" => Some((1.0, texts.say(&all))),
            _ => None,
        },
        is_changed: is_two,
        axes: lab::Axes {
            from: 2.0,
            to: 12.0,
            x_name: say(texts, "labscreen-axis-pitch"),
            y_name: texts.say(&Message::new("labscreen-axis-share").with("confidence", "95")),
            marks: vec![4.0, 6.0, 10.0],
            marks_name: say(texts, "labscreen-marks"),
        },
        bars: if is_two {
            let mut both = bars(texts, "A: ", 3.5, 7.0);
            both.extend(bars(texts, "B: ", 3.5, 8.0));
            both
        } else {
            let mut one = bars(texts, "", 3.5, 7.0);
            one.truncate(if is_new { 1 } else { 4 });
            one
        },
        matters: if name == "lab_done" {
            vec![matters(texts)]
        } else {
            Vec::new()
        },
        curves: if is_new {
            vec![lab::Curves {
                title: String::new(),
                series: Vec::new(),
                pitches: Vec::new(),
                chosen: None,
            }]
        } else if is_two {
            vec![curves(&base, texts, 0.0), curves(&other, texts, 1.5)]
        } else {
            vec![curves("", texts, 0.0)]
        },
        answers: answers(texts, is_two),
        point: (!is_new).then(|| point(ui, texts)),
        saved: (name == "lab_done").then(|| {
            let file = "/home/ana/.local/share/chockline/laboratory/20261130T1620/answer.html";
            texts.say(&Message::new("labscreen-saved").with("file", file))
        }),
        can_save: !is_new,
    }
}

fn matters(texts: &Texts) -> lab::Matters {
    let bar = |path: &str, low: f64, high: f64| {
        let [low_said, high_said] = [low, high].map(|share| format!("{share}\u{202f}%"));
        let said = Message::new("labscreen-thirds")
            .with("low", low_said)
            .with("high", high_said);
        lab::Bar {
            name: path.to_owned(),
            said: texts.say(&said),
            fill: if low < high {
                lab::Fill::Full
            } else {
                lab::Fill::Ruled
            },
            spans: vec![(low.min(high), low.max(high))],
        }
    };
    let head = Message::new("lab-tornado-title").with("event", Event::DoubleFeed.name());
    let mark = Message::new("labscreen-matters-mark").with("all", "31\u{202f}%");
    lab::Matters {
        head: texts.say(&head),
        axes: lab::Axes {
            from: 0.0,
            to: 100.0,
            x_name: String::new(),
            y_name: String::new(),
            marks: vec![31.0],
            marks_name: texts.say(&mark),
        },
        bars: vec![
            bar("contact.friction_pipe_on_pipe", 62.0, 8.0),
            bar("pipe.ovality_pct", 24.0, 40.0),
            bar("contact.friction_dry", 28.0, 35.0),
        ],
    }
}

fn answers(texts: &Texts, is_two: bool) -> Vec<lab::Answer> {
    let mut answers = Vec::new();
    if is_two {
        let compared = Message::new("labscreen-compared")
            .with("event", Event::DoubleFeed.name())
            .with("first", Message::new("lab-as-in-base"))
            .with("second", "sticks 3")
            .with("all", 630u64)
            .with("both", 120u64)
            .with("first_alone", 44u64)
            .with("second_alone", 2u64)
            .with("by_chance", "0.0001");
        answers.push(lab::Answer {
            head: Some(say(texts, "lab-head-comparison")),
            mark: None,
            text: texts.say(&compared),
        });
    }
    let estimate = Message::new("lab-estimate")
        .with("low", "1.2")
        .with("high", "11.4");
    answers.push(lab::Answer {
        head: Some(say(texts, "lab-head-estimate")),
        mark: None,
        text: texts.say(&estimate),
    });
    answers.push(lab::Answer {
        head: None,
        mark: None,
        text: say(texts, "lab-estimate-slip"),
    });
    answers
}

pub fn lab_watch_model(texts: &Texts) -> lab_watch::Model {
    let trial = Message::new("labscreen-trial-of")
        .with("trial", 2usize)
        .with("pitch", "6.5°")
        .with("set_up", Message::new("lab-as-in-base"));
    let cameras = [
        "camera-orbit",
        "camera-line",
        "camera-plan",
        "camera-operator",
    ];
    lab_watch::Model {
        title: texts.say(&trial),
        clock_s: 3.4,
        is_playing: true,
        speeds: vec![0.1, 0.25, 0.5, 1.0, 2.0, 4.0],
        speed: 2,
        is_behind: false,
        told: told(texts),
        numbers: numbers(),
        cameras: cameras.map(|id| say(texts, id)).to_vec(),
        camera: 0,
    }
}
