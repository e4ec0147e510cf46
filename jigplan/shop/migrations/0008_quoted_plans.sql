-- The plan behind each price of a quote, so that a job is accepted as what was
-- priced: added, never changed.
CREATE TABLE quoted_plans (
    quote    TEXT NOT NULL COLLATE NOCASE,
    revision INTEGER NOT NULL,
    take     TEXT NOT NULL, -- "Tea box A=25", as it is asked for
    plan     BLOB NOT NULL, -- frozen
    PRIMARY KEY (quote, revision, take),
    FOREIGN KEY (quote, revision) REFERENCES quotes (number, revision)
) STRICT;
CREATE TRIGGER quoted_plans_are_kept BEFORE UPDATE ON quoted_plans BEGIN SELECT raise(ABORT, 'a quoted plan is never changed'); END;
CREATE TRIGGER quoted_plans_stay BEFORE DELETE ON quoted_plans BEGIN SELECT raise(ABORT, 'a quoted plan is never removed'); END;

INSERT INTO seals SELECT 'quoted_plans', 0;
CREATE TRIGGER quoted_plans_seal_in AFTER INSERT ON quoted_plans BEGIN UPDATE seals SET sum = sum + row_seal(new.quote, new.revision, new.take, new.plan) WHERE name = 'quoted_plans'; END;
