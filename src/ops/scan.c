/* scan.c - say what a scan is. */
#include "ops/scan.h"

#include <stdint.h>
#include <string.h>

#include "base/csv.h"
#include "base/jsonw.h"
#include "base/str.h"
#include "core/trade_item.h"
#include "store/portions.h"

static const char *
area_name(void *ctx, const char *code)
{
	const struct station *sn = ctx;
	const struct area *a;

	return area_find(&a, &sn->areas, code, NULL) == RC_OK ? a->name : NULL;
}

static const char *
gear_name(void *ctx, const char *code)
{
	const struct station *sn = ctx;
	struct gear_found g;

	if (gear_find(&g, &sn->gears, code, NULL) != RC_OK || g.gear == NULL)
		return NULL;
	return g.gear->name;
}

enum rc
scan_reader(struct gs1_reader *out, const struct station *sn, struct err *err)
{
	const char *sep = sn->cfg.separator;

	memset(out, 0, sizeof(*out));
	out->today = local_from_utc(clock_now(&sn->clock)).day;
	out->own_prefix = sn->cfg.gs1_prefix;
	out->names.species = &sn->species;
	out->names.area = area_name;
	out->names.gear = gear_name;
	out->names.ctx = (void *)(uintptr_t)sn; /* read only */
	if (str_eq(sep, "none"))
		return RC_OK;
	if (strlen(sep) != 1 || !gs1_separator_ok(sep[0]))
		return err_set(err, RC_INVALID, 0,
		    "%s: [scanner] separator = %s: must be none or one of "
		    "$ @ ^ ` { | } ~, which no GS1 value can hold",
		    sn->cfg.path, sep);
	out->separator = sep[0];
	return RC_OK;
}

/* --- our own labels --------------------------------------------------------*/

static const char *
value_of(const struct gs1_scan *s, const char *ai)
{
	size_t i;

	for (i = 0; i < s->count; i++)
		if (str_eq(s->elements[i].ai, ai))
			return s->elements[i].value;
	return NULL;
}

/* The check characters of a label are right; is it the record's own? */
static enum rc
check_record(struct station *sn, const struct gs1_scan *s, const char *code,
    struct err *err)
{
	const char *batch = value_of(s, "10");
	char gtin[TRADE_ITEM_GTIN + 1], shown[CODE_SIZE];
	struct portion p;
	enum rc rc;

	if ((rc = portion_get(&p, sn->st, code, err)) != RC_OK)
		return rc;
	if (trade_item_gtin(gtin, sn->cfg.gs1_prefix, p.dish_id, NULL) !=
		RC_OK ||
	    !str_eq(gtin, value_of(s, "01")) ||
	    (batch != NULL && !str_eq(batch, p.batch)))
		return err_set(err, RC_INVALID, 0,
		    "the label scanned names portion %s with another dish or "
		    "batch than the record: it is not from this station, or "
		    "was read wrong",
		    code_show(shown, code));
	return RC_OK;
}

enum rc
scan_code(enum code_kind *kind, char code[CODE_SIZE], struct station *sn,
    const char *text, struct err *err)
{
	struct gs1_reader r;
	struct gs1_scan s;
	enum rc rc;

	if (!trade_item_prefix_given(sn->cfg.gs1_prefix))
		return code_parse(kind, code, text, err);
	if ((rc = scan_reader(&r, sn, err)) != RC_OK)
		return rc;
	gs1_read(&s, text, strlen(text), &r);
	if (s.kind == GS1_OWN_PORTION && s.count == 0)
		return err_set(
		    err, RC_INVALID, 0, "%s", gs1_first_problem(&s)->text);
	if (s.kind != GS1_OWN_PORTION || value_of(&s, "01") == NULL)
		return code_parse(kind, code, text, err);
	*kind = CODE_PORTION;
	str_copy(code, CODE_SIZE, value_of(&s, "21"));
	return check_record(sn, &s, code, err);
}

/* --- what a scan is, in words ----------------------------------------------*/

