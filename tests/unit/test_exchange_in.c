/*
 * test_exchange_in.c - bookings, menu and suppliers from files: what is read,
 * and that what is not understood is refused with its place.
 */
#include "unit.h"

#include <stdlib.h>
#include <string.h>

#include "base/buf.h"
#include "base/file.h"
#include "base/str.h"
#include "exchange/records_in.h"
#include "kitchen.h"

static struct species_table fish;
static const struct service_names services = { { "lunch", "dinner" }, 2 };

static void
setup(void)
{
	kitchen_tables(&fish, NULL);
}

static void
teardown(void)
{
	species_fini(&fish);
}

/* --- bookings
 * ---------------------------------------------------------------*/

START_TEST(bookings_read)
{
	static const char text[] =
	    "\xef\xbb\xbf"
	    "covers,service,date\r\n"
	    "46,lunch,2026-12-04\r\n"
	    "\r\n"
	    "5000,DINNER,2026-12-04\r\n"
	    "0,lunch,2028-02-29\r\n";
	struct service *s;
	struct err err = { 0 };
	day_no d;
	size_t n;

	ck_assert_msg(bookings_parse(&s, &n, "b.csv", text, sizeof(text) - 1,
			  &services, &err) == RC_OK,
	    "%s", err.text);
	ck_assert_uint_eq(n, 3);
	ck_assert(day_from_civil(&d, 2026, 12, 4));
	ck_assert_int_eq(s[0].day, d);
	ck_assert_str_eq(s[0].name, "lunch");
	ck_assert_int_eq(s[0].covers, 46);
	ck_assert_str_eq(s[1].name, "dinner");
	ck_assert_int_eq(s[1].covers, 5000);
	ck_assert(day_from_civil(&d, 2028, 2, 29));
	ck_assert_int_eq(s[2].day, d);
	ck_assert_int_eq(s[2].covers, 0);
	free(s);
}
END_TEST

START_TEST(bookings_none)
{
	static const char text[] = "date,service,covers\n";
	struct service *s;
	size_t n = 9;

	ck_assert_int_eq(bookings_parse(&s, &n, "b.csv", text, sizeof(text) - 1,
			     &services, NULL),
	    RC_OK);
	ck_assert_uint_eq(n, 0);
	free(s);
}
END_TEST

#define B "date,service,covers\n2026-12-04,lunch,46\n"

/* clang-format off */
static const struct {
	const char *why;
	const char *text;
	const char *place; /* file, line and column */
	const char *says;
} bad_bookings[] = {
	{ "no such day", B "2026-02-29,lunch,4\n", "b.csv:3:1:", "date" },
	{ "day first", B "04/12/2026,lunch,4\n", "b.csv:3:1:", "date" },
	{ "no date", B ",lunch,4\n", "b.csv:3:1:", "date" },
	{ "service not in the settings", B "2026-12-05,brunch,4\n",
	    "b.csv:3:12:", "no [service] section" },
	{ "no covers", B "2026-12-05,lunch,\n", "b.csv:3:18:", "covers" },
	{ "covers below zero", B "2026-12-05,lunch,-1\n", "b.csv:3:18:",
	    "covers" },
	{ "half a guest", B "2026-12-05,lunch,4.5\n", "b.csv:3:18:",
	    "covers" },
	{ "more than a hall holds", B "2026-12-05,lunch,5001\n",
	    "b.csv:3:18:", "covers" },
	{ "words", B "2026-12-05,lunch,forty\n", "b.csv:3:18:", "covers" },
	{ "twice", B "2026-12-04,Lunch,4\n", "b.csv:3:1:", "twice" },
	{ "a column too many", "date,service,covers,tables\n", "b.csv:1:",
	    "tables" },
	{ "a column missing", "date,covers\n", "b.csv:1:", "service" },
	{ "a field too many", B "2026-12-05,lunch,4,9\n", "b.csv:3:", "" },
	{ "an empty file", "", "b.csv:", "" },
	{ "not UTF-8", B "2026-12-05,l\xfcnch,4\n", "b.csv:3:", "" },
};
/* clang-format on */

START_TEST(bookings_refused)
{
	struct service *s;
	size_t n;
	struct err err = { 0 };
	const char *text = bad_bookings[_i].text;

	ck_assert_msg(bookings_parse(&s, &n, "b.csv", text, strlen(text),
			  &services, &err) == RC_INVALID,
	    "%s", bad_bookings[_i].why);
	ck_assert_ptr_null(s);
	ck_assert_uint_eq(n, 0);
	ck_assert_msg(strncmp(err.text, bad_bookings[_i].place,
			  strlen(bad_bookings[_i].place)) == 0 &&
		strstr(err.text, bad_bookings[_i].says) != NULL,
	    "%s: %s", bad_bookings[_i].why, err.text);
}
END_TEST

