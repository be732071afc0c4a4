/* judge.c - what the station can say about goods at the door. */
#include "ops/judge.h"

#include <inttypes.h>
#include <string.h>
#include <strings.h>

#include "base/jsonw.h"
#include "base/str.h"

static enum rc
read_marks(struct judgement *j, const struct judge_in *in, struct err *err)
{
	const char *eq;
	size_t i;
	enum rc rc;

	for (i = 0; i < in->mark_count; i++) {
		eq = strchr(in->marks[i], '=');
		if (eq == NULL ||
		    !str_fmt(j->marks[i], sizeof(j->marks[i]), "%.*s",
			(int)(eq - in->marks[i]), in->marks[i]))
			return err_set(err, RC_INVALID, 0,
			    "--mark \"%.40s\": write ATTRIBUTE=GRADE, such as "
			    "eye=a",
			    in->marks[i]);
		rc = freshness_grade_parse(&j->grades[i], eq + 1, err);
		if (rc != RC_OK) {
			err_prefix(err, "--mark: ");
			return rc;
		}
	}
	j->mark_count = in->mark_count;
	return RC_OK;
}

static enum rc
grade(struct judgement *j, const struct batch *b, const struct station *sn,
    struct err *err)
{
	struct freshness_mark marks[FRESHNESS_MARKS_MAX];
	struct freshness_fish fish = { .presentation = b->presentation };
	size_t i;

	if (j->mark_count == 0)
		return RC_OK;
	fish.species =
	    freshness_species_find(&sn->freshness_species, b->species);
	if (fish.species == NULL)
		return err_set(err, RC_INVALID, 0,
		    "--mark: no freshness table for %s", b->species);
	for (i = 0; i < j->mark_count; i++) {
		marks[i].attribute = j->marks[i];
		marks[i].grade = j->grades[i];
	}
	j->graded = true;
	if (freshness_judge(&j->verdict, &sn->freshness, &fish, marks,
		j->mark_count, err) == RC_OK)
		return RC_OK;
	err_prefix(err, "--mark: ");
	return RC_INVALID;
}

/* Quality index: every attribute of the species' published scheme. */
static enum rc
quality(struct judgement *j, const struct batch *b, const struct station *sn,
    const struct judge_in *in, struct err *err)
{
	struct qi_mark marks[QI_ATTRIBUTES_MAX];
	char names[QI_ATTRIBUTES_MAX][32];
	const char *eq;
	int64_t v;
	size_t i;
	enum rc rc;

	if (in->point_count == 0)
		return RC_OK;
	j->scheme = qi_for_species(&sn->quality, b->species, 0);
	if (j->scheme == NULL)
		return err_set(err, RC_INVALID, 0,
		    "--points: no quality index scheme is held for %s",
		    b->species);
	for (i = 0; i < in->point_count; i++) {
		eq = strchr(in->points[i], '=');
		if (eq == NULL ||
		    !str_fmt(names[i], sizeof(names[i]), "%.*s",
			(int)(eq - in->points[i]), in->points[i]))
			return err_set(err, RC_INVALID, 0,
			    "--points \"%.40s\": write ATTRIBUTE=N",
			    in->points[i]);
		rc = int_parse(&v, "--points", eq + 1, 0, 9, err);
		if (rc != RC_OK)
			return rc;
		marks[i].attribute = names[i];
		marks[i].points = (int)v;
	}
	rc = qi_total(&j->qi_points, j->scheme, marks, in->point_count, err);
	if (rc == RC_OK)
		j->qi_days_known = qi_days(&j->qi_day_tenths, j->scheme,
				       j->qi_points, NULL) == RC_OK;
	else
		err_prefix(err, "--points: ");
	return rc;
}

static enum rc
measure(struct judgement *j, const struct batch *b, const struct station *sn,
    const char *size, struct err *err)
{
	struct size_asked asked = { .species = b->species };
	int64_t v;
	enum rc rc;

	if (size == NULL)
		return RC_OK;
	if ((rc = int_parse(&v, "--size", size, 1, 10000, err)) != RC_OK)
		return rc;
	if (!landing_measure(&j->measure, &sn->sizes, b->species))
		return err_set(err, RC_INVALID, 0,
		    "--size: no minimum size is held for %s", b->species);
	j->sized = true;
	j->size = (int)v;
	asked.area = j->area_name[0] != '\0' ? b->area : NULL;
	asked.measure = j->measure;
	asked.value = j->size;
	return landing_size_check(&j->landing, &sn->sizes, &asked, err);
}

static enum rc
condition(const struct batch *b, const struct station *sn,
    const struct judge_in *in, struct err *err)
{
	const struct {
		bool seen;
		enum season_kind kind;
	} rows[] = {
		{ in->berried, SEASON_BERRIED },
		{ in->soft, SEASON_SOFT },
		{ in->notched, SEASON_NOTCHED },
	};
	size_t i;
	enum rc rc;

	if (b->decision == DECISION_REFUSED)
		return RC_OK;
	for (i = 0; i < sizeof(rows) / sizeof(rows[0]); i++) {
		if (!rows[i].seen)
			continue;
		rc = landing_condition(
		    NULL, &sn->seasons, b->species, rows[i].kind, err);
		if (rc != RC_OK)
			return rc;
	}
	return RC_OK;
}

