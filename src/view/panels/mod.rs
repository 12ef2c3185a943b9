//! The screens, as plain functions from what is to be shown to what was done:
//! `show(ui, texts, model, state) -> Option<Action>`. They know no Bevy, so that they are tested without
//! a graphics card.
//!
//! A `Model` is made by the caller for every pass, a `State` is what a screen itself remembers (what is
//! chosen, what is open), an `Action` is what somebody wants done. Every screen works by mouse and by
//! keyboard alone: Tab and arrows go from one thing to the next, Enter presses, Escape goes back, page
//! up and down move long texts. A gamepad comes as those keys.
//!
//! | module | screen |
//! |---|---|
//! | [`title`] | the first one |
//! | [`exercises`], [`brief`] | choosing, and what is told before the run |
//! | [`set_out`], [`look_closer`] | before pipe moves |
//! | [`hud`], [`pendant`], [`radio`], [`look_from`], [`function_check`] | on the line |
//! | [`pause`], [`settings`], [`bindings`], [`controls_help`] | beside it |
//! | [`vote`], [`what_happened`], [`debrief`] | before and after |
//! | [`lab`], [`lab_watch`] | the laboratory, and one of its trials |
//! | [`trainer`] | classes and people |
//! | [`dialog`] | one message that wants an answer |
//! | [`gallery`] | all of them with data made up for tests and pictures |

mod bar;
pub mod bindings;
pub mod brief;
pub mod controls_help;
pub mod debrief;
pub mod dialog;
pub mod exercises;
pub mod function_check;
pub mod gallery;
mod gallery_after;
mod gallery_lab;
mod gallery_line;
mod gallery_trainer;
pub mod gauges;
pub mod hud;
mod inputs;
pub mod instructor;
pub mod instruments;
pub mod lab;
mod lab_picture;
mod lab_set_up;
mod lab_trials;
pub mod lab_watch;
pub mod look_closer;
pub mod look_from;
mod overlay;
pub(in crate::view) mod parts;
pub mod pause;
pub mod pendant;
mod pendant_face;
mod pendant_plan;
mod plots;
mod press;
pub mod radio;
pub mod set_out;
pub mod settings;
mod slide;
mod step_card;
mod timeline;
pub mod title;
pub mod trainer;
mod trainer_forms;
mod trainer_glance;
mod trainer_person;
mod trainer_table;
pub mod vote;
pub mod what_happened;

use bevy_egui::egui::{Context, Event, Id, Key, LayerId, Order, TextureId, Ui, UiBuilder, Vec2};

/// A picture that the caller has made.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Picture {
    pub texture: TextureId,
    pub size_px: Vec2,
}

/// The whole window, to show a screen in.
pub fn root(ctx: &Context) -> Ui {
    press_once(ctx);
    Ui::new(
        ctx.clone(),
        Id::new("window"),
        UiBuilder::new()
            .layer_id(LayerId::background())
            .max_rect(ctx.content_rect()),
    )
}

/// A key that stays down presses once, or it would go through one screen after the other; what is held
/// to repeat, and whoever writes, has it as often as it comes.
fn press_once(ctx: &Context) {
    let focused = ctx.memory(|memory| memory.focused());
    let held: Option<Id> = ctx.data(|data| data.get_temp(Id::new(press::HELD)));
    if ctx.text_edit_focused() || focused.is_some() && focused == held {
        return;
    }
    ctx.input_mut(|input| {
        input.events.retain(|event| {
            !matches!(
                event,
                Event::Key {
                    key: Key::Enter | Key::Space | Key::Escape,
                    pressed: true,
                    repeat: true,
                    ..
                }
            )
        });
    });
}

/// Whether the pointer is over something that lies over the scene: what is done there is not meant
/// for the scene.
pub fn is_over(ctx: &Context) -> bool {
    let at = ctx.input(|input| input.pointer.interact_pos());
    at.and_then(|at| ctx.layer_id_at(at))
        .is_some_and(|layer| layer.order != Order::Background)
}
