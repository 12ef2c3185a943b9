//! The sweep file: RON text to a checked [`Sweep`].

use std::fs;
use std::path::{Path, PathBuf};

use serde::{Deserialize, Serialize};
use xxhash_rust::xxh3::xxh3_64;

use super::bounds::clean_trials;
use super::sobol::{Block, INDEPENDENT};
use super::spread::Spread;
use crate::evidence::Outcome;
use crate::scenario::{self, Base, Fault, Holds, LoadError, NoField, Scenario, field, name_of};
use crate::texts::{Message, Texts};

/// Points (a value that it is drawn against, and a set-up) at most.
const MOST_POINTS: usize = 10_000;
/// Trials at most, in all, and of a point.
const MOST_TRIALS: u64 = 20_000_000;
const MOST_TRIALS_OF_POINT: u32 = 100_000;
/// Ends of unmeasured ranges are combined; each more doubles the work.
const MOST_UNMEASURED: usize = 6;
/// The longest sequence that the low-discrepancy sampling has.
const LONGEST_SOBOL: u32 = 1 << 16;

/// What may come of a trial, as far as a risk is set for it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub enum Event {
    /// More sticks than one came through, one went over the closed gate, or the row stays on top of it.
    DoubleFeed,
    /// No stick came, or it stopped on its way.
    Hang,
    /// A stick left the line.
    RollOff,
}

impl Event {
    pub const ALL: [Self; 3] = [Self::DoubleFeed, Self::Hang, Self::RollOff];

    /// Whether an outcome is this event. A row that has climbed the gate counts as a double feed, and
    /// a drive that is held by its load, or what has not come to rest in time, as a hang: the cautious
    /// side.
    pub fn is(self, outcome: Outcome) -> bool {
        match self {
            Self::DoubleFeed => matches!(outcome, Outcome::DoubleFeed | Outcome::Perched),
            Self::Hang => matches!(
                outcome,
                Outcome::Hung | Outcome::Jammed | Outcome::Unsettled | Outcome::NotFed
            ),
            Self::RollOff => matches!(outcome, Outcome::RollOff | Outcome::Dropped),
        }
    }

    /// Whether a trial counts as this event: what failed does, to be on the cautious side.
    pub fn counts(self, outcome: Option<Outcome>) -> bool {
        outcome.is_none_or(|outcome| self.is(outcome))
    }

    pub fn name(self) -> Message {
        Message::new(match self {
            Self::DoubleFeed => "lab-double-feed",
            Self::Hang => "lab-hang",
            Self::RollOff => "lab-roll-off",
        })
    }
}

/// What is measured in every trial.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub enum Measure {
    DoubleFeed,
    Hang,
    RollOff,
    /// Yaw of the fed stick when it meets the arms' stop, deg.
    Yaw,
    /// Energy of the hardest blow on the gate over the energy with which one stick jumps it.
    GateEnergy,
    /// Speed with which the fed stick meets the arms' stop, m/s.
    SeatSpeed,
    /// How far across from the line's centre a lost stick comes to rest, m.
    RunOut,
    /// From the press of feed to the arms' stop, s.
    Time,
}

impl Measure {
    pub const ALL: [Self; 8] = [
        Self::DoubleFeed,
        Self::Hang,
        Self::RollOff,
        Self::Yaw,
        Self::GateEnergy,
        Self::SeatSpeed,
        Self::RunOut,
        Self::Time,
    ];

    /// Those that are numbers, in the order of [`Measure::ALL`].
    pub fn numbers() -> impl Iterator<Item = Self> {
        Self::ALL
            .into_iter()
            .filter(|measure| measure.column().is_some())
    }

    /// The event that it counts, if it counts one.
    pub fn event(self) -> Option<Event> {
        match self {
            Self::DoubleFeed => Some(Event::DoubleFeed),
            Self::Hang => Some(Event::Hang),
            Self::RollOff => Some(Event::RollOff),
            _ => None,
        }
    }

