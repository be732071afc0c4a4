/* list_day.c - the sheet of a day, on paper. */
#include "print/lists.h"

#include <inttypes.h>

#include "base/clock.h"
#include "base/str.h"
#include "list_words.h"

static void
put_none(struct ticket *t, size_t count)
{
	if (count == 0)
		ticket_add(t, TICKET_SMALL, "none", NULL);
}

static void
put_goods(struct ticket *t, const struct day_report *r)
{
	const struct batch *b;
	char code[CODE_SIZE], w[32], temp[32], at[48], count[32];
	size_t i;

	ticket_add(t, TICKET_HEAD, "Goods in", NULL);
	put_none(t, r->batches.count);
	for (i = 0; i < r->batches.count; i++) {
		b = &r->batches.items[i];
		count[0] = '\0';
		if (b->count > 0)
			str_fmt(count, sizeof(count), "%" PRId64 " fish, ",
			    b->count);
		ticket_printf(t, TICKET_LINE,
		    weight_print(w, sizeof(w), b->weight_g), "%s %s, %s",
		    code_show(code, b->code),
		    list_species(r->species, b->species),
		    presentation_word(b->presentation));
		ticket_printf(t, TICKET_SMALL, NULL,
		    "%s%s %s, lot %s, %s, %s %s by %s", count, b->supplier.name,
		    b->document, b->lot,
		    temp_print(temp, sizeof(temp), b->temp_dc),
		    b->struck ? "STRUCK OUT, taken in"
			: b->decision == DECISION_REFUSED
			? "REFUSED"
			: decision_word(b->decision),
		    list_clock(at, sizeof(at), b->received.utc, r->day),
		    b->received.by);
		if (b->note[0] != '\0')
			ticket_add(t, TICKET_SMALL, b->note, NULL);
	}
}

static grams
unexplained(const struct prep *p)
{
	return p->all_g - p->portions_g - p->loss_g[LOSS_TRIM] -
	    p->loss_g[LOSS_FRAMES] - p->loss_g[LOSS_WASTE];
}

/* The batches that went in beside the first. */
static void
put_also(struct ticket *t, const struct prep *p)
{
	if (p->also[0] != '\0')
		ticket_printf(t, TICKET_SMALL, NULL, "with %s", p->also);
}

/* What was recorded and taken back, in one line: none of it counts. */
static void
put_struck(struct ticket *t, const struct day_report *r)
{
	const struct prep *p;
	char code[CODE_SIZE], in[32], at[48], back[48];
	size_t i;

	for (i = 0; i < r->struck.count; i++) {
		p = &r->struck.items[i];
		ticket_printf(t, TICKET_LINE, "STRUCK OUT", "%s %s",
		    code_show(code, p->batch),
		    list_species(r->species, p->species));
		put_also(t, p);
		ticket_printf(t, TICKET_SMALL, NULL,
		    "%s in, %s by %s; struck out %s by %s: %s",
		    weight_print(in, sizeof(in), p->all_g),
		    list_clock(at, sizeof(at), p->at.utc, r->day), p->at.by,
		    list_clock(back, sizeof(back), p->struck_at.utc, r->day),
		    p->struck_at.by, p->struck_reason);
	}
}

static void
put_preps(struct ticket *t, const struct day_report *r)
{
	const struct prep *p;
	char code[CODE_SIZE], in[32], at[48], fish[32], w[4][32];
	size_t i;

	ticket_add(t, TICKET_HEAD, "Breakdowns", NULL);
	put_none(t, r->preps.count + r->struck.count);
	for (i = 0; i < r->preps.count; i++) {
		p = &r->preps.items[i];
		fish[0] = '\0';
		if (p->all_fish > 0)
			str_fmt(fish, sizeof(fish),
			    "%" PRId64 " fish: ", p->all_fish);
		ticket_printf(t, TICKET_LINE,
		    weight_print(in, sizeof(in), p->all_g), "%s %s",
		    code_show(code, p->batch),
		    list_species(r->species, p->species));
		put_also(t, p);
		ticket_printf(t, TICKET_SMALL, NULL,
		    "%s%" PRId64 " portion%s %s, trim %s, frames %s, waste %s",
		    fish, p->portions, PLURAL(p->portions),
		    weight_print(w[0], sizeof(w[0]), p->portions_g),
		    weight_print(w[1], sizeof(w[1]), p->loss_g[LOSS_TRIM]),
		    weight_print(w[2], sizeof(w[2]), p->loss_g[LOSS_FRAMES]),
		    weight_print(w[3], sizeof(w[3]), p->loss_g[LOSS_WASTE]));
		ticket_printf(t, TICKET_SMALL, NULL, "%s %s, %s by %s",
		    weight_print(w[0], sizeof(w[0]), unexplained(p)),
		    unexplained(p) < 0 ? "overweight" : "unexplained",
		    list_clock(at, sizeof(at), p->at.utc, r->day), p->at.by);
		if (p->note[0] != '\0')
			ticket_add(t, TICKET_SMALL, p->note, NULL);
	}
	put_struck(t, r);
}

