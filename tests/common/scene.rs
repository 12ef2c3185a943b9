//! The engine-neutral scenes of tests/mujoco, built in our own core and measured as MuJoCo's are.
//! The schema and the way of measuring are described in tests/mujoco/README.md.
#![allow(dead_code)]

use chockline::domain::math::{PI, cos, rad, sin, sqrt};
use chockline::domain::pipe::Pipe;
use chockline::sim::world::{
    PartId, StickId, StickState, Touching, World, WorldSettings, rotation_about_z,
};
use chockline::sim::{Pose, Rotation, Vector};
use serde::Deserialize;
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

#[derive(Clone, Debug, Deserialize)]
pub struct Scene {
    pub id: String,
    pub kind: String,
    pub gravity_m_s2: f64,
    gravity_tilt_side_deg: f64,
    gravity_tilt_lengthwise_deg: f64,
    time_step_s: f64,
    pub duration_s: f64,
    measure_from_s: f64,
    pub tubes: Vec<TubeSpec>,
    boxes: Vec<BoxSpec>,
    pub sweep: Option<Sweep>,
    pub expect: Vec<Expectation>,
}

#[derive(Clone, Debug, Deserialize)]
pub struct TubeSpec {
    pub name: String,
    pub mass_kg: f64,
    pub radius_m: f64,
    pub length_m: f64,
    pub inertia_axial_kg_m2: f64,
    pub inertia_cross_kg_m2: f64,
    position_m: [f64; 3],
    velocity_m_s: [f64; 3],
    angular_velocity_rad_s: [f64; 3],
    friction: f64,
}

#[derive(Clone, Debug, Deserialize)]
struct BoxSpec {
    name: String,
    half_extents_m: [f64; 3],
    position_m: [f64; 3],
    slope_deg: f64,
    friction: f64,
}

#[derive(Clone, Debug, Deserialize)]
pub struct Sweep {
    parameter: String,
    from_deg: f64,
    to_deg: f64,
    pub resolution_deg: f64,
    pub sped_up_m: f64,
}

#[derive(Clone, Debug, Deserialize)]
pub struct Expectation {
    pub key: String,
    pub quantity: String,
    #[serde(default)]
    boxes: Vec<String>,
    pub value: Option<f64>,
    pub tolerance_percent: Option<f64>,
    at_most: Option<f64>,
    formula: String,
    source: String,
}

#[derive(Deserialize)]
struct Document {
    scenes: Vec<Scene>,
}

pub fn mujoco_dir() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/mujoco")
}

/// The text of a file of tests/mujoco with plain line ends, whatever the checkout made of them.
pub fn text(name: &str) -> String {
    let path = mujoco_dir().join(name);
    std::fs::read_to_string(&path)
        .unwrap_or_else(|error| {
            panic!(
                "{}: {error}; restore it from version control",
                path.display()
            )
        })
        .replace("\r\n", "\n")
}

pub fn scenes(name: &str) -> Vec<Scene> {
    let document: Document = serde_json::from_str(&text(name)).unwrap_or_else(|error| {
        panic!("{name}: {error}; write it anew: python3 tests/mujoco/make_scenes.py")
    });
    document.scenes
}

impl TubeSpec {
    /// The pipe with exactly this mass, radius, length and axial inertia. The wall follows from
    /// k = I/(m R²) = ½(1 + (r/R)²) (Beer & Johnston), the density from the mass.
    pub fn pipe(&self) -> Pipe {
        let radius = self.radius_m;
        let wall_m = radius * (1.0 - sqrt(2.0 * self.shape_factor() - 1.0));
        Pipe {
            outside_diameter_m: 2.0 * radius,
            wall_min_m: wall_m,
            wall_avg_m: wall_m,
            length_m: self.length_m,
            density_kg_m3: self.mass_kg / (PI * (2.0 * radius - wall_m) * wall_m * self.length_m),
            ovality: 0.0,
            temperature_c: 23.0,
        }
    }

    /// k = I/(m R²).
    pub fn shape_factor(&self) -> f64 {
        self.inertia_axial_kg_m2 / (self.mass_kg * self.radius_m * self.radius_m)
    }

    fn state(&self) -> StickState {
        StickState {
            pose: Pose::from_parts(vector(self.position_m), Rotation::IDENTITY),
            velocity: vector(self.velocity_m_s),
            spin: vector(self.angular_velocity_rad_s),
        }
    }
}

impl BoxSpec {
    fn pose(&self) -> Pose {
        Pose::from_parts(
            vector(self.position_m),
            rotation_about_z(-rad(self.slope_deg)),
        )
    }
}

fn vector(v: [f64; 3]) -> Vector {
    Vector::new(v[0] as f32, v[1] as f32, v[2] as f32)
}

/// A scene in our core.
pub struct Built {
    pub world: World,
    sticks: Vec<StickId>,
    parts: Vec<PartId>,
}

