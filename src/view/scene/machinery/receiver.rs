//! The receiver: two arms, each a saddle on crossed links that a ram spreads.

use bevy::prelude::*;

use super::coat::Coat;
use super::kit::{Kit, frame_of, m, outwards, upper_face};
use super::piece::upright;
use super::rides::{Now, Rides, ground_m};
use super::steel::along;
use crate::domain::rig::{End, Rig};

/// Height of the links' lower pins over the ground, m.
const BASE_M: f32 = 0.22;
/// How far the upper pins are under the saddle's lowest corner, m.
const HUNG_M: f32 = 0.17;
/// Part of a link's length to which it is raised at the most.
const STEEPEST: f32 = 0.86;
/// Of the link's half width and the places of the two links beside the arm's middle, m.
const LINK_HALF_M: f32 = 0.045;
const LINK_THICK_M: f32 = 0.012;
/// Where the ram pushes on the link that rises towards the rack, from its lower pin.
const PUSHED_AT: f32 = 0.78;

/// The crossed links of an arm. They are pinned on the rack's side and slide on the other.
struct Linkage {
    /// Of the pins on the rack's side.
    x: f32,
    low: f32,
    /// Of the upper pins with the receiver up.
    high: f32,
    length: f32,
    travel: f32,
}

impl Linkage {
    fn of(rig: &Rig) -> Self {
        let low = BASE_M;
        let high = (saddle_low_m(rig) - HUNG_M).max(low + 0.25);
        let length = (high - low) / STEEPEST;
        Self {
            x: -0.5 * length,
            low,
            high,
            length,
            travel: m(rig.spec().receiver.travel_m),
        }
    }

    /// Height of the upper pins, and how wide the links stand, with the receiver lowered.
    fn at(&self, lowered: f32) -> (f32, f32) {
        let rise = (self.high - self.low - lowered).max(0.03);
        let wide = (self.length * self.length - rise * rise).max(0.0).sqrt();
        (self.low + rise, wide)
    }

    /// Both ends of a link.
    fn link(&self, lowered: f32, which: u8) -> (Vec3, Vec3) {
        let (high, wide) = self.at(lowered);
        let (left, right) = (self.x, self.x + wide);
        if which == 0 {
            (Vec3::new(left, self.low, 0.0), Vec3::new(right, high, 0.0))
        } else {
            (Vec3::new(right, self.low, 0.0), Vec3::new(left, high, 0.0))
        }
    }

    /// Both ends of the ram.
    fn ram(&self, lowered: f32) -> (Vec3, Vec3) {
        let (from, to) = self.link(lowered, 1);
        let foot = Vec3::new(self.x + 0.30 * self.length, self.low - 0.05, 0.0);
        (foot, from.lerp(to, PUSHED_AT))
    }

    /// Length of the ram with the receiver down.
    fn closed(&self) -> f32 {
        let (from, to) = self.ram(self.travel);
        (to - from).length()
    }
}

/// Height of the saddle's lowest corner with the receiver up, m.
fn saddle_low_m(rig: &Rig) -> f32 {
    let [near, _] = rig.saddle(0.0);
    let [_, apex] = upper_face(&near);
    apex.y - 2.0 * m(near.half_thickness_m)
}

fn lowered(now: &Now) -> f32 {
    m(now.shown.receiver_lowered_m)
}

fn arm(now: &Now, end: End) -> Transform {
    Transform::from_xyz(0.0, 0.0, m(now.rig.arm_z_m(end)))
}

/// Of the receiver up: what is lowered is lowered from there.
pub fn saddle(now: &Now, end: End) -> Transform {
    arm(now, end) * Transform::from_xyz(0.0, -lowered(now), 0.0)
}

/// A link's frame: x along it, from its lower pin.
pub fn link(now: &Now, end: End, which: u8) -> Transform {
    let (from, to) = Linkage::of(now.rig).link(lowered(now), which);
    let turn = along(from, to, Vec3::Y).rotation;
    arm(now, end) * Transform::from_translation(from).with_rotation(turn)
}

/// The ram's body: y along it, from its foot.
pub fn ram(now: &Now, end: End) -> Transform {
    let (from, to) = Linkage::of(now.rig).ram(lowered(now));
    arm(now, end) * upright(from, to)
}

/// Its rod: y along it, from its head back to the body.
pub fn rod(now: &Now, end: End) -> Transform {
    let (from, to) = Linkage::of(now.rig).ram(lowered(now));
    arm(now, end) * upright(to, from)
}

/// Where the roller of the limit switch stands that tells 'up': beside the near arm.
pub fn limit_switch(rig: &Rig) -> Vec3 {
    let linkage = Linkage::of(rig);
    let z = m(rig.arm_z_m(End::Near)) - 0.24;
    Vec3::new(linkage.x + linkage.length + 0.16, linkage.high + 0.02, z)
}

pub fn build(kit: &mut Kit) {
    for end in End::BOTH {
        saddle_piece(kit, end);
        frame(kit, end);
        links(kit, end);
    }
    switch(kit);
}

