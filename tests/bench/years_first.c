/* years_first.c - the first day, by the operations themselves. */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "base/clock.h"
#include "base/file.h"
#include "base/str.h"
#include "ops/breakdown.h"
#include "ops/bring_in.h"
#include "ops/fate.h"
#include "ops/freeze.h"
#include "ops/label.h"
#include "ops/receive.h"
#include "ops/ticket.h"
#include "store/bookings.h"
#include "store/store.h"
#include "years_parts.h"

static const char settings[] =
    "[station]\n"
    "kitchen = The Lamplighter, fish section\n"
    "training = yes\n"
    "timezone = Europe/London\n"
    "data_folder = %s/config\n"
    "[printer]\n"
    "language = png\n"
    "address = preview:%s.labels\n"
    "tickets = roll\n"
    "[printer roll]\n"
    "address = preview:%s.labels\n"
    "width_mm = 80\n"
    "gap_mm = 0\n"
    "[service lunch]\n"
    "starts = 12:00\n"
    "ends = 15:00\n"
    "[service dinner]\n"
    "starts = 18:00\n"
    "ends = 23:00\n";

/* The demo's menu; weights and yields near its own. */
static const struct kind kinds[KINDS] = {
	{
	    .species = "HKE",
	    .presentation = "gutted",
	    .dish = "hake-beans",
	    .supplier = "quay",
	    .area = "27.7.j",
	    .method = "caught",
	    .gear = "Hooks and lines",
	    .fish_g = 2300,
	    .target_g = 165,
	    .yield_bp = 4750,
	    .lunch = 50,
	    .dinner = 50,
	},
	{
	    .species = "POK",
	    .presentation = "gutted",
	    .dish = "coley-curry",
	    .supplier = "quay",
	    .area = "27.6.a",
	    .method = "caught",
	    .gear = "Trawls",
	    .fish_g = 3000,
	    .target_g = 125,
	    .yield_bp = 4000,
	    .lunch = 100,
	},
	{
	    .species = "PLE",
	    .presentation = "gutted",
	    .dish = "plaice-crumb",
	    .supplier = "quay",
	    .area = "27.7.e",
	    .method = "caught",
	    .gear = "Trawls",
	    .fish_g = 450,
	    .target_g = 50,
	    .yield_bp = 3600,
	    .lunch = 100,
	},
	{
	    .species = "LEM",
	    .presentation = "gutted",
	    .dish = "sole-bone",
	    .supplier = "quay",
	    .area = "27.7.e",
	    .method = "caught",
	    .gear = "Trawls",
	    .fish_g = 420,
	    .target_g = 380,
	    .yield_bp = 9200,
	    .dinner = 100,
	},
	{
	    .species = "MAC",
	    .presentation = "whole",
	    .dish = "mackerel-beet",
	    .supplier = "quay",
	    .area = "27.7.e",
	    .method = "caught",
	    .gear = "Hooks and lines",
	    .fish_g = 400,
	    .target_g = 85,
	    .yield_bp = 5200,
	    .lunch = 55,
	    .dinner = 45,
	},
	{
	    .species = "MUS",
	    .presentation = "live",
	    .dish = "mussel-pot",
	    .supplier = "isle",
	    .area = "Far Holm, rope grown",
	    .method = "farmed",
	    .gear = "",
	    .target_g = 500,
	    .yield_bp = 9900,
	    .lunch = 45,
	    .dinner = 55,
	},
	{
	    .species = "CRE",
	    .presentation = "live",
	    .dish = "crab-toast",
	    .supplier = "isle",
	    .area = "27.7.e",
	    .method = "caught",
	    .gear = "FPO",
	    .fish_g = 900,
	    .target_g = 70,
	    .yield_bp = 2400,
	    .dinner = 100,
	},
	{
	    .species = "TRR",
	    .presentation = "gutted",
	    .dish = "trout-crudo",
	    .supplier = "isle",
	    .area = "Loch Example, Far Holm",
	    .method = "farmed",
	    .gear = "",
	    .fish_g = 700,
	    .target_g = 55,
	    .yield_bp = 5100,
	    .dinner = 100,
	},
};

static enum rc
write_settings(char path[320], const char *db, struct err *err)
{
	char here[256], text[2048];

	if (getcwd(here, sizeof(here)) == NULL ||
	    !str_fmt(path, 320, "%s.ini", db) ||
	    !str_fmt(text, sizeof(text), settings, here, db, db))
		return err_set(err, RC_INVALID, 0, "the path is too long");
	return file_write(path, text, strlen(text), err);
}

