//! The log of a run: all that it is judged by. What cannot be read back from the events is sampled
//! while the run goes on, so that a run is judged from its recording as it was judged at first.

use serde::{Deserialize, Serialize};

use crate::domain::math::sqrt;
use crate::domain::rig::End;
use crate::domain::spec::{Duty, LineSpec, Motion, PersonSpec, Place};
use crate::operator::Ending;
use crate::sim::controls::{ControlChange, Controls, Upset, controls_at};
use crate::sim::drive::Way;
use crate::sim::line::{Event, EventKind, Line, PersonId, StickPlace};
use crate::sim::world::StickId;

/// Ticks between two samples.
const SAMPLE_EVERY_TICKS: u64 = 24;
/// Ticks between two looks at who is near.
const LOOK_EVERY_TICKS: u64 = 8;
/// A stick slower than this is no danger yet, m/s.
const MOVING_M_PER_S: f64 = 0.05;
/// A stick slower than this stays where it is, m/s and rad/s.
const STAYS: f32 = 2.0e-3;

/// See the module's text.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Log {
    /// Ticks in the run.
    pub ticks: u64,
    /// Every change of the controls.
    pub controls: Vec<ControlChange>,
    pub events: Vec<Noted>,
    pub samples: Vec<Sample>,
    /// The least distance of anybody from moving pipe.
    pub nearest: Option<Near>,
    /// The least time that anybody was from moving pipe.
    pub soonest: Option<Near>,
    /// For how long everybody has been inside the zone while a stick could move, s.
    pub exposed_s: Vec<f64>,
    /// Where every stick is at the end.
    pub places: Vec<StickPlace>,
    /// How the run came to its end; none where it was broken off.
    pub ending: Option<Ending>,
}

/// An event and where it happened: away from the rack, up, towards the machine, m.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Noted {
    pub event: Event,
    pub at: Option<[f32; 3]>,
}

/// The line at one moment.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Sample {
    pub tick: u64,
    /// Slopes of the near and the far rail, rad.
    pub pitch_rad: [f32; 2],
    /// Weight of the sticks on the rack, N.
    pub rack_load_n: f32,
    /// Lengthwise tilt of the stick that lies in both cradles, rad.
    pub tilt: Option<(StickId, f32)>,
    /// The motion that is told to go and cannot.
    pub in_vain: Option<Motion>,
    /// Some stick can move.
    pub can_move: bool,
}

/// Somebody near moving pipe.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Near {
    pub tick: u64,
    pub person: PersonId,
    pub duty: Duty,
    pub stick: StickId,
    /// From the pipe's surface in the plan, m.
    pub distance_m: f64,
    /// At the speed with which it comes, s; none where it does not come nearer.
    pub time_s: Option<f64>,
}

impl Log {
    /// The log as it was after a tick.
    pub fn until(&self, tick: u64) -> Self {
        let events = self.events.iter().filter(|noted| noted.event.tick <= tick);
        let samples = self.samples.iter().filter(|sample| sample.tick <= tick);
        let controls = self.controls.iter().filter(|change| change.tick <= tick);
        Self {
            ticks: tick,
            controls: controls.copied().collect(),
            events: events.copied().collect(),
            samples: samples.copied().collect(),
            nearest: self.nearest.filter(|near| near.tick <= tick),
            soonest: self.soonest.filter(|near| near.tick <= tick),
            exposed_s: self.exposed_s.clone(),
            places: Vec::new(),
            ending: None,
        }
    }

    /// Whether it can be the log of a line: every stick and every person in it is there, every number is
    /// one, and nothing is later than its end.
    pub fn fits(&self, line: &LineSpec) -> bool {
        let visitor = EventKind::Upset {
            upset: Upset::Visitor,
        };
        let visitors = self.each(|kind| (*kind == visitor).then_some(()));
        let (sticks, people) = (line.stick_count(), line.people.len() + visitors.count());
        let events = self.events.iter().all(|noted| {
            let kind = noted.event.kind;
            let at = noted.at.into_iter().flatten().map(f64::from);
            noted.event.tick <= self.ticks
                && kind.stick().is_none_or(|stick| stick.0 < sticks)
                && kind.person().is_none_or(|person| person.0 < people)
                && kind.numbers().chain(at).all(f64::is_finite)
        });
        let sampled = self.samples.iter().all(|sample| {
            let [near, far] = sample.pitch_rad;
            let tilt_rad = sample.tilt.map_or(0.0, |(_, tilt_rad)| tilt_rad);
            sample.tick <= self.ticks
                && sample.tilt.is_none_or(|(stick, _)| stick.0 < sticks)
                && [near, far, sample.rack_load_n, tilt_rad]
                    .iter()
                    .all(|number| number.is_finite())
        });
        let nears = [self.nearest, self.soonest].into_iter().flatten();
        let near = nears.into_iter().all(|near| {
            near.tick <= self.ticks
                && near.stick.0 < sticks
                && near.person.0 < people
                && near.distance_m.is_finite()
                && near.time_s.is_none_or(f64::is_finite)
        });
        let in_order = self.events.is_sorted_by_key(|noted| noted.event.tick)
            && self.samples.is_sorted_by_key(|sample| sample.tick)
            && self.controls.is_sorted_by_key(|change| change.tick);
        let ends = self.places.len() <= sticks
            && self.exposed_s.len() <= people
            && self.exposed_s.iter().all(|exposed_s| exposed_s.is_finite());
        events && sampled && near && in_order && ends
    }

