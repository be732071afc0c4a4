/*
 * test_ops_export.c - the chain as files: every row of the record once, in
 * every span; statements that read through indexes (the kitchen's store refuses
 * others); names that are the same in every export.  The documents themselves
 * are held against the published schema by tests/epcis.
 */
#include "unit.h"

#include <stdlib.h>
#include <string.h>

#include "base/file.h"
#include "base/jsonw.h"
#include "base/str.h"
#include "exchange/epcis_out.h"
#include "kitchen.h"
#include "ops/export.h"
#include "ops/fate.h"
#include "ops/freeze.h"
#include "ops/undo.h"

static struct kitchen k;
static struct batch cod;
static struct breakdown trays;

/* Three trays of four: one used in two parts, one frozen, one on hold. */
static void
setup(void)
{
	const char *codes[3], *one[1];
	struct use_in out = { .servings = 1, .by = "CD" };
	struct freeze_in cold = {
		.codes = one, .count = 1, .temp = "-20", .by = "CD"
	};
	struct err err = { 0 };
	struct kept kept;
	struct portion p;
	size_t i;

	kitchen_open(&k);
	trays = kitchen_trays(&cod, &k);
	ck_assert_uint_eq(trays.portion_count, 3);
	for (i = 0; i < 3; i++)
		codes[i] = trays.portions[i].code;
	out.code = codes[0];
	ck_assert_msg(use(&p, k.sn, &out, &err) == RC_OK, "%s", err.text);
	out.servings = 3;
	ck_assert_msg(use(&p, k.sn, &out, &err) == RC_OK, "%s", err.text);
	one[0] = codes[1];
	ck_assert_msg(
	    freeze(&kept, k.sn, &cold, &err) == RC_OK, "%s", err.text);
	ck_assert_msg(hold(NULL, k.sn, codes[2], "smell", "CD", &err) == RC_OK,
	    "%s", err.text);
}

static void
teardown(void)
{
	breakdown_fini(&trays);
	kitchen_close(&k);
}

/* Export and read it back; the caller frees with buf_fini(). */
static void
exported(struct buf *text, const char *kind, const char *what)
{
	struct export_wish w = {
		.kind = kind, .what = what, .folder = k.folder, .replace = true
	};
	struct export_done d;
	struct err err = { 0 };

	ck_assert_msg(export_run(&d, k.sn, &w, &err) == RC_OK, "%s %s: %s",
	    kind, what, err.text);
	buf_init(text, FILE_READ_MAX);
	ck_assert_int_eq(file_read(text, d.path, &err), RC_OK);
	ck_assert_int_eq((int64_t)text->len, d.bytes);
}

static int
lines(const struct buf *text)
{
	const char *s = buf_text(text);
	int n = 0;

	for (; (s = strchr(s, '\n')) != NULL; s++)
		n++;
	return n;
}

static int
count(const struct buf *text, const char *what)
{
	const char *s = buf_text(text);
	int n = 0;

	for (; (s = strstr(s, what)) != NULL; s++)
		n++;
	return n;
}

/* Each way to name the same food gives the same rows. */
START_TEST(each_span)
{
	static const char *const kinds[] = { "receiving", "chain", "epcis" };
	/* A row of goods in; breakdown, 3 made, trim, frames, waste and
	 * unexplained, 2 used, frozen, held, and received; events are 6. */
	static const int rows[] = { 1 + 1, 1 + 13, 1 + 6 + 1 };
	const char *spans[] = { NULL, "2026-11-25", "all",
		"2026-11-20..2026-11-30", cod.code, trays.portions[0].code };
	struct buf text;
	size_t i, j;

	for (i = 0; i < NELEM(kinds); i++)
		for (j = 0; j < NELEM(spans); j++) {
			exported(&text, kinds[i], spans[j]);
			ck_assert_msg(lines(&text) == rows[i], "%s %s: %d",
			    kinds[i], spans[j], lines(&text));
			buf_fini(&text);
		}
	for (i = 0; i < NELEM(kinds); i++) {
		exported(&text, kinds[i], "2026-11-26..2026-11-30");
		ck_assert_int_eq(lines(&text), i == 2 ? 2 : 1);
		buf_fini(&text);
	}
}
END_TEST

/* The night the clocks go back has 25 hours (25 October 2026, tzdata), the day
 * they go forward 23 (29 March 2026): nothing is told twice or not at all. */
