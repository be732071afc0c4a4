/* species_page.c - all the station knows of a species, with sources. */
#include "ops/species_page.h"

#include <inttypes.h>
#include <string.h>

#include "base/csv.h"
#include "base/jsonw.h"
#include "base/str.h"
#include "core/caution.h"
#include "yields_page.h"

static void
text_yields(struct buf *out, const struct station *sn, const struct species *sp)
{
	const struct yield_row *y;
	char p[32], low[32], high[32];
	size_t i;

	buf_puts(out, "\nYields, published (edible weight over bought)\n");
	for (i = 0; i < sn->yields.count; i++) {
		y = &sn->yields.items[i];
		if (!str_eq(y->species, sp->code))
			continue;
		buf_printf(out, "  %-8s to %-9s %7s  (%s to %s)%s\n",
		    yield_form_word(y->from), yield_form_word(y->to),
		    percent_print(p, sizeof(p), y->bp),
		    percent_print(low, sizeof(low), y->low_bp),
		    percent_print(high, sizeof(high), y->high_bp),
		    y->verified ? "" : "  unverified");
		buf_wrap(out, y->source, 29, 79);
	}
}

static void
text_sizes(struct buf *out, const struct station *sn, const struct species *sp)
{
	const struct size_row *r;
	char line[400];
	size_t i;
	bool any = false;

	for (i = 0; i < sn->sizes.count; i++) {
		r = &sn->sizes.items[i];
		if (!str_eq(r->species, sp->code))
			continue;
		if (!any)
			buf_puts(out,
			    "\nMinimum size (ask the supplier; local law "
			    "decides)\n");
		any = true;
		str_fmt(line, sizeof(line), "%d %s %s, %s: %s, %s%s",
		    r->minimum, size_measure_unit(r->measure),
		    size_measure_word(r->measure), r->where, r->source, r->date,
		    r->verified ? "" : ", unverified");
		buf_wrap(out, line, 2, 79);
	}
}

static void
text_seasons(
    struct buf *out, const struct station *sn, const struct species *sp)
{
	const struct season_row *r;
	char line[400], span[32];
	size_t i;
	bool any = false;

	for (i = 0; i < sn->seasons.count; i++) {
		r = &sn->seasons.items[i];
		if (!str_eq(r->species, sp->code))
			continue;
		if (!any)
			buf_puts(out, "\nSeason and condition\n");
		any = true;
		span[0] = '\0';
		if (r->from != 0)
			str_fmt(span, sizeof(span), " %02d-%02d to %02d-%02d",
			    r->from / 100, r->from % 100, r->to / 100,
			    r->to % 100);
		str_fmt(line, sizeof(line), "%s%s, %s, %s: %s%s",
		    season_kind_word(r->kind), span, r->where, r->status,
		    r->source, r->verified ? "" : ", unverified");
		buf_wrap(out, line, 2, 79);
	}
}

static void
text_ice(struct buf *out, const struct station *sn, const struct species *sp)
{
	const struct icelife *r;
	char line[400], t[32];
	size_t i;
	bool any = false;

	for (i = 0; i < sn->icelife.count; i++) {
		r = &sn->icelife.items[i];
		if (!str_eq(r->species, sp->code) || !r->use)
			continue;
		if (!any)
			buf_puts(out, "\nKeeps (quality, no safety promise)\n");
		any = true;
		str_fmt(line, sizeof(line),
		    "%s: %d to %d days at %s in %s (%s): %s",
		    icelife_form_word(r->form), r->low_x100 / 100,
		    r->high_x100 / 100,
		    temp_print(t, sizeof(t), r->temp_tenths), r->medium,
		    r->criterion, r->source);
		buf_wrap(out, line, 2, 79);
	}
}

static void
text_freshness(
    struct buf *out, const struct station *sn, const struct species *sp)
{
	const struct freshness_attribute *list[FRESHNESS_MARKS_MAX];
	struct freshness_fish fish = { .presentation = PRES_WHOLE };
	char line[700];
	size_t i, n;
	int g;

	fish.species = freshness_species_find(&sn->freshness_species, sp->code);
	if (fish.species == NULL)
		return;
	n = freshness_applies(list, &sn->freshness, &fish);
	if (n == 0)
		return;
	buf_printf(out, "\nFreshness, %s%s (receive --mark ATTRIBUTE=GRADE)\n",
	    freshness_group_word(fish.species->group),
	    fish.species->law ? "" : ", nearest table, a choice of ours");
	for (i = 0; i < n; i++) {
		buf_printf(out, "  %s\n", list[i]->name);
		for (g = 0; g < GRADE_COUNT; g++) {
			if (list[i]->grade[g].text[0] == '\0')
				continue;
			str_fmt(line, sizeof(line), "%s: %s%s",
			    freshness_grade_word((enum freshness_grade)g),
			    list[i]->grade[g].text,
			    list[i]->grade[g].verified ? "" : " (unverified)");
			buf_wrap(out, line, 4, 79);
		}
	}
}

static void
text_quality(
    struct buf *out, const struct station *sn, const struct species *sp)
{
	const struct qi_scheme *s;
	size_t i, n;

	for (n = 0; (s = qi_for_species(&sn->quality, sp->code, n)) != NULL;
	     n++) {
		buf_printf(out,
		    "\nQuality index, %s: 0 to %d (receive --points "
		    "ATTRIBUTE=N)\n ",
		    s->name, s->total);
		for (i = 0; i < s->attributes; i++)
			buf_printf(out, " %s %d%s", s->attribute[i].name,
			    s->attribute[i].max_points,
			    i + 1 < s->attributes ? "," : "\n");
		buf_wrap(out, s->source, 2, 79);
	}
}

