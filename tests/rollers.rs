//! Surfaces with rollers: driven, braked and free, each against statics or kinematics.

mod common;

use chockline::domain::math::{atan, cos, deg, rad, sin};
use chockline::domain::pipe::Pipe;
use chockline::sim::world::{
    PartId, Rollers, Runs, StickId, StickState, Touching, World, WorldSettings, turned,
};
use chockline::sim::{Pose, Rotation, Vector};
use common::lines;

const G: f64 = 9.81;
/// Slope of a V's faces, deg.
const FACE_DEG: f64 = 30.0;
const CRADLES_Z_M: [f64; 2] = [-3.386, 3.386];

fn pipe_24() -> Pipe {
    lines::pipe(24.0 * lines::INCH_M, 17.0, 0.0)
}

/// A stick in two V's, far and near, under a gravity that is tilted lengthwise towards +z.
struct Scene {
    world: World,
    faces: [[PartId; 2]; 2],
    stick: StickId,
}

fn scene(p: &Pipe, friction: [f32; 2], tilt_rad: f64, rollers: [Rollers; 2]) -> Scene {
    let mut world = World::new(WorldSettings {
        gravity_m_per_s2: Vector::new(0.0, -(G * cos(tilt_rad)) as f32, (G * sin(tilt_rad)) as f32),
        ..WorldSettings::default()
    });
    let mut index = 0;
    let faces = CRADLES_Z_M.map(|z| {
        let i = index;
        index += 1;
        [-1.0, 1.0].map(|side: f64| {
            let slope = side * rad(FACE_DEG);
            let (half, thick) = (0.3, 0.06);
            let (c, s) = (cos(slope), sin(slope));
            let middle = Vector::new(
                (side * half * c + thick * s) as f32,
                (side * half * s - thick * c) as f32,
                z as f32,
            );
            let part = world.add_moving_box(
                Vector::new(half as f32, thick as f32, 0.15),
                turned(middle, slope),
                Touching {
                    friction: friction[i],
                    rolling_lever_arm_m: 0.0,
                },
            );
            world.set_rollers(part, rollers[i]);
            part
        })
    });
    let height = p.radius_m() / cos(rad(FACE_DEG));
    let stick = world.add_stick(
        p,
        StickState {
            pose: Pose::from_parts(Vector::new(0.0, height as f32, 0.0), Rotation::IDENTITY),
            velocity: Vector::ZERO,
            spin: Vector::ZERO,
        },
    );
    Scene {
        world,
        faces,
        stick,
    }
}

fn run(scene: &mut Scene, time_s: f64) {
    for _ in 0..(time_s * 240.0) as usize {
        scene.world.step();
    }
}

const BRAKED: Rollers = Rollers {
    along: Runs::At(0.0),
    across: Runs::At(0.0),
};

fn free_along(bearing: f32) -> Rollers {
    Rollers {
        along: Runs::Free(bearing),
        ..BRAKED
    }
}

/// Crossed rollers: the near cradle drives along and lets turn, the far one lets run and turns.
fn crossed(advance: f32, turn: f32) -> [Rollers; 2] {
    [
        Rollers {
            along: Runs::Free(0.01),
            across: Runs::At(turn),
        },
        Rollers {
            along: Runs::At(advance),
            across: Runs::Free(0.01),
        },
    ]
}

#[test]
fn driven_rollers_carry_a_stick_along_at_their_speed() {
    let p = pipe_24();
    let mut scene = scene(&p, [0.5, 0.5], 0.0, crossed(0.15, 0.0));
    run(&mut scene, 1.0);
    let began = scene.world.stick(scene.stick).pose.translation.z;
    run(&mut scene, 2.0);
    let state = scene.world.stick(scene.stick);
    let way = f64::from(state.pose.translation.z - began);
    assert!((way - 0.30).abs() < 0.003, "{way} m in 2 s at 0.15 m/s");
    assert!(state.spin.length() < 1.0e-3, "turns at {:?}", state.spin);
}

/// Rotation = surface travel / R without slip (P14), while the near cradle lets it turn.
#[test]
fn turning_rollers_turn_a_stick_in_crossed_cradles() {
    let p = pipe_24();
    let mut scene = scene(&p, [0.5, 0.5], 0.0, crossed(0.0, 0.05));
    run(&mut scene, 2.0);
    let state = scene.world.stick(scene.stick);
    let want = 0.05 / p.radius_m();
    let got = f64::from(state.roll_rate().abs());
    assert!(
        (got / want - 1.0).abs() < 0.02,
        "{got} against {want} rad/s"
    );
    let z = f64::from(state.pose.translation.z);
    assert!(z.abs() < 1.0e-3, "wandered {z} m along");
}

