//! The rig's geometry: nothing clashes and everything fits, for every size, ovality and pitch the
//! line is meant for.

mod common;

use chockline::domain::math::{cos, rad, sin, sqrt};
use chockline::domain::rig::{End, PlaneBox, Point, Rig, SADDLE_FAR_RAD, SADDLE_NEAR_RAD, SPOKES};
use chockline::domain::spec::{EscapementKind, LineSpec};
use chockline::domain::step::SeparatorWindow;
use chockline::domain::vcradle::VCradle;
use common::lines;

/// Iron pipe sizes of the line, m.
const SIZES_M: [f64; 6] = [0.508, 0.6096, 0.762, 0.9144, 1.2192, 1.6002];
const PITCHES_DEG: [f64; 5] = [2.0, 4.0, 6.0, 10.0, 12.0];

fn line(od_m: f64, pitch_deg: f64) -> LineSpec {
    let pipe = lines::pipe(od_m, 17.0, 0.0);
    lines::line(pipe, 3, pitch_deg, EscapementKind::PinPair)
}

fn rigs() -> impl Iterator<Item = (f64, f64, Rig)> {
    SIZES_M
        .into_iter()
        .flat_map(|od_m| PITCHES_DEG.map(|pitch| (od_m, pitch, Rig::new(&line(od_m, pitch)))))
}

fn corners(part: &PlaneBox) -> [Point; 4] {
    let (c, s) = (cos(part.turn_rad), sin(part.turn_rad));
    [(-1.0, -1.0), (1.0, -1.0), (1.0, 1.0), (-1.0, 1.0)].map(|(i, j)| {
        let (u, v) = (i * part.half_length_m, j * part.half_thickness_m);
        Point {
            x_m: part.centre.x_m + u * c - v * s,
            y_m: part.centre.y_m + u * s + v * c,
        }
    })
}

/// Distance of a point from a box, 0 inside, m.
fn distance(part: &PlaneBox, point: Point) -> f64 {
    let (c, s) = (cos(part.turn_rad), sin(part.turn_rad));
    let (dx, dy) = (point.x_m - part.centre.x_m, point.y_m - part.centre.y_m);
    let u = ((dx * c + dy * s).abs() - part.half_length_m).max(0.0);
    let v = ((dy * c - dx * s).abs() - part.half_thickness_m).max(0.0);
    sqrt(u * u + v * v)
}

/// Whether two boxes overlap, by the axes of both.
fn overlap(first: &PlaneBox, second: &PlaneBox) -> bool {
    let apart = |turn: f64, a: &PlaneBox, b: &PlaneBox| {
        let along = |p: &Point| p.x_m * cos(turn) + p.y_m * sin(turn);
        let span = |part: &PlaneBox| {
            corners(part)
                .iter()
                .map(along)
                .fold((f64::MAX, f64::MIN), |(low, high), v| {
                    (low.min(v), high.max(v))
                })
        };
        let ((al, ah), (bl, bh)) = (span(a), span(b));
        ah < bl || bh < al
    };
    let quarter = std::f64::consts::FRAC_PI_2;
    ![
        first.turn_rad,
        first.turn_rad + quarter,
        second.turn_rad,
        second.turn_rad + quarter,
    ]
    .into_iter()
    .any(|turn| apart(turn, first, second))
}

/// Centre of a stick of the setting's size seated in the raised receiver.
fn seat(rig: &Rig) -> Point {
    Point {
        x_m: 0.0,
        y_m: rig.seat_height_m,
    }
}

#[test]
fn a_seated_stick_touches_its_saddle_and_clears_everything_else() {
    for (od_m, pitch, rig) in rigs() {
        let r = od_m / 2.0;
        let at = seat(&rig);
        for plate in rig.saddle(0.0) {
            let gap = distance(&plate, at) - r;
            assert!(
                gap.abs() < 1.0e-3 * r,
                "{od_m} m, {pitch} deg: {gap} m from its saddle"
            );
        }
        let clear = [
            ("the rail", rig.rail_box(End::Near)),
            (
                "the raised gate",
                rig.gate_pin(End::Near, rig.pin_stroke_m()),
            ),
        ];
        for (what, part) in clear {
            let gap = distance(&part, at) - r;
            assert!(gap > 0.02 * r, "{od_m} m, {pitch} deg: {gap} m from {what}");
        }
    }
}

