//! The file of the store: opening, versions, checking, backup and restore.

use std::fs;
use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

use rusqlite::backup::{Backup, StepResult};
use rusqlite::{Connection, ErrorCode, OpenFlags, Transaction, TransactionBehavior};
use uuid::Uuid;

use super::disk::Disk;
use super::error::RecordsError;
use super::sql;

/// The name of the file in the folder for data.
pub const FILE: &str = "records.sqlite";
/// Marks a database as one of ours: the letters CHOK.
const APPLICATION: i64 = 0x4348_4F4B;
/// How long a program waits for another that is writing.
const PATIENCE: Duration = Duration::from_secs(10);
/// Between two tries at what the database does not wait for by itself.
const PAUSE: Duration = Duration::from_millis(20);
/// Pages of a backup between two looks at whether somebody waits.
const PAGES_A_STEP: i32 = 1024;

/// See the module's text. Every writing is one transaction: on the disk when it returns, or not at all.
#[derive(Debug)]
pub struct Records {
    pub(super) db: Connection,
    path: PathBuf,
    uid: Uuid,
    /// Held as long as a copy is looked at.
    _copy: Option<tempfile::TempDir>,
}

/// What a check has found.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Checked {
    /// What the database finds wrong with itself.
    pub faults: Vec<String>,
    pub attempts: u64,
    /// How often the machine's clock was put back between two attempts.
    pub clock_went_back: u64,
    pub disk: Disk,
    pub version: i64,
}

impl Records {
    /// Opens the store, which is made where there is none and brought up to this program's version
    /// where it is older.
    ///
    /// # Errors
    /// Where it cannot be written, is not ours, or is newer than this program.
    pub fn open(path: &Path) -> Result<Self, RecordsError> {
        if let Some(folder) = path.parent().filter(|it| !it.as_os_str().is_empty()) {
            fs::create_dir_all(folder).map_err(RecordsError::io(folder))?;
        }
        let flags = OpenFlags::SQLITE_OPEN_READ_WRITE | OpenFlags::SQLITE_OPEN_CREATE;
        let mut db = connect(path, flags)?;
        let at = RecordsError::at(path);
        migrate(&mut db, path, sql::STEPS)?;
        // Several processes may come first at once, and the database does not wait for this one.
        let mode = if Disk::of(path) == Disk::Own {
            "WAL"
        } else {
            "DELETE"
        };
        patiently(|| db.pragma_update(None, "journal_mode", mode)).map_err(&at)?;
        Self::of(db, path, None)
    }

    /// Opens a store that is there, to read it: also where nothing can be written.
    ///
    /// # Errors
    /// Where there is none, it cannot be read, is not ours, or is newer than this program.
    pub fn open_to_read(path: &Path) -> Result<Self, RecordsError> {
        fs::File::open(path).map_err(RecordsError::io(path))?;
        match Self::open(path) {
            Err(RecordsError::Database { source, .. })
                if matches!(
                    source.sqlite_error_code(),
                    Some(
                        ErrorCode::ReadOnly
                            | ErrorCode::CannotOpen
                            | ErrorCode::PermissionDenied
                            | ErrorCode::DiskFull
                            | ErrorCode::SystemIoFailure
                    )
                ) =>
            {
                Self::open_copy(path)
            }
            opened => opened,
        }
    }

    /// Opens a copy of a store, and leaves the file itself as it is. The copy is held against what a
    /// store of its version looks like: nothing else is looked into.
    ///
    /// # Errors
    /// Where it cannot be read, is damaged, not ours, or newer than this program.
    pub fn open_copy(path: &Path) -> Result<Self, RecordsError> {
        let folder = tempfile::tempdir().map_err(RecordsError::io(path))?;
        let copy = folder.path().join(FILE);
        fs::copy(path, &copy).map_err(RecordsError::io(path))?;
        // What is not yet in the file itself.
        let log = beside(path, "-wal");
        if log.exists() {
            fs::copy(&log, beside(&copy, "-wal")).map_err(RecordsError::io(&log))?;
        }
        let mut db = connect(&copy, OpenFlags::SQLITE_OPEN_READ_WRITE).map_err(of(path))?;
        let version = version_of(&db, path)?;
        if version == 0 || shape(&db).ok() != shape_of_version(version) {
            return Err(RecordsError::Foreign {
                path: path.to_owned(),
            });
        }
        let faults = faults_of(&db).map_err(RecordsError::at(path))?;
        if !faults.is_empty() {
            let damaged = rusqlite::ffi::Error::new(rusqlite::ffi::SQLITE_CORRUPT);
            let told = rusqlite::Error::SqliteFailure(damaged, faults.into_iter().next());
            return Err(RecordsError::at(path)(told));
        }
        migrate(&mut db, path, sql::STEPS)?;
        Self::of(db, path, Some(folder))
    }

