//! The machinery as it is drawn: what is seen to touch, touches in the core; both hands; every size.
#![cfg(feature = "view")]

mod common;

use bevy::math::{Quat, Vec3};
use bevy::mesh::{Indices, Mesh, VertexAttributeValues};
use bevy::prelude::Transform;
use chockline::domain::math::{rad, tan};
use chockline::domain::rig::{CRADLE_FACE_RAD, End, PlaneBox, SPOKES};
use chockline::domain::spec::{Coupler, EscapementKind, Hand, Item, LineSpec, Motion};
use chockline::sim::line::{Chocks, Line};
use chockline::view::quality::Quality;
use chockline::view::scene::machinery::piece::Piece;
use chockline::view::scene::machinery::rides::{Now, Rides, Wound};
use chockline::view::scene::machinery::{pieces, pipe};
use chockline::view::scene::part::{Part, place_of};
use chockline::view::shown::Shown;
use chockline::view::yard::Yard;
use common::lines;

/// From the smallest to the largest pipe of the line, m.
const SIZES_M: [f64; 4] = [0.508, 0.6096, 0.9144, 1.6002];
const KINDS: [EscapementKind; 2] = [EscapementKind::PinPair, EscapementKind::StarWheel];

fn spec(od_m: f64, pitch_deg: f64, kind: EscapementKind) -> LineSpec {
    let pipe = lines::pipe(od_m, 17.0, 0.03);
    let mut spec = lines::line(pipe, 3, pitch_deg, kind);
    spec.loader = Some(lines::loader_for(&pipe));
    lines::crewed(spec)
}

fn specs() -> impl Iterator<Item = LineSpec> {
    SIZES_M.into_iter().flat_map(|od_m| {
        KINDS
            .into_iter()
            .flat_map(move |kind| [3.0, 8.0].map(|pitch| spec(od_m, pitch, kind)))
    })
}

/// A line as it stands, with its machinery.
struct Scene {
    yard: Yard,
    pieces: Vec<(Vec<Rides>, Piece)>,
    wound: Wound,
}

impl Scene {
    fn of(spec: &LineSpec) -> Self {
        Self::drawn(spec, Quality::Medium)
    }

    fn drawn(spec: &LineSpec, quality: Quality) -> Self {
        let yard = Yard::new(&Line::build(spec));
        let pieces = pieces(yard.rig(), quality);
        let wound = Wound::default();
        Self {
            yard,
            pieces,
            wound,
        }
    }

    fn at(&self, rides: Rides) -> Transform {
        let now = Now {
            rig: self.yard.rig(),
            shown: &self.yard.shown,
            wound: self.wound,
        };
        rides.in_plan(&now).unwrap()
    }

    /// The corners in the plan of all pieces on what is asked for.
    fn corners(&self, wanted: impl Fn(Rides) -> bool) -> Vec<Vec3> {
        let mut corners = Vec::new();
        for (rides, piece) in &self.pieces {
            for &rides in rides.iter().filter(|&&rides| wanted(rides)) {
                let at = self.at(rides);
                let solids = piece.solids().flat_map(|(_, solid)| solid.positions());
                corners.extend(solids.map(|&corner| at.transform_point(corner)));
            }
        }
        corners
    }
}

/// A point of the plan in the frame of a box across the line.
fn in_box(plate: &PlaneBox, z_m: f64, point: Vec3) -> Vec3 {
    let at = Vec3::new(plate.centre.x_m as f32, plate.centre.y_m as f32, z_m as f32);
    Quat::from_rotation_z(-plate.turn_rad as f32) * (point - at)
}

/// The upper face of a box is that of what is drawn: nothing stands over it, and it is reached within
/// `give_m` near both of its ends.
fn assert_carries(what: &str, corners: &[Vec3], plate: &PlaneBox, place: (f64, f64), give_m: f32) {
    let end_m = plate.half_length_m as f32;
    assert_carries_at(what, corners, plate, place, give_m, &[-end_m, end_m]);
}

