/* kitchen.c - an invented kitchen in a folder of its own. */
#include "kitchen.h"

#include <check.h>
#include <dirent.h>
#include <sqlite3.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "base/buf.h"
#include "base/file.h"
#include "base/str.h"
#include "exchange/stock_out.h"
#include "ops/balance.h"
#include "ops/bring_in.h"
#include "store/store.h"
#include "store/verify.h"

static const char settings[] =
    "[station]\n"
    "kitchen = The Slipway, fish section\n"
    "training = %s\n"
    "timezone = Europe/London\n"
    "data_folder = %s/config\n"
    "[goods in]\n"
    "note_above_c = 3.0\n"
    "refuse_above_c = 5.0\n"
    "live_refuse_above_c = 7.0\n"
    "[house life]\n"
    "batch_days = 4\n"
    "live_batch_days = 3\n"
    "raw_days = 2\n"
    "cooked_days = 3\n"
    "live_days = 1\n"
    "[printer]\n"
    "language = png\n"
    "address = preview:%s/labels\n"
    "[service lunch]\n"
    "starts = 12:00\n"
    "ends = 15:00\n"
    "[service dinner]\n"
    "starts = 18:00\n"
    "ends = 23:00\n";

static const char menu[] =
    "dish,name,state,species,cut,skin,bought,low,target,high,mix,allergens\n"
    "cod-leeks,\"Cod, leeks\",raw,COD,supreme,on,gutted,150,165,180,"
    "lunch:10 dinner:20,milk\n"
    "plaice-crumb,Crumbed plaice,raw,PLE,fillet,off,gutted,40,55,90,"
    "lunch:15,\"gluten, egg\"\n"
    "sole-bone,Lemon sole on the bone,raw,LEM,whole,on,gutted,320,380,450,"
    "dinner:9,milk\n"
    "mussel-pot,Mussel pot,live,MUS,shell,on,live,450,500,550,dinner:15,\n"
    "cod-cakes,Cod cakes,cooked,COD,meat,off,gutted,80,90,110,lunch:5,"
    "gluten\n";

static const char suppliers[] =
    "code,name,address,approval,contact\n"
    "pier,North Pier Fish,\"1 Netmakers Row, Fairhaven\",XX 1201,ext. 7\n"
    "reef,Reef Shellfish,\"Old Kiln, Holm Sound\",XX 3377,ext. 9\n";

static const char bookings[] =
    "date,service,covers\n"
    "2026-11-25,lunch,40\n"
    "2026-11-25,dinner,60\n"
    "2026-11-26,dinner,30\n";

static void
load(struct buf *b, const char *path)
{
	struct err err = { 0 };

	buf_init(b, FILE_READ_MAX);
	ck_assert_msg(file_read(b, path, &err) == RC_OK, "%s", err.text);
}

/* Somebody else wrote in the file: then it is not as it was recorded. */
static bool touched;

void
kitchen_touched(void)
{
	touched = true;
}

/* Whatever a test did with the station, the trail tells of it. */
static void
look_through(const struct kitchen *k)
{
	struct verify_wish wish = { 0 };
	struct trail_report r = { 0 };
	struct err err = { 0 };

	if (!file_exists(k->db))
		return;
	ck_assert_msg(
	    store_verify(&r, k->db, &wish, &err) == RC_OK, "%s", err.text);
	ck_assert_msg(r.found == 0, "%s", r.faults[0].text);
	trail_report_fini(&r);
}

void
kitchen_tables(struct species_table *species, struct yield_table *yields)
{
	struct buf b;

	if (species != NULL) {
		load(&b, "config/species.csv");
		ck_assert_int_eq(
		    species_parse(species, "species", b.data, b.len, NULL),
		    RC_OK);
		buf_fini(&b);
	}
	if (yields != NULL) {
		load(&b, "config/yields.csv");
		ck_assert_int_eq(
		    yield_parse(yields, "yields", b.data, b.len, NULL), RC_OK);
		buf_fini(&b);
	}
}

const char *
kitchen_write(
    char path[320], const struct kitchen *k, const char *name, const char *s)
{
	struct err err = { 0 };

	ck_assert(str_fmt(path, 320, "%s/%s", k->folder, name));
	ck_assert_msg(
	    file_write(path, s, strlen(s), &err) == RC_OK, "%s", err.text);
	return path;
}

