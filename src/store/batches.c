/* batches.c - what came in and what is left of it. */
#include "store/batches.h"

#include <stdlib.h>
#include <string.h>

#include "base/str.h"
#include "stmt.h"
#include "store/floors.h"

static const char *const decision_words[] = {
	[DECISION_ACCEPTED] = "accepted",
	[DECISION_NOTED] = "noted",
	[DECISION_REFUSED] = "refused",
};

const char *
decision_word(enum decision d)
{
	return decision_words[d];
}

static enum decision
decision_from(const char *word)
{
	if (str_eq(word, "accepted"))
		return DECISION_ACCEPTED;
	if (str_eq(word, "noted"))
		return DECISION_NOTED;
	return DECISION_REFUSED;
}

/* Highest running number given out for codes beginning with YYDDD. */
static enum rc
last_number(int *out, struct store *st, day_no day, struct err *err)
{
	struct civil c = day_civil(day);
	char low[CODE_SIZE], high[CODE_SIZE], code[CODE_SIZE] = "";
	struct stmt q;
	int64_t n = 0;
	enum rc rc;

	str_fmt(low, sizeof(low), "%02d%03d", c.year % 100, day_of_year(day));
	str_fmt(high, sizeof(high), "%s:", low); /* ':' follows '9' */
	rc = stmt_open(&q, st,
	    "SELECT code FROM batch WHERE code >= :low AND code < :high"
	    " ORDER BY code DESC LIMIT 1",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_text(&q, ":low", low);
	bind_text(&q, ":high", high);
	rc = stmt_step(&q, err);
	if (rc == RC_OK)
		col_text(code, sizeof(code), &q, 0);
	stmt_close(&q);
	if (rc != RC_OK && rc != RC_END)
		return rc;
	if (code[0] != '\0') {
		code[BATCH_CODE_LEN - 1] = '\0';
		rc =
		    int_parse(&n, "number", code + 5, 0, BATCH_NUMBER_MAX, err);
		if (rc != RC_OK)
			return rc;
	}
	*out = (int)n;
	return RC_OK;
}

enum rc
batch_insert(struct store *st, struct batch *b, day_no day,
    const char *use_by_why, const char *judgement, struct err *err)
{
	struct stmt q;
	int64_t floor = 0;
	int last = 0;
	enum rc rc;

	if ((rc = last_number(&last, st, day, err)) != RC_OK ||
	    (rc = code_floor(&floor, st, day, err)) != RC_OK)
		return rc;
	if (floor > last)
		last = (int)floor;
	if (last >= BATCH_NUMBER_MAX ||
	    batch_code_make(b->code, day, last + 1) == 0)
		return err_set(err, RC_REFUSED, 0,
		    "no batch number is left for this day: take lots of one "
		    "supplier and species in as one batch");
	rc = stmt_open(&q, st,
	    "INSERT INTO batch (code, delivery_id, species, presentation,"
	    " count, weight_g, lot, temp_dc, area, method, gear, caught_day,"
	    " supplier_use_by_day, decision, open, note, received_utc,"
	    " received_offset_min, use_by_utc, use_by_why, by, vessel,"
	    " dispatched_day, size, grade, judgement, price)"
	    " VALUES (:code, :delivery, :species, :presentation, :count,"
	    " :weight, :lot, :temp, :area, :method, :gear, :caught, :supplier,"
	    " :decision, :open, :note, :received, :offset, :use_by, :why, :by,"
	    " :vessel, :dispatched, :size, :grade, :judgement,"
	    " nullif(:price, -1))",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_text(&q, ":code", b->code);
	bind_int(&q, ":delivery", b->delivery_id);
	bind_text(&q, ":species", b->species);
	bind_text(&q, ":presentation", presentation_word(b->presentation));
	bind_int(&q, ":count", b->count);
	bind_int(&q, ":weight", b->weight_g);
	bind_text(&q, ":lot", b->lot);
	bind_int(&q, ":temp", b->temp_dc);
	bind_text(&q, ":area", b->area);
	bind_text(&q, ":method", b->method);
	bind_text(&q, ":gear", b->gear);
	bind_day(&q, ":caught", b->caught_day);
	bind_day(&q, ":supplier", b->supplier_use_by);
	bind_text(&q, ":decision", decision_word(b->decision));
	bind_int(&q, ":open", b->decision != DECISION_REFUSED);
	bind_text(&q, ":note", b->note);
	bind_int(&q, ":received", b->received.utc);
	bind_int(&q, ":offset", b->received.offset_min);
	bind_int(&q, ":use_by", b->use_by_utc);
	bind_text(&q, ":why", use_by_why);
	bind_text(&q, ":by", b->received.by);
	bind_text(&q, ":vessel", b->vessel);
	bind_day(&q, ":dispatched", b->dispatched_day);
	bind_id(&q, ":size", b->size);
	bind_text(&q, ":grade", b->grade);
	bind_text(&q, ":judgement", judgement);
	bind_int(&q, ":price", b->price);
	if ((rc = stmt_run(&q, err)) == RC_OK)
		b->id = last_id(st);
	return rc;
}

#define BATCH_COLUMNS                                                          \
	"SELECT b.id, b.code, b.delivery_id, b.species, b.presentation,"       \
	" b.count, b.weight_g, b.lot, b.temp_dc, b.area, b.method, b.gear,"    \
	" b.caught_day, b.supplier_use_by_day, b.decision, b.note,"            \
	" b.received_utc, b.received_offset_min, b.use_by_utc, b.by,"          \
	" l.count, l.weight_g,"                                                \
	" (SELECT u.held FROM held_batch u WHERE u.batch_id = b.id),"          \
	" s.id, s.code, s.name, s.address, s.approval, s.contact, d.document," \
	" b.vessel, b.dispatched_day, b.size, b.grade, coalesce(b.price, -1)," \
	" EXISTS (SELECT 1 FROM batch_event e"                                 \
	"  WHERE e.batch_id = b.id AND e.kind = 'struck')"                     \
	" FROM batch b JOIN batch_left l ON l.batch_id = b.id"                 \
	" JOIN delivery d ON d.id = b.delivery_id"                             \
	" JOIN supplier s ON s.id = d.supplier_id "

static enum rc
read_batch(void *item, const struct stmt *q, struct err *err)
{
	struct batch *b = item;
	char word[24];
	enum rc rc;

	memset(b, 0, sizeof(*b));
	b->id = col_int(q, 0);
	col_text(b->code, sizeof(b->code), q, 1);
	b->delivery_id = col_int(q, 2);
	col_text(b->species, sizeof(b->species), q, 3);
	col_text(word, sizeof(word), q, 4);
	if ((rc = presentation_parse(&b->presentation, word, err)) != RC_OK)
		return rc;
	b->count = col_in(q, 5, 0, COL_INT_MAX);
	b->weight_g = col_in(q, 6, 1, COL_INT_MAX);
	col_text(b->lot, sizeof(b->lot), q, 7);
	b->temp_dc = (int)col_int(q, 8);
	col_text(b->area, sizeof(b->area), q, 9);
	col_text(b->method, sizeof(b->method), q, 10);
	col_text(b->gear, sizeof(b->gear), q, 11);
	b->caught_day = col_day(q, 12);
	b->supplier_use_by = col_day(q, 13);
	col_text(word, sizeof(word), q, 14);
	b->decision = decision_from(word);
	col_text(b->note, sizeof(b->note), q, 15);
	b->received.utc = col_int(q, 16);
	b->received.offset_min = (int)col_int(q, 17);
	b->use_by_utc = col_int(q, 18);
	col_text(b->received.by, sizeof(b->received.by), q, 19);
	b->count_left = col_int(q, 20);
	b->weight_left = col_int(q, 21);
	b->held = col_int(q, 22) != 0;
	b->supplier.id = col_int(q, 23);
	col_text(b->supplier.code, sizeof(b->supplier.code), q, 24);
	col_text(b->supplier.name, sizeof(b->supplier.name), q, 25);
	col_text(b->supplier.address, sizeof(b->supplier.address), q, 26);
	col_text(b->supplier.approval, sizeof(b->supplier.approval), q, 27);
	col_text(b->supplier.contact, sizeof(b->supplier.contact), q, 28);
	col_text(b->document, sizeof(b->document), q, 29);
	col_text(b->vessel, sizeof(b->vessel), q, 30);
	b->dispatched_day = col_day(q, 31);
	b->size = (int)col_int(q, 32);
	col_text(b->grade, sizeof(b->grade), q, 33);
	b->price = col_int(q, 34);
	b->struck = col_int(q, 35) != 0;
	return RC_OK;
}

enum rc
batch_get(
    struct batch *out, struct store *st, const char *code, struct err *err)
{
	char shown[CODE_SIZE];
	struct stmt q;
	enum rc rc;

	rc = stmt_open(&q, st, BATCH_COLUMNS "WHERE b.code = :code", err);
	if (rc != RC_OK)
		return rc;
	bind_text(&q, ":code", code);
	rc = stmt_step(&q, err);
	if (rc == RC_OK)
		rc = read_batch(out, &q, err);
	stmt_close(&q);
	if (rc == RC_END)
		return err_set(err, RC_NOTFOUND, 0,
		    "batch %s is not in this station file",
		    code_show(shown, code));
	return rc;
}

enum rc
batch_by_id(struct batch *out, struct store *st, int64_t id, struct err *err)
{
	struct stmt q;
	enum rc rc;

	rc = stmt_open(&q, st, BATCH_COLUMNS "WHERE b.id = :id", err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":id", id);
	rc = stmt_step(&q, err);
	if (rc == RC_OK)
		rc = read_batch(out, &q, err);
	stmt_close(&q);
	return rc == RC_END ? err_set(err, RC_FATAL, 0,
				  "the file names a batch that it does not "
				  "have: restore a backup")
			    : rc;
}

enum rc
batch_list_open(struct batch_list *out, struct store *st, struct err *err)
{
	struct stmt q;
	void *rows;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	rc = stmt_open(&q, st,
	    /* all of a partial index that holds only open batches */
	    BATCH_COLUMNS SCAN_OK
	    "WHERE b.open = 1 ORDER BY b.use_by_utc, b.received_utc, b.code",
	    err);
	if (rc != RC_OK)
		return rc;
	rc = stmt_rows(
	    &rows, &out->count, sizeof(*out->items), &q, read_batch, err);
	out->items = rows;
	return rc;
}

/* Of a day, by an order of codes that has a LIMIT of :most. */
static enum rc
list_day(struct batch_list *out, struct store *st, const char *sql, day_no day,
    size_t most, struct err *err)
{
	struct civil c = day_civil(day);
	char from[CODE_SIZE], to[CODE_SIZE];
	struct stmt q;
	void *rows;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	/* A code begins with its day but for the century. */
	str_fmt(from, sizeof(from), "%02d%03d", c.year % 100, day_of_year(day));
	str_fmt(to, sizeof(to), "%s:", from);
	if ((rc = stmt_open(&q, st, sql, err)) != RC_OK)
		return rc;
	bind_text(&q, ":from", from);
	bind_text(&q, ":to", to);
	bind_day(&q, ":day", day);
	bind_int(&q, ":most", (int64_t)most);
	rc = stmt_rows(
	    &rows, &out->count, sizeof(*out->items), &q, read_batch, err);
	out->items = rows;
	return rc;
}

#define OF_DAY "WHERE b.code >= :from AND b.code < :to AND d.day = :day"

enum rc
batch_list_day(
    struct batch_list *out, struct store *st, day_no day, struct err *err)
{
	return list_day(out, st,
	    BATCH_COLUMNS OF_DAY " ORDER BY b.code LIMIT :most", day,
	    BATCH_NUMBER_MAX, err);
}

enum rc
batch_list_newest(struct batch_list *out, struct store *st, day_no day,
    size_t most, struct err *err)
{
	return list_day(out, st,
	    BATCH_COLUMNS OF_DAY " ORDER BY b.code DESC LIMIT :most", day, most,
	    err);
}

void
batch_list_fini(struct batch_list *l)
{
	free(l->items);
	memset(l, 0, sizeof(*l));
}

/* One text column of a batch that is there. */
static enum rc
batch_text(
    char **out, struct store *st, const char *sql, int64_t id, struct err *err)
{
	struct stmt q;
	enum rc rc;

	if ((rc = stmt_open(&q, st, sql, err)) != RC_OK)
		return rc;
	bind_int(&q, ":id", id);
	rc = stmt_step(&q, err);
	if (rc == RC_OK)
		*out = col_dup(&q, 0);
	stmt_close(&q);
	return rc == RC_END ? row_gone(st, err) : rc;
}

enum rc
batch_why(char **out, struct store *st, int64_t id, struct err *err)
{
	return batch_text(
	    out, st, "SELECT use_by_why FROM batch WHERE id = :id", id, err);
}

enum rc
batch_judgement(char **out, struct store *st, int64_t id, struct err *err)
{
	return batch_text(
	    out, st, "SELECT judgement FROM batch WHERE id = :id", id, err);
}

enum rc
batch_mark(struct store *st, int64_t id, const char *attribute,
    const char *grade, struct err *err)
{
	struct stmt q;
	enum rc rc;

	rc = stmt_open(&q, st,
	    "INSERT INTO freshness_mark (batch_id, attribute, grade)"
	    " VALUES (:batch, :attribute, :grade)",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":batch", id);
	bind_text(&q, ":attribute", attribute);
	bind_text(&q, ":grade", grade);
	return stmt_run(&q, err);
}

enum rc
batch_shut(struct store *st, int64_t id, struct err *err)
{
	struct stmt q;
	enum rc rc;

	rc = stmt_open(&q, st,
	    "UPDATE batch SET open = 0 WHERE id = :id AND EXISTS"
	    " (SELECT 1 FROM batch_left l WHERE l.batch_id = :id AND"
	    "  (l.weight_g <= 0 OR (batch.count > 0 AND l.count <= 0)))",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":id", id);
	return stmt_run(&q, err);
}
