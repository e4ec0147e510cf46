-- A seal a table: the sum of a hash of each of its rows. A row that was changed
-- by anything but a transaction, such as a failing disk, no longer adds up.
CREATE TABLE seals (
    name TEXT PRIMARY KEY,
    sum  INTEGER NOT NULL
) STRICT;

INSERT INTO seals SELECT 'history', coalesce(sum(row_seal(id, at, who, what)), 0) FROM history;
CREATE TRIGGER history_seal_in AFTER INSERT ON history BEGIN UPDATE seals SET sum = sum + row_seal(new.id, new.at, new.who, new.what) WHERE name = 'history'; END;
CREATE TRIGGER history_seal_out AFTER DELETE ON history BEGIN UPDATE seals SET sum = sum - row_seal(old.id, old.at, old.who, old.what) WHERE name = 'history'; END;
CREATE TRIGGER history_seal_on AFTER UPDATE ON history BEGIN UPDATE seals SET sum = sum - row_seal(old.id, old.at, old.who, old.what) + row_seal(new.id, new.at, new.who, new.what) WHERE name = 'history'; END;
INSERT INTO seals SELECT 'jobs', coalesce(sum(row_seal(id, name, customer, state, due, held, accepted, closed, revision, repeats, note)), 0) FROM jobs;
CREATE TRIGGER jobs_seal_in AFTER INSERT ON jobs BEGIN UPDATE seals SET sum = sum + row_seal(new.id, new.name, new.customer, new.state, new.due, new.held, new.accepted, new.closed, new.revision, new.repeats, new.note) WHERE name = 'jobs'; END;
CREATE TRIGGER jobs_seal_out AFTER DELETE ON jobs BEGIN UPDATE seals SET sum = sum - row_seal(old.id, old.name, old.customer, old.state, old.due, old.held, old.accepted, old.closed, old.revision, old.repeats, old.note) WHERE name = 'jobs'; END;
CREATE TRIGGER jobs_seal_on AFTER UPDATE ON jobs BEGIN UPDATE seals SET sum = sum - row_seal(old.id, old.name, old.customer, old.state, old.due, old.held, old.accepted, old.closed, old.revision, old.repeats, old.note) + row_seal(new.id, new.name, new.customer, new.state, new.due, new.held, new.accepted, new.closed, new.revision, new.repeats, new.note) WHERE name = 'jobs'; END;
INSERT INTO seals SELECT 'revisions', coalesce(sum(row_seal(job, number, at, kind, file, sha256, profile, boxes, parts, feet, cost, price, minutes, p80, boards, factors)), 0) FROM revisions;
CREATE TRIGGER revisions_seal_in AFTER INSERT ON revisions BEGIN UPDATE seals SET sum = sum + row_seal(new.job, new.number, new.at, new.kind, new.file, new.sha256, new.profile, new.boxes, new.parts, new.feet, new.cost, new.price, new.minutes, new.p80, new.boards, new.factors) WHERE name = 'revisions'; END;
CREATE TRIGGER revisions_seal_out AFTER DELETE ON revisions BEGIN UPDATE seals SET sum = sum - row_seal(old.job, old.number, old.at, old.kind, old.file, old.sha256, old.profile, old.boxes, old.parts, old.feet, old.cost, old.price, old.minutes, old.p80, old.boards, old.factors) WHERE name = 'revisions'; END;
CREATE TRIGGER revisions_seal_on AFTER UPDATE ON revisions BEGIN UPDATE seals SET sum = sum - row_seal(old.job, old.number, old.at, old.kind, old.file, old.sha256, old.profile, old.boxes, old.parts, old.feet, old.cost, old.price, old.minutes, old.p80, old.boards, old.factors) + row_seal(new.job, new.number, new.at, new.kind, new.file, new.sha256, new.profile, new.boxes, new.parts, new.feet, new.cost, new.price, new.minutes, new.p80, new.boards, new.factors) WHERE name = 'revisions'; END;
INSERT INTO seals SELECT 'papers', coalesce(sum(row_seal(job, number, kind, sha256, data)), 0) FROM papers;
CREATE TRIGGER papers_seal_in AFTER INSERT ON papers BEGIN UPDATE seals SET sum = sum + row_seal(new.job, new.number, new.kind, new.sha256, new.data) WHERE name = 'papers'; END;
CREATE TRIGGER papers_seal_out AFTER DELETE ON papers BEGIN UPDATE seals SET sum = sum - row_seal(old.job, old.number, old.kind, old.sha256, old.data) WHERE name = 'papers'; END;
CREATE TRIGGER papers_seal_on AFTER UPDATE ON papers BEGIN UPDATE seals SET sum = sum - row_seal(old.job, old.number, old.kind, old.sha256, old.data) + row_seal(new.job, new.number, new.kind, new.sha256, new.data) WHERE name = 'papers'; END;
INSERT INTO seals SELECT 'made', coalesce(sum(row_seal(job, box, planned, made, spoiled)), 0) FROM made;
CREATE TRIGGER made_seal_in AFTER INSERT ON made BEGIN UPDATE seals SET sum = sum + row_seal(new.job, new.box, new.planned, new.made, new.spoiled) WHERE name = 'made'; END;
CREATE TRIGGER made_seal_out AFTER DELETE ON made BEGIN UPDATE seals SET sum = sum - row_seal(old.job, old.box, old.planned, old.made, old.spoiled) WHERE name = 'made'; END;
CREATE TRIGGER made_seal_on AFTER UPDATE ON made BEGIN UPDATE seals SET sum = sum - row_seal(old.job, old.box, old.planned, old.made, old.spoiled) + row_seal(new.job, new.box, new.planned, new.made, new.spoiled) WHERE name = 'made'; END;
INSERT INTO seals SELECT 'boards', coalesce(sum(row_seal(id, state, job, wood, class, thickness, length, width, wide_end, cost, place, grain, moisture, sheet, offcut, defects, source, reason, version)), 0) FROM boards;
CREATE TRIGGER boards_seal_in AFTER INSERT ON boards BEGIN UPDATE seals SET sum = sum + row_seal(new.id, new.state, new.job, new.wood, new.class, new.thickness, new.length, new.width, new.wide_end, new.cost, new.place, new.grain, new.moisture, new.sheet, new.offcut, new.defects, new.source, new.reason, new.version) WHERE name = 'boards'; END;
CREATE TRIGGER boards_seal_out AFTER DELETE ON boards BEGIN UPDATE seals SET sum = sum - row_seal(old.id, old.state, old.job, old.wood, old.class, old.thickness, old.length, old.width, old.wide_end, old.cost, old.place, old.grain, old.moisture, old.sheet, old.offcut, old.defects, old.source, old.reason, old.version) WHERE name = 'boards'; END;
CREATE TRIGGER boards_seal_on AFTER UPDATE ON boards BEGIN UPDATE seals SET sum = sum - row_seal(old.id, old.state, old.job, old.wood, old.class, old.thickness, old.length, old.width, old.wide_end, old.cost, old.place, old.grain, old.moisture, old.sheet, old.offcut, old.defects, old.source, old.reason, old.version) + row_seal(new.id, new.state, new.job, new.wood, new.class, new.thickness, new.length, new.width, new.wide_end, new.cost, new.place, new.grain, new.moisture, new.sheet, new.offcut, new.defects, new.source, new.reason, new.version) WHERE name = 'boards'; END;
INSERT INTO seals SELECT 'settings', coalesce(sum(row_seal(name, value, unit)), 0) FROM settings;
CREATE TRIGGER settings_seal_in AFTER INSERT ON settings BEGIN UPDATE seals SET sum = sum + row_seal(new.name, new.value, new.unit) WHERE name = 'settings'; END;
CREATE TRIGGER settings_seal_out AFTER DELETE ON settings BEGIN UPDATE seals SET sum = sum - row_seal(old.name, old.value, old.unit) WHERE name = 'settings'; END;
CREATE TRIGGER settings_seal_on AFTER UPDATE ON settings BEGIN UPDATE seals SET sum = sum - row_seal(old.name, old.value, old.unit) + row_seal(new.name, new.value, new.unit) WHERE name = 'settings'; END;
INSERT INTO seals SELECT 'profiles', coalesce(sum(row_seal(version, at, jig, why)), 0) FROM profiles;
CREATE TRIGGER profiles_seal_in AFTER INSERT ON profiles BEGIN UPDATE seals SET sum = sum + row_seal(new.version, new.at, new.jig, new.why) WHERE name = 'profiles'; END;
CREATE TRIGGER profiles_seal_out AFTER DELETE ON profiles BEGIN UPDATE seals SET sum = sum - row_seal(old.version, old.at, old.jig, old.why) WHERE name = 'profiles'; END;
CREATE TRIGGER profiles_seal_on AFTER UPDATE ON profiles BEGIN UPDATE seals SET sum = sum - row_seal(old.version, old.at, old.jig, old.why) + row_seal(new.version, new.at, new.jig, new.why) WHERE name = 'profiles'; END;
INSERT INTO seals SELECT 'blades', coalesce(sum(row_seal(name, kerf, note, in_use)), 0) FROM blades;
CREATE TRIGGER blades_seal_in AFTER INSERT ON blades BEGIN UPDATE seals SET sum = sum + row_seal(new.name, new.kerf, new.note, new.in_use) WHERE name = 'blades'; END;
CREATE TRIGGER blades_seal_out AFTER DELETE ON blades BEGIN UPDATE seals SET sum = sum - row_seal(old.name, old.kerf, old.note, old.in_use) WHERE name = 'blades'; END;
CREATE TRIGGER blades_seal_on AFTER UPDATE ON blades BEGIN UPDATE seals SET sum = sum - row_seal(old.name, old.kerf, old.note, old.in_use) + row_seal(new.name, new.kerf, new.note, new.in_use) WHERE name = 'blades'; END;
INSERT INTO seals SELECT 'rods', coalesce(sum(row_seal(name, lead, note, in_use)), 0) FROM rods;
CREATE TRIGGER rods_seal_in AFTER INSERT ON rods BEGIN UPDATE seals SET sum = sum + row_seal(new.name, new.lead, new.note, new.in_use) WHERE name = 'rods'; END;
CREATE TRIGGER rods_seal_out AFTER DELETE ON rods BEGIN UPDATE seals SET sum = sum - row_seal(old.name, old.lead, old.note, old.in_use) WHERE name = 'rods'; END;
CREATE TRIGGER rods_seal_on AFTER UPDATE ON rods BEGIN UPDATE seals SET sum = sum - row_seal(old.name, old.lead, old.note, old.in_use) + row_seal(new.name, new.lead, new.note, new.in_use) WHERE name = 'rods'; END;
INSERT INTO seals SELECT 'kerfs', coalesce(sum(row_seal(id, at, blade, kerf, after, note)), 0) FROM kerfs;
CREATE TRIGGER kerfs_seal_in AFTER INSERT ON kerfs BEGIN UPDATE seals SET sum = sum + row_seal(new.id, new.at, new.blade, new.kerf, new.after, new.note) WHERE name = 'kerfs'; END;
CREATE TRIGGER kerfs_seal_out AFTER DELETE ON kerfs BEGIN UPDATE seals SET sum = sum - row_seal(old.id, old.at, old.blade, old.kerf, old.after, old.note) WHERE name = 'kerfs'; END;
CREATE TRIGGER kerfs_seal_on AFTER UPDATE ON kerfs BEGIN UPDATE seals SET sum = sum - row_seal(old.id, old.at, old.blade, old.kerf, old.after, old.note) + row_seal(new.id, new.at, new.blade, new.kerf, new.after, new.note) WHERE name = 'kerfs'; END;
INSERT INTO seals SELECT 'corners', coalesce(sum(row_seal(id, at, blade, finger, height, slot, kerf, lead, fit, advice)), 0) FROM corners;
CREATE TRIGGER corners_seal_in AFTER INSERT ON corners BEGIN UPDATE seals SET sum = sum + row_seal(new.id, new.at, new.blade, new.finger, new.height, new.slot, new.kerf, new.lead, new.fit, new.advice) WHERE name = 'corners'; END;
CREATE TRIGGER corners_seal_out AFTER DELETE ON corners BEGIN UPDATE seals SET sum = sum - row_seal(old.id, old.at, old.blade, old.finger, old.height, old.slot, old.kerf, old.lead, old.fit, old.advice) WHERE name = 'corners'; END;
CREATE TRIGGER corners_seal_on AFTER UPDATE ON corners BEGIN UPDATE seals SET sum = sum - row_seal(old.id, old.at, old.blade, old.finger, old.height, old.slot, old.kerf, old.lead, old.fit, old.advice) + row_seal(new.id, new.at, new.blade, new.finger, new.height, new.slot, new.kerf, new.lead, new.fit, new.advice) WHERE name = 'corners'; END;
INSERT INTO seals SELECT 'moistures', coalesce(sum(row_seal(id, at, what, percent)), 0) FROM moistures;
CREATE TRIGGER moistures_seal_in AFTER INSERT ON moistures BEGIN UPDATE seals SET sum = sum + row_seal(new.id, new.at, new.what, new.percent) WHERE name = 'moistures'; END;
CREATE TRIGGER moistures_seal_out AFTER DELETE ON moistures BEGIN UPDATE seals SET sum = sum - row_seal(old.id, old.at, old.what, old.percent) WHERE name = 'moistures'; END;
CREATE TRIGGER moistures_seal_on AFTER UPDATE ON moistures BEGIN UPDATE seals SET sum = sum - row_seal(old.id, old.at, old.what, old.percent) + row_seal(new.id, new.at, new.what, new.percent) WHERE name = 'moistures'; END;
INSERT INTO seals SELECT 'times', coalesce(sum(row_seal(id, at, element, job, stack, boards, count, actual, planned, base, dropped, note)), 0) FROM times;
CREATE TRIGGER times_seal_in AFTER INSERT ON times BEGIN UPDATE seals SET sum = sum + row_seal(new.id, new.at, new.element, new.job, new.stack, new.boards, new.count, new.actual, new.planned, new.base, new.dropped, new.note) WHERE name = 'times'; END;
CREATE TRIGGER times_seal_out AFTER DELETE ON times BEGIN UPDATE seals SET sum = sum - row_seal(old.id, old.at, old.element, old.job, old.stack, old.boards, old.count, old.actual, old.planned, old.base, old.dropped, old.note) WHERE name = 'times'; END;
CREATE TRIGGER times_seal_on AFTER UPDATE ON times BEGIN UPDATE seals SET sum = sum - row_seal(old.id, old.at, old.element, old.job, old.stack, old.boards, old.count, old.actual, old.planned, old.base, old.dropped, old.note) + row_seal(new.id, new.at, new.element, new.job, new.stack, new.boards, new.count, new.actual, new.planned, new.base, new.dropped, new.note) WHERE name = 'times'; END;
INSERT INTO seals SELECT 'clocks', coalesce(sum(row_seal(element, job, stack, count, started, who)), 0) FROM clocks;
CREATE TRIGGER clocks_seal_in AFTER INSERT ON clocks BEGIN UPDATE seals SET sum = sum + row_seal(new.element, new.job, new.stack, new.count, new.started, new.who) WHERE name = 'clocks'; END;
CREATE TRIGGER clocks_seal_out AFTER DELETE ON clocks BEGIN UPDATE seals SET sum = sum - row_seal(old.element, old.job, old.stack, old.count, old.started, old.who) WHERE name = 'clocks'; END;
CREATE TRIGGER clocks_seal_on AFTER UPDATE ON clocks BEGIN UPDATE seals SET sum = sum - row_seal(old.element, old.job, old.stack, old.count, old.started, old.who) + row_seal(new.element, new.job, new.stack, new.count, new.started, new.who) WHERE name = 'clocks'; END;
