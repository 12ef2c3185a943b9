//! The fields of a scenario file: the one table.
//!
//! To add a field, add its row here and read it in `build`. To add a group, declare it and name it
//! in [`File`].

use serde::{Deserialize, Serialize};

use super::table::{Kind, Measure, Values, count, group, number, prose, title};
use crate::domain::crew::{REACTION_S, WALKING_M_PER_S};
use crate::domain::finding::FindingKind;
use crate::domain::pipe::{IPS_SIZES_IN, METRIC_SIZES_MM};
use crate::domain::spec::{Coupler, Duty, EscapementKind, Hand, Surface, Turning};

/// Nominal size of pipe.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub(super) enum Size {
    /// Iron pipe size, in.
    Ips(f64),
    /// dn, mm.
    Metric(f64),
}

/// Wall of pipe.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub(super) enum Wall {
    Dr(f64),
    Sdr(f64),
    /// Minimum wall, mm.
    #[serde(rename = "Wall_mm")]
    Thickness(f64),
}

/// What is to be done in a run.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum Goal {
    /// Every stick becomes part of the string.
    Joined,
    /// One stick is fed and lies on the line, the rest of the row is held.
    OneStick,
    /// No stick leaves the rack.
    LeftOnRack,
}

const SIZE: Kind = Kind::Measure(&[
    Measure {
        word: "Ips",
        unit: "in",
        values: Values::Listed(&IPS_SIZES_IN, 20, 63),
    },
    Measure {
        word: "Metric",
        unit: "mm",
        values: Values::Listed(&METRIC_SIZES_MM, 500, 1600),
    },
]);

/// Least and greatest DR.
pub(super) const RATIOS: (f64, f64) = (7.0, 41.0);

const WALL: Kind = Kind::Measure(&[
    Measure {
        word: "Dr",
        unit: "",
        values: Values::Between(RATIOS.0, RATIOS.1),
    },
    Measure {
        word: "Sdr",
        unit: "",
        values: Values::Between(RATIOS.0, RATIOS.1),
    },
    Measure {
        word: "Wall_mm",
        unit: "mm",
        values: Values::Between(5.0, 250.0),
    },
]);

/// Shorter sticks leave no room between rails, receiver arms and cradles.
const LENGTH: Kind = number("m", 6.0, 25.0);
const OVALITY: Kind = number("%", 0.0, 10.0).usual(0.0, 5.0, "usual-ovality");
const LONG_AXIS: Kind = number("deg", -90.0, 90.0);
const GAP: Kind = number("mm", 0.0, 5000.0);
const YAW: Kind = number("deg", -10.0, 10.0);
const OFFSET: Kind = number("m", -10.0, 10.0);
const PITCH: Kind = number("deg", 0.0, 15.0).usual(4.0, 6.0, "usual-pitch");
const SURFACE: Kind = Kind::Word(&["Dry", "Wet", "Frosted", "Glazed"]);
const FALL: Kind = number("deg", -10.0, 10.0);
const PLACE: Kind = number("m", -200.0, 200.0);
const MOMENT: Kind = number("s", 0.0, 3600.0);

/// Friction of a pair for which little is published: any value can be tried, and one outside the
/// usually assumed band is pointed out.
const fn friction(low: f64, high: f64) -> Kind {
    number("", 0.0, 1.0).usual(low, high, "usual-friction")
}

group! {
    /// A scenario: what the run is about, and the line it is run on.
    File {
        format: u32 = count(1, 1); required;
        name: String = title(80); required;
        author: String = title(80); or String::new();
        brief: String = prose(2000); or String::new();
        trains: String = prose(500); or String::new();
        seed: u64 = count(0, u64::MAX); or 1;
        time_limit_s: f64 = number("s", 5.0, 3600.0); or 900.0;
        hazards: String = prose(500); or String::new();
        level: u32 = count(1, 5); or 1;
        takes_min: f64 = number("min", 1.0, 120.0); or 10.0;
        goal: Goal = Kind::Word(&["Joined", "OneStick", "LeftOnRack"]); or Goal::Joined;
        set_out_open: bool = Kind::Flag; or true;
        hand: Hand = Kind::Word(&["Right", "Left"]); or Hand::Right;
    }
    groups {
        es: Spanish;
        scoring: Scores;
        pipe: Pipe;
        row: Row;
        rack: Rack;
        escapement: Escapement;
        receiver: Receiver;
        cradles: Cradles;
        machine: Machine;
        loader: Loader;
        zone: Zone;
        ground: Ground;
        weather: Weather;
        contact: Contact;
        faults: Faults;
    }
    lists { people: Person; }
}

