//! What the rigger and the technician do when they are asked.

use serde::{Deserialize, Serialize};

use crate::domain::rig::{End, Point, Rig};
use crate::domain::spec::{Duty, Item, Place};
use crate::sim::Vector;
use crate::sim::controls::Call;
use crate::sim::world::{StickId, World};

use super::super::chocks::{is_row, lowest_on_rack};
use super::super::parts;
use super::strike::{PERSON_RADIUS_M, ends_of};
use super::ways::{MACHINE_HALF_WIDTH_M, distance_m};

/// Horizontal push of somebody with a bar, N (common practice, no source).
pub const BAR_FORCE_N: f64 = 600.0;
/// How far one bite of the bar moves a stick, m, and how long it is tried, s (ours).
pub const BITE_M: f64 = 0.050;
pub const BITE_S: f64 = 3.0;
/// Time from one bite to the next, s, and how many are tried (ours).
const REBITE_S: f64 = 0.5;
const BITES: u32 = 10;
/// A stick that goes faster is let go, m/s (ours).
const GONE_M_PER_S: f64 = 0.30;
/// Time that setting or taking a chock takes at one rail, s (ours).
pub const CHOCKING_S: f64 = 4.0;
/// Time that a repair takes, s (ours, shortened for training).
const REPAIR_S: f64 = 20.0;
/// Clear room between somebody at work and a stick, m: with a bar from its end, with one from below,
/// and with a chock on a pole (ours).
const END_CLEARANCE_M: f64 = 0.30;
const BELOW_CLEARANCE_M: f64 = 0.50;
/// How far uphill of its axis somebody stands who bars a stick from its end, m (ours).
const BEHIND_M: f64 = 0.50;
/// How far outside a rail somebody stands who chocks from uphill, m (ours).
const BESIDE_RAIL_M: f64 = 0.50;
/// How near to the jaws the technician must be to work them, and how far from the line's centre they
/// stand otherwise, m (ours).
const JAWS_REACH_M: f64 = 3.0;
const JAWS_SIDE_M: f64 = 1.2;

/// Where a stick is barred.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum BarFrom {
    /// At one of its ends, from behind and outside.
    End(End),
    /// In its middle, from below, towards the rigger.
    Below,
}

/// Something that somebody has done in this tick, for the line to carry out. A push with the bar the
/// people carry out themselves.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Deed {
    /// The chock of a rail is set below a stick.
    SetChock { side: End, below: StickId },
    /// The chock of a rail is taken away.
    TakeChock { side: End },
    /// A bite with the bar begins.
    Bar { stick: StickId, from: BarFrom },
    /// The jaws are closed.
    Clamp,
    /// The jaws are opened.
    Unclamp,
    /// An item is put right.
    Repair(Item),
}

/// A task of several seconds. The places come from the line as it is when the task gets there.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Job {
    Chock { set: bool },
    Bar { stick: StickId, from: BarFrom },
    Jaws { clamp: bool },
    Repair(Item),
}

/// How far somebody is with a job.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Progress {
    job: Job,
    /// Where they came from and go back to.
    pub home: Place,
    /// Stations done, and how many there are: a rail is one, a bite is one.
    done: u32,
    of: u32,
    /// The rail that is served first.
    first: End,
    /// Time at this station, s; below 0 it is got ready.
    since_s: f64,
    /// Where the stick was along x when the bite began, m.
    began_x_m: f64,
}

/// What a tick of work comes to.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Work {
    pub deed: Option<Deed>,
    pub pull: Option<(StickId, Vector, Vector)>,
    /// The next station is to be gone to, or the job is done.
    pub next: bool,
}

/// Whose job a call is.
pub fn duty_of(call: Call) -> Option<Duty> {
    match call {
        Call::Chock
        | Call::Unchock
        | Call::BarFromEnd(_)
        | Call::BarFromBelow
        | Call::Repair(_) => Some(Duty::Rigger),
        Call::Clamp | Call::Unclamp => Some(Duty::Technician),
        Call::Clear | Call::Load | Call::Hold | Call::Release => None,
    }
}

