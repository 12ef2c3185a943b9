//! The loader: it brings sticks, holds one that hangs, and what becomes of what it carries. Nothing of
//! that is scripted: every limit here is measured and compared with its closed form.

#[path = "common/lines.rs"]
mod lines;

use chockline::domain::loader::{
    AXLE_TO_FACE_M, FORK_WIDTH_M, RATED_PART_OF_TIPPING, Stability, braking_limit_m_per_s2,
    braking_that_rolls_off_m_per_s2, capacity_at, capacity_by_moments, fork_shares,
};
use chockline::domain::math::{PI, cos, deg, rad, sin, tan};
use chockline::domain::pipe::Pipe;
use chockline::domain::rig::{End, Rig};
use chockline::domain::spec::{EscapementKind, Hand, LineSpec, LoaderSpec};
use chockline::sim::controls::{Call, Controls};
use chockline::sim::line::{EventKind, Line, Loader, LoaderStage, Mover, Shape, StickPlace};
use chockline::sim::world::{
    StickId, StickState, Touching, World, WorldSettings, rotation_about_z, turned,
};
use chockline::sim::{Pose, Vector};
use lines::{INCH_M, line, loader_for, pipe};

const G: f64 = 9.81;

/// A row with room for one more, and a loader that brings it.
fn loaded(pipe: Pipe, sticks: usize, pitch_deg: f64) -> LineSpec {
    let mut spec = line(pipe, sticks, pitch_deg, EscapementKind::PinPair);
    spec.rack.length_m = (sticks as f64 + 3.0) * pipe.outside_diameter_m;
    spec.loader = Some(loader_for(&pipe));
    spec
}

fn loaded_24() -> LineSpec {
    loaded(pipe(24.0 * INCH_M, 17.0, 0.005), 2, 5.0)
}

/// As [`loaded_24`] with pipe that is round and rolls without resistance, so that the closed forms
/// hold exactly.
fn ideal() -> LineSpec {
    let mut spec = loaded(pipe(24.0 * INCH_M, 17.0, 0.0), 2, 5.0);
    spec.contact.rolling_lever_arm_m = 0.0;
    spec
}

fn changed(mut spec: LineSpec, change: impl FnOnce(&mut LoaderSpec)) -> LineSpec {
    change(spec.loader.as_mut().unwrap());
    spec
}

fn loader(line: &Line) -> &Loader {
    line.loader().unwrap()
}

fn called(call: Call) -> Controls {
    Controls {
        call: Some(call),
        ..Controls::default()
    }
}

fn wait(line: &mut Line, seconds: f64) {
    for _ in 0..(seconds * 240.0) as usize {
        line.tick(&Controls::default());
    }
}

/// Asks for a stick and waits until the loader has come back, has stopped, or time is up.
fn load(spec: &LineSpec) -> Line {
    let mut line = Line::build(spec);
    wait(&mut line, 0.5);
    line.tick(&called(Call::Load));
    for _ in 0..240 * 120 {
        line.tick(&Controls::default());
        if matches!(
            loader(&line).stage(),
            LoaderStage::Parked | LoaderStage::Stopped
        ) {
            break;
        }
    }
    wait(&mut line, 2.0);
    line
}

fn last(line: &Line) -> StickId {
    line.sticks().last().unwrap()
}

fn is_loaded(line: &Line) -> bool {
    loader(line).stage() == LoaderStage::Parked
        && loader(line).dropped().is_empty()
        && loader(line).sticks_left() == 0
        && (line.above_rails_m(last(line)) / line.world().pipe(last(line)).radius_m() - 1.0).abs()
            < 0.02
}

fn is_dropped(line: &Line) -> bool {
    loader(line).stage() == LoaderStage::Stopped && loader(line).dropped() == [last(line)]
}

