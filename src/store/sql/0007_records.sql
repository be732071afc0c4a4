-- Schema 7: a trail nobody can quietly change, recalls, complaints, keeping.

-- === trail ==============================================================

-- Every change of a record is told of in the audit trail, and every row of the
-- trail carries a digest over itself and the one before it: docs/trail.md.
-- What is recorded is covered without being named; what is not stands in
-- src/store/trail_row.c.  From now on a column added to a table that was there
-- has no default but NULL, which is left out of the digest, and no column of a
-- record is a generated one.
ALTER TABLE audit ADD COLUMN changes TEXT; -- a line for each row changed; NULL:
                                           -- before there was a chain
ALTER TABLE audit ADD COLUMN digest TEXT;  -- BLAKE2b-256; NULL likewise

-- The end of the chain, so that a tail cut off is missed.
CREATE TABLE trail_head (
	one INTEGER PRIMARY KEY CHECK (one = 1),
	file TEXT NOT NULL,             -- random: no row fits another file
	last_id INTEGER NOT NULL,       -- last row of audit; 0 none
	digest TEXT NOT NULL            -- its own; of `file` when none
) STRICT;
INSERT INTO trail_head VALUES (1, lower(hex(randomblob(16))), 0, '');
CREATE TRIGGER trail_head_stays BEFORE DELETE ON trail_head
BEGIN SELECT raise(ABORT, 'the audit trail is never changed'); END;
CREATE TRIGGER trail_head_grows BEFORE UPDATE ON trail_head
WHEN NEW.last_id < OLD.last_id OR NEW.file <> OLD.file
BEGIN SELECT raise(ABORT, 'the audit trail is never changed'); END;

-- Rows that were there before the trail, as they were when it began.
CREATE TABLE adopted (
	id INTEGER PRIMARY KEY,
	name TEXT NOT NULL,             -- of the table
	keys TEXT NOT NULL,             -- "1-4096 4099-4099", or one by one
	digests BLOB NOT NULL           -- of the rows, 16 bytes each
) STRICT;
CREATE TRIGGER adopted_stays BEFORE UPDATE ON adopted
BEGIN SELECT raise(ABORT, 'the audit trail is never changed'); END;
CREATE TRIGGER adopted_kept BEFORE DELETE ON adopted
BEGIN SELECT raise(ABORT, 'the audit trail is never changed'); END;

-- A correction names the row of the trail that is written with it, among the
-- next ones.
DROP TRIGGER closed_corrected;
DROP TRIGGER sold_corrected;
CREATE TRIGGER closed_corrected BEFORE UPDATE ON closed
WHEN NEW.corrected_id IS NULL OR NEW.corrected_id <= OLD.corrected_id
    OR NEW.corrected_id <= (SELECT max(id) FROM audit)
    OR NEW.corrected_id > (SELECT max(id) FROM audit) + 1000
BEGIN SELECT raise(ABORT, 'a closed service changes by a correction only'); END;
CREATE TRIGGER sold_corrected BEFORE UPDATE ON sold
WHEN NEW.corrected_id IS NULL OR NEW.corrected_id <= OLD.corrected_id
    OR NEW.corrected_id <= (SELECT max(id) FROM audit)
    OR NEW.corrected_id > (SELECT max(id) FROM audit) + 1000
BEGIN SELECT raise(ABORT, 'a closed service changes by a correction only'); END;

-- Out over in: worked out where it is wanted.
ALTER TABLE yield_seen DROP COLUMN observed_bp;

-- Rows older than a column hold no value for it, and SQLite tells those that
-- watch a change of NULL and those that read of the default: write it in.
UPDATE batch SET vessel = vessel;
UPDATE cut SET part = part;
UPDATE service SET parties = parties;

-- A file that is being made has no facts yet.
DELETE FROM station WHERE key = 'zone' AND value = ''
    AND NOT EXISTS (SELECT 1 FROM station WHERE key <> 'zone');

-- === file ===============================================================

