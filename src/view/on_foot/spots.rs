//! Where on the line each thing is that can be looked at closely, and which of them is meant by
//! somebody who looks there.

use bevy::math::Vec3;

use super::site::Site;
use crate::domain::plan;
use crate::domain::rig::{End, Rig};
use crate::domain::spec::{Item, Place};
use crate::session::walk::{
    BUBBLE_M_PER_DEGREE, GAUGE_MARKS, GAUGE_UNDER_M, Thing, gauge_at, gauge_zero_m,
};
use crate::texts::Message;
use crate::view::scene::part::{Part, place_of};
use crate::view::shown::in_world;
use crate::view::yard::Yard;

/// How far an arm and a step reach, m.
pub const REACH_M: f32 = 2.4;
/// How far off the middle of the view a thing may be, rad, beside its own size.
const OFF_RAD: f32 = 0.16;
/// What is looked at stays so until something else is nearer to the middle by this part.
const STAYS: f32 = 0.75;
/// How high over the ground a cone is looked at, m.
const CONE_M: f64 = 0.45;
/// How far under a rail the drive of its gate is looked at, m.
const GATE_DRIVE_M: f64 = -0.35;

/// A thing at its place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Spot {
    pub thing: Thing,
    /// Which one, where there are several of a kind (a cone, counted from 0).
    pub number: usize,
    pub at: Vec3,
    /// Its size, m.
    pub radius_m: f32,
    /// From how far away it is looked at closely, m.
    pub close_m: f32,
}

/// What somebody looks at within reach.
#[derive(Clone, Debug, PartialEq)]
pub struct Focus {
    pub thing: Thing,
    pub number: usize,
    pub name: Message,
    pub distance_m: f32,
}

/// Everything there is to look at, with the cones as they stand and, for pipe, the place of it that is
/// nearest to somebody.
pub fn spots(yard: &Yard, site: &Site, cones: &[Place], eye: Vec3) -> Vec<Spot> {
    let rig = &as_shown(yard);
    let mut spots = Vec::new();
    let mut add = |thing: Thing, number: usize, at: Vec3, radius_m: f32, close_m: f32| {
        spots.push(Spot {
            thing,
            number,
            at,
            radius_m,
            close_m,
        });
    };
    for thing in Thing::all(yard.spec()) {
        match thing {
            Thing::Cones => {
                for (number, &cone) in cones.iter().enumerate() {
                    add(thing, number, site.in_world(cone, CONE_M), 0.25, 1.6);
                }
            }
            Thing::Stick(stick) => {
                if let Some(at) = on_stick(yard, stick, eye) {
                    add(thing, stick, at, 0.3, 1.1);
                }
            }
            _ => {
                if let Some(at) = of_the_rig(yard, rig, site, thing) {
                    let (radius_m, close_m) = size_of(thing);
                    add(thing, 0, at, radius_m, close_m);
                }
            }
        }
    }
    spots
}

/// The rig with its rails as they are cranked now.
fn as_shown(yard: &Yard) -> Rig {
    let mut rig = yard.rig().clone();
    for side in End::BOTH {
        rig.set_pitch_rad(side, yard.shown.pitch_rad[side as usize]);
    }
    rig
}

/// How large a thing is, and from how far away it is looked at closely, m.
fn size_of(thing: Thing) -> (f32, f32) {
    match thing {
        Thing::Machine => (0.8, 2.2),
        Thing::Cradles | Thing::Column(_) => (0.25, 1.3),
        Thing::Radio => (0.2, 1.2),
        Thing::Surface(_) => (0.3, 0.8),
        Thing::Gauge(_) => (0.10, 0.45),
        _ => (0.12, 0.6),
    }
}

/// Where a thing of the line itself is, in the world.
fn of_the_rig(yard: &Yard, rig: &Rig, site: &Site, thing: Thing) -> Option<Vec3> {
    let spec = rig.spec();
    let at = |part: Part| place_of(part, yard);
    let outer_m = |side: End| {
        let half_m = 0.5 * spec.rack.rail_width_m + 0.01;
        rig.rail_z_m(side) + if side == End::Near { half_m } else { -half_m }
    };
    let on_rail = |side: End, along_m: f64, above_m: f64, z_m: f64| {
        in_world(rig, rig.on_rail(side, along_m, above_m), z_m)
    };
    let length_m = spec.rack.length_m;
    match thing {
        // The holes are where the separator stands; of a wheel, beside its hub.
        Thing::Size => at(Part::Separator(End::Near)).or_else(|| {
            let hub = rig.hub(End::Near);
            Some(in_world(rig, hub, rig.pin_z_m(End::Near)))
        }),
        Thing::Plate => {
            let along_m = 0.45 * length_m.min(3.0);
            Some(on_rail(End::Near, along_m, -0.06, outer_m(End::Near)))
        }
        Thing::Interlock => at(Part::Interlock),
        Thing::Pins(side) => at(Part::Gate(side)),
        Thing::GateDrive(side) => {
            let z_m = rig.pin_z_m(side);
            Some(on_rail(side, rig.gate_corner_m, GATE_DRIVE_M, z_m))
        }
        Thing::Surface(side) => Some(on_rail(side, 0.6 * length_m, 0.0, rig.rail_z_m(side))),
        Thing::Chock(side) => at(Part::Chock(side)).or_else(|| {
            // Its empty hook.
            let along_m = 0.5 * rig.gate_corner_m;
            Some(on_rail(side, along_m, -0.3, outer_m(side)))
        }),
        Thing::Gauge(side) => {
            let middle_m = gauge_zero_m(rig) + 0.5 * f64::from(GAUGE_MARKS) * BUBBLE_M_PER_DEGREE;
            Some(on_rail(
                side,
                middle_m,
                -GAUGE_UNDER_M,
                gauge_at(rig, side)[2],
            ))
        }
        Thing::RailFoot(side) => at(Part::JackFoot(side)),
        Thing::Column(end) => at(Part::Column(end)),
        Thing::ColumnFeet(end) => at(Part::ColumnFeet(end)),
        Thing::Hoses(motion) => at(Part::Coupler(motion)),
        Thing::Rollers => at(Part::Rollers(End::Far)),
        Thing::Cradles => at(Part::Cradle(End::Near)),
        Thing::Machine => {
            let machine = plan::machine(rig);
            let place = Place {
                x_m: machine.x_to_m,
                z_m: rig.jaws_z_m(),
            };
            Some(site.in_world(place, 1.0))
        }
        Thing::Radio => at(Part::of_item(Item::Radio, yard)?),
        Thing::Cones | Thing::Stick(_) => None,
    }
}

