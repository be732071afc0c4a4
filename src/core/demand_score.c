/* demand_score.c - every past service forecast from those before it. */
#include "core/demand_score.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "demand_inner.h"

/* Sums while the record is read; pinball in 1/10 000 portions. */
struct run {
	struct demand_score s;
	int64_t in_range, met, ratio;
};

static bool
comparable(const struct demand_record *r, size_t i, int sitting)
{
	const struct demand_past *p = &r->past[i];
	const struct demand_sold *sold = &r->sold[i * r->dish_count];
	size_t d;

	if (sitting != DEMAND_UNKNOWN && p->sitting != sitting)
		return false;
	for (d = 0; p->booked > 0 && d < r->dish_count; d++) {
		if (sold[d].portions >= 0 &&
		    menu_share(r, p->sitting, d) != DEMAND_UNKNOWN)
			return true;
	}
	return false;
}

/* Add one dish of one service; true when more was asked for. */
static bool
tally(struct demand_tally *t, int target, int sold, int ratio)
{
	int64_t over = (int64_t)target - sold;

	t->pinball_bp += over > 0 ? over * (BP_ONE - ratio) : -over * ratio;
	t->left += over > 0 ? over : 0;
	t->short_of += over < 0 ? -over : 0;
	t->stock_outs += over < 0;
	return over < 0;
}

static void
compare(struct run *run, const struct demand_record *r, size_t i,
    const struct demand_forecast *f)
{
	const struct demand_past *p = &r->past[i];
	const struct demand_sold *sold = &r->sold[i * r->dish_count];
	const struct demand_line *l;
	bool ours = false, flat = false;
	int64_t rule, before = run->s.dish_services;
	size_t d;
	int y;

	for (d = 0; d < r->dish_count; d++) {
		l = &f->lines[d];
		y = sold[d].portions;
		if (y < 0 || l->why == WHY_NOT_OFFERED)
			continue;
		if (sold[d].ran_out_at != DEMAND_UNKNOWN) {
			run->s.left_out++;
			continue;
		}
		rule = div_up((int64_t)p->booked * l->share_bp * 11,
		    (int64_t)BP_ONE * 10);
		ours |= tally(&run->s.ours, l->target, y, l->ratio_bp);
		flat |= tally(&run->s.flat, (int)rule, y, l->ratio_bp);
		run->s.dish_services++;
		run->in_range += y >= l->low && y <= l->high;
		run->met += y <= l->target;
		run->ratio += l->ratio_bp;
	}
	run->s.services += run->s.dish_services > before;
	run->s.ours.with_any += ours;
	run->s.flat.with_any += flat;
}

static void
finish(struct demand_score *out, struct run *run)
{
	struct demand_score *s = &run->s;
	int64_t n = s->dish_services;

	s->enough = s->services >= DEMAND_ENOUGH;
	if (s->flat.pinball_bp > 0)
		s->skill_bp = (int)(BP_ONE -
		    s->ours.pinball_bp * BP_ONE / s->flat.pinball_bp);
	if (n > 0) {
		s->in_range_bp = (int)(run->in_range * BP_ONE / n);
		s->met_bp = (int)(run->met * BP_ONE / n);
		s->ratio_bp = (int)(run->ratio / n);
		s->ours.pinball_bp /= n;
		s->flat.pinball_bp /= n;
	}
	*out = *s;
}

static enum rc
forecast_past(struct run *run, const struct demand_model *m, size_t i,
    const struct demand_dish *dishes, struct err *err)
{
	const struct demand_past *p = &m->record.past[i];
	struct demand_asked a = { p->day, p->sitting, p->booked, DEMAND_UNKNOWN,
		NULL, 0, p->party_factor_c, NULL };
	struct demand_forecast f;
	enum rc rc;

	/* One service asked: whatever keeps is judged by this one alone. */
	if ((rc = demand_forecast(&f, m, &a, 1, dishes, err)) != RC_OK)
		return rc;
	compare(run, &m->record, i, &f);
	demand_forecast_fini(&f);
	return RC_OK;
}

enum rc
demand_backtest(struct demand_score *out, const struct demand_record *record,
    const struct demand_dish *dishes, int sitting, size_t most, struct err *err)
{
	struct demand_model *m = NULL;
	struct run run = { 0 };
	size_t i, to_come = 0;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	if ((rc = model_new(&m, record, err)) != RC_OK)
		return rc;
	for (i = 0; i < record->past_count; i++)
		to_come += comparable(record, i, sitting);
	for (i = 0; i < record->past_count; i++) {
		if (comparable(record, i, sitting) && to_come-- <= most) {
			rc = forecast_past(&run, m, i, dishes, err);
			if (rc != RC_OK)
				goto done;
		}
		model_see(m, i);
	}
	finish(out, &run);
	rc = RC_OK;
done:
	demand_free(m);
	return rc;
}
