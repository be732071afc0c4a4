/*
 * test_drivers_answers.c - what printers answer when they are asked for their
 * state, and which printer speaks which language.
 */
#include "unit.h"

#include <stdlib.h>
#include <string.h>

#include "base/str.h"
#include "chance.h"
#include "driver/lang.h"

#define HS2                                                                    \
	"\x02"                                                                 \
	"000,0,0,0,0,2,6,0,00000000,1,000\x03\r\n"
#define HS3                                                                    \
	"\x02"                                                                 \
	"0000,0\x03\r\n"
#define HS1(b_to_l)                                                            \
	"\x02"                                                                 \
	"030," b_to_l "\x03\r\n"
#define READY1 HS1("0,0,1245,000,0,0,0,000,0,0,0")
#define EPL(text) text "\r\n"

static const struct answer {
	const char *lang;
	const char *bytes;
	size_t len;
	size_t whole; /* the answer without a line end that may follow it */
	unsigned state;
	const char *why;
} answers[] = {
#define A(lang, bytes, state, why)                                             \
	{                                                                      \
		lang, bytes, sizeof(bytes) - 1, sizeof(bytes) - 1, state, why  \
	}
#define HS(bytes, state, why)                                                  \
	{                                                                      \
		"zpl", bytes, sizeof(bytes) - 1, sizeof(bytes) - 3, state, why \
	}
	/* ZPL II Programming Guide, ~HS: the fields b to l of string 1 and o to
	 * u of string 2 */
	HS(READY1 HS2 HS3, 0, "nothing set, label length 1245 dots"),
	HS(HS1("1,0,1245,000,0,0,0,000,0,0,0") HS2 HS3, PRINTER_PAPER_OUT,
	    "b: paper out"),
	HS(HS1("0,1,1245,000,0,0,0,000,0,0,0") HS2 HS3, PRINTER_PAUSED,
	    "c: pause"),
	HS(HS1("0,0,1245,010,0,0,0,000,0,0,0") HS2 HS3, PRINTER_BUSY,
	    "eee: formats in the buffer"),
	HS(HS1("0,0,1245,000,1,0,0,000,0,0,0") HS2 HS3, PRINTER_BUSY,
	    "f: buffer full"),
	HS(HS1("0,0,1245,000,0,1,0,000,0,0,0") HS2 HS3, PRINTER_FAULT,
	    "g: prints what it receives as a dump"),
	HS(HS1("0,0,1245,000,0,0,1,000,0,0,0") HS2 HS3, PRINTER_BUSY,
	    "h: part of a format"),
	HS(HS1("0,0,1245,000,0,0,0,000,1,0,0") HS2 HS3, PRINTER_FAULT,
	    "j: settings lost"),
	HS(HS1("0,0,1245,000,0,0,0,000,0,1,0") HS2 HS3, PRINTER_FAULT,
	    "k: too cold"),
	HS(HS1("0,0,1245,000,0,0,0,000,0,0,1") HS2 HS3, PRINTER_TOO_HOT,
	    "l: too hot"),
	HS(READY1 "\x02"
		  "000,0,1,0,0,2,6,0,00000000,1,000\x03\r\n" HS3,
	    PRINTER_COVER_OPEN, "o: head up"),
	HS(READY1 "\x02"
		  "000,0,0,1,1,2,6,0,00000000,1,000\x03\r\n" HS3,
	    PRINTER_RIBBON_OUT, "p: ribbon out"),
	HS(READY1 "\x02"
		  "000,0,0,0,0,1,6,1,00000000,1,000\x03\r\n" HS3,
	    PRINTER_BUSY, "t: a label waits to be taken"),
	HS(READY1 "\x02"
		  "000,0,0,0,0,2,6,0,00000010,1,000\x03\r\n" HS3,
	    PRINTER_BUSY, "u: labels left in the batch"),
	HS(HS1("1,1,1245,003,0,0,0,000,0,0,1") "\x02"
					       "255,1,1,1,1,3,6,0,00000002,1,"
					       "009\x03\r\n"
					       "\x02"
					       "1234,1\x03\r\n",
	    PRINTER_PAPER_OUT | PRINTER_PAUSED | PRINTER_BUSY |
		PRINTER_TOO_HOT | PRINTER_COVER_OPEN | PRINTER_RIBBON_OUT,
	    "all at once, and what we do not read"),
	HS("\r\n" READY1 HS2 HS3, 0, "the line end of an answer before"),

	/* TSPL/TSPL2 manual, <ESC>!?: its whole table, and the options */
	A("tspl", "\x00", 0, "ready"),
	A("tspl", "\x01", PRINTER_COVER_OPEN, "head open"),
	A("tspl", "\x02", PRINTER_JAM, "jam"),
	A("tspl", "\x03", PRINTER_JAM | PRINTER_COVER_OPEN, "jam, open"),
	A("tspl", "\x04", PRINTER_PAPER_OUT, "paper out"),
	A("tspl", "\x05", PRINTER_PAPER_OUT | PRINTER_COVER_OPEN,
	    "paper out, open"),
	A("tspl", "\x08", PRINTER_RIBBON_OUT, "ribbon out"),
	A("tspl", "\x09", PRINTER_RIBBON_OUT | PRINTER_COVER_OPEN,
	    "ribbon out, open"),
	A("tspl", "\x0a", PRINTER_RIBBON_OUT | PRINTER_JAM, "ribbon out, jam"),
	A("tspl", "\x0b", PRINTER_RIBBON_OUT | PRINTER_JAM | PRINTER_COVER_OPEN,
	    "ribbon out, jam, open"),
	A("tspl", "\x0c", PRINTER_RIBBON_OUT | PRINTER_PAPER_OUT,
	    "ribbon and paper out"),
	A("tspl", "\x0d",
	    PRINTER_RIBBON_OUT | PRINTER_PAPER_OUT | PRINTER_COVER_OPEN,
	    "ribbon and paper out, open"),
	A("tspl", "\x10", PRINTER_PAUSED, "pause"),
	A("tspl", "\x20", PRINTER_BUSY, "printing"),
	A("tspl", "\x40", PRINTER_COVER_OPEN, "cover open"),
	A("tspl", "\x80", PRINTER_TOO_HOT, "temperature"),

	/* ESC/POS references, DLE EOT 1 to 4; the bytes with their masks 18,
	 * 26, 30 and 114 are those of python-escpos' tests */
	A("escpos", "\x12\x12\x12\x12", 0, "ready"),
	A("escpos", "\x16\x12\x12\x12", 0, "drawer pin high"),
	A("escpos", "\x1a\x12\x12\x12", PRINTER_OFFLINE, "off line"),
	A("escpos", "\x1a\x16\x12\x12", PRINTER_OFFLINE | PRINTER_COVER_OPEN,
	    "cover open"),
	A("escpos", "\x1a\x1a\x12\x12", PRINTER_OFFLINE | PRINTER_BUSY,
	    "feed button held"),
	A("escpos", "\x1a\x32\x12\x72", PRINTER_OFFLINE | PRINTER_PAPER_OUT,
	    "stopped for paper"),
	A("escpos", "\x1a\x32\x12\x12", PRINTER_OFFLINE | PRINTER_PAPER_OUT,
	    "stopped for paper, said by one byte only"),
	A("escpos", "\x12\x12\x1a\x12", PRINTER_JAM,
	    "cutter, said by one byte only"),
	A("escpos", "\x12\x12\x12\x1e", PRINTER_LOW, "near its end"),
	A("escpos", "\x12\x12\x12\x7e", PRINTER_LOW | PRINTER_PAPER_OUT,
	    "near its end and none"),
	A("escpos", "\x12\x12\x12\x72", PRINTER_PAPER_OUT, "no paper"),
	A("escpos", "\x1a\x52\x1a\x12",
	    PRINTER_OFFLINE | PRINTER_FAULT | PRINTER_JAM, "cutter"),
	A("escpos", "\x1a\x52\x32\x12", PRINTER_OFFLINE | PRINTER_FAULT,
	    "will not recover"),
	A("escpos", "\x12\x12\x32\x12", PRINTER_FAULT,
	    "will not recover, said by one byte only"),
	A("escpos", "\x1a\x52\x52\x12",
	    PRINTER_OFFLINE | PRINTER_FAULT | PRINTER_TOO_HOT,
	    "will recover by itself: hot"),
	A("escpos", "\x1a\x56\x52\x12",
	    PRINTER_OFFLINE | PRINTER_FAULT | PRINTER_COVER_OPEN,
	    "will recover by itself: opened while printing"),
	A("escpos", "\x12\x12\x52\x12", 0,
	    "the bit one maker turns round, and no error"),
	A("escpos", "\x12\x12\x16\x12", 0,
	    "a bit that most makers leave undefined"),

	/* ^ee: programmer's manual of a compatible maker; 00 and 11 also in
	 * the EPL Programming Guide, eR */
	A("epl2", EPL("00"), 0, "no error"),
	A("epl2", EPL("01"), PRINTER_FAULT, "syntax"),
	A("epl2", EPL("04"), PRINTER_FAULT, "memory"),
	A("epl2", EPL("07"), PRINTER_PAPER_OUT, "labels or ribbon out"),
	A("epl2", EPL("07P003"), PRINTER_PAPER_OUT, "labels out, 3 to go"),
	A("epl2", EPL("07R003"), PRINTER_RIBBON_OUT, "ribbon out, 3 to go"),
	A("epl2", EPL("11"), PRINTER_COVER_OPEN, "head open"),
	A("epl2", EPL("62"), PRINTER_TOO_HOT, "head too hot"),
	A("epl2", EPL("81"), PRINTER_JAM, "cutter jammed"),
	A("epl2", EPL("92"), PRINTER_PAUSED, "pause"),
	A("epl2", EPL("99"), PRINTER_FAULT, "other"),
	A("epl2", EPL("11,07P010,92"),
	    PRINTER_COVER_OPEN | PRINTER_PAPER_OUT | PRINTER_PAUSED, "several"),
	A("epl2-lf", EPL("11"), PRINTER_COVER_OPEN, "the same question"),
#undef A
#undef HS
};

