//! A run that a trainee makes: its mode, its rules, its story. Knows no window.

pub mod walk;
