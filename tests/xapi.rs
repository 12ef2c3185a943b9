//! Statements: by the rules of xAPI 1.0.3, and how they come to a record store that answers, refuses, is
//! busy, is slow, or cuts the line.
//!
//! `tests/xapi/` has the statements that an independent validator has looked at, and what it found; see
//! the notes there. `CHOCKLINE_WRITE=1` writes the statements anew.

#[path = "common/attempts.rs"]
mod attempts;

use std::collections::{BTreeMap, VecDeque};
use std::io::{BufRead, BufReader, Read, Write};
use std::net::{TcpListener, TcpStream};
use std::path::{Path, PathBuf};
use std::process::Command;
use std::sync::{Arc, Mutex};
use std::time::{Duration, Instant};

use attempts::{attempt, findings};
use chockline::records::xapi::{Endpoint, Manner, Sent};
use chockline::records::{Attempt, Carried, Correction, Records, uid_named};
use serde_json::Value;
use uuid::Uuid;

/// What a record store does with one post.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Deed {
    /// Keeps it and says so.
    Take,
    /// Keeps it, and the line is cut before the answer.
    TakeAndCut,
    /// The line is cut in the middle of the answer.
    TakeAndCutAnswer,
    Cut,
    /// Keeps it, and answers when nobody waits any more.
    TakeSlowly,
    Answer(u16),
    /// 429, with seconds to wait.
    Busy(u64),
    /// 409 for whatever it has already, as some do.
    Conflict,
}

/// What a record store has: statements by their id, and how often each was kept anew.
#[derive(Default)]
struct Kept {
    statements: BTreeMap<String, Value>,
    posts: u64,
    faults: Vec<String>,
}

/// A record store on this machine, that does what the script says and then takes everything.
struct Store {
    address: String,
    kept: Arc<Mutex<Kept>>,
}

impl Store {
    fn with(script: &[Deed]) -> Self {
        let listener = TcpListener::bind("127.0.0.1:0").unwrap();
        let address = format!("http://{}/xapi", listener.local_addr().unwrap());
        let kept = Arc::new(Mutex::new(Kept::default()));
        let script = Arc::new(Mutex::new(VecDeque::from(script.to_vec())));
        let inner = Arc::clone(&kept);
        // It ends with the test.
        std::thread::spawn(move || {
            for stream in listener.incoming().map_while(Result::ok) {
                let (kept, script) = (Arc::clone(&inner), Arc::clone(&script));
                std::thread::spawn(move || serve(stream, &kept, &script));
            }
        });
        Self { address, kept }
    }

    fn endpoint(&self, manner: &Manner) -> Endpoint {
        Endpoint::new(&self.address, "Ana", "geheim", None, manner)
            .ok()
            .unwrap()
    }

    fn ids(&self) -> Vec<String> {
        self.kept
            .lock()
            .unwrap()
            .statements
            .keys()
            .cloned()
            .collect()
    }

    fn posts(&self) -> u64 {
        self.kept.lock().unwrap().posts
    }

    fn faults(&self) -> Vec<String> {
        self.kept.lock().unwrap().faults.clone()
    }
}

