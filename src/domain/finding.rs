//! What a run is judged by: the kinds of findings and how grave they are.

use serde::{Deserialize, Serialize};

/// How grave a finding is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
pub enum Severity {
    Minor,
    Major,
    /// The run fails.
    Critical,
}

macro_rules! kinds {
    ($($(#[doc = $doc:literal])+ $kind:ident = $id:literal, $severity:ident;)*) => {
        /// Something that should not have happened. What each is, why it matters, what is right and
        /// where the rule comes from stands in the catalogue under its id.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
        pub enum FindingKind {
            $($(#[doc = $doc])+ $kind,)*
        }

        impl FindingKind {
            pub const ALL: &[Self] = &[$(Self::$kind),*];
            /// Their names in scenario files.
            pub const WORDS: &[&str] = &[$(stringify!($kind)),*];

            /// Its name on the command line, and of its entries in the catalogue.
            pub fn id(self) -> &'static str {
                match self {
                    $(Self::$kind => $id,)*
                }
            }

            pub fn severity(self) -> Severity {
                match self {
                    $(Self::$kind => Severity::$severity,)*
                }
            }
        }
    };
}

kinds! {
    /// Somebody was struck.
    Struck = "struck", Critical;
    /// More sticks than one came through in one cycle, or one went over a closed gate.
    DoubleFeed = "double-feed", Critical;
    /// A stick rolled off the line.
    RollOff = "roll-off", Critical;
    /// A stick fell: from the forks, or on to the receiver or the cradles.
    Dropped = "dropped", Critical;
    /// Somebody was under a raised stick.
    UnderStick = "under-stick", Critical;
    /// A stick was levered from below.
    FromBelow = "from-below", Critical;

    /// Somebody was in the zone while a stick could move, for longer than it takes to stop.
    InZone = "in-zone", Major;
    /// Fed with no zone, or one that does not reach round where a loose stick can come to.
    ZoneInadequate = "zone-inadequate", Major;
    /// Fed from a rack whose pitch is outside the trade's.
    PitchOutside = "pitch-outside", Major;
    /// The rack carried more than its plate allows.
    RackOverloaded = "rack-overloaded", Major;
    /// Fed with the escapement set for another size.
    WrongSetting = "wrong-setting", Major;
    /// A jack was cranked with pipe on the rack.
    JackUnderLoad = "jack-under-load", Major;
    /// Pipe was fed with a motion that goes against its arrow.
    CrossedAccepted = "crossed-accepted", Major;
    /// Pipe was fed with a fault that a walk-round finds.
    FaultMissed = "fault-missed", Major;
    /// Fed while the receiver was not up and empty.
    FedUnready = "fed-unready", Major;
    /// Feed was let go while the stick was still over the gate.
    LetGoEarly = "let-go-early", Major;
    /// The stop of the spotter was not heeded.
    StopUnheeded = "stop-unheeded", Major;
    /// Powered motion went on to the harm that the emergency stop would have prevented.
    StopLate = "stop-late", Major;
    /// A stick lay on the lifts with more lengthwise tilt than is allowed.
    LiftTilt = "lift-tilt", Major;
    /// Handed over with the outsides further apart than is allowed.
    HighLow = "high-low", Major;
    /// The jaws were opened before the joint was made.
    JointRushed = "joint-rushed", Major;
    /// The loader set a stick down on a row without chocks.
    LoadedUnchocked = "loaded-unchocked", Major;
    /// The line was left with a stick that could move.
    LeftLive = "left-live", Major;

    /// A stick came into the receiver or the cradles fast.
    HardSeat = "hard-seat", Minor;
    /// A stick came down on the row hard.
    RoughLanding = "rough-landing", Minor;
    /// The long axis of an oval stick was not upright at hand-over.
    LongAxisOff = "long-axis-off", Minor;
    /// The gap to the string was off at hand-over.
    GapOff = "gap-off", Minor;
    /// The horn was not sounded before a feed.
    NoHorn = "no-horn", Minor;
    /// A motion was held that could not move.
    NeedlessMotion = "needless-motion", Minor;
    /// A stick took longer from the rack to the jaws than it may.
    SlowCycle = "slow-cycle", Minor;
}

/// How a scenario is scored.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Scoring {
    /// Least score that passes, of 100.
    pub pass_mark: f64,
    /// What a finding costs by its severity; a critical one fails the run whatever it costs.
    pub critical_points: f64,
    pub major_points: f64,
    pub minor_points: f64,
    /// What single kinds cost instead.
    pub own: Vec<(FindingKind, f64)>,
    /// Longest time from the feed to the jaws, s.
    pub handling_time_s: f64,
}

impl Scoring {
    /// What a finding of a kind costs.
    pub fn points(&self, kind: FindingKind) -> f64 {
        let own = self.own.iter().find(|(own, _)| *own == kind);
        own.map_or(
            match kind.severity() {
                Severity::Critical => self.critical_points,
                Severity::Major => self.major_points,
                Severity::Minor => self.minor_points,
            },
            |(_, points)| *points,
        )
    }
}
