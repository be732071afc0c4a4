/* portions.c - labelled units, and what became of them. */
#include "store/portions.h"

#include <stdlib.h>
#include <string.h>

#include "base/day.h"
#include "base/str.h"
#include "stmt.h"
#include "store/floors.h"
#include "units_sql.h"

enum rc
portion_last_serial(int64_t *out, struct store *st, struct err *err)
{
	struct stmt q;
	int64_t floor = 0;
	enum rc rc;

	if ((rc = code_floor(&floor, st, DAY_NONE, err)) != RC_OK)
		return rc;
	rc = stmt_open(
	    &q, st, "SELECT coalesce(max(serial), 0) FROM portion", err);
	if (rc != RC_OK)
		return rc;
	if ((rc = stmt_step(&q, err)) == RC_OK)
		*out = col_int(&q, 0) > floor ? col_int(&q, 0) : floor;
	stmt_close(&q);
	return rc;
}

const char *
keep_word(enum portion_keep k)
{
	static const char *const words[] = {
		[KEEP_CHILLED] = "chilled",
		[KEEP_FROZEN] = "frozen",
		[KEEP_THAWED] = "thawed",
	};

	return words[k];
}

static enum portion_keep
keep_of(const struct portion *p)
{
	if (p->thawed_utc != 0)
		return KEEP_THAWED;
	return p->frozen_utc != 0 ? KEEP_FROZEN : KEEP_CHILLED;
}

enum rc
portion_insert(struct store *st, struct portion *p, const char *use_by_why,
    struct err *err)
{
	struct stmt q;
	int64_t serial = 0;
	enum rc rc;

	if ((rc = portion_last_serial(&serial, st, err)) != RC_OK)
		return rc;
	serial = portion_code_make(p->code, serial + 1);
	if (serial == 0)
		return err_set(err, RC_REFUSED, 0,
		    "no portion code is left in this station file");
	rc = stmt_open(&q, st,
	    "INSERT INTO portion (serial, code, prep_output_id, batch_id,"
	    " cut_id, servings, left, weight_g, made_utc, made_offset_min,"
	    " use_by_utc, use_by_why, frozen_utc, thawed_utc, prepared_utc,"
	    " by)"
	    " VALUES (:serial, :code, :output, :batch, :cut, :servings,"
	    " :servings, :weight, :made, :offset, :use_by, :why, :frozen,"
	    " :thawed, :prepared, :by)",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":serial", serial);
	bind_text(&q, ":code", p->code);
	bind_int(&q, ":output", p->prep_output_id);
	bind_int(&q, ":batch", p->batch_id);
	bind_int(&q, ":cut", p->cut_id);
	bind_int(&q, ":servings", p->servings);
	bind_int(&q, ":weight", p->weight_g);
	bind_int(&q, ":made", p->made.utc);
	bind_int(&q, ":offset", p->made.offset_min);
	bind_int(&q, ":use_by", p->use_by_utc);
	bind_text(&q, ":why", use_by_why);
	bind_id(&q, ":frozen", p->frozen_utc);
	bind_id(&q, ":thawed", p->thawed_utc);
	bind_id(&q, ":prepared",
	    p->prepared_utc == p->made.utc ? 0 : p->prepared_utc);
	bind_text(&q, ":by", p->made.by);
	if ((rc = stmt_run(&q, err)) == RC_OK) {
		p->id = last_id(st);
		p->left = p->servings;
		if (p->prepared_utc == 0)
			p->prepared_utc = p->made.utc;
		p->keep = keep_of(p);
	}
	return rc;
}

