/*
 * test_base_csv.c - the CSV reader, against the examples of RFC 4180 section 2
 * and erratum 5714 (reference/conventions.md sections 6 and 10), and against
 * what people's programs really write.  Lines and columns count from 1,
 * columns in bytes.
 */
#include "unit.h"

#include <stdbool.h>
#include <stdlib.h>
#include <string.h>

#include "base/buf.h"
#include "base/csv.h"

#define RFC "RFC 4180 section 2"
#define OWN "base/csv.h"

static const char *const abc[] = { "a", "b", "c", NULL };
static const char *const note[] = { "note", NULL };

/* All records as text: fields end with '|', records with ';'. */
static enum rc
flatten(struct buf *out, const char *data, size_t len, struct err *err)
{
	struct csv *c;
	size_t i;
	enum rc rc;

	if ((rc = csv_open(&c, "t.csv", data, len, abc, note, err)) != RC_OK) {
		ck_assert_ptr_null(c);
		return rc;
	}
	while ((rc = csv_next(c, err)) == RC_OK) {
		for (i = 0; abc[i] != NULL; i++) {
			buf_puts(out, csv_get(c, abc[i]));
			buf_putc(out, '|');
		}
		buf_puts(out, csv_get(c, "note"));
		buf_putc(out, ';');
	}
	csv_close(c);
	return rc;
}

#define TEXT(s) s, sizeof(s) - 1

static const struct good_row {
	const char *data;
	size_t len;
	const char *want, *why, *source;
} good_rows[] = {
	{ TEXT("a,b,c\r\naaa,bbb,ccc\r\nzzz,yyy,xxx\r\n"),
	    "aaa|bbb|ccc|;zzz|yyy|xxx|;", "records on lines", RFC " (1, 3)" },
	{ TEXT("a,b,c\r\naaa,bbb,ccc\r\nzzz,yyy,xxx"),
	    "aaa|bbb|ccc|;zzz|yyy|xxx|;", "no last line end", RFC " (2)" },
	{ TEXT("a,b,c\r\naaa, bbb,ccc \r\n"), "aaa| bbb|ccc |;",
	    "spaces are data", RFC " (4)" },
	{ TEXT("a,b,c\r\n\"aaa\",\"bbb\",\"ccc\"\r\nzzz,yyy,xxx"),
	    "aaa|bbb|ccc|;zzz|yyy|xxx|;", "quoted or not", RFC " (5)" },
	{ TEXT("a,b,c\r\n\"aaa\",\"b\r\nbb\",\"ccc\"\r\nzzz,yyy,xxx"),
	    "aaa|b\r\nbb|ccc|;zzz|yyy|xxx|;", "a line break inside quotes",
	    RFC " (6) as corrected by erratum 5714" },
	{ TEXT("a,b,c\r\n\"aaa\",\"b\"\"bb\",\"ccc\""), "aaa|b\"bb|ccc|;",
	    "a doubled quote", RFC " (7)" },
	{ TEXT("a,b,c\r\n\"x,y\",,\"\"\r\n"), "x,y|||;",
	    "a comma inside quotes, empty fields", RFC " (6)" },
	{ TEXT("a,b,c\n1,2,3\n4,5,6\n"), "1|2|3|;4|5|6|;", "LF line ends",
	    OWN },
	{ TEXT("a,b,c\n1,2,3\r\n4,5,6\n"), "1|2|3|;4|5|6|;", "both line ends",
	    OWN },
	{ TEXT("\xef\xbb\xbf"
	       "a,b,c\r\n1,2,3\r\n"),
	    "1|2|3|;", "a UTF-8 byte order mark", OWN },
	{ TEXT("\xef\xbb\xbf\"a\",b,c\r\n1,2,3\r\n"), "1|2|3|;",
	    "a byte order mark before a quote", OWN },
	{ TEXT("c,a,b\n3,1,2\n"), "1|2|3|;", "columns in another order", OWN },
	{ TEXT("a,note,b,c\n1,n,2,3\n"), "1|2|3|n;", "an optional column",
	    OWN },
	{ TEXT(" a ,b,c\t\n1,2,3\n"), "1|2|3|;", "blanks in the header", OWN },
	{ TEXT("a,b,c\n\n1,2,3\n\r\n\n4,5,6\n\n"), "1|2|3|;4|5|6|;",
	    "blank lines", OWN },
	{ TEXT("a,b,c\n"), "", "a header alone", OWN },
	{ TEXT("a,b,c"), "", "a header alone, no line end", OWN },
	{ TEXT("a,b,c\nT\xc3\xa9,\xe2\x82\xac,\xf0\x9f\x90\x9f\n"),
	    "T\xc3\xa9|\xe2\x82\xac|\xf0\x9f\x90\x9f|;", "UTF-8", OWN },
	{ TEXT("a,b,c\n1,\t2,3\n"), "1|\t2|3|;", "a tab", OWN },
	{ TEXT("a,b,c\n,,\n"), "|||;", "all fields empty", OWN },
	{ TEXT("a,b,c\n\"\"\"\",\"\"\"x\"\"\",z\n"), "\"|\"x\"|z|;",
	    "nothing but quotes", RFC " (7)" },
};

