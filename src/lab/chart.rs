//! The charts of an answer, as SVG and as PNG.
//!
//! Every series has a colour of the Okabe-Ito palette, a mark of its own and a name beside it, so that
//! charts can be read without colours.

use std::sync::Once;

use plotters::coord::Shift;
use plotters::prelude::*;
use plotters::style::{FontStyle, register_font};

use super::answer::{Answer, Curve, PITCH, Sensitivity};
use super::estimate::Estimate;
use super::file::{Event, Measure, Sweep};
use super::table::Table;
use crate::domain::limits;
use crate::domain::math::deg;
use crate::scenario::{Holds, field};
use crate::texts::{Message, Texts};

/// A family of fonts, no entry of the catalogue.
const FONT: &str = concat!("sans", "-serif");
const SIZE: (u32, u32) = (900, 520);
/// Room for the names of series beside their curves.
const LEGEND: u32 = 210;
const INK: RGBColor = RGBColor(30, 34, 40);
/// Blue, vermilion, green. In grey they are much alike: marks, outlines and names tell them apart.
const COLOURS: [RGBColor; 3] = [
    RGBColor(0, 114, 178),
    RGBColor(213, 94, 0),
    RGBColor(0, 158, 115),
];
const SHADE: RGBColor = RGBColor(86, 180, 233);

/// A chart, ready to be drawn.
#[derive(Clone, Debug)]
pub struct Chart {
    /// Name of its files.
    pub name: String,
    title: String,
    kind: Kind,
}

#[derive(Clone, Debug)]
enum Kind {
    Probability(Probability),
    Bars(Bars),
    Plan(Plan),
}

/// Probability of events against a value.
#[derive(Clone, Debug)]
struct Probability {
    x_name: String,
    y_name: String,
    x: (f64, f64),
    series: Vec<Series>,
    /// Where every risk is shown to be within its limit.
    safe: Vec<(f64, f64)>,
    safe_name: String,
}

#[derive(Clone, Debug)]
struct Series {
    event: Event,
    name: String,
    /// Value, share, and its band.
    points: Vec<(f64, f64, f64, f64)>,
}

/// Bars from one value to another, row by row.
#[derive(Clone, Debug)]
struct Bars {
    x_name: String,
    x: (f64, f64),
    rows: Vec<Bar>,
    /// Upright lines across all rows.
    marks: Vec<f64>,
}

#[derive(Clone, Debug)]
struct Bar {
    name: String,
    tone: usize,
    /// Drawn as an outline: told from full ones without colours.
    is_open: bool,
    spans: Vec<(f64, f64)>,
}

/// The ground seen from above, with where lost sticks came to lie.
#[derive(Clone, Debug)]
struct Plan {
    x_name: String,
    z_name: String,
    half_length_m: f64,
    far_m: Vec<f64>,
    line_name: String,
}

/// All charts that a sweep's answer gives.
pub fn charts(sweep: &Sweep, table: &Table, answer: &Answer, texts: &Texts) -> Vec<Chart> {
    let mut charts = Vec::new();
    if sweep.against == PITCH && !sweep.limits.is_empty() {
        charts.push(windows(sweep, answer, texts));
    }
    for (i, curve) in answer.curves.iter().enumerate() {
        charts.push(probability(sweep, curve, i, texts));
    }
    for (i, curve) in answer.curves.iter().enumerate() {
        let each = Event::ALL.into_iter();
        charts.extend(each.filter_map(|event| tornado(curve, i, event, texts)));
    }
    charts.extend(plan(sweep, table, texts));
    charts
}

/// What the answer is drawn against, with its unit.
pub fn against(sweep: &Sweep) -> String {
    with_unit(&sweep.against)
}

fn with_unit(path: &str) -> String {
    match field(path) {
        Ok(Holds::Number { unit, .. }) if !unit.is_empty() => format!("{path} [{unit}]"),
        _ => path.to_owned(),
    }
}

