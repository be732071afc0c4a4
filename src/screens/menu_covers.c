/* menu_covers.c - the book: covers of the coming services. */
#include <inttypes.h>
#include <string.h>

#include "base/str.h"
#include "menu_view.h"
#include "ops/expect.h"
#include "ops/forecast.h"
#include "says_menu.h"
#include "term/when.h"

#define DETAIL_ROWS 5
#define FORECAST_MAX ((size_t)256 * 1024)

void
covers_load(struct desk *d, struct menu_state *m)
{
	struct err err = { 0 };

	covers_list_fini(&m->covers);
	if (covers_list_open(&m->covers, d->sn, desk_today(d) + m->from,
		COVERS_DAYS, &err) != RC_OK)
		desk_fail(d, &err);
	m->covers_rows.count = (int)m->covers.count;
	list_fit(&m->covers_rows);
}

static const struct covers_row *
chosen(const struct menu_state *m)
{
	int at = m->covers_rows.at;

	return at < 0 || at >= (int)m->covers.count ? NULL
						    : &m->covers.items[at];
}

struct row_arg {
	const struct menu_state *m;
	const struct config *cfg;
};

static void
covers_line(const void *arg, int i, const struct pane *row, enum style style)
{
	const struct row_arg *a = arg;
	const struct covers_row *r = &a->m->covers.items[i];
	struct civil c = day_civil(r->day);
	char text[PARTIES_TEXT_SIZE + 40], day[64];
	int x;

	str_fmt(day, sizeof(day), tr(SAY_COVERS_DAY),
	    tr(weekday_short(day_weekday(r->day))), c.day,
	    tr(month_short(c.month)));
	x = pane_cut(row, 0, 0, 13, style, day);
	x = pane_cut(row, x, 0, 12, style, a->cfg->services[r->window].name);
	if (!r->booked) {
		pane_put(row, x + 1, 0,
		    style == STYLE_CHOSEN ? style : STYLE_FAINT,
		    tr(SAY_COVERS_NOTHING));
		return;
	}
	x = pane_fmt(
	    row, x, 0, style, tr(SAY_COVERS_BOOKED), (int)r->service.covers);
	parties_print(text, sizeof(text), &r->service.parties);
	pane_cut(row, x + 2, 0, row->w - x - 14, style, text);
	if (r->service.expected >= 0) {
		str_fmt(text, sizeof(text), tr(SAY_COVERS_EXPECTED),
		    (int)r->service.expected);
		pane_right(row, row->w - 1, 0, style, text);
	}
}

/* The chosen service, to be read from the stove. */
static void
draw_big(const struct desk *d, const struct menu_state *m, const struct pane *p)
{
	const struct covers_row *r = chosen(m);
	char when[80], line[160], number[24];
	int x = 0;

	if (r == NULL)
		return;
	when_words(when, sizeof(when), r->day, desk_today(d));
	str_fmt(line, sizeof(line), tr(SAY_COVERS_EDIT), when,
	    d->sn->cfg.services[r->window].name);
	pane_cut(p, 0, 0, p->w, STYLE_STRONG, line);
	if (r->booked) {
		str_fmt(number, sizeof(number), "%" PRId64, r->service.covers);
		x = pane_big(p, 0, 1, STYLE_STRONG, number) + 2;
		pane_put(p, x, 2, STYLE_PLAIN,
		    trn(SAY_COVERS_GUESTS, (long)r->service.covers));
	} else {
		pane_put(p, 0, 2, STYLE_PLAIN, tr(SAY_COVERS_NOTHING));
	}
	pane_cut(p, x, 3, p->w - x, STYLE_FAINT, tr(SAY_COVERS_F_KEY));
}

void
covers_draw(const struct desk *d, struct menu_state *m, const struct pane *p)
{
	struct row_arg arg = { m, &d->sn->cfg };
	day_no from = desk_today(d) + m->from, to = from + COVERS_DAYS - 1;
	struct civil a = day_civil(from), b = day_civil(to);
	int list_h = p->h - DETAIL_ROWS - 1;
	struct pane part;

	pane_fmt(p, 0, 0, STYLE_STRONG, tr(SAY_COVERS_HEAD),
	    tr(weekday_short(day_weekday(from))), a.day,
	    tr(month_short(a.month)), tr(weekday_short(day_weekday(to))), b.day,
	    tr(month_short(b.month)));
	if (m->covers.count == 0) {
		part = pane_part(p, 0, 2, p->w, p->h - 2);
		(void)pane_wrap(&part, 0, STYLE_PLAIN, tr(SAY_COVERS_EMPTY));
		return;
	}
	part = pane_part(p, 0, 1, p->w, list_h);
	list_draw(&m->covers_rows, &part, covers_line, &arg);
	pane_rule(p, list_h + 1);
	part = pane_part(p, 0, list_h + 2, p->w, DETAIL_ROWS - 1);
	draw_big(d, m, &part);
}

