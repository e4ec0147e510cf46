-- Week sheets as they were given out: rows are added, never changed.
CREATE TABLE weeks (
    id    INTEGER PRIMARY KEY,
    at    TEXT NOT NULL,
    first TEXT NOT NULL, -- the first printed day, a date
    days  INTEGER NOT NULL,
    sheet BLOB NOT NULL  -- a JSON object
) STRICT;
CREATE TRIGGER weeks_are_kept BEFORE UPDATE ON weeks BEGIN SELECT raise(ABORT, 'a week sheet is never changed'); END;
CREATE TRIGGER weeks_stay BEFORE DELETE ON weeks BEGIN SELECT raise(ABORT, 'a week sheet is never removed'); END;

INSERT INTO seals SELECT 'weeks', coalesce(sum(row_seal(id, at, first, days, sheet)), 0) FROM weeks;
CREATE TRIGGER weeks_seal_in AFTER INSERT ON weeks BEGIN UPDATE seals SET sum = sum + row_seal(new.id, new.at, new.first, new.days, new.sheet) WHERE name = 'weeks'; END;
