/* received.c - what came in as a sortable table, out and in. */
#include "exchange/received.h"

#include <inttypes.h>
#include <stddef.h>
#include <stdlib.h>
#include <string.h>

#include "base/clock.h"
#include "base/jsonw.h"
#include "base/str.h"

enum cell {
	CELL_TEXT,   /* a text field of `size` */
	CELL_CODE,   /* a batch code */
	CELL_DAY,    /* YYYY-MM-DD; empty for DAY_NONE */
	CELL_MOMENT, /* RFC 3339 with the offset that was kept */
	CELL_TIME,   /* RFC 3339 in the kitchen's zone */
	CELL_COUNT,  /* empty for 0 */
	CELL_KG,     /* grams as kilograms, three decimals */
	CELL_UNIT,   /* kg, always */
	CELL_TEMP,   /* tenths of a degree as degrees */
	CELL_SIZE,   /* an int; empty for 0 */
	CELL_PRICE,  /* smallest coins; empty for -1 */
	CELL_PRESENTATION,
	CELL_DECISION,
	CELL_YES, /* yes, no */
};

#define IN(field)                                                              \
	offsetof(struct received, field),                                      \
	    sizeof(((const struct received *)0)->field)

/* Which law asks for which stands in docs/files.md. */
static const struct column {
	const char *name;
	enum cell cell;
	size_t offset, size;
} columns[] = {
	{ "received", CELL_MOMENT, IN(batch.received) },
	{ "batch", CELL_CODE, IN(batch.code) },
	{ "lot", CELL_TEXT, IN(batch.lot) },
	{ "quantity", CELL_KG, IN(batch.weight_g) },
	{ "unit", CELL_UNIT, 0, 0 },
	{ "fish", CELL_COUNT, IN(batch.count) },
	{ "species", CELL_TEXT, IN(batch.species) },
	{ "name", CELL_TEXT, IN(name) },
	{ "scientific_name", CELL_TEXT, IN(scientific) },
	{ "presentation", CELL_PRESENTATION, IN(batch.presentation) },
	{ "method", CELL_TEXT, IN(batch.method) },
	{ "area", CELL_TEXT, IN(batch.area) },
	{ "gear", CELL_TEXT, IN(batch.gear) },
	{ "vessel_or_farm", CELL_TEXT, IN(batch.vessel) },
	{ "caught", CELL_DAY, IN(batch.caught_day) },
	{ "dispatched", CELL_DAY, IN(batch.dispatched_day) },
	{ "supplier", CELL_TEXT, IN(batch.supplier.code) },
	{ "supplier_name", CELL_TEXT, IN(batch.supplier.name) },
	{ "supplier_address", CELL_TEXT, IN(batch.supplier.address) },
	{ "supplier_approval", CELL_TEXT, IN(batch.supplier.approval) },
	{ "supplier_contact", CELL_TEXT, IN(batch.supplier.contact) },
	{ "document", CELL_TEXT, IN(batch.document) },
	{ "received_at", CELL_TEXT, IN(kitchen) },
	{ "temperature_c", CELL_TEMP, IN(batch.temp_dc) },
	{ "supplier_use_by", CELL_DAY, IN(batch.supplier_use_by) },
	{ "use_by", CELL_TIME, IN(batch.use_by_utc) },
	{ "decision", CELL_DECISION, IN(batch.decision) },
	{ "note", CELL_TEXT, IN(batch.note) },
	{ "grade", CELL_TEXT, IN(batch.grade) },
	{ "smallest", CELL_SIZE, IN(batch.size) },
	{ "price", CELL_PRICE, IN(batch.price) },
	{ "struck", CELL_YES, IN(batch.struck) },
	{ "by", CELL_TEXT, IN(batch.received.by) },
	{ "missing_21_cfr_1_1345", CELL_TEXT, IN(missing_1345) },
	{ "missing_eu_931_2011", CELL_TEXT, IN(missing_931) },
	{ "missing_eu_1379_2013", CELL_TEXT, IN(missing_1379) },
};

