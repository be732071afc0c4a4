/* demand.c - the record checked and read; services to come forecast. */
#include "core/demand.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "demand_inner.h"

int
demand_party_factor(const int *sizes, size_t count)
{
	int64_t sum = 0, squares = 0;
	size_t i;

	for (i = 0; i < count; i++) {
		sum += sizes[i];
		squares += (int64_t)sizes[i] * sizes[i];
	}
	return sum > 0 ? (int)((squares * 100 + sum / 2) / sum) : 0;
}

static bool
count_ok(int n, int max)
{
	return n >= DEMAND_UNKNOWN && n <= max;
}

static bool
factor_ok(int factor_c)
{
	return factor_c == 0 ||
	    (factor_c >= 100 && factor_c <= DEMAND_COVERS_MAX * 100);
}

static bool
when_ok(day_no day, int sitting)
{
	return day >= DAY_MIN && day <= DAY_MAX && sitting >= 0 &&
	    sitting < DEMAND_SITTINGS_MAX;
}

static enum rc
past_order(const struct demand_record *r, size_t i, struct err *err)
{
	const struct demand_past *p = &r->past[i];
	size_t j;

	for (j = i; j > 0; j--) {
		if (r->past[j - 1].day > p->day)
			return err_set(err, RC_INVALID, 0,
			    "past service %zu is before the one above it",
			    i + 1);
		if (r->past[j - 1].day < p->day)
			break;
		if (r->past[j - 1].sitting == p->sitting)
			return err_set(err, RC_INVALID, 0,
			    "past service %zu is the same as %zu", i + 1, j);
	}
	return RC_OK;
}

static enum rc
past_check(const struct demand_record *r, size_t i, struct err *err)
{
	const struct demand_past *p = &r->past[i];
	const struct demand_sold *s = &r->sold[i * r->dish_count];
	size_t d;

	if (!when_ok(p->day, p->sitting))
		return err_set(err, RC_INVALID, 0,
		    "past service %zu: no such day or sitting", i + 1);
	if (!count_ok(p->booked, DEMAND_COVERS_MAX) ||
	    !count_ok(p->seated, DEMAND_COVERS_MAX) ||
	    !count_ok(p->walk_ins, DEMAND_COVERS_MAX) ||
	    !count_ok(p->covers, 2 * DEMAND_COVERS_MAX))
		return err_set(err, RC_INVALID, 0,
		    "past service %zu: a count of guests is not 0 to %d", i + 1,
		    DEMAND_COVERS_MAX);
	if (!factor_ok(p->party_factor_c))
		return err_set(err, RC_INVALID, 0,
		    "past service %zu: party factor %d is below 100", i + 1,
		    p->party_factor_c);
	for (d = 0; d < r->dish_count; d++) {
		if (count_ok(s[d].portions, 2 * DEMAND_COVERS_MAX) &&
		    s[d].ran_out_at >= DEMAND_RAN_OUT &&
		    s[d].ran_out_at <= 2 * DEMAND_COVERS_MAX)
			continue;
		return err_set(err, RC_INVALID, 0,
		    "past service %zu, dish %zu: %d sold, out at %d is out of "
		    "range",
		    i + 1, d + 1, s[d].portions, s[d].ran_out_at);
	}
	return past_order(r, i, err);
}

static enum rc
record_check(const struct demand_record *r, struct err *err)
{
	size_t i;
	enum rc rc;

	if (r->dish_count > DEMAND_DISHES_MAX)
		return err_set(err, RC_INVALID, 0, "%zu dishes, at most %d",
		    r->dish_count, DEMAND_DISHES_MAX);
	if (r->past_count > DEMAND_PAST_MAX)
		return err_set(err, RC_INVALID, 0,
		    "%zu past services, at most %d", r->past_count,
		    DEMAND_PAST_MAX);
	for (i = 0; i < r->dish_count * DEMAND_SITTINGS_MAX; i++) {
		if (count_ok(r->share_bp[i], BP_ONE))
			continue;
		return err_set(err, RC_INVALID, 0,
		    "dish %zu: share %d is not 0 to %d", i % r->dish_count + 1,
		    r->share_bp[i], BP_ONE);
	}
	for (i = 0; i < r->past_count; i++)
		if ((rc = past_check(r, i, err)) != RC_OK)
			return rc;
	return RC_OK;
}