START_TEST(good_row)
{
	const struct good_row *r = &good_rows[_i];
	struct err err = { .rc = RC_OK };
	struct buf out;
	enum rc rc;

	buf_init(&out, 1000);
	rc = flatten(&out, r->data, r->len, &err);
	ck_assert_msg(rc == RC_END, "%s: %s (%s)", r->why, err.text, r->source);
	ck_assert_msg(strcmp(buf_text(&out), r->want) == 0, "%s: %s (%s)",
	    r->why, buf_text(&out), r->source);
	buf_fini(&out);
}
END_TEST

static const struct bad_row {
	const char *data;
	size_t len;
	const char *error, *why;
} bad_rows[] = {
	{ TEXT(""), "t.csv:1:1: the file is empty", "no bytes" },
	{ TEXT("\xef\xbb\xbf"), "t.csv:1:1: the file is empty", "BOM alone" },
	{ TEXT("\n"), "t.csv:1:1: unknown column \"\"", "a blank header" },
	{ TEXT("a,b\n"), "t.csv:1:1: column \"c\" is missing", "missing" },
	{ TEXT("a,b,c,d\n"), "t.csv:1:7: unknown column \"d\"", "unknown" },
	{ TEXT("\xef\xbb\xbf"
	       "a,b,c,d\n"),
	    "t.csv:1:7: unknown column \"d\"", "a BOM takes no column" },
	{ TEXT("a,b,c,\n"), "t.csv:1:7: unknown column \"\"",
	    "RFC 4180 section 2 (4): no comma after the last field" },
	{ TEXT("a,b,c,b\n"), "t.csv:1:7: this column appears twice", "twice" },
	{ TEXT("A,b,c\n"), "t.csv:1:1: unknown column \"A\"", "upper case" },
	{ TEXT("a;b;c\n1;2;3\n"), "t.csv:1:1: unknown column \"a;b;c\"",
	    "semicolons" },
	{ TEXT("a,b,c\n1,2\n"), "t.csv:2:1: 2 fields, the header has 3",
	    "RFC 4180 section 2 (4): too few" },
	{ TEXT("a,b,c\n1,2,3\n1,2,3,4\n"),
	    "t.csv:3:1: 4 fields, the header has 3",
	    "RFC 4180 section 2 (4): too many" },
	{ TEXT("a,b,c\n1,2,3,\n"), "t.csv:2:1: 4 fields, the header has 3",
	    "a comma after the last field" },
	{ TEXT("a,b,c\n\n\n1,2\n"), "t.csv:4:1: 2 fields, the header has 3",
	    "blank lines are counted" },
	{ TEXT("a,b,c\n \n"), "t.csv:2:1: 1 fields, the header has 3",
	    "a blank is data" },
	{ TEXT("a,b,c\r\n\"a\" ,b,c\r\n"),
	    "t.csv:2:4: text after a closing quote",
	    "erratum 5714: space after a closing quote" },
	{ TEXT("a,b,c\r\n\"aaa\",\"bbb\",\"ccc\" \r\n"),
	    "t.csv:2:18: text after a closing quote",
	    "erratum 5714: space before the line end" },
	{ TEXT("a,b,c\n\"1\"2,b,c\n"), "t.csv:2:4: text after a closing quote",
	    "text after a closing quote" },
	{ TEXT("a,b,c\n1,x\"y,3\n"),
	    "t.csv:2:4: a quote inside a field that does not begin with one",
	    "RFC 4180 section 2 (5)" },
	{ TEXT("a,b,c\n1, \"2\",3\n"),
	    "t.csv:2:4: a quote inside a field that does not begin with one",
	    "a space before an opening quote" },
	{ TEXT("a,b,c\n1,\"2,3\n4,5,6\n"),
	    "t.csv:2:3: a quoted field that is never closed",
	    "where it began, not where the file ends" },
	{ TEXT("a,b,c\n1,\"x\ny\",3\n1,2\n"),
	    "t.csv:4:1: 2 fields, the header has 3",
	    "lines inside quotes are counted" },
	{ TEXT("a,b,c\n1,\"x\ny\"z,3\n"),
	    "t.csv:3:3: text after a closing quote",
	    "column after a line inside quotes" },
	{ TEXT("a,b,c\n1,2\0,3\n"),
	    "t.csv:2:4: a NUL byte: this is not a text file", "NUL" },
	{ TEXT("a,b,c\n1,\"2\0\",3\n"),
	    "t.csv:2:5: a NUL byte: this is not a text file",
	    "NUL inside quotes" },
	{ TEXT("\0"), "t.csv:1:1: a NUL byte: this is not a text file",
	    "NUL at once" },
	{ TEXT("\xff\xfe"
	       "a\0,\0"),
	    "t.csv:1:4: a NUL byte: this is not a text file", "UTF-16" },
	{ TEXT("a,b,c\n1,\x1b[2J,3\n"), "t.csv:2:3: a control character",
	    "an escape sequence" },
	{ TEXT("a,b,c\n1,2\r3,4\n"),
	    "t.csv:2:4: a carriage return that ends no line", "CR alone" },
	{ TEXT("a,b,c\r1,2,3\r"),
	    "t.csv:1:6: a carriage return that ends no line", "CR line ends" },
	{ TEXT("a,b,c\n1,2,3\r"),
	    "t.csv:2:6: a carriage return that ends no line",
	    "CR at the end of the file" },
	{ TEXT("a,b,c\n1,caf\xe9,3\n"),
	    "t.csv:2:3: this field is not valid UTF-8 text", "ISO 8859-1" },
	{ TEXT("a,b,c\n\xc3\xa9,\xc3,3\n"),
	    "t.csv:2:4: this field is not valid UTF-8 text",
	    "columns are bytes; half a letter" },
	{ TEXT("a,b,c\n1,\xed\xa0\x80,3\n"),
	    "t.csv:2:3: this field is not valid UTF-8 text", "a surrogate" },
	{ TEXT(",,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,"
	       ",,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,\n"),
	    "t.csv:1:65: more than 64 columns", "too many columns" },
};

