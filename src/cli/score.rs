//! `chockline score`: the score of a recording, from what is in it alone.

use std::path::{Path, PathBuf};

use super::{BAD_INPUT, FAILED, PASSED, complain, print, to_json};
use crate::evidence::{Output, OutputError, Recording, score_lines};
use crate::judge::Verdict;
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
    if let Some(path) = &args.json
        && let Err(error) = write(path, &args.recording, &verdict)
    {
        return complain(&texts.say(&error), BAD_INPUT);
    }
    let head = Message::new("score-of")
        .with("scenario", scenario.texts(texts.lang()).name)
        .with("operator", recording.head.operator.as_str())
        .with("seed", recording.head.seed.to_string());
    let mut lines = vec![texts.say(&head)];
    if let Some(cut) = &recording.cut_short {
        lines.push(texts.say(&cut.said(recording.log.ticks)));
    }
    lines.extend(score_lines(&verdict, &[], texts));
    lines.push(format!("\n{}\n", texts.say(&Message::new("caution"))));
    print(&lines.join("\n"));
    if verdict.score.passed { PASSED } else { FAILED }
}

/// Writes the verdict for machines, and never over the recording itself.
fn write(path: &Path, recording: &Path, verdict: &Verdict) -> Result<(), Message> {
    let bytes = to_json(verdict)?;
    let output = Output::open(path).map_err(|error| error.message())?;
    if output.replaces(recording) {
        let taken = OutputError::Taken {
            path: path.to_owned(),
            what: "output-recording",
        };
        return Err(taken.message());
    }
    output.write(&bytes).map_err(|error| error.message())
}
