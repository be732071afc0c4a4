/* prune.c - chains that are old enough: found, weighed, removed. */
#include "prune.h"

#include <stdlib.h>
#include <string.h>

#include "base/clock.h"
#include "base/mem.h"

/* Units filed under a breakdown. */
#define UNITS " prep_output o JOIN portion p ON p.prep_output_id = o.id "
#define OF_PREP " WHERE o.prep_id = :id"
#define OPEN_JOB "state IN ('queued', 'sending', 'unsure')"
/* When a hold was last touched. */
#define HOLD_AT "max(h.at_utc, coalesce(h.released_utc, 0))"

static const char *const reads[PQ_READS] = {
	[PQ_NEXT] =
	    "SELECT id FROM batch WHERE id > :after"
	    " AND received_utc < :before ORDER BY id LIMIT 1",
	[PQ_PREPS_OF] =
	    "SELECT prep_id FROM prep_input WHERE batch_id = :id"
	    " UNION ALL SELECT o.prep_id FROM portion_source x JOIN portion p"
	    " ON p.id = x.portion_id JOIN prep_output o"
	    " ON o.id = p.prep_output_id WHERE x.batch_id = :id",
	/* A unit's batch is one of its breakdown's; asked all the same.  A
	 * tray that was put together has every batch of its units. */
	[PQ_BATCHES_OF] =
	    "SELECT batch_id FROM prep_input WHERE prep_id = :id"
	    " UNION ALL SELECT p.batch_id FROM" UNITS OF_PREP
	    " UNION ALL SELECT x.batch_id FROM" UNITS
	    " JOIN portion_source x ON x.portion_id = p.id" OF_PREP,
	/* Code, when it came, the newest instant; on hand, held, a label that
	 * waits, a case, the newest of its kind; units. */
	[PQ_BATCH] =
	    "SELECT b.code, b.received_utc, max(b.received_utc, b.use_by_utc,"
	    " coalesce((SELECT max(at_utc) FROM batch_event"
	    "  WHERE batch_id = b.id), 0),"
	    " coalesce((SELECT max(" HOLD_AT
	    ") FROM hold h"
	    "  WHERE h.batch_id = b.id), 0),"
	    " coalesce((SELECT max(n.at_utc) FROM hold h JOIN hold_note n"
	    "  ON n.hold_id = h.id WHERE h.batch_id = b.id), 0),"
	    " coalesce((SELECT max(changed_utc) FROM print_job"
	    "  WHERE batch_id = b.id), 0),"
	    " coalesce((SELECT max(at_utc) FROM work_mark"
	    "  WHERE batch_id = b.id), 0),"
	    " coalesce((SELECT max(at_utc) FROM moved"
	    "  WHERE batch_id = b.id), 0),"
	    " coalesce((SELECT max(at_utc) FROM explained"
	    "  WHERE batch_id = b.id), 0),"
	    " coalesce((SELECT max(at_utc) FROM paper"
	    "  WHERE batch_id = b.id), 0)),"
	    " b.open,"
	    " EXISTS (SELECT 1 FROM hold WHERE batch_id = b.id"
	    "  AND released_utc IS NULL),"
	    " EXISTS (SELECT 1 FROM print_job WHERE batch_id = b.id"
	    "  AND " OPEN_JOB
	    "),"
	    " EXISTS (SELECT 1 FROM recall_item WHERE batch_id = b.id)"
	    "  OR EXISTS (SELECT 1 FROM hold h JOIN recall_hold r"
	    "  ON r.hold_id = h.id WHERE h.batch_id = b.id)"
	    "  OR EXISTS (SELECT 1 FROM complaint c WHERE c.code = b.code"
	    "  AND c.code <> ''),"
	    " b.id = (SELECT max(id) FROM batch), 0"
	    " FROM batch b WHERE b.id = :id",
	[PQ_PREP] =
	    "SELECT '', q.at_utc, max(q.at_utc,"
	    " coalesce((SELECT at_utc FROM prep_struck WHERE prep_id = :id),"
	    "  0),"
	    " coalesce((SELECT max(at_utc) FROM work_mark"
	    "  WHERE prep_id = :id), 0),"
	    " coalesce((SELECT max(at_utc) FROM explained"
	    "  WHERE prep_id = :id), 0),"
	    " coalesce((SELECT max(" HOLD_AT
	    ") FROM hold h"
	    "  WHERE h.prep_id = :id), 0),"
	    " coalesce((SELECT max(n.at_utc) FROM hold h JOIN hold_note n"
	    "  ON n.hold_id = h.id WHERE h.prep_id = :id), 0)),"
	    " 0,"
	    " EXISTS (SELECT 1 FROM hold h WHERE h.prep_id = :id"
	    "  AND h.released_utc IS NULL), 0,"
	    " EXISTS (SELECT 1 FROM hold h JOIN recall_hold r"
	    "  ON r.hold_id = h.id WHERE h.prep_id = :id),"
	    " q.id = (SELECT max(id) FROM prep), 0"
	    " FROM prep q WHERE q.id = :id",
	/* Its units together; no row when it has none. */
	[PQ_UNITS] =
	    "SELECT '', max(p.made_utc), max(max(p.made_utc, p.use_by_utc,"
	    " coalesce((SELECT max(e.at_utc) FROM portion_event e"
	    "  WHERE e.portion_id = p.id), 0),"
	    " coalesce((SELECT max(f.at_utc) FROM freezing f"
	    "  WHERE f.portion_id = p.id), 0),"
	    " coalesce((SELECT max(" HOLD_AT
	    ") FROM hold h"
	    "  WHERE h.portion_id = p.id), 0),"
	    " coalesce((SELECT max(n.at_utc) FROM hold h JOIN hold_note n"
	    "  ON n.hold_id = h.id WHERE h.portion_id = p.id), 0),"
	    " coalesce((SELECT max(m.at_utc) FROM moved m"
	    "  WHERE m.portion_id = p.id), 0),"
	    " coalesce((SELECT max(j.changed_utc) FROM print_job j"
	    "  WHERE j.portion_id = p.id), 0))),"
	    " max(p.left > 0),"
	    " max(EXISTS (SELECT 1 FROM hold h WHERE h.portion_id = p.id"
	    "  AND h.released_utc IS NULL)),"
	    " max(EXISTS (SELECT 1 FROM print_job j WHERE j.portion_id = p.id"
	    "  AND j." OPEN_JOB
	    ")),"
	    " max(EXISTS (SELECT 1 FROM recall_item WHERE portion_id = p.id)"
	    "  OR EXISTS (SELECT 1 FROM hold h JOIN recall_hold r"
	    "  ON r.hold_id = h.id WHERE h.portion_id = p.id)"
	    "  OR EXISTS (SELECT 1 FROM complaint c WHERE c.code = p.code"
	    "  AND c.code <> '')"
	    "  OR EXISTS (SELECT 1 FROM portion_event e JOIN service s"
	    "  ON s.id = e.service_id JOIN complaint c ON c.service <> ''"
	    "  AND c.service = date(s.day * 86400, 'unixepoch') || '/'"
	    "  || s.name WHERE e.portion_id = p.id)),"
	    " max(p.id = (SELECT max(id) FROM portion)), count(*)"
	    " FROM" UNITS OF_PREP " HAVING count(*) > 0",
	[PQ_DELIVERY] = "SELECT delivery_id FROM batch WHERE id = :id",
	[PQ_DELIVERY_DROP] =
	    "DELETE FROM delivery WHERE id = :id AND NOT EXISTS (SELECT 1"
	    " FROM batch WHERE delivery_id = delivery.id)",
};

