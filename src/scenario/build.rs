//! From the fields of a file to the description of the line: defaults, units, the row.

use super::raw::{
    Column, File, LevelFault, MotionFault, Person, Rail, RailFault, RollerFault, Scores, Size,
    Spanish, StickOverride, Wall,
};
use super::scatter::{Scatter, widest_row};
use super::{Scenario, ScenarioTexts};
use crate::domain::crew;
use crate::domain::error::DomainError;
use crate::domain::finding::Scoring;
use crate::domain::math::rad;
use crate::domain::pipe::{self, MetricStandard, Pipe, SizeSystem};
use crate::domain::rig::Rig;
use crate::domain::spec::{
    ColumnSpec, ContactSpec, CradleSpec, Duty, EscapementKind, EscapementSpec, FaultSpec, FootSpec,
    GroundSpec, LineSpec, LoaderSpec, MachineSpec, Motion, MotionFaults, PersonSpec, Place,
    RackSpec, RailFaults, RailSpec, ReceiverSpec, StickSpec, Waypoint, WeatherSpec, ZoneSpec,
};

/// Room left behind the row on a rack whose length is not given.
const SPARE_DIAMETERS: f64 = 1.5;
/// Rail spacing over stick length where the spacing is not given.
const RAIL_SPACING_OF_LENGTH: f64 = 0.44;
/// And at least so much, which leaves the receiver's arms room between the rails, m.
const RAIL_SPACING_LEAST_M: f64 = 1.5;

/// In the place of required fields that are missing, so that the rest of a faulty file can be judged.
/// A file without faults has them all.
const STAND_IN_SIZE: Size = Size::Ips(24.0);
const STAND_IN_WALL: Wall = Wall::Dr(17.0);

const MM: f64 = 1e-3;
const KN: f64 = 1e3;
const MN: f64 = 1e6;

/// A stick whose wall no pipe of its size has.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct OddWall {
    /// Which stick, counted from 0.
    pub stick: usize,
    pub nominal_diameter_m: f64,
    pub error: DomainError,
}

/// Puts ordinary walls in the place of all, so that the rest can be judged.
pub(super) fn stand_in_walls(file: &mut File) {
    file.pipe.wall = Some(STAND_IN_WALL);
    for own in file.row.overrides.iter_mut().flatten() {
        own.wall = None;
    }
}

/// Builds the scenario; or names every stick that cannot be.
pub(super) fn build(file: &File) -> Result<Scenario, Vec<OddWall>> {
    Ok(Scenario {
        format: file.format.unwrap_or_default(),
        author: file.author(),
        texts: ScenarioTexts {
            name: file.name.clone().unwrap_or_default(),
            brief: file.brief(),
            trains: file.trains(),
            hazards: file.hazards(),
        },
        spanish: spanish(&file.es),
        level: file.level(),
        takes_min: file.takes_min(),
        seed: file.seed(),
        time_limit_s: file.time_limit_s(),
        goal: file.goal(),
        scoring: scoring(&file.scoring),
        set_out_open: file.set_out_open(),
        faults_told: file.faults.told(),
        line: with_people(file, with_rack_length(file, line(file)?)),
        scatter: scatter(file),
    })
}

fn spanish(texts: &Spanish) -> ScenarioTexts {
    let text = |given: &Option<String>| given.clone().unwrap_or_default();
    ScenarioTexts {
        name: text(&texts.name),
        brief: text(&texts.brief),
        trains: text(&texts.trains),
        hazards: text(&texts.hazards),
    }
}

fn scoring(given: &Scores) -> Scoring {
    let own = given.own.iter().flatten();
    Scoring {
        pass_mark: given.pass_mark(),
        critical_points: given.critical_points(),
        major_points: given.major_points(),
        minor_points: given.minor_points(),
        own: own.filter_map(|own| own.finding.zip(own.points)).collect(),
        handling_time_s: given.handling_time_s(),
    }
}

/// The line on a rack of the length that is given, or that its row asks for.
fn with_rack_length(file: &File, mut line: LineSpec) -> LineSpec {
    line.rack.length_m = file.rack.length_m.unwrap_or_else(|| {
        let rig = Rig::new(&line);
        let spare_m = line
            .sticks
            .first()
            .map_or(0.0, |first| SPARE_DIAMETERS * first.pipe.outside_diameter_m);
        rig.rack_length_for(&widest_row(&rig, &scatter(file))) + spare_m
    });
    line
}

