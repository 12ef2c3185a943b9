//! The plots under the timeline, on its time axis: series with gaps, thinned so that every peak stays,
//! and the limits beside them.

use super::trace::Traces;
use crate::domain::limits::{ENTRY_MAX, LIFT_TILT_MAX, PITCH_MAX, PITCH_MIN, PITCH_NEVER_ABOVE};
use crate::domain::math::deg;
use crate::domain::rig::Rig;
use crate::domain::spec::LineSpec;
use crate::judge::{over_speed_m_per_s, time_s};
use crate::texts::Message;

/// Points of a series at most.
const POINTS_MOST: usize = 2000;

#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum PlotKind {
    Tilt,
    Heights,
    Pitch,
    GateSpeed,
    GateEnergy,
    Nearest,
}

/// One plot.
#[derive(Clone, Debug, PartialEq)]
pub struct Plot {
    pub kind: PlotKind,
    pub title: Message,
    pub unit: &'static str,
    pub series: Vec<Series>,
    pub limits: Vec<LimitLine>,
}

/// A line of a plot. Where there was nothing to measure it is broken.
#[derive(Clone, Debug, PartialEq)]
pub struct Series {
    pub name: Message,
    /// Unbroken parts: time, s, and value.
    pub parts: Vec<Vec<(f64, f64)>>,
}

/// A limit, drawn across.
#[derive(Clone, Debug, PartialEq)]
pub struct LimitLine {
    pub value: f64,
    pub name: Message,
}

impl Series {
    fn new(name: &'static str, traces: &Traces, values: &[Option<f32>]) -> Self {
        Self {
            name: name.into(),
            parts: thinned(&traces.ticks, values),
        }
    }

    /// Points in all.
    pub fn points(&self) -> usize {
        self.parts.iter().map(Vec::len).sum()
    }
}

fn limit(name: &'static str, value: f64) -> LimitLine {
    LimitLine {
        value,
        name: name.into(),
    }
}

/// The plots of a run; `spec` is the line as it was run.
pub fn plots(traces: &Traces, spec: &LineSpec) -> Vec<Plot> {
    let tilt_deg = deg(LIFT_TILT_MAX.value);
    let rig = Rig::new(spec);
    let pipe = spec.sticks.first().map(|stick| &stick.pipe);
    let over = pipe.and_then(|pipe| over_speed_m_per_s(&rig, pipe.roller()));
    let entry = over.map(|m_per_s| limit("limit-entry", ENTRY_MAX.value * m_per_s));
    vec![
        Plot {
            kind: PlotKind::Tilt,
            title: "plot-tilt".into(),
            unit: "°",
            series: vec![Series::new("series-tilt", traces, &traces.tilt_deg)],
            limits: [-tilt_deg, tilt_deg]
                .map(|value| limit("limit-tilt", value))
                .to_vec(),
        },
        Plot {
            kind: PlotKind::Heights,
            title: "plot-heights".into(),
            unit: "m",
            series: vec![
                Series::new("series-lift-near", traces, &traces.raised_m[0]),
                Series::new("series-lift-far", traces, &traces.raised_m[1]),
            ],
            limits: Vec::new(),
        },
        Plot {
            kind: PlotKind::Pitch,
            title: "plot-pitch".into(),
            unit: "°",
            series: vec![
                Series::new("rail-near", traces, &traces.pitch_deg[0]),
                Series::new("rail-far", traces, &traces.pitch_deg[1]),
            ],
            limits: vec![
                limit("limit-pitch-least", deg(PITCH_MIN.value)),
                limit("limit-pitch-most", deg(PITCH_MAX.value)),
                limit("limit-pitch-never", deg(PITCH_NEVER_ABOVE.value)),
            ],
        },
        Plot {
            kind: PlotKind::GateSpeed,
            title: "plot-gate".into(),
            unit: "m/s",
            series: vec![Series::new("series-gate", traces, &traces.gate_m_per_s)],
            limits: entry.into_iter().collect(),
        },
        Plot {
            kind: PlotKind::GateEnergy,
            title: "plot-gate-energy".into(),
            unit: "%",
            series: vec![Series::new("series-gate", traces, &traces.gate_energy_pct)],
            limits: vec![limit("limit-gate-energy", 100.0)],
        },
        Plot {
            kind: PlotKind::Nearest,
            title: "plot-nearest".into(),
            unit: "m",
            series: vec![
                Series::new("series-nearest", traces, &traces.nearest_m),
                Series::new("series-nearest-moving", traces, &traces.nearest_moving_m),
            ],
            limits: Vec::new(),
        },
    ]
}

/// At most so many points, the least and the greatest of every stretch among them, in their order.
fn thinned(ticks: &[u64], values: &[Option<f32>]) -> Vec<Vec<(f64, f64)>> {
    let stretch = (2 * values.len()).div_ceil(POINTS_MOST).max(1);
    let mut parts: Vec<Vec<(f64, f64)>> = Vec::new();
    let mut open = false;
    for (ticks, values) in ticks.chunks(stretch).zip(values.chunks(stretch)) {
        let mut points: Vec<(u64, f32)> = Vec::with_capacity(2);
        let known = ticks
            .iter()
            .zip(values)
            .filter_map(|(&tick, value)| Some((tick, (*value)?)));
        let (mut least, mut most) = (None::<(u64, f32)>, None::<(u64, f32)>);
        for (tick, value) in known {
            if least.is_none_or(|(_, known)| value < known) {
                least = Some((tick, value));
            }
            if most.is_none_or(|(_, known)| value > known) {
                most = Some((tick, value));
            }
        }
        points.extend(least);
        points.extend(most.filter(|most| least.is_none_or(|least| least.0 != most.0)));
        points.sort_by_key(|(tick, _)| *tick);
        if points.is_empty() {
            open = false;
            continue;
        }
        if !open {
            parts.push(Vec::new());
            open = true;
        }
        if let Some(part) = parts.last_mut() {
            part.extend(
                points
                    .into_iter()
                    .map(|(tick, value)| (time_s(tick), f64::from(value))),
            );
        }
    }
    parts
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn thinning_keeps_every_peak_and_every_gap() {
        let n = 90_000_u64;
        let ticks: Vec<u64> = (0..n).map(|i| 8 * i).collect();
        let mut values: Vec<Option<f32>> = (0..n).map(|i| Some((i % 97) as f32 * 1e-3)).collect();
        values[12_345] = Some(7.0);
        values[67_890] = Some(-3.0);
        values[40_000..50_000].fill(None);
        let parts = thinned(&ticks, &values);
        assert_eq!(parts.len(), 2, "one gap");
        let points: Vec<(f64, f64)> = parts.iter().flatten().copied().collect();
        assert!(points.len() <= POINTS_MOST, "{}", points.len());
        assert!(points.is_sorted_by(|one, other| one.0 < other.0));
        for (at, value) in [(12_345, 7.0), (67_890, -3.0)] {
            assert!(points.contains(&(time_s(8 * at), value)), "{value}");
        }
    }

    #[test]
    fn short_series_are_kept_whole() {
        let ticks = [8, 16, 24, 32, 40];
        let values = [Some(1.0), None, Some(2.0), Some(1.5), None];
        let parts = thinned(&ticks, &values);
        let at = |tick: u64, value: f64| (time_s(tick), value);
        assert_eq!(parts, [vec![at(8, 1.0)], vec![at(24, 2.0), at(32, 1.5)]]);
        assert!(thinned(&[], &[]).is_empty());
    }
}
