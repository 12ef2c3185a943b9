//! How people hold themselves and walk: from a posture to the places of their bones.
//!
//! A figure's own frame: x to its front, y up, z to its right; the origin is between its feet on the
//! ground. Left comes before right everywhere. In a walk the foot on the ground stays where it is: its
//! way back under the body is the body's way forward.

use std::f32::consts::{PI, TAU};

use bevy::math::{Mat3, Quat, Vec3};
use bevy::transform::components::Transform;

/// Of a grown person of 1.78 m, m.
const HIP_HALF_M: f32 = 0.095;
pub const THIGH_M: f32 = 0.43;
pub const SHIN_M: f32 = 0.42;
const ANKLE_M: f32 = 0.09;
const BALL_AHEAD_M: f32 = 0.13;
const SHOULDER_UP_M: f32 = 0.475;
const SHOULDER_HALF_M: f32 = 0.205;
const NECK_UP_M: f32 = 0.55;
pub const UPPER_ARM_M: f32 = 0.29;
pub const FOREARM_M: f32 = 0.27;

/// Way of the body in two steps, m.
pub const STRIDE_M: f32 = 1.16;
/// Part of that in which a foot is on the ground.
const ON_GROUND: f32 = 0.58;
/// How far a foot is lifted, m, and how far its heel comes up before that, rad.
const LIFT_M: f32 = 0.055;
const HEEL_UP_RAD: f32 = 0.55;

/// The bones, in the order in which [`Posture::bones`] gives them.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Bone {
    Hips,
    Torso,
    Head,
    UpperArm(Side),
    Forearm(Side),
    Thigh(Side),
    Shin(Side),
    Foot(Side),
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Side {
    Left,
    Right,
}

impl Bone {
    pub const ALL: [Self; 13] = [
        Self::Hips,
        Self::Torso,
        Self::Head,
        Self::UpperArm(Side::Left),
        Self::Forearm(Side::Left),
        Self::UpperArm(Side::Right),
        Self::Forearm(Side::Right),
        Self::Thigh(Side::Left),
        Self::Shin(Side::Left),
        Self::Foot(Side::Left),
        Self::Thigh(Side::Right),
        Self::Shin(Side::Right),
        Self::Foot(Side::Right),
    ];
    pub const COUNT: usize = Self::ALL.len();
}

/// The ball of a foot, and how far its heel is up, rad.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Foot {
    pub ball: Vec3,
    pub heel_up_rad: f32,
}

/// How somebody holds themselves.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Posture {
    pub hips: Vec3,
    /// Forwards, rad.
    pub lean_rad: f32,
    /// About the vertical, to the left, rad.
    pub twist_rad: f32,
    /// To the left, and down, rad.
    pub head_turn_rad: f32,
    pub head_nod_rad: f32,
    pub hands: [Vec3; 2],
    pub feet: [Foot; 2],
}

impl Posture {
    pub const STANDING: Self = Self {
        hips: Vec3::new(0.0, 0.915, 0.0),
        lean_rad: 0.02,
        twist_rad: 0.0,
        head_turn_rad: 0.0,
        head_nod_rad: 0.05,
        hands: [Vec3::new(0.07, 0.86, -0.27), Vec3::new(0.07, 0.86, 0.27)],
        feet: [
            Foot {
                ball: Vec3::new(0.11, 0.0, -0.13),
                heel_up_rad: 0.0,
            },
            Foot {
                ball: Vec3::new(0.13, 0.0, 0.13),
                heel_up_rad: 0.0,
            },
        ],
    };

    /// In a walk, so many strides on.
    pub fn walking(strides: f32) -> Self {
        let phase = strides.rem_euclid(1.0);
        let swing = (TAU * phase).cos();
        let bob = 0.5 - 0.5 * (2.0 * TAU * phase).cos();
        Self {
            hips: Vec3::new(0.0, 0.872 + 0.022 * bob, 0.012 * (TAU * phase).sin()),
            lean_rad: 0.06,
            twist_rad: 0.10 * swing,
            head_turn_rad: 0.0,
            head_nod_rad: 0.05,
            hands: [
                Vec3::new(0.07 - 0.20 * swing, 0.86 + 0.04 * swing.abs(), -0.27),
                Vec3::new(0.07 + 0.20 * swing, 0.86 + 0.04 * swing.abs(), 0.27),
            ],
            feet: [step(phase, -0.10), step((phase + 0.5).fract(), 0.10)],
        }
    }

    /// Bent over something low in front: a chock, or a bar under pipe.
    pub fn bent() -> Self {
        Self {
            hips: Vec3::new(-0.16, 0.74, 0.0),
            lean_rad: 0.85,
            head_nod_rad: -0.35,
            hands: [Vec3::new(0.55, 0.62, -0.10), Vec3::new(0.42, 0.78, 0.16)],
            feet: [
                Foot {
                    ball: Vec3::new(0.30, 0.0, -0.15),
                    heel_up_rad: 0.0,
                },
                Foot {
                    ball: Vec3::new(-0.16, 0.0, 0.15),
                    heel_up_rad: 0.25,
                },
            ],
            ..Self::STANDING
        }
    }

