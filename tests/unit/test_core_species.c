/*
 * test_core_species.c - the species table: the real file against published
 * lists, and files that must be refused.
 */
#include "unit.h"

#include <string.h>

#include "base/buf.h"
#include "base/file.h"
#include "base/str.h"
#include "core/species.h"

static struct species_table real;

static void
load_real(void)
{
	struct buf b;
	struct err err;

	err_clear(&err);
	buf_init(&b, FILE_READ_MAX);
	ck_assert_msg(
	    file_read(&b, "config/species.csv", &err) == RC_OK, "%s", err.text);
	ck_assert_msg(species_parse(&real, "config/species.csv", b.data, b.len,
			  &err) == RC_OK,
	    "%s", err.text);
	buf_fini(&b);
}

static void
drop_real(void)
{
	species_fini(&real);
}

/*
 * Source: FAO ASFIS List of Species for Fishery Statistics Purposes, 2025
 * (code, scientific name); allergen groups: Reg. (EU) No 1169/2011 Annex II
 * points 2, 4 and 14.  Pieces: 2 fillets of a round and 4 of a flat fish as
 * in the source column of the file; 4 loins and 2 wings are from memory,
 * unverified, and say so in that column.
 */
/* clang-format off */
static const struct {
	const char *why;
	const char *code;
	const char *scientific;
	enum body_form form;
	int pieces;
	const char *piece;
	enum allergen allergen;
} asfis[] = {
	{ "gadoid", "COD", "Gadus morhua",
	    FORM_ROUND, 2, "fillet", ALLERGEN_FISH },
	{ "gadoid", "HAD", "Melanogrammus aeglefinus",
	    FORM_ROUND, 2, "fillet", ALLERGEN_FISH },
	{ "not the code of pollack", "POK", "Pollachius virens",
	    FORM_ROUND, 2, "fillet", ALLERGEN_FISH },
	{ "not the code of saithe", "POL", "Pollachius pollachius",
	    FORM_ROUND, 2, "fillet", ALLERGEN_FISH },
	{ "hake", "HKE", "Merluccius merluccius",
	    FORM_ROUND, 2, "fillet", ALLERGEN_FISH },
	{ "mackerel", "MAC", "Scomber scombrus",
	    FORM_ROUND, 2, "fillet", ALLERGEN_FISH },
	{ "salmon", "SAL", "Salmo salar",
	    FORM_ROUND, 2, "fillet", ALLERGEN_FISH },
	{ "sea bass", "BSS", "Dicentrarchus labrax",
	    FORM_ROUND, 2, "fillet", ALLERGEN_FISH },
	{ "a thin fish that swims upright", "JOD", "Zeus faber",
	    FORM_ROUND, 2, "fillet", ALLERGEN_FISH },
	{ "2 fillets of the tail", "MON", "Lophius piscatorius",
	    FORM_ROUND, 2, "fillet", ALLERGEN_FISH },
	{ "loins", "YFT", "Thunnus albacares",
	    FORM_ROUND, 4, "loin", ALLERGEN_FISH },
	{ "loins", "SWO", "Xiphias gladius",
	    FORM_ROUND, 4, "loin", ALLERGEN_FISH },
	{ "wings", "RJC", "Raja clavata",
	    FORM_CARTILAGINOUS, 2, "wing", ALLERGEN_FISH },
	{ "flat", "PLE", "Pleuronectes platessa",
	    FORM_FLAT, 4, "fillet", ALLERGEN_FISH },
	{ "flat", "SOL", "Solea solea",
	    FORM_FLAT, 4, "fillet", ALLERGEN_FISH },
	{ "flat", "TUR", "Scophthalmus maximus",
	    FORM_FLAT, 4, "fillet", ALLERGEN_FISH },
	{ "flat", "HAL", "Hippoglossus hippoglossus",
	    FORM_FLAT, 4, "fillet", ALLERGEN_FISH },
	{ "lobster", "LBE", "Homarus gammarus",
	    FORM_CRUSTACEAN, 0, "", ALLERGEN_CRUSTACEANS },
	{ "crab", "CRE", "Cancer pagurus",
	    FORM_CRUSTACEAN, 0, "", ALLERGEN_CRUSTACEANS },
	{ "langoustine", "NEP", "Nephrops norvegicus",
	    FORM_CRUSTACEAN, 0, "", ALLERGEN_CRUSTACEANS },
	{ "scallop", "SCE", "Pecten maximus",
	    FORM_BIVALVE, 0, "", ALLERGEN_MOLLUSCS },
	{ "mussel", "MUS", "Mytilus edulis",
	    FORM_BIVALVE, 0, "", ALLERGEN_MOLLUSCS },
	{ "name of the 2025 list, not Crassostrea", "OYG", "Magallana gigas",
	    FORM_BIVALVE, 0, "", ALLERGEN_MOLLUSCS },
	{ "whelk", "WHE", "Buccinum undatum",
	    FORM_GASTROPOD, 0, "", ALLERGEN_MOLLUSCS },
	{ "cephalopods are molluscs", "OCC", "Octopus vulgaris",
	    FORM_CEPHALOPOD, 0, "", ALLERGEN_MOLLUSCS },
	{ "cephalopods are molluscs", "SQR", "Loligo vulgaris",
	    FORM_CEPHALOPOD, 0, "", ALLERGEN_MOLLUSCS },
};
/* clang-format on */

