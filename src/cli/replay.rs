//! `chockline replay`: a recording run again from its inputs, and every state compared.

use std::path::PathBuf;

use super::run::progress_bar;
use super::{BAD_INPUT, FAILED, PASSED, complain, print};
use crate::evidence::{Difference, Recording, Replay};
use crate::judge::time_s;
use crate::scenario::name_of;
use crate::texts::{Message, Texts};
use crate::words;

#[derive(Clone, Debug, clap::Args)]
pub struct ReplayArgs {
    #[arg(value_name = "RECORDING")]
    pub recording: PathBuf,
}

/// Runs a recording again and returns the exit status.
pub fn run(args: &ReplayArgs, texts: &Texts) -> u8 {
    let replayed = Recording::load(&args.recording).and_then(|recording| {
        let progress = progress_bar(time_s(recording.log.ticks), texts);
        let replay = recording.replay(|line| {
            if line.tick_count().is_multiple_of(60) {
                progress.set_position((1000.0 * line.time_s()) as u64);
            }
        });
        progress.finish_and_clear();
        replay
    });
    match replayed {
        Ok(replay) => {
            print(&format!("{}\n", texts.say(&said(&replay))));
            if replay.differs.is_none() {
                PASSED
            } else {
                FAILED
            }
        }
        Err(error) => {
            let bad = Message::new("recording-bad")
                .with("file", name_of(&args.recording))
                .with("error", error.message());
            complain(&texts.say(&bad), BAD_INPUT)
        }
    }
}

fn said(replay: &Replay) -> Message {
    match replay.differs {
        None => Message::new("replay-agrees")
            .with("states", replay.states)
            .with("tick", replay.ticks.to_string())
            .measured("time", time_s(replay.ticks), 2),
        Some(Difference::State { tick }) => Message::new("replay-state")
            .with("tick", tick.to_string())
            .measured("time", time_s(tick), 2),
        Some(Difference::Log) => Message::new("replay-log"),
        Some(Difference::Outcome) => Message::new("replay-outcome"),
        Some(Difference::Fault(fault)) => {
            Message::new("cli-simulation-failed").with("fault", words::sim_fault(fault))
        }
    }
}
