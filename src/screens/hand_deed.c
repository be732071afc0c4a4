/* hand_deed.c - what is done to stock, and what is said of it. */
#include "hand_deed.h"

#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "base/str.h"
#include "hand_words.h"
#include "says_hand.h"

#define READ_MAX 65536

static const char *
reason_of(const struct deed *g)
{
	return g->reason[0] == '\0' ? NULL : g->reason;
}

/* --- use ------------------------------------------------------------------*/

static enum rc
do_use(struct desk *d, struct deed *g, struct err *err)
{
	struct use_in in = {
		.code = g->units[0].code,
		.servings = g->number,
		.service = g->service[0] == '\0' ? NULL : g->service,
		.reason = reason_of(g),
		.by = d->by,
	};

	return use(&g->used, d->sn, &in, err);
}

static void
said_use(struct desk *d, struct deed *g)
{
	char code[CODE_SIZE], date[64];

	desk_say(d, LEVEL_DONE, tr(SAY_DID_USE), (long long)g->number,
	    code_show(code, g->used.code), g->used.dish_name,
	    (long long)g->used.left,
	    hand_date_at(date, sizeof(date), g->used.use_by_utc));
}

/* --- freeze and thaw ------------------------------------------------------*/

static void
put_kept(struct buf *out, const struct kept *k)
{
	const struct freezing *f = &k->record;
	char code[CODE_SIZE], before[64], after[64], cold[32];
	size_t i;

	code_show(code, k->portion.code);
	hand_date_at(before, sizeof(before), f->use_by_before_utc);
	hand_date_at(after, sizeof(after), f->use_by_utc);
	if (f->to == KEEP_FROZEN) {
		buf_printf(out, tr(SAY_KEPT_FROZEN), code, k->portion.dish_name,
		    (long long)k->portion.left,
		    temp_print(cold, sizeof(cold), f->temp_dc), after, before);
		buf_printf(out, trn(SAY_KEPT_DAYS, f->days_left), f->days_left);
	} else {
		buf_printf(out, tr(SAY_KEPT_THAWED), code, k->portion.dish_name,
		    (long long)k->portion.left, after,
		    k->useby.limits[k->useby.bound].name, before);
	}
	for (i = 0; i < k->useby.caution_count; i++)
		buf_printf(out, tr(SAY_KEPT_CAUTION), k->useby.cautions[i]);
}

static void
read_kept(struct desk *d, const struct kept *kept, size_t count)
{
	struct buf b;
	size_t i;

	buf_init(&b, READ_MAX);
	for (i = 0; i < count; i++)
		put_kept(&b, &kept[i]);
	buf_puts(&b, tr(SAY_KEPT_LABEL));
	desk_read(d, tr(SAY_KEPT_TITLE), buf_text(&b));
	buf_fini(&b);
}

static enum rc
do_move(struct desk *d, struct deed *g, struct err *err)
{
	struct kept *kept = xcalloc(g->count, sizeof(*kept));
	const char *codes[FREEZE_UNITS_MAX];
	struct freeze_in in = {
		.codes = codes,
		.count = g->count,
		.temp = g->temp,
		.reason = reason_of(g),
		.by = d->by,
	};
	size_t i;
	enum rc rc;

	for (i = 0; i < g->count; i++)
		codes[i] = g->units[i].code;
	rc = (g->kind == DEED_FREEZE ? freeze : thaw)(kept, d->sn, &in, err);
	if (rc == RC_OK) {
		if (g->open)
			desk_shut(d);
		read_kept(d, kept, g->count);
	}
	free(kept);
	return rc;
}

static void
said_move(struct desk *d, struct deed *g)
{
	if (g->kind == DEED_FREEZE)
		desk_say(d, LEVEL_DONE, trn(SAY_DID_FREEZE, (long)g->count),
		    (int)g->count);
	else
		desk_say(d, LEVEL_DONE, trn(SAY_DID_THAW, (long)g->count),
		    (int)g->count);
}

/* --- discard --------------------------------------------------------------*/

static enum rc
discard_one(
    struct desk *d, struct deed *g, const struct deed_unit *u, struct err *err)
{
	struct discard_in in = {
		.code = u->code, .reason = g->reason, .by = d->by
	};
	enum rc rc;

	if (g->count == 1 && u->kind == CODE_PORTION && g->number > 0)
		in.servings = g->number;
	if (g->count == 1 && u->kind == CODE_BATCH) {
		in.fish = g->fish < 0 ? 0 : g->fish;
		if (g->weight[0] != '\0' &&
		    (rc = weight_parse(&in.weight_g, tr(SAY_DEED_WEIGHT),
			 g->weight, err)) != RC_OK)
			return rc;
	}
	return discard(&g->gone, d->sn, &in, err);
}

/* One record each; those that were done stay done, and leave the deed. */
static enum rc
do_discard(struct desk *d, struct deed *g, struct err *err)
{
	size_t i, n = g->count;
	enum rc rc = RC_OK;

	for (i = 0; i < n && rc == RC_OK; i++)
		rc = discard_one(d, g, &g->units[i], err);
	if (rc == RC_OK || i < 2)
		return rc;
	memmove(g->units, g->units + i - 1, (n - i + 1) * sizeof(*g->units));
	g->count = n - i + 1;
	err_prefix(err, tr(SAY_DID_SOME), (int)i - 1);
	return rc;
}

