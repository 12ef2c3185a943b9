//! People: they take the time they should, hear what they can hear, and are struck by what comes over
//! them and by nothing else.

#[path = "common/crew.rs"]
mod crew;
#[path = "common/lines.rs"]
mod lines;

use chockline::domain::rig::{End, Rig};
use chockline::domain::spec::{Duty, EscapementKind, Hand, LineSpec, PersonSpec, Place, Waypoint};
use chockline::sim::controls::{Button, Call, Controls};
use chockline::sim::line::{
    Line, Mover, People, PersonId, Shape, State, StickPlace, Striker, lowest_on_rack,
};
use chockline::sim::world::{DT_S, StickId, StickState, World, WorldSettings};
use chockline::sim::{Pose, Rotation, Vector};
use crew::{Shift, at, close, person, visitor};
use lines::{INCH_M, first_release, line, pipe};

const TICK_S: f64 = DT_S as f64;

fn with(mut spec: LineSpec, people: impl IntoIterator<Item = PersonSpec>) -> LineSpec {
    spec.people = people.into_iter().collect();
    spec
}

#[test]
fn a_way_takes_its_length_over_the_walking_speed_and_its_stays() {
    let mut walker = visitor(at(10.0, 0.0), &[], 3.0);
    walker.path = vec![
        Waypoint {
            place: at(10.0, 12.0),
            stays_s: 2.0,
        },
        Waypoint {
            place: at(16.0, 12.0),
            stays_s: 0.0,
        },
    ];
    let mut shift = Shift::new(&with(first_release(), [walker]));
    shift.wait(3.0);
    assert_eq!(shift.person(0).place(), at(10.0, 0.0));
    shift.wait(8.0);
    assert_eq!(shift.person(0).state(), State::Walking);
    assert!(close(shift.person(0).place(), at(10.0, 6.0), 0.01));
    assert!((shift.person(0).facing_rad() - std::f64::consts::FRAC_PI_2).abs() < 1e-9);
    let first = shift.until(20.0, |s| s.person(0).place() == at(10.0, 12.0));
    let second = shift.until(30.0, |s| s.person(0).place() == at(16.0, 12.0));
    assert!((first.unwrap() - 13.0).abs() < 2.0 * TICK_S, "{first:?}");
    assert!((second.unwrap() - 20.0).abs() < 4.0 * TICK_S, "{second:?}");
    shift.wait(21.0);
    assert_eq!(shift.person(0).state(), State::Standing);
}

#[test]
fn called_out_whoever_has_a_radio_leaves_by_the_sticks_ends_after_their_reaction() {
    let deaf = PersonSpec {
        radio: false,
        ..person(Duty::Rigger, at(2.0, 1.0))
    };
    let slow = PersonSpec {
        reaction_s: 2.5,
        ..person(Duty::Rigger, at(2.0, -3.0))
    };
    let outside = person(Duty::Technician, at(1.2, 8.0));
    let mut shift = Shift::new(&with(
        first_release(),
        [person(Duty::Rigger, at(2.0, 3.0)), slow, deaf, outside],
    ));
    shift.wait(1.0);
    shift.say(Call::Clear);
    let said_s = shift.line.time_s() - TICK_S;
    for (i, reaction_s) in [(0, 1.0), (1, 2.5)] {
        let from = shift.person(i).place();
        let moved = shift.until(10.0, |s| s.person(i).place() != from).unwrap();
        assert!(
            (moved - said_s - reaction_s - TICK_S).abs() < 1.5 * TICK_S,
            "person {i} moved {} s after the call",
            moved - said_s
        );
        assert_eq!(shift.person(i).state(), State::Clearing);
    }
    // Out past the sticks' ends: half the stick, 0.8 m and 0.5 m.
    let ends_m = 12.192 / 2.0 + 0.8 + 0.5;
    shift.wait(12.0);
    for (i, want) in [
        (0, at(2.0, ends_m)),
        (1, at(2.0, -ends_m)),
        (2, at(2.0, 1.0)),
        (3, at(1.2, 8.0)),
    ] {
        assert!(
            close(shift.person(i).place(), want, 1e-6),
            "person {i} is at {:?}",
            shift.person(i).place()
        );
        assert_eq!(shift.person(i).state(), State::Standing);
    }
}