START_TEST(bad_row)
{
	const struct bad_row *r = &bad_rows[_i];
	struct err err = { .rc = RC_OK };
	struct buf out;

	buf_init(&out, 1000);
	ck_assert_msg(
	    flatten(&out, r->data, r->len, &err) == RC_INVALID, "%s", r->why);
	ck_assert_msg(
	    strcmp(err.text, r->error) == 0, "%s: %s", r->why, err.text);
	buf_fini(&out);
}
END_TEST

/* A field of `n` letters in line 2, column 3, quoted or not. */
static char *
long_field(size_t *len, size_t n, bool quoted)
{
	char *data = malloc(n + 40);
	char *p = data;

	ck_assert_ptr_nonnull(data);
	memcpy(p, "a,b,c\n1,", 8);
	p += 8;
	if (quoted)
		*p++ = '"';
	memset(p, 'x', n);
	p += n;
	if (quoted)
		*p++ = '"';
	memcpy(p, ",3\n", 3);
	*len = (size_t)(p - data) + 3;
	return data;
}

static const struct long_row {
	size_t n;
	bool quoted;
	bool good;
} long_rows[] = {
	{ CSV_FIELD_MAX, false, true },
	{ CSV_FIELD_MAX, true, true },
	{ CSV_FIELD_MAX + 1, false, false },
	{ CSV_FIELD_MAX + 1, true, false },
	{ 10 * 1000 * 1000, false, false },
	{ 10 * 1000 * 1000, true, false },
};

