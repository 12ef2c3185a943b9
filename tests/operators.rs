//! The roster at work: what each operator in error brings about, and that the expert on the same line
//! does not.

mod common;

use chockline::domain::fusion::high_low_limit_m;
use chockline::domain::limits::LIFT_TILT_MAX;
use chockline::domain::math::{deg, rad};
use chockline::domain::pipe::Pipe;
use chockline::domain::spec::{
    Duty, EscapementKind, LineSpec, LoaderSpec, Motion, PersonSpec, Place, Surface, Waypoint,
};
use chockline::operator::{Ending, ROSTER, member, run};
use chockline::sim::line::{EventKind, Line, StickPlace};
use chockline::sim::world::StickId;
use chockline::texts::{Lang, Texts};
use common::lines;

/// Two sticks of 24 in DR 17 at 5° with the usual crew; joints and drawing are short.
fn ordinary() -> LineSpec {
    quick(lines::line(
        lines::pipe(24.0 * lines::INCH_M, 17.0, 0.02),
        2,
        5.0,
        EscapementKind::PinPair,
    ))
}

fn quick(mut spec: LineSpec) -> LineSpec {
    spec.machine.joint_time_s = 4.0;
    spec.machine.draw_m_per_s = 2.0;
    lines::crewed(spec)
}

/// One very oval stick that hangs half way up rails caked with clay, with a loader at hand.
fn hung() -> LineSpec {
    let pipe = lines::pipe(36.0 * lines::INCH_M, 17.0, 0.05);
    let mut spec = lines::line(pipe, 1, 4.3, EscapementKind::PinPair);
    spec.contact.rolling_lever_arm_m = 0.014;
    spec.sticks[0].gap_m = 1.5;
    spec.sticks[0].long_axis_rad = rad(40.0);
    spec.rack.length_m = 6.0 * pipe.outside_diameter_m;
    spec.loader = Some(loader(0, &pipe));
    quick(spec)
}

/// A loader with forks as long as the pipe is thick, that brings so many sticks.
fn loader(sticks: usize, pipe: &Pipe) -> LoaderSpec {
    LoaderSpec {
        sticks,
        fork_length_m: pipe.outside_diameter_m,
        ..lines::loader_for(pipe)
    }
}

/// A visitor who walks across the way of a fed stick, looks at nothing and has no radio.
fn visited(mut spec: LineSpec, starts_s: f64) -> LineSpec {
    let at = |x_m: f64, z_m: f64| Place { x_m, z_m };
    spec.people.push(PersonSpec {
        duty: Duty::Visitor,
        start: at(12.0, 0.0),
        path: vec![
            Waypoint {
                place: at(0.6, 0.0),
                stays_s: 25.0,
            },
            Waypoint {
                place: at(12.0, 0.0),
                stays_s: 0.0,
            },
        ],
        starts_s,
        walking_m_per_s: 1.2,
        reaction_s: 1.0,
        looks: false,
        radio: false,
    });
    spec
}

/// What came of a shift.
struct Shift {
    line: Line,
    ending: Ending,
    /// Greatest lengthwise tilt of a stick in the cradles, deg.
    tilt_deg: f64,
    /// How far a stick in the cradles ran along by itself, without the rollers, m.
    crept_m: f64,
    /// For how long a motion was held while the spotter said stop, s.
    against_stop_s: f64,
    /// A stick was set down while the row was not chocked.
    set_down_unchocked: bool,
}

/// Works on a line whose rack is still empty (`open`), or carries pipe that hangs.
fn work(name: &str, as_found: &LineSpec, open: bool) -> Shift {
    let member = member(name).unwrap_or_else(|| panic!("no operator {name}"));
    if let Err(why) = member.applies(as_found, open) {
        panic!("{name} does not apply: {}", english().say(&why));
    }
    let mut operator = member.operator();
    let set_out = operator.set_out(as_found, open);
    let spec = set_out.applied(as_found, open).expect("a line set out");
    let mut line = Line::build(&spec);
    let (mut tilt_deg, mut crept_m) = (0.0_f64, 0.0_f64);
    let (mut against_stop_s, mut set_down_unchocked) = (0.0, false);
    let mut told = 0;
    let dt_s = 1.0 / 240.0;
    let ending = run(&mut line, operator.as_mut(), 900.0, |line, controls| {
        for stick in line.present() {
            if line.place(stick) == StickPlace::Seated {
                tilt_deg = tilt_deg.max(deg(line.tilt_rad(stick)).abs());
                if line.roller_speeds_m_per_s()[0] == 0.0 {
                    crept_m += f64::from(line.stick(stick).velocity.z).abs() * dt_s;
                }
            }
        }
        let stop = line.people().spotter_says_stop();
        if stop && !controls.held.is_empty() {
            against_stop_s += dt_s;
        }
        for event in &line.events()[told..] {
            if matches!(event.kind, EventKind::SetDown { .. }) {
                set_down_unchocked |= !line.chocks().are_set();
            }
        }
        told = line.events().len();
    })
    .expect("no fault of the simulation");
    Shift {
        line,
        ending,
        tilt_deg,
        crept_m,
        against_stop_s,
        set_down_unchocked,
    }
}

