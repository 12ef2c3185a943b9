//! The catalogue: whole in every language, and nothing is said to people but what stands in it.

#[path = "common/source.rs"]
mod source;

use std::collections::{BTreeMap, BTreeSet};
use std::process::Command;

use chockline::cli::command;
use chockline::domain::finding::FindingKind;
use chockline::domain::rig::End;
use chockline::domain::spec::{Item, Motion};
use chockline::operator::ROSTER;
use chockline::sim::controls::Upset;
use chockline::sim::line::{BarFrom, EventKind, PersonId, Striker};
use chockline::sim::world::StickId;
use chockline::texts::{Lang, Message, Texts};
use chockline::words;
use fluent_bundle::FluentResource;
use source::{Source, sources};

/// Kinds of entries whose names are made while the program runs, from what is listed elsewhere. The
/// scenario's own tests hold the fields against their table.
const MADE: [&str; 4] = ["field-", "follows-", "group-", "usual-"];

/// An entry as it stands in a file: name, and the rest of its text.
fn entries(lang: Lang) -> Vec<(String, String)> {
    let mut entries: Vec<(String, String)> = Vec::new();
    for (_, text) in lang.files() {
        for line in text.lines() {
            if line.starts_with('#') {
                continue;
            }
            let named = line.split_once(" =").filter(|_| !line.starts_with(' '));
            match (named, entries.last_mut()) {
                (Some((id, text)), _) => entries.push((id.to_owned(), text.to_owned())),
                (None, Some((_, text))) => {
                    text.push('\n');
                    text.push_str(line);
                }
                (None, None) => {}
            }
        }
    }
    entries
}

fn ids() -> BTreeSet<String> {
    let entries = entries(Lang::English).into_iter();
    entries.map(|(id, _)| id).collect()
}

/// The gaps of an entry.
fn gaps(text: &str) -> BTreeSet<String> {
    let name = |rest: &str| {
        let end = rest.find(|c: char| !(c.is_alphanumeric() || c == '_'));
        rest[..end.unwrap_or(rest.len())].to_owned()
    };
    text.split('$').skip(1).map(name).collect()
}

#[test]
fn every_file_of_the_catalogue_parses() {
    for lang in Lang::ALL {
        for (name, text) in lang.files() {
            if let Err((_, errors)) = FluentResource::try_new(text.to_owned()) {
                panic!("{lang:?} {name}: {errors:?}");
            }
        }
        assert!(entries(lang).len() > 300, "{lang:?}");
    }
}

#[test]
fn both_languages_have_the_same_entries_with_the_same_gaps() {
    let [english, spanish] = Lang::ALL.map(|lang| {
        let mut by_id = BTreeMap::new();
        for (id, text) in entries(lang) {
            assert!(!text.trim().is_empty(), "{lang:?}: {id} is empty");
            let twice = by_id.insert(id.clone(), gaps(&text));
            assert!(twice.is_none(), "{lang:?}: {id} stands there twice");
        }
        by_id
    });
    for (id, gaps) in &english {
        assert_eq!(spanish.get(id), Some(gaps), "{id} in Spanish");
    }
    for id in spanish.keys() {
        assert!(english.contains_key(id), "{id} in English");
    }
}

/// The sources, without their own tests.
fn shipped() -> Vec<Source> {
    let mut shipped = sources("src");
    shipped.retain(|source| !source.name.ends_with("/tests.rs"));
    for source in &mut shipped {
        let end = source.raw.find("#[cfg(test)]\nmod tests {");
        if let Some(end) = end {
            let line = 1 + source.raw[..end].matches('\n').count();
            source.literals.retain(|literal| literal.line < line);
        }
    }
    shipped
}

/// Whether a literal is written like the name of an entry.
fn is_id(text: &str) -> bool {
    let mut parts = text.split('-');
    text.contains('-')
        && text.starts_with(|c: char| c.is_ascii_lowercase())
        && parts.all(|part| {
            !part.is_empty()
                && part
                    .chars()
                    .all(|c| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '_')
        })
}

