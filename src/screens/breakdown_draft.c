/* breakdown_draft.c - the half-typed breakdown as text, and back. */
#include <stdlib.h>
#include <string.h>

#include "base/str.h"
#include "breakdown_desk.h"
#include "says_breakdown.h"

static const char *const first_names[BD_DISH_FIRST] = { "fish", "which", "in",
	"with 1 fish", "with 1 in", "with 2 fish", "with 2 in", "with 3 fish",
	"with 3 in" };
_Static_assert(BREAKDOWN_WITH_MAX == 3, "each has its names");
static const char *const dish_names[BD_DISH_FIELDS] = { "portions", "weight",
	"label" };
static const char *const rest_names[BD_REST] = { "trim", "frames", "waste",
	"minutes", "note", "frozen", "thawed", "degrees", "feed" };

/* What a field is called in the text; dishes by their code, so that a menu
 * that changed in between moves nothing into another dish. */
static void
field_name(char dst[64], const struct breakdown_desk *b, int i)
{
	int at = i - BD_DISH_FIRST, dishes = (int)b->bench.dish_count;

	if (at < 0)
		str_copy(dst, 64, first_names[i]);
	else if (at < dishes * BD_DISH_FIELDS)
		str_fmt(dst, 64, "%s %s", dish_names[at % BD_DISH_FIELDS],
		    b->bench.dishes[at / BD_DISH_FIELDS].cut.dish);
	else
		str_copy(dst, 64, rest_names[at - dishes * BD_DISH_FIELDS]);
}

void
bd_keep(struct breakdown_desk *b, const char *by, struct err *err)
{
	struct draft_in in = { .name = DRAFT_BREAKDOWN, .by = by };
	char title[120], shown[CODE_SIZE], name[64], text[FIELD_SIZE];
	struct buf body;
	int i;

	buf_init(&body, DRAFT_BODY_MAX);
	buf_printf(&body, "batch=%s\n", b->bench.batch.code);
	buf_printf(&body, "dish=%s\nservice=%s\n", b->dish, b->service);
	buf_printf(&body, "task batch=%s\ntask dish=%s\ntask step=%s\n",
	    b->task.batch, b->task.dish, b->task.step);
	for (i = 0; i < (int)b->with_count; i++)
		buf_printf(&body, "with %d=%s\n", i + 1, b->with[i].code);
	for (i = 0; i < b->form.count; i++) {
		if (b->form.fields[i].text[0] == '\0')
			continue;
		bd_time_fixed(text, b, i, NULL);
		/* Half a time would be a whole and wrong one when it is read
		 * back: it is typed again then. */
		if (i == b->form.at && !str_eq(text, b->form.fields[i].text))
			continue;
		field_name(name, b, i);
		buf_printf(&body, "%s=%s\n", name, text);
	}
	str_fmt(title, sizeof(title), "%s %s",
	    code_show(shown, b->bench.batch.code), b->bench.species->name);
	in.title = title;
	in.body = buf_text(&body);
	if (buf_check(&body, DRAFT_BREAKDOWN, err) == RC_OK &&
	    draft_keep(b->sn, &in, err) == RC_OK) {
		b->form.dirty = false;
		b->waiting_known = false;
	}
	buf_fini(&body);
}

/* The value of `name`, copied; empty when it is not there. */
static void
value_of(char *dst, size_t size, const char *body, const char *name)
{
	size_t n = strlen(name), len;
	const char *at;

	dst[0] = '\0';
	for (at = body; at != NULL && *at != '\0';) {
		len = strcspn(at, "\n");
		if (len > n && at[n] == '=' && strncmp(at, name, n) == 0) {
			str_fmt(
			    dst, size, "%.*s", (int)(len - n - 1), at + n + 1);
			return;
		}
		at += len + (at[len] == '\n');
	}
}

/* The other batches, as far as they still may go with it; what was typed of one
 * that may not is typed again, or not. */
static void
fill_with(struct desk *d, struct breakdown_desk *b, const char *body)
{
	char code[CODE_SIZE], name[16];
	struct batch t;
	struct err err = { 0 };
	int i;

	b->with_count = 0;
	for (i = 0; i < BREAKDOWN_WITH_MAX; i++) {
		str_fmt(name, sizeof(name), "with %d", i + 1);
		value_of(code, sizeof(code), body, name);
		if (code[0] == '\0')
			return;
		if (bench_with(&t, &b->bench, d->sn, code, &err) != RC_OK) {
			desk_fail(d, &err);
			return;
		}
		bd_with_put(b, &t);
	}
}

static void
fill(struct desk *d, struct breakdown_desk *b, const char *body)
{
	char text[FIELD_SIZE], name[64];
	int i;

	value_of(b->dish, sizeof(b->dish), body, "dish");
	value_of(b->service, sizeof(b->service), body, "service");
	value_of(b->task.batch, sizeof(b->task.batch), body, "task batch");
	value_of(b->task.dish, sizeof(b->task.dish), body, "task dish");
	value_of(b->task.step, sizeof(b->task.step), body, "task step");
	bd_form(d, b);
	fill_with(d, b, body);
	for (i = 0; i < b->form.count; i++) {
		field_name(name, b, i);
		value_of(text, sizeof(text), body, name);
		if (text[0] != '\0')
			form_set(&b->form, i, text);
	}
	bd_ask(b);
	bd_first_empty(b, b->form.count);
	b->form.dirty = false;
}

bool
bd_resume(struct desk *d, struct breakdown_desk *b)
{
	char code[CODE_SIZE];
	struct err err = { 0 };
	struct draft kept;

	if (draft_open(&kept, d->sn, DRAFT_BREAKDOWN, &err) != RC_OK) {
		desk_fail(d, &err);
		return false;
	}
	value_of(code, sizeof(code), kept.body, "batch");
	bench_fini(&b->bench);
	if (bench_open(&b->bench, d->sn, code, &err) != RC_OK) {
		desk_fail(d, &err);
		draft_fini(&kept);
		return false;
	}
	fill(d, b, kept.body);
	draft_fini(&kept);
	b->started_utc = 0;
	b->fish_at = 0;
	b->yield_ok = b->minutes_ok = false;
	b->mode = BD_MODE_WORK;
	if (b->bench.refused.rc != RC_OK)
		desk_fail(d, &b->bench.refused);
	else
		desk_say(d, LEVEL_NOTE, "%s", tr(SAY_BD_RESUMED));
	return true;
}

static void
drop_now(struct desk *d, void *arg)
{
	struct breakdown_desk *b = arg;
	struct err err = { 0 };

	if (draft_clear(d->sn, DRAFT_BREAKDOWN, &err) != RC_OK) {
		desk_fail(d, &err);
		return;
	}
	b->waiting_known = false;
	bench_fini(&b->bench);
	desk_say(d, LEVEL_DONE, "%s", tr(SAY_BD_DROPPED));
	desk_load(d);
}

void
bd_drop(struct desk *d, struct breakdown_desk *b)
{
	char text[300];

	str_fmt(text, sizeof(text), tr(SAY_BD_ASK_DROP_TEXT), b->waiting.title);
	desk_ask_yes(d, tr(SAY_BD_ASK_DROP), text, drop_now, b);
}
