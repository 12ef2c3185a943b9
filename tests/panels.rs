//! The screens without a graphics card: nothing is cut off in any language and size, everything is
//! reached by keyboard and has a name, and what is pressed comes out as what is to be done.
#![cfg(feature = "view")]

use std::cell::RefCell;
use std::collections::{BTreeMap, BTreeSet};
use std::rc::Rc;

use bevy_egui::egui;
use chockline::session::mode::Mode;
use chockline::sim::controls::{Button, Call, Held};
use chockline::texts::{Lang, Texts};
use chockline::view::bindings::{Act, BINDINGS, Bindings};
use chockline::view::icons::Mark;
use chockline::view::on_foot;
use chockline::view::panels::{
    self, bindings, brief, controls_help, debrief, dialog, exercises, gallery, hud, lab, lab_watch,
    look_closer, pause, pendant, radio, set_out, settings, title, trainer, vote, what_happened,
};
use chockline::view::theme::{self, Palette, ThemeChoice};
use egui::accesskit::{Action as Access, Role};
use egui::epaint::{ClippedShape, Shape};
use egui::{Event, Key, Modifiers, Pos2, Rect, Ui, Vec2, vec2};
use egui_kittest::Harness;
use egui_kittest::kittest::{NodeT, Queryable};

const SMALL: Vec2 = vec2(1280.0, 720.0);
const PROJECTOR: Vec2 = vec2(1920.0, 1080.0);
const ENGLISH: Lang = Lang::English;

/// A window in which a screen is shown in every pass.
fn window<'a>(
    size: Vec2,
    scale: f32,
    choice: ThemeChoice,
    mut show: impl FnMut(&mut Ui) + 'a,
) -> Harness<'a> {
    let mut harness = Harness::builder()
        .with_size(size)
        .with_step_dt(1.0 / 60.0)
        .build_ui(move |ui| {
            theme::apply(ui.ctx(), choice, scale);
            show(&mut panels::root(ui.ctx()));
            theme::ring_focus(ui.ctx());
        });
    harness.run_steps(3);
    harness
}

fn plain<'a>(show: impl FnMut(&mut Ui) + 'a) -> Harness<'a> {
    window(SMALL, 1.0, ThemeChoice::Dark, show)
}

/// What came out of the passes since it was last asked.
struct Made<A>(Rc<RefCell<Vec<A>>>);

impl<A> Made<A> {
    fn new() -> (Self, impl FnMut(Option<A>)) {
        let made = Rc::new(RefCell::new(Vec::new()));
        let keeps = made.clone();
        (Self(made), move |action: Option<A>| {
            keeps.borrow_mut().extend(action);
        })
    }

    fn take(&self) -> Vec<A> {
        self.0.take()
    }
}

/// A text as it is painted.
#[derive(Clone)]
struct Painted {
    text: String,
    rect: Rect,
    clip: Rect,
    is_elided: bool,
    has_broken_word: bool,
    /// Its lines, from the top.
    rows: Vec<Rect>,
}

fn painted(harness: &Harness<'_>) -> Vec<Painted> {
    fn add(found: &mut Vec<Painted>, clip: Rect, shape: &Shape) {
        match shape {
            Shape::Vec(shapes) => shapes.iter().for_each(|shape| add(found, clip, shape)),
            Shape::Text(text) => {
                let rows = &text.galley.rows;
                let broken = rows.windows(2).any(|rows| {
                    let ends = rows[0].glyphs.last().map(|glyph| glyph.chr);
                    let begins = rows[1].glyphs.first().map(|glyph| glyph.chr);
                    let letter = |c: Option<char>| c.is_some_and(char::is_alphanumeric);
                    !rows[0].ends_with_newline && letter(ends) && letter(begins)
                });
                if !text.galley.text().trim().is_empty() {
                    found.push(Painted {
                        text: text.galley.text().to_owned(),
                        rect: text.visual_bounding_rect(),
                        clip,
                        is_elided: text.galley.elided,
                        has_broken_word: broken,
                        rows: rows
                            .iter()
                            .map(|row| row.rect().translate(text.pos.to_vec2()))
                            .collect(),
                    });
                }
            }
            _ => {}
        }
    }
    let mut found = Vec::new();
    for ClippedShape { clip_rect, shape } in &harness.output().shapes {
        add(&mut found, *clip_rect, shape);
    }
    found
}

/// Sizes of windows and of texts.
const ALL: (&[Vec2], &[f32]) = (&[SMALL, PROJECTOR], &[0.75, 1.0, 2.0]);
const USUAL: (&[Vec2], &[f32]) = (&[SMALL, PROJECTOR], &[1.0, 2.0]);
/// Where least fits in.
const HARD: (&[Vec2], &[f32]) = (&[SMALL], &[1.0, 2.0]);

