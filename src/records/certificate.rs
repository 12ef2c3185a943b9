//! A page about one attempt, for the file of whoever made it: what was trained, on which version, with
//! which result, who stands for it, and what it does not say. One file, with nothing from elsewhere.

use jiff::civil::Date;

use super::attempts::{Found, Kept, What};
use super::error::RecordsError;
use crate::evidence::severity;
use crate::judge::explain;
use crate::texts::{Message, Texts};

const PAGE: &str = include_str!("../../assets/records/certificate.html");

/// What the scenario of the attempt trains, where it is still taught as it was then.
#[derive(Clone, Debug, Default)]
pub struct Trained {
    pub trains: String,
    /// When whoever made it has to come again.
    pub due: Option<Date>,
}

/// The page.
///
/// # Errors
/// Of an attempt that does not count, or that is nobody's result.
pub fn certificate(kept: &Kept, trained: &Trained, texts: &Texts) -> Result<String, RecordsError> {
    let attempt = &kept.attempt;
    if kept.is_void || attempt.ended.is_none() {
        return Err(Message::new("certificate-none").into());
    }
    let say = |id: &'static str| texts.say(&Message::new(id));
    let title = say("certificate-title");
    let trainee = attempt.trainee.clone();
    let trainee = trainee.unwrap_or_else(|| say("records-nobody"));
    let exercise = attempt.title(texts.lang().code());
    let result = Message::new(if attempt.passed {
        "certificate-passed"
    } else {
        "certificate-failed"
    })
    .measured("points", attempt.points, 0)
    .measured("mark", attempt.pass_mark, 0);

    let mut about = vec![
        ("certificate-trainee", trainee.clone()),
        ("certificate-exercise", exercise.to_owned()),
    ];
    if !trained.trains.is_empty() {
        about.push(("certificate-trains", trained.trains.clone()));
    }
    let lasted = Message::new("certificate-lasted")
        .measured("minutes", attempt.duration_s / 60.0, 1)
        .with("breaks", u64::from(attempt.breaks));
    let version = Message::new("certificate-version-is")
        .with("program", attempt.program.as_str())
        .with("scenario", attempt.scenario.as_str())
        .with("hash", attempt.scenario_hash.as_str())
        .with("seed", attempt.seed.to_string());
    about.extend([
        ("certificate-at", minute(&attempt.at.to_string())),
        ("certificate-duration", texts.say(&lasted)),
        ("certificate-version", texts.say(&version)),
    ]);
    if let Some(due) = trained.due {
        about.push(("certificate-due", due.to_string()));
    }

    let mut body = vec![
        format!(
            "<header><h1>{}</h1><p>{}</p></header>",
            escaped(&title),
            escaped(&say("certificate-what"))
        ),
        rows(&about, texts),
        format!("<p class=\"result\">{}</p>", escaped(&texts.say(&result))),
        findings(&kept.findings, texts),
    ];
    body.extend(corrections(kept, texts));
    body.push(format!(
        "<div class=\"caution\"><p><strong>{}</strong></p><p>{}</p></div>",
        escaped(&say("certificate-no-evaluation")),
        escaped(&say("caution"))
    ));
    body.push(signed(kept, &trainee, texts));
    let id = Message::new("certificate-id")
        .with("attempt", attempt.uid.to_string())
        .with("recording", attempt.recording.clone().unwrap_or_default());
    body.push(format!("<footer>{}</footer>", escaped(&texts.say(&id))));

    // What people have written comes in last, so that no mark in it is taken for ours.
    let heading = format!("{title}: {trainee}");
    let page = PAGE.replacen("<!--lang-->", texts.lang().code(), 1);
    let (head, tail) = page.split_once("<!--body-->").unwrap_or((&page, ""));
    let head = head.replacen("<!--title-->", &escaped(&heading), 1);
    Ok([&head, body.join("\n").as_str(), tail].concat())
}

/// A time to the minute.
fn minute(at: &str) -> String {
    let whole = at.get(..16).unwrap_or(at);
    format!("{} UTC", whole.replacen('T', " ", 1))
}

