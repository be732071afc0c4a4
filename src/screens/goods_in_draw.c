/* goods_in_draw.c - Goods in: the form of what came. */
#include <string.h>

#include "base/str.h"
#include "core/caution.h"
#include "goods_in.h"
#include "says_goods_in.h"
#include "says_goods_look.h"

#define LABEL_W 16

void
goods_draw_steps(struct goods *g, const struct pane *p)
{
	static const struct {
		enum goods_page page;
		const char *word;
	} steps[] = {
		{ PAGE_GOODS, SAY_GI_STEP_GOODS },
		{ PAGE_LOOK, SAY_GI_STEP_LOOK },
		{ PAGE_DECIDE, SAY_GI_STEP_DECIDE },
	};
	int n = (int)g->scan_count, x = 0;
	char text[64];
	bool here;
	size_t i;

	for (i = 0; i < sizeof(steps) / sizeof(steps[0]); i++) {
		here = steps[i].page == g->page;
		str_fmt(text, sizeof(text), here ? "[%s]" : " %s ",
		    tr(steps[i].word));
		x = pane_put(p, x, 0, here ? STYLE_STRONG : STYLE_FAINT, text) +
		    1;
	}
	if (n == 0 || g->page != PAGE_GOODS)
		return;
	str_fmt(text, sizeof(text), trn(SAY_GI_LABEL_SCANS, n), n);
	pane_right(p, p->w, 0, STYLE_GOOD, text);
}

/* --- below the form --------------------------------------------------------*/

enum { TEMP_GOOD, TEMP_NOTE, TEMP_REFUSE, TEMP_COLD };

static const struct {
	const char *word;
	enum style style;
} temp_says[] = {
	[TEMP_GOOD] = { SAY_GI_TEMP_GOOD, STYLE_GOOD },
	[TEMP_NOTE] = { SAY_GI_TEMP_NOTE, STYLE_WARN },
	[TEMP_REFUSE] = { SAY_GI_TEMP_REFUSE, STYLE_BAD },
	[TEMP_COLD] = { SAY_GI_TEMP_COLD, STYLE_WARN },
};

static void
draw_temp(const struct desk *d, const struct goods *g, const struct pane *p)
{
	const struct config *cfg = &d->sn->cfg;
	const char *v = g->form.fields[GOODS_TEMP].text; /* as it is typed */
	bool live = goods_presentation(g) == PRES_LIVE;
	int most = live ? cfg->live_refuse_above_dc : cfg->refuse_above_dc;
	int dc = 0, x = 0, i;
	bool known;
	char limit[32];
	struct pane right;

	known = temp_parse(&dc, "", v, NULL) == RC_OK;
	i = dc > most                          ? TEMP_REFUSE
	    : !live && dc > cfg->note_above_dc ? TEMP_NOTE
	    : dc < RECEIVE_FROZEN_BELOW_DC     ? TEMP_COLD
					       : TEMP_GOOD;
	if (known)
		x = pane_big(p, 0, 0, temp_says[i].style,
			temp_print(limit, sizeof(limit), dc)) +
		    3;
	right = pane_part(p, x, 0, p->w - x, p->h);
	if (known)
		pane_put(
		    &right, 0, 0, temp_says[i].style, tr(temp_says[i].word));
	if (!live)
		pane_fmt(&right, 0, 1, STYLE_PLAIN, tr(SAY_GI_LIMIT_NOTE),
		    temp_print(limit, sizeof(limit), cfg->note_above_dc));
	pane_fmt(&right, 0, live ? 1 : 2, STYLE_PLAIN,
	    tr(live ? SAY_GI_LIMIT_LIVE : SAY_GI_LIMIT_REFUSE),
	    temp_print(limit, sizeof(limit), most));
}

