//! Data made up for the screens of the line.

use bevy_egui::egui::Ui;

use super::gallery::{exercise, picture, right, say, scenarios, why};
use super::gauges::Bubble;
use super::{
    function_check, hud, instructor, look_closer, look_from, parts, pendant, radio, set_out,
};
use crate::domain::finding::FindingKind;
use crate::domain::rig::End;
use crate::domain::set_out::Setting;
use crate::domain::spec::{Duty, Motion};
use crate::session::mode::Mode;
use crate::session::walk::{Thing, holes, stamped};
use crate::sim::controls::{Button, Call, Held, Upset};
use crate::sim::line::EventKind;
use crate::texts::{Message, Texts};
use crate::view::bindings::{Act, Bindings};
use crate::view::camera::CameraName;
use crate::view::icons::Mark;
use crate::view::on_foot::{self, ACCEPT_KEY, REPORT_KEY};
use crate::words;

fn bubble(name: String, seen_deg: f64, image_deg: f64) -> Bubble {
    Bubble {
        name,
        seen_deg,
        image_deg,
        scale_deg: 0.0..=12.0,
        right_deg: None,
    }
}

pub fn set_out_model(texts: &Texts) -> set_out::Model {
    use set_out::Control;
    let Some(scenario) = scenarios().get(2) else {
        return set_out::Model::default();
    };
    let things = Thing::all(&scenario.line);
    let named = |thing: &Thing| parts::sentence(&texts.say(&thing.name(&scenario.line)));
    let stands = |i: usize| {
        let (mark, id) = match i % 4 {
            0 => (Mark::Ok, "setout-accepted"),
            1 => (Mark::Note, "setout-reported"),
            _ => (Mark::Off, "setout-undecided"),
        };
        (mark, parts::sentence(&say(texts, id)))
    };
    let cranks = End::BOTH.map(|rail| {
        let name = Message::new("setout-crank").with("rail", words::rail(rail));
        let value = Message::new("setout-risen").measured("mm", 40.0, 0);
        let control = Control::Stepper {
            value: texts.say(&value),
            ends: [false, rail == End::Far],
        };
        (texts.say(&name), control)
    });
    let options = holes().into_iter().map(|hole| texts.say(&stamped(hole)));
    let size = Control::Choice {
        options: options.collect(),
        chosen: 3,
    };
    let mut rows = Vec::new();
    let mut row = |group: &'static str, name: String, control: Option<Control>| {
        rows.push(set_out::Row {
            id: rows.len(),
            group: say(texts, group),
            name,
            stands: stands(rows.len()),
            control,
        });
    };
    for (name, control) in cranks {
        row("setout-group-set", name, Some(control));
    }
    row("setout-group-set", named(&Thing::Size), Some(size));
    for thing in things.iter().filter(|thing| **thing != Thing::Size) {
        row("setout-group-walk", named(thing), None);
    }
    let near = Thing::Gauge(End::Near);
    let mut keys = on_foot::hints(texts);
    let bindings = Bindings::default();
    let key = |act| bindings.said(act, texts);
    let bound = Message::new("foot-bound")
        .with("list", key(Act::List))
        .with("start", key(Act::Done))
        .with("fold", key(Act::Fold));
    keys.push(texts.say(&bound));
    set_out::Model {
        rows,
        tape: Some(set_out::Tape {
            between: texts.say(&words::setting(&Setting::Cradles)),
            metres: 6.77,
        }),
        advice: None,
        said: Some(
            texts.say(&Message::new("told-accepted").with("thing", near.name(&scenario.line))),
        ),
        near: Some(named(&near)),
        not_yet: Some(parts::sentence(&say(texts, "fact-no-zone"))),
        refused: Some(say(texts, "refused-jack-end")),
        start_key: key(Act::Done),
        keys,
    }
}

pub fn look_model(texts: &Texts) -> look_closer::Model {
    let name = scenarios()
        .first()
        .map(|one| texts.say(&Thing::Gauge(End::Near).name(&one.line)))
        .unwrap_or_default();
    look_closer::Model {
        seen: vec![say(texts, "look-gauge")],
        gauge: Some(look_closer::Gauge::Bubble(bubble(name.clone(), 6.0, 5.1))),
        picture: None,
        said: Some(look_closer::Said::Reported),
        keys: look_closer::Keys {
            accept: ACCEPT_KEY.to_owned(),
            report: REPORT_KEY.to_owned(),
        },
        name,
    }
}

