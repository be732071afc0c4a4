/* mass.c - what sums of grams are made of. */
#include "store/mass.h"

#include <assert.h>
#include <inttypes.h>
#include <stdlib.h>
#include <string.h>

#include "base/clock.h"
#include "base/mem.h"
#include "base/str.h"
#include "mass_units.h"
#include "stmt.h"

/* The newest explanation, while the figures are still those it explained. */
static enum rc
read_explained(struct mass *m, char reason[200], struct store *st,
    const char *sql, int64_t id, struct err *err)
{
	struct stmt q;
	enum rc rc;

	m->explained = 0;
	reason[0] = '\0';
	if (m->unexplained == 0)
		return RC_OK;
	if ((rc = stmt_open(&q, st, sql, err)) != RC_OK)
		return rc;
	bind_int(&q, ":id", id);
	if ((rc = stmt_step(&q, err)) == RC_OK &&
	    col_int(&q, 0) == m->unexplained) {
		m->explained = m->unexplained;
		col_text(reason, 200, &q, 1);
	}
	stmt_close(&q);
	return rc == RC_END ? RC_OK : rc;
}

/* --- a breakdown ----------------------------------------------------------*/

static enum rc
read_input(void *item, const struct stmt *q, struct err *err)
{
	struct mass_input *i = item;

	(void)err;
	memset(i, 0, sizeof(*i));
	i->batch_id = col_int(q, 0);
	col_text(i->batch, sizeof(i->batch), q, 1);
	col_text(i->species, sizeof(i->species), q, 2);
	i->in_g = col_int(q, 3);
	return RC_OK;
}

static enum rc
read_inputs(struct mass_prep *p, struct store *st, struct err *err)
{
	struct stmt q;
	void *rows;
	size_t i;
	enum rc rc;

	rc = stmt_open(&q, st,
	    "SELECT i.batch_id, b.code, b.species, sum(i.weight_g)"
	    " FROM prep_input i JOIN batch b ON b.id = i.batch_id"
	    " WHERE i.prep_id = :prep GROUP BY i.batch_id ORDER BY "
	    "min(i.id)" SORT_OK,
	    err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":prep", p->id);
	rc = stmt_rows(
	    &rows, &p->input_count, sizeof(*p->inputs), &q, read_input, err);
	p->inputs = rows;
	for (i = 0; i < p->input_count; i++)
		p->mass.in += p->inputs[i].in_g;
	return rc;
}

static enum rc
read_sums(struct mass_prep *p, struct store *st, struct err *err)
{
	enum rc rc;

	if ((rc = read_inputs(p, st, err)) != RC_OK ||
	    (rc = mass_put_units(&p->mass, st, p->id, err)) != RC_OK)
		return rc;
	mass_close(&p->mass);
	return read_explained(&p->mass, p->reason, st,
	    "SELECT weight_g, reason FROM explained WHERE prep_id = :id"
	    " ORDER BY id DESC LIMIT 1",
	    p->id, err);
}

static enum rc
read_prep(void *item, const struct stmt *q, struct err *err)
{
	struct mass_prep *p = item;

	(void)err;
	memset(p, 0, sizeof(*p));
	p->id = col_int(q, 0);
	p->at.utc = col_int(q, 1);
	p->at.offset_min = (int)col_int(q, 2);
	col_text(p->at.by, sizeof(p->at.by), q, 3);
	p->mass.part[MASS_TRIM] = col_int(q, 4);
	p->mass.part[MASS_FRAMES] = col_int(q, 5);
	p->mass.part[MASS_WASTE] = col_int(q, 6);
	return RC_OK;
}

#define LOSS_OF(kind)                                                          \
	" coalesce((SELECT l.weight_g FROM prep_loss l WHERE l.prep_id = p.id" \
	" AND l.kind = '" kind "'), 0)"
#define LOSSES LOSS_OF("trim") "," LOSS_OF("frames") "," LOSS_OF("waste")
#define PREPS                                                                  \
	"SELECT p.id, p.at_utc, p.offset_min, p.by," LOSSES                    \
	" FROM prep p WHERE "