enum rc
model_new(struct demand_model **out, const struct demand_record *record,
    struct err *err)
{
	struct demand_model *m;
	enum rc rc;
	int s;

	*out = NULL;
	if ((rc = record_check(record, err)) != RC_OK)
		return rc;
	m = xcalloc(1, sizeof(*m));
	m->record = *record;
	covers_start(m);
	for (s = 0; s < DEMAND_SITTINGS_MAX; s++)
		mix_start(&m->mixes[s], &m->record, s);
	*out = m;
	return RC_OK;
}

void
model_see(struct demand_model *m, size_t past)
{
	const struct demand_past *p = &m->record.past[past];

	covers_see(m, p);
	mix_see(&m->mixes[p->sitting], &m->record, past);
}

enum rc
demand_learn(struct demand_model **out, const struct demand_record *record,
    struct err *err)
{
	size_t i;
	enum rc rc;

	if ((rc = model_new(out, record, err)) != RC_OK)
		return rc;
	for (i = 0; i < record->past_count; i++)
		model_see(*out, i);
	return RC_OK;
}

void
demand_free(struct demand_model *m)
{
	int s;

	for (s = 0; m != NULL && s < DEMAND_SITTINGS_MAX; s++)
		mix_fini(&m->mixes[s]);
	free(m);
}

static enum rc
wishes_check(
    const struct demand_asked *a, size_t n, size_t dish_count, struct err *err)
{
	const struct demand_wish *w;
	size_t d;

	for (d = 0; a->wishes != NULL && d < dish_count; d++) {
		w = &a->wishes[d];
		if (!count_ok(w->fixed, DEMAND_COVERS_MAX) ||
		    !count_ok(w->floor, DEMAND_COVERS_MAX) ||
		    !count_ok(w->ceiling, DEMAND_COVERS_MAX))
			return err_set(err, RC_INVALID, 0,
			    "service %zu, dish %zu: portions wished for are "
			    "not 0 to %d",
			    n, d + 1, DEMAND_COVERS_MAX);
		if (w->ceiling != DEMAND_UNKNOWN && w->floor > w->ceiling)
			return err_set(err, RC_INVALID, 0,
			    "service %zu, dish %zu: floor %d is above "
			    "ceiling %d",
			    n, d + 1, w->floor, w->ceiling);
	}
	return RC_OK;
}

static enum rc
asked_check(
    const struct demand_asked *a, size_t n, size_t dish_count, struct err *err)
{
	int64_t sum = 0;
	size_t i;

	if (!when_ok(a->day, a->sitting))
		return err_set(err, RC_INVALID, 0,
		    "service %zu: no such day or sitting", n);
	if (a->booked < 0 || a->booked > DEMAND_COVERS_MAX)
		return err_set(err, RC_INVALID, 0,
		    "service %zu: %d booked covers are not 0 to %d", n,
		    a->booked, DEMAND_COVERS_MAX);
	if (!count_ok(a->typed, DEMAND_COVERS_MAX))
		return err_set(err, RC_INVALID, 0,
		    "service %zu: %d covers are not 0 to %d", n, a->typed,
		    DEMAND_COVERS_MAX);
	if (!factor_ok(a->party_factor_c))
		return err_set(err, RC_INVALID, 0,
		    "service %zu: party factor %d is below 100", n,
		    a->party_factor_c);
	for (i = 0; a->parties != NULL && i < a->party_count; i++) {
		if (a->parties[i] < 1 || a->parties[i] > a->booked)
			return err_set(err, RC_INVALID, 0,
			    "service %zu: a party of %d", n, a->parties[i]);
		sum += a->parties[i];
	}
	if (a->parties != NULL && sum != a->booked)
		return err_set(err, RC_INVALID, 0,
		    "service %zu: parties do not add up to %d booked", n,
		    a->booked);
	return wishes_check(a, n, dish_count, err);
}

static int64_t
hundredths(double x)
{
	return llround(x * 100);
}

