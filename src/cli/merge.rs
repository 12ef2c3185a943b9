//! `chockline merge`: the parts of a sweep put together, and the answer.

use std::path::PathBuf;

use super::sweep::tell;
use super::{BAD_INPUT, complain};
use crate::lab::{ROWS, Sweep, TableError, keep, merge, taken};
use crate::texts::{Message, Texts};

#[derive(Clone, Debug, clap::Args)]
pub struct MergeArgs {
    #[arg(value_name = "FILE")]
    pub file: PathBuf,

    #[arg(value_name = "FOLDER", required = true)]
    pub parts: Vec<PathBuf>,

    #[arg(long, value_name = "FOLDER")]
    pub out: PathBuf,
}

/// Puts the parts together and returns the exit status.
pub fn run(args: &MergeArgs, texts: &Texts) -> u8 {
    let sweep = match Sweep::load(&args.file) {
        Ok(sweep) => sweep,
        Err(error) => return complain(&error.say(texts), BAD_INPUT),
    };
    let bad = |message: Message| complain(&texts.say(&message), BAD_INPUT);
    if let Some(taken) = taken(&args.out) {
        return bad(Message::new("lab-folder-taken").with("file", taken.display().to_string()));
    }
    let parts: Vec<PathBuf> = args.parts.iter().map(|folder| folder.join(ROWS)).collect();
    let table = match merge(&sweep, &parts) {
        Ok(table) => table,
        Err(error) => return bad(error.message()),
    };
    let made = std::fs::create_dir_all(&args.out).map_err(|source| {
        let path = args.out.clone();
        TableError::Io { path, source }.message()
    });
    if let Err(message) = made.and_then(|()| keep(&sweep, &table, &args.out)) {
        return bad(message);
    }
    tell(&sweep, &table, &args.out, texts)
}
