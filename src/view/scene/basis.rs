//! What each part of the scene depends on: what stays the same is not built again.

use super::Built;
use super::site::Site;
use super::weather::{Sky, Weather};
use crate::domain::spec::{Duty, LineSpec, StickSpec, ZoneSpec};
use crate::view::quality::Quality;
use crate::view::yard::Yard;

/// See the module's text.
pub struct Basis {
    built: u64,
    sky: Option<Sky>,
    quality: Quality,
    weather: Weather,
    spec: LineSpec,
    duties: Vec<Duty>,
    site: Site,
}

impl Built {
    const ALL: [Self; 8] = [
        Self::Ground,
        Self::Water,
        Self::Dressing,
        Self::Shade,
        Self::Cones,
        Self::People,
        Self::Machinery,
        Self::Marks,
    ];
}

impl Basis {
    pub fn of(yard: &Yard, quality: Quality) -> Self {
        Self {
            built: yard.built(),
            sky: yard.sky,
            quality,
            weather: Weather::over(yard),
            spec: yard.spec().clone(),
            duties: yard.duties().to_vec(),
            site: Site::of(yard.rig()),
        }
    }

    pub fn site(&self) -> &Site {
        &self.site
    }

    /// Whether it is that of this yard, without looking closely.
    pub fn is_of(&self, yard: &Yard, quality: Quality) -> bool {
        self.built == yard.built() && self.sky == yard.sky && self.quality == quality
    }

    /// The parts that look otherwise than those built before.
    pub fn differs_from(&self, before: Option<&Self>) -> Vec<Built> {
        let differs = |&part: &Built| before.is_none_or(|before| !self.is_alike(before, part));
        Built::ALL.into_iter().filter(differs).collect()
    }

    fn is_alike(&self, other: &Self, part: Built) -> bool {
        let (one, two) = (&self.spec, &other.spec);
        let lies = |basis: &Self| {
            let (spec, weather) = (&basis.spec, basis.weather);
            (spec.hand, spec.ground, weather.wet, weather.frosty)
        };
        let same_ground = lies(self) == lies(other);
        let same_laid = || {
            let (one, two) = (&self.site, &other.site);
            (one.fence, &one.gravel, &one.tracks) == (two.fence, &two.gravel, &two.tracks)
        };
        let alike = match part {
            Built::Ground => same_ground && same_laid(),
            Built::Water => same_ground && same_laid() && self.weather == other.weather,
            Built::Dressing => {
                same_ground && self.site == other.site && one.pipe_of(0) == two.pipe_of(0)
            }
            Built::Shade => {
                same_ground
                    && self.weather == other.weather
                    && self.duties == other.duties
                    && is_steel_alike(one, two)
            }
            Built::Cones => same_ground && one.zone == two.zone && is_steel_alike(one, two),
            Built::People => self.duties == other.duties,
            Built::Machinery => is_steel_alike(one, two),
            Built::Marks => one == two,
        };
        alike && self.quality == other.quality
    }
}

/// Whether two lines have the same machinery: without the zone, the air, and how the row lies, which is
/// seen in the sticks' places.
fn is_steel_alike(one: &LineSpec, two: &LineSpec) -> bool {
    let lying = |stick: &StickSpec| StickSpec {
        long_axis_rad: 0.0,
        gap_m: 0.0,
        yaw_rad: 0.0,
        offset_m: 0.0,
        ..*stick
    };
    let steel = |spec: &LineSpec| LineSpec {
        zone: ZoneSpec::default(),
        weather: one.weather,
        contact: one.contact,
        sticks: spec.sticks.iter().map(lying).collect(),
        ..spec.clone()
    };
    steel(one) == steel(two)
}
