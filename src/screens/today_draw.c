/* today_draw.c - how Today looks. */
#include <string.h>

#include "base/str.h"
#include "base/units.h"
#include "says_desk.h"
#include "says_today.h"
#include "today_inner.h"

#define INDEX_W 16 /* the screens, on the right */
#define SPACE_PLENTY ((int64_t)2 * 1024 * 1024 * 1024)

/* --- the date, and what the station is like -------------------------------*/

/* The first printer that has something to say. */
static enum style
printer_words(char *dst, size_t size, const struct today *t)
{
	const struct today_printer *p = &t->printers[0];
	int i;
	long n;

	for (i = 0; i < t->printer_count; i++)
		if (t->printers[i].why[0] != '\0')
			break;
	if (i < t->printer_count) {
		p = &t->printers[i];
		str_fmt(dst, size, tr(SAY_PRINTER_FAULT), p->name, p->why);
		return STYLE_WARN;
	}
	for (i = 0; i < t->printer_count; i++)
		if (t->printers[i].queued + t->printers[i].unsure > 0)
			break;
	if (i < t->printer_count)
		p = &t->printers[i];
	if (p->unsure > 0) {
		n = (long)p->unsure;
		str_fmt(dst, size, trn(SAY_PRINTER_UNSURE, n), p->name, n);
		return STYLE_WARN;
	}
	n = (long)p->queued;
	if (n > 0)
		str_fmt(dst, size, trn(SAY_PRINTER_WAITS, n), p->name, n);
	else
		str_fmt(dst, size, tr(SAY_PRINTER_IDLE), p->name);
	return STYLE_PLAIN;
}

static enum style
file_words(char *dst, size_t size, const struct today *t)
{
	char space[32];

	bytes_words(space, sizeof(space), t->free_bytes);
	if (t->free_bytes < 0)
		str_copy(dst, size, tr(SAY_FILE_UNKNOWN));
	else if (t->free_bytes >= SPACE_PLENTY)
		str_copy(dst, size, tr(SAY_FILE_GOOD));
	else if (t->free_bytes >= TODAY_SPACE_LOW)
		str_fmt(dst, size, tr(SAY_FILE_SPACE), space);
	else
		str_fmt(dst, size, tr(SAY_FILE_LOW), space);
	return t->free_bytes >= TODAY_SPACE_LOW ? STYLE_PLAIN : STYLE_BAD;
}

static void
draw_station(const struct today *t, const struct pane *p)
{
	char text[400];
	enum style style;
	bool doubt = t->doubt[0] != '\0';

	pane_cut(p, 0, 0, p->w, doubt ? STYLE_BAD : STYLE_PLAIN,
	    tr(doubt ? SAY_CLOCK_BAD : SAY_CLOCK_GOOD));
	style = printer_words(text, sizeof(text), t);
	pane_cut(p, 0, 1, p->w, style, text);
	pane_cut(p, 0, 2, p->w, STYLE_PLAIN,
	    tr(t->scale ? SAY_SCALE_SET : SAY_SCALE_NONE));
	style = file_words(text, sizeof(text), t);
	pane_cut(p, 0, 3, p->w, style, text);
}

/* A recall stands here until it is closed.  Returns the row behind. */
static int
draw_recalls(const struct today *t, const struct pane *p, int y)
{
	char text[120];
	int i;
	long n;

	for (i = 0; i < t->recall_count; i++) {
		n = (long)t->recalls[i].missing;
		if (n > 0)
			str_fmt(text, sizeof(text), trn(SAY_RECALL_MISSING, n),
			    (long long)t->recalls[i].id, n);
		else
			str_fmt(text, sizeof(text), tr(SAY_RECALL_FOUND),
			    (long long)t->recalls[i].id);
		pane_cut(p, 0, y++, p->w, STYLE_BAD, text);
	}
	return y;
}

/* Returns the row behind it. */
static int
draw_date(const struct today *t, const struct pane *p)
{
	int y;
	struct civil c = day_civil(t->day);
	char text[64], words[48], doubt[600];
	struct pane part;
	int x;

	str_fmt(text, sizeof(text), tr(SAY_DAY_BIG),
	    tr(weekday_short(day_weekday(t->day))), c.day,
	    tr(month_short(c.month)));
	x = pane_big(p, 0, 0, STYLE_STRONG, text) + 3;
	part = pane_part(p, x, 0, p->w - x, BIG_ROWS + 1);
	draw_station(t, &part);
	y = draw_recalls(t, p, BIG_ROWS + 1);
	if (t->doubt[0] == '\0')
		return y;
	str_fmt(doubt, sizeof(doubt), tr(SAY_CLOCK_DOUBT),
	    day_words(words, sizeof(words), t->day), t->doubt);
	return pane_wrap(p, y, STYLE_BAD, doubt);
}

