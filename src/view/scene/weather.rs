//! What the day is like: read from a line's description, and what follows for light and haze.

use bevy::pbr::{DistanceFog, FogFalloff};
use bevy::prelude::*;

use crate::domain::spec::{LineSpec, Surface};
use crate::view::theme::yard::{self as colours, SkyColours};
use crate::view::yard::Yard;

/// The sky over the yard.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Sky {
    /// A dry late morning.
    Morning,
    /// Wet: clouds all over.
    Overcast,
    /// A cold clear morning.
    Frost,
    /// The end of a shift: a low sun.
    Dusk,
    /// Before the shift: the title's picture.
    FirstLight,
}

/// What the day is like.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Weather {
    pub sky: Sky,
    /// The ground is wet, with puddles.
    pub wet: bool,
    /// Frost lies on it.
    pub frosty: bool,
}

/// Light and air of a sky.
#[derive(Clone, Copy, Debug)]
pub struct Air {
    pub colours: SkyColours,
    /// Height of the sun over the horizon, and where it stands from +x towards +z on a right-handed
    /// line, rad.
    pub sun_height_rad: f32,
    pub sun_bearing_rad: f32,
    /// Light of the sun on a face square to it, lx, as the cameras' exposure takes it.
    pub sun_lux: f32,
    /// Brightness of the sky as a light from all around, cd/m².
    pub fill_cd_per_m2: f32,
    /// How much of the sky is under cloud, 0 to 1.
    pub cloud: f32,
    /// Where the haze has taken all but a twentieth, m.
    pub sight_m: f32,
}

impl Sky {
    pub fn air(self) -> Air {
        let air = |colours, height_deg: f32, bearing_deg: f32, sun_lux, fill, cloud, sight_m| Air {
            colours,
            sun_height_rad: height_deg.to_radians(),
            sun_bearing_rad: bearing_deg.to_radians(),
            sun_lux,
            fill_cd_per_m2: fill,
            cloud,
            sight_m,
        };
        match self {
            Self::Morning => air(colours::MORNING, 36.0, 28.0, 11_500.0, 1000.0, 0.36, 900.0),
            Self::Overcast => air(colours::OVERCAST, 48.0, 28.0, 1900.0, 1450.0, 0.95, 420.0),
            Self::Frost => air(colours::FROST, 20.0, 22.0, 8500.0, 1000.0, 0.22, 520.0),
            Self::Dusk => air(colours::DUSK, 10.0, 34.0, 9000.0, 900.0, 0.45, 620.0),
            Self::FirstLight => air(
                colours::FIRST_LIGHT,
                9.0,
                162.0,
                9500.0,
                1000.0,
                0.40,
                460.0,
            ),
        }
    }
}

impl Weather {
    /// The day of a line: frost where it freezes or a surface carries frost, wet where one is wet.
    pub fn of(spec: &LineSpec) -> Self {
        let surfaces = [
            spec.rack.near_rail.surface,
            spec.rack.far_rail.surface,
            spec.cradles.surface,
        ];
        let any = |surface: Surface| surfaces.contains(&surface);
        let frosty = spec.weather.temperature_c <= 0.0 || any(Surface::Frosted);
        let wet = !frosty && any(Surface::Wet);
        let sky = match (frosty, wet) {
            (true, _) => Sky::Frost,
            (_, true) => Sky::Overcast,
            _ => Sky::Morning,
        };
        Self { sky, wet, frosty }
    }

    /// Over a yard: under the sky that is asked for, if there is one.
    pub fn over(yard: &Yard) -> Self {
        let day = Self::of(yard.spec());
        Self {
            sky: yard.sky.unwrap_or(day.sky),
            ..day
        }
    }

    pub fn air(self) -> Air {
        self.sky.air()
    }
}

impl Air {
    /// Towards the sun, in the world.
    pub fn towards_sun(&self, mirror: f32) -> Vec3 {
        let (sin, cos) = self.sun_height_rad.sin_cos();
        let (z, x) = self.sun_bearing_rad.sin_cos();
        Vec3::new(mirror * cos * x, sin, cos * z)
    }
}

/// How much brighter the sky's colours are drawn than they are given: the cameras' tone curve takes
/// that off again.
pub const SKY_GAIN: f32 = 1.4;

/// A colour of the sky as it is drawn.
pub fn drawn(colour: Color) -> Color {
    Color::LinearRgba(colour.to_linear() * SKY_GAIN)
}

/// The haze that a camera sees.
pub fn haze(weather: Weather) -> DistanceFog {
    let air = weather.air();
    DistanceFog {
        color: drawn(air.colours.horizon),
        directional_light_color: Color::NONE,
        directional_light_exponent: 1.0,
        falloff: FogFalloff::from_visibility_squared(air.sight_m),
    }
}

/// What is behind everything.
pub fn clear_colour(weather: Weather) -> Color {
    drawn(weather.air().colours.horizon)
}