/// With a zone the side where sticks run out is left past its cones, if that is nearer.
#[test]
fn a_zone_is_left_past_its_cones() {
    let mut spec = with(first_release(), [person(Duty::Rigger, at(5.0, 1.0))]);
    spec.zone.cones = vec![
        at(-8.0, -10.0),
        at(-8.0, 10.0),
        at(7.0, 10.0),
        at(7.0, -10.0),
    ];
    let mut shift = Shift::new(&spec);
    shift.say(Call::Clear);
    shift.wait(6.0);
    assert!(close(shift.person(0).place(), at(7.5, 1.0), 1e-6));
}

#[test]
fn the_horn_stops_who_looks_and_empties_the_line_of_them() {
    let path = |x_m| {
        vec![Waypoint {
            place: at(x_m, 0.0),
            stays_s: 0.0,
        }]
    };
    let looker = PersonSpec {
        path: path(6.0),
        radio: false,
        ..person(Duty::LoaderDriver, at(12.0, 0.0))
    };
    let visitor = visitor(at(12.0, 3.0), &[at(6.0, 3.0)], 0.0);
    let inside = PersonSpec {
        radio: false,
        ..person(Duty::Rigger, at(2.0, 2.0))
    };
    let mut shift = Shift::new(&with(first_release(), [looker, visitor, inside]));
    shift.wait(1.0);
    shift.hold(2.0, Controls::held([Button::Horn]));
    assert_eq!(shift.person(0).state(), State::Walking);
    shift.wait(2.1);
    assert_eq!(shift.person(0).state(), State::Looking);
    assert_eq!(shift.person(1).state(), State::Walking);
    assert_eq!(shift.person(2).state(), State::Clearing);
    let stopped = shift.person(0).place();
    assert!(
        close(stopped, at(12.0 - 1.2 * 2.0, 0.0), 0.02),
        "{stopped:?}"
    );
    shift.wait(11.9);
    assert_eq!(shift.person(0).place(), stopped);
    assert_eq!(shift.person(1).place(), at(6.0, 3.0));
    // Then they go on.
    shift.wait(20.0);
    assert_eq!(shift.person(0).place(), at(6.0, 0.0));
    assert!(close(shift.person(2).place(), at(2.0, 7.396), 1e-3));
}

#[test]
fn a_spotter_says_stop_after_their_reaction_unless_the_radio_is_dead() {
    let says = |radio_dead: bool, intruder: Place| {
        let spotter = PersonSpec {
            reaction_s: 0.8,
            ..person(Duty::Spotter, at(12.0, -12.0))
        };
        let intruder = visitor(at(12.0, 5.0), &[intruder], 0.0);
        let mut spec = with(first_release(), [spotter, intruder]);
        spec.zone.cones = vec![at(-8.0, -9.0), at(-8.0, 9.0), at(6.0, 9.0), at(6.0, -9.0)];
        spec.faults.radio_dead = radio_dead;
        let mut shift = Shift::new(&spec);
        assert_eq!(shift.line.people().spotter_answers(), !radio_dead);
        shift.until(12.0, |s| s.line.people().spotter_says_stop())
    };
    // In the zone after 5 s.
    let said = says(false, at(5.0, 5.0)).unwrap();
    assert!((said - 5.8).abs() < 4.0 * TICK_S, "{said} s");
    assert_eq!(says(true, at(5.0, 5.0)), None);
    assert_eq!(says(false, at(6.5, 5.0)), None);
}

#[test]
fn a_spotter_says_stop_when_a_stick_is_lost() {
    let mut spec = line(
        pipe(24.0 * INCH_M, 17.0, 0.0),
        1,
        12.0,
        EscapementKind::PinPair,
    );
    spec.people = vec![person(Duty::Spotter, at(12.0, -12.0))];
    let mut shift = Shift::new(&spec);
    shift.wait(1.0);
    shift.feed(4.0);
    let lost = shift
        .until(20.0, |s| s.line.place(StickId(0)) == StickPlace::Lost)
        .unwrap();
    let said = shift
        .until(20.0, |s| s.line.people().spotter_says_stop())
        .unwrap();
    assert!((said - lost - 1.0).abs() < 4.0 * TICK_S);
}

