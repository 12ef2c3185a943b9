//! Turning a run that grows into chunks: how far it has been written, and what is next.

use super::chunk::{Chunk, Lengths, Marked, Standing, Stretch};
use super::poses::{Moved, Poses};
use super::{HASH_EVERY_TICKS, States};
use crate::judge::Log;

/// See the module's text.
#[derive(Debug, Default)]
pub struct Progress {
    written: Lengths,
    /// The last tick of what has been written.
    ticks: u64,
    standing: Standing,
}

impl Progress {
    /// A change of the controls is written before its tick is made.
    pub fn change_is_written(&mut self) {
        self.written.changes += 1;
    }

    /// What has come since the last time, in pieces of a second at most.
    pub fn put(
        &mut self,
        log: &Log,
        states: &States,
        standing: Standing,
        put: &mut impl FnMut(Chunk),
    ) {
        while self.ticks < log.ticks {
            let next = (self.ticks / HASH_EVERY_TICKS + 1) * HASH_EVERY_TICKS;
            if next >= log.ticks {
                break;
            }
            self.put_to(next, log, states, None, put);
        }
        let new = (standing != self.standing).then_some(standing);
        self.put_to(log.ticks, log, states, new, put);
    }

    fn put_to(
        &mut self,
        to: u64,
        log: &Log,
        states: &States,
        standing: Option<Standing>,
        put: &mut impl FnMut(Chunk),
    ) {
        let from = self.written;
        // The last piece takes all that there is.
        let last = to == log.ticks;
        let until = |len: usize, within: usize| if last { len } else { within };
        let changes = &log.controls;
        self.written = Lengths {
            changes: until(
                changes.len(),
                changes.partition_point(|change| change.tick <= to),
            )
            .max(from.changes),
            events: until(
                log.events.len(),
                log.events.partition_point(|noted| noted.event.tick <= to),
            ),
            samples: until(
                log.samples.len(),
                log.samples.partition_point(|sample| sample.tick <= to),
            ),
            marks: until(
                states.hashes.len(),
                states.hashes.partition_point(|(tick, _)| *tick <= to),
            ),
            poses: until(
                states.poses.len(),
                states.poses.partition_point(|(tick, _)| *tick <= to),
            ),
        };
        self.ticks = to;
        let to_write = self.written;
        for change in changes.iter().take(to_write.changes).skip(from.changes) {
            put(Chunk::Controls(*change));
        }
        if let Some(standing) = &standing {
            self.standing = standing.clone();
        }
        put(Chunk::Stretch(Stretch {
            to,
            events: piece(&log.events, from.events, to_write.events).to_vec(),
            samples: piece(&log.samples, from.samples, to_write.samples).to_vec(),
            marks: marks(states, from.marks, to_write.marks),
            poses: moved(&states.poses, from.poses, to_write.poses),
            standing,
            more: !last,
        }));
    }

    /// The run has been taken back to how it stands now.
    pub fn back(&mut self, log: &Log, states: &States, standing: Standing) -> Chunk {
        let written = self.written;
        self.written = Lengths {
            changes: written.changes.min(log.controls.len()),
            events: written.events.min(log.events.len()),
            samples: written.samples.min(log.samples.len()),
            marks: written.marks.min(states.hashes.len()),
            poses: written.poses.min(states.poses.len()),
        };
        self.ticks = self.ticks.min(log.ticks);
        self.standing = standing.clone();
        Chunk::Back {
            tick: self.ticks,
            kept: self.written,
            standing,
        }
    }
}

fn piece<T>(all: &[T], from: usize, to: usize) -> &[T] {
    all.get(from..to).unwrap_or_default()
}

fn marks(states: &States, from: usize, to: usize) -> Vec<Marked> {
    (from..to)
        .filter_map(|i| {
            let (tick, hash) = *states.hashes.get(i)?;
            let before = i.checked_sub(1).and_then(|i| states.digests.get(i));
            let now = states.digests.get(i)?;
            let known = |i: usize| before.and_then(|before| before.get(i));
            let digests = now.iter().enumerate();
            let new = digests.filter(|(i, digest)| known(*i) != Some(*digest));
            Some(Marked {
                tick,
                hash,
                digests: new.map(|(i, digest)| (i as u16, *digest)).collect(),
            })
        })
        .collect()
}

fn moved(poses: &[Poses], from: usize, to: usize) -> Vec<Moved> {
    (from..to)
        .filter_map(|i| {
            let before = i.checked_sub(1).and_then(|i| poses.get(i));
            Some(Moved::between(before, poses.get(i)?))
        })
        .collect()
}
