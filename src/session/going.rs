//! Runs that are being made now, by whichever program writes to the same store: read from their growing
//! recordings. What is looked at is never held and never changed.

use std::collections::BTreeMap;
use std::fs::{self, File};
use std::path::{Path, PathBuf};
use std::time::SystemTime;

use jiff::Timestamp;

use super::leftover::{Held, growing, held};
use super::mode::Mode;
use super::store::Store;
use crate::domain::spec::PersonSpec;
use crate::evidence::Recording;
use crate::judge::time_s;
use crate::scenario::{self, name_of};
use crate::sim::line::EventKind;
use crate::texts::Lang;

/// A run that a living program is making.
#[derive(Clone, Debug, PartialEq)]
pub struct Going {
    /// The name of its files, without their ending.
    pub id: String,
    /// How long nothing has been written, s: a run that is held stands still.
    pub still_s: f64,
    /// None where nothing can be read of it yet, or as long as it is held (as on Windows).
    pub told: Option<Told>,
}

/// What its recording tells so far.
#[derive(Clone, Debug, PartialEq)]
pub struct Told {
    pub trainee: Option<String>,
    /// Who drives: a member of the roster, or `trainee`.
    pub operator: String,
    pub mode: Mode,
    /// When it began.
    pub at: Timestamp,
    /// The name of the scenario, by the code of the language.
    pub titles: BTreeMap<&'static str, String>,
    /// Whom the line is described with.
    pub people: Vec<PersonSpec>,
    /// How long it has run, s.
    pub run_s: f64,
    /// What happened last, and when, s.
    pub last: Option<(f64, EventKind)>,
    pub events: usize,
    /// Pauses of an assessment.
    pub breaks: u32,
}

/// Looks from time to time, and reads only what has grown.
#[derive(Debug, Default)]
pub struct Lookout {
    known: BTreeMap<PathBuf, (u64, Option<Told>)>,
}

impl Lookout {
    /// The runs that are going on, the one that began first first.
    pub fn look(&mut self, store: &Store) -> Vec<Going> {
        let mut going = Vec::new();
        let parts = growing(store);
        self.known.retain(|part, _| parts.contains(part));
        for part in parts {
            // Whoever left it, it goes on no more; one that is gone meanwhile is in its place.
            if !matches!(held(&part), Ok(Held::Living)) {
                continue;
            }
            let Ok(found) = fs::metadata(&part) else {
                continue;
            };
            let written = found.modified().unwrap_or(SystemTime::UNIX_EPOCH);
            let still = SystemTime::now().duration_since(written);
            let (length, told) = self.known.entry(part.clone()).or_default();
            if *length != found.len() {
                *length = found.len();
                *told = read(&part, told.take());
            }
            going.push(Going {
                id: id_of(&part),
                still_s: still.unwrap_or_default().as_secs_f64(),
                told: told.clone(),
            });
        }
        going
    }
}

/// The name of a growing recording without its endings.
fn id_of(part: &Path) -> String {
    name_of(&part.with_extension("").with_extension(""))
}

/// What a recording tells now; what it told before, where it cannot be read.
fn read(part: &Path, before: Option<Told>) -> Option<Told> {
    let Ok(Ok(recording)) = File::open(part).map(Recording::read) else {
        return before;
    };
    let head = recording.head;
    let known = before.map(|before| (before.titles, before.people));
    let known = known.or_else(|| {
        let loaded = scenario::parse(&head.course, &head.scenario).ok()?;
        let title = |lang: Lang| (lang.code(), loaded.scenario.texts(lang).name);
        Some((Lang::ALL.map(title).into(), loaded.scenario.line.people))
    });
    let (titles, people) = known.unwrap_or_default();
    let events = &recording.log.events;
    let last = events.last().map(|noted| noted.event);
    Some(Told {
        trainee: head.trainee,
        operator: head.operator,
        mode: head.mode,
        at: head.at,
        titles,
        people,
        run_s: time_s(recording.log.ticks),
        last: last.map(|event| (time_s(event.tick), event.kind)),
        events: events.len(),
        breaks: recording.breaks.count,
    })
}

