-- Schema 4: what the plan needs to know, and what it learns.

-- === prices and single weights ==========================================

-- Price paid, in the smallest coin per kilogram; NULL when nobody said.
ALTER TABLE batch ADD COLUMN price INTEGER CHECK (price >= 0);

-- Fish weighed one by one, numbered from 1 as they came off the scale.
CREATE TABLE batch_fish (
	batch_id INTEGER NOT NULL REFERENCES batch,
	number INTEGER NOT NULL CHECK (number > 0),
	weight_g INTEGER NOT NULL CHECK (weight_g > 0),
	prep_id INTEGER REFERENCES prep,  -- breakdown that took it; NULL: still here
	PRIMARY KEY (batch_id, number)
) STRICT, WITHOUT ROWID;

-- What a guest pays, in the smallest coin; NULL when the menu does not say.
ALTER TABLE dish ADD COLUMN price INTEGER CHECK (price >= 0);
-- Left of a piece after skinning, pin-boning and squaring for this cut.
ALTER TABLE cut ADD COLUMN finish_bp INTEGER NOT NULL DEFAULT 10000
    CHECK (finish_bp BETWEEN 1 AND 10000);
-- Shellfish by the piece: so many animals make so many portions (6 oysters
-- make 1, 1 lobster makes 2); 0 animals: by weight.
ALTER TABLE cut ADD COLUMN animals INTEGER NOT NULL DEFAULT 0
    CHECK (animals BETWEEN 0 AND 1000);
ALTER TABLE cut ADD COLUMN animals_make INTEGER NOT NULL DEFAULT 1
    CHECK (animals_make BETWEEN 1 AND 1000);

-- Cuts of one dish and part stand in for each other (hake or cod); a dish
-- needs every one of its parts (hake and mussels).  Until now each cut was a
-- part of its own.
ALTER TABLE cut ADD COLUMN part INTEGER NOT NULL DEFAULT 0;
UPDATE cut SET part = id;

-- What suppliers sell: one species and presentation, one grade of size.
CREATE TABLE offer (
	id INTEGER PRIMARY KEY,
	supplier_id INTEGER NOT NULL REFERENCES supplier,
	species TEXT NOT NULL,
	presentation TEXT NOT NULL,
	fish_g INTEGER NOT NULL CHECK (fish_g >= 0), -- mean fish; 0 by weight
	price INTEGER NOT NULL CHECK (price >= 0),   -- smallest coin per kg
	step_g INTEGER NOT NULL CHECK (step_g > 0),  -- sold in steps of
	current INTEGER NOT NULL CHECK (current IN (0, 1)),
	UNIQUE (supplier_id, species, presentation, fish_g)
) STRICT;

-- === demand and sales ===================================================

-- Booked parties, as guests x tables: "2x8 4x5 6"; empty when nobody said.
ALTER TABLE service ADD COLUMN parties TEXT NOT NULL DEFAULT '';
-- Covers the chef expects, walk-ins included; NULL: worked out.
ALTER TABLE service ADD COLUMN expected INTEGER
    CHECK (expected BETWEEN 0 AND 100000);

-- A service that is over.  Nobody changes it but a correction, which names
-- its row of the audit trail, where before and after stand.
CREATE TABLE closed (
	service_id INTEGER PRIMARY KEY REFERENCES service,
	booked INTEGER NOT NULL CHECK (booked >= 0), -- covers, when it was closed
	seated INTEGER NOT NULL CHECK (seated BETWEEN 0 AND booked), -- of those
	walk_ins INTEGER NOT NULL CHECK (walk_ins >= 0), -- covers beyond them
	at_utc INTEGER NOT NULL,
	offset_min INTEGER NOT NULL,
	by TEXT NOT NULL,
	corrected_id INTEGER -- audit row of the last correction; NULL: none
) STRICT;

-- Portions of a dish sold in it.  No row: nobody counted them.
CREATE TABLE sold (
	service_id INTEGER NOT NULL REFERENCES closed,
	dish_id INTEGER NOT NULL REFERENCES dish,
	sold INTEGER NOT NULL CHECK (sold >= 0),
	-- Covers seated when it ran out; -2: nobody noted when; NULL: it did not.
	ran_out_at INTEGER CHECK (ran_out_at >= 0 OR ran_out_at = -2),
	corrected_id INTEGER,
	PRIMARY KEY (service_id, dish_id)
) STRICT, WITHOUT ROWID;

CREATE TRIGGER closed_corrected BEFORE UPDATE ON closed
WHEN NEW.corrected_id IS NULL OR NEW.corrected_id <= OLD.corrected_id
    OR NEW.corrected_id <> (SELECT max(id) FROM audit)
