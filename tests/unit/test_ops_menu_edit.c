/*
 * test_ops_menu_edit.c - dishes and bookings changed by hand: the same checks
 * as files have, whole or not at all, and portions made keep their cut.
 */
#include "unit.h"

#include <stdlib.h>
#include <string.h>

#include "base/str.h"
#include "kitchen.h"
#include "ops/bring_in.h"
#include "ops/menu_edit.h"
#include "store/portions.h"

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

/* The kitchen's own cod-leeks, as its file has it. */
static struct dish_in
leeks(void)
{
	struct dish_in in = {
		.dish = {
			[MENU_DISH] = "cod-leeks",
			[MENU_NAME] = "Cod, leeks",
			[MENU_STATE] = "raw",
			[MENU_ALLERGENS] = "milk",
			[MENU_MIX] = "lunch:10 dinner:20",
		},
		.cuts = { {
			[MENU_SPECIES] = "COD",
			[MENU_CUT] = "supreme",
			[MENU_SKIN] = "on",
			[MENU_BOUGHT] = "gutted",
			[MENU_LOW] = "150",
			[MENU_TARGET] = "165",
			[MENU_HIGH] = "180",
		} },
		.cut_count = 1,
		.by = "AB",
	};

	return in;
}

START_TEST(as_it_was_changes_nothing)
{
	struct dish_in in = leeks();
	struct err err = { 0 };
	int64_t before = kitchen_records(&k);

	ck_assert_msg(menu_put(NULL, k.sn, &in, &err) == RC_OK, "%s", err.text);
	ck_assert_int_eq(kitchen_records(&k), before);
	ck_assert_int_eq(
	    kitchen_count(&k, "SELECT count(*) FROM cut WHERE current = 0"), 0);
}
END_TEST

/* clang-format off */
static const struct {
	const char *why;
	enum menu_column column;
	size_t cut;
	const char *typed, *says;
} wrongs[] = {
	{ "code in capitals", MENU_DISH, 0, "Cod", "a-z, 0-9 and -" },
	{ "no name", MENU_NAME, 0, "", "name" },
	{ "name with a line end", MENU_NAME, 0, "a\nb", "name" },
	{ "name that begins with a blank", MENU_NAME, 0, " Cod", "blank" },
	{ "no such state", MENU_STATE, 0, "fried", "state" },
	{ "state of a pack", MENU_STATE, 0, "vacuum", "a dish is raw" },
	{ "mix of a service there is not", MENU_MIX, 0, "brunch:10",
	    "SERVICE:PERCENT" },
	{ "mix over the whole", MENU_MIX, 0, "lunch:101", "share" },
	{ "price with three decimals", MENU_PRICE, 0, "12.345", "price" },
	{ "no such species", MENU_SPECIES, 0, "unicorn", "unicorn" },
	{ "one of two species", MENU_SPECIES, 0, "COD|unicorn", "unicorn" },
	{ "no such cut", MENU_CUT, 0, "dice", "dice" },
	{ "skin half", MENU_SKIN, 0, "half", "skin is on or off" },
	{ "cod bought live", MENU_BOUGHT, 0, "live", "not bought live" },
	{ "low above target", MENU_TARGET, 0, "140", "low <= target" },
	{ "low of nothing", MENU_LOW, 0, "0", "low" },
	{ "a tonne", MENU_HIGH, 0, "5000kg", "high" },
	{ "yield of nothing", MENU_YIELD, 0, "0", "gives nothing" },
	{ "finish over the whole", MENU_FINISH, 0, "120", "finish" },
	{ "pieces of a supreme", MENU_PIECES, 0, "6", "shell and meat" },
	{ "second cut, its weight", MENU_LOW, 1, "x", "low" },
	{ "second cut, same species", MENU_DISH, 1, NULL, "twice" },
	{ "a quote in the name changes nothing else", MENU_MIX, 0, "\"",
	    "SERVICE:PERCENT" },
};
/* clang-format on */

