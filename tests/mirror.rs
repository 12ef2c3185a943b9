//! P11: a left-handed line is the mirror image of a right-handed one, and neither the time step nor
//! the roll phase in which a round stick happens to lie decides anything.

#[path = "common/lines.rs"]
mod lines;

use std::mem::discriminant;

use chockline::domain::math::rad;
use chockline::domain::spec::{EscapementKind, Hand, LineSpec};
use chockline::operator::{Feeder, Operator};
use chockline::sim::line::{Event, EventKind, Line, StickPlace};
use chockline::sim::world::{DT_S, StickId};
use lines::{INCH_M, line, pipe};

const RUN_S: f64 = 12.0;

/// A line after its first stick was fed, and how far its sticks have gone.
struct Fed {
    line: Line,
    way_m: Vec<f64>,
}

fn fed(spec: &LineSpec, dt_s: f32) -> Fed {
    let mut line = Line::build_with_step(spec, dt_s);
    let began: Vec<_> = line.sticks().map(|stick| line.plane_point(stick)).collect();
    let mut feeder = Feeder::default();
    while line.time_s() < RUN_S {
        let controls = feeder.controls(&line);
        line.tick(&controls);
        assert_eq!(line.fault(), None, "the simulation failed");
    }
    let way_m = line.sticks().zip(began).map(|(stick, from)| {
        let to = line.plane_point(stick);
        (to.x_m - from.x_m).hypot(to.y_m - from.y_m)
    });
    Fed {
        way_m: way_m.collect(),
        line,
    }
}

impl Fed {
    /// When an event was, counted from the beginning of the cycle if it was after that: how long the
    /// row takes to lie still before it is fed hangs on the last digits, s.
    fn since_feed_s(&self, event: &Event) -> f64 {
        let began = self
            .line
            .events()
            .iter()
            .find(|event| matches!(event.kind, EventKind::CycleBegan { .. }))
            .map(|event| event.tick)
            .filter(|&began| began <= event.tick)
            .unwrap_or(0);
        (event.tick - began) as f64 * f64::from(self.line.world().settings().dt_s)
    }
}

/// The speed an event tells, m/s.
fn told_speed(event: &Event) -> Option<f64> {
    match event.kind {
        EventKind::GateStruck { speed_m_per_s, .. }
        | EventKind::Received { speed_m_per_s, .. }
        | EventKind::Grounded { speed_m_per_s, .. } => Some(speed_m_per_s),
        _ => None,
    }
}

/// A blow on the gate faster than this comes of a run-up, and a slower one of the row's jostling, m/s.
const RUN_UP_M_PER_S: f64 = 0.3;

/// The events of a stick's way, in its order. Of its blows on the gate the first after a run-up
/// counts, and only before the escapement begins to move: the rest come and go with the last digits.
fn way_of(line: &Line, stick: StickId) -> Vec<Event> {
    let mut struck = line
        .events()
        .iter()
        .take_while(|event| !matches!(event.kind, EventKind::CycleBegan { .. }));
    let first_blow = struck.find(|event| {
        matches!(event.kind, EventKind::GateStruck { stick: s, speed_m_per_s } if s == stick && speed_m_per_s > RUN_UP_M_PER_S)
    });
    let own = |event: &&Event| match event.kind {
        EventKind::PassedGate { stick: s, .. }
        | EventKind::Received { stick: s, .. }
        | EventKind::Lost { stick: s }
        | EventKind::Grounded { stick: s, .. } => s == stick,
        EventKind::GateStruck { .. } => Some(*event) == first_blow,
        _ => false,
    };
    line.events().iter().filter(own).copied().collect()
}

/// The same events of every stick, at the same times and speeds.
fn same_way(case: &str, first: &Fed, second: &Fed, share: f64) {
    for stick in (0..first.way_m.len()).map(StickId) {
        let (a, b) = (way_of(&first.line, stick), way_of(&second.line, stick));
        assert!(
            a.len() == b.len()
                && a.iter()
                    .zip(&b)
                    .all(|(p, q)| discriminant(&p.kind) == discriminant(&q.kind)),
            "{case}: stick {stick} goes another way; one line tells {a:?}, the other {b:?}"
        );
        for (p, q) in a.iter().zip(&b) {
            let (t, u) = (first.since_feed_s(p), second.since_feed_s(q));
            // Two ticks are the grain of any time.
            assert!(
                (t - u).abs() < share * t.abs() + 2.0 * f64::from(DT_S),
                "{case}: stick {stick} at {t:.3} s and {u:.3} s: {:?}",
                p.kind
            );
            if let (Some(v), Some(w)) = (told_speed(p), told_speed(q)) {
                assert!(
                    (v - w).abs() < share * v + 0.004,
                    "{case}: stick {stick} at {v:.4} m/s and {w:.4} m/s: {:?}",
                    p.kind
                );
            }
        }
    }
}