/// The greatest value for which `holds` is true, between one that is and one that is not.
fn limit(mut low: f64, mut high: f64, steps: usize, holds: impl Fn(f64) -> bool) -> f64 {
    assert!(holds(low), "{low} does not hold");
    assert!(!holds(high), "{high} holds");
    for _ in 0..steps {
        let middle = (low + high) / 2.0;
        if holds(middle) {
            low = middle;
        } else {
            high = middle;
        }
    }
    (low + high) / 2.0
}

/// Half extents and pose of one of the loader's solids.
fn block(mover: &Mover) -> (Vector, Pose) {
    match mover.shape {
        Shape::Block { half, pose } => (half, pose),
        Shape::Tube { .. } => panic!("the loader is made of blocks"),
    }
}

#[test]
fn an_ordinary_load_ends_with_three_sticks_at_rest_behind_the_gate() {
    let line = load(&loaded_24());
    assert!(is_loaded(&line), "{:?}", loader(&line).stage());
    assert!(line.is_at_rest());
    assert_eq!(line.sticks().len(), 3);
    for stick in line.sticks() {
        assert_eq!(line.place(stick), StickPlace::Held);
        assert!(deg(line.yaw_rad(stick)).abs() < 0.2);
    }
    let told = line.events().iter().map(|event| event.kind);
    let (stick, struck) = loader(&line).row_struck().unwrap();
    let set_down = EventKind::SetDown { stick };
    let row_struck = EventKind::RowStruck {
        stick,
        speed_m_per_s: struck,
    };
    assert_eq!(stick, last(&line));
    assert_eq!(told.collect::<Vec<_>>(), [set_down, row_struck]);
    assert!((0.05..0.30).contains(&struck), "the row is met at {struck}");
    // The sticks lie against one another.
    let (second, third) = (line.along_m(StickId(1)), line.along_m(StickId(2)));
    assert!((third - second - 24.0 * INCH_M).abs() < 0.01);
}

#[test]
fn every_size_is_loaded_on_to_a_row() {
    for inches in [20.0, 36.0, 63.0] {
        for (sticks, pitch_deg) in [(1, 4.0), (3, 6.0)] {
            let spec = loaded(pipe(inches * INCH_M, 17.0, 0.02), sticks, pitch_deg);
            let line = load(&spec);
            assert!(
                is_loaded(&line),
                "{inches} in on to {sticks} at {pitch_deg}°"
            );
            let struck = loader(&line).row_struck();
            println!("{inches} in on to {sticks} at {pitch_deg}°: row met at {struck:.3?} m/s");
        }
    }
}

#[test]
fn an_emergency_stop_does_not_stop_it() {
    let mut line = Line::build(&loaded_24());
    line.tick(&called(Call::Load));
    let stopped = Controls {
        emergency_stop: true,
        ..Controls::default()
    };
    for _ in 0..240 * 60 {
        line.tick(&stopped);
    }
    assert!(
        is_loaded(&line),
        "{:?} {:?} {} {}",
        loader(&line).stage(),
        loader(&line).dropped(),
        loader(&line).sticks_left(),
        line.above_rails_m(last(&line)) / line.world().pipe(last(&line)).radius_m()
    );
}

#[test]
fn sticks_come_one_a_call_while_there_are_any_and_room() {
    let mut spec = changed(loaded_24(), |loader| loader.sticks = 3);
    // Room for one more than the row, not for two.
    spec.rack.length_m = 4.1 * 24.0 * INCH_M;
    let mut line = load(&spec);
    assert_eq!(loader(&line).sticks_left(), 2);
    assert_eq!(line.sticks().len(), 5);
    line.tick(&called(Call::Load));
    wait(&mut line, 30.0);
    assert_eq!(loader(&line).stage(), LoaderStage::Parked);
    assert_eq!(loader(&line).asked(), Some(Call::Load), "it waits for room");
    let absent = [StickId(3), StickId(4)];
    assert!(absent.iter().all(|&stick| !line.world().is_present(stick)));
}

