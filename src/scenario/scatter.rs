//! How the sticks of a row come to lie by chance, and how much room that takes.

use chacha20::ChaCha8Rng;
use chacha20::rand_core::SeedableRng;
use rand::RngExt;
use serde::{Deserialize, Serialize};

use crate::domain::loader::KEEPS_OFF_M;
use crate::domain::math::{cos, sin, tan};
use crate::domain::rig::{End, Rig};
use crate::domain::spec::{LineSpec, LoaderSpec, StickSpec};

/// Half widths of the uniform deviations of every stick as loaded; the gap only widens.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Scatter {
    pub gap_m: f64,
    pub long_axis_rad: f64,
    pub yaw_rad: f64,
    pub offset_m: f64,
}

/// One stream of random numbers for each purpose, so that a change of one leaves the others as they
/// were. Their numbers are part of what a seed means and never change.
#[derive(Clone, Copy)]
enum Stream {
    Gap = 1,
    LongAxis = 2,
    Yaw = 3,
    Offset = 4,
}

impl Stream {
    fn of(self, seed: u64) -> ChaCha8Rng {
        let mut stream = ChaCha8Rng::seed_from_u64(seed);
        stream.set_stream(self as u64);
        stream
    }
}

impl Scatter {
    /// Every stick exactly where it is meant to lie.
    pub const NONE: Self = Self {
        gap_m: 0.0,
        long_axis_rad: 0.0,
        yaw_rad: 0.0,
        offset_m: 0.0,
    };

    /// The row of a line as loaded by chance. Each stick, from the gate up, takes one number of each
    /// stream. No two sticks overlap and none misses a rail if that is so on the line itself.
    pub(super) fn loaded(&self, line: &LineSpec, seed: u64) -> Vec<StickSpec> {
        let rig = Rig::new(line);
        let half_spacing_m = 0.5 * line.rack.rail_spacing_m;
        let [mut gaps, mut long_axes, mut yaws, mut offsets] =
            [Stream::Gap, Stream::LongAxis, Stream::Yaw, Stream::Offset]
                .map(|stream| stream.of(seed));
        let mut row: Vec<StickSpec> = Vec::with_capacity(line.sticks.len());
        let mut meant_below: Option<&StickSpec> = None;
        for meant in &line.sticks {
            let mut stick = *meant;
            stick.long_axis_rad += self.long_axis_rad * long_axes.random_range(-1.0..=1.0);
            stick.yaw_rad += self.yaw_rad * yaws.random_range(-1.0..=1.0);
            // Towards a rail's end only as far as the stick still lies on it.
            let furthest_m =
                (reach_along_m(meant, self) - half_spacing_m).max(meant.offset_m.abs());
            let offset_m = meant.offset_m + self.offset_m * offsets.random_range(-1.0..=1.0);
            stick.offset_m = offset_m.min(furthest_m).max(-furthest_m);
            // The ends of sticks that differ in skew come closer; the gap widens by as much.
            let needed_m = |below: Option<&StickSpec>, stick: &StickSpec| match below {
                None => least_gap_above_gate_m(stick, &rig, &Self::NONE),
                Some(below) => least_gap_m(below, stick, &Self::NONE),
            };
            let closer_m = needed_m(row.last(), &stick) - needed_m(meant_below, meant);
            stick.gap_m += self.gap_m * gaps.random_range(0.0..=1.0) + closer_m.max(0.0);
            row.push(stick);
            meant_below = Some(meant);
        }
        row
    }
}

