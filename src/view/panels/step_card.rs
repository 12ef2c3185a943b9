//! The step of the work: what, why, and how far it is.

use std::cmp::Ordering;

use bevy_egui::egui::{Sense, Stroke, Ui, pos2, vec2};

use super::hud::Step;
use super::parts;
use crate::texts::{Message, Texts};
use crate::view::icons::Mark;
use crate::view::theme::{self, gap};

pub(super) fn show(ui: &mut Ui, texts: &Texts, step: &Step) {
    let head = Message::new("step-head")
        .with("step", (step.done + 1).min(step.of.max(1)))
        .with("of", step.of.max(1));
    parts::note(ui, &texts.say(&head));
    dots(ui, step.done, step.of);
    parts::subheading(ui, &step.what);
    parts::body(ui, &step.why);
    if let Some(off_path) = &step.off_path {
        parts::space(ui, gap::TINY);
        parts::sign(ui, Mark::Note, off_path);
    }
}

/// A filled dot for what is done, a ring with a dot for what is next, rings for the rest.
fn dots(ui: &mut Ui, done: usize, of: usize) {
    let em = theme::em(ui);
    let palette = theme::palette(ui);
    let step = (ui.available_width() / of.max(1) as f32).min(0.9 * em);
    let size = vec2(step * of as f32, 0.9 * em);
    let (rect, _) = ui.allocate_exact_size(size, Sense::hover());
    let r = (0.34 * step).min(0.32 * em);
    for i in 0..of {
        let at = pos2(rect.left() + (i as f32 + 0.5) * step, rect.center().y);
        let line = Stroke::new((0.3 * r).max(1.0), palette.text);
        match i.cmp(&done) {
            Ordering::Less => {
                ui.painter().circle_filled(at, r, palette.text);
            }
            Ordering::Equal => {
                ui.painter().circle(at, r, palette.accent, line);
            }
            Ordering::Greater => {
                ui.painter().circle_stroke(at, 0.85 * r, line);
            }
        }
    }
}
