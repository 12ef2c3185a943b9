//! The exclusion zone as a polygon, and the envelope of a loose stick that it is judged against.
//! Each value says where it comes from.

#[path = "common/mod.rs"]
mod common;

use chockline::domain::envelope::{
    Adequacy, Envelope, Reach, YAW_MAX_RAD, adequacy, inside_either,
};
use chockline::domain::limits::{PERCEPTION_RESPONSE, WALKING_SPEED};
use chockline::domain::math::{GRAVITY_M_PER_S2 as G, PI, atan, cos, rad, sin, sqrt, tan};
use chockline::domain::pipe::Pipe;
use chockline::domain::rig::{End, Rig};
use chockline::domain::rolling::{Roller, wind_drag_n};
use chockline::domain::spec::{EscapementKind, GroundSpec, Hand, LineSpec, Place, Surface};
use chockline::domain::zone::{AREA_MIN_M2, CONES_APART_M, SITE_M, Zone, ZoneFault};
use chockline::sim::controls::{Button, Controls};
use chockline::sim::line::{Line, StickPlace};
use chockline::sim::world::{Touching, World, WorldSettings, rotation_about_z};
use chockline::sim::{Pose, Vector};
use common::{RAILS_Z_M, lines, on_slope, run, touching};
use proptest::prelude::*;

fn at(x_m: f64, z_m: f64) -> Place {
    Place { x_m, z_m }
}

fn places(corners: &[(f64, f64)]) -> Vec<Place> {
    corners.iter().map(|&(x_m, z_m)| at(x_m, z_m)).collect()
}

fn zone(corners: &[(f64, f64)]) -> Zone {
    Zone::new(&places(corners)).unwrap()
}

fn fault(corners: &[(f64, f64)]) -> ZoneFault {
    Zone::new(&places(corners)).unwrap_err()
}

#[track_caller]
fn within(what: &str, got: f64, expected: f64, tolerance: f64) {
    assert!(
        (got - expected).abs() <= tolerance,
        "{what}: got {got}, expected {expected} within {tolerance}"
    );
}

/// Eight by six metres.
const OBLONG: [(f64, f64); 4] = [(0.0, 0.0), (8.0, 0.0), (8.0, 6.0), (0.0, 6.0)];
/// The same with a notch in its far side, 2 m wide and 4 m deep.
const NOTCHED: [(f64, f64); 8] = [
    (0.0, 0.0),
    (8.0, 0.0),
    (8.0, 6.0),
    (5.0, 6.0),
    (5.0, 2.0),
    (3.0, 2.0),
    (3.0, 6.0),
    (0.0, 6.0),
];

// --- polygon ------------------------------------------------------------------------------------

#[test]
fn val_areas_by_hand() {
    // Length times width; half base times height; the shoelace formula.
    within("oblong", zone(&OBLONG).area_m2(), 48.0, 1e-12);
    within("notched", zone(&NOTCHED).area_m2(), 48.0 - 8.0, 1e-12);
    let triangle = zone(&[(1.0, 1.0), (5.0, 1.0), (2.0, 4.0)]);
    within("triangle", triangle.area_m2(), 6.0, 1e-12);
}

#[test]
fn val_inside_outside_and_on_the_edge() {
    // By eye.
    let zone = zone(&NOTCHED);
    for (place, inside) in [
        (at(1.0, 1.0), true),
        (at(4.0, 1.0), true),
        (at(4.0, 3.0), false),
        (at(-0.1, 3.0), false),
        (at(9.0, 3.0), false),
        // In line with edges and corners.
        (at(-1.0, 2.0), false),
        (at(9.0, 6.0), false),
        (at(1.0, 2.0), true),
        // On them.
        (at(0.0, 0.0), true),
        (at(4.0, 2.0), true),
        (at(5.0, 4.0), true),
        (at(8.0, 5.0), true),
    ] {
        assert_eq!(zone.contains(place), inside, "{place:?}");
    }
}

#[test]
fn val_distances_from_the_edge() {
    // Pythagoras.
    let zone = zone(&OBLONG);
    within("inside", zone.edge_distance_m(at(4.0, 2.0)), 2.0, 1e-12);
    within("outside", zone.edge_distance_m(at(4.0, -1.5)), -1.5, 1e-12);
    within("corner", zone.edge_distance_m(at(11.0, 10.0)), -5.0, 1e-12);
    within("edge", zone.edge_distance_m(at(8.0, 3.0)), 0.0, 1e-12);
}

#[test]
fn val_widest_gap_is_between_neighbours_the_last_and_the_first_among_them() {
    // By eye.
    let gap = zone(&OBLONG).widest_gap();
    assert_eq!((gap.cones, gap.width_m), ([1, 2], 8.0));
    let gap = zone(&[(0.0, 0.0), (3.0, 0.0), (3.0, 4.0), (0.0, 5.0)]).widest_gap();
    assert_eq!((gap.cones, gap.width_m), ([4, 1], 5.0));
}

#[test]
fn val_what_sticks_out_of_a_zone() {
    // By eye.
    let zone = zone(&OBLONG);
    let beyond = places(&[(1.0, 1.0), (11.0, 1.0), (11.0, 3.0), (1.0, 3.0)]);
    let out = zone.uncovered(&beyond).unwrap();
    within("by", out.by_m, 3.0, 1e-9);
    assert_eq!(out.at.x_m, 11.0);
    for cut in [(8.0, 1.0), (8.0, 3.0), (11.0, 1.0), (11.0, 3.0)] {
        let found = out
            .places
            .iter()
            .any(|p| (p.x_m - cut.0).abs() + (p.z_m - cut.1).abs() < 1e-9);
        assert!(found, "{cut:?} is not among {:?}", out.places);
    }
    // Past a corner, over the diagonal: 3, 4, 5.
    let out = zone
        .uncovered(&places(&[(7.0, 5.0), (11.0, 10.0), (7.0, 5.5)]))
        .unwrap();
    within("by", out.by_m, 5.0, 1e-9);
    assert!(!zone.covers(&beyond));
    assert!(zone.covers(&places(&[(1.0, 1.0), (7.0, 1.0), (4.0, 5.0)])));
}

