//! Going on where somebody else has stopped.

use super::{Habits, Step, Worker};
use crate::sim::line::{Line, StickPlace};

impl Worker {
    /// Somebody with sound habits who takes the pendant over as the line stands.
    pub fn taking_over(line: &Line) -> Self {
        let step = |stick| match line.place(stick) {
            StickPlace::Released | StickPlace::Received => Some(Step::Receive(stick)),
            StickPlace::Seated => Some(Step::Raise(stick)),
            StickPlace::Clamped => Some(Step::Join(stick)),
            StickPlace::Held | StickPlace::Joined | StickPlace::Lost => None,
        };
        let mut worker = Self::new(Habits::SOUND);
        worker.go_to(line.present().find_map(step).unwrap_or(Step::Clear), line);
        worker.next_look_s = line.time_s();
        worker
    }
}
