/* sales.c - what came and what was sold, and what the chef typed. */
#include "store/sales.h"

#include <stdlib.h>
#include <string.h>

#include "base/str.h"
#include "stmt.h"
#include "store/audit.h"
#include "used.h"

/* Fill a list from a statement whose parameters are bound. */
#define ROWS(list, q, read, err)                                               \
	do {                                                                   \
		void *rows_;                                                   \
                                                                               \
		rc = stmt_rows(&rows_, &(list)->count, sizeof(*(list)->items), \
		    (q), (read), (err));                                       \
		(list)->items = rows_;                                         \
	} while (0)

/* --- closed services ------------------------------------------------------ */

enum rc
closing_get(
    struct closing *out, struct store *st, int64_t service_id, struct err *err)
{
	struct stmt q;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	rc = stmt_open(&q, st,
	    "SELECT booked, seated, walk_ins, at_utc, offset_min, by"
	    " FROM closed WHERE service_id = :service",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":service", service_id);
	if ((rc = stmt_step(&q, err)) == RC_OK) {
		out->service_id = service_id;
		out->booked = col_int(&q, 0);
		out->seated = col_int(&q, 1);
		out->walk_ins = col_int(&q, 2);
		out->at.utc = col_int(&q, 3);
		out->at.offset_min = (int)col_int(&q, 4);
		col_text(out->at.by, sizeof(out->at.by), &q, 5);
	}
	stmt_close(&q);
	return rc == RC_END
	    ? err_set(err, RC_NOTFOUND, 0, "that service is not closed")
	    : rc;
}

static enum rc
put_closing(struct store *st, const struct closing *c, const char *sql,
    int64_t row, struct err *err)
{
	struct stmt q;
	enum rc rc;

	if ((rc = stmt_open(&q, st, sql, err)) != RC_OK)
		return rc;
	bind_int(&q, ":service", c->service_id);
	bind_int(&q, ":booked", c->booked);
	bind_int(&q, ":seated", c->seated);
	bind_int(&q, ":walk_ins", c->walk_ins);
	bind_int(&q, ":at", c->at.utc);
	bind_int(&q, ":offset", c->at.offset_min);
	bind_text(&q, ":by", c->at.by);
	if (row != 0)
		bind_int(&q, ":row", row);
	return stmt_run(&q, err);
}

enum rc
closing_add(struct store *st, const struct closing *c, struct err *err)
{
	return put_closing(st, c,
	    "INSERT INTO closed (service_id, booked, seated, walk_ins, at_utc,"
	    " offset_min, by) VALUES (:service, :booked, :seated, :walk_ins,"
	    " :at, :offset, :by)",
	    0, err);
}

enum rc
closing_correct(struct store *st, const struct closing *c, struct err *err)
{
	int64_t row = 0;
	enum rc rc;

	if ((rc = audit_last_id(&row, st, err)) != RC_OK)
		return rc;
	return put_closing(st, c,
	    "UPDATE closed SET booked = :booked, seated = :seated,"
	    " walk_ins = :walk_ins, at_utc = :at, offset_min = :offset,"
	    " by = :by, corrected_id = :row WHERE service_id = :service",
	    row, err);
}

static enum rc
put_sale(struct store *st, const struct sale *s, const char *sql, int64_t row,
    struct err *err)
{
	struct stmt q;
	enum rc rc;

	if ((rc = stmt_open(&q, st, sql, err)) != RC_OK)
		return rc;
	bind_int(&q, ":service", s->service_id);
	bind_int(&q, ":dish", s->dish_id);
	bind_int(&q, ":sold", s->sold);
	bind_int(&q, ":ran_out", s->ran_out_at);
	if (row != 0)
		bind_int(&q, ":row", row);
	return stmt_run(&q, err);
}

enum rc
sale_add(struct store *st, const struct sale *s, struct err *err)
{
	return put_sale(st, s,
	    "INSERT INTO sold (service_id, dish_id, sold, ran_out_at)"
	    " VALUES (:service, :dish, :sold, nullif(:ran_out, -1))",
	    0, err);
}

enum rc
sale_correct(struct store *st, const struct sale *s, struct err *err)
{
	int64_t row = 0;
	enum rc rc;

	if ((rc = audit_last_id(&row, st, err)) != RC_OK)
		return rc;
	return put_sale(st, s,
	    "UPDATE sold SET sold = :sold, ran_out_at = nullif(:ran_out, -1),"
	    " corrected_id = :row"
	    " WHERE service_id = :service AND dish_id = :dish",
	    row, err);
}

static enum rc
read_sale(void *item, const struct stmt *q, struct err *err)
{
	struct sale *s = item;

	(void)err;
	memset(s, 0, sizeof(*s));
	s->service_id = col_int(q, 0);
	s->dish_id = col_int(q, 1);
	s->sold = col_int(q, 2);
	s->ran_out_at = col_int(q, 3);
	col_text(s->dish, sizeof(s->dish), q, 4);
	return RC_OK;
}

