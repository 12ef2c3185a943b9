//! What of a line is seen at one moment: read from the core, put between two ticks, never written back.
//!
//! Poses are the world's own (x is mirrored on a left-handed line), heights and ways in metres, angles
//! in radians.

use bevy::math::{Quat, Vec3};

use crate::domain::rig::{End, Point, Rig};
use crate::domain::spec::{Duty, FaultSpec};
use crate::sim::line::{Jaws, Line, LoaderStage, Shape, StickPlace};
use crate::sim::line::{PersonId, State};
use crate::sim::world::{PartContact, StickId};

/// A place and an attitude in the world.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Placed {
    pub at: Vec3,
    pub turn: Quat,
}

impl Placed {
    fn between(self, later: Self, share: f32) -> Self {
        Self {
            at: self.at.lerp(later.at, share),
            turn: self.turn.slerp(later.turn, share),
        }
    }
}

impl From<crate::sim::Pose> for Placed {
    fn from(pose: crate::sim::Pose) -> Self {
        Self {
            at: pose.translation,
            turn: pose.rotation,
        }
    }
}

/// A stick: its axis is the local z, its long axis the local x.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StickShown {
    pub present: bool,
    pub placed: Placed,
    pub speed_m_per_s: f32,
    pub velocity: Vec3,
    pub place: StickPlace,
    /// It is neither chocked, clamped nor isolated.
    pub can_move: bool,
}

#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CradleShown {
    pub raised_m: f64,
    pub off_m: f64,
    pub lean_rad: f64,
}

/// A chock on its rail: how far it is up, 0 to 1, and its uphill face from the rail's toe.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ChockShown {
    pub raised: f64,
    pub face_m: f64,
}

/// The loader: its body, the carriage's face and the two forks (near, far) are boxes with these
/// half extents.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LoaderShown {
    pub body: Placed,
    pub body_half: Vec3,
    pub face: Placed,
    pub face_half: Vec3,
    pub forks: [Placed; 2],
    pub fork_half: Vec3,
    pub stage: LoaderStage,
}

#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PersonShown {
    pub duty: Duty,
    pub feet: Vec3,
    /// About y; 0 looks along +x.
    pub facing_rad: f32,
    pub state: State,
}

/// See the module's text.
#[derive(Clone, Debug, PartialEq)]
pub struct Shown {
    pub tick: u64,
    pub time_s: f64,
    /// By their ids.
    pub sticks: Vec<StickShown>,
    /// Slopes of the near and the far rail.
    pub pitch_rad: [f64; 2],
    /// Near, far: 0 sunk, 1 raised; of a wheel, how far it has turned to its next notch.
    pub gates: [f64; 2],
    pub separators: [f64; 2],
    pub receiver_lowered_m: f64,
    pub cradles: [CradleShown; 2],
    /// Surface speeds: the near cradle's advancing rollers, the far one's turning ones.
    pub rollers_m_per_s: [f64; 2],
    /// None where there is none.
    pub chocks: [Option<ChockShown>; 2],
    pub loader: Option<LoaderShown>,
    pub jaws: Jaws,
    /// By their ids.
    pub people: Vec<PersonShown>,
    /// The spotter is saying stop.
    pub says_stop: bool,
    /// What is wrong with the line: repairs change it as the line runs.
    pub faults: FaultSpec,
    /// Where sticks press on the line's parts; nothing unless asked for, see [`Shown::with_contacts`].
    pub contacts: Vec<PartContact>,
}