    /// Its column, where it is a number.
    pub fn column(self) -> Option<&'static str> {
        match self {
            Self::Yaw => Some("yaw_deg"),
            Self::GateEnergy => Some("gate_energy"),
            Self::SeatSpeed => Some("seat_m_per_s"),
            Self::RunOut => Some("run_out_m"),
            Self::Time => Some("feed_s"),
            _ => None,
        }
    }

    pub fn name(self) -> Message {
        match self {
            Self::DoubleFeed | Self::Hang | Self::RollOff => {
                self.event().map_or_else(|| "lab-hang".into(), Event::name)
            }
            Self::Yaw => "lab-yaw".into(),
            Self::GateEnergy => "lab-gate-energy".into(),
            Self::SeatSpeed => "lab-seat-speed".into(),
            Self::RunOut => "lab-run-out".into(),
            Self::Time => "lab-time".into(),
        }
    }
}

/// How the trials of a point are spread over what is varied.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum Sampling {
    /// A grid of equal parts of each distribution.
    Grid,
    /// Each trial by itself.
    Random,
    /// Every distribution in as many equal parts as there are trials, each used once.
    #[default]
    Latin,
    /// Owen-scrambled Sobol points.
    Sobol,
    /// By chance, laid out for Sobol indices: two independent trials, then one for each factor.
    Saltelli,
}

/// When it is enough.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Budget {
    /// Trials at each point, at most.
    pub trials: u32,
    /// So many rows are loaded and settled at a point, and each is released as often as it takes;
    /// without it, every trial has a row of its own.
    #[serde(default)]
    pub rows: Option<u32>,
    /// Trials in each corner of the ranges that nobody has measured.
    #[serde(default)]
    pub corner_trials: u32,
    /// No trial begins after so long, s.
    #[serde(default)]
    pub time_s: Option<f64>,
    /// A point is left when every risk's band is no wider than this.
    #[serde(default)]
    pub width: Option<f64>,
}

/// A risk that is accepted.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Limit {
    pub of: Event,
    pub below: f64,
}

/// What varies from trial to trial.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Variable {
    pub path: String,
    pub spread: Spread,
    /// Cut off outside of these; without them at what the field may hold.
    #[serde(default)]
    pub within: Option<(f64, f64)>,
    /// It is added to the value that the answer is drawn against.
    #[serde(default)]
    pub on_top: bool,
    /// Nobody has measured it: the range is an assumption.
    #[serde(default)]
    pub unmeasured: bool,
}

impl Variable {
    /// What it is cut off at: its own limits, its distribution's and, unless it is added to
    /// something, the field's.
    pub fn within(&self) -> (f64, f64) {
        let (mut low, mut high) = self.spread.range();
        let field = match field(&self.path) {
            Ok(Holds::Number { min, max, .. }) if !self.on_top => (min, max),
            Ok(Holds::Whole { min, max }) if !self.on_top => (min as f64, max as f64),
            _ => (f64::NEG_INFINITY, f64::INFINITY),
        };
        for (least, most) in [Some(field), self.within].into_iter().flatten() {
            (low, high) = (low.max(least), high.min(most));
        }
        (low, high)
    }

    /// Whether it may change when the row has settled: a coefficient of contact.
    pub fn is_of_contact(&self) -> bool {
        self.path.starts_with("contact.")
    }

    /// The middle of what it is drawn from.
    pub fn middle(&self, against: f64) -> f64 {
        self.taken(self.spread.quantile_within(0.5, self.within()), against)
    }

    /// A drawn value as its field takes it, where the answer is drawn against `against`.
    pub fn taken(&self, drawn: f64, against: f64) -> f64 {
        let value = if self.on_top { against + drawn } else { drawn };
        match field(&self.path) {
            Ok(Holds::Number { min, max, .. }) => value.clamp(min, max),
            Ok(Holds::Whole { min, max }) => value.round().clamp(min as f64, max as f64),
            _ => value,
        }
    }

    /// The ends of its range, for a worst case: where it has none, what all but one in a thousand
    /// keep to.
    pub fn ends(&self) -> [f64; 2] {
        let (low, high) = self.within();
        let end = |part: f64, end: f64| {
            if end.is_finite() {
                end
            } else {
                self.spread.quantile_within(part, (low, high))
            }
        };
        [end(0.0005, low), end(0.9995, high)]
    }
}

/// Two variables that go together: the correlation of their normal scores, -1 to 1.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Together {
    pub of: (String, String),
    pub correlation: f64,
}

/// What the answer is drawn against.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Against {
    pub path: String,
    #[serde(default)]
    pub from: Option<f64>,
    #[serde(default)]
    pub to: Option<f64>,
    #[serde(default)]
    pub step: Option<f64>,
    #[serde(default)]
    pub values: Option<Vec<f64>>,
}

