//! The yard from straight above, the rack at the top: steel, zone, where a loose stick can come to, and
//! the ways of sticks and people.

use super::chart::shape;
use super::figure::{WIDTH, number, outline, path, picture};
use super::study::{PersonWay, StickWay, Study, Ways};
use crate::domain::envelope::Envelope;
use crate::domain::finding::Severity;
use crate::domain::plan::{Footprint, Steel, steel};
use crate::domain::rig::Rig;
use crate::domain::spec::Place;
use crate::html::{Markup, html};
use crate::texts::{Message, Texts};
use crate::words;

/// Further from the line's middle than this nobody and nothing is followed, m.
const FAR_M: f64 = 30.0;
/// Room around everything, m.
const ROOM_M: f64 = 1.5;
/// The tallest that a plan is, in the picture's own units.
const TALLEST: f64 = 620.0;

/// From places to the paper.
struct Sheet {
    /// Which way the machine lies: 1 to the right.
    along: f64,
    scale: f64,
    left_m: f64,
    top_m: f64,
    height: f64,
}

impl Sheet {
    /// That all places are on.
    fn around(rig: &Rig, places: &[Place]) -> Self {
        // The rack at the top: a right-handed line then runs to the left.
        let along = -rig.mirror();
        let ends = |of: fn(&Place) -> f64, sign: f64| {
            let values = places.iter().map(|place| sign * of(place));
            let within = values.map(|value| value.clamp(-FAR_M, FAR_M));
            within.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), value| {
                (low.min(value), high.max(value))
            })
        };
        let (left_m, right_m) = ends(|place| place.z_m, along);
        let (top_m, bottom_m) = ends(|place| place.x_m, 1.0);
        let (left_m, right_m) = (left_m - ROOM_M, right_m + ROOM_M);
        let (top_m, bottom_m) = (top_m - ROOM_M, bottom_m + ROOM_M);
        let scale = (WIDTH / (right_m - left_m)).min(TALLEST / (bottom_m - top_m));
        // What is too tall to be wide stands in the middle.
        let spare_m = 0.5 * (WIDTH / scale - (right_m - left_m));
        Self {
            along,
            scale,
            left_m: left_m - spare_m,
            top_m,
            height: scale * (bottom_m - top_m),
        }
    }

    fn at(&self, place: Place) -> (f64, f64) {
        (
            self.scale * (self.along * place.z_m - self.left_m),
            self.scale * (place.x_m - self.top_m),
        )
    }

    fn path(&self, places: &[Place]) -> String {
        path(places.iter().map(|place| self.at(*place)))
    }

    fn text(&self, place: Place, up: f64, said: &str) -> Markup {
        let (x, y) = self.at(place);
        // Inside the sheet, whatever stands at its edge.
        let (x, anchor) = if x < 90.0 {
            (x.max(4.0), "start")
        } else if x > WIDTH - 90.0 {
            (x.min(WIDTH - 4.0), "end")
        } else {
            (x, "middle")
        };
        html! {
            text.halo x=(number(x)) y=(number((y - up).clamp(16.0, self.height - 6.0)))
                text-anchor=(anchor) paint-order="stroke" { (said) }
        }
    }
}

/// The plan of a run, and what it shows in words.
pub fn plan(study: &Study, texts: &Texts) -> (Markup, String) {
    let rig = Rig::new(&study.spec);
    let nothing = Ways::default();
    let ways = study.again.as_ref().map_or(&nothing, |again| &again.ways);
    let steel = steel(&rig);
    let cones = &study.spec.zone.cones;
    let reach = study.spec.sticks.first().and_then(|stick| {
        let envelope = Envelope::new(&rig, &stick.pipe);
        envelope.polygon().map(<[Place]>::to_vec)
    });
    let reach = reach.unwrap_or_default();
    let found: Vec<(usize, Severity, Place)> = found(study);

    let mut all: Vec<Place> = cones.clone();
    all.extend(steel.iter().flat_map(corners));
    all.extend(&reach);
    for stick in &ways.sticks {
        all.extend(stick.first.iter().chain(&stick.last));
    }
    all.extend(ways.people.iter().flat_map(|person| &person.way));
    let sheet = Sheet::around(&rig, &all);

    let drawn = html! {
        rect.ground x="0.5" y="0.5" width=(WIDTH - 1.0) height=(number(sheet.height - 1.0)) {}
        @for part in &steel { (standing(&sheet, part, texts)) }
        @if !reach.is_empty() { path.reach d=(sheet.path(&reach) + "Z") {} }
        @if cones.len() > 2 { path.cones d=(sheet.path(cones) + "Z") {} }
        @for cone in cones {
            @let (x, y) = sheet.at(*cone);
            path.cone d=(outline(3, x, y, 6.0)) {}
        }
        @for stick in &ways.sticks { (rolled(&sheet, stick)) }
        @for person in &ways.people { (walked(&sheet, person, texts)) }
        @for (number_of, severity, place) in found { (sheet.found(number_of, severity, place)) }
        (ruler(&sheet, texts))
    };
    let said = said(study, ways, texts);
    (picture(sheet.height, &said, &drawn), said)
}