void
kitchen_make(struct kitchen *k, bool training)
{
	const char *tmp = getenv("TMPDIR");
	char here[1024], text[8192];

	touched = false;
	memset(k, 0, sizeof(*k));
	ck_assert(str_fmt(k->folder, sizeof(k->folder), "%s/kitchen-XXXXXX",
	    tmp == NULL ? "/tmp" : tmp));
	ck_assert_ptr_nonnull(mkdtemp(k->folder));
	ck_assert_ptr_nonnull(getcwd(here, sizeof(here)));
	ck_assert(str_fmt(text, sizeof(text), settings, training ? "yes" : "no",
	    here, k->folder));
	kitchen_write(k->ini, k, "station.ini", text);
	ck_assert(str_fmt(k->db, sizeof(k->db), "%s/station.db", k->folder));
}

enum rc
kitchen_station(struct kitchen *k, const char *now, struct err *err)
{
	struct station_options o = {
		.db = k->db, .config = k->ini, .now = now
	};
	char path[CONFIG_PATH_SIZE];
	enum rc rc;

	station_close(k->sn);
	k->sn = NULL;
	if (!file_exists(k->db) && (rc = station_init(path, &o, err)) != RC_OK)
		return rc;
	rc = station_open(&k->sn, &o, true, err);
	if (rc == RC_OK)
		store_check_plans(k->sn->st, true);
	return rc;
}

void
kitchen_open(struct kitchen *k)
{
	struct import_result r;
	struct err err = { 0 };
	char path[320];

	kitchen_make(k, true);
	ck_assert_msg(
	    kitchen_station(k, KITCHEN_NOW, &err) == RC_OK, "%s", err.text);
	kitchen_write(path, k, "menu.csv", menu);
	ck_assert_msg(
	    import_menu(&r, k->sn, path, "AB", &err) == RC_OK, "%s", err.text);
	kitchen_write(path, k, "suppliers.csv", suppliers);
	ck_assert_msg(import_suppliers(&r, k->sn, path, "AB", &err) == RC_OK,
	    "%s", err.text);
	kitchen_write(path, k, "bookings.csv", bookings);
	ck_assert_msg(import_bookings(&r, k->sn, path, "AB", &err) == RC_OK,
	    "%s", err.text);
}

static void
remove_folder(const char *folder)
{
	char name[1024];
	struct dirent *e;
	struct stat s;
	DIR *d = opendir(folder);

	if (d == NULL)
		return;
	while ((e = readdir(d)) != NULL) {
		if (str_eq(e->d_name, ".") || str_eq(e->d_name, ".."))
			continue;
		ck_assert(
		    str_fmt(name, sizeof(name), "%s/%s", folder, e->d_name));
		if (lstat(name, &s) == 0 && S_ISDIR(s.st_mode))
			remove_folder(name);
		else
			unlink(name);
	}
	closedir(d);
	rmdir(folder);
}

void
kitchen_close(struct kitchen *k)
{
	station_close(k->sn);
	k->sn = NULL;
	if (!touched)
		look_through(k);
	remove_folder(k->folder);
}

void
kitchen_at(struct kitchen *k, const char *now)
{
	ck_assert(k->sn->clock.fixed);
	ck_assert_int_eq(
	    time_parse(&k->sn->clock.fixed_utc, "now", now, NULL), RC_OK);
}

struct receive_in
kitchen_cod(void)
{
	struct receive_in in = {
		.supplier = "pier",
		.document = "DN 4471",
		.species = "COD",
		.presentation = "gutted",
		.count = "10",
		.weight = "20 kg",
		.lot = "L-77",
		.temp = "1.5",
		.area = "27.4.a",
		.method = "caught",
		.gear = "longlines",
		.decision = DECISION_ACCEPTED,
		.by = "AB",
	};

	return in;
}

struct batch
kitchen_receive(struct kitchen *k, const struct receive_in *in)
{
	struct batch b;
	struct err err = { 0 };

	ck_assert_msg(
	    receive(&b, NULL, k->sn, in, &err) == RC_OK, "%s", err.text);
	return b;
}

