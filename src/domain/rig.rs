//! The rig: every dimension of our own line, derived from its specification.
//!
//! The escapement and the receiver's saddles scale with the *size setting* (the pins are put into
//! the holes for this OD, the saddle's stop likewise), so that one set of proportions serves every
//! size and a wrong setting is wrong physically. Written for a right-handed line; a left-handed one
//! mirrors x (see [`Rig::mirror`]).
//!
//! Proportions, in radii `R` of the size setting unless said otherwise, and where they come from:
//!
//! | what | value | why |
//! |---|---|---|
//! | gate pin height | 0.5 R | the separator's window is then 0.866 to 1.000 OD (see [`crate::domain::step`]) |
//! | separator middle | 0.933 OD up from the gate's corner | the middle of that window |
//! | separator width | 0.08 OD | leaves 0.027 OD on each side for ovality and tolerance |
//! | seat | 1.05 OD down from the gate's corner | the gate can rise behind a seated stick, and the run-up stays short |
//! | saddle, near face | falls 6° | carries on from a rail at the trade's 6° |
//! | saddle, far face | rises 36°, ends 0.12 R past the seat's contact | holds a stick from any pitch of the trade, and lets one over from about 10° |
//! | rail toe | 1.12 R before the seat | a seated stick clears the rail's end |
//! | wheel spoke | √2 R long, hub 0.5 R under the rail | two spokes at rest stand 0.5 R high, one diameter apart |
//!
//! Of the cradles and the machine:
//!
//! | what | value | why |
//! |---|---|---|
//! | cradle V | 120° included | nothing climbs it below 30° or 0.58 g across; both faces share the weight at 0.577 W |
//! | wing | R cot 60° at 7 % ovality and 0.10 m more, along its face | holds the stick with room to spare, and never reaches the next one on the rack |
//! | lowest wing tip | 0.06 m under the underside of a stick in the raised receiver | the stick rolls in over it |
//! | lift | from there | a stick is at the jaws' centreline after 0.35 m, over half of the usual stroke of 0.60 m |
//! | column base | 1.0 m across, pivot at the ground | a foot that sinks by 17 mm leans it by 1° |
//! | machine's rest | V of 120°, 10 mm under a stick on the centreline | a front that comes in true glides over it, one that is low strikes its end |
//! | jaws | take an end within 25 mm of the centreline and 60 mm of the string | what a machine's clamps draw in (our own figure) |

use super::math::{PI, cos, rad, sin, sqrt, tan};
use super::spec::{
    ContactSpec, EscapementKind, FaultSpec, Hand, Item, LineSpec, RailFaults, RailSpec, StickSpec,
};
use core::fmt;

use serde::{Deserialize, Serialize};

/// A point in the plane across the line: x towards +x, y up, m.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Point {
    pub x_m: f64,
    pub y_m: f64,
}

/// A box in the plane across the line, for parts that are straight along z.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PlaneBox {
    pub centre: Point,
    /// Half extent along the box's own x, m.
    pub half_length_m: f64,
    /// Half extent along the box's own y, m.
    pub half_thickness_m: f64,
    /// Angle of the box's own x above +x, rad.
    pub turn_rad: f64,
}

impl PlaneBox {
    /// A plate whose upper face runs from `from` to `to`.
    fn under(from: Point, to: Point, thickness_m: f64) -> Self {
        let (dx, dy) = (to.x_m - from.x_m, to.y_m - from.y_m);
        let length = sqrt(dx * dx + dy * dy);
        let (ux, uy) = (dx / length, dy / length);
        let half = thickness_m / 2.0;
        Self {
            centre: Point {
                x_m: (from.x_m + to.x_m) / 2.0 + uy * half,
                y_m: (from.y_m + to.y_m) / 2.0 - ux * half,
            },
            half_length_m: length / 2.0,
            half_thickness_m: half,
            turn_rad: super::math::atan2(dy, dx),
        }
    }
}

