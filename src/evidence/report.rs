//! The report of a run: for people as text, for machines as JSON.

use std::fmt::Write;

use serde::Serialize;

use super::CAUTION;
use super::figures::Figures;
use super::outcome::Outcome;
use super::reasons::Reason;
use crate::domain::math::deg;
use crate::domain::spec::{Item, Motion};
use crate::operator::Ending;
use crate::scenario::{Goal, Scenario};
use crate::sim::line::{BarFrom, Event, EventKind, Line, Striker};

/// Version of the JSON form.
const FORMAT: u32 = 1;

/// Everything a run has to say for itself.
#[derive(Clone, Debug, Serialize)]
pub struct Report {
    pub format: u32,
    pub program: &'static str,
    pub version: &'static str,
    pub scenario: String,
    pub scenario_file: String,
    pub seed: u64,
    pub operator: String,
    pub goal: Goal,
    pub outcome: Outcome,
    pub passed: bool,
    pub meaning: &'static str,
    pub reasons: Vec<Told>,
    pub figures: Figures,
    pub events: Vec<TimedEvent>,
    pub ending: Ending,
    pub duration_s: f64,
    /// Hash of the final state, as sixteen hexadecimal digits.
    pub state_hash: String,
    pub assumptions: Assumptions,
    pub caution: &'static str,
}

/// A reason as data and as a sentence.
#[derive(Clone, Debug, Serialize)]
pub struct Told {
    pub reason: Reason,
    pub sentence: String,
}

/// An event with its time.
#[derive(Clone, Copy, Debug, Serialize)]
pub struct TimedEvent {
    pub time_s: f64,
    #[serde(flatten)]
    pub event: Event,
}

/// Values nobody has published for pipe on a rack, as this run took them.
#[derive(Clone, Copy, Debug, Serialize)]
pub struct Assumptions {
    pub friction_on_near_rail: f64,
    pub friction_on_far_rail: f64,
    pub friction_pipe_on_pipe: f64,
    pub restitution: f64,
    pub rolling_lever_arm_mm: f64,
}

impl Report {
    /// The report of a run that has ended.
    pub fn of(
        scenario: &Scenario,
        scenario_file: &str,
        seed: u64,
        operator: &str,
        line: &Line,
        ending: Ending,
    ) -> Self {
        let figures = Figures::of(line);
        let outcome = Outcome::of(line, ending, &figures);
        let rack = &line.rig().spec().rack;
        let contact = &line.rig().spec().contact;
        Self {
            format: FORMAT,
            program: env!("CARGO_PKG_NAME"),
            version: env!("CARGO_PKG_VERSION"),
            scenario: scenario.texts.name.clone(),
            scenario_file: scenario_file.to_owned(),
            seed,
            operator: operator.to_owned(),
            goal: scenario.goal,
            outcome,
            passed: outcome.meets(scenario.goal),
            meaning: outcome.meaning(),
            reasons: Reason::of(line, outcome, &figures)
                .into_iter()
                .map(|reason| Told {
                    sentence: reason.to_string(),
                    reason,
                })
                .collect(),
            figures,
            events: line
                .events()
                .iter()
                .map(|&event| TimedEvent {
                    time_s: line.time_at_s(event.tick),
                    event,
                })
                .collect(),
            ending,
            duration_s: line.time_s(),
            state_hash: format!("{:016x}", line.hash()),
            assumptions: Assumptions {
                friction_on_near_rail: contact.friction(rack.near_rail.surface),
                friction_on_far_rail: contact.friction(rack.far_rail.surface),
                friction_pipe_on_pipe: contact.friction_pipe_on_pipe,
                restitution: contact.restitution,
                rolling_lever_arm_mm: 1.0e3 * contact.rolling_lever_arm_m,
            },
            caution: CAUTION,
        }
    }

    /// The report for people.
    pub fn text(&self) -> String {
        let mut out = String::new();
        // Writing to a string cannot fail.
        let _ = self.write_text(&mut out);
        out
    }

