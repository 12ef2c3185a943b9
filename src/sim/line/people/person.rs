//! One person: walks, looks, hears, works, and may be struck.

use crate::domain::math::atan2;
use crate::domain::rig::Rig;
use crate::domain::spec::{Duty, Item, PersonSpec, Place};
use crate::domain::zone::Zone;
use crate::sim::controls::Call;
use crate::sim::world::{StickId, World};

use super::job::{Progress, Work};
use super::strike::{Meeting, gap_to_stick_m};
use super::ways::{Ways, between, distance_m};
use super::{foot_of, pipe_moves_near};

/// How far ahead somebody who looks minds moving pipe, m, and how near to that way it may be (ours).
const AHEAD_M: f64 = 3.0;
/// How long somebody who has stopped for the horn waits after it, s (ours).
const HORN_WAIT_S: f64 = 10.0;
/// A person keeps this far from pipe, m.
const KEEP_OFF_M: f32 = 0.02;

/// What somebody is doing.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum State {
    Standing,
    Walking,
    /// Has stopped for moving pipe, or for the horn.
    Looking,
    /// On the way out of the line.
    Clearing,
    Working,
    /// Struck, and moves no more.
    Down,
    /// In the loader's cab, not on foot.
    InCab,
}

/// What was heard, and when it is acted on.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Heard {
    Horn,
    Call(Call),
}

/// Somebody on the site.
#[derive(Clone, Debug)]
pub struct Person {
    spec: PersonSpec,
    place: Place,
    /// Where they were a tick ago.
    before: Place,
    facing_rad: f64,
    state: State,
    /// Acted on at a time, s, in the order of hearing.
    heard: Vec<(f64, Heard)>,
    /// The waypoint of their own way that is next, and until when they stay before it, s.
    next: usize,
    stays_until_s: f64,
    /// Off their own way for good: called out, or given a job.
    called: bool,
    /// The places to go to in turn for a job, or out of the line.
    way: Vec<Place>,
    clearing: bool,
    job: Option<Progress>,
    /// How long moving pipe near the way has been seen, or none, s.
    seen_s: f64,
    unseen_s: f64,
    halted: bool,
    stopped_until_s: f64,
    nearest_m: f64,
    nearest_moving_m: f64,
    under: Option<StickId>,
}

/// What a person has to know of the site in one tick.
pub(super) struct Site<'a> {
    pub world: &'a World,
    pub rig: &'a Rig,
    pub ways: &'a Ways,
    pub zone: Option<&'a Zone>,
    pub now_s: f64,
    pub dt_s: f64,
}

impl Person {
    pub(super) fn new(spec: &PersonSpec, in_cab: bool) -> Self {
        let place = spec.start;
        Self {
            spec: spec.clone(),
            place,
            before: place,
            // Towards the middle of the line.
            facing_rad: atan2(-place.z_m, -place.x_m),
            state: if in_cab {
                State::InCab
            } else {
                State::Standing
            },
            heard: Vec::new(),
            next: 0,
            stays_until_s: spec.starts_s,
            called: false,
            way: Vec::new(),
            clearing: false,
            job: None,
            seen_s: 0.0,
            unseen_s: 0.0,
            halted: false,
            stopped_until_s: 0.0,
            nearest_m: f64::INFINITY,
            nearest_moving_m: f64::INFINITY,
            under: None,
        }
    }

    pub fn spec(&self) -> &PersonSpec {
        &self.spec
    }

    /// Where they stand, in the plan of a right-handed line.
    pub fn place(&self) -> Place {
        self.place
    }

    /// Where they were a tick ago.
    pub fn before(&self) -> Place {
        self.before
    }

    /// The way they face, from +x (away from the rack) towards +z, rad.
    pub fn facing_rad(&self) -> f64 {
        self.facing_rad
    }

    pub fn state(&self) -> State {
        self.state
    }

    /// Can be struck: neither down nor in the cab.
    pub fn is_on_foot(&self) -> bool {
        !matches!(self.state, State::Down | State::InCab)
    }

    /// Distance of their surface from the nearest stick or other thing that may move, at the end of
    /// the last tick, m; from 2 m on it is measured in the plan. Infinite where there is none.
    pub fn nearest_m(&self) -> f64 {
        self.nearest_m
    }

    /// The same from the nearest that moved in the last tick (faster than 0.05 m/s).
    pub fn nearest_moving_m(&self) -> f64 {
        self.nearest_moving_m
    }

    /// A raised or carried stick that is over them.
    pub fn under(&self) -> Option<StickId> {
        self.under
    }

    /// Has a radio that works.
    pub(super) fn hears_radio(&self, radio_dead: bool) -> bool {
        self.spec.radio && !(radio_dead && self.spec.duty == Duty::Spotter)
    }

    /// On foot, and not the one who gives the orders.
    pub(super) fn takes_orders(&self) -> bool {
        self.is_on_foot() && self.spec.duty != Duty::Operator
    }