/// Clearance between a pin or a wheel and the side of its rail, m.
const SIDE_CLEARANCE_M: f64 = 0.02;
/// How far a lowered pin stands under the rail's surface, m.
const PIN_SUNK_M: f64 = 0.02;
/// Thickness of rails and saddle plates, m.
const PLATE_M: f64 = 0.12;
/// Width of pins and wheels along z, m.
const PIN_WIDTH_M: f64 = 0.10;
/// Width of a saddle along z, m.
const SADDLE_WIDTH_M: f64 = 0.25;
/// Distance of a receiver arm inside its rail, along z, m.
const ARM_INSET_M: f64 = 0.60;

const GATE_HEIGHT_R: f64 = 0.5;
const GATE_THICKNESS_R: f64 = 0.12;
const SEPARATOR_MIDDLE_R: f64 = 2.0 * 0.933;
const SEPARATOR_WIDTH_R: f64 = 2.0 * 0.08;
const SEAT_FROM_GATE_R: f64 = 2.0 * 1.05;
const TOE_FROM_SEAT_R: f64 = 1.12;
const NEAR_WING_R: f64 = 1.05;
const SADDLE_STEP_DOWN_R: f64 = 0.01;
const FAR_MARGIN_R: f64 = 0.12;
const SPOKE_THICKNESS_R: f64 = 0.12;
const HUB_DEPTH_R: f64 = 0.5;

/// Slope of the saddle's near face, down towards the stop, rad.
pub const SADDLE_NEAR_RAD: f64 = rad(6.0);
/// Slope of the saddle's far face (the stop), rad.
pub const SADDLE_FAR_RAD: f64 = rad(36.0);
/// Spokes of a star wheel.
pub const SPOKES: usize = 4;
/// One notch of a star wheel, rad.
pub const NOTCH_RAD: f64 = PI / 2.0;

/// Slope of each face of a cradle's V, rad: an included angle of 120°.
pub const CRADLE_FACE_RAD: f64 = rad(30.0);
/// How far a face goes on beyond the contact of a stick of the setting's size, m, at this ovality.
const WING_SPARE_M: f64 = 0.10;
const WING_OVALITY: f64 = 0.07;
/// How far the lowest wing tip stays under a stick that rolls in, m.
const WING_CLEARANCE_M: f64 = 0.06;
/// Width of a cradle's face along z, m.
const CRADLE_WIDTH_M: f64 = 0.30;
/// Way of the lift from its lowest place to the jaws' centreline where that is not given, m.
const RAISE_M: f64 = 0.35;
/// Distance of a column's two feet across the line, m.
pub const COLUMN_BASE_M: f64 = 1.0;
/// How far the machine's rest is under a stick on the centreline, m.
const REST_CLEARANCE_M: f64 = 0.010;
/// Width of the rest along z, m, and how far its middle stands inside the machine's end.
const REST_WIDTH_M: f64 = 0.20;
const REST_INSIDE_M: f64 = 0.15;
/// How far off the centreline the jaws take an end, m.
pub const JAW_REACH_M: f64 = 0.025;
/// The widest gap to the string at which they do, m.
pub const JAW_GAP_M: f64 = 0.060;

/// The end of the line, or of a stick, at the machine (+z) or away from it (-z), with the rail and
/// the cradle that stand there.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
pub enum End {
    Near,
    Far,
}

impl End {
    pub const BOTH: [Self; 2] = [Self::Near, Self::Far];

    fn sign(self) -> f64 {
        match self {
            Self::Near => 1.0,
            Self::Far => -1.0,
        }
    }
}

impl fmt::Display for End {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Near => "near",
            Self::Far => "far",
        })
    }
}

/// The derived geometry of a line.
#[derive(Clone, Debug, PartialEq)]
pub struct Rig {
    spec: LineSpec,
    /// Radius of the size setting, m.
    pub setting_radius_m: f64,
    /// Place of the gate pin's upper corner, where a stick leans on it, along the rail from its
    /// toe, m.
    pub gate_corner_m: f64,
    /// Height of the raised gate above the rail, m.
    pub gate_height_m: f64,
    /// Thickness of the gate pin along the rail, m.
    pub gate_thickness_m: f64,
    /// Middle of the separator along the rail, m.
    pub separator_middle_m: f64,
    /// Width of the separator along the rail, m.
    pub separator_width_m: f64,
    /// Hub of the star wheel along the rail, m.
    pub hub_m: f64,
    /// Depth of the hub under the rail's surface, m.
    pub hub_depth_m: f64,
    /// Length of a spoke from the hub's middle, m.
    pub spoke_m: f64,
    /// Thickness of a spoke, m.
    pub spoke_thickness_m: f64,
    /// Distance of the rail's toe from the line's centre, m.
    pub toe_m: f64,
    /// Height of the centre of a stick of the setting's size seated in the raised receiver, m.
    pub seat_height_m: f64,
}