fn serve(mut stream: TcpStream, kept: &Mutex<Kept>, script: &Mutex<VecDeque<Deed>>) -> Option<()> {
    let mut reader = BufReader::new(stream.try_clone().ok()?);
    loop {
        let mut head = String::new();
        while !head.ends_with("\r\n\r\n") {
            if reader.read_line(&mut head).ok()? == 0 {
                return None;
            }
        }
        let header = |name: &str| {
            let mut lines = head.lines().filter_map(|line| line.split_once(": "));
            lines
                .find(|(given, _)| given.eq_ignore_ascii_case(name))
                .map(|(_, value)| value.to_owned())
        };
        let length: usize = header("Content-Length")?.parse().ok()?;
        let mut body = vec![0; length];
        reader.read_exact(&mut body).ok()?;
        let deed = script.lock().ok()?.pop_front().unwrap_or(Deed::Take);
        let mut kept = kept.lock().ok()?;
        kept.posts += 1;
        let wanted = [
            ("X-Experience-API-Version", "1.0.3"),
            ("Content-Type", "application/json"),
            // Ana:geheim
            ("Authorization", "Basic QW5hOmdlaGVpbQ=="),
        ];
        for (name, value) in wanted {
            if header(name).as_deref() != Some(value) {
                kept.faults.push(format!("{name}: {:?}", header(name)));
            }
        }
        if !head.starts_with("POST /xapi/statements HTTP/1.1") {
            kept.faults.push(head.clone());
        }
        let statements: Vec<Value> = serde_json::from_slice(&body).ok()?;
        let known = statements
            .iter()
            .any(|it| kept.statements.contains_key(id_of(it)));
        let deed = match deed {
            Deed::Conflict if !known => Deed::Take,
            deed => deed,
        };
        let takes = matches!(
            deed,
            Deed::Take | Deed::TakeAndCut | Deed::TakeAndCutAnswer | Deed::TakeSlowly
        );
        let mut conflict = deed == Deed::Conflict;
        if takes {
            for statement in &statements {
                let before = kept.statements.get(id_of(statement));
                // As the standard bids: the same is the same, another under its id is a conflict.
                conflict |= before.is_some_and(|before| before != statement);
            }
            if !conflict {
                let new = statements
                    .iter()
                    .map(|it| (id_of(it).to_owned(), it.clone()));
                kept.statements.extend(new);
            }
        }
        drop(kept);
        let ids: Vec<&str> = statements.iter().map(id_of).collect();
        let ids = serde_json::to_string(&ids).ok()?;
        let answer = |status: u16, extra: &str, body: &str| {
            format!(
                "HTTP/1.1 {status} X\r\nContent-Length: {}\r\n{extra}\r\n{body}",
                body.len()
            )
        };
        let answer = match deed {
            _ if conflict => answer(409, "", "there is another of this id"),
            Deed::Cut | Deed::TakeAndCut => return None,
            Deed::TakeAndCutAnswer => {
                let whole = answer(200, "", &ids);
                stream
                    .write_all(&whole.as_bytes()[..whole.len() - 5])
                    .ok()?;
                return None;
            }
            Deed::TakeSlowly => {
                std::thread::sleep(Duration::from_millis(1500));
                answer(200, "", &ids)
            }
            Deed::Answer(status) => answer(status, "", "no"),
            Deed::Busy(seconds) => answer(429, &format!("Retry-After: {seconds}\r\n"), "busy"),
            _ => answer(200, "", &ids),
        };
        stream.write_all(answer.as_bytes()).ok()?;
    }
}

fn id_of(statement: &Value) -> &str {
    statement["id"].as_str().unwrap()
}

struct Bench {
    folder: tempfile::TempDir,
}

impl Bench {
    /// A store with attempts of the given numbers.
    fn with(numbers: std::ops::Range<u64>) -> Self {
        let bench = Self {
            folder: tempfile::tempdir().unwrap(),
        };
        let mut records = bench.records();
        for number in numbers {
            let who = ["Ana", "Bo", "Cy"][number as usize % 3];
            records
                .add(&attempt(number, Some(who)), &findings(number))
                .unwrap();
        }
        bench
    }

    fn store(&self) -> PathBuf {
        self.folder.path().join("records.sqlite")
    }

    fn records(&self) -> Records {
        Records::open(&self.store()).unwrap()
    }

    /// Opened anew every time, as after a restart.
    fn send(&self, to: &Store) -> Sent {
        self.send_as(to, &QUICK)
    }

    fn send_as(&self, to: &Store, manner: &Manner) -> Sent {
        let endpoint = to.endpoint(manner);
        self.records()
            .send(&endpoint, None, manner, &mut |_, _| ())
            .unwrap()
    }
}

const QUICK: Manner = Manner {
    batch: 10,
    tries: 4,
    wait: Duration::from_millis(5),
    timeout: Duration::from_millis(700),
};

/// Three statements of each attempt.
const EACH: usize = 3;

#[test]
fn everything_is_sent_once_and_nothing_again() {
    let bench = Bench::with(0..20);
    let store = Store::with(&[]);
    let sent = bench.send(&store);
    assert_eq!((sent.sent, sent.waiting), (20 * EACH as u64, 0));
    assert_eq!(store.ids().len(), 20 * EACH);
    let posts = store.posts();
    let again = bench.send(&store);
    assert_eq!((again.sent, again.waiting), (0, 0));
    assert_eq!(store.posts(), posts, "nothing to say");
    bench.records().add(&attempt(50, Some("Dee")), &[]).unwrap();
    assert_eq!(bench.send(&store).sent, EACH as u64);
    assert!(store.faults().is_empty(), "{:?}", store.faults());
}