    fn write_text(&self, out: &mut String) -> std::fmt::Result {
        let mark = if self.passed { "PASSED" } else { "FAILED" };
        writeln!(
            out,
            "{mark}: {} - {}",
            self.scenario,
            self.outcome.headline()
        )?;
        writeln!(out, "  {}", self.meaning)?;
        writeln!(out, "  To be done: {}.", asked(self.goal))?;
        for told in &self.reasons {
            writeln!(out, "  {}", told.sentence)?;
        }
        writeln!(out, "\nWhat happened")?;
        for event in &self.events {
            writeln!(
                out,
                "  {:7.2} s  {}",
                event.time_s,
                happened(&event.event.kind)
            )?;
        }
        writeln!(out, "  {:7.2} s  {}", self.duration_s, ended(self.ending))?;
        writeln!(out, "\nFigures")?;
        self.write_figures(out)?;
        let a = &self.assumptions;
        writeln!(
            out,
            "\nAssumed (nobody has published these for pipe on a rack)"
        )?;
        writeln!(
            out,
            "  friction on the rails {} near, {} far; pipe on pipe {}; restitution {}; rolling lever arm {} mm",
            a.friction_on_near_rail,
            a.friction_on_far_rail,
            a.friction_pipe_on_pipe,
            a.restitution,
            a.rolling_lever_arm_mm
        )?;
        writeln!(
            out,
            "\nSeed {}, operator '{}', {} {}, state {}",
            self.seed, self.operator, self.program, self.version, self.state_hash
        )?;
        writeln!(out, "{}", self.caution)
    }

    fn write_figures(&self, out: &mut String) -> std::fmt::Result {
        let figures = &self.figures;
        let [near, far] = figures.pitch_deg;
        writeln!(
            out,
            "  pitch of the rails     {near:.2}° near, {far:.2}° far"
        )?;
        writeln!(
            out,
            "  stick 1 may hang up to {:.2}° by its ovality, {:.2}° by rolling resistance",
            figures.hang_deg, figures.start_deg
        )?;
        if let Some(time_s) = figures.feed_time_s {
            writeln!(out, "  feed to reception      {time_s:.2} s")?;
        }
        if let Some(reception) = &figures.reception {
            writeln!(
                out,
                "  speed at the stop      {:.2} m/s, {:.0} % of what goes over it; yaw {:.2}°",
                reception.speed_m_per_s,
                100.0 * reception.speed_fraction,
                reception.yaw_deg
            )?;
        }
        if let Some(blow) = &figures.hardest_blow {
            writeln!(
                out,
                "  hardest blow on gate   {:.2} m/s by stick {}, {:.0} % of the energy that jumps it",
                blow.speed_m_per_s,
                blow.stick,
                100.0 * blow.energy_fraction
            )?;
        }
        if let Some(lean) = &figures.lean {
            writeln!(
                out,
                "  leaning on the gate    stick {}, lifted {:.0} mm off the rails, {:.0} % of what takes it over",
                lean.stick,
                lean.lift_mm,
                100.0 * lean.fraction
            )?;
        }
        Ok(())
    }
}

fn asked(goal: Goal) -> &'static str {
    match goal {
        Goal::Joined => "every stick joined to the string",
        Goal::OneStick => "one stick fed, the rest held",
        Goal::LeftOnRack => "no stick let off the rack",
    }
}

fn ended(ending: Ending) -> &'static str {
    match ending {
        Ending::AtRest => "everything lies still",
        Ending::TimeLimit => "the scenario's time is over",
    }
}

