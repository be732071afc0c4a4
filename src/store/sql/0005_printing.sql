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

-- === freezing ===========================================================

-- === day sheet ==========================================================

-- What happened on one civil day, however long the record has become.
CREATE INDEX prep_at ON prep (at_utc);
CREATE INDEX portion_event_at ON portion_event (at_utc);
CREATE INDEX batch_event_at ON batch_event (at_utc);
CREATE INDEX hold_at ON hold (at_utc);
CREATE INDEX hold_released_at ON hold (released_utc)
    WHERE released_utc IS NOT NULL;
CREATE INDEX print_job_at ON print_job (at_utc);
-- Freezing and thawing, as the trail tells it.
CREATE INDEX audit_frozen ON audit (at_utc)
    WHERE action IN ('freeze', 'thaw');