/// A stick heavier than the machine takes at its load centre tips it; the resisting moment over the
/// load's gives the limit.
#[test]
fn an_overload_tips_the_machine_and_drops_the_stick_and_a_milder_one_does_not() {
    let spec = ideal();
    let pipe = spec.sticks[0].pipe;
    let tilt_rad = spec.loader.unwrap().back_tilt_rad;
    // The load's centre before the axle, with the forks tilted about their heel.
    let arm_m = AXLE_TO_FACE_M + pipe.radius_m() * (cos(tilt_rad) - sin(tilt_rad));
    let rated_arm_m = AXLE_TO_FACE_M + pipe.radius_m();
    let with_capacity = |part: f64| {
        changed(spec.clone(), |loader| {
            loader.capacity_kg = pipe.mass_kg() * part;
        })
    };
    let holds_still = |overload: f64| {
        let mut line = Line::build(&with_capacity(1.0 / overload));
        line.tick(&called(Call::Load));
        wait(&mut line, 1.0);
        loader(&line).pitch_rad() < rad(0.5)
    };
    let found = limit(1.0, 1.6, 7, holds_still);
    let expected = rated_arm_m / arm_m / RATED_PART_OF_TIPPING;
    println!("tips at {found:.3} of its rating, statics {expected:.3}");
    assert!((found / expected - 1.0).abs() < 0.02);

    let mut tipped = load(&with_capacity(1.0 / 1.45));
    assert!(is_dropped(&tipped));
    assert!(
        deg(loader(&tipped).pitch_rad()) < 0.01,
        "empty, it falls back"
    );
    tipped.tick(&called(Call::Release));
    wait(&mut tipped, 20.0);
    assert_eq!(loader(&tipped).stage(), LoaderStage::Parked, "sent home");
    let full = load(&with_capacity(1.0));
    assert!(is_loaded(&full), "its rating is no overload");
}

#[test]
fn a_load_centre_too_far_out_tips_it_though_the_weight_is_within_the_rating() {
    let with_centre = |part: f64| {
        let mut spec = loaded(pipe(63.0 * INCH_M, 26.0, 0.005), 1, 5.0);
        let pipe = spec.sticks[0].pipe;
        let loader = spec.loader.as_mut().unwrap();
        loader.capacity_kg = 1.02 * pipe.mass_kg();
        loader.load_centre_m = part * pipe.radius_m();
        spec
    };
    assert!(is_loaded(&load(&with_centre(1.0))));
    let line = load(&with_centre(0.25));
    assert!(is_dropped(&line), "{:?}", loader(&line).stage());
}

/// How far a stick goes from the face, m, when the loader drives up and brakes at a rate.
fn braked(spec: &LineSpec, braking_m_per_s2: f64) -> (f64, bool) {
    let spec = changed(spec.clone(), |loader| {
        loader.braking_m_per_s2 = braking_m_per_s2;
    });
    let mut line = Line::build(&spec);
    line.tick(&called(Call::Load));
    let mut furthest_m = 0.0_f64;
    let mut driven = false;
    loop {
        line.tick(&Controls::default());
        if loader(&line).dropped() == [last(&line)] {
            return (furthest_m, true);
        }
        let [_, face, _, _] = loader(&line).movers(line.rig());
        let stick = line.stick(last(&line)).pose.translation;
        let ahead = block(&face).1.inverse_transform_point(stick).x - block(&face).0.x;
        furthest_m = furthest_m.max(f64::from(ahead) - spec.sticks[0].pipe.radius_m());
        driven |= loader(&line).speed_m_per_s() > 0.1;
        if driven && loader(&line).fork_height_m() > 0.6 {
            return (furthest_m, false);
        }
    }
}