fn ends(values: &[f64]) -> (f64, f64) {
    let low = values.iter().copied().fold(f64::INFINITY, f64::min);
    let high = values.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    if low < high {
        (low, high)
    } else {
        (low - 0.5, low + 0.5)
    }
}

fn probability(sweep: &Sweep, curve: &Curve, i: usize, texts: &Texts) -> Chart {
    let series = Event::ALL.into_iter().filter_map(|event| {
        let points: Vec<_> = curve
            .readings
            .iter()
            .filter_map(|reading| {
                let own = reading.of(event)?;
                Some((reading.value, own.share, own.band.low, own.band.high))
            })
            .collect();
        (!points.is_empty()).then(|| Series {
            event,
            name: texts.say(&event.name()),
            points,
        })
    });
    Chart {
        name: format!("probability_{}", i + 1),
        title: curve.headed(&sweep.name),
        kind: Kind::Probability(Probability {
            x_name: against(sweep),
            y_name: texts.say(&Message::new("lab-probability-axis").measured(
                "confidence",
                100.0 * sweep.confidence,
                0,
            )),
            x: ends(&sweep.values),
            series: series.collect(),
            safe: curve.window.shown.clone(),
            safe_name: texts.say(&"lab-window-shown".into()),
        }),
    }
}

fn windows(sweep: &Sweep, answer: &Answer, texts: &Texts) -> Chart {
    let mut rows = Vec::new();
    for (i, curve) in answer.curves.iter().enumerate() {
        let name = |what: &'static str| {
            let name = [curve.set_up.as_str(), &texts.say(&Message::new(what))].join(" ");
            name.trim().to_owned()
        };
        if let Some(estimate) = Estimate::of_sweep(sweep, i) {
            rows.push(Bar {
                name: name("lab-window-estimate"),
                tone: 2,
                is_open: true,
                spans: vec![estimate.window_deg()],
            });
        }
        rows.push(Bar {
            name: name("lab-window-shown"),
            tone: 0,
            is_open: false,
            spans: curve.window.shown.clone(),
        });
        if let Some(worst) = &curve.window.worst_case {
            rows.push(Bar {
                name: name("lab-window-worst"),
                tone: 1,
                is_open: false,
                spans: worst.clone(),
            });
        }
    }
    let trade = [
        limits::PITCH_MIN,
        limits::PITCH_MAX,
        limits::PITCH_NEVER_ABOVE,
    ];
    Chart {
        name: "window".to_owned(),
        title: sweep.name.clone(),
        kind: Kind::Bars(Bars {
            x_name: format!(
                "{} ({})",
                against(sweep),
                texts.say(&"lab-trade-marks".into())
            ),
            x: ends(&sweep.values),
            rows,
            marks: trade.map(|limit| deg(limit.value)).to_vec(),
        }),
    }
}

fn tornado(curve: &Curve, i: usize, event: Event, texts: &Texts) -> Option<Chart> {
    let of = |sensitivity: &Sensitivity| {
        sensitivity
            .swings
            .iter()
            .find(|swing| swing.event == event)
            .copied()
    };
    let mut rows: Vec<_> = curve
        .sensitivities
        .iter()
        .filter_map(|sensitivity| Some((sensitivity.path.clone(), of(sensitivity)?)))
        .collect();
    rows.sort_by(|a, b| b.1.width().total_cmp(&a.1.width()));
    let all = rows.first()?.1.all;
    let bars = rows.iter().map(|(path, swing)| Bar {
        name: path.clone(),
        // Which way it goes: more of it, more of the event; or less.
        tone: usize::from(swing.high_third > swing.low_third),
        is_open: swing.high_third <= swing.low_third,
        spans: vec![(
            swing.low_third.min(swing.high_third),
            swing.low_third.max(swing.high_third),
        )],
    });
    let name = texts.say(&event.name());
    let title = Message::new("lab-tornado-title").with("event", name.as_str());
    Some(Chart {
        name: format!(
            "tornado_{}_{}",
            i + 1,
            Event::ALL.iter().position(|e| *e == event)? + 1
        ),
        title: curve.headed(&texts.say(&title)),
        kind: Kind::Bars(Bars {
            x_name: texts.say(&Message::new("lab-tornado-axis").with("event", name)),
            x: (0.0, 1.0),
            rows: bars.collect(),
            marks: vec![all],
        }),
    })
}

