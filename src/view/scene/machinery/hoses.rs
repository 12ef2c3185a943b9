//! Hoses from the power pack to every motion, laid along the rack's side of the line, with the quick
//! couplers that join them to what they move.
//!
//! A pair is told apart by its rings: one ring belongs to the port with one mark, two to the other.

use bevy::prelude::*;

use super::coat::Coat;
use super::fusion::Machine;
use super::kit::{Kit, m, outwards};
use super::piece::Piece;
use super::rides::{Rides, ground_m};
use crate::domain::rig::{End, Rig};
use crate::domain::spec::{Coupler, Motion};

/// Radius of a hose, m.
const HOSE_M: f32 = 0.015;
/// Height of the upper coupler of a pair, and of the lower one, m.
const PORTS_M: [f32; 2] = [0.40, 0.32];
/// A coupler's length when it is home, and how far a half-latched one stands off, m.
const HOME_M: f32 = 0.070;
const HALF_OFF_M: f32 = 0.026;
/// How far the panels stand off what they serve, m.
const PANEL_M: f32 = 0.15;
/// From one motion's coupler to the next on a panel, m.
const PANEL_STEP_M: f32 = 0.17;
/// From one hose to the next where they lie side by side, m.
const LAID_M: f32 = 0.042;
/// Pairs: one for every motion, and one for the escapement.
const PAIRS: usize = Motion::ALL.len() + 1;

/// Where the couplers of a motion are, in the plan.
pub fn coupler(rig: &Rig, motion: Motion) -> Vec3 {
    let y = 0.5 * (PORTS_M[0] + PORTS_M[1]);
    let on_column = |end: End, place: f32| {
        let column = rig.spec().cradles.column(end);
        let x = m(column.offset_m) - 0.5 - PANEL_M;
        Vec3::new(x, y, m(rig.cradle_z_m(end)) + place * PANEL_STEP_M)
    };
    let at = match motion {
        Motion::Receiver => {
            let z = m(rig.arm_z_m(End::Near));
            Vec3::new(-0.5 - 3.0 * PANEL_M, y, z)
        }
        Motion::LiftNear => on_column(End::Near, -1.0),
        Motion::ShiftNear => on_column(End::Near, 0.0),
        Motion::Advance => on_column(End::Near, 1.0),
        Motion::LiftFar => on_column(End::Far, -1.0),
        Motion::ShiftFar => on_column(End::Far, 0.0),
        Motion::Turn => on_column(End::Far, 1.0),
    };
    at + Vec3::Y * ground_m(rig, at.x, at.z)
}

/// The lane along the line in which the hoses lie: its side towards the line, in the plan.
fn lane_x(rig: &Rig) -> f32 {
    -(m(rig.toe_m) + 0.30).max(1.25)
}

/// A point of a motion's hose where it lies in the lane, halfway to its coupler.
pub fn hose(rig: &Rig, motion: Motion) -> Vec3 {
    let machine = Machine::of(rig);
    let z = 0.5 * (machine.z - machine.half_length + coupler(rig, motion).z);
    let x = lane_x(rig) - LAID_M * 2.0 * motion as usize as f32;
    Vec3::new(x, ground_m(rig, x, z) + HOSE_M, z)
}

/// Middle of the power pack, in the plan.
pub fn power_pack(rig: &Rig) -> Vec3 {
    let machine = Machine::of(rig);
    Vec3::new(
        -0.35 * machine.half_width,
        0.5 * (machine.ground + machine.deck),
        machine.z + 0.5 * machine.half_length,
    )
}

/// The manifold at the machine's near end from which the pairs go out.
fn manifold(rig: &Rig, pair: usize, hose: usize) -> Vec3 {
    let machine = Machine::of(rig);
    Vec3::new(
        -0.70 * machine.half_width + 0.075 * pair as f32,
        machine.deck - 0.24 - 0.07 * hose as f32,
        machine.z - machine.half_length - 0.03,
    )
}

pub fn build(kit: &mut Kit) {
    pack(kit);
    panels(kit);
    for motion in Motion::ALL {
        pair_of(kit, motion);
        risers(kit, motion);
        leak(kit, motion);
    }
    escapement(kit);
}

