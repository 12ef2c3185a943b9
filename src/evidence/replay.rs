//! Running a recording again from its inputs, and holding what comes of it against what was recorded.

use super::figures::Figures;
use super::outcome::Outcome;
use super::recording::{Recorder, Recording, RecordingError};
use crate::judge::Logger;
use crate::operator::Ending;
use crate::sim::line::Line;
use crate::sim::world::SimFault;

/// What came of running a recording again.
#[derive(Clone, Debug, PartialEq)]
pub struct Replay {
    /// Ticks of the recorded run.
    pub ticks: u64,
    /// How many states were compared.
    pub states: usize,
    /// The first thing that is not as recorded.
    pub differs: Option<Difference>,
}

/// What is not as recorded.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Difference {
    /// The state after a tick.
    State { tick: u64 },
    /// Events, samples or places: what the run is judged by.
    Log,
    /// What came of it.
    Outcome,
    /// The simulation itself failed.
    Fault(SimFault),
}

impl Recording {
    /// Runs it again; `watch` sees every tick.
    ///
    /// # Errors
    /// Where its scenario, its set-out or its log is not sound.
    pub fn replay(&self, mut watch: impl FnMut(&Line)) -> Result<Replay, RecordingError> {
        let (_, spec) = self.as_run()?;
        let mut line = Line::build(&spec);
        let (mut logger, mut recorder) = (Logger::default(), Recorder::default());
        let replay = |differs| Replay {
            ticks: self.log.ticks,
            states: self.hashes.len(),
            differs,
        };
        while line.tick_count() < self.log.ticks {
            let controls = self.log.controls_at(line.tick_count() + 1);
            line.tick(&controls);
            if let Some(fault) = line.fault() {
                return Ok(replay(Some(Difference::Fault(fault))));
            }
            logger.observe(&line, &controls);
            recorder.observe(&line);
            watch(&line);
        }
        if let Some(tick) = first_difference(&recorder.hashes_to(&line), &self.hashes) {
            return Ok(replay(Some(Difference::State { tick })));
        }
        let ending = self.log.ending.unwrap_or(Ending::BrokenOff);
        let mut log = logger.finish(&line, ending);
        log.ending = self.log.ending;
        let outcome = Outcome::of(&line, ending, &Figures::of(&line));
        let differs = if log != self.log {
            Some(Difference::Log)
        } else if outcome != self.outcome {
            Some(Difference::Outcome)
        } else {
            None
        };
        Ok(replay(differs))
    }
}

/// The first tick at which two lists of hashes differ, or at which one lacks what the other has.
fn first_difference(made: &[(u64, u64)], recorded: &[(u64, u64)]) -> Option<u64> {
    let at = made
        .iter()
        .zip(recorded)
        .position(|(made, recorded)| made != recorded)
        .unwrap_or(made.len().min(recorded.len()));
    let ticks = [made.get(at), recorded.get(at)];
    ticks.into_iter().flatten().map(|(tick, _)| *tick).min()
}

#[cfg(test)]
mod tests {
    use super::first_difference;

    #[test]
    fn the_first_difference_is_told() {
        let made = [(240, 1), (480, 2), (500, 3)];
        assert_eq!(first_difference(&made, &made), None);
        assert_eq!(
            first_difference(&made, &[(240, 1), (480, 9), (500, 3)]),
            Some(480)
        );
        assert_eq!(first_difference(&made, &made[..2]), Some(500));
        assert_eq!(first_difference(&made[..1], &made), Some(480));
        assert_eq!(first_difference(&made, &[]), Some(240));
    }
}
