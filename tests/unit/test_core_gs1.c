/*
 * test_core_gs1.c - what a scan is: worked examples from the standard's own
 * material, one row each with its source, and what our kitchen adds.
 *
 * Sources in short:
 *   ENG   GS1 Barcode Syntax Engine, its unit tests (commit 50657db)
 *   DICT  GS1 Barcode Syntax Dictionary and its lint tests (commit ff2eb4b)
 *   BIIP  the biip library's tests and documentation (commit 701f78e), which
 *         cite the GS1 General Specifications
 *   GS18  GS1 General Specifications release 18, by page
 */
#include "unit.h"

#include <stdio.h>
#include <string.h>

#include "base/str.h"
#include "core/gs1.h"
#include "core/label_code.h"
#include "test_core_gs1.h"

#define GS "\x1d"
#define F12 "\x1b[24~"

day_no
gs1_case_day(int y, int m, int d)
{
	day_no out;

	ck_assert(day_from_civil(&out, y, m, d));
	return out;
}

struct gs1_reader
gs1_case_reader(void)
{
	return (struct gs1_reader){ .today = gs1_case_day(2026, 11, 26) };
}

struct gs1_scan
gs1_case_read(const char *text, char separator)
{
	struct gs1_reader r = gs1_case_reader();
	struct gs1_scan s;

	r.separator = separator;
	gs1_read(&s, text, strlen(text), &r);
	return s;
}

/* "01=1234|10=ABC" of all elements. */
const char *
gs1_case_list(const struct gs1_scan *s)
{
	static char text[8192];
	size_t i, n = 0;

	text[0] = '\0';
	for (i = 0; i < s->count; i++, n = strlen(text))
		str_fmt(text + n, sizeof(text) - n, "%s%s=%s",
		    i == 0 ? "" : "|", s->elements[i].ai, s->elements[i].value);
	return text;
}

const char *
gs1_case_problems(const struct gs1_scan *s)
{
	static char text[8192];
	size_t i, n = 0;

	text[0] = '\0';
	for (i = 0; i < s->problem_count; i++, n = strlen(text))
		str_fmt(text + n, sizeof(text) - n, "%s%s", i == 0 ? "" : "; ",
		    s->problems[i].text);
	return text;
}

struct row {
	const char *why, *scan;
	enum gs1_kind kind;
	const char *elements; /* when valid; NULL: not valid */
	const char *says;     /* part of a problem, or NULL for none at all */
	const char *source;
};

static void
check_row(const struct row *row, char separator)
{
	struct gs1_scan s = gs1_case_read(row->scan, separator);

	ck_assert_msg(s.kind == row->kind, "%s: kind %s (%s)", row->why,
	    gs1_kind_word(s.kind), row->source);
	ck_assert_msg(s.valid == (row->elements != NULL), "%s: %s (%s)",
	    row->why, gs1_case_problems(&s), row->source);
	if (row->elements != NULL)
		ck_assert_msg(str_eq(gs1_case_list(&s), row->elements),
		    "%s: %s (%s)", row->why, gs1_case_list(&s), row->source);
	if (row->says == NULL)
		ck_assert_msg(s.problem_count == 0, "%s: %s", row->why,
		    gs1_case_problems(&s));
	else
		ck_assert_msg(strstr(gs1_case_problems(&s), row->says) != NULL,
		    "%s: %s", row->why, gs1_case_problems(&s));
}

#define STRING GS1_ELEMENT_STRING
#define UNKNOWN GS1_UNKNOWN
#define ITEM "0112345678901231"
#define ITEM_IS "01=12345678901231"

