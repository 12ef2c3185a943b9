//! A stick in a V: what holds it there, across the line and along it.

use super::error::{DomainError, in_range};
use super::math::{GRAVITY_M_PER_S2, PI, asin, atan, cos, sin, sqrt, tan};
use super::rolling::Roller;

/// A V of two faces, each by its slope above the level. A symmetric V of included angle 2γ has
/// faces of a quarter turn less γ.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct VCradle {
    /// Slope of the face on the rack's side, down which a stick enters, rad.
    pub rack_face_rad: f64,
    /// Slope of the face away from the rack, over which an over-shot stick leaves, rad.
    pub outer_face_rad: f64,
}

/// Forces of the two faces on a stick, N. A negative one means that the stick rolls out over the
/// other face.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FaceForces {
    /// Of the face on the rack's side.
    pub rack_face_n: f64,
    /// Of the face away from the rack.
    pub outer_face_n: f64,
}

impl VCradle {
    /// A V of two faces of 1 to 80° each.
    pub fn new(rack_face_rad: f64, outer_face_rad: f64) -> Result<Self, DomainError> {
        let allowed = PI / 180.0..=80.0 * PI / 180.0;
        let remedy = "give each face's slope above the level; a 120° V has two of 30°";
        in_range("rack face", rack_face_rad, allowed.clone(), "rad", remedy)?;
        in_range("outer face", outer_face_rad, allowed, "rad", remedy)?;
        Ok(Self {
            rack_face_rad,
            outer_face_rad,
        })
    }

    /// A symmetric V by its included angle, 20 to 178°.
    pub fn symmetric(included_angle_rad: f64) -> Result<Self, DomainError> {
        let face_rad = (PI - included_angle_rad) / 2.0;
        Self::new(face_rad, face_rad)
    }

    /// The V that two tips or rollers `spacing_m` apart make for a stick: β_f = asin(w/2R)
    /// (geometry, derived).
    pub fn from_tips(spacing_m: f64, radius_m: f64) -> Result<Self, DomainError> {
        in_range(
            "tip spacing",
            spacing_m,
            0.0..=2.0 * radius_m,
            "m",
            "tips as far apart as the stick is thick let it through",
        )?;
        let face_rad = asin(spacing_m / (2.0 * radius_m));
        Self::new(face_rad, face_rad)
    }

    /// The same V on a column that leans by `lean_rad` away from the rack.
    pub fn leaning(self, lean_rad: f64) -> Self {
        Self {
            rack_face_rad: self.rack_face_rad + lean_rad,
            outer_face_rad: self.outer_face_rad - lean_rad,
        }
    }

    /// Forces of the faces under a weight, without friction: W sin(other face)/sin(sum); level
    /// and symmetric W/(2 sin γ) each (Meriam & Kraige, statics; derived, see test).
    pub fn face_forces(&self, weight_n: f64) -> FaceForces {
        let opening = sin(self.both_faces_rad());
        FaceForces {
            rack_face_n: weight_n * sin(self.outer_face_rad) / opening,
            outer_face_n: weight_n * sin(self.rack_face_rad) / opening,
        }
    }

    /// Lean of the column away from the rack at which the stick rolls out, rad: the outer face's
    /// slope, for then the rack's face carries nothing (statics, derived).
    pub fn roll_out_lean_rad(&self) -> f64 {
        self.outer_face_rad
    }

    /// Side force away from the rack that takes the stick out, over its weight; equally the side
    /// acceleration over g: tan of the outer face (statics, derived).
    pub fn roll_out_side_ratio(&self) -> f64 {
        tan(self.outer_face_rad)
    }

    /// Distance from the apex along a face at which a stick touches it, m; a wing must be longer:
    /// R cot γ, with 2γ the included angle (geometry, derived).
    pub fn wing_length_needed_m(&self, radius_m: f64) -> f64 {
        radius_m * tan(self.both_faces_rad() / 2.0)
    }

    /// Rise of the centre of a stick that rolls up the outer face and over the end of a wing of
    /// length `wing_m` from the apex, m: (s_f - R cot γ) sin β_f + R(1 - cos β_f) (derived). A
    /// wing too short to touch counts as ending where the stick touches.
    pub fn escape_rise_m(&self, radius_m: f64, wing_m: f64) -> f64 {
        let run_m = (wing_m - self.wing_length_needed_m(radius_m)).max(0.0);
        run_m * sin(self.outer_face_rad) + radius_m * (1.0 - cos(self.outer_face_rad))
    }

    /// Energy for that, J.
    pub fn escape_energy_j(&self, mass_kg: f64, radius_m: f64, wing_m: f64) -> f64 {
        mass_kg * GRAVITY_M_PER_S2 * self.escape_rise_m(radius_m, wing_m)
    }

