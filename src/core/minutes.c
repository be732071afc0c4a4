/* minutes.c - how long the work of a fish section takes. */
#include "core/minutes.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/buf.h"
#include "base/str.h"
#include "row.h"

#define SECONDS_MAX 7200
#define SIZE_MAX_G 1000000
#define MS_MAX 10000000000

static const char *const columns[] = {
	"task",
	"group",
	"from_g",
	"below_g",
	"seconds",
	"unit",
	"source",
	"verified",
	NULL,
};

static const struct {
	const char *word;
	enum task_unit unit;
} tasks[TASK_COUNT] = {
	[TASK_SCRUB] = { "scrub", UNIT_KG },
	[TASK_SCALE] = { "scale", UNIT_EACH },
	[TASK_TRIM] = { "trim", UNIT_EACH },
	[TASK_GUT] = { "gut", UNIT_EACH },
	[TASK_CLEAN] = { "clean", UNIT_EACH },
	[TASK_PEEL] = { "peel", UNIT_EACH },
	[TASK_FILLET] = { "fillet", UNIT_EACH },
	[TASK_PINBONE] = { "pin-bone", UNIT_PIECE },
	[TASK_SKIN] = { "skin", UNIT_PIECE },
	[TASK_OPEN] = { "open", UNIT_EACH },
	[TASK_DRESS] = { "dress", UNIT_EACH },
	[TASK_PORTION] = { "portion", UNIT_PORTION },
	[TASK_TRAY] = { "tray", UNIT_TRAY },
	[TASK_CHANGE] = { "change", UNIT_TIME },
	[TASK_CLEANDOWN] = { "clean-down", UNIT_TIME },
};

static const char *const unit_words[UNIT_COUNT] = {
	[UNIT_EACH] = "each",
	[UNIT_PIECE] = "piece",
	[UNIT_PORTION] = "portion",
	[UNIT_TRAY] = "tray",
	[UNIT_KG] = "kg",
	[UNIT_TIME] = "time",
};

#define FORM_COUNT (FORM_CEPHALOPOD + 1)

const char *
task_word(enum task_kind k)
{
	assert((unsigned)k < TASK_COUNT);
	return tasks[k].word;
}

enum task_unit
task_unit(enum task_kind k)
{
	assert((unsigned)k < TASK_COUNT);
	return tasks[k].unit;
}

const char *
task_unit_word(enum task_unit u)
{
	assert((unsigned)u < UNIT_COUNT);
	return unit_words[u];
}

enum rc
task_parse(enum task_kind *out, const char *s, struct err *err)
{
	struct buf known;
	enum rc rc;
	int i;

	for (i = 0; i < TASK_COUNT; i++) {
		if (!str_eq_nocase(s, tasks[i].word))
			continue;
		*out = (enum task_kind)i;
		return RC_OK;
	}
	buf_init(&known, 300);
	for (i = 0; i < TASK_COUNT; i++)
		buf_printf(&known, "%s%s", i == 0 ? "" : ", ", tasks[i].word);
	rc = err_set(err, RC_INVALID, 0, "task \"%.40s\" is not one of %s", s,
	    buf_text(&known));
	buf_fini(&known);
	return rc;
}

static enum rc
read_group(struct minutes_row *r, const struct csv *c, struct err *err)
{
	const char *s = csv_get(c, "group");
	int i;

	if (str_eq(s, "any")) {
		r->any = true;
		return RC_OK;
	}
	for (i = 0; i < FORM_COUNT; i++)
		if (str_eq(s, body_form_word((enum body_form)i))) {
			r->form = (enum body_form)i;
			return RC_OK;
		}
	if (row_code(r->species, c, "group", false, NULL) == RC_OK)
		return RC_OK;
	return row_refuse(c, "group", err,
	    "group \"%.40s\" is not a species code, a body form or any", s);
}

static enum rc
read_size(grams *out, const struct csv *c, const char *column, struct err *err)
{
	int n;
	enum rc rc;

	*out = 0;
	if (csv_get(c, column)[0] == '\0')
		return RC_OK;
	if ((rc = row_int(&n, c, column, 1, SIZE_MAX_G, err)) == RC_OK)
		*out = n;
	return rc;
}

static enum rc
read_row(void *item, const struct csv *c, struct err *err)
{
	struct minutes_row *r = item;
	int unit;
	enum rc rc;

	if ((rc = task_parse(&r->task, csv_get(c, "task"), err)) != RC_OK)
		return csv_fail(c, "task", rc, err);
	if ((rc = read_group(r, c, err)) != RC_OK ||
	    (rc = read_size(&r->from_g, c, "from_g", err)) != RC_OK ||
	    (rc = read_size(&r->below_g, c, "below_g", err)) != RC_OK)
		return rc;
	if (r->below_g != 0 && r->below_g <= r->from_g)
		return row_refuse(c, "below_g", err,
		    "below_g %d is not above from_g %d", (int)r->below_g,
		    (int)r->from_g);
	rc = row_int(&r->seconds, c, "seconds", 0, SECONDS_MAX, err);
	if (rc != RC_OK ||
	    (rc = row_word(&unit, c, "unit", unit_words, UNIT_COUNT, err)) !=
		RC_OK)
		return rc;
	if ((enum task_unit)unit != task_unit(r->task))
		return row_refuse(c, "unit", err,
		    "the unit of %s is %s, not %s", task_word(r->task),
		    unit_words[task_unit(r->task)], unit_words[unit]);
	if ((rc = csv_text(r->source, sizeof(r->source), c, "source", false,
		 err)) != RC_OK)
		return rc;
	return row_yes(&r->verified, c, "verified", err);
}