/// One field at several values, each with all others.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Each {
    path: String,
    /// As they would stand in a scenario.
    values: Vec<String>,
    #[serde(default)]
    on_top: bool,
}

/// Some fields at values of their own, under a name.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Named {
    pub name: String,
    pub set: Vec<(String, String)>,
}

#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct File {
    pub format: u32,
    pub name: String,
    #[serde(default)]
    pub about: String,
    pub base: String,
    #[serde(default = "first_seed")]
    pub seed: u64,
    pub against: Against,
    #[serde(default)]
    pub each: Vec<Each>,
    #[serde(default)]
    pub set_ups: Vec<Named>,
    #[serde(default)]
    pub vary: Vec<Variable>,
    #[serde(default)]
    pub together: Vec<Together>,
    #[serde(default)]
    pub measure: Vec<Measure>,
    #[serde(default)]
    pub sampling: Sampling,
    pub budget: Budget,
    #[serde(default)]
    pub limits: Vec<Limit>,
    #[serde(default = "usual_confidence")]
    pub confidence: f64,
}

fn first_seed() -> u64 {
    1
}

fn usual_confidence() -> f64 {
    0.95
}

impl File {
    fn read(file: &str, text: &str) -> Result<Self, SweepError> {
        let options = ron::Options::default()
            .with_default_extension(ron::extensions::Extensions::IMPLICIT_SOME);
        options.from_str(text).map_err(|error| {
            let at = error.span.start;
            SweepError::Faulty {
                file: file.to_owned(),
                faults: vec![SweepFault::new(
                    format!("{}:{}", at.line, at.col),
                    Message::new("fault-not-read").with("error", error.code.to_string()),
                )],
            }
        })
    }

    fn checked(&self, file: &str, text: &str, base: Base) -> Result<Sweep, SweepError> {
        let mut checker = Checker::default();
        match checker.sweep(self, text, base) {
            Some(sweep) if checker.faults.is_empty() => Ok(sweep),
            _ => Err(SweepError::Faulty {
                file: file.to_owned(),
                faults: checker.faults,
            }),
        }
    }
}

/// A value of a set-up: as written, or added to what the answer is drawn against.
#[derive(Clone, Debug, PartialEq)]
pub enum Level {
    Written(String),
    OnTop(f64),
}

/// One way of setting the line up that is compared with others.
#[derive(Clone, Debug, PartialEq)]
pub struct SetUp {
    /// Empty where there is but one.
    pub name: String,
    pub set: Vec<(String, Level)>,
}

/// A checked sweep with its base.
#[derive(Clone, Debug, PartialEq)]
pub struct Sweep {
    pub name: String,
    pub about: String,
    pub base: Base,
    pub seed: u64,
    /// Path of what the answer is drawn against.
    pub against: String,
    pub values: Vec<f64>,
    pub set_ups: Vec<SetUp>,
    pub variables: Vec<Variable>,
    /// Lower triangle of what makes independent normal scores go together, row by row.
    pub mixing: Vec<Vec<f64>>,
    pub measures: Vec<Measure>,
    pub sampling: Sampling,
    pub budget: Budget,
    pub limits: Vec<Limit>,
    pub confidence: f64,
    /// Hashes of the two texts it was made from: the sweep's and the base's.
    pub hashes: [u64; 2],
}

/// One thing wrong with a sweep.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SweepFault {
    pub place: String,
    pub what: Message,
}

impl SweepFault {
    fn new(place: impl Into<String>, what: impl Into<Message>) -> Self {
        Self {
            place: place.into(),
            what: what.into(),
        }
    }
}

/// Why a sweep did not load.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum SweepError {
    Unreadable {
        file: String,
        why: Message,
    },
    /// Never empty.
    Faulty {
        file: String,
        faults: Vec<SweepFault>,
    },
    /// The base scenario did not load.
    Base(LoadError),
}

impl SweepError {
    /// It in a language, one line for each fault.
    pub fn say(&self, texts: &Texts) -> String {
        match self {
            Self::Unreadable { file, why } => format!("{file}: {}", texts.say(why)),
            Self::Faulty { file, faults } => {
                let lines = faults
                    .iter()
                    .map(|fault| format!("{file}: {}: {}", fault.place, texts.say(&fault.what)));
                lines.collect::<Vec<_>>().join("\n")
            }
            Self::Base(error) => error.say(texts),
        }
    }
}

