-- Schema 6: what the full-screen station keeps beside the chain itself.

-- === people =============================================================

-- Who works here.  Nobody is deleted: records of years ago name them.
CREATE TABLE person (
	id INTEGER PRIMARY KEY,
	initials TEXT NOT NULL CHECK (length(initials) BETWEEN 1 AND 15),
	name TEXT NOT NULL,
	chef INTEGER NOT NULL CHECK (chef IN (0, 1)), -- may do what is the chef's
	active INTEGER NOT NULL CHECK (active IN (0, 1)), -- 0: left
	works INTEGER NOT NULL,         -- running number; the highest worked last
	pin_hash TEXT,                  -- Argon2id with salt and costs; NULL no PIN
	-- Wrong tries since the last right one, those of them the audit trail does
	-- not tell of yet, and when the last was: milliseconds of the computer's
	-- own clock since it was started, which nobody can set.
	wrong INTEGER NOT NULL DEFAULT 0 CHECK (wrong >= 0),
	untold INTEGER NOT NULL DEFAULT 0 CHECK (untold >= 0),
	tried_ms INTEGER NOT NULL DEFAULT 0
) STRICT;

CREATE UNIQUE INDEX person_initials ON person (lower(initials));
CREATE INDEX person_works ON person (active, works);

-- === drafts =============================================================

-- A form somebody has half typed, kept so that a power cut loses nothing of it.
-- Not a record of anything that happened: replaced and cleared.
CREATE TABLE draft (
	name TEXT PRIMARY KEY,          -- whose form: breakdown
	title TEXT NOT NULL,            -- what it is about, for a person
	body TEXT NOT NULL,             -- as its screen writes it
	at_utc INTEGER NOT NULL,
	offset_min INTEGER NOT NULL,
	by TEXT NOT NULL                -- initials, empty while nobody said
) STRICT, WITHOUT ROWID;

-- === work ===============================================================

-- What was said of a task of a service's prep list.  The newest row of a task
-- counts; a plan made anew finds its tasks again by batch, dish and step.
CREATE TABLE work_mark (
	id INTEGER PRIMARY KEY,
	service_id INTEGER NOT NULL REFERENCES service,
	batch_id INTEGER REFERENCES batch, -- NULL: the clean-down that ends it
	dish_id INTEGER REFERENCES dish,   -- NULL: the same
	step TEXT NOT NULL,             -- word of core/minutes.h it begins with
	said TEXT NOT NULL CHECK (said IN ('started', 'done', 'reopened')),
	prep_id INTEGER REFERENCES prep, -- breakdown that did it; NULL: by hand
	at_utc INTEGER NOT NULL,
	offset_min INTEGER NOT NULL,
	by TEXT NOT NULL,
	CHECK ((batch_id IS NULL) = (dish_id IS NULL))
) STRICT;
CREATE INDEX work_mark_task ON work_mark (service_id, batch_id, dish_id, step);

CREATE TRIGGER work_mark_stays BEFORE UPDATE ON work_mark
BEGIN SELECT raise(ABORT, 'what was said of a task stays'); END;
CREATE TRIGGER work_mark_kept BEFORE DELETE ON work_mark
BEGIN SELECT raise(ABORT, 'what was said of a task stays'); END;

-- === undo ===============================================================

-- A step taken back: its row of the audit trail, and the row that says so.
CREATE TABLE undone (
	step_id INTEGER PRIMARY KEY REFERENCES audit,
	undo_id INTEGER NOT NULL        -- of the trail as well; as a reference
	                                -- it would need an index of its own
) STRICT;