-- Codes stand on labels in the fridge, also those a restored file knows nothing
-- of: numbers go on behind the highest of the day (batches) or of all (portions,
-- day NULL) that may have been given out.  Facts of `station` from here on:
-- computer (digest of what tells this computer from others), branch (random; a
-- new one whenever the record goes on from an earlier row or on another
-- computer), clock_doubt (what has to be confirmed, whatever the last row says).
CREATE TABLE code_floor (
	id INTEGER PRIMARY KEY,
	day INTEGER,                    -- civil day of the codes; NULL: portions
	number INTEGER NOT NULL CHECK (number > 0),
	why TEXT NOT NULL CHECK (why <> ''),
	at_utc INTEGER NOT NULL,
	by TEXT NOT NULL
) STRICT;
CREATE INDEX code_floor_day ON code_floor (day, number);

-- === recall =============================================================

-- A batch, a breakdown or a labelled unit blocked pending a decision.  Made
-- anew because a breakdown may be blocked too: what one knife, board or hour
-- made, and nothing else of its batch.
CREATE TABLE hold_new (
	id INTEGER PRIMARY KEY,
	batch_id INTEGER REFERENCES batch,
	portion_id INTEGER REFERENCES portion,
	reason TEXT NOT NULL CHECK (reason <> ''),
	at_utc INTEGER NOT NULL,
	by TEXT NOT NULL,
	released_utc INTEGER,
	released_by TEXT,
	released_reason TEXT,
	prep_id INTEGER REFERENCES prep,
	CHECK ((batch_id IS NOT NULL) + (prep_id IS NOT NULL)
	    + (portion_id IS NOT NULL) = 1)
) STRICT;
INSERT INTO hold_new (id, batch_id, portion_id, reason, at_utc, by,
	released_utc, released_by, released_reason)
SELECT id, batch_id, portion_id, reason, at_utc, by, released_utc,
	released_by, released_reason FROM hold;
DROP TABLE hold;
ALTER TABLE hold_new RENAME TO hold;
-- In force, by what is blocked; the first one holds all that is in force.
CREATE INDEX hold_batch ON hold (batch_id) WHERE released_utc IS NULL;
CREATE INDEX hold_prep ON hold (prep_id) WHERE released_utc IS NULL;
CREATE INDEX hold_portion ON hold (portion_id) WHERE released_utc IS NULL;
CREATE INDEX hold_of_batch ON hold (batch_id) WHERE batch_id IS NOT NULL;
CREATE INDEX hold_of_prep ON hold (prep_id) WHERE prep_id IS NOT NULL;
CREATE INDEX hold_of_portion ON hold (portion_id)
    WHERE portion_id IS NOT NULL;
CREATE INDEX hold_at ON hold (at_utc);
CREATE INDEX hold_released_at ON hold (released_utc)
    WHERE released_utc IS NOT NULL;

-- Which units hold food of a batch.  A unit made of several has a row for
-- each of them; every hold and every recall asks here.
CREATE VIEW batch_unit AS
SELECT p.batch_id AS batch_id, p.id AS portion_id FROM portion p;

-- Is it blocked?  The one place that says so, for every query.  A batch by
-- itself; a unit by itself, its breakdown, or any batch it holds food of.
CREATE VIEW held_batch AS
SELECT b.id AS batch_id,
	EXISTS (SELECT 1 FROM hold h WHERE h.released_utc IS NULL
	    AND h.batch_id = b.id) AS held
FROM batch b;

CREATE VIEW held_unit AS
SELECT p.id AS portion_id,
	EXISTS (SELECT 1 FROM hold h WHERE h.released_utc IS NULL
	    AND h.portion_id = p.id)
	OR EXISTS (SELECT 1 FROM hold h WHERE h.released_utc IS NULL
	    AND h.batch_id IN (SELECT u.batch_id FROM batch_unit u
		WHERE u.portion_id = p.id))
	OR EXISTS (SELECT 1 FROM hold h WHERE h.released_utc IS NULL
	    AND h.prep_id = (SELECT o.prep_id FROM prep_output o
		WHERE o.id = p.prep_output_id)) AS held
FROM portion p;

-- Labels that were queued when a hold came, and did not go out because of it.
CREATE TABLE hold_stopped (
	hold_id INTEGER NOT NULL REFERENCES hold,
	job_id INTEGER NOT NULL REFERENCES print_job,
	PRIMARY KEY (hold_id, job_id)
) STRICT, WITHOUT ROWID;

