/* keeping_prune.c - records that are old enough are removed. */
#include "keeping_limits.h"

#include <string.h>

#include "base/str.h"
#include "ops/backup.h"
#include "ops/watch.h"
#include "store/copy.h"
#include "store/store.h"

/* Chains, or rows that stand alone, of one transaction: short enough that the
 * station next to it hardly waits. */
#define STEP_CHAINS 25
#define STEP_ALONE 100

struct run {
	struct station *sn;
	const struct keeping_wish *wish;
	struct keeping_limits limits;
	struct pruning what;
	char backup[BACKUP_PATH_SIZE + BACKUP_NAME_SIZE];
	struct prune *p;
	struct prune_sum *sum; /* of all transactions */
	int64_t after;         /* the batch looked at last */
};

/* --- may it be done at all? ------------------------------------------------*/

/*
 * A clock that jumped ahead makes everything look old.  One that was right was
 * there yesterday too: the station worked by it on several days before this
 * one.
 */
static enum rc
check_days(const struct run *r, struct err *err)
{
	int64_t until = utc_from_local(r->limits.today, 0, 0, 0), days;
	enum rc rc = prune_days_recorded(&days, r->sn->st,
	    until - (int64_t)KEEPING_DAYS_OF * 86400, until, err);

	if (rc != RC_OK || days >= KEEPING_DAYS_SEEN)
		return rc;
	return err_set(err, RC_REFUSED, 0,
	    "by this clock something was recorded on %lld of the last %d days: "
	    "records go only when it was %d, as a clock that jumped ahead "
	    "would make them all look old",
	    (long long)days, KEEPING_DAYS_OF, KEEPING_DAYS_SEEN);
}

static enum rc
check_backup(struct run *r, struct err *err)
{
	struct file_head own, head;
	struct backup_last last;
	int64_t now = clock_now(&r->sn->clock);
	enum rc rc;

	if ((rc = backup_last(&last, r->sn, err)) != RC_OK)
		return rc;
	if (last.utc < now - KEEPING_BACKUP_S || last.utc > now)
		return err_set(err, RC_REFUSED, 0,
		    "no backup of the last 24 hours: make one first, it keeps "
		    "what goes");
	if (!str_fmt(
		r->backup, sizeof(r->backup), "%s/%s", last.folder, last.name))
		return err_set(err, RC_INVALID, 0, "the path is too long");
	if (file_head_read(&head, r->backup, NULL) != RC_OK)
		return err_set(err, RC_REFUSED, 0,
		    "%s: the backup made last cannot be read: put its stick in",
		    r->backup);
	if ((rc = file_head_read(&own, store_path(r->sn->st), err)) != RC_OK)
		return rc;
	if (!file_head_same(&head, &own) || head.last_utc > own.last_utc)
		return err_set(err, RC_REFUSED, 0,
		    "%s: not a backup of this station: make one first",
		    r->backup);
	return RC_OK;
}

/* --- one transaction -------------------------------------------------------*/

static void
add(struct prune_sum *to, const struct prune_sum *s)
{
	if (s->from_day == DAY_NONE)
		return;
	if (to->from_day == DAY_NONE || s->from_day < to->from_day)
		to->from_day = s->from_day;
	if (to->to_day == DAY_NONE || s->to_day > to->to_day)
		to->to_day = s->to_day;
	to->chains += s->chains;
	to->batches += s->batches;
	to->breakdowns += s->breakdowns;
	to->units += s->units;
	to->cases += s->cases;
	to->services += s->services;
	to->lists += s->lists;
	to->clock_checks += s->clock_checks;
	to->rows += s->rows;
}

static enum rc
drop_chain(struct prune_sum *sum, struct run *r, const struct moment *at,
    const struct prune_chain *c, struct err *err)
{
	char code[CODE_SIZE], from[16], to[16];
	int64_t rows = sum->rows;
	enum rc rc;

	if ((rc = prune_chain_drop(sum, r->p, c, err)) != RC_OK)
		return rc;
	return station_audit(r->sn, at, err, "prune", code_show(code, c->code),
	    "%zu batch%s of %s to %s, %zu breakdown%s, %lld unit%s, %lld "
	    "rows: %s",
	    c->batch_count, c->batch_count == 1 ? "" : "es",
	    day_print(from, sizeof(from), local_from_utc(c->from_utc).day),
	    day_print(to, sizeof(to), local_from_utc(c->to_utc).day),
	    c->prep_count, c->prep_count == 1 ? "" : "s", (long long)c->units,
	    c->units == 1 ? "" : "s", (long long)(sum->rows - rows),
	    r->what.rule);
}

/* The next chains; none: sum->chains stays 0. */
static enum rc
step_chains(struct prune_sum *sum, struct run *r, const struct moment *at,
    struct err *err)
{
	struct prune_chain c;
	int64_t before = r->what.before_utc;
	enum rc rc = RC_OK;

