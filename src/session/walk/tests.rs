//! Walks with and without care, the readings, the cones, and taking acts back.

use std::path::Path;

use super::*;
use crate::domain::crew::usual_zone;
use crate::domain::finding::FindingKind;
use crate::domain::math::{cos, rad};
use crate::domain::spec::{Coupler, Item, Motion, Surface};
use crate::judge::{Played, play};
use crate::operator::{Habits, Operator, Worker};
use crate::scenario::load;
use crate::sim::controls::Call;
use crate::sim::controls::{Button, Controls};
use crate::sim::drive::Way;
use crate::sim::line::Line;
use crate::texts::{Lang, Texts};

fn named(name: &str) -> Scenario {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("scenarios");
    load(&folder.join(name)).expect(name).scenario
}

fn walk_of(scenario: &Scenario) -> Walk {
    let as_found = scenario.line_for(scenario.seed);
    Walk::new(scenario, &as_found, scenario.set_out_open)
}

fn at(x_m: f64, z_m: f64) -> Place {
    Place { x_m, z_m }
}

/// The slope that the level on a rail shows, in degrees, as somebody would read it out.
fn level_deg(walk: &Walk, rail: End) -> f64 {
    deg(level_reading_rad(thing::rail(walk.line(), rail).pitch_rad))
}

/// What the inclinometer of a rail shows to an eye that goes along it until the bubble is straight before
/// it, read to its marks, in degrees.
fn square_reading_deg(walk: &Walk, rail: End) -> f64 {
    let rig = Rig::new(walk.line());
    let pitch_rad = rig.rail(rail).pitch_rad;
    let [x_m, y_m, z_m] = gauge_at(&rig, rail);
    let out_m = if rail == End::Near { 0.6 } else { -0.6 };
    let mut seen_rad = 0.0;
    for _ in 0..20 {
        let up_m = TUBE_RADIUS_M * seen_rad;
        let eye_m = [
            x_m - up_m * cos(pitch_rad),
            y_m + up_m * sin(pitch_rad),
            z_m + out_m,
        ];
        seen_rad = walk.bubble_rad(rail, eye_m).expect("legible");
    }
    deg(gauge_reading_rad(seen_rad))
}

fn clear_cones(walk: &mut Walk) {
    while !walk.cones().is_empty() {
        walk.act(Act::TakeCone(0)).expect("taken");
        assert!(walk.act(Act::TakeCone(0)).is_err(), "one at a time");
        walk.act(Act::StackCone).expect("stacked");
    }
    assert!(walk.act(Act::StackCone).is_err(), "none in hand");
}

/// Whoever goes about it as it should be done: decides by nothing but what is seen and read.
fn careful(scenario: &Scenario) -> Walk {
    let mut walk = walk_of(scenario);
    for thing in Thing::all(walk.line()) {
        let seen = walk.look(thing);
        assert!(!seen.is_empty(), "{thing:?}");
        let sound = [
            "look-interlock-sound",
            "look-plate",
            "look-pins-sound",
            "look-wheel",
            "look-gate-drive-sound",
            "look-chock-there",
            "look-foot-padded",
            "look-feet-padded",
            "look-column-upright",
            "look-level-plumb",
            "look-hoses-sound",
            "look-rollers-sound",
            "look-radio-sound",
            "look-stick",
            "look-round",
            "look-oval",
            "look-oval-lies",
        ];
        if thing.is_set_by_hand() {
            continue;
        }
        let wrong = match thing {
            // Read square on, beside what a level shows.
            Thing::Gauge(rail) => {
                (square_reading_deg(&walk, rail) - level_deg(&walk, rail)).abs() > 0.4
            }
            Thing::Surface(rail) => thing::rail(walk.line(), rail).surface != Surface::Dry,
            _ => !seen.iter().all(|seen| sound.contains(&seen.id())),
        };
        let act = if wrong {
            Act::Report(thing)
        } else {
            Act::Accept(thing)
        };
        if let Err(why) = walk.act(act) {
            panic!("{thing:?}: {why:?}");
        }
    }
    if walk.is_open() {
        for rail in End::BOTH {
            while (level_deg(&walk, rail) - 5.0).abs() > 0.05 {
                let turns = if level_deg(&walk, rail) > 5.0 {
                    -0.5
                } else {
                    0.5
                };
                walk.crank(rail, turns).expect("the jack turns");
            }
        }
        let pipe_m = walk.line().sticks[0].pipe.outside_diameter_m;
        walk.act(Act::Size(hole_for(pipe_m).unwrap()))
            .expect("a hole");
    }
    // From a set-out sheet.
    if walk.adequacy() != Some(Adequacy::Covers) {
        clear_cones(&mut walk);
        for cone in usual_zone(&Rig::new(walk.line())).cones {
            walk.act(Act::PutCone(cone)).expect("a cone");
        }
    }
    assert_eq!(walk.unfinished(), None);
    walk
}