/// The stick leaves the face above g tan φ. It then needs some more to be carried as far as the tips
/// before the machine stands still.
#[test]
fn the_stick_leaves_the_face_above_the_braking_limit_and_the_tips_a_little_above_it() {
    for (tilt_deg, speed) in [(2.0, 1.5), (3.0, 1.5), (5.0, 2.2)] {
        let spec = changed(ideal(), |loader| {
            loader.back_tilt_rad = rad(tilt_deg);
            loader.drive_m_per_s = speed;
            loader.starts_beyond_m = 9.0;
        });
        let pipe = spec.sticks[0].pipe;
        let way_m = spec.loader.unwrap().fork_length_m - pipe.radius_m();
        let leaves = braking_limit_m_per_s2(rad(tilt_deg));
        let falls =
            braking_that_rolls_off_m_per_s2(rad(tilt_deg), speed, way_m, pipe.shape_factor());
        let face = limit(0.8 * leaves, 1.2 * leaves, 6, |a| {
            braked(&spec, a).0 < 0.002
        });
        let tips = limit(leaves, 2.0 * falls, 7, |a| !braked(&spec, a).1);
        println!(
            "tilt {tilt_deg}°, {speed} m/s: leaves the face at {face:.3} m/s² (g tan φ {leaves:.3}), the \
             tips at {tips:.3} (closed form {falls:.3})"
        );
        assert!((face / leaves - 1.0).abs() < 0.02);
        assert!((tips / falls - 1.0).abs() < 0.04);
    }
}

/// With rolling resistance of lever arm f the limit is g tan φ + g f/R.
#[test]
fn rolling_resistance_adds_to_the_braking_limit() {
    let mut spec = changed(ideal(), |loader| {
        loader.back_tilt_rad = rad(3.0);
        loader.starts_beyond_m = 9.0;
    });
    spec.contact.rolling_lever_arm_m = 0.002;
    let expected = G * (tan(rad(3.0)) + 0.002 / spec.sticks[0].pipe.radius_m());
    let face = limit(0.9 * expected, 1.2 * expected, 6, |a| {
        braked(&spec, a).0 < 0.002
    });
    println!("with resistance the face is left at {face:.3} m/s², expected {expected:.3}");
    assert!((face / expected - 1.0).abs() < 0.03);
}

#[test]
fn ground_that_falls_more_than_the_forks_are_tilted_lets_the_stick_roll_off() {
    let tilt_deg = 3.0;
    let with_fall = |fall_deg: f64| {
        let mut spec = changed(ideal(), |loader| loader.back_tilt_rad = rad(tilt_deg));
        spec.ground.cross_fall_rad = rad(fall_deg);
        spec
    };
    let rests = |fall_deg: f64| {
        let mut line = Line::build(&with_fall(fall_deg));
        line.tick(&called(Call::Load));
        wait(&mut line, 0.95);
        line.speed_m_per_s(last(&line)) < 0.003
    };
    let found = limit(2.0, 4.0, 7, rests);
    println!("tilt {tilt_deg}°: rolls off where the ground falls by {found:.2}°");
    assert!((found - tilt_deg).abs() < 0.1);
    assert!(is_dropped(&load(&with_fall(3.5))));
    // 0.2 m/s² of braking take 1.2°.
    let gentle = changed(with_fall(1.5), |loader| loader.braking_m_per_s2 = 0.2);
    assert!(is_loaded(&load(&gentle)));
    let hard = changed(with_fall(1.5), |loader| loader.braking_m_per_s2 = 0.5);
    assert!(is_dropped(&load(&hard)));
}

#[test]
fn it_loads_from_sloping_ground() {
    for (cross_deg, along_deg) in [(2.0, 0.0), (-2.0, 0.0), (0.0, 2.0), (1.0, -2.0)] {
        let mut spec = loaded_24();
        spec.ground.cross_fall_rad = rad(cross_deg);
        spec.ground.along_fall_rad = rad(along_deg);
        let spec = changed(spec, |loader| loader.braking_m_per_s2 = 0.3);
        let line = load(&spec);
        assert!(is_loaded(&line), "{cross_deg}° across, {along_deg}° along");
        assert!(deg(line.yaw_rad(last(&line))).abs() < 1.0);
    }
}