#[test]
fn val_a_notch_uncovers_what_its_corners_are_within() {
    // All corners of the polygon are inside, the notch's floor is 1.5 m deep in it: by eye.
    let across = places(&[(1.0, 0.5), (7.0, 0.5), (7.0, 4.0), (1.0, 4.0)]);
    let zone = zone(&NOTCHED);
    assert!(across.iter().all(|&corner| zone.contains(corner)));
    let out = zone.uncovered(&across).unwrap();
    within("by", out.by_m, 1.5, 1e-9);
    assert_eq!(out.at.z_m, 2.0);
}

#[test]
fn inv_a_zone_covers_itself_and_nothing_larger() {
    for corners in [&OBLONG[..], &NOTCHED[..]] {
        let zone = zone(corners);
        assert!(zone.covers(zone.cones()));
        let larger: Vec<Place> = zone
            .cones()
            .iter()
            .map(|p| at(4.0 + 1.001 * (p.x_m - 4.0), 1.0 + 1.001 * (p.z_m - 1.0)))
            .collect();
        assert!(!zone.covers(&larger));
    }
}

#[test]
fn bad_cones_are_refused_with_what_to_do() {
    let message = |corners: &[(f64, f64)]| fault(corners).to_string();
    assert_eq!(
        message(&OBLONG[..2]),
        "the zone has 2 cones, which enclose nothing: set at least 3"
    );
    let mut twice = OBLONG.to_vec();
    twice[3] = (8.0, 5.95);
    assert_eq!(
        message(&twice),
        "cones 3 and 4 are 0.05 m apart, allowed is 0.1 m and more: leave one of them out"
    );
    assert_eq!(
        message(&[(0.0, 0.0), (1.0, 0.0), (0.0, 1.0)]),
        "the zone covers 0.50 m², allowed is 1 m² and more: set the cones farther apart"
    );
    assert!(matches!(fault(&[]), ZoneFault::TooFew { cones: 0 }));
    for bad in [f64::NAN, f64::INFINITY, -SITE_M * 1.001, 1e300] {
        for place in [(bad, 1.0), (1.0, bad)] {
            let mut cones = OBLONG.to_vec();
            cones[1] = place;
            assert!(matches!(
                fault(&cones),
                ZoneFault::OffSite { cone: 2, place: p } if p.x_m.to_bits() == place.0.to_bits()
            ));
            assert!(fault(&cones).to_string().starts_with("cone 2 stands at x"));
        }
    }
}

#[test]
fn a_zone_that_crosses_or_touches_itself_is_refused_and_says_where() {
    let crossed = [
        (0.0, 0.0),
        (2.0, 0.0),
        (8.0, 0.0),
        (8.0, 6.0),
        (5.0, 6.0),
        (5.0, -2.0),
    ];
    // The edge from cone 5 to cone 6 goes down through the one from 2 to 3.
    assert_eq!(
        fault(&crossed).to_string(),
        "the zone crosses itself between cones 2-3 and 5-6: set the cones in the order in which \
         somebody walks around it"
    );
    let edges = |corners: &[(f64, f64)]| match fault(corners) {
        ZoneFault::Crosses { edges } => edges,
        other => panic!("{other}"),
    };
    // A bow tie; a corner on an edge, and half a millimetre off it; an edge along another; a spike;
    // three in a row; and the last edge, from the last cone to the first.
    let bow_tie = [(0.0, 0.0), (4.0, 4.0), (4.0, 0.0), (0.0, 4.0)];
    assert_eq!(edges(&bow_tie), [[1, 2], [3, 4]]);
    for gap_m in [0.0, 0.0005] {
        let touches = [(0.0, 0.0), (8.0, 0.0), (8.0, 6.0), (4.0, gap_m), (0.0, 6.0)];
        assert_eq!(edges(&touches), [[1, 2], [3, 4]]);
    }
    let along = [
        (0.0, 0.0),
        (8.0, 0.0),
        (8.0, 6.0),
        (6.0, 0.0),
        (3.0, 0.0),
        (0.0, 6.0),
    ];
    assert_eq!(edges(&along), [[1, 2], [3, 4]]);
    let spike = [(0.0, 0.0), (8.0, 0.0), (8.0, 6.0), (8.0, 3.0), (0.0, 6.0)];
    assert_eq!(edges(&spike), [[2, 3], [3, 4]]);
    assert_eq!(
        edges(&[(0.0, 0.0), (4.0, 2.0), (8.0, 4.0)]),
        [[1, 2], [3, 1]]
    );
    let last = [(0.0, 0.0), (8.0, 0.0), (8.0, 6.0), (-2.0, 6.0), (4.0, -1.0)];
    assert_eq!(edges(&last), [[1, 2], [4, 5]]);
    // A narrow gate is none of these.
    assert!(Zone::new(&places(&NOTCHED)).is_ok());
    // Neither are two edges in one line, which the computer cannot tell from parallel.
    zone(&[
        (0.0, 0.0),
        (0.1, 0.3),
        (3.0, 0.0),
        (0.7, 2.1),
        (0.9, 2.7),
        (-3.0, 3.0),
    ]);
}

// --- polygon, by brute force --------------------------------------------------------------------

/// Four to a dozen corners at rising angles about a middle, each at its own distance: a simple
/// polygon, because no two neighbours are half a turn apart.
fn star() -> impl Strategy<Value = Vec<Place>> {
    let spokes = proptest::collection::vec((2.0..10.0_f64, 0.0..0.6_f64), 4..=12);
    (spokes, -20.0..20.0_f64, -20.0..20.0_f64, any::<bool>()).prop_map(|(spokes, x, z, back)| {
        let count = spokes.len() as f64;
        let mut corners: Vec<Place> = spokes
            .iter()
            .enumerate()
            .map(|(i, (far, late))| {
                let angle = 2.0 * PI * (i as f64 + late) / count;
                at(x + far * cos(angle), z + far * sin(angle))
            })
            .collect();
        if back {
            corners.reverse();
        }
        corners
    })
}