START_TEST(asfis_rows)
{
	const struct species *s = species_find(&real, asfis[_i].code);

	ck_assert_ptr_nonnull(s);
	ck_assert_str_eq(s->scientific, asfis[_i].scientific);
	ck_assert_msg(s->form == asfis[_i].form, "%s", asfis[_i].why);
	ck_assert_int_eq(s->pieces, asfis[_i].pieces);
	ck_assert_str_eq(s->piece_word, asfis[_i].piece);
	ck_assert_int_eq(s->allergen, asfis[_i].allergen);
}
END_TEST

/*
 * Source: families of Reg. (EC) No 2073/2005 Annex I (histamine): Scombridae,
 * Clupeidae, Engraulidae, Coryphaenidae, Pomatomidae, Scomberesocidae, and
 * which of the 63 belong to them.  A species missed here is a danger, one too
 * many is only a nuisance, so both directions are held.
 */
static const char *const histamine[] = { "MAC", "YFT", "ALB", "BFT", "HER",
	"PIL", "SPR", "ANE" };

START_TEST(histamine_families)
{
	size_t i, j;
	bool want;

	for (i = 0; i < real.count; i++) {
		want = false;
		for (j = 0; j < NELEM(histamine); j++)
			want |= str_eq(real.items[i].code, histamine[j]);
		ck_assert_msg(
		    real.items[i].histamine == want, "%s", real.items[i].code);
	}
}
END_TEST

START_TEST(whole_file)
{
	const struct species *s;
	size_t i;
	bool loin;

	ck_assert_uint_eq(real.count, 63);
	for (i = 0; i < real.count; i++) {
		s = &real.items[i];
		if (i > 0)
			ck_assert_str_lt(real.items[i - 1].code, s->code);
		ck_assert_ptr_eq(species_find(&real, s->code), s);
		ck_assert(s->code_source[0] != '\0');
		loin = str_eq(s->piece_word, "loin");
		/* R-F1, R-F2; sources in the file's own column */
		if (s->form == FORM_ROUND)
			ck_assert_int_eq(s->pieces, loin ? 4 : 2);
		else if (s->form == FORM_FLAT)
			ck_assert_int_eq(s->pieces, 4);
		else if (s->form == FORM_CARTILAGINOUS)
			ck_assert_int_eq(s->pieces, 2);
		else
			ck_assert_int_eq(s->pieces, 0);
		if (loin)
			ck_assert_ptr_nonnull(strstr(
			    s->pieces_source, "from memory, unverified"));
	}
}
END_TEST

static const struct {
	const char *why;
	const char *text;
	const char *code;
} gets[] = {
	{ "code", "COD", "COD" },
	{ "code in any case", "cOd", "COD" },
	{ "kitchen name", "dover sole", "SOL" },
	{ "scientific name", "gadus MORHUA", "COD" },
	{ "bracket in a name", "Coley (saithe)", "POK" },
};

START_TEST(get_rows)
{
	const struct species *s = NULL;

	ck_assert_int_eq(species_get(&s, &real, gets[_i].text, NULL), RC_OK);
	ck_assert_msg(
	    str_eq(s->code, gets[_i].code), "%s: %s", gets[_i].why, s->code);
}
END_TEST

static const struct {
	const char *why;
	const char *text;
	const char *said; /* in the message; NULL: names nothing */
} misses[] = {
	{ "a word of the name", "salmon", "SAL Atlantic salmon" },
	{ "a word in brackets", "saithe", "POK Coley (saithe)" },
	{ "typing slip", "maceral", "MAC Mackerel" },
	{ "two of them", "mussel", "MSM Mediterranean mussel, MUS" },
	{ "nothing like it", "xylophone", NULL },
	{ "empty", "", NULL },
	{ "longer than any name",
	    "a very long name that goes on and on and on and on and on", NULL },
	{ "four letters are no code", "CODX", "COD Cod" },
};

