//! What the laboratory's screen says: numbers with their units, the picture, the answer in words.

use super::{CONFIDENCES, Lab, PAGE, RISKS, STEPS_DEG, Sheet, TRIALS, is_number, name_of, nearest};
use crate::domain::limits::{PITCH_MAX, PITCH_MIN, PITCH_NEVER_ABOVE};
use crate::evidence::Outcome;
use crate::lab::{
    Answer, Bench, Curve, Estimate, Event, Row, Sensitivity, Setting, Swing, Varied, unit_of,
};
use crate::texts::{Message, Texts};
use crate::view::desk::{Easel, House};
use crate::view::icons::Mark;
use crate::view::panels::lab as page;
use crate::view::panels::parts;

/// A kind of outcome among the trials of a pitch.
pub(super) struct Kind {
    /// None is all of them; none in it is those that failed.
    pub outcome: Option<Option<Outcome>>,
    pub count: usize,
}

/// What came of a trial by its row.
pub(super) fn outcome(row: &Row, texts: &Texts) -> (Mark, String) {
    match row.outcome {
        Some(outcome) => (mark(outcome), texts.say(&outcome.headline())),
        None => {
            let message = Message::new("labscreen-failed").with("why", row.why.as_str());
            (Mark::Not, texts.say(&message))
        }
    }
}

fn mark(outcome: Outcome) -> Mark {
    let events = Event::ALL;
    match events.into_iter().find(|event| event.is(outcome)) {
        None => Mark::Ok,
        Some(Event::Hang) => Mark::Caution,
        Some(Event::DoubleFeed | Event::RollOff) => Mark::Danger,
    }
}

/// Digits that a number needs, as many as can be written into its field.
fn digits(number: f64) -> usize {
    let mut digits = 0;
    let mut left = number.abs();
    while digits < 6 && (left - left.round()).abs() > 1e-6 {
        left *= 10.0;
        digits += 1;
    }
    digits
}

/// A number with its unit: degrees follow at once, other units after a thin space.
fn amount(value: f64, digits: usize, unit: &str) -> String {
    // What rounds to nothing has no sign.
    let text = format!("{value:.digits$}");
    let is_zero = text.bytes().all(|byte| matches!(byte, b'-' | b'0' | b'.'));
    let text = text.strip_prefix('-').filter(|_| is_zero).unwrap_or(&text);
    match unit {
        "" => text.to_owned(),
        "deg" => format!("{text}°"),
        unit => format!("{text}\u{202f}{unit}"),
    }
}

/// The value of a field in a trial.
pub(super) fn amount_of(path: &str, value: f64) -> String {
    let digits = if value.fract() == 0.0 { 0 } else { 3 };
    amount(value, digits, unit_of(path))
}

fn range(from: f64, to: f64, digits: usize, unit: &str, texts: &Texts) -> String {
    let message = Message::new("range")
        .with("min", amount(from, digits, ""))
        .with("max", amount(to, digits, unit));
    texts.say(&message)
}

fn spans(spans: &[(f64, f64)], texts: &Texts) -> String {
    if spans.is_empty() {
        return texts.say(&"lab-none".into());
    }
    let each = spans.iter().map(|(from, to)| {
        if from == to {
            amount(*from, digits(*from), "deg")
        } else {
            let digits = digits(*from).max(digits(*to));
            range(*from, *to, digits, "deg", texts)
        }
    });
    each.collect::<Vec<_>>().join("; ")
}

fn percent(share: f64) -> String {
    let share = 100.0 * share;
    amount(share, digits(share).min(1), "%")
}

fn range_of(varied: &Varied, texts: &Texts) -> page::Range {
    let [from, to] = varied.range;
    let [least, most] = varied.bounds;
    let needed = [varied.step, from, to].map(digits).into_iter().max();
    page::Range {
        from,
        to,
        least,
        most,
        step: varied.step,
        said: range(
            from,
            to,
            needed.unwrap_or_default(),
            unit_of(&varied.path),
            texts,
        ),
    }
}

/// Variables that are shown of each event, at most.
const MOST_MATTERS: usize = 5;

