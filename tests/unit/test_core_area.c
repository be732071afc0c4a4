/*
 * test_core_area.c - the area list against FAO's codes, the old style of ICES
 * against the dot form, and files that must be refused.
 */
#include "unit.h"

#include <string.h>

#include "base/buf.h"
#include "base/file.h"
#include "core/area.h"

static struct area_table real;

static void
load_real(void)
{
	struct buf b;
	struct err err;

	err_clear(&err);
	buf_init(&b, FILE_READ_MAX);
	ck_assert_msg(
	    file_read(&b, "config/areas.csv", &err) == RC_OK, "%s", err.text);
	ck_assert_msg(
	    area_parse(&real, "config/areas.csv", b.data, b.len, &err) == RC_OK,
	    "%s", err.text);
	buf_fini(&b);
}

static void
drop_real(void)
{
	area_fini(&real);
}

/*
 * Source: FAO fishing areas as listed by the Fisheries Data Interoperability
 * group (github fdiwg/fdi-codelists, global/cwp/cl_fao_areas.csv).  Names are
 * our short words for the ones there.
 */
/* clang-format off */
static const struct {
	const char *text, *code, *name, *parent;
	int depth, major;
} listed[] = {
	{ "27.7.e", "27.7.e", "Western English Channel", "27.7", 3, 27 },
	{ "27.7.E", "27.7.e", "Western English Channel", "27.7", 3, 27 },
	{ "27.3.d.28.2", "27.3.d.28.2", "East of Gotland (open sea)",
	    "27.3.d.28", 5, 27 },
	{ "27.3.a.20", "27.3.a.20", "Skagerrak", "27.3.a", 4, 27 },
	{ "27.3.a.21", "27.3.a.21", "Kattegat", "27.3.a", 4, 27 },
	{ "27.3.b.23", "27.3.b.23", "Sound", "27.3.b", 4, 27 },
	{ "27.3.c.22", "27.3.c.22", "Belt Sea", "27.3.c", 4, 27 },
	{ "27.4.b", "27.4.b", "Central North Sea", "27.4", 3, 27 },
	{ "27.6.b", "27.6.b", "Rockall", "27.6", 3, 27 },
	{ "27.7.d", "27.7.d", "Eastern English Channel", "27.7", 3, 27 },
	{ "27.7.f", "27.7.f", "Bristol Channel", "27.7", 3, 27 },
	{ "27.7.j.2", "27.7.j.2", "South-West of Ireland, east, outside NEAFC",
	    "27.7.j", 4, 27 },
	{ "27.14", "27.14", "East Greenland", "27", 2, 27 },
	{ "37.1.1", "37.1.1", "Balearic", "37.1", 3, 37 },
	{ "37.4.3", "37.4.3", "Sea of Azov", "37.4", 3, 37 },
	{ "27", "27", "North-East Atlantic", NULL, 1, 27 },
	{ "FAO 87", "87", "South-East Pacific", NULL, 1, 87 },
	{ "67", "67", "North-East Pacific", NULL, 1, 67 },
	{ "05", "05", "Europe, inland waters", NULL, 1, 5 },
	/* The old style with roman figures: from memory, as every list of
	 * catch quotas before the dot form wrote it. */
	{ "VIIe", "27.7.e", "Western English Channel", "27.7", 3, 27 },
	{ "viie", "27.7.e", "Western English Channel", "27.7", 3, 27 },
	{ "VII e", "27.7.e", "Western English Channel", "27.7", 3, 27 },
	{ "ICES VIIe", "27.7.e", "Western English Channel", "27.7", 3, 27 },
	{ "FAO 27.VIIe", "27.7.e", "Western English Channel", "27.7", 3, 27 },
	{ "27.7e", "27.7.e", "Western English Channel", "27.7", 3, 27 },
	{ "7e", "27.7.e", "Western English Channel", "27.7", 3, 27 },
	{ "IVb", "27.4.b", "Central North Sea", "27.4", 3, 27 },
	{ "IV", "27.4", "North Sea", "27", 2, 27 },
	{ "ICES 4", "27.4", "North Sea", "27", 2, 27 },
	{ "VIa", "27.6.a", "West of Scotland", "27.6", 3, 27 },
	{ "VIIIa", "27.8.a", "Bay of Biscay North", "27.8", 3, 27 },
	{ "IXa", "27.9.a", "Portuguese waters, east", "27.9", 3, 27 },
	{ "XIVb", "27.14.b", "South-East Greenland", "27.14", 3, 27 },
	{ "IIIa20", "27.3.a.20", "Skagerrak", "27.3.a", 4, 27 },
	{ "IIId 28.2", "27.3.d.28.2", "East of Gotland (open sea)",
	    "27.3.d.28", 5, 27 },
	{ "Va", "27.5.a", "Iceland", "27.5", 3, 27 },
	{ " 27.7.e ", "27.7.e", "Western English Channel", "27.7", 3, 27 },
};

