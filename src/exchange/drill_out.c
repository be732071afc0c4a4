/* drill_out.c - a recall in play, for programs and for the record. */
#include "exchange/drill_out.h"

#include <inttypes.h>
#include <string.h>

#include "base/clock.h"
#include "base/jsonw.h"
#include "base/str.h"

bool
drill_found(const struct drill_report *r)
{
	return r->back == r->units && mass_open(&r->mass) == 0;
}

/* Rounded up: a time is never said to be shorter than it was. */
char *
drill_time(char *dst, size_t size, int64_t us)
{
	int64_t ms = div_up(us, 1000);

	str_fmt(dst, size, "%" PRId64 ".%03d s", ms / 1000, (int)(ms % 1000));
	return dst;
}

static void
json_grams(struct jsonw *w, const struct mass *m)
{
	int i;

	jsonw_object(w, "grams");
	jsonw_int(w, "in", m->in);
	for (i = 0; i < MASS_PARTS; i++)
		jsonw_int(w, mass_word((enum mass_part)i), m->part[i]);
	jsonw_int(w, "unexplained", m->unexplained);
	jsonw_int(w, "explained", m->explained);
	jsonw_int(w, "open", mass_open(m));
	jsonw_end(w);
}

void
drill_json(struct buf *out, const struct drill_report *r)
{
	struct jsonw *w = jsonw_new_object();
	char code[CODE_SIZE];

	if (r->id != 0)
		jsonw_int(w, "drill", r->id);
	jsonw_str(w, "kitchen", r->kitchen);
	jsonw_str(w, "batch", code_show(code, r->batch));
	if (r->has_seed)
		jsonw_int(w, "seed", r->seed);
	else
		jsonw_null(w, "seed");
	jsonw_int(w, "took_us", r->took_us);
	jsonw_int(w, "goal_us", DRILL_GOAL_US);
	jsonw_str(w, "species", r->species);
	jsonw_str(w, "supplier", r->supplier);
	jsonw_str(w, "contact", r->contact);
	jsonw_str(w, "lot", r->lot);
	jsonw_str(w, "document", r->document);
	jsonw_int(w, "received_utc", r->received_utc);
	jsonw_int(w, "held", r->held);
	jsonw_int(w, "breakdowns", r->breakdowns);
	jsonw_int(w, "services", r->services);
	jsonw_int(w, "units", r->units);
	jsonw_int(w, "led_back", r->back);
	jsonw_int(w, "units_on_hand", r->units_on_hand);
	jsonw_int(w, "servings_on_hand", r->on_hand);
	jsonw_int(w, "servings_served", r->used);
	jsonw_int(w, "servings_discarded", r->discarded);
	jsonw_int(w, "servings_missing", r->missing);
	json_grams(w, &r->mass);
	jsonw_str(w, "gap", r->gap);
	jsonw_bool(w, "accounted", drill_found(r));
	jsonw_int(w, "at_utc", r->at_utc);
	jsonw_time(w, "at", r->at_utc);
	jsonw_str(w, "by", r->by);
	jsonw_dump(out, w, true);
	jsonw_free(w);
}

static void
text(char *dst, size_t size, const struct jsonr *r, const char *key)
{
	str_fmt(dst, size, "%s", jsonr_str(r, key));
}

static void
read_numbers(struct drill_report *out, const struct jsonr *r)
{
	out->seed = jsonr_int(r, "seed");
	out->has_seed = out->seed != 0;
	out->took_us = jsonr_int(r, "took_us");
	out->received_utc = jsonr_int(r, "received_utc");
	out->held = jsonr_int(r, "held") != 0;
	out->breakdowns = jsonr_int(r, "breakdowns");
	out->services = jsonr_int(r, "services");
	out->units = jsonr_int(r, "units");
	out->back = jsonr_int(r, "led_back");
	out->units_on_hand = jsonr_int(r, "units_on_hand");
	out->on_hand = jsonr_int(r, "servings_on_hand");
	out->used = jsonr_int(r, "servings_served");
	out->discarded = jsonr_int(r, "servings_discarded");
	out->missing = jsonr_int(r, "servings_missing");
	out->at_utc = jsonr_int(r, "at_utc");
}

enum rc
drill_read(struct drill_report *out, const char *json, struct err *err)
{
	struct jsonr *doc = jsonr_open(json);
	const struct jsonr *g;
	enum code_kind kind;
	int i;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	if (doc == NULL || (g = jsonr_member(doc, "grams")) == NULL) {
		jsonr_close(doc);
		return err_set(
		    err, RC_FAILED, 0, "the drill's report cannot be read");
	}
	rc = code_parse(&kind, out->batch, jsonr_str(doc, "batch"), err);
	text(out->kitchen, sizeof(out->kitchen), doc, "kitchen");
	text(out->species, sizeof(out->species), doc, "species");
	text(out->supplier, sizeof(out->supplier), doc, "supplier");
	text(out->contact, sizeof(out->contact), doc, "contact");
	text(out->lot, sizeof(out->lot), doc, "lot");
	text(out->document, sizeof(out->document), doc, "document");
	text(out->gap, sizeof(out->gap), doc, "gap");
	text(out->by, sizeof(out->by), doc, "by");
	read_numbers(out, doc);
	out->mass.in = jsonr_int(g, "in");
	for (i = 0; i < MASS_PARTS; i++)
		out->mass.part[i] = jsonr_int(g, mass_word((enum mass_part)i));
	out->mass.unexplained = jsonr_int(g, "unexplained");
	out->mass.explained = jsonr_int(g, "explained");
	jsonr_close(doc);
	return rc;
}