/// Every screen in every language, in windows and with texts of some sizes.
fn every_screen(
    (sizes, scales): (&[Vec2], &[f32]),
    mut check: impl FnMut(&str, &mut Harness<'_>, Vec2),
) {
    for name in gallery::SCREENS {
        for lang in Lang::ALL {
            for &size in sizes {
                for &scale in scales {
                    let case = format!("{name}, {lang:?}, {size:?}, {scale}");
                    let mut harness = window(size, scale, ThemeChoice::Dark, |ui| {
                        gallery::show(name, ui, Texts::of(lang));
                    });
                    check(&case, &mut harness, size);
                }
            }
        }
    }
}

#[test]
fn no_text_is_shortened_or_broken_or_leaves_the_window() {
    let mut wrong = Vec::new();
    every_screen(ALL, |case, harness, size| {
        let screen = Rect::from_min_size(Pos2::ZERO, size).expand(1.0);
        let texts = painted(harness);
        assert!(!texts.is_empty() || case.starts_with("folded"), "{case}");
        for text in &texts {
            let about = format!("{case}: {:?} {:?}", text.text, text.rect);
            if text.is_elided {
                wrong.push(format!("shortened: {about}"));
            }
            if text.has_broken_word {
                wrong.push(format!("broken word: {about}"));
            }
            let room = text.clip.intersect(screen).expand(1.0);
            if !room.x_range().contains(text.rect.left())
                || !room.x_range().contains(text.rect.right())
            {
                wrong.push(format!("cut off at its side: {about} in {:?}", text.clip));
            }
        }
        // What is cut off above or below must come into sight by scrolling there, line by line.
        let whole = |text: &Painted, is_whole: bool| -> Vec<(String, usize)> {
            let room = text.clip.intersect(screen).expand(1.0).y_range();
            let in_sight = |row: &Rect| room.contains(row.top()) && room.contains(row.bottom());
            let rows = text.rows.iter().enumerate();
            rows.filter(|(_, row)| in_sight(row) == is_whole)
                .map(|(i, _)| (text.text.clone(), i))
                .collect()
        };
        let mut hidden: BTreeSet<(String, usize)> = BTreeSet::new();
        // Where to turn the wheel: over the text, in the middle of what it scrolls in.
        let mut wheels: BTreeMap<String, Pos2> = BTreeMap::new();
        for text in &texts {
            let lines = whole(text, false);
            if !lines.is_empty() {
                let y = text.clip.intersect(screen).center().y;
                // Columns beside each other may be cut off alike.
                let third = (3.0 * text.rect.center().x / size.x) as u32;
                wheels.insert(
                    format!("{:?} {third}", text.clip),
                    egui::pos2(text.rect.center().x, y),
                );
            }
            hidden.extend(lines);
        }
        for wheel in wheels.values() {
            harness.hover_at(*wheel);
            harness.run_steps(1);
            let mut before = Vec::new();
            loop {
                harness.event(Event::MouseWheel {
                    unit: egui::MouseWheelUnit::Point,
                    delta: vec2(0.0, -30.0),
                    phase: egui::TouchPhase::Move,
                    modifiers: Modifiers::NONE,
                });
                harness.run_steps(6);
                let now = painted(harness);
                for line in now.iter().flat_map(|text| whole(text, true)) {
                    hidden.remove(&line);
                }
                let places: Vec<Rect> = now.into_iter().map(|text| text.rect).collect();
                if places == before || hidden.is_empty() {
                    break;
                }
                before = places;
            }
        }
        for (text, line) in hidden {
            wrong.push(format!("never to be seen: {case}: line {line} of {text:?}"));
        }
    });
    assert!(wrong.is_empty(), "{wrong:#?}");
}

#[test]
fn no_text_lies_on_another() {
    let mut wrong = Vec::new();
    every_screen(USUAL, |case, harness, _| {
        let texts = painted(harness);
        let seen: Vec<(String, Rect)> = texts
            .into_iter()
            .map(|text| (text.text, text.rect.intersect(text.clip)))
            .filter(|(_, rect)| rect.is_positive())
            .collect();
        for (i, (text, rect)) in seen.iter().enumerate() {
            for (other, place) in &seen[..i] {
                let both = rect.intersect(*place);
                if both.width() > 2.0 && both.height() > 2.0 {
                    wrong.push(format!("{case}: {text:?} on {other:?}"));
                }
            }
        }
    });
    assert!(wrong.is_empty(), "{wrong:#?}");
}

#[test]
fn cards_over_the_scene_keep_clear_of_each_other_and_of_the_edge() {
    let mut wrong = Vec::new();
    every_screen(USUAL, |case, harness, size| {
        let screen = Rect::from_min_size(Pos2::ZERO, size);
        let cards: Vec<Rect> = harness.ctx.memory(|memory| {
            let layers = memory.areas().visible_layer_ids();
            layers
                .iter()
                .filter(|layer| layer.order != egui::Order::Background)
                .filter_map(|layer| memory.area_rect(layer.id))
                .collect()
        });
        for (i, card) in cards.iter().enumerate() {
            if !screen.contains_rect(*card) {
                wrong.push(format!("{case}: {card:?} leaves the window"));
            }
            for other in &cards[..i] {
                let both = card.intersect(*other);
                if both.width() > 1.0 && both.height() > 1.0 {
                    wrong.push(format!("{case}: {card:?} on {other:?}"));
                }
            }
        }
    });
    assert!(wrong.is_empty(), "{wrong:#?}");
}

/// Everything that takes the keyboard: name, role, place, whether it is to be used now.
fn focusable(harness: &Harness<'_>) -> Vec<(String, Role, Rect, bool)> {
    let root = harness.root();
    root.children_recursive()
        .filter(|node| {
            let data = node.accesskit_node();
            data.data().supports_action(Access::Focus)
        })
        .map(|node| {
            let inner = node.accesskit_node();
            let labels = inner.labelled_by().filter_map(|label| label.value());
            let name = inner.label().or(labels.reduce(|a, b| a + &b));
            (
                name.unwrap_or_default(),
                inner.role(),
                node.rect(),
                !inner.is_disabled(),
            )
        })
        .collect()
}

#[test]
fn everything_that_can_be_used_has_a_name_and_a_size_to_hit() {
    every_screen(HARD, |case, harness, _| {
        for (name, role, rect, _) in focusable(harness) {
            assert!(!name.trim().is_empty(), "{case}: {role:?} without a name");
            assert_ne!(role, Role::Unknown, "{case}: {name}");
            let least = rect.width().min(rect.height());
            assert!(least >= 20.0, "{case}: {name} is {least} px small");
        }
    });
}

#[test]
fn everything_is_reached_by_the_keyboard_and_then_in_sight() {
    every_screen(HARD, |case, harness, size| {
        let screen = Rect::from_min_size(Pos2::ZERO, size).expand(1.0);
        let to_reach: BTreeSet<String> = focusable(harness)
            .into_iter()
            .filter(|(.., usable)| *usable)
            .map(|(name, ..)| name)
            .collect();
        let mut reached = BTreeSet::new();
        for _ in 0..=to_reach.len() + 6 {
            harness.key_press(Key::Tab);
            harness.run_steps(3);
            let root = harness.root();
            let focused = root.children_recursive().find(|node| node.is_focused());
            let Some(focused) = focused else { continue };
            let inner = focused.accesskit_node();
            let labels = inner.labelled_by().filter_map(|label| label.value());
            let name = inner.label().or(labels.reduce(|a, b| a + &b));
            let name = name.unwrap_or_default();
            let rect = focused.rect();
            assert!(
                screen.contains_rect(rect) || rect.height() > size.y,
                "{case}: {name} has the keyboard at {rect:?}"
            );
            reached.insert(name);
        }
        let missed: Vec<_> = to_reach.difference(&reached).collect();
        assert!(missed.is_empty(), "{case}: {missed:?}");
    });
}

#[test]
fn no_two_things_have_one_identity() {
    every_screen(HARD, |case, harness, _| {
        for text in painted(harness) {
            let clash = text.text.contains("use of") && text.text.contains("ID");
            assert!(!clash, "{case}: {}", text.text);
        }
    });
}

/// Contrast of two colours after WCAG 2.
fn contrast(one: egui::Color32, other: egui::Color32) -> f32 {
    let luminance = |color: egui::Color32| {
        let [r, g, b, _] = egui::Rgba::from(color).to_array();
        0.2126 * r + 0.7152 * g + 0.0722 * b
    };
    let (a, b) = (luminance(one), luminance(other));
    (a.max(b) + 0.05) / (a.min(b) + 0.05)
}

#[test]
fn texts_stand_out_from_their_ground() {
    for choice in ThemeChoice::ALL {
        let p = Palette::of(choice);
        for (name, color, ground, least) in [
            ("text", p.text, p.ground, 7.0),
            ("text on cards", p.text, p.raised, 7.0),
            ("weak text", p.weak, p.ground, 7.0),
            ("text on buttons", p.text, p.button, 7.0),
            ("text on buttons pointed at", p.text, p.button_hovered, 7.0),
            ("text on the primary", p.on_primary, p.primary, 7.0),
            ("text on what is chosen", p.on_accent, p.accent, 5.0),
            ("edges", p.edge, p.ground, 3.0),
            ("focus", p.accent, p.ground, 3.0),
            ("focus on cards", p.accent, p.raised, 3.0),
            ("first series", p.series[0], p.ground, 3.0),
            ("second series", p.series[1], p.ground, 3.0),
            ("third series", p.series[2], p.ground, 3.0),
        ] {
            let found = contrast(color, ground);
            assert!(found >= least, "{choice:?}: {name} has {found:.2}");
        }
    }
    for (name, color, ground) in [
        ("caution", theme::INK, theme::CAUTION),
        ("danger", theme::CHALK, theme::DANGER),
        ("tick", theme::CHALK_RAISED, theme::OK),
        ("white buttons", theme::INK, theme::BUTTON_WHITE),
        ("grey buttons", theme::INK, theme::BUTTON_GREY),
        ("black buttons", theme::CHALK, theme::BUTTON_BLACK),
        ("pendant", theme::CHALK, theme::PENDANT_CASE),
    ] {
        let found = contrast(color, ground);
        assert!(found >= 3.0, "{name} has {found:.2}");
    }
}

fn flatten<'a>(shape: &'a Shape, into: &mut Vec<&'a Shape>) {
    match shape {
        Shape::Vec(several) => several.iter().for_each(|shape| flatten(shape, into)),
        one => into.push(one),
    }
}

#[test]
fn every_text_stands_out_from_what_it_is_painted_on() {
    for choice in ThemeChoice::ALL {
        for name in gallery::SCREENS {
            let harness = window(PROJECTOR, 1.0, choice, move |ui| {
                gallery::show(name, ui, Texts::of(ENGLISH));
            });
            let mut fills: Vec<(Rect, egui::Color32)> = Vec::new();
            let under = |fills: &[(Rect, egui::Color32)], at: Pos2| {
                let covers = fills.iter().rev().find(|(rect, _)| rect.contains(at));
                covers.map_or(Palette::of(choice).ground, |(_, fill)| *fill)
            };
            let mut shapes = Vec::new();
            for ClippedShape { shape, .. } in &harness.output().shapes {
                flatten(shape, &mut shapes);
            }
            for shape in shapes {
                match shape {
                    Shape::Rect(shape) if shape.fill.a() > 0 => {
                        let ground = under(&fills, shape.rect.center());
                        fills.push((shape.rect, ground.blend(shape.fill)));
                    }
                    Shape::Text(shape) if !shape.galley.text().trim().is_empty() => {
                        let ground = under(&fills, shape.visual_bounding_rect().center());
                        let rows = shape.galley.rows.iter();
                        let mut corners = rows.flat_map(|row| &row.visuals.mesh.vertices);
                        let drawn = corners.next().map(|corner| corner.color);
                        let own = drawn.filter(|color| *color != egui::Color32::PLACEHOLDER);
                        let color = own.unwrap_or(shape.fallback_color);
                        let color = ground.blend(color.gamma_multiply(shape.opacity_factor));
                        let found = contrast(color, ground);
                        assert!(
                            found >= 3.0,
                            "{name}, {choice:?}, {}: {found:.2}",
                            shape.galley.text()
                        );
                    }
                    _ => {}
                }
            }
        }
    }
}

#[test]
fn our_fonts_hold_every_letter_of_the_catalogue_and_digits_are_equally_wide() {
    let harness = plain(|_| {});
    let ours = ["B612-Regular", "B612Mono"];
    let font = egui::FontId::proportional(18.0);
    let mut letters = BTreeSet::new();
    for lang in Lang::ALL {
        for (_, text) in lang.files() {
            letters.extend(text.chars().filter(|c| !c.is_control()));
        }
    }
    // A thin space is made of a space.
    letters.remove(&'\u{202f}');
    let definitions = harness.ctx.fonts(|fonts| fonts.definitions().clone());
    let first = definitions.families[&egui::FontFamily::Proportional].first();
    assert_eq!(first.map(String::as_str), Some(ours[0]));
    let mut only = definitions;
    only.families.values_mut().for_each(|all| all.truncate(1));
    // Behind ours stands one that has none of these letters: whatever falls through to it is missing.
    let none = "NotoEmoji-Regular".to_owned();
    only.families
        .values_mut()
        .for_each(|all| all.push(none.clone()));
    let context = egui::Context::default();
    context.set_fonts(only);
    // They come with the next pass.
    for _ in 0..2 {
        let mut output = context.run_ui(egui::RawInput::default(), |_| {});
        output.textures_delta.clear();
    }
    context.fonts_mut(|fonts| {
        let missing: Vec<_> = letters
            .iter()
            .filter(|&&letter| !fonts.has_glyph(&font, letter))
            .collect();
        assert!(missing.is_empty(), "{missing:?}");
        let widths: BTreeSet<String> = ('0'..='9')
            .map(|digit| format!("{:.2}", fonts.glyph_width(&font, digit)))
            .collect();
        assert_eq!(widths.len(), 1, "{widths:?}");
    });
}

