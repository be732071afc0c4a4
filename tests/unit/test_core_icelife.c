/*
 * test_core_icelife.c - days in ice against the studies they come from, the
 * square-root rate against published figures, and files to be refused.
 */
#include "unit.h"

#include <string.h>

#include "base/buf.h"
#include "base/file.h"
#include "core/icelife.h"

#define DAY 1440

static struct icelife_table real;

static void
load_real(void)
{
	struct buf b;
	struct err err;

	err_clear(&err);
	buf_init(&b, FILE_READ_MAX);
	ck_assert_msg(file_read(&b, "config/ice-life.csv", &err) == RC_OK, "%s",
	    err.text);
	ck_assert_msg(icelife_parse(&real, "config/ice-life.csv", b.data, b.len,
			  &err) == RC_OK,
	    "%s", err.text);
	buf_fini(&b);
}

static void
drop_real(void)
{
	icelife_fini(&real);
}

/* Sources: beside each figure in config/ice-life.csv; the study or note is
 * named here by its first word. */
/* clang-format off */
static const struct {
	const char *code;
	enum icelife_form form;
	int low_x100, temp;
	const char *source;
} figures[] = {
	{ "COD", ICELIFE_WHOLE, 1000, 0, "marine underwriters" },
	{ "COD", ICELIFE_FILLET, 1000, 0, "Icelandic chill-chain" },
	{ "HAD", ICELIFE_WHOLE, 1000, 0, "marine underwriters" },
	{ "HKE", ICELIFE_WHOLE, 500, 0, "Rodriguez" },
	{ "MAC", ICELIFE_WHOLE, 600, 0, "J. Food Protection" },
	{ "HER", ICELIFE_WHOLE, 500, 0, "Torry Advisory Note 57" },
	{ "PIL", ICELIFE_WHOLE, 600, 0, "Khatouf" },
	{ "ANE", ICELIFE_WHOLE, 500, 0, "sensory scheme for anchovy" },
	{ "BSS", ICELIFE_WHOLE, 1100, 0, "Istanbul University" },
	{ "SBG", ICELIFE_WHOLE, 1400, 0, "Kyrana" },
	{ "TUR", ICELIFE_WHOLE, 2508, 0, "Cui" },
	{ "SOL", ICELIFE_WHOLE, 1600, 0, "Ozogul et al. 2011" },
	{ "RJC", ICELIFE_WHOLE, 300, 0, "slurry-ice ray study" },
	{ "MON", ICELIFE_FILLET, 1000, 15, "dry-aged monkfish" },
	{ "MLR", ICELIFE_WHOLE, 700, 0, "microbiological changes" },
	{ "SAL", ICELIFE_WHOLE, 2000, 0, "Sveinsdottir" },
	{ "SAL", ICELIFE_FILLET, 700, 40, "Sivertsvik" },
	{ "TRR", ICELIFE_WHOLE, 900, 0, "delayed icing" },
	{ "ACH", ICELIFE_WHOLE, 1700, 10, "UNU-FTP" },
	{ "OCC", ICELIFE_WHOLE, 800, 0, "Barbosa" },
	{ "CTC", ICELIFE_WHOLE, 900, 0, "Seafish cuttlefish" },
	{ "SQR", ICELIFE_WHOLE, 700, 0, "Lapa-Guimaraes" },
	{ "NEP", ICELIFE_WHOLE, 650, 10, "Gornik" },
	{ "PRA", ICELIFE_WHOLE, 400, 0, "Torry Advisory Note 54" },
	{ "PNV", ICELIFE_WHOLE, 800, 0, "Okpala" },
	{ "LBE", ICELIFE_LIVE, 100, 40, "course page on live lobster" },
	{ "OYG", ICELIFE_LIVE, 100, 40, "University of Georgia" },
	{ "CRE", ICELIFE_LIVE, 1400, 40, "Robson" },
	{ "SCE", ICELIFE_LIVE, 700, 0, "Seafish report SR469" },
};
/* clang-format on */

