/* screen_breakdown.c - a batch weighed in, cut, weighed out, recorded. */
#include <string.h>

#include "base/str.h"
#include "breakdown_desk.h"
#include "prep_list.h"
#include "says_breakdown.h"
#include "term/when.h"

enum bd_action {
	BDA_OPEN = 1,
	BDA_RESUME,
	BDA_DROP,
	BDA_RECORD,
	BDA_WEIGH,
	BDA_NEXT,
	BDA_BACK,
	BDA_DISHES,
	BDA_WITH,
	BDA_OUT,
	BDA_DONE,
};

static const struct action actions[] = {
	{ BDA_RECORD, { KEY_CODE_F12, 0 }, SAY_BD_RECORD, SAY_BD_RECORD_HELP },
	{ BDA_OPEN, { KEY_CODE_ENTER, 0 }, SAY_BD_OPEN, SAY_BD_OPEN_HELP },
	{ BDA_DONE, { KEY_CODE_ENTER, 0 }, SAY_BD_DONE, SAY_BD_DONE_HELP },
	{ BDA_RESUME, { KEY_CODE_CHAR, 'r' }, SAY_BD_RESUME,
	    SAY_BD_RESUME_HELP },
	{ BDA_DROP, { KEY_CODE_CHAR, 'x' }, SAY_BD_DROP, SAY_BD_DROP_HELP },
	{ BDA_WEIGH, { KEY_CODE_CHAR, 'w' }, SAY_BD_WEIGH, SAY_BD_WEIGH_HELP },
	{ BDA_NEXT, { KEY_CODE_CHAR, 'n' }, SAY_BD_NEXT, SAY_BD_NEXT_HELP },
	{ BDA_BACK, { KEY_CODE_CHAR, 'b' }, NULL, SAY_BD_BACK_HELP },
	{ BDA_DISHES, { KEY_CODE_CHAR, 'd' }, SAY_BD_DISHES,
	    SAY_BD_DISHES_HELP },
	{ BDA_WITH, { KEY_CODE_CHAR, 'a' }, SAY_BD_WITH, SAY_BD_WITH_HELP },
	{ BDA_OUT, { KEY_CODE_CHAR, 'o' }, SAY_BD_OUT, SAY_BD_OUT_HELP },
	{ 0, { KEY_CODE_NONE, 0 }, NULL, NULL },
};

static void
init(struct desk *d, void *state)
{
	struct breakdown_desk *b = state;

	b->sn = d->sn;
}

/* What was typed in the last second is kept as well. */
static void
fini(void *state)
{
	struct breakdown_desk *b = state;
	struct err err = { 0 };

	if (b->mode == BD_MODE_WORK && b->form.dirty)
		bd_keep(b, "", &err); /* nobody is left to be told */
	beside_free(b->scale, 0);
	batch_list_fini(&b->batches);
	batch_list_fini(&b->others);
	bench_fini(&b->bench);
	breakdown_fini(&b->made);
}

/* --- what is half typed ----------------------------------------------------*/

static enum rc
look_waiting(struct desk *d, struct breakdown_desk *b, struct err *err)
{
	enum rc rc;

	rc = draft_waiting(&b->waiting, d->sn, DRAFT_BREAKDOWN, err);
	if (rc != RC_OK)
		memset(&b->waiting, 0, sizeof(b->waiting));
	if (rc == RC_NOTFOUND) {
		err_clear(err);
		rc = RC_OK;
	}
	b->waiting_known = rc == RC_OK;
	return rc;
}

static void
keep(struct desk *d, struct breakdown_desk *b)
{
	struct err err = { 0 };

	if (b->mode != BD_MODE_WORK || !b->form.dirty)
		return;
	bd_keep(b, d->by, &err);
	if (err.rc != RC_OK && err.rc != RC_RETRY)
		desk_fail(d, &err);
}