/* Units filed under a breakdown, and holds and labels of them, as ids. */
#define PORTIONS "(SELECT p.id FROM" UNITS OF_PREP ")"
#define PORTION_JOBS                                                           \
	"(SELECT j.id FROM" UNITS                                              \
	"JOIN print_job j ON j.portion_id = p.id" OF_PREP ")"
#define PREP_HOLDS                                                             \
	"(SELECT h.id FROM hold h WHERE h.prep_id = :id UNION ALL"             \
	" SELECT h.id FROM" UNITS "JOIN hold h ON h.portion_id = p.id" OF_PREP \
	")"
#define BATCH_HOLDS "(SELECT h.id FROM hold h WHERE h.batch_id = :id)"
#define BATCH_JOBS "(SELECT j.id FROM print_job j WHERE j.batch_id = :id)"

/*
 * In an order that no reference forbids: first, for all of a chain, what joins
 * one part of it with another.  Every table that refers to one of these has its
 * line: tests/unit/test_store_prune.c asks the schema.
 */
static const char *const prep_links[] = {
	"DELETE FROM portion_source WHERE portion_id IN " PORTIONS,
	"DELETE FROM portion_joined WHERE portion_id IN " PORTIONS,
	"DELETE FROM portion_joined WHERE from_id IN " PORTIONS,
	"DELETE FROM portion_prep WHERE prep_id = :id",
	"DELETE FROM portion_prep WHERE portion_id IN " PORTIONS,
	"DELETE FROM hold_stopped WHERE job_id IN " PORTION_JOBS,
	"DELETE FROM hold_stopped WHERE hold_id IN " PREP_HOLDS,
	"DELETE FROM hold_note WHERE hold_id IN " PREP_HOLDS,
};
static const char *const batch_links[] = {
	"DELETE FROM hold_stopped WHERE job_id IN " BATCH_JOBS,
	"DELETE FROM hold_stopped WHERE hold_id IN " BATCH_HOLDS,
	"DELETE FROM hold_note WHERE hold_id IN " BATCH_HOLDS,
};
static const char *const of_prep[] = {
	"DELETE FROM portion_event WHERE portion_id IN " PORTIONS,
	"DELETE FROM freezing WHERE portion_id IN " PORTIONS,
	"DELETE FROM moved WHERE portion_id IN " PORTIONS,
	"DELETE FROM hold WHERE portion_id IN " PORTIONS,
	"DELETE FROM hold WHERE prep_id = :id",
	"DELETE FROM print_job WHERE portion_id IN " PORTIONS,
	"DELETE FROM portion WHERE id IN " PORTIONS,
	"DELETE FROM prep_output WHERE prep_id = :id",
	"DELETE FROM prep_input WHERE prep_id = :id",
	"DELETE FROM prep_loss WHERE prep_id = :id",
	/* A struck one taught nothing, and must not begin to. */
	"DELETE FROM yield_seen WHERE prep_id IN (SELECT prep_id"
	" FROM prep_struck WHERE prep_id = :id)",
	"DELETE FROM prep_struck WHERE prep_id = :id",
	"DELETE FROM prep_minutes WHERE prep_id = :id",
	"DELETE FROM pace_seen WHERE prep_id = :id",
	"DELETE FROM work_mark WHERE prep_id = :id",
	"DELETE FROM batch_fish WHERE prep_id = :id",
	"DELETE FROM explained WHERE prep_id = :id",
	"DELETE FROM prep WHERE id = :id",
};
static const char *const of_batch[] = {
	"DELETE FROM batch_event WHERE batch_id = :id",
	"DELETE FROM hold WHERE batch_id = :id",
	"DELETE FROM print_job WHERE batch_id = :id",
	"DELETE FROM freshness_mark WHERE batch_id = :id",
	"DELETE FROM batch_fish WHERE batch_id = :id",
	"DELETE FROM work_mark WHERE batch_id = :id",
	"DELETE FROM moved WHERE batch_id = :id",
	"DELETE FROM explained WHERE batch_id = :id",
	"DELETE FROM paper WHERE batch_id = :id",
	"DELETE FROM batch WHERE id = :id",
};

