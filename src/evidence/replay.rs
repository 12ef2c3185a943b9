//! Running a recording again from its inputs, and holding what comes of it against what was recorded;
//! and what is proved where the bits may differ.

use super::figures::Figures;
use super::outcome::Outcome;
use super::recording::{HASH_EVERY_TICKS, Maker, Pose, Recorder, Recording, RecordingError};
use super::recording::{Scored, Standing, States};
use crate::domain::rig::Rig;
use crate::domain::spec::LineSpec;
use crate::judge::{Logger, judge};
use crate::operator::Ending;
use crate::sim::line::{Body, Line};
use crate::sim::world::{SimFault, StickId};

/// Poses nearer to each other than this look alike, m.
const ALIKE_M: f32 = 0.01;
/// How far from the poses around it an event may be said to have happened, m.
const AT_M: f32 = 0.05;

/// What came of running a recording again.
#[derive(Clone, Debug, PartialEq)]
pub struct Replay {
    /// Ticks of the recorded run.
    pub ticks: u64,
    /// How many states were compared.
    pub states: usize,
    /// The first thing that is not as recorded.
    pub differs: Option<Difference>,
    /// The first tick after which a stick was to be seen somewhere else than recorded.
    pub looks_other: Option<u64>,
}

/// What is not as recorded.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Difference {
    /// The state after a tick, and the bodies that are off: the first one first, then all that are by
    /// the end of that second.
    State { tick: u64, bodies: Vec<Body> },
    /// The states agree, but this stick was recorded somewhere else.
    Poses { tick: u64, stick: StickId },
    /// Events, samples or places: what the run is judged by.
    Log,
    /// What came of it.
    Outcome,
    /// What it was worth.
    Score,
    /// The simulation itself failed.
    Fault(SimFault),
}

/// What a recording proves here.
#[derive(Clone, Debug, PartialEq)]
pub struct Verification {
    pub replay: Replay,
    /// It was made by a program that gives the same bits as this one here, as far as can be told.
    pub same_bits: bool,
    /// What stands in it follows from its own log: score and findings; none of one that has none.
    pub score_follows: Option<bool>,
    /// Events that are told with a place, and the first of them that the recorded poses contradict.
    pub placed_events: usize,
    pub contradicted: Option<u64>,
    /// It has no end: so much as there is was held against the simulation.
    pub cut_short: bool,
}

impl Verification {
    /// Whether all of the run follows from its controls, to the last bit.
    pub fn is_verified(&self) -> bool {
        self.replay.differs.is_none()
    }

    /// Whether, where the bits may differ, what is in it fits together.
    pub fn is_consistent(&self) -> bool {
        self.score_follows != Some(false) && self.contradicted.is_none()
    }
}

impl Recording {
    /// Runs it again and says what that proves; `watch` sees every tick.
    ///
    /// # Errors
    /// Where its scenario, its set-out or its log is not sound.
    pub fn verify(&self, watch: impl FnMut(&Line)) -> Result<Verification, RecordingError> {
        let (_, spec) = self.as_run()?;
        let (_, verdict) = self.judged()?;
        let score_follows = self
            .scored
            .as_ref()
            .map(|scored| *scored == Scored::from(&verdict));
        let (placed_events, contradicted) = self.events_in_place(&spec);
        Ok(Verification {
            replay: self.replay(watch)?,
            same_bits: self.head.maker == Maker::here(),
            score_follows,
            placed_events,
            contradicted,
            cut_short: self.cut_short.is_some(),
        })
    }

