//! What the database is asked.

/// The store from nothing, and every step from one version to the next.
pub const STEPS: &[&str] = &[include_str!("schema.sql")];

/// How the file of a store begins.
pub const MARK: &[u8] = b"SQLite format 3\0";

pub const STORE_ADD: &str = "INSERT INTO store (uid) VALUES (?1)";
pub const STORE_UID: &str = "SELECT uid FROM store";
pub const SHAPE: &str = "SELECT type, name, COALESCE(sql, '') FROM sqlite_schema \
    WHERE name NOT LIKE 'sqlite\\_%' ESCAPE '\\' ORDER BY type, name";
pub const TABLES: &str = "SELECT COUNT(*) FROM sqlite_schema";
/// Attempts of this store that were written at an earlier time than the one before them.
pub const CLOCK_WENT_BACK: &str = "SELECT COUNT(*) FROM (\
        SELECT recorded_at, LAG(recorded_at) OVER (ORDER BY seq) AS before FROM attempts \
        WHERE origin = (SELECT uid FROM store)\
    ) WHERE recorded_at < before";
pub const ATTEMPTS_COUNT: &str = "SELECT COUNT(*) FROM attempts";

pub const PERSON_ADD: &str = "INSERT INTO people (uid, name, key, number) VALUES (?1, ?2, ?3, ?4)";
pub const PEOPLE_COUNT: &str = "SELECT COUNT(*) FROM people";
pub const NOBODY_ADD: &str = "INSERT INTO people (uid) VALUES (NULL)";
pub const PERSON_BY_KEY: &str = "SELECT id FROM people WHERE key = ?1 AND number = ?2";
/// A name without a number is that of the only one who has it.
pub const PERSON_MEANT: &str = "SELECT id FROM people WHERE key = ?1 AND (number = ?2 \
    OR (?2 = '' AND (SELECT COUNT(*) FROM people WHERE key = ?1) = 1))";
pub const PERSON_BY_UID: &str = "SELECT id FROM people WHERE uid = ?1 \
    UNION SELECT person FROM aliases WHERE uid = ?1";
pub const PEOPLE_NAMED: &str = "SELECT id, uid, name, number FROM people WHERE key = ?1 OR uid = ?1 \
    ORDER BY number";
pub const PEOPLE: &str = "SELECT p.id, p.uid, p.name, p.number FROM people p \
    WHERE p.name IS NOT NULL AND (?1 IS NULL OR EXISTS (\
        SELECT 1 FROM memberships m WHERE m.class = ?1 AND m.person = p.id)) \
    ORDER BY p.key, p.number";
/// Those who may learn something: whoever only stands for others' attempts is none of them, unless they are
/// in the class that is asked for.
pub const TRAINEES: &str = "SELECT p.id, p.uid, p.name, p.number FROM people p \
    WHERE p.name IS NOT NULL AND (?1 IS NOT NULL AND EXISTS (\
        SELECT 1 FROM memberships m WHERE m.class = ?1 AND m.person = p.id) \
    OR ?1 IS NULL AND (EXISTS (SELECT 1 FROM memberships m WHERE m.person = p.id) \
        OR EXISTS (SELECT 1 FROM attempts a WHERE a.person = p.id) \
        OR EXISTS (SELECT 1 FROM corrections c WHERE c.person = p.id) \
        OR NOT EXISTS (SELECT 1 FROM sign_offs s WHERE s.made_by = p.id) \
            AND NOT EXISTS (SELECT 1 FROM corrections c WHERE c.made_by = p.id))) \
    ORDER BY p.key, p.number";
/// What an exercise was called when it was tried last.
pub const TITLES: &str = "SELECT scenario, scenario_hash, titles, MAX(seq) FROM attempts \
    GROUP BY scenario, scenario_hash";
pub const ALIAS_ADD: &str = "INSERT OR IGNORE INTO aliases (uid, person) VALUES (?1, ?2)";
pub const FORGOTTEN: &str = "SELECT EXISTS (SELECT 1 FROM forgotten WHERE uid = ?1)";
pub const FORGET: &[&str] = &[
    "INSERT OR IGNORE INTO forgotten SELECT uid FROM people WHERE id = ?1 AND uid IS NOT NULL",
    "INSERT OR IGNORE INTO forgotten SELECT uid FROM aliases WHERE person = ?1",
    "DELETE FROM aliases WHERE person = ?1",
    "DELETE FROM memberships WHERE person = ?1",
    "DELETE FROM due_dates WHERE person = ?1",
    "UPDATE statements SET body = '', state = CASE state WHEN 'waiting' THEN 'void' ELSE state END, \
        answer = NULL WHERE attempt IN (SELECT seq FROM attempts_now WHERE whose = ?1 OR person = ?1)",
    "UPDATE corrections SET why = '' WHERE why <> '' AND (made_by = ?1 OR person = ?1 \
        OR attempt IN (SELECT seq FROM attempts_now WHERE whose = ?1 OR person = ?1))",
    "UPDATE sign_offs SET note = '' WHERE note <> '' AND (made_by = ?1 \
        OR attempt IN (SELECT seq FROM attempts_now WHERE whose = ?1 OR person = ?1))",
    "UPDATE people SET uid = NULL, name = NULL, key = NULL, number = '' WHERE id = ?1",
];

