//! The fusion machine: a rest at its near end, the end of the string in its jaws, and what the jaws do
//! with the stick that is brought to them.

use crate::domain::rig::{JAW_GAP_M, JAW_REACH_M, Point, Rig};
use crate::sim::world::{PartId, Rollers, Runs, StickId, Touching, World};
use crate::sim::{Pose, Rotation, Vector};

use super::cradles::BEARING;
use super::parts;

/// Natural frequency with which the jaws draw an end on to the centreline, rad/s (ours).
const GRIP_RAD_PER_S: f64 = 8.0;
/// How far behind the stick's end the second pair of jaws grips, in machine half lengths.
const SECOND_GRIP: f64 = 0.6;
/// Part of the mass that each of the two pairs moves.
const GRIP_MASS: f64 = 0.5;

/// What the jaws hold.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Jaws {
    Open,
    /// A stick since a time, s.
    Clamped {
        stick: StickId,
        since_s: f64,
    },
    /// The joint is made and the string is drawn on; `way_m` so far.
    Drawing {
        stick: StickId,
        way_m: f64,
    },
}

/// Where a stick's front end is, seen from the string's end.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FrontEnd {
    /// Off the centreline: away from the rack, and up, m.
    pub off: Point,
    /// Gap to the string, m; negative is pressed together.
    pub gap_m: f64,
}

impl FrontEnd {
    /// Distance from the centreline, m.
    pub fn off_centre_m(&self) -> f64 {
        crate::domain::math::sqrt(self.off.x_m * self.off.x_m + self.off.y_m * self.off.y_m)
    }

    /// Whether the jaws can take it.
    pub fn is_in_reach(&self) -> bool {
        self.off_centre_m() <= JAW_REACH_M && (-JAW_GAP_M / 6.0..=JAW_GAP_M).contains(&self.gap_m)
    }
}

#[derive(Clone, Debug)]
pub struct Machine {
    jaws: Jaws,
    rest: [PartId; 2],
    /// The end of the string that is made already.
    string: PartId,
    string_length_m: f64,
    /// Pose of the joined stick when the drawing began.
    drawn_from: Option<Pose>,
}

impl Machine {
    pub fn build(world: &mut World, rig: &Rig) -> Self {
        let spec = rig.spec();
        let pipe = spec.sticks.first().map(|stick| stick.pipe);
        let (radius_m, string_length_m) = pipe.map_or((rig.setting_radius_m, 12.0), |pipe| {
            (pipe.radius_m(), pipe.length_m)
        });
        let steel = Touching {
            friction: spec.contact.friction(spec.cradles.surface) as f32,
            rolling_lever_arm_m: 0.0,
        };
        let rest = rig.rest(radius_m).map(|face| {
            let part = parts::moving(
                world,
                rig,
                face,
                rig.rest_z_m(),
                rig.rest_half_width_m(),
                steel,
            );
            world.set_rollers(
                part,
                Rollers {
                    along: Runs::Free(BEARING),
                    across: Runs::At(0.0),
                },
            );
            part
        });
        let pipe_on_pipe = Touching {
            friction: spec.contact.friction_pipe_on_pipe as f32,
            rolling_lever_arm_m: 0.0,
        };
        let string = world.add_roller(
            radius_m as f32,
            (string_length_m / 2.0) as f32,
            string_pose(rig, string_length_m, 0.0),
            pipe_on_pipe,
        );
        Self {
            jaws: Jaws::Open,
            rest,
            string,
            string_length_m,
            drawn_from: None,
        }
    }

    pub fn jaws(&self) -> Jaws {
        self.jaws
    }

    /// The stick that the machine has hold of.
    pub fn held(&self) -> Option<StickId> {
        match self.jaws {
            Jaws::Open => None,
            Jaws::Clamped { stick, .. } | Jaws::Drawing { stick, .. } => Some(stick),
        }
    }

    /// Whether a stick touches the rest.
    pub fn rest_carries(&self, world: &World, stick: StickId) -> bool {
        self.rest.into_iter().any(|face| world.touches(face, stick))
    }

    /// Where the front end of a stick is.
    pub fn front_end(&self, world: &World, rig: &Rig, stick: StickId) -> FrontEnd {
        let front = front_of(world, stick, 0.0);
        let at = parts::to_plane(rig, front);
        FrontEnd {
            off: Point {
                x_m: at.x_m,
                y_m: at.y_m - rig.spec().machine.centreline_m,
            },
            gap_m: rig.jaws_z_m() - f64::from(front.z),
        }
    }