START_TEST(long_row)
{
	const struct long_row *r = &long_rows[_i];
	struct err err = { .rc = RC_OK };
	struct buf out;
	size_t len;
	char *data = long_field(&len, r->n, r->quoted);
	enum rc rc;

	buf_init(&out, 2000);
	rc = flatten(&out, data, len, &err);
	if (r->good) {
		ck_assert_int_eq(rc, RC_END);
		ck_assert_uint_eq(out.len, r->n + 6);
	} else {
		ck_assert_int_eq(rc, RC_INVALID);
		ck_assert_str_eq(err.text,
		    "t.csv:2:3: this field is longer than 1000 bytes");
	}
	buf_fini(&out);
	free(data);
}
END_TEST

/* Cut a good file at every byte: a result each time, never a crash. */
START_TEST(every_cut)
{
	static const char data[] =
	    "\xef\xbb\xbf"
	    "a,b,c\r\n\"x\r\n\"\"y\",\xc3\xa9,3\r\n";
	struct buf out;
	char *part;
	size_t n;
	enum rc rc;

	for (n = 0; n < sizeof(data); n++) {
		struct err err = { .rc = RC_OK };

		/* On the heap, so that reading past the end is seen. */
		part = malloc(n == 0 ? 1 : n);
		ck_assert_ptr_nonnull(part);
		memcpy(part, data, n);
		buf_init(&out, 1000);
		rc = flatten(&out, part, n, &err);
		ck_assert(rc == RC_END || rc == RC_INVALID);
		ck_assert_int_eq(rc == RC_INVALID, err.text[0] != '\0');
		buf_fini(&out);
		free(part);
	}
}
END_TEST

START_TEST(places)
{
	static const char data[] = "a,b,c\n1,2,3\n\n\"x\ny\",bad,3\n";
	struct err err = { .rc = RC_OK };
	struct csv *c;

	ck_assert_int_eq(
	    csv_open(&c, "t.csv", data, sizeof(data) - 1, abc, NULL, &err),
	    RC_OK);
	ck_assert_int_eq(csv_next(c, &err), RC_OK);
	ck_assert_int_eq(csv_line(c), 2);
	ck_assert_int_eq(csv_next(c, &err), RC_OK);
	ck_assert_int_eq(csv_line(c), 4);
	ck_assert_str_eq(csv_get(c, "note"), "");
	ignore_rc(err_set(&err, RC_INVALID, 0, "b is bad")); /* on purpose */
	ck_assert_int_eq(csv_fail(c, "b", RC_INVALID, &err), RC_INVALID);
	ck_assert_str_eq(err.text, "t.csv:5:4: b is bad");
	ck_assert_int_eq(csv_next(c, NULL), RC_END);
	ck_assert_int_eq(csv_next(c, NULL), RC_END);
	csv_close(c);
	csv_close(NULL);
}
END_TEST

