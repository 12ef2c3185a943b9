//! The marks on the timeline: what was done, what happened, what was found. Where they stand close they
//! are drawn as one.

use crate::domain::finding::Severity;
use crate::domain::spec::PersonSpec;
use crate::judge::{Log, Verdict, explain};
use crate::session::commentary::caption;
use crate::sim::controls::{Button, Controls};
use crate::texts::Message;
use crate::words;

/// The same button pressed again within this is one act, ticks.
const AGAIN_TICKS: u64 = 3 * 240;

/// What a mark stands for, the gravest last.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum MarkKind {
    Act,
    Event,
    Finding(Severity),
}

#[derive(Clone, Debug, PartialEq)]
pub struct Mark {
    pub tick: u64,
    pub said: Message,
    pub kind: MarkKind,
    /// Which of the verdict's findings, if it is one.
    pub finding: Option<usize>,
}

impl Mark {
    fn new(tick: u64, kind: MarkKind, said: Message) -> Self {
        Self {
            tick,
            said,
            kind,
            finding: None,
        }
    }
}

/// All marks of a run on a line that is described with these people, in the order of their ticks.
pub fn marks(people: &[PersonSpec], log: &Log, verdict: &Verdict) -> Vec<Mark> {
    let mut marks = acts(log);
    for noted in &log.events {
        let happened = caption(&noted.event.kind, people).into_iter();
        marks.extend(happened.map(|said| Mark::new(noted.event.tick, MarkKind::Event, said)));
    }
    for (i, finding) in verdict.findings.iter().enumerate() {
        let kind = MarkKind::Finding(finding.kind.severity());
        marks.push(Mark {
            finding: Some(i),
            ..Mark::new(finding.tick, kind, explain(finding.kind).title)
        });
    }
    marks.sort_by_key(|mark| (mark.tick, mark.kind));
    marks
}

/// What was done at the control station.
fn acts(log: &Log) -> Vec<Mark> {
    let mut marks = Vec::new();
    let mut before = Controls::default();
    let mut pressed: Vec<(Button, u64)> = Vec::new();
    for change in &log.controls {
        let (tick, now) = (change.tick, change.controls);
        let mut act = |said: Message| marks.push(Mark::new(tick, MarkKind::Act, said));
        for button in now.pressed_since(&before) {
            let known = pressed.iter_mut().find(|(known, _)| *known == button);
            let again = known
                .as_ref()
                .is_some_and(|(_, last)| tick < last + AGAIN_TICKS);
            match known {
                Some((_, last)) => *last = tick,
                None => pressed.push((button, tick)),
            }
            if !again {
                act(Message::new("mark-pressed").with("button", words::button(button)));
            }
        }
        // What is held is not pressed again when it is let go.
        for (button, last) in &mut pressed {
            if before.has(*button) {
                *last = tick;
            }
        }
        if before.has(Button::Feed) && !now.has(Button::Feed) {
            act("mark-let-go".into());
        }
        if let Some(call) = now.call.filter(|_| now.call != before.call) {
            act(Message::new("mark-called").with("call", words::call(call)));
        }
        let latched = [
            (
                before.isolated,
                now.isolated,
                "mark-isolated",
                "mark-power-on",
            ),
            (
                before.emergency_stop,
                now.emergency_stop,
                "mark-stop",
                "mark-stop-released",
            ),
        ];
        for (was, is, on, off) in latched {
            if was != is {
                act(Message::new(if is { on } else { off }));
            }
        }
        before = now;
    }
    marks
}

/// Marks that are drawn as one.
#[derive(Clone, Debug, PartialEq)]
pub struct Cluster {
    /// Where it is drawn: at its gravest mark.
    pub tick: u64,
    /// The gravest kind among them.
    pub kind: MarkKind,
    /// Which of the marks.
    pub marks: std::ops::Range<usize>,
}

/// Puts marks together that stand closer than so many ticks. `marks` in the order of their ticks.
pub fn clusters(marks: &[Mark], least_ticks: u64) -> Vec<Cluster> {
    let mut clusters: Vec<Cluster> = Vec::new();
    let mut began = 0;
    for (i, mark) in marks.iter().enumerate() {
        let next = Cluster {
            tick: mark.tick,
            kind: mark.kind,
            marks: i..i + 1,
        };
        match clusters.last_mut() {
            // Measured from its first, so that a cluster is never wider than that.
            Some(last) if mark.tick < began + least_ticks => {
                last.marks.end = i + 1;
                if mark.kind > last.kind {
                    last.kind = mark.kind;
                    last.tick = mark.tick;
                }
            }
            _ => {
                began = mark.tick;
                clusters.push(next);
            }
        }
    }
    clusters
}

#[cfg(test)]
mod tests {
    use super::*;

    fn mark(tick: u64, kind: MarkKind) -> Mark {
        Mark::new(tick, kind, "mark-stop".into())
    }

    #[test]
    fn marks_that_stand_close_are_one_at_the_gravest() {
        let grave = MarkKind::Finding(Severity::Critical);
        let marks = [
            mark(10, MarkKind::Act),
            mark(30, grave),
            mark(50, MarkKind::Event),
            mark(110, MarkKind::Event),
            mark(300, MarkKind::Act),
        ];
        let clusters = clusters(&marks, 100);
        let told: Vec<_> = clusters
            .iter()
            .map(|cluster| (cluster.tick, cluster.kind, cluster.marks.clone()))
            .collect();
        assert_eq!(
            told,
            [
                (30, grave, 0..3),
                (110, MarkKind::Event, 3..4),
                (300, MarkKind::Act, 4..5)
            ]
        );
    }

    #[test]
    fn every_mark_is_in_one_cluster() {
        let marks: Vec<Mark> = (0..500).map(|i| mark(i * i / 7, MarkKind::Event)).collect();
        for least in [0, 1, 40, 1000, 100_000] {
            let clusters = clusters(&marks, least);
            let mut next = 0;
            for cluster in &clusters {
                assert_eq!(cluster.marks.start, next);
                next = cluster.marks.end;
            }
            assert_eq!(next, marks.len());
        }
    }
}