impl Shown {
    /// A line as it stands.
    pub fn of(line: &Line) -> Self {
        let rig = line.rig();
        let stick = |id: StickId| {
            let state = line.stick(id);
            StickShown {
                present: line.world().is_present(id),
                placed: state.pose.into(),
                speed_m_per_s: state.velocity.length(),
                velocity: state.velocity,
                place: line.place(id),
                can_move: line.can_move(id),
            }
        };
        let mirror = rig.mirror() as f32;
        let person = |person: &crate::sim::line::Person| {
            let place = person.place();
            let facing = person.facing_rad() as f32;
            PersonShown {
                duty: person.spec().duty,
                feet: Vec3::new(
                    mirror * place.x_m as f32,
                    rig.spec().ground.height_m(place) as f32,
                    place.z_m as f32,
                ),
                // In the plan it turns from +x to +z, about y from +z to +x.
                facing_rad: -f32::atan2(facing.sin(), mirror * facing.cos()),
                state: person.state(),
            }
        };
        Self {
            tick: line.tick_count(),
            time_s: line.time_s(),
            sticks: line.sticks().map(stick).collect(),
            pitch_rad: End::BOTH.map(|end| line.pitch_rad(end)),
            gates: line.gate_fractions(),
            separators: line.separator_fractions(),
            receiver_lowered_m: line.receiver_lowered_m(),
            cradles: End::BOTH.map(|end| CradleShown {
                raised_m: line.raised_m(end),
                off_m: line.cradle_off_m(end),
                lean_rad: line.column_lean_rad(end),
            }),
            rollers_m_per_s: line.roller_speeds_m_per_s(),
            chocks: End::BOTH.map(|end| {
                (!rig.faults(end).chock_missing).then(|| ChockShown {
                    raised: line.chocks().raised_fractions()[end as usize],
                    face_m: line.chocks().face_m(end),
                })
            }),
            loader: loader(line),
            jaws: line.jaws(),
            people: line.people().iter().map(person).collect(),
            says_stop: line.people().spotter_says_stop(),
            faults: rig.spec().faults,
            contacts: Vec::new(),
        }
    }

    /// The same with the forces between sticks and parts over the line's last tick.
    pub fn with_contacts(mut self, line: &Line) -> Self {
        self.contacts = line.world().part_contacts();
        self
    }

    /// Whether any stick can move.
    pub fn stick_can_move(&self) -> bool {
        self.sticks.iter().any(|stick| stick.can_move)
    }

    /// What is seen a share of the way from here to a later moment of the same line. What jumps (a
    /// stick that comes in, somebody's doing) is as it was.
    pub fn between(&self, later: &Self, share: f32) -> Self {
        let mix = |from: f64, to: f64| from + (to - from) * f64::from(share);
        let mix2 = |from: [f64; 2], to: [f64; 2]| [mix(from[0], to[0]), mix(from[1], to[1])];
        let mut shown = self.clone();
        shown.time_s = mix(self.time_s, later.time_s);
        for (now, then) in shown.sticks.iter_mut().zip(&later.sticks) {
            if now.present && then.present {
                now.placed = now.placed.between(then.placed, share);
            }
        }
        shown.pitch_rad = mix2(self.pitch_rad, later.pitch_rad);
        shown.gates = mix2(self.gates, later.gates);
        shown.separators = mix2(self.separators, later.separators);
        shown.receiver_lowered_m = mix(self.receiver_lowered_m, later.receiver_lowered_m);
        for (now, then) in shown.cradles.iter_mut().zip(&later.cradles) {
            now.raised_m = mix(now.raised_m, then.raised_m);
            now.off_m = mix(now.off_m, then.off_m);
            now.lean_rad = mix(now.lean_rad, then.lean_rad);
        }
        for (now, then) in shown.chocks.iter_mut().zip(&later.chocks) {
            if let (Some(now), Some(then)) = (now, then) {
                now.raised = mix(now.raised, then.raised);
            }
        }
        if let (Some(now), Some(then)) = (&mut shown.loader, &later.loader) {
            now.body = now.body.between(then.body, share);
            now.face = now.face.between(then.face, share);
            for (fork, later) in now.forks.iter_mut().zip(then.forks) {
                *fork = fork.between(later, share);
            }
        }
        for (now, then) in shown.people.iter_mut().zip(&later.people) {
            now.feet = now.feet.lerp(then.feet, share);
        }
        shown
    }

    pub fn person(&self, id: PersonId) -> Option<&PersonShown> {
        self.people.get(id.0)
    }
}

fn loader(line: &Line) -> Option<LoaderShown> {
    let loader = line.loader()?;
    let boxes = loader.movers(line.rig()).map(|mover| match mover.shape {
        Shape::Block { half, pose } => (half, Placed::from(pose)),
        Shape::Tube { .. } => (Vec3::ZERO, Placed::from(crate::sim::Pose::IDENTITY)),
    });
    let [
        (body_half, body),
        (face_half, face),
        (fork_half, near),
        (_, far),
    ] = boxes;
    Some(LoaderShown {
        body,
        body_half,
        face,
        face_half,
        forks: [near, far],
        fork_half,
        stage: loader.stage(),
    })
}

/// A point of the rig's plane across the line, in the world.
pub fn in_world(rig: &Rig, point: Point, z_m: f64) -> Vec3 {
    Vec3::new(
        (rig.mirror() * point.x_m) as f32,
        point.y_m as f32,
        z_m as f32,
    )
}