impl Progress {
    /// What a call asks for, if there is anything to do it on.
    pub fn new(call: Call, world: &World, rig: &Rig, home: Place) -> Option<Self> {
        let hanging = lowest_on_rack(world, rig);
        let (job, of) = match call {
            Call::Chock => (hanging.map(|_| Job::Chock { set: true })?, 2),
            Call::Unchock => (Job::Chock { set: false }, 2),
            Call::BarFromEnd(end) => {
                let from = BarFrom::End(end);
                (hanging.map(|stick| Job::Bar { stick, from })?, BITES)
            }
            Call::BarFromBelow => {
                let from = BarFrom::Below;
                (hanging.map(|stick| Job::Bar { stick, from })?, BITES)
            }
            Call::Clamp => (Job::Jaws { clamp: true }, 1),
            Call::Unclamp => (Job::Jaws { clamp: false }, 1),
            Call::Repair(item) => (Job::Repair(item), 1),
            Call::Clear | Call::Load | Call::Hold | Call::Release => return None,
        };
        Some(Self {
            job,
            home,
            done: 0,
            of,
            first: if home.z_m >= 0.0 { End::Near } else { End::Far },
            since_s: 0.0,
            began_x_m: 0.0,
        })
    }

    /// The rail of this station.
    fn side(&self) -> End {
        match (self.first, self.done) {
            (first, 0) => first,
            (End::Near, _) => End::Far,
            (End::Far, _) => End::Near,
        }
    }

    /// Where to stand for this station; None where it is done from where one stands.
    pub fn stand(&self, world: &World, rig: &Rig) -> Option<Place> {
        match self.job {
            Job::Chock { .. } => Some(chocking_stand(world, rig, self.side())),
            Job::Bar { .. } if self.done > 0 => None,
            Job::Bar { stick, from } => Some(barring_stand(world, rig, stick, from)),
            // Couplers, valves and spares are at the power pack, outside the line, where he waits.
            Job::Repair(_) => None,
            Job::Jaws { .. } => {
                let (x_m, z_m) = (JAWS_SIDE_M, rig.jaws_z_m());
                let jaws = Place { x_m: 0.0, z_m };
                (distance_m(self.home, jaws) > JAWS_REACH_M).then_some(Place { x_m, z_m })
            }
        }
    }

    /// Goes on to the next station; false after the last.
    pub fn next(&mut self) -> bool {
        self.done += 1;
        self.since_s = self.since_s.min(0.0);
        self.done < self.of
    }

    /// The numbers that make up its state, for the state hash.
    pub fn state(&self) -> [f64; 8] {
        let (kind, stick) = match self.job {
            Job::Chock { set } => (u8::from(set), 0),
            Job::Jaws { clamp } => (2 + u8::from(clamp), 0),
            Job::Repair(item) => (7, super::person::number_of(Call::Repair(item)) as usize),
            Job::Bar { stick, from } => match from {
                BarFrom::End(end) => (4 + end as u8, stick.0),
                BarFrom::Below => (6, stick.0),
            },
        };
        [
            f64::from(kind),
            stick as f64,
            f64::from(self.first as u8),
            f64::from(self.done),
            self.since_s,
            self.began_x_m,
            self.home.x_m,
            self.home.z_m,
        ]
    }

    /// What is looked at during the work.
    pub fn sight(&self, world: &World, rig: &Rig) -> Place {
        match self.job {
            Job::Chock { .. } => Place {
                x_m: gate_x_m(rig, self.side()),
                z_m: rig.rail_z_m(self.side()),
            },
            Job::Bar { stick, .. } => middle(world, rig, stick),
            Job::Jaws { .. } | Job::Repair(_) => Place {
                x_m: 0.0,
                z_m: rig.jaws_z_m(),
            },
        }
    }

    /// One tick of work at this station.
    pub fn work(&mut self, world: &World, rig: &Rig, dt_s: f64) -> Work {
        if self.since_s < 0.0 {
            // The bar is set anew while the stick goes on or rocks back.
            self.since_s = (self.since_s + dt_s).min(0.0);
            return Work::default();
        }
        let begins = self.since_s == 0.0;
        self.since_s += dt_s;
        match self.job {
            Job::Chock { set } if self.since_s >= CHOCKING_S => {
                let side = self.side();
                let deed = if set {
                    lowest_on_rack(world, rig).map(|below| Deed::SetChock { side, below })
                } else {
                    Some(Deed::TakeChock { side })
                };
                Work {
                    deed,
                    next: true,
                    ..Work::default()
                }
            }
            Job::Repair(item) if self.since_s >= REPAIR_S => Work {
                deed: Some(Deed::Repair(item)),
                next: true,
                ..Work::default()
            },
            Job::Chock { .. } | Job::Repair(_) => Work::default(),
            Job::Bar { stick, from } => self.bar(world, rig, stick, from, begins),
            Job::Jaws { clamp } => Work {
                deed: Some(if clamp { Deed::Clamp } else { Deed::Unclamp }),
                next: true,
                ..Work::default()
            },
        }
    }

