//! The forces that are told are those that have acted: together with the weight they are what the
//! sticks' momentum has changed by, in every step, and nothing that runs gives more than it takes.

mod common;
#[path = "common/depth.rs"]
mod depth;

use chockline::domain::math::rad;
use chockline::sim::world::{
    PartId, Rollers, Runs, StickId, StickState, Touching, World, WorldSettings, turned,
};
use chockline::sim::{Pose, Rotation, Vector};
use common::lines;
use depth::{Body, depth_m};

/// Numbers between -1 and 1 that are the same in every run.
struct Numbers(u64);

impl Numbers {
    fn next(&mut self) -> f32 {
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 40) as f32 / (1 << 23) as f32 - 1.0
    }

    fn vector(&mut self, scale: f32) -> Vector {
        Vector::new(self.next(), self.next(), self.next()) * scale
    }
}

struct Scene {
    world: World,
    sticks: Vec<StickId>,
    parts: Vec<PartId>,
}

/// Sticks that fall with some spin into V's whose rollers are driven, braked or free, and past their
/// tips to the ground.
fn scene(seed: u64) -> Scene {
    let mut numbers = Numbers(seed);
    let mut world = World::new(WorldSettings {
        restitution: 0.2 * numbers.next().max(0.0),
        ..WorldSettings::default()
    });
    let mut runs = || match numbers.next() {
        x if x < -0.3 => Runs::Free(0.01),
        x if x < 0.0 => Runs::At(0.0),
        x => Runs::At(0.5 * x - 0.2),
    };
    let mut parts = Vec::new();
    for z in [-3.4, 3.4] {
        let rollers = Rollers {
            along: runs(),
            across: runs(),
        };
        for side in [-1.0, 1.0] {
            let touching = Touching {
                friction: 0.4,
                rolling_lever_arm_m: 0.0,
            };
            let pose = turned(
                Vector::new(side * 0.26, 1.15, z),
                f64::from(side) * rad(30.0),
            );
            let part = world.add_moving_box(Vector::new(0.3, 0.06, 0.15), pose, touching);
            world.set_rollers(part, rollers);
            parts.push(part);
        }
    }
    let ground = Touching {
        friction: 0.5,
        rolling_lever_arm_m: 0.0,
    };
    parts.push(world.add_ground(Vector::ZERO, Vector::new(0.02, 1.0, -0.01), ground));
    let pipe = lines::pipe(0.6096, 17.0, 0.02);
    let sticks = [0.0, 0.55].map(|x| {
        let tilt = numbers.vector(0.01);
        let state = StickState {
            pose: Pose::from_parts(
                Vector::new(
                    x + 0.3 * numbers.next(),
                    1.9 + 2.0 * x,
                    0.3 * numbers.next(),
                ),
                Rotation::from_scaled_axis(tilt),
            ),
            velocity: numbers.vector(0.5),
            spin: Vector::new(0.0, 0.0, 2.0 * numbers.next()),
        };
        world.add_stick(&pipe, state)
    });
    Scene {
        world,
        sticks: sticks.to_vec(),
        parts,
    }
}

fn momentum(scene: &Scene) -> Vector {
    let of = |&stick: &StickId| {
        scene.world.stick(stick).velocity * scene.world.pipe(stick).mass_kg() as f32
    };
    scene.sticks.iter().map(of).sum()
}

#[test]
fn told_forces_are_what_the_momentum_changes_by() {
    for seed in 0..40 {
        let mut scene = scene(seed);
        let dt_s = scene.world.settings().dt_s;
        let mass_kg: f64 = scene
            .sticks
            .iter()
            .map(|&stick| scene.world.pipe(stick).mass_kg())
            .sum();
        let weight = scene.world.settings().gravity_m_per_s2 * mass_kg as f32;
        for _ in 0..480 {
            let before = momentum(&scene);
            scene.world.step();
            let want = (momentum(&scene) - before) / dt_s - weight;
            let of = |&part: &PartId| -scene.world.force_on_part(part);
            let told: Vector = scene.parts.iter().map(of).sum();
            // Single precision: velocities of some m/s are known to 1e-7 m/s or so.
            let allowed = 0.001 * want.length() + 1.0e-3 * weight.length();
            assert!(
                (told - want).length() < allowed,
                "seed {seed}, {:.3} s: told {told} N, the momentum says {want} N; look at how the \
                 contacts' impulses are read",
                scene.world.time_s()
            );
        }
    }
}