group! {
    /// The texts of the scenario in Spanish; what is left out is shown as it is.
    Spanish {
        name: String = title(80); follows "name";
        brief: String = prose(2000); follows "brief";
        trains: String = prose(500); follows "trains";
        hazards: String = prose(500); follows "hazards";
    }
    groups {}
    lists {}
}

group! {
    /// How a run is scored: 100 points, less what each finding costs.
    Scores {
        pass_mark: f64 = number("points", 0.0, 100.0); or 80.0;
        critical_points: f64 = number("points", 0.0, 100.0); or 50.0;
        major_points: f64 = number("points", 0.0, 100.0); or 21.0;
        minor_points: f64 = number("points", 0.0, 100.0); or 5.0;
        handling_time_s: f64 = number("s", 30.0, 3600.0); or 300.0;
    }
    groups {}
    lists { own: OwnPoints; }
}

group! {
    /// A kind of finding that costs something else.
    OwnPoints {
        finding: FindingKind = Kind::Word(FindingKind::WORDS); required;
        points: f64 = number("points", 0.0, 100.0); required;
    }
    groups {}
    lists {}
}

group! {
    /// The pipe the row is made of.
    Pipe {
        size: Size = SIZE; required;
        wall: Wall = WALL; required;
        length_m: f64 = LENGTH; or 12.19;
        ovality_pct: f64 = OVALITY; or 0.0;
        temperature_c: f64 = number("°C", -40.0, 70.0); follows "weather.temperature_c";
        density_kg_m3: f64 = number("kg/m³", 930.0, 980.0).usual(945.0, 970.0, "usual-density");
            follows;
    }
    groups {}
    lists {}
}

group! {
    /// The sticks on the rack, the first one at the gate.
    Row {
        sticks: u32 = count(1, 12); or 1;
        gap_mm: f64 = GAP; or 0.0;
        long_axis_deg: f64 = LONG_AXIS; or 0.0;
        yaw_deg: f64 = YAW; or 0.0;
        offset_m: f64 = OFFSET; or 0.0;
    }
    groups { scatter: Scatter; }
    lists { overrides: StickOverride; }
}

group! {
    /// How exactly a loader sets sticks down: an assumption. Each stick deviates by chance, evenly up
    /// to these numbers to either side; the seed decides.
    Scatter {
        gap_mm: f64 = number("mm", 0.0, 500.0); or 3.0;
        long_axis_deg: f64 = number("deg", 0.0, 90.0); or 3.0;
        yaw_deg: f64 = number("deg", 0.0, 2.0); or 0.1;
        offset_m: f64 = number("m", 0.0, 1.0); or 0.02;
    }
    groups {}
    lists {}
}

group! {
    /// One stick that differs from the rest of the row; what is left out is as in the row.
    StickOverride {
        stick: u32 = count(1, 12); required;
        size: Size = SIZE; follows "pipe.size";
        wall: Wall = WALL; follows "pipe.wall";
        length_m: f64 = LENGTH; follows "pipe.length_m";
        ovality_pct: f64 = OVALITY; follows "pipe.ovality_pct";
        gap_mm: f64 = GAP; follows "row.gap_mm";
        long_axis_deg: f64 = LONG_AXIS; follows "row.long_axis_deg";
        yaw_deg: f64 = YAW; follows "row.yaw_deg";
        offset_m: f64 = OFFSET; follows "row.offset_m";
    }
    groups {}
    lists {}
}