START_TEST(miss_rows)
{
	const struct species *s = &real.items[3];
	struct err err;

	err_clear(&err);
	ck_assert_int_eq(
	    species_get(&s, &real, misses[_i].text, &err), RC_NOTFOUND);
	ck_assert_ptr_eq(s, &real.items[3]);
	if (misses[_i].said != NULL)
		ck_assert_msg(strstr(err.text, misses[_i].said) != NULL,
		    "%s: %s", misses[_i].why, err.text);
	else
		ck_assert_msg(strstr(err.text, "alike") == NULL, "%s: %s",
		    misses[_i].why, err.text);
	ck_assert_ptr_null(species_find(&real, misses[_i].text));
}
END_TEST

/* --- files made up here ---------------------------------------------------*/

#define COLUMNS 13
#define HEADER                                                                 \
	"code,name,scientific,form,pieces,piece,allergen,histamine,"           \
	"code_source,pieces_source,allergen_source,histamine_source,note\n"
#define GOOD "COD,Cod,Gadus morhua,round,2,fillet,fish,no,a,b,c,d,\n"
#define GOOD2 "MAC,Mackerel,Scomber scombrus,round,2,fillet,fish,yes,a,b,c,d,\n"

static const char *const good[COLUMNS] = { "HAD", "Haddock",
	"Melanogrammus aeglefinus", "round", "2", "fillet", "fish", "no", "a",
	"b", "c", "d", "" };

#define X50 "xxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxx"

/* One field of a good third line replaced. */
static const struct {
	const char *why;
	int column; /* whose value is replaced and which is blamed */
	const char *value;
	const char *said;
} fields[] = {
	{ "lower case", 0, "had", "three capital letters" },
	{ "two letters", 0, "HA", "three capital letters" },
	{ "four letters", 0, "HADD", "three capital letters" },
	{ "digit", 0, "HA1", "three capital letters" },
	{ "code twice", 0, "COD", "already stands for COD Cod" },
	{ "no name", 1, "", "name is empty" },
	{ "name too long", 1, X50, "at most 47" },
	{ "name twice, other case", 1, "COD", "already stands for COD Cod" },
	{ "name is another's code", 1, "cod", "already stands for COD Cod" },
	{ "blank behind", 1, "Haddock ", "begins or ends with a blank" },
	{ "blank before", 1, " Haddock", "begins or ends with a blank" },
	{ "scientific twice", 2, "Gadus Morhua", "already stands for COD" },
	{ "unknown form", 3, "eel", "not one of round, flat, cartilaginous" },
	{ "empty form", 3, "", "not one of round" },
	{ "pieces no number", 4, "two", "not a whole number" },
	{ "pieces below", 4, "-1", "outside 0 to 8" },
	{ "pieces above", 4, "9", "outside 0 to 8" },
	{ "unknown piece", 5, "steak", "not one of" },
	{ "piece missing", 5, "", "word of the pieces is missing" },
	{ "unknown allergen", 6, "nuts", "not one of fish, crustaceans" },
	{ "allergen of other animals", 6, "molluscs", "does not go with form" },
	{ "empty allergen", 6, "", "not one of fish" },
	{ "histamine neither", 7, "maybe", "not one of no, yes" },
	{ "no source", 8, "", "code_source is empty" },
	{ "no source", 9, "", "pieces_source is empty" },
	{ "no source", 10, "", "allergen_source is empty" },
	{ "no source", 11, "", "histamine_source is empty" },
	{ "source too long", 9, X50 X50 X50 X50, "at most 199" },
	{ "note too long", 12, X50 X50 X50 X50 X50 X50, "at most 299" },
	{ "two lines in one field", 12, "\"a\nb\"", "control character" },
};

START_TEST(field_rows)
{
	struct species_table t;
	struct buf b;
	struct err err;
	char place[40];
	int i, at = 1;

	buf_init(&b, 4000);
	buf_puts(&b, HEADER GOOD);
	for (i = 0; i < COLUMNS; i++) {
		if (i < fields[_i].column)
			at += (int)strlen(good[i]) + 1;
		buf_printf(&b, "%s%s", i == 0 ? "" : ",",
		    i == fields[_i].column ? fields[_i].value : good[i]);
	}
	buf_puts(&b, "\n" GOOD2);
	err_clear(&err);
	ck_assert_msg(
	    species_parse(&t, "s.csv", b.data, b.len, &err) == RC_INVALID, "%s",
	    fields[_i].why);
	ck_assert(str_fmt(place, sizeof(place), "s.csv:3:%d: ", at));
	ck_assert_msg(strncmp(err.text, place, strlen(place)) == 0,
	    "%s: %s, not at %s", fields[_i].why, err.text, place);
	ck_assert_msg(strstr(err.text, fields[_i].said) != NULL, "%s: %s",
	    fields[_i].why, err.text);
	ck_assert(t.items == NULL && t.count == 0);
	buf_fini(&b);
}
END_TEST

