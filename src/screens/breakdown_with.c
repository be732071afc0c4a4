/* breakdown_with.c - other batches onto the same board. */
#include <string.h>

#include "base/str.h"
#include "breakdown_desk.h"
#include "says_breakdown.h"
#include "term/when.h"

int
bd_with(size_t i, enum bd_with_field f)
{
	return BD_WITH + (int)i * BD_WITH_FIELDS + (int)f;
}

const struct batch *
bd_with_first(const struct breakdown_desk *b)
{
	const struct batch *first = &b->bench.batch;
	size_t i;

	for (i = 0; i < b->with_count; i++)
		if (b->with[i].use_by_utc < first->use_by_utc)
			first = &b->with[i];
	return first;
}

static bool
is_on(const struct breakdown_desk *b, const char *code)
{
	size_t i;

	for (i = 0; i < b->with_count; i++)
		if (str_eq(b->with[i].code, code))
			return true;
	return str_eq(b->bench.batch.code, code);
}

void
bd_with_put(struct breakdown_desk *b, const struct batch *t)
{
	size_t i = b->with_count++;
	char shown[CODE_SIZE];

	b->with[i] = *t;
	code_show(shown, t->code);
	str_fmt(b->with_labels[i][BD_WITH_FISH],
	    sizeof(b->with_labels[i][BD_WITH_FISH]), tr(SAY_BD_F_WITH_FISH),
	    shown);
	str_fmt(b->with_labels[i][BD_WITH_IN],
	    sizeof(b->with_labels[i][BD_WITH_IN]), tr(SAY_BD_F_WITH_IN), shown);
	b->form.dirty = true;
	bd_ask(b);
}

static void
add(struct desk *d, void *arg)
{
	struct breakdown_desk *b = arg;
	size_t i = b->with_count;
	char shown[CODE_SIZE];

	if (b->mode != BD_MODE_WORK || i == BREAKDOWN_WITH_MAX ||
	    is_on(b, b->adding.code))
		return;
	bd_with_put(b, &b->adding);
	b->form.at = bd_with(i, BD_WITH_FISH);
	if (b->form.fields[b->form.at].off)
		b->form.at = bd_with(i, BD_WITH_IN);
	desk_say(d, LEVEL_DONE, tr(SAY_BD_WITH_ON),
	    code_show(shown, b->adding.code));
}

/* Which of the two dates every label will take is said before. */
static void
ask(struct desk *d, struct breakdown_desk *b)
{
	const struct batch *first = bd_with_first(b);
	char title[80], text[400], shown[CODE_SIZE], when[48];

	if (b->adding.use_by_utc < first->use_by_utc)
		first = &b->adding;
	str_fmt(title, sizeof(title), tr(SAY_BD_ASK_WITH),
	    code_show(shown, b->adding.code));
	str_fmt(text, sizeof(text), tr(SAY_BD_ASK_WITH_TEXT),
	    code_show(shown, first->code),
	    when_instant(when, sizeof(when), first->use_by_utc));
	desk_ask_yes(d, title, text, add, b);
}

bool
bd_with_scan(struct desk *d, struct breakdown_desk *b, const char *code)
{
	struct err err = { 0 };

	if (b->mode != BD_MODE_WORK)
		return false;
	if (is_on(b, code))
		return true;
	if (b->with_count == BREAKDOWN_WITH_MAX) {
		desk_say(d, LEVEL_NOTE, tr(SAY_BD_WITH_FULL),
		    BREAKDOWN_WITH_MAX + 1);
		return true;
	}
	if (bench_with(&b->adding, &b->bench, d->sn, code, &err) != RC_OK) {
		desk_fail(d, &err);
		return true;
	}
	ask(d, b);
	return true;
}

/* --- by hand
 * ------------------------------------------------------------------*/

static const char *
word(const void *arg, size_t i)
{
	const struct batch_list *l = arg;

	return l->items[i].code;
}

static const char *
says(const void *arg, size_t i)
{
	static char text[120];
	const struct batch_list *l = arg;
	char shown[CODE_SIZE], weight[32], when[48];

	str_fmt(text, sizeof(text), tr(SAY_BD_WITH_ROW),
	    code_show(shown, l->items[i].code),
	    weight_print(weight, sizeof(weight), l->items[i].weight_left),
	    when_instant(when, sizeof(when), l->items[i].use_by_utc));
	return text;
}

static void
picked(struct desk *d, void *arg, size_t i)
{
	struct breakdown_desk *b = arg;
	char code[CODE_SIZE];

	str_copy(code, sizeof(code), b->others.items[i].code);
	(void)bd_with_scan(d, b, code);
}

/* Those that may go with it, first to expire first. */
static bool
load_others(struct desk *d, struct breakdown_desk *b)
{
	struct batch t;
	struct err err = { 0 };
	size_t i, n = 0;

	batch_list_fini(&b->others);
	if (bench_batches(&b->others, d->sn, &err) != RC_OK) {
		desk_fail(d, &err);
		return false;
	}
	for (i = 0; i < b->others.count; i++) {
		t = b->others.items[i];
		if (!is_on(b, t.code) &&
		    bench_with(&t, &b->bench, d->sn, t.code, NULL) == RC_OK)
			b->others.items[n++] = t;
	}
	b->others.count = n;
	return true;
}

void
bd_with_pick(struct desk *d, struct breakdown_desk *b)
{
	struct choices c = { .word = word, .says = says, .arg = &b->others };

	if (b->with_count == BREAKDOWN_WITH_MAX) {
		desk_say(d, LEVEL_NOTE, tr(SAY_BD_WITH_FULL),
		    BREAKDOWN_WITH_MAX + 1);
		return;
	}
	if (!load_others(d, b))
		return;
	if (b->others.count == 0) {
		desk_say(d, LEVEL_NOTE, "%s", tr(SAY_BD_WITH_NONE));
		return;
	}
	c.count = b->others.count;
	desk_ask_pick(d, tr(SAY_BD_WITH_WHICH), &c, picked, b);
}

void
bd_with_out(struct desk *d, struct breakdown_desk *b)
{
	char shown[CODE_SIZE];
	int at;

	if (b->with_count == 0)
		return;
	b->with_count--;
	at = bd_with(b->with_count, BD_WITH_FISH);
	form_set(&b->form, at, "");
	form_set(&b->form, at + 1, "");
	if (b->form.at == at || b->form.at == at + 1)
		b->form.at = BD_IN;
	b->form.dirty = true;
	bd_ask(b);
	desk_say(d, LEVEL_DONE, tr(SAY_BD_WITH_OFF),
	    code_show(shown, b->with[b->with_count].code));
}
