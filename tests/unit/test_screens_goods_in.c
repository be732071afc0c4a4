/*
 * test_screens_goods_in.c - Goods in where a script of keys cannot reach: a
 * clock in doubt, and a scale that is asked beside the station.
 */
#include "unit.h"

#include <string.h>
#include <sys/stat.h>
#include <time.h>

#include "base/str.h"
#include "kitchen.h"
#include "screens/desk.h"
#include "store/audit.h"
#include "trail_rig.h"

static struct kitchen k;
static struct desk_host host;
static struct desk *d;
static int64_t now_ms;

static void
setup(void)
{
	kitchen_open(&k);
	memset(&host, 0, sizeof(host));
	now_ms = 1000;
	d = desk_new(k.sn, &host, 80, 24);
	str_copy(d->by, sizeof(d->by), "AK");
	desk_show(d, SCREEN_GOODS_IN);
}

static void
teardown(void)
{
	desk_free(d);
	kitchen_close(&k);
}

static void
press(enum key_code code)
{
	struct key key = key_of(code);

	desk_key(d, &key, now_ms += 200);
}

static void
type(const char *text)
{
	struct key key;

	while (*text != '\0') {
		key = key_char(utf8_next(&text));
		desk_key(d, &key, now_ms += 200);
	}
}

static void
field(const char *text)
{
	type(text);
	press(KEY_CODE_ENTER);
}

static bool
seen(const char *want)
{
	struct buf text;
	bool found;

	desk_draw(d);
	buf_init(&text, 65536);
	canvas_text(&text, &d->canvas);
	found = strstr(buf_text(&text), want) != NULL;
	buf_fini(&text);
	return found;
}

/* Up to the weight, then the rest of a good batch. */
static void
fill_to_weight(void)
{
	type("n");
	field("pier");
	field("DN 1");
	field("COD");
	field("gutted");
	press(KEY_CODE_ENTER);
}

static void
fill_rest(void)
{
	field("1");
	field("L");
	field("27.7.e");
	type("caught");
	press(KEY_CODE_PAGE_DOWN);
	press(KEY_CODE_PAGE_DOWN);
}

/* --- a clock in doubt ------------------------------------------------------*/

START_TEST(in_doubt)
{
	struct moment ahead = { .by = "AB" };
	int64_t before;

	/* A record of next year, as an earlier and wrong clock left it. */
	k.sn->clock.fixed = false;
	ahead.utc = clock_now(&k.sn->clock) + 31536000;
	rig_note(k.sn->st, &ahead);
	before = kitchen_records(&k);
	fill_to_weight();
	field("9kg");
	fill_rest();
	ck_assert(seen("No use-by while the clock is in doubt"));
	ck_assert(!seen("use by"));
	field("accept");
	press(KEY_CODE_F12);
	ck_assert(seen("Refused: the clock reads"));
	ck_assert(!seen("Recorded"));
	ck_assert_int_eq(kitchen_records(&k), before);
	/* What was typed is there. */
	press(KEY_CODE_PAGE_UP);
	press(KEY_CODE_PAGE_UP);
	ck_assert(seen("9kg"));
}
END_TEST

/* --- the scale -------------------------------------------------------------*/

static char program[320];

/* A program that answers as `pinbone weigh` does. */
static void
scale_says(const char *script)
{
	str_copy(k.sn->cfg.scale, sizeof(k.sn->cfg.scale), "usb:any");
	kitchen_write(program, &k, "weigh.sh", script);
	ck_assert_int_eq(chmod(program, 0700), 0);
	host.program = program;
}

/* Time passes until `want` is on the screen; false: 10 s were not enough. */
static bool
comes(const char *want)
{
	const struct timespec nap = { 0, 20000000 };
	int i;

	for (i = 0; i < 500 && !seen(want); i++) {
		nanosleep(&nap, NULL);
		desk_tick(d, now_ms += 1000);
		d->key_ms = now_ms;
	}
	return seen(want);
}

START_TEST(weighed)
{
	scale_says("#!/bin/sh\necho still moving >&2\necho 9.250 kg\n");
	fill_to_weight();
	type("w");
	ck_assert(comes("9.250 kg from the scale"));
	ck_assert(seen("9250"));
	press(KEY_CODE_ENTER);
	fill_rest();
	ck_assert(seen("9.250 kg"));
}
END_TEST

/* While it waits the cook goes on typing; the weight lands in its field. */
START_TEST(does_not_block)
{
	scale_says("#!/bin/sh\nsleep 1\necho 850 g\n");
	fill_to_weight();
	type("w");
	type("w");
	ck_assert(seen("asked already"));
	press(KEY_CODE_ENTER);
	type("1,5");
	ck_assert(seen("1,5"));
	ck_assert(comes("850 g from the scale"));
	ck_assert(seen("1,5"));
}
END_TEST

/* What was judged is what is recorded: a scale that answers later is not heard,
 * and the next batch does not get its weight. */
