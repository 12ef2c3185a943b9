//! Choosing what to do: the list of exercises, the chosen one's brief, and the ways in.

use bevy_egui::egui::{Panel, TextEdit, Ui};

use super::Picture;
use super::parts::{self, Press, say};
use crate::session::mode::Mode;
use crate::texts::{Message, Texts};
use crate::view::icons::{Icon, Mark};
use crate::view::theme::{self, gap};

#[derive(Clone, Debug, Default, PartialEq)]
pub struct Model {
    pub rows: Vec<Row>,
    /// Who can show the chosen exercise: the expert first.
    pub operators: Vec<Showing>,
}

/// An exercise of the list.
#[derive(Clone, Debug, PartialEq)]
pub struct Row {
    pub name: String,
    /// 1 to 5.
    pub level: u8,
    pub trains: String,
    pub minutes: f64,
    pub best: Best,
    pub brief: String,
    pub hazards: String,
    /// The standard seed: everybody who takes it has the same sticks in the same places.
    pub seed: u64,
    pub picture: Option<Picture>,
}

/// The best that the trainee has come to.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Best {
    NotTried,
    /// Tried, not passed.
    Failed,
    Passed {
        points: f64,
    },
    /// Passed twice with different seeds.
    Mastered,
}

/// Somebody who can show an exercise.
#[derive(Clone, Debug, PartialEq)]
pub struct Showing {
    /// Name in the roster.
    pub name: String,
    /// What they do, in a sentence.
    pub does: String,
}

