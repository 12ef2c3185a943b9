//! The physics claims, each against its closed form. See the validation table in DEVELOPERS.md.

mod common;

use chockline::domain::math::{GRAVITY_M_PER_S2 as G, acos, atan, cos, deg, rad, sin, sqrt, tan};
use chockline::domain::pipe::Pipe;
use chockline::sim::world::{
    StickId, StickState, Touching, World, WorldSettings, rotation_about_z,
};
use chockline::sim::{Pose, Rotation, Vector};
use common::*;

/// Six phases of the roll, rad.
const PHASES_RAD: [f64; 6] = [0.0, 0.4, 1.1, 1.9, 2.6, 4.0];
/// Three time steps, s.
const STEPS_S: [f64; 3] = [1.0 / 120.0, 1.0 / 240.0, 1.0 / 480.0];

fn percent(got: f64, want: f64) -> f64 {
    100.0 * (got / want - 1.0)
}

fn rolling_acceleration(p: &Pipe, theta: f64, lever_m: f64, phase: f64, dt_s: f64) -> f64 {
    let mut world = World::new(settings(dt_s));
    let rails = Touching {
        friction: 0.6,
        rolling_lever_arm_m: lever_m as f32,
    };
    add_rails(&mut world, theta, rails);
    let stick = world.add_stick(p, on_slope(theta, -8.0, p.radius_m(), phase));
    run(&mut world, 0.25);
    let before = speed(&world, stick);
    run(&mut world, 2.0);
    (speed(&world, stick) - before) / 2.0
}

/// P1. a = g (sin θ - C_rr cos θ) / (1 + k): OpenStax University Physics 1, 11.1, with the lever-arm
/// model of rolling resistance.
#[test]
fn p1_a_pipe_rolls_down_rails_as_the_textbook_says() {
    for dr in [9.0, 17.0, 32.5] {
        let p = pipe(0.9144, dr, 12.192, 0.0);
        let k = p.shape_factor();
        for lever_m in [0.0, 0.002] {
            for degrees in [1.0, 3.0, 5.0, 8.0, 12.0] {
                let theta = rad(degrees);
                let want = G * (sin(theta) - lever_m / p.radius_m() * cos(theta)) / (1.0 + k);
                for phase in PHASES_RAD {
                    let got = rolling_acceleration(&p, theta, lever_m, phase, 1.0 / 240.0);
                    assert!(
                        percent(got, want).abs() < 0.1,
                        "DR {dr}, {degrees} deg, lever {lever_m} m, phase {phase}: {got} against {want} m/s2"
                    );
                }
            }
        }
    }
}

/// P1 at other time steps: the contact geometry, not the step, sets the acceleration.
#[test]
fn p1_rolling_does_not_depend_on_the_time_step() {
    let p = pipe_36();
    let theta = rad(5.0);
    let want = G * sin(theta) / (1.0 + p.shape_factor());
    for dt_s in STEPS_S {
        let got = rolling_acceleration(&p, theta, 0.0, 0.7, dt_s);
        assert!(
            percent(got, want).abs() < 0.15,
            "dt {dt_s}: {:+.3} %",
            percent(got, want)
        );
    }
}

/// P2. On the level, without rolling resistance, a rolling pipe keeps its energy.
#[test]
fn p2_level_rolling_keeps_its_energy() {
    for dt_s in STEPS_S {
        for phase in PHASES_RAD {
            let p = pipe_36();
            let mut world = World::new(settings(dt_s));
            add_rails(&mut world, 0.0, touching(0.6));
            let mut state = on_slope(0.0, -8.0, p.radius_m(), phase);
            state.velocity = Vector::X;
            state.spin = Vector::Z * (-1.0 / p.radius_m()) as f32;
            let stick = world.add_stick(&p, state);
            run(&mut world, 0.25);
            let before = speed(&world, stick);
            run(&mut world, 10.0);
            let change = 2.0 * percent(speed(&world, stick), before);
            assert!(
                change.abs() < 0.2,
                "dt {dt_s}, phase {phase}: energy {change:+.3} %"
            );
        }
    }
}