#[test]
fn the_receiver_never_meets_the_rack() {
    for (od_m, pitch, rig) in rigs() {
        for lowered in [0.0, 0.2, 0.45] {
            for plate in rig.saddle(lowered) {
                assert!(
                    !overlap(&plate, &rig.rail_box(End::Near)),
                    "{od_m} m, {pitch} deg, lowered {lowered} m"
                );
            }
        }
    }
}

#[test]
fn a_stick_rolls_down_from_the_rail_on_to_the_saddle() {
    for (od_m, pitch, rig) in rigs() {
        let r = od_m / 2.0;
        let toe = rig.on_rail(End::Near, 0.0, 0.0);
        let near = rig.saddle(0.0)[0];
        let wing = corners(&near)
            .into_iter()
            .filter(|corner| corner.x_m < -0.5 * r)
            .max_by(|a, b| a.y_m.total_cmp(&b.y_m))
            .unwrap();
        let (gap, step) = (wing.x_m - toe.x_m, toe.y_m - wing.y_m);
        assert!(
            gap > 0.0 && gap < 0.15 * r,
            "{od_m} m, {pitch} deg: gap {gap} m"
        );
        assert!(
            (0.0..0.03 * r).contains(&step),
            "{od_m} m, {pitch} deg: step {step} m"
        );
    }
}

/// The separator's window against its own table in the rig: 0.866 to 1.000 OD at the right setting.
#[test]
fn the_separator_fits_its_window_with_room_for_ovality() {
    for (od_m, _, rig) in rigs() {
        let window = SeparatorWindow::new(od_m / 2.0, rig.gate_height_m, rig.gate_height_m);
        assert!((window.from_m / od_m - 0.866).abs() < 1.0e-3);
        assert!((window.to_m / od_m - 1.0).abs() < 1.0e-3);
        let middle_m = rig.separator_middle_m - rig.gate_corner_m;
        let clearance = window.clearance_m(middle_m, rig.separator_width_m);
        assert!(clearance > 0.02 * od_m, "{od_m} m: {clearance} m");
    }
}

#[test]
fn sunk_pins_and_wheels_at_rest_leave_the_way_free() {
    for (od_m, pitch, rig) in rigs() {
        for pin in [
            rig.gate_pin(End::Near, 0.0),
            rig.separator_pin(End::Near, 0.0),
        ] {
            let highest = corners(&pin)
                .into_iter()
                .map(|corner| rig.to_rail(End::Near, corner).1)
                .fold(f64::MIN, f64::max);
            assert!(
                highest < -0.01,
                "{od_m} m, {pitch} deg: stands at {highest} m"
            );
        }
        // Two spokes stand at rest half a radius high, one diameter apart.
        let tips: Vec<(f64, f64)> = (0..SPOKES)
            .map(|i| rig.spoke(End::Near, i, 0.0))
            .map(|spoke| {
                let (c, s) = (cos(spoke.turn_rad), sin(spoke.turn_rad));
                let tip = Point {
                    x_m: spoke.centre.x_m + spoke.half_length_m * c,
                    y_m: spoke.centre.y_m + spoke.half_length_m * s,
                };
                rig.to_rail(End::Near, tip)
            })
            .filter(|(_, above)| *above > 0.0)
            .collect();
        assert_eq!(tips.len(), 2, "{od_m} m, {pitch} deg");
        assert!((tips[0].1 - 0.25 * od_m).abs() < 1.0e-9);
        assert!(((tips[0].0 - tips[1].0).abs() - od_m).abs() < 1.0e-9);
    }
}