START_TEST(whole)
{
	const struct answer *a = &answers[_i];
	unsigned state = ~0u;
	struct err err = { 0 };
	enum rc rc;

	rc = lang_find(a->lang)->answer(
	    &state, (const uint8_t *)a->bytes, a->len, &err);
	ck_assert_msg(rc == RC_OK, "%s, %s: %s", a->lang, a->why, err.text);
	ck_assert_msg(state == a->state, "%s, %s: state %#x, not %#x", a->lang,
	    a->why, state, a->state);
}
END_TEST

/* In pieces: nothing is known before the last byte has come, and an exact copy
 * of the piece lets the sanitizers see a read beyond it. */
START_TEST(in_pieces)
{
	const struct answer *a = &answers[_i];
	unsigned state;
	uint8_t *piece;
	struct err err = { 0 };
	size_t len;
	enum rc rc;

	for (len = 0; len <= a->len; len++) {
		piece = malloc(len + (len == 0));
		ck_assert_ptr_nonnull(piece);
		memcpy(piece, a->bytes, len);
		state = ~0u;
		rc = lang_find(a->lang)->answer(&state, piece, len, &err);
		free(piece);
		ck_assert_msg(rc == (len < a->whole ? RC_RETRY : RC_OK),
		    "%s, %s: %s after %zu of %zu bytes", a->lang, a->why,
		    rc_word(rc), len, a->len);
		ck_assert_uint_eq(state, len < a->whole ? 0 : a->state);
		ck_assert_str_eq(err.text, "");
	}
}
END_TEST