/* clang-format off */
static const struct row strings[] = {
	{ "lot behind a GTIN", "]C1" ITEM "1012345", STRING,
	    ITEM_IS "|10=12345", NULL, "ENG ai.c" },
	{ "the same in brackets", "(01)12345678901231(10)12345", STRING,
	    ITEM_IS "|10=12345", NULL, "ENG ai.c" },
	{ "square brackets", "[01]12345678901231[10]12345", STRING,
	    ITEM_IS "|10=12345", NULL, "ENG ai.c, with zint's brackets" },
	{ "blanks as in printed text", "(01) 12345678901231 (10) 12345",
	    STRING, ITEM_IS "|10=12345", NULL, "ENG getHRI tests" },
	{ "separator as the byte", "]C1" ITEM "235XYZ" GS "10BATCH", STRING,
	    ITEM_IS "|235=XYZ|10=BATCH", NULL, "ENG ai.c" },
	{ "the leading separator of GS1", GS ITEM "235XYZ" GS "10BATCH",
	    STRING, ITEM_IS "|235=XYZ|10=BATCH", NULL, "ENG ai.c" },
	{ "check digit wrong", "]C10112345678901234", STRING, NULL,
	    "the check digit is 4 but should be 1", "ENG ai.c" },
	{ "no identifier 2", "]C1011234567890123" "12", STRING, NULL,
	    "no application identifier begins with \"2\"", "ENG ai.c" },
	{ "weight without decimals", "]C1" ITEM "3100123456" "1012345",
	    STRING, ITEM_IS "|3100=123456|10=12345", NULL, "ENG ai.c" },
	{ "harvest span", "]C1" ITEM "7007211225211231", STRING,
	    ITEM_IS "|7007=211225211231", NULL, "ENG ai.c" },
	{ "harvest on one day", "]C1" ITEM "7007211225", STRING,
	    ITEM_IS "|7007=211225", NULL, "ENG ai.c" },
	{ "one country", "]C1" ITEM "423528", STRING, ITEM_IS "|423=528",
	    NULL, "ENG ai.c" },
	{ "five countries", "]C1" ITEM "423528528528528528", STRING,
	    ITEM_IS "|423=528528528528528", NULL, "ENG ai.c" },
	{ "six countries", "]C1" ITEM "423528528528528528528", STRING, NULL,
	    "at most 15", "ENG ai.c" },
	{ "part of a country", "]C1" ITEM "4235285", STRING, NULL,
	    "1 to 5 countries", "ENG ai.c" },
	{ "character outside set 82", "]C199~ABC", STRING, NULL,
	    "cannot hold", "ENG ai.c" },
	{ "GS1-128 as a scanner sends it",
	    "]C1011231231231233310ABC123" GS "99TESTING\r", STRING,
	    "01=12312312312333|10=ABC123|99=TESTING", NULL,
	    "ENG scandata.c" },
	{ "GS1 DataMatrix",
	    "]d2011231231231233310ABC123" GS "99TESTING\r\n", STRING,
	    "01=12312312312333|10=ABC123|99=TESTING", NULL,
	    "ENG scandata.c, symbology identifier of ISO/IEC 15424" },
	{ "GS1 QR", "]Q3011231231231233310ABC123" GS "99TESTING", STRING,
	    "01=12312312312333|10=ABC123|99=TESTING", NULL,
	    "ENG scandata.c" },
	{ "GS1 DataBar", "]e0011231231231233310ABC123" GS "99TESTING",
	    STRING, "01=12312312312333|10=ABC123|99=TESTING", NULL,
	    "ENG scandata.c" },
	{ "GS1 DotCode", "]J1011231231231233310ABC123" GS "99TESTING",
	    STRING, "01=12312312312333|10=ABC123|99=TESTING", NULL,
	    "ENG scandata.c" },
	{ "GS typed as F12",
	    "]C1011231231231233310ABC123" F12 "99TESTING", STRING,
	    "01=12312312312333|10=ABC123|99=TESTING", NULL,
	    "keyboard wedge manuals: hex 1D is typed as F12" },
	{ "GS lost: the lot may have swallowed more",
	    "]C1011231231231233310ABC12399TESTING", STRING, NULL,
	    "may have swallowed INTERNAL (99TESTING)",
	    "reasoning on the lengths in DICT" },
	{ "superfluous separators",
	    "]C1" GS "0112312312312333" GS GS "10ABC123" GS, STRING,
	    "01=12312312312333|10=ABC123", NULL, "ENG ai.c tests" },
	{ "plain text", "ABC", UNKNOWN, NULL, "no code this station knows",
	    "ENG scandata.c" },
	{ "half an identifier", "]", UNKNOWN, NULL, "symbology identifier",
	    "ENG scandata.c" },
	{ "half an identifier", "]X", UNKNOWN, NULL, "symbology identifier",
	    "ENG scandata.c" },
	{ "no identifier", "]XX", UNKNOWN, NULL, "symbology identifier",
	    "ENG scandata.c" },
	{ "nothing behind it", "]C1", UNKNOWN, NULL, "symbology identifier",
	    "ENG scandata.c" },
	{ "GTIN and content", "(01)12345678901231(02)12345678901231(37)5",
	    STRING, NULL, "(02) must not stand together with (01)", "ENG" },
	{ "content and count without SSCC", "(02)12345678901231(37)5", STRING,
	    NULL, "(37) needs (00) with (02) or (00) with (8026)", "ENG" },
	{ "content and count with SSCC",
	    "(00)123456789012345675(02)12345678901231(37)5", STRING,
	    "00=123456789012345675|02=12345678901231|37=5", NULL, "ENG" },
	{ "content without count",
	    "(00)123456789012345675(02)12345678901231", STRING, NULL,
	    "(02) needs (37)", "DICT" },
	{ "serial alone", "(21)ABC", STRING, NULL,
	    "(21) needs (01), (03) or (8006) beside it", "ENG" },
	{ "serial with its GTIN", "(01)12345678901231(21)ABC", STRING,
	    ITEM_IS "|21=ABC", NULL, "ENG" },
	{ "two net weights",
	    "(01)12345678901231(3103)000400(3102)000040", STRING, NULL,
	    "must not stand together with (310n)", "DICT ex=310n" },
	{ "serial and third-party serial", "(01)12345678901231(21)A(235)B",
	    STRING, NULL, "(21) must not stand together with (235)",
	    "DICT ex=235" },
	{ "origin and full process",
	    "(01)12345678901231(422)372(426)372", STRING, NULL,
	    "(422) must not stand together with (426)", "DICT" },
	{ "figure 7.8.5.1-2", "[01]95012345678903[3102]000400", STRING,
	    "01=95012345678903|3102=000400", NULL,
	    "General Specifications figure, as in zint's test_code128.c" },
	{ "figure 6.6.5-4",
	    "[00]006141411234567890[02]00614141000418[15]210228[10]451214"
	    "[37]20",
	    STRING,
	    "00=006141411234567890|02=00614141000418|15=210228|10=451214|"
	    "37=20",
	    NULL,
	    "General Specifications figures 6.6.5-1 and 6.6.5-4, together" },
	{ "figure 5.1-3", "[01]09501101530003", STRING, "01=09501101530003",
	    NULL, "General Specifications figure, as in zint" },
	{ "internal, no partner needed", "[90]1528", STRING, "90=1528", NULL,
	    "General Specifications figure, as in zint" },
	{ "day 00 where it may not be", "(01)12345678901231(7006)261100",
	    STRING, NULL, "261100 is not a day", "DICT yymmdd" },
};