/// What the saddle lets over (closed form): not at the trade's pitches, whatever the wall.
#[test]
fn no_pitch_of_the_trade_sends_a_stick_over_the_saddle() {
    for od_m in SIZES_M {
        for dr in [9.0, 17.0, 32.5] {
            let pipe = common::pipe(od_m, dr, 12.19, 0.0);
            let roller = pipe.roller();
            let rig = Rig::new(&line(od_m, 6.0));
            let saddle = VCradle::new(SADDLE_NEAR_RAD, SADDLE_FAR_RAD).unwrap();
            let wing_m = saddle.wing_length_needed_m(roller.radius_m)
                + rig.far_wing_margin_m(roller.radius_m);
            let over = saddle.roll_through_speed_m_per_s(roller, wing_m).unwrap();
            // From rest at the gate to the seat: 1.05 OD and the stick's own stand-off.
            let run_m = (1.05 + 0.433) * od_m;
            let arrival = sqrt(2.0 * roller.acceleration_m_per_s2(rad(6.0), 0.0) * run_m);
            assert!(
                arrival < 0.95 * over,
                "{od_m} m DR {dr}: {arrival} of {over} m/s"
            );
        }
    }
}

#[test]
fn the_left_hand_is_the_mirror_of_the_right() {
    let mut spec = line(0.9144, 5.0);
    assert_eq!(Rig::new(&spec).mirror(), 1.0);
    spec.hand = chockline::domain::spec::Hand::Left;
    assert_eq!(Rig::new(&spec).mirror(), -1.0);
}

const OVALITIES: [f64; 3] = [0.0, 0.035, 0.07];

/// Half the long axis of an oval of mean radius `r`.
fn long_m(r: f64, ovality: f64) -> f64 {
    r * (1.0 + ovality / 2.0)
}

/// Every place of a cradle's faces over the lift's and the shift's reach, and on a leaning column.
fn cradles(rig: &Rig) -> Vec<(String, [PlaneBox; 2])> {
    let spec = rig.spec().cradles;
    let mut all = Vec::new();
    for raised in [0.0, 0.35, spec.lift_stroke_m] {
        for off in [-0.5, 0.0, 0.5].map(|part| part * spec.shift_range_m) {
            for lean_deg in [-1.0, 0.0, 1.0] {
                let what = format!("raised {raised} m, {off} m off, leaning {lean_deg} deg");
                all.push((what, rig.cradle(raised, off, rad(lean_deg))));
            }
        }
    }
    all
}

/// The way of a stick's centre from the rail to its seat: over the rail's surface, then over the near
/// face of the raised saddle.
fn way_in(rig: &Rig, height_m: f64) -> Vec<Point> {
    let steps = 40;
    let from = rig.on_rail(End::Near, 2.0 * rig.setting_radius_m, height_m);
    let (lean, seat) = (SADDLE_NEAR_RAD, rig.seat_height_m);
    // Over the near face a stick that stands off it by its radius; taller ones stand higher.
    let over_face = |x_m: f64| {
        seat + (height_m - rig.setting_radius_m) / cos(lean) - x_m * (sin(lean) / cos(lean))
    };
    (0..=steps)
        .map(|i| {
            let x_m = from.x_m * (1.0 - f64::from(i) / f64::from(steps));
            let toe = -rig.toe_m;
            let rail = rig.on_rail(End::Near, (toe - x_m).max(0.0), height_m).y_m;
            Point {
                x_m,
                y_m: if x_m < toe {
                    rail
                } else {
                    rail.min(over_face(x_m))
                },
            }
        })
        .collect()
}

#[test]
fn a_stick_rolls_in_over_the_lowest_cradles() {
    for (od_m, pitch, rig) in rigs() {
        for ovality in OVALITIES {
            let tall = long_m(od_m / 2.0, ovality);
            for at in way_in(&rig, tall) {
                for face in rig.cradle(0.0, 0.0, 0.0) {
                    let gap = distance(&face, at) - tall;
                    assert!(
                        gap > 0.03,
                        "{od_m} m, {pitch} deg, ovality {ovality}: {gap} m over a wing at {at:?}"
                    );
                }
            }
        }
    }
}

