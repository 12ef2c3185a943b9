//! What caused a finding, and until when it could have been averted, found by running the line again
//! from before it: an act is a cause if the finding does not come once the act is replaced by what
//! would have been right; the last chance is the latest moment from which any rescue averts it.
//!
//! Bounded in simulated ticks, not in time, so that the answer is the same on every machine.

use rayon::prelude::*;
use serde::Serialize;

use super::act::{Act, Deed, Part};
use super::finding::Finding;
use super::rerun::{Change, Condition, Player, Rerun, Rescue};
use super::rules::ticks;
use crate::domain::set_out::{SetOut, Setting};
use crate::domain::spec::LineSpec;
use crate::operator::{Habits, Operator, Worker};
use crate::sim::controls::{Button, Call, Controls};
use crate::sim::line::{EventKind, Line, StickPlace};

/// Acts further back than this are not tried, s.
const REACH_S: f64 = 60.0;
/// How long after the finding it still counts as come, s.
const AFTER_S: f64 = 8.0;
/// Acts that are tried for one finding, the latest first, and ticks for each.
const ACTS_MOST: usize = 8;
const ACT_TICKS_MOST: u64 = 120 * 240;
/// Ticks for a line set out otherwise, which is run from its beginning.
const SET_OUT_TICKS_MOST: u64 = 240 * 240;
/// How far back rescues are tried, s: each step twice as far as the one before.
const BACK_S: [f64; 8] = [0.25, 0.5, 1.0, 2.0, 4.0, 8.0, 16.0, 32.0];
/// Steps in which the moment is narrowed down between two of them.
const NARROWINGS: usize = 3;

/// What is known of how a finding came about.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub struct Inquiry {
    /// Acts without which it would not have come, in their order.
    pub causes: Vec<Act>,
    /// How many acts were tried, and how many of these could not be decided within the bounds.
    pub tried: usize,
    pub undecided: usize,
    /// How far back rescues were tried, s.
    pub window_s: f64,
    pub last_chance: Option<LastChance>,
    /// Everything that was tried, the latest first. For the questions of a debrief, not for reports.
    #[serde(skip)]
    pub tries: Vec<Try>,
}

/// Something that was done otherwise, and whether the finding then did not come; none where that could
/// not be decided within the bounds.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Try {
    pub act: Act,
    pub instead: Instead,
    pub averts: Option<bool>,
}

/// What was done instead of an act.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Instead {
    /// It was left undone.
    NotDone,
    ReceiverReady,
    RowStill,
    PeopleOut,
    StickStill,
    Chocked,
    FeedHeld,
    BothLifts,
    StopsHeeded,
    /// Somebody who knows the job went on from there.
    ExpertGoesOn,
    /// It was set right before pipe moved.
    SetRight,
}

/// The latest moment from which a rescue averts a finding.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct LastChance {
    pub tick: u64,
    pub rescue: Rescue,
}

/// An act and what would have been right instead.
struct Candidate {
    act: Act,
    way: Way,
}

enum Way {
    /// On the same line, from the act on.
    Change(Change),
    /// On a line set out otherwise, from the beginning.
    Line(Box<LineSpec>),
}

impl Way {
    fn instead(&self) -> Instead {
        match self {
            Self::Line(_) => Instead::SetRight,
            Self::Change(change) => match change {
                Change::NotPressed(_) | Change::NotSaid | Change::Nothing | Change::Rescue(_) => {
                    Instead::NotDone
                }
                Change::WaitFor(Condition::ReceiverReady) => Instead::ReceiverReady,
                Change::WaitFor(Condition::RowStill) => Instead::RowStill,
                Change::WaitFor(Condition::PeopleOut) => Instead::PeopleOut,
                Change::WaitFor(Condition::StickStill) => Instead::StickStill,
                Change::WaitFor(Condition::Chocked) => Instead::Chocked,
                Change::HoldFeed => Instead::FeedHeld,
                Change::BothLifts => Instead::BothLifts,
                Change::HeedStops => Instead::StopsHeeded,
                Change::TakeOver => Instead::ExpertGoesOn,
            },
        }
    }
}