#define COUNT(a) (sizeof(a) / sizeof((a)[0]))
_Static_assert(COUNT(of_prep) <= PRUNE_DROPS_MAX, "room for each");
_Static_assert(COUNT(of_batch) <= PRUNE_DROPS_MAX, "room for each");
_Static_assert(COUNT(prep_links) <= PRUNE_DROPS_MAX, "room for each");

static enum rc
open_all(struct stmt *q, struct store *st, const char *const *sql, size_t n,
    struct err *err)
{
	size_t i;
	enum rc rc = RC_OK;

	for (i = 0; i < n && rc == RC_OK; i++)
		rc = stmt_open(&q[i], st, sql[i], err);
	return rc;
}

enum rc
prune_open(struct prune **out, struct store *st, struct err *err)
{
	struct prune *p = xcalloc(1, sizeof(*p));
	enum rc rc;

	*out = p;
	p->st = st;
	if ((rc = open_all(p->q, st, reads, COUNT(reads), err)) != RC_OK ||
	    (rc = open_all(p->prep_links, st, prep_links, COUNT(prep_links),
		 err)) != RC_OK ||
	    (rc = open_all(p->batch_links, st, batch_links, COUNT(batch_links),
		 err)) != RC_OK ||
	    (rc = open_all(p->prep, st, of_prep, COUNT(of_prep), err)) != RC_OK)
		return rc;
	return open_all(p->batch, st, of_batch, COUNT(of_batch), err);
}

