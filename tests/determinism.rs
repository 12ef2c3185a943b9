//! Same inputs, same bits: in one process, in another, on other threads, after a fork, in every
//! build profile.

#[path = "common/lines.rs"]
mod lines;

use std::process::Command;

use chockline::domain::math::rad;
use chockline::domain::spec::{EscapementKind, Hand, LineSpec, Surface};
use chockline::operator::{Feeder, Operator};
use chockline::sim::controls::{Button, Controls};
use chockline::sim::line::{Event, EventKind, Line, Stage};
use chockline::sim::world::{
    StickId, StickState, Touching, World, WorldSettings, rotation_about_z,
};
use chockline::sim::{Pose, Rotation, Vector};
use lines::{INCH_M, first_release, line, pipe};
use xxhash_rust::xxh3::Xxh3;

/// Ten seconds.
const RUN_TICKS: usize = 2400;

/// The digest of the fixed run. `cargo test` and `cargo test --release` must agree on it.
#[cfg(all(target_arch = "x86_64", target_os = "linux", target_env = "gnu"))]
const GOLDEN: u64 = 0x73f7_4600_9020_6e82;

/// Lines that between them go through everything the core has: pins and wheel, round and oval,
/// straight and skewed, still air and wind, a feed that goes well and one that goes wrong.
fn line_list() -> Vec<(&'static str, LineSpec)> {
    let wheel = line(
        pipe(36.0 * INCH_M, 17.0, 0.0),
        2,
        5.0,
        EscapementKind::StarWheel,
    );
    let mut skewed = line(
        pipe(36.0 * INCH_M, 21.0, 0.03),
        4,
        6.0,
        EscapementKind::PinPair,
    );
    skewed.hand = Hand::Left;
    skewed.rack.far_rail.pitch_rad = rad(5.0);
    skewed.rack.near_rail.surface = Surface::Frosted;
    skewed.contact.restitution = 0.2;
    skewed.weather.wind_speed_m_per_s = 12.0;
    skewed.weather.wind_towards_rad = 0.7;
    for (i, stick) in skewed.sticks.iter_mut().enumerate() {
        stick.yaw_rad = rad(0.3 * i as f64);
        stick.offset_m = 0.2;
        stick.gap_m = 0.15;
        stick.long_axis_rad = 0.5 * i as f64;
    }
    let mut jumped = line(
        pipe(36.0 * INCH_M, 17.0, 0.0),
        5,
        15.0,
        EscapementKind::PinPair,
    );
    jumped.escapement.size_setting_m = 24.0 * INCH_M;
    jumped.sticks[0].gap_m = 0.5;
    jumped.receiver.starts_up = false;
    vec![
        ("first release", first_release()),
        ("star wheel", wheel),
        ("skewed row in wind", skewed),
        ("jumped gate", jumped),
    ]
}

/// A digest over the state at every tick of a run of ten seconds fed by the plain feeder.
fn digest_of(spec: &LineSpec) -> u64 {
    let mut run = Run::new(spec);
    let mut hasher = Xxh3::new();
    for _ in 0..RUN_TICKS {
        run.tick();
        hasher.update(&run.line.hash().to_le_bytes());
    }
    hasher.digest()
}

/// A line with its operator.
struct Run {
    line: Line,
    feeder: Feeder,
}

impl Run {
    fn new(spec: &LineSpec) -> Self {
        Self {
            line: Line::build(spec),
            feeder: Feeder::default(),
        }
    }

    fn tick(&mut self) {
        let controls = self.feeder.controls(&self.line);
        self.line.tick(&controls);
        assert_eq!(
            self.line.fault(),
            None,
            "the simulation failed; run the case alone and look at the stick it names"
        );
    }

    fn fork(&self) -> Self {
        Self {
            line: self.line.fork(),
            feeder: self.feeder.clone(),
        }
    }
}

#[test]
fn det_two_runs_in_one_process_are_the_same_bits() {
    for (name, spec) in line_list() {
        assert_eq!(
            digest_of(&spec),
            digest_of(&spec),
            "{name}: two runs differ; look for state outside the line (statics, caches, hash order)"
        );
    }
}

/// The digest is no constant: an input that differs in its last digits gives another.
#[test]
fn det_the_digest_notices_a_small_change() {
    let mut spec = first_release();
    let before = digest_of(&spec);
    spec.sticks[2].gap_m += 1.0e-6;
    assert_ne!(
        digest_of(&spec),
        before,
        "a micrometre more gap left the digest as it was; the hash misses part of the state"
    );
}

/// Its own name, for the other process; and the variable that tells it to print.
const ELSEWHERE: &str = "det_another_process_gives_the_same_bits";
const PRINT: &str = "CHOCKLINE_TEST_PRINT_DIGESTS";

