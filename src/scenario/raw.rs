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
const OVALITY: Kind = number("%", 0.0, 10.0).usual(0.0, 5.0, "more than 5 is seldom accepted");
const LONG_AXIS: Kind = number("deg", -90.0, 90.0);
const GAP: Kind = number("mm", 0.0, 5000.0);
const YAW: Kind = number("deg", -10.0, 10.0);
const OFFSET: Kind = number("m", -10.0, 10.0);
const PITCH: Kind =
    number("deg", 0.0, 15.0).usual(4.0, 6.0, "common practice is 4 to 6, and never above 10");
const SURFACE: Kind = Kind::Word(&["Dry", "Wet", "Frosted", "Glazed"]);
const FALL: Kind = number("deg", -10.0, 10.0);
const PLACE: Kind = number("m", -200.0, 200.0);
const MOMENT: Kind = number("s", 0.0, 3600.0);

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
        time_limit_s: f64 = number("s", 5.0, 3600.0); or 900.0; "Time after which the run ends, whatever has come of it";
        hazards: String = prose(500); or String::new(); "What can go wrong in it, for the trainer";
        level: u32 = count(1, 5); or 1; "How hard it is: 1 for a first lesson, 5 for a crew that knows the line";
        takes_min: f64 = number("min", 1.0, 120.0); or 10.0; "How long it takes a trainee, with brief and debrief";
        goal: Goal = Kind::Word(&["Joined", "OneStick", "LeftOnRack"]); or Goal::Joined;
            "What is to be done: every stick joined to the string, one stick fed and the rest held, or no stick let off the rack";
        set_out_open: bool = Kind::Flag; or true; "The line can be set out anew before pipe is loaded; false where pipe lies on the rack already";
        hand: Hand = Kind::Word(&["Right", "Left"]); or Hand::Right;
            "Side of the line on which the rack stands, for somebody who faces the fusion machine";
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
        name: String = title(80); follows "name"; "Name";
        brief: String = prose(2000); follows "brief"; "Brief";
        trains: String = prose(500); follows "trains"; "What it trains";
        hazards: String = prose(500); follows "hazards"; "What can go wrong in it";
    }
    groups {}
    lists {}
}

group! {
    /// How a run is scored: 100 points, less what each finding costs.
    Scores {
        pass_mark: f64 = number("points", 0.0, 100.0); or 80.0; "Least score that passes";
        critical_points: f64 = number("points", 0.0, 100.0); or 50.0; "What a critical finding costs; it fails the run whatever it costs";
        major_points: f64 = number("points", 0.0, 100.0); or 21.0; "What a major finding costs";
        minor_points: f64 = number("points", 0.0, 100.0); or 5.0; "What a minor finding costs";
        handling_time_s: f64 = number("s", 30.0, 3600.0); or 300.0; "Longest time from the feed to the jaws";
    }
    groups {}
    lists { own: OwnPoints; }
}

group! {
    /// A kind of finding that costs something else.
    OwnPoints {
        finding: FindingKind = Kind::Word(FindingKind::WORDS); required; "Which";
        points: f64 = number("points", 0.0, 100.0); required; "What it costs";
    }
    groups {}
    lists {}
}

