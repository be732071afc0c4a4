/* sales_in.c - what was sold, from a CSV file. */
#include "exchange/sales_in.h"

#include <inttypes.h>
#include <stdlib.h>
#include <string.h>

#include "base/csv.h"
#include "base/mem.h"
#include "base/str.h"
#include "field.h"

#define SERVICES_A_DAY 8

struct reader {
	struct sales_file file;
	struct csv *csv;
	const struct service_names *names;
	const struct dish_sold_list *dishes;
	size_t service_cap, row_cap;
	int *place; /* of (day, service) in file.services, from 1; 0 not yet */
};

enum rc
ran_out_parse(int64_t *out, const char *text, struct err *err)
{
	*out = SOLD_ON;
	if (text[0] == '\0')
		return RC_OK;
	*out = RAN_OUT_SOME_TIME;
	if (str_eq_nocase(text, "out"))
		return RC_OK;
	if (int_parse(out, "covers", text, 0, SALES_MAX, NULL) == RC_OK)
		return RC_OK;
	return err_set(err, RC_INVALID, 0,
	    "\"%.20s\": a dish that ran out says at how many covers, or out "
	    "when nobody noted it",
	    text);
}

/* The service of this record, added when the file has not spoken of it. */
static enum rc
which_service(struct sales_service **out, struct reader *r, struct err *err)
{
	const char *name = csv_get(r->csv, "service");
	struct sales_file *f = &r->file;
	day_no day;
	int service, *at;
	enum rc rc;

	rc = day_parse(&day, "date", csv_get(r->csv, "date"), err);
	if (rc != RC_OK)
		return csv_fail(r->csv, "date", rc, err);
	service = service_index(r->names, name);
	if (service < 0)
		return csv_fail(r->csv, "service",
		    err_set(err, RC_INVALID, 0,
			"service \"%.24s\" has no [service] section in the "
			"settings",
			name),
		    err);
	at = &r->place[(day - DAY_MIN) * SERVICES_A_DAY + service];
	if (*at == 0) {
		f->services = grow(f->services, &r->service_cap,
		    f->service_count, sizeof(*f->services));
		f->services[f->service_count++] = (struct sales_service){
			.day = day,
			.service = service,
			.line = csv_line(r->csv),
			.seated = -1,
			.walk_ins = -1,
			.first = -1,
			.last = -1,
		};
		*at = (int)f->service_count;
	}
	*out = &f->services[*at - 1];
	return RC_OK;
}

/* Guests of the whole service: both numbers, and the same on every line. */
static enum rc
guests(struct sales_service *s, const struct csv *c, struct err *err)
{
	static const char *const columns[] = { "seated", "walk_ins" };
	int64_t *const fields[] = { &s->seated, &s->walk_ins };
	const char *text;
	int64_t n = 0;
	enum rc rc;
	int i;

	if (csv_get(c, columns[0])[0] == '\0' &&
	    csv_get(c, columns[1])[0] == '\0')
		return RC_OK;
	for (i = 0; i < 2; i++) {
		text = csv_get(c, columns[i]);
		if (text[0] == '\0')
			rc = err_set(err, RC_INVALID, 0,
			    "seated and walk_ins go together: %s is missing",
			    columns[i]);
		else
			rc = int_parse(&n, columns[i], text, 0, SALES_MAX, err);
		if (rc == RC_OK && *fields[i] >= 0 && *fields[i] != n)
			rc = err_set(err, RC_INVALID, 0,
			    "%s is %" PRId64 " here and %" PRId64
			    " above for the same service",
			    columns[i], n, *fields[i]);
		if (rc != RC_OK)
			return csv_fail(c, columns[i], rc, err);
		*fields[i] = n;
	}
	return RC_OK;
}

static enum rc
which_dish(int64_t *out, const struct reader *r, const struct sales_service *s,
    struct err *err)
{
	const char *code = csv_get(r->csv, "dish");
	const struct dish_sold *d = dish_sold_find(r->dishes, code);
	int i;

	if (d == NULL)
		return csv_fail(r->csv, "dish",
		    err_set(err, RC_INVALID, 0,
			"dish \"%.40s\" was never on the menu", code),
		    err);
	for (i = s->first; i >= 0; i = r->file.rows[i].next)
		if (r->file.rows[i].dish_id == d->id)
			return csv_fail(r->csv, "dish",
			    err_set(err, RC_INVALID, 0,
				"dish %s of this service stands in the file "
				"twice: add it up in one line",
				d->code),
			    err);
	if (s->count == SALES_DISHES_MAX)
		return csv_fail(r->csv, "dish",
		    err_set(err, RC_INVALID, 0,
			"more than %d dishes in one service", SALES_DISHES_MAX),
		    err);
	*out = d->id;
	return RC_OK;
}

static enum rc
read_row(struct reader *r, struct err *err)
{
	struct sales_row row = { .line = csv_line(r->csv), .next = -1 };
	struct sales_file *f = &r->file;
	struct sales_service *s = NULL;
	enum rc rc;

	if ((rc = which_service(&s, r, err)) != RC_OK ||
	    (rc = which_dish(&row.dish_id, r, s, err)) != RC_OK)
		return rc;
	rc = int_parse(
	    &row.sold, "sold", csv_get(r->csv, "sold"), 0, SALES_MAX, err);
	if (rc != RC_OK)
		return csv_fail(r->csv, "sold", rc, err);
	rc = ran_out_parse(&row.ran_out_at, csv_get(r->csv, "ran_out_at"), err);
	if (rc != RC_OK)
		return csv_fail(r->csv, "ran_out_at", rc, err);
	if ((rc = guests(s, r->csv, err)) != RC_OK)
		return rc;
	f->rows = grow(f->rows, &r->row_cap, f->row_count, sizeof(*f->rows));
	f->rows[f->row_count] = row;
	if (s->first < 0)
		s->first = (int)f->row_count;
	else
		f->rows[s->last].next = (int)f->row_count;
	s->last = (int)f->row_count++;
	s->count++;
	return RC_OK;
}

enum rc
sales_parse(struct sales_file *out, const char *name, const char *data,
    size_t len, const struct service_names *services,
    const struct dish_sold_list *dishes, struct err *err)
{
	static const char *const columns[] = {
		"date",
		"service",
		"dish",
		"sold",
		NULL,
	};
	static const char *const optional[] = {
		"ran_out_at",
		"seated",
		"walk_ins",
		NULL,
	};
	struct reader r = { .names = services, .dishes = dishes };
	enum rc rc;

	memset(out, 0, sizeof(*out));
	r.place =
	    xcalloc((DAY_MAX - DAY_MIN + 1) * SERVICES_A_DAY, sizeof(*r.place));
	rc = csv_open(&r.csv, name, data, len, columns, optional, err);
	while (rc == RC_OK && (rc = csv_next(r.csv, err)) == RC_OK)
		if ((rc = read_row(&r, err)) != RC_OK)
			break;
	csv_close(r.csv);
	free(r.place);
	if (rc != RC_END) {
		sales_fini(&r.file);
		return rc;
	}
	*out = r.file;
	return RC_OK;
}

void
sales_fini(struct sales_file *f)
{
	free(f->services);
	free(f->rows);
	memset(f, 0, sizeof(*f));
}