static const struct row ours[] = {
	{ "unknown identifier is kept", "]C1" ITEM "7199ABC" GS "10L1",
	    STRING, ITEM_IS "|719=9ABC|10=L1", "(719) is not known here, kept",
	    "the promise of this station" },
	{ "range without any identifier yet", "(01)12345678901231(8999)abc",
	    STRING, ITEM_IS "|8999=abc", "(8999) is not known here, kept",
	    "the promise of this station" },
	{ "reserved identifier of pre-defined length",
	    "]C1" ITEM "1412345610L1", STRING, ITEM_IS "|14=123456|10=L1",
	    "(14) is not known here, kept", "General Specifications 7-6" },
	{ "another one", "]C1" ITEM "04123456789012345610L1", STRING,
	    ITEM_IS "|04=1234567890123456|10=L1", "(04) is not known here",
	    "General Specifications 7-6" },
	{ "separator lost behind a country, length known",
	    "]C1" ITEM "42237210L1", STRING, ITEM_IS "|422=372|10=L1",
	    "no separator behind (422)", "DICT: N3" },
	{ "separator lost behind an expiry time",
	    "]C1" ITEM "7003261130140010L1", STRING,
	    ITEM_IS "|7003=2611301400|10=L1", "no separator behind (7003)",
	    "DICT: N10" },
	{ "separator lost behind a species", "]C1" ITEM "7008COD10L1", STRING,
	    NULL, "(7008) COD10L1: has 7 characters, at most 3", "DICT: X..3" },
	{ "a use-by swallowed by the lot", "]C1" ITEM "10AB17261130", STRING,
	    NULL, "may have swallowed USE BY or EXPIRY (17261130)",
	    "reasoning on DICT" },
	{ "a weight swallowed by the lot", "]C1" ITEM "10AB3103000400",
	    STRING, NULL, "may have swallowed NET WEIGHT (kg)",
	    "reasoning on DICT" },
	{ "no doubt when the scanner is seen to send GS",
	    "]C1" ITEM "21X9" GS "10AB17261130", STRING,
	    ITEM_IS "|21=X9|10=AB17261130", NULL, "reasoning" },
	{ "no doubt in brackets", "(01)12345678901231(10)ABC12399TESTING",
	    STRING, ITEM_IS "|10=ABC12399TESTING", NULL, "reasoning" },
	{ "a date in a lot far from today is no use-by",
	    "]C1" ITEM "10AB17601130", STRING, ITEM_IS "|10=AB17601130", NULL,
	    "reasoning" },
	{ "lot too long", "]C1" ITEM "10ABCDEFGHIJKLMNOPQRSTU", STRING, NULL,
	    "at most 20: a separator may be missing", "DICT: X..20" },
	{ "empty lot", "]C110" GS ITEM, STRING, NULL, "(10) is empty",
	    "DICT: X..20 is 1 to 20" },
	{ "cut short", "]C101123456", STRING, NULL,
	    "(01) has 6 characters and needs 14", "DICT: N14" },
	{ "the same element twice", "]C1" ITEM ITEM, STRING, ITEM_IS, NULL,
	    "common practice, no source" },
	{ "a contradiction", "]C1" ITEM "17261130" "17261201", STRING, NULL,
	    "(17) stands twice", "common practice, no source" },
	{ "without identifier, a key first", ITEM "10LOT5", STRING,
	    ITEM_IS "|10=LOT5", NULL, "reasoning" },
	{ "a Code 128 that is not marked as GS1", "]C0" ITEM "10LOT5",
	    STRING, ITEM_IS "|10=LOT5", "is not marked as GS1", "reasoning" },
	{ "a bracket inside a lot", "(01)12345678901231(10)A(1)B", STRING,
	    ITEM_IS "|10=A(1)B", NULL, "set 82 holds brackets, DICT" },
	{ "blank inside a lot", "(01)12345678901231(10)A B", STRING, NULL,
	    "or a blank, at place 2", "set 82 has no blank, DICT" },
	{ "brackets not closed", "(01)12345678901231(10)A[17)261130", STRING,
	    NULL, "cannot hold", "DICT" },
	{ "accent", "(01)12345678901231(10)\xc3\xa9", UNKNOWN, NULL,
	    "byte 0xC3 at place 23", "set 82, DICT" },
	{ "escape sequence of another key", "]C1" ITEM "\x1b[23~10A",
	    UNKNOWN, NULL, "byte 0x1B at place 20", "common practice" },
	{ "empty", "", UNKNOWN, NULL, "the scan is empty", "-" },
	{ "line end only", "\r\n", UNKNOWN, NULL, "the scan is empty", "-" },
	{ "two lines", ITEM "\n" ITEM, UNKNOWN, NULL, "byte 0x0A", "-" },
	{ "importer index", "(414)9501101020917(7040)1AB_", STRING,
	    "414=9501101020917|7040=1AB_", NULL, "DICT importeridx" },
	{ "importer index that cannot be", "(7040)1AB.", STRING, NULL,
	    "importer index", "DICT importeridx" },
	{ "piece of an item", "(8006)123456789012310102", STRING,
	    "8006=123456789012310102", NULL, "DICT pieceoftotal" },
	{ "piece beyond the total", "(8006)123456789012310302", STRING, NULL,
	    "not within the total", "DICT pieceoftotal" },
	{ "format 05 envelope",
	    "[)>\x1e" "05" GS ITEM "17261130" "10LOT1\x1e\x04", STRING,
	    ITEM_IS "|17=261130|10=LOT1", NULL,
	    "ISO/IEC 15434, from memory" },
	{ "the same inside a marked Data Matrix",
	    "]d1[)>\x1e" "05" GS ITEM "10LOT1" GS "\x1e\x04", STRING,
	    ITEM_IS "|10=LOT1", NULL, "ISO/IEC 15434, from memory" },
	{ "format 06 holds other identifiers",
	    "[)>\x1e" "06" GS "1TLOT1\x1e\x04", UNKNOWN, NULL,
	    "format 06: only 05", "ISO/IEC 15434, from memory" },
};

