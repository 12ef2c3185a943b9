//! Scenario files as their writers meet them: what ships is sound, what is wrong is explained.

use std::fs;
use std::path::{Path, PathBuf};

use chockline::cli::check::{CheckArgs, check};
use chockline::domain::crew;
use chockline::domain::plan;
use chockline::domain::rig::{End, Rig};
use chockline::domain::spec::{
    ColumnSpec, Coupler, CradleSpec, Duty, EscapementKind, FaultSpec, FootSpec, GroundSpec, Hand,
    LineSpec, LoaderSpec, MachineSpec, Motion, MotionFaults, PersonSpec, Place, RailFaults,
    StickSpec, Surface, Turning, Waypoint,
};
use chockline::scenario::{
    self, Fault, Goal, LoadError, Loaded, Scenario, field_reference, parse, parse_bytes,
};
use chockline::sim::line::Line;
use chockline::sim::{Pose, Vector};
use chockline::texts::{Lang, Texts};
use proptest::prelude::*;

const GOOD: &str = "(
    format: 1,
    name: \"Good\",
    pipe: (size: Ips(24), wall: Dr(17)),
    row: (sticks: 3),
    rack: (pitch_deg: 5),
)
";

/// A file with something in every part of the line.
const WHOLE: &str = "(
    format: 1,
    name: \"Whole\",
    pipe: (size: Ips(24), wall: Dr(17), length_m: 12),
    row: (sticks: 3),
    rack: (rated_load_kn: 150, near_rail: (foot_padded: false)),
    cradles: (
        spacing_m: 6.5, turning: SideShift, surface: Wet,
        lift_stroke_m: 0.7, lift_time_s: 20, lift_force_max_kn: 50,
        shift_range_m: 0.4, shift_time_s: 8, shift_force_max_kn: 25,
        advance_m_per_s: 0.2, advance_force_max_kn: 9, turn_m_per_s: 0.06, turn_force_max_kn: 8,
        near: (offset_mm: 30, lean_deg: 0.5),
        far: (offset_mm: -20, lean_deg: -0.5, rack_foot_padded: false, outer_foot_padded: false),
    ),
    machine: (
        near_cradle_to_jaws_m: 4.4, half_length_m: 1.1, centreline_m: 1.5,
        grip_force_max_kn: 35, joint_time_s: 90, draw_m_per_s: 0.4,
    ),
    loader: (
        sticks: 2, fork_spread_m: 1.4, fork_length_m: 2, capacity_kg: 4000, load_centre_m: 0.5,
        back_tilt_deg: 8, off_middle_m: 0.3, carry_height_m: 0.5, gap_mm: 40, drive_m_per_s: 1.5,
        braking_m_per_s2: 0.6, lift_m_per_s: 0.3, starts_beyond_m: 10,
    ),
    people: [
        (duty: Operator, x_m: 3, z_m: 8),
        (
            duty: Visitor, x_m: 4, z_m: 9, starts_s: 20, walking_m_per_s: 1.4, reaction_s: 2, looks: false,
            path: [(x_m: 4, z_m: 0, stays_s: 5), (x_m: 4, z_m: -9)],
        ),
        (duty: Spotter, x_m: 2, z_m: -10, radio: false),
    ],
    zone: (cones: [(x_m: -8, z_m: -9), (x_m: 8, z_m: -9), (x_m: 0, z_m: 6.4)]),
    ground: (subgrade_mn_per_m3: 20),
    contact: (
        friction_rubber_dry: 0.55, friction_rubber_wet: 0.3, friction_rubber_frosted: 0.12,
        friction_rubber_glazed: 0.04,
    ),
    faults: (
        told: true, roller_seized: true, radio_dead: true, power_fails_s: 45,
        near_rail: (gate_stuck: true, chock_missing: true, inclinometer_error_deg: 1),
        receiver: (slowness: 2, crossed: true),
        shift_far: (coupler: Half, sticks_s: 0.4),
        lift_near: (air_mm: 15, creep_mm_per_s: 2),
        advance: (coupler: Off),
    ),
)
";

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

fn shipped() -> Vec<PathBuf> {
    let mut files: Vec<PathBuf> = fs::read_dir(root().join("scenarios"))
        .expect("the scenarios folder")
        .map(|entry| entry.expect("an entry").path())
        .filter(|path| path.extension().is_some_and(|ending| ending == "ron"))
        .collect();
    files.sort();
    files
}

fn shipped_named(name: &str) -> Loaded {
    scenario::load(&root().join("scenarios").join(name)).unwrap_or_else(|error| panic!("{error}"))
}

fn english() -> &'static Texts {
    Texts::of(Lang::English)
}

/// The faults of a text, as shown.
fn faults(text: &str) -> Vec<String> {
    match parse("f.ron", text) {
        Ok(_) => Vec::new(),
        Err(faults) => faults.iter().map(Fault::to_string).collect(),
    }
}

fn warnings(text: &str) -> Vec<String> {
    let loaded = parse("f.ron", text).unwrap_or_else(|faults| panic!("{faults:#?}"));
    loaded.warnings.iter().map(Fault::to_string).collect()
}

fn close(a: f64, b: f64) -> bool {
    (a - b).abs() < 1e-9
}

// What ships

#[test]
fn every_shipped_scenario_is_sound() {
    let files = shipped();
    assert_eq!(files.len(), 22, "{files:?}");
    for file in files {
        let loaded = scenario::load(&file).unwrap_or_else(|error| panic!("{error}"));
        assert!(
            !loaded.scenario.texts.brief.is_empty(),
            "{}",
            file.display()
        );
        assert!(
            !loaded.scenario.texts.trains.is_empty(),
            "{}",
            file.display()
        );
    }
}

#[test]
fn first_release_is_the_ordinary_line() {
    let Loaded {
        scenario, warnings, ..
    } = shipped_named("first-release.ron");
    assert!(warnings.is_empty(), "{warnings:?}");
    assert_eq!(scenario.texts.name, "First release");
    assert_eq!(scenario.goal, Goal::OneStick);
    let line = &scenario.line;
    assert_eq!(line.hand, Hand::Right);
    assert_eq!(line.sticks.len(), 3);
    let pipe = line.sticks[0].pipe;
    assert!(close(pipe.outside_diameter_m, 0.6096));
    assert!(close(pipe.wall_min_m, 0.6096 / 17.0));
    assert!(close(pipe.wall_avg_m, 1.06 * 0.6096 / 17.0));
    assert!(close(pipe.ovality, 0.005));
    assert!(close(pipe.density_kg_m3, 955.0));
    assert!(close(line.rack.near_rail.pitch_rad, 5_f64.to_radians()));
    assert_eq!(line.rack.near_rail, line.rack.far_rail);
    assert!(close(line.rack.rail_spacing_m, 0.44 * 12.19));
    assert_eq!(line.escapement.kind, EscapementKind::PinPair);
    assert!(close(line.escapement.size_setting_m, 0.6096));
    assert!(close(line.escapement.force_max_n, 20e3));
    assert!(close(line.escapement.stroke_time_s, 0.6));
    assert!(line.escapement.interlock && line.receiver.starts_up);
    assert!(close(line.contact.friction_dry, 0.2));
    assert!(close(line.contact.rolling_lever_arm_m, 0.002));
    assert!(close(line.ground.rolling_lever_arm_m, 0.025));
}

#[test]
fn the_other_shipped_scenarios_are_what_they_say() {
    let steep = shipped_named("as-found-steep.ron");
    assert_eq!(steep.scenario.line.sticks.len(), 6);
    assert_eq!(
        english().say(&steep.warnings[1].what),
        "11 deg: common practice is 4 to 6, and never above 10"
    );
    let oval = shipped_named("flat-oval.ron").scenario;
    assert_eq!(oval.goal, Goal::Joined);
    // Flat, it hangs up to about asin(0.04), 2.3 degrees.
    assert!(close(oval.line.sticks[0].pipe.ovality, 0.04));
    assert!(oval.line.rack.near_rail.pitch_rad < 0.04);
    let wrong = shipped_named("wrong-size.ron").scenario.line;
    assert!(close(wrong.escapement.size_setting_m, 0.9144));
    assert!(close(wrong.sticks[0].pipe.outside_diameter_m, 0.6096));
    let wheel = shipped_named("star-wheel.ron").scenario.line.escapement;
    assert_eq!(wheel.kind, EscapementKind::StarWheel);
    assert!(close(wheel.stroke_time_s, 3.0));
    let glazed = shipped_named("glazed-rail.ron").scenario.line;
    assert_eq!(glazed.rack.far_rail.surface, Surface::Glazed);
    assert_eq!(glazed.rack.near_rail.surface, Surface::Dry);
    // The pipe is as cold as the air.
    assert!(close(glazed.sticks[0].pipe.temperature_c, -3.0));
    let down = shipped_named("receiver-down.ron").scenario.line;
    assert!(!down.receiver.starts_up && !down.escapement.interlock);
    let askew = shipped_named("askew.ron").scenario.line;
    assert!(close(askew.sticks[0].yaw_rad, 1.5_f64.to_radians()));
    assert!(close(askew.sticks[1].yaw_rad, 0.0));
    assert_eq!(askew.rack.near_rail.surface, Surface::Wet);
    let mut left = shipped_named("left-hand.ron").scenario.line;
    assert_eq!(left.hand, Hand::Left);
    left.hand = Hand::Right;
    assert_eq!(left, shipped_named("first-release.ron").scenario.line);
}

#[test]
fn metric_pipe_has_metric_tolerances() {
    let text = GOOD
        .replace("Ips(24)", "Metric(630)")
        .replace("Dr(17)", "Wall_mm(37.3)");
    let pipe = parse("f.ron", &text).expect("sound").scenario.line.sticks[0].pipe;
    assert!(close(pipe.outside_diameter_m, 0.632_85));
    assert!(close(pipe.wall_min_m, 0.0373));
    assert!(close(pipe.wall_avg_m, 0.039_25));
    assert!(close(pipe.density_kg_m3, 965.0));
    // A published wall, thicker than diameter over ratio.
    let text = GOOD
        .replace("Ips(24)", "Metric(1000)")
        .replace("Dr(17)", "Sdr(17)");
    let pipe = parse("f.ron", &text).expect("sound").scenario.line.sticks[0].pipe;
    assert!(close(pipe.wall_min_m, 0.0593));
}

#[test]
fn overrides_change_one_stick() {
    let text = GOOD.replace(
        "sticks: 3",
        "sticks: 3, gap_mm: 10, overrides: [(stick: 2, size: Ips(26), ovality_pct: 3, long_axis_deg: 40, gap_mm: 25)]",
    );
    let sticks = parse("f.ron", &text).expect("sound").scenario.line.sticks;
    assert_eq!(sticks[0], sticks[2]);
    assert!(close(sticks[1].pipe.outside_diameter_m, 0.6604));
    assert!(close(sticks[1].pipe.wall_min_m, 0.6604 / 17.0));
    assert!(close(sticks[1].pipe.ovality, 0.03));
    assert!(close(sticks[1].long_axis_rad, 40_f64.to_radians()));
    assert!(close(sticks[1].gap_m, 0.025) && close(sticks[0].gap_m, 0.010));
}

#[test]
fn every_shipped_scenario_survives_its_own_typed_form() {
    for file in shipped() {
        let scenario = scenario::load(&file).expect("sound").scenario;
        let text = serde_json::to_string(&scenario).expect("plain data");
        let again: Scenario = serde_json::from_str(&text).expect("the same data");
        assert_eq!(again.texts.name, scenario.texts.name);
        assert_eq!(again.line.sticks.len(), scenario.line.sticks.len());
    }
}

#[test]
fn the_document_lists_every_field() {
    let path = root().join("scenarios/README.md");
    let document = fs::read_to_string(&path).expect("the document");
    let block = format!("```text\n{}```\n", field_reference(english()));
    assert!(
        document.ends_with(&block),
        "the last block of {} is not what `chockline check --fields` prints: put that there",
        path.display()
    );
}

#[test]
fn the_examples_in_the_document_are_sound() {
    let document = fs::read_to_string(root().join("scenarios/README.md")).expect("the document");
    let examples: Vec<&str> = document
        .split("```ron\n")
        .skip(1)
        .filter_map(|rest| rest.split("```").next())
        .collect();
    assert_eq!(examples.len(), 4);
    for example in examples {
        // The first is a whole file, the others are parts of one.
        let text = if example.starts_with('(') {
            example.to_owned()
        } else {
            format!("(format: 1, name: \"Part\", pipe: (size: Ips(24), wall: Dr(17)),\n{example})")
        };
        assert_eq!(warnings(&text), [""; 0]);
    }
}

// What is wrong is explained