/// How often the edges go round a place (sum of the angles they subtend there).
fn winding(polygon: &[Place], place: Place) -> f64 {
    let angles = (0..polygon.len()).map(|i| {
        let (a, b) = (polygon[i], polygon[(i + 1) % polygon.len()]);
        let (ax, az) = (a.x_m - place.x_m, a.z_m - place.z_m);
        let (bx, bz) = (b.x_m - place.x_m, b.z_m - place.z_m);
        libm::atan2(ax * bz - az * bx, ax * bx + az * bz)
    });
    angles.sum::<f64>() / (2.0 * PI)
}

fn scatter(seeds: &[(f64, f64)], middle: Place) -> Vec<Place> {
    let spread = |(x, z): &(f64, f64)| at(middle.x_m + 12.0 * x, middle.z_m + 12.0 * z);
    seeds.iter().map(spread).collect()
}

fn middle_of(polygon: &[Place]) -> Place {
    let count = polygon.len() as f64;
    at(
        polygon.iter().map(|p| p.x_m).sum::<f64>() / count,
        polygon.iter().map(|p| p.z_m).sum::<f64>() / count,
    )
}

fn seeds() -> impl Strategy<Value = Vec<(f64, f64)>> {
    proptest::collection::vec((-1.0..1.0_f64, -1.0..1.0_f64), 40)
}

fn mirrored(polygon: &[Place]) -> Vec<Place> {
    polygon.iter().map(|p| at(-p.x_m, p.z_m)).collect()
}

/// Nearest of many places on the edge.
fn sampled_distance_m(polygon: &[Place], place: Place) -> f64 {
    let mut least = f64::INFINITY;
    for i in 0..polygon.len() {
        let (a, b) = (polygon[i], polygon[(i + 1) % polygon.len()]);
        for step in 0..=400 {
            let part = f64::from(step) / 400.0;
            let dx = a.x_m + part * (b.x_m - a.x_m) - place.x_m;
            let dz = a.z_m + part * (b.z_m - a.z_m) - place.z_m;
            least = least.min(sqrt(dx * dx + dz * dz));
        }
    }
    least
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 96, ..ProptestConfig::default() })]

    #[test]
    fn inv_contains_agrees_with_the_winding_number(cones in star(), seeds in seeds()) {
        let zone = Zone::new(&cones).unwrap();
        for place in scatter(&seeds, middle_of(&cones)) {
            let inside = winding(&cones, place).abs() > 0.5;
            let edge_m = zone.edge_distance_m(place);
            prop_assert_eq!(zone.contains(place), inside);
            prop_assert_eq!(edge_m > 0.0, inside);
            // 20 m of edge in 400 steps, and Pythagoras at the least distance met here.
            prop_assert!((edge_m.abs() - sampled_distance_m(&cones, place)).abs() < 0.03);
        }
    }

    #[test]
    fn inv_neither_the_way_round_nor_the_first_cone_nor_the_hand_matters(
        cones in star(), other in star(), seeds in seeds(), turn in 0..12_usize,
    ) {
        let zone = Zone::new(&cones).unwrap();
        let mut turned = cones.clone();
        turned.rotate_left(turn % cones.len());
        let back: Vec<Place> = cones.iter().rev().copied().collect();
        let by_m = |zone: &Zone, other: &[Place]| zone.uncovered(other).map_or(0.0, |out| out.by_m);
        for same in [Zone::new(&turned).unwrap(), Zone::new(&back).unwrap()] {
            prop_assert!((same.area_m2() - zone.area_m2()).abs() < 1e-9);
            prop_assert!((same.widest_gap().width_m - zone.widest_gap().width_m).abs() < 1e-12);
            prop_assert!((by_m(&same, &other) - by_m(&zone, &other)).abs() < 1e-9);
            for place in scatter(&seeds, middle_of(&cones)) {
                prop_assert!((same.edge_distance_m(place) - zone.edge_distance_m(place)).abs() < 1e-9);
            }
        }
        let image = Zone::new(&mirrored(&cones)).unwrap();
        prop_assert!((image.area_m2() - zone.area_m2()).abs() < 1e-9);
        prop_assert!((by_m(&image, &mirrored(&other)) - by_m(&zone, &other)).abs() < 1e-9);
        for place in scatter(&seeds, middle_of(&cones)) {
            prop_assert_eq!(image.contains(at(-place.x_m, place.z_m)), zone.contains(place));
        }
    }

    #[test]
    fn inv_covers_agrees_with_sampling(
        cones in star(), other in star(), shrink in 0.05..1.2_f64, seeds in seeds(),
    ) {
        // The other polygon about the same middle, so that it is covered about half of the time.
        let (to, from) = (middle_of(&cones), middle_of(&other));
        let other: Vec<Place> = other
            .iter()
            .map(|p| at(to.x_m + shrink * (p.x_m - from.x_m), to.z_m + shrink * (p.z_m - from.z_m)))
            .collect();
        let zone = Zone::new(&cones).unwrap();
        let out = zone.uncovered(&other);
        prop_assert_eq!(zone.covers(&other), out.is_none());
        // Samples of its edges, and of its inside.
        let mut worst_m: f64 = 0.0;
        for i in 0..other.len() {
            let (a, b) = (other[i], other[(i + 1) % other.len()]);
            for step in 0..200 {
                let part = f64::from(step) / 200.0;
                let place = at(a.x_m + part * (b.x_m - a.x_m), a.z_m + part * (b.z_m - a.z_m));
                worst_m = worst_m.max(-zone.edge_distance_m(place));
            }
        }
        for place in scatter(&seeds, to) {
            if winding(&other, place).abs() > 0.5 {
                worst_m = worst_m.max(-zone.edge_distance_m(place));
            }
        }
        match out {
            None => prop_assert!(worst_m < 1e-5, "a sample is {worst_m} m outside"),
            Some(out) => {
                // A sliver may fall between the samples.
                prop_assert!(worst_m > 0.0 || out.by_m < 0.2, "{out:?}");
                for &p in &out.places {
                    let off = zone.edge_distance_m(p) < 1e-6 || winding(&other, p).abs() > 0.4;
                    prop_assert!(off, "{p:?} does not stick out");
                }
            }
        }
    }

    #[test]
    fn inv_what_is_accepted_neither_crosses_nor_crowds(
        cones in proptest::collection::vec((-5.0..5.0_f64, -5.0..5.0_f64), 3..=7),
    ) {
        let cones = places(&cones);
        // Brute force: no edge may change sides of another, corners apart.
        let side = |a: Place, b: Place, p: Place| {
            (b.x_m - a.x_m) * (p.z_m - a.z_m) - (b.z_m - a.z_m) * (p.x_m - a.x_m)
        };
        let n = cones.len();
        let crosses = (0..n).any(|i| (0..n).any(|j| {
            let (a, b, c, d) = (cones[i], cones[(i + 1) % n], cones[j], cones[(j + 1) % n]);
            side(a, b, c) * side(a, b, d) < 0.0 && side(c, d, a) * side(c, d, b) < 0.0
                && i != j && (i + 1) % n != j && (j + 1) % n != i
        }));
        match Zone::new(&cones) {
            Ok(zone) => {
                prop_assert!(!crosses && zone.area_m2() >= AREA_MIN_M2);
                prop_assert!(zone.widest_gap().width_m >= CONES_APART_M);
            }
            // Refused for no reason but the thin rim in which edges touch.
            Err(ZoneFault::Crosses { edges: [a, b] }) => {
                let nearly = |p: usize, edge: [usize; 2]| {
                    sampled_distance_m(&[cones[edge[0] - 1], cones[edge[1] - 1]], cones[p - 1]) < 0.05
                };
                let touches = a.iter().any(|&p| !b.contains(&p) && nearly(p, b))
                    || b.iter().any(|&p| !a.contains(&p) && nearly(p, a));
                prop_assert!(crosses || touches, "{a:?} and {b:?} of {cones:?}");
            }
            Err(_) => {}
        }
    }
}