impl Sweep {
    /// Loads a sweep file and its base, whose place is seen from the sweep's folder.
    ///
    /// # Errors
    /// All that is wrong with it, as far as it can be read.
    pub fn load(path: &Path) -> Result<Self, SweepError> {
        let text = fs::read_to_string(path).map_err(|error| SweepError::Unreadable {
            file: name_of(path),
            why: Message::new("unreadable").with("error", error.to_string()),
        })?;
        let folder = path.parent().map(Path::to_path_buf).unwrap_or_default();
        Self::parse(&name_of(path), &text, &folder)
    }

    /// Makes a sweep of the text of a file in a folder.
    ///
    /// # Errors
    /// All that is wrong with it, as far as it can be read.
    pub fn parse(file: &str, text: &str, folder: &Path) -> Result<Self, SweepError> {
        let read = File::read(file, text)?;
        let base_path: PathBuf = folder.join(&read.base);
        let loaded = scenario::load(&base_path).map_err(SweepError::Base)?;
        let base = Base {
            file: name_of(&base_path),
            loaded,
        };
        read.checked(file, text, base)
    }

    /// Makes a sweep of a text and a base that is at hand already.
    ///
    /// # Errors
    /// All that is wrong with it, as far as it can be read.
    pub fn over(file: &str, text: &str, base: Base) -> Result<Self, SweepError> {
        File::read(file, text)?.checked(file, text, base)
    }

    /// Value and set-up of every point, in their order: set-up by set-up.
    pub fn points(&self) -> impl ExactSizeIterator<Item = (usize, usize)> + use<> {
        let values = self.values.len();
        (0..self.set_ups.len() * values).map(move |point| (point / values, point % values))
    }

    /// Variables whose ranges are assumptions.
    pub fn unmeasured(&self) -> impl Iterator<Item = (usize, &Variable)> {
        let each = self.variables.iter().enumerate();
        each.filter(|(_, variable)| variable.unmeasured)
    }

    /// Corners of the unmeasured ranges that are tried, per point.
    pub fn corners(&self) -> usize {
        match self.unmeasured().count() {
            0 => 0,
            _ if self.budget.corner_trials == 0 => 0,
            count => 1 << count,
        }
    }

    /// Rows that are loaded and settled at a point for the trials by chance: so many of them are
    /// independent of each other.
    pub fn rows(&self) -> u32 {
        match self.sampling {
            Sampling::Saltelli => self.budget.trials / trials_of_base(self.factors()) * INDEPENDENT,
            _ => self.budget.rows.unwrap_or(self.budget.trials),
        }
    }

    /// Trials that begin from the same settled row.
    pub fn releases_of_row(&self) -> u32 {
        self.budget.trials / self.budget.rows.unwrap_or(self.budget.trials)
    }

    /// What differs from trial to trial: the variables, and how the row comes to lie.
    pub fn factors(&self) -> usize {
        self.variables.len() + 1
    }

    /// The place in the sampling of one of the trials that are independent of each other.
    pub fn independent(&self, i: u32) -> u32 {
        match self.sampling {
            Sampling::Saltelli => {
                i / INDEPENDENT * trials_of_base(self.factors()) + i % INDEPENDENT
            }
            _ => i * self.releases_of_row(),
        }
    }

    /// Whether a place in the sampling is one to count from: not one that only shows what a factor does.
    pub fn counts(&self, number: u32) -> bool {
        match self.sampling {
            Sampling::Saltelli => !matches!(Block::of(number, self.factors()).1, Block::Mixed(_)),
            _ => true,
        }
    }

    /// Trials of a point: those by chance, then those in the corners.
    pub fn trials_of_point(&self) -> u64 {
        u64::from(self.budget.trials) + self.corners() as u64 * u64::from(self.budget.corner_trials)
    }

    pub fn trials(&self) -> u64 {
        self.points().len() as u64 * self.trials_of_point()
    }

