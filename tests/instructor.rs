//! The instructor's hand: what is brought about live comes once, by the physics of the line, is in the
//! recording like every other control, and is nothing in an assessment.

#[path = "common/crew.rs"]
mod crew;
#[path = "common/lines.rs"]
mod lines;

use chockline::domain::finding::FindingKind;
use chockline::domain::rig::End;
use chockline::domain::rolling::AIR_DENSITY_KG_M3;
use chockline::domain::set_out::SetOut;
use chockline::domain::spec::{Duty, EscapementKind, Item, Motion};
use chockline::evidence::Recording;
use chockline::operator::member;
use chockline::session::library::Library;
use chockline::session::{Mode, Run, Step};
use chockline::sim::controls::{Button, Call, Controls, Upset};
use chockline::sim::line::{EventKind, State};
use chockline::sim::world::StickId;
use crew::Shift;
use lines::{INCH_M, crewed, first_release, line, pipe};

fn once(upset: Upset) -> Controls {
    Controls {
        upset: Some(upset),
        ..Controls::default()
    }
}

impl Shift {
    fn upset(&mut self, upset: Upset) {
        self.line.tick(&once(upset));
    }

    fn count(&self, is_it: impl Fn(&EventKind) -> bool) -> usize {
        let events = self.line.events().iter();
        events.filter(|event| is_it(&event.kind)).count()
    }
}

fn upsets(kind: &EventKind) -> bool {
    matches!(kind, EventKind::Upset { .. })
}

#[test]
fn a_visitor_walks_up_to_the_receiver_and_out_again() {
    let mut shift = Shift::new(&crewed(first_release()));
    let crew = shift.line.people().iter().len();
    shift.wait(1.0);
    shift.upset(Upset::Visitor);
    assert_eq!(shift.line.people().iter().len(), crew + 1);
    let visitor = shift.person(crew);
    assert_eq!(visitor.spec().duty, Duty::Visitor);
    let zone = shift.line.watch().and_then(|watch| watch.zone()).unwrap();
    assert!(!zone.contains(visitor.place()), "they begin outside");
    let in_zone = |shift: &Shift| {
        let watch = shift.line.watch().unwrap();
        watch.zone().unwrap().contains(shift.person(crew).place())
    };
    assert!(shift.until(60.0, in_zone).is_some(), "they come in");
    let entered =
        |kind: &EventKind| matches!(kind, EventKind::ZoneEntered { person } if person.0 == crew);
    assert_eq!(shift.count(entered), 1);
    assert!(
        shift
            .until(20.0, |shift| shift.line.people().spotter_says_stop())
            .is_some()
    );
    assert!(
        shift.until(120.0, |shift| !in_zone(shift)).is_some(),
        "they go out"
    );
    shift.wait(shift.line.time_s() + 20.0);
    assert_eq!(shift.person(crew).state(), State::Standing);
    assert_eq!(shift.count(upsets), 1);
}

/// Held like a button it comes once; a fourth visitor does not.
#[test]
fn what_is_brought_about_comes_once() {
    let mut shift = Shift::new(&crewed(first_release()));
    let crew = shift.line.people().iter().len();
    shift.hold(0.5, once(Upset::Visitor));
    assert_eq!(shift.count(upsets), 1);
    for _ in 0..5 {
        shift.line.tick(&Controls::default());
        shift.upset(Upset::Visitor);
    }
    assert_eq!(shift.line.people().iter().len(), crew + 3);
    assert_eq!(shift.count(upsets), 3);
    assert!(!shift.line.may_upset(Upset::Visitor));
}

