//! The row chocks: set and taken away by the rigger, and what they hold by statics.

#[path = "common/crew.rs"]
mod crew;
#[path = "common/lines.rs"]
mod lines;

use chockline::domain::math::{acos, deg, rad};
use chockline::domain::rig::{End, Rig};
use chockline::domain::rolling::Roller;
use chockline::domain::spec::{Duty, EscapementKind, Hand, LineSpec, Surface};
use chockline::domain::step::{corner_angle_rad, row_length_that_lifts, static_stop_height_m};
use chockline::sim::controls::{Button, Call, Controls};
use chockline::sim::line::{Chocks, Line, StickPlace};
use chockline::sim::world::StickId;
use crew::{Shift, at, close, person};
use lines::{INCH_M, line, pipe};

const FIRST: StickId = StickId(0);

/// When everybody has done with chocking, s.
const CHOCKED_S: f64 = 70.0;

/// A row with a rigger at hand, fed after the call, with nothing to hold the sticks back but the
/// chocks: no separator, and the gate open.
fn fed_on_to_the_chocks(mut spec: LineSpec, call: Option<Call>) -> Shift {
    spec.faults.near.separator_missing = true;
    spec.faults.far.separator_missing = true;
    spec.people = vec![person(Duty::Rigger, at(-3.0, 9.0))];
    let mut shift = Shift::new(&spec);
    shift.wait(1.0);
    if let Some(call) = call {
        shift.say(call);
    }
    shift.wait(CHOCKED_S);
    let opens_s = shift.line.rig().spec().escapement.stroke_time_s;
    shift.feed(CHOCKED_S + 2.0 * opens_s + 10.0);
    shift
}

/// A gate that lets the row down on to the chocks so slowly that statics decides.
const SLOW_GATE_S: f64 = 30.0;

fn row(sticks: usize, pitch_deg: f64) -> LineSpec {
    line(
        pipe(24.0 * INCH_M, 17.0, 0.0),
        sticks,
        pitch_deg,
        EscapementKind::PinPair,
    )
}

#[test]
fn a_chocked_row_stays_when_the_gate_opens_and_goes_when_the_chocks_are_taken() {
    assert_ne!(
        fed_on_to_the_chocks(row(3, 5.0), None).line.place(FIRST),
        StickPlace::Held
    );
    let mut shift = fed_on_to_the_chocks(row(3, 5.0), Some(Call::Chock));
    let line = &shift.line;
    assert!(line.chocks().are_set() && line.is_at_rest());
    assert!(line.chocks().hold(line.world(), FIRST));
    for stick in line.sticks() {
        assert_eq!(line.place(stick), StickPlace::Held);
        assert!(line.chocks().is_chocked(line.world(), line.rig(), stick));
    }
    assert!(!line.stick_can_move());
    assert!(line.people().strikes().is_empty());
    // Back where he was, and the chocks away again on demand; the gate is still open.
    assert!(close(shift.person(0).place(), at(-3.0, 9.0), 1e-9));
    let held = Controls::held([Button::Feed]);
    shift.line.tick(&Controls {
        call: Some(Call::Unchock),
        ..held
    });
    shift.hold(150.0, held);
    assert!(shift.line.stick_can_move());
    assert_ne!(shift.line.place(FIRST), StickPlace::Held);
    assert!(shift.line.people().strikes().is_empty());
}

