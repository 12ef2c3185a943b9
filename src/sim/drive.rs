//! A hydraulic motion: finite rate, finite acceleration, finite force.

use crate::domain::spec::{Coupler, MotionFaults};

/// One motion along one stroke (or angle): pins, wheels, receiver arms.
///
/// The speed it reaches falls in a straight line with the load against it and is nothing at its
/// greatest force; there it stalls and holds (a check valve keeps it where it is).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Drive {
    /// Where it stands, from 0 to `stroke`, m or rad.
    position: f64,
    /// m/s or rad/s.
    speed: f64,
    stroke: f64,
    rated_speed: f64,
    acceleration: f64,
    slowness: f64,
    /// Greatest force or torque, N or N·m.
    force_max: f64,
    /// Load against the motion, smoothed, N or N·m.
    load: f64,
    /// How long it has been told to move and could not, s.
    stuck_s: f64,
}

/// Which way a drive is told to go.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Way {
    /// Towards 0.
    Back,
    Hold,
    /// Towards the full stroke.
    Out,
}

impl Way {
    /// -1 back, 0 hold, 1 out.
    fn sign(self) -> f64 {
        match self {
            Self::Back => -1.0,
            Self::Hold => 0.0,
            Self::Out => 1.0,
        }
    }

    fn reversed(self) -> Self {
        match self {
            Self::Back => Self::Out,
            Self::Hold => Self::Hold,
            Self::Out => Self::Back,
        }
    }
}

/// Time in which a drive reaches its rated speed, s (hose and valve response; an assumption).
const RESPONSE_S: f64 = 0.10;
/// Time constant of the load reading, s.
const LOAD_SMOOTHING_S: f64 = 0.02;
/// How long a drive must fail to move before it counts as stalled, s.
const STALL_S: f64 = 0.5;

impl Drive {
    /// `stroke` in `time_s` without load; `starts_out` says at which end it begins.
    pub fn new(stroke: f64, time_s: f64, force_max: f64, starts_out: bool) -> Self {
        // The time for a stroke holds the run-up and the run-down.
        let rated_speed = stroke / (time_s - RESPONSE_S).max(0.5 * time_s);
        Self {
            position: if starts_out { stroke } else { 0.0 },
            speed: 0.0,
            stroke,
            rated_speed,
            acceleration: rated_speed / RESPONSE_S,
            slowness: 1.0,
            force_max,
            load: 0.0,
            stuck_s: 0.0,
        }
    }

    /// One tick: `resisting` is the load that opposes an outward motion (negative helps it).
    pub fn tick(&mut self, way: Way, resisting: f64, dt_s: f64) {
        let direction = way.sign();
        self.load += (resisting - self.load) * (dt_s / LOAD_SMOOTHING_S).min(1.0);
        let left = (1.0 - (self.load * direction).max(0.0) / self.force_max).clamp(0.0, 1.0);
        let to_go = if direction >= 0.0 {
            self.stroke - self.position
        } else {
            self.position
        };
        let rated_speed = self.rated_speed / self.slowness;
        let acceleration = self.acceleration / self.slowness;
        // Slow down in time for the end of the stroke.
        let for_the_end = crate::domain::math::sqrt(2.0 * acceleration * to_go.max(0.0));
        let wanted = direction * (rated_speed * left).min(for_the_end);
        let change = acceleration * dt_s;
        self.speed += (wanted - self.speed).clamp(-change, change);
        if left == 0.0 && self.speed * direction > 0.0 {
            // The relief valve opens at once: the pressure never exceeds its setting.
            self.speed = 0.0;
        }
        self.position = (self.position + self.speed * dt_s).clamp(0.0, self.stroke);
        if self.at(way) {
            self.position = if direction > 0.0 { self.stroke } else { 0.0 };
            self.speed = 0.0;
        }
        let idle = direction == 0.0 || self.at(way);
        if idle || self.speed.abs() > 0.02 * rated_speed {
            self.stuck_s = 0.0;
        } else {
            self.stuck_s += dt_s;
        }
    }

    /// Whether it has reached the end it is told to go to. Never for [`Way::Hold`].
    pub fn at(&self, way: Way) -> bool {
        let close = 1.0e-4 * self.stroke;
        match way {
            Way::Back => self.position <= close,
            Way::Hold => false,
            Way::Out => self.position >= self.stroke - close,
        }
    }

    pub fn position(&self) -> f64 {
        self.position
    }

    /// Position as a fraction of the stroke.
    pub fn fraction(&self) -> f64 {
        self.position / self.stroke
    }

    pub fn speed(&self) -> f64 {
        self.speed
    }

    /// Told to move, but held by its load for longer than half a second.
    pub fn is_stalled(&self) -> bool {
        self.stuck_s > STALL_S
    }