#define PORTION_COLUMNS                                                        \
	"SELECT p.id, p.code, p.prep_output_id, o.prep_id, p.batch_id,"        \
	" p.cut_id, p.servings, p.left, p.weight_g, p.made_utc,"               \
	" p.made_offset_min, p.by, p.use_by_utc, b.code, d.code, d.name,"      \
	" d.allergens, d.state, c.species,"                                    \
	" (SELECT u.held FROM held_unit u WHERE u.portion_id = p.id),"         \
	" c.dish_id, coalesce(p.frozen_utc, 0), coalesce(p.thawed_utc, 0),"    \
	" c.kind, EXISTS (SELECT 1 FROM prep_struck k"                         \
	"  WHERE k.prep_id = o.prep_id) OR EXISTS (SELECT 1"                   \
	"  FROM portion_event e WHERE e.portion_id = p.id"                     \
	"  AND e.kind = 'struck'),"                                            \
	" coalesce(p.prepared_utc, p.made_utc),"                               \
	" (SELECT count(*) FROM portion_source m WHERE m.portion_id = p.id),"  \
	" (SELECT group_concat(y.code) FROM portion_source m"                  \
	"  CROSS JOIN batch y ON y.id = m.batch_id WHERE m.portion_id = "      \
	"p.id),"                                                               \
	" EXISTS (SELECT 1 FROM portion_joined j WHERE j.portion_id = p.id)"   \
	" FROM portion p JOIN prep_output o ON o.id = p.prep_output_id"        \
	" JOIN batch b ON b.id = p.batch_id JOIN cut c ON c.id = p.cut_id"     \
	" JOIN dish d ON d.id = c.dish_id "

static enum rc
read_portion(void *item, const struct stmt *q, struct err *err)
{
	struct portion *p = item;
	char state[16], kind[16];
	enum rc rc;

	memset(p, 0, sizeof(*p));
	p->id = col_int(q, 0);
	col_text(p->code, sizeof(p->code), q, 1);
	p->prep_output_id = col_int(q, 2);
	p->prep_id = col_int(q, 3);
	p->batch_id = col_int(q, 4);
	p->cut_id = col_int(q, 5);
	p->servings = col_in(q, 6, 1, COL_INT_MAX);
	p->left = col_in(q, 7, 0, p->servings);
	p->weight_g = col_in(q, 8, 1, COL_INT_MAX);
	p->made.utc = col_int(q, 9);
	p->made.offset_min = (int)col_int(q, 10);
	col_text(p->made.by, sizeof(p->made.by), q, 11);
	p->use_by_utc = col_int(q, 12);
	col_text(p->batch, sizeof(p->batch), q, 13);
	col_text(p->dish, sizeof(p->dish), q, 14);
	col_text(p->dish_name, sizeof(p->dish_name), q, 15);
	col_text(p->allergens, sizeof(p->allergens), q, 16);
	col_text(state, sizeof(state), q, 17);
	col_text(p->species, sizeof(p->species), q, 18);
	p->held = col_int(q, 19) != 0;
	p->dish_id = col_int(q, 20);
	p->frozen_utc = col_int(q, 21);
	p->thawed_utc = col_int(q, 22);
	p->keep = keep_of(p);
	col_text(kind, sizeof(kind), q, 23);
	p->struck = col_int(q, 24) != 0;
	p->prepared_utc = col_int(q, 25);
	p->others = (int)col_int(q, 26);
	col_codes(p->also, sizeof(p->also), q, 27);
	p->joined = col_int(q, 28) != 0;
	if ((rc = cut_parse(&p->kind, kind, err)) != RC_OK)
		return rc;
	return food_state_parse(&p->state, state, err);
}

/* Read the one row of an open statement, and close it. */
static enum rc
read_one(struct portion *out, struct stmt *q, struct err *err)
{
	enum rc rc = stmt_step(q, err);

	if (rc == RC_OK)
		rc = read_portion(out, q, err);
	stmt_close(q);
	return rc;
}

enum rc
portion_get(
    struct portion *out, struct store *st, const char *code, struct err *err)
{
	char shown[CODE_SIZE];
	struct stmt q;
	enum rc rc;