/* --- services -------------------------------------------------------------*/

static char *
day_near(char *dst, size_t size, day_no day, day_no today)
{
	if (day == today)
		str_copy(dst, size, tr(SAY_DAY_TODAY));
	else if (day == today + 1)
		str_copy(dst, size, tr(SAY_DAY_TOMORROW));
	else if (day == today - 1)
		str_copy(dst, size, tr(SAY_DAY_YESTERDAY));
	else
		str_fmt(dst, size, tr(SAY_DAY_OTHER),
		    tr(weekday_short(day_weekday(day))), day_civil(day).day);
	return dst;
}

static enum style
work_words(char *dst, size_t size, const struct today_service *s)
{
	long n = (long)s->to_make;

	if (s->stage == TODAY_CLOSED)
		str_copy(dst, size, tr(SAY_STAGE_CLOSED));
	else if (s->stage == TODAY_OVER)
		str_copy(dst, size, tr(SAY_STAGE_OVER));
	else if (s->to_make > 0)
		str_fmt(dst, size, trn(SAY_TO_MAKE, n), n);
	else if (s->to_make == 0)
		str_copy(dst, size, tr(SAY_ALL_MADE));
	else
		str_copy(dst, size,
		    tr(s->to_make == TODAY_UNKNOWN ? SAY_TO_MAKE_AHEAD
						   : SAY_TO_MAKE_LATER));
	if (s->stage == TODAY_OVER)
		return STYLE_WARN;
	return s->stage != TODAY_CLOSED && s->to_make > 0 ? STYLE_STRONG
							  : STYLE_PLAIN;
}

static void
draw_service(
    const struct today_service *s, day_no today, const struct pane *p, int y)
{
	struct local_time at = local_from_utc(s->start_utc);
	char text[80];
	enum style style;
	int x;

	x = pane_cut(p, 1, y, 10, STYLE_PLAIN,
	    day_near(text, sizeof(text), s->day, today));
	x = pane_cut(p, x + 1, y, p->w > 60 ? 16 : 10, STYLE_PLAIN, s->name);
	if (s->start_utc != 0)
		pane_fmt(
		    p, x + 1, y, STYLE_PLAIN, "%02d:%02d", at.hour, at.minute);
	x += 7;
	str_fmt(text, sizeof(text), trn(SAY_COVERS, (long)s->covers),
	    (long)s->covers);
	pane_right(p, x + 10, y, STYLE_PLAIN, text);
	x += 12;
	style = work_words(text, sizeof(text), s);
	pane_cut(p, x, y, p->w - x, style, text);
}

/* Returns the row behind them. */
static int
draw_services(const struct today *t, const struct pane *p)
{
	int i, y = 1, most = p->h / 2 - 1;

	pane_put(p, 0, 0, STYLE_FAINT, tr(SAY_SERVICES));
	if (t->service_count == 0)
		y = pane_wrap(p, 1, STYLE_PLAIN, tr(SAY_NO_SERVICES));
	for (i = 0; i < t->service_count && i < most; i++)
		draw_service(&t->services[i], t->day, p, y++);
	return y + 1;
}

/* --- what wants a decision ------------------------------------------------*/

/* What the row function is given. */
struct rows_of {
	const struct today_screen *s;
	const struct species_table *species;
};

static const char *
species_name(const struct species_table *table, const char *code)
{
	const struct species *sp = species_find(table, code);

	return sp == NULL ? code : sp->name;
}

static void
stock_name(char *dst, size_t size, const struct rows_of *r, bool batch,
    const char *name, const char *species)
{
	if (batch)
		str_fmt(dst, size, tr(SAY_ROW_BATCH),
		    species_name(r->species, species));
	else
		str_copy(dst, size, name);
}

#define STATE_W 16
#define AMOUNT_W 11

