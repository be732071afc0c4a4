/* prep_list_draw.c - the prep list as it is seen. */
#include <inttypes.h>
#include <string.h>

#include "base/str.h"
#include "prep_list.h"
#include "says_prep_list.h"
#include "term/when.h"

#define DETAIL_ROWS 5
#define MARK_W 4
#define MIN_W 9
#define CODE_W 11
#define WHO_W 12
#define NARROW_W 12 /* columns of what is to be done, at least */

/* --- head ------------------------------------------------------------------*/

static void
time_of(struct local_time *t, int64_t utc)
{
	*t = local_from_utc(utc);
}

static void
draw_covers(const struct prep_screen *l, const struct pane *p, int x)
{
	const struct prep_page *g = l->page;
	struct local_time t;
	char text[120];

	pane_fmt(p, x + 2, 0, STYLE_PLAIN,
	    tr(g->typed ? SAY_PL_COVERS_TYPED : SAY_PL_COVERS), (int)g->covers,
	    (int)(g->expected_c / 100), (int)(g->expected_c % 100 / 10));
	time_of(&t, g->made_utc);
	if (l->stale)
		str_copy(text, sizeof(text), tr(SAY_PL_STALE));
	else
		str_fmt(text, sizeof(text),
		    l->making != NULL ? tr(SAY_PL_MAKING) : tr(SAY_PL_PLANNED),
		    t.hour, t.minute);
	pane_right(p, p->w, 1, l->stale ? STYLE_WARN : STYLE_FAINT, text);
}

static int
portions_short(const struct plan *plan)
{
	int64_t n = 0;
	size_t i;

	for (i = 0; i < plan->count; i++)
		n += plan->lines[i].short_of;
	return (int)n;
}

/* What is still to do of the work, and when it has to be begun. */
static int
draw_left(const struct desk *d, const struct prep_page *g, const struct pane *p,
    int y)
{
	int64_t seconds = 0, slow_s = 0;
	struct local_time t;
	int left = 0;
	size_t i;

	for (i = 0; i < g->task_count; i++) {
		if (g->tasks[i].said == WORK_DONE)
			continue;
		left++;
		seconds += g->tasks[i].seconds;
		slow_s += g->tasks[i].slow_s;
	}
	pane_fmt(p, 0, y++, STYLE_PLAIN, trn(SAY_PL_LEFT, (long)g->task_count),
	    left, (int)g->task_count);
	if (left == 0)
		return y;
	time_of(&t, g->start_utc - slow_s);
	pane_fmt(p, 0, y++, STYLE_PLAIN,
	    g->start_utc - slow_s < clock_now(&d->sn->clock)
		? tr(SAY_PL_WORK_LATE)
		: tr(SAY_PL_WORK),
	    (int)div_up(seconds, 60), (int)div_up(slow_s, 60), t.hour,
	    t.minute);
	return y;
}

static int
draw_work(
    const struct desk *d, const struct prep_screen *l, const struct pane *p)
{
	const struct prep_page *g = l->page;
	int n = portions_short(g->plan), y = 1;

	if (g->task_count > 0)
		y = draw_left(d, g, p, y);
	if (g->earlier > 0)
		pane_fmt(p, 0, y++, STYLE_FAINT,
		    trn(SAY_PL_EARLIER, g->earlier), g->earlier);
	if (l->say_count > 0)
		pane_fmt(p, 0, y++, STYLE_STRONG,
		    trn(SAY_PL_SAID, (long)l->say_count), (int)l->say_count);
	if (n > 0)
		pane_fmt(p, 0, y++, STYLE_WARN, trn(SAY_PL_SHORT, n), n);
	return y < 2 ? 2 : y;
}