static void
draw_weight(const struct desk *d, const struct goods *g, const struct pane *p)
{
	const char *v = g->form.fields[GOODS_WEIGHT].text;
	int n = (int)g->each_count, x = 0;
	char text[64];
	grams w;
	struct pane right;

	if (weight_parse(&w, "", v, NULL) == RC_OK)
		x = pane_big(p, 0, 0, STYLE_STRONG,
			weight_print(text, sizeof(text), w)) +
		    3;
	right = pane_part(p, x, 0, p->w - x, p->h);
	pane_put(&right, 0, 0, STYLE_FAINT, tr(SAY_GI_WEIGH_HOW));
	if (n > 0)
		pane_fmt(
		    &right, 0, 1, STYLE_PLAIN, trn(SAY_GI_WEIGHED_EACH, n), n);
	if (g->scale != NULL) {
		beside_progress(text, sizeof(text), g->scale, d->now_ms);
		pane_fmt(&right, 0, 2, STYLE_WARN, tr(SAY_GI_WEIGHING), text);
	}
}

/* What can hurt someone is said as soon as the species is known. */
static void
draw_cautions(const struct goods *g, const struct pane *p)
{
	const struct species *sp = goods_species(g);
	const char *cautions[CAUTIONS_MAX];
	struct pane part = *p;
	char line[240];
	int n, i, y;

	if (sp == NULL)
		return;
	n = caution_list(cautions, sp, goods_presentation(g));
	for (i = 0; i < n && part.h > 0; i++) {
		str_fmt(line, sizeof(line), tr(SAY_GI_CAUTION), cautions[i]);
		y = pane_wrap(&part, 0, STYLE_WARN, line);
		part = pane_part(&part, 0, y, part.w, part.h - y);
	}
}

/* Days of the label that fill no field, and yet count. */
static void
draw_label_days(const struct goods *g, const struct pane *p)
{
	char day[40];

	if (g->label.first_freeze != DAY_NONE)
		pane_fmt(p, 0, 0, STYLE_WARN, tr(SAY_GI_LABEL_FROZEN),
		    day_words(day, sizeof(day), g->label.first_freeze));
	if (g->label.best_before != DAY_NONE)
		pane_fmt(p, 0, 1, STYLE_PLAIN, tr(SAY_GI_LABEL_BEST),
		    day_words(day, sizeof(day), g->label.best_before));
}

static void
draw_about(const struct desk *d, const struct goods *g, const struct pane *p)
{
	const struct field *f = &g->form.fields[g->form.at];
	const struct area *a;
	struct pane part = *p;

	if (f->wrong[0] != '\0' && g->form.at != GOODS_TEMP) {
		(void)pane_wrap(p, 0, STYLE_BAD, f->wrong);
		return;
	}
	switch (g->form.at) {
	case GOODS_TEMP:
		draw_temp(d, g, p);
		return;
	case GOODS_COUNT:
	case GOODS_WEIGHT:
		draw_weight(d, g, p);
		return;
	case GOODS_AREA:
		if (f->text[0] != '\0' &&
		    area_find(&a, &d->sn->areas, f->text, NULL) == RC_OK)
			pane_fmt(
			    p, 0, 0, STYLE_PLAIN, "%s  %s", a->code, a->name);
		return;
	case GOODS_LOT:
	case GOODS_CAUGHT:
	case GOODS_DISPATCHED:
	case GOODS_SUPPLIER_DATE:
		draw_label_days(g, &part);
		return;
	default:
		draw_cautions(g, p);
	}
}

void
goods_draw_form(struct desk *d, struct goods *g, const struct pane *p)
{
	enum { ABOUT = 4 };
	struct pane part;
	int h = p->h - 1 - ABOUT;

	goods_draw_steps(g, p);
	goods_label_marks(g);
	part = pane_part(p, 0, 1, p->w, h);
	form_draw(&g->form, &part, LABEL_W);
	pane_rule(p, 1 + h);
	part = pane_part(p, 0, 2 + h, p->w, ABOUT - 1);
	draw_about(d, g, &part);
}
