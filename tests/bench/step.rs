//! Microseconds per step of the canonical scenes.
use chockline::domain::math::rad;
use chockline::domain::pipe::Pipe;
use chockline::sim::world::*;
use chockline::sim::{Pose, Vector};

fn scene(n: usize) -> World {
    let p = Pipe {
        outside_diameter_m: 0.9144,
        wall_min_m: 0.9144 / 17.0,
        wall_avg_m: 1.06 * 0.9144 / 17.0,
        length_m: 12.19,
        density_kg_m3: 955.0,
        ovality: 0.0,
        temperature_c: 23.0,
    };
    let th = rad(5.0);
    let mut w = World::new(WorldSettings::default());
    let rot = rotation_about_z(-th);
    let t = Touching {
        friction: 0.3,
        rolling_lever_arm_m: 0.002,
    };
    for z in [-2.7f32, 2.7] {
        w.add_fixed_box(
            Vector::new(15.0, 0.1, 0.075),
            Pose::from_parts(rot * Vector::new(0.0, -0.1, 0.0) + Vector::Z * z, rot),
            t,
        );
    }
    for z in [-2.5f32, 2.5] {
        let h = 0.2286f32;
        w.add_moving_box(
            Vector::new(0.03, h / 2.0 + 0.1, 0.05),
            Pose::from_parts(
                rot * Vector::new(0.03, h / 2.0 - 0.1, 0.0) + Vector::Z * z,
                rot,
            ),
            t,
        );
    }
    let r = 0.4572f32;
    let e = (r * r - (r - 0.2286) * (r - 0.2286)).sqrt();
    for i in 0..n {
        let s = -e - 2.0 * r * i as f32;
        w.add_stick(
            &p,
            StickState {
                pose: Pose::from_parts(rot * Vector::new(s, r, 0.0), rotation_about_z(0.0)),
                velocity: Vector::ZERO,
                spin: Vector::ZERO,
            },
        );
    }
    w
}

fn main() {
    for n in [1usize, 6] {
        let mut best = f64::INFINITY;
        for _ in 0..5 {
            let mut w = scene(n);
            let t = std::time::Instant::now();
            for _ in 0..2000 {
                w.step();
            }
            best = best.min(t.elapsed().as_secs_f64() / 2000.0 * 1e6);
            if n == 6 {
                let s = w.stick(StickId(5));
                println!("{:?}", s.velocity);
            }
        }
        println!("{n} sticks: {best:.2} us");
    }
}