#[test]
fn wings_are_long_enough_for_the_largest_stick() {
    for (od_m, _, rig) in rigs() {
        for ovality in OVALITIES {
            let tall = long_m(od_m / 2.0, ovality);
            let v = VCradle::symmetric(rad(120.0)).unwrap();
            let [_, outer] = rig.cradle(0.0, 0.0, 0.0);
            let spare = 2.0 * outer.half_length_m - v.wing_length_needed_m(tall);
            assert!(
                spare > 0.09,
                "{od_m} m, ovality {ovality}: {spare} m to spare"
            );
        }
    }
}

#[test]
fn the_lowered_receiver_seats_a_stick_in_the_cradles_and_clears_it() {
    for (od_m, _, rig) in rigs() {
        let travel = rig.spec().receiver.travel_m;
        for ovality in OVALITIES {
            let tall = long_m(od_m / 2.0, ovality);
            let at = Point {
                x_m: 0.0,
                y_m: rig.apex_low_m() + Rig::seated_over_apex_m(tall),
            };
            assert!(
                at.y_m < rig.seat_height_m - 0.1,
                "{od_m} m: seats above the receiver"
            );
            for face in rig.cradle(0.0, 0.0, 0.0) {
                assert!((distance(&face, at) - tall).abs() < 1.0e-3 * tall);
            }
            for plate in rig.saddle(travel) {
                let gap = distance(&plate, at) - tall;
                assert!(
                    gap > 0.03,
                    "{od_m} m, ovality {ovality}: saddle {gap} m away"
                );
            }
        }
    }
}

#[test]
fn a_lifted_stick_clears_the_rack_and_the_row() {
    for (od_m, pitch, rig) in rigs() {
        let r = od_m / 2.0;
        let waiting = rig.on_rail(End::Near, rig.gate_corner_m + 0.866 * r, r);
        for ovality in OVALITIES {
            let tall = long_m(r, ovality);
            for (what, faces) in cradles(&rig) {
                for face in faces {
                    let gap = distance(&face, waiting) - tall;
                    assert!(
                        gap > 0.0,
                        "{od_m} m, {pitch} deg, {what}: wing {gap} m off the row"
                    );
                }
            }
            for raised in [0.0, 0.1, 0.2, 0.35, 0.6] {
                let at = Point {
                    x_m: 0.0,
                    y_m: rig.apex_low_m() + raised + Rig::seated_over_apex_m(tall),
                };
                let gate = rig.gate_pin(End::Near, rig.pin_stroke_m());
                for (what, part) in [("rail", rig.rail_box(End::Near)), ("gate", gate)] {
                    let gap = distance(&part, at) - tall;
                    assert!(
                        gap > 0.01,
                        "{od_m} m, {pitch} deg, raised {raised}: {what} {gap} m"
                    );
                }
                let (dx, dy) = (at.x_m - waiting.x_m, at.y_m - waiting.y_m);
                let gap = sqrt(dx * dx + dy * dy) - 2.0 * tall;
                let shift = rig.spec().cradles.shift_range_m / 2.0;
                assert!(
                    gap > if raised >= 0.35 { shift } else { 0.05 },
                    "{od_m} m, {pitch} deg, raised {raised}: {gap} m from the next stick"
                );
            }
        }
    }
}

