//! The line that is shown, as the scene, the cameras and the overlays read it.

use bevy::prelude::Resource;

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
    /// Counts up when the line is another one, so that the scene is built anew.
    built: u64,
}

impl Yard {
    pub fn new(line: &Line) -> Self {
        Self {
            rig: line.rig().clone(),
            shown: Shown::of(line),
            passed_s: 0.0,
            built: 1,
        }
    }

    /// Shows another line, or the same set out anew.
    pub fn show(&mut self, line: &Line) {
        let built = self.built + 1;
        *self = Self {
            built,
            ..Self::new(line)
        };
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