// --- envelope, by hand --------------------------------------------------------------------------

/// Level ground, no wind, 24 in DR 17, 40 ft, four sticks on 5°.
fn plain() -> LineSpec {
    lines::line(
        lines::pipe(24.0 * lines::INCH_M, 17.0, 0.0),
        4,
        5.0,
        EscapementKind::PinPair,
    )
}

fn envelope(spec: &LineSpec) -> Envelope {
    Envelope::new(&Rig::new(spec), &spec.sticks[0].pipe)
}

fn changed(change: impl FnOnce(&mut LineSpec)) -> Envelope {
    let mut spec = plain();
    change(&mut spec);
    envelope(&spec)
}

/// From, to, m; infinite where it does not stop.
fn extents_m(envelope: &Envelope) -> [f64; 4] {
    let number = |reach, sign: f64| match reach {
        Reach::Stops { at_m } => at_m,
        Reach::DoesNotStop => sign * f64::INFINITY,
    };
    [
        number(envelope.x_m.from, -1.0),
        number(envelope.x_m.to, 1.0),
        number(envelope.z_m.from, -1.0),
        number(envelope.z_m.to, 1.0),
    ]
}

fn x_to_m(envelope: &Envelope) -> f64 {
    extents_m(envelope)[1]
}

fn x_from_m(envelope: &Envelope) -> f64 {
    extents_m(envelope)[0]
}

/// How far a stick turned as far as assumed reaches ahead of its middle, m.
fn turned_m(pipe: &Pipe) -> f64 {
    pipe.radius_m() + 0.5 * pipe.length_m * sin(YAW_MAX_RAD)
}

#[test]
fn val_the_envelope_of_a_plain_line() {
    // Derived apart from this code, by stepping Newton's laws over the edge and down (1 µs steps)
    // and the energy of rolling for the rest; all m.
    //   over the toe:   1.6782 m/s at the toe, 0.8567 to the landing, 3.2992 over the ground
    //   over the stop:  0.2087 + 0.7935 + 2.8000, less far
    //   off the cradle: 0.6696 + 0.5699 + 0.9934, less far
    //   off the rack's high end: -(3.6814 + 0.5457 + 0.9934)
    //   lengthwise: half of 6.7733, 0.15 m/s over the fall of 1.711, 0.0023 of sliding, half a stick
    let pipe = plain().sticks[0].pipe;
    let [x_from, x_to, z_from, z_to] = extents_m(&envelope(&plain()));
    within("to", x_to - turned_m(&pipe), 3.81454, 1e-4);
    within(
        "from",
        x_from + turned_m(&pipe),
        -8.57332 + turned_m(&pipe),
        1e-4,
    );
    within("along", z_to, 9.57355, 1e-4);
    within("along, back", z_from, -9.57355, 1e-4);
}

#[test]
fn val_a_stick_that_slides_faster_than_it_would_roll_is_taken_at_that() {
    // OpenStax University Physics 1, 11.1: beyond tan θ = μ(1 + k)/k it slides at g(sin θ - μ cos θ).
    let glazed = |spec: &mut LineSpec| spec.rack.far_rail.surface = Surface::Glazed;
    assert!(x_to_m(&changed(glazed)) > x_to_m(&envelope(&plain())));
    let frosted = |spec: &mut LineSpec| spec.rack.far_rail.surface = Surface::Frosted;
    // tan 5° is below 0.05 · 2.13, so a frosted rail still makes it roll.
    assert_eq!(
        x_to_m(&changed(frosted)),
        x_to_m(&envelope(&plain())),
        "no slip, no difference"
    );
}