/// The line with what follows from the rest of it: the machine's centreline, the people, the zone.
fn with_people(file: &File, mut line: LineSpec) -> LineSpec {
    let radius_m = 0.5 * outside_diameter_m(file);
    line.machine.centreline_m = file
        .machine
        .centreline_m
        .unwrap_or_else(|| Rig::new(&line).usual_centreline_for_m(radius_m));
    let rig = Rig::new(&line);
    line.people = match &file.people {
        Some(people) => people.iter().map(person).collect(),
        None => crew::usual(&rig),
    };
    line.zone = match &file.zone.cones {
        Some(cones) => ZoneSpec {
            cones: cones.iter().map(|cone| place(cone.x_m, cone.z_m)).collect(),
        },
        None => crew::usual_zone(&rig),
    };
    line
}

/// A place of a checked file, which gives both numbers.
fn place(x_m: Option<f64>, z_m: Option<f64>) -> Place {
    Place {
        x_m: x_m.unwrap_or_default(),
        z_m: z_m.unwrap_or_default(),
    }
}

fn person(person: &Person) -> PersonSpec {
    let usual = crew::standing(
        person.duty.unwrap_or(Duty::Visitor),
        place(person.x_m, person.z_m),
    );
    let waypoints = person.path.iter().flatten().map(|waypoint| Waypoint {
        place: place(waypoint.x_m, waypoint.z_m),
        stays_s: waypoint.stays_s(),
    });
    PersonSpec {
        path: waypoints.collect(),
        starts_s: person.starts_s(),
        walking_m_per_s: person.walking_m_per_s(),
        reaction_s: person.reaction_s(),
        looks: person.looks(),
        radio: person.radio.unwrap_or(usual.radio),
        ..usual
    }
}

/// Outside diameter of the pipe of the row, m.
pub(super) fn outside_diameter_m(file: &File) -> f64 {
    let size = file.pipe.size.unwrap_or(STAND_IN_SIZE);
    size.system().mean_diameter_m()
}

fn scatter(file: &File) -> Scatter {
    let given = &file.row.scatter;
    Scatter {
        gap_m: given.gap_mm() * MM,
        long_axis_rad: rad(given.long_axis_deg()),
        yaw_rad: rad(given.yaw_deg()),
        offset_m: given.offset_m(),
    }
}

/// The line on a rack of no length yet.
fn line(file: &File) -> Result<LineSpec, Vec<OddWall>> {
    let sticks = sticks(file)?;
    let rail_spacing_m = file
        .rack
        .rail_spacing_m
        .unwrap_or((RAIL_SPACING_OF_LENGTH * file.pipe.length_m()).max(RAIL_SPACING_LEAST_M));
    Ok(LineSpec {
        hand: file.hand(),
        sticks,
        rack: RackSpec {
            near_rail: rail(&file.rack.near_rail, file),
            far_rail: rail(&file.rack.far_rail, file),
            rail_spacing_m,
            toe_height_m: file.rack.toe_height_m(),
            length_m: 0.0,
            rail_width_m: file.rack.rail_width_m(),
            rated_load_n: file.rack.rated_load_kn() * KN,
        },
        escapement: escapement(file),
        receiver: ReceiverSpec {
            starts_up: file.receiver.starts_up(),
            travel_m: file.receiver.travel_m(),
            force_max_n: file.receiver.force_max_kn() * KN,
            travel_time_s: file.receiver.travel_time_s(),
        },
        cradles: cradles(file),
        machine: machine(file),
        loader: (file.loader.sticks() > 0).then(|| loader(file)),
        people: Vec::new(),
        zone: ZoneSpec::default(),
        ground: GroundSpec {
            cross_fall_rad: rad(file.ground.cross_fall_deg()),
            along_fall_rad: rad(file.ground.along_fall_deg()),
            friction: file.ground.friction(),
            rolling_lever_arm_m: file.ground.rolling_lever_arm_mm() * MM,
            subgrade_n_per_m3: file.ground.subgrade_mn_per_m3() * MN,
        },
        weather: WeatherSpec {
            temperature_c: file.weather.temperature_c(),
            wind_speed_m_per_s: file.weather.wind_m_per_s(),
            wind_towards_rad: rad(file.weather.wind_towards_deg()),
            drag_coefficient: file.weather.drag_coefficient(),
        },
        contact: ContactSpec {
            friction_dry: file.contact.friction_dry(),
            friction_wet: file.contact.friction_wet(),
            friction_frosted: file.contact.friction_frosted(),
            friction_glazed: file.contact.friction_glazed(),
            friction_pipe_on_pipe: file.contact.friction_pipe_on_pipe(),
            friction_rubber_dry: file.contact.friction_rubber_dry(),
            friction_rubber_wet: file.contact.friction_rubber_wet(),
            friction_rubber_frosted: file.contact.friction_rubber_frosted(),
            friction_rubber_glazed: file.contact.friction_rubber_glazed(),
            restitution: file.contact.restitution(),
            rolling_lever_arm_m: file.contact.rolling_lever_arm_mm() * MM,
        },
        faults: faults(file),
    })
}

