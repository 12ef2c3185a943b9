//! What is told before a run: what there is to do, what the mode means, what is judged.

use bevy_egui::egui::{Frame, Panel, Ui};

use super::Picture;
use super::parts::{self, Press, say};
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
    /// What loses points, in the words of the findings; nothing where nothing is scored.
    pub judged: Vec<String>,
    pub pass_mark: Option<f64>,
    /// The run ends here at the latest, s.
    pub time_limit_s: f64,
    pub trainee: String,
    pub seed: u64,
    /// Whether the line can be set out before pipe moves.
    pub set_out_open: bool,
    pub picture: Option<Picture>,
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
                ui.columns(2, |columns| {
                    if let [left, right] = columns {
                        left.set_max_width(left.available_width() - gap::LARGE * em);
                        task(left, texts, model);
                        stakes(right, texts, model);
                    }
                });
            } else {
                task(ui, texts, model);
                stakes(ui, texts, model);
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
    if let Some(picture) = model.picture {
        let most = 12.0 * theme::em(ui);
        parts::picture(ui, picture, &model.exercise, most);
    }
    parts::body(ui, &model.brief);
    parts::space(ui, gap::SMALL);
    parts::body(ui, &model.goal);
    parts::space(ui, gap::MEDIUM);
    let means = texts.say(&model.mode.means());
    parts::told(ui, &texts.say(&model.mode.said()), &means);
}

/// What can go wrong, what is judged, and the rest.
fn stakes(ui: &mut Ui, texts: &Texts, model: &Model) {
    if let Some(hazards) = &model.hazards {
        parts::subheading(ui, &say(texts, "exercises-hazards"));
        parts::sign(ui, Mark::Caution, hazards);
        parts::space(ui, gap::MEDIUM);
    }
    if !model.judged.is_empty() {
        parts::subheading(ui, &say(texts, "brief-judged"));
        if let Some(mark) = model.pass_mark {
            let text = Message::new("brief-pass-mark").measured("mark", mark, 0);
            parts::body(ui, &texts.say(&text));
        }
        for judged in &model.judged {
            parts::sign(ui, Mark::Note, judged);
        }
        parts::space(ui, gap::MEDIUM);
    }
    let limit = Message::new("brief-time-limit").with("time", parts::clock(model.time_limit_s));
    let seed = Message::new("brief-seed").with("seed", model.seed.to_string());
    parts::note(ui, &texts.say(&limit));
    parts::note(ui, &texts.say(&seed));
    if !model.trainee.is_empty() {
        let trainee = Message::new("brief-trainee").with("trainee", model.trainee.as_str());
        parts::note(ui, &texts.say(&trainee));
    }
}