#[test]
fn all_faults_are_reported_at_once() {
    let text = r#"(
    format: 2,
    name: "",
    seed: -1,
    gaol: OneStick,
    hand: Rigth,
    pipe: (
        size: 24,
        wall: Ddr(17),
        lenght_m: 12.19,
        ovality_pct: "2",
        density_kg_m3: NaN,
        ovality_pct: 3,
    ),
    row: (
        sticks: 3.5,
        overrides: [ (ovality_pct: 2), 7, (stick: 2, gap_mm: -1) ],
        pitch_deg: 5,
    ),
    rack: (
        near_rail: (pitch_deg: 16, surface: "wet"),
        far_rail: 5,
    ),
    escapement: (
        size_setting: Ips(25),
        interlock: yes,
        force_max_kn: 1e30,
        stroke_time_s: 0x3,
    ),
    weather: (wind_m_per_s: inf, wind_towards_deg: -inf),
)"#;
    let found: Vec<String> = parse("f.ron", text)
        .expect_err("it is wrong all over")
        .iter()
        .map(|fault| {
            let meant = fault.meant.as_ref().map(|meant| english().fill(meant));
            format!(
                "{}:{} {}: {}{}",
                fault.line,
                fault.column,
                fault.path,
                english().say(&fault.what),
                meant
                    .map(|meant| format!(" -> {meant}"))
                    .unwrap_or_default()
            )
        })
        .collect();
    assert_eq!(
        found,
        [
            "2:13 format: found 2",
            "3:11 name: found the text \"\"",
            "4:11 seed: found -1",
            "5:5 gaol: no such field -> goal",
            "6:11 hand: found Rigth -> Right",
            "8:15 pipe.size: found 24 -> Ips(24)",
            "9:15 pipe.wall: found Ddr(17) -> Dr(17)",
            "10:9 pipe.lenght_m: no such field -> pipe.length_m",
            "11:22 pipe.ovality_pct: found the text \"2\" -> 2 without quotes",
            "12:24 pipe.density_kg_m3: found NaN",
            "13:9 pipe.ovality_pct: given twice, first on line 11",
            "16:17 row.sticks: found 3.5",
            "17:22 row.overrides[1].stick: is missing",
            "17:40 row.overrides[2]: found 7",
            "17:62 row.overrides[3].gap_mm: found -1",
            "18:9 row.pitch_deg: no such field -> rack.pitch_deg",
            "21:32 rack.near_rail.pitch_deg: found 16",
            "21:45 rack.near_rail.surface: found the text \"wet\" -> Wet without quotes",
            "22:19 rack.far_rail: found 5",
            "25:23 escapement.size_setting: found Ips(25) -> Ips(24)",
            "26:20 escapement.interlock: found yes -> true",
            "27:23 escapement.force_max_kn: found 1e30",
            "28:24 escapement.stroke_time_s: found 0x3",
            "30:29 weather.wind_m_per_s: found inf",
            "30:52 weather.wind_towards_deg: found -inf",
        ]
    );
}

/// Broken texts, each with all that is said about it.
#[test]
fn each_broken_text_is_told_what_is_wrong() {
    let cases: &[(&str, &[&str])] = &[
        // The whole
        (
            "",
            &[
                "f.ron:1:1: the file is empty; allowed: one scenario: ( format: 1, name: …, pipe: ( … ), … )",
            ],
        ),
        (
            "// nothing\n",
            &[
                "f.ron:2:1: the file is empty; allowed: one scenario: ( format: 1, name: …, pipe: ( … ), … )",
            ],
        ),
        (
            "5",
            &["f.ron:1:1: found 5; allowed: a group of fields: ( name: value, … )"],
        ),
        (
            "{\"name\": 1}",
            &[
                "f.ron:1:1: a map in braces; allowed: a group in round brackets: ( field: value, … )",
            ],
        ),
        (
            "(format: 1, name: \"n\", pipe: (wall: Dr(17), size: Metric(630))) )",
            &[
                "f.ron:1:65: ')' after the end of the scenario; allowed: nothing but comments behind the last ')'",
            ],
        ),
        (
            "Scenario(format: 1, name: \"n\", pipe: (wall: Dr(17), size: Metric(630), x: 1))",
            &[
                "f.ron:1:1: the word 'Scenario' before a group; allowed: ( name: value, … ) and no word",
                "f.ron:1:72: pipe.x: no such field; allowed: size, wall, length_m, ovality_pct, temperature_c or density_kg_m3",
            ],
        ),
        (
            "()",
            &[
                "f.ron:1:1: format: is missing; allowed: 1",
                "f.ron:1:1: name: is missing; allowed: a text in quotes, one line, 1 to 80 characters",
                "f.ron:1:1: pipe.size: is missing; allowed: Ips(…) with 20, 22, 24, 26, 28, 30, 32, 34, 36, 42, 48, 54 or 63 in; Metric(…) with 500, 560, 630, 710, 800, 900, 1000, 1200, 1400 or 1600 mm",
                "f.ron:1:1: pipe.wall: is missing; allowed: Dr(…) with 7 to 41; Sdr(…) with 7 to 41; Wall_mm(…) with 5 to 250 mm",
            ],
        ),
        // Syntax
        (
            "(format: 1, name: \"n\",\n pipe: (size: Ips(24)",
            &["f.ron:2:22: the file ends inside the '(' of line 2; allowed: ')' before the end"],
        ),
        (
            "(format: 1, name: \"n",
            &["f.ron:1:19: a text begins here and never ends; allowed: a closing '\"'"],
        ),
        (
            "(format: 1, name:",
            &[
                "f.ron:1:18: the file ends where a value should stand; allowed: a value, and the brackets that close",
            ],
        ),
        (
            "(format: 1 name: \"n\")",
            &["f.ron:1:12: 'name' directly after a value; allowed: ',' or ')'"],
        ),
        (
            "(format: 1]",
            &["f.ron:1:11: ']' directly after a value; allowed: ',' or ')'"],
        ),
        (
            "(format = 1)",
            &["f.ron:1:9: '=' after the name 'format'; allowed: a colon: name: value"],
        ),
        (
            "(format: 1, : 2)",
            &["f.ron:1:13: ':' where a field's name should stand; allowed: name: value"],
        ),
        (
            "(format: 1, name: “n”)",
            &["f.ron:1:19: the quote '“'; allowed: a text in plain double quotes: \"…\""],
        ),
        (
            "(format: 1, name: 'n')",
            &["f.ron:1:19: the quote '''; allowed: a text in plain double quotes: \"…\""],
        ),
        (
            "(format: 1, name: b\"n\")",
            &["f.ron:1:19: a byte string; allowed: a text in double quotes"],
        ),
        (
            "(format: 1, name: \"\\q\")",
            &[
                "f.ron:1:20: an unknown '\\' sequence in a text; allowed: \\n \\t \\r \\\" \\' \\\\ \\0 \\xNN \\u{NNNN}",
            ],
        ),
        (
            "(format: 1, time_limit_s: 12,5)",
            &[
                "f.ron:1:30: '5' where a field's name should stand; allowed: a decimal point, not a comma, in a number: 5.5",
            ],
        ),
        (
            "(format: 1, time_limit_s: 60s)",
            &[
                "f.ron:1:27: '60s' is not a number; allowed: digits alone, as 5, -2.5 or 1e3; the unit is in the field's name",
            ],
        ),
        (
            "/* open (format: 1)",
            &[
                "f.ron:1:1: a comment begins here and never ends; allowed: /* … */, each '/*' inside it with its own '*/'",
            ],
        ),
        (
            "#![enable(unwrap_newtypes)]\n(format: 1)",
            &[
                "f.ron:1:1: an attribute that scenario files do not use; allowed: #![enable(implicit_some)], or none",
            ],
        ),
        (
            "(format: @)",
            &[
                "f.ron:1:10: '@' where a value should stand; allowed: a number, a word, a text, true, false, ( … ) or [ … ]",
            ],
        ),
    ];
    let wrong = cases
        .iter()
        .filter(|(text, expected)| faults(text) != *expected);
    let wrong: Vec<_> = wrong.map(|(text, _)| (text, faults(text))).collect();
    assert!(wrong.is_empty(), "{wrong:#?}");
}