    fn bar(
        &mut self,
        world: &World,
        rig: &Rig,
        stick: StickId,
        from: BarFrom,
        begins: bool,
    ) -> Work {
        let x_m = middle(world, rig, stick).x_m;
        if begins {
            self.began_x_m = x_m;
        }
        let moved = x_m - self.began_x_m >= BITE_M;
        let speed = f64::from(world.stick(stick).velocity.length());
        if speed > GONE_M_PER_S || (self.since_s > BITE_S && !moved) {
            self.done = self.of - 1;
            return Work {
                next: true,
                ..Work::default()
            };
        }
        if moved {
            self.since_s = -REBITE_S;
            return Work {
                next: true,
                ..Work::default()
            };
        }
        let force = Vector::new((rig.mirror() * BAR_FORCE_N) as f32, 0.0, 0.0);
        let point = match from {
            BarFrom::End(end) => end_of(world, stick, end),
            BarFrom::Below => world.stick(stick).pose.translation,
        };
        Work {
            deed: begins.then_some(Deed::Bar { stick, from }),
            pull: Some((stick, point, force)),
            next: false,
        }
    }
}

/// A point of the world in the plan of a right-handed line.
pub fn in_plan(rig: &Rig, point: Vector) -> Place {
    let Point { x_m, .. } = parts::to_plane(rig, point);
    Place {
        x_m,
        z_m: f64::from(point.z),
    }
}

fn middle(world: &World, rig: &Rig, stick: StickId) -> Place {
    in_plan(rig, world.stick(stick).pose.translation)
}

fn end_of(world: &World, stick: StickId, end: End) -> Vector {
    let [one, other] = ends_of(world, stick);
    if (one.z > other.z) == (end == End::Near) {
        one
    } else {
        other
    }
}

fn gate_x_m(rig: &Rig, side: End) -> f64 {
    rig.on_rail(side, rig.gate_corner_m, 0.0).x_m
}

/// Outside the sticks' path: uphill of a stick that lies alone, beyond the end of one in a row, with
/// the chock on a pole.
fn chocking_stand(world: &World, rig: &Rig, side: End) -> Place {
    let rail_z_m = rig.rail_z_m(side);
    let beside_z_m = rail_z_m + BESIDE_RAIL_M * rail_z_m.signum();
    let Some(stick) = lowest_on_rack(world, rig) else {
        return Place {
            x_m: gate_x_m(rig, side),
            z_m: beside_z_m,
        };
    };
    if is_row(world, rig) {
        return beyond_end(world, rig, stick, side, 0.0);
    }
    let clear_m = f64::from(PERSON_RADIUS_M) + END_CLEARANCE_M;
    Place {
        x_m: middle(world, rig, stick).x_m - world.pipe(stick).radius_m() - clear_m,
        z_m: beside_z_m,
    }
}

/// Beyond an end of a stick, some way uphill of its axis, and beside the fusion machine.
fn beyond_end(world: &World, rig: &Rig, stick: StickId, end: End, uphill_m: f64) -> Place {
    let at = in_plan(rig, end_of(world, stick, end));
    let beside_m = match end {
        End::Near => -MACHINE_HALF_WIDTH_M,
        End::Far => f64::INFINITY,
    };
    let clear_m = END_CLEARANCE_M + f64::from(PERSON_RADIUS_M);
    Place {
        x_m: (at.x_m - uphill_m).min(beside_m),
        z_m: at.z_m + clear_m * rig.rail_z_m(end).signum(),
    }
}

fn barring_stand(world: &World, rig: &Rig, stick: StickId, from: BarFrom) -> Place {
    match from {
        BarFrom::End(end) => beyond_end(world, rig, stick, end, BEHIND_M),
        BarFrom::Below => {
            let at = middle(world, rig, stick);
            let clear_m = f64::from(PERSON_RADIUS_M) + BELOW_CLEARANCE_M;
            Place {
                x_m: at.x_m + world.pipe(stick).radius_m() + clear_m,
                z_m: at.z_m,
            }
        }
    }
}
