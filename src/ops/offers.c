/* offers.c - what suppliers sell, as their lists say. */
#include "offers.h"

#include <inttypes.h>
#include <stdlib.h>

#include "base/str.h"
#include "exchange/offers_in.h"
#include "ops/station.h"
#include "store/offers.h"

#define KEPT_MAX ((size_t)1024 * 1024)

static enum rc
know_suppliers(struct station *sn, const char *path, struct plan_offer *items,
    const int *lines, size_t n, struct err *err)
{
	struct supplier s;
	size_t i;
	enum rc rc;

	for (i = 0; i < n; i++) {
		rc = supplier_find(&s, sn->st, items[i].supplier, err);
		if (rc != RC_OK) {
			err_prefix(err, "%s:%d: ", path, lines[i]);
			return rc;
		}
		items[i].supplier_id = s.id;
	}
	return RC_OK;
}

/* A supplier goes by a code and a name: only now is one seen to be twice. */
static enum rc
no_offer_twice(const char *path, const struct plan_offer *items,
    const int *lines, size_t n, struct err *err)
{
	size_t i, j;

	for (i = 0; i < n; i++)
		for (j = 0; j < i; j++)
			if (items[j].supplier_id == items[i].supplier_id &&
			    str_eq(items[j].species, items[i].species) &&
			    items[j].presentation == items[i].presentation &&
			    items[j].fish_g == items[i].fish_g)
				return err_set(err, RC_INVALID, 0,
				    "%s:%d: this offer stands on line %d "
				    "already",
				    path, lines[i], lines[j]);
	return RC_OK;
}

/* Offers of a supplier in the file that the file no longer has. */
static enum rc
drop_others(struct import_result *r, struct station *sn,
    const struct plan_offer *items, size_t n, struct err *err)
{
	struct buf kept;
	size_t i, j;
	int dropped = 0;
	enum rc rc = RC_OK;

	buf_init(&kept, KEPT_MAX);
	for (i = 0; i < n && rc == RC_OK; i++) {
		for (j = 0; j < i; j++)
			if (items[j].supplier_id == items[i].supplier_id)
				break;
		if (j < i)
			continue;
		buf_clear(&kept);
		buf_putc(&kept, ',');
		for (j = i; j < n; j++)
			if (items[j].supplier_id == items[i].supplier_id)
				buf_printf(&kept, "%" PRId64 ",", items[j].id);
		if ((rc = buf_check(&kept, "the list of offers", err)) == RC_OK)
			rc = offers_keep(&dropped, sn->st, items[i].supplier_id,
			    buf_text(&kept), err);
		r->dropped += dropped;
	}
	buf_fini(&kept);
	return rc;
}

enum rc
offers_record(struct import_result *r, struct station *sn,
    const struct moment *at, const char *path, const struct buf *text,
    struct err *err)
{
	struct plan_offer *items;
	enum change change;
	int *lines;
	size_t i, n;
	enum rc rc;

	(void)at;
	rc = offers_parse(&items, &lines, &n, path, buf_text(text), text->len,
	    &sn->species, err);
	if (rc == RC_OK)
		rc = know_suppliers(sn, path, items, lines, n, err);
	if (rc == RC_OK)
		rc = no_offer_twice(path, items, lines, n, err);
	for (i = 0; rc == RC_OK && i < n; i++) {
		if ((rc = offer_put(&change, sn->st, &items[i], err)) != RC_OK)
			break;
		r->added += change == CHANGE_ADDED;
		r->changed += change == CHANGE_CHANGED;
		r->same += change == CHANGE_NONE;
	}
	if (rc == RC_OK)
		rc = drop_others(r, sn, items, n, err);
	free(items);
	free(lines);
	return rc;
}
