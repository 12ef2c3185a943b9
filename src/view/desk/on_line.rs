//! A run while it goes on: what hands and clock do to it, and what is shown of it.

use std::collections::VecDeque;
use std::time::Instant;

use bevy_egui::egui::Ui;

use super::class::Class;
use super::{Easel, Frame, Over, Turn, goal, marks};
use crate::domain::rig::End;
use crate::domain::spec::Item;
use crate::session::clock::{Clock, Speed};
use crate::session::coach::{Advice, Coach, Hint};
use crate::session::commentary::{Caption, Captions, Commentator};
use crate::session::drills::Drills;
use crate::session::hands::{Hands, Input, Source};
use crate::session::mode::Mode;
use crate::session::run::{Run, Step};
use crate::session::walk::{Answer, FunctionCheck, Repair, Tried};
use crate::sim::controls::{Button, Call, Held};
use crate::sim::line::{Line, PersonId, StickPlace};
use crate::sim::world::DT_S;
use crate::texts::{Message, Texts};
use crate::view::bindings::{Act, Bindings};
use crate::view::camera::{CameraName, Viewpoint};
use crate::view::input::{Done, POINTER, is_of_pad};
use crate::view::overlay::{Ghost, Overlays};
use crate::view::panels::{
    function_check, hud, instructor, instruments, look_from, parts, pendant, radio,
};
use crate::view::shown::Shown;
use crate::view::yard::Yard;
use crate::words;

/// How long a caption stands, s, and how many stand at once.
const CAPTION_S: f64 = 7.0;
const CAPTIONS: usize = 4;
/// How far the rewind key takes a run back, s.
const BACK_S: f64 = 5.0;
/// A person nearer than this to a stick is close, m.
const CLOSE_M: f64 = 2.0;

