//! What happened, in three beats; then the question what would have been done otherwise; only then the
//! answer. The scene shows the beat, the card lies below.

use bevy_egui::egui::{Align2, ProgressBar, TextEdit, Ui};

use super::parts::{self, Overlay, Press, say};
use crate::texts::{Message, Texts};
use crate::view::icons::{Icon, Mark};
use crate::view::theme::{self, gap};

#[derive(Clone, Debug, Default, PartialEq)]
pub struct Model {
    /// What happened, in a sentence.
    pub sentence: String,
    pub mark: Option<Mark>,
    /// The act, the moment when it could no longer be stopped, the outcome; fewer where one is not
    /// known.
    pub beats: Vec<Beat>,
    /// What could have been done otherwise, the right act among them.
    pub choices: Vec<String>,
    /// Which of them would have averted it.
    pub right: Option<usize>,
    /// The answer: the right act, and why.
    pub answer: Vec<String>,
}

#[derive(Clone, Debug, PartialEq)]
pub struct Beat {
    pub kind: BeatKind,
    pub caption: String,
    pub time_s: f64,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum BeatKind {
    Act,
    TooLate,
    Outcome,
}

#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct State {
    pub stage: Stage,
    pub beat: usize,
    pub choice: Option<usize>,
    pub words: String,
}

#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Stage {
    #[default]
    Story,
    Question,
    Answer,
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Action {
    /// The scene goes to a beat.
    Beat(usize),
    Answered {
        choice: Option<usize>,
        words: String,
    },
    /// On to the debrief.
    Debrief,
}

/// Letters of an answer in free words.
const WORDS_MOST: usize = 400;

pub fn show(ui: &mut Ui, texts: &Texts, model: &Model, state: &mut State) -> Option<Action> {
    let window = parts::inside(ui.max_rect());
    let overlay = Overlay {
        name: "story",
        at: window.center_bottom(),
        pivot: Align2::CENTER_BOTTOM,
        width: (46.0 * theme::em(ui)).min(window.width()),
        most_height: window.height(),
        on_top: false,
    };
    overlay.show(ui.ctx(), |ui| match state.stage {
        Stage::Story => story(ui, texts, model, state),
        Stage::Question => question(ui, texts, model, state),
        Stage::Answer => answer(ui, texts, model, state),
    })
}

/// How far the run has been run again.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Wait {
    /// Questions that are answered, of how many.
    pub done: usize,
    pub of: usize,
    /// The run has its result, whoever waits or leaves.
    pub counts: bool,
    /// It was begun at the trainer's screen, and leads back there.
    pub for_trainer: bool,
}

/// While the run is being run again. Says whether somebody does not want to wait.
pub fn wait(ui: &mut Ui, texts: &Texts, model: Wait) -> bool {
    let window = parts::inside(ui.max_rect());
    let overlay = Overlay {
        name: "wait",
        at: window.center_bottom(),
        pivot: Align2::CENTER_BOTTOM,
        width: (30.0 * theme::em(ui)).min(window.width()),
        most_height: window.height(),
        on_top: false,
    };
    let pressed = overlay.show(ui.ctx(), |ui| {
        parts::subheading(ui, &say(texts, "happened-wait"));
        ui.add(ProgressBar::new(model.done as f32 / model.of.max(1) as f32));
        parts::note(ui, &say(texts, "happened-wait-why"));
        if model.counts {
            parts::note(ui, &say(texts, "happened-wait-counts"));
        }
        parts::space(ui, gap::SMALL);
        let leads = match model.for_trainer {
            true => "happened-wait-leave-trainer",
            false => "happened-wait-leave",
        };
        let leave = say(texts, leads);
        let leave = Press::new(&leave).icon(Icon::Left).show(ui);
        // A key that was meant for the line must not lead away from what is waited for.
        parts::home_by_arrow(ui, &leave);
        leave.clicked()
    });
    pressed || parts::escaped(ui)
}