#[test]
fn the_rigger_takes_four_seconds_at_each_rail_and_a_chock_rises_in_half_a_second() {
    let mut spec = row(2, 5.0);
    spec.people = vec![person(Duty::Rigger, at(-3.0, 9.0))];
    let mut shift = Shift::new(&spec);
    shift.wait(1.0);
    shift.say(Call::Chock);
    let rises = |side: usize| move |s: &Shift| s.line.chocks().raised_fractions()[side] > 0.0;
    let near = shift.until(60.0, rises(0)).unwrap();
    let up = shift
        .until(60.0, |s| s.line.chocks().is_set(End::Near))
        .unwrap();
    assert!((up - near - 0.5).abs() < 0.01, "{near} to {up} s");
    let far = shift.until(60.0, rises(1)).unwrap();
    // A second to act, some 3 m to the row's end, and four seconds there.
    assert!((6.0..10.0).contains(&(near - 1.0)), "{near} s");
    // Round the rack's high end.
    assert!((18.0..32.0).contains(&(far - near)), "{far} s");
    // They come up clear of the stick.
    shift.wait(far + 2.0);
    assert!(shift.line.is_at_rest());
    assert!(!shift.line.chocks().hold(shift.line.world(), FIRST));
    assert_eq!(shift.line.place(FIRST), StickPlace::Held);
}

/// With one chock missing friction about the other still holds a stick square on dry rails, as it does
/// about a single gate pin; on frost its free end swings down. It counts as able to move on both.
#[test]
fn a_missing_chock_leaves_the_stick_able_to_move() {
    for (surface, stays) in [(Surface::Dry, true), (Surface::Frosted, false)] {
        let mut spec = row(1, 5.0);
        spec.faults.far.chock_missing = true;
        spec.rack.near_rail.surface = surface;
        spec.rack.far_rail.surface = surface;
        let shift = fed_on_to_the_chocks(spec, Some(Call::Chock));
        let line = &shift.line;
        assert!(line.chocks().is_set(End::Near) && !line.chocks().is_set(End::Far));
        assert!(line.stick_can_move());
        let yaw_deg = deg(line.yaw_rad(FIRST));
        assert_eq!(
            line.place(FIRST) == StickPlace::Held && yaw_deg.abs() < 1.0,
            stays,
            "{surface:?}: yaw {yaw_deg:.2} deg, {:?}",
            line.place(FIRST)
        );
    }
}

/// A chock of height h holds one stick from rest on a slope θ where h > R(1 - cos θ) (statics, see
/// `domain::step`). With a quick gate the few millimetres of gap are a run-up, and the slope that one
/// jumps the chocks from is that of P5. A large stick on chocks of a small setting.
#[test]
fn one_stick_goes_over_its_chocks_beyond_the_static_slope_and_from_a_gap_a_little_sooner() {
    let at_pitch = |pitch_deg: f64, gate_s: f64| {
        let mut spec = line(
            pipe(63.0 * INCH_M, 17.0, 0.0),
            1,
            pitch_deg,
            EscapementKind::PinPair,
        );
        spec.escapement.size_setting_m = 20.0 * INCH_M;
        spec.escapement.stroke_time_s = gate_s;
        spec.contact.friction_dry = 0.6;
        spec
    };
    let rig = Rig::new(&at_pitch(5.0, 1.0));
    let pipe = rig.spec().sticks[0].pipe;
    let (h, r) = (Chocks::height_m(&rig), pipe.radius_m());
    let at_rest_deg = deg(acos(1.0 - h / r));
    assert!((static_stop_height_m(r, rad(at_rest_deg)) - h).abs() < 1e-9);
    let roller = Roller {
        radius_m: r,
        shape_factor: pipe.axial_inertia_kg_m2() / (pipe.mass_kg() * r * r),
    };
    let from_gap_deg = deg(roller.critical_pitch_rad(h, 0.004, 0.002 / r).unwrap());
    for (limit_deg, gate_s) in [(at_rest_deg, SLOW_GATE_S), (from_gap_deg, 0.2)] {
        for (off_deg, holds) in [(-0.7, true), (0.7, false)] {
            let spec = at_pitch(limit_deg + off_deg, gate_s);
            let shift = fed_on_to_the_chocks(spec, Some(Call::Chock));
            assert!(shift.line.chocks().are_set());
            assert_eq!(
                shift.line.place(FIRST) == StickPlace::Held,
                holds,
                "{off_deg} deg from {limit_deg:.2} deg, gate {gate_s} s"
            );
        }
    }
}