static void
load(struct desk *d, void *state)
{
	struct breakdown_desk *b = state;
	struct err err = { 0 };

	if (!b->waiting_known && look_waiting(d, b, &err) != RC_OK) {
		desk_fail(d, &err);
		return;
	}
	if (b->mode != BD_MODE_CHOOSE)
		return;
	batch_list_fini(&b->batches);
	if (bench_batches(&b->batches, d->sn, &err) != RC_OK)
		desk_fail(d, &err);
	b->list.count = (int)b->batches.count;
	list_fit(&b->list);
}

static void
tick(struct desk *d, void *state)
{
	struct breakdown_desk *b = state;

	bd_weigh_tick(d, b);
	keep(d, b);
}

/* --- begin -----------------------------------------------------------------*/

/* Something typed, or kept, that another breakdown would push aside. */
static bool
busy(struct desk *d, struct breakdown_desk *b)
{
	struct err err = { 0 };

	keep(d, b);
	if (!b->waiting_known && look_waiting(d, b, &err) != RC_OK) {
		desk_fail(d, &err);
		return true;
	}
	return b->waiting.name[0] != '\0';
}

static void
set_count(struct breakdown_desk *b, int field, int64_t n)
{
	char text[24];

	if (n <= 0 || b->form.fields[field].off)
		return;
	str_fmt(text, sizeof(text), "%lld", (long long)n);
	form_set(&b->form, field, text);
}

/* The fish the plan opens are named, when they are all that the task takes. */
static void
set_which(struct desk *d, struct breakdown_desk *b, int64_t fish)
{
	int n = bd_fish_count(d, b), i;
	const struct plan_opened *o;
	struct buf text;

	if (b->form.fields[BD_WHICH].off || n == 0 || n != fish)
		return;
	buf_init(&text, FIELD_SIZE - 1);
	for (i = 0; i < n; i++) {
		o = bd_fish(d, b, i);
		if (o->number == 0 || o->on_board)
			break;
		buf_printf(&text, "%s%d", i > 0 ? "," : "", o->number);
	}
	if (i == n && !text.full)
		form_set(&b->form, BD_WHICH, buf_text(&text));
	buf_fini(&text);
}

static void
begin(struct desk *d, struct breakdown_desk *b, const struct breakdown_begin *w)
{
	struct err err = { 0 };

	bench_fini(&b->bench);
	beside_free(b->scale, 0);
	b->scale = NULL;
	b->mode = BD_MODE_CHOOSE;
	if (bench_open(&b->bench, d->sn, w->batch, &err) != RC_OK) {
		desk_fail(d, &err);
		return;
	}
	if (b->bench.refused.rc != RC_OK) {
		desk_fail(d, &b->bench.refused);
		return;
	}
	memset(&b->task, 0, sizeof(b->task));
	b->dish[0] = b->service[0] = '\0';
	if (w->dish != NULL)
		str_copy(b->dish, sizeof(b->dish), w->dish);
	if (w->service != NULL) {
		str_copy(b->service, sizeof(b->service), w->service);
		str_copy(b->task.batch, sizeof(b->task.batch), w->batch);
		str_copy(b->task.dish, sizeof(b->task.dish), b->dish);
		str_copy(b->task.step, sizeof(b->task.step), w->step);
	}
	b->from_prep_list = w->service != NULL;
	b->started_utc = clock_now(&d->sn->clock);
	b->fish_at = 0;
	b->yield_ok = b->minutes_ok = false;
	b->mode = BD_MODE_WORK;
	d->notice[0] = '\0';
	b->with_count = 0;
	bd_form(d, b);
	set_count(b, BD_FISH, w->fish);
	set_which(d, b, w->fish);
	bd_first_empty(b, BD_DISH_FIRST);
	b->form.dirty = false;
}

/* Is what is half typed of this batch?  Its title begins with the code. */
static bool
kept_of(const struct breakdown_desk *b, const char *batch)
{
	char shown[CODE_SIZE];

	code_show(shown, batch);
	return strncmp(b->waiting.title, shown, strlen(shown)) == 0;
}

