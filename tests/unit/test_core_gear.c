/*
 * test_core_gear.c - gear codes against FAO's list and against Annex III of
 * Reg. (EU) 1379/2013, row by row, and files that must be refused.
 */
#include "unit.h"

#include <string.h>

#include "base/buf.h"
#include "base/file.h"
#include "core/gear.h"

static struct gear_table real;

static void
load_real(void)
{
	struct buf b;
	struct err err;

	err_clear(&err);
	buf_init(&b, FILE_READ_MAX);
	ck_assert_msg(
	    file_read(&b, "config/gear.csv", &err) == RC_OK, "%s", err.text);
	ck_assert_msg(
	    gear_parse(&real, "config/gear.csv", b.data, b.len, &err) == RC_OK,
	    "%s", err.text);
	buf_fini(&b);
}

static void
drop_real(void)
{
	gear_fini(&real);
}

/*
 * Source: Reg. (EU) No 1379/2013 Annex III, codes of all its rows
 * (kustcodex.be, Dutch text); names of the categories hellofish.it.
 */
/* clang-format off */
static const struct {
	const char *category, *codes;
} annex[] = {
	{ "Seines", "SB SDN SSC SPR" },
	{ "Trawls", "TBB OTB PTB OTM PTM OTT" },
	{ "Gillnets and similar nets", "GNS GND GNC GTR GTN" },
	{ "Surrounding nets and lift nets", "PS LA LNB LNS" },
	{ "Hooks and lines", "LHP LHM LLS LLD LTL" },
	{ "Dredges", "DRB DRH HMD" },
	{ "Pots and traps", "FPO" },
};

/* Source: FAO ISSCFG 2016 (github fdiwg/fdi-codelists,
 * global/cl_isscfg_gear.csv). */
static const struct {
	const char *number, *code;
} isscfg[] = {
	{ "01.1", "PS" }, { "02.1", "SB" }, { "02.2", "SV" },
	{ "03.11", "TBB" }, { "03.12", "OTB" }, { "03.13", "OTT" },
	{ "03.14", "OTP" }, { "03.21", "OTM" }, { "03.3", "TSP" },
	{ "04.1", "DRB" }, { "04.3", "DRM" }, { "05.2", "LNB" },
	{ "06.1", "FCN" }, { "07.1", "GNS" }, { "07.5", "GTR" },
	{ "08.2", "FPO" }, { "08.4", "FSN" }, { "09.1", "LHP" },
	{ "09.31", "LLS" }, { "09.39", "LL" }, { "09.5", "LTL" },
	{ "10.1", "HAR" }, { "10.8", "MDV" }, { "99.9", "NK" },
};

static const struct {
	const char *why, *text, *code; /* code NULL: a category */
	enum gear_category category;
} finds[] = {
	{ "worked example", "OTT", "OTT", GEAR_TRAWLS },
	{ "worked example, not FAO's", "HMD", "HMD", GEAR_DREDGES },
	{ "lower case", "fpo", "FPO", GEAR_POTS },
	{ "zero dropped", "9.31", "LLS", GEAR_HOOKS },
	{ "FAO only", "SV", "SV", GEAR_NONE },
	{ "FAO only", "DRM", "DRM", GEAR_NONE },
	{ "FAO only", "04.3", "DRM", GEAR_NONE },
	{ "category", "Hooks and lines", NULL, GEAR_HOOKS },
	{ "category, any case", "pots and TRAPS", NULL, GEAR_POTS },
};
/* clang-format on */

START_TEST(annex_rows)
{
	struct gear_found f;
	struct err err;
	const char *p = annex[_i].codes;
	char code[4];
	size_t n, i, members = 0, listed = 0;

	err_clear(&err);
	for (; *p != '\0'; p += n + (p[n] == ' ')) {
		n = strcspn(p, " ");
		memcpy(code, p, n);
		code[n] = '\0';
		ck_assert_msg(
		    gear_find(&f, &real, code, &err) == RC_OK, "%s", err.text);
		ck_assert_str_eq(
		    gear_category_name(f.category), annex[_i].category);
		listed++;
	}
	/* And no gear beside these is put into the category. */
	for (i = 0; i < real.count; i++)
		members += strcmp(gear_category_name(real.items[i].category),
			       annex[_i].category) == 0;
	ck_assert_uint_eq(members, listed);
}
END_TEST

START_TEST(isscfg_rows)
{
	struct gear_found f;

	ck_assert_int_eq(gear_find(&f, &real, isscfg[_i].number, NULL), RC_OK);
	ck_assert_str_eq(f.gear->code, isscfg[_i].code);
	ck_assert_int_eq(gear_find(&f, &real, isscfg[_i].code, NULL), RC_OK);
	ck_assert_str_eq(f.gear->isscfg, isscfg[_i].number);
	ck_assert(f.gear->in_fao);
}
END_TEST

START_TEST(find_rows)
{
	struct gear_found f;

	ck_assert_msg(gear_find(&f, &real, finds[_i].text, NULL) == RC_OK, "%s",
	    finds[_i].why);
	ck_assert_int_eq(f.category, finds[_i].category);
	if (finds[_i].code == NULL)
		ck_assert_ptr_null(f.gear);
	else
		ck_assert_str_eq(f.gear->code, finds[_i].code);
}
END_TEST

