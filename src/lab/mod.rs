//! The laboratory: many runs of one line with its numbers varied, and what can be said from them.
//!
//! A sweep file (`file`) names a base scenario, what is varied and how (`spread`, `sample`), and the
//! risk that is accepted. `engine` runs its trials (`trial`) on every core; `table` keeps their rows.
//! `answer` reads probabilities, the window of pitches, sensitivities and comparisons off the rows,
//! with exact bounds (`bounds`); `search` finds the ends of the window with far fewer trials;
//! `estimate` is what the closed forms say at once. `sheet` and `chart` show it. `setting` is a sweep
//! put together at a screen, and `bench` runs it in the background.
//!
//! Answers may only narrow the limits of the trade and of the maker.

mod answer;
mod bench;
mod bounds;
mod chart;
mod columns;
mod engine;
mod estimate;
mod file;
mod folder;
mod halving;
mod sample;
mod search;
mod setting;
mod sheet;
mod sobol;
mod spread;
mod table;
mod trial;

pub use answer::{
    Answer, Comparison, Curve, Indices, Interval, PITCH, Pair, Reading, Sensitivity, Swing, Window,
    answer,
};
pub use bench::{Bench, Stage, is_same};
pub use bounds::{Band, clean_trials, exact_band, exact_lower, exact_upper, most_failures, wilson};
pub use chart::{Chart, charts};
pub use engine::{Engine, Part, Progress, Stopped, Trials};
pub use estimate::Estimate;
pub use file::{
    Budget, Event, Level, Limit, Measure, Sampling, SetUp, Sweep, SweepError, SweepFault, Variable,
};
pub use folder::{JOURNAL, ROWS, keep, put, taken, write_answer};
pub use sample::Design;
pub use search::{Found, Search, search};
pub use setting::{
    BASE_FILE, Changed, SWEEP_FILE, Setting, Varied, faults_of, is_of_variable, unit_of,
};
pub use sheet::{page, text};
pub use sobol::{Index, Share};
pub use spread::Spread;
pub use table::{Journal, Provenance, Row, Table, TableError, merge};
pub use trial::{Patience, Release, Settled, Trial};