group! {
    /// The pipe the row is made of.
    Pipe {
        size: Size = SIZE; required; "Nominal size; metric pipe is taken as made to AS/NZS 4130";
        wall: Wall = WALL; required;
            "Wall by its ratio, or the least wall itself; Dr and Sdr are the same ratio, and the size decides whose tolerances apply";
        length_m: f64 = LENGTH; or 12.19; "Length of a stick";
        ovality_pct: f64 = OVALITY; or 0.0; "How oval a stick is: greatest less smallest diameter, as a part of the mean one";
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
        gap_mm: f64 = GAP; or 0.0; "Clear gap on the downhill side of each stick, to the next one or to the gate, measured as if none were skewed";
        long_axis_deg: f64 = LONG_AXIS; or 0.0; "How far the long axis of an oval stick is turned up from the rails: 0 lies flat, 90 stands upright";
        yaw_deg: f64 = YAW; or 0.0; "Skew as loaded; positive has the end at the machine further up the rack";
        offset_m: f64 = OFFSET; or 0.0; "How far a stick's middle lies off the middle of the rails; positive is towards the machine";
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
        gap_mm: f64 = GAP; follows "row.gap_mm"; "Clear gap on its downhill side";
        long_axis_deg: f64 = LONG_AXIS; follows "row.long_axis_deg"; "How far its long axis is turned up from the rails";
        yaw_deg: f64 = YAW; follows "row.yaw_deg"; "Skew as loaded";
        offset_m: f64 = OFFSET; follows "row.offset_m"; "How far its middle lies off the middle of the rails";
    }
    groups {}
    lists {}
}

group! {
    /// The feed rack: two parallel rails that slope down to the line.
    Rack {
        pitch_deg: f64 = PITCH; or 5.0; "Slope of both rails";
        surface: Surface = SURFACE; or Surface::Dry; "Surface of both rails";
        rail_spacing_m: f64 = number("m", 0.5, 25.0); follows "0.44 of the stick's length, and at least 1.5 m"; "Distance between the middles of the two rails, along the line";
        toe_height_m: f64 = number("m", 0.2, 4.0); or 1.3; "Height over the ground of the rails' surface at the toe, their low end";
        length_m: f64 = number("m", 2.0, 60.0); follows "room for the row and 1.5 diameters more"; "Length of the rails along their slope, from the toe to the high end";
        rail_width_m: f64 = number("m", 0.03, 0.6); or 0.15; "Width of the surface that carries the pipe, along the line";
        rated_load_kn: f64 = number("kN", 1.0, 5000.0); or 200.0; "Greatest load that the rack's plate allows";
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
        foot_padded: bool = Kind::Flag; or true; "There is a pad under the jack's foot at the high end";
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
        interlock: bool = Kind::Flag; or true; "Feed is refused unless the receiver is up and empty; with false that is defeated";
    }
    groups {}
    lists {}
}

group! {
    /// The pair of arms at the toe that takes the stick down to the line.
    Receiver {
        starts_up: bool = Kind::Flag; or true; "The arms are up when the run begins";
        travel_m: f64 = number("m", 0.1, 2.0); or 0.45; "Height by which the arms go down";
        force_max_kn: f64 = number("kN", 1.0, 500.0); or 40.0; "Greatest lifting force of one arm";
        travel_time_s: f64 = number("s", 0.2, 60.0); or 3.0; "Time of the whole travel without load";
    }
    groups {}
    lists {}
}