    fn of(
        db: Connection,
        path: &Path,
        copy: Option<tempfile::TempDir>,
    ) -> Result<Self, RecordsError> {
        let at = RecordsError::at(path);
        let uid: String = db
            .query_row(sql::STORE_UID, [], |row| row.get(0))
            .map_err(at)?;
        let uid = Uuid::parse_str(&uid).map_err(|_| RecordsError::Foreign {
            path: path.to_owned(),
        })?;
        Ok(Self {
            db,
            path: path.to_owned(),
            uid,
            _copy: copy,
        })
    }

    pub fn path(&self) -> &Path {
        &self.path
    }

    /// By what the store is known to others.
    pub fn uid(&self) -> Uuid {
        self.uid
    }

    /// A fault of the database in this store.
    pub(super) fn fault(&self) -> impl Fn(rusqlite::Error) -> RecordsError + use<> {
        RecordsError::at(&self.path)
    }

    /// Does something as one: all of it or nothing, and nobody else writes meanwhile.
    pub(super) fn as_one<T>(
        &mut self,
        what: impl FnOnce(&Transaction) -> Result<T, RecordsError>,
    ) -> Result<T, RecordsError> {
        let fault = self.fault();
        let begun = self
            .db
            .transaction_with_behavior(TransactionBehavior::Immediate);
        let transaction = begun.map_err(&fault)?;
        let done = what(&transaction)?;
        transaction.commit().map_err(&fault)?;
        Ok(done)
    }

    /// Looks through the whole file.
    ///
    /// # Errors
    /// Where it cannot be read.
    pub fn check(&self) -> Result<Checked, RecordsError> {
        let count = |query: &str| -> Result<u64, RecordsError> {
            let count: i64 = self
                .db
                .query_row(query, [], |row| row.get(0))
                .map_err(self.fault())?;
            Ok(count.unsigned_abs())
        };
        let mut faults = faults_of(&self.db).map_err(self.fault())?;
        let version = version_of(&self.db, &self.path)?;
        if shape(&self.db).ok() != shape_of_version(version) {
            faults.push("sqlite_schema".to_owned());
        }
        Ok(Checked {
            faults,
            attempts: count(sql::ATTEMPTS_COUNT)?,
            clock_went_back: count(sql::CLOCK_WENT_BACK)?,
            disk: Disk::of(&self.path),
            version,
        })
    }

    /// Writes a copy that is whole, also while others write to the store.
    ///
    /// # Errors
    /// Where there is such a file already, or it cannot be written.
    pub fn backup(&self, to: &Path) -> Result<(), RecordsError> {
        fs::File::create_new(to).map_err(RecordsError::io(to))?;
        let copied = copy_into(&self.db, to);
        if copied.is_err() {
            let _ = fs::remove_file(to);
        }
        copied
    }

    /// Puts a backup in the place of the store; the store as it was is kept beside it, under the name
    /// that is returned.
    ///
    /// # Errors
    /// Where the backup is not sound, or either cannot be written; the store is then as it was.
    pub fn restore(path: &Path, from: &Path) -> Result<Option<PathBuf>, RecordsError> {
        let backup = Self::open_copy(from)?;
        let kept = match fs::File::open(path) {
            Err(error) if error.kind() == std::io::ErrorKind::NotFound => None,
            Err(error) => return Err(RecordsError::io(path)(error)),
            Ok(_) => Some(keep_aside(path)?),
        };
        let new = beside(path, ".new");
        let _ = fs::remove_file(&new);
        backup.backup(&new)?;
        // The log belongs to the file that goes.
        for ending in ["-wal", "-shm", "-journal"] {
            let _ = fs::remove_file(beside(path, ending));
        }
        fs::rename(&new, path).map_err(RecordsError::io(path))?;
        Ok(kept)
    }