impl Rig {
    pub fn new(spec: &LineSpec) -> Self {
        let r = spec.escapement.size_setting_m / 2.0;
        let toe_m = TOE_FROM_SEAT_R * r;
        let gate_corner_m = (SEAT_FROM_GATE_R - TOE_FROM_SEAT_R) * r;
        let spoke_thickness_m = SPOKE_THICKNESS_R * r;
        let near_wing_above_seat =
            (NEAR_WING_R - sin(SADDLE_NEAR_RAD)) * tan(SADDLE_NEAR_RAD) - cos(SADDLE_NEAR_RAD);
        Self {
            setting_radius_m: r,
            gate_corner_m,
            gate_height_m: GATE_HEIGHT_R * r,
            gate_thickness_m: GATE_THICKNESS_R * r,
            separator_middle_m: gate_corner_m + SEPARATOR_MIDDLE_R * r,
            separator_width_m: SEPARATOR_WIDTH_R * r,
            // The front spoke's corner at rest stands where the gate's corner would.
            hub_m: gate_corner_m + r - spoke_thickness_m / 2.0 * sin(NOTCH_RAD / 2.0),
            hub_depth_m: HUB_DEPTH_R * r,
            spoke_m: sqrt(2.0) * r,
            spoke_thickness_m,
            toe_m,
            seat_height_m: spec.rack.toe_height_m - (near_wing_above_seat + SADDLE_STEP_DOWN_R) * r,
            spec: spec.clone(),
        }
    }

    pub fn spec(&self) -> &LineSpec {
        &self.spec
    }

    /// Sets the pitch at which a rail stands now: a jack or the ground under it has moved.
    pub fn set_pitch_rad(&mut self, side: End, pitch_rad: f64) {
        match side {
            End::Near => self.spec.rack.near_rail.pitch_rad = pitch_rad,
            End::Far => self.spec.rack.far_rail.pitch_rad = pitch_rad,
        }
    }

    /// Puts an item of the line right.
    pub fn mend(&mut self, item: Item) {
        self.spec.faults.mend(item);
    }

    /// Something goes wrong with the line while it runs.
    pub fn spoil(&mut self, spoil: impl FnOnce(&mut FaultSpec)) {
        spoil(&mut self.spec.faults);
    }

    /// Gives the line other coefficients of contact: none of its dimensions hangs on them.
    pub fn set_contact(&mut self, contact: ContactSpec) {
        self.spec.contact = contact;
    }

    /// +1 on a right-handed line, -1 on a left-handed one: the factor of every x.
    pub fn mirror(&self) -> f64 {
        match self.spec.hand {
            Hand::Right => 1.0,
            Hand::Left => -1.0,
        }
    }

    pub fn rail(&self, side: End) -> RailSpec {
        match side {
            End::Near => self.spec.rack.near_rail,
            End::Far => self.spec.rack.far_rail,
        }
    }

    /// What is wrong with the escapement on a rail.
    pub fn faults(&self, side: End) -> RailFaults {
        self.spec.faults.rail(side)
    }

    /// Middle of a rail along z, m.
    pub fn rail_z_m(&self, side: End) -> f64 {
        side.sign() * self.spec.rack.rail_spacing_m / 2.0
    }

    /// Middle of a rail's pins or wheel along z, m: on the rail's inner side.
    pub fn pin_z_m(&self, side: End) -> f64 {
        let offset = (self.spec.rack.rail_width_m + PIN_WIDTH_M) / 2.0 + SIDE_CLEARANCE_M;
        self.rail_z_m(side) - side.sign() * offset
    }

    /// Middle of a receiver arm along z, m.
    pub fn arm_z_m(&self, side: End) -> f64 {
        self.rail_z_m(side) - side.sign() * ARM_INSET_M
    }

