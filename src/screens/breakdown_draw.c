/* breakdown_draw.c - the breakdown as it is seen. */
#include <inttypes.h>
#include <stdlib.h>
#include <string.h>

#include "base/str.h"
#include "breakdown_desk.h"
#include "prep_list.h"
#include "says_breakdown.h"
#include "term/when.h"

#define SIDE_W 27 /* columns of balance and target */
#define LABEL_W 24
#define PLAN_ROWS 3

/* --- fish of the cut plan --------------------------------------------------*/

int
bd_fish_count(const struct desk *d, const struct breakdown_desk *b)
{
	const struct prep_page *p = prep_list_of(d)->page;
	int n = 0;
	size_t i;

	for (i = 0; p != NULL && i < p->plan->opened_count; i++)
		n += str_eq(p->plan->opened[i].batch, b->bench.batch.code);
	return n;
}

const struct plan_opened *
bd_fish(struct desk *d, const struct breakdown_desk *b, int at)
{
	const struct prep_page *p = prep_list_of(d)->page;
	size_t i;

	for (i = 0; p != NULL && i < p->plan->opened_count; i++)
		if (str_eq(p->plan->opened[i].batch, b->bench.batch.code) &&
		    at-- == 0)
			return &p->plan->opened[i];
	return NULL;
}

/* --- choosing --------------------------------------------------------------*/

struct choose {
	const struct breakdown_desk *b;
	const struct desk *d;
};

static void
batch_row(const void *arg, int i, const struct pane *row, enum style style)
{
	const struct choose *c = arg;
	const struct batch *t = &c->b->batches.items[i];
	const struct species *sp = species_find(&c->d->sn->species, t->species);
	char shown[CODE_SIZE], left[80], weight[32], when[48], text[80];
	bool expired = t->use_by_utc < clock_now(&c->d->sn->clock);
	int end = row->w - 24;

	pane_cut(row, 0, 0, 10, style, code_show(shown, t->code));
	str_fmt(text, sizeof(text), "%s, %s",
	    sp == NULL ? t->species : sp->name,
	    presentation_word(t->presentation));
	pane_cut(row, 11, 0, end - 11 - 20, style, text);
	weight_print(weight, sizeof(weight), t->weight_left);
	if (t->count > 0)
		str_fmt(left, sizeof(left),
		    trn(SAY_BD_FISH_LEFT, (long)t->count_left),
		    (int)t->count_left);
	else
		left[0] = '\0';
	pane_cut(row, end - 20, 0, 8, style, left);
	pane_cut(row, end - 11, 0, 10, style, weight);
	if (style == STYLE_PLAIN && (t->held || expired))
		style = STYLE_BAD;
	str_fmt(text, sizeof(text), tr(SAY_BD_USE_BY),
	    when_instant(when, sizeof(when), t->use_by_utc));
	pane_cut(row, end, 0, 24, style,
	    t->held       ? tr(SAY_BD_HELD)
		: expired ? tr(SAY_BD_EXPIRED)
			  : text);
}

static int
draw_waiting(const struct breakdown_desk *b, const struct pane *p)
{
	char when[48];
	const struct draft *w = &b->waiting;

	if (w->name[0] == '\0')
		return 0;
	pane_fmt(p, 0, 0, STYLE_STRONG, tr(SAY_BD_WAITING), w->title, w->at.by,
	    w->at.by[0] == '\0' ? "" : ", ",
	    when_instant(when, sizeof(when), w->at.utc));
	pane_put(p, 0, 1, STYLE_PLAIN, tr(SAY_BD_WAITING_HOW));
	return 3;
}

static void
draw_choose(struct desk *d, struct breakdown_desk *b, const struct pane *p)
{
	struct choose c = { b, d };
	int y = draw_waiting(b, p);
	struct pane part = pane_part(p, 0, y, p->w, p->h - y);

	if (b->batches.count == 0) {
		(void)pane_wrap(&part, 0, STYLE_PLAIN, tr(SAY_BD_NO_BATCH));
		return;
	}
	pane_put(&part, 0, 0, STYLE_PLAIN, tr(SAY_BD_CHOOSE));
	part = pane_part(p, 0, y + 2, p->w, p->h - y - 2);
	list_draw(&b->list, &part, batch_row, &c);
}

