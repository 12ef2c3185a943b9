//! People for the tests, and lines driven by the clock.
#![allow(dead_code)]

use chockline::domain::crew;
use chockline::domain::spec::{Duty, LineSpec, PersonSpec, Place, Waypoint};
use chockline::sim::controls::{Button, Call, Controls};
use chockline::sim::line::{Line, Person, PersonId};

pub fn at(x_m: f64, z_m: f64) -> Place {
    Place { x_m, z_m }
}

/// Somebody who stands at a place, looks, has a radio, and takes a second to act.
pub fn person(duty: Duty, start: Place) -> PersonSpec {
    PersonSpec {
        radio: true,
        ..crew::standing(duty, start)
    }
}

/// Somebody without a radio who looks at nothing, and walks from place to place.
pub fn visitor(start: Place, path: &[Place], starts_s: f64) -> PersonSpec {
    PersonSpec {
        path: path
            .iter()
            .map(|&place| Waypoint {
                place,
                stays_s: 0.0,
            })
            .collect(),
        starts_s,
        looks: false,
        radio: false,
        ..person(Duty::Visitor, start)
    }
}

/// A line under controls that are a function of the time.
pub struct Shift {
    pub line: Line,
}

impl Shift {
    pub fn new(spec: &LineSpec) -> Self {
        Self {
            line: Line::build(spec),
        }
    }

    /// Runs to a time, with `controls` from here on.
    pub fn hold(&mut self, until_s: f64, controls: Controls) {
        while self.line.time_s() < until_s {
            self.line.tick(&controls);
            assert_eq!(self.line.fault(), None, "the simulation failed");
        }
    }

    pub fn wait(&mut self, until_s: f64) {
        self.hold(until_s, Controls::default());
    }

    pub fn feed(&mut self, until_s: f64) {
        self.hold(until_s, Controls::held([Button::Feed]));
    }

    /// Says something now.
    pub fn say(&mut self, call: Call) {
        self.line.tick(&Controls {
            call: Some(call),
            ..Controls::default()
        });
    }

    pub fn person(&self, i: usize) -> &Person {
        self.line
            .people()
            .get(PersonId(i))
            .expect("the line has that many people")
    }

    /// Runs until something holds, and gives the time; None if it does not by then.
    pub fn until(&mut self, until_s: f64, holds: impl Fn(&Self) -> bool) -> Option<f64> {
        while self.line.time_s() < until_s {
            if holds(self) {
                return Some(self.line.time_s());
            }
            self.line.tick(&Controls::default());
        }
        None
    }
}

pub fn close(one: Place, other: Place, within_m: f64) -> bool {
    (one.x_m - other.x_m).hypot(one.z_m - other.z_m) < within_m
}