/* Is this what is on the bench already? */
static bool
same(const struct breakdown_desk *b, const struct breakdown_begin *w)
{
	return b->mode == BD_MODE_WORK &&
	    str_eq(b->bench.batch.code, w->batch) &&
	    (w->service == NULL || str_eq(b->service, w->service)) &&
	    (w->dish == NULL || str_eq(b->dish, w->dish));
}

void
breakdown_begin(struct desk *d, const struct breakdown_begin *given)
{
	struct breakdown_desk *b = d->states[SCREEN_BREAKDOWN];
	struct breakdown_begin w = *given;
	bool kept = busy(d, b), was = same(b, given);
	char code[CODE_SIZE];

	/* A code of the list of batches is gone when that is loaded anew. */
	str_copy(code, sizeof(code), given->batch);
	w.batch = code;
	desk_show(d, SCREEN_BREAKDOWN);
	if (!kept) {
		begin(d, b, &w);
		if (b->mode == BD_MODE_CHOOSE)
			load(d, b);
	} else if (b->mode == BD_MODE_CHOOSE && kept_of(b, code)) {
		(void)bd_resume(d, b);
	} else if (!was) {
		desk_say(d, LEVEL_NOTE, "%s", tr(SAY_BD_KEPT));
	}
}

/* --- keys ------------------------------------------------------------------*/

static void
done(struct desk *d, struct breakdown_desk *b)
{
	breakdown_fini(&b->made);
	b->mode = BD_MODE_CHOOSE;
	d->notice[0] = '\0';
	if (b->from_prep_list)
		desk_show(d, SCREEN_PREP_LIST);
	else
		load(d, b);
}

static void
open_chosen(struct desk *d, struct breakdown_desk *b)
{
	char code[CODE_SIZE]; /* the list is read anew meanwhile */
	struct breakdown_begin w = { .batch = code };

	if (b->list.at < 0)
		return;
	str_copy(code, sizeof(code), b->batches.items[b->list.at].code);
	breakdown_begin(d, &w);
}

static void
turn(struct desk *d, struct breakdown_desk *b, int by)
{
	int n = bd_fish_count(d, b);

	if (n > 0)
		b->fish_at = (b->fish_at + by + n) % n;
}

static void
act(struct desk *d, void *state, int action)
{
	struct breakdown_desk *b = state;

	switch ((enum bd_action)action) {
	case BDA_OPEN:
		open_chosen(d, b);
		break;
	case BDA_RESUME:
		(void)bd_resume(d, b);
		break;
	case BDA_DROP:
		bd_drop(d, b);
		break;
	case BDA_RECORD:
		bd_record(d, b);
		break;
	case BDA_WEIGH:
		bd_weigh(d, b);
		break;
	case BDA_NEXT:
		turn(d, b, 1);
		break;
	case BDA_BACK:
		turn(d, b, -1);
		break;
	case BDA_DISHES:
		b->all_dishes = !b->all_dishes;
		bd_ask(b);
		break;
	case BDA_WITH:
		bd_with_pick(d, b);
		break;
	case BDA_OUT:
		bd_with_out(d, b);
		break;
	case BDA_DONE:
		done(d, b);
		break;
	}
}

static bool
can(const struct desk *d, const void *state, int action)
{
	const struct breakdown_desk *b = state;

	switch ((enum bd_action)action) {
	case BDA_OPEN:
		return b->mode == BD_MODE_CHOOSE && b->batches.count > 0;
	case BDA_RESUME:
	case BDA_DROP:
		return b->mode == BD_MODE_CHOOSE && b->waiting.name[0] != '\0';
	case BDA_RECORD:
	case BDA_WEIGH:
	case BDA_WITH:
		return b->mode == BD_MODE_WORK;
	case BDA_OUT:
		return b->mode == BD_MODE_WORK && b->with_count > 0;
	case BDA_NEXT:
	case BDA_BACK:
		return b->mode == BD_MODE_WORK && bd_fish_count(d, b) > 1;
	case BDA_DISHES:
		return b->mode == BD_MODE_WORK && b->bench.dish_count > 1;
	case BDA_DONE:
		return b->mode == BD_MODE_MADE;
	}
	return false;
}