#define COLUMNS (sizeof(columns) / sizeof(columns[0]))
_Static_assert(COLUMNS <= RECEIVED_COLUMNS_MAX, "more columns than said");
_Static_assert(COLUMNS <= CSV_COLUMNS_MAX, "more columns than can be read");

const char *const *
received_columns(void)
{
	static const char *names[COLUMNS + 1];
	size_t i;

	for (i = 0; i < COLUMNS; i++)
		names[i] = columns[i].name;
	return names;
}

/* --- out -------------------------------------------------------------------*/

static void
put_int(char dst[RECEIVED_CELL_MAX], int64_t v)
{
	str_fmt(dst, RECEIVED_CELL_MAX, "%" PRId64, v);
}

/* Degrees with a sign for -0.5 too. */
static void
put_temp(char dst[RECEIVED_CELL_MAX], int tenths)
{
	int v = tenths < 0 ? -tenths : tenths;

	str_fmt(dst, RECEIVED_CELL_MAX, "%s%d.%d", tenths < 0 ? "-" : "",
	    v / 10, v % 10);
}

static void
put_number(char dst[RECEIVED_CELL_MAX], const struct received *r,
    const struct column *c)
{
	const char *at = (const char *)r + c->offset;
	const struct batch *b = &r->batch;

	if (c->cell == CELL_KG)
		str_fmt(dst, RECEIVED_CELL_MAX, "%" PRId64 ".%03" PRId64,
		    b->weight_g / 1000, b->weight_g % 1000);
	else if (c->cell == CELL_COUNT && b->count > 0)
		put_int(dst, b->count);
	else if (c->cell == CELL_TEMP)
		put_temp(dst, b->temp_dc);
	else if (c->cell == CELL_SIZE && b->size > 0)
		put_int(dst, b->size);
	else if (c->cell == CELL_PRICE && b->price >= 0)
		put_int(dst, b->price);
	else if (c->cell == CELL_YES)
		str_copy(dst, RECEIVED_CELL_MAX,
		    *(const bool *)(const void *)at ? "yes" : "no");
}

void
received_cell(
    char dst[RECEIVED_CELL_MAX], const struct received *r, size_t column)
{
	const struct column *c = &columns[column];
	const void *at = (const char *)r + c->offset;
	const struct batch *b = &r->batch;
	day_no day;

	dst[0] = '\0';
	switch (c->cell) {
	case CELL_TEXT:
		str_copy(dst, RECEIVED_CELL_MAX, at);
		break;
	case CELL_CODE:
		code_show(dst, b->code);
		break;
	case CELL_DAY:
		memcpy(&day, at, sizeof(day));
		if (day != DAY_NONE)
			day_print(dst, RECEIVED_CELL_MAX, day);
		break;
	case CELL_MOMENT:
		time_rfc3339_at(dst, RECEIVED_CELL_MAX, b->received.utc,
		    b->received.offset_min);
		break;
	case CELL_TIME:
		time_rfc3339(dst, RECEIVED_CELL_MAX, b->use_by_utc);
		break;
	case CELL_UNIT:
		str_copy(dst, RECEIVED_CELL_MAX, "kg");
		break;
	case CELL_PRESENTATION:
		str_copy(
		    dst, RECEIVED_CELL_MAX, presentation_word(b->presentation));
		break;
	case CELL_DECISION:
		str_copy(dst, RECEIVED_CELL_MAX, decision_word(b->decision));
		break;
	case CELL_COUNT:
	case CELL_KG:
	case CELL_TEMP:
	case CELL_SIZE:
	case CELL_PRICE:
	case CELL_YES:
		put_number(dst, r, c);
		break;
	}
}

void
received_head(struct buf *out)
{
	size_t i;

	for (i = 0; i < COLUMNS; i++)
		buf_printf(out, "%s%s", i > 0 ? "," : "", columns[i].name);
	buf_puts(out, "\r\n");
}

