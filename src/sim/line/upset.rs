//! What an instructor brings about while the line runs.

use super::Line;
use super::senses::EventKind;
use super::watch::ZoneWatch;
use crate::domain::crew;
use crate::domain::math::sin;
use crate::domain::spec::Motion;
use crate::sim::Vector;
use crate::sim::controls::Upset;

/// How many visitors there are at most.
const VISITORS: usize = 3;
/// For how long the spotter says stop, s (ours).
const STOP_S: f64 = 8.0;
/// A leaking cylinder sinks by this much under load, m/s (ours): it is seen within seconds.
const CREEP_M_PER_S: f64 = 0.008;
/// The greatest part of a gust on top of the wind, m/s (ours): a near gale on the Beaufort scale, 13.9 to
/// 17.1 m/s (WMO, from memory).
const GUST_M_PER_S: f64 = 15.0;
/// How long a gust takes to come and go, s (ours).
const GUST_S: f64 = 6.0;

/// What has been brought about and goes on.
#[derive(Clone, Debug, Default)]
pub struct Upsets {
    /// Of the last tick.
    last: Option<Upset>,
    visitors: usize,
    /// When the gust began, s, and the wind before it.
    gust: Option<(f64, Vector)>,
}

impl Upsets {
    /// The numbers that make up its state, for the state hash.
    pub fn state(&self) -> [f64; 3] {
        let is_last = |upset: &Upset| self.last == Some(*upset);
        let last = Upset::ALL.iter().position(is_last);
        [
            last.map_or(0.0, |last| last as f64 + 1.0),
            self.visitors as f64,
            self.gust.map_or(-1.0, |(since_s, _)| since_s),
        ]
    }
}

impl Line {
    /// Brings about what is to come in this tick.
    pub(super) fn upset(&mut self, upset: Option<Upset>) {
        let comes = upset.filter(|_| upset != self.upsets.last);
        self.upsets.last = upset;
        if let Some(upset) = comes.filter(|upset| self.may_upset(*upset)) {
            self.bring_about(upset);
            self.senses
                .tell(self.world.tick(), EventKind::Upset { upset });
        }
        self.blow();
    }

    /// Whether something can be brought about now: a radio that there is not cannot die.
    pub fn may_upset(&self, upset: Upset) -> bool {
        let faults = &self.rig.spec().faults;
        match upset {
            Upset::Visitor => self.upsets.visitors < VISITORS,
            Upset::StopCalled | Upset::RadioDies => self.people.spotter_answers(),
            Upset::Gust => self.upsets.gust.is_none(),
            Upset::LiftCreeps(end) => faults.motion(Motion::lift(end)).creep_m_per_s == 0.0,
            Upset::PowerFails => faults.power_fails_s.is_none_or(|at_s| at_s > self.time_s()),
        }
    }

    fn bring_about(&mut self, upset: Upset) {
        let now_s = self.time_s();
        match upset {
            Upset::Visitor => self.let_in(now_s),
            Upset::StopCalled => self.people.call_stop_until(now_s + STOP_S),
            Upset::Gust => {
                self.upsets.gust = Some((now_s, self.world.settings().wind_m_per_s));
            }
            Upset::LiftCreeps(end) => {
                self.cradles.begin_to_leak(end, CREEP_M_PER_S);
                self.rig.spoil(|faults| {
                    faults.motion_mut(Motion::lift(end)).creep_m_per_s = CREEP_M_PER_S;
                });
            }
            Upset::RadioDies => {
                self.people.radio_dies();
                self.rig.spoil(|faults| faults.radio_dead = true);
            }
            Upset::PowerFails => {
                self.rig.spoil(|faults| faults.power_fails_s = Some(now_s));
            }
        }
    }

    fn let_in(&mut self, now_s: f64) {
        self.upsets.visitors += 1;
        let visitor = crew::visitor(&self.rig, now_s);
        self.people.admit(&visitor);
        let people = self.people.iter().len();
        match &mut self.watch {
            Some(watch) => watch.admit(),
            None => self.watch = ZoneWatch::new(&self.rig, people),
        }
    }

    /// A gust comes and goes, with the wind, or in a calm towards the outer side.
    fn blow(&mut self) {
        let Some((since_s, wind)) = self.upsets.gust else {
            return;
        };
        let part = (self.time_s() - since_s) / GUST_S;
        if part >= 1.0 {
            self.upsets.gust = None;
            self.world.set_wind_m_per_s(wind);
            return;
        }
        let out = Vector::X * self.rig.mirror() as f32;
        let rise = sin(core::f64::consts::PI * part);
        let gust = GUST_M_PER_S * rise * rise;
        let towards = wind.try_normalize().unwrap_or(out);
        self.world.set_wind_m_per_s(wind + towards * gust as f32);
    }
}
