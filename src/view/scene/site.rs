//! Where everything stands that is on the site beside the line: heaps, stores, fence. It changes
//! nothing, and so it keeps out of the way: of the zone, of where a loose stick can come to, of the
//! line's steel, of the loader and of everybody's ways.
//!
//! Places are in the plan of a right-handed line.

use crate::domain::crew::sticks_reach_m;
use crate::domain::envelope::Envelope;
use crate::domain::plan;
use crate::domain::rig::Rig;
use crate::domain::spec::Place;
use crate::domain::zone::Zone;

/// Room around the line's steel, m.
const AROUND_STEEL_M: f64 = 1.0;
/// Room beside people's ways, m.
const BESIDE_WAYS_M: f64 = 1.2;
/// Room between two things that stand there, m.
const APART_M: f64 = 0.9;
/// How far from the line's middle things are looked for, m.
const FARTHEST_M: f64 = 85.0;
/// The string behind the machine is drawn this far, and its place is kept free, m.
const STRING_M: f64 = 45.0;
/// From what stands on the site to the fence, and the farthest that it is built, m.
const TO_FENCE_M: f64 = 5.0;
const FENCE_MIN_M: f64 = 30.0;
const FENCE_MAX_M: f64 = 95.0;
/// Half the width of the gate, m.
pub const GATE_HALF_M: f64 = 4.0;

/// An upright rectangle in plan, m.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Patch {
    pub x_m: (f64, f64),
    pub z_m: (f64, f64),
}

impl Patch {
    pub fn around(at: Place, half_x_m: f64, half_z_m: f64) -> Self {
        Self {
            x_m: (at.x_m - half_x_m, at.x_m + half_x_m),
            z_m: (at.z_m - half_z_m, at.z_m + half_z_m),
        }
    }

    pub fn wider(self, by_m: f64) -> Self {
        Self {
            x_m: (self.x_m.0 - by_m, self.x_m.1 + by_m),
            z_m: (self.z_m.0 - by_m, self.z_m.1 + by_m),
        }
    }

    pub fn overlaps(&self, other: &Self) -> bool {
        self.x_m.0 < other.x_m.1
            && other.x_m.0 < self.x_m.1
            && self.z_m.0 < other.z_m.1
            && other.z_m.0 < self.z_m.1
    }

    pub fn corners(&self) -> [Place; 4] {
        let at = |x_m, z_m| Place { x_m, z_m };
        [
            at(self.x_m.0, self.z_m.0),
            at(self.x_m.1, self.z_m.0),
            at(self.x_m.1, self.z_m.1),
            at(self.x_m.0, self.z_m.1),
        ]
    }

    /// How far inside a place is, m; negative outside.
    pub fn depth_m(&self, at: Place) -> f64 {
        let x = (at.x_m - self.x_m.0).min(self.x_m.1 - at.x_m);
        let z = (at.z_m - self.z_m.0).min(self.z_m.1 - at.z_m);
        x.min(z)
    }

    /// Whether a straight way touches it.
    fn is_crossed(&self, from: Place, to: Place) -> bool {
        let (mut enters, mut leaves) = (0.0_f64, 1.0_f64);
        for (start, end, (low, high)) in
            [(from.x_m, to.x_m, self.x_m), (from.z_m, to.z_m, self.z_m)]
        {
            let way = end - start;
            if way == 0.0 {
                if start < low || start > high {
                    return false;
                }
                continue;
            }
            let (one, other) = ((low - start) / way, (high - start) / way);
            enters = enters.max(one.min(other));
            leaves = leaves.min(one.max(other));
        }
        enters <= leaves
    }

    fn take_in(&mut self, at: Place) {
        self.x_m = (self.x_m.0.min(at.x_m), self.x_m.1.max(at.x_m));
        self.z_m = (self.z_m.0.min(at.z_m), self.z_m.1.max(at.z_m));
    }
}

/// What has to stay free.
#[derive(Clone, Debug)]
pub struct KeptFree {
    /// The zone, and where a loose stick can come to.
    areas: Vec<Vec<Place>>,
    patches: Vec<Patch>,
    ways: Vec<[Place; 2]>,
}

impl KeptFree {
    pub fn of(rig: &Rig) -> Self {
        let spec = rig.spec();
        let mut areas = Vec::new();
        if let Ok(zone) = Zone::new(&spec.zone.cones) {
            areas.push(zone.cones().to_vec());
        }
        let envelope = spec
            .sticks
            .first()
            .map(|stick| Envelope::new(rig, &stick.pipe));
        areas.extend(
            envelope
                .as_ref()
                .and_then(Envelope::polygon)
                .map(<[Place]>::to_vec),
        );
        let ways = spec.people.iter().flat_map(|person| {
            let stops = person.path.iter().map(|waypoint| waypoint.place);
            let places: Vec<Place> = std::iter::once(person.start).chain(stops).collect();
            let last = places.last().copied().unwrap_or(person.start);
            let mut legs: Vec<[Place; 2]> = places.windows(2).map(|leg| [leg[0], leg[1]]).collect();
            legs.push([last, last]);
            legs
        });
        Self {
            areas,
            patches: line(rig),
            ways: ways.collect(),
        }
    }

