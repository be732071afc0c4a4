/* trail_rig.c - a day on record, and somebody who tampers with it. */
#include "trail_rig.h"

#include <check.h>
#include <sqlite3.h>
#include <stdlib.h>
#include <string.h>

#include "base/buf.h"
#include "base/file.h"
#include "ops/bring_in.h"
#include "ops/close.h"
#include "ops/draft.h"
#include "ops/expect.h"
#include "ops/fate.h"
#include "ops/freeze.h"
#include "ops/people.h"
#include "ops/ticket.h"
#include "ops/undo.h"
#include "ops/work_mark.h"
#include "store/audit.h"
#include "unit.h"

static void
add(struct store *st, const struct moment *at)
{
	struct err err = { 0 };

	ck_assert_msg(
	    audit_add(st, at, "test", "x", "y", &err) == RC_OK, "%s", err.text);
	ck_assert_msg(store_commit(st, &err) == RC_OK, "%s", err.text);
}

void
rig_commit(struct store *st)
{
	static const struct moment at = { .utc = 1, .by = "AB" };

	add(st, &at);
}

void
rig_note(struct store *st, const struct moment *at)
{
	ck_assert_int_eq(store_begin(st, NULL), RC_OK);
	add(st, at);
}

/* --- a day -----------------------------------------------------------------*/

