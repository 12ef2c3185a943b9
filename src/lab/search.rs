//! The ends of the window by halving: the same seeds and the same rule as a grid, with a few of its
//! trials.
//!
//! It takes for granted that a risk which is within its limit stays so up to the end, or down to it,
//! and that there is one window: as the grid of a sweep shows, or does not.

use std::collections::BTreeMap;

use super::bounds::most_failures;
use super::file::Limit;

/// What is sought.
#[derive(Clone, Debug, PartialEq)]
pub struct Search<'a> {
    /// Between which values, and to within what.
    pub from: f64,
    pub to: f64,
    pub within: f64,
    /// Trials of a value, and the risks that must be shown.
    pub trials: u32,
    pub limits: &'a [Limit],
    pub confidence: f64,
}

/// What was found.
#[derive(Clone, Debug, PartialEq)]
pub struct Found {
    /// The least and the greatest value that passes; none where no value tried does.
    pub window: Option<(f64, f64)>,
    /// Whether the window goes on beyond an end of what was searched.
    pub open: (bool, bool),
    pub trials: u64,
}

/// How a value fails or passes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Verdict {
    Passes,
    /// By the limit of this place.
    Fails(usize),
}

/// Looks for the ends of the window. `hits` runs trials at a value, from one place in the sampling to
/// another, and says of each which of the limits' events it came to.
pub fn search(search: &Search<'_>, mut hits: impl FnMut(f64, u32, u32) -> Vec<Vec<bool>>) -> Found {
    let steps = ((search.to - search.from) / search.within).ceil().max(1.0) as u32;
    let value = |step: u32| {
        let value = search.from + (search.to - search.from) * f64::from(step) / f64::from(steps);
        (value * 1e9).round() / 1e9
    };
    let most: Option<Vec<u64>> = search
        .limits
        .iter()
        .map(|limit| most_failures(u64::from(search.trials), limit.below, search.confidence))
        .collect();
    let mut spent = 0;
    let Some(most) = most else {
        return Found {
            window: None,
            open: (false, false),
            trials: 0,
        };
    };
    let mut known: BTreeMap<u32, Verdict> = BTreeMap::new();
    let mut judge = |step: u32| -> Verdict {
        if let Some(verdict) = known.get(&step) {
            return *verdict;
        }
        let mut counted = vec![0u64; most.len()];
        let mut done = 0;
        let verdict = loop {
            if done >= search.trials {
                break Verdict::Passes;
            }
            // A few first: where a limit is far off, they decide.
            let next = (done + done.max(8)).min(search.trials);
            let rows = hits(value(step), done, next);
            spent += u64::from(next - done);
            done = next;
            for row in rows {
                for (count, hit) in counted.iter_mut().zip(row) {
                    *count += u64::from(hit);
                }
            }
            let over = counted
                .iter()
                .zip(&most)
                .position(|(count, most)| count > most);
            if let Some(limit) = over {
                break Verdict::Fails(limit);
            }
        };
        known.insert(step, verdict);
        verdict
    };
    let ends = [judge(0), judge(steps)];
    let inside = match ends {
        [Verdict::Passes, _] => Some(0),
        [_, Verdict::Passes] => Some(steps),
        [Verdict::Fails(below), Verdict::Fails(above)] => {
            first_inside(steps, below, above, &mut judge)
        }
    };
    let Some(inside) = inside else {
        return Found {
            window: None,
            open: (false, false),
            trials: spent,
        };
    };
    let mut edge = |mut fails: u32, end: Verdict| {
        let mut passes = inside;
        if end == Verdict::Passes {
            return fails;
        }
        while passes.abs_diff(fails) > 1 {
            let middle = (passes + fails) / 2;
            if judge(middle) == Verdict::Passes {
                passes = middle;
            } else {
                fails = middle;
            }
        }
        passes
    };
    let (low, high) = (edge(0, ends[0]), edge(steps, ends[1]));
    Found {
        window: Some((value(low), value(high))),
        open: (ends[0] == Verdict::Passes, ends[1] == Verdict::Passes),
        trials: spent,
    }
}

/// A value that passes between two ends that fail by different limits: on the side of either end, its
/// own limit fails. Where both fail by the same limit the middle is tried, then quarters.
fn first_inside(
    steps: u32,
    below: usize,
    above: usize,
    judge: &mut impl FnMut(u32) -> Verdict,
) -> Option<u32> {
    if below != above {
        let (mut low, mut high) = (0, steps);
        while high - low > 1 {
            let middle = (low + high) / 2;
            match judge(middle) {
                Verdict::Passes => return Some(middle),
                Verdict::Fails(limit) if limit == below => low = middle,
                Verdict::Fails(_) => high = middle,
            }
        }
        return None;
    }
    let mut parts = 2;
    while parts <= steps {
        for part in (1..parts).step_by(2) {
            let step = (u64::from(steps) * u64::from(part) / u64::from(parts)) as u32;
            if judge(step) == Verdict::Passes {
                return Some(step);
            }
        }
        parts *= 2;
    }
    None
}
