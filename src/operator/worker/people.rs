//! Minding the people: everybody out before a stick can move, and a stop where somebody comes in.

use super::{HORN_S, LOOKS_EVERY_S, Loading, Step, Worker, hangs, isolated};
use crate::domain::envelope::inside_either;
use crate::domain::spec::Duty;
use crate::sim::controls::{Button, Call, Controls};
use crate::sim::line::{Line, State, StickPlace};

/// How long it waits for people to be out of the line before it does something else, s.
const PATIENCE_S: f64 = 60.0;

/// Whether somebody on foot is in the zone, or where a loose stick can come to.
fn somebody_inside(line: &Line) -> bool {
    let Some(watch) = line.watch() else {
        return false;
    };
    let mut people = line.people().iter();
    people.any(|person| {
        person.is_on_foot() && inside_either(person.place(), watch.zone(), watch.envelope())
    })
}

fn is_lost_any(line: &Line) -> bool {
    let mut present = line.present();
    present.any(|stick| line.place(stick) == StickPlace::Lost)
}

impl Worker {
    /// Nothing moves and the power is off for as long as somebody is inside; the clock of the step
    /// stands meanwhile. None where there is no need.
    pub(super) fn held_up(&mut self, line: &Line) -> Option<Controls> {
        if !self.habits.heeds_spotter || !self.is_live() {
            return None;
        }
        let now_s = line.time_s();
        let inside = somebody_inside(line);
        if is_lost_any(line) && !inside {
            // What has fallen is cleared away by others, with the line isolated.
            self.given_up = true;
            return Some(isolated(self.go_to(Step::Secure, line)));
        }
        if !line.people().spotter_says_stop() && !inside {
            if self.held_up_s.take().is_some() && matches!(self.step, Step::Horn | Step::Feed) {
                // The horn is sounded anew; a stick that was let through is waited for.
                let next = Self::coming(line).map_or(Step::Settle, Step::Receive);
                self.go_to(next, line);
            }
            return None;
        }
        self.since_s += LOOKS_EVERY_S;
        let called = self.held_up_s.is_some();
        let since_s = *self.held_up_s.get_or_insert(now_s);
        let horn = now_s - since_s < HORN_S;
        Some(isolated(Controls {
            held: horn.then_some(Button::Horn).into_iter().collect(),
            call: (!called).then_some(Call::Clear),
            ..Controls::default()
        }))
    }

    /// Whether it is at something during which a stick can move: then stop means stop.
    fn is_live(&self) -> bool {
        !matches!(
            self.step,
            Step::Load(_)
                | Step::Recover(_)
                | Step::Clamp(_)
                | Step::Join(_)
                | Step::Secure
                | Step::Done
        )
    }

    /// Everybody out, before the first stick can move.
    pub(super) fn clear(&mut self, line: &Line) -> Controls {
        let out = line.watch().is_none_or(|watch| watch.nobody_inside());
        let told = self.said || self.cleared;
        if !self.habits.clears || (out && told) || self.been_s(line) > PATIENCE_S {
            self.cleared = true;
            // Nothing is loaded behind a stick that hangs.
            let next = if self.may_load(line) && !hangs(line) {
                Step::Load(Loading::Chock)
            } else {
                Step::Settle
            };
            return self.go_to(next, line);
        }
        self.say(Call::Clear)
    }

    /// Whether nobody is at work or on the way to it or from it.
    pub(super) fn all_idle(&self, line: &Line) -> bool {
        let mut people = line.people().iter();
        people.all(|person| {
            person.spec().duty == Duty::Visitor
                || matches!(person.state(), State::Standing | State::Down | State::InCab)
        })
    }
}
