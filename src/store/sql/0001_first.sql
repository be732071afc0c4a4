-- Schema 1: from delivery to portion, for one fish section.
--
-- Conventions.  Weights are whole grams, counts whole pieces, temperatures
-- tenths of a degree Celsius, shares and yields 1/10 000.  A civil day is a day
-- number counted from 1970-01-01; an instant is UTC seconds, and where a person
-- reads it the offset of the kitchen's zone (minutes east) is kept beside it.
-- Nothing recorded is changed to something else later: what happens to a batch
-- or a portion is an event, a hold is opened and closed, a mistake gets a
-- counter-record.

-- Facts about the file itself.
CREATE TABLE station (
	key TEXT PRIMARY KEY,   -- kitchen, training, created
	value TEXT NOT NULL
) STRICT;

-- Who delivers.  Name and address are what Reg. (EU) 931/2011 Art. 3 asks of
-- the business a food of animal origin came from.
CREATE TABLE supplier (
	id INTEGER PRIMARY KEY,
	code TEXT NOT NULL,             -- short, keyed at goods in in any case
	name TEXT NOT NULL,
	address TEXT NOT NULL,
	approval TEXT NOT NULL,         -- approval number, may be empty
	contact TEXT NOT NULL           -- telephone for a recall, may be empty
) STRICT;

CREATE UNIQUE INDEX supplier_code ON supplier (lower(code));

-- Goods that came in together under one document.
CREATE TABLE delivery (
	id INTEGER PRIMARY KEY,
	supplier_id INTEGER NOT NULL REFERENCES supplier,
	document TEXT NOT NULL,         -- number of the delivery note
	day INTEGER NOT NULL,           -- civil day of arrival
	UNIQUE (supplier_id, document, day)
) STRICT;

-- One species and presentation of a delivery under one supplier lot.
CREATE TABLE batch (
	id INTEGER PRIMARY KEY,
	code TEXT NOT NULL UNIQUE,      -- core/code.h, without hyphen
	delivery_id INTEGER NOT NULL REFERENCES delivery,
	species TEXT NOT NULL,          -- FAO ASFIS 3-alpha
	presentation TEXT NOT NULL,     -- word of core/cut.h
	count INTEGER NOT NULL CHECK (count >= 0),        -- fish; 0 not counted
	weight_g INTEGER NOT NULL CHECK (weight_g > 0),
	lot TEXT NOT NULL,              -- supplier's lot
	temp_dc INTEGER NOT NULL,       -- core temperature at goods in
	area TEXT NOT NULL,             -- catch area, FAO or in words
	method TEXT NOT NULL,           -- caught, caught-freshwater, farmed
	gear TEXT NOT NULL,             -- gear category or code, may be empty
	caught_day INTEGER,             -- civil day, if known
	supplier_use_by_day INTEGER,    -- civil day, if the supplier gave one
	decision TEXT NOT NULL CHECK (decision IN ('accepted', 'noted', 'refused')),
	open INTEGER NOT NULL CHECK (open IN (0, 1)), -- 1 accepted, not used up
	note TEXT NOT NULL CHECK (decision = 'accepted' OR note <> ''),
	received_utc INTEGER NOT NULL,
	received_offset_min INTEGER NOT NULL,
	use_by_utc INTEGER NOT NULL,
	use_by_why TEXT NOT NULL,       -- JSON: every limit with its source
	by TEXT NOT NULL                -- initials
) STRICT;
CREATE INDEX batch_delivery ON batch (delivery_id);
CREATE INDEX batch_open ON batch (use_by_utc) WHERE open = 1;
CREATE INDEX batch_lot ON batch (lot);

-- Weight that left a batch other than through a breakdown.
CREATE TABLE batch_event (
	id INTEGER PRIMARY KEY,
	batch_id INTEGER NOT NULL REFERENCES batch,
	kind TEXT NOT NULL CHECK (kind IN ('discarded')),
	fish INTEGER NOT NULL CHECK (fish >= 0),
	weight_g INTEGER NOT NULL CHECK (weight_g > 0),
	reason TEXT NOT NULL CHECK (reason <> ''),
	at_utc INTEGER NOT NULL,
	offset_min INTEGER NOT NULL,
	by TEXT NOT NULL
) STRICT;
CREATE INDEX batch_event_batch ON batch_event (batch_id);

-- What a guest orders.
CREATE TABLE dish (
	id INTEGER PRIMARY KEY,
	code TEXT NOT NULL UNIQUE,      -- short, lower case: roast-cod
	name TEXT NOT NULL,
	state TEXT NOT NULL,            -- word of core/useby.h
	allergens TEXT NOT NULL,        -- beyond the species' own, may be empty
	on_menu INTEGER NOT NULL CHECK (on_menu IN (0, 1))
) STRICT;

