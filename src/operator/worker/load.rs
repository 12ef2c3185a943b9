//! The loader's sticks, one at a time, on to a chocked row.

use super::{JOB_PATIENCE_S, Step, Worker};
use crate::domain::rig::Rig;
use crate::sim::controls::{Call, Controls};
use crate::sim::line::{Line, StickPlace};

/// How long the loader is waited for, s.
const PATIENCE_S: f64 = 300.0;

/// How far it is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Loading {
    Chock,
    Bring,
    Unchock,
}

/// Weight of what lies on the rack with one stick more, N.
fn with_one_more_n(rig: &Rig, line: &Line) -> f64 {
    let on_rack = line
        .present()
        .filter(|&stick| line.place(stick) == StickPlace::Held)
        .map(|stick| line.world().pipe(stick).weight_n());
    let more = rig.spec().sticks.last().map(|stick| stick.pipe.weight_n());
    on_rack.chain(more).sum()
}

impl Worker {
    /// Whether the row is chocked, and whoever did it is away again.
    pub(super) fn is_chocked(&self, line: &Line) -> bool {
        line.chocks().are_set() && self.all_idle(line)
    }

    /// Whether the chocks are away, and whoever took them too.
    pub(super) fn is_unchocked(&self, line: &Line) -> bool {
        line.chocks().raised_fractions() == [0.0; 2] && self.all_idle(line)
    }

    /// Whether there is another stick to bring, and the rack may take it.
    pub(super) fn may_load(&self, line: &Line) -> bool {
        let left = line.loader().is_some_and(|loader| loader.sticks_left() > 0);
        let allowed = with_one_more_n(line.rig(), line) <= line.rig().spec().rack.rated_load_n;
        left && (allowed || !self.habits.minds_plate)
    }

    pub(super) fn load(&mut self, line: &Line, loading: Loading) -> Controls {
        // Whoever works at the rack works on an isolated line.
        let mut controls = self.load_next(line, loading);
        controls.isolated = self.habits.chocks_for_loading;
        controls
    }

    fn load_next(&mut self, line: &Line, loading: Loading) -> Controls {
        let Some(loader) = line.loader() else {
            return self.go_to(Step::Settle, line);
        };
        let been_s = self.been_s(line);
        match loading {
            Loading::Chock => {
                let none = line.present().next().is_none();
                let late = been_s > JOB_PATIENCE_S;
                if !self.habits.chocks_for_loading || self.is_chocked(line) || none || late {
                    return self.go_to(Step::Load(Loading::Bring), line);
                }
                self.say(Call::Chock)
            }
            Loading::Bring => {
                let parked = loader.is_parked() && loader.asked().is_none();
                let brought = self.said && parked && been_s > 2.0;
                if brought || been_s > PATIENCE_S {
                    let next = if brought && self.may_load(line) {
                        Loading::Chock
                    } else {
                        Loading::Unchock
                    };
                    return self.go_to(Step::Load(next), line);
                }
                self.say(Call::Load)
            }
            Loading::Unchock => {
                if self.is_unchocked(line) || been_s > JOB_PATIENCE_S {
                    return self.go_to(Step::Clear, line);
                }
                self.say(Call::Unchock)
            }
        }
    }
}
