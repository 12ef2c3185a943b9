//! The fields of a scenario file: the one table.
//!
//! To add a field, add its row here and read it in `build`. To add a group, declare it and name it
//! in [`File`].

use serde::{Deserialize, Serialize};

use super::table::{Kind, Measure, Values, count, group, number, prose, title};
use crate::domain::pipe::{IPS_SIZES_IN, METRIC_SIZES_MM};
use crate::domain::spec::{EscapementKind, Hand, Surface};

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

/// The outcome with which a run of the scenario passes.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum Expect {
    /// Exactly one stick is let go and lies on the line.
    OneStick,
    /// No stick leaves the rack.
    Hang,
    /// More than one stick passes the gate.
    DoubleFeed,
    /// A stick leaves the line.
    RollOff,
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

const LENGTH: Kind = number("m", 3.0, 25.0);
const OVALITY: Kind = number("%", 0.0, 10.0).usual(0.0, 5.0, "more than 5 is seldom accepted");
const LONG_AXIS: Kind = number("deg", -90.0, 90.0);
const GAP: Kind = number("mm", 0.0, 5000.0);
const YAW: Kind = number("deg", -10.0, 10.0);
const OFFSET: Kind = number("m", -10.0, 10.0);
const PITCH: Kind =
    number("deg", 0.0, 15.0).usual(4.0, 6.0, "common practice is 4 to 6, and never above 10");
const SURFACE: Kind = Kind::Word(&["Dry", "Wet", "Frosted", "Glazed"]);
const FALL: Kind = number("deg", -10.0, 10.0);

/// Friction of a pair for which little is published: any value can be tried, and one outside the
/// usually assumed band is pointed out.
const fn friction(low: f64, high: f64) -> Kind {
    number("", 0.0, 1.0).usual(low, high, "outside what is usually assumed for this pair")
}

group! {
    /// A scenario: what the run is about, and the line it is run on.
    File {
        format: u32 = count(1, 1); required; "Version of this file format";
        name: String = title(80); required; "Name shown in lists and reports";
        author: String = title(80); or String::new(); "Who wrote the scenario";
        brief: String = prose(2000); or String::new(); "What the trainee is told before the run";
        trains: String = prose(500); or String::new(); "What the scenario trains, for the trainer";
        seed: u64 = count(0, u64::MAX); or 1; "Start of every random choice of the run: same seed, same run";
        time_limit_s: f64 = number("s", 5.0, 3600.0); or 120.0; "The run ends here at the latest";
        expect: Expect = Kind::Word(&["OneStick", "Hang", "DoubleFeed", "RollOff"]); or Expect::OneStick;
            "Outcome with which a run passes: one stick fed, no stick leaves the rack, more than one passes the gate, or one leaves the line";
        hand: Hand = Kind::Word(&["Right", "Left"]); or Hand::Right;
            "Side of the line the rack stands on, facing the fusion machine";
    }
    groups {
        pipe: Pipe;
        row: Row;
        rack: Rack;
        escapement: Escapement;
        receiver: Receiver;
        ground: Ground;
        weather: Weather;
        contact: Contact;
        faults: Faults;
    }
    lists {}
}

group! {
    /// The pipe the row is made of.
    Pipe {
        size: Size = SIZE; required; "Nominal size; metric pipe is taken as made to AS/NZS 4130";
        wall: Wall = WALL; required;
            "Wall by its ratio, or the least wall itself; Dr and Sdr are the same ratio, and the size decides whose tolerances apply";
        length_m: f64 = LENGTH; or 12.19; "Length of a stick";
        ovality_pct: f64 = OVALITY; or 0.0; "Greatest less smallest diameter, in parts of the mean one";
        temperature_c: f64 = number("°C", -40.0, 70.0); follows "weather.temperature_c"; "Temperature of the pipe";
        density_kg_m3: f64 = number("kg/m³", 930.0, 980.0).usual(945.0, 970.0, "black polyethylene pipe is 945 to 970");
            follows "955 for Ips, 965 for Metric"; "Density of the pipe";
    }
    groups {}
    lists {}
}

