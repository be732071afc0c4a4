/* bring_in.c - bookings, menu, sales, suppliers and offers from CSV files. */
#include "ops/bring_in.h"

#include <stdlib.h>
#include <string.h>

#include "base/file.h"
#include "base/str.h"
#include "bring_in.h"
#include "closing.h"
#include "exchange/records_in.h"
#include "exchange/sales_in.h"
#include "offers.h"
#include "ops/station.h"
#include "store/menu.h"
#include "store/store.h"

#define IMPORT_MAX ((size_t)8 * 1024 * 1024)

static void
tally(struct import_result *r, enum change c)
{
	switch (c) {
	case CHANGE_NONE:
		r->same++;
		break;
	case CHANGE_ADDED:
		r->added++;
		break;
	case CHANGE_CHANGED:
		r->changed++;
		break;
	}
}

static struct service_names
names_of(const struct station *sn)
{
	struct service_names n = { .count = sn->cfg.service_count };
	int i;

	for (i = 0; i < n.count; i++)
		n.names[i] = sn->cfg.services[i].name;
	return n;
}

/* The part of an import that differs: parse `text`, put each record. */
typedef enum rc record_fn(struct import_result *r, struct station *sn,
    const struct moment *at, const char *path, const struct buf *text,
    struct err *err);

/* Read, parse and record in one transaction; silent when nothing changed. */
static enum rc
import_file(struct import_result *out, struct station *sn, const char *path,
    const char *by, record_fn *record, const char *kind, struct err *err)
{
	struct import_result r = { 0 };
	struct moment at;
	struct buf text;
	enum rc rc;

	buf_init(&text, IMPORT_MAX);
	if ((rc = station_moment(&at, sn, by, err)) != RC_OK ||
	    (rc = file_read(&text, path, err)) != RC_OK ||
	    (rc = store_begin(sn->st, err)) != RC_OK ||
	    (rc = record(&r, sn, &at, path, &text, err)) != RC_OK)
		goto done;
	if (r.added + r.changed + r.dropped > 0) {
		rc = station_audit(sn, &at, err, "import", kind,
		    "%s: %d added, %d changed, %d as before, %d dropped", path,
		    r.added, r.changed, r.same, r.dropped);
		if (rc != RC_OK || (rc = store_commit(sn->st, err)) != RC_OK)
			goto done;
	}
	*out = r;
done:
	store_rollback(sn->st);
	buf_fini(&text);
	return rc;
}

enum rc
bring_bookings(struct import_result *r, struct station *sn, const char *name,
    const struct buf *text, struct err *err)
{
	struct service_names names = names_of(sn);
	struct service *items;
	enum change change;
	size_t i, n;
	enum rc rc;

	rc = bookings_parse(
	    &items, &n, name, buf_text(text), text->len, &names, err);
	for (i = 0; rc == RC_OK && i < n; i++) {
		rc = service_put(&change, sn->st, &items[i], err);
		if (rc == RC_OK)
			tally(r, change);
	}
	free(items);
	return rc;
}

static enum rc
record_bookings(struct import_result *r, struct station *sn,
    const struct moment *at, const char *path, const struct buf *text,
    struct err *err)
{
	(void)at;
	return bring_bookings(r, sn, path, text, err);
}

static enum rc
record_suppliers(struct import_result *r, struct station *sn,
    const struct moment *at, const char *path, const struct buf *text,
    struct err *err)
{
	struct supplier *items;
	enum change change;
	size_t i, n;
	enum rc rc;

	(void)at;
	rc = suppliers_parse(&items, &n, path, buf_text(text), text->len, err);
	for (i = 0; rc == RC_OK && i < n; i++) {
		rc = supplier_put(&change, sn->st, &items[i], err);
		if (rc == RC_OK)
			tally(r, change);
	}
	free(items);
	return rc;
}

/* Everything the file says of one service. */
static enum rc
record_service(struct import_result *r, struct station *sn,
    const struct moment *at, const struct sales_file *f, size_t which,
    const struct dish_sold_list *dishes, struct err *err)
{
	const struct sales_service *from = &f->services[which];
	struct sale sales[SALES_DISHES_MAX] = { { 0 } };
	enum change changes[SALES_DISHES_MAX], guests;
	struct closing_in in = { .seated = from->seated,
		.walk_ins = from->walk_ins,
		.sales = sales };
	struct service s;
	size_t i;
	int k;
	enum rc rc;

	for (k = from->first; k >= 0; k = f->rows[k].next) {
		for (i = 0; dishes->items[i].id != f->rows[k].dish_id; i++)
			continue;
		sales[in.count].dish_id = f->rows[k].dish_id;
		str_copy(sales[in.count].dish, sizeof(sales[0].dish),
		    dishes->items[i].code);
		sales[in.count].sold = f->rows[k].sold;
		sales[in.count++].ran_out_at = f->rows[k].ran_out_at;
	}
	in.service = &s;
	rc = service_get(
	    &s, sn->st, from->day, sn->cfg.services[from->service].name, err);
	if (rc == RC_OK)
		rc = closing_record(&guests, changes, sn, at, &in, err);
	if (rc != RC_OK)
		return rc == RC_NOTFOUND ? RC_INVALID : rc;
	/* The guests of a service count with its first line. */
	if (guests == CHANGE_CHANGED && changes[0] == CHANGE_NONE)
		changes[0] = CHANGE_CHANGED;
	for (i = 0; i < in.count; i++)
		tally(r, changes[i]);
	return RC_OK;
}

static enum rc
record_sales(struct import_result *r, struct station *sn,
    const struct moment *at, const char *path, const struct buf *text,
    struct err *err)
{
	struct service_names names = names_of(sn);
	struct dish_sold_list dishes;
	struct sales_file f = { 0 };
	size_t i;
	enum rc rc;

