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
const OVER_SCENE: f32 = 0.985;

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
    /// Series of a chart, of the Okabe-Ito palette: each has a line and a mark of its own as well.
    pub series: [Color32; 3],
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
    series: [
        QUIET_BLUE,
        Color32::from_rgb(0xE6, 0x9F, 0x00),
        Color32::from_rgb(0x00, 0x9E, 0x73),
    ],
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
    series: [
        Color32::from_rgb(0x00, 0x72, 0xB2),
        Color32::from_rgb(0xD5, 0x5E, 0x00),
        Color32::from_rgb(0x00, 0x85, 0x61),
    ],
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

    /// A band about a series, through which the grid is seen.
    pub fn band(&self, series: usize) -> Color32 {
        let color = self.series.get(series).copied().unwrap_or(self.weak);
        color.gamma_multiply(0.22)
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
    if now.fonts_there {
        draw_letters(ctx, base_px);
    }
}

/// Letters that texts are made of.
const LETTERS: &str = "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789\
    áéíóúüñÁÉÍÓÚÑ.,:;!?¡¿'\"()[]{}<>+-=*/%&@#_`°×µ";

/// Draws the letters of the usual sizes at once: a picture of letters that grows later lets the whole
/// window blink.
fn draw_letters(ctx: &Context, base_px: f32) {
    let bold = FontFamily::Name(BOLD.into());
    for (family, sizes) in [
        (FontFamily::Proportional, &[0.84, 0.9, 1.0, 1.1][..]),
        (FontFamily::Monospace, &[1.0]),
        (bold, &[0.85, 1.0, 1.2, 1.3]),
    ] {
        for size in sizes {
            // As the styles round them.
            let font = FontId::new((size * base_px).round(), family.clone());
            ctx.fonts_mut(|fonts| fonts.layout_no_wrap(LETTERS.to_owned(), font, Color32::WHITE));
        }
    }
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
    // A name may have letters that ours lack: they are thin in bold text too, and not a question mark.
    let usual = fonts.families.get(&FontFamily::Proportional).cloned();
    let bold = fonts.families.entry(FontFamily::Name(BOLD.into()));
    bold.or_default().extend(usual.unwrap_or_default());
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
    visuals.disabled_alpha = 0.65;
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
    // Lines of the ground part the ring from what it rings, which may have its colour, and from whatever
    // lies around.
    ring(rect, 1.0, palette.ground);
    ring(rect.expand(1.0), FOCUS_RING, palette.accent);
    ring(rect.expand(1.0 + FOCUS_RING), 1.0, palette.ground);
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

/// The machinery: our own livery and bare materials, as 0xRRGGBB.
pub mod machinery {
    /// Machine steel.
    pub const SLATE: u32 = 0x2F3B45;
    /// The same where paint is rubbed off its edges.
    pub const SLATE_WORN: u32 = 0x76818A;
    /// Accents of the livery.
    pub const SAND: u32 = 0xD9C7A3;
    pub const SAND_WORN: u32 = 0x9C917C;
    /// Bright machined steel: pins, wheels, running faces.
    pub const MACHINED: u32 = 0xCDD3D8;
    pub const MACHINED_EDGE: u32 = 0xEEF2F4;
    /// Ram rods.
    pub const CHROME: u32 = 0xE9ECEE;
    pub const GALVANISED: u32 = 0x9AA3A8;
    /// Cast and forged parts.
    pub const DARK_STEEL: u32 = 0x4B5157;
    pub const DARK_STEEL_EDGE: u32 = 0x868D92;
    pub const RUBBER: u32 = 0x24272A;
    pub const RUBBER_EDGE: u32 = 0x3A3E42;
    /// The urethane of the turning barrels.
    pub const URETHANE: u32 = 0xB9864B;
    pub const HOSE: u32 = 0x1D2023;
    pub const TIMBER: u32 = 0x8C6F4C;
    pub const TIMBER_EDGE: u32 = 0xA98B63;
    /// Mats under feet.
    pub const PAD: u32 = 0x5B564B;
    pub const PLASTIC: u32 = 0xE4E2DC;
    pub const BUTTON_GREY: u32 = 0x8F9498;
    pub const BUTTON_BLACK: u32 = 0x202326;
    pub const RUST: u32 = 0x7B4426;
    pub const RUST_EDGE: u32 = 0x9A5B34;
    pub const OIL: u32 = 0x15120F;
    pub const GLASS: u32 = 0x9DB6C0;
    /// The fluid of a vial.
    pub const FLUID: u32 = 0xBFD8C8;
    pub const FROST: u32 = 0xE8F0F4;
    pub const GLAZE: u32 = 0xB9CFDA;
    pub const WET_STEEL: u32 = 0x6E777D;
    /// The coating of a heater plate.
    pub const HEATER: u32 = 0x5E6B4F;
    /// Emergency stop only.
    pub const STOP: u32 = 0xB3181C;
    pub const STOP_GROUND: u32 = 0xF9C80E;
    /// Pipe.
    pub const PIPE: u32 = 0x1E2124;
    pub const PIPE_BORE: u32 = 0x141618;
    pub const PIPE_END: u32 = 0x63696E;
    pub const PIPE_END_RIM: u32 = 0x8A9196;
    pub const PIPE_STRIPE: u32 = 0x5F9EC4;
    pub const CHALK: u32 = 0xF3EFE6;
}

/// Ground, sky, weather, people, cones, dressing and overlays.
pub mod yard {
    use bevy::color::Color;

    /// The sky's colours and the light that comes with them.
    #[derive(Clone, Copy, Debug)]
    pub struct SkyColours {
        pub zenith: Color,
        pub horizon: Color,
        /// Around the sun.
        pub glow: Color,
        pub cloud: Color,
        pub sun: Color,
        /// Light from all around, where there is no map of it.
        pub fill: Color,
    }

    pub const MORNING: SkyColours = SkyColours {
        zenith: Color::srgb(0.28, 0.51, 0.80),
        horizon: Color::srgb(0.75, 0.81, 0.86),
        glow: Color::srgb(1.0, 0.93, 0.78),
        cloud: Color::srgb(0.95, 0.95, 0.94),
        sun: Color::srgb(1.0, 0.94, 0.83),
        fill: Color::srgb(0.80, 0.87, 1.0),
    };
    pub const OVERCAST: SkyColours = SkyColours {
        zenith: Color::srgb(0.55, 0.59, 0.63),
        horizon: Color::srgb(0.70, 0.73, 0.75),
        glow: Color::srgb(0.82, 0.83, 0.83),
        cloud: Color::srgb(0.57, 0.60, 0.63),
        sun: Color::srgb(0.93, 0.96, 1.0),
        fill: Color::srgb(0.88, 0.94, 1.0),
    };
    pub const FROST: SkyColours = SkyColours {
        zenith: Color::srgb(0.46, 0.62, 0.80),
        horizon: Color::srgb(0.83, 0.86, 0.89),
        glow: Color::srgb(1.0, 0.93, 0.85),
        cloud: Color::srgb(0.90, 0.92, 0.95),
        sun: Color::srgb(1.0, 0.92, 0.82),
        fill: Color::srgb(0.78, 0.88, 1.0),
    };
    pub const DUSK: SkyColours = SkyColours {
        zenith: Color::srgb(0.27, 0.36, 0.54),
        horizon: Color::srgb(0.80, 0.67, 0.57),
        glow: Color::srgb(1.0, 0.72, 0.40),
        cloud: Color::srgb(0.60, 0.43, 0.42),
        sun: Color::srgb(1.0, 0.74, 0.50),
        fill: Color::srgb(0.78, 0.80, 0.92),
    };
    pub const FIRST_LIGHT: SkyColours = SkyColours {
        zenith: Color::srgb(0.24, 0.36, 0.55),
        horizon: Color::srgb(0.86, 0.76, 0.66),
        glow: Color::srgb(1.0, 0.84, 0.60),
        cloud: Color::srgb(0.78, 0.66, 0.62),
        sun: Color::srgb(1.0, 0.80, 0.58),
        fill: Color::srgb(0.72, 0.80, 0.98),
    };

    pub const DIRT: Color = Color::srgb(0.52, 0.44, 0.34);
    pub const DIRT_PALE: Color = Color::srgb(0.63, 0.56, 0.45);
    pub const MUD: Color = Color::srgb(0.33, 0.26, 0.19);
    pub const GRASS: Color = Color::srgb(0.37, 0.42, 0.24);
    pub const GRASS_DRY: Color = Color::srgb(0.52, 0.50, 0.31);
    pub const GRAVEL: Color = Color::srgb(0.60, 0.58, 0.55);
    pub const GRAVEL_PALE: Color = Color::srgb(0.74, 0.72, 0.68);
    pub const RIME: Color = Color::srgb(0.87, 0.90, 0.94);
    /// Of what stands in the sun's way, where there are no real shadows.
    pub const SHADE: Color = Color::srgb(0.05, 0.05, 0.06);
    pub const WATER: Color = Color::srgb(0.10, 0.095, 0.085);
    pub const RAIN: Color = Color::srgba(0.85, 0.88, 0.92, 0.22);

    pub const TREES: Color = Color::srgb(0.25, 0.31, 0.22);
    pub const WOODS: Color = Color::srgb(0.30, 0.37, 0.31);
    pub const HILLS: Color = Color::srgb(0.36, 0.43, 0.45);

    pub const SLATE: Color = Color::srgb_u8(0x2F, 0x3B, 0x45);
    pub const SAND: Color = Color::srgb_u8(0xD9, 0xC7, 0xA3);
    pub const CONTAINER: Color = Color::srgb(0.50, 0.53, 0.53);
    pub const STEEL: Color = Color::srgb(0.55, 0.57, 0.58);
    pub const RUST: Color = Color::srgb(0.40, 0.24, 0.15);
    pub const TIMBER: Color = Color::srgb(0.62, 0.49, 0.32);
    pub const TIMBER_OLD: Color = Color::srgb(0.47, 0.41, 0.34);
    pub const RUBBER: Color = Color::srgb(0.09, 0.09, 0.10);
    pub const DRUM: Color = Color::srgb(0.23, 0.33, 0.40);
    pub const CONCRETE: Color = Color::srgb(0.62, 0.61, 0.58);
    pub const SACK: Color = Color::srgb(0.72, 0.69, 0.60);
    pub const PIPE: Color = Color::srgb(0.045, 0.047, 0.052);
    pub const PIPE_STRIPE: Color = Color::srgb(0.16, 0.36, 0.62);

    /// High-visibility cloth, its bands, and what else people wear.
    pub const HIGH_VIS_YELLOW: Color = Color::srgb(0.86, 0.98, 0.16);
    pub const HIGH_VIS_ORANGE: Color = Color::srgb(1.0, 0.42, 0.06);
    pub const BAND: Color = Color::srgb(0.86, 0.88, 0.89);
    pub const HELMET_WHITE: Color = Color::srgb(0.94, 0.94, 0.92);
    pub const HELMET_SAND: Color = Color::srgb(0.90, 0.78, 0.50);
    pub const HELMET_SKY: Color = Color::srgb_u8(0x56, 0xB4, 0xE9);
    pub const HELMET_SLATE: Color = Color::srgb(0.32, 0.38, 0.43);
    pub const TROUSERS: Color = Color::srgb(0.15, 0.17, 0.22);
    pub const DENIM: Color = Color::srgb(0.25, 0.32, 0.44);
    pub const APRON: Color = Color::srgb(0.36, 0.25, 0.17);
    pub const SHIRT: Color = Color::srgb(0.30, 0.33, 0.37);
    pub const BOOTS: Color = Color::srgb(0.13, 0.10, 0.08);
    pub const GLOVES: Color = Color::srgb(0.45, 0.42, 0.38);
    pub const SKIN: [Color; 3] = [
        Color::srgb(0.80, 0.60, 0.47),
        Color::srgb(0.62, 0.43, 0.31),
        Color::srgb(0.42, 0.28, 0.20),
    ];
    /// The edge around somebody who was struck.
    pub const OUTLINE: Color = Color::srgb_u8(0xF3, 0xEF, 0xE6);

    pub const CONE: Color = Color::srgb(1.0, 0.36, 0.05);
    pub const CONE_SLEEVE: Color = Color::srgb(0.95, 0.95, 0.93);
    pub const CONE_BASE: Color = Color::srgb(0.10, 0.10, 0.11);

    /// Overlays.
    pub const ZONE_LIVE: Color = Color::srgb_u8(0xF9, 0xA8, 0x00);
    pub const ZONE_AT_REST: Color = Color::srgb_u8(0xF3, 0xEF, 0xE6);
    pub const REACH: Color = Color::srgb_u8(0xF9, 0xA8, 0x00);
    pub const FIRE: Color = Color::srgb_u8(0xD5, 0x5E, 0x00);
    pub const TAUT: Color = Color::srgb_u8(0x56, 0xB4, 0xE9);
    pub const LEVEL: Color = Color::srgb_u8(0xF3, 0xEF, 0xE6);
    pub const CENTRE: Color = Color::srgb_u8(0xF3, 0xEF, 0xE6);
    pub const FORCE: Color = Color::srgb_u8(0x56, 0xB4, 0xE9);
    pub const FRICTION_CONE: Color = Color::srgba_u8(0xF3, 0xEF, 0xE6, 0x38);
    pub const GHOST: Color = Color::srgba_u8(0x56, 0xB4, 0xE9, 0x70);
}
