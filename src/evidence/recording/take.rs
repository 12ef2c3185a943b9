//! From chunks to a recording, each held against what can be before it is taken.

use super::chunk::{Chunk, Lengths, Stretch};
use super::frame::{Fault, Reader};
use super::{CutShort, HASH_EVERY_TICKS, Recording, States};
use crate::evidence::Outcome;
use crate::judge::Log;
use crate::operator::Ending;
use crate::sim::controls::ControlChange;

/// No run is longer than a scenario's longest time, an hour, ticks.
const LONGEST_TICKS: u64 = 3601 * 240;
/// More happens in no second, and in no run.
const MOST_EVENTS: usize = 2_000;
const MOST_EVENTS_IN_ALL: usize = 100_000;
/// Samples and poses in a second; sticks; and poses of sticks in all.
const MOST_SAMPLES: usize = 12;
const MOST_POSES: usize = 32;
const MOST_STICKS: usize = 64;
const MOST_POSES_IN_ALL: usize = 4_000_000;
/// Bodies of a line.
const MOST_DIGESTS: usize = MOST_STICKS + 32;

/// Reads a whole file.
pub fn read(bytes: &[u8]) -> Result<Recording, Fault> {
    let mut reader = Reader::begin(bytes)?;
    let Some(Chunk::Head(head)) = reader.chunk()? else {
        return Err(Fault::Unsound { at: reader.at() });
    };
    let mut taker = Taker::new(*head);
    loop {
        let at = reader.at();
        match reader.chunk()? {
            Some(chunk) => {
                let is_end = matches!(chunk, Chunk::End(_));
                taker.take(chunk).ok_or(Fault::Unsound { at })?;
                if is_end {
                    taker.recording.checksum = Some(reader.check());
                    return Ok(taker.recording);
                }
            }
            None => return Ok(taker.cut_short(reader.left())),
        }
    }
}

struct Taker {
    recording: Recording,
    changes: Vec<ControlChange>,
    standing_known: bool,
}

impl Taker {
    fn new(head: super::Head) -> Self {
        Self {
            recording: Recording {
                head,
                log: Log::default(),
                states: States::default(),
                breaks: Default::default(),
                done: None,
                outcome: Outcome::BrokenOff,
                scored: None,
                checksum: None,
                cut_short: None,
            },
            changes: Vec::new(),
            // Nothing of its ticks was written yet.
            standing_known: false,
        }
    }

    /// Takes a chunk; none where it cannot be.
    fn take(&mut self, chunk: Chunk) -> Option<()> {
        let recording = &mut self.recording;
        match chunk {
            Chunk::Head(_) => return None,
            Chunk::Controls(change) => {
                let last = self.changes.last().map_or(0, |last| last.tick);
                holds(last < change.tick && change.tick <= LONGEST_TICKS)?;
                self.changes.push(change);
            }
            Chunk::Stretch(stretch) => self.stretch(stretch)?,
            Chunk::Back {
                tick,
                kept,
                standing,
            } => {
                holds(tick <= recording.log.ticks && kept.fits(recording, &self.changes))?;
                recording.log.ticks = tick;
                self.changes.truncate(kept.changes);
                recording.log.events.truncate(kept.events);
                recording.log.samples.truncate(kept.samples);
                recording.states.hashes.truncate(kept.marks);
                recording.states.digests.truncate(kept.marks);
                recording.states.poses.truncate(kept.poses);
                standing.put_into(&mut recording.log);
                self.standing_known = true;
                recording.done = None;
            }
            Chunk::Done(tick) => {
                holds(tick <= LONGEST_TICKS)?;
                recording.done = Some(tick);
            }
            Chunk::Breaks(breaks) => {
                holds(breaks.total_s.is_finite())?;
                recording.breaks = breaks;
            }
            Chunk::Driver { mode, operator } => {
                recording.head.mode = mode;
                recording.head.operator = operator;
            }
            Chunk::End(end) => {
                holds(end.scored.points.is_finite())?;
                let within = |change: &ControlChange| change.tick <= recording.log.ticks;
                holds(self.changes.last().is_none_or(within))?;
                recording.log.controls = std::mem::take(&mut self.changes);
                recording.log.ending = end.ending;
                recording.outcome = end.outcome;
                recording.scored = Some(end.scored);
            }
        }
        Some(())
    }

    fn stretch(&mut self, stretch: Stretch) -> Option<()> {
        let Recording { log, states, .. } = &mut self.recording;
        let Stretch {
            to,
            events,
            samples,
            marks,
            poses,
            standing,
            more,
        } = stretch;
        let ticks = log.ticks..=log.ticks + HASH_EVERY_TICKS;
        holds(ticks.contains(&to) && to <= LONGEST_TICKS)?;
        holds(events.len() <= MOST_EVENTS && samples.len() <= MOST_SAMPLES)?;
        holds(poses.len() <= MOST_POSES && marks.len() <= 2)?;
        holds(log.events.len() + events.len() <= MOST_EVENTS_IN_ALL)?;
        log.ticks = to;
        log.events.extend(events);
        for sample in samples {
            let last = log.samples.last().map_or(0, |last| last.tick);
            holds(last < sample.tick && sample.tick <= to)?;
            log.samples.push(sample);
        }
        for mark in marks {
            holds(mark.tick <= to && states.hashes.last().is_none_or(|last| last.0 < mark.tick))?;
            let mut digests = states.digests.last().cloned().unwrap_or_default();
            for (i, digest) in mark.digests {
                let i = usize::from(i);
                holds(i <= digests.len() && i < MOST_DIGESTS)?;
                match digests.get_mut(i) {
                    Some(known) => *known = digest,
                    None => digests.push(digest),
                }
            }
            states.hashes.push((mark.tick, mark.hash));
            states.digests.push(digests);
        }
        // One a second, and one at the end.
        holds(states.hashes.len() as u64 <= to / HASH_EVERY_TICKS + 1)?;
        for moved in poses {
            let last = states.poses.last();
            holds(moved.tick <= to && last.is_none_or(|last| last.0 < moved.tick))?;
            holds(moved.sticks.len() <= MOST_STICKS)?;
            let poses = moved.after(last)?;
            holds((states.poses.len() + 1) * poses.1.len() <= MOST_POSES_IN_ALL)?;
            states.poses.push(poses);
        }
        if let Some(standing) = standing {
            holds(standing.places.len() <= MOST_STICKS)?;
            standing.put_into(log);
        }
        self.standing_known = !more;
        Some(())
    }

    /// What there is of a run whose file has no end.
    fn cut_short(self, lost_bytes: usize) -> Recording {
        let Self {
            mut recording,
            mut changes,
            standing_known,
        } = self;
        let log = &mut recording.log;
        let after = changes.partition_point(|change| change.tick <= log.ticks);
        let after = changes.split_off(after);
        log.controls = changes;
        log.ending = Some(Ending::BrokenOff);
        recording.cut_short = Some(CutShort {
            ticks: after.last().map_or(log.ticks, |change| change.tick),
            after,
            lost_bytes,
            standing_known,
        });
        recording
    }
}

impl Lengths {
    /// Whether there is so much.
    fn fits(&self, recording: &Recording, changes: &[ControlChange]) -> bool {
        let Recording { log, states, .. } = recording;
        self.changes <= changes.len()
            && self.events <= log.events.len()
            && self.samples <= log.samples.len()
            && self.marks <= states.hashes.len()
            && self.poses <= states.poses.len()
    }
}

fn holds(condition: bool) -> Option<()> {
    condition.then_some(())
}