START_TEST(too_late)
{
	scale_says("#!/bin/sh\nsleep 1\necho 850 g\n");
	fill_to_weight();
	type("w");
	field("9kg");
	fill_rest();
	ck_assert(seen("9.000 kg"));
	ck_assert(!comes("850 g"));
	field("accept");
	press(KEY_CODE_F12);
	ck_assert_int_eq(kitchen_count(&k,
			     "SELECT count(*) FROM batch"
			     " WHERE weight_g = 9000"),
	    1);
	ck_assert(!seen("850 g"));
}
END_TEST

START_TEST(each_weighed)
{
	scale_says("#!/bin/sh\necho 2.050 kg\n");
	fill_to_weight();
	type("f");
	type("w");
	ck_assert(comes("1  2.050 kg"));
	type("w");
	ck_assert(comes("2  2.050 kg"));
	press(KEY_CODE_ESC);
	ck_assert(seen("4100"));
	ck_assert(seen("2 fish weighed one by one"));
}
END_TEST

/* clang-format off */
static const struct {
	const char *why, *script, *says;
} faults[] = {
	{ "no scale there", "#!/bin/sh\n"
	    "echo 'pinbone: no scale is there: plug it in' >&2\nexit 5\n",
	    "Caution: no scale is there: plug it in. Type the weight" },
	{ "an answer of no weight", "#!/bin/sh\necho hello\n",
	    "could not be read: type the weight" },
	{ "no answer", "#!/bin/sh\nexit 0\n",
	    "could not be read: type the weight" },
};
/* clang-format on */

START_TEST(scale_faults)
{
	scale_says(faults[_i].script);
	fill_to_weight();
	type("w");
	ck_assert_msg(
	    comes(faults[_i].says), "%s: %s", faults[_i].why, d->notice);
	/* Nothing came of it, and the next try is possible. */
	ck_assert(seen("850 or 12,4 kg; w weighs"));
	type("w");
	ck_assert(!seen("asked already"));
}
END_TEST

/* --- the record ------------------------------------------------------------*/

static int printed;

static void
print(void *arg)
{
	(void)arg;
	printed++;
}

/* One batch, its fish and its tray label, once; the next begins empty but for
 * the delivery. */
START_TEST(recorded)
{
	printed = 0;
	host.print = print;
	fill_to_weight();
	press(KEY_CODE_UP);
	type("f");
	field("2100");
	field("1900");
	press(KEY_CODE_ESC);
	press(KEY_CODE_ENTER);
	press(KEY_CODE_ENTER);
	fill_rest();
	type("a");
	press(KEY_CODE_F12);
	ck_assert(seen("The tray label is in the queue."));
	press(KEY_CODE_F12);
	ck_assert_int_eq(kitchen_count(&k,
			     "SELECT count(*) FROM batch WHERE"
			     " count = 2 AND weight_g = 4000"
			     " AND decision = 'accepted' AND by = 'AK'"),
	    1);
	ck_assert_int_eq(
	    kitchen_count(&k, "SELECT count(*) FROM batch_fish"), 2);
	ck_assert_int_eq(
	    kitchen_count(&k, "SELECT count(*) FROM print_job"), 1);
	ck_assert_int_eq(printed, 1);
	press(KEY_CODE_ENTER);
	ck_assert(seen("North Pier Fish"));
	ck_assert(seen("DN 1"));
	ck_assert(!seen("Cod"));
	ck_assert(!seen("27.7.e"));
	field("PLE");
	field("gutted");
	press(KEY_CODE_ENTER);
	field("5kg");
	field("9");
	field("L");
	field("27.4.b");
	type("caught");
	press(KEY_CODE_PAGE_DOWN);
	press(KEY_CODE_PAGE_DOWN);
	type("r");
	press(KEY_CODE_ENTER);
	type("warm");
	press(KEY_CODE_F12);
	ck_assert(seen("sent back"));
	ck_assert_int_eq(kitchen_count(&k,
			     "SELECT count(*) FROM batch WHERE"
			     " decision = 'refused' AND note = 'warm'"),
	    1);
	ck_assert_int_eq(
	    kitchen_count(&k, "SELECT count(*) FROM batch_fish"), 2);
	ck_assert_int_eq(
	    kitchen_count(&k, "SELECT count(*) FROM print_job"), 1);
	ck_assert_int_eq(printed, 1);
	ck_assert_int_eq(kitchen_count(&k, "SELECT count(*) FROM delivery"), 1);
}
END_TEST

/* A label is of one batch.  Identifiers: GS1 Barcode Syntax Dictionary. */
START_TEST(label_goes_with_its_batch)
{
	static const char label[] =
	    "]C1011234567890123131020009601726113010LOT77";

	desk_show(d, SCREEN_TODAY);
	desk_scan(d, label, strlen(label), now_ms += 200);
	ck_assert(seen("LOT77"));
	ck_assert(seen("label: 1 scan"));
	field("pier");
	field("DN 2");
	field("COD");
	field("gutted");
	press(KEY_CODE_ENTER);
	press(KEY_CODE_ENTER);
	field("1");
	press(KEY_CODE_ENTER);
	field("27.7.e");
	type("caught");
	press(KEY_CODE_PAGE_DOWN);
	press(KEY_CODE_PAGE_DOWN);
	type("a");
	press(KEY_CODE_F12);
	ck_assert_int_eq(kitchen_count(&k,
			     "SELECT count(*) FROM batch WHERE"
			     " lot = 'LOT77' AND weight_g = 9600"),
	    1);
	press(KEY_CODE_ENTER);
	ck_assert(!seen("LOT77"));
	ck_assert(!seen("label"));
	/* The same label again is the next box. */
	desk_scan(d, label, strlen(label), now_ms += 200);
	ck_assert(seen("LOT77"));
}
END_TEST