#define MUST(call)                                                             \
	do {                                                                   \
		struct err err = { 0 };                                        \
		ck_assert_msg((call) == RC_OK, "%s: %s", #call, err.text);     \
	} while (0)

static void
serve(struct kitchen *k, const struct breakdown *b)
{
	struct use_in in = { .code = b->portions[0].code,
		.servings = 2,
		.service = "2026-11-25/lunch",
		.by = "CD" };
	struct count_in count = { .code = b->portions[1].code,
		.servings = 3,
		.reason = "one is gone",
		.by = "CD" };
	struct discard_in drop = {
		.code = b->portions[1].code, .reason = "dropped", .by = "EF"
	};
	struct discarded dropped;
	struct undo_offer o;
	struct undo_in undo = { .of = "EF", .by = "EF" };
	struct counted counted;
	struct portion p;

	MUST(use(&p, k->sn, &in, &err));
	MUST(count_unit(&counted, k->sn, &count, &err));
	MUST(discard(&dropped, k->sn, &drop, &err));
	MUST(undo_last(&o, k->sn, "EF", &err));
	undo.step = o.step;
	MUST(undo_do(&o, k->sn, &undo, &err));
}

static void
keep_cold(struct kitchen *k, const struct breakdown *b)
{
	const char *codes[] = { b->portions[2].code };
	struct freeze_in in = {
		.codes = codes, .count = 1, .temp = "-21", .by = "CD"
	};
	struct kept kept;

	MUST(freeze(&kept, k->sn, &in, &err));
	kitchen_at(k, "2026-11-25T13:00");
	MUST(thaw(&kept, k->sn, &in, &err));
}

static void
hold_it(struct kitchen *k, const char *code)
{
	char shown[CODE_SIZE];

	MUST(hold(shown, k->sn, code, "smells", "AB", &err));
	MUST(release(shown, k->sn, code, "it was the crate", "AB", &err));
	MUST(hold(shown, k->sn, code, "recall call", "AB", &err));
}

static void
close_lunch(struct kitchen *k)
{
	static const char *const sold[] = { "plaice-crumb:6:30" };
	static const char *const right[] = { "plaice-crumb:7" };
	struct close_in in = { .service = "2026-11-25/lunch",
		.seated = 38,
		.walk_ins = 2,
		.sold = sold,
		.sold_count = 1,
		.by = "AB" };
	struct buf out;

	buf_init(&out, FILE_READ_MAX);
	MUST(close_service(&out, k->sn, &in, FORMAT_TEXT, &err));
	in.correct = true;
	in.seated = 37;
	in.sold = right;
	MUST(close_service(&out, k->sn, &in, FORMAT_TEXT, &err));
	buf_fini(&out);
}

static void
plan_it(struct kitchen *k, const struct batch *b)
{
	struct expect_in in = { .service = "2026-11-25/dinner",
		.covers = 70,
		.words = { { EXPECT_FLOOR, "cod-leeks:4" } },
		.count = 1,
		.by = "AB" };
	struct work_say say = { .service = "2026-11-25/dinner",
		.said = WORK_STARTED,
		.by = "AB" };
	struct import_result r;
	char path[320];
	struct buf out;

	buf_init(&out, FILE_READ_MAX);
	MUST(expect(&out, k->sn, &in, FORMAT_TEXT, &err));
	buf_fini(&out);
	strcpy(say.key.batch, b->code);
	strcpy(say.key.dish, "cod-leeks");
	strcpy(say.key.step, "fillet");
	MUST(work_mark_say(NULL, k->sn, &say, &err));
	kitchen_write(path, k, "offers.csv",
	    "supplier,species,presentation,fish,price,step\n"
	    "pier,COD,gutted,2000,12.00,1000\n");
	MUST(import_offers(&r, k->sn, path, "AB", &err));
}

static void
people(struct kitchen *k)
{
	struct person_in in = { .initials = "AB",
		.name = "Ada Brook",
		.chef = "yes",
		.by = "AB" };
	struct draft_in draft = {
		.name = "breakdown", .title = "a cod", .body = "x", .by = "AB"
	};

	MUST(people_add(NULL, k->sn, &in, &err));
	MUST(people_pin_set(k->sn, "AB", "4711", "AB", &err));
	MUST(people_works(k->sn, "AB", &err));
	ck_assert_int_eq(
	    people_pin_check(k->sn, "AB", "4712", NULL), RC_REFUSED);
	MUST(draft_keep(k->sn, &draft, &err));
}

static void
day_sheet(struct kitchen *k)
{
	static const struct printer_setting roll = {
		.name = "roll", .width_mm = 80, .height_mm = 200, .dpi = 203
	};
	struct ticket_wish wish = { .kind = TICKET_DAY };
	struct moment at = { .by = "AB" };
	struct ticket *t = NULL;
	int64_t id;
	int pages;

	at.utc = clock_now(&k->sn->clock);
	MUST(ticket_make(&t, k->sn, &wish, &err));
	MUST(store_begin(k->sn->st, &err));
	MUST(
	    ticket_record(&id, &pages, k->sn, TICKET_DAY, t, &roll, &at, &err));
	rig_commit(k->sn->st);
	ticket_free(t);
}

/* A breakdown that was a mistake, with minutes that taught a pace. */
static void
mistake(struct kitchen *k, const struct batch *b)
{
	struct breakdown_in in = { .batch = b->code,
		.fish = 1,
		.weight_g = 2000,
		.makes = { { "cod-leeks", 5, 825, 5 } },
		.make_count = 1,
		.loss_g = { 0, 700, 400 },
		.minutes = 9,
		.minutes_ok = true,
		.by = "GH" };
	struct undo_in undo = { .of = "GH", .by = "GH" };
	struct breakdown out;
	struct undo_offer o;

	MUST(breakdown_record(&out, k->sn, &in, &err));
	breakdown_fini(&out);
	MUST(undo_last(&o, k->sn, "GH", &err));
	undo.step = o.step;
	MUST(undo_do(&o, k->sn, &undo, &err));
	MUST(breakdown_record(&out, k->sn, &in, &err));
	breakdown_fini(&out);
}

void
rig_day(struct kitchen *k)
{
	struct receive_in in = kitchen_cod();
	struct kitchen_cut cut = { "cod-leeks", 12, 4, 1980, 10000, 5 };
	struct discard_in rest = { .reason = "belly burst", .by = "CD" };
	struct discarded dropped;
	struct breakdown b;
	struct batch cod, second;
	size_t i;

	kitchen_at(k, "2026-11-25T10:00");
	in.fish_weights = "2000,2100,1900,2050,1950,2000,2000,2010,1990,2000";
	cod = kitchen_receive(k, &in);
	in.fish_weights = NULL;
	in.document = "DN 4472";
	in.seen.marks[0] = "eye=a";
	in.seen.mark_count = 1;
	second = kitchen_receive(k, &in);
	kitchen_at(k, "2026-11-25T10:05");
	people(k);
	plan_it(k, &cod);
	b = kitchen_break(k, cod.code, &cut);
	for (i = 0; i < b.portion_count; i++)
		MUST(kitchen_label(NULL, k, b.portions[i].code, LABEL_FIRST));
	mistake(k, &second);
	kitchen_at(k, "2026-11-25T12:30");
	serve(k, &b);
	keep_cold(k, &b);
	hold_it(k, b.portions[0].code);
	rest.code = second.code;
	MUST(discard(&dropped, k->sn, &rest, &err));
	kitchen_at(k, "2026-11-25T15:30");
	close_lunch(k);
	rig_later(k);
	day_sheet(k);
	breakdown_fini(&b);
	station_close(k->sn);
	k->sn = NULL;
}

/* --- tampering -------------------------------------------------------------*/

/* The statements that make the triggers; the names, to drop them. */
static void
triggers(struct buf *make, struct buf *drop, sqlite3 *db)
{
	sqlite3_stmt *q;

	ck_assert_int_eq(sqlite3_prepare_v2(db,
			     "SELECT name, sql FROM sqlite_schema"
			     " WHERE type = 'trigger'",
			     -1, &q, NULL),
	    SQLITE_OK);
	while (sqlite3_step(q) == SQLITE_ROW) {
		buf_printf(drop, "DROP TRIGGER %s;",
		    (const char *)sqlite3_column_text(q, 0));
		buf_printf(
		    make, "%s;", (const char *)sqlite3_column_text(q, 1));
	}
	sqlite3_finalize(q);
}

int
rig_tamper(const char *path, const char *sql)
{
	struct buf make, drop;
	sqlite3 *db = NULL;
	int rc;

	buf_init(&make, FILE_READ_MAX);
	buf_init(&drop, FILE_READ_MAX);
	kitchen_touched();
	ck_assert_int_eq(
	    sqlite3_open_v2(path, &db, SQLITE_OPEN_READWRITE, NULL), SQLITE_OK);
	triggers(&make, &drop, db);
	ck_assert_int_eq(
	    sqlite3_exec(db,
		"PRAGMA foreign_keys = OFF; PRAGMA synchronous = OFF;"
		"PRAGMA ignore_check_constraints = ON; BEGIN",
		NULL, NULL, NULL),
	    SQLITE_OK);
	ck_assert_int_eq(
	    sqlite3_exec(db, buf_text(&drop), NULL, NULL, NULL), SQLITE_OK);
	rc = sqlite3_exec(db, sql, NULL, NULL, NULL);
	ck_assert_int_eq(
	    sqlite3_exec(db, buf_text(&make), NULL, NULL, NULL), SQLITE_OK);
	if (sqlite3_exec(db, "COMMIT", NULL, NULL, NULL) != SQLITE_OK)
		rc = SQLITE_ERROR;
	sqlite3_close(db);
	buf_fini(&make);
	buf_fini(&drop);
	return rc;
}

struct trail_report
rig_verify(const char *db)
{
	struct verify_wish wish = { 0 };
	struct trail_report r;

	MUST(store_verify(&r, db, &wish, &err));
	return r;
}

void
rig_whole(const char *db)
{
	struct trail_report r = rig_verify(db);

	ck_assert_msg(r.found == 0, "%s", r.faults[0].text);
	trail_report_fini(&r);
}
