//! Where somebody on foot can get to: the ground, the steel, the pipe and whatever else stands in the
//! way, and the fence. In the plan of a right-handed line.

use bevy::math::Vec3;
use bevy::prelude::Resource;

use crate::domain::plan::{self, Footprint, Steel};
use crate::domain::rig::Rig;
use crate::domain::spec::{Duty, GroundSpec, Place};
use crate::view::scene::site::{self, Patch};
use crate::view::yard::Yard;

/// Half of somebody's width, m.
pub const RADIUS_M: f64 = 0.25;
/// How far beyond everything that stands on it a site without a fence goes on, m (ours).
const ROUND_ABOUT_M: f64 = 25.0;
/// How long the string is beyond the machine, m: as far as it is seen.
const STRING_M: f64 = 45.0;
/// Pipe whose underside is higher than this is walked under, m.
const OVERHEAD_M: f64 = 1.9;

impl From<Footprint> for Patch {
    fn from(footprint: Footprint) -> Self {
        Self {
            x_m: (footprint.x_from_m, footprint.x_to_m),
            z_m: (footprint.z_from_m, footprint.z_to_m),
        }
    }
}

/// See the module's text.
#[derive(Resource, Clone, Debug)]
pub struct Site {
    mirror: f64,
    ground: GroundSpec,
    /// What nobody walks through: what stands, and what is where it is now.
    standing: Vec<Patch>,
    moving: Vec<Patch>,
    edge: Patch,
}

impl Site {
    /// The site of a line without pipe and without its loader.
    pub fn of(rig: &Rig) -> Self {
        let around = site::Site::of(rig);
        let steel = plan::steel(rig).into_iter();
        let mut standing: Vec<Patch> = steel
            .filter(|part| part.steel != Steel::Loader)
            .map(Patch::from)
            .collect();
        standing.extend(around.pieces.iter().map(site::Piece::patch));
        if let Some(pipe) = rig.spec().pipe_of(0) {
            // The string goes on from the machine.
            let radius_m = pipe.radius_m();
            let from_m = plan::machine(rig).z_to_m;
            standing.push(Patch {
                x_m: (-radius_m, radius_m),
                z_m: (from_m, from_m + STRING_M),
            });
        }
        let edge = around.fence.unwrap_or_else(|| {
            let cones = rig.spec().zone.cones.iter();
            let cones = cones.map(|&cone| Patch::around(cone, 0.0, 0.0));
            let all = standing.iter().copied().chain(cones);
            let none = Patch {
                x_m: (0.0, 0.0),
                z_m: (0.0, 0.0),
            };
            let both = |one: Patch, other: Patch| Patch {
                x_m: (one.x_m.0.min(other.x_m.0), one.x_m.1.max(other.x_m.1)),
                z_m: (one.z_m.0.min(other.z_m.0), one.z_m.1.max(other.z_m.1)),
            };
            all.fold(none, both).wider(ROUND_ABOUT_M)
        });
        Self {
            mirror: rig.mirror(),
            ground: rig.spec().ground,
            standing,
            moving: Vec::new(),
            edge,
        }
    }

    /// The site as it is shown, with the pipe and the loader where they are now.
    pub fn shown(yard: &Yard) -> Self {
        let mut site = Self::of(yard.rig());
        site.see(yard);
        site
    }

    /// Takes note of where pipe and loader are now.
    pub fn see(&mut self, yard: &Yard) {
        self.moving.clear();
        let spec = yard.spec();
        for (index, stick) in yard.shown.sticks.iter().enumerate() {
            let Some(pipe) = spec.pipe_of(index).filter(|_| stick.present) else {
                continue;
            };
            let (radius_m, half_m) = (pipe.radius_m(), 0.5 * pipe.length_m);
            let at = self.place_of(stick.placed.at);
            let under_m = f64::from(stick.placed.at.y) - radius_m - self.ground_m(at);
            if under_m < OVERHEAD_M {
                self.moving.push(Patch::around(at, radius_m, half_m));
            }
        }
        if let (Some(parked), Some(loader)) = (&spec.loader, &yard.shown.loader) {
            // It drives along x; as long and as wide as it is parked.
            let parked = plan::loader(yard.rig(), parked);
            let long_m = parked.x_to_m - parked.x_from_m;
            let wide_m = parked.z_to_m - parked.z_from_m;
            let at = self.place_of(loader.body.at);
            self.moving
                .push(Patch::around(at, 0.5 * long_m, 0.5 * wide_m));
        }
    }

    /// Whether somebody can stand there.
    pub fn is_free(&self, at: Place) -> bool {
        let mut in_the_way = self.standing.iter().chain(&self.moving);
        self.edge.depth_m(at) > RADIUS_M
            && !in_the_way.any(|patch| patch.wider(RADIUS_M).depth_m(at) > 0.0)
    }

    /// Height of the ground, m.
    pub fn ground_m(&self, at: Place) -> f64 {
        self.ground.height_m(at)
    }