static void
covers_line(struct demand_covers *out, const struct dist *covers,
    const struct demand_model *m, const struct demand_asked *a)
{
	out->expected_c = hundredths(dist_mean(covers));
	out->low = dist_quantile(covers, .1);
	out->high = dist_quantile(covers, .9);
	out->typed = a->typed != DEMAND_UNKNOWN;
	out->show_bp = (int)lround(covers_show(m) * BP_ONE);
	out->walk_ins_c = hundredths(covers_walk_ins(m, a));
}

/* Lines of one dish; own holds its dists for all services asked. */
static void
dish_lines(struct demand_forecast *f, const struct demand_model *m, size_t d,
    const struct dist *own, const struct demand_asked *asked,
    const struct demand_dish *dish)
{
	struct demand_line *line;
	struct share s;
	size_t i, count;

	for (i = 0; i < f->asked_count; i++) {
		line = &f->lines[i * f->dish_count + d];
		if (menu_share(&m->record, asked[i].sitting, d) ==
		    DEMAND_UNKNOWN)
			continue; /* WHY_NOT_OFFERED, all 0 */
		s = mix_share(m, asked[i].sitting, asked[i].day, d);
		line->share_bp = (int)lround(s.of / s.all * BP_ONE);
		line->taught = m->mixes[asked[i].sitting].taught[d];
		line->expected_c = hundredths(dist_mean(&own[i]));
		line->low = dist_quantile(&own[i], .1);
		line->high = dist_quantile(&own[i], .9);
		count = f->asked_count - i;
		if (count > (size_t)dish->life)
			count = (size_t)dish->life;
		target_settle(line, &own[i], count, dish,
		    asked[i].wishes != NULL ? &asked[i].wishes[d] : NULL);
	}
}

static struct dist
orders(const struct demand_model *m, const struct demand_asked *a,
    const struct dist *covers, size_t d)
{
	struct share s;

	if (menu_share(&m->record, a->sitting, d) == DEMAND_UNKNOWN)
		return dist_point(0);
	s = mix_share(m, a->sitting, a->day, d);
	return dist_orders(covers, s.of, s.all - s.of);
}

enum rc
demand_forecast(struct demand_forecast *out, const struct demand_model *m,
    const struct demand_asked *asked, size_t asked_count,
    const struct demand_dish *dishes, struct err *err)
{
	struct demand_forecast f = { NULL, NULL, asked_count,
		m->record.dish_count };
	struct dist *covers, *own;
	size_t i, d;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	if (asked_count > DEMAND_ASKED_MAX)
		return err_set(err, RC_INVALID, 0, "%zu services, at most %d",
		    asked_count, DEMAND_ASKED_MAX);
	for (i = 0; i < asked_count; i++)
		if ((rc = asked_check(&asked[i], i + 1, f.dish_count, err)) !=
		    RC_OK)
			return rc;
	for (d = 0; d < f.dish_count; d++)
		if ((rc = dish_check(&dishes[d], d + 1, err)) != RC_OK)
			return rc;
	f.covers = xcalloc(asked_count, sizeof(f.covers[0]));
	f.lines = xcalloc(asked_count * f.dish_count, sizeof(f.lines[0]));
	covers = xcalloc(asked_count, sizeof(covers[0]));
	own = xcalloc(asked_count, sizeof(own[0]));
	for (i = 0; i < asked_count; i++) {
		covers[i] = covers_dist(m, &asked[i]);
		covers_line(&f.covers[i], &covers[i], m, &asked[i]);
	}
	for (d = 0; d < f.dish_count; d++) {
		for (i = 0; i < asked_count; i++)
			own[i] = orders(m, &asked[i], &covers[i], d);
		dish_lines(&f, m, d, own, asked, &dishes[d]);
		for (i = 0; i < asked_count; i++)
			dist_fini(&own[i]);
	}
	for (i = 0; i < asked_count; i++)
		dist_fini(&covers[i]);
	free(covers);
	free(own);
	*out = f;
	return RC_OK;
}

void
demand_forecast_fini(struct demand_forecast *f)
{
	free(f->covers);
	free(f->lines);
	memset(f, 0, sizeof(*f));
}