fn rows(rows: &[(&'static str, String)], texts: &Texts) -> String {
    let row = |(id, value): &(&'static str, String)| {
        let head = texts.say(&Message::new(*id));
        format!(
            "<tr><th scope=\"row\">{}</th><td>{}</td></tr>",
            escaped(&head),
            escaped(value)
        )
    };
    let rows: Vec<String> = rows.iter().map(row).collect();
    format!("<table><tbody>{}</tbody></table>", rows.join("\n"))
}

fn findings(findings: &[Found], texts: &Texts) -> String {
    let say = |message: &Message| escaped(&texts.say(message));
    let heading = say(&"certificate-findings".into());
    if findings.is_empty() {
        let none = say(&"paper-no-findings".into());
        return format!("<section><h2>{heading}</h2><p>{none}</p></section>");
    }
    let row = |found: &Found| {
        let title = found.known().map(|kind| say(&explain(kind).title));
        format!(
            "<tr><td class=\"number\">{:.1} s</td><td>{}</td><td>{}</td>\
             <td class=\"number\">&minus;{:.0}</td></tr>",
            found.time_s,
            title.unwrap_or_else(|| escaped(&found.kind)),
            say(&severity(found.severity)),
            found.points,
        )
    };
    let rows: Vec<String> = findings.iter().map(row).collect();
    let head = |id: &'static str, class: &str| {
        format!("<th scope=\"col\"{class}>{}</th>", say(&id.into()))
    };
    let number = " class=\"number\"";
    format!(
        "<section><h2>{heading}</h2><table><thead><tr>{}{}{}{}</tr></thead>\
         <tbody>{}</tbody></table></section>",
        head("certificate-time", number),
        head("certificate-finding", ""),
        head("certificate-severity", ""),
        head("certificate-points", number),
        rows.join("\n")
    )
}

fn corrections(kept: &Kept, texts: &Texts) -> Option<String> {
    let lines = kept.corrections.iter().map(|it| {
        let line = Message::new("certificate-correction")
            .with("date", minute(&it.at.to_string()))
            .with("what", what_of(&it.what))
            .with("by", name_or_nobody(it.by.as_ref()))
            .with("why", it.why.as_str());
        format!("<p>{}</p>", escaped(&texts.say(&line)))
    });
    let lines: Vec<String> = lines.collect();
    let heading = texts.say(&"certificate-corrections".into());
    (!lines.is_empty()).then(|| {
        format!(
            "<section><h2>{}</h2>{}</section>",
            escaped(&heading),
            lines.join("\n")
        )
    })
}

/// What a correction says.
pub fn what_of(what: &What) -> Message {
    match what {
        What::Void => "records-corrected-void".into(),
        What::Person(person) => {
            Message::new("records-corrected-person").with("person", name_or_nobody(person.as_ref()))
        }
        What::Note => "records-corrected-note".into(),
    }
}

/// A name, or that nobody has it any more.
pub fn name_or_nobody(name: Option<&String>) -> Message {
    match name {
        Some(name) => Message::new("records-name").with("name", name.as_str()),
        None => "records-nobody".into(),
    }
}

fn signed(kept: &Kept, trainee: &str, texts: &Texts) -> String {
    let say = |message: &Message| escaped(&texts.say(message));
    let signed = kept.sign_offs.iter().map(|it| {
        let line = Message::new("certificate-signed")
            .with("by", name_or_nobody(it.by.as_ref()))
            .with("date", minute(&it.at.to_string()));
        let note = escaped(&it.note);
        format!("<p>{} {note}</p>", say(&line))
    });
    let mut lines: Vec<String> = signed.collect();
    if lines.is_empty() {
        lines.push(format!("<p>{}</p>", say(&"certificate-unsigned".into())));
    }
    let evaluator = kept.sign_offs.last().and_then(|it| it.by.as_ref());
    let evaluator = evaluator.map(|name| escaped(name)).unwrap_or_default();
    format!(
        "<section><h2>{}</h2>{}</section>\n<div class=\"signatures\">\
         <div>{} {evaluator}</div><div>{} {}</div></div>",
        say(&"certificate-evaluator".into()),
        lines.join("\n"),
        say(&"certificate-evaluator-signs".into()),
        say(&"certificate-trainee-signs".into()),
        escaped(trainee),
    )
}

/// A text within a page.
fn escaped(text: &str) -> String {
    let mut page = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '&' => page.push_str("&amp;"),
            '<' => page.push_str("&lt;"),
            '>' => page.push_str("&gt;"),
            '"' => page.push_str("&quot;"),
            '\'' => page.push_str("&#39;"),
            c if c.is_control() => page.push(' '),
            c => page.push(c),
        }
    }
    page
}
