//! What happens on the line, read from its state alone: no rule and no script knows the outcome.

use serde::{Deserialize, Serialize};

use super::Line;
use super::escapement::Stage;
use super::machine::FrontEnd;
use super::people::{BarFrom, PersonId, Striker};
use crate::domain::rig::End;
use crate::domain::spec::Item;
use crate::sim::controls::Upset;
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
    /// Lies in both cradles, free of the receiver.
    Seated,
    /// Is in the machine's jaws.
    Clamped,
    /// Is part of the string.
    Joined,
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
    /// A cycle of the escapement began, with the receiver so far below its upper place, m, and
    /// another stick in its room or not.
    CycleBegan {
        receiver_lowered_m: f64,
        occupied: bool,
    },
    /// The row is held again; feed may be let go.
    CycleEnded,
    /// The gate began to close while a stick was still over it.
    GateClosedUnder {
        stick: StickId,
    },
    /// A stick came up against the gate at this speed of its centre, m/s.
    GateStruck {
        stick: StickId,
        speed_m_per_s: f64,
    },
    /// A stick's centre went beyond the gate's far upper edge. `cycle` counts the presses of feed so far, and `open` says
    /// whether the gate was open to it (it had begun to open and had not closed again).
    PassedGate {
        stick: StickId,
        cycle: u32,
        open: bool,
    },
    /// A stick came down on the receiver, or in a cradle, at this speed of fall, m/s.
    Landed {
        stick: StickId,
        fall_m_per_s: f64,
    },
    /// A stick met the receiver's stop at this speed of its centre, m/s, and this yaw, rad.
    Received {
        stick: StickId,
        speed_m_per_s: f64,
        yaw_rad: f64,
    },
    /// The receiver began to go down with a stick on it that rocked at this speed, m/s.
    Lowered {
        stick: StickId,
        rocking_m_per_s: f64,
    },
    /// A stick came down in the second of the cradles, at this speed of its centre, m/s.
    Seated {
        stick: StickId,
        speed_m_per_s: f64,
    },
    /// The jaws took a stick whose end was so far off the centreline, m, from the string, m, and
    /// whose long axis was so far from upright, rad.
    Clamped {
        stick: StickId,
        off_m: f64,
        gap_m: f64,
        long_axis_off_rad: f64,
    },
    /// The jaws found no end within reach.
    NotInReach,
    /// The jaws let a stick go before its joint was made.
    Unclamped {
        stick: StickId,
    },
    /// The joint of a stick was made.
    Joined {
        stick: StickId,
    },
    /// A stick fell from the line.
    Lost {
        stick: StickId,
    },
    /// A stick met the ground at this speed, m/s.
    Grounded {
        stick: StickId,
        speed_m_per_s: f64,
    },
    /// A drive was held by its load.
    Stalled,
    /// Somebody was struck, at this closing speed, m/s, by this much energy, J.
    Struck {
        person: PersonId,
        by: Striker,
        speed_m_per_s: f64,
        energy_j: f64,
    },
    /// Somebody came into the zone, or where a loose stick can come to, while a stick can move; or a
    /// stick can move from now on while somebody is there.
    ZoneEntered {
        person: PersonId,
    },
    /// And is out again, or nothing can move any more.
    ZoneLeft {
        person: PersonId,
    },
    /// A raised or carried stick is over somebody.
    UnderStick {
        person: PersonId,
        stick: StickId,
    },
    /// The spotter says stop.
    StopSaid,
    /// And has no more reason to.
    StopOver,
    /// A chock was set below the lowest stick on the rack, or taken away.
    ChockSet {
        side: End,
    },
    ChockTaken {
        side: End,
    },
    /// A stick was levered with a bar.
    Barred {
        stick: StickId,
        from: BarFrom,
    },
    /// An item was put right.
    Repaired {
        item: Item,
    },
    /// Somebody wanted to repair something with the power on, and left it.
    NotIsolated {
        item: Item,
    },
    /// A stick was set down on the rack by the loader.
    SetDown {
        stick: StickId,
    },
    /// A stick that the loader sets down came up against the row's last one at this speed, m/s.
    RowStruck {
        stick: StickId,
        speed_m_per_s: f64,
    },
    /// A stick fell from the forks.
    FellFromForks {
        stick: StickId,
    },
    /// The loader holds a stick on the rack.
    HeldByLoader {
        stick: StickId,
    },
    /// A jack was cranked with pipe on the rack.
    JackedUnderLoad {
        side: End,
    },
    /// The instructor brought something about.
    Upset {
        upset: Upset,
    },
}