/// The same near places along it.
fn assert_carries_at(
    what: &str,
    corners: &[Vec3],
    plate: &PlaneBox,
    (z_m, half_width_m): (f64, f64),
    give_m: f32,
    places_m: &[f32],
) {
    let half = Vec3::new(
        plate.half_length_m as f32,
        plate.half_thickness_m as f32,
        half_width_m as f32,
    );
    let mut reached = vec![f32::NEG_INFINITY; places_m.len()];
    for &corner in corners {
        let local = in_box(plate, z_m, corner);
        if local.x.abs() > half.x + 0.001 || local.z.abs() > half.z + 0.001 {
            continue;
        }
        // At its very ends it meets its neighbours.
        assert!(
            local.y < half.y + 0.0015 || local.x.abs() > half.x - 0.001,
            "{what}: {} m over the face at {local}",
            local.y - half.y
        );
        if local.y > half.y + 0.0015 {
            continue;
        }
        for (reached, place) in reached.iter_mut().zip(places_m) {
            if (local.x - place).abs() < 0.05 {
                *reached = reached.max(local.y);
            }
        }
    }
    for (reached, place) in reached.into_iter().zip(places_m) {
        assert!(
            reached > half.y - give_m,
            "{what}: {} m under the face at {place} m",
            half.y - reached
        );
    }
}

#[test]
fn rails_carry_where_they_do_in_the_core() {
    for spec in specs() {
        let scene = Scene::of(&spec);
        let rig = scene.yard.rig();
        for end in End::BOTH {
            let corners = scene.corners(|rides| rides == Rides::Rail(end));
            let place = (rig.rail_z_m(end), 0.5 * spec.rack.rail_width_m);
            let what = format!("rail of {} m", spec.escapement.size_setting_m);
            assert_carries(&what, &corners, &rig.rail_box(end), place, 0.001);
            // And they end where they do there.
            let along = |corner: &Vec3| in_box(&rig.rail_box(end), place.0, *corner).x;
            let half = rig.rail_box(end).half_length_m as f32;
            let reach = corners
                .iter()
                .map(along)
                .fold(0.0_f32, |most, x| most.max(x));
            assert!(
                (reach - half).abs() < 0.002,
                "{what}: ends at {reach} of {half}"
            );
        }
    }
}

#[test]
fn pins_stand_as_they_do_in_the_core() {
    for od_m in SIZES_M {
        let mut scene = Scene::of(&spec(od_m, 5.0, EscapementKind::PinPair));
        for fraction in [0.0, 0.4, 1.0] {
            scene.yard.shown.gates = [fraction; 2];
            scene.yard.shown.separators = [fraction; 2];
            let rig = scene.yard.rig();
            let stroke = fraction * rig.pin_stroke_m();
            for end in End::BOTH {
                let pins = [
                    (Rides::Gate(end), rig.gate_pin(end, stroke)),
                    (Rides::Separator(end), rig.separator_pin(end, stroke)),
                ];
                for (rides, plate) in pins {
                    let corners = scene.corners(|on| on == rides);
                    let top = plate.half_thickness_m as f32;
                    // What stands over the guides: the pin alone.
                    let over: Vec<Vec3> = corners
                        .iter()
                        .map(|&corner| in_box(&plate, rig.pin_z_m(end), corner))
                        .filter(|local| local.y > top - 0.03)
                        .collect();
                    let most = |of: fn(&Vec3) -> f32| {
                        over.iter().map(of).fold(f32::NEG_INFINITY, f32::max)
                    };
                    let faces = [
                        (most(|v| v.x), plate.half_length_m as f32),
                        (most(|v| -v.x), plate.half_length_m as f32),
                        (most(|v| v.y), top),
                        (most(|v| v.z), rig.pin_half_width_m() as f32),
                        (most(|v| -v.z), rig.pin_half_width_m() as f32),
                    ];
                    for (drawn, core) in faces {
                        assert!(
                            (drawn - core).abs() < 0.001,
                            "{rides:?} of {od_m} m at {fraction}: {drawn} instead of {core}"
                        );
                    }
                }
            }
        }
    }
}

#[test]
fn a_missing_pin_is_not_there() {
    let mut spec = spec(0.6096, 5.0, EscapementKind::PinPair);
    let highest = |spec: &LineSpec| {
        let scene = Scene::of(spec);
        let corners = scene.corners(|rides| rides == Rides::Gate(End::Near));
        corners.iter().map(|corner| corner.y).fold(0.0, f32::max)
    };
    let there = highest(&spec);
    spec.faults.near.gate_missing = true;
    let missing = highest(&spec);
    let rail = spec.rack.toe_height_m as f32;
    assert!(
        there > rail + 0.1 && missing < rail,
        "{there} m, {missing} m"
    );
}

