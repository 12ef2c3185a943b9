//! Corners of the ranges: every formula answers with a number, and rises or falls where the
//! subject says it must.

use chockline::domain::beam::{NamedSpacing, SupportedBeam};
use chockline::domain::edge::RunOut;
use chockline::domain::layout::SetOut;
use chockline::domain::material::{apparent_modulus_pa, modulus_temperature_factor};
use chockline::domain::math::{cos, rad, tan};
use chockline::domain::oval::Oval;
use chockline::domain::pipe::{
    IPS_SIZES_IN, METRIC_SIZES_MM, MetricStandard, Pipe, SizeSystem, Wall,
};
use chockline::domain::rolling::{Roller, no_slip_limit_rad, wind_drag_n};
use chockline::domain::step::{
    SeparatorWindow, corner_angle_rad, pin_reach_m, row_length_that_lifts, static_stop_height_m,
};
use chockline::domain::vcradle::VCradle;
use proptest::prelude::*;

fn size() -> impl Strategy<Value = SizeSystem> {
    prop_oneof![
        prop::sample::select(&IPS_SIZES_IN[..]).prop_map(|size_in| SizeSystem::Ips { size_in }),
        (
            prop::sample::select(&METRIC_SIZES_MM[..]),
            prop::sample::select(vec![MetricStandard::AsNzs4130, MetricStandard::Iso4427])
        )
            .prop_map(|(dn_mm, standard)| SizeSystem::Metric { dn_mm, standard }),
    ]
}

fn pipe() -> impl Strategy<Value = Pipe> {
    (size(), 7.0..=41.0, 2.0..=30.0, 0.0..=0.15).prop_map(|(size, ratio, length_m, ovality)| Pipe {
        ovality,
        ..Pipe::from_size(size, Wall::Ratio(ratio), length_m).unwrap()
    })
}

