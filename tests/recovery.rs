//! Getting a line going again: the right sequence brings it back, and the wrong one ends as it would.
//! A stick that hangs is in `operators.rs`: freed by the expert, barred from below, jacked under load.

mod common;

use chockline::domain::math::{deg, rad};
use chockline::domain::rig::End;
use chockline::domain::spec::{EscapementKind, LineSpec, Motion, Surface};
use chockline::operator::{Habits, Operator, Worker, run};
use chockline::sim::controls::{Button, Call, Controls};
use chockline::sim::line::{EventKind, Line, StickPlace};
use chockline::sim::world::StickId;
use common::lines;

const STICK: StickId = StickId(0);

fn spec() -> LineSpec {
    let pipe = lines::pipe(24.0 * lines::INCH_M, 17.0, 0.0);
    let mut spec = lines::line(pipe, 2, 5.0, EscapementKind::PinPair);
    spec.machine.joint_time_s = 2.0;
    spec.machine.draw_m_per_s = 2.0;
    lines::crewed(spec)
}

fn hold(line: &mut Line, buttons: &[Button], time_s: f64) {
    let controls = Controls::held(buttons.iter().copied());
    for _ in 0..(time_s * 240.0) as usize {
        line.tick(&controls);
        assert_eq!(line.fault(), None);
    }
}

/// Lets the expert, who checks nothing here, work until a stick is where it is wanted.
fn until(line: &mut Line, place: StickPlace) -> Worker {
    let mut expert = Worker::new(Habits {
        checks: false,
        ..Habits::SOUND
    });
    while line.place(STICK) != place {
        assert!(line.time_s() < 60.0, "{:?}", line.events());
        let controls = expert.controls(line);
        line.tick(&controls);
    }
    expert
}

/// The expert finishes the shift.
fn finish(line: &mut Line, expert: &mut Worker) {
    run(line, expert, line.time_s() + 400.0, |_, _| ()).expect("no fault of the simulation");
    for stick in line.sticks() {
        let events = line.events();
        assert_eq!(line.place(stick), StickPlace::Joined, "{events:?}");
    }
}

fn lost(line: &Line) -> bool {
    let mut events = line.events().iter();
    events.any(|event| matches!(event.kind, EventKind::Lost { .. }))
}

/// Half released: feed is let go in the first moment, the gate closes under the stick, and it lies
/// against it. Feeding once more brings it, and only it.
#[test]
fn a_half_released_stick_comes_with_the_next_feed() {
    let mut line = Line::build(&spec());
    hold(&mut line, &[], 1.0);
    while line.gate_fractions()[0] > 0.5 {
        line.tick(&Controls::held([Button::Feed]));
    }
    hold(&mut line, &[], 6.0);
    assert_eq!(line.place(STICK), StickPlace::Held, "{:?}", line.events());
    let mut expert = Worker::new(Habits::SOUND);
    finish(&mut line, &mut expert);
    assert!(!lost(&line));
}

/// A stick that a rigger waits for with his bar from below, with feed held, comes on him.
#[test]
fn a_stick_waited_for_from_below_strikes_the_rigger() {
    let mut line = Line::build(&spec());
    hold(&mut line, &[], 1.0);
    // He is on his way down there before the feed.
    line.tick(&Controls {
        call: Some(Call::BarFromBelow),
        ..Controls::default()
    });
    hold(&mut line, &[], 14.0);
    hold(&mut line, &[Button::Feed], 8.0);
    let mut events = line.events().iter();
    assert!(
        events.any(|event| matches!(event.kind, EventKind::Struck { .. })),
        "{:?}",
        line.events()
    );
}

/// Crooked: one glazed rail swings the stick on its way in. Lowered gently it is straight in the
/// cradles; the machine takes it.
#[test]
fn a_crooked_stick_is_straight_in_the_cradles() {
    let mut crooked = spec();
    crooked.sticks.truncate(1);
    crooked.rack.far_rail.surface = Surface::Glazed;
    let mut line = Line::build(&crooked);
    let mut expert = until(&mut line, StickPlace::Received);
    let yaw = deg(line.yaw_rad(STICK)).abs();
    assert!(yaw > 1.0, "yaw at the receiver {yaw} deg");
    while line.place(STICK) != StickPlace::Seated {
        assert!(line.time_s() < 90.0, "{:?}", line.events());
        let controls = expert.controls(&line);
        line.tick(&controls);
    }
    hold(&mut line, &[], 2.0);
    let yaw = deg(line.yaw_rad(STICK)).abs();
    assert!(yaw < 0.2, "yaw in the cradles {yaw} deg");
    finish(&mut line, &mut expert);
}

/// One end down: the far lift leaks while the stick is up. Levelled again it goes on; advanced as it
/// is, its high front misses the jaws' reach.
#[test]
fn with_one_end_down_levelling_brings_it_back_and_going_on_does_not() {
    let mut leaking = spec();
    leaking.sticks.truncate(1);
    leaking.faults.motion_mut(Motion::LiftFar).creep_m_per_s = 0.004;
    let raised = || {
        let mut line = Line::build(&leaking);
        let expert = until(&mut line, StickPlace::Seated);
        hold(&mut line, &[Button::ReceiverDown], 3.0);
        hold(&mut line, &[Button::LiftBothUp], 9.0);
        hold(&mut line, &[], 25.0);
        let tilt = line.tilt_rad(STICK);
        assert!(tilt > rad(0.6), "{} deg", deg(tilt));
        (line, expert)
    };
    let (mut line, mut expert) = raised();
    finish(&mut line, &mut expert);

    let (mut line, _) = raised();
    hold(&mut line, &[Button::AdvanceOn], 16.0);
    let front = line.front_end(STICK);
    assert!(!front.is_in_reach(), "{front:?}");
    assert!(line.raised_m(End::Near) > line.raised_m(End::Far) + 0.05);
}