-- What became of portions.  Made anew because what was recorded by mistake is
-- taken back by an event that names it:
--   used, discarded, missing   less is left
--   found                      more is left
--   returned                   more: a use, discard or missing taken back
--   withdrawn                  less: a find taken back
--   struck                     less: its breakdown never happened
CREATE TABLE portion_event_new (
	id INTEGER PRIMARY KEY,
	portion_id INTEGER NOT NULL REFERENCES portion,
	kind TEXT NOT NULL CHECK (kind IN ('used', 'discarded', 'missing',
	    'found', 'returned', 'withdrawn', 'struck')),
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
	service_id, reason, at_utc, offset_min, by, NULL FROM portion_event;
DROP TABLE portion_event;
ALTER TABLE portion_event_new RENAME TO portion_event;
CREATE INDEX portion_event_portion ON portion_event (portion_id);
CREATE INDEX portion_event_service ON portion_event (service_id);
CREATE INDEX portion_event_at ON portion_event (at_utc);
CREATE UNIQUE INDEX portion_event_undoes ON portion_event (undoes)
    WHERE undoes IS NOT NULL;

-- A breakdown entered by mistake.  Every sum over breakdowns leaves it out; its
-- own rows stay as they were.
CREATE TABLE prep_struck (
	prep_id INTEGER PRIMARY KEY REFERENCES prep,
	reason TEXT NOT NULL CHECK (reason <> ''),
	at_utc INTEGER NOT NULL,
	offset_min INTEGER NOT NULL,
	by TEXT NOT NULL
) STRICT;

-- Which service a breakdown was made for.
CREATE INDEX work_mark_prep ON work_mark (prep_id) WHERE prep_id IS NOT NULL;

-- Weight that left a batch other than through a breakdown.  struck: the batch
-- was taken in by mistake, nothing is left and nothing was wasted.
DROP VIEW batch_left;
CREATE TABLE batch_event_new (
	id INTEGER PRIMARY KEY,
	batch_id INTEGER NOT NULL REFERENCES batch,
	kind TEXT NOT NULL CHECK (kind IN ('discarded', 'returned', 'struck')),
	fish INTEGER NOT NULL CHECK (fish >= 0),
	weight_g INTEGER NOT NULL CHECK (weight_g > 0),
	reason TEXT NOT NULL CHECK (reason <> ''),
	at_utc INTEGER NOT NULL,
	offset_min INTEGER NOT NULL,
	by TEXT NOT NULL,
	undoes INTEGER REFERENCES batch_event, -- returned: the discard
	CHECK ((undoes IS NOT NULL) = (kind = 'returned'))
) STRICT;
INSERT INTO batch_event_new SELECT id, batch_id, kind, fish, weight_g, reason,
	at_utc, offset_min, by, NULL FROM batch_event;
DROP TABLE batch_event;
ALTER TABLE batch_event_new RENAME TO batch_event;
CREATE INDEX batch_event_batch ON batch_event (batch_id);
CREATE INDEX batch_event_at ON batch_event (at_utc);
CREATE UNIQUE INDEX batch_event_undoes ON batch_event (undoes)
    WHERE undoes IS NOT NULL;

-- What is left of each batch, in one place for every query.
CREATE VIEW batch_left AS
SELECT b.id AS batch_id,
	b.weight_g
	    - coalesce((SELECT sum(i.weight_g) FROM prep_input i
		WHERE i.batch_id = b.id AND NOT EXISTS (SELECT 1
		FROM prep_struck k WHERE k.prep_id = i.prep_id)), 0)
	    - coalesce((SELECT sum(CASE e.kind WHEN 'returned'
		THEN -e.weight_g ELSE e.weight_g END) FROM batch_event e
		WHERE e.batch_id = b.id), 0) AS weight_g,
	b.count
	    - coalesce((SELECT sum(i.fish) FROM prep_input i
		WHERE i.batch_id = b.id AND NOT EXISTS (SELECT 1
		FROM prep_struck k WHERE k.prep_id = i.prep_id)), 0)
	    - coalesce((SELECT sum(CASE e.kind WHEN 'returned'
		THEN -e.fish ELSE e.fish END) FROM batch_event e
		WHERE e.batch_id = b.id), 0) AS count
FROM batch b;

-- What a breakdown taught a pace, and from where it started: a pace is worked
-- out again from here when one of them is struck.
CREATE TABLE pace_seen (
	prep_id INTEGER NOT NULL REFERENCES prep,
	task TEXT NOT NULL,
	species TEXT NOT NULL,
	from_g INTEGER NOT NULL,
	units INTEGER NOT NULL CHECK (units > 0),
	ms INTEGER NOT NULL CHECK (ms >= 0),
	shape INTEGER NOT NULL CHECK (shape > 0),   -- before it
	scale INTEGER NOT NULL CHECK (scale >= 0),
	learned INTEGER NOT NULL CHECK (learned IN (0, 1)), -- 0: table's own
	PRIMARY KEY (task, species, from_g, prep_id)
) STRICT, WITHOUT ROWID;
CREATE INDEX pace_seen_prep ON pace_seen (prep_id);

-- === pages ==============================================================

-- What was ever on hold of a batch or portion, however many holds there were.
CREATE INDEX hold_of_batch ON hold (batch_id) WHERE batch_id IS NOT NULL;
CREATE INDEX hold_of_portion ON hold (portion_id)
    WHERE portion_id IS NOT NULL;

-- === records ============================================================

-- What was lost in a week, without reading what was served in it.
CREATE INDEX portion_event_lost ON portion_event (at_utc)
    WHERE kind IN ('discarded', 'missing', 'found');
