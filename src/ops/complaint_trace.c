/* complaint_trace.c - the chain a complaint keeps, and what changed since. */
#include "complaint_trace.h"

#include <inttypes.h>
#include <stdlib.h>
#include <string.h>

#include "base/jsonw.h"
#include "base/mem.h"
#include "base/str.h"
#include "ops/trace_page.h"
#include "report_load.h"

/* --- written --------------------------------------------------------------*/

/* The chain of a code as `pinbone trace --json` gives it. */
static enum rc
put_chain(struct jsonw *w, const char *key, struct station *sn,
    const char *code, bool forward, struct err *err)
{
	struct trace_report r;
	struct buf text;
	enum rc rc;

	buf_init(&text, COMPLAINT_TRACE_MAX);
	rc = trace_report_load(&r, sn, code, forward, err);
	if (rc == RC_OK) {
		trace_write(&text, &r, FORMAT_JSON);
		rc = buf_check(&text, "the chain", err);
	}
	if (rc == RC_OK)
		jsonw_raw(w, key, buf_text(&text));
	trace_report_fini(&r);
	buf_fini(&text);
	return rc;
}

static enum rc
put_code(struct jsonw *w, struct station *sn, const struct complaint *c,
    struct err *err)
{
	enum code_kind kind;
	char code[CODE_SIZE], shown[CODE_SIZE];
	enum rc rc;

	jsonw_str(w, "code", code_show(shown, c->code));
	if ((rc = code_parse(&kind, code, c->code, err)) != RC_OK)
		return rc;
	if (kind == CODE_PORTION &&
	    (rc = put_chain(w, "back", sn, code, false, err)) != RC_OK)
		return rc;
	return put_chain(w, "forward", sn, code, true, err);
}

/* Certain is what was scanned out for the service; the rest was there. */
static enum rc
put_dish(struct jsonw *w, struct station *sn, const struct complaint *c,
    struct err *err)
{
	const struct trace_candidate *t;
	struct trace_guess g;
	char code[CODE_SIZE];
	size_t i;
	enum rc rc;

	rc = trace_guess_load(&g, sn, c->dish, c->service, err);
	if (rc != RC_OK)
		return rc;
	jsonw_str(w, "dish", g.dish.code);
	jsonw_str(w, "dish_name", g.dish.name);
	jsonw_str(w, "service", g.service.word);
	if (g.sold >= 0)
		jsonw_int(w, "sold", g.sold);
	else
		jsonw_null(w, "sold");
	jsonw_int(w, "scanned", g.scanned);
	jsonw_array(w, "batches");
	for (i = 0; i < g.count; i++) {
		t = &g.items[i];
		jsonw_object(w, NULL);
		jsonw_str(w, "batch", code_show(code, t->is.batch));
		jsonw_str(w, "sure", i < g.certain ? "certain" : "likely");
		jsonw_str(w, "species", t->species);
		jsonw_str(w, "supplier", t->is.supplier);
		jsonw_str(w, "lot", t->is.lot);
		jsonw_int(w, "scanned", t->is.scanned);
		jsonw_int(w, "on_hand", t->is.on_hand);
		if (t->is.use_by_utc != 0)
			jsonw_time(w, "use_by", t->is.use_by_utc);
		else
			jsonw_null(w, "use_by");
		jsonw_end(w);
	}
	jsonw_end(w);
	trace_guess_fini(&g);
	return RC_OK;
}

enum rc
complaint_trace_write(struct buf *out, struct station *sn,
    const struct complaint *c, struct err *err)
{
	struct jsonw *w = jsonw_new_object();
	enum rc rc;

	rc = c->code[0] != '\0' ? put_code(w, sn, c, err)
				: put_dish(w, sn, c, err);
	if (rc == RC_OK) {
		jsonw_dump(out, w, true);
		rc = buf_check(out, "the chain", err);
	}
	jsonw_free(w);
	return rc;
}

/* --- compared -------------------------------------------------------------*/