impl Rerun<'_> {
    /// Inquires into a finding.
    pub fn inquire(&self, finding: &Finding) -> Inquiry {
        let candidates = self.candidates(finding);
        let verdicts: Vec<Option<bool>> = candidates
            .par_iter()
            .map(|candidate| self.without(candidate, finding))
            .collect();
        let mut inquiry = Inquiry {
            tried: candidates.len(),
            // Rounded up to whole seconds, and no longer than the run was.
            window_s: BACK_S
                .into_iter()
                .fold(0.0, f64::max)
                .min(super::time_s(finding.tick).ceil()),
            ..Inquiry::default()
        };
        for (candidate, comes) in candidates.iter().zip(verdicts) {
            inquiry.tries.push(Try {
                act: candidate.act,
                instead: candidate.way.instead(),
                averts: comes.map(|comes| !comes),
            });
            match comes {
                Some(false) => inquiry.causes.push(candidate.act),
                Some(true) => {}
                None => inquiry.undecided += 1,
            }
        }
        inquiry.causes.sort_by_key(|act| act.tick);
        inquiry.last_chance = self.last_chance(finding);
        inquiry
    }

    /// Whether the finding comes without an act.
    fn without(&self, candidate: &Candidate, finding: &Finding) -> Option<bool> {
        let until = finding.tick + ticks(AFTER_S);
        let kind = finding.kind;
        match &candidate.way {
            Way::Change(change) => {
                let from = candidate.act.tick;
                let line = self.before(from);
                let player = Player::new(self.log, change.clone(), from);
                self.comes(line, player, kind, until, ACT_TICKS_MOST)
            }
            Way::Line(spec) => {
                let player = Player::new(self.log, Change::Nothing, 0);
                self.comes(Line::build(spec), player, kind, until, SET_OUT_TICKS_MOST)
            }
        }
    }

    /// Everything that was not done as it should have been, and what would have been right.
    fn candidates(&self, finding: &Finding) -> Vec<Candidate> {
        let mut candidates = self.deviating_acts(finding);
        candidates.sort_by_key(|candidate| core::cmp::Reverse(candidate.act.tick));
        candidates.truncate(ACTS_MOST);
        candidates.extend(self.settings_left(finding));
        candidates
    }

    fn deviating_acts(&self, finding: &Finding) -> Vec<Candidate> {
        let mut found: Vec<Candidate> = Vec::new();
        let mut add = |tick: u64, deed: Deed, change: Change| {
            let known = found.iter().any(|known| {
                known.act.tick == tick
                    && matches!(&known.way, Way::Change(other) if *other == change)
            });
            if !known {
                found.push(Candidate {
                    act: Act { tick, deed },
                    way: Way::Change(change),
                });
            }
        };
        let earliest = finding.tick.saturating_sub(ticks(REACH_S));
        let mut before = self.log.controls_at(earliest);
        // One line walks along, to be looked at before every act.
        let mut line = self.before(earliest + 1);
        for change in &self.log.controls {
            if change.tick <= earliest || change.tick > finding.tick {
                continue;
            }
            let now = change.controls;
            let pressed: Vec<Button> = now.pressed_since(&before).collect();
            let let_go = before.has(Button::Feed) && !now.has(Button::Feed);
            let said = now.call.filter(|_| now.call != before.call);
            before = now;
            if pressed.is_empty() && !let_go && said.is_none() {
                continue;
            }
            self.walk(&mut line, change.tick);
            for button in pressed {
                for (deed, other) in pressed_wrongly(&line, button, &now) {
                    add(change.tick, deed, other);
                }
            }
            if let_go && line.is_any_over_gate() {
                add(change.tick, Deed::LetGo, Change::HoldFeed);
            }
            if let Some((call, other)) =
                said.and_then(|call| Some((call, said_wrongly(&line, call)?)))
            {
                add(change.tick, Deed::Called(call), other);
            }
        }
        // Somebody came in and the power was left on.
        let entered = self.log.each(|kind| {
            matches!(kind, EventKind::ZoneEntered { .. } | EventKind::StopSaid).then_some(())
        });
        for (noted, ()) in entered {
            let tick = noted.event.tick + 1;
            if (earliest..finding.tick).contains(&tick) {
                let change = Change::WaitFor(Condition::PeopleOut);
                add(tick, Deed::NotIsolated, change);
            }
        }
        // The act that the rule itself names.
        if finding.act.tick >= earliest
            && found_none_at(&found, finding.act.tick)
            && let Some(change) = counterpart(finding.act.deed)
        {
            found.push(Candidate {
                act: finding.act,
                way: Way::Change(change),
            });
        }
        found
    }

    /// What somebody who knows the job would have set out otherwise.
    fn settings_left(&self, finding: &Finding) -> Vec<Candidate> {
        if finding.tick > SET_OUT_TICKS_MOST {
            return Vec::new();
        }
        let open = self.scenario.set_out_open;
        let expert = Worker::new(Habits::SOUND);
        let left = expert.set_out(self.line, open).settings;
        // What goes by one name is set together: both rails' pitch, say.
        let mut parts: Vec<(Deed, SetOut)> = Vec::new();
        for setting in left {
            let deed = deed_of(&setting);
            match parts.iter_mut().find(|(known, _)| *known == deed) {
                Some((_, set_out)) => set_out.settings.push(setting),
                None => parts.push((
                    deed,
                    SetOut {
                        settings: vec![setting],
                    },
                )),
            }
        }
        let candidates = parts.into_iter().filter_map(|(deed, set_out)| {
            Some(Candidate {
                act: Act { tick: 0, deed },
                way: Way::Line(Box::new(set_out.applied(self.line, open).ok()?)),
            })
        });
        candidates.collect()
    }

    /// The latest moment from which any rescue averts the finding.
    fn last_chance(&self, finding: &Finding) -> Option<LastChance> {
        let mut late = finding.tick;
        for back_s in BACK_S {
            let tick = finding.tick.saturating_sub(ticks(back_s)).max(1);
            if let Some(rescue) = self.averted(finding, tick) {
                let mut best = LastChance { tick, rescue };
                for _ in 0..NARROWINGS {
                    let tick = (best.tick + late) / 2;
                    match self.averted(finding, tick) {
                        Some(rescue) => best = LastChance { tick, rescue },
                        None => late = tick,
                    }
                }
                return Some(best);
            }
            if tick == 1 {
                break;
            }
            late = tick;
        }
        None
    }

    /// Every rescue that is possible on the line as it stood before a tick.
    fn possible(&self, tick: u64) -> Vec<(Rescue, Line)> {
        let line = self.before(tick);
        let possible =
            |rescue: &Rescue| *rescue != Rescue::HoldWithLoader || line.loader().is_some();
        let rescues = Rescue::ALL.into_iter().filter(possible);
        rescues.map(|rescue| (rescue, line.fork())).collect()
    }

    /// Whether a rescue averts a finding when it begins in a tick.
    fn averts(&self, finding: &Finding, tick: u64, rescue: Rescue, line: Line) -> bool {
        let until = finding.tick + ticks(AFTER_S);
        let player = Player::new(self.log, Change::Rescue(rescue), tick);
        self.comes(line, player, finding.kind, until, ACT_TICKS_MOST) == Some(false)
    }

    /// The first rescue that averts a finding when it begins in a tick.
    fn averted(&self, finding: &Finding, tick: u64) -> Option<Rescue> {
        let averts = |(rescue, line)| self.averts(finding, tick, rescue, line).then_some(rescue);
        self.possible(tick)
            .into_par_iter()
            .filter_map(averts)
            .find_first(|_| true)
    }

    /// What came of it had somebody waited before an act, for whatever is waited for on a line: also for
    /// what there was no need to wait for.
    pub fn waits(&self, finding: &Finding, act: &Act) -> Vec<Try> {
        let conditions = [
            Condition::ReceiverReady,
            Condition::RowStill,
            Condition::PeopleOut,
            Condition::StickStill,
        ];
        let tried = |condition| {
            let candidate = Candidate {
                act: *act,
                way: Way::Change(Change::WaitFor(condition)),
            };
            Try {
                act: *act,
                instead: candidate.way.instead(),
                averts: self.without(&candidate, finding).map(|comes| !comes),
            }
        };
        conditions.into_par_iter().map(tried).collect()
    }

    /// Every rescue that begins in a tick, and whether it averts a finding.
    pub fn rescues(&self, finding: &Finding, tick: u64) -> Vec<(Rescue, bool)> {
        let tried = |(rescue, line)| (rescue, self.averts(finding, tick, rescue, line));
        self.possible(tick).into_par_iter().map(tried).collect()
    }
}