/// A smooth way through points.
fn eased(points: &[Vec3], steps: u32) -> Vec<Vec3> {
    let at = |index: usize| points[index.min(points.len() - 1)];
    let mut way = Vec::with_capacity(points.len() * steps as usize);
    for index in 0..points.len().saturating_sub(1) {
        let (a, b, c, d) = (
            at(index.saturating_sub(1)),
            at(index),
            at(index + 1),
            at(index + 2),
        );
        // The handles are as long as the shorter neighbour allows, so that the way does not swing out.
        let reach = (c - b).length();
        let handle = |v: Vec3| v.normalize_or_zero() * reach.min(0.5 * v.length());
        let (from, to) = (handle(c - a), handle(d - b));
        for step in 0..steps {
            let t = step as f32 / steps as f32;
            let (t2, t3) = (t * t, t * t * t);
            way.push(
                b * (2.0 * t3 - 3.0 * t2 + 1.0)
                    + from * (t3 - 2.0 * t2 + t)
                    + c * (3.0 * t2 - 2.0 * t3)
                    + to * (t3 - t2),
            );
        }
    }
    way.extend(points.last());
    way
}

fn steps(piece: &Piece) -> u32 {
    if piece.is_detailed() { 7 } else { 2 }
}

/// From the manifold down to the ground, along the lane, and across to where it ends: `last` are its
/// last points, the first of them on the ground.
fn laid(rig: &Rig, pair: usize, hose: usize, last: &[Vec3], steps: u32) -> Vec<Vec3> {
    let Some(&to) = last.first() else {
        return Vec::new();
    };
    let from = manifold(rig, pair, hose);
    let lane = lane_x(rig) - LAID_M * (2 * pair + hose) as f32;
    let on_ground = |x: f32, z: f32| Vec3::new(x, ground_m(rig, x, z) + HOSE_M, z);
    let mut points = vec![
        from,
        from - Vec3::Z * 0.14,
        Vec3::new(from.x, 0.45 * from.y, from.z - 0.36),
        on_ground(from.x + 0.15 * (lane - from.x), from.z - 0.70),
        on_ground(lane, from.z - 1.1 - 0.1 * pair as f32),
    ];
    // It lies a little to and fro.
    let turn_z = to.z + 0.30 + 0.02 * pair as f32;
    let begins = from.z - 1.1 - 0.1 * pair as f32;
    let bends = (((begins - turn_z) / 1.7) as u32).max(1);
    for bend in 1..bends {
        let z = begins + (turn_z - begins) * bend as f32 / bends as f32;
        let sway = 0.012 * ((bend * 7 + pair as u32 * 3) as f32).sin();
        points.push(on_ground(lane + sway, z));
    }
    points.push(on_ground(lane, turn_z));
    points.push(on_ground(lane + 0.5 * (to.x - lane), to.z + 0.02));
    points.extend(last);
    let mut way = eased(&points, steps);
    // It bends, but not into the ground.
    for point in &mut way {
        point.y = point.y.max(ground_m(rig, point.x, point.z) + HOSE_M);
    }
    way
}