fn plan(sweep: &Sweep, table: &Table, texts: &Texts) -> Option<Chart> {
    let far_m: Vec<f64> = table
        .rows
        .values()
        .filter_map(|row| row.measured(Measure::RunOut))
        .collect();
    let sticks = &sweep.base.loaded.scenario.line.sticks;
    (!far_m.is_empty()).then_some(())?;
    Some(Chart {
        name: "run_out".to_owned(),
        title: texts.say(&"lab-plan-title".into()),
        kind: Kind::Plan(Plan {
            x_name: texts.say(&"lab-plan-x".into()),
            z_name: texts.say(&"lab-plan-z".into()),
            half_length_m: 0.5 * sticks.first()?.pipe.length_m,
            far_m,
            line_name: texts.say(&"lab-plan-line".into()),
        }),
    })
}

type Drawn<DB> = Result<(), DrawingAreaErrorKind<<DB as DrawingBackend>::ErrorType>>;

/// The font of the program, for the pictures.
fn font() {
    static ONCE: Once = Once::new();
    ONCE.call_once(|| {
        let bytes = include_bytes!("../../assets/fonts/B612-Regular.otf");
        for style in [FontStyle::Normal, FontStyle::Bold] {
            // A font that cannot be read is told when a chart is drawn.
            let _ = register_font(FONT, style, bytes);
        }
    });
}

fn told(error: impl ToString) -> Message {
    Message::new("lab-no-chart").with("error", error.to_string())
}

impl Chart {
    fn size(&self) -> (u32, u32) {
        match &self.kind {
            Kind::Bars(bars) => (SIZE.0, 170 + 34 * bars.rows.len() as u32),
            _ => SIZE,
        }
    }

    /// As SVG.
    ///
    /// # Errors
    /// Where it cannot be drawn.
    pub fn svg(&self) -> Result<String, Message> {
        font();
        let mut text = String::new();
        {
            let area = SVGBackend::with_string(&mut text, self.size()).into_drawing_area();
            self.draw(&area).map_err(told)?;
            area.present().map_err(told)?;
        }
        Ok(text)
    }

    /// As PNG.
    ///
    /// # Errors
    /// Where it cannot be drawn.
    pub fn png(&self) -> Result<Vec<u8>, Message> {
        font();
        let (width, height) = self.size();
        let mut pixels = vec![255; (3 * width * height) as usize];
        {
            let backend = BitMapBackend::with_buffer(&mut pixels, (width, height));
            let area = backend.into_drawing_area();
            self.draw(&area).map_err(told)?;
            area.present().map_err(told)?;
        }
        let mut bytes = Vec::new();
        let mut encoder = png::Encoder::new(&mut bytes, width, height);
        encoder.set_color(png::ColorType::Rgb);
        encoder.set_depth(png::BitDepth::Eight);
        let mut writer = encoder.write_header().map_err(told)?;
        writer.write_image_data(&pixels).map_err(told)?;
        writer.finish().map_err(told)?;
        Ok(bytes)
    }

    fn draw<DB: DrawingBackend>(&self, area: &DrawingArea<DB, Shift>) -> Drawn<DB> {
        area.fill(&WHITE)?;
        match &self.kind {
            Kind::Probability(chart) => chart.draw(area, &self.title),
            Kind::Bars(chart) => chart.draw(area, &self.title),
            Kind::Plan(chart) => chart.draw(area, &self.title),
        }
    }
}

fn colour(i: usize) -> RGBColor {
    COLOURS.get(i % COLOURS.len()).copied().unwrap_or(INK)
}