START_TEST(days_of_other_lengths)
{
	static const char *const nows[] = { "2027-03-27T23:59",
		"2027-03-28T00:00", "2027-03-28T23:59", "2027-03-29T00:00",
		"2027-10-30T23:59", "2027-10-31T00:00", "2027-10-31T23:59",
		"2027-11-01T00:00" };
	static const char *const days[] = { "2027-03-27", "2027-03-28",
		"2027-03-29", "2027-10-30", "2027-10-31", "2027-11-01" };
	struct receive_in in = kitchen_cod();
	struct discard_in bin = {
		.fish = 1, .weight_g = 100, .reason = "dropped", .by = "CD"
	};
	struct discarded gone;
	struct err err = { 0 };
	char document[32];
	struct batch b;
	struct buf text;
	int all = 0;
	size_t i;

	for (i = 0; i < NELEM(nows); i++) {
		kitchen_at(&k, nows[i]);
		str_fmt(document, sizeof(document), "DN %zu", i);
		in.document = document;
		b = kitchen_receive(&k, &in);
		bin.code = b.code;
		ck_assert_msg(
		    discard(&gone, k.sn, &bin, &err) == RC_OK, "%s", err.text);
	}
	for (i = 0; i < NELEM(days); i++) {
		exported(&text, "chain", days[i]);
		ck_assert_int_eq(lines(&text) - 1, i % 3 == 1 ? 4 : 2);
		all += lines(&text) - 1;
		buf_fini(&text);
	}
	ck_assert_int_eq(all, 2 * (int)NELEM(nows));
}
END_TEST

/* A breakdown of two batches names both, and each of their exports has it. */
START_TEST(mixed)
{
	struct receive_in in = kitchen_cod();
	struct buf text;
	struct batch b;
	char sql[200], name[40], shown[CODE_SIZE];

	in.document = "DN 2";
	b = kitchen_receive(&k, &in);
	str_fmt(sql, sizeof(sql),
	    "INSERT INTO prep_input (prep_id, batch_id, fish, weight_g)"
	    " VALUES (1, %d, 1, 250)",
	    (int)b.id);
	ck_assert_int_eq(kitchen_sql(k.db, sql), 0);
	exported(&text, "epcis", b.code);
	/* goods in, and as an input; the other one as an input. */
	str_fmt(name, sizeof(name), "#batch/%s\"", code_show(shown, b.code));
	ck_assert_int_eq(count(&text, name), 2);
	str_fmt(name, sizeof(name), "#batch/%s\"", code_show(shown, cod.code));
	ck_assert_int_eq(count(&text, name), 1);
	ck_assert_int_eq(count(&text, "\"quantity\":0.25,"), 1);
	buf_fini(&text);
	exported(&text, "chain", b.code);
	ck_assert_int_eq(count(&text, ",breakdown,"), 3); /* and the head */
	ck_assert_int_eq(count(&text, ",unexplained,"), 1);
	buf_fini(&text);
}
END_TEST

/* The same record under another name would be two records to whoever reads. */
START_TEST(names)
{
	char a[EPCIS_UUID_SIZE], base[EPCIS_BASE_SIZE], other[EPCIS_BASE_SIZE];
	struct buf one, two;
	const char *s, *t;

	/* RFC 9562: version 8 in the 13th digit, variant 8 to b in the 17th. */
	epcis_uuid(a, "x");
	ck_assert_uint_eq(strlen(a), 36);
	ck_assert(a[14] == '8' && strchr("89ab", a[19]) != NULL);
	ck_assert_uint_eq(strspn(a, "0123456789abcdef-"), 36);
	epcis_base(base, "Slipway", "2026-01-01T00:00:00+00:00");
	epcis_base(other, "Slipway", "2026-01-01T00:00:01+00:00");
	ck_assert_str_ne(base, other);
	ck_assert_int_eq(epcis_base_check(base, NULL), RC_OK);
	exported(&one, "epcis", "all");
	kitchen_at(&k, "2026-11-26T10:00");
	exported(&two, "epcis", "all");
	s = strstr(buf_text(&one), "\"epcisBody\"");
	t = strstr(buf_text(&two), "\"epcisBody\"");
	ck_assert_str_eq(s, t);
	buf_fini(&one);
	buf_fini(&two);
}
END_TEST