static enum rc
sales_of(struct sale_list *out, struct store *st, int64_t service_id,
    const char *sql, struct err *err)
{
	struct stmt q;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	if ((rc = stmt_open(&q, st, sql, err)) != RC_OK)
		return rc;
	bind_int(&q, ":service", service_id);
	ROWS(out, &q, read_sale, err);
	return rc;
}

enum rc
sale_list_open(struct sale_list *out, struct store *st, int64_t service_id,
    struct err *err)
{
	return sales_of(out, st, service_id,
	    "SELECT x.service_id, x.dish_id, x.sold,"
	    " coalesce(x.ran_out_at, -1), d.code"
	    " FROM sold x JOIN dish d ON d.id = x.dish_id"
	    " WHERE x.service_id = :service ORDER BY d.code" SORT_OK,
	    err);
}

enum rc
sale_list_used(struct sale_list *out, struct store *st, int64_t service_id,
    struct err *err)
{
	return sales_of(out, st, service_id,
	    "SELECT :service, u.dish_id, max(u.n), -1, d.code FROM"
	    " (SELECT c.dish_id, sum(" USED_SIGNED
	    ") AS n FROM portion_event e"
	    "  JOIN portion p ON p.id = e.portion_id"
	    "  JOIN cut c ON c.id = p.cut_id"
	    "  WHERE e.service_id = :service AND " USED_OR_BACK
	    "  GROUP BY c.dish_id, c.part HAVING n > 0) u" SCAN_OK
	    "JOIN dish d ON d.id = u.dish_id GROUP BY d.id ORDER BY d.code",
	    err);
}

void
sale_list_fini(struct sale_list *l)
{
	free(l->items);
	memset(l, 0, sizeof(*l));
}

/* --- the record to learn from --------------------------------------------- */

static enum rc
read_past(void *item, const struct stmt *q, struct err *err)
{
	struct past_service *p = item;
	char parties[PARTIES_TEXT_SIZE];

	memset(p, 0, sizeof(*p));
	p->id = col_int(q, 0);
	p->day = col_day(q, 1);
	col_text(p->name, sizeof(p->name), q, 2);
	p->booked = col_int(q, 3);
	p->seated = col_int(q, 4);
	p->walk_ins = col_int(q, 5);
	col_text(parties, sizeof(parties), q, 6);
	return parties_parse(&p->parties, parties, err);
}

static enum rc
past_services(struct sales_record *h, struct store *st, day_no from,
    day_no last, int most, struct err *err)
{
	struct stmt q;
	enum rc rc;

	rc = stmt_open(&q, st,
	    "SELECT s.id, s.day, s.name, c.booked, c.seated, c.walk_ins,"
	    " s.parties"
	    " FROM service s CROSS JOIN closed c ON c.service_id = s.id"
	    " WHERE s.day BETWEEN :from AND :last"
	    " ORDER BY s.day DESC, s.name DESC LIMIT :most",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":from", from);
	bind_int(&q, ":last", last);
	bind_int(&q, ":most", most);
	ROWS(h, &q, read_past, err);
	return rc;
}

static enum rc
past_sales(
    struct sales_record *h, struct store *st, day_no last, struct err *err)
{
	struct stmt q;
	void *rows;
	enum rc rc;

	rc = stmt_open(&q, st,
	    "SELECT x.service_id, x.dish_id, x.sold,"
	    " coalesce(x.ran_out_at, -1), ''"
	    " FROM service s CROSS JOIN sold x ON x.service_id = s.id"
	    " WHERE s.day BETWEEN :from AND :last"
	    " ORDER BY s.day DESC, s.name DESC, x.dish_id",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":from", h->items[h->count - 1].day);
	bind_int(&q, ":last", last);
	rc = stmt_rows(
	    &rows, &h->sale_count, sizeof(*h->sales), &q, read_sale, err);
	h->sales = rows;
	return rc;
}

enum rc
sales_record_newest(
    struct sales_record *out, struct store *st, day_no last, struct err *err)
{
	memset(out, 0, sizeof(*out));
	return past_services(out, st, 0, last, RECORD_NEWEST_MAX, err);
}

enum rc
sales_record_open(struct sales_record *out, struct store *st, day_no from,
    day_no last, struct err *err)
{
	struct sales_record h = { 0 };
	size_t i, at = 0;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	rc = past_services(&h, st, from, last, RECORD_SERVICES_MAX, err);
	if (rc == RC_OK && h.count > 0)
		rc = past_sales(&h, st, last, err);
	if (rc != RC_OK) {
		sales_record_fini(&h);
		return rc;
	}
	/* Both are in the same order, the sales of every closed service. */
	for (i = 0; i < h.count; i++) {
		h.items[i].first = at;
		while (at < h.sale_count &&
		    h.sales[at].service_id == h.items[i].id)
			at++;
		h.items[i].count = at - h.items[i].first;
	}
	*out = h;
	return RC_OK;
}

