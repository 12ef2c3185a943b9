//! The timeline and the plots below it, all on the same time axis.

use super::figure::{BELOW, LEFT, RIGHT, Scale, WIDTH, number, outline, path, picture, time_axis};
use crate::domain::finding::Severity;
use crate::html::{Markup, html};
use crate::judge::time_s;
use crate::session::debrief::{Debrief, MarkKind, Plot, PlotKind, Series};
use crate::texts::{Message, Texts};

/// Height of a plot and of a lane of the timeline.
const PLOT: f64 = 112.0;
const LANE: f64 = 54.0;
/// Room above a plot for the numbers of findings, and how far these are apart at least.
const ABOVE: f64 = 26.0;
const APART: f64 = 30.0;

/// The shape that stands for a severity: octagon, triangle, square.
pub fn shape(severity: Severity, x: f64, y: f64, radius: f64) -> Markup {
    let corners = match severity {
        Severity::Critical => 8,
        Severity::Major => 3,
        Severity::Minor => 4,
    };
    html! {
        path class=(format!("found {}", class(severity))) d=(outline(corners, x, y, radius)) {}
    }
}

/// Its style.
pub fn class(severity: Severity) -> &'static str {
    match severity {
        Severity::Critical => "critical",
        Severity::Major => "major",
        Severity::Minor => "minor",
    }
}

/// The sign of a severity by itself, for headings and legends.
pub fn sign(severity: Severity) -> Markup {
    html! {
        svg viewBox="0 0 20 20" width="14" height="14" aria-hidden="true" {
            (shape(severity, 10.0, 10.0, 8.5))
        }
    }
}

/// Everything that was done, that happened and that was found, along the time.
pub fn timeline(debrief: &Debrief, texts: &Texts) -> Markup {
    let duration_s = time_s(debrief.ticks);
    let scale = Scale::of_time(duration_s);
    let bottom = 3.0 * LANE;
    let lanes = [
        "paper-lane-acts",
        "paper-lane-events",
        "paper-lane-findings",
    ];
    let count = |of: fn(&MarkKind) -> bool| {
        let marks = debrief.marks.iter();
        marks.filter(|mark| of(&mark.kind)).count()
    };
    let shows = Message::new("paper-timeline-shows")
        .measured("time", duration_s, 1)
        .with("acts", count(|kind| *kind == MarkKind::Act))
        .with("events", count(|kind| *kind == MarkKind::Event))
        .with(
            "findings",
            count(|kind| matches!(kind, MarkKind::Finding(_))),
        );
    let drawn = html! {
        rect.ground x=(LEFT) y="0.5" width=(WIDTH - LEFT - RIGHT) height=(bottom) {}
        (time_axis(&scale, 0.5, bottom))
        @for (i, lane) in lanes.into_iter().enumerate() {
            @let top = i as f64 * LANE;
            path.grid d=(path([(LEFT, top), (WIDTH - RIGHT, top)])) {}
            text.weak.halo x=(LEFT + 5.0) y=(number(top + 21.0)) paint-order="stroke" { (texts.say(&lane.into())) }
        }
        @for mark in &debrief.marks {
            @let x = scale.at(time_s(mark.tick));
            @match mark.kind {
                MarkKind::Act => { path.act d=(path([(x, 27.0), (x, LANE - 4.0)])) {} }
                MarkKind::Event => {
                    circle.event cx=(number(x)) cy=(number(LANE + 40.0)) r="4.5" {}
                }
                MarkKind::Finding(severity) => {
                    (shape(severity, x, 2.0 * LANE + 40.0, 8.0))
                }
            }
        }
    };
    picture(bottom + BELOW, &texts.say(&shows), &drawn)
}

/// A plot, and what it shows in words. Findings are marked by the numbers that they have in the score.
pub fn plot(plot: &Plot, debrief: &Debrief, texts: &Texts) -> (Markup, String) {
    let time = Scale::of_time(time_s(debrief.ticks));
    let (low, high) = range(plot);
    let (top, bottom) = (ABOVE, ABOVE + PLOT);
    let values = Scale::new((low, high), (bottom, top));
    let (ticks, digits) = values.ticks(5.0);
    let drawn = html! {
        rect.ground x=(LEFT) y=(top) width=(WIDTH - LEFT - RIGHT) height=(PLOT) {}
        @for tick in ticks {
            @let y = values.at(tick);
            path.grid d=(path([(LEFT, y), (WIDTH - RIGHT, y)])) {}
            text x=(LEFT - 6.0) y=(number(y + 5.0)) text-anchor="end" {
                (format!("{tick:.digits$}"))
            }
        }
        (time_axis(&time, top, bottom))
        (moments(debrief, &time, top, bottom))
        @for limit in &plot.limits {
            @let y = values.at(limit.value);
            path.limit d=(path([(LEFT, y), (WIDTH - RIGHT, y)])) {}
            text.halo.spare x=(LEFT + 6.0) y=(number(y - 4.0)) paint-order="stroke" {
                (texts.say(&limit.name))
            }
        }
        @for (i, series) in plot.series.iter().enumerate() {
            @let class = if i == 0 { "first" } else { "second" };
            @for part in &series.parts {
                path class=(class) d=(curve(part, &time, &values)) {}
            }
        }
    };
    let said = said(plot, texts);
    let title = texts.say(&plot.title);
    let shows = format!("{title}. {said}");
    (picture(bottom + BELOW, &shows, &drawn), said)
}

