/*
 * test_core_landing.c - minimum sizes, berried animals and seasons against
 * the published lists, and files that must be refused.
 */
#include "unit.h"

#include <string.h>

#include "base/buf.h"
#include "base/file.h"
#include "core/area.h"
#include "core/landing.h"

static struct size_table sizes;
static struct season_table seasons;
static struct area_table areas;

static void
load_real(void)
{
	struct buf b;
	struct err err;

	err_clear(&err);
	buf_init(&b, FILE_READ_MAX);
	ck_assert_msg(
	    file_read(&b, "config/sizes.csv", &err) == RC_OK, "%s", err.text);
	ck_assert_msg(size_parse(&sizes, "config/sizes.csv", b.data, b.len,
			  &err) == RC_OK,
	    "%s", err.text);
	buf_clear(&b);
	ck_assert_msg(
	    file_read(&b, "config/seasons.csv", &err) == RC_OK, "%s", err.text);
	ck_assert_msg(season_parse(&seasons, "config/seasons.csv", b.data,
			  b.len, &err) == RC_OK,
	    "%s", err.text);
	buf_clear(&b);
	ck_assert_msg(
	    file_read(&b, "config/areas.csv", &err) == RC_OK, "%s", err.text);
	ck_assert_msg(area_parse(&areas, "config/areas.csv", b.data, b.len,
			  &err) == RC_OK,
	    "%s", err.text);
	buf_fini(&b);
}

static void
drop_real(void)
{
	size_fini(&sizes);
	season_fini(&seasons);
	area_fini(&areas);
}

/*
 * Sources: VI = Reg. (EU) 2019/1241 Annex VI Part A as adopted
 * (legislation.gov.uk); MMO = UK guidance on minimum sizes of 12 Nov 2018
 * (gov.uk); 850 = Reg. (EC) 850/98 on a wiki copy; NE, KE, SO = lists of the
 * North Eastern, Kent and Essex, Southern IFCA.  `least` is the smallest
 * allowed; one less is under.
 */
