//! The thin bar at the top of the line's screen: exercise, clock, speed of time, the zone, and the tools.

use bevy_egui::egui::Ui;

use super::hud::{Action, Done, Menu, Model, State, Zone};
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
        if model.is_unrecorded {
            parts::sign(ui, Mark::Caution, &say(texts, "hud-unrecorded"));
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
        tools(ui, texts, model, state, is_tight, done);
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
        let press = Press::new(&step)
            .only_icon(Icon::Step)
            .key(&model.keys.step);
        if press.show(ui).clicked() {
            done.actions.push(Action::StepOnce);
        }
    }
    let at = model
        .speeds
        .iter()
        .position(|speed| (speed - model.speed).abs() < 0.01)
        .unwrap_or_default();
    let now = Message::new("hud-speed").with("speed", model.speed);
    let now = texts.say(&now);
    if is_tight {
        // One button that goes through them.
        let next = model.speeds.get(at + 1).or(model.speeds.first());
        let name = Message::new("hud-speed-next").with("speed", model.speed);
        let name = texts.say(&name);
        if Press::new(&now).called(&name).show(ui).clicked() {
            done.actions.extend(next.map(|&speed| Action::Speed(speed)));
        }
        return;
    }
    let keys = [&model.keys.slower, &model.keys.faster];
    // Their signs are nearly those of their keys: told to whoever points at them.
    let named = |id, key: &String| texts.say(&Message::new(id).with("key", key.as_str()));
    let slower = named("hud-slower", keys[0]);
    let faster = named("hud-faster", keys[1]);
    let slow = at.checked_sub(1).and_then(|at| model.speeds.get(at));
    let press = Press::new(&slower).only_icon(Icon::Minus);
    let mut to = None;
    if ui
        .add_enabled_ui(slow.is_some(), |ui| press.show(ui))
        .inner
        .clicked()
    {
        to = slow;
    }
    let width = 3.0 * theme::em(ui);
    parts::show_value(ui, &now, width);
    let fast = model.speeds.get(at + 1);
    let press = Press::new(&faster).only_icon(Icon::Plus);
    if ui
        .add_enabled_ui(fast.is_some(), |ui| press.show(ui))
        .inner
        .clicked()
    {
        to = fast;
    }
    done.actions.extend(to.map(|&speed| Action::Speed(speed)));
}

fn tools(
    ui: &mut Ui,
    texts: &Texts,
    model: &Model,
    state: &mut State,
    is_tight: bool,
    done: &mut Done,
) {
    let tool = |ui: &mut Ui, id: &'static str, icon: Icon, key: &str| {
        let text = say(texts, id);
        let key = if is_tight { "" } else { key };
        let press = Press::new(&text).only_icon(icon).key(key).show(ui);
        press.clicked()
    };
    let keys = &model.keys;
    if model.may_take_over {
        let text = say(texts, "hud-take-the-pendant");
        let press = Press::new(&text).icon(Icon::Play).primary();
        if press.key(&keys.take_over).show(ui).clicked() {
            done.actions.push(Action::TakeOver);
        }
    }
    if model.help_on_request && tool(ui, "hud-help", Icon::Help, &keys.help) {
        done.actions.push(Action::Help);
    }
    if tool(ui, "hud-radio", Icon::Radio, &keys.radio) {
        state.toggle(Menu::Radio);
    }
    if model.check.is_some() && tool(ui, "hud-check", Icon::Tick, &keys.check) {
        state.toggle(Menu::Check);
    }
    if model.look.has_choice() && tool(ui, "hud-cameras", Icon::Camera, "") {
        state.toggle(Menu::Look);
    }
    if tool(ui, "hud-fold", Icon::Fold, &keys.fold) {
        state.is_folded = true;
    }
    if model.may_say_done && tool(ui, "hud-done", Icon::Flag, &keys.done) {
        done.actions.push(Action::Done);
    }
    let menu = say(texts, "hud-menu");
    let key = if is_tight { "" } else { &keys.menu };
    if Press::new(&menu).key(key).show(ui).clicked() {
        done.actions.push(Action::Menu);
    }
}
