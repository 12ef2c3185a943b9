//! The story of a run that went wrong, as the judge found it: the act, the moment after which nothing
//! would have helped, the outcome. Then the question what one would have done, and its answer.
//!
//! Nothing here is made up: acts, choices and last chances come from running the line again.

mod question;
mod right;

pub use question::{Answer, Choice, Question};
pub use right::{NearMiss, Reflection};

use crate::domain::finding::{FindingKind, Severity};
use crate::domain::rig::End;
use crate::judge::{Act, Deed, Finding, Inquiry, Part, Rerun, Verdict, explain, time_s};
use crate::session::coach::Pointed;
use crate::sim::controls::{Button, Call};
use crate::sim::line::{Line, State};
use crate::texts::Message;

/// A stick slower than this has come to rest, m/s.
const RESTS_M_PER_S: f64 = 0.02;

/// From where a beat is best seen.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Camera {
    Operator,
    Orbit,
    Plan,
    /// Along the line.
    Line,
    Stick,
}

impl Camera {
    /// Its name.
    pub fn name(self) -> &'static str {
        match self {
            Self::Operator => "operator",
            Self::Orbit => "orbit",
            Self::Plan => "plan",
            Self::Line => "line",
            Self::Stick => "stick",
        }
    }
}

/// One moment of the story.
#[derive(Clone, Debug, PartialEq)]
pub struct Beat {
    pub tick: u64,
    pub captions: Vec<Message>,
    pub subject: Option<Pointed>,
    pub camera: Camera,
}

/// See the module's text.
#[derive(Clone, Debug, PartialEq)]
pub struct Story {
    /// Which of the findings it tells.
    pub finding: usize,
    pub sentence: Message,
    pub act: Beat,
    /// The latest moment at which a rescue would have helped; without one, where it was looked for.
    pub point: Beat,
    pub outcome: Beat,
    /// What was found by running it again.
    pub inquiry: Inquiry,
    told: Finding,
    told_act: Act,
}

impl Story {
    /// The story of the gravest finding of a run; none where nothing grave was found. What is not
    /// among the inquiries is inquired into now.
    pub fn of(rerun: &Rerun, verdict: &Verdict, inquiries: &[(usize, Inquiry)]) -> Option<Self> {
        let (at, finding) = gravest(&verdict.findings)?;
        let known = inquiries.iter().find(|(of, _)| *of == at);
        let inquiry = known.map_or_else(|| rerun.inquire(finding), |(_, inquiry)| inquiry.clone());
        let act = told_act(finding, &inquiry);
        Some(Self {
            finding: at,
            sentence: Message::new("story-sentence")
                .with("title", explain(finding.kind).title)
                .with("fact", finding.fact.clone()),
            act: act_beat(&act, &inquiry),
            point: point_beat(&act, finding, &inquiry),
            outcome: Beat {
                tick: finding.tick,
                captions: vec![
                    Message::new("story-outcome")
                        .measured("time", time_s(finding.tick), 1)
                        .with("fact", finding.fact.clone()),
                    explain(finding.kind).why,
                ],
                subject: subject_of(finding),
                camera: outcome_camera(finding.kind),
            },
            inquiry,
            told: finding.clone(),
            told_act: act,
        })
    }

    /// The finding that it tells.
    pub fn told(&self) -> &Finding {
        &self.told
    }

    /// The three beats in the order in which they are shown.
    pub fn beats(&self) -> [&Beat; 3] {
        [&self.act, &self.point, &self.outcome]
    }
}

/// The gravest finding: by severity, then by kind (a person before pipe), then the first.
pub fn gravest(findings: &[Finding]) -> Option<(usize, &Finding)> {
    let grave = findings
        .iter()
        .enumerate()
        .filter(|(_, finding)| finding.kind.severity() > Severity::Minor);
    grave.min_by_key(|(_, finding)| {
        let severity = core::cmp::Reverse(finding.kind.severity());
        (severity, finding.kind, finding.tick)
    })
}

/// The act that is told: one without which it would not have come, the one that the rule names if it is
/// among them; else that one all the same.
fn told_act(finding: &Finding, inquiry: &Inquiry) -> Act {
    let causes = &inquiry.causes;
    let named = causes.iter().find(|cause| **cause == finding.act);
    *named.or(causes.last()).unwrap_or(&finding.act)
}

fn act_beat(act: &Act, inquiry: &Inquiry) -> Beat {
    let said = if act.tick == 0 {
        Message::new("story-act-before")
    } else {
        Message::new("story-act").measured("time", time_s(act.tick), 1)
    };
    let ground = if inquiry.causes.contains(act) {
        "story-act-caused"
    } else {
        "story-act-named"
    };
    Beat {
        tick: act.tick,
        captions: vec![said.with("act", act.said()), ground.into()],
        subject: subject_of_deed(act.deed),
        camera: act_camera(act.deed),
    }
}

