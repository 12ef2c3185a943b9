//! What happens in the window, from the first screen to the last: which screen is shown, what was done
//! on it, and what follows. It knows egui and the core, and no renderer: whoever draws the window asks
//! it every frame what is to be seen.
//!
//! | module | what it is |
//! |---|---|
//! | `class` | a class that predicts before it watches |
//! | `house` | what outlives a run: settings, scenarios, results |
//! | `choose` | exercises and brief |
//! | `marks` | what is written over the scene |
//! | `on_line` | a run while it goes on |
//! | `goal` | where things ought to be when the step is done |
//! | `after` | what happened, and the debrief |
//! | `lab` | the laboratory |
//! | `trainer` | classes and people |
//! | `set_out` | on foot about the line before pipe moves |
//! | `options` | settings and keys |

mod after;
mod choose;
mod class;
mod goal;
mod house;
mod lab;
mod marks;
mod on_line;
mod options;
mod set_out;
mod trainer;

use std::time::Duration;

use bevy::math::Vec3;
use bevy::prelude::Transform;
use bevy_egui::egui;

use super::bindings::Bindings;
use super::camera::{CameraName, Viewpoint};
use super::input::Felt;
use super::on_foot::{OnFoot, Site, WalkInput};
use super::overlay::{Ghost, Overlays};
use super::panels::{self, Picture, dialog, exercises, pause, settings, title};
use super::quality::Quality;
use super::scene::weather::Sky;
use super::theme;
use super::yard::Yard;
use crate::session::course::Course;
use crate::session::mode::Mode;
use crate::session::run::Run;
use crate::sim::line::Line;
use crate::texts::{Message, Texts};
use after::After;
use choose::Briefed;
use class::{Class, Decided};
pub use house::House;
use lab::Lab;
use on_line::OnLine;
use set_out::SettingOut;
use trainer::Trainer;

/// How long a window that shows nothing that moves waits for somebody to do something.
const IDLE: Duration = Duration::from_millis(500);

/// What the window gives every frame beside what was done.
pub struct Frame<'a> {
    /// Since the frame before, s.
    pub wall_s: f64,
    pub felt: &'a Felt,
    /// What is asked of somebody on foot.
    pub walk: &'a WalkInput,
}

/// What the window gives a screen to draw with.
pub struct Easel<'a> {
    pub yard: &'a Yard,
    /// The second view, drawn into a picture.
    pub second: Option<Picture>,
    /// Where a point of the yard is in the window; none behind the camera.
    pub project: &'a dyn Fn(Vec3) -> Option<egui::Pos2>,
}

/// What the desk wants of the window.
#[derive(Clone, Debug, PartialEq)]
pub struct Wants {
    pub viewpoint: Viewpoint,
    /// Through the eyes of somebody on foot, instead.
    pub eyes: Option<Transform>,
    /// What the second view shows; none where there is none.
    pub second: Option<Viewpoint>,
    pub overlays: Overlays,
    pub ghost: Ghost,
    /// How long the window may wait for the next frame; none where everything moves.
    pub idle: Option<Duration>,
    /// Whether the yard is seen at all, or covered by a screen.
    pub shows_yard: bool,
    /// The part of the window in whose middle the camera's axis is: shares of its width and height.
    pub seen_in: egui::Rect,
    /// Keys go to the line and not to the panels.
    pub keys_to_line: bool,
    /// A gamepad works the panels although keys go to the line.
    pub pad_to_menu: bool,
    /// None where the program chooses.
    pub quality: Option<Quality>,
    pub reduced_motion: bool,
    /// The window is to be closed.
    pub quit: bool,
}

/// A screen.
enum Screen {
    Title,
    Exercises,
    Brief(Box<Briefed>),
    /// A class votes before it watches.
    Vote(Box<(Run, Class)>),
    SetOut(Box<SettingOut>),
    Line(Box<OnLine>),
    After(Box<After>),
    Lab(Box<Lab>),
    Trainer(Box<Trainer>),
}

