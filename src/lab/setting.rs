//! A sweep that is put together step by step, as somebody does at a screen. It is written out as the
//! text of a sweep file, so that whatever was run here can be run again from the file.

use super::answer::PITCH;
use super::file::{
    Against, Budget, Event, File, Limit, Named, Sampling, Sweep, SweepError, Variable,
};
use super::spread::Spread;
use crate::scenario::{Base, Holds, LineField, NoField, field};
use crate::texts::Message;

/// Names of the two files that a setting makes.
pub const SWEEP_FILE: &str = "sweep.ron";
pub const BASE_FILE: &str = "base.ron";

/// Fields that are added to the pitch, and how far they go to either side, deg: each rail has a pitch
/// of its own.
const ON_TOP: [&str; 2] = ["rack.near_rail.pitch_deg", "rack.far_rail.pitch_deg"];
const ON_TOP_DEG: f64 = 2.0;
/// So many steps are there at least from one end of a slider to the other.
const STEPS: f64 = 60.0;
/// Corners are tried this often at least.
const CORNER_LEAST: u32 = 5;

/// A variable: evenly between two values.
#[derive(Clone, Debug, PartialEq)]
pub struct Varied {
    pub path: String,
    pub range: [f64; 2],
    /// How far the ends can be moved, and in what steps.
    pub bounds: [f64; 2],
    pub step: f64,
    pub unmeasured: bool,
}

/// One field of the second set-up at a value of its own.
#[derive(Clone, Debug, PartialEq)]
pub struct Changed {
    pub path: String,
    /// As it stands in a scenario.
    pub value: String,
}

/// See the module's text.
#[derive(Clone, Debug, PartialEq)]
pub struct Setting {
    pub name: String,
    pub base: Base,
    /// From, and to, deg.
    pub pitch_deg: [f64; 2],
    pub step_deg: f64,
    pub varied: Vec<Varied>,
    /// What a second set-up has otherwise; with nothing there is none.
    pub second: Vec<Changed>,
    /// At each pitch.
    pub trials: u32,
    /// Accepted risks, in the order of [`Event::ALL`].
    pub risks: [f64; 3],
    /// Sampling confidence of the windows.
    pub confidence: f64,
    pub seed: u64,
}

impl Setting {
    /// How many degrees the pitch can be looked at.
    pub const PITCHES_DEG: [f64; 2] = [1.0, 15.0];

    /// A base with what is usually asked of it: from flat to steep, with what nobody has measured, an
    /// oval pipe, and sticks that lie as they were set down.
    pub fn usual(name: &str, base: Base) -> Self {
        let mut setting = Self {
            name: name.to_owned(),
            base,
            pitch_deg: [2.0, 12.0],
            step_deg: 1.0,
            varied: Vec::new(),
            second: Vec::new(),
            trials: 60,
            risks: [0.05; 3],
            confidence: 0.95,
            seed: 1,
        };
        for (path, range, unmeasured) in [
            ("contact.friction_dry", [0.15, 0.4], true),
            ("contact.friction_pipe_on_pipe", [0.14, 0.3], true),
            ("contact.rolling_lever_arm_mm", [0.5, 5.0], true),
            ("pipe.ovality_pct", [0.0, 3.5], false),
            ("row.long_axis_deg", [-90.0, 90.0], false),
        ] {
            setting.vary(path);
            if let Some(last) = setting.varied.last_mut().filter(|last| last.path == path) {
                last.range = range;
                last.bounds = [last.bounds[0].min(range[0]), last.bounds[1].max(range[1])];
                last.unmeasured = unmeasured;
            }
        }
        setting
    }

    /// Takes another base; what varies stays.
    pub fn put_over(&mut self, name: &str, base: Base) {
        self.name = name.to_owned();
        self.base = base;
    }

    /// Varies a field about what it is in the base; does nothing where it takes no number.
    pub fn vary(&mut self, path: &str) {
        let known = crate::scenario::line_fields();
        let Some(known) = known.into_iter().find(|known| known.path == path) else {
            return;
        };
        if let Some((bounds, range, step)) = self.around(&known) {
            self.varied.push(Varied {
                path: path.to_owned(),
                range,
                bounds,
                step,
                unmeasured: false,
            });
        }
    }

    /// Bounds, range and step of a field that takes a number.
    fn around(&self, known: &LineField) -> Option<([f64; 2], [f64; 2], f64)> {
        if ON_TOP.contains(&known.path.as_str()) {
            let far = ON_TOP_DEG;
            return Some(([-far, far], [-0.5 * far, 0.5 * far], 0.05));
        }
        let now = self.now(known);
        match known.holds {
            Holds::Written => None,
            Holds::Whole { min, max } => {
                let (min, max) = (min as f64, max as f64);
                let now = now.unwrap_or(min);
                let range = [(now - 1.0).max(min), (now + 1.0).min(max)];
                Some(([min, max], range, 1.0))
            }
            Holds::Number { min, max, .. } => {
                let about = |now: f64| {
                    let half = (0.2 * now.abs()).max(0.02 * (max - min));
                    [now - half, now + half]
                };
                let usual = known.usual.map(|(low, high)| [low, high]);
                let range = usual.or(now.map(about)).unwrap_or([min, max]);
                let step = round_step((range[1] - range[0]) / STEPS);
                let tidy = |value: f64| ((value / step).round() * step).clamp(min, max);
                let range = range.map(tidy);
                let width = range[1] - range[0];
                let bounds = [range[0] - width, range[1] + width].map(tidy);
                Some((bounds, range, step))
            }
        }
    }

    /// What a field is in the base, where that is a number that is known without building it.
    fn now(&self, known: &LineField) -> Option<f64> {
        self.written(known)?.parse().ok()
    }

