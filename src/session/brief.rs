//! What somebody knows of a line before they walk round it: from the order, from the pipe's print line and
//! from the plates. Nothing that is to be found out.

use super::walk::{hole_for, stamped};
use crate::domain::pipe::Pipe;
use crate::domain::spec::{Duty, EscapementKind, Hand, LineSpec};
use crate::texts::Message;
use crate::words;

/// Something that is known: what, and how it is.
#[derive(Clone, Debug, PartialEq)]
pub struct Fact {
    pub name: Message,
    pub value: Message,
}

/// Pipe, rig and weather.
pub fn facts(spec: &LineSpec) -> Vec<Fact> {
    let fact = |name: &'static str, value: Message| Fact {
        name: name.into(),
        value,
    };
    let mut facts = Vec::new();
    if let Some(stick) = spec.sticks.first() {
        facts.push(fact("known-pipe", pipe(&stick.pipe)));
        facts.push(fact("known-stick", stick_of(&stick.pipe)));
    }
    let brought = spec.loader.as_ref().map_or(0, |loader| loader.sticks);
    let row = Message::new("known-row-is")
        .with("sticks", spec.sticks.len() as u64)
        .with("brought", brought as u64);
    facts.push(fact("known-row", row));
    facts.push(fact(
        "known-rack",
        Message::new("known-rack-is").measured("rated", spec.rack.rated_load_n / 1000.0, 0),
    ));
    facts.push(fact(
        "known-escapement",
        Message::new(match spec.escapement.kind {
            EscapementKind::PinPair => "known-escapement-pins",
            EscapementKind::StarWheel => "known-escapement-wheel",
        }),
    ));
    facts.push(fact(
        "known-hand",
        Message::new(match spec.hand {
            Hand::Right => "known-hand-right",
            Hand::Left => "known-hand-left",
        }),
    ));
    let joint = Message::new("known-joint-is").measured("time", spec.machine.joint_time_s, 0);
    facts.push(fact("known-joint", joint));
    let weather = Message::new("known-weather-is")
        .measured("temperature", spec.weather.temperature_c, 0)
        .measured("wind", spec.weather.wind_speed_m_per_s, 0);
    facts.push(fact("known-weather", weather));
    facts
}

/// Who works on the line, each duty once, in the order in which they stand in the scenario.
pub fn crew(spec: &LineSpec) -> Vec<Message> {
    let mut duties: Vec<Duty> = Vec::new();
    for person in &spec.people {
        if person.duty != Duty::Visitor && !duties.contains(&person.duty) {
            duties.push(person.duty);
        }
    }
    duties.into_iter().map(words::duty).collect()
}

fn pipe(pipe: &Pipe) -> Message {
    let size = hole_for(pipe.outside_diameter_m);
    Message::new("known-pipe-is")
        .with("size", size.map_or_else(|| "size-odd".into(), stamped))
        .measured("ratio", pipe.dimension_ratio(), 0)
        .measured("diameter", 1000.0 * pipe.outside_diameter_m, 0)
}

fn stick_of(pipe: &Pipe) -> Message {
    Message::new("known-stick-is")
        .measured("length", pipe.length_m, 2)
        .measured("mass", pipe.mass_kg() / 1000.0, 2)
}
