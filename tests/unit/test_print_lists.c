/*
 * test_print_lists.c - prep list, order list, recall list and day sheet of one
 * invented kitchen, word by word; and what must be on them whatever happened.
 */
#include "unit.h"

#include <inttypes.h>
#include <stdlib.h>
#include <string.h>

#include "base/file.h"
#include "base/str.h"
#include "chance.h"
#include "kitchen.h"
#include "ops/bring_in.h"
#include "ops/fate.h"
#include "ops/freeze.h"
#include "ops/ticket.h"
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
	in.lot = "M 4";
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

/* The code at the foot of a day sheet is another one in every file. */
static void
mask_code(char *text)
{
	char *at = strstr(text, "== Audit trail, row ");
	int i;

	if (at == NULL || (at = strchr(at, '\n')) == NULL)
		return;
	for (i = 1; at[i] != '\0' && at[i] != '\n'; i++)
		if (at[i] != '-')
			at[i] = 'X';
}

/* The list is the file of tests/fixtures/lists, word by word; a difference is
 * shown from the line where it begins. */
static void
says(struct ticket *t, const char *file)
{
	struct buf out, want;
	const char *a, *b, *line;
	char path[200];
	struct err err = { 0 };

	buf_init(&out, 1 << 20);
	buf_init(&want, 1 << 20);
	str_fmt(path, sizeof(path), "tests/fixtures/lists/%s", file);
	ck_assert_msg(file_read(&want, path, &err) == RC_OK, "%s", err.text);
	ticket_show(&out, t, FORMAT_TEXT);
	mask_code(out.data);
	a = line = buf_text(&out);
	for (b = buf_text(&want); *a != '\0' && *a == *b; a++, b++)
		if (*a == '\n')
			line = a + 1;
	ck_assert_msg(*a == *b, "from here on:\n%s", line);
	buf_fini(&out);
	buf_fini(&want);
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
	says(make(TICKET_PREP, "2026-11-25/dinner", false), "prep.txt");
}
END_TEST

/* Trays on hand come first, and what they cover is not made again. */
START_TEST(prep_trays)
{
	struct ticket *t = make(TICKET_PREP, "2026-11-25/lunch", false);

	ck_assert(has(t, TICKET_HEAD, "From the trays first", ""));
	ck_assert(has(t, TICKET_TICK, "Cod, leeks", "4"));
	ck_assert(
	    has(t, TICKET_SMALL, "000-01U, use by Thu 26 Nov 23:59", NULL));
	ck_assert(!has(t, TICKET_HEAD, "Why", NULL));
	ticket_free(t);
}
END_TEST

START_TEST(prep_why)
{
	struct ticket *t = make(TICKET_PREP, "2026-11-25/dinner", true);

	ck_assert(has(t, TICKET_HEAD, "Why", ""));
	ck_assert(has(t, TICKET_LINE, "Mussel pot", ""));
	ck_assert(has(t, TICKET_SMALL, "expected 12.", NULL));
	ck_assert(has(t, TICKET_SMALL, "the cut: proved", NULL));
	ticket_free(t);
}
END_TEST

static void
bring_in(const char *name, const char *text,
    enum rc (*import)(struct import_result *, struct station *, const char *,
	const char *, struct err *))
{
	struct import_result r;
	struct err err = { 0 };
	char path[320];

	kitchen_write(path, &k, name, text);
	ck_assert_msg(
	    import(&r, k.sn, path, "AB", &err) == RC_OK, "%s", err.text);
}