    /// Leaves nothing in the file of what was taken out of it.
    pub(super) fn scrub(&self) -> Result<(), RecordsError> {
        let scrubbed = self.db.execute_batch("VACUUM");
        scrubbed.map_err(self.fault())?;
        let truncated = self
            .db
            .query_row("PRAGMA wal_checkpoint(TRUNCATE)", [], |_| Ok(()));
        truncated.map_err(self.fault())
    }
}

/// A store that is put aside, whatever state it is in.
fn keep_aside(path: &Path) -> Result<PathBuf, RecordsError> {
    let mut number = 1;
    let aside = loop {
        let aside = beside(path, &format!(".before-{number}"));
        if !aside.exists() {
            break aside;
        }
        number += 1;
    };
    // A sound one with all that is in its log; a damaged one as it is.
    let copied =
        connect(path, OpenFlags::SQLITE_OPEN_READ_WRITE).and_then(|db| copy_into(&db, &aside));
    match copied {
        Ok(()) => {}
        Err(RecordsError::Database { source, .. })
            if source.sqlite_error_code() == Some(ErrorCode::DatabaseBusy) =>
        {
            return Err(RecordsError::at(path)(source));
        }
        Err(_) => {
            fs::copy(path, &aside).map_err(RecordsError::io(&aside))?;
        }
    }
    Ok(aside)
}

/// A file whose name goes on.
pub(super) fn beside(path: &Path, ending: &str) -> PathBuf {
    let mut name = path.as_os_str().to_owned();
    name.push(ending);
    name.into()
}

fn of(path: &Path) -> impl Fn(RecordsError) -> RecordsError + use<> {
    let path = path.to_owned();
    move |error| match error {
        RecordsError::Database { source, .. } => RecordsError::Database {
            path: path.clone(),
            source,
        },
        other => other,
    }
}

fn connect(path: &Path, flags: OpenFlags) -> Result<Connection, RecordsError> {
    let at = RecordsError::at(path);
    let db = Connection::open_with_flags(path, flags).map_err(&at)?;
    db.busy_timeout(PATIENCE).map_err(&at)?;
    for (name, value) in [
        ("synchronous", "FULL"),
        ("foreign_keys", "ON"),
        ("secure_delete", "ON"),
        ("trusted_schema", "OFF"),
        ("cell_size_check", "ON"),
        ("recursive_triggers", "ON"),
    ] {
        db.pragma_update(None, name, value).map_err(&at)?;
    }
    Ok(db)
}

/// Tries again while another program is in the way.
fn patiently<T>(mut what: impl FnMut() -> rusqlite::Result<T>) -> rusqlite::Result<T> {
    let begun = Instant::now();
    loop {
        match what() {
            Err(error)
                if error.sqlite_error_code() == Some(ErrorCode::DatabaseBusy)
                    && begun.elapsed() < PATIENCE =>
            {
                std::thread::sleep(PAUSE);
            }
            done => return done,
        }
    }
}

/// The version of a store; 0 of a file with nothing in it.
fn version_of(db: &Connection, path: &Path) -> Result<i64, RecordsError> {
    let at = RecordsError::at(path);
    let read = |name| db.pragma_query_value(None, name, |row| row.get::<_, i64>(0));
    let version = patiently(|| read("user_version")).map_err(&at)?;
    let application = read("application_id").map_err(&at)?;
    let tables: i64 = db
        .query_row(sql::TABLES, [], |row| row.get(0))
        .map_err(&at)?;
    if (application, version, tables) == (0, 0, 0) {
        return Ok(0);
    }
    let path = path.to_owned();
    if application != APPLICATION || version < 1 {
        return Err(RecordsError::Foreign { path });
    }
    let known = known_version(sql::STEPS);
    if version > known {
        return Err(RecordsError::Newer {
            path,
            version,
            known,
        });
    }
    Ok(version)
}

fn known_version(steps: &[&str]) -> i64 {
    i64::try_from(steps.len()).unwrap_or(i64::MAX)
}