/// Names of entries that the command line makes.
fn of_the_command_line() -> BTreeSet<String> {
    fn add(ids: &mut BTreeSet<String>, place: &str, command: &clap::Command) {
        ids.extend(["about", "usage"].map(|name| format!("{place}-{name}")));
        for argument in command.get_arguments() {
            ids.insert(format!("{place}-{}", argument.get_id()));
            let names = argument.get_value_names().unwrap_or_default();
            for name in names
                .iter()
                .filter(|_| argument.get_action().takes_values())
            {
                ids.insert(format!("cli-value-{}", name.to_lowercase()));
            }
        }
        for inner in command.get_subcommands() {
            let place = format!("{place}-{}", inner.get_name());
            ids.insert(format!("{place}-long"));
            add(ids, &place, inner);
        }
    }
    let mut ids = BTreeSet::new();
    add(&mut ids, "cli", &command(Texts::of(Lang::English)));
    ids
}

#[test]
fn every_entry_is_used_and_every_name_is_there() {
    let ids = ids();
    let mut used: BTreeSet<String> = ids
        .iter()
        .filter(|id| MADE.iter().any(|kind| id.starts_with(kind)))
        .cloned()
        .collect();
    used.extend(of_the_command_line());
    used.extend(ROSTER.iter().map(|member| member.does().id().to_owned()));
    used.extend(FindingKind::ALL.iter().flat_map(|kind| {
        ["finding", "why", "right", "rule"].map(|part| format!("{part}-{}", kind.id()))
    }));
    let names = ROSTER
        .iter()
        .map(|member| member.name)
        .chain(FindingKind::ALL.iter().map(|kind| kind.id()));
    let names: BTreeSet<&str> = names.collect();
    let mut unknown = Vec::new();
    for source in shipped() {
        for literal in &source.literals {
            let text = literal.text.as_str();
            if ids.contains(text) {
                used.insert(text.to_owned());
            } else if is_id(text) && !names.contains(text) {
                unknown.push(format!("{}:{}: {text}", source.name, literal.line));
            }
        }
    }
    assert!(unknown.is_empty(), "no such entries: {unknown:#?}");
    let unused: Vec<_> = ids.difference(&used).collect();
    assert!(unused.is_empty(), "entries that nothing says: {unused:?}");
}

/// Where words may stand that are not in the catalogue, and why.
const WORDS_ALLOWED: [(&str, &str); 4] = [
    ("src/domain/", "what the library says to developers"),
    ("src/records/sql.rs", "what the database is asked"),
    ("src/texts/", "faults of the catalogue itself"),
    (
        "src/view/panels/gallery_trainer.rs",
        "names of people and classes, and what somebody wrote; all made up",
    ),
];

/// Whether a text holds two words beside each other, outside of what is filled in.
fn is_prose(text: &str) -> bool {
    let mut plain = String::new();
    let mut depth = 0;
    for c in text.chars() {
        match c {
            '{' => depth += 1,
            '}' => depth -= 1,
            c if depth == 0 => plain.push(c),
            _ => {}
        }
    }
    let is_word = |word: &&str| word.len() > 1 && word.chars().all(char::is_alphabetic);
    let words: Vec<&str> = plain
        .split_whitespace()
        .map(|word| word.trim_matches(|c: char| c.is_ascii_punctuation()))
        .collect();
    words.windows(2).any(|pair| pair.iter().all(is_word))
}

#[test]
fn no_words_for_people_stand_in_the_sources() {
    let mut wrong = Vec::new();
    for source in shipped() {
        if WORDS_ALLOWED
            .iter()
            .any(|(place, _)| source.name.starts_with(place))
        {
            continue;
        }
        for literal in source.literals.iter().filter(|l| is_prose(&l.text)) {
            wrong.push(format!(
                "{}:{}: {}",
                source.name, literal.line, literal.text
            ));
        }
    }
    assert!(
        wrong.is_empty(),
        "put these into the catalogue (assets/texts): {wrong:#?}"
    );
}

#[test]
fn what_is_lacking_is_told() {
    for lang in Lang::ALL {
        let texts = Texts::of(lang);
        assert!(texts.try_say(&Message::new("no-such-entry")).is_err());
        assert!(texts.try_say(&Message::new("stick")).is_err(), "a gap");
        let whole = Message::new("stick").with("stick", "1");
        assert!(texts.try_say(&whole).is_ok());
    }
}

