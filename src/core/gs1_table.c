/*
 * gs1_table.c - the application identifiers, and which need which.
 *
 * Formats, titles and associations are those of the GS1 Barcode Syntax
 * Dictionary; of its identifiers these are the ones that may stand on food or
 * on the case it comes in.  Any other is kept as it is.
 */
#include "gs1_inner.h"

#include <string.h>

#include "base/str.h"

#define ITEM "01,02,03,8006,8026"
#define GTIN3 "01,02,03"
#define GTIN2 "01,02"
#define LOGISTIC "00,01"

#define NET(ai, title)                                                         \
	{                                                                      \
		ai "n", title, gs1_measure, 6, 6, GTIN2, ai "n", SURE          \
	}
#define LOG(ai, title)                                                         \
	{                                                                      \
		ai "n", title, gs1_measure, 6, 6, LOGISTIC, ai "n", SURE       \
	}

/* clang-format off */
static const struct gs1_ai table[] = {
	{ "00", "SSCC", gs1_key, 18, 18, NULL, NULL, SURE },
	{ "01", "GTIN", gs1_gtin, 14, 14, NULL, "255,37", SURE },
	{ "02", "CONTENT", gs1_gtin, 14, 14, "37", "01,03", SURE },
	{ "03", "MTO GTIN", gs1_gtin, 14, 14, NULL, NULL, SURE },
	{ "10", "BATCH/LOT", gs1_text, 1, 20, ITEM, NULL, SURE_WORD },
	{ "11", "PROD DATE", gs1_day, 6, 6, ITEM, NULL, SURE },
	{ "12", "DUE DATE", gs1_day, 6, 6, "8020", NULL, SURE },
	{ "13", "PACK DATE", gs1_day, 6, 6, ITEM, NULL, SURE },
	{ "15", "BEST BEFORE or BEST BY", gs1_day, 6, 6, ITEM, NULL, SURE },
	{ "16", "SELL BY", gs1_day, 6, 6, ITEM, NULL, SURE },
	{ "17", "USE BY or EXPIRY", gs1_day, 6, 6, ITEM ",255", NULL, SURE },
	{ "20", "VARIANT", gs1_number, 2, 2, ITEM, NULL, SURE_NO },
	{ "21", "SERIAL", gs1_text, 1, 20, "01,03,8006", "235", SURE_WORD },
	{ "22", "CPV", gs1_text, 1, 20, "01", NULL, SURE_WORD },
	{ "235", "TPX", gs1_text, 1, 28, "01", NULL, SURE_WORD },
	{ "240", "ADDITIONAL ID", gs1_text, 1, 30, ITEM, NULL, SURE_WORD },
	{ "241", "CUST. PART No.", gs1_text, 1, 30, ITEM, NULL, SURE_WORD },
	{ "250", "SECONDARY SERIAL", gs1_text, 1, 30, "01,8006;21", NULL,
	    SURE_WORD },
	{ "251", "REF. TO SOURCE", gs1_text, 1, 30, "01,8006", NULL,
	    SURE_WORD },
	{ "254", "GLN EXTENSION COMPONENT", gs1_text, 1, 20, "414", NULL,
	    SURE_WORD },
	{ "30", "VAR. COUNT", gs1_count, 1, 8, GTIN2, NULL, SURE_NO },
	{ "310n", "NET WEIGHT (kg)", gs1_measure, 6, 6, GTIN2, "310n", SURE },
	NET("311", "LENGTH (m)"),
	NET("312", "WIDTH (m)"),
	NET("313", "HEIGHT (m)"),
	NET("314", "AREA (m\xc2\xb2)"),
	NET("315", "NET VOLUME (l)"),
	NET("316", "NET VOLUME (m\xc2\xb3)"),
	NET("320", "NET WEIGHT (lb)"),
	LOG("330", "GROSS WEIGHT (kg)"),
	LOG("331", "LENGTH (m), log"),
	LOG("332", "WIDTH (m), log"),
	LOG("333", "HEIGHT (m), log"),
	LOG("335", "VOLUME (l), log"),
	LOG("336", "VOLUME (m\xc2\xb3), log"),
	LOG("340", "GROSS WEIGHT (lb)"),
	NET("356", "NET WEIGHT (t oz)"),
	NET("357", "NET VOLUME (oz)"),
	{ "37", "COUNT", gs1_count, 1, 8, "00+02,00+8026", NULL, SURE_NO },
	{ "392n", "PRICE", gs1_price, 1, 15, "01", "392n,393n", SURE_NO },
	{ "395n", "PRICE/UoM", gs1_price, 6, 6, NULL, "392n,393n,395n,8005",
	    SURE_NO },
	{ "400", "ORDER NUMBER", gs1_text, 1, 30, NULL, NULL, SURE_WORD },
	{ "401", "GINC", gs1_text, 1, 30, NULL, NULL, SURE_WORD },
	{ "402", "GSIN", gs1_key, 17, 17, NULL, NULL, SURE },
	{ "403", "ROUTE", gs1_text, 1, 30, "00", NULL, SURE_WORD },
	{ "410", "SHIP TO LOC", gs1_key, 13, 13, NULL, NULL, SURE },
	{ "411", "BILL TO", gs1_key, 13, 13, NULL, NULL, SURE },
	{ "412", "PURCHASE FROM", gs1_key, 13, 13, NULL, NULL, SURE },
	{ "413", "SHIP FOR LOC", gs1_key, 13, 13, NULL, NULL, SURE },
	{ "414", "LOC No.", gs1_key, 13, 13, NULL, NULL, SURE },
	{ "415", "PAY TO", gs1_key, 13, 13, "8020", NULL, SURE },
	{ "416", "PROD/SERV LOC", gs1_key, 13, 13, NULL, NULL, SURE },
	{ "417", "PARTY", gs1_key, 13, 13, NULL, NULL, SURE },
	{ "420", "SHIP TO POST", gs1_text, 1, 20, NULL, "421", SURE_WORD },
	{ "421", "SHIP TO POST", gs1_country_text, 4, 12, NULL, NULL,
	    SURE_NO },
	{ "422", "ORIGIN", gs1_country, 3, 3, ITEM, "426", SURE },
	{ "423", "COUNTRY - INITIAL PROCESS", gs1_countries, 3, 15, GTIN3,
	    "426", SURE_NO },
	{ "424", "COUNTRY - PROCESS", gs1_country, 3, 3, GTIN3, "426", SURE },
	{ "425", "COUNTRY - DISASSEMBLY", gs1_countries, 3, 15, GTIN3, "426",
	    SURE_NO },
	{ "426", "COUNTRY - FULL PROCESS", gs1_country, 3, 3, GTIN3, NULL,
	    SURE },
	{ "427", "ORIGIN SUBDIVISION", gs1_text, 1, 3, GTIN3 ";422", NULL,
	    SURE_NO },
	{ "4326", "REL DATE", gs1_day_exact, 6, 6, "00", NULL, SURE },
	{ "4330", "MAX TEMP F.", gs1_temperature, 6, 7, "00", "4331", SURE },
	{ "4331", "MAX TEMP C.", gs1_temperature, 6, 7, "00", "4330", SURE },
	{ "4332", "MIN TEMP F.", gs1_temperature, 6, 7, "00", "4333", SURE },
	{ "4333", "MIN TEMP C.", gs1_temperature, 6, 7, "00", "4332", SURE },
	{ "7001", "NSN", gs1_number, 13, 13, "01,02,8006,8026", NULL, SURE },
	{ "7002", "MEAT CUT", gs1_text, 1, 30, GTIN2, NULL, SURE_WORD },
	{ "7003", "EXPIRY TIME", gs1_day_time, 10, 10, GTIN3, NULL, SURE },
	{ "7004", "ACTIVE POTENCY", gs1_number, 1, 4, "01+10,03+10", NULL,
	    SURE_NO },
	{ "7005", "CATCH AREA", gs1_area, 1, 12, GTIN2, NULL, SURE_MIXED },
	{ "7006", "FIRST FREEZE DATE", gs1_day_exact, 6, 6, GTIN2, NULL,
	    SURE },
	{ "7007", "HARVEST DATE", gs1_day_span, 6, 12, GTIN2, NULL, SURE },
	{ "7008", "AQUATIC SPECIES", gs1_species, 1, 3, GTIN2, NULL,
	    SURE_MIXED },
	{ "7009", "FISHING GEAR TYPE", gs1_gear, 1, 10, GTIN2, NULL,
	    SURE_MIXED },
	{ "7010", "PROD METHOD", gs1_method, 1, 2, GTIN3, NULL, SURE },
	{ "7011", "TEST BY DATE", gs1_test_by, 6, 10, GTIN3, NULL, SURE },
	{ "703n", "PROCESSOR # ", gs1_country_text, 4, 30, GTIN3, NULL,
	    SURE_WORD },
	{ "7040", "UIC+EXT", gs1_uic, 4, 4, NULL, NULL, SURE },
	{ "8005", "PRICE PER UNIT", gs1_number, 6, 6, GTIN3, NULL, SURE },
	{ "8006", "ITIP", gs1_piece, 18, 18, NULL, "01,03,37", SURE },
	{ "8008", "PROD TIME", gs1_made_at, 8, 12, GTIN3, NULL, SURE },
	{ "8020", "REF No.", gs1_text, 1, 25, "415", NULL, SURE_WORD },
	{ "8026", "ITIP CONTENT", gs1_piece, 18, 18, "37", "02,8006", SURE },
	{ "90", "INTERNAL", gs1_text, 1, 30, NULL, NULL, SURE_WORD },
	{ "9n", "INTERNAL", gs1_text, 1, 90, NULL, NULL, SURE_WORD },
};

