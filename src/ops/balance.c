/* balance.c - every gram accounted for. */
#include "ops/balance.h"

#include <assert.h>
#include <inttypes.h>
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "base/str.h"
#include "ops/scan.h"
#include "store/store.h"
#include "unit.h"

/* --- one batch ------------------------------------------------------------*/

/* The part of a breakdown that is this batch's. */
static void
own_share(struct mass *out, const struct mass_prep *p, int64_t batch_id)
{
	struct mass *shares = xcalloc(p->input_count, sizeof(*shares));
	grams *in = xcalloc(p->input_count, sizeof(*in));
	size_t i;

	memset(out, 0, sizeof(*out));
	for (i = 0; i < p->input_count; i++)
		in[i] = p->inputs[i].in_g;
	mass_split(shares, &p->mass, in, p->input_count);
	for (i = 0; i < p->input_count; i++)
		if (p->inputs[i].batch_id == batch_id)
			*out = shares[i];
	free(in);
	free(shares);
}

static void
put_prep(
    struct balance_report *r, const struct mass_prep *p, const struct mass *m)
{
	struct balance_prep *b = &r->preps[r->prep_count++];

	memset(b, 0, sizeof(*b));
	b->id = p->id;
	b->at = p->at;
	b->mass = *m;
	b->inputs = p->input_count;
	b->of_g = p->mass.in;
	str_copy(b->reason, sizeof(b->reason), p->reason);
	if (p->input_count > 0)
		str_copy(b->batch, sizeof(b->batch), p->inputs[0].batch);
}

/* A batch into the report; with `preps` its breakdowns as well. */
static enum rc
put_batch(struct balance_report *r, struct station *sn, const char *code,
    bool preps, struct err *err)
{
	struct balance_batch *b = &r->batches[r->batch_count];
	struct mass_preps l;
	struct batch batch;
	struct mass share;
	grams worked;
	size_t i;
	enum rc rc;

	memset(b, 0, sizeof(*b));
	if ((rc = batch_get(&batch, sn->st, code, err)) != RC_OK ||
	    (rc = mass_of_batch(
		 &b->mass, &worked, b->reason, sn->st, &batch, err)) != RC_OK ||
	    (rc = mass_preps_batch(&l, sn->st, batch.id, err)) != RC_OK)
		return rc;
	str_copy(b->code, sizeof(b->code), batch.code);
	str_copy(b->species, sizeof(b->species), batch.species);
	str_copy(b->supplier, sizeof(b->supplier), batch.supplier.code);
	if (preps)
		r->preps = xcalloc(l.count, sizeof(*r->preps));
	for (i = 0; i < l.count; i++) {
		own_share(&share, &l.items[i], batch.id);
		if (preps)
			put_prep(r, &l.items[i], &share);
		worked -= share.in;
		share.in = 0;
		mass_add(&b->mass, &share);
	}
	mass_preps_fini(&l);
	/* What left it for a breakdown is in one of them. */
	b->mass.unexplained += worked;
	assert(mass_adds_up(&b->mass));
	mass_add(&r->total, &b->mass);
	r->batch_count++;
	return RC_OK;
}

enum rc
balance_batch(
    struct mass *out, struct station *sn, const char *code, struct err *err)
{
	struct balance_batch b;
	struct balance_report r = { .batches = &b };
	enum rc rc = put_batch(&r, sn, code, false, err);

	*out = r.total;
	return rc;
}

static enum rc
load_batch(struct balance_report *r, struct station *sn, const char *text,
    struct err *err)
{
	char code[CODE_SIZE], shown[CODE_SIZE];
	enum code_kind kind;
	struct portion p;
	enum rc rc;

	if ((rc = scan_code(&kind, code, sn, text, err)) != RC_OK)
		return rc;
	if (kind == CODE_PORTION) {
		if ((rc = portion_get(&p, sn->st, code, err)) != RC_OK)
			return rc;
		str_copy(code, sizeof(code), p.batch);
	}
	str_fmt(r->title, sizeof(r->title), "batch %s", code_show(shown, code));
	r->batches = xcalloc(1, sizeof(*r->batches));
	return put_batch(r, sn, code, true, err);
}

/* --- days and suppliers ---------------------------------------------------*/