    /// At work at the height of the waist; `stroke` from -1 to 1.
    pub fn at_bench(stroke: f32) -> Self {
        Self {
            lean_rad: 0.28,
            head_nod_rad: 0.30,
            hands: [
                Vec3::new(0.42, 1.02, -0.15),
                Vec3::new(0.43, 1.06 + 0.05 * stroke, 0.10),
            ],
            ..Self::STANDING
        }
    }

    /// Watching, with a hand at the helmet's brim.
    pub fn watching() -> Self {
        Self {
            hands: [Self::STANDING.hands[0], Vec3::new(0.17, 1.64, 0.10)],
            lean_rad: 0.0,
            ..Self::STANDING
        }
    }

    /// Saying stop: one arm straight up, the radio at the mouth.
    pub fn saying_stop() -> Self {
        Self {
            hands: [Vec3::new(0.20, 1.50, -0.07), Vec3::new(0.10, 1.98, 0.30)],
            lean_rad: -0.03,
            ..Self::STANDING
        }
    }

    /// Between this one (0) and another (1).
    pub fn towards(&self, other: &Self, share: f32) -> Self {
        let mix = |a: f32, b: f32| a + (b - a) * share;
        let pair = |a: [Vec3; 2], b: [Vec3; 2]| [a[0].lerp(b[0], share), a[1].lerp(b[1], share)];
        Self {
            hips: self.hips.lerp(other.hips, share),
            lean_rad: mix(self.lean_rad, other.lean_rad),
            twist_rad: mix(self.twist_rad, other.twist_rad),
            head_turn_rad: mix(self.head_turn_rad, other.head_turn_rad),
            head_nod_rad: mix(self.head_nod_rad, other.head_nod_rad),
            hands: pair(self.hands, other.hands),
            feet: std::array::from_fn(|i| Foot {
                ball: self.feet[i].ball.lerp(other.feet[i].ball, share),
                heel_up_rad: mix(self.feet[i].heel_up_rad, other.feet[i].heel_up_rad),
            }),
        }
    }

    /// Where the bones are; each hangs down its own y from its joint, its x to the front.
    pub fn bones(&self) -> [Transform; Bone::COUNT] {
        let turn = Quat::from_rotation_y(self.twist_rad);
        let torso = Transform::from_translation(self.hips)
            .with_rotation(turn * Quat::from_rotation_z(-self.lean_rad));
        let neck = torso.transform_point(Vec3::new(0.0, NECK_UP_M, 0.0));
        let head = Transform::from_translation(neck).with_rotation(
            Quat::from_rotation_y(self.head_turn_rad)
                * Quat::from_rotation_z(-self.head_nod_rad - 0.4 * self.lean_rad),
        );
        let hips = Transform::from_translation(self.hips)
            .with_rotation(Quat::from_rotation_y(-0.5 * self.twist_rad));
        let [left_arm, right_arm] = [(0, -1.0), (1, 1.0)].map(|(i, z)| {
            let shoulder =
                torso.transform_point(Vec3::new(0.0, SHOULDER_UP_M, z * SHOULDER_HALF_M));
            // Elbows go back and out.
            let pole = turn * Vec3::new(-0.7, -0.25, 0.45 * z);
            limb(shoulder, self.hands[i], (UPPER_ARM_M, FOREARM_M), pole)
        });
        let [left_leg, right_leg] = [(0, -1.0), (1, 1.0)].map(|(i, z)| {
            let joint = hips.transform_point(Vec3::Z * (z * HIP_HALF_M));
            let foot = self.feet[i];
            let foot_turn = Quat::from_rotation_z(-foot.heel_up_rad);
            let ankle = foot.ball + foot_turn * Vec3::new(-BALL_AHEAD_M, ANKLE_M, 0.0);
            let [thigh, shin] = limb(
                joint,
                ankle,
                (THIGH_M, SHIN_M),
                Vec3::new(1.0, 0.0, 0.12 * z),
            );
            let end = shin.transform_point(Vec3::NEG_Y * SHIN_M);
            [
                thigh,
                shin,
                Transform::from_translation(end).with_rotation(foot_turn),
            ]
        });
        [
            hips,
            torso,
            head,
            left_arm[0],
            left_arm[1],
            right_arm[0],
            right_arm[1],
            left_leg[0],
            left_leg[1],
            left_leg[2],
            right_leg[0],
            right_leg[1],
            right_leg[2],
        ]
    }
}

/// Where the ball of a foot is in its own frame, whose origin is the ankle.
pub const BALL: Vec3 = Vec3::new(BALL_AHEAD_M, -ANKLE_M, 0.0);