static enum rc
page_text(struct buf *out, const struct station *sn, const struct species *sp,
    struct err *err)
{
	const char *cautions[CAUTIONS_MAX];
	int i, n;
	enum rc rc;

	buf_printf(out, "%s  %s (%s)\n", sp->code, sp->name, sp->scientific);
	buf_printf(out, "  %-12s %s", "body form", body_form_word(sp->form));
	if (sp->pieces > 0)
		buf_printf(out, ", %d %ss (%s)", sp->pieces, sp->piece_word,
		    sp->pieces_source);
	buf_printf(
	    out, "\n  %-12s %s\n", "allergen", allergen_word(sp->allergen));
	buf_printf(out, "  %-12s %s\n", "histamine",
	    sp->histamine ? "can form when warm"
			  : "not of the listed families");
	if (figure_words_have(
		&sn->rules.set.figures[FIG_EXEMPT_SPECIES], sp->code) ||
	    figure_words_have(&sn->rules.set.figures[FIG_EXEMPT_FORMS],
		body_form_word(sp->form)))
		buf_printf(out, "  %-12s exempt from parasite freezing (%s)\n",
		    "served raw", sn->rules.set.name);
	else
		buf_printf(out, "  %-12s needs a parasite-freeze record (%s)\n",
		    "served raw", sn->rules.set.name);
	if (sp->note[0] != '\0')
		buf_wrap(out, sp->note, 2, 79);
	n = caution_list(cautions, sp, PRES_WHOLE);
	for (i = 0; i < n; i++)
		buf_printf(out, "  caution: %s\n", cautions[i]);
	text_yields(out, sn, sp);
	if ((rc = yields_text(out, sn, sp, err)) != RC_OK)
		return rc;
	text_ice(out, sn, sp);
	text_sizes(out, sn, sp);
	text_seasons(out, sn, sp);
	text_freshness(out, sn, sp);
	text_quality(out, sn, sp);
	buf_putc(out, '\n');
	buf_wrap(out, caution_general(), 0, 79);
	return RC_OK;
}

static enum rc
page_json(struct buf *out, const struct station *sn, const struct species *sp,
    struct err *err)
{
	struct jsonw *w = jsonw_new_object();
	const struct yield_row *y;
	size_t i;
	enum rc rc;

	jsonw_str(w, "species", sp->code);
	jsonw_str(w, "name", sp->name);
	jsonw_str(w, "scientific", sp->scientific);
	jsonw_str(w, "body_form", body_form_word(sp->form));
	jsonw_int(w, "pieces", sp->pieces);
	jsonw_str(w, "piece", sp->piece_word);
	jsonw_str(w, "allergen", allergen_word(sp->allergen));
	jsonw_bool(w, "histamine", sp->histamine);
	jsonw_array(w, "yields");
	for (i = 0; i < sn->yields.count; i++) {
		y = &sn->yields.items[i];
		if (!str_eq(y->species, sp->code))
			continue;
		jsonw_object(w, NULL);
		jsonw_str(w, "from", yield_form_word(y->from));
		jsonw_str(w, "to", yield_form_word(y->to));
		jsonw_int(w, "per_10000", y->bp);
		jsonw_int(w, "low_per_10000", y->low_bp);
		jsonw_int(w, "high_per_10000", y->high_bp);
		jsonw_bool(w, "verified", y->verified);
		jsonw_str(w, "source", y->source);
		jsonw_end(w);
	}
	jsonw_end(w);
	if ((rc = yields_json(w, sn, sp, err)) == RC_OK)
		jsonw_dump(out, w, true);
	jsonw_free(w);
	return rc;
}

enum rc
species_page(struct buf *out, const struct station *sn, const char *text,
    enum format format, struct err *err)
{
	const struct species *sp;
	enum rc rc;

	if ((rc = species_get(&sp, &sn->species, text, err)) != RC_OK)
		return rc;
	rc = format == FORMAT_JSON ? page_json(out, sn, sp, err)
				   : page_text(out, sn, sp, err);
	return rc != RC_OK ? rc : buf_check(out, "the page", err);
}

enum rc
species_list(struct buf *out, const struct station *sn, enum format format,
    struct err *err)
{
	struct jsonw *w = format == FORMAT_JSON ? jsonw_new_array() : NULL;
	const struct species *sp;
	size_t i;

	if (format == FORMAT_CSV)
		buf_puts(out, "species,name,scientific,body_form,allergen\r\n");
	for (i = 0; i < sn->species.count; i++) {
		sp = &sn->species.items[i];
		if (w != NULL) {
			jsonw_object(w, NULL);
			jsonw_str(w, "species", sp->code);
			jsonw_str(w, "name", sp->name);
			jsonw_str(w, "scientific", sp->scientific);
			jsonw_str(w, "body_form", body_form_word(sp->form));
			jsonw_end(w);
		} else if (format == FORMAT_CSV) {
			buf_printf(out, "%s,", sp->code);
			csv_quote(out, sp->name);
			buf_printf(out, ",%s,%s,%s\r\n", sp->scientific,
			    body_form_word(sp->form),
			    allergen_word(sp->allergen));
		} else {
			buf_printf(out, "%s  %-28s %-26s %s\n", sp->code,
			    sp->name, sp->scientific, body_form_word(sp->form));
		}
	}
	if (w != NULL) {
		jsonw_dump(out, w, true);
		jsonw_free(w);
	}
	return buf_check(out, "the list", err);
}
