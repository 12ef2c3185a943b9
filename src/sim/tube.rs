//! The oval tube as a collision shape.

use parry::bounding_volume::{Aabb, BoundingSphere};
use parry::mass_properties::MassProperties;
use parry::query::{PointProjection, PointQuery, Ray, RayCast, RayIntersection};
use parry::shape::{FeatureId, Shape, ShapeType, SupportMap, TypedShape};

use super::section::Ellipse;
use super::{Pose, Vector, parry};

/// A straight tube of elliptical section about its local z axis.
///
/// It collides as if its ends were closed, which is right for everything that is larger than the
/// bore; its mass and inertia are those of the hollow pipe and are set on the body, not here.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tube {
    /// Semi-axis of the section along local x, m.
    pub a: f32,
    /// Semi-axis of the section along local y, m.
    pub b: f32,
    /// Half of the length along local z, m.
    pub half_length: f32,
}

impl Tube {
    /// The section in its own axes.
    pub fn section(&self) -> Ellipse {
        Ellipse::new(self.a, self.b, 1.0, 0.0)
    }
}

impl SupportMap for Tube {
    fn local_support_point(&self, dir: Vector) -> Vector {
        let (x, y) = (self.a * self.a * dir.x, self.b * self.b * dir.y);
        let h = (x * dir.x + y * dir.y).sqrt();
        let z = self.half_length.copysign(dir.z);
        if h > f32::MIN_POSITIVE {
            Vector::new(x / h, y / h, z)
        } else {
            Vector::new(0.0, 0.0, z)
        }
    }
}

impl PointQuery for Tube {
    fn project_local_point(&self, pt: Vector, solid: bool) -> PointProjection {
        // Scaling to a round tube keeps inside and outside exact and the nearest point close, which
        // is what picking needs; contacts never come here.
        let (u, v) = (pt.x / self.a, pt.y / self.b);
        let r = (u * u + v * v).sqrt();
        let inside = r <= 1.0 && pt.z.abs() <= self.half_length;
        if inside && solid {
            return PointProjection::new(true, pt);
        }
        let rim = |pt: Vector| {
            if r > f32::MIN_POSITIVE {
                Vector::new(pt.x / r, pt.y / r, pt.z)
            } else {
                Vector::new(self.a, 0.0, pt.z)
            }
        };
        if inside {
            let to_end = self.half_length - pt.z.abs();
            let side = rim(pt);
            let point = if to_end < (side - pt).length() {
                Vector::new(pt.x, pt.y, self.half_length.copysign(pt.z))
            } else {
                side
            };
            return PointProjection::new(true, point);
        }
        let mut point = if r > 1.0 { rim(pt) } else { pt };
        point.z = pt.z.clamp(-self.half_length, self.half_length);
        PointProjection::new(false, point)
    }

    fn project_local_point_and_get_feature(&self, pt: Vector) -> (PointProjection, FeatureId) {
        (self.project_local_point(pt, false), FeatureId::Face(0))
    }
}

impl RayCast for Tube {
    fn cast_local_ray_and_get_normal(
        &self,
        ray: &Ray,
        max_time_of_impact: f32,
        solid: bool,
    ) -> Option<RayIntersection> {
        let (o, d) = (ray.origin, ray.dir);
        let (ou, ov) = (o.x / self.a, o.y / self.b);
        let (du, dv) = (d.x / self.a, d.y / self.b);
        // Enter and leave the endless tube, then the slab between the ends.
        let (qa, qb, qc) = (
            du * du + dv * dv,
            ou * du + ov * dv,
            ou * ou + ov * ov - 1.0,
        );
        let mut span = (0.0_f32, f32::INFINITY, Vector::ZERO);
        let mut outward_at_exit = Vector::ZERO;
        let side_normal = |t: f32| {
            let p = o + d * t;
            Vector::new(p.x / (self.a * self.a), p.y / (self.b * self.b), 0.0).normalize_or_zero()
        };
        if qa > 0.0 {
            let disc = qb * qb - qa * qc;
            if disc < 0.0 {
                return None;
            }
            let root = disc.sqrt();
            let (t0, t1) = ((-qb - root) / qa, (-qb + root) / qa);
            if t0 > span.0 {
                span = (t0, span.1, side_normal(t0));
            }
            span.1 = t1;
            outward_at_exit = side_normal(t1);
        } else if qc > 0.0 {
            return None;
        }
        if d.z != 0.0 {
            let (mut t0, mut t1) = (
                (-self.half_length - o.z) / d.z,
                (self.half_length - o.z) / d.z,
            );
            if t0 > t1 {
                core::mem::swap(&mut t0, &mut t1);
            }
            let cap = Vector::new(0.0, 0.0, -d.z.signum());
            if t0 > span.0 {
                span = (t0, span.1, cap);
            }
            if t1 < span.1 {
                span.1 = t1;
                outward_at_exit = -cap;
            }
        } else if o.z.abs() > self.half_length {
            return None;
        }
        let (enter, leave, normal) = span;
        if enter > leave || enter > max_time_of_impact {
            return None;
        }
        if normal == Vector::ZERO && !solid {
            // The ray starts inside a hollow body: it meets the wall from within.
            return (leave <= max_time_of_impact)
                .then(|| RayIntersection::new(leave, -outward_at_exit, FeatureId::Face(0)));
        }
        Some(RayIntersection::new(enter, normal, FeatureId::Face(0)))
    }
}

impl Shape for Tube {
    fn compute_local_aabb(&self) -> Aabb {
        let half = Vector::new(self.a, self.b, self.half_length);
        Aabb::new(-half, half)
    }

    fn compute_aabb(&self, position: &Pose) -> Aabb {
        let reach = |world: Vector| {
            let local = position.rotation.inverse() * world;
            self.local_support_point(local).dot(local)
        };
        let half = Vector::new(reach(Vector::X), reach(Vector::Y), reach(Vector::Z));
        Aabb::new(position.translation - half, position.translation + half)
    }

    fn compute_local_bounding_sphere(&self) -> BoundingSphere {
        BoundingSphere::new(
            Vector::ZERO,
            (self.a.max(self.b).powi(2) + self.half_length.powi(2)).sqrt(),
        )
    }

    fn clone_dyn(&self) -> Box<dyn Shape> {
        Box::new(*self)
    }

    fn scale_dyn(&self, scale: Vector, _num_subdivisions: u32) -> Option<Box<dyn Shape>> {
        Some(Box::new(Tube {
            a: self.a * scale.x,
            b: self.b * scale.y,
            half_length: self.half_length * scale.z,
        }))
    }

    fn mass_properties(&self, _density: f32) -> MassProperties {
        // A pipe's mass is never that of a solid bar: the body carries it.
        MassProperties::default()
    }

    fn shape_type(&self) -> ShapeType {
        ShapeType::Custom
    }

    fn as_typed_shape(&self) -> TypedShape<'_> {
        TypedShape::Custom(self)
    }

    fn ccd_thickness(&self) -> f32 {
        self.a.min(self.b)
    }

    fn ccd_angular_thickness(&self) -> f32 {
        core::f32::consts::FRAC_PI_2
    }

    fn is_convex(&self) -> bool {
        true
    }

    fn as_support_map(&self) -> Option<&dyn SupportMap> {
        Some(self)
    }
}
