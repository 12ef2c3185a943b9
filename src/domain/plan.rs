//! The line's steel seen from above: where nobody can stand or walk. Places are in the plan of a
//! right-handed line.

use super::math::{cos, sin};
use super::rig::{End, PlaneBox, Rig};
use super::spec::{EscapementKind, LoaderSpec, Place};

/// Width of the fusion machine's body, about the line's centre, m.
const MACHINE_WIDTH_M: f64 = 2.2;
/// Width of a rail with its legs, along z, m.
const RAIL_WIDTH_M: f64 = 0.3;
/// A lift column across the line and along it, m.
const COLUMN_WIDTH_M: f64 = 1.0;
const COLUMN_DEPTH_M: f64 = 0.4;
/// A loader behind its forks, m.
const LOADER_LENGTH_M: f64 = 5.0;
const LOADER_WIDTH_M: f64 = 2.5;
/// Width of a fork, m.
pub const FORK_WIDTH_M: f64 = 0.15;
/// Room along the line between the cradles' faces and the rack's steel, m.
const CRADLE_CLEARANCE_M: f64 = 0.02;
/// What is nearer than this only touches, m.
pub const TOUCH_M: f64 = 1e-6;

/// What stands there.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Steel {
    Rail(End),
    Arm(End),
    Column(End),
    Machine,
    /// The loader where it is parked before the run.
    Loader,
}

impl Steel {
    /// The name of its entry in the catalogue.
    pub fn id(self) -> &'static str {
        match self {
            Self::Rail(End::Near) => "steel-rail-near",
            Self::Rail(End::Far) => "steel-rail-far",
            Self::Arm(End::Near) => "steel-arm-near",
            Self::Arm(End::Far) => "steel-arm-far",
            Self::Column(End::Near) => "steel-cradle-near",
            Self::Column(End::Far) => "steel-cradle-far",
            Self::Machine => "steel-machine",
            Self::Loader => "steel-loader",
        }
    }
}

/// An upright box in plan.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Footprint {
    pub steel: Steel,
    pub x_from_m: f64,
    pub x_to_m: f64,
    pub z_from_m: f64,
    pub z_to_m: f64,
}

impl Footprint {
    fn around(steel: Steel, (x_from_m, x_to_m): (f64, f64), z_m: f64, half_z_m: f64) -> Self {
        Self {
            steel,
            x_from_m,
            x_to_m,
            z_from_m: z_m - half_z_m,
            z_to_m: z_m + half_z_m,
        }
    }

    /// Whether the straight way from one place to another leads through the box; along its edge is
    /// not through it. A way of no length asks whether the place is inside.
    pub fn is_crossed(&self, from: Place, to: Place) -> bool {
        let sides = [
            (from.x_m, to.x_m, self.x_from_m, self.x_to_m),
            (from.z_m, to.z_m, self.z_from_m, self.z_to_m),
        ];
        // The part of the way on which both coordinates are inside.
        let (mut enters, mut leaves) = (0.0_f64, 1.0_f64);
        for (start_m, end_m, low_m, high_m) in sides {
            let way_m = end_m - start_m;
            if way_m == 0.0 {
                if start_m <= low_m || start_m >= high_m {
                    return false;
                }
                continue;
            }
            let (one, other) = ((low_m - start_m) / way_m, (high_m - start_m) / way_m);
            enters = enters.max(one.min(other));
            leaves = leaves.min(one.max(other));
        }
        enters < leaves
    }

    pub fn overlaps(&self, other: &Self) -> bool {
        self.x_from_m < other.x_to_m
            && other.x_from_m < self.x_to_m
            && self.z_from_m < other.z_to_m
            && other.z_from_m < self.z_to_m
    }
}

/// A rail with its legs. Between the rails there is room to walk.
pub fn rail(rig: &Rig, side: End) -> Footprint {
    let along_m = rig.spec().rack.length_m;
    let x_m = (rig.on_rail(side, along_m, 0.0).x_m, -rig.toe_m);
    let half_m = 0.5 * RAIL_WIDTH_M.max(rig.spec().rack.rail_width_m);
    Footprint::around(Steel::Rail(side), x_m, rig.rail_z_m(side), half_m)
}