group! {
    /// The feed rack: two parallel rails that slope down to the line.
    Rack {
        pitch_deg: f64 = PITCH; or 5.0;
        surface: Surface = SURFACE; or Surface::Dry;
        rail_spacing_m: f64 = number("m", 0.5, 25.0); follows;
        toe_height_m: f64 = number("m", 0.2, 4.0); or 1.3;
        length_m: f64 = number("m", 2.0, 60.0); follows;
        rail_width_m: f64 = number("m", 0.03, 0.6); or 0.15;
        rated_load_kn: f64 = number("kN", 1.0, 5000.0); or 200.0;
    }
    groups {
        near_rail: Rail;
        far_rail: Rail;
    }
    lists {}
}

group! {
    /// One rail; the near one is towards the fusion machine.
    Rail {
        pitch_deg: f64 = PITCH; follows "rack.pitch_deg";
        surface: Surface = SURFACE; follows "rack.surface";
        foot_padded: bool = Kind::Flag; or true;
    }
    groups {}
    lists {}
}

group! {
    /// The device that holds the row and lets one stick go.
    Escapement {
        kind: EscapementKind = Kind::Word(&["PinPair", "StarWheel"]); or EscapementKind::PinPair;
        size_setting: Size = SIZE; follows "pipe.size";
        force_max_kn: f64 = number("kN", 0.1, 500.0); or 20.0;
        stroke_time_s: f64 = number("s", 0.1, 30.0); follows;
        interlock: bool = Kind::Flag; or true;
    }
    groups {}
    lists {}
}

group! {
    /// The pair of arms at the toe that takes the stick down to the line.
    Receiver {
        starts_up: bool = Kind::Flag; or true;
        travel_m: f64 = number("m", 0.1, 2.0); or 0.45;
        force_max_kn: f64 = number("kN", 1.0, 500.0); or 40.0;
        travel_time_s: f64 = number("s", 0.2, 60.0); or 3.0;
    }
    groups {}
    lists {}
}

group! {
    /// The two cradles that lift, shift, turn and advance the stick.
    Cradles {
        spacing_m: f64 = number("m", 1.0, 25.0); follows;
        turning: Turning = Kind::Word(&["Powered", "SideShift"]); or Turning::Powered;
        surface: Surface = SURFACE; or Surface::Dry;
        lift_stroke_m: f64 = number("m", 0.1, 3.0); or 0.6;
        lift_time_s: f64 = number("s", 1.0, 300.0); or 15.0;
        lift_force_max_kn: f64 = number("kN", 1.0, 1000.0); or 60.0;
        shift_range_m: f64 = number("m", 0.02, 1.0); or 0.24;
        shift_time_s: f64 = number("s", 0.5, 300.0); or 8.0;
        shift_force_max_kn: f64 = number("kN", 1.0, 500.0); or 30.0;
        advance_m_per_s: f64 = number("m/s", 0.01, 1.0); or 0.15;
        advance_force_max_kn: f64 = number("kN", 0.1, 200.0); or 10.0;
        turn_m_per_s: f64 = number("m/s", 0.005, 0.5); or 0.05;
        turn_force_max_kn: f64 = number("kN", 0.1, 200.0); or 10.0;
    }
    groups {
        near: Column;
        far: Column;
    }
    lists {}
}

group! {
    /// The lift column of one cradle as it is set out.
    Column {
        offset_mm: f64 = number("mm", -500.0, 500.0); or 0.0;
        lean_deg: f64 = number("deg", -5.0, 5.0).usual(-1.0, 1.0, "usual-plumb"); or 0.0;
        rack_foot_padded: bool = Kind::Flag; or true;
        outer_foot_padded: bool = Kind::Flag; or true;
    }
    groups {}
    lists {}
}

