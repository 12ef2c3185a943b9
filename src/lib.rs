//! Chockline: a simulator of the pitched-rack line that feeds large polyethylene pipe, one stick at
//! a time, to a butt-fusion machine.
//!
//! The map; no logic lives here. The direction of dependencies is
//! `cli -> {view, lab, report} -> session -> records -> evidence -> judge -> operator -> sim -> domain` and `scenario -> domain`; a test reads the sources
//! and holds them to it.
//!
//! | module | what it is |
//! |---|---|
//! | [`domain`] | the subject: pipe, rig, formulas, limits. No engine, no files, no clock |
//! | [`scenario`] | the file format: raw text to checked, built [`domain::spec::LineSpec`] |
//! | [`sim`] | the core: rigid-body world, tube contacts, the line's machinery |
//! | [`operator`] | who drives the line |
//! | [`judge`] | what a run is worth: findings, causes, score |
//! | [`evidence`] | what a run leaves behind: outcome, trace, recording |
//! | [`records`] | the records of people, classes and attempts, and what is made of them |
//! | [`lab`] | many runs of one line with its numbers varied, and what they say |
//! | [`session`] | a run that a trainee makes: modes, rewind, coach, story |
//! | [`report`] | a recorded run on paper: one page of HTML with everything that is to be said of it |
//! | [`view`] | the window and the pictures (feature `view`) |
//! | [`texts`] | the catalogue: every text for people, in every language |
//! | [`html`] | the frame that pages of HTML have |
//! | [`words`] | the words for what is on the line and what happens there |
//! | [`cli`] | one file per subcommand |

// Bad input gets a message, never a panic; tests may.
#![cfg_attr(
    not(test),
    warn(clippy::unwrap_used, clippy::expect_used, clippy::panic)
)]

pub mod cli;
pub mod domain;
pub mod evidence;
pub mod html;
pub mod judge;
pub mod lab;
pub mod operator;
pub mod records;
pub mod report;
pub mod scenario;
pub mod session;
pub mod sim;
pub mod texts;
#[cfg(feature = "view")]
pub mod view;
pub mod words;