START_TEST(figure_rows)
{
	const struct icelife *l =
	    icelife_find(&real, figures[_i].code, figures[_i].form);

	ck_assert_msg(l != NULL, "%s", figures[_i].code);
	ck_assert_int_eq(l->low_x100, figures[_i].low_x100);
	ck_assert_int_eq(l->temp_tenths, figures[_i].temp);
	ck_assert_msg(strncmp(l->source, figures[_i].source,
			  strlen(figures[_i].source)) == 0,
	    "%s", l->source);
}
END_TEST

/* Where nothing fit was read there is no figure: rank only, memory only,
 * another species only, or a K value the panel did not wait for. */
START_TEST(none_is_said)
{
	static const char *const none[] = { "WHG", "PLE", "HAL", "MUR", "YFT",
		"POL", "POK", "LIN", "MEG", "JOD", "SPR" };
	size_t i;

	for (i = 0; i < NELEM(none); i++)
		ck_assert_msg(
		    icelife_find(&real, none[i], ICELIFE_WHOLE) == NULL, "%s",
		    none[i]);
}
END_TEST

START_TEST(memory_is_never_used)
{
	size_t i, memory = 0, damaged = 0, used = 0;

	for (i = 0; i < real.count; i++) {
		memory += real.items[i].mark == ICELIFE_MEMORY;
		damaged += real.items[i].mark == ICELIFE_DAMAGED;
		used += real.items[i].use;
		ck_assert(
		    !real.items[i].use || real.items[i].mark != ICELIFE_MEMORY);
		ck_assert(!real.items[i].use || real.items[i].temp_tenths >= 0);
	}
	ck_assert_uint_eq(memory, 7);
	ck_assert_uint_eq(damaged, 3);
	ck_assert_uint_gt(used, 35);
}
END_TEST

/*
 * V1: 21 d at 5 C with Tmin -10 keep as 47.2 d at 0 C (DTU Aqua worked figure,
 * Dalgaard 2002; exactly 47.25).
 * V7: from memory (FAO TP348 predicted lives), checked as arithmetic only:
 * 6/10/14/18 d in ice are 2.7/4.4/6.2/8.0 d at 5 C, 1.5/2.5/3.5/4.5 at 10 C,
 * 1.0/1.6/2.2/2.9 at 15 C.
 * V5: cod fillets 10-12 d at 0 C, seen 5-6 d at 4-5 C and 2-3 d at 10 C
 * (kaeligatt.is); the rate gives 4.8-5.7 and 2.5-3.0.
 * Salmon fillet 21 d at -2 C, 7 d at 4 C (Sivertsvik et al. 2003, ratio 3.0):
 * the rate gives 6.86 d.
 */
static const struct {
	const char *why;
	int days_x100, from, to, want_x100;
} converted[] = {
	{ "V1", 2100, 50, 0, 4725 },
	{ "V7 at 5", 600, 0, 50, 266 },
	{ "V7 at 5", 1000, 0, 50, 444 },
	{ "V7 at 5", 1400, 0, 50, 622 },
	{ "V7 at 5", 1800, 0, 50, 800 },
	{ "V7 at 10", 600, 0, 100, 150 },
	{ "V7 at 10", 1000, 0, 100, 250 },
	{ "V7 at 10", 1400, 0, 100, 350 },
	{ "V7 at 10", 1800, 0, 100, 450 },
	{ "V7 at 15", 600, 0, 150, 96 },
	{ "V7 at 15", 1000, 0, 150, 160 },
	{ "V7 at 15", 1400, 0, 150, 224 },
	{ "V7 at 15", 1800, 0, 150, 288 },
	{ "V5 low at 4.5", 1000, 0, 45, 475 },
	{ "V5 high at 4.5", 1200, 0, 45, 570 },
	{ "V5 low at 10", 1000, 0, 100, 250 },
	{ "V5 high at 10", 1200, 0, 100, 300 },
	{ "salmon fillet", 2100, -20, 40, 685 },
	{ "nothing left", 0, 0, 40, 0 },
	{ "colder than ice gives nothing", 1000, 0, -20, 1000 },
	{ "far colder neither", 1000, 0, -180, 1000 },
	{ "a figure from below 0 shrinks", 1000, -20, 0, 640 },
	{ "rounded down", 1, 0, 1, 0 },
};