/// The body of the fusion machine.
pub fn machine(rig: &Rig) -> Footprint {
    let half_m = 0.5 * MACHINE_WIDTH_M;
    Footprint::around(
        Steel::Machine,
        (-half_m, half_m),
        rig.jaws_z_m(),
        rig.spec().machine.half_length_m,
    )
}

/// The loader as it is parked: up the rack from its high end, its forks towards it.
pub fn loader(rig: &Rig, loader: &LoaderSpec) -> Footprint {
    let tips_m = high_end_x_m(rig) - loader.starts_beyond_m;
    let back_m = tips_m - loader.fork_length_m - LOADER_LENGTH_M;
    let half_m = 0.5 * LOADER_WIDTH_M.max(loader.fork_spread_m + FORK_WIDTH_M);
    Footprint::around(Steel::Loader, (back_m, tips_m), 0.0, half_m)
}

/// Everything that stands on the ground before the run.
pub fn steel(rig: &Rig) -> Vec<Footprint> {
    let spec = rig.spec();
    let arms_x_m = extent_x_m(&rig.saddle(0.0));
    let mut steel = Vec::new();
    for end in End::BOTH {
        steel.push(rail(rig, end));
        let half_m = rig.saddle_half_width_m();
        steel.push(Footprint::around(
            Steel::Arm(end),
            arms_x_m,
            rig.arm_z_m(end),
            half_m,
        ));
        let off_m = spec.cradles.column(end).offset_m;
        steel.push(Footprint::around(
            Steel::Column(end),
            (off_m - 0.5 * COLUMN_WIDTH_M, off_m + 0.5 * COLUMN_WIDTH_M),
            rig.cradle_z_m(end),
            0.5 * COLUMN_DEPTH_M,
        ));
    }
    steel.push(machine(rig));
    steel.extend(spec.loader.iter().map(|spec| loader(rig, spec)));
    steel
}

/// Steel of the rack that reaches as far across the line as the cradles' faces do, on either side of
/// the middle.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Beside {
    /// The name of its entry in the catalogue.
    pub id: &'static str,
    /// The spacings of the cradles at which their faces would stand in it, m.
    pub taken_from_m: f64,
    pub taken_to_m: f64,
}

impl Beside {
    /// Whether cradles so far apart stand in it.
    pub fn is_in_the_way_at(&self, spacing_m: f64) -> bool {
        spacing_m > self.taken_from_m + TOUCH_M && spacing_m + TOUCH_M < self.taken_to_m
    }
}

/// What the cradles' faces must not stand in, from the middle outwards.
pub fn beside_cradles(rig: &Rig) -> Vec<Beside> {
    let rack = &rig.spec().rack;
    let pins_along_m = match rig.spec().escapement.kind {
        EscapementKind::PinPair => rig.gate_far_edge_m(),
        EscapementKind::StarWheel => rig.hub_m - rig.spoke_m,
    };
    let pins_x_m = End::BOTH
        .map(|side| rig.on_rail(side, pins_along_m, 0.0).x_m)
        .into_iter()
        .fold(f64::NEG_INFINITY, f64::max);
    let faces_x_m = faces_x_m(rig);
    let half_face_m = rig.cradle_half_width_m() + CRADLE_CLEARANCE_M;
    // How far towards the line's centre it reaches, its middle along the line, and half its width.
    let steel = [
        (
            "steel-arms",
            f64::INFINITY,
            rig.arm_z_m(End::Near),
            rig.saddle_half_width_m(),
        ),
        (
            "steel-pins",
            pins_x_m,
            rig.pin_z_m(End::Near),
            rig.pin_half_width_m(),
        ),
        (
            "steel-rails",
            -rig.toe_m,
            rig.rail_z_m(End::Near),
            0.5 * rack.rail_width_m,
        ),
    ];
    steel
        .into_iter()
        .filter(|(_, x_m, ..)| *x_m > faces_x_m)
        .map(|(id, _, z_m, half_m)| Beside {
            id,
            taken_from_m: 2.0 * (z_m - half_m - half_face_m),
            taken_to_m: 2.0 * (z_m + half_m + half_face_m),
        })
        .collect()
}