/* clang-format off */
static const struct {
	const char *why, *code, *area;
	enum size_measure m;
	int least;
} minima[] = {
	{ "VI, MMO", "COD", "27.7.e", SIZE_TOTAL_LENGTH, 350 },
	{ "850: Skagerrak", "COD", "27.3.a.20", SIZE_TOTAL_LENGTH, 300 },
	{ "unknown: strictest", "COD", NULL, SIZE_TOTAL_LENGTH, 350 },
	{ "VI", "HAD", "27.6.a", SIZE_TOTAL_LENGTH, 300 },
	{ "VI", "POK", "27.7.b", SIZE_TOTAL_LENGTH, 350 },
	{ "VI", "POL", "27.7.e", SIZE_TOTAL_LENGTH, 300 },
	{ "VI", "HKE", "27.7.h", SIZE_TOTAL_LENGTH, 270 },
	{ "850, unknown area: 30 in the Kattegat", "HKE", NULL,
	    SIZE_TOTAL_LENGTH, 300 },
	{ "VI", "MEG", "27.7.g", SIZE_TOTAL_LENGTH, 200 },
	{ "VI", "SOL", "27.7.d", SIZE_TOTAL_LENGTH, 240 },
	{ "MMO", "PLE", "27.4.c", SIZE_TOTAL_LENGTH, 270 },
	{ "VI", "WHG", "27.7.a", SIZE_TOTAL_LENGTH, 270 },
	{ "VI", "LIN", "27.6.b", SIZE_TOTAL_LENGTH, 630 },
	{ "VI", "MAC", "27.7.e", SIZE_TOTAL_LENGTH, 200 },
	{ "MMO, NE: North Sea", "MAC", "27.4.a", SIZE_TOTAL_LENGTH, 300 },
	{ "VI", "HER", "27.6.a", SIZE_TOTAL_LENGTH, 200 },
	{ "VI", "ANE", "27.7.e", SIZE_TOTAL_LENGTH, 120 },
	{ "VI: 10 or 12, the strictest", "ANE", "27.9.a", SIZE_TOTAL_LENGTH,
	    120 },
	{ "VI", "BSS", "27.7.f", SIZE_TOTAL_LENGTH, 420 },
	{ "VI", "PIL", "27.7.e", SIZE_TOTAL_LENGTH, 110 },
	{ "850", "SWO", "27", SIZE_LOWER_JAW, 1250 },
	{ "850", "SWO", "27", SIZE_WEIGHT, 25000 },
	{ "memory", "BFT", "27.8.a", SIZE_TOTAL_LENGTH, 1150 },
	{ "SO", "TUR", "27.7.d", SIZE_TOTAL_LENGTH, 300 },
	{ "SO: two pages disagree", "MLR", "27.7.e", SIZE_TOTAL_LENGTH, 420 },
	{ "SO", "RJC", "27.7.d", SIZE_WING, 200 },
	{ "VI", "LBE", "27.7.e", SIZE_CARAPACE_LENGTH, 87 },
	{ "VI", "NEP", "27.7.g", SIZE_CARAPACE_LENGTH, 25 },
	{ "VI", "NEP", "27.7.g", SIZE_TOTAL_LENGTH, 85 },
	{ "VI", "NEP", "27.7.g", SIZE_TAIL_LENGTH, 46 },
	{ "VI: 6a and 7a", "NEP", "27.7.a", SIZE_CARAPACE_LENGTH, 20 },
	{ "VI: 6a and 7a", "NEP", "27.6.a", SIZE_TAIL_LENGTH, 37 },
	{ "unknown: strictest", "NEP", NULL, SIZE_TOTAL_LENGTH, 85 },
	{ "all of 27.7: strictest", "NEP", "27.7", SIZE_TOTAL_LENGTH, 85 },
	{ "VI note", "CRE", "27.7.g", SIZE_CARAPACE_WIDTH, 130 },
	{ "VI note: north of 56 N may be 140", "CRE", "27.6.a",
	    SIZE_CARAPACE_WIDTH, 140 },
	{ "KE 7d", "CRE", "27.7.d", SIZE_CARAPACE_WIDTH, 140 },
	{ "KE 4c", "CRE", "27.4.c", SIZE_CARAPACE_WIDTH, 130 },
	{ "general size, from memory", "CRE", "27.7.e", SIZE_CARAPACE_WIDTH,
	    140 },
	{ "VI; England males 130", "SCR", "27.7.e", SIZE_CARAPACE_LENGTH, 130 },
	{ "MMO", "SLO", "27.7.e", SIZE_CARAPACE_LENGTH, 95 },
	{ "MMO", "SCE", "27.7.e", SIZE_SHELL, 100 },
	{ "VI note", "SCE", "27.7.d", SIZE_SHELL, 110 },
	{ "VI note: north of 52 30 N", "SCE", "27.7.a", SIZE_SHELL, 110 },
	{ "all of 27.7: strictest part", "SCE", "27.7", SIZE_SHELL, 110 },
	{ "VI", "QSC", "27.6.a", SIZE_SHELL, 40 },
	{ "Isle of Man", "QSC", "27.7.a", SIZE_SHELL, 55 },
	{ "MMO", "EQI", "27.7.e", SIZE_SHELL, 100 },
	{ "MMO", "WHE", "27.4.c", SIZE_SHELL, 45 },
	{ "MMO", "OCC", "27.7.e", SIZE_WEIGHT, 750 },
	{ "NE or SO: strictest", "MUS", NULL, SIZE_SHELL, 51 },
};
/* clang-format on */

START_TEST(minimum_rows)
{
	struct size_asked in;
	struct landing_size v;
	struct err err;

	err_clear(&err);
	in.species = minima[_i].code;
	in.area = minima[_i].area;
	in.measure = minima[_i].m;
	in.value = minima[_i].least;
	ck_assert_msg(
	    landing_size_check(&v, &sizes, &in, &err) == RC_OK, "%s", err.text);
	ck_assert_msg(v.verdict == SIZE_OK, "%s: %d", minima[_i].why,
	    v.row == NULL ? 0 : v.row->minimum);
	ck_assert_int_eq(v.row->minimum, minima[_i].least);
	ck_assert_int_le(v.lowest, v.row->minimum);
	in.value--;
	ck_assert_int_eq(landing_size_check(&v, &sizes, &in, NULL), RC_OK);
	ck_assert_msg(v.verdict == SIZE_UNDER, "%s", minima[_i].why);
}
END_TEST

