/* day_steps.c - the steps of the day. */
#include <stdio.h>
#include <string.h>

#include "base/buf.h"
#include "base/file.h"
#include "base/str.h"
#include "day.h"
#include "folder.h"
#include "ops/backup.h"
#include "ops/breakdown.h"
#include "ops/bring_in.h"
#include "ops/close.h"
#include "ops/draft.h"
#include "ops/expect.h"
#include "ops/export.h"
#include "ops/fate.h"
#include "ops/freeze.h"
#include "ops/label.h"
#include "ops/people.h"
#include "ops/plan.h"
#include "ops/queue.h"
#include "ops/receive.h"
#include "ops/ticket.h"
#include "ops/undo.h"
#include "ops/work_mark.h"

#define LUNCH "2026-12-04/lunch"

/* --- what was said ---------------------------------------------------------*/

static void
audits(struct day *d, int64_t more)
{
	char want[24];

	d->c.audits += more;
	str_fmt(want, sizeof(want), "%lld", (long long)d->c.audits);
	day_fact(d, want,
	    "SELECT count(*) FROM audit WHERE action NOT IN ('start')");
}

static void
events(struct day *d, int64_t more)
{
	char want[24];

	d->c.events += more;
	str_fmt(want, sizeof(want), "%lld", (long long)d->c.events);
	day_fact(d, want,
	    "SELECT count(*) FROM portion_event WHERE kind <> 'struck'");
}

static void
batch_said(struct day *d, const struct batch *b, const char *lot)
{
	char want[200];

	str_fmt(want, sizeof(want), "%s %lld %lld %s %lld %s %s", b->species,
	    (long long)b->count, (long long)b->weight_g, lot,
	    (long long)b->use_by_utc, decision_word(b->decision),
	    b->received.by);
	day_fact(d, want,
	    "SELECT species || ' ' || count || ' ' || weight_g || ' ' || lot"
	    " || ' ' || use_by_utc || ' ' || decision || ' ' || by"
	    " FROM batch WHERE code = '%s'",
	    b->code);
	d->c.batches++;
	str_fmt(want, sizeof(want), "%lld", (long long)d->c.batches);
	day_fact(d, want, "SELECT count(*) FROM batch");
	audits(d, 1);
}

static void
left_said(struct day *d, const char *code, int64_t left)
{
	char want[24];

	str_fmt(want, sizeof(want), "%lld", (long long)left);
	day_fact(d, want, "SELECT left FROM portion WHERE code = '%s'", code);
}

static void
unit_said(struct day *d, const struct portion *p)
{
	char want[120];

	str_fmt(want, sizeof(want), "%lld %lld %s", (long long)p->servings,
	    (long long)p->weight_g, p->batch);
	day_fact(d, want,
	    "SELECT p.servings || ' ' || p.weight_g || ' ' || b.code"
	    " FROM portion p JOIN batch b ON b.id = p.batch_id"
	    " WHERE p.code = '%s'",
	    p->code);
	str_fmt(want, sizeof(want), "%lld", (long long)p->use_by_utc);
	day_fact(d, want, "SELECT use_by_utc FROM portion WHERE code = '%s'",
	    p->code);
	left_said(d, p->code, p->left);
}

static void
jobs_said(struct day *d, const struct job_list *jobs)
{
	size_t i;

	for (i = 0; i < jobs->count; i++)
		day_fact(d, job_state_word(jobs->items[i].state),
		    "SELECT state FROM print_job WHERE id = %lld",
		    (long long)jobs->items[i].id);
}

static void
held_said(struct day *d, int64_t open)
{
	char want[24];

	str_fmt(want, sizeof(want), "%lld", (long long)open);
	day_fact(
	    d, want, "SELECT count(*) FROM hold WHERE released_utc IS NULL");
	audits(d, 1);
}

/* --- morning ---------------------------------------------------------------*/