    /// The base with a set-up, a value that the answer is drawn against, and one for each variable.
    ///
    /// # Errors
    /// Where they do not make a sound scenario, with the first reason.
    pub fn scenario(
        &self,
        set_up: usize,
        against: f64,
        numbers: &[f64],
    ) -> Result<Scenario, Message> {
        let set_up = self.set_ups.get(set_up);
        let mut written = set_up.map_or_else(Vec::new, |s| s.written(&self.against, against));
        let variables = self.variables.iter().zip(numbers);
        written.extend(variables.map(|(variable, n)| (variable.path.clone(), n.to_string())));
        let pairs = written.iter().map(|(p, v)| (p.as_str(), v.as_str()));
        match self.base.with(pairs) {
            Ok(loaded) => Ok(loaded.scenario),
            Err(faults) => Err(impossible(&faults)),
        }
    }

    /// What there is to say of limits that so few trials cannot show.
    pub fn cannot_show(&self) -> Vec<Message> {
        let each = self.out_of_reach().into_iter();
        each.map(|(limit, needed)| {
            Message::new("lab-out-of-reach")
                .with("event", limit.of.name())
                .with("trials", self.rows() as usize)
                .with("needed", needed)
        })
        .collect()
    }

    /// The limits that so few trials cannot show, with the clean trials it would take.
    pub fn out_of_reach(&self) -> Vec<(Limit, u64)> {
        let each = self.limits.iter();
        each.map(|limit| (*limit, clean_trials(limit.below, self.confidence)))
            .filter(|(_, needed)| *needed > u64::from(self.rows()))
            .collect()
    }
}

#[derive(Default)]
struct Checker {
    faults: Vec<SweepFault>,
}

impl Checker {
    fn fault(&mut self, place: impl Into<String>, what: impl Into<Message>) {
        self.faults.push(SweepFault::new(place, what));
    }

    fn sweep(&mut self, file: &File, text: &str, base: Base) -> Option<Sweep> {
        if file.format != 1 {
            self.fault("format", "sweep-format");
        }
        let values = self.values(&file.against);
        let set_ups = self.set_ups(file);
        for (i, variable) in file.vary.iter().enumerate() {
            self.variable(i, variable, file);
        }
        let mixing = self.mixing(file);
        self.budget(file);
        for (i, limit) in file.limits.iter().enumerate() {
            if !(limit.below > 0.0 && limit.below < 1.0) {
                self.fault(format!("limits[{}].below", i + 1), "sweep-not-a-risk");
            }
        }
        if !(0.5..1.0).contains(&file.confidence) {
            self.fault("confidence", "sweep-not-a-confidence");
        }
        // Whoever wants to see where a lost stick comes to rest says so: it takes long.
        let measures = if file.measure.is_empty() {
            let mut all = Measure::ALL.to_vec();
            all.retain(|measure| *measure != Measure::RunOut);
            all
        } else {
            file.measure.clone()
        };
        let sweep = Sweep {
            name: file.name.clone(),
            about: file.about.clone(),
            hashes: [text, &base.loaded.text].map(|text| xxh3_64(text.as_bytes())),
            base,
            seed: file.seed,
            against: file.against.path.clone(),
            values: values?,
            set_ups,
            variables: file.vary.clone(),
            mixing: mixing?,
            measures,
            sampling: file.sampling,
            budget: file.budget,
            limits: file.limits.clone(),
            confidence: file.confidence,
        };
        if self.faults.is_empty() {
            self.size(&sweep);
            self.all_fit(&sweep);
        }
        Some(sweep)
    }

    /// What the field of a path holds, or a fault that names the nearest one.
    fn path(&mut self, place: &str, path: &str) -> Option<Holds> {
        match field(path) {
            Ok(holds) => return Some(holds),
            Err(NoField::Unknown { meant }) => {
                let mut what = Message::new("sweep-no-such-field").with("path", path);
                if let Some(meant) = meant {
                    what = Message::new("fault-meant")
                        .with("what", what)
                        .with("meant", meant);
                }
                self.fault(place, what);
            }
            Err(NoField::NotAValue) => {
                self.fault(place, Message::new("sweep-no-value").with("path", path));
            }
        }
        None
    }

    /// Holds a number against what a field may hold.
    fn number(&mut self, place: &str, holds: &Holds, value: f64) {
        let (min, max) = match *holds {
            Holds::Number { min, max, .. } => (min, max),
            Holds::Whole { min, max } => (min as f64, max as f64),
            Holds::Written => return,
        };
        let fits = (min..=max).contains(&value);
        let is_whole = !matches!(holds, Holds::Whole { .. }) || value.fract() == 0.0;
        if !(fits && is_whole) {
            let what = Message::new("sweep-out-of-range")
                .with("value", value)
                .with("min", min)
                .with("max", max);
            self.fault(place, what);
        }
    }