START_TEST(converted_rows)
{
	ck_assert_msg(
	    icelife_convert(converted[_i].days_x100, converted[_i].from,
		converted[_i].to) == converted[_i].want_x100,
	    "%s: %d", converted[_i].why,
	    (int)icelife_convert(
		converted[_i].days_x100, converted[_i].from, converted[_i].to));
}
END_TEST

/* V7 as it is remembered, in tenths of a day, by rounding to the nearest. */
START_TEST(v7_rounded)
{
	static const int ice[] = { 6, 10, 14, 18 };
	static const int at5[] = { 27, 44, 62, 80 };
	static const int at10[] = { 15, 25, 35, 45 };
	static const int at15[] = { 10, 16, 22, 29 };
	size_t i;

	for (i = 0; i < NELEM(ice); i++) {
		ck_assert_int_eq(
		    (icelife_convert(ice[i] * 100, 0, 50) + 5) / 10, at5[i]);
		ck_assert_int_eq(
		    (icelife_convert(ice[i] * 100, 0, 100) + 5) / 10, at10[i]);
		ck_assert_int_eq(
		    (icelife_convert(ice[i] * 100, 0, 150) + 5) / 10, at15[i]);
	}
}
END_TEST

/*
 * V4: turbot, Cui et al. 2011: 602, 362, 165, 116 h at 0, 3, 7, 10 C.  The
 * rate says 1.69, 2.89, 4.00 where 1.66, 3.65, 5.19 were seen: right at 3 C,
 * too slow above, so the row warns there.
 */
static const struct {
	int tenths, hours;
	bool too_long, warned;
} turbot[] = {
	{ 0, 602, false, false },
	{ 30, 362, false, false },
	{ 70, 165, true, true },
	{ 100, 116, true, true },
};

START_TEST(turbot_rows)
{
	const struct icelife *l = icelife_find(&real, "TUR", ICELIFE_WHOLE);
	int64_t says =
	    icelife_convert(l->low_x100, 0, turbot[_i].tenths) * 24 / 100;

	ck_assert_int_eq(says > turbot[_i].hours, turbot[_i].too_long);
	ck_assert_int_eq(
	    icelife_faster(l, turbot[_i].tenths), turbot[_i].warned);
}
END_TEST

/* Every study here that is shorter than the rate says must warn, and cod and
 * mackerel, where it fits, must not. */
START_TEST(warnings)
{
	ck_assert(
	    icelife_faster(icelife_find(&real, "ANE", ICELIFE_WHOLE), 40));
	ck_assert(
	    icelife_faster(icelife_find(&real, "BSS", ICELIFE_WHOLE), 40));
	ck_assert(
	    !icelife_faster(icelife_find(&real, "BSS", ICELIFE_WHOLE), 0));
	ck_assert(
	    !icelife_faster(icelife_find(&real, "COD", ICELIFE_FILLET), 100));
	ck_assert(
	    !icelife_faster(icelife_find(&real, "MAC", ICELIFE_WHOLE), 40));
}
END_TEST

/* --- storage that adds up -------------------------------------------------*/