    /// Half width of pins and wheels along z, m.
    pub fn pin_half_width_m(&self) -> f64 {
        PIN_WIDTH_M / 2.0
    }

    /// Half width of a saddle along z, m.
    pub fn saddle_half_width_m(&self) -> f64 {
        SADDLE_WIDTH_M / 2.0
    }

    /// A point over a rail: `along_m` up the rail from its toe, `above_m` square to its surface.
    pub fn on_rail(&self, side: End, along_m: f64, above_m: f64) -> Point {
        let (c, s) = (
            cos(self.rail(side).pitch_rad),
            sin(self.rail(side).pitch_rad),
        );
        Point {
            x_m: -self.toe_m - along_m * c + above_m * s,
            y_m: self.spec.rack.toe_height_m + along_m * s + above_m * c,
        }
    }

    /// How far up a rail from its toe a point lies, and how far above its surface, m.
    pub fn to_rail(&self, side: End, point: Point) -> (f64, f64) {
        let (c, s) = (
            cos(self.rail(side).pitch_rad),
            sin(self.rail(side).pitch_rad),
        );
        let (dx, dy) = (
            point.x_m + self.toe_m,
            point.y_m - self.spec.rack.toe_height_m,
        );
        (-dx * c + dy * s, dx * s + dy * c)
    }

    /// A rail.
    pub fn rail_box(&self, side: End) -> PlaneBox {
        let high = self.on_rail(side, self.spec.rack.length_m, 0.0);
        PlaneBox::under(high, self.on_rail(side, 0.0, 0.0), PLATE_M)
    }

    /// A block square to the rail: from `low_m` to `high_m` above its surface.
    fn block(&self, side: End, middle_m: f64, width_m: f64, low_m: f64, high_m: f64) -> PlaneBox {
        PlaneBox {
            centre: self.on_rail(side, middle_m, (low_m + high_m) / 2.0),
            half_length_m: width_m / 2.0,
            half_thickness_m: (high_m - low_m) / 2.0,
            turn_rad: -self.rail(side).pitch_rad,
        }
    }

    /// Stroke of a pin from sunk to raised, m.
    pub fn pin_stroke_m(&self) -> f64 {
        self.gate_height_m + PIN_SUNK_M
    }

    /// A gate pin, raised by `stroke_m` from its sunk place.
    pub fn gate_pin(&self, side: End, stroke_m: f64) -> PlaneBox {
        let middle = self.gate_corner_m - self.gate_thickness_m / 2.0;
        let high = stroke_m - PIN_SUNK_M;
        let low = high - self.pin_stroke_m();
        self.block(side, middle, self.gate_thickness_m, low, high)
    }

    /// A separator pin, raised by `stroke_m` from its sunk place.
    pub fn separator_pin(&self, side: End, stroke_m: f64) -> PlaneBox {
        let high = stroke_m - PIN_SUNK_M;
        let low = high - self.pin_stroke_m();
        self.block(
            side,
            self.separator_middle_m,
            self.separator_width_m,
            low,
            high,
        )
    }

    /// One spoke of a star wheel after the wheel has turned by `turned_rad` (downhill over the
    /// top) from rest.
    pub fn spoke(&self, side: End, spoke: usize, turned_rad: f64) -> PlaneBox {
        let pitch = self.rail(side).pitch_rad;
        // Angle from the rail's normal towards downhill; at rest the first stands half a notch down.
        let angle = NOTCH_RAD / 2.0 - spoke as f64 * NOTCH_RAD + turned_rad;
        let half = self.spoke_m / 2.0;
        PlaneBox {
            centre: self.on_rail(
                side,
                self.hub_m - half * sin(angle),
                half * cos(angle) - self.hub_depth_m,
            ),
            half_length_m: half,
            half_thickness_m: self.spoke_thickness_m / 2.0,
            turn_rad: PI / 2.0 - angle - pitch,
        }
    }

    /// Middle of a wheel's hub.
    pub fn hub(&self, side: End) -> Point {
        self.on_rail(side, self.hub_m, -self.hub_depth_m)
    }