impl Shift {
    fn any(&self, of: impl Fn(&EventKind) -> bool) -> bool {
        self.line.events().iter().any(|event| of(&event.kind))
    }

    fn struck(&self) -> bool {
        self.any(|kind| matches!(kind, EventKind::Struck { .. }))
    }

    fn lost(&self) -> bool {
        self.any(|kind| matches!(kind, EventKind::Lost { .. }))
    }

    fn joined(&self) -> usize {
        let places = self.line.sticks().map(|stick| self.line.place(stick));
        places.filter(|&place| place == StickPlace::Joined).count()
    }

    /// The worst that the jaws took: off the centreline over a tenth of the wall; gap, m; long axis
    /// off upright, deg.
    fn worst_clamp(&self) -> (f64, f64, f64) {
        let (mut off, mut gap, mut axis) = (0.0_f64, f64::INFINITY, 0.0_f64);
        for event in self.line.events() {
            if let EventKind::Clamped {
                stick,
                off_m,
                gap_m,
                long_axis_off_rad,
            } = event.kind
            {
                let limit_m = high_low_limit_m(self.line.world().pipe(stick).wall_min_m);
                off = off.max(off_m / limit_m);
                gap = gap.min(gap_m);
                axis = axis.max(deg(long_axis_off_rad).abs());
            }
        }
        (off, gap, axis)
    }

    fn story(&self) -> String {
        self.line
            .events()
            .iter()
            .map(|event| format!("{:.1} {:?}\n", self.line.time_at_s(event.tick), event.kind))
            .collect()
    }
}

/// The operator in error gives the finding; the expert on the same line does not, and completes it.
fn told_apart(name: &str, spec: &LineSpec, finding: impl Fn(&Shift) -> bool) {
    told_apart_on(name, spec, true, finding);
}

fn told_apart_on(name: &str, spec: &LineSpec, open: bool, finding: impl Fn(&Shift) -> bool) {
    let expert = work("expert", spec, open);
    assert_eq!(
        expert.joined(),
        expert.line.sticks().len(),
        "the expert on the line of {name}:\n{}",
        expert.story()
    );
    assert_eq!(expert.ending, Ending::AtRest);
    assert!(expert.line.is_isolated());
    assert!(!expert.struck() && !expert.lost());
    assert!(
        !finding(&expert),
        "the expert gives the finding of {name}:\n{}",
        expert.story()
    );
    let erring = work(name, spec, open);
    assert!(
        finding(&erring),
        "{name} does not give it:\n{}",
        erring.story()
    );
}

fn english() -> &'static Texts {
    Texts::of(Lang::English)
}

#[test]
fn names_are_different_and_say_what_they_do() {
    for (i, one) in ROSTER.iter().enumerate() {
        assert!(ROSTER[i + 1..].iter().all(|other| other.name != one.name));
        let does = english().say(&one.does());
        assert!(does.ends_with('.') && does.len() > 20, "{}", one.name);
    }
    assert!(ROSTER.len() >= 14);
}

#[test]
fn letting_go_early_throws_the_stick_on() {
    told_apart("lets-go-early", &ordinary(), |shift| {
        // The gate's rise throws it on: 1.1 m/s at the receiver's stop instead of 0.9.
        shift.any(|kind| {
            matches!(kind, EventKind::Received { speed_m_per_s, .. } if *speed_m_per_s > 1.0)
        })
    });
}

#[test]
fn feeding_too_soon_runs_one_stick_into_another() {
    let mut spec = ordinary();
    spec.escapement.interlock = false;
    told_apart("feeds-too-soon", &spec, |shift| {
        let sticks: Vec<StickId> = shift.line.sticks().collect();
        shift.lost() || shift.joined() < sticks.len()
    });
}

#[test]
fn feeding_with_the_receiver_down_drops_the_stick() {
    let mut spec = ordinary();
    spec.escapement.interlock = false;
    spec.receiver.starts_up = false;
    told_apart("forgets-the-receiver", &spec, |shift| {
        shift.lost()
            || shift.any(|kind| {
                matches!(kind, EventKind::Landed { fall_m_per_s, .. } if *fall_m_per_s > 1.0)
            })
    });
}

#[test]
fn lifting_one_end_first_tilts_the_stick_and_on_frost_it_runs() {
    told_apart("one-end-first", &ordinary(), |shift| {
        rad(shift.tilt_deg) > LIFT_TILT_MAX.value
    });
    let mut frosted = ordinary();
    frosted.cradles.surface = Surface::Glazed;
    told_apart("one-end-first", &lines::crewed(frosted), |shift| {
        shift.crept_m > 0.10 || shift.lost()
    });
}