/// The place of a stick's surface nearest to an eye.
fn on_stick(yard: &Yard, stick: usize, eye: Vec3) -> Option<Vec3> {
    let shown = yard.shown.sticks.get(stick).filter(|s| s.present)?;
    let pipe = yard.spec().pipe_of(stick)?;
    let axis = shown.placed.turn * Vec3::Z;
    let half_m = 0.5 * pipe.length_m as f32;
    let along_m = (eye - shown.placed.at).dot(axis).clamp(-half_m, half_m);
    let on_axis = shown.placed.at + axis * along_m;
    let out = (eye - on_axis).normalize_or(Vec3::Y);
    Some(on_axis + out * pipe.radius_m() as f32)
}

/// The spot that is meant by an eye that looks along `towards`; what was meant before stays so for a
/// little longer.
pub fn meant(
    spots: &[Spot],
    eye: Vec3,
    towards: Vec3,
    before: Option<(Thing, usize)>,
) -> Option<&Spot> {
    let off = |spot: &Spot| {
        let to = spot.at - eye;
        let distance_m = to.length();
        let angle_rad = towards.angle_between(to);
        let may_rad = OFF_RAD + f32::atan2(spot.radius_m, distance_m);
        let stays = if before == Some((spot.thing, spot.number)) {
            STAYS
        } else {
            1.0
        };
        let in_reach = distance_m <= REACH_M + spot.radius_m && distance_m > 0.05;
        (in_reach && angle_rad <= may_rad).then_some(stays * angle_rad / may_rad)
    };
    let seen = spots.iter().filter_map(|spot| Some((off(spot)?, spot)));
    seen.min_by(|(one, _), (other, _)| one.total_cmp(other))
        .map(|(_, spot)| spot)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sim::line::Line;
    use crate::view::on_foot::tests::rig;

    fn yard() -> Yard {
        Yard::new(&Line::build(rig().spec()))
    }

    #[test]
    fn whoever_looks_straight_at_a_thing_means_it() {
        let yard = yard();
        let site = Site::of(yard.rig());
        let cones = yard.spec().zone.cones.clone();
        let all = spots(&yard, &site, &cones, Vec3::ZERO);
        assert!(all.len() > 25);
        for spot in &all {
            // From a stride away, from the side on which nothing hides it.
            let eye = spot.at + Vec3::new(0.6, 0.5, 0.9);
            let spots = spots(&yard, &site, &cones, eye);
            let spot = spots
                .iter()
                .find(|s| (s.thing, s.number) == (spot.thing, spot.number));
            let spot = spot.expect("the same again");
            let towards = (spot.at - eye).normalize();
            let meant = meant(&spots, eye, towards, None).expect("something");
            assert_eq!((meant.thing, meant.number), (spot.thing, spot.number));
        }
    }

    #[test]
    fn what_is_out_of_reach_or_behind_is_not_meant() {
        let spot = Spot {
            thing: Thing::Plate,
            number: 0,
            at: Vec3::new(0.0, 1.0, 0.0),
            radius_m: 0.1,
            close_m: 0.5,
        };
        let from = |eye: Vec3, towards: Vec3| meant(&[spot], eye, towards, None).is_some();
        assert!(from(Vec3::new(0.0, 1.0, 2.0), Vec3::NEG_Z));
        assert!(!from(Vec3::new(0.0, 1.0, 3.0), Vec3::NEG_Z));
        assert!(!from(Vec3::new(0.0, 1.0, 2.0), Vec3::Z));
        assert!(!from(Vec3::new(0.0, 1.0, 2.0), Vec3::X));
    }

    #[test]
    fn between_two_things_the_one_that_was_meant_stays_meant() {
        let at = |x: f32, thing| Spot {
            thing,
            number: 0,
            at: Vec3::new(x, 1.0, 0.0),
            radius_m: 0.1,
            close_m: 0.5,
        };
        let spots = [at(-0.1, Thing::Plate), at(0.1, Thing::Size)];
        let eye = Vec3::new(0.0, 1.0, 1.5);
        let towards = Vec3::new(0.005, 0.0, -1.0).normalize();
        let meant = |before| meant(&spots, eye, towards, before).map(|spot| spot.thing);
        assert_eq!(meant(None), Some(Thing::Size));
        assert_eq!(meant(Some((Thing::Plate, 0))), Some(Thing::Plate));
    }
}
