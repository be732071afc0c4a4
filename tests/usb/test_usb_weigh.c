/*
 * test_usb_weigh.c - from what lies on the scale to what is recorded: waiting
 * for a weight, and the whole program as a process of its own.
 */
#include "program.h"
#include "scale_rig.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/str.h"
#include "ops/weigh.h"
#include "print/balance.h"
#include "tests/unit/kitchen.h"

static struct balance *balance;

static void
let_go(void)
{
	balance_close(balance);
	balance = NULL;
}

/* --- waiting for a weight ------------------------------------------------- */

static grams
weighs(int wait_ms)
{
	grams g = 0;

	err_clear(&err);
	if (balance == NULL)
		ck_assert_msg(balance_open(&balance, "usb:any", &err) == RC_OK,
		    "%s", err.text);
	ck_assert_msg(balance_next(&g, balance, wait_ms, NULL, &err) == RC_OK,
	    "%s", err.text);
	return g;
}

static void
no_weight(enum rc rc, int wait_ms, const char *says)
{
	grams g = 77;

	err_clear(&err);
	if (balance == NULL)
		ck_assert_int_eq(
		    balance_open(&balance, "usb:any", &err), RC_OK);
	ck_assert_int_eq(balance_next(&g, balance, wait_ms, NULL, &err), rc);
	rig_says(says);
	ck_assert_int_eq(g, 77);
}

static const struct {
	const char *why;
	struct vscale_step steps[4];
	int every_ms;
	const char *says;
} waits[] = {
	{ "nothing at all", { { 0, 0, 0, 0, 0, VSCALE_HUSH, 0 } }, 0,
	    "in 1 s: it says nothing: switch it on" },
	{ "empty", { { 0, ZERO, G, 0, 0, VSCALE_WELL, 0 } }, 50,
	    "empty, at zero" },
	{ "moving", { { 0, MOVING, G, 0, 850, VSCALE_WELL, 0 } }, 50,
	    "still moving" },
	{ "under zero", { { 0, UNDER, G, 0, 850, VSCALE_WELL, 0 } }, 50,
	    "below zero: empty it and set it to zero" },
	{ "overloaded", { { 0, OVER, G, 0, 850, VSCALE_WELL, 0 } }, 50,
	    "overloaded: take something off" },
	{ "re-zero", { { 0, REZERO, G, 0, 850, VSCALE_WELL, 0 } }, 50,
	    "asks to be set to zero" },
	{ "calibrate", { { 0, CALIBRATE, G, 0, 850, VSCALE_WELL, 0 } }, 50,
	    "asks to be calibrated" },
	{ "a fault", { { 0, FAULT, G, 0, 850, VSCALE_WELL, 0 } }, 50,
	    "reports a fault" },
	{ "stable at 0 g", { { 0, STABLE, G, 0, 0, VSCALE_WELL, 0 } }, 50,
	    "too little to weigh" },
	{ "what it said before anyone asked, and no more",
	    { { 0, STABLE, G, 0, 850, VSCALE_WELL, 0 },
		{ 100, STABLE, G, 0, 850, VSCALE_WELL, 0 } },
	    0, "may be an old one: lift the fish" },
	{ "stable and moving in turn",
	    { { 0, MOVING, G, 0, 850, VSCALE_WELL, 0 },
		{ 650, STABLE, G, 0, 850, VSCALE_WELL, 0 },
		{ 700, STABLE, G, 0, 850, VSCALE_WELL, 0 },
		{ 750, MOVING, G, 0, 850, VSCALE_WELL, 0 } },
	    0, "still moving" },
};

START_TEST(wait_rows)
{
	size_t n = 1;

	while (n < 4 && waits[_i].steps[n].status != 0)
		n++;
	vscale_play(
	    scale_rig_plug(NULL), waits[_i].steps, n, waits[_i].every_ms);
	/* of what can be no weight a moment is enough */
	no_weight(RC_RETRY,
	    waits[_i].steps[0].status == STABLE || n > 1 ? 1000 : 200,
	    waits[_i].says);
}
END_TEST

START_TEST(settles)
{
	PLAY(scale_rig_plug(NULL), 50, { 0, ZERO, G, 0, 0, VSCALE_WELL, 0 },
	    { 300, MOVING, G, 0, 400, VSCALE_WELL, 0 },
	    { 700, STABLE, G, 0, 850, VSCALE_WELL, 0 });
	ck_assert_int_eq(weighs(3000), 850);
}
END_TEST

