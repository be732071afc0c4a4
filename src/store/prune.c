/* prune.c - chains that are old enough: found, weighed, removed. */
#include "prune.h"

#include <stdlib.h>
#include <string.h>

#include "base/clock.h"
#include "base/mem.h"

/* Units of a breakdown. */
#define UNITS                                                                  \
	"prep_output o JOIN portion p ON p.prep_output_id = o.id"              \
	" JOIN "
#define OF_PREP " WHERE o.prep_id = :id"
#define OPEN_JOB "state IN ('queued', 'sending', 'unsure')"

static const char *const reads[PQ_READS] = {
	[PQ_NEXT] =
	    "SELECT id FROM batch WHERE id > :after"
	    " AND received_utc < :before ORDER BY id LIMIT 1",
	[PQ_PREPS_OF] =
	    "SELECT prep_id FROM prep_input"
	    " WHERE batch_id = :id",
	/* A unit's batch is one of its breakdown's; asked all the same. */
	[PQ_BATCHES_OF] =
	    "SELECT batch_id FROM prep_input WHERE prep_id = :id"
	    " UNION ALL SELECT p.batch_id FROM prep_output o JOIN portion p"
	    " ON p.prep_output_id = o.id WHERE o.prep_id = :id",
	[PQ_BATCH] =
	    "SELECT b.code, b.received_utc, max(b.received_utc, b.use_by_utc,"
	    " coalesce((SELECT max(at_utc) FROM batch_event"
	    "  WHERE batch_id = b.id), 0),"
	    " coalesce((SELECT max(max(at_utc, coalesce(released_utc, 0)))"
	    "  FROM hold WHERE batch_id = b.id), 0),"
	    " coalesce((SELECT max(changed_utc) FROM print_job"
	    "  WHERE batch_id = b.id), 0),"
	    " coalesce((SELECT max(at_utc) FROM work_mark"
	    "  WHERE batch_id = b.id), 0)),"
	    " b.open,"
	    " EXISTS (SELECT 1 FROM hold WHERE batch_id = b.id"
	    "  AND released_utc IS NULL),"
	    " EXISTS (SELECT 1 FROM print_job WHERE batch_id = b.id"
	    "  AND " OPEN_JOB
	    "),"
	    " b.id = (SELECT max(id) FROM batch), 1"
	    " FROM batch b WHERE b.id = :id",
	[PQ_PREP] =
	    "SELECT '', q.at_utc, max(q.at_utc,"
	    " coalesce((SELECT at_utc FROM prep_struck WHERE prep_id = :id),"
	    "  0),"
	    " coalesce((SELECT max(at_utc) FROM work_mark"
	    "  WHERE prep_id = :id), 0),"
	    " coalesce((SELECT max(max(p.made_utc, p.use_by_utc))"
	    "  FROM prep_output o JOIN portion p ON p.prep_output_id = "
	    "o.id" OF_PREP
	    "), 0),"
	    " coalesce((SELECT max(e.at_utc) FROM " UNITS
	    "  portion_event e ON e.portion_id = p.id" OF_PREP
	    "), 0),"
	    " coalesce((SELECT max(f.at_utc) FROM " UNITS
	    "  freezing f ON f.portion_id = p.id" OF_PREP
	    "), 0),"
	    " coalesce((SELECT max(max(h.at_utc, coalesce(h.released_utc, 0)))"
	    "  FROM " UNITS "hold h ON h.portion_id = p.id" OF_PREP
	    "), 0),"
	    " coalesce((SELECT max(j.changed_utc) FROM " UNITS
	    "  print_job j ON j.portion_id = p.id" OF_PREP
	    "), 0)),"
	    " EXISTS (SELECT 1 FROM prep_output o JOIN portion p"
	    "  ON p.prep_output_id = o.id" OF_PREP
	    " AND p.left > 0),"
	    " EXISTS (SELECT 1 FROM " UNITS
	    "hold h ON h.portion_id = p.id" OF_PREP
	    " AND h.released_utc IS NULL),"
	    " EXISTS (SELECT 1 FROM " UNITS
	    "  print_job j ON j.portion_id = p.id" OF_PREP "  AND j." OPEN_JOB
	    "),"
	    " q.id = (SELECT max(id) FROM prep) OR EXISTS (SELECT 1"
	    "  FROM prep_output o JOIN portion p ON p.prep_output_id = "
	    "o.id" OF_PREP
	    " AND p.id = (SELECT max(id) FROM portion)),"
	    " (SELECT count(*) FROM prep_output o JOIN portion p"
	    "  ON p.prep_output_id = o.id" OF_PREP
	    ")"
	    " FROM prep q WHERE q.id = :id",
	[PQ_DELIVERY] = "SELECT delivery_id FROM batch WHERE id = :id",
	[PQ_DELIVERY_DROP] =
	    "DELETE FROM delivery WHERE id = :id AND NOT EXISTS (SELECT 1"
	    " FROM batch WHERE delivery_id = delivery.id)",
};

/* Portions of a breakdown, for a list of ids. */
#define PORTIONS                                                               \
	"(SELECT p.id FROM prep_output o JOIN portion p"                       \
	" ON p.prep_output_id = o.id WHERE o.prep_id = :id)"

/* In an order that no reference forbids.  Every table that refers to one of
 * these has its line: tests/unit/test_store_prune.c asks the schema. */
static const char *const of_prep[] = {
	"DELETE FROM portion_event WHERE portion_id IN " PORTIONS,
	"DELETE FROM freezing WHERE portion_id IN " PORTIONS,
	"DELETE FROM hold WHERE portion_id IN " PORTIONS,
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
	"DELETE FROM prep WHERE id = :id",
};
static const char *const of_batch[] = {
	"DELETE FROM batch_event WHERE batch_id = :id",
	"DELETE FROM hold WHERE batch_id = :id",
	"DELETE FROM print_job WHERE batch_id = :id",
	"DELETE FROM freshness_mark WHERE batch_id = :id",
	"DELETE FROM batch_fish WHERE batch_id = :id",
	"DELETE FROM work_mark WHERE batch_id = :id",
	"DELETE FROM batch WHERE id = :id",
};

#define COUNT(a) (sizeof(a) / sizeof((a)[0]))
_Static_assert(COUNT(of_prep) <= PRUNE_DROPS_MAX, "room for each");
_Static_assert(COUNT(of_batch) <= PRUNE_DROPS_MAX, "room for each");

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
		PRUNE_JOB, PRUNE_NEWEST };
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
	if (!batch)
		c->units += col_int(q, 7);
done:
	stmt_again(q);
	return rc == RC_END
	    ? err_set(err, RC_FATAL, 0, "a chain leads to nothing")
	    : rc;
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
		rc = weigh(out, &p->q[PQ_PREP], out->preps[i], false, err);
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
		rc = drop_each(
		    &sum->rows, p->prep, COUNT(of_prep), c->preps[i], err);
	for (i = 0; i < c->batch_count && rc == RC_OK; i++)
		rc = drop_batch(&sum->rows, p, c->batches[i], err);
	prune_chain_add(sum, c);
	return rc;
}
