//! The row chocks: wedges that are put on the rails below the lowest stick, and hang beside their
//! rails when they are not in use.

use bevy::prelude::*;

use super::coat::Coat;
use super::kit::{Kit, m, outwards};
use super::rack;
use super::rides::{Now, Rides};
use crate::domain::rig::{End, Rig};
use crate::sim::line::Chocks;

/// How far a chock out of use hangs beside the middle of its rail's side, and under the surface, m.
const HUNG_BESIDE_M: f32 = 0.10;
const HUNG_UNDER_M: f32 = 0.30;

/// Where a chock hangs, up the rail from the toe, m.
fn hung_m(rig: &Rig) -> f32 {
    m(rig.gate_corner_m)
}

/// A chock's frame: its origin is the foot of its uphill face, x down the rail.
pub fn chock(now: &Now, end: End) -> Option<Transform> {
    let shown = Now::of(now.shown.chocks, end)?;
    let rig = now.rig;
    let out = outwards(end);
    let set = Vec3::new(-m(shown.face_m), 0.0, 0.0);
    let side = out * (0.5 * m(rig.spec().rack.rail_width_m) + HUNG_BESIDE_M);
    let hung = Vec3::new(-hung_m(rig), -HUNG_UNDER_M, side);
    let share = m(shown.raised).clamp(0.0, 1.0);
    let way = share * share * (3.0 - 2.0 * share);
    let over = Vec3::new(0.0, 0.35 * (std::f32::consts::PI * way).sin(), out * 0.05);
    let at = hung.lerp(set, way) + over * f32::from(share < 1.0);
    Some(rack::rail(now, end) * Transform::from_translation(at))
}

pub fn build(kit: &mut Kit) {
    let rig = kit.rig;
    let (high, thick) = (m(Chocks::height_m(rig)), m(Chocks::thickness_m(rig)));
    let half = m(Chocks::HALF_WIDTH_M);
    let rail_half = 0.5 * m(rig.spec().rack.rail_width_m);
    for end in End::BOTH {
        let out = outwards(end);
        // The bracket stays, whether there is a chock or not.
        let bracket = kit.on(Rides::Rail(end));
        let x = -hung_m(rig);
        let z = out * (rail_half + 0.5 * HUNG_BESIDE_M);
        bracket.plate(
            Coat::Dark,
            Transform::from_xyz(x + thick, -HUNG_UNDER_M - 0.010, z),
            Vec3::new(0.06 + thick, 0.008, 0.5 * HUNG_BESIDE_M + half),
        );
        bracket.plate(
            Coat::Dark,
            Transform::from_xyz(
                x + thick,
                -0.5 * HUNG_UNDER_M - 0.05,
                out * (rail_half + 0.006),
            ),
            Vec3::new(0.03, 0.5 * HUNG_UNDER_M - 0.03, 0.006),
        );
        if rig.faults(end).chock_missing {
            continue;
        }
        let chock = kit.on(Rides::Chock(end));
        // Uphill of the slope it is as thick as the core has it.
        let outline = [
            Vec2::ZERO,
            Vec2::new(0.0, high),
            Vec2::new(0.35 * thick, high),
            Vec2::new(thick + 1.1 * high, 0.016),
            Vec2::new(thick + 1.1 * high, 0.0),
        ];
        chock.cut(Coat::Sand, Transform::IDENTITY, &outline, half);
        chock.block(
            Coat::Rubber,
            Vec3::new(0.0, 0.01, -half + 0.006),
            Vec3::new(0.012, high - 0.012, half - 0.006),
        );
        for side in [-1.0, 1.0] {
            let z = side * (rail_half + 0.010);
            chock.plate(
                Coat::Slate,
                Transform::from_xyz(0.6 * thick + 0.3 * high, -0.02, z),
                Vec3::new(0.5 * thick + 0.3 * high, 0.035, 0.007),
            );
            chock.plate(
                Coat::Slate,
                Transform::from_xyz(thick + 0.5 * high, 0.008, 0.5 * side * (half + rail_half)),
                Vec3::new(0.03, 0.007, 0.5 * (rail_half - half).max(0.01) + 0.01),
            );
        }
        let grip = Vec3::new(thick + 0.7 * high, 0.02, 0.0);
        let end_of_grip = grip + Vec3::new(0.12, 0.10, out * 0.42);
        chock.rod(Coat::Dark, grip, end_of_grip, 0.011);
        chock.rod(
            Coat::Rubber,
            grip.lerp(end_of_grip, 0.75),
            end_of_grip,
            0.016,
        );
    }
}