/// Brings a store up to the last of the steps, all of them or none.
fn migrate(db: &mut Connection, path: &Path, steps: &[&str]) -> Result<(), RecordsError> {
    let at = RecordsError::at(path);
    if version_of(db, path)? >= known_version(steps) {
        return Ok(());
    }
    let begun = db.transaction_with_behavior(TransactionBehavior::Immediate);
    let transaction = begun.map_err(&at)?;
    // Another program may have come first.
    let version = version_of(&transaction, path)?;
    for step in steps.iter().skip(usize::try_from(version).unwrap_or(0)) {
        transaction.execute_batch(step).map_err(&at)?;
    }
    if version == 0 {
        let uid = Uuid::new_v4().to_string();
        transaction.execute(sql::STORE_ADD, [uid]).map_err(&at)?;
    }
    let set = |name, value| transaction.pragma_update(None, name, value);
    set("application_id", APPLICATION).map_err(&at)?;
    set("user_version", known_version(steps)).map_err(&at)?;
    transaction.commit().map_err(&at)
}

/// Everything that a store is made of.
type Shape = Vec<(String, String, String)>;

fn shape(db: &Connection) -> rusqlite::Result<Shape> {
    let mut query = db.prepare(sql::SHAPE)?;
    let rows = query.query_map([], |row| Ok((row.get(0)?, row.get(1)?, row.get(2)?)))?;
    rows.collect()
}

/// What a store of a version is made of.
fn shape_of_version(version: i64) -> Option<Shape> {
    let db = Connection::open_in_memory().ok()?;
    for step in sql::STEPS.iter().take(usize::try_from(version).ok()?) {
        db.execute_batch(step).ok()?;
    }
    shape(&db).ok()
}

/// What the database finds wrong with itself.
fn faults_of(db: &Connection) -> rusqlite::Result<Vec<String>> {
    let mut faults = Vec::new();
    let mut query = db.prepare("PRAGMA integrity_check")?;
    let rows = query.query_map([], |row| row.get::<_, String>(0))?;
    for said in rows {
        faults.push(said?);
    }
    faults.retain(|said| said != "ok");
    let mut query = db.prepare("PRAGMA foreign_key_check")?;
    let rows = query.query_map([], |row| row.get::<_, String>(0))?;
    for table in rows {
        faults.push(table?);
    }
    Ok(faults)
}

