-- Schema 7: a trail nobody can quietly change, recalls, complaints, keeping.

-- === trail ==============================================================

-- === file ===============================================================

-- === recall =============================================================

-- === complaint ==========================================================

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
CREATE VIEW batch_unit AS
SELECT p.batch_id AS batch_id, p.id AS portion_id FROM portion p
UNION ALL SELECT m.batch_id, m.portion_id FROM portion_source m;

CREATE VIEW held_unit AS
SELECT p.id AS portion_id,
	EXISTS (SELECT 1 FROM hold h WHERE h.released_utc IS NULL
	    AND h.portion_id = p.id)
	OR EXISTS (SELECT 1 FROM hold h WHERE h.released_utc IS NULL
	    AND h.batch_id IN (SELECT u.batch_id FROM batch_unit u
		WHERE u.portion_id = p.id)) AS held
FROM portion p;
CREATE TRIGGER portion_source_stays BEFORE UPDATE ON portion_source
BEGIN SELECT raise(ABORT, 'what a unit is made of stays'); END;

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
FROM prep_output o CROSS JOIN portion p ON p.prep_output_id = o.id
UNION ALL SELECT r.prep_id, r.portion_id FROM portion_prep r;

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
