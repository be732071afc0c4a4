/* recall_page.c - a recall looked at, listed, on paper. */
#include <inttypes.h>
#include <stdlib.h>
#include <string.h>

#include "base/csv.h"
#include "base/jsonw.h"
#include "base/mem.h"
#include "base/str.h"
#include "ops/recall.h"
#include "print/lists.h"

enum rc
recall_load(
    struct recall_page *out, struct station *sn, int64_t id, struct err *err)
{
	struct store *st = sn->st;
	size_t i;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	out->kitchen = sn->cfg.kitchen;
	out->species = &sn->species;
	out->now_utc = clock_now(&sn->clock);
	if ((rc = recall_get(&out->recall, st, id, err)) != RC_OK ||
	    (rc = recall_items_open(&out->items, st, id, err)) != RC_OK ||
	    (rc = recall_uses_open(&out->uses, &out->use_count, st, id, err)) !=
		RC_OK ||
	    (rc = recall_loose_open(
		 &out->loose, &out->loose_count, st, id, err)) != RC_OK ||
	    (rc = recall_suppliers(&out->suppliers, &out->supplier_count, st,
		 id, err)) != RC_OK ||
	    (rc = recall_ticks_open(&out->ticks, st, id, err)) != RC_OK ||
	    (rc = hold_notes_recall(&out->notes, st, id, err)) != RC_OK)
		recall_fini(out);
	for (i = 0; rc == RC_OK && i < out->items.count; i++) {
		out->count.pull += recall_item_pull(&out->items.items[i]);
		out->count.missing +=
		    recall_item_missing(&out->items.items[i]) > 0;
	}
	out->count.found = out->count.pull - out->count.missing;
	return rc;
}

void
recall_fini(struct recall_page *p)
{
	recall_items_fini(&p->items);
	free(p->uses);
	free(p->loose);
	free(p->suppliers);
	recall_ticks_fini(&p->ticks);
	hold_notes_fini(&p->notes);
	memset(p, 0, sizeof(*p));
}

/* --- text -----------------------------------------------------------------*/

/* "Cod": the kitchen's name of a batch's species; a unit's dish. */
static const char *
name_of(const struct recall_page *p, const struct recall_item *i)
{
	const struct species *sp;

	if (i->subject.batch_id == 0)
		return i->name;
	sp = species_find(p->species, i->name);
	return sp == NULL ? i->name : sp->name;
}

static void
text_item(struct buf *out, const struct recall_page *p,
    const struct recall_item *i, const char *state)
{
	char code[CODE_SIZE], w[32], when[48];

	buf_printf(out, "  [%s] %-10s %s, ", state, code_show(code, i->code),
	    name_of(p, i));
	if (i->subject.batch_id != 0)
		buf_printf(
		    out, "whole, %s", weight_print(w, sizeof(w), i->weight_g));
	else
		buf_printf(out, "%" PRId64 " of %" PRId64 "%s", i->left,
		    i->made, i->frozen ? ", frozen" : "");
	if (i->also[0] != '\0')
		buf_printf(
		    out, ", of %s + %s", code_show(code, i->batch), i->also);
	buf_printf(out, "; %s", i->place);
	if (i->place_now[0] != '\0')
		buf_printf(out, ", moved to %s", i->place_now);
	if (i->found > 0 && i->subject.batch_id == 0)
		buf_printf(out, "; %" PRId64 " found", i->found);
	if (i->discarded > 0)
		buf_printf(out, "; %" PRId64 "%s discarded since", i->discarded,
		    i->subject.batch_id != 0 ? " g" : "");
	if (recall_item_missing(i) > 0 && i->last_utc != 0)
		buf_printf(out, "; last: %s %s", fate_word(i->last),
		    time_short(when, sizeof(when), i->last_utc));
	buf_putc(out, '\n');
}

static void
text_lines(struct buf *out, const struct recall_page *p, bool missing)
{
	const struct recall_item *i;
	size_t k;

	for (k = 0; k < p->items.count; k++) {
		i = &p->items.items[k];
		if (recall_item_pull(i) &&
		    (recall_item_missing(i) > 0) == missing)
			text_item(out, p, i, missing ? " " : "x");
	}
}

static void
text_ticks(struct buf *out, const struct recall_page *p)
{
	const struct recall_tick *t;
	char code[CODE_SIZE], when[48];
	size_t i;
	bool any = false;

	for (i = 0; i < p->ticks.count; i++) {
		t = &p->ticks.items[i];
		if (t->verdict == TICK_FOUND || t->verdict == TICK_AGAIN)
			continue;
		if (!any)
			buf_puts(out, "\nSCANNED, AND NOT TO BE EXPECTED\n");
		any = true;
		buf_printf(out, "  %-10s %s, %s: %s\n",
		    code_show(code, t->code),
		    time_minute(when, sizeof(when), t->at.utc), t->at.by,
		    t->says);
	}
}

