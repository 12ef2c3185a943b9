//! The answer sheet: as text for a terminal, and as one HTML page that holds everything.

use std::fmt::Write;

use super::answer::{Answer, Curve};
use super::chart::{Chart, against};
use super::estimate::Estimate;
use super::file::{Event, Measure, Sweep};
use super::sobol::Share;
use super::table::Table;
use crate::domain::limits;
use crate::domain::math::deg;
use crate::domain::rig::End;
use crate::html::{self, Markup, Page, PreEscaped, html};
use crate::texts::{Message, Texts};

/// A piece of the sheet.
struct Section {
    heading: String,
    lines: Vec<String>,
    /// The first row is its head.
    table: Vec<Vec<String>>,
    /// As they are, such as a command line.
    verbatim: Vec<String>,
}

impl Section {
    fn new(texts: &Texts, heading: &'static str) -> Self {
        Self {
            heading: texts.say(&heading.into()),
            lines: Vec::new(),
            table: Vec::new(),
            verbatim: Vec::new(),
        }
    }

    /// One of a set-up.
    fn of(curve: &Curve, texts: &Texts, heading: &'static str) -> Self {
        let section = Self::new(texts, heading);
        Self {
            heading: curve.headed(&section.heading),
            ..section
        }
    }
}

/// The sheet for a terminal.
pub fn text(sweep: &Sweep, table: &Table, answer: &Answer, texts: &Texts) -> String {
    let mut page = format!("{}\n", sweep.name);
    for line in opening(sweep, texts) {
        let _ = writeln!(page, "{line}");
    }
    for section in sections(sweep, table, answer, texts) {
        let _ = writeln!(page, "\n{}", section.heading);
        for line in &section.lines {
            let _ = writeln!(page, "  {line}");
        }
        page += &columns(&section.table);
        for line in &section.verbatim {
            let _ = writeln!(page, "    {line}");
        }
    }
    page
}

fn columns(table: &[Vec<String>]) -> String {
    let count = table.iter().map(Vec::len).max().unwrap_or(0);
    let width = |column: usize| {
        let cells = table.iter().filter_map(|row| row.get(column));
        cells.map(|cell| cell.chars().count()).max().unwrap_or(0)
    };
    let widths: Vec<usize> = (0..count).map(width).collect();
    let mut page = String::new();
    for row in table {
        page.push_str("    ");
        for (i, (cell, width)) in row.iter().zip(&widths).enumerate() {
            let _ = if i == 0 {
                write!(page, "{cell:<width$}")
            } else {
                write!(page, "  {cell:>width$}")
            };
        }
        page.truncate(page.trim_end().len());
        page.push('\n');
    }
    page
}

/// The sheet as a page with its charts.
///
/// # Errors
/// Where a chart cannot be drawn.
pub fn page(
    sweep: &Sweep,
    table: &Table,
    answer: &Answer,
    charts: &[Chart],
    texts: &Texts,
) -> Result<String, Message> {
    let opening = opening(sweep, texts);
    let mut sections = sections(sweep, table, answer, texts).into_iter();
    let first = sections.next();
    let charts = charts
        .iter()
        .map(|chart| {
            let svg = chart.svg()?;
            // Inside a page a picture has no prologue.
            let at = svg.find("<svg").unwrap_or_default();
            Ok(PreEscaped(svg.get(at..).unwrap_or_default().to_owned()))
        })
        .collect::<Result<Vec<Markup>, Message>>()?;
    let body = html! {
        h1 { (sweep.name) }
        @for (i, line) in opening.iter().enumerate() {
            p.caution[i == 0] { (line) }
        }
        @if let Some(first) = &first { (part(first)) }
        @for chart in &charts { figure { (chart) } }
        @for section in sections { (part(&section)) }
    };
    let page = Page {
        lang: texts.lang(),
        title: &sweep.name,
        kind: "sheet",
        sheet: None,
        body,
    };
    Ok(page.text())
}

