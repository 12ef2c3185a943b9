//! From the fields of a file to the description of the line: defaults, units, the row.

use super::Scenario;
use super::raw::{File, RATIOS, Rail, Size, StickOverride, Wall};
use crate::domain::math::{cos, rad, sin, sqrt, tan};
use crate::domain::pipe::Pipe;
use crate::domain::spec::{
    ContactSpec, EscapementKind, EscapementSpec, GroundSpec, LineSpec, RackSpec, RailSpec,
    ReceiverSpec, StickSpec, WeatherSpec,
};

/// The gate's corner stands this many diameters up the slope from the toe.
const GATE_FROM_TOE_DIAMETERS: f64 = 2.2;
/// Room left behind the row on a rack whose length is not given.
const SPARE_DIAMETERS: f64 = 1.5;
/// Rail spacing over stick length where the spacing is not given.
const RAIL_SPACING_OF_LENGTH: f64 = 0.44;

/// In the place of required fields that are missing, so that the rest of a faulty file can be judged.
/// A file without faults has them all.
const STAND_IN_SIZE: Size = Size::Ips(24.0);
const STAND_IN_WALL: Wall = Wall::Dr(17.0);

const MM: f64 = 1e-3;
const INCH_M: f64 = 0.0254;
const KN: f64 = 1e3;

/// A stick whose wall no pipe of its size has.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct OddWall {
    /// Which stick, counted from 0.
    pub stick: usize,
    pub wall: WallFault,
}

/// A wall outside the ratios of [`raw::RATIOS`](super::raw::RATIOS).
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct WallFault {
    pub wall_min_m: f64,
    pub nominal_diameter_m: f64,
}

/// Puts ordinary walls in the place of all, so that the rest can be judged.
pub(super) fn stand_in_walls(file: &mut File) {
    file.pipe.wall = Some(STAND_IN_WALL);
    for own in &mut file.row.overrides {
        own.wall = None;
    }
}

/// Builds the scenario; or names every stick that cannot be.
pub(super) fn build(file: &File) -> Result<Scenario, Vec<OddWall>> {
    Ok(Scenario {
        format: file.format.unwrap_or_default(),
        name: file.name.clone().unwrap_or_default(),
        author: file.author(),
        brief: file.brief(),
        trains: file.trains(),
        seed: file.seed(),
        time_limit_s: file.time_limit_s(),
        expect: file.expect(),
        line: line(file)?,
    })
}

fn line(file: &File) -> Result<LineSpec, Vec<OddWall>> {
    let length_m = file.pipe.length_m();
    let sticks = sticks(file)?;
    let rail_spacing_m = file
        .rack
        .rail_spacing_m
        .unwrap_or(RAIL_SPACING_OF_LENGTH * length_m);
    let least_length_m = least_rack_length_m(&sticks, rail_spacing_m);
    let spare_m = sticks
        .first()
        .map_or(0.0, |first| SPARE_DIAMETERS * first.pipe.outside_diameter_m);
    Ok(LineSpec {
        hand: file.hand(),
        sticks,
        rack: RackSpec {
            near_rail: rail(&file.rack.near_rail, file),
            far_rail: rail(&file.rack.far_rail, file),
            rail_spacing_m,
            toe_height_m: file.rack.toe_height_m(),
            length_m: file.rack.length_m.unwrap_or(least_length_m + spare_m),
            rail_width_m: file.rack.rail_width_m(),
        },
        escapement: escapement(file),
        receiver: ReceiverSpec {
            starts_up: file.receiver.starts_up(),
            travel_m: file.receiver.travel_m(),
            force_max_n: file.receiver.force_max_kn() * KN,
            travel_time_s: file.receiver.travel_time_s(),
        },
        ground: GroundSpec {
            cross_fall_rad: rad(file.ground.cross_fall_deg()),
            along_fall_rad: rad(file.ground.along_fall_deg()),
            friction: file.ground.friction(),
            rolling_lever_arm_m: file.ground.rolling_lever_arm_mm() * MM,
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
            restitution: file.contact.restitution(),
            rolling_lever_arm_m: file.contact.rolling_lever_arm_mm() * MM,
        },
    })
}

fn rail(rail: &Rail, file: &File) -> RailSpec {
    RailSpec {
        pitch_rad: rad(rail.pitch_deg.unwrap_or(file.rack.pitch_deg())),
        surface: rail.surface.unwrap_or(file.rack.surface()),
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
        size_setting_m: outside_diameter_m(given.size_setting.unwrap_or(size)),
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
            .find(|own| own.stick == Some(number))
            .unwrap_or(&like_the_row);
        match stick(file, own) {
            Ok(stick) => sticks.push(stick),
            Err(wall) => odd.push(OddWall { stick: index, wall }),
        }
    }
    if odd.is_empty() { Ok(sticks) } else { Err(odd) }
}

