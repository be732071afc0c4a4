/* yields.c - the yield to plan and order with, learned or published. */
#include "ops/yields.h"

#include <inttypes.h>
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "base/str.h"
#include "store/yields.h"
#include "teach.h"

/* The state of a key for a supplier or for all; all zero when there is none. */
static enum rc
load(struct yield_learned *out, struct station *sn, const struct yield_key *key,
    int64_t supplier_id, struct err *err)
{
	struct err own = { 0 };
	struct yield p;
	enum rc rc = RC_NOTFOUND;

	memset(out, 0, sizeof(*out));
	if (sn->st != NULL)
		rc = yield_learned_get(out, sn->st, key, supplier_id, &own);
	if (rc == RC_OK)
		return RC_OK;
	if (rc != RC_NOTFOUND)
		return err_set(err, rc, own.lib, "%s", own.text);
	out->key = *key;
	out->supplier_id = supplier_id;
	if (supplier_id == YIELD_ALL_SUPPLIERS)
		out->start = out->now = yield_start(
		    yield_key_published(&p, &sn->yields, key) ? &p : NULL);
	return RC_OK;
}

/* docs/rules.md R-Y13: a supplier's own yield needs some breakdowns first. */
static const struct yield_state *
state_in_use(
    const struct yield_learned *species, const struct yield_learned *supplier)
{
	return supplier->now.count >= YIELD_SUPPLIER_MIN ? &supplier->now
							 : &species->now;
}

/* --- teaching --------------------------------------------------------------*/

/* docs/rules.md R-Y12: a weighing nobody would believe is asked about. */
static enum rc
ask(const struct batch *b, const struct yield_taught *t,
    const struct yield_guess *g, struct err *err)
{
	char shown[CODE_SIZE], seen[32], want[32], low[32], high[32];

	return err_set(err, RC_REFUSED, 0,
	    "batch %s, %s %s to %s: %s came out where %s is expected (%s to "
	    "%s): weigh again, or record it with --yield-ok and it is not "
	    "learned",
	    code_show(shown, b->code), t->key.species,
	    yield_form_word(t->key.from), t->key.cut,
	    percent_print(seen, sizeof(seen), t->observed_bp),
	    percent_print(want, sizeof(want), t->expected_bp),
	    percent_print(low, sizeof(low), g->gate_low_bp),
	    percent_print(high, sizeof(high), g->gate_high_bp));
}

static enum rc
learn(struct station *sn, struct yield_learned *species,
    struct yield_learned *supplier, const struct yield_obs *obs,
    struct err *err)
{
	enum rc rc;

	if (supplier->now.count == 0)
		supplier->start = yield_start_supplier(&species->now);
	yield_teach(&species->now, &supplier->now, obs);
	if ((rc = yield_learned_put(sn->st, species, err)) != RC_OK)
		return rc;
	return yield_learned_put(sn->st, supplier, err);
}

enum rc
yields_teach(struct yield_taught *out, struct station *sn,
    const struct batch *b, const struct yield_work *w, int64_t prep_id, bool ok,
    bool may_learn, struct err *err)
{
	struct yield_seen seen = { .prep_id = prep_id,
		.supplier_id = b->supplier.id };
	struct yield_learned species, supplier;
	const struct yield_state *s;
	struct yield_guess g;
	bool plausible;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	if (!yield_lesson(&seen.key, &seen.obs, w))
		return RC_OK;
	if ((rc = load(&species, sn, &seen.key, YIELD_ALL_SUPPLIERS, err)) !=
		RC_OK ||
	    (rc = load(&supplier, sn, &seen.key, b->supplier.id, err)) != RC_OK)
		return rc;
	s = state_in_use(&species, &supplier);
	plausible = yield_plausible(s, &seen.obs);
	seen.learned = plausible && may_learn;
	out->verdict = seen.learned ? YIELD_LEARNED : YIELD_SET_ASIDE;
	out->key = seen.key;
	out->observed_bp = yield_observed_bp(&seen.obs);
	if (s->mean_e8 > 0) {
		g = yield_guess(s, seen.obs.fish);
		out->expected_bp = g.mean_bp;
		if (!plausible && !ok)
			return ask(b, out, &g, err);
	}
	if (seen.learned &&
	    (rc = learn(sn, &species, &supplier, &seen.obs, err)) != RC_OK)
		return rc;
	out->count = species.now.count;
	return yield_seen_insert(sn->st, &seen, err);
}

/* --- working it out again --------------------------------------------------*/

/* The supplier's place in `l`, made when it is not there. */
static struct yield_learned *
supplier_in(struct yield_learned_list *l, size_t *cap,
    const struct yield_key *key, int64_t supplier_id)
{
	struct yield_learned *s;
	size_t i;

	for (i = 0; i < l->count; i++)
		if (l->items[i].supplier_id == supplier_id)
			return &l->items[i];
	l->items = grow(l->items, cap, l->count, sizeof(*l->items));
	s = &l->items[l->count++];
	memset(s, 0, sizeof(*s));
	s->key = *key;
	s->supplier_id = supplier_id;
	return s;
}