group! {
    /// The two cradles that lift, shift, turn and advance the stick.
    Cradles {
        spacing_m: f64 = number("m", 1.0, 25.0); follows "the stick's length over 1.8"; "Distance from the far cradle to the near one; the middle between them is the middle of the rails";
        turning: Turning = Kind::Word(&["Powered", "SideShift"]); or Turning::Powered;
            "How a stick is turned: by the far cradle's rollers, or rolled along the raised receiver by shifting both cradles";
        surface: Surface = SURFACE; or Surface::Dry; "Surface of the rollers";
        lift_stroke_m: f64 = number("m", 0.1, 3.0); or 0.6; "Stroke of a lift, up from its lowest place";
        lift_time_s: f64 = number("s", 1.0, 300.0); or 15.0; "Time of the whole stroke without load";
        lift_force_max_kn: f64 = number("kN", 1.0, 1000.0); or 60.0; "Greatest force of one lift";
        shift_range_m: f64 = number("m", 0.02, 1.0); or 0.24; "Travel of a side-shift from one end to the other, half of it to either side of the column";
        shift_time_s: f64 = number("s", 0.5, 300.0); or 8.0; "Time of the whole travel without load";
        shift_force_max_kn: f64 = number("kN", 1.0, 500.0); or 30.0; "Greatest force of one side-shift";
        advance_m_per_s: f64 = number("m/s", 0.01, 1.0); or 0.15; "Speed of the near cradle's rollers along the line";
        advance_force_max_kn: f64 = number("kN", 0.1, 200.0); or 10.0; "Greatest pull of the near cradle's rollers";
        turn_m_per_s: f64 = number("m/s", 0.005, 0.5); or 0.05; "Surface speed of the far cradle's turning rollers";
        turn_force_max_kn: f64 = number("kN", 0.1, 200.0); or 10.0; "Greatest pull of the turning rollers";
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
        offset_mm: f64 = number("mm", -500.0, 500.0); or 0.0; "How far it stands off the line's centre; positive is away from the rack";
        lean_deg: f64 = number("deg", -5.0, 5.0).usual(-1.0, 1.0, "a column is set plumb"); or 0.0; "How far it is out of plumb; positive leans away from the rack";
        rack_foot_padded: bool = Kind::Flag; or true; "There is a pad under the foot on the rack's side";
        outer_foot_padded: bool = Kind::Flag; or true; "There is a pad under the foot on the other side";
    }
    groups {}
    lists {}
}

group! {
    /// The fusion machine.
    Machine {
        near_cradle_to_jaws_m: f64 = number("m", 0.5, 30.0); follows "0.222 of the stick's length, plus 0.4 m to lower the stick in, plus half_length_m"; "Distance from the near cradle to the centre of the jaws";
        half_length_m: f64 = number("m", 0.3, 5.0); follows "0.9 m plus half the pipe's diameter"; "Distance from the centre of the jaws to the machine's end that faces the cradles";
        centreline_m: f64 = number("m", 0.3, 6.0); follows "where a seated stick comes to after 0.35 m of lift"; "Height of the jaws' centreline over the ground";
        grip_force_max_kn: f64 = number("kN", 1.0, 1000.0); or 40.0; "Greatest force with which the jaws draw an end on to the centreline";
        joint_time_s: f64 = number("s", 1.0, 3600.0); or 60.0; "From clamping to the end of cooling, shortened for training: the real one is set by the joining procedure";
        draw_m_per_s: f64 = number("m/s", 0.01, 5.0); or 0.5; "Speed with which the finished string is drawn on";
    }
    groups {}
    lists {}
}

group! {
    /// A loader with two forks. It brings more sticks, one at a time, each like the last one of the row.
    Loader {
        sticks: u32 = count(0, 12); or 0; "How many sticks it brings; with 0 there is no loader";
        fork_spread_m: f64 = number("m", 0.3, 4.0); or 1.2; "Distance of the two forks, middle to middle";
        fork_length_m: f64 = number("m", 0.4, 4.0); follows "the pipe's outside diameter"; "Length of a fork. The tips of a longer one come down before the stick: it must be set down further from the row";
        capacity_kg: f64 = number("kg", 200.0, 50_000.0); or 5000.0; "Rated capacity, by the maker's plate";
        load_centre_m: f64 = number("m", 0.2, 2.0); or 0.6; "Rated load centre: how far from the fork face a load of the rated capacity may be";
        back_tilt_deg: f64 = number("deg", 0.0, 20.0); or 5.0; "Back-tilt of the forks while carrying";
        off_middle_m: f64 = number("m", -5.0, 5.0); or 0.0; "How far the forks' middle is off the stick's when it is picked up; positive is towards the machine";
        carry_height_m: f64 = number("m", 0.1, 4.0); or 0.6; "Height at which it carries, over the ground under the forks";
        gap_mm: f64 = GAP; or 30.0; "Clear gap to the row's last stick with which the next one is set down";
        drive_m_per_s: f64 = number("m/s", 0.1, 5.0); or 1.0; "Driving speed";
        braking_m_per_s2: f64 = number("m/s²", 0.1, 8.0); or 0.4; "How hard it brakes";
        lift_m_per_s: f64 = number("m/s", 0.02, 1.0); or 0.2; "Raising and lowering speed of the forks";
        starts_beyond_m: f64 = number("m", 0.0, 100.0); or 8.0; "How far beyond the rack's high end the tips of its forks are when the run begins";
    }
    groups {}
    lists {}
}