    /// Whether something may stand on a patch.
    pub fn may_stand(&self, patch: &Patch) -> bool {
        let blocked = self.patches.iter().any(|kept| kept.overlaps(patch));
        let in_area = self.areas.iter().any(|area| {
            let edges = area.iter().zip(area.iter().cycle().skip(1));
            edges
                .into_iter()
                .any(|(&from, &to)| patch.is_crossed(from, to))
                || Zone::new(area).is_ok_and(|zone| zone.contains(patch.corners()[0]))
        });
        let near = patch.wider(BESIDE_WAYS_M);
        let in_way = self
            .ways
            .iter()
            .any(|&[from, to]| near.is_crossed(from, to));
        !blocked && !in_area && !in_way
    }
}

/// The line itself with the room that it takes: steel, rack, the sticks' way to the string, the
/// loader's lane.
fn line(rig: &Rig) -> Vec<Patch> {
    let spec = rig.spec();
    let reach_m = sticks_reach_m(rig);
    let mut patches: Vec<Patch> = plan::steel(rig)
        .iter()
        .map(|steel| {
            Patch {
                x_m: (steel.x_from_m, steel.x_to_m),
                z_m: (steel.z_from_m, steel.z_to_m),
            }
            .wider(AROUND_STEEL_M)
        })
        .collect();
    let half_m = reach_m.max(0.5 * spec.rack.rail_spacing_m) + AROUND_STEEL_M;
    patches.push(Patch {
        x_m: (plan::high_end_x_m(rig) - AROUND_STEEL_M, 3.0),
        z_m: (-half_m, half_m),
    });
    patches.push(Patch {
        x_m: (-3.0, 3.0),
        z_m: (-half_m, plan::machine(rig).z_to_m + STRING_M),
    });
    if let Some(loader) = &spec.loader {
        let parked = plan::loader(rig, loader);
        patches.push(Patch {
            x_m: (parked.x_from_m - 2.0, 0.0),
            z_m: (-half_m, half_m),
        });
    }
    patches
}

/// What stands there.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Kind {
    Heap { height_m: f64 },
    SparePipe,
    Container,
    Dunnage,
    Pallet,
    Generator,
    Drums,
    LightTower,
    CableDrum,
    ToolRack,
    Covers,
}

/// One thing and the patch that it takes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Piece {
    pub kind: Kind,
    pub at: Place,
    pub half_x_m: f64,
    pub half_z_m: f64,
}

impl Piece {
    pub fn patch(&self) -> Patch {
        Patch::around(self.at, self.half_x_m, self.half_z_m)
    }
}

/// The site around a line.
#[derive(Clone, Debug, PartialEq)]
pub struct Site {
    pub pieces: Vec<Piece>,
    /// The fence's rectangle; None where the zone is too large for one. Its gate is in the middle of
    /// the side behind the rack.
    pub fence: Option<Patch>,
    /// Where crushed stone lies.
    pub gravel: Vec<Patch>,
    /// The middle of the loader's tracks, from the rack out.
    pub tracks: Vec<Place>,
}

impl Site {
    pub fn of(rig: &Rig) -> Self {
        let kept = KeptFree::of(rig);
        let pieces = pieces(rig, &kept);
        let fence = fence(rig, &kept, &pieces);
        Self {
            fence,
            gravel: gravel(rig),
            tracks: tracks(rig, fence),
            pieces,
        }
    }
}