    /// Speed of rolling up the outer face from its seat that carries a stick over the wing, m/s.
    pub fn escape_speed_m_per_s(&self, roller: Roller, wing_m: f64) -> f64 {
        let rise_m = self.escape_rise_m(roller.radius_m, wing_m);
        sqrt(2.0 * GRAVITY_M_PER_S2 * rise_m / (1.0 + roller.shape_factor))
    }

    /// Part of its speed a stick keeps from rolling down one face on to the other:
    /// (k + cos Δ)/(1 + k), Δ the sum of both slopes (angular momentum about the new contact,
    /// plastic and without slip; derived, see test). Below 0 it is thrown back.
    pub fn speed_kept(&self, shape_factor: f64) -> f64 {
        (shape_factor + cos(self.both_faces_rad())) / (1.0 + shape_factor)
    }

    /// Speed at the bottom of the rack's face with which a stick rolls in, over and out again,
    /// m/s. None where the change of face stops any stick.
    pub fn roll_through_speed_m_per_s(&self, roller: Roller, wing_m: f64) -> Option<f64> {
        let kept = self.speed_kept(roller.shape_factor);
        (kept > 0.0).then(|| self.escape_speed_m_per_s(roller, wing_m) / kept)
    }

    /// Lengthwise tilt at which a stick slides where the V's of both cradles hold it, rad:
    /// tan δ = μ/sin γ (statics, derived).
    pub fn slide_tilt_both_hold_rad(&self, friction: f64) -> f64 {
        atan(friction * self.grip_ratio())
    }

    /// The same where one cradle's rollers turn freely and the other holds half the weight:
    /// tan δ = μ/(2 sin γ) (statics, derived).
    pub fn slide_tilt_one_free_rad(&self, friction: f64) -> f64 {
        atan(0.5 * friction * self.grip_ratio())
    }

    /// Sum of the face forces over the weight; 1/sin γ where symmetric.
    fn grip_ratio(&self) -> f64 {
        let forces = self.face_forces(1.0);
        forces.rack_face_n + forces.outer_face_n
    }

    fn both_faces_rad(&self) -> f64 {
        self.rack_face_rad + self.outer_face_rad
    }
}

#[cfg(test)]
mod tests {
    use super::super::math::{deg, rad};
    use super::*;

    fn v120() -> VCradle {
        VCradle::symmetric(rad(120.0)).unwrap()
    }

    #[test]
    fn bad_faces_are_refused() {
        assert!(VCradle::symmetric(rad(180.0)).is_err());
        assert!(VCradle::new(f64::NAN, 0.5).is_err());
        assert!(VCradle::from_tips(0.7, 0.315).is_err());
    }

    #[test]
    fn tips_thirty_centimetres_apart_make_faces_of_28_4_degrees() {
        let v = VCradle::from_tips(0.30, 0.315).unwrap();
        assert!((deg(v.outer_face_rad) - 28.4).abs() < 0.05);
    }

    #[test]
    fn at_the_roll_out_lean_the_rack_face_carries_nothing() {
        let forces = v120()
            .leaning(v120().roll_out_lean_rad())
            .face_forces(8313.4);
        assert!(forces.rack_face_n.abs() < 1e-9);
        assert!((forces.outer_face_n - 8313.4).abs() < 1e-6);
        assert!((v120().roll_out_side_ratio() - 0.577).abs() < 1e-3);
    }

    #[test]
    fn a_ninety_degree_v_presses_harder() {
        let v = VCradle::symmetric(rad(90.0)).unwrap();
        assert!((v.face_forces(1.0).outer_face_n - sqrt(0.5)).abs() < 1e-12);
    }

    #[test]
    fn a_short_wing_still_has_its_tip_to_climb() {
        let tip_only = v120().escape_rise_m(0.315, 0.0);
        assert!((tip_only - 0.315 * (1.0 - cos(rad(30.0)))).abs() < 1e-12);
    }

    #[test]
    fn steep_faces_stop_a_stick_that_rolls_in() {
        let v = VCradle::new(rad(80.0), rad(80.0)).unwrap();
        let roller = Roller {
            radius_m: 0.3,
            shape_factor: 0.85,
        };
        assert_eq!(v.roll_through_speed_m_per_s(roller, 1.0), None);
    }

    #[test]
    fn slides_are_those_of_the_textbook_wedge() {
        // Dry, wet and frosted steel in a 120° V; one free cradle halves the grip.
        for (mu, both_deg) in [(0.2, 13.0), (0.05, 3.3), (0.02, 1.3)] {
            assert!((deg(v120().slide_tilt_both_hold_rad(mu)) - both_deg).abs() < 0.05);
        }
        for (mu, one_deg) in [(0.2, 6.6), (0.12, 4.0), (0.05, 1.65)] {
            assert!((deg(v120().slide_tilt_one_free_rad(mu)) - one_deg).abs() < 0.05);
        }
    }
}