    /// Where somebody gets to who walks from a place by so much: along what is in the way, never
    /// through it. Whoever already stands in something gets out of it.
    pub fn walk(&self, from: Place, by_x_m: f64, by_z_m: f64) -> Place {
        // In steps that go through nothing.
        let steps = (by_x_m.hypot(by_z_m) / (0.5 * RADIUS_M)).ceil().max(1.0);
        let mut at = from;
        let mut left = steps;
        while left > 0.0 {
            let stuck = !self.is_free(at);
            let along_x = Place {
                x_m: at.x_m + by_x_m / steps,
                ..at
            };
            if stuck || self.is_free(along_x) {
                at = along_x;
            }
            let along_z = Place {
                z_m: at.z_m + by_z_m / steps,
                ..at
            };
            if stuck || self.is_free(along_z) {
                at = along_z;
            }
            left -= 1.0;
        }
        at
    }

    /// The nearest place to one where somebody can stand, looked for in rings around it.
    pub fn nearest_free(&self, wanted: Place) -> Place {
        let rings = (0..400).map(|ring| 0.25 * f64::from(ring));
        let mut places = rings.flat_map(|ring_m| {
            (0..16).map(move |part| {
                let (sin, cos) = (f64::from(part) * std::f64::consts::TAU / 16.0).sin_cos();
                Place {
                    x_m: wanted.x_m + ring_m * cos,
                    z_m: wanted.z_m + ring_m * sin,
                }
            })
        });
        places.find(|&place| self.is_free(place)).unwrap_or(wanted)
    }

    /// A point of the world in the plan of a right-handed line.
    pub fn place_of(&self, at: Vec3) -> Place {
        Place {
            x_m: self.mirror * f64::from(at.x),
            z_m: f64::from(at.z),
        }
    }

    /// A place, so high over the ground, in the world.
    pub fn in_world(&self, place: Place, over_m: f64) -> Vec3 {
        Vec3::new(
            (self.mirror * place.x_m) as f32,
            (self.ground_m(place) + over_m) as f32,
            place.z_m as f32,
        )
    }

    /// A point of the world as x, y, z of a right-handed line.
    pub fn right_handed(&self, at: Vec3) -> [f64; 3] {
        [
            self.mirror * f64::from(at.x),
            f64::from(at.y),
            f64::from(at.z),
        ]
    }

    pub fn mirror(&self) -> f64 {
        self.mirror
    }
}

/// Where a walk begins: beside the operator's place, or before the machine.
pub fn start(site: &Site, rig: &Rig) -> Place {
    let mut people = rig.spec().people.iter();
    let operator = people.find(|person| person.duty == Duty::Operator);
    let machine = plan::machine(rig);
    let wanted = operator.map_or(
        Place {
            x_m: machine.x_to_m + 2.0,
            z_m: rig.machine_end_z_m(),
        },
        |operator| operator.start,
    );
    site.nearest_free(wanted)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::rig::End;
    use crate::view::on_foot::tests::rig;

    #[test]
    fn nobody_walks_through_steel_whatever_the_way() {
        let rig = rig();
        let site = Site::of(&rig);
        let mut steel = plan::steel(&rig);
        steel.retain(|part| part.steel != Steel::Loader);
        let mut walks = 0;
        for part in &steel {
            let middle = (
                0.5 * (part.x_from_m + part.x_to_m),
                0.5 * (part.z_from_m + part.z_to_m),
            );
            for turn in 0..32 {
                let (sin, cos) = (f64::from(turn) * std::f64::consts::TAU / 32.0).sin_cos();
                let mut at = site.nearest_free(Place {
                    x_m: middle.0 + 6.0 * cos,
                    z_m: middle.1 + 6.0 * sin,
                });
                // Straight at it in strides as long as a slow picture makes them.
                for _ in 0..80 {
                    let before = at;
                    at = site.walk(at, -0.3 * cos, -0.3 * sin);
                    assert!(site.is_free(at), "{:?}: {at:?}", part.steel);
                    let crossed = steel.iter().find(|part| part.is_crossed(before, at));
                    assert_eq!(crossed, None);
                    walks += 1;
                }
            }
        }
        assert!(walks > 10_000);
    }

    #[test]
    fn whoever_walks_into_steel_at_a_slant_goes_along_it() {
        let rig = rig();
        let site = Site::of(&rig);
        let machine = plan::machine(&rig);
        let at = Place {
            x_m: machine.x_to_m + RADIUS_M + 0.05,
            z_m: machine.z_from_m + 0.1,
        };
        let after = site.walk(at, -0.5, 1.5);
        assert!(after.z_m - at.z_m > 1.4, "{after:?}");
        assert!(after.x_m >= machine.x_to_m);
    }

    #[test]
    fn there_is_an_end_to_the_site_and_nobody_is_stuck() {
        let rig = rig();
        let site = Site::of(&rig);
        let at = site.walk(start(&site, &rig), 1.0e3, 0.0);
        assert!(site.is_free(at) && at.x_m < 200.0, "{at:?}");
        let inside = Place {
            x_m: 0.0,
            z_m: rig.jaws_z_m(),
        };
        assert!(!site.is_free(inside));
        assert!(site.is_free(site.walk(inside, 5.0, 0.0)));
        assert!(site.is_free(site.nearest_free(inside)));
    }

    #[test]
    fn there_is_room_to_walk_between_the_rails() {
        let rig = rig();
        let site = Site::of(&rig);
        let between = Place {
            x_m: -rig.toe_m - 1.5,
            z_m: 0.0,
        };
        assert!(site.is_free(between));
        assert!(!site.is_free(Place {
            z_m: rig.rail_z_m(End::Near),
            ..between
        }));
    }
}