/* " at -20.0 C," of something frozen. */
static const char *
cold_text(char *dst, size_t size, const struct day_event *e)
{
	char t[32];

	dst[0] = '\0';
	if (e->deed == DAY_FROZEN)
		str_fmt(
		    dst, size, " at %s,", temp_print(t, sizeof(t), e->temp_dc));
	return dst;
}

static void
put_events(struct ticket *t, const struct day_report *r)
{
	static const char *const words[] = {
		[DAY_DISCARDED] = "discarded",
		[DAY_FROZEN] = "frozen",
		[DAY_THAWED] = "thawed",
		[DAY_MISSING] = "missing at a count",
		[DAY_FOUND] = "found at a count",
		[DAY_TAKEN_BACK] = "taken back",
		[DAY_COMBINED] = "put together",
	};
	const struct day_event *e;
	const char *what;
	char code[CODE_SIZE], at[48], much[48], cold[48];
	size_t i;

	ticket_add(t, TICKET_HEAD, "Discarded, frozen, thawed, counted", NULL);
	put_none(t, r->events.count);
	for (i = 0; i < r->events.count; i++) {
		e = &r->events.items[i];
		much[0] = '\0';
		if (e->servings > 0)
			str_fmt(much, sizeof(much), "%" PRId64 " portion%s",
			    e->servings, PLURAL(e->servings));
		else if (e->weight_g > 0)
			weight_print(much, sizeof(much), e->weight_g);
		what = e->species[0] == '\0'
		    ? e->name
		    : list_species(r->species, e->species);
		ticket_printf(t, TICKET_LINE, much, "%s%s%s",
		    code_show(code, e->code), what[0] == '\0' ? "" : " ", what);
		ticket_printf(t, TICKET_SMALL, NULL, "%s%s %s by %s%s%s",
		    words[e->deed], cold_text(cold, sizeof(cold), e),
		    list_clock(at, sizeof(at), e->at_utc, r->day), e->by,
		    e->text[0] == '\0' ? "" : ": ", e->text);
		if (e->use_by_utc != 0)
			ticket_printf(t, TICKET_SMALL, NULL, "use by %s",
			    time_short(at, sizeof(at), e->use_by_utc));
	}
}

static void
put_holds(struct ticket *t, const struct day_report *r)
{
	const struct hold *h;
	char code[CODE_SIZE], at[48];
	size_t i;

	ticket_add(t, TICKET_HEAD, "Holds", NULL);
	put_none(t, r->holds.count);
	for (i = 0; i < r->holds.count; i++) {
		h = &r->holds.items[i].hold;
		ticket_add(t, TICKET_LINE,
		    code_show(code, r->holds.items[i].code),
		    h->released_utc == 0 ? "STILL ON HOLD" : "released");
		ticket_printf(t, TICKET_SMALL, NULL, "held %s by %s: %s",
		    list_clock(at, sizeof(at), h->at_utc, r->day), h->by,
		    h->reason);
		if (h->released_utc != 0)
			ticket_printf(t, TICKET_SMALL, NULL,
			    "released %s by %s: %s",
			    list_clock(at, sizeof(at), h->released_utc, r->day),
			    h->released_by, h->released_reason);
	}
}

static const struct past_service *
closed_find(const struct day_report *r, const char *name)
{
	size_t i;

	for (i = 0; i < r->closed.count; i++)
		if (str_eq(r->closed.items[i].name, name))
			return &r->closed.items[i];
	return NULL;
}

