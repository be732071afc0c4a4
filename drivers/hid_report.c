/* hid_report.c - reader of HID report descriptors. */
#include "hid_report.h"

#include <string.h>

#define STACK_MAX 16  /* of pushed global states, and of open collections */
#define LOCALS_MAX 64 /* usage ranges in front of one Main item */
#define BITS_MAX 256  /* of one element; a wider one is nobody's number */

/* Item types and tags, 6.2.2.2 to 6.2.2.8. */
enum { TYPE_MAIN, TYPE_GLOBAL, TYPE_LOCAL };
enum {
	MAIN_INPUT = 0x8,
	MAIN_OUTPUT = 0x9,
	MAIN_COLLECTION = 0xA,
	MAIN_FEATURE = 0xB,
	MAIN_END = 0xC,
};
enum {
	GLOBAL_PAGE,
	GLOBAL_LOGICAL_MIN,
	GLOBAL_LOGICAL_MAX,
	GLOBAL_PHYSICAL_MIN,
	GLOBAL_PHYSICAL_MAX,
	GLOBAL_UNIT_EXPONENT,
	GLOBAL_UNIT,
	GLOBAL_SIZE,
	GLOBAL_ID,
	GLOBAL_COUNT,
	GLOBAL_PUSH,
	GLOBAL_POP,
};
enum {
	LOCAL_USAGE = 0x0,
	LOCAL_USAGE_MIN = 0x1,
	LOCAL_USAGE_MAX = 0x2,
	LOCAL_DELIMITER = 0xA,
};
#define LONG_ITEM 0xFE

struct item {
	int type, tag;
	size_t size;   /* bytes of data: 0, 1, 2 or 4 */
	uint32_t raw;  /* as it stands */
	int32_t value; /* sign extended */
};

struct globals {
	uint32_t page;
	int32_t min;
	int32_t max;
	uint32_t max_raw;
	int unit_exponent;
	uint32_t unit;
	uint32_t bits, count;
	uint8_t report;
};

/* A usage whose page is not settled until the Main item (6.2.2.7). */
struct local {
	uint32_t first, last;
	bool whole; /* four bytes: it brought its page along */
};

struct parser {
	struct hid_layout *l;
	struct globals now, stack[STACK_MAX];
	int pushed;
	int open[STACK_MAX]; /* collections, outermost first */
	int depth;
	struct local locals[LOCALS_MAX];
	size_t local_count;
	uint32_t low, high;         /* of a range that lacks its other end */
	size_t low_size, high_size; /* bytes it was written in, 0: not seen */
	bool alternatives, chosen;  /* inside a set that means one thing */
	bool any_id;                /* a report ID was seen */
	bool any_bare; /* a field stood in front of the first one */
	uint32_t used[HID_KINDS][256]; /* bits of each report so far */
};

static enum rc
bad(struct err *err, size_t at, const char *what)
{
	return err_set(err, RC_INVALID, 0,
	    "HID report descriptor, byte %zu: %s", at, what);
}

static void
forget_locals(struct parser *p)
{
	p->local_count = 0;
	p->low_size = p->high_size = 0;
	p->alternatives = p->chosen = false;
}

/* --- Local items -----------------------------------------------------------
 */

static const char *
add_local(struct parser *p, uint32_t first, uint32_t last, bool whole)
{
	struct local *u;

	/* Of alternatives the first is the preferred one (6.2.2.8). */
	if (p->alternatives && p->chosen)
		return NULL;
	p->chosen = true;
	if (p->local_count == LOCALS_MAX)
		return "too many usages in front of one item";
	u = &p->locals[p->local_count++];
	u->first = first;
	u->last = last;
	u->whole = whole;
	return NULL;
}

static const char *
close_range(struct parser *p)
{
	bool whole = p->low_size == 4;

	if (p->low_size == 0 || p->high_size == 0)
		return NULL;
	if (whole != (p->high_size == 4) || p->low > p->high ||
	    (whole && p->low >> 16 != p->high >> 16))
		return "a usage range that ends before it begins";
	p->low_size = p->high_size = 0;
	return add_local(p, p->low, p->high, whole);
}

