//! Near and far cradle: V's of crossed rollers on lift columns with side-shift.
//!
//! The near rollers are driven along the line, and their barrels let the stick turn. The far ones are
//! driven about the stick, and their barrels let it run. So advancing and turning never work against
//! each other.

use crate::domain::rig::{COLUMN_BASE_M, End, Rig};
use crate::domain::spec::{Motion, Turning};
use crate::sim::controls::Controls;
use crate::sim::drive::{Drive, RateDrive, Valve, Way};
use crate::sim::world::{PartId, Rollers, Runs, StickId, Touching, World};

use super::footing::Foot;
use super::parts;

/// Resistance of rollers' bearings as a part of their load (ours).
pub const BEARING: f32 = 0.01;

/// The same of far barrels that are not driven: they drag, so that an oval stick stays as it was
/// turned. In a V of 120° half the weight on them holds an ovality of 8 % (ours).
const TURNING_DRAG: f32 = 0.15;

#[derive(Clone, Debug)]
pub struct Cradles {
    columns: [Column; 2],
    advance: RateDrive,
    advance_valve: Valve,
    turn: RateDrive,
    turn_valve: Valve,
}

#[derive(Clone, Debug)]
struct Column {
    end: End,
    /// Rack's side and outer side.
    faces: [PartId; 2],
    lift: Drive,
    lift_valve: Valve,
    shift: Drive,
    shift_valve: Valve,
    /// Rack's side and outer side.
    feet: [Foot; 2],
}

impl Cradles {
    pub fn build(world: &mut World, rig: &Rig) -> Self {
        let spec = rig.spec().cradles;
        let faults = &rig.spec().faults;
        let columns = End::BOTH.map(|end| Column::build(world, rig, end));
        let rate = |motion: Motion, speed: f64, force: f64| {
            let valve = Valve::new(faults.motion(motion));
            let mut drive = RateDrive::new(speed, force);
            drive.set_slowness(valve.slowness());
            (drive, valve)
        };
        let (advance, advance_valve) =
            rate(Motion::Advance, spec.advance_m_per_s, spec.advance_force_n);
        let (turn, turn_valve) = rate(Motion::Turn, spec.turn_m_per_s, spec.turn_force_n);
        Self {
            columns,
            advance,
            advance_valve,
            turn,
            turn_valve,
        }
    }

    /// One tick. `declutched` lets the near rollers run free: the stick is in the machine's hands.
    pub fn tick(
        &mut self,
        world: &mut World,
        rig: &Rig,
        controls: &Controls,
        powered: bool,
        declutched: bool,
    ) {
        let dt_s = f64::from(world.settings().dt_s);
        let [near, far] = &self.columns;
        // The load pulls the surface with the force that it feels.
        let along = near.force(world, |world, face| {
            f64::from(world.friction_on_part(face).z)
        });
        let way = self
            .advance_valve
            .tick(controls.asked(Motion::Advance), powered, dt_s);
        let creep = self.advance_valve.creep_m_per_s();
        self.advance.tick(way, along, creep, dt_s);
        let across = far.force(world, |world, face| {
            rig.mirror() * parts::friction_along_own_x(world, face)
        });
        let way = self
            .turn_valve
            .tick(controls.asked(Motion::Turn), powered, dt_s);
        // A stick whose top goes away from the rack runs on rollers whose surface goes back.
        self.turn
            .tick(way, -across, self.turn_valve.creep_m_per_s(), dt_s);

        let near_rollers = Rollers {
            along: if declutched {
                Runs::Free(BEARING)
            } else {
                Runs::At(self.advance.speed() as f32)
            },
            across: Runs::Free(BEARING),
        };
        let far_rollers = Rollers {
            along: if rig.spec().faults.roller_seized {
                Runs::At(0.0)
            } else {
                Runs::Free(BEARING)
            },
            across: match rig.spec().cradles.turning {
                Turning::Powered => Runs::At((-rig.mirror() * self.turn.speed()) as f32),
                Turning::SideShift => Runs::Free(TURNING_DRAG),
            },
        };
        for column in &mut self.columns {
            let rollers = match column.end {
                End::Near => near_rollers,
                End::Far => far_rollers,
            };
            for face in column.faces {
                world.set_rollers(face, rollers);
            }
            column.tick(world, rig, controls, powered, dt_s);
        }
    }

