/* prune_rows.c - pruning of what stands alone, and what is written of it. */
#include "prune.h"

#include <stdlib.h>
#include <string.h>

#include "base/clock.h"

void
prune_days(struct prune_sum *s, day_no day)
{
	if (s->from_day == DAY_NONE || day < s->from_day)
		s->from_day = day;
	if (s->to_day == DAY_NONE || day > s->to_day)
		s->to_day = day;
}

/* --- the record ------------------------------------------------------------*/

enum rc
prune_begin(struct prune *p, const struct pruning *what,
    const struct moment *at, struct err *err)
{
	struct stmt q;
	enum rc rc;

	rc = stmt_open(&q, p->st,
	    "INSERT INTO pruning (before_utc, rule, backup, at_utc, offset_min,"
	    " by) VALUES (:before, :rule, :backup, :at, :offset, :by)",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":before", what->before_utc);
	bind_text(&q, ":rule", what->rule);
	bind_text(&q, ":backup", what->backup);
	bind_int(&q, ":at", at->utc);
	bind_int(&q, ":offset", at->offset_min);
	bind_text(&q, ":by", at->by);
	if ((rc = stmt_run(&q, err)) == RC_OK)
		p->id = last_id(p->st);
	return rc;
}

enum rc
prune_end(struct prune *p, const struct prune_sum *sum, struct err *err)
{
	struct stmt q;
	enum rc rc;

	rc = stmt_open(&q, p->st,
	    "INSERT INTO pruned (pruning_id, from_day, to_day, batches,"
	    " breakdowns, units, cases, services, lists, clock_checks, total)"
	    " VALUES (:id, :from, :to, :batches, :breakdowns, :units,"
	    " :cases, :services, :lists, :clock_checks, :total)",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":id", p->id);
	bind_int(&q, ":from", sum->from_day);
	bind_int(&q, ":to", sum->to_day);
	bind_int(&q, ":batches", sum->batches);
	bind_int(&q, ":breakdowns", sum->breakdowns);
	bind_int(&q, ":units", sum->units);
	bind_int(&q, ":cases", sum->cases);
	bind_int(&q, ":services", sum->services);
	bind_int(&q, ":lists", sum->lists);
	bind_int(&q, ":clock_checks", sum->clock_checks);
	bind_int(&q, ":total", sum->rows);
	return stmt_run(&q, err);
}

/* --- what stands alone -----------------------------------------------------*/

