//! Real time to ticks: how many are due in a frame, how far the picture is between two of them, and
//! whether the simulation keeps up.

use std::collections::VecDeque;

use serde::{Deserialize, Serialize};

use super::mode::Mode;
use crate::sim::world::DT_S;

/// How fast the line's time runs against the clock on the wall.
#[derive(
    Clone, Copy, Debug, Default, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize,
)]
pub enum Speed {
    Tenth,
    Quarter,
    Half,
    #[default]
    Real,
    Double,
    Fourfold,
}

impl Speed {
    pub const ALL: [Self; 6] = [
        Self::Tenth,
        Self::Quarter,
        Self::Half,
        Self::Real,
        Self::Double,
        Self::Fourfold,
    ];

    pub fn factor(self) -> f64 {
        match self {
            Self::Tenth => 0.1,
            Self::Quarter => 0.25,
            Self::Half => 0.5,
            Self::Real => 1.0,
            Self::Double => 2.0,
            Self::Fourfold => 4.0,
        }
    }

    pub fn is_allowed(self, mode: Mode) -> bool {
        match self {
            Self::Tenth | Self::Quarter | Self::Half => mode.may_slow(),
            Self::Real => true,
            Self::Double | Self::Fourfold => mode.may_hasten(),
        }
    }

    /// The next slower one that a mode allows, or itself.
    pub fn slower(self, mode: Mode) -> Self {
        let slower = Self::ALL.into_iter().rev();
        let mut slower = slower.filter(|speed| *speed < self && speed.is_allowed(mode));
        slower.next().unwrap_or(self)
    }

    /// The next faster one that a mode allows, or itself.
    pub fn faster(self, mode: Mode) -> Self {
        let mut faster = Self::ALL
            .into_iter()
            .filter(|speed| *speed > self && speed.is_allowed(mode));
        faster.next().unwrap_or(self)
    }
}

/// Most wall time that the ticks of one frame may take, s. What is due beyond it is given up, so that a
/// slow machine shows a slow line and not ever longer frames.
const BUDGET_S: f64 = 0.025;
/// Over which wall time it is judged whether the simulation keeps up, s.
const WINDOW_S: f64 = 1.0;
/// More than this part of the ticks given up is behind.
const BEHIND: f64 = 0.02;
/// A frame longer than this was no frame: the program was held up, s.
const FRAME_MOST_S: f64 = 0.25;

/// One frame as it went.
#[derive(Clone, Copy, Debug)]
struct Frame {
    wall_s: f64,
    /// Ticks that were due in it and made in it.
    due: f64,
    made: f64,
}

/// See the module's text.
#[derive(Clone, Debug, Default)]
pub struct Clock {
    speed: Speed,
    paused: bool,
    /// Ticks that are due; between frames less than one.
    owed: f64,
    /// Single steps asked for.
    steps: u32,
    frame: Option<Frame>,
    /// The frames of the last second.
    past: VecDeque<Frame>,
}

impl Clock {
    pub fn speed(&self) -> Speed {
        self.speed
    }

    /// Sets the speed, as far as a mode allows it.
    pub fn set_speed(&mut self, speed: Speed, mode: Mode) {
        if speed.is_allowed(mode) {
            self.speed = speed;
        }
    }

    pub fn is_paused(&self) -> bool {
        self.paused
    }

    pub fn set_paused(&mut self, paused: bool) {
        self.paused = paused;
        self.steps = 0;
    }

    /// One tick more, while it is paused and where a mode allows it.
    pub fn step(&mut self, mode: Mode) {
        if self.paused && mode.may_slow() {
            self.steps += 1;
        }
    }

    /// Begins a frame that comes `wall_s` after the one before.
    pub fn begin(&mut self, wall_s: f64) {
        self.give_up_rest();
        let wall_s = if wall_s.is_finite() {
            wall_s.max(0.0)
        } else {
            0.0
        };
        let rate = self.speed.factor() / f64::from(DT_S);
        let due = if self.paused { 0.0 } else { wall_s * rate };
        self.owed += if self.paused {
            0.0
        } else {
            wall_s.min(FRAME_MOST_S) * rate
        };
        self.frame = Some(Frame {
            wall_s,
            due,
            made: 0.0,
        });
    }

    /// Whether one more tick is due in this frame, of which the ticks have taken `spent_s` so far. The
    /// caller makes it.
    pub fn is_due(&mut self, spent_s: f64) -> bool {
        if self.steps > 0 {
            self.steps -= 1;
            return true;
        }
        if self.paused || self.owed < 1.0 || spent_s >= BUDGET_S {
            return false;
        }
        self.owed -= 1.0;
        if let Some(frame) = &mut self.frame {
            frame.made += 1.0;
        }
        true
    }

    /// How far the picture is from the tick before the last to the last one, 0 to 1.
    pub fn share(&self) -> f32 {
        self.owed.min(1.0) as f32
    }

    /// Which part of the ticks that were due in the last second has been given up, 0 to 1.
    pub fn behind(&self) -> f64 {
        let due: f64 = self.past.iter().map(|frame| frame.due).sum();
        let made: f64 = self.past.iter().map(|frame| frame.made).sum();
        // The tick that is under way is not given up.
        if due > 1.0 {
            (1.0 - (made + 1.0) / due).clamp(0.0, 1.0)
        } else {
            0.0
        }
    }

    /// Whether the line is slower than it is said to be.
    pub fn is_behind(&self) -> bool {
        self.behind() > BEHIND
    }

