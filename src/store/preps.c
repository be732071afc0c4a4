/* preps.c - breakdowns: what went in, what came out. */
#include "store/preps.h"

#include <stdlib.h>
#include <string.h>

#include "base/day.h"
#include "base/str.h"
#include "stmt.h"

static const char *const loss_words[LOSS_COUNT] = {
	[LOSS_TRIM] = "trim",
	[LOSS_FRAMES] = "frames",
	[LOSS_WASTE] = "waste",
};

const char *
loss_word(enum loss_kind k)
{
	return loss_words[k];
}

enum rc
prep_input_insert(struct store *st, int64_t prep_id, int64_t batch_id,
    int64_t fish, grams weight, struct err *err)
{
	struct stmt q;
	enum rc rc;

	rc = stmt_open(&q, st,
	    "INSERT INTO prep_input (prep_id, batch_id, fish, weight_g)"
	    " VALUES (:prep, :batch, :fish, :weight)",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":prep", prep_id);
	bind_int(&q, ":batch", batch_id);
	bind_int(&q, ":fish", fish);
	bind_int(&q, ":weight", weight);
	return stmt_run(&q, err);
}

static enum rc
insert_losses(struct store *st, const struct prep *p, struct err *err)
{
	struct stmt q;
	enum rc rc;
	int i;

	for (i = 0; i < LOSS_COUNT; i++) {
		rc = stmt_open(&q, st,
		    "INSERT INTO prep_loss (prep_id, kind, weight_g)"
		    " VALUES (:prep, :kind, :weight)",
		    err);
		if (rc != RC_OK)
			return rc;
		bind_int(&q, ":prep", p->id);
		bind_text(&q, ":kind", loss_words[i]);
		bind_int(&q, ":weight", p->loss_g[i]);
		if ((rc = stmt_run(&q, err)) != RC_OK)
			return rc;
	}
	return RC_OK;
}

enum rc
prep_insert(struct store *st, struct prep *p, struct err *err)
{
	struct stmt q;
	enum rc rc;

	rc = stmt_open(&q, st,
	    "INSERT INTO prep (at_utc, offset_min, by, note)"
	    " VALUES (:at, :offset, :by, :note)",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":at", p->at.utc);
	bind_int(&q, ":offset", p->at.offset_min);
	bind_text(&q, ":by", p->at.by);
	bind_text(&q, ":note", p->note);
	if ((rc = stmt_run(&q, err)) != RC_OK)
		return rc;
	p->id = last_id(st);
	rc = prep_input_insert(st, p->id, p->batch_id, p->fish, p->in_g, err);
	if (rc != RC_OK)
		return rc;
	return insert_losses(st, p, err);
}

enum rc
prep_output_insert(int64_t *id, struct store *st, int64_t prep_id,
    int64_t cut_id, int64_t portions, grams weight, struct err *err)
{
	struct stmt q;
	enum rc rc;

	rc = stmt_open(&q, st,
	    "INSERT INTO prep_output (prep_id, cut_id, portions, weight_g)"
	    " VALUES (:prep, :cut, :portions, :weight)",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":prep", prep_id);
	bind_int(&q, ":cut", cut_id);
	bind_int(&q, ":portions", portions);
	bind_int(&q, ":weight", weight);
	if ((rc = stmt_run(&q, err)) == RC_OK)
		*id = last_id(st);
	return rc;
}

static enum rc
read_prep(void *item, const struct stmt *q, struct err *err)
{
	struct prep *p = item;

	(void)err;
	memset(p, 0, sizeof(*p));
	p->id = col_int(q, 0);
	p->at.utc = col_int(q, 1);
	p->at.offset_min = (int)col_int(q, 2);
	col_text(p->at.by, sizeof(p->at.by), q, 3);
	col_text(p->note, sizeof(p->note), q, 4);
	p->batch_id = col_int(q, 5);
	col_text(p->batch, sizeof(p->batch), q, 6);
	p->fish = col_int(q, 7);
	p->in_g = col_int(q, 8);
	p->loss_g[LOSS_TRIM] = col_int(q, 9);
	p->loss_g[LOSS_FRAMES] = col_int(q, 10);
	p->loss_g[LOSS_WASTE] = col_int(q, 11);
	p->portions_g = col_int(q, 12);
	p->portions = col_int(q, 13);
	col_text(p->species, sizeof(p->species), q, 14);
	p->struck_at.utc = col_int(q, 15);
	p->struck = p->struck_at.utc != 0;
	p->struck_at.offset_min = (int)col_int(q, 16);
	col_text(p->struck_at.by, sizeof(p->struck_at.by), q, 17);
	col_text(p->struck_reason, sizeof(p->struck_reason), q, 18);
	p->all_g = col_int(q, 19);
	p->all_fish = col_int(q, 20);
	col_codes(p->also, sizeof(p->also), q, 21);
	return RC_OK;
}