static const struct {
	const char *why;
	const char *data;
	size_t len;
	const char *said; /* NULL: accepted with `count` rows */
	size_t count;
} files[] = {
#define TEXT(s) s, sizeof(s) - 1
	{ "plain", TEXT(HEADER GOOD GOOD2), NULL, 2 },
	{ "byte order mark", TEXT("\xef\xbb\xbf" HEADER GOOD), NULL, 1 },
	{ "CRLF",
	    TEXT("\xef\xbb\xbf"
		 "code,name,scientific,form,pieces,piece,allergen,histamine,"
		 "code_source,pieces_source,allergen_source,histamine_source,"
		 "note\r\nCOD,Cod,Gadus morhua,round,2,fillet,fish,no,a,b,c,d,"
		 "\r\n"),
	    NULL, 1 },
	{ "quotes and a comma in them",
	    TEXT(HEADER "COD,\"Cod\",Gadus morhua,round,2,fillet,fish,no,"
			"\"a, b\",b,c,d,\"said \"\"x\"\"\"\n"),
	    NULL, 1 },
	{ "no line end at the end",
	    TEXT(HEADER "COD,Cod,Gadus morhua,round,2,fillet,fish,no,a,b,c,"
			"d,"),
	    NULL, 1 },
	{ "nothing", TEXT(""), "s.csv:1:1: the file is empty", 0 },
	{ "only a header", TEXT(HEADER), "no species in it", 0 },
	{ "column missing", TEXT("code,name\nCOD,Cod\n"),
	    "column \"scientific\" is missing", 0 },
	{ "column unknown", TEXT("price,code\n1,COD\n"),
	    "s.csv:1:1: unknown column \"price\"", 0 },
	{ "field missing", TEXT(HEADER GOOD "MAC,Mackerel\n"),
	    "s.csv:3:1: 2 fields, the header has 13", 0 },
	{ "row twice", TEXT(HEADER GOOD GOOD2 GOOD),
	    "s.csv:4:1: \"COD\" already stands for COD Cod", 0 },
	{ "NUL", TEXT(HEADER "CO\0D,Cod\n"), "s.csv:2:3: a NUL byte", 0 },
	{ "not UTF-8",
	    TEXT(HEADER "COD,C\xf6"
			"d\n"),
	    "s.csv:2:5: this field is not valid UTF-8", 0 },
	{ "open quote", TEXT(HEADER "COD,\"Cod\n"), "never closed", 0 },
#undef TEXT
};

START_TEST(file_rows)
{
	struct species_table t;
	struct err err;
	enum rc rc;

	err_clear(&err);
	rc = species_parse(&t, "s.csv", files[_i].data, files[_i].len, &err);
	if (files[_i].said == NULL) {
		ck_assert_msg(rc == RC_OK, "%s: %s", files[_i].why, err.text);
		ck_assert_uint_eq(t.count, files[_i].count);
		ck_assert_ptr_nonnull(species_find(&t, "cod"));
	} else {
		ck_assert_msg(rc == RC_INVALID, "%s", files[_i].why);
		ck_assert_msg(strstr(err.text, files[_i].said) != NULL,
		    "%s: %s", files[_i].why, err.text);
		ck_assert(t.items == NULL && t.count == 0);
	}
	species_fini(&t);
}
END_TEST

START_TEST(quoted_text_arrives)
{
	struct species_table t;
	const char *data = HEADER
	    "COD,\"Cod, big\",Gadus morhua,round,2,fillet,fish,no,a,b,c,d,"
	    "\"x \"\"y\"\"\"\n";

	ck_assert_int_eq(
	    species_parse(&t, "s.csv", data, strlen(data), NULL), RC_OK);
	ck_assert_str_eq(t.items[0].name, "Cod, big");
	ck_assert_str_eq(t.items[0].note, "x \"y\"");
	species_fini(&t);
}
END_TEST

Suite *
suite_core_species(void)
{
	Suite *s = suite_create("core_species");
	TCase *tc = tcase_create("the real file");

	tcase_add_checked_fixture(tc, load_real, drop_real);
	tcase_add_test(tc, whole_file);
	tcase_add_test(tc, histamine_families);
	tcase_add_loop_test(tc, asfis_rows, 0, (int)NELEM(asfis));
	tcase_add_loop_test(tc, get_rows, 0, (int)NELEM(gets));
	tcase_add_loop_test(tc, miss_rows, 0, (int)NELEM(misses));
	suite_add_tcase(s, tc);
	tc = tcase_create("files");
	tcase_add_loop_test(tc, field_rows, 0, (int)NELEM(fields));
	tcase_add_loop_test(tc, file_rows, 0, (int)NELEM(files));
	tcase_add_test(tc, quoted_text_arrives);
	suite_add_tcase(s, tc);
	return s;
}