/// Things are put down one after the other, each as near to the line as it may stand in its bearing.
fn pieces(rig: &Rig, kept: &KeptFree) -> Vec<Piece> {
    let spec = rig.spec();
    let pipe = spec.pipe_of(0);
    let diameter_m = pipe.map_or(0.9, |pipe| pipe.outside_diameter_m);
    let half_pipe_m = pipe.map_or(6.0, |pipe| 0.5 * pipe.length_m);
    let stack_m = 0.5 * f64::from(spare_row(diameter_m)) * diameter_m + 0.5;
    let heap = |height_m| Kind::Heap { height_m };
    // Kind, bearing from +x towards +z in degrees, where it is looked for first, half width and depth.
    let wanted = [
        (Kind::SparePipe, 152.0, 16.0, stack_m, half_pipe_m + 0.3),
        (heap(2.7), 203.0, 17.0, 6.5, 5.0),
        (heap(1.7), 226.0, 17.0, 4.0, 3.5),
        (Kind::Container, 52.0, 13.0, 1.5, 3.3),
        (Kind::Generator, 38.0, 13.0, 0.8, 1.2),
        (Kind::Drums, 45.0, 13.0, 0.7, 1.0),
        (Kind::Covers, 44.0, 14.0, 0.4, 2.5),
        (Kind::Dunnage, 170.0, 14.0, 0.9, 1.4),
        (Kind::Dunnage, 178.0, 15.0, 0.9, 1.4),
        (Kind::Pallet, 20.0, 12.0, 0.8, 0.8),
        (Kind::ToolRack, 28.0, 12.0, 0.5, 1.3),
        (Kind::LightTower, 64.0, 17.0, 1.2, 1.2),
        (Kind::CableDrum, 332.0, 13.0, 0.8, 1.0),
        (Kind::Dunnage, 345.0, 13.0, 0.9, 1.4),
        (Kind::LightTower, 128.0, 17.0, 1.2, 1.2),
        (heap(1.3), 284.0, 16.0, 3.2, 3.6),
        (Kind::Pallet, 246.0, 15.0, 0.8, 0.8),
    ];
    let mut pieces: Vec<Piece> = Vec::new();
    for (kind, bearing_deg, from_m, half_x_m, half_z_m) in wanted {
        let (sin, cos) = f64::to_radians(bearing_deg).sin_cos();
        let ways_m = std::iter::successors(Some(from_m), |way_m| Some(way_m + 0.5));
        let found = ways_m
            .take_while(|&way_m| way_m < FARTHEST_M)
            .map(|way_m| Piece {
                kind,
                at: Place {
                    x_m: way_m * cos - 2.0,
                    z_m: way_m * sin,
                },
                half_x_m,
                half_z_m,
            })
            .find(|piece| {
                let patch = piece.patch();
                let is_apart = pieces
                    .iter()
                    .all(|other| !other.patch().wider(APART_M).overlaps(&patch));
                is_apart && kept.may_stand(&patch)
            });
        pieces.extend(found);
    }
    pieces
}

/// How many lengths of spare pipe lie side by side on the ground.
pub fn spare_row(diameter_m: f64) -> u32 {
    if diameter_m > 0.9 { 3 } else { 5 }
}

/// A rectangle around all of it.
fn fence(rig: &Rig, kept: &KeptFree, pieces: &[Piece]) -> Option<Patch> {
    let mut inside = Patch {
        x_m: (-FENCE_MIN_M, FENCE_MIN_M),
        z_m: (-FENCE_MIN_M, FENCE_MIN_M),
    };
    let corners = pieces.iter().flat_map(|piece| piece.patch().corners());
    let people = rig.spec().people.iter().map(|person| person.start);
    let areas = kept.areas.iter().flatten().copied();
    let ways = kept.ways.iter().flatten().copied();
    let steel = plan::steel(rig).into_iter().flat_map(|steel| {
        [
            Place {
                x_m: steel.x_from_m,
                z_m: steel.z_from_m,
            },
            Place {
                x_m: steel.x_to_m,
                z_m: steel.z_to_m,
            },
        ]
    });
    for at in corners.chain(people).chain(areas).chain(ways).chain(steel) {
        inside.take_in(at);
    }
    // The string goes out through it on the machine's side.
    inside.take_in(Place {
        x_m: 0.0,
        z_m: plan::machine(rig).z_to_m + 0.5 * STRING_M,
    });
    let fence = inside.wider(TO_FENCE_M);
    let fits = fence
        .corners()
        .iter()
        .all(|at| at.x_m.abs() <= FENCE_MAX_M && at.z_m.abs() <= FENCE_MAX_M);
    fits.then_some(fence)
}

fn gravel(rig: &Rig) -> Vec<Patch> {
    let spec = rig.spec();
    let rack_half_m = 0.5 * spec.rack.rail_spacing_m + 1.6;
    let cradles_m = 0.5 * spec.cradles.spacing_m + 1.8;
    vec![
        Patch {
            x_m: (plan::high_end_x_m(rig) - 1.8, 1.0),
            z_m: (-rack_half_m, rack_half_m),
        },
        Patch {
            x_m: (-2.4, 2.6),
            z_m: (-cradles_m, plan::machine(rig).z_to_m + 3.0),
        },
    ]
}