static const struct row numbers[] = {
	{ "EAN-13 marked", "]E02112345678900", GS1_EAN, "=2112345678900",
	    NULL, "ENG scandata.c; prefix 21: BIIP rcn.py" },
	{ "wrong check digit", "]E02112345678901", GS1_EAN, NULL,
	    "is 1 but should be 0", "ENG scandata.c" },
	{ "13 digits without identifier", "2112345678900\r", GS1_EAN,
	    "=2112345678900", NULL, "ENG scandata.c" },
	{ "13 digits, wrong", "2112345678901", GS1_EAN, NULL,
	    "is 1 but should be 0", "ENG scandata.c" },
	{ "GTIN-14", "24012345678905", GS1_EAN, "01=24012345678905", NULL,
	    "ENG scandata.c" },
	{ "GTIN-14, wrong", "24012345678909", GS1_EAN, NULL,
	    "is 9 but should be 5", "ENG scandata.c" },
	{ "ITF-14", "]I124012345678905", GS1_EAN, "01=24012345678905", NULL,
	    "ENG scandata.c" },
	{ "EAN-13", "6291041500213", GS1_EAN, "01=06291041500213", NULL,
	    "BIIP: 629104150021 has check digit 3" },
	{ "EAN-8", "95012346", GS1_EAN, "01=00000095012346", NULL,
	    "BIIP: 9501234 has check digit 6" },
	{ "EAN-8 marked", "]E495012346", GS1_EAN, "01=00000095012346", NULL,
	    "BIIP" },
	{ "UPC-A", "416000336108", GS1_EAN, "=416000336108", NULL,
	    "DICT lint_csum: 41600033610 has check digit 8; U.P.C. prefix 4 "
	    "is for use within one company" },
	{ "UPC-A with its zero", "]E00614141000418", GS1_EAN,
	    "01=00614141000418", NULL,
	    "GTIN of General Specifications figure 6.6.5-4" },
	{ "UPC-A of twelve digits", "614141000418", GS1_EAN,
	    "01=00614141000418", NULL, "the same" },
	{ "EAN-13 identifier with letters", "]E0ABC", GS1_EAN, NULL,
	    "promises 13 digits", "ISO/IEC 15424" },
	{ "EAN-8 identifier with 13 digits", "]E46291041500213", GS1_EAN,
	    NULL, "promises 8 digits", "ISO/IEC 15424" },
	{ "add-on left out", "]E3629104150021312", GS1_EAN,
	    "01=06291041500213", "add-on 12 left out", "ISO/IEC 15424" },
	{ "RCN in (01)", "(01)02001234567893", STRING,
	    "01=02001234567893", "is a restricted circulation number",
	    "BIIP: RCNs are no GTINs" },
};
/* clang-format on */

