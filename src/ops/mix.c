/* mix.c - food of several batches: every one of them dates it. */
#include "mix.h"

#include <string.h>

#include "base/jsonw.h"
#include "base/str.h"
#include "store/sources.h"

enum rc
mix_add(struct mix *m, const struct batch *b, struct err *err)
{
	const struct batch *first = &m->batches[0];
	char shown[CODE_SIZE], other[CODE_SIZE];
	size_t i;

	code_show(shown, b->code);
	for (i = 0; i < m->count; i++)
		if (m->batches[i].id == b->id)
			return err_set(err, RC_REFUSED, 0,
			    "batch %s is in it already: give its fish and "
			    "weight once",
			    shown);
	if (m->count == PORTION_BATCHES_MAX)
		return err_set(err, RC_REFUSED, 0,
		    "more than %d batches in one unit: make two",
		    PORTION_BATCHES_MAX);
	/* docs/rules.md R-M1 */
	if (m->count > 0 &&
	    (!str_eq(first->species, b->species) ||
		first->presentation != b->presentation))
		return err_set(err, RC_REFUSED, 0,
		    "batch %s is %s, %s and batch %s is %s, %s: only the same "
		    "fish in the same presentation goes together",
		    code_show(other, first->code), first->species,
		    presentation_word(first->presentation), shown, b->species,
		    presentation_word(b->presentation));
	m->batches[m->count++] = *b;
	return RC_OK;
}

enum rc
mix_of_unit(struct mix *out, struct station *sn, const struct portion *p,
    struct err *err)
{
	struct portion_source_list l;
	struct batch b;
	size_t i;
	enum rc rc;

	out->count = 0;
	if ((rc = portion_sources_open(&l, sn->st, p->id, err)) != RC_OK)
		return rc;
	for (i = 0; i < l.count && rc == RC_OK; i++)
		if ((rc = batch_by_id(&b, sn->st, l.items[i], err)) == RC_OK)
			rc = mix_add(out, &b, err);
	portion_sources_fini(&l);
	return rc;
}

/* docs/rules.md R-M2: the earliest binds; of two that agree the batch that
 * expires first itself. */
static void
bind(struct mix_dates *d, const struct mix *m, size_t i)
{
	int64_t is = useby_utc(&d->each[i]), was;

	if (i == 0)
		d->first = 0;
	was = useby_utc(&d->each[d->first]);
	if (is < was ||
	    (is == was &&
		m->batches[i].use_by_utc < m->batches[d->first].use_by_utc))
		d->first = i;
}

/* Which of several was refused has to be said. */
static enum rc
named(enum rc rc, const struct mix *m, size_t i, struct err *err)
{
	char shown[CODE_SIZE];

	if (m->count > 1)
		err_prefix(
		    err, "batch %s: ", code_show(shown, m->batches[i].code));
	return rc;
}

enum rc
mix_portion(struct mix_dates *out, const struct station *sn,
    const struct mix *m, enum food_state state, const struct history *h,
    struct err *err)
{
	size_t i;
	enum rc rc;

	for (i = 0; i < m->count; i++) {
		rc = date_portion(
		    &out->each[i], sn, &m->batches[i], state, h, err);
		if (rc != RC_OK)
			return named(rc, m, i, err);
		bind(out, m, i);
	}
	return RC_OK;
}

enum rc
mix_frozen(struct mix_dates *out, struct frozen_life *life,
    const struct station *sn, const struct mix *m, const struct portion *p,
    struct err *err)
{
	struct frozen_life one, shortest = *life;
	size_t i;
	enum rc rc;

	for (i = 0; i < m->count; i++) {
		one = *life;
		rc = date_frozen(
		    &out->each[i], &one, sn, &m->batches[i], p, err);
		if (rc != RC_OK)
			return named(rc, m, i, err);
		bind(out, m, i);
		if (i == 0 || one.days_left < shortest.days_left)
			shortest.days_left = one.days_left;
	}
	shortest.until_utc = useby_utc(&out->each[out->first]);
	*life = shortest;
	return RC_OK;
}

enum rc
mix_thawed(struct mix_dates *out, const struct station *sn, const struct mix *m,
    const struct portion *p, const struct frozen_life *life, int64_t thawed_utc,
    struct err *err)
{
	size_t i;
	enum rc rc;

	for (i = 0; i < m->count; i++) {
		rc = date_thawed(&out->each[i], sn, &m->batches[i], p, life,
		    thawed_utc, err);
		if (rc != RC_OK)
			return named(rc, m, i, err);
		bind(out, m, i);
	}
	return RC_OK;
}

void
mix_json(struct buf *out, const struct mix *m, const struct mix_dates *d,
    const struct rules *rules, const struct history *h)
{
	struct jsonw *w;
	char shown[CODE_SIZE];
	size_t i;

	if (m->count == 1) {
		useby_json(out, &d->each[0], rules, h, false);
		return;
	}
	w = jsonw_new_object();
	jsonw_str(w, "batch", code_show(shown, m->batches[d->first].code));
	useby_put(w, &d->each[d->first], rules, h);
	jsonw_array(w, "mixed_with");
	for (i = 0; i < m->count; i++) {
		if (i == d->first)
			continue;
		jsonw_object(w, NULL);
		jsonw_str(w, "batch", code_show(shown, m->batches[i].code));
		useby_put(w, &d->each[i], rules, NULL);
		jsonw_end(w);
	}
	jsonw_end(w);
	jsonw_dump(out, w, false);
	jsonw_free(w);
}

bool
mix_origins_differ(const struct mix *m)
{
	const struct batch *a = &m->batches[0], *b;
	size_t i;

	for (i = 1; i < m->count; i++) {
		b = &m->batches[i];
		if (!str_eq(a->method, b->method) ||
		    !str_eq(a->area, b->area) || !str_eq(a->gear, b->gear))
			return true;
	}
	return false;
}