#define PREP_COLUMNS                                                           \
	"SELECT p.id, p.at_utc, p.offset_min, p.by, p.note, i.batch_id,"       \
	" b.code, i.fish, i.weight_g,"                                         \
	" coalesce((SELECT weight_g FROM prep_loss l"                          \
	"  WHERE l.prep_id = p.id AND l.kind = 'trim'), 0),"                   \
	" coalesce((SELECT weight_g FROM prep_loss l"                          \
	"  WHERE l.prep_id = p.id AND l.kind = 'frames'), 0),"                 \
	" coalesce((SELECT weight_g FROM prep_loss l"                          \
	"  WHERE l.prep_id = p.id AND l.kind = 'waste'), 0),"                  \
	" coalesce((SELECT sum(o.weight_g) FROM prep_output o"                 \
	"  WHERE o.prep_id = p.id), 0),"                                       \
	" coalesce((SELECT sum(o.portions) FROM prep_output o"                 \
	"  WHERE o.prep_id = p.id), 0), b.species,"                            \
	" k.at_utc, k.offset_min, k.by, k.reason,"                             \
	" (SELECT sum(a.weight_g) FROM prep_input a"                           \
	"  WHERE a.prep_id = p.id),"                                           \
	" (SELECT sum(a.fish) FROM prep_input a WHERE a.prep_id = p.id),"      \
	" (SELECT group_concat(y.code) FROM prep_input a"                      \
	"  CROSS JOIN batch y ON y.id = a.batch_id"                            \
	"  WHERE a.prep_id = p.id AND a.id <> i.id) "

#define OF_BATCH                                                               \
	"FROM prep_input i JOIN prep p ON p.id = i.prep_id"                    \
	" JOIN batch b ON b.id = i.batch_id"                                   \
	" LEFT JOIN prep_struck k ON k.prep_id = p.id"                         \
	" WHERE i.batch_id = :batch"
#define OF_TIME                                                                \
	"FROM prep p CROSS JOIN prep_input i ON i.id ="                        \
	"  (SELECT min(f.id) FROM prep_input f WHERE f.prep_id = p.id)"        \
	" JOIN batch b ON b.id = i.batch_id"                                   \
	" LEFT JOIN prep_struck k ON k.prep_id = p.id"                         \
	" WHERE p.at_utc >= :from AND p.at_utc < :to"
/* A tray that was put together rests on the breakdowns of all its units. */
#define OF_UNIT                                                                \
	"FROM prep p CROSS JOIN prep_input i ON i.id ="                        \
	"  (SELECT min(f.id) FROM prep_input f WHERE f.prep_id = p.id)"        \
	" JOIN batch b ON b.id = i.batch_id"                                   \
	" LEFT JOIN prep_struck k ON k.prep_id = p.id"                         \
	" WHERE p.id IN (SELECT o.prep_id FROM portion u"                      \
	"  CROSS JOIN prep_output o ON o.id = u.prep_output_id"                \
	"  WHERE u.id = :portion"                                              \
	"  UNION SELECT r.prep_id FROM portion_prep r"                         \
	"  WHERE r.portion_id = :portion)"
#define STRUCK " AND k.prep_id IS NOT NULL"
#define NOT_STRUCK " AND k.prep_id IS NULL"

/* Collect every row of an open statement, and close it. */
static enum rc
read_all(struct prep_list *out, struct stmt *q, struct err *err)
{
	void *rows;
	enum rc rc;

	rc = stmt_rows(
	    &rows, &out->count, sizeof(*out->items), q, read_prep, err);
	out->items = rows;
	return rc;
}

static enum rc
list_batch(struct prep_list *out, struct store *st, const char *sql,
    int64_t batch_id, struct err *err)
{
	struct stmt q;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	if ((rc = stmt_open(&q, st, sql, err)) != RC_OK)
		return rc;
	bind_int(&q, ":batch", batch_id);
	return read_all(out, &q, err);
}

enum rc
prep_list_open(
    struct prep_list *out, struct store *st, int64_t batch_id, struct err *err)
{
	return list_batch(out, st,
	    PREP_COLUMNS OF_BATCH NOT_STRUCK " ORDER BY p.id" SORT_OK, batch_id,
	    err);
}

enum rc
prep_list_struck(
    struct prep_list *out, struct store *st, int64_t batch_id, struct err *err)
{
	return list_batch(out, st,
	    PREP_COLUMNS OF_BATCH STRUCK " ORDER BY p.id" SORT_OK, batch_id,
	    err);
}

static enum rc
list_between(struct prep_list *out, struct store *st, const char *sql,
    int64_t from_utc, int64_t to_utc, struct err *err)
{
	struct stmt q;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	if ((rc = stmt_open(&q, st, sql, err)) != RC_OK)
		return rc;
	bind_int(&q, ":from", from_utc);
	bind_int(&q, ":to", to_utc);
	return read_all(out, &q, err);
}

enum rc
prep_list_between(struct prep_list *out, struct store *st, int64_t from_utc,
    int64_t to_utc, struct err *err)
{
	return list_between(out, st,
	    PREP_COLUMNS OF_TIME NOT_STRUCK " ORDER BY p.at_utc, p.id",
	    from_utc, to_utc, err);
}

enum rc
prep_list_struck_between(struct prep_list *out, struct store *st,
    int64_t from_utc, int64_t to_utc, struct err *err)
{
	return list_between(out, st,
	    PREP_COLUMNS OF_TIME STRUCK " ORDER BY p.at_utc, p.id", from_utc,
	    to_utc, err);
}