/// The row of a rig and behind it the sticks that its loader brings, each taking the most room that
/// scatter can make it take.
pub(super) fn widest_row(rig: &Rig, scatter: &Scatter) -> Vec<StickSpec> {
    let meant = with_loaders(rig.spec());
    let below = std::iter::once(None).chain(meant.iter().map(Some));
    meant
        .iter()
        .zip(below)
        .map(|(stick, below)| {
            let [needed_m, at_most_m] = [Scatter::NONE, *scatter].map(|scatter| match below {
                None => least_gap_above_gate_m(stick, rig, &scatter),
                Some(below) => least_gap_m(below, stick, &scatter),
            });
            StickSpec {
                gap_m: stick.gap_m + scatter.gap_m + (at_most_m - needed_m),
                // The flatter the long axis lies, the wider the stick.
                long_axis_rad: (stick.long_axis_rad.abs() - scatter.long_axis_rad).max(0.0),
                yaw_rad: stick.yaw_rad.abs() + scatter.yaw_rad,
                ..*stick
            }
        })
        .collect()
}

/// The sticks of the row and those of the loader, which are alike its last. The row closes up between
/// two landings; the last stick lies where it is set down.
fn with_loaders(line: &LineSpec) -> Vec<StickSpec> {
    let mut sticks = line.sticks.clone();
    if let (Some(loader), Some(last)) = (line.loader, line.sticks.last()) {
        let brought = StickSpec {
            gap_m: loader.gap_m,
            ..*last
        };
        sticks.extend(std::iter::repeat_n(brought, loader.sticks));
        if let Some(landing) = sticks.last_mut() {
            landing.gap_m = loader
                .gap_m
                .max(beyond_stick_m(&loader, last) + KEEPS_OFF_M);
        }
    }
    sticks
}

/// How far the tips of forks reach beyond a stick that lies against their face, m.
pub(super) fn beyond_stick_m(loader: &LoaderSpec, stick: &StickSpec) -> f64 {
    (loader.fork_length_m - stick.pipe.outside_diameter_m).max(0.0)
}

/// How far along the line a stick reaches from its middle at its greatest skew, m.
pub(super) fn reach_along_m(stick: &StickSpec, scatter: &Scatter) -> f64 {
    0.5 * stick.pipe.length_m * cos(stick.yaw_rad.abs() + scatter.yaw_rad)
}

/// Least gap, as if none were skewed, with which a stick clears the gate's pins or wheels at its
/// greatest skew, m.
pub(super) fn least_gap_above_gate_m(stick: &StickSpec, rig: &Rig, scatter: &Scatter) -> f64 {
    let yaw_rad = stick.yaw_rad.abs() + scatter.yaw_rad;
    let gate_z_m = rig.pin_z_m(End::Near).abs() + rig.pin_half_width_m();
    gate_z_m * tan(yaw_rad) + stick.pipe.oval().long_m * widening(yaw_rad)
}

/// Least gap, as if none were skewed, with which the upper of two sticks clears the lower one at
/// their greatest difference in skew, m.
pub(super) fn least_gap_m(lower: &StickSpec, upper: &StickSpec, scatter: &Scatter) -> f64 {
    let yaw_rad = scatter.yaw_rad + lower.yaw_rad.abs().max(upper.yaw_rad.abs());
    // Where along the line a stick ends: a skewed one ends later above its axis than on it.
    let end_m = |stick: &StickSpec, side: f64| {
        let half_m = 0.5 * stick.pipe.length_m + stick.pipe.oval().long_m * sin(yaw_rad);
        stick.offset_m + side * (half_m + scatter.offset_m)
    };
    let from_m = end_m(lower, -1.0).max(end_m(upper, -1.0));
    let to_m = end_m(lower, 1.0).min(end_m(upper, 1.0));
    let reach_m = lower.pipe.oval().long_m + upper.pipe.oval().long_m;
    // Sticks turn about the middle of the rails.
    let closer = |play_rad: f64| tan(lower.yaw_rad + play_rad) - tan(upper.yaw_rad - play_rad);
    [from_m, to_m]
        .into_iter()
        .flat_map(|z_m| [scatter.yaw_rad, -scatter.yaw_rad].map(|play_rad| z_m * closer(play_rad)))
        .fold(0.0, f64::max)
        + reach_m * widening(yaw_rad)
}

/// How much wider a skewed stick is along the rails than a straight one, as a fraction.
fn widening(yaw_rad: f64) -> f64 {
    1.0 / cos(yaw_rad) - 1.0
}
