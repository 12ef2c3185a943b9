//! What made a recording: which program, on what kind of machine, and the bits that its core gives.

use std::sync::OnceLock;

use serde::{Deserialize, Serialize};

use crate::scenario;
use crate::sim::controls::{Button, Controls};
use crate::sim::line::Line;

/// A line on which the core shows its bits.
const PROBE: &str = include_str!("../../../assets/probe.ron");
/// For how long, ticks: until the first stick has met the receiver.
const PROBE_TICKS: u64 = 720;

/// See the module's text.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Maker {
    pub program: String,
    pub version: String,
    /// Operating system and processor.
    pub platform: String,
    /// The hash of a small line after some fixed ticks: where it is the same, so are the bits of the
    /// core, as far as that line shows it.
    pub probe: u64,
}

impl Maker {
    /// This program on this machine.
    pub fn here() -> Self {
        static PROBED: OnceLock<u64> = OnceLock::new();
        Self {
            program: env!("CARGO_PKG_NAME").to_owned(),
            version: env!("CARGO_PKG_VERSION").to_owned(),
            platform: format!("{} {}", std::env::consts::OS, std::env::consts::ARCH),
            probe: *PROBED.get_or_init(probe),
        }
    }
}

fn probe() -> u64 {
    // A text that is no scenario gives no bits at all, which are alike too; a test sees to it.
    let Ok(loaded) = scenario::parse("probe", PROBE) else {
        return 0;
    };
    let mut line = Line::build(&loaded.scenario.line_for(0));
    while line.tick_count() < PROBE_TICKS {
        line.tick(&Controls::held([Button::Feed]));
    }
    line.hash()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_probe_is_a_line_on_which_something_happens() {
        let loaded = scenario::parse("probe", PROBE).unwrap();
        let mut line = Line::build(&loaded.scenario.line_for(0));
        while line.tick_count() < PROBE_TICKS {
            line.tick(&Controls::held([Button::Feed]));
        }
        assert!(line.events().len() > 2, "{:?}", line.events());
        assert_eq!(Maker::here().probe, line.hash());
    }
}
