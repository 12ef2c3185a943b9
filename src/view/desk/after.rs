//! After a run: what happened, in three beats; what one would have done; the debrief with its timeline.
//!
//! What came of what is found by running the line again, on another thread: until it is known, the
//! world stands as it came to rest.

use std::sync::Arc;
use std::sync::mpsc::{self, Receiver, TryRecvError};
use std::thread;

use bevy_egui::egui::Ui;

use super::class::Class;
use super::house::House;
use super::{Frame, Over, Turn};
use crate::domain::finding::Severity;
use crate::judge::time_s;
use crate::session::debrief::{self, Debrief};
use crate::session::finished::{Finished, Inquest};
use crate::session::lookback::Lookback;
use crate::session::story::{Beat, Question, Reflection, Story};
use crate::sim::world::DT_S;
use crate::texts::{Message, Texts};
use crate::view::camera::{CameraName, Viewpoint};
use crate::view::icons::{Mark, MomentMark};
use crate::view::panels::debrief as page;
use crate::view::panels::debrief::{Curve, Moment};
use crate::view::panels::what_happened::{self, BeatKind, Stage};
use crate::view::shown::Shown;
use crate::view::yard::Yard;

/// A beat is shown from so long before its moment until so long after it, s.
const LEAD_S: f64 = 2.5;
const TRAIL_S: f64 = 2.0;
/// And at this part of its speed.
const BEAT_SPEED: f64 = 0.5;

/// What running the line again has found.
struct Found {
    story: Option<Story>,
    question: Option<Question>,
    /// Where nothing went wrong: what came nearest to it.
    reflection: Option<Reflection>,
    debrief: Debrief,
    plots: Vec<debrief::Plot>,
    report: String,
}

enum Finding {
    /// On the other thread.
    Sought {
        found: Receiver<Option<Box<Found>>>,
        inquest: Arc<Inquest>,
    },
    Found(Box<Found>),
    /// The other thread came to no end.
    Lost,
}

enum Page {
    Happened(what_happened::State),
    Debrief(page::State),
}

/// See the module's text.
pub struct After {
    finished: Arc<Finished>,
    lookback: Lookback,
    finding: Finding,
    /// A class that predicted, until it has seen what came.
    class: Option<Class>,
    page: Page,
    /// The moment that is shown, and whether it runs on, how fast, and until when.
    at_s: f64,
    plays: Option<f64>,
    until_s: f64,
    viewpoint: Viewpoint,
    saved: Option<String>,
    jumped: bool,
    passed_s: f32,
}

impl After {
    pub fn new(finished: Finished, class: Option<Class>, lang: crate::texts::Lang) -> Self {
        let finished = Arc::new(finished);
        let inquest = Arc::new(Inquest::default());
        let (tell, found) = mpsc::channel();
        let (run, progress) = (Arc::clone(&finished), Arc::clone(&inquest));
        thread::spawn(move || {
            // Nobody listens any more where the debrief has been left.
            let _ = tell.send(find(&run, &progress, lang).map(Box::new));
        });
        let end_s = time_s(finished.played.log.ticks);
        Self {
            lookback: Lookback::default(),
            finding: Finding::Sought { found, inquest },
            class,
            page: Page::Happened(what_happened::State::default()),
            at_s: end_s,
            plays: None,
            until_s: end_s,
            viewpoint: Viewpoint::new(CameraName::Orbit, finished.played.line.rig()),
            saved: None,
            jumped: true,
            passed_s: 0.0,
            finished,
        }
    }