#[test]
fn off_the_middle_one_fork_takes_more_and_beyond_it_the_stick_falls() {
    let with_offset = |off_m: f64| changed(ideal(), |loader| loader.off_middle_m = off_m);
    let half_spread = ideal().loader.unwrap().fork_spread_m / 2.0;
    for off_m in [0.0, 0.3, -0.6] {
        let mut line = Line::build(&with_offset(off_m));
        line.tick(&called(Call::Load));
        wait(&mut line, 0.9);
        let [near, far] = loader(&line).fork_loads_n();
        let (heavy, light) = if off_m > 0.0 {
            (far, near)
        } else {
            (near, far)
        };
        let shares = fork_shares(off_m, 2.0 * half_spread);
        println!("{off_m} m off: {near:.0} N near, {far:.0} N far, shares {shares:.3?}");
        assert!((heavy / (near + far) - shares[0]).abs() < 0.01);
        assert!((light / (near + far) - shares[1]).abs() < 0.01);
    }
    let stays = |off_m: f64| {
        let mut line = Line::build(&with_offset(off_m));
        line.tick(&called(Call::Load));
        wait(&mut line, 3.0);
        loader(&line).dropped().is_empty()
    };
    // The stick tips over the fork's outer edge.
    let outer_m = half_spread + FORK_WIDTH_M / 2.0;
    let found = limit(0.7, 1.2, 7, stays);
    println!("falls from {found:.3} m off the middle, outer edge at {outer_m:.3}");
    assert!((found - outer_m).abs() < 0.02);
    assert!(is_dropped(&load(&with_offset(1.1))));
    let within = load(&with_offset(0.6));
    assert!(is_loaded(&within));
    let z_m = within.stick(last(&within)).pose.translation.z;
    assert!(
        z_m.abs() < 0.05,
        "it lands in the middle of the rails: {z_m}"
    );
}

/// A stick set down far from the row rolls to it: v² = 2 a s.
#[test]
fn a_wide_gap_lets_the_stick_roll_into_the_row() {
    let mut before = 0.0;
    for gap_m in [0.05, 0.5, 1.0, 2.0] {
        let mut spec = changed(ideal(), |loader| loader.gap_m = gap_m);
        spec.rack.length_m = 5.0;
        let pipe = spec.sticks[0].pipe;
        let line = load(&spec);
        assert!(is_loaded(&line));
        let struck = loader(&line).row_struck().unwrap().1;
        let roller = pipe.roller();
        let free = (2.0 * roller.acceleration_m_per_s2(rad(5.0), 0.0) * gap_m).sqrt();
        let energy_j = roller.rolling_energy_j(pipe.mass_kg(), struck);
        println!("gap {gap_m} m: row met at {struck:.3} m/s (free run {free:.3}), {energy_j:.0} J");
        assert!(struck > before);
        assert!(struck < 1.1 * free + 0.05);
        before = struck;
        let through = |kind| matches!(kind, EventKind::PassedGate { .. });
        assert!(!line.events().iter().any(|event| through(event.kind)));
    }
}

#[test]
fn forks_longer_than_the_stick_keep_it_off_the_row() {
    let long = load(&changed(
        {
            let mut spec = ideal();
            spec.rack.length_m = 5.0;
            spec
        },
        |loader| loader.fork_length_m = 1.3,
    ));
    assert!(is_loaded(&long));
    let struck = loader(&long).row_struck().unwrap().1;
    println!("forks of 1.3 m under a stick of 0.61 m: row met at {struck:.3} m/s");
    assert!(struck > 0.5);
}

/// Rails, ground, a stick and a loader, and nothing else.
struct Bench {
    rig: Rig,
    world: World,
    loader: Loader,
    stick: StickId,
}