/// Both hands of a line, for every escapement, size and pitch of the list.
fn cases() -> Vec<(String, LineSpec)> {
    let mut cases = Vec::new();
    for kind in [EscapementKind::PinPair, EscapementKind::StarWheel] {
        for (size_in, dr) in [(20.0, 11.0), (36.0, 17.0), (63.0, 26.0)] {
            for pitch_deg in [4.0, 6.0] {
                let mut spec = line(pipe(size_in * INCH_M, dr, 0.0), 3, pitch_deg, kind);
                // A wheel's rear spoke stands where a first stick with a gap would lie.
                let first = usize::from(kind == EscapementKind::StarWheel);
                spec.sticks[first].gap_m = 0.3;
                cases.push((format!("{kind:?}, {size_in} in, {pitch_deg} deg"), spec));
            }
        }
    }
    // Nothing about this one is symmetric across the line.
    let mut askew = line(
        pipe(36.0 * INCH_M, 17.0, 0.02),
        2,
        5.0,
        EscapementKind::PinPair,
    );
    askew.rack.far_rail.pitch_rad = rad(5.5);
    askew.ground.cross_fall_rad = rad(2.0);
    askew.weather.wind_speed_m_per_s = 6.0;
    askew.weather.wind_towards_rad = 0.4;
    for stick in &mut askew.sticks {
        stick.yaw_rad = rad(0.5);
        stick.offset_m = 0.3;
        stick.long_axis_rad = 0.4;
    }
    cases.push(("askew".to_owned(), askew));
    cases
}

#[test]
fn val_p11_left_and_right_mirror_each_other() {
    let (mut went, mut received) = (0.0_f64, 0);
    for (case, spec) in cases() {
        let right = fed(&spec, DT_S);
        let left = fed(
            &LineSpec {
                hand: Hand::Left,
                ..spec
            },
            DT_S,
        );
        same_way(&case, &right, &left, 0.01);
        for (i, stick) in right.line.sticks().enumerate() {
            let (r, l) = (right.line.stick(stick).pose, left.line.stick(stick).pose);
            let off = [
                r.translation.x + l.translation.x,
                r.translation.y - l.translation.y,
                r.translation.z - l.translation.z,
            ];
            let off = off.iter().fold(0.0_f32, |most, d| most.max(d.abs()));
            assert!(
                f64::from(off) < 0.002 + 0.01 * right.way_m[i],
                "{case}: stick {i} ends {off} m from its mirror image after {} m",
                right.way_m[i]
            );
            assert_eq!(
                right.line.place(stick),
                left.line.place(stick),
                "{case}: stick {i} ends in another place on the left-handed line"
            );
            went = went.max(right.way_m[i]);
            received += usize::from(right.line.place(stick) == StickPlace::Received);
        }
    }
    assert!(
        went > 1.0 && received >= 6,
        "hardly anything moved ({went} m, {received} received), so this shows nothing"
    );
}

/// Half the step and other roll phases: the speeds of the blows stay, and so does the outcome.
#[test]
fn val_p11_step_and_phase_change_no_speed() {
    let mut told = 0;
    for (case, spec) in cases() {
        let plain = fed(&spec, DT_S);
        let halved = fed(&spec, DT_S / 2.0);
        same_way(&format!("{case}, half the step"), &plain, &halved, 0.02);
        told += (0..3.min(plain.way_m.len()))
            .map(StickId)
            .flat_map(|stick| way_of(&plain.line, stick))
            .filter(|event| told_speed(event).is_some())
            .count();
        if spec.sticks[0].pipe.ovality > 0.0 {
            continue;
        }
        for phase_rad in [0.3, 1.2] {
            let mut turned = spec.clone();
            for stick in &mut turned.sticks {
                stick.long_axis_rad = phase_rad;
            }
            let turned = fed(&turned, DT_S);
            same_way(
                &format!("{case}, phase {phase_rad} rad"),
                &plain,
                &turned,
                0.02,
            );
        }
    }
    assert!(
        told >= 16,
        "only {told} speeds were compared, so this shows nothing"
    );
}
