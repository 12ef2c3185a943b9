//! The set-out: what can be set, when, and that the line still fits together afterwards.

use std::path::Path;

use chockline::domain::envelope::{Adequacy, Envelope, adequacy, inside_either};
use chockline::domain::math::rad;
use chockline::domain::rig::{End, Rig};
use chockline::domain::set_out::{SetOut, SetOutFault, Setting};
use chockline::domain::spec::{Duty, Item, LineSpec, Motion, Place, ZoneSpec};
use chockline::domain::zone::Zone;
use chockline::operator::{Habits, Operator, Worker};
use chockline::scenario::{Scenario, load};

fn shipped() -> Vec<(String, Scenario)> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("scenarios");
    let files = std::fs::read_dir(folder).expect("the scenarios");
    files
        .map(|entry| entry.expect("an entry").path())
        .filter(|path| path.extension().is_some_and(|ending| ending == "ron"))
        .map(|path| {
            let loaded = load(&path).unwrap_or_else(|error| panic!("{error}"));
            (path.display().to_string(), loaded.scenario)
        })
        .collect()
}

fn named(name: &str) -> LineSpec {
    let mut shipped = shipped().into_iter();
    let (_, scenario) = shipped.find(|(path, _)| path.ends_with(name)).expect(name);
    scenario.line_for(1)
}

fn with(settings: &[Setting]) -> SetOut {
    SetOut {
        settings: settings.to_vec(),
    }
}

#[test]
fn with_pipe_on_the_rack_only_repairs_cones_and_cradles_are_possible() {
    let line = named("hung-stick.ron");
    let rail = End::Near;
    let pitch_rad = rad(5.0);
    for refused in [
        Setting::Pitch { rail, pitch_rad },
        Setting::Size { diameter_m: 0.9 },
        Setting::Pins(rail),
        Setting::Chock(rail),
        Setting::RailPad(rail),
    ] {
        let set_out = with(std::slice::from_ref(&refused));
        assert!(set_out.applied(&line, true).is_ok(), "{refused:?}");
        let fault = set_out.applied(&line, false).unwrap_err();
        assert_eq!(fault, SetOutFault::PipeOnRack(refused));
    }
    let possible = with(&[
        Setting::Item(Item::Rail(rail)),
        Setting::Item(Item::Motion(Motion::Turn)),
        Setting::Interlock,
        Setting::ColumnPads(rail),
        Setting::Column(rail),
        Setting::Cradles,
        Setting::CradleSpacing {
            spacing_m: line.cradles.spacing_m + 0.01,
        },
        Setting::Machine,
        Setting::MachineAt {
            near_cradle_to_jaws_m: line.machine.near_cradle_to_jaws_m + 0.5,
        },
        Setting::ColumnOffset {
            column: rail,
            offset_m: 0.01,
        },
        Setting::ColumnLean {
            column: rail,
            lean_rad: rad(0.1),
        },
    ]);
    assert!(possible.applied(&line, false).is_ok());
}

#[test]
fn what_cannot_be_set_is_refused() {
    let line = named("first-shift.ron");
    let rail = End::Far;
    for bad in [f64::NAN, -0.1, rad(15.1), f64::INFINITY] {
        let pitch = Setting::Pitch {
            rail,
            pitch_rad: bad,
        };
        let size = Setting::Size { diameter_m: bad };
        let column = rail;
        let off = Setting::ColumnOffset {
            column,
            offset_m: bad * 10.0,
        };
        let lean = Setting::ColumnLean {
            column,
            lean_rad: bad,
        };
        let cradles = Setting::CradleSpacing { spacing_m: bad };
        let machine = Setting::MachineAt {
            near_cradle_to_jaws_m: bad,
        };
        for setting in [pitch, size, off, lean, cradles, machine] {
            let fault = with(&[setting]).applied(&line, true).unwrap_err();
            assert!(matches!(fault, SetOutFault::OutOfRange(_)), "{fault:?}");
        }
    }
    let two = [0.0, 5.0].map(|x_m| Place { x_m, z_m: 0.0 });
    let fault = with(&[Setting::Zone(ZoneSpec { cones: two.into() })])
        .applied(&line, true)
        .unwrap_err();
    assert!(matches!(fault, SetOutFault::NoZone(_)), "{fault:?}");
}

#[test]
fn each_setting_puts_its_part_right() {
    let mut found = named("as-found-steep.ron");
    found.faults.near.gate_missing = true;
    found.faults.near.separator_missing = true;
    found.faults.far.gate_stuck = true;
    found.faults.far.chock_missing = true;
    found.faults.roller_seized = true;
    found.rack.near_rail.foot.padded = false;
    found.cradles.near.outer_foot.padded = false;
    found.cradles.far.offset_m = 0.08;
    found.cradles.far.lean_rad = rad(2.0);
    found.cradles.spacing_m *= 0.9;
    found.machine.near_cradle_to_jaws_m += 0.5;
    let sound = Worker::new(Habits::SOUND);
    let line = sound.set_out(&found, true).applied(&found, true).unwrap();
    let mut wanted = found.faults;
    wanted.near = Default::default();
    wanted.far = Default::default();
    wanted.roller_seized = false;
    // The crossed hoses show in the function check.
    assert_eq!(line.faults, wanted);
    assert!(line.escapement.interlock);
    for rail in [line.rack.near_rail, line.rack.far_rail] {
        assert!((rail.pitch_rad - rad(5.0)).abs() < 1e-12);
        assert!(rail.foot.padded);
    }
    assert_eq!(line.cradles.near, Default::default());
    assert_eq!(line.cradles.far, Default::default());
    let untouched = named("as-found-steep.ron");
    assert!((line.cradles.spacing_m - untouched.cradles.spacing_m).abs() < 1e-9);
    let place_m = line.machine.near_cradle_to_jaws_m - untouched.machine.near_cradle_to_jaws_m;
    assert!(place_m.abs() < 1e-9);
    // Done once, there is nothing left to do.
    assert_eq!(sound.set_out(&line, true), SetOut::default());
}