#[test]
fn text_grows_with_the_window_and_with_its_scale() {
    assert_eq!(theme::base_px(1080.0, 1.0), 18.0);
    assert_eq!(theme::base_px(720.0, 1.0), 15.0);
    assert_eq!(theme::base_px(1080.0, 2.0), 36.0);
    assert_eq!(theme::base_px(1080.0, 9.0), 36.0, "no more than twice");
    assert_eq!(theme::base_px(2160.0, 1.0), 36.0);
}

#[test]
fn the_title_offers_what_there_is() {
    let (made, mut keep) = Made::new();
    let mut harness = plain(|ui| {
        let model = title::Model::default();
        keep(title::show(ui, Texts::of(ENGLISH), &model));
    });
    assert!(harness.query_by_label("Continue").is_none());
    let caution = harness.root().children_recursive().any(|node| {
        let value = node.accesskit_node().value();
        value.is_some_and(|value| value.starts_with("A training aid."))
    });
    assert!(caution);
    // By Enter, with nothing touched before.
    harness.key_press(Key::Enter);
    harness.run_steps(2);
    assert_eq!(made.take(), [title::Action::Exercises]);
    harness.get_by_label("Quit").click();
    harness.run_steps(2);
    assert_eq!(made.take(), [title::Action::Quit]);
}

#[test]
fn an_exercise_is_chosen_and_started_as_it_was_asked_for() {
    let (made, mut keep) = Made::new();
    let state = Rc::new(RefCell::new(exercises::State::default()));
    let shown = state.clone();
    let mut harness = plain(move |ui| {
        let texts = Texts::of(ENGLISH);
        let model = gallery::exercises_model(ui, texts);
        keep(exercises::show(ui, texts, &model, &mut shown.borrow_mut()));
    });
    harness.get_by_label("First shift").click();
    harness.run_steps(2);
    assert_eq!(state.borrow().chosen, 1);
    harness.get_by_label("Assess me").click();
    harness.run_steps(2);
    let started = |seed| exercises::Action::Start {
        row: 1,
        mode: Mode::Assessed,
        seed,
    };
    assert_eq!(made.take(), [started(None)]);

    state.borrow_mut().seed = Some("77".to_owned());
    harness.run_steps(2);
    harness.get_by_label("Assess me").click();
    harness.run_steps(2);
    assert_eq!(made.take(), [started(Some(77))]);

    state.borrow_mut().seed = Some("-7".to_owned());
    harness.run_steps(2);
    harness.get_by_label("Assess me").click();
    harness.run_steps(2);
    assert_eq!(made.take(), [], "no such load");

    // Escape ends the writing first, and leaves the screen only then.
    state.borrow_mut().seed = None;
    harness.run_steps(2);
    harness.get_by_role(Role::TextInput).focus();
    harness.run_steps(2);
    harness.event(Event::Text("Ana".to_owned()));
    harness.run_steps(2);
    assert_eq!(state.borrow().trainee, "Ana");
    harness.key_press(Key::Escape);
    harness.run_steps(2);
    assert_eq!(made.take(), []);
    harness.key_press(Key::Escape);
    harness.run_steps(2);
    assert_eq!(made.take(), [exercises::Action::Back]);
}

#[test]
fn by_enter_alone_an_exercise_is_begun_the_usual_way() {
    // Chosen, pressed once more, and the way pressed; in a narrow window the list gives way at once.
    for (size, scale, presses) in [(PROJECTOR, 1.0, 3), (SMALL, 2.0, 2)] {
        let (made, mut keep) = Made::new();
        let mut state = exercises::State::default();
        let mut harness = window(size, scale, ThemeChoice::Dark, move |ui| {
            let texts = Texts::of(ENGLISH);
            let model = gallery::exercises_model(ui, texts);
            keep(exercises::show(ui, texts, &model, &mut state));
        });
        harness.key_press(Key::ArrowDown);
        harness.run_steps(2);
        for _ in 0..presses {
            assert_eq!(made.take(), []);
            harness.key_press(Key::Enter);
            harness.run_steps(3);
        }
        let made = made.take();
        assert!(
            matches!(made[..], [exercises::Action::Start { row: 1, .. }]),
            "{made:?}"
        );
    }
}

#[test]
fn whoever_looks_who_can_show_it_comes_back_to_the_brief() {
    let (made, mut keep) = Made::new();
    let mut state = exercises::State {
        showing_open: true,
        ..exercises::State::default()
    };
    let mut harness = plain(move |ui| {
        let texts = Texts::of(ENGLISH);
        let model = gallery::exercises_model(ui, texts);
        keep(exercises::show(ui, texts, &model, &mut state));
    });
    for wanted in [&[][..], &[exercises::Action::Back]] {
        harness.key_press(Key::Escape);
        harness.run_steps(2);
        assert_eq!(made.take(), wanted);
    }
}

#[test]
fn in_a_narrow_window_list_and_brief_take_turns() {
    let (made, mut keep) = Made::new();
    let state = Rc::new(RefCell::new(exercises::State::default()));
    let shown = state.clone();
    let mut harness = window(SMALL, 2.0, ThemeChoice::Dark, move |ui| {
        let texts = Texts::of(ENGLISH);
        let model = gallery::exercises_model(ui, texts);
        keep(exercises::show(ui, texts, &model, &mut shown.borrow_mut()));
    });
    assert!(harness.query_by_label("Assess me").is_none());
    harness.get_by_label("First shift").click();
    harness.run_steps(2);
    assert!(harness.query_by_label("Assess me").is_some());
    harness.key_press(Key::Escape);
    harness.run_steps(2);
    assert!(harness.query_by_label("Assess me").is_none());
    assert_eq!(made.take(), []);
}

/// At twice the size a brief is longer than the window; another one is read from its beginning.
#[test]
fn another_brief_begins_at_its_top() {
    let state = Rc::new(RefCell::new(exercises::State::default()));
    let shown = state.clone();
    let mut harness = window(SMALL, 2.0, ThemeChoice::Dark, move |ui| {
        let texts = Texts::of(ENGLISH);
        let model = gallery::exercises_model(ui, texts);
        exercises::show(ui, texts, &model, &mut shown.borrow_mut());
    });
    let way_top = |harness: &Harness<'_>| harness.get_by_label("Assess me").rect().top();
    harness.get_by_label("First shift").click();
    harness.run_steps(2);
    let choose = |harness: &mut Harness<'_>, row| {
        state.borrow_mut().chosen = row;
        harness.run_steps(4);
        way_top(harness)
    };
    let other = choose(&mut harness, 2);
    let top = choose(&mut harness, 1);
    harness.key_press(Key::PageDown);
    harness.run_steps(20);
    assert!(way_top(&harness) < top);
    assert_eq!(choose(&mut harness, 2), other);
}

#[test]
fn what_is_set_comes_out_with_its_row() {
    let (made, mut keep) = Made::new();
    let mut harness = plain(move |ui| {
        let texts = Texts::of(ENGLISH);
        keep(set_out::show(ui, texts, &gallery::set_out_model(texts)));
    });
    harness.get_by_label("More: Jack of the near rail").click();
    harness.run_steps(2);
    assert_eq!(made.take(), [set_out::Action::Step { row: 0, steps: 1 }]);
    let size = harness.get_by_label("More: The size setting");
    size.scroll_to_me();
    harness.run_steps(6);
    harness.get_by_label("More: The size setting").click();
    harness.run_steps(2);
    assert_eq!(made.take(), [set_out::Action::Choose { row: 2, option: 4 }]);
    harness
        .get_by_label("Look closely: Jack of the far rail")
        .click();
    harness.run_steps(2);
    assert_eq!(made.take(), [set_out::Action::Look { row: 1 }]);
    harness.get_by_label("Start the line").click();
    harness.run_steps(2);
    assert_eq!(made.take(), [], "there is no zone yet");
    harness.key_press(Key::E);
    harness.run_steps(2);
    assert_eq!(made.take(), [set_out::Action::LookAtNear]);
    // What is at its end goes no further.
    let more = harness.get_by_label("More: Jack of the far rail");
    assert!(more.accesskit_node().is_disabled());
}

#[test]
fn a_stepper_goes_on_while_it_is_held() {
    let (made, mut keep) = Made::new();
    let mut harness = plain(move |ui| {
        let texts = Texts::of(ENGLISH);
        keep(set_out::show(ui, texts, &gallery::set_out_model(texts)));
    });
    let at = harness
        .get_by_label("More: Jack of the near rail")
        .rect()
        .center();
    harness.drag_at(at);
    for _ in 0..240 {
        harness.run_steps(1);
    }
    let steps = made.take().len();
    harness.drop_at(at);
    harness.run_steps(2);
    assert!((10..=60).contains(&steps), "{steps}");
    assert_eq!(made.take(), [], "letting go is no step");
}

#[test]
fn what_is_looked_at_is_accepted_or_reported() {
    let (made, mut keep) = Made::new();
    let mut harness = plain(move |ui| {
        let texts = Texts::of(ENGLISH);
        keep(look_closer::show(ui, texts, &gallery::look_model(texts)));
    });
    harness.get_by_label("Report a fault").click();
    harness.run_steps(2);
    assert_eq!(made.take(), [look_closer::Action::Report]);
    for key in [Key::Y, Key::R] {
        harness.key_press(key);
        harness.run_steps(2);
    }
    let both = [look_closer::Action::Accept, look_closer::Action::Report];
    assert_eq!(made.take(), both);
    harness.get_by_label("Eye up").click();
    harness.run_steps(2);
    let eye = made.take();
    assert!(
        matches!(eye[..], [look_closer::Action::Eye(eye)] if (eye - 1.0).abs() < 1e-9),
        "{eye:?}"
    );
}