    /// The hoses and valve of a motion have been put right.
    pub fn mend(&mut self, motion: Motion) {
        for column in &mut self.columns {
            if motion == Motion::lift(column.end) {
                column.lift_valve.mend();
                column.lift.set_slowness(1.0);
            } else if motion == Motion::shift(column.end) {
                column.shift_valve.mend();
                column.shift.set_slowness(1.0);
            }
        }
        match motion {
            Motion::Advance => {
                self.advance_valve.mend();
                self.advance.set_slowness(1.0);
            }
            Motion::Turn => {
                self.turn_valve.mend();
                self.turn.set_slowness(1.0);
            }
            _ => {}
        }
    }

    /// A lift's cylinder begins to leak.
    pub fn begin_to_leak(&mut self, end: End, creep_m_per_s: f64) {
        for column in &mut self.columns {
            if column.end == end {
                column.lift_valve.begin_to_leak(creep_m_per_s);
            }
        }
    }

    /// The faces of both cradles.
    pub fn parts(&self) -> impl Iterator<Item = PartId> + '_ {
        self.columns.iter().flat_map(|column| column.faces)
    }

    fn column(&self, end: End) -> &Column {
        match end {
            End::Near => &self.columns[0],
            End::Far => &self.columns[1],
        }
    }

    /// How far a lift is raised from its lowest place, m.
    pub fn raised_m(&self, end: End) -> f64 {
        self.column(end).lift.position()
    }

    /// How far a cradle stands off the line's centre, away from the rack, m.
    pub fn off_m(&self, rig: &Rig, end: End) -> f64 {
        self.column(end).off_m(rig)
    }

    /// How far a column leans away from the rack, rad.
    pub fn lean_rad(&self, rig: &Rig, end: End) -> f64 {
        self.column(end).lean_rad(rig)
    }

    /// Weight on a cradle, N.
    pub fn load_n(&self, world: &World, end: End) -> f64 {
        self.column(end).load_n(world)
    }

    /// Whether a stick lies in a cradle, on both faces.
    pub fn holds(&self, world: &World, end: End, stick: StickId) -> bool {
        let faces = self.column(end).faces;
        faces.into_iter().all(|face| world.touches(face, stick))
    }

    /// Whether a stick touches either cradle.
    pub fn touch(&self, world: &World, stick: StickId) -> bool {
        self.parts().any(|face| world.touches(face, stick))
    }

    pub fn is_stalled(&self) -> bool {
        self.advance.is_stalled()
            || self.turn.is_stalled()
            || self
                .columns
                .iter()
                .any(|column| column.lift.is_stalled() || column.shift.is_stalled())
    }

    /// Speed of the near rollers along the line, and of the far ones about the stick, m/s.
    pub fn roller_speeds_m_per_s(&self) -> [f64; 2] {
        [self.advance.speed(), self.turn.speed()]
    }

    /// The numbers that make up its state, for the state hash.
    pub fn state(&self) -> impl Iterator<Item = f64> + '_ {
        let columns = self.columns.iter().flat_map(|column| {
            let drives = column.lift.state().into_iter().chain(column.shift.state());
            let valves = column.lift_valve.state().into_iter();
            let valves = valves.chain(column.shift_valve.state());
            let feet = column.feet.iter().map(Foot::sunk_m);
            drives.chain(valves).chain(feet)
        });
        let rollers = self.advance.state().into_iter().chain(self.turn.state());
        let valves = self.advance_valve.state().into_iter();
        let valves = valves.chain(self.turn_valve.state());
        columns.chain(rollers).chain(valves)
    }
}

