//! Choosing an exercise and a way into it, and the brief before it.

use bevy_egui::egui::Ui;

use super::class::Class;
use super::house::House;
use super::set_out::SettingOut;
use super::{Easel, Over, Turn, prepared};
use crate::scenario::Goal;
use crate::session::brief as known;
use crate::session::course::Course;
use crate::session::mode::Mode;
use crate::texts::Message;
use crate::view::panels::{brief, exercises};

/// The exercises: what is chosen is behind them in the yard.
pub fn exercises(
    ui: &mut Ui,
    house: &mut House,
    state: &mut exercises::State,
    easel: &Easel,
) -> Option<Turn> {
    let texts = house.texts();
    let mut rows = house.rows();
    if let Some(row) = rows.get_mut(state.chosen) {
        row.picture = easel.second;
    }
    let (names, operators) = house.showings(state.chosen);
    let model = exercises::Model { rows, operators };
    match exercises::show(ui, texts, &model, state)? {
        exercises::Action::Start { row, mode, seed } => {
            let trainee = Some(state.trainee.trim().to_owned()).filter(|name| !name.is_empty());
            if house.settings.trainee != trainee {
                house.settings.trainee = trainee;
                if let Some(fault) = house.keep_settings() {
                    return Some(Turn::Over(Over::Notice(fault)));
                }
            }
            let course = Course {
                trainee: house.settings.trainee.clone(),
                ..house.entry(row)?.course(mode)
            };
            let course = Course {
                seed: seed.unwrap_or(course.seed),
                ..course
            };
            let shown = mode == Mode::Demonstration;
            let operator = names.get(state.showing).copied().filter(|_| shown);
            Some(Turn::Brief(Box::new(Briefed {
                operator,
                votes: shown && state.votes,
                ..Briefed::new(course)
            })))
        }
        exercises::Action::Back => Some(Turn::Title),
    }
}

/// A run that is about to begin.
pub struct Briefed {
    course: Course,
    /// Who drives a demonstration.
    pub operator: Option<&'static str>,
    /// A class predicts before it watches.
    votes: bool,
}

impl Briefed {
    pub fn new(course: Course) -> Self {
        let operator = (course.mode == Mode::Demonstration).then_some("expert");
        Self {
            course,
            operator,
            votes: false,
        }
    }

    pub fn course(&self) -> &Course {
        &self.course
    }

    /// Whether the trainee sets the line out first.
    fn is_set_out(&self) -> bool {
        self.operator.is_none() && self.course.mode != Mode::WarmUp
    }

    pub fn show(&mut self, ui: &mut Ui, house: &House, easel: &Easel) -> Option<Turn> {
        let texts = house.texts();
        let scenario = self.course.scenario();
        let words = scenario.texts(texts.lang());
        let counts = self.course.mode.counts();
        let as_found = self.course.as_found();
        let goal = match scenario.goal {
            Goal::Joined => "goal-joined",
            Goal::OneStick => "goal-one-stick",
            Goal::LeftOnRack => "goal-left-on-rack",
        };
        let model = brief::Model {
            exercise: words.name.clone(),
            mode: self.course.mode,
            brief: words.brief.clone(),
            goal: texts.say(&Message::new(goal)),
            hazards: (!counts && scenario.faults_told).then(|| words.hazards.clone()),
            trains: words.trains.clone(),
            facts: known::facts(&as_found)
                .iter()
                .map(|fact| (texts.say(&fact.name), texts.say(&fact.value)))
                .collect(),
            crew: known::crew(&as_found)
                .iter()
                .map(|duty| texts.say(duty))
                .collect(),
            judged: brief::Judged::all(&scenario.scoring, texts, counts),
            pass_mark: counts.then_some(scenario.scoring.pass_mark),
            time_limit_s: scenario.time_limit_s,
            trainee: self.course.trainee.clone().unwrap_or_default(),
            seed: self.course.seed,
            set_out_open: scenario.set_out_open,
            picture: easel.second,
        };
        match brief::show(ui, texts, &model)? {
            brief::Action::Begin if self.is_set_out() => {
                Some(Turn::SetOut(Box::new(SettingOut::new(self.course.clone()))))
            }
            brief::Action::Begin => match prepared(self.course.clone(), self.operator) {
                Ok(run) if self.votes => {
                    let class = Class::new(run.course().scenario().goal);
                    Some(Turn::Vote(Box::new((run, class))))
                }
                Ok(run) => Some(Turn::Start(Box::new(run))),
                Err(fault) => Some(Turn::Over(Over::Notice(fault))),
            },
            brief::Action::Back => Some(Turn::Exercises),
        }
    }
}
