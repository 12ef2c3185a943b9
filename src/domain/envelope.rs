//! The reference envelope: where a loose stick of a line can get to, in the plan of a right-handed
//! line.
//!
//! From closed forms, each on its cautious side, for one mishap at a time:
//!
//! | what | how | assumed |
//! |---|---|---|
//! | row let go | rolls, or slides where that is faster, from the rack's high end over the toe, or over the stop of the raised receiver | steeper and slicker rail for both; level at the toe; the saddle takes no speed off; cradles and receiver are in nobody's way |
//! | roll-back while loading | falls off the rack's high end | from rest |
//! | roll-off | falls off a cradle at its highest lift, to either side | from rest, fully shifted; the rack is not in the way |
//! | run-out | lands without a bounce, settles to rolling, and rolls to rest | steepest fall of the ground, and strongest wind, within the turn below; pipe loses nothing to what it strikes |
//! | lengthwise | driven, or sliding where the lifts are one full stroke apart and one cradle is free, until it tips over a cradle, falls and slides on | no loss at the landing; as far as the machine's other end in any case |
//! | turn | a loose stick turns, and its way with it, by up to 30° to either side from the landing on | ours: twice what one glazed rail does to it in this rig (13°), not what a stick swung round by an obstacle can do |
//!
//! Sticks of a row hand their speed on but do not add it up. Not covered: a stick off the loader's
//! forks, a drop from a lift in hand, recoil, ground that is not a plane, and two mishaps at once.

use super::edge::{RunOut, drop_from};
use super::math::{GRAVITY_M_PER_S2, atan, atan2, cos, rad, sin, sqrt, tan};
use super::people::time_to_clear_s;
use super::pipe::Pipe;
use super::rig::{CRADLE_FACE_RAD, End, PlaneBox, Point, Rig};
use super::rolling::{
    Roller, rolling_resistance, sliding_acceleration_m_per_s2, speed_after_run_m_per_s,
    time_over_run_s, wind_drag_n,
};
use super::spec::{LineSpec, Place};
use super::step::corner_angle_rad;
use super::vcradle::VCradle;
use super::zone::{Zone, contains, edge_distance_m, hull};

/// How far a loose stick, and its way, may turn to either side, rad (ours, see above).
pub const YAW_MAX_RAD: f64 = rad(30.0);
/// How far a stick that does not stop is followed, m (ours): beyond any site. One that would stop
/// farther on counts as not stopping.
const FAR_M: f64 = 1000.0;
/// The two senses along an axis.
const SIDES: [f64; 2] = [-1.0, 1.0];

/// How far a loose stick gets in one direction.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Reach {
    /// To that coordinate, m, and no farther.
    Stops {
        /// The coordinate, m.
        at_m: f64,
    },
    /// The ground falls, or the wind blows, too much for that, or all but: there is no edge on this
    /// side, or none within a kilometre.
    DoesNotStop,
}

/// How far a loose stick gets along one axis.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Extent {
    /// In the negative direction.
    pub from: Reach,
    /// In the positive direction.
    pub to: Reach,
}

/// Where a loose stick can get to.
#[derive(Clone, Debug, PartialEq)]
pub struct Envelope {
    /// Across the line, away from the rack.
    pub x_m: Extent,
    /// Along it, towards the machine. A stick that does not stop across the line turns, so it has
    /// no edge along it either.
    pub z_m: Extent,
    /// Convex; followed for [`FAR_M`] where a stick does not stop.
    hull: Vec<Place>,
    /// What a stick on the rack does once it is let go, from every place in a full row.
    releases: Vec<Release>,
    /// How far an end of a turned stick is ahead of its middle, m.
    lead_m: f64,
    radius_m: f64,
}

/// What a zone is worth against an envelope.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Adequacy {
    /// It covers the envelope.
    Covers,
    /// The envelope sticks out.
    Short {
        /// By how much at the worst place, m.
        by_m: f64,
        /// The worst place.
        at: Place,
    },
    /// A loose stick would not stop: no zone is large enough; level the ground or build a bund.
    DoesNotStop,
    /// There is no zone.
    NoZone,
}