    /// Runs it again; `watch` sees every tick.
    ///
    /// # Errors
    /// Where its scenario, its set-out or its log is not sound.
    pub fn replay(&self, mut watch: impl FnMut(&Line)) -> Result<Replay, RecordingError> {
        let (scenario, spec) = self.as_run()?;
        let mut line = Line::build(&spec);
        let (mut logger, mut recorder) = (Logger::default(), Recorder::default());
        let mut fault = None;
        while line.tick_count() < self.log.ticks {
            let controls = self.log.controls_at(line.tick_count() + 1);
            line.tick(&controls);
            fault = line.fault();
            if fault.is_some() {
                break;
            }
            logger.observe(&line, &controls);
            recorder.observe(&line);
            watch(&line);
        }
        // The last state is put down when the run ends, just before the file's end.
        let last = self.states.hashes.last();
        let is_last_there = last.is_some_and(|(tick, _)| *tick == self.log.ticks);
        let made = if self.cut_short.is_none() || is_last_there {
            recorder.states_to(&line)
        } else {
            recorder.states().clone()
        };
        let ending = self.log.ending.unwrap_or(Ending::BrokenOff);
        let mut log = logger.finish(&line, ending);
        log.ending = self.log.ending;
        if self
            .cut_short
            .as_ref()
            .is_some_and(|cut| !cut.standing_known)
        {
            Standing::told(&self.log).put_into(&mut log);
        }
        let differs = if let Some(fault) = fault {
            Some(Difference::Fault(fault))
        } else if let Some(difference) = first_difference(&made, &self.states) {
            Some(difference)
        } else if log != self.log {
            Some(Difference::Log)
        } else if let Some(scored) = &self.scored {
            let outcome = Outcome::of(&line, ending, &Figures::of(&line));
            if outcome != self.outcome {
                Some(Difference::Outcome)
            } else if *scored != Scored::from(&judge(&scenario, &spec, &log)) {
                Some(Difference::Score)
            } else {
                None
            }
        } else {
            None
        };
        Ok(Replay {
            ticks: self.log.ticks,
            states: self.states.hashes.len(),
            differs,
            looks_other: looks_other(&made, &self.states),
        })
    }

    /// How many events are told with the place of a stick, and the tick of the first that is not where
    /// the recorded poses have it.
    fn events_in_place(&self, spec: &LineSpec) -> (usize, Option<u64>) {
        let mirror = Rig::new(spec).mirror() as f32;
        let poses = &self.states.poses;
        let mut placed = 0;
        for noted in &self.log.events {
            let (tick, kind) = (noted.event.tick, noted.event.kind);
            let (Some(stick), None, Some(at)) = (kind.stick(), kind.person(), noted.at) else {
                continue;
            };
            let after = poses.partition_point(|(posed, _)| *posed <= tick);
            let of = |i: usize| poses.get(i).and_then(|(_, poses)| poses.get(stick.0));
            let (Some(before), Some(after)) = (after.checked_sub(1).and_then(of), of(after)) else {
                continue;
            };
            placed += 1;
            let [x, y, z] = at;
            let at = [mirror * x, y, z];
            let way_m = away_m(before, [after[0], after[1], after[2]]);
            if away_m(before, at) > way_m + AT_M {
                return (placed, Some(tick));
            }
        }
        (placed, None)
    }
}

/// How far the middle of a pose is from a place, m.
fn away_m(pose: &Pose, from: [f32; 3]) -> f32 {
    let squares = from.iter().zip(pose).map(|(a, b)| (a - b) * (a - b));
    squares.sum::<f32>().sqrt()
}

/// The first thing in which states that were made differ from those that were recorded.
fn first_difference(made: &States, recorded: &States) -> Option<Difference> {
    let hashed = first_unlike(&made.hashes, &recorded.hashes);
    let digested = first_unlike(&made.digests, &recorded.digests);
    let posed = first_unlike(&made.poses, &recorded.poses);
    let seen = posed.map(|at| {
        let ticks = [made.poses.get(at), recorded.poses.get(at)];
        let tick = ticks.into_iter().flatten().map(|(tick, _)| *tick).min();
        let of = |poses: &States| poses.poses.get(at).map(|(_, poses)| poses.clone());
        let (made, recorded) = (
            of(made).unwrap_or_default(),
            of(recorded).unwrap_or_default(),
        );
        let stick = first_unlike(&made, &recorded).unwrap_or_default();
        (tick.unwrap_or_default(), StickId(stick))
    });
    let Some(at) = [hashed, digested].into_iter().flatten().min() else {
        return seen.map(|(tick, stick)| Difference::Poses { tick, stick });
    };
    let ticks = [made.hashes.get(at), recorded.hashes.get(at)];
    let tick = ticks.into_iter().flatten().map(|(tick, _)| *tick).min();
    let tick = tick.unwrap_or_default();
    let mut bodies = bodies_off(made, recorded, at);
    // A stick that was seen somewhere else in the second before is the first.
    match seen.filter(|(seen, _)| *seen <= tick && seen + HASH_EVERY_TICKS > tick) {
        Some((seen, stick)) => {
            let stick = Body::Stick(stick);
            bodies.retain(|body| *body != stick);
            bodies.insert(0, stick);
            Some(Difference::State { tick: seen, bodies })
        }
        None => Some(Difference::State { tick, bodies }),
    }
}

