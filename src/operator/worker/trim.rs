//! Bringing a stick's axis to the centreline: heights and offsets over both cradles.

use super::{Step, Worker};
use crate::domain::rig::End;
use crate::domain::spec::Motion;
use crate::sim::controls::{Button, Controls};
use crate::sim::line::Line;
use crate::sim::world::StickId;

/// How true the stick is brought to the centreline, m (a tenth of the wall of the thinnest pipe of
/// the line is 2 mm).
const TRUE_M: f64 = 0.0015;
/// Ways shorter than this are gone by tapping, m.
const SMALL_M: f64 = 0.004;
/// How long it is tried, s.
const PATIENCE_S: f64 = 120.0;

/// What is trimmed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Trim {
    Heights,
    Both,
}

/// What is seen of a stick at one look.
#[derive(Clone, Copy, Debug)]
pub struct Seen {
    /// Height and offset of its axis over the near and the far cradle, m.
    over: [(f64, f64); 2],
    pub gap_m: f64,
    pub long_axis_rad: f64,
}

pub fn see(line: &Line, stick: StickId) -> Seen {
    Seen {
        over: End::BOTH.map(|end| {
            let at = line.axis_at(stick, line.rig().cradle_z_m(end));
            (at.y_m, at.x_m)
        }),
        gap_m: line.front_end(stick).gap_m,
        long_axis_rad: line.long_axis_off_rad(stick),
    }
}

/// Which way to press for a way still to go, while it moved by `moved_m` since the last look: it will
/// move on by as much until the next.
fn press(to_go_m: f64, moved_m: f64) -> Option<bool> {
    let left_m = to_go_m - moved_m;
    (left_m.abs() >= TRUE_M).then_some(left_m > 0.0)
}

fn button(motion: Motion, out: Option<bool>) -> Option<Button> {
    let [outwards, back] = Button::of(motion);
    out.map(|out| if out { outwards } else { back })
}

impl Worker {
    /// Brings the stick's axis over both cradles to the centreline, then goes to `next`.
    pub(super) fn trim(&mut self, line: &Line, stick: StickId, what: Trim, next: Step) -> Controls {
        let seen = see(line, stick);
        let last = self.seen.replace(seen);
        let target_m = line.rig().spec().machine.centreline_m;
        let mut held = Vec::new();
        let (mut moved_m, mut furthest_m) = (0.0, 0.0_f64);
        for (i, end) in End::BOTH.into_iter().enumerate() {
            let (height, off) = seen.over[i];
            let (last_height, last_off) = last.map_or((height, off), |last| last.over[i]);
            let (rose, went) = (height - last_height, off - last_off);
            moved_m += rose.abs() + went.abs();
            furthest_m = furthest_m.max((target_m - height).abs());
            held.extend(button(Motion::lift(end), press(target_m - height, rose)));
            if what == Trim::Both {
                furthest_m = furthest_m.max(off.abs());
                held.extend(button(Motion::shift(end), press(-off, went)));
            }
        }
        let still = last.is_some() && moved_m < 1.0e-4;
        if (held.is_empty() && still) || self.been_s(line) > PATIENCE_S {
            return self.go_to(next, line);
        }
        self.tapping = furthest_m < SMALL_M;
        Controls::held(held)
    }

    /// Both lifts up once, until the near end looks right, and no second look at the far one.
    pub(super) fn raise_by_eye(&mut self, line: &Line, stick: StickId, next: Step) -> Controls {
        let seen = see(line, stick);
        let target_m = line.rig().spec().machine.centreline_m;
        if seen.over[0].0 >= target_m || self.been_s(line) > PATIENCE_S {
            return self.go_to(next, line);
        }
        Controls::held([Button::LiftBothUp])
    }

    /// The near end all the way up, alone; the far end after it.
    pub(super) fn raise_one_end(&mut self, line: &Line, stick: StickId, next: Step) -> Controls {
        let spec = &line.rig().spec().cradles;
        let up = |motion: Motion| line.motion(motion) >= spec.lift_stroke_m - 1.0e-3;
        if !up(Motion::LiftNear) && self.been_s(line) < 40.0 {
            return Controls::held([Button::LiftNearUp]);
        }
        if self.been_s(line) < 45.0 {
            return Controls::default();
        }
        self.trim(line, stick, Trim::Heights, next)
    }
}
