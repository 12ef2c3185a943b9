//! Bare scenes for the physics tests.
#![allow(dead_code)]

pub mod lines;

use chockline::domain::math::{GRAVITY_M_PER_S2, cos, sin};
use chockline::domain::pipe::Pipe;
use chockline::sim::world::{
    PartId, StickId, StickState, Touching, World, WorldSettings, rotation_about_z,
};
use chockline::sim::{Pose, Vector};

/// Pipe by outside diameter and DR, wall by the US convention, 955 kg/m³.
pub fn pipe(outside_diameter_m: f64, dr: f64, length_m: f64, ovality: f64) -> Pipe {
    Pipe {
        length_m,
        ..lines::pipe(outside_diameter_m, dr, ovality)
    }
}

/// The pipe of most scenes: 36 in DR 17, 40 ft.
pub fn pipe_36() -> Pipe {
    pipe(0.9144, 17.0, 12.192, 0.0)
}

pub fn touching(friction: f64) -> Touching {
    Touching {
        friction: friction as f32,
        rolling_lever_arm_m: 0.0,
    }
}

pub fn settings(dt_s: f64) -> WorldSettings {
    WorldSettings {
        dt_s: dt_s as f32,
        ..WorldSettings::default()
    }
}

/// The middles of the two rails along z, m.
pub const RAILS_Z_M: [f32; 2] = [-2.7, 2.7];

/// Two rails that slope down towards +x, their surface through the origin, 40 m long.
pub fn add_rails(world: &mut World, slope_rad: f64, touching: Touching) -> [PartId; 2] {
    RAILS_Z_M.map(|z| {
        let turn = rotation_about_z(-slope_rad);
        let centre = turn * Vector::new(0.0, -0.1, 0.0) + Vector::Z * z;
        world.add_fixed_box(
            Vector::new(20.0, 0.1, 0.075),
            Pose::from_parts(centre, turn),
            touching,
        )
    })
}

/// At rest on the slope, `along_m` down from the origin, the centre `height_m` over the surface and
/// the long axis turned by `roll_rad` against the world's x.
pub fn on_slope(slope_rad: f64, along_m: f64, height_m: f64, roll_rad: f64) -> StickState {
    let at = Vector::new(along_m as f32, height_m as f32, 0.0);
    StickState {
        pose: Pose::from_parts(
            rotation_about_z(-slope_rad) * at,
            rotation_about_z(roll_rad),
        ),
        velocity: Vector::ZERO,
        spin: Vector::ZERO,
    }
}

/// Two stops across the rails of [`add_rails`]: their upper corner towards the stick at `along_m`.
pub fn add_stops(
    world: &mut World,
    slope_rad: f64,
    along_m: f64,
    height_m: f64,
    touching: Touching,
) -> [PartId; 2] {
    RAILS_Z_M.map(|z| {
        let turn = rotation_about_z(-slope_rad);
        let half = Vector::new(0.5, (height_m / 2.0 + 0.1) as f32, 0.05);
        let centre = Vector::new(along_m as f32 + half.x, height_m as f32 - half.y, 0.0);
        // Beside the rail, so that nothing overlaps.
        let beside = Vector::Z * (z - 0.2 * z.signum());
        world.add_fixed_box(
            half,
            Pose::from_parts(turn * centre + beside, turn),
            touching,
        )
    })
}

/// Two V cradles of included angle `2 γ`, apexes at `heights_m`, `spacing_m` apart, turned by
/// `turn_rad` about z.
pub fn add_cradles(
    world: &mut World,
    half_angle_rad: f64,
    heights_m: [f64; 2],
    spacing_m: f64,
    turn_rad: f64,
    touching: [Touching; 2],
) -> [[PartId; 2]; 2] {
    let mut cradle = |index: usize| {
        let z = (index as f64 - 0.5) * spacing_m;
        [-1.0, 1.0].map(|side: f64| {
            let half = Vector::new(1.0, 0.05, 0.05);
            let slope = side * (std::f64::consts::FRAC_PI_2 - half_angle_rad) + turn_rad;
            let turn = rotation_about_z(slope);
            let along = turn * Vector::new(side as f32 * half.x, -half.y, 0.0);
            let apex = Vector::new(0.0, heights_m[index] as f32, z as f32);
            world.add_fixed_box(half, Pose::from_parts(apex + along, turn), touching[index])
        })
    };
    [cradle(0), cradle(1)]
}

/// Steps for a time.
pub fn run(world: &mut World, time_s: f64) {
    let steps = (time_s / f64::from(world.settings().dt_s)).round() as usize;
    for _ in 0..steps {
        world.step();
        assert_eq!(world.fault(), None);
    }
}

/// Gravity tilted by an angle from straight down, towards +x.
pub fn gravity_towards_x(tilt_rad: f64) -> Vector {
    Vector::new(
        (GRAVITY_M_PER_S2 * sin(tilt_rad)) as f32,
        (-GRAVITY_M_PER_S2 * cos(tilt_rad)) as f32,
        0.0,
    )
}

pub fn speed(world: &World, stick: StickId) -> f64 {
    f64::from(world.stick(stick).velocity.length())
}

/// The value between `low` (where `passes` is false) and `high` (where it is true) at which `passes`
/// changes, to `tolerance`.
pub fn threshold(mut low: f64, mut high: f64, tolerance: f64, passes: impl Fn(f64) -> bool) -> f64 {
    assert!(!passes(low), "already passes at the lower end {low}");
    assert!(passes(high), "does not pass at the upper end {high}");
    while high - low > tolerance {
        let middle = (low + high) / 2.0;
        if passes(middle) {
            high = middle;
        } else {
            low = middle;
        }
    }
    (low + high) / 2.0
}
