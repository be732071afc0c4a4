/* records_in.c - bookings and suppliers from CSV files. */
#include "exchange/records_in.h"

#include <inttypes.h>
#include <stdlib.h>
#include <string.h>

#include "base/csv.h"
#include "base/mem.h"
#include "base/str.h"
#include "field.h"

#define COVERS_MAX 5000

int
service_index(const struct service_names *services, const char *name)
{
	int i;

	for (i = 0; i < services->count; i++)
		if (str_eq_nocase(services->names[i], name))
			return i;
	return -1;
}

static enum rc
booking_parties(struct service *s, const struct csv *c, struct err *err)
{
	enum rc rc;

	rc = parties_parse(&s->parties, csv_get(c, "parties"), err);
	if (rc == RC_OK && s->parties.count > 0 &&
	    parties_covers(&s->parties) != s->covers)
		rc = err_set(err, RC_INVALID, 0,
		    "the parties are %" PRId64 " guests, the covers %" PRId64
		    ": make them agree",
		    parties_covers(&s->parties), s->covers);
	return rc == RC_OK ? RC_OK : csv_fail(c, "parties", rc, err);
}

static enum rc
booking_row(struct service *s, const struct csv *c,
    const struct service_names *services, struct err *err)
{
	const char *name = csv_get(c, "service");
	enum rc rc;
	int i;

	rc = day_parse(&s->day, "date", csv_get(c, "date"), err);
	if (rc != RC_OK)
		return csv_fail(c, "date", rc, err);
	i = service_index(services, name);
	if (i < 0) {
		rc = err_set(err, RC_INVALID, 0,
		    "service \"%.24s\" has no [service] section in the "
		    "settings",
		    name);
		return csv_fail(c, "service", rc, err);
	}
	str_copy(s->name, sizeof(s->name), services->names[i]);
	rc = int_parse(
	    &s->covers, "covers", csv_get(c, "covers"), 0, COVERS_MAX, err);
	if (rc != RC_OK)
		return csv_fail(c, "covers", rc, err);
	return booking_parties(s, c, err);
}

static enum rc
booking_twice(const struct service *items, size_t count, const struct csv *c,
    struct err *err)
{
	const struct service *last = &items[count];
	size_t i;

	for (i = 0; i < count; i++)
		if (items[i].day == last->day &&
		    str_eq(items[i].name, last->name))
			return csv_fail(c, "date",
			    err_set(err, RC_INVALID, 0,
				"this date and service stand in the file "
				"twice: add the covers up in one line"),
			    err);
	return RC_OK;
}

enum rc
bookings_parse(struct service **out, size_t *count, const char *name,
    const char *data, size_t len, const struct service_names *services,
    struct err *err)
{
	static const char *const columns[] = {
		"date",
		"service",
		"covers",
		NULL,
	};
	static const char *const optional[] = { "parties", NULL };
	struct service *items = NULL;
	struct csv *c = NULL;
	size_t n = 0, cap = 0;
	enum rc rc;

	*out = NULL;
	*count = 0;
	rc = csv_open(&c, name, data, len, columns, optional, err);
	while (rc == RC_OK && (rc = csv_next(c, err)) == RC_OK) {
		items = grow(items, &cap, n, sizeof(*items));
		memset(&items[n], 0, sizeof(*items));
		if ((rc = booking_row(&items[n], c, services, err)) != RC_OK ||
		    (rc = booking_twice(items, n, c, err)) != RC_OK)
			break;
		n++;
	}
	csv_close(c);
	if (rc != RC_END) {
		free(items);
		return rc;
	}
	*out = items;
	*count = n;
	return RC_OK;
}

static enum rc
supplier_row(struct supplier *s, const struct csv *c, struct err *err)
{
	enum rc rc;

	if ((rc = csv_text(s->code, sizeof(s->code), c, "code", false, err)) !=
		RC_OK ||
	    (rc = csv_text(s->name, sizeof(s->name), c, "name", false, err)) !=
		RC_OK ||
	    (rc = csv_text(s->address, sizeof(s->address), c, "address", false,
		 err)) != RC_OK ||
	    (rc = csv_text(s->approval, sizeof(s->approval), c, "approval",
		 true, err)) != RC_OK)
		return rc;
	return csv_text(
	    s->contact, sizeof(s->contact), c, "contact", true, err);
}

enum rc
suppliers_parse(struct supplier **out, size_t *count, const char *name,
    const char *data, size_t len, struct err *err)
{
	static const char *const columns[] = {
		"code",
		"name",
		"address",
		NULL,
	};
	static const char *const optional[] = {
		"approval",
		"contact",
		NULL,
	};
	struct supplier *items = NULL;
	struct csv *c = NULL;
	size_t n = 0, cap = 0, i;
	enum rc rc;

	*out = NULL;
	*count = 0;
	rc = csv_open(&c, name, data, len, columns, optional, err);
	while (rc == RC_OK && (rc = csv_next(c, err)) == RC_OK) {
		items = grow(items, &cap, n, sizeof(*items));
		memset(&items[n], 0, sizeof(*items));
		if ((rc = supplier_row(&items[n], c, err)) != RC_OK)
			break;
		for (i = 0; i < n && rc == RC_OK; i++)
			if (str_eq_nocase(items[i].code, items[n].code))
				rc = csv_fail(c, "code",
				    err_set(err, RC_INVALID, 0,
					"code %s stands in the file twice",
					items[n].code),
				    err);
		if (rc != RC_OK)
			break;
		n++;
	}
	csv_close(c);
	if (rc != RC_END) {
		free(items);
		return rc;
	}
	*out = items;
	*count = n;
	return RC_OK;
}
