/* people.c - who works here, and the hash of their PIN. */
#include "store/people.h"

#include <stdlib.h>
#include <string.h>

#include "stmt.h"

#define PERSON_COLUMNS                                                         \
	"SELECT id, initials, name, chef, active, pin_hash IS NOT NULL,"       \
	" wrong, untold, tried_ms FROM person "

static enum rc
read_person(void *item, const struct stmt *q, struct err *err)
{
	struct person *p = item;

	(void)err;
	p->id = col_int(q, 0);
	col_text(p->initials, sizeof(p->initials), q, 1);
	col_text(p->name, sizeof(p->name), q, 2);
	p->chef = col_int(q, 3) != 0;
	p->active = col_int(q, 4) != 0;
	p->has_pin = col_int(q, 5) != 0;
	p->wrong = col_int(q, 6);
	p->untold = col_int(q, 7);
	p->tried_ms = col_int(q, 8);
	return RC_OK;
}

enum rc
person_list_open(struct person_list *out, struct store *st, bool all,
    int64_t skip, int64_t most, struct err *err)
{
	struct stmt q;
	void *rows;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	rc = stmt_open(&q, st,
	    all ? PERSON_COLUMNS SCAN_OK
		"ORDER BY active DESC, works DESC LIMIT :most OFFSET :skip"
		: PERSON_COLUMNS
		"WHERE active = 1 ORDER BY works DESC LIMIT :most OFFSET :skip",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":most", most);
	bind_int(&q, ":skip", skip);
	rc = stmt_rows(
	    &rows, &out->count, sizeof(*out->items), &q, read_person, err);
	out->items = rows;
	return rc;
}

void
person_list_fini(struct person_list *l)
{
	free(l->items);
	memset(l, 0, sizeof(*l));
}

enum rc
person_get(
    struct person *out, struct store *st, const char *initials, struct err *err)
{
	struct stmt q;
	enum rc rc;

	rc = stmt_open(&q, st,
	    PERSON_COLUMNS "WHERE lower(initials) = lower(:initials)", err);
	if (rc != RC_OK)
		return rc;
	bind_text(&q, ":initials", initials);
	rc = stmt_step(&q, err);
	if (rc == RC_OK)
		rc = read_person(out, &q, err);
	stmt_close(&q);
	if (rc == RC_END)
		return err_set(err, RC_NOTFOUND, 0,
		    "nobody here has the initials \"%.15s\"", initials);
	return rc;
}

enum rc
person_add(struct store *st, struct person *p, struct err *err)
{
	struct stmt q;
	enum rc rc;

	rc = stmt_open(&q, st,
	    "INSERT INTO person (initials, name, chef, active, works)"
	    " VALUES (:initials, :name, :chef, :active,"
	    " (SELECT coalesce(max(works), 0) + 1 FROM person))",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_text(&q, ":initials", p->initials);
	bind_text(&q, ":name", p->name);
	bind_int(&q, ":chef", p->chef);
	bind_int(&q, ":active", p->active);
	if ((rc = stmt_run(&q, err)) == RC_OK)
		p->id = last_id(st);
	return rc;
}

enum rc
person_put(struct store *st, const struct person *p, struct err *err)
{
	struct stmt q;
	enum rc rc;

	rc = stmt_open(&q, st,
	    "UPDATE person SET name = :name, chef = :chef, active = :active"
	    " WHERE id = :id",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_text(&q, ":name", p->name);
	bind_int(&q, ":chef", p->chef);
	bind_int(&q, ":active", p->active);
	bind_int(&q, ":id", p->id);
	return stmt_run(&q, err);
}

enum rc
person_tries(struct store *st, const struct person *p, struct err *err)
{
	struct stmt q;
	enum rc rc;

	rc = stmt_open(&q, st,
	    "UPDATE person SET wrong = :wrong, untold = :untold,"
	    " tried_ms = :tried WHERE id = :id",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":wrong", p->wrong);
	bind_int(&q, ":untold", p->untold);
	bind_int(&q, ":tried", p->tried_ms);
	bind_int(&q, ":id", p->id);
	return stmt_run(&q, err);
}

enum rc
person_works(struct store *st, int64_t id, struct err *err)
{
	struct stmt q;
	enum rc rc;

	rc = stmt_open(&q, st,
	    "UPDATE person SET works = (SELECT max(works) + 1 FROM "
	    "person) WHERE id = :id",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":id", id);
	return stmt_run(&q, err);
}

enum rc
person_hash(
    char out[SECRET_HASH_SIZE], struct store *st, int64_t id, struct err *err)
{
	struct stmt q;
	enum rc rc;

	rc = stmt_open(&q, st,
	    "SELECT pin_hash FROM person WHERE id = :id"
	    " AND pin_hash IS NOT NULL",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":id", id);
	if ((rc = stmt_step(&q, err)) == RC_OK)
		col_text(out, SECRET_HASH_SIZE, &q, 0);
	stmt_close(&q);
	return rc == RC_END ? err_set(err, RC_NOTFOUND, 0, "no PIN is set")
			    : rc;
}

enum rc
person_hash_put(struct store *st, int64_t id, const char *hash, struct err *err)
{
	struct stmt q;
	enum rc rc;

	rc = stmt_open(&q, st,
	    "UPDATE person SET pin_hash = :hash, wrong = 0 WHERE id = :id",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_text(&q, ":hash", hash);
	bind_int(&q, ":id", id);
	return stmt_run(&q, err);
}

enum rc
person_chefs(int64_t *out, struct store *st, struct err *err)
{
	struct stmt q;
	enum rc rc;

	rc = stmt_open(&q, st,
	    "SELECT count(*) FROM person WHERE active = 1 AND chef = 1"
	    " AND pin_hash IS NOT NULL",
	    err);
	if (rc != RC_OK)
		return rc;
	if ((rc = stmt_step(&q, err)) == RC_OK)
		*out = col_int(&q, 0);
	stmt_close(&q);
	return rc;
}
