/* goods_in_look.c - Goods in: freshness marks, size, condition, points. */
#include <string.h>

#include "base/str.h"
#include "goods_in.h"
#include "says_goods_look.h"

#define LABEL_W 20

/* --- choices ---------------------------------------------------------------*/

static const char *
grade_at(const void *arg, size_t i)
{
	(void)arg;
	return freshness_grade_word((enum freshness_grade)i);
}

/* Alive or dead: the table has no grades between. */
static const char *
grade_live_at(const void *arg, size_t i)
{
	(void)arg;
	return freshness_grade_word(i == 0 ? GRADE_EXTRA : GRADE_NOT_ADMITTED);
}

static const char *
yes_at(const void *arg, size_t i)
{
	static const char *const words[] = { "yes", "no" };

	(void)arg;
	return words[i];
}

static const char *
yes_says(const void *arg, size_t i)
{
	(void)arg;
	return i == 0 ? tr(SAY_GI_YES) : tr(SAY_GI_NO);
}

/* --- making the form -------------------------------------------------------*/

static struct look_row *
add(struct goods *g, enum look_kind kind, const char *label,
    enum field_kind field, const char *hint)
{
	struct look_row *r = &g->looks[g->look_count];
	struct field_row *f = &g->look_fields[g->look_count++];

	memset(r, 0, sizeof(*r));
	r->kind = kind;
	f->label = label;
	f->kind = field;
	f->flags = 0;
	f->hint = hint;
	return r;
}

static bool
live_or_dead(const struct freshness_attribute *a)
{
	return a->group == FRESHNESS_BIVALVES;
}

static void
add_marks(struct goods *g, const struct station *sn, const struct batch *b)
{
	const struct freshness_attribute *list[FRESHNESS_MARKS_MAX];
	struct freshness_fish fish = {
		freshness_species_find(&sn->freshness_species, b->species),
		b->presentation,
	};
	size_t n, i;

	if (fish.species == NULL)
		return;
	g->look_law = fish.species->law;
	n = freshness_applies(list, &sn->freshness, &fish);
	for (i = 0; i < n; i++)
		add(g, LOOK_MARK, list[i]->name, FIELD_CHOICE,
		    live_or_dead(list[i]) ? SAY_GI_HINT_GRADE_LIVE
					  : SAY_GI_HINT_GRADE)
		    ->mark = list[i];
}

static void
add_size(struct goods *g, const struct station *sn, const struct batch *b)
{
	static const char *const labels[SIZE_MEASURE_COUNT] = {
		[SIZE_TOTAL_LENGTH] = SAY_GI_SIZE_TOTAL,
		[SIZE_LOWER_JAW] = SAY_GI_SIZE_JAW,
		[SIZE_CARAPACE_LENGTH] = SAY_GI_SIZE_CARAPACE,
		[SIZE_CARAPACE_WIDTH] = SAY_GI_SIZE_WIDTH,
		[SIZE_TAIL_LENGTH] = SAY_GI_SIZE_TAIL,
		[SIZE_SHELL] = SAY_GI_SIZE_SHELL,
		[SIZE_SQUARE] = SAY_GI_SIZE_SQUARE,
		[SIZE_RING] = SAY_GI_SIZE_RING,
		[SIZE_WING] = SAY_GI_SIZE_WING,
		[SIZE_WEIGHT] = SAY_GI_SIZE_WEIGHT,
	};
	enum size_measure m;

	if (landing_measure(&m, &sn->sizes, b->species))
		add(g, LOOK_SIZE, labels[m], FIELD_COUNT, SAY_GI_HINT_SIZE);
}

static void
add_conditions(struct goods *g, const struct station *sn, const struct batch *b)
{
	static const struct {
		enum season_kind kind;
		const char *label;
	} rows[] = {
		{ SEASON_BERRIED, SAY_GI_BERRIED },
		{ SEASON_SOFT, SAY_GI_SOFT },
		{ SEASON_NOTCHED, SAY_GI_NOTCHED },
	};
	const struct species *sp = species_find(&sn->species, b->species);
	size_t i;

	if (sp == NULL || sp->form != FORM_CRUSTACEAN)
		return;
	for (i = 0; i < sizeof(rows) / sizeof(rows[0]); i++)
		add(g, LOOK_CONDITION, rows[i].label, FIELD_CHOICE,
		    SAY_GI_HINT_YES)
		    ->condition = rows[i].kind;
}

static void
add_points(struct goods *g, const struct station *sn, const struct batch *b)
{
	const struct qi_scheme *s = qi_for_species(&sn->quality, b->species, 0);
	size_t i;

	/* The published schemes are for whole raw fish. */
	if (s == NULL ||
	    (b->presentation != PRES_WHOLE && b->presentation != PRES_GUTTED))
		return;
	for (i = 0; i < s->attributes; i++) {
		if (s->attribute[i].name[0] == '\0')
			continue;
		/* An attribute of the marks may have the same name. */
		str_fmt(g->point_labels[i], sizeof(g->point_labels[i]),
		    tr(SAY_GI_POINTS), s->attribute[i].name);
		add(g, LOOK_POINTS, g->point_labels[i], FIELD_COUNT,
		    SAY_GI_HINT_POINTS)
		    ->points = &s->attribute[i];
	}
}