/// What lies over a screen.
enum Over {
    Pause,
    Settings,
    Keys,
    Notice(Message),
    /// Whether a run is to be given up, and what for.
    Leave(Leave),
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Leave {
    End,
    Restart,
    Quit,
}

/// The scene's part of the window in the last pass.
struct Scene {
    /// In shares of the window's width and height.
    seen_in: egui::Rect,
    is_under_pointer: bool,
}

impl Default for Scene {
    fn default() -> Self {
        Self {
            seen_in: egui::Rect::from_min_max(egui::Pos2::ZERO, egui::pos2(1.0, 1.0)),
            is_under_pointer: false,
        }
    }
}

impl Scene {
    fn of(ui: &egui::Ui, part: egui::Rect) -> Self {
        let window = ui.max_rect();
        let share = |at: egui::Pos2| {
            let from = at - window.min;
            egui::pos2(
                from.x / window.width().max(1.0),
                from.y / window.height().max(1.0),
            )
        };
        let pointer = ui.input(|input| input.pointer.latest_pos());
        Self {
            seen_in: egui::Rect::from_min_max(share(part.min), share(part.max)),
            is_under_pointer: pointer.is_some_and(|at| part.contains(at))
                && !panels::is_over(ui.ctx()),
        }
    }
}

/// What a screen asks of the desk.
enum Turn {
    Title,
    Exercises,
    Lab,
    Trainer,
    Brief(Box<Briefed>),
    SetOut(Box<SettingOut>),
    Vote(Box<(Run, Class)>),
    Start(Box<Run>),
    /// The class has voted.
    Watch,
    Ended,
    Over(Over),
}

/// See the module's text.
pub struct Desk {
    house: House,
    screen: Screen,
    /// The laboratory as it was left.
    lab: Option<Box<Lab>>,
    /// The trainer's screen as it was left.
    trainer: Option<Box<Trainer>>,
    /// What is run now was begun there, and leads back there.
    is_for_trainer: bool,
    over: Vec<Over>,
    bindings: Bindings,
    exercises: exercises::State,
    settings: settings::State,
    /// The line behind the screens that have none of their own.
    backdrop: Option<Line>,
    /// The line in the yard is another one than the one drawn last.
    changed: bool,
    /// What part of the window the scene has, and whether the pointer is over it.
    scene: Scene,
    quit: bool,
}

impl Desk {
    pub fn new(house: House) -> Self {
        let bindings = Bindings::of_kept(
            house
                .settings
                .keys
                .iter()
                .map(|(code, key)| (code.as_str(), key.as_str())),
        );
        let backdrop = house.backdrop();
        let over = house.notices().into_iter().map(Over::Notice).collect();
        let exercises = exercises::State {
            trainee: house.settings.trainee.clone().unwrap_or_default(),
            ..exercises::State::default()
        };
        Self {
            house,
            screen: Screen::Title,
            lab: None,
            trainer: None,
            is_for_trainer: false,
            over,
            bindings,
            exercises,
            settings: settings::State::default(),
            backdrop,
            changed: true,
            scene: Scene::default(),
            quit: false,
        }
    }

    fn texts(&self) -> &'static Texts {
        self.house.texts()
    }

    pub fn bindings(&self) -> &Bindings {
        &self.bindings
    }

    /// What the window is called now.
    pub fn caption(&self) -> String {
        let screen = match (&self.over.last(), &self.screen) {
            (Some(Over::Pause), _) => "window-pause",
            (Some(Over::Settings), _) => "window-settings",
            (Some(Over::Keys), _) => "window-keys",
            (Some(Over::Notice(_) | Over::Leave(_)), _) => "window-notice",
            (None, Screen::Title) => "window-title",
            (None, Screen::Exercises) => "window-exercises",
            (None, Screen::Brief(_)) => "window-brief",
            (None, Screen::Vote(_)) => "window-vote",
            (None, Screen::SetOut(_)) => "window-set-out",
            (None, Screen::Line(_)) => "window-line",
            (None, Screen::After(after)) => after.caption(),
            (None, Screen::Lab(lab)) => lab.caption(),
            (None, Screen::Trainer(trainer)) => trainer.caption(),
        };
        let caption = Message::new("window").with("screen", Message::new(screen));
        self.texts().say(&caption)
    }

    /// The sky to see the yard under, where that is not the line's own.
    pub fn sky(&self) -> Option<Sky> {
        matches!(self.screen, Screen::Title).then_some(Sky::FirstLight)
    }

