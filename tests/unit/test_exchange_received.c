/*
 * test_exchange_received.c - rows of what came in, written and read back: the
 * same record, whatever stands in it.  The rules of RFC 4180 themselves are
 * held by test_base_csv.c; here by an independent reader in 42-exchange.sh.
 */
#include "unit.h"

#include <stdlib.h>
#include <string.h>

#include "base/clock.h"
#include "base/str.h"
#include "chance.h"
#include "core/code.h"
#include "exchange/received.h"

/* Beginnings a spreadsheet runs, what CSV is made of, letters of every width.
 */
static const char *const bits[] = { "=", "+", "-", "@", "'", "\"", ",", ";",
	"1", ".", "-1", "x", " y", "\xc3\xa9", "\xe2\x82\xac",
	"\xf0\x9f\x90\x9f" };

static void
random_text(char *dst, size_t size, uint64_t *seed)
{
	size_t n = 0, want = chance_next(seed) % size;
	const char *bit;

	dst[0] = '\0';
	while (n < want) {
		bit = bits[chance_next(seed) % NELEM(bits)];
		if (n + strlen(bit) >= size)
			break;
		str_copy(dst + n, size - n, bit);
		n += strlen(bit);
	}
	if (dst[0] == ' ') /* as at goods in: no blank at an end */
		dst[0] = 'b';
}

static day_no
random_day(uint64_t *seed)
{
	return chance_next(seed) % 3 == 0
	    ? DAY_NONE
	    : DAY_MIN + (day_no)(chance_next(seed) % (DAY_MAX - DAY_MIN));
}

#define RANDOM(field) random_text(field, sizeof(field), seed)

static struct received
random_received(uint64_t *seed)
{
	struct received r = { 0 };
	struct batch *b = &r.batch;
	size_t i;

	batch_code_make(b->code, 20000 + (day_no)(chance_next(seed) % 20000),
	    1 + (int)(chance_next(seed) % 60));
	for (i = 0; i < 3; i++)
		b->species[i] = (char)('A' + chance_next(seed) % 26);
	b->presentation = (enum presentation)(chance_next(seed) % 5);
	b->count = (int64_t)(chance_next(seed) % 3 * 17);
	b->weight_g = 1 + (grams)(chance_next(seed) % 1000000);
	b->temp_dc = (int)(chance_next(seed) % 100) - 50;
	b->caught_day = random_day(seed);
	b->supplier_use_by = random_day(seed);
	b->dispatched_day = random_day(seed);
	b->decision = (enum decision)(chance_next(seed) % 3);
	b->received.utc = 1000000000 + (int64_t)chance_next(seed);
	b->received.offset_min = ((int)(chance_next(seed) % 105) - 48) * 15;
	b->use_by_utc = b->received.utc + 200000;
	b->size = (int)(chance_next(seed) % 2 * 350);
	b->price = (int64_t)(chance_next(seed) % 4) - 1;
	b->struck = chance_next(seed) % 2 == 0;
	RANDOM(b->lot);
	RANDOM(b->area);
	RANDOM(b->method);
	RANDOM(b->gear);
	RANDOM(b->note);
	RANDOM(b->vessel);
	RANDOM(b->grade);
	RANDOM(b->document);
	RANDOM(b->received.by);
	RANDOM(b->supplier.code);
	RANDOM(b->supplier.name);
	RANDOM(b->supplier.address);
	RANDOM(b->supplier.approval);
	RANDOM(b->supplier.contact);
	RANDOM(r.name);
	RANDOM(r.scientific);
	RANDOM(r.kitchen);
	RANDOM(r.missing_1345);
	RANDOM(r.missing_931);
	RANDOM(r.missing_1379);
	return r;
}

/* Field by field, since a struct has gaps. */
static void
same(const struct received *a, const struct received *b)
{
	const struct batch *x = &a->batch, *y = &b->batch;

#define TEXT(f) ck_assert_str_eq(a->f, b->f)
#define NUMBER(f) ck_assert_int_eq(x->f, y->f)
	TEXT(batch.code);
	TEXT(batch.species);
	TEXT(batch.lot);
	TEXT(batch.area);
	TEXT(batch.method);
	TEXT(batch.gear);
	TEXT(batch.note);
	TEXT(batch.vessel);
	TEXT(batch.grade);
	TEXT(batch.document);
	TEXT(batch.received.by);
	TEXT(batch.supplier.code);
	TEXT(batch.supplier.name);
	TEXT(batch.supplier.address);
	TEXT(batch.supplier.approval);
	TEXT(batch.supplier.contact);
	TEXT(name);
	TEXT(scientific);
	TEXT(kitchen);
	TEXT(missing_1345);
	TEXT(missing_931);
	TEXT(missing_1379);
	NUMBER(presentation);
	NUMBER(count);
	NUMBER(weight_g);
	NUMBER(temp_dc);
	NUMBER(caught_day);
	NUMBER(supplier_use_by);
	NUMBER(dispatched_day);
	NUMBER(decision);
	NUMBER(received.utc);
	NUMBER(received.offset_min);
	NUMBER(use_by_utc);
	NUMBER(size);
	NUMBER(price);
	NUMBER(struck);
#undef TEXT
#undef NUMBER
}

