//! The thin bar at the top of the line's screen: exercise, clock, speed of time, the zone, and the tools.

use bevy_egui::egui::Ui;

use super::hud::{Action, Done, Menu, Model, SPEEDS, State, Zone};
use super::parts::{self, Press, say};
use crate::texts::{Message, Texts};
use crate::view::icons::{Icon, Mark};
use crate::view::theme;

pub fn show(
    ui: &mut Ui,
    texts: &Texts,
    model: &Model,
    state: &mut State,
    is_tight: bool,
    done: &mut Done,
) {
    parts::row(ui, |ui| {
        if !is_tight {
            let head = Message::new("hud-head")
                .with("exercise", model.exercise.as_str())
                .with("mode", model.mode.said());
            parts::subheading(ui, &texts.say(&head));
        }
        let palette = theme::palette(ui);
        let clock = parts::clock(model.clock_s);
        parts::paragraph(ui, &clock, theme::numbers(ui, 1.1), palette.text);
        time(ui, texts, model, is_tight, done);
        if model.is_behind {
            parts::sign(ui, Mark::Not, &say(texts, "hud-behind"));
        }
        match &model.zone {
            None => {}
            Some(Zone::Still) => {
                parts::sign(ui, Mark::Ok, &say(texts, "zone-still"));
            }
            Some(Zone::Live) => {
                parts::sign(ui, Mark::Caution, &say(texts, "zone-live"));
            }
            Some(Zone::Inside(who)) => {
                let text = Message::new("zone-inside").with("who", who.as_str());
                parts::sign(ui, Mark::Danger, &texts.say(&text));
            }
        }
        tools(ui, texts, model, state, done);
    });
}

/// How time runs, and what holds it.
fn time(ui: &mut Ui, texts: &Texts, model: &Model, is_tight: bool, done: &mut Done) {
    if !model.time_can_be_held {
        return;
    }
    let (id, icon, action) = if model.is_paused {
        ("hud-resume", Icon::Play, Action::Resume)
    } else {
        ("hud-pause", Icon::Pause, Action::Pause)
    };
    let text = say(texts, id);
    if Press::new(&text).only_icon(icon).show(ui).clicked() {
        done.actions.push(action);
    }
    if model.is_paused {
        let step = say(texts, "hud-step");
        if Press::new(&step).only_icon(Icon::Step).show(ui).clicked() {
            done.actions.push(Action::StepOnce);
        }
    }
    if is_tight {
        // One button that goes through them.
        let at = SPEEDS
            .iter()
            .position(|speed| (speed - model.speed).abs() < 0.01);
        let next = SPEEDS[at.map_or(0, |at| (at + 1) % SPEEDS.len())];
        let text = texts.say(&Message::new("hud-speed").with("speed", model.speed));
        let name = Message::new("hud-speed-next").with("speed", model.speed);
        let name = texts.say(&name);
        if Press::new(&text).called(&name).show(ui).clicked() {
            done.actions.push(Action::Speed(next));
        }
        return;
    }
    for speed in SPEEDS {
        let text = texts.say(&Message::new("hud-speed").with("speed", speed));
        let is_chosen = (speed - model.speed).abs() < 0.01;
        if Press::new(&text).selected(is_chosen).show(ui).clicked() {
            done.actions.push(Action::Speed(speed));
        }
    }
}

fn tools(ui: &mut Ui, texts: &Texts, model: &Model, state: &mut State, done: &mut Done) {
    let tool = |ui: &mut Ui, id: &'static str, icon: Icon| {
        let text = say(texts, id);
        Press::new(&text).only_icon(icon).show(ui).clicked()
    };
    if model.help_on_request && tool(ui, "hud-help", Icon::Help) {
        done.actions.push(Action::Help);
    }
    if tool(ui, "hud-radio", Icon::Radio) {
        state.toggle(Menu::Radio);
    }
    if model.check.is_some() && tool(ui, "hud-check", Icon::Look) {
        state.toggle(Menu::Check);
    }
    if model.look.has_choice() && tool(ui, "hud-cameras", Icon::Camera) {
        state.toggle(Menu::Look);
    }
    if tool(ui, "hud-fold", Icon::Fold) {
        state.is_folded = true;
    }
    let menu = say(texts, "hud-menu");
    let is_free = state.open.is_none();
    let pressed = Press::new(&menu).show(ui).clicked();
    if pressed || (is_free && parts::escaped(ui)) {
        done.actions.push(Action::Menu);
    }
}