/// What matters most in a set-up, by the same swings as on the sheet.
fn matters(curve: &Curve, texts: &Texts) -> Vec<page::Matters> {
    let each = Event::ALL.into_iter().filter_map(|event| {
        let of = |sensitivity: &Sensitivity| {
            let mut swings = sensitivity.swings.iter();
            let swing = *swings.find(|swing| swing.event == event)?;
            Some((sensitivity.path.clone(), swing))
        };
        let mut swings: Vec<(String, Swing)> = curve.sensitivities.iter().filter_map(of).collect();
        swings.sort_by(|a, b| b.1.width().total_cmp(&a.1.width()));
        swings.truncate(MOST_MATTERS);
        let all = swings.first()?.1.all;
        let bars = swings.into_iter().map(|(path, swing)| {
            let said = Message::new("labscreen-thirds")
                .with("low", percent(swing.low_third))
                .with("high", percent(swing.high_third));
            let [low, high] = [swing.low_third, swing.high_third].map(|share| 100.0 * share);
            page::Bar {
                name: path,
                said: texts.say(&said),
                fill: if low < high {
                    page::Fill::Full
                } else {
                    page::Fill::Ruled
                },
                spans: vec![(low.min(high), low.max(high))],
            }
        });
        let head = Message::new("lab-tornado-title").with("event", event.name());
        let mark = Message::new("labscreen-matters-mark").with("all", percent(all));
        Some(page::Matters {
            head: curve.headed(&texts.say(&head)),
            axes: page::Axes {
                from: 0.0,
                to: 100.0,
                x_name: String::new(),
                y_name: String::new(),
                marks: vec![100.0 * all],
                marks_name: texts.say(&mark),
            },
            bars: bars.collect(),
        })
    });
    each.collect()
}

impl Lab {
    pub(super) fn model(&self, texts: &Texts, easel: &Easel, house: &House) -> page::Model {
        let setting = &self.setting;
        let [from, to] = setting.pitch_deg;
        let [least, most] = Setting::PITCHES_DEG;
        let bench = self.bench.as_ref().map(|(_, bench)| bench);
        let bases = 0..self.bases.len();
        page::Model {
            bases: bases
                .map(|i| name_of(&self.bases, i, texts.lang()))
                .collect(),
            base: self.base,
            pitch: page::Range {
                from,
                to,
                least,
                most,
                step: STEPS_DEG[0],
                said: range(from, to, 2.max(digits(from)).max(digits(to)), "deg", texts),
            },
            steps: (
                STEPS_DEG
                    .iter()
                    .map(|step| amount(*step, digits(*step), "deg"))
                    .collect(),
                nearest(&STEPS_DEG, setting.step_deg),
            ),
            trials: (
                TRIALS.iter().map(u32::to_string).collect(),
                nearest(&TRIALS.map(f64::from), f64::from(setting.trials)),
            ),
            variables: self.variables(texts),
            second: self.second_set_up(texts),
            fields: self.fields_said(texts),
            risks: Event::ALL
                .into_iter()
                .zip(setting.risks)
                .map(|(event, risk)| page::Risk {
                    name: texts.say(&event.name()),
                    said: texts.say(&Message::new("labscreen-below").with("below", percent(risk))),
                    ends: [risk <= RISKS[0], risk >= RISKS[RISKS.len() - 1]],
                })
                .collect(),
            confidences: (
                CONFIDENCES.map(percent).to_vec(),
                nearest(&CONFIDENCES, setting.confidence),
            ),
            seed: setting.seed,
            faults: self.faults(None, texts),
            warnings: self.warnings(texts),
            stage: self.stage(texts),
            progress: bench.map(|bench| progress(bench, texts)),
            is_changed: self.is_changed(),
            axes: self.axes(texts),
            bars: self.bars(texts),
            matters: bench.map_or_else(Vec::new, |bench| {
                let curves = bench.answer().curves.iter();
                curves.flat_map(|curve| matters(curve, texts)).collect()
            }),
            curves: bench.map_or_else(
                || {
                    vec![page::Curves {
                        title: String::new(),
                        series: Vec::new(),
                        pitches: Vec::new(),
                        chosen: None,
                    }]
                },
                |bench| self.curves(bench, texts),
            ),
            answers: self.answers(texts),
            point: self.point(texts, easel),
            saved: match &self.sheet {
                Sheet::None => None,
                Sheet::Making(_) => Some(texts.say(&"labscreen-saving".into())),
                Sheet::Saved(place) => {
                    let file = place.display().to_string();
                    Some(texts.say(&Message::new("labscreen-saved").with("file", file)))
                }
            },
            can_save: house.has_place()
                && bench.is_some_and(|bench| bench.progress().0 > 0)
                && !matches!(self.sheet, Sheet::Making(_)),
        }
    }