    pub fn caption(&self) -> &'static str {
        match (&self.finding, &self.page) {
            (Finding::Sought { .. }, _) => "window-finding",
            (_, Page::Happened(_)) => "window-happened",
            (_, Page::Debrief(_)) => "window-debrief",
        }
    }

    pub fn is_debrief(&self) -> bool {
        matches!(self.page, Page::Debrief(_)) && self.found().is_some()
    }

    pub fn moves(&self) -> bool {
        self.plays.is_some() || matches!(self.finding, Finding::Sought { .. })
    }

    pub fn viewpoint(&self) -> Viewpoint {
        self.viewpoint
    }

    fn length_s(&self) -> f64 {
        time_s(self.finished.played.log.ticks)
    }

    pub fn drive(&mut self, frame: &Frame) {
        self.hear();
        let [left, up] = frame.felt.turn_rad;
        self.viewpoint.look_round(left, up);
        self.viewpoint.orbit = self.viewpoint.orbit.moved(0.0, 0.0, frame.felt.nearer);
        self.passed_s = 0.0;
        if let Some(speed) = self.plays {
            let on_s = (frame.wall_s * speed).min(0.1);
            self.at_s += on_s;
            self.passed_s = on_s as f32;
            if self.at_s >= self.until_s {
                self.at_s = self.until_s;
                self.plays = None;
            }
        }
    }

    /// Takes what the other thread has found.
    fn hear(&mut self) {
        let Finding::Sought { found, .. } = &self.finding else {
            return;
        };
        match found.try_recv() {
            Ok(Some(found)) => {
                if found.story.is_none() {
                    self.page = Page::Debrief(page::State::default());
                }
                self.finding = Finding::Found(found);
                self.begin_beat(0);
            }
            Ok(None) | Err(TryRecvError::Disconnected) => {
                self.finding = Finding::Lost;
                self.page = Page::Debrief(page::State::default());
            }
            Err(TryRecvError::Empty) => {}
        }
    }

    fn found(&self) -> Option<&Found> {
        match &self.finding {
            Finding::Found(found) => Some(found),
            _ => None,
        }
    }

    fn beat(&self, beat: usize) -> Option<&Beat> {
        let story = self.found()?.story.as_ref()?;
        story.beats().get(beat).copied()
    }

    /// Shows a beat of the story from where it is seen best.
    fn begin_beat(&mut self, beat: usize) {
        let Some(beat) = self.beat(beat).cloned() else {
            return;
        };
        let at_s = time_s(beat.tick);
        self.at_s = (at_s - LEAD_S).max(0.0);
        self.until_s = (at_s + TRAIL_S).min(self.length_s());
        self.plays = Some(BEAT_SPEED);
        let rig = self.finished.played.line.rig();
        self.viewpoint = Viewpoint::of_moment(beat.camera, beat.subject, rig);
        self.jumped = true;
    }

    /// Puts into the yard what is seen now.
    pub fn look(&mut self, yard: &mut Yard, changed: bool) {
        let tick = (self.at_s / f64::from(DT_S)).floor().max(0.0) as u64;
        let share = (self.at_s / f64::from(DT_S)).fract() as f32;
        let line = self.finished.look_at(&mut self.lookback, tick);
        if changed {
            yard.show(line);
        }
        let shown = Shown::of(line);
        yard.shown = if share > 0.0 && self.plays.is_some() {
            let later = self.finished.look_at(&mut self.lookback, tick + 1);
            shown.between(&Shown::of(later), share)
        } else {
            shown
        };
        yard.passed_s = if core::mem::take(&mut self.jumped) {
            0.0
        } else {
            self.passed_s
        };
    }

    pub fn show(&mut self, ui: &mut Ui, house: &House, for_trainer: bool) -> Option<Turn> {
        let texts = house.texts();
        if let Some(class) = &mut self.class {
            if class.show(ui, texts, Some(self.finished.outcome)).is_some() {
                self.class = None;
                self.begin_beat(0);
            }
            return None;
        }
        if let Finding::Sought { inquest, .. } = &self.finding {
            let (done, of) = inquest.progress();
            let counts = self.finished.course.mode.counts();
            let model = what_happened::Wait {
                done,
                of,
                counts,
                for_trainer,
            };
            return what_happened::wait(ui, texts, model).then_some(Turn::Exercises);
        }
        match &mut self.page {
            Page::Happened(state) => {
                let mut state = core::mem::take(state);
                let action = self
                    .happened(texts)
                    .and_then(|model| what_happened::show(ui, texts, &model, &mut state));
                self.page = Page::Happened(state);
                match action {
                    Some(what_happened::Action::Beat(beat)) => self.begin_beat(beat),
                    Some(what_happened::Action::Debrief) => self.open_debrief(),
                    Some(what_happened::Action::Answered { .. }) | None => {}
                }
                None
            }
            Page::Debrief(state) => {
                let mut state = core::mem::take(state);
                let model = self.page(texts, house, for_trainer);
                let action = page::show(ui, texts, &model, &mut state);
                self.page = Page::Debrief(state);
                self.do_on_page(action?, house)
            }
        }
    }

    fn open_debrief(&mut self) {
        self.page = Page::Debrief(page::State::default());
        self.viewpoint = Viewpoint::new(CameraName::Orbit, self.finished.played.line.rig());
        self.plays = None;
        self.jumped = true;
    }

    fn happened(&self, texts: &Texts) -> Option<what_happened::Model> {
        let found = self.found()?;
        let story = found.story.as_ref()?;
        let kinds = [BeatKind::Act, BeatKind::TooLate, BeatKind::Outcome];
        let say_all = |messages: &[Message]| {
            let said: Vec<String> = messages.iter().map(|message| texts.say(message)).collect();
            said.join(" ")
        };
        let answer = story.answer();
        let answer = core::iter::once(&answer.act)
            .chain(&answer.consequence)
            .chain(&answer.right);
        let choices = found.question.iter().flat_map(|question| &question.choices);
        Some(what_happened::Model {
            sentence: texts.say(&story.sentence),
            mark: Some(mark(story.told().kind.severity())),
            beats: story
                .beats()
                .into_iter()
                .zip(kinds)
                .map(|(beat, kind)| what_happened::Beat {
                    kind,
                    caption: say_all(&beat.captions),
                    time_s: time_s(beat.tick),
                })
                .collect(),
            right: choices.clone().position(|choice| choice.right),
            choices: choices.map(|choice| texts.say(&choice.said)).collect(),
            answer: answer.map(|message| texts.say(message)).collect(),
        })
    }

    fn page(&self, texts: &Texts, house: &House, for_trainer: bool) -> page::Model {
        let found = self.found();
        let debrief = found.map(|found| &found.debrief);
        let findings = debrief.into_iter().flat_map(|debrief| &debrief.findings);
        let marks = debrief.into_iter().flat_map(|debrief| &debrief.marks);
        let mut leading: Vec<String> = debrief
            .into_iter()
            .flat_map(|debrief| &debrief.leading)
            .map(|told| texts.say(&told.said))
            .collect();
        if let Some(reflection) = found.and_then(|found| found.reflection.as_ref()) {
            leading.extend(reflection.answer.iter().map(|message| texts.say(message)));
        }
        page::Model {
            exercise: house.name_of(&self.finished.course),
            verdict: debrief.map(|debrief| {
                let mark = if debrief.passed {
                    Mark::Ok
                } else {
                    Mark::Danger
                };
                (mark, texts.say(&debrief.result))
            }),
            findings: findings
                .map(|finding| page::Finding {
                    mark: mark(finding.severity),
                    title: texts.say(&finding.title),
                    severity: texts.say(&finding.severity_word),
                    points: finding.points,
                    time_s: time_s(finding.tick),
                    lines: finding
                        .lines
                        .iter()
                        .map(|told| texts.say(&told.said))
                        .collect(),
                })
                .collect(),
            leading,
            moments: marks.map(|mark| moment(mark, texts)).collect(),
            curves: found
                .into_iter()
                .flat_map(|found| &found.plots)
                .flat_map(|plot| curves(plot, texts))
                .collect(),
            length_s: self.length_s(),
            now_s: self.at_s,
            is_playing: self.plays.is_some(),
            may_take_over: true,
            saved: self.saved.clone(),
            has_story: found.is_some_and(|found| found.story.is_some()),
            for_trainer,
        }
    }

    fn do_on_page(&mut self, action: page::Action, house: &House) -> Option<Turn> {
        match action {
            page::Action::Seek(at_s) => {
                self.at_s = at_s.clamp(0.0, self.length_s());
                self.plays = None;
                self.jumped = true;
            }
            page::Action::Play(plays) => {
                if self.at_s >= self.length_s() {
                    self.at_s = 0.0;
                    self.jumped = true;
                }
                self.until_s = self.length_s();
                self.plays = plays.then_some(1.0);
            }
            page::Action::TakeOver(at_s) => {
                let tick = (at_s / f64::from(DT_S)).round().max(0.0) as u64;
                let run = self.finished.try_again_from(tick);
                return Some(Turn::Start(Box::new(run)));
            }
            page::Action::SaveReport => {
                let report = self.found().map(|found| found.report.clone());
                let stem = self.finished.course.id.clone();
                let saved = house.save_report(&report.unwrap_or_default(), &stem);
                match saved {
                    Ok(place) => self.saved = Some(place),
                    Err(fault) => return Some(Turn::Over(Over::Notice(fault))),
                }
            }
            page::Action::Story => {
                self.page = Page::Happened(what_happened::State {
                    stage: Stage::Story,
                    ..what_happened::State::default()
                });
                self.begin_beat(0);
            }
            page::Action::Leave => return Some(Turn::Exercises),
        }
        None
    }
}

