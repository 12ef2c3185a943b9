//! The rows of a sweep as a Parquet file: the columns of the table, with its head as the file's own
//! names and values.

use std::sync::Arc;

use parquet::data_type::{ByteArray, ByteArrayType, DoubleType, Int64Type};
use parquet::errors::ParquetError;
use parquet::file::metadata::KeyValue;
use parquet::file::properties::WriterProperties;
use parquet::file::writer::SerializedFileWriter;
use parquet::schema::parser::parse_message_type;

use super::file::{Measure, Sweep};
use super::table::{Row, Table, outcome_word};
use crate::texts::Message;

/// One column: its name and what stands in it, row by row.
struct Column {
    name: String,
    cells: Cells,
}

enum Cells {
    Whole(Vec<Option<i64>>),
    /// Kept by their bits.
    Unsigned(Vec<Option<i64>>),
    Number(Vec<Option<f64>>),
    Text(Vec<Option<ByteArray>>),
}

impl Column {
    fn declared(&self) -> String {
        let (kind, meaning) = match self.cells {
            Cells::Whole(_) => ("INT64", ""),
            Cells::Unsigned(_) => ("INT64", " (UINT_64)"),
            Cells::Number(_) => ("DOUBLE", ""),
            Cells::Text(_) => ("BYTE_ARRAY", " (UTF8)"),
        };
        format!("OPTIONAL {kind} {}{meaning};", self.name)
    }
}

impl Table {
    /// The whole table as Parquet, in the order of its trials: the same bytes for the same rows.
    ///
    /// # Errors
    /// Where the format does not take it.
    pub fn parquet(&self, sweep: &Sweep) -> Result<Vec<u8>, Message> {
        self.columns_of(sweep)
            .map_err(|error| Message::new("lab-no-parquet").with("error", error.to_string()))
    }

    fn columns_of(&self, sweep: &Sweep) -> Result<Vec<u8>, ParquetError> {
        let columns = self.columns(sweep);
        let declared: String = columns.iter().map(Column::declared).collect();
        let schema =
            parse_message_type(&["message", "sweep", "{", declared.as_str(), "}"].join(" "))?;
        let head = self.provenance.0.iter();
        let head = head.map(|(name, text)| KeyValue::new(name.clone(), text.clone()));
        let properties = WriterProperties::builder()
            .set_created_by(concat!("chockline ", env!("CARGO_PKG_VERSION")).to_owned())
            .set_key_value_metadata(Some(head.collect()))
            .build();
        let mut writer =
            SerializedFileWriter::new(Vec::new(), Arc::new(schema), Arc::new(properties))?;
        let mut group = writer.next_row_group()?;
        for column in columns {
            let Some(mut place) = group.next_column()? else {
                continue;
            };
            match column.cells {
                Cells::Whole(cells) | Cells::Unsigned(cells) => {
                    let (values, there) = parted(cells);
                    let writer = place.typed::<Int64Type>();
                    writer.write_batch(&values, Some(&there), None)?;
                }
                Cells::Number(cells) => {
                    let (values, there) = parted(cells);
                    let writer = place.typed::<DoubleType>();
                    writer.write_batch(&values, Some(&there), None)?;
                }
                Cells::Text(cells) => {
                    let (values, there) = parted(cells);
                    let writer = place.typed::<ByteArrayType>();
                    writer.write_batch(&values, Some(&there), None)?;
                }
            }
            place.close()?;
        }
        group.close()?;
        writer.into_inner()
    }

    fn columns(&self, sweep: &Sweep) -> Vec<Column> {
        let whole = |name: &str, of: fn(&Row) -> Option<u64>| Column {
            name: name.to_owned(),
            cells: Cells::Whole(self.cells(|row| of(row).map(|whole| whole as i64))),
        };
        let text = |name: &str, of: &dyn Fn(&Row) -> String| Column {
            name: name.to_owned(),
            cells: Cells::Text(self.cells(|row| Some(ByteArray::from(of(row).into_bytes())))),
        };
        let number = |name: &str, of: &dyn Fn(&Row) -> Option<f64>| Column {
            name: name.to_owned(),
            cells: Cells::Number(self.cells(of)),
        };
        let mut columns = vec![
            whole("trial", |row| Some(row.trial)),
            whole("set_up", |row| Some(row.set_up as u64)),
            whole("value", |row| Some(row.value as u64)),
            whole("corner", |row| row.corner.map(u64::from)),
            whole("number", |row| Some(u64::from(row.number))),
            Column {
                name: "load_seed".to_owned(),
                cells: Cells::Unsigned(self.cells(|row| Some(row.load_seed as i64))),
            },
            number(&sweep.against, &|row| sweep.values.get(row.value).copied()),
        ];
        let variables = sweep.variables.iter().enumerate();
        columns.extend(
            variables
                .map(|(i, variable)| number(&variable.path, &|row| row.values.get(i).copied())),
        );
        columns.push(text("outcome", &|row| outcome_word(row.outcome)));
        columns.extend(
            Measure::numbers().filter_map(|measure| {
                Some(number(measure.column()?, &|row| row.measured(measure)))
            }),
        );
        columns.push(whole("ticks", |row| Some(row.ticks)));
        columns.push(text("why", &|row| row.why.clone()));
        columns
    }

    fn cells<T>(&self, of: impl Fn(&Row) -> T) -> Vec<T> {
        self.rows.values().map(of).collect()
    }
}

/// What is there, and of every cell whether it is.
fn parted<T>(cells: Vec<Option<T>>) -> (Vec<T>, Vec<i16>) {
    let there = cells.iter().map(|cell| i16::from(cell.is_some())).collect();
    (cells.into_iter().flatten().collect(), there)
}
