//! Data made up for the screens of the line.

use bevy_egui::egui::{Key, Ui};

use super::gallery::{exercise, picture, right, say, why};
use super::gauges::Bubble;
use super::{function_check, hud, look_closer, look_from, parts, pendant, radio, set_out};
use crate::domain::finding::FindingKind;
use crate::domain::rig::End;
use crate::domain::set_out::{SetOutFault, Setting};
use crate::domain::spec::{Duty, Item, Motion};
use crate::session::mode::Mode;
use crate::sim::controls::{Button, Call, Held};
use crate::sim::line::EventKind;
use crate::texts::{Message, Texts};
use crate::view::camera::CameraName;
use crate::words;

fn bubble(name: String, at_deg: f64, eye: f64) -> Bubble {
    Bubble {
        name,
        at_deg,
        eye,
        scale_deg: 0.0..=12.0,
        right_deg: None,
    }
}

pub fn set_out_model(texts: &Texts) -> set_out::Model {
    use set_out::Control;
    let named = |setting: Setting| parts::sentence(&texts.say(&words::setting(&setting)));
    let degrees = |value: f64| format!("{value:.1}°");
    let rack = parts::sentence(&say(texts, "setout-title"));
    let cradles = parts::sentence(&say(texts, "instruments-heights"));
    let mut rows = Vec::new();
    let mut row = |group: &str, name: String, as_found: String, control: Control| {
        rows.push(set_out::Row {
            id: rows.len(),
            group: group.to_owned(),
            name,
            as_found,
            control,
            changed: false,
            barred: None,
            bubble: None,
        });
    };
    for (rail, pitch_deg) in [(End::Near, 7.5), (End::Far, 4.5)] {
        let name = named(Setting::Pitch {
            rail,
            pitch_rad: 0.0,
        });
        let control = Control::Stepper {
            value: degrees(pitch_deg),
            ends: [false, false],
        };
        row(&rack, name, degrees(7.5), control);
    }
    let sizes = [
        "450 mm", "500 mm", "560 mm", "610 mm", "710 mm", "800 mm", "914 mm",
    ];
    let sizes = sizes.map(|size| size.replace(' ', "\u{202f}"));
    let control = Control::Choice {
        options: sizes.to_vec(),
        chosen: 3,
    };
    row(
        &rack,
        named(Setting::Size { diameter_m: 0.6 }),
        sizes[4].clone(),
        control,
    );
    let done = |text: &str| Control::Deed {
        text: parts::sentence(text),
        is_done: false,
    };
    let repair = texts.say(&words::call(Call::Repair(Item::Radio)));
    row(
        &rack,
        named(Setting::Pins(End::Far)),
        say(texts, "keys-none"),
        done(&repair),
    );
    let chock = texts.say(&words::call(Call::Chock));
    row(
        &rack,
        named(Setting::Chock(End::Near)),
        say(texts, "keys-none"),
        Control::Deed {
            text: parts::sentence(&chock),
            is_done: true,
        },
    );
    let control = Control::Toggle {
        text: named(Setting::ColumnPads(End::Far)),
        is_on: true,
    };
    row(
        &cradles,
        named(Setting::ColumnPads(End::Far)),
        say(texts, "keys-none"),
        control,
    );
    let control = Control::Stepper {
        value: "6.77\u{202f}m".to_owned(),
        ends: [true, false],
    };
    row(
        &cradles,
        named(Setting::Cradles),
        "6.10\u{202f}m".to_owned(),
        control,
    );
    if let [near, far, size, ..] = rows.as_mut_slice() {
        near.bubble = Some(bubble(near.name.clone(), 7.5, 0.0));
        far.bubble = Some(bubble(far.name.clone(), 4.5, 0.6));
        far.changed = true;
        let setting = Setting::Size { diameter_m: 0.6 };
        let fault = SetOutFault::PipeOnRack(setting);
        let barred = texts.say(&words::set_out_fault(&fault));
        size.barred = Some(parts::sentence(&barred));
    }
    set_out::Model {
        keys: ["foot-walk", "foot-close"].map(|id| say(texts, id)).into(),
        rows,
        tape: Some(set_out::Tape {
            between: texts.say(&words::setting(&Setting::Cradles)),
            metres: 6.77,
        }),
        advice: None,
        said: None,
        near: Some(parts::sentence(
            &texts.say(&words::item(Item::Rail(End::Near))),
        )),
        not_yet: Some(parts::sentence(&say(texts, "fact-no-zone"))),
        refused: None,
    }
}