START_TEST(string_rows)
{
	check_row(&strings[_i], '\0');
}
END_TEST

START_TEST(our_rows)
{
	check_row(&ours[_i], '\0');
}
END_TEST

START_TEST(number_rows)
{
	check_row(&numbers[_i], '\0');
}
END_TEST

/* clang-format off */
static const struct row links[] = {
	{ "all qualifiers",
	    "https://a/01/12312312312333/22/TEST/10/ABC/21/XYZ",
	    GS1_DIGITAL_LINK,
	    "01=12312312312333|22=TEST|10=ABC|21=XYZ", NULL, "ENG dl.c" },
	{ "marked as plain QR",
	    "]Q1https://a/01/12312312312333/10/ABC", GS1_DIGITAL_LINK,
	    "01=12312312312333|10=ABC", NULL, "ENG scandata.c" },
	{ "marked as plain Data Matrix",
	    "]d1https://a/01/12312312312333/10/ABC", GS1_DIGITAL_LINK,
	    "01=12312312312333|10=ABC", NULL, "ENG scandata.c" },
	{ "scheme in capitals", "HTTPS://a/01/12312312312333",
	    GS1_DIGITAL_LINK, "01=12312312312333", NULL, "ENG dl.c" },
	{ "scheme in both", "Https://a/01/12312312312333", UNKNOWN, NULL,
	    "no code", "ENG dl.c" },
	{ "http", "http://a/01/12312312312333", GS1_DIGITAL_LINK,
	    "01=12312312312333", NULL, "ENG dl.c" },
	{ "stem before the key", "https://a.b/shop/x/01/12312312312333",
	    GS1_DIGITAL_LINK, "01=12312312312333", NULL, "ENG dl.c" },
	{ "attributes", "https://a/01/12312312312333?17=261130&3103=000400",
	    GS1_DIGITAL_LINK, "01=12312312312333|17=261130|3103=000400",
	    NULL, "ENG dl.c" },
	{ "words of the site are ignored",
	    "https://a/01/12312312312333?lang=en&17=261130#top",
	    GS1_DIGITAL_LINK, "01=12312312312333|17=261130", NULL,
	    "ENG dl.c" },
	{ "escapes", "https://a/01/12312312312333/10/A%2BB%2f1",
	    GS1_DIGITAL_LINK, "01=12312312312333|10=A+B/1", NULL,
	    "ENG dl.c" },
	{ "broken escape", "https://a/01/12312312312333/10/A%2",
	    GS1_DIGITAL_LINK, NULL, "broken % escape", "RFC 3986 2.1" },
	{ "an escaped NUL", "https://a/01/12312312312333/10/A%00",
	    GS1_DIGITAL_LINK, NULL, "cannot be printed", "DICT" },
	{ "wrong order", "https://a/01/12312312312333/10/ABC/22/TEST",
	    GS1_DIGITAL_LINK, NULL, "or not in this order", "DICT dlpkey" },
	{ "qualifiers that exclude each other",
	    "https://a/01/12312312312333/22/A/235/B", GS1_DIGITAL_LINK, NULL,
	    "or not in this order", "DICT dlpkey" },
	{ "the other qualifier", "https://a/01/12312312312333/235/B",
	    GS1_DIGITAL_LINK, "01=12312312312333|235=B", NULL,
	    "DICT dlpkey" },
	{ "slash at the end", "https://a/01/12312312312333/", UNKNOWN, NULL,
	    "not a GS1 Digital Link", "ENG dl.c" },
	{ "no key", "https://a/shop/cod", UNKNOWN, NULL,
	    "not a GS1 Digital Link", "ENG dl.c" },
	{ "no domain", "https:///01/12312312312333", UNKNOWN, NULL,
	    "not a GS1 Digital Link", "RFC 3986" },
	{ "domain only", "https://a", UNKNOWN, NULL,
	    "not a GS1 Digital Link", "ENG dl.c" },
	{ "wrong check digit", "https://a/01/12312312312334",
	    GS1_DIGITAL_LINK, NULL, "check digit", "DICT csum" },
	{ "no identifier has this many digits here",
	    "https://a/01/12312312312333?7199=A", GS1_DIGITAL_LINK, NULL,
	    "(7199) is no application identifier", "ENG dl.c" },
	{ "an unassigned identifier is kept",
	    "https://a/01/12312312312333?719=A", GS1_DIGITAL_LINK,
	    "01=12312312312333|719=A", "(719) is not known here, kept",
	    "the promise of this station" },
	{ "too many digits for an identifier",
	    "https://a/01/12312312312333?12345=A", GS1_DIGITAL_LINK, NULL,
	    "\"12345\" in the address", "ENG dl.c" },
	{ "thirteen digits", "https://a/01/6291041500213", GS1_DIGITAL_LINK,
	    "01=06291041500213", NULL, "common practice, no source" },
	{ "location", "https://a/414/9501101020917/254/X1",
	    GS1_DIGITAL_LINK, "414=9501101020917|254=X1", NULL,
	    "DICT dlpkey" },
	{ "shipping container", "https://a/00/006141411234567890",
	    GS1_DIGITAL_LINK, "00=006141411234567890", NULL, "DICT dlpkey" },
};