static const struct wrong {
	const char *lang;
	const char *bytes;
	size_t len;
	const char *why;
} wrongs[] = {
#define W(lang, bytes, why)                                                    \
	{                                                                      \
		lang, bytes, sizeof(bytes) - 1, why                            \
	}
	W("zpl", "?", "no STX"),
	W("zpl",
	    "\x02"
	    "0,,",
	    "empty field"),
	W("zpl", "\x02\x03", "empty string"),
	W("zpl",
	    "\x02"
	    "030,x",
	    "letter"),
	W("zpl",
	    "\x02"
	    "0300000000",
	    "ten digits"),
	W("zpl",
	    "\x02"
	    "030,0,0,1245,000,0,0,0,000,0,0\x03",
	    "11 fields"),
	W("zpl",
	    "\x02"
	    "030,0,0,1245,000,0,0,0,000,0,0,0,",
	    "13 fields"),
	W("zpl", READY1 READY1, "string 1 twice"),
	W("zpl",
	    READY1 HS2 "\x02"
		       "0000\x03",
	    "string 3 of one field"),
	W("zpl", READY1 HS2 HS3 "\x02", "the next answer behind it"),
	W("zpl", READY1 HS2 HS3 "x", "something behind it"),
	W("tspl", "\0\0", "two bytes"),
	W("escpos", "\x12\x12\x12\x12\x12", "five bytes"),
	W("escpos", "\x00", "no fixed bits"),
	W("escpos", "\x13", "bit 0"),
	W("escpos", "\x10", "bit 1"),
	W("escpos", "\x02", "bit 4"),
	W("escpos", "\x92", "bit 7"),
	W("escpos", "\x12\x12\x12\xff", "the last one"),
	W("epl2", "\r\n", "no code"),
	W("epl2", "0\r\n", "one digit"),
	W("epl2", "000\r\n", "three digits"),
	W("epl2", "00,\r\n", "comma at the end"),
	W("epl2", ",00\r\n", "comma in front"),
	W("epl2", "00,,11\r\n", "two commas"),
	W("epl2", "11P003\r\n", "labels left behind another code"),
	W("epl2", "07X003\r\n", "another letter"),
	W("epl2", "07P\r\n", "no number behind the letter"),
	W("epl2", "07PP3\r\n", "two letters"),
	W("epl2", "07P1234567\r\n", "more labels than can be"),
	W("epl2", "00\n", "LF alone"),
	W("epl2", "00\rx", "CR alone"),
	W("epl2", "00\r\n00\r\n", "two answers"),
	W("epl2",
	    "\x15"
	    "11",
	    "a report nobody asked for"),
#undef W
};

