-- Schema 6: what the full-screen station keeps beside the chain itself.

-- === people =============================================================

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

-- === pages ==============================================================
