//! Our core against MuJoCo and against the closed forms, on the scenes of tests/mujoco.
//!
//! MuJoCo's numbers are read from results.json, so nothing but Rust is needed here. With
//! `-- --nocapture` the comparison is printed as a table.

#[path = "common/scene.rs"]
mod scene;

use std::collections::HashMap;

use chockline::domain::math::{cos, deg, rad, tan};
use chockline::domain::pipe::{MetricStandard, Pipe, SizeSystem, Wall};
use scene::{Expectation, Scene, percent, scenes, text};
use serde::Deserialize;

/// The version that the README names.
const MUJOCO_VERSION: &str = "4.0.0";
const MEASURE_ANEW: &str =
    "python3 -m pip install mujoco==4.0.0 numpy && python3 tests/mujoco/cross_check.py";

/// Rolling and sliding, ours against the closed form. Contacts are elastic: an overlap of 0.2 mm,
/// several times what they have here, is 0.06 % of the smaller radius and changes the rolling radius
/// by as much. Single precision adds up to 0.01 % over the 480 steps.
const ROLLING_PERCENT: f64 = 0.1;

/// By how much MuJoCo's contact points trail on a cylinder, as a slope (tests/mujoco/README.md).
const MUJOCO_CYLINDER_SLOPE_DEG: f64 = 0.0008;

/// Resting forces, ours against the closed form and MuJoCo. Elastic rails 0.15 m wide share a weight
/// differently from knife edges by up to 0.02 % here (tests/mujoco/README.md); what is left of the
/// settling after one second must be less than that again.
const FORCE_PERCENT: f64 = 0.1;

/// MuJoCo's friction lifts a sliding tube a little at each step, so that it creeps, and gains speed
/// only from 13.05 to 13.1 degrees on (tests/mujoco/README.md).
const MUJOCO_CREEP_DEG: f64 = 0.1;

#[derive(Deserialize)]
struct Results {
    version: String,
    scenes_fnv1a_64: String,
    scenes: Vec<SceneResults>,
}

#[derive(Deserialize)]
struct SceneResults {
    id: String,
    results: Vec<Row>,
}

#[derive(Clone, Deserialize)]
struct Row {
    key: String,
    expected: f64,
    measured: f64,
    with_capsules: Option<f64>,
}

fn results() -> Results {
    serde_json::from_str(&text("results.json"))
        .unwrap_or_else(|error| panic!("results.json: {error}; measure anew: {MEASURE_ANEW}"))
}

/// MuJoCo's rows by scene and key.
fn rows() -> HashMap<(String, String), Row> {
    let of_scene = |s: SceneResults| {
        let id = s.id;
        s.results
            .into_iter()
            .map(move |row| ((id.clone(), row.key.clone()), row))
    };
    results().scenes.into_iter().flat_map(of_scene).collect()
}

/// FNV-1a, 64 bits: <http://www.isthe.com/chongo/tech/comp/fnv/>.
fn fnv1a_64(text: &str) -> u64 {
    text.bytes().fold(0xcbf2_9ce4_8422_2325, |hash, byte| {
        (hash ^ u64::from(byte)).wrapping_mul(0x0000_0100_0000_01b3)
    })
}

/// How far apart two values may be, in the values' own unit, and why.
struct Allowed {
    closed_form: f64,
    cylinders: f64,
    capsules: f64,
}

/// The threshold's criterion wants a gain of way, so it finds a tilt a little beyond the limit: by
/// this much, deg. Twice half the run at acceleration a differ by a (T/2)², and just beyond the limit
/// a grows by g/(1 + k) per radian for a tube that rolls out over a face and by g/cos δ for one that
/// slides lengthwise (derivatives of the scenes' own formulas).
fn criterion_deg(scene: &Scene, limit_deg: f64) -> f64 {
    let sweep = scene.sweep.as_ref().expect("thresholds have a sweep");
    let half_s = scene.duration_s / 2.0;
    let needed_g = sweep.sped_up_m / (half_s * half_s) / scene.gravity_m_s2;
    match scene.kind.as_str() {
        "v_cradle_roll_out" => deg(needed_g * (1.0 + scene.tubes[0].shape_factor())),
        "lengthwise_slide" => deg(needed_g * cos(rad(limit_deg))),
        other => panic!(
            "{}: no criterion known for kind {other}; add it here",
            scene.id
        ),
    }
}

