-- Schema 7: a trail nobody can quietly change, recalls, complaints, keeping.

-- === trail ==============================================================

-- === file ===============================================================

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
