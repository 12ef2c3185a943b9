//! The program as somebody at a terminal without a screen starts it, in English.

use std::process::{Command, Output};

/// Runs it in the folder of the package, and waits for it.
pub fn chockline(args: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_chockline"))
        // Where there is a screen, the program without arguments would open its window.
        .env_remove("DISPLAY")
        .env_remove("WAYLAND_DISPLAY")
        .env("LC_ALL", "C")
        .args(args)
        .current_dir(env!("CARGO_MANIFEST_DIR"))
        .output()
        .expect("the program starts")
}