/// Whether an oval stick that is set down in its balanced phase (or, past the limit, in the steepest
/// one) still lies there after ten seconds.
fn hangs(p: &Pipe, alpha: f64) -> bool {
    let oval = p.oval();
    let steepest = oval.balance_phases_rad(oval.hang_angle_rad() * (1.0 - 1.0e-9));
    let (phase, _) = oval.balance_phases_rad(alpha).or(steepest).unwrap();
    let mut world = World::new(WorldSettings::default());
    add_rails(&mut world, alpha, touching(0.6));
    let stick = world.add_stick(
        p,
        on_slope(alpha, 0.0, oval.height_m(phase), -alpha - phase),
    );
    run(&mut world, 10.0);
    f64::from(world.stick(stick).pose.translation.x).abs() < 0.2
}

/// P3. sin α = (a² - b²)/(a² + b²): statics of an ellipse on an incline.
#[test]
fn p3_an_oval_stick_hangs_up_to_its_angle() {
    for ovality in [0.01, 0.02, 0.035, 0.05, 0.07] {
        let p = pipe(0.9144, 17.0, 12.192, ovality);
        let limit = deg(p.oval().hang_angle_rad());
        let got = threshold(limit - 0.4, limit + 0.4, 0.005, |degrees| {
            !hangs(&p, rad(degrees))
        });
        assert!(
            (got - limit).abs() < 0.05,
            "ovality {ovality}: {got:.3} against {limit:.3} deg"
        );
    }
}

/// Speed of the centre and of the surface after sliding and spinning down a slope from rest.
fn slide(p: &Pipe, theta: f64, mu: f64, time_s: f64) -> (f64, f64) {
    let mut world = World::new(WorldSettings::default());
    add_rails(&mut world, theta, touching(mu));
    let stick = world.add_stick(p, on_slope(theta, -10.0, p.radius_m(), 0.0));
    run(&mut world, time_s);
    let state = world.stick(stick);
    (
        speed(&world, stick),
        f64::from(state.roll_rate()).abs() * p.radius_m(),
    )
}

/// P4. tan θ = μ (1 + k)/k, and beyond it a = g (sin θ - μ cos θ), α R = μ g cos θ / k: OpenStax
/// University Physics 1, 11.1.
#[test]
fn p4_a_pipe_slips_where_the_textbook_says() {
    let p = pipe_36();
    let k = p.shape_factor();
    for mu in [0.02, 0.05, 0.10] {
        let limit = deg(atan(mu * (1.0 + k) / k));
        let got = threshold(0.8 * limit, 1.2 * limit, 0.002 * limit, |degrees| {
            let (centre, surface) = slide(&p, rad(degrees), mu, 1.0);
            surface < 0.998 * centre
        });
        assert!(
            percent(got, limit).abs() < 2.0,
            "mu {mu}: slips at {got:.3}, not {limit:.3} deg"
        );

        let theta = rad(1.8 * limit);
        let (v0, s0) = slide(&p, theta, mu, 0.25);
        let (v1, s1) = slide(&p, theta, mu, 1.25);
        let (a, spin) = (v1 - v0, s1 - s0);
        let (want_a, want_spin) = (G * (sin(theta) - mu * cos(theta)), mu * G * cos(theta) / k);
        assert!(
            percent(a, want_a).abs() < 2.0,
            "mu {mu}: {a} against {want_a} m/s2"
        );
        assert!(
            percent(spin, want_spin).abs() < 2.0,
            "mu {mu}: {spin} against {want_spin} m/s2"
        );
    }
}

struct Stop {
    height_m: f64,
    run_m: f64,
    friction: f64,
    restitution: f64,
    phase_rad: f64,
    dt_s: f64,
}

