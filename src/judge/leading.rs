//! The leading figures: how near a run came to harm, also where none was done.

use serde::Serialize;

use super::Case;
use super::log::Near;
use crate::domain::pipe::Pipe;
use crate::domain::rig::{End, Rig, SADDLE_FAR_RAD, SADDLE_NEAR_RAD};
use crate::domain::rolling::Roller;
use crate::domain::vcradle::VCradle;
use crate::sim::line::EventKind;
use crate::sim::world::StickId;

/// See the module's text.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub struct Leading {
    /// For how long people have been in the line of fire while a stick could move, all together, s.
    pub line_of_fire_s: f64,
    /// The least distance of anybody from moving pipe.
    pub nearest: Option<Near>,
    /// The least time that anybody was from moving pipe, at the speed with which it came.
    pub soonest: Option<Near>,
    /// The fastest entry into the receiver, over the speed that leaves its saddle.
    pub entry: Option<Fraction>,
    /// The hardest blow on the gate: its energy over the energy with which one stick jumps it.
    pub gate: Option<Fraction>,
}

/// A part of what goes wrong.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Fraction {
    pub tick: u64,
    pub stick: StickId,
    pub speed_m_per_s: f64,
    pub fraction: f64,
}

impl Leading {
    pub(super) fn of(case: &Case) -> Self {
        let mut leading = Self {
            line_of_fire_s: case.log.exposed_s.iter().sum(),
            nearest: case.log.nearest,
            soonest: case.log.soonest,
            ..Self::default()
        };
        for noted in &case.log.events {
            let tick = noted.event.tick;
            let (stick, speed_m_per_s, fraction, most) = match noted.event.kind {
                EventKind::Received {
                    stick,
                    speed_m_per_s,
                    ..
                } => {
                    let fraction = case.entry_fraction(stick, speed_m_per_s);
                    (stick, speed_m_per_s, fraction, &mut leading.entry)
                }
                EventKind::GateStruck {
                    stick,
                    speed_m_per_s,
                } => {
                    let fraction = case
                        .roller(stick)
                        .map(|roller| gate_fraction(&case.rig, roller, speed_m_per_s));
                    (stick, speed_m_per_s, fraction, &mut leading.gate)
                }
                _ => continue,
            };
            let Some(fraction) = fraction else { continue };
            if most.is_none_or(|known| fraction > known.fraction) {
                *most = Some(Fraction {
                    tick,
                    stick,
                    speed_m_per_s,
                    fraction,
                });
            }
        }
        leading
    }
}

/// Mean slope of the rails, rad.
pub fn mean_pitch_rad(rig: &Rig) -> f64 {
    let pitches = End::BOTH.map(|side| rig.rail(side).pitch_rad);
    (pitches[0] + pitches[1]) / 2.0
}

/// Energy of a blow on the gate over the energy with which a single stick jumps it (closed form,
/// plastic blow without slip).
pub fn gate_fraction(rig: &Rig, roller: Roller, speed_m_per_s: f64) -> f64 {
    roller.energy_fraction_at_stop(speed_m_per_s, rig.gate_height_m, mean_pitch_rad(rig))
}

/// Speed with which a stick goes over the receiver's stop (closed form), m/s; none where none does.
pub fn over_speed_m_per_s(rig: &Rig, roller: Roller) -> Option<f64> {
    let saddle = VCradle::new(SADDLE_NEAR_RAD, SADDLE_FAR_RAD).ok()?;
    let wing_m = saddle.wing_length_needed_m(roller.radius_m)
        + rig.far_wing_margin_m(roller.radius_m).max(0.0);
    saddle.roll_through_speed_m_per_s(roller, wing_m)
}

impl Case<'_> {
    fn roller(&self, stick: StickId) -> Option<Roller> {
        self.spec().pipe_of(stick.0).map(Pipe::roller)
    }

    /// Speed of a stick at the receiver's stop over the speed that goes over it.
    pub(super) fn entry_fraction(&self, stick: StickId, speed_m_per_s: f64) -> Option<f64> {
        let over_m_per_s = over_speed_m_per_s(&self.rig, self.roller(stick)?)?;
        Some(speed_m_per_s / over_m_per_s)
    }
}