/* Digits of an identifier by its first two; source: the same dictionary, where
 * all that begin alike are of one length but 23 (235) and 71 (7100 to 719). */
static const struct {
	const char *from, *to;
	int digits;
} lengths[] = {
	{ "00", "04", 2 }, { "10", "22", 2 }, { "23", "25", 3 },
	{ "30", "30", 2 }, { "31", "36", 4 }, { "37", "37", 2 },
	{ "39", "39", 4 }, { "40", "42", 3 }, { "43", "43", 4 },
	{ "70", "70", 4 }, { "71", "71", 3 }, { "72", "72", 4 },
	{ "80", "82", 4 }, { "90", "99", 2 },
};

/* General Specifications 26.0 table 7-6, by the first two digits. */
static const struct {
	const char *from, *to;
	int length;
} predefined[] = {
	{ "00", "00", 18 }, { "01", "03", 14 }, { "04", "04", 16 },
	{ "11", "19", 6 }, { "20", "20", 2 }, { "31", "36", 6 },
	{ "41", "41", 13 },
};
/* clang-format on */

#define NELEM(a) (sizeof(a) / sizeof((a)[0]))

static bool
between(const char *from, const char *to, const char *s)
{
	return strncmp(s, from, 2) >= 0 && strncmp(s, to, 2) <= 0;
}