/// Whether a stick that starts from rest, `run_m` before it touches the stop, gets over it.
fn gets_over(p: &Pipe, theta: f64, stop: &Stop) -> bool {
    let mut world = World::new(WorldSettings {
        restitution: stop.restitution as f32,
        ..settings(stop.dt_s)
    });
    add_rails(&mut world, theta, touching(stop.friction));
    let r = p.radius_m();
    let reach = sqrt(r * r - (r - stop.height_m) * (r - stop.height_m));
    add_stops(
        &mut world,
        theta,
        reach,
        stop.height_m,
        touching(stop.friction),
    );
    let stick = world.add_stick(p, on_slope(theta, -stop.run_m, r, stop.phase_rad));
    let along = Vector::new(cos(theta) as f32, -sin(theta) as f32, 0.0);
    for _ in 0..(20.0 / stop.dt_s) as usize {
        world.step();
        let state = world.stick(stick);
        let past = f64::from(state.pose.translation.dot(along)) - reach;
        if past > 0.1 * r {
            return true;
        }
        // Rolling back after the blow: it will not come again with more.
        if past > -reach - 0.01 && state.velocity.dot(along) < -0.02 && stop.restitution == 0.0 {
            return false;
        }
    }
    false
}

/// The pitch at which a run-up just suffices, deg, found by integrating the climb about the corner
/// with Coulomb friction after a plastic blow: independent of the closed form, which knows no slip.
fn integrated_critical_pitch_deg(p: &Pipe, height_m: f64, run_m: f64, friction: f64) -> f64 {
    let roller = p.roller();
    let (r, k) = (roller.radius_m, roller.shape_factor);
    let beta = acos(1.0 - height_m / r);
    let over = |theta: f64| {
        let arrival = sqrt(2.0 * roller.acceleration_m_per_s2(theta, 0.0) * run_m);
        // Speed of the centre about the corner, and of the surface.
        let mut v = arrival * (cos(beta) + k) / (1.0 + k);
        let mut u = v;
        let mut angle = beta - theta;
        let dt = 2.0e-5;
        while angle > 0.0 {
            let normal = (G * cos(angle) - v * v / r).max(0.0);
            let sticking = G * sin(angle) * k / (1.0 + k);
            let slips = u > v + 1.0e-9 || sticking > friction * normal;
            let forward = if slips { friction * normal } else { sticking };
            v += (forward - G * sin(angle)) * dt;
            u -= forward / k * dt;
            u = u.max(v);
            angle -= v / r * dt;
            if v <= 0.0 {
                return false;
            }
        }
        true
    };
    threshold(0.1, 40.0, 1.0e-4, |degrees| over(rad(degrees)))
}

fn measured_critical_pitch_deg(
    p: &Pipe,
    near: f64,
    height_m: f64,
    run_m: f64,
    friction: f64,
) -> f64 {
    threshold(0.8 * near, 1.2 * near, 0.002 * near, |degrees| {
        let stop = Stop {
            height_m,
            run_m,
            friction,
            restitution: 0.0,
            phase_rad: 0.3,
            dt_s: 1.0 / 240.0,
        };
        gets_over(p, rad(degrees), &stop)
    })
}

/// P5. The pitch at which one stick climbs a stop after a run-up: plastic, no-slip impact on the
/// corner and the climb that follows (impulsive motion, Beer & Johnston; Kibble & Berkshire).
#[test]
fn p5_one_stick_climbs_a_stop_at_the_closed_form_pitch() {
    let p = pipe_36();
    for height_r in [0.15, 0.25, 0.40] {
        for run_m in [0.5, 1.5, 3.0] {
            let height_m = height_r * p.radius_m();
            let want = deg(p.roller().critical_pitch_rad(height_m, run_m, 0.0).unwrap());
            // Friction that holds the contact, as the closed form has it.
            let got = measured_critical_pitch_deg(&p, want, height_m, run_m, 3.0);
            assert!(
                percent(got, want).abs() < 2.0,
                "stop {height_r} R, run {run_m} m: {got:.3} against {want:.3} deg"
            );
        }
    }
}

/// P5 at a friction of 0.6, where a fast climb slips on the corner.
#[test]
fn p5_a_climb_that_slips_agrees_with_its_integration() {
    let p = pipe_36();
    for height_r in [0.15, 0.25, 0.40] {
        for run_m in [0.5, 1.5, 3.0] {
            let height_m = height_r * p.radius_m();
            let want = integrated_critical_pitch_deg(&p, height_m, run_m, 0.6);
            let got = measured_critical_pitch_deg(&p, want, height_m, run_m, 0.6);
            assert!(
                percent(got, want).abs() < 2.0,
                "stop {height_r} R, run {run_m} m: {got:.3} against {want:.3} deg"
            );
        }
    }
}