#[test]
fn every_event_can_be_said() {
    let (stick, person, side) = (StickId(0), PersonId(1), End::Far);
    let speed_m_per_s = 1.25;
    let mut kinds = vec![
        EventKind::FeedRefused,
        EventKind::CycleBegan {
            receiver_lowered_m: 0.0,
            occupied: false,
        },
        EventKind::CycleEnded,
        EventKind::GateClosedUnder { stick },
        EventKind::RowStruck {
            stick,
            speed_m_per_s,
        },
        EventKind::GateStruck {
            stick,
            speed_m_per_s,
        },
        EventKind::Landed {
            stick,
            fall_m_per_s: speed_m_per_s,
        },
        EventKind::Received {
            stick,
            speed_m_per_s,
            yaw_rad: 0.0,
        },
        EventKind::Lost { stick },
        EventKind::Grounded {
            stick,
            speed_m_per_s,
        },
        EventKind::Lowered {
            stick,
            rocking_m_per_s: speed_m_per_s,
        },
        EventKind::Seated {
            stick,
            speed_m_per_s,
        },
        EventKind::Clamped {
            stick,
            off_m: 0.001,
            gap_m: 0.1,
            long_axis_off_rad: 0.1,
        },
        EventKind::NotInReach,
        EventKind::Unclamped { stick },
        EventKind::Joined { stick },
        EventKind::Stalled,
        EventKind::ZoneEntered { person },
        EventKind::ZoneLeft { person },
        EventKind::UnderStick { person, stick },
        EventKind::StopSaid,
        EventKind::StopOver,
        EventKind::ChockSet { side },
        EventKind::ChockTaken { side },
        EventKind::SetDown { stick },
        EventKind::FellFromForks { stick },
        EventKind::HeldByLoader { stick },
        EventKind::JackedUnderLoad { side },
    ];
    kinds.extend([true, false].map(|open| EventKind::PassedGate {
        stick,
        cycle: 1,
        open,
    }));
    kinds.extend(Upset::ALL.map(|upset| EventKind::Upset { upset }));
    let strikers = [Striker::Stick(stick), Striker::Loader, Striker::Machinery];
    kinds.extend(strikers.map(|by| EventKind::Struck {
        person,
        by,
        speed_m_per_s,
        energy_j: 90.0,
    }));
    let ends = End::BOTH.map(BarFrom::End).into_iter();
    let from = ends.chain([BarFrom::Below]);
    kinds.extend(from.map(|from| EventKind::Barred { stick, from }));
    let motions = Motion::ALL.map(Item::Motion).into_iter();
    let items = motions
        .chain(End::BOTH.map(Item::Rail))
        .chain([Item::Rollers, Item::Radio]);
    kinds.extend(items.flat_map(|item| {
        [
            EventKind::Repaired { item },
            EventKind::NotIsolated { item },
        ]
    }));
    for lang in Lang::ALL {
        let mut said = BTreeSet::new();
        for kind in &kinds {
            let text = Texts::of(lang).try_say(&words::event(kind, &[]));
            let text = text.unwrap_or_else(|(_, why)| panic!("{lang:?}: {why}"));
            assert!(
                said.insert(text.clone()),
                "{lang:?}: {text} says two things"
            );
        }
        for motion in Motion::ALL {
            assert!(Texts::of(lang).try_say(&words::motion(motion)).is_ok());
        }
    }
}

fn chockline(args: &[&str]) -> String {
    let output = Command::new(env!("CARGO_BIN_EXE_chockline"))
        .args(args)
        .env_remove("LC_ALL")
        .env_remove("LC_MESSAGES")
        .env("LANG", "es_MX.UTF-8")
        .current_dir(env!("CARGO_MANIFEST_DIR"))
        .output()
        .expect("the program starts");
    // A panic, not a refusal.
    assert_ne!(output.status.code(), Some(101), "{args:?}");
    let [out, err] =
        [output.stdout, output.stderr].map(|text| String::from_utf8(text).expect("UTF-8"));
    out + &err
}

/// What is only in the English catalogue: three words and more beside each other.
fn english_only() -> Vec<String> {
    let spanish: Vec<String> = entries(Lang::Spanish)
        .into_iter()
        .map(|(_, text)| text)
        .collect();
    let mut only = Vec::new();
    for (_, text) in entries(Lang::English) {
        for piece in text.split(['{', '}', '\n']) {
            let piece = piece.trim();
            let words = piece
                .split(' ')
                .filter(|w| w.chars().all(char::is_alphabetic));
            if words.count() >= 3 && !spanish.iter().any(|text| text.contains(piece)) {
                only.push(piece.to_owned());
            }
        }
    }
    assert!(only.len() > 300);
    only
}