static int
draw_head(
    const struct desk *d, const struct prep_screen *l, const struct pane *p)
{
	const struct prep_service *s = NULL;
	struct civil c;
	size_t i;
	int x;

	for (i = 0; i < l->services.count; i++)
		if (str_eq(l->services.items[i].text, l->service))
			s = &l->services.items[i];
	if (s == NULL)
		return 0;
	c = day_civil(s->service.day);
	x = pane_fmt(p, 0, 0, STYLE_STRONG, tr(SAY_PL_HEAD), s->service.name,
	    tr(weekday_name(day_weekday(s->service.day))), c.day,
	    tr(month_name(c.month)));
	if (l->page == NULL)
		return 2;
	draw_covers(l, p, x);
	return draw_work(d, l, p);
}

/* --- tasks -----------------------------------------------------------------*/

static const char *
mark_of(enum work_said said)
{
	return said == WORK_DONE ? "[x]" : said == WORK_STARTED ? "[>]" : "[ ]";
}

static void
who_text(char *dst, size_t size, enum work_said said, const struct moment *by)
{
	struct local_time t;

	dst[0] = '\0';
	if (said == WORK_REOPENED)
		return;
	time_of(&t, by->utc);
	str_fmt(dst, size, tr(SAY_PL_BY), by->by, t.hour, t.minute);
}

/* "5 fish, 13 x hake-beans" */
static void
amount_text(char *dst, size_t size, const struct prep_screen *l,
    const struct prep_task *t)
{
	const struct work_job *j;
	char weight[32];

	dst[0] = '\0';
	if (t->job < 0)
		return;
	j = &l->page->jobs[t->job];
	if (j->fish > 0)
		str_fmt(
		    dst, size, trn(SAY_PL_FISH_N, (long)j->fish), (int)j->fish);
	else
		str_copy(dst, size,
		    weight_print(weight, sizeof(weight), j->weight_g));
}

/* A fixed frame of columns: mark, minutes, what, how much, whose batch, who. */
static void
draw_columns(const struct pane *row, enum style style, const char *mark,
    const char *minutes, const char *const cells[4])
{
	int end = row->w - WHO_W, what;

	pane_cut(row, 0, 0, MARK_W, style, mark);
	pane_cut(row, MARK_W, 0, MIN_W, style, minutes);
	what = end - CODE_W - 10 - MARK_W - MIN_W;
	if (what < NARROW_W) {
		/* a narrow window: what it is, before how much and who */
		pane_cut(row, MARK_W + MIN_W, 0, row->w - MARK_W - MIN_W, style,
		    cells[0]);
		return;
	}
	pane_cut(row, MARK_W + MIN_W, 0, what - 1, style, cells[0]);
	pane_cut(row, MARK_W + MIN_W + what, 0, 9, style, cells[1]);
	pane_cut(row, end - CODE_W, 0, CODE_W - 1, style, cells[2]);
	pane_cut(row, end, 0, WHO_W, style, cells[3]);
}

static void
draw_task(const struct prep_screen *l, const struct prep_task *t,
    const struct pane *row, enum style style)
{
	char minutes[24], amount[48], code[CODE_SIZE] = "", who[40];
	char what[120];

	str_fmt(minutes, sizeof(minutes),
	    t->learned ? tr(SAY_PL_MIN) : tr(SAY_PL_ABOUT_MIN),
	    (int)div_up(t->seconds, 60));
	amount_text(amount, sizeof(amount), l, t);
	if (t->job >= 0)
		code_show(code, t->key.batch);
	who_text(who, sizeof(who), t->said, &t->by);
	if (t->later)
		str_fmt(what, sizeof(what), tr(SAY_PL_STEP), t->key.step,
		    prep_list_what(l, t));
	else if (t->job >= 0)
		str_fmt(what, sizeof(what), tr(SAY_PL_PORTIONS),
		    (int)l->page->jobs[t->job].portions, prep_list_what(l, t));
	else
		str_copy(what, sizeof(what), prep_list_what(l, t));
	if (style == STYLE_PLAIN && (t->said == WORK_DONE || t->job < 0))
		style = STYLE_FAINT;
	draw_columns(row, style, mark_of(t->said), minutes,
	    (const char *const[]){ what, amount, code, who });
}

