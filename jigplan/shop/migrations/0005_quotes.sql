-- Quotes as they were given to customers, a row a revision: added, never
-- changed.
CREATE TABLE quotes (
    number   TEXT NOT NULL COLLATE NOCASE CHECK (number <> ''),
    revision INTEGER NOT NULL CHECK (revision > 0),
    at       TEXT NOT NULL,
    customer TEXT NOT NULL,
    valid    TEXT NOT NULL, -- the last day, a date
    file     TEXT NOT NULL,
    sha256   TEXT NOT NULL, -- of the order file
    orders   BLOB NOT NULL, -- the order file, byte for byte
    record   BLOB NOT NULL, -- a JSON object
    offer    BLOB NOT NULL, -- the customer's workbook; empty: nothing had a price
    costs    BLOB NOT NULL, -- the shop's workbook
    PRIMARY KEY (number, revision)
) STRICT;
CREATE TRIGGER quotes_are_kept BEFORE UPDATE ON quotes BEGIN SELECT raise(ABORT, 'a quote is never changed'); END;
CREATE TRIGGER quotes_stay BEFORE DELETE ON quotes BEGIN SELECT raise(ABORT, 'a quote is never removed'); END;
CREATE INDEX quotes_by_order ON quotes (sha256);

-- What was taken of a quote, a row a revision of the job. Money is cents.
CREATE TABLE taken (
    job      INTEGER NOT NULL,
    number   INTEGER NOT NULL, -- of the job's revision
    quote    TEXT NOT NULL COLLATE NOCASE,
    revision INTEGER NOT NULL, -- of the quote
    takes    TEXT NOT NULL, -- a JSON list: "Tea box A=25"
    net      INTEGER NOT NULL,
    tax      INTEGER NOT NULL,
    total    INTEGER NOT NULL,
    deposit  INTEGER NOT NULL,
    PRIMARY KEY (job, number),
    FOREIGN KEY (job, number) REFERENCES revisions (job, number),
    FOREIGN KEY (quote, revision) REFERENCES quotes (number, revision)
) STRICT;
CREATE TRIGGER taken_is_kept BEFORE UPDATE ON taken BEGIN SELECT raise(ABORT, 'what was taken is never changed'); END;
CREATE TRIGGER taken_stays BEFORE DELETE ON taken BEGIN SELECT raise(ABORT, 'what was taken is never removed'); END;

INSERT INTO seals SELECT 'quotes', coalesce(sum(row_seal(number, revision, at, customer, valid, file, sha256, orders, record, offer, costs)), 0) FROM quotes;
CREATE TRIGGER quotes_seal_in AFTER INSERT ON quotes BEGIN UPDATE seals SET sum = sum + row_seal(new.number, new.revision, new.at, new.customer, new.valid, new.file, new.sha256, new.orders, new.record, new.offer, new.costs) WHERE name = 'quotes'; END;
INSERT INTO seals SELECT 'taken', coalesce(sum(row_seal(job, number, quote, revision, takes, net, tax, total, deposit)), 0) FROM taken;
CREATE TRIGGER taken_seal_in AFTER INSERT ON taken BEGIN UPDATE seals SET sum = sum + row_seal(new.job, new.number, new.quote, new.revision, new.takes, new.net, new.tax, new.total, new.deposit) WHERE name = 'taken'; END;