START_TEST(no_rule)
{
	struct size_asked in = { "COD", "21", SIZE_TOTAL_LENGTH, 10 };
	struct landing_size v;

	ck_assert_int_eq(landing_size_check(&v, &sizes, &in, NULL), RC_OK);
	ck_assert_int_eq(v.verdict, SIZE_NO_RULE);
	ck_assert(v.held && v.row == NULL && v.considered == 0);
	in.species = "JOD";
	in.area = NULL;
	ck_assert_int_eq(landing_size_check(&v, &sizes, &in, NULL), RC_OK);
	ck_assert_int_eq(v.verdict, SIZE_NO_RULE);
	ck_assert(!v.held);
}
END_TEST

START_TEST(places_differ)
{
	struct size_asked in = { "hke", NULL, SIZE_TOTAL_LENGTH, 280 };
	struct landing_size v;

	ck_assert_int_eq(landing_size_check(&v, &sizes, &in, NULL), RC_OK);
	ck_assert_int_eq(v.verdict, SIZE_UNDER);
	ck_assert_uint_eq(v.considered, 3);
	ck_assert_int_eq(v.lowest, 270);
	ck_assert_str_eq(v.row->where, "Skagerrak and Kattegat");
}
END_TEST

START_TEST(wrong_measure)
{
	struct size_asked in = { "LBE", NULL, SIZE_TOTAL_LENGTH, 250 };
	struct landing_size v;
	enum size_measure m;
	struct err err;

	err_clear(&err);
	ck_assert_int_eq(landing_size_check(&v, &sizes, &in, &err), RC_INVALID);
	ck_assert_str_eq(err.text,
	    "LBE is measured by carapace-length in mm, not by total-length");
	ck_assert(landing_measure(&m, &sizes, "occ"));
	ck_assert_int_eq(m, SIZE_WEIGHT);
	ck_assert_str_eq(size_measure_unit(m), "g");
	ck_assert(!landing_measure(&m, &sizes, "JOD"));
	err_clear(&err);
	in.measure = SIZE_CARAPACE_LENGTH;
	in.value = 0;
	ck_assert_int_eq(landing_size_check(&v, &sizes, &in, &err), RC_INVALID);
	ck_assert_str_eq(err.text, "a size of 0 is not above 0");
}
END_TEST

/* A smaller fish is never better off, and a finer area never looser than
 * what is said when the area is unknown. */
START_TEST(unknown_is_strictest)
{
	struct size_asked in;
	struct landing_size known, unknown;
	size_t i, k;

	for (i = 0; i < sizes.count; i++)
		for (k = 0; k < areas.count; k++) {
			in.species = sizes.items[i].species;
			in.measure = sizes.items[i].measure;
			in.value = sizes.items[i].minimum;
			in.area = NULL;
			ck_assert_int_eq(
			    landing_size_check(&unknown, &sizes, &in, NULL),
			    RC_OK);
			in.area = areas.items[k].code;
			ck_assert_int_eq(
			    landing_size_check(&known, &sizes, &in, NULL),
			    RC_OK);
			ck_assert(unknown.row != NULL);
			ck_assert(known.row == NULL ||
			    known.row->minimum <= unknown.row->minimum);
		}
}
END_TEST

/* Two lists print the same sizes: a slip in one of them shows here. */
START_TEST(lists_agree)
{
	const struct size_row *r, *other;
	size_t i, k, pairs = 0;

	for (i = 0; i < sizes.count; i++)
		for (k = 0; k < sizes.count; k++) {
			r = &sizes.items[i];
			other = &sizes.items[k];
			if (strcmp(r->species, other->species) != 0 ||
			    r->measure != other->measure ||
			    strcmp(r->where, "North Western Waters") != 0 ||
			    strcmp(other->where, "UK waters") != 0)
				continue;
			ck_assert_msg(
			    r->minimum == other->minimum, "%s", r->species);
			pairs++;
		}
	ck_assert_uint_eq(pairs, 16);
}
END_TEST

