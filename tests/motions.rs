//! The motions of cradles, receiver and rack: how fast, how strong, how they stop, and what each fault
//! does to them.

mod common;

use chockline::domain::math::{deg, rad};
use chockline::domain::rig::End;
use chockline::domain::spec::{Coupler, EscapementKind, LineSpec, Motion, MotionFaults};
use chockline::operator::{Habits, Operator, Worker};
use chockline::sim::controls::{Button, Call, Controls};
use chockline::sim::line::{EventKind, Line, StickPlace};
use chockline::sim::world::StickId;
use common::lines;

const TICKS_PER_S: f64 = 240.0;

fn spec() -> LineSpec {
    lines::line(
        lines::pipe(0.6096, 17.0, 0.0),
        1,
        5.0,
        EscapementKind::PinPair,
    )
}

fn hold(line: &mut Line, buttons: &[Button], time_s: f64) {
    let controls = Controls::held(buttons.iter().copied());
    for _ in 0..(time_s * TICKS_PER_S) as usize {
        line.tick(&controls);
    }
}

/// A line whose stick an expert has seated in the cradles, standing still.
fn seated(spec: &LineSpec) -> Line {
    let mut line = Line::build(spec);
    let mut expert = Worker::new(Habits {
        checks: false,
        ..Habits::SOUND
    });
    while line.place(StickId(0)) != StickPlace::Seated {
        assert!(line.time_s() < 30.0, "not seated: {:?}", line.events());
        let controls = expert.controls(&line);
        line.tick(&controls);
    }
    hold(&mut line, &[Button::ReceiverDown], 2.0);
    hold(&mut line, &[], 1.0);
    line
}

/// A line with one fault of one motion.
fn with_fault(motion: Motion, faults: MotionFaults) -> LineSpec {
    let mut spec = spec();
    *spec.faults.motion_mut(motion) = faults;
    spec
}

/// How far each motion goes while its outward button is held for a second on an empty line.
fn goes(spec: &LineSpec, motion: Motion, time_s: f64) -> f64 {
    let mut spec = spec.clone();
    spec.receiver.starts_up = false;
    let mut line = Line::build(&spec);
    let button = match motion {
        Motion::Receiver => Button::ReceiverUp,
        Motion::LiftNear => Button::LiftNearUp,
        Motion::LiftFar => Button::LiftFarUp,
        Motion::ShiftNear => Button::ShiftNearOut,
        Motion::ShiftFar => Button::ShiftFarOut,
        Motion::Turn => Button::TurnOut,
        Motion::Advance => Button::AdvanceOn,
    };
    let place = |line: &Line| match motion {
        Motion::Receiver => -line.receiver_lowered_m(),
        Motion::LiftNear => line.raised_m(End::Near),
        Motion::LiftFar => line.raised_m(End::Far),
        Motion::ShiftNear => line.cradle_off_m(End::Near),
        Motion::ShiftFar => line.cradle_off_m(End::Far),
        Motion::Turn => line.roller_speeds_m_per_s()[1],
        Motion::Advance => line.roller_speeds_m_per_s()[0],
    };
    // Room to go either way.
    if matches!(motion, Motion::LiftNear | Motion::LiftFar) {
        let up = if spec.faults.motion(motion).crossed {
            Button::LiftBothDown
        } else {
            Button::LiftBothUp
        };
        hold(&mut line, &[up], 3.0);
        hold(&mut line, &[], 1.0);
    }
    let before = place(&line);
    hold(&mut line, &[button], time_s);
    place(&line) - before
}

#[test]
fn every_motion_follows_its_button_and_holds_without() {
    for motion in Motion::ALL {
        let sound = goes(&spec(), motion, 1.0);
        assert!(sound > 0.0, "{motion:?} goes {sound}");
    }
}

#[test]
fn a_crossed_pair_goes_against_its_arrow_and_only_that_one() {
    for motion in Motion::ALL {
        let crossed = with_fault(
            motion,
            MotionFaults {
                crossed: true,
                ..MotionFaults::default()
            },
        );
        let back = goes(&crossed, motion, 1.0);
        // The receiver stands at its lower end already.
        let least = if motion == Motion::Receiver {
            1e-9
        } else {
            -0.005
        };
        assert!(back < least, "{motion:?} goes {back}");
        for other in Motion::ALL.into_iter().filter(|&other| other != motion) {
            assert_eq!(
                goes(&crossed, other, 0.5),
                goes(&spec(), other, 0.5),
                "{other:?}"
            );
        }
    }
}