fn happened(kind: &EventKind) -> String {
    match *kind {
        EventKind::FeedRefused => "feed refused: the receiver is not up and empty".to_owned(),
        EventKind::CycleBegan { .. } => "feed pressed, the escapement's cycle begins".to_owned(),
        EventKind::CycleEnded => "the row is held again".to_owned(),
        EventKind::GateStruck {
            stick,
            speed_m_per_s,
        } => format!("stick {stick} comes against the gate at {speed_m_per_s:.2} m/s"),
        EventKind::PassedGate { stick, open, .. } => {
            let how = if open {
                "through the"
            } else {
                "over the closed"
            };
            format!("stick {stick} goes {how} gate")
        }
        EventKind::Landed {
            stick,
            fall_m_per_s,
        } => format!("stick {stick} comes down on the line, falling at {fall_m_per_s:.2} m/s"),
        EventKind::Received {
            stick,
            speed_m_per_s,
            ..
        } => format!("stick {stick} comes to the receiver's stop at {speed_m_per_s:.2} m/s"),
        EventKind::Lost { stick } => format!("stick {stick} has left the line"),
        EventKind::Grounded {
            stick,
            speed_m_per_s,
        } => format!("stick {stick} meets the ground at {speed_m_per_s:.2} m/s"),
        EventKind::Lowered {
            stick,
            rocking_m_per_s,
        } => {
            format!("the receiver goes down with stick {stick} rocking at {rocking_m_per_s:.2} m/s")
        }
        EventKind::Seated {
            stick,
            speed_m_per_s,
        } => format!("stick {stick} is seated in the cradles at {speed_m_per_s:.2} m/s"),
        EventKind::Clamped {
            stick,
            off_m,
            gap_m,
            long_axis_off_rad,
        } => format!(
            "the jaws take stick {stick}: {:.1} mm off the centreline, {:.0} mm from the string, \
             long axis {:.1}° from upright",
            1e3 * off_m,
            1e3 * gap_m,
            deg(long_axis_off_rad).abs()
        ),
        EventKind::NotInReach => "the jaws find no end within reach".to_owned(),
        EventKind::Unclamped { stick } => format!("the jaws let stick {stick} go"),
        EventKind::Joined { stick } => format!("the joint of stick {stick} is made"),
        EventKind::Stalled => "a drive is held by its load".to_owned(),
        EventKind::Struck {
            person,
            by,
            speed_m_per_s,
            energy_j,
        } => {
            let by = match by {
                Striker::Stick(stick) => format!("stick {stick}"),
                Striker::Loader => "the loader".to_owned(),
                Striker::Machinery => "a moving part".to_owned(),
            };
            format!("{by} strikes person {person} at {speed_m_per_s:.2} m/s, {energy_j:.0} J")
        }
        EventKind::ZoneEntered { person } => {
            format!("person {person} is in the line of fire while a stick can move")
        }
        EventKind::ZoneLeft { person } => format!("person {person} is clear"),
        EventKind::UnderStick { person, stick } => {
            format!("person {person} is under stick {stick}, which is raised")
        }
        EventKind::StopSaid => "the spotter says stop".to_owned(),
        EventKind::StopOver => "the spotter has no more reason to say stop".to_owned(),
        EventKind::GateClosedUnder { stick } => {
            format!("the gate begins to close while stick {stick} is still over it")
        }
        EventKind::RowStruck {
            stick,
            speed_m_per_s,
        } => format!("stick {stick} comes down on the row at {speed_m_per_s:.2} m/s"),
        EventKind::ChockSet { side } => format!("the chock of the {side} rail is set"),
        EventKind::ChockTaken { side } => {
            format!("the chock of the {side} rail is taken away")
        }
        EventKind::Barred { stick, from } => match from {
            BarFrom::End(end) => {
                format!("stick {stick} is levered with a bar from its {end} end")
            }
            BarFrom::Below => format!("stick {stick} is levered with a bar from below"),
        },
        EventKind::Repaired { item } => format!("{} put right", named(item)),
        EventKind::NotIsolated { item } => {
            format!("{} not repaired: the power is on", named(item))
        }
        EventKind::SetDown { stick } => format!("the loader has set stick {stick} down"),
        EventKind::FellFromForks { stick } => format!("stick {stick} falls from the forks"),
        EventKind::HeldByLoader { stick } => format!("the loader holds stick {stick}"),
        EventKind::JackedUnderLoad { side } => {
            format!("the jack of the {side} rail is cranked with pipe on the rack")
        }
    }
}

fn named(item: Item) -> String {
    match item {
        Item::Motion(motion) => format!("the hoses of the {}", motion_named(motion)),
        Item::Rail(side) => format!("the gate and gauge at the {side} rail"),
        Item::Rollers => "the far cradle's rollers".to_owned(),
        Item::Radio => "the spotter's radio".to_owned(),
    }
}

fn motion_named(motion: Motion) -> &'static str {
    match motion {
        Motion::Receiver => "receiver",
        Motion::LiftNear => "near lift",
        Motion::LiftFar => "far lift",
        Motion::ShiftNear => "near side-shift",
        Motion::ShiftFar => "far side-shift",
        Motion::Turn => "turning rollers",
        Motion::Advance => "advancing rollers",
    }
}