/* Every code in the file is a known area. */
START_TEST(areas_exist)
{
	const struct area *a;
	struct err err;
	size_t i, k;

	for (i = 0; i < sizes.count; i++)
		for (k = 0; k < sizes.items[i].areas; k++) {
			err_clear(&err);
			ck_assert_msg(
			    area_find(&a, &areas, sizes.items[i].area[k],
				&err) == RC_OK,
			    "%s", err.text);
			ck_assert_str_eq(a->code, sizes.items[i].area[k]);
		}
}
END_TEST

/* Sources: SI 2017/899 and SI 2000/874 (lobster, crawfish), Reg. (EC) 2406/96
 * Art. 4(3) (crabs).  Nothing was read for the others. */
static const struct {
	const char *code;
	enum season_kind kind;
	const char *source; /* NULL: not refused */
} conditions[] = {
	{ "LBE", SEASON_BERRIED, "SI 2017/899" },
	{ "lbe", SEASON_BERRIED, "SI 2017/899" },
	{ "SLO", SEASON_BERRIED, "SI 2017/899" },
	{ "LBE", SEASON_NOTCHED, "SI 2000/874" },
	{ "CRE", SEASON_BERRIED, "2406/96" },
	{ "CRE", SEASON_SOFT, "2406/96" },
	{ "SCR", SEASON_BERRIED, "2406/96" },
	{ "LBE", SEASON_SOFT, NULL },
	{ "NEP", SEASON_BERRIED, NULL },
	{ "PRA", SEASON_BERRIED, NULL },
};

START_TEST(condition_rows)
{
	const struct season_row *why = NULL;
	struct err err;
	enum rc rc;

	err_clear(&err);
	rc = landing_condition(
	    &why, &seasons, conditions[_i].code, conditions[_i].kind, &err);
	if (conditions[_i].source == NULL) {
		ck_assert_msg(rc == RC_OK, "%s", conditions[_i].code);
		ck_assert_ptr_null(why);
		return;
	}
	ck_assert_int_eq(rc, RC_REFUSED);
	ck_assert_ptr_nonnull(strstr(err.text, conditions[_i].source));
	ck_assert_ptr_nonnull(
	    strstr(err.text, season_kind_word(conditions[_i].kind)));
	ck_assert_int_eq(why->kind, conditions[_i].kind);
}
END_TEST

/* Sources in config/seasons.csv, beside each row. */
static const struct {
	const char *code;
	int month, day;
	size_t count;
	const char *where; /* of the first */
} advised[] = {
	{ "BSS", 1, 31, 0, NULL },
	{ "BSS", 2, 1, 1, "UK waters" },
	{ "BSS", 2, 29, 1, "UK waters" },
	{ "BSS", 3, 31, 1, "UK waters" },
	{ "BSS", 4, 1, 0, NULL },
	{ "SCE", 8, 15, 4, "UK waters of 7d" },
	{ "SCE", 10, 31, 2, "Isle of Man" },
	{ "SCE", 11, 1, 0, NULL },
	{ "OYF", 5, 14, 1, "England and Wales" },
	{ "OYF", 8, 5, 0, NULL },
	{ "MUS", 4, 30, 1, "British Isles" },
	{ "LBE", 6, 1, 0, NULL },
	{ "COD", 6, 1, 0, NULL },
};

START_TEST(advice_rows)
{
	const struct season_row *out[SEASON_ADVICE_MAX];
	day_no day;
	size_t n;

	ck_assert(
	    day_from_civil(&day, 2028, advised[_i].month, advised[_i].day));
	n = season_advice(out, &seasons, advised[_i].code, day);
	ck_assert_uint_eq(n, advised[_i].count);
	if (n > 0)
		ck_assert_int_eq(strncmp(out[0]->where, advised[_i].where,
				     strlen(advised[_i].where)),
		    0);
}
END_TEST

/* --- files ----------------------------------------------------------------*/

