/* sound.c - what must hold of every station file. */
#include "sound.h"

#include <stdlib.h>
#include <string.h>

#include "base/str.h"
#include "core/code.h"

/* A unit's servings now, by its events; what is taken back comes back. */
#define EVENTS                                                                 \
	"coalesce((SELECT sum(CASE WHEN e.kind IN ('found', 'returned')"       \
	" THEN e.servings ELSE -e.servings END) FROM portion_event e"          \
	" WHERE e.portion_id = p.id), 0)"

/* The use-by in force when an event happened: a later freezing or thawing has
 * put another in its place. */
#define USE_BY_THEN                                                            \
	"coalesce((SELECT f.use_by_before_utc FROM freezing f"                 \
	" WHERE f.portion_id = p.id AND f.id > coalesce((SELECT max(g.id)"     \
	" FROM freezing g WHERE g.portion_id = p.id AND g.at_utc <= e.at_utc)" \
	", 0) ORDER BY f.id LIMIT 1), p.use_by_utc)"

/* Made by a breakdown, not put together from what was left of others. */
#define NOT_JOINED                                                             \
	"NOT EXISTS (SELECT 1 FROM portion_joined x WHERE x.portion_id = "     \
	"p.id)"

/* Each gives one text for a row that is wrong; ?1 is the id to start behind. */
static const struct {
	const char *what, *sql;
	bool dated; /* compares times of records */
} rules[] = {
	{ "servings are left + events",
	    "SELECT p.code FROM portion p WHERE p.id > ?1 AND p.left <>"
	    " p.servings + " EVENTS,
	    false },
	{ "a batch weighs its parts and what is left",
	    "SELECT b.code || ' ' || l.weight_g FROM batch b JOIN batch_left l"
	    " ON l.batch_id = b.id WHERE b.id > ?1 AND (l.weight_g <"
	    " -max(20, b.weight_g / 50) OR l.count < 0)",
	    false },
	{ "no more comes out of a breakdown than went in",
	    "SELECT q.id FROM prep q WHERE q.id > ?1 AND"
	    " (SELECT sum(weight_g) FROM prep_input WHERE prep_id = q.id) <"
	    " coalesce((SELECT sum(weight_g) FROM prep_output WHERE prep_id ="
	    " q.id), 0) + coalesce((SELECT sum(weight_g) FROM prep_loss WHERE"
	    " prep_id = q.id), 0)",
	    false },
	{ "units are what came out, serving by serving",
	    "SELECT o.id FROM prep_output o WHERE o.prep_id > ?1 AND"
	    " (o.portions <> (SELECT sum(servings) FROM portion p WHERE"
	    " prep_output_id = o.id AND " NOT_JOINED
	    ") OR o.weight_g <> (SELECT sum(weight_g) FROM portion p WHERE"
	    " prep_output_id = o.id AND " NOT_JOINED "))",
	    false },
	{ "a tray put together is what came off its units",
	    "SELECT p.code FROM portion p WHERE p.id > ?1 AND NOT " NOT_JOINED
	    " AND (p.servings <> (SELECT sum(servings) FROM portion_joined"
	    " WHERE portion_id = p.id) OR p.weight_g <> (SELECT sum(weight_g)"
	    " FROM portion_joined WHERE portion_id = p.id))",
	    false },
	{ "what went off a unit for a tray stands with it",
	    "SELECT j.from_id FROM portion_joined j WHERE j.portion_id > ?1"
	    " AND NOT EXISTS (SELECT 1 FROM portion_event e WHERE"
	    " e.portion_id = j.from_id AND e.kind = 'combined'"
	    " AND e.servings = j.servings)",
	    false },
	{ "a unit has every batch of its breakdown, or of its units",
	    "SELECT p.code FROM portion p JOIN prep_output o ON o.id ="
	    " p.prep_output_id JOIN prep_input i ON i.prep_id = o.prep_id"
	    " WHERE p.id > ?1 AND i.batch_id <> p.batch_id AND NOT EXISTS"
	    " (SELECT 1 FROM portion_source m WHERE m.portion_id = p.id"
	    " AND m.batch_id = i.batch_id)"
	    " UNION SELECT p.code FROM portion p JOIN portion_joined j"
	    " ON j.portion_id = p.id JOIN (SELECT id AS portion_id, batch_id"
	    " FROM portion UNION SELECT portion_id, batch_id FROM"
	    " portion_source) w ON w.portion_id = j.from_id WHERE p.id > ?1"
	    " AND w.batch_id <> p.batch_id AND NOT EXISTS (SELECT 1 FROM"
	    " portion_source m WHERE m.portion_id = p.id AND m.batch_id ="
	    " w.batch_id)",
	    false },
	{ "a unit is of one species and presentation",
	    "SELECT p.code FROM portion_source m JOIN portion p ON p.id ="
	    " m.portion_id JOIN batch a ON a.id = p.batch_id JOIN batch b"
	    " ON b.id = m.batch_id WHERE p.id > ?1 AND (a.species <>"
	    " b.species OR a.presentation <> b.presentation"
	    " OR a.id = b.id)",
	    false },
	{ "no tray put together outlives a unit it was made of",
	    "SELECT p.code FROM portion_joined j JOIN portion p ON p.id ="
	    " j.portion_id JOIN portion f ON f.id = j.from_id WHERE p.id > ?1"
	    " AND p.frozen_utc IS f.frozen_utc AND p.thawed_utc IS"
	    " f.thawed_utc AND p.use_by_utc > f.use_by_utc",
	    false },
	{ "nothing was used past its use-by",
	    "SELECT p.code FROM portion_event e JOIN portion p ON p.id ="
	    " e.portion_id WHERE p.id > ?1 AND e.kind = 'used' AND e.at_utc >"
	    " " USE_BY_THEN,
	    true },
	{ "nothing was used out of the freezer",
	    "SELECT p.code FROM portion_event e JOIN portion p ON p.id ="
	    " e.portion_id JOIN freezing f ON f.portion_id = p.id"
	    " AND f.kind = 'frozen' AND f.id <= coalesce((SELECT max(g.id)"
	    " FROM freezing g WHERE g.at_utc < e.at_utc), 0)"
	    " WHERE p.id > ?1 AND e.kind = 'used' AND f.at_utc < e.at_utc"
	    " AND NOT EXISTS (SELECT 1 FROM freezing t WHERE t.portion_id ="
	    " p.id AND t.kind = 'thawed' AND t.at_utc <= e.at_utc)",
	    true },
	{ "nothing was made of a refused batch",
	    "SELECT b.code FROM prep_input i JOIN batch b ON b.id = i.batch_id"
	    " WHERE i.prep_id > ?1 AND b.decision = 'refused'",
	    false },
	{ "nothing was made of a batch past its use-by",
	    "SELECT b.code FROM prep_input i JOIN batch b ON b.id = i.batch_id"
	    " JOIN prep q ON q.id = i.prep_id WHERE q.id > ?1"
	    " AND q.at_utc > b.use_by_utc",
	    true },
	{ "no unit outlives its batch, but in the freezer",
	    "SELECT p.code FROM portion p JOIN batch b ON b.id IN"
	    " (SELECT p.batch_id UNION ALL SELECT m.batch_id FROM"
	    " portion_source m WHERE m.portion_id = p.id)"
	    " WHERE p.id > ?1 AND p.frozen_utc IS NULL AND p.thawed_utc IS"
	    " NULL AND EXISTS (SELECT 1 FROM cut c JOIN dish d ON d.id ="
	    " c.dish_id WHERE c.id = p.cut_id AND d.state IN ('raw', 'live'))"
	    " AND p.use_by_utc > b.use_by_utc",
	    false },
	{ "a first label is printed once",
	    "SELECT coalesce(portion_id, 'batch ' || batch_id) FROM print_job"
	    " WHERE id > ?1 AND ticket_id IS NULL AND copy = 0 AND says <>"
	    " 'hold' AND state <> 'cancelled' AND (state <> 'failed' OR"
	    " said_by <> '') GROUP BY portion_id, batch_id, says"
	    " HAVING count(*) > 1",
	    false },
	{ "the audit trail runs by its numbers",
	    "SELECT max(id) FROM audit HAVING count(*) <> max(id)", false },
	{ "every link leads somewhere",
	    "SELECT \"table\" FROM pragma_foreign_key_check WHERE ?1 = 0",
	    false },
	{ "every page of the file is whole",
	    "SELECT integrity_check FROM pragma_integrity_check"
	    " WHERE ?1 = 0 AND integrity_check <> 'ok'",
	    false },
};

