//! Every screen with data made up for it: for the tests, for pictures, and for whoever works on them.

use std::sync::OnceLock;

use bevy_egui::egui::{
    Color32, ColorImage, Context, Id, Key, TextureHandle, TextureOptions, Ui, Vec2,
};

use super::gauges::Bubble;
use super::timeline::Moment;
use super::{
    Picture, bindings, brief, controls_help, debrief, dialog, exercises, hud, look_closer, pause,
    pendant, radio, set_out, settings, title, vote, what_happened,
};
use crate::domain::finding::{FindingKind, Severity};
use crate::domain::rig::End;
use crate::domain::set_out::Setting;
use crate::domain::spec::{Item, Motion};
use crate::judge::explain;
use crate::operator::ROSTER;
use crate::scenario::{self, Scenario};
use crate::session::mode::Mode;
use crate::sim::controls::{Button, Call, Held};
use crate::texts::{Message, Texts};
use crate::view::icons::{Mark, MomentMark};
use crate::view::theme;
use crate::words;

/// Names of the screens.
pub const SCREENS: [&str; 22] = [
    "title",
    "exercises",
    "brief",
    "setout",
    "look",
    "guided",
    "practice",
    "assessed",
    "rewound",
    "radio",
    "folded",
    "pause",
    "settings",
    "keys",
    "vote",
    "voted",
    "story",
    "question",
    "answer",
    "debrief",
    "ended",
    "fault",
];

/// Shows a screen by its name; nothing where there is none of that name.
pub fn show(name: &str, ui: &mut Ui, texts: &Texts) {
    match name {
        "title" => {
            title::show(ui, texts, &title_model(texts));
        }
        "exercises" => {
            let mut state = exercises::State {
                chosen: 2,
                ..exercises::State::default()
            };
            exercises::show(ui, texts, &exercises_model(ui, texts), &mut state);
        }
        "brief" => {
            brief::show(ui, texts, &brief_model(texts));
        }
        "setout" => {
            set_out::show(ui, texts, &set_out_model(texts));
        }
        "look" => {
            look_closer::show(ui, texts, &look_model(texts));
        }
        "guided" | "practice" | "assessed" | "rewound" | "radio" | "folded" => {
            let mut state = hud::State {
                is_folded: name == "folded",
                radio_open: name == "radio",
                cameras_open: false,
            };
            hud::show(ui, texts, &hud_model(name, ui, texts), &mut state);
        }
        "pause" => {
            let model = pause::Model {
                exercise: exercise(texts, 0).name,
                mode: Mode::Assessed,
                clock_s: 84.0,
            };
            pause::show(ui, texts, &model);
        }
        "settings" => {
            let mut state = settings::State::default();
            settings::show(ui, texts, &settings_model(texts), &mut state);
        }
        "keys" => {
            controls_help::show(ui, texts, &keys_model(texts));
        }
        "vote" => {
            vote::show(ui, texts, &vote_model(texts, None));
        }
        "voted" => {
            vote::show(ui, texts, &vote_model(texts, Some(1)));
        }
        "story" | "question" | "answer" => {
            let mut state = what_happened::State {
                stage: match name {
                    "story" => what_happened::Stage::Story,
                    "question" => what_happened::Stage::Question,
                    _ => what_happened::Stage::Answer,
                },
                choice: Some(0),
                ..what_happened::State::default()
            };
            what_happened::show(ui, texts, &story_model(texts), &mut state);
        }
        "debrief" => {
            let mut state = debrief::State { open: Some(1) };
            debrief::show(ui, texts, &debrief_model(texts), &mut state);
        }
        "ended" | "fault" => {
            dialog::show(ui, texts, &dialog_model(name, texts));
        }
        _ => {}
    }
}

/// Shipped exercises stand in for any.
fn scenarios() -> &'static [Scenario] {
    static MADE: OnceLock<Vec<Scenario>> = OnceLock::new();
    MADE.get_or_init(|| {
        [
            include_str!("../../../scenarios/first-release.ron"),
            include_str!("../../../scenarios/first-shift.ron"),
            include_str!("../../../scenarios/crossed-hose.ron"),
            include_str!("../../../scenarios/hung-stick.ron"),
            include_str!("../../../scenarios/visitor.ron"),
            include_str!("../../../scenarios/steady-feed.ron"),
            include_str!("../../../scenarios/left-hand.ron"),
        ]
        .into_iter()
        .filter_map(|text| scenario::parse("", text).ok())
        .map(|loaded| loaded.scenario)
        .collect()
    })
}