enum rc
prep_list_unit(struct prep_list *out, struct store *st, int64_t portion_id,
    struct err *err)
{
	struct stmt q;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	rc = stmt_open(
	    &q, st, PREP_COLUMNS OF_UNIT " ORDER BY p.id" SORT_OK, err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":portion", portion_id);
	return read_all(out, &q, err);
}

void
prep_list_fini(struct prep_list *l)
{
	free(l->items);
	memset(l, 0, sizeof(*l));
}

static enum rc
read_input(void *item, const struct stmt *q, struct err *err)
{
	struct prep_input *i = item;

	(void)err;
	memset(i, 0, sizeof(*i));
	i->batch_id = col_int(q, 0);
	col_text(i->batch, sizeof(i->batch), q, 1);
	i->fish = col_int(q, 2);
	i->weight_g = col_int(q, 3);
	return RC_OK;
}

enum rc
prep_inputs_open(struct prep_input_list *out, struct store *st, int64_t prep_id,
    struct err *err)
{
	struct stmt q;
	void *rows;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	rc = stmt_open(&q, st,
	    "SELECT i.batch_id, b.code, i.fish, i.weight_g FROM prep_input i"
	    " JOIN batch b ON b.id = i.batch_id WHERE i.prep_id = :prep"
	    " ORDER BY i.id",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":prep", prep_id);
	rc = stmt_rows(
	    &rows, &out->count, sizeof(*out->items), &q, read_input, err);
	out->items = rows;
	return rc;
}

void
prep_inputs_fini(struct prep_input_list *l)
{
	free(l->items);
	memset(l, 0, sizeof(*l));
}

enum rc
prep_of_moment(int64_t *id, struct store *st, int64_t batch_id,
    const struct moment *at, struct err *err)
{
	struct stmt q;
	enum rc rc;

	rc = stmt_open(&q, st,
	    "SELECT p.id " OF_BATCH
	    " AND p.at_utc = :at AND p.by = :by" NOT_STRUCK
	    " ORDER BY p.id DESC LIMIT 1" SORT_OK,
	    err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":batch", batch_id);
	bind_int(&q, ":at", at->utc);
	bind_text(&q, ":by", at->by);
	if ((rc = stmt_step(&q, err)) == RC_OK)
		*id = col_int(&q, 0);
	stmt_close(&q);
	return rc == RC_END ? RC_NOTFOUND : rc;
}

enum rc
prep_closed(
    char service[48], struct store *st, int64_t prep_id, struct err *err)
{
	char day[16], name[24];
	struct stmt q;
	enum rc rc;

	rc = stmt_open(&q, st,
	    "SELECT s.day, s.name FROM work_mark m"
	    " JOIN closed c ON c.service_id = m.service_id"
	    " JOIN service s ON s.id = m.service_id"
	    " WHERE m.prep_id = :prep LIMIT 1",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":prep", prep_id);
	if ((rc = stmt_step(&q, err)) == RC_OK) {
		col_text(name, sizeof(name), &q, 1);
		str_fmt(service, 48, "%s/%s",
		    day_print(day, sizeof(day), col_day(&q, 0)), name);
	}
	stmt_close(&q);
	return rc == RC_END ? RC_NOTFOUND : rc;
}

enum rc
prep_strike(struct store *st, int64_t prep_id, const char *reason,
    const struct moment *at, struct err *err)
{
	struct stmt q;
	enum rc rc;

	rc = stmt_open(&q, st,
	    "INSERT INTO prep_struck (prep_id, reason, at_utc, offset_min, by)"
	    " VALUES (:prep, :reason, :at, :offset, :by)",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":prep", prep_id);
	bind_text(&q, ":reason", reason);
	bind_int(&q, ":at", at->utc);
	bind_int(&q, ":offset", at->offset_min);
	bind_text(&q, ":by", at->by);
	return stmt_run(&q, err);
}

enum rc
prep_fish_back(
    char *list, size_t size, struct store *st, int64_t prep_id, struct err *err)
{
	struct stmt q;
	enum rc rc;

	rc = stmt_open(&q, st,
	    "SELECT coalesce(group_concat(f.number), '') FROM (SELECT number"
	    " FROM prep_input i JOIN batch_fish f ON f.batch_id = i.batch_id"
	    " WHERE i.prep_id = :prep AND f.prep_id = :prep"
	    " ORDER BY f.number) f" SCAN_OK,
	    err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":prep", prep_id);
	if ((rc = stmt_step(&q, err)) == RC_OK)
		str_fmt(list, size, "%s",
		    (const char *)sqlite3_column_text(q.s, 0));
	stmt_close(&q);
	if (rc != RC_OK)
		return rc;
	rc = stmt_open(&q, st,
	    "UPDATE batch_fish SET prep_id = NULL WHERE prep_id = :prep AND"
	    " batch_id IN (SELECT batch_id FROM prep_input"
	    "  WHERE prep_id = :prep)",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":prep", prep_id);
	return stmt_run(&q, err);
}