static void
changed(struct complaint_changes *l, const char *what, const char *then,
    const char *now)
{
	struct complaint_change *c, *more;

	if (str_eq(then, now))
		return;
	more = xcalloc(l->count + 1, sizeof(*more));
	if (l->count > 0)
		memcpy(more, l->items, l->count * sizeof(*more));
	free(l->items);
	l->items = more;
	c = &l->items[l->count++];
	str_fmt(c->what, sizeof(c->what), "%.79s", what);
	str_fmt(c->then, sizeof(c->then), "%.119s", then);
	str_fmt(c->now, sizeof(c->now), "%.119s", now);
}

/* Is a hold of it in force? */
static bool
is_held(const struct jsonr *r)
{
	const struct jsonr *h;
	size_t i;

	for (i = 0; (h = jsonr_item(r, "holds", i)) != NULL; i++)
		if (jsonr_str(h, "released")[0] == '\0')
			return true;
	return false;
}

static const char *
unit_words(char dst[120], const struct jsonr *u)
{
	if (u == NULL)
		return "";
	str_fmt(dst, 120,
	    "%" PRId64 " of %" PRId64 " left, %" PRId64 " served, %" PRId64
	    " discarded, %" PRId64 " missing, %s%s",
	    jsonr_int(u, "left"), jsonr_int(u, "servings"),
	    jsonr_int(u, "used"), jsonr_int(u, "discarded"),
	    jsonr_int(u, "missing"), jsonr_str(u, "keep"),
	    is_held(u) ? ", ON HOLD" : "");
	return dst;
}

static const struct jsonr *
find_item(const struct jsonr *r, const char *key, const char *member,
    const char *value)
{
	const struct jsonr *u;
	size_t i;

	for (i = 0; r != NULL && (u = jsonr_item(r, key, i)) != NULL; i++)
		if (str_eq(jsonr_str(u, member), value))
			return u;
	return NULL;
}

/* Rows of a list by one member of theirs, each in words. */
static void
compare_rows(struct complaint_changes *out, const struct jsonr *then,
    const struct jsonr *now, const char *list, const char *member,
    const char *(*words)(char dst[120], const struct jsonr *u))
{
	const struct jsonr *u, *v;
	char a[120] = "", b[120] = "";
	size_t i;

	for (i = 0; (u = jsonr_item(then, list, i)) != NULL; i++) {
		v = find_item(now, list, member, jsonr_str(u, member));
		changed(out, jsonr_str(u, member), words(a, u), words(b, v));
	}
	for (i = 0; (u = jsonr_item(now, list, i)) != NULL; i++)
		if (find_item(then, list, member, jsonr_str(u, member)) == NULL)
			changed(out, jsonr_str(u, member), "", words(b, u));
}

static const char *
grams_words(char dst[120], const struct jsonr *chain)
{
	const struct jsonr *g = jsonr_member(chain, "balance_g");

	dst[0] = '\0';
	if (g != NULL)
		str_fmt(dst, 120,
		    "%" PRId64 " g whole, %" PRId64 " g in portions, %" PRId64
		    " g discarded whole",
		    jsonr_int(g, "whole"), jsonr_int(g, "portions"),
		    jsonr_int(g, "discarded"));
	return dst;
}

static void
compare_chain(struct complaint_changes *out, const struct jsonr *then,
    const struct jsonr *now)
{
	const struct jsonr *a = jsonr_member(then, "batch");
	const struct jsonr *b = jsonr_member(now, "batch");
	char x[120], y[120];

	if (a == NULL || b == NULL)
		return;
	changed(out, jsonr_str(a, "code"),
	    is_held(a) ? "on hold" : "not on hold",
	    is_held(b) ? "on hold" : "not on hold");
	changed(out, jsonr_str(a, "code"), jsonr_str(a, "use_by"),
	    jsonr_str(b, "use_by"));
	changed(out, jsonr_str(a, "code"), grams_words(x, then),
	    grams_words(y, now));
	compare_rows(out, then, now, "portions", "code", unit_words);
}

static const char *
candidate_words(char dst[120], const struct jsonr *u)
{
	if (u == NULL)
		return "";
	str_fmt(dst, 120, "%s: %" PRId64 " scanned out, %" PRId64 " on hand",
	    jsonr_str(u, "sure"), jsonr_int(u, "scanned"),
	    jsonr_int(u, "on_hand"));
	return dst;
}

