//! What the closed forms say of a line at once: for one round stick, no slip, a plastic blow.

use serde::Serialize;

use super::answer::PITCH;
use super::file::Sweep;
use super::halving::least;
use crate::domain::math::{deg, rad, sqrt};
use crate::domain::rig::Rig;
use crate::domain::rolling::{rolling_resistance, speed_after_run_m_per_s, start_slope_rad};
use crate::domain::spec::LineSpec;
use crate::judge::over_speed_m_per_s;
use crate::texts::Message;

/// The steepest rack that is looked at, rad.
const STEEPEST_RAD: f64 = rad(30.0);

/// Pitches, deg.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Estimate {
    /// A round stick starts to roll.
    pub start_deg: f64,
    /// The steepest on which the ovality of the most oval stick can hold it.
    pub hang_deg: f64,
    /// One stick that has run up by a diameter jumps the closed gate; none where none does.
    pub jump_deg: Option<f64>,
    /// A fed stick goes over the receiver's stop; none where none does.
    pub over_deg: Option<f64>,
    pub sticks: usize,
}

impl Estimate {
    /// Of a line whose pitch is not looked at.
    pub fn of(spec: &LineSpec) -> Option<Self> {
        let rig = Rig::new(spec);
        let first = spec.sticks.first()?;
        let (pipe, roller) = (&first.pipe, first.pipe.roller());
        let resistance = rolling_resistance(spec.contact.rolling_lever_arm_m, pipe.radius_m());
        let hang_rad = spec
            .sticks
            .iter()
            .map(|stick| stick.pipe.oval().hang_angle_rad());
        let jump =
            roller.critical_pitch_rad(rig.gate_height_m, pipe.outside_diameter_m, resistance);
        // From where it leans on the gate's corner down to the seat.
        let below_axis_m = pipe.radius_m() - rig.gate_height_m;
        let lean_m =
            sqrt((pipe.radius_m() * pipe.radius_m() - below_axis_m * below_axis_m).max(0.0));
        let run_m = lean_m + rig.gate_corner_m + rig.toe_m;
        let goes_over = |pitch_rad: f64| {
            let acceleration = roller.acceleration_m_per_s2(pitch_rad, resistance);
            let speed = speed_after_run_m_per_s(acceleration, run_m);
            over_speed_m_per_s(&rig, roller).is_some_and(|over| speed >= over)
        };
        Some(Self {
            start_deg: deg(start_slope_rad(resistance)),
            hang_deg: deg(hang_rad.fold(0.0, f64::max)),
            jump_deg: jump.ok().map(deg),
            over_deg: goes_over(STEEPEST_RAD).then(|| deg(least((0.0, STEEPEST_RAD), goes_over))),
            sticks: spec.sticks.len(),
        })
    }

    /// Of a sweep's set-up, everything that varies at its middle; none where the sweep is not drawn
    /// against the pitch.
    pub fn of_sweep(sweep: &Sweep, set_up: usize) -> Option<Self> {
        if sweep.against != PITCH {
            return None;
        }
        let middle = *sweep.values.get(sweep.values.len() / 2)?;
        let variables = sweep.variables.iter();
        let numbers: Vec<f64> = variables.map(|variable| variable.middle(middle)).collect();
        let scenario = sweep.scenario(set_up, middle, &numbers).ok()?;
        Self::of(&scenario.line)
    }

    /// Pitches between which one stick is fed, by the closed forms.
    pub fn window_deg(&self) -> (f64, f64) {
        let high = [self.jump_deg, self.over_deg].into_iter().flatten();
        (
            self.start_deg.max(self.hang_deg),
            high.fold(deg(STEEPEST_RAD), f64::min),
        )
    }

    /// It in words, with what sets it apart from a simulated answer.
    pub fn messages(&self) -> Vec<Message> {
        let (low, high) = self.window_deg();
        let pitch = |pitch: Option<f64>| match pitch {
            Some(pitch) => Message::new("lab-degrees").measured("value", pitch, 1),
            None => Message::new("lab-none"),
        };
        let mut messages = vec![
            Message::new("lab-estimate")
                .measured("low", low, 1)
                .measured("high", high, 1),
            Message::new("lab-estimate-parts")
                .measured("start", self.start_deg, 1)
                .measured("hang", self.hang_deg, 1)
                .with("jump", pitch(self.jump_deg))
                .with("over", pitch(self.over_deg)),
            "lab-estimate-slip".into(),
        ];
        if self.sticks > 1 {
            messages.push(Message::new("lab-estimate-row").with("sticks", self.sticks));
        }
        if self.hang_deg > 0.0 {
            messages.push("lab-estimate-hang".into());
        }
        messages
    }
}