/// P5, the roll phase and the time step do not matter, and bounce makes it need more.
#[test]
fn p5_the_climb_depends_neither_on_phase_nor_on_step_and_bounce_needs_more() {
    let p = pipe_36();
    let height_m = 0.25 * p.radius_m();
    let critical = |phase_rad: f64, dt_s: f64, restitution: f64| {
        threshold(3.0, 14.0, 0.01, |degrees| {
            let stop = Stop {
                height_m,
                run_m: 1.5,
                friction: 0.6,
                restitution,
                phase_rad,
                dt_s,
            };
            gets_over(&p, rad(degrees), &stop)
        })
    };
    let plain = critical(0.0, 1.0 / 240.0, 0.0);
    for phase in PHASES_RAD {
        let got = critical(phase, 1.0 / 240.0, 0.0);
        assert!(
            percent(got, plain).abs() < 1.0,
            "phase {phase}: {got} against {plain} deg"
        );
    }
    for dt_s in STEPS_S {
        let got = critical(0.0, dt_s, 0.0);
        assert!(
            percent(got, plain).abs() < 2.0,
            "dt {dt_s}: {got} against {plain} deg"
        );
    }
    let bouncing = critical(0.0, 1.0 / 240.0, 0.4);
    assert!(
        bouncing > 1.02 * plain,
        "with bounce {bouncing}, without {plain} deg"
    );
}

/// P6. A smooth row of n pressing a stop lifts its first stick when n tan θ > tan β.
#[test]
fn p6_a_row_lifts_its_first_stick_by_its_push() {
    let p = pipe_36();
    let r = p.radius_m();
    let theta = rad(3.0);
    let height_m = 0.05 * r;
    let reach = sqrt(r * r - (r - height_m) * (r - height_m));
    let most = tan(acos(1.0 - height_m / r)) / tan(theta);
    let lifts = |n: usize| {
        let mut world = World::new(WorldSettings {
            friction_pipe_on_pipe: 0.001,
            ..WorldSettings::default()
        });
        add_rails(&mut world, theta, touching(0.0));
        add_stops(&mut world, theta, reach, height_m, touching(0.0));
        for i in 0..n {
            world.add_stick(&p, on_slope(theta, -2.0 * r * i as f64, r, 0.0));
        }
        run(&mut world, 6.0);
        let along = Vector::new(cos(theta) as f32, -sin(theta) as f32, 0.0);
        f64::from(world.stick(StickId(0)).pose.translation.dot(along)) > 0.5 * reach
    };
    let first = (1..20).find(|&n| lifts(n)).unwrap_or(0);
    assert_eq!(
        first,
        most.floor() as usize + 1,
        "closed form {most:.3} sticks"
    );
}

/// A stick at rest in two V cradles of 120°, gravity tilted towards +x.
fn in_cradles(
    p: &Pipe,
    tilt_rad: f64,
) -> (World, StickId, [[chockline::sim::world::PartId; 2]; 2]) {
    let mut world = World::new(WorldSettings {
        gravity_m_per_s2: gravity_towards_x(tilt_rad),
        ..WorldSettings::default()
    });
    let cradles = add_cradles(
        &mut world,
        rad(60.0),
        [0.0; 2],
        6.7,
        0.0,
        [touching(0.0); 2],
    );
    let height = p.radius_m() / sin(rad(60.0));
    let stick = world.add_stick(p, on_slope(0.0, 0.0, height, 0.2));
    (world, stick, cradles)
}