    fn values(&mut self, against: &Against) -> Option<Vec<f64>> {
        let holds = self.path("against.path", &against.path)?;
        if holds == Holds::Written {
            self.fault("against.path", "sweep-not-a-number");
            return None;
        }
        let values = match (&against.values, against.from, against.to, against.step) {
            (Some(values), None, None, None) => values.clone(),
            (None, Some(from), Some(to), Some(step)) => {
                if !(step > 0.0 && from <= to && (to - from) / step < MOST_POINTS as f64) {
                    self.fault("against", "sweep-empty-range");
                    return None;
                }
                // Counted, so that steps do not add up their rounding; what is 5.300000000000001
                // is written 5.3.
                let count = ((to - from) / step + 1e-9).floor() as u32;
                let tidy = |value: f64| (value * 1e9).round() / 1e9;
                (0..=count)
                    .map(|i| tidy(from + f64::from(i) * step))
                    .collect()
            }
            _ => {
                self.fault("against", "sweep-range-or-values");
                return None;
            }
        };
        if values.is_empty() || !values.is_sorted_by(|a, b| a < b) {
            self.fault("against", "sweep-empty-range");
            return None;
        }
        for value in &values {
            self.number("against", &holds, *value);
        }
        Some(values)
    }

    fn set_ups(&mut self, file: &File) -> Vec<SetUp> {
        let mut set_ups = vec![SetUp {
            name: String::new(),
            set: Vec::new(),
        }];
        for (i, each) in file.each.iter().enumerate() {
            let place = format!("each[{}]", i + 1);
            let Some(holds) = self.path(&format!("{place}.path"), &each.path) else {
                continue;
            };
            if each.values.is_empty() {
                self.fault(format!("{place}.values"), "sweep-empty-range");
            }
            if each.on_top && holds == Holds::Written {
                self.fault(format!("{place}.on_top"), "sweep-not-a-number");
            }
            let short = each.path.rsplit('.').next().unwrap_or_default();
            let mut crossed = Vec::new();
            for set_up in &set_ups {
                for value in &each.values {
                    let level = if each.on_top {
                        match value.parse() {
                            Ok(number) => Level::OnTop(number),
                            Err(_) => {
                                self.fault(format!("{place}.values"), "sweep-not-a-number");
                                continue;
                            }
                        }
                    } else {
                        Level::Written(value.clone())
                    };
                    let mut more = set_up.clone();
                    let own = format!("{short} {value}");
                    more.name = [more.name, own].join(" ").trim().to_owned();
                    more.set.push((each.path.clone(), level));
                    crossed.push(more);
                }
            }
            set_ups = crossed;
        }
        if file.set_ups.is_empty() {
            return set_ups;
        }
        let mut crossed = Vec::new();
        for set_up in &set_ups {
            for (i, named) in file.set_ups.iter().enumerate() {
                let mut more = set_up.clone();
                more.name = [more.name.as_str(), &named.name]
                    .join(" ")
                    .trim()
                    .to_owned();
                for (path, value) in &named.set {
                    self.path(&format!("set_ups[{}]", i + 1), path);
                    more.set.push((path.clone(), Level::Written(value.clone())));
                }
                crossed.push(more);
            }
        }
        let mut names: Vec<&str> = crossed.iter().map(|set_up| set_up.name.as_str()).collect();
        names.sort_unstable();
        if names.windows(2).any(|pair| pair.first() == pair.last()) {
            self.fault("set_ups", "sweep-same-name");
        }
        crossed
    }