START_TEST(there_and_back)
{
	const char *const *columns = received_columns();
	char a[RECEIVED_CELL_MAX], b[RECEIVED_CELL_MAX];
	struct received r[200], back;
	struct err err = { 0 };
	uint64_t seed = (uint64_t)_i + 1;
	struct csv *c;
	struct buf out;
	size_t i, k;

	buf_init(&out, 4000000);
	received_head(&out);
	for (i = 0; i < NELEM(r); i++) {
		r[i] = random_received(&seed);
		received_row(&out, &r[i]);
	}
	ck_assert_int_eq(
	    csv_open(&c, "t.csv", out.data, out.len, columns, NULL, &err),
	    RC_OK);
	for (i = 0; i < NELEM(r); i++) {
		ck_assert_int_eq(csv_next(c, &err), RC_OK);
		ck_assert_msg(
		    received_read(&back, c, &err) == RC_OK, "%s", err.text);
		same(&r[i], &back);
		for (k = 0; columns[k] != NULL; k++) {
			received_cell(a, &r[i], k);
			received_cell(b, &back, k);
			ck_assert_str_eq(a, b);
		}
	}
	ck_assert_int_eq(csv_next(c, &err), RC_END);
	csv_close(c);
	buf_fini(&out);
}
END_TEST

/* Every cell matters: a change of any one field is seen. */
START_TEST(cells)
{
	uint64_t seed = 7;
	struct received r = random_received(&seed);
	char cell[RECEIVED_CELL_MAX];
	size_t i;

	r.batch.temp_dc = -5; /* of a degree: the sign must not be lost */
	r.batch.weight_g = 12;
	r.batch.caught_day = DAY_NONE;
	for (i = 0; received_columns()[i] != NULL; i++) {
		received_cell(cell, &r, i);
		if (str_eq(received_columns()[i], "temperature_c"))
			ck_assert_str_eq(cell, "-0.5");
		if (str_eq(received_columns()[i], "quantity"))
			ck_assert_str_eq(cell, "0.012");
		if (str_eq(received_columns()[i], "caught"))
			ck_assert_str_eq(cell, "");
	}
	ck_assert_uint_eq(i, 36);
}
END_TEST

/* 21 CFR 1.1345(a) (3), 931/2011 Art. 3(1) h: by law, not by order.  What was
 * never judged is not complete. */
START_TEST(what_is_missing)
{
	static const struct {
		const char *judgement, *us, *eu_931, *eu_1379;
	} rows[] = {
		{ "{}", "?", "?", "?" },
		{ "", "?", "?", "?" },
		{ "{\"papers_missing\":", "?", "?", "?" },
		{ "{\"papers_missing\":[]}", "none", "none", "none" },
		{ "{\"papers_missing\":[{\"rule\":\"Reg. (EU) 931/2011 Art. "
		  "3(1)\",\"field\":\"h\"},{\"rule\":\"21 CFR 1.1345(b)\","
		  "\"field\":\"(3)\"},{\"rule\":\"Reg. (EU) 931/2011 Art. "
		  "3(1)\",\"field\":\"g\"}]}",
		    "(3)", "h, g", "none" },
		{ "{\"papers_missing\":[{\"rule\":\"Reg. (EU) 1379/2013 Art. "
		  "35(1)\",\"field\":\"c\"}]}",
		    "none", "none", "c" },
	};
	struct received r = { 0 };
	size_t i;

	for (i = 0; i < NELEM(rows); i++) {
		received_missing(&r, rows[i].judgement);
		ck_assert_str_eq(r.missing_1345, rows[i].us);
		ck_assert_str_eq(r.missing_931, rows[i].eu_931);
		ck_assert_str_eq(r.missing_1379, rows[i].eu_1379);
	}
}
END_TEST

Suite *
suite_exchange_received(void)
{
	Suite *s = suite_create("exchange_received");
	TCase *t = tcase_create("all");

	tcase_add_loop_test(t, there_and_back, 0, 20);
	tcase_add_test(t, cells);
	tcase_add_test(t, what_is_missing);
	suite_add_tcase(s, t);
	return s;
}
