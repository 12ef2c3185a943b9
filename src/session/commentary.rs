//! What is said while a run goes on: radio calls and horn, what happens, and for a demonstration the
//! steps with their reasons and the acts that are in error. Captions, for those who hear nothing.

use crate::domain::limits::DROPPED;
use crate::domain::spec::{Duty, PersonSpec};
use crate::operator::Doing;
use crate::scenario::Scenario;
use crate::session::coach::{Coach, StepId};
use crate::sim::controls::{Button, Call, Controls};
use crate::sim::line::{EventKind, Line};
use crate::texts::{Message, Texts};
use crate::words;

/// A blow on the gate that is worth a word, m/s.
const BLOW_M_PER_S: f64 = 0.3;

/// Whose words they are.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Speaker {
    /// Somebody of the crew, by radio.
    Crew(Duty),
    /// A sound.
    Sound,
    /// Whoever explains.
    Commentator,
}

/// Something said at a tick.
#[derive(Clone, Debug, PartialEq)]
pub struct Caption {
    pub tick: u64,
    pub speaker: Speaker,
    pub said: Message,
    /// More to it, in a second sentence.
    pub why: Option<Message>,
}

impl Caption {
    fn new(tick: u64, speaker: Speaker, said: Message) -> Self {
        Self {
            tick,
            speaker,
            said,
            why: None,
        }
    }

    /// As it is read: who speaks, and what.
    pub fn text(&self, texts: &Texts) -> String {
        let said = texts.say(&self.said);
        let said = match &self.why {
            Some(why) => format!("{said} {}", texts.say(why)),
            None => said,
        };
        match self.speaker {
            Speaker::Crew(duty) => texts.say(
                &Message::new("caption-crew")
                    .with("who", words::duty(duty))
                    .with("said", said),
            ),
            Speaker::Sound | Speaker::Commentator => said,
        }
    }
}

/// What an event is worth saying; none where it is of the ordinary.
pub fn caption(kind: &EventKind, people: &[PersonSpec]) -> Option<Message> {
    match *kind {
        EventKind::CycleBegan { .. }
        | EventKind::CycleEnded
        | EventKind::ZoneLeft { .. }
        | EventKind::StopSaid
        | EventKind::StopOver
        | EventKind::ChockSet { .. }
        | EventKind::ChockTaken { .. }
        | EventKind::SetDown { .. }
        | EventKind::HeldByLoader { .. } => None,
        EventKind::GateStruck { speed_m_per_s, .. } if speed_m_per_s < BLOW_M_PER_S => None,
        EventKind::Landed { fall_m_per_s, .. } if fall_m_per_s < DROPPED.value => None,
        _ => Some(words::event(kind, people)),
    }
}

/// Hears radio and horn and sees what happens, tick by tick. It knows nothing that a person at the line
/// does not, so that it may caption an assessment too.
#[derive(Clone, Debug)]
pub struct Captions {
    before: Controls,
    told: usize,
    chocked: bool,
}

impl Captions {
    pub fn new(line: &Line) -> Self {
        Self {
            before: Controls::default(),
            told: line.events().len(),
            chocked: line.chocks().are_set(),
        }
    }

    /// Takes a tick that has just been made under the given controls.
    pub fn see(&mut self, line: &Line, done: &Controls) -> Vec<Caption> {
        let tick = line.tick_count();
        let before = core::mem::replace(&mut self.before, *done);
        let crew = |duty: Duty, said: Message| Caption::new(tick, Speaker::Crew(duty), said);
        let mut captions = Vec::new();
        if done.has(Button::Horn) && !before.has(Button::Horn) {
            captions.push(Caption::new(tick, Speaker::Sound, "sound-horn".into()));
        }
        if done.emergency_stop && !before.emergency_stop {
            captions.push(Caption::new(tick, Speaker::Sound, "sound-stop".into()));
        }
        if let Some(call) = done.call.filter(|_| before.call != done.call) {
            captions.push(crew(Duty::Operator, order(call)));
        }
        for event in line.events().get(self.told..).unwrap_or_default() {
            captions.extend(answer(&event.kind).map(|(duty, said)| crew(duty, said)));
        }
        self.told = line.events().len();
        let chocked = line.chocks().are_set();
        if chocked && !self.chocked {
            captions.push(crew(Duty::Rigger, "radio-chocked".into()));
        }
        self.chocked = chocked;
        captions
    }
}

/// What the operator says by radio.
fn order(call: Call) -> Message {
    Message::new(match call {
        Call::Clear => "radio-clear",
        Call::Load => "radio-load",
        Call::Hold => "radio-hold",
        Call::Release => "radio-release",
        Call::Chock => "radio-chock",
        Call::Unchock => "radio-unchock",
        Call::BarFromEnd(end) => {
            return Message::new("radio-bar-from-end").with("end", words::end(end));
        }
        Call::BarFromBelow => "radio-bar-from-below",
        Call::Clamp => "radio-clamp",
        Call::Unclamp => "radio-unclamp",
        Call::Repair(item) => {
            return Message::new("radio-repair").with("item", words::item(item));
        }
    })
}

