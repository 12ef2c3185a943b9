//! What must hold on every line, however odd and however handled: the simulation does not fail,
//! energy comes only from drives and wind, supports carry the weight, and nothing passes through
//! anything.

#[path = "common/lines.rs"]
mod lines;

use std::cell::Cell;

use chockline::domain::math::rad;
use chockline::domain::pipe::Pipe;
use chockline::domain::rig::End;
use chockline::domain::spec::{EscapementKind, Hand, Item, LineSpec, Motion};
use chockline::sim::controls::{Button, Call, Controls};
use chockline::sim::line::{EventKind, Line};
use chockline::sim::world::{PartId, StickId};
use chockline::sim::{Pose, Vector};
use proptest::prelude::*;
use proptest::test_runner::{Config, RngAlgorithm, TestRng, TestRunner};

const G: f64 = 9.81;

/// Lines over the corners of what a scenario may hold.
fn specs() -> impl Strategy<Value = LineSpec> {
    let pipe = (0.5..1.6_f64, 7.0..41.0_f64, 6.0..25.0_f64, 0.0..0.07_f64);
    let row = (
        1..=8_usize,
        -1.0..1.0_f64,
        -1.0..1.0_f64,
        -1.5..1.5_f64,
        0.0..0.2_f64,
    );
    let rack = (
        0.0..15.0_f64,
        -2.0..2.0_f64,
        any::<bool>(),
        any::<bool>(),
        0.8..1.25_f64,
    );
    // Friction over its decades.
    let contact = (-2.0..0.0_f64, -2.0..0.0_f64, 0.0..0.6_f64, 0.0..0.02_f64);
    let site = (
        0.0..30.0_f64,
        0.0..std::f64::consts::TAU,
        -3.0..3.0_f64,
        -3.0..3.0_f64,
        any::<bool>(),
    );
    (pipe, row, rack, contact, site).prop_map(|(pipe, row, rack, contact, site)| {
        let (od_m, dr, length_m, ovality) = pipe;
        let kind = if rack.2 {
            EscapementKind::PinPair
        } else {
            EscapementKind::StarWheel
        };
        let stick = Pipe {
            length_m,
            ..lines::pipe(od_m, dr, ovality)
        };
        let mut spec = lines::line(stick, row.0, rack.0, kind);
        spec.hand = if rack.3 { Hand::Left } else { Hand::Right };
        spec.rack.toe_height_m = 2.2;
        spec.rack.length_m += 2.0;
        spec.rack.far_rail.pitch_rad = rad((rack.0 + rack.1).clamp(0.0, 15.0));
        spec.escapement.interlock = false;
        // A wheel's pockets and a skewed row do not fit: such rows could not be loaded.
        let pins = kind == EscapementKind::PinPair;
        if pins {
            spec.escapement.size_setting_m *= rack.4;
        }
        let yaw_rad = if pins { rad(row.1) } else { 0.0 };
        for (i, stick) in spec.sticks.iter_mut().enumerate() {
            stick.yaw_rad = yaw_rad;
            stick.offset_m = 0.04 * length_m * row.2;
            stick.long_axis_rad = row.3;
            stick.gap_m = if i > 0 {
                row.4
            } else {
                yaw_rad.abs() * length_m
            };
        }
        spec.rack.length_m += 0.2 * row.0 as f64;
        spec.contact.friction_dry = 10.0_f64.powf(contact.0);
        spec.contact.friction_pipe_on_pipe = 10.0_f64.powf(contact.1);
        spec.contact.restitution = contact.2;
        spec.contact.rolling_lever_arm_m = contact.3;
        // Half of all lines in still air, where things come to rest.
        spec.weather.wind_speed_m_per_s = if site.4 { site.0 } else { 0.0 };
        spec.weather.wind_towards_rad = site.1;
        spec.ground.cross_fall_rad = rad(site.2);
        spec.ground.along_fall_rad = rad(site.3);
        spec
    })
}

/// A box of the line as the test finds it: its part and half extents.
#[derive(Clone, Copy, Debug)]
struct Block {
    part: PartId,
    half: [f64; 3],
}

/// The boxes of a line.
fn blocks(line: &Line) -> Vec<Block> {
    let world = line.world();
    let boxes = world
        .parts()
        .filter_map(|part| Some((part, world.box_half_extents(part)?)));
    boxes
        .map(|(part, half)| Block {
            part,
            half: wide(half),
        })
        .collect()
}

