//! What is told before a run: what there is to do, what the mode means, what is judged.

use bevy_egui::egui::{Frame, Panel, Ui};

use super::Picture;
use super::parts::{self, Press, say};
use crate::domain::finding::{FindingKind, Scoring, Severity};
use crate::judge::explain;
use crate::session::mode::Mode;
use crate::texts::{Message, Texts};
use crate::view::icons::{Icon, Mark};
use crate::view::theme::{self, gap};

#[derive(Clone, Debug, PartialEq)]
pub struct Model {
    pub exercise: String,
    pub mode: Mode,
    pub brief: String,
    /// What is to be done, as the score asks it.
    pub goal: String,
    /// What can go wrong; nothing where that is to be found out.
    pub hazards: Option<String>,
    /// What it is for, in a sentence.
    pub trains: String,
    /// What is known of pipe, rig and weather: name and value.
    pub facts: Vec<(String, String)>,
    /// Who works on the line.
    pub crew: Vec<String>,
    /// What loses points, the gravest first; nothing where nothing is scored.
    pub judged: Vec<Judged>,
    pub pass_mark: Option<f64>,
    /// The run ends here at the latest, s.
    pub time_limit_s: f64,
    pub trainee: String,
    pub seed: u64,
    /// Whether the line can be set out before pipe moves.
    pub set_out_open: bool,
    pub picture: Option<Picture>,
}

/// What costs as much.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Judged {
    pub mark: Mark,
    /// What it costs.
    pub costs: String,
    /// In the words of the findings.
    pub findings: Vec<String>,
}

impl Judged {
    /// All that is judged, where a run counts.
    pub fn all(scoring: &Scoring, texts: &Texts, counts: bool) -> Vec<Self> {
        const KINDS: [(Severity, Mark); 3] = [
            (Severity::Critical, Mark::Danger),
            (Severity::Major, Mark::Caution),
            (Severity::Minor, Mark::Note),
        ];
        let of = |(severity, mark): (Severity, Mark)| {
            let kinds = FindingKind::ALL
                .iter()
                .filter(|kind| kind.severity() == severity);
            let points = match severity {
                Severity::Critical => None,
                Severity::Major => Some(scoring.major_points),
                Severity::Minor => Some(scoring.minor_points),
            };
            let costs = points.map_or_else(
                || "brief-costs-critical".into(),
                |points| Message::new("brief-costs-points").measured("points", points, 0),
            );
            Self {
                mark,
                costs: texts.say(&costs),
                findings: kinds.map(|kind| texts.say(&explain(*kind).title)).collect(),
            }
        };
        KINDS.into_iter().filter(|_| counts).map(of).collect()
    }
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Action {
    Begin,
    Back,
}

pub fn show(ui: &mut Ui, texts: &Texts, model: &Model) -> Option<Action> {
    parts::screen(ui, |ui| {
        let title = Message::new("brief-title")
            .with("exercise", model.exercise.as_str())
            .with("mode", model.mode.said());
        let back = parts::header(ui, texts, &texts.say(&title)) || parts::escaped(ui);
        let begin = Panel::bottom("begin")
            .frame(Frame::new())
            .show(ui, |ui| {
                parts::space(ui, gap::SMALL);
                let text = say(
                    texts,
                    if model.set_out_open {
                        "brief-begin-set-out"
                    } else {
                        "brief-begin"
                    },
                );
                let press = Press::new(&text).icon(Icon::Play).primary().show(ui);
                parts::home(ui, &press);
                press.clicked()
            })
            .inner;
        let em = theme::em(ui);
        parts::scroll(ui, "brief", true, |ui| {
            if ui.available_width() > TWO_COLUMNS * em {
                ui.spacing_mut().item_spacing.x = gap::LARGE * em;
                ui.columns(2, |columns| {
                    if let [left, right] = columns {
                        task(left, texts, model);
                        judged(left, texts, model);
                        line(right, texts, model);
                    }
                });
            } else {
                task(ui, texts, model);
                line(ui, texts, model);
                judged(ui, texts, model);
            }
        });
        match (begin, back) {
            (true, _) => Some(Action::Begin),
            (_, true) => Some(Action::Back),
            _ => None,
        }
    })
}

/// Narrower than so many heights of the text, everything stands in one column.
const TWO_COLUMNS: f32 = 60.0;

/// What there is to do, and how.
fn task(ui: &mut Ui, texts: &Texts, model: &Model) {
    parts::body(ui, &model.brief);
    parts::space(ui, gap::SMALL);
    parts::sign(ui, Mark::Note, &model.goal);
    parts::space(ui, gap::MEDIUM);
    let means = texts.say(&model.mode.means());
    parts::told(ui, &texts.say(&model.mode.said()), &means);
    parts::told(ui, &say(texts, "exercises-trains"), &model.trains);
    if let Some(hazards) = &model.hazards {
        parts::subheading(ui, &say(texts, "exercises-hazards"));
        parts::sign(ui, Mark::Caution, hazards);
        parts::space(ui, gap::MEDIUM);
    }
}

/// The line as it is known, who works on it, and the rest.
fn line(ui: &mut Ui, texts: &Texts, model: &Model) {
    if let Some(picture) = model.picture {
        let most = PICTURE * theme::em(ui);
        parts::picture(ui, picture, &model.exercise, most);
        parts::space(ui, gap::SMALL);
    }
    parts::subheading(ui, &say(texts, "brief-line"));
    let limit = Message::new("brief-time-limit-is").with("time", parts::clock(model.time_limit_s));
    let rest = [
        ("brief-crew", model.crew.join(", ")),
        ("brief-time-limit", texts.say(&limit)),
        ("brief-seed", model.seed.to_string()),
        ("brief-trainee", model.trainee.clone()),
    ];
    let rest = rest.map(|(id, value)| (say(texts, id), value));
    parts::table(ui, model.facts.iter().chain(&rest));
    parts::space(ui, gap::MEDIUM);
}

/// What loses points, and how many are needed.
fn judged(ui: &mut Ui, texts: &Texts, model: &Model) {
    if model.judged.is_empty() {
        return;
    }
    parts::subheading(ui, &say(texts, "brief-judged"));
    if let Some(mark) = model.pass_mark {
        let text = Message::new("brief-pass-mark").measured("mark", mark, 0);
        parts::body(ui, &texts.say(&text));
    }
    for judged in &model.judged {
        parts::space(ui, gap::SMALL);
        parts::sign(ui, judged.mark, &judged.costs);
        parts::note(ui, &judged.findings.join(" · "));
    }
    parts::space(ui, gap::MEDIUM);
}

/// How high the yard's picture is at most, in heights of the text.
const PICTURE: f32 = 18.0;
