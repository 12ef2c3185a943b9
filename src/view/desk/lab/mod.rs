//! The laboratory: what is set up, the sweep that runs, and the trial that is watched.

mod said;
mod watching;

use std::path::PathBuf;
use std::sync::mpsc::{Receiver, TryRecvError};
use std::thread;

use bevy_egui::egui::Ui;

use super::house::House;
use super::{Easel, Frame, Over, Turn};
use crate::lab::{
    Bench, Estimate, PITCH, Row, Setting, Stage, Sweep, SweepError, faults_of, is_of_variable,
};
use crate::scenario::{Base, Holds, LineField, line_fields};
use crate::sim::line::Line;
use crate::texts::{Lang, Message, Texts};
use crate::view::camera::{CameraName, Viewpoint};
use crate::view::panels::{lab as page, lab_watch};
use crate::view::yard::Yard;
use watching::Watching;

/// Steps of the pitch, deg.
const STEPS_DEG: [f64; 4] = [0.25, 0.5, 1.0, 2.0];
/// Trials at each pitch.
const TRIALS: [u32; 5] = [20, 60, 300, 1000, 3000];
/// Risks that can be accepted.
const RISKS: [f64; 8] = [0.001, 0.002, 0.005, 0.01, 0.02, 0.05, 0.1, 0.2];
/// Sampling confidences of the windows.
const CONFIDENCES: [f64; 3] = [0.9, 0.95, 0.99];
/// Trials on a page of the list.
const PAGE: usize = 8;
/// Variables that fields are chosen for first: what the line is made of, before what stands about it.
const FIRST: [&str; 6] = ["row", "pipe", "rack", "escapement", "receiver", "contact"];

/// The scenario that the laboratory begins with: a row on a rack, and nothing else.
const RACK: &str = include_str!("../../../../scenarios/lab/rack.ron");

/// A pitch of a set-up.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
struct Point {
    set_up: usize,
    pitch: usize,
}

/// The sheet, while it is made and after.
enum Sheet {
    None,
    Making(Receiver<Result<PathBuf, Message>>),
    Saved(PathBuf),
}

/// See the module's text.
pub struct Lab {
    bases: Vec<Base>,
    base: usize,
    /// What can be chosen, the more usual first.
    fields: Vec<LineField>,
    setting: Setting,
    /// The sweep that it makes, and what the closed forms say of its set-ups.
    sweep: Result<Sweep, SweepError>,
    estimates: Vec<Option<Estimate>>,
    /// What runs or has run, and how it was set.
    bench: Option<(Setting, Bench)>,
    point: Option<Point>,
    kind: usize,
    page: usize,
    watching: Option<Watching>,
    /// It is watched in the whole window.
    is_large: bool,
    sheet: Sheet,
    state: page::State,
    lang: Lang,
    /// Another line is to be shown.
    jumped: bool,
}

impl Lab {
    pub fn new(house: &House) -> Option<Self> {
        let rack = crate::scenario::parse("rack.ron", RACK).ok()?;
        let rack = Base {
            file: "rack.ron".to_owned(),
            loaded: rack,
        };
        let mut bases = vec![rack];
        bases.extend(house.bases());
        let lang = house.lang();
        let setting = Setting::usual(&name_of(&bases, 0, lang), bases.first()?.clone());
        let mut lab = Self {
            sweep: setting.sweep(["", ""]),
            bases,
            base: 0,
            fields: fields(),
            setting,
            estimates: Vec::new(),
            bench: None,
            point: None,
            kind: 0,
            page: 0,
            watching: None,
            is_large: false,
            sheet: Sheet::None,
            state: page::State::default(),
            lang,
            jumped: true,
        };
        lab.set(lang);
        Some(lab)
    }

    /// Somebody comes back to it.
    pub fn enter(&mut self, lang: Lang) {
        self.jumped = true;
        if self.lang != lang {
            self.lang = lang;
            self.set(lang);
        }
    }