/* --- working ---------------------------------------------------------------*/

static bool
raw_asked(const struct breakdown_desk *b)
{
	return !b->form.fields[bd_rest(b, BD_FROZEN)].off;
}

/* "4 fish, 3.200 kg left, use by Fri 27 Nov" */
static void
left_text(char *dst, size_t size, const struct batch *t)
{
	char weight[32], when[48];

	weight_print(weight, sizeof(weight), t->weight_left);
	when_instant(when, sizeof(when), t->use_by_utc);
	if (t->count > 0)
		str_fmt(dst, size, trn(SAY_BD_HEAD_FISH, (long)t->count_left),
		    (int)t->count_left, weight, when);
	else
		str_fmt(dst, size, tr(SAY_BD_HEAD_LEFT), weight, when);
}

/* What else is on the board, and whose date every label takes. */
static int
draw_with(const struct breakdown_desk *b, const struct pane *p, int y)
{
	char shown[CODE_SIZE], left[120], text[160];
	size_t i;

	for (i = 0; i < b->with_count; i++) {
		left_text(left, sizeof(left), &b->with[i]);
		str_fmt(text, sizeof(text), tr(SAY_BD_WITH_HEAD),
		    code_show(shown, b->with[i].code), left);
		pane_cut(p, 0, y++, p->w, STYLE_STRONG, text);
	}
	if (b->with_count > 0) {
		str_fmt(text, sizeof(text), tr(SAY_BD_WITH_FIRST),
		    code_show(shown, bd_with_first(b)->code));
		pane_cut(p, 0, y++, p->w, STYLE_WARN, text);
	}
	return y;
}

static int
draw_head(const struct breakdown_desk *b, const struct pane *p)
{
	const struct batch *t = &b->bench.batch;
	char shown[CODE_SIZE], text[160];
	struct pane part;
	int y = 1, i;

	str_fmt(text, sizeof(text), tr(SAY_BD_HEAD), code_show(shown, t->code),
	    b->bench.species->name, presentation_word(t->presentation));
	pane_put(p, 0, 0, STYLE_STRONG, text);
	left_text(text, sizeof(text), t);
	pane_put(p, 0, y++, STYLE_PLAIN, text);
	y = draw_with(b, p, y);
	for (i = 0; i < b->bench.caution_count && i < 2; i++) {
		part = pane_part(p, 0, y, p->w, 2);
		y += pane_wrap(&part, 0, STYLE_WARN, b->bench.cautions[i]);
	}
	if (raw_asked(b))
		pane_cut(p, 0, y++, p->w, STYLE_WARN, tr(SAY_BD_RAW));
	pane_cut(p, 0, y++, p->w, STYLE_FAINT, tr(SAY_BD_KNIVES));
	return y;
}

static void
yield_text(char *dst, size_t size, const struct breakdown_desk *b,
    const struct bd_typed *t)
{
	char seen[32], want[32];
	int expected, bp = bench_yield(&expected, &b->bench, &t->in);

	dst[0] = '\0';
	if (bp > 0 && expected > 0)
		str_fmt(dst, size, tr(SAY_BD_YIELD_EXPECTED),
		    percent_print(seen, sizeof(seen), bp),
		    percent_print(want, sizeof(want), expected));
	else if (bp > 0)
		str_fmt(dst, size, tr(SAY_BD_YIELD),
		    percent_print(seen, sizeof(seen), bp));
	else if (t->in.make_count > 1)
		str_copy(dst, size, tr(SAY_BD_YIELD_MIXED));
}

/* What the fish named weighed at goods in; 0 when none is named. */
static grams
named_g(const struct breakdown_desk *b, const struct bd_typed *t)
{
	const char *s = t->in.which;
	grams sum = 0;
	char *end;
	size_t i;
	long n;

	while (s != NULL && *s != '\0') {
		n = strtol(s, &end, 10);
		for (i = 0; i < b->bench.fish.count; i++)
			if (b->bench.fish.items[i].number == n)
				sum += b->bench.fish.items[i].weight_g;
		s = *end == '\0' ? NULL : end + 1;
	}
	return sum;
}

