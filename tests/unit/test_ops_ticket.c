/*
 * test_ops_ticket.c - lists that are refused, kept as they were printed, and
 * drawn again.
 */
#include "unit.h"

#include <stdlib.h>
#include <string.h>

#include "base/str.h"
#include "kitchen.h"
#include "labels/font.h"
#include "ops/fate.h"
#include "ops/ticket.h"
#include "store/store.h"
#include "trail_rig.h"

static struct kitchen k;
static struct batch cod;

static void
setup(void)
{
	struct receive_in in = kitchen_cod();

	kitchen_open(&k);
	cod = kitchen_receive(&k, &in);
}

static void
teardown(void)
{
	kitchen_close(&k);
}

static struct ticket *
make(enum ticket_kind kind, const char *what)
{
	struct ticket_wish wish = { .kind = kind, .what = what };
	struct ticket *t;
	struct err err = { 0 };

	ck_assert_msg(
	    ticket_make(&t, k.sn, &wish, &err) == RC_OK, "%s", err.text);
	return t;
}

START_TEST(not_made)
{
	static const struct {
		enum ticket_kind kind;
		const char *what, *says;
		enum rc rc;
	} rows[] = {
		{ TICKET_PREP, "2026-11-25", "", RC_INVALID },
		{ TICKET_PREP, "2026-11-25/brunch", "", RC_INVALID },
		{ TICKET_ORDER, "2026-11-28/dinner", "", RC_NOTFOUND },
		{ TICKET_PREP, "2026-11-24/dinner", "ended", RC_REFUSED },
		{ TICKET_RECALL, "000-01V", "check character", RC_INVALID },
		{ TICKET_RECALL, "26338-011", "not in this", RC_NOTFOUND },
		{ TICKET_RECALL, "000-0T9", "not in this", RC_NOTFOUND },
		{ TICKET_DAY, "26 Nov", "", RC_INVALID },
		{ TICKET_DAY, "2026-11-26", "has not begun", RC_REFUSED },
	};
	struct ticket_wish wish = { .kind = rows[_i].kind,
		.what = rows[_i].what };
	struct ticket *t;
	struct err err = { 0 };

	ck_assert_int_eq(ticket_make(&t, k.sn, &wish, &err), rows[_i].rc);
	ck_assert_ptr_null(t);
	ck_assert_msg(
	    err.text[0] != '\0' && strstr(err.text, rows[_i].says) != NULL,
	    "%s", err.text);
}
END_TEST
#define NOT_MADE 9

static const struct printer_setting roll = {
	.name = "roll", .width_mm = 58, .height_mm = 40, .dpi = 203
};

static int64_t
keep(const struct ticket *t, int *pages)
{
	struct moment at = { 1795600000, 0, "AB" };
	int64_t id;
	struct err err = { 0 };

	ck_assert_int_eq(store_begin(k.sn->st, NULL), RC_OK);
	ck_assert_msg(ticket_record(&id, pages, k.sn, TICKET_RECALL, t, &roll,
			  &at, &err) == RC_OK,
	    "%s", err.text);
	rig_commit(k.sn->st);
	return id;
}

/* What was kept is drawn as it was, whatever happened since. */
START_TEST(kept_and_drawn)
{
	struct ticket *t = make(TICKET_RECALL, cod.code);
	const struct label_media m = { 58, 0, 203 };
	struct bitmap *now, *kept;
	struct ticket_record row;
	int page, pages, n;
	int64_t id = keep(t, &n);

	ck_assert_int_eq(
	    hold(NULL, k.sn, cod.code, "sour smell", "AB", NULL), RC_OK);
	ck_assert_int_eq(ticket_get(&row, k.sn->st, id, NULL), RC_OK);
	ck_assert_int_eq(row.kind, TICKET_RECALL);
	ck_assert_str_eq(row.title, "Recall 26329-019");
	ck_assert_str_eq(row.at.by, "AB");
	ck_assert_int_eq(row.at.utc, 1795600000);
	ticket_record_fini(&row);
	ck_assert_int_eq(ticket_pages(&pages, t, &m, k.sn->fonts, NULL), RC_OK);
	ck_assert_int_eq(pages, n);
	for (page = 1; page <= pages; page++) {
		ck_assert_int_eq(ticket_render(&now, t, page, true, 2, &m,
				     k.sn->fonts, NULL),
		    RC_OK);
		ck_assert_int_eq(
		    ticket_page_picture(&kept, k.sn, id, page, &roll, 2, NULL),
		    RC_OK);
		ck_assert_int_eq(kept->height, now->height);
		ck_assert_mem_eq(
		    kept->bits, now->bits, now->stride * (size_t)now->height);
		bitmap_free(now);
		bitmap_free(kept);
	}
	ticket_free(t);
}
END_TEST