-- A recall: goods that are to be found and pulled, wherever they got to.  Its
-- id is its running number.
CREATE TABLE recall (
	id INTEGER PRIMARY KEY,
	origin TEXT NOT NULL            -- who it came from
	    CHECK (origin IN ('supplier', 'authority', 'guest', 'kitchen')),
	what TEXT NOT NULL,             -- what was asked for, in words
	reason TEXT NOT NULL CHECK (reason <> ''),
	-- The last events before it: what is newer happened under the recall.
	portion_event_id INTEGER NOT NULL,
	batch_event_id INTEGER NOT NULL,
	at_utc INTEGER NOT NULL,
	offset_min INTEGER NOT NULL,
	by TEXT NOT NULL
) STRICT;

-- How it ended; the goods that were pulled went this way.
CREATE TABLE recall_end (
	recall_id INTEGER PRIMARY KEY REFERENCES recall,
	outcome TEXT NOT NULL CHECK (outcome IN ('discarded', 'returned',
	    'released', 'mistake')),    -- returned: to the supplier
	missing INTEGER NOT NULL CHECK (missing >= 0), -- lines of the list
	reason TEXT NOT NULL CHECK (reason <> '' OR missing = 0),
	at_utc INTEGER NOT NULL,
	offset_min INTEGER NOT NULL,
	by TEXT NOT NULL
) STRICT;

-- The holds it rests on: those it opened, and those that were there.
CREATE TABLE recall_hold (
	recall_id INTEGER NOT NULL REFERENCES recall,
	hold_id INTEGER NOT NULL REFERENCES hold,
	opened INTEGER NOT NULL CHECK (opened IN (0, 1)),
	PRIMARY KEY (recall_id, hold_id)
) STRICT, WITHOUT ROWID;
CREATE INDEX recall_hold_hold ON recall_hold (hold_id);

-- The list, frozen as it was when the recall was opened: every batch with
-- something whole left, and every unit, whatever became of it.
CREATE TABLE recall_item (
	id INTEGER PRIMARY KEY,
	recall_id INTEGER NOT NULL REFERENCES recall,
	batch_id INTEGER REFERENCES batch,
	portion_id INTEGER REFERENCES portion,
	left INTEGER NOT NULL CHECK (left >= 0),      -- servings, fish
	weight_g INTEGER NOT NULL CHECK (weight_g >= 0), -- of a batch
	place TEXT NOT NULL,            -- where it was thought to be
	CHECK ((batch_id IS NULL) <> (portion_id IS NULL))
) STRICT;
CREATE INDEX recall_item_recall ON recall_item (recall_id);
CREATE UNIQUE INDEX recall_item_portion ON recall_item (recall_id, portion_id)
    WHERE portion_id IS NOT NULL;
CREATE UNIQUE INDEX recall_item_batch ON recall_item (recall_id, batch_id)
    WHERE batch_id IS NOT NULL;

-- What was scanned as found.  item_id NULL: not of this recall, or not known
-- to this station; what the label said is kept all the same.
CREATE TABLE recall_tick (
	id INTEGER PRIMARY KEY,
	recall_id INTEGER NOT NULL REFERENCES recall,
	item_id INTEGER REFERENCES recall_item,
	code TEXT NOT NULL,
	verdict TEXT NOT NULL CHECK (verdict IN ('found', 'again', 'surprise',
	    'other', 'unknown')),
	found INTEGER NOT NULL CHECK (found >= 0),    -- servings; 1 of a batch
	says TEXT NOT NULL,             -- what it was recorded as, what it said
	at_utc INTEGER NOT NULL,
	offset_min INTEGER NOT NULL,
	by TEXT NOT NULL
) STRICT;
CREATE INDEX recall_tick_recall ON recall_tick (recall_id);
CREATE INDEX recall_tick_item ON recall_tick (item_id)
    WHERE item_id IS NOT NULL;

-- What was said, heard and done about a hold or a recall, as it went on.
CREATE TABLE hold_note (
	id INTEGER PRIMARY KEY,
	hold_id INTEGER REFERENCES hold,
	recall_id INTEGER REFERENCES recall,
	text TEXT NOT NULL CHECK (text <> ''),
	at_utc INTEGER NOT NULL,
	offset_min INTEGER NOT NULL,
	by TEXT NOT NULL,
	CHECK ((hold_id IS NULL) <> (recall_id IS NULL))
) STRICT;
CREATE INDEX hold_note_hold ON hold_note (hold_id) WHERE hold_id IS NOT NULL;
CREATE INDEX hold_note_recall ON hold_note (recall_id)
    WHERE recall_id IS NOT NULL;