BEGIN SELECT raise(ABORT, 'a closed service changes by a correction only'); END;
CREATE TRIGGER closed_stays BEFORE DELETE ON closed
BEGIN SELECT raise(ABORT, 'a closed service stays'); END;
CREATE TRIGGER sold_corrected BEFORE UPDATE ON sold
WHEN NEW.corrected_id IS NULL OR NEW.corrected_id <= OLD.corrected_id
    OR NEW.corrected_id <> (SELECT max(id) FROM audit)
BEGIN SELECT raise(ABORT, 'a closed service changes by a correction only'); END;
CREATE TRIGGER sold_stays BEFORE DELETE ON sold
BEGIN SELECT raise(ABORT, 'a closed service stays'); END;

-- What the chef typed for a dish of a service, in portions; NULL: nothing.
CREATE TABLE typed (
	service_id INTEGER NOT NULL REFERENCES service,
	dish_id INTEGER NOT NULL REFERENCES dish,
	floor INTEGER CHECK (floor >= 0),
	ceiling INTEGER CHECK (ceiling >= coalesce(floor, 0)),
	fixed INTEGER CHECK (fixed BETWEEN coalesce(floor, 0)
	    AND coalesce(ceiling, fixed)),
	PRIMARY KEY (service_id, dish_id)
) STRICT, WITHOUT ROWID;

-- === yields learned =====================================================

-- What is known of a yield after its breakdowns; core/yieldlearn.h has the
-- filter.  Finer than the 1/10 000 that is planned with: rounded to that, a
-- mean would stop learning from small surprises.
CREATE TABLE yield_learned (
	species TEXT NOT NULL,
	bought TEXT NOT NULL,           -- yield form of core/cut.h it came in
	cut TEXT NOT NULL,              -- yield form cut to, or troncon
	supplier_id INTEGER NOT NULL,   -- 0: all suppliers together
	start_mean_e8 INTEGER NOT NULL, -- before the first breakdown, in 1/10^8;
	start_var_e10 INTEGER NOT NULL, --   0 and 0: nothing was published
	mean_e8 INTEGER NOT NULL CHECK (mean_e8 BETWEEN 1 AND 99999999),
	var_e10 INTEGER NOT NULL CHECK (var_e10 > 0), -- 1/10^10 of one squared
	count INTEGER NOT NULL CHECK (count > 0),     -- breakdowns learned
	PRIMARY KEY (species, bought, cut, supplier_id)
) STRICT, WITHOUT ROWID;

-- Breakdowns that could teach a yield.  What yield_learned says follows from
-- these rows and the starts alone.
CREATE TABLE yield_seen (
	prep_id INTEGER PRIMARY KEY REFERENCES prep,
	species TEXT NOT NULL,
	bought TEXT NOT NULL,
	cut TEXT NOT NULL,
	supplier_id INTEGER NOT NULL REFERENCES supplier,
	fish INTEGER NOT NULL CHECK (fish >= 0), -- 0 by weight
	in_g INTEGER NOT NULL CHECK (in_g > 0),
	out_g INTEGER NOT NULL CHECK (out_g BETWEEN 1 AND in_g),
	observed_bp INTEGER NOT NULL    -- out over in, rounded down
	    GENERATED ALWAYS AS (out_g * 10000 / in_g) VIRTUAL,
	learned INTEGER NOT NULL CHECK (learned IN (0, 1)) -- 0: set aside
) STRICT;
CREATE INDEX yield_seen_key ON yield_seen (species, bought, cut, prep_id);

-- For the weights of fish seen last of a species.
CREATE INDEX batch_species ON batch (species);

-- === minutes learned ====================================================

-- What a breakdown took, as the cook said, beside what was expected of it.
CREATE TABLE prep_minutes (
	prep_id INTEGER PRIMARY KEY REFERENCES prep,
	minutes INTEGER NOT NULL CHECK (minutes > 0),
	expected_s INTEGER NOT NULL CHECK (expected_s >= 0), -- 0 not known
	taught INTEGER NOT NULL CHECK (taught IN (0, 1)) -- 1: learned from
) STRICT;

-- The kitchen's own pace (core/minutes.h): seconds per unit = scale / shape.
CREATE TABLE pace (
	task TEXT NOT NULL,
	species TEXT NOT NULL,
	from_g INTEGER NOT NULL CHECK (from_g >= 0), -- of its size band
	shape INTEGER NOT NULL CHECK (shape > 0),    -- thousandths of a unit
	scale INTEGER NOT NULL CHECK (scale >= 0),   -- thousandths of a second
	PRIMARY KEY (task, species, from_g)
) STRICT, WITHOUT ROWID;