/// The expert on a line that somebody else has set out.
struct OnSetOut {
    worker: Worker,
    set_out: SetOut,
}

impl Operator for OnSetOut {
    fn set_out(&self, _: &LineSpec, _: bool) -> SetOut {
        self.set_out.clone()
    }

    fn controls(&mut self, line: &Line) -> Controls {
        self.worker.controls(line)
    }

    fn is_done(&self) -> bool {
        self.worker.is_done()
    }
}

fn played(scenario: &Scenario, set_out: SetOut, habits: Habits) -> Played {
    let mut operator = OnSetOut {
        worker: Worker::new(habits),
        set_out,
    };
    let played = play(scenario, scenario.seed, &mut operator, |_, _| ());
    played.unwrap_or_else(|fault| panic!("{fault:?}"))
}

fn kinds(played: &Played) -> Vec<FindingKind> {
    let findings = played.verdict.findings.iter();
    findings.map(|finding| finding.kind).collect()
}

/// A scenario with so many sticks of its row, so that the run is short.
fn short(name: &str, sticks: usize) -> Scenario {
    let mut scenario = named(name);
    scenario.line.sticks.truncate(sticks);
    scenario
}

const FAULTY: [(&str, usize, FindingKind); 5] = [
    ("crossed-hose.ron", 1, FindingKind::FaultMissed),
    ("missing-pin.ron", 3, FindingKind::FaultMissed),
    ("small-setting.ron", 1, FindingKind::WrongSetting),
    ("wrong-size.ron", 2, FindingKind::WrongSetting),
    ("as-found-steep.ron", 1, FindingKind::PitchOutside),
];

#[test]
fn who_goes_about_it_rightly_leaves_a_line_that_the_expert_runs_without_a_finding() {
    for (name, sticks, _) in FAULTY {
        let scenario = short(name, sticks);
        let walk = careful(&scenario);
        let played = played(&scenario, walk.set_out(), Habits::SOUND);
        assert_eq!(kinds(&played), [], "{name}");
        let missed = walk
            .decisions()
            .iter()
            .filter(|d| d.is_missed() || d.is_needless());
        assert_eq!(missed.count(), 0, "{name}: {:#?}", walk.decisions());
    }
}

#[test]
fn who_accepts_everything_gets_the_fault() {
    for (name, sticks, kind) in FAULTY {
        let mut scenario = short(name, sticks);
        // Long enough for the first feed.
        scenario.time_limit_s = 240.0;
        let mut walk = walk_of(&scenario);
        for thing in Thing::all(walk.line()) {
            walk.look(thing);
            walk.act(Act::Accept(thing)).expect("accepted");
        }
        assert_eq!(walk.set_out(), SetOut::default(), "{name}");
        assert_eq!(walk.line(), &scenario.line_for(scenario.seed), "{name}");
        let played = played(&scenario, walk.set_out(), Habits::SOUND);
        assert!(
            kinds(&played).contains(&kind),
            "{name}: {:?}",
            kinds(&played)
        );
    }
}

