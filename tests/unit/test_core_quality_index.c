/*
 * test_core_quality_index.c - published Quality Index schemes: totals against
 * the sheets, days only from a published line, and files to be refused.
 */
#include "unit.h"

#include <string.h>

#include "base/buf.h"
#include "base/file.h"
#include "core/quality_index.h"

static struct qi_table real;

static void
load_real(void)
{
	struct buf b;
	struct err err;

	err_clear(&err);
	buf_init(&b, FILE_READ_MAX);
	ck_assert_msg(file_read(&b, "config/quality-index.csv", &err) == RC_OK,
	    "%s", err.text);
	ck_assert_msg(qi_parse(&real, "config/quality-index.csv", b.data, b.len,
			  &err) == RC_OK,
	    "%s", err.text);
	buf_fini(&b);
}

static void
drop_real(void)
{
	qi_fini(&real);
}

/*
 * Sources: FAO Technical Paper 348 Appendix D (cod; prints no total, 23 is the
 * sum), Seafish 2010 sheets 3.2 and 3.14 (print 0-23 and 0-18), Lopez-Garcia
 * et al. 2014 (24 points at most).
 */
static const struct {
	const char *name, *species;
	int total;
	size_t attributes;
	bool printed, line;
} schemes[] = {
	{ "cod, raw whole", "COD", 23, 11, false, false },
	{ "haddock, raw whole", "HAD", 23, 10, true, false },
	{ "cod, thawed whole", "COD", 18, 7, true, false },
	{ "Greenland halibut, thawed whole", "", 24, 1, true, true },
};

START_TEST(scheme_rows)
{
	const struct qi_scheme *s = qi_find(&real, schemes[_i].name);
	size_t i;
	int sum = 0;

	ck_assert_ptr_nonnull(s);
	ck_assert_str_eq(s->species, schemes[_i].species);
	ck_assert_int_eq(s->total, schemes[_i].total);
	ck_assert_uint_eq(s->attributes, schemes[_i].attributes);
	ck_assert_int_eq(s->printed, schemes[_i].printed);
	ck_assert_int_eq(s->has_line, schemes[_i].line);
	for (i = 0; i < s->attributes; i++)
		sum += s->attribute[i].max_points;
	ck_assert_int_eq(sum, schemes[_i].total);
}
END_TEST

START_TEST(by_species)
{
	ck_assert_uint_eq(real.count, NELEM(schemes));
	ck_assert_str_eq(
	    qi_for_species(&real, "cod", 0)->name, "cod, raw whole");
	ck_assert_str_eq(
	    qi_for_species(&real, "COD", 1)->name, "cod, thawed whole");
	ck_assert_ptr_null(qi_for_species(&real, "COD", 2));
	ck_assert_ptr_null(qi_for_species(&real, "HAL", 0));
	ck_assert_ptr_null(qi_for_species(&real, "", 0));
	ck_assert_ptr_null(qi_find(&real, "hake"));
}
END_TEST

/*
 * Source: Lopez-Garcia et al. 2014, QI = 1.36 d + 4.6 (r = 0.983); the line
 * gives 11.4 on day 5, printed as the end, and 23.6 on day 14.
 */
static const struct {
	int points, tenths;
} line[] = {
	{ 0, 0 }, { 4, 0 }, { 5, 3 }, /* 0.4 / 1.36 = 0.294 */
	{ 11, 48 },               /* 6.4 / 1.36 = 4.706, just under 5 days */
	{ 12, 55 },               /* 7.4 / 1.36 = 5.441 */
	{ 23, 136 }, { 24, 143 }, /* 19.4 / 1.36 = 14.26 */
};

START_TEST(line_rows)
{
	const struct qi_scheme *s =
	    qi_find(&real, "Greenland halibut, thawed whole");
	int tenths = -1;

	ck_assert_int_eq(s->slope_milli, 1360);
	ck_assert_int_eq(s->intercept_milli, 4600);
	ck_assert_int_eq(qi_days(&tenths, s, line[_i].points, NULL), RC_OK);
	ck_assert_int_eq(tenths, line[_i].tenths);
}
END_TEST

