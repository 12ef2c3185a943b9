//! The figures of a run: how near it came to going wrong, against the closed forms.

use serde::Serialize;

use crate::domain::math::deg;
use crate::domain::rig::End;
use crate::domain::rolling::rolling_resistance;
use crate::judge::{gate_fraction, mean_pitch_rad, over_speed_m_per_s};
use crate::sim::line::{EventKind, Line, StickPlace};
use crate::sim::world::StickId;

/// Less than this is the contacts' own softness, m.
const LEAST_LIFT_M: f64 = 0.005;

/// The hardest blow on the gate.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Blow {
    /// Which stick.
    pub stick: StickId,
    pub time_s: f64,
    pub speed_m_per_s: f64,
    /// Speed at which a single stick of this pipe jumps this gate (closed form, plastic blow without
    /// slip), m/s.
    pub jump_speed_m_per_s: f64,
    /// Its energy as a fraction of the energy that jumps the gate.
    pub energy_fraction: f64,
    /// Sticks that lay behind it and push.
    pub sticks_behind: usize,
}

/// A stick that leans on the gate and no longer lies on the rails when the run ends.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Lean {
    pub stick: StickId,
    /// How high it is lifted off the rails, mm.
    pub lift_mm: f64,
    /// That lift as a fraction of what takes it over the gate.
    pub fraction: f64,
}

/// How a stick came to the receiver's stop.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Reception {
    pub stick: StickId,
    pub time_s: f64,
    pub speed_m_per_s: f64,
    /// Speed at which a stick goes over the stop (closed form), m/s.
    pub over_speed_m_per_s: f64,
    pub speed_fraction: f64,
    pub yaw_deg: f64,
}

/// See the module's text.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub struct Figures {
    /// Slope of the near and the far rail, deg.
    pub pitch_deg: [f64; 2],
    /// Steepest slope on which the first stick's ovality holds it, deg.
    pub hang_deg: f64,
    /// Slope at which rolling resistance lets it start, deg.
    pub start_deg: f64,
    /// Height of the gate in radii of the first stick.
    pub gate_height_r: f64,
    /// Hardest blow on the gate.
    pub hardest_blow: Option<Blow>,
    /// The stick that has climbed the gate furthest and stays there, if it is off the rails.
    pub lean: Option<Lean>,
    /// First arrival at the receiver's stop.
    pub reception: Option<Reception>,
    /// Time from the press of feed to the arrival, s.
    pub feed_time_s: Option<f64>,
}

impl Figures {
    /// Gathers the figures.
    pub fn of(line: &Line) -> Self {
        let rig = line.rig();
        let first = line.world().pipe(StickId(0));
        let resistance =
            rolling_resistance(rig.spec().contact.rolling_lever_arm_m, first.radius_m());
        let mut figures = Self {
            pitch_deg: End::BOTH.map(|side| deg(rig.rail(side).pitch_rad)),
            hang_deg: deg(first.oval().hang_angle_rad()),
            start_deg: deg(crate::domain::rolling::start_slope_rad(resistance)),
            gate_height_r: rig.gate_height_m / first.radius_m(),
            ..Self::default()
        };
        figures.lean = line
            .sticks()
            .filter_map(|stick| lean(line, stick))
            .max_by(|p, q| p.fraction.total_cmp(&q.fraction));
        let mut began_s = None;
        for event in line.events() {
            let time_s = line.time_at_s(event.tick);
            match event.kind {
                EventKind::CycleBegan { .. } => began_s = began_s.or(Some(time_s)),
                EventKind::GateStruck {
                    stick,
                    speed_m_per_s,
                } => {
                    let blow = blow(line, stick, time_s, speed_m_per_s);
                    let harder = |known: &Blow| blow.energy_fraction > known.energy_fraction;
                    if figures.hardest_blow.as_ref().is_none_or(harder) {
                        figures.hardest_blow = Some(blow);
                    }
                }
                EventKind::Received {
                    stick,
                    speed_m_per_s,
                    yaw_rad,
                } if figures.reception.is_none() => {
                    figures.feed_time_s = began_s.map(|began_s| time_s - began_s);
                    figures.reception = reception(line, stick, time_s, speed_m_per_s, yaw_rad);
                }
                _ => {}
            }
        }
        figures
    }
}

/// An oval stick lies lower or higher as it turns, so only what exceeds its long axis is a lift.
fn lean(line: &Line, stick: StickId) -> Option<Lean> {
    if line.place(stick) != StickPlace::Held {
        return None;
    }
    let lift_m = line.above_rails_m(stick) - line.world().pipe(stick).oval().long_m;
    (lift_m > LEAST_LIFT_M).then(|| Lean {
        stick,
        lift_mm: 1.0e3 * lift_m,
        fraction: lift_m / line.rig().gate_height_m,
    })
}

fn blow(line: &Line, stick: StickId, time_s: f64, speed_m_per_s: f64) -> Blow {
    let (rig, roller) = (line.rig(), line.world().pipe(stick).roller());
    Blow {
        stick,
        time_s,
        speed_m_per_s,
        jump_speed_m_per_s: roller.jump_speed_m_per_s(rig.gate_height_m, mean_pitch_rad(rig)),
        energy_fraction: gate_fraction(rig, roller, speed_m_per_s),
        sticks_behind: line.sticks().len() - stick.0 - 1,
    }
}

fn reception(
    line: &Line,
    stick: StickId,
    time_s: f64,
    speed_m_per_s: f64,
    yaw_rad: f64,
) -> Option<Reception> {
    let over_speed_m_per_s = over_speed_m_per_s(line.rig(), line.world().pipe(stick).roller())?;
    Some(Reception {
        stick,
        time_s,
        speed_m_per_s,
        over_speed_m_per_s,
        speed_fraction: speed_m_per_s / over_speed_m_per_s,
        yaw_deg: deg(yaw_rad),
    })
}