/// Where nobody is on the site, one who comes is still watched.
#[test]
fn a_visitor_to_a_line_without_people_is_seen_in_the_zone() {
    let mut spec = crewed(first_release());
    spec.people.clear();
    let mut shift = Shift::new(&spec);
    for upset in [Upset::StopCalled, Upset::RadioDies] {
        assert!(!shift.line.may_upset(upset), "there is no spotter");
        shift.upset(upset);
    }
    assert_eq!(shift.count(upsets), 0);
    shift.upset(Upset::Visitor);
    shift.wait(60.0);
    assert_eq!(
        shift.count(|kind| matches!(kind, EventKind::ZoneEntered { .. })),
        1
    );
}

/// The impulse of a gust that rises and falls as a squared sine: F = rho/2 Cd A v² (Hoerner, Fluid-Dynamic
/// Drag, from memory), its mean over the first half 3/8 of the greatest; a tube that rolls takes it up with its mass
/// and its moment of inertia over the square of its radius. Half a gust of 15 m/s and 6 s.
#[test]
fn a_gust_pushes_a_stick_as_its_drag_says() {
    let mut spec = line(
        pipe(36.0 * INCH_M, 17.0, 0.0),
        1,
        0.0,
        EscapementKind::PinPair,
    );
    // Up the rack, away from the gate, and next to nothing before the gust.
    spec.weather.wind_speed_m_per_s = 1.0e-6;
    spec.weather.wind_towards_rad = std::f64::consts::PI;
    spec.contact.rolling_lever_arm_m = 0.0;
    let drag_coefficient = spec.weather.drag_coefficient;
    let mut shift = Shift::new(&spec);
    shift.wait(2.0);
    let before = f64::from(shift.line.stick(StickId(0)).velocity.x);
    shift.upset(Upset::Gust);
    shift.wait(5.0);
    let after = f64::from(shift.line.stick(StickId(0)).velocity.x);
    let pipe = pipe(36.0 * INCH_M, 17.0, 0.0);
    let force_n = 0.5
        * AIR_DENSITY_KG_M3
        * drag_coefficient
        * pipe.length_m
        * pipe.outside_diameter_m
        * 15.0_f64.powi(2);
    let radius_m = pipe.radius_m();
    let rolling_kg = pipe.mass_kg() + pipe.axial_inertia_kg_m2() / (radius_m * radius_m);
    let predicted = -force_n * 3.0 * 3.0 / 8.0 / rolling_kg;
    // The stick gives way to the wind by a few percent.
    let error = ((after - before) / predicted - 1.0).abs();
    assert!(error < 0.06, "{before} {after} {predicted}");
    // And it is over: the wind is as before.
    shift.wait(8.1);
    let wind = shift.line.world().settings().wind_m_per_s;
    assert!(wind.length() < 1.0e-5, "{wind}");
    assert!(shift.line.may_upset(Upset::Gust));
}

/// A lift that leaks sinks by 8 mm/s with a stick on it, and not without one; put right, it stays.
#[test]
fn a_lift_that_begins_to_leak_sinks_under_its_load_until_it_is_put_right() {
    let course = Library::open(None)
        .find("first-shift")
        .unwrap()
        .course(Mode::Practice);
    let mut expert = member("expert").unwrap().operator();
    let spec = expert_set_out(&course);
    let mut line = chockline::sim::line::Line::build(&spec);
    while line.raised_m(End::Near) < 0.15 || line.raised_m(End::Far) < 0.15 {
        let controls = expert.controls(&line);
        line.tick(&controls);
        assert!(line.time_s() < 300.0);
    }
    let sinks = |line: &mut chockline::sim::line::Line, controls: Controls| {
        let before_m = End::BOTH.map(|end| line.raised_m(end));
        for _ in 0..480 {
            line.tick(&controls);
        }
        let after_m = End::BOTH.map(|end| line.raised_m(end));
        [0, 1].map(|i| before_m[i] - after_m[i])
    };
    sinks(&mut line, Controls::default());
    let [near_m, far_m] = sinks(&mut line, Controls::default());
    assert!(
        near_m.abs() < 1e-3 && far_m.abs() < 1e-3,
        "{near_m} {far_m}"
    );
    line.tick(&once(Upset::LiftCreeps(End::Far)));
    let [near_m, far_m] = sinks(&mut line, Controls::default());
    assert!(near_m.abs() < 1e-3, "{near_m}");
    assert!((far_m / (2.0 * 0.008) - 1.0).abs() < 0.05, "{far_m}");
    let item = Item::Motion(Motion::LiftFar);
    assert!(line.rig().spec().faults.is_faulty(item));
    let isolated = Controls {
        isolated: true,
        ..Controls::default()
    };
    line.tick(&Controls {
        call: Some(Call::Repair(item)),
        ..isolated
    });
    let repaired = |line: &chockline::sim::line::Line| {
        let mut events = line.events().iter();
        events.any(|event| matches!(event.kind, EventKind::Repaired { .. }))
    };
    while !repaired(&line) {
        line.tick(&isolated);
        assert!(line.time_s() < 600.0, "nobody has put it right");
    }
    let [_, far_m] = sinks(&mut line, Controls::default());
    assert!(far_m.abs() < 1e-3, "{far_m}");
}

