//! What is written over the scene: what overlays tell, and what the coach points at.

use bevy::math::Vec3;
use bevy_egui::egui::{Align2, Pos2, Rect, Stroke, Ui, vec2};

use super::Easel;
use crate::domain::rig::End;
use crate::domain::spec::{Duty, Item};
use crate::session::coach::Pointed;
use crate::texts::Texts;
use crate::view::overlay::{self, Overlays};
use crate::view::scene::part::{Part, place_of};
use crate::view::theme;
use crate::view::yard::Yard;

/// How large the ring round what is pointed at is, in heights of the text.
const RING: f32 = 1.6;

/// Writes what the overlays tell where it belongs.
pub fn labels(ui: &Ui, texts: &Texts, yard: &Yard, overlays: &Overlays, easel: &Easel) {
    let mut written: Vec<Rect> = Vec::new();
    for (at, message) in overlay::labels(yard, overlays) {
        if let Some(at) = (easel.project)(at) {
            label(ui, at, &texts.say(&message), &mut written);
        }
    }
}

/// Rings what is pointed at.
pub fn point(ui: &Ui, yard: &Yard, pointed: &[Pointed], easel: &Easel) {
    let painter = ui.painter();
    let radius = RING * theme::em(ui);
    for place in pointed.iter().filter_map(|pointed| place(*pointed, yard)) {
        if let Some(at) = (easel.project)(place) {
            let outer = Stroke::new(theme::FOCUS_RING + 2.0, theme::INK);
            painter.circle_stroke(at, radius, outer);
            painter.circle_stroke(
                at,
                radius,
                Stroke::new(theme::FOCUS_RING, theme::QUIET_BLUE),
            );
        }
    }
}

/// Writes above a point, or higher where something is written already.
fn label(ui: &Ui, at: Pos2, text: &str, written: &mut Vec<Rect>) {
    let font = theme::bold(ui, 0.85);
    let painter = ui.painter();
    let galley = painter.layout_no_wrap(text.to_owned(), font, theme::CHALK);
    let mut rect = Align2::CENTER_BOTTOM.anchor_size(at, galley.size() + vec2(8.0, 4.0));
    // Each of them can be in the way once.
    for _ in 0..written.len() {
        let Some(other) = written.iter().find(|other| other.intersects(rect)) else {
            break;
        };
        rect = rect.translate(vec2(0.0, other.top() - rect.bottom() - 1.0));
    }
    written.push(rect);
    painter.rect_filled(rect, 3.0, theme::Palette::veil());
    painter.galley(rect.min + vec2(4.0, 2.0), galley, theme::CHALK);
}

/// Where something is now.
fn place(pointed: Pointed, yard: &Yard) -> Option<Vec3> {
    let part = match pointed {
        Pointed::Rail(end) => Part::Rail(end),
        Pointed::Jack(end) => Part::Jack(end),
        Pointed::Escapement(end) => Part::Gate(end),
        Pointed::Chock(end) => Part::Chock(end),
        Pointed::Receiver => Part::Receiver,
        Pointed::Cradle(end) => Part::Cradle(end),
        Pointed::Machine => Part::Machine,
        Pointed::Jaws => Part::Jaws,
        Pointed::Loader => Part::Loader,
        Pointed::Station => Part::Station,
        Pointed::Stick(stick) => Part::Stick(stick),
        Pointed::Person(person) => Part::Person(person),
        Pointed::Cones => {
            let cone = yard.spec().zone.cones.first()?;
            let ground_m = yard.spec().ground.height_m(*cone);
            let x_m = yard.rig().mirror() * cone.x_m;
            return Some(Vec3::new(
                x_m as f32,
                ground_m as f32 + 0.4,
                cone.z_m as f32,
            ));
        }
        Pointed::Item(Item::Motion(motion)) => Part::Coupler(motion),
        Pointed::Item(Item::Rail(end)) => Part::Inclinometer(end),
        Pointed::Item(Item::Rollers) => Part::Rollers(End::Far),
        Pointed::Item(Item::Radio) => {
            let people = yard.spec().people.iter();
            let spotter = people.zip(&yard.shown.people);
            let found = spotter
                .filter(|(spec, _)| spec.duty == Duty::Spotter)
                .map(|(_, shown)| shown.feet + Vec3::Y * 1.3);
            return found.into_iter().next();
        }
    };
    place_of(part, yard)
}

/// A reticle.
pub fn reticle(ui: &Ui, middle: Pos2) {
    let painter = ui.painter();
    painter.circle_filled(middle, 5.0, theme::INK);
    painter.circle_filled(middle, 3.0, theme::CHALK);
}
