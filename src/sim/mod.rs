//! The core: one plain struct on a rigid-body engine, stepped at a fixed rate, the same bits in the
//! window, in a replay, in a batch and in a test. Knows no view and reads no file.

pub mod contacts;
pub mod controls;
pub mod drive;
pub mod line;
mod one_based;
pub mod section;
pub mod tube;
pub mod world;

/// The physics engine, as the Bevy plugin re-exports it: the only copy in the program.
pub use bevy_rapier3d::rapier;
pub use rapier::parry;

pub use parry::glamx::{self, glam};
pub use rapier::math::{Pose, Rotation, Vector};