/// Friction across a V's faces carries a part of the weight that statics leaves open; here hardly any.
const SLIPPERY: f32 = 0.02;

/// Bearings of resistance c slow a coasting stick by c g / sin γ (statics of a V: the face forces
/// add up to W / sin γ).
#[test]
fn free_rollers_slow_a_coasting_stick_by_their_bearings_alone() {
    let p = pipe_24();
    let c = 0.01_f64;
    let mut scene = scene(&p, [SLIPPERY; 2], 0.0, [free_along(c as f32); 2]);
    run(&mut scene, 0.5);
    scene
        .world
        .set_motion(scene.stick, Vector::Z * 0.3, Vector::ZERO);
    let began = scene.world.stick(scene.stick).velocity.z;
    run(&mut scene, 1.0);
    let lost = f64::from(began - scene.world.stick(scene.stick).velocity.z);
    let want = c * G / cos(rad(FACE_DEG));
    assert!(
        (lost / want - 1.0).abs() < 0.03,
        "{lost} against {want} m/s"
    );
    run(&mut scene, 3.0);
    let left = scene.world.stick(scene.stick).velocity.z;
    assert!(left.abs() < 1.0e-4, "still {left} m/s");
}

fn slides(friction: [f32; 2], rollers: [Rollers; 2], tilt_rad: f64) -> bool {
    let mut scene = scene(&pipe_24(), friction, tilt_rad, rollers);
    run(&mut scene, 1.0);
    let half = scene.world.stick(scene.stick).pose.translation.z;
    run(&mut scene, 1.0);
    let state = scene.world.stick(scene.stick);
    state.pose.translation.z > 2.5 * half && state.velocity.z > 0.003
}

fn threshold_deg(low: f64, high: f64, goes: impl Fn(f64) -> bool) -> f64 {
    let (mut low, mut high) = (low, high);
    assert!(!goes(low) && goes(high), "{low} to {high} deg");
    while high - low > 0.01 {
        let middle = 0.5 * (low + high);
        if goes(middle) {
            high = middle;
        } else {
            low = middle;
        }
    }
    0.5 * (low + high)
}

/// One braked and one free cradle: tan δ = μ/(2 sin γ); dry steel 6.6, wet 4.0, frosted 1.7° (statics;
/// design values).
#[test]
fn a_tilted_stick_slides_where_one_brake_no_longer_holds_it() {
    for (mu, design_deg) in [(0.2, 6.6), (0.12, 4.0), (0.05, 1.65)] {
        let want = deg(atan(mu / (2.0 * cos(rad(FACE_DEG)))));
        assert!((want - design_deg).abs() < 0.05);
        let got = threshold_deg(0.6 * want, 1.4 * want, |degrees| {
            let rollers = [free_along(0.0), BRAKED];
            slides([mu as f32; 2], rollers, rad(degrees))
        });
        assert!(
            (got / want - 1.0).abs() < 0.02,
            "μ {mu}: {got} against {want} deg"
        );
    }
}

/// Both free: tan δ = c / sin γ.
#[test]
fn bearings_hold_a_stick_up_to_their_resistance() {
    let c = 0.015_f64;
    let want = deg(atan(c / cos(rad(FACE_DEG))));
    let got = threshold_deg(0.5 * want, 2.0 * want, |degrees| {
        slides([SLIPPERY; 2], [free_along(c as f32); 2], rad(degrees))
    });
    assert!((got / want - 1.0).abs() < 0.03, "{got} against {want} deg");
}

/// A stick on free rollers is accelerated by a pull F by F/m (Newton).
#[test]
fn free_rollers_leave_a_pull_to_the_stick() {
    let p = pipe_24();
    let mut scene = scene(&p, [0.5, 0.5], 0.0, [free_along(0.0); 2]);
    run(&mut scene, 0.5);
    for _ in 0..240 {
        let at = scene.world.stick(scene.stick).pose.translation;
        scene.world.pull(scene.stick, at, Vector::Z * 200.0);
        scene.world.step();
    }
    let got = f64::from(scene.world.stick(scene.stick).velocity.z);
    let want = 200.0 / p.mass_kg();
    assert!((got / want - 1.0).abs() < 0.02, "{got} against {want} m/s");
    let weight: f32 = scene
        .faces
        .iter()
        .flatten()
        .map(|&part| -scene.world.force_on_part(part).y)
        .sum();
    let off = f64::from(weight) / (p.mass_kg() * G) - 1.0;
    assert!(off.abs() < 0.01, "carries {weight} N");
}
