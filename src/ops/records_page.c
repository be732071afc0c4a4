/* records_page.c - yields, waste and the audit trail over time. */
#include "ops/records_page.h"

#include <assert.h>
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "base/str.h"
#include "store/history.h"
#include "store/yields.h"

day_no
week_monday(day_no day)
{
	return day - day_weekday(day);
}

/* The civil weeks as instants: a night without an hour is no matter then. */
static void
span_of(int64_t span[2], day_no monday, int weeks)
{
	span[0] = utc_from_local(monday, 0, 0, 0);
	span[1] = utc_from_local(monday + 7 * weeks, 0, 0, 0);
}

/* At a night without an hour, or with one twice, the day may be just outside.
 */
static int
week_of(int64_t utc, day_no monday, int weeks)
{
	int week = (local_from_utc(utc).day - monday) / 7;

	return week < 0 ? 0 : week >= weeks ? weeks - 1 : week;
}

enum rc
waste_weeks(struct waste_week *out, struct station *sn, int weeks, day_no day,
    struct err *err)
{
	day_no monday = week_monday(day) - 7 * (weeks - 1);
	const struct loss_past *p;
	struct loss_past_list l;
	struct waste_week *w;
	int64_t span[2];
	size_t i;
	enum rc rc;

	assert(weeks >= 1 && weeks <= RECORDS_WEEKS_MAX);
	memset(out, 0, (size_t)weeks * sizeof(*out));
	for (i = 0; i < (size_t)weeks; i++)
		out[i].monday = monday + 7 * (day_no)i;
	span_of(span, monday, weeks);
	rc = loss_past_open(&l, sn->st, span[0], span[1], err);
	for (i = 0; rc == RC_OK && i < l.count; i++) {
		p = &l.items[i];
		w = &out[week_of(p->at_utc, monday, weeks)];
		w->preps += p->prep;
		w->worked_g += p->worked_g;
		w->waste_g += p->waste_g;
		w->trim_g += p->trim_g;
		w->frames_g += p->frames_g;
		w->discarded_g += p->discarded_g;
		w->missing_g += p->missing_g;
	}
	free(l.items);
	return rc;
}

int
waste_share_bp(const struct waste_week *w)
{
	if (w->worked_g == 0)
		return 0;
	return (int)((w->waste_g * BP_ONE + w->worked_g / 2) / w->worked_g);
}

static bool
same_key(const struct yield_key *a, const struct yield_key *b)
{
	return str_eq(a->species, b->species) && a->from == b->from &&
	    str_eq(a->cut, b->cut);
}

/* The course of a key, added when it is new. */
static struct yield_course *
course_of(struct yield_courses *c, size_t *cap, const struct yield_key *key)
{
	size_t i;

	for (i = 0; i < c->count; i++)
		if (same_key(&c->items[i].key, key))
			return &c->items[i];
	if (c->count == *cap) {
		*cap = *cap == 0 ? 16 : *cap * 2;
		c->items = xrealloc(c->items, *cap, sizeof(*c->items));
	}
	memset(&c->items[c->count], 0, sizeof(*c->items));
	c->items[c->count].key = *key;
	return &c->items[c->count++];
}

static void
add_past(struct yield_week *w, const struct yield_past *y)
{
	if (!y->learned) {
		w->set_aside++;
		return;
	}
	w->preps++;
	w->in_g += y->in_g;
	w->out_g += y->out_g;
}

static int
by_preps(const void *a, const void *b)
{
	const struct yield_course *x = a, *y = b;
	int d;

	if (x->preps != y->preps)
		return x->preps < y->preps ? 1 : -1;
	d = strcmp(x->key.species, y->key.species);
	if (d != 0)
		return d;
	if (x->key.from != y->key.from)
		return x->key.from < y->key.from ? -1 : 1;
	return strcmp(x->key.cut, y->key.cut);
}

/* What stands beside the weeks: published, and planned with now. */
static enum rc
put_known(struct yield_course *y, struct station *sn, struct err *err)
{
	struct yield_learned l;
	struct err none = { 0 };
	enum rc rc;

	y->has_published =
	    yield_key_published(&y->published, &sn->yields, &y->key);
	rc = yield_learned_get(&l, sn->st, &y->key, YIELD_ALL_SUPPLIERS, &none);
	if (rc == RC_OK) {
		y->has_learned = true;
		y->learned = yield_guess(&l.now, 1);
		y->learned_from = l.now.count;
	}
	return rc == RC_OK || rc == RC_NOTFOUND
	    ? RC_OK
	    : err_set(err, rc, none.lib, "%s", none.text);
}

enum rc
yield_courses_open(struct yield_courses *out, struct station *sn, int weeks,
    day_no day, struct err *err)
{
	struct yield_past_list l;
	struct yield_course *y;
	size_t i, cap = 0;
	int64_t span[2];
	enum rc rc;

	assert(weeks >= 1 && weeks <= RECORDS_WEEKS_MAX);
	memset(out, 0, sizeof(*out));
	out->weeks = weeks;
	out->monday = week_monday(day) - 7 * (weeks - 1);
	span_of(span, out->monday, weeks);
	rc = yield_past_open(&l, sn->st, span[0], span[1], err);
	for (i = 0; rc == RC_OK && i < l.count; i++) {
		y = course_of(out, &cap, &l.items[i].key);
		y->preps++;
		add_past(
		    &y->week[week_of(l.items[i].at_utc, out->monday, weeks)],
		    &l.items[i]);
	}
	free(l.items);
	for (i = 0; rc == RC_OK && i < out->count; i++)
		rc = put_known(&out->items[i], sn, err);
	if (out->count > 0)
		qsort(out->items, out->count, sizeof(*out->items), by_preps);
	return rc;
}

void
yield_courses_fini(struct yield_courses *c)
{
	free(c->items);
	memset(c, 0, sizeof(*c));
}

int
yield_week_bp(const struct yield_week *w)
{
	return w->in_g == 0 ? 0 : (int)div_down(w->out_g * BP_ONE, w->in_g);
}

enum rc
trail_open(struct audit_list *out, int64_t *last, struct station *sn,
    int64_t before, int64_t most, struct err *err)
{
	return audit_list_before(out, last, sn->st, before, most, err);
}