/* What can hurt someone stands on the list of that food. */
START_TEST(prep_cautions)
{
	struct receive_in in = kitchen_cod();
	struct ticket *t;

	in.species = "MAC";
	in.presentation = "whole";
	in.weight = "5 kg";
	kitchen_receive(&k, &in);
	bring_in("menu.csv",
	    "dish,name,state,species,cut,skin,bought,low,target,high,mix,"
	    "allergens\n"
	    "mac-crudo,Mackerel crudo,served-raw,MAC,fillet,off,whole,50,70,"
	    "120,dinner:20,\n",
	    import_menu);
	t = make(TICKET_PREP, "2026-11-25/dinner", false);
	ck_assert(has(t, TICKET_TICK, "Mackerel crudo", NULL));
	ck_assert(has(t, TICKET_SMALL,
	    "served raw: only with its freeze record or an exemption", ""));
	ck_assert(has(
	    t, TICKET_SMALL, "Mackerel: this species can form histamine", ""));
	ck_assert(has(t, TICKET_SMALL, "Out of the fridge at most 20", ""));
	ck_assert(has(t, TICKET_SMALL, "Order, bench time and minutes", ""));
	ck_assert(has(t, TICKET_SMALL, "Weights are estimates", ""));
	ticket_free(t);
}
END_TEST

START_TEST(order_words)
{
	bring_in("offers.csv",
	    "supplier,species,presentation,fish,price,step\n"
	    "pier,COD,gutted,2000,9.50,1000\n"
	    "reef,MUS,live,,4.20,1000\n"
	    "pier,LEM,gutted,420,15.00,500\n",
	    import_offers);
	says(make(TICKET_ORDER, "2026-11-26/dinner", false), "order.txt");
}
END_TEST

START_TEST(order_why)
{
	struct ticket *t = make(TICKET_ORDER, "2026-11-26/dinner", true);

	ck_assert(has(t, TICKET_HEAD, "No supplier known", ""));
	ck_assert(has(t, TICKET_TICK, "Cod, gutted", "4.400 kg"));
	ck_assert(has(t, TICKET_SMALL, "9 portions need 4393 g as bought", ""));
	ticket_free(t);
}
END_TEST

static void
a_bad_day(void)
{
	kitchen_at(&k, "2026-11-25T13:00");
	take(trays.portions[0].code, 4, "2026-11-25/lunch");
	take(trays.portions[1].code, 1, "2026-11-25/lunch");
	kitchen_at(&k, "2026-11-25T15:30");
	bin(trays.portions[1].code, 1, 0, 0);
	bin(cod.code, 0, 1, 2100);
	ck_assert_int_eq(
	    hold(NULL, k.sn, cod.code, "sour smell", "AB", NULL), RC_OK);
	ck_assert_int_eq(
	    hold(NULL, k.sn, mussels.code, "no tag", "AB", NULL), RC_OK);
	kitchen_at(&k, "2026-11-25T16:00");
	ck_assert_int_eq(
	    release(NULL, k.sn, mussels.code, "tag found", "CD", NULL), RC_OK);
}

static void
keep(enum rc (*move)(struct kept *, struct station *, const struct freeze_in *,
	 struct err *),
    const char *code, const char *temp, const char *reason)
{
	struct freeze_in in = { &code, 1, temp, reason, "CD" };
	struct kept kept;
	struct err err = { 0 };

	ck_assert_msg(move(&kept, k.sn, &in, &err) == RC_OK, "%s", err.text);
}

static void
count(const char *code, int64_t servings, const char *reason)
{
	struct count_in in = { code, servings, reason, "CD" };
	struct counted counted;
	struct err err = { 0 };

	ck_assert_msg(
	    count_unit(&counted, k.sn, &in, &err) == RC_OK, "%s", err.text);
}

/* What lies in the freezer is pulled too; what a count missed is looked for,
 * and was neither served nor thrown away. */
START_TEST(recall_frozen_and_missing)
{
	struct ticket *t;

	kitchen_at(&k, "2026-11-25T11:00");
	keep(freeze, trays.portions[0].code, "-20.0", "for Friday");
	keep(freeze, trays.portions[2].code, "-20.0", NULL);
	kitchen_at(&k, "2026-11-25T12:30");
	keep(thaw, trays.portions[0].code, NULL, NULL);
	take(trays.portions[1].code, 1, "2026-11-25/lunch");
	count(trays.portions[1].code, 0, "nowhere in the fridge");
	says(make(TICKET_RECALL, cod.code, false), "recall-frozen.txt");
	count(trays.portions[1].code, 3, "behind the mussels");
	says(make(TICKET_RECALL, cod.code, false), "recall-found.txt");
	/* What was found is missing no more, wherever it went. */
	take(trays.portions[1].code, 3, "2026-11-25/lunch");
	t = make(TICKET_RECALL, cod.code, false);
	ck_assert(has(t, TICKET_HEAD, "3  Went out", "1"));
	ticket_free(t);
}
END_TEST