#[test]
fn in_spanish_nothing_is_english() {
    let folder = tempfile::tempdir().expect("a folder");
    let broken = folder.path().join("broken.ron");
    std::fs::write(
        &broken,
        "(format: 2, nome: \"x\", pipe: (size: Ips(25), wall: Dr(17), ovality_pct: \"2\"),
          row: (sticks: 3, overrides: [(stick: 7)]), hand: Rigth, es: 5, loader: (sticks: 12),
          machine: (centreline_m: 5), people: [(duty: Operator, x_m: -3, z_m: 2.5)])",
    )
    .expect("a file");
    let broken = broken.to_str().expect("UTF-8");
    let english = english_only();
    for args in [
        vec!["--help"],
        vec!["run", "--help"],
        vec!["check", "--help"],
        vec!["replay", "--help"],
        vec!["replay", "no-such.json"],
        vec!["help", "check"],
        vec!["help", "sing"],
        vec!["run"],
        vec!["sing"],
        vec!["run", "x.ron", "--sed", "1"],
        vec!["run", "x.ron", "--seed", "x"],
        vec!["run", "x.ron", "--seed"],
        vec!["run", "x.ron", "--operator", "nobody"],
        vec!["run", "scenarios/first-release.ron", "--operator", "nobody"],
        vec!["run", "scenarios/first-release.ron", "--json", "scenarios"],
        vec!["run", "scenarios/first-release.ron"],
        vec!["run", "scenarios/wrong-size.ron"],
        vec!["run", "scenarios/as-found-steep.ron"],
        vec!["run", "scenarios/flat-oval.ron"],
        vec!["run", "scenarios/first-shift.ron", "--operator", "expert"],
        vec!["check", broken],
        vec![
            "check",
            "scenarios/glazed-rail.ron",
            "scenarios/wrong-size.ron",
        ],
        vec!["check", "--fields"],
    ] {
        let said = chockline(&args);
        assert!(said.len() > 20, "{args:?} says nothing");
        let said = said.split_whitespace().collect::<Vec<_>>().join(" ");
        for piece in &english {
            assert!(!said.contains(piece.as_str()), "{args:?}: {piece}\n{said}");
        }
    }
}

#[test]
fn the_language_is_asked_for_or_that_of_the_environment() {
    let run = |args: &[&str], variables: &[(&str, &str)]| {
        let output = Command::new(env!("CARGO_BIN_EXE_chockline"))
            .args(args)
            .env_remove("LC_ALL")
            .env_remove("LC_MESSAGES")
            .env_remove("LANG")
            .envs(variables.iter().copied())
            .output()
            .expect("the program starts");
        let said = String::from_utf8(output.stdout).expect("UTF-8");
        (output.status.code(), said)
    };
    let is_spanish = |args: &[&str], variables: &[(&str, &str)]| {
        let (code, said) = run(args, variables);
        assert_eq!(code, Some(0), "{args:?}");
        said.contains("Uso:")
    };
    assert!(!is_spanish(&["--help"], &[]));
    assert!(!is_spanish(&["--help"], &[("LANG", "C.UTF-8")]));
    assert!(!is_spanish(&["--help"], &[("LANG", "est")]));
    assert!(is_spanish(&["--help"], &[("LANG", "es_CL.UTF-8")]));
    assert!(is_spanish(
        &["--help"],
        &[("LC_ALL", "es"), ("LANG", "en_US")]
    ));
    assert!(!is_spanish(
        &["--help"],
        &[("LC_MESSAGES", "en_US"), ("LANG", "es")]
    ));
    assert!(is_spanish(&["--help", "--lang", "es"], &[]));
    assert!(is_spanish(&["--lang=es", "run", "--help"], &[]));
    assert!(is_spanish(&["check", "--lang", "es", "-h"], &[]));
    assert!(!is_spanish(&["--lang", "en", "--help"], &[("LANG", "es")]));
    assert_eq!(run(&["--lang", "fr"], &[]).0, Some(2));
    assert_eq!(run(&["--lang"], &[]).0, Some(2));
}
