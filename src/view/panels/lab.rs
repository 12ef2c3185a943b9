//! The laboratory: what varies at the left, the picture in the middle, single trials at the right. In a
//! narrow window they take turns.

use bevy_egui::egui::{
    CornerRadius, Frame, Panel, Rect, Response, Sense, TextEdit, Ui, WidgetInfo, vec2,
};

pub use super::lab_picture::{Axes, Bar, Fill, Picture as Curves, Series};
use super::lab_picture::{bars, curves};
use super::parts::{self, Press, say};
use super::slide::Slide;
use super::{Picture, lab_set_up, lab_trials};
use crate::texts::{Message, Texts};
use crate::view::icons::{Icon, Mark};
use crate::view::theme::{self, gap};

#[derive(Clone, Debug, PartialEq)]
pub struct Model {
    /// Scenarios to start from, and which it is.
    pub bases: Vec<String>,
    pub base: usize,
    /// Pitches that are looked at.
    pub pitch: Range,
    /// Steps of the pitch, in words, and which it is; the same for trials at each pitch.
    pub steps: (Vec<String>, usize),
    pub trials: (Vec<String>, usize),
    pub variables: Vec<Variable>,
    /// What the second set-up has otherwise; nothing where there is none.
    pub second: Vec<Changed>,
    /// Fields that can be chosen.
    pub fields: Vec<Field>,
    pub risks: Vec<Risk>,
    /// How sure the windows are, in words, and which it is.
    pub confidences: (Vec<String>, usize),
    pub seed: u64,
    /// What is wrong with what is set, as far as it is no variable's fault.
    pub faults: Vec<String>,
    /// What stands for certain that it is known beforehand, such as that so few trials show nothing.
    pub warnings: Vec<String>,
    pub stage: Stage,
    /// How far it has come, 0 to 1, and in words.
    pub progress: Option<(f32, String)>,
    /// What is set is not what the picture shows.
    pub is_changed: bool,
    pub axes: Axes,
    pub bars: Vec<Bar>,
    /// What matters most, event by event.
    pub matters: Vec<Matters>,
    pub curves: Vec<Curves>,
    /// What the picture says, in words; with a head where a new matter begins.
    pub answers: Vec<Answer>,
    pub point: Option<Point>,
    /// Where the sheet was saved, or that it is being made.
    pub saved: Option<String>,
    pub can_save: bool,
}

/// A range between bounds.
#[derive(Clone, Debug, PartialEq)]
pub struct Range {
    pub from: f64,
    pub to: f64,
    pub least: f64,
    pub most: f64,
    pub step: f64,
    /// It in words.
    pub said: String,
}

#[derive(Clone, Debug, PartialEq)]
pub struct Variable {
    pub path: String,
    pub meaning: String,
    pub range: Range,
    pub is_unmeasured: bool,
    pub faults: Vec<String>,
}

/// A field of the second set-up.
#[derive(Clone, Debug, PartialEq)]
pub struct Changed {
    pub path: String,
    pub meaning: String,
    /// Its value in words, with what the base has.
    pub said: String,
    pub value: Value,
}

#[derive(Clone, Debug, PartialEq)]
pub enum Value {
    Number {
        now: f64,
        least: f64,
        most: f64,
        step: f64,
    },
    /// One of several words: whether it is the first, the last.
    Word { ends: [bool; 2] },
}

/// A field that can be chosen.
#[derive(Clone, Debug, PartialEq)]
pub struct Field {
    pub path: String,
    pub meaning: String,
    /// Whether it can be varied; otherwise it can only be given another value in a second set-up.
    pub is_number: bool,
}