impl Sheet {
    fn found(&self, number_of: usize, severity: Severity, place: Place) -> Markup {
        let (x, y) = self.at(place);
        html! {
            (shape(severity, x, y, 8.0))
            text.halo x=(number(x + 11.0)) y=(number(y + 5.0)) paint-order="stroke" {
                (number_of)
            }
        }
    }
}

/// Grave findings with a place: their number in the score, and where.
fn found(study: &Study) -> Vec<(usize, Severity, Place)> {
    let lines = study.verdict.score.lines.iter().enumerate();
    lines
        .filter_map(|(i, cost)| {
            let finding = study.verdict.findings.get(cost.finding)?;
            let [x, _, z] = finding.at?;
            let severity = finding.kind.severity();
            (severity == Severity::Critical).then_some((
                i + 1,
                severity,
                Place {
                    x_m: f64::from(x),
                    z_m: f64::from(z),
                },
            ))
        })
        .collect()
}

fn corners(part: &Footprint) -> [Place; 4] {
    let at = |x_m, z_m| Place { x_m, z_m };
    [
        at(part.x_from_m, part.z_from_m),
        at(part.x_to_m, part.z_from_m),
        at(part.x_to_m, part.z_to_m),
        at(part.x_from_m, part.z_to_m),
    ]
}

/// Something of steel; the large ones with their names.
fn standing(sheet: &Sheet, part: &Footprint, texts: &Texts) -> Markup {
    let middle = Place {
        x_m: 0.5 * (part.x_from_m + part.x_to_m),
        z_m: 0.5 * (part.z_from_m + part.z_to_m),
    };
    let named = matches!(part.steel, Steel::Machine | Steel::Loader);
    html! {
        path.steel d=(sheet.path(&corners(part)) + "Z") {}
        @if named { (sheet.text(middle, -4.0, &texts.say(&part.steel.id().into()))) }
    }
}

fn rolled(sheet: &Sheet, stick: &StickWay) -> Markup {
    html! {
        @if stick.has_moved() {
            path.was d=(sheet.path(&around(stick.first, stick.radius_m)) + "Z") {}
        }
        path.pipe d=(sheet.path(&around(stick.last, stick.radius_m)) + "Z") {}
        @if stick.has_moved() { path.way d=(sheet.path(&stick.way)) {} }
    }
}

/// The corners of a stick seen from above.
fn around([from, to]: [Place; 2], radius_m: f64) -> [Place; 4] {
    let (x_m, z_m) = (to.x_m - from.x_m, to.z_m - from.z_m);
    let length_m = (x_m * x_m + z_m * z_m).sqrt().max(f64::MIN_POSITIVE);
    let aside = |place: Place, by_m: f64| Place {
        x_m: place.x_m - by_m * z_m / length_m,
        z_m: place.z_m + by_m * x_m / length_m,
    };
    [
        aside(from, radius_m),
        aside(to, radius_m),
        aside(to, -radius_m),
        aside(from, -radius_m),
    ]
}

fn walked(sheet: &Sheet, person: &PersonWay, texts: &Texts) -> Markup {
    let (Some(first), Some(last)) = (person.way.first(), person.way.last()) else {
        return html! {};
    };
    let (x, y) = sheet.at(*last);
    let name = texts.say(&words::duty(person.duty));
    html! {
        path.walk d=(sheet.path(&person.way)) {}
        circle.person cx=(number(x)) cy=(number(y)) r="5" {}
        @if person.is_down {
            // Down: crossed out, so that it shows without colour.
            path.limit d=(path([(x - 9.0, y - 9.0), (x + 9.0, y + 9.0)])) {}
            path.limit d=(path([(x - 9.0, y + 9.0), (x + 9.0, y - 9.0)])) {}
        }
        (sheet.text(*first, 9.0, &name))
    }
}

/// Five metres, and the way to the machine.
fn ruler(sheet: &Sheet, texts: &Texts) -> Markup {
    let (x, y) = (12.0, sheet.height - 12.0);
    let length = 5.0 * sheet.scale;
    html! {
        path.way d=(path([(x, y - 5.0), (x, y), (x + length, y), (x + length, y - 5.0)])) {}
        text.halo x=(number(x + length + 6.0)) y=(number(y)) paint-order="stroke" {
            (texts.say(&Message::new("paper-metres").with("value", "5")))
        }
    }
}

fn said(study: &Study, ways: &Ways, texts: &Texts) -> String {
    let moved = ways.sticks.iter().filter(|stick| stick.has_moved()).count();
    let down = ways.people.iter().filter(|person| person.is_down).count();
    texts.say(
        &Message::new("paper-plan-shows")
            .with("cones", study.spec.zone.cones.len())
            .with("sticks", moved)
            .with("people", ways.people.len())
            .with("down", down),
    )
}