	rc = stmt_open(&q, st, PORTION_COLUMNS "WHERE p.code = :code", err);
	if (rc != RC_OK)
		return rc;
	bind_text(&q, ":code", code);
	rc = read_one(out, &q, err);
	if (rc == RC_END)
		return err_set(err, RC_NOTFOUND, 0,
		    "portion %s is not in this station file",
		    code_show(shown, code));
	return rc;
}

enum rc
portion_older(struct portion *out, struct store *st, const struct portion *p,
    int64_t now_utc, struct err *err)
{
	struct stmt q;
	enum rc rc;

	rc = stmt_open(&q, st,
	    PORTION_COLUMNS
	    "WHERE p.left > 0 AND p.use_by_utc >= :now"
	    " AND (p.frozen_utc IS NULL OR p.thawed_utc IS NOT NULL)"
	    " AND p.use_by_utc <= :use_by AND d.code = :dish"
	    " AND c.species = :species AND p.id <> :id"
	    " AND (p.use_by_utc < :use_by"
	    "  OR coalesce(p.prepared_utc, p.made_utc) < :made)"
	    " AND NOT (SELECT u.held FROM held_unit u"
	    "  WHERE u.portion_id = p.id)"
	    " ORDER BY p.use_by_utc, coalesce(p.prepared_utc, p.made_utc),"
	    " p.serial LIMIT 1" SORT_OK,
	    err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":now", now_utc);
	bind_int(&q, ":use_by", p->use_by_utc);
	bind_text(&q, ":dish", p->dish);
	bind_text(&q, ":species", p->species);
	bind_int(&q, ":id", p->id);
	bind_int(&q, ":made", p->prepared_utc);
	rc = read_one(out, &q, err);
	return rc == RC_END ? RC_NOTFOUND : rc;
}

/* Collect every row of an open statement, and close it. */
static enum rc
read_all(struct portion_list *out, struct stmt *q, struct err *err)
{
	void *rows;
	enum rc rc;

	rc = stmt_rows(
	    &rows, &out->count, sizeof(*out->items), q, read_portion, err);
	out->items = rows;
	return rc;
}

enum rc
portion_list_on_hand(
    struct portion_list *out, struct store *st, struct err *err)
{
	struct stmt q;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	rc = stmt_open(&q, st,
	    /* all of a partial index that holds only units on hand */
	    PORTION_COLUMNS SCAN_OK
	    "WHERE p.left > 0 ORDER BY p.use_by_utc, p.made_utc, p.serial",
	    err);
	return rc != RC_OK ? rc : read_all(out, &q, err);
}

enum rc
portion_list_batch(struct portion_list *out, struct store *st, int64_t batch_id,
    struct err *err)
{
	struct stmt q;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	rc = stmt_open(&q, st,
	    PORTION_COLUMNS "WHERE p.id IN " UNITS_OF_BATCH
			    " ORDER BY p.serial" SORT_OK,
	    err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":batch", batch_id);
	return read_all(out, &q, err);
}

enum rc
portion_list_window(struct portion_list *out, struct store *st,
    int64_t batch_id, int64_t prep_id, size_t first, size_t most,
    struct err *err)
{
	struct stmt q;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	rc = stmt_open(&q, st,
	    PORTION_COLUMNS
	    "WHERE p.id IN " UNITS_OF_BATCH " AND " OF_PREP
	    " ORDER BY p.left = 0, CASE WHEN p.left > 0 THEN p.use_by_utc END,"
	    " p.serial LIMIT :most OFFSET :first" SORT_OK,
	    err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":batch", batch_id);
	bind_int(&q, ":prep", prep_id);
	bind_int(&q, ":most", (int64_t)most);
	bind_int(&q, ":first", (int64_t)first);
	return read_all(out, &q, err);
}