#[cfg(test)]
mod tests {
    use std::io::{BufRead, BufReader};
    use std::process::{Command, Stdio};
    use std::sync::Arc;

    use super::*;
    use crate::domain::set_out::SetOut;
    use crate::session::course::Course;
    use crate::session::leftover::leftovers;
    use crate::sim::controls::{Button, Controls};

    /// The smallest line there is.
    const SMALL: &str = "(format: 1, name: \"Small\", pipe: (size: Ips(24), wall: Dr(17)), \
        row: (sticks: 1), people: [], zone: (cones: []))";
    /// Tells the test below that it is the other program, and where.
    const FOLDER: &str = "CHOCKLINE_TEST_RUNNER";

    /// The other end of the test below: another program that makes a run, until it is killed.
    #[test]
    fn runner() {
        let Ok(folder) = std::env::var(FOLDER) else {
            // Run by itself it makes nothing; the test below calls it.
            return;
        };
        let store = Store::at(Path::new(&folder)).unwrap();
        let loaded = Arc::new(scenario::parse("small", SMALL).unwrap());
        let course = Course {
            trainee: Some("Ana Núñez".to_owned()),
            ..Course::new("small", loaded, Mode::Assessed)
        };
        let mut run = course.set_out(SetOut::default()).unwrap();
        store.begin(&mut run).unwrap();
        for tick in 0..480 {
            let feed = (tick > 100).then_some(Button::Feed);
            run.tick(&Controls::held(feed)).unwrap();
        }
        println!("on the line");
        loop {
            std::thread::sleep(std::time::Duration::from_secs(1));
        }
    }

    #[test]
    fn a_run_of_another_program_is_seen_and_left_alone_until_that_program_is_gone() {
        let folder = tempfile::tempdir().unwrap();
        let store = Store::at(folder.path()).unwrap();
        let mut lookout = Lookout::default();
        assert_eq!(lookout.look(&store), []);
        let mut child = Command::new(std::env::current_exe().unwrap())
            .args(["--exact", "session::going::tests::runner", "--nocapture"])
            .env(FOLDER, folder.path())
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()
            .unwrap();
        let lines = BufReader::new(child.stdout.take().unwrap()).lines();
        let runs = lines
            .map_while(Result::ok)
            .any(|line| line.contains("on the line"));
        assert!(runs, "the other program makes its run");
        // Its thread has the last of it on the disk soon.
        let until = std::time::Instant::now() + std::time::Duration::from_secs(20);
        let told = loop {
            let going = lookout.look(&store);
            let [Going { told, .. }] = &going[..] else {
                panic!("{going:?}");
            };
            match told {
                Some(told) if told.run_s >= 2.0 => break told.clone(),
                _ => assert!(std::time::Instant::now() < until, "{going:?}"),
            }
            std::thread::sleep(std::time::Duration::from_millis(20));
        };
        assert_eq!(told.trainee.as_deref(), Some("Ana Núñez"));
        assert_eq!(
            (told.mode, told.titles["en"].as_str()),
            (Mode::Assessed, "Small")
        );
        let (at_s, _) = told.last.unwrap();
        assert!(told.events > 0 && at_s > 0.4 && at_s <= 2.0, "{at_s}");
        // A second window begins: the run is no leftover, however often it looks.
        for _ in 0..3 {
            let (found, warnings) = leftovers(&store);
            assert!(found.is_empty() && warnings.is_empty());
            assert_eq!(lookout.look(&store).len(), 1);
        }
        assert_eq!(store.results().0, []);
        child.kill().unwrap();
        child.wait().unwrap();
        assert_eq!(lookout.look(&store), [], "nobody makes it any more");
        let (found, _) = leftovers(&store);
        assert_eq!(found.len(), 1, "now it is one");
        for leftover in found {
            leftover.settle(&store).unwrap();
        }
        assert_eq!(store.results().0.len(), 1);
    }
}