#[test]
fn a_half_latched_coupler_is_slow_and_an_open_one_dead() {
    for motion in Motion::ALL {
        let [half, off] = [Coupler::Half, Coupler::Off].map(|coupler| {
            let faults = MotionFaults {
                coupler,
                ..MotionFaults::default()
            };
            goes(&with_fault(motion, faults), motion, 1.0)
        });
        let sound = goes(&spec(), motion, 1.0);
        assert!(
            half > 0.0 && half < 0.35 * sound,
            "{motion:?}: {half} of {sound}"
        );
        assert_eq!(off, 0.0, "{motion:?}");
    }
}

#[test]
fn dirt_makes_a_motion_start_and_stop_late() {
    let dirt = with_fault(
        Motion::LiftNear,
        MotionFaults {
            sticks_s: 0.5,
            ..MotionFaults::default()
        },
    );
    let after = |spec: &LineSpec, held_s: f64, waited_s: f64| {
        let mut line = Line::build(spec);
        hold(&mut line, &[Button::LiftNearUp], held_s);
        let while_held = line.raised_m(End::Near);
        hold(&mut line, &[], waited_s);
        (while_held, line.raised_m(End::Near))
    };
    assert_eq!(after(&dirt, 0.45, 0.0).0, 0.0, "starts late");
    let (held, left) = after(&dirt, 2.0, 2.0);
    assert!(left - held > 0.015, "runs on by {} m", left - held);
    let (held, left) = after(&spec(), 2.0, 2.0);
    // 0.04 m/s stopped within 0.1 s: 2 mm.
    assert!(
        left - held < 0.003,
        "a sound one stops within {} m",
        left - held
    );
}

#[test]
fn a_leak_lets_a_loaded_lift_sink_and_leaves_an_empty_one() {
    let leaking = with_fault(
        Motion::LiftFar,
        MotionFaults {
            creep_m_per_s: 0.002,
            ..MotionFaults::default()
        },
    );
    let mut line = seated(&leaking);
    hold(&mut line, &[Button::LiftBothUp], 8.0);
    hold(&mut line, &[], 1.0);
    let before = line.raised_m(End::Far);
    hold(&mut line, &[], 10.0);
    let sunk = before - line.raised_m(End::Far);
    assert!((sunk - 0.020).abs() < 0.001, "sinks by {sunk} m in 10 s");
    assert!(
        deg(line.tilt_rad(StickId(0))) > 0.1,
        "the near end stands high"
    );
}

#[test]
fn air_in_a_hose_gives_under_load() {
    let spongy = with_fault(
        Motion::LiftNear,
        MotionFaults {
            air_m: 0.1,
            ..MotionFaults::default()
        },
    );
    let height = |spec: &LineSpec| {
        let mut line = seated(spec);
        hold(&mut line, &[Button::LiftBothUp], 6.0);
        hold(&mut line, &[], 2.0);
        line.axis_at(StickId(0), line.rig().cradle_z_m(End::Near))
            .y_m
            - line
                .axis_at(StickId(0), line.rig().cradle_z_m(End::Far))
                .y_m
    };
    // Half the weight, 3.9 kN of 60 kN, presses 0.1 m of give by 6.5 mm, and the start is late.
    let low = height(&spec()) - height(&spongy);
    assert!(low > 0.006, "hangs back by {low} m");
}

#[test]
fn a_lift_stalls_over_its_force_and_slows_under_load() {
    let lifted = |force_n: f64| {
        let mut spec = spec();
        spec.cradles.lift_force_n = force_n;
        let mut line = seated(&spec);
        hold(&mut line, &[Button::LiftBothUp], 3.0);
        (line.raised_m(End::Near), line.is_stalled())
    };
    // Each carries 3.9 kN.
    let (strong, weak) = (lifted(60.0e3), lifted(8.0e3));
    assert!(!strong.1 && !weak.1);
    assert!(weak.0 < 0.65 * strong.0, "{weak:?} against {strong:?}");
    let (way, stalled) = lifted(3.5e3);
    assert!(stalled && way < 0.01, "lifts {way} m with too little force");
}

