//! Turning a stick where no rollers are driven: on the raised receiver, where no rail is in its way, the
//! cradles take it to one side, lay it on the near face, roll it back along that by their shift, and take
//! it again.

use super::{Step, UPRIGHT_RAD, Worker};
use crate::domain::rig::End;
use crate::domain::spec::Motion;
use crate::sim::controls::{Button, Controls};
use crate::sim::line::Line;
use crate::sim::world::StickId;

/// How far a stick is rolled in one stroke at most, of half the side-shift.
const STROKE: f64 = 0.9;
/// How long a part of a stroke is tried, s, and the whole of it.
const PART_PATIENCE_S: f64 = 25.0;
const STROKES: u32 = 40;
/// How near to its goal a cradle is stopped, m.
const NEAR_M: f64 = 0.004;
/// How far over its seat in the receiver the cradles take it, m.
const CLEAR_M: f64 = 0.02;

/// How far the rolling is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Roll {
    part: Part,
    strokes: u32,
}

#[derive(Clone, Copy, Debug, PartialEq)]
enum Part {
    /// The lifts take it off the receiver.
    Lift,
    /// The cradles go to where the stroke begins, with the stick.
    Take,
    /// The lifts lay it on the receiver's near face.
    Lay,
    /// The cradles push it, or let it roll, to where the stroke ends.
    Push,
}

impl Default for Roll {
    fn default() -> Self {
        Self {
            part: Part::Lift,
            strokes: 0,
        }
    }
}

impl Worker {
    pub(super) fn roll(&mut self, line: &Line, stick: StickId, roll: Roll) -> Controls {
        let off_rad = line.long_axis_off_rad(stick);
        let upright = off_rad.abs() < UPRIGHT_RAD;
        if roll.part == Part::Take && (upright || roll.strokes > STROKES) {
            return self.go_to(Step::Lower(stick), line);
        }
        // Rolled away from the rack, its top goes away from it. The near face ends at the line's
        // centre, so all strokes lie on the rack's side of it.
        let range_m = 0.5 * line.rig().spec().cradles.shift_range_m;
        let radius_m = line.world().pipe(stick).radius_m();
        let stroke_m = (STROKE * range_m).min(radius_m * off_rad.abs());
        let away = off_rad < 0.0;
        let (begins_m, ends_m) = if away {
            (-stroke_m, 0.0)
        } else {
            (0.0, -stroke_m)
        };
        let late = self.been_s(line) > PART_PATIENCE_S;
        let done = |this: &mut Self, part: Part, strokes: u32| {
            this.go_to(Step::Roll(stick, Roll { part, strokes }), line)
        };
        let held = End::BOTH.map(|end| line.is_in_cradle(end, stick));
        match roll.part {
            Part::Lift => {
                let clear_m = line.rig().seat_height_m + CLEAR_M;
                let up = held == [true; 2] && line.plane_point(stick).y_m > clear_m;
                if up || late {
                    return done(self, Part::Take, roll.strokes);
                }
                Controls::held([Button::LiftBothUp])
            }
            Part::Take => match shift_to(line, begins_m) {
                Some(controls) if !late => controls,
                _ => done(self, Part::Lay, roll.strokes),
            },
            Part::Lay => {
                if (line.is_on_receiver(stick) && held == [false; 2]) || late {
                    return done(self, Part::Push, roll.strokes);
                }
                Controls::held([Button::LiftBothDown])
            }
            Part::Push => match shift_to(line, ends_m) {
                Some(controls) if !late && self.rolling(line, stick, away) => controls,
                _ => done(self, Part::Lift, roll.strokes + 1),
            },
        }
    }

    /// Whether the stick is still on its way to upright.
    fn rolling(&self, line: &Line, stick: StickId, away: bool) -> bool {
        let off_rad = line.long_axis_off_rad(stick);
        let past = if away { off_rad > 0.0 } else { off_rad < 0.0 };
        !past || off_rad.abs() > 0.5
    }
}

/// Both cradles towards a place off the line's centre; None where they are there.
fn shift_to(line: &Line, off_m: f64) -> Option<Controls> {
    let buttons: Vec<Button> = End::BOTH
        .into_iter()
        .filter_map(|end| {
            let [out, back] = Button::of(Motion::shift(end));
            let to_go_m = off_m - line.cradle_off_m(end);
            (to_go_m.abs() > NEAR_M).then_some(if to_go_m > 0.0 { out } else { back })
        })
        .collect();
    (!buttons.is_empty()).then(|| Controls::held(buttons))
}
