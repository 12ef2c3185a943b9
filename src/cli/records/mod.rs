//! `chockline records`: what is kept of people, classes and attempts, and what is made of it.

mod files;
mod look;
mod send;
mod write;

use std::path::{Path, PathBuf};

use clap::Subcommand;

use super::{BAD_INPUT, PASSED, complain, print};
use crate::records::{Disk, Records, RecordsError};
use crate::session::{Library, Store};
use crate::texts::{Message, Texts};

#[derive(Clone, Debug, clap::Args)]
pub struct RecordsArgs {
    #[arg(long, value_name = "STORE", global = true)]
    pub store: Option<PathBuf>,

    #[command(subcommand)]
    pub what: Option<What>,
}

#[derive(Clone, Debug, Subcommand)]
pub enum What {
    List(look::ListArgs),
    Show(look::ShowArgs),
    Summary(look::SummaryArgs),
    Add(write::AddArgs),
    SignOff(write::SignOffArgs),
    Due(write::DueArgs),
    Correct(write::CorrectArgs),
    Certificate(files::CertificateArgs),
    Export(files::ExportArgs),
    Import(files::ImportArgs),
    Send(send::SendArgs),
    Backup(files::BackupArgs),
    Restore(files::RestoreArgs),
    Check,
    Forget(write::ForgetArgs),
}

/// What is at hand.
struct Desk<'a> {
    texts: &'a Texts,
    /// The file of the records.
    path: PathBuf,
    /// The folder with the recordings, where it is the user's own.
    store: Option<Store>,
}

/// What came of a command: what is said, and the exit status.
type Done = Result<(Vec<Message>, u8), RecordsError>;

/// Does what is asked and returns the exit status.
pub fn run(args: &RecordsArgs, texts: &Texts) -> u8 {
    let desk = match Desk::open(args.store.as_deref(), texts) {
        Ok(desk) => desk,
        Err(error) => return complain(&texts.say(&error), BAD_INPUT),
    };
    if let Disk::Network(kind) = Disk::of(&desk.path) {
        let shared = Message::new("records-shared-disk")
            .with("file", desk.path.display().to_string())
            .with("kind", kind);
        eprintln!("{}", desk.texts.say(&shared));
    }
    let list = What::List(look::ListArgs::default());
    let done = match args.what.as_ref().unwrap_or(&list) {
        What::List(args) => desk.list(args),
        What::Show(args) => desk.show(args),
        What::Summary(args) => desk.summary(args),
        What::Add(args) => desk.add(args),
        What::SignOff(args) => desk.sign_off(args),
        What::Due(args) => desk.due(args),
        What::Correct(args) => desk.correct(args),
        What::Certificate(args) => desk.certificate(args),
        What::Export(args) => desk.export(args),
        What::Import(args) => desk.import(args),
        What::Send(args) => desk.send(args),
        What::Backup(args) => desk.backup(args),
        What::Restore(args) => desk.restore(args),
        What::Check => desk.check(),
        What::Forget(args) => desk.forget(args),
    };
    match done {
        Ok((lines, status)) => {
            let lines: Vec<String> = lines.iter().map(|line| texts.say(line) + "\n").collect();
            print(&lines.concat());
            status
        }
        Err(error) => complain(&texts.say(&error.message()), BAD_INPUT),
    }
}

impl<'a> Desk<'a> {
    fn open(named: Option<&Path>, texts: &'a Texts) -> Result<Self, Message> {
        if let Some(path) = named {
            return Ok(Self {
                texts,
                path: path.to_owned(),
                store: None,
            });
        }
        let store = Store::open().map_err(|error| error.message())?;
        Ok(Self {
            texts,
            path: store.records_file(),
            store: Some(store),
        })
    }

    /// The records, to write to them.
    fn records(&self) -> Result<Records, RecordsError> {
        Records::open(&self.path)
    }

    /// The records, to read them. Where there are none yet, that is said.
    fn to_read(&self) -> Result<Records, RecordsError> {
        if self.path.exists() {
            return Records::open_to_read(&self.path);
        }
        Err(Message::new("records-none-yet")
            .with("file", self.path.display().to_string())
            .into())
    }

    /// What there is to teach.
    fn library(&self) -> Library {
        let folder = self.store.as_ref().map(Store::scenarios);
        Library::open(folder.as_deref())
    }
}

/// Something was done.
fn done(message: Message) -> Done {
    Ok((vec![message], PASSED))
}

/// Words that are there already, as a line.
fn line(text: String) -> Message {
    Message::new("records-line").with("text", text)
}