static void
put_services(struct ticket *t, const struct day_report *r)
{
	const struct past_service *c;
	const struct service *s;
	int64_t sold;
	char n[48];
	size_t i, j;

	ticket_add(t, TICKET_HEAD, "Services", NULL);
	put_none(t, r->services.count);
	for (i = 0; i < r->services.count; i++) {
		s = &r->services.items[i];
		c = closed_find(r, s->name);
		if (c == NULL) {
			ticket_add(t, TICKET_LINE, s->name, "NOT CLOSED");
			ticket_printf(t, TICKET_SMALL, NULL,
			    "%" PRId64 " covers booked", s->covers);
			continue;
		}
		str_fmt(n, sizeof(n), "%" PRId64 " covers",
		    c->seated + c->walk_ins);
		ticket_add(t, TICKET_LINE, s->name, n);
		for (j = 0, sold = 0; j < c->count; j++)
			sold += r->closed.sales[c->first + j].sold;
		ticket_printf(t, TICKET_SMALL, NULL,
		    "%" PRId64 " of %" PRId64 " booked came, %" PRId64
		    " walk-in%s; %" PRId64 " portion%s counted as sold",
		    c->seated, c->booked, c->walk_ins, PLURAL(c->walk_ins),
		    sold, PLURAL(sold));
	}
}

/* "000-01U reprint 1", "Prep, lunch Fri 4 Dec page 2". */
static void
put_label(struct ticket *t, enum ticket_style style, const char *right,
    const struct day_label *l)
{
	char code[CODE_SIZE], again[32] = "";

	if (l->copy > 0)
		str_fmt(again, sizeof(again), ", reprint %d", l->copy);
	if (l->page > 0)
		ticket_printf(
		    t, style, right, "%s, page %d%s", l->title, l->page, again);
	else
		ticket_printf(
		    t, style, right, "%s%s", code_show(code, l->code), again);
}

static void
put_labels(struct ticket *t, const struct day_report *r)
{
	const struct day_label *items = r->labels.items;
	int64_t states[JOB_STATE_COUNT] = { 0 }, again = 0;
	char n[32];
	size_t i;

	ticket_add(t, TICKET_HEAD, "Labels and lists", NULL);
	put_none(t, r->labels.count);
	for (i = 0; i < r->labels.count; i++) {
		states[items[i].state]++;
		again += items[i].copy > 0;
	}
	for (i = 0; i < JOB_STATE_COUNT; i++) {
		str_fmt(n, sizeof(n), "%" PRId64, states[i]);
		if (states[i] > 0)
			ticket_add(t, TICKET_LINE,
			    job_state_word((enum job_state)i), n);
	}
	str_fmt(n, sizeof(n), "%" PRId64, again);
	if (again > 0)
		ticket_add(t, TICKET_LINE, "of these reprints", n);
	for (i = 0; i < r->labels.count; i++)
		if (items[i].copy > 0)
			put_label(t, TICKET_SMALL, NULL, &items[i]);
	for (i = 0; i < r->labels.count; i++)
		if (items[i].state == JOB_UNSURE)
			put_label(t, TICKET_TICK, "came out?", &items[i]);
}

/* Paper keeps what nobody can write anew: docs/trail.md. */
static void
put_witness(struct ticket *t, const struct day_report *r)
{
	ticket_printf(
	    t, TICKET_HEAD, NULL, "Audit trail, row %" PRId64, r->trail_row);
	ticket_add(t, TICKET_LINE, r->trail_code, NULL);
	ticket_add(t, TICKET_SMALL,
	    "Keep this sheet: verify --paper asks for the code.", NULL);
}

void
list_day(struct ticket *t, const struct day_report *r)
{
	char day[48], now[48];

	ticket_printf(t, TICKET_TITLE, NULL, "Day sheet, %s",
	    list_day_short(day, sizeof(day), r->day));
	ticket_add(t, TICKET_SMALL, day_words(day, sizeof(day), r->day), NULL);
	ticket_printf(t, TICKET_SMALL, NULL, "%s, as recorded by %s",
	    r->kitchen, time_short(now, sizeof(now), r->now_utc));
	put_goods(t, r);
	put_preps(t, r);
	put_events(t, r);
	put_holds(t, r);
	put_services(t, r);
	put_labels(t, r);
	put_witness(t, r);
	list_signature(t, "Checked by, when");
}