/* Annex III has SDN SSC SPR HMD, FAO's list has not; 60 kinds are in it. */
START_TEST(both_alphabets)
{
	size_t i, fao = 0, other = 0;

	for (i = 0; i < real.count; i++) {
		fao += real.items[i].in_fao;
		if (real.items[i].in_fao)
			continue;
		other++;
		ck_assert_ptr_nonnull(
		    strstr("HMD SDN SPR SSC", real.items[i].code));
		ck_assert_str_eq(real.items[i].isscfg, "");
	}
	ck_assert_uint_eq(other, 4);
	ck_assert_uint_eq(fao, 60);
}
END_TEST

static const char *const nothing[] = { "XYZ", "", "03", "trawl", "nets",
	"no Annex III category", "9.3", "09.310" };

START_TEST(unknown_rows)
{
	struct gear_found f;
	struct err err;

	err_clear(&err);
	ck_assert_int_eq(gear_find(&f, &real, nothing[_i], &err), RC_NOTFOUND);
	ck_assert_ptr_nonnull(strstr(err.text, "Pots and traps"));
}
END_TEST

#define HEADER "isscfg,code,name,category,in_fao,verified,source\n"
#define ROW "03.12,OTB,b,Trawls,yes,yes,x\n"

static const struct {
	const char *why, *data, *said;
} files[] = {
	{ "plain", HEADER ROW ",HMD,b,Dredges,no,yes,x\n", NULL },
	{ "no row", HEADER, "g.csv:1:1: no gear in it" },
	{ "one letter", HEADER "03.1,O,b,Trawls,yes,yes,x\n",
	    "g.csv:2:6: code \"O\" is not two or three" },
	{ "four letters", HEADER "03.1,OTBX,b,Trawls,yes,yes,x\n",
	    "g.csv:2:6: code \"OTBX\"" },
	{ "lower case", HEADER "03.1,otb,b,Trawls,yes,yes,x\n",
	    "g.csv:2:6: code \"otb\"" },
	{ "no number", HEADER ",OTB,b,Trawls,yes,yes,x\n",
	    "g.csv:2:1: isscfg \"\" is not a number" },
	{ "number of letters", HEADER "3.12,OTB,b,Trawls,yes,yes,x\n",
	    "g.csv:2:1: isscfg \"3.12\"" },
	{ "number and not FAO", HEADER "03.12,OTB,b,Trawls,no,yes,x\n",
	    "g.csv:2:1: a number \"03.12\" though in_fao is no" },
	{ "category", HEADER "03.12,OTB,b,Trawl,yes,yes,x\n",
	    "g.csv:2:13: category \"Trawl\" is not one of" },
	{ "in_fao", HEADER "03.12,OTB,b,Trawls,y,yes,x\n",
	    "g.csv:2:20: in_fao \"y\" is not one of no, yes" },
	{ "code twice", HEADER ROW "03.13,OTB,b,Trawls,yes,yes,x\n",
	    "g.csv:3:7: code \"OTB\" appears twice" },
	{ "number twice", HEADER ROW "03.12,OTT,b,Trawls,yes,yes,x\n",
	    "g.csv:3:1: isscfg \"03.12\" already stands for OTB" },
	{ "no source", HEADER "03.12,OTB,b,Trawls,yes,yes,\n",
	    "g.csv:2:28: source is empty" },
};

START_TEST(file_rows)
{
	struct gear_table t;
	struct err err;
	enum rc rc;

	err_clear(&err);
	rc = gear_parse(
	    &t, "g.csv", files[_i].data, strlen(files[_i].data), &err);
	if (files[_i].said == NULL) {
		ck_assert_msg(rc == RC_OK, "%s", err.text);
	} else {
		ck_assert_msg(rc == RC_INVALID, "%s", files[_i].why);
		ck_assert_msg(strncmp(err.text, files[_i].said,
				  strlen(files[_i].said)) == 0,
		    "%s: %s", files[_i].why, err.text);
		ck_assert(t.items == NULL && t.count == 0);
	}
	gear_fini(&t);
}
END_TEST

Suite *
suite_core_gear(void)
{
	Suite *s = suite_create("core_gear");
	TCase *tc = tcase_create("the real file");

	tcase_add_checked_fixture(tc, load_real, drop_real);
	tcase_add_loop_test(tc, annex_rows, 0, (int)NELEM(annex));
	tcase_add_loop_test(tc, isscfg_rows, 0, (int)NELEM(isscfg));
	tcase_add_loop_test(tc, find_rows, 0, (int)NELEM(finds));
	tcase_add_loop_test(tc, unknown_rows, 0, (int)NELEM(nothing));
	tcase_add_test(tc, both_alphabets);
	suite_add_tcase(s, tc);
	tc = tcase_create("files");
	tcase_add_loop_test(tc, file_rows, 0, (int)NELEM(files));
	suite_add_tcase(s, tc);
	return s;
}