void
goods_look_make(
    struct goods *g, const struct station *sn, const struct batch *b)
{
	struct field *f;
	int i;

	if (str_eq(g->look_species, b->species) &&
	    g->look_presentation == b->presentation)
		return;
	str_copy(g->look_species, sizeof(g->look_species), b->species);
	g->look_presentation = b->presentation;
	g->look_count = 0;
	g->look_law = true;
	add_marks(g, sn, b);
	add_size(g, sn, b);
	add_conditions(g, sn, b);
	add_points(g, sn, b);
	form_init(&g->look, g->look_fields, g->look_count, g->form.today);
	for (i = 0; i < g->look_count; i++) {
		f = &g->look.fields[i];
		if (g->looks[i].kind == LOOK_CONDITION)
			f->choices =
			    (struct choices){ 2, yes_at, yes_says, NULL };
		else if (g->looks[i].kind != LOOK_MARK)
			continue;
		else if (live_or_dead(g->looks[i].mark))
			f->choices =
			    (struct choices){ 2, grade_live_at, NULL, NULL };
		else
			f->choices = (struct choices){ GRADE_COUNT, grade_at,
				NULL, NULL };
	}
}

/* --- for ops ---------------------------------------------------------------*/

static void
fill_condition(struct judge_in *seen, enum season_kind kind, const char *v)
{
	bool yes = str_eq(v, "yes");

	if (kind == SEASON_BERRIED)
		seen->berried = yes;
	else if (kind == SEASON_SOFT)
		seen->soft = yes;
	else
		seen->notched = yes;
}

/* Marks are of the fish the form was made for, and only of it. */
static bool
same_fish(const struct goods *g)
{
	const char *species = form_value(&g->form, GOODS_SPECIES);

	return g->look_species[0] != '\0' && species != NULL &&
	    str_eq(species, g->look_species) &&
	    goods_presentation(g) == g->look_presentation;
}

void
goods_look_fill(struct judge_in *seen, struct goods *g)
{
	const struct look_row *r;
	const char *v;
	int i;

	memset(seen, 0, sizeof(*seen));
	if (!same_fish(g))
		return;
	for (i = 0; i < g->look_count; i++) {
		r = &g->looks[i];
		if ((v = form_value(&g->look, i)) == NULL)
			continue;
		if (r->kind == LOOK_MARK) {
			str_fmt(g->marks[seen->mark_count], sizeof(g->marks[0]),
			    "%s=%s", r->mark->name, v);
			seen->marks[seen->mark_count] =
			    g->marks[seen->mark_count];
			seen->mark_count++;
		} else if (r->kind == LOOK_POINTS) {
			str_fmt(g->points[seen->point_count],
			    sizeof(g->points[0]), "%s=%s", r->points->name, v);
			seen->points[seen->point_count] =
			    g->points[seen->point_count];
			seen->point_count++;
		} else if (r->kind == LOOK_SIZE) {
			seen->size = v;
		} else {
			fill_condition(seen, r->condition, v);
		}
	}
}

/* The worst mark, the points that are missing, the condition said yes to. */
static bool
stands_for(const struct goods *g, int i, enum receive_field at)
{
	const char *v = form_value(&g->look, i);

	switch (g->looks[i].kind) {
	case LOOK_MARK:
		return at == RECEIVE_MARKS && v != NULL &&
		    str_eq(v, freshness_grade_word(GRADE_NOT_ADMITTED));
	case LOOK_SIZE:
		return at == RECEIVE_SIZE;
	case LOOK_CONDITION:
		return at == RECEIVE_CONDITION && v != NULL && str_eq(v, "yes");
	case LOOK_POINTS:
		return at == RECEIVE_POINTS && v == NULL;
	}
	return false;
}

int
goods_look_field(const struct goods *g, enum receive_field at)
{
	static const enum receive_field parts[] = {
		[LOOK_MARK] = RECEIVE_MARKS,
		[LOOK_SIZE] = RECEIVE_SIZE,
		[LOOK_CONDITION] = RECEIVE_CONDITION,
		[LOOK_POINTS] = RECEIVE_POINTS,
	};
	int i;

	for (i = 0; i < g->look_count; i++)
		if (stands_for(g, i, at))
			return i;
	for (i = 0; i < g->look_count; i++)
		if (parts[g->looks[i].kind] == at)
			return i;
	return -1;
}

/* --- drawing ---------------------------------------------------------------*/

/* Behind a grade stand its words. */
static void
show_words(struct goods *g)
{
	enum freshness_grade grade;
	struct field *f;
	int i;

	for (i = 0; i < g->look_count; i++) {
		f = &g->look.fields[i];
		if (g->looks[i].kind == LOOK_MARK && f->value[0] != '\0' &&
		    freshness_grade_parse(&grade, f->value, NULL) == RC_OK)
			str_fmt(f->shown, sizeof(f->shown), "%.79s",
			    g->looks[i].mark->grade[grade].text);
	}
}

