//! Sending statements to a record store.

use std::io::IsTerminal;
use std::path::PathBuf;

use super::files::of_nobody;
use super::look::class_of;
use super::{Desk, Done};
use crate::cli::{FAILED, PASSED};
use crate::records::RecordsError;
use crate::records::xapi::{Endpoint, Manner};
use crate::texts::Message;

/// Where the password is, if it is not to be asked for.
const PASSWORD: &str = "CHOCKLINE_PASSWORD";

#[derive(Clone, Debug, clap::Args)]
pub struct SendArgs {
    #[arg(long, value_name = "ADDRESS")]
    pub to: String,

    #[arg(long, value_name = "NAME")]
    pub user: String,

    #[arg(long, value_name = "FILE")]
    pub certificates: Option<PathBuf>,

    #[arg(long, value_name = "CLASS")]
    pub class: Option<String>,

    #[arg(long, value_name = "N", default_value_t = Manner::default().tries, hide_default_value = true)]
    pub tries: u32,
}

impl Desk<'_> {
    pub fn send(&self, args: &SendArgs) -> Done {
        let manner = Manner {
            tries: args.tries.max(1),
            ..Manner::default()
        };
        self.to_read()?;
        let mut records = self.records()?;
        let class = class_of(&records, args.class.as_deref())?.map(|(id, _)| id);
        let certificates = args.certificates.as_deref();
        let endpoint = |password: &str| {
            let made = Endpoint::new(&args.to, &args.user, password, certificates, &manner);
            made.map_err(|error| RecordsError::from(error.message()))
        };
        // What is wrong with the address is told before the password is asked for.
        endpoint("")?;
        let to = endpoint(&self.password()?)?;
        let sent = records.send(&to, class, &manner, &mut |why, wait| {
            let wait = Message::new("send-waits")
                .with("why", why.clone())
                .measured("seconds", wait.as_secs_f64(), 0);
            eprintln!("{}", self.texts.say(&wait));
        })?;
        let mut lines = vec![
            Message::new("send-sent")
                .with("sent", sent.sent)
                .with("already", sent.already)
                .with("waiting", sent.waiting),
        ];
        lines.extend(of_nobody(sent.nobodys));
        if let Some(answer) = &sent.answer {
            lines.push(
                Message::new("send-refused")
                    .with("refused", sent.refused)
                    .with("answer", answer.as_str()),
            );
        }
        let whole = sent.waiting == 0 && sent.refused == 0;
        lines.extend(sent.stopped);
        if sent.waiting > 0 {
            lines.push("send-again".into());
        }
        Ok((lines, if whole { PASSED } else { FAILED }))
    }

    /// From the environment, or from whoever sits here; it is written down nowhere.
    fn password(&self) -> Result<String, RecordsError> {
        if let Ok(password) = std::env::var(PASSWORD) {
            return Ok(password);
        }
        let none = || Message::new("send-no-password").with("variable", PASSWORD);
        if !std::io::stdin().is_terminal() {
            return Err(none().into());
        }
        let ask = self.texts.say(&"send-password".into());
        rpassword::prompt_password(ask).map_err(|_| none().into())
    }
}