fn pair_of(kit: &mut Kit, motion: Motion) {
    let rig = kit.rig;
    let faults = rig.spec().faults.motion(motion);
    let pair = motion as usize;
    let middle = coupler(rig, motion);
    for (hose, port_m) in PORTS_M.into_iter().enumerate() {
        let port = middle + Vec3::Y * (port_m - 0.5 * (PORTS_M[0] + PORTS_M[1]));
        // How far it is from home; None where it is off. One hose of the pair is enough.
        let off = match faults.coupler {
            Coupler::Half if hose == 0 => Some(HALF_OFF_M),
            Coupler::Off if hose == 0 => None,
            _ => Some(0.0),
        };
        let back = Vec3::NEG_X;
        let rings = if (hose == 1) != faults.crossed { 2 } else { 1 };
        let piece = kit.on(Rides::Ground);
        // The nipple is part of the panel; a bare one shows its bright groove.
        piece.rod(Coat::Machined, port, port + back * 0.050, 0.013);
        piece.rod(Coat::Galvanised, port, port + back * 0.014, 0.021);
        for mark in 0..=hose {
            let at = port + Vec3::new(-0.0075, 0.0, 0.040 + 0.018 * mark as f32);
            piece.plate(
                Coat::Chalk,
                Transform::from_translation(at),
                Vec3::new(0.002, 0.012, 0.005),
            );
        }
        let (start, along) = match off {
            // One that is not home hangs a little.
            Some(off) => {
                let droop = if off > 0.0 { -0.14 } else { 0.0 };
                let along = Vec3::new(-1.0, droop, 0.0).normalize();
                (port + back * (0.015 + off), along)
            }
            // It lies on the ground under its port.
            None => {
                let y = ground_m(rig, port.x, port.z) + 0.022;
                let at = Vec3::new(port.x - 0.16, y, port.z + 0.05);
                (at, Vec3::new(-1.0, 0.05, 0.25).normalize())
            }
        };
        let home = start + along * HOME_M;
        piece.rod(Coat::Galvanised, start, home, 0.026);
        piece.rod(
            Coat::Dark,
            start + along * 0.012,
            start + along * 0.040,
            0.0295,
        );
        let tail = home + along * 0.05;
        piece.rod(Coat::Machined, home, tail, 0.017);
        for ring in 0..rings {
            let at = tail + along * (0.010 + 0.020 * ring as f32);
            piece.rod(Coat::Chalk, at, at + along * 0.009, HOSE_M + 0.003);
        }
        let falls = tail + along * 0.12 - Vec3::Y * if off.is_some() { 0.05 } else { 0.0 };
        let lies = Vec3::new(
            falls.x - 0.16,
            ground_m(rig, falls.x - 0.16, falls.z) + HOSE_M,
            falls.z + 0.05,
        );
        let last = [lies, falls, tail - along * 0.01];
        let way = laid(rig, pair, hose, &last, steps(piece));
        piece.swept(Coat::Hose, &way, HOSE_M);
    }
}

/// The panels that the couplers sit on.
fn panels(kit: &mut Kit) {
    let rig = kit.rig;
    let places = [
        (coupler(rig, Motion::Receiver), 0.09),
        (coupler(rig, Motion::ShiftNear), 0.27),
        (coupler(rig, Motion::ShiftFar), 0.27),
    ];
    for (at, half) in places {
        let ground = ground_m(rig, at.x, at.z);
        let piece = kit.on(Rides::Ground);
        let plate = Transform::from_xyz(at.x + 0.006, at.y, at.z);
        piece.plate(Coat::Plastic, plate, Vec3::new(0.006, 0.10, half));
        for side in [-1.0, 1.0] {
            let z = at.z + side * (half - 0.03);
            piece.block(
                Coat::Slate,
                Vec3::new(at.x + 0.012, ground, z - 0.02),
                Vec3::new(at.x + 0.032, at.y + 0.08, z + 0.02),
            );
            piece.block(
                Coat::Slate,
                Vec3::new(at.x + 0.012, ground, z - 0.02),
                Vec3::new(at.x + 0.12, ground + 0.012, z + 0.02),
            );
        }
    }
}