impl Column {
    fn build(world: &mut World, rig: &Rig, end: End) -> Self {
        let line = rig.spec();
        let spec = line.cradles;
        let valve = |motion: Motion| Valve::new(line.faults.motion(motion));
        let (lift_valve, shift_valve) = (valve(Motion::lift(end)), valve(Motion::shift(end)));
        let mut lift = Drive::new(
            spec.lift_stroke_m,
            spec.lift_time_s,
            spec.lift_force_n,
            false,
        );
        lift.set_slowness(lift_valve.slowness());
        let mut shift = Drive::new(
            spec.shift_range_m,
            spec.shift_time_s,
            spec.shift_force_n,
            false,
        )
        .standing_at(spec.shift_range_m / 2.0);
        shift.set_slowness(shift_valve.slowness());
        let touching = Touching {
            friction: line.contact.friction_on_rubber(spec.surface) as f32,
            rolling_lever_arm_m: 0.0,
        };
        let column = spec.column(end);
        let feet = [column.rack_foot, column.outer_foot]
            .map(|foot| Foot::new(foot, line.ground.subgrade_n_per_m3));
        let faces = rig
            .cradle(0.0, column.offset_m, column.lean_rad)
            .map(|face| {
                let z_m = rig.cradle_z_m(end);
                parts::moving(world, rig, face, z_m, rig.cradle_half_width_m(), touching)
            });
        Self {
            end,
            faces,
            lift,
            lift_valve,
            shift,
            shift_valve,
            feet,
        }
    }

    fn force(&self, world: &World, of: impl Fn(&World, PartId) -> f64) -> f64 {
        self.faces.iter().map(|&face| of(world, face)).sum()
    }

    fn load_n(&self, world: &World) -> f64 {
        self.force(world, |world, face| -f64::from(world.force_on_part(face).y))
    }

    fn off_m(&self, rig: &Rig) -> f64 {
        let spec = rig.spec().cradles;
        spec.column(self.end).offset_m + self.shift.position() - spec.shift_range_m / 2.0
    }

    fn lean_rad(&self, rig: &Rig) -> f64 {
        let [rack, outer] = self.feet.map(|foot| foot.sunk_m());
        let spec = rig.spec().cradles.column(self.end);
        spec.lean_rad + (outer - rack) / COLUMN_BASE_M
    }

    fn tick(
        &mut self,
        world: &mut World,
        rig: &Rig,
        controls: &Controls,
        powered: bool,
        dt_s: f64,
    ) {
        let load_n = self.load_n(world);
        let way = self
            .lift_valve
            .tick(controls.asked(Motion::lift(self.end)), powered, dt_s);
        self.lift.tick(way, load_n, dt_s);
        if way == Way::Hold {
            self.lift.leak(self.lift_valve.creep_m_per_s(), dt_s);
        }
        let side_n =
            rig.mirror() * self.force(world, |world, face| f64::from(world.force_on_part(face).x));
        let way = self
            .shift_valve
            .tick(controls.asked(Motion::shift(self.end)), powered, dt_s);
        self.shift.tick(way, -side_n, dt_s);

        // The load stands over the column's middle, as far as the cradle is off it.
        let arm = self.off_m(rig) / COLUMN_BASE_M;
        for (foot, share) in self.feet.iter_mut().zip([0.5 - arm, 0.5 + arm]) {
            foot.tick(load_n * share, dt_s);
        }
        let sunk_m = self.feet.iter().map(Foot::sunk_m).sum::<f64>() / 2.0;
        let gives_m = self.lift_valve.gives_m(self.lift.load_fraction(), dt_s);
        let raised_m = self.lift.position() - gives_m - sunk_m;
        let faces = rig.cradle(raised_m, self.off_m(rig), self.lean_rad(rig));
        for (part, face) in self.faces.into_iter().zip(faces) {
            parts::place(world, rig, part, face, rig.cradle_z_m(self.end));
        }
    }
}
