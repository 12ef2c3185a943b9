//! A run that a trainee makes: its mode, its rules, its story. Knows no window.
//!
//! | module | what it is |
//! |---|---|
//! | [`mode`] | guided, practice, assessed, demonstration: what each allows |
//! | [`library`] | the scenarios that there are to choose from |
//! | [`course`] | what is to be run, by whom, in which mode |
//! | [`brief`] | what is known of a line before the walk-round |
//! | [`run`] | a run, tick by tick; rewinding and taking over |
//! | [`finished`] | a run that is over: looking back, inquiries, trying again |
//! | [`lookback`] | any moment of a run, without changing it |
//! | [`clock`] | real time to ticks |
//! | [`hands`] | devices to controls, as a dead man's control does |
//! | [`vote`] | what a class expects, and what came |
//! | [`store`] | where recordings and results are kept |
//! | [`leftover`] | what a run that is cut short leaves behind |
//! | [`coach`], [`drills`] | what is next, and why |
//! | [`commentary`] | what happens, in captions |
//! | [`story`], [`debrief`] | what happened, and why |
//! | [`walk`] | set-out and walk-round |
//! | [`going`] | runs that are being made now, by whichever program |
//! | [`settings`] | what the user has chosen |

pub mod brief;
pub mod clock;
pub mod coach;
pub mod commentary;
pub mod course;
pub mod debrief;
pub mod drills;
pub mod finished;
pub mod going;
pub mod hands;
pub mod leftover;
pub mod library;
pub mod lookback;
pub mod mode;
pub mod run;
pub mod settings;
pub mod store;
pub mod story;
pub mod vote;
pub mod walk;

pub use clock::{Clock, Speed};
pub use course::{Course, Ticket};
pub use finished::{Failed, Finished, Inquest};
pub use hands::{Hands, Input, Source};
pub use library::Library;
pub use lookback::Lookback;
pub use mode::Mode;
pub use run::{Driver, Run, Step};
pub use settings::Settings;
pub use store::Store;