static const char *
local_item(struct parser *p, const struct item *it)
{
	switch (it->tag) {
	case LOCAL_USAGE:
		return add_local(p, it->raw, it->raw, it->size == 4);
	case LOCAL_USAGE_MIN:
		p->low = it->raw;
		/* an item without data means 0 in its shortest form */
		p->low_size = it->size == 0 ? 1 : it->size;
		return close_range(p);
	case LOCAL_USAGE_MAX:
		p->high = it->raw;
		p->high_size = it->size == 0 ? 1 : it->size;
		return close_range(p);
	case LOCAL_DELIMITER:
		if (it->raw > 1 || p->alternatives == (it->raw == 1))
			return "delimiters that do not pair";
		p->alternatives = it->raw == 1;
		p->chosen = false;
		return NULL;
	default:
		return NULL; /* designators, strings, what is reserved */
	}
}

/* --- Global items ----------------------------------------------------------
 */

static const char *
set_id(struct parser *p, uint32_t id)
{
	if (id == 0 || id > 255)
		return "a report ID that is not 1 to 255";
	if (p->any_bare)
		return "a field stands in front of the first report ID";
	p->any_id = true;
	p->now.report = (uint8_t)id;
	return NULL;
}

static const char *
global_item(struct parser *p, const struct item *it)
{
	struct globals *g = &p->now;

	switch (it->tag) {
	case GLOBAL_PAGE:
		if (it->raw > 0xFFFF)
			return "a usage page above FFFF";
		g->page = it->raw;
		return NULL;
	case GLOBAL_LOGICAL_MIN:
		g->min = it->value;
		return NULL;
	case GLOBAL_LOGICAL_MAX:
		g->max = it->value;
		g->max_raw = it->raw;
		return NULL;
	case GLOBAL_UNIT_EXPONENT:
		/* a nibble, -8 to 7 (6.2.2.7); some write a whole byte */
		g->unit_exponent = it->value >= 8 && it->value <= 15
		    ? it->value - 16
		    : it->value;
		return g->unit_exponent < -128 || g->unit_exponent > 127
		    ? "a unit exponent that cannot be"
		    : NULL;
	case GLOBAL_UNIT:
		g->unit = it->raw;
		return NULL;
	case GLOBAL_SIZE:
		g->bits = it->raw;
		return NULL;
	case GLOBAL_ID:
		return set_id(p, it->raw);
	case GLOBAL_COUNT:
		g->count = it->raw;
		return NULL;
	case GLOBAL_PUSH:
		if (p->pushed == STACK_MAX)
			return "pushed too deep";
		p->stack[p->pushed++] = *g;
		return NULL;
	case GLOBAL_POP:
		if (p->pushed == 0)
			return "a pop without a push";
		*g = p->stack[--p->pushed];
		return NULL;
	default:
		return NULL; /* physical limits, what is reserved */
	}
}

/* --- Main items ------------------------------------------------------------
 */

static uint32_t
with_page(const struct parser *p, uint32_t usage, bool whole)
{
	return whole ? usage : HID_USAGE(p->now.page, usage);
}

static const char *
open_collection(struct parser *p)
{
	struct hid_layout *l = p->l;
	struct hid_collection *c;

	if (l->collection_count == HID_COLLECTIONS_MAX)
		return "too many collections";
	if (p->depth == STACK_MAX)
		return "collections nested too deep";
	c = &l->collections[l->collection_count];
	c->parent = p->depth == 0 ? -1 : p->open[p->depth - 1];
	c->usage = p->local_count == 0
	    ? 0
	    : with_page(p, p->locals[0].first, p->locals[0].whole);
	p->open[p->depth++] = (int)l->collection_count++;
	return NULL;
}

static const char *
take_usages(struct parser *p, struct hid_field *f)
{
	struct hid_layout *l = p->l;
	struct hid_usages *to;
	size_t i;

	f->usage = l->usage_count;
	f->usages = p->local_count;
	if (HID_USAGES_MAX - l->usage_count < p->local_count)
		return "too many usages";
	for (i = 0; i < p->local_count; i++) {
		const struct local *u = &p->locals[i];

		to = &l->usages[l->usage_count++];
		to->first = with_page(p, u->first, u->whole);
		to->last = with_page(p, u->last, u->whole);
	}
	return NULL;
}

