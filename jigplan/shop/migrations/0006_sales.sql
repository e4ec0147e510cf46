-- What was brought to a fair and what was sold of it, a row a box and wood:
-- rows are added, never changed; the latest of a fair's box in a wood holds.
CREATE TABLE sales (
    id      INTEGER PRIMARY KEY,
    at      TEXT NOT NULL,
    fair    TEXT NOT NULL,
    day     TEXT NOT NULL, -- of the fair, a date
    box     TEXT NOT NULL CHECK (box <> ''),
    wood    TEXT NOT NULL DEFAULT '',
    price   INTEGER NOT NULL DEFAULT 0, -- cents
    home    INTEGER NOT NULL DEFAULT 0 CHECK (home >= 0), -- finished ones that stayed at home
    brought INTEGER NOT NULL CHECK (brought >= 0),
    sold    INTEGER CHECK (sold BETWEEN 0 AND brought) -- null: not said yet
) STRICT;
CREATE INDEX sales_by_day ON sales (day);
CREATE TRIGGER sales_are_kept BEFORE UPDATE ON sales BEGIN SELECT raise(ABORT, 'what was sold is never changed, only said again'); END;
CREATE TRIGGER sales_stay BEFORE DELETE ON sales BEGIN SELECT raise(ABORT, 'what was sold is never removed'); END;

INSERT INTO seals SELECT 'sales', coalesce(sum(row_seal(id, at, fair, day, box, wood, price, home, brought, sold)), 0) FROM sales;
CREATE TRIGGER sales_seal_in AFTER INSERT ON sales BEGIN UPDATE seals SET sum = sum + row_seal(new.id, new.at, new.fair, new.day, new.box, new.wood, new.price, new.home, new.brought, new.sold) WHERE name = 'sales'; END;
