/* records_chart.c - yields and waste by the week, as bars with their numbers.
 */
#include "base/str.h"
#include "core/species.h"
#include "records_inner.h"
#include "says_records.h"

#define LABEL_W 10
#define BAR_MIN 8

char *
records_course(
    char *dst, size_t size, const struct desk *d, const struct yield_course *y)
{
	const struct species *sp =
	    species_find(&d->sn->species, y->key.species);

	str_fmt(dst, size, tr(SAY_YIELD_OF),
	    sp == NULL ? y->key.species : sp->name,
	    yield_form_word(y->key.from), y->key.cut);
	return dst;
}

/* "23 Nov" of a Monday. */
static void
put_week(const struct pane *p, int y, day_no monday)
{
	struct civil c = day_civil(monday);

	pane_fmt(p, 0, y, STYLE_FAINT, tr(SAY_WEEK), c.day,
	    tr(month_short(c.month)));
}

static void
put_span(const struct pane *p, int y, day_no monday)
{
	char text[80], date[40];
	struct civil c = day_civil(monday);

	str_fmt(date, sizeof(date), "%d %s %d", c.day, tr(month_short(c.month)),
	    c.year);
	str_fmt(text, sizeof(text), tr(SAY_WEEKS), RECORDS_WEEKS, date);
	pane_right(p, p->w, y, STYLE_FAINT, text);
}

/* Bars end where the numbers begin. */
static int
bar_width(const struct pane *p, int numbers)
{
	int w = p->w - LABEL_W - numbers - 1;

	return w < BAR_MIN ? BAR_MIN : w;
}

static void
draw_week(const struct yield_week *w, const struct pane *p, int y, int bar)
{
	char share[32], out[32], in[32];
	int x = LABEL_W + bar + 1;

	if (w->preps == 0) {
		pane_put(p, LABEL_W, y, STYLE_FAINT, tr(SAY_WEEK_EMPTY));
		return;
	}
	pane_bar(p, LABEL_W, y, bar, STYLE_PLAIN, yield_week_bp(w), BP_ONE);
	pane_fmt(p, x, y, STYLE_PLAIN, trn(SAY_YIELD_WEEK, (long)w->preps),
	    percent_print(share, sizeof(share), yield_week_bp(w)),
	    (long)w->preps, weight_print(out, sizeof(out), w->out_g),
	    weight_print(in, sizeof(in), w->in_g));
}

static void
draw_known(const struct yield_course *y, const struct pane *p, int row, int bar)
{
	char mean[32], low[32], high[32];
	int x = LABEL_W + bar + 1;

	pane_put(p, 0, row, STYLE_FAINT, tr(SAY_YIELD_PUBLISHED));
	if (y->has_published) {
		pane_bar(
		    p, LABEL_W, row, bar, STYLE_FAINT, y->published.bp, BP_ONE);
		pane_fmt(p, x, row, STYLE_PLAIN, tr(SAY_YIELD_RANGE),
		    percent_print(mean, sizeof(mean), y->published.bp),
		    percent_print(low, sizeof(low), y->published.low_bp),
		    percent_print(high, sizeof(high), y->published.high_bp),
		    y->published.verified ? "" : tr(SAY_YIELD_UNVERIFIED));
	} else {
		pane_put(p, LABEL_W, row, STYLE_FAINT, tr(SAY_YIELD_NO_FIGURE));
	}
	if (!y->has_learned)
		return;
	row++;
	pane_put(p, 0, row, STYLE_FAINT, tr(SAY_YIELD_PLANNED));
	pane_bar(p, LABEL_W, row, bar, STYLE_GOOD, y->learned.mean_bp, BP_ONE);
	pane_fmt(p, x, row, STYLE_PLAIN,
	    trn(SAY_YIELD_LEARNED, (long)y->learned_from),
	    percent_print(mean, sizeof(mean), y->learned.mean_bp),
	    (long)y->learned_from);
}

/* What was left out of the bars, and where the published figure is from. */
static void
draw_remarks(
    const struct yield_course *y, int weeks, const struct pane *p, int row)
{
	struct pane rest;
	char source[500];
	int64_t aside = 0;
	int i;

	for (i = 0; i < weeks; i++)
		aside += y->week[i].set_aside;
	if (aside > 0)
		pane_fmt(p, 0, row++, STYLE_WARN,
		    trn(SAY_YIELD_ASIDE, (long)aside), (long)aside);
	if (!y->has_published || row >= p->h)
		return;
	str_fmt(
	    source, sizeof(source), tr(SAY_YIELD_SOURCE), y->published.source);
	rest = pane_part(p, 0, row, p->w, p->h - row);
	(void)pane_wrap(&rest, 0, STYLE_FAINT, source);
}

