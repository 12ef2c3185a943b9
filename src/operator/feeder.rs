//! The plain feeding of one stick.

use super::Operator;
use crate::domain::spec::EscapementKind;
use crate::sim::controls::{Button, Controls};
use crate::sim::line::{Line, Stage, StickPlace};

/// Waits until the row lies still, presses feed, lets go as soon as one stick is well clear of the
/// gate (of a star wheel: when the notch is complete), and watches what comes of it.
///
/// It feeds the line as it finds it: it neither raises the receiver nor looks for faults.
#[derive(Clone, Debug)]
pub struct Feeder {
    step: Step,
    /// How long a row that never lies still is waited for, and how long feed is held for a stick that
    /// does not come, s.
    patience_s: [f64; 2],
    /// When the present step began, s.
    since_s: f64,
}

#[derive(Clone, Copy, Debug, Default, PartialEq)]
enum Step {
    #[default]
    Settle,
    Hold,
    Watch,
}

/// How long the row must lie still before it is fed, s.
const STILL_S: f64 = 0.5;
/// How long a row that never lies still is waited for, unless more patience is asked for, s.
const SETTLE_PATIENCE_S: f64 = 10.0;
/// How long feed is held for a stick that does not come, unless more patience is asked for, s.
const FEED_PATIENCE_S: f64 = 8.0;
/// How far past the gate a stick's centre must be when feed is let go, in radii of the setting.
const CLEAR_R: f64 = 0.9;

impl Default for Feeder {
    fn default() -> Self {
        Self::patient(SETTLE_PATIENCE_S, FEED_PATIENCE_S)
    }
}

impl Feeder {
    /// Who waits so long for a row that never lies still, and holds feed so long for a stick that does
    /// not come, s.
    pub fn patient(settle_s: f64, feed_s: f64) -> Self {
        Self {
            step: Step::default(),
            patience_s: [settle_s, feed_s],
            since_s: 0.0,
        }
    }

    fn go_to(&mut self, step: Step, now_s: f64) {
        self.step = step;
        self.since_s = now_s;
    }
}

impl Operator for Feeder {
    fn controls(&mut self, line: &Line) -> Controls {
        let now_s = line.time_s();
        match self.step {
            Step::Settle => {
                if !line.is_at_rest() && now_s < self.patience_s[0] {
                    self.since_s = now_s;
                } else if now_s - self.since_s >= STILL_S {
                    self.go_to(Step::Hold, now_s);
                }
            }
            Step::Hold => {
                let clear_m = line.rig().gate_far_edge_m() - CLEAR_R * line.rig().setting_radius_m;
                let done = match line.rig().spec().escapement.kind {
                    EscapementKind::PinPair => line.sticks().any(|stick| {
                        line.place(stick) != StickPlace::Held && line.along_m(stick) < clear_m
                    }),
                    EscapementKind::StarWheel => line.stage() == Stage::Done,
                };
                if done || now_s - self.since_s > self.patience_s[1] {
                    self.go_to(Step::Watch, now_s);
                }
            }
            Step::Watch => {}
        }
        Controls::held((self.step == Step::Hold).then_some(Button::Feed))
    }

    fn is_done(&self) -> bool {
        self.step == Step::Watch
    }
}