#[test]
fn val_the_machine_belongs_to_the_envelope_where_it_is_longer_than_the_way() {
    // By eye: jaws' centre and the half length beyond it.
    let long = |spec: &mut LineSpec| spec.machine.half_length_m = 4.0;
    let mut spec = plain();
    long(&mut spec);
    let jaws_m = Rig::new(&spec).jaws_z_m();
    within("far end", extents_m(&changed(long))[3], jaws_m + 4.0, 1e-9);
}

#[test]
fn val_lifts_one_stroke_apart_let_a_stick_slide_where_rubber_is_glazed() {
    // Statics (derived): one free cradle of 120° holds tan δ = μ/√3, here 1.0 against 5.06°; then
    // v² = 2 g (sin δ - cos δ μ/√3) · 3.387, and the fall and the slide on the ground go with it.
    let glazed = changed(|spec| spec.cradles.surface = Surface::Glazed);
    let (mu, spacing, stroke) = (0.03, 12.192 / 1.8, 0.6);
    let tilt = atan(stroke / spacing);
    let speed = sqrt(2.0 * G * (sin(tilt) - cos(tilt) * mu / sqrt(3.0)) * spacing / 2.0);
    // From the raised V to the ground.
    let (rig, radius) = (Rig::new(&plain()), plain().sticks[0].pipe.radius_m());
    let height = rig.apex_low_m() + stroke + radius / cos(std::f64::consts::FRAC_PI_6) - radius;
    let fall_s = sqrt(2.0 * height / G);
    let want = spacing / 2.0 + speed * fall_s + speed * speed / (2.0 * 0.5 * G) + 6.096;
    within("end", extents_m(&glazed)[3], want, 1e-6);
}

#[test]
fn val_fall_on_to_sloping_ground_by_integration() {
    // Free flight in small steps from where contact ends, until the ground is one radius away.
    let roller = Roller {
        radius_m: 0.315,
        shape_factor: 0.8872,
    };
    for fall_deg in [-8.0, -2.0, 3.0, 10.0] {
        for speed in [0.3, 1.5, 2.5] {
            let fall = rad(fall_deg);
            let got = roller.fall_from_edge_to_slope(speed, 1.2, fall).unwrap();
            let (s, c) = (sin(got.leaves_rad), cos(got.leaves_rad));
            let (mut x, mut y) = (0.315 * s, 1.2 + 0.315 * c);
            let (mut down, mut time, dt) = (got.surface_m_per_s * s, 0.0, 1e-6);
            while y * cos(fall) + x * sin(fall) > 0.315 {
                down += dt * G;
                y -= dt * down;
                x += dt * got.across_m_per_s;
                time += dt;
            }
            within("time", got.time_s, time, 1e-5);
            within("reach", got.reach_m, x, 3e-5);
            within("down", got.down_m_per_s, down, 1e-4);
        }
    }
    assert_eq!(
        roller.fall_from_edge_to_slope(1.0, 1.2, 0.0),
        roller.fall_from_edge(1.0, 1.2)
    );
}

// --- envelope, does not stop --------------------------------------------------------------------

#[test]
fn a_stick_does_not_stop_on_ground_that_falls_by_its_rolling_resistance() {
    // Run-out (derived, P12): from a fall of atan C_rr on; C_rr = 0.025/0.3048.
    let limit = atan(0.025 / 0.3048);
    for (sign, stops) in [(1.0, [true, false]), (-1.0, [false, true])] {
        let below = changed(|spec| spec.ground.cross_fall_rad = sign * (limit - 1e-3));
        assert!(below.polygon().is_some());
        assert!(extents_m(&below).iter().any(|reach| reach.abs() > 100.0));
        let above = changed(|spec| spec.ground.cross_fall_rad = sign * (limit + 1e-9));
        assert_eq!(above.polygon(), None);
        let x = [above.x_m.from, above.x_m.to].map(|reach| reach != Reach::DoesNotStop);
        assert_eq!(x, stops);
        assert_eq!(above.z_m.to, Reach::DoesNotStop);
        // Far down it is still in the way, up behind the finite side it is not.
        assert!(above.contains(at(sign * 500.0, 0.0)));
        assert!(!above.contains(at(-sign * 20.0, 0.0)));
        assert_eq!(
            adequacy(Some(&around(&above, 30.0)), &above),
            Adequacy::DoesNotStop
        );
    }
}

#[test]
fn a_stick_that_turns_finds_half_of_the_fall_along_the_line() {
    // sin 30° (geometry): a fall along the line of twice the rolling resistance.
    let limit = atan(2.0 * 0.025 / 0.3048);
    let with = |fall: f64| changed(|spec| spec.ground.along_fall_rad = fall);
    assert!(with(limit - 2e-3).polygon().is_some());
    for fall in [limit + 1e-6, -limit - 1e-6] {
        assert_eq!(with(fall).x_m.to, Reach::DoesNotStop);
        assert_eq!(with(fall).x_m.from, Reach::DoesNotStop);
    }
}

#[test]
fn a_stick_slides_on_along_ground_steeper_than_its_friction() {
    // Statics: tan of the fall above friction. Rolling is kept out of it by a long lever arm.
    let with = |tan_fall: f64| {
        changed(|spec| {
            spec.ground.friction = 0.1;
            spec.ground.rolling_lever_arm_m = 0.2;
            spec.ground.along_fall_rad = atan(tan_fall);
        })
    };
    assert!(with(0.0999).polygon().is_some());
    let down = with(0.1001);
    assert_eq!(down.z_m.to, Reach::DoesNotStop);
    assert!(matches!(down.z_m.from, Reach::Stops { .. }));
    assert!(matches!(down.x_m.to, Reach::Stops { .. }));
    assert_eq!(down.polygon(), None);
    assert_eq!(with(-0.1001).z_m.from, Reach::DoesNotStop);
}