    /// The level of the picture that is set; none where the program chooses.
    pub fn quality(&self) -> Option<Quality> {
        self.house.quality()
    }

    /// Takes what was done since the last frame and lets the line run on; then the yard shows what is
    /// seen now.
    pub fn drive(&mut self, frame: &Frame, yard: &mut Yard) {
        let is_covered = !self.over.is_empty();
        // A wheel over a list is not meant for the view.
        let mut felt = frame.felt.clone();
        if !self.scene.is_under_pointer {
            felt.nearer = 1.0;
        }
        let frame = &Frame {
            felt: &felt,
            ..*frame
        };
        let turn = match &mut self.screen {
            Screen::SetOut(setting_out) => setting_out.drive(frame, yard, is_covered),
            Screen::Line(on_line) => on_line.drive(frame, is_covered),
            Screen::After(after) => {
                if !is_covered {
                    after.drive(frame);
                }
                None
            }
            Screen::Lab(lab) => {
                lab.drive(frame);
                None
            }
            Screen::Trainer(trainer) => {
                trainer.drive();
                None
            }
            Screen::Title | Screen::Exercises | Screen::Brief(_) | Screen::Vote(_) => None,
        };
        if let Some(turn) = turn {
            self.turn(turn);
        }
        self.look(yard);
    }

    /// Puts into the yard what is seen now.
    fn look(&mut self, yard: &mut Yard) {
        let changed = core::mem::take(&mut self.changed);
        match &mut self.screen {
            Screen::Line(on_line) => on_line.look(yard, changed),
            Screen::After(after) => after.look(yard, changed),
            Screen::Lab(lab) => lab.look(yard, changed),
            // It shows itself, before it walks.
            Screen::SetOut(_) => {}
            Screen::Title
            | Screen::Exercises
            | Screen::Brief(_)
            | Screen::Vote(_)
            | Screen::Trainer(_) => {
                yard.passed_s = 0.0;
                if let Some(line) = self.backdrop.as_ref().filter(|_| changed) {
                    yard.show(line);
                }
            }
        }
    }

    /// Shows the screen that is on now, and takes what is done on it.
    pub fn show(&mut self, ctx: &egui::Context, easel: &Easel) {
        theme::apply(ctx, self.house.theme(), self.house.text_scale());
        let mut ui = panels::root(ctx);
        self.scene = Scene::of(&ui, self.part_of_scene(&ui));
        match self.show_screen(&mut ui, easel) {
            // What follows is shown in the next pass: the key that led to it is not meant for it.
            Some(turn) => {
                self.turn(turn);
                ctx.request_repaint();
            }
            None => self.show_over(&mut ui),
        }
        theme::ring_focus(ctx);
    }

    /// What the panels of this screen leave of the window for the scene.
    fn part_of_scene(&self, ui: &egui::Ui) -> egui::Rect {
        match &self.screen {
            Screen::Title => title::scene(ui),
            Screen::SetOut(_) => panels::set_out::scene(ui),
            Screen::After(after) if after.is_debrief() => panels::debrief::scene(ui),
            _ => ui.max_rect(),
        }
    }

    fn show_screen(&mut self, ui: &mut egui::Ui, easel: &Easel) -> Option<Turn> {
        let texts = self.texts();
        let is_covered = !self.over.is_empty();
        if is_covered && !matches!(self.screen, Screen::Line(_) | Screen::After(_)) {
            return None;
        }
        match &mut self.screen {
            Screen::Title => {
                let model = title::Model {
                    unfinished: self.house.last_tried(),
                };
                title::show(ui, texts, &model).and_then(|action| self.at_title(action))
            }
            Screen::Exercises => {
                let before = self.exercises.chosen;
                let turn = choose::exercises(ui, &mut self.house, &mut self.exercises, easel);
                if self.exercises.chosen != before {
                    self.put_behind();
                }
                turn
            }
            Screen::Brief(briefed) => briefed.show(ui, &self.house, easel),
            Screen::Vote(voting) => match voting.1.show(ui, texts, None)? {
                Decided::Go => Some(Turn::Watch),
                Decided::Back => Some(Turn::Exercises),
            },
            Screen::SetOut(setting_out) => setting_out.show(ui, &self.house, &self.bindings, easel),
            Screen::Line(on_line) => on_line.show(ui, texts, &self.bindings, easel, is_covered),
            Screen::After(after) => {
                if is_covered {
                    return None;
                }
                after.show(ui, &self.house, self.is_for_trainer)
            }
            Screen::Lab(lab) => lab.show(ui, &self.house, easel),
            Screen::Trainer(trainer) => trainer.show(ui, &mut self.house),
        }
    }