impl Probability {
    fn draw<DB: DrawingBackend>(&self, area: &DrawingArea<DB, Shift>, title: &str) -> Drawn<DB> {
        let mut chart = ChartBuilder::on(area)
            .caption(title, (FONT, 20))
            .margin(12)
            .margin_right(LEGEND)
            .x_label_area_size(48)
            .y_label_area_size(62)
            .build_cartesian_2d(self.x.0..self.x.1, 0.0..1.0)?;
        chart
            .configure_mesh()
            .x_desc(&self.x_name)
            .y_desc(&self.y_name)
            .label_style((FONT, 14))
            .axis_style(INK)
            .light_line_style(WHITE)
            .draw()?;
        // A window of one value still has some width on the page.
        let least = (self.x.1 - self.x.0) / 200.0;
        for &(from, to) in &self.safe {
            let corners = [(from - least, 0.0), (to + least, 1.0)];
            chart.draw_series([Rectangle::new(corners, SHADE.mix(0.25).filled())])?;
        }
        for series in &self.series {
            let i = series.event as usize;
            let own = colour(i);
            let upper = series.points.iter().map(|(x, _, _, high)| (*x, *high));
            let lower = series.points.iter().rev().map(|(x, _, low, _)| (*x, *low));
            let band: Vec<_> = upper.chain(lower).collect();
            chart.draw_series([Polygon::new(band, own.mix(0.15).filled())])?;
            let line: Vec<_> = series.points.iter().map(|(x, p, _, _)| (*x, *p)).collect();
            chart.draw_series([PathElement::new(line.clone(), own.stroke_width(2))])?;
            chart.draw_series(
                line.iter()
                    .map(|at| EmptyElement::at(*at) + mark(i, (0, 0))),
            )?;
        }
        self.names(area)
    }

    /// Names beside the curves, where they hide nothing of them.
    fn names<DB: DrawingBackend>(&self, area: &DrawingArea<DB, Shift>) -> Drawn<DB> {
        let x = (SIZE.0 - LEGEND) as i32 + 16;
        let mut y = 56;
        let name = |text: &str, y: i32| {
            let style = (FONT, 14).into_font().color(&INK);
            area.draw(&Text::new(text.to_owned(), (x + 28, y - 7), style))
        };
        for series in &self.series {
            let i = series.event as usize;
            let line = vec![(x, y), (x + 20, y)];
            area.draw(&PathElement::new(line, colour(i).stroke_width(2)))?;
            area.draw(&(EmptyElement::at((x + 10, y)) + mark(i, (0, 0))))?;
            name(&series.name, y)?;
            y += 22;
        }
        if !self.safe.is_empty() {
            let corners = [(x, y - 6), (x + 20, y + 6)];
            area.draw(&Rectangle::new(corners, SHADE.mix(0.4).filled()))?;
            name(&self.safe_name, y)?;
        }
        Ok(())
    }
}

/// The mark of a series: disc, triangle or square.
fn mark(i: usize, at: (i32, i32)) -> Polygon<(i32, i32)> {
    let outline: &[(i32, i32)] = match i % COLOURS.len() {
        0 => &[
            (-4, -2),
            (-2, -4),
            (2, -4),
            (4, -2),
            (4, 2),
            (2, 4),
            (-2, 4),
            (-4, 2),
        ],
        1 => &[(0, -5), (5, 4), (-5, 4)],
        _ => &[(-4, -4), (4, -4), (4, 4), (-4, 4)],
    };
    let points: Vec<_> = outline.iter().map(|(x, y)| (at.0 + x, at.1 + y)).collect();
    Polygon::new(points, colour(i).filled())
}

