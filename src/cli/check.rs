//! `chockline check`: what is wrong with a scenario file, all at once.

use std::io::{self, Write};
use std::path::PathBuf;

use super::{BAD_INPUT, PASSED};
use crate::domain::math::deg;
use crate::domain::spec::{EscapementKind, Surface};
use crate::scenario::{self, LoadError, Loaded, Scenario};

/// Check scenario files before a class or a run.
///
/// Each file is read, every field is held against what is allowed, and the fields against each
/// other. All faults are listed at once, as file:line:column, the field, what was found, what is
/// allowed and what was probably meant. Warnings point out what can be tried but is not common
/// practice; they do not make a file fail.
///
/// The exit status is 0 if every file is sound and 2 if one is not.
#[derive(Clone, Debug, clap::Args)]
pub struct CheckArgs {
    /// Scenario files (.ron) to check
    #[arg(value_name = "FILE", required_unless_present = "fields")]
    pub files: Vec<PathBuf>,

    /// List every field a scenario file can have: what it may hold, its default, its meaning
    #[arg(long)]
    pub fields: bool,
}

/// Checks the files, prints what there is to say, and returns the exit status.
pub fn run(args: &CheckArgs) -> u8 {
    check(args, &mut io::stdout().lock())
}

/// The same, printed elsewhere.
pub fn check(args: &CheckArgs, out: &mut impl Write) -> u8 {
    let mut report = String::new();
    let mut status = PASSED;
    if args.fields {
        report.push_str(&scenario::field_reference());
    }
    for path in &args.files {
        let file = scenario::name_of(path);
        match scenario::load(path) {
            Ok(loaded) => report.push_str(&sound(&file, &loaded)),
            Err(error) => {
                status = BAD_INPUT;
                report.push_str(&format!("{error}\n"));
                if let LoadError::Faulty(faults) = &error {
                    let count = counted(faults.len(), "fault");
                    report.push_str(&format!("{file}: {count}\n"));
                }
            }
        }
    }
    // Whoever closed the output early has read enough.
    let _ = out.write_all(report.as_bytes());
    status
}

/// What there is to say of a sound file.
fn sound(file: &str, loaded: &Loaded) -> String {
    let mut lines = String::new();
    for warning in &loaded.warnings {
        lines.push_str(&format!("warning: {warning}\n"));
    }
    lines + &format!("{file}: ok: {}\n", summary(&loaded.scenario))
}

fn counted(count: usize, noun: &str) -> String {
    let plural = if count == 1 { "" } else { "s" };
    format!("{count} {noun}{plural}")
}

/// One line that lets a trainer recognise the scenario.
fn summary(scenario: &Scenario) -> String {
    let line = &scenario.line;
    let mut parts = vec![scenario.texts.name.clone()];
    if let Some(first) = line.sticks.first() {
        let pipe = &first.pipe;
        parts.push(format!(
            "{} of OD {:.0} mm, wall {:.1} mm, {:.2} m long",
            counted(line.sticks.len(), "stick"),
            pipe.outside_diameter_m * 1e3,
            pipe.wall_min_m * 1e3,
            pipe.length_m
        ));
    }
    let rails = [line.rack.near_rail, line.rack.far_rail].map(|rail| {
        let surface = match rail.surface {
            Surface::Dry => "dry",
            Surface::Wet => "wet",
            Surface::Frosted => "frosted",
            Surface::Glazed => "glazed",
        };
        format!("{:.1} deg {surface}", deg(rail.pitch_rad))
    });
    let [near, far] = &rails;
    parts.push(if near == far {
        format!("rails {near}")
    } else {
        format!("near rail {near}, far rail {far}")
    });
    let kind = match line.escapement.kind {
        EscapementKind::PinPair => "pin pair",
        EscapementKind::StarWheel => "star wheel",
    };
    parts.push(format!(
        "{kind} set for OD {:.0} mm",
        line.escapement.size_setting_m * 1e3
    ));
    parts.join("; ")
}