fn saddle_piece(kit: &mut Kit, end: End) {
    let rig = kit.rig;
    let half = m(rig.saddle_half_width_m());
    let running = Coat::of(rig.rail(end).surface);
    let plates = rig.saddle(0.0);
    let (near, far) = (upper_face(&plates[0]), upper_face(&plates[1]));
    let linkage = Linkage::of(rig);
    let low = linkage.high;
    let piece = kit.on(Rides::Saddle(end));
    for plate in &plates {
        let frame = frame_of(plate);
        let (reach, thick) = (m(plate.half_length_m), m(plate.half_thickness_m));
        // The face that pipe lies on, bolted to the plate under it.
        let face = frame * Transform::from_xyz(0.0, thick - 0.008, 0.0);
        piece.plate(running, face, Vec3::new(reach, 0.008, half));
        let under = frame * Transform::from_xyz(0.0, thick - 0.034, 0.0);
        piece.plate(
            Coat::Slate,
            under,
            Vec3::new(reach - 0.002, 0.018, half - 0.002),
        );
        for side in [-1.0, 1.0] {
            let rib = frame * Transform::from_xyz(0.0, 0.0, side * (half - 0.02));
            piece.plate(
                Coat::Slate,
                rib,
                Vec3::new(reach - 0.01, thick - 0.05, 0.012),
            );
        }
    }
    // The stop's end in the livery's second colour, so that it is seen.
    let stop = &plates[1];
    let tip = frame_of(stop) * Transform::from_xyz(m(stop.half_length_m) - 0.012, -0.012, 0.0);
    let size = Vec3::new(0.0115, m(stop.half_thickness_m) - 0.013, half + 0.006);
    piece.plate(Coat::Sand, tip, size);

    // Side plates down to the beam that the links carry.
    let thick = 2.0 * m(plates[0].half_thickness_m);
    let beam = (linkage.x - 0.06, linkage.x + linkage.length + 0.06);
    let outline = [
        near[0] + Vec2::new(0.02, -0.05),
        near[1] - Vec2::Y * 0.05,
        far[1] + Vec2::new(-0.03, -0.05),
        far[1] + Vec2::new(-0.02, -thick),
        Vec2::new((far[1].x - 0.10).min(beam.1).max(0.10), low + 0.07),
        Vec2::new((near[0].x + 0.10).max(beam.0).min(-0.10), low + 0.07),
        near[0] + Vec2::new(0.02, -thick),
    ];
    for side in [-1.0, 1.0] {
        let at = Transform::from_xyz(0.0, 0.0, side * 0.075);
        piece.cut(Coat::Slate, at, &outline, 0.008);
    }
    piece.box_beam(
        Coat::Slate,
        Vec3::new(beam.0, low + 0.04, 0.0),
        Vec3::new(beam.1, low + 0.04, 0.0),
        Vec3::Y,
        [0.20, 0.08],
    );
    // Lugs of the fixed pins and the channel in which the others slide.
    for side in [-1.0, 1.0] {
        let z = side * 0.10;
        piece.plate(
            Coat::Dark,
            Transform::from_xyz(linkage.x, low - 0.005, z),
            Vec3::new(0.05, 0.05, 0.009),
        );
        piece.plate(
            Coat::Dark,
            Transform::from_xyz(linkage.x + 0.70 * linkage.length, low - 0.028, z),
            Vec3::new(0.30 * linkage.length, 0.008, 0.022),
        );
        piece.plate(
            Coat::Dark,
            Transform::from_xyz(linkage.x + 0.70 * linkage.length, low, z + side * 0.018),
            Vec3::new(0.30 * linkage.length, 0.03, 0.005),
        );
    }
}

fn frame(kit: &mut Kit, end: End) {
    let rig = kit.rig;
    let z = m(rig.arm_z_m(end));
    let linkage = Linkage::of(rig);
    let ends = [linkage.x - 0.12, linkage.x + linkage.length + 0.12];
    let ground = ends.map(|x| ground_m(rig, x, z));
    let base = kit.on(Rides::Ground);
    for side in [-1.0, 1.0] {
        let z = z + side * 0.10;
        base.box_beam(
            Coat::Slate,
            Vec3::new(ends[0], linkage.low - 0.09, z),
            Vec3::new(ends[1], linkage.low - 0.09, z),
            Vec3::Y,
            [0.07, 0.10],
        );
        base.plate(
            Coat::Dark,
            Transform::from_xyz(linkage.x, linkage.low - 0.005, z),
            Vec3::new(0.05, 0.05, 0.009),
        );
        base.plate(
            Coat::Dark,
            Transform::from_xyz(linkage.x + 0.70 * linkage.length, linkage.low + 0.028, z),
            Vec3::new(0.30 * linkage.length, 0.008, 0.020),
        );
    }
    for (x, ground) in ends.into_iter().zip(ground) {
        let cross = Vec3::new(x, linkage.low - 0.10, z);
        base.box_beam(
            Coat::Slate,
            cross - Vec3::Z * 0.30,
            cross + Vec3::Z * 0.30,
            Vec3::Y,
            [0.09, 0.08],
        );
        for side in [-1.0, 1.0] {
            base.foot(cross + Vec3::Z * side * 0.25, ground, false);
        }
    }
    // What the ram stands on.
    let foot = linkage.ram(0.0).0;
    base.plate(
        Coat::Dark,
        Transform::from_xyz(foot.x, foot.y - 0.03, z),
        Vec3::new(0.06, 0.045, 0.10),
    );
}