fn exercise(texts: &Texts, i: usize) -> scenario::ScenarioTexts {
    let one = scenarios().get(i).map(|one| one.texts(texts.lang()));
    one.unwrap_or_default()
}

fn say(texts: &Texts, id: &'static str) -> String {
    texts.say(&Message::new(id))
}

fn why(texts: &Texts, kind: FindingKind) -> String {
    texts.say(&explain(kind).why)
}

fn right(texts: &Texts, kind: FindingKind) -> String {
    texts.say(&explain(kind).right)
}

/// A picture of nothing: two stripes in the livery.
fn picture(ctx: &Context) -> Picture {
    let key = Id::new("made");
    let made: Option<TextureHandle> = ctx.data(|data| data.get_temp(key));
    let texture = made.unwrap_or_else(|| {
        let pixel = |i: usize| {
            if i / 64 < 24 {
                theme::SAND
            } else {
                theme::SLATE
            }
        };
        let pixels: Vec<Color32> = (0..64 * 36).map(pixel).collect();
        let image = ColorImage::new([64, 36], pixels);
        let texture = ctx.load_texture("made", image, TextureOptions::LINEAR);
        ctx.data_mut(|data| data.insert_temp(key, texture.clone()));
        texture
    });
    Picture {
        texture: texture.id(),
        size_px: Vec2::new(640.0, 360.0),
    }
}

pub fn title_model(texts: &Texts) -> title::Model {
    title::Model {
        unfinished: Some(exercise(texts, 2).name),
    }
}

pub fn exercises_model(ui: &Ui, texts: &Texts) -> exercises::Model {
    use exercises::Best;
    let bests = [
        Best::Mastered,
        Best::Passed { points: 92.0 },
        Best::Failed,
        Best::NotTried,
    ];
    let rows = scenarios().iter().enumerate().map(|(i, one)| {
        let said = one.texts(texts.lang());
        exercises::Row {
            name: said.name,
            level: one.level as u8,
            trains: said.trains,
            minutes: one.takes_min,
            best: bests.get(i).copied().unwrap_or(Best::NotTried),
            brief: said.brief,
            hazards: said.hazards,
            seed: one.seed,
            picture: Some(picture(ui.ctx())),
        }
    });
    let operators = ROSTER.iter().map(|member| exercises::Showing {
        name: member.name.to_owned(),
        does: texts.say(&member.does()),
    });
    exercises::Model {
        rows: rows.collect(),
        operators: operators.collect(),
    }
}

pub fn brief_model(texts: &Texts) -> brief::Model {
    let said = exercise(texts, 2);
    let judged = [
        FindingKind::Struck,
        FindingKind::DoubleFeed,
        FindingKind::CrossedAccepted,
        FindingKind::LiftTilt,
        FindingKind::NoHorn,
    ];
    brief::Model {
        exercise: said.name,
        mode: Mode::Assessed,
        brief: said.brief,
        goal: say(texts, "goal-joined"),
        hazards: Some(said.hazards),
        judged: judged
            .iter()
            .map(|&kind| texts.say(&explain(kind).title))
            .collect(),
        pass_mark: Some(80.0),
        time_limit_s: 600.0,
        trainee: "M. Rojas".to_owned(),
        seed: 42,
        set_out_open: true,
        picture: None,
    }
}

fn bubble(name: String, at_deg: f64, eye: f64) -> Bubble {
    Bubble {
        name,
        at_deg,
        eye,
        scale_deg: 0.0..=12.0,
        right_deg: None,
    }
}