START_TEST(not_kept)
{
	struct ticket *t = make(TICKET_RECALL, cod.code);
	struct printer_setting labels = roll;
	struct moment at = { 1795600000, 0, "AB" };
	struct bitmap *bm;
	struct err err = { 0 };
	int pages;
	int64_t id = keep(t, &pages);

	labels.gap_mm = 3;
	ck_assert_int_eq(ticket_record(&id, &pages, k.sn, TICKET_RECALL, t,
			     &labels, &at, &err),
	    RC_INVALID);
	ck_assert_ptr_nonnull(strstr(err.text, "lists need a continuous roll"));
	err_clear(&err);
	ck_assert_int_eq(
	    ticket_page_picture(&bm, k.sn, id, 1, &labels, 0, &err),
	    RC_INVALID);
	ck_assert_ptr_null(bm);
	err_clear(&err);
	ck_assert_int_eq(
	    ticket_page_picture(&bm, k.sn, id + 1, 1, &roll, 0, &err),
	    RC_NOTFOUND);
	ck_assert_ptr_nonnull(strstr(err.text, "not in this station file"));
	err_clear(&err);
	ck_assert_int_eq(
	    ticket_page_picture(&bm, k.sn, id, pages + 1, &roll, 0, &err),
	    RC_INVALID);
	ck_assert_ptr_nonnull(strstr(err.text, "list 1: the list has no page"));
	/* A damaged body is named, not drawn. */
	ck_assert_int_eq(
	    kitchen_sql(k.db,
		"UPDATE ticket SET body = replace(body, 'tick' || char(9),"
		" 'tock' || char(9))"),
	    0);
	err_clear(&err);
	ck_assert_int_eq(
	    ticket_page_picture(&bm, k.sn, id, 1, &roll, 0, &err), RC_INVALID);
	ck_assert_ptr_nonnull(strstr(err.text, "list 1: line "));
	ck_assert_ptr_nonnull(strstr(err.text, "style is not known"));
	ticket_free(t);
}
END_TEST

/* Looking records nothing. */
START_TEST(looking_records_nothing)
{
	struct ticket_paper paper = { .width_mm = 80 };
	int64_t before = kitchen_records(&k);
	struct ticket *t = make(TICKET_DAY, NULL);
	struct buf png;
	struct err err = { 0 };
	int pages;

	buf_init(&png, 1 << 20);
	ck_assert_msg(
	    ticket_preview(&png, &pages, k.sn, t, 1, &paper, &err) == RC_OK,
	    "%s", err.text);
	ck_assert_mem_eq(png.data, "\x89PNG", 4);
	paper.printer = "nobody";
	ck_assert_int_eq(
	    ticket_preview(&png, &pages, k.sn, t, 1, &paper, &err), RC_INVALID);
	ck_assert_str_eq(
	    err.text, "there is no [printer nobody] in the settings");
	ck_assert_int_eq(kitchen_records(&k), before);
	ck_assert_int_eq(kitchen_count(&k, "SELECT count(*) FROM ticket"), 0);
	buf_fini(&png);
	ticket_free(t);
}
END_TEST

Suite *
suite_ops_ticket(void)
{
	Suite *s = suite_create("ops_ticket");
	TCase *tc = tcase_create("ticket");

	tcase_add_checked_fixture(tc, setup, teardown);
	tcase_add_loop_test(tc, not_made, 0, NOT_MADE);
	tcase_add_test(tc, kept_and_drawn);
	tcase_add_test(tc, not_kept);
	tcase_add_test(tc, looking_records_nothing);
	suite_add_tcase(s, tc);
	return s;
}