/// Feeds the first stick of three with somebody on the site.
fn fed_with(somebody: PersonSpec) -> Shift {
    let mut shift = Shift::new(&with(first_release(), [somebody]));
    shift.wait(1.0);
    shift.feed(4.0);
    shift.wait(12.0);
    shift
}

#[test]
fn who_stands_in_the_path_is_struck_and_who_stands_a_metre_further_on_is_not() {
    let shift = fed_with(visitor(at(-0.2, 0.0), &[], 0.0));
    let [strike] = shift.line.people().strikes() else {
        panic!("{:?}", shift.line.people().strikes());
    };
    assert_eq!(
        (strike.person, strike.by),
        (PersonId(0), Striker::Stick(StickId(0)))
    );
    assert_eq!(shift.person(0).state(), State::Down);
    // 24 in DR 17, 40 ft: 794 kg. It rolls: half as much again, and more, than its flight alone.
    let flight_j = 0.5 * 794.0 * strike.speed_m_per_s * strike.speed_m_per_s;
    assert!((0.2..1.5).contains(&strike.speed_m_per_s), "{strike:?}");
    assert!(
        (1.5 * flight_j..2.6 * flight_j).contains(&strike.energy_j),
        "{strike:?}, {flight_j} J"
    );
    let shift = fed_with(visitor(at(0.8, 0.0), &[], 0.0));
    assert_eq!(shift.line.people().strikes(), []);
    assert_eq!(shift.person(0).state(), State::Standing);
    assert!(
        (0.05..0.4).contains(&shift.person(0).nearest_m()),
        "{}",
        shift.person(0).nearest_m()
    );
}

#[test]
fn who_looks_stops_for_moving_pipe_and_who_does_not_walks_into_its_way() {
    // In the path when the stick comes, about 2.5 s after the start.
    let walker = visitor(at(3.0, 0.0), &[at(-0.3, 0.0)], 0.3);
    let careless = fed_with(walker.clone());
    assert_eq!(careless.line.people().strikes().len(), 1);
    let careful = fed_with(PersonSpec {
        looks: true,
        reaction_s: 0.4,
        ..walker
    });
    assert_eq!(careful.line.people().strikes(), []);
    // The stick lies in the saddle by now: nobody walks through it.
    let stands = careful.person(0).place();
    assert!((0.4..0.8).contains(&stands.x_m), "{stands:?}");
    assert!(careful.person(0).nearest_m() > 0.0);
}

#[test]
fn nobody_walks_through_pipe_that_lies_still_and_walking_into_it_is_no_strike() {
    let mut shift = Shift::new(&with(
        first_release(),
        [visitor(at(0.0, 0.0), &[at(-3.0, 0.0)], 0.5)],
    ));
    shift.wait(10.0);
    let stands = shift.person(0);
    assert_eq!(stands.state(), State::Standing);
    assert!(
        (0.0..0.05).contains(&stands.nearest_m()),
        "{}",
        stands.nearest_m()
    );
    assert_eq!(shift.line.people().strikes(), []);
}

/// A stick in flight in a world without weight, past somebody at the origin.
fn thrown(from: Vector, velocity: Vector, ticks: usize) -> (World, People) {
    let spec = with(first_release(), [visitor(at(0.0, 0.0), &[], 0.0)]);
    let rig = Rig::new(&spec);
    let mut world = World::new(WorldSettings {
        gravity_m_per_s2: Vector::ZERO,
        ..WorldSettings::default()
    });
    let pipe = pipe(24.0 * INCH_M, 17.0, 0.0);
    world.add_stick(
        &pipe,
        StickState {
            pose: Pose::from_parts(from, Rotation::IDENTITY),
            velocity,
            spin: Vector::ZERO,
        },
    );
    let mut people = People::new(&rig);
    for _ in 0..ticks {
        people.tick(&mut world, &rig, &Controls::default(), &Default::default());
        world.step();
        people.observe(&world, &rig, &[], &[]);
    }
    (world, people)
}