pub fn set_out_model(texts: &Texts) -> set_out::Model {
    use set_out::Control;
    let named = |setting: Setting| super::parts::sentence(&texts.say(&words::setting(&setting)));
    let degrees = |value: f64| format!("{value:.1}°");
    let rack = super::parts::sentence(&say(texts, "setout-title"));
    let cradles = super::parts::sentence(&say(texts, "instruments-heights"));
    let mut rows = Vec::new();
    let mut row = |group: &str, name: String, as_found: String, control: Control| {
        rows.push(set_out::Row {
            id: rows.len(),
            group: group.to_owned(),
            name,
            as_found,
            control,
            changed: false,
            barred: None,
            bubble: None,
        });
    };
    for (rail, pitch_deg) in [(End::Near, 7.5), (End::Far, 4.5)] {
        let name = named(Setting::Pitch {
            rail,
            pitch_rad: 0.0,
        });
        let control = Control::Stepper {
            value: degrees(pitch_deg),
            ends: [false, false],
        };
        row(&rack, name, degrees(7.5), control);
    }
    let sizes = [
        "450 mm", "500 mm", "560 mm", "610 mm", "710 mm", "800 mm", "914 mm",
    ];
    let sizes = sizes.map(|size| size.replace(' ', "\u{202f}"));
    let control = Control::Choice {
        options: sizes.to_vec(),
        chosen: 3,
    };
    row(
        &rack,
        named(Setting::Size { diameter_m: 0.6 }),
        sizes[4].clone(),
        control,
    );
    let done = |text: &str| Control::Deed {
        text: super::parts::sentence(text),
        is_done: false,
    };
    let repair = texts.say(&words::call(Call::Repair(Item::Radio)));
    row(
        &rack,
        named(Setting::Pins(End::Far)),
        say(texts, "keys-none"),
        done(&repair),
    );
    let chock = texts.say(&words::call(Call::Chock));
    row(
        &rack,
        named(Setting::Chock(End::Near)),
        say(texts, "keys-none"),
        Control::Deed {
            text: super::parts::sentence(&chock),
            is_done: true,
        },
    );
    let control = Control::Toggle {
        text: named(Setting::ColumnPads(End::Far)),
        is_on: true,
    };
    row(
        &cradles,
        named(Setting::ColumnPads(End::Far)),
        say(texts, "keys-none"),
        control,
    );
    let control = Control::Stepper {
        value: "6.77\u{202f}m".to_owned(),
        ends: [true, false],
    };
    row(
        &cradles,
        named(Setting::Cradles),
        "6.10\u{202f}m".to_owned(),
        control,
    );
    if let [near, far, size, ..] = rows.as_mut_slice() {
        near.bubble = Some(bubble(near.name.clone(), 7.5, 0.0));
        far.bubble = Some(bubble(far.name.clone(), 4.5, 0.6));
        far.changed = true;
        let setting = Setting::Size { diameter_m: 0.6 };
        let fault = crate::domain::set_out::SetOutFault::PipeOnRack(setting);
        let barred = texts.say(&words::set_out_fault(&fault));
        size.barred = Some(super::parts::sentence(&barred));
    }
    set_out::Model {
        rows,
        tape: Some(set_out::Tape {
            between: texts.say(&words::setting(&Setting::Cradles)),
            metres: 6.77,
        }),
        near: Some(super::parts::sentence(
            &texts.say(&words::item(Item::Rail(End::Near))),
        )),
        not_yet: Some(super::parts::sentence(&say(texts, "fact-no-zone"))),
        refused: None,
    }
}

pub fn look_model(texts: &Texts) -> look_closer::Model {
    let name = texts.say(&words::item(Item::Rail(End::Near)));
    look_closer::Model {
        seen: vec![
            right(texts, FindingKind::PitchOutside),
            why(texts, FindingKind::PitchOutside),
        ],
        gauge: Some(look_closer::Gauge::Bubble(bubble(name.clone(), 5.5, 0.7))),
        picture: None,
        said: Some(look_closer::Said::Reported),
        name,
    }
}

pub fn hints() -> pendant::Hints {
    let keys = [
        (Button::Feed, "F"),
        (Button::ReceiverUp, "T"),
        (Button::ReceiverDown, "G"),
        (Button::LiftNearUp, "U"),
        (Button::LiftNearDown, "J"),
        (Button::LiftBothUp, "I"),
        (Button::LiftBothDown, "K"),
        (Button::LiftFarUp, "O"),
        (Button::LiftFarDown, "L"),
        (Button::ShiftNearOut, "Comma"),
        (Button::ShiftNearIn, "M"),
        (Button::ShiftFarOut, "Period"),
        (Button::ShiftFarIn, "N"),
        (Button::TurnOut, "X"),
        (Button::TurnIn, "Z"),
        (Button::AdvanceOn, "PageUp"),
        (Button::AdvanceBack, "PageDown"),
        (Button::Horn, "H"),
    ];
    pendant::Hints {
        buttons: keys.map(|(button, key)| (button, key.to_owned())).into(),
        stop: Key::Space.name().to_owned(),
        reset: Key::F8.name().to_owned(),
        isolate: Key::F9.name().to_owned(),
    }
}

