//! P1: rolling.
use chockline::domain::pipe::Pipe;
use chockline::domain::math::*;
use chockline::sim::world::*;
use chockline::sim::{Pose, Vector, Rotation};

pub fn pipe(od: f64, dr: f64, len: f64, ovality: f64) -> Pipe {
    Pipe { outside_diameter_m: od, wall_min_m: od/dr, wall_avg_m: 1.06*od/dr, length_m: len, density_kg_m3: 955.0, ovality, temperature_c: 23.0 }
}

/// A world with two rails sloping down towards +x whose surface passes through the origin.
fn rails(theta: f64, mu: f32, lever: f32, settings: WorldSettings) -> World {
    let mut w = World::new(settings);
    for z in [-2.7, 2.7] {
        let half = Vector::new(15.0, 0.1, 0.075);
        let rot = rotation_about_z(-theta);
        let c = rot * Vector::new(0.0, -0.1, 0.0) + Vector::new(0.0,0.0,z);
        w.add_fixed_box(half, Pose::from_parts(c, rot), Touching { friction: mu, rolling_lever_arm_m: lever });
    }
    w
}

fn on_slope(theta: f64, s: f64, r: f64, phase: f64) -> StickState {
    let p = rotation_about_z(-theta) * Vector::new(s as f32, r as f32, 0.0);
    StickState { pose: Pose::from_parts(p, rotation_about_z(phase)), velocity: Vector::ZERO, spin: Vector::ZERO }
}

#[test]
fn rolling() {
    let p = pipe(0.9144, 17.0, 12.19, 0.0);
    let k = p.shape_factor();
    for lever in [0.0, 0.002] {
    for deg_ in [1.0, 3.0, 5.0, 8.0, 12.0] {
        let th = rad(deg_);
        for phase in [0.0, 0.7, 2.0] {
            let mut w = rails(th, 0.6, lever as f32, WorldSettings::default());
            let id = w.add_stick(&p, on_slope(th, -5.0, p.radius_m(), phase));
            for _ in 0..48 { w.step(); }
            let v0 = w.stick(id).velocity.length() as f64;
            let n = 480;
            for _ in 0..n { w.step(); }
            let v1 = w.stick(id).velocity.length() as f64;
            let a = (v1-v0)/(n as f64/240.0);
            let want = GRAVITY_M_PER_S2*(sin(th)-lever/p.radius_m()*cos(th))/(1.0+k);
            println!("{lever} {deg_} {phase:.1} a {a:.5} want {want:.5} err {:+.4}%", 100.0*(a/want-1.0));
        }
    }}
    // time
    let th = rad(5.0);
    let mut w = rails(th, 0.6, 0.002, WorldSettings::default());
    w.add_stick(&p, on_slope(th, -8.0, p.radius_m(), 0.0));
    let t = std::time::Instant::now();
    for _ in 0..1000 { w.step(); }
    println!("{:?} per step", t.elapsed()/1000);
}