    /// What a field is in the base, as it stands there or by default.
    pub fn written(&self, known: &LineField) -> Option<String> {
        let own = self.base.written(&known.path);
        own.or_else(|| known.left_out.clone())
    }

    /// Gives a field another value in the second set-up.
    pub fn change(&mut self, path: &str) {
        let known = crate::scenario::line_fields();
        let Some(known) = known.into_iter().find(|known| known.path == path) else {
            return;
        };
        let now = self.written(&known);
        let value = match self.around(&known) {
            None => now.or(known.words.first().cloned()),
            Some((_, [from, to], _)) => {
                let middle = self.now(&known).unwrap_or(0.5 * (from + to));
                Some(tidy(middle).to_string())
            }
        };
        self.second.extend(value.map(|value| Changed {
            path: path.to_owned(),
            value,
        }));
    }

    /// Bounds and step of a field of the second set-up; none where it takes words.
    pub fn room(&self, path: &str) -> Option<([f64; 2], f64)> {
        let known = crate::scenario::line_fields();
        let known = known.into_iter().find(|known| known.path == path)?;
        let (mut bounds, _, step) = self.around(&known)?;
        if let Holds::Number { min, max, .. } = known.holds {
            // Other values than the usual are what a second set-up is for.
            let width = bounds[1] - bounds[0];
            bounds = [(bounds[0] - width).max(min), (bounds[1] + width).min(max)];
        }
        Some((bounds, step))
    }

    /// The sweep file: with it and its base the program gives the same rows anywhere. `names` are those
    /// of the two set-ups.
    pub fn text(&self, names: [&str; 2]) -> String {
        let [from, to] = self.pitch_deg.map(tidy);
        let set = |changed: &Changed| (changed.path.clone(), changed.value.clone());
        let second = self.second.iter().map(set).collect();
        let set_ups = names.into_iter().zip([Vec::new(), second]);
        let set_ups = set_ups.map(|(name, set)| Named {
            name: name.to_owned(),
            set,
        });
        let varied = self.varied.iter().map(|varied| {
            let [low, high] = varied.range.map(tidy);
            Variable {
                path: varied.path.clone(),
                spread: Spread::Uniform(low, high),
                within: None,
                on_top: ON_TOP.contains(&varied.path.as_str()),
                unmeasured: varied.unmeasured,
            }
        });
        let limits = Event::ALL.into_iter().zip(self.risks);
        let file = File {
            format: 1,
            name: self.name.clone(),
            about: String::new(),
            base: BASE_FILE.to_owned(),
            seed: self.seed,
            against: Against {
                path: PITCH.to_owned(),
                from: Some(from),
                to: Some(to),
                step: Some(tidy(self.step_deg)),
                values: None,
            },
            each: Vec::new(),
            set_ups: set_ups.filter(|_| !self.second.is_empty()).collect(),
            vary: varied.collect(),
            together: Vec::new(),
            measure: Vec::new(),
            sampling: Sampling::default(),
            budget: Budget {
                trials: self.trials,
                corner_trials: self.corner_trials(),
                rows: None,
                time_s: None,
                width: None,
            },
            limits: limits.map(|(of, below)| Limit { of, below }).collect(),
            confidence: self.confidence,
        };
        let pretty = ron::ser::PrettyConfig::new().depth_limit(2);
        // Numbers and texts can always be written.
        ron::ser::to_string_pretty(&file, pretty).unwrap_or_default()
    }

    /// Trials in each corner of what nobody has measured: in all, as many as by chance.
    fn corner_trials(&self) -> u32 {
        let unmeasured = self.varied.iter().filter(|varied| varied.unmeasured);
        match unmeasured.count() as u32 {
            0 => 0,
            count => self
                .trials
                .div_ceil(1_u32.checked_shl(count).unwrap_or(u32::MAX))
                .max(CORNER_LEAST),
        }
    }

    /// The sweep that is set up.
    ///
    /// # Errors
    /// All that is wrong with it; the setting stays as it is.
    pub fn sweep(&self, names: [&str; 2]) -> Result<Sweep, SweepError> {
        let base = Base {
            file: BASE_FILE.to_owned(),
            loaded: self.base.loaded.clone(),
        };
        Sweep::over(SWEEP_FILE, &self.text(names), base)
    }
}

/// The unit of a field; empty where it has none.
pub fn unit_of(path: &str) -> &'static str {
    match field(path) {
        Ok(Holds::Number { unit, .. }) => unit,
        Ok(Holds::Whole { .. } | Holds::Written)
        | Err(NoField::Unknown { .. } | NoField::NotAValue) => "",
    }
}

/// Whether a fault of a sweep is one of the variable of this place.
pub fn is_of_variable(place: &str, i: usize) -> bool {
    place.starts_with(&format!("vary[{}]", i + 1))
}

/// What is 5.300000000000001 is 5.3.
fn tidy(value: f64) -> f64 {
    (value * 1e9).round() / 1e9
}

/// The greatest of 1, 2 and 5 times a power of ten that is not above a step.
fn round_step(most: f64) -> f64 {
    let mut power = 1e-6;
    while power * 10.0 <= most {
        power *= 10.0;
    }
    let steps = [5.0, 2.0, 1.0];
    let step = steps.into_iter().find(|step| step * power <= most);
    tidy(step.unwrap_or(1.0) * power)
}

/// All that is wrong with a sweep, each with its place; of a base that does not load there is none.
pub fn faults_of(error: &SweepError) -> Vec<(String, Message)> {
    match error {
        SweepError::Faulty { faults, .. } => faults
            .iter()
            .map(|fault| (fault.place.clone(), fault.what.clone()))
            .collect(),
        SweepError::Unreadable { file, why } => vec![(file.clone(), why.clone())],
        SweepError::Base(_) => Vec::new(),
    }
}