    pub(super) fn hear_call(&mut self, call: Call, now_s: f64) {
        self.heard
            .push((now_s + self.spec.reaction_s, Heard::Call(call)));
    }

    pub(super) fn hear_horn(&mut self, now_s: f64) {
        self.heard.push((now_s + self.spec.reaction_s, Heard::Horn));
    }

    /// Gets into the cab, or out of it at a place; rides along with it otherwise.
    pub(super) fn ride(&mut self, in_cab: bool, place: Place) {
        if self.state != State::Down {
            self.place = place;
            self.before = place;
            self.state = if in_cab {
                State::InCab
            } else {
                State::Standing
            };
        }
    }

    pub(super) fn fall(&mut self) {
        self.state = State::Down;
        self.job = None;
        self.way.clear();
        self.heard.clear();
    }

    /// One tick of what they do.
    pub(super) fn tick(&mut self, site: &Site) -> Work {
        self.before = self.place;
        if !self.is_on_foot() {
            return Work::default();
        }
        while let Some(&(due_s, heard)) = self.heard.first()
            && site.now_s >= due_s
        {
            self.heard.remove(0);
            self.act_on(heard, site);
        }
        self.look(site);
        if self.clearing {
            self.clear(site);
            return Work::default();
        }
        if let Some(job) = self.job {
            return self.work(job, site);
        }
        self.go_own_way(site);
        Work::default()
    }

    fn act_on(&mut self, heard: Heard, site: &Site) {
        match heard {
            Heard::Horn => {
                self.stopped_until_s = site.now_s + HORN_WAIT_S;
                let in_zone = site.zone.is_some_and(|zone| zone.contains(self.place));
                if in_zone || site.ways.is_in_line(self.place) {
                    self.leave(site);
                }
            }
            Heard::Call(Call::Clear) => self.leave(site),
            Heard::Call(call) => {
                if let Some(job) = Progress::new(call, site.world, site.rig, self.place) {
                    self.called = true;
                    self.clearing = false;
                    self.stopped_until_s = 0.0;
                    self.begin_station(job, site);
                }
            }
        }
    }

    /// Drops everything and walks straight out.
    fn leave(&mut self, site: &Site) {
        self.called = true;
        self.job = None;
        self.clearing = true;
        let open = |to| {
            let steps = 1.0 + (distance_m(self.place, to) / 0.2).floor();
            let mut share = 0.0;
            while share <= 1.0 {
                if clearance_m(site, between(self.place, to, share)) < KEEP_OFF_M {
                    return false;
                }
                share += 1.0 / steps;
            }
            true
        };
        let out = site.ways.out(site.zone, self.place, open);
        self.way = out.into_iter().collect();
    }

    fn clear(&mut self, site: &Site) {
        if self.walk_on(site) {
            self.clearing = false;
            self.state = State::Standing;
        } else {
            self.state = State::Clearing;
        }
    }

    /// Walks to where the job's next station is.
    fn begin_station(&mut self, job: Progress, site: &Site) {
        self.way = job
            .stand(site.world, site.rig)
            .map_or_else(Vec::new, |to| site.ways.way(self.place, to));
        self.job = Some(job);
    }

    fn work(&mut self, mut job: Progress, site: &Site) -> Work {
        if !self.way.is_empty() {
            if self.may_walk(site) && self.walk_on(site) {
                self.state = State::Standing;
            }
            return Work::default();
        }
        self.state = State::Working;
        self.face(job.sight(site.world, site.rig));
        let work = job.work(site.world, site.rig, site.dt_s);
        self.job = Some(job);
        if work.next {
            if job.next() {
                self.begin_station(job, site);
            } else {
                self.job = None;
                self.way = site.ways.way(self.place, job.home);
            }
        }
        work
    }

    /// Their own way, or the way back from a job.
    fn go_own_way(&mut self, site: &Site) {
        self.state = State::Standing;
        if self.called {
            if !self.way.is_empty() && self.may_walk(site) {
                self.walk_on(site);
            }
            return;
        }
        let Some(waypoint) = self.spec.path.get(self.next).copied() else {
            return;
        };
        if site.now_s >= self.stays_until_s
            && self.may_walk(site)
            && self.step_to(waypoint.place, site)
        {
            self.next += 1;
            self.stays_until_s = site.now_s + waypoint.stays_s;
        }
    }

    /// The place that is walked to next.
    fn heading(&self, now_s: f64) -> Option<Place> {
        if !self.way.is_empty() || self.called {
            return self.way.first().copied();
        }
        let next = self.spec.path.get(self.next)?;
        (now_s >= self.stays_until_s).then_some(next.place)
    }

