//! The words for what is on the line and what happens there, as every report and judgement uses them.

use crate::domain::math::deg;
use crate::domain::rig::End;
use crate::domain::set_out::{SetOutFault, Setting};
use crate::domain::spec::{Duty, Item, Motion, PersonSpec, Surface};
use crate::domain::zone::{AREA_MIN_M2, ZoneFault};
use crate::sim::controls::{Button, Call, Upset};
use crate::sim::line::{BarFrom, Body, EventKind, PersonId, Striker};
use crate::sim::world::{SimFault, StickId};
use crate::texts::Message;

/// "stick 1".
pub fn stick(stick: StickId) -> Message {
    Message::new("stick").with("stick", stick.to_string())
}

/// Somebody on a line that is described with these people, by what they are there for. Whom it is not
/// described with came later, by the instructor's hand.
pub fn person(person: PersonId, people: &[PersonSpec]) -> Message {
    let known = people.get(person.0);
    duty(known.map_or(Duty::Visitor, |person| person.duty))
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

/// "the visitor".
pub fn duty(duty: Duty) -> Message {
    Message::new(match duty {
        Duty::Operator => "duty-operator",
        Duty::Spotter => "duty-spotter",
        Duty::LoaderDriver => "duty-loader-driver",
        Duty::Technician => "duty-technician",
        Duty::Rigger => "duty-rigger",
        Duty::Visitor => "duty-visitor",
    })
}

/// "receiver down".
pub fn button(button: Button) -> Message {
    Message::new(match button {
        Button::Feed => "button-feed",
        Button::ReceiverUp => "button-receiver-up",
        Button::ReceiverDown => "button-receiver-down",
        Button::LiftNearUp => "button-lift-near-up",
        Button::LiftNearDown => "button-lift-near-down",
        Button::LiftFarUp => "button-lift-far-up",
        Button::LiftFarDown => "button-lift-far-down",
        Button::LiftBothUp => "button-lift-both-up",
        Button::LiftBothDown => "button-lift-both-down",
        Button::ShiftNearIn => "button-shift-near-in",
        Button::ShiftNearOut => "button-shift-near-out",
        Button::ShiftFarIn => "button-shift-far-in",
        Button::ShiftFarOut => "button-shift-far-out",
        Button::TurnIn => "button-turn-in",
        Button::TurnOut => "button-turn-out",
        Button::AdvanceOn => "button-advance-on",
        Button::AdvanceBack => "button-advance-back",
        Button::Horn => "button-horn",
        Button::JackNearUp => "button-jack-near-up",
        Button::JackNearDown => "button-jack-near-down",
        Button::JackFarUp => "button-jack-far-up",
        Button::JackFarDown => "button-jack-far-down",
    })
}

/// What is asked of people: "bring the next stick".
pub fn call(call: Call) -> Message {
    Message::new(match call {
        Call::Clear => "call-clear",
        Call::Load => "call-load",
        Call::Hold => "call-hold",
        Call::Release => "call-release",
        Call::Chock => "call-chock",
        Call::Unchock => "call-unchock",
        Call::BarFromEnd(_) => "call-bar-from-end",
        Call::BarFromBelow => "call-bar-from-below",
        Call::Clamp => "call-clamp",
        Call::Unclamp => "call-unclamp",
        Call::Repair(_) => "call-repair",
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

/// What is set before pipe moves: "the pitch of the near rail".
pub fn setting(setting: &Setting) -> Message {
    match setting {
        Setting::Pitch { rail: side, .. } => {
            Message::new("setting-pitch").with("rail", rail(*side))
        }
        Setting::Size { .. } => Message::new("setting-size"),
        Setting::Pins(side) => Message::new("setting-pins").with("rail", rail(*side)),
        Setting::Chock(side) => Message::new("setting-chock").with("rail", rail(*side)),
        Setting::RailPad(side) => Message::new("setting-rail-pad").with("rail", rail(*side)),
        Setting::Item(one) => item(*one),
        Setting::Interlock => Message::new("setting-interlock"),
        Setting::Zone(_) => Message::new("setting-zone"),
        Setting::ColumnPads(side) => Message::new("setting-column-pads").with("end", end(*side)),
        Setting::Column(side)
        | Setting::ColumnOffset { column: side, .. }
        | Setting::ColumnLean { column: side, .. } => {
            Message::new("setting-column").with("end", end(*side))
        }
        Setting::Cradles | Setting::CradleSpacing { .. } => Message::new("setting-cradles"),
        Setting::Machine | Setting::MachineAt { .. } => Message::new("setting-machine"),
    }
}

/// Why a line is not set out so.
pub fn set_out_fault(fault: &SetOutFault) -> Message {
    match fault {
        SetOutFault::PipeOnRack(one) => {
            Message::new("set-out-pipe-on-rack").with("setting", setting(one))
        }
        SetOutFault::OutOfRange(_) => Message::new("set-out-out-of-range"),
        SetOutFault::NoZone(fault) => zone_fault(fault),
        SetOutFault::NoRoom {
            setting: one,
            steel,
        } => Message::new("set-out-no-room")
            .with("setting", setting(one))
            .with("steel", Message::new(*steel)),
    }
}

/// Why cones make no zone.
pub fn zone_fault(fault: &ZoneFault) -> Message {
    match *fault {
        ZoneFault::TooFew { .. } => Message::new("set-out-no-zone"),
        ZoneFault::OffSite { cone, .. } => Message::new("zone-off-site").with("cone", cone),
        ZoneFault::TooNear {
            cones: [one, other],
            ..
        } => Message::new("zone-too-near")
            .with("one", one)
            .with("other", other),
        ZoneFault::Crosses {
            edges: [one, other],
        } => Message::new("zone-crosses")
            .with("from", one[0])
            .with("to", one[1])
            .with("other_from", other[0])
            .with("other_to", other[1]),
        ZoneFault::TooSmall { area_m2 } => Message::new("zone-too-small")
            .measured("area", area_m2, 1)
            .with("least", AREA_MIN_M2),
    }
}

/// What of a line is off.
pub fn body(body: Body) -> Message {
    Message::new(match body {
        Body::Stick(id) => return stick(id),
        Body::Rack => "body-rack",
        Body::Escapement => "body-escapement",
        Body::Receiver => "body-receiver",
        Body::Cradles => "body-cradles",
        Body::Machine => "body-machine",
        Body::Loader => "body-loader",
        Body::Chocks => "body-chocks",
        Body::People => "body-people",
        Body::Zone => "body-zone",
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

/// What an instructor brings about.
pub fn upset(upset: Upset) -> Message {
    Message::new(match upset {
        Upset::Visitor => "upset-visitor",
        Upset::StopCalled => "upset-stop-called",
        Upset::Gust => "upset-gust",
        Upset::LiftCreeps(End::Near) => "upset-near-lift-creeps",
        Upset::LiftCreeps(End::Far) => "upset-far-lift-creeps",
        Upset::RadioDies => "upset-radio-dies",
        Upset::PowerFails => "upset-power-fails",
    })
}

/// What has happened, in a line; on a line that is described with these people.
pub fn event(kind: &EventKind, people: &[PersonSpec]) -> Message {
    let of = |id: &'static str, one: StickId| Message::new(id).with("stick", stick(one));
    let at = |id: &'static str, one: StickId, speed_m_per_s: f64| {
        of(id, one).measured("speed", speed_m_per_s, 2)
    };
    let about = |id: &'static str, one| Message::new(id).with("person", person(one, people));
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
        EventKind::Upset { upset: what } => Message::new("event-upset").with("what", upset(what)),
    }
}
