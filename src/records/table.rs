//! Attempts as a table: CSV by RFC 4180.

use jiff::Timestamp;

use super::Which;
use super::attempts::{Attempt, Found, Kept, What, word_of};
use super::error::RecordsError;
use super::people::ClassId;
use super::store::Records;

/// The columns: one row an attempt. Times are in UTC, points of 100.
const COLUMNS: [&str; 24] = [
    "attempt",
    "began_at",
    "trainee",
    "counts",
    "scenario",
    "title",
    "scenario_hash",
    "seed",
    "mode",
    "passed",
    "points",
    "pass_mark",
    "ended",
    "outcome",
    "duration_s",
    "breaks",
    "breaks_s",
    "findings",
    "corrections",
    "signed_off_by",
    "signed_off_at",
    "sign_off_note",
    "recording",
    "program",
];

impl Records {
    /// All attempts, those too that do not count, of a class or at all.
    ///
    /// # Errors
    /// Where they cannot be read.
    pub fn table(&self, class: Option<ClassId>, lang: &str) -> Result<Vec<u8>, RecordsError> {
        let which = Which {
            class,
            void: true,
            ..Which::default()
        };
        let mut rows = Vec::new();
        for attempt in self.attempts(which)? {
            rows.extend(self.kept(attempt.uid)?.map(|kept| row_of(&kept, lang)));
        }
        written(&rows).map_err(RecordsError::io(self.path()))
    }
}

fn written(rows: &[Vec<String>]) -> std::io::Result<Vec<u8>> {
    let mut writer = csv::WriterBuilder::new()
        .terminator(csv::Terminator::CRLF)
        .from_writer(Vec::new());
    writer.write_record(COLUMNS)?;
    for row in rows {
        writer.write_record(row)?;
    }
    writer.into_inner().map_err(|error| error.into_error())
}

fn row_of(kept: &Kept, lang: &str) -> Vec<String> {
    let attempt: &Attempt = &kept.attempt;
    let yes = |yes: bool| if yes { "1" } else { "0" }.to_owned();
    let signed = kept.sign_offs.last();
    let found = |found: &Found| format!("{}@{:.1}s-{}", found.kind, found.time_s, found.points);
    let findings: Vec<String> = kept.findings.iter().map(found).collect();
    let corrections: Vec<String> = kept
        .corrections
        .iter()
        .map(|it| {
            let what = match it.what {
                What::Void => super::attempts::VOID,
                What::Person(_) => super::attempts::PERSON,
                What::Note => super::attempts::NOTE,
            };
            format!("{what}: {}", it.why)
        })
        .collect();
    let when = |at: &Timestamp| at.to_string();
    vec![
        attempt.uid.to_string(),
        when(&attempt.at),
        attempt.trainee.clone().unwrap_or_default(),
        yes(!kept.is_void),
        attempt.scenario.clone(),
        attempt.title(lang).to_owned(),
        attempt.scenario_hash.clone(),
        attempt.seed.to_string(),
        attempt.mode.clone(),
        yes(attempt.passed),
        attempt.points.to_string(),
        attempt.pass_mark.to_string(),
        attempt.ended.as_ref().map(word_of).unwrap_or_default(),
        attempt.outcome.as_ref().map(word_of).unwrap_or_default(),
        attempt.duration_s.to_string(),
        attempt.breaks.to_string(),
        attempt.breaks_s.to_string(),
        findings.join("; "),
        corrections.join("; "),
        signed.and_then(|it| it.by.clone()).unwrap_or_default(),
        signed.map(|it| when(&it.at)).unwrap_or_default(),
        signed.map(|it| it.note.clone()).unwrap_or_default(),
        attempt.recording.clone().unwrap_or_default(),
        attempt.program.clone(),
    ]
    .into_iter()
    .map(harmless)
    .collect()
}

/// A cell that no table takes for a formula, also where somebody's own words begin like one.
fn harmless(cell: String) -> String {
    if cell.starts_with(['=', '+', '-', '@', '\t', '\r']) {
        format!("'{cell}")
    } else {
        cell
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn cells_are_quoted_as_the_standard_says_and_rows_end_with_both_marks() {
        let mut row = vec![String::new(); COLUMNS.len()];
        row[2] = "Núñez, \"Ana\"\r\nB".to_owned();
        let table = String::from_utf8(written(&[row]).unwrap()).unwrap();
        let (head, rest) = table.split_once("\r\n").unwrap();
        assert_eq!(head.split(',').count(), COLUMNS.len());
        assert!(rest.contains(",\"Núñez, \"\"Ana\"\"\r\nB\","));
        assert!(rest.ends_with(",\r\n"));
        assert_eq!(harmless("=1+1".to_owned()), "'=1+1");
        assert_eq!(harmless("1".to_owned()), "1");
    }
}
