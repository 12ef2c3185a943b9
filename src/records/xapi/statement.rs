//! What is stated about an attempt, after xAPI 1.0.3 (IEEE 9274.1.1's forerunner, part two:
//! statements). Verbs are those of the standard's own vocabulary; everything else that has to be named
//! is named under an address of our own that nobody answers at.

use jiff::{SignedDuration, Timestamp};
use serde_json::{Map, Value, json};
use uuid::Uuid;

use crate::judge::explain;
use crate::operator::Ending;
use crate::records::attempts::{Attempt, Found, Kept, known_kind, word_of};
use crate::records::uid::uid_named;
use crate::texts::{Lang, Message, Texts};

/// Below which our own names stand.
const HOME: &str = "https://chockline.example/xapi";
const VERBS: &str = "http://adlnet.gov/expapi/verbs";
const SIMULATION: &str = "http://adlnet.gov/expapi/activities/simulation";
/// Most points of an attempt.
const FULL: f64 = 100.0;

/// A statement.
#[derive(Clone, Debug, PartialEq)]
pub struct Stated {
    /// The same whenever and wherever it is made.
    pub uid: Uuid,
    pub body: Value,
}

/// The verbs that are used.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Verb {
    Attempted,
    Passed,
    Failed,
    Completed,
    Voided,
}

impl Verb {
    /// Its name in the vocabulary.
    fn name(self) -> &'static str {
        match self {
            Self::Attempted => "attempted",
            Self::Passed => "passed",
            Self::Failed => "failed",
            Self::Completed => "completed",
            Self::Voided => "voided",
        }
    }

    fn value(self) -> Value {
        let said = Message::new(match self {
            Self::Attempted => "xapi-attempted",
            Self::Passed => "xapi-passed",
            Self::Failed => "xapi-failed",
            Self::Completed => "xapi-completed",
            Self::Voided => "xapi-voided",
        });
        json!({ "id": format!("{VERBS}/{}", self.name()), "display": in_all(&said) })
    }
}

/// A text in every language.
fn in_all(said: &Message) -> Value {
    let said = Lang::ALL.map(|lang| {
        let text = Texts::of(lang).say(said);
        (lang.code().to_owned(), Value::String(text))
    });
    Value::Object(Map::from_iter(said))
}

/// The id of a statement: it follows from what is stated about what.
fn uid_of(attempt: Uuid, verb: Verb, revision: &str) -> Uuid {
    uid_named(attempt, format!("{}/{revision}", verb.name()).as_bytes())
}

/// What is stated about an attempt of a person; nothing about one that does not count. The `revision` is
/// the correction that made it what it is.
pub fn about(kept: &Kept, person: Uuid, revision: &str) -> Vec<Stated> {
    if kept.is_void {
        return Vec::new();
    }
    let attempt = &kept.attempt;
    let ended = attempt.ended;
    let judged = if attempt.passed {
        Verb::Passed
    } else {
        Verb::Failed
    };
    let verbs = [
        (Verb::Attempted, true),
        (judged, ended.is_some()),
        (
            Verb::Completed,
            ended.is_some_and(|ending| ending != Ending::BrokenOff),
        ),
    ];
    let stated = verbs.into_iter().filter(|(_, applies)| *applies);
    stated
        .map(|(verb, _)| {
            let uid = uid_of(attempt.uid, verb, revision);
            let mut body = json!({
                "id": uid,
                "actor": account(&format!("{HOME}/people"), person),
                "verb": verb.value(),
                "object": activity(attempt),
                "context": context(attempt),
                "timestamp": when(verb, attempt).to_string(),
            });
            if let Some(result) = result(verb, kept) {
                body["result"] = result;
            }
            Stated { uid, body }
        })
        .collect()
}