START_TEST(wrong_rows)
{
	struct dish_in in = leeks();
	struct dish_wrong w;
	struct err err = { 0 };
	int64_t before = kitchen_records(&k);
	const char **at;

	in.add = wrongs[_i].column == MENU_DISH && wrongs[_i].cut == 0;
	in.dish[MENU_ALLERGENS] = "milk, \"egg\", nuts";
	if (wrongs[_i].cut > 0) {
		memcpy(in.cuts[1], in.cuts[0], sizeof(in.cuts[1]));
		in.cuts[1][MENU_SPECIES] = "HKE";
		in.cut_count = 2;
	}
	if (wrongs[_i].typed == NULL) {
		in.cuts[1][MENU_SPECIES] = "COD";
	} else {
		at = wrongs[_i].column < MENU_SPECIES
		    ? &in.dish[wrongs[_i].column]
		    : &in.cuts[wrongs[_i].cut][wrongs[_i].column];
		*at = wrongs[_i].typed;
	}
	ck_assert_msg(menu_put(&w, k.sn, &in, &err) == RC_INVALID, "%s: %s",
	    wrongs[_i].why, err.text);
	ck_assert_msg(w.column == wrongs[_i].column && w.cut == wrongs[_i].cut,
	    "%s: column %d of cut %zu: %s", wrongs[_i].why, (int)w.column,
	    w.cut, err.text);
	ck_assert_msg(strstr(err.text, wrongs[_i].says) != NULL, "%s: %s",
	    wrongs[_i].why, err.text);
	ck_assert_msg(strstr(err.text, "typed:") == NULL, "%s", err.text);
	ck_assert_int_eq(kitchen_records(&k), before);
}
END_TEST

START_TEST(no_cut_at_all)
{
	struct dish_in in = leeks();

	in.cut_count = 0;
	ck_assert_int_eq(menu_put(NULL, k.sn, &in, NULL), RC_INVALID);
	in.cut_count = DISH_CUTS_MAX + 1;
	ck_assert_int_eq(menu_put(NULL, k.sn, &in, NULL), RC_INVALID);
}
END_TEST

START_TEST(add_and_change)
{
	struct dish_in in = leeks();
	struct dish_wrong w;
	struct err err = { 0 };

	in.add = true;
	ck_assert_int_eq(menu_put(&w, k.sn, &in, &err), RC_REFUSED);
	ck_assert_ptr_nonnull(strstr(err.text, "is a dish already"));
	ck_assert_int_eq(w.column, MENU_DISH);
	in.dish[MENU_DISH] = "hake-leeks";
	in.cuts[0][MENU_SPECIES] = "HKE|Cod";
	err_clear(&err);
	ck_assert_msg(menu_put(NULL, k.sn, &in, &err) == RC_OK, "%s", err.text);
	ck_assert_int_eq(
	    kitchen_count(&k,
		"SELECT count(*) FROM cut c JOIN dish d ON d.id = c.dish_id"
		" WHERE d.code = 'hake-leeks' AND c.part = 0 AND c.current"),
	    2);
	/* the other dishes stay on the menu, unlike with a whole file */
	ck_assert_int_eq(
	    kitchen_count(&k, "SELECT count(*) FROM dish WHERE on_menu"), 6);
	in.add = false;
	in.dish[MENU_DISH] = "gone";
	ck_assert_int_eq(menu_put(NULL, k.sn, &in, NULL), RC_NOTFOUND);
	/* a species less is a cut less */
	in.dish[MENU_DISH] = "hake-leeks";
	in.cuts[0][MENU_SPECIES] = "HKE";
	ck_assert_int_eq(menu_put(NULL, k.sn, &in, NULL), RC_OK);
	ck_assert_int_eq(
	    kitchen_count(&k,
		"SELECT count(*) FROM cut c JOIN dish d ON d.id = c.dish_id"
		" WHERE d.code = 'hake-leeks' AND c.current"),
	    1);
	ck_assert_int_eq(
	    kitchen_count(&k,
		"SELECT count(*) FROM audit WHERE action = 'menu' AND"
		" subject = 'hake-leeks' AND by = 'AB'"),
	    2);
	in.by = "";
	in.dish[MENU_NAME] = "Other";
	ck_assert_int_eq(menu_put(NULL, k.sn, &in, NULL), RC_INVALID);
}
END_TEST

/* A tray made to 150-165-180 g stays one, whatever the menu says later. */
START_TEST(portions_keep_their_cut)
{
	struct dish_in in = leeks();
	struct batch b;
	struct breakdown made;
	int64_t cut;

	made = kitchen_trays(&b, &k);
	cut = kitchen_count(&k, "SELECT min(cut_id) FROM portion");
	in.cuts[0][MENU_LOW] = "190";
	in.cuts[0][MENU_TARGET] = "200";
	in.cuts[0][MENU_HIGH] = "210";
	ck_assert_int_eq(menu_put(NULL, k.sn, &in, NULL), RC_OK);
	ck_assert_int_eq(
	    kitchen_count(&k, "SELECT min(cut_id) FROM portion"), cut);
	ck_assert_int_eq(kitchen_count(&k,
			     "SELECT low_g FROM cut WHERE id ="
			     " (SELECT min(cut_id) FROM portion)"),
	    150);
	ck_assert_int_eq(
	    kitchen_count(&k,
		"SELECT c.low_g FROM cut c JOIN dish d ON d.id = c.dish_id"
		" WHERE d.code = 'cod-leeks' AND c.current"),
	    190);
	breakdown_fini(&made);
}
END_TEST

