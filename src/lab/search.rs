//! The ends of the window: the same seeds and the same rule as a grid, with a few of its trials.
//!
//! A value fails as soon as one risk has more hits than all its trials may have, and the trials that
//! failed at the nearest values are tried first, so that a value that fails takes few. One that seems to
//! pass is not tried to the end: the search goes on outwards until its neighbour fails, and only then is
//! the end itself given all its trials. Where they break it, the search goes on inside of it, and knows
//! by then which trials are the delicate ones: what came to nothing further out is believed to come to
//! nothing here, until the end itself is tried. What fails has failed by trials that were run, and the ends
//! that are told have passed with every trial that a grid would give them.
//!
//! It takes for granted that a risk which is within its limit stays so up to the end, or down to it,
//! and that there is one window: as the grid of a sweep shows, or does not.

use std::collections::{BTreeMap, BTreeSet};

use super::bounds::most_failures;
use super::file::Limit;

/// Trials at a value, beside twice those that may fail, after which it seems to pass.
const SCREEN: usize = 8;
/// Trials that are run at once.
const AT_ONCE: usize = 8;

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

impl Search<'_> {
    /// Steps of the grid that it stands for.
    fn steps(&self) -> u32 {
        ((self.to - self.from) / self.within - 1e-9).ceil().max(1.0) as u32
    }

    fn value(&self, step: u32) -> f64 {
        let part = f64::from(step) / f64::from(self.steps());
        // What is 5.300000000000001 is written 5.3.
        ((self.from + (self.to - self.from) * part) * 1e9).round() / 1e9
    }

    /// Trials of the grid that gives the same ends.
    pub fn trials_of_grid(&self) -> u64 {
        (u64::from(self.steps()) + 1) * u64::from(self.trials)
    }
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

/// Looks for the ends of the window. `hits` runs the trials of some places in the sampling at a value,
/// and says of each which of the limits' events it came to.
pub fn search(search: &Search<'_>, hits: impl FnMut(f64, &[u32]) -> Vec<Vec<bool>>) -> Found {
    let most: Option<Vec<u64>> = search
        .limits
        .iter()
        .map(|limit| most_failures(u64::from(search.trials), limit.below, search.confidence))
        .collect();
    let Some(most) = most else {
        return Found {
            window: None,
            open: (false, false),
            trials: 0,
        };
    };
    let mut seeker = Seeker {
        search,
        hits,
        most,
        known: BTreeMap::new(),
        spent: 0,
    };
    let ends = seeker.ends();
    let last = search.steps();
    Found {
        window: ends.map(|(low, high)| (search.value(low), search.value(high))),
        open: ends.map_or((false, false), |(low, high)| (low == 0, high == last)),
        trials: seeker.spent,
    }
}

/// What is known at a step.
#[derive(Clone, Debug, Default)]
struct Known {
    done: BTreeSet<u32>,
    /// Places that came to an event of the limits.
    hit: BTreeSet<u32>,
    /// Hits of each limit.
    counted: Vec<u64>,
}

struct Seeker<'a, H> {
    search: &'a Search<'a>,
    hits: H,
    /// Hits that each limit may have in all trials of a value.
    most: Vec<u64>,
    known: BTreeMap<u32, Known>,
    spent: u64,
}

