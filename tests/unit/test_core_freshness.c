/*
 * test_core_freshness.c - the freshness tables, their judgement, and files
 * that must be refused.
 */
#include "unit.h"

#include <string.h>

#include "base/buf.h"
#include "base/file.h"
#include "base/str.h"
#include "core/freshness.h"
#include "core/species.h"

static struct freshness_table words;
static struct freshness_species_table groups;
static struct species_table fish;

static void
load_real(void)
{
	struct buf b;
	struct err err;

	err_clear(&err);
	buf_init(&b, FILE_READ_MAX);
	ck_assert_msg(file_read(&b, "config/freshness.csv", &err) == RC_OK,
	    "%s", err.text);
	ck_assert_msg(freshness_parse(&words, "config/freshness.csv", b.data,
			  b.len, &err) == RC_OK,
	    "%s", err.text);
	buf_clear(&b);
	ck_assert_msg(
	    file_read(&b, "config/freshness-groups.csv", &err) == RC_OK, "%s",
	    err.text);
	ck_assert_msg(
	    freshness_species_parse(&groups, "config/freshness-groups.csv",
		b.data, b.len, &err) == RC_OK,
	    "%s", err.text);
	buf_clear(&b);
	ck_assert_msg(
	    file_read(&b, "config/species.csv", &err) == RC_OK, "%s", err.text);
	ck_assert_msg(species_parse(&fish, "config/species.csv", b.data, b.len,
			  &err) == RC_OK,
	    "%s", err.text);
	buf_fini(&b);
}

static void
drop_real(void)
{
	freshness_fini(&words);
	freshness_species_fini(&groups);
	species_fini(&fish);
}

/*
 * Source of the lists: Reg. (EC) No 2406/96 Annex I (legislation.gov.uk for
 * whitefish, gesetze.legal in German for the others) and Art. 4.
 */
/* clang-format off */
static const struct {
	const char *codes;
	enum freshness_group group;
	bool law;
} lists[] = {
	{ "HAD COD POK POL WHG LIN HKE MON GUR GUG MLR PLE MEG SOL DAB LEM",
	    FRESHNESS_WHITEFISH, true },
	{ "ALB BFT HER PIL MAC ANE SPR", FRESHNESS_BLUEFISH, true },
	{ "RJC", FRESHNESS_RAYS, true },
	{ "CTC SQR SQF", FRESHNESS_CEPHALOPODS, true },
	{ "PRA CSH NEP", FRESHNESS_CRUSTACEANS, true },
	{ "CRE SCR WHE", FRESHNESS_NO_TABLE, true },
	/* Not in a list as read: choices of ours, and said to be. */
	{ "TUR BLL HAL JOD BSS SBG SAL TRR MUR", FRESHNESS_WHITEFISH, false },
	{ "YFT SWO", FRESHNESS_BLUEFISH, false },
	{ "OCC", FRESHNESS_CEPHALOPODS, false },
	{ "PNV GIT", FRESHNESS_CRUSTACEANS, false },
	{ "LBE SLO", FRESHNESS_NO_TABLE, false },
};
/* clang-format on */

START_TEST(list_rows)
{
	const struct freshness_species *s;
	const char *p = lists[_i].codes;
	char code[4];

	for (;; p += 4) {
		memcpy(code, p, 3);
		code[3] = '\0';
		s = freshness_species_find(&groups, code);
		ck_assert_msg(s != NULL, "%s", code);
		ck_assert_int_eq(s->group, lists[_i].group);
		ck_assert_int_eq(s->law, lists[_i].law);
		ck_assert(s->law || !s->verified);
		if (p[3] == '\0')
			break;
	}
}
END_TEST