/* What may go: an id and its instant or civil day; and its rows. */
static const struct {
	const char *find;
	const char *drop[7]; /* NULL-terminated */
} alone[PRUNE_ALONE] = {
	[PRUNE_SERVICES] = {
	    "SELECT s.id, s.day FROM service s WHERE s.day < :before"
	    " AND s.id < (SELECT max(id) FROM service)"
	    " AND NOT EXISTS (SELECT 1 FROM portion_event"
	    "  WHERE service_id = s.id)"
	    " AND NOT EXISTS (SELECT 1 FROM work_mark"
	    "  WHERE service_id = s.id AND (batch_id IS NOT NULL"
	    "  OR at_utc >= :instant))"
	    " AND NOT EXISTS (SELECT 1 FROM closed"
	    "  WHERE service_id = s.id AND at_utc >= :instant)"
	    " ORDER BY s.day, s.name LIMIT :most",
	    { "DELETE FROM sold WHERE service_id = :id",
		"DELETE FROM closed WHERE service_id = :id",
		"DELETE FROM typed WHERE service_id = :id",
		"DELETE FROM work_mark WHERE service_id = :id",
		"DELETE FROM service WHERE id = :id", NULL },
	},
	[PRUNE_LISTS] = {
	    "SELECT t.id, t.at_utc FROM ticket t WHERE t.id <"
	    " (SELECT max(id) FROM ticket) AND t.at_utc < :instant"
	    " AND NOT EXISTS (SELECT 1 FROM print_job WHERE ticket_id ="
	    "  t.id AND (changed_utc >= :instant"
	    "  OR state IN ('queued', 'sending', 'unsure')))"
	    " ORDER BY t.id LIMIT :most",
	    { "DELETE FROM hold_stopped WHERE job_id IN (SELECT id"
	      " FROM print_job WHERE ticket_id = :id)",
		"DELETE FROM print_job WHERE ticket_id = :id",
		"DELETE FROM ticket WHERE id = :id", NULL },
	},
	/* Before the chains: a recall keeps what it speaks of. */
	[PRUNE_RECALLS] = {
	    "SELECT r.id, r.at_utc FROM recall r JOIN recall_end n"
	    " ON n.recall_id = r.id WHERE r.id < (SELECT max(id) FROM recall)"
	    " AND n.at_utc < :instant AND NOT EXISTS (SELECT 1 FROM hold_note"
	    "  WHERE recall_id = r.id AND at_utc >= :instant)"
	    " ORDER BY r.id LIMIT :most",
	    { "DELETE FROM recall_hold WHERE recall_id = :id",
		"DELETE FROM recall_tick WHERE recall_id = :id",
		"DELETE FROM recall_item WHERE recall_id = :id",
		"DELETE FROM hold_note WHERE recall_id = :id",
		"DELETE FROM recall_end WHERE recall_id = :id",
		"DELETE FROM recall WHERE id = :id", NULL },
	},
	[PRUNE_COMPLAINTS] = {
	    "SELECT c.id, c.at_utc FROM complaint c WHERE c.id <"
	    " (SELECT max(id) FROM complaint) AND c.at_utc < :instant"
	    " AND EXISTS (SELECT 1 FROM complaint_note WHERE complaint_id ="
	    "  c.id AND kind = 'closed') AND NOT EXISTS (SELECT 1"
	    "  FROM complaint_note WHERE complaint_id = c.id"
	    "  AND at_utc >= :instant) ORDER BY c.id LIMIT :most",
	    { "DELETE FROM complaint_note WHERE complaint_id = :id",
		"DELETE FROM complaint WHERE id = :id", NULL },
	},
	[PRUNE_DRILLS] = {
	    "SELECT d.id, d.at_utc FROM drill d WHERE d.id <"
	    " (SELECT max(id) FROM drill) AND d.at_utc < :instant"
	    " ORDER BY d.id LIMIT :most",
	    { "DELETE FROM drill WHERE id = :id", NULL },
	},
	[PRUNE_CLOCKS] = {
	    "SELECT c.id, c.at_utc FROM clock_check c WHERE c.id <"
	    " (SELECT max(id) FROM clock_check) AND c.at_utc < :instant"
	    " ORDER BY c.id LIMIT :most",
	    { "DELETE FROM clock_check WHERE id = :id", NULL },
	},
};

struct found {
	int64_t id, when;
};

static enum rc
read_found(void *item, const struct stmt *q, struct err *err)
{
	struct found *f = item;

	(void)err;
	f->id = col_int(q, 0);
	f->when = col_int(q, 1);
	return RC_OK;
}

static enum rc
find(struct found **out, size_t *count, struct prune *p,
    const struct prune_alone_wish *wish, struct err *err)
{
	struct stmt q;
	void *rows = NULL;
	enum rc rc;

	*out = NULL;
	*count = 0;
	if ((rc = stmt_open(&q, p->st, alone[wish->kind].find, err)) != RC_OK)
		return rc;
	if (wish->kind == PRUNE_SERVICES)
		bind_int(&q, ":before", wish->before_day);
	bind_int(&q, ":instant", wish->before_utc);
	bind_int(&q, ":most", wish->most);
	rc = stmt_rows(&rows, count, sizeof(**out), &q, read_found, err);
	*out = rows;
	return rc;
}

/* The rows of each, one statement after the other. */
static enum rc
drop(int64_t *rows, struct prune *p, const struct prune_alone_wish *wish,
    const struct found *f, size_t n, struct err *err)
{
	const char *const *sql;
	struct stmt q;
	size_t i;
	enum rc rc = RC_OK;

	for (sql = alone[wish->kind].drop; *sql != NULL && rc == RC_OK; sql++) {
		if ((rc = stmt_open(&q, p->st, *sql, err)) != RC_OK)
			return rc;
		for (i = 0; i < n && rc == RC_OK; i++) {
			bind_int(&q, ":id", f[i].id);
			rc = prune_run(rows, &q, err);
		}
		stmt_close(&q);
	}
	return rc;
}

