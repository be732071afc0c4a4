/* ticket_report.c - waste and yields of the last weeks, for paper. */
#include <inttypes.h>

#include "base/day.h"
#include "base/str.h"
#include "ops/records_page.h"
#include "ticket_make.h"

enum { REPORT_WEEKS = 13 }; /* a quarter of a year, as on the screen */

static void
put_weight(struct ticket *t, const char *what, grams g)
{
	char text[32];

	if (g != 0)
		ticket_add(
		    t, TICKET_LINE, what, weight_print(text, sizeof(text), g));
}

static void
put_head(
    struct ticket *t, const struct station *sn, const char *title, day_no day)
{
	char from[16], until[16];

	ticket_add(t, TICKET_TITLE, title, NULL);
	ticket_add(t, TICKET_SMALL, sn->cfg.kitchen, NULL);
	ticket_printf(t, TICKET_SMALL, NULL, "%d weeks: %s to %s", REPORT_WEEKS,
	    day_print(
		from, sizeof(from), week_monday(day) - 7 * (REPORT_WEEKS - 1)),
	    day_print(until, sizeof(until), day));
}

static bool
nothing_in(const struct waste_week *w)
{
	return w->preps == 0 && w->discarded_g == 0 && w->missing_g == 0;
}

static void
put_waste(struct ticket *t, const char *head, const struct waste_week *w)
{
	char share[32], count[32];

	ticket_add(t, TICKET_HEAD, head,
	    w->worked_g == 0
		? NULL
		: percent_print(share, sizeof(share), waste_share_bp(w)));
	str_fmt(count, sizeof(count), "%" PRId64, w->preps);
	ticket_add(t, TICKET_LINE, "breakdowns", count);
	put_weight(t, "went in", w->worked_g);
	put_weight(t, "waste at the board", w->waste_g);
	put_weight(t, "trim kept", w->trim_g);
	put_weight(t, "frames kept", w->frames_g);
	put_weight(t, "discarded later", w->discarded_g);
	put_weight(t, "missing when counted", w->missing_g);
}

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

static enum rc
make_waste(struct ticket *t, struct station *sn, day_no day, struct err *err)
{
	struct waste_week week[REPORT_WEEKS], sum = { 0 };
	char monday[16], head[40];
	enum rc rc = waste_weeks(week, sn, REPORT_WEEKS, day, err);
	int i;

	if (rc != RC_OK)
		return rc;
	put_head(t, sn, "Waste", day);
	for (i = 0; i < REPORT_WEEKS; i++)
		add_week(&sum, &week[i]);
	if (nothing_in(&sum)) {
		ticket_add(t, TICKET_SMALL,
		    "Nothing was broken down, discarded or missing.", NULL);
		return RC_OK;
	}
	ticket_add(t, TICKET_SMALL,
	    "%: waste at the board, of what went into breakdowns", NULL);
	put_waste(t, "All these weeks", &sum);
	for (i = REPORT_WEEKS; i-- > 0;) {
		if (nothing_in(&week[i]))
			continue;
		str_fmt(head, sizeof(head), "Week of %s",
		    day_print(monday, sizeof(monday), week[i].monday));
		put_waste(t, head, &week[i]);
	}
	return RC_OK;
}

static void
put_course(
    struct ticket *t, const struct station *sn, const struct yield_course *y)
{
	const struct species *s = species_find(&sn->species, y->key.species);
	struct yield_week sum = { 0 };
	char text[80], share[32], in[32], out[32], low[32], high[32];
	int i;

	for (i = 0; i < REPORT_WEEKS; i++) {
		sum.preps += y->week[i].preps;
		sum.set_aside += y->week[i].set_aside;
		sum.in_g += y->week[i].in_g;
		sum.out_g += y->week[i].out_g;
	}
	ticket_printf(t, TICKET_HEAD, NULL, "%s, %s to %s",
	    s == NULL ? y->key.species : s->name, yield_form_word(y->key.from),
	    y->key.cut);
	if (sum.preps > 0) {
		str_fmt(text, sizeof(text), "%s, %" PRId64 " breakdown%s",
		    percent_print(share, sizeof(share), yield_week_bp(&sum)),
		    sum.preps, sum.preps == 1 ? "" : "s");
		ticket_add(t, TICKET_LINE, "these weeks", text);
		str_fmt(text, sizeof(text), "%s of %s",
		    weight_print(out, sizeof(out), sum.out_g),
		    weight_print(in, sizeof(in), sum.in_g));
		ticket_add(t, TICKET_LINE, "came out", text);
	}
	if (y->has_published) {
		str_fmt(text, sizeof(text), "%s (%s to %s)",
		    percent_print(share, sizeof(share), y->published.bp),
		    percent_print(low, sizeof(low), y->published.low_bp),
		    percent_print(high, sizeof(high), y->published.high_bp));
		ticket_add(t, TICKET_LINE,
		    y->published.verified ? "published"
					  : "published, unverified",
		    text);
	}
	if (y->has_learned)
		ticket_add(t, TICKET_LINE, "planned with now",
		    percent_print(share, sizeof(share), y->learned.mean_bp));
	if (sum.set_aside > 0)
		ticket_printf(t, TICKET_SMALL, NULL,
		    "%" PRId64 " more set aside: too far from the others",
		    sum.set_aside);
}

static enum rc
make_yields(struct ticket *t, struct station *sn, day_no day, struct err *err)
{
	struct yield_courses c;
	enum rc rc = yield_courses_open(&c, sn, REPORT_WEEKS, day, err);
	size_t i;

	if (rc == RC_OK)
		put_head(t, sn, "Yields", day);
	for (i = 0; rc == RC_OK && i < c.count; i++)
		put_course(t, sn, &c.items[i]);
	if (rc == RC_OK && c.count == 0)
		ticket_add(t, TICKET_SMALL,
		    "Nothing was broken down: the yields planned with are "
		    "the published ones.",
		    NULL);
	yield_courses_fini(&c);
	return rc;
}

enum rc
ticket_make_report(struct ticket *t, struct station *sn,
    const struct ticket_wish *wish, struct err *err)
{
	day_no today = local_from_utc(clock_now(&sn->clock)).day, day = today;
	enum rc rc = wish->what == NULL
	    ? RC_OK
	    : day_parse(&day, "day", wish->what, err);

	if (rc != RC_OK)
		return rc;
	if (day > today)
		return err_set(err, RC_REFUSED, 0,
		    "%s has not begun: a report tells what happened; name a "
		    "day up to today",
		    wish->what);
	return wish->report == REPORT_WASTE ? make_waste(t, sn, day, err)
					    : make_yields(t, sn, day, err);
}