static enum rc
load_day(
    struct balance_report *r, struct station *sn, day_no day, struct err *err)
{
	struct batch_list batches;
	struct mass_preps l;
	char text[48];
	size_t i;
	enum rc rc;

	r->of_day = true;
	str_copy(
	    r->title, sizeof(r->title), day_words(text, sizeof(text), day));
	if ((rc = batch_list_day(&batches, sn->st, day, err)) != RC_OK)
		return rc;
	r->batches = xcalloc(batches.count, sizeof(*r->batches));
	for (i = 0; i < batches.count && rc == RC_OK; i++)
		rc = put_batch(r, sn, batches.items[i].code, false, err);
	batch_list_fini(&batches);
	if (rc != RC_OK ||
	    (rc = mass_preps_between(&l, sn->st, utc_from_local(day, 0, 0, 0),
		 utc_from_local(day + 1, 0, 0, 0), err)) != RC_OK)
		return rc;
	r->preps = xcalloc(l.count, sizeof(*r->preps));
	for (i = 0; i < l.count; i++)
		put_prep(r, &l.items[i], &l.items[i].mass);
	mass_preps_fini(&l);
	return RC_OK;
}

static enum rc
read_days(day_no *from, day_no *to, const struct station *sn,
    const struct balance_ask *ask, int back, struct err *err)
{
	enum rc rc;

	*to = local_from_utc(clock_now(&sn->clock)).day;
	if (ask->to != NULL &&
	    (rc = day_parse(to, "--to", ask->to, err)) != RC_OK)
		return rc;
	*from = *to - back + 1;
	if (ask->from != NULL &&
	    (rc = day_parse(from, "--from", ask->from, err)) != RC_OK)
		return rc;
	if (*from > *to)
		return err_set(err, RC_INVALID, 0,
		    "--from %s is after --to: give the earlier day first",
		    ask->from == NULL ? "" : ask->from);
	return RC_OK;
}

static enum rc
load_supplier(struct balance_report *r, struct station *sn,
    const struct balance_ask *ask, struct err *err)
{
	struct mass_codes codes = { 0 };
	char from_text[16], to_text[16];
	struct supplier s;
	day_no from, to;
	size_t i;
	enum rc rc;

	if ((rc = supplier_find(&s, sn->st, ask->supplier, err)) != RC_OK ||
	    (rc = read_days(&from, &to, sn, ask, BALANCE_SUPPLIER_DAYS, err)) !=
		RC_OK ||
	    (rc = mass_batches(&codes, sn->st, s.id, from, to,
		 BALANCE_BATCHES_MAX + 1, err)) != RC_OK)
		return rc;
	str_fmt(r->title, sizeof(r->title), "%.80s, %s to %s", s.name,
	    day_print(from_text, sizeof(from_text), from),
	    day_print(to_text, sizeof(to_text), to));
	r->cut = codes.count > BALANCE_BATCHES_MAX;
	if (r->cut)
		codes.count = BALANCE_BATCHES_MAX;
	r->batches = xcalloc(codes.count, sizeof(*r->batches));
	for (i = 0; i < codes.count && rc == RC_OK; i++)
		rc = put_batch(r, sn, codes.items[i], false, err);
	free(codes.items);
	return rc;
}

enum rc
balance_load(struct balance_report *out, struct station *sn,
    const struct balance_ask *ask, struct err *err)
{
	day_no day;
	enum rc rc;

	*out = (struct balance_report){
		.kitchen = sn->cfg.kitchen,
		.species = &sn->species,
		.now_utc = clock_now(&sn->clock),
	};
	if (ask->supplier != NULL)
		rc = load_supplier(out, sn, ask, err);
	else if (day_parse(&day, "day", ask->what, NULL) == RC_OK)
		rc = load_day(out, sn, day, err);
	else
		rc = load_batch(out, sn, ask->what, err);
	if (rc != RC_OK)
		balance_fini(out);
	return rc;
}

void
balance_fini(struct balance_report *r)
{
	free(r->batches);
	free(r->preps);
	memset(r, 0, sizeof(*r));
}

enum rc
balance(struct buf *out, struct station *sn, const struct balance_ask *ask,
    enum format format, struct err *err)
{
	struct balance_report r;
	enum rc rc = balance_load(&r, sn, ask, err);