/* Which table a body form can go by at all. */
static bool
form_goes(enum body_form form, enum freshness_group g)
{
	switch (form) {
	case FORM_ROUND:
	case FORM_FLAT:
		return g == FRESHNESS_WHITEFISH || g == FRESHNESS_BLUEFISH;
	case FORM_CARTILAGINOUS:
		return g == FRESHNESS_RAYS;
	case FORM_CRUSTACEAN:
		return g == FRESHNESS_CRUSTACEANS || g == FRESHNESS_NO_TABLE;
	case FORM_BIVALVE:
		return g == FRESHNESS_BIVALVES;
	case FORM_GASTROPOD:
		return g == FRESHNESS_NO_TABLE;
	case FORM_CEPHALOPOD:
		return g == FRESHNESS_CEPHALOPODS;
	}
	return false;
}

START_TEST(every_species)
{
	const struct freshness_species *s;
	size_t i;

	ck_assert_uint_gt(fish.count, 50);
	for (i = 0; i < fish.count; i++) {
		s = freshness_species_find(&groups, fish.items[i].code);
		ck_assert_msg(s != NULL, "%s", fish.items[i].code);
		ck_assert_msg(form_goes(fish.items[i].form, s->group), "%s",
		    fish.items[i].code);
	}
}
END_TEST

/* Sources in config/freshness.csv; the words looked for are our own. */
static const struct {
	const char *why, *code, *attribute;
	enum presentation p;
	enum freshness_grade grade;
	const char *text; /* part of it */
	bool verified;
} texts[] = {
	{ "2406/96 German: grade A lining can be parted", "COD", "belly lining",
	    PRES_GUTTED, GRADE_A, "can be parted", true },
	{ "2406/96 German: a flat eye is B", "COD", "eye", PRES_GUTTED, GRADE_B,
	    "flat", true },
	{ "and only less domed is A", "COD", "eye", PRES_GUTTED, GRADE_A,
	    "less domed", true },
	{ "strong gill colour, not red", "COD", "gills", PRES_GUTTED,
	    GRADE_EXTRA, "full colour", true },
	{ "plaice smell, Swedish text", "PLE", "smell", PRES_GUTTED,
	    GRADE_EXTRA, "fresh oil", true },
	{ "smell of the others: memory", "SOL", "smell", PRES_GUTTED,
	    GRADE_EXTRA, "sea", false },
	{ "Swedish text note 3: limp before rigor", "COD", "flesh", PRES_WHOLE,
	    GRADE_EXTRA, "limp before rigor", true },
	{ "anglerfish tail", "MON", "belly blood", PRES_HEADED,
	    GRADE_NOT_ADMITTED, "flesh yellow", true },
	{ "bluefish eye: memory", "MAC", "eye", PRES_WHOLE, GRADE_B, "blood",
	    false },
	{ "langoustine: memory", "NEP", "shell", PRES_WHOLE, GRADE_B,
	    "black spots", false },
};

START_TEST(text_rows)
{
	const struct freshness_attribute *list[FRESHNESS_MARKS_MAX];
	struct freshness_fish f;
	size_t i, n;

	f.species = freshness_species_find(&groups, texts[_i].code);
	f.presentation = texts[_i].p;
	n = freshness_applies(list, &words, &f);
	for (i = 0; i < n; i++)
		if (str_eq(list[i]->name, texts[_i].attribute))
			break;
	ck_assert_msg(i < n, "%s", texts[_i].why);
	ck_assert_msg(strstr(list[i]->grade[texts[_i].grade].text,
			  texts[_i].text) != NULL,
	    "%s: %s", texts[_i].why, list[i]->grade[texts[_i].grade].text);
	ck_assert_int_eq(
	    list[i]->grade[texts[_i].grade].verified, texts[_i].verified);
}
END_TEST

