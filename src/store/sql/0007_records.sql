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

-- === mixed ==============================================================

-- === keeping ============================================================
