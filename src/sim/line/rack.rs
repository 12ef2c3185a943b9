//! The feed rack's two rails on their jacks: they can be cranked, and they settle with their feet.

use crate::domain::math::{asin, cos, sin};
use crate::domain::rig::{End, Rig};
use crate::sim::controls::Controls;
use crate::sim::drive::Way;
use crate::sim::world::{PartId, Touching, World};

use super::footing::Foot;
use super::parts;

/// How fast a hand crank moves a rail's high end, m/s (ours).
const CRANK_M_PER_S: f64 = 0.01;
/// Steepest pitch that the jacks reach, rad (ours).
const STEEPEST_RAD: f64 = crate::domain::math::rad(15.0);

#[derive(Clone, Debug)]
pub struct Rack {
    rails: [Rail; 2],
}

#[derive(Clone, Copy, Debug)]
struct Rail {
    side: End,
    part: PartId,
    foot: Foot,
    /// Pitch as set out, rad.
    set_rad: f64,
    /// How far the high end has been cranked up since, m.
    cranked_m: f64,
    /// Load on the jack, N.
    load_n: f64,
}

impl Rack {
    pub fn build(world: &mut World, rig: &Rig) -> Self {
        let spec = rig.spec();
        let rails = End::BOTH.map(|side| {
            let rail = rig.rail(side);
            let touching = Touching {
                friction: spec.contact.friction(rail.surface) as f32,
                rolling_lever_arm_m: spec.contact.rolling_lever_arm_m as f32,
            };
            let half_width_m = spec.rack.rail_width_m / 2.0;
            let (place, z_m) = (rig.rail_box(side), rig.rail_z_m(side));
            Rail {
                side,
                part: parts::moving(world, rig, place, z_m, half_width_m, touching),
                foot: Foot::new(rail.foot, spec.ground.subgrade_n_per_m3),
                set_rad: rail.pitch_rad,
                cranked_m: 0.0,
                load_n: 0.0,
            }
        });
        Self { rails }
    }

    /// One tick: cranks, settling, and the rails to where they then stand.
    pub fn tick(&mut self, world: &mut World, rig: &mut Rig, controls: &Controls) {
        let dt_s = f64::from(world.settings().dt_s);
        let length_m = rig.spec().rack.length_m;
        let strongest_n = rig.spec().rack.rated_load_n / 2.0;
        for rail in &mut self.rails {
            let toe = rig.on_rail(rail.side, 0.0, 0.0);
            let reach_m = length_m * cos(rig.rail(rail.side).pitch_rad);
            rail.load_n = (parts::moment_about(world, rig, rail.part, toe) / reach_m).max(0.0);
            rail.foot.tick(rail.load_n, dt_s);
            let way_m = match controls.jack(rail.side) {
                Way::Out if rail.load_n < strongest_n => CRANK_M_PER_S * dt_s,
                Way::Back => -CRANK_M_PER_S * dt_s,
                _ => 0.0,
            };
            let high_m =
                |cranked_m: f64| length_m * sin(rail.set_rad) + cranked_m - rail.foot.sunk_m();
            let next_m = rail.cranked_m + way_m;
            if (0.0..=length_m * sin(STEEPEST_RAD)).contains(&high_m(next_m)) {
                rail.cranked_m = next_m;
            }
            let pitch_rad = asin((high_m(rail.cranked_m) / length_m).clamp(0.0, 0.5));
            rig.set_pitch_rad(rail.side, pitch_rad);
            let place = rig.rail_box(rail.side);
            parts::place(world, rig, rail.part, place, rig.rail_z_m(rail.side));
        }
    }

    fn rail(&self, side: End) -> &Rail {
        match side {
            End::Near => &self.rails[0],
            End::Far => &self.rails[1],
        }
    }

    /// Load on the jack under a rail's high end, N.
    pub fn jack_load_n(&self, side: End) -> f64 {
        self.rail(side).load_n
    }

    /// Whether a stick lies on a rail.
    pub fn carries(&self, world: &World, side: End, stick: crate::sim::world::StickId) -> bool {
        world.touches(self.rail(side).part, stick)
    }

    /// The numbers that make up its state, for the state hash.
    pub fn state(&self) -> impl Iterator<Item = f64> + '_ {
        let of = |rail: &Rail| [rail.foot.sunk_m(), rail.cranked_m];
        self.rails.iter().flat_map(of)
    }
}