#[test]
fn cranking_follows_the_screw() {
    let scenario = named("as-found-steep.ron");
    let mut walk = walk_of(&scenario);
    let (length_m, was_rad) = (
        walk.line().rack.length_m,
        walk.line().rack.near_rail.pitch_rad,
    );
    for _ in 0..200 {
        walk.crank(End::Near, -0.05).expect("down");
    }
    let high_m = length_m * sin(was_rad) - 10.0 * RISE_PER_TURN_M;
    let now_rad = walk.line().rack.near_rail.pitch_rad;
    assert!((now_rad - asin(high_m / length_m)).abs() < 1e-9);
    // All of it is one setting, and one act to take back.
    assert_eq!(
        walk.set_out().settings,
        [Setting::Pitch {
            rail: End::Near,
            pitch_rad: now_rad
        }]
    );
    assert!(walk.undo() && !walk.undo());
    assert_eq!(walk.line(), &scenario.line_for(scenario.seed));
    // The ends of the jack.
    assert!(walk.crank(End::Far, 1e6).is_ok());
    assert!((walk.line().rack.far_rail.pitch_rad - STEEPEST_RAD).abs() < 1e-9);
    assert!(walk.crank(End::Far, 1.0).is_err());
    assert!(walk.crank(End::Far, f64::NAN).is_err());
    assert!(walk.crank(End::Far, -1e6).is_ok());
    assert!(walk.line().rack.far_rail.pitch_rad.abs() < 1e-9);
    assert!(walk.set_out().applied(&scenario.line, true).is_ok());
}

#[test]
fn the_far_gauge_of_the_steep_rack_hides_the_lower_rail_and_the_level_does_not() {
    let walk = walk_of(&named("as-found-steep.ron"));
    let rig = Rig::new(walk.line());
    let [near, far] = End::BOTH.map(|rail| deg(gauge_shows_rad(&rig, rail)));
    assert!((near - far).abs() < 1e-9, "{near} and {far}");
    let [near, far] = End::BOTH.map(|rail| level_deg(&walk, rail));
    assert!(near - far > 0.5, "{near} and {far}");
    // From uphill, where the crank is, it seems to stand lower.
    let [x_m, y_m, z_m] = gauge_at(&rig, End::Near);
    let square = walk.bubble_rad(End::Near, [x_m, y_m, z_m + 0.5]).unwrap();
    let uphill = walk
        .bubble_rad(End::Near, [x_m - 0.5, y_m, z_m + 0.5])
        .unwrap();
    assert!(uphill < square - rad(0.5));
    assert_eq!(walk.bubble_rad(End::Near, [x_m, y_m, z_m - 0.5]), None);
}

#[test]
fn a_wrong_hole_is_possible() {
    let scenario = named("first-shift.ron");
    let mut walk = walk_of(&scenario);
    let pipe_m = walk.line().sticks[0].pipe.outside_diameter_m;
    let holes = holes();
    let right = holes
        .iter()
        .position(|hole| Some(*hole) == hole_for(pipe_m))
        .unwrap();
    walk.act(Act::Size(holes[right + 2])).expect("a hole");
    assert!(walk.line().not_set_for().is_some());
    walk.act(Act::Size(holes[right])).expect("a hole");
    assert!(walk.line().not_set_for().is_none());
}

#[test]
fn cradles_and_machine_go_where_the_tape_says_right_or_wrong() {
    let scenario = named("first-shift.ron");
    let mut walk = walk_of(&scenario);
    let before = Rig::new(walk.line());
    walk.act(Act::Cradles {
        spacing_m: before.spec().cradles.spacing_m + 0.3,
    })
    .expect("room");
    let after = Rig::new(walk.line());
    // Each cradle by half of it, and the machine not at all.
    assert!((after.cradle_z_m(End::Near) - before.cradle_z_m(End::Near) - 0.15).abs() < 1e-9);
    assert!((after.jaws_z_m() - before.jaws_z_m()).abs() < 1e-9);
    walk.act(Act::Machine {
        near_cradle_to_jaws_m: 6.0,
    })
    .expect("room");
    let jaws_m = Rig::new(walk.line()).jaws_z_m();
    let from = at(0.0, after.cradle_z_m(End::Near));
    assert!((tape_reading_m(from, at(0.0, jaws_m)) - 6.0).abs() < 0.006);
    // On the near cradle there is no room for it, and then it stays where it is.
    let line = walk.line().clone();
    let why = walk
        .act(Act::Machine {
            near_cradle_to_jaws_m: 0.9,
        })
        .unwrap_err();
    assert_eq!(why.id(), "set-out-no-room");
    assert_eq!(walk.line(), &line);
    // Nor for the cradles in the receiver's arms.
    let arms_m = 2.0 * before.arm_z_m(End::Near);
    let why = walk.act(Act::Cradles { spacing_m: arms_m }).unwrap_err();
    assert_eq!(why.id(), "set-out-no-room");
    assert!(walk.undo() && walk.undo() && !walk.undo());
    assert_eq!(walk.line(), before.spec());
}