static void
write_json(struct buf *out, const struct gs1_scan *s)
{
	struct jsonw *w = jsonw_new_object();
	size_t i;

	jsonw_str(w, "kind", gs1_kind_word(s->kind));
	jsonw_bool(w, "valid", s->valid);
	jsonw_array(w, "elements");
	for (i = 0; i < s->count; i++) {
		jsonw_object(w, NULL);
		jsonw_str(w, "ai", s->elements[i].ai);
		jsonw_str(w, "title", s->elements[i].title);
		jsonw_str(w, "value", s->elements[i].value);
		jsonw_str(w, "meaning", s->elements[i].meaning);
		jsonw_end(w);
	}
	jsonw_end(w);
	jsonw_array(w, "problems");
	for (i = 0; i < s->problem_count; i++)
		jsonw_str(w, NULL, s->problems[i].text);
	jsonw_end(w);
	jsonw_dump(out, w, true);
	jsonw_free(w);
}

static void
write_csv(struct buf *out, const struct gs1_scan *s)
{
	const struct gs1_element *e;
	size_t i;

	buf_puts(out, "ai,title,value,meaning\r\n");
	for (i = 0; i < s->count; i++) {
		e = &s->elements[i];
		csv_quote(out, e->ai);
		buf_putc(out, ',');
		csv_quote(out, e->title);
		buf_putc(out, ',');
		csv_quote(out, e->value);
		buf_putc(out, ',');
		csv_quote(out, e->meaning);
		buf_puts(out, "\r\n");
	}
}

static const char *
kind_words(const struct gs1_scan *s)
{
	switch (s->kind) {
	case GS1_ELEMENT_STRING:
		return "GS1 element string";
	case GS1_EAN:
		return s->restricted ? "restricted circulation number"
				     : "trade item number";
	case GS1_DIGITAL_LINK:
		return "GS1 Digital Link";
	case GS1_OWN_BATCH:
		return "batch of this kitchen";
	case GS1_OWN_PORTION:
		return "portion of this kitchen";
	case GS1_UNKNOWN:
		break;
	}
	return "unknown";
}

/* Of a label of one's own "valid" would be read as said of the fish. */
static const char *
valid_words(const struct gs1_scan *s)
{
	if (!s->valid)
		return "NOT VALID";
	return s->kind == GS1_OWN_BATCH || s->kind == GS1_OWN_PORTION
	    ? "the code is in order"
	    : "valid";
}

static void
write_text(struct buf *out, const struct gs1_scan *s)
{
	const struct gs1_element *e;
	char ai[8];
	size_t i;

	buf_printf(out, "%s, %s\n", kind_words(s), valid_words(s));
	for (i = 0; i < s->count; i++) {
		e = &s->elements[i];
		str_fmt(ai, sizeof(ai), "%s%s%s", e->ai[0] == '\0' ? "" : "(",
		    e->ai, e->ai[0] == '\0' ? "" : ")");
		buf_printf(out, "  %-6s %-24s %s\n", ai, e->title, e->value);
		if (e->meaning[0] != '\0' && !str_eq(e->meaning, e->value))
			buf_printf(
			    out, "  %-6s %-24s = %s\n", "", "", e->meaning);
	}
	for (i = 0; i < s->problem_count; i++)
		buf_printf(out, "%s: %s\n",
		    s->problems[i].grade == GS1_NOTE ? "note" : "problem",
		    s->problems[i].text);
}

void
scan_write(struct buf *out, const struct gs1_scan *s, enum format format)
{
	switch (format) {
	case FORMAT_JSON:
		write_json(out, s);
		return;
	case FORMAT_CSV:
		write_csv(out, s);
		return;
	case FORMAT_TEXT:
		write_text(out, s);
		return;
	}
}

enum rc
scan_say(struct buf *out, const struct station *sn, const char *bytes,
    size_t len, enum format format, struct err *err)
{
	const struct gs1_problem *first;
	struct gs1_reader r;
	struct gs1_scan s;
	enum rc rc;

	if ((rc = scan_reader(&r, sn, err)) != RC_OK)
		return rc;
	gs1_read(&s, bytes, len, &r);
	scan_write(out, &s, format);
	if ((rc = buf_check(out, "the result", err)) != RC_OK)
		return rc;
	first = gs1_first_problem(&s);
	return first == NULL ? RC_OK
			     : err_set(err, RC_INVALID, 0, "%s", first->text);
}
