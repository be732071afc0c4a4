/* expect.c - numbers the chef types for a service. */
#include "ops/expect.h"

#include <inttypes.h>
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "base/str.h"
#include "closing.h"
#include "core/demand.h"
#include "ops/fate.h"
#include "ops/forecast.h"
#include "store/store.h"

static const char *const option[] = {
	[EXPECT_FLOOR] = "--floor",
	[EXPECT_CEILING] = "--ceiling",
	[EXPECT_FIXED] = "--fix",
	[EXPECT_CLEAR] = "--clear",
};

/* One dish somebody spoke of. */
struct line {
	const struct dish_sold *dish;
	struct typed was, now;
	bool set[EXPECT_CLEAR];
};

struct job {
	struct service service;
	int64_t covers; /* typed, as they will be; -1 */
	struct dish_sold_list dishes;
	struct typed_list typed;
	struct line lines[EXPECT_WORDS_MAX];
	size_t count;
};

static struct line *
line_of(struct job *j, const struct dish_sold *d)
{
	struct line *l;
	size_t i;

	for (i = 0; i < j->count; i++)
		if (j->lines[i].dish == d)
			return &j->lines[i];
	l = &j->lines[j->count++];
	l->dish = d;
	l->was = (struct typed){ j->service.id, d->id, -1, -1, -1 };
	for (i = 0; i < j->typed.count; i++)
		if (j->typed.items[i].dish_id == d->id)
			l->was = j->typed.items[i];
	l->now = l->was;
	return l;
}

static enum rc
dish_of(const struct dish_sold **out, const struct job *j,
    enum expect_kind kind, const char *code, struct err *err)
{
	*out = dish_sold_find(&j->dishes, code);
	if (*out == NULL)
		return err_set(err, RC_NOTFOUND, 0,
		    "%s: dish \"%.40s\" was never on the menu", option[kind],
		    code);
	if (kind == EXPECT_CLEAR || ((*out)->on_menu && (*out)->share_bp > 0))
		return RC_OK;
	return err_set(err, RC_INVALID, 0,
	    "%s: %s is not on the menu of %s: give it a share there first",
	    option[kind], code, j->service.name);
}

static enum rc
clear_word(struct job *j, const char *text, struct err *err)
{
	const struct dish_sold *d;
	struct line *l;
	enum rc rc;

	if (str_eq(text, "covers")) {
		j->covers = -1;
		return RC_OK;
	}
	if ((rc = dish_of(&d, j, EXPECT_CLEAR, text, err)) != RC_OK)
		return rc;
	l = line_of(j, d);
	l->now.floor = l->now.ceiling = l->now.fixed = -1;
	return RC_OK;
}

/* "cod-side:12" */
static enum rc
set_word(
    struct job *j, enum expect_kind kind, const char *text, struct err *err)
{
	const struct dish_sold *d;
	char copy[128], what[48], *n;
	int64_t portions;
	struct line *l;
	enum rc rc;

	n = str_copy(copy, sizeof(copy), text) ? strchr(copy, ':') : NULL;
	if (n == NULL)
		return err_set(err, RC_INVALID, 0,
		    "%s \"%.60s\": write it as DISH:PORTIONS", option[kind],
		    text);
	*n++ = '\0';
	if ((rc = dish_of(&d, j, kind, copy, err)) != RC_OK)
		return rc;
	str_fmt(what, sizeof(what), "%s %s", option[kind], d->code);
	rc = int_parse(&portions, what, n, 0, DEMAND_COVERS_MAX, err);
	if (rc != RC_OK)
		return rc;
	l = line_of(j, d);
	if (l->set[kind])
		return err_set(err, RC_INVALID, 0, "%s is there twice", what);
	l->set[kind] = true;
	*(kind == EXPECT_FLOOR           ? &l->now.floor
		: kind == EXPECT_CEILING ? &l->now.ceiling
					 : &l->now.fixed) = portions;
	return RC_OK;
}

static enum rc
agree(const struct line *l, struct err *err)
{
	const struct typed *t = &l->now;
	int64_t high = t->fixed >= 0 ? t->fixed : t->ceiling;
	const char *high_word = t->fixed >= 0 ? "the fixed number" : "ceiling";

	if (t->floor >= 0 && high >= 0 && t->floor > high)
		return err_set(err, RC_INVALID, 0,
		    "%s: floor %" PRId64 " is above %s %" PRId64
		    ": change one, or --clear %s",
		    l->dish->code, t->floor, high_word, high, l->dish->code);
	if (t->fixed >= 0 && t->ceiling >= 0 && t->fixed > t->ceiling)
		return err_set(err, RC_INVALID, 0,
		    "%s: the fixed number %" PRId64 " is above ceiling %" PRId64
		    ": change one, or --clear %s",
		    l->dish->code, t->fixed, t->ceiling, l->dish->code);
	return RC_OK;
}