    /// The two plates of a saddle (near face, far face) with the receiver lowered by `lowered_m`.
    pub fn saddle(&self, lowered_m: f64) -> [PlaneBox; 2] {
        let r = self.setting_radius_m;
        let seat_y = self.seat_height_m - lowered_m;
        let at = |x_r: f64, y_r: f64| Point {
            x_m: x_r * r,
            y_m: seat_y + y_r * r,
        };
        let half_bend = (SADDLE_NEAR_RAD + SADDLE_FAR_RAD) / 2.0;
        let lean = (SADDLE_FAR_RAD - SADDLE_NEAR_RAD) / 2.0;
        let (ax, ay) = (sin(lean) / cos(half_bend), -cos(lean) / cos(half_bend));
        let apex = at(ax, ay);
        let near_end = at(-NEAR_WING_R, ay + (ax + NEAR_WING_R) * tan(SADDLE_NEAR_RAD));
        let far_length = tan(half_bend) + FAR_MARGIN_R;
        let far_end = at(
            ax + far_length * cos(SADDLE_FAR_RAD),
            ay + far_length * sin(SADDLE_FAR_RAD),
        );
        [
            PlaneBox::under(near_end, apex, PLATE_M),
            PlaneBox::under(apex, far_end, PLATE_M),
        ]
    }

    /// Length of the saddle's far face past the contact of a seated stick of radius `radius_m`, m.
    pub fn far_wing_margin_m(&self, radius_m: f64) -> f64 {
        let half_bend = (SADDLE_NEAR_RAD + SADDLE_FAR_RAD) / 2.0;
        (tan(half_bend) + FAR_MARGIN_R) * self.setting_radius_m - tan(half_bend) * radius_m
    }

    /// Height of the centre of a stick of radius `radius_m` seated in the raised receiver, m: over the
    /// apex it is R cos of the lean over cos of half the bend (geometry, derived).
    pub fn seat_height_of_m(&self, radius_m: f64) -> f64 {
        let half_bend = (SADDLE_NEAR_RAD + SADDLE_FAR_RAD) / 2.0;
        let lean = (SADDLE_FAR_RAD - SADDLE_NEAR_RAD) / 2.0;
        self.seat_height_m + (radius_m - self.setting_radius_m) * cos(lean) / cos(half_bend)
    }

    /// Length of a cradle's face from the apex, m.
    pub fn wing_m(&self) -> f64 {
        let tall_m = self.setting_radius_m * (1.0 + WING_OVALITY / 2.0);
        tall_m * tan(CRADLE_FACE_RAD) + WING_SPARE_M
    }

    /// Height of the apex of a cradle's V with its lift all the way down, m.
    pub fn apex_low_m(&self) -> f64 {
        let underside_m = self.seat_height_m - self.setting_radius_m;
        underside_m - WING_CLEARANCE_M - self.wing_m() * sin(CRADLE_FACE_RAD)
    }

    /// Height of the centre of a round stick of radius `radius_m` over the apex of the V it lies in,
    /// m: R/sin γ.
    pub fn seated_over_apex_m(radius_m: f64) -> f64 {
        radius_m / cos(CRADLE_FACE_RAD)
    }

    /// Height of the centre of a stick of the setting's size in the lowest cradles, m.
    pub fn cradle_seat_low_m(&self) -> f64 {
        self.apex_low_m() + Self::seated_over_apex_m(self.setting_radius_m)
    }

    /// The jaws' centreline of a machine set for this line, m.
    pub fn usual_centreline_m(&self) -> f64 {
        self.usual_centreline_for_m(self.setting_radius_m)
    }

    /// The same for pipe of another radius than the setting's, m.
    pub fn usual_centreline_for_m(&self, radius_m: f64) -> f64 {
        self.apex_low_m() + Self::seated_over_apex_m(radius_m) + RAISE_M
    }

    /// Middle of a cradle along z, m.
    pub fn cradle_z_m(&self, end: End) -> f64 {
        end.sign() * self.spec.cradles.spacing_m / 2.0
    }

    pub fn cradle_half_width_m(&self) -> f64 {
        CRADLE_WIDTH_M / 2.0
    }