impl Drop for After {
    fn drop(&mut self) {
        if let Finding::Sought { inquest, .. } = &self.finding {
            inquest.cancel();
        }
    }
}

/// Runs the line again for all that is asked of it. None where it was called off.
fn find(finished: &Finished, inquest: &Inquest, lang: crate::texts::Lang) -> Option<Found> {
    let inquiries = finished.inquire(inquest)?;
    let (rerun, played) = (finished.rerun(), &finished.played);
    let story = Story::of(&rerun, &played.verdict, &inquiries);
    let question = story
        .as_ref()
        .map(|story| story.question(&rerun, finished.course.seed));
    let reflection = match story {
        Some(_) => None,
        None => Reflection::of(&played.verdict, finished.course.seed),
    };
    let traces = debrief::trace(&played.spec, &played.log);
    let debrief = Debrief::of(
        &played.spec.people,
        &played.log,
        &played.verdict,
        &inquiries,
    );
    Some(Found {
        question,
        reflection,
        debrief,
        plots: debrief::plots(&traces, &played.spec),
        report: finished.report(inquiries).text(Texts::of(lang)),
        story,
    })
}

fn mark(severity: Severity) -> Mark {
    match severity {
        Severity::Critical => Mark::Danger,
        Severity::Major => Mark::Caution,
        Severity::Minor => Mark::Note,
    }
}

fn moment(mark: &debrief::Mark, texts: &Texts) -> Moment {
    Moment {
        time_s: time_s(mark.tick),
        mark: match mark.kind {
            debrief::MarkKind::Act | debrief::MarkKind::Event => MomentMark::Cycle,
            debrief::MarkKind::Finding(Severity::Critical) => MomentMark::Critical,
            debrief::MarkKind::Finding(_) => MomentMark::Finding,
        },
        text: texts.say(&mark.said),
    }
}

/// The lines of a plot.
fn curves<'a>(plot: &'a debrief::Plot, texts: &'a Texts) -> impl Iterator<Item = Curve> + 'a {
    plot.series.iter().map(|series| Curve {
        name: texts.say(&series.name),
        unit: plot.unit.to_owned(),
        points: series
            .parts
            .iter()
            .flatten()
            .map(|&(time_s, value)| [time_s, value])
            .collect(),
        limits: plot.limits.iter().map(|limit| limit.value).collect(),
        digits: 2,
    })
}