impl<H: FnMut(f64, &[u32]) -> Vec<Vec<bool>>> Seeker<'_, H> {
    /// Both ends, as steps.
    fn ends(&mut self) -> Option<(u32, u32)> {
        loop {
            let inside = self.inside()?;
            let low = self.end(inside, 0);
            let high = self.end(inside, self.search.steps());
            // Otherwise all its trials have shown that it is not inside: another one is sought.
            if let (Some(low), Some(high)) = (low, high) {
                return Some((low, high));
            }
        }
    }

    /// The last step that passes on the way from one that seems to pass to an end of what is searched;
    /// none where that one does not pass after all.
    fn end(&mut self, inside: u32, outermost: u32) -> Option<u32> {
        if self.whole(outermost) == Verdict::Passes {
            return Some(outermost);
        }
        let mut fails = outermost;
        loop {
            let mut passes = inside;
            while passes.abs_diff(fails) > 1 {
                let middle = (passes + fails) / 2;
                let believed = self.sound_beyond(middle, outermost);
                if self.screened(middle, &believed) == Verdict::Passes {
                    passes = middle;
                } else {
                    fails = middle;
                }
            }
            if self.whole(passes) == Verdict::Passes {
                return Some(passes);
            }
            if passes == inside {
                return None;
            }
            fails = passes;
        }
    }

    /// A step that seems to pass. Between two ends that fail by different limits: on the side of either
    /// end, its own limit fails. Where both fail by the same limit the middle is tried, then quarters.
    fn inside(&mut self) -> Option<u32> {
        let steps = self.search.steps();
        let nothing = BTreeSet::new();
        let (below, above) = match [0, steps].map(|step| self.screened(step, &nothing)) {
            [Verdict::Passes, _] => return Some(0),
            [_, Verdict::Passes] => return Some(steps),
            [Verdict::Fails(below), Verdict::Fails(above)] => (below, above),
        };
        if below != above {
            let (mut low, mut high) = (0, steps);
            while high - low > 1 {
                let middle = (low + high) / 2;
                match self.screened(middle, &nothing) {
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
                if self.screened(step, &nothing) == Verdict::Passes {
                    return Some(step);
                }
            }
            parts *= 2;
        }
        None
    }

    fn screened(&mut self, step: u32, believed: &BTreeSet<u32>) -> Verdict {
        let most = self.most.iter().max().copied().unwrap_or(0) as usize;
        self.judged(step, SCREEN + 2 * most, believed)
    }

    fn whole(&mut self, step: u32) -> Verdict {
        self.judged(step, self.search.trials as usize, &BTreeSet::new())
    }

    /// Tries a step with so many more trials, or until it fails; those that are believed to come to nothing
    /// are left out.
    fn judged(&mut self, step: u32, trials: usize, believed: &BTreeSet<u32>) -> Verdict {
        let mut order = self.delicate(step);
        let listed: BTreeSet<u32> = order.iter().copied().collect();
        order.extend((0..self.search.trials).filter(|place| !listed.contains(place)));
        let known = self.known.entry(step).or_default();
        known.counted.resize(self.most.len(), 0);
        order.retain(|place| !known.done.contains(place) && !believed.contains(place));
        order.truncate(trials);
        let mut chunks = order.chunks(AT_ONCE);
        loop {
            let counted = known.counted.iter().zip(&self.most);
            let over = counted.into_iter().position(|(count, most)| count > most);
            if let Some(limit) = over {
                return Verdict::Fails(limit);
            }
            let Some(places) = chunks.next() else {
                return Verdict::Passes;
            };
            let rows = (self.hits)(self.search.value(step), places);
            self.spent += places.len() as u64;
            for (place, row) in places.iter().zip(rows) {
                known.done.insert(*place);
                if row.contains(&true) {
                    known.hit.insert(*place);
                }
                for (count, hit) in known.counted.iter_mut().zip(row) {
                    *count += u64::from(hit);
                }
            }
        }
    }

    /// Places that came to nothing at a step further out.
    fn sound_beyond(&self, step: u32, outermost: u32) -> BTreeSet<u32> {
        let beyond = self.known.range(step.min(outermost)..=step.max(outermost));
        let beyond = beyond.filter(|(other, _)| **other != step);
        let each = beyond.flat_map(|(_, known)| known.done.difference(&known.hit));
        each.copied().collect()
    }

    /// Places that came to an event at other steps, those of the nearest steps first.
    fn delicate(&self, step: u32) -> Vec<u32> {
        let mut others: Vec<(u32, &Known)> = self
            .known
            .iter()
            .map(|(other, known)| (other.abs_diff(step), known))
            .collect();
        others.sort_by_key(|(away, _)| *away);
        let mut seen = BTreeSet::new();
        let each = others.iter().flat_map(|(_, known)| &known.hit);
        each.copied().filter(|place| seen.insert(*place)).collect()
    }
}
