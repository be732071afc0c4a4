/* drill.c - a recall in play, against the clock. */
#include "ops/drill.h"

#include <assert.h>
#include <inttypes.h>
#include <stdlib.h>
#include <string.h>

#include "base/clock.h"
#include "base/csv.h"
#include "base/jsonw.h"
#include "base/mem.h"
#include "base/str.h"
#include "ops/balance.h"
#include "ops/scan.h"
#include "ops/ticket.h"
#include "print/lists.h"
#include "report_load.h"
#include "store/mass.h"
#include "store/store.h"

/* --- drawing --------------------------------------------------------------*/

/* The next of a sequence of numbers that look random (splitmix64, a published
 * generator in the public domain). */
static uint64_t
next_random(uint64_t *state)
{
	uint64_t z = *state += UINT64_C(0x9e3779b97f4a7c15);

	z = (z ^ (z >> 30)) * UINT64_C(0xbf58476d1ce4e5b9);
	z = (z ^ (z >> 27)) * UINT64_C(0x94d049bb133111eb);
	return z ^ (z >> 31);
}

static enum rc
draw(char code[CODE_SIZE], struct station *sn, int64_t seed, struct err *err)
{
	uint64_t state = (uint64_t)seed;
	int64_t newest, back;
	int digits = 0;
	enum rc rc;

	if ((rc = drill_newest(&newest, sn->st, err)) != RC_OK)
		return rc;
	while (newest > 0 && (INT64_C(1) << (digits + 1)) <= newest)
		digits++;
	digits = (int)(next_random(&state) % (uint64_t)(digits + 1));
	back = (INT64_C(1) << digits) - 1 +
	    (int64_t)(next_random(&state) % (UINT64_C(1) << digits));
	return drill_batch(
	    code, sn->st, back < newest ? newest - back : 1, err);
}

static enum rc
choose(struct drill_report *r, struct station *sn, const struct drill_in *in,
    struct err *err)
{
	enum code_kind kind;
	char code[CODE_SIZE];
	struct portion p;
	enum rc rc;

	if (in->code == NULL) {
		r->has_seed = true;
		r->seed = in->seed != 0
		    ? in->seed
		    : (r->at_utc * 1000000 + clock_ticks_us() % 1000000) %
			DRILL_SEED_MAX;
		return draw(r->batch, sn, r->seed, err);
	}
	if ((rc = scan_code(&kind, code, sn, in->code, err)) != RC_OK)
		return rc;
	str_copy(r->batch, sizeof(r->batch), code);
	if (kind == CODE_BATCH)
		return RC_OK;
	if ((rc = portion_get(&p, sn->st, code, err)) == RC_OK)
		str_copy(r->batch, sizeof(r->batch), p.batch);
	return rc;
}

/* --- finding --------------------------------------------------------------*/

/* Back from one unit, by its code alone: is the batch among what the
 * breakdowns it rests on were made of?  A tray that was put together may rest
 * on several. */
static enum rc
leads_back(bool *out, struct station *sn, const char *code, const char *batch,
    struct err *err)
{
	struct prep_input_list in;
	struct prep_list preps;
	struct portion p;
	size_t i, j;
	enum rc rc;

	*out = false;
	if ((rc = portion_get(&p, sn->st, code, err)) != RC_OK ||
	    (rc = prep_list_unit(&preps, sn->st, p.id, err)) != RC_OK)
		return rc;
	for (i = 0; i < preps.count && rc == RC_OK; i++) {
		if (preps.items[i].struck)
			continue;
		rc = prep_inputs_open(&in, sn->st, preps.items[i].id, err);
		for (j = 0; j < in.count; j++)
			if (str_eq(in.items[j].batch, batch))
				*out = true;
		prep_inputs_fini(&in);
	}
	prep_list_fini(&preps);
	return rc;
}

/* Services its servings went to, each once. */
static int64_t
count_services(const struct trace_report *t)
{
	char(*seen)[48] = NULL;
	size_t count = 0, cap = 0, i, k, n;
	const struct portion_event *e;

	for (i = 0; i < t->portion_count; i++)
		cap += t->portions[i].events.count;
	seen = xcalloc(cap + 1, sizeof(*seen));
	for (i = 0; i < t->portion_count; i++)
		for (k = 0; k < t->portions[i].events.count; k++) {
			e = &t->portions[i].events.items[k];
			if (e->fate != FATE_USED || e->taken_back ||
			    e->service[0] == '\0')
				continue;
			for (n = 0; n < count && !str_eq(seen[n], e->service);
			     n++)
				;
			if (n == count)
				str_copy(
				    seen[count++], sizeof(*seen), e->service);
		}
	free(seen);
	return (int64_t)count;
}

