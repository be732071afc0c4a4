/* list_recall.c - a batch to be pulled, on paper. */
#include "print/lists.h"

#include <inttypes.h>
#include <stdlib.h>

#include "base/clock.h"
#include "base/mem.h"
#include "base/str.h"
#include "list_words.h"

static void
put_weight(
    struct ticket *t, enum ticket_style style, const char *what, grams weight)
{
	char w[32];

	ticket_add(t, style, what, weight_print(w, sizeof(w), weight));
}

static void
put_batch(struct ticket *t, const struct trace_report *r)
{
	const struct batch *b = &r->batch;
	const struct species *sp = species_find(r->species, b->species);
	char when[48], w[32], temp[32];

	ticket_printf(t, TICKET_SMALL, NULL, "%s%s%s%s, %s",
	    sp == NULL ? b->species : sp->name, sp == NULL ? "" : " (",
	    sp == NULL ? "" : sp->scientific, sp == NULL ? "" : ")",
	    presentation_word(b->presentation));
	ticket_printf(t, TICKET_SMALL, NULL, "%s, made %s", r->kitchen,
	    time_short(when, sizeof(when), r->now_utc));
	ticket_add(t, TICKET_HEAD, b->supplier.name, NULL);
	ticket_add(t, TICKET_SMALL, b->supplier.address, NULL);
	if (b->supplier.contact[0] != '\0')
		ticket_printf(
		    t, TICKET_LINE, NULL, "call: %s", b->supplier.contact);
	ticket_add(t, TICKET_LINE, "lot", b->lot);
	ticket_add(t, TICKET_LINE, "document", b->document);
	ticket_add(t, TICKET_LINE, "received",
	    time_short(when, sizeof(when), b->received.utc));
	weight_print(w, sizeof(w), b->weight_g);
	ticket_printf(t, TICKET_SMALL, NULL, "%s, %s%s, by %s", w,
	    temp_print(temp, sizeof(temp), b->temp_dc),
	    b->decision == DECISION_REFUSED ? ", REFUSED at the door" : "",
	    b->received.by);
	ticket_add(t, TICKET_LINE, "use by",
	    time_short(when, sizeof(when), b->use_by_utc));
}

static void
put_holds(struct ticket *t, const struct trace_report *r)
{
	const struct hold *h;
	char when[48], code[CODE_SIZE];
	size_t i;

	for (i = 0; i < r->batch_holds.count; i++) {
		h = &r->batch_holds.items[i];
		if (h->released_utc != 0)
			continue;
		ticket_add(t, TICKET_LINE, "ON HOLD since",
		    time_short(when, sizeof(when), h->at_utc));
		ticket_printf(
		    t, TICKET_SMALL, NULL, "%s, by %s", h->reason, h->by);
	}
	if (r->batch_struck.is)
		ticket_printf(t, TICKET_LINE, NULL,
		    "STRUCK OUT as taken in by mistake, %s by %s: %s",
		    time_short(when, sizeof(when), r->batch_struck.at.utc),
		    r->batch_struck.at.by, r->batch_struck.reason);
	if (r->batch.held || r->batch.decision == DECISION_REFUSED)
		return;
	ticket_add(t, TICKET_TICK, "NOT ON HOLD: block it first", NULL);
	ticket_printf(t, TICKET_SMALL, NULL,
	    "until then the station lets it out: pinbone hold %s",
	    code_show(code, r->batch.code));
}

/* --- labelled units ------------------------------------------------------- */

static void
put_freezings(struct ticket *t, const struct traced_portion *u)
{
	const struct freezing *f;
	char when[48], cold[16], reached[32];
	size_t i;

	for (i = 0; i < u->freezings.count; i++) {
		f = &u->freezings.items[i];
		reached[0] = '\0';
		if (f->to == KEEP_FROZEN)
			str_fmt(reached, sizeof(reached), " at %s",
			    temp_print(cold, sizeof(cold), f->temp_dc));
		ticket_printf(t, TICKET_SMALL, NULL, "%s%s, %s by %s%s%s",
		    keep_word(f->to), reached,
		    time_short(when, sizeof(when), f->at.utc), f->at.by,
		    f->reason[0] == '\0' ? "" : ": ", f->reason);
	}
}

static void
put_events(struct ticket *t, const struct traced_portion *u)
{
	const struct portion_event *e;
	char when[48];
	size_t i;

	for (i = 0; i < u->events.count; i++) {
		e = &u->events.items[i];
		ticket_printf(t, TICKET_SMALL, NULL,
		    "%" PRId64 " %s%s%s, %s by %s%s%s", e->servings,
		    fate_word(e->fate), e->service[0] == '\0' ? "" : " for ",
		    e->service, time_short(when, sizeof(when), e->at.utc),
		    e->at.by, e->reason[0] == '\0' ? "" : ": ", e->reason);
	}
}

static void
put_unit(struct ticket *t, const struct traced_portion *u, int64_t now)
{
	const struct portion *p = &u->portion;
	char code[CODE_SIZE], when[48], n[48];

	str_fmt(n, sizeof(n), "%" PRId64 " of %" PRId64, p->left, p->servings);
	ticket_printf(
	    t, TICKET_TICK, n, "%s %s", code_show(code, p->code), p->dish_name);
	ticket_printf(t, TICKET_SMALL, NULL, "%s, use by %s%s",
	    keep_word(p->keep), time_short(when, sizeof(when), p->use_by_utc),
	    p->left > 0 && p->use_by_utc < now ? ", EXPIRED" : "");
	put_freezings(t, u);
	put_events(t, u);
}