static enum rc
make_file(struct day *d, struct err *err)
{
	struct station_options o = {
		.db = d->db, .config = d->ini, .now = "2026-12-04T06:30"
	};
	char path[CONFIG_PATH_SIZE];
	enum rc rc = station_init(path, &o, err);

	if (rc == RC_OK) {
		day_fact(d, "yes",
		    "SELECT value FROM station WHERE key = 'training'");
		audits(d, 1);
	}
	return rc;
}

static enum rc
open_it(struct day *d, struct err *err)
{
	return day_open(d, err);
}

static enum rc
reopen(struct day *d, struct err *err)
{
	day_shut(d);
	return day_open(d, err);
}

static enum rc
person(struct day *d, struct err *err)
{
	struct person_in in = { .initials = "AK",
		.name = "Ada Kestrel",
		.chef = "yes",
		.by = "AK" };
	enum rc rc = people_add(NULL, d->sn, &in, err);

	if (rc == RC_OK) {
		day_fact(d, "Ada Kestrel",
		    "SELECT name FROM person WHERE initials = 'AK'");
		audits(d, 1);
	}
	return rc;
}

static enum rc
suppliers(struct day *d, struct err *err)
{
	struct import_result r;
	enum rc rc =
	    import_suppliers(&r, d->sn, "demo/suppliers.csv", "AK", err);

	if (rc == RC_OK) {
		day_fact(d, "2", "SELECT count(*) FROM supplier");
		audits(d, 1);
	}
	return rc;
}

static enum rc
menu(struct day *d, struct err *err)
{
	struct import_result r;
	enum rc rc = import_menu(&r, d->sn, "demo/menu.csv", "AK", err);

	if (rc == RC_OK) {
		day_fact(d, "8", "SELECT count(*) FROM dish");
		audits(d, 1);
	}
	return rc;
}

static enum rc
bookings(struct day *d, struct err *err)
{
	struct import_result r;
	enum rc rc = import_bookings(&r, d->sn, "demo/bookings.csv", "AK", err);

	if (rc == RC_OK) {
		day_fact(d, "118", "SELECT sum(covers) FROM service");
		audits(d, 1);
	}
	return rc;
}

static struct receive_in
hake(void)
{
	struct receive_in in = { .supplier = "quay",
		.document = "WQ-5521",
		.species = "HKE",
		.presentation = "gutted",
		.fish_weights = "2640,2310,2480,1990,2120,2260",
		.lot = "H4471",
		.price = "13.80",
		.temp = "1.2",
		.area = "27.7.j",
		.method = "caught",
		.gear = "Hooks and lines",
		.caught = "2026-12-02",
		.decision = DECISION_ACCEPTED,
		.by = "AK" };

	return in;
}

static enum rc
take_in(struct day *d, char code[CODE_SIZE], const struct receive_in *in,
    struct err *err)
{
	struct batch b;
	enum rc rc = receive(&b, NULL, d->sn, in, err);

	if (rc == RC_OK) {
		str_copy(code, CODE_SIZE, b.code);
		batch_said(d, &b, in->lot);
	}
	return rc;
}

static enum rc
goods_hake(struct day *d, struct err *err)
{
	struct receive_in in = hake();
	enum rc rc = take_in(d, d->c.hake, &in, err);

	if (rc == RC_OK)
		day_fact(d, "13800",
		    "SELECT sum(weight_g) FROM batch_fish WHERE batch_id = 1");
	return rc;
}

static enum rc
goods_plaice(struct day *d, struct err *err)
{
	struct receive_in in = hake();

	in.species = "PLE";
	in.fish_weights = NULL;
	in.count = "30";
	in.weight = "13.2kg";
	in.lot = "P1180";
	in.gear = "Trawls";
	in.area = "27.7.e";
	return take_in(d, d->c.plaice, &in, err);
}

