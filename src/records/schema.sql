-- The records store, version 1. Times are ISO 8601 in UTC.

CREATE TABLE store (
    uid TEXT NOT NULL
) STRICT;

-- A person who is forgotten keeps the row, so that statistics stay, and nothing that tells who it was.
CREATE TABLE people (
    id INTEGER PRIMARY KEY,
    uid TEXT UNIQUE,
    name TEXT,
    -- The name as it is compared.
    key TEXT,
    -- Tells people of one name apart.
    number TEXT NOT NULL DEFAULT '',
    CHECK ((uid IS NULL) = (name IS NULL) AND (name IS NULL) = (key IS NULL)),
    CHECK (name IS NOT NULL OR number = '')
) STRICT;
CREATE UNIQUE INDEX people_by_name ON people (key, number) WHERE key IS NOT NULL;

-- By what a person goes in other stores.
CREATE TABLE aliases (
    uid TEXT PRIMARY KEY,
    person INTEGER NOT NULL REFERENCES people
) STRICT, WITHOUT ROWID;

-- Marks of people who are forgotten, so that an import does not bring them back. No other row knows them.
CREATE TABLE forgotten (
    uid TEXT PRIMARY KEY
) STRICT, WITHOUT ROWID;

CREATE TABLE classes (
    id INTEGER PRIMARY KEY,
    name TEXT NOT NULL,
    key TEXT NOT NULL UNIQUE
) STRICT;

CREATE TABLE memberships (
    class INTEGER NOT NULL REFERENCES classes,
    person INTEGER NOT NULL REFERENCES people,
    PRIMARY KEY (class, person)
) STRICT, WITHOUT ROWID;
CREATE INDEX memberships_by_person ON memberships (person);

-- In the order in which they were written, which no clock can change.
CREATE TABLE attempts (
    seq INTEGER PRIMARY KEY,
    uid TEXT NOT NULL UNIQUE,
    -- The store in which it was written first, and when.
    origin TEXT NOT NULL,
    recorded_at TEXT NOT NULL,
    -- The name of its files.
    ticket TEXT NOT NULL,
    began_at TEXT NOT NULL,
    person INTEGER REFERENCES people,
    scenario TEXT NOT NULL,
    scenario_hash TEXT NOT NULL,
    -- Its name by language, as JSON.
    titles TEXT NOT NULL,
    -- Larger than the integers of a database.
    seed TEXT NOT NULL,
    mode TEXT NOT NULL,
    passed INTEGER NOT NULL CHECK (passed IN (0, 1)),
    points REAL NOT NULL,
    pass_mark REAL NOT NULL,
    ended TEXT,
    outcome TEXT,
    duration_s REAL NOT NULL,
    breaks INTEGER NOT NULL,
    breaks_s REAL NOT NULL,
    recording TEXT,
    program TEXT NOT NULL
) STRICT;
CREATE INDEX attempts_by_person ON attempts (person);
CREATE INDEX attempts_by_ticket ON attempts (ticket);

CREATE TABLE rules (
    id INTEGER PRIMARY KEY,
    said TEXT NOT NULL UNIQUE
) STRICT;

CREATE TABLE findings (
    attempt INTEGER NOT NULL REFERENCES attempts,
    place INTEGER NOT NULL,
    kind TEXT NOT NULL,
    severity TEXT NOT NULL,
    tick INTEGER NOT NULL,
    time_s REAL NOT NULL,
    points REAL NOT NULL,
    rule INTEGER NOT NULL REFERENCES rules,
    PRIMARY KEY (attempt, place)
) STRICT, WITHOUT ROWID;

CREATE TABLE corrections (
    seq INTEGER PRIMARY KEY,
    uid TEXT NOT NULL UNIQUE,
    attempt INTEGER NOT NULL REFERENCES attempts,
    made_at TEXT NOT NULL,
    made_by INTEGER NOT NULL REFERENCES people,
    why TEXT NOT NULL,
    what TEXT NOT NULL CHECK (what IN ('void', 'person', 'note')),
    person INTEGER REFERENCES people,
    CHECK ((what = 'person') = (person IS NOT NULL))
) STRICT;
CREATE INDEX corrections_by_attempt ON corrections (attempt);

CREATE TABLE sign_offs (
    seq INTEGER PRIMARY KEY,
    uid TEXT NOT NULL UNIQUE,
    attempt INTEGER NOT NULL REFERENCES attempts,
    made_at TEXT NOT NULL,
    made_by INTEGER NOT NULL REFERENCES people,
    note TEXT NOT NULL
) STRICT;
CREATE INDEX sign_offs_by_attempt ON sign_offs (attempt);