bool
gs1_ai_matches(const char *pattern, const char *ai)
{
	size_t i;

	for (i = 0; pattern[i] != '\0' && ai[i] != '\0'; i++)
		if (pattern[i] == 'n' ? ai[i] < '0' || ai[i] > '9'
				      : pattern[i] != ai[i])
			return false;
	return pattern[i] == '\0' && ai[i] == '\0';
}

/* Decimals of a measure are 0 to 5; 90 has a row of its own before 91 to 99. */
static bool
begins(const struct gs1_ai *row, const char *s, size_t n)
{
	size_t digits = strlen(row->ai);
	char ai[5];

	if (n < digits)
		return false;
	memcpy(ai, s, digits);
	ai[digits] = '\0';
	return gs1_ai_matches(row->ai, ai) &&
	    (row->read != gs1_measure || ai[digits - 1] <= '5');
}

const struct gs1_ai *
gs1_ai_find(const char *s, size_t n)
{
	size_t i;

	for (i = 0; i < NELEM(table); i++)
		if (begins(&table[i], s, n))
			return &table[i];
	return NULL;
}

/* Where nothing is assigned yet four is taken, as in the ranges opened last
 * (43, 70, 72, 80 to 82); what is read so is named in a note. */
int
gs1_ai_digits(const char *s, size_t n)
{
	int digits = 4;
	size_t i;

	if (n < 2 || !gs1_all_digits(s, 2))
		return 0;
	for (i = 0; i < NELEM(lengths); i++)
		if (between(lengths[i].from, lengths[i].to, s))
			digits = lengths[i].digits;
	return n >= (size_t)digits && gs1_all_digits(s, (size_t)digits) ? digits
									: 0;
}

