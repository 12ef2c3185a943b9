//! The people on the site: they walk, look, listen and work, and can be struck.
//!
//! A person is an upright capsule on the ground. Pipe does not feel them: a stick that strikes
//! somebody goes on as if nobody had been there. Everything they do follows from the description, what
//! is said and the state of the line; nothing is drawn by lot.
//!
//! Order of one tick: [`People::tick`] before the world's step (hearing, walking, work), then
//! [`People::observe`] after it (what has struck whom, who is under what, how near it was).

mod job;
mod person;
mod strike;
mod ways;

use core::fmt;

use serde::{Deserialize, Serialize};

use crate::domain::rig::{Point, Rig};
use crate::domain::spec::{Duty, PersonSpec, Place};
use crate::domain::zone::Zone;
use crate::sim::Vector;
use crate::sim::controls::{Button, Call, Controls};
use crate::sim::world::{StickId, World};

use super::parts;
pub use job::{BarFrom, Deed};
use person::Site;
pub use person::{Person, State};
use strike::{Ends, PERSON_HEIGHT_M, Passing, STRIKING_M_PER_S, ends_of, meeting, plan_distance};
pub use strike::{Mover, Shape, Strike, Striker};
use ways::{Ways, distance_m};

/// How far the horn is heard from the middle of the line, m (ours).
const HEARING_M: f64 = 60.0;
/// Pipe that moves faster than this is seen to move, m/s.
const SEEN_M_PER_S: f32 = 0.05;
/// Within this distance of somebody's way it is minded, m (ours).
const MINDED_M: f32 = 3.0;

/// Somebody, by their place in the description. People and files count from 1.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
pub struct PersonId(#[serde(with = "crate::sim::one_based")] pub usize);

impl fmt::Display for PersonId {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}", self.0 + 1)
    }
}

/// What the spotter goes by.
#[derive(Clone, Copy, Debug, Default)]
pub struct Watch<'a> {
    /// The exclusion zone; None where none is set out.
    pub zone: Option<&'a Zone>,
    /// Some stick can move.
    pub stick_can_move: bool,
    /// Some stick is lost.
    pub stick_lost: bool,
}

/// Everybody on the site.
#[derive(Clone, Debug)]
pub struct People {
    people: Vec<Person>,
    radio_dead: bool,
    /// What was heard a tick ago.
    last_call: Option<Call>,
    last_horn: bool,
    /// For how long the spotter has seen a reason to say stop, s.
    alarm_s: f64,
    says_stop: bool,
    /// Until when the spotter says stop for a reason of their own, s.
    calls_stop_until_s: f64,
    /// Where the sticks' ends were a tick ago; None for one that was not there.
    ends: Vec<Option<Ends>>,
    strikes: Vec<Strike>,
}

impl People {
    /// The people of a line where they start. The loader's driver sits in the cab.
    pub fn new(rig: &Rig) -> Self {
        let spec = rig.spec();
        let people = spec.people.iter().map(|person| {
            let in_cab = person.duty == Duty::LoaderDriver && spec.loader.is_some();
            Person::new(person, in_cab)
        });
        Self {
            people: people.collect(),
            radio_dead: spec.faults.radio_dead,
            last_call: None,
            last_horn: false,
            alarm_s: 0.0,
            says_stop: false,
            calls_stop_until_s: 0.0,
            ends: Vec::new(),
            strikes: Vec::new(),
        }
    }

    pub fn is_empty(&self) -> bool {
        self.people.is_empty()
    }

    /// Everybody, in the order of the description.
    pub fn iter(&self) -> impl ExactSizeIterator<Item = &Person> {
        self.people.iter()
    }

    pub fn get(&self, person: PersonId) -> Option<&Person> {
        self.people.get(person.0)
    }

    /// Who was struck so far, in order; each once.
    pub fn strikes(&self) -> &[Strike] {
        &self.strikes
    }

    /// The spotter is saying stop on the radio.
    pub fn spotter_says_stop(&self) -> bool {
        self.says_stop
    }