#[test]
fn nothing_fast_jumps_over_anybody() {
    for speed in [2.0_f32, 10.0, 40.0, 100.0] {
        let ticks = (6.0 / speed / DT_S) as usize;
        let (_, people) = thrown(Vector::new(-3.0, 1.0, 0.0), Vector::X * speed, ticks);
        let [strike] = people.strikes() else {
            panic!("{speed} m/s: {:?}", people.strikes());
        };
        assert!(
            (strike.speed_m_per_s / f64::from(speed) - 1.0).abs() < 1e-3,
            "{strike:?}"
        );
        let energy_j = 0.5 * 794.0 * f64::from(speed * speed);
        assert!(
            (strike.energy_j / energy_j - 1.0).abs() < 0.01,
            "{strike:?}"
        );
        // Its flat end, lengthwise.
        let (_, people) = thrown(Vector::new(0.0, 1.0, -9.0), Vector::Z * speed, ticks);
        assert_eq!(people.strikes().len(), 1, "{speed} m/s lengthwise");
    }
}

/// A stick past somebody's side by a hair strikes them or not, by that hair: its flat end (z), over
/// the head (y).
#[test]
fn a_hair_decides_at_any_speed() {
    let (half_m, radius_m) = (6.096_f32, 0.3048_f32);
    for speed in [1.0_f32, 10.0, 60.0] {
        let ticks = (8.0 / speed / DT_S) as usize;
        for (hair_m, struck) in [(-0.004, 1), (0.004, 0)] {
            let beside = Vector::new(-3.0, 1.0, half_m + 0.25 + hair_m);
            let (_, people) = thrown(beside, Vector::X * speed, ticks);
            assert_eq!(
                people.strikes().len(),
                struck,
                "end, {hair_m} m, {speed} m/s"
            );
            let over = Vector::new(-3.0, 1.75 + radius_m + hair_m, 0.0);
            let (_, people) = thrown(over, Vector::X * speed, ticks);
            assert_eq!(
                people.strikes().len(),
                struck,
                "head, {hair_m} m, {speed} m/s"
            );
        }
    }
}

#[test]
fn a_creeping_stick_does_not_strike_and_one_twice_as_fast_does() {
    for (speed, struck) in [(0.04_f32, 0), (0.08, 1)] {
        let ticks = (1.0 / speed / DT_S) as usize;
        let (_, people) = thrown(Vector::new(-1.0, 1.0, 0.0), Vector::X * speed, ticks);
        assert_eq!(people.strikes().len(), struck, "{speed} m/s");
    }
}

#[test]
fn the_distance_is_the_true_one_and_a_raised_stick_is_seen_overhead() {
    let radius_m = 0.3048_f32;
    // Beside, at half height; over the head; with its end towards them.
    for (from, want_m, under) in [
        (Vector::new(1.2, 1.0, 0.0), 1.2 - 0.3048 - 0.25, false),
        (Vector::new(0.3, 2.6, 2.0), 0.568, true),
        (Vector::new(0.0, 1.0, 7.0), 7.0 - 6.096 - 0.25, false),
        (Vector::new(-9.0, 1.0, 0.0), 9.0 - 0.3048 - 0.25, false),
    ] {
        let (_, people) = thrown(from, Vector::ZERO, 1);
        let person = people.get(PersonId(0)).unwrap();
        let want_m = if from.y > 2.0 {
            f64::from((from.x * from.x + 1.1 * 1.1).sqrt() - radius_m - 0.25)
        } else {
            want_m
        };
        assert!(
            (person.nearest_m() - want_m).abs() < 1e-3,
            "{from}: {}",
            person.nearest_m()
        );
        assert_eq!(person.nearest_moving_m(), f64::INFINITY);
        assert_eq!(person.under().is_some(), under, "{from}");
    }
}

