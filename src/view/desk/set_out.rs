//! Before pipe moves: on foot about the line, setting and judging what is there.

use bevy::prelude::Transform;
use bevy_egui::egui::Ui;

use super::house::House;
use super::{Easel, Frame, Over, Turn, marks};
use crate::domain::math::deg;
use crate::domain::rig::{End, Rig};
use crate::domain::spec::LineSpec;
use crate::session::coach::set_out_advice;
use crate::session::course::Course;
use crate::session::walk::{self, Answer, Thing, Walk, gauge_shows_rad, holes, stamped};
use crate::sim::line::Line;
use crate::texts::{Message, Texts};
use crate::view::bindings::{Act, Bindings};
use crate::view::icons::Mark;
use crate::view::input::Done;
use crate::view::on_foot::{self, OnFoot, Site, WalkInput, Wish};
use crate::view::panels::gauges::Bubble;
use crate::view::panels::look_closer::{self, Gauge, Said};
use crate::view::panels::{parts, set_out as panel};
use crate::view::shown::Shown;
use crate::view::yard::Yard;
use crate::words;

/// The inclinometer's scale, degrees.
const SCALE_DEG: std::ops::RangeInclusive<f64> = 0.0..=12.0;
/// Turns of the crank at one press of a button beside the scene.
const TURNS: f64 = 1.0;

/// How far the head goes up at one press of a button, m.
const LEAN_M: f32 = 0.04;

/// What a row beside the scene is about.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Row {
    Crank(End),
    Size,
    Thing(Thing),
}

/// See the module's text.
pub struct SettingOut {
    course: Course,
    as_found: LineSpec,
    walk: Walk,
    /// The line as it stands, to be seen.
    line: Line,
    on_foot: Option<(OnFoot, Site)>,
    /// What was seen of what was looked at last.
    looked: Option<(Thing, Vec<Message>)>,
    said: Option<Message>,
    refused: Option<Message>,
    /// Keys go to the list beside the scene, and not to the feet.
    is_listed: bool,
    /// What keys do is not shown.
    is_folded: bool,
    /// Another line is to be shown.
    changed: bool,
}

impl SettingOut {
    pub fn new(course: Course) -> Self {
        let as_found = course.as_found();
        let walk = Walk::new(course.scenario(), &as_found, course.is_open());
        Self {
            line: Line::build(&as_found),
            course,
            as_found,
            walk,
            on_foot: None,
            looked: None,
            said: None,
            refused: None,
            is_listed: false,
            is_folded: false,
            changed: true,
        }
    }

    pub fn is_listed(&self) -> bool {
        self.is_listed
    }

    pub fn course(&self) -> &Course {
        &self.course
    }

    /// Who is on foot and where they can walk.
    pub fn on_foot(&self) -> Option<&(OnFoot, Site)> {
        self.on_foot.as_ref()
    }

    pub fn camera(&self) -> Option<Transform> {
        self.on_foot.as_ref().map(|(on_foot, _)| on_foot.camera())
    }

    /// Walks on, and does what is wished for.
    pub fn drive(&mut self, frame: &Frame, yard: &mut Yard, is_covered: bool) -> Option<Turn> {
        self.look(yard);
        if is_covered {
            return None;
        }
        let mut turn = None;
        let mut asked = frame.felt.done.iter().filter_map(|done| match done {
            Done::Down {
                act,
                repeated: false,
                ..
            } => Some(*act),
            _ => None,
        });
        let is_close = self
            .on_foot
            .as_ref()
            .is_some_and(|(on_foot, _)| on_foot.close_to().is_some());
        match asked.next() {
            Some(Act::List) => self.is_listed = !self.is_listed,
            Some(Act::Fold) => self.is_folded = !self.is_folded,
            Some(Act::Done) => turn = Some(self.start()),
            Some(Act::Pause) if !is_close => turn = Some(Turn::Over(Over::Pause)),
            _ => {}
        }
        let still = WalkInput::default();
        let input = if self.is_listed { &still } else { frame.walk };
        let (on_foot, site) = self
            .on_foot
            .get_or_insert_with(|| (OnFoot::before(yard), Site::shown(yard)));
        site.see(yard);
        let wishes = on_foot.step(yard, site, input, frame.wall_s as f32);
        if on_foot.close_to().is_none() {
            self.looked = None;
        }
        for wish in wishes {
            self.carry_out(wish, yard);
        }
        turn
    }