static void
draw_gone(const struct work_mark *m, const struct pane *row, enum style style)
{
	char code[CODE_SIZE] = "", who[40], what[120];

	if (m->key.batch[0] != '\0')
		code_show(code, m->key.batch);
	who_text(who, sizeof(who), m->said, &m->at);
	if (m->portions > 0)
		str_fmt(what, sizeof(what), tr(SAY_PL_PORTIONS),
		    (int)m->portions, m->dish_name);
	else
		str_copy(what, sizeof(what), m->dish_name);
	if (style == STYLE_PLAIN)
		style = STYLE_FAINT;
	draw_columns(row, style, mark_of(m->said), m->key.step,
	    (const char *const[]){ what, "", code, who });
}

static void
task_row(const void *arg, int i, const struct pane *row, enum style style)
{
	const struct prep_screen *l = arg;
	size_t n = (size_t)i;

	if (n < l->page->task_count)
		draw_task(l, &l->page->tasks[n], row, style);
	else
		draw_gone(&l->page->gone[n - l->page->task_count], row, style);
}

/* --- dishes ----------------------------------------------------------------*/

#define NUMBER_W 8

static void
draw_numbers(const struct pane *row, enum style style,
    const char *const cells[4], const char *name, const char *note)
{
	int name_w = 30, x = name_w, i;
	struct pane cell;

	pane_cut(row, 0, 0, name_w - 1, style, name);
	for (i = 0; i < 4; i++, x += NUMBER_W) {
		cell = pane_part(row, x, 0, NUMBER_W, 1);
		pane_right(&cell, NUMBER_W, 0, style, cells[i]);
	}
	if (row->w > x + 2)
		pane_cut(row, x + 2, 0, row->w - x - 2, style, note);
}

static const char *
note_of(const struct plan_line *l)
{
	if (l->short_of > 0 && l->by_choice)
		return tr(SAY_PL_BY_CHOICE);
	if (l->short_of > 0 && !l->order_known)
		return tr(SAY_PL_NO_YIELD);
	switch (l->demand.why) {
	case WHY_FIXED:
		return tr(SAY_PL_FIXED);
	case WHY_FLOOR:
		return tr(SAY_PL_FLOOR);
	case WHY_CEILING:
		return tr(SAY_PL_CEILING);
	case WHY_NOT_OFFERED:
	case WHY_RATIO:
	case WHY_LIFE:
		break;
	}
	return "";
}

static void
dish_row(const void *arg, int i, const struct pane *row, enum style style)
{
	const struct prep_screen *l = arg;
	const struct plan_line *line = &l->page->plan->lines[i];
	char n[4][24];

	str_fmt(n[0], sizeof(n[0]), "%" PRId64, line->to_have);
	str_fmt(n[1], sizeof(n[1]), "%" PRId64, line->on_hand);
	str_fmt(n[2], sizeof(n[2]), "%" PRId64, line->to_make);
	str_fmt(n[3], sizeof(n[3]), "%" PRId64, line->short_of);
	if (style == STYLE_PLAIN && line->short_of > 0)
		style = STYLE_WARN;
	draw_numbers(row, style,
	    (const char *const[]){ n[0], n[1], n[2], n[3] },
	    line->cut.dish_name, note_of(line));
}

static void
draw_dishes(struct prep_screen *l, const struct pane *p)
{
	struct pane head = pane_part(p, LIST_NUMBER, 0, p->w - LIST_NUMBER, 1);
	struct pane rows = pane_part(p, 0, 1, p->w, p->h - 1);

	draw_numbers(&head, STYLE_FAINT,
	    (const char *const[]){ tr(SAY_PL_NEED), tr(SAY_PL_HAVE),
		tr(SAY_PL_MAKE), tr(SAY_PL_MISSING) },
	    tr(SAY_PL_DISH_HEAD), "");
	list_draw(&l->dishes, &rows, dish_row, l);
}

/* --- the chosen task in full -----------------------------------------------*/