/// Whatever goes wrong on the way: in the end each statement is there, once.
#[test]
fn nothing_is_lost_or_doubled_whatever_goes_wrong_on_the_way() {
    let deeds = [
        Deed::TakeAndCut,
        Deed::TakeAndCutAnswer,
        Deed::Cut,
        Deed::TakeSlowly,
        Deed::Answer(500),
        Deed::Answer(503),
        Deed::Answer(408),
        Deed::Busy(0),
    ];
    for deed in deeds {
        let bench = Bench::with(0..8);
        let store = Store::with(&[Deed::Take, deed, deed, Deed::Take]);
        let sent = bench.send(&store);
        assert_eq!(sent.waiting, 0, "{deed:?}: {sent:?}");
        assert!(sent.stopped.is_none() && sent.refused == 0, "{deed:?}");
        let (bodies, _) = bench.records().statements(None).unwrap();
        let mut wanted: Vec<String> = bodies.iter().map(|it| id_of(it).to_owned()).collect();
        wanted.sort();
        assert_eq!(store.ids(), wanted, "{deed:?}");
        assert_eq!(wanted.len(), 8 * EACH);
    }
}

/// A record store that answers 409 for what it has, also where that is the same.
#[test]
fn what_is_there_already_is_found_out_and_left() {
    let bench = Bench::with(0..8);
    let store = Store::with(
        &[
            Deed::TakeAndCut,
            Deed::Conflict,
            Deed::Conflict,
            Deed::Conflict,
            Deed::Conflict,
        ]
        .into_iter()
        .chain([Deed::Conflict; 60])
        .collect::<Vec<_>>(),
    );
    let sent = bench.send(&store);
    assert_eq!(sent.waiting, 0);
    assert_eq!(sent.already, 10, "the batch whose answer was lost");
    assert_eq!(sent.sent, (8 * EACH - 10) as u64);
    assert_eq!(store.ids().len(), 8 * EACH);
}

#[test]
fn what_cannot_be_sent_waits_for_another_day() {
    let bench = Bench::with(0..8);
    let store = Store::with(&[
        Deed::Take,
        Deed::Answer(500),
        Deed::Answer(502),
        Deed::Cut,
        Deed::Busy(0),
    ]);
    let sent = bench.send(&store);
    assert_eq!(sent.sent, 10);
    assert_eq!(sent.waiting, (8 * EACH - 10) as u64);
    assert!(sent.stopped.is_some());
    assert_eq!(store.posts(), 1 + u64::from(QUICK.tries));
    let sent = bench.send(&store);
    assert_eq!((sent.sent, sent.waiting), ((8 * EACH - 10) as u64, 0));
    assert_eq!(store.ids().len(), 8 * EACH);
    // Nobody there at all.
    let bench = Bench::with(0..2);
    let gone = TcpListener::bind("127.0.0.1:0").unwrap();
    let address = format!("http://{}/xapi", gone.local_addr().unwrap());
    drop(gone);
    let endpoint = Endpoint::new(&address, "u", "p", None, &QUICK)
        .ok()
        .unwrap();
    let sent = bench
        .records()
        .send(&endpoint, None, &QUICK, &mut |_, _| ())
        .unwrap();
    assert_eq!(sent.waiting, 2 * EACH as u64);
    assert_eq!(sent.stopped.unwrap().id(), "send-no-answer");
}

#[test]
fn answers_that_no_waiting_mends_end_it_at_once() {
    for (status, id) in [
        (401, "send-not-allowed"),
        (403, "send-not-allowed"),
        (404, "send-no-store-there"),
        (302, "send-elsewhere"),
        (418, "send-odd-answer"),
    ] {
        let bench = Bench::with(0..3);
        let store = Store::with(&[Deed::Answer(status)]);
        let sent = bench.send(&store);
        assert_eq!(sent.stopped.unwrap().id(), id, "{status}");
        assert_eq!((sent.sent, store.posts()), (0, 1));
        assert_eq!(bench.send(&store).sent, 3 * EACH as u64, "nothing is lost");
    }
}

