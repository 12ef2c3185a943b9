//! `chockline operators`: who can be put at the pendant.

use std::path::PathBuf;

use super::{BAD_INPUT, PASSED, complain, print};
use crate::judge::explain;
use crate::operator::ROSTER;
use crate::scenario;
use crate::texts::{Message, Texts};

#[derive(Clone, Debug, clap::Args)]
pub struct OperatorsArgs {
    #[arg(value_name = "FILE")]
    pub file: Option<PathBuf>,
}

/// Lists everybody; for a scenario, who is of use on it, and why the others are not.
pub fn run(args: &OperatorsArgs, texts: &Texts) -> u8 {
    let loaded = match args.file.as_deref().map(scenario::load).transpose() {
        Ok(loaded) => loaded,
        Err(error) => return complain(&error.say(texts), BAD_INPUT),
    };
    let mut page = String::new();
    for member in &ROSTER {
        page.push_str(&format!("{}\n", member.name));
        let mut lines = vec![member.does()];
        if let Some(kind) = member.finding {
            lines.push(
                Message::new("operators-finding")
                    .with("title", explain(kind).title)
                    .with("finding", kind.id()),
            );
        }
        if let Some(loaded) = &loaded {
            let scenario = &loaded.scenario;
            lines.push(
                match member.applies(&scenario.line, scenario.set_out_open) {
                    Ok(()) => Message::new("operators-of-use"),
                    Err(why) => Message::new("operators-of-no-use").with("why", why),
                },
            );
        }
        for line in &lines {
            page.push_str(&format!("    {}\n", texts.say(line)));
        }
    }
    print(&page);
    PASSED
}