/// The cradles; `CradleSpec::usual` where nothing else is said.
fn cradles(file: &File) -> CradleSpec {
    let given = &file.cradles;
    let usual = CradleSpec::usual(file.pipe.length_m());
    CradleSpec {
        spacing_m: given.spacing_m.unwrap_or(usual.spacing_m),
        near: column(&given.near),
        far: column(&given.far),
        turning: given.turning(),
        surface: given.surface(),
        lift_stroke_m: given.lift_stroke_m(),
        lift_time_s: given.lift_time_s(),
        lift_force_n: given.lift_force_max_kn() * KN,
        shift_range_m: given.shift_range_m(),
        shift_time_s: given.shift_time_s(),
        shift_force_n: given.shift_force_max_kn() * KN,
        advance_m_per_s: given.advance_m_per_s(),
        advance_force_n: given.advance_force_max_kn() * KN,
        turn_m_per_s: given.turn_m_per_s(),
        turn_force_n: given.turn_force_max_kn() * KN,
    }
}

fn column(column: &Column) -> ColumnSpec {
    let foot = |padded: bool| FootSpec { padded };
    ColumnSpec {
        offset_m: column.offset_mm() * MM,
        lean_rad: rad(column.lean_deg()),
        rack_foot: foot(column.rack_foot_padded()),
        outer_foot: foot(column.outer_foot_padded()),
    }
}

/// The machine without a centreline yet; `MachineSpec::usual` where nothing else is said.
fn machine(file: &File) -> MachineSpec {
    let given = &file.machine;
    let usual = MachineSpec::usual(file.pipe.length_m(), outside_diameter_m(file), 0.0);
    let half_length_m = given.half_length_m.unwrap_or(usual.half_length_m);
    let longer_m = half_length_m - usual.half_length_m;
    MachineSpec {
        near_cradle_to_jaws_m: given
            .near_cradle_to_jaws_m
            .unwrap_or(usual.near_cradle_to_jaws_m + longer_m),
        half_length_m,
        centreline_m: usual.centreline_m,
        grip_force_n: given.grip_force_max_kn() * KN,
        joint_time_s: given.joint_time_s(),
        draw_m_per_s: given.draw_m_per_s(),
    }
}

fn loader(file: &File) -> LoaderSpec {
    let loader = &file.loader;
    let size = file.pipe.size.unwrap_or(STAND_IN_SIZE);
    LoaderSpec {
        sticks: loader.sticks() as usize,
        fork_spread_m: loader.fork_spread_m(),
        fork_length_m: loader
            .fork_length_m
            .unwrap_or(size.system().mean_diameter_m()),
        capacity_kg: loader.capacity_kg(),
        load_centre_m: loader.load_centre_m(),
        back_tilt_rad: rad(loader.back_tilt_deg()),
        off_middle_m: loader.off_middle_m(),
        carry_height_m: loader.carry_height_m(),
        gap_m: loader.gap_mm() * MM,
        drive_m_per_s: loader.drive_m_per_s(),
        braking_m_per_s2: loader.braking_m_per_s2(),
        lift_m_per_s: loader.lift_m_per_s(),
        starts_beyond_m: loader.starts_beyond_m(),
    }
}

fn faults(file: &File) -> FaultSpec {
    let given = &file.faults;
    // In the order of `Motion::ALL`.
    let motions: [_; Motion::ALL.len()] = [
        motion_faults(&given.receiver),
        motion_faults(&given.lift_near),
        motion_faults(&given.lift_far),
        level_faults(&given.shift_near),
        level_faults(&given.shift_far),
        level_faults(&given.turn),
        roller_faults(&given.advance),
    ];
    FaultSpec {
        near: rail_faults(&given.near_rail),
        far: rail_faults(&given.far_rail),
        motions,
        roller_seized: given.roller_seized(),
        radio_dead: given.radio_dead(),
        power_fails_s: given.power_fails_s,
    }
}

fn rail_faults(faults: &RailFault) -> RailFaults {
    RailFaults {
        gate_late_s: faults.gate_late_s(),
        gate_missing: faults.gate_missing(),
        separator_missing: faults.separator_missing(),
        gate_stuck: faults.gate_stuck(),
        chock_missing: faults.chock_missing(),
        inclinometer_error_rad: rad(faults.inclinometer_error_deg()),
    }
}

fn motion_faults(faults: &MotionFault) -> MotionFaults {
    MotionFaults {
        slowness: faults.slowness(),
        crossed: faults.crossed(),
        coupler: faults.coupler(),
        sticks_s: faults.sticks_s(),
        air_m: faults.air_mm() * MM,
        creep_m_per_s: faults.creep_mm_per_s() * MM,
    }
}

