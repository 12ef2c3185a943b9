//! `chockline score`: the score of a recording, from what is in it alone.

use std::io::Write;
use std::path::PathBuf;

use super::{BAD_INPUT, FAILED, PASSED, complain};
use crate::evidence::{Output, Recording, score_lines};
use crate::scenario::name_of;
use crate::texts::{Message, Texts};

#[derive(Clone, Debug, clap::Args)]
pub struct ScoreArgs {
    #[arg(value_name = "RECORDING")]
    pub recording: PathBuf,

    #[arg(long, value_name = "FILE")]
    pub json: Option<PathBuf>,
}

/// Scores a recording and returns the exit status.
pub fn run(args: &ScoreArgs, texts: &Texts) -> u8 {
    let scored = Recording::load(&args.recording)
        .and_then(|recording| recording.judged().map(|judged| (recording, judged)));
    let (recording, (scenario, verdict)) = match scored {
        Ok(scored) => scored,
        Err(error) => {
            let bad = Message::new("recording-bad")
                .with("file", name_of(&args.recording))
                .with("error", error.message());
            return complain(&texts.say(&bad), BAD_INPUT);
        }
    };
    if let Some(path) = &args.json {
        let mut bytes = match serde_json::to_vec_pretty(&verdict) {
            Ok(bytes) => bytes,
            Err(error) => {
                let failed = Message::new("cli-not-json").with("error", error.to_string());
                return complain(&texts.say(&failed), BAD_INPUT);
            }
        };
        bytes.push(b'\n');
        if let Err(error) = Output::open(path).and_then(|output| output.write(&bytes)) {
            return complain(&texts.say(&error.message()), BAD_INPUT);
        }
    }
    let head = Message::new("score-of")
        .with("scenario", scenario.texts(texts.lang()).name)
        .with("operator", recording.operator.as_str())
        .with("seed", recording.seed.to_string());
    let mut lines = vec![texts.say(&head)];
    lines.extend(score_lines(&verdict, &[], texts));
    lines.push(format!("\n{}\n", texts.say(&Message::new("caution"))));
    // Whoever closed the output early has read enough.
    let _ = std::io::stdout()
        .lock()
        .write_all(lines.join("\n").as_bytes());
    if verdict.score.passed { PASSED } else { FAILED }
}
