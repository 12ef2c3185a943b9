//! What a run leaves behind: the outcome with its reasons, the figures, a trace, a recording.

mod figures;
mod outcome;
mod output;
mod reasons;
mod recording;
mod replay;
mod report;
mod score;
mod trace;

pub use figures::{Blow, Figures, Reception};
pub use outcome::Outcome;
pub use output::{Output, OutputError, beside};
pub use reasons::Reason;
pub use recording::{
    Breaks, CutShort, ENDING, Head, Maker, Mode, Pose, Poses, Recorder, Recording, RecordingError,
    RecordingFile, Scored, States, part_of,
};
pub use replay::{Difference, Replay, Verification};
pub use report::{Report, asked, ended, figures};
pub use score::{Told, finding_head, finding_told, leading, result, score_lines, severity};
pub use trace::Trace;
