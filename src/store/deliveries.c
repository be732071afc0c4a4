/* deliveries.c - suppliers and deliveries. */
#include "store/deliveries.h"

#include <stdlib.h>
#include <string.h>

#include "base/str.h"
#include "stmt.h"

static void
read_supplier(struct supplier *s, const struct stmt *q)
{
	s->id = col_int(q, 0);
	col_text(s->code, sizeof(s->code), q, 1);
	col_text(s->name, sizeof(s->name), q, 2);
	col_text(s->address, sizeof(s->address), q, 3);
	col_text(s->approval, sizeof(s->approval), q, 4);
	col_text(s->contact, sizeof(s->contact), q, 5);
}

/* Suppliers are few; lower() of a name has no index and needs none. */
enum rc
supplier_find(struct supplier *out, struct store *st, const char *code_or_name,
    struct err *err)
{
	struct stmt q;
	enum rc rc;

	rc = stmt_open(&q, st,
	    "SELECT id, code, name, address, approval, contact FROM "
	    "supplier" SCAN_OK
	    "WHERE lower(code) = lower(:text) OR lower(name) = lower(:text)"
	    " ORDER BY lower(code) <> lower(:text), code LIMIT 1",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_text(&q, ":text", code_or_name);
	rc = stmt_step(&q, err);
	if (rc == RC_OK)
		read_supplier(out, &q);
	stmt_close(&q);
	if (rc == RC_END)
		return err_set(err, RC_NOTFOUND, 0,
		    "supplier \"%.60s\" is not known: import it first with "
		    "pinbone import suppliers",
		    code_or_name);
	return rc;
}

static enum rc
read_item(void *item, const struct stmt *q, struct err *err)
{
	(void)err;
	read_supplier(item, q);
	return RC_OK;
}

enum rc
supplier_list(
    struct supplier_list *out, struct store *st, size_t most, struct err *err)
{
	struct stmt q;
	void *rows;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	/* As many as are asked for, in the order of the index. */
	rc = stmt_open(&q, st,
	    "SELECT id, code, name, address, approval, contact FROM "
	    "supplier" SCAN_OK "ORDER BY lower(code) LIMIT :most",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":most", (int64_t)most);
	rc = stmt_rows(
	    &rows, &out->count, sizeof(*out->items), &q, read_item, err);
	out->items = rows;
	return rc;
}

void
supplier_list_fini(struct supplier_list *l)
{
	free(l->items);
	memset(l, 0, sizeof(*l));
}

static enum rc
supplier_write(struct store *st, const char *sql, const struct supplier *s,
    struct err *err)
{
	struct stmt q;
	enum rc rc;

	if ((rc = stmt_open(&q, st, sql, err)) != RC_OK)
		return rc;
	bind_text(&q, ":code", s->code);
	bind_text(&q, ":name", s->name);
	bind_text(&q, ":address", s->address);
	bind_text(&q, ":approval", s->approval);
	bind_text(&q, ":contact", s->contact);
	return stmt_run(&q, err);
}

enum rc
supplier_put(enum change *out, struct store *st, const struct supplier *s,
    struct err *err)
{
	struct supplier old;
	enum rc rc;

	rc = supplier_find(&old, st, s->code, NULL);
	if (rc != RC_OK && rc != RC_NOTFOUND)
		return supplier_find(&old, st, s->code, err);
	if (rc == RC_NOTFOUND || !str_eq_nocase(old.code, s->code)) {
		*out = CHANGE_ADDED;
		return supplier_write(st,
		    "INSERT INTO supplier (code, name, address, approval,"
		    " contact) VALUES (:code, :name, :address, :approval,"
		    " :contact)",
		    s, err);
	}
	*out = CHANGE_NONE;
	if (str_eq(old.name, s->name) && str_eq(old.address, s->address) &&
	    str_eq(old.approval, s->approval) &&
	    str_eq(old.contact, s->contact))
		return RC_OK;
	*out = CHANGE_CHANGED;
	return supplier_write(st,
	    "UPDATE supplier SET name = :name, address = :address,"
	    " approval = :approval, contact = :contact"
	    " WHERE lower(code) = lower(:code)",
	    s, err);
}

enum rc
delivery_put(int64_t *id, struct store *st, int64_t supplier_id,
    const char *document, day_no day, struct err *err)
{
	struct stmt q;
	enum rc rc;

	rc = stmt_open(&q, st,
	    "SELECT id FROM delivery WHERE supplier_id = :supplier"
	    " AND document = :document AND day = :day",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":supplier", supplier_id);
	bind_text(&q, ":document", document);
	bind_int(&q, ":day", day);
	rc = stmt_step(&q, err);
	if (rc == RC_OK)
		*id = col_int(&q, 0);
	stmt_close(&q);
	if (rc != RC_END)
		return rc;
	rc = stmt_open(&q, st,
	    "INSERT INTO delivery (supplier_id, document, day)"
	    " VALUES (:supplier, :document, :day)",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":supplier", supplier_id);
	bind_text(&q, ":document", document);
	bind_int(&q, ":day", day);
	if ((rc = stmt_run(&q, err)) == RC_OK)
		*id = last_id(st);
	return rc;
}