fn expert_set_out(course: &chockline::session::Course) -> chockline::domain::spec::LineSpec {
    let course = course.clone();
    let run = course.demonstrate(member("expert").unwrap()).unwrap();
    run.spec().clone()
}

fn practice(id: &str) -> Run {
    let course = Library::open(None).find(id).unwrap().course(Mode::Practice);
    let set_out = course
        .clone()
        .demonstrate(member("expert").unwrap())
        .unwrap()
        .set_out()
        .clone();
    course.set_out(set_out).unwrap()
}

fn hold(run: &mut Run, seconds: f64, controls: Controls) {
    for _ in 0..(seconds * 240.0) as u64 {
        run.tick(&controls).unwrap();
    }
}

/// Whoever goes on after a stop that only the spotter has a reason for has not heeded it; whoever stands
/// still loses nothing by it.
#[test]
fn a_stop_without_a_reason_that_shows_counts_like_every_other() {
    for (goes_on, expected) in [(true, 1), (false, 0)] {
        let mut run = practice("first-shift");
        hold(&mut run, 1.0, Controls::default());
        run.tick(&once(Upset::StopCalled)).unwrap();
        let held = if goes_on {
            Controls::held([Button::LiftBothUp, Button::Feed])
        } else {
            Controls::default()
        };
        hold(&mut run, 6.0, held);
        let said = |kind: &EventKind| matches!(kind, EventKind::StopSaid);
        let events = &run.log().events;
        assert_eq!(
            events
                .iter()
                .filter(|noted| said(&noted.event.kind))
                .count(),
            1
        );
        hold(&mut run, 4.0, Controls::default());
        assert!(!run.line().people().spotter_says_stop(), "it is over");
        let finished = run.finish().ok().unwrap();
        let findings = finished.played.verdict.findings.iter();
        let unheeded = findings.filter(|finding| finding.kind == FindingKind::StopUnheeded);
        assert_eq!(unheeded.count(), expected, "goes on: {goes_on}");
    }
}

#[test]
fn the_radio_and_the_power_go_and_stay_away() {
    let mut shift = Shift::new(&crewed(first_release()));
    assert!(shift.line.people().spotter_answers());
    shift.upset(Upset::RadioDies);
    assert!(!shift.line.people().spotter_answers());
    assert!(shift.line.rig().spec().faults.is_faulty(Item::Radio));
    assert!(shift.line.has_power(&Controls::default()));
    shift.upset(Upset::PowerFails);
    assert!(!shift.line.has_power(&Controls::default()));
    shift.feed(3.0);
    assert_eq!(shift.line.gate_fractions(), [1.0; 2], "the gate stays up");
    assert_eq!(shift.count(upsets), 2);
}

