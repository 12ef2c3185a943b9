//! Marks fade in and out with their materials. What has just been built is there at once, and so is
//! everything where motion shall be reduced.

use bevy::prelude::*;

/// How long a mark takes to fade in or out, s.
const FADE_S: f32 = 0.3;

/// Whether marks come and go at once.
#[derive(Resource, Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct AtOnce(pub bool);

/// On a mark, or on the parent of several that share a material.
#[derive(Component)]
pub struct Fades {
    /// It is to be seen.
    pub wanted: bool,
    /// How opaque it is when it is wholly there.
    pub opacity: f32,
    material: Handle<StandardMaterial>,
    /// How much of it is there, 0 to 1; nothing yet where it has just been built.
    share: Option<f32>,
    drawn: f32,
}

impl Fades {
    /// With a material of its own, wholly there as it is given.
    pub fn new(material: Handle<StandardMaterial>, opacity: f32) -> Self {
        Self {
            wanted: false,
            opacity,
            material,
            share: None,
            drawn: opacity,
        }
    }

    /// Whether anything of it is seen, now or soon.
    pub fn is_seen(&self) -> bool {
        self.wanted || self.share.is_some_and(|share| share > 0.0)
    }

    /// On by a time; its opacity now.
    fn step(&mut self, passed_s: f32) -> f32 {
        let goal = f32::from(u8::from(self.wanted));
        let most = passed_s / FADE_S;
        let share = self
            .share
            .map_or(goal, |share| share + (goal - share).clamp(-most, most));
        self.share = Some(share);
        self.opacity * share * share * (3.0 - 2.0 * share)
    }
}

pub fn fade(
    time: Res<Time<Real>>,
    at_once: Res<AtOnce>,
    mut marks: Query<(&mut Fades, &mut Visibility)>,
    mut materials: ResMut<Assets<StandardMaterial>>,
) {
    let passed_s = if at_once.0 {
        f32::INFINITY
    } else {
        time.delta_secs()
    };
    for (mut mark, mut visibility) in &mut marks {
        let mark = mark.bypass_change_detection();
        let opacity = mark.step(passed_s);
        visibility.set_if_neq(super::seen(opacity > 0.0));
        if opacity > 0.0
            && mark.drawn != opacity
            && let Some(mut material) = materials.get_mut(&mark.material)
        {
            material.base_color.set_alpha(opacity);
            mark.drawn = opacity;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_mark_comes_and_goes_in_its_time() {
        let mut mark = Fades::new(Handle::default(), 0.5);
        assert!(mark.step(0.0) == 0.0 && !mark.is_seen());
        mark.wanted = true;
        let half = mark.step(0.5 * FADE_S);
        assert!((half - 0.25).abs() < 1.0e-4);
        assert_eq!(mark.step(FADE_S), 0.5);
        mark.wanted = false;
        assert!(mark.step(0.5 * FADE_S) > 0.0 && mark.is_seen());
        assert!(mark.step(f32::INFINITY) == 0.0 && !mark.is_seen());
    }

    #[test]
    fn what_is_built_anew_is_there() {
        let mut mark = Fades::new(Handle::default(), 0.5);
        mark.wanted = true;
        assert_eq!(mark.step(0.0), 0.5);
    }
}
