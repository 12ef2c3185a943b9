//! Running a line again from before a finding, with something done otherwise.

use super::Case;
use super::log::{Log, Logger, Mark};
use crate::domain::finding::FindingKind;
use crate::domain::spec::LineSpec;
use crate::operator::{Operator, Worker};
use crate::scenario::Scenario;
use crate::sim::controls::{Button, Call, Controls};
use crate::sim::line::{Line, StickPlace};
use crate::sim::world::StickId;
use crate::texts::Message;

/// Ticks between two kept lines.
const KEEP_EVERY_TICKS: u64 = 480;
/// How long an inserted wait may take, ticks: a minute.
const WAIT_MOST_TICKS: u64 = 60 * 240;
/// How long something must lie still to count as still, ticks.
const STILL_TICKS: u32 = 120;
const STILL_M_PER_S: f64 = 0.02;

/// How long everything lies still before nothing more is waited for, ticks.
const REST_TICKS: u32 = 240;

/// Whether a kind of finding depends on where people go.
fn about_people(kind: FindingKind) -> bool {
    use FindingKind as K;
    matches!(
        kind,
        K::Struck | K::UnderStick | K::InZone | K::StopUnheeded
    )
}

/// Lines kept while a run goes on, to start again from.
#[derive(Default)]
pub struct Kept(Vec<(Line, Mark)>);

impl Kept {
    /// Takes a tick that has just been made and logged.
    pub fn observe(&mut self, line: &Line, logger: &Logger) {
        if line.tick_count() % KEEP_EVERY_TICKS == 1 {
            self.0.push((line.fork(), logger.mark()));
        }
    }

    /// Those up to a tick.
    pub fn until(&self, tick: u64) -> Self {
        let kept = self.0.iter().filter(|(line, _)| line.tick_count() <= tick);
        Self(
            kept.map(|(line, mark)| (line.fork(), mark.clone()))
                .collect(),
        )
    }

    /// Forgets those after a tick.
    pub fn forget_after(&mut self, tick: u64) {
        self.0.retain(|(line, _)| line.tick_count() <= tick);
    }

    /// The last that was kept before a tick was made.
    pub fn before(&self, tick: u64) -> Option<&Line> {
        self.marked_before(tick).map(|(line, _)| line)
    }

    fn marked_before(&self, tick: u64) -> Option<&(Line, Mark)> {
        let after = self.0.partition_point(|(line, _)| line.tick_count() < tick);
        after.checked_sub(1).and_then(|last| self.0.get(last))
    }
}

/// What is done otherwise.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Change {
    /// Nothing: the controls as they were, on another line.
    Nothing,
    /// A button that was pressed then is not.
    NotPressed(Button),
    /// What was said then is not said.
    NotSaid,
    /// Before what was done then, it is waited for something.
    WaitFor(Condition),
    /// Feed is held on until no stick is over the gate.
    HoldFeed,
    /// One lift's button is both lifts'.
    BothLifts,
    /// From then on nothing moves while the spotter says stop.
    HeedStops,
    /// Somebody who knows the job takes over.
    TakeOver,
    /// From then on only this is done.
    Rescue(Rescue),
}

/// What is waited for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Condition {
    ReceiverReady,
    RowStill,
    PeopleOut,
    StickStill,
    Chocked,
}

/// What may still avert something.
#[derive(Clone, Copy, Debug, PartialEq, Eq, serde::Serialize)]
pub enum Rescue {
    EmergencyStop,
    LetGo,
    Isolate,
    Lower,
    HoldWithLoader,
    CallOut,
}

impl Rescue {
    pub const ALL: [Self; 6] = [
        Self::EmergencyStop,
        Self::LetGo,
        Self::Isolate,
        Self::Lower,
        Self::HoldWithLoader,
        Self::CallOut,
    ];

    /// In words.
    pub fn said(self) -> Message {
        Message::new(match self {
            Self::EmergencyStop => "rescue-emergency-stop",
            Self::LetGo => "rescue-let-go",
            Self::Isolate => "rescue-isolate",
            Self::Lower => "rescue-lower",
            Self::HoldWithLoader => "rescue-hold-with-loader",
            Self::CallOut => "rescue-call-out",
        })
    }

