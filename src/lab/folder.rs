//! The files of a sweep in its folder: rows, and the answer that they give.

use std::path::{Path, PathBuf};

use super::answer::Answer;
use super::chart::charts;
use super::file::Sweep;
use super::sheet::page;
use super::table::Table;
use crate::evidence::Output;
use crate::texts::{Message, Texts};

/// The rows of a sweep, whole.
pub const ROWS: &str = "rows.csv";
/// The same for other programs.
const COLUMNS: &str = "rows.parquet";
/// The rows of one that is under way.
pub const JOURNAL: &str = "rows.partial.csv";

/// Writes the rows, whole: the table comes last and says that all are there.
///
/// # Errors
/// What cannot be written.
pub fn keep(sweep: &Sweep, table: &Table, folder: &Path) -> Result<(), Message> {
    put(&folder.join(COLUMNS), &table.parquet(sweep)?)?;
    put(&folder.join(ROWS), &table.bytes(sweep))
}

/// The first file of a sweep that is in a folder already.
pub fn taken(folder: &Path) -> Option<PathBuf> {
    let names = [ROWS, COLUMNS, JOURNAL];
    let mut paths = names.iter().map(|name| folder.join(name));
    paths.find(|path| path.exists())
}

/// Writes the sheet and its charts into a folder. The sheet's place.
///
/// # Errors
/// What cannot be drawn or written.
pub fn write_answer(
    sweep: &Sweep,
    table: &Table,
    answer: &Answer,
    folder: &Path,
    texts: &Texts,
) -> Result<PathBuf, Message> {
    let charts = charts(sweep, table, answer, texts);
    for chart in &charts {
        let place = |ending: &str| folder.join(format!("{}.{ending}", chart.name));
        put(&place("svg"), chart.svg()?.as_bytes())?;
        put(&place("png"), &chart.png()?)?;
    }
    let sheet = page(sweep, table, answer, &charts, texts)?;
    let place = folder.join("answer.html");
    put(&place, sheet.as_bytes())?;
    Ok(place)
}

/// Writes a file, whole or not at all.
///
/// # Errors
/// Where it cannot be written.
pub fn put(path: &Path, content: &[u8]) -> Result<(), Message> {
    let output = Output::open(path).map_err(|error| error.message())?;
    output.write(content).map_err(|error| error.message())
}