/* Code, what, how much, and why it stands here. */
static void
draw_parts(const struct pane *row, enum style style, const char *code,
    const char *what, const char *amount, const char *state)
{
	char shown[CODE_SIZE] = "";
	int end = row->w - STATE_W - 1, x = 0;

	if (code != NULL)
		x = pane_cut(row, 0, 0, 10, style, code_show(shown, code));
	pane_cut(row, end + 1, 0, STATE_W, style, state);
	if (amount[0] != '\0') {
		pane_right(row, end, 0, style, amount);
		end -= AMOUNT_W;
	}
	pane_cut(row, x, 0, end - x - 1, style, what);
}

static void
draw_stock(const struct rows_of *r, const struct expiring *e, bool expired,
    const struct pane *row, enum style style)
{
	struct local_time at = local_from_utc(e->use_by_utc);
	char what[96], amount[32], state[40], day[40];

	stock_name(what, sizeof(what), r, e->batch, e->name, e->species);
	if (e->batch)
		weight_print(amount, sizeof(amount), e->weight_g);
	else
		str_fmt(amount, sizeof(amount),
		    trn(SAY_PORTIONS, (long)e->servings), (long)e->servings);
	str_fmt(day, sizeof(day), tr(SAY_DAY_OTHER),
	    tr(weekday_short(day_weekday(at.day))), day_civil(at.day).day);
	if (e->held)
		str_copy(state, sizeof(state),
		    tr(expired ? SAY_STATE_EXPIRED_HELD
			       : SAY_STATE_TODAY_HELD));
	else if (expired)
		str_fmt(state, sizeof(state), tr(SAY_STATE_EXPIRED), day);
	else
		str_fmt(state, sizeof(state), tr(SAY_STATE_TODAY), at.hour,
		    at.minute);
	if (style == STYLE_PLAIN && expired)
		style = STYLE_WARN;
	draw_parts(row, style, e->code, what, amount, state);
}

static void
draw_held(const struct rows_of *r, const struct held *h, const struct pane *row,
    enum style style)
{
	char name[96], what[320];

	stock_name(name, sizeof(name), r, h->batch, h->name, h->species);
	str_fmt(what, sizeof(what), tr(SAY_ROW_HELD), name, h->reason);
	draw_parts(row, style, h->code, what, "", tr(SAY_STATE_HELD));
}

static void
draw_row(const void *arg, int i, const struct pane *row, enum style style)
{
	const struct rows_of *r = arg;
	const struct today *t = &r->s->t;
	const struct today_row *which = &r->s->rows[i];
	const struct today_service *service = &t->services[0];
	char what[160], day[40];
	long n = (long)t->unsure;

	switch (which->kind) {
	case TODAY_ROW_UNSURE:
		str_fmt(what, sizeof(what), trn(SAY_ROW_UNSURE, n), n);
		draw_parts(row, style == STYLE_PLAIN ? STYLE_WARN : style, NULL,
		    what, "", tr(SAY_STATE_ASKED));
		break;
	case TODAY_ROW_HALF:
		str_fmt(what, sizeof(what), tr(SAY_ROW_HALF), r->s->half.title);
		draw_parts(row, style, NULL, what, "", tr(SAY_STATE_HALF));
		break;
	case TODAY_ROW_CLOSE:
		service = &t->services[which->i];
		str_fmt(what, sizeof(what), tr(SAY_ROW_CLOSE), service->name,
		    day_near(day, sizeof(day), service->day, t->day));
		draw_parts(row, style, NULL, what, "", tr(SAY_STAGE_OVER));
		break;
	case TODAY_ROW_EXPIRED:
		draw_stock(r, &t->expired.items[which->i], true, row, style);
		break;
	case TODAY_ROW_TODAY:
		draw_stock(r, &t->expiring.items[which->i], false, row, style);
		break;
	case TODAY_ROW_HELD:
		draw_held(r, &t->held.items[which->i], row, style);
		break;
	}
}

static char *
number_words(char dst[32], int64_t n)
{
	str_fmt(dst, 32, tr(n >= STOP_COUNTING ? SAY_COUNT_MORE : SAY_COUNT),
	    (long)n);
	return dst;
}

static void
add(char *dst, size_t size, const char *part)
{
	char all[200];

	str_fmt(
	    all, sizeof(all), "%s%s%s", dst, dst[0] == '\0' ? "" : ", ", part);
	str_copy(dst, size, all);
}