    /// Somebody comes to the site on foot, the last of them from now on.
    pub fn admit(&mut self, spec: &PersonSpec) {
        self.people.push(Person::new(spec, false));
    }

    /// The spotter says stop until a time, s, whatever they see.
    pub fn call_stop_until(&mut self, until_s: f64) {
        self.calls_stop_until_s = until_s;
    }

    /// The spotter's radio dies.
    pub fn radio_dies(&mut self) {
        self.radio_dead = true;
    }

    /// The radio that was dead has been mended.
    pub fn mend_radio(&mut self) {
        self.radio_dead = false;
    }

    /// Whether the spotter answers a radio check: there is one, on their feet, with a radio that
    /// works.
    pub fn spotter_answers(&self) -> bool {
        self.spotter().is_some()
    }

    fn spotter(&self) -> Option<&Person> {
        self.people.iter().find(|person| {
            person.spec().duty == Duty::Spotter
                && person.is_on_foot()
                && person.hears_radio(self.radio_dead)
        })
    }

    /// The loader's driver sits in the cab, which is at a place of the plan, or stands there.
    pub fn set_driver(&mut self, in_cab: bool, place: Place) {
        for person in &mut self.people {
            if person.spec().duty == Duty::LoaderDriver {
                person.ride(in_cab, place);
            }
        }
    }

    /// Before the world's step: what they hear, where they go, what they do. Returns what the line is
    /// to carry out; pushes with a bar are given to the world here.
    pub fn tick(
        &mut self,
        world: &mut World,
        rig: &Rig,
        controls: &Controls,
        watch: &Watch,
    ) -> Vec<Deed> {
        let ways = Ways::new(rig);
        let site = Site {
            world,
            rig,
            ways: &ways,
            zone: watch.zone,
            now_s: world.time_s(),
            dt_s: f64::from(world.settings().dt_s),
        };
        self.hear(controls, site.now_s);
        self.spot(watch, site.now_s, site.dt_s);
        let (mut deeds, mut pulls) = (Vec::new(), Vec::new());
        for person in &mut self.people {
            let work = person.tick(&site);
            deeds.extend(work.deed);
            pulls.extend(work.pull);
        }
        for (stick, point, force) in pulls {
            world.pull(stick, point, force);
        }
        deeds
    }

    /// A call or a horn is heard when it begins.
    fn hear(&mut self, controls: &Controls, now_s: f64) {
        let radio_dead = self.radio_dead;
        let called = controls.call.filter(|_| controls.call != self.last_call);
        self.last_call = controls.call;
        let horn = controls.has(Button::Horn);
        let blown = horn && !self.last_horn;
        self.last_horn = horn;
        let middle = Place::default();
        // The operator says and sounds it, and does not hear it as an order.
        for person in &mut self.people {
            let within = distance_m(person.place(), middle) <= HEARING_M;
            if blown && within && person.spec().looks && person.takes_orders() {
                person.hear_horn(now_s);
            }
        }
        let Some(call) = called else { return };
        let listeners = self
            .people
            .iter_mut()
            .filter(|person| person.takes_orders() && person.hears_radio(radio_dead));
        if call == Call::Clear {
            listeners.for_each(|person| person.hear_call(call, now_s));
        } else if let Some(duty) = job::duty_of(call) {
            listeners
                .filter(|person| person.spec().duty == duty)
                .take(1)
                .for_each(|person| person.hear_call(call, now_s));
        }
    }

    /// The spotter says stop after their reaction, for as long as there is reason to.
    fn spot(&mut self, watch: &Watch, now_s: f64, dt_s: f64) {
        let breached = self.people.iter().any(|person| {
            person.is_on_foot()
                && person.spec().duty != Duty::Spotter
                && watch.zone.is_some_and(|zone| zone.contains(person.place()))
        });
        let reason = watch.stick_lost || (watch.stick_can_move && breached);
        self.alarm_s = if reason { self.alarm_s + dt_s } else { 0.0 };
        let alarm_s = self.alarm_s;
        let calls = now_s < self.calls_stop_until_s;
        self.says_stop = (reason || calls)
            && self
                .spotter()
                .is_some_and(|spotter| calls || alarm_s > spotter.spec().reaction_s);
    }