static int
draw_balance(
    const struct desk *d, const struct breakdown_desk *b, const struct pane *p)
{
	struct bd_typed t;
	char text[80], weight[32];
	grams left;
	int y = 0, minutes = (int)bd_minutes(b, d);

	bd_read(&t, b);
	left = bench_unexplained(&t.in);
	pane_put(p, 0, y++, left < 0 ? STYLE_BAD : STYLE_FAINT,
	    left < 0 ? tr(SAY_BD_TOO_MUCH) : tr(SAY_BD_UNEXPLAINED));
	str_fmt(text, sizeof(text), "%" PRId64, left < 0 ? -left : left);
	(void)pane_big(p, 0, y, left < 0 ? STYLE_BAD : STYLE_STRONG, text);
	y += BIG_ROWS;
	yield_text(text, sizeof(text), b, &t);
	pane_cut(p, 0, y++, p->w, STYLE_PLAIN, text);
	if (named_g(b, &t) > 0 && t.in.weight_g == 0) {
		str_fmt(text, sizeof(text), tr(SAY_BD_GOODS_IN),
		    weight_print(weight, sizeof(weight), named_g(b, &t)));
		pane_cut(p, 0, y++, p->w, STYLE_FAINT, text);
	}
	if (minutes > 0)
		pane_fmt(p, 0, y++, STYLE_FAINT, trn(SAY_BD_RUNNING, minutes),
		    minutes);
	if (b->scale != NULL && beside_last(b->scale)[0] != '\0')
		pane_fmt(p, 0, y++, STYLE_STRONG, tr(SAY_BD_SCALE),
		    beside_last(b->scale));
	return y;
}

/* The portions of a fish, largest count first seen: "165" or "165 148". */
static void
target_text(char *dst, size_t size, const struct plan_opened *o)
{
	const struct plan_piece *piece;
	grams said[4];
	size_t i, k, n = 0, j;
	char one[32];

	dst[0] = '\0';
	for (i = 0; i < o->piece_count; i++) {
		piece = &o->pieces[i];
		for (k = 0; k < piece->cut_count && n < 4; k++) {
			for (j = 0; j < n; j++)
				if (said[j] == piece->cuts[k].portion_g)
					break;
			if (j < n)
				continue;
			said[n++] = piece->cuts[k].portion_g;
			str_fmt(one, sizeof(one), "%s%" PRId64,
			    n > 1 ? " " : "", piece->cuts[k].portion_g);
			if (big_columns(dst) + big_columns(one) + 1 > SIDE_W)
				return;
			str_fmt(
			    dst + strlen(dst), size - strlen(dst), "%s", one);
		}
	}
}

static void
draw_target(
    struct desk *d, const struct breakdown_desk *b, const struct pane *p, int y)
{
	const struct plan_opened *o = bd_fish(d, b, b->fish_at);
	char text[120];

	if (o == NULL || y + 1 + BIG_ROWS > p->h)
		return;
	target_text(text, sizeof(text), o);
	if (text[0] == '\0')
		return;
	pane_put(p, 0, y, STYLE_FAINT, tr(SAY_BD_TARGET));
	(void)pane_big(p, 0, y + 1, STYLE_STRONG, text);
}

static void
draw_plan(struct desk *d, const struct breakdown_desk *b, const struct pane *p)
{
	const struct plan_opened *o = bd_fish(d, b, b->fish_at);
	struct pane part = pane_part(p, 0, 1, p->w, p->h - 1);
	struct buf text;

	pane_rule(p, 0);
	buf_init(&text, 4096);
	buf_printf(
	    &text, tr(SAY_BD_FISH_OF), b->fish_at + 1, bd_fish_count(d, b));
	buf_puts(&text, ": ");
	prep_fish_words(&text, prep_list_of(d)->page, o);
	(void)pane_wrap(&part, 0, STYLE_PLAIN, buf_text(&text));
	buf_fini(&text);
}