#[test]
fn one_that_is_not_taken_does_not_hold_up_the_others() {
    let bench = Bench::with(0..4);
    // The batches that hold the first statement are not taken: 10, 5, 3, 2 and 1 of them.
    let store = Store::with(&[Deed::Answer(400); 5]);
    let sent = bench.send(&store);
    assert_eq!((sent.refused, sent.waiting), (1, 0));
    assert_eq!(sent.sent, (4 * EACH - 1) as u64);
    assert!(sent.answer.unwrap().starts_with("400"));
    assert_eq!(bench.send(&store).sent, 0);
}

#[test]
fn it_waits_as_long_as_it_is_asked_to() {
    let bench = Bench::with(0..1);
    let store = Store::with(&[Deed::Busy(1)]);
    let begun = Instant::now();
    assert_eq!(bench.send(&store).sent, EACH as u64);
    assert!(begun.elapsed() >= Duration::from_secs(1));
}

/// Killed while it sends: what was told to be there is there, and the rest follows.
#[test]
fn killed_while_it_sends_it_goes_on_where_it_was() {
    let bench = Bench::with(0..120);
    let store = Store::with(&[]);
    for pause_ms in [30, 60, 90] {
        let mut child = Command::new(env!("CARGO_BIN_EXE_chockline"))
            .args([
                "records",
                "send",
                "--to",
                &store.address,
                "--user",
                "Ana",
                "--store",
            ])
            .arg(bench.store())
            .env("CHOCKLINE_PASSWORD", "geheim")
            .stdout(std::process::Stdio::null())
            .spawn()
            .unwrap();
        std::thread::sleep(Duration::from_millis(pause_ms));
        child.kill().unwrap();
        child.wait().unwrap();
    }
    let sent = bench.send(&store);
    assert_eq!((sent.waiting, sent.refused, sent.already), (0, 0, 0));
    assert_eq!(store.ids().len(), 120 * EACH);
    assert!(store.faults().is_empty(), "{:?}", store.faults());
    let bytes = std::fs::read(bench.store()).unwrap();
    assert!(
        !bytes.windows(6).any(|it| it == b"geheim"),
        "it is written down nowhere"
    );
}

#[test]
fn a_correction_withdraws_what_was_stated() {
    let bench = Bench::with(0..3);
    let store = Store::with(&[]);
    bench.send(&store);
    let before = store.ids();
    let mut records = bench.records();
    let bo = records.find_person("Bo").unwrap();
    let [moved, void] = [attempt(0, None).uid, attempt(2, None).uid];
    records
        .correct(moved, &Correction::Person(bo.id), "T", "it was Bo")
        .unwrap();
    records
        .correct(void, &Correction::Void, "T", "power")
        .unwrap();
    drop(records);
    let sent = bench.send(&store);
    assert_eq!(
        sent.sent as usize,
        2 * EACH + EACH,
        "two withdrawn, one stated anew"
    );
    let kept = store.kept.lock().unwrap();
    let new: Vec<&Value> = kept
        .statements
        .iter()
        .filter(|(id, _)| !before.contains(id))
        .map(|(_, it)| it)
        .collect();
    let is_voiding = |it: &&&Value| it["verb"]["id"].as_str().unwrap().ends_with("/voided");
    let mut withdrawn: Vec<&str> = new
        .iter()
        .filter(is_voiding)
        .map(|it| it["object"]["id"].as_str().unwrap())
        .collect();
    withdrawn.sort_unstable();
    assert!(withdrawn.iter().all(|id| before.iter().any(|it| it == id)));
    assert_eq!(withdrawn.len(), 2 * EACH);
    let anew: Vec<&&Value> = new.iter().filter(|it| !is_voiding(it)).collect();
    assert!(
        anew.iter()
            .all(|it| it["actor"]["account"]["name"] == bo.uid.to_string())
    );
    drop(kept);
    assert_eq!(bench.send(&store).sent, 0);
}

#[test]
fn nothing_is_stated_about_nobody() {
    let bench = Bench::with(0..2);
    let mut records = bench.records();
    records.add(&attempt(9, None), &[]).unwrap();
    let ana = records.find_person("Ana").unwrap();
    records.forget(&ana).unwrap();
    let (bodies, nobodys) = records.statements(None).unwrap();
    assert_eq!((bodies.len(), nobodys), (EACH, 2));
    drop(records);
    let store = Store::with(&[]);
    let sent = bench.send(&store);
    assert_eq!((sent.sent, sent.nobodys), (EACH as u64, 2));
}