/* What the look could not know is refused at the record, at its field. */
START_TEST(past_midnight)
{
	int64_t before;

	fill_to_weight();
	field("9kg");
	field("1");
	field("L");
	field("27.7.e");
	field("caught");
	press(KEY_CODE_ENTER);
	press(KEY_CODE_ENTER);
	press(KEY_CODE_ENTER);
	type("2026-11-25"); /* their use-by: today */
	press(KEY_CODE_PAGE_DOWN);
	press(KEY_CODE_PAGE_DOWN);
	ck_assert(seen("Proposed: accept"));
	kitchen_at(&k, "2026-11-26T00:05");
	before = kitchen_records(&k);
	type("a");
	press(KEY_CODE_F12);
	ck_assert(seen("Refused: the supplier's use-by has passed"));
	ck_assert_int_eq(kitchen_records(&k), before);
	press(KEY_CODE_PAGE_UP);
	press(KEY_CODE_PAGE_UP);
	d->notice[0] = '\0'; /* at the field, not only at the foot */
	ck_assert(seen("the supplier's use-by has"));
}
END_TEST

/* Nobody's record is none; Esc leaves everything as it was. */
START_TEST(needs_initials)
{
	int64_t before = kitchen_records(&k);

	d->by[0] = '\0';
	fill_to_weight();
	field("9kg");
	fill_rest();
	type("a");
	press(KEY_CODE_F12);
	ck_assert(seen("Who works?"));
	ck_assert_int_eq(kitchen_records(&k), before);
	press(KEY_CODE_ESC);
	ck_assert(seen("Proposed: accept"));
	ck_assert_int_eq(kitchen_records(&k), before);
}
END_TEST

/* Marks are of the fish they were given for. */
START_TEST(marks_of_another_fish)
{
	int i;

	fill_to_weight();
	field("9kg");
	field("1");
	field("L");
	field("27.7.e");
	type("caught");
	press(KEY_CODE_PAGE_DOWN);
	type("n"); /* skin: not admitted */
	press(KEY_CODE_PAGE_DOWN);
	ck_assert(seen("Proposed: refuse"));
	press(KEY_CODE_PAGE_UP);
	ck_assert(seen("dull all over"));
	press(KEY_CODE_PAGE_UP);
	/* from Method up to Species */
	for (i = 0; i < 7; i++)
		press(KEY_CODE_UP);
	press(KEY_CODE_CUT_OFF);
	field("MUS");
	press(KEY_CODE_CUT_OFF);
	field("live");
	press(KEY_CODE_PAGE_DOWN);
	ck_assert(seen("closes when tapped"));
	ck_assert(!seen("dull all over"));
	press(KEY_CODE_PAGE_DOWN);
	ck_assert(seen("Proposed: accept"));
	ck_assert(seen("freshness: not looked at"));
}
END_TEST

/* --- leaving and coming back -----------------------------------------------*/

/* Typed text outlives other screens, records of others and an idle return. */
START_TEST(nothing_is_lost)
{
	struct receive_in in = kitchen_cod();

	fill_to_weight();
	type("9k");
	press(KEY_CODE_F1 + 1);
	kitchen_receive(&k, &in);
	desk_tick(d, now_ms += 2000);
	desk_show(d, SCREEN_GOODS_IN);
	ck_assert(seen("9k"));
	type("g");
	press(KEY_CODE_ENTER);
	ck_assert(seen("9.000 kg"));
	desk_tick(d, now_ms += 10 * 3600 * 1000);
	desk_show(d, SCREEN_GOODS_IN);
	ck_assert(seen("9.000 kg"));
	press(KEY_CODE_ESC);
	ck_assert(seen("A batch is half typed"));
	ck_assert(seen("1 batch today"));
}
END_TEST

Suite *
suite_screens_goods_in(void)
{
	TCase *t = tcase_create("screens_goods_in");
	Suite *s = suite_create("screens_goods_in");

	tcase_add_checked_fixture(t, setup, teardown);
	tcase_set_timeout(t, 60);
	tcase_add_test(t, in_doubt);
	tcase_add_test(t, weighed);
	tcase_add_test(t, does_not_block);
	tcase_add_test(t, too_late);
	tcase_add_test(t, each_weighed);
	tcase_add_loop_test(t, scale_faults, 0, (int)NELEM(faults));
	tcase_add_test(t, recorded);
	tcase_add_test(t, label_goes_with_its_batch);
	tcase_add_test(t, past_midnight);
	tcase_add_test(t, needs_initials);
	tcase_add_test(t, marks_of_another_fish);
	tcase_add_test(t, nothing_is_lost);
	suite_add_tcase(s, t);
	return s;
}