/* Codes are validated; words stay words. */
static enum rc
place(struct judgement *j, struct batch *b, const struct station *sn,
    struct err *err)
{
	const struct area *a;
	struct gear_found g;
	bool code = (b->area[0] >= '0' && b->area[0] <= '9') ||
	    strncasecmp(b->area, "FAO ", 4) == 0;
	enum rc rc;

	rc = area_find(&a, &sn->areas, b->area, code ? err : NULL);
	if (rc == RC_OK) {
		str_copy(b->area, sizeof(b->area), a->code);
		str_copy(j->area_name, sizeof(j->area_name), a->name);
	} else if (code) {
		err_prefix(err, "--area: ");
		return RC_INVALID;
	}
	if (b->gear[0] != '\0' &&
	    gear_find(&g, &sn->gears, b->gear, NULL) == RC_OK &&
	    g.category != GEAR_NONE)
		str_copy(
		    b->gear, sizeof(b->gear), gear_category_name(g.category));
	return RC_OK;
}

static enum papers_method
method_of(const struct batch *b)
{
	if (str_eq(b->method, "farmed"))
		return METHOD_FARMED;
	return str_eq(b->method, "caught") ? METHOD_CAUGHT
					   : METHOD_CAUGHT_FRESHWATER;
}

/* Completeness against the published lists; informs, refuses nothing. */
static void
papers(struct judgement *j, const struct batch *b, const struct station *sn)
{
	const struct species *sp = species_find(&sn->species, b->species);
	struct gear_found g;
	struct papers p = {
		.description = true,
		.quantity = true,
		.dispatcher = b->supplier.address[0] != '\0',
		.receiver = true,
		.lot = b->lot[0] != '\0',
		.dispatched = b->dispatched_day != DAY_NONE,
		.received = true,
		.commercial_name = sp != NULL,
		.scientific_name = sp != NULL,
		.method = method_of(b),
		.area = b->area[0] != '\0',
		.area_too_wide =
		    j->area_name[0] != '\0' && !area_enough(b->area),
		.frozen = FROZEN_NEVER,
		.durability_due = b->supplier_use_by != DAY_NONE,
		.durability = b->supplier_use_by != DAY_NONE,
		.came_from = b->supplier.address[0] != '\0',
		.came_to = true,
		.lot_source = b->supplier.name[0] != '\0',
		.document = b->document[0] != '\0',
		.restaurant = true,
	};

	p.gear = b->gear[0] != '\0' &&
	    gear_find(&g, &sn->gears, b->gear, NULL) == RC_OK &&
	    g.category != GEAR_NONE;
	j->paper_count = papers_check(
	    j->papers, &p, PAPERS_EU_931 | PAPERS_EU_1379 | PAPERS_US_1345);
	j->paper_missing = papers_missing(j->papers, j->paper_count);
}

enum rc
judge(struct judgement *out, struct batch *b, const struct station *sn,
    const struct judge_in *in, day_no today, struct err *err)
{
	day_no day = b->caught_day != DAY_NONE ? b->caught_day : today;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	out->berried = in->berried;
	out->soft = in->soft;
	out->notched = in->notched;
	out->at = JUDGE_AREA;
	if ((rc = place(out, b, sn, err)) != RC_OK)
		return rc;
	out->at = JUDGE_MARKS;
	if ((rc = read_marks(out, in, err)) != RC_OK ||
	    (rc = grade(out, b, sn, err)) != RC_OK)
		return rc;
	out->at = JUDGE_POINTS;
	if ((rc = quality(out, b, sn, in, err)) != RC_OK)
		return rc;
	out->at = JUDGE_CONDITION;
	if ((rc = condition(b, sn, in, err)) != RC_OK)
		return rc;
	out->at = JUDGE_SIZE;
	if ((rc = measure(out, b, sn, in->size, err)) != RC_OK)
		return rc;
	out->at = JUDGE_DONE;
	papers(out, b, sn);
	out->season_count =
	    season_advice(out->seasons, &sn->seasons, b->species, day);
	b->size = out->sized ? out->size : 0;
	if (out->graded)
		str_copy(b->grade, sizeof(b->grade),
		    freshness_grade_word(out->verdict.grade));
	return RC_OK;
}

enum rc
judge_decision(
    const struct judgement *j, enum decision decision, struct err *err)
{
	struct buf why;

	if (decision != DECISION_ACCEPTED)
		return RC_OK;
	if (j->graded && j->verdict.refuse) {
		buf_init(&why, 1000);
		freshness_reasons(&why, &j->verdict);
		ignore_rc(err_set(err, RC_REFUSED, 0,
		    "%s: refuse it with --refuse REASON, or say why not with "
		    "--note TEXT",
		    buf_text(&why)));
		buf_fini(&why);
		return RC_REFUSED;
	}
	if (j->sized && j->landing.verdict == SIZE_UNDER)
		return err_set(err, RC_REFUSED, 0,
		    "%d %s is under the minimum of %d (%s, %s): refuse it, or "
		    "say why not with --note TEXT",
		    j->size, size_measure_unit(j->measure),
		    j->landing.row->minimum, j->landing.row->where,
		    j->landing.row->source);
	return RC_OK;
}