#define NOT_STRUCK                                                             \
	" AND NOT EXISTS (SELECT 1 FROM prep_struck k WHERE k.prep_id = p.id)"

/* Those of an open statement, which is closed. */
static enum rc
read_all(
    struct mass_preps *out, struct store *st, struct stmt *q, struct err *err)
{
	void *rows;
	size_t i;
	enum rc rc;

	rc = stmt_rows(
	    &rows, &out->count, sizeof(*out->items), q, read_prep, err);
	out->items = rows;
	for (i = 0; i < out->count && rc == RC_OK; i++)
		rc = read_sums(&out->items[i], st, err);
	if (rc != RC_OK)
		mass_preps_fini(out);
	return rc;
}

enum rc
mass_preps_batch(
    struct mass_preps *out, struct store *st, int64_t batch_id, struct err *err)
{
	struct stmt q;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	rc = stmt_open(&q, st,
	    PREPS
	    "p.id IN (SELECT i.prep_id FROM prep_input i"
	    " WHERE i.batch_id = :batch)" NOT_STRUCK " ORDER BY p.id",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":batch", batch_id);
	return read_all(out, st, &q, err);
}

enum rc
mass_preps_between(struct mass_preps *out, struct store *st, int64_t from_utc,
    int64_t to_utc, struct err *err)
{
	struct stmt q;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	rc = stmt_open(&q, st,
	    PREPS "p.at_utc >= :from AND p.at_utc < :to" NOT_STRUCK
		  " ORDER BY p.at_utc, p.id",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":from", from_utc);
	bind_int(&q, ":to", to_utc);
	return read_all(out, st, &q, err);
}

enum rc
mass_prep_get(
    struct mass_preps *out, struct store *st, int64_t prep_id, struct err *err)
{
	struct stmt q;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	if ((rc = stmt_open(&q, st, PREPS "p.id = :prep" NOT_STRUCK, err)) !=
	    RC_OK)
		return rc;
	bind_int(&q, ":prep", prep_id);
	if ((rc = read_all(out, st, &q, err)) != RC_OK || out->count > 0)
		return rc;
	return err_set(err, RC_NOTFOUND, 0,
	    "breakdown %" PRId64
	    " is not in this station file, or was struck "
	    "out",
	    prep_id);
}

void
mass_preps_fini(struct mass_preps *l)
{
	size_t i;

	for (i = 0; i < l->count; i++)
		free(l->items[i].inputs);
	free(l->items);
	memset(l, 0, sizeof(*l));
}

/* --- a batch --------------------------------------------------------------*/

enum rc
mass_of_batch(struct mass *out, grams *worked, char reason[200],
    struct store *st, const struct batch *b, struct err *err)
{
	struct stmt q;
	grams gone = 0;
	bool empty;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	*worked = 0;
	reason[0] = '\0';
	out->in = b->weight_g;
	if (b->decision == DECISION_REFUSED || b->struck) {
		out->part[b->struck ? MASS_STRUCK : MASS_RETURNED] =
		    b->weight_g;
		return RC_OK;
	}
	rc = stmt_open(&q, st,
	    "SELECT coalesce(sum(CASE e.kind WHEN 'returned' THEN -e.weight_g"
	    " ELSE e.weight_g END), 0) FROM batch_event e"
	    " WHERE e.batch_id = :batch",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":batch", b->id);
	if ((rc = stmt_step(&q, err)) == RC_OK)
		gone = col_int(&q, 0);
	stmt_close(&q);
	if (rc != RC_OK)
		return rc;
	out->part[MASS_DISCARDED] = gone;
	/* A counted batch is empty with its last fish, whatever the scale
	 * says is left; that rest is drip, ice, or unexplained. */
	empty = (b->count > 0 && b->count_left == 0) || b->weight_left < 0;
	out->part[MASS_WHOLE] = empty ? 0 : b->weight_left;
	*worked = b->weight_g - gone - b->weight_left;
	out->unexplained = empty ? b->weight_left : 0;
	return read_explained(out, reason, st,
	    "SELECT weight_g, reason FROM explained WHERE batch_id = :id"
	    " ORDER BY id DESC LIMIT 1",
	    b->id, err);
}

