-- What can be bought: the lines of the yard's list, as it was last read.
CREATE TABLE yard (
    line      INTEGER PRIMARY KEY,
    id        TEXT NOT NULL DEFAULT '',
    count     INTEGER CHECK (count > 0), -- null: as many as wanted
    wood      TEXT NOT NULL CHECK (wood <> ''),
    class     TEXT NOT NULL DEFAULT '',
    thickness INTEGER NOT NULL CHECK (thickness >= 0), -- true; 0: the class says
    length    INTEGER NOT NULL CHECK (length > 0),
    width     INTEGER NOT NULL CHECK (width > 0),
    cost      INTEGER, -- of one board; null: not known
    place     TEXT NOT NULL DEFAULT '',
    arrives   TEXT NOT NULL DEFAULT '', -- a day; empty: at once
    sheet     INTEGER NOT NULL CHECK (sheet IN (0, 1)),
    defects   TEXT NOT NULL DEFAULT '[]', -- as in boards
    CHECK (class <> '' OR thickness > 0)
) STRICT;

INSERT INTO seals SELECT 'yard', 0;
CREATE TRIGGER yard_seal_in AFTER INSERT ON yard BEGIN UPDATE seals SET sum = sum + row_seal(new.line, new.id, new.count, new.wood, new.class, new.thickness, new.length, new.width, new.cost, new.place, new.arrives, new.sheet, new.defects) WHERE name = 'yard'; END;
CREATE TRIGGER yard_seal_out AFTER DELETE ON yard BEGIN UPDATE seals SET sum = sum - row_seal(old.line, old.id, old.count, old.wood, old.class, old.thickness, old.length, old.width, old.cost, old.place, old.arrives, old.sheet, old.defects) WHERE name = 'yard'; END;
CREATE TRIGGER yard_seal_on AFTER UPDATE ON yard BEGIN UPDATE seals SET sum = sum - row_seal(old.line, old.id, old.count, old.wood, old.class, old.thickness, old.length, old.width, old.cost, old.place, old.arrives, old.sheet, old.defects) + row_seal(new.line, new.id, new.count, new.wood, new.class, new.thickness, new.length, new.width, new.cost, new.place, new.arrives, new.sheet, new.defects) WHERE name = 'yard'; END;