/// That a statement does not hold any more, in the name of the store.
pub fn voiding(statement: Uuid, store: Uuid, at: Timestamp) -> Stated {
    let uid = uid_of(statement, Verb::Voided, "");
    let body = json!({
        "id": uid,
        "actor": account(&format!("{HOME}/stores"), store),
        "verb": Verb::Voided.value(),
        "object": { "objectType": "StatementRef", "id": statement },
        "timestamp": at.to_string(),
    });
    Stated { uid, body }
}

/// An account that has no name of a person in it.
fn account(home: &str, name: Uuid) -> Value {
    json!({ "objectType": "Agent", "account": { "homePage": home, "name": name } })
}

fn activity(attempt: &Attempt) -> Value {
    let mut names = Map::new();
    for lang in Lang::ALL {
        if let Some(name) = attempt.titles.get(lang.code()) {
            names.insert(lang.code().to_owned(), Value::String(name.clone()));
        }
    }
    let mut definition = json!({ "type": SIMULATION });
    if !names.is_empty() {
        definition["name"] = Value::Object(names);
    }
    json!({
        "objectType": "Activity",
        "id": format!("{HOME}/exercises/{}", in_address(&attempt.scenario)),
        "definition": definition,
    })
}

/// A name as a part of an address.
fn in_address(name: &str) -> String {
    let mut address = String::new();
    for byte in name.bytes() {
        if byte.is_ascii_alphanumeric() || matches!(byte, b'-' | b'.' | b'_' | b'~') {
            address.push(byte.into());
        } else {
            address.push_str(&format!("%{byte:02X}"));
        }
    }
    address
}

fn context(attempt: &Attempt) -> Value {
    let extension = |name: &str| format!("{HOME}/extensions/{name}");
    let platform = format!("Chockline {}", attempt.program);
    let mut extensions = Map::new();
    extensions.insert(extension("mode"), json!(attempt.mode));
    // Larger than the numbers of some readers.
    extensions.insert(extension("seed"), json!(attempt.seed.to_string()));
    json!({
        "registration": attempt.uid,
        "platform": platform,
        // Of the exercise: results belong to its text.
        "revision": attempt.scenario_hash,
        "extensions": extensions,
    })
}

/// When it was so: an attempt when it began, its result when it ended.
fn when(verb: Verb, attempt: &Attempt) -> Timestamp {
    let lasted = match verb {
        Verb::Attempted => 0.0,
        _ => attempt.duration_s,
    };
    let lasted = SignedDuration::try_from_secs_f64(lasted).unwrap_or_default();
    // To the hundredth of a second, as durations are.
    let ended = attempt.at.checked_add(lasted).unwrap_or(attempt.at);
    Timestamp::from_millisecond(ended.as_millisecond()).unwrap_or(ended)
}

fn result(verb: Verb, kept: &Kept) -> Option<Value> {
    let attempt = &kept.attempt;
    let duration = format!("PT{:.2}S", attempt.duration_s);
    match verb {
        Verb::Attempted | Verb::Voided => None,
        Verb::Completed => Some(json!({ "completion": true, "duration": duration })),
        Verb::Passed | Verb::Failed => {
            let outcome = attempt.outcome.as_ref().map(word_of);
            Some(json!({
                "score": {
                    "scaled": attempt.points / FULL,
                    "raw": attempt.points,
                    "min": 0,
                    "max": FULL,
                },
                "success": attempt.passed,
                "completion": attempt.ended != Some(Ending::BrokenOff),
                "duration": duration,
                "extensions": {
                    (format!("{HOME}/extensions/findings")):
                        kept.findings.iter().map(finding).collect::<Vec<_>>(),
                    (format!("{HOME}/extensions/pass-mark")): attempt.pass_mark,
                    (format!("{HOME}/extensions/outcome")): outcome,
                },
            }))
        }
    }
}

fn finding(found: &Found) -> Value {
    let title = known_kind(&found.kind).map(|kind| in_all(&explain(kind).title));
    json!({
        "kind": found.kind,
        "title": title,
        "severity": found.severity,
        "time_s": found.time_s,
        "points": found.points,
        "rule": found.rule,
    })
}
