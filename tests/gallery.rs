//! Pictures of every screen, over the yard that it is seen over: with made-up data, as the window draws
//! them, in both languages, on both grounds, at the usual and at the largest size of the text.
//!
//! `CHOCKLINE_GALLERY=FOLDER cargo test --test gallery`; `CHOCKLINE_SCREENS=brief,look` for
//! some of them.
#![cfg(feature = "view")]

use std::path::Path;
use std::sync::{Arc, Mutex};

use chockline::scenario;
use chockline::sim::line::Line;
use chockline::texts::{Lang, Texts};
use chockline::view::camera::{CameraName, Viewpoint};
use chockline::view::panels::{self, gallery};
use chockline::view::picture::Studio;
use chockline::view::quality::Quality;
use chockline::view::theme::{self, ThemeChoice};

/// Size of the window, scale of the text, language, ground.
type Look = ([u32; 2], f32, Lang, ThemeChoice);

const SMALL: [u32; 2] = [1280, 720];
const LARGE: [u32; 2] = [1920, 1080];
const LOOKS: [Look; 4] = [
    (SMALL, 1.0, Lang::English, ThemeChoice::Dark),
    (SMALL, 2.0, Lang::Spanish, ThemeChoice::Dark),
    (LARGE, 1.0, Lang::Spanish, ThemeChoice::Projector),
    (LARGE, 2.0, Lang::English, ThemeChoice::Projector),
];
/// A card lies where it belongs once it has been measured.
const PASSES: usize = 1;

#[test]
fn every_screen_is_drawn() {
    // Only for whoever wants to see them.
    let Ok(folder) = std::env::var("CHOCKLINE_GALLERY") else {
        return;
    };
    let chosen = std::env::var("CHOCKLINE_SCREENS").unwrap_or_default();
    let folder = Path::new(&folder);
    std::fs::create_dir_all(folder).unwrap();
    let text = include_str!("../scenarios/first-shift.ron");
    let scenario = scenario::parse("", text).unwrap().scenario;
    let line = Line::build(&scenario.line);
    for (size, scale, lang, ground) in LOOKS {
        let mut studio = Studio::open(size, Quality::Low).unwrap();
        let shown = Arc::new(Mutex::new(""));
        let shows = Arc::clone(&shown);
        studio.draw_over(move |ctx| {
            theme::apply(ctx, ground, scale);
            let name = *shows.lock().unwrap();
            gallery::show(name, &mut panels::root(ctx), Texts::of(lang));
            theme::ring_focus(ctx);
        });
        let from = |yard: &_| viewpoint(yard);
        studio.show(&line, from);
        let wanted = |name: &&str| chosen.is_empty() || chosen.split(',').any(|one| one == *name);
        for name in gallery::SCREENS.into_iter().filter(wanted) {
            *shown.lock().unwrap() = name;
            for _ in 0..PASSES {
                studio.frame();
            }
            let picture = studio.take(&line, from).unwrap();
            let percent = (100.0 * scale).round();
            let file = format!("{name}-{}-{percent}-{}.png", size[1], lang.code());
            std::fs::write(folder.join(file), picture.png().unwrap()).unwrap();
        }
    }
}

fn viewpoint(yard: &chockline::view::yard::Yard) -> Viewpoint {
    Viewpoint::new(CameraName::Operator, yard.rig())
}
