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
