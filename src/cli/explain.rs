//! `chockline explain`: what a finding is, why it matters, what is right, and the rule with its source.

use super::{BAD_INPUT, PASSED, complain, print};
use crate::domain::finding::FindingKind;
use crate::evidence::severity;
use crate::judge::explain;
use crate::texts::{Message, Texts};

#[derive(Clone, Debug, clap::Args)]
pub struct ExplainArgs {
    #[arg(value_name = "FINDING")]
    pub finding: Option<String>,
}

/// Explains a finding, or lists all.
pub fn run(args: &ExplainArgs, texts: &Texts) -> u8 {
    let page = match &args.finding {
        None => list(texts),
        Some(name) => match FindingKind::ALL.iter().find(|kind| kind.id() == name) {
            Some(kind) => one(*kind, texts),
            None => {
                let names: Vec<&str> = FindingKind::ALL.iter().map(|kind| kind.id()).collect();
                let unknown = Message::new("explain-unknown")
                    .with("name", name.as_str())
                    .with("names", names.join(", "));
                return complain(&texts.say(&unknown), BAD_INPUT);
            }
        },
    };
    print(&page);
    PASSED
}

fn list(texts: &Texts) -> String {
    let rows = FindingKind::ALL.iter().map(|kind| {
        let title = texts.say(&explain(*kind).title);
        let severity = texts.say(&severity(kind.severity()));
        format!("{:17} {severity:8}  {title}\n", kind.id())
    });
    rows.collect()
}

fn one(kind: FindingKind, texts: &Texts) -> String {
    let explained = explain(kind);
    let severity = texts.say(&severity(kind.severity()));
    let mut page = format!("{} ({severity})\n", texts.say(&explained.title));
    for (heading, text) in [
        ("explain-why", &explained.why),
        ("explain-right", &explained.right),
        ("explain-rule", &explained.rule),
    ] {
        let heading = texts.say(&Message::new(heading));
        page.push_str(&format!("\n{heading}\n  {}\n", texts.say(text)));
    }
    format!("{page}\n{}\n", texts.say(&Message::new("caution")))
}
