//! The window and the pictures: reads the core, and changes the world only by the set-out and the
//! controls it hands in.
//!
//! | module | what it is |
//! |---|---|
//! | [`shown`] | what of a line is seen at one moment |
//! | [`yard`] | the line that is shown |
//! | [`scene`] | its meshes, materials and light |
//! | [`overlay`] | marks over it that teach |
//! | [`bindings`] | which key does what |
//! | [`camera`] | where it is looked at from |
//! | [`input`] | keyboard, mouse and gamepad to what is done |
//! | [`on_foot`] | walking about before the line runs |
//! | [`desk`] | which screen is on, and what follows from what is done on it |
//! | [`window`] | the window itself |
//! | [`engine`] | what the machine has to offer, and an app for a window or for pictures |
//! | [`picture`] | pictures without a window |
//! | [`on_foot`] | somebody who walks about it, looks closely, measures and sets |
//! | [`panels`] | the screens, as plain functions from what is shown to what was done |
//! | [`theme`] | colours, type, sizes |
//! | [`quality`] | how much is drawn |

pub mod bindings;
pub mod camera;
pub mod desk;
pub mod engine;
pub mod icons;
pub mod input;
pub mod on_foot;
pub mod overlay;
pub mod panels;
pub mod picture;
pub mod quality;
pub mod scene;
pub mod shown;
pub mod theme;
pub mod window;
pub mod yard;