START_TEST(recall_words)
{
	a_bad_day();
	says(make(TICKET_RECALL, cod.code, false), "recall.txt");
	/* A guest brings back a portion: its batch is what is recalled. */
	says(make(TICKET_RECALL, trays.portions[2].code, false), "recall.txt");
}
END_TEST

START_TEST(recall_before_the_hold)
{
	struct ticket *t = make(TICKET_RECALL, cod.code, false);

	ck_assert(has(t, TICKET_TICK, "NOT ON HOLD: block it first", ""));
	ck_assert(has(t, TICKET_SMALL,
	    "until then the station lets it out: pinbone hold 26329-019", ""));
	ck_assert(!has(t, TICKET_LINE, "ON HOLD since", NULL));
	ck_assert(!has(t, TICKET_HEAD, "3  Went out", NULL));
	ck_assert(!has(t, TICKET_HEAD, "3  Discarded before", NULL));
	ticket_free(t);
	/* A hold that was lifted is none. */
	ck_assert_int_eq(
	    hold(NULL, k.sn, cod.code, "smell", "AB", NULL), RC_OK);
	ck_assert_int_eq(
	    release(NULL, k.sn, cod.code, "fine", "AB", NULL), RC_OK);
	t = make(TICKET_RECALL, cod.code, false);
	ck_assert(has(t, TICKET_TICK, "NOT ON HOLD", ""));
	ck_assert(!has(t, TICKET_LINE, "ON HOLD since", NULL));
	ticket_free(t);
}
END_TEST

START_TEST(recall_with_nothing_left)
{
	struct ticket *t;
	size_t i;

	for (i = 0; i < trays.portion_count; i++)
		bin(trays.portions[i].code, 4, 0, 0);
	kitchen_at(&k, "2026-11-28T09:00");
	t = make(TICKET_RECALL, cod.code, false);
	ck_assert(has(t, TICKET_HEAD, "1  PULL NOW: portions on hand", "0"));
	ck_assert(has(t, TICKET_LINE, "no labelled portion is on hand", ""));
	ck_assert(has(t, TICKET_HEAD, "3  Discarded before", "3"));
	ck_assert(has(t, TICKET_TICK, "still whole, 5 fish", "10.000 kg"));
	ticket_free(t);
	t = make(TICKET_RECALL, mackerel.code, false);
	ck_assert(
	    has(t, TICKET_SMALL, "5.000 kg, 8.4 C, REFUSED at the door", ""));
	ck_assert(has(t, TICKET_LINE, "refused, sent back", "5.000 kg"));
	ck_assert(!has(t, TICKET_TICK, "NOT ON HOLD", NULL));
	ticket_free(t);
}
END_TEST

START_TEST(recall_expired)
{
	struct ticket *t;

	kitchen_at(&k, "2026-11-27T09:00");
	t = make(TICKET_RECALL, cod.code, false);
	ck_assert(has(
	    t, TICKET_SMALL, "chilled, use by Thu 26 Nov 23:59, EXPIRED", ""));
	ticket_free(t);
}
END_TEST

/* What goes out of date first would go out first: it is pulled first, whenever
 * it was made. */