impl Bars {
    fn draw<DB: DrawingBackend>(&self, area: &DrawingArea<DB, Shift>, title: &str) -> Drawn<DB> {
        let rows = self.rows.len() as f64;
        let mut chart = ChartBuilder::on(area)
            .caption(title, (FONT, 20))
            .margin(12)
            .x_label_area_size(48)
            .y_label_area_size(330)
            .build_cartesian_2d(self.x.0..self.x.1, 0.0..rows)?;
        chart
            .configure_mesh()
            .disable_y_mesh()
            .disable_y_axis()
            .x_desc(&self.x_name)
            .label_style((FONT, 14))
            .y_labels(0)
            .axis_style(INK)
            .light_line_style(WHITE)
            .draw()?;
        let least = (self.x.1 - self.x.0) / 300.0;
        for (i, row) in self.rows.iter().enumerate() {
            let middle = rows - i as f64 - 0.5;
            for &(from, to) in &row.spans {
                let (from, to) = (from.max(self.x.0), to.min(self.x.1));
                let corners = [(from - least, middle - 0.3), (to + least, middle + 0.3)];
                let style = if row.is_open {
                    colour(row.tone).stroke_width(2)
                } else {
                    colour(row.tone).filled()
                };
                chart.draw_series([Rectangle::new(corners, style)])?;
            }
            let (_, y) = chart.backend_coord(&(self.x.0, middle));
            let name = Text::new(
                row.name.clone(),
                (16, y - 7),
                (FONT, 14).into_font().color(&INK),
            );
            area.draw(&name)?;
        }
        // The drawing would put one beyond an end on that end.
        let (least, most) = self.x;
        for mark in self
            .marks
            .iter()
            .filter(|mark| (least..=most).contains(*mark))
        {
            let line = vec![(*mark, 0.0), (*mark, rows)];
            chart.draw_series([PathElement::new(line, INK.stroke_width(1))])?;
        }
        Ok(())
    }
}

impl Plan {
    fn draw<DB: DrawingBackend>(&self, area: &DrawingArea<DB, Shift>, title: &str) -> Drawn<DB> {
        let far = self.far_m.iter().copied().fold(1.0, f64::max);
        let reach = self.half_length_m + 2.0;
        let mut chart = ChartBuilder::on(area)
            .caption(title, (FONT, 20))
            .margin(12)
            .x_label_area_size(48)
            .y_label_area_size(62)
            .build_cartesian_2d(-2.0..far + 2.0, -reach..reach)?;
        chart
            .configure_mesh()
            .x_desc(&self.x_name)
            .y_desc(&self.z_name)
            .label_style((FONT, 14))
            .axis_style(INK)
            .light_line_style(WHITE)
            .draw()?;
        let half = self.half_length_m;
        chart.draw_series(self.far_m.iter().map(|far| {
            PathElement::new(
                vec![(*far, -half), (*far, half)],
                colour(1).mix(0.35).stroke_width(2),
            )
        }))?;
        let line = vec![(0.0, -reach), (0.0, reach)];
        chart
            .draw_series([PathElement::new(line, colour(0).stroke_width(3))])?
            .label(&self.line_name)
            .legend(|(x, y)| {
                PathElement::new(vec![(x, y), (x + 20, y)], colour(0).stroke_width(3))
            });
        chart
            .configure_series_labels()
            .background_style(WHITE.mix(0.85))
            .border_style(INK)
            .label_font((FONT, 14))
            .draw()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_limit_beyond_what_was_looked_at_is_not_drawn_on_its_end() {
        let lines = |marks: &[f64]| {
            let chart = Chart {
                name: "marks".to_owned(),
                title: "Marks".to_owned(),
                kind: Kind::Bars(Bars {
                    x_name: "x".to_owned(),
                    x: (2.0, 8.0),
                    rows: Vec::new(),
                    marks: marks.to_vec(),
                }),
            };
            chart.svg().unwrap().matches("<polyline").count()
        };
        let without = lines(&[]);
        assert_eq!(lines(&[4.0, 6.0]), without + 2);
        assert_eq!(lines(&[1.0, 4.0, 6.0, 10.0]), without + 2);
    }
}