static void
text_served(struct buf *out, const struct recall_page *p)
{
	const struct recall_use *u;
	char code[CODE_SIZE], when[48];
	size_t i;

	buf_printf(out, "\nSERVED %zu time%s\n", p->use_count,
	    p->use_count == 1 ? "" : "s");
	for (i = 0; i < p->use_count; i++) {
		u = &p->uses[i];
		buf_printf(out, "  %-10s %" PRId64 " of %s, %s%s%s\n",
		    code_show(code, u->code), u->servings, u->dish,
		    time_minute(when, sizeof(when), u->at.utc),
		    u->service[0] == '\0' ? "" : ", for ", u->service);
	}
}

static void
text_gone(struct buf *out, const struct recall_page *p)
{
	const struct recall_item *i;
	char code[CODE_SIZE];
	size_t k;
	bool any = false;

	for (k = 0; k < p->items.count; k++) {
		i = &p->items.items[k];
		if (i->thrown - i->discarded <= 0 && i->lost <= 0 && !i->struck)
			continue;
		if (!any)
			buf_puts(out, "\nGONE BEFORE IT WAS OPENED\n");
		any = true;
		buf_printf(
		    out, "  %-10s %s", code_show(code, i->code), i->name);
		if (i->thrown - i->discarded > 0)
			buf_printf(out, ", %" PRId64 " discarded",
			    i->thrown - i->discarded);
		if (i->lost > 0)
			buf_printf(out,
			    ", %" PRId64 " missing at a count: look for it",
			    i->lost);
		if (i->struck)
			buf_puts(out, ", struck out: look for its label");
		buf_putc(out, '\n');
	}
}

static void
text_loose(struct buf *out, const struct recall_page *p)
{
	const struct recall_loose *l;
	char code[CODE_SIZE], w[32];
	size_t i;

	if (p->loose_count > 0)
		buf_puts(out, "\nWITHOUT A LABEL: look for it\n");
	for (i = 0; i < p->loose_count; i++) {
		l = &p->loose[i];
		buf_printf(out, "  %-10s", code_show(code, l->batch));
		if (l->trim > 0)
			buf_printf(out, " trim %s and what was made of it%s",
			    weight_print(w, sizeof(w), l->trim),
			    l->frames > 0 ? ";" : "");
		if (l->frames > 0)
			buf_printf(out,
			    " heads and frames %s and stock of them",
			    weight_print(w, sizeof(w), l->frames));
		buf_putc(out, '\n');
	}
}

static void
text_end(struct buf *out, const struct recall_page *p)
{
	const struct recall *r = &p->recall;
	char when[48];
	size_t i;

	if (p->notes.count > 0)
		buf_puts(out, "\nNOTES\n");
	for (i = 0; i < p->notes.count; i++)
		buf_printf(out, "  %s by %s: %s\n",
		    time_minute(when, sizeof(when), p->notes.items[i].at.utc),
		    p->notes.items[i].at.by, p->notes.items[i].text);
	if (r->outcome != RECALL_OPEN)
		buf_printf(out,
		    "\nCLOSED %s by %s: %s, %" PRId64 " missing%s%s\n",
		    time_minute(when, sizeof(when), r->end.utc), r->end.by,
		    recall_outcome_word(r->outcome), r->lines_missing,
		    r->end_reason[0] == '\0' ? "" : "; ", r->end_reason);
	buf_puts(out,
	    "\nWhom to tell, and when, is for the operator and the "
	    "authority to decide,\nby the law of the place.\n");
}

static void
text_all(struct buf *out, const struct recall_page *p)
{
	const struct recall *r = &p->recall;
	char when[48];
	size_t i;

	buf_printf(out, "RECALL %" PRId64 "  %s   %s\n", r->id, r->what,
	    r->outcome == RECALL_OPEN ? "OPEN" : "closed");
	buf_printf(out, "  opened %s by %s, from %s: %s\n",
	    time_minute(when, sizeof(when), r->at.utc), r->at.by,
	    recall_origin_word(r->origin), r->reason);
	for (i = 0; i < p->supplier_count; i++)
		buf_printf(out, "  call %s%s%s\n", p->suppliers[i].name,
		    p->suppliers[i].contact[0] == '\0' ? "" : ": ",
		    p->suppliers[i].contact);
	buf_printf(out, "\nMISSING %" PRId64 " of %" PRId64 "\n",
	    p->count.missing, p->count.pull);
	text_lines(out, p, true);
	buf_printf(out, "\nFOUND %" PRId64 " of %" PRId64 "\n", p->count.found,
	    p->count.pull);
	text_lines(out, p, false);
	text_ticks(out, p);
	text_loose(out, p);
	text_served(out, p);
	text_gone(out, p);
	text_end(out, p);
}