	if (rc != RC_OK)
		return rc;
	balance_write(out, &r, format);
	balance_fini(&r);
	return buf_check(out, "the balance", err);
}

/* --- gaps -----------------------------------------------------------------*/

enum rc
balance_gaps_load(struct gaps_report *out, struct station *sn,
    const struct balance_ask *ask, struct err *err)
{
	enum rc rc;

	*out = (struct gaps_report){ .kitchen = sn->cfg.kitchen,
		.species = &sn->species };
	rc = read_days(&out->from, &out->to, sn, ask, BALANCE_GAP_DAYS, err);
	if (rc != RC_OK)
		return rc;
	return mass_gaps_open(
	    &out->gaps, sn->st, out->from, out->to, BALANCE_GAPS_MAX, err);
}

enum rc
balance_gaps(struct buf *out, struct station *sn, const struct balance_ask *ask,
    enum format format, struct err *err)
{
	struct gaps_report r;
	enum rc rc = balance_gaps_load(&r, sn, ask, err);

	if (rc != RC_OK)
		return rc;
	gaps_write(out, &r, format);
	free(r.gaps.items);
	return buf_check(out, "the list", err);
}

/* What is explained: the number of a breakdown, or a batch's code. */
static enum rc
find_gap(int64_t *prep_id, int64_t *batch_id, struct mass *m,
    struct station *sn, const char *what, char reason[200], struct err *err)
{
	struct mass_preps l;
	enum code_kind kind;
	char code[CODE_SIZE];
	struct batch b;
	grams worked;
	enum rc rc;

	*prep_id = *batch_id = 0;
	/* A batch's code has eight characters, and may be all digits. */
	if (strlen(what) < 8 && what[strspn(what, "0123456789")] == '\0') {
		if ((rc = int_parse(prep_id, "breakdown", what, 1,
			 INT64_C(1) << 53, err)) != RC_OK ||
		    (rc = mass_prep_get(&l, sn->st, *prep_id, err)) != RC_OK)
			return rc;
		*m = l.items[0].mass;
		str_copy(reason, 200, l.items[0].reason);
		mass_preps_fini(&l);
		return RC_OK;
	}
	if ((rc = scan_code(&kind, code, sn, what, err)) != RC_OK)
		return rc;
	if (kind != CODE_BATCH)
		return err_set(err, RC_INVALID, 0,
		    "%.40s is a portion's code: give the number of its "
		    "breakdown, or a batch's code",
		    what);
	if ((rc = batch_get(&b, sn->st, code, err)) != RC_OK)
		return rc;
	*batch_id = b.id;
	return mass_of_batch(m, &worked, reason, sn->st, &b, err);
}

enum rc
balance_explain(grams *gap, struct station *sn, const char *what,
    const char *reason, const char *by, struct err *err)
{
	int64_t prep_id, batch_id;
	char text[200], before[200], subject[64];
	struct moment at;
	struct mass m;
	enum rc rc;

	if ((rc = station_moment(&at, sn, by, err)) != RC_OK ||
	    (rc = reason_into(text, sizeof(text), reason, false, err)) !=
		RC_OK ||
	    (rc = store_begin(sn->st, err)) != RC_OK)
		return rc;
	rc = find_gap(&prep_id, &batch_id, &m, sn, what, before, err);
	str_fmt(subject, sizeof(subject), "%s %.40s",
	    prep_id != 0 ? "breakdown" : "batch", what);
	if (rc == RC_OK && m.unexplained == 0)
		rc = err_set(err, RC_REFUSED, 0,
		    "%s: every gram has its place already", subject);
	else if (rc == RC_OK && m.explained != 0)
		rc = err_set(err, RC_REFUSED, 0,
		    "%s: explained already: %.150s", subject, before);
	if (rc == RC_OK &&
	    (rc = mass_explain(sn->st, prep_id, batch_id, m.unexplained, text,
		 &at, err)) == RC_OK &&
	    (rc = station_audit(sn, &at, err, "explain", subject,
		 "%" PRId64 " g: %s", m.unexplained, text)) == RC_OK)
		rc = store_commit(sn->st, err);
	store_rollback(sn->st);
	if (rc == RC_OK)
		*gap = m.unexplained;
	return rc;
}