bool
complaint_compare(
    struct complaint_changes *out, const char *then, const char *now)
{
	struct jsonr *a = jsonr_open(then), *b = jsonr_open(now);
	const struct jsonr *x, *y;
	bool both = a != NULL && b != NULL;

	memset(out, 0, sizeof(*out));
	if (both) {
		x = jsonr_member(a, "forward");
		y = jsonr_member(b, "forward");
		if (x != NULL && y != NULL)
			compare_chain(out, x, y);
		compare_rows(out, a, b, "batches", "batch", candidate_words);
	}
	jsonr_close(a);
	jsonr_close(b);
	return both;
}

/* --- in words -------------------------------------------------------------*/

static void
line(struct buf *out, const char *name, const char *text)
{
	if (text[0] != '\0')
		buf_printf(out, "  %-12s %s\n", name, text);
}

static void
text_batch(struct buf *out, const struct jsonr *b)
{
	const struct jsonr *d = jsonr_member(b, "delivery");
	const struct jsonr *s = d == NULL ? NULL : jsonr_member(d, "supplier");
	char text[400], temp[32];

	str_fmt(text, sizeof(text), "%s  %s, %s%s", jsonr_str(b, "code"),
	    jsonr_str(b, "species"), jsonr_str(b, "presentation"),
	    is_held(b) ? ", ON HOLD" : "");
	line(out, "batch", text);
	if (s != NULL) {
		str_fmt(text, sizeof(text), "%s, %s", jsonr_str(s, "name"),
		    jsonr_str(s, "contact"));
		line(out, "supplier", text);
		line(out, "document", jsonr_str(d, "document"));
	}
	line(out, "lot", jsonr_str(b, "lot"));
	str_fmt(text, sizeof(text), "%.16s by %s at %s",
	    jsonr_str(b, "received"), jsonr_str(b, "by"),
	    temp_print(
		temp, sizeof(temp), (int)jsonr_int(b, "temperature_tenths_c")));
	line(out, "received", text);
	str_fmt(text, sizeof(text), "%.16s", jsonr_str(b, "use_by"));
	line(out, "use by", text);
}

static void
text_chain(struct buf *out, const struct jsonr *chain)
{
	const struct jsonr *b = jsonr_member(chain, "batch");
	const struct jsonr *u;
	char text[400], words[120];
	size_t i;

	if (b != NULL)
		text_batch(out, b);
	for (i = 0; (u = jsonr_item(chain, "breakdowns", i)) != NULL; i++) {
		str_fmt(text, sizeof(text),
		    "%" PRId64 ", %.16s by %s, %" PRId64 " portions",
		    jsonr_int(u, "breakdown"), jsonr_str(u, "at"),
		    jsonr_str(u, "by"), jsonr_int(u, "portions"));
		line(out, "breakdown", text);
	}
	for (i = 0; (u = jsonr_item(chain, "portions", i)) != NULL; i++) {
		str_fmt(text, sizeof(text), "%s  %.40s: %s",
		    jsonr_str(u, "code"), jsonr_str(u, "name"),
		    unit_words(words, u));
		line(out, "portion", text);
	}
}

static void
text_dish(struct buf *out, const struct jsonr *doc)
{
	const struct jsonr *u;
	char text[500], words[120];
	size_t i;

	for (i = 0; (u = jsonr_item(doc, "batches", i)) != NULL; i++) {
		str_fmt(text, sizeof(text), "%s  %s, %s, lot %s: %s",
		    jsonr_str(u, "batch"), jsonr_str(u, "species"),
		    jsonr_str(u, "supplier"), jsonr_str(u, "lot"),
		    candidate_words(words, u));
		line(out, "batch", text);
	}
	if (i == 0)
		line(out, "batch", "none on record fits");
}

void
complaint_trace_text(struct buf *out, const char *trace)
{
	struct jsonr *doc = jsonr_open(trace);
	const struct jsonr *chain;

	if (doc == NULL) {
		buf_puts(out, "  cannot be read\n");
		return;
	}
	chain = jsonr_member(doc, "forward");
	if (chain != NULL)
		text_chain(out, chain);
	else
		text_dish(out, doc);
	jsonr_close(doc);
}