/* --- JSON -----------------------------------------------------------------*/

static void
json_recall(struct jsonw *w, const struct recall *r)
{
	jsonw_int(w, "recall", r->id);
	jsonw_str(w, "what", r->what);
	jsonw_str(w, "from", recall_origin_word(r->origin));
	jsonw_str(w, "reason", r->reason);
	jsonw_time(w, "at", r->at.utc);
	jsonw_str(w, "by", r->at.by);
	jsonw_str(w, "state", recall_outcome_word(r->outcome));
	if (r->outcome == RECALL_OPEN)
		return;
	jsonw_time(w, "closed", r->end.utc);
	jsonw_str(w, "closed_by", r->end.by);
	jsonw_str(w, "closed_reason", r->end_reason);
	jsonw_int(w, "missing_when_closed", r->lines_missing);
}

static void
json_count(struct jsonw *w, const struct recall_count *c)
{
	jsonw_int(w, "to_pull", c->pull);
	jsonw_int(w, "found", c->found);
	jsonw_int(w, "missing", c->missing);
}

static void
json_item(struct jsonw *w, const struct recall_item *i)
{
	char code[CODE_SIZE];

	jsonw_object(w, NULL);
	jsonw_str(w, "code", code_show(code, i->code));
	jsonw_str(w, "kind", i->subject.batch_id != 0 ? "batch" : "portion");
	jsonw_str(w, "batch", code_show(code, i->batch));
	jsonw_str(w, "mixed_with", i->also);
	jsonw_str(w, "name", i->name);
	jsonw_int(w, "left", i->left);
	if (i->subject.batch_id != 0)
		jsonw_int(w, "weight_g", i->weight_g);
	jsonw_bool(w, "to_pull", recall_item_pull(i));
	jsonw_str(w, "place", i->place);
	jsonw_str(w, "moved_to", i->place_now);
	jsonw_bool(w, "frozen", i->frozen);
	jsonw_int(w, "found", i->found);
	jsonw_int(w, "missing", recall_item_missing(i));
	jsonw_int(w, "used", i->used);
	jsonw_int(w, "discarded_before",
	    i->thrown - i->discarded > 0 ? i->thrown - i->discarded : 0);
	jsonw_int(w, "discarded_since", i->discarded);
	jsonw_int(w, "missing_at_a_count", i->lost);
	jsonw_int(w, "onto_other_trays", i->combined);
	jsonw_bool(w, "struck", i->struck);
	jsonw_end(w);
}

static void
json_rest(struct jsonw *w, const struct recall_page *p)
{
	char code[CODE_SIZE];
	size_t i;

	jsonw_array(w, "served");
	for (i = 0; i < p->use_count; i++) {
		jsonw_object(w, NULL);
		jsonw_str(w, "code", code_show(code, p->uses[i].code));
		jsonw_str(w, "dish", p->uses[i].dish);
		jsonw_int(w, "servings", p->uses[i].servings);
		jsonw_str(w, "service", p->uses[i].service);
		jsonw_time(w, "at", p->uses[i].at.utc);
		jsonw_end(w);
	}
	jsonw_end(w);
	jsonw_array(w, "scans");
	for (i = 0; i < p->ticks.count; i++) {
		jsonw_object(w, NULL);
		jsonw_str(w, "code", code_show(code, p->ticks.items[i].code));
		jsonw_str(w, "verdict",
		    recall_verdict_word(p->ticks.items[i].verdict));
		jsonw_int(w, "found", p->ticks.items[i].found);
		jsonw_str(w, "says", p->ticks.items[i].says);
		jsonw_time(w, "at", p->ticks.items[i].at.utc);
		jsonw_str(w, "by", p->ticks.items[i].at.by);
		jsonw_end(w);
	}
	jsonw_end(w);
	jsonw_array(w, "without_label");
	for (i = 0; i < p->loose_count; i++) {
		jsonw_object(w, NULL);
		jsonw_str(w, "batch", code_show(code, p->loose[i].batch));
		jsonw_int(w, "trim_g", p->loose[i].trim);
		jsonw_int(w, "frames_g", p->loose[i].frames);
		jsonw_end(w);
	}
	jsonw_end(w);
	jsonw_array(w, "notes");
	for (i = 0; i < p->notes.count; i++) {
		jsonw_object(w, NULL);
		jsonw_str(w, "text", p->notes.items[i].text);
		jsonw_time(w, "at", p->notes.items[i].at.utc);
		jsonw_str(w, "by", p->notes.items[i].at.by);
		jsonw_end(w);
	}
	jsonw_end(w);
}

