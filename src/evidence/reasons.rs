//! Why a run ended as it did: measured facts beside the closed forms and the trade's limits.
//!
//! Each reason is a statement about this run that can be checked against its trace. Whether replacing
//! an act would have changed the outcome is another question, answered by running it again.

use serde::Serialize;

use super::figures::{Blow, Figures};
use super::outcome::Outcome;
use crate::domain::limits;
use crate::domain::math::{GRAVITY_M_PER_S2, deg, rad};
use crate::domain::rig::End;
use crate::domain::spec::{EscapementKind, FaultSpec, Motion};
use crate::domain::step::{SeparatorWindow, corner_angle_rad, row_length_that_lifts};
use crate::judge::mean_pitch_rad;
use crate::sim::line::{EventKind, Line, StickPlace};
use crate::sim::world::StickId;
use crate::texts::Message;
use crate::words;

/// One reason, with its numbers. Angles in degrees.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub enum Reason {
    /// Everything stayed inside its limits.
    WithinLimits,
    /// The first stick's ovality holds it on this slope.
    OvalHolds {
        ovality_pct: f64,
        hang_deg: f64,
        pitch_deg: f64,
    },
    /// Rolling resistance holds it on this slope.
    ResistanceHolds { start_deg: f64, pitch_deg: f64 },
    /// A stick stopped between the gate and the receiver.
    StoppedOnItsWay { stick: StickId },
    /// The rails' slopes are outside the trade's.
    PitchOutside {
        pitch_deg: [f64; 2],
        low_deg: f64,
        high_deg: f64,
    },
    /// The row struck the gate as hard as this.
    GateBlow(Blow),
    /// The row's push alone lifts its first stick over this gate.
    RowPush { sticks: usize, lifting_row: f64 },
    /// The setting is not this pipe's.
    SizeSetting {
        setting_mm: f64,
        pipe_mm: f64,
        gate_height_r: f64,
    },
    /// The separator does not stand in the gap between the first two sticks.
    SeparatorMisses {
        stands_od: f64,
        from_od: f64,
        to_od: f64,
    },
    /// A stick came to the stop as fast as this.
    EntrySpeed {
        speed_m_per_s: f64,
        over_speed_m_per_s: f64,
    },
    /// A stick fell on to the receiver at this speed.
    Fall { fall_m_per_s: f64 },
    /// The receiver was not up.
    ReceiverLow { lowered_m: f64 },
    /// A stick went over a gate that was closed.
    WentOverClosedGate { stick: StickId },
    /// A drive has met its greatest force.
    GateHeldByLoad,
    /// The scenario has set this fault of the machine.
    MachineFault(MachineFault),
}

/// A fault of the machine, as the scenario sets it.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub enum MachineFault {
    GateMissing(End),
    SeparatorMissing(End),
    GateLate { rail: End, late_s: f64 },
    ReceiverSlow { times: f64 },
    ReceiverCrossed,
}

impl MachineFault {
    /// All faults of a machine.
    fn of(faults: &FaultSpec) -> Vec<Self> {
        let mut found = Vec::new();
        for rail in End::BOTH {
            let own = faults.rail(rail);
            if own.gate_missing {
                found.push(Self::GateMissing(rail));
            }
            if own.separator_missing {
                found.push(Self::SeparatorMissing(rail));
            }
            if own.gate_late_s > 0.0 {
                let late_s = own.gate_late_s;
                found.push(Self::GateLate { rail, late_s });
            }
        }
        let receiver = faults.motion(Motion::Receiver);
        if receiver.slowness > 1.0 {
            let times = receiver.slowness;
            found.push(Self::ReceiverSlow { times });
        }
        if receiver.crossed {
            found.push(Self::ReceiverCrossed);
        }
        found
    }

    fn message(&self) -> Message {
        match *self {
            Self::GateMissing(side) => {
                Message::new("machine-fault-gate-missing").with("rail", words::rail(side))
            }
            Self::SeparatorMissing(side) => {
                Message::new("machine-fault-separator-missing").with("rail", words::rail(side))
            }
            Self::GateLate { rail, late_s } => Message::new("machine-fault-gate-late")
                .with("rail", words::rail(rail))
                .with("late", late_s.to_string()),
            Self::ReceiverSlow { times } => {
                Message::new("machine-fault-receiver-slow").with("times", times.to_string())
            }
            Self::ReceiverCrossed => Message::new("machine-fault-receiver-crossed"),
        }
    }
}

/// A rail that has settled by less than this is where it was set, rad.
const SETTLED_RAD: f64 = rad(0.05);