/* One word when it changes, and silence: 44.1 lb are 20 003.42 g. */
START_TEST(speaks_once)
{
	int64_t began = vusb_now();

	PLAY(scale_rig_plug(NULL), 0, { 0, ZERO, LB, 0, 0, VSCALE_WELL, 0 },
	    { 700, STABLE, LB, -1, 441, VSCALE_WELL, 0 });
	ck_assert_int_eq(weighs(4000), 20003);
	ck_assert_int_ge(vusb_now() - began, 1700);
}
END_TEST

/* What waited in the scale since the last fish is not this fish. */
START_TEST(old_one_first)
{
	PLAY(scale_rig_plug(NULL), 0, { 0, STABLE, G, 0, 2000, VSCALE_WELL, 0 },
	    { 5, STABLE, G, 0, 2000, VSCALE_WELL, 0 },
	    { 10, STABLE, G, 0, 2000, VSCALE_WELL, 0 },
	    { 650, STABLE, G, 0, 850, VSCALE_WELL, 0 },
	    { 700, STABLE, G, 0, 850, VSCALE_WELL, 0 },
	    { 750, STABLE, G, 0, 850, VSCALE_WELL, 0 });
	ck_assert_int_eq(weighs(3000), 850);
}
END_TEST

START_TEST(one_after_another)
{
	PLAY(scale_rig_plug(NULL), 40,
	    { 0, STABLE, G, 0, 2100, VSCALE_WELL, 0 },
	    { 1500, MOVING, G, 0, 900, VSCALE_WELL, 0 },
	    { 1600, ZERO, G, 0, 0, VSCALE_WELL, 0 },
	    { 1700, STABLE, G, 0, 1950, VSCALE_WELL, 0 });
	ck_assert_int_eq(weighs(3000), 2100);
	ck_assert_int_eq(weighs(3000), 1950);
	no_weight(RC_RETRY, 400, "what was weighed last is still on it");
}
END_TEST

START_TEST(goes_wrong_while_waiting)
{
	static const struct {
		const char *says;
		enum rc rc;
		struct vscale_step step;
	} rows[] = {
		{ "was unplugged", RC_RETRY,
		    { 700, STABLE, G, 0, 850, VSCALE_UNPLUG, 0 } },
		{ "was unplugged", RC_RETRY,
		    { 700, STABLE, G, 0, 850, VSCALE_YANK, 0 } },
		{ "5 bytes, 6 are due", RC_INVALID,
		    { 700, STABLE, G, 0, 850, VSCALE_WELL, 5 } },
		{ "in taels", RC_INVALID,
		    { 700, STABLE, TAEL, 0, 850, VSCALE_WELL, 0 } },
		{ "the scale says 1001 kg, 1000 kg can be", RC_INVALID,
		    { 0, STABLE, KG, 0, 1001, VSCALE_WELL, 0 } },
	};

	vscale_play(scale_rig_plug(NULL), &rows[_i].step, 1, 50);
	no_weight(rows[_i].rc, 2000, rows[_i].says);
}
END_TEST

static char shown[400];

static void
remember(void *ctx, const char *words)
{
	size_t n = strlen(shown);

	(void)ctx;
	str_fmt(shown + n, sizeof(shown) - n, "%s; ", words);
}

START_TEST(tells_what_it_sees)
{
	const struct balance_watch watch = { remember, NULL };
	grams g;

	shown[0] = '\0';
	PLAY(scale_rig_plug(NULL), 40, { 0, ZERO, G, 0, 0, VSCALE_WELL, 0 },
	    { 200, MOVING, G, 0, 400, VSCALE_WELL, 0 },
	    { 300, MOVING, G, 0, 810, VSCALE_WELL, 0 },
	    { 700, STABLE, G, 0, 850, VSCALE_WELL, 0 });
	ck_assert_int_eq(balance_open(&balance, "usb:any", &err), RC_OK);
	ck_assert_int_eq(balance_next(&g, balance, 3000, &watch, &err), RC_OK);
	ck_assert_str_eq(shown,
	    "empty, at zero; still moving, 400 g; still moving, 810 g; "
	    "stable, 850 g; ");
}
END_TEST