impl EventKind {
    /// The stick it happened to, or with.
    pub fn stick(&self) -> Option<StickId> {
        match *self {
            Self::GateClosedUnder { stick }
            | Self::GateStruck { stick, .. }
            | Self::PassedGate { stick, .. }
            | Self::Landed { stick, .. }
            | Self::Received { stick, .. }
            | Self::Lowered { stick, .. }
            | Self::Seated { stick, .. }
            | Self::Clamped { stick, .. }
            | Self::Unclamped { stick }
            | Self::Joined { stick }
            | Self::Lost { stick }
            | Self::Grounded { stick, .. }
            | Self::UnderStick { stick, .. }
            | Self::Barred { stick, .. }
            | Self::SetDown { stick }
            | Self::RowStruck { stick, .. }
            | Self::FellFromForks { stick }
            | Self::HeldByLoader { stick } => Some(stick),
            Self::Struck {
                by: Striker::Stick(stick),
                ..
            } => Some(stick),
            _ => None,
        }
    }

    /// The numbers in it.
    pub fn numbers(&self) -> impl Iterator<Item = f64> + use<> {
        let numbers = match *self {
            Self::CycleBegan {
                receiver_lowered_m: number,
                ..
            }
            | Self::GateStruck {
                speed_m_per_s: number,
                ..
            }
            | Self::Landed {
                fall_m_per_s: number,
                ..
            }
            | Self::Lowered {
                rocking_m_per_s: number,
                ..
            }
            | Self::Seated {
                speed_m_per_s: number,
                ..
            }
            | Self::Grounded {
                speed_m_per_s: number,
                ..
            }
            | Self::RowStruck {
                speed_m_per_s: number,
                ..
            } => [Some(number), None, None],
            Self::Received {
                speed_m_per_s,
                yaw_rad,
                ..
            } => [Some(speed_m_per_s), Some(yaw_rad), None],
            Self::Clamped {
                off_m,
                gap_m,
                long_axis_off_rad,
                ..
            } => [Some(off_m), Some(gap_m), Some(long_axis_off_rad)],
            Self::Struck {
                speed_m_per_s,
                energy_j,
                ..
            } => [Some(speed_m_per_s), Some(energy_j), None],
            _ => [None; 3],
        };
        numbers.into_iter().flatten()
    }

    /// Whom it happened to.
    pub fn person(&self) -> Option<PersonId> {
        match *self {
            Self::Struck { person, .. }
            | Self::ZoneEntered { person }
            | Self::ZoneLeft { person }
            | Self::UnderStick { person, .. } => Some(person),
            _ => None,
        }
    }
}

#[derive(Clone, Debug, Default)]
struct Track {
    place: Option<StickPlace>,
    on_gate: bool,
    on_ground: bool,
    landed: bool,
    /// For how many ticks more than not it has lain in both cradles and not on the receiver, or the
    /// other way round, against its place so far; and its speed when that began, m/s.
    changing: u32,
    change_speed: f64,
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
    strikes: usize,
    stop_said: bool,
    under: Vec<bool>,
    jacked: [bool; 2],
    coming: Vec<bool>,
    dropped: usize,
    row_struck: bool,
    held_by_loader: Option<StickId>,
    was_up: bool,
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

    /// The joint of a stick has been made in this tick.
    pub fn joined(&mut self, tick: u64, stick: StickId) {
        self.tracks[stick.0].place = Some(StickPlace::Joined);
        self.tell(tick, EventKind::Joined { stick });
    }