int
gs1_predefined(const char *ai)
{
	size_t i;

	for (i = 0; i < NELEM(predefined); i++)
		if (between(predefined[i].from, predefined[i].to, ai))
			return predefined[i].length;
	return 0;
}

/* --- which need which ------------------------------------------------------*/

/* An element that matches, other than the one at `self`. */
static bool
has(const struct gs1_scan *s, const char *pattern, size_t self)
{
	size_t i;

	for (i = 0; i < s->count; i++)
		if (i != self && gs1_ai_matches(pattern, s->elements[i].ai))
			return true;
	return false;
}

/* One word up to any of `ends` copied out; returns what follows it. */
static const char *
word(char dst[8], const char *s, const char *ends)
{
	size_t n = strcspn(s, ends);

	memcpy(dst, s, n);
	dst[n] = '\0';
	return s + n;
}

/* "00+02,00+8026": any alternative whose parts are all there. */
static bool
one_of(const struct gs1_scan *s, const char *group, size_t self)
{
	const char *p = group;
	char ai[8];
	bool all = true;

	for (;;) {
		p = word(ai, p, "+,;");
		all = all && has(s, ai, self);
		if (*p == '+') {
			p++;
			continue;
		}
		if (all || *p != ',')
			return all;
		all = true;
		p++;
	}
}

/* "(01), (02) or (03)", "(00) with (02)" for people. */
static void
spell(char *dst, size_t size, const char *group)
{
	const char *p = group, *last = NULL;
	size_t n = strcspn(group, ";"), i;
	char ai[8], *at = dst;

	for (i = 0; i < n; i++)
		if (group[i] == ',')
			last = group + i;
	while (p < group + n) {
		p = word(ai, p, "+,;");
		str_fmt(at, size - (size_t)(at - dst), "(%s)%s", ai,
		    *p == '+'       ? " with "
			: *p != ',' ? ""
			: p == last ? " or "
				    : ", ");
		at += strlen(at);
		if (*p == '+' || *p == ',')
			p++;
	}
}

static void
required(struct gs1_scan *s, const char *with, size_t self)
{
	const char *group = with;
	char text[100];

	while (group != NULL) {
		if (!one_of(s, group, self)) {
			spell(text, sizeof(text), group);
			gs1_problem(s, GS1_PARTNER,
			    "(%s) needs %s beside it, on this or another "
			    "symbol of the item",
			    s->elements[self].ai, text);
		}
		group = strchr(group, ';');
		if (group != NULL)
			group++;
	}
}

static void
excluded(struct gs1_scan *s, const char *without, size_t self)
{
	const char *p = without;
	char ai[8];

	while (p != NULL && *p != '\0') {
		p = word(ai, p, ",");
		if (has(s, ai, self))
			gs1_problem(s, GS1_BAD,
			    "(%s) must not stand together with (%s)",
			    s->elements[self].ai, ai);
		if (*p == ',')
			p++;
	}
}

void
gs1_partners(struct gs1_scan *s)
{
	const struct gs1_ai *row;
	size_t i;

	for (i = 0; i < s->count; i++) {
		row = gs1_ai_find(s->elements[i].ai, strlen(s->elements[i].ai));
		if (row == NULL)
			continue;
		required(s, row->with, i);
		excluded(s, row->without, i);
	}
}