    /// Minds moving pipe near the next bit of the way.
    fn look(&mut self, site: &Site) {
        let heading = self.heading(site.now_s);
        let sees = self.spec.looks
            && heading.is_some_and(|to| {
                let ahead = AHEAD_M / distance_m(self.place, to).max(AHEAD_M);
                let next_bit = between(self.place, to, ahead);
                pipe_moves_near(site.world, site.rig, self.place, next_bit)
            });
        if sees {
            self.seen_s += site.dt_s;
            self.unseen_s = 0.0;
        } else {
            self.unseen_s += site.dt_s;
            self.seen_s = 0.0;
        }
        if self.seen_s >= self.spec.reaction_s && sees {
            self.halted = true;
        } else if self.unseen_s >= self.spec.reaction_s {
            self.halted = false;
        }
    }

    /// Whether nothing keeps them from walking on; they look if something does.
    fn may_walk(&mut self, site: &Site) -> bool {
        let may = !self.halted && site.now_s >= self.stopped_until_s;
        if !may {
            self.state = State::Looking;
        }
        may
    }

    /// Walks on along the way; true at its end.
    fn walk_on(&mut self, site: &Site) -> bool {
        if let Some(&to) = self.way.first()
            && self.step_to(to, site)
        {
            self.way.remove(0);
        }
        self.way.is_empty()
    }

    /// One step towards a place; true where it is reached. Nobody walks into pipe.
    fn step_to(&mut self, to: Place, site: &Site) -> bool {
        let left_m = distance_m(self.place, to);
        let step_m = self.spec.walking_m_per_s * site.dt_s;
        let arrives = step_m >= left_m;
        let next = if arrives {
            to
        } else {
            between(self.place, to, step_m / left_m)
        };
        let clear_m = clearance_m(site, next);
        if clear_m < KEEP_OFF_M && clear_m < clearance_m(site, self.place) {
            self.state = State::Standing;
            return false;
        }
        self.face(to);
        self.place = next;
        self.state = State::Walking;
        arrives
    }

    fn face(&mut self, at: Place) {
        if at != self.place {
            self.facing_rad = atan2(at.z_m - self.place.z_m, at.x_m - self.place.x_m);
        }
    }

    /// Forgets the distances of the last tick.
    pub(super) fn begin_observing(&mut self) {
        self.nearest_m = f64::INFINITY;
        self.nearest_moving_m = f64::INFINITY;
        self.under = None;
    }

    pub(super) fn met(&mut self, meeting: &Meeting, moved: bool) {
        let gap_m = f64::from(meeting.gap_m);
        self.nearest_m = self.nearest_m.min(gap_m);
        if moved {
            self.nearest_moving_m = self.nearest_moving_m.min(gap_m);
        }
    }

    pub(super) fn is_under(&mut self, stick: StickId) {
        self.under = self.under.or(Some(stick));
    }

    /// The numbers that make up their state, for the state hash.
    pub(super) fn state_numbers(&self) -> impl Iterator<Item = f64> + '_ {
        let own = [
            self.place.x_m,
            self.place.z_m,
            self.facing_rad,
            f64::from(self.state as u8),
            self.next as f64,
            self.stays_until_s,
            f64::from(u8::from(self.called)),
            f64::from(u8::from(self.clearing)),
            f64::from(u8::from(self.halted)),
            self.seen_s,
            self.unseen_s,
            self.stopped_until_s,
        ];
        let heard = self.heard.iter().flat_map(|&(due_s, heard)| {
            let what = match heard {
                Heard::Horn => -1.0,
                Heard::Call(call) => number_of(call),
            };
            [due_s, what]
        });
        let way = self.way.iter().flat_map(|place| [place.x_m, place.z_m]);
        let job = self.job.iter().flat_map(Progress::state);
        own.into_iter().chain(heard).chain(way).chain(job)
    }
}

/// Clear room between somebody at a place and the nearest stick, m.
fn clearance_m(site: &Site, place: Place) -> f32 {
    let foot = foot_of(site.rig, place);
    let present = site
        .world
        .sticks()
        .filter(|&stick| site.world.is_present(stick));
    present
        .map(|stick| gap_to_stick_m(site.world, stick, foot))
        .fold(f32::INFINITY, f32::min)
}

/// A number for every call, for the state hash.
pub(super) fn number_of(call: Call) -> f64 {
    f64::from(match call {
        Call::Clear => 0,
        Call::Load => 1,
        Call::Hold => 2,
        Call::Release => 3,
        Call::Chock => 4,
        Call::Unchock => 5,
        Call::BarFromEnd(end) => 6 + end as u8,
        Call::BarFromBelow => 8,
        Call::Clamp => 9,
        Call::Unclamp => 10,
        Call::Repair(Item::Motion(motion)) => 11 + motion as u8,
        Call::Repair(Item::Rail(end)) => 20 + end as u8,
        Call::Repair(Item::Rollers) => 22,
        Call::Repair(Item::Radio) => 23,
    })
}