void
received_row(struct buf *out, const struct received *r)
{
	char cell[RECEIVED_CELL_MAX];
	size_t i;

	for (i = 0; i < COLUMNS; i++) {
		received_cell(cell, r, i);
		if (i > 0)
			buf_putc(out, ',');
		csv_quote(out, cell);
	}
	buf_puts(out, "\r\n");
}

/* --- in --------------------------------------------------------------------*/

static enum rc
take_day(void *at, const char *name, const char *s, struct err *err)
{
	day_no day = DAY_NONE;
	enum rc rc = s[0] == '\0' ? RC_OK : day_parse(&day, name, s, err);

	memcpy(at, &day, sizeof(day));
	return rc;
}

/* An instant, which must say its offset; *offset in minutes. */
static enum rc
take_time(
    int64_t *utc, int *offset, const char *name, const char *s, struct err *err)
{
	size_t len = strlen(s);
	enum rc rc = time_parse(utc, name, s, err);

	if (rc != RC_OK)
		return rc;
	if (len > 0 && s[len - 1] == 'Z') {
		*offset = 0;
		return RC_OK;
	}
	if (len < 17 || (s[len - 6] != '+' && s[len - 6] != '-'))
		return err_set(err, RC_INVALID, 0,
		    "%s \"%.40s\" must end with its offset, +01:00 or Z", name,
		    s);
	*offset = ((s[len - 5] - '0') * 10 + s[len - 4] - '0') * 60 +
	    (s[len - 2] - '0') * 10 + s[len - 1] - '0';
	if (s[len - 6] == '-')
		*offset = -*offset;
	return RC_OK;
}

/* A number with so many decimals, or `none` when the cell is empty. */
static enum rc
take_number(int64_t *out, const char *name, const char *s, int scale,
    int64_t none, struct err *err)
{
	*out = none;
	return s[0] == '\0' ? RC_OK : decimal_parse(out, name, s, scale, err);
}

static enum rc
take_counted(
    struct batch *b, const struct column *c, const char *s, struct err *err)
{
	int64_t v;
	enum rc rc;

	if (c->cell == CELL_KG) {
		rc = decimal_parse(&v, c->name, s, 3, err);
		if (rc == RC_OK && v <= 0)
			return err_set(err, RC_INVALID, 0,
			    "quantity \"%.40s\" must be above 0", s);
		b->weight_g = rc == RC_OK ? v : 0;
		return rc;
	}
	if (c->cell == CELL_TEMP) {
		rc = temp_parse(&b->temp_dc, c->name, s, err);
		return rc;
	}
	rc =
	    take_number(&v, c->name, s, 0, c->cell == CELL_PRICE ? -1 : 0, err);
	if (rc != RC_OK)
		return rc;
	if (v < (c->cell == CELL_PRICE ? -1 : 0) || v > INT32_MAX)
		return err_set(err, RC_INVALID, 0,
		    "%s \"%.40s\" is out of range", c->name, s);
	if (c->cell == CELL_COUNT)
		b->count = v;
	else if (c->cell == CELL_SIZE)
		b->size = (int)v;
	else
		b->price = v;
	return RC_OK;
}

static enum rc
take_word(
    struct batch *b, const struct column *c, const char *s, struct err *err)
{
	int d;

	if (c->cell == CELL_PRESENTATION)
		return presentation_parse(&b->presentation, s, err);
	if (c->cell == CELL_UNIT) {
		if (str_eq(s, "kg"))
			return RC_OK;
		return err_set(
		    err, RC_INVALID, 0, "unit \"%.20s\" must be kg", s);
	}
	if (c->cell == CELL_YES) {
		b->struck = str_eq(s, "yes");
		if (b->struck || str_eq(s, "no"))
			return RC_OK;
		return err_set(err, RC_INVALID, 0,
		    "%s \"%.20s\" must be yes or no", c->name, s);
	}
	for (d = DECISION_ACCEPTED; d <= DECISION_REFUSED; d++)
		if (str_eq(s, decision_word((enum decision)d))) {
			b->decision = (enum decision)d;
			return RC_OK;
		}
	return err_set(err, RC_INVALID, 0,
	    "decision \"%.20s\" must be accepted, noted or refused", s);
}