static const struct {
	const char *why;
	int64_t days_x100;
	int at;
	struct icelife_span span[3];
	size_t count;
	int64_t left_x100;
} stored[] = {
	{ "nothing yet", 1000, 0, { { 0, 0 } }, 0, 1000 },
	{ "a day in ice", 1000, 0, { { 0, DAY } }, 1, 900 },
	{ "a day at 4 C: 1.96", 1000, 0, { { 40, DAY } }, 1, 804 },
	{ "a day at 10 C: 4", 1000, 0, { { 100, DAY } }, 1, 600 },
	{ "colder gains nothing", 1000, 0, { { -10, DAY } }, 1, 900 },
	{ "frozen gains nothing", 1000, 0, { { -180, DAY } }, 1, 900 },
	{ "both", 1000, 0, { { 0, DAY }, { 100, DAY } }, 2, 500 },
	{ "order", 1000, 0, { { 100, DAY }, { 0, DAY } }, 2, 500 },
	{ "to the end", 1000, 0, { { 0, 10 * DAY } }, 1, 0 },
	{ "past the end", 1000, 0, { { 0, 10 * DAY + 1 } }, 1, 0 },
	{ "never negative", 1000, 0, { { 200, 90 * DAY } }, 1, 0 },
	{ "a minute is rounded down", 1000, 0, { { 0, 1 } }, 1, 999 },
	{ "at its own 4 C", 700, 40, { { 40, DAY } }, 1, 600 },
	{ "below its own 4 C gains nothing", 700, 40, { { 0, DAY } }, 1, 600 },
	{ "above its own 4 C: 4/1.96", 700, 40, { { 100, DAY } }, 1, 495 },
	{ "huge span", 1000, 0, { { 600, INT64_MAX } }, 1, 0 },
};

START_TEST(stored_rows)
{
	ck_assert_msg(
	    icelife_days_left(stored[_i].days_x100, stored[_i].at,
		stored[_i].span, stored[_i].count) == stored[_i].left_x100,
	    "%s: %d", stored[_i].why,
	    (int)icelife_days_left(stored[_i].days_x100, stored[_i].at,
		stored[_i].span, stored[_i].count));
}
END_TEST

/* Warmer or longer is never better; the order never matters. */
START_TEST(properties)
{
	struct icelife_span s[2];
	int64_t left, worse;
	int t, u, m;

	for (t = -50; t <= 300; t += 7)
		for (u = -50; u <= 300; u += 31)
			for (m = 0; m <= 20 * DAY; m += 997) {
				s[0].temp_tenths = t;
				s[0].minutes = m;
				s[1].temp_tenths = u;
				s[1].minutes = 600;
				left = icelife_days_left(1200, 0, s, 2);
				s[0].temp_tenths = t + 1;
				worse = icelife_days_left(1200, 0, s, 2);
				ck_assert_int_le(worse, left);
				s[0].temp_tenths = t;
				s[0].minutes = m + 1;
				worse = icelife_days_left(1200, 0, s, 2);
				ck_assert_int_le(worse, left);
				s[1] = s[0];
				s[1].minutes = m;
				s[0].temp_tenths = u;
				s[0].minutes = 600;
				worse = icelife_days_left(1200, 0, s, 2);
				ck_assert_int_eq(worse, left);
			}
}
END_TEST

/* --- files ----------------------------------------------------------------*/

#define HEADER                                                                 \
	"species,form,medium,temp_c,days_low,days_high,criterion,"             \
	"faster_above_c,use,mark,source,note\n"
#define ROW "COD,whole,ice,0,10,12,unfit,,yes,read,x,\n"