#[test]
fn lifting_by_eye_hands_over_out_of_line() {
    let mut spec = ordinary();
    spec.cradles.near.offset_m = 0.008;
    spec.faults.motion_mut(Motion::LiftFar).slowness = 1.15;
    told_apart("by-eye", &spec, |shift| {
        shift.worst_clamp().0 > 1.0 || shift.any(|kind| *kind == EventKind::NotInReach)
    });
}

#[test]
fn an_oval_stick_that_is_not_turned_is_handed_over_so() {
    told_apart("never-turns", &ordinary(), |shift| {
        shift.worst_clamp().2 > 10.0
    });
}

#[test]
fn a_stick_advanced_low_runs_against_the_machine() {
    told_apart("advances-low", &ordinary(), |shift| {
        shift.any(|kind| *kind == EventKind::NotInReach)
    });
}

#[test]
fn a_stick_held_on_advance_is_pressed_into_the_string() {
    told_apart("into-the-string", &ordinary(), |shift| {
        shift.worst_clamp().1 < 0.001
    });
}

#[test]
fn a_joint_opened_early_is_none() {
    let mut spec = ordinary();
    spec.machine.joint_time_s = 60.0;
    told_apart("rushes-the-joint", &spec, |shift| {
        shift.any(|kind| matches!(kind, EventKind::Unclamped { .. }))
    });
}

/// Nobody is called out and nobody heeds the spotter: a visitor in the way is struck.
#[test]
fn a_visitor_in_the_way_is_struck_where_nobody_minds_him() {
    let spec = visited(ordinary(), 12.0);
    told_apart("calls-nobody-out", &spec, Shift::struck);
}

#[test]
fn who_does_not_hear_the_spotter_goes_on_while_somebody_is_in_the_zone() {
    let spec = visited(ordinary(), 20.0);
    told_apart("heeds-no-spotter", &spec, |shift| {
        shift.against_stop_s > 1.0
    });
}

#[test]
fn a_hung_stick_barred_from_below_strikes_the_rigger() {
    told_apart_on("bars-from-below", &hung(), false, Shift::struck);
}

#[test]
fn jacks_are_cranked_under_a_hung_stick() {
    told_apart_on("jacks-under-load", &hung(), false, |shift| {
        shift.any(|kind| matches!(kind, EventKind::JackedUnderLoad { .. }))
    });
}

/// A crossed lift goes down when it is told up; whoever trusts the arrow tilts the stick or never gets
/// it up.
#[test]
fn a_crossed_lift_is_found_by_the_function_check_alone() {
    let mut spec = ordinary();
    spec.faults.motion_mut(Motion::LiftFar).crossed = true;
    told_apart("trusts-the-arrows", &spec, |shift| {
        rad(shift.tilt_deg) > LIFT_TILT_MAX.value || shift.joined() == 0
    });
}

#[test]
fn a_row_is_chocked_while_it_is_loaded() {
    let pipe = lines::pipe(24.0 * lines::INCH_M, 17.0, 0.005);
    let mut spec = lines::line(pipe, 1, 5.0, EscapementKind::PinPair);
    spec.rack.length_m = 6.0 * pipe.outside_diameter_m;
    spec.loader = Some(loader(1, &pipe));
    told_apart("loads-unchocked", &quick(spec), |shift| {
        shift.set_down_unchocked
    });
}

#[test]
fn a_line_left_live_is_not_isolated() {
    told_apart("leaves-it-live", &ordinary(), |shift| {
        !shift.line.is_isolated()
    });
}

#[test]
fn lowering_a_stick_that_rocks_seats_it_roughly() {
    told_apart("lowers-at-once", &ordinary(), |shift| {
        shift.any(|kind| {
            matches!(kind, EventKind::Lowered { rocking_m_per_s, .. } if *rocking_m_per_s > 0.05)
        })
    });
}

#[test]
fn operators_say_why_they_do_not_apply() {
    let mut nobody = ordinary();
    nobody.people.clear();
    let mut steep = ordinary();
    steep.rack.near_rail.pitch_rad = rad(11.0);
    steep.rack.far_rail.pitch_rad = rad(11.0);
    for (name, spec, why) in [
        ("expert", &nobody, "technician"),
        ("expert", &steep, "steeper"),
        ("forgets-the-receiver", &ordinary(), "interlock"),
        ("bars-from-below", &ordinary(), "rolls by itself"),
        ("trusts-the-arrows", &ordinary(), "arrow"),
        ("loads-unchocked", &ordinary(), "loader"),
        ("calls-nobody-out", &ordinary(), "walks"),
    ] {
        let why_not = member(name).unwrap().applies(spec, false).unwrap_err();
        let said = english().say(&why_not);
        assert!(said.contains(why), "{name}: {said}");
    }
}