#[test]
fn a_column_is_moved_by_the_string_and_set_up_by_the_level() {
    let mut scenario = named("first-shift.ron");
    scenario.line.cradles.far.offset_m = 0.08;
    scenario.line.cradles.far.lean_rad = rad(-2.0);
    let mut walk = walk_of(&scenario);
    let column = Thing::Column(End::Far);
    let ids = |seen: &[Message]| seen.iter().map(|m| m.id().to_owned()).collect::<Vec<_>>();
    assert_eq!(
        ids(&walk.look(column)),
        ["look-column-leans-in", "look-level-in"]
    );
    walk.act(Act::String).expect("a string");
    assert_eq!(ids(&walk.look(column))[2], "look-string-out");
    for _ in 0..16 {
        walk.act(Act::ShiftColumn {
            column: End::Far,
            by_m: -0.005,
        })
        .expect("moved");
    }
    walk.act(Act::TiltColumn {
        column: End::Far,
        by_rad: rad(2.0),
    })
    .expect("set up");
    assert_eq!(
        ids(&walk.look(column)),
        [
            "look-column-upright",
            "look-level-plumb",
            "look-string-middle"
        ]
    );
    assert!(!walk.line().cradles.far.is_off());
    assert!(
        walk.act(Act::ShiftColumn {
            column: End::Far,
            by_m: 1.0
        })
        .is_err()
    );
}

#[test]
fn cones_that_cross_make_no_zone_and_are_told_so() {
    let scenario = named("first-shift.ron");
    let mut walk = walk_of(&scenario);
    clear_cones(&mut walk);
    assert_eq!(walk.unfinished().expect("no zone").id(), "set-out-no-zone");
    for (x_m, z_m) in [(-30.0, -30.0), (30.0, 30.0), (30.0, -30.0)] {
        walk.act(Act::PutCone(at(x_m, z_m))).expect("put down");
    }
    walk.act(Act::PutCone(at(-30.0, 30.0))).expect("put down");
    let why = walk.unfinished().expect("no zone");
    assert_eq!(why.id(), "zone-crosses");
    for lang in Lang::ALL {
        let said = Texts::of(lang).say(&why);
        assert!(said.contains('1') && said.contains('4'), "{said}");
    }
    // No zone, no setting.
    let zone = |walk: &Walk| {
        let settings = walk.set_out().settings;
        settings
            .into_iter()
            .find(|setting| matches!(setting, Setting::Zone(_)))
    };
    assert_eq!(zone(&walk), None);
    assert!(walk.undo());
    assert!(
        walk.act(Act::PutCone(at(30.0, 30.02))).is_err(),
        "twice in one place"
    );
    assert!(walk.act(Act::PutCone(at(f64::NAN, 0.0))).is_err());
    // The second one is carried between the others and back into its place in the order.
    walk.act(Act::TakeCone(1)).expect("taken");
    walk.act(Act::PutCone(at(-30.0, 30.0))).expect("put down");
    assert_eq!(walk.cones()[1], at(-30.0, 30.0));
    assert_eq!(walk.unfinished(), None);
    assert!(zone(&walk).is_some());
    assert_eq!(walk.line().zone.cones, walk.cones());
}

