/* day_steps.c - the steps of the day. */
#include <stdio.h>
#include <string.h>

#include "base/buf.h"
#include "base/file.h"
#include "base/str.h"
#include "day_in.h"
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

	return day_labels(d, &o, err);
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
	struct receive_in in = day_hake();
	char code[CODE_SIZE], lot[16];
	enum rc rc;

	str_fmt(lot, sizeof(lot), "Z%d", d->c.lots + 1);
	in.lot = lot;
	if ((rc = day_take_in(d, code, &in, err)) == RC_OK)
		d->c.lots++;
	return rc;
}

enum rc
day_more(struct day *d, struct err *err)
{
	struct receive_in in = day_hake();
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
	{ "init", step_make_file, false, true },
	{ "open", step_open_it, false, true },
	{ "people", step_person, false, false },
	{ "import suppliers", step_suppliers, false, false },
	{ "import menu", step_menu, false, false },
	{ "import bookings", step_bookings, false, false },
	{ "goods in, weighed one by one", step_goods_hake, false, false },
	{ "goods in", step_goods_plaice, false, false },
	{ "goods in, live", step_goods_mussels, false, false },
	{ "goods in, refused", step_goods_refused, false, false },
	{ "expect", step_typed, false, false },
	{ "half a form", step_half_typed, false, false },
	{ "plan", step_planned, false, false },
	{ "breakdown that ends the form", step_break_hake, false, false },
	{ "label, only queued", step_label_queued, true, false },
	{ "queue worked", step_label_worked, true, false },
	{ "breakdown", step_break_plaice, false, false },
	{ "labels printed", step_label_printed, true, false },
	{ "close and open", step_reopen, false, false },
	{ "reprint", step_label_once_more, true, false },
	{ "list printed", step_list_printed, true, false },
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
	{ "close and open", step_reopen, false, false },
	{ "goods in again", more, false, false },
};
const int day_step_count = (int)(sizeof(day_steps) / sizeof(day_steps[0]));
