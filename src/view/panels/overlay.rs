//! A card over the scene: an area of its own, so that the pointer is known to be over it.

use bevy_egui::egui::{
    Align2, Area, Context, Frame, Id, Margin, Order, Pos2, Rect, ScrollArea, Stroke, Ui, vec2,
};

use crate::view::theme::{self, gap};

/// A card over the scene that is as high as what it holds, up to a limit; then it scrolls.
pub struct Overlay {
    pub name: &'static str,
    /// Where the point of the card lies that the pivot names.
    pub at: Pos2,
    pub pivot: Align2,
    pub width: f32,
    pub most_height: f32,
    /// Over the other cards.
    pub on_top: bool,
}

impl Overlay {
    pub fn show<R>(self, ctx: &Context, add: impl FnOnce(&mut Ui) -> R) -> R {
        let order = if self.on_top {
            Order::Foreground
        } else {
            Order::Middle
        };
        Area::new(Id::new(self.name))
            .order(order)
            .pivot(self.pivot)
            .fixed_pos(self.at)
            .default_size(vec2(self.width, self.most_height))
            .constrain(false)
            .show(ctx, |ui| {
                let palette = theme::palette(ui);
                let margin = theme::rounded(gap::SMALL * theme::em(ui));
                let around = 2.0 * f32::from(margin);
                // Not only as high as it was in the last pass.
                ui.set_max_height(self.most_height.max(0.0));
                Frame::new()
                    .fill(palette.over_scene())
                    .stroke(Stroke::new(1.0, palette.line))
                    .corner_radius(theme::CORNER)
                    .inner_margin(Margin::same(margin))
                    .show(ui, |ui| {
                        ui.set_width(self.width - around - 2.0);
                        ScrollArea::vertical()
                            .id_salt(self.name)
                            .max_height((self.most_height - around - 2.0).max(0.0))
                            .min_scrolled_height(0.0)
                            .auto_shrink([false, true])
                            .show(ui, add)
                            .inner
                    })
                    .inner
            })
            .inner
    }
}

/// Where a card over the scene was in the last pass.
pub fn overlay_rect(ctx: &Context, name: &'static str) -> Option<Rect> {
    ctx.memory(|memory| memory.area_rect(Id::new(name)))
}