#[test]
fn det_another_process_gives_the_same_bits() {
    let here: Vec<String> = line_list()
        .iter()
        .map(|(name, spec)| format!("digest of {name}: {:#018x}", digest_of(spec)))
        .collect();
    if std::env::var_os(PRINT).is_some() {
        println!("\n{}", here.join("\n"));
        return;
    }
    let this_program = std::env::current_exe().unwrap();
    let output = Command::new(this_program)
        .args(["--exact", ELSEWHERE, "--nocapture", "--test-threads=1"])
        .env(PRINT, "1")
        .output()
        .unwrap();
    let printed = String::from_utf8_lossy(&output.stdout).into_owned();
    let there: Vec<&str> = printed
        .lines()
        .filter(|printed| printed.starts_with("digest of "))
        .collect();
    assert_eq!(
        there, here,
        "another process gives other bits; look for anything read from the process (addresses, \
         environment, random hash keys)"
    );
}

#[test]
fn det_other_worlds_on_other_threads_change_nothing() {
    let list = line_list();
    let alone: Vec<u64> = list.iter().map(|(_, spec)| digest_of(spec)).collect();
    let together = std::thread::scope(|scope| {
        let runs: Vec<_> = list
            .iter()
            .chain(&list)
            .map(|(_, spec)| scope.spawn(|| digest_of(spec)))
            .collect();
        let digests = runs.into_iter().map(|run| run.join().unwrap());
        digests.collect::<Vec<u64>>()
    });
    for (i, digest) in together.into_iter().enumerate() {
        let (name, _) = &list[i % list.len()];
        assert_eq!(
            digest,
            alone[i % list.len()],
            "{name}: a run beside others differs from the run alone; look for shared state"
        );
    }
}

/// How long each fork is followed, ticks.
const FOLLOWED_TICKS: usize = 40;

/// Forks a run at every tick of the interesting part and holds fork and original against a run that
/// was never forked, tick by tick and event by event.
fn forks_go_on_alike(name: &str, spec: &LineSpec) -> Vec<(Stage, bool)> {
    let mut plain = Run::new(spec);
    let mut hashes = vec![plain.line.hash()];
    for _ in 0..RUN_TICKS + FOLLOWED_TICKS {
        plain.tick();
        hashes.push(plain.line.hash());
    }
    let events_until = |tick: usize| -> Vec<Event> {
        let events = plain.line.events().iter();
        events
            .copied()
            .filter(|event| event.tick <= tick as u64)
            .collect()
    };
    let mut original = Run::new(spec);
    let mut forked_in = Vec::new();
    for tick in 0..RUN_TICKS {
        assert_eq!(
            original.line.hash(),
            hashes[tick],
            "{name}: being forked changed the original by tick {tick}; a fork shares state with it"
        );
        let moving = original
            .line
            .sticks()
            .any(|stick| original.line.speed_m_per_s(stick) > 0.02);
        let busy = !matches!(original.line.stage(), Stage::Blocked | Stage::Done);
        if moving || busy || tick % 40 == 0 {
            forked_in.push((original.line.stage(), moving));
            let mut fork = original.fork();
            for (after, hash) in hashes[tick..][..=FOLLOWED_TICKS].iter().enumerate() {
                if after > 0 {
                    fork.tick();
                }
                assert_eq!(
                    fork.line.hash(),
                    *hash,
                    "{name}: the fork of tick {tick} differs after {after} ticks; `fork` leaves \
                     something out or rebuilds it differently"
                );
            }
            assert_eq!(
                fork.line.events(),
                events_until(tick + FOLLOWED_TICKS),
                "{name}: the fork of tick {tick} tells other events"
            );
        }
        original.tick();
    }
    forked_in
}

#[test]
fn det_a_forked_line_goes_on_bit_for_bit() {
    let forked_in = forks_go_on_alike("first release", &first_release());
    for stage in [
        Stage::Blocked,
        Stage::Separating,
        Stage::Opening,
        Stage::Open,
        Stage::Closing,
        Stage::Joining,
        Stage::Done,
    ] {
        assert!(
            forked_in.iter().any(|&(s, _)| s == stage),
            "no fork was made while {stage:?}; the run must go through the whole cycle"
        );
    }
    assert!(
        forked_in.iter().filter(|(_, moving)| *moving).count() > 300,
        "hardly any fork was made while the row moved; the run must feed a stick"
    );
}

#[test]
fn det_a_forked_wheel_goes_on_bit_for_bit() {
    let (name, spec) = &line_list()[1];
    let forked_in = forks_go_on_alike(name, spec);
    assert!(
        forked_in.contains(&(Stage::Opening, true)),
        "no fork was made while the wheel turned with a stick on the move"
    );
}