fn point_beat(act: &Act, finding: &Finding, inquiry: &Inquiry) -> Beat {
    let subject = subject_of(finding);
    let camera = match subject {
        Some(Pointed::Person(_)) => Camera::Plan,
        Some(Pointed::Stick(_)) => Camera::Stick,
        _ => Camera::Orbit,
    };
    let (tick, caption) = match inquiry.last_chance {
        Some(chance) => (
            chance.tick,
            Message::new("story-point")
                .measured("time", time_s(chance.tick), 1)
                .measured(
                    "before",
                    time_s(finding.tick.saturating_sub(chance.tick)),
                    1,
                )
                .with("rescue", chance.rescue.said()),
        ),
        None => (
            act.tick,
            Message::new("story-no-point").measured("window", inquiry.window_s, 0),
        ),
    };
    Beat {
        tick,
        captions: vec![caption],
        subject,
        camera,
    }
}

/// Whom or what a finding is about.
fn subject_of(finding: &Finding) -> Option<Pointed> {
    let person = finding.person.map(Pointed::Person);
    person
        .or(finding.stick.map(Pointed::Stick))
        .or(subject_of_deed(finding.act.deed))
}

/// What an act was done to.
fn subject_of_deed(deed: Deed) -> Option<Pointed> {
    Some(match deed {
        Deed::Pressed(button) => subject_of_button(button),
        Deed::LetGo => Pointed::Escapement(End::Near),
        Deed::Called(call) => match call {
            Call::Load | Call::Hold | Call::Release => Pointed::Loader,
            Call::Chock | Call::Unchock => Pointed::Chock(End::Near),
            Call::Clamp | Call::Unclamp => Pointed::Jaws,
            Call::Repair(item) => Pointed::Item(item),
            Call::Clear | Call::BarFromEnd(_) | Call::BarFromBelow => Pointed::Station,
        },
        Deed::LeftFault(item) => Pointed::Item(item),
        Deed::LeftAsFound(part) => match part {
            Part::Pitch | Part::Load => Pointed::Rail(End::Near),
            Part::SizeSetting | Part::Pins => Pointed::Escapement(End::Near),
            Part::Zone => Pointed::Cones,
            Part::Pads => Pointed::Jack(End::Near),
            Part::Interlock => Pointed::Receiver,
            Part::Machine => Pointed::Machine,
        },
        Deed::NotCleared => Pointed::Cones,
        Deed::NotChocked => Pointed::Chock(End::Near),
        Deed::NotIsolated | Deed::NoHorn | Deed::Tarried => Pointed::Station,
    })
}

fn subject_of_button(button: Button) -> Pointed {
    match button {
        Button::Feed => Pointed::Escapement(End::Near),
        Button::ReceiverUp | Button::ReceiverDown => Pointed::Receiver,
        Button::LiftNearUp
        | Button::LiftNearDown
        | Button::LiftBothUp
        | Button::LiftBothDown
        | Button::ShiftNearIn
        | Button::ShiftNearOut
        | Button::AdvanceOn
        | Button::AdvanceBack => Pointed::Cradle(End::Near),
        Button::LiftFarUp
        | Button::LiftFarDown
        | Button::ShiftFarIn
        | Button::ShiftFarOut
        | Button::TurnIn
        | Button::TurnOut => Pointed::Cradle(End::Far),
        Button::Horn => Pointed::Station,
        Button::JackNearUp | Button::JackNearDown => Pointed::Jack(End::Near),
        Button::JackFarUp | Button::JackFarDown => Pointed::Jack(End::Far),
    }
}

fn act_camera(deed: Deed) -> Camera {
    match deed {
        Deed::LeftAsFound(Part::Zone) | Deed::NotCleared | Deed::NotIsolated => Camera::Plan,
        Deed::LeftAsFound(_) | Deed::LeftFault(_) => Camera::Orbit,
        _ => Camera::Operator,
    }
}

/// Somebody who is hurt is shown from far above.
fn outcome_camera(kind: FindingKind) -> Camera {
    use FindingKind as K;
    match kind {
        K::Struck | K::UnderStick | K::InZone | K::StopUnheeded | K::ZoneInadequate => Camera::Plan,
        K::HighLow | K::GapOff | K::LongAxisOff | K::JointRushed => Camera::Stick,
        K::HardSeat | K::LetGoEarly => Camera::Line,
        _ => Camera::Orbit,
    }
}

/// Whether pipe still moves or somebody is on the way out: until then the world goes on.
pub fn still_moving(line: &Line) -> bool {
    let rolls = line
        .present()
        .any(|stick| line.speed_m_per_s(stick) > RESTS_M_PER_S);
    let mut people = line.people().iter();
    rolls || people.any(|person| person.state() == State::Clearing)
}