#[test]
fn reports_are_for_what_was_looked_at_and_a_needless_one_is_noted() {
    let mut scenario = named("first-shift.ron");
    *scenario.line.faults.motion_mut(Motion::LiftNear) = crate::domain::spec::MotionFaults {
        coupler: Coupler::Half,
        ..Default::default()
    };
    let mut walk = walk_of(&scenario);
    let hoses = Thing::Hoses(Motion::LiftNear);
    assert_eq!(
        walk.act(Act::Report(hoses)).unwrap_err().id(),
        "refused-look-first"
    );
    assert_eq!(walk.look(hoses)[0].id(), "look-coupler-half");
    assert_eq!(walk.act(Act::Report(hoses)).unwrap().id(), "told-put-right");
    assert_eq!(
        walk.set_out().settings,
        [Setting::Item(Item::Motion(Motion::LiftNear))]
    );
    assert_eq!(walk.look(hoses)[0].id(), "look-hoses-sound");
    let chock = Thing::Chock(End::Far);
    walk.look(chock);
    assert_eq!(
        walk.act(Act::Report(chock)).unwrap().id(),
        "told-nothing-found"
    );
    let needless: Vec<_> = walk.decisions().iter().map(Decision::is_needless).collect();
    assert_eq!(needless, [false, true]);
    assert_eq!(walk.set_out().settings.len(), 1);
    let size = Thing::Size;
    walk.look(size);
    assert_eq!(
        walk.act(Act::Report(size)).unwrap_err().id(),
        "refused-set-it-yourself"
    );
    // What is not to be seen is not seen.
    scenario = named("crossed-hose.ron");
    let mut walk = walk_of(&scenario);
    let crossed = Thing::Hoses(Motion::LiftFar);
    assert_eq!(walk.look(crossed)[0].id(), "look-hoses-sound");
    walk.act(Act::Accept(crossed)).expect("accepted");
    assert!(!walk.decisions()[0].is_missed() && walk.decisions()[0].was_faulty);
}

#[test]
fn with_pipe_on_the_rack_neither_jack_nor_pins_are_touched() {
    let scenario = named("hung-stick.ron");
    let mut walk = walk_of(&scenario);
    assert!(!walk.is_open());
    assert_eq!(
        walk.crank(End::Near, 1.0).unwrap_err().id(),
        "set-out-pipe-on-rack"
    );
    let hole = holes()[3];
    assert_eq!(
        walk.act(Act::Size(hole)).unwrap_err().id(),
        "set-out-pipe-on-rack"
    );
    assert!(!walk.undo());
    assert_eq!(walk.line(), &scenario.line_for(scenario.seed));
}

#[test]
fn everything_that_is_seen_can_be_said() {
    for name in [
        "first-shift.ron",
        "star-wheel.ron",
        "visitor.ron",
        "hung-stick.ron",
    ] {
        let mut walk = walk_of(&named(name));
        for thing in Thing::all(walk.line()) {
            let mut said = walk.look(thing);
            said.push(thing.name(walk.line()));
            for (lang, message) in Lang::ALL
                .iter()
                .flat_map(|l| said.iter().map(move |m| (l, m)))
            {
                assert!(Texts::of(*lang).try_say(message).is_ok(), "{message:?}");
            }
        }
    }
}

/// A line with nothing on it but the fault, and its check.
fn checked(fault: impl Fn(&mut LineSpec)) -> (Line, FunctionCheck) {
    let mut line = named("crossed-hose.ron").line_for(1);
    line.faults = Default::default();
    fault(&mut line);
    let line = Line::build(&line);
    let check = FunctionCheck::new(&line);
    (line, check)
}

fn hold(line: &mut Line, check: &mut FunctionCheck, buttons: &[Button], time_s: f64) {
    let until_s = line.time_s() + time_s;
    while line.time_s() < until_s {
        let reported = check.pending().map(|motion| Controls {
            isolated: true,
            call: Some(Call::Repair(Item::Motion(motion))),
            ..Controls::default()
        });
        let controls = reported.unwrap_or(Controls::held(buttons.iter().copied()));
        line.tick(&controls);
        check.watch(line, &controls);
    }
}

fn tried(check: &FunctionCheck, motion: Motion) -> Tried {
    check.tried()[motion as usize]
}