/// From a panel on to what it moves.
fn risers(kit: &mut Kit, motion: Motion) {
    let rig = kit.rig;
    let from = coupler(rig, motion);
    let start = |hose: usize| {
        let y = PORTS_M[hose] - 0.5 * (PORTS_M[0] + PORTS_M[1]);
        from + Vec3::new(0.012, y, 0.0)
    };
    if motion == Motion::Receiver {
        for end in End::BOTH {
            let z = m(rig.arm_z_m(end));
            for hose in 0..2 {
                let begin = start(hose);
                let foot = Vec3::new(-0.22, 0.26 + 0.05 * hose as f32, z - outwards(end) * 0.06);
                let mut points = vec![begin, begin + Vec3::X * 0.10];
                if end == End::Far {
                    let x = begin.x + 0.20 + 0.04 * hose as f32;
                    for share in [0.06, 0.35, 0.65, 0.94] {
                        let z = begin.z + (z - begin.z) * share;
                        points.push(Vec3::new(x, ground_m(rig, x, z) + HOSE_M, z));
                    }
                }
                points.extend([foot - Vec3::X * 0.16, foot]);
                let piece = kit.on(Rides::Ground);
                let way = eased(&points, steps(piece));
                piece.swept(Coat::Hose, &way, HOSE_M);
            }
        }
        return;
    }
    let (end, conduit) = match motion {
        Motion::LiftNear => (End::Near, None),
        Motion::LiftFar => (End::Far, None),
        Motion::ShiftNear => (End::Near, Some(-0.05)),
        Motion::ShiftFar => (End::Far, Some(-0.05)),
        Motion::Advance => (End::Near, Some(0.05)),
        _ => (End::Far, Some(0.05)),
    };
    let column = m(rig.spec().cradles.column(end).offset_m);
    let z0 = m(rig.cradle_z_m(end));
    let head = m(rig.apex_low_m()) - 0.275;
    let top = (head - 0.03).max(0.34);
    for hose in 0..2 {
        let begin = start(hose);
        let piece = kit.on(Rides::Ground);
        let goal = match conduit {
            None => {
                let up = if hose == 0 { 0.80 } else { 0.16 };
                Vec3::new(column - 0.26, 0.23 + up * (top - 0.27), z0 - 0.01)
            }
            Some(z) => Vec3::new(column - 0.165, 0.26, z0 + z * 2.4 + 0.03 * hose as f32),
        };
        let points = [
            begin,
            begin + Vec3::X * 0.09,
            Vec3::new(
                begin.x + 0.20,
                0.5 * (begin.y + goal.y) - 0.08,
                0.5 * (begin.z + goal.z),
            ),
            goal - Vec3::new(0.05, 0.05, 0.0),
            goal,
        ];
        let way = eased(&points, steps(piece));
        piece.swept(Coat::Hose, &way, HOSE_M * 0.8);
        if let Some(z) = conduit {
            // A hose that goes up with the mast comes out of a tube beside the column.
            let (x, z) = (-0.165, z * 2.4 + 0.03 * hose as f32);
            let tube = kit.on(Rides::Column(end));
            tube.tube(
                Coat::Dark,
                Vec3::new(x, 0.22, z),
                Vec3::new(x, top - 0.02, z),
                0.020,
                0.014,
            );
            let mast = kit.on(Rides::Mast(end));
            let side = z.signum();
            let up = [
                Vec3::new(x, top - 0.9, z),
                Vec3::new(x, head - 0.10, z),
                Vec3::new(x - 0.03, head + 0.02, z + 0.05 * side),
                Vec3::new(x + 0.06, head + 0.06, 0.19 * side),
                Vec3::new(x + 0.14, head + 0.14, 0.17 * side),
            ];
            let way = eased(&up, steps(mast));
            mast.swept(Coat::Hose, &way, HOSE_M * 0.75);
        }
    }
}

/// The feed's own pair: to the pins' cylinders, or the wheels' motors, of both rails.
fn escapement(kit: &mut Kit) {
    let rig = kit.rig;
    let pair = PAIRS - 1;
    for end in End::BOTH {
        let along = 0.5 * (rig.gate_corner_m + rig.separator_middle_m);
        let place = rig.on_rail(end, along, -0.20);
        let z = m(rig.pin_z_m(end)) - outwards(end) * 0.10;
        let goal = Vec3::new(m(place.x_m), m(place.y_m), z);
        let low = Vec3::new(goal.x + 0.12, ground_m(rig, goal.x, z) + HOSE_M, z + 0.10);
        for hose in 0..2 {
            let offset = Vec3::new(0.05 * hose as f32, 0.0, 0.0);
            let last = [
                low,
                Vec3::new(goal.x + 0.05, 0.45 * goal.y, z + 0.03) + offset,
                goal + offset,
            ];
            let piece = kit.on(Rides::Ground);
            let way = laid(rig, pair, hose, &last, steps(piece));
            piece.swept(Coat::Hose, &way, HOSE_M);
        }
        let rail = kit.on(Rides::Rail(end));
        let z = z - m(rig.rail_z_m(end));
        rail.plate(
            Coat::Dark,
            Transform::from_xyz(-m(along), -0.18, z + outwards(end) * 0.02),
            Vec3::new(0.10, 0.035, 0.045),
        );
        rail.box_beam(
            Coat::Slate,
            Vec3::new(-m(along), -0.16, 0.0),
            Vec3::new(-m(along), -0.16, z),
            Vec3::Y,
            [0.04, 0.04],
        );
    }
}

