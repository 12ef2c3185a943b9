//! Plane geometry of tube sections: where an ellipse is nearest to a polygon or another ellipse.
//!
//! Everything works on support functions: for a unit direction `n` an ellipse reaches
//! `h(n) = sqrt(nᵀ A n)`, and two convex figures are apart by the greatest value over `n` of
//! `c·n - h₁(n) - h₂(-n)`. That needs no trigonometry, is exact for touching and for slightly
//! overlapping figures, and converges in a few Newton steps because pipe is nearly round.

use glam::Vec2;

use super::glam;

/// An ellipse about the origin, as the symmetric matrix of its support function: `h² = nᵀ A n`.
#[derive(Clone, Copy, Debug)]
pub struct Ellipse {
    xx: f32,
    xy: f32,
    yy: f32,
}

/// Where two figures are nearest, or overlap least.
#[derive(Clone, Copy, Debug)]
pub struct Nearest {
    /// Unit direction from the first figure (the ellipse) towards the second.
    pub normal: Vec2,
    /// Distance along `normal`; negative when they overlap, m.
    pub distance: f32,
    /// Point on the ellipse.
    pub on_ellipse: Vec2,
    /// Point on the other figure.
    pub on_other: Vec2,
}

impl Ellipse {
    /// Semi-axes `a` along the direction `(cos, sin)` and `b` across it.
    pub fn new(a: f32, b: f32, cos: f32, sin: f32) -> Self {
        let (a2, b2) = (a * a, b * b);
        Self {
            xx: a2 * cos * cos + b2 * sin * sin,
            xy: (a2 - b2) * cos * sin,
            yy: a2 * sin * sin + b2 * cos * cos,
        }
    }

    fn times(&self, n: Vec2) -> Vec2 {
        Vec2::new(self.xx * n.x + self.xy * n.y, self.xy * n.x + self.yy * n.y)
    }

    /// How far the ellipse reaches along the unit direction `n`, and the point that does.
    pub fn support(&self, n: Vec2) -> (f32, Vec2) {
        let an = self.times(n);
        let h = n.dot(an).sqrt();
        (h, an / h)
    }

    /// First and second derivative of the support function as `n` turns counter-clockwise.
    fn turn_derivatives(&self, n: Vec2) -> (f32, f32) {
        let t = n.perp();
        let (an, at) = (self.times(n), self.times(t));
        let hh = n.dot(an);
        let h = hh.sqrt();
        let d1 = t.dot(an) / h;
        (d1, (t.dot(at) - hh - d1 * d1) / h)
    }
}

/// Turns `n` to the direction in which an ellipse at the origin and a second one (or a point, with
/// `None`) centred at `centre` are furthest apart.
fn widest_gap(first: &Ellipse, second: Option<&Ellipse>, centre: Vec2, mut n: Vec2) -> Vec2 {
    // Six steps reach the last bit for any pipe; the limit only guards hopeless overlaps.
    for _ in 0..8 {
        let (mut d1, mut d2) = first.turn_derivatives(n);
        if let Some(second) = second {
            let (e1, e2) = second.turn_derivatives(n);
            d1 += e1;
            d2 += e2;
        }
        let slope = centre.dot(n.perp()) - d1;
        let curvature = -centre.dot(n) - d2;
        if curvature >= 0.0 {
            return n;
        }
        let step = (-slope / curvature).clamp(-0.5, 0.5);
        n = (n + n.perp() * step).normalize();
        if step.abs() < 1.0e-6 {
            break;
        }
    }
    n
}

/// Nearest features of an ellipse at the origin and another ellipse centred at `centre`.
pub fn ellipse_ellipse(first: &Ellipse, second: &Ellipse, centre: Vec2) -> Nearest {
    let start = centre.try_normalize().unwrap_or(Vec2::Y);
    let normal = widest_gap(first, Some(second), centre, start);
    let (h1, p1) = first.support(normal);
    let (h2, p2) = second.support(normal);
    Nearest {
        normal,
        distance: centre.dot(normal) - h1 - h2,
        on_ellipse: p1,
        on_other: centre - p2,
    }
}

fn ellipse_point(ellipse: &Ellipse, point: Vec2) -> Nearest {
    let start = point.try_normalize().unwrap_or(Vec2::Y);
    let normal = widest_gap(ellipse, None, point, start);
    let (h, on_ellipse) = ellipse.support(normal);
    Nearest {
        normal,
        distance: point.dot(normal) - h,
        on_ellipse,
        on_other: point,
    }
}