/// What a run of a scene gave.
pub struct Measured {
    /// Every quantity of `expect` but thresholds, by its key.
    pub values: BTreeMap<String, f64>,
    moved_m: f64,
    /// How much further the tube went in the second half of the run than in the first.
    sped_up_m: f64,
}

impl Scene {
    pub fn steps(&self) -> usize {
        (self.duration_s / self.time_step_s).round() as usize
    }

    /// Slope of the rails.
    pub fn slope_deg(&self) -> f64 {
        self.boxes[0].slope_deg
    }

    fn gravity(&self) -> Vector {
        let side = rad(self.gravity_tilt_side_deg);
        let lengthwise = rad(self.gravity_tilt_lengthwise_deg);
        vector([
            self.gravity_m_s2 * sin(side),
            -self.gravity_m_s2 * cos(side) * cos(lengthwise),
            self.gravity_m_s2 * cos(side) * sin(lengthwise),
        ])
    }

    /// Builds the scene. Gate pins are moving boxes, as in the product; all others are fixed.
    pub fn build(&self) -> Built {
        let tube_friction = self.tubes[0].friction;
        assert!(
            self.tubes.iter().all(|t| t.friction == tube_friction)
                && self.boxes.iter().all(|b| b.friction >= tube_friction),
            "{}: the core takes one friction for all pairs of tubes and one per box, which must be \
             the larger of the pair; extend tests/common/scene.rs",
            self.id
        );
        let mut world = World::new(WorldSettings {
            dt_s: self.time_step_s as f32,
            gravity_m_per_s2: self.gravity(),
            friction_pipe_on_pipe: tube_friction as f32,
            ..WorldSettings::default()
        });
        let parts = self
            .boxes
            .iter()
            .map(|b| {
                let touching = Touching {
                    friction: b.friction as f32,
                    rolling_lever_arm_m: 0.0,
                };
                let half = vector(b.half_extents_m);
                if b.name.starts_with("pin") {
                    world.add_moving_box(half, b.pose(), touching)
                } else {
                    world.add_fixed_box(half, b.pose(), touching)
                }
            })
            .collect();
        let sticks = self
            .tubes
            .iter()
            .map(|t| world.add_stick(&t.pipe(), t.state()))
            .collect();
        Built {
            world,
            sticks,
            parts,
        }
    }

    /// Runs the scene and measures what it expects.
    pub fn run(&self) -> Measured {
        let mut built = self.build();
        let steps = self.steps();
        let slope = rad(self.slope_deg());
        let fall_line = vector([cos(slope), -sin(slope), 0.0]);
        let mut samples: Vec<Vec<f64>> = vec![Vec::new(); self.expect.len()];
        let mut times_s = Vec::new();
        let mut halfway_m = 0.0;
        for step in 1..=steps {
            built.world.step();
            assert_eq!(built.world.fault(), None, "{}: step {step}", self.id);
            if step == steps / 2 {
                halfway_m = self.moved_m(&built);
            }
            let time_s = step as f64 * self.time_step_s;
            if time_s <= self.measure_from_s {
                continue;
            }
            times_s.push(time_s);
            let first = built.world.stick(built.sticks[0]);
            for (e, samples) in self.expect.iter().zip(&mut samples) {
                samples.push(match e.quantity.as_str() {
                    "acceleration_m_s2" => f64::from(first.velocity.dot(fall_line)),
                    "spin_acceleration_m_s2" => -f64::from(first.spin.z) * self.tubes[0].radius_m,
                    "normal_force_n" => self.normal_force_n(&built, &e.boxes),
                    "total_force_n" => built.total_force_n(),
                    "moved_m" => self.moved_m(&built),
                    "largest_speed_m_s" => built.largest_speed_m_s(),
                    "threshold_deg" => break,
                    other => panic!(
                        "{}: quantity {other} is unknown; teach it to tests/common/scene.rs",
                        self.id
                    ),
                });
            }
        }
        let values = self
            .expect
            .iter()
            .zip(&samples)
            .filter(|(_, samples)| !samples.is_empty())
            .map(|(e, samples)| {
                let value = match e.quantity.as_str() {
                    "acceleration_m_s2" | "spin_acceleration_m_s2" => {
                        fitted_slope(&times_s, samples)
                    }
                    "normal_force_n" | "total_force_n" => mean(samples),
                    _ => samples[samples.len() - 1],
                };
                (e.key.clone(), value)
            })
            .collect();
        let moved_m = self.moved_m(&built);
        Measured {
            values,
            moved_m,
            sped_up_m: moved_m - 2.0 * halfway_m,
        }
    }

