/* papers.c - is a delivery's record complete, law by law? */
#include "ops/papers.h"

#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "base/str.h"
#include "ops/scan.h"
#include "store/papers.h"
#include "store/portions.h"
#include "store/store.h"

/* What goods in does not ask, or may leave out, and a supplier can answer. */
static const bool askable[DATUM_COUNT] = {
	[DATUM_CONSIGNOR] = true,
	[DATUM_CONSIGNEE] = true,
	[DATUM_DISPATCHED] = true,
	[DATUM_AREA] = true,
	[DATUM_GEAR] = true,
	[DATUM_FROZEN] = true,
	[DATUM_LOT_SOURCE] = true,
	[DATUM_DOCUMENT] = true,
	[DATUM_VESSEL] = true,
	[DATUM_CAUGHT] = true,
	[DATUM_EXEMPT] = true,
	[DATUM_FIRST] = true,
};

bool
papers_askable(enum paper_datum d)
{
	return askable[d];
}

/* --- what is there --------------------------------------------------------*/

static void
put(struct papers_batch *b, enum paper_datum d, const char *text)
{
	str_fmt(b->value[d], sizeof(b->value[d]), "%.190s", text);
}

static void
put_day(struct papers_batch *b, enum paper_datum d, day_no day)
{
	char text[16];

	if (day != DAY_NONE)
		put(b, d, day_print(text, sizeof(text), day));
}

/* What goods in recorded. */
static void
put_batch(struct papers_batch *b, const struct station *sn)
{
	const struct batch *r = &b->batch;
	const struct species *sp = species_find(&sn->species, r->species);
	char text[400], w[32];

	str_fmt(text, sizeof(text), "%s, %s",
	    sp == NULL ? r->species : sp->name,
	    presentation_word(r->presentation));
	put(b, DATUM_DESCRIPTION, text);
	put(b, DATUM_QUANTITY, weight_print(w, sizeof(w), r->weight_g));
	if (r->supplier.address[0] != '\0') {
		str_fmt(text, sizeof(text), "%s, %s", r->supplier.name,
		    r->supplier.address);
		put(b, DATUM_DISPATCHER, text);
	}
	if (!str_eq(sn->cfg.address, "none")) {
		str_fmt(text, sizeof(text), "%s, %s", sn->cfg.kitchen,
		    sn->cfg.address);
		put(b, DATUM_RECEIVER, text);
	}
	put(b, DATUM_LOT, r->lot);
	put_day(b, DATUM_DISPATCHED, r->dispatched_day);
	put_day(b, DATUM_RECEIVED, local_from_utc(r->received.utc).day);
	if (sp != NULL) {
		put(b, DATUM_COMMERCIAL, sp->name);
		put(b, DATUM_SCIENTIFIC, sp->scientific);
	}
	put(b, DATUM_METHOD, r->method);
	put(b, DATUM_AREA, r->area);
	put(b, DATUM_GEAR, r->gear);
	put_day(b, DATUM_DURABILITY, r->supplier_use_by);
	put(b, DATUM_VESSEL, r->vessel);
	put(b, DATUM_SPECIES, r->species);
	put_day(b, DATUM_CAUGHT, r->caught_day);
}

static bool
is_gear(const struct station *sn, const char *text)
{
	struct gear_found g;

	return text[0] != '\0' &&
	    gear_find(&g, &sn->gears, text, NULL) == RC_OK &&
	    g.category != GEAR_NONE;
}

static bool
is_wide(const struct station *sn, const char *text)
{
	const struct area *a;

	return area_find(&a, &sn->areas, text, NULL) == RC_OK &&
	    !area_enough(a->code);
}

/* Has goods in recorded it, so that it does? */
static bool
is_settled(const struct papers_batch *b, const struct station *sn, int d)
{
	const char *v = b->value[d];

	if (v[0] == '\0')
		return false;
	if (d == DATUM_GEAR)
		return is_gear(sn, v);
	return d != DATUM_AREA || !is_wide(sn, v);
}

/* What was said later, where goods in has nothing that does. */
static enum rc
put_said(struct papers_batch *b, struct station *sn, struct err *err)
{
	struct paper_said_list l;
	char text[300];
	size_t i;
	int d;
	enum rc rc;

	if ((rc = paper_list_open(&l, sn->st, b->batch.id, err)) != RC_OK)
		return rc;
	for (i = 0; i < l.count; i++)
		for (d = 0; d < DATUM_COUNT; d++)
			if (str_eq(l.items[i].datum,
				paper_datum_word((enum paper_datum)d)) &&
			    !is_settled(b, sn, d))
				put(b, (enum paper_datum)d, l.items[i].value);
	free(l.items);
	/* Its type was said, its number goods in has recorded. */
	if (b->value[DATUM_DOCUMENT][0] != '\0') {
		str_fmt(text, sizeof(text), "%s %s", b->value[DATUM_DOCUMENT],
		    b->batch.document);
		put(b, DATUM_DOCUMENT, text);
	}
	return RC_OK;
}