#[test]
fn other_moving_things_strike_too_and_nobody_strikes_the_driver_in_the_cab() {
    let mut spec = with(
        first_release(),
        [
            visitor(at(0.0, 0.0), &[], 0.0),
            person(Duty::LoaderDriver, at(0.0, 0.0)),
        ],
    );
    spec.loader = None;
    let rig = Rig::new(&spec);
    let mut world = World::new(WorldSettings::default());
    let mut people = People::new(&rig);
    people.set_driver(true, at(0.0, 0.0));
    let fork = |x_m: f32| Mover {
        what: Striker::Loader,
        shape: Shape::Block {
            half: Vector::new(0.6, 0.03, 0.07),
            pose: Pose::from_parts(Vector::new(x_m, 0.4, 0.1), Rotation::IDENTITY),
        },
        velocity: Vector::new(1.5, 0.0, 0.0),
        mass_kg: 12_000.0,
    };
    let mut reached = None;
    for tick in 0..480 {
        let x_m = -2.0 + 1.5 * DT_S * tick as f32;
        people.tick(&mut world, &rig, &Controls::default(), &Default::default());
        world.step();
        people.observe(&world, &rig, &[fork(x_m)], &[]);
        if reached.is_none() && !people.strikes().is_empty() {
            reached = Some(x_m);
        }
    }
    let [strike] = people.strikes() else {
        panic!("{:?}", people.strikes());
    };
    assert_eq!((strike.person, strike.by), (PersonId(0), Striker::Loader));
    // Its tip is 0.03 m beside them: there the round of the body begins.
    let tip_m = 0.6 + f64::from(reached.unwrap());
    assert!((tip_m + 0.248).abs() < 0.01, "{tip_m}");
    assert!((strike.energy_j - 13_500.0).abs() < 1.0);
}

/// One oval stick that lies on a rack too flat for it, as in the shipped scenario, with a rigger.
fn flat_oval(people: impl IntoIterator<Item = PersonSpec>) -> LineSpec {
    with(
        line(
            pipe(36.0 * INCH_M, 17.0, 0.04),
            1,
            1.5,
            EscapementKind::PinPair,
        ),
        people,
    )
}

/// Feeds it, waits until it hangs still, and says what the rigger is to do, with feed held on or let
/// go.
fn hang_then(held: bool, call: Option<Call>) -> Shift {
    let mut shift = Shift::new(&flat_oval([person(Duty::Rigger, at(-5.0, 9.0))]));
    let on = Controls::held(held.then_some(Button::Feed));
    shift.wait(1.0);
    shift.feed(12.0);
    shift.hold(20.0, on);
    let hanging = lowest_on_rack(shift.line.world(), shift.line.rig());
    assert_eq!(hanging, Some(StickId(0)));
    assert!(shift.line.is_at_rest());
    shift.line.tick(&Controls { call, ..on });
    shift.hold(90.0, on);
    shift
}

#[test]
fn barred_from_its_end_a_hung_stick_goes_and_strikes_nobody_and_from_below_it_strikes_the_rigger() {
    assert!(hang_then(true, None).line.along_m(StickId(0)) > 0.7);
    for end in End::BOTH {
        let shift = hang_then(true, Some(Call::BarFromEnd(end)));
        assert_eq!(
            shift.line.place(StickId(0)),
            StickPlace::Received,
            "{end:?}"
        );
        assert_eq!(shift.line.people().strikes(), []);
        assert_eq!(shift.person(0).place(), at(-5.0, 9.0), "back where he was");
    }
    let shift = hang_then(true, Some(Call::BarFromBelow));
    let [strike] = shift.line.people().strikes() else {
        panic!("{:?}", shift.line.people().strikes());
    };
    assert_eq!(strike.by, Striker::Stick(StickId(0)));
    assert!((0.15..0.25).contains(&strike.speed_m_per_s), "{strike:?}");
    assert_eq!(shift.line.place(StickId(0)), StickPlace::Received);
}

/// With feed let go the gate has come up under the stick and pushed it back behind itself: there is
/// nothing to set free, and barring moves nothing.
#[test]
fn barring_against_the_closed_gate_moves_nothing() {
    for call in [Call::BarFromEnd(End::Far), Call::BarFromBelow] {
        let before_m = hang_then(false, None).line.along_m(StickId(0));
        let shift = hang_then(false, Some(call));
        assert_eq!(shift.line.place(StickId(0)), StickPlace::Held);
        assert!((shift.line.along_m(StickId(0)) - before_m).abs() < 1e-3);
        assert_eq!(shift.line.people().strikes(), []);
        assert_eq!(shift.person(0).place(), at(-5.0, 9.0));
    }
}