#[test]
fn wind_as_strong_as_the_rolling_resistance_carries_a_stick_on() {
    // Balance of moments (derived): drag over weight = C_rr on the level.
    let pipe = plain().sticks[0].pipe;
    let drag_1 = wind_drag_n(0.7, pipe.outside_diameter_m, pipe.length_m, 1.0);
    let limit = sqrt(pipe.weight_n() * 0.025 / 0.3048 / drag_1);
    let with = |speed: f64, towards: f64| {
        changed(|spec| {
            spec.weather.wind_speed_m_per_s = speed;
            spec.weather.wind_towards_rad = towards;
        })
    };
    assert!(with(0.99 * limit, 0.0).polygon().is_some());
    assert_eq!(with(1.001 * limit, 0.0).x_m.to, Reach::DoesNotStop);
    assert_eq!(with(1.001 * limit, PI).x_m.from, Reach::DoesNotStop);
    assert!(matches!(
        with(1.001 * limit, PI).x_m.to,
        Reach::Stops { .. }
    ));
    // Along the line half of it is across a stick that has turned by 30°: a quarter of the drag.
    let along = PI / 2.0;
    assert!(with(1.98 * limit, along).polygon().is_some());
    assert_eq!(with(2.001 * limit, along).x_m.to, Reach::DoesNotStop);
}

// --- envelope, order ----------------------------------------------------------------------------

#[test]
fn inv_a_steeper_or_longer_rack_or_steeper_ground_reaches_farther() {
    let rising = |change: fn(&mut LineSpec, f64), steps: &[f64], far: fn(&Envelope) -> f64| {
        let mut last = f64::NEG_INFINITY;
        for &step in steps {
            let reach = far(&changed(|spec| change(spec, step)));
            assert!(reach > last, "{step}: {reach} is not beyond {last} m");
            last = reach;
        }
    };
    let pitch = |spec: &mut LineSpec, deg: f64| spec.rack.near_rail.pitch_rad = rad(deg);
    rising(pitch, &[5.0, 6.0, 8.0, 10.0, 12.0], x_to_m);
    let length = |spec: &mut LineSpec, m: f64| spec.rack.length_m = m;
    rising(length, &[3.0, 4.0, 6.0, 10.0], x_to_m);
    rising(length, &[3.0, 4.0, 6.0, 10.0], |e| -x_from_m(e));
    let cross = |spec: &mut LineSpec, deg: f64| spec.ground.cross_fall_rad = rad(deg);
    rising(cross, &[-4.0, -2.0, 0.0, 2.0, 4.0], x_to_m);
    rising(cross, &[4.0, 2.0, 0.0, -2.0, -4.0], |e| -x_from_m(e));
    let height = |spec: &mut LineSpec, m: f64| spec.rack.toe_height_m = m;
    rising(height, &[1.2, 1.4, 1.8], x_to_m);
    let smooth = |spec: &mut LineSpec, arm_m: f64| spec.ground.rolling_lever_arm_m = 1.0 / arm_m;
    rising(smooth, &[20.0, 40.0, 80.0, 200.0], x_to_m);
    let stroke = |spec: &mut LineSpec, m: f64| spec.cradles.lift_stroke_m = m;
    rising(stroke, &[0.4, 0.6, 0.9], |e| extents_m(e)[3]);
}

#[test]
fn inv_the_hand_of_the_line_does_not_matter_in_its_plan() {
    let skewed = |hand| {
        changed(|spec| {
            spec.hand = hand;
            spec.ground.cross_fall_rad = rad(2.0);
            spec.ground.along_fall_rad = rad(-1.0);
        })
    };
    assert_eq!(skewed(Hand::Right), skewed(Hand::Left));
}

#[test]
fn inv_level_ground_gives_an_envelope_that_is_its_own_image_along_the_line() {
    let envelope = envelope(&plain());
    let polygon = envelope.polygon().unwrap();
    for corner in polygon {
        assert!(
            polygon
                .iter()
                .any(|p| (p.x_m - corner.x_m).abs() < 1e-9 && (p.z_m + corner.z_m).abs() < 1e-9),
            "{corner:?} has no image"
        );
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 64, ..ProptestConfig::default() })]

    #[test]
    fn inv_an_envelope_is_convex_finite_and_a_zone_around_the_rack(
        od in 0.5..1.6_f64, length in 3.0..25.0_f64, pitch in 0.0..15.0_f64, sticks in 1..8_usize,
        falls in (-6.0..6.0_f64, -30.0..30.0_f64), wind in (0.0..30.0_f64, 0.0..6.3_f64),
        friction in 0.02..1.0_f64,
    ) {
        let pipe = Pipe { length_m: length, ..lines::pipe(od, 17.0, 0.0) };
        let mut spec = lines::line(pipe, sticks, pitch, EscapementKind::StarWheel);
        spec.ground = GroundSpec {
            cross_fall_rad: rad(falls.0),
            along_fall_rad: rad(falls.1),
            friction,
            ..spec.ground
        };
        spec.weather.wind_speed_m_per_s = wind.0;
        spec.weather.wind_towards_rad = wind.1;
        let rig = Rig::new(&spec);
        let envelope = envelope(&spec);
        // Where sticks belong is inside, whatever else.
        let high = rig.on_rail(End::Near, spec.rack.length_m, 0.0).x_m;
        for x in [high, 0.0] {
            for z in [-0.5, 0.5] {
                prop_assert!(envelope.contains(at(x, z * length)));
            }
        }
        prop_assert!(!envelope.contains(at(0.0, 3000.0)) && !envelope.contains(at(3000.0, 0.0)));
        let Some(polygon) = envelope.polygon() else {
            prop_assert!(extents_m(&envelope).iter().any(|reach| reach.is_infinite()));
            return Ok(());
        };
        let n = polygon.len();
        for i in 0..n {
            let (a, b, c) = (polygon[i], polygon[(i + 1) % n], polygon[(i + 2) % n]);
            let turn = (b.x_m - a.x_m) * (c.z_m - b.z_m) - (b.z_m - a.z_m) * (c.x_m - b.x_m);
            prop_assert!(turn > 0.0, "not convex at {b:?}");
        }
        let [x_from, x_to, z_from, z_to] = extents_m(&envelope);
        let frame = [(x_from, z_from), (x_to, z_from), (x_to, z_to), (x_from, z_to)];
        if let Ok(frame) = Zone::new(&places(&frame)) {
            prop_assert_eq!(adequacy(Some(&frame), &envelope), Adequacy::Covers);
        }
    }

    #[test]
    fn inv_a_stick_that_turns_as_assumed_stays_inside(
        turn in -1.0..1.0_f64, yaw in -1.0..1.0_f64, part in 0.0..1.0_f64, end in -1.0..1.0_f64,
        side in -1.0..1.0_f64, pitch in 4.0..12.0_f64,
    ) {
        // Brute force over the sweep that is assumed, with the way read back from the extent.
        let mut spec = plain();
        spec.rack.near_rail.pitch_rad = rad(pitch);
        let pipe = spec.sticks[0].pipe;
        let (r, envelope) = (pipe.radius_m(), envelope(&spec));
        let stops_m = x_to_m(&envelope) - turned_m(&pipe);
        // The toe is left within half a diameter of a metre of x = 0.
        let lands_m = 1.5_f64.min(stops_m);
        let (turn, yaw) = (turn * YAW_MAX_RAD, yaw * YAW_MAX_RAD);
        let way = part * (stops_m - lands_m);
        let (along, across) = (0.5 * end * pipe.length_m, side * r);
        prop_assert!(envelope.contains(at(
            lands_m + way * cos(turn) + along * sin(yaw) + across * cos(yaw),
            way * sin(turn) + along * cos(yaw) - across * sin(yaw),
        )));
    }
}