impl Reason {
    /// The reasons of a run.
    pub fn of(line: &Line, outcome: Outcome, figures: &Figures) -> Vec<Self> {
        let mut reasons = Vec::new();
        match outcome {
            Outcome::OneStick | Outcome::Joined => reasons.push(Self::WithinLimits),
            Outcome::Hung => hung(line, figures, &mut reasons),
            Outcome::Perched | Outcome::DoubleFeed => gate(line, outcome, figures, &mut reasons),
            Outcome::RollOff | Outcome::Dropped => {
                off_the_line(line, outcome, figures, &mut reasons)
            }
            Outcome::Jammed => reasons.push(Self::GateHeldByLoad),
            Outcome::Struck
            | Outcome::Refused
            | Outcome::NotFed
            | Outcome::Unsettled
            | Outcome::BrokenOff => {}
        }
        setting(line, figures, &mut reasons);
        let faults = MachineFault::of(&line.rig().spec().faults);
        reasons.extend(faults.into_iter().map(Self::MachineFault));
        let (low, high) = (limits::PITCH_MIN.value, limits::PITCH_MAX.value);
        let outside = End::BOTH.iter().any(|&side| {
            // Feet settle by a little under every row.
            let pitch_rad = line.rig().rail(side).pitch_rad;
            !(low - SETTLED_RAD..=high + SETTLED_RAD).contains(&pitch_rad)
        });
        if outside {
            reasons.retain(|reason| *reason != Self::WithinLimits);
            reasons.push(Self::PitchOutside {
                pitch_deg: figures.pitch_deg,
                low_deg: deg(low),
                high_deg: deg(high),
            });
        }
        reasons
    }
}

fn hung(line: &Line, figures: &Figures, reasons: &mut Vec<Reason>) {
    let pitch_deg = deg(mean_pitch_rad(line.rig()));
    let stopped = line
        .sticks()
        .find(|&stick| line.place(stick) == StickPlace::Released);
    if let Some(stick) = stopped {
        reasons.push(Reason::StoppedOnItsWay { stick });
    }
    if figures.hang_deg > pitch_deg {
        reasons.push(Reason::OvalHolds {
            ovality_pct: 100.0 * line.world().pipe(StickId(0)).ovality,
            hang_deg: figures.hang_deg,
            pitch_deg,
        });
    }
    if figures.start_deg > pitch_deg {
        reasons.push(Reason::ResistanceHolds {
            start_deg: figures.start_deg,
            pitch_deg,
        });
    }
}

fn gate(line: &Line, outcome: Outcome, figures: &Figures, reasons: &mut Vec<Reason>) {
    let over_closed = line.events().iter().find_map(|event| match event.kind {
        EventKind::PassedGate {
            stick, open: false, ..
        } => Some(stick),
        _ => None,
    });
    if let Some(stick) = over_closed {
        reasons.push(Reason::WentOverClosedGate { stick });
    }
    if over_closed.is_none() && outcome == Outcome::DoubleFeed {
        // It went through while the gate was open: the blows have nothing to do with it.
        return;
    }
    if let Some(blow) = figures.hardest_blow {
        reasons.push(Reason::GateBlow(blow));
    }
    let radius_m = line.world().pipe(StickId(0)).radius_m();
    let height_m = line.rig().gate_height_m.min(radius_m);
    let lifting_row = row_length_that_lifts(
        mean_pitch_rad(line.rig()),
        corner_angle_rad(radius_m, height_m),
    );
    let sticks = line.sticks().len();
    if sticks as f64 > lifting_row {
        reasons.push(Reason::RowPush {
            sticks,
            lifting_row,
        });
    }
}

fn off_the_line(line: &Line, outcome: Outcome, figures: &Figures, reasons: &mut Vec<Reason>) {
    let fall = line.events().iter().find_map(|event| match event.kind {
        EventKind::Landed { fall_m_per_s, .. } => Some(fall_m_per_s),
        _ => None,
    });
    if let (Outcome::Dropped, Some(fall_m_per_s)) = (outcome, fall) {
        reasons.push(Reason::Fall { fall_m_per_s });
    } else if let Some(reception) = figures.reception {
        reasons.push(Reason::EntrySpeed {
            speed_m_per_s: reception.speed_m_per_s,
            over_speed_m_per_s: reception.over_speed_m_per_s,
        });
    }
    if !line.receiver_is_up() {
        reasons.push(Reason::ReceiverLow {
            lowered_m: line.receiver_lowered_m(),
        });
    }
}