/// Cradles and machine go where somebody puts them, right or wrong, as long as nothing stands there.
#[test]
fn cradles_and_machine_can_be_put_in_the_wrong_place() {
    let found = named("first-shift.ron");
    let applied = |settings: &[Setting]| with(settings).applied(&found, true);
    let before = Rig::new(&found);
    let spacing_m = found.cradles.spacing_m + 0.8;
    let line = applied(&[Setting::CradleSpacing { spacing_m }]).unwrap();
    let after = Rig::new(&line);
    assert!((line.cradles.spacing_m - spacing_m).abs() < 1e-12);
    assert!((after.jaws_z_m() - before.jaws_z_m()).abs() < 1e-12);
    for end in End::BOTH {
        let moved_m = after.cradle_z_m(end) - before.cradle_z_m(end);
        assert!((moved_m.abs() - 0.4).abs() < 1e-12);
    }
    let near_cradle_to_jaws_m = found.machine.near_cradle_to_jaws_m + 1.0;
    let machine = Setting::MachineAt {
        near_cradle_to_jaws_m,
    };
    let line = applied(&[machine]).unwrap();
    assert_eq!(line.machine.near_cradle_to_jaws_m, near_cradle_to_jaws_m);
    assert_eq!(line.machine.centreline_m, found.machine.centreline_m);
    // In a receiver's arm, in a rail, and on the near cradle.
    let in_arms = Setting::CradleSpacing {
        spacing_m: 2.0 * before.arm_z_m(End::Near),
    };
    let in_rails = Setting::CradleSpacing {
        spacing_m: 2.0 * before.rail_z_m(End::Near),
    };
    let on_cradle = Setting::MachineAt {
        near_cradle_to_jaws_m: found.machine.half_length_m + 0.1,
    };
    for (setting, steel) in [
        (in_arms, "steel-arms"),
        (in_rails, "steel-rails"),
        (on_cradle, "steel-cradle-near"),
    ] {
        let fault = applied(std::slice::from_ref(&setting)).unwrap_err();
        assert_eq!(fault, SetOutFault::NoRoom { setting, steel });
    }
    let column = End::Far;
    let line = applied(&[
        Setting::ColumnOffset {
            column,
            offset_m: 0.08,
        },
        Setting::ColumnLean {
            column,
            lean_rad: rad(-1.5),
        },
    ])
    .unwrap();
    assert!(line.cradles.far.is_off());
    let line = with(&[Setting::Column(column)])
        .applied(&line, true)
        .unwrap();
    assert_eq!(line.cradles.far, found.cradles.far);
}

/// An inclinometer that is off misleads whoever does not hold a level against the rail.
#[test]
fn a_wrong_inclinometer_misleads_who_does_not_check_it() {
    let mut found = named("flat-oval.ron");
    found.faults.far.inclinometer_error_rad = rad(2.0);
    let trusting = Worker::new(Habits {
        walks_round: false,
        ..Habits::SOUND
    });
    let line = trusting
        .set_out(&found, true)
        .applied(&found, true)
        .unwrap();
    assert!((line.rack.near_rail.pitch_rad - rad(5.0)).abs() < 1e-12);
    assert!((line.rack.far_rail.pitch_rad - rad(3.0)).abs() < 1e-12);
}

#[test]
fn every_shipped_line_still_fits_together_when_it_is_set_out() {
    for (path, scenario) in shipped() {
        let (found, open) = (scenario.line_for(1), scenario.set_out_open);
        let set_out = Worker::new(Habits::SOUND).set_out(&found, open);
        let line = set_out.applied(&found, open).unwrap();
        let rig = Rig::new(&line);
        let row_m = rig.rack_length_for(&line.sticks);
        assert!(row_m <= line.rack.length_m, "{path}: a row of {row_m} m");
        let zone = Zone::new(&line.zone.cones).ok();
        let envelope = Envelope::new(&rig, &line.sticks[0].pipe);
        let reaches = adequacy(zone.as_ref(), &envelope);
        assert_eq!(reaches, Adequacy::Covers, "{path}");
        for person in &line.people {
            let outside = !inside_either(person.start, zone.as_ref(), &envelope)
                || person.duty == Duty::LoaderDriver;
            assert!(outside, "{path}: {person:?}");
        }
    }
}

#[test]
fn a_set_out_comes_back_from_its_file() {
    for (path, scenario) in shipped() {
        let found = scenario.line_for(1);
        let set_out = Worker::new(Habits::SOUND).set_out(&found, scenario.set_out_open);
        let text = serde_json::to_string(&set_out).expect("text");
        let back: SetOut = serde_json::from_str(&text).expect("a set-out");
        assert_eq!(back, set_out, "{path}");
    }
}