/// Whether somebody gets out of the way of a stick that is let go now.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Escape {
    /// Until the soonest stick is there, s. None where none comes.
    pub arrival_s: Option<f64>,
    /// Until they are out of the envelope by the shortest way, s.
    pub clear_s: f64,
}

impl Escape {
    /// Whether they are out before the stick is there.
    pub fn gets_clear(&self) -> bool {
        self.arrival_s
            .is_none_or(|arrival_s| self.clear_s < arrival_s)
    }
}

/// Judges a zone, None where none is set out, against the envelope.
pub fn adequacy(zone: Option<&Zone>, envelope: &Envelope) -> Adequacy {
    let Some(zone) = zone else {
        return Adequacy::NoZone;
    };
    let Some(polygon) = envelope.polygon() else {
        return Adequacy::DoesNotStop;
    };
    zone.uncovered(polygon)
        .map_or(Adequacy::Covers, |out| Adequacy::Short {
            by_m: out.by_m,
            at: out.at,
        })
}

/// Judges the zone that is set out on a line against where its first stick can come to; None without
/// pipe.
pub fn adequacy_as_set_out(rig: &Rig) -> Option<Adequacy> {
    let stick = rig.spec().sticks.first()?;
    let zone = Zone::new(&rig.spec().zone.cones).ok();
    Some(adequacy(zone.as_ref(), &Envelope::new(rig, &stick.pipe)))
}

/// Whether somebody there is inside the zone as set out or inside the envelope, edges included.
pub fn inside_either(place: Place, zone: Option<&Zone>, envelope: &Envelope) -> bool {
    zone.is_some_and(|zone| zone.contains(place)) || envelope.contains(place)
}

impl Envelope {
    /// The envelope of a line that handles this pipe.
    pub fn new(rig: &Rig, pipe: &Pipe) -> Self {
        Loose::new(rig, pipe).envelope()
    }

    /// Its corners in order, convex. None where a stick does not stop.
    pub fn polygon(&self) -> Option<&[Place]> {
        [self.x_m.from, self.x_m.to, self.z_m.from, self.z_m.to]
            .iter()
            .all(|reach| *reach != Reach::DoesNotStop)
            .then_some(&self.hull)
    }

    /// Whether a loose stick can get there, the edge included.
    pub fn contains(&self, place: Place) -> bool {
        contains(&self.hull, place)
    }

    /// Time until a stick that is let go on the rack now can be there, s: the soonest of all the
    /// places of a full row, over the saddle and the edge in no time, and held at one end on the
    /// ground, so that the other goes twice as fast as the middle. None where none can.
    pub fn arrival_s(&self, place: Place) -> Option<f64> {
        if !self.contains(place) {
            return None;
        }
        self.releases
            .iter()
            .filter_map(|release| release.arrival_s(place.x_m, self.radius_m, self.lead_m))
            .min_by(f64::total_cmp)
    }

    /// Whether somebody there gets clear of a stick that is let go now. `reaction_s` is 0 or more,
    /// `walking_m_per_s` above 0.
    pub fn escape(&self, place: Place, reaction_s: f64, walking_m_per_s: f64) -> Escape {
        let way_m = edge_distance_m(&self.hull, place).max(0.0);
        Escape {
            arrival_s: self.arrival_s(place),
            clear_s: time_to_clear_s(reaction_s, way_m, walking_m_per_s),
        }
    }
}

/// A stick on its way across the line off an edge.
#[derive(Clone, Copy)]
struct Edge {
    /// +1 away from the rack, -1 the other way.
    sign: f64,
    at: Point,
    speed_m_per_s: f64,
}

