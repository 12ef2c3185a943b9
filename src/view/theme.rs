//! Colours, type and sizes: the only place of the program that names a colour.
//!
//! A colour never means anything alone: what is told by one is told by a shape and a word as well.
//! The colours of ISO 3864 (caution, danger) are kept for what can hurt.

use bevy_egui::egui::{
    self, Color32, Context, CornerRadius, FontData, FontDefinitions, FontFamily, FontId, Id, Key,
    LayerId, Margin, Order, Rect, Response, Stroke, StrokeKind, TextStyle, Ui, Vec2,
    style::{Selection, Style, WidgetVisuals, Widgets},
};
use serde::{Deserialize, Serialize};

pub const INK: Color32 = Color32::from_rgb(0x12, 0x18, 0x1D);
/// A step above ink: cards and fields on it.
pub const INK_RAISED: Color32 = Color32::from_rgb(0x1C, 0x25, 0x2C);
pub const SLATE: Color32 = Color32::from_rgb(0x2F, 0x3B, 0x45);
/// Edges on ink, and ink's weaker text on chalk.
pub const SLATE_LIGHT: Color32 = Color32::from_rgb(0x6B, 0x7A, 0x86);
pub const SAND: Color32 = Color32::from_rgb(0xD9, 0xC7, 0xA3);
pub const CHALK: Color32 = Color32::from_rgb(0xF3, 0xEF, 0xE6);
/// A step below chalk: cards and fields on it.
pub const CHALK_RAISED: Color32 = Color32::from_rgb(0xFD, 0xFB, 0xF6);
/// Weaker text on ink.
pub const CHALK_WEAK: Color32 = Color32::from_rgb(0xC4, 0xC6, 0xC3);
/// Selection, links, where one is, the ghost of the right motion (Okabe-Ito sky).
pub const QUIET_BLUE: Color32 = Color32::from_rgb(0x56, 0xB4, 0xE9);
/// The same on chalk (Okabe-Ito blue).
pub const DEEP_BLUE: Color32 = Color32::from_rgb(0x00, 0x5A, 0x8F);
/// Behind a tick and a word.
pub const OK: Color32 = Color32::from_rgb(0x00, 0x9E, 0x73);
/// Behind ink: triangle and a word.
pub const CAUTION: Color32 = Color32::from_rgb(0xF9, 0xA8, 0x00);
/// Behind chalk: octagon and a word.
pub const DANGER: Color32 = Color32::from_rgb(0x9B, 0x24, 0x23);

/// The pendant: its case, and the hold-to-run buttons of IEC 60204-1.
pub const PENDANT_CASE: Color32 = Color32::from_rgb(0x3A, 0x44, 0x4C);
pub const BUTTON_WHITE: Color32 = Color32::from_rgb(0xF4, 0xF4, 0xF1);
pub const BUTTON_GREY: Color32 = Color32::from_rgb(0x9A, 0xA0, 0xA4);
pub const BUTTON_BLACK: Color32 = Color32::from_rgb(0x15, 0x16, 0x18);
/// The emergency stop: the only red on yellow.
pub const STOP_RED: Color32 = Color32::from_rgb(0xC4, 0x16, 0x1C);
pub const STOP_YELLOW: Color32 = Color32::from_rgb(0xFF, 0xD1, 0x00);

/// How much of the scene shines through a panel over it.
const OVER_SCENE: f32 = 0.94;

/// Which ground the panels have.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub enum ThemeChoice {
    /// Ink ground, chalk text.
    #[default]
    Dark,
    /// Chalk ground, ink text: for a projector in a lit room.
    Projector,
}

impl ThemeChoice {
    pub const ALL: [Self; 2] = [Self::Dark, Self::Projector];
}

/// The colours of a ground.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Palette {
    pub ground: Color32,
    /// Cards and fields on the ground.
    pub raised: Color32,
    /// Lines that part, and edges of cards.
    pub line: Color32,
    /// Edges of what can be pressed.
    pub edge: Color32,
    pub text: Color32,
    pub weak: Color32,
    /// An ordinary button, and under the pointer.
    pub button: Color32,
    pub button_hovered: Color32,
    /// The one button that goes on, and what stands on it.
    pub primary: Color32,
    pub primary_hovered: Color32,
    pub on_primary: Color32,
    /// Selection, focus, where one is; and what stands on it.
    pub accent: Color32,
    pub on_accent: Color32,
    /// Glass and tubes of the instruments.
    pub glass: Color32,
}