#[test]
fn spokes_turn_as_they_do_in_the_core() {
    for od_m in SIZES_M {
        let mut scene = Scene::of(&spec(od_m, 5.0, EscapementKind::StarWheel));
        for fraction in [0.0, 0.3, 0.9] {
            scene.yard.shown.gates = [fraction; 2];
            let rig = scene.yard.rig();
            let turned = fraction * chockline::domain::rig::NOTCH_RAD;
            let corners = scene.corners(|rides| rides == Rides::Wheel(End::Far));
            for spoke in 0..SPOKES {
                let plate = rig.spoke(End::Far, spoke, turned);
                // The tip's four corners are corners of the wheel.
                for (x, y, z) in [(1, 1, 1), (1, 1, -1), (1, -1, 1), (1, -1, -1)] {
                    let tip = Vec3::new(
                        x as f32 * plate.half_length_m as f32,
                        y as f32 * plate.half_thickness_m as f32,
                        z as f32 * rig.pin_half_width_m() as f32,
                    );
                    let nearest = corners
                        .iter()
                        .map(|&corner| in_box(&plate, rig.pin_z_m(End::Far), corner))
                        .map(|corner| corner.distance(tip))
                        .fold(f32::INFINITY, f32::min);
                    assert!(nearest < 0.001, "{od_m} m, spoke {spoke}: {nearest} m");
                }
            }
        }
    }
}

#[test]
fn saddles_and_cradles_carry_where_they_do_in_the_core() {
    for spec in specs() {
        let mut scene = Scene::of(&spec);
        let size = spec.escapement.size_setting_m;
        for (lowered, raised, off, lean) in [(0.0, 0.0, 0.0, 0.0), (0.3, 0.42, 0.07, rad(1.2))] {
            scene.yard.shown.receiver_lowered_m = lowered;
            for cradle in &mut scene.yard.shown.cradles {
                (cradle.raised_m, cradle.off_m, cradle.lean_rad) = (raised, off, lean);
            }
            let rig = scene.yard.rig();
            for end in End::BOTH {
                let corners = scene.corners(|rides| rides == Rides::Saddle(end));
                let place = (rig.arm_z_m(end), rig.saddle_half_width_m());
                for (side, plate) in rig.saddle(lowered).iter().enumerate() {
                    let what = format!("saddle of {size} m, face {side}");
                    assert_carries(&what, &corners, plate, place, 0.002);
                }
                let corners = scene.corners(|rides| {
                    rides == Rides::Carriage(end)
                        || matches!(rides, Rides::Roller(of, ..) if of == end)
                });
                let place = (rig.cradle_z_m(end), rig.cradle_half_width_m());
                for (side, plate) in rig.cradle(raised, off, lean).iter().enumerate() {
                    let what = format!("{end} cradle of {size} m, face {side}");
                    // Where a stick lies. A roller has corners, and they turn.
                    let lies = rig.setting_radius_m * tan(CRADLE_FACE_RAD) - plate.half_length_m;
                    let lies = if side == 0 { -lies } else { lies } as f32;
                    assert_carries_at(&what, &corners, plate, place, 0.004, &[lies]);
                }
            }
        }
    }
}

#[test]
fn the_rest_carries_where_it_does_in_the_core() {
    for spec in specs() {
        let scene = Scene::of(&spec);
        let rig = scene.yard.rig();
        let corners = scene.corners(|rides| rides == Rides::Ground);
        let place = (rig.rest_z_m(), rig.rest_half_width_m());
        let radius_m = spec.sticks[0].pipe.radius_m();
        for plate in rig.rest(radius_m) {
            let near: Vec<Vec3> = corners
                .iter()
                .copied()
                .filter(|&corner| in_box(&plate, place.0, corner).y < 0.2)
                .collect();
            let what = format!("rest of {} m", spec.escapement.size_setting_m);
            assert_carries(&what, &near, &plate, place, 0.003);
        }
    }
}