/// What can be drawn into the scene, by what it is called.
type Drawn = (&'static str, fn(&mut Overlays) -> &mut bool);
const DRAWN: [Drawn; 7] = [
    ("drawn-zone", |on| &mut on.zone),
    ("drawn-fire", |on| &mut on.line_of_fire),
    ("drawn-tilt", |on| &mut on.tilt),
    ("drawn-centre-line", |on| &mut on.centre_line),
    ("drawn-forces", |on| &mut on.forces),
    ("drawn-friction-cone", |on| &mut on.friction_cone),
    ("drawn-ghost", |on| &mut on.ghost),
];

/// Who explains.
enum Voice {
    /// Radio and horn.
    Crew(Captions),
    /// And what happens, and why.
    Commentator(Box<Commentator>),
}

/// See the module's text.
pub struct OnLine {
    run: Run,
    /// A class that has predicted what will come of it.
    class: Option<Class>,
    clock: Clock,
    hands: Hands,
    /// What was seen before the last tick, and after it.
    before: Shown,
    now: Shown,
    coach: Option<Coach>,
    drills: Option<Drills>,
    /// The next step has been asked for.
    asked: bool,
    voice: Voice,
    captions: VecDeque<(f64, String)>,
    heard: Vec<Caption>,
    viewpoint: Viewpoint,
    has_second: bool,
    /// What is drawn into the scene, and whether anything is.
    drawn: Overlays,
    draws: bool,
    check: FunctionCheck,
    hud: hud::State,
    /// Held by the pointer in the last frame.
    pointer: Held,
    /// When a break of an assessment began.
    break_began: Option<Instant>,
    /// The moment that is looked back at.
    back_at: Option<u64>,
    /// Another line, or the same at another moment, is to be shown.
    jumped: bool,
    passed_s: f32,
    /// It has been told that the recording does not reach the disk.
    unrecorded: bool,
}

impl OnLine {
    pub fn new(run: Run, class: Option<Class>) -> Self {
        let line = run.line();
        let mode = run.mode();
        let shown = Shown::of(line);
        let at = if mode == Mode::Demonstration {
            CameraName::Orbit
        } else {
            CameraName::Operator
        };
        let voice = if mode == Mode::Demonstration {
            let scenario = run.course().scenario();
            Voice::Commentator(Box::new(Commentator::new(scenario, line)))
        } else {
            Voice::Crew(Captions::new(line))
        };
        Self {
            clock: Clock::default(),
            hands: Hands::default(),
            coach: mode
                .has_help()
                .then(|| Coach::new(run.course().scenario(), line)),
            drills: (mode == Mode::WarmUp).then(Drills::new),
            asked: false,
            voice,
            captions: VecDeque::new(),
            heard: Vec::new(),
            viewpoint: Viewpoint::new(at, line.rig()),
            has_second: mode.has_cameras_anywhere(),
            drawn: Overlays {
                forces: false,
                friction_cone: false,
                ..Overlays::ALL
            },
            draws: mode.has_help() || mode == Mode::Demonstration,
            check: FunctionCheck::new(line),
            hud: hud::State::default(),
            pointer: Held::NONE,
            break_began: None,
            back_at: None,
            jumped: true,
            passed_s: 0.0,
            unrecorded: false,
            before: shown.clone(),
            now: shown,
            class,
            run,
        }
    }

    pub fn run(&self) -> &Run {
        &self.run
    }

    pub fn into_run(self) -> (Run, Option<Class>) {
        (self.run, self.class)
    }

    pub fn viewpoint(&self) -> Viewpoint {
        self.viewpoint
    }

    /// Opens what an instructor can bring about.
    pub fn open_instructor(&mut self) {
        self.hud.open = Some(hud::Menu::Instructor);
    }

    /// Whether something is open that is chosen from.
    pub fn has_menu(&self) -> bool {
        self.hud.open.is_some()
    }

    /// What lies over the scene to teach.
    pub fn overlays(&self) -> Overlays {
        if self.draws && self.run.mode().tells_zone() {
            self.drawn
        } else {
            Overlays::default()
        }
    }

    /// Where things ought to be when the step that is told is done.
    pub fn ghost(&self) -> Ghost {
        let told = self.coach.as_ref().filter(|_| self.advice().is_some());
        match told {
            Some(coach) if self.overlays().ghost => {
                let line = self.run.line();
                goal::of(line, coach.doing(line))
            }
            _ => Ghost::default(),
        }
    }

    /// From elsewhere: along the line, or from the operator's place where that is looked from already.
    pub fn second(&self, yard: &Yard) -> Option<Viewpoint> {
        let name = match self.viewpoint.name {
            CameraName::Line => CameraName::Operator,
            _ => CameraName::Line,
        };
        let is_seen = !self.hud.is_folded && self.hud.has_room_for_second;
        (self.has_second && self.run.mode().has_cameras_anywhere() && is_seen)
            .then(|| Viewpoint::new(name, yard.rig()))
    }

    /// Takes what hands did and makes the ticks that are due.
    pub fn drive(&mut self, frame: &Frame, is_covered: bool) -> Option<Turn> {
        self.mind_breaks(is_covered);
        if is_covered {
            self.hands.feel(Input::HandsOff);
        }
        let mut turn = None;
        for done in &frame.felt.done {
            turn = turn.or(self.feel(*done, is_covered));
        }
        if !is_covered {
            let [left, up] = frame.felt.turn_rad;
            self.viewpoint.look_round(left, up);
            if frame.felt.nearer != 1.0 {
                self.viewpoint.orbit = self.viewpoint.orbit.moved(0.0, 0.0, frame.felt.nearer);
            }
        }
        let held = is_covered || self.back_at.is_some();
        self.clock.begin(if held { 0.0 } else { frame.wall_s });
        let begun = Instant::now();
        let from_s = self.now.time_s;
        while !held && self.clock.is_due(begun.elapsed().as_secs_f64()) {
            match self.tick() {
                Ok(Step::Goes) => {}
                Ok(Step::Ended(_)) | Err(_) => return Some(Turn::Ended),
            }
        }
        self.passed_s = (self.now.time_s - from_s) as f32;
        turn
    }

    /// One tick, and everybody who listens.
    fn tick(&mut self) -> Result<Step, crate::sim::world::SimFault> {
        let controls = self.hands.controls();
        let step = self.run.tick(&controls)?;
        let (line, done) = (self.run.line(), self.run.controls());
        if let Some(coach) = &mut self.coach {
            coach.look(line, done);
        }
        if let Some(drills) = &mut self.drills {
            drills.see(line, done);
        }
        self.check.watch(line, done);
        self.heard.extend(match &mut self.voice {
            Voice::Crew(captions) => captions.see(line, done),
            Voice::Commentator(commentator) => commentator.see(line, done),
        });
        let shown = self.shown(self.run.line());
        self.before = core::mem::replace(&mut self.now, shown);
        Ok(step)
    }

    /// A line as it is seen, with forces where they are drawn.
    fn shown(&self, line: &Line) -> Shown {
        let shown = Shown::of(line);
        if self.overlays().needs_contacts() {
            shown.with_contacts(line)
        } else {
            shown
        }
    }

    /// A pause of an assessment is a break, and is put down.
    fn mind_breaks(&mut self, is_covered: bool) {
        if !self.run.mode().pause_is_break() {
            return;
        }
        match (is_covered, self.break_began) {
            (true, None) => self.break_began = Some(Instant::now()),
            (false, Some(began)) => {
                self.run.had_break(began.elapsed().as_secs_f64());
                self.break_began = None;
            }
            _ => {}
        }
    }

    fn feel(&mut self, done: Done, is_covered: bool) -> Option<Turn> {
        match done {
            Done::Up(source) => self.hands.feel(Input::Up { source }),
            Done::HandsOff => self.hands.feel(Input::HandsOff),
            Done::DeviceGone(device) => self.hands.feel(Input::DeviceGone { device }),
            // In a menu a gamepad goes from one thing to the next.
            Done::Down { act, source, .. }
                if self.has_menu()
                    && is_of_pad(source)
                    && !matches!(act, Act::EmergencyStop | Act::Radio) => {}
            Done::Down {
                act,
                source,
                repeated,
            } if !is_covered => return self.act(act, source, repeated),
            // The emergency stop works whatever lies over the line.
            Done::Down {
                act: Act::EmergencyStop,
                ..
            } => self.hands.stop(),
            Done::Down { .. } => {}
        }
        None
    }

    fn act(&mut self, act: Act, source: Source, repeated: bool) -> Option<Turn> {
        let mode = self.run.mode();
        match act {
            Act::Hold(button) => self.hands.feel(Input::Down {
                source,
                button,
                repeated,
            }),
            _ if repeated => {}
            Act::EmergencyStop => self.hands.stop(),
            Act::Reset => {
                self.hands.reset_stop();
            }
            Act::Isolate => {
                self.hands.isolate(!self.hands.is_isolated());
            }
            Act::Say(call) => {
                self.hands.say(call);
                if self.hud.open == Some(hud::Menu::Radio) {
                    self.hud.open = None;
                }
            }
            Act::Upset(upset) if mode.may_upset() => self.hands.upset(upset),
            Act::Instructor if mode.may_upset() => self.hud.toggle(hud::Menu::Instructor),
            Act::Upset(_) | Act::Instructor => {}
            Act::Radio => self.hud.toggle(hud::Menu::Radio),
            Act::Check => self.hud.toggle(hud::Menu::Check),
            Act::Look(name) => self.look_from(name),
            Act::SecondView => self.has_second = !self.has_second,
            Act::Fold => self.hud.is_folded = !self.hud.is_folded,
            Act::Help => self.asked = !self.asked,
            Act::Overlays => self.draws = !self.draws,
            Act::Slower => self.clock.set_speed(self.clock.speed().slower(mode), mode),
            Act::Faster => self.clock.set_speed(self.clock.speed().faster(mode), mode),
            Act::Step => {
                if mode.may_slow() {
                    self.clock.set_paused(true);
                    self.clock.step(mode);
                }
            }
            Act::Rewind => self.back_by(BACK_S),
            Act::TakeOver => self.take_over(),
            Act::Pause if self.hud.close() => {}
            Act::Pause => return Some(Turn::Over(Over::Pause)),
            Act::Done => self.run.say_done(),
            Act::List => {}
        }
        None
    }

    fn look_from(&mut self, name: CameraName) {
        if self.run.mode().has_cameras_anywhere() || name == CameraName::Operator {
            self.viewpoint.name = name;
            self.viewpoint.head_rad = [0.0; 2];
            if name == CameraName::Eyes {
                self.viewpoint.person = self.next_eyes();
            }
            if let Some(drills) = &mut self.drills {
                drills.looked_around();
            }
        }
    }

    /// The next of those who are on foot.
    fn next_eyes(&self) -> Option<PersonId> {
        let people = self.run.line().people();
        let on_foot: Vec<usize> = people
            .iter()
            .enumerate()
            .filter(|(_, person)| person.is_on_foot())
            .map(|(i, _)| i)
            .collect();
        let now = self.viewpoint.person.map(|id| id.0);
        let later = on_foot.iter().find(|i| now.is_none_or(|now| **i > now));
        later.or(on_foot.first()).map(|i| PersonId(*i))
    }

    /// Takes the run back, where it may be.
    fn back_by(&mut self, seconds: f64) {
        let to_s = (self.now.time_s - seconds).max(0.0);
        self.back_to(to_s);
    }

    /// Takes over from whoever drives, or from the moment that is looked back at.
    fn take_over(&mut self) {
        if self.run.mode().may_take_over() {
            if self.run.take_over() {
                let controls = *self.run.controls();
                self.hands.take_over(&controls);
                self.begin_anew();
            }
        } else if let Some(tick) = self.back_at {
            self.back_to(tick as f64 * f64::from(DT_S));
        }
    }

    fn back_to(&mut self, time_s: f64) {
        let tick = (time_s / f64::from(DT_S)).round().max(0.0) as u64;
        if self.run.rewind_to(tick.min(self.run.line().tick_count())) {
            let controls = *self.run.controls();
            self.hands.take_over(&controls);
            self.back_at = None;
            self.begin_anew();
        }
    }

    /// Everybody who listens begins where the line now stands.
    fn begin_anew(&mut self) {
        let shown = self.shown(self.run.line());
        let line = self.run.line();
        self.check = FunctionCheck::new(line);
        self.before = shown.clone();
        self.now = shown;
        self.jumped = true;
        self.captions.clear();
        self.voice = Voice::Crew(Captions::new(line));
        self.coach = self
            .run
            .mode()
            .has_help()
            .then(|| Coach::new(self.run.course().scenario(), line));
    }

    /// Puts into the yard what is seen now.
    pub fn look(&mut self, yard: &mut Yard, changed: bool) {
        if changed || core::mem::take(&mut self.jumped) {
            yard.show(self.run.line());
        }
        if let Some(tick) = self.back_at {
            let needs_contacts = self.overlays().needs_contacts();
            let line = self.run.look_at(tick);
            yard.shown = Shown::of(line);
            if needs_contacts {
                yard.shown = yard.shown.clone().with_contacts(line);
            }
            yard.passed_s = 0.0;
            return;
        }
        yard.shown = self.before.between(&self.now, self.clock.share());
        yard.passed_s = self.passed_s;
    }

    pub fn show(
        &mut self,
        ui: &mut Ui,
        texts: &Texts,
        bindings: &Bindings,
        easel: &Easel,
        is_covered: bool,
    ) -> Option<Turn> {
        self.caption(texts);
        if is_covered {
            return None;
        }
        let overlays = self.overlays();
        marks::labels(ui, texts, easel.yard, &overlays, easel);
        if let Some(advice) = self.advice() {
            marks::point(ui, easel.yard, &advice.parts, easel);
        }
        let model = self.model(texts, bindings, easel);
        let done = hud::show(ui, texts, &model, &mut self.hud);
        self.take_pointer(done.held);
        let mut turn = None;
        for action in done.actions {
            turn = turn.or(self.do_on_hud(action));
        }
        turn
    }

    /// What the pointer holds is held like a key.
    fn take_pointer(&mut self, held: Held) {
        for button in Button::ALL {
            let source = Source {
                device: POINTER,
                switch: button as u64,
            };
            match (self.pointer.has(button), held.has(button)) {
                (false, true) => self.hands.feel(Input::Down {
                    source,
                    button,
                    repeated: false,
                }),
                (true, false) => self.hands.feel(Input::Up { source }),
                _ => {}
            }
        }
        self.pointer = held;
    }

    fn do_on_hud(&mut self, action: hud::Action) -> Option<Turn> {
        let mode = self.run.mode();
        match action {
            hud::Action::Pause => self.clock.set_paused(true),
            hud::Action::Resume => self.clock.set_paused(false),
            hud::Action::StepOnce => self.clock.step(mode),
            hud::Action::Speed(factor) => {
                let found = Speed::ALL
                    .into_iter()
                    .find(|speed| (speed.factor() - factor).abs() < 1.0e-6);
                if let Some(speed) = found {
                    self.clock.set_speed(speed, mode);
                }
            }
            hud::Action::Menu => return Some(Turn::Over(Over::Pause)),
            hud::Action::Help => self.asked = !self.asked,
            hud::Action::Look(look_from::Action::Camera(i)) => {
                if let Some(name) = self.cameras().get(i) {
                    self.look_from(*name);
                }
            }
            hud::Action::Look(look_from::Action::Draw(i)) => {
                if let Some((_, on)) = DRAWN.get(i) {
                    let on = on(&mut self.drawn);
                    *on = !*on || !self.draws;
                    self.draws = true;
                }
            }
            hud::Action::Check(function_check::Action::Accept(motion)) => {
                self.check.accept(self.run.line(), motion);
            }
            hud::Action::Check(function_check::Action::Report(motion)) => {
                if self.check.report(self.run.line(), motion) {
                    self.hands.isolate(true);
                    self.hands.say(Call::Repair(Item::Motion(motion)));
                }
            }
            // The screen closes its menus itself.
            hud::Action::Look(look_from::Action::Close)
            | hud::Action::Check(function_check::Action::Close) => {}
            hud::Action::Say(call) => self.hands.say(call),
            hud::Action::Upset(upset) => self.hands.upset(upset),
            hud::Action::Rewind(time_s) => {
                self.back_at = Some((time_s / f64::from(DT_S)).round().max(0.0) as u64);
            }
            hud::Action::TakeOver => self.take_over(),
            hud::Action::Done => self.run.say_done(),
            hud::Action::Pendant(pendant::Action::Stop) => self.hands.stop(),
            hud::Action::Pendant(pendant::Action::Reset) => {
                self.hands.reset_stop();
            }
            hud::Action::Pendant(pendant::Action::Isolate(isolated)) => {
                self.hands.isolate(isolated);
            }
        }
        None
    }

    fn cameras(&self) -> Vec<CameraName> {
        let anywhere = self.run.mode().has_cameras_anywhere();
        CameraName::ALL
            .into_iter()
            .filter(|name| anywhere || *name == CameraName::Operator)
            .collect()
    }

    /// What was heard since the last frame becomes captions; old ones go.
    fn caption(&mut self, texts: &Texts) {
        let now_s = self.now.time_s;
        if !self.unrecorded
            && let Some(fault) = self.run.recording_fault()
        {
            self.unrecorded = true;
            let said = Message::new("caption-unrecorded").with("error", fault);
            self.captions.push_back((now_s, texts.say(&said)));
        }
        for caption in self.heard.drain(..) {
            self.captions.push_back((now_s, caption.text(texts)));
        }
        let old = |stands: &(f64, String)| now_s - stands.0 > CAPTION_S;
        while self.captions.len() > CAPTIONS || self.captions.front().is_some_and(old) {
            self.captions.pop_front();
        }
    }

    fn model(&self, texts: &Texts, bindings: &Bindings, easel: &Easel) -> hud::Model {
        let (line, mode) = (self.run.line(), self.run.mode());
        let now_s = self.now.time_s;
        hud::Model {
            exercise: self
                .run
                .course()
                .scenario()
                .texts(texts.lang())
                .name
                .clone(),
            mode,
            clock_s: now_s,
            speed: self.clock.speed().factor(),
            is_paused: self.clock.is_paused(),
            is_behind: self.clock.is_behind(),
            is_unrecorded: self.unrecorded,
            time_can_be_held: mode.may_slow(),
            speeds: Speed::ALL
                .into_iter()
                .filter(|speed| speed.is_allowed(mode))
                .map(Speed::factor)
                .collect(),
            zone: mode.tells_zone().then(|| zone(line, texts)).flatten(),
            step: self.step(texts),
            help_on_request: mode.has_help() && !mode.has_coach(),
            may_take_over: mode.may_take_over() && self.run.operator().is_some(),
            may_say_done: self.run.operator().is_none(),
            instruments: mode.has_instruments().then(|| read(line, texts)),
            captions: self.captions.iter().map(|(_, text)| text.clone()).collect(),
            second_view: easel.second.map(|picture| hud::SecondView {
                picture,
                name: texts.say(&Message::new("second-view")),
            }),
            rewind: mode.may_rewind().then(|| hud::Rewind {
                from_s: 0.0,
                to_s: now_s,
                at_s: self.back_at.map(|tick| tick as f64 * f64::from(DT_S)),
            }),
            look: self.look_model(texts, bindings),
            check: self
                .run
                .operator()
                .is_none()
                .then(|| check(&self.check, texts)),
            pendant: self.pendant(texts, bindings),
            radio: radio::Model::of(bindings, texts),
            instructor: mode
                .may_upset()
                .then(|| instructor::Model::of(bindings, texts, |upset| line.may_upset(upset))),
            keys: hud::Keys::of(bindings, texts),
        }
    }

    fn look_model(&self, texts: &Texts, bindings: &Bindings) -> look_from::Model {
        let cameras = self.cameras();
        let camera = cameras.iter().position(|name| *name == self.viewpoint.name);
        let named = |name: CameraName| {
            let key = bindings.said(Act::Look(name), texts);
            (texts.say(&name.said()), key)
        };
        let mut overlays = self.overlays();
        let drawn = DRAWN.iter().map(|(id, on)| {
            let name = texts.say(&Message::new(*id));
            (name, *on(&mut overlays))
        });
        look_from::Model {
            camera: camera.unwrap_or_default(),
            cameras: cameras.into_iter().map(named).collect(),
            drawn: if self.run.mode().tells_zone() {
                drawn.collect()
            } else {
                Vec::new()
            },
        }
    }

    fn step(&self, texts: &Texts) -> Option<hud::Step> {
        if let Some(advice) = self.drills.as_ref().and_then(Drills::advice) {
            return Some(hud::Step {
                what: texts.say(&advice.what),
                why: texts.say(&advice.why),
                done: advice.progress.0,
                of: advice.progress.1,
                off_path: None,
            });
        }
        let advice = self.advice()?;
        let full = self.asked || advice.hint == Hint::Full;
        Some(hud::Step {
            what: texts.say(&advice.what),
            why: if full {
                texts.say(&advice.why)
            } else {
                String::new()
            },
            done: advice.progress.0,
            of: advice.progress.1,
            off_path: advice.off_path.as_ref().map(|off| texts.say(off)),
        })
    }

    /// What the coach says, as far as it is to be shown.
    fn advice(&self) -> Option<Advice> {
        let advice = self.coach.as_ref()?.advice(self.run.line());
        let by_itself = self.run.mode().has_coach()
            && (advice.hint != Hint::OnRequest || advice.off_path.is_some());
        (self.asked || by_itself).then_some(advice)
    }

    fn pendant(&self, texts: &Texts, bindings: &Bindings) -> pendant::Model {
        let line = self.run.line();
        let driven = self.run.operator().is_some();
        let controls = self.run.controls();
        let shown = if driven {
            controls.held
        } else {
            self.hands.held()
        };
        let (stopped, isolated) = if driven {
            (controls.emergency_stop, controls.isolated)
        } else {
            (self.hands.is_stopped(), self.hands.is_isolated())
        };
        pendant::Model {
            held: shown,
            is_stopped: stopped,
            is_isolated: isolated,
            lamps: pendant::Lamps {
                power: line.has_power(controls),
                receiver_ready: line.receiver_is_up() && line.receiver_is_empty(),
                gate_blocked: line.stage() == crate::sim::line::Stage::Blocked,
                interlock: line.rig().spec().escapement.interlock,
            },
            arrows: self.arrows(),
            hints: pendant::Hints::of(bindings, texts),
            is_dead: driven,
        }
    }

    /// The arrows as they are printed, or as the camera sees the motions.
    fn arrows(&self) -> pendant::Arrows {
        if !self.run.mode().arrows_follow_camera() {
            return pendant::Arrows::default();
        }
        let yard = Yard::new(self.run.line());
        let seen = self.viewpoint.transform(&yard);
        let mirror = yard.rig().mirror() as f32;
        let on_screen = |along: bevy::math::Vec3| {
            let right = along.dot(*seen.right());
            // What goes away from the eye goes up on the screen.
            let up = along.dot(*seen.up()) + along.dot(*seen.forward());
            right.atan2(up)
        };
        let out = bevy::math::Vec3::X * mirror;
        pendant::Arrows {
            out_rad: on_screen(out),
            on_rad: on_screen(bevy::math::Vec3::Z),
            out_is_clockwise: seen.forward().z * mirror < 0.0,
        }
    }
}

/// How the motions stand in the function check.
fn check(check: &FunctionCheck, texts: &Texts) -> function_check::Model {
    let row = |tried: &Tried| function_check::Row {
        motion: tried.motion,
        name: parts::sentence(&texts.say(&words::motion(tried.motion))),
        seen: tried.seen().iter().map(|seen| texts.say(seen)).collect(),
        stands: match (tried.answer, tried.repair) {
            (_, Some(Repair::GivenUp)) => function_check::Stands::NobodyCame,
            (Some(Answer::Accepted), _) => function_check::Stands::Accepted,
            (Some(Answer::Reported), _) => function_check::Stands::Reported,
            (None, Some(_)) => function_check::Stands::PutRight,
            (None, None) => function_check::Stands::Open,
        },
    };
    function_check::Model {
        motions: check.tried().iter().map(row).collect(),
    }
}

fn zone(line: &Line, texts: &Texts) -> Option<hud::Zone> {
    let watch = line.watch()?;
    if !line.stick_can_move() {
        return Some(hud::Zone::Still);
    }
    let inside = line.people().iter().find(|person| {
        person.is_on_foot()
            && watch
                .zone()
                .is_some_and(|zone| zone.contains(person.place()))
    });
    Some(match inside {
        Some(person) => hud::Zone::Inside(texts.say(&words::duty(person.spec().duty))),
        None => hud::Zone::Live,
    })
}

fn read(line: &Line, texts: &Texts) -> instruments::Instruments {
    let deg = |rad: f64| rad.to_degrees();
    let handled = line
        .present()
        .filter(|&stick| !matches!(line.place(stick), StickPlace::Held | StickPlace::Joined))
        .min_by(|a, b| {
            line.plane_point(*b)
                .y_m
                .total_cmp(&line.plane_point(*a).y_m)
        });
    let fastest = line
        .present()
        .map(|stick| line.speed_m_per_s(stick))
        .fold(0.0, f64::max);
    let seated =
        handled.filter(|&stick| End::BOTH.iter().all(|&end| line.is_in_cradle(end, stick)));
    let nearest = line
        .people()
        .iter()
        .filter(|person| person.is_on_foot())
        .min_by(|a, b| a.nearest_m().total_cmp(&b.nearest_m()))
        .filter(|person| person.nearest_m().is_finite());
    instruments::Instruments {
        pitch_deg: End::BOTH.map(|end| deg(line.inclinometer_rad(end))),
        raised_m: End::BOTH.map(|end| line.raised_m(end)),
        highest_m: line.rig().spec().cradles.lift_stroke_m,
        tilt_deg: seated.map(|stick| deg(line.tilt_rad(stick))),
        speed_m_per_s: fastest,
        nearest: nearest.map(|person| instruments::Nearest {
            who: texts.say(&words::duty(person.spec().duty)),
            distance_m: person.nearest_m(),
            is_close: person.nearest_m() < CLOSE_M,
        }),
    }
}
