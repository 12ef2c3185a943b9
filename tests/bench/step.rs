//! Microseconds per step of the scenes in tests/mujoco/bench_scenes.json.
//!
//! `cargo bench` measures with criterion. `cargo bench --bench step -- --json` prints one line of JSON
//! for tests/mujoco/bench.py, which times MuJoCo on the same scenes in turn with it.

#[path = "../common/scene.rs"]
mod scene;

use std::time::{Duration, Instant};

use criterion::{BatchSize, Criterion, SamplingMode, Throughput};
use scene::{Built, Scene, scenes};

/// Timed runs for one line of JSON, after one that warms up.
const RUNS: usize = 5;

fn step_through(scene: &Scene, mut built: Built) -> Built {
    for _ in 0..scene.steps() {
        built.world.step();
    }
    built
}

/// Median time of a step over whole runs from rest, µs.
fn us_per_step(scene: &Scene) -> f64 {
    let mut times: Vec<Duration> = (0..=RUNS)
        .map(|_| {
            let built = scene.build();
            let start = Instant::now();
            std::hint::black_box(step_through(scene, built));
            start.elapsed()
        })
        .skip(1)
        .collect();
    times.sort_unstable();
    times[RUNS / 2].as_secs_f64() * 1.0e6 / scene.steps() as f64
}

fn main() {
    let scenes = scenes("bench_scenes.json");
    for scene in &scenes {
        let problems = scene.problems(&scene.measure());
        assert!(
            problems.is_empty(),
            "not the state to be timed; run: cargo test --test mujoco_cross_check\n{}",
            problems.join("\n")
        );
    }
    if std::env::args().any(|arg| arg == "--json") {
        let times = scenes.iter().map(|scene| {
            (
                format!("{}_us_per_step", scene.id),
                us_per_step(scene).into(),
            )
        });
        println!("{}", serde_json::Value::Object(times.collect()));
        return;
    }
    let mut criterion = Criterion::default().configure_from_args();
    let mut group = criterion.benchmark_group("2000_steps_from_rest");
    // A run of 2000 steps is long for criterion, which else would do ever more of them per sample.
    group.sample_size(20).sampling_mode(SamplingMode::Flat);
    for scene in &scenes {
        // The throughput is in steps.
        group.throughput(Throughput::Elements(scene.steps() as u64));
        group.bench_function(&scene.id, |bencher| {
            bencher.iter_batched(
                || scene.build(),
                |built| step_through(scene, built),
                BatchSize::PerIteration,
            );
        });
    }
    group.finish();
    criterion.final_summary();
}
