//! Set-out and walk-round: what somebody on foot does to a line before it runs, by real acts with real
//! readings.
//!
//! | what | how | what is read |
//! |---|---|---|
//! | rail pitch | turns of the jack's crank | the bubble inclinometer (its marks, parallax, its error), or a level laid on the rail |
//! | size setting | pins put into another hole | the size stamped beside the hole |
//! | cradles, machine | put where the tape says | the tape, to a centimetre |
//! | lift column | moved, and set up with a level | the string line by a rule, to 5 mm; the level |
//! | zone | cones carried and put down one by one | what the trainee sees and measures |
//! | everything else | looked at closely, then accepted or reported | see [`look()`] |
//!
//! What is reported is put right by the crew. A needless report is noted, and so is what was accepted:
//! see [`Walk::decisions`]. The whole becomes a [`SetOut`]; the last act can always be undone.

mod check;
mod holes;
mod instruments;
mod look;
#[cfg(test)]
mod tests;
mod thing;

use serde::Serialize;

pub use check::{FunctionCheck, Repair, Trial, Tried};
pub use holes::{hole_for, holes, stamped};
pub use instruments::{
    BUBBLE_M_PER_DEGREE, BUBBLE_OUT_M, Eye, GAUGE_BEYOND_RAD, GAUGE_MARKS, GAUGE_OUTSIDE_M,
    GAUGE_UNDER_M, LEVEL_MARK_RAD, RULE_MARK_M, TAPE_MARK_M, TUBE_RADIUS_M, gauge_at,
    gauge_reading_rad, gauge_shows_rad, gauge_zero_m, level_reading_rad, rule_reading_m,
    tape_reading_m,
};
pub use look::{Aids, look};
pub use thing::Thing;

use crate::domain::envelope::{Adequacy, adequacy_as_set_out};
use crate::domain::math::{asin, deg, sin};
use crate::domain::pipe::SizeSystem;
use crate::domain::rig::{End, Rig};
use crate::domain::set_out::{STEEPEST_RAD, SetOut, SetOutFault, Setting};
use crate::domain::spec::{LineSpec, Place, ZoneSpec};
use crate::domain::zone::{CONES_APART_M, SITE_M, Zone, ZoneFault};
use crate::scenario::Scenario;
use crate::texts::Message;
use crate::words;

/// How far a rail's high end goes up with one turn of the jack's crank, m, and how many turns somebody
/// makes in a second (ours; as fast as the core's cranks).
pub const RISE_PER_TURN_M: f64 = 0.010;
pub const TURNS_PER_S: f64 = 1.0;
/// Less than this is no way of the jack, m.
const LEAST_RISE_M: f64 = 1e-9;

/// What is done on foot.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Act {
    /// The pins are put into the holes of a size.
    Size(SizeSystem),
    /// The cradles are put so far apart.
    Cradles { spacing_m: f64 },
    /// The fusion machine is put so far from the near cradle.
    Machine { near_cradle_to_jaws_m: f64 },
    /// A lift column is moved across the line, away from the rack.
    ShiftColumn { column: End, by_m: f64 },
    /// A lift column is tilted away from the rack.
    TiltColumn { column: End, by_rad: f64 },
    /// The string is stretched along the line's centre, or taken up again.
    String,
    /// The cone in hand is put down; with none in hand, another one from the stack.
    PutCone(Place),
    /// A cone is taken up, counted from 0.
    TakeCone(usize),
    /// The cone in hand is put back on the stack.
    StackCone,
    /// What was looked at is left as it is.
    Accept(Thing),
    /// What was looked at is reported.
    Report(Thing),
}

/// What was decided about a thing, and what was to be seen of it then.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Decision {
    pub thing: Thing,
    pub answer: Answer,
    pub seen: Vec<Message>,
    /// Whether anything was wrong with it.
    pub was_faulty: bool,
    /// Whether that was to be seen, or in a function check to be noticed.
    pub showed: bool,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub enum Answer {
    Accepted,
    Reported,
}

impl Decision {
    /// Reported although nothing was wrong with it.
    pub fn is_needless(&self) -> bool {
        self.answer == Answer::Reported && !self.was_faulty
    }

