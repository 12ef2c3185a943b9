//! What somebody on foot does with their hands: the tape, cones, the crank, the level, and what they
//! say of what they look at.

use bevy::math::Vec3;

use super::{OnFoot, Site, Spot, WalkInput, Wish};
use crate::domain::plan::{Steel, high_end_x_m};
use crate::domain::rig::{End, Rig};
use crate::domain::spec::Place;
use crate::session::walk::{Act, TURNS_PER_S, Thing, tape_reading_m};
use crate::texts::Message;
use crate::view::yard::Yard;

/// How far before somebody's feet they put a thing down, or hold a tape's end, m.
const ARM_M: f64 = 0.7;
/// How near somebody must be to hook the tape on to something, m.
const HOOK_M: f64 = 1.6;
/// How near to a jack its crank is worked and its rail is reached, m.
const JACK_M: f64 = 1.5;
/// The crank turns no longer than this in a frame, s.
const FRAME_S: f64 = 0.1;

/// What the tape's end is hooked on to.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum HookedTo {
    Cradle(End),
    /// The middle of the machine's jaws.
    Jaws,
    /// A mark on the ground.
    Mark,
}

/// A tape that is held out.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tape {
    pub hooked_to: HookedTo,
    /// Its two ends, in the plan of a right-handed line.
    pub from: Place,
    pub to: Place,
}

impl Tape {
    /// What it shows, m.
    pub fn reading_m(&self) -> f64 {
        tape_reading_m(self.from, self.to)
    }

    /// What it is hooked on to: "the far cradle".
    pub fn from_name(&self) -> Message {
        Message::new(match self.hooked_to {
            HookedTo::Cradle(end) => Steel::Column(end).id(),
            HookedTo::Jaws => Steel::Machine.id(),
            HookedTo::Mark => "tape-mark",
        })
    }

    /// What is put where the tape is held to, if it is hooked on to what that is measured from.
    pub fn puts(&self) -> Option<Act> {
        let along_m = self.to.z_m - self.from.z_m;
        match self.hooked_to {
            HookedTo::Cradle(End::Far) => Some(Act::Cradles { spacing_m: along_m }),
            HookedTo::Cradle(End::Near) => Some(Act::Machine {
                near_cradle_to_jaws_m: along_m,
            }),
            HookedTo::Jaws | HookedTo::Mark => None,
        }
    }
}

/// What a tape can be hooked on to.
fn hooks(rig: &Rig) -> [(HookedTo, Place); 3] {
    let on_line = |x_m: f64, z_m: f64| Place { x_m, z_m };
    let cradle = |end: End| {
        let off_m = rig.spec().cradles.column(end).offset_m;
        (HookedTo::Cradle(end), on_line(off_m, rig.cradle_z_m(end)))
    };
    [
        cradle(End::Far),
        cradle(End::Near),
        (HookedTo::Jaws, on_line(0.0, rig.jaws_z_m())),
    ]
}

fn apart_m(one: Place, other: Place) -> f64 {
    (one.x_m - other.x_m).hypot(one.z_m - other.z_m)
}

impl OnFoot {
    /// The place before their feet.
    pub fn before_feet(&self, site: &Site) -> Place {
        let forward = Vec3::new(-self.yaw_rad.sin(), 0.0, -self.yaw_rad.cos());
        Place {
            x_m: self.place.x_m + ARM_M * site.mirror() * f64::from(forward.x),
            z_m: self.place.z_m + ARM_M * f64::from(forward.z),
        }
    }

    /// The rail beside whose jack they stand.
    pub fn jack(&self, rig: &Rig) -> Option<End> {
        let at = |side: End| Place {
            x_m: high_end_x_m(rig),
            z_m: rig.rail_z_m(side),
        };
        End::BOTH
            .into_iter()
            .find(|&side| apart_m(self.place, at(side)) < JACK_M)
    }

    /// What the hands and the voice of somebody want in this frame.
    pub(super) fn wishes(
        &mut self,
        yard: &Yard,
        site: &Site,
        input: &WalkInput,
        spot: Option<Spot>,
        passed_s: f32,
    ) -> Vec<Wish> {
        let (rig, pressed) = (yard.rig(), input.pressed);
        let mut wishes = Vec::new();
        self.hold_tape(site, rig);
        if pressed.back {
            self.step_back();
        } else if pressed.closer
            && let Some(spot) = spot
            && self.close.is_none()
        {
            self.look_closely(spot);
            wishes.push(Wish::Look(spot.thing));
        }
        if let Some(thing) = self.close_to() {
            if pressed.accept {
                wishes.push(Wish::Do(Act::Accept(thing)));
            }
            if pressed.report {
                wishes.push(Wish::Do(Act::Report(thing)));
            }
        }
        if pressed.tape {
            self.tape = match self.tape {
                Some(_) => None,
                None => Some(self.hook(site, rig)),
            };
        }
        if pressed.put {
            let act = self.tape.and_then(|tape| tape.puts());
            wishes.extend(act.map(Wish::Do));
        }
        if pressed.cone {
            wishes.push(Wish::Do(match spot {
                Some(spot) if spot.thing == Thing::Cones => Act::TakeCone(spot.number),
                _ => Act::PutCone(self.before_feet(site)),
            }));
        }
        if let Some(rail) = self.jack(rig) {
            if input.crank != 0.0 {
                let held_s = f64::from(passed_s).min(FRAME_S);
                let turns = f64::from(input.crank.clamp(-1.0, 1.0)) * TURNS_PER_S * held_s;
                wishes.push(Wish::Crank { rail, turns });
            }
            if pressed.level {
                wishes.push(Wish::Level(rail));
            }
        }
        if pressed.string {
            wishes.push(Wish::Do(Act::String));
        }
        if pressed.undo {
            wishes.push(Wish::Undo);
        }
        wishes
    }

    /// Hooks the tape on to what is in reach, else on to a mark before the feet.
    fn hook(&self, site: &Site, rig: &Rig) -> Tape {
        let hand = self.before_feet(site);
        let near = hooks(rig)
            .into_iter()
            .filter(|(_, at)| apart_m(*at, self.place) < HOOK_M + 0.5)
            .min_by(|(_, one), (_, other)| apart_m(*one, hand).total_cmp(&apart_m(*other, hand)));
        let (hooked_to, from) = near.unwrap_or((HookedTo::Mark, hand));
        Tape {
            hooked_to,
            from,
            to: hand,
        }
    }

    /// The other end goes along: on the string where it is held beside the line's centre, and to what it
    /// is held against.
    fn hold_tape(&mut self, site: &Site, rig: &Rig) {
        let hand = self.before_feet(site);
        let Some(tape) = &mut self.tape else { return };
        // What it is hooked on to may have been moved.
        if let Some((_, at)) = hooks(rig).into_iter().find(|(to, _)| *to == tape.hooked_to) {
            tape.from = at;
        }
        let against = hooks(rig)
            .into_iter()
            .filter(|(to, at)| *to != tape.hooked_to && apart_m(*at, hand) < 0.5 * HOOK_M)
            .min_by(|(_, one), (_, other)| apart_m(*one, hand).total_cmp(&apart_m(*other, hand)));
        let beside_line = hand.x_m.abs() < HOOK_M && tape.hooked_to != HookedTo::Mark;
        tape.to = match against {
            Some((_, at)) => at,
            None if beside_line => Place { x_m: 0.0, ..hand },
            None => hand,
        };
    }
}
