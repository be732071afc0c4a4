/* test_ops_receive.c - what goods in says before a batch is recorded. */
#include "unit.h"

#include <string.h>

#include "base/str.h"
#include "kitchen.h"
#include "store/audit.h"
#include "trail_rig.h"

#define GS "\x1d"
/* Identifiers: GS1 Barcode Syntax Dictionary; the trade item number is an
 * example of the GS1 Barcode Syntax Engine. */
#define ITEM "]C10112345678901231"
#define LABEL                                                                  \
	ITEM "310200096010LOT77" GS                                            \
	     "17261130"                                                        \
	     "7008cod" GS "700527.7.e" GS "7007261124" GS "304" GS "7009LLS"

static struct kitchen k;

static void
setup(void)
{
	kitchen_open(&k);
}

static void
teardown(void)
{
	kitchen_close(&k);
}

/* --- the label ------------------------------------------------------------*/

START_TEST(label_fills)
{
	const char *scans[] = { LABEL };
	struct receive_label l;
	struct err err = { 0 };

	ck_assert_msg(
	    receive_prefill(&l, k.sn, scans, 1, &err) == RC_OK, "%s", err.text);
	ck_assert_str_eq(l.value[RECEIVE_SPECIES], "COD");
	ck_assert_str_eq(l.value[RECEIVE_LOT], "LOT77");
	ck_assert_str_eq(l.value[RECEIVE_WEIGHT], "9600");
	ck_assert_str_eq(l.value[RECEIVE_COUNT], "4");
	ck_assert_str_eq(l.value[RECEIVE_SUPPLIER_DATE], "2026-11-30");
	ck_assert_str_eq(l.value[RECEIVE_AREA], "27.7.e");
	ck_assert_str_eq(l.value[RECEIVE_CAUGHT], "2026-11-24");
	ck_assert_str_eq(l.value[RECEIVE_GEAR], "LLS");
	ck_assert_str_eq(l.value[RECEIVE_PRESENTATION], "");
	ck_assert_str_eq(l.value[RECEIVE_SUPPLIER], "");
	ck_assert_int_eq(l.first_freeze, DAY_NONE);
	ck_assert_int_eq(l.best_before, DAY_NONE);
}
END_TEST

START_TEST(label_of_two_symbols)
{
	const char *scans[] = { ITEM,
		"]C110LOT88" GS
		"15261201"
		"7008HAD" };
	struct receive_label l;

	ck_assert_int_eq(receive_prefill(&l, k.sn, scans, 2, NULL), RC_OK);
	ck_assert_str_eq(l.value[RECEIVE_LOT], "LOT88");
	ck_assert_str_eq(l.value[RECEIVE_SPECIES], "HAD");
	ck_assert_int_ne(l.best_before, DAY_NONE);
	ck_assert_int_eq(receive_prefill(&l, k.sn, scans, 0, NULL), RC_OK);
	ck_assert_str_eq(l.value[RECEIVE_LOT], "");
}
END_TEST

/* clang-format off */
static const struct {
	const char *why, *scan, *says;
} bad_labels[] = {
	{ "no label", "hello", "no supplier" },
	{ "check digit", "]C101123456789012343102000960",
	    "check digit is 4 but should be 1" },
	{ "no such day", ITEM "17261131", "not a day" },
	{ "too many", ITEM, "more than 4" },
};
/* clang-format on */

START_TEST(label_refused)
{
	const char *scans[RECEIVE_SCANS_MAX + 1] = { bad_labels[_i].scan, ITEM,
		ITEM, ITEM, ITEM };
	size_t n = str_eq(bad_labels[_i].why, "too many") ? 5 : 1;
	struct receive_label l;
	struct err err = { 0 };

	ck_assert_int_eq(receive_prefill(&l, k.sn, scans, n, &err), RC_INVALID);
	ck_assert_msg(strstr(err.text, bad_labels[_i].says) != NULL, "%s: %s",
	    bad_labels[_i].why, err.text);
}
END_TEST

/* --- before the decision --------------------------------------------------*/

static const char *const eye_bad[] = { "eye=not-admitted" };