group! {
    /// The sticks on the rack, the first one at the gate.
    Row {
        sticks: u32 = count(1, 12); or 1; "How many sticks";
        gap_mm: f64 = GAP; or 0.0; "Clear gap below each stick, to the next one or to the gate, as if none were skewed";
        long_axis_deg: f64 = LONG_AXIS; or 0.0; "Long axis of an oval stick above the rails' surface; 0 lies flat";
        yaw_deg: f64 = YAW; or 0.0; "Skew as loaded; positive has the end at the machine further up the rack";
        offset_m: f64 = OFFSET; or 0.0; "Middle of the stick from the middle of the rails, towards the machine";
    }
    groups { scatter: Scatter; }
    lists { overrides: StickOverride; }
}

group! {
    /// How exactly a loader sets sticks down: an assumption. Each stick deviates by chance, evenly up
    /// to these numbers to either side; the seed decides.
    Scatter {
        gap_mm: f64 = number("mm", 0.0, 500.0); or 3.0; "Greatest widening of a gap; gaps never become narrower";
        long_axis_deg: f64 = number("deg", 0.0, 90.0); or 3.0; "Greatest deviation of the long axis";
        yaw_deg: f64 = number("deg", 0.0, 2.0); or 0.1; "Greatest deviation of the skew; where it brings ends closer together, the gap is widened by as much";
        offset_m: f64 = number("m", 0.0, 1.0); or 0.02; "Greatest deviation of the middle, as far as the rails allow";
    }
    groups {}
    lists {}
}

group! {
    /// One stick that differs from the rest of the row; what is left out is as in the row.
    StickOverride {
        stick: u32 = count(1, 12); required; "Which stick, counted from the gate";
        size: Size = SIZE; follows "pipe.size"; "Nominal size";
        wall: Wall = WALL; follows "pipe.wall"; "Wall";
        length_m: f64 = LENGTH; follows "pipe.length_m"; "Length";
        ovality_pct: f64 = OVALITY; follows "pipe.ovality_pct"; "Ovality";
        gap_mm: f64 = GAP; follows "row.gap_mm"; "Clear gap below this stick";
        long_axis_deg: f64 = LONG_AXIS; follows "row.long_axis_deg"; "Long axis above the rails' surface";
        yaw_deg: f64 = YAW; follows "row.yaw_deg"; "Skew as loaded";
        offset_m: f64 = OFFSET; follows "row.offset_m"; "Middle of the stick from the middle of the rails";
    }
    groups {}
    lists {}
}

group! {
    /// The feed rack: two parallel rails that slope down to the line.
    Rack {
        pitch_deg: f64 = PITCH; or 5.0; "Slope of both rails";
        surface: Surface = SURFACE; or Surface::Dry; "Surface of both rails";
        rail_spacing_m: f64 = number("m", 0.5, 25.0); follows "0.44 of the stick's length, and at least 1.5 m"; "Between the middles of the rails, along the line";
        toe_height_m: f64 = number("m", 0.2, 4.0); or 1.3; "Rails' surface at the toe above the ground";
        length_m: f64 = number("m", 2.0, 60.0); follows "room for the row and 1.5 diameters more"; "Along the slope, from the toe to the high end";
        rail_width_m: f64 = number("m", 0.03, 0.6); or 0.15; "Bearing surface of a rail, along the line";
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
        pitch_deg: f64 = PITCH; follows "rack.pitch_deg"; "Slope of this rail";
        surface: Surface = SURFACE; follows "rack.surface"; "Surface of this rail";
    }
    groups {}
    lists {}
}

group! {
    /// The device that holds the row and lets one stick go.
    Escapement {
        kind: EscapementKind = Kind::Word(&["PinPair", "StarWheel"]); or EscapementKind::PinPair;
            "Gate pin and separator pin on each rail, or a notched wheel on each";
        size_setting: Size = SIZE; follows "pipe.size"; "Size the pins or the wheel are set for; another than the pipe's can be tried";
        force_max_kn: f64 = number("kN", 0.1, 500.0); or 20.0; "Greatest force of one pin, or of a wheel at its tip";
        stroke_time_s: f64 = number("s", 0.1, 30.0); follows "0.6 for pins, 3 for a wheel"; "Time of one stroke or one notch without load";
        interlock: bool = Kind::Flag; or true; "Feeding asks for the receiver to be up and empty; false has it defeated";
    }
    groups {}
    lists {}
}