fn links(kit: &mut Kit, end: End) {
    let linkage = Linkage::of(kit.rig);
    let half = 0.5 * linkage.length;
    for which in [0, 1] {
        let inside = if which == 0 { 0.062 } else { 0.088 };
        let link = kit.on(Rides::Link(end, which));
        for side in [-1.0, 1.0] {
            let z = side * inside;
            let outline: Vec<Vec2> = [(0.0, 1.0), (linkage.length, -1.0)]
                .into_iter()
                .flat_map(|(x, sign): (f32, f32)| {
                    (0..=6).map(move |step| {
                        let angle = std::f32::consts::PI * step as f32 / 6.0;
                        Vec2::new(
                            x - sign * angle.sin() * LINK_HALF_M,
                            sign * angle.cos() * LINK_HALF_M,
                        )
                    })
                })
                .collect();
            link.cut(
                Coat::Sand,
                Transform::from_xyz(0.0, 0.0, z),
                &outline,
                0.5 * LINK_THICK_M,
            );
            for x in [0.0, half, linkage.length] {
                let at = Vec3::new(x, 0.0, z);
                link.rod(
                    Coat::Machined,
                    at - Vec3::Z * side * 0.01,
                    at + Vec3::Z * side * 0.026,
                    0.024,
                );
            }
        }
        if which == 1 {
            let at = Vec3::X * PUSHED_AT * linkage.length;
            link.rod(
                Coat::Machined,
                at - Vec3::Z * 0.09,
                at + Vec3::Z * 0.09,
                0.022,
            );
        }
    }
    let closed = linkage.closed();
    let body = kit.on(Rides::ReceiverRam(end));
    body.rod(Coat::Dark, Vec3::Z * -0.05, Vec3::Z * 0.05, 0.035);
    body.cylinder(
        Coat::Slate,
        Vec3::Y * 0.03,
        Vec3::Y * (closed - 0.05),
        0.045,
    );
    let rod = kit.on(Rides::ReceiverRod(end));
    rod.rod(Coat::Chrome, Vec3::ZERO, Vec3::Y * (closed - 0.04), 0.025);
    rod.rod(Coat::Dark, Vec3::Z * -0.04, Vec3::Z * 0.04, 0.034);
}

/// The switch that the interlock asks whether the receiver is up. Where the interlock is defeated, a
/// strap holds its lever.
fn switch(kit: &mut Kit) {
    let rig = kit.rig;
    let at = limit_switch(rig);
    let out = outwards(End::Near);
    let ground = ground_m(rig, at.x, at.z);
    let post = kit.on(Rides::Ground);
    post.box_beam(
        Coat::Slate,
        Vec3::new(at.x, ground, at.z),
        Vec3::new(at.x, at.y - 0.10, at.z),
        Vec3::Z,
        [0.05, 0.05],
    );
    post.plate(
        Coat::Dark,
        Transform::from_xyz(at.x, ground + 0.012, at.z),
        Vec3::new(0.10, 0.012, 0.10),
    );
    post.plate(
        Coat::Grey,
        Transform::from_xyz(at.x, at.y - 0.05, at.z),
        Vec3::new(0.035, 0.055, 0.03),
    );
    let lever = at + Vec3::new(-0.015, 0.06, out * 0.045);
    post.rod(Coat::Machined, at + Vec3::Z * out * 0.03, lever, 0.007);
    post.rod(
        Coat::Rubber,
        lever - Vec3::Z * 0.012,
        lever + Vec3::Z * 0.012,
        0.022,
    );
    if !rig.spec().escapement.interlock {
        let strap = Transform::from_xyz(at.x - 0.008, at.y + 0.012, at.z + out * 0.022);
        post.plate(Coat::Chalk, strap, Vec3::new(0.048, 0.012, 0.05));
        post.plate(
            Coat::Chalk,
            strap * Transform::from_xyz(0.03, -0.03, 0.03),
            Vec3::new(0.006, 0.045, 0.012),
        );
    }
    let trip = kit.on(Rides::Saddle(End::Near));
    let local = at - Vec3::Z * m(rig.arm_z_m(End::Near));
    trip.block(
        Coat::Dark,
        Vec3::new(local.x - 0.13, local.y + 0.082, local.z - 0.03),
        Vec3::new(local.x + 0.03, local.y + 0.094, local.z + 0.09),
    );
    trip.block(
        Coat::Dark,
        Vec3::new(local.x - 0.14, local.y, local.z - 0.02),
        Vec3::new(local.x - 0.12, local.y + 0.094, -0.09),
    );
}