fn part(section: &Section) -> Markup {
    html! {
        h2 { (section.heading) }
        @for line in &section.lines { p { (line) } }
        @if !section.table.is_empty() { (html::table(&section.table)) }
        @if !section.verbatim.is_empty() { pre { (section.verbatim.join("\n")) } }
    }
}

/// The caution comes first, on every sheet.
fn opening(sweep: &Sweep, texts: &Texts) -> Vec<String> {
    let trade = Message::new("lab-only-narrows")
        .measured("low", deg(limits::PITCH_MIN.value), 0)
        .measured("high", deg(limits::PITCH_MAX.value), 0)
        .measured("never", deg(limits::PITCH_NEVER_ABOVE.value), 0);
    let mut lines = vec![texts.say(&"caution".into()), texts.say(&trade)];
    if !sweep.about.is_empty() {
        lines.push(sweep.about.split_whitespace().collect::<Vec<_>>().join(" "));
    }
    lines
}

fn sections(sweep: &Sweep, table: &Table, answer: &Answer, texts: &Texts) -> Vec<Section> {
    let mut sections = vec![windows(sweep, answer, texts)];
    for curve in &answer.curves {
        sections.push(readings(sweep, curve, texts));
    }
    sections.extend(estimates(sweep, texts));
    let varied = answer
        .curves
        .iter()
        .filter(|curve| !curve.sensitivities.is_empty());
    sections.extend(varied.map(|curve| sensitivities(curve, texts)));
    let laid_out = answer
        .curves
        .iter()
        .filter(|curve| !curve.indices.is_empty());
    sections.extend(laid_out.map(|curve| indices(sweep, curve, texts)));
    if !answer.comparisons.is_empty() {
        sections.push(comparisons(answer, texts));
    }
    sections.push(assumptions(sweep, answer, texts));
    sections.push(reproduce(sweep, table, texts));
    sections
}

fn percent(share: f64) -> String {
    format!("{:.1}", 100.0 * share)
}

fn spans(spans: &[(f64, f64)], texts: &Texts) -> String {
    if spans.is_empty() {
        return texts.say(&"lab-none".into());
    }
    let each = spans.iter().map(|(from, to)| {
        let message = Message::new("range").with("min", *from).with("max", *to);
        texts.say(&message)
    });
    each.collect::<Vec<_>>().join("; ")
}

fn windows(sweep: &Sweep, answer: &Answer, texts: &Texts) -> Section {
    let mut section = Section::new(texts, "lab-head-answer");
    if sweep.limits.is_empty() {
        section.lines.push(texts.say(&"lab-no-limits".into()));
    }
    for limit in &sweep.limits {
        let message = Message::new("lab-limit")
            .with("event", limit.of.name())
            .with("below", percent(limit.below))
            .measured("confidence", 100.0 * sweep.confidence, 0);
        section.lines.push(texts.say(&message));
    }
    let cannot = sweep.cannot_show();
    section
        .lines
        .extend(cannot.iter().map(|message| texts.say(message)));
    if sweep.limits.is_empty() {
        return section;
    }
    let head = [
        "lab-set-up",
        "lab-window-shown",
        "lab-window-worst",
        "lab-window-narrowed",
    ];
    section
        .table
        .push(head.map(|head| texts.say(&Message::new(head))).to_vec());
    for curve in &answer.curves {
        let window = &curve.window;
        let optional = |range: &Option<Vec<(f64, f64)>>| match range {
            Some(range) => spans(range, texts),
            None => texts.say(&"lab-not-looked-at".into()),
        };
        section.table.push(vec![
            name(curve, texts),
            spans(&window.shown, texts),
            optional(&window.worst_case),
            optional(&window.narrowed),
        ]);
    }
    section
        .lines
        .push(texts.say(&Message::new("lab-against").with("path", against(sweep))));
    section
}

fn name(curve: &Curve, texts: &Texts) -> String {
    if curve.set_up.is_empty() {
        texts.say(&"lab-as-in-base".into())
    } else {
        curve.set_up.clone()
    }
}

