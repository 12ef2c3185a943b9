//! Records that hold up: people, classes, attempts with their findings, sign-offs; in one file (SQLite)
//! that several programs may write to at once. Knows no window and no session.
//!
//! | module | what it is |
//! |---|---|
//! | `store` | the file: versions, checking, backup and restore |
//! | `disk` | what kind of disk it lies on |
//! | `people` | people, classes, and forgetting them |
//! | `attempts` | attempts, findings, corrections, sign-offs, due dates |
//! | `standing` | the best that has come of a scenario |
//! | `summary` | a class at a glance |
//! | `carried` | records that go from one machine to another |
//! | `table` | attempts as CSV |
//! | [`xapi`] | statements for a record store |
//! | `certificate` | a page about one attempt |
//! | `uid` | ids that follow from a name |

mod attempts;
mod carried;
mod certificate;
mod disk;
mod error;
mod people;
mod sql;
mod standing;
mod store;
mod summary;
mod table;
mod uid;
pub mod xapi;

pub use attempts::{
    Attempt, Corrected, Correction, Due, Found, Kept, SignOff, What, Which, known_kind,
};
pub use carried::{Carried, TakenIn};
pub use certificate::{Trained, certificate, name_or_nobody, what_of};
pub use disk::Disk;
pub use error::RecordsError;
pub use people::{ClassId, Person, PersonId};
pub use standing::Standing;
pub use store::{Checked, FILE, Records};
pub use summary::{
    Exercise, LAST_ROUND, MOST_FINDINGS, MOST_OPEN, OfExercise, OfKind, OfPerson, Round, Summary,
};
pub use uid::uid_named;
