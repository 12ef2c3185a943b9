//! The scenarios that a trainee can choose: those that travel with the program, and those in a folder
//! of the user's.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use super::course::Course;
use super::mode::Mode;
use super::store::hash_of;
use crate::records::{Attempt, Exercise, Kept, Records, RecordsError, Trained};
use crate::scenario::{self, LoadError, Loaded, name_of};
use crate::texts::Lang;

/// Files of the folder `scenarios`: name and text.
macro_rules! shipped {
    ($($name:literal),* $(,)?) => {
        &[$(($name, include_str!(concat!("../../scenarios/", $name)))),*]
    };
}

/// The scenarios that travel with the program: file name and text.
pub const SHIPPED: &[(&str, &str)] = shipped![
    "as-found-steep.ron",
    "askew.ron",
    "crossed-hose.ron",
    "first-release.ron",
    "first-shift.ron",
    "flat-oval.ron",
    "frosted-rail.ron",
    "full-rack.ron",
    "glazed-rail.ron",
    "hung-behind.ron",
    "hung-stick.ron",
    "left-hand.ron",
    "loaded-row.ron",
    "missing-pin.ron",
    "receiver-down.ron",
    "seated-too-fast.ron",
    "shortcut.ron",
    "small-setting.ron",
    "star-wheel.ron",
    "steady-feed.ron",
    "visitor.ron",
    "wrong-size.ron",
];

/// The one that a newcomer is shown first: the whole cycle.
pub const FIRST: &str = "first-shift.ron";
/// The one in which the controls are learnt, unscored: one feed on a sound line, with a coach.
const WARM_UP: &str = "first-release.ron";

/// A shipped file by its name: its text.
pub fn shipped(file: &str) -> Option<&'static str> {
    let mut files = SHIPPED.iter();
    files.find(|(name, _)| *name == file).map(|(_, text)| *text)
}

/// A scenario to choose.
#[derive(Clone, Debug)]
pub struct Entry {
    /// The name of its file, without its ending.
    pub id: String,
    /// Where it was found; none where it travels with the program.
    pub path: Option<PathBuf>,
    pub loaded: Arc<Loaded>,
}

/// See the module's text.
#[derive(Debug, Default)]
pub struct Library {
    entries: Vec<Entry>,
    faults: Vec<LoadError>,
}

impl Library {
    /// The shipped scenarios, and those of a folder as far as they are sound. A file of the folder's
    /// stands beside the shipped one of the same name.
    pub fn open(folder: Option<&Path>) -> Self {
        let mut library = Self::default();
        for (file, text) in SHIPPED {
            let loaded = scenario::parse(file, text).map_err(LoadError::Faulty);
            library.add(file, None, loaded);
        }
        for path in folder.into_iter().flat_map(files_in) {
            let file = path.file_name().unwrap_or_default().to_string_lossy();
            let loaded = scenario::load(&path);
            library.add(&file, Some(path.clone()), loaded);
        }
        library.entries.sort_by(|a, b| {
            let key = |entry: &Entry| {
                let scenario = &entry.loaded.scenario;
                (scenario.level, scenario.texts(Lang::English).name)
            };
            key(a).cmp(&key(b)).then_with(|| a.path.cmp(&b.path))
        });
        library
    }

    fn add(&mut self, file: &str, path: Option<PathBuf>, loaded: Result<Loaded, LoadError>) {
        match loaded {
            Ok(loaded) => self.entries.push(Entry {
                id: id_of(file).to_owned(),
                path,
                loaded: Arc::new(loaded),
            }),
            Err(error) => self.faults.push(error),
        }
    }

    /// By level, then by name.
    pub fn entries(&self) -> &[Entry] {
        &self.entries
    }

    /// What is wrong with files that are not among them.
    pub fn faults(&self) -> &[LoadError] {
        &self.faults
    }

    /// A shipped scenario by its file's name without ending, or else one of the user's.
    pub fn find(&self, id: &str) -> Option<&Entry> {
        let named = || self.entries.iter().filter(|entry| entry.id == id);
        named()
            .find(|entry| entry.path.is_none())
            .or_else(|| named().next())
    }

    /// What there is to teach, from easy to hard.
    pub fn exercises(&self, lang: Lang) -> Vec<Exercise> {
        let entries = self.entries.iter();
        entries
            .map(|entry| Exercise {
                scenario: entry.id.clone(),
                hash: hash_of(&entry.loaded.text),
                title: entry.loaded.scenario.texts(lang).name,
            })
            .collect()
    }