static const struct {
	const char *text;
	const char *said; /* part of the message */
} unknown[] = {
	{ "27.11", "27 North-East Atlantic is known" },
	{ "27.7.z", "27.7 Irish Sea, West of Ireland" },
	{ "26", "no fishing area \"26\"" },
	{ "VIIz", "27.7 Irish Sea" },
	{ "XI", "27 North-East Atlantic is known" },
	{ "47.B.1", "47 South-East Atlantic is known" },
	{ "27.7.e.e.e.e", "is not a fishing area code" },
	{ "7", "is not a fishing area code" },
	{ "27.", "is not a fishing area code" },
	{ "", "is not a fishing area code" },
	{ "North Sea", "is not a fishing area code" },
	{ "Scotland", "is not a fishing area code" },
	{ "farmed in Norway", "is not a fishing area code" },
	{ "Loch Awe, United Kingdom, a very long description of it all",
	    "is not a fishing area code" },
};
/* clang-format on */

START_TEST(listed_rows)
{
	const struct area *a = NULL;
	const struct area *p;
	struct err err;

	err_clear(&err);
	ck_assert_msg(area_find(&a, &real, listed[_i].text, &err) == RC_OK,
	    "%s: %s", listed[_i].text, err.text);
	ck_assert_str_eq(a->code, listed[_i].code);
	ck_assert_str_eq(a->name, listed[_i].name);
	p = area_parent(&real, a);
	if (listed[_i].parent == NULL)
		ck_assert_ptr_null(p);
	else
		ck_assert_str_eq(p->code, listed[_i].parent);
	ck_assert_int_eq(area_depth(a->code), listed[_i].depth);
	ck_assert_int_eq(area_major(a->code), listed[_i].major);
}
END_TEST

START_TEST(unknown_rows)
{
	const struct area *a = NULL;
	struct err err;

	err_clear(&err);
	ck_assert_int_eq(
	    area_find(&a, &real, unknown[_i].text, &err), RC_NOTFOUND);
	ck_assert_ptr_null(a);
	ck_assert_msg(strstr(err.text, unknown[_i].said) != NULL, "%s: %s",
	    unknown[_i].text, err.text);
}
END_TEST

/* The same source lists these major areas, and no others with two digits
 * but 98 and 99, which are for "not elsewhere". */
START_TEST(majors)
{
	static const int want[] = { 1, 2, 3, 4, 5, 6, 7, 8, 18, 21, 27, 31, 34,
		37, 41, 47, 48, 51, 57, 58, 61, 67, 71, 77, 81, 87, 88 };
	size_t i, n = 0;

	for (i = 0; i < real.count; i++) {
		if (area_depth(real.items[i].code) != 1)
			continue;
		ck_assert_uint_lt(n, NELEM(want));
		ck_assert_int_eq(area_major(real.items[i].code), want[n]);
		n++;
	}
	ck_assert_uint_eq(n, NELEM(want));
}
END_TEST

/* Counted in that list: subareas of 27, and divisions of 27 and 37. */
START_TEST(counts)
{
	size_t i, sub27 = 0, div27 = 0, sub37 = 0, div37 = 0;
	int major, depth;

	for (i = 0; i < real.count; i++) {
		major = area_major(real.items[i].code);
		depth = area_depth(real.items[i].code);
		sub27 += major == 27 && depth == 2;
		div27 += major == 27 && depth == 3;
		sub37 += major == 37 && depth == 2;
		div37 += major == 37 && depth == 3;
	}
	ck_assert_uint_eq(sub27, 12);
	ck_assert_uint_eq(div27, 39);
	ck_assert_uint_eq(sub37, 4);
	ck_assert_uint_eq(div37, 10);
}
END_TEST

START_TEST(every_row)
{
	const struct area *a, *found;
	size_t i;

	for (i = 0; i < real.count; i++) {
		a = &real.items[i];
		ck_assert_int_eq(
		    area_find(&found, &real, a->code, NULL), RC_OK);
		ck_assert_ptr_eq(found, a);
		ck_assert_uint_le(strlen(a->code), AREA_CODE_MAX);
		ck_assert(
		    area_depth(a->code) == 1 || area_parent(&real, a) != NULL);
	}
}
END_TEST