fn wide(v: Vector) -> [f64; 3] {
    v.to_array().map(f64::from)
}

/// How deep a stick is in a box, m: at the middle of the box along z, by the distance of the stick's
/// axis from the box there and the stick's least radius. Nothing for sticks that lie far askew.
fn depth_in_box_m(line: &Line, stick: StickId, block: &Block) -> f64 {
    let state = line.stick(stick);
    let (axis, centre) = (wide(state.axis()), wide(state.pose.translation));
    let pose: Pose = line.world().part_pose(block.part);
    let at = wide(pose.translation);
    let pipe = line.world().pipe(stick);
    if axis[2].abs() < 0.95 {
        return 0.0;
    }
    let s = (at[2] - centre[2]) / axis[2];
    if s.abs() > pipe.length_m / 2.0 - block.half[2] {
        return 0.0;
    }
    let point = Vector::new(
        (centre[0] + axis[0] * s) as f32,
        (centre[1] + axis[1] * s) as f32,
        at[2] as f32,
    );
    let local = wide(pose.inverse_transform_point(point));
    let [dx, dy] = [0, 1].map(|i| (local[i].abs() - block.half[i]).max(0.0));
    pipe.oval().short_m - dx.hypot(dy)
}

/// How deep two sticks are in each other, side in side, at most, m: exact for round ones. By the
/// least distance of their axes; nothing where an end is nearest.
fn depth_of_two_m(line: &Line, first: StickId, second: StickId) -> f64 {
    let dot = |a: [f64; 3], b: [f64; 3]| a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
    let [p, q] = [first, second].map(|stick| {
        let state = line.stick(stick);
        let pipe = line.world().pipe(stick);
        (
            wide(state.pose.translation),
            wide(state.axis()),
            pipe.length_m / 2.0,
            pipe.oval().short_m,
        )
    });
    let between = [0, 1, 2].map(|i| q.0[i] - p.0[i]);
    let (cos, a, b) = (dot(p.1, q.1), dot(between, p.1), dot(between, q.1));
    // Convex in both places, so turns of fitting one to the other lead to the least.
    let (mut s, mut t) = (0.0, 0.0);
    for _ in 0..100 {
        s = (a + t * cos).clamp(-p.2, p.2);
        t = (s * cos - b).clamp(-q.2, q.2);
    }
    let gap = [0, 1, 2].map(|i| between[i] + q.1[i] * t - p.1[i] * s);
    let apart = dot(gap, gap).sqrt();
    let square = [p.1, q.1]
        .iter()
        .all(|&axis| dot(gap, axis).abs() < 0.05 * apart);
    if square { p.3 + q.3 - apart } else { 0.0 }
}

/// How deep a stick is in the ground, m.
fn depth_in_ground_m(line: &Line, stick: StickId) -> f64 {
    let ground = &line.rig().spec().ground;
    let normal = Vector::new(
        (line.rig().mirror() * ground.cross_fall_rad.tan()) as f32,
        1.0,
        ground.along_fall_rad.tan() as f32,
    )
    .normalize();
    let state = line.stick(stick);
    let pipe = line.world().pipe(stick);
    let local = wide(state.pose.rotation.inverse() * normal);
    let oval = pipe.oval();
    let reach = (oval.long_m * local[0]).hypot(oval.short_m * local[1])
        + pipe.length_m / 2.0 * local[2].abs();
    reach - f64::from(state.pose.translation.dot(normal))
}

/// The line's books: what its sticks hold, what drives and wind have put in.
struct Books {
    blocks: Vec<Block>,
    poses: Vec<Pose>,
    put_in_j: f64,
    /// What has gone in and out through parts, rollers and pulls, without sign, J.
    turned_over_j: f64,
    least_j: f64,
    /// Greatest gain of energy that nothing put in, J.
    gained_j: f64,
    deepest: (f64, String),
}

impl Books {
    fn open(line: &Line) -> Self {
        let world = line.world();
        Self {
            blocks: blocks(line),
            poses: world.parts().map(|part| world.part_pose(part)).collect(),
            put_in_j: 0.0,
            turned_over_j: 0.0,
            least_j: line.world().energy_j(),
            gained_j: 0.0,
            deepest: (0.0, String::new()),
        }
    }