    /// Puts the line as it stands into the yard.
    fn look(&mut self, yard: &mut Yard) {
        if core::mem::take(&mut self.changed) {
            self.line = Line::build(self.walk.line());
            yard.show(&self.line);
        }
        yard.passed_s = 0.0;
    }

    fn carry_out(&mut self, wish: Wish, yard: &mut Yard) {
        match wish {
            Wish::Look(thing) => self.looked = Some((thing, self.walk.look(thing))),
            Wish::Do(act) => self.act(act),
            Wish::Crank { rail, turns } => self.crank(rail, turns, yard),
            Wish::Level(rail) => self.said = Some(self.walk.level_on_rail(rail)),
            Wish::Undo => {
                if self.walk.undo() {
                    self.show_anew();
                }
            }
        }
    }

    fn act(&mut self, act: walk::Act) {
        match self.walk.act(act) {
            Ok(said) => {
                self.said = Some(said);
                self.refused = None;
                self.show_anew();
            }
            Err(refused) => self.refused = Some(refused),
        }
    }

    /// Cranks a jack: the rails follow at once, with what lies on them.
    fn crank(&mut self, rail: End, turns: f64, yard: &mut Yard) {
        match self.walk.crank(rail, turns) {
            Ok(()) => {
                self.refused = None;
                self.line = Line::build(self.walk.line());
                yard.shown = Shown::of(&self.line);
            }
            Err(refused) => self.refused = Some(refused),
        }
    }

    fn show_anew(&mut self) {
        self.changed = true;
        if let Some((on_foot, _)) = &mut self.on_foot {
            on_foot.cones = self.walk.cones().to_vec();
            on_foot.string = self.walk.string_is_stretched();
        }
        if let Some((thing, _)) = self.looked {
            self.looked = Some((thing, self.walk.look(thing)));
        }
    }

    pub fn show(
        &mut self,
        ui: &mut Ui,
        house: &House,
        bindings: &Bindings,
        easel: &Easel,
    ) -> Option<Turn> {
        let texts = house.texts();
        let near = self
            .on_foot
            .as_ref()
            .and_then(|(on_foot, _)| on_foot.focus.clone());
        let close = self
            .on_foot
            .as_ref()
            .and_then(|(on_foot, _)| on_foot.close_to());
        let advice = self
            .course
            .mode
            .has_coach()
            .then(|| set_out_advice(&self.as_found, self.walk.line(), self.course.is_open()));
        if let Some(advice) = &advice {
            marks::point(ui, easel.yard, &advice.parts, easel);
        }
        if let Some(thing) = close {
            return self.show_close(ui, texts, thing);
        }
        let name = near.map(|focus| texts.say(&focus.name));
        marks::reticle(ui, panel::scene(ui).center());
        let model = panel::Model {
            rows: self.rows(texts),
            tape: self.on_foot.as_ref().and_then(|(on_foot, _)| {
                let tape = on_foot.tape?;
                Some(panel::Tape {
                    between: texts.say(&tape.from_name()),
                    metres: tape.reading_m(),
                })
            }),
            advice: advice.map(|advice| texts.say(&advice.what)),
            said: self.said.as_ref().map(|said| texts.say(said)),
            near: name,
            not_yet: self.walk.unfinished().map(|why| texts.say(&why)),
            refused: self.refused.as_ref().map(|why| texts.say(why)),
            start_key: bindings.said(Act::Done, texts),
            keys: if self.is_folded {
                Vec::new()
            } else {
                hints(bindings, texts)
            },
        };
        match panel::show(ui, texts, &model)? {
            panel::Action::Step { row, steps } => {
                if let Some(Row::Crank(rail)) = self.row(row) {
                    match self.walk.crank(rail, TURNS * f64::from(steps)) {
                        Ok(()) => self.show_anew(),
                        Err(refused) => self.refused = Some(refused),
                    }
                }
            }
            panel::Action::Choose { row, option } => {
                if let (Some(Row::Size), Some(size)) = (self.row(row), holes().get(option)) {
                    self.act(walk::Act::Size(*size));
                }
            }
            panel::Action::Look { row } => {
                if let Some(thing) = self.row(row).map(Row::thing) {
                    self.go_and_look(thing, easel.yard);
                }
            }
            panel::Action::LookAtNear => {
                let focus = self
                    .on_foot
                    .as_ref()
                    .and_then(|(on_foot, _)| on_foot.focus.clone());
                if let Some(focus) = focus {
                    self.go_and_look(focus.thing, easel.yard);
                }
            }
            panel::Action::Start => return Some(self.start()),
            panel::Action::Pause => return Some(Turn::Over(Over::Pause)),
        }
        None
    }

