//! Off an edge, down, and how far over the ground.

use super::math::{GRAVITY_M_PER_S2, acos, cos, sin, sqrt, tan};
use super::rolling::Roller;

/// How a stick leaves an edge and reaches the ground below it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Fall {
    /// Turn of the line from edge to centre when contact ends, rad from the vertical.
    pub leaves_rad: f64,
    /// Time from the end of contact to the ground, s.
    pub time_s: f64,
    /// Way of the centre from the edge to the landing, m, across the line.
    pub reach_m: f64,
    /// Speed across the line at landing, m/s.
    pub across_m_per_s: f64,
    /// Speed downwards at landing, m/s.
    pub down_m_per_s: f64,
    /// Surface speed of the spin at landing, m/s.
    pub surface_m_per_s: f64,
}

/// Time and speed of a straight drop.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Drop {
    /// Time of the fall, s.
    pub time_s: f64,
    /// Speed at the ground, m/s.
    pub speed_m_per_s: f64,
}

/// Where a rolling stick comes to rest.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum RunOut {
    /// After a way of so many metres along the ground.
    Stops {
        /// The way, m.
        distance_m: f64,
    },
    /// The ground falls too much for that.
    DoesNotStop,
}

/// Fall from rest through `height_m`, 0 or more: t = √(2 h/g), v = √(2 g h).
pub fn drop_from(height_m: f64) -> Drop {
    let speed_m_per_s = sqrt(2.0 * GRAVITY_M_PER_S2 * height_m.max(0.0));
    Drop {
        time_s: speed_m_per_s / GRAVITY_M_PER_S2,
        speed_m_per_s,
    }
}

impl Roller {
    /// Turn of the line from edge to centre at which a stick that rolls off the edge of a level
    /// bed at `speed_m_per_s` loses contact, rad: cos φ = [2 + (1 + k)v²/(g R)]/(3 + k), without
    /// slip; 0 (at once) above v² = g R (derived, see test; a solid bar from rest gives the
    /// textbooks' 4/7).
    pub fn leaves_edge_rad(&self, speed_m_per_s: f64) -> f64 {
        let k = self.shape_factor;
        let speed_ratio = speed_m_per_s * speed_m_per_s / (GRAVITY_M_PER_S2 * self.radius_m);
        acos(((2.0 + (1.0 + k) * speed_ratio) / (3.0 + k)).min(1.0))
    }

    /// The fall of a stick that rolls off an edge `edge_height_m` above level ground. None where
    /// the stick is on the ground before it leaves the edge (derived, see test).
    pub fn fall_from_edge(&self, speed_m_per_s: f64, edge_height_m: f64) -> Option<Fall> {
        self.fall_from_edge_to_slope(speed_m_per_s, edge_height_m, 0.0)
    }

    /// The same on to ground that falls by `down_slope_rad` in the stick's direction (negative:
    /// rises) and lies `edge_height_m` under the edge (derived, see test).
    pub fn fall_from_edge_to_slope(
        &self,
        speed_m_per_s: f64,
        edge_height_m: f64,
        down_slope_rad: f64,
    ) -> Option<Fall> {
        let (g, r) = (GRAVITY_M_PER_S2, self.radius_m);
        let leaves_rad = self.leaves_edge_rad(speed_m_per_s);
        let (s, c) = (sin(leaves_rad), cos(leaves_rad));
        let fall = tan(down_slope_rad);
        // A stick on the ground has its centre R/cos θ above it.
        let drop_m = edge_height_m + r * (c + s * fall - 1.0 / cos(down_slope_rad));
        if drop_m <= 0.0 {
            return None;
        }
        let speed = sqrt(g * r * c).max(speed_m_per_s);
        let (across, down) = (speed * c, speed * s);
        let closing = down - across * fall;
        let time_s = (sqrt(closing * closing + 2.0 * g * drop_m) - closing) / g;
        Some(Fall {
            leaves_rad,
            time_s,
            reach_m: r * s + across * time_s,
            across_m_per_s: across,
            down_m_per_s: down + g * time_s,
            surface_m_per_s: speed,
        })
    }

    /// How far a stick rolls over ground that falls by `down_slope_rad` in its direction (negative:
    /// rises), m: v²(1 + k)/(2 g(C_rr cos θ - sin θ)); from a fall of the ground of atan C_rr on
    /// it does not stop (derived, see test). On ground that rises more steeply than that it stops
    /// and then rolls back.
    pub fn run_out(
        &self,
        speed_m_per_s: f64,
        down_slope_rad: f64,
        rolling_resistance: f64,
    ) -> RunOut {
        let slowing = -self.acceleration_m_per_s2(down_slope_rad, rolling_resistance);
        if slowing > 0.0 {
            RunOut::Stops {
                distance_m: speed_m_per_s * speed_m_per_s / (2.0 * slowing),
            }
        } else {
            RunOut::DoesNotStop
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::math::{deg, rad};
    use super::*;

    const P630: Roller = Roller {
        radius_m: 0.315,
        shape_factor: 0.8872,
    };

    #[test]
    fn a_faster_stick_leaves_sooner_and_above_root_g_r_at_once() {
        assert!((deg(P630.leaves_edge_rad(1.0)) - 47.8).abs() < 0.1);
        assert_eq!(P630.leaves_edge_rad(3.0), 0.0);
        let fall = P630.fall_from_edge(3.0, 1.0).unwrap();
        assert_eq!((fall.across_m_per_s, fall.surface_m_per_s), (3.0, 3.0));
    }

    #[test]
    fn a_solid_bar_from_rest_leaves_at_acos_four_sevenths() {
        let bar = Roller {
            radius_m: 0.1,
            shape_factor: 0.5,
        };
        assert!((cos(bar.leaves_edge_rad(0.0)) - 4.0 / 7.0).abs() < 1e-12);
    }

    #[test]
    fn a_low_edge_is_not_left_before_the_ground() {
        assert_eq!(P630.fall_from_edge(0.2, 0.05), None);
    }

    #[test]
    fn a_drop_from_a_cradle_follows_the_textbook() {
        let drop = drop_from(0.9);
        assert!((drop.speed_m_per_s - 4.2021).abs() < 1e-3);
        assert!((0.5 * GRAVITY_M_PER_S2 * drop.time_s * drop.time_s - 0.9).abs() < 1e-12);
    }

    #[test]
    fn ground_that_falls_more_than_the_resistance_never_stops_a_stick() {
        assert_eq!(P630.run_out(0.5, rad(1.0), 0.017), RunOut::DoesNotStop);
        assert_eq!(P630.run_out(0.0, 0.0, 0.0), RunOut::DoesNotStop);
        assert!(matches!(
            P630.run_out(0.5, rad(0.9), 0.017),
            RunOut::Stops { .. }
        ));
    }
}