void
prune_close(struct prune *p)
{
	size_t i;

	if (p == NULL)
		return;
	for (i = 0; i < PQ_READS; i++)
		stmt_close(&p->q[i]);
	for (i = 0; i < PRUNE_DROPS_MAX; i++) {
		stmt_close(&p->prep_links[i]);
		stmt_close(&p->batch_links[i]);
		stmt_close(&p->prep[i]);
		stmt_close(&p->batch[i]);
	}
	free(p);
}

enum rc
prune_run(int64_t *rows, struct stmt *q, struct err *err)
{
	enum rc rc = stmt_step(q, err);

	if (rc == RC_END)
		*rows += rows_changed(q->st);
	stmt_again(q);
	return rc == RC_END ? RC_OK : rc;
}

enum rc
prune_next(int64_t *id, struct prune *p, int64_t after, int64_t before_utc,
    struct err *err)
{
	struct stmt *q = &p->q[PQ_NEXT];
	enum rc rc;

	bind_int(q, ":after", after);
	bind_int(q, ":before", before_utc);
	if ((rc = stmt_step(q, err)) == RC_OK)
		*id = col_int(q, 0);
	stmt_again(q);
	return rc;
}

/* --- what hangs together ---------------------------------------------------*/

static void
add_id(int64_t **ids, size_t *count, size_t *cap, int64_t id)
{
	size_t i;

	for (i = 0; i < *count; i++)
		if ((*ids)[i] == id)
			return;
	*ids = grow(*ids, cap, *count, sizeof(**ids));
	(*ids)[(*count)++] = id;
}

/* The ids a statement gives for `of`, each once. */
static enum rc
add_ids(int64_t **ids, size_t *count, size_t *cap, struct stmt *q, int64_t of,
    struct err *err)
{
	enum rc rc;

	bind_int(q, ":id", of);
	while ((rc = stmt_step(q, err)) == RC_OK)
		add_id(ids, count, cap, col_int(q, 0));
	stmt_again(q);
	return rc == RC_END ? RC_OK : rc;
}

static enum rc
gather(
    struct prune_chain *c, struct prune *p, int64_t batch_id, struct err *err)
{
	size_t b = 0, q = 0;
	enum rc rc = RC_OK;

	add_id(&c->batches, &c->batch_count, &c->batch_cap, batch_id);
	while (rc == RC_OK && (b < c->batch_count || q < c->prep_count) &&
	    c->batch_count <= PRUNE_CHAIN_MAX) {
		if (b < c->batch_count)
			rc = add_ids(&c->preps, &c->prep_count, &c->prep_cap,
			    &p->q[PQ_PREPS_OF], c->batches[b++], err);
		else
			rc =
			    add_ids(&c->batches, &c->batch_count, &c->batch_cap,
				&p->q[PQ_BATCHES_OF], c->preps[q++], err);
	}
	return rc;
}

/* One batch or breakdown of it: the first reason to stay counts. */
static enum rc
weigh(struct prune_chain *c, struct stmt *q, int64_t id, bool batch,
    struct err *err)
{
	static const enum prune_stay why[] = { PRUNE_ON_HAND, PRUNE_HELD,
		PRUNE_JOB, PRUNE_CASE, PRUNE_NEWEST };
	int64_t at;
	size_t i;
	enum rc rc;