/// P7. V cradle: N = W/(2 sin γ) level, shares under tilt, roll-out slope 90° - γ and side
/// acceleration g tan(90° - γ): statics, Meriam & Kraige.
#[test]
fn p7_a_v_cradle_carries_and_lets_go_as_statics_says() {
    let p = pipe_36();
    let weight = p.mass_kg() * G;
    let face = rad(30.0);
    for tilt in [0.0, 10.0] {
        let tilt = rad(tilt);
        let (mut world, _, cradles) = in_cradles(&p, tilt);
        run(&mut world, 3.0);
        let normals = [0, 1].map(|side| {
            let out = rotation_about_z(if side == 0 { -face } else { face }) * Vector::Y;
            let pushed: f32 = cradles
                .iter()
                .map(|c| -world.force_on_part(c[side]).dot(out))
                .sum();
            f64::from(pushed)
        });
        // +x is downhill: its face carries more.
        let want = [
            weight * sin(face - tilt) / sin(2.0 * face),
            weight * sin(face + tilt) / sin(2.0 * face),
        ];
        for (got, want) in normals.into_iter().zip(want) {
            assert!(
                percent(got, want).abs() < 1.0,
                "tilt {tilt}: {got} against {want} N"
            );
        }
    }
    let out = threshold(28.0, 32.0, 0.02, |degrees| {
        let (mut world, stick, _) = in_cradles(&p, rad(degrees));
        run(&mut world, 6.0);
        world.stick(stick).pose.translation.x > 0.1
    });
    assert!(percent(out, 30.0).abs() < 1.0, "rolls out at {out:.2} deg");
    // A level cradle under a side force F: gravity tilted by atan(F/W) and grown accordingly, so the
    // same threshold in F/W.
    assert!(percent(tan(rad(out)), tan(face)).abs() < 1.5);
}

/// Whether a stick slides lengthwise in two V's whose heights differ by the given slope.
fn slides_lengthwise(p: &Pipe, slope: f64, friction: [f64; 2]) -> bool {
    let spacing = 6.7;
    let rise = spacing * tan(slope);
    let mut world = World::new(WorldSettings::default());
    let surfaces = friction.map(touching);
    add_cradles(&mut world, rad(60.0), [0.0, rise], spacing, 0.0, surfaces);
    let height = p.radius_m() / sin(rad(60.0)) / cos(slope) + rise / 2.0;
    let lean = Rotation::from_xyzw(-sin(slope / 2.0) as f32, 0.0, 0.0, cos(slope / 2.0) as f32);
    let stick = world.add_stick(
        p,
        StickState {
            pose: Pose::from_parts(Vector::new(0.0, height as f32, 0.0), lean),
            velocity: Vector::ZERO,
            spin: Vector::ZERO,
        },
    );
    run(&mut world, 4.0);
    f64::from(world.stick(stick).pose.translation.z).abs() > 0.05
}

/// P8. Lengthwise slide on uneven lift: tan δ = μ / sin γ with both V's holding, half of that with
/// one of them free (statics; the weight is shared equally).
#[test]
fn p8_uneven_lift_slides_a_stick_lengthwise_at_its_angle() {
    let p = pipe_36();
    for (friction, share) in [
        ([0.2_f64, 0.2], 1.0),
        ([0.12, 0.12], 1.0),
        ([0.2, 0.0], 0.5),
        ([0.0, 0.2], 0.5),
    ] {
        let mu = friction[0].max(friction[1]);
        let want = deg(atan(share * mu / sin(rad(60.0))));
        let got = threshold(0.8 * want, 1.2 * want, 0.004 * want, |degrees| {
            slides_lengthwise(&p, rad(degrees), friction)
        });
        assert!(
            percent(got, want).abs() < 1.5,
            "{friction:?}: {got:.3} against {want:.3} deg"
        );
    }
}