struct breakdown
kitchen_break(
    struct kitchen *k, const char *batch, const struct kitchen_cut *cut)
{
	struct breakdown_in in = {
		.batch = batch,
		.fish = cut->fish,
		.weight_g = cut->in_g,
		.makes = { { cut->dish, cut->portions, cut->portions_g,
		    cut->per_label } },
		.make_count = 1,
		.yield_ok = true, /* any weights a test likes */
		.by = "CD",
	};
	struct breakdown out;
	struct err err = { 0 };
	grams rest = cut->in_g - cut->portions_g;

	/* A tenth of the rest stays unexplained: drip. */
	in.loss_g[LOSS_TRIM] = rest / 5;
	in.loss_g[LOSS_FRAMES] = rest / 2;
	in.loss_g[LOSS_WASTE] = rest / 5;
	ck_assert_msg(
	    breakdown_record(&out, k->sn, &in, &err) == RC_OK, "%s", err.text);
	return out;
}

struct breakdown
kitchen_trays(struct batch *b, struct kitchen *k)
{
	struct kitchen_cut cut = { "cod-leeks", 12, 4, 1980, 10000, 5 };
	struct receive_in in = kitchen_cod();

	*b = kitchen_receive(k, &in);
	return kitchen_break(k, b->code, &cut);
}

enum rc
kitchen_label(struct print_job *out, struct kitchen *k, const char *code,
    enum label_want want)
{
	struct label_order order = { &code, 1, want, .by = "CD" };
	struct job_list jobs;
	enum rc rc = label_print(&jobs, k->sn, &order, NULL);

	if (out != NULL)
		memset(out, 0, sizeof(*out));
	if (out != NULL && jobs.count > 0)
		*out = jobs.items[0];
	job_list_fini(&jobs);
	return rc;
}

int64_t
kitchen_count(const struct kitchen *k, const char *sql)
{
	sqlite3 *db = NULL;
	sqlite3_stmt *s = NULL;
	int64_t n;

	ck_assert_int_eq(
	    sqlite3_open_v2(k->db, &db, SQLITE_OPEN_READWRITE, NULL),
	    SQLITE_OK);
	ck_assert_msg(sqlite3_prepare_v2(db, sql, -1, &s, NULL) == SQLITE_OK,
	    "%s", sqlite3_errmsg(db));
	ck_assert_int_eq(sqlite3_step(s), SQLITE_ROW);
	n = sqlite3_column_int64(s, 0);
	sqlite3_finalize(s);
	sqlite3_close(db);
	return n;
}

int
kitchen_sql(const char *path, const char *sql)
{
	sqlite3 *db = NULL;
	int rc;

	touched = true;
	ck_assert_int_eq(sqlite3_open_v2(path, &db,
			     SQLITE_OPEN_READWRITE | SQLITE_OPEN_CREATE, NULL),
	    SQLITE_OK);
	rc = sqlite3_exec(db, sql, NULL, NULL, NULL);
	sqlite3_close(db);
	return rc;
}

int64_t
kitchen_records(const struct kitchen *k)
{
	return kitchen_count(k,
	    "SELECT (SELECT count(*) FROM delivery)"
	    " + (SELECT count(*) FROM batch) + (SELECT count(*) FROM prep)"
	    " + (SELECT count(*) FROM prep_input)"
	    " + (SELECT count(*) FROM prep_output)"
	    " + (SELECT count(*) FROM prep_loss)"
	    " + (SELECT count(*) FROM portion)"
	    " + (SELECT count(*) FROM portion_event)"
	    " + (SELECT count(*) FROM batch_event)"
	    " + (SELECT count(*) FROM hold) + (SELECT count(*) FROM print_job)"
	    " + (SELECT count(*) FROM audit)");
}

void
kitchen_balance(struct kitchen *k, const struct batch *b)
{
	struct gram_balance g;
	struct mass m;

	ck_assert_int_eq(balance_batch(&m, k->sn, b->code, NULL), RC_OK);
	ck_assert(mass_adds_up(&m));
	g = balance_of(&m);
	ck_assert_int_eq(g.received, b->weight_g);
	ck_assert_int_eq(g.received,
	    g.portions + g.trim + g.frames + g.waste + g.discarded + g.whole +
		g.returned + g.struck + g.unexplained);
}