impl Bench {
    /// A stick at rest on the rails, `along_m` up from their toe.
    fn new(spec: &LineSpec, along_m: f64) -> Self {
        let rig = Rig::new(spec);
        let mut world = World::new(WorldSettings::default());
        let touching = Touching {
            friction: 0.2,
            rolling_lever_arm_m: spec.contact.rolling_lever_arm_m as f32,
        };
        for side in End::BOTH {
            let rail = rig.rail_box(side);
            let half = Vector::new(
                rail.half_length_m as f32,
                rail.half_thickness_m as f32,
                0.075,
            );
            let middle = Vector::new(
                (rig.mirror() * rail.centre.x_m) as f32,
                rail.centre.y_m as f32,
                rig.rail_z_m(side) as f32,
            );
            world.add_fixed_box(half, turned(middle, rig.mirror() * rail.turn_rad), touching);
        }
        let ground = world.add_ground(Vector::ZERO, Vector::Y, touching);
        let pipe = spec.sticks[0].pipe;
        let at = rig.on_rail(End::Near, along_m, pipe.oval().short_m);
        let middle = Vector::new((rig.mirror() * at.x_m) as f32, at.y_m as f32, 0.0);
        let stick = world.add_stick(
            &pipe,
            StickState {
                pose: Pose::from_parts(
                    middle,
                    rotation_about_z(rig.mirror() * -spec.rack.near_rail.pitch_rad),
                ),
                velocity: Vector::ZERO,
                spin: Vector::ZERO,
            },
        );
        let loader = Loader::build(&mut world, &rig, ground, spec.loader.unwrap());
        Self {
            rig,
            world,
            loader,
            stick,
        }
    }

    fn tick(&mut self, call: Option<Call>) {
        self.loader.tick(&mut self.world, &self.rig, call);
        self.world.step();
    }

    fn run(&mut self, seconds: f64) {
        for _ in 0..(seconds * 240.0) as usize {
            self.tick(None);
        }
    }

    /// Pushes the stick downhill for a time and says how far it is from where it was after that.
    fn pushed_m(&mut self, force_n: f32, seconds: f64) -> f64 {
        let before = self.world.stick(self.stick).pose.translation;
        let downhill = Vector::new(self.rig.mirror() as f32 * force_n, 0.0, 0.0);
        for _ in 0..(seconds * 240.0) as usize {
            let at = self.world.stick(self.stick).pose.translation;
            self.world.pull(self.stick, at, downhill);
            self.tick(None);
        }
        self.run(2.0);
        f64::from((self.world.stick(self.stick).pose.translation - before).length())
    }
}

/// A stick of 4 % ovality hangs up to 2.3°.
fn hung(hand: Hand) -> Bench {
    let mut spec = loaded(pipe(24.0 * INCH_M, 17.0, 0.04), 1, 1.5);
    spec.hand = hand;
    spec.rack.length_m = 6.0;
    Bench::new(&spec, 3.0)
}

#[test]
fn a_held_stick_withstands_a_push_that_sets_a_hung_one_off() {
    for hand in [Hand::Right, Hand::Left] {
        let mut bench = hung(hand);
        bench.run(1.0);
        let moved_m = bench.pushed_m(400.0, 1.0);
        println!("hung, pushed with 400 N: {moved_m:.3} m");
        assert!(moved_m > 0.5);

        let mut bench = hung(hand);
        bench.tick(Some(Call::Hold));
        bench.run(40.0);
        assert_eq!(bench.loader.stage(), LoaderStage::Holding);
        assert_eq!(bench.loader.held(), Some(bench.stick));
        let [near, far] = bench.loader.fork_loads_n();
        let weight_n = bench.world.pipe(bench.stick).weight_n();
        assert!((near + far) / weight_n > 0.95, "the forks carry it");
        let moved_m = bench.pushed_m(400.0, 1.0);
        println!("held, pushed with 400 N: {moved_m:.4} m");
        assert!(moved_m < 0.01);

        let place = bench.world.stick(bench.stick).pose.translation;
        bench.tick(Some(Call::Release));
        bench.run(4.0);
        bench.run(40.0);
        assert_eq!(bench.loader.stage(), LoaderStage::Parked);
        assert_eq!(bench.loader.held(), None);
        assert!(bench.loader.dropped().is_empty());
        let state = bench.world.stick(bench.stick);
        let moved_m = (state.pose.translation - place).length();
        let speed = state.velocity.length();
        println!("released: {moved_m:.3} m from there, at {speed:.4} m/s");
        assert!(moved_m < 0.2 && speed < 0.002, "it hangs again");
    }
}