/* clang-format off */
static const struct {
	const char *why;
	const char *species, *presentation, *temp, *caught, *supplier_date;
	const char *size, *scan;
	bool berried, bad_eye;
	enum decision proposed;
	enum receive_field at;
	const char *says;
} looks[] = {
	{ "good", "COD", "gutted", "1.5", NULL, NULL, NULL, NULL, false,
	    false, DECISION_ACCEPTED, RECEIVE_WHOLE, "" },
	/* [goods in] of the kitchen's settings: 3.0, 5.0 and, live, 7.0 */
	{ "over the note limit", "COD", "gutted", "3.1", NULL, NULL, NULL,
	    NULL, false, false, DECISION_NOTED, RECEIVE_TEMP, "above 3.0 C" },
	{ "over the refusal", "COD", "gutted", "5.1", NULL, NULL, NULL, NULL,
	    false, false, DECISION_REFUSED, RECEIVE_TEMP, "above the limit" },
	{ "live, as warm", "MUS", "live", "6.9", NULL, NULL, NULL, NULL,
	    false, false, DECISION_ACCEPTED, RECEIVE_WHOLE, "" },
	{ "live, too warm", "MUS", "live", "7.1", NULL, NULL, NULL, NULL,
	    false, false, DECISION_REFUSED, RECEIVE_TEMP, "7.0 C" },
	{ "frozen", "COD", "gutted", "-18", NULL, NULL, NULL, NULL, false,
	    false, DECISION_NOTED, RECEIVE_TEMP, "is frozen" },
	{ "old", "COD", "gutted", "1", "2026-11-01", NULL, NULL, NULL, false,
	    false, DECISION_REFUSED, RECEIVE_WHOLE, "out of date already" },
	{ "past the supplier's date", "COD", "gutted", "1", NULL,
	    "2026-11-24", NULL, NULL, false, false, DECISION_REFUSED,
	    RECEIVE_SUPPLIER_DATE, "use-by has passed" },
	/* Cod 35 cm in area 4: Reg. (EU) 2019/1241 Annex V Part A */
	{ "undersized", "COD", "gutted", "1", NULL, NULL, "349", NULL, false,
	    false, DECISION_NOTED, RECEIVE_SIZE, "under the minimum of 350" },
	{ "just right", "COD", "gutted", "1", NULL, NULL, "350", NULL, false,
	    false, DECISION_ACCEPTED, RECEIVE_WHOLE, "" },
	/* SI 2017/899 */
	{ "berried", "LBE", "live", "5", NULL, NULL, NULL, NULL, true, false,
	    DECISION_REFUSED, RECEIVE_CONDITION, "berried" },
	{ "eye not admitted", "COD", "gutted", "1", NULL, NULL, NULL, NULL,
	    false, true, DECISION_REFUSED, RECEIVE_MARKS, "refusal proposed" },
	/* Later than the label's: only a refusal, whatever the note. */
	{ "use-by after the label's", "COD", "gutted", "1", NULL,
	    "2026-11-29", NULL, ITEM "17261128", false, false,
	    DECISION_REFUSED, RECEIVE_SUPPLIER_DATE, "later than the label" },
	{ "use-by before the label's", "COD", "gutted", "1", NULL,
	    "2026-11-27", NULL, ITEM "17261128", false, false,
	    DECISION_ACCEPTED, RECEIVE_WHOLE, "" },
	/* AI 7003 ends at 08:00: the day before is the whole day */
	{ "use-by of its hour", "COD", "gutted", "1", NULL, "2026-11-28",
	    NULL, ITEM "70032611280800", false, false, DECISION_REFUSED,
	    RECEIVE_SUPPLIER_DATE, "label's 2026-11-27" },
	{ "caught after the label's", "COD", "gutted", "1", "2026-11-24",
	    NULL, NULL, ITEM "7007261123", false, false, DECISION_REFUSED,
	    RECEIVE_CAUGHT, "later than the label" },
	{ "another species on the label", "COD", "gutted", "1", NULL, NULL,
	    NULL, ITEM "7008HAD", false, false, DECISION_NOTED,
	    RECEIVE_SPECIES, "the label says HAD" },
	/* AI 7006, first freezing */
	{ "frozen by the label", "COD", "gutted", "1", NULL, NULL, NULL,
	    ITEM "7006260101", false, false, DECISION_NOTED, RECEIVE_SCAN,
	    "first frozen" },
};
/* clang-format on */

static struct receive_in
looked_at(int i)
{
	struct receive_in in = kitchen_cod();

	in.species = looks[i].species;
	in.presentation = looks[i].presentation;
	in.temp = looks[i].temp;
	in.caught = looks[i].caught;
	in.supplier_date = looks[i].supplier_date;
	in.seen.size = looks[i].size;
	in.seen.berried = looks[i].berried;
	if (looks[i].bad_eye) {
		in.seen.marks[0] = eye_bad[0];
		in.seen.mark_count = 1;
	}
	if (looks[i].scan != NULL) {
		in.scans[0] = looks[i].scan;
		in.scan_count = 1;
	}
	return in;
}