    /// One tick with its bookings.
    fn tick(&mut self, line: &mut Line, controls: &Controls) {
        let world = line.world();
        let settings = *world.settings();
        let dt_s = f64::from(settings.dt_s);
        let wind: Vec<(StickId, Vector, Vector)> = world
            .sticks()
            .map(|stick| {
                let state = world.stick(stick);
                let relative = settings.wind_m_per_s - state.velocity;
                let across = relative - state.axis() * relative.dot(state.axis());
                let pipe = world.pipe(stick);
                let area = (pipe.outside_diameter_m * pipe.length_m) as f32;
                let drag = 0.5 * 1.225 * settings.drag_coefficient * area;
                (stick, across * (drag * across.length()), state.velocity)
            })
            .collect();
        let there = line.present().count();
        let before_j = world.energy_j();
        line.tick(controls);
        let world = line.world();
        if line.present().count() != there {
            // A stick has come with the loader, or has gone with the string.
            self.put_in_j += world.energy_j() - before_j;
        }
        if settings.wind_m_per_s != Vector::ZERO {
            for (stick, force, before) in wind {
                let mean = (before + world.stick(stick).velocity) * 0.5;
                self.put_in_j += f64::from(force.dot(mean)) * dt_s;
            }
        }
        for pull in world.last_pulls() {
            let state = world.stick(pull.stick);
            let at = state.velocity + state.spin.cross(pull.point - state.pose.translation);
            let work_j = f64::from(pull.force.dot(at)) * dt_s;
            self.put_in_j += work_j;
            self.turned_over_j += work_j.abs();
        }
        for (i, pose) in self.poses.iter_mut().enumerate() {
            // Rollers that run under a stick work on it, or take from it.
            let running = world.surface_velocity(PartId(i));
            if running != Vector::ZERO {
                let friction = world.friction_on_part(PartId(i));
                let work_j = f64::from(friction.dot(running)) * dt_s;
                self.put_in_j -= work_j;
                self.turned_over_j += work_j.abs();
            }
            let now = world.part_pose(PartId(i));
            if now != *pose {
                let moved = now.translation - pose.translation;
                let turn = now.rotation * pose.rotation.inverse();
                let turned = 2.0 * f64::from(turn.z * turn.w.signum());
                let force = world.force_on_part(PartId(i));
                let moment = world.moment_on_part(PartId(i), now.translation);
                let work_j = f64::from(force.dot(moved)) + f64::from(moment) * turned;
                self.put_in_j -= work_j;
                self.turned_over_j += work_j.abs();
                *pose = now;
            }
        }
        let own = world.energy_j() - self.put_in_j;
        self.gained_j = self.gained_j.max(own - self.least_j);
        self.least_j = self.least_j.min(own);
        self.look_for_depth(line);
    }

    fn look_for_depth(&mut self, line: &Line) {
        let sticks: Vec<StickId> = line.present().collect();
        let mut note = |depth: f64, what: &dyn Fn() -> String| {
            if depth > self.deepest.0 {
                self.deepest = (depth, what());
            }
        };
        for (i, &stick) in sticks.iter().enumerate() {
            for block in &self.blocks {
                let depth = depth_in_box_m(line, stick, block);
                note(depth, &|| {
                    format!("{stick:?} in {:?} at {:.3} s", block.part, line.time_s())
                });
            }
            note(depth_in_ground_m(line, stick), &|| {
                format!("{stick:?} in the ground at {:.3} s", line.time_s())
            });
            for &other in &sticks[i + 1..] {
                note(depth_of_two_m(line, stick, other), &|| {
                    format!("{stick:?} in {other:?} at {:.3} s", line.time_s())
                });
            }
        }
    }
}

fn weight_n(line: &Line) -> f64 {
    line.present()
        .map(|stick| line.world().pipe(stick).mass_kg() * G)
        .sum()
}

/// Upward force of all parts on the sticks over the last step, N.
fn carried_n(line: &Line) -> f64 {
    let world = line.world();
    world
        .parts()
        .map(|part| -f64::from(world.force_on_part(part).y))
        .sum()
}

fn runner(cases: u32) -> TestRunner {
    let config = Config {
        cases,
        failure_persistence: None,
        max_shrink_iters: 40,
        ..Config::default()
    };
    TestRunner::new_with_rng(config, TestRng::deterministic_rng(RngAlgorithm::ChaCha))
}

