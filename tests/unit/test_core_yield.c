/*
 * test_core_yield.c - the yield table against the handbooks it is taken from,
 * the order of nature it must keep, and files that must be refused.
 */
#include "unit.h"

#include <string.h>

#include "base/buf.h"
#include "base/file.h"
#include "base/str.h"
#include "core/species.h"
#include "core/yield.h"

static struct yield_table real;
static struct species_table fish;

static void
load_real(void)
{
	struct buf b;
	struct err err;

	err_clear(&err);
	buf_init(&b, FILE_READ_MAX);
	ck_assert_msg(
	    file_read(&b, "config/yields.csv", &err) == RC_OK, "%s", err.text);
	ck_assert_msg(yield_parse(&real, "config/yields.csv", b.data, b.len,
			  &err) == RC_OK,
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
	yield_fini(&real);
	species_fini(&fish);
}

/* The yield in 1/10 000, or -1 when there is none. */
static int
look(const char *species, enum yield_form from, enum yield_form to)
{
	struct yield y;

	if (yield_find(&y, &real, species, from, to, NULL) != RC_OK)
		return -1;
	return y.bp;
}

/*
 * Source: FAO Fisheries Technical Paper 309, Yield and nutritional value of
 * the commercially more important fish species, Table 1: columns "fillets,
 * skinless" and, for shellfish, "meat".  Grams of 10 kg bought whole.
 */
/* clang-format off */
static const struct {
	const char *why; /* the item as Table 1 calls it */
	const char *code;
	enum yield_form to;
	grams edible;
} tp309[] = {
	{ "Atlantic cod", "COD", YIELD_SKINLESS, 3400 },
	{ "Haddock", "HAD", YIELD_SKINLESS, 3500 },
	{ "Saithe", "POK", YIELD_SKINLESS, 3400 },
	{ "Whiting", "WHG", YIELD_SKINLESS, 3200 },
	{ "European hake", "HKE", YIELD_SKINLESS, 4100 },
	{ "Atlantic mackerel", "MAC", YIELD_SKINLESS, 5400 },
	{ "Atlantic herring", "HER", YIELD_SKINLESS, 4600 },
	{ "European pilchard", "PIL", YIELD_SKINLESS, 5000 },
	{ "European sprat", "SPR", YIELD_SKINLESS, 5000 },
	{ "European anchovy", "ANE", YIELD_SKINLESS, 5100 },
	{ "European plaice", "PLE", YIELD_SKINLESS, 3400 },
	{ "Mullets nei", "MLR", YIELD_SKINLESS, 3400 },
	{ "Dentex, seabreams etc nei", "SBG", YIELD_SKINLESS, 4000 },
	{ "Dentex, seabreams etc nei", "BRB", YIELD_SKINLESS, 4000 },
	{ "Pacific salmon, for want of Atlantic", "SAL", YIELD_SKINLESS, 5000 },
	{ "Blue mussel", "MUS", YIELD_MEAT, 2400 },
	{ "Sea mussels nei", "MSM", YIELD_MEAT, 2400 },
	{ "Pacific cupped oyster", "OYG", YIELD_MEAT, 1000 },
	{ "Clams nei", "CTG", YIELD_MEAT, 1800 },
	{ "Japanese (Manila) clam", "CLJ", YIELD_MEAT, 1800 },
	{ "Common scallop, with roe", "SCE", YIELD_MEAT, 1500 },
	{ "Common squids", "SQR", YIELD_MEAT, 6700 },
	{ "Common squids", "SQF", YIELD_MEAT, 6700 },
	{ "Cuttlefishes, bobtail squids", "CTC", YIELD_MEAT, 6300 },
	{ "Octopuses", "OCC", YIELD_MEAT, 7900 },
	{ "Northern prawn", "PRA", YIELD_MEAT, 3600 },
	{ "Penaeus shrimps nei", "PNV", YIELD_MEAT, 5700 },
	{ "Penaeus shrimps nei", "GIT", YIELD_MEAT, 5700 },
};

/*
 * Conversion factors: live weight = product weight x factor.  Sources: EU,
 * Commission Implementing Reg. (EU) No 404/2011 Annex XIII; CWP, FAO
 * Coordinating Working Party Handbook of Fishery Statistical Standards,
 * Annex I.1 (2004).  Only pairs whose row is that one factor.
 */
static const struct {
	const char *why;
	const char *code;
	enum yield_form to;
	int factor; /* hundredths */
} factors[] = {
	{ "EU", "LIN", YIELD_FILLET, 264 },
	{ "CWP sea bass", "BSS", YIELD_HEADED, 179 },
	{ "CWP sea bream", "SBG", YIELD_HEADED, 147 },
	{ "CWP salmon, raw fillet", "SAL", YIELD_FILLET, 200 },
	{ "CWP flatfish, raw fillet", "DAB", YIELD_FILLET, 248 },
	{ "CWP tuna, raw fillet", "YFT", YIELD_FILLET, 154 },
	{ "CWP tuna, skinless loin", "ALB", YIELD_LOIN, 192 },
	{ "CWP lobsters, tail", "LBE", YIELD_TAIL, 263 },
	{ "CWP lobsters, meat", "LBE", YIELD_MEAT, 386 },
	{ "CWP crabs", "CRE", YIELD_MEAT, 600 },
	{ "CWP shrimps, shell-on tail", "CSH", YIELD_TAIL, 163 },
	{ "CWP shrimps, peeled", "CSH", YIELD_MEAT, 280 },
	{ "CWP oysters", "OYF", YIELD_MEAT, 1000 },
	{ "CWP clams", "COC", YIELD_MEAT, 600 },
	{ "CWP squid, gutted", "SQR", YIELD_GUTTED, 145 },
};

/*
 * Measured yields.  Sources: Abdollahi and Rezaei 2014 (rainbow trout),
 * Xiccato et al. 2009 and Poli et al. 2001 (sea bass).
 */
static const struct {
	const char *why;
	const char *code;
	enum yield_form from, to;
	int bp;
} measured[] = {
	{ "56.69 %", "TRR", YIELD_WHOLE, YIELD_FILLET, 5669 },
	{ "45.36 %", "TRR", YIELD_WHOLE, YIELD_SKINLESS, 4536 },
	{ "skinning: 45.36 / 56.69 = 0.80014", "TRR", YIELD_FILLET,
	    YIELD_SKINLESS, 8001 },
	{ "mean of 87.56 and 83.00 %, not the CWP 71 %", "TRR", YIELD_WHOLE,
	    YIELD_GUTTED, 8528 },
	{ "carcass 89.8 %", "BSS", YIELD_WHOLE, YIELD_GUTTED, 8980 },
	{ "48.8 and 48 %", "BSS", YIELD_WHOLE, YIELD_FILLET, 4840 },
	{ "cod from gutted: 0.34 / 0.8474 = 0.40122", "COD", YIELD_GUTTED,
	    YIELD_SKINLESS, 4012 },
};
/* clang-format on */

START_TEST(tp309_rows)
{
	struct yield y;
	struct err err;

	err_clear(&err);
	ck_assert_msg(yield_find(&y, &real, tp309[_i].code, YIELD_WHOLE,
			  tp309[_i].to, &err) == RC_OK,
	    "%s", err.text);
	ck_assert_msg(yield_edible(10000, y.bp) == tp309[_i].edible, "%s: %d",
	    tp309[_i].why, y.bp);
	ck_assert(!y.derived && y.verified);
	ck_assert_ptr_nonnull(strstr(y.source, "Technical Paper 309"));
}
END_TEST

START_TEST(factor_rows)
{
	int bp = look(factors[_i].code, YIELD_WHOLE, factors[_i].to);
	grams want = (grams)factors[_i].factor * 10; /* live, per 1 000 g */
	grams got;

	ck_assert_msg(bp > 0, "%s", factors[_i].why);
	got = yield_bought(1000, bp);
	/* Rounding may ask for more live weight, by 2 in 1 000 at most. */
	ck_assert_msg(got >= want && got - want <= want / 500, "%s: %d, not %d",
	    factors[_i].why, (int)got, (int)want);
}
END_TEST

START_TEST(measured_rows)
{
	int bp = look(measured[_i].code, measured[_i].from, measured[_i].to);

	ck_assert_msg(bp == measured[_i].bp, "%s: %d", measured[_i].why, bp);
}
END_TEST

START_TEST(every_row)
{
	const struct yield_row *r;
	size_t i;

	ck_assert_uint_eq(real.count, 229);
	for (i = 0; i < real.count; i++) {
		r = &real.items[i];
		ck_assert_msg(species_find(&fish, r->species) != NULL,
		    "%s is no species", r->species);
		ck_assert_int_ge(r->low_bp, 1);
		ck_assert_int_le(r->low_bp, r->bp);
		ck_assert_int_le(r->bp, r->high_bp);
		ck_assert_int_le(r->high_bp, BP_ONE);
		ck_assert(r->source[0] != '\0');
		ck_assert_int_eq(look(r->species, r->from, r->to), r->bp);
		/* R-Y8 and R-Y9 */
		ck_assert(!r->verified || strstr(r->source, "bound") == NULL);
		ck_assert_int_lt(
		    look(r->species, YIELD_FILLET, YIELD_SKINLESS), BP_ONE);
	}
}
END_TEST

/* What cannot be in nature (R-Y5): `more` is cut before `less`. */
static const struct {
	const char *why;
	enum yield_form more, less;
} order[] = {
	{ "the head is in the gutted fish", YIELD_GUTTED, YIELD_HEADED },
	{ "bones are in the gutted fish", YIELD_GUTTED, YIELD_FILLET },
	{ "bones are in the headed fish", YIELD_HEADED, YIELD_FILLET },
	{ "skin has weight", YIELD_FILLET, YIELD_SKINLESS },
	{ "bones and skin have weight", YIELD_GUTTED, YIELD_SKINLESS },
	{ "a loin is part of the fillet", YIELD_SKINLESS, YIELD_LOIN },
	{ "a tail is part of the fish", YIELD_GUTTED, YIELD_TAIL },
	{ "wings are part of the ray", YIELD_GUTTED, YIELD_WING },
	{ "meat comes out of the body", YIELD_GUTTED, YIELD_MEAT },
	{ "wing fillets come off the wing", YIELD_WING, YIELD_FILLET },
};

START_TEST(order_rows)
{
	static const enum yield_form from[] = { YIELD_WHOLE, YIELD_GUTTED,
		YIELD_HEADED };
	const char *code;
	size_t i, j;
	int more, less, compared = 0;

	for (i = 0; i < fish.count; i++)
		for (j = 0; j < NELEM(from); j++) {
			code = fish.items[i].code;
			more = look(code, from[j], order[_i].more);
			less = look(code, from[j], order[_i].less);
			if (more < 0 || less < 0)
				continue;
			compared++;
			ck_assert_msg(less <= more, "%s from %s: %s", code,
			    yield_form_word(from[j]), order[_i].why);
		}
	ck_assert_int_gt(compared, 0);
}
END_TEST

/* Work already done on the fish can only raise the yield of the rest. */
START_TEST(gutted_gives_more_than_whole)
{
	size_t i;
	int to, whole, gutted, compared = 0;

	for (i = 0; i < fish.count; i++)
		for (to = YIELD_HEADED; to < YIELD_FORM_COUNT; to++) {
			whole = look(fish.items[i].code, YIELD_WHOLE,
			    (enum yield_form)to);
			gutted = look(fish.items[i].code, YIELD_GUTTED,
			    (enum yield_form)to);
			if (whole < 0 || gutted < 0)
				continue;
			compared++;
			ck_assert_msg(gutted >= whole, "%s to %s",
			    fish.items[i].code,
			    yield_form_word((enum yield_form)to));
		}
	ck_assert_int_gt(compared, 100);
}
END_TEST

/* Every pair of every species: a ratio stays in (0, 1] and says so. */
START_TEST(every_pair)
{
	struct yield y;
	size_t i;
	int from, to, derived = 0;

	for (i = 0; i < fish.count; i++)
		for (from = 0; from < YIELD_FORM_COUNT; from++)
			for (to = 0; to < YIELD_FORM_COUNT; to++) {
				if (yield_find(&y, &real, fish.items[i].code,
					(enum yield_form)from,
					(enum yield_form)to, NULL) != RC_OK)
					continue;
				ck_assert_int_ge(y.bp, 1);
				ck_assert_int_le(y.bp, BP_ONE);
				ck_assert_int_le(y.low_bp, y.bp);
				ck_assert_int_ge(y.high_bp, y.bp);
				ck_assert_int_le(y.high_bp, BP_ONE);
				ck_assert(y.source[0] != '\0');
				derived += y.derived;
			}
	ck_assert_int_gt(derived, 0);
}
END_TEST

/* --- finding, with a table made up here -----------------------------------*/

#define HEADER "species,from,to,percent,low,high,verified,source\n"

static const char made_up[] = HEADER
    "AAA,whole,gutted,90,80,95,yes,source one\n"
    "AAA,whole,fillet,40,30,50,no,source two\n"
    "AAA,whole,skinless,33.33,,,yes,source three\n"
    "AAA,gutted,fillet,60,,,yes,source four\n"
    "BBB,whole,tail,30,,,yes,source five\n"
    "BBB,whole,headed,20,,,yes,source six\n"
    "CCC,whole,meat,0.01,,,yes,source seven\n"
    "CCC,whole,tail,100,,,yes,source eight\n";

#define NONE                                                                   \
	{                                                                      \
		0, 0, 0, false, false, ""                                      \
	}

static const struct {
	const char *why;
	const char *code;
	enum yield_form from, to;
	enum rc rc;
	struct yield want;
} finds[] = {
	{ "the row itself", "AAA", YIELD_WHOLE, YIELD_GUTTED, RC_OK,
	    { 9000, 8000, 9500, true, false, "source one" } },
	{ "a row goes before a ratio", "AAA", YIELD_GUTTED, YIELD_FILLET, RC_OK,
	    { 6000, 6000, 6000, true, false, "source four" } },
	{ "code in any case", "aaa", YIELD_WHOLE, YIELD_SKINLESS, RC_OK,
	    { 3333, 3333, 3333, true, false, "source three" } },
	{ "3333/9000 = 0.37033, 3333/9500, 3333/8000", "AAA", YIELD_GUTTED,
	    YIELD_SKINLESS, RC_OK,
	    { 3703, 3508, 4166, true, true,
		"source three; divided by source one" } },
	{ "3333/4000; one of the two was not verified", "AAA", YIELD_FILLET,
	    YIELD_SKINLESS, RC_OK,
	    { 8332, 6666, BP_ONE, false, true,
		"source three; divided by source two" } },
	{ "never above one", "BBB", YIELD_HEADED, YIELD_TAIL, RC_OK,
	    { BP_ONE, BP_ONE, BP_ONE, true, true,
		"source five; divided by source six" } },
	{ "the smallest ratio", "CCC", YIELD_TAIL, YIELD_MEAT, RC_OK,
	    { 1, 1, 1, true, true, "source seven; divided by source eight" } },
	{ "same form", "AAA", YIELD_LOIN, YIELD_LOIN, RC_OK,
	    { BP_ONE, BP_ONE, BP_ONE, true, false, "same form" } },
	{ "same form of a species unknown", "ZZZ", YIELD_LOIN, YIELD_LOIN,
	    RC_OK, { BP_ONE, BP_ONE, BP_ONE, true, false, "same form" } },
	{ "unknown species", "ZZZ", YIELD_WHOLE, YIELD_FILLET, RC_NOTFOUND,
	    NONE },
	{ "code too long", "AAAA", YIELD_WHOLE, YIELD_FILLET, RC_NOTFOUND,
	    NONE },
	{ "no row to the form", "AAA", YIELD_GUTTED, YIELD_LOIN, RC_NOTFOUND,
	    NONE },
	{ "no row from the whole fish", "AAA", YIELD_LOIN, YIELD_SKINLESS,
	    RC_NOTFOUND, NONE },
	{ "skin does not grow back", "AAA", YIELD_SKINLESS, YIELD_FILLET,
	    RC_NOTFOUND, NONE },
	{ "a fillet is no gutted fish", "AAA", YIELD_FILLET, YIELD_GUTTED,
	    RC_NOTFOUND, NONE },
	{ "nothing becomes whole", "AAA", YIELD_GUTTED, YIELD_WHOLE,
	    RC_NOTFOUND, NONE },
};

START_TEST(find_rows)
{
	struct yield_table t;
	struct yield y;
	struct err err;
	enum rc rc;

	err_clear(&err);
	ck_assert_msg(yield_parse(&t, "y.csv", made_up, sizeof(made_up) - 1,
			  &err) == RC_OK,
	    "%s", err.text);
	memset(&y, 0, sizeof(y));
	rc = yield_find(
	    &y, &t, finds[_i].code, finds[_i].from, finds[_i].to, &err);
	ck_assert_msg(rc == finds[_i].rc, "%s: %s", finds[_i].why, err.text);
	ck_assert_int_eq(y.bp, finds[_i].want.bp);
	ck_assert_int_eq(y.low_bp, finds[_i].want.low_bp);
	ck_assert_int_eq(y.high_bp, finds[_i].want.high_bp);
	ck_assert_int_eq(y.verified, finds[_i].want.verified);
	ck_assert_int_eq(y.derived, finds[_i].want.derived);
	ck_assert_str_eq(y.source, finds[_i].want.source);
	if (rc != RC_OK) {
		ck_assert_ptr_nonnull(strstr(err.text, finds[_i].code));
		ck_assert_ptr_nonnull(
		    strstr(err.text, yield_form_word(finds[_i].from)));
		ck_assert_ptr_nonnull(
		    strstr(err.text, yield_form_word(finds[_i].to)));
	}
	yield_fini(&t);
}
END_TEST

START_TEST(longest_sources_fit)
{
	struct yield_table t;
	struct yield y;
	struct buf b;
	char source[200];

	memset(source, 's', sizeof(source) - 1);
	source[sizeof(source) - 1] = '\0';
	buf_init(&b, 2000);
	buf_printf(&b,
	    HEADER
	    "AAA,whole,gutted,90,,,yes,%s\n"
	    "AAA,whole,fillet,40,,,yes,%s\n",
	    source, source);
	ck_assert_int_eq(yield_parse(&t, "y.csv", b.data, b.len, NULL), RC_OK);
	ck_assert_int_eq(
	    yield_find(&y, &t, "AAA", YIELD_GUTTED, YIELD_FILLET, NULL), RC_OK);
	ck_assert_uint_eq(
	    strlen(y.source), 199 + strlen("; divided by ") + 199);
	buf_fini(&b);
	yield_fini(&t);
}
END_TEST

/* --- arithmetic -----------------------------------------------------------*/

/* The definition itself, searched for one gram at a time. */
START_TEST(bought_is_the_smallest)
{
	grams edible, bought;
	int bp;

	for (bp = 1; bp <= BP_ONE; bp += 37)
		for (edible = 0; edible <= 40; edible++) {
			bought = 0;
			while (bought * bp < edible * BP_ONE)
				bought++;
			ck_assert_int_eq(yield_bought(edible, bp), bought);
		}
}
END_TEST

START_TEST(bought_and_edible_agree)
{
	grams edible, bought;
	int bp;

	for (bp = 1; bp <= BP_ONE; bp++)
		for (edible = 1; edible <= WEIGHT_MAX_G;
		     edible = edible * 3 + 7) {
			bought = yield_bought(edible, bp);
			ck_assert(yield_edible(bought, bp) >= edible);
			ck_assert(yield_edible(bought - 1, bp) < edible);
			ck_assert(yield_edible(edible, bp) <= edible);
		}
}
END_TEST

static const struct {
	const char *why;
	grams bought;
	int bp;
	grams edible;
} sums[] = {
	{ "rounded down: 339.66", 999, 3400, 339 },
	{ "nothing bought", 0, 3400, 0 },
	{ "all of it", 777, BP_ONE, 777 },
	{ "less than a gram", 1, 9999, 0 },
	{ "1 000 kg", WEIGHT_MAX_G, 3333, 333300 },
	{ "no yield", 1000, 0, 0 },
};

START_TEST(sum_rows)
{
	ck_assert_msg(
	    yield_edible(sums[_i].bought, sums[_i].bp) == sums[_i].edible, "%s",
	    sums[_i].why);
}
END_TEST

/* --- files ----------------------------------------------------------------*/

#define ROW "COD,whole,gutted,85,80,90,yes,x\n"

static const struct {
	const char *why;
	const char *data;
	size_t len;
	const char *said; /* how the message begins; NULL: accepted */
	size_t count;
} files[] = {
#define TEXT(s) s, sizeof(s) - 1
	{ "plain", TEXT(HEADER ROW), NULL, 1 },
	{ "no row", TEXT(HEADER), NULL, 0 },
	{ "mark, CRLF and quotes",
	    TEXT("\xef\xbb\xbfspecies,from,to,percent,low,high,verified,"
		 "source\r\nCOD,\"whole\",gutted,85,,,no,\"x, y\"\r\n"),
	    NULL, 1 },
	{ "columns in another order",
	    TEXT("source,species,from,to,high,low,percent,verified\n"
		 "x,COD,whole,gutted,90,80,85,yes\n"),
	    NULL, 1 },
	{ "two decimals", TEXT(HEADER "COD,whole,gutted,84.74,,,yes,x\n"), NULL,
	    1 },
	{ "nothing", TEXT(""), "y.csv:1:1: the file is empty", 0 },
	{ "column missing", TEXT("species,from,to,percent,low,high,source\n"),
	    "y.csv:1:1: column \"verified\" is missing", 0 },
	{ "column unknown", TEXT("species,kind\n"),
	    "y.csv:1:9: unknown column \"kind\"", 0 },
	{ "column twice", TEXT("species,species\n"),
	    "y.csv:1:9: this column appears twice", 0 },
	{ "lower case", TEXT(HEADER "cod,whole,gutted,85,80,90,yes,x\n"),
	    "y.csv:2:1: species \"cod\" is not three capital", 0 },
	{ "unknown from", TEXT(HEADER "COD,round,gutted,85,80,90,yes,x\n"),
	    "y.csv:2:5: form \"round\" is not one of whole, gutted", 0 },
	{ "unknown to", TEXT(HEADER "COD,whole,steak,85,80,90,yes,x\n"),
	    "y.csv:2:11: form \"steak\" is not one of whole, gutted", 0 },
	{ "to itself", TEXT(HEADER "COD,tail,tail,85,80,90,yes,x\n"),
	    "y.csv:2:10: nothing is cut from tail to tail", 0 },
	{ "to whole", TEXT(HEADER "COD,gutted,whole,85,80,90,yes,x\n"),
	    "y.csv:2:12: nothing is cut from gutted to whole", 0 },
	{ "zero", TEXT(HEADER "COD,whole,gutted,0,,,yes,x\n"),
	    "y.csv:2:18: percent is not above 0", 0 },
	{ "above 100", TEXT(HEADER "COD,whole,gutted,101,,,yes,x\n"),
	    "y.csv:2:18: percent \"101\" is not a percentage", 0 },
	{ "below 0", TEXT(HEADER "COD,whole,gutted,-1,,,yes,x\n"),
	    "y.csv:2:18: percent \"-1\" is not a percentage", 0 },
	{ "three decimals", TEXT(HEADER "COD,whole,gutted,84.745,,,yes,x\n"),
	    "y.csv:2:18: percent", 0 },
	{ "empty", TEXT(HEADER "COD,whole,gutted,,80,90,yes,x\n"),
	    "y.csv:2:18: percent", 0 },
	{ "low above", TEXT(HEADER "COD,whole,gutted,85,86,90,yes,x\n"),
	    "y.csv:2:21: low is above percent", 0 },
	{ "low zero", TEXT(HEADER "COD,whole,gutted,85,0,90,yes,x\n"),
	    "y.csv:2:21: low is not above 0", 0 },
	{ "high below", TEXT(HEADER "COD,whole,gutted,85,80,84,yes,x\n"),
	    "y.csv:2:24: high is below percent", 0 },
	{ "verified neither", TEXT(HEADER "COD,whole,gutted,85,80,90,?,x\n"),
	    "y.csv:2:27: verified \"?\" is not yes or no", 0 },
	{ "no source", TEXT(HEADER "COD,whole,gutted,85,80,90,yes,\n"),
	    "y.csv:2:31: source is empty", 0 },
	{ "row twice", TEXT(HEADER ROW "HAD,whole,gutted,85,,,yes,x\n" ROW),
	    "y.csv:4:1: a second row for COD from whole to gutted", 0 },
	{ "NUL", TEXT(HEADER "COD,wh\0le\n"), "y.csv:2:7: a NUL byte", 0 },
	{ "stray quote", TEXT(HEADER "COD,wh\"ole,gutted\n"),
	    "y.csv:2:7: a quote inside a field", 0 },
	{ "good row, then a bad one", TEXT(HEADER ROW "HAD,\"whole\n"),
	    "y.csv:3:5: a quoted field that is never closed", 0 },
#undef TEXT
};

START_TEST(file_rows)
{
	struct yield_table t;
	struct err err;
	enum rc rc;

	err_clear(&err);
	rc = yield_parse(&t, "y.csv", files[_i].data, files[_i].len, &err);
	if (files[_i].said == NULL) {
		ck_assert_msg(rc == RC_OK, "%s: %s", files[_i].why, err.text);
		ck_assert_uint_eq(t.count, files[_i].count);
	} else {
		ck_assert_msg(rc == RC_INVALID, "%s", files[_i].why);
		ck_assert_msg(strncmp(err.text, files[_i].said,
				  strlen(files[_i].said)) == 0,
		    "%s: %s", files[_i].why, err.text);
		ck_assert(t.items == NULL && t.count == 0);
	}
	yield_fini(&t);
}
END_TEST

Suite *
suite_core_yield(void)
{
	Suite *s = suite_create("core_yield");
	TCase *tc = tcase_create("the real file");

	tcase_add_checked_fixture(tc, load_real, drop_real);
	tcase_add_loop_test(tc, tp309_rows, 0, (int)NELEM(tp309));
	tcase_add_loop_test(tc, factor_rows, 0, (int)NELEM(factors));
	tcase_add_loop_test(tc, measured_rows, 0, (int)NELEM(measured));
	tcase_add_test(tc, every_row);
	tcase_add_loop_test(tc, order_rows, 0, (int)NELEM(order));
	tcase_add_test(tc, gutted_gives_more_than_whole);
	tcase_add_test(tc, every_pair);
	suite_add_tcase(s, tc);
	tc = tcase_create("finding and files");
	tcase_add_loop_test(tc, find_rows, 0, (int)NELEM(finds));
	tcase_add_test(tc, longest_sources_fit);
	tcase_add_loop_test(tc, sum_rows, 0, (int)NELEM(sums));
	tcase_add_test(tc, bought_is_the_smallest);
	tcase_add_test(tc, bought_and_edible_agree);
	tcase_add_loop_test(tc, file_rows, 0, (int)NELEM(files));
	suite_add_tcase(s, tc);
	return s;
}