    fn go_and_look(&mut self, thing: Thing, yard: &Yard) {
        if let Some((on_foot, site)) = &mut self.on_foot
            && on_foot.go_and_look(yard, site, thing)
        {
            self.looked = Some((thing, self.walk.look(thing)));
        }
    }

    fn start(&mut self) -> Turn {
        match self.course.clone().set_out(self.walk.set_out()) {
            Ok(run) => Turn::Start(Box::new(run)),
            Err(fault) => Turn::Over(Over::Notice(words::set_out_fault(&fault))),
        }
    }

    /// A thing from close by: what is seen, and what is thought of it.
    fn show_close(&mut self, ui: &mut Ui, texts: &Texts, thing: Thing) -> Option<Turn> {
        let seen = match &self.looked {
            Some((looked, seen)) if *looked == thing => seen.clone(),
            _ => self.walk.look(thing),
        };
        let model = look_closer::Model {
            name: texts.say(&thing.name(self.walk.line())),
            seen: seen.iter().map(|seen| texts.say(seen)).collect(),
            gauge: self.gauge(thing, texts),
            picture: None,
            said: self.answer(thing).map(|answer| match answer {
                Answer::Accepted => Said::Accepted,
                Answer::Reported => Said::Reported,
            }),
            keys: look_closer::Keys {
                accept: on_foot::ACCEPT_KEY.to_owned(),
                report: on_foot::REPORT_KEY.to_owned(),
            },
        };
        match look_closer::show(ui, texts, &model)? {
            look_closer::Action::Accept => self.act(walk::Act::Accept(thing)),
            look_closer::Action::Report => self.act(walk::Act::Report(thing)),
            look_closer::Action::Eye(up) => {
                if let Some((on_foot, _)) = &mut self.on_foot {
                    on_foot.lean(LEAN_M * up.signum() as f32);
                }
            }
            look_closer::Action::Back => {
                if let Some((on_foot, _)) = &mut self.on_foot {
                    on_foot.step_back();
                }
            }
        }
        None
    }

    /// The bubble as it is seen from where the eye is.
    fn gauge(&self, thing: Thing, texts: &Texts) -> Option<Gauge> {
        let Thing::Gauge(rail) = thing else {
            return None;
        };
        let (on_foot, site) = self.on_foot.as_ref()?;
        let seen_rad = self.walk.bubble_rad(rail, on_foot.reads_from(site))?;
        // The image lies as far to the other side of where the bubble stands.
        let stands_rad = gauge_shows_rad(&Rig::new(self.walk.line()), rail);
        Some(Gauge::Bubble(Bubble {
            name: texts.say(&thing.name(self.walk.line())),
            seen_deg: deg(seen_rad),
            image_deg: deg(2.0 * stands_rad - seen_rad),
            scale_deg: SCALE_DEG,
            right_deg: None,
        }))
    }