/// Its fall and its way over the ground.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Run {
    edge_x_m: f64,
    lands_x_m: f64,
    fall_s: f64,
    /// Rolling speed after the landing, and what the ground takes off it (negative: adds).
    speed_m_per_s: f64,
    slowing_m_per_s2: f64,
    /// Way over the ground, in plan, m. None where it does not stop.
    way_m: Option<f64>,
}

/// A stick let go on the rack.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Release {
    start_x_m: f64,
    toe_x_m: f64,
    acceleration_m_per_s2: f64,
    /// Way down the rack to the toe, m, and the time it takes.
    run_m: f64,
    run_s: f64,
    then: Run,
}

impl Release {
    fn arrival_s(&self, x_m: f64, radius_m: f64, lead_m: f64) -> Option<f64> {
        let front_x_m = x_m - radius_m;
        if front_x_m <= self.start_x_m {
            // Under the stick; or behind it, where it never comes.
            return (x_m + radius_m >= self.start_x_m).then_some(0.0);
        }
        let run = &self.then;
        if front_x_m <= self.toe_x_m {
            let part = (front_x_m - self.start_x_m) / (self.toe_x_m - self.start_x_m);
            return time_over_run_s(self.acceleration_m_per_s2, part * self.run_m);
        }
        if front_x_m <= run.lands_x_m {
            let part = (front_x_m - run.edge_x_m) / (run.lands_x_m - run.edge_x_m);
            return Some(self.run_s + part.max(0.0) * run.fall_s);
        }
        // v t - ½ a t² = s, in the form that holds for any sign of a.
        let (v, a) = (run.speed_m_per_s, run.slowing_m_per_s2);
        let off_m = front_x_m - run.lands_x_m;
        let way_m = (0.5 * off_m).max(off_m - lead_m);
        let left2 = v * v - 2.0 * a * way_m;
        let rolls_s = 2.0 * way_m / (v + sqrt(left2));
        (left2 >= 0.0 && rolls_s.is_finite()).then_some(self.run_s + run.fall_s + rolls_s)
    }
}

/// The line and its pipe, as the closed forms want them.
struct Loose<'a> {
    rig: &'a Rig,
    line: &'a LineSpec,
    pipe: &'a Pipe,
    roller: Roller,
}

impl<'a> Loose<'a> {
    fn new(rig: &'a Rig, pipe: &'a Pipe) -> Self {
        Self {
            rig,
            line: rig.spec(),
            pipe,
            roller: pipe.roller(),
        }
    }

    fn envelope(&self) -> Envelope {
        let radius_m = self.roller.radius_m;
        let half_m = self.half_length_m();
        let high_x_m = self.on_steep_rail(self.line.rack.length_m).x_m - radius_m;
        let sides_x_m = SIDES.map(|sign| self.cradle_tip(sign).x_m + sign * radius_m);
        let ends_m = SIDES.map(|sign| self.lengthwise_m(sign));
        let mut places = Vec::new();
        // Where sticks belong, and along the line.
        for (sign, end_m) in SIDES.into_iter().zip(ends_m) {
            let along_m = end_m.unwrap_or(FAR_M);
            let corner = |x_m, z_m: f64| Place {
                x_m,
                z_m: sign * z_m,
            };
            places.extend([high_x_m, sides_x_m[1]].map(|x_m| corner(x_m, half_m)));
            places.extend(sides_x_m.map(|x_m| corner(x_m, along_m)));
        }
        let mut stops = [true; 2];
        for edge in self.falls() {
            let run = self.run(edge);
            stops[usize::from(edge.sign > 0.0)] &= run.way_m.is_some();
            self.sweep(edge.sign, &run, &mut places);
        }
        let hull = hull(places);
        let reach = |stops: bool, sign: f64, of: fn(&Place) -> f64| {
            let farthest = hull.iter().map(|place| sign * of(place));
            let at_m = sign * farthest.fold(f64::NEG_INFINITY, f64::max);
            match stops {
                true => Reach::Stops { at_m },
                false => Reach::DoesNotStop,
            }
        };
        let across = |i: usize| reach(stops[i], SIDES[i], |place| place.x_m);
        let along = |i: usize| {
            let stops = ends_m[i].is_some() && stops == [true; 2];
            reach(stops, SIDES[i], |place| place.z_m)
        };
        Envelope {
            x_m: Extent {
                from: across(0),
                to: across(1),
            },
            z_m: Extent {
                from: along(0),
                to: along(1),
            },
            hull,
            releases: self.releases(),
            lead_m: half_m * sin(YAW_MAX_RAD),
            radius_m,
        }
    }