#[test]
fn the_emergency_stop_isolation_and_a_power_failure_hold_every_lift() {
    let stopped = Controls {
        emergency_stop: true,
        ..Controls::held([Button::LiftBothUp])
    };
    let isolated = Controls {
        isolated: true,
        ..Controls::held([Button::LiftBothUp])
    };
    for controls in [stopped, isolated] {
        let mut line = seated(&spec());
        hold(&mut line, &[Button::LiftBothUp], 4.0);
        let before = line.raised_m(End::Near);
        for _ in 0..480 {
            line.tick(&controls);
        }
        let on = line.raised_m(End::Near) - before;
        assert!(on < 0.005, "runs on by {on} m");
        assert!(line.cradle_load_n(End::Near) > 3000.0, "still carried");
    }
    let mut fails = spec();
    fails.faults.power_fails_s = Some(0.5);
    let mut line = Line::build(&fails);
    hold(&mut line, &[Button::LiftBothUp], 3.0);
    assert!(line.raised_m(End::Near) < 0.025);
}

#[test]
fn contradictory_buttons_hold() {
    for (out, back) in [
        (Button::LiftNearUp, Button::LiftNearDown),
        (Button::LiftBothUp, Button::LiftBothDown),
        (Button::ReceiverUp, Button::ReceiverDown),
        (Button::ShiftFarOut, Button::ShiftFarIn),
        (Button::TurnIn, Button::TurnOut),
        (Button::AdvanceOn, Button::AdvanceBack),
        (Button::JackNearUp, Button::JackNearDown),
    ] {
        let mut plain = Line::build(&spec());
        let mut pressed = Line::build(&spec());
        hold(&mut plain, &[], 1.0);
        hold(&mut pressed, &[out, back], 1.0);
        assert_eq!(plain.hash(), pressed.hash(), "{out:?} and {back:?}");
    }
}

/// Pressure over modulus (Winkler): bare feet of a column on soft ground sink, the more loaded one
/// more; and a rail's pitch falls by what its foot sinks over its length.
#[test]
fn soft_ground_without_pads_leans_columns_and_flattens_rails() {
    let mut soft = spec();
    soft.ground.subgrade_n_per_m3 = 8.0e6;
    soft.cradles.far.outer_foot.padded = false;
    soft.rack.near_rail.foot.padded = false;
    let mut line = seated(&soft);
    hold(&mut line, &[], 30.0);
    // Half of 3.9 kN on 0.0225 m² is 86 kPa over 8 MN/m³: 10.8 mm; on its pad 0.7 mm; over 1 m.
    let lean = deg(line.column_lean_rad(End::Far));
    assert!((0.4..0.8).contains(&lean), "leans {lean} deg");
    assert!(deg(line.column_lean_rad(End::Near)).abs() < 0.02);

    let row = LineSpec {
        sticks: vec![soft.sticks[0]; 4],
        ..soft.clone()
    };
    let mut loaded = row.clone();
    loaded.rack.length_m = 5.0 * 0.6096;
    let mut line = Line::build(&loaded);
    hold(&mut line, &[], 30.0);
    let (near, far) = (line.pitch_rad(End::Near), line.pitch_rad(End::Far));
    assert!(
        deg(far - near) > 0.3,
        "near {} far {} deg",
        deg(near),
        deg(far)
    );
    assert!((deg(far) - 5.0).abs() < 0.1);
    let firm = Line::build(&spec());
    assert_eq!(deg(firm.pitch_rad(End::Near)), deg(rad(5.0)));
}

#[test]
fn jacks_crank_the_pitch_and_a_wrong_inclinometer_shows_something_else() {
    let mut wrong = spec();
    wrong.faults.near.inclinometer_error_rad = rad(1.0);
    let mut line = Line::build(&wrong);
    hold(&mut line, &[Button::JackNearUp], 5.0);
    // 10 mm/s for 5 s over 1.524 m: 1.9°.
    let raised = deg(line.pitch_rad(End::Near)) - 5.0;
    assert!((raised - 1.89).abs() < 0.1, "{raised} deg");
    assert!((deg(line.pitch_rad(End::Far)) - 5.0).abs() < 0.01);
    let shows = deg(line.inclinometer_rad(End::Near) - line.pitch_rad(End::Near));
    assert!((shows - 1.0).abs() < 1.0e-9);
}

#[test]
fn a_stuck_gate_pin_stays_where_it_stands() {
    let mut stuck = spec();
    stuck.faults.near.gate_stuck = true;
    let mut line = Line::build(&stuck);
    hold(&mut line, &[], 1.0);
    hold(&mut line, &[Button::Feed], 4.0);
    assert_eq!(line.gate_fractions(), [1.0, 0.0]);
}