static enum rc
goods_mussels(struct day *d, struct err *err)
{
	struct receive_in in = hake();

	in.supplier = "isle";
	in.document = "TI-208";
	in.species = "MUS";
	in.presentation = "live";
	in.fish_weights = NULL;
	in.weight = "9kg";
	in.lot = "M77";
	in.temp = "4.5";
	in.area = "Far Holm, rope grown";
	in.method = "farmed";
	in.gear = NULL;
	in.caught = "2026-12-03";
	return take_in(d, d->c.mussels, &in, err);
}

static enum rc
goods_refused(struct day *d, struct err *err)
{
	char code[CODE_SIZE];
	struct receive_in in = hake();

	in.species = "MAC";
	in.presentation = "whole";
	in.fish_weights = NULL;
	in.count = "14";
	in.weight = "5.6kg";
	in.lot = "K3302";
	in.temp = "8.4";
	in.decision = DECISION_REFUSED;
	in.note = "8.4 C, no ice left in the box";
	return take_in(d, code, &in, err);
}

static enum rc
typed(struct day *d, struct err *err)
{
	struct expect_in in = { .service = LUNCH, .covers = -1, .by = "AK" };
	struct buf b;
	enum rc rc;

	in.words[0].kind = EXPECT_FLOOR;
	in.words[0].text = "coley-curry:12";
	in.count = 1;
	buf_init(&b, 1 << 20);
	rc = expect(&b, d->sn, &in, FORMAT_TEXT, err);
	buf_fini(&b);
	if (rc == RC_OK)
		audits(d, 1);
	return rc;
}

static enum rc
half_typed(struct day *d, struct err *err)
{
	struct draft_in in = { DRAFT_BREAKDOWN, "Hake", "half a form", "AK" };
	enum rc rc = draft_keep(d->sn, &in, err);

	if (rc == RC_OK)
		day_fact(d, "half a form", "SELECT body FROM draft");
	return rc;
}

/* The list is made, and kept in a file. */
static enum rc
planned(struct day *d, struct err *err)
{
	struct plan_wish w = { .service = LUNCH, .prep = true, .order = true };
	struct buf b;
	char path[400];
	enum rc rc;

	buf_init(&b, 1 << 20);
	if ((rc = plan(&b, d->sn, &w, err)) == RC_OK) {
		str_fmt(path, sizeof(path), "%s/prep-list.txt", d->out);
		rc = file_write(path, b.data, b.len, err);
	}
	buf_fini(&b);
	return rc;
}

static enum rc
breakdown(struct day *d, char (*codes)[CODE_SIZE], int *count,
    const struct breakdown_in *in, struct err *err)
{
	struct breakdown out;
	size_t i;
	enum rc rc = breakdown_record(&out, d->sn, in, err);

	if (rc != RC_OK)
		return rc;
	*count = 0;
	for (i = 0; i < out.portion_count && i < DAY_UNITS; i++) {
		str_copy(codes[(*count)++], CODE_SIZE, out.portions[i].code);
		str_copy(out.portions[i].batch, CODE_SIZE, out.batch.code);
		unit_said(d, &out.portions[i]);
	}
	breakdown_fini(&out);
	audits(d, 1);
	return RC_OK;
}

static enum rc
break_hake(struct day *d, struct err *err)
{
	struct breakdown_in in = { .batch = d->c.hake,
		.which = "1,5",
		.weight_g = 4760,
		.makes = { { "hake-beans", 14, 2230, 3 } },
		.make_count = 1,
		.loss_g = { [LOSS_TRIM] = 60,
		    [LOSS_FRAMES] = 2040,
		    [LOSS_WASTE] = 400 },
		.minutes = 55,
		.yield_ok = true,
		.minutes_ok = true,
		.draft = DRAFT_BREAKDOWN,
		.by = "AK" };
	enum rc rc = breakdown(d, d->c.hakes, &d->c.hake_count, &in, err);

	if (rc == RC_OK) {
		audits(d, 1); /* of its minutes, which were not learned */
		day_fact(d, "0", "SELECT count(*) FROM draft");
		/* It is gone with the breakdown. */
		day_fact(d, "", "SELECT body FROM draft");
	}
	return rc;
}