group! {
    /// Somebody on the site. Left out, there is an ordinary crew: operator, spotter, technician,
    /// rigger, and a driver if there is a loader. An empty list, [], is nobody.
    Person {
        duty: Duty = Kind::Word(&["Operator", "Spotter", "LoaderDriver", "Technician", "Rigger", "Visitor"]); required; "What they are there for";
        x_m: f64 = PLACE; required; "Where they begin: from the line's centre, away from the rack";
        z_m: f64 = PLACE; required; "Where they begin: from the middle of the rails, towards the machine";
        starts_s: f64 = MOMENT; or 0.0; "When they set off along their path";
        walking_m_per_s: f64 = number("m/s", 0.2, 4.0).usual(0.8, 2.0, "people walk at 0.8 to 2 m/s"); or WALKING_M_PER_S; "Walking speed";
        reaction_s: f64 = number("s", 0.1, 10.0).usual(0.5, 2.5, "people take 0.5 to 2.5 s"); or REACTION_S; "From seeing or hearing to acting";
        looks: bool = Kind::Flag; or true; "Looks for moving pipe while walking, and stops for it";
        radio: bool = Kind::Flag; follows "true, and false for a Visitor"; "Carries a radio";
    }
    groups {}
    lists { path: Waypoint; }
}

group! {
    /// A point of somebody's way, in order.
    Waypoint {
        x_m: f64 = PLACE; required; "From the line's centre, away from the rack";
        z_m: f64 = PLACE; required; "From the middle of the rails, towards the machine";
        stays_s: f64 = MOMENT; or 0.0; "How long they stay there";
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
        x_m: f64 = PLACE; required; "From the line's centre, away from the rack";
        z_m: f64 = PLACE; required; "From the middle of the rails, towards the machine";
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
        rolling_lever_arm_mm: f64 = number("mm", 0.0, 200.0); or 25.0; "Lever arm of rolling resistance on the ground: the greater, the sooner a stick stops";
        subgrade_mn_per_m3: f64 = number("MN/m³", 1.0, 500.0).usual(10.0, 100.0, "soft clay has about 10, dense gravel about 100"); or 40.0; "How firm the ground is under feet and pads: pressure for each metre that they sink (modulus of subgrade reaction)";
    }
    groups {}
    lists {}
}

group! {
    /// The weather during the run.
    Weather {
        temperature_c: f64 = number("°C", -40.0, 60.0); or 20.0; "Temperature of the air";
        wind_m_per_s: f64 = number("m/s", 0.0, 40.0); or 0.0; "Wind speed";
        wind_towards_deg: f64 = number("deg", 0.0, 360.0); or 0.0; "Where the wind blows to: 0 is away from the rack, 90 towards the machine";
        drag_coefficient: f64 = number("", 0.1, 2.0).usual(0.2, 1.2, "a cylinder across the wind has 0.2 to 1.2"); or 0.7; "Drag coefficient of a stick across the wind";
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
        friction_rubber_dry: f64 = friction(0.3, 0.6); or 0.5; "Pipe on dry rubber, as the cradles' rollers have it";
        friction_rubber_wet: f64 = friction(0.2, 0.45); or 0.35; "Pipe on wet rubber";
        friction_rubber_frosted: f64 = friction(0.05, 0.2); or 0.1; "Pipe on frosted rubber";
        friction_rubber_glazed: f64 = friction(0.01, 0.1); or 0.03; "Pipe on rubber under glaze ice";
        restitution: f64 = number("", 0.0, 0.6); or 0.0; "Rebound: speed after a blow over speed before it; 0 is the cautious case for a stop";
        rolling_lever_arm_mm: f64 = number("mm", 0.0, 20.0); or 2.0; "Lever arm of rolling resistance on the rails: the greater, the harder it rolls";
    }
    groups {}
    lists {}
}