    fn controls(self, first: bool) -> Controls {
        let say = |call| Controls {
            call: first.then_some(call),
            ..Controls::default()
        };
        match self {
            Self::EmergencyStop => Controls {
                emergency_stop: true,
                ..Controls::default()
            },
            Self::LetGo => Controls::default(),
            Self::Isolate => Controls {
                isolated: true,
                ..Controls::default()
            },
            Self::Lower => Controls::held([Button::LiftBothDown]),
            Self::HoldWithLoader => Controls {
                isolated: true,
                ..say(Call::Hold)
            },
            Self::CallOut => Controls {
                held: [Button::Horn].into_iter().collect(),
                ..say(Call::Clear)
            },
        }
    }
}

/// Gives the controls of a run as they were, but for one change from a tick on.
pub(super) struct Player<'a> {
    log: &'a Log,
    change: Change,
    /// The tick of the run as it was in which the change begins.
    from: u64,
    /// How many ticks it is behind the run as it was.
    behind: u64,
    /// The change has begun; it has done its part.
    begun: bool,
    over: bool,
    still: u32,
    expert: Option<Worker>,
}

impl<'a> Player<'a> {
    pub fn new(log: &'a Log, change: Change, from: u64) -> Self {
        Self {
            log,
            change,
            from,
            behind: 0,
            begun: false,
            over: false,
            still: 0,
            expert: None,
        }
    }

    fn is_rescue(&self) -> bool {
        matches!(self.change, Change::Rescue(_))
    }

    pub fn behind(&self) -> u64 {
        self.behind
    }

    /// The controls of the next tick. What the instructor brought about comes when it came, whatever the
    /// operator does otherwise.
    pub fn controls(&mut self, line: &Line) -> Controls {
        let upset = self.log.controls_at(line.tick_count() + 1).upset;
        Controls {
            upset,
            ..self.operated(line)
        }
    }

    fn operated(&mut self, line: &Line) -> Controls {
        let tick = line.tick_count() + 1 - self.behind;
        let recorded = self.log.controls_at(tick);
        if tick < self.from || self.over {
            return recorded;
        }
        let first = !self.begun;
        self.begun = true;
        match &self.change {
            Change::Nothing => recorded,
            Change::NotPressed(button) => {
                let button = *button;
                self.over = !recorded.has(button);
                Controls {
                    held: recorded
                        .held
                        .iter()
                        .filter(|held| *held != button)
                        .collect(),
                    ..recorded
                }
            }
            Change::NotSaid => {
                self.over = recorded.call.is_none();
                Controls {
                    call: None,
                    ..recorded
                }
            }
            Change::BothLifts => {
                let both = |button| match button {
                    Button::LiftNearUp | Button::LiftFarUp => Button::LiftBothUp,
                    Button::LiftNearDown | Button::LiftFarDown => Button::LiftBothDown,
                    other => other,
                };
                Controls {
                    held: recorded.held.iter().map(both).collect(),
                    ..recorded
                }
            }
            Change::WaitFor(condition) => {
                let condition = *condition;
                if self.holds(condition, line) || self.behind > WAIT_MOST_TICKS {
                    self.over = true;
                    return recorded;
                }
                self.behind += 1;
                waiting(condition, line, first)
            }
            Change::HoldFeed => {
                if !line.is_any_over_gate() || self.behind > WAIT_MOST_TICKS {
                    self.over = true;
                    return recorded;
                }
                self.behind += 1;
                Controls::held([Button::Feed])
            }
            Change::HeedStops => {
                if !line.people().spotter_says_stop() || self.behind > WAIT_MOST_TICKS {
                    return recorded;
                }
                self.behind += 1;
                Controls {
                    isolated: true,
                    ..Controls::default()
                }
            }
            Change::TakeOver => self
                .expert
                .get_or_insert_with(|| Worker::taking_over(line))
                .controls(line),
            Change::Rescue(rescue) => rescue.controls(first),
        }
    }

    fn holds(&mut self, condition: Condition, line: &Line) -> bool {
        let still = match condition {
            Condition::ReceiverReady => return line.receiver_is_up() && line.receiver_is_empty(),
            Condition::PeopleOut => {
                return line.watch().is_none_or(|watch| watch.nobody_inside());
            }
            Condition::Chocked => return line.chocks().are_set(),
            Condition::RowStill => line.present().all(|stick| is_slow(line, stick)),
            Condition::StickStill => line
                .present()
                .filter(|&stick| line.place(stick) == StickPlace::Received)
                .all(|stick| is_slow(line, stick)),
        };
        self.still = if still { self.still + 1 } else { 0 };
        self.still >= STILL_TICKS
    }
}