enum rc
portion_list_prep(struct portion_list *out, struct store *st, int64_t prep_id,
    struct err *err)
{
	struct stmt q;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	rc = stmt_open(&q, st,
	    PORTION_COLUMNS "WHERE o.prep_id = :prep AND NOT " IS_JOINED
			    " ORDER BY p.serial" SORT_OK,
	    err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":prep", prep_id);
	return read_all(out, &q, err);
}

void
portion_list_fini(struct portion_list *l)
{
	free(l->items);
	memset(l, 0, sizeof(*l));
}

static const char *const fate_words[] = {
	[FATE_USED] = "used",
	[FATE_DISCARDED] = "discarded",
	[FATE_MISSING] = "missing",
	[FATE_FOUND] = "found",
	[FATE_RETURNED] = "returned",
	[FATE_WITHDRAWN] = "withdrawn",
	[FATE_STRUCK] = "struck",
	[FATE_COMBINED] = "combined",
};

const char *
fate_word(enum portion_fate f)
{
	return fate_words[f];
}

static enum portion_fate
fate_of(const char *word)
{
	enum portion_fate f = FATE_USED;

	/* The schema takes no other word. */
	while (f < FATE_COMBINED && !str_eq(word, fate_words[f]))
		f++;
	return f;
}

bool
fate_adds(enum portion_fate f)
{
	return f == FATE_FOUND || f == FATE_RETURNED;
}

