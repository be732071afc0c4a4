/*
 * test_print_lists.c - prep list, order list, recall list and day sheet of one
 * invented kitchen, word by word; and what must be on them whatever happened.
 */
#include "unit.h"

#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/str.h"
#include "chance.h"
#include "kitchen.h"
#include "labels/font.h"
#include "ops/fate.h"
#include "ops/ticket.h"
#include "store/audit.h"
#include "store/holds.h"
#include "store/portions.h"
#include "store/store.h"

static struct kitchen k;
static struct batch cod, mussels, mackerel;
static struct breakdown trays;

static void
sql(const char *text)
{
	ck_assert_msg(kitchen_sql(k.db, text) == 0, "%s", text);
}

/* Wednesday: cod, mussels, and mackerel refused at the door; cod in trays. */
static void
setup(void)
{
	struct receive_in in = kitchen_cod();
	struct kitchen_cut cut = { "cod-leeks", 12, 4, 1980, 10000, 5 };

	kitchen_open(&k);
	cod = kitchen_receive(&k, &in);
	in.supplier = "reef";
	in.document = "R 9";
	in.species = "MUS";
	in.presentation = "live";
	in.count = NULL;
	in.weight = "6 kg";
	in.lot = "";
	in.temp = "4.5";
	in.method = "farmed";
	in.gear = NULL;
	in.area = "Holm Sound";
	mussels = kitchen_receive(&k, &in);
	in = kitchen_cod();
	in.species = "MAC";
	in.presentation = "whole";
	in.weight = "5 kg";
	in.temp = "8.4";
	in.decision = DECISION_REFUSED;
	in.note = "no ice left in the box";
	mackerel = kitchen_receive(&k, &in);
	kitchen_at(&k, "2026-11-25T10:30");
	trays = kitchen_break(&k, cod.code, &cut);
}

static void
teardown(void)
{
	breakdown_fini(&trays);
	kitchen_close(&k);
}

static void
take(const char *code, int64_t servings, const char *service)
{
	struct use_in in = { .code = code,
		.servings = servings,
		.service = service,
		.reason = "test",
		.by = "LM" };
	struct portion p;
	struct err err = { 0 };

	ck_assert_msg(use(&p, k.sn, &in, &err) == RC_OK, "%s", err.text);
}

static void
bin(const char *code, int64_t servings, int64_t fish, grams weight)
{
	struct discard_in in = { .code = code,
		.servings = servings,
		.fish = fish,
		.weight_g = weight,
		.reason = "fell on the floor",
		.by = "AB" };
	struct discarded d;
	struct err err = { 0 };

	ck_assert_msg(discard(&d, k.sn, &in, &err) == RC_OK, "%s", err.text);
}

static struct ticket *
make(enum ticket_kind kind, const char *what, bool why)
{
	struct ticket_wish wish = { .kind = kind, .what = what, .why = why };
	struct ticket *t;
	struct err err = { 0 };

	ck_assert_msg(
	    ticket_make(&t, k.sn, &wish, &err) == RC_OK, "%s", err.text);
	return t;
}

/* Differences are shown from the line where they begin. */
static void
says(struct ticket *t, const char *want)
{
	struct buf out;
	const char *a, *b, *line;

	buf_init(&out, 1 << 20);
	ticket_show(&out, t, FORMAT_TEXT);
	a = line = buf_text(&out);
	for (b = want; *a != '\0' && *a == *b; a++, b++)
		if (*a == '\n')
			line = a + 1;
	ck_assert_msg(*a == *b, "from here on:\n%s", line);
	buf_fini(&out);
	ticket_free(t);
}

static bool
has(const struct ticket *t, enum ticket_style style, const char *left,
    const char *right)
{
	const struct ticket_line *l;
	size_t i;

	for (i = 0; i < ticket_count(t); i++) {
		l = ticket_at(t, i);
		if (l->style == style &&
		    strncmp(l->left, left, strlen(left)) == 0 &&
		    (right == NULL || str_eq(l->right, right)))
			return true;
	}
	return false;
}

/* --- word by word --------------------------------------------------------- */

START_TEST(prep_words)
{
	says(make(TICKET_PREP, "2026-11-25/dinner", false), "");
}
END_TEST

START_TEST(order_words)
{
	says(make(TICKET_ORDER, "2026-11-26/dinner", true), "");
}
END_TEST

static void
a_bad_day(void)
{
	const char *code[3];
	size_t i;

	for (i = 0; i < 3; i++)
		code[i] = trays.portions[i].code;
	kitchen_at(&k, "2026-11-25T13:00");
	take(code[0], 4, "2026-11-25/lunch");
	take(code[1], 1, "2026-11-25/lunch");
	kitchen_at(&k, "2026-11-25T15:30");
	bin(code[1], 1, 0, 0);
	bin(cod.code, 0, 1, 2100);
	ck_assert_int_eq(
	    hold(NULL, k.sn, cod.code, "sour smell", "AB", NULL), RC_OK);
	ck_assert_int_eq(
	    hold(NULL, k.sn, mussels.code, "no tag", "AB", NULL), RC_OK);
	kitchen_at(&k, "2026-11-25T16:00");
	ck_assert_int_eq(
	    release(NULL, k.sn, mussels.code, "tag found", "CD", NULL), RC_OK);
}

START_TEST(recall_words)
{
	a_bad_day();
	says(make(TICKET_RECALL, cod.code, false), "");
}
END_TEST

START_TEST(day_words_)
{
	struct moment at = { 0, 0, "CD" };

	a_bad_day();
	at.utc = k.sn->clock.fixed_utc;
	ck_assert_int_eq(store_begin(k.sn->st, NULL), RC_OK);
	ck_assert_int_eq(audit_add(k.sn->st, &at, "freeze", "26329-01C",
			     "2 fish, 4 kg, at -20.0 C", NULL),
	    RC_OK);
	ck_assert_int_eq(store_commit(k.sn->st, NULL), RC_OK);
	sql("INSERT INTO print_job (batch_id, copy, state, language, printer,"
	    " picture, error, at_utc, changed_utc, by) SELECT b.id, n.v,"
	    " n.s, 'png', 'x', '', '', b.received_utc, 0, 'AB' FROM batch b,"
	    " (SELECT 0 AS v, 'sent' AS s UNION SELECT 1, 'unsure') n"
	    " WHERE b.decision = 'accepted'");
	says(make(TICKET_DAY, NULL, false), "");
}
END_TEST

Suite *
suite_print_lists(void)
{
	Suite *s = suite_create("print_lists");
	TCase *tc = tcase_create("words");

	tcase_add_checked_fixture(tc, setup, teardown);
	tcase_add_test(tc, prep_words);
	tcase_add_test(tc, order_words);
	tcase_add_test(tc, recall_words);
	tcase_add_test(tc, day_words_);
	suite_add_tcase(s, tc);
	return s;
}