static enum rc
bring_in(struct station *sn, struct err *err)
{
	struct import_result r;
	enum rc rc;

	if ((rc = import_suppliers(&r, sn, "demo/suppliers.csv", "AK", err)) !=
		RC_OK ||
	    (rc = import_menu(&r, sn, "demo/menu.csv", "AK", err)) != RC_OK)
		return rc;
	return import_offers(&r, sn, "demo/offers.csv", "AK", err);
}

static void
at(struct station *sn, day_no day, int hour, int minute)
{
	sn->clock.fixed_utc = utc_from_local(day, hour, minute, 0);
}

#define FIRST_PORTIONS 4

/* What goes in for so many portions: whole fish, where they are counted. */
static grams
needed(const struct kind *k, int64_t *fish)
{
	grams g = k->target_g * FIRST_PORTIONS * BP_ONE / k->yield_bp;

	*fish = 0;
	if (k->fish_g == 0)
		return g;
	*fish = (g + k->fish_g - 1) / k->fish_g;
	return g;
}

static enum rc
first_receive(struct batch *b, const struct kind *k, struct station *sn,
    day_no day, struct err *err)
{
	char caught[16], dated[16], count[24], weight[24];
	struct receive_in in = { .supplier = k->supplier,
		.document = "F-1",
		.species = k->species,
		.presentation = k->presentation,
		.lot = "F-1",
		.temp = "1.0",
		.area = k->area,
		.method = k->method,
		.gear = k->gear[0] == '\0' ? NULL : k->gear,
		.decision = DECISION_ACCEPTED,
		.by = "AK" };
	int64_t fish;
	grams g = needed(k, &fish);

	at(sn, day, 6, 40);
	str_fmt(weight, sizeof(weight), "%dg", (int)g + 100);
	in.weight = weight;
	if (fish > 0) {
		str_fmt(count, sizeof(count), "%d", (int)fish);
		in.count = count;
	}
	in.caught = day_print(caught, sizeof(caught), day - 1);
	if (!str_eq(k->presentation, "live"))
		in.supplier_date = day_print(dated, sizeof(dated), day + 3);
	return receive(b, NULL, sn, &in, err);
}

static enum rc
first_break(struct breakdown *out, const struct kind *k, struct station *sn,
    const struct batch *b, day_no day, struct err *err)
{
	struct breakdown_in in = { .batch = b->code,
		.makes = { { k->dish, FIRST_PORTIONS,
		    k->target_g * FIRST_PORTIONS, 1 } },
		.make_count = 1,
		.yield_ok = true,
		.by = "AK" };
	grams rest;

	at(sn, day, 8, 10);
	in.weight_g = needed(k, &in.fish);
	/* All of it: what is left of one fish would be no fish at all. */
	in.weight_g += 100;
	rest = in.weight_g - in.makes[0].weight_g;
	in.loss_g[LOSS_FRAMES] = rest / 2;
	in.loss_g[LOSS_WASTE] = rest / 4;
	if (str_eq(k->dish, "trout-crudo"))
		in.feed_statement = "TI feed letter";
	return breakdown_record(out, sn, &in, err);
}

/* Frozen, thawed days later, used; the rest used on the day. */
static enum rc
first_serve(
    struct station *sn, const struct breakdown *b, day_no day, struct err *err)
{
	bool freezes = str_eq(b->portions[0].dish, "plaice-crumb");
	const char *last = b->portions[FIRST_PORTIONS - 1].code;
	struct freeze_in f = {
		.codes = &last, .count = 1, .temp = "-21", .by = "LM"
	};
	struct use_in in = { .by = "LM" };
	struct portion p;
	struct kept kept;
	size_t i;
	enum rc rc = RC_OK;

	at(sn, day, 13, 0);
	for (i = 0; i + (freezes ? 1 : 0) < b->portion_count; i++) {
		in.code = b->portions[i].code;
		if ((rc = use(&p, sn, &in, err)) != RC_OK)
			return rc;
	}
	if (!freezes)
		return RC_OK;
	at(sn, day, 15, 20);
	if ((rc = freeze(&kept, sn, &f, err)) != RC_OK)
		return rc;
	at(sn, day + THAW_AFTER, 8, 0);
	if ((rc = thaw(&kept, sn, &f, err)) != RC_OK)
		return rc;
	in.code = last;
	at(sn, day + THAW_AFTER, 12, 30);
	return use(&p, sn, &in, err);
}