#[derive(Clone, Debug, Default, PartialEq)]
pub struct State {
    pub chosen: usize,
    pub trainee: String,
    /// Another seed than the standard one, as written.
    pub seed: Option<String>,
    /// Which of those who can show it.
    pub showing: usize,
    /// The class predicts before it watches.
    pub votes: bool,
    /// In a narrow window: the brief is open, not the list.
    pub brief_open: bool,
    /// The choice of who shows it is open.
    pub showing_open: bool,
    /// The chosen one was pressed once more: the keyboard goes on to the ways in.
    pub goes_on: bool,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Action {
    Start {
        row: usize,
        mode: Mode,
        /// None is the standard one.
        seed: Option<u64>,
    },
    Back,
}

/// Narrower than so many heights of the text, list and brief take turns.
const TWO_COLUMNS: f32 = 56.0;

impl State {
    /// The seed asked for: Err where what is written is no seed.
    fn asked(&self) -> Result<Option<u64>, ()> {
        match &self.seed {
            None => Ok(None),
            Some(text) => text.trim().parse().map(Some).map_err(|_| ()),
        }
    }
}

pub fn show(ui: &mut Ui, texts: &Texts, model: &Model, state: &mut State) -> Option<Action> {
    parts::screen(ui, |ui| {
        let is_wide = ui.available_width() > TWO_COLUMNS * theme::em(ui);
        let shows_brief = state.brief_open && !is_wide;
        let title = say(texts, "exercises-title");
        let back = parts::header(ui, texts, &title) || parts::escaped(ui);
        // What lies over the list is left first.
        if back && state.showing_open {
            state.showing_open = false;
            return None;
        }
        if back && shows_brief {
            state.brief_open = false;
            return None;
        }
        let row = model.rows.get(state.chosen).or(model.rows.first());
        let Some(row) = row else {
            parts::body(ui, &say(texts, "exercises-none"));
            return back.then_some(Action::Back);
        };
        let action = if is_wide {
            let [left, right] = parts::split(ui, 0.38 * ui.available_width());
            parts::within(ui, "left", left, |ui| list(ui, texts, model, state, false));
            parts::within(ui, "right", right, |ui| {
                chosen(ui, texts, model, row, state)
            })
        } else if shows_brief {
            chosen(ui, texts, model, row, state)
        } else {
            list(ui, texts, model, state, true);
            None
        };
        action.or(back.then_some(Action::Back))
    })
}

fn list(ui: &mut Ui, texts: &Texts, model: &Model, state: &mut State, is_main: bool) {
    parts::scroll(ui, "list", is_main, |ui| {
        let label = say(texts, "exercises-trainee");
        parts::field(ui, &label, |_| {
            let hint = say(texts, "exercises-trainee-hint");
            TextEdit::singleline(&mut state.trainee)
                .hint_text(hint)
                .desired_width(f32::INFINITY)
                .char_limit(NAME_MOST)
        });
        parts::space(ui, gap::MEDIUM);
        for (i, row) in model.rows.iter().enumerate() {
            let (mark, word) = best(texts, row.best);
            let level = Message::new(LEVELS[usize::from(row.level.clamp(1, 5) - 1)]);
            let line = Message::new("exercises-row").with("level", level).measured(
                "minutes",
                row.minutes,
                0,
            );
            let line = texts.say(&line);
            let press = Press::new(&row.name)
                .bars(row.level)
                .note(&line)
                .mark(mark, &word)
                .selected(i == state.chosen)
                .fill()
                .show(ui);
            if i == state.chosen {
                parts::home(ui, &press);
            }
            if press.clicked() {
                state.goes_on = i == state.chosen || is_main;
                state.chosen = i;
                state.brief_open = true;
                state.seed = None;
                state.showing = 0;
                state.showing_open = false;
            }
        }
    });
}

/// Letters of a name.
const NAME_MOST: usize = 60;

const LEVELS: [&str; 5] = ["level-1", "level-2", "level-3", "level-4", "level-5"];

fn best(texts: &Texts, best: Best) -> (Mark, String) {
    let (mark, message) = match best {
        Best::NotTried => (Mark::Off, Message::new("best-none")),
        Best::Failed => (Mark::Not, Message::new("best-failed")),
        Best::Passed { points } => (
            Mark::Ok,
            Message::new("best-passed").measured("points", points, 0),
        ),
        Best::Mastered => (Mark::Ok, Message::new("best-mastered")),
    };
    (mark, texts.say(&message))
}

/// The chosen exercise: what it is, and the ways in, always in sight where there is room for both.
fn chosen(
    ui: &mut Ui,
    texts: &Texts,
    model: &Model,
    row: &Row,
    state: &mut State,
) -> Option<Action> {
    let has_room = ui.available_height() > 36.0 * theme::em(ui);
    if has_room {
        let ways = Panel::bottom("ways")
            .frame(bevy_egui::egui::Frame::new())
            .show(ui, |ui| {
                parts::space(ui, gap::SMALL);
                ways(ui, texts, row, state)
            })
            .inner;
        parts::scroll(ui, ("brief", &row.name), true, |ui| {
            brief(ui, texts, model, row, state)
        });
        ways
    } else {
        parts::scroll(ui, ("brief", &row.name), true, |ui| {
            brief(ui, texts, model, row, state);
            parts::space(ui, gap::MEDIUM);
            ways(ui, texts, row, state)
        })
    }
}

fn brief(ui: &mut Ui, texts: &Texts, model: &Model, row: &Row, state: &mut State) {
    if state.showing_open {
        who_shows(ui, texts, model, state);
        return;
    }
    parts::heading(ui, &row.name);
    if let Some(picture) = row.picture {
        let most = 11.0 * theme::em(ui);
        parts::picture(ui, picture, &row.name, most);
    }
    parts::body(ui, &row.brief);
    parts::space(ui, gap::MEDIUM);
    parts::told(ui, &say(texts, "exercises-trains"), &row.trains);
    parts::subheading(ui, &say(texts, "exercises-hazards"));
    parts::sign(ui, Mark::Caution, &row.hazards);
    parts::space(ui, gap::MEDIUM);
    parts::subheading(ui, &say(texts, "exercises-load"));
    load(ui, texts, row, state);
    parts::space(ui, gap::MEDIUM);
    let Some(showing) = model.operators.get(state.showing) else {
        return;
    };
    parts::subheading(ui, &say(texts, "exercises-shown-by"));
    parts::body(ui, &showing.does);
    let change = say(texts, "exercises-change");
    if parts::button(ui, &change).clicked() {
        state.showing_open = true;
    }
    if parts::toggle(ui, &say(texts, "exercises-vote"), state.votes) {
        state.votes = !state.votes;
    }
}

/// Which sticks lie on the rack, and how.
fn load(ui: &mut Ui, texts: &Texts, row: &Row, state: &mut State) {
    let standard = Message::new("exercises-load-standard").with("seed", row.seed.to_string());
    let options = [texts.say(&standard), say(texts, "exercises-load-another")];
    let is_another = usize::from(state.seed.is_some());
    let pressed = parts::row(ui, |ui| parts::choice(ui, &options, is_another));
    match pressed {
        Some(0) => state.seed = None,
        Some(_) if state.seed.is_none() => state.seed = Some((row.seed + 1).to_string()),
        _ => {}
    }
    if let Some(seed) = &mut state.seed {
        let label = say(texts, "exercises-load-number");
        parts::field(ui, &label, |_| {
            TextEdit::singleline(seed).char_limit(SEED_MOST)
        });
    }
    if state.asked().is_err() {
        parts::sign(ui, Mark::Not, &say(texts, "exercises-load-fault"));
    }
}

/// Digits of a seed.
const SEED_MOST: usize = 18;

fn who_shows(ui: &mut Ui, texts: &Texts, model: &Model, state: &mut State) {
    parts::heading(ui, &say(texts, "exercises-shown-by"));
    parts::body(ui, &say(texts, "exercises-shown-by-note"));
    for (i, showing) in model.operators.iter().enumerate() {
        let press = Press::new(&showing.does)
            .selected(i == state.showing)
            .fill()
            .show(ui);
        if press.clicked() {
            state.showing = i;
            state.showing_open = false;
        }
    }
}

/// The way that helps most comes first to the eye: newcomers learn most from watching.
fn usual(best: Best) -> Mode {
    match best {
        Best::NotTried => Mode::Demonstration,
        Best::Failed => Mode::Guided,
        Best::Passed { .. } | Best::Mastered => Mode::Assessed,
    }
}

fn ways(ui: &mut Ui, texts: &Texts, row: &Row, state: &mut State) -> Option<Action> {
    const WAYS: [(Mode, &str, &str, Icon); 5] = [
        (
            Mode::Demonstration,
            "way-demonstration",
            "way-demonstration-note",
            Icon::Look,
        ),
        (Mode::Guided, "way-guided", "way-guided-note", Icon::Help),
        (
            Mode::Practice,
            "way-practice",
            "way-practice-note",
            Icon::Rewind,
        ),
        (
            Mode::Assessed,
            "way-assessed",
            "way-assessed-note",
            Icon::Flag,
        ),
        (Mode::WarmUp, "way-warm-up", "way-warm-up-note", Icon::Play),
    ];
    let asked = state.asked();
    let columns = if ui.available_width() > 34.0 * theme::em(ui) {
        2
    } else {
        1
    };
    let mut action = None;
    ui.add_enabled_ui(asked.is_ok(), |ui| {
        for pair in WAYS.chunks(columns) {
            ui.columns(columns, |columns| {
                for (ui, (mode, text, note, icon)) in columns.iter_mut().zip(pair) {
                    let (text, note) = (say(texts, text), say(texts, note));
                    let mut press = Press::new(&text).note(&note).icon(*icon).fill();
                    let is_usual = *mode == usual(row.best);
                    if is_usual {
                        press = press.primary();
                    }
                    let press = press.show(ui);
                    if is_usual && std::mem::take(&mut state.goes_on) {
                        press.request_focus();
                    }
                    if press.clicked() {
                        action = Some(Action::Start {
                            row: state.chosen,
                            mode: *mode,
                            seed: asked.ok().flatten(),
                        });
                    }
                }
            });
        }
    });
    action
}