START_TEST(tells_what_counted)
{
	static struct station sn;
	static struct weighing w;
	const struct weigh_in in = { .each = 2, .wait_s = 3, .show = remember };

	shown[0] = '\0';
	ck_assert(str_copy(sn.cfg.scale, sizeof(sn.cfg.scale), "usb:any"));
	PLAY(scale_rig_plug(NULL), 40,
	    { 0, STABLE, G, 0, 2100, VSCALE_WELL, 0 },
	    { 900, ZERO, G, 0, 0, VSCALE_WELL, 0 },
	    { 1000, STABLE, G, 0, 1950, VSCALE_WELL, 0 });
	ck_assert_int_eq(weigh(&w, &sn, &in, &err), RC_OK);
	ck_assert_int_eq(w.total, 4050);
	ck_assert_str_eq(shown,
	    "stable, 2.100 kg; number 1 of 2 is 2.100 kg: take it off; "
	    "empty, at zero; stable, 1.950 kg; "
	    "number 2 of 2 is 1.950 kg: take it off; ");
}
END_TEST

/* --- the whole program ---------------------------------------------------- */

static struct kitchen k;
static char out[4000];
static int64_t records;

static void
open_kitchen(void)
{
	FILE *ini;

	kitchen_open(&k);
	ini = fopen(k.ini, "a");
	ck_assert_ptr_nonnull(ini);
	fprintf(ini, "[scale]\naddress = usb:any\n");
	ck_assert_int_eq(fclose(ini), 0);
	records = kitchen_records(&k);
}

static void
close_kitchen(void)
{
	kitchen_close(&k);
}

static int
pinbone(const char *line, const char *more)
{
	return program_run(out, sizeof(out), &k, line, more);
}

#define COD                                                                    \
	"receive --by AK --supplier pier --document N-1 --species COD "        \
	"--presentation gutted --lot L-1 --area 27.7.e --method caught "       \
	"--accept --temperature "

static void
is_out(const char *words)
{
	ck_assert_msg(
	    strstr(out, words) != NULL, "\"%s\" is not in: %s", words, out);
}

START_TEST(command_weigh)
{
	PLAY(scale_rig_plug(NULL), 50,
	    { 0, STABLE, G, -1, 8504, VSCALE_WELL, 0 });
	ck_assert_int_eq(pinbone("weigh", NULL), 0);
	ck_assert_str_eq(out, "850 g\n");
	ck_assert_int_eq(kitchen_records(&k), records);
}
END_TEST

#define THREE                                                                  \
	{ 0, STABLE, G, 0, 2100, VSCALE_WELL, 0 },                             \
	    { 900, ZERO, G, 0, 0, VSCALE_WELL, 0 },                            \
	    { 1000, STABLE, G, 0, 1950, VSCALE_WELL, 0 },                      \
	    { 1300, ZERO, G, 0, 0, VSCALE_WELL, 0 },                           \
	{                                                                      \
		1400, STABLE, G, 0, 1800, VSCALE_WELL, 0                       \
	}

START_TEST(command_weigh_each)
{
	struct vscale *s = scale_rig_plug(NULL);

	PLAY(s, 40, THREE);
	ck_assert_int_eq(pinbone("--json weigh --each 3", NULL), 0);
	is_out("\"weight_g\": 5850");
	is_out("2100,\n");
	is_out("1800\n");
	PLAY(s, 40, THREE);
	ck_assert_int_eq(pinbone("weigh --each 4 --wait 1", NULL), 5);
	is_out("weighed, not recorded: --fish-weights 2100,1950,1800\n");
	is_out(
	    "pinbone: number 4 of 4: no stable weight from the scale in 1 "
	    "s: what was weighed last is still on it\n");
}
END_TEST

START_TEST(command_no_scale)
{
	ck_assert_int_eq(pinbone("weigh", NULL), 5);
	is_out("pinbone: no USB scale is plugged in: check the cable");
	ck_assert_int_eq(pinbone(COD "1.0 --weigh", NULL), 5);
	ck_assert_int_eq(kitchen_records(&k), records);
}
END_TEST