-- The portion of a dish.  Kept when the menu changes: portions refer to it.
CREATE TABLE cut (
	id INTEGER PRIMARY KEY,
	dish_id INTEGER NOT NULL REFERENCES dish,
	species TEXT NOT NULL,
	kind TEXT NOT NULL,             -- word of core/cut.h
	skin_on INTEGER NOT NULL CHECK (skin_on IN (0, 1)),
	bought TEXT NOT NULL,           -- presentation it is ordered in
	low_g INTEGER NOT NULL CHECK (low_g > 0),
	target_g INTEGER NOT NULL CHECK (target_g >= low_g),
	high_g INTEGER NOT NULL CHECK (high_g >= target_g),
	yield_bp INTEGER CHECK (yield_bp BETWEEN 1 AND 10000), -- house figure
	current INTEGER NOT NULL CHECK (current IN (0, 1))
) STRICT;
CREATE UNIQUE INDEX cut_current ON cut (dish_id, species) WHERE current = 1;

-- Share of the covers of a service that orders a dish.
CREATE TABLE mix (
	dish_id INTEGER NOT NULL REFERENCES dish,
	service TEXT NOT NULL,          -- name of the sitting
	share_bp INTEGER NOT NULL CHECK (share_bp BETWEEN 0 AND 10000),
	PRIMARY KEY (dish_id, service)
) STRICT, WITHOUT ROWID;

-- One dated sitting and its booked guests.
CREATE TABLE service (
	id INTEGER PRIMARY KEY,
	day INTEGER NOT NULL,
	name TEXT NOT NULL,
	covers INTEGER NOT NULL CHECK (covers BETWEEN 0 AND 100000),
	UNIQUE (day, name)
) STRICT;

-- A breakdown: a batch worked into portions, trim, frames and waste.
CREATE TABLE prep (
	id INTEGER PRIMARY KEY,
	at_utc INTEGER NOT NULL,
	offset_min INTEGER NOT NULL,
	by TEXT NOT NULL,
	note TEXT NOT NULL
) STRICT;

CREATE TABLE prep_input (
	id INTEGER PRIMARY KEY,
	prep_id INTEGER NOT NULL REFERENCES prep,
	batch_id INTEGER NOT NULL REFERENCES batch,
	fish INTEGER NOT NULL CHECK (fish >= 0), -- 0 when the batch is not counted
	weight_g INTEGER NOT NULL CHECK (weight_g > 0)
) STRICT;
CREATE INDEX prep_input_prep ON prep_input (prep_id);
CREATE INDEX prep_input_batch ON prep_input (batch_id);

CREATE TABLE prep_output (
	id INTEGER PRIMARY KEY,
	prep_id INTEGER NOT NULL REFERENCES prep,
	cut_id INTEGER NOT NULL REFERENCES cut,
	portions INTEGER NOT NULL CHECK (portions > 0),
	weight_g INTEGER NOT NULL CHECK (weight_g > 0)
) STRICT;
CREATE INDEX prep_output_prep ON prep_output (prep_id);

CREATE TABLE prep_loss (
	prep_id INTEGER NOT NULL REFERENCES prep,
	kind TEXT NOT NULL CHECK (kind IN ('trim', 'frames', 'waste')),
	weight_g INTEGER NOT NULL CHECK (weight_g >= 0),
	PRIMARY KEY (prep_id, kind)
) STRICT, WITHOUT ROWID;

-- One labelled unit: a portion, or a tray of several.
CREATE TABLE portion (
	id INTEGER PRIMARY KEY,
	serial INTEGER NOT NULL UNIQUE, -- number the code was made from
	code TEXT NOT NULL UNIQUE,      -- core/code.h, without hyphen
	prep_output_id INTEGER NOT NULL REFERENCES prep_output,
	batch_id INTEGER NOT NULL REFERENCES batch,
	cut_id INTEGER NOT NULL REFERENCES cut,
	servings INTEGER NOT NULL CHECK (servings > 0),
	left INTEGER NOT NULL CHECK (left BETWEEN 0 AND servings),
	weight_g INTEGER NOT NULL CHECK (weight_g > 0),
	made_utc INTEGER NOT NULL,
	made_offset_min INTEGER NOT NULL,
	use_by_utc INTEGER NOT NULL,
	use_by_why TEXT NOT NULL,       -- JSON: every limit with its source
	by TEXT NOT NULL
) STRICT;
CREATE INDEX portion_batch ON portion (batch_id);
CREATE INDEX portion_output ON portion (prep_output_id);
CREATE INDEX portion_on_hand ON portion (use_by_utc) WHERE left > 0;