void
sales_record_fini(struct sales_record *h)
{
	free(h->items);
	free(h->sales);
	memset(h, 0, sizeof(*h));
}

/* --- dishes, and what the chef typed ---------------------------------------*/

static enum rc
read_dish(void *item, const struct stmt *q, struct err *err)
{
	struct dish_sold *d = item;
	char state[16];

	memset(d, 0, sizeof(*d));
	d->id = col_int(q, 0);
	col_text(d->code, sizeof(d->code), q, 1);
	col_text(d->name, sizeof(d->name), q, 2);
	col_text(state, sizeof(state), q, 3);
	d->price = col_int(q, 4);
	d->share_bp = (int)col_int(q, 5);
	d->on_menu = col_int(q, 6) != 0;
	col_text(d->species, sizeof(d->species), q, 7);
	return food_state_parse(&d->state, state, err);
}

enum rc
dish_sold_list_open(struct dish_sold_list *out, struct store *st,
    const char *service, struct err *err)
{
	struct stmt q;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	rc = stmt_open(&q, st,
	    "SELECT d.id, d.code, d.name, d.state, coalesce(d.price, -1),"
	    " coalesce((SELECT m.share_bp FROM mix m"
	    "  WHERE m.dish_id = d.id AND m.service = :service), 0),"
	    " d.on_menu,"
	    " coalesce((SELECT substr(group_concat(c.species), 1, 63)"
	    "  FROM cut c WHERE c.dish_id = d.id AND c.current = 1), '')"
	    " FROM dish d" SCAN_OK "ORDER BY d.code",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_text(&q, ":service", service);
	ROWS(out, &q, read_dish, err);
	return rc;
}

void
dish_sold_list_fini(struct dish_sold_list *l)
{
	free(l->items);
	memset(l, 0, sizeof(*l));
}

const struct dish_sold *
dish_sold_find(const struct dish_sold_list *l, const char *code)
{
	size_t i;

	for (i = 0; i < l->count; i++)
		if (str_eq(l->items[i].code, code))
			return &l->items[i];
	return NULL;
}

static enum rc
read_typed(void *item, const struct stmt *q, struct err *err)
{
	struct typed *t = item;

	(void)err;
	t->service_id = col_int(q, 0);
	t->dish_id = col_int(q, 1);
	t->floor = col_int(q, 2);
	t->ceiling = col_int(q, 3);
	t->fixed = col_int(q, 4);
	return RC_OK;
}

enum rc
typed_list_open(struct typed_list *out, struct store *st, int64_t service_id,
    struct err *err)
{
	struct stmt q;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	rc = stmt_open(&q, st,
	    "SELECT service_id, dish_id, coalesce(floor, -1),"
	    " coalesce(ceiling, -1), coalesce(fixed, -1)"
	    " FROM typed WHERE service_id = :service ORDER BY dish_id",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":service", service_id);
	ROWS(out, &q, read_typed, err);
	return rc;
}

void
typed_list_fini(struct typed_list *l)
{
	free(l->items);
	memset(l, 0, sizeof(*l));
}

enum rc
typed_put(struct store *st, const struct typed *t, struct err *err)
{
	bool any = t->floor >= 0 || t->ceiling >= 0 || t->fixed >= 0;
	struct stmt q;
	enum rc rc;

	rc = stmt_open(&q, st,
	    any ? "INSERT INTO typed (service_id, dish_id, floor, ceiling,"
		  " fixed) VALUES (:service, :dish, nullif(:floor, -1),"
		  " nullif(:ceiling, -1), nullif(:fixed, -1))"
		  " ON CONFLICT (service_id, dish_id) DO UPDATE SET"
		  " floor = nullif(:floor, -1),"
		  " ceiling = nullif(:ceiling, -1),"
		  " fixed = nullif(:fixed, -1)"
		: "DELETE FROM typed WHERE service_id = :service"
		  " AND dish_id = :dish",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":service", t->service_id);
	bind_int(&q, ":dish", t->dish_id);
	if (any) {
		bind_int(&q, ":floor", t->floor);
		bind_int(&q, ":ceiling", t->ceiling);
		bind_int(&q, ":fixed", t->fixed);
	}
	return stmt_run(&q, err);
}

enum rc
expected_put(
    struct store *st, int64_t service_id, int64_t covers, struct err *err)
{
	struct stmt q;
	enum rc rc;

	rc = stmt_open(&q, st,
	    "UPDATE service SET expected = nullif(:covers, -1)"
	    " WHERE id = :service",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":covers", covers);
	bind_int(&q, ":service", service_id);
	return stmt_run(&q, err);
}