static const struct quote_row {
	const char *in, *want, *why;
} quote_rows[] = {
	{ "plain", "plain", "nothing to quote" },
	{ "", "", "empty" },
	{ "a,b", "\"a,b\"", "RFC 4180 section 2 (6): comma" },
	{ "a\"b", "\"a\"\"b\"", "RFC 4180 section 2 (7): quote" },
	{ "a\nb", "\"a\nb\"", "RFC 4180 section 2 (6): line feed" },
	{ "a\rb", "\"a\rb\"", "RFC 4180 section 2 (6): carriage return" },
	{ " a ", " a ", "RFC 4180 section 2 (4): spaces are data" },
	{ "-5", "-5", "a negative number" },
	{ "-12.50", "-12.50", "a negative number" },
	{ "=1+1", "\"'=1+1\"", "a formula" },
	{ "+1", "\"'+1\"", "a formula" },
	{ "@SUM(A1)", "\"'@SUM(A1)\"", "a formula" },
	{ "-x", "\"'-x\"", "a formula" },
	{ "-1+cmd", "\"'-1+cmd\"", "a formula that begins as a number" },
	{ "-1-1", "\"'-1-1\"", "a formula of digits" },
	{ "\t=1", "\"'\t=1\"", "a tab before a formula" },
	{ "\r=1", "\"'\r=1\"", "a carriage return before a formula" },
	{ "\n=1", "\"'\n=1\"", "a line feed before a formula" },
	{ "'=1", "\"''=1\"", "an apostrophe of its own is kept" },
	{ "''-5", "\"'''-5\"", "two of them, before a number" },
	{ "'s-Gravenhage", "'s-Gravenhage", "an apostrophe before a letter" },
	{ "'", "'", "an apostrophe alone" },
	{ "=", "\"'=\"", "one character" },
	{ "-", "\"'-\"", "a minus alone is no number" },
	{ "-1.2", "-1.2", "a temperature" },
	{ "a=b", "a=b", "an equals sign inside" },
};

START_TEST(quote_row)
{
	const struct quote_row *r = &quote_rows[_i];
	struct buf b;

	buf_init(&b, 100);
	csv_quote(&b, r->in);
	ck_assert_msg(
	    strcmp(buf_text(&b), r->want) == 0, "%s: %s", r->why, buf_text(&b));
	buf_fini(&b);
}
END_TEST

/* Everything comes back from the reader as it was, formulas too. */
START_TEST(quote_and_read)
{
	const struct quote_row *r = &quote_rows[_i];
	struct err err = { .rc = RC_OK };
	struct buf b, out;

	buf_init(&b, 200);
	buf_init(&out, 200);
	buf_puts(&b, "a,b,c\r\n1,");
	csv_quote(&b, r->in);
	buf_puts(&b, ",3\r\n");
	ck_assert_int_eq(flatten(&out, b.data, b.len, &err), RC_END);
	buf_clear(&b);
	buf_printf(&b, "1|%s|3|;", r->in);
	ck_assert_str_eq(buf_text(&out), buf_text(&b));
	buf_fini(&b);
	buf_fini(&out);
}
END_TEST

Suite *
suite_base_csv(void)
{
	Suite *s = suite_create("base_csv");
	TCase *t = tcase_create("all");

	tcase_set_timeout(t, 30);
	tcase_add_loop_test(t, good_row, 0, (int)NELEM(good_rows));
	tcase_add_loop_test(t, bad_row, 0, (int)NELEM(bad_rows));
	tcase_add_loop_test(t, long_row, 0, (int)NELEM(long_rows));
	tcase_add_test(t, every_cut);
	tcase_add_test(t, places);
	tcase_add_loop_test(t, quote_row, 0, (int)NELEM(quote_rows));
	tcase_add_loop_test(t, quote_and_read, 0, (int)NELEM(quote_rows));
	suite_add_tcase(s, t);
	return s;
}