#define SIZES "species,measure,minimum,areas,where,date,verified,source\n"
#define SIZE "COD,total-length,350,27.7,w,2019,yes,x\n"
#define SEASONS "species,kind,from,to,where,status,verified,source\n"
#define SEASON "BSS,closed,12-01,01-31,w,s,yes,x\n"

static const struct {
	const char *data, *said;
} size_files[] = {
	{ SIZES SIZE "COD,total-length,300,,v,2019,no,x\n", NULL },
	{ SIZES, "s.csv:1:1: no sizes in it" },
	{ SIZES "CO,total-length,1,,w,d,yes,x\n", "s.csv:2:1: species \"CO\"" },
	{ SIZES "COD,length,1,,w,d,yes,x\n",
	    "s.csv:2:5: measure \"length\" is not one of total-length" },
	{ SIZES "COD,weight,0,,w,d,yes,x\n", "s.csv:2:12: minimum" },
	{ SIZES "COD,weight,35cm,,w,d,yes,x\n", "s.csv:2:12: minimum" },
	{ SIZES "COD,weight,1,7e,w,d,yes,x\n",
	    "s.csv:2:14: areas \"7e\" are not codes" },
	{ SIZES "COD,weight,1,27.7.E,w,d,yes,x\n", "s.csv:2:14: areas" },
	{ SIZES "COD,weight,1,27.7.,w,d,yes,x\n", "s.csv:2:14: areas" },
	{ SIZES "COD,weight,1,27  37,w,d,yes,x\n", "s.csv:2:14: areas" },
	{ SIZES "COD,weight,1,27 ,w,d,yes,x\n", "s.csv:2:14: areas" },
	{ SIZES "COD,weight,1,27.1.a.1.a.1.a,w,d,yes,x\n",
	    "s.csv:2:14: areas" },
	{ SIZES "COD,weight,1,27 27 27 27 27 27 27 27 27 27 27 27 27,w,d,yes,"
		"x\n",
	    "s.csv:2:14: more than 12 areas" },
	{ SIZES "COD,weight,1,,,d,yes,x\n", "s.csv:2:15: where is empty" },
	{ SIZES "COD,weight,1,,w,,yes,x\n", "s.csv:2:17: date is empty" },
	{ SIZES "COD,weight,1,,w,d,yes,\n", "s.csv:2:23: source is empty" },
	{ SIZES SIZE SIZE,
	    "s.csv:3:27: a second total-length of COD for \"w\"" },
};

START_TEST(size_file_rows)
{
	struct size_table t;
	const char *data = size_files[_i].data;
	struct err err;
	enum rc rc;

	err_clear(&err);
	rc = size_parse(&t, "s.csv", data, strlen(data), &err);
	if (size_files[_i].said == NULL)
		ck_assert_msg(rc == RC_OK, "%s", err.text);
	else
		ck_assert_msg(rc == RC_INVALID && t.count == 0 &&
			strncmp(err.text, size_files[_i].said,
			    strlen(size_files[_i].said)) == 0,
		    "%d: %s", _i, err.text);
	size_fini(&t);
}
END_TEST

static const struct {
	const char *data, *said;
} season_files[] = {
	{ SEASONS SEASON "LBE,berried,,,w,s,yes,x\n", NULL },
	{ SEASONS, "t.csv:1:1: no seasons in it" },
	{ SEASONS "Bass,closed,01-01,01-02,w,s,yes,x\n",
	    "t.csv:2:1: species \"Bass\"" },
	{ SEASONS "BSS,shut,01-01,01-02,w,s,yes,x\n",
	    "t.csv:2:5: kind \"shut\" is not one of closed" },
	{ SEASONS "BSS,closed,,01-02,w,s,yes,x\n",
	    "t.csv:2:12: from \"\" is not MM-DD" },
	{ SEASONS "BSS,closed,1-1,01-02,w,s,yes,x\n",
	    "t.csv:2:12: from \"1-1\" is not MM-DD" },
	{ SEASONS "BSS,closed,02-30,03-02,w,s,yes,x\n",
	    "t.csv:2:12: from \"02-30\" is no day" },
	{ SEASONS "BSS,closed,01-01,13-01,w,s,yes,x\n",
	    "t.csv:2:18: to \"13-01\" is no day" },
	{ SEASONS "LBE,berried,01-01,,w,s,yes,x\n",
	    "t.csv:2:13: a condition has no dates" },
	{ SEASONS "LBE,berried,,,w,,yes,x\n", "t.csv:2:17: status is empty" },
	{ SEASONS "LBE,berried,,,w,s,sure,x\n", "t.csv:2:19: verified" },
	{ SEASONS "LBE,berried,,,w,s,yes,\n", "t.csv:2:23: source is empty" },
	{ SEASONS SEASON SEASON,
	    "t.csv:3:1: the same row of BSS appears twice" },
};