/// The size setting is a reason of its own whenever it is not the pipe's, whatever came of it.
fn setting(line: &Line, figures: &Figures, reasons: &mut Vec<Reason>) {
    let rig = line.rig();
    let pipe = line.world().pipe(StickId(0));
    let (setting_m, od_m) = (2.0 * rig.setting_radius_m, pipe.outside_diameter_m);
    // Settings come in sizes; half the step between neighbours tells them apart.
    if (setting_m - od_m).abs() < 0.02 * od_m {
        return;
    }
    reasons.retain(|reason| *reason != Reason::WithinLimits);
    reasons.push(Reason::SizeSetting {
        setting_mm: 1.0e3 * setting_m,
        pipe_mm: 1.0e3 * od_m,
        gate_height_r: figures.gate_height_r,
    });
    if rig.spec().escapement.kind == EscapementKind::PinPair && rig.gate_height_m < pipe.radius_m()
    {
        let window = SeparatorWindow::new(pipe.radius_m(), rig.gate_height_m, rig.gate_height_m);
        let middle_m = rig.separator_middle_m - rig.gate_corner_m;
        if window.clearance_m(middle_m, rig.separator_width_m) < 0.0 {
            reasons.push(Reason::SeparatorMisses {
                stands_od: middle_m / od_m,
                from_od: window.from_m / od_m,
                to_od: window.to_m / od_m,
            });
        }
    }
}

impl Reason {
    /// It as a sentence.
    pub fn message(&self) -> Message {
        match *self {
            Self::WithinLimits => Message::new("reason-within-limits"),
            Self::OvalHolds {
                ovality_pct,
                hang_deg,
                pitch_deg,
            } => Message::new("reason-oval-holds")
                .measured("ovality", ovality_pct, 1)
                .measured("hang", hang_deg, 2)
                .measured("pitch", pitch_deg, 2),
            Self::ResistanceHolds {
                start_deg,
                pitch_deg,
            } => Message::new("reason-resistance-holds")
                .measured("start", start_deg, 2)
                .measured("pitch", pitch_deg, 2),
            Self::StoppedOnItsWay { stick } => {
                Message::new("reason-stopped-on-its-way").with("stick", stick.to_string())
            }
            Self::PitchOutside {
                pitch_deg: [near, far],
                low_deg,
                high_deg,
            } => Message::new("reason-pitch-outside")
                .measured("near", near, 1)
                .measured("far", far, 1)
                .measured("low", low_deg, 0)
                .measured("high", high_deg, 0),
            Self::GateBlow(blow) => Message::new("reason-gate-blow")
                .with("stick", blow.stick.to_string())
                .measured("speed", blow.speed_m_per_s, 2)
                .with("behind", blow.sticks_behind)
                .measured("energy", 100.0 * blow.energy_fraction, 0)
                .measured("jump", blow.jump_speed_m_per_s, 2),
            Self::RowPush {
                sticks,
                lifting_row,
            } => Message::new("reason-row-push")
                .measured("lifting", lifting_row, 1)
                .with("sticks", sticks),
            Self::SizeSetting {
                setting_mm,
                pipe_mm,
                gate_height_r,
            } => Message::new("reason-size-setting")
                .measured("setting", setting_mm, 0)
                .measured("pipe", pipe_mm, 0)
                .measured("height", gate_height_r, 2),
            Self::SeparatorMisses {
                stands_od,
                from_od,
                to_od,
            } => Message::new("reason-separator-misses")
                .measured("stands", stands_od, 2)
                .measured("from", from_od, 2)
                .measured("to", to_od, 2),
            Self::EntrySpeed {
                speed_m_per_s,
                over_speed_m_per_s,
            } => Message::new("reason-entry-speed")
                .measured("speed", speed_m_per_s, 2)
                .measured("over", over_speed_m_per_s, 2),
            Self::Fall { fall_m_per_s } => Message::new("reason-fall")
                .measured("speed", fall_m_per_s, 2)
                .measured(
                    "height",
                    1.0e3 * fall_m_per_s * fall_m_per_s / (2.0 * GRAVITY_M_PER_S2),
                    0,
                ),
            Self::ReceiverLow { lowered_m } => {
                Message::new("reason-receiver-low").measured("lowered", 1.0e3 * lowered_m, 0)
            }
            Self::WentOverClosedGate { stick } => {
                Message::new("reason-went-over-closed-gate").with("stick", stick.to_string())
            }
            Self::MachineFault(fault) => {
                Message::new("reason-machine-fault").with("fault", fault.message())
            }
            Self::GateHeldByLoad => Message::new("reason-gate-held-by-load"),
        }
    }
}
