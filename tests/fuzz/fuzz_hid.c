/*
 * fuzz_hid.c - report descriptors and reports of a scale.
 *
 * Input: two bytes, the descriptor's length, low first; the descriptor; what
 * is left is one report.
 * Properties: fields of one report lie one behind the other and inside the
 * limits; every element can be read from a report long enough and from none
 * that is shorter; a weight comes only with a state that has one; an error is
 * one line of text.
 */
#include "fuzz.h"

#include <stdlib.h>
#include <string.h>

#include "base/str.h"
#include "drivers/scale_hid.h"

static void
check_error(const struct err *err)
{
	FUZZ_HOLDS(text_check("it", err->text, ERR_TEXT_MAX - 1, false, NULL) ==
	    RC_OK);
}

static void
check_values(const struct hid_layout *l, const struct hid_field *f)
{
	static uint8_t report[HID_REPORT_MAX + 1];
	size_t len = hid_report_length(l, f->kind, f->report);
	uint32_t n = f->count - 1;
	size_t end = (f->at + f->bits * f->count + 7) / 8 + (l->ids ? 1 : 0);
	int64_t v;

	FUZZ_HOLDS(len >= end && len <= sizeof(report));
	memset(report, 0xA5, sizeof(report));
	report[0] = l->ids ? f->report : report[0];
	FUZZ_HOLDS(
	    hid_report_value(&v, l, f, n, report, end) == (f->bits <= 32));
	FUZZ_HOLDS(!hid_report_value(&v, l, f, n, report, end - 1));
	FUZZ_HOLDS(!hid_report_value(&v, l, f, f->count, report, len));
	if (f->bits <= 32 && hid_report_value(&v, l, f, 0, report, len)) {
		FUZZ_HOLDS(v < INT64_C(1) << f->bits);
		FUZZ_HOLDS(
		    v >= (f->min < 0 ? -(INT64_C(1) << (f->bits - 1)) : 0));
	}
}

static void
check_layout(const struct hid_layout *l)
{
	uint32_t used[HID_KINDS][256] = { { 0 } };
	const struct hid_field *f;
	size_t i;

	FUZZ_HOLDS(l->field_count <= HID_FIELDS_MAX);
	FUZZ_HOLDS(l->usage_count <= HID_USAGES_MAX);
	FUZZ_HOLDS(l->collection_count <= HID_COLLECTIONS_MAX);
	for (i = 0; i < l->collection_count; i++)
		FUZZ_HOLDS(l->collections[i].parent < (int)i);
	for (i = 0; i < l->field_count; i++) {
		f = &l->fields[i];
		FUZZ_HOLDS(l->ids == (f->report != 0));
		FUZZ_HOLDS(f->at == used[f->kind][f->report]);
		FUZZ_HOLDS(f->bits > 0 && f->count > 0);
		used[f->kind][f->report] += f->bits * f->count;
		FUZZ_HOLDS(used[f->kind][f->report] <= HID_REPORT_MAX * 8);
		FUZZ_HOLDS(f->collection < (int)l->collection_count);
		FUZZ_HOLDS(f->usage + f->usages <= l->usage_count);
		FUZZ_HOLDS((f->flags & HID_CONSTANT) != 0 || f->min <= f->max);
		check_values(l, f);
	}
}

static void
check_report(const struct scale_hid *s, const uint8_t *report, size_t len)
{
	struct scale_reading r = { SCALE_FAULT, 77 };
	struct err err = { 0 };
	enum rc rc = scale_hid_read(&r, s, report, len, &err);

	FUZZ_HOLDS(rc == RC_OK || rc == RC_END || rc == RC_INVALID);
	if (rc == RC_INVALID)
		check_error(&err);
	if (rc != RC_OK) {
		FUZZ_HOLDS(r.state == SCALE_FAULT && r.weight_mg == 77);
		return;
	}
	FUZZ_HOLDS(len >= s->length);
	FUZZ_HOLDS((int)r.state >= 0 && r.state < SCALE_STATE_COUNT);
	FUZZ_HOLDS(r.weight_mg == 0 || r.state == SCALE_STABLE ||
	    r.state == SCALE_IN_MOTION || r.state == SCALE_UNDER_ZERO);
	FUZZ_HOLDS(r.state != SCALE_UNDER_ZERO || r.weight_mg <= 0);
}

int
LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
	static struct hid_layout l;
	static struct scale_hid s;
	struct err err = { 0 };
	size_t len;
	enum rc rc;

	if (size < 2)
		return 0;
	len = data[0] | (size_t)data[1] << 8;
	data += 2;
	size -= 2;
	if (len > size)
		len = size;
	rc = hid_report_parse(&l, data, len, &err);
	FUZZ_HOLDS(rc == RC_OK || rc == RC_INVALID);
	if (rc != RC_OK) {
		check_error(&err);
		FUZZ_HOLDS(l.field_count == 0);
		return 0;
	}
	check_layout(&l);
	rc = scale_hid_init(&s, data, len, &err);
	FUZZ_HOLDS(rc == RC_OK || rc == RC_INVALID);
	if (rc == RC_OK)
		check_report(&s, data + len, size - len);
	else
		check_error(&err);
	return 0;
}
