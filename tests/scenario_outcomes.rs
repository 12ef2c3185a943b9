//! What every shipped scenario comes to, for several seeds. Where a scenario's text claims something,
//! this is the run that gives it.

use std::path::Path;

use chockline::domain::spec::{EscapementKind, Motion, Surface};
use chockline::evidence::{Figures, Outcome};
use chockline::operator::{Feeder, run};
use chockline::scenario::{Scenario, load};
use chockline::sim::controls::{Button, Controls};
use chockline::sim::line::Line;

fn scenario(name: &str) -> Scenario {
    let path = Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("scenarios")
        .join(name);
    load(&path)
        .unwrap_or_else(|error| panic!("{error}"))
        .scenario
}

struct Run {
    outcome: Outcome,
    figures: Figures,
}

fn feed(scenario: &Scenario, seed: u64) -> Run {
    let mut line = Line::build(&scenario.line_for(seed));
    let ending = run(
        &mut line,
        &mut Feeder::default(),
        scenario.time_limit_s,
        |_, _| (),
    )
    .expect("no fault of the simulation");
    let figures = Figures::of(&line);
    Run {
        outcome: Outcome::of(&line, ending, &figures),
        figures,
    }
}

/// Every shipped file, the outcome it is meant to show, and whether that passes it.
const OUTCOMES: [(&str, Outcome); 22] = [
    ("as-found-steep.ron", Outcome::DoubleFeed),
    ("askew.ron", Outcome::OneStick),
    ("crossed-hose.ron", Outcome::OneStick),
    ("first-release.ron", Outcome::OneStick),
    ("first-shift.ron", Outcome::OneStick),
    ("flat-oval.ron", Outcome::Hung),
    ("frosted-rail.ron", Outcome::OneStick),
    ("full-rack.ron", Outcome::OneStick),
    ("glazed-rail.ron", Outcome::OneStick),
    ("hung-behind.ron", Outcome::OneStick),
    ("hung-stick.ron", Outcome::Hung),
    ("left-hand.ron", Outcome::OneStick),
    ("loaded-row.ron", Outcome::OneStick),
    ("missing-pin.ron", Outcome::DoubleFeed),
    ("receiver-down.ron", Outcome::RollOff),
    ("seated-too-fast.ron", Outcome::OneStick),
    ("shortcut.ron", Outcome::OneStick),
    ("small-setting.ron", Outcome::OneStick),
    ("star-wheel.ron", Outcome::OneStick),
    ("steady-feed.ron", Outcome::OneStick),
    ("visitor.ron", Outcome::OneStick),
    ("wrong-size.ron", Outcome::DoubleFeed),
];

#[test]
fn every_shipped_scenario_comes_to_what_it_shows() {
    for (name, want) in OUTCOMES {
        let scenario = scenario(name);
        for seed in 1..=6 {
            let got = feed(&scenario, seed).outcome;
            assert_eq!(got, want, "{name}, seed {seed}");
        }
    }
    let shipped = std::fs::read_dir(Path::new(env!("CARGO_MANIFEST_DIR")).join("scenarios"))
        .expect("the scenarios")
        .filter_map(|entry| entry.ok()?.file_name().into_string().ok())
        .filter(|name| name.ends_with(".ron"))
        .count();
    assert_eq!(
        shipped,
        OUTCOMES.len(),
        "a shipped scenario is missing from this table"
    );
}

/// The milder neighbour of each failing scenario does not fail: it is the cause that shows.
#[test]
fn the_milder_neighbour_of_a_failing_scenario_passes() {
    let gentle_pitch = {
        let mut s = scenario("as-found-steep.ron");
        s.line.rack.near_rail.pitch_rad *= 5.0 / 11.0;
        s.line.rack.far_rail.pitch_rad *= 5.0 / 11.0;
        s
    };
    // At 10° a full row climbs the gate or goes over it, and two sticks do not.
    let at_10_deg = |sticks| {
        let mut s = scenario("as-found-steep.ron");
        s.line.rack.near_rail.pitch_rad *= 10.0 / 11.0;
        s.line.rack.far_rail.pitch_rad *= 10.0 / 11.0;
        s.line.sticks.truncate(sticks);
        s
    };
    assert_ne!(feed(&at_10_deg(6), 1).outcome, Outcome::OneStick);
    let short_row = at_10_deg(2);
    let right_setting = {
        let mut s = scenario("wrong-size.ron");
        s.line.escapement.size_setting_m = s.line.sticks[0].pipe.outside_diameter_m;
        s
    };
    let receiver_up = {
        let mut s = scenario("receiver-down.ron");
        s.line.receiver.starts_up = true;
        s
    };
    let round = {
        let mut s = scenario("flat-oval.ron");
        for stick in &mut s.line.sticks {
            stick.pipe.ovality = 0.0;
        }
        s
    };
    let dry_rails = {
        let mut s = scenario("missing-pin.ron");
        s.line.rack.near_rail.surface = Surface::Dry;
        s.line.rack.far_rail.surface = Surface::Dry;
        s
    };
    let pin_fitted = {
        let mut s = scenario("missing-pin.ron");
        s.line.faults.far.gate_missing = false;
        s
    };
    for (what, milder) in [
        ("one pin on dry rails", dry_rails),
        ("both pins on frost", pin_fitted),
        ("5 instead of 11 deg", gentle_pitch),
        ("two sticks instead of six", short_row),
        ("the right size setting", right_setting),
        ("the receiver up", receiver_up),
        ("round instead of oval", round),
    ] {
        assert_eq!(feed(&milder, 1).outcome, Outcome::OneStick, "{what}");
    }
}