    /// Accepted although what was wrong with it was to be seen.
    pub fn is_missed(&self) -> bool {
        self.answer == Answer::Accepted && self.showed
    }
}

/// What can be undone.
#[derive(Clone, Debug, Default, PartialEq)]
struct Done {
    settings: Vec<Setting>,
    /// The cones as they stand, in their order; None as found.
    cones: Option<Vec<Place>>,
    /// The cone in hand: where in the order it goes.
    in_hand: Option<usize>,
    string: bool,
    decisions: Vec<Decision>,
}

/// A line before it runs, with somebody walking about it.
#[derive(Clone, Debug, PartialEq)]
pub struct Walk {
    as_found: LineSpec,
    /// The rack is still empty.
    open: bool,
    /// The trainee is told of the faults.
    told: bool,
    /// The line as it stands now.
    line: LineSpec,
    done: Done,
    /// What was before each act.
    before: Vec<Done>,
    /// Which rail was cranked last, as long as nothing else was done since.
    cranking: Option<End>,
    looked_at: Vec<Thing>,
}

impl Walk {
    /// `open` says whether the rack is still empty.
    pub fn new(scenario: &Scenario, as_found: &LineSpec, open: bool) -> Self {
        Self {
            as_found: as_found.clone(),
            open,
            told: scenario.faults_told,
            line: as_found.clone(),
            done: Done::default(),
            before: Vec::new(),
            cranking: None,
            looked_at: Vec::new(),
        }
    }

    /// The line as it stands. Who stands where is put right with the act after a turn of the crank.
    pub fn line(&self) -> &LineSpec {
        &self.line
    }

    pub fn is_open(&self) -> bool {
        self.open
    }

    /// The cones as they stand, in their order.
    pub fn cones(&self) -> &[Place] {
        self.done.cones.as_deref().unwrap_or(&self.line.zone.cones)
    }

    /// Whether a cone is carried that was taken up.
    pub fn has_cone_in_hand(&self) -> bool {
        self.done.in_hand.is_some()
    }

    pub fn string_is_stretched(&self) -> bool {
        self.done.string
    }

    /// What was decided so far, in order.
    pub fn decisions(&self) -> &[Decision] {
        &self.done.decisions
    }

    /// What nobody has decided about.
    pub fn undecided(&self) -> Vec<Thing> {
        let decided = |thing: &Thing| self.done.decisions.iter().any(|d| d.thing == *thing);
        let mut all = Thing::all(&self.line);
        all.retain(|thing| !decided(thing));
        all
    }

    /// What is wrong, where the scenario tells of it.
    pub fn told(&self) -> Vec<Thing> {
        let mut all = Thing::all(&self.line);
        all.retain(|thing| self.told && thing.is_faulty(&self.line));
        all
    }

    /// Looks at a thing from close by.
    pub fn look(&mut self, thing: Thing) -> Vec<Message> {
        if !self.looked_at.contains(&thing) {
            self.looked_at.push(thing);
        }
        self.sees(thing)
    }

    fn sees(&self, thing: Thing) -> Vec<Message> {
        if thing == Thing::Cones {
            // As they stand, even where they make no zone yet.
            let mut line = self.line.clone();
            line.zone.cones = self.cones().to_vec();
            return look(thing, &line, self.aids());
        }
        look(thing, &self.line, self.aids())
    }

    fn aids(&self) -> Aids {
        Aids {
            string: self.done.string,
            open: self.open,
        }
    }

    /// Where the bubble of a rail's inclinometer seems to stand from an eye at x, y, z of a
    /// right-handed line, rad; None where it cannot be read from there.
    pub fn bubble_rad(&self, rail: End, eye_m: [f64; 3]) -> Option<f64> {
        let rig = Rig::new(&self.line);
        Eye::before(&rig, rail, eye_m).sees_rad(gauge_shows_rad(&rig, rail))
    }

    /// A level laid on a rail.
    pub fn level_on_rail(&self, rail: End) -> Message {
        let slope_rad = thing::rail(&self.line, rail).pitch_rad;
        Message::new("level-on-rail")
            .with("rail", words::rail(rail))
            .measured("slope", deg(level_reading_rad(slope_rad)), 1)
    }

    /// What the cones are worth against where a loose stick can come to. Only for guided and practice
    /// mode; nobody on a site is told.
    pub fn adequacy(&self) -> Option<Adequacy> {
        adequacy_as_set_out(&Rig::new(&self.line))
    }