/// Everything brought about in one practice run: the recording says so and comes out bit for bit; taken
/// back to before, none of it has been.
#[test]
fn the_recording_has_what_was_brought_about() {
    let mut run = practice("visitor");
    let mut still = practice("visitor");
    hold(&mut run, 2.0, Controls::default());
    hold(&mut still, 2.0, Controls::default());
    let before = (run.line().hash(), run.line().people().iter().len());
    assert_eq!(before.0, still.line().hash());
    for upset in Upset::ALL {
        run.tick(&once(upset)).unwrap();
        hold(&mut run, 1.0, Controls::held([Button::ReceiverDown]));
    }
    hold(&mut run, 10.0, Controls::default());
    assert_ne!(run.line().people().iter().len(), before.1);
    assert!(run.rewind_to(480), "practice goes back");
    assert_eq!(
        (run.line().hash(), run.line().people().iter().len()),
        before
    );
    hold(&mut run, 1.0, Controls::default());
    hold(&mut still, 1.0, Controls::default());
    assert_eq!(run.line().hash(), still.line().hash());

    for upset in Upset::ALL {
        run.tick(&once(upset)).unwrap();
        hold(&mut run, 1.5, Controls::held([Button::ReceiverDown]));
    }
    hold(&mut run, 40.0, Controls::default());
    let finished = run.finish().ok().unwrap();
    let brought = |recording: &Recording| -> Vec<Upset> {
        let controls = recording.log.controls.iter();
        controls
            .filter_map(|change| change.controls.upset)
            .collect()
    };
    assert_eq!(brought(&finished.recording), Upset::ALL);
    assert_eq!(
        finished
            .recording
            .log
            .each(|kind| match kind {
                EventKind::Upset { upset } => Some(*upset),
                _ => None,
            })
            .map(|(_, upset)| upset)
            .collect::<Vec<_>>(),
        Upset::ALL
    );
    let bytes = finished.recording.to_bytes().unwrap();
    let read = Recording::read(bytes.as_slice()).unwrap();
    assert_eq!(brought(&read), Upset::ALL);
    let replay = read.replay(|_| ()).unwrap();
    assert_eq!(replay.differs, None);
}

/// In an assessment, and where a coach guides, the same keys do nothing.
#[test]
fn nothing_is_brought_about_where_it_may_not() {
    for mode in [Mode::Assessed, Mode::Guided, Mode::WarmUp] {
        let course = Library::open(None)
            .find("first-shift")
            .unwrap()
            .course(mode);
        let begin = || course.clone().set_out(SetOut::default()).unwrap();
        let (mut run, mut still) = (begin(), begin());
        for upset in Upset::ALL {
            assert_eq!(run.tick(&once(upset)), Ok(Step::Goes));
            assert_eq!(still.tick(&Controls::default()), Ok(Step::Goes));
        }
        assert_eq!(run.line().hash(), still.line().hash(), "{mode:?}");
        assert_eq!(run.log().controls, still.log().controls);
    }
}

/// In a demonstration the operator drives and the instructor still has a hand: whoever knows the job stops
/// while somebody is inside, and strikes nobody.
#[test]
fn the_expert_copes_with_a_visitor() {
    let course = Library::open(None)
        .find("first-shift")
        .unwrap()
        .course(Mode::Demonstration);
    let mut run = course.demonstrate(member("expert").unwrap()).unwrap();
    let mut ended = false;
    while !ended {
        let hand = if run.line().tick_count() == 20 * 240 {
            once(Upset::Visitor)
        } else {
            Controls::default()
        };
        ended = matches!(run.tick(&hand), Ok(Step::Ended(_)));
    }
    let finished = run.finish().ok().unwrap();
    let verdict = &finished.played.verdict;
    assert!(verdict.score.passed, "{:?}", verdict.findings);
    let brought = finished
        .recording
        .log
        .each(|kind| upsets(kind).then_some(()));
    assert_eq!(brought.count(), 1);
}
