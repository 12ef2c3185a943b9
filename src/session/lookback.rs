//! Looking at any moment of a run without changing it.

use crate::judge::Rerun;
use crate::sim::line::Line;

/// Ticks between two lines that are held on to on the way to a moment, and how many: going back and
/// forth within a few seconds is then quick.
const STEP_TICKS: u64 = 48;
const STEPS_MOST: usize = 24;

/// The moment looked at last, and those before it.
#[derive(Default)]
pub struct Lookback {
    line: Option<Line>,
    steps: Vec<Line>,
}

impl Lookback {
    /// The line as it stood after a tick of a run, or at its end where that comes before. Always the
    /// same run, or [`Lookback::forget`] in between.
    pub fn at(&mut self, run: &Rerun<'_>, tick: u64) -> &Line {
        let tick = tick.min(run.log.ticks);
        let mut line = self.start(run, tick);
        while line.tick_count() < tick {
            let next = (line.tick_count() / STEP_TICKS + 1) * STEP_TICKS;
            run.walk(&mut line, next.min(tick) + 1);
            if line.fault().is_some() {
                break;
            }
            self.hold_on_to(&line);
        }
        self.line.insert(line)
    }

    /// The run is another one, or goes on otherwise.
    pub fn forget(&mut self) {
        *self = Self::default();
    }

    /// The latest line at hand that is not after a tick.
    fn start(&mut self, run: &Rerun<'_>, tick: u64) -> Line {
        let kept = run.kept.before(tick + 1);
        let kept_tick = kept.map_or(0, Line::tick_count);
        let near = |line: &Line| (kept_tick..=tick).contains(&line.tick_count());
        let step = self.steps.iter().filter(|line| near(line));
        let step = step.max_by_key(|line| line.tick_count());
        let last = self.line.take().filter(near);
        match (last, step) {
            (Some(last), None) => last,
            (Some(last), Some(step)) if last.tick_count() >= step.tick_count() => last,
            (_, Some(step)) => step.fork(),
            (None, None) => kept.map_or_else(|| Line::build(run.line), Line::fork),
        }
    }

    fn hold_on_to(&mut self, line: &Line) {
        let tick = line.tick_count();
        let known = self.steps.iter().any(|step| step.tick_count() == tick);
        if !tick.is_multiple_of(STEP_TICKS) || known {
            return;
        }
        if self.steps.len() == STEPS_MOST {
            self.steps.remove(0);
        }
        self.steps.push(line.fork());
    }
}