static enum papers_method
method_of(const char *word)
{
	if (str_eq(word, "farmed"))
		return METHOD_FARMED;
	if (str_eq(word, "caught"))
		return METHOD_CAUGHT;
	return str_eq(word, "caught-freshwater") ? METHOD_CAUGHT_FRESHWATER
						 : METHOD_UNKNOWN;
}

/* Unlike goods in, which does not ask about it, silence on freezing is not
 * taken for "never": docs/decisions/0017. */
static void
judge_batch(struct papers_batch *b, const struct station *sn, unsigned laws)
{
	struct papers p = { .restaurant = true };
	char(*v)[200] = b->value;

#define HAS(datum) (v[datum][0] != '\0')
	p.description = HAS(DATUM_DESCRIPTION);
	p.quantity = HAS(DATUM_QUANTITY);
	p.dispatcher = p.came_from = HAS(DATUM_DISPATCHER);
	p.owner_differs = p.consignor = HAS(DATUM_CONSIGNOR);
	p.receiver = p.came_to = HAS(DATUM_RECEIVER);
	p.consignee_differs = p.consignee = HAS(DATUM_CONSIGNEE);
	p.lot = HAS(DATUM_LOT);
	p.dispatched = HAS(DATUM_DISPATCHED);
	p.received = HAS(DATUM_RECEIVED);
	p.commercial_name = HAS(DATUM_COMMERCIAL);
	p.scientific_name = HAS(DATUM_SCIENTIFIC);
	p.method = method_of(v[DATUM_METHOD]);
	p.area = HAS(DATUM_AREA);
	p.area_too_wide = is_wide(sn, v[DATUM_AREA]);
	p.gear = is_gear(sn, v[DATUM_GEAR]);
	if (!HAS(DATUM_FROZEN) ||
	    frozen_parse(&p.frozen, v[DATUM_FROZEN], NULL) != RC_OK)
		p.frozen = FROZEN_UNKNOWN;
	p.durability_due = p.durability = HAS(DATUM_DURABILITY);
	p.lot_source = HAS(DATUM_LOT_SOURCE);
	p.document = HAS(DATUM_DOCUMENT);
	p.vessel = HAS(DATUM_VESSEL);
	p.species_code = HAS(DATUM_SPECIES);
	p.caught = HAS(DATUM_CAUGHT);
	p.supplier_exempt = HAS(DATUM_EXEMPT);
	p.first_receiver = HAS(DATUM_FIRST);
#undef HAS
	b->line_count = papers_check(b->lines, &p, laws);
	b->missing = papers_missing(b->lines, b->line_count);
}

static enum rc
put_one(struct papers_report *r, struct station *sn, const char *code,
    struct err *err)
{
	struct papers_batch *b = &r->items[r->count];
	enum rc rc;

	memset(b, 0, sizeof(*b));
	if ((rc = batch_get(&b->batch, sn->st, code, err)) != RC_OK)
		return rc;
	put_batch(b, sn);
	if ((rc = put_said(b, sn, err)) != RC_OK)
		return rc;
	judge_batch(
	    b, sn, r->all ? PAPERS_ALL : papers_laws(sn->rules.set.name));
	r->count++;
	return RC_OK;
}

/* --- which batches --------------------------------------------------------*/

static enum rc
load_day(
    struct papers_report *r, struct station *sn, day_no day, struct err *err)
{
	struct batch_list l;
	size_t i;
	enum rc rc;

	if ((rc = batch_list_newest(
		 &l, sn->st, day, PAPERS_BATCHES_MAX + 1, err)) != RC_OK)
		return rc;
	r->cut = l.count > PAPERS_BATCHES_MAX;
	r->items = xcalloc(l.count, sizeof(*r->items));
	for (i = l.count; i > (size_t)r->cut && rc == RC_OK; i--)
		rc = put_one(r, sn, l.items[i - 1].code, err);
	batch_list_fini(&l);
	return rc;
}

static enum rc
load_document(struct papers_report *r, struct station *sn, const char *what,
    struct err *err)
{
	struct paper_codes l;
	size_t i;
	enum rc rc;

	if ((rc = paper_batches(
		 &l, sn->st, what, PAPERS_BATCHES_MAX + 1, err)) != RC_OK)
		return rc;
	if (l.count == 0)
		return err_set(err, RC_NOTFOUND, 0,
		    "\"%.60s\" is no code, date or delivery document on "
		    "record",
		    what);
	r->cut = l.count > PAPERS_BATCHES_MAX;
	r->items = xcalloc(l.count, sizeof(*r->items));
	for (i = 0; i < l.count - r->cut && rc == RC_OK; i++)
		rc = put_one(r, sn, l.items[i], err);
	free(l.items);
	return rc;
}

/* The batch of a code; RC_INVALID: it is none of ours. */
static enum rc
batch_of(
    char code[CODE_SIZE], struct station *sn, const char *text, struct err *err)
{
	enum code_kind kind;
	struct portion p;
	enum rc rc;

	if ((rc = scan_code(&kind, code, sn, text, err)) != RC_OK ||
	    kind == CODE_BATCH)
		return rc;
	if ((rc = portion_get(&p, sn->st, code, err)) == RC_OK)
		str_copy(code, CODE_SIZE, p.batch);
	return rc;
}

