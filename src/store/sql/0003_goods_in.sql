-- Schema 3: what was seen at goods in, attribute by attribute.

-- Vessel or farm, as the papers name it; empty when they do not.
ALTER TABLE batch ADD COLUMN vessel TEXT NOT NULL DEFAULT '';
-- Civil day it was dispatched, if the papers say so.
ALTER TABLE batch ADD COLUMN dispatched_day INTEGER;
-- Size of the smallest one measured: mm, or g where the species is weighed.
ALTER TABLE batch ADD COLUMN size INTEGER;
-- Grade of the worst attribute (core/freshness.h), empty when none was marked.
ALTER TABLE batch ADD COLUMN grade TEXT NOT NULL DEFAULT '';
-- JSON: marks, size, papers that were missing, season, as judged on the day.
ALTER TABLE batch ADD COLUMN judgement TEXT NOT NULL DEFAULT '{}';

-- One attribute of one batch, as the person saw it.
CREATE TABLE freshness_mark (
	batch_id INTEGER NOT NULL REFERENCES batch,
	attribute TEXT NOT NULL,        -- name in config/freshness.csv
	grade TEXT NOT NULL,            -- extra, a, b, not-admitted
	PRIMARY KEY (batch_id, attribute)
) STRICT, WITHOUT ROWID;