fn found_none_at(found: &[Candidate], tick: u64) -> bool {
    found.iter().all(|candidate| candidate.act.tick != tick)
}

/// What was wrong about a press as the line stood, and what would have been right.
fn pressed_wrongly(line: &Line, button: Button, now: &Controls) -> Vec<(Deed, Change)> {
    let mut found = Vec::new();
    let mut add = |wrong: bool, change: Change| {
        if wrong {
            found.push((Deed::Pressed(button), change));
        }
    };
    let moving = line
        .present()
        .any(|stick| line.place(stick) == StickPlace::Held && line.speed_m_per_s(stick) > 0.05);
    let rocking = line
        .present()
        .any(|stick| line.place(stick) == StickPlace::Received && line.speed_m_per_s(stick) > 0.05);
    let somebody = line.watch().is_some_and(|watch| !watch.nobody_inside());
    match button {
        Button::Feed => {
            let ready = line.receiver_is_up() && line.receiver_is_empty();
            add(!ready, Change::WaitFor(Condition::ReceiverReady));
            add(moving, Change::WaitFor(Condition::RowStill));
        }
        Button::ReceiverDown => add(rocking, Change::WaitFor(Condition::StickStill)),
        Button::LiftNearUp | Button::LiftNearDown | Button::LiftFarUp | Button::LiftFarDown => {
            let pairs = [
                (Button::LiftNearUp, Button::LiftFarUp),
                (Button::LiftNearDown, Button::LiftFarDown),
            ];
            let alone = pairs
                .iter()
                .all(|&(near, far)| now.has(near) != now.has(far) || !now.has(near));
            let loaded = line
                .present()
                .any(|stick| line.place(stick) == StickPlace::Seated);
            add(alone && loaded, Change::BothLifts);
        }
        Button::JackNearUp | Button::JackNearDown | Button::JackFarUp | Button::JackFarDown => {
            add(true, Change::NotPressed(button));
        }
        _ => {}
    }
    if button != Button::Horn {
        add(somebody, Change::WaitFor(Condition::PeopleOut));
        add(line.people().spotter_says_stop(), Change::HeedStops);
    }
    found
}