    /// Puts the line of the exercise that is chosen behind the screens.
    fn put_behind(&mut self) {
        self.backdrop = self
            .house
            .line_of(self.exercises.chosen)
            .or(self.backdrop.take());
        self.changed = true;
    }

    fn at_title(&mut self, action: title::Action) -> Option<Turn> {
        match action {
            title::Action::Continue => self
                .house
                .last_course()
                .map(|course| Turn::Brief(Box::new(Briefed::new(course)))),
            title::Action::Exercises => Some(Turn::Exercises),
            title::Action::Laboratory => Some(Turn::Lab),
            title::Action::Trainer => Some(Turn::Trainer),
            title::Action::Settings => Some(Turn::Over(Over::Settings)),
            title::Action::Keys => Some(Turn::Over(Over::Keys)),
            title::Action::Quit => {
                self.quit = true;
                None
            }
        }
    }

    fn show_over(&mut self, ui: &mut egui::Ui) {
        let texts = self.texts();
        match self.over.last() {
            None => {}
            Some(Over::Pause) => {
                let Some(model) = self.pause_model() else {
                    self.over.pop();
                    return;
                };
                if let Some(action) = pause::show(ui, texts, &model) {
                    self.at_pause(action);
                }
            }
            Some(Over::Settings) => {
                let model = options::model(&self.house, &self.bindings);
                let action = settings::show(ui, texts, &model, &mut self.settings);
                if let Some(action) = action
                    && options::apply(action, &mut self.house, &mut self.bindings)
                {
                    self.over.pop();
                }
            }
            Some(Over::Keys) => {
                let model = options::keys(&self.bindings, texts);
                if panels::controls_help::show(ui, texts, &model).is_some() {
                    self.over.pop();
                }
            }
            Some(Over::Notice(message)) => {
                let model = options::notice(message, texts);
                if dialog::show(ui, texts, &model).is_some() {
                    self.over.pop();
                }
            }
            Some(Over::Leave(leave)) => {
                let leave = *leave;
                let model = options::leave(leave == Leave::Quit, self.mode(), texts);
                match dialog::show(ui, texts, &model) {
                    Some(0) => self.leave(leave),
                    Some(_) => {
                        self.over.pop();
                    }
                    None => {}
                }
            }
        }
    }

    fn mode(&self) -> Option<Mode> {
        match &self.screen {
            Screen::Line(on_line) => Some(on_line.run().mode()),
            _ => None,
        }
    }

    fn pause_model(&self) -> Option<pause::Model> {
        let (course, clock_s, has_begun) = match &self.screen {
            Screen::Line(on_line) => {
                let run = on_line.run();
                (run.course(), run.line().time_s(), true)
            }
            Screen::SetOut(setting_out) => (setting_out.course(), 0.0, false),
            _ => return None,
        };
        Some(pause::Model {
            exercise: self.house.name_of(course),
            mode: course.mode,
            clock_s,
            has_begun,
        })
    }

    fn at_pause(&mut self, action: pause::Action) {
        match action {
            pause::Action::Resume => {
                self.over.pop();
            }
            pause::Action::Restart => self.over.push(Over::Leave(Leave::Restart)),
            pause::Action::Settings => self.over.push(Over::Settings),
            pause::Action::Keys => self.over.push(Over::Keys),
            pause::Action::Instructor => {
                self.over.pop();
                if let Screen::Line(on_line) = &mut self.screen {
                    on_line.open_instructor();
                }
            }
            pause::Action::End => self.over.push(Over::Leave(Leave::End)),
        }
    }