#[test]
fn a_chock_holds_with_the_face_it_has_in_the_core() {
    for od_m in SIZES_M {
        let mut scene = Scene::of(&spec(od_m, 5.0, EscapementKind::PinPair));
        for chock in scene.yard.shown.chocks.iter_mut().flatten() {
            (chock.raised, chock.face_m) = (1.0, 1.1);
        }
        let rig = scene.yard.rig();
        let corners = scene.corners(|rides| rides == Rides::Chock(End::Near));
        let rail = scene.at(Rides::Rail(End::Near));
        let local: Vec<Vec3> = corners
            .iter()
            .map(|&corner| rail.rotation.inverse() * (corner - rail.translation))
            .filter(|local| local.z.abs() < Chocks::HALF_WIDTH_M as f32 + 0.001)
            .collect();
        let uphill = local.iter().map(|v| v.x).fold(f32::INFINITY, f32::min);
        assert!((uphill + 1.1).abs() < 0.002, "{od_m} m: face at {uphill}");
        let high = local
            .iter()
            .filter(|v| v.x < -1.1 + 0.01)
            .map(|v| v.y)
            .fold(0.0, f32::max);
        assert!(
            (high - Chocks::height_m(rig) as f32).abs() < 0.002,
            "{od_m} m: {high} m high"
        );
    }
}

#[test]
fn forks_carry_and_the_face_holds_where_they_do_in_the_core() {
    for od_m in SIZES_M {
        let scene = Scene::of(&spec(od_m, 5.0, EscapementKind::PinPair));
        let shown = scene.yard.shown.loader.unwrap();
        for fork in [0, 1] {
            let rides = Rides::Fork(fork);
            let at = scene.at(rides);
            let inside = |corner: &Vec3| at.rotation.inverse() * (*corner - at.translation);
            let corners: Vec<Vec3> = scene
                .corners(|on| on == rides)
                .iter()
                .map(inside)
                .filter(|local| local.x > -shown.fork_half.x + 0.01)
                .collect();
            let tip = corners.iter().map(|v| v.x).fold(0.0, f32::max);
            assert!((tip - shown.fork_half.x).abs() < 0.001, "{od_m} m: {tip}");
            let top = corners
                .iter()
                .filter(|v| v.x > -shown.fork_half.x + 0.06)
                .map(|v| v.y)
                .fold(f32::NEG_INFINITY, f32::max);
            assert!((top - shown.fork_half.y).abs() < 0.001, "{od_m} m: {top}");
        }
        let at = scene.at(Rides::LoaderFace);
        let front = scene
            .corners(|on| on == Rides::LoaderFace)
            .iter()
            .map(|&corner| (at.rotation.inverse() * (corner - at.translation)).x)
            .fold(f32::NEG_INFINITY, f32::max);
        assert!(
            (front - shown.face_half.x).abs() < 0.001,
            "{od_m} m: {front}"
        );
    }
}

/// Body, cab, mast and wheels stay in the box that strikes people, its wheels on the ground.
#[test]
fn a_loader_is_no_larger_than_what_strikes_people() {
    let scene = Scene::of(&spec(0.9144, 5.0, EscapementKind::PinPair));
    let shown = scene.yard.shown.loader.unwrap();
    let at = shown.body;
    let of_loader = |rides: Rides| matches!(rides, Rides::Loader | Rides::LoaderWheel(_));
    for corner in scene.corners(of_loader) {
        let local = at.turn.inverse() * (corner - at.at);
        let over = local.abs() - shown.body_half;
        assert!(
            over.x < 0.25 && over.y < 0.25 && over.z < 0.02,
            "{local} is out of {}",
            shown.body_half
        );
        assert!(corner.y > -0.01, "{corner} is in the ground");
    }
}

fn floats(mesh: &Mesh, attribute: bevy::mesh::MeshVertexAttribute) -> Vec<Vec3> {
    match mesh.attribute(attribute) {
        Some(VertexAttributeValues::Float32x3(values)) => {
            values.iter().map(|&value| Vec3::from(value)).collect()
        }
        _ => panic!("no such corners"),
    }
}