/* The heading's numbers, as far as there is something to count. */
static void
count_words(char *dst, size_t size, const struct today *t)
{
	int64_t expired = t->expired_count.units + t->expired_count.batches;
	int64_t today = t->today_count.units + t->today_count.batches;
	char n[32], part[80];

	dst[0] = '\0';
	str_fmt(part, sizeof(part), tr(SAY_COUNT_EXPIRED),
	    number_words(n, expired));
	if (expired > 0)
		add(dst, size, part);
	str_fmt(
	    part, sizeof(part), tr(SAY_COUNT_TODAY), number_words(n, today));
	if (today > 0)
		add(dst, size, part);
	str_fmt(part, sizeof(part), tr(SAY_COUNT_HELD),
	    number_words(n, t->held_count));
	if (t->held_count > 0)
		add(dst, size, part);
	str_fmt(part, sizeof(part),
	    trn(SAY_COUNT_COMPLAINTS, (long)t->complaints),
	    number_words(n, t->complaints));
	if (t->complaints > 0)
		add(dst, size, part);
}

static void
draw_decide(struct desk *d, struct today_screen *s, const struct pane *p, int y)
{
	const struct today *t = &s->t;
	struct rows_of r = { s, &d->sn->species };
	struct pane part = pane_part(p, 0, y + 1, p->w, p->h - y - 1);
	char counts[200];
	int x;

	x = pane_put(p, 0, y, STYLE_FAINT, tr(SAY_DECIDE)) + 2;
	count_words(counts, sizeof(counts), t);
	pane_cut(p, x, y, p->w - x, STYLE_STRONG, counts);
	if (s->list.count == 0)
		(void)pane_wrap(&part, 0, STYLE_GOOD, tr(SAY_NOTHING));
	else
		list_draw(&s->list, &part, draw_row, &r);
}

/* --- all of it ------------------------------------------------------------*/

static void
draw_index(const struct pane *p)
{
	char name[KEY_NAME_SIZE];
	struct key k;
	int i;

	pane_put(p, 0, 0, STYLE_FAINT, tr(SAY_SCREENS));
	for (i = 0; i < (int)SCREEN_COUNT && i + 1 < p->h; i++) {
		k = key_of((enum key_code)(KEY_CODE_F1 + i));
		pane_put(p, 0, i + 1, STYLE_STRONG, key_label(name, &k));
		pane_cut(p, 4, i + 1, p->w - 4,
		    i == SCREEN_TODAY ? STYLE_FAINT : STYLE_PLAIN,
		    tr(i == SCREEN_MENU ? SAY_MENU_SHORT : screens[i]->title));
	}
}

static void
draw_new(const struct pane *p)
{
	static const char *const steps[] = { SAY_NEW_MENU, SAY_NEW_LABEL,
		SAY_NEW_GOODS, SAY_NEW_LEARN };
	struct pane part;
	size_t i;
	int y;

	y = pane_wrap(p, 0, STYLE_STRONG, tr(SAY_NEW)) + 1;
	for (i = 0; i < sizeof(steps) / sizeof(steps[0]) && y < p->h; i++) {
		pane_fmt(p, 0, y, STYLE_STRONG, "%zu", i + 1);
		part = pane_part(p, 3, y, p->w - 3, p->h - y);
		y += pane_wrap(&part, 0, STYLE_PLAIN, tr(steps[i]));
	}
}

/* What is missing before the first service can be planned. */
static int
draw_missing(const struct today *t, const struct pane *p, int y)
{
	if (!t->begun.menu)
		y = pane_wrap(p, y, STYLE_WARN, tr(SAY_MISSING_MENU));
	if (!t->begun.batches)
		y = pane_wrap(p, y, STYLE_WARN, tr(SAY_MISSING_GOODS));
	return t->begun.menu && t->begun.batches ? y : y + 1;
}

void
today_draw(struct desk *d, void *state, const struct pane *p)
{
	struct today_screen *s = state;
	struct pane left, right;
	int y;

	if (!s->loaded)
		return;
	y = draw_date(&s->t, p);
	if (p->h > y + 4)
		y++;
	left = pane_part(p, 0, y, p->w - INDEX_W - 2, p->h - y);
	right = pane_part(p, p->w - INDEX_W, y, INDEX_W, p->h - y);
	draw_index(&right);
	if (!s->t.begun.menu && !s->t.begun.bookings && !s->t.begun.batches) {
		draw_new(&left);
		return;
	}
	y = draw_services(&s->t, &left);
	y = draw_missing(&s->t, &left, y);
	draw_decide(d, s, &left, y);
}
