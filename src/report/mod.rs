//! The report of a recorded run on paper: one page of HTML that holds everything, to be read on a screen
//! or a phone, printed, signed and kept.
//!
//! What it says comes from elsewhere: findings and score from the judge, what else there is to say of a
//! run from [`crate::evidence::Report`], timeline and plots from [`crate::session::debrief`], the decisive
//! moments from [`crate::session::story`]. Here it is gathered ([`Study`]) and put on paper ([`page()`]).

mod chart;
mod figure;
mod findings;
mod moments;
mod page;
mod plan;
mod settings;
mod study;
mod written;

pub use moments::{Moment, Pictures, Taken};
pub use page::{Paper, page};
pub use settings::{Row, Standing, rows};
pub use study::Study;
pub use written::{load, may_go, report};
