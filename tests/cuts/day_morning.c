/* day_morning.c - the steps of the day until its labels are printed. */
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

enum rc
step_make_file(struct day *d, struct err *err)
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

enum rc
step_open_it(struct day *d, struct err *err)
{
	return day_open(d, err);
}

enum rc
step_reopen(struct day *d, struct err *err)
{
	day_shut(d);
	return day_open(d, err);
}

enum rc
step_person(struct day *d, struct err *err)
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

enum rc
step_suppliers(struct day *d, struct err *err)
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

enum rc
step_menu(struct day *d, struct err *err)
{
	struct import_result r;
	enum rc rc = import_menu(&r, d->sn, "demo/menu.csv", "AK", err);

	if (rc == RC_OK) {
		day_fact(d, "8", "SELECT count(*) FROM dish");
		audits(d, 1);
	}
	return rc;
}

enum rc
step_bookings(struct day *d, struct err *err)
{
	struct import_result r;
	enum rc rc = import_bookings(&r, d->sn, "demo/bookings.csv", "AK", err);

	if (rc == RC_OK) {
		day_fact(d, "118", "SELECT sum(covers) FROM service");
		audits(d, 1);
	}
	return rc;
}

struct receive_in
day_hake(void)
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

enum rc
day_take_in(struct day *d, char code[CODE_SIZE], const struct receive_in *in,
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

enum rc
step_goods_hake(struct day *d, struct err *err)
{
	struct receive_in in = day_hake();
	enum rc rc = day_take_in(d, d->c.hake, &in, err);

	if (rc == RC_OK)
		day_fact(d, "13800",
		    "SELECT sum(weight_g) FROM batch_fish WHERE batch_id = 1");
	return rc;
}

enum rc
step_goods_plaice(struct day *d, struct err *err)
{
	struct receive_in in = day_hake();

	in.species = "PLE";
	in.fish_weights = NULL;
	in.count = "30";
	in.weight = "13.2kg";
	in.lot = "P1180";
	in.gear = "Trawls";
	in.area = "27.7.e";
	return day_take_in(d, d->c.plaice, &in, err);
}

enum rc
step_goods_mussels(struct day *d, struct err *err)
{
	struct receive_in in = day_hake();

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
	return day_take_in(d, d->c.mussels, &in, err);
}

enum rc
step_goods_refused(struct day *d, struct err *err)
{
	char code[CODE_SIZE];
	struct receive_in in = day_hake();

	in.species = "MAC";
	in.presentation = "whole";
	in.fish_weights = NULL;
	in.count = "14";
	in.weight = "5.6kg";
	in.lot = "K3302";
	in.temp = "8.4";
	in.decision = DECISION_REFUSED;
	in.note = "8.4 C, no ice left in the box";
	return day_take_in(d, code, &in, err);
}

enum rc
step_typed(struct day *d, struct err *err)
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

enum rc
step_half_typed(struct day *d, struct err *err)
{
	struct draft_in in = { DRAFT_BREAKDOWN, "Hake", "half a form", "AK" };
	enum rc rc = draft_keep(d->sn, &in, err);

	if (rc == RC_OK)
		day_fact(d, "half a form", "SELECT body FROM draft");
	return rc;
}

/* The list is made, and kept in a file. */
enum rc
step_planned(struct day *d, struct err *err)
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

enum rc
step_break_hake(struct day *d, struct err *err)
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

enum rc
step_break_plaice(struct day *d, struct err *err)
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

enum rc
day_labels(struct day *d, const struct label_order *o, struct err *err)
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

enum rc
step_label_queued(struct day *d, struct err *err)
{
	const char *codes[] = { d->c.hakes[0], d->c.hakes[1] };
	struct label_order o = { codes, 2, LABEL_FIRST, .by = "AK",
		.only_queue = true };

	return day_labels(d, &o, err);
}

enum rc
step_label_worked(struct day *d, struct err *err)
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

enum rc
step_label_printed(struct day *d, struct err *err)
{
	const char *codes[] = { d->c.plaices[0], d->c.hake };
	struct label_order o = { codes, 2, LABEL_FIRST, .by = "AK",
		.wait_ms = 0 };

	return day_labels(d, &o, err);
}

enum rc
step_label_once_more(struct day *d, struct err *err)
{
	const char *codes[] = { d->c.hakes[0] };
	struct label_order o = { codes, 1, LABEL_AGAIN, .by = "AK",
		.wait_ms = 0 };

	return day_labels(d, &o, err);
}

enum rc
step_list_printed(struct day *d, struct err *err)
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
