//! Language, size of the text, picture, sound and keys. Everything is changed at once, without a
//! restart.

use bevy_egui::egui::Ui;

use super::bindings;
use super::parts::{self, Press, say};
use crate::texts::{Lang, Message, Texts};
use crate::view::quality::Quality;
use crate::view::theme::{self, TEXT_SCALES, ThemeChoice, gap};

#[derive(Clone, Debug, PartialEq)]
pub struct Model {
    pub lang: Lang,
    pub text_scale: f32,
    pub theme: ThemeChoice,
    /// None is chosen by the program, from how fast the picture comes.
    pub quality: Option<Quality>,
    pub reduced_motion: bool,
    /// 0 to 1; None where there is no sound.
    pub volume: Option<f32>,
    pub bindings: bindings::Model,
}

#[derive(Clone, Debug, Default, PartialEq)]
pub struct State {
    pub bindings: bindings::State,
}

#[derive(Clone, Debug, PartialEq)]
pub enum Action {
    Lang(Lang),
    TextScale(f32),
    Theme(ThemeChoice),
    Quality(Option<Quality>),
    ReducedMotion(bool),
    Volume(f32),
    Bindings(bindings::Action),
    Back,
}

/// One step of the size of the text.
const SCALE_STEP: f32 = 0.25;
const VOLUME_STEP: f32 = 0.1;
/// Narrower than so many heights of the text, the keys stand below the rest.
const TWO_COLUMNS: f32 = 58.0;

pub fn show(ui: &mut Ui, texts: &Texts, model: &Model, state: &mut State) -> Option<Action> {
    parts::screen(ui, |ui| {
        let listens = state.bindings.is_listening();
        let title = say(texts, "settings-title");
        let back = parts::header(ui, texts, &title) || (!listens && parts::escaped(ui));
        let action = if ui.available_width() > TWO_COLUMNS * theme::em(ui) {
            let [left, right] = parts::split(ui, 0.42 * ui.available_width());
            let general = parts::within(ui, "left", left, |ui| {
                parts::scroll(ui, "general", false, |ui| general(ui, texts, model))
            });
            let keys = parts::within(ui, "right", right, |ui| {
                parts::scroll(ui, "keys", true, |ui| keys(ui, texts, model, state))
            });
            general.or(keys)
        } else {
            parts::scroll(ui, "settings", true, |ui| {
                let general = general(ui, texts, model);
                parts::space(ui, gap::LARGE);
                general.or(keys(ui, texts, model, state))
            })
        };
        action.or(back.then_some(Action::Back))
    })
}

fn general(ui: &mut Ui, texts: &Texts, model: &Model) -> Option<Action> {
    let mut action = None;
    parts::subheading(ui, &say(texts, "settings-language"));
    // Each language by its own name, so that it is found by whoever reads no other.
    let languages = Lang::ALL.map(|lang| say(Texts::of(lang), "language-name"));
    let chosen = index(&Lang::ALL, &model.lang);
    if let Some(i) = parts::row(ui, |ui| parts::first_choice(ui, &languages, chosen)) {
        action = Lang::ALL.get(i).copied().map(Action::Lang);
    }
    parts::space(ui, gap::MEDIUM);

    let scale = say(texts, "settings-text-scale");
    parts::subheading(ui, &scale);
    let value = percent(texts, model.text_scale);
    let ends = [
        model.text_scale <= *TEXT_SCALES.start() + 0.01,
        model.text_scale >= *TEXT_SCALES.end() - 0.01,
    ];
    let steps = parts::row(ui, |ui| parts::stepper(ui, texts, &scale, &value, ends));
    if steps != 0 {
        let to = model.text_scale + SCALE_STEP * steps as f32;
        action = Some(Action::TextScale(
            to.clamp(*TEXT_SCALES.start(), *TEXT_SCALES.end()),
        ));
    }
    parts::space(ui, gap::MEDIUM);

    parts::subheading(ui, &say(texts, "settings-theme"));
    let themes = ["settings-theme-dark", "settings-theme-projector"].map(|id| say(texts, id));
    let chosen = index(&ThemeChoice::ALL, &model.theme);
    if let Some(i) = parts::row(ui, |ui| parts::choice(ui, &themes, chosen)) {
        action = ThemeChoice::ALL.get(i).copied().map(Action::Theme);
    }
    parts::space(ui, gap::MEDIUM);

    parts::subheading(ui, &say(texts, "settings-quality"));
    let qualities = [
        None,
        Some(Quality::Low),
        Some(Quality::Medium),
        Some(Quality::High),
    ];
    let names = [
        "settings-quality-auto",
        "settings-quality-low",
        "settings-quality-medium",
        "settings-quality-high",
    ]
    .map(|id| say(texts, id));
    let chosen = index(&qualities, &model.quality);
    if let Some(i) = parts::row(ui, |ui| parts::choice(ui, &names, chosen)) {
        action = qualities.get(i).copied().map(Action::Quality);
    }
    parts::space(ui, gap::MEDIUM);

    parts::subheading(ui, &say(texts, "settings-motion"));
    let reduced = say(texts, "settings-reduced-motion");
    if parts::toggle(ui, &reduced, model.reduced_motion) {
        action = Some(Action::ReducedMotion(!model.reduced_motion));
    }
    parts::space(ui, gap::MEDIUM);

    let volume = say(texts, "settings-volume");
    parts::subheading(ui, &volume);
    match model.volume {
        Some(value) => {
            let ends = [value <= 0.01, value >= 0.99];
            let shown = percent(texts, value);
            let steps = parts::row(ui, |ui| parts::stepper(ui, texts, &volume, &shown, ends));
            if steps != 0 {
                let to = (value + VOLUME_STEP * steps as f32).clamp(0.0, 1.0);
                action = Some(Action::Volume(to));
            }
        }
        None => parts::body(ui, &say(texts, "settings-no-sound")),
    }
    action
}

fn keys(ui: &mut Ui, texts: &Texts, model: &Model, state: &mut State) -> Option<Action> {
    parts::subheading(ui, &say(texts, "settings-keys"));
    parts::note(ui, &say(texts, "settings-keys-note"));
    let reset = say(texts, "settings-keys-reset");
    let reset = Press::new(&reset).show(ui).clicked();
    let action = bindings::show(ui, texts, &model.bindings, &mut state.bindings);
    let action = action.or(reset.then_some(bindings::Action::Reset));
    action.map(Action::Bindings)
}

fn index<T: PartialEq>(all: &[T], one: &T) -> usize {
    all.iter()
        .position(|other| other == one)
        .unwrap_or_default()
}

fn percent(texts: &Texts, share: f32) -> String {
    let share = f64::from((100.0 * share).round());
    texts.say(&Message::new("percent").measured("share", share, 0))
}
