-- Schema 2: a clock that a person vouched for.

-- One row each time an operator read the date in words and confirmed it.
CREATE TABLE clock_check (
	id INTEGER PRIMARY KEY,
	at_utc INTEGER NOT NULL,        -- what the clock read
	offset_min INTEGER NOT NULL,
	by TEXT NOT NULL,
	zone TEXT NOT NULL,             -- IANA zone in force then
	words TEXT NOT NULL,            -- the date as it was shown
	doubt TEXT NOT NULL             -- why it was asked
) STRICT;
INSERT INTO station (key, value) VALUES ('zone', '');