/* Which attributes can be looked at on which fish. */
static const struct {
	const char *code;
	enum presentation p;
	const char *names; /* in order */
} seen[] = {
	{ "COD", PRES_WHOLE, "skin mucus eye gills smell flesh damage" },
	{ "COD", PRES_GUTTED,
	    "skin mucus eye gills belly lining smell flesh damage" },
	{ "COD", PRES_FILLET, "skin mucus smell flesh damage" },
	{ "COD", PRES_LOIN, "smell flesh damage" },
	{ "PLE", PRES_WHOLE, "skin mucus eye gills smell flesh damage" },
	{ "MON", PRES_HEADED,
	    "skin mucus belly lining smell flesh belly blood damage" },
	{ "MAC", PRES_WHOLE,
	    "skin mucus eye gill covers gills smell flesh damage" },
	{ "RJC", PRES_WING, "smell skin flesh fin edge damage" },
	{ "SQR", PRES_WHOLE, "skin flesh arms smell damage" },
	{ "PRA", PRES_WHOLE, "shell look smell flesh" },
	{ "NEP", PRES_WHOLE, "shell eye and gills smell flesh damage" },
	{ "NEP", PRES_LIVE, "" },
	{ "MUS", PRES_LIVE, "closes when tapped shell liquor" },
	{ "CRE", PRES_WHOLE, "" },
};

START_TEST(seen_rows)
{
	const struct freshness_attribute *list[FRESHNESS_MARKS_MAX];
	struct freshness_fish f;
	struct buf b;
	size_t i, n;

	f.species = freshness_species_find(&groups, seen[_i].code);
	f.presentation = seen[_i].p;
	n = freshness_applies(list, &words, &f);
	buf_init(&b, 400);
	for (i = 0; i < n; i++)
		buf_printf(&b, "%s%s", i == 0 ? "" : " ", list[i]->name);
	ck_assert_str_eq(buf_text(&b), seen[_i].names);
	buf_fini(&b);
}
END_TEST

/* --- judgement: marks as "attribute=grade,..." ---------------------------*/

static const struct {
	const char *why, *code;
	enum presentation p;
	const char *marks;
	enum rc rc;
	enum freshness_grade grade;
	bool refuse, complete;
	const char *said; /* part of the reasons, or of the message */
} judged[] = {
	{ "all Extra", "COD", PRES_GUTTED,
	    "skin=extra,mucus=extra,eye=extra,gills=extra,belly lining=extra,"
	    "smell=extra,flesh=extra,damage=extra",
	    RC_OK, GRADE_EXTRA, false, true, "grade extra: skin" },
	{ "the worst decides", "COD", PRES_GUTTED,
	    "skin=extra,mucus=a,eye=b,gills=a,belly lining=extra,smell=a,"
	    "flesh=a,damage=extra",
	    RC_OK, GRADE_B, false, true, "grade b: eye \"flat" },
	{ "one mark refuses", "COD", PRES_GUTTED,
	    "skin=extra,mucus=extra,eye=extra,gills=not-admitted,"
	    "belly lining=extra,smell=extra,flesh=extra,damage=extra",
	    RC_OK, GRADE_NOT_ADMITTED, true, true,
	    "refusal proposed: gills \"yellowish" },
	{ "at best", "COD", PRES_GUTTED, "eye=a,gills=extra", RC_OK, GRADE_A,
	    false, false,
	    "at best grade a: eye \"less domed; pupil black without shine; a "
	    "slight haze\"; not looked at: skin, mucus, belly lining" },
	{ "any case", "COD", PRES_GUTTED, "EYE=a", RC_OK, GRADE_A, false, false,
	    "at best" },
	{ "memory is said", "MAC", PRES_WHOLE, "gills=b", RC_OK, GRADE_B, false,
	    false, "words from memory, unverified" },
	{ "choice is said", "TUR", PRES_GUTTED, "gills=b", RC_OK, GRADE_B,
	    false, false, "chosen by us, not by law" },
	{ "cephalopods end at b, worse still refuses", "SQR", PRES_WHOLE,
	    "smell=not-admitted", RC_OK, GRADE_NOT_ADMITTED, true, false,
	    "refusal proposed: smell worse than \"sour, or of ink\"" },
	{ "dead mussels", "MUS", PRES_LIVE, "closes when tapped=not-admitted",
	    RC_OK, GRADE_NOT_ADMITTED, true, false, "dead or dying" },
	{ "shrimps have no b", "PRA", PRES_WHOLE, "shell=b", RC_INVALID,
	    GRADE_EXTRA, false, false, "no grade b for shell" },
	{ "bivalves have no a", "MUS", PRES_LIVE, "shell=a", RC_INVALID,
	    GRADE_EXTRA, false, false, "no grade a for shell" },
	{ "not on a fillet", "COD", PRES_FILLET, "eye=extra", RC_INVALID,
	    GRADE_EXTRA, false, false,
	    "\"eye\" is not judged on this fish; these are: skin, mucus" },
	{ "no lining ungutted", "COD", PRES_WHOLE, "belly lining=extra",
	    RC_INVALID, GRADE_EXTRA, false, false, "is not judged" },
	{ "twice", "COD", PRES_GUTTED, "eye=extra,Eye=b", RC_INVALID,
	    GRADE_EXTRA, false, false, "eye is marked twice" },
	{ "nothing", "COD", PRES_GUTTED, "", RC_INVALID, GRADE_EXTRA, false,
	    false, "no attribute was marked" },
	{ "no table", "CRE", PRES_WHOLE, "eye=extra", RC_NOTFOUND, GRADE_EXTRA,
	    false, false, "no freshness table for CRE as whole" },
	{ "no table live", "NEP", PRES_LIVE, "shell=extra", RC_NOTFOUND,
	    GRADE_EXTRA, false, false, "NEP as live" },
};