START_TEST(recall_first_to_expire_first)
{
	struct kitchen_cut cut = { "cod-cakes", 2, 1, 180, 1000, 1 };
	struct ticket *t;
	size_t i, cakes = 0, leeks = 0;

	breakdown_fini(&trays);
	trays = kitchen_break(&k, cod.code, &cut);
	sql("UPDATE portion SET use_by_utc = use_by_utc + 5 * 86400"
	    " WHERE id < 3");
	t = make(TICKET_RECALL, cod.code, false);
	for (i = 0; i < ticket_count(t); i++) {
		if (strstr(ticket_at(t, i)->left, "cod cakes") != NULL ||
		    strstr(ticket_at(t, i)->left, "Cod cakes") != NULL)
			cakes = i;
		if (strncmp(ticket_at(t, i)->left, "000-01U", 7) == 0)
			leeks = i;
	}
	ck_assert_uint_gt(cakes, 0);
	ck_assert_uint_gt(leeks, cakes);
	ticket_free(t);
}
END_TEST

/* Whatever became of them: every unit once, in its group, first to expire
 * first, and the head counts what is left. */
START_TEST(recall_has_every_unit)
{
	struct kitchen_cut cut = { "cod-cakes", 5, 1, 450, 1000, 1 };
	struct portion_list l;
	uint64_t seed = (uint64_t)_i + 7;
	struct ticket *t;
	const struct ticket_line *line;
	char code[CODE_SIZE], n[48];
	int64_t left = 0;
	size_t i, j, seen;

	breakdown_fini(&trays);
	trays = kitchen_break(&k, cod.code, &cut);
	ck_assert_int_eq(portion_list_batch(&l, k.sn->st, cod.id, NULL), RC_OK);
	for (i = 0; i < l.count; i++) {
		for (j = 0; j < (size_t)l.items[i].servings; j++)
			switch (chance_next(&seed) % 3) {
			case 0:
				take(l.items[i].code, 1, NULL);
				break;
			case 1:
				bin(l.items[i].code, 1, 0, 0);
				break;
			}
	}
	portion_list_fini(&l);
	ck_assert_int_eq(portion_list_batch(&l, k.sn->st, cod.id, NULL), RC_OK);
	t = make(TICKET_RECALL, cod.code, false);
	for (i = 0; i < l.count; i++) {
		left += l.items[i].left;
		code_show(code, l.items[i].code);
		str_fmt(n, sizeof(n), "%" PRId64 " of %" PRId64,
		    l.items[i].left, l.items[i].servings);
		for (j = 0, seen = 0; j < ticket_count(t); j++) {
			line = ticket_at(t, j);
			if (strncmp(line->left, code, strlen(code)) != 0)
				continue;
			seen++;
			ck_assert_int_eq(line->style, TICKET_TICK);
			ck_assert_str_eq(line->right, n);
		}
		ck_assert_uint_eq(seen, 1);
	}
	str_fmt(n, sizeof(n), "%" PRId64, left);
	ck_assert(has(t, TICKET_HEAD, "1  PULL NOW: portions on hand", n));
	portion_list_fini(&l);
	ticket_free(t);
}
END_TEST

START_TEST(day_sheet_words)
{
	kitchen_at(&k, "2026-11-25T11:00");
	keep(freeze, trays.portions[2].code, "-20.0", "for Friday");
	kitchen_at(&k, "2026-11-25T12:10");
	count(trays.portions[2].code, 1, "three gone");
	kitchen_at(&k, "2026-11-25T12:20");
	count(trays.portions[2].code, 3, "behind the peas");
	kitchen_at(&k, "2026-11-25T12:30");
	keep(thaw, trays.portions[2].code, NULL, NULL);
	a_bad_day();
	sql("INSERT INTO print_job (batch_id, copy, state, language, printer,"
	    " picture, error, at_utc, changed_utc, by) SELECT b.id, n.v,"
	    " n.s, 'png', 'x', '', '', b.received_utc, 0, 'AB' FROM batch b,"
	    " (SELECT 0 AS v, 'sent' AS s UNION SELECT 1, 'unsure') n"
	    " WHERE b.decision = 'accepted'");
	sql("INSERT INTO closed (service_id, booked, seated, walk_ins, at_utc,"
	    " offset_min, by) SELECT id, 40, 38, 3, 1795633200, 0, 'AB'"
	    " FROM service WHERE name = 'lunch'");
	sql("INSERT INTO sold (service_id, dish_id, sold) SELECT s.id, d.id, 7"
	    " FROM service s, dish d WHERE s.name = 'lunch'"
	    " AND d.code IN ('cod-leeks', 'plaice-crumb')");
	says(make(TICKET_DAY, NULL, false), "day.txt");
	says(make(TICKET_DAY, "2026-11-25", false), "day.txt");
}
END_TEST

