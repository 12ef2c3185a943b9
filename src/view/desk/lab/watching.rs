//! A trial of the sweep, run again tick by tick as it was run, to be seen.

use std::time::Instant;

use super::super::Frame;
use super::said;
use crate::lab::{Bench, Release, Row, Trial, is_same};
use crate::session::clock::{Clock, Speed};
use crate::session::mode::Mode;
use crate::texts::{Message, Texts};
use crate::view::camera::{CameraName, Viewpoint};
use crate::view::icons::Mark;
use crate::view::panels::lab_watch;
use crate::view::shown::Shown;
use crate::view::yard::Yard;

/// It is shown as somebody else's run is: as slowly as anybody likes.
const MODE: Mode = Mode::Demonstration;
/// How long it goes on after it is certain what comes of it, s.
const AFTER_S: f64 = 5.0;
/// Places that it is seen from.
const CAMERAS: [CameraName; 4] = [
    CameraName::Orbit,
    CameraName::Line,
    CameraName::Plan,
    CameraName::Operator,
];

/// The line of a trial, or why there is none.
enum Shows {
    Line(Box<Release>),
    Nothing(Message),
}

/// See the module's text.
pub struct Watching {
    row: Row,
    title: Message,
    numbers: Vec<(String, f64)>,
    shows: Shows,
    /// What came of it this time, and when that was certain, s.
    trial: Option<(Trial, f64)>,
    clock: Clock,
    before: Option<Shown>,
    now: Option<Shown>,
    viewpoint: Option<Viewpoint>,
    jumped: bool,
    passed_s: f32,
}

impl Watching {
    pub fn new(row: Row, bench: &Bench, title: Message) -> Self {
        let shows = match bench.watch(row.trial) {
            Ok(release) => Shows::Line(Box::new(release)),
            Err(why) => Shows::Nothing(why),
        };
        let now = match &shows {
            Shows::Line(release) => Some(Shown::of(release.line())),
            Shows::Nothing(_) => None,
        };
        let viewpoint = match &shows {
            Shows::Line(release) => Some(Viewpoint::new(CameraName::Orbit, release.line().rig())),
            Shows::Nothing(_) => None,
        };
        let paths = bench.sweep().variables.iter();
        let numbers = paths.map(|variable| variable.path.clone());
        Self {
            numbers: numbers.zip(row.values.iter().copied()).collect(),
            row,
            title,
            shows,
            trial: None,
            clock: Clock::default(),
            before: now.clone(),
            now,
            viewpoint,
            jumped: true,
            passed_s: 0.0,
        }
    }

    pub fn row(&self) -> &Row {
        &self.row
    }

    /// Seen from where another one was, and as slowly.
    pub fn as_seen(&mut self, other: &Self) {
        self.clock.set_speed(other.clock.speed(), MODE);
        self.viewpoint = other.viewpoint.or(self.viewpoint);
    }

    pub fn play(&mut self, plays: bool) {
        self.clock.set_paused(!plays || self.now.is_none());
    }

    /// None where there is nothing to run.
    pub fn plays(&self) -> Option<bool> {
        self.now.is_some().then(|| !self.clock.is_paused())
    }

    pub fn moves(&self) -> bool {
        self.plays() == Some(true)
    }

    pub fn viewpoint(&self) -> Option<Viewpoint> {
        self.viewpoint
    }

    pub fn look_from(&mut self, camera: usize) {
        if let (Some(viewpoint), Some(name)) = (&mut self.viewpoint, CAMERAS.get(camera)) {
            viewpoint.name = *name;
            viewpoint.head_rad = [0.0; 2];
        }
    }

    pub fn set_speed(&mut self, speed: usize) {
        if let Some(speed) = Speed::ALL.get(speed) {
            self.clock.set_speed(*speed, MODE);
        }
    }

    pub fn time_s(&self) -> f64 {
        self.now.as_ref().map_or(0.0, |now| now.time_s)
    }

    /// Makes the ticks that are due. Only in the whole window a hand turns the view.
    pub fn drive(&mut self, frame: &Frame, is_large: bool) {
        if let Some(viewpoint) = self.viewpoint.as_mut().filter(|_| is_large) {
            let [left, up] = frame.felt.turn_rad;
            viewpoint.look_round(left, up);
            viewpoint.orbit = viewpoint.orbit.moved(0.0, 0.0, frame.felt.nearer);
        }
        let from_s = self.time_s();
        self.clock.begin(frame.wall_s);
        let begun = Instant::now();
        while self.clock.is_due(begun.elapsed().as_secs_f64()) {
            if !self.tick() {
                self.clock.set_paused(true);
                break;
            }
        }
        self.passed_s = (self.time_s() - from_s) as f32;
    }

    /// Whether there is more to come.
    fn tick(&mut self) -> bool {
        let Shows::Line(release) = &mut self.shows else {
            return false;
        };
        if release.line().fault().is_some() {
            return false;
        }
        let came = release.tick();
        let now_s = release.line().time_s();
        if let Some(trial) = came {
            self.trial.get_or_insert((trial, now_s));
        }
        let shown = Shown::of(release.line());
        self.before = self.now.replace(shown);
        let certain_s = self.trial.as_ref().map(|(_, certain_s)| *certain_s);
        certain_s.is_none_or(|certain_s| now_s < certain_s + AFTER_S)
    }

    pub fn look(&mut self, yard: &mut Yard, jumped: bool) {
        let jumped = core::mem::take(&mut self.jumped) || jumped;
        if let Shows::Line(release) = &self.shows
            && jumped
        {
            yard.show(release.line());
        }
        if let (Some(before), Some(now)) = (&self.before, &self.now) {
            yard.shown = before.between(now, self.clock.share());
        }
        yard.passed_s = if jumped { 0.0 } else { self.passed_s };
    }

    pub fn title(&self, texts: &Texts) -> String {
        texts.say(&self.title)
    }

    /// What came of it, by its row, and whether this time the same did.
    pub fn told(&self, texts: &Texts) -> Vec<(Mark, String)> {
        let (mark, said) = said::outcome(&self.row, texts);
        let mut told = vec![(mark, said)];
        if let Shows::Nothing(why) = &self.shows {
            told.push((Mark::Note, texts.say(why)));
        }
        match &self.trial {
            None => {}
            Some((trial, certain_s)) if is_same(&self.row, trial) => {
                let message = Message::new("labscreen-same").measured("time", *certain_s, 2);
                told.push((Mark::Ok, texts.say(&message)));
            }
            Some(_) => told.push((Mark::Danger, texts.say(&"labscreen-other".into()))),
        }
        told
    }

    pub fn numbers(&self) -> Vec<(String, String)> {
        let each = self.numbers.iter();
        each.map(|(path, value)| (path.clone(), said::amount_of(path, *value)))
            .collect()
    }

    pub fn model(&self, texts: &Texts) -> lab_watch::Model {
        let camera = self.viewpoint.map(|viewpoint| viewpoint.name);
        let speed = self.clock.speed();
        lab_watch::Model {
            title: self.title(texts),
            clock_s: self.time_s(),
            is_playing: self.moves(),
            speeds: Speed::ALL.iter().map(|speed| speed.factor()).collect(),
            speed: Speed::ALL
                .iter()
                .position(|one| *one == speed)
                .unwrap_or_default(),
            is_behind: self.clock.is_behind(),
            told: self.told(texts),
            numbers: self.numbers(),
            cameras: CAMERAS.iter().map(|name| texts.say(&name.said())).collect(),
            camera: CAMERAS
                .iter()
                .position(|name| camera == Some(*name))
                .unwrap_or_default(),
        }
    }
}