/// The bodies whose digests are not as recorded.
fn bodies_off(made: &States, recorded: &States, at: usize) -> Vec<Body> {
    let of = |states: &States| states.digests.get(at).cloned().unwrap_or_default();
    let (made, recorded) = (of(made), of(recorded));
    let machinery = Body::all(0).count();
    let sticks = made.len().max(recorded.len()).saturating_sub(machinery);
    let off = |i: &usize| made.get(*i) != recorded.get(*i);
    let all = Body::all(sticks).enumerate();
    all.filter(|(i, _)| off(i)).map(|(_, body)| body).collect()
}

/// The place at which two lists differ, or at which one lacks what the other has.
fn first_unlike<T: PartialEq>(made: &[T], recorded: &[T]) -> Option<usize> {
    let unlike = made.iter().zip(recorded).position(|(a, b)| a != b);
    let shorter = made.len().min(recorded.len());
    unlike.or((made.len() != recorded.len()).then_some(shorter))
}

/// The first tick after which a stick is to be seen somewhere else.
fn looks_other(made: &States, recorded: &States) -> Option<u64> {
    let other = |made: &Pose, recorded: &Pose| {
        let [x, y, z, ..] = *recorded;
        away_m(made, [x, y, z]) > ALIKE_M
    };
    let mut pairs = made.poses.iter().zip(&recorded.poses);
    let first = pairs.find(|((_, made), (_, recorded))| {
        let mut sticks = made.iter().zip(recorded);
        sticks.any(|(made, recorded)| other(made, recorded))
    });
    first.map(|((tick, _), _)| *tick)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn states(sticks: [f32; 2], hashes: &[(u64, u64)], digests: Vec<Vec<u32>>) -> States {
        let pose = |x| [x, 0.0, 0.0, 0.0, 0.0, 0.0, 1.0];
        States {
            hashes: hashes.to_vec(),
            digests,
            poses: vec![(232, sticks.map(pose).to_vec())],
        }
    }

    #[test]
    fn the_first_difference_is_told_with_its_body() {
        // Two sticks, then the machinery.
        let all = |off: Option<usize>| -> Vec<u32> {
            let mut digests = vec![7; 2 + Body::all(0).count()];
            if let Some(off) = off {
                digests[off] = 8;
            }
            digests
        };
        let recorded = states([0.0, 1.0], &[(240, 1), (500, 2)], vec![all(None); 2]);
        assert_eq!(first_difference(&recorded, &recorded), None);
        let made = states(
            [0.0, 1.0],
            &[(240, 1), (500, 3)],
            vec![all(None), all(Some(3))],
        );
        assert_eq!(
            first_difference(&made, &recorded),
            Some(Difference::State {
                tick: 500,
                bodies: vec![Body::Escapement]
            })
        );
        let made = states([0.0, 1.5], &[(240, 9), (500, 3)], vec![all(Some(2)); 2]);
        assert_eq!(
            first_difference(&made, &recorded),
            Some(Difference::State {
                tick: 232,
                bodies: vec![Body::Stick(StickId(1)), Body::Rack]
            })
        );
        assert_eq!(looks_other(&made, &recorded), Some(232));
        let made = states([0.0, 1.5], &recorded.hashes, recorded.digests.clone());
        assert_eq!(
            first_difference(&made, &recorded),
            Some(Difference::Poses {
                tick: 232,
                stick: StickId(1)
            })
        );
        let shorter = states([0.0, 1.0], &[(240, 1)], vec![all(None)]);
        let missing = first_difference(&shorter, &recorded);
        assert!(matches!(missing, Some(Difference::State { tick: 500, .. })));
    }
}