group! {
    /// The pair of arms at the toe that takes the stick down to the line.
    Receiver {
        starts_up: bool = Kind::Flag; or true; "The arms are up when the run begins";
        travel_m: f64 = number("m", 0.1, 2.0); or 0.45; "From up to down";
        force_max_kn: f64 = number("kN", 1.0, 500.0); or 40.0; "Greatest lifting force of one arm";
        travel_time_s: f64 = number("s", 0.2, 60.0); or 3.0; "Time of the whole travel without load";
    }
    groups {}
    lists {}
}

group! {
    /// The ground under the line, as one plane.
    Ground {
        cross_fall_deg: f64 = FALL; or 0.0; "Fall across the line, away from the rack";
        along_fall_deg: f64 = FALL; or 0.0; "Fall along the line, towards the machine";
        friction: f64 = number("", 0.05, 1.2).usual(0.3, 0.7, "outside what is usually assumed for this pair"); or 0.5; "Friction of pipe on the ground";
        rolling_lever_arm_mm: f64 = number("mm", 0.0, 200.0); or 25.0; "Lever arm of rolling resistance on the ground";
    }
    groups {}
    lists {}
}

group! {
    /// The weather during the run.
    Weather {
        temperature_c: f64 = number("°C", -40.0, 60.0); or 20.0; "Air";
        wind_m_per_s: f64 = number("m/s", 0.0, 40.0); or 0.0; "Wind speed";
        wind_towards_deg: f64 = number("deg", 0.0, 360.0); or 0.0; "Where the wind blows to: 0 is away from the rack, 90 towards the machine";
        drag_coefficient: f64 = number("", 0.1, 2.0).usual(0.2, 1.2, "a cylinder across the wind has 0.2 to 1.2"); or 0.7; "Drag of a stick across the wind";
    }
    groups {}
    lists {}
}

group! {
    /// Assumptions on contact. Little of this is published for polyethylene pipe on a rack.
    Contact {
        friction_dry: f64 = friction(0.15, 0.4); or 0.2; "Pipe on dry steel";
        friction_wet: f64 = friction(0.1, 0.2); or 0.12; "Pipe on wet steel";
        friction_frosted: f64 = friction(0.02, 0.1); or 0.05; "Pipe on frosted steel";
        friction_glazed: f64 = friction(0.002, 0.05); or 0.02; "Pipe on steel under glaze ice";
        friction_pipe_on_pipe: f64 = friction(0.14, 0.3); or 0.25; "Pipe on pipe";
        restitution: f64 = number("", 0.0, 0.6); or 0.0; "Rebound; 0 is the cautious case for a stop";
        rolling_lever_arm_mm: f64 = number("mm", 0.0, 20.0); or 2.0; "Lever arm of rolling resistance on the rails";
    }
    groups {}
    lists {}
}

group! {
    /// What is wrong with the machine. Nothing, unless it is set here.
    Faults {
        receiver_slowness: f64 = number("", 1.0, 10.0); or 1.0; "How many times longer than its rated time the receiver takes";
        receiver_crossed: bool = Kind::Flag; or false; "The receiver's hoses are crossed: it moves against its arrow";
    }
    groups {
        near_rail: RailFault;
        far_rail: RailFault;
    }
    lists {}
}

group! {
    /// What is wrong with the escapement on one rail.
    RailFault {
        gate_late_s: f64 = number("s", 0.0, 10.0); or 0.0; "How long after its command the gate pin, or the wheel, begins to move";
        gate_missing: bool = Kind::Flag; or false; "The gate pin is not fitted";
        separator_missing: bool = Kind::Flag; or false; "The separator pin is not fitted";
    }
    groups {}
    lists {}
}