    fn variables(&self, texts: &Texts) -> Vec<page::Variable> {
        let varied = self.setting.varied.iter().enumerate();
        varied
            .map(|(i, varied)| page::Variable {
                path: varied.path.clone(),
                meaning: self.meaning(&varied.path, texts),
                range: range_of(varied, texts),
                is_unmeasured: varied.unmeasured,
                faults: self.faults(Some(i), texts),
            })
            .collect()
    }

    /// The fields that can be chosen, while one is.
    fn fields_said(&self, texts: &Texts) -> Vec<page::Field> {
        if self.state.choosing.is_none() {
            return Vec::new();
        }
        let fields = self.choosable();
        fields
            .map(|field| page::Field {
                path: field.path.clone(),
                meaning: texts.say(&field.meaning),
                is_number: is_number(field),
            })
            .collect()
    }

    fn meaning(&self, path: &str, texts: &Texts) -> String {
        let known = self.fields.iter().find(|field| field.path == path);
        known.map_or_else(String::new, |known| texts.say(&known.meaning))
    }

    fn second_set_up(&self, texts: &Texts) -> Vec<page::Changed> {
        let second = self.setting.second.iter();
        second
            .map(|changed| {
                let known = self.fields.iter().find(|field| field.path == changed.path);
                let words = known
                    .map(|known| known.words.as_slice())
                    .unwrap_or_default();
                let base = known.and_then(|known| self.setting.written(known));
                let base = base.unwrap_or_else(|| texts.say(&"labscreen-follows".into()));
                let room = self.setting.room(&changed.path);
                let now: Option<f64> = changed.value.parse().ok();
                let said = match now.filter(|_| room.is_some()) {
                    Some(now) => amount(now, digits(now), unit_of(&changed.path)),
                    None => changed.value.clone(),
                };
                let at = words.iter().position(|word| *word == changed.value);
                let is_same = changed.value == base;
                let said = Message::new(if is_same {
                    "labscreen-as-base"
                } else {
                    "labscreen-instead"
                })
                .with("value", said)
                .with("base", base);
                page::Changed {
                    path: changed.path.clone(),
                    meaning: self.meaning(&changed.path, texts),
                    said: texts.say(&said),
                    value: match (room, now) {
                        (Some(([least, most], step)), Some(now)) => page::Value::Number {
                            now,
                            least: least.min(now),
                            most: most.max(now),
                            step,
                        },
                        _ => page::Value::Word {
                            ends: [
                                at.is_none_or(|at| at == 0),
                                at.is_none_or(|at| at + 1 == words.len()),
                            ],
                        },
                    },
                }
            })
            .collect()
    }

    fn warnings(&self, texts: &Texts) -> Vec<String> {
        let Ok(sweep) = &self.sweep else {
            return Vec::new();
        };
        let all = Message::new("labscreen-trials-all")
            .with("trials", sweep.trials())
            .with("pitches", sweep.values.len());
        let mut warnings = vec![texts.say(&all)];
        warnings.extend(sweep.out_of_reach().into_iter().map(|(limit, needed)| {
            let message = Message::new("lab-out-of-reach")
                .with("event", limit.of.name())
                .with("trials", sweep.budget.trials as usize)
                .with("needed", needed);
            parts::sentence(&texts.say(&message))
        }));
        warnings
    }

    fn axes(&self, texts: &Texts) -> page::Axes {
        let [from, to] = match self.pitches() {
            [first, .., last] => [*first, *last],
            _ => self.setting.pitch_deg,
        };
        let trade = [PITCH_MIN, PITCH_MAX, PITCH_NEVER_ABOVE];
        let shown = self
            .bench
            .as_ref()
            .map_or(&self.setting, |(setting, _)| setting);
        let share = Message::new("labscreen-axis-share").measured(
            "confidence",
            100.0 * shown.confidence,
            0,
        );
        page::Axes {
            from,
            to: to.max(from + 0.5),
            x_name: texts.say(&"labscreen-axis-pitch".into()),
            y_name: texts.say(&share),
            marks: trade.map(|limit| limit.value.to_degrees()).to_vec(),
            marks_name: texts.say(&"labscreen-marks".into()),
        }
    }

