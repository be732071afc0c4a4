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
-- 1: only from the thick part of a fillet.
ALTER TABLE cut ADD COLUMN thick INTEGER NOT NULL DEFAULT 0
    CHECK (thick IN (0, 1));

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
