//! What happens on the line, read from its state alone: no rule and no script knows the outcome.

use serde::{Deserialize, Serialize};

use super::Line;
use super::escapement::Stage;
use crate::sim::world::StickId;

/// Where a stick is in its way along the line.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum StickPlace {
    /// On the rack, behind the gate.
    Held,
    /// Past the gate, not yet in the receiver.
    Released,
    /// Has met the receiver's stop.
    Received,
    /// Has left the line: on the ground, or below everything that should carry it.
    Lost,
}

/// Something that happened to a stick or to the machine.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Event {
    /// Tick at whose end it was seen.
    pub tick: u64,
    pub kind: EventKind,
}

/// Sticks are numbered from the gate up the rack.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub enum EventKind {
    /// Feed was pressed and refused: the receiver was not up and empty.
    FeedRefused,
    /// A cycle of the escapement began.
    CycleBegan,
    /// The row is held again; feed may be let go.
    CycleEnded,
    /// A stick came up against the gate at this speed of its centre, m/s.
    GateStruck { stick: StickId, speed_m_per_s: f64 },
    /// A stick's centre went beyond the gate's far upper edge. `cycle` counts the presses of feed so far, and `open` says
    /// whether the gate was open to it (it had begun to open and had not closed again).
    PassedGate {
        stick: StickId,
        cycle: u32,
        open: bool,
    },
    /// A stick came down on the receiver at this speed of fall, m/s.
    Landed { stick: StickId, fall_m_per_s: f64 },
    /// A stick met the receiver's stop at this speed of its centre, m/s.
    Received { stick: StickId, speed_m_per_s: f64 },
    /// A stick fell from the line.
    Lost { stick: StickId },
    /// A stick met the ground at this speed, m/s.
    Grounded { stick: StickId, speed_m_per_s: f64 },
    /// A drive was held by its load.
    Stalled,
}

#[derive(Clone, Debug, Default)]
struct Track {
    place: Option<StickPlace>,
    on_gate: bool,
    on_ground: bool,
    landed: bool,
    /// Speed of the centre at the end of the last tick, m/s.
    last_speed: f64,
    /// Its part straight down, m/s.
    last_fall: f64,
}

#[derive(Clone, Debug, Default)]
pub struct Senses {
    events: Vec<Event>,
    tracks: Vec<Track>,
    cycles: u32,
    stage: Option<Stage>,
    refused: bool,
    stalled: bool,
}

impl Senses {
    pub fn new(sticks: usize) -> Self {
        Self {
            tracks: vec![Track::default(); sticks],
            ..Self::default()
        }
    }

    pub fn events(&self) -> &[Event] {
        &self.events
    }

    pub fn place(&self, stick: StickId) -> StickPlace {
        self.tracks[stick.0].place.unwrap_or(StickPlace::Held)
    }

    /// Feed was refused in this tick; told once until it is let go.
    pub fn refused(&mut self, tick: u64) {
        if !self.refused {
            self.refused = true;
            self.tell(tick, EventKind::FeedRefused);
        }
    }

    fn tell(&mut self, tick: u64, kind: EventKind) {
        self.events.push(Event { tick, kind });
    }

    /// Looks at the line after a tick.
    pub fn observe(&mut self, line: &Line) {
        let tick = line.tick_count();
        let stage = line.stage();
        let before = self.stage.replace(stage).unwrap_or(Stage::Blocked);
        let idle = |s: Stage| matches!(s, Stage::Blocked | Stage::Done);
        if idle(before) && !idle(stage) {
            self.cycles += 1;
            self.refused = false;
            self.tell(tick, EventKind::CycleBegan);
        }
        if !idle(before) && idle(stage) {
            self.tell(tick, EventKind::CycleEnded);
        }
        let stalled = line.is_stalled();
        if stalled && !self.stalled {
            self.tell(tick, EventKind::Stalled);
        }
        self.stalled = stalled;
        for stick in line.sticks().filter(|&stick| !line.is_coming(stick)) {
            self.observe_stick(line, stick, tick);
        }
    }

    fn observe_stick(&mut self, line: &Line, stick: StickId, tick: u64) {
        let speed = line.speed_m_per_s(stick);
        let before = self.place(stick);
        let arrival = self.tracks[stick.0].last_speed;
        let i = stick.0;

        let on_gate = line
            .escapement
            .gate_parts()
            .any(|part| line.world.touches(part, stick));
        // A touch at a creep is the row settling against the gate, not a blow.
        if on_gate && !self.tracks[i].on_gate && arrival > 0.05 && before == StickPlace::Held {
            let kind = EventKind::GateStruck {
                stick,
                speed_m_per_s: arrival,
            };
            self.tell(tick, kind);
        }
        let on_ground = line.world.touches(line.ground, stick);
        if on_ground && !self.tracks[i].on_ground {
            let kind = EventKind::Grounded {
                stick,
                speed_m_per_s: arrival,
            };
            self.tell(tick, kind);
        }

        let mut place = before;
        if place == StickPlace::Held && line.plane_point(stick).x_m > line.rig.past_gate_x_m() {
            place = StickPlace::Released;
            let open = matches!(line.stage(), Stage::Opening | Stage::Open | Stage::Closing);
            let kind = EventKind::PassedGate {
                stick,
                cycle: self.cycles,
                open,
            };
            self.tell(tick, kind);
        }
        if !self.tracks[i].landed
            && before != StickPlace::Held
            && line.receiver.carries(&line.world, stick)
        {
            self.tracks[i].landed = true;
            let kind = EventKind::Landed {
                stick,
                fall_m_per_s: self.tracks[i].last_fall,
            };
            self.tell(tick, kind);
        }
        if place == StickPlace::Released && line.receiver.stops(&line.world, stick) {
            place = StickPlace::Received;
            let kind = EventKind::Received {
                stick,
                speed_m_per_s: arrival,
            };
            self.tell(tick, kind);
        }
        if place != StickPlace::Lost && (on_ground || has_fallen(line, stick)) {
            place = StickPlace::Lost;
            self.tell(tick, EventKind::Lost { stick });
        }
        let track = &mut self.tracks[i];
        track.place = Some(place);
        track.on_gate = on_gate;
        track.on_ground = on_ground;
        track.last_speed = speed;
        track.last_fall = -f64::from(line.world.stick(stick).velocity.y);
    }
}

/// Below everything that should carry it: the rails' toe and the receiver where it stands.
fn has_fallen(line: &Line, stick: StickId) -> bool {
    let lowest_carried = line.rig.seat_height_m - line.rig.spec().receiver.travel_m;
    line.plane_point(stick).y_m < lowest_carried - line.rig.setting_radius_m
}
