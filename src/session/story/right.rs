//! A run that went right has something to think about too: what came nearest to going wrong.

use super::question::shuffle;
use super::{Camera, Choice, subject_of};
use crate::domain::finding::FindingKind;
use crate::domain::limits::PERCEPTION_RESPONSE;
use crate::judge::{Near, Verdict, explain, time_s};
use crate::session::coach::Pointed;
use crate::texts::Message;
use crate::words;

/// Within this of moving pipe somebody is near it, m (who looks minds pipe from there on).
const NEAR_M: f64 = 3.0;

/// How near something came to going wrong.
#[derive(Clone, Debug, PartialEq)]
pub struct NearMiss {
    pub tick: u64,
    /// Part of the way to harm: 0 far from it, 1 there.
    pub share: f64,
    pub fact: Message,
    /// What it might have come to.
    pub kind: FindingKind,
    pub subject: Option<Pointed>,
    pub camera: Camera,
}

/// A question about a run without a grave finding, with what came nearest.
#[derive(Clone, Debug, PartialEq)]
pub struct Reflection {
    pub asked: Message,
    /// Right is what came nearest.
    pub choices: Vec<Choice>,
    pub nearest: NearMiss,
    /// Fact, why it matters, what is right.
    pub answer: [Message; 3],
}

impl Reflection {
    /// What to ask after a run; none where nothing has come anywhere near.
    pub fn of(verdict: &Verdict, seed: u64) -> Option<Self> {
        let mut misses = near_misses(verdict);
        misses.sort_by(|one, other| other.share.total_cmp(&one.share));
        let nearest = misses.first()?.clone();
        let mut choices: Vec<Choice> = misses
            .iter()
            .enumerate()
            .map(|(i, miss)| Choice {
                said: miss.fact.clone(),
                right: i == 0,
            })
            .collect();
        shuffle(&mut choices, seed);
        let explained = explain(nearest.kind);
        Some(Self {
            asked: "near-question".into(),
            choices,
            answer: [nearest.fact.clone(), explained.why, explained.right],
            nearest,
        })
    }
}

/// Everything that came some way to going wrong.
fn near_misses(verdict: &Verdict) -> Vec<NearMiss> {
    let leading = &verdict.leading;
    let mut misses: Vec<NearMiss> = Vec::new();
    // What has cost points has gone wrong, a little.
    misses.extend(verdict.findings.first().map(|finding| {
        NearMiss {
            tick: finding.tick,
            share: 1.0,
            fact: Message::new("near-finding")
                .with("fact", finding.fact.clone())
                .measured("time", time_s(finding.tick), 1),
            kind: finding.kind,
            subject: subject_of(finding),
            camera: Camera::Stick,
        }
    }));
    let somebody = |near: &Near, id: &'static str, share: f64| NearMiss {
        tick: near.tick,
        share: share.clamp(0.0, 1.0),
        fact: Message::new(id)
            .with("person", words::duty(near.duty))
            .with("stick", words::stick(near.stick))
            .measured("distance", near.distance_m, 1)
            .measured("seconds", near.time_s.unwrap_or(0.0), 1)
            .measured("time", time_s(near.tick), 1),
        kind: FindingKind::InZone,
        subject: Some(Pointed::Person(near.person)),
        camera: Camera::Plan,
    };
    if let Some(near) = leading.nearest.filter(|near| near.distance_m < NEAR_M) {
        let share = 1.0 - near.distance_m / NEAR_M;
        misses.push(somebody(&near, "near-person", share));
    }
    if let Some((near, seconds)) = leading.soonest.and_then(|near| Some((near, near.time_s?))) {
        // Twice the time to perceive and respond is time enough.
        let share = 1.0 - seconds / (2.0 * PERCEPTION_RESPONSE.value);
        if share > 0.0 {
            misses.push(somebody(&near, "near-reached", share));
        }
    }
    let parts = [
        (&leading.entry, "near-entry", FindingKind::HardSeat),
        (&leading.gate, "near-gate", FindingKind::DoubleFeed),
    ];
    for (part, id, kind) in parts {
        misses.extend(part.as_ref().map(|of| {
            NearMiss {
                tick: of.tick,
                share: of.fraction.clamp(0.0, 1.0),
                fact: Message::new(id)
                    .with("stick", words::stick(of.stick))
                    .measured("speed", of.speed_m_per_s, 2)
                    .measured("part", 100.0 * of.fraction, 0)
                    .measured("time", time_s(of.tick), 1),
                kind,
                subject: Some(Pointed::Stick(of.stick)),
                camera: Camera::Stick,
            }
        }));
    }
    misses
}