static void
draw_work(struct desk *d, struct breakdown_desk *b, const struct pane *p)
{
	int y = draw_head(b, p), h = p->h - y - 1;
	struct pane part;

	if (b->fish_at >= bd_fish_count(d, b))
		b->fish_at = 0;
	pane_rule(p, y++);
	if (bd_fish(d, b, 0) != NULL && h > 8) {
		part = pane_part(p, 0, p->h - PLAN_ROWS, p->w, PLAN_ROWS);
		draw_plan(d, b, &part);
		h -= PLAN_ROWS;
	}
	if (bd_minutes(b, d) > 0)
		str_fmt(b->minutes_hint, sizeof(b->minutes_hint),
		    tr(SAY_BD_F_MINUTES_RUN), (int)bd_minutes(b, d));
	else
		str_fmt(b->minutes_hint, sizeof(b->minutes_hint), "%s",
		    tr(SAY_BD_F_MINUTES_HINT));
	b->rows[bd_rest(b, BD_MINUTES)].hint = b->minutes_hint;
	part = pane_part(p, 0, y, p->w - SIDE_W - 2, h);
	form_draw(&b->form, &part, LABEL_W);
	part = pane_part(p, p->w - SIDE_W, y, SIDE_W, h);
	y = draw_balance(d, b, &part);
	draw_target(d, b, &part, y + 1);
}

/* --- what was made ---------------------------------------------------------*/

/* The date of the chosen unit, as large as it goes: "FRI 27 NOV". */
static int
draw_date(const struct breakdown_desk *b, const struct pane *p, int y)
{
	const struct portion *u;
	struct local_time t;
	struct civil c;
	char text[40], shown[CODE_SIZE];

	if (b->made.portion_count == 0)
		return y;
	u = &b->made.portions[b->units.at];
	t = local_from_utc(u->use_by_utc);
	c = day_civil(t.day);
	str_fmt(text, sizeof(text), "%s %d %s",
	    tr(weekday_short(day_weekday(t.day))), c.day,
	    tr(month_short(c.month)));
	str_upper(text);
	if (u->others > 0)
		pane_fmt(p, 0, y, STYLE_FAINT, tr(SAY_BD_MADE_USE_BY_OF),
		    code_show(shown, u->batch));
	else
		pane_put(p, 0, y, STYLE_FAINT, tr(SAY_BD_MADE_USE_BY));
	(void)pane_big(p, 0, y + 1, STYLE_STRONG, text);
	return y + 1 + BIG_ROWS;
}

static void
unit_row(const void *arg, int i, const struct pane *row, enum style style)
{
	const struct breakdown_desk *b = arg;
	const struct portion *u = &b->made.portions[i];
	char shown[CODE_SIZE], when[48], text[200];

	str_fmt(text, sizeof(text), tr(SAY_BD_MADE_ROW),
	    code_show(shown, u->code), (int)u->servings, u->dish_name,
	    (int)u->weight_g, when_instant(when, sizeof(when), u->use_by_utc));
	pane_cut(row, 0, 0, row->w, style, text);
}

static int
draw_learned(const struct breakdown_desk *b, const struct pane *p, int y)
{
	const struct breakdown *m = &b->made;
	char seen[32], want[32];
	int x = 0;

	if (m->yield.verdict != YIELD_TAUGHT_NOTHING) {
		percent_print(seen, sizeof(seen), m->yield.observed_bp);
		percent_print(want, sizeof(want), m->yield.expected_bp);
		x = m->yield.expected_bp > 0
		    ? pane_fmt(p, 0, y, STYLE_PLAIN, tr(SAY_BD_MADE_YIELD),
			  seen, want)
		    : pane_fmt(p, 0, y, STYLE_PLAIN, tr(SAY_BD_MADE_YIELD_NEW),
			  seen);
		if (m->yield.verdict == YIELD_SET_ASIDE)
			pane_put(
			    p, x + 1, y, STYLE_WARN, tr(SAY_BD_MADE_ASIDE));
		y++;
	}
	if (m->pace.minutes > 0 && m->pace.expected_s > 0)
		pane_fmt(p, 0, y++, STYLE_PLAIN,
		    trn(SAY_BD_MADE_MINUTES, (long)m->pace.minutes),
		    (int)m->pace.minutes, (int)div_up(m->pace.expected_s, 60));
	if (m->weights_lost)
		pane_put(p, 0, y++, STYLE_WARN, tr(SAY_BD_MADE_LOST));
	if (m->caution[0] != '\0')
		y += pane_fmt(p, 0, y, STYLE_WARN, tr(SAY_BD_MADE_LOOK),
			 m->caution) > 0;
	return y;
}