/// The statements that the independent validator has looked at are those that are made now.
#[test]
fn the_statements_are_those_that_were_validated() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/xapi");
    let bench = Bench::with(0..0);
    let mut records = bench.records();
    let carried = Carried::load(&folder.join("records.json")).unwrap();
    records.take_in(&carried).unwrap();
    let (statements, _) = records.statements(None).unwrap();
    let made = serde_json::to_string_pretty(&statements).unwrap() + "\n";
    let file = folder.join("statements.json");
    if std::env::var_os("CHOCKLINE_WRITE").is_some() {
        std::fs::write(&file, &made).unwrap();
    }
    let validated = std::fs::read_to_string(&file).unwrap();
    assert!(
        made == validated,
        "CHOCKLINE_WRITE=1, and validate again: tests/xapi/README.md"
    );
    let result: Value =
        serde_json::from_str(&std::fs::read_to_string(folder.join("result.json")).unwrap())
            .unwrap();
    assert_eq!(result["statements"], statements.len());
    assert_eq!(result["faults"], Value::Array(Vec::new()));
    assert_eq!(
        result["missed"],
        Value::Array(Vec::new()),
        "it finds faults"
    );
    let file = uid_named(Uuid::NAMESPACE_URL, validated.as_bytes());
    assert_eq!(result["file"], file.to_string(), "validate again");
    for statement in &statements {
        let faults = broken_rules(statement);
        assert!(faults.is_empty(), "{faults:?}: {statement:#}");
    }
}

/// Rules of xAPI 1.0.3, part two, that a statement of ours can break.
fn broken_rules(it: &Value) -> Vec<&'static str> {
    let mut broken = Vec::new();
    let mut must = |holds: bool, rule: &'static str| {
        if !holds {
            broken.push(rule);
        }
    };
    let keys = |value: &Value, allowed: &[&str]| {
        value.as_object().is_some_and(|it| {
            !it.is_empty() && it.keys().all(|key| allowed.contains(&key.as_str()))
        })
    };
    let iri = |value: &Value| {
        value.as_str().is_some_and(|it| {
            (it.starts_with("https://") || it.starts_with("http://"))
                && !it.contains([' ', '<', '>', '"'])
        })
    };
    let uuid = |value: &Value| value.as_str().is_some_and(|it| Uuid::parse_str(it).is_ok());
    let languages = |value: &Value| {
        value.as_object().is_some_and(|it| {
            it.iter()
                .all(|(key, text)| ["en", "es"].contains(&key.as_str()) && text.is_string())
        })
    };
    fn no_null(value: &Value) -> bool {
        match value {
            Value::Null => false,
            Value::Object(it) => it
                .iter()
                .all(|(key, it)| key == "extensions" || no_null(it)),
            Value::Array(it) => it.iter().all(no_null),
            _ => true,
        }
    }
    must(no_null(it), "2.2: no null outside of extensions");
    let all = [
        "id",
        "actor",
        "verb",
        "object",
        "result",
        "context",
        "timestamp",
    ];
    must(keys(it, &all), "2.4: known properties only");
    must(uuid(&it["id"]), "2.4.1: the id is a UUID");
    must(it["actor"]["objectType"] == "Agent", "2.4.2.1: an agent");
    must(
        keys(&it["actor"]["account"], &["homePage", "name"]),
        "2.4.2.4: an account",
    );
    must(
        iri(&it["actor"]["account"]["homePage"]),
        "2.4.2.4: the home page is an IRL",
    );
    must(
        it["actor"]["account"]["name"].is_string(),
        "2.4.2.4: a name",
    );
    must(iri(&it["verb"]["id"]), "2.4.3: the verb is an IRI");
    must(
        languages(&it["verb"]["display"]),
        "2.4.3: display is a language map",
    );
    let reference = it["object"]["objectType"] == "StatementRef";
    let is_voiding = it["verb"]["id"] == "http://adlnet.gov/expapi/verbs/voided";
    must(
        reference == is_voiding,
        "2.3.2: what voids refers to a statement",
    );
    if reference {
        must(
            uuid(&it["object"]["id"]),
            "2.4.4.3: the reference is a UUID",
        );
        must(
            it["context"].is_null(),
            "2.4.6: no platform and no revision without an activity",
        );
    } else {
        must(iri(&it["object"]["id"]), "2.4.4.1: the activity is an IRI");
        must(
            iri(&it["object"]["definition"]["type"]),
            "2.4.4.1: its type is an IRI",
        );
        let name = &it["object"]["definition"]["name"];
        must(
            name.is_null() || languages(name),
            "2.4.4.1: its name is a language map",
        );
        must(
            uuid(&it["context"]["registration"]),
            "2.4.6: the registration is a UUID",
        );
    }
    for holder in ["result", "context"] {
        if let Some(extensions) = it[holder]["extensions"].as_object() {
            let all = extensions
                .keys()
                .all(|key| iri(&Value::String(key.clone())));
            must(all, "4.1.11: extensions are under IRIs");
        }
    }
    if let Some(score) = it["result"]["score"].as_object() {
        let number = |key: &str| score[key].as_f64().unwrap_or(f64::NAN);
        must(
            (-1.0..=1.0).contains(&number("scaled")),
            "2.4.5.1: scaled from -1 to 1",
        );
        must(number("min") < number("max"), "2.4.5.1: min below max");
        must(
            (number("min")..=number("max")).contains(&number("raw")),
            "2.4.5.1: raw between them",
        );
    }
    if let Some(duration) = it["result"]["duration"].as_str() {
        let seconds = duration
            .strip_prefix("PT")
            .and_then(|it| it.strip_suffix('S'));
        let seconds = seconds.and_then(|it| it.parse::<f64>().ok());
        must(
            seconds.is_some_and(|it| it >= 0.0),
            "4.6: an ISO 8601 duration",
        );
    }
    let at = it["timestamp"].as_str().unwrap_or_default();
    must(
        at.parse::<jiff::Timestamp>().is_ok() && at.ends_with('Z'),
        "4.5: ISO 8601 with its zone",
    );
    broken
}