-- Where a batch or a unit was put, in the kitchen's own words.  The newest row
-- counts; one that was frozen or thawed since lies where such things lie.
CREATE TABLE moved (
	id INTEGER PRIMARY KEY,
	batch_id INTEGER REFERENCES batch,
	portion_id INTEGER REFERENCES portion,
	place TEXT NOT NULL CHECK (place <> ''),
	at_utc INTEGER NOT NULL,
	offset_min INTEGER NOT NULL,
	by TEXT NOT NULL,
	CHECK ((batch_id IS NULL) <> (portion_id IS NULL))
) STRICT;
CREATE INDEX moved_batch ON moved (batch_id) WHERE batch_id IS NOT NULL;
CREATE INDEX moved_portion ON moved (portion_id) WHERE portion_id IS NOT NULL;

-- Where it is, as far as somebody said so; no row: where its kind lies.
CREATE VIEW place_unit AS
SELECT m.portion_id AS portion_id, m.place AS place FROM moved m
WHERE m.portion_id IS NOT NULL AND m.id = (SELECT max(n.id) FROM moved n
	WHERE n.portion_id = m.portion_id)
    AND NOT EXISTS (SELECT 1 FROM freezing f
	WHERE f.portion_id = m.portion_id AND f.at_utc > m.at_utc);
CREATE VIEW place_batch AS
SELECT m.batch_id AS batch_id, m.place AS place FROM moved m
WHERE m.batch_id IS NOT NULL AND m.id = (SELECT max(n.id) FROM moved n
	WHERE n.batch_id = m.batch_id);

-- Rows of a recall and of a move are only ever added.
CREATE TRIGGER recall_stays BEFORE UPDATE ON recall
BEGIN SELECT raise(ABORT, 'a recall stays as it was opened'); END;
CREATE TRIGGER recall_item_stays BEFORE UPDATE ON recall_item
BEGIN SELECT raise(ABORT, 'the list of a recall stays'); END;
CREATE TRIGGER recall_tick_stays BEFORE UPDATE ON recall_tick
BEGIN SELECT raise(ABORT, 'what was found stays found'); END;
CREATE TRIGGER recall_end_stays BEFORE UPDATE ON recall_end
BEGIN SELECT raise(ABORT, 'a recall is closed once'); END;
CREATE TRIGGER hold_note_stays BEFORE UPDATE ON hold_note
BEGIN SELECT raise(ABORT, 'a note stays'); END;
CREATE TRIGGER moved_stays BEFORE UPDATE ON moved
BEGIN SELECT raise(ABORT, 'a move stays'); END;

-- Back from what a supplier's telephone call names.
CREATE INDEX batch_lot_said ON batch (lot COLLATE NOCASE);
CREATE INDEX delivery_document ON delivery (document COLLATE NOCASE);
CREATE INDEX delivery_day ON delivery (supplier_id, day);

-- === complaint ==========================================================

-- A list that comes out of the printer, kept as it was printed.  Made anew
-- because the report of a drill, and other reports, come out of it too.
CREATE TABLE ticket_new (
	id INTEGER PRIMARY KEY,
	kind TEXT NOT NULL CHECK (kind IN ('prep', 'order', 'recall', 'day',
	    'test', 'drill', 'report')),
	title TEXT NOT NULL,
	body TEXT NOT NULL,             -- its lines, as labels/ticket.h writes them
	at_utc INTEGER NOT NULL,
	offset_min INTEGER NOT NULL,
	by TEXT NOT NULL
) STRICT;
INSERT INTO ticket_new SELECT id, kind, title, body, at_utc, offset_min, by
FROM ticket;
DROP TABLE ticket;
ALTER TABLE ticket_new RENAME TO ticket;