static size_t
read_marks(struct freshness_mark *out, char *text)
{
	char *next, *eq;
	size_t n = 0;

	for (; *text != '\0'; text = next) {
		next = text + strcspn(text, ",");
		if (*next == ',')
			*next++ = '\0';
		eq = strchr(text, '=');
		*eq = '\0';
		out[n].attribute = text;
		ck_assert_int_eq(
		    freshness_grade_parse(&out[n].grade, eq + 1, NULL), RC_OK);
		n++;
	}
	return n;
}

START_TEST(judged_rows)
{
	struct freshness_mark marks[FRESHNESS_MARKS_MAX];
	struct freshness_verdict v;
	struct freshness_fish f;
	struct err err;
	struct buf b;
	char text[300];
	size_t n;
	enum rc rc;

	err_clear(&err);
	memset(&v, 0, sizeof(v));
	buf_init(&b, 2000);
	ck_assert(str_copy(text, sizeof(text), judged[_i].marks));
	n = read_marks(marks, text);
	f.species = freshness_species_find(&groups, judged[_i].code);
	f.presentation = judged[_i].p;
	rc = freshness_judge(&v, &words, &f, marks, n, &err);
	ck_assert_msg(rc == judged[_i].rc, "%s: %s", judged[_i].why, err.text);
	if (rc == RC_OK) {
		freshness_reasons(&b, &v);
		ck_assert_int_eq(buf_check(&b, "reasons", NULL), RC_OK);
	} else {
		buf_puts(&b, err.text);
	}
	ck_assert_int_eq(v.grade, judged[_i].grade);
	ck_assert_int_eq(v.refuse, judged[_i].refuse);
	ck_assert_int_eq(v.complete, judged[_i].complete);
	ck_assert_msg(strstr(buf_text(&b), judged[_i].said) != NULL, "%s: %s",
	    judged[_i].why, buf_text(&b));
	buf_fini(&b);
}
END_TEST

/* For every species and presentation, each single mark in turn: the grade is
 * the mark's own, and the whole set with one worse mark is never better. */
START_TEST(worst_always_decides)
{
	const struct freshness_attribute *list[FRESHNESS_MARKS_MAX];
	struct freshness_mark marks[FRESHNESS_MARKS_MAX];
	struct freshness_verdict v;
	struct freshness_fish f;
	size_t s, p, i, k, n, runs = 0;
	int g;

	for (s = 0; s < groups.count; s++)
		for (p = 0; p < PRES_COUNT; p++) {
			f.species = &groups.items[s];
			f.presentation = (enum presentation)p;
			n = freshness_applies(list, &words, &f);
			for (i = 0; i < n; i++)
				for (g = 0; g < GRADE_COUNT; g++) {
					if (g != GRADE_NOT_ADMITTED &&
					    list[i]->grade[g].text[0] == '\0')
						continue;
					for (k = 0; k < n; k++) {
						marks[k].attribute =
						    list[k]->name;
						marks[k].grade = GRADE_EXTRA;
					}
					marks[i].grade =
					    (enum freshness_grade)g;
					ck_assert_int_eq(
					    freshness_judge(
						&v, &words, &f, marks, n, NULL),
					    RC_OK);
					ck_assert_int_eq(v.grade, g);
					ck_assert(v.complete);
					ck_assert_int_eq(
					    v.refuse, g == GRADE_NOT_ADMITTED);
					runs++;
				}
		}
	ck_assert_uint_gt(runs, 5000);
}
END_TEST