static enum rc
read_words(struct job *j, const struct expect_in *in, struct err *err)
{
	size_t i;
	enum rc rc = RC_OK;

	for (i = 0; i < in->count && rc == RC_OK; i++)
		if (in->words[i].kind == EXPECT_CLEAR)
			rc = clear_word(j, in->words[i].text, err);
	if (rc == RC_OK && in->covers > DEMAND_COVERS_MAX)
		rc = err_set(err, RC_INVALID, 0,
		    "--covers %" PRId64 " is outside 0 to %d", in->covers,
		    DEMAND_COVERS_MAX);
	if (in->covers >= 0)
		j->covers = in->covers;
	for (i = 0; i < in->count && rc == RC_OK; i++)
		if (in->words[i].kind != EXPECT_CLEAR)
			rc = set_word(
			    j, in->words[i].kind, in->words[i].text, err);
	for (i = 0; i < j->count && rc == RC_OK; i++)
		rc = agree(&j->lines[i], err);
	return rc;
}

/* "at least 10, at most 20", or "nothing" */
static void
typed_text(char *dst, size_t size, const struct typed *t)
{
	static const char *const words[] = { "at least ", "at most ",
		"fixed " };
	const int64_t n[] = { t->floor, t->ceiling, t->fixed };
	size_t at = 0;
	int i;

	str_copy(dst, size, "nothing");
	for (i = 0; i < 3; i++) {
		if (n[i] < 0)
			continue;
		str_fmt(dst + at, size - at, "%s%s%" PRId64, at > 0 ? ", " : "",
		    words[i], n[i]);
		at = strlen(dst);
	}
}

static enum rc
put_covers(
    struct job *j, struct station *sn, const struct moment *at, struct err *err)
{
	char was[32] = "nothing", now[32] = "nothing", label[48];
	enum rc rc;

	if (j->covers == j->service.expected)
		return RC_OK;
	if (j->service.expected >= 0)
		str_fmt(was, sizeof(was), "%" PRId64, j->service.expected);
	if (j->covers >= 0)
		str_fmt(now, sizeof(now), "%" PRId64, j->covers);
	rc = station_audit(sn, at, err, "expect",
	    service_label(label, sizeof(label), &j->service),
	    "covers: %s -> %s", was, now);
	if (rc != RC_OK)
		return rc;
	return expected_put(sn->st, j->service.id, j->covers, err);
}

static enum rc
put_lines(
    struct job *j, struct station *sn, const struct moment *at, struct err *err)
{
	char was[96], now[96], label[48];
	struct line *l;
	size_t i;
	enum rc rc;

	for (i = 0; i < j->count; i++) {
		l = &j->lines[i];
		typed_text(was, sizeof(was), &l->was);
		typed_text(now, sizeof(now), &l->now);
		if (str_eq(was, now))
			continue;
		rc = station_audit(sn, at, err, "expect",
		    service_label(label, sizeof(label), &j->service),
		    "%s: %s -> %s", l->dish->code, was, now);
		if (rc != RC_OK ||
		    (rc = typed_put(sn->st, &l->now, err)) != RC_OK)
			return rc;
	}
	return RC_OK;
}

static enum rc
record(struct job *j, struct station *sn, const struct expect_in *in,
    struct err *err)
{
	const struct service_window *w;
	struct moment at;
	char text[48];
	day_no day;
	enum rc rc;

	if ((rc = station_moment(&at, sn, in->by, err)) != RC_OK ||
	    (rc = sitting_parse(&day, &w, &sn->cfg, in->service, err)) != RC_OK)
		return rc;
	if (service_ends(w, day) <= at.utc)
		return err_set(err, RC_REFUSED, 0,
		    "that service ended on %s: type numbers for a coming one",
		    time_short(text, sizeof(text), service_ends(w, day)));
	if ((rc = store_begin(sn->st, err)) != RC_OK ||
	    (rc = service_get(&j->service, sn->st, day, w->name, err)) !=
		RC_OK ||
	    (rc = dish_sold_list_open(&j->dishes, sn->st, w->name, err)) !=
		RC_OK ||
	    (rc = typed_list_open(&j->typed, sn->st, j->service.id, err)) !=
		RC_OK)
		return rc;
	j->covers = j->service.expected;
	if ((rc = read_words(j, in, err)) != RC_OK ||
	    (rc = put_covers(j, sn, &at, err)) != RC_OK ||
	    (rc = put_lines(j, sn, &at, err)) != RC_OK)
		return rc;
	return store_commit(sn->st, err);
}

enum rc
expect(struct buf *out, struct station *sn, const struct expect_in *in,
    enum format format, struct err *err)
{
	struct forecast_wish page = { .service = in->service,
		.format = format };
	bool typed = in->count > 0 || in->covers >= 0;
	struct job *j;
	enum rc rc = RC_OK;

	if (typed) {
		j = xcalloc(1, sizeof(*j));
		rc = record(j, sn, in, err);
		store_rollback(sn->st);
		dish_sold_list_fini(&j->dishes);
		typed_list_fini(&j->typed);
		free(j);
	}
	if (rc != RC_OK || (rc = forecast(out, sn, &page, err)) == RC_OK ||
	    !typed)
		return rc;
	/* Not RC_RETRY: that would say nothing had changed. */
	err_prefix(err, "recorded, but the forecast cannot be shown: ");
	return rc == RC_FATAL ? rc : RC_FAILED;
}