-- What a guest said was wrong, with the chain as it was at that moment.  It
-- names what it is about by code and word, so that it can be read on its own
-- whatever becomes of the rest.  No guest is named: a table is enough.
CREATE TABLE complaint (
	id INTEGER PRIMARY KEY,
	code TEXT NOT NULL,             -- of a unit or batch, without hyphen;
	dish TEXT NOT NULL,             -- or empty: the label is gone, and
	service TEXT NOT NULL,          -- it is a dish of DATE/NAME
	what TEXT NOT NULL CHECK (what <> ''),
	place TEXT NOT NULL,            -- a table; may be empty
	served_utc INTEGER,             -- when it was served, if somebody knows
	trace TEXT NOT NULL,            -- JSON: the chain, or the batches it may
	                                -- have been
	digest TEXT NOT NULL,           -- BLAKE2b of those bytes
	at_utc INTEGER NOT NULL,        -- when it was taken
	offset_min INTEGER NOT NULL,
	by TEXT NOT NULL,               -- who took it
	CHECK ((code <> '') <> (dish <> '')),
	CHECK ((dish <> '') = (service <> ''))
) STRICT;
CREATE INDEX complaint_at ON complaint (at_utc);
CREATE INDEX complaint_code ON complaint (code) WHERE code <> '';

-- What was found out later, and how it ended.
CREATE TABLE complaint_note (
	id INTEGER PRIMARY KEY,
	complaint_id INTEGER NOT NULL REFERENCES complaint,
	kind TEXT NOT NULL CHECK (kind IN ('note', 'closed')),
	text TEXT NOT NULL CHECK (text <> ''),
	at_utc INTEGER NOT NULL,
	offset_min INTEGER NOT NULL,
	by TEXT NOT NULL
) STRICT;
CREATE INDEX complaint_note_of ON complaint_note (complaint_id);
CREATE UNIQUE INDEX complaint_closed ON complaint_note (complaint_id)
    WHERE kind = 'closed';

CREATE TRIGGER complaint_stays BEFORE UPDATE ON complaint
BEGIN SELECT raise(ABORT, 'a complaint stays as it was taken'); END;
CREATE TRIGGER complaint_note_stays BEFORE UPDATE ON complaint_note
BEGIN SELECT raise(ABORT, 'a note of a complaint stays'); END;

-- A recall in play: how long it took, and whether every gram was found.
CREATE TABLE drill (
	id INTEGER PRIMARY KEY,
	batch TEXT NOT NULL,            -- code without hyphen
	seed INTEGER,                   -- that chose it; NULL: a person did
	took_us INTEGER NOT NULL CHECK (took_us >= 0), -- microseconds
	units INTEGER NOT NULL CHECK (units >= 0),     -- found forward
	back INTEGER NOT NULL CHECK (back >= 0), -- of those led back to the batch
	received_g INTEGER NOT NULL CHECK (received_g > 0),
	gap_g INTEGER NOT NULL,         -- unexplained; below 0 overweight
	report TEXT NOT NULL,           -- JSON, as it was shown
	at_utc INTEGER NOT NULL,
	offset_min INTEGER NOT NULL,
	by TEXT NOT NULL
) STRICT;
CREATE TRIGGER drill_stays BEFORE UPDATE ON drill
BEGIN SELECT raise(ABORT, 'a drill stays as it went'); END;

-- Grams that were missing from a balance and are accounted for in words.  The
-- figures stay; when they change later, the line is open again.
CREATE TABLE explained (
	id INTEGER PRIMARY KEY,
	prep_id INTEGER REFERENCES prep,   -- of a breakdown, or
	batch_id INTEGER REFERENCES batch, -- what was left of a batch used up
	weight_g INTEGER NOT NULL CHECK (weight_g <> 0), -- below 0: overweight
	reason TEXT NOT NULL CHECK (reason <> ''),
	at_utc INTEGER NOT NULL,
	offset_min INTEGER NOT NULL,
	by TEXT NOT NULL,
	CHECK ((prep_id IS NULL) <> (batch_id IS NULL))
) STRICT;
CREATE INDEX explained_prep ON explained (prep_id) WHERE prep_id IS NOT NULL;
CREATE INDEX explained_batch ON explained (batch_id)
    WHERE batch_id IS NOT NULL;

