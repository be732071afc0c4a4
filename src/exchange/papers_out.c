/* papers_out.c - is a delivery's record complete, law by law? */
#include "exchange/papers_out.h"

#include <inttypes.h>

#include "base/clock.h"
#include "base/csv.h"
#include "base/jsonw.h"
#include "base/str.h"

static const char *
state_word(enum paper_state s)
{
	static const char *const words[] = {
		[PAPER_HAVE] = "there",
		[PAPER_MISSING] = "MISSING",
		[PAPER_NOT_NEEDED] = "not needed",
	};

	return words[s];
}

/* What to do about a datum that is missing. */
static char *
what_to_do(
    char *dst, size_t size, const struct batch *b, const struct paper_line *l)
{
	char code[CODE_SIZE];

	if (l->datum == DATUM_RECEIVER)
		str_copy(dst, size, "set [station] address in the settings");
	else if (l->datum == DATUM_DISPATCHER)
		str_copy(dst, size,
		    "bring the supplier's address in: pinbone import "
		    "suppliers");
	else
		str_fmt(dst, size,
		    "ask the supplier, then: pinbone papers say %s %s TEXT",
		    code_show(code, b->code), paper_datum_word(l->datum));
	return dst;
}

/* One law: its lines are together. */
static size_t
law_end(const struct papers_batch *b, size_t from, size_t *missing)
{
	size_t i = from;

	*missing = 0;
	for (;
	     i < b->line_count && str_eq(b->lines[i].rule, b->lines[from].rule);
	     i++)
		*missing += b->lines[i].state == PAPER_MISSING;
	return i;
}

static void
text_line(
    struct buf *out, const struct papers_batch *b, const struct paper_line *l)
{
	char todo[160];
	const char *value = b->value[l->datum];

	buf_printf(out, "    %-4s %-11s %s%s%s\n", l->field,
	    state_word(l->state), l->words,
	    l->state == PAPER_HAVE && value[0] != '\0' ? ": " : "",
	    l->state == PAPER_HAVE ? value : "");
	if (l->state == PAPER_MISSING)
		buf_printf(out, "                     %s\n",
		    what_to_do(todo, sizeof(todo), &b->batch, l));
}

static void
text_batch(struct buf *out, const struct papers_report *r,
    const struct papers_batch *b)
{
	const struct species *sp = species_find(r->species, b->batch.species);
	char code[CODE_SIZE], when[48];
	size_t i, end, missing;

	buf_printf(out, "\nBATCH %s  %s, %s, document %s, %s\n",
	    code_show(code, b->batch.code),
	    sp == NULL ? b->batch.species : sp->name, b->batch.supplier.name,
	    b->batch.document,
	    time_minute(when, sizeof(when), b->batch.received.utc));
	for (i = 0; i < b->line_count; i = end) {
		end = law_end(b, i, &missing);
		if (missing == 0)
			buf_printf(out, "  %s: complete\n", b->lines[i].rule);
		else
			buf_printf(out, "  %s: INCOMPLETE, %zu missing\n",
			    b->lines[i].rule, missing);
		for (; i < end; i++)
			text_line(out, b, &b->lines[i]);
	}
}

static void
papers_text(struct buf *out, const struct papers_report *r)
{
	char when[48];
	size_t i, whole = 0;

	buf_printf(out, "PAPERS  %s   %s, %s\n", r->asked,
	    time_minute(when, sizeof(when), r->now_utc), r->kitchen);
	for (i = 0; i < r->count; i++)
		whole += r->items[i].missing == 0;
	buf_printf(out, "  laws of rule set %s%s: %zu of %zu complete\n",
	    r->rule_set, r->all ? " and all others" : "", whole, r->count);
	for (i = 0; i < r->count; i++)
		text_batch(out, r, &r->items[i]);
	if (r->cut)
		buf_puts(out, "\nthere are more batches than that\n");
	buf_puts(out,
	    "\nOnly whether a datum is there is looked at, not whether it is "
	    "true.  Local law and\nthe kitchen's own food safety plan rule.\n");
}

static void
json_batch(struct jsonw *w, const struct papers_batch *b)
{
	const struct paper_line *l;
	char code[CODE_SIZE], todo[160];
	size_t i;

	jsonw_object(w, NULL);
	jsonw_str(w, "code", code_show(code, b->batch.code));
	jsonw_str(w, "species", b->batch.species);
	jsonw_str(w, "supplier", b->batch.supplier.name);
	jsonw_str(w, "document", b->batch.document);
	jsonw_time(w, "received", b->batch.received.utc);
	jsonw_bool(w, "complete", b->missing == 0);
	jsonw_int(w, "missing", (int64_t)b->missing);
	jsonw_array(w, "data");
	for (i = 0; i < b->line_count; i++) {
		l = &b->lines[i];
		jsonw_object(w, NULL);
		jsonw_str(w, "rule", l->rule);
		jsonw_str(w, "field", l->field);
		jsonw_str(w, "asks", l->words);
		jsonw_str(w, "datum", paper_datum_word(l->datum));
		jsonw_str(w, "state",
		    l->state == PAPER_MISSING ? "missing"
					      : state_word(l->state));
		if (l->state == PAPER_HAVE)
			jsonw_str(w, "value", b->value[l->datum]);
		if (l->state == PAPER_MISSING)
			jsonw_str(w, "do",
			    what_to_do(todo, sizeof(todo), &b->batch, l));
		jsonw_end(w);
	}
	jsonw_end(w);
	jsonw_end(w);
}

static void
papers_json(struct buf *out, const struct papers_report *r)
{
	struct jsonw *w = jsonw_new_object();
	size_t i;

	jsonw_str(w, "of", r->asked);
	jsonw_time(w, "now", r->now_utc);
	jsonw_str(w, "rule_set", r->rule_set);
	jsonw_bool(w, "all_laws", r->all);
	jsonw_bool(w, "cut", r->cut);
	jsonw_array(w, "batches");
	for (i = 0; i < r->count; i++)
		json_batch(w, &r->items[i]);
	jsonw_end(w);
	jsonw_dump(out, w, true);
	jsonw_free(w);
}

static void
papers_csv(struct buf *out, const struct papers_report *r)
{
	const struct papers_batch *b;
	const struct paper_line *l;
	char code[CODE_SIZE];
	size_t i, k;

	buf_puts(
	    out, "batch,supplier,document,rule,field,datum,state,value\r\n");
	for (i = 0; i < r->count; i++) {
		b = &r->items[i];
		for (k = 0; k < b->line_count; k++) {
			l = &b->lines[k];
			buf_printf(out, "%s,", code_show(code, b->batch.code));
			csv_quote(out, b->batch.supplier.name);
			buf_putc(out, ',');
			csv_quote(out, b->batch.document);
			buf_putc(out, ',');
			csv_quote(out, l->rule);
			buf_printf(out, ",%s,%s,%s,", l->field,
			    paper_datum_word(l->datum), state_word(l->state));
			csv_quote(out,
			    l->state == PAPER_HAVE ? b->value[l->datum] : "");
			buf_puts(out, "\r\n");
		}
	}
}

void
papers_write(struct buf *out, const struct papers_report *r, enum format format)
{
	switch (format) {
	case FORMAT_TEXT:
		papers_text(out, r);
		break;
	case FORMAT_JSON:
		papers_json(out, r);
		break;
	case FORMAT_CSV:
		papers_csv(out, r);
		break;
	}
}