-- The last one of a person and a scenario applies; no scenario: all of it.
CREATE TABLE due_dates (
    seq INTEGER PRIMARY KEY,
    uid TEXT NOT NULL UNIQUE,
    person INTEGER NOT NULL REFERENCES people,
    scenario TEXT NOT NULL DEFAULT '',
    due_on TEXT NOT NULL,
    made_at TEXT NOT NULL
) STRICT;
CREATE INDEX due_dates_by_person ON due_dates (person);

-- What goes to a record store, and how far it has come.
CREATE TABLE statements (
    seq INTEGER PRIMARY KEY,
    endpoint TEXT NOT NULL,
    uid TEXT NOT NULL,
    attempt INTEGER NOT NULL REFERENCES attempts,
    -- The correction that it belongs to; empty for the attempt as it was written.
    revision TEXT NOT NULL,
    -- Empty once it is there.
    body TEXT NOT NULL,
    state TEXT NOT NULL CHECK (state IN ('waiting', 'sent', 'refused', 'void')),
    tries INTEGER NOT NULL DEFAULT 0,
    answer TEXT,
    UNIQUE (endpoint, uid)
) STRICT;
CREATE INDEX statements_by_state ON statements (endpoint, state, seq);
CREATE INDEX statements_by_attempt ON statements (attempt);

-- An attempt as its corrections leave it.
CREATE VIEW attempts_now AS
SELECT
    a.*,
    COALESCE(
        (SELECT c.person FROM corrections c
            WHERE c.attempt = a.seq AND c.what = 'person' ORDER BY c.seq DESC LIMIT 1),
        a.person
    ) AS whose,
    EXISTS (SELECT 1 FROM corrections c WHERE c.attempt = a.seq AND c.what = 'void') AS is_void,
    COALESCE(
        (SELECT c.uid FROM corrections c
            WHERE c.attempt = a.seq AND c.what <> 'note' ORDER BY c.seq DESC LIMIT 1),
        ''
    ) AS revision
FROM attempts a;

-- What is written stays written.
CREATE TRIGGER attempts_stay_written BEFORE UPDATE ON attempts
BEGIN SELECT RAISE(ABORT, 'attempts are only added to'); END;
CREATE TRIGGER attempts_stay BEFORE DELETE ON attempts
BEGIN SELECT RAISE(ABORT, 'attempts are only added to'); END;
CREATE TRIGGER findings_stay_written BEFORE UPDATE ON findings
BEGIN SELECT RAISE(ABORT, 'findings are only added to'); END;
CREATE TRIGGER findings_stay BEFORE DELETE ON findings
BEGIN SELECT RAISE(ABORT, 'findings are only added to'); END;
CREATE TRIGGER rules_stay_written BEFORE UPDATE ON rules
BEGIN SELECT RAISE(ABORT, 'rules are only added to'); END;
CREATE TRIGGER rules_stay BEFORE DELETE ON rules
BEGIN SELECT RAISE(ABORT, 'rules are only added to'); END;
-- Words of people's own may hold a name: they can be taken away, and not changed.
CREATE TRIGGER corrections_stay_written BEFORE UPDATE ON corrections
WHEN NOT (
    NEW.why = '' AND NEW.seq = OLD.seq AND NEW.uid = OLD.uid AND NEW.attempt = OLD.attempt
    AND NEW.made_at = OLD.made_at AND NEW.made_by = OLD.made_by AND NEW.what = OLD.what
    AND NEW.person IS OLD.person
)
BEGIN SELECT RAISE(ABORT, 'corrections are only added to'); END;
CREATE TRIGGER corrections_stay BEFORE DELETE ON corrections
BEGIN SELECT RAISE(ABORT, 'corrections are only added to'); END;
CREATE TRIGGER sign_offs_stay_written BEFORE UPDATE ON sign_offs
WHEN NOT (
    NEW.note = '' AND NEW.seq = OLD.seq AND NEW.uid = OLD.uid AND NEW.attempt = OLD.attempt
    AND NEW.made_at = OLD.made_at AND NEW.made_by = OLD.made_by
)
BEGIN SELECT RAISE(ABORT, 'sign-offs are only added to'); END;
CREATE TRIGGER sign_offs_stay BEFORE DELETE ON sign_offs
BEGIN SELECT RAISE(ABORT, 'sign-offs are only added to'); END;