/// A risk that is accepted.
#[derive(Clone, Debug, PartialEq)]
pub struct Risk {
    pub name: String,
    pub said: String,
    pub ends: [bool; 2],
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Stage {
    Nothing,
    Running,
    /// It has been asked to stop and finishes what is in hand.
    Stopping,
    Stopped,
    Done,
    Failed(String),
}

#[derive(Clone, Debug, PartialEq)]
pub struct Answer {
    pub head: Option<String>,
    pub mark: Option<Mark>,
    pub text: String,
}

/// How often an event comes from a variable's lowest to its highest third, the widest first.
#[derive(Clone, Debug, PartialEq)]
pub struct Matters {
    pub head: String,
    pub axes: Axes,
    pub bars: Vec<Bar>,
}

/// The trials of a pitch.
#[derive(Clone, Debug, PartialEq)]
pub struct Point {
    pub title: String,
    /// Kinds of outcome with how many came to each, all of them first, and which are shown.
    pub kinds: Vec<String>,
    pub kind: usize,
    pub trials: Vec<Trial>,
    /// Which page of them, of how many.
    pub page: usize,
    pub pages: usize,
    pub chosen: Option<Chosen>,
}

#[derive(Clone, Debug, PartialEq)]
pub struct Trial {
    pub title: String,
    pub mark: Mark,
    pub said: String,
    pub is_chosen: bool,
}

/// The trial that is seen.
#[derive(Clone, Debug, PartialEq)]
pub struct Chosen {
    pub title: String,
    pub picture: Option<Picture>,
    pub clock: String,
    /// None where there is nothing to run: it says why.
    pub plays: Option<bool>,
    pub told: Vec<(Mark, String)>,
    /// Its numbers.
    pub numbers: Vec<(String, String)>,
}

#[derive(Clone, Debug, PartialEq)]
pub enum Action {
    Base(usize),
    Pitch {
        end: usize,
        to: f64,
    },
    Step(usize),
    Trials(usize),
    /// Varies a field.
    Vary(usize),
    Range {
        variable: usize,
        end: usize,
        to: f64,
    },
    Unmeasured {
        variable: usize,
        is: bool,
    },
    /// Varies it no longer.
    Leave(usize),
    /// Gives a field another value in the second set-up.
    Change(usize),
    Value {
        changed: usize,
        to: f64,
    },
    Word {
        changed: usize,
        steps: i32,
    },
    /// Leaves it as it is in the base.
    Undo(usize),
    Risk {
        risk: usize,
        steps: i32,
    },
    Confidence(usize),
    Seed(i32),
    Run,
    Stop,
    GoOn,
    /// Sets what the picture shows.
    SetBack,
    Look {
        set_up: usize,
        pitch: usize,
    },
    Kind(usize),
    Page(i32),
    Trial(usize),
    Play(bool),
    /// Watches the trial that is chosen in the whole window.
    Watch,
    Save,
    Back,
}

/// What is being chosen.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Choosing {
    Base,
    Variable,
    Second,
}

#[derive(Clone, Debug, Default, PartialEq)]
pub struct State {
    pub choosing: Option<Choosing>,
    /// What is looked for among the fields.
    pub sought: String,
    /// In a narrow window: which part is open.
    pub part: usize,
}

impl Model {
    fn can_run(&self) -> bool {
        self.faults.is_empty() && self.variables.iter().all(|one| one.faults.is_empty())
    }

    /// Whether what is to be pressed next can be pressed.
    fn goes(&self) -> bool {
        match self.stage {
            Stage::Nothing | Stage::Done => self.can_run(),
            Stage::Running | Stage::Stopped | Stage::Failed(_) => true,
            Stage::Stopping => false,
        }
    }
}

/// Narrower than so many heights of the text, the parts take turns.
const THREE_COLUMNS: f32 = 76.0;
/// Lower than so many, the caution stands at the end of what scrolls.
const LOW: f32 = 34.0;

pub fn show(ui: &mut Ui, texts: &Texts, model: &Model, state: &mut State) -> Option<Action> {
    parts::screen(ui, |ui| {
        let em = theme::em(ui);
        let is_low = ui.available_height() < LOW * em;
        let title = say(texts, "labscreen-title");
        let back = parts::header(ui, texts, &title) || parts::escaped(ui);
        if back && state.choosing.take().is_some() {
            state.sought.clear();
            return None;
        }
        if !is_low {
            Panel::bottom("caution")
                .frame(Frame::new())
                .show_separator_line(false)
                .show(ui, |ui| {
                    parts::space(ui, gap::SMALL);
                    parts::sign(ui, Mark::Caution, &caution(texts));
                });
        }
        let action = if ui.available_width() > THREE_COLUMNS * em {
            columns(ui, texts, model, state)
        } else {
            in_turn(ui, texts, model, state, is_low)
        };
        action.or(back.then_some(Action::Back))
    })
}

/// What every picture of the laboratory is shown with.
pub fn caution(texts: &Texts) -> String {
    use crate::domain::limits::{PITCH_MAX, PITCH_MIN, PITCH_NEVER_ABOVE};
    let deg = |limit: crate::domain::limits::Limit| limit.value.to_degrees();
    let message = Message::new("labscreen-caution")
        .measured("low", deg(PITCH_MIN), 0)
        .measured("high", deg(PITCH_MAX), 0)
        .measured("never", deg(PITCH_NEVER_ABOVE), 0);
    texts.say(&message)
}