	bind_int(q, ":id", id);
	if ((rc = stmt_step(q, err)) != RC_OK)
		goto done;
	at = col_int(q, 1);
	if (batch && (c->from_utc == 0 || at < c->from_utc)) {
		c->from_utc = at;
		col_text(c->code, sizeof(c->code), q, 0);
	}
	if (batch && at > c->to_utc)
		c->to_utc = at;
	if (col_int(q, 2) > c->newest_utc)
		c->newest_utc = col_int(q, 2);
	for (i = 0; i < COUNT(why) && c->stay == PRUNE_GOES; i++)
		if (col_int(q, 3 + (int)i) != 0)
			c->stay = why[i];
	c->units += col_int(q, 8);
done:
	stmt_again(q);
	/* A breakdown may have no units. */
	return rc == RC_END ? RC_OK : rc;
}

enum rc
prune_chain_read(struct prune_chain *out, struct prune *p, int64_t batch_id,
    int64_t before_utc, struct err *err)
{
	size_t i;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	rc = gather(out, p, batch_id, err);
	for (i = 0; i < out->batch_count && rc == RC_OK; i++)
		rc = weigh(out, &p->q[PQ_BATCH], out->batches[i], true, err);
	for (i = 0; i < out->prep_count && rc == RC_OK; i++)
		if ((rc = weigh(out, &p->q[PQ_PREP], out->preps[i], false,
			 err)) == RC_OK)
			rc = weigh(
			    out, &p->q[PQ_UNITS], out->preps[i], false, err);
	if (out->batch_count > PRUNE_CHAIN_MAX)
		out->stay = PRUNE_TANGLED;
	else if (out->newest_utc >= before_utc)
		out->stay = PRUNE_YOUNG;
	return rc;
}

void
prune_chain_fini(struct prune_chain *c)
{
	free(c->batches);
	free(c->preps);
	memset(c, 0, sizeof(*c));
}

int64_t
prune_chain_first(const struct prune_chain *c)
{
	int64_t id = c->batches[0];
	size_t i;

	for (i = 1; i < c->batch_count; i++)
		if (c->batches[i] < id)
			id = c->batches[i];
	return id;
}

void
prune_chain_add(struct prune_sum *sum, const struct prune_chain *c)
{
	sum->chains++;
	sum->batches += (int64_t)c->batch_count;
	sum->breakdowns += (int64_t)c->prep_count;
	sum->units += c->units;
	prune_days(sum, local_from_utc(c->from_utc).day);
	prune_days(sum, local_from_utc(c->to_utc).day);
}

/* --- removing --------------------------------------------------------------*/

static enum rc
drop_each(int64_t *rows, struct stmt *q, size_t n, int64_t id, struct err *err)
{
	size_t i;
	enum rc rc = RC_OK;

	for (i = 0; i < n && rc == RC_OK; i++) {
		bind_int(&q[i], ":id", id);
		rc = prune_run(rows, &q[i], err);
	}
	return rc;
}

/* Its rows, itself, and the delivery it was the last of. */
static enum rc
drop_batch(int64_t *rows, struct prune *p, int64_t id, struct err *err)
{
	struct stmt *q = &p->q[PQ_DELIVERY];
	int64_t delivery = 0;
	enum rc rc;

	bind_int(q, ":id", id);
	if ((rc = stmt_step(q, err)) == RC_OK)
		delivery = col_int(q, 0);
	stmt_again(q);
	if (rc != RC_OK ||
	    (rc = drop_each(rows, p->batch, COUNT(of_batch), id, err)) != RC_OK)
		return rc;
	return drop_each(rows, &p->q[PQ_DELIVERY_DROP], 1, delivery, err);
}

enum rc
prune_chain_drop(struct prune_sum *sum, struct prune *p,
    const struct prune_chain *c, struct err *err)
{
	size_t i;
	enum rc rc = RC_OK;

	for (i = 0; i < c->prep_count && rc == RC_OK; i++)
		rc = drop_each(&sum->rows, p->prep_links, COUNT(prep_links),
		    c->preps[i], err);
	for (i = 0; i < c->batch_count && rc == RC_OK; i++)
		rc = drop_each(&sum->rows, p->batch_links, COUNT(batch_links),
		    c->batches[i], err);
	for (i = 0; i < c->prep_count && rc == RC_OK; i++)
		rc = drop_each(
		    &sum->rows, p->prep, COUNT(of_prep), c->preps[i], err);
	for (i = 0; i < c->batch_count && rc == RC_OK; i++)
		rc = drop_batch(&sum->rows, p, c->batches[i], err);
	prune_chain_add(sum, c);
	return rc;
}