static enum rc
break_plaice(struct day *d, struct err *err)
{
	struct breakdown_in in = { .batch = d->c.plaice,
		.fish = 4,
		.weight_g = 2240,
		.makes = { { "plaice-crumb", 16, 800, 4 } },
		.make_count = 1,
		.loss_g = { [LOSS_FRAMES] = 1140, [LOSS_WASTE] = 290 },
		.yield_ok = true,
		.by = "AK" };

	return breakdown(d, d->c.plaices, &d->c.plaice_count, &in, err);
}

/* --- labels ----------------------------------------------------------------*/

static enum rc
labels(struct day *d, const struct label_order *o, struct err *err)
{
	struct job_list jobs = { 0 };
	enum rc rc = label_print(&jobs, d->sn, o, err);

	if (rc == RC_OK) {
		jobs_said(d, &jobs);
		audits(d, (int64_t)jobs.count);
	}
	job_list_fini(&jobs);
	return rc;
}

static enum rc
label_queued(struct day *d, struct err *err)
{
	const char *codes[] = { d->c.hakes[0], d->c.hakes[1] };
	struct label_order o = { codes, 2, LABEL_FIRST, .by = "AK",
		.only_queue = true };

	return labels(d, &o, err);
}

static enum rc
label_worked(struct day *d, struct err *err)
{
	volatile sig_atomic_t stop = 0;
	enum rc rc = queue_run(d->sn, true, &stop, NULL, err);

	int64_t id;

	for (id = 1; rc == RC_OK && id <= 2; id++)
		day_fact(d, "sent",
		    "SELECT state FROM print_job WHERE id = %lld",
		    (long long)id);
	return rc;
}

static enum rc
label_printed(struct day *d, struct err *err)
{
	const char *codes[] = { d->c.plaices[0], d->c.hake };
	struct label_order o = { codes, 2, LABEL_FIRST, .by = "AK",
		.wait_ms = 0 };

	return labels(d, &o, err);
}

static enum rc
label_once_more(struct day *d, struct err *err)
{
	const char *codes[] = { d->c.hakes[0] };
	struct label_order o = { codes, 1, LABEL_AGAIN, .by = "AK",
		.wait_ms = 0 };

	return labels(d, &o, err);
}

static enum rc
list_printed(struct day *d, struct err *err)
{
	struct ticket_wish w = { .kind = TICKET_DAY };
	struct label_order o = { .by = "AK" };
	struct job_list jobs = { 0 };
	struct ticket *t;
	enum rc rc;

	if ((rc = ticket_make(&t, d->sn, &w, err)) != RC_OK)
		return rc;
	rc = ticket_print(&jobs, d->sn, TICKET_DAY, t, &o, err);
	ticket_free(t);
	if (rc == RC_OK) {
		jobs_said(d, &jobs);
		day_fact(d, "1", "SELECT count(*) FROM ticket");
		audits(d, 1);
	}
	job_list_fini(&jobs);
	return rc;
}

/* --- service ---------------------------------------------------------------*/

static enum rc
use_of(struct day *d, const char *code, int64_t n, struct err *err)
{
	struct use_in in = {
		.code = code, .servings = n, .reason = "as asked", .by = "LM"
	};
	struct portion p;
	enum rc rc = use(&p, d->sn, &in, err);

	if (rc == RC_OK) {
		unit_said(d, &p);
		events(d, 1);
		audits(d, 1);
	}
	return rc;
}

static enum rc
use_all(struct day *d, struct err *err)
{
	return use_of(d, d->c.hakes[0], 0, err);
}

static enum rc
use_some(struct day *d, struct err *err)
{
	return use_of(d, d->c.hakes[1], 2, err);
}

