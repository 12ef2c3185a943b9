//! Who stands where, and what is coned off, on a line of which nothing else is said.
//!
//! | who | where | why |
//! |---|---|---|
//! | operator | 1 m beyond where a loose stick can come to at the machine's end, 1.9 m beside the machine, on the outer side | sees along the line |
//! | technician | there too, 0.6 m beside the machine | near the jaws; goes to them when the power is isolated |
//! | spotter | 1 m beyond that reach at the far end, 1.5 m to the outer side | sees the far cradle and along the rack |
//! | rigger | there too, 2 m up from the toe | waits there with the chocks |
//! | loader driver | in the loader | - |
//!
//! The zone is the rectangle around the reach of a loose stick (see [`super::envelope`]), half a metre
//! wider. Where a stick would not stop, it ends 8 m to the outer side and 2 m beyond the rack and the
//! sticks' ends, and is not enough. All of these are our own figures.

use super::envelope::{Envelope, Extent, Reach};
use super::plan;
use super::rig::Rig;
use super::spec::{Duty, PersonSpec, Place, Waypoint, ZoneSpec};

/// Walking speed of somebody of whom nothing else is said, m/s (see `limits::WALKING_SPEED`).
pub const WALKING_M_PER_S: f64 = 1.2;
/// From seeing or hearing to acting, for somebody who is paid to watch, s (our own figure).
pub const REACTION_S: f64 = 1.0;

const BESIDE_MACHINE_OPERATOR_M: f64 = 1.9;
const BESIDE_MACHINE_TECHNICIAN_M: f64 = 0.6;
const BEYOND_REACH_M: f64 = 1.0;
const SPOTTER_X_M: f64 = 1.5;
const RIGGER_UP_FROM_TOE_M: f64 = 2.0;
/// Where a visitor stops before the receiver, away from its stop.
const VISITOR_STOPS_M: f64 = 1.0;
const VISITOR_STAYS_S: f64 = 12.0;
const ZONE_MARGIN_M: f64 = 0.5;
const ZONE_BEYOND_RACK_M: f64 = 2.0;
const ZONE_OUTER_SIDE_M: f64 = 8.0;
const ZONE_BEYOND_FAR_ENDS_M: f64 = 2.0;

/// How far along the line the sticks reach from the middle of the rails, m.
pub fn sticks_reach_m(rig: &Rig) -> f64 {
    rig.spec()
        .sticks
        .iter()
        .map(|stick| stick.offset_m.abs() + 0.5 * stick.pipe.length_m)
        .fold(0.0, f64::max)
}

/// Somebody who stays where they are, looks, and (unless a visitor) carries a radio.
pub fn standing(duty: Duty, start: Place) -> PersonSpec {
    PersonSpec {
        duty,
        start,
        path: Vec::new(),
        starts_s: 0.0,
        walking_m_per_s: WALKING_M_PER_S,
        reaction_s: REACTION_S,
        looks: true,
        radio: duty != Duty::Visitor,
    }
}

/// The rectangle in which a loose stick stays, or what is coned off where it does not: x and z, each
/// from and to, m.
fn reach_m(rig: &Rig) -> [(f64, f64); 2] {
    let reach_m = sticks_reach_m(rig);
    let envelope = rig
        .spec()
        .sticks
        .first()
        .map(|stick| Envelope::new(rig, &stick.pipe));
    let stops = |extent: Extent| match (extent.from, extent.to) {
        (Reach::Stops { at_m: from }, Reach::Stops { at_m: to }) => Some((from, to)),
        _ => None,
    };
    let known = envelope.and_then(|envelope| Some([stops(envelope.x_m)?, stops(envelope.z_m)?]));
    known.unwrap_or([
        (
            plan::high_end_x_m(rig) - ZONE_BEYOND_RACK_M,
            ZONE_OUTER_SIDE_M,
        ),
        (
            -(reach_m + ZONE_BEYOND_FAR_ENDS_M),
            plan::machine(rig).z_to_m.max(reach_m),
        ),
    ])
}

/// The crew of a line, all outside of the usual zone.
pub fn usual(rig: &Rig) -> Vec<PersonSpec> {
    let beside_m = plan::machine(rig).x_to_m;
    let [_, (far_m, near_m)] = reach_m(rig);
    let (far_m, near_m) = (far_m - BEYOND_REACH_M, near_m + BEYOND_REACH_M);
    let at = |x_m: f64, z_m: f64| Place { x_m, z_m };
    let mut crew = vec![
        standing(
            Duty::Operator,
            at(beside_m + BESIDE_MACHINE_OPERATOR_M, near_m),
        ),
        standing(Duty::Spotter, at(SPOTTER_X_M, far_m)),
        standing(
            Duty::Technician,
            at(beside_m + BESIDE_MACHINE_TECHNICIAN_M, near_m),
        ),
        standing(Duty::Rigger, at(-rig.toe_m - RIGGER_UP_FROM_TOE_M, far_m)),
    ];
    if let Some(loader) = &rig.spec().loader {
        let parked = plan::loader(rig, loader);
        let middle_m = 0.5 * (parked.x_from_m + parked.x_to_m);
        crew.push(standing(Duty::LoaderDriver, at(middle_m, 0.0)));
    }
    crew
}

/// Somebody from elsewhere who sets off at a time, s: from outside of the zone, and of where a loose
/// stick comes to, up to the receiver, where they stay for a while, and back. They have no radio and look
/// at nothing.
pub fn visitor(rig: &Rig, starts_s: f64) -> PersonSpec {
    let [(_, reach_x_m), _] = reach_m(rig);
    let cones = rig.spec().zone.cones.iter().map(|cone| cone.x_m);
    let outside_m = cones.fold(reach_x_m, f64::max) + BEYOND_REACH_M;
    let at = |x_m: f64| Place { x_m, z_m: 0.0 };
    let stop_m = rig.setting_radius_m + VISITOR_STOPS_M;
    let waypoint = |x_m: f64, stays_s: f64| Waypoint {
        place: at(x_m),
        stays_s,
    };
    PersonSpec {
        path: vec![
            waypoint(stop_m, VISITOR_STAYS_S),
            waypoint(outside_m.max(stop_m), 0.0),
        ],
        starts_s,
        looks: false,
        ..standing(Duty::Visitor, at(outside_m.max(stop_m)))
    }
}

/// The zone of a line.
pub fn usual_zone(rig: &Rig) -> ZoneSpec {
    let [x, z] = reach_m(rig).map(|(from, to)| (from - ZONE_MARGIN_M, to + ZONE_MARGIN_M));
    ZoneSpec {
        cones: [(x.0, z.0), (x.1, z.0), (x.1, z.1), (x.0, z.1)]
            .map(|(x_m, z_m)| Place { x_m, z_m })
            .into(),
    }
}
