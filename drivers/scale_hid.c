/* scale_hid.c - reports of a HID weighing device as readings. */
#include "scale_hid.h"

#include <inttypes.h>
#include <string.h>

#include "base/str.h"

#define PAGE 0x8D
#define USAGE(id) HID_USAGE(PAGE, id)

#define ATTRIBUTE_REPORT USAGE(0x30)
#define DATA_REPORT USAGE(0x32)
#define STATISTICS_REPORT USAGE(0x35)
#define DATA_WEIGHT USAGE(0x40)
#define DATA_SCALING USAGE(0x41)

/* Named sets: the usages that may be selected follow each. */
#define WEIGHT_UNIT USAGE(0x50)
#define SCALE_STATUS USAGE(0x70)
#define SET_SIZE 15

/*
 * One unit is `mg` / 10^places milligrams, exactly.
 * Source: NIST Handbook 44, Appendix C; the pound of 1959 (453.592 37 g)
 * makes the ounce a sixteenth of it, the grain a 7000th, the pennyweight
 * 24 grains and the troy ounce 480.  The metric carat is 200 mg (4th CGPM).
 * Taels differ from country to country, and an avoirdupois ton is a short or
 * a long one: mg 0, not converted.
 */
static const struct {
	uint32_t usage;
	const char *name;
	int64_t mg;
	int places;
} units[] = {
	{ USAGE(0x51), "milligrams", 1, 0 },
	{ USAGE(0x52), "grams", 1000, 0 },
	{ USAGE(0x53), "kilograms", 1000000, 0 },
	{ USAGE(0x54), "carats", 200, 0 },
	{ USAGE(0x55), "taels", 0, 0 },
	{ USAGE(0x56), "grains", 6479891, 5 },
	{ USAGE(0x57), "pennyweights", 155517384, 5 },
	{ USAGE(0x58), "tonnes", 1000000000, 0 },
	{ USAGE(0x59), "avoirdupois tons", 0, 0 },
	{ USAGE(0x5A), "troy ounces", 311034768, 4 },
	{ USAGE(0x5B), "ounces", 28349523125, 6 },
	{ USAGE(0x5C), "pounds", 45359237, 2 },
};

/* Enough for the product of a 32-bit count and any unit above. */
__extension__ typedef unsigned __int128 wide;

static enum rc
too_much(struct err *err)
{
	return err_set(
	    err, RC_INVALID, 0, "the scale reports a weight that cannot be");
}

enum rc
scale_hid_mg(
    int64_t *out, uint32_t unit, int64_t count, int exponent, struct err *err)
{
	wide mg, ten = 1;
	size_t i;

	for (i = 0; i < sizeof(units) / sizeof(units[0]); i++)
		if (units[i].usage == unit)
			break;
	if (i == sizeof(units) / sizeof(units[0]))
		return err_set(err, RC_INVALID, 0,
		    "the scale weighs in a unit that is not known (usage "
		    "%02" PRIX32 "): set it to grams or pounds",
		    unit & 0xFFFF);
	if (units[i].mg == 0)
		return err_set(err, RC_INVALID, 0,
		    "the scale weighs in %s, which are not the same "
		    "everywhere: set it to grams or pounds",
		    units[i].name);
	if (count > UINT32_MAX || count < -(int64_t)UINT32_MAX)
		return too_much(err);
	mg = (wide)(count < 0 ? -count : count) * (wide)units[i].mg;
	exponent -= units[i].places;
	for (; exponent > 0 && mg > 0; exponent--)
		if ((mg *= 10) > INT64_MAX)
			return too_much(err);
	/* 10^24 is more than twice any product: what is left rounds to 0 */
	for (; exponent < 0 && ten < (wide)1000000000000 * 1000000000000;
	     exponent++)
		ten *= 10;
	mg = exponent < 0 ? 0 : (mg + ten / 2) / ten;
	if (mg > INT64_MAX)
		return too_much(err);
	*out = count < 0 ? -(int64_t)mg : (int64_t)mg;
	return RC_OK;
}

/* --- The descriptor --------------------------------------------------------
 */