static const struct base_row {
	const char *base;
	enum rc rc;
} base_rows[] = {
	{ "https://kitchen.example/id/", RC_OK },
	{ "https://kitchen.example/id#", RC_OK },
	{ "tag:kitchen.example,2026:", RC_OK }, /* RFC 4151 */
	{ "urn:uuid:87ee5260-eb75-8d7a-a757-1aa44e110e77#", RC_OK },
	{ "https://kitchen.example/id", RC_INVALID },
	{ "https://", RC_INVALID },
	{ "kitchen/", RC_INVALID },
	{ "https://kitchen.example/i d/", RC_INVALID },
	{ "https://kitchen.example/\"/", RC_INVALID },
	{ "https://k\xc3\xbc"
	  "che.example/",
	    RC_INVALID },
	/* GS1's own (EPCIS 2.0 schema, gs1.md 11). */
	{ "urn:epcglobal:cbv:bizstep:", RC_INVALID },
	{ "urn:epc:id:sgtin:", RC_INVALID },
	{ "https://ns.gs1.org/cbv/", RC_INVALID },
	{ "https://id.gs1.org/01/", RC_INVALID },
};

START_TEST(base_row)
{
	const struct base_row *r = &base_rows[_i];

	ck_assert_msg(epcis_base_check(r->base, NULL) == r->rc, "%s", r->base);
}
END_TEST

/* Somebody else records while it is written: none of it is in the file. */
static bool
meddle(void *arg, int64_t done, int64_t total)
{
	int *calls = arg;

	ck_assert_int_le(done, total);
	if ((*calls)++ == 0)
		ck_assert_int_eq(
		    kitchen_sql(
			k.db, "UPDATE supplier SET name = 'Somebody Else'"),
		    0);
	return true;
}

START_TEST(one_instant)
{
	int calls = 0;
	struct receive_in in = kitchen_cod();
	struct export_wish w = { .kind = "receiving",
		.what = "2026-11-24..2026-11-25",
		.folder = k.folder,
		.replace = true,
		.tell = meddle,
		.arg = &calls };
	struct export_done d;
	struct err err = { 0 };
	struct buf text;

	ck_assert_msg(export_run(&d, k.sn, &w, &err) == RC_OK, "%s", err.text);
	ck_assert_int_eq(calls, 2); /* the batch is of the second day */
	buf_init(&text, FILE_READ_MAX);
	ck_assert_int_eq(file_read(&text, d.path, &err), RC_OK);
	ck_assert_int_eq(count(&text, "Somebody Else"), 0);
	ck_assert_int_eq(count(&text, "North Pier Fish"), 1);
	buf_fini(&text);
	exported(&text, "receiving", "2026-11-25");
	ck_assert_int_eq(count(&text, "Somebody Else"), 1);
	buf_fini(&text);
	/* It is over: the station records as before. */
	in.document = "DN 9";
	(void)kitchen_receive(&k, &in);
}
END_TEST

/* What was told of a day and taken back later is told again, once. */
START_TEST(taken_back_later)
{
	struct undo_in undo = { .of = "AB", .reason = "twice", .by = "CD" };
	struct undo_offer offer;
	struct err err = { 0 };
	struct buf text;
	struct receive_in in = kitchen_cod();

	kitchen_at(&k, "2026-11-25T23:50");
	in.document = "DN 3";
	(void)kitchen_receive(&k, &in);
	kitchen_at(&k, "2026-11-26T00:05");
	ck_assert_msg(
	    undo_last(&offer, k.sn, "AB", &err) == RC_OK, "%s", err.text);
	undo.step = offer.step;
	ck_assert_msg(
	    undo_do(&offer, k.sn, &undo, &err) == RC_OK, "%s", err.text);
	exported(&text, "epcis", "2026-11-26");
	ck_assert_int_eq(lines(&text), 3);
	ck_assert_int_eq(count(&text, "\"errorDeclaration\""), 1);
	ck_assert_int_eq(count(&text, "2026-11-26T00:05:00"), 2);
	buf_fini(&text);
	exported(&text, "epcis", "2026-11-25..2026-11-26");
	ck_assert_int_eq(count(&text, "\"errorDeclaration\""), 1);
	buf_fini(&text);
	exported(&text, "epcis", "2026-11-27");
	ck_assert_int_eq(lines(&text), 2);
	buf_fini(&text);
}
END_TEST

Suite *
suite_ops_export(void)
{
	Suite *s = suite_create("ops_export");
	TCase *t = tcase_create("kitchen");

	tcase_add_checked_fixture(t, setup, teardown);
	tcase_add_test(t, each_span);
	tcase_add_test(t, days_of_other_lengths);
	tcase_add_test(t, mixed);
	tcase_add_test(t, names);
	tcase_add_test(t, taken_back_later);
	tcase_add_test(t, one_instant);
	suite_add_tcase(s, t);
	t = tcase_create("bases");
	tcase_add_loop_test(t, base_row, 0, (int)NELEM(base_rows));
	suite_add_tcase(s, t);
	return s;
}
