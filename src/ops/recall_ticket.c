/* recall_ticket.c - the list of a recall, on paper: what to pull, by place. */
#include <inttypes.h>
#include <string.h>

#include "base/str.h"
#include "ops/recall.h"

static void
put_head(struct ticket *t, const struct recall_page *p)
{
	const struct recall *r = &p->recall;
	char when[48], text[96];
	size_t i;

	ticket_printf(t, TICKET_TITLE, NULL, "Recall %" PRId64, r->id);
	ticket_add(t, TICKET_LINE, r->what, NULL);
	ticket_printf(t, TICKET_SMALL, NULL, "%s, made %s", p->kitchen,
	    time_short(when, sizeof(when), p->now_utc));
	ticket_printf(t, TICKET_SMALL, NULL, "opened %s by %s, from %s: %s",
	    time_short(when, sizeof(when), r->at.utc), r->at.by,
	    recall_origin_word(r->origin), r->reason);
	for (i = 0; i < p->supplier_count; i++)
		ticket_printf(t, TICKET_LINE, NULL, "call %s%s%s",
		    p->suppliers[i].name,
		    p->suppliers[i].contact[0] == '\0' ? "" : ": ",
		    p->suppliers[i].contact);
	str_fmt(text, sizeof(text), "%" PRId64 " of %" PRId64, p->count.missing,
	    p->count.pull);
	ticket_add(t, TICKET_LINE, "still to be found", text);
	if (r->outcome != RECALL_OPEN)
		ticket_printf(t, TICKET_LINE, NULL, "CLOSED %s by %s: %s%s%s",
		    time_short(when, sizeof(when), r->end.utc), r->end.by,
		    recall_outcome_word(r->outcome),
		    r->end_reason[0] == '\0' ? "" : ", ", r->end_reason);
}

static void
put_item(struct ticket *t, const struct recall_page *p,
    const struct recall_item *i, enum ticket_style style)
{
	const struct species *sp = species_find(p->species, i->name);
	char code[CODE_SIZE], n[48], when[48];

	if (i->subject.batch_id != 0)
		weight_print(n, sizeof(n), i->weight_g);
	else
		str_fmt(n, sizeof(n), "%" PRId64 " of %" PRId64,
		    style == TICKET_TICK ? recall_item_missing(i) : i->left,
		    i->made);
	ticket_printf(t, style, n, "%s %s", code_show(code, i->code),
	    i->subject.batch_id != 0 && sp != NULL ? sp->name : i->name);
	ticket_printf(t, TICKET_SMALL, NULL, "%s%suse by %s%s%s%s",
	    i->subject.batch_id != 0 ? "still whole, " : "",
	    i->frozen ? "frozen, " : "",
	    time_short(when, sizeof(when), i->use_by_utc),
	    i->place_now[0] == '\0' ? "" : ", moved to ", i->place_now,
	    i->found > 0 && style == TICKET_TICK ? ", part of it found" : "");
	if (i->also[0] != '\0')
		ticket_printf(t, TICKET_SMALL, NULL, "of %s + %s",
		    code_show(code, i->batch), i->also);
	if (style == TICKET_TICK && i->last_utc != 0)
		ticket_printf(t, TICKET_SMALL, NULL, "last: %s, %s",
		    fate_word(i->last),
		    time_short(when, sizeof(when), i->last_utc));
}

/* Lines are in order of their places. */
static void
put_missing(struct ticket *t, const struct recall_page *p)
{
	const struct recall_item *i;
	const char *place = NULL;
	size_t k;

	for (k = 0; k < p->items.count; k++) {
		i = &p->items.items[k];
		if (recall_item_missing(i) == 0)
			continue;
		if (place == NULL || !str_eq(place, i->place))
			ticket_printf(
			    t, TICKET_HEAD, NULL, "PULL: %s", i->place);
		place = i->place;
		put_item(t, p, i, TICKET_TICK);
	}
	if (place == NULL)
		ticket_add(t, TICKET_HEAD,
		    p->count.pull == 0 ? "Nothing of it was on hand"
				       : "All of it is found",
		    NULL);
}