static char said[400];

/* Codes are made from the serial alone. */
static const char *
check_codes(sqlite3 *db, int64_t since_id)
{
	sqlite3_stmt *s = NULL;
	char code[CODE_SIZE];
	int64_t serial;

	if (sqlite3_prepare_v2(db,
		"SELECT serial, code FROM portion WHERE id > ?1", -1, &s,
		NULL) != SQLITE_OK)
		return sqlite3_errmsg(db);
	sqlite3_bind_int64(s, 1, since_id);
	said[0] = '\0';
	while (said[0] == '\0' && sqlite3_step(s) == SQLITE_ROW) {
		const char *is = (const char *)sqlite3_column_text(s, 1);

		serial = sqlite3_column_int64(s, 0);
		if (portion_code_make(code, serial) != serial ||
		    !str_eq(code, is))
			str_fmt(said, sizeof(said),
			    "a code follows from its serial: %s", is);
	}
	sqlite3_finalize(s);
	return said[0] == '\0' ? NULL : said;
}

static const char *
check(sqlite3 *db, int64_t since_id, bool dated)
{
	sqlite3_stmt *s;
	size_t i;
	int rc;

	for (i = 0; i < sizeof(rules) / sizeof(rules[0]); i++) {
		if (rules[i].dated && !dated)
			continue;
		if (sqlite3_prepare_v2(db, rules[i].sql, -1, &s, NULL) !=
		    SQLITE_OK) {
			str_fmt(said, sizeof(said), "%s: %s", rules[i].what,
			    sqlite3_errmsg(db));
			return said;
		}
		/* A rule about the whole file has no parameter. */
		if (sqlite3_bind_parameter_count(s) > 0)
			sqlite3_bind_int64(s, 1, since_id);
		if ((rc = sqlite3_step(s)) != SQLITE_DONE) {
			str_fmt(said, sizeof(said), "not so: %s: %s",
			    rules[i].what,
			    rc == SQLITE_ROW
				? (const char *)sqlite3_column_text(s, 0)
				: sqlite3_errmsg(db));
			sqlite3_finalize(s);
			return said;
		}
		sqlite3_finalize(s);
	}
	return check_codes(db, since_id);
}

const char *
sound_check(sqlite3 *db, int64_t since_id)
{
	return check(db, since_id, true);
}

const char *
sound_check_undated(sqlite3 *db, int64_t since_id)
{
	return check(db, since_id, false);
}

int64_t
sound_count(sqlite3 *db, const char *table)
{
	sqlite3_stmt *s = NULL;
	char sql[80];
	int64_t n = -1;

	str_fmt(sql, sizeof(sql), "SELECT count(*) FROM %s", table);
	if (sqlite3_prepare_v2(db, sql, -1, &s, NULL) == SQLITE_OK &&
	    sqlite3_step(s) == SQLITE_ROW)
		n = sqlite3_column_int64(s, 0);
	sqlite3_finalize(s);
	return n;
}