#[test]
fn the_rules_bite() {
    let bench = Bench::with(0..1);
    let (statements, _) = bench.records().statements(None).unwrap();
    let good = statements
        .iter()
        .find(|it| it["result"]["score"].is_object())
        .unwrap();
    assert!(broken_rules(good).is_empty());
    type Spoil = fn(&mut Value);
    let spoils: [Spoil; 9] = [
        |it| it["id"] = "1".into(),
        |it| it["stored by"] = "x".into(),
        |it| it["actor"]["account"]["homePage"] = "home".into(),
        |it| it["verb"]["display"] = "passed".into(),
        |it| it["result"]["score"]["scaled"] = 96.into(),
        |it| it["result"]["score"]["raw"] = 960.into(),
        |it| it["result"]["duration"] = "5 min".into(),
        |it| it["timestamp"] = "yesterday".into(),
        |it| it["object"]["objectType"] = "StatementRef".into(),
    ];
    for (number, spoil) in spoils.into_iter().enumerate() {
        let mut bad = good.clone();
        spoil(&mut bad);
        assert!(!broken_rules(&bad).is_empty(), "{number}");
    }
}

/// What ends early or not at all states what it was.
#[test]
fn what_is_stated_follows_from_how_it_ended() {
    use chockline::operator::Ending;
    let bench = Bench::with(0..0);
    let mut records = bench.records();
    let ended = [
        (
            Some(Ending::AtRest),
            vec!["attempted", "passed", "completed"],
        ),
        (Some(Ending::BrokenOff), vec!["attempted", "failed"]),
        (None, vec!["attempted"]),
    ];
    for (number, (ended, verbs)) in (0..).step_by(3).zip(ended) {
        let it = Attempt {
            ended,
            passed: ended == Some(Ending::AtRest),
            ..attempt(number, Some("Ana"))
        };
        records.add(&it, &[]).unwrap();
        let (statements, _) = records.statements(None).unwrap();
        let own: Vec<&str> = statements
            .iter()
            .filter(|statement| statement["context"]["registration"] == it.uid.to_string())
            .map(|statement| {
                statement["verb"]["id"]
                    .as_str()
                    .unwrap()
                    .rsplit('/')
                    .next()
                    .unwrap()
            })
            .collect();
        assert_eq!(own, verbs);
    }
}
