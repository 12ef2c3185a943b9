//! Where things ought to be when the step is done: what the ghost shows.

use bevy::math::{Quat, Vec3};

use crate::domain::rig::End;
use crate::operator::Doing;
use crate::sim::line::Line;
use crate::view::overlay::Ghost;
use crate::view::shown::Placed;

/// The goal of a step; empty where nothing moves to a place.
pub fn of(line: &Line, doing: Doing) -> Ghost {
    let (rig, mut ghost) = (line.rig(), Ghost::default());
    match doing {
        Doing::RaiseReceiver => {
            ghost.receiver(rig, 0.0);
        }
        Doing::Lower(_) => {
            ghost.receiver(rig, rig.spec().receiver.travel_m);
        }
        Doing::Raise(stick) | Doing::Align(stick) => {
            let centreline_m = rig.spec().machine.centreline_m;
            for end in End::BOTH {
                let at = line.axis_at(stick, rig.cradle_z_m(end));
                let raised_m = line.raised_m(end) + centreline_m - at.y_m;
                ghost.cradle(rig, end, raised_m, line.cradle_off_m(end) - at.x_m);
            }
            let z_m = line.stick(stick).pose.translation.z;
            ghost.stick(rig, stick, on_centreline(line, z_m));
        }
        Doing::Advance(stick) => {
            let z_m = line.stick(stick).pose.translation.z;
            let gap_m = line.front_end(stick).gap_m as f32;
            ghost.stick(rig, stick, on_centreline(line, z_m + gap_m));
        }
        Doing::Reset => {
            for end in End::BOTH {
                ghost.cradle(rig, end, 0.0, 0.0);
            }
        }
        _ => {}
    }
    ghost
}

/// True in the jaws' centre line.
fn on_centreline(line: &Line, z_m: f32) -> Placed {
    let centreline_m = line.rig().spec().machine.centreline_m as f32;
    Placed {
        at: Vec3::new(0.0, centreline_m, z_m),
        turn: Quat::IDENTITY,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sim::world::StickId;
    use crate::view::scene::site::shipped;

    #[test]
    fn what_goes_to_a_place_has_a_goal_and_what_is_waited_for_has_none() {
        for (name, rig) in shipped() {
            let line = Line::build(rig.spec());
            let stick = StickId(0);
            for doing in [
                Doing::RaiseReceiver,
                Doing::Lower(stick),
                Doing::Align(stick),
                Doing::Advance(stick),
                Doing::Reset,
            ] {
                assert!(!of(&line, doing).is_empty(), "{name}: {doing:?}");
            }
            for doing in [Doing::Settle, Doing::Horn, Doing::Load] {
                assert!(of(&line, doing).is_empty(), "{name}: {doing:?}");
            }
        }
    }
}