fn level_faults(faults: &LevelFault) -> MotionFaults {
    MotionFaults {
        slowness: faults.slowness(),
        crossed: faults.crossed(),
        coupler: faults.coupler(),
        sticks_s: faults.sticks_s(),
        ..MotionFaults::default()
    }
}

fn roller_faults(faults: &RollerFault) -> MotionFaults {
    MotionFaults {
        slowness: faults.slowness(),
        crossed: faults.crossed(),
        coupler: faults.coupler(),
        sticks_s: faults.sticks_s(),
        creep_m_per_s: faults.creep_mm_per_s() * MM,
        ..MotionFaults::default()
    }
}

fn rail(rail: &Rail, file: &File) -> RailSpec {
    RailSpec {
        pitch_rad: rad(rail.pitch_deg.unwrap_or(file.rack.pitch_deg())),
        surface: rail.surface.unwrap_or(file.rack.surface()),
        foot: FootSpec {
            padded: rail.foot_padded(),
        },
    }
}

fn escapement(file: &File) -> EscapementSpec {
    let given = &file.escapement;
    let size = file.pipe.size.unwrap_or(STAND_IN_SIZE);
    let kind = given.kind();
    let stroke_time_s = match kind {
        EscapementKind::PinPair => 0.6,
        EscapementKind::StarWheel => 3.0,
    };
    EscapementSpec {
        kind,
        size_setting_m: given
            .size_setting
            .unwrap_or(size)
            .system()
            .mean_diameter_m(),
        force_max_n: given.force_max_kn() * KN,
        stroke_time_s: given.stroke_time_s.unwrap_or(stroke_time_s),
        interlock: given.interlock(),
    }
}

fn sticks(file: &File) -> Result<Vec<StickSpec>, Vec<OddWall>> {
    let like_the_row = StickOverride::default();
    let (mut sticks, mut odd) = (Vec::new(), Vec::new());
    for (index, number) in (1..=file.row.sticks()).enumerate() {
        let own = file
            .row
            .overrides
            .iter()
            .flatten()
            .find(|own| own.stick == Some(number))
            .unwrap_or(&like_the_row);
        let size = own
            .size
            .or(file.pipe.size)
            .unwrap_or(STAND_IN_SIZE)
            .system();
        match stick(file, own, size) {
            Ok(stick) => sticks.push(stick),
            Err(error) => odd.push(OddWall {
                stick: index,
                nominal_diameter_m: size.nominal_diameter_m(),
                error,
            }),
        }
    }
    if odd.is_empty() { Ok(sticks) } else { Err(odd) }
}

/// One stick. The table has held the size and the length in range, so that only the wall can fail.
fn stick(file: &File, own: &StickOverride, size: SizeSystem) -> Result<StickSpec, DomainError> {
    let (row, pipe) = (&file.row, &file.pipe);
    let wall = own.wall.or(pipe.wall).unwrap_or(STAND_IN_WALL);
    let length_m = own.length_m.unwrap_or(pipe.length_m());
    let usual = Pipe::from_size(size, wall.thickness(), length_m)?;
    Ok(StickSpec {
        pipe: Pipe {
            density_kg_m3: pipe.density_kg_m3.unwrap_or(usual.density_kg_m3),
            ovality: own.ovality_pct.unwrap_or(pipe.ovality_pct()) / 100.0,
            temperature_c: pipe.temperature_c.unwrap_or(file.weather.temperature_c()),
            ..usual
        },
        long_axis_rad: rad(own.long_axis_deg.unwrap_or(row.long_axis_deg())),
        gap_m: own.gap_mm.unwrap_or(row.gap_mm()) * MM,
        yaw_rad: rad(own.yaw_deg.unwrap_or(row.yaw_deg())),
        offset_m: own.offset_m.unwrap_or(row.offset_m()),
    })
}

impl Size {
    /// The size in its series. A checked file holds no others, and no fractions.
    fn system(self) -> SizeSystem {
        match self {
            Self::Ips(size_in) => SizeSystem::Ips {
                size_in: size_in as u16,
            },
            Self::Metric(dn_mm) => SizeSystem::Metric {
                dn_mm: dn_mm as u16,
                standard: MetricStandard::AsNzs4130,
            },
        }
    }
}

impl Wall {
    fn thickness(self) -> pipe::Wall {
        match self {
            Self::Dr(ratio) | Self::Sdr(ratio) => pipe::Wall::Ratio(ratio),
            Self::Thickness(wall_mm) => pipe::Wall::Minimum {
                wall_m: wall_mm * MM,
            },
        }
    }
}