/* First to expire first: that is what would go out next. */
static int
by_use_by(const void *a, const void *b)
{
	const struct traced_portion *const *x = a, *const *y = b;
	const struct portion *p = &(*x)->portion, *q = &(*y)->portion;

	if (p->use_by_utc != q->use_by_utc)
		return p->use_by_utc < q->use_by_utc ? -1 : 1;
	return p->id < q->id ? -1 : p->id > q->id;
}

enum whereabouts { ON_HAND, MISSED, STRUCK_OUT, WENT_OUT, IN_THE_BIN };

/* What nobody saw leave may still lie in a fridge: it is looked for, however
 * much of the tray was used. */
static enum whereabouts
where_is(const struct traced_portion *u)
{
	struct portion_sums s;

	portion_sums(&s, u);
	if (u->portion.left > 0)
		return ON_HAND;
	if (s.missing > 0)
		return MISSED;
	if (u->portion.struck)
		return STRUCK_OUT;
	return s.used > 0 ? WENT_OUT : IN_THE_BIN;
}

/* "2  Went out": what is looked for in this order. */
static void
put_step(struct ticket *t, int *step, const char *what, const char *right)
{
	ticket_printf(t, TICKET_HEAD, right, "%d  %s", ++*step, what);
}

static void
put_group(struct ticket *t, const struct trace_report *r,
    struct traced_portion **units, enum whereabouts where, int *step,
    const char *head, const char *none)
{
	int64_t left = 0, count = 0;
	char n[48];
	size_t i;

	for (i = 0; i < r->portion_count; i++)
		if (where_is(units[i]) == where) {
			left += units[i]->portion.left;
			count++;
		}
	if (count == 0 && none == NULL)
		return;
	str_fmt(n, sizeof(n), "%" PRId64, where == ON_HAND ? left : count);
	put_step(t, step, head, n);
	if (count == 0)
		ticket_add(t, TICKET_LINE, none, NULL);
	for (i = 0; i < r->portion_count; i++)
		if (where_is(units[i]) == where)
			put_unit(t, units[i], r->now_utc);
}

/* --- what carries no label ------------------------------------------------ */

static void
put_unlabelled(struct ticket *t, const struct batch *b,
    const struct gram_balance *g, int *step)
{
	char what[64];

	if (g->whole <= 0 && g->trim <= 0 && g->frames <= 0)
		return;
	put_step(t, step, "Look for what has no portion label", NULL);
	if (b->count > 0)
		str_fmt(what, sizeof(what), "still whole, %" PRId64 " fish",
		    b->count_left);
	else
		str_copy(what, sizeof(what), "still whole");
	if (g->whole > 0)
		put_weight(t, TICKET_TICK, what, g->whole);
	if (g->trim > 0)
		put_weight(t, TICKET_TICK, "trim kept, and what was made of it",
		    g->trim);
	if (g->frames > 0)
		put_weight(t, TICKET_TICK,
		    "heads and frames, and stock made of them", g->frames);
}

static void
put_balance(struct ticket *t, const struct gram_balance *g)
{
	char text[80], a[32], b[32];

	ticket_add(t, TICKET_HEAD, "Every gram of it", NULL);
	put_weight(t, TICKET_LINE, "received", g->received);
	if (g->returned > 0)
		put_weight(t, TICKET_LINE, "refused, sent back", g->returned);
	if (g->struck > 0)
		put_weight(t, TICKET_LINE, "struck out", g->struck);
	put_weight(t, TICKET_LINE, "in portions", g->portions);
	put_weight(t, TICKET_LINE, "trim kept", g->trim);
	put_weight(t, TICKET_LINE, "frames", g->frames);
	put_weight(t, TICKET_LINE, "waste", g->waste);
	put_weight(t, TICKET_LINE, "discarded unopened", g->discarded);
	put_weight(t, TICKET_LINE, "still whole", g->whole);
	put_weight(t, TICKET_LINE,
	    g->unexplained < 0 ? "overweight (scale or ice)" : "unexplained",
	    g->unexplained);
	str_fmt(text, sizeof(text), "%s of %s accounted for",
	    weight_print(a, sizeof(a), g->received - g->unexplained),
	    weight_print(b, sizeof(b), g->received));
	ticket_add(t, TICKET_LINE, text, NULL);
}

void
list_recall(struct ticket *t, const struct trace_report *r)
{
	struct gram_balance g = balance_of(&r->mass);
	struct traced_portion **units =
	    xcalloc(r->portion_count, sizeof(*units));
	char code[CODE_SIZE];
	int step = 0;
	size_t i;

	for (i = 0; i < r->portion_count; i++)
		units[i] = &r->portions[i];
	if (r->portion_count > 1)
		qsort(units, r->portion_count, sizeof(*units), by_use_by);
	ticket_printf(
	    t, TICKET_TITLE, NULL, "Recall %s", code_show(code, r->batch.code));
	put_batch(t, r);
	put_holds(t, r);
	put_group(t, r, units, ON_HAND, &step, "PULL NOW: portions on hand",
	    "no labelled portion is on hand");
	put_unlabelled(t, &r->batch, &g, &step);
	put_group(
	    t, r, units, MISSED, &step, "Look for: missing at a count", NULL);
	put_group(t, r, units, STRUCK_OUT, &step,
	    "Look for: struck out as entered by mistake", NULL);
	put_group(t, r, units, WENT_OUT, &step, "Went out", NULL);
	put_group(t, r, units, IN_THE_BIN, &step, "Discarded before", NULL);
	put_balance(t, &g);
	ticket_add(t, TICKET_SMALL,
	    "What was pulled is kept apart and marked until it is decided "
	    "on; local law says whom to tell.",
	    NULL);
	list_signature(t, "Pulled and counted by, when");
	free(units);
}
