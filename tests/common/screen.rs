//! The program in a window of a screen of its own, worked as a person works it: by X events from this
//! process. Nothing is known of it but its title.
#![allow(dead_code)]

use std::io::{BufRead, BufReader};
use std::path::Path;
use std::process::{Child, Command, ExitStatus, Stdio};
use std::thread::sleep;
use std::time::{Duration, Instant};

/// How long a key or a button is down when it is pressed: as long as a finger is.
const PRESSED: Duration = Duration::from_millis(120);
/// How often the title is looked at.
const LOOK: Duration = Duration::from_millis(50);

pub struct Window {
    screen: Child,
    display: String,
    program: Child,
    id: String,
}

impl Window {
    /// Opens the program on a screen of that size, with a folder of its own for what it keeps.
    pub fn open(size: [u32; 2], folder: &Path) -> Self {
        let mut screen = Command::new("Xvfb")
            .args(["-displayfd", "1", "-nolisten", "tcp", "-screen", "0"])
            .arg(format!("{}x{}x24", size[0], size[1]))
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()
            .expect("Xvfb is installed");
        let mut number = String::new();
        let told = screen.stdout.take().expect("its output");
        BufReader::new(told).read_line(&mut number).unwrap();
        let display = format!(":{}", number.trim());
        let program = Command::new(env!("CARGO_BIN_EXE_chockline"))
            .args(["--lang", "en"])
            .env("DISPLAY", &display)
            .env_remove("WAYLAND_DISPLAY")
            .env("CHOCKLINE_DATA", folder)
            .env("XDG_RUNTIME_DIR", folder)
            .stdout(Stdio::null())
            .stderr(Stdio::null())
            .spawn()
            .unwrap();
        let mut window = Self {
            screen,
            display,
            program,
            id: String::new(),
        };
        window.id = window.found();
        // Nobody manages the windows of this screen.
        window.tool(&["windowfocus", "--sync", &window.id.clone()]);
        window
    }

    fn found(&self) -> String {
        let until = Instant::now() + Duration::from_secs(60);
        loop {
            let found = self.tool(&["search", "--onlyvisible", "--name", "^Chockline - "]);
            if let Some(id) = found.lines().next() {
                return id.to_owned();
            }
            assert!(Instant::now() < until, "no window within a minute");
            sleep(LOOK);
        }
    }

    fn tool(&self, args: &[&str]) -> String {
        let output = Command::new("xdotool")
            .args(args)
            .env("DISPLAY", &self.display)
            .stderr(Stdio::null())
            .output()
            .expect("xdotool is installed");
        String::from_utf8_lossy(&output.stdout).into_owned()
    }

    /// Which screen is shown.
    pub fn title(&self) -> String {
        let title = self.tool(&["getwindowname", &self.id]);
        let title = title.trim();
        title
            .strip_prefix("Chockline - ")
            .unwrap_or(title)
            .to_owned()
    }

    /// Waits for one of some screens.
    pub fn await_title(&self, wanted: &[&str], within_s: u64) -> String {
        let until = Instant::now() + Duration::from_secs(within_s);
        loop {
            let title = self.title();
            if wanted.contains(&title.as_str()) {
                return title;
            }
            assert!(
                Instant::now() < until,
                "{title:?} is shown, and not one of {wanted:?}"
            );
            sleep(LOOK);
        }
    }

    pub fn down(&self, key: &str) {
        self.tool(&["keydown", key]);
    }

    pub fn up(&self, key: &str) {
        self.tool(&["keyup", key]);
    }

    pub fn press(&self, key: &str) {
        self.down(key);
        sleep(PRESSED);
        self.up(key);
    }

    /// Presses the left button of the mouse at a place, px.
    pub fn click(&self, at: [u32; 2]) {
        let [x, y] = at.map(|at| at.to_string());
        self.tool(&["mousemove", &x, &y]);
        sleep(PRESSED);
        self.tool(&["mousedown", "1"]);
        sleep(PRESSED);
        self.tool(&["mouseup", "1"]);
    }

    /// Presses at a place, and waits for the screen that comes of it.
    pub fn click_to(&self, at: [u32; 2], wanted: &str) {
        self.click(at);
        self.await_title(&[wanted], 20);
    }

    pub fn is_open(&mut self) -> bool {
        matches!(self.program.try_wait(), Ok(None))
    }

    /// Waits for the program to end by itself.
    pub fn ended(&mut self, within_s: u64) -> ExitStatus {
        let until = Instant::now() + Duration::from_secs(within_s);
        loop {
            if let Some(status) = self.program.try_wait().unwrap() {
                return status;
            }
            assert!(Instant::now() < until, "it does not end");
            sleep(LOOK);
        }
    }
}

impl Drop for Window {
    fn drop(&mut self) {
        let _ = self.program.kill();
        let _ = self.program.wait();
        let _ = self.screen.kill();
        let _ = self.screen.wait();
    }
}

/// A key's name for the X server, by its name on screen.
pub fn keysym(name: &str) -> String {
    match name {
        "Space" => "space",
        "Enter" => "Return",
        "Esc" => "Escape",
        "-" => "minus",
        "=" => "equal",
        "," => "comma",
        "." => "period",
        "/" => "slash",
        letter if letter.len() == 1 => return letter.to_lowercase(),
        other => other,
    }
    .to_owned()
}