enum rc
portion_take(struct store *st, int64_t portion_id,
    const struct portion_event *e, struct err *err)
{
	struct stmt q;
	enum rc rc;

	rc = stmt_open(&q, st,
	    "INSERT INTO portion_event (portion_id, kind, servings, service_id,"
	    " reason, at_utc, offset_min, by, undoes) VALUES (:portion, :kind,"
	    " :servings, :service, :reason, :at, :offset, :by, :undoes)",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":portion", portion_id);
	bind_text(&q, ":kind", fate_word(e->fate));
	bind_int(&q, ":servings", e->servings);
	bind_id(&q, ":service", e->service_id);
	bind_text(&q, ":reason", e->reason);
	bind_int(&q, ":at", e->at.utc);
	bind_int(&q, ":offset", e->at.offset_min);
	bind_text(&q, ":by", e->at.by);
	bind_id(&q, ":undoes", e->undoes);
	if ((rc = stmt_run(&q, err)) != RC_OK)
		return rc;
	rc = stmt_open(&q, st,
	    "UPDATE portion SET left = left - :servings WHERE id = :portion",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_int(
	    &q, ":servings", fate_adds(e->fate) ? -e->servings : e->servings);
	bind_int(&q, ":portion", portion_id);
	return stmt_run(&q, err);
}

static enum rc
read_event(void *item, const struct stmt *q, struct err *err)
{
	struct portion_event *e = item;
	char kind[16], text[16], name[24];
	day_no day;

	(void)err;
	memset(e, 0, sizeof(*e));
	col_text(kind, sizeof(kind), q, 0);
	e->fate = fate_of(kind);
	e->servings = col_int(q, 1);
	e->service_id = col_int(q, 2);
	if (e->service_id != 0 && (day = col_day(q, 3)) != DAY_NONE) {
		col_text(name, sizeof(name), q, 4);
		str_fmt(e->service, sizeof(e->service), "%s/%s",
		    day_print(text, sizeof(text), day), name);
	}
	col_text(e->reason, sizeof(e->reason), q, 5);
	e->at.utc = col_int(q, 6);
	e->at.offset_min = (int)col_int(q, 7);
	col_text(e->at.by, sizeof(e->at.by), q, 8);
	e->id = col_int(q, 9);
	e->undoes = col_int(q, 10);
	col_text(kind, sizeof(kind), q, 11);
	e->undone = fate_of(kind);
	e->taken_back = col_int(q, 12) != 0;
	return RC_OK;
}

enum rc
portion_events_open(struct portion_event_list *out, struct store *st,
    int64_t portion_id, struct err *err)
{
	struct stmt q;
	void *rows;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	rc = stmt_open(&q, st,
	    "SELECT e.kind, e.servings, e.service_id, s.day, s.name,"
	    " e.reason, e.at_utc, e.offset_min, e.by, e.id, e.undoes,"
	    " coalesce(u.kind, ''), EXISTS (SELECT 1 FROM portion_event t"
	    "  WHERE t.undoes = e.id) FROM portion_event e"
	    " LEFT JOIN service s ON s.id = e.service_id"
	    " LEFT JOIN portion_event u ON u.id = e.undoes"
	    " WHERE e.portion_id = :portion ORDER BY e.id",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":portion", portion_id);
	rc = stmt_rows(
	    &rows, &out->count, sizeof(*out->items), &q, read_event, err);
	out->items = rows;
	return rc;
}

void
portion_events_fini(struct portion_event_list *l)
{
	free(l->items);
	memset(l, 0, sizeof(*l));
}

static enum rc
read_use(void *item, const struct stmt *q, struct err *err)
{
	struct portion_use *u = item;

	(void)err;
	memset(u, 0, sizeof(*u));
	u->event_id = col_int(q, 0);
	col_text(u->code, sizeof(u->code), q, 1);
	col_text(u->dish, sizeof(u->dish), q, 2);
	col_text(u->dish_name, sizeof(u->dish_name), q, 3);
	u->left = col_int(q, 4);
	u->servings = col_int(q, 5);
	col_text(u->reason, sizeof(u->reason), q, 6);
	u->at.utc = col_int(q, 7);
	u->at.offset_min = (int)col_int(q, 8);
	col_text(u->at.by, sizeof(u->at.by), q, 9);
	u->use_by_utc = col_int(q, 10);
	return RC_OK;
}

#define USE_COLUMNS                                                            \
	"SELECT e.id, p.code, d.code, d.name, p.left, e.servings, e.reason,"   \
	" e.at_utc, e.offset_min, e.by, p.use_by_utc"                          \
	" FROM portion_event e JOIN portion p ON p.id = e.portion_id"          \
	" JOIN cut c ON c.id = p.cut_id JOIN dish d ON d.id = c.dish_id"       \
	" WHERE e.kind = 'used' AND NOT EXISTS"                                \
	" (SELECT 1 FROM portion_event r WHERE r.undoes = e.id)"

enum rc
portion_uses_open(struct portion_use_list *out, struct store *st,
    int64_t service_id, int64_t from_utc, int most, struct err *err)
{
	struct stmt q;
	void *rows;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	rc = stmt_open(&q, st,
	    service_id != 0 ? USE_COLUMNS
		" AND e.service_id = :service"
		" ORDER BY e.id DESC LIMIT :most"
			    : USE_COLUMNS
		/* by time: of ten years most events have no service */
		" AND e.at_utc >= :from AND +e.service_id IS NULL"
		" ORDER BY e.at_utc DESC, e.id DESC LIMIT :most",
	    err);
	if (rc != RC_OK)
		return rc;
	if (service_id != 0)
		bind_int(&q, ":service", service_id);
	else
		bind_int(&q, ":from", from_utc);
	bind_int(&q, ":most", most);
	rc = stmt_rows(
	    &rows, &out->count, sizeof(*out->items), &q, read_use, err);
	out->items = rows;
	return rc;
}

void
portion_uses_fini(struct portion_use_list *l)
{
	free(l->items);
	memset(l, 0, sizeof(*l));
}

enum rc
portion_why(char **out, struct store *st, int64_t id, struct err *err)
{
	struct stmt q;
	enum rc rc;

	rc = stmt_open(
	    &q, st, "SELECT use_by_why FROM portion WHERE id = :id", err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":id", id);
	rc = stmt_step(&q, err);
	if (rc == RC_OK)
		*out = col_dup(&q, 0);
	stmt_close(&q);
	return rc == RC_END ? row_gone(st, err) : rc;
}