    /// Half the stick and how far it may lie off the middle, m.
    fn half_length_m(&self) -> f64 {
        let offsets = self.line.sticks.iter().map(|stick| stick.offset_m.abs());
        0.5 * self.pipe.length_m + offsets.fold(0.0, f64::max)
    }

    /// Every edge a stick may fall off, with its greatest speed there.
    fn falls(&self) -> Vec<Edge> {
        let length_m = self.line.rack.length_m;
        let mut falls = self.off_the_toe(self.toe_speed_m_per_s(length_m));
        falls.push(Edge {
            sign: -1.0,
            at: self.on_steep_rail(length_m),
            speed_m_per_s: 0.0,
        });
        falls.extend(SIDES.map(|sign| Edge {
            sign,
            at: self.cradle_tip(sign),
            speed_m_per_s: 0.0,
        }));
        falls
    }

    /// Off the toe at a speed: straight, and over the receiver's stop where it carries that far.
    fn off_the_toe(&self, speed_m_per_s: f64) -> Vec<Edge> {
        let toe = self.on_steep_rail(0.0);
        let stop = face_end(self.rig.saddle(0.0)[1], 1.0);
        let off = |at, speed_m_per_s| Edge {
            sign: 1.0,
            at,
            speed_m_per_s,
        };
        let lost = 2.0 * GRAVITY_M_PER_S2 * (stop.y_m - toe.y_m) / (1.0 + self.roller.shape_factor);
        let left2 = speed_m_per_s * speed_m_per_s - lost;
        let mut edges = vec![off(toe, speed_m_per_s)];
        if left2 > 0.0 {
            edges.push(off(stop, sqrt(left2)));
        }
        edges
    }

    /// A stick let go from every place of a full row: gate, one diameter on, .., high end.
    fn releases(&self) -> Vec<Release> {
        let (r, rig) = (self.roller.radius_m, self.rig);
        let first_m = rig.gate_corner_m + r * sin(corner_angle_rad(r, rig.gate_height_m));
        let length_m = self.line.rack.length_m;
        let row = (0..=u16::MAX).map(|i| first_m + 2.0 * r * f64::from(i));
        let starts = row.take_while(|&run_m| run_m < length_m).chain([length_m]);
        let mut releases = Vec::new();
        let acceleration_m_per_s2 = self.rack_acceleration_m_per_s2();
        for run_m in starts {
            let Some(run_s) = time_over_run_s(acceleration_m_per_s2, run_m) else {
                continue;
            };
            for edge in self.off_the_toe(self.toe_speed_m_per_s(run_m)) {
                releases.push(Release {
                    start_x_m: self.on_steep_rail(run_m).x_m,
                    toe_x_m: self.on_steep_rail(0.0).x_m,
                    acceleration_m_per_s2,
                    run_m,
                    run_s,
                    then: self.run(edge),
                });
            }
        }
        releases
    }

    fn toe_speed_m_per_s(&self, run_m: f64) -> f64 {
        speed_after_run_m_per_s(self.rack_acceleration_m_per_s2(), run_m)
    }

    /// Of a stick down the rack, m/s²: rolling or, beyond the slip limit, sliding.
    fn rack_acceleration_m_per_s2(&self) -> f64 {
        let contact = &self.line.contact;
        let pitch_rad = self.rig.rail(self.steep_side()).pitch_rad;
        let wind = self.tail_wind(1.0);
        let frictions = End::BOTH.map(|side| contact.friction(self.rig.rail(side).surface));
        let friction = frictions[0].min(frictions[1]);
        let resistance = rolling_resistance(contact.rolling_lever_arm_m, self.roller.radius_m);
        self.roller
            .acceleration_m_per_s2(pitch_rad, resistance - wind)
            .max(sliding_acceleration_m_per_s2(pitch_rad, friction - wind))
    }