static bool
same_group(const struct minutes_row *a, const struct minutes_row *b)
{
	return a->any == b->any && str_eq(a->species, b->species) &&
	    a->form == b->form;
}

static bool
overlap(const struct minutes_row *a, const struct minutes_row *b)
{
	return (a->below_g == 0 || b->from_g < a->below_g) &&
	    (b->below_g == 0 || a->from_g < b->below_g);
}

static enum rc
check_row(const void *items, size_t count, const void *item,
    const struct csv *c, struct err *err)
{
	const struct minutes_row *before = items;
	const struct minutes_row *r = item;
	size_t i;

	for (i = 0; i < count; i++)
		if (before[i].task == r->task && same_group(&before[i], r) &&
		    overlap(&before[i], r))
			return row_refuse(c, "from_g", err,
			    "a second row of %s for %s holds these sizes",
			    task_word(r->task), csv_get(c, "group"));
	return RC_OK;
}

static const struct row_spec spec = {
	.columns = columns,
	.size = sizeof(struct minutes_row),
	.what = "tasks",
	.read = read_row,
	.check = check_row,
};

enum rc
minutes_parse(struct minutes_table *out, const char *name, const char *data,
    size_t len, struct err *err)
{
	/* Every list needs these, whatever is on it. */
	static const enum task_kind wanted[] = { TASK_CHANGE, TASK_CLEANDOWN };
	struct minutes_table t;
	struct rows rows;
	size_t i;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	if ((rc = rows_read(&rows, &spec, name, data, len, err)) != RC_OK)
		return rc;
	t.items = rows.items;
	t.count = rows.count;
	for (i = 0; i < sizeof(wanted) / sizeof(wanted[0]); i++)
		if (minutes_find(&t, wanted[i], "", FORM_ROUND, 0) == NULL) {
			minutes_fini(&t);
			return err_set(err, RC_INVALID, 0,
			    "%s:1:1: no row of %s for any in it", name,
			    task_word(wanted[i]));
		}
	*out = t;
	return RC_OK;
}

void
minutes_fini(struct minutes_table *t)
{
	free(t->items);
	t->items = NULL;
	t->count = 0;
}

/* How closely a row speaks of this species: 0 not at all. */
static int
closeness(const struct minutes_row *r, const char *species, enum body_form form)
{
	if (r->any)
		return 1;
	if (r->species[0] != '\0')
		return str_eq_nocase(r->species, species) ? 3 : 0;
	return species[0] != '\0' && r->form == form ? 2 : 0;
}

const struct minutes_row *
minutes_find(const struct minutes_table *t, enum task_kind task,
    const char *species, enum body_form form, grams size_g)
{
	const struct minutes_row *r, *found = NULL;
	int close, best = 0;
	size_t i;

	for (i = 0; i < t->count; i++) {
		r = &t->items[i];
		close = closeness(r, species, form);
		if (r->task != task || close <= best || size_g < r->from_g ||
		    (r->below_g != 0 && size_g >= r->below_g))
			continue;
		found = r;
		best = close;
	}
	return found;
}

bool
pace_find(struct pace *out, const struct pace_book *book, enum task_kind task,
    const char *species, enum body_form form, grams size_g)
{
	const struct minutes_row *r =
	    minutes_find(book->table, task, species, form, size_g);
	const struct pace *p;
	size_t i;

	if (r == NULL || r->seconds == 0)
		return false;
	for (i = 0; i < book->learned_count; i++) {
		p = &book->learned[i];
		if (p->task != task || p->from_g != r->from_g ||
		    !str_eq_nocase(p->species, species))
			continue;
		*out = *p;
		return true;
	}
	memset(out, 0, sizeof(*out));
	out->task = task;
	if (!str_copy(out->species, sizeof(out->species), species))
		assert(!"a species code fits");
	out->from_g = r->from_g;
	out->shape = PACE_START_UNITS * 1000;
	out->scale = (int64_t)PACE_START_UNITS * r->seconds * 1000;
	return true;
}

void
pace_learn(struct pace *p, int64_t units, int64_t ms)
{
	assert(units > 0 && units <= COUNT_MAX && ms >= 0 && ms <= MS_MAX);
	p->shape = p->shape * PACE_KEEP_BP / BP_ONE + units * 1000;
	p->scale = p->scale * PACE_KEEP_BP / BP_ONE + ms;
	p->learned = true;
}

int64_t
pace_ms(const struct pace *p)
{
	/* scale / shape is seconds per unit: both are in thousandths. */
	return div_up(p->scale * 1000, p->shape);
}

int64_t
pace_slow_ms(const struct pace *p)
{
	const double z20 = 0.8416212335729143; /* normal, 80 % point */
	double v = 1000.0 / (9.0 * (double)p->shape);
	double cube = 1.0 - v - z20 * sqrt(v);
	double point = cube * cube * cube; /* of Gamma(shape) over shape */
	int64_t ms = pace_ms(p);
	int64_t slow;

	/*
	 * Under one unit's worth of record the approximation fails, and the
	 * pace is not known: three times as long, said so here alone.
	 */
	if (p->shape < 1000)
		return ms * 3;
	slow = (int64_t)ceil((double)ms / point);
	return slow < ms ? ms : slow;
}