    fn answer(&self, thing: Thing) -> Option<Answer> {
        let mut decisions = self.walk.decisions().iter().rev();
        decisions
            .find(|decision| decision.thing == thing)
            .map(|decision| decision.answer)
    }

    fn all_rows(&self) -> Vec<Row> {
        let things = Thing::all(self.walk.line()).into_iter();
        let things = things.filter(|thing| *thing != Thing::Size).map(Row::Thing);
        let mut rows = Vec::new();
        if self.walk.is_open() {
            rows.extend([Row::Crank(End::Near), Row::Crank(End::Far), Row::Size]);
        }
        rows.extend(things);
        rows
    }

    fn row(&self, id: usize) -> Option<Row> {
        self.all_rows().get(id).copied()
    }

    fn rows(&self, texts: &Texts) -> Vec<panel::Row> {
        let say = |id: &'static str| texts.say(&Message::new(id));
        let row = |(id, row): (usize, Row)| {
            let thing = row.thing();
            let stands = match self.answer(thing) {
                None => (Mark::Off, "setout-undecided"),
                Some(Answer::Accepted) => (Mark::Ok, "setout-accepted"),
                Some(Answer::Reported) => (Mark::Note, "setout-reported"),
            };
            let (group, name, control) = match row {
                Row::Crank(rail) => (
                    "setout-group-set",
                    texts.say(&Message::new("setout-crank").with("rail", words::rail(rail))),
                    Some(panel::Control::Stepper {
                        value: self.turned(rail, texts),
                        ends: [false, false],
                    }),
                ),
                Row::Size => (
                    "setout-group-set",
                    texts.say(&thing.name(self.walk.line())),
                    Some(panel::Control::Choice {
                        options: holes()
                            .into_iter()
                            .map(|hole| texts.say(&stamped(hole)))
                            .collect(),
                        chosen: self.hole(),
                    }),
                ),
                Row::Thing(thing) => (
                    "setout-group-walk",
                    texts.say(&thing.name(self.walk.line())),
                    None,
                ),
            };
            panel::Row {
                id,
                group: say(group),
                name: parts::sentence(&name),
                stands: (stands.0, parts::sentence(&say(stands.1))),
                control,
            }
        };
        self.all_rows().into_iter().enumerate().map(row).collect()
    }

    /// How far a jack has been cranked from where it was found.
    fn turned(&self, rail: End, texts: &Texts) -> String {
        let rise = |line: &LineSpec| {
            let rig = Rig::new(line);
            rig.on_rail(rail, line.rack.length_m, 0.0).y_m
        };
        let risen_mm = 1000.0 * (rise(self.walk.line()) - rise(&self.as_found));
        texts.say(&Message::new("setout-risen").measured("mm", risen_mm, 0))
    }

    /// The hole that the pins are in, or the one nearest to it.
    fn hole(&self) -> usize {
        let setting_m = self.walk.line().escapement.size_setting_m;
        let off =
            |hole: &crate::domain::pipe::SizeSystem| (hole.mean_diameter_m() - setting_m).abs();
        let holes = holes();
        let nearest = (0..holes.len()).min_by(|a, b| off(&holes[*a]).total_cmp(&off(&holes[*b])));
        nearest.unwrap_or_default()
    }
}

/// What keys do on foot.
fn hints(bindings: &Bindings, texts: &Texts) -> Vec<String> {
    let mut lines: Vec<String> = on_foot::HINTS
        .iter()
        .map(|id| texts.say(&Message::new(*id)))
        .collect();
    let key = |act| bindings.said(act, texts);
    let bound = Message::new("foot-bound")
        .with("list", key(Act::List))
        .with("start", key(Act::Done))
        .with("fold", key(Act::Fold));
    lines.push(texts.say(&bound));
    lines
}

impl Row {
    fn thing(self) -> Thing {
        match self {
            Self::Crank(rail) => Thing::Gauge(rail),
            Self::Size => Thing::Size,
            Self::Thing(thing) => thing,
        }
    }
}
