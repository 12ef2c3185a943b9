use chockline::domain::pipe::Pipe;
use chockline::domain::math::*;
use chockline::domain::spec::*;
use chockline::sim::line::*;
use chockline::sim::controls::Controls;
use chockline::sim::world::StickId;

pub fn pipe(od: f64, dr: f64, len: f64, ovality: f64) -> Pipe {
    Pipe { outside_diameter_m: od, wall_min_m: od/dr, wall_avg_m: 1.06*od/dr, length_m: len, density_kg_m3: 955.0, ovality, temperature_c: 23.0 }
}
pub fn spec(od: f64, n: usize, pitch: f64, kind: EscapementKind, setting: f64, ov: f64, e: f64) -> LineSpec {
    let p = pipe(od, 17.0, 12.19, ov);
    let rail = RailSpec { pitch_rad: rad(pitch), surface: Surface::Dry };
    LineSpec { hand: Hand::Right,
        sticks: vec![StickSpec { pipe: p, long_axis_rad: 0.0, gap_m: 0.0, yaw_rad: 0.0, offset_m: 0.0 }; n],
        rack: RackSpec { near_rail: rail, far_rail: rail, rail_spacing_m: 5.36, toe_height_m: 1.3, length_m: chockline::domain::rig::Rig::rack_length_for(setting, n, od), rail_width_m: 0.15 },
        escapement: EscapementSpec { kind, size_setting_m: setting, force_max_n: 20e3, stroke_time_s: if kind==EscapementKind::PinPair {0.6} else {3.0}, interlock: true },
        receiver: ReceiverSpec { starts_up: true, travel_m: 0.45, force_max_n: 40e3, travel_time_s: 3.0 },
        ground: GroundSpec { cross_fall_rad: 0.0, along_fall_rad: 0.0, friction: 0.5, rolling_lever_arm_m: 0.025 },
        weather: WeatherSpec { temperature_c: 23.0, wind_speed_m_per_s: 0.0, wind_towards_rad: 0.0, drag_coefficient: 0.7 },
        contact: ContactSpec { friction_dry: 0.2, friction_wet: 0.12, friction_frosted: 0.05, friction_glazed: 0.02, friction_pipe_on_pipe: 0.25, restitution: e, rolling_lever_arm_m: 0.002 },
    }
}
fn run(name: &str, s: &LineSpec, verbose: bool) {
    let mut line = Line::build(s);
    let mut t_hold = 0.0;
    let t0 = std::time::Instant::now();
    let mut released_feed = false;
    for i in 0..240*30 {
        let t = i as f64/240.0;
        let mut c = Controls::default();
        if t > 2.0 && !released_feed {
            c.feed = true;
            let clear = line.place(StickId(0)) != StickPlace::Held;
            if clear { t_hold += 1.0/240.0; }
            if (clear && t_hold > 0.3) || t > 14.0 { released_feed = true; }
        }
        line.tick(&c);
        if verbose && (i % 120 == 0) {
            print!("{t:5.1} {:?} gate {:.2} sep {:.2} ", line.stage(), line.gate_fractions()[0], line.separator_fractions()[0]);
            for st in line.sticks() { let p = line.plane_point(st); print!(" [{:.3} {:.3} v{:.3}]", p.x_m, p.y_m, line.speed_m_per_s(st)); }
            println!();
        }
    }
    println!("{name}: {:?}", t0.elapsed());
    for e in line.events() { println!("   {:.3} {:?}", e.tick as f64/240.0, e.kind); }
    for st in line.sticks() { println!("   {:?} {:?}", line.place(st), line.plane_point(st)); }
}
#[test]
fn scratch() {
    use EscapementKind::*;
    run("24in x3 5deg pins", &spec(0.6096, 3, 5.0, PinPair, 0.6096, 0.0, 0.0), true);
    run("24in x3 5deg wheel", &spec(0.6096, 3, 5.0, StarWheel, 0.6096, 0.0, 0.0), true);
    run("36in x6 5deg pins", &spec(0.9144, 6, 5.0, PinPair, 0.9144, 0.0, 0.0), false);
    run("36in x6 11deg pins", &spec(0.9144, 6, 11.0, PinPair, 0.9144, 0.0, 0.0), false);
    run("36in x4 5deg set 24", &spec(0.9144, 4, 5.0, PinPair, 0.6096, 0.0, 0.0), false);
    run("36in x1 1.5deg ov 4", &spec(0.9144, 1, 1.5, PinPair, 0.9144, 0.04, 0.0), false);
    run("24 in x4 5deg set 36", &spec(0.6096, 4, 5.0, PinPair, 0.9144, 0.0, 0.0), false);
}