static enum rc
rebuild_one(
    struct station *sn, const struct yield_learned *stored, struct err *err)
{
	struct yield_learned all = *stored, *s;
	struct yield_learned_list suppliers = { NULL, 0 };
	struct yield_seen_list seen;
	size_t cap = 0, i;
	enum rc rc;

	rc = yield_seen_open(&seen, sn->st, &stored->key, err);
	if (rc != RC_OK)
		return rc;
	all.now = all.start;
	for (i = 0; i < seen.count; i++) {
		if (!seen.items[i].learned)
			continue;
		s = supplier_in(
		    &suppliers, &cap, &stored->key, seen.items[i].supplier_id);
		if (s->now.count == 0)
			s->start = yield_start_supplier(&all.now);
		yield_teach(&all.now, &s->now, &seen.items[i].obs);
	}
	rc = yield_learned_drop(sn->st, &stored->key, err);
	if (rc == RC_OK && all.now.count > 0)
		rc = yield_learned_put(sn->st, &all, err);
	for (i = 0; i < suppliers.count && rc == RC_OK; i++)
		rc = yield_learned_put(sn->st, &suppliers.items[i], err);
	free(suppliers.items);
	yield_seen_fini(&seen);
	return rc;
}

enum rc
yields_rebuild(struct station *sn, struct err *err)
{
	struct yield_learned_list l;
	size_t i;
	enum rc rc;

	if ((rc = yield_learned_open(&l, sn->st, NULL, err)) != RC_OK)
		return rc;
	for (i = 0; i < l.count && rc == RC_OK; i++)
		if (l.items[i].supplier_id == YIELD_ALL_SUPPLIERS)
			rc = rebuild_one(sn, &l.items[i], err);
	yield_learned_fini(&l);
	return rc;
}

/* --- using -----------------------------------------------------------------*/

static void
say_source(struct yield_use *u)
{
	char p[32], low[32], high[32], published[480];

	if (u->has_published)
		str_fmt(published, sizeof(published),
		    "published %s (%s to %s)%s: %.380s",
		    percent_print(p, sizeof(p), u->published.bp),
		    percent_print(low, sizeof(low), u->published.low_bp),
		    percent_print(high, sizeof(high), u->published.high_bp),
		    u->published.verified ? "" : ", unverified",
		    u->published.source);
	else
		str_copy(published, sizeof(published), "nothing published");
	if (u->learned > 0)
		str_fmt(u->source, sizeof(u->source),
		    "learned from %" PRId64 " breakdown%s%s; %s", u->learned,
		    u->learned == 1 ? "" : "s",
		    u->by_supplier ? " of this supplier's" : "", published);
	else
		str_copy(u->source, sizeof(u->source), published);
}

/*
 * Before the first breakdown only the lower side of the published range says
 * how much less there may be: a mean at the low end of its range is not made
 * lower by how much more others have found.
 */
static int
start_low_bp(const struct yield *published, int64_t fish)
{
	struct yield lower = *published;
	struct yield_state s;

	lower.high_bp = lower.bp;
	s = yield_start(&lower);
	return yield_guess(&s, fish).low_bp;
}

enum rc
yield_for(struct yield_use *out, struct station *sn,
    const struct yield_wish *wish, struct err *err)
{
	enum yield_form from = presentation_form(wish->bought);
	enum yield_form to = cut_form(wish->kind, wish->skin_on, from);
	/* What is all cut to trim is a skinless fillet as far as it goes. */
	enum cut_kind kind = wish->kind == CUT_TRIM ? CUT_FILLET : wish->kind;
	bool skin_on = wish->skin_on && wish->kind != CUT_TRIM;
	struct yield_learned species, supplier;
	const struct yield_state *s;
	struct yield_use u;
	struct yield_key key;
	struct yield_guess g;
	struct err own = { 0 };
	enum rc rc;

	memset(&u, 0, sizeof(u));
	memset(&species, 0, sizeof(species));
	memset(&supplier, 0, sizeof(supplier));
	u.has_published = yield_find(&u.published, &sn->yields, wish->species,
			      from, to, &own) == RC_OK;
	if (yield_key_make(&key, wish->species, from, kind, skin_on) &&
	    ((rc = load(&species, sn, &key, YIELD_ALL_SUPPLIERS, err)) !=
		    RC_OK ||
		(wish->supplier_id != 0 &&
		    (rc = load(&supplier, sn, &key, wish->supplier_id, err)) !=
			RC_OK)))
		return rc;
	s = state_in_use(&species, &supplier);
	u.learned = s->count;
	u.by_supplier = s == &supplier.now;
	if (s->mean_e8 > 0) {
		g = yield_guess(s, wish->fish);
		u.mean_bp = g.mean_bp;
		u.low_bp = s->count == 0 && u.has_published
		    ? start_low_bp(&u.published, wish->fish)
		    : g.low_bp;
		u.sd_bp = g.sd_bp;
	} else if (u.has_published) {
		/* Nothing to lose, or a steak before its first breakdown. */
		u.mean_bp = u.low_bp = u.published.bp;
	} else {
		return err_set(err, RC_NOTFOUND, 0, "%s", own.text);
	}
	say_source(&u);
	*out = u;
	return RC_OK;
}