START_TEST(season_file_rows)
{
	struct season_table t;
	const char *data = season_files[_i].data;
	struct err err;
	enum rc rc;

	err_clear(&err);
	rc = season_parse(&t, "t.csv", data, strlen(data), &err);
	if (season_files[_i].said == NULL)
		ck_assert_msg(rc == RC_OK, "%s", err.text);
	else
		ck_assert_msg(rc == RC_INVALID && t.count == 0 &&
			strncmp(err.text, season_files[_i].said,
			    strlen(season_files[_i].said)) == 0,
		    "%d: %s", _i, err.text);
	season_fini(&t);
}
END_TEST

/* A time that runs over the turn of the year, and a row without a code,
 * which may apply anywhere. */
START_TEST(made_up)
{
	const struct season_row *out[SEASON_ADVICE_MAX];
	static const char sea[] = SEASONS SEASON;
	static const char siz[] =
	    SIZES SIZE "COD,total-length,400,,house,2026,no,x\n";
	struct size_asked in = { "COD", "27.7.e", SIZE_TOTAL_LENGTH, 399 };
	struct landing_size v;
	struct season_table t;
	struct size_table s;
	day_no day;

	ck_assert_int_eq(
	    season_parse(&t, "t", sea, sizeof(sea) - 1, NULL), RC_OK);
	ck_assert(day_from_civil(&day, 2026, 12, 1));
	ck_assert_uint_eq(season_advice(out, &t, "BSS", day), 1);
	ck_assert_uint_eq(season_advice(out, &t, "BSS", day - 1), 0);
	ck_assert_uint_eq(season_advice(out, &t, "BSS", day + 61), 1);
	ck_assert_uint_eq(season_advice(out, &t, "BSS", day + 62), 0);
	season_fini(&t);
	ck_assert_int_eq(
	    size_parse(&s, "s", siz, sizeof(siz) - 1, NULL), RC_OK);
	ck_assert_int_eq(landing_size_check(&v, &s, &in, NULL), RC_OK);
	ck_assert_int_eq(v.verdict, SIZE_UNDER);
	ck_assert_uint_eq(v.considered, 2);
	in.area = "21";
	ck_assert_int_eq(landing_size_check(&v, &s, &in, NULL), RC_OK);
	ck_assert_int_eq(v.verdict, SIZE_UNDER);
	ck_assert_uint_eq(v.considered, 1);
	size_fini(&s);
}
END_TEST

Suite *
suite_core_landing(void)
{
	Suite *s = suite_create("core_landing");
	TCase *tc = tcase_create("the real files");

	tcase_add_checked_fixture(tc, load_real, drop_real);
	tcase_add_loop_test(tc, minimum_rows, 0, (int)NELEM(minima));
	tcase_add_test(tc, no_rule);
	tcase_add_test(tc, places_differ);
	tcase_add_test(tc, wrong_measure);
	tcase_add_test(tc, unknown_is_strictest);
	tcase_add_test(tc, lists_agree);
	tcase_add_test(tc, areas_exist);
	tcase_add_loop_test(tc, condition_rows, 0, (int)NELEM(conditions));
	tcase_add_loop_test(tc, advice_rows, 0, (int)NELEM(advised));
	suite_add_tcase(s, tc);
	tc = tcase_create("files");
	tcase_add_loop_test(tc, size_file_rows, 0, (int)NELEM(size_files));
	tcase_add_loop_test(tc, season_file_rows, 0, (int)NELEM(season_files));
	tcase_add_test(tc, made_up);
	suite_add_tcase(s, tc);
	return s;
}
