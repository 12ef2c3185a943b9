//! The window and the pictures: reads the core, and changes the world only by the set-out and the
//! controls it hands in.
//!
//! | module | what it is |
//! |---|---|
//! | [`shown`] | what of a line is seen at one moment |
//! | [`yard`] | the line that is shown |
//! | [`scene`] | its meshes, materials and light |
//! | [`on_foot`] | somebody who walks about it, looks closely, measures and sets |
//! | [`panels`] | the screens, as plain functions from what is shown to what was done |
//! | [`theme`] | colours, type, sizes |
//! | [`quality`] | how much is drawn |

pub mod on_foot;
pub mod panels;
pub mod quality;
pub mod scene;
pub mod shown;
pub mod theme;
pub mod yard;