static enum rc
undo_use(struct day *d, struct err *err)
{
	struct undo_offer o;
	struct undo_in in = { .by = "LM" };
	enum rc rc;

	if ((rc = undo_last(&o, d->sn, NULL, err)) != RC_OK)
		return rc;
	in.step = o.step;
	if ((rc = undo_do(&o, d->sn, &in, err)) != RC_OK)
		return rc;
	left_said(d, d->c.hakes[1], 3);
	events(d, 1);
	audits(d, 1);
	return RC_OK;
}

static enum rc
discard_one(struct day *d, struct err *err)
{
	struct discard_in in = {
		.code = d->c.plaices[1], .reason = "dropped", .by = "LM"
	};
	struct discarded out;
	enum rc rc = discard(&out, d->sn, &in, err);

	if (rc == RC_OK) {
		left_said(d, d->c.plaices[1], 0);
		events(d, 1);
		audits(d, 1);
	}
	return rc;
}

static enum rc
counted(struct day *d, struct err *err)
{
	struct count_in in = { .code = d->c.hakes[2],
		.servings = 1,
		.reason = "two went to the staff",
		.by = "AK" };
	struct counted out;
	enum rc rc = count_unit(&out, d->sn, &in, err);

	if (rc == RC_OK) {
		left_said(d, d->c.hakes[2], 1);
		events(d, 1);
		audits(d, 1);
	}
	return rc;
}

static enum rc
keep(struct day *d, bool into, struct err *err)
{
	const char *codes[] = { d->c.plaices[2], d->c.plaices[3] };
	struct freeze_in in = { codes, into ? 2 : 1, into ? "-21" : NULL,
		into ? NULL : "staff supper", "AK" };
	struct kept out[2];
	size_t i;
	enum rc rc =
	    into ? freeze(out, d->sn, &in, err) : thaw(out, d->sn, &in, err);

	for (i = 0; rc == RC_OK && i < in.count; i++)
		unit_said(d, &out[i].portion);
	if (rc == RC_OK)
		audits(d, (int64_t)in.count);
	return rc;
}

static enum rc
frozen(struct day *d, struct err *err)
{
	return keep(d, true, err);
}

static enum rc
thawed(struct day *d, struct err *err)
{
	return keep(d, false, err);
}

static enum rc
hold_batch(struct day *d, struct err *err)
{
	enum rc rc =
	    hold(NULL, d->sn, d->c.hake, "guest at table 9", "AK", err);

	if (rc == RC_OK)
		held_said(d, 1);
	return rc;
}

static enum rc
hold_unit(struct day *d, struct err *err)
{
	enum rc rc = hold(NULL, d->sn, d->c.hakes[4], "label torn", "AK", err);

	if (rc == RC_OK)
		held_said(d, 2);
	return rc;
}

static enum rc
hold_label(struct day *d, struct err *err)
{
	const char *codes[] = { d->c.hake, d->c.hakes[3] };
	struct label_order o = { codes, 2, LABEL_ON_HOLD, .by = "AK",
		.wait_ms = 0 };

	return labels(d, &o, err);
}

static enum rc
released(struct day *d, struct err *err)
{
	enum rc rc = release(NULL, d->sn, d->c.hake, "fine", "AK", err);

	if (rc == RC_OK)
		held_said(d, 1);
	return rc;
}

static enum rc
closed(struct day *d, struct err *err)
{
	const char *sold[] = { "hake-beans:3", "plaice-crumb:10",
		"coley-curry:9", "mackerel-beet:0:0", "mussel-pot:6:40" };
	struct close_in in = { .service = LUNCH,
		.seated = 43,
		.walk_ins = 5,
		.sold = sold,
		.sold_count = 5,
		.by = "AK" };
	struct buf b;
	enum rc rc;

	buf_init(&b, 1 << 20);
	rc = close_service(&b, d->sn, &in, FORMAT_TEXT, err);
	buf_fini(&b);
	if (rc == RC_OK) {
		day_fact(
		    d, "43 5", "SELECT seated || ' ' || walk_ins FROM closed");
		audits(d, 1);
	}
	return rc;
}

/* --- records ---------------------------------------------------------------*/

