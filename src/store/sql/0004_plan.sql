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
	expected_s INTEGER NOT NULL CHECK (expected_s >= 0), -- seconds
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