    fn variable(&mut self, i: usize, variable: &Variable, file: &File) {
        let place = format!("vary[{}]", i + 1);
        let Some(holds) = self.path(&format!("{place}.path"), &variable.path) else {
            return;
        };
        if holds == Holds::Written {
            self.fault(format!("{place}.path"), "sweep-not-a-number");
            return;
        }
        let earlier = file.vary.iter().take(i).map(|other| &other.path);
        let taken = earlier
            .chain(file.each.iter().map(|each| &each.path))
            .chain([&file.against.path])
            .chain(
                file.set_ups
                    .iter()
                    .flat_map(|named| named.set.iter().map(|(path, _)| path)),
            );
        if taken.into_iter().any(|path| *path == variable.path) {
            let what = Message::new("sweep-varied-twice").with("path", variable.path.as_str());
            self.fault(format!("{place}.path"), what);
        }
        if !variable.spread.is_sound() {
            self.fault(format!("{place}.spread"), "sweep-empty-range");
            return;
        }
        if !variable.on_top {
            let (low, high) = variable.spread.range();
            for end in [low, high].into_iter().filter(|end| end.is_finite()) {
                let end = match holds {
                    Holds::Whole { .. } => end.round(),
                    _ => end,
                };
                self.number(&format!("{place}.spread"), &holds, end);
            }
        }
        let within = variable.within();
        if within.0 >= within.1 || variable.spread.part_within(within) < 1e-6 {
            self.fault(format!("{place}.within"), "sweep-empty-range");
        }
    }

    /// The Cholesky factor of the correlations.
    fn mixing(&mut self, file: &File) -> Option<Vec<Vec<f64>>> {
        let count = file.vary.len();
        let mut matrix: Vec<Vec<f64>> = (0..count)
            .map(|i| (0..count).map(|j| f64::from(u8::from(i == j))).collect())
            .collect();
        for (i, pair) in file.together.iter().enumerate() {
            let place = format!("together[{}]", i + 1);
            let of = |path: &String| file.vary.iter().position(|known| known.path == *path);
            let (Some(a), Some(b)) = (of(&pair.of.0), of(&pair.of.1)) else {
                self.fault(format!("{place}.of"), "sweep-not-varied");
                continue;
            };
            if a == b || pair.correlation.is_nan() || pair.correlation.abs() >= 1.0 {
                self.fault(place, "sweep-not-a-correlation");
                continue;
            }
            for (row, column) in [(a, b), (b, a)] {
                if let Some(cell) = matrix.get_mut(row).and_then(|row| row.get_mut(column)) {
                    *cell = pair.correlation;
                }
            }
        }
        let factor = cholesky(&matrix);
        if factor.is_none() {
            self.fault("together", "sweep-impossible-correlations");
        }
        factor
    }

    fn budget(&mut self, file: &File) {
        let budget = &file.budget;
        if !(1..=MOST_TRIALS_OF_POINT).contains(&budget.trials) {
            let what = Message::new("sweep-no-trials").with("most", MOST_TRIALS_OF_POINT as usize);
            self.fault("budget.trials", what);
        }
        if file.sampling == Sampling::Sobol && budget.trials > LONGEST_SOBOL {
            let what =
                Message::new("sweep-too-many-for-sobol").with("most", LONGEST_SOBOL as usize);
            self.fault("budget.trials", what);
        }
        if budget
            .time_s
            .is_some_and(|time_s| time_s.is_nan() || time_s <= 0.0 || time_s > 1e9)
        {
            self.fault("budget.time_s", "sweep-empty-range");
        }
        if budget
            .width
            .is_some_and(|width| !(width > 0.0 && width < 1.0))
        {
            self.fault("budget.width", "sweep-not-a-risk");
        }
        if let Some(rows) = budget.rows {
            if rows == 0 || !budget.trials.is_multiple_of(rows) {
                self.fault("budget.rows", "sweep-rows-uneven");
            }
            let alone = budget.corner_trials == 0
                && budget.width.is_none()
                && file.together.is_empty()
                && !matches!(file.sampling, Sampling::Grid | Sampling::Saltelli);
            if !alone {
                self.fault("budget.rows", "sweep-rows-not-with");
            }
        }
        if file.sampling == Sampling::Saltelli {
            let of_base = trials_of_base(file.vary.len() + 1);
            if !budget.trials.is_multiple_of(of_base) {
                let what = Message::new("sweep-saltelli-uneven").with("of_base", of_base as usize);
                self.fault("budget.trials", what);
            }
            if budget.width.is_some() || !file.together.is_empty() {
                self.fault("sampling", "sweep-saltelli-not-with");
            }
        }
        if file.sampling == Sampling::Grid && !file.vary.is_empty() {
            let per_side = f64::from(budget.trials).powf(1.0 / file.vary.len() as f64) + 1e-9;
            if per_side < 2.0 {
                let needed = 2usize.saturating_pow(file.vary.len() as u32);
                let what = Message::new("sweep-grid-too-small").with("needed", needed);
                self.fault("budget.trials", what);
            }
        }
        let unmeasured = file
            .vary
            .iter()
            .filter(|variable| variable.unmeasured)
            .count();
        if budget.corner_trials > 0 && unmeasured > MOST_UNMEASURED {
            let what = Message::new("sweep-too-many-corners").with("most", MOST_UNMEASURED);
            self.fault("vary", what);
        }
    }

