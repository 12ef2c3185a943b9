//! How much is drawn: three levels, and how one is chosen.

use bevy::light::ShadowFilteringMethod;
use bevy::prelude::Resource;
use bevy::render::view::Msaa;
use serde::{Deserialize, Serialize};

/// A level of the picture. What trainees must read (stick ends, pins, arms, people, the zone) is the
/// same on all of them.
#[derive(
    Resource,
    Clone,
    Copy,
    Debug,
    Default,
    PartialEq,
    Eq,
    PartialOrd,
    Ord,
    Hash,
    Serialize,
    Deserialize,
)]
pub enum Quality {
    /// No shadows, no smoothing of edges: for machines without a graphics card.
    Low,
    #[default]
    Medium,
    High,
}

impl Quality {
    pub const ALL: [Self; 3] = [Self::Low, Self::Medium, Self::High];

    /// As on the command line and in the settings.
    pub fn code(self) -> &'static str {
        match self {
            Self::Low => "low",
            Self::Medium => "medium",
            Self::High => "high",
        }
    }

    pub fn of_code(code: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|quality| quality.code() == code)
    }

    /// The next lower one, or the lowest.
    pub fn lower(self) -> Self {
        match self {
            Self::High => Self::Medium,
            Self::Medium | Self::Low => Self::Low,
        }
    }

    /// Corners of a pipe.
    pub fn pipe_corners(self) -> u32 {
        match self {
            Self::Low => 24,
            Self::Medium => 36,
            Self::High => 96,
        }
    }

    /// Corners of a large round part of the machinery.
    pub fn corners(self) -> u32 {
        match self {
            Self::Low => 16,
            Self::Medium => 32,
            Self::High => 96,
        }
    }

    /// Shadow cascades and the width of their maps, pixels; none where there are no shadows.
    pub fn shadows(self) -> Option<(usize, usize)> {
        match self {
            Self::Low => None,
            Self::Medium => Some((2, 2048)),
            Self::High => Some((3, 4096)),
        }
    }

    /// How the edges of shadows are softened.
    pub fn shadow_filter(self) -> ShadowFilteringMethod {
        match self {
            Self::Low | Self::Medium => ShadowFilteringMethod::Hardware2x2,
            Self::High => ShadowFilteringMethod::Gaussian,
        }
    }

    /// How edges are smoothed.
    pub fn msaa(self) -> Msaa {
        match self {
            Self::Low => Msaa::Off,
            Self::Medium | Self::High => Msaa::Sample4,
        }
    }

    /// Width of a ground texture, pixels.
    pub fn texture_px(self) -> u32 {
        match self {
            Self::Low => 256,
            Self::Medium => 512,
            Self::High => 1024,
        }
    }
}