pub fn hud_model(name: &str, ui: &Ui, texts: &Texts) -> hud::Model {
    let visitor = texts.say(&words::duty(crate::domain::spec::Duty::Visitor));
    let is_assessed = name == "assessed" || name == "folded";
    let is_guided = name == "guided";
    let is_practice = !is_assessed && !is_guided;
    let mode = match (is_assessed, is_guided) {
        (true, _) => Mode::Assessed,
        (_, true) => Mode::Guided,
        _ => Mode::Practice,
    };
    let step = hud::Step {
        what: right(texts, FindingKind::FedUnready),
        why: why(texts, FindingKind::FedUnready),
        done: 4,
        of: 14,
        off_path: Some(right(texts, FindingKind::LiftTilt)),
    };
    let clear = texts.say(&words::call(Call::Clear));
    let event = crate::sim::line::EventKind::StopSaid;
    hud::Model {
        exercise: exercise(texts, 2).name,
        mode,
        clock_s: 84.3,
        speed: if is_practice { 0.5 } else { 1.0 },
        is_paused: name == "rewound",
        is_behind: is_practice,
        time_can_be_held: !is_assessed,
        zone: match (is_assessed, is_guided) {
            (true, _) => None,
            (_, true) => Some(hud::Zone::Inside(visitor.clone())),
            _ => Some(hud::Zone::Live),
        },
        step: is_guided.then_some(step),
        help_on_request: is_practice,
        instruments: is_practice.then(|| hud::Instruments {
            pitch_deg: [5.1, 4.8],
            raised_m: [0.62, 0.41],
            highest_m: 1.2,
            tilt_deg: Some(1.7),
            speed_m_per_s: 0.42,
            nearest: Some(hud::Nearest {
                who: visitor,
                distance_m: 3.4,
                is_close: false,
            }),
        }),
        captions: vec![
            super::parts::sentence(&clear),
            super::parts::sentence(&texts.say(&words::event(&event))),
        ],
        second_view: Some(hud::SecondView {
            picture: picture(ui.ctx()),
            name: super::parts::sentence(&texts.say(&words::end(End::Far))),
        }),
        rewind: (name == "rewound").then_some(hud::Rewind {
            from_s: 0.0,
            to_s: 84.3,
            at_s: Some(61.5),
        }),
        cameras: [Motion::Receiver, Motion::LiftNear, Motion::LiftFar]
            .map(|motion| super::parts::sentence(&texts.say(&words::motion(motion))))
            .into(),
        camera: 0,
        pendant: pendant_model(),
        radio: radio::Model {
            calls: vec![
                Call::Clear,
                Call::Load,
                Call::Chock,
                Call::Unchock,
                Call::Hold,
                Call::BarFromEnd(End::Near),
                Call::BarFromBelow,
                Call::Clamp,
                Call::Unclamp,
                Call::Repair(Item::Motion(Motion::LiftNear)),
            ],
            has_cranks: true,
        },
    }
}

pub fn pendant_model() -> pendant::Model {
    pendant::Model {
        held: Held::NONE.with(Button::LiftBothUp),
        is_stopped: false,
        is_isolated: false,
        lamps: pendant::Lamps {
            power: true,
            receiver_ready: false,
            gate_blocked: true,
            interlock: true,
        },
        hints: hints(),
        ..pendant::Model::default()
    }
}

fn rows(texts: &Texts) -> Vec<bindings::Binding> {
    let keys = [
        Key::F,
        Key::T,
        Key::G,
        Key::U,
        Key::J,
        Key::O,
        Key::L,
        Key::I,
        Key::K,
        Key::M,
        Key::Comma,
        Key::N,
        Key::Period,
        Key::Z,
        Key::X,
        Key::PageUp,
        Key::PageDown,
        Key::H,
    ];
    let rows = Button::ALL.into_iter().zip(keys);
    rows.map(|(button, key)| bindings::Binding {
        name: super::parts::sentence(&texts.say(&words::button(button))),
        key: Some(key),
        pad: (button == Button::Feed).then(|| "A".to_owned()),
        is_fixed: false,
    })
    .collect()
}

pub fn settings_model(texts: &Texts) -> settings::Model {
    settings::Model {
        lang: texts.lang(),
        text_scale: 1.0,
        theme: theme::ThemeChoice::Dark,
        quality: None,
        reduced_motion: false,
        volume: Some(0.7),
        bindings: bindings::Model { rows: rows(texts) },
    }
}

pub fn keys_model(texts: &Texts) -> controls_help::Model {
    let mut machine = rows(texts);
    let rest = machine.split_off(10);
    controls_help::Model {
        groups: vec![
            controls_help::Group {
                name: say(texts, "mode-practice"),
                rows: machine,
            },
            controls_help::Group {
                name: say(texts, "mode-assessed"),
                rows: rest,
            },
        ],
    }
}

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
    let cycle = texts.say(&words::event(&crate::sim::line::EventKind::CycleEnded));
    let people = texts.say(&words::event(&crate::sim::line::EventKind::StopSaid));
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
    }
}

pub fn dialog_model(name: &str, texts: &Texts) -> dialog::Model {
    let answers = vec![say(texts, "story-debrief"), say(texts, "back")];
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