    fn steep_side(&self) -> End {
        let [near, far] = [End::Near, End::Far].map(|side| self.rig.rail(side).pitch_rad);
        if near < far { End::Far } else { End::Near }
    }

    fn on_steep_rail(&self, along_m: f64) -> Point {
        self.rig.on_rail(self.steep_side(), along_m, 0.0)
    }

    /// The tip of a cradle's wing at the highest lift, shifted and leaning as far as may be.
    fn cradle_tip(&self, sign: f64) -> Point {
        let cradles = &self.line.cradles;
        let tips = End::BOTH.map(|end| {
            let column = cradles.column(end);
            let off_m = column.offset_m + sign * 0.5 * cradles.shift_range_m;
            let faces = self
                .rig
                .cradle(cradles.lift_stroke_m, off_m, column.lean_rad);
            face_end(faces[usize::from(sign > 0.0)], sign)
        });
        Point {
            x_m: sign * (sign * tips[0].x_m).max(sign * tips[1].x_m),
            y_m: tips[0].y_m.max(tips[1].y_m),
        }
    }

    /// Steepest fall of the ground within the turn of a stick that goes to one side, rad.
    fn ground_fall_rad(&self, sign: f64) -> f64 {
        let ground = &self.line.ground;
        let (across, along) = (
            sign * tan(ground.cross_fall_rad),
            tan(ground.along_fall_rad).abs(),
        );
        let turned_rad = atan2(along, across).min(YAW_MAX_RAD);
        atan(across * cos(turned_rad) + along * sin(turned_rad))
    }

    /// Push of the wind on a stick that goes to one side, within its turn, over its weight.
    fn tail_wind(&self, sign: f64) -> f64 {
        let weather = &self.line.weather;
        let towards = weather.wind_towards_rad;
        let off_rad = atan2(sin(towards).abs(), sign * cos(towards));
        let across = cos((off_rad - YAW_MAX_RAD).max(0.0)).max(0.0);
        let drag_n = wind_drag_n(
            weather.drag_coefficient,
            self.pipe.outside_diameter_m,
            self.pipe.length_m,
            weather.wind_speed_m_per_s * across,
        );
        drag_n / self.pipe.weight_n()
    }

    /// The fall of a stick off an edge, and its run-out.
    fn run(&self, edge: Edge) -> Run {
        let (roller, sign, speed) = (self.roller, edge.sign, edge.speed_m_per_s);
        let ground = &self.line.ground;
        let fall_rad = self.ground_fall_rad(sign);
        let height_m = edge.at.y_m + edge.at.x_m * tan(ground.cross_fall_rad);
        let (reach_m, fall_s, along, surface) =
            match roller.fall_from_edge_to_slope(speed, height_m, fall_rad) {
                Some(fall) => (
                    fall.reach_m,
                    fall.time_s,
                    fall.across_m_per_s * cos(fall_rad) + fall.down_m_per_s * sin(fall_rad),
                    fall.surface_m_per_s,
                ),
                // So low an edge is rolled down.
                None => {
                    let gained = 2.0 * GRAVITY_M_PER_S2 * height_m.max(0.0);
                    let rolls = sqrt(speed * speed + gained / (1.0 + roller.shape_factor));
                    (roller.radius_m, 0.0, rolls, rolls)
                }
            };
        let resistance = rolling_resistance(ground.rolling_lever_arm_m, roller.radius_m)
            - self.tail_wind(sign) / cos(fall_rad);
        let speed_m_per_s = roller.settled_speed_m_per_s(along, surface).max(0.0);
        Run {
            edge_x_m: edge.at.x_m,
            lands_x_m: edge.at.x_m + sign * reach_m,
            fall_s,
            speed_m_per_s,
            slowing_m_per_s2: -roller.acceleration_m_per_s2(fall_rad, resistance),
            way_m: match roller.run_out(speed_m_per_s, fall_rad, resistance) {
                RunOut::Stops { distance_m } if distance_m < FAR_M => {
                    Some(distance_m * cos(fall_rad))
                }
                _ => None,
            },
        }
    }