    /// The same drive with its rod at `position`.
    pub fn standing_at(mut self, position: f64) -> Self {
        self.position = position.clamp(0.0, self.stroke);
        self
    }

    /// From now on it takes so many times its rated time for a stroke; 1 is sound.
    pub fn set_slowness(&mut self, slowness: f64) {
        self.slowness = slowness;
    }

    /// A leak: the load presses the rod in by `speed` for one tick, unless nothing loads it.
    pub fn leak(&mut self, speed: f64, dt_s: f64) {
        if self.load > 0.0 {
            self.position = (self.position - speed * dt_s).max(0.0);
        }
    }

    /// Load against an outward motion, as a fraction of the greatest force.
    pub fn load_fraction(&self) -> f64 {
        self.load / self.force_max
    }

    /// Starts a new stroke from 0 (a wheel after each notch).
    pub fn rewind(&mut self) {
        self.position = 0.0;
        self.speed = 0.0;
    }

    /// The numbers that make up its state, for the state hash.
    pub fn state(&self) -> [f64; 4] {
        [self.position, self.speed, self.load, self.stuck_s]
    }
}

/// A motion without end: rollers. It brakes when it is told nothing.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RateDrive {
    /// m/s.
    speed: f64,
    rated_speed: f64,
    slowness: f64,
    /// Greatest pull, N.
    force_max: f64,
    /// Pull of the load on the rollers in the positive direction, smoothed, N.
    load: f64,
    stuck_s: f64,
}

/// Time in which rollers reach their rated speed, s: gently, for what lies on them (ours).
const ROLLER_RESPONSE_S: f64 = 0.5;

impl RateDrive {
    pub fn new(rated_speed: f64, force_max: f64) -> Self {
        Self {
            speed: 0.0,
            rated_speed,
            slowness: 1.0,
            force_max,
            load: 0.0,
            stuck_s: 0.0,
        }
    }

    /// From now on it is so many times slower than rated; 1 is sound.
    pub fn set_slowness(&mut self, slowness: f64) {
        self.slowness = slowness;
    }

    /// One tick: `load` is the pull of what lies on the rollers, N; `creep` the speed at which a
    /// worn brake lets it go, m/s.
    pub fn tick(&mut self, way: Way, load: f64, creep: f64, dt_s: f64) {
        self.load += (load - self.load) * (dt_s / LOAD_SMOOTHING_S).min(1.0);
        let direction = way.sign();
        let against = (-self.load * direction).max(0.0);
        let left = (1.0 - against / self.force_max).clamp(0.0, 1.0);
        let rated_speed = self.rated_speed / self.slowness;
        // A braked roller gives way to more than its greatest force, and a worn one to any load.
        let slips = if self.load.abs() > self.force_max {
            rated_speed
        } else if self.load.abs() > 0.0 {
            creep
        } else {
            0.0
        };
        let wanted = if direction == 0.0 {
            slips * self.load.signum()
        } else {
            direction * rated_speed * left
        };
        let change = rated_speed / ROLLER_RESPONSE_S * dt_s;
        self.speed += (wanted - self.speed).clamp(-change, change);
        if direction == 0.0 || self.speed.abs() > 0.02 * rated_speed {
            self.stuck_s = 0.0;
        } else {
            self.stuck_s += dt_s;
        }
    }

    pub fn speed(&self) -> f64 {
        self.speed
    }

    /// Told to move, but held by its load for longer than half a second.
    pub fn is_stalled(&self) -> bool {
        self.stuck_s > STALL_S
    }

    /// The numbers that make up its state, for the state hash.
    pub fn state(&self) -> [f64; 3] {
        [self.speed, self.load, self.stuck_s]
    }
}

/// What is between a button and its drive: hoses and a valve, with what is wrong with them.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Valve {
    faults: MotionFaults,
    delay: Delay,
    /// How far air gives under the load now, m.
    gives_m: f64,
}

/// How many times slower a motion is through a half latched coupler (ours).
const HALF_LATCHED_SLOWNESS: f64 = 4.0;
/// How long air in a hose takes to be pressed together for each metre that it gives, s/m (ours).
const AIR_LATE_S_PER_M: f64 = 20.0;
/// Time in which it gives way to most of a new load, s (ours).
const AIR_GIVES_S: f64 = 0.5;

impl Valve {
    pub fn new(faults: MotionFaults) -> Self {
        let late_s = faults.sticks_s + AIR_LATE_S_PER_M * faults.air_m;
        Self {
            faults,
            delay: Delay::new(late_s, Way::Hold),
            gives_m: 0.0,
        }
    }

    /// What was wrong has been put right.
    pub fn mend(&mut self) {
        *self = Self::new(MotionFaults::default());
    }