group! {
    /// The fusion machine.
    Machine {
        near_cradle_to_jaws_m: f64 = number("m", 0.5, 30.0); follows;
        half_length_m: f64 = number("m", 0.3, 5.0); follows;
        centreline_m: f64 = number("m", 0.3, 6.0); follows;
        grip_force_max_kn: f64 = number("kN", 1.0, 1000.0); or 40.0;
        joint_time_s: f64 = number("s", 1.0, 3600.0); or 60.0;
        draw_m_per_s: f64 = number("m/s", 0.01, 5.0); or 0.5;
    }
    groups {}
    lists {}
}

group! {
    /// A loader with two forks. It brings more sticks, one at a time, each like the last one of the row.
    Loader {
        sticks: u32 = count(0, 12); or 0;
        fork_spread_m: f64 = number("m", 0.3, 4.0); or 1.2;
        fork_length_m: f64 = number("m", 0.4, 4.0); follows;
        capacity_kg: f64 = number("kg", 200.0, 50_000.0); or 5000.0;
        load_centre_m: f64 = number("m", 0.2, 2.0); or 0.6;
        back_tilt_deg: f64 = number("deg", 0.0, 20.0); or 5.0;
        off_middle_m: f64 = number("m", -5.0, 5.0); or 0.0;
        carry_height_m: f64 = number("m", 0.1, 4.0); or 0.6;
        gap_mm: f64 = GAP; or 30.0;
        drive_m_per_s: f64 = number("m/s", 0.1, 5.0); or 1.0;
        braking_m_per_s2: f64 = number("m/s²", 0.1, 8.0); or 0.4;
        lift_m_per_s: f64 = number("m/s", 0.02, 1.0); or 0.2;
        starts_beyond_m: f64 = number("m", 0.0, 100.0); or 8.0;
    }
    groups {}
    lists {}
}

group! {
    /// Somebody on the site. Left out, there is an ordinary crew: operator, spotter, technician,
    /// rigger, and a driver if there is a loader. An empty list, [], is nobody.
    Person {
        duty: Duty = Kind::Word(&["Operator", "Spotter", "LoaderDriver", "Technician", "Rigger", "Visitor"]); required;
        x_m: f64 = PLACE; required;
        z_m: f64 = PLACE; required;
        starts_s: f64 = MOMENT; or 0.0;
        walking_m_per_s: f64 = number("m/s", 0.2, 4.0).usual(0.8, 2.0, "usual-walking"); or WALKING_M_PER_S;
        reaction_s: f64 = number("s", 0.1, 10.0).usual(0.5, 2.5, "usual-reaction"); or REACTION_S;
        looks: bool = Kind::Flag; or true;
        radio: bool = Kind::Flag; follows;
    }
    groups {}
    lists { path: Waypoint; }
}

group! {
    /// A point of somebody's way, in order.
    Waypoint {
        x_m: f64 = PLACE; required;
        z_m: f64 = PLACE; required;
        stays_s: f64 = MOMENT; or 0.0;
    }
    groups {}
    lists {}
}

group! {
    /// The exclusion zone.
    Zone {}
    groups {}
    lists { cones: Cone; }
}

group! {
    /// The cones in order around the zone. Left out, they stand in a rectangle around the line. An
    /// empty list, [], is no zone.
    Cone {
        x_m: f64 = PLACE; required;
        z_m: f64 = PLACE; required;
    }
    groups {}
    lists {}
}

group! {
    /// The ground under the line, as one plane.
    Ground {
        cross_fall_deg: f64 = FALL; or 0.0;
        along_fall_deg: f64 = FALL; or 0.0;
        friction: f64 = number("", 0.05, 1.2).usual(0.3, 0.7, "usual-friction"); or 0.5;
        rolling_lever_arm_mm: f64 = number("mm", 0.0, 200.0); or 25.0;
        subgrade_mn_per_m3: f64 = number("MN/m³", 1.0, 500.0).usual(10.0, 100.0, "usual-subgrade"); or 40.0;
    }
    groups {}
    lists {}
}

group! {
    /// The weather during the run.
    Weather {
        temperature_c: f64 = number("°C", -40.0, 60.0); or 20.0;
        wind_m_per_s: f64 = number("m/s", 0.0, 40.0); or 0.0;
        wind_towards_deg: f64 = number("deg", 0.0, 360.0); or 0.0;
        drag_coefficient: f64 = number("", 0.1, 2.0).usual(0.2, 1.2, "usual-drag"); or 0.7;
    }
    groups {}
    lists {}
}