fn allowed(scene: &Scene, e: &Expectation, want: f64) -> Allowed {
    let part = |percent: f64| want.abs() * percent / 100.0;
    match e.quantity.as_str() {
        "acceleration_m_s2" | "spin_acceleration_m_s2" => {
            // A slope error counts for the more, the flatter the slope.
            let trailing = rad(MUJOCO_CYLINDER_SLOPE_DEG) / tan(rad(scene.slope_deg()));
            Allowed {
                closed_form: part(ROLLING_PERCENT),
                cylinders: part(ROLLING_PERCENT + 100.0 * trailing),
                capsules: part(ROLLING_PERCENT),
            }
        }
        "normal_force_n" => Allowed {
            closed_form: part(FORCE_PERCENT),
            cylinders: part(FORCE_PERCENT),
            capsules: part(FORCE_PERCENT),
        },
        "threshold_deg" => {
            // The middle of a bracket is off by half its width, in either engine.
            let width = scene
                .sweep
                .as_ref()
                .map_or(0.0, |sweep| sweep.resolution_deg);
            let creep = if scene.kind == "lengthwise_slide" {
                MUJOCO_CREEP_DEG
            } else {
                0.0
            };
            Allowed {
                closed_form: width,
                cylinders: 2.0 * width + creep,
                capsules: 2.0 * width + creep,
            }
        }
        other => panic!("{}: no tolerance for {other}; derive one here", scene.id),
    }
}

#[test]
fn val_mujoco_results_belong_to_the_scenes() {
    let found = results();
    assert_eq!(
        found.version, MUJOCO_VERSION,
        "results.json is of another MuJoCo than the README names; measure anew: {MEASURE_ANEW}"
    );
    assert_eq!(
        found.scenes_fnv1a_64,
        format!("{:016x}", fnv1a_64(&text("scenes.json"))),
        "scenes.json has changed since MuJoCo measured it; run: python3 tests/mujoco/make_scenes.py && \
         {MEASURE_ANEW}"
    );
    let rows = rows();
    for scene in scenes("scenes.json") {
        for e in &scene.expect {
            let row = rows
                .get(&(scene.id.clone(), e.key.clone()))
                .unwrap_or_else(|| {
                    panic!(
                        "results.json lacks {} {}; measure anew: {MEASURE_ANEW}",
                        scene.id, e.key
                    )
                });
            let want = e.value.expect("scenes.json has closed forms only");
            assert!(
                // Six significant digits are written.
                percent(row.expected, want).abs() < 1.0e-3,
                "{} {}: results.json expects {}, scenes.json {want}; measure anew: {MEASURE_ANEW}",
                scene.id,
                e.key,
                row.expected
            );
        }
    }
}