static const struct {
	const char *why, *scan;
	enum gs1_kind kind;
	bool valid;
	const char *elements, *says;
} own[] = {
	{ "portion", "001-H7C", GS1_OWN_PORTION, true, "91=001H7C", NULL },
	{ "portion from a plain Code 128", "]C0001H7C\r", GS1_OWN_PORTION,
	    true, "91=001H7C", NULL },
	{ "batch in lower case", "26330-09c", GS1_OWN_BATCH, true,
	    "91=2633009C", NULL },
	{ "batch, wrong check", "26330-09D", GS1_OWN_BATCH, false, "",
	    "check character is wrong" },
	{ "portion, wrong check", "001-H7D", GS1_OWN_PORTION, false, "",
	    "check character is wrong" },
	{ "eight digits, neither batch nor EAN-8", "26330093", GS1_OWN_BATCH,
	    false, "", "check character is wrong" },
	{ "another maker's plain code", "]C0P0000123\r", GS1_UNKNOWN, false,
	    "", "no code this station knows" },
};
/* clang-format on */

START_TEST(link_rows)
{
	check_row(&links[_i], '\0');
}
END_TEST

START_TEST(own_rows)
{
	struct gs1_scan s = gs1_case_read(own[_i].scan, '\0');

	ck_assert_msg(s.kind == own[_i].kind, "%s: %s", own[_i].why,
	    gs1_kind_word(s.kind));
	ck_assert_int_eq(s.valid, own[_i].valid);
	ck_assert_str_eq(gs1_case_list(&s), own[_i].elements);
	if (own[_i].says != NULL)
		ck_assert_msg(
		    strstr(gs1_case_problems(&s), own[_i].says) != NULL,
		    "%s: %s", own[_i].why, gs1_case_problems(&s));
}
END_TEST