START_TEST(command_receive)
{
	struct vscale *s = scale_rig_plug(NULL);

	PLAY(s, 50, { 0, STABLE, KG, -2, 2000, VSCALE_WELL, 0 });
	ck_assert_int_eq(
	    pinbone("--json " COD "1.0 --count 10 --weigh", NULL), 0);
	is_out("\"weight_g\": 20000");
	ck_assert_int_gt(kitchen_records(&k), records);
	PLAY(s, 40, THREE);
	ck_assert_int_eq(
	    pinbone("--json " COD "1.0 --count 3 --weigh-each", NULL), 0);
	is_out("\"weight_g\": 5850");
	ck_assert_int_eq(
	    kitchen_count(&k, "SELECT sum(number * weight_g) FROM batch_fish"),
	    2100 + 2 * 1950 + 3 * 1800);
}
END_TEST

/* Nothing is made up, and nothing is weighed twice. */
START_TEST(command_receive_not)
{
	struct vscale *s = scale_rig_plug(NULL);

	PLAY(s, 50, { 0, MOVING, KG, -2, 2000, VSCALE_WELL, 0 });
	ck_assert_int_eq(
	    pinbone(COD "1.0 --count 10 --weigh --wait 1", NULL), 5);
	is_out("pinbone: no stable weight from the scale in 1 s: still moving");
	PLAY(s, 40, THREE);
	ck_assert_int_eq(pinbone(COD "9.0 --count 3 --weigh-each", NULL), 3);
	is_out("weighed, not recorded: --fish-weights 2100,1950,1800\n");
	is_out("pinbone: 9.0 C is above the limit");
	PLAY(s, 40, { 0, STABLE, G, 0, 9600, VSCALE_WELL, 0 });
	ck_assert_int_eq(pinbone(COD "9.0 --count 3 --weigh", NULL), 3);
	is_out("weighed, not recorded: --weight 9600\n");
	PLAY(s, 40, { 700, STABLE, G, 0, 9600, VSCALE_UNPLUG, 0 });
	ck_assert_int_eq(pinbone(COD "1.0 --count 3 --weigh", NULL), 5);
	is_out("was unplugged or switched off while weighing");
	ck_assert_int_eq(kitchen_records(&k), records);
}
END_TEST

START_TEST(command_prep)
{
	struct receive_in in = kitchen_cod();
	struct batch b = kitchen_receive(&k, &in);
	struct vscale *s = scale_rig_plug(NULL);

	PLAY(s, 50, { 0, STABLE, G, 0, 2000, VSCALE_WELL, 0 });
	ck_assert_int_eq(
	    pinbone(
		"prep --by AK --fish 1 --weigh --make cod-leeks:5:825", b.code),
	    0);
	is_out("2.000 kg in, ");
	ck_assert_int_eq(
	    kitchen_count(&k, "SELECT weight_g FROM prep_input"), 2000);
	PLAY(s, 50, { 0, OVER, G, 0, 2000, VSCALE_WELL, 0 });
	ck_assert_int_eq(pinbone("prep --by AK --fish 1 --weigh --wait 1 "
				 "--make cod-leeks:5:825",
			     b.code),
	    5);
	is_out("overloaded: take something off");
	ck_assert_int_eq(kitchen_count(&k, "SELECT count(*) FROM prep"), 1);
}
END_TEST

Suite *
suite_usb_weigh(void)
{
	Suite *s = suite_create("usb_weigh");
	TCase *tc = scale_rig_tcase(s, "balance", let_go);

	tcase_add_loop_test(tc, wait_rows, 0, (int)NELEM(waits));
	tcase_add_test(tc, settles);
	tcase_add_test(tc, speaks_once);
	tcase_add_test(tc, old_one_first);
	tcase_add_test(tc, one_after_another);
	tcase_add_loop_test(tc, goes_wrong_while_waiting, 0, 5);
	tcase_add_test(tc, tells_what_it_sees);
	tcase_add_test(tc, tells_what_counted);
	tc = scale_rig_tcase(s, "program", close_kitchen);
	tcase_add_checked_fixture(tc, open_kitchen, NULL);
	tcase_add_test(tc, command_weigh);
	tcase_add_test(tc, command_weigh_each);
	tcase_add_test(tc, command_no_scale);
	tcase_add_test(tc, command_receive);
	tcase_add_test(tc, command_receive_not);
	tcase_add_test(tc, command_prep);
	return s;
}