#[test]
fn a_seized_roller_slows_what_advances_and_may_stop_it() {
    let advanced = |seized: bool, force_n: f64| {
        let mut spec = spec();
        spec.faults.roller_seized = seized;
        spec.cradles.advance_force_n = force_n;
        let mut line = seated(&spec);
        let before = line.stick(StickId(0)).pose.translation.z;
        hold(&mut line, &[Button::AdvanceOn], 2.5);
        (
            line.stick(StickId(0)).pose.translation.z - before,
            line.is_stalled(),
        )
    };
    let (sound, seized, weak) = (
        advanced(false, 10.0e3),
        advanced(true, 10.0e3),
        advanced(true, 2.0e3),
    );
    assert!(sound.0 > 0.3, "{sound:?} {seized:?} {weak:?}");
    assert!(seized.0 < 0.9 * sound.0, "{seized:?} against {sound:?}");
    assert!(weak.1, "{weak:?}");
}

/// A stick whose front comes in too low strikes the end of the machine's rest instead of gliding
/// over it.
#[test]
fn a_low_front_strikes_the_machine() {
    let gap_after = |raise_s: f64| {
        let mut line = seated(&spec());
        hold(&mut line, &[Button::LiftBothUp], raise_s);
        hold(&mut line, &[], 1.0);
        hold(&mut line, &[Button::AdvanceOn], 16.0);
        line.front_end(StickId(0)).gap_m
    };
    // The centreline is reached after about 9 s.
    assert!(gap_after(7.0) > 1.0, "{} m from the string", gap_after(7.0));
    assert!(gap_after(9.5) < 0.1, "{} m from the string", gap_after(9.5));
}

/// Beyond the far cradle nothing carries the tail: advanced so far that it leaves the cradle before
/// the front lies on the rest, the stick tips and falls.
#[test]
fn a_machine_too_far_away_loses_the_tail() {
    let lost = |further_m: f64| {
        let mut spec = spec();
        spec.machine.near_cradle_to_jaws_m += further_m;
        let mut line = seated(&spec);
        hold(&mut line, &[Button::LiftBothUp], 9.2);
        hold(&mut line, &[], 1.0);
        for _ in 0..60 {
            hold(&mut line, &[Button::AdvanceOn], 1.0);
        }
        line.events()
            .iter()
            .any(|event| matches!(event.kind, EventKind::Lost { .. }))
    };
    assert!(!lost(0.0));
    assert!(lost(5.0));
}

/// Controls are read back as they were written; a button that there is not is refused, and so is
/// anything else that is not a control.
#[test]
fn controls_out_of_range_are_refused() {
    let some = Controls {
        isolated: true,
        call: Some(Call::Load),
        ..Controls::held([Button::Feed, Button::JackFarDown])
    };
    let text = serde_json::to_string(&some).unwrap();
    assert_eq!(serde_json::from_str::<Controls>(&text).unwrap(), some);
    for bad in [
        r#"{"held":["FeedTwice"]}"#,
        r#"{"held":[99]}"#,
        r#"{"held":"Feed"}"#,
        r#"{"emergency_stop":2}"#,
        r#"{"call":"Dance"}"#,
        r#"{"throttle":1.5}"#,
    ] {
        assert!(serde_json::from_str::<Controls>(bad).is_err(), "{bad}");
    }
}

/// What is pressed after a run has ended moves nothing that a fork without it would not move.
#[test]
fn a_run_that_ends_with_buttons_held_ends_at_rest() {
    let mut line = seated(&spec());
    hold(&mut line, &[Button::LiftBothUp], 2.0);
    hold(&mut line, &[], 1.0);
    let mut released = line.fork();
    let mut stopped = line.fork();
    hold(&mut released, &[], 2.0);
    let everything = Controls {
        isolated: true,
        ..Controls::held(Button::ALL.into_iter().filter(|button| {
            // Jacks are cranked by hand, and the horn is no motion.
            !format!("{button:?}").starts_with("Jack") && *button != Button::Horn
        }))
    };
    for _ in 0..480 {
        stopped.tick(&everything);
    }
    assert_eq!(released.raised_m(End::Near), stopped.raised_m(End::Near));
    assert_eq!(released.receiver_lowered_m(), stopped.receiver_lowered_m());
    assert_eq!(released.gate_fractions(), stopped.gate_fractions());
}