    /// The jaws have been told to clamp, and took a stick or none.
    pub fn clamped(&mut self, tick: u64, taken: Option<(StickId, FrontEnd, f64)>) {
        let kind = match taken {
            Some((stick, front, long_axis_off_rad)) => {
                self.tracks[stick.0].place = Some(StickPlace::Clamped);
                EventKind::Clamped {
                    stick,
                    off_m: front.off_centre_m(),
                    gap_m: front.gap_m,
                    long_axis_off_rad,
                }
            }
            None => EventKind::NotInReach,
        };
        self.tell(tick, kind);
    }

    /// The jaws have let a stick go.
    pub fn unclamped(&mut self, tick: u64, stick: StickId) {
        self.tracks[stick.0].place = Some(StickPlace::Seated);
        self.tell(tick, EventKind::Unclamped { stick });
    }

    pub(super) fn tell(&mut self, tick: u64, kind: EventKind) {
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
            let kind = EventKind::CycleBegan {
                receiver_lowered_m: line.receiver_lowered_m(),
                occupied: !line.receiver_is_empty_by(self),
            };
            self.tell(tick, kind);
        }
        if before != Stage::Closing
            && stage == Stage::Closing
            && let Some(stick) = self.over_gate(line)
        {
            self.tell(tick, EventKind::GateClosedUnder { stick });
        }
        if !idle(before) && idle(stage) {
            self.tell(tick, EventKind::CycleEnded);
        }
        let stalled = line.is_stalled();
        if stalled && !self.stalled {
            self.tell(tick, EventKind::Stalled);
        }
        self.stalled = stalled;
        let is_up = line.receiver_is_up();
        if self.was_up && !is_up {
            let on_it: Vec<StickId> = line
                .present()
                .filter(|&stick| self.place(stick) == StickPlace::Received)
                .collect();
            for stick in on_it {
                let kind = EventKind::Lowered {
                    stick,
                    rocking_m_per_s: line.speed_m_per_s(stick),
                };
                self.tell(tick, kind);
            }
        }
        self.was_up = is_up;
        self.observe_people(line, tick);
        self.observe_loader(line, tick);
        for stick in line.present().filter(|&stick| !line.is_coming(stick)) {
            self.observe_stick(line, stick, tick);
        }
    }

    /// A stick under which a gate that rises now comes up.
    pub fn over_gate(&self, line: &Line) -> Option<StickId> {
        line.present().find(|&stick| {
            matches!(self.place(stick), StickPlace::Held | StickPlace::Released)
                && is_over_gate(line, stick)
        })
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
            && (line.receiver.carries(&line.world, stick) || line.cradles.touch(&line.world, stick))
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
                yaw_rad: line.yaw_rad(stick),
            };
            self.tell(tick, kind);
        }
        place = self.seated_or_not(line, stick, place, arrival, tick);
        if !matches!(place, StickPlace::Lost | StickPlace::Joined)
            && (on_ground || has_fallen(line, stick))
        {
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

impl Senses {
    fn observe_people(&mut self, line: &Line, tick: u64) {
        let people = line.people();
        for strike in people.strikes().iter().skip(self.strikes) {
            let kind = EventKind::Struck {
                person: strike.person,
                by: strike.by,
                speed_m_per_s: strike.speed_m_per_s,
                energy_j: strike.energy_j,
            };
            self.tell(tick, kind);
        }
        self.strikes = people.strikes().len();
        let says_stop = people.spotter_says_stop();
        if says_stop != self.stop_said {
            let kind = if says_stop {
                EventKind::StopSaid
            } else {
                EventKind::StopOver
            };
            self.tell(tick, kind);
        }
        self.stop_said = says_stop;
        self.under.resize(people.iter().len(), false);
        for (i, person) in people.iter().enumerate() {
            let under = person.under();
            if let Some(stick) = under
                && !self.under[i]
            {
                let person = PersonId(i);
                self.tell(tick, EventKind::UnderStick { person, stick });
            }
            self.under[i] = under.is_some();
        }
    }

    fn observe_loader(&mut self, line: &Line, tick: u64) {
        let Some(loader) = line.loader() else { return };
        self.coming.resize(line.sticks().len(), false);
        for stick in line.sticks() {
            let coming = loader.keeps(stick);
            if self.coming[stick.0] && !coming && !loader.dropped().contains(&stick) {
                self.tell(tick, EventKind::SetDown { stick });
            }
            self.coming[stick.0] = coming;
        }
        for &stick in loader.dropped().iter().skip(self.dropped) {
            self.tell(tick, EventKind::FellFromForks { stick });
        }
        self.dropped = loader.dropped().len();
        let struck = loader.row_struck();
        if let Some((stick, speed_m_per_s)) = struck
            && !self.row_struck
        {
            let kind = EventKind::RowStruck {
                stick,
                speed_m_per_s,
            };
            self.tell(tick, kind);
        }
        self.row_struck = struck.is_some();
        let held = loader.held();
        if let Some(stick) = held
            && self.held_by_loader != held
        {
            self.tell(tick, EventKind::HeldByLoader { stick });
        }
        self.held_by_loader = held;
    }

    /// A jack is cranked, or not, with this load on it; told once until it is let go.
    pub fn jacked(&mut self, tick: u64, side: End, under_load: bool) {
        if under_load && !self.jacked[side as usize] {
            self.tell(tick, EventKind::JackedUnderLoad { side });
        }
        self.jacked[side as usize] = under_load;
    }

    /// Whether a stick has gone over from the receiver to both cradles, or back. For a moment both
    /// carry it, and contacts come and go: what lasts counts.
    fn seated_or_not(
        &mut self,
        line: &Line,
        stick: StickId,
        place: StickPlace,
        arrival: f64,
        tick: u64,
    ) -> StickPlace {
        let on_receiver = line.is_on_receiver(stick);
        let in_cradles = End::BOTH.iter().all(|&end| line.is_in_cradle(end, stick));
        let (changes, next) = match place {
            StickPlace::Released | StickPlace::Received => {
                (in_cradles && !on_receiver, StickPlace::Seated)
            }
            StickPlace::Seated => (on_receiver && !in_cradles, StickPlace::Received),
            _ => (false, place),
        };
        let track = &mut self.tracks[stick.0];
        if !changes {
            track.changing = track.changing.saturating_sub(1);
            return place;
        }
        if track.changing == 0 {
            track.change_speed = arrival;
        }
        track.changing += 1;
        if track.changing < LASTING_TICKS {
            return place;
        }
        track.changing = 0;
        if next == StickPlace::Seated {
            let kind = EventKind::Seated {
                stick,
                speed_m_per_s: track.change_speed,
            };
            self.tell(tick, kind);
        }
        next
    }
}

/// How long a contact must last to count, ticks.
const LASTING_TICKS: u32 = 24;

/// Whether a stick's axis is within the half width of the gate that it has at the gate's height.
fn is_over_gate(line: &Line, stick: StickId) -> bool {
    let rig = line.rig();
    let radius_m = line.world.pipe(stick).radius_m();
    let below_axis_m = (radius_m - rig.gate_height_m).max(0.0);
    let half_m = (radius_m * radius_m - below_axis_m * below_axis_m).sqrt();
    let along_m = line.along_m(stick);
    // One that is held lies against the gate's corner, and has not moved.
    along_m > rig.gate_far_edge_m() - half_m && along_m < rig.gate_corner_m + 0.9 * half_m
}

/// Below everything that should carry it: the rails' toe and the receiver where it stands.
fn has_fallen(line: &Line, stick: StickId) -> bool {
    let lowest_carried = line.rig.seat_height_m - line.rig.spec().receiver.travel_m;
    line.plane_point(stick).y_m < lowest_carried - line.rig.setting_radius_m
}