    /// The controls in a tick.
    pub fn controls_at(&self, tick: u64) -> Controls {
        controls_at(&self.controls, tick)
    }

    /// Events of a kind, with their ticks.
    pub fn each<'a, T>(
        &'a self,
        pick: impl Fn(&EventKind) -> Option<T> + 'a,
    ) -> impl Iterator<Item = (&'a Noted, T)> + 'a {
        let events = self.events.iter();
        events.filter_map(move |noted| pick(&noted.event.kind).map(|picked| (noted, picked)))
    }
}

/// What of a log cannot be cut off at a tick: with it a log goes on from there as if what came after
/// had never been.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Mark {
    nearest: Option<Near>,
    soonest: Option<Near>,
    motions: [f64; Motion::ALL.len()],
}

/// Keeps the log while a run goes on.
#[derive(Clone, Debug, Default)]
pub struct Logger {
    log: Log,
    /// Where every motion was at the last sample.
    motions: [f64; Motion::ALL.len()],
}

impl Logger {
    /// Goes on with a log from the tick at which a line stands.
    pub fn resume(log: &Log, line: &Line) -> Self {
        Self {
            log: log.until(line.tick_count()),
            motions: Motion::ALL.map(|motion| line.motion(motion)),
        }
    }

    pub fn log(&self) -> &Log {
        &self.log
    }

    pub(super) fn mark(&self) -> Mark {
        Mark {
            nearest: self.log.nearest,
            soonest: self.log.soonest,
            motions: self.motions,
        }
    }

    /// Goes on with a log from a tick at which it was marked; none is its beginning.
    pub(super) fn back_to(log: &Log, tick: u64, mark: Option<&Mark>) -> Self {
        let mut log = log.until(tick);
        log.exposed_s = Vec::new();
        log.nearest = mark.and_then(|mark| mark.nearest);
        log.soonest = mark.and_then(|mark| mark.soonest);
        let motions = mark.map_or_else(Default::default, |mark| mark.motions);
        Self { log, motions }
    }

    /// Takes a tick that has just been made under the given controls.
    pub fn observe(&mut self, line: &Line, controls: &Controls) {
        let tick = line.tick_count();
        let log = &mut self.log;
        log.ticks = tick;
        if log.controls.last().map(|change| &change.controls) != Some(controls) {
            log.controls.push(ControlChange {
                tick,
                controls: *controls,
            });
        }
        for &event in line.events().get(log.events.len()..).unwrap_or_default() {
            let at = place_of(line, &event.kind);
            log.events.push(Noted { event, at });
        }
        if tick.is_multiple_of(LOOK_EVERY_TICKS) {
            look_who_is_near(line, log);
        }
        if tick.is_multiple_of(SAMPLE_EVERY_TICKS) {
            self.sample(line, controls);
        }
    }