/* --- menu
 * -------------------------------------------------------------------*/

#define M                                                                      \
	"dish,name,state,species,cut,skin,bought,low,target,high,mix,"         \
	"allergens,yield\n"
#define COD                                                                    \
	"roast-cod,\"Roast cod, leeks\",raw,COD,supreme,on,gutted,150,165,"    \
	"180,lunch:12 dinner:9.5,milk,\n"

static struct menu_row *
menu(size_t *n, const char *text)
{
	struct menu_row *rows;
	struct err err = { 0 };

	ck_assert_msg(menu_parse(&rows, n, "m.csv", text, strlen(text),
			  &services, &fish, &err) == RC_OK,
	    "%s", err.text);
	return rows;
}

START_TEST(menu_read)
{
	size_t n;
	struct menu_row *r = menu(&n,
	    M COD
	    "mussels,Mussels,live,blue mussel,shell,off,live,"
	    "450 g,0.5 kg,\"0,55 kg\",,,\n"
	    "pie,Fish pie,cooked,HAD,meat,off,whole,80,90,100,"
	    "DINNER:100,gluten,31.5\n"
	    "pie,Fish pie,cooked,Gadus morhua,meat,off,fillet,70,90,"
	    "100,DINNER:100,gluten,\n");

	ck_assert_uint_eq(n, 4);
	ck_assert_str_eq(r[0].cut.dish, "roast-cod");
	ck_assert_str_eq(r[0].cut.dish_name, "Roast cod, leeks");
	ck_assert_int_eq(r[0].cut.state, STATE_RAW);
	ck_assert_str_eq(r[0].cut.species, "COD");
	ck_assert_int_eq(r[0].cut.kind, CUT_SUPREME);
	ck_assert(r[0].cut.skin_on);
	ck_assert_int_eq(r[0].cut.bought, PRES_GUTTED);
	ck_assert_int_eq(r[0].cut.low_g, 150);
	ck_assert_int_eq(r[0].cut.target_g, 165);
	ck_assert_int_eq(r[0].cut.high_g, 180);
	ck_assert_int_eq(r[0].cut.house_yield_bp, 0);
	ck_assert_str_eq(r[0].cut.allergens, "milk");
	ck_assert_int_eq(r[0].share_bp[0], 1200);
	ck_assert_int_eq(r[0].share_bp[1], 950);
	ck_assert_str_eq(r[1].cut.species, "MUS");
	ck_assert(!r[1].cut.skin_on);
	ck_assert_int_eq(r[1].cut.target_g, 500);
	ck_assert_int_eq(r[1].cut.high_g, 550);
	ck_assert_int_eq(r[1].share_bp[0], 0);
	ck_assert_int_eq(r[2].cut.house_yield_bp, 3150);
	ck_assert_int_eq(r[2].share_bp[1], 10000);
	ck_assert_str_eq(r[3].cut.species, "COD");
	ck_assert_int_eq(r[3].cut.house_yield_bp, 0);
	free(r);
}
END_TEST

/* The file the program ships. */
START_TEST(menu_shipped)
{
	struct buf b;
	struct menu_row *r;
	size_t n;

	buf_init(&b, 100000);
	ck_assert_int_eq(file_read(&b, "config/menu.csv", NULL), RC_OK);
	r = menu(&n, buf_text(&b));
	ck_assert_uint_gt(n, 0);
	free(r);
	buf_fini(&b);
}
END_TEST