group! {
    /// What is wrong with the line. Nothing, unless it is set here.
    Faults {
        told: bool = Kind::Flag; or false; "The trainee is told of them before the run; false leaves them to be found";
        roller_seized: bool = Kind::Flag; or false; "The far cradle's barrels are seized: they slide under a stick that advances";
        radio_dead: bool = Kind::Flag; or false; "The spotter's radio is dead";
        power_fails_s: f64 = MOMENT; follows "never"; "When the power fails: every motion stops as in an emergency stop";
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
        gate_late_s: f64 = number("s", 0.0, 10.0); or 0.0; "How long after its command the gate pin, or the wheel, begins to move";
        gate_missing: bool = Kind::Flag; or false; "The gate pin is not fitted";
        separator_missing: bool = Kind::Flag; or false; "The separator pin is not fitted";
        gate_stuck: bool = Kind::Flag; or false; "The gate pin sticks where it stands";
        chock_missing: bool = Kind::Flag; or false; "The row chock is missing";
        inclinometer_error_deg: f64 = number("deg", -10.0, 10.0); or 0.0; "How much more the inclinometer shows than the rail has";
    }
    groups {}
    lists {}
}

group! {
    /// What is wrong with a motion up and down.
    MotionFault {
        slowness: f64 = number("", 1.0, 10.0); or 1.0; "How many times its rated time it takes";
        crossed: bool = Kind::Flag; or false; "The hoses are crossed: it moves against its arrow";
        coupler: Coupler = Kind::Word(&["Latched", "Half", "Off"]); or Coupler::Latched; "How far the quick coupler is home: half, the motion is slow; off, it is dead";
        sticks_s: f64 = number("s", 0.0, 10.0); or 0.0; "Dirt in the valve: it starts and stops this long after its button";
        air_mm: f64 = number("mm", 0.0, 200.0); or 0.0; "Air in the hose: it starts late, and gives way by so much at its greatest force";
        creep_mm_per_s: f64 = number("mm/s", 0.0, 50.0); or 0.0; "The cylinder leaks: it sinks at this speed under load";
    }
    groups {}
    lists {}
}

group! {
    /// What is wrong with a motion that no load moves while it is held.
    LevelFault {
        slowness: f64 = number("", 1.0, 10.0); or 1.0; "How many times its rated time it takes";
        crossed: bool = Kind::Flag; or false; "The hoses are crossed: it moves against its arrow";
        coupler: Coupler = Kind::Word(&["Latched", "Half", "Off"]); or Coupler::Latched; "How far the quick coupler is home: half, the motion is slow; off, it is dead";
        sticks_s: f64 = number("s", 0.0, 10.0); or 0.0; "Dirt in the valve: it starts and stops this long after its button";
    }
    groups {}
    lists {}
}

group! {
    /// What is wrong with the rollers that advance the stick.
    RollerFault {
        slowness: f64 = number("", 1.0, 10.0); or 1.0; "How many times its rated time it takes";
        crossed: bool = Kind::Flag; or false; "The hoses are crossed: it moves against its arrow";
        coupler: Coupler = Kind::Word(&["Latched", "Half", "Off"]); or Coupler::Latched; "How far the quick coupler is home: half, the motion is slow; off, it is dead";
        sticks_s: f64 = number("s", 0.0, 10.0); or 0.0; "Dirt in the valve: it starts and stops this long after its button";
        creep_mm_per_s: f64 = number("mm/s", 0.0, 50.0); or 0.0; "The motor leaks: pulled along the line, the held rollers give way at this speed";
    }
    groups {}
    lists {}
}