static int64_t *
count_of(struct prune_sum *s, enum prune_alone kind)
{
	switch (kind) {
	case PRUNE_SERVICES:
		return &s->services;
	case PRUNE_LISTS:
		return &s->lists;
	case PRUNE_CLOCKS:
		return &s->clock_checks;
	case PRUNE_RECALLS:
	case PRUNE_COMPLAINTS:
	case PRUNE_DRILLS:
	case PRUNE_ALONE:
		break;
	}
	return &s->cases;
}

enum rc
prune_alone(struct prune_sum *found, struct prune *p,
    const struct prune_alone_wish *wish, struct err *err)
{
	struct found *f;
	size_t i, n;
	enum rc rc;

	if ((rc = find(&f, &n, p, wish, err)) != RC_OK)
		return rc;
	for (i = 0; i < n; i++)
		prune_days(found,
		    wish->kind == PRUNE_SERVICES
			? (day_no)f[i].when
			: local_from_utc(f[i].when).day);
	*count_of(found, wish->kind) += (int64_t)n;
	if (wish->drop)
		rc = drop(&found->rows, p, wish, f, n, err);
	free(f);
	return rc;
}

/* --- reading ---------------------------------------------------------------*/

enum rc
prune_days_recorded(int64_t *out, struct store *st, int64_t from_utc,
    int64_t to_utc, struct err *err)
{
	struct stmt q;
	enum rc rc;

	*out = 0;
	rc = stmt_open(&q, st,
	    "SELECT count(DISTINCT at_utc / 86400) FROM (SELECT at_utc"
	    " FROM audit" SCAN_OK
	    "ORDER BY id DESC LIMIT 20000)"
	    " WHERE at_utc >= :from AND at_utc < :to",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":from", from_utc);
	bind_int(&q, ":to", to_utc);
	if ((rc = stmt_step(&q, err)) == RC_OK)
		*out = col_int(&q, 0);
	stmt_close(&q);
	return rc;
}

static enum rc
read_pruning(void *item, const struct stmt *q, struct err *err)
{
	struct pruning_row *r = item;

	(void)err;
	memset(r, 0, sizeof(*r));
	r->id = col_int(q, 0);
	r->at.utc = col_int(q, 1);
	r->at.offset_min = (int)col_int(q, 2);
	col_text(r->at.by, sizeof(r->at.by), q, 3);
	r->before_utc = col_int(q, 4);
	r->rule = col_dup(q, 5);
	r->backup = col_dup(q, 6);
	r->sum.from_day = col_day(q, 7);
	r->sum.to_day = col_day(q, 8);
	r->sum.batches = col_int(q, 9);
	r->sum.breakdowns = col_int(q, 10);
	r->sum.units = col_int(q, 11);
	r->sum.cases = col_int(q, 12);
	r->sum.services = col_int(q, 13);
	r->sum.lists = col_int(q, 14);
	r->sum.clock_checks = col_int(q, 15);
	r->sum.rows = col_int(q, 16);
	return RC_OK;
}

enum rc
pruning_list_open(
    struct pruning_list *out, struct store *st, int64_t most, struct err *err)
{
	struct stmt q;
	void *rows;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	rc = stmt_open(&q, st,
	    "SELECT p.id, p.at_utc, p.offset_min, p.by, p.before_utc, p.rule,"
	    " p.backup, d.from_day, d.to_day, d.batches, d.breakdowns, d.units,"
	    " d.cases, d.services, d.lists, d.clock_checks, d.total"
	    " FROM pruning p JOIN pruned d ON d.pruning_id = p.id"
	    " WHERE p.id > 0 ORDER BY p.id DESC LIMIT :most",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":most", most);
	rc = stmt_rows(
	    &rows, &out->count, sizeof(*out->items), &q, read_pruning, err);
	out->items = rows;
	return rc;
}

void
pruning_list_fini(struct pruning_list *l)
{
	size_t i;

	for (i = 0; i < l->count; i++) {
		free(l->items[i].rule);
		free(l->items[i].backup);
	}
	free(l->items);
	memset(l, 0, sizeof(*l));
}