START_TEST(off_and_on_again)
{
	struct menu_list l;
	struct plan_cut c;

	ck_assert_int_eq(
	    menu_take(k.sn, "cod-leeks", false, "AB", NULL), RC_OK);
	ck_assert_int_eq(
	    cut_find(&c, k.sn->st, "cod-leeks", "COD", NULL), RC_NOTFOUND);
	ck_assert_int_eq(menu_list_open(&l, k.sn, false, 0, 10, NULL), RC_OK);
	ck_assert_uint_eq(l.count, 1);
	ck_assert_str_eq(l.items[0].dish.name, "Cod, leeks");
	ck_assert_uint_eq(l.items[0].cuts, 1);
	menu_list_fini(&l);
	/* nothing new, nothing recorded */
	ck_assert_int_eq(
	    menu_take(k.sn, "cod-leeks", false, "AB", NULL), RC_OK);
	ck_assert_int_eq(menu_take(k.sn, "cod-leeks", true, "AB", NULL), RC_OK);
	ck_assert_int_eq(
	    kitchen_count(
		&k, "SELECT count(*) FROM audit WHERE action = 'menu'"),
	    2);
	ck_assert_int_eq(
	    cut_find(&c, k.sn->st, "cod-leeks", "COD", NULL), RC_OK);
	ck_assert_int_eq(
	    menu_take(k.sn, "unicorn", false, "AB", NULL), RC_NOTFOUND);
}
END_TEST

START_TEST(list_in_parts)
{
	struct menu_list l;

	ck_assert_int_eq(menu_list_open(&l, k.sn, true, 1, 2, NULL), RC_OK);
	ck_assert_uint_eq(l.count, 2);
	ck_assert_str_eq(l.items[0].dish.code, "cod-leeks");
	ck_assert_int_eq(l.items[0].share_bp[0], 1000); /* lunch:10 */
	ck_assert_int_eq(l.items[0].share_bp[1], 2000);
	ck_assert_int_eq(l.cuts[l.items[0].first].target_g, 165);
	ck_assert_str_eq(l.items[1].dish.code, "mussel-pot");
	ck_assert_str_eq(l.cuts[l.items[1].first].species, "MUS");
	menu_list_fini(&l);
	ck_assert_int_eq(menu_list_open(&l, k.sn, true, 9, 2, NULL), RC_OK);
	ck_assert_uint_eq(l.count, 0);
	menu_list_fini(&l);
}
END_TEST

/* clang-format off */
static const struct {
	const char *why;
	const char *service, *covers, *parties;
	enum rc rc;
	bool at_parties;
	const char *says;
} books[] = {
	{ "more", "dinner", "72", NULL, RC_OK, false, "" },
	{ "none", "dinner", "0", "", RC_OK, false, "" },
	{ "as it was", "dinner", "60", NULL, RC_OK, false, "" },
	{ "with parties", "dinner", "12", "2x3 6", RC_OK, false, "" },
	{ "too many", "dinner", "5001", NULL, RC_INVALID, false, "5000" },
	{ "half a cover", "dinner", "12.5", NULL, RC_INVALID, false,
	    "covers" },
	{ "nothing typed", "dinner", NULL, NULL, RC_INVALID, false,
	    "covers" },
	{ "no such service", "brunch", "12", NULL, RC_INVALID, false,
	    "brunch" },
	{ "parties of more", "dinner", "12", "2x8", RC_INVALID, true,
	    "the parties are 16 guests" },
	{ "no parties", "dinner", "12", "two", RC_INVALID, true, "two" },
};
/* clang-format on */

START_TEST(booking_rows)
{
	struct booking_in in = { .service = books[_i].service,
		.covers = books[_i].covers,
		.parties = books[_i].parties,
		.by = "AB" };
	struct err err = { 0 };
	bool at_parties = true;
	int64_t before = kitchen_records(&k);

	ck_assert_int_eq(day_parse(&in.day, "d", "2026-11-25", NULL), RC_OK);
	ck_assert_msg(booking_put(&at_parties, k.sn, &in, &err) == books[_i].rc,
	    "%s: %s", books[_i].why, err.text);
	ck_assert_msg(strstr(err.text, books[_i].says) != NULL &&
		strstr(err.text, "typed:") == NULL,
	    "%s: %s", books[_i].why, err.text);
	ck_assert_int_eq(at_parties, books[_i].at_parties);
	if (books[_i].rc != RC_OK)
		ck_assert_int_eq(kitchen_records(&k), before);
}
END_TEST