	if ((rc = dish_sold_list_open(&dishes, sn->st, "", err)) != RC_OK)
		return rc;
	rc = sales_parse(
	    &f, path, buf_text(text), text->len, &names, &dishes, err);
	for (i = 0; rc == RC_OK && i < f.service_count; i++) {
		rc = record_service(r, sn, at, &f, i, &dishes, err);
		if (rc != RC_OK)
			err_prefix(err, "%s:%d:1: ", path, f.services[i].line);
	}
	sales_fini(&f);
	dish_sold_list_fini(&dishes);
	return rc;
}

/* One row of the menu: its dish, cut and shares. */
static enum rc
put_row(int64_t *dish_id, enum change *out, struct station *sn,
    const struct menu_row *row, struct err *err)
{
	struct service_names names = names_of(sn);
	struct dish d = { .state = row->cut.state, .price = row->cut.price };
	enum change c;
	enum rc rc;
	int i;

	str_copy(d.code, sizeof(d.code), row->cut.dish);
	str_copy(d.name, sizeof(d.name), row->cut.dish_name);
	str_copy(d.allergens, sizeof(d.allergens), row->cut.allergens);
	if ((rc = dish_put(out, sn->st, &d, err)) != RC_OK ||
	    (rc = cut_put(&c, sn->st, d.id, &row->cut, err)) != RC_OK)
		return rc;
	if (*out == CHANGE_NONE && c != CHANGE_NONE)
		*out = CHANGE_CHANGED;
	for (i = 0; i < names.count; i++) {
		rc = mix_put(
		    &c, sn->st, d.id, names.names[i], row->share_bp[i], err);
		if (rc != RC_OK)
			return rc;
		if (*out == CHANGE_NONE && c != CHANGE_NONE)
			*out = CHANGE_CHANGED;
	}
	*dish_id = d.id;
	return RC_OK;
}

/* The species of one dish as ",COD,HAD,", to drop its other cuts. */
static void
species_of(
    struct buf *out, const struct menu_row *rows, size_t n, const char *dish)
{
	size_t i;

	buf_clear(out);
	buf_putc(out, ',');
	for (i = 0; i < n; i++)
		if (str_eq(rows[i].cut.dish, dish))
			buf_printf(out, "%s,", rows[i].cut.species);
}

/* Each dish of the rows whole; `dishes` gets their codes as ",a,b,". */
static enum rc
put_rows(struct import_result *r, struct buf *dishes, struct station *sn,
    const struct menu_row *rows, size_t n, struct err *err)
{
	struct buf species;
	enum change change;
	int64_t dish_id = 0;
	int dropped = 0;
	size_t i;
	enum rc rc = RC_OK;

	buf_init(&species, IMPORT_MAX);
	buf_putc(dishes, ',');
	for (i = 0; rc == RC_OK && i < n; i++) {
		rc = put_row(&dish_id, &change, sn, &rows[i], err);
		if (rc != RC_OK)
			break;
		tally(r, change);
		buf_printf(dishes, "%s,", rows[i].cut.dish);
		species_of(&species, rows, n, rows[i].cut.dish);
		rc = menu_keep_cuts(
		    &dropped, sn->st, dish_id, buf_text(&species), err);
		r->dropped += dropped;
	}
	buf_fini(&species);
	return rc;
}

static enum rc
bring_menu(struct import_result *r, struct station *sn, const char *name,
    const struct buf *text, bool whole, struct err *err)
{
	struct service_names names = names_of(sn);
	struct menu_row *rows;
	struct buf dishes;
	int dropped = 0;
	size_t n;
	enum rc rc;

	buf_init(&dishes, IMPORT_MAX);
	rc = menu_parse(&rows, &n, name, buf_text(text), text->len, &names,
	    &sn->species, err);
	if (rc == RC_OK)
		rc = put_rows(r, &dishes, sn, rows, n, err);
	if (rc == RC_OK && whole)
		rc = menu_keep_dishes(&dropped, sn->st, buf_text(&dishes), err);
	if (rc == RC_OK)
		r->dropped += dropped;
	free(rows);
	buf_fini(&dishes);
	return rc;
}

enum rc
bring_dishes(struct import_result *r, struct station *sn, const char *name,
    const struct buf *text, struct err *err)
{
	return bring_menu(r, sn, name, text, false, err);
}

static enum rc
record_menu(struct import_result *r, struct station *sn,
    const struct moment *at, const char *path, const struct buf *text,
    struct err *err)
{
	(void)at;
	return bring_menu(r, sn, path, text, true, err);
}

enum rc
import_bookings(struct import_result *out, struct station *sn, const char *path,
    const char *by, struct err *err)
{
	return import_file(out, sn, path, by, record_bookings, "bookings", err);
}

enum rc
import_menu(struct import_result *out, struct station *sn, const char *path,
    const char *by, struct err *err)
{
	return import_file(out, sn, path, by, record_menu, "menu", err);
}

enum rc
import_sales(struct import_result *out, struct station *sn, const char *path,
    const char *by, struct err *err)
{
	return import_file(out, sn, path, by, record_sales, "sales", err);
}

enum rc
import_suppliers(struct import_result *out, struct station *sn,
    const char *path, const char *by, struct err *err)
{
	return import_file(
	    out, sn, path, by, record_suppliers, "suppliers", err);
}

enum rc
import_offers(struct import_result *out, struct station *sn, const char *path,
    const char *by, struct err *err)
{
	return import_file(out, sn, path, by, offers_record, "offers", err);
}