/// What would have been right instead of a call; none where it was right.
fn said_wrongly(line: &Line, call: Call) -> Option<Change> {
    match call {
        Call::BarFromBelow => Some(Change::NotSaid),
        Call::Unclamp => Some(Change::NotSaid),
        Call::Load if !line.chocks().are_set() => Some(Change::WaitFor(Condition::Chocked)),
        _ => None,
    }
}

/// What would have been right instead of the act that a rule names.
fn counterpart(deed: Deed) -> Option<Change> {
    match deed {
        Deed::Pressed(_) | Deed::Tarried => Some(Change::TakeOver),
        Deed::LetGo => Some(Change::HoldFeed),
        Deed::Called(_) => Some(Change::NotSaid),
        Deed::NotIsolated | Deed::NotCleared => Some(Change::WaitFor(Condition::PeopleOut)),
        Deed::NotChocked => Some(Change::WaitFor(Condition::Chocked)),
        Deed::NoHorn | Deed::LeftAsFound(_) | Deed::LeftFault(_) => None,
    }
}

/// What it is called that a setting was not made.
fn deed_of(setting: &Setting) -> Deed {
    match setting {
        Setting::Pitch { .. } => Deed::LeftAsFound(Part::Pitch),
        Setting::Size { .. } => Deed::LeftAsFound(Part::SizeSetting),
        Setting::Pins(_) | Setting::Chock(_) => Deed::LeftAsFound(Part::Pins),
        Setting::RailPad(_) | Setting::ColumnPads(_) => Deed::LeftAsFound(Part::Pads),
        Setting::Item(item) => Deed::LeftFault(*item),
        Setting::Interlock => Deed::LeftAsFound(Part::Interlock),
        Setting::Zone(_) => Deed::LeftAsFound(Part::Zone),
        Setting::Column(_)
        | Setting::ColumnOffset { .. }
        | Setting::ColumnLean { .. }
        | Setting::Cradles
        | Setting::CradleSpacing { .. }
        | Setting::Machine
        | Setting::MachineAt { .. } => Deed::LeftAsFound(Part::Machine),
    }
}