/// What one of the crew says to what has happened.
fn answer(kind: &EventKind) -> Option<(Duty, Message)> {
    let stick = |id: &'static str, stick| Message::new(id).with("stick", words::stick(stick));
    Some(match *kind {
        EventKind::StopSaid => (Duty::Spotter, "radio-stop".into()),
        EventKind::StopOver => (Duty::Spotter, "radio-stop-over".into()),
        EventKind::HeldByLoader { stick: one } => (Duty::LoaderDriver, stick("radio-held", one)),
        EventKind::SetDown { stick: one } => (Duty::LoaderDriver, stick("radio-set-down", one)),
        EventKind::Clamped { stick: one, .. } => (Duty::Technician, stick("radio-clamped", one)),
        EventKind::NotInReach => (Duty::Technician, "radio-not-in-reach".into()),
        EventKind::Joined { stick: one } => (Duty::Technician, stick("radio-joined", one)),
        EventKind::Repaired { item } => (
            Duty::Rigger,
            Message::new("radio-repaired").with("item", words::item(item)),
        ),
        EventKind::NotIsolated { .. } => (Duty::Rigger, "radio-not-isolated".into()),
        _ => return None,
    })
}

/// Explains a demonstration: the steps and their reasons, what happens, and every act in error.
#[derive(Clone, Debug)]
pub struct Commentator {
    coach: Coach,
    captions: Captions,
    told: usize,
    acts: usize,
    at: Option<StepId>,
}

impl Commentator {
    pub fn new(scenario: &Scenario, line: &Line) -> Self {
        Self {
            coach: Coach::new(scenario, line),
            captions: Captions::new(line),
            told: line.events().len(),
            acts: 0,
            at: None,
        }
    }

    /// Takes a tick that has just been made under the given controls.
    pub fn see(&mut self, line: &Line, done: &Controls) -> Vec<Caption> {
        let tick = line.tick_count();
        let mut said = self.captions.see(line, done);
        for event in line.events().get(self.told..).unwrap_or_default() {
            let people = &line.rig().spec().people;
            let happened = caption(&event.kind, people).into_iter();
            said.extend(happened.map(|what| Caption::new(tick, Speaker::Commentator, what)));
        }
        self.told = line.events().len();
        self.coach.look(line, done);
        let acts = self.coach.left_path().len();
        if acts > self.acts {
            self.acts = acts;
            let off = self.coach.advice(line).off_path.into_iter();
            said.extend(off.map(|what| Caption::new(tick, Speaker::Commentator, what)));
        }
        if let Some((what, why)) = self.next_step(line) {
            said.push(Caption {
                why: Some(why),
                ..Caption::new(tick, Speaker::Commentator, what)
            });
        }
        said
    }

    /// The step that has just begun, and why it is done; none while it goes on.
    fn next_step(&mut self, line: &Line) -> Option<(Message, Message)> {
        let doing = self.coach.doing(line);
        let step = StepId::Work(doing);
        if self.at == Some(step) {
            return None;
        }
        self.at = Some(step);
        let what = step_name(doing)?;
        Some((what, crate::session::coach::why(doing)))
    }
}

/// What is done in a step, for those who watch; none where there is nothing to see.
fn step_name(doing: Doing) -> Option<Message> {
    let of = |id: &'static str, stick| Message::new(id).with("stick", words::stick(stick));
    Some(match doing {
        Doing::HeldUp => "step-held-up".into(),
        Doing::Try(motion) => Message::new("step-try").with("motion", words::motion(motion)),
        Doing::Repair(item) => Message::new("step-repair").with("item", words::item(item)),
        Doing::Clear => "step-clear".into(),
        Doing::Chock => "step-chock".into(),
        Doing::Load => "step-load".into(),
        Doing::Unchock | Doing::UnchockHung => "step-unchock".into(),
        Doing::RaiseReceiver => "step-receiver-up".into(),
        Doing::Settle => return None,
        Doing::Horn => "step-horn".into(),
        Doing::Feed => "step-feed".into(),
        Doing::Stop => "step-hung".into(),
        Doing::ChockHung => "step-chock-hung".into(),
        Doing::Hold => "step-hold".into(),
        Doing::Release => "step-release".into(),
        Doing::Bar => "step-bar".into(),
        Doing::Receive(stick) => of("step-receive", stick),
        Doing::Lower(stick) => of("step-lower", stick),
        Doing::Roll(stick) => of("step-roll", stick),
        Doing::Raise(stick) => of("step-raise", stick),
        Doing::Turn(stick) => of("step-turn", stick),
        Doing::Align(stick) => of("step-align", stick),
        Doing::Advance(stick) => of("step-advance", stick),
        Doing::Clamp(stick) => of("step-clamp", stick),
        Doing::Join(stick) => of("step-join", stick),
        Doing::Reset => "step-reset".into(),
        Doing::Secure => return None,
        Doing::Done { given_up: false } => "step-done".into(),
        Doing::Done { given_up: true } => "step-left-safe".into(),
    })
}
