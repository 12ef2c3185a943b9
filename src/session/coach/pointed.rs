//! What the coach points at, in the line's own terms; the view knows where it is.

use super::Action;
use crate::domain::rig::End;
use crate::domain::spec::{Duty, Item, Motion};
use crate::operator::Doing;
use crate::sim::controls::Call;
use crate::sim::line::{Line, PersonId, StickPlace};
use crate::sim::world::StickId;

/// Something in the scene.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Pointed {
    Rail(End),
    /// The jack under a rail's high end, with its foot.
    Jack(End),
    /// Gate and separator, or the wheel, at a rail.
    Escapement(End),
    Chock(End),
    Receiver,
    Cradle(End),
    /// The fusion machine; its jaws.
    Machine,
    Jaws,
    Loader,
    /// Where the pendant is used from.
    Station,
    Cones,
    Stick(StickId),
    Person(PersonId),
    Item(Item),
}

/// What a step is about.
pub fn of_doing(line: &Line, doing: Doing, action: Option<Action>) -> Vec<Pointed> {
    if matches!(
        action,
        Some(Action::Isolate | Action::PowerOn | Action::ReleaseStop)
    ) {
        return vec![Pointed::Station];
    }
    let both = |of: fn(End) -> Pointed| End::BOTH.map(of).to_vec();
    match doing {
        Doing::HeldUp => inside(line),
        Doing::Try(motion) => of_motion(motion),
        Doing::Repair(item) => vec![Pointed::Item(item)],
        Doing::Clear => {
            let people = inside(line);
            if people.is_empty() {
                vec![Pointed::Cones]
            } else {
                people
            }
        }
        Doing::Chock | Doing::Unchock | Doing::ChockHung | Doing::UnchockHung => {
            both(Pointed::Chock)
        }
        Doing::Load | Doing::Hold | Doing::Release => vec![Pointed::Loader],
        Doing::RaiseReceiver => vec![Pointed::Receiver],
        Doing::Settle | Doing::Stop | Doing::Bar => {
            lowest(line).into_iter().map(Pointed::Stick).collect()
        }
        Doing::Horn => vec![Pointed::Station],
        Doing::Feed => both(Pointed::Escapement),
        Doing::Receive(stick) | Doing::Roll(stick) => {
            vec![Pointed::Stick(stick), Pointed::Receiver]
        }
        Doing::Lower(_) => vec![Pointed::Receiver],
        Doing::Raise(_) | Doing::Align(_) | Doing::Reset => match action {
            Some(Action::Hold(held) | Action::Tap(held)) => {
                let ends = End::BOTH.into_iter().filter(|&end| {
                    let moves = held.iter().any(|button| moves_cradle(button, end));
                    moves
                });
                ends.map(Pointed::Cradle).collect()
            }
            _ => both(Pointed::Cradle),
        },
        Doing::Turn(stick) => vec![Pointed::Cradle(End::Far), Pointed::Stick(stick)],
        Doing::Advance(stick) => vec![Pointed::Stick(stick), Pointed::Jaws],
        Doing::Clamp(_) => match action {
            Some(Action::Say(Call::Clamp)) => vec![Pointed::Jaws],
            _ => technician(line)
                .into_iter()
                .chain([Pointed::Jaws])
                .collect(),
        },
        Doing::Join(_) => vec![Pointed::Machine],
        Doing::Secure | Doing::Done { .. } => vec![Pointed::Station],
    }
}

fn moves_cradle(button: crate::sim::controls::Button, end: End) -> bool {
    use crate::sim::controls::Button as B;
    match button {
        B::LiftBothUp | B::LiftBothDown => true,
        B::LiftNearUp | B::LiftNearDown | B::ShiftNearIn | B::ShiftNearOut => end == End::Near,
        B::LiftFarUp | B::LiftFarDown | B::ShiftFarIn | B::ShiftFarOut => end == End::Far,
        _ => false,
    }
}

fn of_motion(motion: Motion) -> Vec<Pointed> {
    vec![match motion {
        Motion::Receiver => Pointed::Receiver,
        Motion::LiftNear | Motion::ShiftNear | Motion::Advance => Pointed::Cradle(End::Near),
        Motion::LiftFar | Motion::ShiftFar | Motion::Turn => Pointed::Cradle(End::Far),
    }]
}

/// Who is inside the cones, or where a loose stick can come to.
pub fn inside(line: &Line) -> Vec<Pointed> {
    let Some(watch) = line.watch() else {
        return Vec::new();
    };
    let people = line.people().iter().enumerate();
    let inside = people.filter(|(_, person)| {
        let place = person.place();
        let coned = watch.zone().is_some_and(|zone| zone.contains(place));
        person.is_on_foot() && (coned || watch.envelope().contains(place))
    });
    inside.map(|(i, _)| Pointed::Person(PersonId(i))).collect()
}

fn technician(line: &Line) -> Option<Pointed> {
    let mut people = line.people().iter();
    let at = people.position(|person| person.spec().duty == Duty::Technician)?;
    Some(Pointed::Person(PersonId(at)))
}

/// The stick on the rack that is nearest to the gate.
fn lowest(line: &Line) -> Option<StickId> {
    let held = line
        .present()
        .filter(|&stick| line.place(stick) == StickPlace::Held);
    held.min_by(|&one, &other| line.along_m(one).total_cmp(&line.along_m(other)))
}
