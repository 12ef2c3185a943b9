//! The coach's words: one sentence what, one sentence why.

use super::Action;
use crate::domain::spec::Motion;
use crate::operator::Doing;
use crate::sim::controls::{Button, Controls, Held};
use crate::sim::line::{Jaws, Line};
use crate::texts::Message;
use crate::words;

/// What there is to say something about.
pub struct Said<'a> {
    pub line: &'a Line,
    pub doing: Doing,
    pub action: Option<Action>,
    pub done: &'a Controls,
}

impl Said<'_> {
    /// What to do.
    pub fn what(&self) -> Message {
        match self.action {
            Some(Action::LetGo) => self.let_go(),
            Some(Action::Say(call)) => Message::new("coach-say").with("call", words::call(call)),
            Some(Action::Isolate) if self.doing == Doing::HeldUp => "coach-stop-now".into(),
            Some(Action::Isolate) => "coach-isolate".into(),
            Some(Action::PowerOn) => "coach-power-on".into(),
            Some(Action::ReleaseStop) => "coach-release-stop".into(),
            Some(Action::Hold(held)) => self.press(held, false),
            Some(Action::Tap(held)) => self.press(held, true),
            None => self.wait(),
        }
    }

    fn let_go(&self) -> Message {
        let held = self
            .done
            .held
            .iter()
            .filter(|button| *button != Button::Horn);
        let is_clear = matches!(self.doing, Doing::Receive(_)) && self.done.has(Button::Feed);
        match held.last() {
            Some(Button::Feed) if is_clear => "coach-let-go-clear".into(),
            Some(button) if self.doing != Doing::HeldUp => {
                Message::new("coach-let-go").with("button", words::button(button))
            }
            _ => "coach-stop-now".into(),
        }
    }

    fn press(&self, held: Held, taps: bool) -> Message {
        let id = match self.doing {
            Doing::HeldUp | Doing::Horn => "coach-horn",
            Doing::Try(motion) => {
                return Message::new("coach-try")
                    .with("button", named(held))
                    .with("motion", words::motion(motion));
            }
            Doing::Feed => "coach-feed",
            Doing::RaiseReceiver => "coach-receiver-up",
            Doing::Lower(_) => "coach-lower",
            Doing::Roll(_) => "coach-roll",
            Doing::Raise(_) if held.has(Button::LiftBothUp) => "coach-raise",
            Doing::Raise(_) | Doing::Align(_) if taps => "coach-tap-true",
            Doing::Raise(_) | Doing::Align(_) => "coach-true",
            Doing::Turn(_) => "coach-turn",
            Doing::Advance(_) if taps => "coach-tap-advance",
            Doing::Advance(_) => "coach-advance",
            Doing::Reset => "coach-reset",
            _ if taps => "coach-tap",
            _ => "coach-hold",
        };
        Message::new(id).with("button", named(held))
    }

    /// What is waited for and watched.
    fn wait(&self) -> Message {
        match self.doing {
            Doing::HeldUp | Doing::Clear => "coach-wait-people".into(),
            Doing::Try(motion) => {
                Message::new("coach-wait-motion").with("motion", words::motion(motion))
            }
            Doing::Repair(item) => {
                Message::new("coach-wait-repair").with("item", words::item(item))
            }
            Doing::Chock | Doing::ChockHung => "coach-wait-chocked".into(),
            Doing::Unchock | Doing::UnchockHung => "coach-wait-unchocked".into(),
            Doing::Load => "coach-wait-loader".into(),
            Doing::Hold => "coach-wait-held".into(),
            Doing::Release => "coach-wait-released".into(),
            Doing::Stop => "coach-wait-hung".into(),
            Doing::Bar => "coach-wait-bar".into(),
            Doing::RaiseReceiver | Doing::Settle | Doing::Horn | Doing::Feed => {
                "coach-wait-row".into()
            }
            Doing::Receive(_) => "coach-wait-still".into(),
            Doing::Lower(_) => "coach-wait-seated".into(),
            Doing::Roll(_)
            | Doing::Raise(_)
            | Doing::Turn(_)
            | Doing::Align(_)
            | Doing::Advance(_)
            | Doing::Reset => "coach-wait-stopped".into(),
            Doing::Clamp(_) => "coach-wait-clamped".into(),
            Doing::Join(_) => self.join(),
            Doing::Secure | Doing::Done { given_up: false } => "coach-all-done".into(),
            Doing::Done { given_up: true } => "coach-left-safe".into(),
        }
    }

    /// How long the joint still takes.
    fn join(&self) -> Message {
        let joint_s = self.line.rig().spec().machine.joint_time_s;
        match self.line.jaws() {
            Jaws::Clamped { since_s, .. } => {
                let left_s = (joint_s - (self.line.time_s() - since_s)).max(0.0);
                Message::new("coach-wait-joint").measured("left", left_s.ceil(), 0)
            }
            _ => "coach-wait-drawn".into(),
        }
    }
}

/// Why a step is done.
pub fn why(doing: Doing, action: Option<Action>) -> Message {
    match action {
        Some(Action::PowerOn) => return "coach-why-power-on".into(),
        Some(Action::ReleaseStop) => return "coach-why-release-stop".into(),
        Some(Action::LetGo) if !matches!(doing, Doing::HeldUp | Doing::Receive(_)) => {
            return "coach-why-let-go".into();
        }
        Some(Action::Isolate) if matches!(doing, Doing::Clamp(_) | Doing::Join(_)) => {
            return "coach-why-isolate".into();
        }
        _ => {}
    }
    Message::new(match doing {
        Doing::HeldUp => "why-in-zone",
        Doing::Try(Motion::Turn | Motion::Advance) => "coach-why-try-rollers",
        Doing::Try(_) => "why-crossed-accepted",
        Doing::Repair(_) => "why-fault-missed",
        Doing::Clear => "coach-why-clear",
        Doing::Chock => "why-loaded-unchocked",
        Doing::Load => "coach-why-load",
        Doing::Unchock | Doing::UnchockHung => "coach-why-unchock",
        Doing::RaiseReceiver => "why-fed-unready",
        Doing::Settle => "coach-why-settle",
        Doing::Horn => "why-no-horn",
        Doing::Feed => "why-let-go-early",
        Doing::Stop => "coach-why-hung",
        Doing::ChockHung => "coach-why-chock-hung",
        Doing::Hold => "coach-why-hold",
        Doing::Release => "coach-why-release",
        Doing::Bar => "coach-why-bar",
        Doing::Receive(_) if action == Some(Action::LetGo) => "coach-why-let-go-clear",
        Doing::Receive(_) => "why-hard-seat",
        Doing::Lower(_) => "coach-why-lower",
        Doing::Roll(_) | Doing::Turn(_) => "why-long-axis-off",
        Doing::Raise(_) => "why-lift-tilt",
        Doing::Align(_) => "why-high-low",
        Doing::Advance(_) => "why-gap-off",
        Doing::Clamp(_) => "coach-why-clamp",
        Doing::Join(_) => "why-joint-rushed",
        Doing::Reset => "coach-why-reset",
        Doing::Secure | Doing::Done { given_up: false } => "why-left-live",
        Doing::Done { given_up: true } => "coach-why-left-safe",
    })
}

/// Buttons in words.
pub fn named(held: Held) -> Message {
    let mut buttons = held.iter().map(words::button);
    match (buttons.next(), buttons.next()) {
        (Some(one), Some(other)) => Message::new("coach-two-buttons")
            .with("one", one)
            .with("other", other),
        (Some(one), None) => one,
        _ => "coach-no-button".into(),
    }
}
