-- Schema 5: a queue of labels that never lies, lists on a roll, freezing.

-- === queue ==============================================================

-- A list that comes out of the printer, kept as it was printed.
CREATE TABLE ticket (
	id INTEGER PRIMARY KEY,
	kind TEXT NOT NULL
	    CHECK (kind IN ('prep', 'order', 'recall', 'day', 'test')),
	title TEXT NOT NULL,
	body TEXT NOT NULL,             -- its lines, as labels/ticket.h writes them
	at_utc INTEGER NOT NULL,
	offset_min INTEGER NOT NULL,
	by TEXT NOT NULL
) STRICT;

-- Labels and pages of lists asked for, durable before the first byte goes out.
-- The table is made anew because a job may now be about a list.
CREATE TABLE print_job_new (
	id INTEGER PRIMARY KEY,
	batch_id INTEGER REFERENCES batch,
	portion_id INTEGER REFERENCES portion,
	ticket_id INTEGER REFERENCES ticket,
	page INTEGER NOT NULL DEFAULT 0 CHECK (page >= 0), -- of a list, from 1
	says TEXT NOT NULL DEFAULT 'use-by'     -- what the label is of, so that a
	    CHECK (says IN ('use-by', 'frozen', -- frozen tray gets a first
	    'thawed', 'hold')),                 -- label of its own
	copy INTEGER NOT NULL CHECK (copy >= 0), -- 0 first print, n nth reprint
	state TEXT NOT NULL CHECK (state IN ('queued', 'sending', 'sent',
	    'confirmed', 'unsure', 'failed', 'cancelled')),
	language TEXT NOT NULL,
	printer TEXT NOT NULL,          -- configured address
	printer_name TEXT NOT NULL DEFAULT 'main', -- section of the settings
	picture TEXT NOT NULL,          -- digest of the bitmap
	error TEXT NOT NULL,            -- why it waits, failed or is unsure
	at_utc INTEGER NOT NULL,
	changed_utc INTEGER NOT NULL,
	by TEXT NOT NULL,
	said_by TEXT NOT NULL DEFAULT '', -- who said whether it came out
	CHECK ((batch_id IS NOT NULL) + (portion_id IS NOT NULL)
	    + (ticket_id IS NOT NULL) = 1),
	CHECK ((page > 0) = (ticket_id IS NOT NULL))
) STRICT;
INSERT INTO print_job_new (id, batch_id, portion_id, copy, state, language,
	printer, picture, error, at_utc, changed_utc, by)
SELECT id, batch_id, portion_id, copy, state, language, printer, picture,
	error, at_utc, changed_utc, by FROM print_job;
DROP TABLE print_job;
ALTER TABLE print_job_new RENAME TO print_job;
CREATE INDEX print_job_batch ON print_job (batch_id);
CREATE INDEX print_job_portion ON print_job (portion_id);
CREATE INDEX print_job_ticket ON print_job (ticket_id);
-- What is not settled: the queue, and the questions for a person.
CREATE INDEX print_job_open ON print_job (id)
    WHERE state IN ('queued', 'sending', 'unsure');
-- Sent, but the printer reported a fault after the last byte.
CREATE INDEX print_job_late ON print_job (id)
    WHERE state = 'sent' AND error <> '';

-- === freezing ===========================================================

-- When a unit, or the fish it was made of, was frozen and taken out to thaw.
-- Frozen now: frozen_utc without thawed_utc.
ALTER TABLE portion ADD COLUMN frozen_utc INTEGER;
ALTER TABLE portion ADD COLUMN thawed_utc INTEGER
    CHECK (thawed_utc IS NULL OR thawed_utc >= frozen_utc);
-- Until now this stood in the reasons of the use-by alone.
UPDATE portion SET
	frozen_utc = unixepoch(json_extract(use_by_why, '$.history.frozen')),
	thawed_utc = unixepoch(json_extract(use_by_why, '$.history.thawed'))
WHERE CASE WHEN json_valid(use_by_why) THEN
	json_extract(use_by_why, '$.history.thawed') IS NOT NULL END;

-- A unit frozen here or taken out to thaw, and what that did to its use-by.
-- Once each: frozen again it would be another food.  Rows are only ever added.
CREATE TABLE freezing (
	id INTEGER PRIMARY KEY,
	portion_id INTEGER NOT NULL REFERENCES portion,
	kind TEXT NOT NULL CHECK (kind IN ('frozen', 'thawed')),
	temp_dc INTEGER,                -- reached when frozen
	days_left INTEGER NOT NULL CHECK (days_left > 0), -- of its life in chill
	use_by_before_utc INTEGER NOT NULL,
	use_by_utc INTEGER NOT NULL,
	why TEXT NOT NULL,              -- JSON: every limit with its source
	reason TEXT NOT NULL,           -- a person's, may be empty
	at_utc INTEGER NOT NULL,
	offset_min INTEGER NOT NULL,
	by TEXT NOT NULL,
	UNIQUE (portion_id, kind),
	CHECK ((kind = 'frozen') = (temp_dc IS NOT NULL))
) STRICT;

-- What became of portions.  Made anew because a count on hand may find some
-- missing, or some that were taken off by mistake.
CREATE TABLE portion_event_new (
	id INTEGER PRIMARY KEY,
	portion_id INTEGER NOT NULL REFERENCES portion,
	kind TEXT NOT NULL
	    CHECK (kind IN ('used', 'discarded', 'missing', 'found')),
	servings INTEGER NOT NULL CHECK (servings > 0), -- found: came back
	service_id INTEGER REFERENCES service, -- for which sitting, if known
	reason TEXT NOT NULL CHECK (reason <> '' OR kind = 'used'),
	at_utc INTEGER NOT NULL,
	offset_min INTEGER NOT NULL,
	by TEXT NOT NULL
) STRICT;
INSERT INTO portion_event_new SELECT id, portion_id, kind, servings,
	service_id, CASE WHEN kind = 'used' OR reason <> '' THEN reason
	ELSE '(not said)' END, at_utc, offset_min, by FROM portion_event;
DROP TABLE portion_event;
ALTER TABLE portion_event_new RENAME TO portion_event;
CREATE INDEX portion_event_portion ON portion_event (portion_id);
CREATE INDEX portion_event_service ON portion_event (service_id);

-- === day sheet ==========================================================

-- What happened on one civil day, however long the record has become.
CREATE INDEX prep_at ON prep (at_utc);
CREATE INDEX portion_event_at ON portion_event (at_utc);
CREATE INDEX batch_event_at ON batch_event (at_utc);
CREATE INDEX hold_at ON hold (at_utc);
CREATE INDEX hold_released_at ON hold (released_utc)
    WHERE released_utc IS NOT NULL;
CREATE INDEX print_job_at ON print_job (at_utc);
CREATE INDEX freezing_at ON freezing (at_utc);