/// P9. Rolling off an edge: contact ends at cos φ = (2 + (1 + k) v₀²/(g R))/(3 + k) (energy and the
/// normal force's vanishing; for the solid cylinder the textbook 4/7 with cos φ = 4/7).
#[test]
fn p9_contact_ends_at_its_angle_when_a_stick_rolls_off_an_edge() {
    let p = pipe_36();
    let (r, k) = (p.radius_m(), p.shape_factor());
    for v0 in [0.2, 0.6, 1.0] {
        let mut world = World::new(WorldSettings::default());
        for z in RAILS_Z_M {
            let half = Vector::new(5.0, 0.5, 0.1);
            let pose = Pose::from_parts(Vector::new(-5.0, -0.5, z), Rotation::IDENTITY);
            world.add_fixed_box(half, pose, touching(2.0));
        }
        let mut state = on_slope(0.0, -0.3, r, 0.5);
        state.velocity = Vector::X * v0 as f32;
        state.spin = Vector::Z * (-v0 / r) as f32;
        let stick = world.add_stick(&p, state);
        let mut last = 0.0;
        for _ in 0..2400 {
            world.step();
            let touched = (0..2).any(|i| world.touches(chockline::sim::world::PartId(i), stick));
            let at = world.stick(stick).pose.translation;
            if at.x > 0.0 && !touched {
                break;
            }
            last = deg(libm::atan2(f64::from(at.x), f64::from(at.y)));
        }
        let want = deg(acos((2.0 + (1.0 + k) * v0 * v0 / (G * r)) / (3.0 + k)));
        assert!(
            (last - want).abs() < 2.0,
            "v0 {v0} m/s: {last:.2} against {want:.2} deg"
        );
    }
}

/// P10. Resting support forces equal the weight and are shared by statics: W (1/2 ± x/s).
#[test]
fn p10_supports_carry_the_weight_by_statics() {
    let p = pipe_36();
    let weight = p.mass_kg() * G;
    for offset in [0.0, 0.4, -1.1] {
        let mut world = World::new(WorldSettings::default());
        let rails = add_rails(&mut world, 0.0, touching(0.3));
        let mut state = on_slope(0.0, 0.0, p.radius_m(), 1.0);
        state.pose.translation.z = offset as f32;
        world.add_stick(&p, state);
        run(&mut world, 2.0);
        let spacing = f64::from(RAILS_Z_M[1] - RAILS_Z_M[0]);
        let loads = rails.map(|rail| -f64::from(world.force_on_part(rail).y));
        assert!(
            percent(loads[0] + loads[1], weight).abs() < 0.1,
            "{loads:?} for {weight} N"
        );
        for (load, sign) in loads.into_iter().zip([-1.0, 1.0]) {
            let want = weight * (0.5 + sign * offset / spacing);
            assert!(
                percent(load, want).abs() < 1.0,
                "offset {offset}: {load} against {want} N"
            );
        }
    }
}

/// P10 on a slope: rail and stop forces together, friction included, carry the whole weight.
#[test]
fn p10_friction_forces_count_as_carried_weight() {
    let p = pipe_36();
    let theta = rad(8.0);
    let mut world = World::new(WorldSettings::default());
    let rails = add_rails(&mut world, theta, touching(0.4));
    let reach = p.radius_m() * sin(rad(60.0));
    let stops = add_stops(&mut world, theta, reach, 0.5 * p.radius_m(), touching(0.4));
    world.add_stick(&p, on_slope(theta, 0.0, p.radius_m(), 0.0));
    run(&mut world, 3.0);
    let sum: Vector = rails
        .into_iter()
        .chain(stops)
        .map(|part| world.force_on_part(part))
        .sum();
    let weight = p.mass_kg() * G;
    assert!(
        percent(-f64::from(sum.y), weight).abs() < 0.2,
        "{sum} for {weight} N"
    );
    assert!(f64::from(sum.x).abs() < 0.002 * weight, "{sum}");
}