START_TEST(not_an_answer)
{
	const struct wrong *w = &wrongs[_i];
	unsigned state = ~0u;
	struct err err = { 0 };

	ck_assert_msg(
	    lang_find(w->lang)->answer(
		&state, (const uint8_t *)w->bytes, w->len, &err) == RC_INVALID,
	    "%s: %s", w->lang, w->why);
	ck_assert_uint_eq(state, 0);
	ck_assert_msg(
	    text_check("it", err.text, ERR_TEXT_MAX - 1, false, NULL) == RC_OK,
	    "%s: %s", w->lang, w->why);
}
END_TEST

/* Bytes by chance: no crash, and never an answer where the form does not allow
 * it. */
START_TEST(by_chance)
{
	const struct lang *lang = langs[_i];
	uint64_t seed = 99u + (unsigned)_i;
	uint8_t buf[96];
	unsigned state;
	size_t len, i, tries, took = 0;
	enum rc rc;

	if (lang->answer == NULL)
		return;
	for (tries = 0; tries < 20000; tries++) {
		len = (size_t)(chance_next(&seed) % sizeof(buf)) + 2;
		len = len < sizeof(buf) ? len : sizeof(buf);
		for (i = 0; i < len; i++)
			buf[i] = (uint8_t)chance_next(&seed);
		rc = lang->answer(&state, buf, len, NULL);
		ck_assert(rc == RC_OK || rc == RC_RETRY || rc == RC_INVALID);
		took += rc == RC_OK;
	}
	ck_assert_msg(took == 0, "%s: %zu answers by chance", lang->name, took);
}
END_TEST

/* The same kind of byte: what one may stand for the other unnoticed. */
static bool
alike(const char *lang, int a, int b)
{
	static const char *const kinds[] = { "0123456789", "PR", "\r\n" };
	size_t i;

	if (a == b)
		return true;
	if (str_eq(lang, "escpos"))
		return (a & 0x93) == (b & 0x93);
	for (i = 0; i < NELEM(kinds); i++)
		if (a != 0 && b != 0 && strchr(kinds[i], a) != NULL &&
		    strchr(kinds[i], b) != NULL)
			return true;
	return false;
}

/* One byte changed by the cable is noticed wherever the form is fixed. */
START_TEST(one_byte_changed)
{
	const struct answer *a = &answers[_i];
	const struct lang *lang = lang_find(a->lang);
	uint8_t buf[128];
	unsigned state;
	size_t at;
	int value;

	if (a->len == 1)
		return; /* every byte is an answer */
	memcpy(buf, a->bytes, a->len);
	for (at = 0; at < a->len; at++) {
		for (value = 0; value < 256; value++) {
			buf[at] = (uint8_t)value;
			if (lang->answer(&state, buf, a->len, NULL) == RC_OK)
				ck_assert_msg(alike(a->lang, value,
						  (uint8_t)a->bytes[at]),
				    "%s, %s: byte %02x at %zu", a->lang, a->why,
				    (unsigned)value, at);
		}
		buf[at] = (uint8_t)a->bytes[at];
	}
}
END_TEST

/* The bytes of the questions, as their descriptions give them. */
START_TEST(questions)
{
	static const struct {
		const char *lang, *bytes;
		size_t len;
	} rows[] = {
		{ "zpl", "~HS\n", 4 },
		{ "tspl", "\x1b\x21\x3f", 3 },
		{ "epl2", "^ee\n", 4 },
		{ "epl2-lf", "^ee\n", 4 },
		{ "escpos", "\x10\x04\x01\x10\x04\x02\x10\x04\x03\x10\x04\x04",
		    12 },
		{ "pwg", NULL, 0 },
		{ "png", NULL, 0 },
	};
	const struct lang *lang;
	size_t i;

	for (i = 0; i < NELEM(rows); i++) {
		lang = lang_find(rows[i].lang);
		ck_assert_uint_eq(lang->query_len, rows[i].len);
		ck_assert_int_eq(lang->query == NULL, rows[i].bytes == NULL);
		ck_assert_int_eq(lang->query == NULL, lang->answer == NULL);
		if (lang->query != NULL)
			ck_assert_mem_eq(
			    lang->query, rows[i].bytes, rows[i].len);
	}
}
END_TEST