    /// Clamps the stick whose end is in reach. None where there is none, or the jaws hold one.
    pub fn clamp(&mut self, world: &World, rig: &Rig) -> Option<StickId> {
        if self.jaws != Jaws::Open {
            return None;
        }
        let stick = world.sticks().find(|&stick| {
            world.is_present(stick) && self.front_end(world, rig, stick).is_in_reach()
        })?;
        self.jaws = Jaws::Clamped {
            stick,
            since_s: world.time_s(),
        };
        Some(stick)
    }

    /// Opens the jaws before the joint is made. The stick they held, if any.
    pub fn unclamp(&mut self) -> Option<StickId> {
        match self.jaws {
            Jaws::Clamped { stick, .. } => {
                self.jaws = Jaws::Open;
                Some(stick)
            }
            _ => None,
        }
    }

    /// One tick, before the world's step. Returns the stick whose joint has been made in it.
    pub fn tick(&mut self, world: &mut World, rig: &Rig, powered: bool) -> Option<StickId> {
        let spec = rig.spec().machine;
        match self.jaws {
            Jaws::Open => None,
            Jaws::Clamped { stick, since_s } => {
                self.grip(world, rig, stick);
                let done = world.time_s() - since_s >= spec.joint_time_s;
                done.then(|| {
                    self.jaws = Jaws::Drawing { stick, way_m: 0.0 };
                    self.drawn_from = Some(world.stick(stick).pose);
                    stick
                })
            }
            Jaws::Drawing { stick, way_m } => {
                let dt_s = f64::from(world.settings().dt_s);
                let way_m = if powered {
                    way_m + spec.draw_m_per_s * dt_s
                } else {
                    way_m
                };
                self.draw(world, rig, stick, way_m);
                None
            }
        }
    }

    /// The joined stick and the string go on together, as one piece, until the stick's tail is where
    /// its front was. Then it is the string.
    fn draw(&mut self, world: &mut World, rig: &Rig, stick: StickId, way_m: f64) {
        let length_m = world.pipe(stick).length_m;
        if way_m >= length_m {
            world.take_out(stick);
            world.set_down_part(self.string, string_pose(rig, self.string_length_m, 0.0));
            self.jaws = Jaws::Open;
            self.drawn_from = None;
            return;
        }
        if let Some(from) = self.drawn_from {
            let on = Vector::Z * way_m as f32;
            world.put(
                stick,
                Pose::from_parts(from.translation + on, from.rotation),
            );
        }
        let pose = string_pose(rig, self.string_length_m, way_m);
        world.move_part(self.string, pose);
        self.jaws = Jaws::Drawing { stick, way_m };
    }

    /// Draws the end on to the centreline and up to the string, with no more than the jaws' force.
    fn grip(&self, world: &mut World, rig: &Rig, stick: StickId) {
        let spec = rig.spec().machine;
        let behind_m = SECOND_GRIP * spec.half_length_m;
        let mass_kg = GRIP_MASS * world.pipe(stick).mass_kg();
        let (stiffness, damping) = (
            (mass_kg * GRIP_RAD_PER_S * GRIP_RAD_PER_S) as f32,
            (2.0 * mass_kg * GRIP_RAD_PER_S) as f32,
        );
        for back_m in [0.0, behind_m] {
            let state = world.stick(stick);
            let point = front_of(world, stick, back_m);
            let velocity = state.velocity + state.spin.cross(point - state.pose.translation);
            let target = Vector::new(
                0.0,
                spec.centreline_m as f32,
                (rig.jaws_z_m() - back_m) as f32,
            );
            let force = (target - point) * stiffness - velocity * damping;
            let force = force.clamp_length_max(0.5 * spec.grip_force_n as f32);
            world.pull(stick, point, force);
        }
    }

    /// The numbers that make up its state, for the state hash.
    pub fn state(&self) -> [f64; 3] {
        match self.jaws {
            Jaws::Open => [0.0; 3],
            Jaws::Clamped { stick, since_s } => [1.0, stick.0 as f64, since_s],
            Jaws::Drawing { stick, way_m } => [2.0, stick.0 as f64, way_m],
        }
    }
}

/// A point on a stick's axis, `back_m` from the end that faces the machine.
fn front_of(world: &World, stick: StickId, back_m: f64) -> Vector {
    let state = world.stick(stick);
    let axis = state.axis() * state.axis().z.signum();
    let reach_m = 0.5 * world.pipe(stick).length_m - back_m;
    state.pose.translation + axis * reach_m as f32
}

fn string_pose(rig: &Rig, length_m: f64, way_m: f64) -> Pose {
    let machine = rig.spec().machine;
    let middle = Vector::new(
        0.0,
        machine.centreline_m as f32,
        (rig.jaws_z_m() + length_m / 2.0 + way_m) as f32,
    );
    Pose::from_parts(middle, Rotation::IDENTITY)
}