#[test]
fn a_function_check_notes_what_each_motion_does() {
    let (mut line, mut check) = checked(|line| {
        line.faults.motion_mut(Motion::LiftFar).crossed = true;
        line.faults.motion_mut(Motion::LiftNear).coupler = Coupler::Half;
        line.faults.motion_mut(Motion::ShiftNear).sticks_s = 0.8;
        line.faults.motion_mut(Motion::ShiftFar).coupler = Coupler::Off;
    });
    assert!(!check.accept(&line, Motion::LiftFar), "not tried yet");
    // The crossed one first has to be off its lower end.
    hold(&mut line, &mut check, &[Button::LiftFarDown], 1.0);
    let crossed = tried(&check, Motion::LiftFar);
    let back = crossed.back.unwrap();
    assert_eq!((back.went, crossed.out), (Some(Way::Out), None));
    assert!(back.empty && back.late_s.unwrap() < 0.3);
    assert!((back.held_s - 1.0).abs() < 0.02, "{}", back.held_s);
    assert!((back.speed_m_per_s / back.usual_m_per_s - 1.0).abs() < 0.1);
    hold(&mut line, &mut check, &[Button::LiftNearUp], 1.0);
    let slow = tried(&check, Motion::LiftNear).out.unwrap();
    assert!((slow.speed_m_per_s / slow.usual_m_per_s - 0.25).abs() < 0.05);
    hold(&mut line, &mut check, &[Button::ShiftNearOut], 2.0);
    let late_s = tried(&check, Motion::ShiftNear)
        .out
        .unwrap()
        .late_s
        .unwrap();
    assert!((0.8..1.1).contains(&late_s), "{late_s} s");
    hold(&mut line, &mut check, &[Button::ShiftFarOut], 1.0);
    assert_eq!(tried(&check, Motion::ShiftFar).out.unwrap().went, None);
    hold(
        &mut line,
        &mut check,
        &[Button::AdvanceOn, Button::TurnIn],
        1.0,
    );
    hold(&mut line, &mut check, &[], 2.0);
    let advance = tried(&check, Motion::Advance).out.unwrap();
    assert_eq!(advance.went, Some(Way::Out));
    assert!((advance.speed_m_per_s - advance.usual_m_per_s).abs() < 0.01);
    assert_eq!(
        tried(&check, Motion::Turn).back.unwrap().went,
        Some(Way::Back)
    );
    assert!(!tried(&check, Motion::Receiver).is_tried());
    for tried in check.tried() {
        for message in tried.seen() {
            for lang in Lang::ALL {
                assert!(Texts::of(lang).try_say(&message).is_ok());
            }
        }
    }
}

#[test]
fn with_the_power_isolated_nothing_counts_as_tried() {
    let (mut line, mut check) = checked(|_| ());
    let controls = Controls {
        isolated: true,
        ..Controls::held([Button::LiftNearUp])
    };
    for _ in 0..240 {
        line.tick(&controls);
        check.watch(&line, &controls);
    }
    assert!(!tried(&check, Motion::LiftNear).is_tried());
}

#[test]
fn what_is_reported_is_put_right_and_tried_again() {
    let (mut line, mut check) = checked(|line| {
        line.faults.motion_mut(Motion::LiftFar).crossed = true;
    });
    hold(
        &mut line,
        &mut check,
        &[Button::LiftFarUp, Button::LiftFarDown],
        0.1,
    );
    assert!(
        !check.report(&line, Motion::LiftFar),
        "both at once try nothing"
    );
    hold(&mut line, &mut check, &[Button::LiftFarDown], 1.0);
    assert!(check.report(&line, Motion::LiftFar));
    assert!(!check.report(&line, Motion::LiftFar), "once");
    assert_eq!(check.pending(), Some(Motion::LiftFar));
    let mut waited_s = 0.0;
    while check.pending().is_some() {
        hold(&mut line, &mut check, &[], 1.0);
        waited_s += 1.0;
        assert!(waited_s < 80.0);
    }
    hold(&mut line, &mut check, &[], 0.1);
    let mended = tried(&check, Motion::LiftFar);
    assert_eq!(mended.repair, Some(Repair::Done));
    assert!(!mended.is_tried() && !line.is_isolated());
    hold(&mut line, &mut check, &[Button::LiftFarUp], 1.0);
    assert_eq!(
        tried(&check, Motion::LiftFar).out.unwrap().went,
        Some(Way::Out)
    );
    assert!(check.accept(&line, Motion::LiftFar));
    let answers: Vec<_> = check
        .decisions()
        .iter()
        .map(|d| (d.answer, d.was_faulty))
        .collect();
    assert_eq!(
        answers,
        [(Answer::Reported, true), (Answer::Accepted, false)]
    );
    assert!(!check.is_complete());
}