static void
codes_text(char *dst, size_t size, const struct breakdown *m)
{
	char shown[CODE_SIZE];
	size_t i;

	str_copy(dst, size, code_show(shown, m->batch.code));
	for (i = 0; i < m->with_count; i++)
		str_fmt(dst + strlen(dst), size - strlen(dst), " + %s",
		    code_show(shown, m->with[i].code));
}

/* What is left of the other batches. */
static int
draw_left_of(const struct breakdown *m, const struct pane *p, int y)
{
	char shown[CODE_SIZE], left[120];
	size_t i;

	for (i = 0; i < m->with_count; i++) {
		left_text(left, sizeof(left), &m->with[i]);
		pane_fmt(p, 0, y++, STYLE_PLAIN, tr(SAY_BD_MADE_LEFT_OF),
		    code_show(shown, m->with[i].code), left);
	}
	return y;
}

static int
draw_sums(const struct breakdown_desk *b, const struct pane *p)
{
	const struct breakdown *m = &b->made;
	char shown[CODE_SIZE * (PREP_INPUTS_MAX + 1)], weight[32];
	int y = 0, x;

	codes_text(shown, sizeof(shown), m);
	if (m->portion_count > 0)
		pane_fmt(p, 0, y++, STYLE_STRONG,
		    trn(SAY_BD_MADE, (long)m->portion_count),
		    (int)m->portion_count, shown);
	else
		pane_fmt(p, 0, y++, STYLE_STRONG, tr(SAY_BD_MADE_NONE), shown);
	weight_print(weight, sizeof(weight), m->prep.all_g);
	x = m->unexplained_g > 0
	    ? pane_fmt(p, 0, y, STYLE_PLAIN, tr(SAY_BD_MADE_IN), weight,
		  (int)m->unexplained_g)
	    : pane_fmt(p, 0, y, STYLE_PLAIN, tr(SAY_BD_MADE_ALL), weight);
	x = pane_put(p, x, y, STYLE_PLAIN, "; ");
	if (m->batch.count > 0)
		pane_fmt(p, x, y++, STYLE_PLAIN,
		    trn(SAY_BD_MADE_LEFT, (long)m->batch.count_left),
		    (int)m->batch.count_left);
	else
		pane_fmt(p, x, y++, STYLE_PLAIN, tr(SAY_BD_MADE_LEFT_G),
		    weight_print(weight, sizeof(weight), m->batch.weight_left));
	return draw_left_of(m, p, y);
}

static void
draw_made(struct breakdown_desk *b, const struct pane *p)
{
	int y = draw_sums(b, p);
	struct pane part;

	y = draw_learned(b, p, y);
	y = draw_date(b, p, y + 1) + 1;
	part = pane_part(p, 0, y, p->w, p->h - y);
	if (b->made.portion_count > 0)
		list_draw(&b->units, &part, unit_row, b);
}

void
bd_draw(struct desk *d, void *state, const struct pane *p)
{
	struct breakdown_desk *b = state;

	switch (b->mode) {
	case BD_MODE_CHOOSE:
		draw_choose(d, b, p);
		break;
	case BD_MODE_WORK:
		draw_work(d, b, p);
		break;
	case BD_MODE_MADE:
		draw_made(b, p);
		break;
	}
}
