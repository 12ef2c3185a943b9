//! `chockline check`: what is wrong with a scenario file, all at once.

use std::io::{self, Write};
use std::path::PathBuf;

use super::{BAD_INPUT, PASSED};
use crate::domain::math::deg;
use crate::domain::spec::EscapementKind;
use crate::scenario::{self, LoadError, Loaded, Scenario};
use crate::texts::{Message, Texts};
use crate::words;

#[derive(Clone, Debug, clap::Args)]
pub struct CheckArgs {
    #[arg(value_name = "FILE", required_unless_present = "fields")]
    pub files: Vec<PathBuf>,

    #[arg(long)]
    pub fields: bool,
}

/// Checks the files, prints what there is to say, and returns the exit status.
pub fn run(args: &CheckArgs, texts: &Texts) -> u8 {
    check(args, texts, &mut io::stdout().lock())
}

/// The same, printed elsewhere.
pub fn check(args: &CheckArgs, texts: &Texts, out: &mut impl Write) -> u8 {
    let mut report = String::new();
    let mut status = PASSED;
    if args.fields {
        report.push_str(&scenario::field_reference(texts));
    }
    for path in &args.files {
        let file = scenario::name_of(path);
        match scenario::load(path) {
            Ok(loaded) => report.push_str(&sound(&file, &loaded, texts)),
            Err(error) => {
                status = BAD_INPUT;
                report.push_str(&format!("{}\n", error.say(texts)));
                if let LoadError::Faulty(faults) = &error {
                    let count = Message::new("check-faults")
                        .with("file", file)
                        .with("faults", faults.len());
                    report.push_str(&format!("{}\n", texts.say(&count)));
                }
            }
        }
    }
    // Whoever closed the output early has read enough.
    let _ = out.write_all(report.as_bytes());
    status
}

/// What there is to say of a sound file.
fn sound(file: &str, loaded: &Loaded, texts: &Texts) -> String {
    let mut lines = String::new();
    for warning in &loaded.warnings {
        lines.push_str(&format!("{}\n", super::warned(warning, texts)));
    }
    lines + &format!("{file}: ok: {}\n", summary(&loaded.scenario, texts))
}

/// One line that lets a trainer recognise the scenario.
fn summary(scenario: &Scenario, texts: &Texts) -> String {
    let line = &scenario.line;
    let mut parts = vec![scenario.texts(texts.lang()).name];
    if let Some(first) = line.sticks.first() {
        let pipe = &first.pipe;
        parts.push(
            texts.say(
                &Message::new("check-row")
                    .with("sticks", line.sticks.len())
                    .measured("od", pipe.outside_diameter_m * 1e3, 0)
                    .measured("wall", pipe.wall_min_m * 1e3, 1)
                    .measured("length", pipe.length_m, 2),
            ),
        );
    }
    let [near, far] = [line.rack.near_rail, line.rack.far_rail].map(|rail| {
        Message::new("check-rail")
            .measured("pitch", deg(rail.pitch_rad), 1)
            .with("surface", words::surface(rail.surface))
    });
    parts.push(texts.say(&if near == far {
        Message::new("check-rails").with("rail", near)
    } else {
        Message::new("check-two-rails")
            .with("near", near)
            .with("far", far)
    }));
    let kind = match line.escapement.kind {
        EscapementKind::PinPair => "check-pin-pair",
        EscapementKind::StarWheel => "check-star-wheel",
    };
    parts.push(texts.say(&Message::new(kind).measured(
        "od",
        line.escapement.size_setting_m * 1e3,
        0,
    )));
    parts.join("; ")
}
