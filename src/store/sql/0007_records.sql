-- Schema 7: a trail nobody can quietly change, recalls, complaints, keeping.

-- === trail ==============================================================

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