    /// Somebody leaves it: what runs stops, and its rows are kept.
    pub fn leave(&mut self) {
        if let Some((_, bench)) = &mut self.bench {
            bench.stop();
        }
        if let Some(watching) = &mut self.watching {
            watching.play(false);
        }
    }

    pub fn caption(&self) -> &'static str {
        if self.is_large {
            "window-lab-watch"
        } else {
            "window-lab"
        }
    }

    pub fn is_large(&self) -> bool {
        self.is_large
    }

    pub fn moves(&self) -> bool {
        self.watching.as_ref().is_some_and(Watching::moves)
    }

    pub fn viewpoint(&self, yard: &Yard) -> Viewpoint {
        let seen = self.watching.as_ref().and_then(Watching::viewpoint);
        seen.unwrap_or_else(|| Viewpoint::new(CameraName::Orbit, yard.rig()))
    }

    /// The picture beside the list of trials.
    pub fn second(&self, yard: &Yard) -> Option<Viewpoint> {
        let is_seen = !self.is_large && self.watching.is_some();
        is_seen.then(|| self.viewpoint(yard))
    }

    /// Takes what the sweep has done, and lets the trial that is watched run on.
    pub fn drive(&mut self, frame: &Frame) {
        if let Some((_, bench)) = &mut self.bench {
            bench.hear();
        }
        if let Some(watching) = &mut self.watching {
            watching.drive(frame, self.is_large);
        }
    }

    /// Puts into the yard what is seen now.
    pub fn look(&mut self, yard: &mut Yard, changed: bool) {
        let jumped = core::mem::take(&mut self.jumped) || changed;
        match &mut self.watching {
            Some(watching) => watching.look(yard, jumped),
            None if jumped => {
                let scenario = &self.setting.base.loaded.scenario;
                yard.show(&Line::build(&scenario.line_for(scenario.seed)));
                yard.passed_s = 0.0;
            }
            None => yard.passed_s = 0.0,
        }
    }

    pub fn show(&mut self, ui: &mut Ui, house: &House, easel: &Easel) -> Option<Turn> {
        let texts = house.texts();
        if self.is_large {
            let model = self.watching.as_ref()?.model(texts);
            let action = lab_watch::show(ui, texts, &model)?;
            self.do_on_watch(action);
            return None;
        }
        let fault = self.hear_sheet();
        let model = self.model(texts, easel, house);
        let mut state = self.state.clone();
        let action = page::show(ui, texts, &model, &mut state);
        // What was done on it is seen in the next pass.
        if action.is_some() || state != self.state {
            ui.ctx().request_repaint();
        }
        self.state = state;
        let turn = action.and_then(|action| self.act(action, house));
        turn.or(fault.map(|fault| Turn::Over(Over::Notice(fault))))
    }

    fn do_on_watch(&mut self, action: lab_watch::Action) {
        let Some(watching) = &mut self.watching else {
            return;
        };
        match action {
            lab_watch::Action::Play(plays) => watching.play(plays),
            lab_watch::Action::Speed(speed) => watching.set_speed(speed),
            lab_watch::Action::Camera(camera) => watching.look_from(camera),
            lab_watch::Action::Again => {
                let trial = watching.row().trial;
                self.watch(trial);
            }
            lab_watch::Action::Back => {
                watching.play(false);
                self.is_large = false;
            }
        }
    }

    fn act(&mut self, action: page::Action, house: &House) -> Option<Turn> {
        use page::Action;
        let before = self.setting.clone();
        match action {
            Action::Base(base) => self.put_over(base),
            Action::Pitch { end, to } => {
                if let Some(pitch) = self.setting.pitch_deg.get_mut(end) {
                    *pitch = to;
                }
            }
            Action::Step(step) => {
                self.setting.step_deg = STEPS_DEG.get(step).copied().unwrap_or(1.0);
            }
            Action::Trials(trials) => {
                self.setting.trials = TRIALS.get(trials).copied().unwrap_or(TRIALS[0]);
            }
            Action::Vary(field) => {
                let path = self.choosable().nth(field).map(|field| field.path.clone());
                path.into_iter().for_each(|path| self.setting.vary(&path));
            }
            Action::Range { variable, end, to } => {
                let varied = self.setting.varied.get_mut(variable);
                let end = varied.and_then(|varied| varied.range.get_mut(end));
                end.into_iter().for_each(|end| *end = to);
            }
            Action::Unmeasured { variable, is } => {
                let varied = self.setting.varied.get_mut(variable);
                varied.into_iter().for_each(|varied| varied.unmeasured = is);
            }
            Action::Leave(variable) if variable < self.setting.varied.len() => {
                self.setting.varied.remove(variable);
            }
            Action::Change(field) => {
                let path = self.choosable().nth(field).map(|field| field.path.clone());
                path.into_iter().for_each(|path| self.setting.change(&path));
            }
            Action::Value { changed, to } => {
                let changed = self.setting.second.get_mut(changed);
                changed
                    .into_iter()
                    .for_each(|changed| changed.value = to.to_string());
            }
            Action::Word { changed, steps } => self.other_word(changed, steps),
            Action::Undo(changed) if changed < self.setting.second.len() => {
                self.setting.second.remove(changed);
            }
            Action::Leave(_) | Action::Undo(_) => {}
            Action::Risk { risk, steps } => {
                if let Some(risk) = self.setting.risks.get_mut(risk) {
                    let at = nearest(&RISKS, *risk) as i32 + steps;
                    let at = at.clamp(0, RISKS.len() as i32 - 1) as usize;
                    *risk = RISKS.get(at).copied().unwrap_or(*risk);
                }
            }
            Action::Confidence(confidence) => {
                let chosen = CONFIDENCES.get(confidence).copied();
                self.setting.confidence = chosen.unwrap_or(self.setting.confidence);
            }
            Action::Seed(steps) => {
                let seed = self.setting.seed.saturating_add_signed(i64::from(steps));
                self.setting.seed = seed.max(1);
            }
            Action::Run => return self.run(house).map(|fault| Turn::Over(Over::Notice(fault))),
            Action::Stop => {
                if let Some((_, bench)) = &mut self.bench {
                    bench.stop();
                }
            }
            Action::GoOn => {
                self.set_back();
                if let Some((_, bench)) = &mut self.bench {
                    bench.go_on();
                }
            }
            Action::SetBack => self.set_back(),
            Action::Look { set_up, pitch } => {
                self.point = Some(Point { set_up, pitch });
                self.kind = 0;
                self.page = 0;
            }
            Action::Kind(kind) => {
                self.kind = kind;
                self.page = 0;
            }
            Action::Page(pages) => {
                self.page = self.page.saturating_add_signed(pages as isize);
            }
            Action::Trial(trial) => {
                let trial = self
                    .listed()
                    .get(self.page * PAGE + trial)
                    .map(|row| row.trial);
                trial.into_iter().for_each(|trial| self.watch(trial));
            }
            Action::Play(plays) => {
                if let Some(watching) = &mut self.watching {
                    watching.play(plays);
                }
            }
            Action::Watch => {
                let trial = self.watching.as_ref().map(|watching| watching.row().trial);
                trial.into_iter().for_each(|trial| self.watch(trial));
                self.is_large = self.watching.is_some();
            }
            Action::Save => {
                let told = self
                    .bench
                    .as_ref()
                    .and_then(|(_, bench)| bench.export(self.lang));
                match told {
                    Some(told) => self.sheet = Sheet::Making(told),
                    None => return Some(Turn::Over(Over::Notice("notice-no-place".into()))),
                }
            }
            Action::Back => return Some(Turn::Title),
        }
        if self.setting != before {
            self.set(house.lang());
        }
        None
    }

    fn put_over(&mut self, base: usize) {
        let Some(chosen) = self.bases.get(base).cloned() else {
            return;
        };
        let name = name_of(&self.bases, base, self.lang);
        self.base = base;
        self.setting.put_over(&name, chosen);
        self.jumped = true;
    }

    fn other_word(&mut self, changed: usize, steps: i32) {
        let Some(changed) = self.setting.second.get_mut(changed) else {
            return;
        };
        let known = self.fields.iter().find(|field| field.path == changed.path);
        let words = known
            .map(|known| known.words.as_slice())
            .unwrap_or_default();
        let now = words.iter().position(|word| *word == changed.value);
        let most = words.len().saturating_sub(1) as i32;
        let to = (now.unwrap_or(0) as i32 + steps).clamp(0, most) as usize;
        if let Some(word) = words.get(to) {
            changed.value = word.clone();
        }
    }

    /// Names of the two set-ups, as they stand in the sheet.
    fn names(&self, lang: Lang) -> [String; 2] {
        let texts = Texts::of(lang);
        let changed = self.setting.second.iter();
        let changed: Vec<String> = changed
            .map(|changed| {
                let short = changed.path.rsplit('.').next().unwrap_or_default();
                format!("{short} {}", changed.value)
            })
            .collect();
        [texts.say(&"lab-as-in-base".into()), changed.join(", ")]
    }

    /// Something is set otherwise: what the closed forms say is there at once.
    fn set(&mut self, lang: Lang) {
        let names = self.names(lang);
        self.sweep = self.setting.sweep([&names[0], &names[1]]);
        // What is wrong is said; what was known of the last sound one stays in sight.
        if let Ok(sweep) = &self.sweep {
            let set_ups = 0..sweep.set_ups.len();
            self.estimates = set_ups.map(|i| Estimate::of_sweep(sweep, i)).collect();
        }
    }

    /// Runs what is set up, in a folder of its own. What is wrong where it cannot.
    fn run(&mut self, house: &House) -> Option<Message> {
        let sweep = self.sweep.clone().ok()?;
        let names = self.names(house.lang());
        let text = self.setting.text([&names[0], &names[1]]);
        // One core is left for the window.
        let cores = thread::available_parallelism().map_or(2, usize::from);
        let folder = house.lab_folder();
        match Bench::begin(sweep, &text, cores.saturating_sub(1).max(1), folder) {
            Ok(bench) => {
                self.bench = Some((self.setting.clone(), bench));
                self.watching = None;
                self.sheet = Sheet::None;
                self.kind = 0;
                self.page = 0;
                let middle = Point {
                    set_up: 0,
                    pitch: self.pitches().len() / 2,
                };
                self.point = Some(middle);
                None
            }
            Err(fault) => Some(fault),
        }
    }

    fn set_back(&mut self) {
        let Some((setting, _)) = &self.bench else {
            return;
        };
        self.setting = setting.clone();
        let base = |known: &Base| known.loaded.text == setting.base.loaded.text;
        self.base = self.bases.iter().position(base).unwrap_or(self.base);
        self.set(self.lang);
    }

    /// Takes a trial to be watched, from its beginning.
    fn watch(&mut self, trial: u64) {
        let Some((_, bench)) = &self.bench else {
            return;
        };
        let Some(row) = bench.row(trial) else {
            return;
        };
        let kept = self.watching.take();
        let mut watching = Watching::new(row.clone(), bench, self.title_of(row));
        if let Some(kept) = kept {
            watching.as_seen(&kept);
        }
        watching.play(true);
        self.watching = Some(watching);
        self.jumped = true;
    }

    fn pitches(&self) -> &[f64] {
        match &self.bench {
            Some((_, bench)) => &bench.sweep().values,
            None => &[],
        }
    }

    /// The trials of the pitch that is looked at, of the kind that is.
    fn listed(&self) -> Vec<&Row> {
        let kinds = self.kinds();
        let kind = kinds.get(self.kind).and_then(|kind| kind.outcome);
        let rows = self.rows();
        match kind {
            None => rows,
            Some(outcome) => rows
                .into_iter()
                .filter(|row| row.outcome == outcome)
                .collect(),
        }
    }

    fn rows(&self) -> Vec<&Row> {
        match (&self.bench, self.point) {
            (Some((_, bench)), Some(point)) => bench.trials_at(point.set_up, point.pitch).collect(),
            _ => Vec::new(),
        }
    }

    /// Fields that are not set elsewhere already.
    fn choosable(&self) -> impl Iterator<Item = &LineField> {
        let varied = self
            .setting
            .varied
            .iter()
            .map(|varied| varied.path.as_str());
        let second = self.setting.second.iter();
        let taken: Vec<&str> = varied
            .chain(second.map(|changed| changed.path.as_str()))
            .chain([PITCH])
            .collect();
        let fields = self.fields.iter();
        fields.filter(move |field| !taken.contains(&field.path.as_str()))
    }

    /// What came of making the sheet; what is wrong where it could not be made.
    fn hear_sheet(&mut self) -> Option<Message> {
        let Sheet::Making(told) = &self.sheet else {
            return None;
        };
        match told.try_recv() {
            Ok(Ok(place)) => {
                self.sheet = Sheet::Saved(place);
                None
            }
            Ok(Err(fault)) => {
                self.sheet = Sheet::None;
                Some(fault)
            }
            Err(TryRecvError::Empty) => None,
            Err(TryRecvError::Disconnected) => {
                self.sheet = Sheet::None;
                Some("lab-thread-lost".into())
            }
        }
    }

    fn is_changed(&self) -> bool {
        let ran = self.bench.as_ref().map(|(setting, _)| setting);
        ran.is_some_and(|ran| *ran != self.setting)
    }

    fn stage(&self, texts: &Texts) -> page::Stage {
        let Some((_, bench)) = &self.bench else {
            return page::Stage::Nothing;
        };
        match bench.stage() {
            Stage::Running if bench.is_stopping() => page::Stage::Stopping,
            Stage::Running => page::Stage::Running,
            Stage::Stopped => page::Stage::Stopped,
            Stage::Done => page::Stage::Done,
            Stage::Failed(why) => page::Stage::Failed(texts.say(why)),
        }
    }

    /// Faults of a variable, or those of none.
    fn faults(&self, variable: Option<usize>, texts: &Texts) -> Vec<String> {
        let Err(error) = &self.sweep else {
            return Vec::new();
        };
        if let SweepError::Base(error) = error {
            let lines = variable.is_none().then(|| error.say(texts));
            return lines.into_iter().collect();
        }
        let count = self.setting.varied.len();
        let is_meant = |place: &str| match variable {
            Some(i) => is_of_variable(place, i),
            None => !(0..count).any(|i| is_of_variable(place, i)),
        };
        let faults = faults_of(error).into_iter();
        faults
            .filter(|(place, _)| is_meant(place))
            .map(|(place, what)| match variable {
                Some(_) => texts.say(&what),
                None => {
                    let message = Message::new("labscreen-fault")
                        .with("place", place)
                        .with("what", what);
                    texts.say(&message)
                }
            })
            .collect()
    }
}

/// The base's name; the first one is the laboratory's own.
fn name_of(bases: &[Base], base: usize, lang: Lang) -> String {
    if base == 0 {
        return Texts::of(lang).say(&"labscreen-rack".into());
    }
    let base = bases.get(base);
    base.map_or_else(String::new, |base| {
        base.loaded.scenario.texts(lang).name.clone()
    })
}

/// The fields of the line, those that a release depends on first.
fn fields() -> Vec<LineField> {
    let mut fields = line_fields();
    fields.sort_by_key(|field| {
        let group = field.path.split('.').next().unwrap_or_default();
        let place = FIRST.iter().position(|first| *first == group);
        place.unwrap_or(FIRST.len())
    });
    fields
}

fn is_number(field: &LineField) -> bool {
    field.holds != Holds::Written
}

fn nearest(values: &[f64], value: f64) -> usize {
    let far = |i: &usize| {
        values
            .get(*i)
            .map_or(f64::INFINITY, |one| (one - value).abs())
    };
    (0..values.len())
        .min_by(|a, b| far(a).total_cmp(&far(b)))
        .unwrap_or(0)
}
