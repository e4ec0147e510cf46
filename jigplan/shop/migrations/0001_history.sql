-- Who changed what, and when: rows are added, never changed.
CREATE TABLE history (
    id   INTEGER PRIMARY KEY,
    at   TEXT NOT NULL,
    who  TEXT NOT NULL,
    what TEXT NOT NULL
) STRICT;
CREATE TRIGGER history_is_kept BEFORE UPDATE ON history BEGIN SELECT raise(ABORT, 'the history is never changed'); END;
CREATE TRIGGER history_stays BEFORE DELETE ON history BEGIN SELECT raise(ABORT, 'the history is never shortened'); END;
