//! The line that is shown, as the scene, the cameras and the overlays read it.

use bevy::prelude::Resource;

use super::scene::weather::Sky;
use super::shown::Shown;
use crate::domain::rig::Rig;
use crate::domain::spec::LineSpec;
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
    /// Counts up when the line is another one, so that the scene is built anew.
    built: u64,
}

impl Yard {
    pub fn new(line: &Line) -> Self {
        Self {
            rig: line.rig().clone(),
            shown: Shown::of(line),
            passed_s: 0.0,
            sky: None,
            built: 1,
        }
    }

    /// Shows another line, or the same set out anew. What is built for a line of the same description
    /// stays.
    pub fn show(&mut self, line: &Line) {
        let same = line.rig().spec() == self.spec();
        *self = Self {
            sky: self.sky,
            built: self.built + u64::from(!same),
            ..Self::new(line)
        };
    }

    /// Takes over what has been repaired since, or what was still wrong at an earlier moment.
    pub fn keep_up(&mut self) {
        let faults = self.shown.faults;
        if faults != self.spec().faults {
            let spec = LineSpec {
                faults,
                ..self.spec().clone()
            };
            self.rig = Rig::new(&spec);
            self.built += 1;
        }
    }

    pub fn rig(&self) -> &Rig {
        &self.rig
    }

    pub fn spec(&self) -> &LineSpec {
        self.rig.spec()
    }

    /// Which line this is: whoever builds something for it keeps this number beside it.
    pub fn built(&self) -> u64 {
        self.built
    }
}