static enum rc
read_code(void *item, const struct stmt *q, struct err *err)
{
	(void)err;
	col_text(item, CODE_SIZE, q, 0);
	return RC_OK;
}

enum rc
mass_batches(struct mass_codes *out, struct store *st, int64_t supplier_id,
    day_no from, day_no to, size_t most, struct err *err)
{
	struct stmt q;
	void *rows;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	rc = stmt_open(&q, st,
	    "SELECT b.code FROM delivery d"
	    " CROSS JOIN batch b ON b.delivery_id = d.id"
	    " WHERE d.supplier_id = :supplier AND d.day BETWEEN :from AND :to"
	    " ORDER BY d.day, b.id LIMIT :most" SORT_OK,
	    err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":supplier", supplier_id);
	bind_day(&q, ":from", from);
	bind_day(&q, ":to", to);
	bind_int(&q, ":most", (int64_t)most);
	rc = stmt_rows(
	    &rows, &out->count, sizeof(*out->items), &q, read_code, err);
	out->items = rows;
	return rc;
}

/* --- gaps -----------------------------------------------------------------*/

static enum rc
read_gap(void *item, const struct stmt *q, struct err *err)
{
	struct mass_gap *g = item;

	(void)err;
	memset(g, 0, sizeof(*g));
	g->prep_id = col_int(q, 0);
	col_text(g->batch, sizeof(g->batch), q, 1);
	col_text(g->species, sizeof(g->species), q, 2);
	g->inputs = col_int(q, 3);
	g->in_g = col_int(q, 4);
	g->gap_g = col_int(q, 5);
	g->at_utc = col_int(q, 6);
	col_text(g->by, sizeof(g->by), q, 7);
	return RC_OK;
}

/* The newest explanation is of another weight, or there is none. */
#define NOT_EXPLAINED(column)                                                  \
	" AND (SELECT x.weight_g FROM explained x WHERE x." column             \
	" ORDER BY x.id DESC LIMIT 1) IS NOT g.gap"

static const char gaps_of_preps[] =
    "SELECT id, code, species, inputs, worked, gap, at_utc, by FROM ("
    "SELECT p.id AS id, p.at_utc AS at_utc, p.by AS by,"
    " (SELECT b.code FROM prep_input i JOIN batch b ON b.id = i.batch_id"
    "  WHERE i.prep_id = p.id ORDER BY i.id LIMIT 1) AS code,"
    " (SELECT b.species FROM prep_input i JOIN batch b ON b.id = i.batch_id"
    "  WHERE i.prep_id = p.id ORDER BY i.id LIMIT 1) AS species,"
    " (SELECT count(DISTINCT i.batch_id) FROM prep_input i"
    "  WHERE i.prep_id = p.id) AS inputs,"
    " (SELECT sum(i.weight_g) FROM prep_input i WHERE i.prep_id = p.id)"
    "  AS worked,"
    " (SELECT sum(i.weight_g) FROM prep_input i WHERE i.prep_id = p.id)"
    "  - coalesce((SELECT sum(o.weight_g) FROM prep_output o"
    "  WHERE o.prep_id = p.id), 0)"
    "  - coalesce((SELECT sum(l.weight_g) FROM prep_loss l"
    "  WHERE l.prep_id = p.id), 0) AS gap"
    " FROM prep p WHERE p.at_utc >= :from AND p.at_utc < :to" NOT_STRUCK
    ") AS g WHERE gap <> 0" NOT_EXPLAINED(
	"prep_id = g.id") " ORDER BY at_utc DESC, id DESC LIMIT :most" SORT_OK;