pub const CLASS_ADD: &str = "INSERT OR IGNORE INTO classes (name, key) VALUES (?1, ?2)";
pub const CLASS_BY_KEY: &str = "SELECT id, name FROM classes WHERE key = ?1";
pub const CLASSES: &str = "SELECT c.name, COUNT(m.person) FROM classes c \
    LEFT JOIN memberships m ON m.class = c.id GROUP BY c.id ORDER BY c.key";
pub const MEMBER_ADD: &str = "INSERT OR IGNORE INTO memberships (class, person) VALUES (?1, ?2)";
pub const MEMBERSHIPS: &str = "SELECT c.name, p.uid FROM classes c \
    LEFT JOIN memberships m ON m.class = c.id LEFT JOIN people p ON p.id = m.person \
    WHERE ?1 IS NULL OR c.id = ?1 ORDER BY c.key, p.key";

pub const ATTEMPT_ADD: &str = "INSERT INTO attempts (uid, origin, recorded_at, ticket, began_at, \
    person, scenario, scenario_hash, titles, seed, mode, passed, points, pass_mark, ended, outcome, \
    duration_s, breaks, breaks_s, recording, program) VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, \
    ?10, ?11, ?12, ?13, ?14, ?15, ?16, ?17, ?18, ?19, ?20, ?21)";
/// Attempts as they are, with a tail of a query.
macro_rules! attempts {
    ($tail:literal) => {
        concat!(
            "SELECT a.uid, a.ticket, a.began_at, p.name, a.scenario, a.scenario_hash, \
            a.titles, a.seed, a.mode, a.passed, a.points, a.pass_mark, a.ended, a.outcome, a.duration_s, \
            a.breaks, a.breaks_s, a.recording, a.program, a.seq, a.whose, a.is_void, w.uid, \
            a.origin, a.recorded_at FROM attempts_now a LEFT JOIN people p ON p.id = a.whose \
            LEFT JOIN people w ON w.id = a.person ",
            $tail
        )
    };
}
/// Behind the columns of an attempt: its place in the order of writing, whose it is, whether it does not
/// count, by whom it was written down to be made, in which store, and when.
pub const ATTEMPTS: &str = attempts!(
    "WHERE (?1 IS NULL OR a.whose = ?1) AND (?2 IS NULL OR a.scenario = ?2) \
    AND (?3 IS NULL OR a.whose IN (SELECT person FROM memberships WHERE class = ?3)) \
    AND (?4 OR NOT a.is_void) ORDER BY a.seq"
);
/// The last attempts that count, of everybody who has one.
pub const LAST_ATTEMPTS: &str = attempts!(
    "WHERE a.seq IN (SELECT MAX(seq) FROM attempts_now \
        WHERE NOT is_void AND whose IS NOT NULL GROUP BY whose) \
    AND (?1 IS NULL OR a.whose IN (SELECT person FROM memberships WHERE class = ?1)) ORDER BY a.seq"
);
pub const ATTEMPT: &str = attempts!("WHERE a.uid = ?1");
pub const ATTEMPT_SEQ: &str = "SELECT seq FROM attempts WHERE uid = ?1";
pub const TICKET_KNOWN: &str = "SELECT EXISTS (SELECT 1 FROM attempts WHERE ticket = ?1)";
/// The attempts whose names begin so.
pub const ATTEMPTS_NAMED: &str = "SELECT uid FROM attempts WHERE uid = ?1 OR ticket = ?1 \
    UNION SELECT uid FROM attempts WHERE length(?1) >= 4 AND substr(uid, 1, length(?1)) = ?1 LIMIT 2";
pub const RULE_ADD: &str = "INSERT OR IGNORE INTO rules (said) VALUES (?1)";
pub const FINDING_ADD: &str = "INSERT INTO findings (attempt, place, kind, severity, tick, time_s, \
    points, rule) VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, (SELECT id FROM rules WHERE said = ?8))";
pub const FINDINGS: &str = "SELECT f.kind, f.severity, f.tick, f.time_s, f.points, r.said \
    FROM findings f JOIN rules r ON r.id = f.rule WHERE f.attempt = ?1 ORDER BY f.place";
