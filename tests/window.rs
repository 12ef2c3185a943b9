//! The window itself, worked from another process: keys and clicks by way of the X server, as a person's
//! come. What happens is read from the window's title and from what the program writes down.
//!
//! It needs Xvfb, xdotool and a Vulkan driver (software will do), and a few minutes of real time, so it
//! runs only when it is named: `cargo test --test window`.
#![cfg(target_os = "linux")]

#[path = "common/pilot.rs"]
mod pilot;
#[path = "common/screen.rs"]
mod screen;

use std::path::Path;
use std::process::Command;
use std::sync::{Mutex, PoisonError};
use std::thread::sleep;
use std::time::{Duration, Instant};

use bevy_egui::egui::{Vec2, vec2};
use chockline::records::Attempt;
use chockline::session::course::Course;
use chockline::session::library::Library;
use chockline::session::mode::Mode;
use chockline::session::settings::Settings;
use chockline::session::store::Store;
use chockline::sim::controls::{Button, Held};
use chockline::texts::{Lang, Message, Texts};
use chockline::view::bindings::Act;
use chockline::view::panels::{self, gallery};
use chockline::view::quality::Quality;
use chockline::view::theme::{self, ThemeChoice};
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable;
use pilot::{Pilot, key};
use screen::Window;

/// One window at a time: two would each be slower than real time.
static ALONE: Mutex<()> = Mutex::new(());

const SIZE: [u32; 2] = [1280, 720];
/// What is worked: the file's name without its ending.
const EXERCISE: &str = "first-shift";
/// How long the shift may take, s.
const SHIFT_S: u64 = 170;

/// Where a screen has a button, px: as the panel itself lays it out in a window of this size.
fn place_of(screen: &'static str, id: &'static str) -> [u32; 2] {
    let texts = Texts::of(Lang::English);
    let size: Vec2 = vec2(SIZE[0] as f32, SIZE[1] as f32);
    let mut harness = Harness::builder().with_size(size).build_ui(move |ui| {
        theme::apply(ui.ctx(), ThemeChoice::Dark, 1.0);
        gallery::show(screen, &mut panels::root(ui.ctx()), texts);
    });
    harness.run_steps(3);
    let label = texts.say(&Message::new(id));
    let at = harness.get_by_label(&label).rect().center();
    [at.x as u32, at.y as u32]
}

/// A folder for what the program keeps, with the settings that suit slow machines.
fn folder() -> tempfile::TempDir {
    let folder = tempfile::tempdir().unwrap();
    let settings = Settings {
        quality: Some(Quality::Low.code().to_owned()),
        ..Settings::default()
    };
    let store = Store::at(folder.path()).unwrap();
    settings.save(&store.settings()).unwrap();
    folder
}

/// From the first screen to the first tick of an assessment.
fn begin(window: &mut Window) -> Course {
    let library = Library::open(None);
    let entries = library.entries();
    let row = entries.iter().position(|entry| entry.id == EXERCISE);
    let row = row.expect("it is shipped");
    window.await_title(&["Start"], 60);
    window.press_to("Return", "Exercises");
    for _ in 0..row {
        window.press("Down");
    }
    window.press("Return");
    window.click_to(place_of("exercises", "way-assessed"), "Brief");
    window.press_to("Return", "Set-out");
    // A look at the first thing of the list, which is found in order; then the line is started.
    for key in [&key(Act::List), "Return", "y", "Escape", &key(Act::List)] {
        window.press(key);
    }
    window.press_to(&key(Act::Done), "On the line");
    entries[row].course(Mode::Assessed)
}

/// From the end of the run to the end of the program, by the keyboard. Gives the screens that came.
fn leave(window: &mut Window) -> Vec<String> {
    let mut seen = vec![window.await_title(&["What happened", "Debrief"], 90)];
    let until = Instant::now() + Duration::from_secs(60);
    while seen.last().is_none_or(|last| last != "Start") {
        assert!(Instant::now() < until, "{seen:?}");
        let title = window.title();
        let last = seen.last();
        if last.is_none_or(|last| *last != title) {
            println!("{title}");
            seen.push(title.clone());
        }
        // Every card has a way on; the debrief and the list have a way back.
        match title.as_str() {
            "Debrief" | "Exercises" => window.press("Escape"),
            "Start" => {}
            _ => window.press("Return"),
        }
    }
    window.click(place_of("title", "title-quit"));
    let status = window.ended(20);
    assert!(status.success(), "{status}");
    seen
}

/// The result that was kept, of which a run without a window agrees with every recorded state.
fn result(folder: &Path) -> Attempt {
    let store = Store::at(folder).unwrap();
    let (rows, faults) = store.results();
    assert!(faults.is_empty(), "{faults:?}");
    let [row] = <[Attempt; 1]>::try_from(rows).expect("one result");
    let recording = store.recording_of(&row).expect("a recording");
    let told = |command: &[&str]| {
        let output = Command::new(env!("CARGO_BIN_EXE_chockline"))
            .args(["--lang", "en"])
            .args(command)
            .arg(&recording)
            .output()
            .unwrap();
        (
            output.status,
            String::from_utf8_lossy(&output.stdout).into_owned(),
        )
    };
    println!("{}", told(&["score"]).1);
    let (status, said) = told(&["replay", "--verify"]);
    assert!(status.success() && said.contains("Verified"), "{said}");
    row
}

#[test]
fn a_first_shift_is_worked_from_the_first_screen_to_the_debrief() {
    let _alone = ALONE.lock().unwrap_or_else(PoisonError::into_inner);
    let folder = folder();
    let mut window = Window::open(SIZE, folder.path());
    let course = begin(&mut window);
    let mut pilot = Pilot::beside(&course, &folder.path().join("recordings"));
    let until = Instant::now() + Duration::from_secs(SHIFT_S);
    // It ends by itself once the stick is part of the string.
    while pilot.follow() {
        assert!(Instant::now() < until, "{:?}", pilot.line().events());
        pilot.work(&window);
        sleep(Duration::from_millis(20));
    }
    println!("at {:.2} of real time", pilot.speed());
    let seen = leave(&mut window);
    assert!(seen.contains(&"Debrief".to_owned()), "{seen:?}");
    let row = result(folder.path());
    assert!(row.passed, "{row:?}");
}

#[test]
fn a_mistake_is_shown_and_asked_about() {
    let _alone = ALONE.lock().unwrap_or_else(PoisonError::into_inner);
    let folder = folder();
    let mut window = Window::open(SIZE, folder.path());
    let course = begin(&mut window);
    let mut pilot = Pilot::beside(&course, &folder.path().join("recordings"));
    let until = Instant::now() + Duration::from_secs(60);
    let (feed, nothing) = (Held::NONE.with(Button::Feed), Held::NONE);
    // Let go while the stick is over the gate, which comes up under it.
    let mut was_over = false;
    while pilot.follow() && !(was_over && pilot.holds(nothing)) {
        assert!(Instant::now() < until, "{:?}", pilot.line().events());
        was_over |= pilot.line().is_any_over_gate();
        pilot.hold(&window, if was_over { nothing } else { feed });
        sleep(Duration::from_millis(20));
    }
    sleep(Duration::from_secs(4));
    window.press(&key(Act::Done));
    let seen = leave(&mut window);
    assert_eq!(seen[..2], ["What happened", "Debrief"]);
    let row = result(folder.path());
    assert!(!row.passed, "{row:?}");
}