/// A line driven for a while, with everything that must hold looked at in every tick.
struct Trial {
    line: Line,
    books: Books,
}

/// Rows are placed by their sections over the middles of the rails; where rails differ in pitch, or
/// an oval stick is wide for a wheel's pocket, that is a little inside steel, and the stick is pushed
/// out within half a second.
const SETTLED_S: f64 = 1.0;
/// Greatest gain of energy in settling, as a rise of all sticks, m.
const PUSHED_OUT_M: f64 = 0.020;
/// Greatest gain of energy after that, as a rise of all sticks, m: contacts are pushed apart to
/// within a millimetre at each blow.
const GAIN_M: f64 = 0.003;
/// Share of the work of drives by which the books may be off: they take the force of a step's end
/// times its way.
const BOOKED_SHARE: f64 = 0.01;
/// Greatest depth in a blow, m: the way of one tick at 7.2 m/s, after a fall of 2.6 m; from the high end
/// of a long rack a stick falls further.
const BLOW_DEPTH_M: f64 = 0.030;
/// Greatest depth at rest, m.
const REST_DEPTH_M: f64 = 0.003;
/// Share of the weight by which the carried force may be off at rest.
const CARRIED_SHARE: f64 = 0.02;

impl Trial {
    fn begin(spec: &LineSpec) -> Result<Self, TestCaseError> {
        let line = Line::build(spec);
        let books = Books::open(&line);
        let mut trial = Self { line, books };
        while trial.line.time_s() < SETTLED_S {
            trial.tick(&Controls::default())?;
        }
        let gain_m = trial.books.gained_j / weight_n(&trial.line);
        prop_assert!(
            gain_m < PUSHED_OUT_M,
            "the row was pushed up by {gain_m} m while it settled; it was placed inside something"
        );
        trial.books = Books::open(&trial.line);
        Ok(trial)
    }

    fn tick(&mut self, controls: &Controls) -> Result<(), TestCaseError> {
        self.books.tick(&mut self.line, controls);
        prop_assert_eq!(self.line.fault(), None, "the simulation failed");
        Ok(())
    }

    fn check(&mut self) -> Result<(), TestCaseError> {
        let unsure_j = BOOKED_SHARE * self.books.turned_over_j;
        let gain_m = (self.books.gained_j - unsure_j) / weight_n(&self.line);
        prop_assert!(
            gain_m < GAIN_M,
            "energy from nowhere: all sticks as if raised by {gain_m} m (allowed {GAIN_M})"
        );
        let (depth_m, what) = &self.books.deepest;
        prop_assert!(
            *depth_m < BLOW_DEPTH_M,
            "{what}: {depth_m} m deep (allowed {BLOW_DEPTH_M})"
        );
        if self.line.is_at_rest() {
            self.books.deepest = (0.0, String::new());
            self.books.look_for_depth(&self.line);
            let (depth_m, what) = &self.books.deepest;
            prop_assert!(
                *depth_m < REST_DEPTH_M,
                "{what}: rests {depth_m} m deep (allowed {REST_DEPTH_M})"
            );
            let share = carried_n(&self.line) / weight_n(&self.line);
            prop_assert!(
                (share - 1.0).abs() < CARRIED_SHARE,
                "at rest the parts carry {share} of the weight"
            );
        }
        Ok(())
    }
}

#[test]
fn inv_a_line_left_alone_keeps_its_energy_and_carries_its_weight() {
    let rested = Cell::new(0);
    let result = runner(60).run(&specs(), |spec| {
        let mut trial = Trial::begin(&spec)?;
        while trial.line.time_s() < 7.0 {
            trial.tick(&Controls::default())?;
        }
        rested.set(rested.get() + u32::from(trial.line.is_at_rest()));
        trial.check()
    });
    if let Err(failure) = result {
        panic!("{failure}");
    }
    assert!(
        rested.get() > 20,
        "only {} lines came to rest, so hardly any weight was weighed",
        rested.get()
    );
}