/* Art. 38(1)(a) of Reg. (EU) 1379/2013, as a trade page explains it
 * (tg-seafood.de/fao-karte): inside 27 and 37 finer than the area. */
static const struct {
	const char *code;
	bool enough;
} enough[] = {
	{ "27", false },
	{ "37", false },
	{ "27.4", true },
	{ "27.7.e", true },
	{ "37.1", true },
	{ "34", true },
	{ "87", true },
	{ "05", true },
};

START_TEST(enough_rows)
{
	ck_assert_int_eq(area_enough(enough[_i].code), enough[_i].enough);
}
END_TEST

static const struct {
	const char *code, *outer;
	bool within;
} insides[] = {
	{ "27.7.e", "27.7", true },
	{ "27.7.e", "27.7.e", true },
	{ "27.7", "27.7.e", false },
	{ "27.10", "27.1", false },
	{ "27.14.a", "27.1", false },
	{ "27", "2", false },
};

START_TEST(within_rows)
{
	ck_assert_int_eq(area_within(insides[_i].code, insides[_i].outer),
	    insides[_i].within);
}
END_TEST

#define HEADER "code,name,verified,source\n"

static const struct {
	const char *why, *data, *said;
} files[] = {
	{ "plain", HEADER "27,a,yes,x\n27.7,b,no,y\n", NULL },
	{ "empty", HEADER, "a.csv:1:1: no areas in it" },
	{ "one digit", HEADER "7,a,yes,x\n", "a.csv:2:1: code \"7\" is not" },
	{ "capital", HEADER "27,a,yes,x\n27.7.E,a,yes,x\n",
	    "a.csv:3:1: code \"27.7.E\" is not" },
	{ "three digits", HEADER "27,a,yes,x\n27.100,a,yes,x\n",
	    "a.csv:3:1: code \"27.100\" is not" },
	{ "six parts", HEADER "27.1.a.1.1.1,a,yes,x\n", "a.csv:2:1: code" },
	{ "point at the end", HEADER "27.,a,yes,x\n", "a.csv:2:1: code" },
	{ "too long", HEADER "27.10.a.10.10.a,a,yes,x\n", "a.csv:2:1: code" },
	{ "no parent", HEADER "27,a,yes,x\n27.7.e,b,yes,x\n",
	    "a.csv:3:1: code \"27.7.e\" stands before its parent 27.7" },
	{ "twice", HEADER "27,a,yes,x\n27,b,yes,x\n",
	    "a.csv:3:1: code \"27\" appears twice" },
	{ "no name", HEADER "27,,yes,x\n", "a.csv:2:4: name is empty" },
	{ "verified", HEADER "27,a,maybe,x\n",
	    "a.csv:2:6: verified \"maybe\" is not one of no, yes" },
	{ "no source", HEADER "27,a,yes,\n", "a.csv:2:10: source is empty" },
	{ "column missing", "code,name\n",
	    "a.csv:1:1: column \"verified\" is missing" },
};

START_TEST(file_rows)
{
	struct area_table t;
	struct err err;
	enum rc rc;

	err_clear(&err);
	rc = area_parse(
	    &t, "a.csv", files[_i].data, strlen(files[_i].data), &err);
	if (files[_i].said == NULL) {
		ck_assert_msg(rc == RC_OK, "%s", err.text);
	} else {
		ck_assert_msg(rc == RC_INVALID, "%s", files[_i].why);
		ck_assert_msg(strncmp(err.text, files[_i].said,
				  strlen(files[_i].said)) == 0,
		    "%s: %s", files[_i].why, err.text);
		ck_assert(t.items == NULL && t.count == 0);
	}
	area_fini(&t);
}
END_TEST

Suite *
suite_core_area(void)
{
	Suite *s = suite_create("core_area");
	TCase *tc = tcase_create("the real file");

	tcase_add_checked_fixture(tc, load_real, drop_real);
	tcase_add_loop_test(tc, listed_rows, 0, (int)NELEM(listed));
	tcase_add_loop_test(tc, unknown_rows, 0, (int)NELEM(unknown));
	tcase_add_test(tc, majors);
	tcase_add_test(tc, counts);
	tcase_add_test(tc, every_row);
	suite_add_tcase(s, tc);
	tc = tcase_create("codes and files");
	tcase_add_loop_test(tc, enough_rows, 0, (int)NELEM(enough));
	tcase_add_loop_test(tc, within_rows, 0, (int)NELEM(insides));
	tcase_add_loop_test(tc, file_rows, 0, (int)NELEM(files));
	suite_add_tcase(s, tc);
	return s;
}