/* A good row with one field replaced by `text`. */
/* clang-format off */
static const struct {
	const char *why;
	int column; /* of the row, from 0 */
	const char *text;
	enum rc rc;
	const char *says;
} bad_fields[] = {
	{ "no code", 0, "", RC_INVALID, "dish" },
	{ "capitals in the code", 0, "Cod", RC_INVALID, "a-z, 0-9" },
	{ "a blank in the code", 0, "roast cod", RC_INVALID, "a-z, 0-9" },
	{ "a comma would break the list of dishes", 0, "\"a,b\"", RC_INVALID,
	    "a-z, 0-9" },
	{ "code of 32 bytes", 0, "aaaaaaaabbbbbbbbccccccccdddddddd",
	    RC_INVALID, "dish" },
	{ "no name", 1, "", RC_INVALID, "name" },
	{ "unknown state", 2, "cured", RC_INVALID, "cured" },
	{ "a thaw is no dish", 2, "thawed", RC_INVALID, "served-raw" },
	{ "unknown species", 3, "Kraken", RC_INVALID, "Kraken" },
	{ "unknown cut", 4, "slab", RC_INVALID, "slab" },
	{ "skin maybe", 5, "maybe", RC_INVALID, "on or off" },
	{ "no skin", 5, "", RC_INVALID, "on or off" },
	{ "unknown presentation", 6, "frozen", RC_INVALID, "frozen" },
	{ "no low weight", 7, "", RC_INVALID, "low" },
	{ "low above target", 7, "166", RC_INVALID, "low <= target" },
	{ "target above high", 8, "181", RC_INVALID, "low <= target" },
	{ "a thousand or one", 9, "\"1,000\"", RC_INVALID, "high" },
	{ "share without service", 10, "12", RC_INVALID, "SERVICE:PERCENT" },
	{ "unknown service", 10, "brunch:12", RC_INVALID, "brunch" },
	{ "more than everybody", 10, "lunch:101", RC_INVALID, "share" },
	{ "below nobody", 10, "lunch:-1", RC_INVALID, "share" },
	{ "no share behind the colon", 10, "lunch:", RC_INVALID, "share" },
	{ "a service twice: which one?", 10, "lunch:12 lunch:14", RC_INVALID,
	    "lunch" },
	{ "more than everything", 12, "101", RC_INVALID, "yield" },
	{ "a yield of nothing", 12, "0", RC_INVALID, "yield" },
	{ "an unreadable yield", 12, "half", RC_INVALID, "yield" },
};
/* clang-format on */

START_TEST(menu_field_refused)
{
	static const char *const good[] = { "roast-cod", "Roast cod", "raw",
		"COD", "supreme", "on", "gutted", "150", "165", "180",
		"lunch:12", "milk", "" };
	char text[1024] = M, place[32];
	struct menu_row *r;
	struct err err = { 0 };
	size_t n, i, len, at = 1;

	len = strlen(text);
	for (i = 0; i < NELEM(good); i++) {
		const char *f = (int)i == bad_fields[_i].column
		    ? bad_fields[_i].text
		    : good[i];

		if ((int)i == bad_fields[_i].column)
			str_fmt(place, sizeof(place), "m.csv:2:%zu:", at);
		at += strlen(f) + 1;
		str_fmt(text + len, sizeof(text) - len, "%s%s", f,
		    i + 1 < NELEM(good) ? "," : "\n");
		len = strlen(text);
	}
	ck_assert_msg(menu_parse(&r, &n, "m.csv", text, len, &services, &fish,
			  &err) == bad_fields[_i].rc,
	    "%s: %s", bad_fields[_i].why, err.text);
	ck_assert_ptr_null(r);
	ck_assert_msg(strstr(err.text, bad_fields[_i].says) != NULL, "%s: %s",
	    bad_fields[_i].why, err.text);
	/* low and high are judged together with the target, and named there */
	if (bad_fields[_i].column != 7 || bad_fields[_i].text[0] == '\0')
		ck_assert_msg(strncmp(err.text, place, strlen(place)) == 0,
		    "%s: %s, not %s", bad_fields[_i].why, err.text, place);
}
END_TEST

/* clang-format off */
static const struct {
	const char *why;
	const char *text;
	const char *says;
} bad_menus[] = {
	{ "nothing", "", "m.csv" },
	{ "no dish", M, "no dish in it" },
	{ "dish and species twice", M COD COD, "stands in the file twice" },
	{ "another name", M COD
	    "roast-cod,Cod,raw,HAD,supreme,on,gutted,150,165,180,"
	    "lunch:12 dinner:9.5,milk,\n", "differ from its row above" },
	{ "another state", M COD
	    "roast-cod,\"Roast cod, leeks\",cooked,HAD,supreme,on,gutted,150,"
	    "165,180,lunch:12 dinner:9.5,milk,\n",
	    "differ from its row above" },
	{ "other allergens", M COD
	    "roast-cod,\"Roast cod, leeks\",raw,HAD,supreme,on,gutted,150,"
	    "165,180,lunch:12 dinner:9.5,,\n", "differ from its row above" },
	{ "another share", M COD
	    "roast-cod,\"Roast cod, leeks\",raw,HAD,supreme,on,gutted,150,"
	    "165,180,lunch:12,milk,\n", "differ from its row above" },
	{ "a column missing", "dish,name\n", "m.csv:1:" },
};
/* clang-format on */