/// Nearest features of an ellipse at the origin and a convex quadrilateral given in order (either
/// sense of turning), with the index of the side or first corner and the place along that side.
pub fn ellipse_quad(ellipse: &Ellipse, quad: &[Vec2; 4]) -> (Nearest, usize, f32) {
    let middle = (quad[0] + quad[1] + quad[2] + quad[3]) * 0.25;
    let mut best = (f32::NEG_INFINITY, 0, Vec2::Y, 0.0);
    for i in 0..4 {
        let (p, q) = (quad[i], quad[(i + 1) % 4]);
        let Some(along) = (q - p).try_normalize() else {
            continue;
        };
        let mut outward = along.perp();
        if outward.dot(p - middle) < 0.0 {
            outward = -outward;
        }
        // The ellipse lies in direction `outward` of this side: it reaches down to `-h`.
        let (h, _) = ellipse.support(outward);
        let gap = -h - outward.dot(p);
        if gap > best.0 {
            best = (gap, i, outward, h);
        }
    }
    let (gap, side, outward, h) = best;
    let (p, q) = (quad[side], quad[(side + 1) % 4]);
    let on_ellipse = -ellipse.times(outward) / h;
    let along = q - p;
    let t = (on_ellipse - p).dot(along) / along.length_squared();
    let nearest = if t <= 0.0 {
        ellipse_point(ellipse, p)
    } else if t >= 1.0 {
        ellipse_point(ellipse, q)
    } else {
        Nearest {
            normal: -outward,
            distance: gap,
            on_ellipse,
            on_other: on_ellipse - outward * gap,
        }
    };
    (nearest, side, t.clamp(0.0, 1.0))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Distance from a point outside to the ellipse by walking its boundary in fine steps.
    fn walked(a: f64, b: f64, turn: f64, q: (f64, f64)) -> f64 {
        (0..200_000)
            .map(|i| {
                let t = f64::from(i) * (2.0 * std::f64::consts::PI / 200_000.0);
                let (u, v) = (a * libm::cos(t), b * libm::sin(t));
                let (c, s) = (libm::cos(turn), libm::sin(turn));
                let (x, y) = (u * c - v * s, u * s + v * c);
                libm::hypot(x - q.0, y - q.1)
            })
            .fold(f64::INFINITY, f64::min)
    }

    #[test]
    fn point_distance_agrees_with_a_walk_along_the_boundary() {
        for (a, b, turn, x, y) in [
            (0.5, 0.5, 0.0, 0.6, 0.2),
            (0.52, 0.48, 0.3, -0.4, -0.5),
            (0.54, 0.46, 1.1, 0.0, 0.70),
            (0.54, 0.46, 2.5, 0.9, -0.9),
        ] {
            let e = Ellipse::new(
                a as f32,
                b as f32,
                libm::cos(turn) as f32,
                libm::sin(turn) as f32,
            );
            let got = ellipse_point(&e, Vec2::new(x as f32, y as f32)).distance;
            let want = walked(a, b, turn, (x, y));
            assert!(
                (f64::from(got) - want).abs() < 1.0e-6,
                "ellipse {a} x {b} turned {turn}, point ({x}, {y}): {got} against {want}"
            );
        }
    }

    #[test]
    fn two_round_sections_touch_on_the_line_of_centres() {
        let e = Ellipse::new(0.3, 0.3, 1.0, 0.0);
        let f = Ellipse::new(0.4, 0.4, 1.0, 0.0);
        let near = ellipse_ellipse(&e, &f, Vec2::new(0.6, 0.8));
        assert!((near.distance - 0.3).abs() < 1.0e-6);
        assert!((near.normal - Vec2::new(0.6, 0.8)).length() < 1.0e-6);
    }

    #[test]
    fn a_round_section_over_a_side_and_beside_a_corner() {
        let e = Ellipse::new(0.5, 0.5, 1.0, 0.0);
        let floor = [
            Vec2::new(-1.0, -0.7),
            Vec2::new(1.0, -0.7),
            Vec2::new(1.0, -0.5),
            Vec2::new(-1.0, -0.5),
        ];
        let (near, _, t) = ellipse_quad(&e, &floor);
        assert!(near.distance.abs() < 1.0e-6 && (t - 0.5).abs() < 1.0e-6);
        let corner = [
            Vec2::new(0.3, -0.4),
            Vec2::new(0.9, -0.4),
            Vec2::new(0.9, -0.9),
            Vec2::new(0.3, -0.9),
        ];
        let (near, _, _) = ellipse_quad(&e, &corner);
        assert!(near.distance.abs() < 1.0e-6, "{near:?}");
        assert!(
            (near.normal - Vec2::new(0.6, -0.8)).length() < 1.0e-6,
            "{near:?}"
        );
    }
}