enum rc
papers_load(struct papers_report *out, struct station *sn, const char *what,
    bool all, struct err *err)
{
	char code[CODE_SIZE];
	day_no day;
	enum rc rc;

	*out = (struct papers_report){
		.kitchen = sn->cfg.kitchen,
		.species = &sn->species,
		.now_utc = clock_now(&sn->clock),
		.all = all,
	};
	str_fmt(out->asked, sizeof(out->asked), "%.60s", what);
	str_copy(out->rule_set, sizeof(out->rule_set), sn->rules.set.name);
	if (day_parse(&day, "day", what, NULL) == RC_OK) {
		rc = load_day(out, sn, day, err);
	} else if (batch_of(code, sn, what, NULL) == RC_OK) {
		out->items = xcalloc(1, sizeof(*out->items));
		rc = put_one(out, sn, code, err);
	} else {
		rc = load_document(out, sn, what, err);
	}
	if (rc != RC_OK)
		free(out->items);
	return rc;
}

enum rc
papers(struct buf *out, struct station *sn, const char *what, bool all,
    enum format format, struct err *err)
{
	struct papers_report r;
	enum rc rc = papers_load(&r, sn, what, all, err);

	if (rc != RC_OK)
		return rc;
	papers_write(out, &r, format);
	free(r.items);
	return buf_check(out, "the report", err);
}

/* --- what was said --------------------------------------------------------*/

static enum rc
find_datum(enum paper_datum *out, const char *word, struct err *err)
{
	char known[240] = "";
	size_t n = 0;
	int d;

	for (d = 0; d < DATUM_COUNT; d++) {
		if (!askable[d])
			continue;
		*out = (enum paper_datum)d;
		if (str_eq(word, paper_datum_word(*out)))
			return RC_OK;
		if (str_fmt(known + n, sizeof(known) - n, "%s%s",
			n == 0 ? "" : ", ", paper_datum_word(*out)))
			n += strlen(known + n);
	}
	return err_set(err, RC_INVALID, 0,
	    "\"%.30s\" cannot be said later: it is one of %s", word, known);
}

/* A value of its kind; dates not after today. */
static enum rc
check_value(enum paper_datum d, const char *value, const struct station *sn,
    struct err *err)
{
	enum papers_frozen f;
	day_no day;
	enum rc rc;

	rc = text_check(
	    paper_datum_word(d), value, PAPER_VALUE_SIZE - 10, false, err);
	if (rc != RC_OK)
		return rc;
	if (d == DATUM_FROZEN)
		return frozen_parse(&f, value, err);
	if (d == DATUM_GEAR && !is_gear(sn, value))
		return err_set(err, RC_INVALID, 0,
		    "gear \"%.40s\" is in no category of Reg. (EU) 1379/2013 "
		    "Annex III: ask the supplier for the category",
		    value);
	if (d != DATUM_DISPATCHED && d != DATUM_CAUGHT)
		return RC_OK;
	if ((rc = day_parse(&day, paper_datum_word(d), value, err)) != RC_OK)
		return rc;
	if (day > local_from_utc(clock_now(&sn->clock)).day)
		return err_set(err, RC_INVALID, 0, "%s: %.16s is not past yet",
		    paper_datum_word(d), value);
	return RC_OK;
}

static enum rc
record(struct station *sn, const char *text, enum paper_datum d,
    const struct paper_said *said, struct err *err)
{
	struct papers_batch *b = xcalloc(1, sizeof(*b));
	char code[CODE_SIZE], shown[CODE_SIZE];
	enum rc rc;

	if ((rc = batch_of(code, sn, text, err)) != RC_OK ||
	    (rc = batch_get(&b->batch, sn->st, code, err)) != RC_OK)
		goto done;
	put_batch(b, sn);
	code_show(shown, code);
	if (is_settled(b, sn, (int)d))
		rc = err_set(err, RC_INVALID, 0,
		    "%s: goods in has %s recorded already, as %.100s", shown,
		    said->datum, b->value[d]);
	else if ((rc = paper_say(sn->st, b->batch.id, said, err)) == RC_OK)
		rc = station_audit(sn, &said->at, err, "paper", shown, "%s: %s",
		    said->datum, said->value);
done:
	free(b);
	return rc;
}

enum rc
papers_say(struct station *sn, const char *code, const char *datum,
    const char *value, const char *by, struct err *err)
{
	struct paper_said said = { 0 };
	enum paper_datum d = DATUM_COUNT;
	enum rc rc;

	if ((rc = station_moment(&said.at, sn, by, err)) != RC_OK ||
	    (rc = find_datum(&d, datum, err)) != RC_OK ||
	    (rc = check_value(d, value, sn, err)) != RC_OK)
		return rc;
	str_copy(said.datum, sizeof(said.datum), paper_datum_word(d));
	str_copy(said.value, sizeof(said.value), value);
	if ((rc = store_begin(sn->st, err)) != RC_OK)
		return rc;
	if ((rc = record(sn, code, d, &said, err)) == RC_OK)
		rc = store_commit(sn->st, err);
	store_rollback(sn->st);
	return rc;
}