fn story(ui: &mut Ui, texts: &Texts, model: &Model, state: &mut State) -> Option<Action> {
    head(ui, model);
    let mut action = None;
    if let Some(beat) = model.beats.get(state.beat) {
        let name = say(
            texts,
            match beat.kind {
                BeatKind::Act => "happened-act",
                BeatKind::TooLate => "happened-too-late",
                BeatKind::Outcome => "happened-outcome",
            },
        );
        let line = Message::new("happened-beat")
            .with("beat", state.beat + 1)
            .with("of", model.beats.len())
            .with("name", name)
            .with("time", parts::clock(beat.time_s));
        parts::subheading(ui, &texts.say(&line));
        parts::body(ui, &beat.caption);
    }
    parts::space(ui, gap::SMALL);
    let [back, next, on] =
        ["happened-back", "happened-next", "happened-on"].map(|id| say(texts, id));
    parts::row(ui, |ui| {
        let is_first = state.beat == 0;
        let pressed = ui.add_enabled_ui(!is_first, |ui| {
            Press::new(&back).icon(Icon::Left).show(ui).clicked()
        });
        let key = |key| parts::pressed(ui, key) && ui.memory(|memory| memory.focused().is_none());
        let by_key = [
            key(bevy_egui::egui::Key::ArrowLeft),
            key(bevy_egui::egui::Key::ArrowRight),
        ];
        if !is_first && (pressed.inner || by_key[0]) {
            state.beat -= 1;
            action = Some(Action::Beat(state.beat));
        }
        let has_next = state.beat + 1 < model.beats.len();
        let text = if has_next { &next } else { &on };
        let press = Press::new(text).icon(Icon::Right).primary().show(ui);
        parts::home(ui, &press);
        if press.clicked() || by_key[1] && has_next {
            if has_next {
                state.beat += 1;
                action = Some(Action::Beat(state.beat));
            } else {
                state.stage = Stage::Question;
            }
        }
    });
    action
}

fn head(ui: &mut Ui, model: &Model) {
    match model.mark {
        Some(mark) => {
            parts::sign_heading(ui, mark, &model.sentence);
        }
        None => parts::heading(ui, &model.sentence),
    }
}

fn question(ui: &mut Ui, texts: &Texts, model: &Model, state: &mut State) -> Option<Action> {
    parts::heading(ui, &say(texts, "happened-question"));
    // Whoever has chosen goes on from there.
    let mut has_chosen = false;
    for (i, choice) in model.choices.iter().enumerate() {
        let press = Press::new(choice)
            .selected(state.choice == Some(i))
            .fill()
            .show(ui);
        if i == 0 {
            parts::home(ui, &press);
        }
        if press.clicked() {
            state.choice = Some(i);
            has_chosen = true;
        }
    }
    let label = say(texts, "happened-words");
    parts::field(ui, &label, |_| {
        TextEdit::multiline(&mut state.words)
            .desired_rows(2)
            .desired_width(f32::INFINITY)
            .char_limit(WORDS_MOST)
    });
    parts::space(ui, gap::SMALL);
    let has_said = state.choice.is_some() || !state.words.trim().is_empty();
    let answer = say(texts, "happened-answer");
    let mut action = None;
    parts::row(ui, |ui| {
        ui.add_enabled_ui(has_said, |ui| {
            let press = Press::new(&answer).icon(Icon::Right).primary().show(ui);
            if has_chosen {
                press.request_focus();
            }
            if press.clicked() {
                state.stage = Stage::Answer;
                action = Some(Action::Answered {
                    choice: state.choice,
                    words: state.words.trim().to_owned(),
                });
            }
        });
        action = action.take().or(again(ui, texts, state));
    });
    if !has_said {
        parts::note(ui, &say(texts, "happened-say-first"));
    }
    action
}

/// Back to the story: by its button, and by Escape.
fn again(ui: &mut Ui, texts: &Texts, state: &mut State) -> Option<Action> {
    let text = say(texts, "happened-again");
    let pressed = Press::new(&text).icon(Icon::Left).show(ui).clicked();
    (pressed || parts::escaped(ui)).then(|| {
        state.stage = Stage::Story;
        state.beat = 0;
        Action::Beat(0)
    })
}

fn answer(ui: &mut Ui, texts: &Texts, model: &Model, state: &mut State) -> Option<Action> {
    head(ui, model);
    let chosen = state.choice.and_then(|i| model.choices.get(i));
    if let Some(chosen) = chosen {
        let said = Message::new("happened-you-said").with("choice", chosen.as_str());
        parts::body(ui, &texts.say(&said));
        let is_right = state.choice.is_some() && state.choice == model.right;
        let (mark, id) = if is_right {
            (Mark::Ok, "happened-right")
        } else {
            (Mark::Note, "happened-not-right")
        };
        parts::sign(ui, mark, &say(texts, id));
    }
    for line in &model.answer {
        parts::body(ui, line);
    }
    parts::space(ui, gap::SMALL);
    let on = say(texts, "happened-debrief");
    parts::row(ui, |ui| {
        let press = Press::new(&on).icon(Icon::Right).primary().show(ui);
        parts::home(ui, &press);
        let on = press.clicked().then_some(Action::Debrief);
        on.or(again(ui, texts, state))
    })
}