    fn sample(&mut self, line: &Line, controls: &Controls) {
        let seated = line
            .present()
            .find(|&stick| line.place(stick) == StickPlace::Seated);
        let stays = seated.is_some_and(|stick| {
            let state = line.stick(stick);
            state.velocity.length() < STAYS && state.spin.length() < STAYS
        });
        let mut in_vain = None;
        for motion in Motion::ALL {
            let now = line.motion(motion);
            let before = core::mem::replace(&mut self.motions[motion as usize], now);
            // The rollers' is a speed, the others' a place; rollers that turn under a stick that
            // stays are of no use.
            let moves = match motion {
                Motion::Turn | Motion::Advance => now != 0.0 && !stays,
                _ => now != before,
            };
            if controls.asked(motion) != Way::Hold && !moves {
                in_vain = in_vain.or(Some(motion));
            }
        }
        let held = line
            .present()
            .filter(|&stick| line.place(stick) == StickPlace::Held && line.is_on_rails(stick));
        let weights = held.map(|stick| line.world().pipe(stick).weight_n());
        let lifted = line.present().find(|&stick| {
            line.place(stick) == StickPlace::Seated
                && End::BOTH.iter().all(|&end| line.is_in_cradle(end, stick))
        });
        self.log.samples.push(Sample {
            tick: line.tick_count(),
            pitch_rad: End::BOTH.map(|end| line.pitch_rad(end) as f32),
            rack_load_n: weights.sum::<f64>() as f32,
            tilt: lifted.map(|stick| (stick, line.tilt_rad(stick) as f32)),
            in_vain,
            can_move: line.stick_can_move(),
        });
    }

    /// The log of a run that has come to its end.
    pub fn finish(mut self, line: &Line, ending: Ending) -> Log {
        self.close(line);
        self.log.ending = Some(ending);
        self.log
    }

    /// Puts down how things stand now.
    pub fn close(&mut self, line: &Line) {
        self.log.places = places(line);
        self.log.exposed_s = exposed_s(line);
    }
}

/// Where every stick is.
pub fn places(line: &Line) -> Vec<StickPlace> {
    line.sticks().map(|stick| line.place(stick)).collect()
}

/// For how long everybody has been inside the zone while a stick could move, s.
pub fn exposed_s(line: &Line) -> Vec<f64> {
    let exposed_s = |person| line.watch().map_or(0.0, |watch| watch.exposed_s(person));
    let people = 0..line.people().iter().len();
    people.map(|i| exposed_s(PersonId(i))).collect()
}

/// Where the stick of an event is, or the person.
fn place_of(line: &Line, kind: &EventKind) -> Option<[f32; 3]> {
    if let Some(person) = kind.person() {
        let place = line.people().iter().nth(person.0)?.place();
        let height_m = line.rig().spec().ground.height_m(place);
        return Some([place.x_m as f32, height_m as f32, place.z_m as f32]);
    }
    let [x, y, z] = line.stick(kind.stick()?).pose.translation.to_array();
    Some([line.rig().mirror() as f32 * x, y, z])
}

fn look_who_is_near(line: &Line, log: &mut Log) {
    for (i, person) in line.people().iter().enumerate() {
        if !person.is_on_foot() {
            continue;
        }
        for stick in line.present() {
            if line.speed_m_per_s(stick) < MOVING_M_PER_S {
                continue;
            }
            let near = near(line, PersonId(i), person.spec(), person.place(), stick);
            if log
                .nearest
                .is_none_or(|known| near.distance_m < known.distance_m)
            {
                log.nearest = Some(near);
            }
            let sooner = |known: Near| near.time_s < known.time_s;
            if near.time_s.is_some() && log.soonest.is_none_or(sooner) {
                log.soonest = Some(near);
            }
        }
    }
}

fn near(line: &Line, person: PersonId, spec: &PersonSpec, place: Place, stick: StickId) -> Near {
    let state = line.stick(stick);
    let pipe = line.world().pipe(stick);
    let half_m = 0.5 * pipe.length_m;
    let mirror = line.rig().mirror();
    // In the plan of a right-handed line.
    let plan = |x: f32, z: f32| (mirror * f64::from(x), f64::from(z));
    let axis = state.axis();
    let (middle, along, velocity) = (
        plan(state.pose.translation.x, state.pose.translation.z),
        plan(axis.x, axis.z),
        plan(state.velocity.x, state.velocity.z),
    );
    let to = (place.x_m - middle.0, place.z_m - middle.1);
    let on = (to.0 * along.0 + to.1 * along.1).clamp(-half_m, half_m);
    let away = (to.0 - on * along.0, to.1 - on * along.1);
    let far_m = sqrt(away.0 * away.0 + away.1 * away.1);
    let closing_m_per_s = if far_m > 0.0 {
        (velocity.0 * away.0 + velocity.1 * away.1) / far_m
    } else {
        0.0
    };
    let distance_m = (far_m - pipe.radius_m()).max(0.0);
    Near {
        tick: line.tick_count(),
        person,
        duty: spec.duty,
        stick,
        distance_m,
        time_s: (closing_m_per_s > MOVING_M_PER_S).then(|| distance_m / closing_m_per_s),
    }
}