static void
season_text(struct buf *out, const struct season_row *r)
{
	buf_printf(out, "season: %s %02d-%02d to %02d-%02d, %s (%s)\n",
	    season_kind_word(r->kind), r->from / 100, r->from % 100,
	    r->to / 100, r->to % 100, r->where, r->source);
}

void
judge_text(struct buf *out, const struct judgement *j)
{
	size_t i;

	if (j->area_name[0] != '\0')
		buf_printf(out, "area: %s\n", j->area_name);
	if (j->graded) {
		buf_puts(out, "freshness: ");
		freshness_reasons(out, &j->verdict);
		buf_putc(out, '\n');
	}
	if (j->scheme != NULL) {
		buf_printf(out, "quality index: %d of %d (%s; %s)",
		    j->qi_points, j->scheme->total, j->scheme->name,
		    j->scheme->source);
		if (j->qi_days_known)
			buf_printf(out, ", about %d.%d days in ice",
			    j->qi_day_tenths / 10, j->qi_day_tenths % 10);
		buf_putc(out, '\n');
	}
	if (j->sized && j->landing.verdict != SIZE_NO_RULE)
		buf_printf(out, "size: %d %s, minimum %d %s (%s)\n", j->size,
		    size_measure_unit(j->measure), j->landing.row->minimum,
		    j->landing.row->where, j->landing.row->source);
	for (i = 0; i < j->season_count; i++)
		season_text(out, j->seasons[i]);
	for (i = 0; i < j->paper_count; i++)
		if (j->papers[i].state == PAPER_MISSING)
			buf_printf(out, "papers: missing %s (%s %s)\n",
			    j->papers[i].words, j->papers[i].rule,
			    j->papers[i].field);
}

static void
season_json(struct jsonw *w, const struct season_row *r)
{
	char from[8], to[8];

	str_fmt(from, sizeof(from), "%02d-%02d", r->from / 100, r->from % 100);
	str_fmt(to, sizeof(to), "%02d-%02d", r->to / 100, r->to % 100);
	jsonw_object(w, NULL);
	jsonw_str(w, "kind", season_kind_word(r->kind));
	jsonw_str(w, "from", from);
	jsonw_str(w, "to", to);
	jsonw_str(w, "where", r->where);
	jsonw_str(w, "source", r->source);
	jsonw_bool(w, "verified", r->verified);
	jsonw_end(w);
}

void
judge_json(struct buf *out, const struct judgement *j)
{
	struct jsonw *w = jsonw_new_object();
	struct buf why;
	size_t i;

	jsonw_object(w, "marks");
	for (i = 0; i < j->mark_count; i++)
		jsonw_str(w, j->marks[i], freshness_grade_word(j->grades[i]));
	jsonw_end(w);
	if (j->graded) {
		buf_init(&why, 2000);
		freshness_reasons(&why, &j->verdict);
		jsonw_str(w, "grade", freshness_grade_word(j->verdict.grade));
		jsonw_bool(w, "refusal_proposed", j->verdict.refuse);
		jsonw_bool(w, "complete", j->verdict.complete);
		jsonw_bool(w, "verified", j->verdict.verified);
		jsonw_str(w, "reasons", buf_text(&why));
		buf_fini(&why);
	}
	if (j->scheme != NULL) {
		jsonw_str(w, "quality_scheme", j->scheme->name);
		jsonw_int(w, "quality_points", j->qi_points);
		jsonw_int(w, "quality_total", j->scheme->total);
		if (j->qi_days_known)
			jsonw_int(w, "quality_day_tenths", j->qi_day_tenths);
	}
	if (j->sized) {
		jsonw_str(w, "measure", size_measure_word(j->measure));
		jsonw_int(w, "size", j->size);
		jsonw_bool(w, "undersized", j->landing.verdict == SIZE_UNDER);
	}
	jsonw_array(w, "papers_missing");
	for (i = 0; i < j->paper_count; i++) {
		if (j->papers[i].state != PAPER_MISSING)
			continue;
		jsonw_object(w, NULL);
		jsonw_str(w, "rule", j->papers[i].rule);
		jsonw_str(w, "field", j->papers[i].field);
		jsonw_str(w, "words", j->papers[i].words);
		jsonw_end(w);
	}
	jsonw_end(w);
	jsonw_array(w, "season");
	for (i = 0; i < j->season_count; i++)
		season_json(w, j->seasons[i]);
	jsonw_end(w);
	jsonw_bool(w, "berried", j->berried);
	jsonw_bool(w, "soft_shelled", j->soft);
	jsonw_bool(w, "v_notched", j->notched);
	jsonw_dump(out, w, false);
	jsonw_free(w);
}
