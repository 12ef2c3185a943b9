//! After the run: the scene at the left, what was found at the right, time and curves across the
//! bottom. Dragging the time moves everything.

use bevy_egui::egui::{CornerRadius, Frame, Panel, Rect, Ui, pos2, vec2};

use super::parts::{self, Press, say};
pub use super::plots::Curve;
pub use super::timeline::Moment;
use super::{plots, timeline::Track};
use crate::texts::{Message, Texts};
use crate::view::icons::{Icon, Mark};
use crate::view::theme::{self, gap};

#[derive(Clone, Debug, Default, PartialEq)]
pub struct Model {
    pub exercise: String,
    /// Passed, failed and why; nothing where it was not scored.
    pub verdict: Option<(Mark, String)>,
    pub findings: Vec<Finding>,
    /// How near it came: leading indicators, a line each.
    pub leading: Vec<String>,
    pub moments: Vec<Moment>,
    pub curves: Vec<Curve>,
    pub length_s: f64,
    pub now_s: f64,
    pub is_playing: bool,
    /// Whether the run can be taken over from a moment.
    pub may_take_over: bool,
    /// Where the report has been saved.
    pub saved: Option<String>,
    /// Whether there is a story to be told again.
    pub has_story: bool,
    /// It was begun at the trainer's screen, and leads back there.
    pub for_trainer: bool,
}

/// A line of the score.
#[derive(Clone, Debug, PartialEq)]
pub struct Finding {
    pub mark: Mark,
    pub title: String,
    pub severity: String,
    pub points: f64,
    pub time_s: f64,
    /// Act, what came of it, why it matters, the right act, causes, the last chance: as the judge says
    /// them, a paragraph each.
    pub lines: Vec<String>,
}

#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct State {
    /// The finding that is open.
    pub open: Option<usize>,
}

#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Action {
    Seek(f64),
    Play(bool),
    /// Try again from the moment that is shown.
    TakeOver(f64),
    SaveReport,
    Story,
    Leave,
}

/// Where things are.
struct Areas {
    scene: Rect,
    findings: Rect,
    time: Rect,
}

fn areas(ui: &Ui) -> Areas {
    let window = ui.max_rect();
    let em = theme::em(ui);
    let side = (28.0 * em).min(0.42 * window.width());
    let low = (19.0 * em).min(0.42 * window.height());
    let corner = pos2(window.right() - side, window.bottom() - low);
    Areas {
        scene: Rect::from_min_max(window.min, corner),
        findings: Rect::from_min_max(pos2(corner.x, window.top()), window.max),
        time: Rect::from_min_max(
            pos2(window.left(), corner.y),
            pos2(corner.x, window.bottom()),
        ),
    }
}

/// What is left of the window for the scene.
pub fn scene(ui: &Ui) -> Rect {
    areas(ui).scene
}

pub fn show(ui: &mut Ui, texts: &Texts, model: &Model, state: &mut State) -> Option<Action> {
    let areas = areas(ui);
    let em = theme::em(ui);
    let edge = parts::inside(ui.max_rect());
    let palette = theme::palette(ui);
    for rect in [areas.findings, areas.time] {
        ui.painter()
            .rect_filled(rect, CornerRadius::ZERO, palette.over_scene());
    }
    let pad = gap::MEDIUM * em;
    let findings = Rect::from_min_max(
        pos2(areas.findings.left() + pad, edge.top()),
        pos2(
            edge.right().max(areas.findings.left() + 2.0 * pad),
            edge.bottom(),
        ),
    );
    let time = Rect::from_min_max(
        pos2(edge.left(), areas.time.top() + gap::SMALL * em),
        pos2(areas.time.right(), edge.bottom()),
    );
    let found = parts::within(ui, "findings", findings, |ui| {
        found(ui, texts, model, state)
    });
    let moved = parts::within(ui, "time", time, |ui| time_part(ui, texts, model));
    let left = parts::escaped(ui).then_some(Action::Leave);
    found.or(moved).or(left)
}

fn found(ui: &mut Ui, texts: &Texts, model: &Model, state: &mut State) -> Option<Action> {
    parts::heading(ui, &model.exercise);
    if let Some((mark, verdict)) = &model.verdict {
        parts::sign(ui, *mark, verdict);
    }
    let has_room = ui.available_height() > 30.0 * theme::em(ui);
    let left = has_room.then(|| {
        Panel::bottom("ways")
            .frame(Frame::new())
            .show(ui, |ui| {
                parts::space(ui, gap::SMALL);
                ways(ui, texts, model)
            })
            .inner
    });
    let jumped = parts::scroll(ui, "findings", true, |ui| {
        let jumped = lines(ui, texts, model, state);
        if has_room {
            return jumped;
        }
        parts::space(ui, gap::MEDIUM);
        jumped.or(ways(ui, texts, model))
    });
    left.flatten().or(jumped)
}