    /// The cylinder begins to leak: it sinks under load by this much, m/s.
    pub fn begin_to_leak(&mut self, creep_m_per_s: f64) {
        self.faults.creep_m_per_s = creep_m_per_s;
    }

    /// How many times longer than its rated time a motion takes through it.
    pub fn slowness(&self) -> f64 {
        match self.faults.coupler {
            Coupler::Half => HALF_LATCHED_SLOWNESS * self.faults.slowness,
            Coupler::Latched | Coupler::Off => self.faults.slowness,
        }
    }

    /// One tick: which way the drive is told to go. Without power everything holds at once.
    pub fn tick(&mut self, asked: Way, powered: bool, dt_s: f64) -> Way {
        let asked = if self.faults.crossed {
            asked.reversed()
        } else {
            asked
        };
        let told = self.delay.tick(asked, dt_s);
        if powered && self.faults.coupler != Coupler::Off {
            told
        } else {
            Way::Hold
        }
    }

    /// How far air lets a rod give under a load, m: it takes its time.
    pub fn gives_m(&mut self, load_fraction: f64, dt_s: f64) -> f64 {
        let under_load_m = self.faults.air_m * load_fraction.clamp(0.0, 1.0);
        self.gives_m += (under_load_m - self.gives_m) * (dt_s / AIR_GIVES_S).min(1.0);
        self.gives_m
    }

    /// Speed at which its load moves it while it is held, m/s.
    pub fn creep_m_per_s(&self) -> f64 {
        self.faults.creep_m_per_s
    }

    /// The numbers that make up its state, for the state hash.
    pub fn state(&self) -> [f64; 4] {
        let [since, coming, arrived] = self.delay.state();
        [since, coming, arrived, self.gives_m]
    }
}

/// A command that reaches its drive late (a sticking valve).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Delay {
    late_s: f64,
    /// The command that is on its way, and for how long.
    coming: Way,
    since_s: f64,
    /// The command that has arrived.
    arrived: Way,
}

impl Delay {
    pub fn new(late_s: f64, way: Way) -> Self {
        Self {
            late_s,
            coming: way,
            since_s: 0.0,
            arrived: way,
        }
    }

    /// The command that has arrived last.
    pub fn arrived(&self) -> Way {
        self.arrived
    }

    /// One tick: takes the command given and returns the one that has arrived.
    pub fn tick(&mut self, way: Way, dt_s: f64) -> Way {
        if way != self.coming {
            self.coming = way;
            self.since_s = 0.0;
        }
        if self.since_s >= self.late_s {
            self.arrived = self.coming;
        }
        self.since_s += dt_s;
        self.arrived
    }

    /// The numbers that make up its state, for the state hash.
    pub fn state(&self) -> [f64; 3] {
        [
            self.since_s,
            f64::from(self.coming as u8),
            f64::from(self.arrived as u8),
        ]
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const DT_S: f64 = 1.0 / 240.0;

    fn time_out(resisting: f64) -> f64 {
        let mut drive = Drive::new(0.25, 0.6, 20_000.0, false);
        let mut ticks = 0;
        while !drive.at(Way::Out) && ticks < 24_000 {
            drive.tick(Way::Out, resisting, DT_S);
            ticks += 1;
        }
        f64::from(ticks) * DT_S
    }

    #[test]
    fn a_stroke_without_load_takes_its_rated_time() {
        let time = time_out(0.0);
        assert!((time - 0.6).abs() < 0.06, "took {time} s for 0.6 s");
    }

    #[test]
    fn half_the_greatest_force_takes_about_twice_as_long() {
        let ratio = time_out(10_000.0) / time_out(0.0);
        assert!((1.7..2.1).contains(&ratio), "ratio {ratio}");
    }

    #[test]
    fn a_late_command_arrives_after_its_time_and_a_punctual_one_at_once() {
        let mut punctual = Delay::new(0.0, Way::Hold);
        assert_eq!(punctual.tick(Way::Out, DT_S), Way::Out);
        let mut late = Delay::new(0.5, Way::Hold);
        let ticks = (0..480)
            .take_while(|_| late.tick(Way::Out, DT_S) == Way::Hold)
            .count();
        assert!((ticks as f64 * DT_S - 0.5).abs() <= DT_S, "{ticks} ticks");
    }

    #[test]
    fn over_its_greatest_force_it_stalls_and_holds() {
        let mut drive = Drive::new(0.25, 0.6, 20_000.0, false);
        for _ in 0..480 {
            drive.tick(Way::Out, 25_000.0, DT_S);
        }
        assert!(drive.is_stalled());
        let held = drive.position();
        for _ in 0..480 {
            drive.tick(Way::Hold, 25_000.0, DT_S);
        }
        assert_eq!(drive.position(), held);
        assert!(!drive.is_stalled());
    }
}
