-- Accepted orders. A job is open until it is finished, cancelled, or its
-- reservation lapses.
CREATE TABLE jobs (
    id       INTEGER PRIMARY KEY AUTOINCREMENT,
    name     TEXT NOT NULL,
    customer TEXT NOT NULL DEFAULT '',
    state    TEXT NOT NULL CHECK (state IN ('open', 'finished', 'cancelled', 'lapsed')),
    due      TEXT NOT NULL DEFAULT '', -- a date; empty: none
    held     TEXT NOT NULL DEFAULT '', -- the date after which the reservation lapses; empty: never
    accepted TEXT NOT NULL,
    closed   TEXT NOT NULL DEFAULT '',
    revision INTEGER NOT NULL,
    repeats  INTEGER REFERENCES jobs (id),
    note     TEXT NOT NULL DEFAULT ''
) STRICT;
CREATE INDEX jobs_by_state ON jobs (state);

-- What was agreed each time, frozen: never changed afterwards.
CREATE TABLE revisions (
    job     INTEGER NOT NULL REFERENCES jobs (id),
    number  INTEGER NOT NULL,
    at      TEXT NOT NULL,
    kind    TEXT NOT NULL CHECK (kind IN ('accept', 'change', 'recut')),
    file    TEXT NOT NULL,
    sha256  TEXT NOT NULL,
    profile INTEGER NOT NULL,
    boxes   INTEGER NOT NULL,
    parts   INTEGER NOT NULL,
    feet    REAL NOT NULL,
    cost    INTEGER NOT NULL,
    price   INTEGER NOT NULL,
    minutes REAL NOT NULL,
    p80     REAL NOT NULL,
    boards  TEXT NOT NULL, -- ids of rack boards, a JSON list
    factors TEXT NOT NULL, -- calibration the times were made with, a JSON object
    PRIMARY KEY (job, number)
) STRICT;
CREATE TRIGGER revisions_are_kept BEFORE UPDATE ON revisions BEGIN SELECT raise(ABORT, 'a revision is never changed'); END;
CREATE TRIGGER revisions_stay BEFORE DELETE ON revisions BEGIN SELECT raise(ABORT, 'a revision is never removed'); END;

-- Order, plan and printed workbook of a revision; apart, so that lists are quick.
CREATE TABLE papers (
    job    INTEGER NOT NULL,
    number INTEGER NOT NULL,
    kind   TEXT NOT NULL CHECK (kind IN ('order', 'plan', 'workbook')),
    sha256 TEXT NOT NULL,
    data   BLOB NOT NULL,
    PRIMARY KEY (job, number, kind),
    FOREIGN KEY (job, number) REFERENCES revisions (job, number)
) STRICT;

-- What was made and spoiled of each line of a finished job.
CREATE TABLE made (
    job     INTEGER NOT NULL REFERENCES jobs (id),
    box     TEXT NOT NULL,
    planned INTEGER NOT NULL,
    made    INTEGER NOT NULL CHECK (made >= 0),
    spoiled INTEGER NOT NULL CHECK (spoiled >= 0),
    PRIMARY KEY (job, box)
) STRICT;

-- One row a physical board. Lengths are ticks of 1/800,000 mm, money is cents.
CREATE TABLE boards (
    id        TEXT PRIMARY KEY CHECK (id <> ''),
    state     TEXT NOT NULL CHECK (state IN ('free', 'reserved', 'used', 'removed')),
    job       INTEGER REFERENCES jobs (id), -- that holds it, or used it
    wood      TEXT NOT NULL CHECK (wood <> ''),
    class     TEXT NOT NULL DEFAULT '',
    thickness INTEGER NOT NULL CHECK (thickness >= 0), -- true; 0: the class says
    length    INTEGER NOT NULL CHECK (length > 0),
    width     INTEGER NOT NULL CHECK (width > 0), -- at the narrow end
    wide_end  INTEGER NOT NULL DEFAULT 0,
    cost      INTEGER, -- null: not known
    place     TEXT NOT NULL DEFAULT '',
    grain     TEXT NOT NULL DEFAULT '',
    moisture  REAL NOT NULL DEFAULT 0,
    sheet     INTEGER NOT NULL CHECK (sheet IN (0, 1)),
    offcut    INTEGER NOT NULL CHECK (offcut IN (0, 1)), -- sawn on every side
    defects   TEXT NOT NULL DEFAULT '[]', -- a JSON list of [x, y, length, width]
    source    TEXT NOT NULL DEFAULT '', -- where it came from
    reason    TEXT NOT NULL DEFAULT '', -- why it was removed
    version   INTEGER NOT NULL DEFAULT 1,
    CHECK ((state IN ('reserved', 'used')) = (job IS NOT NULL)),
    CHECK (class <> '' OR thickness > 0)
) STRICT;
CREATE INDEX boards_by_state ON boards (state);
CREATE INDEX boards_by_job ON boards (job);

