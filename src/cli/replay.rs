//! `chockline replay`: what a recording holds, run again from its inputs; and whether all of it follows
//! from them.

use std::path::PathBuf;

use super::run::progress_bar;
use super::{BAD_INPUT, CUT_SHORT, FAILED, FAULT, PARTLY, PASSED, complain, print};
use crate::evidence::{Difference, Recording, RecordingError, Verification};
use crate::judge::time_s;
use crate::scenario::name_of;
use crate::sim::line::Line;
use crate::texts::{Message, Texts};
use crate::words;

#[derive(Clone, Debug, clap::Args)]
pub struct ReplayArgs {
    #[arg(value_name = "RECORDING")]
    pub recording: PathBuf,

    #[arg(long)]
    pub verify: bool,
}

/// Runs a recording again and returns the exit status.
pub fn run(args: &ReplayArgs, texts: &Texts) -> u8 {
    let replayed = Recording::load(&args.recording).and_then(|recording| {
        let progress = progress_bar(time_s(recording.log.ticks), texts);
        let watch = |line: &Line| {
            if line.tick_count().is_multiple_of(60) {
                progress.set_position((1000.0 * line.time_s()) as u64);
            }
        };
        let told = if args.verify {
            let verification = recording.verify(watch)?;
            let told = proved(&recording, &verification);
            (told, status(&verification))
        } else {
            shown(&recording, texts, watch)?
        };
        progress.finish_and_clear();
        Ok((recording, told))
    });
    match replayed {
        Ok((recording, (said, status))) => {
            let lines = identity(&recording, texts).into_iter().chain(said);
            let lines: Vec<String> = lines.map(|line| texts.say(&line)).collect();
            print(&format!("{}\n", lines.join("\n")));
            status
        }
        Err(error) => {
            let bad = Message::new("recording-bad")
                .with("file", name_of(&args.recording))
                .with("error", error.message());
            complain(&texts.say(&bad), BAD_INPUT)
        }
    }
}

/// Who made it, of what, and when.
fn identity(recording: &Recording, texts: &Texts) -> Vec<Message> {
    let head = &recording.head;
    let maker = &head.maker;
    let mut said = vec![
        Message::new("replay-of")
            .with("course", head.course.as_str())
            .with("seed", head.seed.to_string())
            .with("mode", head.mode.said())
            .with("operator", head.operator.as_str()),
    ];
    if let Some(trainee) = &head.trainee {
        said.push(Message::new("replay-trainee").with("trainee", trainee.as_str()));
    }
    said.push(
        Message::new("replay-made")
            .with("at", head.at.to_string())
            .with("program", maker.program.as_str())
            .with("version", maker.version.as_str())
            .with("platform", maker.platform.as_str()),
    );
    if let Some(cut) = &recording.cut_short {
        said.push(cut.said(recording.log.ticks));
    }
    if let Some(checksum) = recording.checksum {
        said.push(Message::new("replay-checksum").with("checksum", format!("{checksum:016x}")));
    }
    if let Some(scored) = &recording.scored {
        let id = if scored.passed {
            "replay-passed"
        } else {
            "replay-failed"
        };
        said.push(
            Message::new(id)
                .measured("points", scored.points, 0)
                .with("outcome", texts.say(&recording.outcome.headline())),
        );
    }
    said
}

/// What happens when it is run again.
fn shown(
    recording: &Recording,
    texts: &Texts,
    mut watch: impl FnMut(&Line),
) -> Result<(Vec<Message>, u8), RecordingError> {
    let (_, spec) = recording.as_run()?;
    let mut line = Line::build(&spec);
    while line.tick_count() < recording.log.ticks {
        line.tick(&recording.log.controls_at(line.tick_count() + 1));
        if let Some(fault) = line.fault() {
            let said = Message::new("cli-simulation-failed").with("fault", words::sim_fault(fault));
            return Ok((vec![said], FAULT));
        }
        watch(&line);
    }
    let events = line.events().iter();
    let mut said: Vec<Message> = events
        .map(|event| {
            Message::new("replay-event")
                .measured("time", time_s(event.tick), 2)
                .with("event", texts.say(&words::event(&event.kind, &spec.people)))
        })
        .collect();
    said.push(
        Message::new("replay-ends")
            .measured("time", time_s(recording.log.ticks), 2)
            .with("tick", recording.log.ticks.to_string()),
    );
    let status = match &recording.scored {
        None => CUT_SHORT,
        Some(scored) if scored.passed => PASSED,
        Some(_) => FAILED,
    };
    Ok((said, status))
}

fn status(verification: &Verification) -> u8 {
    match (&verification.replay.differs, verification.same_bits) {
        (Some(Difference::Fault(_)), true) => FAULT,
        _ if verification.is_verified() && verification.cut_short => CUT_SHORT,
        _ if verification.is_verified() => PASSED,
        (Some(_), false) if verification.is_consistent() => PARTLY,
        _ => FAILED,
    }
}

/// What is proved, and what is not.
fn proved(recording: &Recording, verification: &Verification) -> Vec<Message> {
    let replay = &verification.replay;
    let at = |id: &'static str, tick: u64| {
        Message::new(id)
            .with("tick", tick.to_string())
            .measured("time", time_s(tick), 2)
    };
    if verification.is_verified() {
        let id = if verification.cut_short {
            "replay-verified-so-far"
        } else {
            "replay-verified"
        };
        return vec![at(id, replay.ticks).with("states", replay.states)];
    }
    let mut said = Vec::new();
    match &replay.differs {
        None => {}
        Some(Difference::State { tick, bodies }) => {
            let mut bodies = bodies.iter().map(|body| words::body(*body));
            said.push(match bodies.next() {
                Some(first) => at("replay-departs", *tick).with("body", first),
                None => at("replay-departs-somewhere", *tick),
            });
            said.extend(bodies.map(|body| Message::new("replay-departs-too").with("body", body)));
        }
        Some(Difference::Poses { tick, stick }) => {
            said.push(at("replay-poses", *tick).with("body", words::stick(*stick)));
        }
        Some(Difference::Log) => said.push("replay-log".into()),
        Some(Difference::Outcome) => said.push("replay-outcome".into()),
        Some(Difference::Score) => said.push("replay-score".into()),
        Some(Difference::Fault(fault)) => {
            said.push(Message::new("cli-simulation-failed").with("fault", words::sim_fault(*fault)))
        }
    }
    if verification.same_bits {
        said.push("replay-not-verified".into());
        return said;
    }
    said.push("replay-other-bits".into());
    said.push(match verification.score_follows {
        Some(true) => "replay-score-follows".into(),
        Some(false) => "replay-score-does-not-follow".into(),
        None => "replay-no-score".into(),
    });
    said.push(match verification.contradicted {
        Some(tick) => at("replay-contradicted", tick),
        None => Message::new("replay-poses-fit")
            .with("events", verification.placed_events)
            .with("poses", recording.states.poses.len()),
    });
    said.push(match replay.looks_other {
        Some(tick) => at("replay-looks-other", tick),
        None => "replay-looks-alike".into(),
    });
    said.push("replay-not-proved".into());
    said
}