/* What is proposed, with the reason at its field; nothing is recorded, and
 * receive() agrees about every decision. */
START_TEST(look_rows)
{
	struct receive_in in = looked_at(_i);
	int64_t before = kitchen_records(&k);
	struct receive_view v;
	struct batch b;
	enum receive_field at;
	struct err err = { 0 };
	int d;

	ck_assert_msg(receive_look(&v, &at, k.sn, &in, &err) == RC_OK, "%s: %s",
	    looks[_i].why, err.text);
	ck_assert_int_eq(kitchen_records(&k), before);
	ck_assert_msg(v.proposed == looks[_i].proposed, "%s: %s: %s",
	    looks[_i].why, decision_word(v.proposed), v.why);
	ck_assert_msg(
	    v.why_at == looks[_i].at, "%s: %d", looks[_i].why, v.why_at);
	ck_assert_msg(strstr(v.why, looks[_i].says) != NULL, "%s: %s",
	    looks[_i].why, v.why);
	ck_assert(v.mildest == v.proposed || looks[_i].bad_eye);
	ck_assert(v.dated == (v.mildest != DECISION_REFUSED));
	ck_assert_int_eq(at, RECEIVE_WHOLE);
	in.note = "as found";
	for (d = DECISION_ACCEPTED; d <= DECISION_REFUSED; d++) {
		in.decision = (enum decision)d;
		ck_assert_msg((receive(&b, NULL, k.sn, &in, NULL) == RC_OK) ==
			((enum decision)d >= v.mildest),
		    "%s: %s", looks[_i].why, decision_word(in.decision));
		if (in.decision == v.mildest && v.dated)
			ck_assert_int_eq(b.use_by_utc, v.bound.utc);
	}
}
END_TEST

/* clang-format off */
static const struct {
	const char *why;
	const char *species, *presentation, *count, *weight, *each;
	const char *price, *area, *caught, *dispatched, *mark, *size;
	enum receive_field at;
	enum rc rc;
} wrongs[] = {
	{ "species", "QQQ", "gutted", "10", "20kg", NULL, NULL, "27.4.a",
	    NULL, NULL, NULL, NULL, RECEIVE_SPECIES, RC_NOTFOUND },
	{ "presentation", "COD", "smoked", "10", "20kg", NULL, NULL, "27.4.a",
	    NULL, NULL, NULL, NULL, RECEIVE_PRESENTATION, RC_INVALID },
	{ "not sold so", "COD", "live", "10", "20kg", NULL, NULL, "27.4.a",
	    NULL, NULL, NULL, NULL, RECEIVE_PRESENTATION, RC_INVALID },
	{ "count", "COD", "gutted", "0", "20kg", NULL, NULL, "27.4.a",
	    NULL, NULL, NULL, NULL, RECEIVE_COUNT, RC_INVALID },
	{ "mean", "COD", "gutted", "5000", "5kg", NULL, NULL, "27.4.a",
	    NULL, NULL, NULL, NULL, RECEIVE_COUNT, RC_INVALID },
	{ "weight", "COD", "gutted", "10", NULL, NULL, NULL, "27.4.a",
	    NULL, NULL, NULL, NULL, RECEIVE_WEIGHT, RC_INVALID },
	{ "sum", "COD", "gutted", "2", "5kg", "2000,2100", NULL, "27.4.a",
	    NULL, NULL, NULL, NULL, RECEIVE_FISH_WEIGHTS, RC_INVALID },
	{ "price", "COD", "gutted", "10", "20kg", NULL, "-1", "27.4.a",
	    NULL, NULL, NULL, NULL, RECEIVE_PRICE, RC_INVALID },
	{ "area", "COD", "gutted", "10", "20kg", NULL, NULL, "27.11",
	    NULL, NULL, NULL, NULL, RECEIVE_AREA, RC_INVALID },
	{ "caught ahead", "COD", "gutted", "10", "20kg", NULL, NULL, "27.4.a",
	    "2026-11-26", NULL, NULL, NULL, RECEIVE_CAUGHT, RC_REFUSED },
	{ "sent before the catch", "COD", "gutted", "10", "20kg", NULL, NULL,
	    "27.4.a", "2026-11-25", "2026-11-24", NULL, NULL,
	    RECEIVE_DISPATCHED, RC_REFUSED },
	{ "mark", "COD", "gutted", "10", "20kg", NULL, NULL, "27.4.a", NULL,
	    NULL, "wing=a", NULL, RECEIVE_MARKS, RC_INVALID },
	{ "size", "COD", "gutted", "10", "20kg", NULL, NULL, "27.4.a", NULL,
	    NULL, NULL, "0", RECEIVE_SIZE, RC_INVALID },
};
/* clang-format on */

