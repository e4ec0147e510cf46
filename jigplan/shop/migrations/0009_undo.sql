-- What the rows of the last changes were before them, so that the last change
-- can be undone. No steps: the change is an undo, or was undone.
CREATE TABLE undo (
    change INTEGER PRIMARY KEY, -- a line of the history
    steps  TEXT -- a JSON list
) STRICT;

-- The highest numbers ever given where the change that gave them was undone:
-- a number that was printed is never given again.
CREATE TABLE numbers (
    what TEXT PRIMARY KEY COLLATE NOCASE,
    last INTEGER NOT NULL
) STRICT;

INSERT INTO seals SELECT 'undo', 0;
CREATE TRIGGER undo_seal_in AFTER INSERT ON undo BEGIN UPDATE seals SET sum = sum + row_seal(new.change, new.steps) WHERE name = 'undo'; END;
CREATE TRIGGER undo_seal_out AFTER DELETE ON undo BEGIN UPDATE seals SET sum = sum - row_seal(old.change, old.steps) WHERE name = 'undo'; END;
CREATE TRIGGER undo_seal_on AFTER UPDATE ON undo BEGIN UPDATE seals SET sum = sum - row_seal(old.change, old.steps) + row_seal(new.change, new.steps) WHERE name = 'undo'; END;
INSERT INTO seals SELECT 'numbers', 0;
CREATE TRIGGER numbers_seal_in AFTER INSERT ON numbers BEGIN UPDATE seals SET sum = sum + row_seal(new.what, new.last) WHERE name = 'numbers'; END;
CREATE TRIGGER numbers_seal_out AFTER DELETE ON numbers BEGIN UPDATE seals SET sum = sum - row_seal(old.what, old.last) WHERE name = 'numbers'; END;
CREATE TRIGGER numbers_seal_on AFTER UPDATE ON numbers BEGIN UPDATE seals SET sum = sum - row_seal(old.what, old.last) + row_seal(new.what, new.last) WHERE name = 'numbers'; END;