static void
put_found(struct ticket *t, const struct recall_page *p)
{
	const struct recall_item *i;
	char n[48];
	size_t k;

	if (p->count.found == 0)
		return;
	str_fmt(n, sizeof(n), "%" PRId64, p->count.found);
	ticket_add(t, TICKET_HEAD, "Found, or thrown away since", n);
	for (k = 0; k < p->items.count; k++) {
		i = &p->items.items[k];
		if (recall_item_pull(i) && recall_item_missing(i) == 0)
			put_item(t, p, i, TICKET_LINE);
	}
}

/* What may lie around without being on hand by the record. */
static void
put_look_for(struct ticket *t, const struct recall_page *p)
{
	const struct recall_item *i;
	char code[CODE_SIZE], n[48], w[32];
	bool head = false;
	size_t k;

	for (k = 0; k < p->items.count; k++) {
		i = &p->items.items[k];
		if (i->lost <= 0 && !i->struck)
			continue;
		if (!head)
			ticket_add(t, TICKET_HEAD, "Look for as well", NULL);
		head = true;
		str_fmt(
		    n, sizeof(n), "%" PRId64, i->lost > 0 ? i->lost : i->made);
		ticket_printf(t, TICKET_TICK, n, "%s %s, %s",
		    code_show(code, i->code), i->name,
		    i->lost > 0 ? "missing at a count"
				: "struck out as a mistake");
	}
	for (k = 0; k < p->loose_count; k++) {
		if (!head)
			ticket_add(t, TICKET_HEAD, "Look for as well", NULL);
		head = true;
		code_show(code, p->loose[k].batch);
		if (p->loose[k].trim > 0)
			ticket_printf(t, TICKET_TICK,
			    weight_print(w, sizeof(w), p->loose[k].trim),
			    "%s trim, and what was made of it", code);
		if (p->loose[k].frames > 0)
			ticket_printf(t, TICKET_TICK,
			    weight_print(w, sizeof(w), p->loose[k].frames),
			    "%s heads and frames, and stock of them", code);
	}
}

static void
put_served(struct ticket *t, const struct recall_page *p)
{
	const struct recall_use *u;
	char code[CODE_SIZE], when[48], n[48];
	size_t i;

	if (p->use_count == 0)
		return;
	ticket_add(t, TICKET_HEAD, "Served to guests", NULL);
	for (i = 0; i < p->use_count; i++) {
		u = &p->uses[i];
		str_fmt(n, sizeof(n), "%" PRId64, u->servings);
		ticket_printf(t, TICKET_LINE, n, "%s %s",
		    code_show(code, u->code), u->dish);
		ticket_printf(t, TICKET_SMALL, NULL, "%s%s%s",
		    time_short(when, sizeof(when), u->at.utc),
		    u->service[0] == '\0' ? "" : ", for ", u->service);
	}
}

static void
put_notes(struct ticket *t, const struct recall_page *p)
{
	const struct recall_tick *k;
	char code[CODE_SIZE], when[48];
	size_t i;

	if (p->notes.count > 0)
		ticket_add(t, TICKET_HEAD, "Notes", NULL);
	for (i = 0; i < p->notes.count; i++)
		ticket_printf(t, TICKET_SMALL, NULL, "%s by %s: %s",
		    time_short(when, sizeof(when), p->notes.items[i].at.utc),
		    p->notes.items[i].at.by, p->notes.items[i].text);
	for (i = 0; i < p->ticks.count; i++) {
		k = &p->ticks.items[i];
		if (k->verdict == TICK_SURPRISE || k->verdict == TICK_UNKNOWN)
			ticket_printf(t, TICKET_LINE, NULL, "FOUND %s: %s",
			    code_show(code, k->code), k->says);
	}
	ticket_add(t, TICKET_SMALL,
	    "Whom to tell, and when, is for the operator and the authority to "
	    "decide.",
	    NULL);
	ticket_add(t, TICKET_RULE, "", NULL);
	ticket_add(t, TICKET_LINE, "Pulled and counted by, when", NULL);
}

enum rc
recall_ticket(
    struct ticket **out, struct station *sn, int64_t id, struct err *err)
{
	struct recall_page p;
	enum rc rc = recall_load(&p, sn, id, err);

	*out = NULL;
	if (rc != RC_OK)
		return rc;
	*out = ticket_new();
	put_head(*out, &p);
	put_missing(*out, &p);
	put_found(*out, &p);
	put_look_for(*out, &p);
	put_served(*out, &p);
	put_notes(*out, &p);
	recall_fini(&p);
	return RC_OK;
}