/// Finite corners, normals of length one, and every face seen from the side its normals point to.
fn assert_sound(what: &str, mesh: &Mesh) {
    let positions = floats(mesh, Mesh::ATTRIBUTE_POSITION);
    let normals = floats(mesh, Mesh::ATTRIBUTE_NORMAL);
    assert_eq!(positions.len(), normals.len(), "{what}");
    for (at, normal) in positions.iter().zip(&normals) {
        assert!(at.is_finite(), "{what}: a corner at {at}");
        assert!(
            (normal.length() - 1.0).abs() < 1.0e-3,
            "{what}: a normal {normal}"
        );
    }
    let Some(Indices::U32(indices)) = mesh.indices() else {
        panic!("{what}: no faces")
    };
    for face in indices.chunks_exact(3) {
        let [a, b, c] = [face[0], face[1], face[2]].map(|corner| positions[corner as usize]);
        let outwards: Vec3 = face.iter().map(|&corner| normals[corner as usize]).sum();
        let side = (b - a).cross(c - a).dot(outwards);
        assert!(side >= 0.0, "{what}: a face at {a} is inside out");
    }
}

#[test]
fn every_mesh_is_sound_in_both_hands_and_every_quality() {
    for spec in specs() {
        for quality in Quality::ALL {
            let scene = Scene::drawn(&spec, quality);
            for (rides, piece) in scene.pieces {
                for (finish, solid) in piece.into_solids() {
                    assert!(!solid.is_empty(), "{rides:?} {finish:?}");
                    let what = format!("{rides:?} {finish:?} at {quality:?}");
                    assert_sound(&what, &solid.clone().mesh(1.0));
                    assert_sound(&what, &solid.mesh(-1.0));
                }
            }
            assert_sound("a stick", &pipe::stick(&spec.sticks[0].pipe, quality));
            assert_sound("its print", &pipe::print(&spec.sticks[0].pipe, quality));
        }
    }
}

/// Most triangles of the machinery and ten sticks, and most meshes drawn.
#[test]
fn the_machinery_keeps_within_its_budget() {
    for spec in specs() {
        let most = [75_000, 200_000, 360_000];
        for (quality, most) in Quality::ALL.into_iter().zip(most) {
            let scene = Scene::drawn(&spec, quality);
            let (mut triangles, mut drawn) = (0, 0);
            for (rides, piece) in &scene.pieces {
                for (_, solid) in piece.solids() {
                    triangles += rides.len() * solid.triangles();
                    drawn += rides.len();
                }
            }
            triangles += 10 * pipe::solid(&spec.sticks[0].pipe, quality).triangles();
            drawn += 2 * 10;
            assert!(triangles < most, "{quality:?}: {triangles} triangles");
            assert!(drawn < 220, "{quality:?}: {drawn} meshes");
        }
    }
}

#[test]
fn a_left_handed_line_is_the_mirror_image() {
    for kind in KINDS {
        let right = spec(0.762, 5.0, kind);
        let left = LineSpec {
            hand: Hand::Left,
            ..right.clone()
        };
        let (right, left) = (Scene::of(&right), Scene::of(&left));
        for ((rides, _), (other, _)) in right.pieces.iter().zip(&left.pieces) {
            assert_eq!(rides, other);
            for &rides in rides {
                let (here, there) = (right.at(rides), left.at(rides));
                assert!(
                    here.translation.distance(there.translation) < 1.0e-4
                        && here.rotation.dot(there.rotation).abs() > 1.0 - 1.0e-5,
                    "{rides:?}: {here:?} and {there:?}"
                );
                let now = Now {
                    rig: left.yard.rig(),
                    shown: &left.yard.shown,
                    wound: left.wound,
                };
                let seen = rides.in_world(&now).unwrap();
                let point = Vec3::new(0.3, 0.2, 0.1);
                let mirror = Vec3::new(-1.0, 1.0, 1.0);
                let expected = mirror * here.transform_point(point);
                let mirrored = seen.transform_point(mirror * point);
                assert!(mirrored.distance(expected) < 1.0e-3, "{rides:?}");
            }
        }
    }
}

#[test]
fn a_stick_is_as_oval_as_its_pipe() {
    for od_m in SIZES_M {
        let pipe = lines::pipe(od_m, 17.0, 0.05);
        let mesh = pipe::stick(&pipe, Quality::High);
        let corners = floats(&mesh, Mesh::ATTRIBUTE_POSITION);
        let most = |of: fn(&Vec3) -> f32| corners.iter().map(of).fold(0.0, f32::max);
        let oval = pipe.oval();
        // The mark of the long axis lies a hair over the surface.
        let expected = [
            (most(|v| v.x.abs()), oval.long_m as f32),
            (most(|v| v.y.abs()), oval.short_m as f32),
            (most(|v| v.z.abs()), 0.5 * pipe.length_m as f32),
        ];
        for (drawn, core) in expected {
            assert!((drawn - core).abs() < 0.002, "{od_m} m: {drawn}, {core}");
        }
        let narrowest = corners
            .iter()
            .map(|v| v.truncate().length())
            .fold(f32::INFINITY, f32::min);
        let bore = (oval.short_m - pipe.wall_avg_m) as f32;
        assert!(
            (narrowest - bore).abs() < 0.002,
            "{od_m} m: {narrowest}, {bore}"
        );
    }
}