/// A pendant alone, and what is held on it in every pass.
fn alone(model: pendant::Model) -> (Harness<'static>, Rc<RefCell<pendant::Done>>) {
    let done = Rc::new(RefCell::new(pendant::Done::default()));
    let keeps = done.clone();
    let harness = plain(move |ui| {
        let texts = Texts::of(ENGLISH);
        let plan = pendant::Plan::new(ui, texts, &model, 1200.0);
        *keeps.borrow_mut() = pendant::show(ui, texts, &model, &plan);
    });
    (harness, done)
}

#[test]
fn a_button_works_only_while_it_is_held() {
    let (mut harness, done) = alone(gallery::pendant_model(Texts::of(ENGLISH)));
    let at = harness.get_by_label("Feed").rect().center();
    harness.drag_at(at);
    harness.run_steps(2);
    assert_eq!(done.borrow().held, Held::NONE.with(Button::Feed));
    harness.run_steps(30);
    assert_eq!(done.borrow().held, Held::NONE.with(Button::Feed));
    harness.drop_at(at);
    harness.run_steps(2);
    assert_eq!(done.borrow().held, Held::NONE);

    // Whoever slides off lets go.
    harness.drag_at(at);
    harness.run_steps(2);
    harness.hover_at(at + vec2(0.0, 200.0));
    harness.run_steps(2);
    assert_eq!(done.borrow().held, Held::NONE);
    harness.drop_at(at);
    harness.run_steps(2);
}

#[test]
fn a_dead_pendant_holds_nothing_but_stops() {
    let model = pendant::Model {
        is_dead: true,
        ..gallery::pendant_model(Texts::of(ENGLISH))
    };
    let (mut harness, done) = alone(model);
    let at = harness.get_by_label("Feed").rect().center();
    harness.drag_at(at);
    harness.run_steps(2);
    assert_eq!(done.borrow().held, Held::NONE);
    harness.drop_at(at);
    harness.run_steps(2);
    // On the way down, not on the way up.
    let at = harness.get_by_label("Emergency stop").rect().center();
    harness.drag_at(at);
    harness.run_steps(1);
    assert_eq!(done.borrow().action, Some(pendant::Action::Stop));
}

#[test]
fn the_stop_is_reset_only_when_it_is_latched() {
    let (mut harness, done) = alone(gallery::pendant_model(Texts::of(ENGLISH)));
    let reset = harness.get_by_label("Reset the emergency stop");
    assert!(reset.accesskit_node().is_disabled());
    harness
        .get_by_label("Isolate the power and lock it off")
        .click();
    let mut actions = BTreeSet::new();
    for _ in 0..4 {
        harness.step();
        actions.insert(format!("{:?}", done.borrow().action));
    }
    assert!(actions.contains("Some(Isolate(true))"), "{actions:?}");
}

#[test]
fn every_button_of_the_pendant_is_there_and_says_what_it_is() {
    let (harness, _) = alone(gallery::pendant_model(Texts::of(ENGLISH)));
    let texts = Texts::of(ENGLISH);
    for button in &Button::ALL[..18] {
        let name = texts.say(&chockline::words::button(*button));
        let name = name[..1].to_uppercase() + &name[1..];
        assert!(harness.query_by_label(&name).is_some(), "{name}");
    }
    for lamp in [
        "power: on",
        "receiver up and empty: off",
        "stop latched: off",
    ] {
        let told = harness.root().children_recursive().any(|node| {
            let value = node.accesskit_node().value();
            value.as_deref() == Some(lamp)
        });
        assert!(told, "{lamp}");
    }
}

/// A screen, its state, and what was done on it pass by pass.
type OnLine = (
    Harness<'static>,
    Rc<RefCell<hud::State>>,
    Rc<RefCell<Vec<hud::Done>>>,
);

/// The line's screen with a state of its own.
fn line(name: &'static str, change: impl Fn(&mut hud::Model) + 'static) -> OnLine {
    let state = Rc::new(RefCell::new(hud::State::default()));
    let done = Rc::new(RefCell::new(Vec::new()));
    let (shown, keeps) = (state.clone(), done.clone());
    let harness = plain(move |ui| {
        let texts = Texts::of(ENGLISH);
        let mut model = gallery::hud_model(name, ui, texts);
        change(&mut model);
        let made = hud::show(ui, texts, &model, &mut shown.borrow_mut());
        if made != hud::Done::default() {
            keeps.borrow_mut().push(made);
        }
    });
    (harness, state, done)
}

fn actions(done: &Rc<RefCell<Vec<hud::Done>>>) -> Vec<hud::Action> {
    let made = done.take();
    made.into_iter().flat_map(|made| made.actions).collect()
}

#[test]
fn everything_but_the_stop_folds_away() {
    let (mut harness, state, done) = line("practice", |_| {});
    assert!(harness.query_by_label("Feed").is_some());
    harness.get_by_label("Fold everything away").click();
    harness.run_steps(3);
    assert!(state.borrow().is_folded);
    assert!(harness.query_by_label("Feed").is_none());
    actions(&done);
    harness.get_by_label("Emergency stop").click();
    harness.run_steps(2);
    let made = actions(&done);
    let stop = hud::Action::Pendant(pendant::Action::Stop);
    assert!(
        !made.is_empty() && made.iter().all(|action| *action == stop),
        "{made:?}"
    );
    harness.get_by_label("Show everything").click();
    harness.run_steps(3);
    assert!(harness.query_by_label("Feed").is_some());
}

#[test]
fn keys_of_the_line_do_nothing_here_and_are_named_as_they_are_bound() {
    let (mut harness, state, done) = line("practice", |_| {});
    for key in [Key::F9, Key::M, Key::A, Key::Num2, Key::F4, Key::R] {
        harness.key_press(key);
        harness.run_steps(2);
    }
    assert_eq!(*state.borrow(), hud::State::default());
    assert_eq!(actions(&done), []);
    let bindings = Bindings::default();
    for lang in Lang::ALL {
        let texts = Texts::of(lang);
        let named: BTreeSet<String> = BINDINGS
            .iter()
            .map(|binding| bindings.said(binding.act, texts))
            .collect();
        assert_eq!(named.len(), BINDINGS.len(), "{lang:?}: a name for each key");
        let keys = hud::Keys::of(&bindings, texts);
        assert_eq!(keys.fold, bindings.said(Act::Fold, texts));
        let radio = radio::Model::of(&bindings, texts);
        assert!(radio.calls.iter().all(|(_, key)| named.contains(key)));
    }
}

#[test]
fn in_an_assessment_nothing_is_read_out_and_time_is_not_held() {
    let (harness, _, _) = line("assessed", |_| {});
    for name in ["Pause", "0.5\u{202f}×", "What is next?", "Turn time back"] {
        assert!(harness.query_by_label(name).is_none(), "{name}");
    }
    assert!(
        harness
            .query_by_role_and_label(Role::Image, "Height of the cradles")
            .is_none()
    );
    let (harness, _, _) = line("practice", |_| {});
    assert!(harness.query_by_label("Pause").is_some());
    assert!(
        harness
            .query_by_role_and_label(Role::Image, "Height of the cradles")
            .is_some()
    );
}

#[test]
fn calls_are_made_by_pressing() {
    let (mut harness, state, done) = line("practice", |_| {});
    harness.get_by_label("Radio").click();
    harness.run_steps(3);
    assert_eq!(state.borrow().open, Some(hud::Menu::Radio));
    harness
        .get_by_role_and_label(Role::Button, "Clear the line")
        .click();
    harness.run_steps(2);
    assert_eq!(actions(&done), [hud::Action::Say(Call::Clear)]);
    assert_eq!(state.borrow().open, None, "said once");
    // A gamepad goes through it by arrows and Enter.
    harness.get_by_label("Radio").click();
    harness.run_steps(3);
    harness.key_press(Key::ArrowDown);
    harness.run_steps(2);
    harness.key_press(Key::ArrowDown);
    harness.run_steps(2);
    harness.key_press(Key::Enter);
    harness.run_steps(2);
    assert_eq!(actions(&done), [hud::Action::Say(Call::Load)]);
    harness.get_by_label("Radio").click();
    harness.run_steps(3);
    harness.key_press(Key::Escape);
    harness.run_steps(2);
    assert_eq!(state.borrow().open, None);
    assert_eq!(actions(&done), [], "Escape closes the menu, not more");
}

#[test]
fn cranks_turn_while_they_are_held() {
    let (mut harness, state, done) = line("practice", |_| {});
    state.borrow_mut().open = Some(hud::Menu::Radio);
    harness.run_steps(3);
    let crank = harness.get_by_label("Far jack down");
    crank.scroll_to_me();
    harness.run_steps(3);
    let at = harness.get_by_label("Far jack down").rect().center();
    harness.drag_at(at);
    harness.run_steps(3);
    let held = done.take().last().map(|made| made.held);
    assert_eq!(held, Some(Held::NONE.with(Button::JackFarDown)));
    harness.drop_at(at);
    harness.run_steps(2);
    done.take();
    harness.run_steps(2);
    assert_eq!(done.take(), []);
}

#[test]
fn every_call_of_the_radio_says_what_it_is_about() {
    use chockline::domain::rig::End;
    let texts = Texts::of(ENGLISH);
    let [near, far] = End::BOTH.map(|end| texts.say(&radio::text(Call::BarFromEnd(end))));
    assert_ne!(near, far);
}