#[test]
fn what_the_forks_do_not_reach_is_not_held() {
    let mut spec = loaded(pipe(24.0 * INCH_M, 17.0, 0.04), 3, 1.5);
    spec.rack.length_m = 6.0;
    let mut line = Line::build(&spec);
    line.tick(&called(Call::Hold));
    wait(&mut line, 20.0);
    assert_eq!(loader(&line).stage(), LoaderStage::Parked);
    assert_eq!(loader(&line).asked(), Some(Call::Hold));
    let mut line = Line::build(&changed(spec, |loader| {
        loader.fork_length_m = 2.2;
        loader.capacity_kg *= 4.0;
    }));
    line.tick(&called(Call::Hold));
    wait(&mut line, 50.0);
    assert_eq!(loader(&line).held(), Some(StickId(0)));
    let [near, far] = loader(&line).fork_loads_n();
    let weight_n = line.world().pipe(StickId(0)).weight_n();
    assert!((near + far) / weight_n > 2.8, "all three lie on the forks");
    line.tick(&called(Call::Release));
    wait(&mut line, 50.0);
    assert_eq!(loader(&line).stage(), LoaderStage::Parked);
    let row = line.sticks().take(3);
    assert!(
        row.map(|stick| line.above_rails_m(stick))
            .all(|above_m| above_m < 0.33)
    );
}

#[test]
fn a_stop_shown_to_the_driver_stops_it_and_it_goes_on_after() {
    let mut bench = hung(Hand::Right);
    bench.tick(Some(Call::Load));
    bench.run(3.0);
    let speed = bench.loader.speed_m_per_s();
    assert!(speed > 0.3);
    bench.loader.set_halted(true);
    bench.run(speed / 0.5 + 0.1);
    assert_eq!(bench.loader.speed_m_per_s(), 0.0);
    let [body, ..] = bench.loader.movers(&bench.rig);
    bench.run(5.0);
    assert_eq!(bench.loader.movers(&bench.rig)[0].shape, body.shape);
    bench.loader.set_halted(false);
    bench.run(60.0);
    assert_eq!(bench.loader.stage(), LoaderStage::Parked);
    assert!(bench.loader.dropped().is_empty());
}

#[test]
fn left_and_right_are_mirror_images() {
    let mut spec = loaded_24();
    spec.ground.cross_fall_rad = rad(1.0);
    spec.ground.along_fall_rad = rad(0.5);
    let spec = changed(spec, |loader| loader.off_middle_m = 0.2);
    let mut other = spec.clone();
    other.hand = Hand::Left;
    let (mut right, mut left) = (Line::build(&spec), Line::build(&other));
    for tick in 0..240 * 45 {
        let controls = Controls {
            call: (tick == 10).then_some(Call::Load),
            ..Controls::default()
        };
        right.tick(&controls);
        left.tick(&controls);
        let (r, l) = (right.stick(last(&right)), left.stick(last(&left)));
        let (p, q) = (r.pose.translation, l.pose.translation);
        let apart = (p - Vector::new(-q.x, q.y, q.z)).length();
        assert!(apart < 0.01, "tick {tick}: {p} and {q}");
    }
    assert!(is_loaded(&right) && is_loaded(&left));
}