/* --- files ----------------------------------------------------------------*/

#define HEADER "group,attribute,only,when,grade,text,verified,source\n"
#define ROW "whitefish,eye,,any,extra,t,yes,x\n"

static const struct {
	const char *why, *data, *said;
} files[] = {
	{ "plain", HEADER ROW "whitefish,eye,,any,a,u,no,y\n", NULL },
	{ "same name for others",
	    HEADER "whitefish,eye,PLE,any,extra,t,yes,x\n"
		   "whitefish,eye,not PLE,any,extra,t,yes,x\n",
	    NULL },
	{ "no row", HEADER, "f.csv:1:1: no freshness words in it" },
	{ "group", HEADER "fish,eye,,any,extra,t,yes,x\n",
	    "f.csv:2:1: group \"fish\" is not one of no-table, whitefish" },
	{ "no table", HEADER "no-table,eye,,any,extra,t,yes,x\n",
	    "f.csv:2:1: words for a group without a table" },
	{ "only", HEADER "whitefish,eye,ple,any,extra,t,yes,x\n",
	    "f.csv:2:15: only \"ple\" is not codes" },
	{ "only, comma", HEADER "whitefish,eye,\"PLE,SOL\",any,extra,t,yes,x\n",
	    "f.csv:2:15: only \"PLE,SOL\" is not codes" },
	{ "when", HEADER "whitefish,eye,,now,extra,t,yes,x\n",
	    "f.csv:2:16: when \"now\" is not one of any, head-on" },
	{ "grade", HEADER "whitefish,eye,,any,E,t,yes,x\n",
	    "f.csv:2:20: grade \"E\" is not one of extra, a, b" },
	{ "no text", HEADER "whitefish,eye,,any,extra,,yes,x\n",
	    "f.csv:2:26: text is empty" },
	{ "verified", HEADER "whitefish,eye,,any,extra,t,?,x\n",
	    "f.csv:2:28: verified \"?\" is not one of no, yes" },
	{ "no source", HEADER "whitefish,eye,,any,extra,t,yes,\n",
	    "f.csv:2:32: source is empty" },
	{ "does not begin with extra", HEADER "whitefish,eye,,any,a,t,yes,x\n",
	    "f.csv:2:20: eye does not begin with grade extra" },
	{ "grade twice", HEADER ROW ROW,
	    "f.csv:3:20: a second grade extra for eye" },
	{ "when differs", HEADER ROW "whitefish,eye,,live,a,t,yes,x\n",
	    "f.csv:3:16: when differs from the row above for eye" },
};

START_TEST(file_rows)
{
	struct freshness_table t;
	struct err err;
	enum rc rc;

	err_clear(&err);
	rc = freshness_parse(
	    &t, "f.csv", files[_i].data, strlen(files[_i].data), &err);
	if (files[_i].said == NULL) {
		ck_assert_msg(rc == RC_OK, "%s", err.text);
	} else {
		ck_assert_msg(rc == RC_INVALID, "%s", files[_i].why);
		ck_assert_msg(strncmp(err.text, files[_i].said,
				  strlen(files[_i].said)) == 0,
		    "%s: %s", files[_i].why, err.text);
		ck_assert(t.items == NULL && t.count == 0);
	}
	freshness_fini(&t);
}
END_TEST

