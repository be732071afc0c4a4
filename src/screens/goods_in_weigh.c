/*
 * goods_in_weigh.c - Goods in: the scale, and fish weighed one by one.
 *
 * The scale is asked by a process beside the station, so that the screen goes
 * on while it waits for a still weight.
 */
#include <string.h>

#include "base/str.h"
#include "goods_in.h"
#include "says_goods_in.h"

static const struct field_row next_rows[] = {
	{ SAY_GI_EACH_WEIGHT, FIELD_WEIGHT, 0, SAY_GI_EACH_HINT },
};

void
goods_weigh_init(struct goods *g, day_no today)
{
	form_init(&g->next, next_rows, 1, today);
}

static grams
each_total(const struct goods *g)
{
	grams sum = 0;
	size_t i;

	for (i = 0; i < g->each_count; i++)
		sum += g->each[i];
	return sum;
}

/* Count and weight of the form are those of the fish. */
static void
sum_up(struct goods *g)
{
	char text[32];

	if (g->each_count == 0) {
		form_set(&g->form, GOODS_COUNT, "");
		form_set(&g->form, GOODS_WEIGHT, "");
		return;
	}
	str_fmt(text, sizeof(text), "%zu", g->each_count);
	form_set(&g->form, GOODS_COUNT, text);
	str_fmt(text, sizeof(text), "%lld", (long long)each_total(g));
	form_set(&g->form, GOODS_WEIGHT, text);
	g->form.dirty = true;
}

static void
add_fish(struct desk *d, struct goods *g, grams w)
{
	if (g->each_count == WEIGH_MAX) {
		desk_say(d, LEVEL_WARN, tr(SAY_GI_EACH_FULL), WEIGH_MAX);
		return;
	}
	g->each[g->each_count++] = w;
	sum_up(g);
}

/* --- the scale -------------------------------------------------------------*/

void
goods_weigh(struct desk *d, struct goods *g)
{
	static const char *const args[] = { "weigh", NULL };
	struct weigh_in none = { 0 };
	struct weighing w;
	struct err err = { 0 };
	enum rc rc;

	if (g->scale != NULL) {
		desk_say(d, LEVEL_NOTE, "%s", tr(SAY_GI_WEIGH_BUSY));
		return;
	}
	/* Without a scale there is nothing to wait for. */
	if (str_eq(d->sn->cfg.scale, "none"))
		rc = weigh(&w, d->sn, &none, &err);
	else
		rc =
		    beside_start(&g->scale, d, args, WEIGH_WAIT_S * 1000, &err);
	g->scale_for = g->page;
	if (rc == RC_FATAL)
		desk_fail(d, &err);
	else if (rc != RC_OK)
		desk_say(d, LEVEL_WARN, tr(SAY_GI_WEIGH_FAILED), err.text);
}

static void
take_weight(struct desk *d, struct goods *g)
{
	char text[48];
	grams w;

	if (weight_parse(&w, "", beside_last(g->scale), NULL) != RC_OK) {
		desk_say(d, LEVEL_WARN, "%s", tr(SAY_GI_WEIGH_UNREAD));
		return;
	}
	desk_say(d, LEVEL_DONE, tr(SAY_GI_WEIGHT_TAKEN),
	    weight_print(text, sizeof(text), w));
	if (g->scale_for == PAGE_EACH) {
		add_fish(d, g, w);
		return;
	}
	/* All of it at once: what was weighed one by one is another weight. */
	g->each_count = 0;
	str_fmt(text, sizeof(text), "%lld", (long long)w);
	form_set(&g->form, GOODS_WEIGHT, text);
	g->form.dirty = true;
}

void
goods_weigh_off(struct goods *g)
{
	beside_free(g->scale, 0);
	g->scale = NULL;
}

void
goods_weigh_tick(struct desk *d, struct goods *g)
{
	const char *said;

	if (g->scale == NULL)
		return;
	(void)beside_tick(g->scale, d->now_ms);
	if (beside_running(g->scale))
		return;
	if (beside_status(g->scale) == 0) {
		take_weight(d, g);
	} else {
		said = beside_last(g->scale);
		if (strncmp(said, "pinbone: ", 9) == 0)
			said += 9;
		desk_say(d, LEVEL_WARN, tr(SAY_GI_WEIGH_FAILED), said);
	}
	goods_weigh_off(g);
}

/* --- fish by fish ----------------------------------------------------------*/

static void
take_back(struct desk *d, struct goods *g)
{
	char w[32];

	if (g->each_count == 0)
		return;
	g->each_count--;
	desk_say(d, LEVEL_NOTE, tr(SAY_GI_EACH_GONE), (int)g->each_count + 1,
	    weight_print(w, sizeof(w), g->each[g->each_count]));
	sum_up(g);
}

bool
goods_each_key(struct desk *d, struct goods *g, const struct key *k)
{
	const char *typed;
	grams w;

	if (k->code == KEY_CODE_ESC) {
		g->page = PAGE_GOODS;
		return true;
	}
	if (k->code == KEY_CODE_BACKSPACE &&
	    g->next.fields[0].text[0] == '\0') {
		take_back(d, g);
		return true;
	}
	if (k->code == KEY_CODE_ENTER && g->next.fields[0].text[0] == '\0') {
		g->page = PAGE_GOODS;
		return true;
	}
	if (form_key(&g->next, k) == FORM_NOT_MINE)
		return false;
	typed = form_value(&g->next, 0);
	if (k->code == KEY_CODE_ENTER && typed != NULL &&
	    weight_parse(&w, "", typed, NULL) == RC_OK) {
		add_fish(d, g, w);
		form_clear(&g->next);
	}
	return true;
}

/* The newest first, in columns of their numbers. */
static void
draw_fish(const struct goods *g, const struct pane *p)
{
	enum { COLUMN = 18 };
	char w[32];
	size_t i;
	int x = 0, y = 0;

	for (i = g->each_count; i > 0; i--) {
		pane_fmt(p, x, y, STYLE_PLAIN, "%3zu  %s", i,
		    weight_print(w, sizeof(w), g->each[i - 1]));
		if (++y < p->h)
			continue;
		y = 0;
		x += COLUMN;
		if (x + COLUMN > p->w)
			return;
	}
}

void
goods_draw_each(struct desk *d, struct goods *g, const struct pane *p)
{
	struct pane part;
	char w[32];
	int x;

	(void)d;
	pane_put(p, 0, 0, STYLE_STRONG, tr(SAY_GI_EACH_TITLE));
	part = pane_part(p, 0, 1, p->w, 1);
	form_draw(&g->next, &part, 16);
	if (g->each_count == 0) {
		part = pane_part(p, 0, 3, p->w, p->h - 3);
		(void)pane_wrap(&part, 0, STYLE_PLAIN, tr(SAY_GI_EACH_EMPTY));
		return;
	}
	pane_fmt(
	    p, 0, 3, STYLE_FAINT, tr(SAY_GI_EACH_LAST), (int)g->each_count);
	weight_print(w, sizeof(w), g->each[g->each_count - 1]);
	x = pane_big(p, 0, 4, STYLE_STRONG, w) + 6;
	pane_fmt(p, x, 3, STYLE_FAINT,
	    trn(SAY_GI_EACH_TOTAL, (long)g->each_count), (int)g->each_count);
	weight_print(w, sizeof(w), each_total(g));
	(void)pane_big(p, x, 4, STYLE_STRONG, w);
	part = pane_part(p, 0, 8, p->w, p->h - 8);
	draw_fish(g, &part);
}