/// The scenes' tubes are pipes of the tables: the same mass and the same inertia.
#[test]
fn val_scene_tubes_are_pipes() {
    let big = Pipe::from_size(SizeSystem::Ips { size_in: 36 }, Wall::Ratio(17.0), 12.19).unwrap();
    let p630 = Pipe::from_size(
        SizeSystem::Metric {
            dn_mm: 630,
            standard: MetricStandard::AsNzs4130,
        },
        Wall::Ratio(17.0),
        12.0,
    )
    .unwrap();
    for scene in scenes("scenes.json")
        .into_iter()
        .chain(scenes("bench_scenes.json"))
    {
        for tube in &scene.tubes {
            let built = tube.pipe();
            let inertia = built.principal_inertia();
            // The metric scenes have the nominal diameter and a wall a little under the table's mean.
            let (listed, k_percent) = match tube.name.as_str() {
                "36 in DR 17" => (&big, 0.1),
                "630 mm SDR 17" => (&p630, 0.5),
                other => panic!("{}: which pipe is {other}? add it here", scene.id),
            };
            let pairs = [
                ("mass", built.mass_kg(), tube.mass_kg, 0.1),
                (
                    "axial inertia",
                    inertia.tube_axis_kg_m2,
                    tube.inertia_axial_kg_m2,
                    0.1,
                ),
                (
                    "cross inertia",
                    inertia.long_axis_kg_m2,
                    tube.inertia_cross_kg_m2,
                    0.1,
                ),
                ("mass of the table", listed.mass_kg(), tube.mass_kg, 0.1),
                (
                    "k of the table",
                    listed.shape_factor(),
                    tube.shape_factor(),
                    k_percent,
                ),
            ];
            for (what, ours, theirs, allowed_percent) in pairs {
                assert!(
                    percent(ours, theirs).abs() < allowed_percent,
                    "{} {}: {what} is {ours} in our core and {theirs} in the scene; compare \
                     tests/mujoco/make_scenes.py with src/domain/pipe.rs",
                    scene.id,
                    tube.name
                );
            }
        }
    }
}

#[test]
fn val_core_agrees_with_the_closed_forms_and_with_mujoco() {
    let rows = rows();
    let mut problems = Vec::new();
    println!("| Scene | Quantity | Closed form | Ours | % | MuJoCo % | capsules % |");
    for scene in scenes("scenes.json") {
        let ours = scene.measure();
        for e in &scene.expect {
            let (got, want) = (ours[&e.key], e.value.expect("a closed form"));
            let row = rows
                .get(&(scene.id.clone(), e.key.clone()))
                .unwrap_or_else(|| {
                    panic!(
                        "results.json lacks {} {}; measure anew: {MEASURE_ANEW}",
                        scene.id, e.key
                    )
                });
            println!(
                "| {} | {} | {want:.6} | {got:.6} | {:+.4} | {:+.4} | {:+.4} |",
                scene.id,
                e.key,
                percent(got, want),
                percent(row.measured, want),
                row.with_capsules.map_or(f64::NAN, |c| percent(c, want)),
            );
            let allowed = allowed(&scene, e, want);
            let shift = match e.quantity.as_str() {
                "threshold_deg" => criterion_deg(&scene, want),
                _ => 0.0,
            };
            let others = [
                ("the closed form", Some(want + shift), allowed.closed_form),
                (
                    "MuJoCo with cylinders",
                    Some(row.measured),
                    allowed.cylinders,
                ),
                ("MuJoCo with capsules", row.with_capsules, allowed.capsules),
            ];
            for (name, value, allowed) in others {
                if let Some(value) = value
                    && (got - value).abs() > allowed
                {
                    problems.push(format!(
                        "{} {}: ours {got:.6}, {name} {value:.6}, allowed difference {allowed:.6}",
                        scene.id, e.key
                    ));
                }
            }
        }
        problems.extend(scene.problems(&ours));
    }
    assert!(
        problems.is_empty(),
        "the core has moved away from the closed forms or from MuJoCo; find out which change in src/sim \
         did it before touching a tolerance:\n{}",
        problems.join("\n")
    );
}

/// What the benchmark times is the state it claims to be: at rest, with the weight carried.
#[test]
fn val_timing_scenes_stay_put_and_carry_the_weight() {
    let mut problems = Vec::new();
    for scene in scenes("bench_scenes.json") {
        assert_eq!(
            scene.steps(),
            2000,
            "{}: bench.py times 2000 steps",
            scene.id
        );
        let found = scene.measure();
        println!("{}: {found:?}", scene.id);
        problems.extend(scene.problems(&found));
    }
    assert!(
        problems.is_empty(),
        "the timing scenes are not at rest in our core, so their times say nothing:\n{}",
        problems.join("\n")
    );
}