    /// What was not made in the last frame is not made any more.
    fn give_up_rest(&mut self) {
        self.owed = self.owed.fract();
        self.past.extend(self.frame.take());
        let mut kept_s: f64 = self.past.iter().map(|frame| frame.wall_s).sum();
        while let Some(first) = self.past.front()
            && kept_s - first.wall_s >= WINDOW_S
        {
            kept_s -= first.wall_s;
            self.past.pop_front();
        }
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::{BUDGET_S, Clock, Speed};
    use crate::session::mode::Mode;

    /// Ticks of a frame on a machine that needs `tick_s` for each.
    fn frame(clock: &mut Clock, wall_s: f64, tick_s: f64) -> u32 {
        clock.begin(wall_s);
        let mut ticks = 0;
        while clock.is_due(f64::from(ticks) * tick_s) {
            ticks += 1;
        }
        ticks
    }

    proptest! {
        #[test]
        fn a_fast_machine_keeps_real_time(frames in prop::collection::vec(0.001..0.05_f64, 1..200)) {
            let mut clock = Clock::default();
            let ticks: u32 = frames.iter().map(|&wall_s| frame(&mut clock, wall_s, 1.0e-6)).sum();
            let wall_s: f64 = frames.iter().sum();
            let owed = wall_s * 240.0 - f64::from(ticks);
            prop_assert!((-1e-6..1.0 + 1e-6).contains(&owed), "{owed} ticks owed");
            prop_assert!((f64::from(clock.share()) - owed).abs() < 1e-3);
            clock.begin(0.0);
            prop_assert!(!clock.is_behind(), "{}", clock.behind());
        }

        #[test]
        fn whatever_the_frames_no_frame_takes_longer_than_its_budget(
            frames in prop::collection::vec(0.0..3.0_f64, 1..100),
            tick_s in 1e-5..0.02_f64,
            speed in 0..6_usize,
        ) {
            let mut clock = Clock::default();
            clock.set_speed(Speed::ALL[speed], Mode::Practice);
            for wall_s in frames {
                let spent_s = f64::from(frame(&mut clock, wall_s, tick_s)) * tick_s;
                prop_assert!(spent_s < BUDGET_S + tick_s + 1e-9);
                prop_assert!((0.0..=1.0).contains(&clock.share()));
                prop_assert!((0.0..=1.0).contains(&clock.behind()));
            }
        }
    }

    #[test]
    fn each_speed_gives_its_ticks() {
        for speed in Speed::ALL {
            let mut clock = Clock::default();
            clock.set_speed(speed, Mode::Demonstration);
            let ticks: u32 = (0..600).map(|_| frame(&mut clock, 1.0 / 60.0, 1e-6)).sum();
            let right = 2400.0 * speed.factor();
            assert!(
                (f64::from(ticks) - right).abs() <= 1.0,
                "{speed:?}: {ticks}"
            );
        }
    }

    #[test]
    fn a_slow_machine_is_told_how_slow_it_is_and_recovers() {
        let mut clock = Clock::default();
        // Four ticks are due in a frame and two of them fit.
        for _ in 0..120 {
            let ticks = frame(&mut clock, 1.0 / 60.0, BUDGET_S / 2.0);
            assert_eq!(ticks, 2);
        }
        assert!((clock.behind() - 0.5).abs() < 0.02, "{}", clock.behind());
        assert!(clock.is_behind());
        for _ in 0..62 {
            frame(&mut clock, 1.0 / 60.0, 1e-6);
        }
        assert!(!clock.is_behind(), "{}", clock.behind());
    }

    #[test]
    fn a_program_that_was_held_up_does_not_make_up_for_it() {
        let mut clock = Clock::default();
        assert!(frame(&mut clock, 3600.0, 1e-9) <= 60);
        clock.begin(1.0 / 60.0);
        assert!(clock.is_behind());
    }

    #[test]
    fn paused_it_goes_only_step_by_step() {
        let mut clock = Clock::default();
        frame(&mut clock, 0.010, 1e-6);
        let share = clock.share();
        clock.set_paused(true);
        assert_eq!(frame(&mut clock, 1.0, 1e-6), 0);
        clock.step(Mode::Practice);
        clock.step(Mode::Practice);
        assert_eq!(frame(&mut clock, 1.0, 1e-6), 2);
        assert_eq!(frame(&mut clock, 1.0, 1e-6), 0);
        clock.step(Mode::Assessed);
        assert_eq!(frame(&mut clock, 1.0, 1e-6), 0);
        assert_eq!(clock.share(), share);
        assert!(!clock.is_behind());
        clock.step(Mode::Practice);
        clock.set_paused(false);
        assert_eq!(
            frame(&mut clock, 0.0, 1e-6),
            0,
            "a step belongs to its pause"
        );
    }

    #[test]
    fn what_a_mode_forbids_is_not_set() {
        let mut clock = Clock::default();
        for speed in Speed::ALL {
            clock.set_speed(speed, Mode::Assessed);
            assert_eq!(clock.speed(), Speed::Real);
        }
        clock.set_speed(Speed::Double, Mode::Guided);
        assert_eq!(clock.speed(), Speed::Real);
        clock.set_speed(Speed::Tenth, Mode::Guided);
        assert_eq!(clock.speed(), Speed::Tenth);
        assert_eq!(Speed::Real.slower(Mode::Practice), Speed::Half);
        assert_eq!(Speed::Tenth.slower(Mode::Practice), Speed::Tenth);
        assert_eq!(Speed::Real.faster(Mode::Practice), Speed::Double);
        assert_eq!(Speed::Real.faster(Mode::Guided), Speed::Real);
        assert_eq!(Speed::Half.faster(Mode::Guided), Speed::Real);
    }

    #[test]
    fn odd_frame_times_do_no_harm() {
        let mut clock = Clock::default();
        for wall_s in [f64::NAN, f64::INFINITY, -1.0, 0.0] {
            assert_eq!(frame(&mut clock, wall_s, 1e-6), 0);
        }
    }
}
