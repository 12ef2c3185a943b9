//! A run that a trainee makes: its mode, its rules, its story. Knows no window.

pub mod coach;
pub mod commentary;
pub mod debrief;
pub mod drills;
pub mod story;