/*
 * Many devices write 65535 in two bytes where four are due; read as a signed
 * number it would be -1.  A minimum that is not negative says that the field
 * has no sign (6.2.2.7), and then its maximum has none either.
 */
static int64_t
logical_max(const struct globals *g)
{
	return g->min >= 0 ? (int64_t)g->max_raw : (int64_t)g->max;
}

static const char *
add_field(struct parser *p, enum hid_kind kind, unsigned flags)
{
	const struct globals *g = &p->now;
	uint32_t *used = &p->used[kind][g->report];
	struct hid_field *f;
	const char *why;

	if (g->bits > BITS_MAX)
		return "an element of more than 256 bits";
	if (g->bits > 0 && g->count > (HID_REPORT_MAX * 8U - *used) / g->bits)
		return "a report of more than 4096 bytes";
	/* a pop may bring back the time before the first report ID */
	if (p->any_id && g->report == 0)
		return "a field without a report ID";
	p->any_bare = !p->any_id;
	if (g->bits == 0 || g->count == 0)
		return NULL;
	if (p->l->field_count == HID_FIELDS_MAX)
		return "too many fields";
	f = &p->l->fields[p->l->field_count];
	memset(f, 0, sizeof(*f));
	f->kind = kind;
	f->flags = flags;
	f->report = g->report;
	f->at = *used;
	f->bits = g->bits;
	f->count = g->count;
	f->min = g->min;
	f->max = logical_max(g);
	f->unit = g->unit;
	f->unit_exponent = g->unit_exponent;
	f->collection = p->depth == 0 ? -1 : p->open[p->depth - 1];
	if ((flags & HID_CONSTANT) == 0 && f->min > f->max)
		return "a logical minimum above the maximum";
	if ((why = take_usages(p, f)) != NULL)
		return why;
	*used += g->bits * g->count;
	p->l->field_count++;
	return NULL;
}

static const char *
main_item(struct parser *p, const struct item *it)
{
	const char *why;

	if (p->low_size != 0 || p->high_size != 0)
		return "half of a usage range";
	if (p->alternatives)
		return "a delimiter that is not closed";
	switch (it->tag) {
	case MAIN_INPUT:
		why = add_field(p, HID_INPUT, it->raw);
		break;
	case MAIN_OUTPUT:
		why = add_field(p, HID_OUTPUT, it->raw);
		break;
	case MAIN_FEATURE:
		why = add_field(p, HID_FEATURE, it->raw);
		break;
	case MAIN_COLLECTION:
		why = open_collection(p);
		break;
	case MAIN_END:
		why = p->depth == 0 ? "an end without a collection" : NULL;
		if (why == NULL)
			p->depth--;
		break;
	default:
		why = "a main item that HID 1.11 does not know";
		break;
	}
	forget_locals(p);
	return why;
}

/* --- Items -----------------------------------------------------------------
 */

/* Bytes the item takes, 0 when it is cut short. */
static size_t
read_item(struct item *it, const uint8_t *b, size_t left)
{
	static const size_t sizes[] = { 0, 1, 2, 4 };
	uint32_t top;
	size_t i;

	it->type = b[0] >> 2 & 3;
	it->tag = b[0] >> 4;
	it->size = sizes[b[0] & 3];
	it->raw = 0;
	it->value = 0;
	if (left < 1 + it->size)
		return 0;
	for (i = 0; i < it->size; i++)
		it->raw |= (uint32_t)b[1 + i] << (8 * i);
	if (it->size == 0)
		return 1;
	top = UINT32_C(1) << (8 * it->size - 1);
	it->value = (it->raw & top) != 0
	    ? (int32_t)((int64_t)it->raw - 2 * (int64_t)top)
	    : (int32_t)it->raw;
	return 1 + it->size;
}

