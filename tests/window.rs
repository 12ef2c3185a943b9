//! The window itself, worked from another process: keys and clicks by way of the X server, as a person's
//! come. What happens is read from the window's title and from what the program writes down.
//!
//! It needs Xvfb, xdotool and a Vulkan driver (software will do), and minutes of real time:
//! `cargo test --test window -- --ignored`.
#![cfg(all(feature = "view", target_os = "linux"))]

#[path = "common/pilot.rs"]
mod pilot;
#[path = "common/screen.rs"]
mod screen;

use std::path::Path;
use std::process::Command;
use std::sync::Mutex;
use std::thread::sleep;
use std::time::{Duration, Instant};

use chockline::domain::set_out::SetOut;
use chockline::session::library::Library;
use chockline::session::mode::Mode;
use chockline::session::store::{ResultRow, Store};
use chockline::sim::controls::Button;
use chockline::sim::line::Line;
use chockline::view::bindings::Act;
use pilot::{Pilot, key};
use screen::Window;

/// One window at a time: two would each be slower than real time.
static ALONE: Mutex<()> = Mutex::new(());

const SIZE: [u32; 2] = [1280, 720];
/// Where things are pressed in a window of that size, px.
const EXERCISES: [u32; 2] = [238, 160];
const FIRST_RELEASE: [u32; 2] = [260, 184];
const ASSESS: [u32; 2] = [1063, 616];
const TO_SET_OUT: [u32; 2] = [145, 683];

/// From the first screen to the first tick of an assessment of the first exercise.
fn begin(window: &Window) {
    window.await_title(&["Start"], 30);
    window.click_to(EXERCISES, "Exercises");
    window.click(FIRST_RELEASE);
    window.click_to(ASSESS, "Brief");
    window.click_to(TO_SET_OUT, "Set-out");
    // A look at what is near, and back.
    window.press("e");
    sleep(Duration::from_millis(500));
    window.press("BackSpace");
    sleep(Duration::from_millis(500));
    window.press(&key(Act::Done));
    window.await_title(&["On the line"], 30);
}

/// From the end of the run to the end of the program.
fn leave(window: &mut Window, within_s: u64) {
    window.await_title(&["What happened", "Debrief"], within_s);
    // Every card has a way on; the debrief, the list and the title have ways back.
    let until = Instant::now() + Duration::from_secs(40);
    while window.is_open() && Instant::now() < until {
        match window.title().as_str() {
            "Debrief" | "Exercises" => window.press("Escape"),
            "Start" => break,
            _ => window.press("Return"),
        }
        sleep(Duration::from_millis(700));
    }
}

/// The result that was kept, and what a run without a window makes of its recording.
fn result(folder: &Path) -> (ResultRow, String) {
    let store = Store::at(folder).unwrap();
    let (rows, faults) = store.results();
    assert!(faults.is_empty(), "{faults:?}");
    assert_eq!(rows.len(), 1);
    let row = rows.into_iter().next().unwrap();
    let recording = store.recording_of(&row).expect("a recording");
    let replayed = Command::new(env!("CARGO_BIN_EXE_chockline"))
        .args(["--lang", "en", "replay"])
        .arg(recording)
        .output()
        .unwrap();
    let said = String::from_utf8_lossy(&replayed.stdout).into_owned();
    assert!(replayed.status.success(), "{said}");
    (row, said)
}

const QUIT: [u32; 2] = [238, 341];

fn quit(mut window: Window) {
    window.await_title(&["Start"], 20);
    window.click(QUIT);
    let status = window.ended(20);
    assert!(status.success(), "{status}");
}

#[test]
#[ignore = "needs a screen, and minutes of real time"]
fn a_first_shift_is_worked_from_the_first_screen_to_the_debrief() {
    let _alone = ALONE.lock();
    let folder = tempfile::tempdir().unwrap();
    let mut window = Window::open(SIZE, folder.path());
    begin(&window);
    let library = Library::open(None);
    let course = library.first().unwrap().course(Mode::Assessed);
    let run = course.clone().set_out(SetOut::default()).unwrap();
    let journals = folder.path().join("journals");
    let mut pilot = Pilot::beside(&course, Line::build(run.line().rig().spec()), &journals);
    let until = Instant::now() + Duration::from_secs(150);
    while !pilot.is_done() {
        assert!(Instant::now() < until, "{:?}", pilot.line().events());
        assert!(pilot.follow(), "the run is over before its time");
        pilot.work(&window);
        sleep(Duration::from_millis(20));
    }
    window.press(&key(Act::Done));
    leave(&mut window, 60);
    quit(window);
    let (row, said) = result(folder.path());
    assert!(row.passed, "{row:?}");
    assert!(said.contains("agree"), "{said}");
}

#[test]
#[ignore = "needs a screen, and minutes of real time"]
fn a_mistake_is_shown_and_asked_about() {
    let _alone = ALONE.lock();
    let folder = tempfile::tempdir().unwrap();
    let mut window = Window::open(SIZE, folder.path());
    begin(&window);
    // Fed with a tap: the gate comes up again under the stick.
    window.press(&key(Act::Hold(Button::Feed)));
    sleep(Duration::from_secs(6));
    window.press(&key(Act::Done));
    window.await_title(&["What happened"], 60);
    leave(&mut window, 60);
    quit(window);
    let (row, _) = result(folder.path());
    assert!(!row.passed, "{row:?}");
}