static void
draw_grades(const struct freshness_attribute *a, const struct pane *p)
{
	const struct freshness_words *w;
	int i, y = 0, x;

	for (i = 0; i < GRADE_COUNT; i++) {
		w = &a->grade[i];
		if (w->text[0] == '\0' &&
		    (i != GRADE_NOT_ADMITTED || live_or_dead(a)))
			continue;
		pane_cut(p, 0, y, 13, STYLE_STRONG,
		    freshness_grade_word((enum freshness_grade)i));
		x = pane_put(p, 14, y, STYLE_PLAIN,
		    w->text[0] != '\0' ? w->text : tr(SAY_GI_NO_WORDS));
		if (w->text[0] != '\0' && !w->verified)
			pane_put(
			    p, x + 1, y, STYLE_FAINT, tr(SAY_GI_UNVERIFIED));
		y++;
	}
}

static void
draw_minimum(const struct desk *d, const struct goods *g, const struct pane *p)
{
	const struct batch *b = &g->view.batch;
	struct size_asked asked = {
		.species = b->species,
		.area = g->view.judged.area_name[0] != '\0' ? b->area : NULL,
		.value = 1,
	};
	struct landing_size is;
	char text[400];

	if (!landing_measure(&asked.measure, &d->sn->sizes, b->species) ||
	    landing_size_check(&is, &d->sn->sizes, &asked, NULL) != RC_OK ||
	    is.row == NULL) {
		pane_put(p, 0, 0, STYLE_FAINT, tr(SAY_GI_NO_MINIMUM));
		return;
	}
	str_fmt(text, sizeof(text), "%d", is.row->minimum);
	(void)pane_big(p, 0, 0, STYLE_STRONG, text);
	str_fmt(text, sizeof(text), tr(SAY_GI_MINIMUM), is.row->minimum,
	    size_measure_unit(asked.measure), is.row->where, is.row->source);
	{
		struct pane right = pane_part(p, 20, 0, p->w - 20, p->h);
		int y = pane_wrap(&right, 0, STYLE_PLAIN, text);

		if (is.lowest != is.row->minimum)
			pane_fmt(&right, 0, y, STYLE_FAINT,
			    tr(SAY_GI_MINIMUM_MANY), is.lowest,
			    size_measure_unit(asked.measure));
	}
}

static void
draw_points(const struct desk *d, const struct goods *g,
    const struct qi_attribute *a, const struct pane *p)
{
	const struct qi_scheme *s =
	    qi_for_species(&d->sn->quality, g->look_species, 0);
	char text[300];
	struct pane rest;
	int y;

	if (s == NULL)
		return;
	str_fmt(text, sizeof(text), tr(SAY_GI_POINTS_MOST), a->name,
	    a->max_points, s->source);
	y = pane_wrap(p, 0, STYLE_PLAIN, text);
	rest = pane_part(p, 0, y, p->w, p->h - y);
	str_fmt(text, sizeof(text), tr(SAY_GI_QI_THREE), QI_FISH_MIN);
	(void)pane_wrap(&rest, 0, STYLE_FAINT, text);
}

static void
draw_about(const struct desk *d, const struct goods *g, const struct pane *p)
{
	const struct look_row *r;
	const struct field *f;

	if (g->look_count == 0)
		return;
	r = &g->looks[g->look.at];
	f = &g->look.fields[g->look.at];
	if (f->wrong[0] != '\0') {
		(void)pane_wrap(p, 0, STYLE_BAD, f->wrong);
		return;
	}
	switch (r->kind) {
	case LOOK_MARK:
		draw_grades(r->mark, p);
		return;
	case LOOK_SIZE:
		draw_minimum(d, g, p);
		return;
	case LOOK_CONDITION:
		(void)pane_wrap(p, 0, STYLE_PLAIN, tr(SAY_GI_CONDITION_LAW));
		return;
	case LOOK_POINTS:
		draw_points(d, g, r->points, p);
		return;
	}
}

void
goods_draw_look(struct desk *d, struct goods *g, const struct pane *p)
{
	enum { ABOUT = 5 };
	struct pane part;
	int h = p->h - 2 - ABOUT;

	goods_draw_steps(g, p);
	if (g->look_count == 0 || g->looks[0].kind != LOOK_MARK)
		pane_put(p, 0, 1, STYLE_WARN, tr(SAY_GI_NO_TABLE));
	else
		pane_cut(p, 0, 1, p->w, STYLE_FAINT, tr(SAY_GI_LOOK_HOW));
	if (!g->look_law && g->looks[0].kind == LOOK_MARK)
		pane_right(p, p->w, 0, STYLE_FAINT, tr(SAY_GI_NOT_LAW));
	show_words(g);
	part = pane_part(p, 0, 2, p->w, h);
	form_draw(&g->look, &part, LABEL_W);
	pane_rule(p, 2 + h);
	part = pane_part(p, 0, 3 + h, p->w, ABOUT - 1);
	draw_about(d, g, &part);
}