#[test]
fn every_part_has_a_place_that_can_be_pointed_at() {
    for kind in KINDS {
        for od_m in SIZES_M {
            let yard = Yard::new(&Line::build(&spec(od_m, 5.0, kind)));
            for part in Part::fixed() {
                let there = place_of(part, &yard);
                let none = matches!(part, Part::Separator(_)) && kind == EscapementKind::StarWheel;
                assert_eq!(there.is_none(), none, "{part:?}");
                if let Some(at) = there {
                    assert!(
                        at.is_finite() && at.y > -0.01 && at.y < 4.0,
                        "{part:?} at {at}"
                    );
                }
                assert!(part.reach_m(&yard) > 0.0, "{part:?}");
            }
            let items = [
                Item::Rollers,
                Item::Radio,
                Item::Rail(End::Near),
                Item::Rail(End::Far),
            ];
            let items = items.into_iter().chain(Motion::ALL.map(Item::Motion));
            for item in items {
                let part = Part::of_item(item, &yard).unwrap();
                assert!(place_of(part, &yard).is_some(), "{item:?}");
            }
            for motion in Motion::ALL {
                assert!(
                    place_of(Part::moved_by(motion), &yard).is_some(),
                    "{motion:?}"
                );
            }
        }
    }
}

#[test]
fn parts_follow_what_moves_them() {
    let mut yard = Yard::new(&Line::build(&spec(0.762, 5.0, EscapementKind::PinPair)));
    let place = |yard: &Yard, part: Part| place_of(part, yard).unwrap();
    let before = [
        Part::Cradle(End::Near),
        Part::Receiver,
        Part::Gate(End::Far),
        Part::Inclinometer(End::Near),
    ]
    .map(|part| (part, place(&yard, part)));
    let shown = &mut yard.shown;
    shown.cradles[0].raised_m += 0.2;
    shown.receiver_lowered_m += 0.1;
    shown.gates[1] -= 0.5;
    shown.pitch_rad[0] += rad(1.0);
    let by = |part: Part| {
        let (_, was) = before.iter().find(|(of, _)| *of == part).unwrap();
        place(&yard, part) - *was
    };
    assert!((by(Part::Cradle(End::Near)) - Vec3::Y * 0.2).length() < 1.0e-4);
    assert!((by(Part::Receiver) + Vec3::Y * 0.1).length() < 1.0e-4);
    assert!(by(Part::Gate(End::Far)).y < -0.05);
    assert!(by(Part::Inclinometer(End::Near)).y > 0.01);
}

/// A coupler that is not home looks it: what is drawn there is not the same.
#[test]
fn couplers_show_how_far_they_are_home() {
    let drawn = |coupler: Coupler, crossed: bool| {
        let mut spec = spec(0.6096, 5.0, EscapementKind::PinPair);
        let faults = spec.faults.motion_mut(Motion::LiftFar);
        (faults.coupler, faults.crossed) = (coupler, crossed);
        let scene = Scene::of(&spec);
        scene.corners(|rides| rides == Rides::Ground)
    };
    let sound = drawn(Coupler::Latched, false);
    for (coupler, crossed) in [
        (Coupler::Half, false),
        (Coupler::Off, false),
        (Coupler::Latched, true),
    ] {
        assert_ne!(sound, drawn(coupler, crossed), "{coupler:?}, {crossed}");
    }
}

/// The picture is a function of the line alone.
#[test]
fn the_same_line_gives_the_same_meshes() {
    let spec = spec(0.9144, 5.0, EscapementKind::PinPair);
    let corners = |scene: &Scene| scene.corners(|_| true);
    assert_eq!(corners(&Scene::of(&spec)), corners(&Scene::of(&spec)));
    let shown = Shown::of(&Line::build(&spec));
    assert_eq!(shown, Scene::of(&spec).yard.shown);
}