#[test]
fn time_is_turned_back_and_taken_over() {
    let (mut harness, _, done) = line("rewound", |_| {});
    harness.get_by_label("Take over from 1:01").click();
    harness.run_steps(2);
    assert_eq!(actions(&done), [hud::Action::TakeOver]);
    harness.get_by_label("Turn time back").focus();
    harness.run_steps(2);
    harness.key_press(Key::ArrowLeft);
    harness.run_steps(2);
    assert_eq!(actions(&done), [hud::Action::Rewind(61.0)]);
}

#[test]
fn the_pointer_is_known_to_be_over_a_card() {
    let (mut harness, _, _) = line("practice", |_| {});
    let over_feed = harness.get_by_label("Feed").rect().center();
    harness.hover_at(over_feed);
    harness.run_steps(2);
    assert!(panels::is_over(&harness.ctx));
    harness.hover_at(egui::pos2(400.0, 300.0));
    harness.run_steps(2);
    assert!(!panels::is_over(&harness.ctx));
}

#[test]
fn an_assessment_is_not_begun_again_and_nothing_is_brought_about_in_it() {
    let shown = |mode| {
        plain(move |ui| {
            let model = pause::Model {
                exercise: "x".to_owned(),
                mode,
                clock_s: 1.0,
                has_begun: true,
            };
            pause::show(ui, Texts::of(ENGLISH), &model);
        })
    };
    assert!(
        shown(Mode::Practice)
            .query_by_label("Begin again")
            .is_some()
    );
    let instructor = "Instructor: bring something about";
    assert!(shown(Mode::Practice).query_by_label(instructor).is_some());
    let assessed = shown(Mode::Assessed);
    for entry in ["Begin again", instructor] {
        assert!(assessed.query_by_label(entry).is_none(), "{entry}");
    }
}

/// The settings with a state of their own.
fn set() -> (Harness<'static>, Made<settings::Action>) {
    let (made, mut keep) = Made::new();
    let mut state = settings::State::default();
    let harness = window(PROJECTOR, 1.0, ThemeChoice::Dark, move |ui| {
        let texts = Texts::of(ENGLISH);
        let model = gallery::settings_model(texts);
        keep(settings::show(ui, texts, &model, &mut state));
    });
    (harness, made)
}

#[test]
fn settings_are_told_at_once() {
    let (mut harness, made) = set();
    for (label, action) in [
        ("Español", settings::Action::Lang(Lang::Spanish)),
        ("More: Size of the text", settings::Action::TextScale(1.25)),
        (
            "Light, for projectors",
            settings::Action::Theme(ThemeChoice::Projector),
        ),
        ("Automatic", settings::Action::Quality(None)),
        (
            "All keys as at first",
            settings::Action::Bindings(bindings::Action::Reset),
        ),
    ] {
        harness.get_by_label(label).scroll_to_me();
        harness.run_steps(2);
        harness.get_by_label(label).click();
        harness.run_steps(2);
        assert_eq!(made.take(), [action], "{label}");
    }
}

#[test]
fn a_key_does_one_thing_only() {
    let (mut harness, made) = set();
    let feed = "Change the key for Feed, now Space";
    harness.get_by_label(feed).click();
    harness.run_steps(3);
    harness.key_press(Key::N);
    harness.run_steps(2);
    let bound = |action| settings::Action::Bindings(action);
    let to_n = bindings::Action::Bind {
        row: 0,
        key: Key::N,
    };
    assert_eq!(made.take(), [bound(to_n)]);

    // One that is taken is not given away unasked.
    harness.get_by_label(feed).click();
    harness.run_steps(3);
    harness.key_press(Key::F);
    harness.run_steps(2);
    assert_eq!(made.take(), []);
    harness.get_by_label("Take it all the same").click();
    harness.run_steps(2);
    let moved = bindings::Action::Move {
        from: 2,
        to: 0,
        key: Key::F,
    };
    assert_eq!(made.take(), [bound(moved)]);

    // Escape leaves it, and does not leave the screen.
    harness.get_by_label(feed).click();
    harness.run_steps(3);
    harness.key_press(Key::Escape);
    harness.run_steps(2);
    assert_eq!(made.take(), []);
    harness.key_press(Key::Escape);
    harness.run_steps(2);
    assert_eq!(made.take(), [settings::Action::Back]);

    // By the keyboard: what presses the button is not what is listened for.
    harness.get_by_label(feed).focus();
    harness.run_steps(2);
    harness.key_press(Key::Enter);
    harness.run_steps(3);
    assert_eq!(made.take(), []);
    harness.key_press(Key::D);
    harness.run_steps(2);
    let to_d = bindings::Action::Bind {
        row: 0,
        key: Key::D,
    };
    assert_eq!(made.take(), [bound(to_d)]);

    // One that cannot be bound is said to be none.
    harness.get_by_label(feed).click();
    harness.run_steps(3);
    harness.key_press(Key::ArrowUp);
    harness.run_steps(2);
    assert_eq!(made.take(), []);
    harness.get_by_label("That key cannot be used.");
}

#[test]
fn votes_are_counted_by_key_and_by_hand() {
    let (made, mut keep) = Made::new();
    let mut harness = plain(move |ui| {
        let texts = Texts::of(ENGLISH);
        keep(vote::show(ui, texts, &gallery::vote_model(texts, None)));
    });
    harness.key_press(Key::Num2);
    harness.run_steps(2);
    assert_eq!(made.take(), [vote::Action::Vote { choice: 1, by: 1 }]);
    harness.get_by_label("Less: Every stick joined").click();
    harness.run_steps(2);
    assert_eq!(made.take(), [vote::Action::Vote { choice: 0, by: -1 }]);
    harness.key_press(Key::Num9);
    harness.run_steps(2);
    assert_eq!(made.take(), [], "there are four");
}

#[test]
fn the_answer_comes_only_after_the_question() {
    let (made, mut keep) = Made::new();
    let state = Rc::new(RefCell::new(what_happened::State::default()));
    let shown = state.clone();
    let mut harness = plain(move |ui| {
        let texts = Texts::of(ENGLISH);
        let model = gallery::story_model(texts);
        keep(what_happened::show(
            ui,
            texts,
            &model,
            &mut shown.borrow_mut(),
        ));
    });
    for beat in [1, 2] {
        harness.get_by_label("Next").click();
        harness.run_steps(2);
        assert_eq!(made.take(), [what_happened::Action::Beat(beat)]);
    }
    harness.get_by_label("Go on").click();
    harness.run_steps(3);
    assert_eq!(state.borrow().stage, what_happened::Stage::Question);
    let answer = harness.get_by_label("Show the answer");
    assert!(answer.accesskit_node().is_disabled());
    state.borrow_mut().words = " wait ".to_owned();
    harness.run_steps(2);
    harness.get_by_label("Show the answer").click();
    harness.run_steps(3);
    let answered = what_happened::Action::Answered {
        choice: None,
        words: "wait".to_owned(),
    };
    assert_eq!(made.take(), [answered]);
    harness.get_by_label("To the debrief").click();
    harness.run_steps(2);
    assert_eq!(made.take(), [what_happened::Action::Debrief]);
}

#[test]
fn a_line_of_the_score_jumps_and_dragging_the_time_moves_everything() {
    let (made, mut keep) = Made::new();
    let mut state = debrief::State::default();
    let mut harness = plain(move |ui| {
        let texts = Texts::of(ENGLISH);
        let model = gallery::debrief_model(texts);
        keep(debrief::show(ui, texts, &model, &mut state));
    });
    harness.get_by_label("Person struck").click();
    harness.run_steps(2);
    assert_eq!(made.take(), [debrief::Action::Seek(96.2)]);
    harness.get_by_label("Try again from 1:14").click();
    harness.run_steps(2);
    assert_eq!(made.take(), [debrief::Action::TakeOver(74.5)]);

    let sought = |harness: &mut Harness<'_>, at: Pos2| {
        harness.drag_at(at);
        harness.run_steps(2);
        harness.drop_at(at);
        harness.run_steps(2);
        let made = made.take();
        let Some(debrief::Action::Seek(time_s)) = made.first() else {
            panic!("nothing sought at {at:?}: {made:?}");
        };
        *time_s
    };
    // Time line and curves have one axis: the same place is the same time.
    let track = harness.get_by_label("Time of the run").rect();
    let plot = harness.root().children_recursive().find(|node| {
        let inner = node.accesskit_node();
        inner.role() == Role::Image && inner.label().is_some_and(|name| name.contains("lifts"))
    });
    let plot = plot.expect("a curve").rect();
    for share in [0.2, 0.45, 0.7] {
        let x = track.left() + share * track.width();
        let by_track = sought(&mut harness, egui::pos2(x, track.center().y));
        let by_plot = sought(&mut harness, egui::pos2(x, plot.center().y));
        assert!(
            (by_track - 110.0 * f64::from(share)).abs() < 0.5,
            "{by_track}"
        );
        assert!((by_track - by_plot).abs() < 0.3, "{by_track} and {by_plot}");
    }
    harness.get_by_label("Time of the run").focus();
    harness.run_steps(2);
    harness.key_press(Key::ArrowRight);
    harness.run_steps(2);
    assert_eq!(made.take(), [debrief::Action::Seek(75.0)]);
    harness.key_press(Key::Home);
    harness.run_steps(2);
    assert_eq!(made.take(), [debrief::Action::Seek(0.0)]);
}