/// What somebody who knows nothing does: for some ticks each, any buttons.
fn monkeys() -> impl Strategy<Value = Vec<(u32, Controls)>> {
    let press = |odds: f64| proptest::bool::weighted(odds);
    let some = proptest::sample::subsequence(Button::ALL.to_vec(), 0..4);
    let calls = [
        Call::Clear,
        Call::Load,
        Call::Hold,
        Call::Release,
        Call::Chock,
        Call::Unchock,
        Call::BarFromEnd(End::Near),
        Call::BarFromEnd(End::Far),
        Call::BarFromBelow,
        Call::Clamp,
        Call::Unclamp,
        Call::Repair(Item::Rollers),
    ];
    let call = proptest::option::weighted(0.3, proptest::sample::select(calls.to_vec()));
    let held = (12..360_u32, some, press(0.5), press(0.1), press(0.1), call).prop_map(
        |(ticks, mut buttons, feed, emergency_stop, isolated, call)| {
            if feed {
                buttons.push(Button::Feed);
            }
            let controls = Controls {
                emergency_stop,
                isolated,
                call,
                ..Controls::held(buttons)
            };
            (ticks, controls)
        },
    );
    proptest::collection::vec(held, 120)
}

/// With this in the environment so many monkeys play for a minute each, instead of a few for a third
/// of one: `CHOCKLINE_MONKEYS=500 cargo test --release --test properties monkeys`.
const MONKEYS: &str = "CHOCKLINE_MONKEYS";

#[test]
fn inv_monkeys_break_nothing() {
    let many = std::env::var(MONKEYS).ok().and_then(|n| n.parse().ok());
    let (cases, time_s) = many.map_or((40, 20.0), |cases: u32| (cases, 60.0));
    let passed = Cell::new(0);
    // Every other line has its crew, every third a loader, most something wrong.
    let lines = (specs(), any::<bool>(), 0..3_u8, 0..12_usize).prop_map(
        |(mut spec, crewed, loader, faulty)| {
            if loader == 0 {
                let pipe = spec.sticks[0].pipe;
                spec.rack.length_m += 4.0 * pipe.outside_diameter_m;
                spec.loader = Some(lines::loader_for(&pipe));
            }
            if let Some(&motion) = Motion::ALL.get(faulty) {
                let faults = spec.faults.motion_mut(motion);
                faults.crossed = faulty % 2 == 0;
                faults.sticks_s = 0.4;
                faults.slowness = 2.0;
                faults.creep_m_per_s = 0.001;
            }
            spec.faults.near.gate_stuck = faulty == 8;
            spec.faults.far.chock_missing = faulty == 9;
            spec.faults.roller_seized = faulty == 10;
            if crewed { lines::crewed(spec) } else { spec }
        },
    );
    let result = runner(cases).run(&(lines, monkeys()), |(spec, monkey)| {
        let mut trial = Trial::begin(&spec)?;
        for (ticks, controls) in monkey {
            for tick in 0..ticks {
                if trial.line.time_s() < SETTLED_S + time_s {
                    // Said once, at the beginning.
                    let call = controls.call.filter(|_| tick == 0);
                    trial.tick(&Controls { call, ..controls })?;
                }
            }
        }
        let fed = trial
            .line
            .events()
            .iter()
            .filter(|event| matches!(event.kind, EventKind::PassedGate { .. }));
        passed.set(passed.get() + fed.count());
        trial.check()
    });
    if let Err(failure) = result {
        panic!("{failure}");
    }
    assert!(
        passed.get() > 40,
        "only {} sticks passed a gate, so the monkeys did hardly anything",
        passed.get()
    );
}

/// A round row is placed touching nothing. Against a star wheel its first stick used to be put a
/// twentieth of its radius into the front spoke.
#[test]
fn regress_a_row_is_placed_outside_everything() {
    for kind in [EscapementKind::PinPair, EscapementKind::StarWheel] {
        for (od_m, pitch_deg) in [(0.508, 0.0), (0.914, 5.0), (1.6, 15.0)] {
            for hand in [Hand::Right, Hand::Left] {
                let mut spec = lines::line(lines::pipe(od_m, 17.0, 0.0), 4, pitch_deg, kind);
                spec.hand = hand;
                let line = Line::build(&spec);
                let mut books = Books::open(&line);
                books.look_for_depth(&line);
                let (depth_m, what) = &books.deepest;
                assert!(
                    *depth_m < 5.0e-4,
                    "{kind:?}, {od_m} m, {pitch_deg} deg: {what} is placed {depth_m} m deep; look \
                     at the placing of the row"
                );
            }
        }
    }
}