/* Our label as any scanner sends it, whole and damaged at every place. */
START_TEST(own_label)
{
	static const char *const around[][2] = { { "", "" }, { "]d2", "" },
		{ "]C1", "\r" }, { "", GS }, { GS, "\r\n" } };
	struct label_code c = { .batch = "2633009C",
		.portion = "001H7C",
		.use_by = { .day = gs1_case_day(2026, 11, 27),
		    .hour = 23,
		    .minute = 59 } };
	char symbol[LABEL_SYMBOL_SIZE], text[64];
	struct gs1_scan s;
	size_t i;

	label_code_make(symbol, &c);
	memmove(symbol, symbol + 1, strlen(symbol));
	memmove(symbol + 2, symbol + 3, strlen(symbol + 2));
	for (i = 0; i < NELEM(around); i++) {
		str_fmt(text, sizeof(text), "%s%s%s", around[i][0], symbol,
		    around[i][1]);
		s = gs1_case_read(text, '\0');
		ck_assert_msg(s.valid, "%s: %s", text, gs1_case_problems(&s));
		ck_assert_int_eq(s.kind, GS1_OWN_PORTION);
		ck_assert_str_eq(
		    gs1_case_list(&s), "91=001H7C|91=2633009C|91=2611272359");
		ck_assert_str_eq(s.elements[0].title, "PORTION");
		ck_assert_str_eq(s.elements[1].meaning, "26330-09C");
		ck_assert_str_eq(s.elements[2].meaning,
		    "Friday 27 November 2026 23:59, kitchen's time");
	}
	for (i = 2; symbol[i] != '\0'; i++) {
		str_copy(text, sizeof(text), symbol);
		text[i] = text[i] == '7' ? '8' : '7';
		s = gs1_case_read(text, '\0');
		ck_assert_msg(!s.valid && s.count == 0, "%s", text);
	}
	c.portion[0] = '\0';
	label_code_make(symbol, &c);
	s = gs1_case_read(symbol, '\0');
	ck_assert_int_eq(s.kind, GS1_OWN_BATCH);
	ck_assert_str_eq(gs1_case_list(&s), "91=2633009C|91=2611272359");
}
END_TEST