static enum rc
take_code(struct batch *b, const char *s, struct err *err)
{
	enum code_kind kind;
	enum rc rc = code_parse(&kind, b->code, s, err);

	if (rc == RC_OK && kind != CODE_BATCH)
		rc = err_set(err, RC_INVALID, 0,
		    "\"%.20s\" is the code of a portion, not of a batch", s);
	return rc;
}

static enum rc
take_cell(struct received *r, const struct column *c, const struct csv *csv,
    struct err *err)
{
	const char *s = csv_get(csv, c->name);
	void *at = (char *)r + c->offset;
	struct batch *b = &r->batch;
	int offset;

	switch (c->cell) {
	case CELL_TEXT:
		return csv_text(at, c->size, csv, c->name, true, err);
	case CELL_CODE:
		return take_code(b, s, err);
	case CELL_DAY:
		return take_day(at, c->name, s, err);
	case CELL_MOMENT:
		return take_time(
		    &b->received.utc, &b->received.offset_min, c->name, s, err);
	case CELL_TIME:
		return take_time(&b->use_by_utc, &offset, c->name, s, err);
	case CELL_COUNT:
	case CELL_KG:
	case CELL_TEMP:
	case CELL_SIZE:
	case CELL_PRICE:
		return take_counted(b, c, s, err);
	case CELL_UNIT:
	case CELL_PRESENTATION:
	case CELL_DECISION:
	case CELL_YES:
		return take_word(b, c, s, err);
	}
	return RC_OK;
}

enum rc
received_read(struct received *out, const struct csv *c, struct err *err)
{
	size_t i;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	for (i = 0; i < COLUMNS; i++) {
		rc = take_cell(out, &columns[i], c, err);
		if (rc != RC_OK && columns[i].cell == CELL_TEXT)
			return rc; /* says the place already */
		if (rc != RC_OK)
			return csv_fail(c, columns[i].name, rc, err);
	}
	return RC_OK;
}

/* --- what the laws miss ----------------------------------------------------*/

static void
add_field(char *dst, size_t size, const char *field)
{
	size_t n = strlen(dst);

	str_fmt(dst + n, size - n, "%s%s", n > 0 ? ", " : "", field);
}

void
received_missing(struct received *r, const char *judgement)
{
	static const struct {
		const char *begins;
		size_t offset;
	} laws[] = {
		{ "21 CFR 1.1345", offsetof(struct received, missing_1345) },
		{ "Reg. (EU) 931/", offsetof(struct received, missing_931) },
		{ "Reg. (EU) 1379/", offsetof(struct received, missing_1379) },
	};
	const size_t n = sizeof(laws) / sizeof(laws[0]);
	const size_t size = sizeof(r->missing_931);
	struct jsonr *doc = jsonr_open(judgement);
	const struct jsonr *line;
	const char *rule;
	char *dst;
	size_t i, k;

	/* Taken in before the station looked: not known is not complete. */
	bool judged =
	    doc != NULL && strstr(judgement, "papers_missing") != NULL;

	for (k = 0; k < n; k++) {
		dst = (char *)r + laws[k].offset;
		dst[0] = '\0';
		for (i = 0; judged &&
		     (line = jsonr_item(doc, "papers_missing", i)) != NULL;
		     i++) {
			rule = jsonr_str(line, "rule");
			if (strncmp(rule, laws[k].begins,
				strlen(laws[k].begins)) == 0)
				add_field(dst, size, jsonr_str(line, "field"));
		}
		if (dst[0] == '\0')
			str_copy(dst, size, judged ? "none" : "?");
	}
	jsonr_close(doc);
}