    /// Gives a run up.
    fn leave(&mut self, leave: Leave) {
        self.over.clear();
        let screen = core::mem::replace(&mut self.screen, Screen::Exercises);
        self.changed = true;
        if let Screen::SetOut(setting_out) = &screen {
            match leave {
                Leave::Restart => {
                    let course = setting_out.course().clone();
                    self.turn(Turn::Brief(Box::new(Briefed::new(course))));
                }
                // Nothing has begun that could have a result.
                Leave::End => self.turn(Turn::Exercises),
                Leave::Quit => self.quit = true,
            }
        }
        if let Screen::Line(on_line) = screen {
            let (run, class) = on_line.into_run();
            let course = run.course().clone();
            match leave {
                Leave::Restart => self.turn(Turn::Brief(Box::new(Briefed::new(course)))),
                Leave::End => self.finish(run, class),
                Leave::Quit => {
                    self.house.give_up(run);
                    self.quit = true;
                }
            }
        }
    }

    /// A run begins.
    fn start(&mut self, mut run: Run, class: Option<Class>) {
        if let Some(fault) = self.house.begin(&mut run) {
            self.over.push(Over::Notice(fault));
            // An assessment that could be lost is not begun.
            if run.mode().counts() {
                self.turn(Turn::Exercises);
                return;
            }
        }
        self.screen = Screen::Line(Box::new(OnLine::new(run, class)));
    }

    /// A run is over: it is judged, and what happened is shown.
    fn finish(&mut self, run: Run, class: Option<Class>) {
        match self.house.finish(run) {
            Ok((finished, fault)) => {
                self.over.extend(fault.map(Over::Notice));
                self.screen =
                    Screen::After(Box::new(After::new(finished, class, self.house.lang())));
            }
            Err(fault) => {
                self.turn(Turn::Exercises);
                self.over.push(Over::Notice(fault));
            }
        }
        self.changed = true;
    }

    /// The window is asked to close: at once, or after a question where a run or a set-out would be
    /// lost.
    pub fn close(&mut self) {
        let is_asked = matches!(self.over.last(), Some(Over::Leave(Leave::Quit)));
        match &self.screen {
            Screen::Line(_) | Screen::SetOut(_) if !is_asked => {
                self.over.push(Over::Leave(Leave::Quit));
            }
            Screen::Line(_) | Screen::SetOut(_) => {}
            _ => self.quit = true,
        }
    }

    fn turn(&mut self, turn: Turn) {
        match turn {
            Turn::Title => {
                let left = core::mem::replace(&mut self.screen, Screen::Title);
                self.is_for_trainer = false;
                match left {
                    Screen::Lab(mut lab) => {
                        lab.leave();
                        self.lab = Some(lab);
                    }
                    Screen::Trainer(trainer) => self.put_aside(trainer),
                    _ => {}
                }
            }
            Turn::Trainer => {
                let kept = self.trainer.take();
                let trainer = kept.or_else(|| Trainer::new(&self.house).map(Box::new));
                let Some(mut trainer) = trainer else {
                    self.over.push(Over::Notice("notice-no-place".into()));
                    return;
                };
                trainer.enter(&self.house);
                self.screen = Screen::Trainer(trainer);
            }
            Turn::Exercises if self.is_for_trainer => {
                self.is_for_trainer = false;
                self.turn(Turn::Trainer);
                return;
            }
            Turn::Lab => {
                let kept = self.lab.take();
                let lab = kept.or_else(|| Lab::new(&self.house).map(Box::new));
                if let Some(mut lab) = lab {
                    lab.enter(self.house.lang());
                    self.screen = Screen::Lab(lab);
                }
            }
            Turn::Exercises => {
                self.screen = Screen::Exercises;
                self.house.read_results();
                self.put_behind();
            }
            Turn::Brief(briefed) => {
                self.backdrop = Some(Line::build(&briefed.course().as_found()));
                let left = core::mem::replace(&mut self.screen, Screen::Brief(briefed));
                if let Screen::Trainer(trainer) = left {
                    self.is_for_trainer = true;
                    self.put_aside(trainer);
                }
            }
            Turn::SetOut(setting_out) => {
                self.screen = Screen::SetOut(setting_out);
            }
            Turn::Vote(voting) => {
                self.screen = Screen::Vote(voting);
            }
            Turn::Watch => {
                let screen = core::mem::replace(&mut self.screen, Screen::Exercises);
                if let Screen::Vote(voting) = screen {
                    let (run, class) = *voting;
                    self.start(run, Some(class));
                }
            }
            Turn::Start(run) => self.start(*run, None),
            Turn::Ended => {
                let screen = core::mem::replace(&mut self.screen, Screen::Exercises);
                if let Screen::Line(on_line) = screen {
                    let (run, class) = on_line.into_run();
                    self.finish(run, class);
                }
            }
            Turn::Over(over) => {
                self.over.push(over);
                return;
            }
        }
        self.changed = true;
    }

