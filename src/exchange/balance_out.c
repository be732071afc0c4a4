/* balance_out.c - where grams went, for people and programs. */
#include "exchange/balance_out.h"

#include <inttypes.h>

#include "base/clock.h"
#include "base/csv.h"
#include "base/jsonw.h"
#include "base/str.h"

static const char *
species_name(const struct species_table *t, const char *code)
{
	const struct species *sp = species_find(t, code);

	return sp == NULL ? code : sp->name;
}

static void
line(struct buf *out, const char *what, grams g)
{
	char w[32];

	buf_printf(out, "  %-30s %12s\n", what, weight_print(w, sizeof(w), g));
}

void
balance_text_mass(struct buf *out, const struct mass *m)
{
	int i;

	line(out, "in", m->in);
	for (i = 0; i < MASS_PARTS; i++)
		if (m->part[i] != 0)
			line(out, mass_words((enum mass_part)i), m->part[i]);
	if (m->explained != 0)
		line(out, "explained by a person", m->explained);
	if (mass_open(m) < 0)
		line(out, "OVERWEIGHT (scale or ice)", mass_open(m));
	else
		line(out, mass_open(m) > 0 ? "UNEXPLAINED" : "unexplained",
		    mass_open(m));
}

static void
text_prep(struct buf *out, const struct balance_prep *p)
{
	char code[CODE_SIZE], when[48], w[32];

	buf_printf(out, "\nBREAKDOWN %" PRId64 "  %s by %s, %s", p->id,
	    time_minute(when, sizeof(when), p->at.utc), p->at.by,
	    code_show(code, p->batch));
	if (p->inputs > 1)
		buf_printf(out, " and %zu more", p->inputs - 1);
	buf_putc(out, '\n');
	if (p->of_g != p->mass.in)
		buf_printf(out, "  its share by weight of %s weighed in\n",
		    weight_print(w, sizeof(w), p->of_g));
	balance_text_mass(out, &p->mass);
	if (p->reason[0] != '\0')
		buf_printf(out, "  because: %s\n", p->reason);
}

static void
text_batch(struct buf *out, const struct balance_report *r,
    const struct balance_batch *b)
{
	char code[CODE_SIZE];

	buf_printf(out, "\nBATCH %s  %s, %s\n", code_show(code, b->code),
	    species_name(r->species, b->species), b->supplier);
	balance_text_mass(out, &b->mass);
	if (b->reason[0] != '\0')
		buf_printf(out, "  because: %s\n", b->reason);
}

static void
balance_text(struct buf *out, const struct balance_report *r)
{
	char when[48];
	size_t i;

	buf_printf(out, "BALANCE  %s   %s, %s\n", r->title,
	    time_minute(when, sizeof(when), r->now_utc), r->kitchen);
	for (i = 0; i < r->batch_count; i++)
		text_batch(out, r, &r->batches[i]);
	if (r->batch_count == 0)
		buf_puts(out, "\nno batch came in\n");
	if (r->batch_count > 1) {
		buf_printf(out, "\nALL %zu BATCHES\n", r->batch_count);
		balance_text_mass(out, &r->total);
	}
	if (r->cut)
		buf_puts(out,
		    "\nthere are more batches than that: ask for fewer days\n");
	for (i = 0; i < r->prep_count; i++)
		text_prep(out, &r->preps[i]);
	if (r->of_day && r->prep_count == 0)
		buf_puts(out, "\nno breakdown was made\n");
}

static void
json_mass(struct jsonw *w, const char *key, const struct mass *m)
{
	int i;

	jsonw_object(w, key);
	jsonw_int(w, "in", m->in);
	for (i = 0; i < MASS_PARTS; i++)
		jsonw_int(w, mass_word((enum mass_part)i), m->part[i]);
	jsonw_int(w, "unexplained", m->unexplained);
	jsonw_int(w, "explained", m->explained);
	jsonw_int(w, "open", mass_open(m));
	jsonw_end(w);
}

static void
json_preps(struct jsonw *w, const struct balance_report *r)
{
	const struct balance_prep *p;
	char code[CODE_SIZE];
	size_t i;

	jsonw_array(w, "breakdowns");
	for (i = 0; i < r->prep_count; i++) {
		p = &r->preps[i];
		jsonw_object(w, NULL);
		jsonw_int(w, "breakdown", p->id);
		jsonw_time(w, "at", p->at.utc);
		jsonw_str(w, "by", p->at.by);
		jsonw_str(w, "batch", code_show(code, p->batch));
		jsonw_int(w, "inputs", (int64_t)p->inputs);
		jsonw_int(w, "weighed_in_g", p->of_g);
		json_mass(w, "grams", &p->mass);
		jsonw_str(w, "reason", p->reason);
		jsonw_end(w);
	}
	jsonw_end(w);
}

static void
balance_json(struct buf *out, const struct balance_report *r)
{
	struct jsonw *w = jsonw_new_object();
	const struct balance_batch *b;
	char code[CODE_SIZE];
	size_t i;

	jsonw_str(w, "of", r->title);
	jsonw_time(w, "now", r->now_utc);
	jsonw_array(w, "batches");
	for (i = 0; i < r->batch_count; i++) {
		b = &r->batches[i];
		jsonw_object(w, NULL);
		jsonw_str(w, "code", code_show(code, b->code));
		jsonw_str(w, "species", b->species);
		jsonw_str(w, "supplier", b->supplier);
		json_mass(w, "grams", &b->mass);
		jsonw_str(w, "reason", b->reason);
		jsonw_end(w);
	}
	jsonw_end(w);
	json_mass(w, "total", &r->total);
	jsonw_bool(w, "cut", r->cut);
	json_preps(w, r);
	jsonw_dump(out, w, true);
	jsonw_free(w);
}