fn columns(ui: &mut Ui, texts: &Texts, model: &Model, state: &mut State) -> Option<Action> {
    let width = ui.available_width();
    let em = theme::em(ui);
    let [left, rest] = parts::split(ui, (0.27 * width).max(23.0 * em));
    let set = parts::within(ui, "left", left, |ui| {
        parts::scroll(ui, ("setting", state.choosing), false, |ui| {
            lab_set_up::show(ui, texts, model, state, !model.goes())
        })
    });
    let builder = bevy_egui::egui::UiBuilder::new()
        .id_salt("rest")
        .max_rect(rest);
    let others = ui.scope_builder(builder, |ui| {
        let side = (0.34 * rest.width()).max(20.0 * em);
        let [middle, right] = parts::split(ui, rest.width() - side);
        let seen = parts::within(ui, "middle", middle, |ui| {
            let begins = state.choosing.is_none() && model.goes();
            picture(ui, texts, model, begins, false)
        });
        let tried = parts::within(ui, "right", right, |ui| {
            parts::scroll(ui, "trials", false, |ui| lab_trials::show(ui, texts, model))
        });
        seen.or(tried)
    });
    set.or(others.inner)
}

fn in_turn(
    ui: &mut Ui,
    texts: &Texts,
    model: &Model,
    state: &mut State,
    is_low: bool,
) -> Option<Action> {
    let names = ["labscreen-set-up", "labscreen-picture", "labscreen-trials"];
    let names = names.map(|id| say(texts, id));
    // The screen begins with what is to be pressed next, where there is such a thing.
    let begins = state.choosing.is_none() && (state.part != 1 || !model.goes());
    let pressed = parts::row(ui, |ui| {
        if begins {
            parts::first_choice(ui, &names, state.part)
        } else {
            parts::choice(ui, &names, state.part)
        }
    });
    if let Some(part) = pressed {
        state.part = part;
    }
    parts::space(ui, gap::SMALL);
    match state.part {
        0 => parts::scroll(ui, ("setting", state.choosing), true, |ui| {
            let action = lab_set_up::show(ui, texts, model, state, false);
            end(ui, texts, is_low);
            action
        }),
        1 => picture(ui, texts, model, !begins, is_low),
        _ => parts::scroll(ui, "trials", true, |ui| {
            let action = lab_trials::show(ui, texts, model);
            end(ui, texts, is_low);
            action
        }),
    }
}

fn end(ui: &mut Ui, texts: &Texts, is_low: bool) {
    if is_low {
        parts::space(ui, gap::MEDIUM);
        parts::sign(ui, Mark::Caution, &caution(texts));
    }
}

fn picture(
    ui: &mut Ui,
    texts: &Texts,
    model: &Model,
    begins: bool,
    is_low: bool,
) -> Option<Action> {
    let stage = stage(ui, texts, model, begins);
    parts::space(ui, gap::SMALL);
    let seen = parts::scroll(ui, "picture", true, |ui| {
        let mut action = None;
        if model.is_changed {
            parts::sign(ui, Mark::Note, &say(texts, "labscreen-changed"));
            if parts::button(ui, &say(texts, "labscreen-set-back")).clicked() {
                action = Some(Action::SetBack);
            }
            parts::space(ui, gap::SMALL);
        }
        parts::subheading(ui, &say(texts, "labscreen-window"));
        bars(ui, &model.axes, &model.bars);
        parts::space(ui, gap::MEDIUM);
        action = action.or(probabilities(ui, texts, model));
        for matters in &model.matters {
            parts::space(ui, gap::SMALL);
            parts::subheading(ui, &matters.head);
            bars(ui, &matters.axes, &matters.bars);
        }
        for answer in &model.answers {
            if let Some(head) = &answer.head {
                parts::space(ui, gap::SMALL);
                parts::subheading(ui, head);
            }
            match answer.mark {
                Some(mark) => {
                    parts::sign(ui, mark, &answer.text);
                }
                None => parts::body(ui, &answer.text),
            }
        }
        action = action.or(save(ui, texts, model));
        end(ui, texts, is_low);
        action
    });
    stage.or(seen)
}

/// The curves, of two set-ups beside each other where there is room for both.
fn probabilities(ui: &mut Ui, texts: &Texts, model: &Model) -> Option<Action> {
    let name = |curves: &Curves| {
        let name = Message::new("labscreen-curves").with("what", curves.title.as_str());
        texts.say(&name).trim().to_owned()
    };
    if model.curves.iter().all(|curves| curves.series.is_empty()) {
        parts::body(ui, &say(texts, "labscreen-nothing"));
    }
    let em = theme::em(ui);
    let has_room = ui.available_width() > 30.0 * em && model.curves.len() > 1;
    let mut action = None;
    let mut show = |ui: &mut Ui, set_up: usize, one: &Curves| {
        let pitch = curves(ui, &model.axes, one, &name(one));
        action = action
            .take()
            .or(pitch.map(|pitch| Action::Look { set_up, pitch }));
    };
    if has_room {
        ui.columns(model.curves.len(), |columns| {
            for (i, (ui, one)) in columns.iter_mut().zip(&model.curves).enumerate() {
                show(ui, i, one);
            }
        });
    } else {
        for (i, one) in model.curves.iter().enumerate() {
            show(ui, i, one);
            parts::space(ui, gap::SMALL);
        }
    }
    action
}