bool
scale_hid_is_scale(const struct hid_layout *l)
{
	size_t i;

	for (i = 0; i < l->collection_count; i++)
		if (l->collections[i].usage >> 16 == PAGE)
			return true;
	for (i = 0; i < l->usage_count; i++)
		if (l->usages[i].first >> 16 == PAGE)
			return true;
	return false;
}

/* Data the device sends by itself. */
static bool
is_data(const struct hid_field *f)
{
	return f->kind == HID_INPUT && (f->flags & HID_CONSTANT) == 0;
}

/* Is it about what lies on the scale?  The other reports of a scale may hold a
 * weight too, such as its limit. */
static bool
is_now(const struct hid_layout *l, const struct hid_field *f)
{
	uint32_t usage;

	for (usage = ATTRIBUTE_REPORT; usage <= STATISTICS_REPORT; usage++)
		if (hid_report_within(l, f, usage))
			return usage == DATA_REPORT;
	return true;
}

/* The one field of a usage in a report (any report: -1); NULL also when there
 * are more, which nobody could tell apart. */
static const struct hid_field *
only(const struct hid_layout *l, uint32_t usage, int report, size_t *found)
{
	const struct hid_field *f, *it = NULL;
	size_t i;

	*found = 0;
	for (i = 0; i < l->field_count; i++) {
		f = &l->fields[i];
		if (!is_data(f) || !is_now(l, f) ||
		    (f->flags & HID_VARIABLE) == 0 ||
		    hid_report_usage(l, f, 0) != usage ||
		    (report >= 0 && f->report != report))
			continue;
		it = f;
		*found += f->count;
	}
	return *found == 1 ? it : NULL;
}

/* Does it select out of a set: one bit a usage, or an array of numbers? */
static bool
selects(const struct hid_layout *l, const struct hid_field *f, uint8_t report,
    uint32_t set)
{
	uint32_t usage = hid_report_usage(l, f, 0);

	/* arrays may begin with the set's own usage at 0 */
	if (usage == set && (f->flags & HID_VARIABLE) != 0)
		return false;
	return is_data(f) && is_now(l, f) && f->report == report &&
	    usage >= set && usage <= set + SET_SIZE;
}

static bool
has_selector(const struct hid_layout *l, uint8_t report, uint32_t set)
{
	size_t i;

	for (i = 0; i < l->field_count; i++)
		if (selects(l, &l->fields[i], report, set))
			return true;
	return false;
}

static enum rc
lacks(struct err *err, const char *what)
{
	return err_set(err, RC_INVALID, 0,
	    "this scale's reports are not understood: %s", what);
}

enum rc
scale_hid_init(struct scale_hid *out, const uint8_t *descriptor, size_t len,
    struct err *err)
{
	struct hid_layout *l = &out->layout;
	const struct hid_field *w;
	size_t found;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	if ((rc = hid_report_parse(l, descriptor, len, err)) != RC_OK)
		return rc;
	if (!scale_hid_is_scale(l))
		return err_set(err, RC_INVALID, 0, "it is no weighing device");
	if ((w = only(l, DATA_WEIGHT, -1, &found)) == NULL)
		return lacks(err,
		    found == 0 ? "they carry no weight"
			       : "they carry more weights than one");
	if (w->bits > 32)
		return lacks(err, "a weight of more than 32 bits");
	if (!has_selector(l, w->report, SCALE_STATUS))
		return lacks(err, "they do not say whether it is stable");
	if (!has_selector(l, w->report, WEIGHT_UNIT))
		return lacks(err, "they do not say the unit");
	out->scaling = only(l, DATA_SCALING, w->report, &found);
	if (found > 1 || (found == 1 && out->scaling->bits > 32))
		return lacks(err, "more powers of ten than one");
	out->weight = w;
	out->length = hid_report_length(l, HID_INPUT, w->report);
	return RC_OK;
}

/* --- A report --------------------------------------------------------------
 */