/// A foot in a walk; it is set down at phase 0.
fn step(phase: f32, z: f32) -> Foot {
    let reach = 0.5 * ON_GROUND * STRIDE_M;
    let ease = |t: f32| t * t * (3.0 - 2.0 * t);
    let (x, y, heel_up_rad) = if phase < ON_GROUND {
        let done = phase / ON_GROUND;
        let heel = ease(((done - 0.62) / 0.38).clamp(0.0, 1.0));
        (reach - phase * STRIDE_M, 0.0, HEEL_UP_RAD * heel)
    } else {
        let done = (phase - ON_GROUND) / (1.0 - ON_GROUND);
        let toes_up = 0.22 * (PI * ((done - 0.35) / 0.65).clamp(0.0, 1.0)).sin();
        let heel = HEEL_UP_RAD * (1.0 - ease((done * 2.0).min(1.0)));
        let x = -reach + 2.0 * reach * ease(done);
        (x, LIFT_M * (PI * done).sin(), heel - toes_up)
    };
    Foot {
        ball: Vec3::new(x + 0.10, y, z),
        heel_up_rad,
    }
}

/// Whether a foot is on the ground at a phase of the walk.
#[cfg(test)]
fn is_on_ground(strides: f32) -> bool {
    strides.rem_euclid(1.0) < ON_GROUND
}

/// Two bones from a joint towards a point, bent to the pole's side.
fn limb(joint: Vec3, to: Vec3, (upper, lower): (f32, f32), pole: Vec3) -> [Transform; 2] {
    let way = to - joint;
    let reach = way
        .length()
        .clamp((upper - lower).abs() + 1.0e-3, upper + lower - 1.0e-4);
    let along = way.normalize_or(Vec3::NEG_Y);
    let x = (upper * upper - lower * lower + reach * reach) / (2.0 * reach);
    let y = (upper * upper - x * x).max(0.0).sqrt();
    let side = (pole - along * pole.dot(along)).normalize_or(Vec3::X);
    let bend = joint + along * x + side * y;
    let end = joint + along * reach;
    let hang = |from: Vec3, to: Vec3| {
        let up = (from - to).normalize_or(Vec3::Y);
        // The front of a bone looks to the figure's front as far as it can.
        let front = Vec3::X - up * up.x;
        let front = if front.length_squared() > 1.0e-3 {
            front
        } else {
            side
        };
        let front = front.normalize_or(Vec3::X);
        let turn = Mat3::from_cols(front, up, front.cross(up));
        Transform::from_translation(from).with_rotation(Quat::from_mat3(&turn))
    };
    [hang(joint, bend), hang(bend, end)]
}

#[cfg(test)]
mod tests {
    use super::*;

    fn balls(posture: &Posture) -> [Vec3; 2] {
        let bones = posture.bones();
        [9, 12].map(|foot: usize| bones[foot].transform_point(BALL))
    }

    #[test]
    fn a_foot_on_the_ground_stays_where_it_is() {
        let steps = 400;
        for foot in 0..2 {
            let mut stood: Option<Vec3> = None;
            for i in 0..=2 * steps {
                let strides = i as f32 / steps as f32;
                let own = strides + 0.5 * foot as f32;
                let body = Vec3::X * strides * STRIDE_M;
                let ball = body + balls(&Posture::walking(strides))[foot];
                assert!(ball.y > -2.0e-3, "under the ground at {strides}: {ball}");
                if is_on_ground(own) {
                    let began = *stood.get_or_insert(ball);
                    let slid = (ball - began).length();
                    assert!(slid < 3.0e-3, "foot {foot} slid {slid} m at {strides}");
                } else {
                    stood = None;
                }
            }
        }
    }

    #[test]
    fn bones_keep_their_lengths_and_joints_together() {
        let postures = (0..40).map(|i| Posture::walking(i as f32 / 40.0)).chain([
            Posture::STANDING,
            Posture::bent(),
            Posture::at_bench(1.0),
            Posture::watching(),
            Posture::saying_stop(),
        ]);
        for posture in postures {
            let bones = posture.bones();
            for (upper, lower, length) in [
                (3, 4, UPPER_ARM_M),
                (5, 6, UPPER_ARM_M),
                (7, 8, THIGH_M),
                (10, 11, THIGH_M),
                (8, 9, SHIN_M),
                (11, 12, SHIN_M),
            ] {
                let end = bones[upper].transform_point(Vec3::NEG_Y * length);
                let gap = (end - bones[lower].translation).length();
                assert!(gap < 1.0e-3, "{upper} to {lower}: {gap} in {posture:?}");
            }
            // Feet are on the ground or over it.
            for ball in balls(&posture) {
                assert!(ball.y > -2.0e-3, "{posture:?}");
            }
            assert!(bones.iter().all(|bone| bone.rotation.is_normalized()));
        }
    }

    #[test]
    fn knees_bend_forwards_and_elbows_back() {
        for i in 0..20 {
            let posture = Posture::walking(i as f32 / 20.0);
            let bones = posture.bones();
            for (thigh, shin, foot) in [(7, 8, 9), (10, 11, 12)] {
                let [hip, knee, ankle] =
                    [thigh, shin, foot].map(|bone: usize| bones[bone].translation);
                let straight = hip.lerp(ankle, 0.5);
                assert!(knee.x > straight.x - 1.0e-3);
            }
        }
    }

    #[test]
    fn nobody_is_taller_or_shorter_than_people_are() {
        let bones = Posture::STANDING.bones();
        let crown = bones[2].translation.y + 0.25;
        assert!((1.65..1.85).contains(&crown), "{crown}");
    }
}