// --- zone against envelope ----------------------------------------------------------------------

/// An oblong zone that keeps `margin_m` from the finite sides of an envelope, and ends at 100 m on
/// the others.
fn around(envelope: &Envelope, margin_m: f64) -> Zone {
    let [x_from, x_to, z_from, z_to] = extents_m(envelope).map(|reach| reach.clamp(-100.0, 100.0));
    let (x_from, x_to) = (x_from - margin_m, x_to + margin_m);
    let (z_from, z_to) = (z_from - margin_m, z_to + margin_m);
    zone(&[
        (x_from, z_from),
        (x_to, z_from),
        (x_to, z_to),
        (x_from, z_to),
    ])
}

#[test]
fn a_zone_is_judged_by_how_far_the_envelope_sticks_out_and_where() {
    let envelope = envelope(&plain());
    assert_eq!(adequacy(None, &envelope), Adequacy::NoZone);
    assert_eq!(
        adequacy(Some(&around(&envelope, 0.1)), &envelope),
        Adequacy::Covers
    );
    let own = Zone::new(envelope.polygon().unwrap()).unwrap();
    assert_eq!(adequacy(Some(&own), &envelope), Adequacy::Covers);
    let [x_from, x_to, z_from, z_to] = extents_m(&envelope);
    let short = zone(&[
        (x_from, z_from),
        (x_to - 1.5, z_from),
        (x_to - 1.5, z_to),
        (x_from, z_to),
    ]);
    // By construction.
    let Adequacy::Short { by_m, at } = adequacy(Some(&short), &envelope) else {
        panic!("must be short");
    };
    within("by", by_m, 1.5, 1e-9);
    within("at", at.x_m, x_to, 1e-9);
}

#[test]
fn somebody_is_inside_the_zone_or_the_envelope_or_neither() {
    let envelope = envelope(&plain());
    let beside = zone(&[(20.0, 0.0), (24.0, 0.0), (24.0, 4.0), (20.0, 4.0)]);
    for (place, with, without) in [
        (at(22.0, 2.0), true, false),
        (at(2.0, 2.0), true, true),
        (at(15.0, 2.0), false, false),
    ] {
        assert_eq!(inside_either(place, Some(&beside), &envelope), with);
        assert_eq!(inside_either(place, None, &envelope), without);
    }
}

#[test]
fn somebody_below_the_rack_does_not_get_clear_and_somebody_at_the_rim_does() {
    let escape = |envelope: &Envelope, x: f64, z: f64| {
        envelope.escape(at(x, z), PERCEPTION_RESPONSE.value, WALKING_SPEED.value)
    };
    let level = envelope(&plain());
    let rim_m = x_to_m(&level);
    let close = escape(&level, 1.0, 0.0);
    assert!(!close.gets_clear(), "{close:?}");
    // 2.5 s and the way over 1.15 m/s (TCRP-NCHRP, AASHTO Green Book): 0.1 m.
    let rim = escape(&level, rim_m - 0.1, 0.0);
    within("clear", rim.clear_s, 2.5 + 0.1 / 1.15, 1e-9);
    assert!(rim.gets_clear(), "{rim:?}");
    // Outside, and up behind the rack, no stick that is let go comes.
    assert_eq!(escape(&level, rim_m + 0.1, 0.0).arrival_s, None);
    assert!(escape(&level, x_from_m(&level) + 0.5, 0.0).gets_clear());
    // Under a stick there is no time at all.
    assert_eq!(escape(&level, -2.0, 0.0).arrival_s, Some(0.0));
}