static void
csv_mass(struct buf *out, const struct mass *m)
{
	int i;

	buf_printf(out, ",%" PRId64, m->in);
	for (i = 0; i < MASS_PARTS; i++)
		buf_printf(out, ",%" PRId64, m->part[i]);
	buf_printf(
	    out, ",%" PRId64 ",%" PRId64 ",", m->unexplained, m->explained);
}

static void
balance_csv(struct buf *out, const struct balance_report *r)
{
	const struct balance_batch *b;
	const struct balance_prep *p;
	char code[CODE_SIZE];
	size_t i;
	int k;

	buf_puts(out, "kind,batch,breakdown,species,supplier,in");
	for (k = 0; k < MASS_PARTS; k++)
		buf_printf(out, ",%s", mass_word((enum mass_part)k));
	buf_puts(out, ",unexplained,explained,reason\r\n");
	for (i = 0; i < r->batch_count; i++) {
		b = &r->batches[i];
		buf_printf(
		    out, "batch,%s,,%s,", code_show(code, b->code), b->species);
		csv_quote(out, b->supplier);
		csv_mass(out, &b->mass);
		csv_quote(out, b->reason);
		buf_puts(out, "\r\n");
	}
	for (i = 0; i < r->prep_count; i++) {
		p = &r->preps[i];
		buf_printf(out, "breakdown,%s,%" PRId64 ",,",
		    code_show(code, p->batch), p->id);
		csv_mass(out, &p->mass);
		csv_quote(out, p->reason);
		buf_puts(out, "\r\n");
	}
}

void
balance_write(
    struct buf *out, const struct balance_report *r, enum format format)
{
	switch (format) {
	case FORMAT_TEXT:
		balance_text(out, r);
		break;
	case FORMAT_JSON:
		balance_json(out, r);
		break;
	case FORMAT_CSV:
		balance_csv(out, r);
		break;
	}
}

/* --- gaps -----------------------------------------------------------------*/

static void
gaps_text(struct buf *out, const struct gaps_report *r)
{
	char from[16], to[16], when[48], code[CODE_SIZE], what[48];
	const struct mass_gap *g;
	size_t i;

	buf_printf(out, "UNEXPLAINED  %s to %s   %s\n",
	    day_print(from, sizeof(from), r->from),
	    day_print(to, sizeof(to), r->to), r->kitchen);
	for (i = 0; i < r->gaps.count; i++) {
		g = &r->gaps.items[i];
		str_copy(what, sizeof(what), "left when used up");
		if (g->prep_id != 0)
			str_fmt(what, sizeof(what), "breakdown %" PRId64,
			    g->prep_id);
		buf_printf(out,
		    "  %7" PRId64 " g of %" PRId64 " g  %s  %s, %s%s, %s %s\n",
		    g->gap_g, g->in_g, code_show(code, g->batch), what,
		    species_name(r->species, g->species),
		    g->inputs > 1 ? " and more" : "",
		    time_minute(when, sizeof(when), g->at_utc), g->by);
	}
	if (r->cut)
		buf_puts(out, "  and older ones: ask for fewer days\n");
	if (r->gaps.count == 0)
		buf_puts(out, "  nothing: every gram has its place\n");
	else
		buf_puts(out,
		    "  say what became of them: pinbone balance explain "
		    "BREAKDOWN --reason TEXT\n");
}

static void
gaps_json(struct buf *out, const struct gaps_report *r)
{
	struct jsonw *w = jsonw_new_array();
	const struct mass_gap *g;
	char code[CODE_SIZE];
	size_t i;

	for (i = 0; i < r->gaps.count; i++) {
		g = &r->gaps.items[i];
		jsonw_object(w, NULL);
		if (g->prep_id != 0)
			jsonw_int(w, "breakdown", g->prep_id);
		else
			jsonw_null(w, "breakdown");
		jsonw_str(w, "batch", code_show(code, g->batch));
		jsonw_str(w, "species", g->species);
		jsonw_int(w, "in_g", g->in_g);
		jsonw_int(w, "unexplained_g", g->gap_g);
		jsonw_time(w, "at", g->at_utc);
		jsonw_str(w, "by", g->by);
		jsonw_end(w);
	}
	jsonw_dump(out, w, true);
	jsonw_free(w);
}

void
gaps_write(struct buf *out, const struct gaps_report *r, enum format format)
{
	const struct mass_gap *g;
	char code[CODE_SIZE], when[48];
	size_t i;

	if (format == FORMAT_TEXT) {
		gaps_text(out, r);
		return;
	}
	if (format == FORMAT_JSON) {
		gaps_json(out, r);
		return;
	}
	buf_puts(out, "batch,breakdown,species,in_g,unexplained_g,at,by\r\n");
	for (i = 0; i < r->gaps.count; i++) {
		g = &r->gaps.items[i];
		buf_printf(out, "%s,", code_show(code, g->batch));
		if (g->prep_id != 0)
			buf_printf(out, "%" PRId64, g->prep_id);
		buf_printf(out, ",%s,%" PRId64 ",%" PRId64 ",%s,", g->species,
		    g->in_g, g->gap_g,
		    time_rfc3339(when, sizeof(when), g->at_utc));
		csv_quote(out, g->by);
		buf_puts(out, "\r\n");
	}
}