/// From the rack's high end out through the gate, and on in a wide turn.
fn tracks(rig: &Rig, fence: Option<Patch>) -> Vec<Place> {
    let from_m = plan::high_end_x_m(rig) - 0.5;
    let gate_m = fence.map_or(-45.0, |fence| fence.x_m.0);
    let mut tracks: Vec<Place> = Vec::new();
    let mut x_m = from_m;
    while x_m > gate_m {
        // Nobody drives dead straight.
        let z_m = 0.35 * ((x_m - from_m) * 0.21).sin();
        tracks.push(Place { x_m, z_m });
        x_m -= 1.0;
    }
    let turn_m = 26.0;
    for step in 0..30 {
        let angle = 0.05 * f64::from(step);
        tracks.push(Place {
            x_m: gate_m - turn_m * angle.sin(),
            z_m: turn_m * (1.0 - angle.cos()),
        });
    }
    tracks
}

/// The lines of all shipped scenarios.
#[cfg(test)]
pub fn shipped() -> Vec<(String, Rig)> {
    let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("scenarios");
    let mut rigs: Vec<(String, Rig)> = std::fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .filter(|path| path.extension().is_some_and(|end| end == "ron"))
        .map(|path| {
            let loaded = crate::scenario::load(&path).unwrap();
            let name = path.file_stem().unwrap().to_string_lossy().into_owned();
            (name, Rig::new(&loaded.scenario.line))
        })
        .collect();
    rigs.sort_by(|one, other| one.0.cmp(&other.0));
    assert!(rigs.len() > 15);
    rigs
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Points all over a patch, edges included.
    fn points(patch: &Patch) -> impl Iterator<Item = Place> + use<'_> {
        let share = |i: i32, (from, to): (f64, f64)| from + (to - from) * f64::from(i) / 12.0;
        (0..169).map(move |i| Place {
            x_m: share(i % 13, patch.x_m),
            z_m: share(i / 13, patch.z_m),
        })
    }

    #[test]
    fn nothing_stands_in_the_way_on_any_shipped_line() {
        for (name, rig) in shipped() {
            let site = Site::of(&rig);
            let spec = rig.spec();
            assert!(site.pieces.len() >= 12, "{name}: {}", site.pieces.len());
            let zone = Zone::new(&spec.zone.cones).ok();
            let envelope = spec.sticks.first().map(|s| Envelope::new(&rig, &s.pipe));
            let steel = plan::steel(&rig);
            for piece in &site.pieces {
                let patch = piece.patch();
                for at in points(&patch) {
                    assert!(
                        !zone.as_ref().is_some_and(|zone| zone.contains(at)),
                        "{name}: {piece:?} in the zone"
                    );
                    let loose = envelope.as_ref().filter(|e| e.polygon().is_some());
                    assert!(
                        !loose.is_some_and(|envelope| envelope.contains(at)),
                        "{name}: {piece:?} where a stick can come to"
                    );
                    let on_steel = steel.iter().any(|steel| {
                        (steel.x_from_m..steel.x_to_m).contains(&at.x_m)
                            && (steel.z_from_m..steel.z_to_m).contains(&at.z_m)
                    });
                    assert!(!on_steel, "{name}: {piece:?} in the steel");
                    // The lane of the loader, the width of what it carries.
                    if let Some(loader) = &spec.loader {
                        let parked = plan::loader(&rig, loader);
                        let in_lane = (parked.x_from_m..0.0).contains(&at.x_m)
                            && at.z_m.abs() < sticks_reach_m(&rig);
                        assert!(!in_lane, "{name}: {piece:?} in the loader's lane");
                    }
                }
                for person in &spec.people {
                    let room_m = -patch.depth_m(person.start);
                    assert!(room_m > 1.0, "{name}: {piece:?}");
                }
            }
            let fence = site.fence;
            for cone in &spec.zone.cones {
                assert!(
                    fence.is_none_or(|fence| fence.depth_m(*cone) > 1.0),
                    "{name}"
                );
            }
        }
    }

    #[test]
    fn things_stand_apart() {
        for (name, rig) in shipped() {
            let pieces = Site::of(&rig).pieces;
            for (i, one) in pieces.iter().enumerate() {
                for other in &pieces[i + 1..] {
                    assert!(
                        !one.patch().overlaps(&other.patch()),
                        "{name}: {one:?} {other:?}"
                    );
                }
            }
        }
    }

    #[test]
    fn a_zone_set_out_over_a_heap_moves_the_heap() {
        let (_, rig) = shipped().swap_remove(0);
        let heap = Site::of(&rig).pieces[1];
        let mut spec = rig.spec().clone();
        spec.zone.cones = heap.patch().wider(3.0).corners().to_vec();
        let moved = Site::of(&Rig::new(&spec));
        let zone = Zone::new(&spec.zone.cones).unwrap();
        for piece in &moved.pieces {
            assert!(
                points(&piece.patch()).all(|at| !zone.contains(at)),
                "{piece:?}"
            );
        }
    }
}