/* What is wrong whatever is decided: look and receive name one field. */
START_TEST(wrong_rows)
{
	struct receive_in in = kitchen_cod();
	struct receive_view v;
	struct batch b;
	enum receive_field at;

	in.species = wrongs[_i].species;
	in.presentation = wrongs[_i].presentation;
	in.count = wrongs[_i].count;
	in.weight = wrongs[_i].weight;
	in.fish_weights = wrongs[_i].each;
	in.price = wrongs[_i].price;
	in.area = wrongs[_i].area;
	in.caught = wrongs[_i].caught;
	in.dispatched = wrongs[_i].dispatched;
	in.seen.size = wrongs[_i].size;
	in.seen.marks[0] = wrongs[_i].mark;
	in.seen.mark_count = wrongs[_i].mark != NULL;
	ck_assert_msg(receive_look(&v, &at, k.sn, &in, NULL) == wrongs[_i].rc,
	    "%s", wrongs[_i].why);
	ck_assert_msg(at == wrongs[_i].at, "%s: %d", wrongs[_i].why, at);
	ck_assert_msg(receive_at(&b, &at, k.sn, &in, NULL) == wrongs[_i].rc,
	    "%s", wrongs[_i].why);
	ck_assert_msg(at == wrongs[_i].at, "%s: %d", wrongs[_i].why, at);
}
END_TEST

/* A clock in doubt gives no date, and says why.  A record of next year, as an
 * earlier and wrong clock left it. */
START_TEST(look_in_doubt)
{
	struct receive_in in = kitchen_cod();
	struct moment ahead = { .by = "AB" };
	struct receive_view v;
	struct err err = { 0 };

	k.sn->clock.fixed = false;
	ahead.utc = clock_now(&k.sn->clock) + 31536000;
	rig_note(k.sn->st, &ahead);
	ck_assert_msg(
	    receive_look(&v, NULL, k.sn, &in, &err) == RC_OK, "%s", err.text);
	ck_assert_int_eq(v.proposed, DECISION_ACCEPTED);
	ck_assert_ptr_nonnull(strstr(v.doubt, "last record"));
	ck_assert(!v.dated);
}
END_TEST

/* --- lists ----------------------------------------------------------------*/

START_TEST(lists)
{
	struct receive_in in = kitchen_cod();
	struct supplier_list s;
	struct batch_list l;
	struct batch b[3];
	int i;

	for (i = 0; i < 3; i++)
		b[i] = kitchen_receive(&k, &in);
	ck_assert_int_eq(received_on(&l, k.sn,
			     local_from_utc(b[0].received.utc).day, 2, NULL),
	    RC_OK);
	ck_assert_uint_eq(l.count, 2);
	ck_assert_str_eq(l.items[0].code, b[2].code);
	ck_assert_str_eq(l.items[1].code, b[1].code);
	batch_list_fini(&l);
	ck_assert_int_eq(
	    received_on(
		&l, k.sn, local_from_utc(b[0].received.utc).day + 1, 2, NULL),
	    RC_OK);
	ck_assert_uint_eq(l.count, 0);
	batch_list_fini(&l);
	ck_assert_int_eq(suppliers_known(&s, k.sn, 9, NULL), RC_OK);
	ck_assert_uint_eq(s.count, 2);
	ck_assert_str_eq(s.items[0].code, "pier");
	ck_assert_str_eq(s.items[1].code, "reef");
	supplier_list_fini(&s);
	ck_assert_int_eq(suppliers_known(&s, k.sn, 1, NULL), RC_OK);
	ck_assert_uint_eq(s.count, 1);
	supplier_list_fini(&s);
}
END_TEST

Suite *
suite_ops_receive(void)
{
	TCase *t = tcase_create("receive");
	Suite *s = suite_create("ops_receive");

	tcase_add_checked_fixture(t, setup, teardown);
	tcase_add_test(t, label_fills);
	tcase_add_test(t, label_of_two_symbols);
	tcase_add_loop_test(t, label_refused, 0, (int)NELEM(bad_labels));
	tcase_add_loop_test(t, look_rows, 0, (int)NELEM(looks));
	tcase_add_loop_test(t, wrong_rows, 0, (int)NELEM(wrongs));
	tcase_add_test(t, look_in_doubt);
	tcase_add_test(t, lists);
	suite_add_tcase(s, t);
	return s;
}