fn roller() -> impl Strategy<Value = Roller> {
    (0.15..=1.05, 0.5..=1.0).prop_map(|(radius_m, shape_factor)| Roller {
        radius_m,
        shape_factor,
    })
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn inv_every_pipe_has_sound_mass_and_inertia(pipe in pipe()) {
        prop_assert!(pipe.check().is_ok());
        prop_assert!(pipe.mass_kg() > 0.0 && pipe.mass_kg().is_finite());
        prop_assert!((0.5..1.0).contains(&pipe.shape_factor()));
        prop_assert!(pipe.inner_radius_m() > 0.0);
        let inertia = pipe.principal_inertia();
        prop_assert!(inertia.tube_axis_kg_m2 > 0.0);
        // The long axis lies nearer to the material; bodies obey the triangle rule.
        prop_assert!(inertia.long_axis_kg_m2 <= inertia.short_axis_kg_m2);
        prop_assert!(
            inertia.short_axis_kg_m2 < inertia.long_axis_kg_m2 + inertia.tube_axis_kg_m2
        );
        let lying = pipe.lying_ovality(300e6, 0.45);
        prop_assert!(lying > pipe.ovality && lying.is_finite());
    }

    #[test]
    fn inv_a_thicker_wall_is_heavier_stiffer_and_rolls_more_readily(
        size in size(), ratio in 8.0..=41.0, thicker in 0.5..=1.0,
    ) {
        let make = |ratio| Pipe::from_size(size, Wall::Ratio(ratio), 12.0).unwrap();
        let (thin, thick) = (make(ratio), make(ratio - thicker));
        // Published walls break the order of neighbouring ratios by up to 4 %: look past them.
        prop_assume!(thick.wall_min_m > thin.wall_min_m);
        prop_assert!(thick.mass_kg() > thin.mass_kg());
        prop_assert!(thick.shape_factor() < thin.shape_factor());
        prop_assert!(thick.second_moment_of_area_m4() > thin.second_moment_of_area_m4());
        prop_assert!(thick.own_weight_ovality(3e8, 0.45) < thin.own_weight_ovality(3e8, 0.45));
    }

    #[test]
    fn inv_no_number_at_all_panics_a_constructor(bits: u64, other: u64) {
        // Any bit pattern: infinities, not-a-number, subnormals.
        let (a, b) = (f64::from_bits(bits), f64::from_bits(other));
        let ips = SizeSystem::Ips { size_in: 24 };
        for wall in [Wall::Ratio(a), Wall::Minimum { wall_m: a }] {
            if let Ok(pipe) = Pipe::from_size(ips, wall, b) {
                prop_assert!(pipe.mass_kg().is_finite());
            }
        }
        let _ = SupportedBeam::new(a, b, a, b);
        let _ = SetOut::plan(a, b, a);
        let _ = VCradle::new(a, b);
        let _ = VCradle::symmetric(a);
        let _ = VCradle::from_tips(a, b);
        let _ = apparent_modulus_pa(a);
        let _ = modulus_temperature_factor(a);
        let roller = Roller { radius_m: a, shape_factor: b };
        let _ = roller.critical_pitch_rad(b, a, b);
    }

    #[test]
    fn inv_modulus_falls_with_time_and_with_temperature(
        (sooner, later) in (0.5..=438_000.0, 0.5..=438_000.0),
        (one, two) in (-29.0..=60.0, -29.0..=60.0),
    ) {
        let (sooner, later): (f64, f64) = (f64::min(sooner, later), f64::max(sooner, later));
        prop_assert!(apparent_modulus_pa(sooner).unwrap() >= apparent_modulus_pa(later).unwrap());
        let (cold, warm) = (f64::min(one, two), f64::max(one, two));
        prop_assert!(
            modulus_temperature_factor(cold).unwrap() >= modulus_temperature_factor(warm).unwrap()
        );
    }

    #[test]
    fn inv_a_steeper_rack_is_faster_and_resistance_slower(
        roller in roller(), pitch in 0.0..=0.25, more in 1e-4..=0.1, resistance in 0.0..=0.02,
    ) {
        let a = roller.acceleration_m_per_s2(pitch, resistance);
        prop_assert!(roller.acceleration_m_per_s2(pitch + more, resistance) > a);
        prop_assert!(roller.acceleration_m_per_s2(pitch, resistance + 1e-3) < a);
        prop_assert!(no_slip_limit_rad(0.1, roller.shape_factor) < no_slip_limit_rad(0.2, roller.shape_factor));
    }

    #[test]
    fn inv_no_settling_or_collision_makes_energy(
        roller in roller(), speed in 0.0..=3.0, surface in -3.0..=3.0, restitution in 0.0..=1.0,
    ) {
        let k = roller.shape_factor;
        let settled = roller.settled_speed_m_per_s(speed, surface);
        prop_assert!((1.0 + k) * settled * settled <= speed * speed + k * surface * surface + 1e-12);
        let after = roller.collide_and_settle(speed, restitution);
        let energy = |v: f64| roller.rolling_energy_j(1.0, v);
        prop_assert!(
            energy(after.striker_m_per_s) + energy(after.struck_m_per_s) <= energy(speed) + 1e-12
        );
        // Settled from a spin the striker may catch up at no bounce, but never runs backwards.
        prop_assert!(after.striker_m_per_s >= 0.0 && after.struck_m_per_s >= 0.0);
    }

    #[test]
    fn inv_a_higher_stop_asks_for_more_and_a_steeper_rack_for_less(
        roller in roller(), part in 0.01..=0.95, pitch in 0.0..=0.25,
    ) {
        let r = roller.radius_m;
        let speed = roller.jump_speed_m_per_s(part * r, pitch);
        prop_assert!(speed.is_finite() && speed >= 0.0);
        prop_assert!(roller.jump_speed_m_per_s((part + 0.05) * r, pitch) >= speed);
        prop_assert!(roller.jump_speed_m_per_s(part * r, pitch + 0.01) <= speed);
        prop_assert!((0.0..=1.0).contains(&roller.speed_kept_at_stop(part * r)));
        prop_assert!(roller.corner_hold_speed_m_per_s(part * r, pitch).is_finite());
        let at_rest = static_stop_height_m(r, pitch);
        prop_assert_eq!(part * r <= at_rest, speed == 0.0);
        prop_assert!(roller.energy_fraction_at_stop(0.5, part * r, pitch) > 0.0);
    }

    #[test]
    fn inv_the_critical_pitch_falls_with_the_run_and_rises_with_stop_and_resistance(
        roller in roller(), part in 0.02..=0.9, run in 0.1..=10.0, resistance in 0.0..=0.01,
    ) {
        let at = |part: f64, run: f64, resistance: f64| {
            roller.critical_pitch_rad(part * roller.radius_m, run, resistance).unwrap()
        };
        let pitch = at(part, run, resistance);
        prop_assert!(pitch > 0.0 && pitch <= corner_angle_rad(roller.radius_m, part * roller.radius_m));
        prop_assert!(at(part, run * 1.5, resistance) <= pitch);
        prop_assert!(at(part + 0.05, run, resistance) >= pitch);
        prop_assert!(at(part, run, resistance + 0.005) >= pitch);
    }

    #[test]
    fn inv_a_separator_window_closes_as_the_pin_rises(
        r in 0.15..=1.05f64, gate in 0.05..=0.95, pin in 0.05..=0.9f64,
    ) {
        let window = SeparatorWindow::new(r, gate * r, pin * r);
        let higher = SeparatorWindow::new(r, gate * r, (pin + 0.05) * r);
        prop_assert!(window.from_m < higher.from_m && higher.to_m < window.to_m);
        // Its middle is that of the gap between the two sticks, whatever the pin.
        let middle = (window.from_m + window.to_m) / 2.0;
        prop_assert!((middle - (higher.from_m + higher.to_m) / 2.0).abs() < 1e-12);
        // And the widest pin that fits reaches just that high.
        let widest = window.to_m - window.from_m;
        prop_assert!(window.clearance_m(middle, widest).abs() < 1e-12);
        prop_assert!((pin_reach_m(r, widest) - pin * r).abs() < 1e-9);
    }

    #[test]
    fn inv_a_steeper_rack_lifts_with_a_shorter_row(
        pitch in 0.001..=0.2, beta in 0.01..=1.5,
    ) {
        let n = row_length_that_lifts(pitch, beta);
        prop_assert!(n.is_finite() && n > 0.0);
        prop_assert!(row_length_that_lifts(pitch + 0.01, beta) < n);
    }

    #[test]
    fn inv_a_v_carries_the_weight_and_lets_go_only_at_its_face(
        rack in 0.05..=1.3, outer in 0.05..=1.3, lean in -0.04..=0.04, mass in 100.0..=6000.0,
    ) {
        let v = VCradle::new(rack, outer).unwrap();
        let leaning = v.leaning(lean);
        let forces = leaning.face_forces(mass);
        prop_assert!(forces.rack_face_n > 0.0 && forces.outer_face_n > 0.0);
        let upwards = forces.rack_face_n * cos(leaning.rack_face_rad)
            + forces.outer_face_n * cos(leaning.outer_face_rad);
        prop_assert!((upwards / mass - 1.0).abs() < 1e-9);
        let past = v.leaning(v.roll_out_lean_rad() + 0.01).face_forces(mass);
        prop_assert!(past.rack_face_n < 0.0);
        prop_assert!(v.slide_tilt_one_free_rad(0.2) < v.slide_tilt_both_hold_rad(0.2));
        // Wings longer than needed only add.
        let r = 0.4;
        let wing = v.wing_length_needed_m(r);
        prop_assert!(v.escape_rise_m(r, wing + 0.05) > v.escape_rise_m(r, wing));
        prop_assert!(v.escape_energy_j(mass, r, wing) > 0.0);
    }

    #[test]
    fn inv_an_edge_is_left_sooner_and_reached_farther_by_a_faster_stick(
        roller in roller(), speed in 0.0..=4.0, height in 0.0..=3.0,
    ) {
        let leaves = roller.leaves_edge_rad(speed);
        // A hoop from rest leaves last, at 60°.
        prop_assert!((0.0..=rad(60.0) + 1e-12).contains(&leaves));
        prop_assert!(roller.leaves_edge_rad(speed + 0.1) <= leaves);
        if let Some(fall) = roller.fall_from_edge(speed, height) {
            for number in [fall.time_s, fall.reach_m, fall.across_m_per_s, fall.down_m_per_s] {
                prop_assert!(number.is_finite() && number >= 0.0);
            }
            let farther = roller.fall_from_edge(speed + 0.1, height).unwrap();
            prop_assert!(farther.reach_m > fall.reach_m);
        }
    }

    #[test]
    fn inv_a_run_out_ends_exactly_where_resistance_beats_the_slope(
        roller in roller(), speed in 0.1..=4.0, slope in -0.2..=0.2, resistance in 0.0..=0.1f64,
    ) {
        let stops = resistance > tan(slope);
        prop_assume!((resistance - tan(slope)).abs() > 1e-9);
        match roller.run_out(speed, slope, resistance) {
            RunOut::Stops { distance_m } => {
                prop_assert!(stops && distance_m > 0.0 && distance_m.is_finite());
            }
            RunOut::DoesNotStop => prop_assert!(!stops),
        }
    }

    #[test]
    fn inv_a_rounder_stick_or_a_steeper_rack_needs_less_of_a_nudge(
        r in 0.15..=1.05, ovality in 0.001..=0.15, part in 0.0..=0.9,
    ) {
        let oval = |ovality: f64| Oval {
            long_m: r * (1.0 + ovality / 2.0),
            short_m: r * (1.0 - ovality / 2.0),
        };
        let this = oval(ovality);
        let limit = this.hang_angle_rad();
        // Slope in per cent about its ovality in per cent.
        prop_assert!((limit / ovality - 1.0).abs() < 0.01);
        let barrier = this.barrier_energy_j(1000.0, part * limit);
        prop_assert!(barrier > 0.0 && barrier.is_finite());
        prop_assert!(this.barrier_energy_j(1000.0, (part + 0.1) * limit) < barrier);
        prop_assert!(oval(ovality * 1.1).barrier_energy_j(1000.0, part * limit) > barrier);
        prop_assert_eq!(this.barrier_energy_j(1000.0, limit * 1.01), 0.0);
        let (stable, unstable) = this.balance_phases_rad(part * limit).unwrap();
        prop_assert!(stable < unstable);
    }

    #[test]
    fn inv_a_planned_set_out_is_in_order_and_its_gap_is_the_one_asked_for(
        length in 2.0..=30.0, gap in 0.0..=5.0, half in 0.1..=10.0,
    ) {
        let set_out = SetOut::plan(length, gap, half).unwrap();
        prop_assert!((set_out.loading_gap_m() - gap).abs() < 1e-9);
        prop_assert!((set_out.advance_m() - gap - half).abs() < 1e-9);
        prop_assert!(set_out.far_cradle_z_m() < set_out.near_cradle_z_m());
        prop_assert!(set_out.near_cradle_z_m() < set_out.jaws_z_m());
        // A sound plan is one whose tail stays on.
        prop_assert_eq!(set_out.findings().is_empty(), set_out.tail_overhang_m() >= 0.3);
    }

    #[test]
    fn inv_a_beam_s_numbers_scale_with_its_load(
        length in 2.0..=30.0, part in 0.1..=1.0, load in 1.0..=5000.0, rigidity in 1e4..=1e9,
    ) {
        let make = |load| SupportedBeam::new(length, part * length, load, rigidity).unwrap();
        let (one, two) = (make(load), make(2.0 * load));
        for (a, b) in [
            (one.mid_sag_m(), two.mid_sag_m()),
            (one.end_droop_m(), two.end_droop_m()),
            (one.end_slope_rad(), two.end_slope_rad()),
            (one.mid_moment_n_m(), two.mid_moment_n_m()),
            (one.support_moment_n_m(), two.support_moment_n_m()),
        ] {
            prop_assert!(a.is_finite() && (b - 2.0 * a).abs() <= 1e-12 * b.abs());
        }
        // Nothing sags less, at worst point, than at the spacing of least sag.
        let worst = |part: f64| {
            let beam = SupportedBeam::new(length, part * length, load, rigidity).unwrap();
            beam.mid_sag_m().abs().max(beam.end_droop_m().abs())
        };
        prop_assert!(worst(NamedSpacing::LeastSag.fraction()) <= worst(part) * (1.0 + 1e-9));
    }

    #[test]
    fn inv_wind_grows_with_its_square(d in 0.3..=2.1, length in 2.0..=30.0, wind in 0.0..=40.0) {
        let (one, two) = (wind_drag_n(0.7, d, length, wind), wind_drag_n(0.7, d, length, 2.0 * wind));
        prop_assert!((two - 4.0 * one).abs() <= 1e-9 * two);
    }
}