    fn put_aside(&mut self, mut trainer: Box<Trainer>) {
        trainer.leave();
        self.trainer = Some(trainer);
    }

    /// Who is on foot, and where they can walk.
    pub fn on_foot(&self) -> Option<&(OnFoot, Site)> {
        match &self.screen {
            Screen::SetOut(setting_out) => setting_out.on_foot(),
            _ => None,
        }
    }

    fn shows_yard(&self) -> bool {
        let covered = self
            .over
            .iter()
            .any(|over| matches!(over, Over::Settings | Over::Keys));
        let hidden = match &self.screen {
            Screen::Exercises | Screen::Brief(_) | Screen::Vote(_) | Screen::Trainer(_) => true,
            Screen::Lab(lab) => !lab.is_large(),
            _ => false,
        };
        !covered && !hidden
    }

    /// What the window is to do now.
    pub fn wants(&self, yard: &Yard) -> Wants {
        let moves = match &self.screen {
            Screen::Line(_) | Screen::SetOut(_) => self.over.is_empty(),
            Screen::After(after) => after.moves(),
            Screen::Lab(lab) => lab.moves(),
            Screen::Title
            | Screen::Exercises
            | Screen::Brief(_)
            | Screen::Vote(_)
            | Screen::Trainer(_) => false,
        };
        let (viewpoint, second) = match &self.screen {
            Screen::Line(on_line) => (on_line.viewpoint(), on_line.second(yard)),
            Screen::After(after) => (after.viewpoint(), None),
            Screen::Lab(lab) => (lab.viewpoint(yard), lab.second(yard)),
            Screen::Exercises | Screen::Brief(_) => (
                Viewpoint::new(CameraName::Orbit, yard.rig()),
                Some(Viewpoint::new(CameraName::Orbit, yard.rig())),
            ),
            Screen::Title | Screen::Vote(_) | Screen::SetOut(_) | Screen::Trainer(_) => {
                (Viewpoint::new(CameraName::Orbit, yard.rig()), None)
            }
        };
        let (overlays, ghost) = match &self.screen {
            Screen::Line(on_line) => (on_line.overlays(), on_line.ghost()),
            _ => (Overlays::default(), Ghost::default()),
        };
        Wants {
            overlays,
            ghost,
            viewpoint,
            second,
            idle: match &self.screen {
                Screen::Trainer(trainer) => Some(trainer.idle(IDLE)),
                _ => (!moves).then_some(IDLE),
            },
            shows_yard: self.shows_yard(),
            seen_in: self.scene.seen_in,
            keys_to_line: self.over.is_empty()
                && match &self.screen {
                    Screen::Line(_) => true,
                    Screen::SetOut(setting_out) => !setting_out.is_listed(),
                    _ => false,
                },
            pad_to_menu: matches!(&self.screen, Screen::Line(on_line) if on_line.has_menu()),
            eyes: match &self.screen {
                Screen::SetOut(setting_out) => setting_out.camera(),
                _ => None,
            },
            quality: self.house.quality(),
            reduced_motion: self.house.settings.reduced_motion,
            quit: self.quit,
        }
    }
}

/// A run of a course, as the trainee chose it.
fn prepared(course: Course, operator: Option<&str>) -> Result<Run, Message> {
    let run = match operator.and_then(crate::operator::member) {
        Some(member) => course.demonstrate(member),
        None => course.set_out(crate::domain::set_out::SetOut::default()),
    };
    run.map_err(|fault| crate::words::set_out_fault(&fault))
}