pub fn hud_model(name: &str, ui: &Ui, texts: &Texts) -> hud::Model {
    let visitor = texts.say(&words::duty(Duty::Visitor));
    let is_assessed = name == "assessed" || name == "folded";
    let is_guided = name == "guided";
    let is_practice = !is_assessed && !is_guided;
    let mode = match (is_assessed, is_guided) {
        (true, _) => Mode::Assessed,
        (_, true) => Mode::Guided,
        _ => Mode::Practice,
    };
    let step = hud::Step {
        what: right(texts, FindingKind::FedUnready),
        why: why(texts, FindingKind::FedUnready),
        done: 4,
        of: 14,
        off_path: Some(right(texts, FindingKind::LiftTilt)),
    };
    let bindings = Bindings::default();
    let clear = texts.say(&words::call(Call::Clear));
    let event = EventKind::StopSaid;
    hud::Model {
        exercise: exercise(texts, 2).name,
        mode,
        clock_s: 84.3,
        speed: if is_practice { 0.5 } else { 1.0 },
        is_paused: name == "rewound",
        is_behind: is_practice,
        is_unrecorded: name == "assessed",
        time_can_be_held: !is_assessed,
        speeds: if is_practice {
            vec![0.1, 0.25, 0.5, 1.0, 2.0, 4.0]
        } else {
            vec![0.1, 0.25, 0.5, 1.0]
        },
        zone: match (is_assessed, is_guided) {
            (true, _) => None,
            (_, true) => Some(hud::Zone::Inside(visitor.clone())),
            _ => Some(hud::Zone::Live),
        },
        step: is_guided.then_some(step),
        help_on_request: is_practice,
        may_take_over: false,
        may_say_done: true,
        instruments: is_practice.then_some(hud::Instruments {
            pitch_deg: [5.1, 4.8],
            raised_m: [0.62, 0.41],
            highest_m: 1.2,
            tilt_deg: Some(1.7),
            speed_m_per_s: 0.42,
            nearest: Some(hud::Nearest {
                who: visitor,
                distance_m: 3.4,
                is_close: false,
            }),
        }),
        captions: vec![
            parts::sentence(&clear),
            parts::sentence(&texts.say(&words::event(&event, &[]))),
        ],
        second_view: (!is_assessed).then(|| hud::SecondView {
            picture: picture(ui.ctx()),
            name: say(texts, "second-view"),
        }),
        rewind: (name == "rewound").then_some(hud::Rewind {
            from_s: 0.0,
            to_s: 84.3,
            at_s: Some(61.5),
        }),
        look: if is_assessed {
            look_from::Model::default()
        } else {
            looking_model(&bindings, texts)
        },
        check: Some(check_model(texts)),
        pendant: pendant_model(texts),
        radio: radio::Model::of(&bindings, texts),
        instructor: is_practice
            .then(|| instructor::Model::of(&bindings, texts, |upset| upset != Upset::RadioDies)),
        keys: hud::Keys::of(&bindings, texts),
    }
}

fn looking_model(bindings: &Bindings, texts: &Texts) -> look_from::Model {
    let named = |name: CameraName| {
        let key = bindings.said(Act::Look(name), texts);
        (texts.say(&name.said()), key)
    };
    look_from::Model {
        cameras: CameraName::ALL.map(named).into(),
        camera: 0,
        drawn: ["drawn-zone", "drawn-fire", "drawn-forces"]
            .map(|id| (say(texts, id), id == "drawn-zone"))
            .into(),
    }
}

fn check_model(texts: &Texts) -> function_check::Model {
    use function_check::Stands;
    let stands = |motion| match motion {
        Motion::Receiver => Stands::Accepted,
        Motion::LiftNear => Stands::Reported,
        Motion::LiftFar => Stands::PutRight,
        _ => Stands::Open,
    };
    let seen = |motion| {
        let [out, back] = Button::of(motion);
        let went = |id, button| {
            let went = Message::new(id)
                .with("button", words::button(button))
                .measured("late", 0.2, 1)
                .measured("speed", 52.0, 0)
                .measured("usual", 55.0, 0);
            texts.say(&went)
        };
        match motion {
            Motion::Receiver | Motion::ShiftNear => {
                vec![
                    went("check-went-along", out),
                    went("check-went-along", back),
                ]
            }
            Motion::LiftNear => vec![went("check-went-against", out)],
            _ => Vec::new(),
        }
    };
    let row = |&motion: &Motion| function_check::Row {
        motion,
        name: parts::sentence(&texts.say(&words::motion(motion))),
        seen: seen(motion),
        stands: stands(motion),
    };
    function_check::Model {
        motions: Motion::ALL.iter().map(row).collect(),
    }
}

pub fn pendant_model(texts: &Texts) -> pendant::Model {
    pendant::Model {
        held: Held::NONE.with(Button::LiftBothUp),
        is_stopped: false,
        is_isolated: false,
        lamps: pendant::Lamps {
            power: true,
            receiver_ready: false,
            gate_blocked: true,
            interlock: true,
        },
        hints: pendant::Hints::of(&Bindings::default(), texts),
        ..pendant::Model::default()
    }
}
