//! The words for what is on the line and what happens there, as every report and judgement uses them.

use crate::domain::math::deg;
use crate::domain::rig::End;
use crate::domain::spec::{Item, Motion, Surface};
use crate::sim::line::{BarFrom, EventKind, PersonId, Striker};
use crate::sim::world::{SimFault, StickId};
use crate::texts::Message;

/// "stick 1".
pub fn stick(stick: StickId) -> Message {
    Message::new("stick").with("stick", stick.to_string())
}

/// "person 1".
pub fn person(person: PersonId) -> Message {
    Message::new("person").with("person", person.to_string())
}

/// "near rail".
pub fn rail(side: End) -> Message {
    Message::new(match side {
        End::Near => "rail-near",
        End::Far => "rail-far",
    })
}

/// "near end".
pub fn end(end: End) -> Message {
    Message::new(match end {
        End::Near => "end-near",
        End::Far => "end-far",
    })
}

/// "near lift".
pub fn motion(motion: Motion) -> Message {
    Message::new(match motion {
        Motion::Receiver => "motion-receiver",
        Motion::LiftNear => "motion-lift-near",
        Motion::LiftFar => "motion-lift-far",
        Motion::ShiftNear => "motion-shift-near",
        Motion::ShiftFar => "motion-shift-far",
        Motion::Turn => "motion-turn",
        Motion::Advance => "motion-advance",
    })
}

/// "the hoses of the near lift".
pub fn item(item: Item) -> Message {
    Message::new(match item {
        Item::Motion(Motion::Receiver) => "item-receiver",
        Item::Motion(Motion::LiftNear) => "item-lift-near",
        Item::Motion(Motion::LiftFar) => "item-lift-far",
        Item::Motion(Motion::ShiftNear) => "item-shift-near",
        Item::Motion(Motion::ShiftFar) => "item-shift-far",
        Item::Motion(Motion::Turn) => "item-turn",
        Item::Motion(Motion::Advance) => "item-advance",
        Item::Rail(End::Near) => "item-rail-near",
        Item::Rail(End::Far) => "item-rail-far",
        Item::Rollers => "item-rollers",
        Item::Radio => "item-radio",
    })
}

/// What strikes somebody: "stick 1", "the loader".
pub fn striker(by: Striker) -> Message {
    match by {
        Striker::Stick(stick) => Message::new("striker-stick").with("stick", stick.to_string()),
        Striker::Loader => Message::new("striker-loader"),
        Striker::Machinery => Message::new("striker-machinery"),
    }
}

/// "dry".
pub fn surface(surface: Surface) -> Message {
    Message::new(match surface {
        Surface::Dry => "surface-dry",
        Surface::Wet => "surface-wet",
        Surface::Frosted => "surface-frosted",
        Surface::Glazed => "surface-glazed",
    })
}

/// Why the simulation itself failed.
pub fn sim_fault(fault: SimFault) -> Message {
    match fault {
        SimFault::NonFinite { stick: id, tick } => Message::new("sim-fault-non-finite")
            .with("stick", stick(id))
            .with("tick", tick.to_string()),
        SimFault::Quarantined { tick } => {
            Message::new("sim-fault-quarantined").with("tick", tick.to_string())
        }
    }
}

/// What has happened, in a line.
pub fn event(kind: &EventKind) -> Message {
    let of = |id: &'static str, one: StickId| Message::new(id).with("stick", stick(one));
    let at = |id: &'static str, one: StickId, speed_m_per_s: f64| {
        of(id, one).measured("speed", speed_m_per_s, 2)
    };
    let about = |id: &'static str, one: PersonId| Message::new(id).with("person", person(one));
    match *kind {
        EventKind::FeedRefused => Message::new("event-feed-refused"),
        EventKind::CycleBegan { .. } => Message::new("event-cycle-began"),
        EventKind::CycleEnded => Message::new("event-cycle-ended"),
        EventKind::GateStruck {
            stick,
            speed_m_per_s,
        } => at("event-gate-struck", stick, speed_m_per_s),
        EventKind::PassedGate {
            stick, open: true, ..
        } => of("event-passed-gate", stick),
        EventKind::PassedGate {
            stick, open: false, ..
        } => of("event-passed-closed-gate", stick),
        EventKind::Landed {
            stick,
            fall_m_per_s,
        } => at("event-landed", stick, fall_m_per_s),
        EventKind::Received {
            stick,
            speed_m_per_s,
            ..
        } => at("event-received", stick, speed_m_per_s),
        EventKind::Lost { stick } => of("event-lost", stick),
        EventKind::Grounded {
            stick,
            speed_m_per_s,
        } => at("event-grounded", stick, speed_m_per_s),
        EventKind::Lowered {
            stick,
            rocking_m_per_s,
        } => at("event-lowered", stick, rocking_m_per_s),
        EventKind::Seated {
            stick,
            speed_m_per_s,
        } => at("event-seated", stick, speed_m_per_s),
        EventKind::Clamped {
            stick,
            off_m,
            gap_m,
            long_axis_off_rad,
        } => of("event-clamped", stick)
            .measured("off", 1e3 * off_m, 1)
            .measured("gap", 1e3 * gap_m, 0)
            .measured("angle", deg(long_axis_off_rad).abs(), 1),
        EventKind::NotInReach => Message::new("event-not-in-reach"),
        EventKind::Unclamped { stick } => of("event-unclamped", stick),
        EventKind::Joined { stick } => of("event-joined", stick),
        EventKind::Stalled => Message::new("event-stalled"),
        EventKind::Struck {
            person,
            by,
            speed_m_per_s,
            energy_j,
        } => about("event-struck", person)
            .with("by", striker(by))
            .measured("speed", speed_m_per_s, 2)
            .measured("energy", energy_j, 0),
        EventKind::ZoneEntered { person } => about("event-zone-entered", person),
        EventKind::ZoneLeft { person } => about("event-zone-left", person),
        EventKind::UnderStick { person, stick: one } => {
            about("event-under-stick", person).with("stick", stick(one))
        }
        EventKind::GateClosedUnder { stick } => of("event-gate-closed-under", stick),
        EventKind::RowStruck {
            stick,
            speed_m_per_s,
        } => at("event-row-struck", stick, speed_m_per_s),
        EventKind::StopOver => Message::new("event-stop-over"),
        EventKind::StopSaid => Message::new("event-stop-said"),
        EventKind::ChockSet { side } => Message::new("event-chock-set").with("rail", rail(side)),
        EventKind::ChockTaken { side } => {
            Message::new("event-chock-taken").with("rail", rail(side))
        }
        EventKind::Barred {
            stick,
            from: BarFrom::End(side),
        } => of("event-barred-from-end", stick).with("end", end(side)),
        EventKind::Barred {
            stick,
            from: BarFrom::Below,
        } => of("event-barred-from-below", stick),
        EventKind::Repaired { item: what } => {
            Message::new("event-repaired").with("item", item(what))
        }
        EventKind::NotIsolated { item: what } => {
            Message::new("event-not-isolated").with("item", item(what))
        }
        EventKind::SetDown { stick } => of("event-set-down", stick),
        EventKind::FellFromForks { stick } => of("event-fell-from-forks", stick),
        EventKind::HeldByLoader { stick } => of("event-held-by-loader", stick),
        EventKind::JackedUnderLoad { side } => {
            Message::new("event-jacked-under-load").with("rail", rail(side))
        }
    }
}
