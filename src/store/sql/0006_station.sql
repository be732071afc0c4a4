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

-- === work ===============================================================

-- === undo ===============================================================

-- === pages ==============================================================
