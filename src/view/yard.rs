//! The line that is shown, as the scene, the cameras and the overlays read it.

use bevy::prelude::Resource;

use super::scene::weather::Sky;
use super::shown::Shown;
use crate::domain::rig::Rig;
use crate::domain::spec::{Duty, FaultSpec, LineSpec};
use crate::sim::line::Line;

/// See the module's text.
#[derive(Resource)]
pub struct Yard {
    /// The line as set out.
    rig: Rig,
    /// What is seen now, put between two ticks.
    pub shown: Shown,
    /// Seconds of the line's time that this picture is after the last one: 0 while it is held, and
    /// after a jump. Rollers and wheels turn on by it.
    pub passed_s: f32,
    /// A sky that is asked for instead of the one that the line's description gives.
    pub sky: Option<Sky>,
    /// Who is on the site: the instructor may let somebody in.
    duties: Vec<Duty>,
    /// Counts up when the line is another one, so that the scene is built anew.
    built: u64,
}

impl Yard {
    pub fn new(line: &Line) -> Self {
        let shown = Shown::of(line);
        Self {
            rig: with_faults(line.rig(), shown.faults),
            duties: duties(&shown),
            shown,
            passed_s: 0.0,
            sky: None,
            built: 1,
        }
    }

    /// Shows another line, or the same set out anew. What is built for a line of the same description
    /// stays.
    pub fn show(&mut self, line: &Line) {
        let next = Self::new(line);
        let same = stands_as(next.spec()) == stands_as(self.spec()) && next.duties == self.duties;
        *self = Self {
            sky: self.sky,
            built: self.built + u64::from(!same),
            ..next
        };
    }

    /// Takes over what has been repaired since, or what was still wrong at an earlier moment, and who is
    /// on the site.
    pub fn keep_up(&mut self) {
        let duties = duties(&self.shown);
        if duties != self.duties {
            self.duties = duties;
            self.built += 1;
        }
        if self.shown.faults != self.spec().faults {
            self.rig = with_faults(&self.rig, self.shown.faults);
            self.built += 1;
        }
    }

    pub fn rig(&self) -> &Rig {
        &self.rig
    }

    pub fn spec(&self) -> &LineSpec {
        self.rig.spec()
    }

    /// What those are there for who are on the site, by their ids.
    pub fn duties(&self) -> &[Duty] {
        &self.duties
    }

    /// Which line this is: whoever builds something for it keeps this number beside it.
    pub fn built(&self) -> u64 {
        self.built
    }
}

fn duties(shown: &Shown) -> Vec<Duty> {
    shown.people.iter().map(|person| person.duty).collect()
}

fn with_faults(rig: &Rig, faults: FaultSpec) -> Rig {
    if rig.spec().faults == faults {
        return rig.clone();
    }
    Rig::new(&LineSpec {
        faults,
        ..rig.spec().clone()
    })
}

/// A description without what moves while a line runs: rails give way under a load.
fn stands_as(spec: &LineSpec) -> LineSpec {
    let mut spec = spec.clone();
    spec.rack.near_rail.pitch_rad = 0.0;
    spec.rack.far_rail.pitch_rad = 0.0;
    spec
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::operator::member;
    use crate::scenario;

    fn line() -> Line {
        let text = include_str!("../../scenarios/full-rack.ron");
        let loaded = scenario::parse("full-rack.ron", text).expect("it is sound");
        Line::build(&loaded.scenario.line_for(loaded.scenario.seed))
    }

    #[test]
    fn a_line_that_runs_stays_the_same_line() {
        let mut line = line();
        let mut operator = member("expert").expect("there is one").operator();
        let mut yard = Yard::new(&line);
        for _ in 0..480 {
            let controls = operator.controls(&line);
            line.tick(&controls);
            yard.show(&line);
            yard.keep_up();
            assert_eq!(yard.built(), 1);
        }
        assert_eq!(yard.spec().rack, line.rig().spec().rack);
    }

    #[test]
    fn what_is_repaired_is_built_anew_once() {
        let line = line();
        let mut yard = Yard::new(&line);
        yard.shown.faults.roller_seized = true;
        yard.keep_up();
        assert_eq!(yard.built(), 2);
        yard.keep_up();
        assert_eq!(yard.built(), 2);
        // The line itself has a sound one.
        for _ in 0..3 {
            yard.show(&line);
            yard.keep_up();
        }
        assert_eq!(yard.built(), 3);
    }
}
