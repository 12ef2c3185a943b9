//! Every screen with data made up for it: for the tests, for pictures, and for whoever works on them.

use std::sync::OnceLock;

use bevy_egui::egui::{Color32, ColorImage, Context, Id, TextureHandle, TextureOptions, Ui, Vec2};

pub use super::gallery_after::{debrief_model, dialog_model, story_model, vote_model};
pub use super::gallery_lab::{lab_model, lab_watch_model};
pub use super::gallery_line::{hud_model, look_model, pendant_model, set_out_model};
pub use super::gallery_trainer::trainer_model;
use super::{
    Picture, bindings, brief, controls_help, debrief, dialog, exercises, hud, look_closer, pause,
    set_out, settings, title, vote, what_happened,
};
use crate::domain::finding::FindingKind;
use crate::judge::explain;
use crate::operator::ROSTER;
use crate::scenario::{self, Scenario};
use crate::session::brief as known;
use crate::session::mode::Mode;
use crate::texts::{Message, Texts};
use crate::view::bindings::{Act, BINDINGS, Binding, Bindings, KEYS, heard};
use crate::view::{on_foot, theme};

/// Names of the screens.
pub const SCREENS: [&str; 47] = [
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
    "looking",
    "instructor",
    "check",
    "folded",
    "pause",
    "settings",
    "keys",
    "vote",
    "voted",
    "wait",
    "story",
    "question",
    "answer",
    "debrief",
    "ended",
    "fault",
    "lab_new",
    "lab_fields",
    "lab_wrong",
    "lab_running",
    "lab_two",
    "lab_done",
    "lab_watch",
    "trainer",
    "trainer_none",
    "trainer_fault",
    "trainer_glance",
    "trainer_going",
    "trainer_classes",
    "trainer_person",
    "trainer_attempt",
    "trainer_add",
    "trainer_sign",
    "trainer_sure",
    "trainer_date",
    "trainer_void",
    "trainer_assess",
];

/// A wait that is not over.
pub const WAIT: what_happened::Wait = what_happened::Wait {
    done: 3,
    of: 8,
    counts: true,
    for_trainer: false,
};

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
            brief::show(ui, texts, &brief_model(ui, texts));
        }
        "setout" => {
            set_out::show(ui, texts, &set_out_model(texts));
        }
        "look" => {
            look_closer::show(ui, texts, &look_model(texts));
        }
        "guided" | "practice" | "assessed" | "rewound" | "radio" | "looking" | "instructor"
        | "check" | "folded" => {
            let open = match name {
                "radio" => Some(hud::Menu::Radio),
                "looking" => Some(hud::Menu::Look),
                "instructor" => Some(hud::Menu::Instructor),
                "check" => Some(hud::Menu::Check),
                _ => None,
            };
            let mut state = hud::State {
                is_folded: name == "folded",
                open,
                ..hud::State::default()
            };
            hud::show(ui, texts, &hud_model(name, ui, texts), &mut state);
        }
        "pause" => {
            let model = pause::Model {
                exercise: exercise(texts, 0).name,
                mode: Mode::Assessed,
                clock_s: 84.0,
                has_begun: true,
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
        "wait" => {
            what_happened::wait(ui, texts, WAIT);
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
        _ => {
            super::gallery_lab::show(name, ui, texts);
            super::gallery_trainer::show(name, ui, texts);
        }
    }
}

/// Shipped exercises stand in for any.
pub(super) fn scenarios() -> &'static [Scenario] {
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

pub(super) fn exercise(texts: &Texts, i: usize) -> scenario::ScenarioTexts {
    let one = scenarios().get(i).map(|one| one.texts(texts.lang()));
    one.unwrap_or_default()
}

pub(super) fn say(texts: &Texts, id: &'static str) -> String {
    texts.say(&Message::new(id))
}

pub(super) fn why(texts: &Texts, kind: FindingKind) -> String {
    texts.say(&explain(kind).why)
}

pub(super) fn right(texts: &Texts, kind: FindingKind) -> String {
    texts.say(&explain(kind).right)
}

/// A picture of nothing: two stripes in the livery.
pub(super) fn picture(ctx: &Context) -> Picture {
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

pub fn brief_model(ui: &Ui, texts: &Texts) -> brief::Model {
    let scenario = scenarios().get(2);
    let spec = scenario.map(|one| &one.line);
    let scoring = scenario.map(|one| &one.scoring);
    let said = exercise(texts, 2);
    let facts = spec.map(known::facts).unwrap_or_default();
    let crew = spec.map(known::crew).unwrap_or_default();
    brief::Model {
        exercise: said.name,
        mode: Mode::Assessed,
        brief: said.brief,
        goal: say(texts, "goal-joined"),
        hazards: Some(said.hazards),
        trains: said.trains,
        facts: facts
            .iter()
            .map(|fact| (texts.say(&fact.name), texts.say(&fact.value)))
            .collect(),
        crew: crew.iter().map(|duty| texts.say(duty)).collect(),
        judged: scoring.map_or_else(Vec::new, |scoring| brief::Judged::all(scoring, texts, true)),
        pass_mark: scoring.map(|scoring| scoring.pass_mark),
        time_limit_s: 600.0,
        trainee: "M. Rojas".to_owned(),
        seed: 42,
        set_out_open: true,
        picture: Some(picture(ui.ctx())),
    }
}

fn rows(texts: &Texts) -> Vec<(Act, bindings::Binding)> {
    let bound = Bindings::default();
    let row = |binding: &Binding| {
        let row = bindings::Binding {
            name: texts.say(&binding.act.said()),
            key: heard(binding.key),
            key_name: bound.said(binding.act, texts),
            pad: binding.pad.map(|_| say(texts, "pad-left-shoulder")),
            is_fixed: binding.act == Act::Pause,
        };
        (binding.act, row)
    };
    BINDINGS.iter().map(row).collect()
}

pub fn settings_model(texts: &Texts) -> settings::Model {
    settings::Model {
        lang: texts.lang(),
        text_scale: 1.0,
        theme: theme::ThemeChoice::Dark,
        quality: None,
        reduced_motion: false,
        volume: Some(0.7),
        bindings: bindings::Model {
            rows: rows(texts).into_iter().map(|(_, row)| row).collect(),
            keys: KEYS.iter().filter_map(|(key, _)| heard(*key)).collect(),
        },
    }
}

pub fn keys_model(texts: &Texts) -> controls_help::Model {
    let mut groups: Vec<controls_help::Group> = Vec::new();
    for (act, row) in rows(texts) {
        let name = texts.say(&act.group());
        match groups.iter_mut().find(|group| group.name == name) {
            Some(group) => group.rows.push(row),
            None => groups.push(controls_help::Group {
                name,
                rows: vec![row],
                lines: Vec::new(),
            }),
        }
    }
    groups.push(controls_help::Group {
        name: say(texts, "keys-group-foot"),
        rows: Vec::new(),
        lines: on_foot::hints(texts),
    });
    controls_help::Model { groups }
}