void
covers_forecast(struct desk *d, struct menu_state *m)
{
	const struct covers_row *r = chosen(m);
	char service[64], day[16];
	struct forecast_wish wish = { .service = service,
		.format = FORMAT_TEXT };
	struct err err = { 0 };
	struct buf out;

	if (r == NULL)
		return;
	str_fmt(service, sizeof(service), "%s/%s",
	    day_print(day, sizeof(day), r->day),
	    d->sn->cfg.services[r->window].name);
	buf_init(&out, FORECAST_MAX);
	if (forecast(&out, d->sn, &wish, &err) == RC_OK)
		desk_read(d, tr(SAY_COVERS_FORECAST), buf_text(&out));
	else
		desk_fail(d, &err);
	buf_fini(&out);
}

/* --- one booking -----------------------------------------------------------*/

enum { BOOK_COVERS, BOOK_PARTIES, BOOK_EXPECTED, BOOK_FIELDS };

static const struct field_row book_rows[BOOK_FIELDS] = {
	{ SAY_COVERS_F_COVERS, FIELD_COUNT, FIELD_MUST,
	    SAY_COVERS_F_COVERS_HINT },
	{ SAY_COVERS_F_PARTIES, FIELD_TEXT, 0, SAY_COVERS_F_PARTIES_HINT },
	{ SAY_COVERS_F_EXPECTED, FIELD_COUNT, 0, SAY_COVERS_F_EXPECTED_HINT },
};

/* What the chef expects, when that was changed. */
static enum rc
put_expected(struct desk *d, struct menu_state *m, struct err *err)
{
	const char *typed = form_value(m->form, BOOK_EXPECTED);
	struct expect_in in = { .covers = -1, .by = d->by };
	char service[64], day[16];
	struct buf out;
	enum rc rc;

	if (typed != NULL &&
	    (rc = int_parse(&in.covers, tr(SAY_COVERS_F_EXPECTED), typed, 0,
		 COUNT_MAX, err)) != RC_OK)
		return rc;
	if (in.covers == m->booking.service.expected)
		return RC_OK;
	if (in.covers < 0) {
		in.words[0].kind = EXPECT_CLEAR;
		in.words[0].text = "covers";
		in.count = 1;
	}
	str_fmt(service, sizeof(service), "%s/%s",
	    day_print(day, sizeof(day), m->booking.day),
	    d->sn->cfg.services[m->booking.window].name);
	in.service = service;
	buf_init(&out, FORECAST_MAX);
	rc = expect(&out, d->sn, &in, FORMAT_TEXT, err);
	buf_fini(&out);
	return rc;
}

static void
book_now(struct desk *d, void *arg)
{
	struct menu_state *m = arg;
	const char *name = d->sn->cfg.services[m->booking.window].name;
	struct booking_in in = { .day = m->booking.day,
		.service = name,
		.covers = form_value(m->form, BOOK_COVERS),
		.parties = form_value(m->form, BOOK_PARTIES),
		.by = d->by };
	struct err err = { 0 };
	bool at_parties = false;
	char when[80];
	int64_t covers = 0;
	enum rc rc;

	if ((rc = booking_put(&at_parties, d->sn, &in, &err)) != RC_OK) {
		if (rc == RC_INVALID)
			form_wrong(m->form,
			    at_parties ? BOOK_PARTIES : BOOK_COVERS, err.text);
		desk_fail(d, &err);
		return;
	}
	if ((rc = put_expected(d, m, &err)) != RC_OK) {
		form_wrong(m->form, BOOK_EXPECTED, err.text);
		desk_fail(d, &err);
		return;
	}
	ignore_rc(int_parse(&covers, "covers", in.covers, 0, COUNT_MAX, NULL));
	desk_say(d, LEVEL_DONE, trn(SAY_COVERS_SAVED, (long)covers),
	    when_words(when, sizeof(when), in.day, desk_today(d)), name,
	    (int)covers);
	m->form = NULL;
	desk_shut(d); /* the booking's sheet */
}

/* The sheet stays until it is recorded: what was refused can be mended. */
static bool
book_typed(struct desk *d, void *arg, struct form *f)
{
	struct menu_state *m = arg;

	m->form = f;
	desk_record(d, DUTY_ANYONE, book_now, m);
	return false;
}

void
covers_edit(struct desk *d, struct menu_state *m)
{
	const struct covers_row *r = chosen(m);
	char when[80], title[160], text[PARTIES_TEXT_SIZE];
	struct form *f;

	if (r == NULL)
		return;
	m->booking = *r;
	str_fmt(title, sizeof(title), tr(SAY_COVERS_EDIT),
	    when_words(when, sizeof(when), r->day, desk_today(d)),
	    d->sn->cfg.services[r->window].name);
	f = desk_ask_fields(d, title, book_rows, BOOK_FIELDS, book_typed, m);
	if (!r->booked)
		return;
	str_fmt(text, sizeof(text), "%" PRId64, r->service.covers);
	form_set(f, BOOK_COVERS, text);
	form_set(f, BOOK_PARTIES,
	    parties_print(text, sizeof(text), &r->service.parties));
	if (r->service.expected >= 0) {
		str_fmt(text, sizeof(text), "%" PRId64, r->service.expected);
		form_set(f, BOOK_EXPECTED, text);
	}
}