/* A time is typed in everyday words: say which it was taken for. */
static void
read_time(struct desk *d, struct breakdown_desk *b, int i)
{
	struct field *f = &b->form.fields[i];
	bool late = i == bd_rest(b, BD_FROZEN);
	char read[32], when[48], text[FIELD_SIZE];
	struct err err = { 0 };
	int64_t utc;

	if (!bd_is_time(b, i) || f->text[0] == '\0')
		return;
	if (bd_time(read, f->text, b->form.today, late, &err) != RC_OK ||
	    time_parse(&utc, "", read, &err) != RC_OK) {
		form_wrong(&b->form, i, err.text);
		return;
	}
	bd_time_fixed(text, b, i, NULL);
	form_set(&b->form, i, text);
	b->form.dirty = true;
	desk_say(d, LEVEL_NOTE, tr(SAY_BD_TIME_READ), tr(f->row->label),
	    when_instant(when, sizeof(when), utc));
}

/* A field that is left and wrong says so in full: there is no room beside it.
 */
static bool
form_typed(struct desk *d, struct breakdown_desk *b, const struct key *k)
{
	int was = b->form.at;
	const struct field *f = &b->form.fields[was];
	enum form_said said;

	/* "today" is that of when it is typed; the form may be open since
	 * yesterday. */
	if (f->text[0] == '\0')
		b->form.today = desk_today(d);
	said = form_key(&b->form, k);
	if (said == FORM_NOT_MINE)
		return false;
	if (said == FORM_MOVED || said == FORM_END) {
		read_time(d, b, was);
		keep(d, b);
	}
	bd_ask(b);
	if (k->code != KEY_CODE_CHAR && f->wrong[0] != '\0')
		desk_say(d, LEVEL_NOTE, "%s", f->wrong);
	else if (said == FORM_END)
		desk_say(d, LEVEL_NOTE, "%s", tr(SAY_BD_ENTER));
	return true;
}

static bool
key(struct desk *d, void *state, const struct key *k)
{
	struct breakdown_desk *b = state;

	if (b->mode == BD_MODE_CHOOSE)
		return list_key(&b->list, k);
	if (b->mode == BD_MODE_MADE) {
		if (k->code == KEY_CODE_ESC || k->code == KEY_CODE_ENTER) {
			done(d, b);
			return true;
		}
		return list_key(&b->units, k);
	}
	if (k->code != KEY_CODE_ESC)
		return form_typed(d, b, k);
	/* Back to the batches; what is typed stays kept. */
	read_time(d, b, b->form.at);
	keep(d, b);
	if (b->waiting.name[0] == '\0')
		bench_fini(&b->bench);
	b->waiting_known = false;
	b->mode = BD_MODE_CHOOSE;
	load(d, b);
	return true;
}

static bool
scan(struct desk *d, void *state, const struct desk_scan *s)
{
	struct breakdown_desk *b = state;
	struct breakdown_begin w = { .batch = s->code };

	if (s->kind == SCAN_PORTION) {
		desk_say(d, LEVEL_NOTE, "%s", tr(SAY_BD_NOT_A_BATCH));
		return true;
	}
	if (s->kind != SCAN_BATCH)
		return false;
	if (bd_with_scan(d, b, s->code))
		return true;
	breakdown_begin(d, &w);
	return true;
}

static bool
typing(const void *state, const struct key *k)
{
	const struct breakdown_desk *b = state;

	return b->mode == BD_MODE_WORK && form_typing(&b->form, k);
}

const struct screen screen_breakdown = {
	.title = SAY_BD_TITLE,
	.actions = actions,
	.state_size = sizeof(struct breakdown_desk),
	.init = init,
	.fini = fini,
	.load = load,
	.draw = bd_draw,
	.key = key,
	.act = act,
	.scan = scan,
	.typing = typing,
	.can = can,
	.tick = tick,
};