    fn size(&mut self, sweep: &Sweep) {
        if sweep.points().len() > MOST_POINTS || sweep.trials() > MOST_TRIALS {
            let what = Message::new("sweep-too-large")
                .with("points", sweep.points().len())
                .with("trials", sweep.trials());
            self.fault("budget", what);
        }
    }

    /// Every set-up at both ends of what it is drawn against must make a sound scenario.
    fn all_fit(&mut self, sweep: &Sweep) {
        let ends = [sweep.values.first(), sweep.values.last()];
        for (i, set_up) in sweep.set_ups.iter().enumerate() {
            for &value in ends.into_iter().flatten() {
                if let Err(why) = sweep.scenario(i, value, &[]) {
                    let place =
                        [sweep.against.as_str(), &value.to_string(), &set_up.name].join(" ");
                    self.fault(place.trim(), why);
                    return;
                }
            }
        }
    }
}

/// Trials that belong together in the layout for Sobol indices.
fn trials_of_base(factors: usize) -> u32 {
    INDEPENDENT + factors as u32
}

/// That a combination of values makes no sound scenario, with the first reason.
fn impossible(faults: &[Fault]) -> Message {
    let Some(first) = faults.first() else {
        return "sweep-impossible".into();
    };
    let mut why = first.what.clone();
    if let Some(allowed) = &first.allowed {
        why = Message::new("fault-allowed")
            .with("what", why)
            .with("allowed", allowed.clone());
    }
    Message::new("sweep-impossible-because")
        .with("path", first.path.as_str())
        .with("why", why)
}

impl SetUp {
    /// The values as they stand in a scenario, with what the answer is drawn against at `value`.
    fn written(&self, against: &str, value: f64) -> Vec<(String, String)> {
        let mut written = vec![(against.to_owned(), value.to_string())];
        written.extend(self.set.iter().map(|(path, level)| {
            let text = match level {
                Level::Written(text) => text.clone(),
                Level::OnTop(more) => (value + more).to_string(),
            };
            (path.clone(), text)
        }));
        written
    }
}

/// The lower triangle L with L Lᵀ = the matrix; none where the correlations contradict each other.
fn cholesky(matrix: &[Vec<f64>]) -> Option<Vec<Vec<f64>>> {
    let mut factor: Vec<Vec<f64>> = Vec::with_capacity(matrix.len());
    for (i, row) in matrix.iter().enumerate() {
        let mut own = Vec::with_capacity(i + 1);
        for (j, cell) in row.iter().enumerate().take(i + 1) {
            let other: &[f64] = if j == i { &own } else { factor.get(j)? };
            let sum: f64 = own.iter().zip(other).take(j).map(|(a, b)| a * b).sum();
            let rest = cell - sum;
            own.push(if j == i {
                if rest <= 1e-9 {
                    return None;
                }
                rest.sqrt()
            } else {
                rest / factor.get(j)?.get(j)?
            });
        }
        factor.push(own);
    }
    Some(factor)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn correlations_are_factored_or_refused() {
        let matrix = vec![
            vec![1.0, 0.6, 0.0],
            vec![0.6, 1.0, -0.3],
            vec![0.0, -0.3, 1.0],
        ];
        let factor = cholesky(&matrix).unwrap();
        for i in 0..3 {
            for j in 0..=i {
                let back: f64 = (0..=j).map(|k| factor[i][k] * factor[j][k]).sum();
                assert!((back - matrix[i][j]).abs() < 1e-12);
            }
        }
        let nonsense = vec![
            vec![1.0, 0.9, -0.9],
            vec![0.9, 1.0, 0.9],
            vec![-0.9, 0.9, 1.0],
        ];
        assert_eq!(cholesky(&nonsense), None);
    }
}
