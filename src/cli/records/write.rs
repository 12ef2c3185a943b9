//! Adding to the records, putting them right, and forgetting people.

use jiff::civil::Date;

use super::{Desk, Done, done};
use crate::cli::PASSED;
use crate::records::{Correction, RecordsError};
use crate::texts::Message;

#[derive(Clone, Debug, clap::Args)]
pub struct AddArgs {
    #[arg(value_name = "NAME")]
    pub people: Vec<String>,

    #[arg(long, value_name = "N")]
    pub number: Option<String>,

    #[arg(long, value_name = "CLASS")]
    pub class: Option<String>,
}

#[derive(Clone, Debug, clap::Args)]
pub struct SignOffArgs {
    #[arg(value_name = "ATTEMPT")]
    pub attempt: String,

    #[arg(long, value_name = "NAME")]
    pub by: String,

    #[arg(
        long,
        value_name = "TEXT",
        default_value = "",
        hide_default_value = true
    )]
    pub note: String,

    #[arg(long, value_name = "DATE")]
    pub due: Option<Date>,
}

#[derive(Clone, Debug, clap::Args)]
pub struct DueArgs {
    #[arg(value_name = "PERSON")]
    pub person: String,

    #[arg(value_name = "DATE")]
    pub on: Date,

    #[arg(long, value_name = "EXERCISE")]
    pub exercise: Option<String>,
}

#[derive(Clone, Debug, clap::Args)]
pub struct CorrectArgs {
    #[arg(value_name = "ATTEMPT")]
    pub attempt: String,

    #[arg(long, value_name = "TEXT")]
    pub why: String,

    #[arg(long, value_name = "NAME")]
    pub by: String,

    #[arg(long)]
    pub void: bool,

    #[arg(long, value_name = "PERSON", conflicts_with = "void")]
    pub person: Option<String>,
}

#[derive(Clone, Debug, clap::Args)]
pub struct ForgetArgs {
    #[arg(value_name = "PERSON")]
    pub person: String,

    #[arg(long)]
    pub yes: bool,
}

impl Desk<'_> {
    pub fn add(&self, args: &AddArgs) -> Done {
        if args.people.is_empty() && args.class.is_none() {
            return Err(Message::new("records-add-nothing").into());
        }
        // A number is one person's.
        if args.number.is_some() && args.people.len() != 1 {
            return Err(Message::new("records-number-of-one").into());
        }
        let number = args.number.as_deref().unwrap_or_default();
        let mut records = self.records()?;
        let new = records.add_people(&args.people, number, args.class.as_deref())?;
        let said = Message::new("records-added").with("new", new);
        match &args.class {
            Some(class) => {
                let (id, name) = records.find_class(class)?;
                let people = records.people(Some(id))?.len();
                done(
                    Message::new("records-added-class")
                        .with("new", new)
                        .with("name", name)
                        .with("people", people),
                )
            }
            None => done(said),
        }
    }

    pub fn sign_off(&self, args: &SignOffArgs) -> Done {
        let mut records = self.records()?;
        let attempt = records.find(&args.attempt)?.attempt;
        records.sign_off(attempt.uid, &args.by, &args.note, args.due)?;
        done(
            Message::new("records-signed-off")
                .with("attempt", attempt.uid.to_string())
                .with("by", args.by.as_str()),
        )
    }

    pub fn due(&self, args: &DueArgs) -> Done {
        let mut records = self.records()?;
        let person = records.find_person(&args.person)?;
        records.set_due(&person, args.exercise.as_deref(), args.on)?;
        done(
            Message::new("records-due-set")
                .with("name", person.name)
                .with("date", args.on.to_string()),
        )
    }

    pub fn correct(&self, args: &CorrectArgs) -> Done {
        let mut records = self.records()?;
        let attempt = records.find(&args.attempt)?.attempt;
        let what = match (&args.person, args.void) {
            (Some(name), _) => Correction::Person(records.find_person(name)?.id),
            (None, true) => Correction::Void,
            (None, false) => Correction::Note,
        };
        records.correct(attempt.uid, &what, &args.by, &args.why)?;
        done(Message::new("records-corrected").with("attempt", attempt.uid.to_string()))
    }

    pub fn forget(&self, args: &ForgetArgs) -> Done {
        let mut records = self.records()?;
        let person = records.find_person(&args.person)?;
        let name = person.name.clone();
        if !args.yes {
            return Err(Message::new("records-forget-sure")
                .with("name", name)
                .into());
        }
        let recordings = records.forget(&person)?;
        let mut lines = vec![Message::new("records-forgotten").with("name", name)];
        let mut left = Vec::new();
        for file in recordings {
            let path = self
                .store
                .as_ref()
                .and_then(|store| store.recording_named(&file));
            match path {
                // A recording may say who was at the controls.
                Some(path) if path.exists() => {
                    std::fs::remove_file(&path)
                        .map_err(|source| RecordsError::Io { path, source })?;
                }
                Some(_) => {}
                None => left.push(file),
            }
        }
        if !left.is_empty() {
            lines.push(Message::new("records-forget-recordings").with("files", left.join(", ")));
        }
        lines.push("records-forget-elsewhere".into());
        Ok((lines, PASSED))
    }
}
