//! Whole lines for the tests: an ordinary one, from which each test changes what it is about.
#![allow(dead_code)]

use chockline::domain::crew;
use chockline::domain::loader::load_centre_m;
use chockline::domain::math::rad;
use chockline::domain::pipe::Pipe;
use chockline::domain::rig::Rig;
use chockline::domain::spec::{
    ContactSpec, CradleSpec, EscapementKind, EscapementSpec, FaultSpec, FootSpec, GroundSpec, Hand,
    LineSpec, LoaderSpec, MachineSpec, RackSpec, RailSpec, ReceiverSpec, StickSpec, Surface,
    WeatherSpec, ZoneSpec,
};

pub const INCH_M: f64 = 0.0254;

/// Pipe by outside diameter and DR, 40 ft long, wall by the US convention, 955 kg/m³.
pub fn pipe(outside_diameter_m: f64, dr: f64, ovality: f64) -> Pipe {
    Pipe {
        outside_diameter_m,
        wall_min_m: outside_diameter_m / dr,
        wall_avg_m: 1.06 * outside_diameter_m / dr,
        length_m: 12.192,
        density_kg_m3: 955.0,
        ovality,
        temperature_c: 23.0,
    }
}

/// A right-handed line in still air on level ground, set for its pipe, with a row that lies straight
/// and close.
pub fn line(pipe: Pipe, sticks: usize, pitch_deg: f64, kind: EscapementKind) -> LineSpec {
    let od_m = pipe.outside_diameter_m;
    let rail = RailSpec {
        pitch_rad: rad(pitch_deg),
        surface: Surface::Dry,
        foot: FootSpec::default(),
    };
    let stick = StickSpec {
        pipe,
        long_axis_rad: 0.0,
        gap_m: 0.0,
        yaw_rad: 0.0,
        offset_m: 0.0,
    };
    let mut spec = LineSpec {
        hand: Hand::Right,
        sticks: vec![stick; sticks],
        rack: RackSpec {
            near_rail: rail,
            far_rail: rail,
            rail_spacing_m: 0.44 * pipe.length_m,
            toe_height_m: 1.3,
            length_m: (sticks as f64 + 1.5) * od_m,
            rail_width_m: 0.15,
            rated_load_n: 200_000.0,
        },
        escapement: EscapementSpec {
            kind,
            size_setting_m: od_m,
            force_max_n: 20_000.0,
            stroke_time_s: match kind {
                EscapementKind::PinPair => 0.6,
                EscapementKind::StarWheel => 3.0,
            },
            interlock: true,
        },
        receiver: ReceiverSpec {
            starts_up: true,
            travel_m: 0.45,
            force_max_n: 40_000.0,
            travel_time_s: 3.0,
        },
        cradles: CradleSpec::usual(pipe.length_m),
        machine: MachineSpec::usual(pipe.length_m, od_m, 0.0),
        loader: None,
        people: Vec::new(),
        zone: ZoneSpec::default(),
        ground: GroundSpec {
            cross_fall_rad: 0.0,
            along_fall_rad: 0.0,
            friction: 0.5,
            rolling_lever_arm_m: 0.025,
            subgrade_n_per_m3: GroundSpec::FIRM_N_PER_M3,
        },
        weather: WeatherSpec {
            temperature_c: 20.0,
            wind_speed_m_per_s: 0.0,
            wind_towards_rad: 0.0,
            drag_coefficient: 0.7,
        },
        contact: ContactSpec {
            friction_dry: 0.2,
            friction_wet: 0.12,
            friction_frosted: 0.05,
            friction_glazed: 0.02,
            friction_pipe_on_pipe: 0.25,
            friction_rubber_dry: 0.5,
            friction_rubber_wet: 0.35,
            friction_rubber_frosted: 0.1,
            friction_rubber_glazed: 0.03,
            restitution: 0.0,
            rolling_lever_arm_m: 0.002,
        },
        faults: FaultSpec::default(),
    };
    spec.machine.centreline_m = Rig::new(&spec).usual_centreline_m();
    spec
}

/// A loader that suits a pipe.
pub fn loader_for(pipe: &Pipe) -> LoaderSpec {
    let od_m = pipe.outside_diameter_m;
    LoaderSpec {
        sticks: 1,
        fork_spread_m: 1.8,
        fork_length_m: 0.9 * od_m,
        capacity_kg: 1.25 * pipe.mass_kg(),
        load_centre_m: load_centre_m(1, od_m),
        back_tilt_rad: rad(5.0),
        off_middle_m: 0.0,
        carry_height_m: 0.4,
        gap_m: 0.05,
        drive_m_per_s: 1.5,
        braking_m_per_s2: 0.5,
        lift_m_per_s: 0.15,
        starts_beyond_m: 4.0,
    }
}

/// The same line with its usual crew.
pub fn crewed(mut spec: LineSpec) -> LineSpec {
    let rig = Rig::new(&spec);
    spec.people = crew::usual(&rig);
    spec.zone = crew::usual_zone(&rig);
    spec
}

/// Three sticks of 24 in DR 17 at 5° behind a pin pair.
pub fn first_release() -> LineSpec {
    line(
        pipe(24.0 * INCH_M, 17.0, 0.005),
        3,
        5.0,
        EscapementKind::PinPair,
    )
}