#[test]
fn a_fork_goes_on_bit_for_bit() {
    let mut line = Line::build(&loaded_24());
    line.tick(&called(Call::Load));
    for seconds in [1.5, 3.0, 12.0, 5.0, 0.8, 4.0] {
        wait(&mut line, seconds);
        let mut copy = line.fork();
        assert_eq!(copy.hash(), line.hash());
        let mut ahead = line.fork();
        for _ in 0..300 {
            copy.tick(&Controls::default());
            ahead.tick(&Controls::default());
            assert_eq!(copy.hash(), ahead.hash());
        }
    }
}

#[test]
fn its_solids_move_as_fast_as_they_say() {
    let mut line = Line::build(&loaded_24());
    line.tick(&called(Call::Load));
    let mut before = loader(&line).movers(line.rig());
    for tick in 0..240 * 30 {
        line.tick(&Controls::default());
        let now = loader(&line).movers(line.rig());
        if tick % 97 == 0 {
            for (old, new) in before.iter().zip(&now) {
                let moved = (block(new).1.translation - block(old).1.translation) * 240.0;
                // Tilting, which is slow, is not counted.
                assert!(
                    (moved - new.velocity).length() < 0.12,
                    "{moved} {}",
                    new.velocity
                );
            }
        }
        before = now;
    }
}

#[test]
fn senseless_figures_break_nothing() {
    let wild = [f64::NAN, f64::INFINITY, -1.0, 0.0, 1.0e9];
    for value in wild {
        let fields: [fn(&mut LoaderSpec) -> &mut f64; 12] = [
            |l| &mut l.fork_spread_m,
            |l| &mut l.fork_length_m,
            |l| &mut l.capacity_kg,
            |l| &mut l.load_centre_m,
            |l| &mut l.back_tilt_rad,
            |l| &mut l.off_middle_m,
            |l| &mut l.carry_height_m,
            |l| &mut l.gap_m,
            |l| &mut l.drive_m_per_s,
            |l| &mut l.braking_m_per_s2,
            |l| &mut l.lift_m_per_s,
            |l| &mut l.starts_beyond_m,
        ];
        for (i, field) in fields.into_iter().enumerate() {
            let spec = changed(loaded_24(), |loader| *field(loader) = value);
            let mut line = Line::build(&spec);
            line.tick(&called(Call::Load));
            wait(&mut line, 2.0);
            assert_eq!(line.fault(), None, "field {i} = {value}");
        }
    }
    let mut none = loaded_24();
    none.sticks.clear();
    let mut line = Line::build(&none);
    line.tick(&called(Call::Load));
    wait(&mut line, 2.0);
    assert_eq!(line.sticks().len(), 0);
}

#[test]
fn the_formulas_agree_with_one_another() {
    // 5000 lb at 24 in, 28 in out, 16 in from axle to face.
    let moments = capacity_by_moments(5000.0, 24.0, 28.0, 16.0);
    assert!((moments - 4545.5).abs() < 0.1);
    assert!(capacity_at(5000.0, 24.0, 28.0) < moments);
    let machine = Stability::of_rating(4000.0, 0.6);
    let rated = 4000.0 * G * (AXLE_TO_FACE_M + 0.6);
    let resisting = machine.resisting_moment_n_m(0.0, 0.0);
    assert!((rated / resisting - RATED_PART_OF_TIPPING).abs() < 1e-9);
    assert!(machine.resisting_moment_n_m(rad(3.0), 0.0) < resisting);
    assert!(machine.resisting_moment_n_m(0.0, -1.0) < resisting);
    // No way to go: it falls as soon as it leaves the face.
    let at_once = braking_that_rolls_off_m_per_s2(rad(4.0), 2.0, 0.0, 0.9);
    assert!((at_once - braking_limit_m_per_s2(rad(4.0))).abs() < 1e-9);
    assert_eq!(
        braking_that_rolls_off_m_per_s2(PI / 4.0, 0.5, 0.3, 0.9),
        f64::INFINITY
    );
    assert_eq!(fork_shares(0.0, 1.8), [0.5, 0.5]);
    assert!(fork_shares(-1.0, 1.8)[1] < 0.0);
}