/// Upright lines where something was found, with the number of the first at each place.
fn moments(debrief: &Debrief, time: &Scale, top: f64, bottom: f64) -> Markup {
    let mut numbers: Vec<(f64, usize)> = Vec::new();
    for (i, finding) in debrief.findings.iter().enumerate() {
        let x = time.at(time_s(finding.tick));
        if numbers.last().is_none_or(|(last, _)| x - last >= APART) {
            numbers.push((x, i + 1));
        }
    }
    html! {
        @for finding in &debrief.findings {
            @let x = time.at(time_s(finding.tick));
            path.moment d=(path([(x, top), (x, bottom)])) {}
        }
        @for (x, number_of) in numbers {
            text x=(number(x)) y=(number(top - 6.0)) text-anchor="middle" { (number_of) }
        }
    }
}

/// The values that a plot spans.
fn range(plot: &Plot) -> (f64, f64) {
    let points = plot.series.iter().flat_map(|series| series.parts.iter());
    let values = points.flatten().map(|(_, value)| *value);
    let all = values.chain(plot.limits.iter().map(|limit| limit.value));
    // What cannot be negative begins at nothing.
    let zero = (plot.kind != PlotKind::Pitch).then_some(0.0);
    let (mut low, mut high) = (f64::INFINITY, f64::NEG_INFINITY);
    for value in all.chain(zero) {
        low = low.min(value);
        high = high.max(value);
    }
    if low > high {
        return (0.0, 1.0);
    }
    let room = 0.12 * (high - low).max(0.1);
    let under = if low == 0.0 { 0.0 } else { room };
    (low - under, high + room)
}

/// A curve, without the points that lie between others of the same value.
fn curve(part: &[(f64, f64)], time: &Scale, values: &Scale) -> String {
    let mut places: Vec<(f64, f64)> = Vec::with_capacity(part.len());
    for &(time_s, value) in part {
        let place = (time.at(time_s), values.at(value));
        if let [.., before, last] = places.as_mut_slice() {
            let level = |y: f64| (y - place.1).abs() < 0.05;
            if level(before.1) && level(last.1) {
                *last = place;
                continue;
            }
        }
        places.push(place);
    }
    if let &[(x, y)] = places.as_slice() {
        // A single point is seen too.
        places.push((x + 1.0, y));
    }
    path(places)
}

/// What a plot shows, in words.
fn said(plot: &Plot, texts: &Texts) -> String {
    // Degrees stand close, everything else has a thin space before it.
    let unit = match plot.unit {
        "°" => "°".to_owned(),
        unit => format!("\u{202f}{unit}"),
    };
    let unit = unit.as_str();
    let series = plot.series.iter().map(|series| {
        let name = texts.say(&series.name);
        let Some((least, most)) = extremes(series) else {
            return Message::new("paper-series-none").with("name", name);
        };
        Message::new("paper-series")
            .with("name", name)
            .with("unit", unit)
            .measured("least", least.1, 2)
            .measured("least_at", least.0, 1)
            .measured("most", most.1, 2)
            .measured("most_at", most.0, 1)
    });
    let limits = plot.limits.iter().map(|limit| {
        Message::new("paper-limit")
            .with("name", limit.name.clone())
            .with("unit", unit)
            .measured("value", limit.value, 2)
    });
    let all: Vec<String> = series
        .chain(limits)
        .map(|message| texts.say(&message))
        .collect();
    all.join(" ")
}

/// Time and value of the least and of the greatest.
fn extremes(series: &Series) -> Option<((f64, f64), (f64, f64))> {
    let points = || series.parts.iter().flatten().copied();
    let by_value = |one: &(f64, f64), other: &(f64, f64)| one.1.total_cmp(&other.1);
    Some((points().min_by(by_value)?, points().max_by(by_value)?))
}