fn readings(sweep: &Sweep, curve: &Curve, texts: &Texts) -> Section {
    let mut section = Section::of(curve, texts, "lab-head-readings");
    let mut head = vec![against(sweep), texts.say(&"lab-trials".into())];
    let events: Vec<Event> = curve
        .readings
        .first()
        .map(|reading| reading.events.iter().map(|event| event.event).collect())
        .unwrap_or_default();
    for event in &events {
        head.push(texts.say(&Message::new("lab-percent").with("event", event.name())));
        head.push(texts.say(&"lab-band".into()));
        head.push(texts.say(&"lab-upper".into()));
        head.push(texts.say(&"lab-worst".into()));
    }
    let measures: Vec<_> = Measure::numbers()
        .enumerate()
        .filter(|(_, m)| sweep.measures.contains(m))
        .collect();
    head.extend(
        measures
            .iter()
            .map(|(_, measure)| texts.say(&measure.name())),
    );
    section.table.push(head);
    for reading in &curve.readings {
        let mut row = vec![reading.value.to_string(), reading.trials.to_string()];
        for event in &reading.events {
            row.push(percent(event.share));
            row.push(format!(
                "{}-{}",
                percent(event.band.low),
                percent(event.band.high)
            ));
            row.push(percent(event.upper));
            row.push(event.worst.map_or_else(String::new, percent));
        }
        row.extend(measures.iter().map(|(i, _)| {
            let mean = reading.means.get(*i).copied().flatten();
            mean.map_or_else(String::new, |mean| format!("{mean:.2}"))
        }));
        section.table.push(row);
    }
    section
        .lines
        .push(texts.say(&"lab-readings-explained".into()));
    section
}

fn estimates(sweep: &Sweep, texts: &Texts) -> Option<Section> {
    let mut section = Section::new(texts, "lab-head-estimate");
    for (i, set_up) in sweep.set_ups.iter().enumerate() {
        let estimate = Estimate::of_sweep(sweep, i)?;
        if !set_up.name.is_empty() {
            section.lines.push(format!("{}:", set_up.name));
        }
        section
            .lines
            .extend(estimate.messages().iter().map(|message| texts.say(message)));
    }
    Some(section)
}

fn sensitivities(curve: &Curve, texts: &Texts) -> Section {
    let mut section = Section::of(curve, texts, "lab-head-sensitivity");
    section
        .lines
        .push(texts.say(&"lab-sensitivity-explained".into()));
    let head = [
        "lab-variable",
        "lab-correlation",
        "lab-event",
        "lab-low-third",
        "lab-high-third",
    ];
    section
        .table
        .push(head.map(|head| texts.say(&Message::new(head))).to_vec());
    for sensitivity in &curve.sensitivities {
        let correlation = match sensitivity.with_gate_energy {
            Some((value, band)) => format!("{value:+.2} ± {band:.2}"),
            None => texts.say(&"lab-none".into()),
        };
        if sensitivity.swings.is_empty() {
            section
                .table
                .push(vec![sensitivity.path.clone(), correlation.clone()]);
        }
        for swing in &sensitivity.swings {
            section.table.push(vec![
                sensitivity.path.clone(),
                correlation.clone(),
                texts.say(&swing.event.name()),
                percent(swing.low_third),
                percent(swing.high_third),
            ]);
        }
    }
    section
}

fn indices(sweep: &Sweep, curve: &Curve, texts: &Texts) -> Section {
    let mut section = Section::of(curve, texts, "lab-head-indices");
    section
        .lines
        .push(texts.say(&"lab-indices-explained".into()));
    let head = [
        "lab-variable",
        "lab-result",
        "lab-index-first",
        "lab-index-total",
    ];
    section
        .table
        .push(head.map(|head| texts.say(&Message::new(head))).to_vec());
    let mut factors: Vec<String> = sweep.variables.iter().map(|v| v.path.clone()).collect();
    factors.push(texts.say(&"lab-as-it-lies".into()));
    for indices in &curve.indices {
        let result = match indices.event {
            Some(event) => event.name(),
            None => Measure::GateEnergy.name(),
        };
        for (factor, index) in factors.iter().zip(&indices.factors) {
            let share = |share: Share| format!("{:.2} ± {:.2}", share.value, share.error);
            section.table.push(vec![
                factor.clone(),
                texts.say(&result),
                share(index.first),
                share(index.total),
            ]);
        }
    }
    section
}