-- What became of portions.
CREATE TABLE portion_event (
	id INTEGER PRIMARY KEY,
	portion_id INTEGER NOT NULL REFERENCES portion,
	kind TEXT NOT NULL CHECK (kind IN ('used', 'discarded')),
	servings INTEGER NOT NULL CHECK (servings > 0),
	service_id INTEGER REFERENCES service, -- for which sitting, if known
	reason TEXT NOT NULL,
	at_utc INTEGER NOT NULL,
	offset_min INTEGER NOT NULL,
	by TEXT NOT NULL
) STRICT;
CREATE INDEX portion_event_portion ON portion_event (portion_id);
CREATE INDEX portion_event_service ON portion_event (service_id);

-- A batch or a portion blocked pending a decision.  A hold on a batch blocks
-- every portion made from it.
CREATE TABLE hold (
	id INTEGER PRIMARY KEY,
	batch_id INTEGER REFERENCES batch,
	portion_id INTEGER REFERENCES portion,
	reason TEXT NOT NULL CHECK (reason <> ''),
	at_utc INTEGER NOT NULL,
	by TEXT NOT NULL,
	released_utc INTEGER,
	released_by TEXT,
	released_reason TEXT,
	CHECK ((batch_id IS NULL) <> (portion_id IS NULL))
) STRICT;
CREATE INDEX hold_batch ON hold (batch_id) WHERE released_utc IS NULL;
CREATE INDEX hold_portion ON hold (portion_id) WHERE released_utc IS NULL;

-- Every label asked for, durable before its first byte goes out.
CREATE TABLE print_job (
	id INTEGER PRIMARY KEY,
	batch_id INTEGER REFERENCES batch,
	portion_id INTEGER REFERENCES portion,
	copy INTEGER NOT NULL CHECK (copy >= 0), -- 0 first print, n nth reprint
	state TEXT NOT NULL CHECK (state IN ('queued', 'sending', 'sent',
	    'confirmed', 'unsure', 'failed', 'cancelled')),
	language TEXT NOT NULL,
	printer TEXT NOT NULL,          -- configured address
	picture TEXT NOT NULL,          -- digest of the bitmap
	error TEXT NOT NULL,            -- why it failed, else empty
	at_utc INTEGER NOT NULL,
	changed_utc INTEGER NOT NULL,
	by TEXT NOT NULL,
	CHECK ((batch_id IS NULL) <> (portion_id IS NULL))
) STRICT;
CREATE INDEX print_job_batch ON print_job (batch_id);
CREATE INDEX print_job_portion ON print_job (portion_id);
CREATE INDEX print_job_open ON print_job (state)
    WHERE state IN ('queued', 'sending');

-- What was done, by whom, when.  Rows are only ever added.
CREATE TABLE audit (
	id INTEGER PRIMARY KEY,
	at_utc INTEGER NOT NULL,
	offset_min INTEGER NOT NULL,
	by TEXT NOT NULL,
	action TEXT NOT NULL,
	subject TEXT NOT NULL,          -- code or name it was done to
	detail TEXT NOT NULL            -- one line
) STRICT;

CREATE TRIGGER audit_no_replace BEFORE INSERT ON audit
WHEN EXISTS (SELECT 1 FROM audit WHERE id = NEW.id)
BEGIN SELECT raise(ABORT, 'the audit trail is never changed'); END;
CREATE TRIGGER audit_no_update BEFORE UPDATE ON audit
BEGIN SELECT raise(ABORT, 'the audit trail is never changed'); END;
CREATE TRIGGER audit_no_delete BEFORE DELETE ON audit
BEGIN SELECT raise(ABORT, 'the audit trail is never changed'); END;

-- What is left of each batch, in one place for every query.
CREATE VIEW batch_left AS
SELECT b.id AS batch_id,
	b.weight_g
	    - coalesce((SELECT sum(i.weight_g) FROM prep_input i
		WHERE i.batch_id = b.id), 0)
	    - coalesce((SELECT sum(e.weight_g) FROM batch_event e
		WHERE e.batch_id = b.id), 0) AS weight_g,
	b.count
	    - coalesce((SELECT sum(i.fish) FROM prep_input i
		WHERE i.batch_id = b.id), 0)
	    - coalesce((SELECT sum(e.fish) FROM batch_event e
		WHERE e.batch_id = b.id), 0) AS count
FROM batch b;