pub const CORRECTION_ADD: &str = "INSERT INTO corrections (uid, attempt, made_at, made_by, why, \
    what, person) VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7)";
pub const CORRECTIONS: &str = "SELECT c.uid, c.made_at, b.name, c.why, c.what, p.name, b.uid, p.uid \
    FROM corrections c JOIN people b ON b.id = c.made_by \
    LEFT JOIN people p ON p.id = c.person WHERE c.attempt = ?1 ORDER BY c.seq";
pub const CORRECTION_KNOWN: &str = "SELECT EXISTS (SELECT 1 FROM corrections WHERE uid = ?1)";
pub const SIGN_OFF_ADD: &str = "INSERT INTO sign_offs (uid, attempt, made_at, made_by, note) \
    VALUES (?1, ?2, ?3, ?4, ?5)";
pub const SIGN_OFFS: &str = "SELECT s.uid, s.made_at, b.name, s.note, b.uid FROM sign_offs s \
    JOIN people b ON b.id = s.made_by WHERE s.attempt = ?1 ORDER BY s.seq";
pub const SIGN_OFF_KNOWN: &str = "SELECT EXISTS (SELECT 1 FROM sign_offs WHERE uid = ?1)";
pub const DUE_ADD: &str = "INSERT OR IGNORE INTO due_dates (uid, person, scenario, due_on, made_at) \
    VALUES (?1, ?2, ?3, ?4, ?5)";
pub const DUE: &str = "SELECT d.uid, p.name, d.scenario, d.due_on, d.made_at, p.uid, p.id \
    FROM due_dates d JOIN people p ON p.id = d.person \
    WHERE NOT EXISTS (SELECT 1 FROM due_dates n WHERE n.person = d.person \
        AND n.scenario = d.scenario AND n.seq > d.seq) \
    AND (?1 IS NULL OR d.person IN (SELECT person FROM memberships WHERE class = ?1)) \
    ORDER BY d.due_on, p.key";
pub const RECORDINGS_OF: &str = "SELECT recording FROM attempts_now \
    WHERE (whose = ?1 OR person = ?1) AND recording IS NOT NULL";

/// Of the attempts that count, in the order of writing: whose, which scenario, its text, and what came
/// of it.
pub const SUMMARY_ATTEMPTS: &str = "SELECT a.seq, a.whose, a.scenario, a.scenario_hash, \
    a.seed, a.passed, a.points FROM attempts_now a \
    WHERE NOT a.is_void AND a.ended IS NOT NULL AND (?1 IS NULL OR a.whose IN \
        (SELECT person FROM memberships WHERE class = ?1)) ORDER BY a.seq";
pub const SUMMARY_FINDINGS: &str = "SELECT f.attempt, f.kind, f.points FROM findings f \
    ORDER BY f.attempt, f.place";

/// Attempts of people who have a name, for the statements about them.
pub const TO_STATE: &str = "SELECT a.uid, a.revision, p.uid, a.is_void FROM attempts_now a \
    LEFT JOIN people p ON p.id = a.whose \
    WHERE NOT EXISTS (SELECT 1 FROM statements s WHERE s.endpoint = ?1 AND s.attempt = a.seq \
        AND s.revision = a.revision) \
    AND (?2 IS NULL OR a.whose IN (SELECT person FROM memberships WHERE class = ?2)) ORDER BY a.seq";
pub const STATEMENT_ADD: &str = "INSERT OR IGNORE INTO statements (endpoint, uid, attempt, revision, \
    body, state) VALUES (?1, ?2, ?3, ?4, ?5, ?6)";
/// Statements about an attempt as it was before its last correction.
pub const STATEMENTS_BEFORE: &str = "SELECT uid, state, tries FROM statements \
    WHERE endpoint = ?1 AND attempt = ?2 AND revision <> ?3 AND state <> 'void' ORDER BY seq";
pub const STATEMENT_VOID: &str = "UPDATE statements SET state = 'void', body = '' \
    WHERE endpoint = ?1 AND uid = ?2";
pub const WAITING: &str = "SELECT uid, body FROM statements \
    WHERE endpoint = ?1 AND state = 'waiting' ORDER BY seq LIMIT ?2";
pub const WAITING_COUNT: &str = "SELECT COUNT(*) FROM statements \
    WHERE endpoint = ?1 AND state = 'waiting'";
pub const STATEMENT_TRIED: &str = "UPDATE statements SET tries = tries + 1 \
    WHERE endpoint = ?1 AND uid = ?2";
pub const STATEMENT_SETTLED: &str = "UPDATE statements SET state = ?3, answer = ?4, \
    body = CASE ?3 WHEN 'sent' THEN '' ELSE body END WHERE endpoint = ?1 AND uid = ?2";