    /// A V's two plates (rack's side, outer side) with the apex at a point.
    fn vee(apex: Point, wing_m: f64) -> [PlaneBox; 2] {
        let (dx, dy) = (wing_m * cos(CRADLE_FACE_RAD), wing_m * sin(CRADLE_FACE_RAD));
        let at = |x_m: f64| Point {
            x_m: apex.x_m + x_m,
            y_m: apex.y_m + dy,
        };
        [
            PlaneBox::under(at(-dx), apex, PLATE_M),
            PlaneBox::under(apex, at(dx), PLATE_M),
        ]
    }

    /// The faces of a cradle (rack's side, outer side), raised by `raised_m` from its lowest place,
    /// `off_m` away from the rack, on a column that leans by `lean_rad` away from the rack about
    /// its base.
    pub fn cradle(&self, raised_m: f64, off_m: f64, lean_rad: f64) -> [PlaneBox; 2] {
        let apex = Point {
            x_m: off_m,
            y_m: self.apex_low_m() + raised_m,
        };
        let (c, s) = (cos(lean_rad), sin(lean_rad));
        Self::vee(apex, self.wing_m()).map(|plate| PlaneBox {
            centre: Point {
                x_m: off_m + (plate.centre.x_m - off_m) * c + plate.centre.y_m * s,
                y_m: plate.centre.y_m * c - (plate.centre.x_m - off_m) * s,
            },
            turn_rad: plate.turn_rad - lean_rad,
            ..plate
        })
    }

    /// Centre of the jaws along z, m.
    pub fn jaws_z_m(&self) -> f64 {
        self.cradle_z_m(End::Near) + self.spec.machine.near_cradle_to_jaws_m
    }

    /// The machine's end that faces the cradles, along z, m.
    pub fn machine_end_z_m(&self) -> f64 {
        self.jaws_z_m() - self.spec.machine.half_length_m
    }

    /// The faces of the machine's rest, set for pipe of radius `radius_m`.
    pub fn rest(&self, radius_m: f64) -> [PlaneBox; 2] {
        let apex = Point {
            x_m: 0.0,
            y_m: self.spec.machine.centreline_m
                - Self::seated_over_apex_m(radius_m + REST_CLEARANCE_M),
        };
        Self::vee(apex, self.wing_m())
    }

    pub fn rest_z_m(&self) -> f64 {
        self.machine_end_z_m() + REST_INSIDE_M
    }

    pub fn rest_half_width_m(&self) -> f64 {
        REST_WIDTH_M / 2.0
    }

    /// Place along the rail of the gate's far edge, m.
    pub fn gate_far_edge_m(&self) -> f64 {
        match self.spec.escapement.kind {
            EscapementKind::PinPair => self.gate_corner_m - self.gate_thickness_m,
            EscapementKind::StarWheel => self.gate_corner_m - self.spoke_thickness_m,
        }
    }

    /// The x past which a stick's centre has left the raised gate behind: beyond its far upper edge
    /// nothing but the next thing in its way holds it, m (mean of both rails).
    pub fn past_gate_x_m(&self) -> f64 {
        let edges =
            End::BOTH.map(|side| self.on_rail(side, self.gate_far_edge_m(), self.gate_height_m));
        (edges[0].x_m + edges[1].x_m) / 2.0
    }

    /// Length of a rack of this rig on which a row of `sticks` lies whole behind the raised gate, m:
    /// the widths of the sticks on the slope, their gaps, and the skew of the last one.
    pub fn rack_length_for(&self, sticks: &[StickSpec]) -> f64 {
        let row_m: f64 = sticks
            .iter()
            .map(|stick| stick.gap_m + width_on_slope_m(stick))
            .sum();
        let skew_m = sticks.last().map_or(0.0, |last| {
            0.5 * self.spec.rack.rail_spacing_m * tan(last.yaw_rad).abs()
        });
        self.gate_corner_m + row_m + skew_m
    }
}

/// How much of the slope a stick takes up as it lies on the rails, m.
fn width_on_slope_m(stick: &StickSpec) -> f64 {
    2.0 * stick.pipe.oval().reach_m(stick.long_axis_rad) / cos(stick.yaw_rad)
}