fn copy_into(db: &Connection, to: &Path) -> Result<(), RecordsError> {
    let at = RecordsError::at(to);
    let mut copy = connect(
        to,
        OpenFlags::SQLITE_OPEN_READ_WRITE | OpenFlags::SQLITE_OPEN_CREATE,
    )?;
    let backup = Backup::new(db, &mut copy).map_err(&at)?;
    let begun = Instant::now();
    loop {
        match backup.step(PAGES_A_STEP).map_err(&at)? {
            StepResult::Done => break,
            StepResult::More => {}
            _ if begun.elapsed() > PATIENCE => {
                let busy = rusqlite::ffi::Error::new(rusqlite::ffi::SQLITE_BUSY);
                return Err(at(rusqlite::Error::SqliteFailure(busy, None)));
            }
            _ => std::thread::sleep(PAUSE),
        }
    }
    drop(backup);
    // One file, with nothing beside it.
    copy.pragma_update(None, "journal_mode", "DELETE")
        .map_err(&at)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn folder() -> tempfile::TempDir {
        tempfile::tempdir().unwrap()
    }

    #[test]
    fn a_store_is_made_once_and_stays_the_same() {
        let folder = folder();
        let path = folder.path().join("a/b/records.sqlite");
        let uid = Records::open(&path).unwrap().uid();
        let records = Records::open(&path).unwrap();
        assert_eq!(records.uid(), uid);
        let checked = records.check().unwrap();
        assert_eq!((checked.faults, checked.version), (Vec::new(), 1));
        let mode: String = records
            .db
            .pragma_query_value(None, "journal_mode", |row| row.get(0))
            .unwrap();
        assert_eq!(mode, "wal");
        assert!(Records::open_to_read(&folder.path().join("none")).is_err());
    }

    #[test]
    fn steps_are_gone_through_in_order_and_all_or_none() {
        let folder = folder();
        let path = folder.path().join("x.sqlite");
        let mut db = connect(&path, OpenFlags::default()).unwrap();
        let first = "CREATE TABLE store (uid TEXT)";
        migrate(&mut db, &path, &[first]).unwrap();
        let known = |db: &Connection| -> i64 {
            db.pragma_query_value(None, "user_version", |row| row.get(0))
                .unwrap()
        };
        assert_eq!(known(&db), 1);
        let broken = [first, "CREATE TABLE t (x)", "CREATE TABLE t (x)"];
        assert!(migrate(&mut db, &path, &broken).is_err());
        assert_eq!(known(&db), 1, "none of the steps");
        db.execute_batch("CREATE TABLE t (x)").unwrap();
        let again: i64 = db
            .query_row("SELECT COUNT(*) FROM store", [], |row| row.get(0))
            .unwrap();
        assert_eq!(again, 1, "its name is kept");
    }

    #[test]
    fn what_is_not_ours_is_left_alone() {
        let folder = folder();
        let at = |name: &str| folder.path().join(name);
        fs::write(
            at("text"),
            "not a database, but long enough to be taken for one".repeat(20),
        )
        .unwrap();
        let foreign = Connection::open(at("foreign")).unwrap();
        foreign.execute_batch("CREATE TABLE mine (x)").unwrap();
        drop(foreign);
        let newer = Records::open(&at("newer")).unwrap();
        newer.db.pragma_update(None, "user_version", 9).unwrap();
        drop(newer);
        let hostile = Records::open(&at("hostile")).unwrap();
        hostile
            .db
            .execute_batch(
                "DROP TABLE rules; CREATE VIEW rules AS \
                 WITH RECURSIVE n(x) AS (SELECT 1 UNION ALL SELECT x + 1 FROM n) SELECT x FROM n",
            )
            .unwrap();
        drop(hostile);
        for open in [Records::open_to_read, Records::open_copy, Records::open] {
            let bytes = fs::read(at("text")).unwrap();
            let text = open(&at("text")).unwrap_err();
            assert_eq!(text.message().id(), "records-damaged");
            assert_eq!(fs::read(at("text")).unwrap(), bytes);
            assert!(matches!(
                open(&at("foreign")),
                Err(RecordsError::Foreign { .. })
            ));
            assert!(matches!(
                open(&at("newer")),
                Err(RecordsError::Newer {
                    version: 9,
                    known: 1,
                    ..
                })
            ));
        }
        assert!(matches!(
            Records::open_copy(&at("hostile")),
            Err(RecordsError::Foreign { .. })
        ));
        let nothing = at("nothing");
        fs::write(&nothing, "").unwrap();
        assert!(Records::open_copy(&nothing).is_err(), "an empty file");
    }

    #[test]
    fn a_backup_is_put_back_and_what_was_there_is_kept() {
        let folder = folder();
        let at = |name: &str| folder.path().join(name);
        let store = at("records.sqlite");
        let mut records = Records::open(&store).unwrap();
        records.add_class("Before").unwrap();
        records.backup(&at("backup")).unwrap();
        assert!(records.backup(&at("backup")).is_err(), "it is there");
        records.add_class("After").unwrap();
        drop(records);
        let kept = Records::restore(&store, &at("backup")).unwrap().unwrap();
        let names = |path: &Path| -> Vec<String> {
            let classes = Records::open_to_read(path).unwrap().classes().unwrap();
            classes.into_iter().map(|(name, _)| name).collect()
        };
        assert_eq!(names(&store), ["Before"]);
        assert_eq!(names(&kept), ["After", "Before"]);
        // A damaged store is kept as well, and a damaged backup is not taken.
        fs::write(&store, [7; 5000]).unwrap();
        fs::write(at("bad"), [7; 5000]).unwrap();
        assert!(Records::restore(&store, &at("bad")).is_err());
        assert_eq!(fs::read(&store).unwrap(), [7; 5000]);
        let kept = Records::restore(&store, &at("backup")).unwrap().unwrap();
        assert_eq!(fs::read(kept).unwrap(), [7; 5000]);
        assert_eq!(names(&store), ["Before"]);
    }

    #[test]
    fn what_is_written_stays_written() {
        let folder = folder();
        let records = Records::open(&folder.path().join("r")).unwrap();
        for table in ["attempts", "findings", "rules", "corrections", "sign_offs"] {
            let query =
                "SELECT COUNT(*) FROM sqlite_schema WHERE type = 'trigger' AND tbl_name = ?1";
            let count: i64 = records
                .db
                .query_row(query, [table], |row| row.get(0))
                .unwrap();
            assert_eq!(count, 2, "{table}");
        }
    }
}