#[test]
fn val_arrival_at_the_toe_by_uniform_acceleration() {
    // OpenStax University Physics 1, 11.1: the stick at the gate, whose corner is as high as half
    // its radius, lies R(0.98 + sin 60°) up the rail; t = √(2 s/a) to the toe, where its front is one
    // radius beyond.
    let spec = plain();
    let (rig, pipe) = (Rig::new(&spec), spec.sticks[0].pipe);
    let (r, k) = (pipe.radius_m(), pipe.shape_factor());
    let run = r * (0.98 + sin(rad(60.0)));
    let a = G * (sin(rad(5.0)) - 0.002 / r * cos(rad(5.0))) / (1.0 + k);
    let arrival = envelope(&spec).arrival_s(at(-rig.toe_m + r, 0.0)).unwrap();
    within("arrival", arrival, sqrt(2.0 * run / a), 1e-9);
}

#[test]
fn inv_a_stick_arrives_later_the_farther_somebody_stands() {
    for fall_deg in [0.0, 2.0, 6.0] {
        let envelope = changed(|spec| spec.ground.cross_fall_rad = rad(fall_deg));
        let mut last = 0.0;
        let mut x = 0.0;
        while let Some(arrival) = envelope.arrival_s(at(x, 0.0))
            && x < 60.0
        {
            assert!(arrival >= last - 1e-12, "{x} m: {arrival} before {last} s");
            (last, x) = (arrival, x + 0.1);
        }
        // All the way to the rim, or for ever.
        assert!(x + 0.1 >= x_to_m(&envelope).min(60.0), "ends at {x} m");
    }
}

// --- against the simulation ---------------------------------------------------------------------

/// A stick from the top of two rails, off their toe and over the ground: where it comes to rest.
fn simulated_stop_m(spec: &LineSpec) -> f64 {
    let (rig, pipe) = (Rig::new(spec), spec.sticks[0].pipe);
    let mut world = World::new(WorldSettings::default());
    let pitch = spec.rack.near_rail.pitch_rad;
    let turn = rotation_about_z(-pitch);
    let toe = Vector::new(-rig.toe_m as f32, spec.rack.toe_height_m as f32, 0.0);
    let touch = |friction: f64, lever_arm_m: f64| Touching {
        rolling_lever_arm_m: lever_arm_m as f32,
        ..touching(friction)
    };
    for z in RAILS_Z_M {
        let half = Vector::new(spec.rack.length_m as f32 / 2.0 + 1.0, 0.05, 0.075);
        let centre = toe + turn * Vector::new(-half.x, -half.y, 0.0) + Vector::Z * z;
        world.add_fixed_box(
            half,
            Pose::from_parts(centre, turn),
            touch(0.3, spec.contact.rolling_lever_arm_m),
        );
    }
    let up = Vector::new(tan(spec.ground.cross_fall_rad) as f32, 1.0, 0.0).normalize();
    world.add_ground(
        Vector::ZERO,
        up,
        touch(spec.ground.friction, spec.ground.rolling_lever_arm_m),
    );
    let mut state = on_slope(pitch, -spec.rack.length_m, pipe.radius_m(), 0.0);
    state.pose.translation += toe;
    let stick = world.add_stick(&pipe, state);
    run(&mut world, 25.0);
    assert!(common::speed(&world, stick) < 0.01, "must have stopped");
    f64::from(world.stick(stick).pose.translation.x)
}

#[test]
fn a_simulated_stick_stops_inside_the_envelope_and_not_far_inside() {
    // The engine with its own contacts, against the closed forms; the level toe and the landing make
    // the envelope the farther one.
    for (pitch_deg, fall_deg) in [(4.0, 0.0), (6.0, 1.0), (10.0, -1.0), (10.0, 2.0)] {
        let mut spec = plain();
        for rail in [&mut spec.rack.near_rail, &mut spec.rack.far_rail] {
            rail.pitch_rad = rad(pitch_deg);
        }
        spec.ground.cross_fall_rad = rad(fall_deg);
        let pipe = spec.sticks[0].pipe;
        let stops_m = simulated_stop_m(&spec);
        let envelope_m = x_to_m(&envelope(&spec)) - turned_m(&pipe);
        assert!(
            stops_m < envelope_m && stops_m > 0.75 * envelope_m,
            "{pitch_deg} and {fall_deg} deg: stops at {stops_m:.3} m, envelope {envelope_m:.3} m"
        );
    }
}

#[test]
fn no_stick_of_a_line_gone_wrong_leaves_the_envelope() {
    // A roll-off, a double feed, one down the ground and one turned by a glazed rail; fed with the
    // interlock defeated until the time is over.
    let gone_wrong: [fn(&mut LineSpec); 4] = [
        |spec| spec.rack.far_rail.pitch_rad = rad(12.0),
        |spec| spec.receiver.starts_up = false,
        |spec| spec.ground.cross_fall_rad = rad(3.0),
        |spec| spec.rack.near_rail.surface = Surface::Glazed,
    ];
    let mut lost = 0;
    for change in gone_wrong {
        let mut spec = plain();
        spec.escapement.interlock = false;
        spec.rack.near_rail.pitch_rad = rad(11.0);
        spec.rack.far_rail.pitch_rad = rad(11.0);
        change(&mut spec);
        let envelope = envelope(&spec);
        let mut line = Line::build(&spec);
        let half_m = 0.5 * spec.sticks[0].pipe.length_m;
        for tick in 0..(30 * 240) {
            // Four seconds on, two off.
            let feed = (tick % 1440 < 960).then_some(Button::Feed);
            line.tick(&Controls::held(feed));
            assert_eq!(line.fault(), None);
            for stick in line.sticks() {
                let state = line.stick(stick);
                let middle = state.pose.translation;
                for end in [-1.0, 1.0] {
                    let tip = middle + state.axis() * (end * half_m as f32);
                    let place = at(f64::from(tip.x), f64::from(tip.z));
                    assert!(
                        envelope.contains(place),
                        "stick {stick:?} is at {place:?} at {:.1} s",
                        line.time_s()
                    );
                }
            }
        }
        lost += line
            .sticks()
            .filter(|&stick| line.place(stick) == StickPlace::Lost)
            .count();
    }
    assert!(
        lost >= 4,
        "only {lost} sticks were lost: the test is too mild"
    );
}