/* Someone else's (91) of another width is theirs. */
START_TEST(foreign_91)
{
	struct gs1_scan s = gs1_case_read("]C191ABCDEFGH", '\0');

	ck_assert_int_eq(s.kind, GS1_ELEMENT_STRING);
	ck_assert(s.valid);
	ck_assert_str_eq(gs1_case_list(&s), "91=ABCDEFGH");
}
END_TEST

START_TEST(stand_in)
{
	static const char allowed[] = "$@^`{|}~";
	struct row row = { "stand-in", NULL, GS1_ELEMENT_STRING,
		"01=12312312312333|10=ABC123|99=TESTING", NULL,
		"keyboard wedges cannot type control characters" };
	char text[64], c;

	for (c = 1; c < 127; c++) {
		ck_assert_int_eq(
		    gs1_separator_ok(c), strchr(allowed, c) != NULL);
		if (!gs1_separator_ok(c))
			continue;
		str_fmt(text, sizeof(text),
		    "]C1011231231231233310ABC123%c99TESTING", c);
		row.scan = text;
		check_row(&row, c);
	}
	ck_assert(!gs1_separator_ok('\0'));
	/* An address keeps it: it is part of a name there. */
	row = (struct row){ "stand-in in an address",
		"https://a/~x/01/12312312312333", GS1_DIGITAL_LINK,
		"01=12312312312333", NULL, "RFC 3986 unreserved" };
	check_row(&row, '~');
}
END_TEST

Suite *
suite_core_gs1(void)
{
	Suite *s = suite_create("core_gs1");
	TCase *tc = tcase_create("gs1");

	tcase_add_loop_test(tc, string_rows, 0, (int)NELEM(strings));
	tcase_add_loop_test(tc, our_rows, 0, (int)NELEM(ours));
	tcase_add_loop_test(tc, number_rows, 0, (int)NELEM(numbers));
	tcase_add_loop_test(tc, link_rows, 0, (int)NELEM(links));
	tcase_add_loop_test(tc, own_rows, 0, (int)NELEM(own));
	tcase_add_test(tc, own_label);
	tcase_add_test(tc, foreign_91);
	tcase_add_test(tc, stand_in);
	suite_add_tcase(s, tc);
	return s;
}