START_TEST(no_line_no_days)
{
	struct err err;
	size_t i;
	int tenths = -7;
	int points;

	for (i = 0; i < real.count; i++)
		for (points = 0; points <= real.items[i].total; points++) {
			if (real.items[i].has_line)
				continue;
			err_clear(&err);
			ck_assert_int_eq(
			    qi_days(&tenths, &real.items[i], points, &err),
			    RC_NOTFOUND);
			ck_assert_int_eq(tenths, -7);
		}
	err_clear(&err);
	ck_assert_int_eq(
	    qi_days(&tenths, qi_find(&real, "cod, raw whole"), 24, &err),
	    RC_INVALID);
	ck_assert_str_eq(err.text, "24 points, cod, raw whole takes 0 to 23");
	err_clear(&err);
	ck_assert_int_eq(
	    qi_days(&tenths, qi_find(&real, schemes[3].name), -1, &err),
	    RC_INVALID);
}
END_TEST

/* All at the maximum is the total; all at 0 is 0. */
START_TEST(sums)
{
	struct qi_mark marks[QI_ATTRIBUTES_MAX];
	const struct qi_scheme *s = qi_find(&real, schemes[_i].name);
	size_t i;
	int got = -1;

	for (i = 0; i < s->attributes; i++) {
		marks[i].attribute = s->attribute[i].name;
		marks[i].points = s->attribute[i].max_points;
	}
	ck_assert_int_eq(qi_total(&got, s, marks, s->attributes, NULL), RC_OK);
	ck_assert_int_eq(got, schemes[_i].total);
	for (i = 0; i < s->attributes; i++)
		marks[i].points = 0;
	ck_assert_int_eq(qi_total(&got, s, marks, s->attributes, NULL), RC_OK);
	ck_assert_int_eq(got, 0);
}
END_TEST

static const struct {
	const char *why;
	const char *attribute; /* replaces the first mark */
	int points;
	size_t leave_out; /* marks at the end not given */
	const char *said;
} bad_marks[] = {
	{ "missing", "texture", 0, 1,
	    "flesh colour is not marked; a total needs every attribute" },
	{ "unknown", "fins", 0, 0, "has no attribute \"fins\"" },
	{ "twice", "SHAPE", 0, 0, "shape is marked twice" },
	{ "above", "texture", 4, 0, "4 points for texture, it takes 0 to 3" },
	{ "below", "texture", -1, 0, "-1 points for texture" },
};

START_TEST(bad_mark_rows)
{
	struct qi_mark marks[QI_ATTRIBUTES_MAX];
	const struct qi_scheme *s = qi_find(&real, "cod, thawed whole");
	struct err err;
	size_t i;
	int got = -1;

	err_clear(&err);
	for (i = 0; i < s->attributes; i++) {
		marks[i].attribute = s->attribute[i].name;
		marks[i].points = 1;
	}
	marks[0].attribute = bad_marks[_i].attribute;
	marks[0].points = bad_marks[_i].points;
	ck_assert_int_eq(qi_total(&got, s, marks,
			     s->attributes - bad_marks[_i].leave_out, &err),
	    RC_INVALID);
	ck_assert_msg(strstr(err.text, bad_marks[_i].said) != NULL, "%s: %s",
	    bad_marks[_i].why, err.text);
	ck_assert_int_eq(got, -1);
}
END_TEST

START_TEST(totals_only)
{
	struct qi_mark m = { "", 3 };
	struct err err;
	int got = -1;

	err_clear(&err);
	ck_assert_int_eq(
	    qi_total(&got, qi_find(&real, schemes[3].name), &m, 1, &err),
	    RC_INVALID);
	ck_assert_ptr_nonnull(strstr(err.text, "only the total"));
}
END_TEST

#define HEADER                                                                 \
	"scheme,species,attribute,max_points,total,total_is,slope,intercept,"  \
	"verified,source\n"

