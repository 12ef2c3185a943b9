//! The program in a window of a screen of its own, worked as a person works it: by X events from this
//! process. Nothing is known of it but its title.
#![allow(dead_code)]

use std::fs::{self, File};
use std::io::{BufRead, BufReader};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, ExitStatus, Stdio};
use std::thread::sleep;
use std::time::{Duration, Instant};

/// How long a key or a button is down when it is pressed: as long as a finger is.
const PRESSED: Duration = Duration::from_millis(150);
/// How long a screen that has just come on is let alone: frames are slow where they are drawn in software.
const SEEN: Duration = Duration::from_millis(400);
/// How often the title is looked at.
const LOOK: Duration = Duration::from_millis(50);
/// How long the window may take to open.
const OPENS: Duration = Duration::from_secs(90);

/// See the module's text. Both programs end with it.
pub struct Window {
    screen: Child,
    display: String,
    program: Option<Child>,
    id: String,
    /// What the program writes to its standard error.
    said: PathBuf,
}

impl Window {
    /// Opens the program on a screen of that size, with a folder of its own for what it keeps.
    pub fn open(size: [u32; 2], folder: &Path) -> Self {
        let mut screen = Command::new("Xvfb")
            .args(["-displayfd", "1", "-nolisten", "tcp", "-screen", "0"])
            .arg(format!("{}x{}x24", size[0], size[1]))
            .stdin(Stdio::null())
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()
            .expect("Xvfb starts (it is in the package xvfb)");
        let told = screen.stdout.take().expect("its output");
        let mut window = Self {
            screen,
            display: String::new(),
            program: None,
            id: String::new(),
            said: folder.join("stderr.txt"),
        };
        // It chooses a number that is free, and says so once it is there.
        let mut number = String::new();
        BufReader::new(told).read_line(&mut number).unwrap();
        assert!(!number.trim().is_empty(), "Xvfb opens no screen");
        window.display = format!(":{}", number.trim());
        let said = File::create(&window.said).unwrap();
        let program = Command::new(env!("CARGO_BIN_EXE_chockline"))
            .args(["--lang", "en"])
            .env("LC_ALL", "C")
            .env("DISPLAY", &window.display)
            .env_remove("WAYLAND_DISPLAY")
            .env("CHOCKLINE_DATA", folder)
            .env("XDG_RUNTIME_DIR", folder)
            .stdin(Stdio::null())
            .stdout(Stdio::null())
            .stderr(said)
            .spawn()
            .unwrap();
        window.program = Some(program);
        window.id = window.found();
        // Nobody manages the windows of this screen.
        window.tool(&["windowfocus", "--sync", &window.id]);
        window
    }

    fn found(&mut self) -> String {
        let until = Instant::now() + OPENS;
        loop {
            let found = self.tool(&["search", "--onlyvisible", "--name", "^Chockline - "]);
            if let Some(id) = found.lines().next() {
                return id.to_owned();
            }
            assert!(self.is_open(), "it has ended: {}", self.said());
            assert!(Instant::now() < until, "no window: {}", self.said());
            sleep(LOOK);
        }
    }

    fn tool(&self, args: &[&str]) -> String {
        let output = Command::new("xdotool")
            .args(args)
            .env("DISPLAY", &self.display)
            .stdin(Stdio::null())
            .stderr(Stdio::null())
            .output()
            .expect("xdotool starts (it is in the package xdotool)");
        String::from_utf8_lossy(&output.stdout).into_owned()
    }

    /// What the program has said to its standard error.
    fn said(&self) -> String {
        fs::read_to_string(&self.said).unwrap_or_default()
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

    /// Waits for one of some screens, and until whoever sits before it has seen it.
    pub fn await_title(&mut self, wanted: &[&str], within_s: u64) -> String {
        let until = Instant::now() + Duration::from_secs(within_s);
        loop {
            let title = self.title();
            if wanted.contains(&title.as_str()) {
                sleep(SEEN);
                return title;
            }
            assert!(self.is_open(), "it has ended: {}", self.said());
            assert!(
                Instant::now() < until,
                "{title:?} is shown, and not one of {wanted:?}: {}",
                self.said()
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
        sleep(SEEN);
    }

    /// Presses a key, and waits for the screen that comes of it.
    pub fn press_to(&mut self, key: &str, wanted: &str) {
        self.press(key);
        self.await_title(&[wanted], 20);
    }

    /// Presses the left button of the mouse at a place, px.
    pub fn click(&self, at: [u32; 2]) {
        let [x, y] = at.map(|at| at.to_string());
        self.tool(&["mousemove", &x, &y]);
        sleep(SEEN);
        self.tool(&["mousedown", "1"]);
        sleep(PRESSED);
        self.tool(&["mouseup", "1"]);
    }

    /// Presses at a place until the screen comes that is to come of it.
    pub fn click_to(&mut self, at: [u32; 2], wanted: &str) {
        for _ in 0..3 {
            self.click(at);
            let until = Instant::now() + Duration::from_secs(5);
            while Instant::now() < until && self.title() != wanted {
                sleep(LOOK);
            }
            if self.title() == wanted {
                break;
            }
        }
        self.await_title(&[wanted], 20);
    }

    pub fn is_open(&mut self) -> bool {
        let program = self.program.as_mut();
        program.is_some_and(|program| matches!(program.try_wait(), Ok(None)))
    }

    /// Waits for the program to end by itself.
    pub fn ended(&mut self, within_s: u64) -> ExitStatus {
        let program = self.program.as_mut().expect("a program");
        let until = Instant::now() + Duration::from_secs(within_s);
        loop {
            if let Some(status) = program.try_wait().unwrap() {
                return status;
            }
            assert!(Instant::now() < until, "it does not end");
            sleep(LOOK);
        }
    }
}

impl Drop for Window {
    fn drop(&mut self) {
        for child in self.program.iter_mut().chain([&mut self.screen]) {
            let _ = child.kill();
            let _ = child.wait();
        }
    }
}

/// A key's name for the X server, by its name in files.
pub fn keysym(name: &str) -> String {
    match name {
        "Space" => "space",
        "Enter" => "Return",
        "Esc" => "Escape",
        "Backspace" => "BackSpace",
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
