//! What a run leaves behind: the outcome with its reasons, the figures, a trace, a recording.

mod figures;
mod outcome;
mod output;
mod reasons;
mod recording;
mod report;
mod trace;

pub use figures::{Blow, Figures, Reception};
pub use outcome::Outcome;
pub use output::{Output, OutputError};
pub use reasons::Reason;
pub use recording::{Recorder, Recording};
pub use report::Report;
pub use trace::Trace;

/// What must stand under every report.
pub const CAUTION: &str = "A training aid. It does not replace the maker's manual, qualified \
instruction, local codes, a site risk assessment, or a lift plan and ground check by a qualified \
or licensed person.";