	while (sum->chains < STEP_CHAINS &&
	    (rc = prune_next(&r->after, r->p, r->after, before, err)) ==
		RC_OK) {
		rc = prune_chain_read(&c, r->p, r->after, before, err);
		if (rc == RC_OK && c.stay == PRUNE_GOES &&
		    prune_chain_first(&c) == r->after)
			rc = drop_chain(sum, r, at, &c, err);
		prune_chain_fini(&c);
		if (rc != RC_OK)
			break;
	}
	return rc == RC_END ? RC_OK : rc;
}

static enum rc
step_alone(struct prune_sum *sum, struct run *r, enum prune_alone kind,
    const struct moment *at, struct err *err)
{
	static const char *const words[PRUNE_ALONE] = {
		[PRUNE_RECALLS] = "recalls",
		[PRUNE_COMPLAINTS] = "complaints",
		[PRUNE_DRILLS] = "drills",
		[PRUNE_SERVICES] = "services",
		[PRUNE_LISTS] = "printed lists",
		[PRUNE_CLOCKS] = "dates confirmed",
	};
	struct prune_alone_wish w = keeping_alone(&r->limits, kind);
	char from[16], to[16];
	enum rc rc;

	w.most = STEP_ALONE;
	w.drop = true;
	if ((rc = prune_alone(sum, r->p, &w, err)) != RC_OK ||
	    sum->from_day == DAY_NONE)
		return rc;
	return station_audit(r->sn, at, err, "prune", words[kind],
	    "%lld of %s to %s, %lld rows: %s",
	    (long long)(sum->cases + sum->services + sum->lists +
		sum->clock_checks),
	    day_print(from, sizeof(from), sum->from_day),
	    day_print(to, sizeof(to), sum->to_day), (long long)sum->rows,
	    r->what.rule);
}

/* `kind` PRUNE_ALONE: chains.  *none: there was nothing left. */
static enum rc
step(bool *none, struct run *r, enum prune_alone kind, struct err *err)
{
	struct prune_sum sum = { .from_day = DAY_NONE, .to_day = DAY_NONE };
	struct moment at;
	enum rc rc;

	*none = false;
	if ((rc = station_moment(&at, r->sn, r->wish->by, err)) != RC_OK ||
	    (rc = store_begin(r->sn->st, err)) != RC_OK)
		return rc;
	if ((rc = prune_begin(r->p, &r->what, &at, err)) != RC_OK ||
	    (rc = kind == PRUNE_ALONE
		    ? step_chains(&sum, r, &at, err)
		    : step_alone(&sum, r, kind, &at, err)) != RC_OK)
		goto done;
	*none = sum.from_day == DAY_NONE;
	if (*none)
		goto done;
	if ((rc = prune_end(r->p, &sum, err)) == RC_OK &&
	    (rc = store_commit(r->sn->st, err)) == RC_OK)
		add(r->sum, &sum);
done:
	store_rollback(r->sn->st);
	return rc;
}

static enum rc
run(struct run *r, struct err *err)
{
	static const enum prune_alone order[] = { PRUNE_RECALLS,
		PRUNE_COMPLAINTS, PRUNE_DRILLS, PRUNE_ALONE, PRUNE_SERVICES,
		PRUNE_LISTS, PRUNE_CLOCKS };
	bool none;
	size_t i;
	enum rc rc;

	for (i = 0; i < sizeof(order) / sizeof(order[0]); i++)
		do {
			if ((rc = step(&none, r, order[i], err)) != RC_OK)
				return rc;
			if (r->wish->tell != NULL &&
			    !r->wish->tell(r->wish->arg, r->sum))
				return err_set(err, RC_REFUSED, 0,
				    "stopped: the rest is still there");
		} while (!none);
	return RC_OK;
}

enum rc
keeping_prune(struct prune_sum *sum, struct station *sn,
    const struct keeping_wish *wish, struct err *err)
{
	struct run r = { .sn = sn, .wish = wish, .sum = sum };
	enum rc rc;

	memset(sum, 0, sizeof(*sum));
	sum->from_day = sum->to_day = DAY_NONE;
	if ((rc = keeping_limits(&r.limits, sn, wish->before, err)) != RC_OK)
		return rc;
	if (r.limits.latest == DAY_NONE)
		return err_set(err, RC_REFUSED, 0,
		    "rule set %s states no duty, so nothing may go: say it in "
		    "[keeping] records_days",
		    sn->rules.set.name);
	r.what.before_utc = utc_from_local(r.limits.before, 0, 0, 0);
	r.what.rule = r.limits.rule.binds;
	r.what.backup = r.backup;
	if ((rc = check_days(&r, err)) != RC_OK ||
	    (rc = check_backup(&r, err)) != RC_OK ||
	    (rc = watch_vouch(
		 sn, wish->today, wish->by, "before pruning", err)) != RC_OK)
		return rc;
	if ((rc = prune_open(&r.p, sn->st, err)) == RC_OK)
		rc = run(&r, err);
	prune_close(r.p);
	return rc;
}