/* The usage that one element says, 0 for none. */
static uint32_t
said(const struct scale_hid *s, const struct hid_field *f, uint32_t n,
    const uint8_t *report, size_t len)
{
	int64_t v;

	if (!hid_report_value(&v, &s->layout, f, n, report, len))
		return 0;
	if ((f->flags & HID_VARIABLE) != 0)
		return v != 0 ? hid_report_usage(&s->layout, f, n) : 0;
	/* Outside its range an array element says nothing (6.2.2.5). */
	if (v < f->min || v > f->max)
		return 0;
	return hid_report_usage(&s->layout, f, (uint32_t)(v - f->min));
}

/* The usage selected, 0 for none; false when two are at once. */
static bool
selected(uint32_t *out, const struct scale_hid *s, uint32_t set,
    const uint8_t *report, size_t len)
{
	const struct hid_field *f;
	uint32_t n, usage;
	size_t i;

	*out = 0;
	for (i = 0; i < s->layout.field_count; i++) {
		f = &s->layout.fields[i];
		if (!selects(&s->layout, f, s->weight->report, set))
			continue;
		for (n = 0; n < f->count; n++) {
			usage = said(s, f, n, report, len);
			if (usage <= set || usage > set + SET_SIZE ||
			    usage == *out)
				continue;
			if (*out != 0)
				return false;
			*out = usage;
		}
	}
	return true;
}

static enum scale_state
state_of(uint32_t usage)
{
	static const uint32_t usages[SCALE_STATE_COUNT] = {
#define STATE_USAGE(name, usage, words) [SCALE_##name] = USAGE(usage),
		SCALE_STATE_LIST(STATE_USAGE)
#undef STATE_USAGE
	};
	int i;

	for (i = 1; i < SCALE_STATE_COUNT; i++)
		if (usages[i] == usage)
			return (enum scale_state)i;
	return SCALE_NONE;
}

/* False: the report carries no such number just now. */
static bool
number(int64_t *out, const struct scale_hid *s, const struct hid_field *f,
    const uint8_t *report, size_t len)
{
	*out = 0;
	if (f == NULL)
		return true;
	return hid_report_value(out, &s->layout, f, 0, report, len) &&
	    *out >= f->min && *out <= f->max;
}

static enum rc
read_weight(int64_t *mg, const struct scale_hid *s, uint32_t unit,
    const uint8_t *report, size_t len, struct err *err)
{
	int64_t count, exponent;

	if (!number(&count, s, s->weight, report, len) ||
	    !number(&exponent, s, s->scaling, report, len) || exponent < -128 ||
	    exponent > 127)
		return too_much(err);
	return scale_hid_mg(mg, unit, count, (int)exponent, err);
}

static enum rc
two_at_once(struct err *err, const char *what)
{
	return err_set(err, RC_INVALID, 0,
	    "the scale's report is malformed: two %s at once", what);
}

enum rc
scale_hid_read(struct scale_reading *out, const struct scale_hid *s,
    const uint8_t *report, size_t len, struct err *err)
{
	struct scale_reading r = { SCALE_NONE, 0 };
	uint32_t status, unit;
	enum rc rc;

	if (s->layout.ids && len > 0 && report[0] != s->weight->report)
		return RC_END;
	/* A longer one is padded to the size of a transfer. */
	if (len < s->length)
		return err_set(err, RC_INVALID, 0,
		    "the scale's report is malformed: %zu bytes, %zu are due",
		    len, s->length);
	if (!selected(&status, s, SCALE_STATUS, report, len))
		return two_at_once(err, "states");
	if (!selected(&unit, s, WEIGHT_UNIT, report, len))
		return two_at_once(err, "units");
	r.state = state_of(status);
	/* Some send one report without a unit after a tare: it says nothing. */
	if (r.state == SCALE_STABLE && unit == 0)
		r.state = SCALE_NONE;
	if (r.state == SCALE_STABLE || r.state == SCALE_IN_MOTION ||
	    r.state == SCALE_UNDER_ZERO) {
		rc = read_weight(&r.weight_mg, s, unit, report, len,
		    r.state == SCALE_STABLE ? err : NULL);
		if (rc != RC_OK && r.state == SCALE_STABLE)
			return rc;
		/* The state is the sign: the number is its magnitude. */
		if (r.state == SCALE_UNDER_ZERO && r.weight_mg > 0)
			r.weight_mg = -r.weight_mg;
	}
	*out = r;
	return RC_OK;
}