group! {
    /// Assumptions on contact. Little of this is published for polyethylene pipe on a rack.
    Contact {
        friction_dry: f64 = friction(0.15, 0.4); or 0.2;
        friction_wet: f64 = friction(0.1, 0.2); or 0.12;
        friction_frosted: f64 = friction(0.02, 0.1); or 0.05;
        friction_glazed: f64 = friction(0.002, 0.05); or 0.02;
        friction_pipe_on_pipe: f64 = friction(0.14, 0.3); or 0.25;
        friction_rubber_dry: f64 = friction(0.3, 0.6); or 0.5;
        friction_rubber_wet: f64 = friction(0.2, 0.45); or 0.35;
        friction_rubber_frosted: f64 = friction(0.05, 0.2); or 0.1;
        friction_rubber_glazed: f64 = friction(0.01, 0.1); or 0.03;
        restitution: f64 = number("", 0.0, 0.6); or 0.0;
        rolling_lever_arm_mm: f64 = number("mm", 0.0, 20.0); or 2.0;
    }
    groups {}
    lists {}
}

group! {
    /// What is wrong with the line. Nothing, unless it is set here.
    Faults {
        told: bool = Kind::Flag; or false;
        roller_seized: bool = Kind::Flag; or false;
        radio_dead: bool = Kind::Flag; or false;
        power_fails_s: f64 = MOMENT; follows;
    }
    groups {
        near_rail: RailFault;
        far_rail: RailFault;
        receiver: MotionFault;
        lift_near: MotionFault;
        lift_far: MotionFault;
        shift_near: LevelFault;
        shift_far: LevelFault;
        turn: LevelFault;
        advance: RollerFault;
    }
    lists {}
}

group! {
    /// What is wrong with the rack and the escapement at one rail.
    RailFault {
        gate_late_s: f64 = number("s", 0.0, 10.0); or 0.0;
        gate_missing: bool = Kind::Flag; or false;
        separator_missing: bool = Kind::Flag; or false;
        gate_stuck: bool = Kind::Flag; or false;
        chock_missing: bool = Kind::Flag; or false;
        inclinometer_error_deg: f64 = number("deg", -10.0, 10.0); or 0.0;
    }
    groups {}
    lists {}
}

group! {
    /// What is wrong with a motion up and down.
    MotionFault {
        slowness: f64 = number("", 1.0, 10.0); or 1.0;
        crossed: bool = Kind::Flag; or false;
        coupler: Coupler = Kind::Word(&["Latched", "Half", "Off"]); or Coupler::Latched;
        sticks_s: f64 = number("s", 0.0, 10.0); or 0.0;
        air_mm: f64 = number("mm", 0.0, 200.0); or 0.0;
        creep_mm_per_s: f64 = number("mm/s", 0.0, 50.0); or 0.0;
    }
    groups {}
    lists {}
}

group! {
    /// What is wrong with a motion that no load moves while it is held.
    LevelFault {
        slowness: f64 = number("", 1.0, 10.0); or 1.0;
        crossed: bool = Kind::Flag; or false;
        coupler: Coupler = Kind::Word(&["Latched", "Half", "Off"]); or Coupler::Latched;
        sticks_s: f64 = number("s", 0.0, 10.0); or 0.0;
    }
    groups {}
    lists {}
}

group! {
    /// What is wrong with the rollers that advance the stick.
    RollerFault {
        slowness: f64 = number("", 1.0, 10.0); or 1.0;
        crossed: bool = Kind::Flag; or false;
        coupler: Coupler = Kind::Word(&["Latched", "Half", "Off"]); or Coupler::Latched;
        sticks_s: f64 = number("s", 0.0, 10.0); or 0.0;
        creep_mm_per_s: f64 = number("mm/s", 0.0, 50.0); or 0.0;
    }
    groups {}
    lists {}
}