    /// After the world's step: sees what this tick's motion has done to anybody. `movers` are the
    /// moving things beside the sticks, as they are now; `carried` the sticks that a machine holds up.
    pub fn observe(&mut self, world: &World, rig: &Rig, movers: &[Mover], carried: &[StickId]) {
        let dt_s = world.settings().dt_s;
        self.ends.resize(world.sticks().len(), None);
        let sticks = world.sticks().filter(|&stick| world.is_present(stick));
        let things: Vec<Passing> = sticks
            .map(|stick| Passing::stick(world, stick, self.ends[stick.0]))
            .chain(movers.iter().map(|mover| Passing::mover(mover, dt_s)))
            .collect();
        for stick in world.sticks() {
            self.ends[stick.0] = world.is_present(stick).then(|| ends_of(world, stick));
        }
        for (i, person) in self.people.iter_mut().enumerate() {
            if !person.is_on_foot() {
                continue;
            }
            person.begin_observing();
            let (before, now) = (foot_of(rig, person.before()), foot_of(rig, person.place()));
            let mut struck = None;
            for thing in &things {
                let meeting = meeting(before, now, thing, dt_s);
                person.met(&meeting, thing.come_m() > STRIKING_M_PER_S * dt_s);
                if struck.is_none()
                    && let Some(speed) = meeting.struck_m_per_s
                {
                    struck = Some((thing.what, speed, thing.energy_j));
                }
                if let Striker::Stick(stick) = thing.what
                    && strike::is_under(world, stick, now)
                    && (carried.contains(&stick)
                        || strike::underside_m(world, stick, now) > PERSON_HEIGHT_M)
                {
                    person.is_under(stick);
                }
            }
            if let Some((by, speed, energy_j)) = struck {
                person.fall();
                self.strikes.push(Strike {
                    tick: world.tick(),
                    person: PersonId(i),
                    by,
                    speed_m_per_s: f64::from(speed),
                    energy_j,
                    place: person.place(),
                });
            }
        }
    }

    /// The numbers that make up their state, for the state hash.
    pub fn state(&self) -> impl Iterator<Item = f64> + '_ {
        let own = [
            self.last_call
                .map_or(0.0, |call| 1.0 + person::number_of(call)),
            f64::from(u8::from(self.last_horn)),
            self.alarm_s,
            self.calls_stop_until_s,
            f64::from(u8::from(self.radio_dead)),
            self.strikes.len() as f64,
        ];
        let people = self.people.iter().flat_map(Person::state_numbers);
        own.into_iter().chain(people)
    }
}

/// Where somebody at a place of the plan has their feet in the world.
fn foot_of(rig: &Rig, place: Place) -> Vector {
    let (x_m, y_m) = (place.x_m, rig.spec().ground.height_m(place));
    parts::to_world(rig, Point { x_m, y_m }, place.z_m)
}

/// Whether pipe moves near a bit of somebody's way.
fn pipe_moves_near(world: &World, rig: &Rig, from: Place, to: Place) -> bool {
    let moving = world.sticks().filter(|&stick| {
        world.is_present(stick) && world.stick(stick).velocity.length() > SEEN_M_PER_S
    });
    let (from, to) = (foot_of(rig, from), foot_of(rig, to));
    moving.into_iter().any(|stick| {
        let [one, other] = ends_of(world, stick);
        let near_m = MINDED_M + world.pipe(stick).radius_m() as f32;
        // A few points of so short a way are enough.
        [0.0, 0.25, 0.5, 0.75, 1.0]
            .into_iter()
            .any(|share| plan_distance(one, other, from + (to - from) * share) < near_m)
    })
}