-- What the papers of a batch say beyond what goods in asks, or what the
-- supplier answered when asked later.  The newest row of a datum counts.
CREATE TABLE paper (
	id INTEGER PRIMARY KEY,
	batch_id INTEGER NOT NULL REFERENCES batch,
	datum TEXT NOT NULL,            -- word of core/papers.h
	value TEXT NOT NULL CHECK (value <> ''),
	at_utc INTEGER NOT NULL,
	offset_min INTEGER NOT NULL,
	by TEXT NOT NULL
) STRICT;
CREATE INDEX paper_batch ON paper (batch_id, datum);

-- A delivery by the number on its note.
CREATE INDEX delivery_note ON delivery (document, day);

-- === mixed ==============================================================

-- The batches a labelled unit is made of beside the one it is filed under,
-- portion.batch_id, which is the first of them to expire.  No row: one batch.
-- After mixing, each lot of origin stays identifiable (Reg. (EU) 404/2011
-- Art. 67(3), still in force as the UK's copy).  docs/decisions/0019.
CREATE TABLE portion_source (
	portion_id INTEGER NOT NULL REFERENCES portion,
	batch_id INTEGER NOT NULL REFERENCES batch,
	PRIMARY KEY (portion_id, batch_id)
) STRICT, WITHOUT ROWID;
CREATE INDEX portion_source_batch ON portion_source (batch_id);

-- Which units hold food of a batch, alone or with others.
DROP VIEW batch_unit;
CREATE VIEW batch_unit AS
SELECT p.batch_id AS batch_id, p.id AS portion_id FROM portion p
UNION ALL SELECT m.batch_id, m.portion_id FROM portion_source m;

-- What was left of several units, put together on a tray with a code of its
-- own: one row for each unit it came from.  The tray is a row of portion under
-- the breakdown of the oldest of them; sums over what breakdowns made leave
-- such trays out.
CREATE TABLE portion_joined (
	portion_id INTEGER NOT NULL REFERENCES portion, -- the new tray
	from_id INTEGER NOT NULL REFERENCES portion,
	servings INTEGER NOT NULL CHECK (servings > 0),
	weight_g INTEGER NOT NULL CHECK (weight_g > 0),
	PRIMARY KEY (portion_id, from_id)
) STRICT, WITHOUT ROWID;
CREATE INDEX portion_joined_from ON portion_joined (from_id);
CREATE TRIGGER portion_joined_stays BEFORE UPDATE ON portion_joined
BEGIN SELECT raise(ABORT, 'what a tray was put together from stays'); END;

-- The breakdowns such a tray rests on beside the one it is filed under.
CREATE TABLE portion_prep (
	portion_id INTEGER NOT NULL REFERENCES portion,
	prep_id INTEGER NOT NULL REFERENCES prep,
	PRIMARY KEY (portion_id, prep_id)
) STRICT, WITHOUT ROWID;
CREATE INDEX portion_prep_prep ON portion_prep (prep_id);
CREATE TRIGGER portion_prep_stays BEFORE UPDATE ON portion_prep
BEGIN SELECT raise(ABORT, 'what a tray was put together from stays'); END;

-- Which units hold food of a breakdown.
CREATE VIEW prep_unit AS
SELECT o.prep_id AS prep_id, p.id AS portion_id
FROM prep_output o JOIN portion p ON p.prep_output_id = o.id
UNION ALL SELECT r.prep_id, r.portion_id FROM portion_prep r;

-- Is it blocked?  By itself, by any breakdown, or by any batch it holds food
-- of.
DROP VIEW held_unit;
CREATE VIEW held_unit AS
SELECT p.id AS portion_id,
	EXISTS (SELECT 1 FROM hold h WHERE h.released_utc IS NULL
	    AND h.portion_id = p.id)
	OR EXISTS (SELECT 1 FROM hold h WHERE h.released_utc IS NULL
	    AND h.batch_id IN (SELECT u.batch_id FROM batch_unit u
		WHERE u.portion_id = p.id))
	OR EXISTS (SELECT 1 FROM hold h WHERE h.released_utc IS NULL
	    AND h.prep_id IN (SELECT u.prep_id FROM prep_unit u
		WHERE u.portion_id = p.id)) AS held
FROM portion p;

-- When the oldest food on such a tray was prepared; NULL: made_utc.
ALTER TABLE portion ADD COLUMN prepared_utc INTEGER;

-- What became of portions.  Made anew for one more word:
--   combined   less: put onto another tray, neither used nor lost
CREATE TABLE portion_event_new (
	id INTEGER PRIMARY KEY,
	portion_id INTEGER NOT NULL REFERENCES portion,
	kind TEXT NOT NULL CHECK (kind IN ('used', 'discarded', 'missing',
	    'found', 'returned', 'withdrawn', 'struck', 'combined')),
	servings INTEGER NOT NULL CHECK (servings > 0),
	service_id INTEGER REFERENCES service, -- for which sitting, if known;
	                                       -- returned: of the use
	reason TEXT NOT NULL CHECK (reason <> '' OR kind = 'used'),
	at_utc INTEGER NOT NULL,
	offset_min INTEGER NOT NULL,
	by TEXT NOT NULL,
	undoes INTEGER REFERENCES portion_event, -- the event it takes back
	CHECK ((undoes IS NOT NULL) = (kind IN ('returned', 'withdrawn')))
) STRICT;
INSERT INTO portion_event_new SELECT id, portion_id, kind, servings,
	service_id, reason, at_utc, offset_min, by, undoes FROM portion_event;
DROP TABLE portion_event;
ALTER TABLE portion_event_new RENAME TO portion_event;
CREATE INDEX portion_event_portion ON portion_event (portion_id);
CREATE INDEX portion_event_service ON portion_event (service_id);
CREATE INDEX portion_event_at ON portion_event (at_utc);
CREATE UNIQUE INDEX portion_event_undoes ON portion_event (undoes)
    WHERE undoes IS NOT NULL;
CREATE INDEX portion_event_lost ON portion_event (at_utc)
    WHERE kind IN ('discarded', 'missing', 'found');

-- === keeping ============================================================

-- Records that were old enough and went: one row for each transaction that
-- removed some.  A row without its row of `pruned` is open, and the first
-- reference below lets no transaction end that way: records can be deleted only
-- between the two, and only together with what is said of it here.
CREATE TABLE pruning (
	id INTEGER PRIMARY KEY
	    REFERENCES pruned DEFERRABLE INITIALLY DEFERRED,
	before_utc INTEGER NOT NULL,    -- nothing of this instant or later goes
	rule TEXT NOT NULL,             -- the duty that bound, and its source
	backup TEXT NOT NULL,           -- made just before, holds what goes
	at_utc INTEGER NOT NULL,
	offset_min INTEGER NOT NULL,
	by TEXT NOT NULL,
	CHECK (before_utc < at_utc)
) STRICT;

-- What went.
CREATE TABLE pruned (
	pruning_id INTEGER PRIMARY KEY REFERENCES pruning,
	from_day INTEGER NOT NULL,      -- civil days of the oldest and the
	to_day INTEGER NOT NULL         -- youngest of it
	    CHECK (to_day >= from_day),
	batches INTEGER NOT NULL,
	breakdowns INTEGER NOT NULL,
	units INTEGER NOT NULL,
	cases INTEGER NOT NULL,         -- recalls, complaints, drills
	services INTEGER NOT NULL,
	lists INTEGER NOT NULL,         -- printed
	clock_checks INTEGER NOT NULL,
	total INTEGER NOT NULL CHECK (total > 0) -- rows of all tables
) STRICT;

CREATE TRIGGER pruning_no_replace BEFORE INSERT ON pruning
WHEN EXISTS (SELECT 1 FROM pruning WHERE id = NEW.id)
BEGIN SELECT raise(ABORT, 'what was pruned stays written'); END;
CREATE TRIGGER pruning_no_update BEFORE UPDATE ON pruning
BEGIN SELECT raise(ABORT, 'what was pruned stays written'); END;
CREATE TRIGGER pruning_no_delete BEFORE DELETE ON pruning
BEGIN SELECT raise(ABORT, 'what was pruned stays written'); END;
CREATE TRIGGER pruned_no_replace BEFORE INSERT ON pruned
WHEN EXISTS (SELECT 1 FROM pruned WHERE pruning_id = NEW.pruning_id)
BEGIN SELECT raise(ABORT, 'what was pruned stays written'); END;
CREATE TRIGGER pruned_no_update BEFORE UPDATE ON pruned
BEGIN SELECT raise(ABORT, 'what was pruned stays written'); END;
CREATE TRIGGER pruned_no_delete BEFORE DELETE ON pruned
BEGIN SELECT raise(ABORT, 'what was pruned stays written'); END;

-- The instant before which records may be deleted now; no row: none may.
CREATE VIEW pruning_open AS
SELECT before_utc FROM pruning WHERE id = (SELECT max(id) FROM pruning)
    AND NOT EXISTS (SELECT 1 FROM pruned WHERE pruning_id = pruning.id);

CREATE TRIGGER batch_kept BEFORE DELETE ON batch
WHEN OLD.open OR NOT EXISTS (SELECT 1 FROM pruning_open
    WHERE OLD.received_utc < before_utc)
BEGIN SELECT raise(ABORT, 'a batch is kept as long as the rules say'); END;
CREATE TRIGGER prep_kept BEFORE DELETE ON prep
WHEN NOT EXISTS (SELECT 1 FROM pruning_open WHERE OLD.at_utc < before_utc)
BEGIN SELECT raise(ABORT, 'a breakdown is kept as long as the rules say'); END;
CREATE TRIGGER portion_kept BEFORE DELETE ON portion
WHEN OLD.left > 0 OR NOT EXISTS (SELECT 1 FROM pruning_open
    WHERE OLD.made_utc < before_utc)
BEGIN SELECT raise(ABORT, 'a portion is kept as long as the rules say'); END;

DROP TRIGGER work_mark_kept;
CREATE TRIGGER work_mark_kept BEFORE DELETE ON work_mark
WHEN NOT EXISTS (SELECT 1 FROM pruning_open WHERE OLD.at_utc < before_utc)
BEGIN SELECT raise(ABORT, 'what was said of a task stays'); END;
DROP TRIGGER closed_stays;
CREATE TRIGGER closed_stays BEFORE DELETE ON closed
WHEN NOT EXISTS (SELECT 1 FROM pruning_open WHERE OLD.at_utc < before_utc)
BEGIN SELECT raise(ABORT, 'a closed service stays'); END;
DROP TRIGGER sold_stays;
CREATE TRIGGER sold_stays BEFORE DELETE ON sold
WHEN NOT EXISTS (SELECT 1 FROM pruning_open)
BEGIN SELECT raise(ABORT, 'a closed service stays'); END;

-- A yield follows from every breakdown that taught it, so these rows outlive
-- their breakdowns: the reference to prep is gone.
CREATE TABLE yield_seen_new (
	prep_id INTEGER PRIMARY KEY,
	species TEXT NOT NULL,
	bought TEXT NOT NULL,
	cut TEXT NOT NULL,
	supplier_id INTEGER NOT NULL REFERENCES supplier,
	fish INTEGER NOT NULL CHECK (fish >= 0), -- 0 by weight
	in_g INTEGER NOT NULL CHECK (in_g > 0),
	out_g INTEGER NOT NULL CHECK (out_g BETWEEN 1 AND in_g),
	learned INTEGER NOT NULL CHECK (learned IN (0, 1)) -- 0: set aside
) STRICT;
INSERT INTO yield_seen_new (prep_id, species, bought, cut, supplier_id, fish,
	in_g, out_g, learned) SELECT prep_id, species, bought, cut,
	supplier_id, fish, in_g, out_g, learned FROM yield_seen;
DROP TABLE yield_seen;
ALTER TABLE yield_seen_new RENAME TO yield_seen;
CREATE INDEX yield_seen_key ON yield_seen (species, bought, cut, prep_id);

-- What leads from a batch or a breakdown to the rows that go with it.
CREATE INDEX work_mark_batch ON work_mark (batch_id)
    WHERE batch_id IS NOT NULL;
CREATE INDEX batch_fish_prep ON batch_fish (prep_id)
    WHERE prep_id IS NOT NULL;
CREATE INDEX hold_stopped_job ON hold_stopped (job_id);
CREATE INDEX complaint_service ON complaint (service) WHERE service <> '';
CREATE INDEX recall_item_of_portion ON recall_item (portion_id)
    WHERE portion_id IS NOT NULL;
CREATE INDEX recall_item_of_batch ON recall_item (batch_id)
    WHERE batch_id IS NOT NULL;