/// The score line by line, and how near it came.
fn lines(ui: &mut Ui, texts: &Texts, model: &Model, state: &mut State) -> Option<Action> {
    let mut jumped = None;
    if model.findings.is_empty() && model.verdict.is_some() {
        parts::sign(ui, Mark::Ok, &say(texts, "paper-no-findings"));
    }
    for (i, finding) in model.findings.iter().enumerate() {
        let line = Message::new("debrief-finding")
            .with("severity", parts::sentence(&finding.severity))
            .measured("points", finding.points, 0)
            .with("time", parts::clock(finding.time_s));
        let line = texts.say(&line);
        let is_open = state.open == Some(i);
        let press = Press::new(&finding.title)
            .mark(finding.mark, &line)
            .selected(is_open)
            .fill()
            .show(ui);
        if i == 0 {
            parts::home(ui, &press);
        }
        if press.clicked() {
            state.open = if is_open { None } else { Some(i) };
            jumped = Some(Action::Seek(finding.time_s));
        }
        if is_open {
            ui.push_id(i, |ui| {
                parts::raised(ui, |ui| {
                    for line in &finding.lines {
                        parts::body(ui, line);
                    }
                });
            });
        }
    }
    if !model.leading.is_empty() {
        parts::space(ui, gap::SMALL);
        parts::subheading(ui, &say(texts, "leading-heading"));
        for line in &model.leading {
            parts::body(ui, line);
        }
    }
    jumped
}

fn ways(ui: &mut Ui, texts: &Texts, model: &Model) -> Option<Action> {
    let mut action = None;
    let text = Message::new("debrief-again").with("time", parts::clock(model.now_s));
    let again = texts.say(&text);
    if model.may_take_over {
        let press = Press::new(&again)
            .icon(Icon::Rewind)
            .primary()
            .fill()
            .show(ui);
        if press.clicked() {
            action = Some(Action::TakeOver(model.now_s));
        }
    }
    let leads = match model.for_trainer {
        true => "debrief-trainer",
        false => "debrief-exercises",
    };
    let [story, save, leave] = ["debrief-story", "debrief-save", leads].map(|id| say(texts, id));
    parts::row(ui, |ui| {
        if model.has_story && parts::button(ui, &story).clicked() {
            action = Some(Action::Story);
        }
        if parts::button(ui, &save).clicked() {
            action = Some(Action::SaveReport);
        }
        if Press::new(&leave).icon(Icon::Left).show(ui).clicked() {
            action = Some(Action::Leave);
        }
    });
    if let Some(saved) = &model.saved {
        let text = Message::new("debrief-saved").with("file", saved.as_str());
        parts::sign(ui, Mark::Ok, &texts.say(&text));
    }
    action
}

fn time_part(ui: &mut Ui, texts: &Texts, model: &Model) -> Option<Action> {
    let axis = plots::axis_px(ui);
    let (id, icon) = if model.is_playing {
        ("debrief-pause", Icon::Pause)
    } else {
        ("debrief-play", Icon::Play)
    };
    let name = say(texts, id);
    let em = theme::em(ui);
    let whole = ui.available_rect_before_wrap();
    let margin = parts::SCROLL_MARGIN;
    let bar = ui.spacing().scroll.allocated_width();
    // The button stands in the room that the plots need for their numbers.
    let button = Rect::from_min_size(whole.min, vec2(axis - 0.4 * em, 2.4 * em));
    let play = parts::within(ui, "play", button, |ui| {
        Press::new(&name).only_icon(icon).show(ui).clicked()
    });
    let line = Rect::from_min_max(
        pos2(whole.left() + margin + axis, whole.top()),
        pos2(whole.right() - bar - margin, whole.top() + 3.2 * em),
    );
    let title = say(texts, "debrief-time");
    let sought = parts::within(ui, "line", line, |ui| {
        Track {
            name: &title,
            from_s: 0.0,
            to_s: model.length_s,
            now_s: model.now_s,
            moments: &model.moments,
        }
        .show(ui)
    });
    let pointed = parts::scroll(ui, "curves", false, |ui| {
        let mut pointed = None;
        for curve in &model.curves {
            let one = plots::show(ui, texts, curve, model.length_s, model.now_s);
            pointed = pointed.or(one);
        }
        pointed
    });
    let play = play.then_some(Action::Play(!model.is_playing));
    play.or(sought.or(pointed).map(Action::Seek))
}