fn comparisons(answer: &Answer, texts: &Texts) -> Section {
    let mut section = Section::new(texts, "lab-head-comparison");
    section
        .lines
        .push(texts.say(&"lab-comparison-explained".into()));
    let head = [
        "lab-first",
        "lab-second",
        "lab-event",
        "lab-both",
        "lab-first-alone",
        "lab-second-alone",
        "lab-neither",
        "lab-by-chance",
    ];
    section
        .table
        .push(head.map(|head| texts.say(&Message::new(head))).to_vec());
    for comparison in &answer.comparisons {
        let [first, second] = &comparison.set_ups;
        let pairs = comparison.pairs;
        let counts = [
            pairs.both,
            pairs.first_alone,
            pairs.second_alone,
            pairs.neither,
        ];
        let mut row = vec![
            first.clone(),
            second.clone(),
            texts.say(&comparison.event.name()),
        ];
        row.extend(counts.map(|count| count.to_string()));
        row.push(format!("{:.4}", comparison.by_chance));
        section.table.push(row);
    }
    section
}

fn assumptions(sweep: &Sweep, answer: &Answer, texts: &Texts) -> Section {
    let mut section = Section::new(texts, "lab-head-assumptions");
    let line = &sweep.base.loaded.scenario.line;
    let contact = &line.contact;
    let [near, far] = End::BOTH.map(|end| match end {
        End::Near => contact.friction(line.rack.near_rail.surface),
        End::Far => contact.friction(line.rack.far_rail.surface),
    });
    let base = Message::new("report-assumptions")
        .measured("near", near, 2)
        .measured("far", far, 2)
        .measured("pipe", contact.friction_pipe_on_pipe, 2)
        .measured("restitution", contact.restitution, 2)
        .measured("lever", 1e3 * contact.rolling_lever_arm_m, 1);
    section
        .lines
        .push(texts.say(&Message::new("lab-base-values").with("values", base)));
    for variable in &sweep.variables {
        let (low, high) = variable.within();
        let entry = if variable.unmeasured {
            "lab-variable-assumed"
        } else {
            "lab-variable-given"
        };
        let message = Message::new(entry)
            .with("path", variable.path.as_str())
            .with("spread", format!("{:?}", variable.spread))
            .with("low", low)
            .with("high", high);
        section.lines.push(texts.say(&message));
    }
    for entry in [
        "lab-assumes-feeder",
        "lab-assumes-counting",
        "lab-assumes-model",
    ] {
        section.lines.push(texts.say(&Message::new(entry)));
    }
    if sweep.releases_of_row() > 1 {
        let message = Message::new("lab-assumes-rows")
            .with("rows", sweep.rows() as usize)
            .with("releases", sweep.releases_of_row() as usize);
        section.lines.push(texts.say(&message));
    }
    if sweep.corners() > 0 {
        let message = Message::new("lab-assumes-corners")
            .with("corners", sweep.corners())
            .with("trials", sweep.budget.corner_trials as usize);
        section.lines.push(texts.say(&message));
    }
    if answer.failed > 0 {
        let message = Message::new("lab-failed")
            .with("failed", answer.failed)
            .with("trials", answer.trials);
        section.lines.push(texts.say(&message));
        section.verbatim.extend(answer.failures.iter().cloned());
    }
    section
}

fn reproduce(sweep: &Sweep, table: &Table, texts: &Texts) -> Section {
    let mut section = Section::new(texts, "lab-head-reproduce");
    let rows = table.rows.len();
    let message = Message::new("lab-reproduce")
        .with("rows", rows)
        .with("of", sweep.trials());
    section.lines.push(texts.say(&message));
    let lines = table.provenance.0.iter();
    section.verbatim = lines
        .map(|(name, text)| format!("{name}: {text}"))
        .collect();
    section
}