#[test]
fn a_message_is_answered_by_its_buttons_and_by_escape() {
    let (made, mut keep) = Made::new();
    let mut harness = plain(move |ui| {
        let texts = Texts::of(ENGLISH);
        let model = dialog::Model {
            mark: Mark::Not,
            ..gallery::dialog_model("fault", texts)
        };
        keep(dialog::show(ui, texts, &model));
    });
    harness.key_press(Key::Enter);
    harness.run_steps(2);
    assert_eq!(made.take(), [0], "the usual answer has the keyboard");
    harness.key_press(Key::ArrowRight);
    harness.run_steps(2);
    harness.key_press(Key::Enter);
    harness.run_steps(2);
    assert_eq!(made.take(), [1]);
    harness.key_press(Key::Escape);
    harness.run_steps(2);
    assert_eq!(made.take(), [1]);
}

/// What has the keyboard.
fn focused(harness: &Harness<'_>) -> Option<String> {
    let root = harness.root();
    let found = root.children_recursive().find(|node| node.is_focused());
    found.and_then(|node| node.accesskit_node().label())
}

/// Screens of the line: keys work the line there. And one that only waits.
const WITHOUT_KEYS: [&str; 10] = [
    "guided",
    "practice",
    "assessed",
    "rewound",
    "radio",
    "looking",
    "instructor",
    "check",
    "folded",
    "wait",
];

#[test]
fn every_screen_begins_with_something_sensible_that_is_seen_to_have_the_keyboard() {
    every_screen(HARD, |case, harness, _| {
        let is_of_line = WITHOUT_KEYS.iter().any(|name| case.starts_with(name));
        let focused = focused(harness);
        assert_eq!(focused.is_none(), is_of_line, "{case}: {focused:?}");
        let accent = Palette::of(ThemeChoice::Dark).accent;
        let is_ring = |shape: &ClippedShape| {
            matches!(&shape.shape, Shape::Rect(rect)
                if rect.stroke.color == accent && rect.stroke.width == theme::FOCUS_RING)
        };
        let is_ringed = harness.output().shapes.iter().any(is_ring);
        // With the largest text in a small window what is told first may leave it no room.
        if case.ends_with(", 1") {
            assert_eq!(is_ringed, !is_of_line, "{case}");
        }
    });
}

#[test]
fn every_screen_but_those_of_the_line_is_left_by_escape() {
    // Each with the way back that it has.
    let (made, mut keep) = Made::new();
    let mut harness = plain(move |ui| {
        let texts = Texts::of(ENGLISH);
        let model = gallery::brief_model(ui, texts);
        keep(brief::show(ui, texts, &model));
    });
    harness.key_press(Key::Enter);
    harness.run_steps(2);
    assert_eq!(made.take(), [brief::Action::Begin]);
    harness.key_press(Key::Escape);
    harness.run_steps(2);
    assert_eq!(made.take(), [brief::Action::Back]);

    let (made, mut keep) = Made::new();
    let mut harness = plain(move |ui| {
        let texts = Texts::of(ENGLISH);
        let model = gallery::keys_model(texts);
        keep(controls_help::show(ui, texts, &model));
    });
    harness.key_press(Key::Enter);
    harness.run_steps(2);
    harness.key_press(Key::Escape);
    harness.run_steps(2);
    assert_eq!(made.take(), [controls_help::Action::Back; 2]);

    let (made, mut keep) = Made::new();
    let mut harness = plain(move |ui| {
        let texts = Texts::of(ENGLISH);
        keep(set_out::show(ui, texts, &gallery::set_out_model(texts)));
    });
    harness.key_press(Key::Escape);
    harness.run_steps(2);
    assert_eq!(made.take(), [set_out::Action::Pause]);

    let (made, mut keep) = Made::new();
    let mut harness = plain(move |ui| {
        let texts = Texts::of(ENGLISH);
        keep(vote::show(ui, texts, &gallery::vote_model(texts, None)));
    });
    harness.key_press(Key::Escape);
    harness.run_steps(2);
    assert_eq!(made.take(), [vote::Action::Back]);
}

#[test]
fn nobody_has_to_wait_and_no_key_of_the_line_ends_the_wait() {
    let (made, mut keep) = Made::new();
    let mut harness = plain(move |ui| {
        let leaves = what_happened::wait(ui, Texts::of(ENGLISH), gallery::WAIT);
        keep(leaves.then_some(()));
    });
    for key in [Key::Enter, Key::Space, Key::F] {
        harness.key_press(key);
        harness.run_steps(2);
    }
    assert_eq!(made.take(), []);
    harness.key_press(Key::Escape);
    harness.run_steps(2);
    assert_eq!(made.take(), [()]);
    for key in [Key::ArrowDown, Key::Enter] {
        harness.key_press(key);
        harness.run_steps(2);
    }
    assert_eq!(made.take(), [()]);
}

#[test]
fn the_help_of_keys_tells_what_they_do_on_foot() {
    let texts = Texts::of(ENGLISH);
    let harness = plain(move |ui| {
        controls_help::show(ui, texts, &gallery::keys_model(texts));
    });
    for line in on_foot::hints(texts) {
        harness.get_by_label(&line);
    }
}

#[test]
fn what_has_come_is_not_voted_on_again() {
    let (made, mut keep) = Made::new();
    let mut harness = plain(move |ui| {
        let texts = Texts::of(ENGLISH);
        keep(vote::show(ui, texts, &gallery::vote_model(texts, Some(1))));
    });
    assert!(harness.query_by_label("Back").is_none());
    harness.key_press(Key::Enter);
    harness.run_steps(2);
    assert_eq!(made.take(), [vote::Action::Go]);
    for key in [Key::Num2, Key::Escape] {
        harness.key_press(key);
        harness.run_steps(2);
    }
    assert_eq!(made.take(), []);
}

#[test]
fn a_key_that_stays_down_presses_once() {
    let (made, mut keep) = Made::new();
    let mut harness = plain(move |ui| {
        let model = title::Model::default();
        keep(title::show(ui, Texts::of(ENGLISH), &model));
    });
    for _ in 0..5 {
        harness.key_down(Key::Enter);
        harness.run_steps(1);
    }
    harness.key_up(Key::Enter);
    harness.run_steps(1);
    assert_eq!(made.take(), [title::Action::Exercises]);
}

#[test]
fn the_story_is_gone_through_and_seen_again_by_the_keyboard_alone() {
    let (made, mut keep) = Made::new();
    let state = Rc::new(RefCell::new(what_happened::State::default()));
    let shown = state.clone();
    let mut harness = plain(move |ui| {
        let texts = Texts::of(ENGLISH);
        let model = gallery::story_model(texts);
        let mut state = shown.borrow_mut();
        keep(what_happened::show(ui, texts, &model, &mut state));
    });
    let press = |harness: &mut Harness<'_>, key| {
        harness.key_press(key);
        harness.run_steps(3);
    };
    for _ in 0..3 {
        press(&mut harness, Key::Enter);
    }
    assert_eq!(state.borrow().stage, what_happened::Stage::Question);
    press(&mut harness, Key::Escape);
    assert_eq!(*state.borrow(), what_happened::State::default());
    for _ in 0..3 {
        press(&mut harness, Key::Enter);
    }
    // Choose, show the answer, go on.
    press(&mut harness, Key::Enter);
    assert_eq!(state.borrow().choice, Some(0));
    press(&mut harness, Key::Enter);
    assert_eq!(state.borrow().stage, what_happened::Stage::Answer);
    press(&mut harness, Key::Enter);
    assert_eq!(made.take().last(), Some(&what_happened::Action::Debrief));
}

/// A screen of the laboratory with a state of its own.
fn laboratory(
    name: &'static str,
    state: lab::State,
) -> (Harness<'static>, Rc<RefCell<lab::State>>, Made<lab::Action>) {
    let (made, mut keep) = Made::new();
    let state = Rc::new(RefCell::new(state));
    let shown = state.clone();
    let harness = plain(move |ui| {
        let texts = Texts::of(ENGLISH);
        let model = gallery::lab_model(name, ui, texts);
        keep(lab::show(ui, texts, &model, &mut shown.borrow_mut()));
    });
    (harness, state, made)
}

/// Presses what may have to be scrolled to.
fn press_far(harness: &mut Harness<'_>, label: &str) {
    harness.get_by_label(label).scroll_to_me();
    harness.run_steps(6);
    harness.get_by_label(label).click();
    harness.run_steps(2);
}

#[test]
fn a_sweep_is_set_up_and_run_by_keys_alone() {
    let (mut harness, _, made) = laboratory("lab_new", lab::State::default());
    harness.key_press(Key::Enter);
    harness.run_steps(2);
    assert_eq!(made.take(), [lab::Action::Run]);
    for (knob, key, end, to) in [
        ("Pitch of the rack: from", Key::ArrowRight, 0, 2.2),
        ("Pitch of the rack: to", Key::PageDown, 1, 10.0),
        ("Pitch of the rack: to", Key::End, 1, 22.0),
    ] {
        harness.get_by_label(knob).focus();
        harness.run_steps(2);
        harness.key_press(key);
        harness.run_steps(2);
        assert_eq!(made.take(), [lab::Action::Pitch { end, to }], "{knob}");
    }
    harness.get_by_label("contact.friction_dry: to").focus();
    harness.run_steps(2);
    harness.key_press(Key::ArrowLeft);
    harness.run_steps(2);
    let moved = made.take();
    assert!(
        matches!(moved[..], [lab::Action::Range { variable: 0, end: 1, to }] if to < 0.4),
        "{moved:?}"
    );
    press_far(&mut harness, "No longer vary pipe.ovality_pct");
    harness.run_steps(2);
    assert_eq!(made.take(), [lab::Action::Leave(2)]);
    press_far(&mut harness, "99 %");
    assert_eq!(made.take(), [lab::Action::Confidence(2)]);
    press_far(&mut harness, "More: seed");
    assert_eq!(made.take(), [lab::Action::Seed(1)]);
}

