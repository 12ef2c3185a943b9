//! Placing the row on the rack.

use crate::domain::math::{atan2, cos, sin, sqrt};
use crate::domain::oval::Oval;
use crate::domain::rig::{End, NOTCH_RAD, Point, Rig};
use crate::domain::spec::{EscapementKind, StickSpec};
use crate::sim::world::{StickState, rotation_about_z};
use crate::sim::{Pose, Rotation, Vector};

use super::parts;

/// Where every stick of the row lies before the run, touching nothing but by its own weight.
pub fn placed(rig: &Rig) -> Vec<StickState> {
    // On rails of unlike pitch every stick is tilted a little, and the middle of the row runs on a
    // slope between the two: the places along the rails are further apart than along that.
    let pitches = End::BOTH.map(|side| rig.rail(side).pitch_rad);
    let half_twist_rad = (pitches[0] - pitches[1]) / 2.0;
    let mut states = Vec::new();
    let mut below: Option<(f64, Section)> = None;
    for stick in &rig.spec().sticks {
        let section = Section::of(stick);
        let along_m = match below {
            None => against_gate(rig, &section) + stick.gap_m,
            Some((along_m, other)) => {
                along_m + beside(&other, &section) / cos(half_twist_rad) + stick.gap_m
            }
        };
        states.push(state(rig, stick, &section, along_m));
        below = Some((along_m, section));
    }
    states
}

/// A stick's section as it lies.
#[derive(Clone, Copy)]
pub struct Section {
    pub oval: Oval,
    /// Angle of the long axis above the rail, rad.
    pub angle_rad: f64,
}

impl Section {
    fn of(stick: &StickSpec) -> Self {
        Self {
            oval: stick.pipe.oval(),
            angle_rad: stick.long_axis_rad,
        }
    }

    /// How far it reaches in a direction at `angle_rad` from the rail, m.
    fn reach_m(&self, angle_rad: f64) -> f64 {
        self.oval.reach_m(angle_rad - self.angle_rad)
    }

    /// Height of the centre over the rail, m.
    fn height_m(&self) -> f64 {
        self.reach_m(core::f64::consts::FRAC_PI_2)
    }

    /// Whether a point relative to the centre lies inside.
    fn holds(&self, x: f64, y: f64) -> bool {
        let (c, s) = (cos(self.angle_rad), sin(self.angle_rad));
        let (u, v) = (
            (x * c + y * s) / self.oval.long_m,
            (y * c - x * s) / self.oval.short_m,
        );
        u * u + v * v < 1.0
    }
}

/// Distance of the centres of two touching sticks along the rail, m (never less than it must be).
fn beside(first: &Section, second: &Section) -> f64 {
    // Along the line of centres, which is inclined where the heights differ.
    let rise = second.height_m() - first.height_m();
    let mut along = first.reach_m(0.0) + second.reach_m(0.0);
    for _ in 0..4 {
        let angle = atan2(rise, along);
        let gap = sqrt(along * along + rise * rise);
        along += first.reach_m(angle) + second.reach_m(angle) - gap;
    }
    along
}

/// Place of the first stick's centre when it just clears the raised gate, m up from the toe.
fn against_gate(rig: &Rig, section: &Section) -> f64 {
    let corner = rig.gate_corner_m;
    match rig.spec().escapement.kind {
        EscapementKind::PinPair => corner + beside_post(section, rig.gate_height_m),
        EscapementKind::StarWheel => {
            // A spoke leans away by half a notch: the stick lies on its face, below its corner,
            // unless it is large for the wheel.
            let lean = NOTCH_RAD / 2.0;
            let height = rig.gate_height_m + rig.spoke_thickness_m / 2.0 * cos(lean);
            let above = (section.height_m() - height) * sin(lean);
            let on_face = (section.reach_m(lean) - above) / cos(lean);
            corner + on_face.max(beside_post(section, height))
        }
    }
}

/// Distance of a stick's centre from the corner of a post `height_m` high that it leans on, along
/// the rail, m.
pub fn beside_post(section: &Section, height_m: f64) -> f64 {
    // Everything of the post from the rail to its corner must be outside: the corner decides as long
    // as it is lower than the centre, the face beyond that.
    let level = height_m.min(section.height_m()) - section.height_m();
    let (mut inside, mut outside) = (0.0, 2.0 * section.oval.long_m);
    for _ in 0..60 {
        let middle = (inside + outside) / 2.0;
        if section.holds(-middle, level) {
            inside = middle;
        } else {
            outside = middle;
        }
    }
    outside
}

fn state(rig: &Rig, stick: &StickSpec, section: &Section, along_m: f64) -> StickState {
    // The two points of the axis over the rails.
    let over = |side: End| {
        let z = rig.rail_z_m(side);
        let along = along_m + crate::domain::math::tan(stick.yaw_rad) * z;
        let point: Point = rig.on_rail(side, along, section.height_m());
        parts::to_world(rig, point, z)
    };
    let (near, far) = (over(End::Near), over(End::Far));
    let axis = (near - far).normalize();
    let pitch = (rig.rail(End::Near).pitch_rad + rig.rail(End::Far).pitch_rad) / 2.0;
    // The long axis points up the rack and above its surface by the given angle.
    let about_own = rotation_about_z(rig.mirror() * (-pitch - stick.long_axis_rad));
    let tilt = Rotation::from_rotation_arc(Vector::Z, axis);
    StickState {
        pose: Pose::from_parts(
            (near + far) * 0.5 + axis * stick.offset_m as f32,
            tilt * about_own,
        ),
        velocity: Vector::ZERO,
        spin: Vector::ZERO,
    }
}