/// P6 on the chocks: a smooth row of n lifts its first stick where n tan θ > tan β.
#[test]
fn a_smooth_row_goes_over_its_chocks_beyond_its_length() {
    let smooth = |sticks| {
        let mut spec = row(sticks, 9.0);
        spec.contact.friction_pipe_on_pipe = 0.001;
        spec.contact.friction_dry = 0.001;
        spec.contact.rolling_lever_arm_m = 0.0;
        spec.escapement.stroke_time_s = SLOW_GATE_S;
        spec
    };
    let rig = Rig::new(&smooth(1));
    let beta = corner_angle_rad(12.0 * INCH_M, Chocks::height_m(&rig));
    let most = row_length_that_lifts(rad(9.0), beta);
    for n in 4..=7 {
        let shift = fed_on_to_the_chocks(smooth(n), Some(Call::Chock));
        assert!(shift.line.chocks().are_set());
        let held = shift.line.place(FIRST) == StickPlace::Held;
        assert_eq!(held, (n as f64) < most, "{n} sticks, closed form {most:.2}");
    }
}

#[test]
fn chocks_mirror_and_fork_and_are_in_the_hash() {
    let mut spec = row(2, 5.0);
    spec.people = vec![person(Duty::Rigger, at(-3.0, 9.0))];
    let call = |tick: u64| Controls {
        call: (tick == 100).then_some(Call::Chock),
        ..Controls::default()
    };
    let mut right = Line::build(&spec);
    spec.hand = Hand::Left;
    let mut left = Line::build(&spec);
    for tick in 0..4_000 {
        right.tick(&call(tick));
        left.tick(&call(tick));
        let near = right.chocks().raised_fractions()[0];
        if near > 0.0 && near < 0.02 {
            let mut fork = right.fork();
            assert_eq!(fork.hash(), right.hash());
            let mut original = right.fork();
            for _ in 0..300 {
                fork.tick(&Controls::default());
                original.tick(&Controls::default());
                assert_eq!(fork.hash(), original.hash());
            }
        }
    }
    assert!(right.chocks().is_set(End::Near) && left.chocks().is_set(End::Near));
    let faces = [&right, &left].map(|line| line.chocks().face_m(End::Near));
    assert!((faces[0] - faces[1]).abs() < 1e-4, "{faces:?}");
}

#[test]
fn chocks_out_of_use_change_nothing() {
    let run = |missing: bool| {
        let mut spec = row(3, 6.0);
        spec.faults.near.chock_missing = missing;
        spec.faults.far.chock_missing = missing;
        let mut shift = Shift::new(&spec);
        shift.wait(1.0);
        shift.feed(4.0);
        shift.wait(8.0);
        let line = shift.line;
        let states: Vec<_> = line.sticks().map(|stick| line.stick(stick)).collect();
        states
    };
    assert_eq!(run(true), run(false));
}

/// From either side of the line, for every size: he gets to both rails and back, and never in front of
/// the row.
#[test]
fn the_rigger_gets_to_both_rails_from_either_side_of_any_line() {
    for inches in [20.0, 36.0, 63.0] {
        for (sticks, home) in [(1, at(-3.0, 9.0)), (4, at(-4.0, -8.0)), (2, at(4.0, 1.0))] {
            let pipe = pipe(inches * INCH_M, 17.0, 0.02);
            let mut spec = line(pipe, sticks, 5.0, EscapementKind::PinPair);
            spec.people = vec![person(Duty::Rigger, home)];
            let mut shift = Shift::new(&spec);
            shift.wait(2.0);
            shift.say(Call::Chock);
            let in_front = |s: &Shift| {
                let place = s.person(0).place();
                let front = s.line.stick(FIRST).pose.translation.x.into();
                place.z_m.abs() < 6.0 && (front..2.0).contains(&place.x_m)
            };
            let strayed = shift.until(110.0, in_front);
            assert_eq!(strayed, None, "{inches} in, {sticks} sticks, {home:?}");
            assert!(shift.line.chocks().are_set(), "{inches} in, {home:?}");
            assert_eq!(shift.person(0).place(), home, "{inches} in");
        }
    }
}
