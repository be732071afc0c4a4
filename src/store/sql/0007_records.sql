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

-- A correction names the row of the trail that is written with it.
DROP TRIGGER closed_corrected;
DROP TRIGGER sold_corrected;
CREATE TRIGGER closed_corrected BEFORE UPDATE ON closed
WHEN NEW.corrected_id IS NULL OR NEW.corrected_id <= OLD.corrected_id
    OR NEW.corrected_id <= (SELECT max(id) FROM audit)
BEGIN SELECT raise(ABORT, 'a closed service changes by a correction only'); END;
CREATE TRIGGER sold_corrected BEFORE UPDATE ON sold
WHEN NEW.corrected_id IS NULL OR NEW.corrected_id <= OLD.corrected_id
    OR NEW.corrected_id <= (SELECT max(id) FROM audit)
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
CREATE INDEX delivery_document ON delivery (document, day);
-- What one supplier brought in some weeks, however long it has delivered.
CREATE INDEX delivery_supplier ON delivery (supplier_id, day);

-- === mixed ==============================================================

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