/// A list opens at its top however far down it was asked for, also the second time, and at once takes
/// what is looked for.
#[test]
fn a_list_opens_at_its_top_and_takes_what_is_written() {
    let state = Rc::new(RefCell::new(lab::State::default()));
    let shown = state.clone();
    let mut harness = plain(move |ui| {
        let texts = Texts::of(ENGLISH);
        let mut model = gallery::lab_model("lab_new", ui, texts);
        let field = model.fields[0].clone();
        let many = (0..40).map(|i| lab::Field {
            path: format!("made.up_{i}"),
            ..field.clone()
        });
        model.fields.extend(many);
        lab::show(ui, texts, &model, &mut shown.borrow_mut());
    });
    for time in 0..2 {
        press_far(&mut harness, "Compare with a second set-up");
        harness.run_steps(6);
        let field = harness.get_by_role_and_label(Role::TextInput, "Look for");
        assert!(field.rect().min.y > 60.0, "{time}: {:?}", field.rect());
        assert!(field.is_focused(), "{time}");
        // Down in the list and away.
        press_far(&mut harness, "made.up_39");
        harness.run_steps(2);
        assert_eq!(state.borrow().choosing, None);
    }
    press_far(&mut harness, "Compare with a second set-up");
    harness.run_steps(6);
    harness.event(Event::Text("gap".to_owned()));
    harness.run_steps(3);
    assert_eq!(state.borrow().sought, "gap");
    assert!(harness.query_by_label("row.gap_mm").is_some());
    assert!(harness.query_by_label("made.up_39").is_none());
}

/// What has the keyboard moves by them, and what scrolls does not as well.
#[test]
fn page_keys_move_one_thing() {
    let (mut harness, _, made) = laboratory("lab_running", lab::State::default());
    let top = |harness: &Harness<'_>| {
        let plot = harness.get_by_role_and_label(Role::Slider, "Pitch that is looked at");
        plot.rect().top()
    };
    let before = top(&harness);
    for (what, scrolls) in [("Pitch of the rack: to", false), ("Stop", true)] {
        harness.get_by_label(what).focus();
        harness.run_steps(4);
        harness.key_press(Key::PageDown);
        harness.run_steps(20);
        assert_eq!(top(&harness) < before, scrolls, "{what}");
    }
    assert_eq!(made.take(), [lab::Action::Pitch { end: 1, to: 10.0 }]);
}

#[test]
fn a_knob_is_dragged_by_the_pointer() {
    let (mut harness, _, made) = laboratory("lab_new", lab::State::default());
    let at = harness
        .get_by_label("Pitch of the rack: to")
        .rect()
        .center();
    harness.drag_at(at);
    harness.run_steps(2);
    harness.hover_at(at - vec2(40.0, 0.0));
    harness.run_steps(2);
    harness.drop_at(at - vec2(40.0, 0.0));
    harness.run_steps(2);
    let moved = made.take();
    let less =
        |action: &lab::Action| matches!(action, lab::Action::Pitch { end: 1, to } if *to < 12.0);
    assert!(!moved.is_empty() && moved.iter().all(less), "{moved:?}");
}

#[test]
fn a_field_is_looked_for_and_chosen() {
    let (mut harness, state, made) = laboratory("lab_fields", lab::State::default());
    press_far(&mut harness, "Vary something else too");
    assert_eq!(state.borrow().choosing, Some(lab::Choosing::Variable));
    assert!(harness.query_by_label("row.gap_mm").is_some());
    state.borrow_mut().sought = "wind".to_owned();
    harness.run_steps(2);
    assert!(harness.query_by_label("row.gap_mm").is_none());
    // Escape ends the writing, then leaves the list, and not the laboratory.
    harness.key_press(Key::Escape);
    harness.run_steps(2);
    assert_eq!(state.borrow().choosing, Some(lab::Choosing::Variable));
    harness.key_press(Key::Escape);
    harness.run_steps(2);
    assert_eq!(state.borrow().choosing, None);
    assert_eq!(made.take(), []);
    // At once where nothing has been written.
    state.borrow_mut().sought.clear();
    state.borrow_mut().choosing = Some(lab::Choosing::Second);
    harness.run_steps(3);
    harness.key_press(Key::Escape);
    harness.run_steps(2);
    assert_eq!(state.borrow().choosing, None);
    assert_eq!(made.take(), []);
    state.borrow_mut().choosing = Some(lab::Choosing::Second);
    harness.run_steps(3);
    harness.get_by_label("row.sticks").click();
    harness.run_steps(2);
    assert_eq!(made.take(), [lab::Action::Change(0)]);
    assert_eq!(state.borrow().choosing, None);
    harness.key_press(Key::Escape);
    harness.run_steps(2);
    assert_eq!(made.take(), [lab::Action::Back]);
}

#[test]
fn what_is_set_wrong_is_said_beside_it_and_does_not_run() {
    let (harness, _, _) = laboratory("lab_wrong", lab::State::default());
    let run = harness.get_by_label("Run it");
    assert!(run.accesskit_node().is_disabled());
    let texts: Vec<String> = painted(&harness)
        .into_iter()
        .map(|text| text.text)
        .collect();
    let said = texts.iter().filter(|text| text.contains("an empty range"));
    assert_eq!(said.count(), 2, "{texts:#?}");
}

#[test]
fn a_pitch_is_pointed_at_and_its_trials_are_chosen_from() {
    let (mut harness, _, made) = laboratory("lab_running", lab::State::default());
    harness.get_by_label("Stop").click();
    harness.run_steps(2);
    assert_eq!(made.take(), [lab::Action::Stop]);
    let plot = harness.get_by_role_and_label(Role::Slider, "Pitch that is looked at");
    let rect = plot.rect();
    harness.hover_at(rect.center());
    harness.run_steps(1);
    harness.drag_at(rect.center());
    harness.run_steps(1);
    harness.drop_at(rect.center());
    harness.run_steps(2);
    let looked = made.take();
    // The middle of 2 to 12° is 7°, the eleventh of the pitches.
    let middle = lab::Action::Look {
        set_up: 0,
        pitch: 10,
    };
    assert_eq!(looked, [middle]);
    harness.key_press(Key::ArrowLeft);
    harness.run_steps(2);
    let beside = lab::Action::Look {
        set_up: 0,
        pitch: 8,
    };
    assert_eq!(made.take(), [beside], "from the ninth, that the model has");
    harness.get_by_label("Watch it in the whole window").click();
    harness.run_steps(2);
    assert_eq!(made.take(), [lab::Action::Watch]);
    press_far(&mut harness, "Trial 3");
    assert_eq!(made.take(), [lab::Action::Trial(2)]);
}

#[test]
fn a_trial_is_watched_held_and_left() {
    let (made, mut keep) = Made::new();
    let mut harness = plain(move |ui| {
        let texts = Texts::of(ENGLISH);
        keep(lab_watch::show(ui, texts, &gallery::lab_watch_model(texts)));
    });
    harness.key_press(Key::Enter);
    harness.run_steps(2);
    assert_eq!(made.take(), [lab_watch::Action::Play(false)]);
    harness.get_by_label("From its beginning").click();
    harness.run_steps(2);
    harness.key_press(Key::Escape);
    harness.run_steps(2);
    let both = [lab_watch::Action::Again, lab_watch::Action::Back];
    assert_eq!(made.take(), both);
}

#[test]
fn every_screen_of_the_laboratory_says_what_its_answers_are_good_for() {
    for lang in Lang::ALL {
        let texts = Texts::of(lang);
        let caution = lab::caution(texts);
        for name in gallery::SCREENS
            .iter()
            .filter(|name| name.starts_with("lab_"))
        {
            let harness = plain(|ui| gallery::show(name, ui, texts));
            let said = painted(&harness);
            assert!(
                said.iter().any(|text| text.text == caution),
                "{name}, {lang:?}"
            );
        }
    }
}

/// The trainer's screen with a state of its own.
fn trainers(
    name: &'static str,
    state: trainer::State,
    change: impl Fn(&mut trainer::Model) + 'static,
) -> (
    Harness<'static>,
    Rc<RefCell<trainer::State>>,
    Made<trainer::Action>,
) {
    let (made, mut keep) = Made::new();
    let state = Rc::new(RefCell::new(state));
    let shown = state.clone();
    let harness = plain(move |ui| {
        let texts = Texts::of(ENGLISH);
        let mut model = gallery::trainer_model(name, texts);
        change(&mut model);
        keep(trainer::show(ui, texts, &model, &mut shown.borrow_mut()));
    });
    (harness, state, made)
}

fn form(form: trainer::Form) -> trainer::State {
    trainer::State {
        form: Some(form),
        ..trainer::State::default()
    }
}

fn types(harness: &mut Harness<'_>, label: &str, text: &str) {
    let fields = harness.query_all_by_role(Role::TextInput);
    let lines = harness.query_all_by_role(Role::MultilineTextInput);
    let field = fields.chain(lines).find(|field| {
        let node = field.accesskit_node();
        node.labelled_by()
            .any(|by| by.value().as_deref() == Some(label))
    });
    field.expect(label).focus();
    harness.run_steps(2);
    harness.event(Event::Text(text.to_owned()));
    harness.run_steps(2);
}

