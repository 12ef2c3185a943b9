//! Data made up for the screens before and after a run.

use super::gallery::{exercise, right, say, why};
use super::timeline::Moment;
use super::{debrief, dialog, vote, what_happened};
use crate::domain::finding::{FindingKind, Severity};
use crate::judge::explain;
use crate::sim::line::EventKind;
use crate::texts::{Message, Texts};
use crate::view::icons::{Mark, MomentMark};
use crate::words;

pub fn vote_model(texts: &Texts, came: Option<usize>) -> vote::Model {
    let choices = [
        ("outcome-joined", 4),
        ("outcome-double-feed", 9),
        ("outcome-roll-off", 1),
        ("outcome-struck", 0),
    ];
    vote::Model {
        question: exercise(texts, 2).brief,
        choices: choices
            .map(|(id, votes)| vote::Choice {
                text: say(texts, id),
                votes,
            })
            .into(),
        came,
    }
}

pub fn story_model(texts: &Texts) -> what_happened::Model {
    use what_happened::{Beat, BeatKind};
    let beat = |kind: BeatKind, id: FindingKind, time_s: f64| Beat {
        kind,
        caption: why(texts, id),
        time_s,
    };
    let explained = explain(FindingKind::LetGoEarly);
    what_happened::Model {
        sentence: say(texts, "outcome-struck-means"),
        mark: Some(Mark::Danger),
        beats: vec![
            beat(BeatKind::Act, FindingKind::LetGoEarly, 41.2),
            beat(BeatKind::TooLate, FindingKind::InZone, 43.0),
            beat(BeatKind::Outcome, FindingKind::Struck, 44.9),
        ],
        choices: vec![
            texts.say(&explained.right),
            right(texts, FindingKind::HardSeat),
            right(texts, FindingKind::NoHorn),
        ],
        right: Some(0),
        answer: vec![
            texts.say(&Message::new("line-right").with("right", explained.right)),
            texts.say(&Message::new("line-why").with("why", explained.why)),
        ],
    }
}

pub fn debrief_model(texts: &Texts) -> debrief::Model {
    let found = [
        (FindingKind::FedUnready, 31.0),
        (FindingKind::LiftTilt, 74.5),
        (FindingKind::Struck, 96.2),
        (FindingKind::NoHorn, 30.2),
    ];
    let finding = |(kind, time_s): (FindingKind, f64)| {
        let explained = explain(kind);
        let severity = kind.severity();
        debrief::Finding {
            mark: if severity == Severity::Critical {
                Mark::Danger
            } else {
                Mark::Caution
            },
            title: texts.say(&explained.title),
            severity: say(
                texts,
                match severity {
                    Severity::Critical => "severity-critical",
                    Severity::Major => "severity-major",
                    Severity::Minor => "severity-minor",
                },
            ),
            points: 20.0,
            time_s,
            lines: vec![
                texts.say(&Message::new("line-why").with("why", explained.why)),
                texts.say(&Message::new("line-right").with("right", explained.right)),
                texts.say(&Message::new("line-rule").with("rule", explained.rule)),
            ],
        }
    };
    let moment = |time_s: f64, mark: MomentMark, text: String| Moment { time_s, mark, text };
    let mut moments: Vec<Moment> = found
        .iter()
        .map(|&(kind, time_s)| {
            let mark = if kind == FindingKind::Struck {
                MomentMark::Critical
            } else {
                MomentMark::Finding
            };
            moment(time_s, mark, texts.say(&explain(kind).title))
        })
        .collect();
    let cycle = texts.say(&words::event(&EventKind::CycleEnded, &[]));
    let people = texts.say(&words::event(&EventKind::StopSaid, &[]));
    moments.extend([8.0, 33.0, 58.0].map(|t| moment(t, MomentMark::Cycle, cycle.clone())));
    moments.push(moment(90.0, MomentMark::People, people));
    let wave = |name: String, unit: &str, high: f64, limits: Vec<f64>, digits: usize| {
        let point = |i: u32| {
            let time_s = 0.2 * f64::from(i);
            let swing = f64::from((time_s as f32 / 9.0).sin());
            [time_s, high * (0.5 + 0.5 * swing) * (time_s / 110.0)]
        };
        debrief::Curve {
            name,
            unit: unit.to_owned(),
            points: (0..=550).map(point).collect(),
            limits,
            digits,
        }
    };
    debrief::Model {
        exercise: exercise(texts, 2).name,
        verdict: Some((
            Mark::Danger,
            texts.say(&Message::new("score-failed-critical").measured("points", 40.0, 0)),
        )),
        findings: found.map(finding).into(),
        leading: vec![right(texts, FindingKind::InZone)],
        moments,
        curves: vec![
            wave(
                texts.say(&explain(FindingKind::LiftTilt).title),
                "°",
                2.2,
                vec![1.5],
                1,
            ),
            wave(say(texts, "setout-title"), "°", 6.0, vec![4.0, 6.0], 1),
            wave(
                texts.say(&explain(FindingKind::HardSeat).title),
                "m/s",
                0.8,
                vec![],
                2,
            ),
            wave(
                texts.say(&explain(FindingKind::InZone).title),
                "m",
                14.0,
                vec![3.0],
                1,
            ),
        ],
        length_s: 110.0,
        now_s: 74.5,
        is_playing: false,
        may_take_over: true,
        saved: None,
        has_story: true,
        for_trainer: false,
    }
}

pub fn dialog_model(name: &str, texts: &Texts) -> dialog::Model {
    let answers = vec![say(texts, "happened-debrief"), say(texts, "back")];
    match name {
        "ended" => dialog::Model {
            mark: Mark::Ok,
            title: say(texts, "outcome-joined"),
            what: say(texts, "outcome-joined-means"),
            place: None,
            remedy: None,
            answers,
            escape: Some(1),
        },
        _ => dialog::Model {
            mark: Mark::Not,
            title: say(texts, "exercises-title"),
            what: say(texts, "exercises-none"),
            place: Some("scenarios/first-shift.ron:12".to_owned()),
            remedy: Some(say(texts, "set-out-out-of-range")),
            answers,
            escape: Some(1),
        },
    }
}