    /// The tilt beyond which the tube keeps gaining speed, by bisection, deg.
    pub fn threshold_deg(&self, sweep: &Sweep) -> f64 {
        let goes = |tilt_deg: f64| {
            let mut tilted = self.clone();
            match sweep.parameter.as_str() {
                "gravity_tilt_side_deg" => tilted.gravity_tilt_side_deg = tilt_deg,
                "gravity_tilt_lengthwise_deg" => tilted.gravity_tilt_lengthwise_deg = tilt_deg,
                other => panic!(
                    "{}: sweep of {other} is unknown; teach it to tests/common/scene.rs",
                    self.id
                ),
            }
            tilted.run().sped_up_m > sweep.sped_up_m
        };
        let (mut low, mut high) = (sweep.from_deg, sweep.to_deg);
        assert!(
            !goes(low) && goes(high),
            "{}: the tube must stay at {low} deg and go at {high} deg; look into the core's friction \
             before widening the sweep in tests/mujoco/make_scenes.py",
            self.id
        );
        while high - low > sweep.resolution_deg {
            let middle = (low + high) / 2.0;
            if goes(middle) {
                high = middle;
            } else {
                low = middle;
            }
        }
        (low + high) / 2.0
    }

    /// Everything that `expect` names, by its key.
    pub fn measure(&self) -> BTreeMap<String, f64> {
        match &self.sweep {
            Some(sweep) => {
                BTreeMap::from([("threshold_deg".to_owned(), self.threshold_deg(sweep))])
            }
            None => self.run().values,
        }
    }

    /// What of a run is not as `expect` has it; empty if all is well.
    pub fn problems(&self, found: &BTreeMap<String, f64>) -> Vec<String> {
        let mut problems = Vec::new();
        for e in &self.expect {
            let got = found[&e.key];
            let problem = match (e.value, e.tolerance_percent, e.at_most) {
                (Some(value), Some(allowed), None) => {
                    let off = percent(got, value);
                    (off.abs() > allowed).then(|| {
                        format!(
                            "{value:.6} by {}, {off:+.3} % off, allowed {allowed} %",
                            e.formula
                        )
                    })
                }
                (None, None, Some(most)) => (!(0.0..=most).contains(&got))
                    .then(|| format!("at most {most:.6} ({})", e.formula)),
                _ => Some(
                    "an expectation with either value and tolerance_percent or at_most".to_owned(),
                ),
            };
            if let Some(problem) = problem {
                problems.push(format!(
                    "{} {}: got {got:.6}, expected {problem}; source: {}",
                    self.id, e.key, e.source
                ));
            }
        }
        problems
    }

    fn moved_m(&self, built: &Built) -> f64 {
        let moved = built.sticks.iter().zip(&self.tubes).map(|(&stick, t)| {
            let at = built.world.stick(stick).pose.translation;
            f64::from((at - vector(t.position_m)).length())
        });
        moved.fold(0.0, f64::max)
    }

    /// Normal force of the tubes on the named boxes over the last step, N. The core gives the whole
    /// force; its part along the line from the box to the nearest tube's axis is the normal one,
    /// because all normals of a round tube go through its axis.
    fn normal_force_n(&self, built: &Built, names: &[String]) -> f64 {
        let of_box = |b: &BoxSpec, part: PartId| {
            let pose = b.pose();
            let half = vector(b.half_extents_m);
            let towards_axis = |&stick: &StickId| {
                let state = built.world.stick(stick);
                let (centre, axis) = (state.pose.translation, state.axis());
                let on_axis = centre + axis * ((pose.translation.z - centre.z) / axis.z);
                let local = pose.inverse_transform_point(on_axis);
                on_axis - pose * local.clamp(-half, half)
            };
            let nearest = built
                .sticks
                .iter()
                .map(towards_axis)
                .min_by(|p, q| p.length().total_cmp(&q.length()))
                .expect("every scene has a tube");
            -f64::from(built.world.force_on_part(part).dot(nearest.normalize()))
        };
        self.boxes
            .iter()
            .zip(&built.parts)
            .filter(|(b, _)| names.contains(&b.name))
            .map(|(b, &part)| of_box(b, part))
            .sum()
    }
}

impl Built {
    /// Length of the sum of all forces of boxes on tubes over the last step, N.
    fn total_force_n(&self) -> f64 {
        let sum: Vector = self
            .parts
            .iter()
            .map(|&part| self.world.force_on_part(part))
            .sum();
        f64::from(sum.length())
    }

    fn largest_speed_m_s(&self) -> f64 {
        let speeds = self
            .sticks
            .iter()
            .map(|&stick| f64::from(self.world.stick(stick).velocity.length()));
        speeds.fold(0.0, f64::max)
    }
}

/// How far `got` is from `want`, in percent.
pub fn percent(got: f64, want: f64) -> f64 {
    100.0 * (got / want - 1.0)
}

fn mean(values: &[f64]) -> f64 {
    values.iter().sum::<f64>() / values.len() as f64
}

/// Slope of the straight line of least squares.
fn fitted_slope(xs: &[f64], ys: &[f64]) -> f64 {
    let (mean_x, mean_y) = (mean(xs), mean(ys));
    let deviations = || xs.iter().zip(ys).map(|(x, y)| (x - mean_x, y - mean_y));
    deviations().map(|(x, y)| x * y).sum::<f64>() / deviations().map(|(x, _)| x * x).sum::<f64>()
}