    /// What a stick sweeps from its landing on, when it and its way turn by up to [`YAW_MAX_RAD`]
    /// to either side: the corners of a polygon around that.
    fn sweep(&self, sign: f64, run: &Run, places: &mut Vec<Place>) {
        let (s, c, t) = (sin(YAW_MAX_RAD), cos(YAW_MAX_RAD), tan(YAW_MAX_RAD / 2.0));
        let (r, half_m) = (self.roller.radius_m, self.half_length_m());
        let way_m = run.way_m.unwrap_or(FAR_M);
        // Around the arc of the middles, and around that of an end.
        let middles = [(0.0, 0.0), (way_m, way_m * t), (way_m * c, way_m * s)];
        let ends = [(r + half_m * s, half_m * c), (r + half_m * t, half_m)];
        for (middle_x_m, middle_z_m) in middles {
            for (end_x_m, end_z_m) in ends {
                for (back, side) in [(1.0, 1.0), (1.0, -1.0), (-1.0, 1.0), (-1.0, -1.0)] {
                    places.push(Place {
                        x_m: run.lands_x_m + sign * (middle_x_m + back * end_x_m),
                        z_m: side * (middle_z_m + end_z_m + r * s),
                    });
                }
            }
        }
    }

    /// How far a stick's end gets along the line to one side, m from the middle. None where it does
    /// not stop.
    fn lengthwise_m(&self, sign: f64) -> Option<f64> {
        let (line, rig) = (self.line, self.rig);
        let (cradles, ground) = (&line.cradles, &line.ground);
        let to_tip_m = 0.5 * cradles.spacing_m;
        let vee = VCradle {
            rack_face_rad: CRADLE_FACE_RAD,
            outer_face_rad: CRADLE_FACE_RAD,
        };
        let friction = line.contact.friction_on_rubber(cradles.surface);
        let grip = tan(vee.slide_tilt_one_free_rad(friction));
        let tilt_rad = atan2(cradles.lift_stroke_m, cradles.spacing_m);
        let slide_m_per_s2 = sliding_acceleration_m_per_s2(tilt_rad, grip);
        let speed = speed_after_run_m_per_s(slide_m_per_s2, to_tip_m).max(cradles.advance_m_per_s);
        let r = self.roller.radius_m;
        let underside_m = rig.apex_low_m() + cradles.lift_stroke_m + Rig::seated_over_apex_m(r) - r;
        let fall_m = underside_m + sign * to_tip_m * tan(ground.along_fall_rad);
        let slowing = -sliding_acceleration_m_per_s2(sign * ground.along_fall_rad, ground.friction);
        let slides_m = speed * speed / (2.0 * slowing);
        if slowing <= 0.0 || slides_m >= FAR_M {
            return None;
        }
        let off_m = to_tip_m + speed * drop_from(fall_m).time_s + slides_m + self.half_length_m();
        let machine_m = rig.jaws_z_m() + line.machine.half_length_m;
        Some(if sign > 0.0 {
            off_m.max(machine_m)
        } else {
            off_m
        })
    }
}

/// The end of a plate's upper face towards +x or -x.
fn face_end(plate: PlaneBox, sign: f64) -> Point {
    let (s, c) = (sin(plate.turn_rad), cos(plate.turn_rad));
    let (along, above) = (sign * plate.half_length_m, plate.half_thickness_m);
    Point {
        x_m: plate.centre.x_m + along * c - above * s,
        y_m: plate.centre.y_m + along * s + above * c,
    }
}