static enum rc
first_labels(struct station *sn, const struct breakdown *made, struct err *err)
{
	const char *codes[FIRST_PORTIONS];
	struct label_order o = { codes, FIRST_PORTIONS, LABEL_FIRST,
		.by = "AK" };
	struct job_list jobs;
	size_t i;
	enum rc rc;

	for (i = 0; i < FIRST_PORTIONS; i++)
		codes[i] = made->portions[i].code;
	if ((rc = label_print(&jobs, sn, &o, err)) == RC_OK)
		job_list_fini(&jobs);
	return rc;
}

static enum rc
first_ticket(struct station *sn, day_no day, struct err *err)
{
	struct service s = { .day = day, .name = "lunch", .covers = 350 };
	struct label_order o = { .by = "AK" };
	struct ticket_wish wish = { .kind = TICKET_PREP };
	struct ticket *t = NULL;
	struct moment at = { .utc = clock_now(&sn->clock), .by = "AK" };
	struct job_list jobs;
	enum change change;
	char what[40], date[16];
	enum rc rc;

	str_fmt(
	    what, sizeof(what), "%s/lunch", day_print(date, sizeof(date), day));
	wish.what = what;
	if ((rc = store_begin(sn->st, err)) != RC_OK)
		return rc;
	if ((rc = service_put(&change, sn->st, &s, err)) == RC_OK &&
	    (rc = station_audit(
		 sn, &at, err, "import", "bookings", "%s", what)) == RC_OK)
		rc = store_commit(sn->st, err);
	store_rollback(sn->st);
	if (rc != RC_OK || (rc = ticket_make(&t, sn, &wish, err)) != RC_OK)
		return rc;
	rc = ticket_print(&jobs, sn, TICKET_PREP, t, &o, err);
	if (rc == RC_OK)
		job_list_fini(&jobs);
	ticket_free(t);
	return rc;
}

static enum rc
play(struct station *sn, day_no day, struct err *err)
{
	struct breakdown made[KINDS];
	struct batch got[KINDS];
	size_t i;
	enum rc rc;

	memset(made, 0, sizeof(made));
	at(sn, day, 6, 0);
	if ((rc = first_ticket(sn, day, err)) != RC_OK)
		return rc;
	for (i = 0; i < KINDS && rc == RC_OK; i++)
		rc = first_receive(&got[i], &kinds[i], sn, day, err);
	for (i = 0; i < KINDS && rc == RC_OK; i++)
		if ((rc = first_break(
			 &made[i], &kinds[i], sn, &got[i], day, err)) == RC_OK)
			rc = first_labels(sn, &made[i], err);
	/* The one that is thawed days later comes last. */
	for (i = 0; i < KINDS && rc == RC_OK; i++)
		if (!str_eq(kinds[i].dish, "plaice-crumb"))
			rc = first_serve(sn, &made[i], day, err);
	for (i = 0; i < KINDS && rc == RC_OK; i++)
		if (str_eq(kinds[i].dish, "plaice-crumb"))
			rc = first_serve(sn, &made[i], day, err);
	for (i = 0; i < KINDS; i++)
		breakdown_fini(&made[i]);
	return rc;
}

enum rc
first_day_play(struct first_day *f, const struct years_wish *w, day_no day,
    struct err *err)
{
	char ini[320], now[48], date[16], path[CONFIG_PATH_SIZE];
	struct station_options o = { .db = w->db, .config = ini, .now = now };
	struct station *sn = NULL;
	enum rc rc;

	memset(f, 0, sizeof(*f));
	memcpy(f->kinds, kinds, sizeof(kinds));
	f->day = day;
	str_fmt(
	    now, sizeof(now), "%sT05:30", day_print(date, sizeof(date), day));
	if ((rc = write_settings(ini, w->db, err)) != RC_OK ||
	    (rc = station_init(path, &o, err)) != RC_OK ||
	    (rc = station_open(&sn, &o, true, err)) != RC_OK)
		return rc;
	if ((rc = bring_in(sn, err)) == RC_OK && w->years + w->days > 0)
		rc = play(sn, day, err);
	station_close(sn);
	return rc;
}