/// A stick on the upper corners of four plates whose surfaces run up or down: without friction nothing
/// comes of it. What runs square to the plate's normal does not run square to the contact's.
#[test]
fn running_surfaces_do_not_push_at_their_corners() {
    let height_m = |speed: f32| {
        let mut world = World::new(WorldSettings::default());
        let touching = Touching {
            friction: 0.0,
            rolling_lever_arm_m: 0.0,
        };
        for z in [-3.4, 3.4] {
            for side in [-1.0_f32, 1.0] {
                let pose = turned(
                    Vector::new(side * 0.35, 1.0, z),
                    f64::from(-side) * rad(60.0),
                );
                let part = world.add_moving_box(Vector::new(0.3, 0.06, 0.15), pose, touching);
                let rollers = Rollers {
                    along: Runs::At(0.0),
                    across: Runs::At(speed * side),
                };
                world.set_rollers(part, rollers);
            }
        }
        let pipe = lines::pipe(0.6096, 17.0, 0.0);
        let stick = world.add_stick(
            &pipe,
            StickState {
                pose: Pose::from_parts(Vector::new(0.0, 1.5, 0.0), Rotation::IDENTITY),
                velocity: Vector::ZERO,
                spin: Vector::ZERO,
            },
        );
        for _ in 0..480 {
            world.step();
        }
        world.stick(stick).pose.translation.y
    };
    let still = height_m(0.0);
    assert!(still > 1.3, "it fell through between the plates: {still} m");
    for speed in [-0.4, 0.4] {
        let off = height_m(speed) - still;
        assert!(
            off.abs() < 2.0e-5,
            "surface at {speed} m/s: the stick lies {off} m higher than on one that stands"
        );
    }
}

/// Two sticks that spin on each other and are not quite parallel touch at one end. The contact has
/// that end's normal: with one between both ends' the spinning surfaces would seem to part, and the
/// sticks would go into each other unhindered.
#[test]
fn spinning_sticks_that_touch_at_an_end_do_not_sink_in() {
    let mut world = World::new(WorldSettings {
        gravity_m_per_s2: Vector::ZERO,
        friction_pipe_on_pipe: 0.0,
        ..WorldSettings::default()
    });
    let pipe = lines::pipe(1.31, 23.0, 0.0);
    let spin = Vector::new(0.0, 0.0, 2.3);
    let [one, other] = [(0.0, 0.0), (1.33, -0.1)].map(|(x, towards)| {
        let tilt = if x > 0.0 {
            Rotation::from_scaled_axis(Vector::new(-0.009, -0.003, 0.0))
        } else {
            Rotation::IDENTITY
        };
        world.add_stick(
            &pipe,
            StickState {
                pose: Pose::from_parts(Vector::new(x, 0.18, 0.0), tilt),
                velocity: Vector::new(towards, 0.0, 0.0),
                spin,
            },
        )
    });
    let mut deepest_m = f64::NEG_INFINITY;
    for _ in 0..480 {
        world.step();
        let bodies = [one, other].map(|stick| Body::stick(&world, stick));
        let depth = depth_m(&bodies[0], &bodies[1], -0.001);
        deepest_m = deepest_m.max(depth.unwrap_or(deepest_m));
    }
    assert!(
        (-0.001..0.003).contains(&deepest_m),
        "{deepest_m} m deep; look at the normal of contacts between sticks"
    );
}
