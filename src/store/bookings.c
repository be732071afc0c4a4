/* bookings.c - dated services and their booked covers. */
#include "store/bookings.h"

#include <stdlib.h>
#include <string.h>

#include "base/str.h"
#include "stmt.h"
#include "used.h"

#define SERVICE_COLUMNS                                                        \
	"SELECT id, day, name, covers, coalesce(expected, -1), parties"        \
	" FROM service "

enum rc
service_put(enum change *out, struct store *st, const struct service *s,
    struct err *err)
{
	char parties[PARTIES_TEXT_SIZE], was[PARTIES_TEXT_SIZE];
	struct service old;
	struct stmt q;
	enum rc rc;

	parties_print(parties, sizeof(parties), &s->parties);
	rc = service_get(&old, st, s->day, s->name, NULL);
	if (rc == RC_OK && old.covers == s->covers &&
	    str_eq(parties, parties_print(was, sizeof(was), &old.parties))) {
		*out = CHANGE_NONE;
		return RC_OK;
	}
	*out = rc == RC_OK ? CHANGE_CHANGED : CHANGE_ADDED;
	rc = stmt_open(&q, st,
	    "INSERT INTO service (day, name, covers, parties)"
	    " VALUES (:day, :name, :covers, :parties)"
	    " ON CONFLICT (day, name) DO UPDATE SET covers = :covers,"
	    " parties = :parties",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":day", s->day);
	bind_text(&q, ":name", s->name);
	bind_int(&q, ":covers", s->covers);
	bind_text(&q, ":parties", parties);
	return stmt_run(&q, err);
}

static enum rc
read_service(void *item, const struct stmt *q, struct err *err)
{
	struct service *s = item;
	char parties[PARTIES_TEXT_SIZE];

	s->id = col_int(q, 0);
	s->day = col_day(q, 1);
	col_text(s->name, sizeof(s->name), q, 2);
	s->covers = col_int(q, 3);
	s->expected = col_int(q, 4);
	col_text(parties, sizeof(parties), q, 5);
	return parties_parse(&s->parties, parties, err);
}

enum rc
service_get(struct service *out, struct store *st, day_no day, const char *name,
    struct err *err)
{
	char text[16];
	struct stmt q;
	enum rc rc;

	rc = stmt_open(
	    &q, st, SERVICE_COLUMNS "WHERE day = :day AND name = :name", err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":day", day);
	bind_text(&q, ":name", name);
	rc = stmt_step(&q, err);
	if (rc == RC_OK)
		rc = read_service(out, &q, err);
	stmt_close(&q);
	if (rc == RC_END)
		return err_set(err, RC_NOTFOUND, 0,
		    "no bookings for %s/%s: import them with pinbone import "
		    "bookings",
		    day_print(text, sizeof(text), day), name);
	return rc;
}

enum rc
service_list_open(struct service_list *out, struct store *st, day_no from,
    day_no to, struct err *err)
{
	struct stmt q;
	void *rows;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	rc = stmt_open(&q, st,
	    SERVICE_COLUMNS
	    "WHERE day BETWEEN :from AND :to ORDER BY day, name",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":from", from);
	bind_int(&q, ":to", to);
	rc = stmt_rows(
	    &rows, &out->count, sizeof(*out->items), &q, read_service, err);
	out->items = rows;
	return rc;
}

void
service_list_fini(struct service_list *l)
{
	free(l->items);
	memset(l, 0, sizeof(*l));
}

enum rc
service_used(int64_t *out, struct store *st, int64_t service_id,
    const char *dish, const char *species, struct err *err)
{
	struct stmt q;
	enum rc rc;

	rc = stmt_open(&q, st,
	    "SELECT coalesce(sum(" USED_SIGNED
	    "), 0) FROM portion_event e"
	    " JOIN portion p ON p.id = e.portion_id"
	    " JOIN cut c ON c.id = p.cut_id JOIN dish d ON d.id = c.dish_id"
	    " WHERE e.service_id = :service AND " USED_OR_BACK
	    " AND d.code = :dish AND c.species = :species",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":service", service_id);
	bind_text(&q, ":dish", dish);
	bind_text(&q, ":species", species);
	if ((rc = stmt_step(&q, err)) == RC_OK)
		*out = col_int(&q, 0);
	stmt_close(&q);
	return rc;
}
