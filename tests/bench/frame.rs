//! Time of a frame of the full yard, drawn without a window and waited for: a line with its crew,
//! loader and full rack, ticked in real time at 60 frames a second, seen from all round.
//!
//! `cargo bench --bench frame [-- WIDTHxHEIGHT [QUALITY [FRAMES]]]` prints, for every level of the
//! picture, the mean, the median and the slowest of a hundred frames.

use std::time::Instant;

use chockline::operator::member;
use chockline::scenario;
use chockline::sim::line::Line;
use chockline::view::camera::{CameraName, Viewpoint};
use chockline::view::picture::Studio;
use chockline::view::quality::Quality;

const TICKS: usize = 4;

fn main() {
    let args: Vec<String> = std::env::args()
        .skip(1)
        .filter(|arg| !arg.starts_with("--"))
        .collect();
    let size = args.first().and_then(|size| {
        let (width, height) = size.split_once('x')?;
        Some([width.parse().ok()?, height.parse().ok()?])
    });
    let size = size.unwrap_or([1920, 1080]);
    let only = args.get(1).and_then(|code| Quality::of_code(code));
    let frames = args.get(2).and_then(|frames| frames.parse().ok());
    let frames = frames.unwrap_or(100_usize).max(1);
    for quality in Quality::ALL {
        if only.is_none_or(|only| only == quality) {
            measure(size, quality, frames);
        }
    }
}

fn measure(size: [u32; 2], quality: Quality, frames: usize) {
    let text = include_str!("../../scenarios/full-rack.ron");
    let loaded = scenario::parse("full-rack.ron", text).expect("a shipped scenario is sound");
    let spec = loaded.scenario.line_for(loaded.scenario.seed);
    let mut operator = member("expert").expect("there is an expert").operator();
    let mut line = Line::build(&spec);
    let begun = Instant::now();
    let mut studio = Studio::open(size, quality).expect("an adapter");
    let from = |yard: &chockline::view::yard::Yard| Viewpoint::new(CameraName::Orbit, yard.rig());
    studio.show(&line, from);
    let ready_s = begun.elapsed().as_secs_f64();
    let mut took_ms: Vec<f64> = Vec::new();
    for _ in 0..frames {
        for _ in 0..TICKS {
            let controls = operator.controls(&line);
            line.tick(&controls);
        }
        let begun = Instant::now();
        studio.show(&line, from);
        took_ms.push(1000.0 * begun.elapsed().as_secs_f64());
    }
    took_ms.sort_by(f64::total_cmp);
    let mean: f64 = took_ms.iter().sum::<f64>() / frames as f64;
    let (things, triangles) = studio.counts();
    println!(
        "{} x {} {:?}, {things} things of {triangles} triangles, {}: ready in {ready_s:.1} s, mean {mean:.1} ms, median {:.1} ms, slowest {:.1} ms",
        size[0],
        size[1],
        quality,
        studio.adapter(),
        took_ms[frames / 2],
        took_ms[frames - 1],
    );
}