#[test]
fn a_glazed_rail_swings_the_stick_and_a_frosted_one_does_not() {
    let glazed = scenario("glazed-rail.ron");
    let mut frosted = glazed.clone();
    frosted.line.rack.far_rail.surface = Surface::Frosted;
    let yaw = |scenario| {
        feed(scenario, 1)
            .figures
            .reception
            .expect("it arrives")
            .yaw_deg
            .abs()
    };
    assert!(yaw(&glazed) > 2.0, "glazed: {} deg", yaw(&glazed));
    assert!(yaw(&frosted) < 0.3, "frosted: {} deg", yaw(&frosted));
}

/// Rolling in slowly, a stick fed with the receiver down falls into the cradles and stays there.
#[test]
fn a_lowered_receiver_drops_a_slow_stick_into_the_cradles() {
    let mut slow = scenario("receiver-down.ron");
    slow.line.rack.near_rail.pitch_rad *= 0.4;
    slow.line.rack.far_rail.pitch_rad *= 0.4;
    for seed in 1..=4 {
        assert_eq!(feed(&slow, seed).outcome, Outcome::Dropped);
    }
}

#[test]
fn the_interlock_refuses_a_lowered_receiver() {
    let mut scenario = scenario("receiver-down.ron");
    scenario.line.escapement.interlock = true;
    assert_eq!(feed(&scenario, 1).outcome, Outcome::Refused);
}

/// Faults of the escapement, each by the run that shows it and a milder one that does not.
#[test]
fn faults_of_the_escapement_show_where_the_physics_lets_them() {
    let plain = scenario("first-release.ron");
    // One separator pin holds the row on dry rails; without both the row follows the fed stick.
    let mut one = plain.clone();
    one.line.faults.far.separator_missing = true;
    assert_eq!(feed(&one, 1).outcome, Outcome::OneStick);
    let mut none = one.clone();
    none.line.faults.near.separator_missing = true;
    assert_eq!(feed(&none, 1).outcome, Outcome::DoubleFeed);

    // A gate that is late on one rail holds the stick by itself: dry, it leaves square.
    let yaw_deg = |scenario: &Scenario| feed(scenario, 1).figures.reception.unwrap().yaw_deg;
    let mut late = plain.clone();
    late.line.faults.far.gate_late_s = 1.0;
    assert!(yaw_deg(&late).abs() < 0.1, "{} deg", yaw_deg(&late));
    // A wheel that is late does not: it pushes the one end on.
    let mut wheel = scenario("star-wheel.ron");
    assert!(yaw_deg(&wheel).abs() < 0.3, "{} deg", yaw_deg(&wheel));
    wheel.line.faults.far.gate_late_s = 1.0;
    assert_eq!(wheel.line.escapement.kind, EscapementKind::StarWheel);
    assert!(yaw_deg(&wheel).abs() > 1.0, "{} deg", yaw_deg(&wheel));
}

/// A crossed hose pair moves the receiver against its arrow, a slow one takes its time.
#[test]
fn faults_of_the_receiver_are_seen_on_its_motion() {
    let lowered_m = |slowness: f64, crossed: bool, down: bool| {
        let mut scenario = scenario("first-release.ron");
        let faults = scenario.line.faults.motion_mut(Motion::Receiver);
        faults.slowness = slowness;
        faults.crossed = crossed;
        let mut line = Line::build(&scenario.line);
        let controls = Controls::held([if down {
            Button::ReceiverDown
        } else {
            Button::ReceiverUp
        }]);
        for _ in 0..240 {
            line.tick(&controls);
        }
        line.receiver_lowered_m()
    };
    let sound = lowered_m(1.0, false, true);
    assert!(sound > 0.05);
    assert_eq!(lowered_m(1.0, true, true), 0.0);
    assert_eq!(lowered_m(1.0, true, false), sound);
    let slow = lowered_m(2.0, false, true);
    assert!((slow / sound - 0.5).abs() < 0.05, "{slow} of {sound} m");
}