    /// The scenario of an attempt, where it is still taught as it was then.
    pub fn taught(&self, attempt: &Attempt) -> Option<&Entry> {
        self.entries.iter().find(|entry| {
            entry.id == attempt.scenario && hash_of(&entry.loaded.text) == attempt.scenario_hash
        })
    }

    /// What goes on the certificate of an attempt beside what is kept of it.
    ///
    /// # Errors
    /// Where the records cannot be read.
    pub fn trained(
        &self,
        kept: &Kept,
        records: &Records,
        lang: Lang,
    ) -> Result<Trained, RecordsError> {
        let taught = self.taught(&kept.attempt);
        let trains = taught.map(|entry| entry.loaded.scenario.texts(lang).trains);
        Ok(Trained {
            trains: trains.unwrap_or_default(),
            due: records.due_after(kept)?,
        })
    }

    /// What a newcomer is shown first.
    pub fn first(&self) -> Option<&Entry> {
        self.find(id_of(FIRST))
    }

    /// The warm-up, in which the controls are learnt: unscored, with a coach.
    pub fn warm_up(&self) -> Option<Course> {
        self.find(id_of(WARM_UP))
            .map(|entry| entry.course(Mode::WarmUp))
    }
}

impl Entry {
    /// A run of it.
    pub fn course(&self, mode: Mode) -> Course {
        Course::new(&self.id, Arc::clone(&self.loaded), mode)
    }

    /// Where it was found, for people.
    pub fn place(&self) -> Option<String> {
        self.path.as_deref().map(name_of)
    }
}

fn id_of(file: &str) -> &str {
    file.strip_suffix(".ron").unwrap_or(file)
}

/// Scenario files in a folder, in the order of their names; none where there is no such folder.
fn files_in(folder: &Path) -> Vec<PathBuf> {
    let entries = std::fs::read_dir(folder).into_iter().flatten().flatten();
    let mut paths: Vec<PathBuf> = entries
        .map(|entry| entry.path())
        .filter(|path| path.extension().is_some_and(|ending| ending == "ron"))
        .collect();
    paths.sort();
    paths
}

#[cfg(test)]
mod tests {
    use std::fs;

    use super::*;

    #[test]
    fn every_file_of_the_folder_travels_with_the_program() {
        let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("scenarios");
        let files = files_in(&folder);
        let names: Vec<String> = files
            .iter()
            .map(|path| path.file_name().unwrap().to_str().unwrap().to_owned())
            .collect();
        let shipped: Vec<&str> = SHIPPED.iter().map(|(name, _)| *name).collect();
        assert_eq!(names, shipped, "SHIPPED in src/session/library.rs");
    }

    #[test]
    fn the_library_goes_from_easy_to_hard() {
        let library = Library::open(None);
        assert!(library.faults().is_empty(), "{:?}", library.faults());
        assert_eq!(library.entries().len(), SHIPPED.len());
        let levels = library.entries().iter().map(|e| e.loaded.scenario.level);
        assert!(levels.is_sorted());
        assert!(library.first().is_some());
        let warm_up = library.warm_up().unwrap();
        assert_eq!(warm_up.mode, Mode::WarmUp);
        let scenario = warm_up.scenario();
        assert!(scenario.level == 1 && scenario.takes_min <= 5.0);
    }

    #[test]
    fn the_users_own_stand_beside_the_shipped_and_broken_ones_are_told() {
        let folder = tempfile::tempdir().unwrap();
        let write = |name: &str, text: &str| fs::write(folder.path().join(name), text).unwrap();
        let sound = shipped("first-release.ron").unwrap();
        write("yard-7.ron", &sound.replace("level: 1", "level: 5"));
        write("first-release.ron", sound);
        write("broken.ron", "(format: 1, name: ");
        write("notes.txt", "not a scenario");
        let library = Library::open(Some(folder.path()));
        assert_eq!(library.entries().len(), SHIPPED.len() + 2);
        assert_eq!(library.faults().len(), 1);
        assert!(library.find("first-release").unwrap().path.is_none());
        assert!(library.find("yard-7").unwrap().place().is_some());
        // A folder that is not there is no fault.
        let none = Library::open(Some(&folder.path().join("none")));
        assert_eq!(none.entries().len(), SHIPPED.len());
    }
}