/// What can be done now, and how far it has come. The screen may begin with it.
fn stage(ui: &mut Ui, texts: &Texts, model: &Model, begins: bool) -> Option<Action> {
    let mut action = None;
    let can_run = model.can_run();
    parts::row(ui, |ui| {
        let [run, anew, stop, go_on] = [
            "labscreen-run",
            "labscreen-run-anew",
            "labscreen-stop",
            "labscreen-go-on",
        ]
        .map(|id| say(texts, id));
        let mut press = |ui: &mut Ui, press: Press, enabled: bool, is_next: bool, what: Action| {
            let shown = ui.add_enabled_ui(enabled, |ui| press.show(ui)).inner;
            if begins && is_next {
                parts::home(ui, &shown);
            }
            if shown.clicked() {
                action = Some(what);
            }
        };
        let begin = |text| Press::new(text).icon(Icon::Play);
        match model.stage {
            Stage::Nothing => press(ui, begin(&run).primary(), can_run, true, Action::Run),
            Stage::Running | Stage::Stopping => {
                let stops = model.stage == Stage::Running;
                let stop = Press::new(&stop).icon(Icon::Pause).primary();
                press(ui, stop, stops, true, Action::Stop);
            }
            Stage::Stopped | Stage::Failed(_) => {
                let is_same = !model.is_changed;
                press(ui, begin(&go_on).primary(), true, true, Action::GoOn);
                let anew = if is_same { &anew } else { &run };
                press(ui, begin(anew), can_run, false, Action::Run);
            }
            Stage::Done => {
                let text = if model.is_changed { &run } else { &anew };
                press(ui, begin(text).primary(), can_run, true, Action::Run);
            }
        }
        let (mark, id) = match &model.stage {
            Stage::Nothing => (Mark::Off, "labscreen-stage-nothing"),
            Stage::Running => (Mark::On, "labscreen-stage-running"),
            Stage::Stopping => (Mark::On, "labscreen-stage-stopping"),
            Stage::Stopped => (Mark::Note, "labscreen-stage-stopped"),
            Stage::Done => (Mark::Ok, "labscreen-stage-done"),
            Stage::Failed(_) => (Mark::Not, "labscreen-stage-failed"),
        };
        parts::sign(ui, mark, &say(texts, id));
        if let Some((_, said)) = &model.progress {
            parts::body(ui, said);
        }
    });
    if let Some((share, said)) = &model.progress {
        progress(ui, *share, said);
    }
    if let Stage::Failed(why) = &model.stage {
        parts::sign(ui, Mark::Caution, why);
    }
    action
}

fn progress(ui: &mut Ui, share: f32, said: &str) {
    let em = theme::em(ui);
    let palette = theme::palette(ui);
    let size = vec2(ui.available_width(), 0.5 * em);
    let (rect, response) = ui.allocate_exact_size(size, Sense::hover());
    response.widget_info(|| {
        WidgetInfo::labeled(bevy_egui::egui::WidgetType::ProgressIndicator, true, said)
    });
    let corner = CornerRadius::same(2);
    ui.painter().rect_filled(rect, corner, palette.line);
    let done = vec2(share.clamp(0.0, 1.0) * rect.width(), rect.height());
    ui.painter()
        .rect_filled(Rect::from_min_size(rect.min, done), corner, palette.accent);
}

fn save(ui: &mut Ui, texts: &Texts, model: &Model) -> Option<Action> {
    parts::space(ui, gap::MEDIUM);
    let text = say(texts, "labscreen-save");
    let pressed = ui
        .add_enabled_ui(model.can_save, |ui| Press::new(&text).show(ui))
        .inner
        .clicked();
    match &model.saved {
        Some(saved) => {
            parts::sign(ui, Mark::Ok, saved);
        }
        None => parts::note(ui, &say(texts, "labscreen-save-note")),
    }
    pressed.then_some(Action::Save)
}

/// A range as a slide.
pub(super) fn range(ui: &mut Ui, texts: &Texts, name: &str, range: &Range) -> Option<(usize, f64)> {
    let ends = ["labscreen-from", "labscreen-to"];
    let [from, to] = ends.map(|id| texts.say(&Message::new(id).with("what", name)));
    let slide = Slide {
        name,
        shown: &range.said,
        least: range.least,
        most: range.most,
        step: range.step,
    };
    slide.range(ui, texts, [range.from, range.to], [&from, &to])
}

/// A field to look for something in.
pub(super) fn seek(ui: &mut Ui, texts: &Texts, sought: &mut String) -> Response {
    parts::field(ui, &say(texts, "labscreen-seek"), |_| {
        TextEdit::singleline(sought)
            .desired_width(f32::INFINITY)
            .char_limit(60)
    })
}