/// Cradles, rails, pins and arms stand beside each other along the line, for every length of stick.
#[test]
fn nothing_stands_in_the_same_place_along_the_line() {
    for (od_m, _, rig) in rigs() {
        for length_m in [6.0, 9.0, 12.19, 15.24, 18.0, 25.0] {
            let mut spec = rig.spec().clone();
            for stick in &mut spec.sticks {
                stick.pipe.length_m = length_m;
            }
            spec.rack.rail_spacing_m = (0.44 * length_m).max(1.5);
            spec.cradles.spacing_m = length_m / 1.8;
            spec.machine = chockline::domain::spec::MachineSpec::usual(
                length_m,
                od_m,
                rig.usual_centreline_m(),
            );
            let rig = Rig::new(&spec);
            let half_rail = spec.rack.rail_width_m / 2.0;
            let mut spans = [
                ("rail", rig.rail_z_m(End::Near), half_rail),
                ("pin", rig.pin_z_m(End::Near), rig.pin_half_width_m()),
                ("arm", rig.arm_z_m(End::Near), rig.saddle_half_width_m()),
                (
                    "cradle",
                    rig.cradle_z_m(End::Near),
                    rig.cradle_half_width_m(),
                ),
                ("rest", rig.rest_z_m(), rig.rest_half_width_m()),
            ];
            spans.sort_by(|a, b| a.1.total_cmp(&b.1));
            for pair in spans.windows(2) {
                let gap = pair[1].1 - pair[1].2 - (pair[0].1 + pair[0].2);
                assert!(
                    gap > 0.01,
                    "{length_m} m: {} to {}: {gap} m",
                    pair[0].0,
                    pair[1].0
                );
            }
            let front = length_m / 2.0;
            let gap = rig.machine_end_z_m() - front;
            assert!(
                gap > 0.3,
                "{length_m} m: {gap} m between a seated stick and the machine"
            );
        }
    }
}

#[test]
fn cradles_reach_the_centreline_and_the_rest_clears_a_stick_on_it() {
    for (od_m, _, rig) in rigs() {
        let r = od_m / 2.0;
        let centreline = rig.spec().machine.centreline_m;
        let raise = centreline - rig.cradle_seat_low_m();
        let stroke = rig.spec().cradles.lift_stroke_m;
        assert!(
            (0.2..stroke - 0.2).contains(&raise),
            "{od_m} m: raise {raise} m"
        );
        let at = Point {
            x_m: 0.0,
            y_m: centreline,
        };
        for face in rig.rest(r) {
            let gap = distance(&face, at) - r;
            assert!((gap - 0.010).abs() < 1.0e-6, "{od_m} m: rest {gap} m away");
        }
        for (what, [rack, outer]) in cradles(&rig) {
            let lowest = corners(&rack)
                .into_iter()
                .chain(corners(&outer))
                .map(|corner| corner.y_m)
                .fold(f64::MAX, f64::min);
            assert!(
                lowest > 0.05,
                "{od_m} m, {what}: {lowest} m over the ground"
            );
        }
    }
}

/// Turning by side-shift: the raised receiver reaches the underside of a stick in the lowest cradles,
/// so that it can be rolled along its near face.
#[test]
fn the_receiver_reaches_a_stick_in_the_lowest_cradles() {
    for (od_m, _, rig) in rigs() {
        let lift = rig.seat_height_m - rig.cradle_seat_low_m();
        assert!(
            (0.1..rig.spec().receiver.travel_m).contains(&lift),
            "{od_m} m: {lift} m"
        );
    }
}

/// Wheels and pins of the escapement, in every place they take, stay clear of the cradles' wings.
#[test]
fn the_escapement_never_meets_the_cradles() {
    for (od_m, pitch, rig) in rigs() {
        let mut moving = vec![];
        for turned in 0..12 {
            let turned = f64::from(turned) / 12.0 * std::f64::consts::FRAC_PI_2;
            moving.extend((0..SPOKES).map(|spoke| rig.spoke(End::Near, spoke, turned)));
        }
        for stroke in [0.0, rig.pin_stroke_m()] {
            moving.push(rig.gate_pin(End::Near, stroke));
            moving.push(rig.separator_pin(End::Near, stroke));
        }
        for (what, faces) in cradles(&rig) {
            for face in faces {
                for part in &moving {
                    assert!(!overlap(&face, part), "{od_m} m, {pitch} deg, {what}");
                }
            }
        }
    }
}