/// P12. Run-out over falling ground with rolling resistance: v² (1 + k)/(2 g (C_rr cos β - sin β)),
/// and none where the fall exceeds atan C_rr.
#[test]
fn p12_a_loose_stick_runs_out_as_far_as_energy_says() {
    let p = pipe_36();
    let (r, k) = (p.radius_m(), p.shape_factor());
    let lever_m = 0.025;
    let c_rr = lever_m / r;
    let roll = |fall: f64, time_s: f64| {
        let mut world = World::new(WorldSettings::default());
        let up = rotation_about_z(-fall) * Vector::Y;
        world.add_ground(
            Vector::ZERO,
            up,
            Touching {
                friction: 0.5,
                rolling_lever_arm_m: lever_m as f32,
            },
        );
        let mut state = on_slope(fall, 0.0, r, 0.0);
        state.velocity = rotation_about_z(-fall) * Vector::X;
        state.spin = Vector::Z * (-1.0 / r) as f32;
        let stick = world.add_stick(&p, state);
        run(&mut world, time_s);
        (
            f64::from(world.stick(stick).pose.translation.length()),
            speed(&world, stick),
        )
    };
    for fall in [0.0, 1.0, 2.0] {
        let fall = rad(fall);
        let (went, left) = roll(fall, 20.0);
        let want = (1.0 + k) / (2.0 * G * (c_rr * cos(fall) - sin(fall)));
        // The centre starts R above the ground, so the way is measured from there.
        let way = sqrt(went * went - r * r);
        assert!(
            percent(way, want).abs() < 3.0,
            "fall {fall} rad: {way} against {want} m"
        );
        assert!(left < 0.005, "still moves at {left} m/s");
    }
    let (_, speed) = roll(atan(c_rr) + rad(0.3), 20.0);
    assert!(speed > 1.2, "must run on, moves at {speed} m/s");
}

/// P12, the fall: a stick that drops from a height meets the ground at √(2 g h).
#[test]
fn p12_a_dropped_stick_meets_the_ground_at_free_fall_speed() {
    let p = pipe_36();
    let mut world = World::new(WorldSettings::default());
    let ground = world.add_ground(Vector::ZERO, Vector::Y, touching(0.5));
    let stick = world.add_stick(&p, on_slope(0.0, 0.0, p.radius_m() + 1.2, 0.0));
    let mut fastest: f64 = 0.0;
    while !world.touches(ground, stick) && world.time_s() < 2.0 {
        fastest = fastest.max(speed(&world, stick));
        world.step();
    }
    let want = sqrt(2.0 * G * 1.2);
    assert!(
        percent(fastest, want).abs() < 1.0,
        "{fastest} against {want} m/s"
    );
}

/// Turns two pairs of rollers under a stick so that their surfaces gather way evenly, and gives the
/// surface's and the stick's way and the last speed of the stick's surface.
fn turned_by_rollers(p: &Pipe, mu: f64, surface_m_per_s2: f64, time_s: f64) -> ((f64, f64), f64) {
    let mut world = World::new(WorldSettings::default());
    let (r, roller) = (p.radius_m(), 0.10);
    let half_angle = rad(30.0);
    let mut rollers = Vec::new();
    for z in RAILS_Z_M {
        for side in [-1.0, 1.0] {
            let x = side * (r + roller) * sin(half_angle);
            let y = -(r + roller) * cos(half_angle);
            let at = Vector::new(x as f32, y as f32, z);
            let part = world.add_roller(
                roller as f32,
                0.15,
                Pose::from_parts(at, Rotation::IDENTITY),
                touching(mu),
            );
            rollers.push((part, at));
        }
    }
    let stick = world.add_stick(p, on_slope(0.0, 0.0, 0.0, 0.0));
    run(&mut world, 0.5);
    let dt = f64::from(world.settings().dt_s);
    let (mut way, mut speed, mut roll) = (0.0, 0.0, 0.0);
    for _ in 0..(time_s / dt) as usize {
        speed += surface_m_per_s2 * dt;
        way += speed * dt;
        for &(part, at) in &rollers {
            world.move_part(part, Pose::from_parts(at, rotation_about_z(way / roller)));
        }
        world.step();
        roll -= f64::from(world.stick(stick).roll_rate()) * dt;
    }
    let turning = -f64::from(world.stick(stick).roll_rate()) * r;
    ((way, roll * r), turning)
}