static enum rc
exported(struct day *d, struct err *err)
{
	struct export_wish w = {
		.kind = "stock", .folder = d->out, .replace = true
	};
	struct export_done out;

	return export_run(&out, d->sn, &w, err);
}

static enum rc
backed_up(struct day *d, struct err *err)
{
	struct backup_wish w = { .folder = d->stick, .keep = 2, .by = "AK" };
	struct backup_done out;
	enum rc rc = backup_run(&out, d->sn, &w, err);

	if (rc == RC_OK) {
		day_fact(d, out.made.name,
		    "SELECT value FROM station WHERE key = 'backup_name'");
		audits(d, 1);
	}
	return rc;
}

static enum rc
more(struct day *d, struct err *err)
{
	struct receive_in in = hake();
	char code[CODE_SIZE], lot[16];
	enum rc rc;

	str_fmt(lot, sizeof(lot), "Z%d", d->c.lots + 1);
	in.lot = lot;
	if ((rc = take_in(d, code, &in, err)) == RC_OK)
		d->c.lots++;
	return rc;
}

enum rc
day_more(struct day *d, struct err *err)
{
	struct receive_in in = hake();
	struct breakdown_in bin = { .fish = 1,
		.weight_g = 2640,
		.which = "1",
		.makes = { { "hake-beans", 6, 1000, 2 } },
		.make_count = 1,
		.loss_g = { [LOSS_FRAMES] = 1200, [LOSS_WASTE] = 300 },
		.yield_ok = true,
		.by = "AK" };
	struct breakdown made;
	struct batch b;
	enum rc rc;

	in.lot = "after";
	if ((rc = receive(&b, NULL, d->sn, &in, err)) != RC_OK)
		return rc;
	bin.batch = b.code;
	if ((rc = breakdown_record(&made, d->sn, &bin, err)) == RC_OK)
		breakdown_fini(&made);
	return rc;
}

const struct step day_steps[] = {
	{ "init", make_file, false, true },
	{ "open", open_it, false, true },
	{ "people", person, false, false },
	{ "import suppliers", suppliers, false, false },
	{ "import menu", menu, false, false },
	{ "import bookings", bookings, false, false },
	{ "goods in, weighed one by one", goods_hake, false, false },
	{ "goods in", goods_plaice, false, false },
	{ "goods in, live", goods_mussels, false, false },
	{ "goods in, refused", goods_refused, false, false },
	{ "expect", typed, false, false },
	{ "half a form", half_typed, false, false },
	{ "plan", planned, false, false },
	{ "breakdown that ends the form", break_hake, false, false },
	{ "label, only queued", label_queued, true, false },
	{ "queue worked", label_worked, true, false },
	{ "breakdown", break_plaice, false, false },
	{ "labels printed", label_printed, true, false },
	{ "close and open", reopen, false, false },
	{ "reprint", label_once_more, true, false },
	{ "list printed", list_printed, true, false },
	{ "use", use_all, false, false },
	{ "use of some", use_some, false, false },
	{ "undo", undo_use, false, false },
	{ "discard", discard_one, false, false },
	{ "count", counted, false, false },
	{ "freeze", frozen, false, false },
	{ "backup", backed_up, true, false },
	{ "hold of a batch", hold_batch, false, false },
	{ "hold of a unit", hold_unit, false, false },
	{ "hold labels", hold_label, true, false },
	{ "release", released, false, false },
	{ "goods in again", more, false, false },
	{ "goods in again", more, false, false },
	{ "export", exported, false, false },
	{ "thaw", thawed, false, false },
	{ "close of lunch", closed, false, false },
	{ "backup", backed_up, true, false },
	{ "goods in again", more, false, false },
	{ "backup that drops an old one", backed_up, true, false },
	{ "export over the old one", exported, false, false },
	{ "close and open", reopen, false, false },
	{ "goods in again", more, false, false },
};
const int day_step_count = (int)(sizeof(day_steps) / sizeof(day_steps[0]));
