//! How a run is made: four modes and the warm-up, and what each allows.

pub use crate::evidence::Mode;
use crate::texts::Message;

impl Mode {
    pub const ALL: [Self; 5] = [
        Self::Guided,
        Self::Practice,
        Self::Assessed,
        Self::Demonstration,
        Self::WarmUp,
    ];

    /// Its word in the records.
    pub fn word(self) -> &'static str {
        match self {
            Self::Guided => "guided",
            Self::Practice => "practice",
            Self::Assessed => "assessed",
            Self::Demonstration => "demonstration",
            Self::WarmUp => "warmup",
        }
    }

    /// Its name.
    pub fn said(self) -> Message {
        Message::new(match self {
            Self::Guided => "mode-guided",
            Self::Practice => "mode-practice",
            Self::Assessed => "mode-assessed",
            Self::Demonstration => "mode-demonstration",
            Self::WarmUp => "mode-warm-up",
        })
    }

    /// What it is, in a sentence.
    pub fn means(self) -> Message {
        Message::new(match self {
            Self::Guided => "mode-guided-means",
            Self::Practice => "mode-practice-means",
            Self::Assessed => "mode-assessed-means",
            Self::Demonstration => "mode-demonstration-means",
            Self::WarmUp => "mode-warm-up-means",
        })
    }

    /// A coach says the next step without being asked.
    pub fn has_coach(self) -> bool {
        self == Self::Guided
    }

    /// The coach answers when asked.
    pub fn has_help(self) -> bool {
        matches!(self, Self::Guided | Self::Practice)
    }

    /// Live read-outs of what no operator could read.
    pub fn has_instruments(self) -> bool {
        matches!(self, Self::Practice | Self::Demonstration)
    }

    /// The state of the zone is told.
    pub fn tells_zone(self) -> bool {
        self != Self::Assessed
    }

    /// The run can be taken back to any moment.
    pub fn may_rewind(self) -> bool {
        self == Self::Practice
    }

    /// Whoever watches can take the pendant over.
    pub fn may_take_over(self) -> bool {
        self == Self::Demonstration
    }

    /// An instructor may bring things about.
    pub fn may_upset(self) -> bool {
        matches!(self, Self::Practice | Self::Demonstration)
    }

    /// A pause is a break: the picture is covered, and the break is put down in the result.
    pub fn pause_is_break(self) -> bool {
        self == Self::Assessed
    }

    /// Slow motion and single steps.
    pub fn may_slow(self) -> bool {
        self != Self::Assessed
    }

    /// Faster than real time.
    pub fn may_hasten(self) -> bool {
        matches!(self, Self::Practice | Self::Demonstration)
    }

    /// Cameras where nobody could stand.
    pub fn has_cameras_anywhere(self) -> bool {
        self != Self::Assessed
    }

    /// The pendant's arrows are shown as the camera sees the motions.
    pub fn arrows_follow_camera(self) -> bool {
        matches!(self, Self::Guided | Self::WarmUp)
    }

    /// Its results stand on the trainer's table.
    pub fn counts(self) -> bool {
        self == Self::Assessed
    }
}

#[cfg(test)]
mod tests {
    use super::Mode;

    #[test]
    fn an_assessment_gives_only_what_a_real_operator_has() {
        let mode = Mode::Assessed;
        assert!(!mode.has_coach() && !mode.has_help() && !mode.has_instruments());
        assert!(!mode.tells_zone() && !mode.may_rewind() && !mode.may_take_over());
        assert!(!mode.may_slow() && !mode.may_hasten() && !mode.may_upset());
        assert!(!mode.has_cameras_anywhere() && !mode.arrows_follow_camera());
        assert!(mode.pause_is_break() && mode.counts());
    }

    #[test]
    fn nothing_else_counts() {
        let counting: Vec<Mode> = Mode::ALL.into_iter().filter(|mode| mode.counts()).collect();
        assert_eq!(counting, [Mode::Assessed]);
    }
}