/* A code does not say the century. */
START_TEST(day_of_another_century)
{
	struct ticket *t;

	sql("UPDATE delivery SET day = day + 36525 WHERE document = 'R 9'");
	t = make(TICKET_DAY, NULL, false);
	ck_assert(has(t, TICKET_LINE, "26329-019 Cod, gutted", "20.000 kg"));
	ck_assert(!has(t, TICKET_LINE, "26329-027", NULL));
	ticket_free(t);
}
END_TEST

/* Midnight parts the days, in the kitchen's zone. */
START_TEST(day_ends_at_midnight)
{
	struct ticket *t;

	kitchen_at(&k, "2026-11-26T00:00");
	bin(trays.portions[0].code, 1, 0, 0);
	kitchen_at(&k, "2026-11-26T23:59:59");
	bin(trays.portions[1].code, 1, 0, 0);
	ck_assert_int_eq(
	    hold(NULL, k.sn, mussels.code, "no tag", "AB", NULL), RC_OK);
	kitchen_at(&k, "2026-11-27T00:00");
	bin(trays.portions[2].code, 1, 0, 0);
	ck_assert_int_eq(
	    release(NULL, k.sn, mussels.code, "tag", "AB", NULL), RC_OK);
	t = make(TICKET_DAY, "2026-11-26", false);
	ck_assert(!has(t, TICKET_LINE, "26329-019 Cod", NULL));
	ck_assert(has(t, TICKET_LINE, "000-01U Cod", "1 portion"));
	ck_assert(has(t, TICKET_LINE, "000-05M Cod", "1 portion"));
	ck_assert(!has(t, TICKET_LINE, "000-06K Cod", NULL));
	ck_assert(has(t, TICKET_SMALL, "released Fri 27 Nov 00:00", NULL));
	ticket_free(t);
	t = make(TICKET_DAY, "2026-11-27", false);
	ck_assert(has(t, TICKET_LINE, "000-06K Cod", "1 portion"));
	ck_assert(!has(t, TICKET_LINE, "000-05M Cod", NULL));
	ck_assert(has(t, TICKET_SMALL, "held Thu 26 Nov 23:59 by AB", NULL));
	ck_assert(has(t, TICKET_SMALL, "released 00:00 by AB: tag", NULL));
	ticket_free(t);
	t = make(TICKET_DAY, "2026-11-24", false);
	ck_assert(has(t, TICKET_SMALL, "none", NULL));
	ck_assert(!has(t, TICKET_LINE, "26329", NULL));
	ticket_free(t);
}
END_TEST

Suite *
suite_print_lists(void)
{
	Suite *s = suite_create("print_lists");
	TCase *tc = tcase_create("words");

	tcase_add_checked_fixture(tc, setup, teardown);
	tcase_add_test(tc, prep_words);
	tcase_add_test(tc, prep_trays);
	tcase_add_test(tc, prep_why);
	tcase_add_test(tc, prep_cautions);
	tcase_add_test(tc, order_words);
	tcase_add_test(tc, order_why);
	tcase_add_test(tc, recall_words);
	tcase_add_test(tc, recall_frozen_and_missing);
	tcase_add_test(tc, recall_before_the_hold);
	tcase_add_test(tc, recall_with_nothing_left);
	tcase_add_test(tc, recall_expired);
	tcase_add_test(tc, recall_first_to_expire_first);
	tcase_add_loop_test(tc, recall_has_every_unit, 0, 8);
	tcase_add_test(tc, day_sheet_words);
	tcase_add_test(tc, day_ends_at_midnight);
	tcase_add_test(tc, day_of_another_century);
	suite_add_tcase(s, tc);
	return s;
}