    /// Why the line cannot be run as it stands: cones that make no zone.
    pub fn unfinished(&self) -> Option<Message> {
        let cones = self.done.cones.as_ref()?;
        Zone::new(cones)
            .err()
            .map(|fault| words::zone_fault(&fault))
    }

    /// What was set, in order; of the cones, what makes a zone.
    pub fn set_out(&self) -> SetOut {
        let mut settings = self.done.settings.clone();
        settings.extend(self.zone_set());
        SetOut { settings }
    }

    fn zone_set(&self) -> Option<Setting> {
        let cones = self.done.cones.as_ref()?;
        let is_zone = Zone::new(cones).is_ok() && *cones != self.as_found.zone.cones;
        is_zone.then(|| {
            Setting::Zone(ZoneSpec {
                cones: cones.clone(),
            })
        })
    }

    /// Takes the last act back. False where there is none.
    pub fn undo(&mut self) -> bool {
        let Some(before) = self.before.pop() else {
            return false;
        };
        self.done = before;
        self.cranking = None;
        // It could be set out so before.
        if let Ok(line) = self.set_out().applied(&self.as_found, self.open) {
            self.line = line;
        }
        true
    }

    /// Does something, and says what came of it.
    ///
    /// # Errors
    /// Why it cannot be done; then nothing has changed.
    pub fn act(&mut self, act: Act) -> Result<Message, Message> {
        let mut next = self.done.clone();
        let said = self.carry_out(act, &mut next)?;
        let before = std::mem::replace(&mut self.done, next);
        match self.set_out().applied(&self.as_found, self.open) {
            Ok(line) => {
                self.line = line;
                self.before.push(before);
                self.cranking = None;
                Ok(said)
            }
            Err(fault) => {
                self.done = before;
                Err(words::set_out_fault(&fault))
            }
        }
    }

    fn carry_out(&self, act: Act, next: &mut Done) -> Result<Message, Message> {
        let mut set = |setting: Setting| {
            let said = Message::new("told-set").with("setting", words::setting(&setting));
            next.settings.push(setting);
            said
        };
        let column = |end: End| self.line.cradles.column(end);
        Ok(match act {
            Act::Size(size) => {
                set(Setting::Size {
                    diameter_m: size.mean_diameter_m(),
                });
                Message::new("told-size").with("size", stamped(size))
            }
            Act::Cradles { spacing_m } => set(Setting::CradleSpacing { spacing_m }),
            Act::Machine {
                near_cradle_to_jaws_m,
            } => set(Setting::MachineAt {
                near_cradle_to_jaws_m,
            }),
            Act::ShiftColumn { column: end, by_m } => set(Setting::ColumnOffset {
                column: end,
                offset_m: column(end).offset_m + by_m,
            }),
            Act::TiltColumn {
                column: end,
                by_rad,
            } => set(Setting::ColumnLean {
                column: end,
                lean_rad: column(end).lean_rad + by_rad,
            }),
            Act::String => {
                next.string = !next.string;
                Message::new(if next.string {
                    "told-string-stretched"
                } else {
                    "told-string-taken"
                })
            }
            Act::PutCone(place) => self.put_cone(place, next)?,
            Act::TakeCone(cone) => self.take_cone(cone, next)?,
            Act::StackCone => {
                let in_hand = next.in_hand.take();
                in_hand.ok_or_else(|| Message::new("refused-no-cone"))?;
                Message::new("told-cone-stacked")
            }
            Act::Accept(thing) => {
                self.decide(thing, Answer::Accepted, next)?;
                Message::new("told-accepted").with("thing", thing.name(&self.line))
            }
            Act::Report(thing) => self.report(thing, next)?,
        })
    }