static void
said_discard(struct desk *d, struct deed *g)
{
	const struct deed_unit *u = &g->units[0];
	char code[CODE_SIZE], amount[48];

	if (g->count > 1) {
		desk_say(d, LEVEL_DONE, trn(SAY_DID_DISCARD_N, (long)g->count),
		    (int)g->count);
		return;
	}
	if (u->kind == CODE_PORTION)
		hand_portions(amount, sizeof(amount), g->gone.servings);
	else
		weight_print(amount, sizeof(amount), g->gone.weight_g);
	desk_say(d, LEVEL_DONE, tr(SAY_DID_DISCARD), amount,
	    code_show(code, u->code));
}

/* --- count, hold, release -------------------------------------------------*/

static enum rc
do_count(struct desk *d, struct deed *g, struct err *err)
{
	struct count_in in = { .code = g->units[0].code,
		.servings = g->number,
		.reason = reason_of(g),
		.by = d->by };
	struct counted out;
	enum rc rc = count_unit(&out, d->sn, &in, err);

	if (rc == RC_OK)
		g->units[0].left = out.before;
	return rc;
}

static void
said_count(struct desk *d, struct deed *g)
{
	char code[CODE_SIZE];

	code_show(code, g->units[0].code);
	if (g->number == g->units[0].left)
		desk_say(d, LEVEL_DONE, tr(SAY_DID_COUNT_SAME), code,
		    (long long)g->number);
	else
		desk_say(d, LEVEL_DONE, tr(SAY_DID_COUNT), code,
		    (long long)g->number, (long long)g->units[0].left);
}

static enum rc
do_block(struct desk *d, struct deed *g, struct err *err)
{
	const struct hold_in in = { g->units[0].code, g->breakdown, g->reason,
		d->by };

	return (g->kind == DEED_HOLD ? hold_set : hold_lift)(
	    &g->block, d->sn, &in, err);
}

static void
said_block(struct desk *d, struct deed *g)
{
	const struct hold_done *b = &g->block;
	char name[80];
	long n = (long)b->labels;

	if (b->prep_id != 0)
		str_fmt(name, sizeof(name), tr(SAY_DEED_BREAKDOWN),
		    (long long)b->prep_id);
	else
		str_copy(name, sizeof(name), b->name);
	if (g->kind == DEED_HOLD && n > 0)
		desk_say(
		    d, LEVEL_DONE, trn(SAY_DID_HOLD_LABELS, n), name, (int)n);
	else if (g->kind == DEED_HOLD)
		desk_say(d, LEVEL_DONE, tr(SAY_DID_HOLD), name);
	else if (n > 0)
		desk_say(
		    d, LEVEL_DONE, tr(SAY_DID_RELEASE_LABELS), name, b->codes);
	else
		desk_say(d, LEVEL_DONE, tr(SAY_DID_RELEASE), name);
}

/* --- one of them ----------------------------------------------------------*/

static const struct {
	enum rc (*go)(struct desk *d, struct deed *g, struct err *err);
	deed_fn *said;
} deeds[] = {
	[DEED_USE] = { do_use, said_use },
	[DEED_FREEZE] = { do_move, said_move },
	[DEED_THAW] = { do_move, said_move },
	[DEED_DISCARD] = { do_discard, said_discard },
	[DEED_COUNT] = { do_count, said_count },
	[DEED_HOLD] = { do_block, said_block },
	[DEED_RELEASE] = { do_block, said_block },
};

static void
record(struct desk *d, void *arg)
{
	struct deed *g = arg;
	struct err err = { 0 };

	if (deeds[g->kind].go(d, g, &err) != RC_OK) {
		desk_fail(d, &err);
		return;
	}
	if (g->open)
		desk_shut(d);
	deeds[g->kind].said(d, g);
	if (g->done != NULL)
		g->done(d, g);
	if (g->run)
		deed_run(d, g);
}

/* Throwing away a whole batch, and lifting a hold, may be the chef's. */
static enum duty
duty_of(const struct deed *g)
{
	size_t i;

	if (g->kind == DEED_RELEASE)
		return DUTY_RELEASE;
	for (i = 0; g->kind == DEED_DISCARD && i < g->count; i++)
		if (g->units[i].kind == CODE_BATCH)
			return DUTY_DISCARD_BATCH;
	return DUTY_ANYONE;
}

void
deed_record(struct desk *d, struct deed *g)
{
	desk_record(d, duty_of(g), record, g);
}

void
deed_ask(struct desk *d, struct deed *g)
{
	g->number = g->fish = -1;
	g->reason[0] = g->temp[0] = g->weight[0] = '\0';
	deed_sheet(d, g);
}

/* --- what expired ---------------------------------------------------------*/

void
deed_take(struct deed_unit *u, const struct on_hand_row *r)
{
	memset(u, 0, sizeof(*u));
	u->kind = r->kind;
	str_copy(u->code, sizeof(u->code), r->code);
	str_copy(u->name, sizeof(u->name), r->name);
	u->left = r->count;
	u->use_by_utc = r->use_by_utc;
	if (r->held)
		str_copy(u->held, sizeof(u->held), r->hold_reason);
}

void
deed_run(struct desk *d, struct deed *g)
{
	struct on_hand_wish w = { .limit = 1 };
	struct on_hand_page p;
	struct err err = { 0 };

	w.filter.state = ON_HAND_EXPIRED;
	if (on_hand_load(&p, d->sn, &w, &err) != RC_OK) {
		desk_fail(d, &err);
		return;
	}
	g->kind = DEED_DISCARD;
	g->run = p.count > 0;
	g->run_left = p.sum.rows;
	g->count = 1;
	if (p.count > 0) {
		deed_take(&g->units[0], &p.rows[0]);
		deed_ask(d, g);
	} else {
		desk_say(d, LEVEL_DONE, "%s", tr(SAY_DID_EMPTIED));
	}
	on_hand_fini(&p);
}