/* --- what they left -------------------------------------------------------*/

/* One text of the first row; `dst` is emptied when there is none. */
static void
text_of(char *dst, size_t size, sqlite3 *db, const char *sql, const char *arg)
{
	sqlite3_stmt *s = NULL;

	dst[0] = '\0';
	if (sqlite3_prepare_v2(db, sql, -1, &s, NULL) != SQLITE_OK) {
		fprintf(stderr, "years: %s in %s\n", sqlite3_errmsg(db), sql);
		exit(1);
	}
	sqlite3_bind_text(s, 1, arg, -1, SQLITE_STATIC);
	if (sqlite3_step(s) == SQLITE_ROW &&
	    !str_copy(dst, size, (const char *)sqlite3_column_text(s, 0))) {
		fprintf(stderr, "years: too long: %s\n", sql);
		exit(1);
	}
	sqlite3_finalize(s);
}

static int64_t
number_of(sqlite3 *db, const char *sql, const char *arg)
{
	char text[32];

	text_of(text, sizeof(text), db, sql, arg);
	return strtoll(text, NULL, 10);
}

static void
read_kind(struct kind *k, sqlite3 *db, day_no day)
{
	char text[STENCIL_SIZE];

	k->supplier_id = number_of(
	    db, "SELECT id FROM supplier WHERE code = ?1", k->supplier);
	k->dish_id =
	    number_of(db, "SELECT id FROM dish WHERE code = ?1", k->dish);
	k->cut_id = number_of(db,
	    "SELECT p.cut_id FROM portion p JOIN batch b ON b.id = p.batch_id"
	    " WHERE b.species = ?1",
	    k->species);
	text_of(text, sizeof(text), db,
	    "SELECT use_by_why FROM batch WHERE species = ?1", k->species);
	stencil_cut(&k->batch_why, text, day);
	text_of(text, sizeof(text), db,
	    "SELECT p.use_by_why FROM portion p JOIN batch b"
	    " ON b.id = p.batch_id WHERE b.species = ?1",
	    k->species);
	stencil_cut(&k->portion_why, text, day);
	text_of(k->judgement, sizeof(k->judgement), db,
	    "SELECT judgement FROM batch WHERE species = ?1", k->species);
	k->batch_days = local_from_utc(number_of(db,
					   "SELECT use_by_utc FROM batch"
					   " WHERE species = ?1",
					   k->species))
			    .day -
	    day;
	k->portion_days =
	    local_from_utc(
		number_of(db,
		    "SELECT min(p.use_by_utc) FROM portion p JOIN batch b"
		    " ON b.id = p.batch_id WHERE b.species = ?1"
		    " AND p.frozen_utc IS NULL",
		    k->species))
		.day -
	    day;
	text_of(k->bought, sizeof(k->bought), db,
	    "SELECT bought FROM yield_seen WHERE species = ?1", k->species);
	text_of(k->cut, sizeof(k->cut), db,
	    "SELECT cut FROM yield_seen WHERE species = ?1", k->species);
}

void
first_day_read(struct first_day *f, sqlite3 *db)
{
	static const char *const words[] = { "frozen", "thawed" };
	struct stencil *const stencils[] = { &f->frozen.freeze,
		&f->frozen.thaw };
	int64_t *const left[] = { &f->frozen.freeze_left,
		&f->frozen.thaw_left };
	int *const days[] = { &f->frozen.freeze_days, &f->frozen.thaw_days };
	char text[STENCIL_SIZE];
	int i;

	for (i = 0; i < KINDS; i++)
		read_kind(&f->kinds[i], db, f->day);
	for (i = 0; i < 2; i++) {
		text_of(text, sizeof(text), db,
		    "SELECT why FROM freezing WHERE kind = ?1", words[i]);
		stencil_cut(stencils[i], text, f->day);
		*left[i] = number_of(db,
		    "SELECT days_left FROM freezing WHERE kind = ?1", words[i]);
		*days[i] = local_from_utc(number_of(db,
					      "SELECT use_by_utc FROM freezing"
					      " WHERE kind = ?1",
					      words[i]))
			       .day -
		    f->day;
	}
	text_of(f->ticket, sizeof(f->ticket), db,
	    "SELECT body FROM ticket WHERE kind = ?1", "prep");
}