-- Settings of the shop as they were written, by their exact name.
CREATE TABLE settings (
    name  TEXT PRIMARY KEY,
    value TEXT NOT NULL,
    unit  TEXT NOT NULL DEFAULT ''
) STRICT;

-- Each state of rod, blade and jig: printed on the cards, never changed.
CREATE TABLE profiles (
    version INTEGER PRIMARY KEY,
    at      TEXT NOT NULL,
    jig     TEXT NOT NULL, -- the Jig settings, a JSON object
    why     TEXT NOT NULL
) STRICT;
CREATE TRIGGER profiles_are_kept BEFORE UPDATE ON profiles BEGIN SELECT raise(ABORT, 'a jig profile is never changed'); END;

CREATE TABLE blades (
    name   TEXT PRIMARY KEY CHECK (name <> ''),
    kerf   INTEGER NOT NULL CHECK (kerf > 0),
    note   TEXT NOT NULL DEFAULT '',
    in_use INTEGER NOT NULL DEFAULT 0 CHECK (in_use IN (0, 1))
) STRICT;
CREATE TABLE rods (
    name   TEXT PRIMARY KEY CHECK (name <> ''), -- 3/8-16, M8x1.25
    lead   INTEGER NOT NULL DEFAULT 0, -- as measured; 0: from the name
    note   TEXT NOT NULL DEFAULT '',
    in_use INTEGER NOT NULL DEFAULT 0 CHECK (in_use IN (0, 1))
) STRICT;

-- The logs: rows are added, never changed.
CREATE TABLE kerfs (
    id    INTEGER PRIMARY KEY,
    at    TEXT NOT NULL,
    blade TEXT NOT NULL REFERENCES blades (name),
    kerf  INTEGER NOT NULL CHECK (kerf > 0),
    after TEXT NOT NULL, -- "sharpening", "test corner"
    note  TEXT NOT NULL DEFAULT ''
) STRICT;
CREATE TABLE corners (
    id     INTEGER PRIMARY KEY,
    at     TEXT NOT NULL,
    blade  TEXT NOT NULL REFERENCES blades (name),
    finger INTEGER NOT NULL,
    height INTEGER NOT NULL,
    slot   INTEGER NOT NULL,
    kerf   INTEGER NOT NULL,
    lead   INTEGER NOT NULL,
    fit    TEXT NOT NULL, -- of a slot less a pin, ticks as an exact fraction
    advice TEXT NOT NULL
) STRICT;
CREATE TABLE moistures (
    id      INTEGER PRIMARY KEY,
    at      TEXT NOT NULL,
    what    TEXT NOT NULL, -- a board of the rack, or a wood
    percent REAL NOT NULL CHECK (percent > 0 AND percent < 200)
) STRICT;
CREATE TABLE times (
    id      INTEGER PRIMARY KEY,
    at      TEXT NOT NULL,
    element TEXT NOT NULL,
    job     INTEGER REFERENCES jobs (id),
    stack   TEXT NOT NULL DEFAULT '',
    boards  INTEGER NOT NULL DEFAULT 0, -- in the stack
    count   REAL NOT NULL DEFAULT 0, -- how often it was done; 0: all of the job's
    actual  REAL NOT NULL CHECK (actual > 0), -- minutes
    planned REAL NOT NULL DEFAULT 0, -- minutes in the plan; 0: not known
    base    REAL NOT NULL DEFAULT 0, -- the same before any calibration
    dropped INTEGER NOT NULL DEFAULT 0 CHECK (dropped IN (0, 1)), -- interrupted: not calibrated on
    note    TEXT NOT NULL DEFAULT ''
) STRICT;
CREATE INDEX times_by_element ON times (element);

-- Clocks that run.
CREATE TABLE clocks (
    element TEXT NOT NULL,
    job     INTEGER REFERENCES jobs (id),
    stack   TEXT NOT NULL DEFAULT '',
    count   REAL NOT NULL DEFAULT 0,
    started TEXT NOT NULL,
    who     TEXT NOT NULL
) STRICT;