/// Blows: the row runs up to the gate and jumps it, sticks hit each other and the ground.
#[test]
fn det_a_fork_in_the_middle_of_blows_goes_on_bit_for_bit() {
    let (name, spec) = &line_list()[3];
    let mut run = Run::new(spec);
    for _ in 0..RUN_TICKS {
        run.tick();
    }
    let told = |wanted: fn(&EventKind) -> bool| run.line.events().iter().any(|e| wanted(&e.kind));
    assert!(
        told(|kind| matches!(kind, EventKind::GateStruck { .. })),
        "no blow on the gate in this run; give the first stick a longer run-up"
    );
    assert!(
        told(|kind| matches!(kind, EventKind::Grounded { .. })),
        "no stick meets the ground in this run; make it steeper: {:?}",
        run.line.events()
    );
    forks_go_on_alike(name, spec);
}

/// A fork that is treated otherwise leaves the original alone.
#[test]
fn det_what_happens_in_a_fork_stays_there() {
    let spec = first_release();
    let mut plain = Run::new(&spec);
    let mut original = Run::new(&spec);
    let stopped = Controls {
        emergency_stop: true,
        ..Controls::held([Button::ReceiverDown])
    };
    let mut parted = 0;
    for tick in 0..RUN_TICKS {
        if tick % 60 == 0 {
            let mut fork = original.fork();
            for _ in 0..60 {
                fork.line.tick(&stopped);
            }
            let mut untouched = original.fork();
            for _ in 0..60 {
                untouched.tick();
            }
            parted += usize::from(fork.line.hash() != untouched.line.hash());
        }
        plain.tick();
        original.tick();
        assert_eq!(
            original.line.hash(),
            plain.line.hash(),
            "a stop pressed in a fork reached the original by tick {tick}"
        );
    }
    assert!(
        parted >= 3,
        "the stop made no difference in {parted} forks; the run must have something to stop"
    );
}

/// A bare scene: two oval sticks run down rails against a kerb, one thrown in askew from above.
fn scene() -> World {
    let mut world = World::new(WorldSettings {
        restitution: 0.1,
        wind_m_per_s: Vector::new(3.0, 0.0, 1.0),
        ..WorldSettings::default()
    });
    let surface = Touching {
        friction: 0.3,
        rolling_lever_arm_m: 0.002,
    };
    let turn = rotation_about_z(-rad(6.0));
    for z in [-2.7, 2.7] {
        let rail = Pose::from_parts(turn * Vector::new(0.0, -0.1, z), turn);
        world.add_fixed_box(Vector::new(20.0, 0.1, 0.075), rail, surface);
        let kerb = Pose::from_parts(turn * Vector::new(3.0, 0.0, z * 0.9), turn);
        world.add_fixed_box(Vector::new(0.1, 0.15, 0.05), kerb, surface);
    }
    world.add_ground(Vector::new(0.0, -3.0, 0.0), Vector::Y, surface);
    let p = pipe(0.9144, 17.0, 0.02);
    for (x, y, yaw) in [(0.0, 0.5, 0.0), (-1.5, 0.5, 0.0), (0.4, 2.2, 0.3)] {
        world.add_stick(
            &p,
            StickState {
                pose: Pose::from_parts(
                    turn * Vector::new(x, y, 0.2),
                    Rotation::from_rotation_arc(Vector::Z, Vector::new(yaw, 0.0, 1.0).normalize()),
                ),
                velocity: Vector::ZERO,
                spin: Vector::ZERO,
            },
        );
    }
    world
}

#[test]
fn det_a_forked_world_goes_on_bit_for_bit() {
    const TICKS: usize = 1200;
    let mut plain = scene();
    let mut hashes = vec![plain.hash()];
    for _ in 0..TICKS + FOLLOWED_TICKS {
        plain.step();
        hashes.push(plain.hash());
    }
    let mut original = scene();
    for tick in 0..TICKS {
        assert_eq!(
            original.hash(),
            hashes[tick],
            "being forked changed the original by tick {tick}"
        );
        let mut fork = original.fork();
        for (after, hash) in hashes[tick..][1..=FOLLOWED_TICKS].iter().enumerate() {
            fork.step();
            assert_eq!(
                fork.hash(),
                *hash,
                "the fork of tick {tick} differs after {} ticks; `fork` leaves something out",
                after + 1
            );
        }
        fork.set_motion(StickId(0), Vector::Y * 9.0, Vector::ZERO);
        fork.step();
        original.step();
    }
    let moved =
        scene().stick(StickId(0)).pose.translation - original.stick(StickId(0)).pose.translation;
    assert!(
        moved.length() > 1.0,
        "the scene hardly moves, so it shows nothing: {moved}"
    );
}

#[cfg(all(target_arch = "x86_64", target_os = "linux", target_env = "gnu"))]
#[test]
fn det_the_fixed_run_gives_the_golden_digest_in_every_profile() {
    let digest = digest_of(&first_release());
    assert_eq!(
        digest, GOLDEN,
        "the fixed run gives other bits. If `cargo test` and `cargo test --release` still agree and \
         the physics was changed on purpose, set GOLDEN in tests/determinism.rs to {digest:#018x} \
         and say in the commit what changed; if not, find the first commit that differs"
    );
}
