//! Records as files: certificates, exports, imports, backups.

use std::path::{Path, PathBuf};

use super::look::class_of;
use super::{Desk, Done, done, line};
use crate::cli::{FAILED, PASSED, to_json};
use crate::evidence::Output;
use crate::records::{Carried, Disk, Records, RecordsError, certificate};
use crate::texts::Message;

#[derive(Clone, Debug, clap::Args)]
pub struct CertificateArgs {
    #[arg(value_name = "ATTEMPT")]
    pub attempt: String,

    #[arg(long, value_name = "PAGE")]
    pub out: PathBuf,
}

#[derive(Clone, Debug, clap::Args)]
pub struct ExportArgs {
    #[arg(long, value_name = "FILE", required_unless_present_any = ["xapi", "records"])]
    pub csv: Option<PathBuf>,

    #[arg(long, value_name = "FILE")]
    pub xapi: Option<PathBuf>,

    #[arg(long, value_name = "FILE")]
    pub records: Option<PathBuf>,

    #[arg(long, value_name = "CLASS")]
    pub class: Option<String>,
}

#[derive(Clone, Debug, clap::Args)]
pub struct ImportArgs {
    #[arg(value_name = "FILE", required = true)]
    pub files: Vec<PathBuf>,
}

#[derive(Clone, Debug, clap::Args)]
pub struct BackupArgs {
    #[arg(value_name = "FILE")]
    pub to: PathBuf,
}

#[derive(Clone, Debug, clap::Args)]
pub struct RestoreArgs {
    #[arg(value_name = "FILE")]
    pub from: PathBuf,
}

impl Desk<'_> {
    pub fn certificate(&self, args: &CertificateArgs) -> Done {
        let records = self.to_read()?;
        let kept = records.find(&args.attempt)?;
        let trained = self.library().trained(&kept, &records, self.texts.lang())?;
        let page = certificate(&kept, &trained, self.texts)?;
        self.write(&args.out, page.as_bytes())?;
        done(written(&args.out))
    }

    pub fn export(&self, args: &ExportArgs) -> Done {
        let records = self.to_read()?;
        let class = class_of(&records, args.class.as_deref())?.map(|(id, _)| id);
        let mut lines = Vec::new();
        if let Some(path) = &args.csv {
            let table = records.table(class, self.texts.lang().code())?;
            self.write(path, &table)?;
            lines.push(written(path));
        }
        if let Some(path) = &args.xapi {
            let (statements, nobodys) = records.statements(class)?;
            self.write(path, &to_json(&statements)?)?;
            lines.push(written(path));
            lines.extend(of_nobody(nobodys));
        }
        if let Some(path) = &args.records {
            let carried = records.carried(class)?;
            self.write(path, &to_json(&carried)?)?;
            lines.push(written(path));
        }
        Ok((lines, PASSED))
    }

    /// Writes a file, and never over the store.
    fn write(&self, path: &Path, bytes: &[u8]) -> Result<(), RecordsError> {
        let output = Output::open(path).map_err(RecordsError::Output)?;
        if output.replaces(&self.path) {
            return Err(Message::new("output-taken")
                .with("file", path.display().to_string())
                .with("what", Message::new("output-records"))
                .into());
        }
        output.write(bytes).map_err(RecordsError::Output)
    }

    pub fn import(&self, args: &ImportArgs) -> Done {
        // All are looked at before any is taken in.
        let files = args.files.iter().map(|path| Carried::load(path));
        let files: Vec<Carried> = files.collect::<Result<_, _>>()?;
        let mut records = self.records()?;
        let (mut lines, mut status) = (Vec::new(), PASSED);
        for (path, carried) in args.files.iter().zip(&files) {
            let taken = records.take_in(carried)?;
            lines.push(
                Message::new("records-taken-in")
                    .with("file", path.display().to_string())
                    .with("attempts", taken.attempts)
                    .with("known", taken.known)
                    .with("people", taken.people)
                    .with("remarks", taken.remarks),
            );
            for uid in taken.differing {
                status = FAILED;
                lines.push(Message::new("records-differs").with("attempt", uid.to_string()));
            }
        }
        lines.push("records-taken-as-is".into());
        Ok((lines, status))
    }

    pub fn backup(&self, args: &BackupArgs) -> Done {
        self.to_read()?.backup(&args.to)?;
        done(written(&args.to))
    }

    pub fn restore(&self, args: &RestoreArgs) -> Done {
        let kept = Records::restore(&self.path, &args.from)?;
        let mut lines = vec![
            Message::new("records-restored")
                .with("file", self.path.display().to_string())
                .with("from", args.from.display().to_string()),
        ];
        lines.extend(kept.map(|kept| {
            Message::new("records-restore-kept").with("file", kept.display().to_string())
        }));
        Ok((lines, PASSED))
    }

    pub fn check(&self) -> Done {
        let checked = self.to_read()?.check()?;
        let head = Message::new("records-checked")
            .with("file", self.path.display().to_string())
            .with("attempts", checked.attempts)
            .with("version", checked.version.to_string());
        let mut lines = vec![head];
        if let Disk::Own = checked.disk {
            lines.push("records-own-disk".into());
        }
        if checked.clock_went_back > 0 {
            lines.push(
                Message::new("records-clock-went-back").with("times", checked.clock_went_back),
            );
        }
        if checked.faults.is_empty() {
            lines.push("records-sound".into());
            return Ok((lines, PASSED));
        }
        lines.push("records-unsound".into());
        lines.extend(checked.faults.into_iter().map(line));
        Ok((lines, FAILED))
    }
}

fn written(path: &Path) -> Message {
    Message::new("records-written").with("file", path.display().to_string())
}

/// How many attempts nothing is stated about.
pub fn of_nobody(attempts: u64) -> Option<Message> {
    (attempts > 0).then(|| Message::new("send-nobodys").with("attempts", attempts))
}
