/*
 * upgrade.c - the power fails while a file of the schema before the newest is
 * opened and upgraded: the old one, or a newer one, with every row.
 */
#include <sqlite3.h>
#include <string.h>

#include "base/buf.h"
#include "base/file.h"
#include "base/str.h"
#include "core/code.h"
#include "folder.h"
#include "story.h"
#include "store/store.h"
#include "upgrade.h"

/* The scripts as a program of that time ran them. */
static const char *const scripts[] = { "0001_first", "0002_clock",
	"0003_goods_in", "0004_plan", "0005_printing", "0006_station" };

static const char rows[] =
    "INSERT OR REPLACE INTO station VALUES ('kitchen', 'Old'),"
    " ('training', 'yes'), ('zone', 'Europe/London'),"
    " ('created', '2026-01-02T10:00:00Z');"
    "INSERT INTO supplier VALUES (1, 'quay', 'Wren Quay Fish', 'x', '', '');"
    "INSERT INTO delivery VALUES (1, 1, 'WQ-1', 20700);"
    "INSERT INTO batch (id, code, delivery_id, species, presentation, count,"
    " weight_g, lot, temp_dc, area, method, gear, decision, open, note,"
    " received_utc, received_offset_min, use_by_utc, use_by_why, by) VALUES"
    " (1, '26250011', 1, 'HKE', 'gutted', 6, 13800, 'H1', 12, '27.7.j',"
    " 'caught', '', 'accepted', 1, '', 1788500000, 60, 1788900000, '{}',"
    " 'AK');"
    "INSERT INTO dish (id, code, name, state, allergens, on_menu) VALUES"
    " (1, 'hake-beans', 'Roast hake', 'cooked', '', 1);"
    "INSERT INTO cut (id, dish_id, species, kind, skin_on, bought, low_g,"
    " target_g, high_g, current) VALUES (1, 1, 'HKE', 'supreme', 1, 'gutted',"
    " 150, 165, 185, 1);"
    "INSERT INTO prep VALUES (1, 1788510000, 60, 'AK', '');"
    "INSERT INTO prep_input VALUES (1, 1, 1, 2, 4760);"
    "INSERT INTO prep_output VALUES (1, 1, 1, 6, 1000);"
    "INSERT INTO prep_loss VALUES (1, 'frames', 2000);"
    "INSERT INTO audit VALUES (1, 1788400000, 60, 'init', 'init', 'Old', 'm'),"
    " (2, 1788500000, 60, 'AK', 'receive', '26250011', 'in'),"
    " (3, 1788510000, 60, 'AK', 'prep', '26250011', 'cut'),"
    " (4, 1788511000, 60, 'LM', 'use', 'x', '2 left');"
    "INSERT INTO hold VALUES (1, 1, NULL, 'smell', 1788511000, 'AK',"
    " 1788512000, 'CD', 'fine');";

static void
units(struct buf *b)
{
	char code[CODE_SIZE];
	int64_t serial = 0;
	int i;

	for (i = 1; i <= 2; i++) {
		serial = portion_code_make(code, serial + 1);
		buf_printf(b,
		    "INSERT INTO portion VALUES (%d, %lld, '%s', 1, 1, 1, 3, "
		    "%d,"
		    " 500, 1788510000, 60, 1788800000, '{}', 'AK', NULL,"
		    " NULL);",
		    i, (long long)serial, code, i == 1 ? 2 : 3);
	}
	buf_puts(b,
	    "INSERT INTO portion_event (id, portion_id, kind, servings, reason,"
	    " at_utc, offset_min, by) VALUES (1, 1, 'used', 1, '', 1788511000,"
	    " 60, 'LM');");
}

static void
make_old(const char *path)
{
	struct buf b;
	char name[80], *said = NULL;
	struct err err = { 0 };
	sqlite3 *db;
	size_t i;

	buf_init(&b, FILE_READ_MAX);
	for (i = 0; i < sizeof(scripts) / sizeof(scripts[0]); i++) {
		str_fmt(name, sizeof(name), "src/store/sql/%s.sql", scripts[i]);
		if (file_read(&b, name, &err) != RC_OK)
			give_up("%s", err.text);
	}
	buf_puts(&b, rows);
	units(&b);
	buf_printf(&b,
	    "PRAGMA application_id = %d; PRAGMA user_version = %zu;"
	    "PRAGMA journal_mode = WAL;",
	    STORE_APPLICATION_ID, i);
	if (sqlite3_open(path, &db) != SQLITE_OK ||
	    sqlite3_exec(db, buf_text(&b), NULL, NULL, &said) != SQLITE_OK)
		give_up("%s: %s", path, said);
	sqlite3_close(db);
	buf_fini(&b);
}

static void
facts(struct day *d)
{
	day_fact(d, "13800 6 H1",
	    "SELECT weight_g || ' ' || count || ' ' ||"
	    " lot FROM batch");
	day_fact(
	    d, "9040 4", "SELECT weight_g || ' ' || count FROM batch_left");
	day_fact(d, "2 3", "SELECT group_concat(left, ' ') FROM portion");
	day_fact(d, "4", "SELECT count(*) FROM audit WHERE id <= 4");
	day_fact(d, "used 1",
	    "SELECT kind || ' ' || servings FROM"
	    " portion_event");
	day_fact(d, "smell", "SELECT reason FROM hold");
}

bool
upgrade_story(struct story *s)
{
	struct err err = { 0 };

	memset(s, 0, sizeof(*s));
	s->steps = 1;
	day_make(&s->day);
	disk_start(s->day.folder);
	story_begin(s);
	make_old(s->day.db);
	facts(&s->day);
	disk_adopt(&s->j, s->day.db);
	s->base = s->j.count;
	s->began[0] = s->j.count;
	day_at(&s->day, "07:00");
	if (day_open(&s->day, &err) != RC_OK)
		give_up("upgrade: %s", err.text);
	story_ack(s, 0);
	day_shut(&s->day);
	return story_end(s) && s->state_count > 1;
}

const char *
upgrade_copy_wrong(const struct story *s, const struct left *l,
    const char *folder, const struct state *is)
{
	struct state copy = { 0 };
	char name[80], path[400];
	sqlite3 *db;
	size_t i;
	bool ok;

	for (i = 0; i < l->count; i++) {
		str_copy(name, sizeof(name),
		    l->items[i].path + strlen(s->day.folder) + 1);
		if (strstr(name, ".before-schema-") == NULL ||
		    strstr(name, ".new-") != NULL ||
		    strstr(name, "-journal") != NULL)
			continue;
		str_fmt(path, sizeof(path), "%s/%s", folder, name);
		ok = look_open(&db, path) && look_state(&copy, db);
		sqlite3_close(db);
		return ok && copy.hash == s->states[0].is.hash
		    ? NULL
		    : "the copy before the upgrade is not whole";
	}
	return is->hash == s->states[0].is.hash
	    ? NULL
	    : "upgraded without a copy before it";
}