/* 6.2.2.3: no long item is defined; they are stepped over. */
static size_t
long_item(const uint8_t *b, size_t left)
{
	if (left < 3 || left < 3U + b[1])
		return 0;
	return 3U + b[1];
}

static enum rc
read_all(struct parser *p, const uint8_t *bytes, size_t len, struct err *err)
{
	const char *why;
	struct item it;
	size_t at, n;

	for (at = 0; at < len; at += n) {
		if (bytes[at] == LONG_ITEM) {
			if ((n = long_item(bytes + at, len - at)) == 0)
				return bad(err, at, "cut short");
			continue;
		}
		if ((n = read_item(&it, bytes + at, len - at)) == 0)
			return bad(err, at, "cut short");
		why = NULL;
		if (it.type == TYPE_MAIN)
			why = main_item(p, &it);
		else if (it.type == TYPE_GLOBAL)
			why = global_item(p, &it);
		else if (it.type == TYPE_LOCAL)
			why = local_item(p, &it);
		if (why != NULL)
			return bad(err, at, why);
	}
	if (p->depth > 0)
		return bad(err, len, "a collection that is not closed");
	return RC_OK;
}

enum rc
hid_report_parse(
    struct hid_layout *out, const uint8_t *bytes, size_t len, struct err *err)
{
	struct parser p;
	enum rc rc;

	memset(&p, 0, sizeof(p));
	memset(out, 0, sizeof(*out));
	if (len == 0 || len > HID_DESCRIPTOR_MAX)
		return err_set(err, RC_INVALID, 0,
		    "HID report descriptor: %zu bytes, 1 to %d can be", len,
		    HID_DESCRIPTOR_MAX);
	p.l = out;
	rc = read_all(&p, bytes, len, err);
	out->ids = p.any_id;
	if (rc != RC_OK)
		memset(out, 0, sizeof(*out));
	return rc;
}

/* --- What was read ---------------------------------------------------------
 */

size_t
hid_report_length(
    const struct hid_layout *l, enum hid_kind kind, uint8_t report)
{
	const struct hid_field *f;
	uint32_t bits = 0;
	size_t i;

	for (i = 0; i < l->field_count; i++) {
		f = &l->fields[i];
		if (f->kind == kind && f->report == report)
			bits = f->at + f->bits * f->count;
	}
	return bits == 0 ? 0 : (bits + 7) / 8 + (l->ids ? 1 : 0);
}

uint32_t
hid_report_usage(
    const struct hid_layout *l, const struct hid_field *f, uint32_t n)
{
	const struct hid_usages *u;
	size_t i;

	for (i = 0; i < f->usages; i++) {
		u = &l->usages[f->usage + i];
		if (n <= u->last - u->first)
			return u->first + n;
		n -= u->last - u->first + 1;
	}
	if (f->usages == 0 || (f->flags & HID_VARIABLE) == 0)
		return 0;
	return l->usages[f->usage + f->usages - 1].last;
}

bool
hid_report_within(
    const struct hid_layout *l, const struct hid_field *f, uint32_t usage)
{
	int c;

	for (c = f->collection; c >= 0; c = l->collections[c].parent)
		if (l->collections[c].usage == usage)
			return true;
	return false;
}

bool
hid_report_value(int64_t *out, const struct hid_layout *l,
    const struct hid_field *f, uint32_t n, const uint8_t *report, size_t len)
{
	uint64_t at = (uint64_t)f->at + (uint64_t)f->bits * n;
	uint64_t raw = 0;
	uint32_t i;

	if (l->ids) {
		if (len == 0 || report[0] != f->report)
			return false;
		report++;
		len--;
	}
	if (n >= f->count || f->bits > 32 || at + f->bits > (uint64_t)len * 8)
		return false;
	/* Little-endian in bytes and in bits (5.8). */
	for (i = 0; i < f->bits; i++, at++)
		raw |= (uint64_t)(report[at / 8] >> at % 8 & 1) << i;
	*out = (int64_t)raw;
	if (f->min < 0 && (raw >> (f->bits - 1) & 1) != 0)
		*out -= INT64_C(1) << f->bits;
	return true;
}