/// How far the cradles' faces come towards the rack, wherever they are lifted and shifted to, m.
fn faces_x_m(rig: &Rig) -> f64 {
    let cradles = &rig.spec().cradles;
    let mut least_m = f64::INFINITY;
    for end in End::BOTH {
        let column = cradles.column(end);
        let off_m = column.offset_m - 0.5 * cradles.shift_range_m;
        for raised_m in [0.0, cradles.lift_stroke_m] {
            let faces = rig.cradle(raised_m, off_m, column.lean_rad);
            least_m = least_m.min(extent_x_m(&faces).0);
        }
    }
    least_m
}

/// What of the cradles and the rack the machine stands on: that which reaches furthest into it.
pub fn under_machine(rig: &Rig) -> Option<Footprint> {
    let machine = machine(rig);
    let stands_on = |part: &Footprint| {
        !matches!(part.steel, Steel::Machine | Steel::Loader)
            && machine.overlaps(part)
            && part.z_to_m - rig.machine_end_z_m() > TOUCH_M
    };
    let under = steel(rig).into_iter().filter(stands_on);
    under.max_by(|one, other| one.z_to_m.total_cmp(&other.z_to_m))
}

/// Where the rack's rails end at the top, m; the further one.
pub fn high_end_x_m(rig: &Rig) -> f64 {
    let along_m = rig.spec().rack.length_m;
    End::BOTH
        .map(|side| rig.on_rail(side, along_m, 0.0).x_m)
        .into_iter()
        .fold(f64::INFINITY, f64::min)
}

/// The corners of a box across the line, as x and y, m.
pub fn corners(plate: &PlaneBox) -> [(f64, f64); 4] {
    let (c, s) = (cos(plate.turn_rad), sin(plate.turn_rad));
    [(-1.0, -1.0), (1.0, -1.0), (1.0, 1.0), (-1.0, 1.0)].map(|(along, across)| {
        let (u, v) = (along * plate.half_length_m, across * plate.half_thickness_m);
        (
            plate.centre.x_m + u * c - v * s,
            plate.centre.y_m + u * s + v * c,
        )
    })
}

/// From where to where boxes reach across the line, m.
pub fn extent_x_m(plates: &[PlaneBox]) -> (f64, f64) {
    plates
        .iter()
        .flat_map(corners)
        .fold((f64::INFINITY, f64::NEG_INFINITY), |(from, to), (x, _)| {
            (from.min(x), to.max(x))
        })
}

#[cfg(test)]
mod tests {
    use super::*;

    const BOX: Footprint = Footprint {
        steel: Steel::Machine,
        x_from_m: -1.0,
        x_to_m: 1.0,
        z_from_m: 5.0,
        z_to_m: 8.0,
    };

    fn crossed(from: (f64, f64), to: (f64, f64)) -> bool {
        let place = |(x_m, z_m)| Place { x_m, z_m };
        let there = BOX.is_crossed(place(from), place(to));
        assert_eq!(
            there,
            BOX.is_crossed(place(to), place(from)),
            "there and back"
        );
        there
    }

    #[test]
    fn ways_through_a_box_and_past_it() {
        assert!(crossed((-2.0, 6.0), (2.0, 6.0)));
        assert!(crossed((0.0, 0.0), (0.0, 9.0)));
        assert!(crossed((-2.0, 4.0), (2.0, 9.0)));
        // Into it, and within it.
        assert!(crossed((0.0, 0.0), (0.0, 6.0)));
        assert!(crossed((0.2, 6.0), (0.3, 6.5)));
        assert!(crossed((0.0, 6.0), (0.0, 6.0)));
        // Past a corner, short of it, along its edge, and standing beside it.
        assert!(!crossed((-2.0, 4.0), (2.0, 2.0)));
        assert!(!crossed((2.0, 3.0), (0.9, 4.9)));
        assert!(!crossed((1.0, 0.0), (1.0, 9.0)));
        assert!(!crossed((1.1, 6.0), (1.1, 6.0)));
        assert!(!crossed((-2.0, 5.0), (2.0, 5.0)));
    }

    #[test]
    fn boxes_that_touch_do_not_overlap() {
        let beside = Footprint {
            x_from_m: 1.0,
            x_to_m: 2.0,
            ..BOX
        };
        assert!(!BOX.overlaps(&beside) && !beside.overlaps(&BOX));
        let nearer = Footprint {
            x_from_m: 0.9,
            ..beside
        };
        assert!(BOX.overlaps(&nearer) && nearer.overlaps(&BOX));
    }
}