/// P14. Turning rollers: the stick's surface follows theirs without slip, up to the friction that its
/// angular acceleration needs. In a V of contact angle β the friction itself lifts one side, so the
/// normal forces sum to W/(cos β (1 + μ²)) and μ/(1 + μ²) = k a cos β / g (statics, two contacts).
#[test]
fn p14_turning_rollers_turn_the_stick_until_they_slip() {
    let p = pipe_36();
    let ((surface, stick), _) = turned_by_rollers(&p, 0.4, 0.1, 4.0);
    assert!(
        percent(stick, surface).abs() < 2.0,
        "{stick} against {surface} m"
    );

    let a = 2.0;
    let need = p.shape_factor() * a * cos(rad(30.0)) / G;
    let want = (1.0 - sqrt(1.0 - 4.0 * need * need)) / (2.0 * need);
    let got = threshold(0.7 * want, 1.3 * want, 0.004 * want, |mu| {
        let gained = turned_by_rollers(&p, mu, a, 0.5).1 - turned_by_rollers(&p, mu, a, 0.25).1;
        gained > 0.99 * a * 0.25
    });
    assert!(
        percent(got, want).abs() < 2.0,
        "slips below {got:.4}, not {want:.4}"
    );
}

/// Drag of wind: F = ½ ρ C_d D L v² (fluid mechanics, any textbook; 729.3 N on a 630 mm, 12 m pipe at
/// 15 m/s with C_d 0.7) rolls a stick on the level with F/(m (1 + k)), less as it gathers way.
#[test]
fn wind_pushes_a_stick_along_the_level() {
    let p = pipe(0.630, 17.0, 12.0, 0.0);
    let mut world = World::new(WorldSettings {
        wind_m_per_s: Vector::X * 15.0,
        drag_coefficient: 0.7,
        ..WorldSettings::default()
    });
    add_rails(&mut world, 0.0, touching(0.6));
    let stick = world.add_stick(&p, on_slope(0.0, 0.0, p.radius_m(), 0.0));
    run(&mut world, 0.5);
    let force_n = 729.304;
    let acceleration = force_n / (p.mass_kg() * (1.0 + p.shape_factor()));
    // dv/dt = a (1 - v/15)² from rest.
    let want = acceleration * 0.5 / (1.0 + acceleration * 0.5 / 15.0);
    let got = speed(&world, stick);
    assert!(percent(got, want).abs() < 1.0, "{got} against {want} m/s");
}

/// On the level rolling resistance holds a stick against less wind than C_rr W, and lets go beyond.
#[test]
fn rolling_resistance_holds_against_a_light_wind() {
    let p = pipe(0.630, 17.0, 12.0, 0.0);
    let moved = |wind: f64| {
        let mut world = World::new(WorldSettings {
            wind_m_per_s: Vector::X * wind as f32,
            drag_coefficient: 1.2,
            ..WorldSettings::default()
        });
        let rails = Touching {
            friction: 0.6,
            rolling_lever_arm_m: 0.002,
        };
        add_rails(&mut world, 0.0, rails);
        let stick = world.add_stick(&p, on_slope(0.0, 0.0, p.radius_m(), 0.0));
        run(&mut world, 20.0);
        world.stick(stick).pose.translation.x > 0.05
    };
    let c_rr = 0.002 / p.radius_m();
    let want = sqrt(2.0 * c_rr * p.mass_kg() * G / (1.225 * 1.2 * 0.630 * 12.0));
    let got = threshold(0.8 * want, 1.2 * want, 0.005 * want, moved);
    assert!(
        percent(got, want).abs() < 2.0,
        "starts at {got:.3}, not {want:.3} m/s"
    );
}

/// A body that leaves the finite numbers ends the run as a fault, and nothing moves after it.
#[test]
fn a_non_finite_stick_is_a_fault_and_not_a_result() {
    for bad in [f32::NAN, f32::INFINITY] {
        let p = pipe_36();
        let mut world = World::new(WorldSettings::default());
        add_rails(&mut world, 0.0, touching(0.6));
        let stick = world.add_stick(&p, on_slope(0.0, 0.0, p.radius_m(), 0.0));
        run(&mut world, 0.1);
        world.set_motion(stick, Vector::X * bad, Vector::ZERO);
        world.step();
        assert!(world.fault().is_some(), "{bad} went unnoticed");
        let tick = world.tick();
        world.step();
        assert_eq!(world.tick(), tick, "it goes on after a fault");
    }
}