    /// A row for what the closed forms say, and for each step that narrows the window.
    fn bars(&self, texts: &Texts) -> Vec<page::Bar> {
        let answer = self.bench.as_ref().map(|(_, bench)| bench.answer());
        let count = answer.map_or(0, |answer| answer.curves.len());
        let count = count.max(self.estimates.len());
        let names = self.names(texts.lang());
        let mut bars = Vec::new();
        for i in 0..count {
            let curve = answer.and_then(|answer| answer.curves.get(i));
            let set_up = match curve {
                Some(curve) => curve.set_up.clone(),
                None if count > 1 => names.get(i).cloned().unwrap_or_default(),
                None => String::new(),
            };
            let mut bar = |id: &'static str, fill: page::Fill, of: Vec<(f64, f64)>| {
                let what = texts.say(&id.into());
                let name = if set_up.is_empty() {
                    parts::sentence(&what)
                } else {
                    format!("{}, {what}", parts::sentence(&set_up))
                };
                let said = spans(&of, texts);
                bars.push(page::Bar {
                    name,
                    said,
                    fill,
                    spans: of,
                });
            };
            if let Some(estimate) = self.estimates.get(i).copied().flatten() {
                let (low, high) = estimate.window_deg();
                let tidy = |value: f64| (10.0 * value).round() / 10.0;
                let open = page::Fill::Open;
                bar("lab-window-estimate", open, vec![(tidy(low), tidy(high))]);
            }
            let Some(curve) = curve.filter(|curve| !curve.readings.is_empty()) else {
                continue;
            };
            let window = &curve.window;
            bar("lab-window-shown", page::Fill::Ruled, window.shown.clone());
            if let Some(worst) = &window.worst_case {
                bar("lab-window-worst", page::Fill::Crossed, worst.clone());
            }
            if let Some(narrowed) = &window.narrowed {
                bar("lab-window-narrowed", page::Fill::Full, narrowed.clone());
            }
        }
        bars
    }

    fn curves(&self, bench: &Bench, texts: &Texts) -> Vec<page::Curves> {
        let answer = bench.answer();
        let each = answer.curves.iter().enumerate();
        each.map(|(set_up, curve)| page::Curves {
            title: parts::sentence(&curve.set_up),
            series: series(curve, texts),
            pitches: bench.sweep().values.clone(),
            chosen: self
                .point
                .filter(|point| point.set_up == set_up)
                .map(|point| point.pitch),
        })
        .collect()
    }

    fn answers(&self, texts: &Texts) -> Vec<page::Answer> {
        let mut answers = Vec::new();
        let mut head = None;
        let mut say = |head: &mut Option<String>, mark: Option<Mark>, text: String| {
            answers.push(page::Answer {
                head: head.take(),
                mark,
                text,
            });
        };
        if let Some((_, bench)) = &self.bench {
            let answer = bench.answer();
            if answer.failed > 0 {
                let message = Message::new("lab-failed")
                    .with("failed", answer.failed)
                    .with("trials", answer.trials);
                say(&mut head, Some(Mark::Not), texts.say(&message));
                for why in &answer.failures {
                    say(&mut head, None, why.clone());
                }
            }
            if !answer.comparisons.is_empty() && answer.trials > 0 {
                head = Some(texts.say(&"lab-head-comparison".into()));
                for text in compared(answer, texts) {
                    say(&mut head, None, text);
                }
            }
        }
        for (i, estimate) in self.estimates.iter().enumerate() {
            let Some(estimate) = estimate else { continue };
            head = Some(texts.say(&"lab-head-estimate".into()));
            if self.estimates.len() > 1 {
                let name = self.names(texts.lang());
                let name = name.get(i).cloned().unwrap_or_default();
                head = Some(format!(
                    "{}: {name}",
                    texts.say(&"lab-head-estimate".into())
                ));
            }
            for message in Estimate::messages(estimate) {
                say(&mut head, None, texts.say(&message));
            }
        }
        answers
    }

    pub(super) fn kinds(&self) -> Vec<Kind> {
        let rows = self.rows();
        let mut kinds = vec![Kind {
            outcome: None,
            count: rows.len(),
        }];
        for row in rows {
            match kinds
                .iter_mut()
                .find(|kind| kind.outcome == Some(row.outcome))
            {
                Some(kind) => kind.count += 1,
                None => kinds.push(Kind {
                    outcome: Some(row.outcome),
                    count: 1,
                }),
            }
        }
        kinds
    }

    /// Which trial it is: its place, its pitch, its set-up.
    pub(super) fn title_of(&self, row: &Row) -> Message {
        let pitch = self.pitches().get(row.value).copied().unwrap_or_default();
        let curves = self.bench.as_ref().map(|(_, bench)| &bench.sweep().set_ups);
        let set_up = curves.and_then(|set_ups| set_ups.get(row.set_up));
        let set_up = set_up.map(|set_up| set_up.name.clone()).unwrap_or_default();
        let id = if set_up.is_empty() {
            "labscreen-trial"
        } else {
            "labscreen-trial-of"
        };
        let message = Message::new(id)
            .with("trial", u64::from(row.number) + 1)
            .with("pitch", amount(pitch, digits(pitch), "deg"));
        if set_up.is_empty() {
            message
        } else {
            message.with("set_up", set_up)
        }
    }

    fn point(&self, texts: &Texts, easel: &Easel) -> Option<page::Point> {
        let point = self.point?;
        let (_, bench) = self.bench.as_ref()?;
        let pitch = bench.sweep().values.get(point.pitch).copied()?;
        let set_up = bench.sweep().set_ups.get(point.set_up);
        let set_up = set_up
            .map(|set_up| set_up.name.as_str())
            .unwrap_or_default();
        let title =
            Message::new("labscreen-point").with("pitch", amount(pitch, digits(pitch), "deg"));
        let title = texts.say(&title);
        let title = if set_up.is_empty() {
            title
        } else {
            format!("{title}, {set_up}")
        };
        let kinds = self.kinds();
        let listed = self.listed();
        let pages = listed.len().div_ceil(PAGE).max(1);
        let page = self.page.min(pages - 1);
        let chosen = self.watching.as_ref().map(|watching| page::Chosen {
            title: watching.title(texts),
            picture: easel.second.filter(|_| watching.plays().is_some()),
            clock: parts::clock(watching.time_s()),
            plays: watching.plays(),
            told: watching.told(texts),
            numbers: watching.numbers(),
        });
        let seen = self.watching.as_ref().map(|watching| watching.row().trial);
        let shown = listed.iter().skip(page * PAGE).take(PAGE);
        Some(page::Point {
            title,
            kinds: kinds.iter().map(|kind| named(kind, texts)).collect(),
            kind: self.kind.min(kinds.len() - 1),
            trials: shown
                .map(|row| {
                    let (mark, said) = outcome(row, texts);
                    let number = u64::from(row.number) + 1;
                    page::Trial {
                        title: texts.say(&Message::new("labscreen-number").with("trial", number)),
                        mark,
                        said,
                        is_chosen: seen == Some(row.trial),
                    }
                })
                .collect(),
            page,
            pages,
            chosen,
        })
    }
}