/// Changes to a sound file, each with the one fault it makes.
#[test]
fn each_wrong_field_is_told_what_is_allowed() {
    let cases: &[(&str, &str, &str)] = &[
        (
            "pitch_deg: 5",
            "pitch_deg: 15.5",
            "6:23: rack.pitch_deg: found 15.5; allowed: 0 to 15 deg",
        ),
        (
            "pitch_deg: 5",
            "pitch_deg: -0.1",
            "6:23: rack.pitch_deg: found -0.1; allowed: 0 to 15 deg",
        ),
        (
            "pitch_deg: 5",
            "pitch_deg: 1e999",
            "6:23: rack.pitch_deg: found 1e999; allowed: 0 to 15 deg",
        ),
        (
            "pitch_deg: 5",
            "pitch_deg: Some(Some(5))",
            "6:28: rack.pitch_deg: found Some(5); allowed: 0 to 15 deg",
        ),
        (
            "pitch_deg: 5",
            "pitch: 5",
            "6:12: rack.pitch: no such field; allowed: pitch_deg, surface, rail_spacing_m, toe_height_m, length_m, rail_width_m, rated_load_kn, near_rail or far_rail; did you mean rack.pitch_deg?",
        ),
        (
            "pitch_deg: 5",
            "surface: Icy",
            "6:21: rack.surface: found Icy; allowed: Dry, Wet, Frosted or Glazed",
        ),
        (
            "pitch_deg: 5",
            "surface: frosty",
            "6:21: rack.surface: found frosty; allowed: Dry, Wet, Frosted or Glazed; did you mean Frosted?",
        ),
        (
            "pitch_deg: 5",
            "near_rail: (surface: Dri)",
            "6:33: rack.near_rail.surface: found Dri; allowed: Dry, Wet, Frosted or Glazed; did you mean Dry?",
        ),
        (
            "pitch_deg: 5",
            "near_rail: [surface]",
            "6:23: rack.near_rail: found a list; allowed: a group of fields: ( name: value, … )",
        ),
        (
            "pitch_deg: 5",
            "rail_spacing_m: 12.5",
            "6:28: rack.rail_spacing_m: rails 12.50 m apart under a stick of 12.19 m (number 1); allowed: 2.44 m and more, and less than 12.19 m",
        ),
        (
            "pitch_deg: 5",
            "rail_spacing_m: 2",
            "6:28: rack.rail_spacing_m: rails 2.00 m apart under a stick of 12.19 m (number 1); allowed: 2.44 m and more, and less than 12.19 m",
        ),
        (
            "pitch_deg: 5",
            "length_m: 2",
            "6:22: rack.length_m: a rack of 2.00 m is too short for a row of 3; allowed: 2.19 m and more",
        ),
        (
            "pitch_deg: 5",
            "toe_height_m: 0.5",
            "6:26: rack.toe_height_m: a toe 0.50 m high leaves no room for a receiver that travels 0.45 m; allowed: 0.67 m and more with that travel",
        ),
        (
            "Ips(24)",
            "Ips(630)",
            "4:18: pipe.size: found Ips(630); allowed: Ips(…) with 20, 22, 24, 26, 28, 30, 32, 34, 36, 42, 48, 54 or 63 in; Metric(…) with 500, 560, 630, 710, 800, 900, 1000, 1200, 1400 or 1600 mm; did you mean Metric(630)?",
        ),
        (
            "Dr(17)",
            "Dr(4)",
            "4:33: pipe.wall: found Dr(4); allowed: Dr(…) with 7 to 41; Sdr(…) with 7 to 41; Wall_mm(…) with 5 to 250 mm",
        ),
        (
            "Dr(17)",
            "Wall_mm(200)",
            "4:33: pipe.wall: a wall of 200.0 mm in a pipe of 609.6 mm is DR 3.0; allowed: 14.9 to 87.0 mm, which is DR 41 to 7",
        ),
        (
            "pitch_deg: 5",
            "pitch_deg: 5), receiver: (travel_m: 1.2",
            "6:48: receiver.travel_m: a toe 1.30 m high leaves no room for a receiver that travels 1.20 m; allowed: 1.08 m and less at that height",
        ),
        (
            "pitch_deg: 5",
            "length_m: 20), ground: (cross_fall_deg: 10",
            "6:11: rack.toe_height_m: with a toe 1.30 m high the ground rises 0.53 m above where the sticks lie; allowed: 1.84 m and more, or ground that falls less",
        ),
        (
            "pitch_deg: 5",
            "pitch_deg: 5), ground: (along_fall_deg: 8",
            "6:11: rack.toe_height_m: a toe 1.30 m high leaves no room for a receiver that travels 0.45 m; allowed: 1.40 m and more with that travel",
        ),
        (
            "wall: Dr(17)),\n    row: (sticks: 3),\n    rack: (pitch_deg: 5)",
            "wall: Dr(17), length_m: 6),\n    rack: (rail_spacing_m: 1.3)",
            "5:28: rack.rail_spacing_m: rails 1.30 m apart under a stick of 6.00 m (number 1); allowed: 1.45 m and more, and less than 6.00 m",
        ),
        (
            "sticks: 3",
            "sticks: 0",
            "5:19: row.sticks: found 0; allowed: a whole number, 1 to 12",
        ),
        (
            "sticks: 3",
            "sticks: three",
            "5:19: row.sticks: found three; allowed: a whole number, 1 to 12",
        ),
        (
            "sticks: 3",
            "offset_m: 3.5",
            "5:21: row.offset_m: stick 1 is 3.50 m off the middle and misses a rail; allowed: -3.41 to 3.41 m with these rails",
        ),
        (
            "sticks: 3",
            "yaw_deg: 1",
            "5:10: row.gap_mm: stick 1, skewed by 1.00 deg, overlaps the gate with a gap of 0 mm; allowed: 46 mm and more for this stick",
        ),
        (
            "sticks: 3",
            "sticks: 3, gap_mm: 50, overrides: [(stick: 3, yaw_deg: 1)]",
            "5:30: row.gap_mm: stick 3, skewed by 1.00 deg, overlaps stick 2 with a gap of 50 mm; allowed: 107 mm and more for this stick",
        ),
        (
            // Sticks that are skewed alike are wider along the rails.
            "sticks: 3",
            "sticks: 2, yaw_deg: 8, gap_mm: 400, overrides: [(stick: 2, gap_mm: 5)]",
            "5:78: row.overrides[1].gap_mm: stick 2, skewed by 8.00 deg, overlaps stick 1 with a gap of 5 mm; allowed: 6 mm and more for this stick",
        ),
        (
            "sticks: 3",
            "sticks: 3, overrides: [(stick: 4)]",
            "5:42: row.overrides[1].stick: stick 4 of a row of 3; allowed: 1 to 3",
        ),
        (
            "sticks: 3",
            "sticks: 3, overrides: [(stick: 2), (stick: 2)]",
            "5:54: row.overrides[2].stick: stick 2 has an override already; allowed: one for each stick",
        ),
        (
            "sticks: 3",
            "sticks: 3, overrides: (stick: 2)",
            "5:33: row.overrides: found a group; allowed: a list of groups: [ ( name: value, … ), … ]",
        ),
        (
            "\"Good\"",
            "Good",
            "3:11: name: found Good; allowed: a text in quotes, one line, 1 to 80 characters; did you mean \"Good\"?",
        ),
        (
            "\"Good\"",
            "\"a\\u{1b}[2J\"",
            "3:11: name: found the control character \\u{1b} in a text; allowed: a text in quotes, one line, 1 to 80 characters",
        ),
        (
            "format: 1",
            "format: None",
            "2:13: format: found None; allowed: 1",
        ),
    ];
    let mut wrong = Vec::new();
    for (from, to, expected) in cases {
        let text = GOOD.replace(from, to);
        assert_ne!(text, GOOD, "{from} is not in the sound file");
        let faults = faults(&text);
        if faults != [format!("f.ron:{expected}")] {
            wrong.push((to, faults));
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}

#[test]
fn a_number_given_as_enough_is_enough() {
    for (from, to) in [
        ("sticks: 3", "sticks: 1, yaw_deg: 1, gap_mm: 46"),
        (
            "sticks: 3",
            "sticks: 3, gap_mm: 107, overrides: [(stick: 3, yaw_deg: 1)]",
        ),
        ("pitch_deg: 5", "length_m: 2.19"),
        ("pitch_deg: 5", "toe_height_m: 0.67"),
        ("pitch_deg: 5", "pitch_deg: 5), receiver: (travel_m: 1.08"),
        (
            "pitch_deg: 5",
            "length_m: 20, toe_height_m: 1.84), ground: (cross_fall_deg: 10",
        ),
        (
            "pitch_deg: 5",
            "toe_height_m: 1.4), ground: (along_fall_deg: 8",
        ),
        ("pitch_deg: 5", "rail_spacing_m: 2.44"),
        ("sticks: 3", "offset_m: 3.41"),
        ("Dr(17)", "Wall_mm(14.9)"),
        ("Dr(17)", "Wall_mm(87)"),
    ] {
        assert_eq!(faults(&GOOD.replace(from, to)), [""; 0], "{to}");
    }
}

#[test]
fn geometry_is_judged_beside_other_faults() {
    let text = "(
    name: \"n\",
    pipe: (wall: Wall_mm(200), size: Ips(24), colour: 3),
    row: (sticks: 3, overrides: [(stick: 2, wall: Wall_mm(6))]),
    rack: (rail_spacing_m: 12.5, length_m: 2.1,),
    receiver: (travel_m: 1.5),
)";
    let paths: Vec<String> = parse("f.ron", text)
        .expect_err("much is wrong")
        .into_iter()
        .map(|fault| fault.path)
        .collect();
    assert_eq!(
        paths,
        [
            "format",
            "pipe.wall",
            "pipe.colour",
            "row.overrides[1].wall",
            "rack.rail_spacing_m",
            "rack.length_m",
            "receiver.travel_m",
        ]
        .map(String::from)
        .to_vec()
    );
}

#[test]
fn a_misspelt_field_brings_no_fault_that_is_not_there() {
    // With the default spacing this stick would miss a rail.
    let text = GOOD
        .replace("sticks: 3", "offset_m: 4")
        .replace("pitch_deg: 5", "rail_spacing: 4");
    let faults = faults(&text);
    assert_eq!(faults.len(), 1, "{faults:?}");
    assert!(faults[0].ends_with("did you mean rack.rail_spacing_m?"));
}

#[test]
fn what_is_out_of_the_ordinary_is_warned_of() {
    let cases: &[(&str, &str, &str)] = &[
        (
            "pitch_deg: 5",
            "pitch_deg: 10.5",
            "6:23: rack.pitch_deg: 10.5 deg: common practice is 4 to 6, and never above 10",
        ),
        (
            "pitch_deg: 5",
            "near_rail: (pitch_deg: 4.2)",
            "6:11: rack: the rails' pitches are 0.8 deg apart; they are set alike",
        ),
        (
            "rack: (pitch_deg: 5)",
            "escapement: (size_setting: Metric(560))",
            "6:32: escapement.size_setting: set for Metric(560), and the pipe is Ips(24)",
        ),
        (
            "rack: (pitch_deg: 5)",
            "escapement: (interlock: false)",
            "6:29: escapement.interlock: the interlock with the receiver is defeated",
        ),
        (
            "rack: (pitch_deg: 5)",
            "contact: (friction_dry: 0.6)",
            "6:29: contact.friction_dry: 0.6: outside what is usually assumed for this pair",
        ),
        (
            "rack: (pitch_deg: 5)",
            "contact: (friction_dry: 0.15, friction_wet: 0.18)",
            "6:49: contact.friction_wet: 0.18 is more than the 0.15 of dry steel",
        ),
    ];
    for (from, to, expected) in cases {
        let text = GOOD.replace(from, to);
        assert_eq!(warnings(&text), [format!("f.ron:{expected}")], "{to}");
    }
    assert_eq!(warnings(GOOD), [""; 0]);
}

#[test]
fn all_of_the_syntax_that_scenarios_use_is_read() {
    let text = "#![enable(implicit_some)]
/* a /* nested */ comment */ (
    format: 0x1, // hexadecimal
    name: r#\"Raw \"name\"\"#, brief: \"two\\nlines\", seed: 1_000,
    pipe: (size: Some(Ips( 2_4.0, )), wall: Dr(1.7e1), temperature_c: None),
    row: (overrides: [],), rack: (), hand: Left
) // the end, without a line break";
    let scenario = parse("f.ron", text)
        .unwrap_or_else(|faults| panic!("{faults:#?}"))
        .scenario;
    assert_eq!(scenario.texts.name, "Raw \"name\"");
    assert_eq!(scenario.texts.brief, "two\nlines");
    assert_eq!(scenario.seed, 1000);
    assert_eq!(scenario.line.hand, Hand::Left);
    assert!(close(
        scenario.line.sticks[0].pipe.outside_diameter_m,
        0.6096
    ));
}

// The whole line

/// The sound file with more said of its line, on its seventh line.
fn with(more: &str) -> String {
    GOOD.replace(
        "rack: (pitch_deg: 5),",
        &format!("rack: (pitch_deg: 5),\n    {more},"),
    )
}

fn line_of(text: &str) -> LineSpec {
    parse("f.ron", text)
        .unwrap_or_else(|faults| panic!("{faults:#?}"))
        .scenario
        .line
}

#[test]
fn a_line_of_which_nothing_is_said_is_the_usual_one() {
    let line = line_of(GOOD);
    assert_eq!(line.cradles, CradleSpec::usual(12.19));
    let od_m = line.sticks[0].pipe.outside_diameter_m;
    let centreline_m = Rig::new(&line).usual_centreline_m();
    assert_eq!(line.machine, MachineSpec::usual(12.19, od_m, centreline_m));
    assert_eq!(line.loader, None);
    assert_eq!(line.ground.subgrade_n_per_m3, GroundSpec::FIRM_N_PER_M3);
    assert_eq!(line.faults, FaultSpec::default());
    assert_eq!(line.rack.near_rail.foot, FootSpec { padded: true });
    assert!(close(line.rack.rated_load_n, 200e3));
    let contact = &line.contact;
    let rubber = [
        Surface::Dry,
        Surface::Wet,
        Surface::Frosted,
        Surface::Glazed,
    ]
    .map(|surface| contact.friction_on_rubber(surface));
    assert_eq!(rubber, [0.5, 0.35, 0.1, 0.03]);
    let rig = Rig::new(&line);
    assert_eq!(line.people, crew::usual(&rig));
    assert_eq!(line.zone, crew::usual_zone(&rig));
    assert!(!parse("f.ron", GOOD).expect("sound").scenario.faults_told);
}

#[test]
fn the_whole_line_is_read() {
    assert_eq!(warnings(WHOLE), [""; 0]);
    let scenario = parse("f.ron", WHOLE).expect("sound").scenario;
    let line = &scenario.line;
    assert!(close(line.rack.rated_load_n, 150e3));
    assert!(!line.rack.near_rail.foot.padded && line.rack.far_rail.foot.padded);
    let unpadded = FootSpec { padded: false };
    let cradles = CradleSpec {
        spacing_m: 6.5,
        near: ColumnSpec {
            offset_m: 0.03,
            lean_rad: 0.5_f64.to_radians(),
            ..ColumnSpec::default()
        },
        far: ColumnSpec {
            offset_m: -0.02,
            lean_rad: -(0.5_f64.to_radians()),
            rack_foot: unpadded,
            outer_foot: unpadded,
        },
        turning: Turning::SideShift,
        surface: Surface::Wet,
        lift_stroke_m: 0.7,
        lift_time_s: 20.0,
        lift_force_n: 50e3,
        shift_range_m: 0.4,
        shift_time_s: 8.0,
        shift_force_n: 25e3,
        advance_m_per_s: 0.2,
        advance_force_n: 9e3,
        turn_m_per_s: 0.06,
        turn_force_n: 8e3,
    };
    assert_eq!(line.cradles, cradles);
    let machine = MachineSpec {
        near_cradle_to_jaws_m: 4.4,
        half_length_m: 1.1,
        centreline_m: 1.5,
        grip_force_n: 35e3,
        joint_time_s: 90.0,
        draw_m_per_s: 0.4,
    };
    assert_eq!(line.machine, machine);
    let loader = LoaderSpec {
        sticks: 2,
        fork_spread_m: 1.4,
        fork_length_m: 2.0,
        capacity_kg: 4000.0,
        load_centre_m: 0.5,
        back_tilt_rad: 8_f64.to_radians(),
        off_middle_m: 0.3,
        carry_height_m: 0.5,
        gap_m: 0.04,
        drive_m_per_s: 1.5,
        braking_m_per_s2: 0.6,
        lift_m_per_s: 0.3,
        starts_beyond_m: 10.0,
    };
    assert_eq!(line.loader, Some(loader));
    let place = |x_m, z_m| Place { x_m, z_m };
    let visitor = PersonSpec {
        duty: Duty::Visitor,
        start: place(4.0, 9.0),
        path: vec![
            Waypoint {
                place: place(4.0, 0.0),
                stays_s: 5.0,
            },
            Waypoint {
                place: place(4.0, -9.0),
                stays_s: 0.0,
            },
        ],
        starts_s: 20.0,
        walking_m_per_s: 1.4,
        reaction_s: 2.0,
        looks: false,
        radio: false,
    };
    let operator = crew::standing(Duty::Operator, place(3.0, 8.0));
    assert!(operator.radio && operator.looks);
    assert_eq!(line.people[..2], [operator, visitor]);
    assert_eq!(line.people[2].duty, Duty::Spotter);
    assert!(!line.people[2].radio);
    assert_eq!(
        line.zone.cones,
        [place(-8.0, -9.0), place(8.0, -9.0), place(0.0, 6.4)]
    );
    assert!(close(line.ground.subgrade_n_per_m3, 20e6));
    assert!(close(line.contact.friction_rubber_dry, 0.55));
    assert!(close(line.contact.friction_rubber_wet, 0.3));
    assert!(close(line.contact.friction_rubber_frosted, 0.12));
    assert!(close(line.contact.friction_rubber_glazed, 0.04));
    let mut faults = FaultSpec {
        near: RailFaults {
            gate_stuck: true,
            chock_missing: true,
            inclinometer_error_rad: 1_f64.to_radians(),
            ..RailFaults::default()
        },
        roller_seized: true,
        radio_dead: true,
        power_fails_s: Some(45.0),
        ..FaultSpec::default()
    };
    let sound = MotionFaults::default();
    *faults.motion_mut(Motion::Receiver) = MotionFaults {
        slowness: 2.0,
        crossed: true,
        ..sound
    };
    *faults.motion_mut(Motion::ShiftFar) = MotionFaults {
        coupler: Coupler::Half,
        sticks_s: 0.4,
        ..sound
    };
    *faults.motion_mut(Motion::LiftNear) = MotionFaults {
        air_m: 0.015,
        creep_m_per_s: 0.002,
        ..sound
    };
    *faults.motion_mut(Motion::Advance) = MotionFaults {
        coupler: Coupler::Off,
        ..sound
    };
    assert_eq!(line.faults, faults);
    assert!(scenario.faults_told);
}

#[test]
fn each_motion_has_its_own_faults() {
    for (name, motion) in [
        ("receiver", Motion::Receiver),
        ("lift_near", Motion::LiftNear),
        ("lift_far", Motion::LiftFar),
        ("shift_near", Motion::ShiftNear),
        ("shift_far", Motion::ShiftFar),
        ("turn", Motion::Turn),
        ("advance", Motion::Advance),
    ] {
        let faults = line_of(&with(&format!("faults: ({name}: (crossed: true))"))).faults;
        for other in Motion::ALL {
            assert_eq!(faults.motion(other).crossed, other == motion, "{name}");
        }
    }
}

#[test]
fn an_empty_list_is_nobody_and_no_zone() {
    let line = line_of(&with("people: [], zone: (cones: [])"));
    assert_eq!(line.people, []);
    assert_eq!(line.zone.cones, []);
    // A group without its list is as if it were not there.
    assert_eq!(line_of(&with("zone: ()")).zone, line_of(GOOD).zone);
}

#[test]
fn what_follows_from_other_fields_follows_them() {
    // Cradles and machine follow the stick, the machine's place its own length.
    let line = line_of(&GOOD.replace("Dr(17)", "Dr(17), length_m: 18"));
    assert!(close(line.cradles.spacing_m, 10.0));
    assert!(close(line.machine.half_length_m, 0.9 + 0.5 * 0.6096));
    assert!(close(
        line.machine.near_cradle_to_jaws_m,
        4.0 + 0.4 + 0.9 + 0.3048
    ));
    let longer = line_of(&with("machine: (half_length_m: 2)")).machine;
    let usual = line_of(GOOD).machine;
    assert!(close(
        longer.near_cradle_to_jaws_m - usual.near_cradle_to_jaws_m,
        longer.half_length_m - usual.half_length_m
    ));
    // The centreline is where a stick comes to after 0.35 m of lift, whatever the pins are set for.
    for setting in ["Ips(20)", "Ips(24)", "Ips(63)"] {
        let line = line_of(&with(&format!("escapement: (size_setting: {setting})")));
        let seat_m = Rig::new(&line).apex_low_m() + Rig::seated_over_apex_m(0.3048);
        assert!(close(line.machine.centreline_m, seat_m + 0.35), "{setting}");
    }
    // The rack holds what the loader brings as well.
    let grown_m = line_of(&with("loader: (sticks: 2)")).rack.length_m - line_of(GOOD).rack.length_m;
    assert!(
        (2.0 * 0.6096 + 0.06..2.0 * 0.6096 + 0.2).contains(&grown_m),
        "{grown_m}"
    );
    let duties = |text: &str| -> Vec<Duty> {
        line_of(text)
            .people
            .iter()
            .map(|person| person.duty)
            .collect()
    };
    let crew = [
        Duty::Operator,
        Duty::Spotter,
        Duty::Technician,
        Duty::Rigger,
    ];
    assert_eq!(duties(GOOD), crew);
    let with_driver = [&crew[..], &[Duty::LoaderDriver]].concat();
    assert_eq!(duties(&with("loader: (sticks: 1)")), with_driver);
}

/// The usual crew written out as a file has it, and the usual zone.
fn written_out(line: &LineSpec) -> String {
    let people: Vec<String> = line
        .people
        .iter()
        .map(|one| {
            format!(
                "(duty: {:?}, x_m: {}, z_m: {})",
                one.duty, one.start.x_m, one.start.z_m
            )
        })
        .collect();
    let cones: Vec<String> = line
        .zone
        .cones
        .iter()
        .map(|cone| format!("(x_m: {}, z_m: {})", cone.x_m, cone.z_m))
        .collect();
    format!(
        "people: [{}], zone: (cones: [{}])",
        people.join(", "),
        cones.join(", ")
    )
}

#[test]
fn the_usual_crew_stands_where_it_may_and_out_of_the_zone() {
    for size in ["Ips(20)", "Ips(36)", "Ips(63)"] {
        for length in ["6", "8", "12.19", "25"] {
            for loader in ["0", "3"] {
                let text = with(&format!("loader: (sticks: {loader})"))
                    .replace("Ips(24)", size)
                    .replace("Dr(17)", &format!("Dr(17), length_m: {length}"));
                let line = line_of(&text);
                let again = text.replace("loader:", &format!("{}, loader:", written_out(&line)));
                assert_eq!(line_of(&again), line, "{size} {length} {loader}");
                let cones = &line.zone.cones;
                for person in &line.people {
                    let Place { x_m, z_m } = person.start;
                    let inside = (cones[0].x_m..=cones[2].x_m).contains(&x_m)
                        && (cones[0].z_m..=cones[2].z_m).contains(&z_m);
                    // Whoever sits in the cab stays where the loader is.
                    let in_cab = person.duty == Duty::LoaderDriver;
                    assert!(!inside || in_cab, "{size} {length}: {person:?}");
                }
                // All of the rack and the cradles is inside.
                for part in plan::steel(&Rig::new(&line)) {
                    if !matches!(part.steel, plan::Steel::Machine | plan::Steel::Loader) {
                        assert!(part.x_from_m >= cones[0].x_m && part.x_to_m <= cones[2].x_m);
                        assert!(part.z_from_m >= cones[0].z_m && part.z_to_m <= cones[2].z_m);
                    }
                }
            }
        }
    }
}

/// What is added to the sound file, the one fault it makes, and a neighbour that is sound.
const MISFITS: &[(&str, &str, &str)] = &[
    // Cradles
    (
        "cradles: (spacing_m: 12)",
        "7:26: cradles.spacing_m: cradles 12.00 m apart under a stick of 12.19 m; allowed: 11.89 m and less",
        "cradles: (spacing_m: 11.89)",
    ),
    (
        "cradles: (spacing_m: 4)",
        "7:26: cradles.spacing_m: cradles 4.00 m apart rise into the receiver's arms; allowed: 3.57 m and less, or 4.76 m and more",
        "cradles: (spacing_m: 3.57)",
    ),
    (
        "cradles: (spacing_m: 4.75)",
        "7:26: cradles.spacing_m: cradles 4.75 m apart rise into the receiver's arms; allowed: 3.57 m and less, or 4.76 m and more",
        "cradles: (spacing_m: 4.76)",
    ),
    (
        // Shifted far, the faces come to the pins.
        "cradles: (spacing_m: 5.3, shift_range_m: 1)",
        "7:26: cradles.spacing_m: cradles 5.30 m apart rise into the pins or wheels; allowed: 3.57 m and less, or 5.86 m and more",
        "cradles: (spacing_m: 5.86, shift_range_m: 1)",
    ),
    (
        "cradles: (spacing_m: 5.3)",
        "7:26: cradles.spacing_m: cradles 5.30 m apart rise into the rails; allowed: 4.87 m and less, or 5.86 m and more",
        "cradles: (spacing_m: 4.87)",
    ),
    (
        "cradles: (spacing_m: 5.85)",
        "7:26: cradles.spacing_m: cradles 5.85 m apart rise into the rails; allowed: 4.87 m and less, or 5.86 m and more",
        // With pins for large pipe the toe is beyond the cradles' faces.
        "cradles: (spacing_m: 5.85), escapement: (size_setting: Ips(63))",
    ),
    (
        "cradles: (spacing_m: 5.85, shift_range_m: 1), escapement: (size_setting: Ips(63))",
        "7:26: cradles.spacing_m: cradles 5.85 m apart rise into the rails; allowed: 4.87 m and less, or 5.86 m and more",
        "cradles: (spacing_m: 5.86, shift_range_m: 1), escapement: (size_setting: Ips(63))",
    ),
    (
        "cradles: (lift_stroke_m: 0.3)",
        "7:30: cradles.lift_stroke_m: a centreline 1.77 m high, and the lifts bring this pipe to 1.42 to 1.72 m; allowed: 0.35 m and more",
        "cradles: (lift_stroke_m: 0.35)",
    ),
    // Machine
    (
        "machine: (near_cradle_to_jaws_m: 1.4)",
        "7:38: machine.near_cradle_to_jaws_m: the machine's end stands 5 mm over the near cradle; allowed: 1.41 m and more",
        "machine: (near_cradle_to_jaws_m: 1.41)",
    ),
    (
        "machine: (near_cradle_to_jaws_m: 1.6, half_length_m: 1.5)",
        "7:38: machine.near_cradle_to_jaws_m: the machine's end stands 100 mm over the near cradle; allowed: 1.70 m and more",
        "machine: (near_cradle_to_jaws_m: 1.7, half_length_m: 1.5)",
    ),
    (
        "machine: (near_cradle_to_jaws_m: 2.2), cradles: (spacing_m: 3.5)",
        "7:38: machine.near_cradle_to_jaws_m: the machine's end stands 87 mm over the near rail; allowed: 2.29 m and more",
        "machine: (near_cradle_to_jaws_m: 2.29), cradles: (spacing_m: 3.5)",
    ),
    (
        "machine: (centreline_m: 2.03)",
        "7:29: machine.centreline_m: a centreline 2.03 m high, and the lifts bring this pipe to 1.42 to 2.02 m; allowed: 1.42 to 2.01 m",
        "machine: (centreline_m: 2.01)",
    ),
    (
        "machine: (centreline_m: 1.41)",
        "7:29: machine.centreline_m: a centreline 1.41 m high, and the lifts bring this pipe to 1.42 to 2.02 m; allowed: 1.42 to 2.01 m",
        "machine: (centreline_m: 1.42)",
    ),
    // Loader
    (
        "loader: (sticks: 10)",
        "7:22: loader.sticks: a row of 3 and 10 from the loader; allowed: 12 in all, so 0 to 9",
        "loader: (sticks: 9)",
    ),
    (
        "loader: (sticks: 1, fork_spread_m: 4, off_middle_m: 0.6)",
        "7:40: loader.fork_spread_m: forks 4.00 m apart in a room of 5.21 m between the rails, 0.60 m off its middle; allowed: 3.86 m and less",
        "loader: (sticks: 1, fork_spread_m: 3.86, off_middle_m: 0.6)",
    ),
    (
        "loader: (sticks: 1, off_middle_m: 3)",
        "7:13: loader.fork_spread_m: forks 1.20 m apart in a room of 5.21 m between the rails, 3.00 m off its middle; allowed: rails further apart, or forks nearer to their middle",
        // Without a loader it does not matter.
        "loader: (sticks: 0, off_middle_m: 3)",
    ),
    // People
    (
        "people: [(duty: Operator, x_m: 3, z_m: 8), (duty: Operator, x_m: 4, z_m: 8)]",
        "7:55: people[2].duty: a second operator; allowed: one",
        "people: [(duty: Rigger, x_m: 3, z_m: 8), (duty: Rigger, x_m: 4, z_m: 8)]",
    ),
    (
        "people: [(duty: Spotter, x_m: 3, z_m: 8), (duty: Spotter, x_m: 4, z_m: 8)]",
        "7:54: people[2].duty: a second spotter; allowed: one",
        "people: [(duty: Spotter, x_m: 3, z_m: 8), (duty: Operator, x_m: 4, z_m: 8)]",
    ),
    (
        "people: [(duty: Operator, x_m: 1, z_m: 8)]",
        "7:36: people[1].x_m: this place is in the fusion machine; allowed: a place outside of it, which is x -1.10 to 1.10 m, z 6.49 to 8.90 m",
        "people: [(duty: Operator, x_m: 1.1, z_m: 8)]",
    ),
    (
        "people: [(duty: Rigger, x_m: 0, z_m: 2.1)]",
        "7:34: people[1].x_m: this place is in the near receiver arm; allowed: a place outside of it, which is x -0.33 to 0.28 m, z 1.96 to 2.21 m",
        "people: [(duty: Rigger, x_m: 0, z_m: 1.9)]",
    ),
    (
        "people: [(duty: Rigger, x_m: 0.45, z_m: -3.4)]",
        "7:34: people[1].x_m: this place is in the far cradle; allowed: a place outside of it, which is x -0.50 to 0.50 m, z -3.59 to -3.19 m",
        "people: [(duty: Rigger, x_m: 0.55, z_m: -3.4)]",
    ),
    (
        // Told of the place, not again of the way from there.
        "people: [(duty: Rigger, x_m: -2, z_m: -2.7, path: [(x_m: -2, z_m: 0)])]",
        "7:34: people[1].x_m: this place is in the far rail; allowed: a place outside of it, which is x -3.43 to -0.34 m, z -2.83 to -2.53 m",
        "people: [(duty: Rigger, x_m: -2, z_m: -2.5, path: [(x_m: -2, z_m: 0)])]",
    ),
    (
        "people: [(duty: Visitor, x_m: -14, z_m: 0)], loader: (sticks: 1)",
        "7:35: people[1].x_m: this place is in the parked loader; allowed: a place outside of it, which is x -17.72 to -12.11 m, z -1.25 to 1.25 m",
        "people: [(duty: LoaderDriver, x_m: -14, z_m: 0, path: [(x_m: -14, z_m: 5)])], loader: (sticks: 1)",
    ),
    (
        "people: [(duty: Rigger, x_m: -1.5, z_m: -8, path: [(x_m: -1.5, z_m: -6), (x_m: -1.5, z_m: 0), (x_m: 3, z_m: 0)])]",
        "7:84: people[1].path[2].x_m: the way there leads through the far rail; allowed: a way around it, which is x -3.43 to -0.34 m, z -2.83 to -2.53 m",
        "people: [(duty: Rigger, x_m: -4, z_m: -8, path: [(x_m: -4, z_m: 0), (x_m: 3, z_m: 0)])]",
    ),
    (
        "people: [(duty: Visitor, x_m: 3, z_m: 8, path: [(x_m: -3, z_m: 8)])]",
        "7:59: people[1].path[1].x_m: the way there leads through the fusion machine; allowed: a way around it, which is x -1.10 to 1.10 m, z 6.49 to 8.90 m",
        "people: [(duty: Visitor, x_m: 3, z_m: 8, path: [(x_m: 3, z_m: 9), (x_m: -3, z_m: 9)])]",
    ),
    // Zone
    (
        "zone: (cones: [(x_m: 0, z_m: 0), (x_m: 5, z_m: 5)])",
        "7:19: zone.cones: a zone of 2 cones; allowed: 3 to 40 cones, or [] for no zone",
        "zone: (cones: [(x_m: 0, z_m: 0), (x_m: 5, z_m: 5), (x_m: 0, z_m: 5)])",
    ),
    (
        "zone: (cones: [(x_m: 0, z_m: 0), (x_m: 5, z_m: 5), (x_m: 5, z_m: 0), (x_m: 0, z_m: 5)])",
        "7:56: zone.cones[3]: the side from here to cone 4 meets that from cone 1 to cone 2; allowed: cones in order around the zone",
        "zone: (cones: [(x_m: 0, z_m: 0), (x_m: 5, z_m: 0), (x_m: 5, z_m: 5), (x_m: 0, z_m: 5)])",
    ),
    (
        // The last side, back to the first cone, counts as well.
        "zone: (cones: [(x_m: 0, z_m: 0), (x_m: 5, z_m: 0), (x_m: 5, z_m: 5), (x_m: 6, z_m: 1)])",
        "7:74: zone.cones[4]: the side from here to cone 1 meets that from cone 2 to cone 3; allowed: cones in order around the zone",
        "zone: (cones: [(x_m: 0, z_m: 0), (x_m: 5, z_m: 0), (x_m: 5, z_m: 5), (x_m: 4, z_m: 4)])",
    ),
    (
        // A cone on another side touches it.
        "zone: (cones: [(x_m: 0, z_m: 0), (x_m: 5, z_m: 0), (x_m: 5, z_m: 5), (x_m: 2, z_m: 0)])",
        "7:56: zone.cones[3]: the side from here to cone 4 meets that from cone 1 to cone 2; allowed: cones in order around the zone",
        "zone: (cones: [(x_m: 0, z_m: 0), (x_m: 5, z_m: 0), (x_m: 5, z_m: 5), (x_m: 2, z_m: 0.1)])",
    ),
    (
        "zone: (cones: [(x_m: 0, z_m: 0), (x_m: 5, z_m: 0), (x_m: 2, z_m: 0)])",
        "7:38: zone.cones[2]: the side from here to cone 3 meets that from cone 1 to cone 2; allowed: cones in order around the zone",
        // A cone half way along a side is nothing wrong.
        "zone: (cones: [(x_m: 0, z_m: 0), (x_m: 2, z_m: 0), (x_m: 5, z_m: 0), (x_m: 5, z_m: 5)])",
    ),
    (
        "zone: (cones: [(x_m: 0, z_m: 0), (x_m: 5, z_m: 5), (x_m: 0, z_m: 5), (x_m: 0, z_m: 0.09)])",
        "7:74: zone.cones[4]: stands 0.09 m from cone 1; allowed: 0.1 m and more between cones",
        "zone: (cones: [(x_m: 0, z_m: 0), (x_m: 5, z_m: 5), (x_m: 0, z_m: 5), (x_m: 0, z_m: 0.11)])",
    ),
    (
        "zone: (cones: [(x_m: 0, z_m: 0), (x_m: 5, z_m: 5), (x_m: 0, z_m: 0.3)])",
        "7:19: zone.cones: a zone of 0.75 m²; allowed: 1 m² and more",
        "zone: (cones: [(x_m: 0, z_m: 0), (x_m: 5, z_m: 5), (x_m: 0, z_m: 0.5)])",
    ),
    // Faults
    (
        "escapement: (kind: StarWheel), faults: (near_rail: (gate_stuck: true))",
        "7:69: faults.near_rail.gate_stuck: a star wheel has no pins; allowed: false, or escapement.kind: PinPair",
        "faults: (near_rail: (gate_stuck: true))",
    ),
    (
        "faults: (receiver: (slowness: 0.9))",
        "7:35: faults.receiver.slowness: found 0.9; allowed: 1 to 10",
        "faults: (receiver: (slowness: 1))",
    ),
    (
        // Nothing pushes a stick round, and rollers have no rod that could give way.
        "faults: (turn: (creep_mm_per_s: 2))",
        "7:21: faults.turn.creep_mm_per_s: no such field; allowed: slowness, crossed, coupler or sticks_s; did you mean faults.receiver.creep_mm_per_s?",
        "faults: (advance: (creep_mm_per_s: 2))",
    ),
    (
        "faults: (advance: (air_mm: 20))",
        "7:24: faults.advance.air_mm: no such field; allowed: slowness, crossed, coupler, sticks_s or creep_mm_per_s; did you mean faults.receiver.air_mm?",
        "faults: (receiver: (air_mm: 20))",
    ),
    (
        "faults: (turn: (coupler: half))",
        "7:30: faults.turn.coupler: found half; allowed: Latched, Half or Off; did you mean Half?",
        "faults: (turn: (coupler: Half), power_fails_s: None)",
    ),
];

#[test]
fn parts_that_do_not_fit_are_refused_and_their_neighbours_are_not() {
    let mut wrong = Vec::new();
    for (misfit, expected, neighbour) in MISFITS {
        let found = faults(&with(misfit));
        if found != [format!("f.ron:{expected}")] {
            wrong.push((misfit, found));
        }
        let found = faults(&with(neighbour));
        if !found.is_empty() {
            wrong.push((neighbour, found));
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}

/// The same with fields of the rack, the row and the pipe that are in the sound file already.
#[test]
fn a_rack_that_does_not_fit_the_rest_is_refused() {
    let cases: &[(&str, &str, &str, &str)] = &[
        (
            "pitch_deg: 5",
            "rail_spacing_m: 6.6",
            "6:28: rack.rail_spacing_m: cradles 6.77 m apart rise into the rails; allowed: rails elsewhere, or cradles.spacing_m: 6.11 m and less, or 7.09 m and more",
            "rail_spacing_m: 6.6), cradles: (spacing_m: 7.09",
        ),
        (
            "pitch_deg: 5",
            "rail_spacing_m: 12), cradles: (spacing_m: 4.5",
            "6:28: rack.rail_spacing_m: the machine's end stands 791 mm over the near rail; allowed: rails closer together, or machine.near_cradle_to_jaws_m: 5.11 m and more",
            "rail_spacing_m: 12), cradles: (spacing_m: 4.5), machine: (near_cradle_to_jaws_m: 5.11",
        ),
        (
            "pitch_deg: 5",
            // Set for large pipe: of a smaller one's parts the receiver is the lowest.
            "toe_height_m: 0.42), receiver: (travel_m: 0.1), escapement: (size_setting: Ips(63)",
            "6:26: rack.toe_height_m: with a toe 0.42 m high the lowered near cradle is 0.02 m under the ground; allowed: 0.45 m and more, or ground that falls less",
            "toe_height_m: 0.45), receiver: (travel_m: 0.1), escapement: (size_setting: Ips(63)",
        ),
        (
            "pitch_deg: 5",
            "length_m: 3.5), loader: (sticks: 2",
            "6:22: rack.length_m: a rack of 3.50 m is too short for a row of 3 and 2 from the loader; allowed: 3.54 m and more",
            "length_m: 3.54), loader: (sticks: 2",
        ),
        (
            // 0.89 m of tips before the stick.
            "pitch_deg: 5",
            "length_m: 4.4), loader: (sticks: 2, fork_length_m: 1.5",
            "6:22: rack.length_m: a rack of 4.40 m is too short for a row of 3 and 2 from the loader, whose forks reach 0.89 m beyond a stick; allowed: 4.43 m and more, or shorter forks",
            "length_m: 4.43), loader: (sticks: 2, fork_length_m: 1.5",
        ),
        (
            "pitch_deg: 5",
            "length_m: 4.42), loader: (sticks: 2, fork_length_m: 1.5",
            "6:22: rack.length_m: a rack of 4.42 m is too short for a row of 3 and 2 from the loader, whose forks reach 0.89 m beyond a stick; allowed: 4.43 m and more, or shorter forks",
            "length_m: 4.42), loader: (sticks: 2, fork_length_m: 1.49",
        ),
        (
            "pitch_deg: 5",
            "rail_spacing_m: 2.44), loader: (sticks: 1, fork_spread_m: 2.2",
            "6:70: loader.fork_spread_m: forks 2.20 m apart in a room of 2.29 m between the rails; allowed: 2.14 m and less",
            "rail_spacing_m: 2.44), loader: (sticks: 1, fork_spread_m: 2.14",
        ),
        (
            "Dr(17)",
            "Dr(17), length_m: 5.9",
            "4:51: pipe.length_m: found 5.9; allowed: 6 to 25 m",
            "Dr(17), length_m: 6",
        ),
        (
            "sticks: 3",
            "sticks: 3, overrides: [(stick: 2, length_m: 5.9)]",
            "5:55: row.overrides[1].length_m: found 5.9; allowed: 6 to 25 m",
            "sticks: 3, overrides: [(stick: 2, length_m: 6)]",
        ),
    ];
    let mut wrong = Vec::new();
    for (from, misfit, expected, neighbour) in cases {
        let found = faults(&GOOD.replace(from, misfit));
        if found != [format!("f.ron:{expected}")] {
            wrong.push((misfit, found));
        }
        let found = faults(&GOOD.replace(from, neighbour));
        if !found.is_empty() {
            wrong.push((neighbour, found));
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}

#[test]
fn parts_are_judged_only_where_their_fields_are_sure() {
    for (text, expected) in [
        // The spacing that is meant may well fit.
        (
            with("cradles: (spacing_m: 40), machine: (near_cradle_to_jaws_m: 1.5)"),
            &["cradles.spacing_m"][..],
        ),
        (
            with("machine: (half_length_m: 9), people: [(duty: Rigger, x_m: 1, z_m: 8)]"),
            &["machine.half_length_m"],
        ),
        (
            with("people: [(duty: Boss, x_m: 900, z_m: 8, path: [(z_m: 3), 5])]"),
            &[
                "people[1].duty",
                "people[1].x_m",
                "people[1].path[1].x_m",
                "people[1].path[2]",
            ],
        ),
        (
            with("zone: (cones: [(x_m: 0, z_m: 0), (x_m: 5)])"),
            &["zone.cones[2].z_m"],
        ),
        // And beside other faults where they are.
        (
            with(
                "cradles: (spacing_m: 4, lift_time_s: 0), people: [(duty: Rigger, x_m: 1, z_m: 300), (duty: Spotter, x_m: 9, z_m: 0), (duty: Spotter, x_m: 9, z_m: 0)]",
            ),
            &["cradles.lift_time_s", "people[1].z_m", "people[3].duty"],
        ),
    ] {
        let faults = parse("f.ron", &text).expect_err(&text);
        let paths: Vec<&str> = faults.iter().map(|fault| fault.path.as_str()).collect();
        assert_eq!(paths, expected, "{text}");
    }
}

#[test]
fn a_set_out_that_is_not_the_trades_is_warned_of() {
    let cases: &[(&str, &[&str])] = &[
        (
            "cradles: (spacing_m: 6.2)",
            &["7:26: cradles.spacing_m: 6.20 m apart: common practice is 6.77 m for this stick"],
        ),
        (
            "machine: (near_cradle_to_jaws_m: 3.5)",
            &[
                "7:38: machine.near_cradle_to_jaws_m: a seated stick reaches 0.41 m into the machine",
            ],
        ),
        (
            "machine: (near_cradle_to_jaws_m: 5.2)",
            &[
                "7:38: machine.near_cradle_to_jaws_m: after the advance the tail is 0.22 m beyond the far cradle; common practice is 0.30 m and more",
            ],
        ),
        (
            "machine: (near_cradle_to_jaws_m: 6.9)",
            &[
                "7:38: machine.near_cradle_to_jaws_m: after the advance the tail is 1.48 m off the far cradle",
                "7:38: machine.near_cradle_to_jaws_m: after the advance the stick's middle is 0.81 m beyond the near cradle: it tips",
            ],
        ),
        (
            "cradles: (near: (offset_mm: 200), far: (offset_mm: -120))",
            &[
                "7:33: cradles.near.offset_mm: 200 mm off the line's centre, and the side-shift covers 120 mm to either side",
            ],
        ),
        (
            "cradles: (near: (lean_deg: 1.5))",
            &["7:32: cradles.near.lean_deg: 1.5 deg: a column is set plumb"],
        ),
        (
            "ground: (subgrade_mn_per_m3: 5)",
            &[
                "7:34: ground.subgrade_mn_per_m3: 5 MN/m³: soft clay has about 10, dense gravel about 100",
            ],
        ),
        (
            "contact: (friction_rubber_dry: 0.7)",
            &[
                "7:36: contact.friction_rubber_dry: 0.7: outside what is usually assumed for this pair",
            ],
        ),
        (
            "contact: (friction_rubber_wet: 0.45, friction_rubber_dry: 0.4)",
            &["7:36: contact.friction_rubber_wet: 0.45 is more than the 0.4 of dry rubber"],
        ),
        (
            "loader: (sticks: 1, capacity_kg: 700)",
            &[
                "7:38: loader.capacity_kg: a stick of 795 kg, 0.30 m before the forks' face, where they carry 700 kg",
            ],
        ),
        (
            "loader: (sticks: 1, fork_length_m: 0.4)",
            &[
                "7:40: loader.fork_length_m: 0.40 m under a stick of OD 0.61 m: common practice is two thirds of the diameter, 0.41 m, and more",
            ],
        ),
        (
            "loader: (sticks: 1, braking_m_per_s2: 0.9)",
            &[
                "7:43: loader.braking_m_per_s2: braking at 0.9 m/s² with the forks tilted back by 5.0 deg: from 0.86 m/s² a stick leaves the forks' face",
            ],
        ),
        (
            "loader: (sticks: 1, back_tilt_deg: 2)",
            &[
                "7:40: loader.back_tilt_deg: braking at 0.4 m/s² with the forks tilted back by 2.0 deg: from 0.34 m/s² a stick leaves the forks' face",
            ],
        ),
        (
            "loader: (sticks: 1), ground: (cross_fall_deg: 3)",
            &[
                "7:51: ground.cross_fall_deg: braking at 0.4 m/s² with the forks tilted back by 5.0 deg on ground that falls 3.0 deg towards the line: from 0.34 m/s² a stick leaves the forks' face",
            ],
        ),
        (
            "loader: (sticks: 1, back_tilt_deg: 2), ground: (cross_fall_deg: 2.5)",
            &[
                "7:40: loader.back_tilt_deg: braking at 0.4 m/s² with the forks tilted back by 2.0 deg on ground that falls 2.5 deg towards the line: a stick does not stay at the forks' face even without",
            ],
        ),
        (
            "people: [(duty: Visitor, x_m: 9, z_m: 9, walking_m_per_s: 3)]",
            &["7:63: people[1].walking_m_per_s: 3 m/s: people walk at 0.8 to 2 m/s"],
        ),
    ];
    for (more, expected) in cases {
        let expected: Vec<String> = expected
            .iter()
            .map(|text| format!("f.ron:{text}"))
            .collect();
        assert_eq!(warnings(&with(more)), expected, "{more}");
    }
    for (from, to, expected) in [
        (
            "pitch_deg: 5",
            "rated_load_kn: 23",
            "6:27: rack.rated_load_kn: the sticks weigh 23 kN, and the rack is rated for 23 kN",
        ),
        (
            "sticks: 3",
            "offset_m: 1",
            "5:21: row.offset_m: stick 1, seated as it lies, reaches 0.60 m into the machine",
        ),
    ] {
        let expected = format!("f.ron:{expected}");
        assert_eq!(warnings(&GOOD.replace(from, to)), [expected], "{to}");
    }
    // The load of the sticks that the loader brings counts.
    let loaded = with("loader: (sticks: 1)").replace("pitch_deg: 5", "rated_load_kn: 24");
    assert_eq!(warnings(&loaded).len(), 1);
    assert_eq!(
        warnings(&GOOD.replace("pitch_deg: 5", "rated_load_kn: 24")),
        [""; 0]
    );
    for loader in [
        "(sticks: 9)",
        "(sticks: 0, capacity_kg: 700)",
        "(sticks: 1, fork_length_m: 0.41)",
        "(sticks: 0, fork_length_m: 0.4)",
        "(sticks: 1, braking_m_per_s2: 0.85)",
        "(sticks: 0, braking_m_per_s2: 5)",
        "(sticks: 1), ground: (cross_fall_deg: 2.6)",
        // Ground that rises towards the line helps.
        "(sticks: 1, braking_m_per_s2: 1), ground: (cross_fall_deg: -1)",
    ] {
        assert_eq!(warnings(&with(&format!("loader: {loader}"))), [""; 0]);
    }
}

#[test]
fn sticks_of_another_length_are_held_against_the_cradles() {
    let row = |row: &str| GOOD.replace("sticks: 3", &format!("sticks: 3, {row}"));
    let warned = |text: &str| -> Vec<String> {
        let cut = |told: String| told.trim_start_matches("f.ron:").to_owned();
        warnings(text).into_iter().map(cut).collect()
    };
    // Cradles 6.77 m apart, their faces 0.3 m long.
    assert_eq!(
        warned(&row("overrides: [(stick: 2, length_m: 6)]")),
        ["5:55: row.overrides[1].length_m: stick 2 of 6.00 m does not reach both cradles"]
    );
    assert_eq!(
        warned(&row("overrides: [(stick: 2, length_m: 7.07)]"))[0],
        "5:55: row.overrides[1].length_m: stick 2 of 7.07 m does not reach both cradles"
    );
    let reaches = warned(&row("overrides: [(stick: 2, length_m: 7.08)]"));
    assert_eq!(
        reaches,
        [
            "5:55: row.overrides[1].length_m: stick 2 of 7.08 m: cradles 6.77 m apart: common practice is 3.93 m for this stick",
            "5:55: row.overrides[1].length_m: stick 2 of 7.08 m: after the advance the tail is 4.01 m off the far cradle",
            "5:55: row.overrides[1].length_m: stick 2 of 7.08 m: after the advance the stick's middle is 0.77 m beyond the near cradle: it tips",
        ]
    );
    assert_eq!(
        warned(&row("overrides: [(stick: 2, length_m: 11.8)]")),
        [""; 0]
    );
    assert_eq!(
        warned(&row("overrides: [(stick: 2, offset_m: -2.6)]")),
        [
            "5:55: row.overrides[1].offset_m: stick 2, -2.60 m off the middle, does not reach both cradles"
        ]
    );
    assert_eq!(
        warned(&row("overrides: [(stick: 2, offset_m: -2.5)]")),
        [""; 0]
    );
    assert_eq!(
        warned(&row("overrides: [(stick: 2, length_m: 14)]")),
        [
            "5:55: row.overrides[1].length_m: stick 2 of 14.00 m: cradles 6.77 m apart: common practice is 7.78 m for this stick",
            "5:55: row.overrides[1].length_m: stick 2, seated as it lies, reaches 0.51 m into the machine",
        ]
    );
    // The row's own length is told once, and cradles that only one stick reaches are no fault.
    let mixed = row("overrides: [(stick: 2, length_m: 12.19)]")
        .replace("Dr(17)", "Dr(17), length_m: 6")
        .replace("pitch_deg: 5", "pitch_deg: 5), cradles: (spacing_m: 6.77");
    assert_eq!(
        warned(&mixed),
        [
            "1:1: machine.near_cradle_to_jaws_m: after the advance the tail is 3.71 m off the far cradle",
            "4:51: pipe.length_m: stick 1 of 6.00 m does not reach both cradles",
            "5:55: row.overrides[1].length_m: stick 2, seated as it lies, reaches 0.98 m into the machine",
            "6:48: cradles.spacing_m: 6.77 m apart: common practice is 3.33 m for this stick",
        ]
    );
}

#[test]
fn shipped_scenarios_are_set_out_as_the_trade_does() {
    for file in shipped() {
        let Loaded {
            scenario, warnings, ..
        } = scenario::load(&file).expect("sound");
        for warning in warnings {
            for part in ["cradles", "machine", "loader", "people"] {
                assert!(!warning.path.starts_with(part), "{warning}");
            }
        }
        let people = scenario.line.people.iter();
        let crew = people.filter(|person| person.duty != Duty::Visitor).count();
        let with_driver = 4 + usize::from(scenario.line.loader.is_some());
        assert_eq!(crew, with_driver, "{}", file.display());
    }
}

#[test]
fn crowds_and_forests_of_cones_are_refused_quickly() {
    let cones = "(x_m:1,z_m:2),".repeat(60_000);
    let person = "(duty:Rigger,x_m:1,z_m:20),".repeat(30_000);
    let crowd = faults(&with(&format!("people: [{person}]")));
    assert_eq!(
        crowd,
        ["f.ron:7:13: people: 30000 people; allowed: 20 and fewer"]
    );
    let forest = faults(&with(&format!("zone: (cones: [{cones}])")));
    assert_eq!(
        forest,
        [
            "f.ron:7:19: zone.cones: a zone of 60000 cones; allowed: 3 to 40 cones, or [] for no zone"
        ]
    );
    let wanderer = faults(&with(&format!(
        "people: [(duty: Rigger, x_m: 0, z_m: 0, path: [{cones}])]"
    )));
    assert_eq!(
        wanderer,
        ["f.ron:7:51: people[1].path: a path of 60000 points; allowed: 50 and fewer"]
    );
}

// Chance

const AS_WRITTEN: &str = "scatter: (gap_mm: 0, long_axis_deg: 0, yaw_deg: 0, offset_m: 0)";

fn with_row(row: &str) -> Scenario {
    parse("f.ron", &GOOD.replace("sticks: 3", row))
        .unwrap_or_else(|faults| panic!("{faults:#?}"))
        .scenario
}

#[test]
fn a_row_without_scatter_is_loaded_exactly_as_written() {
    for row in [
        "sticks: 5, ",
        "sticks: 2, gap_mm: 46, yaw_deg: 1, ",
        "sticks: 3, gap_mm: 107, offset_m: 3.4, overrides: [(stick: 3, yaw_deg: 1)], ",
        "sticks: 1, offset_m: -3.4132, long_axis_deg: -90, ",
    ] {
        let scenario = with_row(&format!("{row}{AS_WRITTEN}"));
        for seed in [0, 1, u64::MAX] {
            assert_eq!(scenario.line_for(seed), scenario.line, "{row}");
        }
    }
}

#[test]
fn the_seed_decides_how_a_row_is_loaded_and_nothing_else_does() {
    let scenario = with_row("sticks: 4");
    let lines: Vec<_> = (0..50).map(|seed| scenario.line_for(seed)).collect();
    for (seed, line) in lines.iter().enumerate() {
        assert_eq!(*line, scenario.line_for(seed as u64));
        assert!(lines[..seed].iter().all(|other| other != line));
        let mut unscattered = line.clone();
        unscattered.sticks.clone_from(&scenario.line.sticks);
        assert_eq!(unscattered, scenario.line);
    }
    // The row does not depend on what is behind it or on the size of the other deviations.
    let longer = with_row("sticks: 6, scatter: (yaw_deg: 0.1, long_axis_deg: 0)").line_for(7);
    for (stick, other) in lines[7].sticks.iter().zip(&longer.sticks) {
        assert_eq!(
            (stick.yaw_rad, stick.offset_m, stick.gap_m),
            (other.yaw_rad, other.offset_m, other.gap_m)
        );
    }
}

#[test]
fn deviations_fill_their_ranges_evenly() {
    let scenario = with_row("sticks: 12, long_axis_deg: 20, offset_m: 0.5");
    let (mut sums, mut most) = ([0.0; 3], [0.0_f64; 3]);
    let (mut count, mut narrowest) = (0.0, f64::INFINITY);
    for stick in (0..500).flat_map(|seed| scenario.line_for(seed).sticks) {
        let parts = [
            (stick.long_axis_rad.to_degrees() - 20.0) / 3.0,
            stick.yaw_rad.to_degrees() / 0.1,
            (stick.offset_m - 0.5) / 0.02,
        ];
        for (i, part) in parts.into_iter().enumerate() {
            sums[i] += part * part;
            most[i] = most[i].max(part.abs());
        }
        narrowest = f64::min(narrowest, stick.gap_m);
        count += 1.0;
    }
    for i in 0..3 {
        assert!((0.999..=1.0 + 1e-9).contains(&most[i]), "{most:?}");
        // The mean square of an even deviation of -1 to 1.
        assert!((sums[i] / count - 1.0 / 3.0).abs() < 0.01, "{sums:?}");
    }
    assert!(narrowest >= 0.0);
}

/// Gap, long axis, yaw and offset of each stick. They must come out the same on every machine and in
/// every later version, or the seeds in people's files mean something else.
#[rustfmt::skip]
const SEED_1: [[f64; 4]; 3] = [
    [0.0031717825460202695, 0.039415900337241426, 0.00023814650806273897, 0.006482402536939444],
    [0.0024033086013238647, 0.019136578269910855, 0.0006077580816413952, -0.0037927238915499385],
    [0.011802405423965327, -0.017104262870176377, -0.0010545182244745994, -0.003447732972192341],
];

#[test]
fn seed_1_means_what_it_always_meant() {
    let line = shipped_named("first-release.ron").scenario.line_for(1);
    let loaded: Vec<[f64; 4]> = line
        .sticks
        .iter()
        .map(|s| [s.gap_m, s.long_axis_rad, s.yaw_rad, s.offset_m])
        .collect();
    assert_eq!(loaded, SEED_1);
}

#[test]
fn sticks_loaded_at_a_rails_end_stay_on_it() {
    let scenario = with_row("sticks: 12, offset_m: 3.41, scatter: (offset_m: 1, yaw_deg: 0.5)");
    let mut nearest = f64::INFINITY;
    for stick in (0..40).flat_map(|seed| scenario.line_for(seed).sticks) {
        let over_rail_m = 0.5 * scenario.line.rack.rail_spacing_m / stick.yaw_rad.cos();
        let spare_m = 0.5 * stick.pipe.length_m - (over_rail_m + stick.offset_m);
        let spare_m = spare_m.min(0.5 * stick.pipe.length_m - (over_rail_m - stick.offset_m));
        nearest = nearest.min(spare_m);
    }
    assert!((0.0..0.01).contains(&nearest), "{nearest}");
}

// Hostile files

#[test]
fn wrongly_encoded_files_say_where() {
    let shown = |bytes: &[u8]| {
        let faults = parse_bytes("f.ron", bytes).expect_err("it is not UTF-8 text");
        assert_eq!(faults.len(), 1);
        faults[0].to_string()
    };
    assert_eq!(
        shown(b"(format: 1,\n name: \"\xff\")"),
        "f.ron:2:9: byte 0xFF at offset 20 is not UTF-8; allowed: UTF-8; save it again with that encoding"
    );
    for utf16 in [&b"\xff\xfe(\0)\0"[..], &b"\xfe\xff\0(\0)"[..]] {
        assert_eq!(
            shown(utf16),
            "f.ron:1:1: the file is encoded as UTF-16; allowed: UTF-8; save it again with that encoding"
        );
    }
    assert_eq!(
        shown(b"(\0f\0o\0"),
        "f.ron:1:2: a NUL byte at offset 1; allowed: text only; is this a binary or UTF-16 file?"
    );
}

#[test]
fn a_byte_order_mark_and_foreign_line_ends_are_welcome() {
    let text = format!("\u{feff}{}", GOOD.replace('\n', "\r\n"));
    let loaded = parse("f.ron", &text).unwrap_or_else(|faults| panic!("{faults:#?}"));
    assert!(loaded.text.starts_with('('));
    let wrong = text.replace("pitch_deg: 5", "pitch_deg: 50");
    assert!(faults(&wrong)[0].starts_with("f.ron:6:23: rack.pitch_deg"));
    let wrong = text.replace("(\r\n", "(x: 1,\r\n");
    assert!(faults(&wrong)[0].starts_with("f.ron:1:2: x: no such field"));
}

#[test]
fn deep_and_long_files_are_refused_quickly() {
    for text in [
        "(".repeat(500_000),
        "[".repeat(500_000),
        "a:(".repeat(1000),
        "(a:".repeat(100_000),
        "Some(".repeat(100_000),
    ] {
        let faults = faults(&text);
        assert_eq!(faults.len(), 1, "{faults:?}");
    }
    assert!(faults(&"(a:".repeat(100))[0].contains("nested deeper than 32"));
    assert!(faults(&"/*".repeat(500_000))[0].contains("never ends"));
    let large = " ".repeat(1024 * 1024 + 1);
    assert_eq!(
        faults(&large),
        ["f.ron:1:1: the file is larger than 1 MiB; allowed: at most 1048576 bytes"]
    );
    // As large as is allowed.
    let filled = format!("{GOOD}{}", " ".repeat(1024 * 1024 - GOOD.len()));
    assert_eq!(faults(&filled), [""; 0]);
}

#[test]
fn a_hundred_thousand_faults_are_counted_not_listed() {
    let unknown: String = (0..100_000).map(|n| format!("b{n}:1,")).collect();
    let repeated = "a:1,".repeat(200_000);
    let misfits = "7,".repeat(400_000);
    for text in [
        format!("({unknown})"),
        format!("({repeated})"),
        format!("(row: (overrides: [{misfits}]))"),
    ] {
        let faults = faults(&text);
        assert_eq!(faults.len(), 201);
        assert!(
            faults[200].ends_with("faults more, not listed"),
            "{}",
            faults[200]
        );
    }
}

#[test]
fn long_and_odd_pieces_of_a_file_are_cut_and_cleaned_in_messages() {
    let text = GOOD.replace("pitch_deg: 5", &format!("{}: 5", "n".repeat(10_000)));
    assert!(faults(&text)[0].len() < 400);
    let text = GOOD.replace("pitch_deg: 5", "surface: \"\u{1b}[31m\u{202e}\"");
    let shown = &faults(&text)[0];
    assert!(shown.contains("\\u{1b}[31m\\u{202e}"), "{shown}");
}

#[test]
fn only_regular_files_are_read() {
    let folder = tempfile::tempdir().expect("a folder");
    let said = |path: &Path| match scenario::load(path) {
        Err(LoadError::Unreadable { why, .. }) => english().say(&why),
        other => panic!("{other:?}"),
    };
    assert_eq!(
        said(&folder.path().join("none.ron")),
        "there is no such file"
    );
    assert_eq!(
        said(folder.path()),
        "this is a directory; allowed: a scenario file"
    );
    #[cfg(unix)]
    {
        assert_eq!(
            said(Path::new("/dev/zero")),
            "this is no regular file; allowed: a scenario file"
        );
        let pipe = folder.path().join("pipe.ron");
        let made = std::process::Command::new("mkfifo").arg(&pipe).status();
        if made.is_ok_and(|status| status.success()) {
            assert_eq!(
                said(&pipe),
                "this is no regular file; allowed: a scenario file"
            );
        }
    }
    #[cfg(unix)]
    {
        use std::os::unix::fs::{PermissionsExt, symlink};
        let link = |target: &Path, name: &str| {
            let link = folder.path().join(name);
            symlink(target, &link).expect("a link");
            link
        };
        assert_eq!(
            said(&link(Path::new("/dev/zero"), "zero.ron")),
            "this is no regular file; allowed: a scenario file"
        );
        assert_eq!(
            said(&link(folder.path(), "folder.ron")),
            "this is a directory; allowed: a scenario file"
        );
        assert_eq!(
            said(&link(Path::new("nowhere.ron"), "dangling.ron")),
            "there is no such file"
        );
        let round = link(Path::new("round.ron"), "round.ron");
        assert!(said(&round).starts_with("it cannot be read: "));
        let locked = folder.path().join("locked.ron");
        fs::write(&locked, GOOD).expect("a file");
        fs::set_permissions(&locked, fs::Permissions::from_mode(0o000)).expect("a mode");
        // Some users may read everything.
        if fs::File::open(&locked).is_err() {
            assert_eq!(said(&locked), "reading it is not permitted");
        }
        assert!(said(Path::new("a\0b.ron")).starts_with("it cannot be read: "));
    }
    // Regular by its looks, and reading it fails.
    #[cfg(target_os = "linux")]
    assert!(said(Path::new("/proc/self/mem")).starts_with("it cannot be read: "));
    let large = folder.path().join("large.ron");
    fs::File::create(&large)
        .and_then(|file| file.set_len(1 << 40))
        .or_else(|_| fs::write(&large, " ".repeat(2 << 20)))
        .expect("a large file");
    let error = scenario::load(&large).expect_err("it is too large");
    assert!(error.to_string().contains("larger than 1 MiB"), "{error}");
}

#[test]
fn files_cut_off_anywhere_say_where_they_end() {
    let folder = tempfile::tempdir().expect("a folder");
    let whole = fs::read(root().join("scenarios/askew.ron")).expect("a file");
    let closing = whole
        .iter()
        .rposition(|byte| *byte == b')')
        .expect("a bracket");
    let cut = folder.path().join("cut.ron");
    for length in 0..=closing {
        fs::write(&cut, &whole[..length]).expect("a file");
        let error = scenario::load(&cut).expect_err("it is cut off");
        assert!(
            matches!(&error, LoadError::Faulty(faults) if !faults.is_empty()),
            "{error}"
        );
        assert!(
            error.to_string().starts_with(&cut.display().to_string()),
            "{error}"
        );
    }
    fs::write(&cut, &whole[..=closing]).expect("a file");
    assert!(scenario::load(&cut).is_ok());
}

// The command

/// What the command prints, and its exit status.
fn checked(files: Vec<PathBuf>, fields: bool) -> (String, u8) {
    let mut printed = Vec::new();
    let status = check(&CheckArgs { files, fields }, english(), &mut printed);
    (String::from_utf8(printed).expect("text"), status)
}

#[test]
fn check_exits_0_for_sound_files_and_2_otherwise() {
    let (printed, status) = checked(shipped(), false);
    assert_eq!(status, 0);
    assert_eq!(printed.matches(": ok: ").count(), 22);

    let folder = tempfile::tempdir().expect("a folder");
    let wrong = folder.path().join("wrong.ron");
    fs::write(&wrong, GOOD.replace("pitch_deg", "pich_deg")).expect("a file");
    let mut files = shipped();
    files.insert(1, wrong.clone());
    let (printed, status) = checked(files, false);
    assert_eq!(status, 2);
    // The others are checked all the same.
    assert_eq!(printed.matches(": ok: ").count(), 22);
    let wrong = wrong.display();
    assert!(printed.contains(&format!("{wrong}:6:12: rack.pich_deg: no such field")));
    assert!(printed.contains(&format!("{wrong}: 1 fault\n")));

    let missing = folder.path().join("none.ron");
    let (printed, status) = checked(vec![missing.clone()], false);
    assert_eq!(status, 2);
    assert_eq!(
        printed,
        format!("{}: there is no such file\n", missing.display())
    );
}

#[test]
fn check_says_in_a_line_what_a_sound_file_holds() {
    let file = root().join("scenarios/glazed-rail.ron");
    let (printed, _) = checked(vec![file.clone()], false);
    assert_eq!(
        printed,
        format!(
            "{}: ok: Glazed rail; 3 sticks of OD 610 mm, wall 35.9 mm, 12.19 m long; near rail 5.0 deg dry, far rail 5.0 deg glazed; pin pair set for OD 610 mm\n",
            file.display()
        )
    );
}

#[test]
fn check_lists_the_fields() {
    assert_eq!(checked(Vec::new(), true), (field_reference(english()), 0));
}

#[test]
fn check_takes_files_or_asks_for_them() {
    #[derive(clap::Parser)]
    struct Command {
        #[command(flatten)]
        check: CheckArgs,
    }
    let parsed = |words: &[&str]| <Command as clap::Parser>::try_parse_from(words);
    assert!(parsed(&["check"]).is_err());
    assert_eq!(
        parsed(&["check", "a.ron", "b.ron"])
            .expect("files")
            .check
            .files
            .len(),
        2
    );
    assert!(parsed(&["check", "--fields"]).expect("fields").check.fields);
}

// Whatever the bytes

/// Either a sound scenario, or faults that lie in the file.
fn holds_up(bytes: &[u8]) -> Result<(), TestCaseError> {
    match parse_bytes("f.ron", bytes) {
        Ok(loaded) => {
            prop_assert!(!loaded.scenario.line.sticks.is_empty());
            for stick in &loaded.scenario.line.sticks {
                prop_assert!(stick.pipe.outside_diameter_m > 2.0 * stick.pipe.wall_avg_m);
                prop_assert!(stick.pipe.length_m.is_finite());
            }
        }
        Err(faults) => {
            prop_assert!(!faults.is_empty());
            let text = String::from_utf8_lossy(bytes);
            let lines: Vec<&str> = text.split('\n').collect();
            for fault in &faults {
                prop_assert!(fault.line >= 1 && fault.line <= lines.len(), "{fault}");
                let width = lines[fault.line - 1].chars().count();
                prop_assert!(fault.column >= 1 && fault.column <= width + 1, "{fault}");
                prop_assert!(!english().say(&fault.what).is_empty());
                let shown = fault.to_string();
                prop_assert!(!shown.contains(char::is_control), "{shown:?}");
            }
            let in_order = faults
                .windows(2)
                .all(|pair| (pair[0].line, pair[0].column) <= (pair[1].line, pair[1].column));
            prop_assert!(in_order);
        }
    }
    Ok(())
}

fn a_shipped_text() -> impl Strategy<Value = Vec<u8>> {
    let texts: Vec<Vec<u8>> = shipped()
        .iter()
        .map(|path| fs::read(path).expect("a file"))
        .chain([WHOLE.into()])
        .collect();
    prop::sample::select(texts)
}

/// Pieces that mean something to the reader.
fn piece() -> impl Strategy<Value = &'static str> {
    prop::sample::select(vec![
        "(",
        ")",
        "[",
        "]",
        ",",
        ":",
        "\"",
        "'",
        "\\",
        "//",
        "/*",
        "*/",
        "\n",
        " ",
        "-",
        ".",
        "_",
        "0x",
        "1e30",
        "NaN",
        "inf",
        "-inf",
        "1e999",
        "5",
        "1_0",
        "Some(",
        "None",
        "true",
        "Ips(24)",
        "Metric(630)",
        "Dr(17)",
        "Wall_mm(200)",
        "pipe",
        "size",
        "wall",
        "row",
        "rack",
        "sticks",
        "overrides",
        "stick",
        "people",
        "path",
        "zone",
        "cones",
        "(x_m: 1, z_m: 2)",
        "pitch_deg",
        "surface",
        "format",
        "name",
        "r#\"",
        "\"#",
        "#![enable(",
        "\u{feff}",
        "\u{e9}",
        "\u{1F600}",
        "\0",
        "{",
        "}",
        "b\"",
        "pipe: (size: Ips(24), wall: Dr(17))",
        "format: 1",
        "name: \"n\"",
    ])
}

// Any legal row

/// How deep a point lies in a stick: below 1 inside its section, and within its length.
fn depth(stick: &StickSpec, pose: &Pose, point: Vector) -> f64 {
    let local = pose.rotation.inverse() * (point - pose.translation);
    let oval = stick.pipe.oval();
    if f64::from(local.z.abs()) > 0.5 * stick.pipe.length_m {
        return f64::INFINITY;
    }
    let (u, v) = (
        f64::from(local.x) / oval.long_m,
        f64::from(local.y) / oval.short_m,
    );
    u * u + v * v
}

/// Points all over the surface of a stick, its ends included.
fn surface(stick: &StickSpec, pose: &Pose) -> Vec<Vector> {
    let oval = stick.pipe.oval();
    let mut points = Vec::new();
    for station in 0..=32 {
        let z = stick.pipe.length_m * (f64::from(station) / 32.0 - 0.5);
        for turn in 0..96 {
            let (s, c) = (f64::from(turn) * std::f64::consts::TAU / 96.0).sin_cos();
            let local = Vector::new(
                (oval.long_m * c) as f32,
                (oval.short_m * s) as f32,
                z as f32,
            );
            points.push(pose.translation + pose.rotation * local);
        }
    }
    points
}

/// Points on the edges of the raised gate's pins, by the right-handed line's directions.
fn gate(rig: &Rig) -> Vec<Vector> {
    let mut points = Vec::new();
    for side in End::BOTH {
        let along = rig.gate_corner_m;
        for height in [0.25, 0.5, 0.75, 1.0].map(|part| part * rig.gate_height_m) {
            let point = rig.on_rail(side, along, height);
            for edge in [-1.0, 0.0, 1.0] {
                let z = rig.pin_z_m(side) + edge * rig.pin_half_width_m();
                points.push(Vector::new(point.x_m as f32, point.y_m as f32, z as f32));
            }
        }
    }
    points
}

/// A row as tight as the checker lets it be: gaps at or just above what it asks for.
fn tight_row(
    sticks: &[(f64, f64, f64, f64, &'static str)],
    scatter: &str,
) -> Result<Scenario, TestCaseError> {
    let mut gaps = vec![0.0; sticks.len()];
    // Each round gives every stick that overlaps the gap it is told to need.
    for _ in 0..2 {
        let overrides: Vec<String> = sticks
            .iter()
            .zip(&gaps)
            .enumerate()
            .map(|(index, ((yaw, offset, axis, oval, size), gap))| {
                format!(
                    "(stick: {}, size: {size}, yaw_deg: {yaw}, offset_m: {offset}, long_axis_deg: {axis}, ovality_pct: {oval}, gap_mm: {gap})",
                    index + 1
                )
            })
            .collect();
        let row = format!(
            "sticks: {}, overrides: [{}], scatter: {scatter}",
            sticks.len(),
            overrides.join(", ")
        );
        let faults = match parse("f.ron", &GOOD.replace("sticks: 3", &row)) {
            Ok(loaded) => return Ok(loaded.scenario),
            Err(faults) => faults,
        };
        for fault in faults {
            let item = fault.path.strip_prefix("row.overrides[");
            let number = item.and_then(|rest| rest.split(']').next()?.parse::<usize>().ok());
            let allowed = fault
                .allowed
                .as_ref()
                .map(|allowed| english().fill(allowed));
            let asked = allowed.as_deref().and_then(|text| {
                text.strip_suffix(" mm and more for this stick")?
                    .parse()
                    .ok()
            });
            let (Some(number), Some(asked)) = (number, asked) else {
                return Err(TestCaseError::fail(fault.to_string()));
            };
            gaps[number - 1] = asked;
        }
    }
    Err(TestCaseError::fail("the gaps asked for are not enough"))
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 200, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn no_legal_scatter_makes_sticks_overlap_or_miss_the_rack(
        sticks in prop::collection::vec(
            (-4.0..4.0, -1.0..1.0, -90.0..90.0, 0.0..10.0, prop::sample::select(vec!["Ips(24)", "Ips(24)", "Metric(630)", "Ips(36)"])),
            1..6,
        ),
        gap in 0.0..500.0,
        axis in 0.0..90.0,
        yaw in 0.0..2.0,
        offset in 0.0..1.0,
        seed in any::<u64>(),
    ) {
        let scatter = format!("(gap_mm: {gap}, long_axis_deg: {axis}, yaw_deg: {yaw}, offset_m: {offset})");
        let scenario = tight_row(&sticks, &scatter)?;
        let spec = scenario.line_for(seed);
        let line = Line::build(&spec);
        let poses: Vec<Pose> = line.sticks().map(|stick| line.stick(stick).pose).collect();
        let lying: Vec<(&StickSpec, &Pose)> = spec.sticks.iter().zip(&poses).collect();
        // Single precision, and a micrometre that the checker forgives.
        let inside = 1.0 - 3e-5;
        for (stick, pose) in &lying[..1] {
            for point in gate(line.rig()) {
                prop_assert!(depth(stick, pose, point) > inside, "the gate is in the first stick");
            }
        }
        for pair in lying.windows(2) {
            for (one, other) in [(0, 1), (1, 0)] {
                for point in surface(pair[one].0, pair[one].1) {
                    let depth = depth(pair[other].0, pair[other].1, point);
                    prop_assert!(depth > inside, "a stick is in its neighbour: {depth}");
                }
            }
        }
        for (stick, meant) in spec.sticks.iter().zip(&scenario.line.sticks) {
            prop_assert!(stick.gap_m >= meant.gap_m);
        }
        prop_assert!(line.rig().rack_length_for(&spec.sticks) <= spec.rack.length_m);
        let last = line.sticks().last().expect("a stick");
        prop_assert!(line.along_m(last) + 0.5 * spec.sticks[0].pipe.outside_diameter_m < spec.rack.length_m);
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 2000, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn truncated_files_hold_up(text in a_shipped_text(), part in 0.0..1.0) {
        let end = (text.len() as f64 * part) as usize;
        holds_up(&text[..end])?;
    }

    #[test]
    fn mutated_files_hold_up(
        mut text in a_shipped_text(),
        changes in prop::collection::vec((any::<prop::sample::Index>(), any::<u8>(), 0..3), 1..8),
    ) {
        for (place, byte, how) in changes {
            let at = place.index(text.len());
            match how {
                0 => text[at] = byte,
                1 => text.insert(at, byte),
                _ => { text.remove(at); }
            }
        }
        holds_up(&text)?;
    }

    #[test]
    fn spliced_files_hold_up(
        mut text in a_shipped_text(),
        changes in prop::collection::vec((any::<prop::sample::Index>(), piece(), 0_usize..12), 1..6),
    ) {
        for (place, piece, gone) in changes {
            let at = place.index(text.len());
            let end = (at + gone).min(text.len());
            text.splice(at..end, piece.bytes());
        }
        holds_up(&text)?;
    }

    #[test]
    fn random_bytes_hold_up(bytes in prop::collection::vec(any::<u8>(), 0..400)) {
        holds_up(&bytes)?;
    }

    #[test]
    fn random_pieces_hold_up(pieces in prop::collection::vec(piece(), 0..60)) {
        holds_up(pieces.concat().as_bytes())?;
    }

    #[test]
    fn numbers_in_range_are_always_sound(pitch in 0.0..15.0, sticks in 1_u32..12, gap in 0.0..300.0, yaw in -0.2..0.2) {
        let text = GOOD
            .replace("pitch_deg: 5", &format!("pitch_deg: {pitch}"))
            .replace("sticks: 3", &format!("sticks: {sticks}, gap_mm: {}, yaw_deg: {yaw}", gap + 10.0));
        let loaded = parse("f.ron", &text);
        prop_assert!(loaded.is_ok(), "{:?}", loaded.err());
    }
}

#[test]
fn a_wheel_takes_only_what_fits_between_its_spokes() {
    let text = "(format: 1, name: \"x\", pipe: (size: Ips(24), wall: Dr(17)),\n row: (gap_mm: 300), escapement: (kind: StarWheel, size_setting: Ips(36)),\n faults: (far_rail: (gate_missing: true, gate_late_s: 0.5)))";
    let faults = parse("wheel.ron", text).expect_err("faults");
    let told: Vec<String> = faults.iter().map(ToString::to_string).collect();
    assert_eq!(
        told,
        [
            "wheel.ron:2:16: row.gap_mm: 303 mm before the first stick, scatter included; allowed: 0 to 36 mm: the first stick lies in the wheel's notch, or escapement.kind: PinPair",
            "wheel.ron:2:66: escapement.size_setting: stick 1 has an OD of 610 mm, the wheel is set for 914 mm; allowed: the wheel's own size: other sticks do not fit between its spokes, or escapement.kind: PinPair",
            "wheel.ron:3:36: faults.far_rail.gate_missing: a star wheel has no pins; allowed: false, or escapement.kind: PinPair",
        ]
    );
}