static void
put_back(struct drill_report *r, const struct trace_report *t)
{
	const struct batch *b = &t->batch;
	const struct species *sp = species_find(t->species, b->species);

	str_fmt(r->kitchen, sizeof(r->kitchen), "%s", t->kitchen);
	str_fmt(r->species, sizeof(r->species), "%s",
	    sp == NULL ? b->species : sp->name);
	str_copy(r->supplier, sizeof(r->supplier), b->supplier.name);
	str_copy(r->contact, sizeof(r->contact), b->supplier.contact);
	str_copy(r->lot, sizeof(r->lot), b->lot);
	str_copy(r->document, sizeof(r->document), b->document);
	r->received_utc = b->received.utc;
	r->held = b->held;
	r->breakdowns = (int64_t)t->preps.count;
	r->services = count_services(t);
}

static enum rc
put_forward(struct drill_report *r, struct station *sn,
    const struct trace_report *t, struct err *err)
{
	const struct portion *p;
	struct portion_sums s;
	bool back;
	size_t i;
	enum rc rc;

	for (i = 0; i < t->portion_count; i++) {
		p = &t->portions[i].portion;
		if (p->struck)
			continue;
		portion_sums(&s, &t->portions[i]);
		r->units++;
		r->units_on_hand += p->left > 0;
		r->on_hand += p->left;
		r->used += s.used;
		r->discarded += s.discarded;
		r->missing += s.missing;
		rc = leads_back(&back, sn, p->code, r->batch, err);
		if (rc != RC_OK)
			return rc;
		r->back += back;
	}
	return RC_OK;
}

/* Names where grams are missing: the breakdowns, and the batch itself. */
static void
name_gap(struct drill_report *r, const struct balance_report *b)
{
	const struct balance_prep *p;
	grams rest = mass_open(&b->batches[0].mass);
	size_t i, n = 0;
	char part[64];

	for (i = 0; i < b->prep_count; i++) {
		p = &b->preps[i];
		rest -= mass_open(&p->mass);
		if (mass_open(&p->mass) == 0)
			continue;
		str_fmt(part, sizeof(part),
		    "%sbreakdown %" PRId64 ": %" PRId64 " g",
		    n == 0 ? "" : ", ", p->id, mass_open(&p->mass));
		if (n + strlen(part) + 40 < sizeof(r->gap))
			str_copy(r->gap + n, sizeof(r->gap) - n, part);
		else if (n > 0 && r->gap[n - 1] != '.')
			str_copy(r->gap + n, sizeof(r->gap) - n, "...");
		n = strlen(r->gap);
	}
	if (rest == 0)
		return;
	str_fmt(part, sizeof(part), "%sleft when used up: %" PRId64 " g",
	    n == 0 ? "" : ", ", rest);
	str_copy(r->gap + n, sizeof(r->gap) - n, part);
}

static enum rc
find(struct drill_report *r, struct station *sn, struct err *err)
{
	const struct balance_ask ask = { .what = r->batch };
	struct balance_report b = { 0 };
	struct trace_report t;
	enum rc rc;

	rc = trace_report_load(&t, sn, r->batch, true, err);
	if (rc == RC_OK)
		put_back(r, &t);
	if (rc == RC_OK && (rc = put_forward(r, sn, &t, err)) == RC_OK &&
	    (rc = balance_load(&b, sn, &ask, err)) == RC_OK) {
		r->mass = b.total;
		name_gap(r, &b);
		balance_fini(&b);
	}
	trace_report_fini(&t);
	return rc;
}

/* --- kept -----------------------------------------------------------------*/

static enum rc
record(struct drill_report *r, struct station *sn, const struct moment *at,
    struct err *err)
{
	struct drill d = { .has_seed = r->has_seed,
		.seed = r->seed,
		.took_us = r->took_us,
		.units = r->units,
		.back = r->back,
		.received_g = r->mass.in,
		.gap_g = mass_open(&r->mass),
		.at = *at };
	char shown[CODE_SIZE], took[32];
	struct buf json;
	enum rc rc;

	str_copy(d.batch, sizeof(d.batch), r->batch);
	buf_init(&json, 65536);
	drill_json(&json, r);
	if ((rc = buf_check(&json, "the report", err)) == RC_OK &&
	    (rc = store_begin(sn->st, err)) == RC_OK) {
		if ((rc = drill_insert(sn->st, &d, buf_text(&json), err)) ==
			RC_OK &&
		    (rc = station_audit(sn, at, err, "drill",
			 code_show(shown, r->batch),
			 "found in %s, %" PRId64 " units, %" PRId64
			 " g unexplained",
			 drill_time(took, sizeof(took), r->took_us), r->units,
			 d.gap_g)) == RC_OK)
			rc = store_commit(sn->st, err);
		store_rollback(sn->st);
	}
	buf_fini(&json);
	r->id = d.id;
	return rc;
}