/// Oil under a cylinder that leaks.
fn leak(kit: &mut Kit, motion: Motion) {
    let rig = kit.rig;
    let faults = rig.spec().faults.motion(motion);
    if faults.creep_m_per_s <= 0.0 {
        return;
    }
    let at = coupler(rig, motion);
    let x = at.x
        + if motion == Motion::Receiver {
            0.55
        } else {
            0.42
        };
    let ground = ground_m(rig, x, at.z);
    let piece = kit.on(Rides::Ground);
    for (dx, dz, radius) in [(0.0, 0.0, 0.17), (0.13, 0.10, 0.08), (-0.05, -0.17, 0.05)] {
        let low = Vec3::new(x + dx, ground, at.z + dz);
        piece.rod(Coat::Oil, low, low + Vec3::Y * 0.004, radius);
    }
    let cylinder = Vec3::new(x + 0.03, ground + 0.30, at.z);
    piece.rod(Coat::Oil, cylinder, cylinder + Vec3::Y * 0.22, 0.046);
}

/// The power pack in the machine's frame, its steel pipes to the manifold, and the manifold.
fn pack(kit: &mut Kit) {
    let rig = kit.rig;
    let machine = Machine::of(rig);
    let (hw, hl) = (machine.half_width, machine.half_length);
    let (low, high) = (
        machine.ground + 0.24,
        (machine.deck - 0.20).max(machine.ground + 0.50),
    );
    let (from, to) = (machine.z + 0.08, machine.z + hl - 0.22);
    let (left, right) = (-hw + 0.26, 0.30 * hw);
    let piece = kit.on(Rides::Ground);
    piece.block(
        Coat::Slate,
        Vec3::new(left, low - 0.05, from - 0.03),
        Vec3::new(right, low, to + 0.03),
    );
    piece.block(
        Coat::Sand,
        Vec3::new(left, low, from),
        Vec3::new(right, high, to),
    );
    let slats = (((high - low - 0.12) / 0.055) as u32).max(2);
    for slat in 0..slats {
        let y = low + 0.08 + 0.055 * slat as f32;
        for (x, lean) in [(left - 0.004, 0.5), (right + 0.004, -0.5)] {
            let at = Transform::from_xyz(x, y, 0.5 * (from + to) + 0.1)
                .with_rotation(Quat::from_rotation_z(lean));
            piece.plate(Coat::Black, at, Vec3::new(0.010, 0.018, 0.30 * (to - from)));
        }
    }
    // Oil tank with its filler and sight glass beside the engine.
    let tank = Vec3::new(right + 0.16, low + 0.22, from + 0.10);
    piece.rod(
        Coat::Slate,
        tank,
        tank + Vec3::Z * (to - from - 0.2).max(0.2),
        0.15,
    );
    piece.rod(
        Coat::Dark,
        tank + Vec3::new(0.0, 0.14, 0.18),
        tank + Vec3::new(0.0, 0.20, 0.18),
        0.045,
    );
    piece.rod(
        Coat::Fluid,
        tank + Vec3::new(0.0, -0.08, -0.004),
        tank + Vec3::new(0.0, 0.08, -0.004),
        0.014,
    );
    let pipe = Vec3::new(left + 0.10, high, to - 0.12);
    piece.rod(Coat::Dark, pipe, pipe + Vec3::new(-0.06, 0.16, 0.0), 0.035);
    let block = manifold(rig, 0, 0).lerp(manifold(rig, PAIRS - 1, 1), 0.5);
    piece.plate(
        Coat::Dark,
        Transform::from_translation(block + Vec3::Z * 0.05),
        Vec3::new(0.04 * PAIRS as f32 + 0.03, 0.085, 0.045),
    );
    for side in [-1.0, 1.0] {
        let x = block.x + side * 0.10;
        let near = Vec3::new(x, block.y, block.z + 0.08);
        let way = [
            near,
            near + Vec3::Z * 0.3,
            Vec3::new(x, low + 0.2 + 0.08 * side, from - 0.25),
            Vec3::new(x, low + 0.2 + 0.08 * side, from),
        ];
        let way = eased(&way, steps(piece));
        piece.swept(Coat::Galvanised, &way, 0.018);
    }
    for pair in 0..PAIRS {
        for hose in 0..2 {
            let port = manifold(rig, pair, hose);
            piece.rod(
                Coat::Galvanised,
                port + Vec3::Z * 0.02,
                port - Vec3::Z * 0.03,
                0.019,
            );
        }
    }
}