const DARK: Palette = Palette {
    ground: INK,
    raised: INK_RAISED,
    line: SLATE,
    edge: SLATE_LIGHT,
    text: CHALK,
    weak: CHALK_WEAK,
    button: SLATE,
    button_hovered: Color32::from_rgb(0x3D, 0x4C, 0x58),
    primary: SAND,
    primary_hovered: Color32::from_rgb(0xE8, 0xDA, 0xBC),
    on_primary: INK,
    accent: QUIET_BLUE,
    on_accent: INK,
    glass: Color32::from_rgb(0xCF, 0xDE, 0xA8),
};

const PROJECTOR: Palette = Palette {
    ground: CHALK,
    raised: CHALK_RAISED,
    line: Color32::from_rgb(0xD3, 0xCC, 0xBC),
    edge: SLATE_LIGHT,
    text: INK,
    weak: Color32::from_rgb(0x41, 0x4E, 0x58),
    button: Color32::from_rgb(0xE4, 0xDD, 0xCD),
    button_hovered: Color32::from_rgb(0xD6, 0xCC, 0xB6),
    primary: SLATE,
    primary_hovered: Color32::from_rgb(0x45, 0x55, 0x62),
    on_primary: CHALK,
    accent: DEEP_BLUE,
    on_accent: CHALK,
    glass: Color32::from_rgb(0xC4, 0xD6, 0x94),
};

/// The colours of the ground that a panel stands on.
pub fn palette(ui: &Ui) -> &'static Palette {
    of_ground(ui.visuals().dark_mode)
}

fn of_ground(dark: bool) -> &'static Palette {
    if dark { &DARK } else { &PROJECTOR }
}

impl Palette {
    pub fn of(choice: ThemeChoice) -> &'static Self {
        of_ground(choice == ThemeChoice::Dark)
    }

    /// The ground of what lies over the scene.
    pub fn over_scene(&self) -> Color32 {
        self.ground.gamma_multiply(OVER_SCENE)
    }

    /// Over the scene behind a dialog.
    pub fn veil() -> Color32 {
        INK.gamma_multiply(0.72)
    }
}

/// Steps of distance between things, in parts of the text's height.
pub mod gap {
    pub const TINY: f32 = 0.25;
    pub const SMALL: f32 = 0.5;
    pub const MEDIUM: f32 = 0.9;
    pub const LARGE: f32 = 1.6;
}

/// Width of the ring round what has the keyboard, px.
pub const FOCUS_RING: f32 = 3.0;
/// Radius of the corners of buttons and cards, px.
pub const CORNER: u8 = 4;

/// Text at 1080 px, px.
const BASE_AT_1080: f32 = 18.0;
/// Text is never smaller than that before it is scaled: 720 px are more often a small screen than a
/// coarse projector.
const BASE_LEAST: f32 = 15.0;
const BASE_MOST: f32 = 40.0;
/// Text scales that can be chosen.
pub const TEXT_SCALES: std::ops::RangeInclusive<f32> = 0.75..=2.0;

const BOLD: &str = "B612-Bold";

/// What the style was last made of, so that it is made anew only when that changes.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Applied {
    choice: ThemeChoice,
    base_px: f32,
    /// Fonts that are given now come with the next pass.
    fonts_there: bool,
}

/// Size of the text on a window of a height, px.
pub fn base_px(window_height: f32, text_scale: f32) -> f32 {
    let scale = text_scale.clamp(*TEXT_SCALES.start(), *TEXT_SCALES.end());
    let base = (BASE_AT_1080 * window_height / 1080.0).clamp(BASE_LEAST, BASE_MOST);
    (base * scale).round()
}

/// Gives a window its fonts, sizes and colours: at the beginning of every pass, before any panel.
pub fn apply(ctx: &Context, choice: ThemeChoice, text_scale: f32) {
    let base_px = base_px(ctx.content_rect().height(), text_scale);
    let key = Id::new(BOLD);
    let before: Option<Applied> = ctx.data(|data| data.get_temp(key));
    let now = Applied {
        choice,
        base_px,
        fonts_there: before.is_some(),
    };
    if before == Some(now) {
        return;
    }
    if before.is_none() {
        ctx.set_fonts(fonts());
        ctx.options_mut(|options| options.zoom_with_keyboard = false);
        ctx.request_discard(BOLD);
        ctx.request_repaint();
    }
    ctx.set_theme(match choice {
        ThemeChoice::Dark => egui::Theme::Dark,
        ThemeChoice::Projector => egui::Theme::Light,
    });
    ctx.all_styles_mut(|style| *style = made(now));
    ctx.data_mut(|data| data.insert_temp(key, now));
}