/* One attribute more than a verdict can hold is refused, not cut. */
START_TEST(too_many)
{
	struct freshness_table t;
	struct err err;
	struct buf b;
	int i;

	err_clear(&err);
	buf_init(&b, 4000);
	buf_puts(&b, HEADER);
	for (i = 0; i < FRESHNESS_MARKS_MAX; i++)
		buf_printf(&b, "whitefish,e%d,,any,extra,t,yes,x\n", i);
	ck_assert_int_eq(
	    freshness_parse(&t, "f.csv", b.data, b.len, &err), RC_OK);
	freshness_fini(&t);
	buf_puts(&b, "whitefish,e99,,any,extra,t,yes,x\n");
	ck_assert_int_eq(
	    freshness_parse(&t, "f.csv", b.data, b.len, &err), RC_INVALID);
	ck_assert_str_eq(
	    err.text, "f.csv:18:11: more than 16 attributes in one group");
	buf_fini(&b);
}
END_TEST

#define SPECIES "species,group,basis,verified,source\n"

static const struct {
	const char *data, *said;
} species_files[] = {
	{ SPECIES "COD,whitefish,law,yes,x\n", NULL },
	{ SPECIES "cod,whitefish,law,yes,x\n", "s.csv:2:1: species \"cod\"" },
	{ SPECIES "COD,white,law,yes,x\n", "s.csv:2:5: group \"white\"" },
	{ SPECIES "COD,whitefish,taste,yes,x\n",
	    "s.csv:2:15: basis \"taste\" is not one of choice, law" },
	{ SPECIES "COD,whitefish,law,,x\n", "s.csv:2:19: verified \"\"" },
	{ SPECIES "COD,whitefish,law,yes,\n", "s.csv:2:23: source is empty" },
	{ SPECIES "COD,whitefish,law,yes,x\nCOD,bluefish,law,yes,x\n",
	    "s.csv:3:1: species COD appears twice" },
	{ SPECIES, "s.csv:1:1: no species in it" },
};

START_TEST(species_file_rows)
{
	struct freshness_species_table t;
	const char *data = species_files[_i].data;
	struct err err;
	enum rc rc;

	err_clear(&err);
	rc = freshness_species_parse(&t, "s.csv", data, strlen(data), &err);
	if (species_files[_i].said == NULL)
		ck_assert_msg(rc == RC_OK, "%s", err.text);
	else
		ck_assert_msg(rc == RC_INVALID &&
			strncmp(err.text, species_files[_i].said,
			    strlen(species_files[_i].said)) == 0,
		    "%s", err.text);
	freshness_species_fini(&t);
}
END_TEST

START_TEST(grade_words)
{
	enum freshness_grade g = GRADE_B;
	struct err err;

	err_clear(&err);
	ck_assert_int_eq(freshness_grade_parse(&g, "Extra", NULL), RC_OK);
	ck_assert_int_eq(g, GRADE_EXTRA);
	ck_assert_int_eq(freshness_grade_parse(&g, "c", &err), RC_INVALID);
	ck_assert_str_eq(
	    err.text, "grade \"c\" is not one of extra, a, b, not-admitted");
}
END_TEST

Suite *
suite_core_freshness(void)
{
	Suite *s = suite_create("core_freshness");
	TCase *tc = tcase_create("the real files");

	tcase_add_checked_fixture(tc, load_real, drop_real);
	tcase_add_loop_test(tc, list_rows, 0, (int)NELEM(lists));
	tcase_add_test(tc, every_species);
	tcase_add_loop_test(tc, text_rows, 0, (int)NELEM(texts));
	tcase_add_loop_test(tc, seen_rows, 0, (int)NELEM(seen));
	tcase_add_loop_test(tc, judged_rows, 0, (int)NELEM(judged));
	tcase_add_test(tc, worst_always_decides);
	suite_add_tcase(s, tc);
	tc = tcase_create("files");
	tcase_add_loop_test(tc, file_rows, 0, (int)NELEM(files));
	tcase_add_test(tc, too_many);
	tcase_add_loop_test(
	    tc, species_file_rows, 0, (int)NELEM(species_files));
	tcase_add_test(tc, grade_words);
	suite_add_tcase(s, tc);
	return s;
}