fn named(kind: &Kind, texts: &Texts) -> String {
    let what = match kind.outcome {
        None => "labscreen-all".into(),
        Some(Some(outcome)) => outcome.headline(),
        Some(None) => "labscreen-kind-failed".into(),
    };
    let message = Message::new("labscreen-kind")
        .with("what", what)
        .with("count", kind.count);
    texts.say(&message)
}

fn series(curve: &Curve, texts: &Texts) -> Vec<page::Series> {
    let each = Event::ALL.into_iter().enumerate();
    each.filter_map(|(kind, event)| {
        let readings = curve.readings.iter();
        let points: Vec<[f64; 4]> = readings
            .filter_map(|reading| {
                let own = reading.of(event)?;
                Some([reading.value, own.share, own.band.low, own.band.high])
            })
            .collect();
        (!points.is_empty()).then(|| page::Series {
            name: texts.say(&event.name()),
            kind,
            points,
        })
    })
    .collect()
}

fn progress(bench: &Bench, texts: &Texts) -> (f32, String) {
    let (done, of) = bench.progress();
    let share = done as f32 / (of as f32).max(1.0);
    let message = match bench.pace() {
        Some((rate, left_s)) => Message::new("labscreen-pace")
            .with("done", done)
            .with("of", of)
            .measured("rate", rate, 1)
            .with("left", parts::clock(left_s)),
        None => Message::new("labscreen-rows")
            .with("done", done)
            .with("of", of),
    };
    (share, texts.say(&message))
}

/// The two set-ups event by event, on the same random numbers.
fn compared(answer: &Answer, texts: &Texts) -> Vec<String> {
    let each = answer.comparisons.iter();
    each.map(|comparison| {
        let [first, second] = &comparison.set_ups;
        let pairs = comparison.pairs;
        let all = pairs.both + pairs.first_alone + pairs.second_alone + pairs.neither;
        let message = Message::new("labscreen-compared")
            .with(
                "event",
                parts::sentence(&texts.say(&comparison.event.name())),
            )
            .with("first", first.as_str())
            .with("second", second.as_str())
            .with("all", all)
            .with("both", pairs.both)
            .with("first_alone", pairs.first_alone)
            .with("second_alone", pairs.second_alone)
            .measured("by_chance", comparison.by_chance, 4);
        texts.say(&message)
    })
    .collect()
}