static const struct {
	const char *why, *data, *said;
} files[] = {
	{ "plain", HEADER ROW "COD,whole,ice,0,9,9,unfit,3,no,memory,x,n\n",
	    NULL },
	{ "damaged copies may be used",
	    HEADER "HER,whole,ice,0,5,6,unfit,,yes,damaged copy,x,\n", NULL },
	{ "no row", HEADER, "i.csv:1:1: no figures in it" },
	{ "code", HEADER "cod,whole,ice,0,1,1,u,,no,read,x,\n",
	    "i.csv:2:1: species \"cod\"" },
	{ "form", HEADER "COD,steak,ice,0,1,1,u,,no,read,x,\n",
	    "i.csv:2:5: form \"steak\" is not one of whole, fillet" },
	{ "temperature", HEADER "COD,whole,ice,cold,1,1,u,,no,read,x,\n",
	    "i.csv:2:15: temp_c" },
	{ "too hot", HEADER "COD,whole,ice,61,1,1,u,,no,read,x,\n",
	    "i.csv:2:15: temp_c \"61\" is out of range" },
	{ "below Tmin", HEADER "COD,whole,ice,-10,1,1,u,,no,read,x,\n",
	    "i.csv:2:15: temp_c \"-10\" is out of range" },
	{ "no days", HEADER "COD,whole,ice,0,0,1,u,,no,read,x,\n",
	    "i.csv:2:17: days_low is not above 0" },
	{ "too many days", HEADER "COD,whole,ice,0,201,201,u,,no,read,x,\n",
	    "i.csv:2:17: days_low \"201\" is out of range" },
	{ "high below", HEADER "COD,whole,ice,0,2,1,u,,no,read,x,\n",
	    "i.csv:2:19: days_high is below days_low" },
	{ "no criterion", HEADER "COD,whole,ice,0,1,1,,,no,read,x,\n",
	    "i.csv:2:21: criterion is empty" },
	{ "warning below 0", HEADER "COD,whole,ice,0,1,1,u,-1,no,read,x,\n",
	    "i.csv:2:23: faster_above_c is below 0" },
	{ "use", HEADER "COD,whole,ice,0,1,1,u,,maybe,read,x,\n",
	    "i.csv:2:24: use \"maybe\" is not one of no, yes" },
	{ "mark", HEADER "COD,whole,ice,0,1,1,u,,no,seen,x,\n",
	    "i.csv:2:27: mark \"seen\" is not one of read, damaged" },
	{ "memory in use", HEADER "COD,whole,ice,0,1,1,u,,yes,memory,x,\n",
	    "i.csv:2:24: a figure from memory is never used" },
	{ "superchilled in use", HEADER "COD,whole,ice,-1,1,1,u,,yes,read,x,\n",
	    "i.csv:2:25: a figure from below 0 C is too long" },
	{ "no source", HEADER "COD,whole,ice,0,1,1,u,,no,read,,\n",
	    "i.csv:2:32: source is empty" },
	{ "two in use", HEADER ROW ROW,
	    "i.csv:3:30: a second figure in use for COD whole" },
};

START_TEST(file_rows)
{
	struct icelife_table t;
	struct err err;
	enum rc rc;

	err_clear(&err);
	rc = icelife_parse(
	    &t, "i.csv", files[_i].data, strlen(files[_i].data), &err);
	if (files[_i].said == NULL) {
		ck_assert_msg(rc == RC_OK, "%s", err.text);
	} else {
		ck_assert_msg(rc == RC_INVALID, "%s", files[_i].why);
		ck_assert_msg(strncmp(err.text, files[_i].said,
				  strlen(files[_i].said)) == 0,
		    "%s: %s", files[_i].why, err.text);
		ck_assert(t.items == NULL && t.count == 0);
	}
	icelife_fini(&t);
}
END_TEST

Suite *
suite_core_icelife(void)
{
	Suite *s = suite_create("core_icelife");
	TCase *tc = tcase_create("the real file");

	tcase_add_checked_fixture(tc, load_real, drop_real);
	tcase_add_loop_test(tc, figure_rows, 0, (int)NELEM(figures));
	tcase_add_test(tc, none_is_said);
	tcase_add_test(tc, memory_is_never_used);
	tcase_add_loop_test(tc, turbot_rows, 0, (int)NELEM(turbot));
	tcase_add_test(tc, warnings);
	suite_add_tcase(s, tc);
	tc = tcase_create("arithmetic and files");
	tcase_add_loop_test(tc, converted_rows, 0, (int)NELEM(converted));
	tcase_add_test(tc, v7_rounded);
	tcase_add_loop_test(tc, stored_rows, 0, (int)NELEM(stored));
	tcase_add_test(tc, properties);
	tcase_add_loop_test(tc, file_rows, 0, (int)NELEM(files));
	suite_add_tcase(s, tc);
	return s;
}