/* "Hake, use by Mon 7 Dec 23:59; served raw: ..." */
static void
draw_source(const struct desk *d, const struct prep_screen *l,
    const struct prep_task *t, const struct pane *p, int y)
{
	const struct plan_take *take =
	    prep_take(l->page, t->line, t->key.batch);
	const struct species *sp;
	char text[160], when[48];
	int on_hand = (int)l->page->plan->lines[t->line].on_hand;

	if (take == NULL)
		return;
	sp = species_find(&d->sn->species, take->species);
	str_fmt(text, sizeof(text), tr(SAY_PL_SOURCE),
	    sp == NULL ? take->species : sp->name,
	    when_instant(when, sizeof(when), take->use_by_utc));
	pane_cut(p, 0, y++, p->w, STYLE_PLAIN, text);
	if (t->ask_parasites)
		pane_cut(p, 0, y, p->w, STYLE_WARN, tr(SAY_PL_RAW));
	else if (on_hand > 0)
		pane_fmt(p, 0, y, STYLE_FAINT, trn(SAY_PL_FROM_TRAY, on_hand),
		    on_hand);
}

static void
draw_detail(
    const struct desk *d, const struct prep_screen *l, const struct pane *p)
{
	const struct prep_task *t = prep_list_task(l);
	struct buf b;

	pane_rule(p, 0);
	if (t == NULL)
		return;
	buf_init(&b, 4096);
	prep_task_words(&b, l->page, t);
	if (t->later)
		buf_printf(&b, "; %s", tr(SAY_PL_LATER));
	pane_cut(p, 0, 1, p->w, STYLE_PLAIN, buf_text(&b));
	buf_clear(&b);
	prep_job_words(&b, l->page, t);
	pane_cut(p, 0, 2, p->w, STYLE_PLAIN, buf_text(&b));
	buf_fini(&b);
	if (t->job >= 0)
		draw_source(d, l, t, p, 3);
}

/* --- all of it -------------------------------------------------------------*/

static void
draw_words(const struct pane *p, int y, const char *text)
{
	struct pane part = pane_part(p, 0, y, p->w, p->h - y);

	(void)pane_wrap(&part, 0, STYLE_PLAIN, text);
}

static const char *
empty_text(const struct prep_screen *l, char *dst, size_t size)
{
	if (l->service[0] == '\0')
		str_fmt(dst, size, tr(SAY_PL_NO_SERVICE), PREP_DAYS);
	else if (l->page == NULL && l->why_not[0] != '\0')
		str_fmt(dst, size, tr(SAY_PL_NO_PLAN), l->why_not);
	else if (l->page == NULL)
		str_copy(dst, size, tr(SAY_PL_FIRST));
	else if (l->page->plan->count == 0)
		str_copy(dst, size, tr(SAY_PL_NO_DISH));
	else if (!l->by_dish && l->tasks.count == 0)
		str_copy(dst, size,
		    portions_short(l->page->plan) > 0 ? tr(SAY_PL_NO_FISH)
						      : tr(SAY_PL_NOTHING));
	else
		return NULL;
	return dst;
}

void
prep_list_draw(struct desk *d, void *state, const struct pane *p)
{
	struct prep_screen *l = state;
	char text[600];
	int y = draw_head(d, l, p), rows;
	struct pane part;

	if (empty_text(l, text, sizeof(text)) != NULL) {
		draw_words(p, y + 1, text);
		return;
	}
	if (l->by_dish) {
		part = pane_part(p, 0, y + 1, p->w, p->h - y - 1);
		draw_dishes(l, &part);
		return;
	}
	rows = p->h - y - DETAIL_ROWS;
	part = pane_part(p, 0, y, p->w, rows < 3 ? p->h - y : rows);
	list_draw(&l->tasks, &part, task_row, l);
	if (rows < 3)
		return;
	part = pane_part(p, 0, p->h - DETAIL_ROWS, p->w, DETAIL_ROWS);
	draw_detail(d, l, &part);
}