#[test]
fn a_technician_acts_on_the_jaws_after_their_reaction_and_walks_there_first_from_afar() {
    let spec = first_release();
    let rig = Rig::new(&spec);
    let jaws_z_m = rig.jaws_z_m();
    for (start, way_m) in [(at(1.5, jaws_z_m), 0.0), (at(7.2, jaws_z_m), 6.0)] {
        let spec = with(spec.clone(), [person(Duty::Technician, start)]);
        let mut world = World::new(WorldSettings::default());
        let mut people = People::new(&Rig::new(&spec));
        let mut done_s = None;
        for tick in 0..2400 {
            let controls = Controls {
                call: (tick == 0).then_some(Call::Clamp),
                ..Controls::default()
            };
            let deeds = people.tick(&mut world, &rig, &controls, &Default::default());
            if let [deed] = deeds[..] {
                assert_eq!(deed, chockline::sim::line::Deed::Clamp);
                assert_eq!(done_s, None, "once");
                done_s = Some(world.time_s());
            }
            world.step();
        }
        let want_s = 1.0 + way_m / 1.2;
        assert!(
            (done_s.unwrap() - want_s).abs() < 4.0 * TICK_S,
            "{done_s:?}, {want_s}"
        );
    }
}

/// Everything that people do on a line, one after the other.
fn busy() -> LineSpec {
    let mut spec = with(
        first_release(),
        [
            person(Duty::Rigger, at(-5.0, 9.0)),
            person(Duty::Technician, at(1.3, 8.0)),
            person(Duty::Spotter, at(12.0, -12.0)),
            visitor(at(3.0, 0.0), &[at(-0.3, 0.0)], 40.0),
        ],
    );
    spec.zone.cones = vec![at(-8.0, -9.0), at(-8.0, 9.0), at(6.0, 9.0), at(6.0, -9.0)];
    spec
}

fn busy_controls(tick: u64) -> Controls {
    let call = match tick {
        240 => Some(Call::Chock),
        7_200 => Some(Call::Unchock),
        14_400 => Some(Call::Clear),
        _ => None,
    };
    let horn = (300..400).contains(&tick);
    let feed = (9_800..10_300).contains(&tick);
    Controls {
        call,
        ..Controls::held(
            horn.then_some(Button::Horn)
                .into_iter()
                .chain(feed.then_some(Button::Feed)),
        )
    }
}

#[test]
fn a_left_handed_line_is_the_mirror_image() {
    let right = busy();
    let left = LineSpec {
        hand: Hand::Left,
        ..right.clone()
    };
    let mut lines = [Line::build(&right), Line::build(&left)];
    for tick in 1..=12_000 {
        for line in &mut lines {
            line.tick(&busy_controls(tick));
        }
        for (one, other) in lines[0].people().iter().zip(lines[1].people().iter()) {
            assert!(
                close(one.place(), other.place(), 0.1),
                "tick {tick}: {:?} {:?} and {:?} {:?} {:?}",
                one.spec().duty,
                one.place(),
                other.place(),
                one.state(),
                other.state()
            );
        }
    }
    let [right, left] = lines;
    let struck = |line: &Line| {
        line.people()
            .strikes()
            .iter()
            .map(|s| (s.person, s.by, (s.speed_m_per_s * 50.0).round()))
            .collect::<Vec<_>>()
    };
    assert_eq!(struck(&right), struck(&left));
    assert_eq!(struck(&right).len(), 1);
}

#[test]
fn a_fork_goes_on_bit_for_bit_and_the_hash_knows_the_people() {
    let mut line = Line::build(&busy());
    for tick in 1..=10_100 {
        line.tick(&busy_controls(tick));
        // On the way to a rail, at work there, on the way back, with a stick on its way.
        if [260, 1_000, 3_000, 7_210, 9_900].contains(&tick) {
            let (mut fork, mut original) = (line.fork(), line.fork());
            for later in tick + 1..tick + 480 {
                fork.tick(&busy_controls(later));
                original.tick(&busy_controls(later));
                assert_eq!(fork.hash(), original.hash(), "tick {later}");
            }
        }
    }
    let mut spec = busy();
    let one = Line::build(&spec);
    spec.people[3].start.x_m += 1e-9;
    assert_ne!(one.hash(), Line::build(&spec).hash());
}