static void
json_all(struct buf *out, const struct recall_page *p)
{
	struct jsonw *w = jsonw_new_object();
	size_t i;

	json_recall(w, &p->recall);
	json_count(w, &p->count);
	jsonw_array(w, "suppliers");
	for (i = 0; i < p->supplier_count; i++) {
		jsonw_object(w, NULL);
		jsonw_str(w, "name", p->suppliers[i].name);
		jsonw_str(w, "contact", p->suppliers[i].contact);
		jsonw_end(w);
	}
	jsonw_end(w);
	jsonw_array(w, "lines");
	for (i = 0; i < p->items.count; i++)
		json_item(w, &p->items.items[i]);
	jsonw_end(w);
	json_rest(w, p);
	jsonw_dump(out, w, true);
	jsonw_free(w);
}

static void
csv_all(struct buf *out, const struct recall_page *p)
{
	const struct recall_item *i;
	char code[CODE_SIZE];
	size_t k;

	buf_puts(out,
	    "code,batch,name,left,weight_g,place,found,missing,used,"
	    "discarded_since,mixed_with\r\n");
	for (k = 0; k < p->items.count; k++) {
		i = &p->items.items[k];
		buf_printf(out, "%s,", code_show(code, i->code));
		buf_printf(out, "%s,", code_show(code, i->batch));
		csv_quote(out, i->name);
		buf_printf(
		    out, ",%" PRId64 ",%" PRId64 ",", i->left, i->weight_g);
		csv_quote(
		    out, i->place_now[0] != '\0' ? i->place_now : i->place);
		buf_printf(out,
		    ",%" PRId64 ",%" PRId64 ",%" PRId64 ",%" PRId64 ",%s\r\n",
		    i->found, recall_item_missing(i), i->used, i->discarded,
		    i->also);
	}
}

enum rc
recall_show(struct buf *out, struct station *sn, int64_t id, enum format format,
    struct err *err)
{
	struct recall_page p;
	enum rc rc = recall_load(&p, sn, id, err);

	if (rc != RC_OK)
		return rc;
	(format == FORMAT_JSON         ? json_all
		: format == FORMAT_CSV ? csv_all
				       : text_all)(out, &p);
	recall_fini(&p);
	return buf_check(out, "the recall", err);
}

/* --- all of them ----------------------------------------------------------*/

enum rc
recall_briefs(struct recall_brief_list *out, struct station *sn, bool open,
    struct err *err)
{
	struct recall_list l;
	size_t i;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	if ((rc = recall_list_open(&l, sn->st, open, RECALLS_MAX, err)) !=
	    RC_OK)
		return rc;
	out->items = xcalloc(l.count, sizeof(*out->items));
	out->count = l.count;
	for (i = 0; i < l.count && rc == RC_OK; i++) {
		out->items[i].recall = l.items[i];
		rc = recall_counted(
		    &out->items[i].count, sn->st, l.items[i].id, err);
	}
	recall_list_fini(&l);
	if (rc != RC_OK)
		recall_briefs_fini(out);
	return rc;
}

void
recall_briefs_fini(struct recall_brief_list *l)
{
	free(l->items);
	memset(l, 0, sizeof(*l));
}

static void
list_text(struct buf *out, const struct recall_brief_list *l)
{
	const struct recall_brief *b;
	char when[48];
	size_t i;

	if (l->count == 0)
		buf_puts(out, "no recall was ever opened\n");
	for (i = 0; i < l->count; i++) {
		b = &l->items[i];
		buf_printf(out, "%3" PRId64 "  %s  %-9s %s: ", b->recall.id,
		    time_minute(when, sizeof(when), b->recall.at.utc),
		    recall_outcome_word(b->recall.outcome), b->recall.what);
		buf_printf(out,
		    b->recall.outcome == RECALL_OPEN
			? "%" PRId64 " of %" PRId64 " missing\n"
			: "%" PRId64 " of %" PRId64 " missing when closed\n",
		    b->recall.outcome == RECALL_OPEN ? b->count.missing
						     : b->recall.lines_missing,
		    b->count.pull);
	}
}

enum rc
recall_list(
    struct buf *out, struct station *sn, enum format format, struct err *err)
{
	struct recall_brief_list l;
	struct jsonw *w;
	size_t i;
	enum rc rc = recall_briefs(&l, sn, false, err);

	if (rc != RC_OK)
		return rc;
	if (format != FORMAT_JSON) {
		list_text(out, &l);
	} else {
		w = jsonw_new_object();
		jsonw_array(w, "recalls");
		for (i = 0; i < l.count; i++) {
			jsonw_object(w, NULL);
			json_recall(w, &l.items[i].recall);
			json_count(w, &l.items[i].count);
			jsonw_end(w);
		}
		jsonw_end(w);
		jsonw_dump(out, w, true);
		jsonw_free(w);
	}
	recall_briefs_fini(&l);
	return buf_check(out, "the list", err);
}