fn stick(file: &File, own: &StickOverride) -> Result<StickSpec, WallFault> {
    let (row, pipe) = (&file.row, &file.pipe);
    let size = own.size.or(pipe.size).unwrap_or(STAND_IN_SIZE);
    let density_kg_m3 = pipe.density_kg_m3.unwrap_or(match size {
        Size::Ips(_) => 955.0,
        Size::Metric(_) => 965.0,
    });
    let stock = Stock {
        size,
        wall: own.wall.or(pipe.wall).unwrap_or(STAND_IN_WALL),
        length_m: own.length_m.unwrap_or(pipe.length_m()),
        density_kg_m3,
        ovality: own.ovality_pct.unwrap_or(pipe.ovality_pct()) / 100.0,
        temperature_c: pipe.temperature_c.unwrap_or(file.weather.temperature_c()),
    };
    Ok(StickSpec {
        pipe: stock.pipe()?,
        long_axis_rad: rad(own.long_axis_deg.unwrap_or(row.long_axis_deg())),
        gap_m: own.gap_mm.unwrap_or(row.gap_mm()) * MM,
        yaw_rad: rad(own.yaw_deg.unwrap_or(row.yaw_deg())),
        offset_m: own.offset_m.unwrap_or(row.offset_m()),
    })
}

/// Pipe as it is ordered.
struct Stock {
    size: Size,
    wall: Wall,
    length_m: f64,
    density_kg_m3: f64,
    ovality: f64,
    temperature_c: f64,
}

impl Stock {
    fn pipe(&self) -> Result<Pipe, WallFault> {
        let nominal_diameter_m = nominal_diameter_m(self.size);
        let wall_min_m = match (self.wall, self.size) {
            (Wall::Thickness(wall_mm), _) => {
                let (wall_min_m, (least, most)) = (wall_mm * MM, RATIOS);
                let walls_m = nominal_diameter_m / most..=nominal_diameter_m / least;
                if !walls_m.contains(&wall_min_m) {
                    return Err(WallFault {
                        wall_min_m,
                        nominal_diameter_m,
                    });
                }
                wall_min_m
            }
            (Wall::Dr(ratio) | Wall::Sdr(ratio), Size::Ips(_)) => nominal_diameter_m / ratio,
            (Wall::Dr(ratio) | Wall::Sdr(ratio), Size::Metric(size_mm)) => {
                up_to_tenth(size_mm / ratio) * MM
            }
        };
        let wall_avg_m = match self.size {
            // The wall tolerance is +12 % of the minimum wall.
            Size::Ips(_) => 1.06 * wall_min_m,
            Size::Metric(_) => {
                let wall_max_m = up_to_tenth(1.1 * wall_min_m / MM + 0.1) * MM;
                0.5 * (wall_min_m + wall_max_m)
            }
        };
        Ok(Pipe {
            outside_diameter_m: outside_diameter_m(self.size),
            wall_min_m,
            wall_avg_m,
            length_m: self.length_m,
            density_kg_m3: self.density_kg_m3,
            ovality: self.ovality,
            temperature_c: self.temperature_c,
        })
    }
}

fn nominal_diameter_m(size: Size) -> f64 {
    match size {
        Size::Ips(inches) => inches * INCH_M,
        Size::Metric(size_mm) => size_mm * MM,
    }
}

/// Mean outside diameter of a nominal size, m. A metric size has all of its tolerance above it.
fn outside_diameter_m(size: Size) -> f64 {
    match size {
        Size::Ips(_) => nominal_diameter_m(size),
        Size::Metric(_) => nominal_diameter_m(size) * (1.0 + 0.009 / 2.0),
    }
}

/// Rounds up to 0.1, forgiving the last bits of a product that is a tenth already.
fn up_to_tenth(value_mm: f64) -> f64 {
    (value_mm * 10.0 - 1e-6).ceil() / 10.0
}

/// How much of the slope a stick takes up as it lies on the rails, m.
pub(super) fn width_on_slope_m(stick: &StickSpec) -> f64 {
    let pipe = &stick.pipe;
    let long = (1.0 + 0.5 * pipe.ovality) * cos(stick.long_axis_rad);
    let short = (1.0 - 0.5 * pipe.ovality) * sin(stick.long_axis_rad);
    pipe.outside_diameter_m * sqrt(long * long + short * short)
}

/// Least length of a rack on which the row lies whole, m.
pub(super) fn least_rack_length_m(sticks: &[StickSpec], rail_spacing_m: f64) -> f64 {
    let gate_m = sticks.first().map_or(0.0, |first| {
        GATE_FROM_TOE_DIAMETERS * first.pipe.outside_diameter_m
    });
    let row_m: f64 = sticks
        .iter()
        .map(|stick| stick.gap_m + width_on_slope_m(stick))
        .sum();
    let skew_m = sticks
        .last()
        .map_or(0.0, |last| 0.5 * rail_spacing_m * tan(last.yaw_rad).abs());
    gate_m + row_m + skew_m
}