enum rc
drill_run(struct drill_report *out, struct station *sn,
    const struct drill_in *in, struct err *err)
{
	struct moment at;
	int64_t began;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	if ((rc = station_moment(&at, sn, in->by, err)) != RC_OK)
		return rc;
	out->at_utc = at.utc;
	str_copy(out->by, sizeof(out->by), at.by);
	if ((rc = choose(out, sn, in, err)) != RC_OK)
		return rc;
	began = clock_ticks_us();
	if ((rc = find(out, sn, err)) != RC_OK)
		return rc;
	out->took_us = clock_ticks_us() - began;
	return record(out, sn, &at, err);
}

enum rc
drill_get(
    struct drill_report *out, struct station *sn, int64_t id, struct err *err)
{
	char *json;
	enum rc rc;

	if ((rc = drill_report_get(&json, sn->st, id, err)) != RC_OK)
		return rc;
	rc = drill_read(out, json, err);
	out->id = id;
	free(json);
	return rc;
}

struct ticket *
drill_ticket(const struct drill_report *r)
{
	struct ticket *t = ticket_new();

	list_drill(t, r);
	return t;
}

enum rc
drill_print(struct job_list *out, struct station *sn,
    const struct drill_report *r, const struct label_order *order,
    struct err *err)
{
	struct ticket *t = drill_ticket(r);
	enum rc rc = ticket_print(out, sn, TICKET_DRILL, t, order, err);

	ticket_free(t);
	return rc;
}

void
drill_show(struct buf *out, const struct drill_report *r, enum format format)
{
	struct ticket *t;

	if (format == FORMAT_JSON) {
		drill_json(out, r);
		return;
	}
	t = drill_ticket(r);
	ticket_show(out, t, format);
	ticket_free(t);
}

enum rc
drill_rows(struct drill_list *out, struct station *sn, struct err *err)
{
	return drill_list_open(out, sn->st, DRILLS_SHOWN_MAX, err);
}

static void
rows_json(struct buf *out, const struct drill_list *l)
{
	struct jsonw *w = jsonw_new_array();
	const struct drill *d;
	char code[CODE_SIZE];
	size_t i;

	for (i = 0; i < l->count; i++) {
		d = &l->items[i];
		jsonw_object(w, NULL);
		jsonw_int(w, "drill", d->id);
		jsonw_str(w, "batch", code_show(code, d->batch));
		if (d->has_seed)
			jsonw_int(w, "seed", d->seed);
		else
			jsonw_null(w, "seed");
		jsonw_int(w, "took_us", d->took_us);
		jsonw_int(w, "units", d->units);
		jsonw_int(w, "led_back", d->back);
		jsonw_int(w, "received_g", d->received_g);
		jsonw_int(w, "unexplained_g", d->gap_g);
		jsonw_time(w, "at", d->at.utc);
		jsonw_str(w, "by", d->at.by);
		jsonw_end(w);
	}
	jsonw_dump(out, w, true);
	jsonw_free(w);
}

static void
rows_text(struct buf *out, const struct drill_list *l, bool csv)
{
	const struct drill *d;
	char code[CODE_SIZE], when[48], took[32];
	size_t i;

	if (csv)
		buf_puts(out,
		    "drill,batch,took_us,units,led_back,received_g,"
		    "unexplained_g,at,by\r\n");
	else if (l->count == 0)
		buf_puts(out, "no drill yet: pinbone drill --by INITIALS\n");
	for (i = 0; i < l->count; i++) {
		d = &l->items[i];
		code_show(code, d->batch);
		if (!csv) {
			buf_printf(out,
			    "%4" PRId64 "  %s by %s  %s  found in %s, %" PRId64
			    " of %" PRId64 " units, %" PRId64
			    " g unexplained\n",
			    d->id, time_minute(when, sizeof(when), d->at.utc),
			    d->at.by, code,
			    drill_time(took, sizeof(took), d->took_us), d->back,
			    d->units, d->gap_g);
			continue;
		}
		buf_printf(out,
		    "%" PRId64 ",%s,%" PRId64 ",%" PRId64 ",%" PRId64
		    ",%" PRId64 ",%" PRId64 ",%s,",
		    d->id, code, d->took_us, d->units, d->back, d->received_g,
		    d->gap_g, time_rfc3339(when, sizeof(when), d->at.utc));
		csv_quote(out, d->at.by);
		buf_puts(out, "\r\n");
	}
}

enum rc
drill_list(
    struct buf *out, struct station *sn, enum format format, struct err *err)
{
	struct drill_list l;
	enum rc rc = drill_rows(&l, sn, err);

	if (rc != RC_OK)
		return rc;
	if (format == FORMAT_JSON)
		rows_json(out, &l);
	else
		rows_text(out, &l, format == FORMAT_CSV);
	free(l.items);
	return buf_check(out, "the list", err);
}