void
records_draw_yields(
    const struct desk *d, const struct records *s, const struct pane *p)
{
	const struct yield_courses *c = &s->courses;
	const struct yield_course *y;
	char text[120];
	struct pane rest;
	int i, row, bar = bar_width(p, 44);

	put_span(p, 0, c->monday);
	if (c->count == 0) {
		rest = pane_part(p, 0, 2, p->w, p->h - 2);
		(void)pane_wrap(&rest, 0, STYLE_PLAIN, tr(SAY_YIELDS_NONE));
		return;
	}
	y = &c->items[s->course];
	row = pane_put(
	    p, 0, 0, STYLE_STRONG, records_course(text, sizeof(text), d, y));
	if (c->count > 1)
		pane_fmt(p, row + 2, 0, STYLE_FAINT, tr(SAY_YIELD_AT),
		    (long)s->course + 1, (long)c->count);
	draw_known(y, p, 1, bar);
	row = y->has_learned ? 3 : 2;
	for (i = 0; i < c->weeks; i++, row++) {
		put_week(p, row, c->monday + 7 * i);
		draw_week(&y->week[i], p, row, bar);
	}
	draw_remarks(y, c->weeks, p, row);
}

/* --- waste -----------------------------------------------------------------*/

static void
add_week(struct waste_week *sum, const struct waste_week *w)
{
	sum->preps += w->preps;
	sum->worked_g += w->worked_g;
	sum->waste_g += w->waste_g;
	sum->trim_g += w->trim_g;
	sum->frames_g += w->frames_g;
	sum->discarded_g += w->discarded_g;
	sum->missing_g += w->missing_g;
}

static void
draw_sum(const struct waste_week *t, const struct pane *p, int row)
{
	char text[400], waste[32], worked[32], share[32], trim[32];
	char frames[32], later[32], missing[32];
	struct pane rest = pane_part(p, 0, row, p->w, p->h - row);

	str_fmt(text, sizeof(text), tr(SAY_WASTE_SUM),
	    weight_print(waste, sizeof(waste), t->waste_g),
	    weight_print(worked, sizeof(worked), t->worked_g),
	    percent_print(share, sizeof(share), waste_share_bp(t)),
	    weight_print(trim, sizeof(trim), t->trim_g),
	    weight_print(frames, sizeof(frames), t->frames_g),
	    weight_print(later, sizeof(later), t->discarded_g),
	    weight_print(missing, sizeof(missing), t->missing_g));
	(void)pane_wrap(&rest, 0, STYLE_PLAIN, text);
}

static void
draw_waste_week(const struct waste_week *w, const struct pane *p, int row,
    int bar, grams most)
{
	char text[32];
	int x = LABEL_W + bar + 1;

	put_week(p, row, w->monday);
	if (w->preps == 0 && w->discarded_g == 0 && w->missing_g == 0) {
		pane_put(p, LABEL_W, row, STYLE_FAINT, tr(SAY_WEEK_EMPTY));
		return;
	}
	pane_bar(p, LABEL_W, row, bar, STYLE_PLAIN, w->waste_g + w->discarded_g,
	    most);
	weight_print(text, sizeof(text), w->waste_g);
	pane_right(p, x + 11, row, STYLE_PLAIN, text);
	percent_print(text, sizeof(text), waste_share_bp(w));
	pane_right(p, x + 20, row, STYLE_PLAIN, text);
	weight_print(text, sizeof(text), w->discarded_g);
	pane_right(p, x + 32, row, STYLE_PLAIN, text);
	weight_print(text, sizeof(text), w->missing_g);
	pane_right(p, x + 43, row, STYLE_PLAIN, text);
}

void
records_draw_waste(const struct records *s, const struct pane *p)
{
	struct waste_week sum = { 0 };
	char text[80], full[32];
	struct pane rest;
	grams most = 0, g;
	int i, row = 2, bar = bar_width(p, 43), x = LABEL_W + bar + 1;

	for (i = 0; i < RECORDS_WEEKS; i++) {
		add_week(&sum, &s->waste[i]);
		g = s->waste[i].waste_g + s->waste[i].discarded_g;
		most = g > most ? g : most;
	}
	put_span(p, 0, s->waste[0].monday);
	if (sum.preps == 0 && sum.discarded_g == 0 && sum.missing_g == 0) {
		rest = pane_part(p, 0, 2, p->w, p->h - 2);
		(void)pane_wrap(&rest, 0, STYLE_PLAIN, tr(SAY_WASTE_NONE));
		return;
	}
	str_fmt(text, sizeof(text), tr(SAY_WASTE_BAR),
	    weight_print(full, sizeof(full), most));
	pane_put(p, 0, 0, STYLE_FAINT, text);
	pane_right(p, x + 11, 1, STYLE_FAINT, tr(SAY_WASTE_BOARD));
	pane_right(p, x + 20, 1, STYLE_FAINT, tr(SAY_WASTE_SHARE));
	pane_right(p, x + 32, 1, STYLE_FAINT, tr(SAY_WASTE_LATER));
	pane_right(p, x + 43, 1, STYLE_FAINT, tr(SAY_WASTE_MISSING));
	for (i = 0; i < RECORDS_WEEKS; i++, row++)
		draw_waste_week(
		    &s->waste[i], p, row, bar, most == 0 ? 1 : most);
	draw_sum(&sum, p, row);
}