START_TEST(menu_refused)
{
	struct menu_row *r;
	size_t n;
	struct err err = { 0 };
	const char *text = bad_menus[_i].text;

	ck_assert_msg(menu_parse(&r, &n, "m.csv", text, strlen(text), &services,
			  &fish, &err) == RC_INVALID,
	    "%s", bad_menus[_i].why);
	ck_assert_ptr_null(r);
	ck_assert_msg(strstr(err.text, bad_menus[_i].says) != NULL, "%s: %s",
	    bad_menus[_i].why, err.text);
}
END_TEST

/* --- suppliers
 * ----------------------------------------------------------------*/

#define S "code,name,address,approval,contact\n"
#define LONG50 "12345678901234567890123456789012345678901234567890"

START_TEST(suppliers_read)
{
	static const char text[] =
	    "name,code,address\n"
	    "\"North Pier, Fish\",pier,\"1 Row\"\n"
	    "J\xc3\xb6rg,j\xc3\xb6rg,Kai 2\n";
	struct supplier *s;
	size_t n;

	ck_assert_int_eq(
	    suppliers_parse(&s, &n, "s.csv", text, sizeof(text) - 1, NULL),
	    RC_OK);
	ck_assert_uint_eq(n, 2);
	ck_assert_str_eq(s[0].code, "pier");
	ck_assert_str_eq(s[0].name, "North Pier, Fish");
	ck_assert_str_eq(s[0].approval, "");
	ck_assert_str_eq(s[0].contact, "");
	ck_assert_str_eq(s[1].name, "J\xc3\xb6rg");
	free(s);
}
END_TEST

/* clang-format off */
static const struct {
	const char *why;
	const char *text;
	const char *place, *says;
} bad_suppliers[] = {
	{ "no code", S ",A,B,,\n", "s.csv:2:1:", "code" },
	{ "no name", S "a,,B,,\n", "s.csv:2:3:", "name" },
	{ "no address: the law wants it", S "a,A,,,\n", "s.csv:2:5:",
	    "address" },
	{ "code too long", S LONG50 ",A,B,,\n", "s.csv:2:1:", "code" },
	{ "contact too long", S "a,A,B,," LONG50 LONG50 "\n", "s.csv:2:8:",
	    "contact" },
	{ "twice", S "a,A,B,,\na,C,D,,\n", "s.csv:3:1:", "twice" },
	{ "twice in another case", S "a,A,B,,\nA,C,D,,\n", "s.csv:3:1:",
	    "twice" },
	{ "a control character", S "a,A\x07,B,,\n", "s.csv:2:4:", "control" },
};
/* clang-format on */

START_TEST(suppliers_refused)
{
	struct supplier *s;
	size_t n;
	struct err err = { 0 };
	const char *text = bad_suppliers[_i].text;

	ck_assert_msg(suppliers_parse(&s, &n, "s.csv", text, strlen(text),
			  &err) == RC_INVALID,
	    "%s", bad_suppliers[_i].why);
	ck_assert_ptr_null(s);
	ck_assert_msg(strncmp(err.text, bad_suppliers[_i].place,
			  strlen(bad_suppliers[_i].place)) == 0 &&
		strstr(err.text, bad_suppliers[_i].says) != NULL,
	    "%s: %s", bad_suppliers[_i].why, err.text);
}
END_TEST

Suite *
suite_exchange_in(void)
{
	Suite *s = suite_create("exchange_in");
	TCase *tc = tcase_create("in");

	tcase_add_unchecked_fixture(tc, setup, teardown);
	tcase_add_test(tc, bookings_read);
	tcase_add_test(tc, bookings_none);
	tcase_add_loop_test(tc, bookings_refused, 0, (int)NELEM(bad_bookings));
	tcase_add_test(tc, menu_read);
	tcase_add_test(tc, menu_shipped);
	tcase_add_loop_test(tc, menu_field_refused, 0, (int)NELEM(bad_fields));
	tcase_add_loop_test(tc, menu_refused, 0, (int)NELEM(bad_menus));
	tcase_add_test(tc, suppliers_read);
	tcase_add_loop_test(
	    tc, suppliers_refused, 0, (int)NELEM(bad_suppliers));
	suite_add_tcase(s, tc);
	return s;
}