static const struct {
	const char *why, *data, *said;
} files[] = {
	{ "plain",
	    HEADER "s,COD,a,2,5,printed,,,yes,x\ns,COD,b,3,5,printed,,,yes,x\n",
	    NULL },
	{ "totals only", HEADER "s,,,24,24,printed,1360,4600,yes,x\n", NULL },
	{ "no row", HEADER, "q.csv:1:1: no schemes in it" },
	{ "sum", HEADER "s,COD,a,2,5,printed,,,yes,x\n",
	    "q.csv:1:1: maxima of \"s\" add up to 2, not to 5" },
	{ "code", HEADER "s,Cod,a,2,2,printed,,,yes,x\n",
	    "q.csv:2:3: species \"Cod\"" },
	{ "no points", HEADER "s,COD,a,0,2,printed,,,yes,x\n",
	    "q.csv:2:9: max_points" },
	{ "total of letters", HEADER "s,COD,a,2,x,printed,,,yes,x\n",
	    "q.csv:2:11: total" },
	{ "total_is", HEADER "s,COD,a,2,2,seen,,,yes,x\n",
	    "q.csv:2:13: total_is \"seen\" is not one of summed, printed" },
	{ "half a line", HEADER "s,COD,a,2,2,printed,1360,,yes,x\n",
	    "q.csv:2:26: half of a line" },
	{ "other half", HEADER "s,COD,a,2,2,printed,,4600,yes,x\n",
	    "q.csv:2:21: half of a line" },
	{ "flat line", HEADER "s,COD,a,2,2,printed,0,4600,yes,x\n",
	    "q.csv:2:21: slope" },
	{ "no source", HEADER "s,COD,a,2,2,printed,,,yes,\n",
	    "q.csv:2:27: source is empty" },
	{ "attribute twice",
	    HEADER "s,COD,a,1,2,printed,,,yes,x\ns,COD,a,1,2,printed,,,yes,x\n",
	    "q.csv:3:7: attribute \"a\" appears twice" },
	{ "rows differ",
	    HEADER "s,COD,a,1,2,printed,,,yes,x\ns,HAD,b,1,2,printed,,,yes,x\n",
	    "q.csv:3:1: this row of \"s\" differs from its first row" },
	{ "rows apart",
	    HEADER "s,COD,a,1,2,printed,,,yes,x\nt,COD,a,1,1,printed,,,yes,x\n"
		   "s,COD,b,1,2,printed,,,yes,x\n",
	    "q.csv:4:1: rows of \"s\" do not stand together" },
	{ "total beside attributes",
	    HEADER "s,COD,a,1,2,printed,,,yes,x\ns,COD,,1,2,printed,,,yes,x\n",
	    "q.csv:3:7: a scheme of totals only has one row" },
};

START_TEST(file_rows)
{
	struct qi_table t;
	struct err err;
	enum rc rc;

	err_clear(&err);
	rc =
	    qi_parse(&t, "q.csv", files[_i].data, strlen(files[_i].data), &err);
	if (files[_i].said == NULL) {
		ck_assert_msg(rc == RC_OK, "%s", err.text);
		ck_assert_uint_eq(t.count, 1);
	} else {
		ck_assert_msg(rc == RC_INVALID, "%s", files[_i].why);
		ck_assert_msg(strncmp(err.text, files[_i].said,
				  strlen(files[_i].said)) == 0,
		    "%s: %s", files[_i].why, err.text);
		ck_assert(t.items == NULL && t.count == 0);
	}
	qi_fini(&t);
}
END_TEST

/* One attribute more than a scheme can hold is refused, not cut. */
START_TEST(too_many)
{
	struct qi_table t;
	struct err err;
	struct buf b;
	int i;

	err_clear(&err);
	buf_init(&b, 4000);
	buf_puts(&b, HEADER);
	for (i = 0; i <= QI_ATTRIBUTES_MAX; i++)
		buf_printf(&b, "s,COD,a%d,1,17,printed,,,yes,x\n", i);
	ck_assert_int_eq(
	    qi_parse(&t, "q.csv", b.data, b.len, &err), RC_INVALID);
	ck_assert_str_eq(err.text, "q.csv:18:7: more than 16 attributes");
	buf_fini(&b);
}
END_TEST

Suite *
suite_core_quality_index(void)
{
	Suite *s = suite_create("core_quality_index");
	TCase *tc = tcase_create("the real file");

	tcase_add_checked_fixture(tc, load_real, drop_real);
	tcase_add_loop_test(tc, scheme_rows, 0, (int)NELEM(schemes));
	tcase_add_test(tc, by_species);
	tcase_add_loop_test(tc, line_rows, 0, (int)NELEM(line));
	tcase_add_test(tc, no_line_no_days);
	/* The last scheme has no attributes to mark. */
	tcase_add_loop_test(tc, sums, 0, (int)NELEM(schemes) - 1);
	tcase_add_loop_test(tc, bad_mark_rows, 0, (int)NELEM(bad_marks));
	tcase_add_test(tc, totals_only);
	suite_add_tcase(s, tc);
	tc = tcase_create("files");
	tcase_add_loop_test(tc, file_rows, 0, (int)NELEM(files));
	tcase_add_test(tc, too_many);
	suite_add_tcase(s, tc);
	return s;
}