START_TEST(booking_is_told)
{
	struct booking_in in = { .service = "dinner",
		.covers = "12",
		.parties = "2x3 6",
		.by = "AB" };
	struct covers_list l;

	ck_assert_int_eq(day_parse(&in.day, "d", "2026-11-27", NULL), RC_OK);
	ck_assert_int_eq(booking_put(NULL, k.sn, &in, NULL), RC_OK);
	in.covers = "14";
	in.parties = NULL;
	ck_assert_int_eq(booking_put(NULL, k.sn, &in, NULL), RC_OK);
	ck_assert_int_eq(
	    kitchen_count(&k,
		"SELECT count(*) FROM audit WHERE action = 'booking' AND"
		" subject = '2026-11-27/dinner' AND detail IN"
		" ('nothing -> 12 covers: 2x3 6',"
		"  '12 covers: 2x3 6 -> 14 covers')"),
	    2);
	ck_assert_int_eq(
	    covers_list_open(&l, k.sn, in.day - 2, 3, NULL), RC_OK);
	ck_assert_uint_eq(l.count, 6);
	ck_assert(l.items[0].booked);
	ck_assert_int_eq(l.items[0].service.covers, 40);
	ck_assert(!l.items[2].booked); /* Thursday lunch */
	ck_assert_int_eq(l.items[3].service.covers, 30);
	ck_assert_int_eq(l.items[5].service.covers, 14);
	covers_list_fini(&l);
}
END_TEST

/* A dish typed and the same from a file are one: two parts, two species, every
 * optional figure. */
START_TEST(typed_is_as_from_a_file)
{
	struct import_result r;
	struct dish_in in = leeks();
	char path[320];

	in.dish[MENU_DISH] = "hake-two";
	in.dish[MENU_NAME] = "Hake \"two ways\", beans";
	in.dish[MENU_PRICE] = "22.50";
	in.cuts[0][MENU_SPECIES] = "HKE|POK";
	in.cuts[0][MENU_YIELD] = "45.5";
	in.cuts[0][MENU_FINISH] = "96";
	memcpy(in.cuts[1], in.cuts[0], sizeof(in.cuts[0]));
	in.cuts[1][MENU_SPECIES] = "MUS";
	in.cuts[1][MENU_CUT] = "shell";
	in.cuts[1][MENU_BOUGHT] = "live";
	in.cuts[1][MENU_YIELD] = NULL;
	in.cuts[1][MENU_PIECES] = "12";
	in.cut_count = 2;
	in.add = true;
	ck_assert_int_eq(menu_put(NULL, k.sn, &in, NULL), RC_OK);
	kitchen_write(path, &k, "same.csv",
	    "dish,name,state,species,cut,skin,bought,low,target,high,mix,"
	    "allergens,price,yield,finish,pieces\n"
	    "hake-two,\"Hake \"\"two ways\"\", beans\",raw,HKE|POK,supreme,on,"
	    "gutted,150,165,180,lunch:10 dinner:20,milk,22.50,45.5,96,\n"
	    "hake-two,\"Hake \"\"two ways\"\", beans\",raw,MUS,shell,on,live,"
	    "150,165,180,lunch:10 dinner:20,milk,22.50,,96,12\n");
	ck_assert_int_eq(import_menu(&r, k.sn, path, "AB", NULL), RC_OK);
	ck_assert_int_eq(r.same, 3);
	ck_assert_int_eq(r.added + r.changed, 0);
}
END_TEST

Suite *
suite_ops_menu_edit(void)
{
	Suite *s = suite_create("ops_menu_edit");
	TCase *t = tcase_create("menu");

	tcase_add_checked_fixture(t, setup, teardown);
	tcase_add_test(t, as_it_was_changes_nothing);
	tcase_add_loop_test(t, wrong_rows, 0, NELEM(wrongs));
	tcase_add_test(t, no_cut_at_all);
	tcase_add_test(t, add_and_change);
	tcase_add_test(t, portions_keep_their_cut);
	tcase_add_test(t, off_and_on_again);
	tcase_add_test(t, list_in_parts);
	tcase_add_loop_test(t, booking_rows, 0, NELEM(books));
	tcase_add_test(t, booking_is_told);
	tcase_add_test(t, typed_is_as_from_a_file);
	suite_add_tcase(s, t);
	return s;
}