#[test]
fn of_two_hundred_people_one_is_found_and_opened_by_keys_alone() {
    let many = |model: &mut trainer::Model| {
        let row = |i: usize| trainer::Row {
            name: format!("Person {i}"),
            ..trainer::Row::default()
        };
        model.people = (0..200).map(row).collect();
    };
    let (mut harness, state, made) = trainers("trainer", trainer::State::default(), many);
    // The last of them is reached, and then in sight.
    harness.get_by_label("Person 199").focus();
    harness.run_steps(4);
    let rect = harness.get_by_label("Person 199").rect();
    assert!(
        Rect::from_min_size(Pos2::ZERO, SMALL).contains_rect(rect),
        "{rect:?}"
    );
    harness.key_press(Key::Enter);
    harness.run_steps(2);
    assert_eq!(made.take(), [trainer::Action::Person(199)]);
    types(&mut harness, "Find a name", "son 17");
    assert_eq!(state.borrow().sought, "son 17");
    assert!(harness.query_by_label("Person 16").is_none());
    // From the field to the first who is found, and on.
    for found in [17, 170] {
        harness.key_press(Key::ArrowDown);
        harness.run_steps(3);
        harness.key_press(Key::Enter);
        harness.run_steps(2);
        assert_eq!(made.take(), [trainer::Action::Person(found)]);
    }
    state.borrow_mut().sought = "nobody".to_owned();
    harness.run_steps(2);
    harness.get_by_label("No name here has that in it.");
}

#[test]
fn a_class_is_chosen_and_the_screen_is_left() {
    let (mut harness, _, made) = trainers("trainer", trainer::State::default(), |_| ());
    harness.get_by_label("Apprentices").click();
    harness.run_steps(2);
    assert_eq!(made.take(), [trainer::Action::Class(2)]);
    harness.key_press(Key::Escape);
    harness.run_steps(2);
    assert_eq!(made.take(), [trainer::Action::Back]);
    let (mut harness, _, made) = trainers("trainer_person", trainer::State::default(), |_| ());
    harness.key_press(Key::Escape);
    harness.run_steps(2);
    assert_eq!(made.take(), [trainer::Action::All], "from a person to all");
}

#[test]
fn a_signature_is_asked_for_once_and_given_by_keys_alone() {
    let (mut harness, state, made) = trainers("trainer_person", trainer::State::default(), |_| ());
    harness
        .get_by_role_and_label(Role::Button, "Sign off")
        .click();
    harness.run_steps(3);
    let trainer::Form::SignOff { by, .. } = state.borrow().form.clone().unwrap() else {
        panic!("no signing off");
    };
    assert_eq!(by, "Jo Vega", "as they signed last");
    harness
        .get_by_role_and_label(Role::Button, "Sign off")
        .focus();
    harness.run_steps(2);
    harness.key_press(Key::Enter);
    harness.run_steps(3);
    assert_eq!(made.take(), [], "it is asked first");
    harness.key_press(Key::Escape);
    harness.run_steps(3);
    assert!(state.borrow().form.is_some(), "back to what is written");
    harness
        .get_by_role_and_label(Role::Button, "Sign off")
        .focus();
    harness.run_steps(2);
    for _ in 0..2 {
        harness.key_press(Key::Enter);
        harness.run_steps(3);
    }
    let signed = trainer::Action::SignOff {
        by: "Jo Vega".to_owned(),
        note: String::new(),
    };
    assert_eq!(made.take(), [signed]);
    assert!(state.borrow().form.is_some(), "until it is written");
    // The first ends the writing.
    for _ in 0..2 {
        harness.key_press(Key::Escape);
        harness.run_steps(3);
    }
    assert_eq!(state.borrow().form, None);
}

#[test]
fn what_does_not_count_can_be_neither_signed_off_nor_certified() {
    let other = |model: &mut trainer::Model| {
        if let Some(person) = &mut model.person {
            person.chosen = 2;
        }
    };
    let (harness, _, _) = trainers("trainer_person", trainer::State::default(), other);
    for (label, is_off) in [
        ("Sign off", true),
        ("Certificate", true),
        ("Does not count", true),
        ("Report", false),
    ] {
        let node = harness.get_by_label(label);
        assert_eq!(node.accesskit_node().is_disabled(), is_off, "{label}");
    }
}

#[test]
fn people_are_added_by_their_names_and_a_number_is_one_persons() {
    let people = trainer::Form::People {
        names: String::new(),
        number: String::new(),
    };
    let (mut harness, state, made) = trainers("trainer", form(people), |_| ());
    let add = |harness: &Harness<'_>, label: &str| {
        let node = harness.get_by_label(label);
        !node.accesskit_node().is_disabled()
    };
    assert!(!add(&harness, "Add 0 people"));
    types(&mut harness, "Names, one a line", "Ana Núñez\n, Bo Lund ;");
    assert!(add(&harness, "Add 2 people"));
    let label = "Number, where somebody of this name is here already; mostly empty";
    types(&mut harness, label, "7");
    assert!(!add(&harness, "Add 2 people"), "whose would it be?");
    if let Some(trainer::Form::People { number, .. }) = &mut state.borrow_mut().form {
        number.clear();
    }
    harness.run_steps(2);
    harness.get_by_label("Add 2 people").click();
    harness.run_steps(2);
    let added = trainer::Action::AddPeople {
        names: vec!["Ana Núñez".to_owned(), "Bo Lund".to_owned()],
        number: String::new(),
    };
    assert_eq!(made.take(), [added]);
}

#[test]
fn a_date_is_chosen_or_written_and_what_is_none_is_told() {
    let due = trainer::Form::Due {
        on: "2027-02-30".to_owned(),
        at_exercise: false,
    };
    let (mut harness, state, made) = trainers("trainer_person", form(due), |_| ());
    let button = |harness: &Harness<'_>| {
        let node = harness.get_by_label("Set the date");
        !node.accesskit_node().is_disabled()
    };
    assert!(!button(&harness));
    let told = painted(&harness);
    assert!(
        told.iter()
            .any(|text| text.text.starts_with("That is no date"))
    );
    harness.get_by_label("in 6 months").click();
    harness.run_steps(2);
    assert!(button(&harness));
    harness.get_by_label("Set the date").click();
    harness.run_steps(2);
    let set = |at_exercise| trainer::Action::Due {
        on: "2027-06-28".to_owned(),
        at_exercise,
    };
    assert_eq!(made.take(), [set(false)]);
    if let Some(trainer::Form::Due { at_exercise, .. }) = &mut state.borrow_mut().form {
        *at_exercise = true;
    }
    harness.run_steps(2);
    harness.get_by_label("Set the date").click();
    harness.run_steps(2);
    assert_eq!(made.take(), [set(true)]);
}

#[test]
fn the_proposed_exercise_or_another_is_assessed() {
    let (mut harness, state, made) = trainers("trainer_person", trainer::State::default(), |_| ());
    // By Enter, with nothing touched before: what is most likely wanted.
    for _ in 0..2 {
        harness.key_press(Key::Enter);
        harness.run_steps(3);
    }
    let assess = |exercise| trainer::Action::Assess {
        exercise,
        others: false,
    };
    assert_eq!(made.take(), [assess(2)]);
    press_far(&mut harness, "Steady feed");
    let form = state.borrow().form.clone();
    let chosen = trainer::Form::Assess {
        exercise: 5,
        others: false,
    };
    assert_eq!(form, Some(chosen));
    harness.run_steps(2);
    harness.get_by_label("Assess: Steady feed").click();
    harness.run_steps(2);
    assert_eq!(made.take(), [assess(5)]);
}

#[test]
fn what_is_being_written_is_not_written_twice() {
    let void = trainer::Form::Void {
        by: "Jo Vega".to_owned(),
        why: "A fault of the hut".to_owned(),
    };
    let busy = |model: &mut trainer::Model| model.is_writing = true;
    let (harness, _, _) = trainers("trainer_person", form(void), busy);
    let node = harness.get_by_label("Let it not count");
    assert!(node.accesskit_node().is_disabled());
}

#[test]
fn an_exact_number_is_written_by_keys_alone() {
    let (mut harness, _, made) = laboratory("lab_new", lab::State::default());
    let writes = |harness: &mut Harness<'_>, field: &str, text: &str, ends: Key| {
        harness.get_by_label(field).focus();
        harness.run_steps(2);
        harness.event(Event::Text(text.to_owned()));
        harness.run_steps(2);
        harness.key_press(ends);
        harness.run_steps(3);
    };
    let pitch = "Pitch of the rack: from, exactly";
    writes(&mut harness, pitch, "2.37", Key::Enter);
    let to = |to| lab::Action::Pitch { end: 0, to };
    assert_eq!(made.take(), [to(2.37)]);
    // A comma will do; what is beyond the ends is brought back; what is no number changes nothing.
    writes(&mut harness, pitch, "3,5", Key::Tab);
    assert_eq!(made.take(), [to(3.5)]);
    writes(&mut harness, pitch, "-20", Key::Enter);
    assert_eq!(made.take(), [to(-3.0)], "the least of its line");
    writes(&mut harness, pitch, "steep", Key::Enter);
    assert_eq!(made.take(), []);
    writes(&mut harness, pitch, "4.25", Key::Escape);
    assert_eq!(made.take(), [], "Escape only ends the writing");
    let friction = "contact.friction_dry: to, exactly";
    writes(&mut harness, friction, "0.3725", Key::Enter);
    let range = lab::Action::Range {
        variable: 0,
        end: 1,
        to: 0.3725,
    };
    assert_eq!(made.take(), [range]);
    // Each box that is ticked is told from the others.
    let toggle = "contact.friction_dry: nobody has measured it";
    assert!(harness.query_by_label(toggle).is_some());
}