/* A question stands between labels: no label holds one.  TSPL and ESC/POS send
 * raw data, in which it may turn up by chance, so a plain label is looked at.
 */
START_TEST(no_question_inside)
{
	struct lang_media media = { .dpi = 203,
		.width_mm = 60,
		.height_mm = 40,
		.gap_mm = 3,
		.darkness_pct = 50 };
	struct bitmap *bm = bitmap_new(400, 300);
	struct buf out;
	size_t i, at;

	bitmap_fill(bm, 10, 10, 200, 200, true);
	for (i = 0; langs[i] != NULL; i++) {
		if (langs[i]->query == NULL)
			continue;
		buf_init(&out, 65536);
		ck_assert_int_eq(
		    langs[i]->encode(&out, bm, &media, NULL), RC_OK);
		for (at = 0; at + 3 <= out.len; at++)
			ck_assert_int_ne(
			    memcmp(out.data + at, langs[i]->query, 3), 0);
		buf_fini(&out);
	}
	bitmap_free(bm);
}
END_TEST

/* Command sets of printers, as they stand in device IDs. */
static const struct spoken {
	const char *sets;
	const char *langs; /* blank separated */
} spoken[] = {
	{ "ZPL", "zpl" },
	{ "ZPL2", "zpl" },
	{ "zpl", "zpl" },
	{ "EPL,ZPL", "zpl epl2 epl2-lf" },
	{ "EPL2", "epl2 epl2-lf" },
	{ "TSPL", "tspl" },
	{ "TSPL2,EPL2,ZPL2", "zpl tspl epl2 epl2-lf" },
	{ "ESCPOS", "escpos" },
	{ "ESC/POS", "escpos" },
	{ "XPP, XL, escpos", "escpos" },
	{ "PWGRaster", "pwg" },
	{ "PDF,PWGRaster,URF", "pwg" },
	{ "image/pwg-raster,image/urf", "pwg" },
	{ "PCL,MPL", "" },
	{ "ESC/P2", "" },
	{ "ESCPL2,BDC,D4", "" },
	{ "XZPL", "" },
	{ "PNG", "" },
	{ "", "" },
	{ ",,", "" },
	{ "Z", "" },
};

START_TEST(command_sets)
{
	const struct spoken *s = &spoken[_i];
	char want[80], name[20];
	size_t i;

	ck_assert(str_fmt(want, sizeof(want), " %s ", s->langs));
	for (i = 0; langs[i] != NULL; i++) {
		ck_assert(str_fmt(name, sizeof(name), " %s ", langs[i]->name));
		ck_assert_msg(lang_spoken(langs[i], s->sets) ==
			(strstr(want, name) != NULL),
		    "\"%s\" and %s", s->sets, langs[i]->name);
	}
}
END_TEST

/* Whoever looks at the buffer and not at what is returned reads the same. */
START_TEST(state_words)
{
	char words[200] = "old";

	ck_assert_ptr_eq(printer_state_words(words, sizeof(words), 0), words);
	ck_assert_str_eq(words, "ready");
	ck_assert_ptr_eq(printer_state_words(words, sizeof(words),
			     PRINTER_PAPER_OUT | PRINTER_PAUSED),
	    words);
	ck_assert_str_eq(words, "out of labels, paused");
}
END_TEST

Suite *
suite_drivers_answers(void)
{
	Suite *s = suite_create("drivers_answers");
	TCase *tc = tcase_create("answers");
	int count = 0;

	while (langs[count] != NULL)
		count++;
	tcase_add_loop_test(tc, whole, 0, NELEM(answers));
	tcase_add_loop_test(tc, in_pieces, 0, NELEM(answers));
	tcase_add_loop_test(tc, not_an_answer, 0, NELEM(wrongs));
	tcase_add_loop_test(tc, by_chance, 0, count);
	tcase_add_loop_test(tc, one_byte_changed, 0, NELEM(answers));
	tcase_add_test(tc, state_words);
	tcase_add_test(tc, questions);
	tcase_add_test(tc, no_question_inside);
	tcase_add_loop_test(tc, command_sets, 0, NELEM(spoken));
	suite_add_tcase(s, tc);
	return s;
}