fn is_slow(line: &Line, stick: StickId) -> bool {
    line.speed_m_per_s(stick) < STILL_M_PER_S
}

/// What is done while something is waited for.
fn waiting(condition: Condition, line: &Line, first: bool) -> Controls {
    let say = |call| Controls {
        call: first.then_some(call),
        ..Controls::default()
    };
    match condition {
        Condition::ReceiverReady if !line.receiver_is_up() => Controls::held([Button::ReceiverUp]),
        Condition::PeopleOut => Controls {
            isolated: true,
            held: [Button::Horn].into_iter().collect(),
            ..say(Call::Clear)
        },
        Condition::Chocked => Controls {
            isolated: true,
            ..say(Call::Chock)
        },
        _ => Controls::default(),
    }
}

/// A run that can be run again.
pub struct Rerun<'a> {
    pub scenario: &'a Scenario,
    /// The line as it was run.
    pub line: &'a LineSpec,
    pub log: &'a Log,
    pub kept: &'a Kept,
}

impl Rerun<'_> {
    /// The line as it stood before a tick was made.
    pub fn before(&self, tick: u64) -> Line {
        let kept = self.kept.before(tick);
        let mut line = kept.map_or_else(|| Line::build(self.line), Line::fork);
        self.walk(&mut line, tick);
        line
    }

    /// Takes a line on, under the controls as they were, to before a tick.
    pub fn walk(&self, line: &mut Line, tick: u64) {
        while line.tick_count() + 1 < tick && line.fault().is_none() {
            line.tick(&self.log.controls_at(line.tick_count() + 1));
        }
    }

    /// The line and its log as they stood after a tick, bit for bit, to go on from there otherwise.
    pub fn back_to(&self, tick: u64) -> (Line, Logger) {
        let kept = self.kept.marked_before(tick + 1);
        let mut line = kept.map_or_else(|| Line::build(self.line), |(line, _)| line.fork());
        let mark = kept.map(|(_, mark)| mark);
        let mut logger = Logger::back_to(self.log, line.tick_count(), mark);
        while line.tick_count() < tick && line.fault().is_none() {
            let controls = self.log.controls_at(line.tick_count() + 1);
            line.tick(&controls);
            logger.observe(&line, &controls);
        }
        (line, logger)
    }

    /// Whether a kind of finding comes, beyond those before the change, in a run with a change, up to
    /// a tick of the run as it was; none where that takes more ticks than `most`.
    pub(super) fn comes(
        &self,
        mut line: Line,
        mut player: Player,
        kind: FindingKind,
        until: u64,
        most: u64,
    ) -> Option<bool> {
        let mut logger = Logger::resume(self.log, &line);
        let spec = line.rig().spec().clone();
        let begun = line.tick_count();
        let count = |logger: &Logger| {
            let found = super::rules::findings(&Case::new(self.scenario, &spec, logger.log()));
            found.iter().filter(|finding| finding.kind == kind).count()
        };
        let before = count(&logger);
        // Where a rescue has brought everything to rest nothing more comes of pipe.
        let rests = player.is_rescue() && !about_people(kind);
        let mut at_rest = 0;
        let (mut made, mut known) = (0, logger.log().events.len());
        while line.tick_count() < until + player.behind() {
            if made >= most || line.fault().is_some() {
                return None;
            }
            let controls = player.controls(&line);
            line.tick(&controls);
            logger.observe(&line, &controls);
            made += 1;
            at_rest = if rests && line.is_at_rest() {
                at_rest + 1
            } else {
                0
            };
            if at_rest > REST_TICKS {
                break;
            }
            // Most kinds follow from an event; the rest are looked for once a second.
            let events = logger.log().events.len();
            let due = events != known || (line.tick_count() - begun).is_multiple_of(240);
            known = events;
            if due && count(&logger) > before {
                return Some(true);
            }
        }
        logger.close(&line);
        Some(count(&logger) > before)
    }
}