fn fonts() -> FontDefinitions {
    let mut fonts = FontDefinitions::default();
    let bold = FontFamily::Name(BOLD.into());
    let of_ours: [(&str, &'static [u8], FontFamily); 3] = [
        (
            "B612-Regular",
            include_bytes!("../../assets/fonts/B612-Regular.otf"),
            FontFamily::Proportional,
        ),
        (
            "B612Mono",
            include_bytes!("../../assets/fonts/B612Mono-Regular.otf"),
            FontFamily::Monospace,
        ),
        (
            BOLD,
            include_bytes!("../../assets/fonts/B612-Bold.otf"),
            bold,
        ),
    ];
    for (name, bytes, family) in of_ours {
        let data = std::sync::Arc::new(FontData::from_static(bytes));
        fonts.font_data.insert(name.to_owned(), data);
        let others = fonts.families.entry(family).or_default();
        others.insert(0, name.to_owned());
    }
    fonts
}

fn made(applied: Applied) -> Style {
    let px = applied.base_px;
    let palette = Palette::of(applied.choice);
    let bold = if applied.fonts_there {
        FontFamily::Name(BOLD.into())
    } else {
        FontFamily::Proportional
    };
    let mut style = Style {
        text_styles: [
            (
                TextStyle::Small,
                FontId::new((0.84 * px).round(), FontFamily::Proportional),
            ),
            (TextStyle::Body, FontId::new(px, FontFamily::Proportional)),
            (TextStyle::Button, FontId::new(px, FontFamily::Proportional)),
            (
                TextStyle::Heading,
                FontId::new((1.3 * px).round(), bold.clone()),
            ),
            (TextStyle::Monospace, FontId::new(px, FontFamily::Monospace)),
        ]
        .into(),
        animation_time: 0.0,
        scroll_animation: egui::style::ScrollAnimation::none(),
        ..Style::default()
    };
    style.interaction.selectable_labels = false;
    style.interaction.tooltip_delay = 0.3;
    let spacing = &mut style.spacing;
    spacing.item_spacing = egui::vec2(gap::SMALL * px, gap::SMALL * px).round();
    spacing.button_padding = egui::vec2(0.7 * px, 0.4 * px).round();
    spacing.interact_size = egui::vec2(2.4 * px, 2.1 * px).round();
    spacing.icon_width = (1.2 * px).round();
    spacing.icon_width_inner = (0.7 * px).round();
    spacing.icon_spacing = (0.5 * px).round();
    spacing.slider_width = 12.0 * px;
    spacing.slider_rail_height = (0.4 * px).round();
    spacing.combo_width = 10.0 * px;
    spacing.window_margin = Margin::same(rounded(px));
    spacing.menu_margin = Margin::same(rounded(0.5 * px));
    spacing.scroll = egui::style::ScrollStyle {
        bar_width: (0.55 * px).round().max(8.0),
        handle_min_length: 2.0 * px,
        bar_inner_margin: (0.3 * px).round(),
        // Always to be seen: that there is more is part of what is shown.
        dormant_background_opacity: 0.5,
        dormant_handle_opacity: 0.8,
        foreground_color: false,
        ..egui::style::ScrollStyle::solid()
    };
    let visuals = &mut style.visuals;
    *visuals = match applied.choice {
        ThemeChoice::Dark => egui::Visuals::dark(),
        ThemeChoice::Projector => egui::Visuals::light(),
    };
    visuals.widgets = widgets(palette);
    visuals.selection = Selection {
        bg_fill: palette.accent,
        stroke: Stroke::new(1.0, palette.on_accent),
    };
    visuals.weak_text_color = Some(palette.weak);
    visuals.hyperlink_color = palette.accent;
    visuals.faint_bg_color = palette.raised;
    visuals.extreme_bg_color = palette.raised;
    visuals.text_edit_bg_color = Some(palette.raised);
    visuals.code_bg_color = palette.raised;
    visuals.warn_fg_color = palette.text;
    visuals.error_fg_color = palette.text;
    visuals.panel_fill = palette.ground;
    visuals.window_fill = palette.ground;
    visuals.window_stroke = Stroke::new(1.0, palette.edge);
    visuals.window_corner_radius = CornerRadius::same(CORNER);
    visuals.menu_corner_radius = CornerRadius::same(CORNER);
    visuals.window_shadow = egui::Shadow::NONE;
    visuals.popup_shadow = egui::Shadow::NONE;
    visuals.slider_trailing_fill = true;
    visuals.text_cursor.stroke = Stroke::new(2.0, palette.accent);
    visuals.text_cursor.blink = false;
    visuals.disabled_alpha = 0.55;
    style
}

fn widgets(palette: &Palette) -> Widgets {
    let state = |fill: Color32, edge: Stroke, text: Color32| WidgetVisuals {
        bg_fill: fill,
        weak_bg_fill: fill,
        bg_stroke: edge,
        corner_radius: CornerRadius::same(CORNER),
        fg_stroke: Stroke::new(1.5, text),
        expansion: 0.0,
    };
    let edge = Stroke::new(1.0, palette.edge);
    let marked = Stroke::new(1.0, palette.accent);
    Widgets {
        noninteractive: state(
            Color32::TRANSPARENT,
            Stroke::new(1.0, palette.line),
            palette.text,
        ),
        inactive: state(palette.button, edge, palette.text),
        hovered: state(palette.button_hovered, marked, palette.text),
        active: state(palette.button_hovered, marked, palette.text),
        open: state(palette.button, edge, palette.text),
    }
}

/// To the whole pixels of a margin.
pub fn rounded(px: f32) -> i8 {
    px.round().clamp(0.0, f32::from(i8::MAX)) as i8
}

/// Height of the text here, px: what everything else is measured by.
pub fn em(ui: &Ui) -> f32 {
    TextStyle::Body.resolve(ui.style()).size
}

/// The bold font of a size in parts of the text's.
pub fn bold(ui: &Ui, parts: f32) -> FontId {
    let family = TextStyle::Heading.resolve(ui.style()).family;
    FontId::new((parts * em(ui)).round(), family)
}

/// The font of numbers that stand alone, of a size in parts of the text's: all its digits are equally
/// wide.
pub fn numbers(ui: &Ui, parts: f32) -> FontId {
    FontId::new((parts * em(ui)).round(), FontFamily::Proportional)
}

/// A square of a size in parts of the text's.
pub fn square(ui: &Ui, parts: f32) -> Vec2 {
    Vec2::splat((parts * em(ui)).round())
}

/// Rings what has the keyboard: at the end of every pass, after all panels.
pub fn ring_focus(ctx: &Context) {
    let focused = ctx.memory(|memory| memory.focused());
    let Some(response) = focused.and_then(|id| ctx.read_response(id)) else {
        return;
    };
    let rect = response.interact_rect;
    if !rect.is_positive() || !is_in_use(ctx, &response) {
        return;
    }
    let palette = of_ground(ctx.global_style().visuals.dark_mode);
    let layer = LayerId::new(Order::Tooltip, Id::new("ring"));
    let painter = ctx.layer_painter(layer);
    let ring = |rect: Rect, width: f32, color: Color32| {
        painter.rect_stroke(
            rect,
            f32::from(CORNER),
            Stroke::new(width, color),
            StrokeKind::Outside,
        );
    };
    ring(rect, FOCUS_RING, palette.accent);
    // A line of the ground parts the ring from whatever lies there.
    ring(rect.expand(FOCUS_RING), 1.0, palette.ground);
}

/// Whoever points with a mouse needs no ring round what was just clicked.
fn is_in_use(ctx: &Context, response: &Response) -> bool {
    let key = Id::new("keyboard");
    let (by_key, by_pointer) = ctx.input(|input| {
        let moves = [
            Key::Tab,
            Key::ArrowUp,
            Key::ArrowDown,
            Key::ArrowLeft,
            Key::ArrowRight,
        ];
        let by_key = moves.iter().any(|&key| input.key_pressed(key));
        (by_key, input.pointer.any_pressed())
    });
    let was: bool = ctx.data(|data| data.get_temp(key)).unwrap_or(true);
    let is = by_key || (was && !by_pointer);
    if is != was {
        ctx.data_mut(|data| data.insert_temp(key, is));
    }
    is && response.enabled()
}
