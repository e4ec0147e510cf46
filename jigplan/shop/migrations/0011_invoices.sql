-- Invoices as they were issued, what was paid, and what customers answered:
-- rows are added, never changed.
CREATE TABLE invoices (
    number INTEGER PRIMARY KEY CHECK (number > 0),
    at     TEXT NOT NULL,
    quote  TEXT NOT NULL COLLATE NOCASE,
    job    INTEGER NOT NULL,
    record TEXT NOT NULL -- JSON
) STRICT;
CREATE TRIGGER invoices_are_kept BEFORE UPDATE ON invoices BEGIN SELECT raise(ABORT, 'an invoice is never changed'); END;
CREATE TRIGGER invoices_stay BEFORE DELETE ON invoices BEGIN SELECT raise(ABORT, 'an invoice is never removed'); END;
CREATE TABLE payments (
    id     INTEGER PRIMARY KEY,
    at     TEXT NOT NULL,
    quote  TEXT NOT NULL COLLATE NOCASE,
    job    INTEGER NOT NULL,
    day    TEXT NOT NULL, -- a date
    amount INTEGER NOT NULL CHECK (amount <> 0), -- cents; negative: paid back
    note   TEXT NOT NULL DEFAULT ''
) STRICT;
CREATE TRIGGER payments_are_kept BEFORE UPDATE ON payments BEGIN SELECT raise(ABORT, 'a payment is never changed'); END;
CREATE TRIGGER payments_stay BEFORE DELETE ON payments BEGIN SELECT raise(ABORT, 'a payment is never removed'); END;
CREATE TABLE answers (
    id       INTEGER PRIMARY KEY,
    at       TEXT NOT NULL,
    quote    TEXT NOT NULL COLLATE NOCASE,
    revision INTEGER NOT NULL,
    declined INTEGER NOT NULL CHECK (declined IN (0, 1)), -- 0: open again
    why      TEXT NOT NULL DEFAULT ''
) STRICT;
CREATE TRIGGER answers_are_kept BEFORE UPDATE ON answers BEGIN SELECT raise(ABORT, 'an answer is never changed, only given again'); END;
CREATE TRIGGER answers_stay BEFORE DELETE ON answers BEGIN SELECT raise(ABORT, 'an answer is never removed'); END;

INSERT INTO seals VALUES ('invoices', 0), ('payments', 0), ('answers', 0);
CREATE TRIGGER invoices_seal_in AFTER INSERT ON invoices BEGIN UPDATE seals SET sum = sum + row_seal(new.number, new.at, new.quote, new.job, new.record) WHERE name = 'invoices'; END;
CREATE TRIGGER payments_seal_in AFTER INSERT ON payments BEGIN UPDATE seals SET sum = sum + row_seal(new.id, new.at, new.quote, new.job, new.day, new.amount, new.note) WHERE name = 'payments'; END;
CREATE TRIGGER answers_seal_in AFTER INSERT ON answers BEGIN UPDATE seals SET sum = sum + row_seal(new.id, new.at, new.quote, new.revision, new.declined, new.why) WHERE name = 'answers'; END;