static const char gaps_of_batches[] =
    "SELECT 0, code, species, 0, taken, gap, at_utc, by FROM ("
    "SELECT b.id AS id, b.code AS code, b.species AS species,"
    " b.weight_g AS taken, b.received_utc AS at_utc, b.by AS by,"
    " (SELECT CASE WHEN (b.count > 0 AND l.count = 0) OR l.weight_g < 0"
    "  THEN l.weight_g ELSE 0 END FROM batch_left l"
    "  WHERE l.batch_id = b.id) AS gap"
    " FROM batch b JOIN delivery d ON d.id = b.delivery_id"
    " WHERE b.code >= :first AND b.code < :last"
    " AND d.day BETWEEN :day AND :until AND b.decision <> 'refused'"
    " AND NOT EXISTS (SELECT 1 FROM batch_event s"
    "  WHERE s.batch_id = b.id AND s.kind = 'struck')"
    ") AS g WHERE gap <> 0" NOT_EXPLAINED(
	"batch_id = g.id") " ORDER BY code DESC LIMIT :most";

/* The codes of a day begin with it, but for the century. */
static void
bind_codes(struct stmt *q, day_no from, day_no to)
{
	char first[CODE_SIZE], last[CODE_SIZE];
	struct civil a = day_civil(from), z = day_civil(to);

	str_fmt(
	    first, sizeof(first), "%02d%03d", a.year % 100, day_of_year(from));
	str_fmt(last, sizeof(last), "%02d%03d:", z.year % 100, day_of_year(to));
	bind_text(q, ":first", first);
	bind_text(q, ":last", last);
	bind_day(q, ":day", from);
	bind_day(q, ":until", to);
}

enum rc
mass_gaps_open(struct mass_gaps *out, struct store *st, day_no from, day_no to,
    size_t most, struct err *err)
{
	struct mass_gaps part[2] = { { 0 }, { 0 } };
	struct stmt q;
	void *rows;
	int i;
	enum rc rc = RC_OK;

	memset(out, 0, sizeof(*out));
	for (i = 0; i < 2 && rc == RC_OK; i++) {
		rc = stmt_open(
		    &q, st, i == 0 ? gaps_of_preps : gaps_of_batches, err);
		if (rc != RC_OK)
			break;
		if (i == 0) {
			bind_int(&q, ":from", utc_from_local(from, 0, 0, 0));
			bind_int(&q, ":to", utc_from_local(to + 1, 0, 0, 0));
		} else {
			bind_codes(&q, from, to);
		}
		bind_int(&q, ":most", (int64_t)most);
		rc = stmt_rows(&rows, &part[i].count, sizeof(*part[i].items),
		    &q, read_gap, err);
		part[i].items = rows;
	}
	if (rc == RC_OK) {
		out->items =
		    xcalloc(part[0].count + part[1].count, sizeof(*out->items));
		for (i = 0; i < 2; i++) {
			if (part[i].count > 0)
				memcpy(out->items + out->count, part[i].items,
				    part[i].count * sizeof(*out->items));
			out->count += part[i].count;
		}
	}
	free(part[0].items);
	free(part[1].items);
	return rc;
}

enum rc
mass_explain(struct store *st, int64_t prep_id, int64_t batch_id, grams gap,
    const char *reason, const struct moment *at, struct err *err)
{
	struct stmt q;
	enum rc rc;

	assert((prep_id == 0) != (batch_id == 0));
	rc = stmt_open(&q, st,
	    "INSERT INTO explained (prep_id, batch_id, weight_g, reason,"
	    " at_utc, offset_min, by) VALUES (:prep, :batch, :gap, :reason,"
	    " :at, :offset, :by)",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_id(&q, ":prep", prep_id);
	bind_id(&q, ":batch", batch_id);
	bind_int(&q, ":gap", gap);
	bind_text(&q, ":reason", reason);
	bind_int(&q, ":at", at->utc);
	bind_int(&q, ":offset", at->offset_min);
	bind_text(&q, ":by", at->by);
	return stmt_run(&q, err);
}