    /// Turns the crank of a rail's jack; positive lifts the high end. Turns of one rail with nothing
    /// in between are one act.
    ///
    /// # Errors
    /// Where pipe lies on the rack, or the jack is at its end.
    pub fn crank(&mut self, rail: End, turns: f64) -> Result<(), Message> {
        let now_rad = thing::rail(&self.line, rail).pitch_rad;
        let setting = Setting::Pitch {
            rail,
            pitch_rad: now_rad,
        };
        if !self.open {
            return Err(words::set_out_fault(&SetOutFault::PipeOnRack(setting)));
        }
        let length_m = self.line.rack.length_m;
        let now_m = length_m * sin(now_rad);
        let turned_m = turns * RISE_PER_TURN_M;
        let high_m = (now_m + turned_m).clamp(0.0, length_m * sin(STEEPEST_RAD));
        if !turned_m.is_finite() || (turned_m != 0.0 && (high_m - now_m).abs() < LEAST_RISE_M) {
            return Err(Message::new("refused-jack-end"));
        }
        let pitch_rad = asin(high_m / length_m).clamp(0.0, STEEPEST_RAD);
        if self.cranking != Some(rail) {
            self.before.push(self.done.clone());
            self.done.settings.push(setting);
            self.cranking = Some(rail);
        }
        if let Some(Setting::Pitch { pitch_rad: set, .. }) = self.done.settings.last_mut() {
            *set = pitch_rad;
        }
        match rail {
            End::Near => self.line.rack.near_rail.pitch_rad = pitch_rad,
            End::Far => self.line.rack.far_rail.pitch_rad = pitch_rad,
        }
        Ok(())
    }

    fn put_cone(&self, place: Place, next: &mut Done) -> Result<Message, Message> {
        let mut cones = self.cones().to_vec();
        let at = next.in_hand.take().unwrap_or(cones.len()).min(cones.len());
        let near = |cone: &Place| {
            let (dx, dz) = (cone.x_m - place.x_m, cone.z_m - place.z_m);
            dx * dx + dz * dz < CONES_APART_M * CONES_APART_M
        };
        if let Some(other) = cones.iter().position(near) {
            let other = if other < at { other } else { other + 1 };
            let cones = [other + 1, at + 1];
            return Err(words::zone_fault(&ZoneFault::TooNear {
                cones,
                apart_m: 0.0,
            }));
        }
        let on_site = |c: f64| (-SITE_M..=SITE_M).contains(&c);
        if !(on_site(place.x_m) && on_site(place.z_m)) {
            let cone = at + 1;
            return Err(words::zone_fault(&ZoneFault::OffSite { cone, place }));
        }
        cones.insert(at, place);
        let said = Message::new("told-cone-put").with("cone", at + 1);
        next.cones = Some(cones);
        Ok(said)
    }

    fn take_cone(&self, cone: usize, next: &mut Done) -> Result<Message, Message> {
        let mut cones = self.cones().to_vec();
        if next.in_hand.is_some() || cone >= cones.len() {
            return Err(Message::new("refused-cone-in-hand"));
        }
        cones.remove(cone);
        next.cones = Some(cones);
        next.in_hand = Some(cone);
        Ok(Message::new("told-cone-taken").with("cone", cone + 1))
    }

    fn report(&self, thing: Thing, next: &mut Done) -> Result<Message, Message> {
        let name = thing.name(&self.line);
        if thing.is_set_by_hand() {
            return Err(Message::new("refused-set-it-yourself").with("thing", name));
        }
        self.decide(thing, Answer::Reported, next)?;
        let remedy = thing.remedy();
        let faulty = thing.is_faulty(&self.line);
        Ok(match (remedy, faulty) {
            (Some(setting), true) => {
                next.settings.push(setting);
                Message::new("told-put-right").with("thing", name)
            }
            (None, true) => Message::new("told-no-remedy").with("thing", name),
            (_, false) => Message::new("told-nothing-found").with("thing", name),
        })
    }

    /// Notes a decision; one about the same thing as it still is replaces the one before.
    fn decide(&self, thing: Thing, answer: Answer, next: &mut Done) -> Result<(), Message> {
        if !self.looked_at.contains(&thing) {
            let name = thing.name(&self.line);
            return Err(Message::new("refused-look-first").with("thing", name));
        }
        let decision = Decision {
            thing,
            answer,
            seen: self.sees(thing),
            was_faulty: thing.is_faulty(&self.line),
            showed: thing.shows(&self.line),
        };
        let alike = |old: &Decision| old.thing == thing && old.was_faulty == decision.was_faulty;
        next.decisions.retain(|old| !alike(old));
        next.decisions.push(decision);
        Ok(())
    }
}