pub fn look_model(texts: &Texts) -> look_closer::Model {
    let name = texts.say(&words::item(Item::Rail(End::Near)));
    look_closer::Model {
        seen: vec![
            right(texts, FindingKind::PitchOutside),
            why(texts, FindingKind::PitchOutside),
        ],
        gauge: Some(look_closer::Gauge::Bubble(bubble(name.clone(), 5.5, 0.7))),
        picture: None,
        said: Some(look_closer::Said::Reported),
        name,
    }
}

pub fn hints() -> pendant::Hints {
    let keys = [
        (Button::Feed, "F"),
        (Button::ReceiverUp, "T"),
        (Button::ReceiverDown, "G"),
        (Button::LiftNearUp, "U"),
        (Button::LiftNearDown, "J"),
        (Button::LiftBothUp, "I"),
        (Button::LiftBothDown, "K"),
        (Button::LiftFarUp, "O"),
        (Button::LiftFarDown, "L"),
        (Button::ShiftNearOut, "Comma"),
        (Button::ShiftNearIn, "M"),
        (Button::ShiftFarOut, "Period"),
        (Button::ShiftFarIn, "N"),
        (Button::TurnOut, "X"),
        (Button::TurnIn, "Z"),
        (Button::AdvanceOn, "PageUp"),
        (Button::AdvanceBack, "PageDown"),
        (Button::Horn, "H"),
    ];
    pendant::Hints {
        buttons: keys.map(|(button, key)| (button, key.to_owned())).into(),
        stop: Key::Space.name().to_owned(),
        reset: Key::F8.name().to_owned(),
        isolate: Key::F9.name().to_owned(),
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
    let clear = texts.say(&words::call(Call::Clear));
    let event = EventKind::StopSaid;
    hud::Model {
        exercise: exercise(texts, 2).name,
        mode,
        clock_s: 84.3,
        speed: if is_practice { 0.5 } else { 1.0 },
        is_paused: name == "rewound",
        is_behind: is_practice,
        time_can_be_held: !is_assessed,
        zone: match (is_assessed, is_guided) {
            (true, _) => None,
            (_, true) => Some(hud::Zone::Inside(visitor.clone())),
            _ => Some(hud::Zone::Live),
        },
        step: is_guided.then_some(step),
        help_on_request: is_practice,
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
            parts::sentence(&texts.say(&words::event(&event))),
        ],
        second_view: Some(hud::SecondView {
            picture: picture(ui.ctx()),
            name: parts::sentence(&texts.say(&words::end(End::Far))),
        }),
        rewind: (name == "rewound").then_some(hud::Rewind {
            from_s: 0.0,
            to_s: 84.3,
            at_s: Some(61.5),
        }),
        look: look_from::Model {
            cameras: CameraName::ALL.map(|name| texts.say(&name.said())).into(),
            camera: 0,
            drawn: ["drawn-zone", "drawn-fire", "drawn-forces"]
                .map(|id| (say(texts, id), id == "drawn-zone"))
                .into(),
        },
        check: Some(check_model(texts)),
        pendant: pendant_model(),
        radio: radio::Model {
            calls: vec![
                Call::Clear,
                Call::Load,
                Call::Chock,
                Call::Unchock,
                Call::Hold,
                Call::BarFromEnd(End::Near),
                Call::BarFromBelow,
                Call::Clamp,
                Call::Unclamp,
                Call::Repair(Item::Motion(Motion::LiftNear)),
            ],
            has_cranks: true,
        },
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

pub fn pendant_model() -> pendant::Model {
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
        hints: hints(),
        ..pendant::Model::default()
    }
}
