/* screen_prep_list.c - the work of a service in working order. */
#include <inttypes.h>
#include <string.h>

#include "base/str.h"
#include "breakdown.h"
#include "ops/work_mark.h"
#include "prep_list.h"
#include "says_prep_list.h"

/* A plan that took longer is made again only when asked (decision 11), and one
 * that was made so long ago also when nothing was recorded: stock expires. */
#define CHEAP_MS 2000
#define OLD_S 600
/* A first plan mostly comes within a frame: better than to show none. */
#define FIRST_WAIT_MS 12

static const struct action actions[] = {
	{ PL_START, { KEY_CODE_ENTER, 0 }, SAY_PL_START, SAY_PL_START_HELP },
	{ PL_TICK, { KEY_CODE_CHAR, 't' }, SAY_PL_TICK, SAY_PL_TICK_HELP },
	{ PL_WHY, { KEY_CODE_CHAR, 'y' }, SAY_PL_WHY, SAY_PL_WHY_HELP },
	{ PL_CUT, { KEY_CODE_CHAR, 'c' }, SAY_PL_CUT, SAY_PL_CUT_HELP },
	{ PL_ORDER, { KEY_CODE_CHAR, 'o' }, SAY_PL_ORDER, SAY_PL_ORDER_HELP },
	{ PL_PRINT, { KEY_CODE_CHAR, 'l' }, SAY_PL_PRINT, SAY_PL_PRINT_HELP },
	{ PL_FISH, { KEY_CODE_CHAR, 'f' }, SAY_PL_FISH, SAY_PL_FISH_HELP },
	{ PL_EXPECT, { KEY_CODE_CHAR, 'e' }, SAY_PL_EXPECT,
	    SAY_PL_EXPECT_HELP },
	{ PL_VIEW, { KEY_CODE_CHAR, 'v' }, SAY_PL_VIEW, SAY_PL_VIEW_HELP },
	{ PL_SERVICE, { KEY_CODE_CHAR, 's' }, SAY_PL_SERVICE,
	    SAY_PL_SERVICE_HELP },
	{ PL_PLAN, { KEY_CODE_CHAR, 'p' }, SAY_PL_PLAN, SAY_PL_PLAN_HELP },
	{ PL_MIND, { KEY_CODE_CHAR, 'm' }, SAY_PL_MIND, SAY_PL_MIND_HELP },
	{ 0, { KEY_CODE_NONE, 0 }, NULL, NULL },
};

struct prep_screen *
prep_list_of(const struct desk *d)
{
	return d->states[SCREEN_PREP_LIST];
}

static void
fini(void *state)
{
	struct prep_screen *l = state;

	prep_beside_free(l->making);
	prep_page_free(l->page);
}

/* --- what is chosen --------------------------------------------------------*/

const struct prep_task *
prep_list_task(const struct prep_screen *l)
{
	if (l->page == NULL || l->by_dish || l->tasks.at < 0 ||
	    (size_t)l->tasks.at >= l->page->task_count)
		return NULL;
	return &l->page->tasks[l->tasks.at];
}

const struct work_mark *
prep_list_gone(const struct prep_screen *l)
{
	size_t at = (size_t)l->tasks.at;

	if (l->page == NULL || l->by_dish || l->tasks.at < 0 ||
	    at < l->page->task_count ||
	    at - l->page->task_count >= l->page->gone_count)
		return NULL;
	return &l->page->gone[at - l->page->task_count];
}

int
prep_list_line(const struct prep_screen *l)
{
	const struct prep_task *t = prep_list_task(l);

	if (l->page != NULL && l->by_dish)
		return l->dishes.at;
	return t == NULL ? -1 : t->line;
}

const char *
prep_list_what(const struct prep_screen *l, const struct prep_task *t)
{
	if (t->job >= 0)
		return l->page->plan->lines[t->line].cut.dish_name;
	return l->page->work->tasks[t->first].kind == TASK_CLEANDOWN
	    ? tr(SAY_PL_CLEANDOWN)
	    : tr(SAY_PL_CHANGE);
}

/* --- the plan --------------------------------------------------------------*/

/* The row that was chosen stays chosen, wherever its task is now. */
static void
show_page(struct prep_screen *l, struct prep_page *p)
{
	struct work_key key = { .step = "" };
	const struct prep_task *t = prep_list_task(l);
	size_t i;

	if (t != NULL)
		key = t->key;
	prep_page_free(l->page);
	l->page = p;
	l->why_not[0] = '\0';
	l->stale = l->said = false;
	l->tasks.count = (int)(p->task_count + p->gone_count);
	l->dishes.count = (int)p->plan->count;
	for (i = 0; i < p->task_count && key.step[0] != '\0'; i++)
		if (work_key_same(&p->tasks[i].key, &key))
			l->tasks.at = (int)i;
	list_fit(&l->tasks);
	list_fit(&l->dishes);
}

static void
begin(struct desk *d, struct prep_screen *l)
{
	struct plan_wish wish = {
		.service = l->service,
		.says = l->says,
		.say_count = l->say_count,
	};
	struct err err = { 0 };

	l->outdated = false;
	if (prep_page_version(&l->tried, d->sn, &err) != RC_OK ||
	    prep_beside_start(&l->making, d->sn, &wish, &err) != RC_OK)
		str_copy(l->why_not, sizeof(l->why_not), err.text);
}

/* A word about fish that cannot be is taken back; the plan before it stays. */
static void
refuse_plan(struct desk *d, struct prep_screen *l, const struct err *err)
{
	if (l->said && l->say_count > 0 && l->page != NULL) {
		l->say_count--;
		l->said = false;
		l->why_not[0] = '\0';
		desk_fail(d, err);
		return;
	}
	prep_page_free(l->page);
	l->page = NULL;
	str_copy(l->why_not, sizeof(l->why_not), err->text);
}

/* Take the plan when it is ready; wait at most `wait_ms` for it. */
static void
take(struct desk *d, struct prep_screen *l, int wait_ms)
{
	struct prep_page *p = NULL;
	struct err err = { 0 };
	enum rc rc;

	while (l->making != NULL) {
		rc = prep_beside_take(&p, l->making, wait_ms, &err);
		if (rc == RC_END)
			return;
		prep_beside_free(l->making);
		l->making = NULL;
		if (l->outdated) {
			prep_page_free(p);
			err_clear(&err);
			begin(d, l);
			continue;
		}
		if (rc == RC_OK) {
			show_page(l, p);
			return;
		}
		refuse_plan(d, l, &err);
	}
}

/* A desk nobody sends labels for is a test's: what is seen there must not
 * depend on who is faster. */
static int
patience(const struct desk *d, const struct prep_screen *l)
{
	if (d->host == NULL || d->host->print == NULL)
		return -1;
	return l->page == NULL ? FIRST_WAIT_MS : 0;
}

void
prep_list_plan(struct desk *d, struct prep_screen *l)
{
	if (l->service[0] == '\0')
		return;
	if (l->making != NULL)
		l->outdated = true;
	else
		begin(d, l);
	take(d, l, patience(d, l));
}

/* The service asked for while it is coming, else the next one. */
static void
choose_service(struct prep_screen *l)
{
	const char *next =
	    l->services.count > 0 ? l->services.items[0].text : "";
	size_t i;

	for (i = 0; l->chosen && i < l->services.count; i++)
		if (str_eq(l->services.items[i].text, l->service))
			return;
	l->chosen = false;
	if (str_eq(next, l->service))
		return;
	str_copy(l->service, sizeof(l->service), next);
	prep_page_free(l->page);
	l->page = NULL;
	l->outdated = true;
}

static bool
wants_plan(const struct desk *d, const struct prep_screen *l, int64_t recorded)
{
	if (l->page == NULL)
		return l->why_not[0] == '\0' || recorded != l->tried;
	return recorded != l->page->recorded ||
	    clock_now(&d->sn->clock) - l->page->made_utc > OLD_S;
}

static void
load(struct desk *d, void *state)
{
	struct prep_screen *l = state;
	struct err err = { 0 };
	int64_t recorded;

	take(d, l, 0);
	if (prep_services(&l->services, d->sn, &err) != RC_OK ||
	    prep_page_version(&recorded, d->sn, &err) != RC_OK) {
		desk_fail(d, &err);
		return;
	}
	choose_service(l);
	if (l->service[0] == '\0')
		return;
	if (l->page != NULL && prep_page_marks(l->page, d->sn, &err) != RC_OK) {
		desk_fail(d, &err);
		return;
	}
	if (l->making == NULL && wants_plan(d, l, recorded)) {
		l->stale = l->page != NULL && l->page->took_ms > CHEAP_MS;
		if (!l->stale)
			prep_list_plan(d, l);
	} else if (l->making != NULL && l->outdated) {
		take(d, l, patience(d, l));
	}
	if (l->page != NULL)
		l->tasks.count =
		    (int)(l->page->task_count + l->page->gone_count);
	list_fit(&l->tasks);
}

static void
tick(struct desk *d, void *state)
{
	take(d, state, 0);
}

/* --- ticks -----------------------------------------------------------------*/

static void
say_mark(struct desk *d, void *arg)
{
	struct prep_screen *l = arg;
	struct work_say say = { .service = l->asked,
		.key = l->mark.key,
		.said = l->mark.said,
		.by = d->by };
	struct err err = { 0 };

	if (work_mark_say(NULL, d->sn, &say, &err) != RC_OK) {
		desk_fail(d, &err);
		return;
	}
	desk_say(d, LEVEL_DONE,
	    l->mark.said == WORK_DONE ? tr(SAY_PL_TICKED) : tr(SAY_PL_OPENED),
	    l->mark.what);
	/* On to the next, as on paper. */
	if (l->mark.said == WORK_DONE && l->page != NULL &&
	    l->tasks.at + 1 < (int)l->page->task_count)
		l->tasks.at++;
}

static void
open_again(struct desk *d, void *arg)
{
	desk_record(d, DUTY_ANYONE, say_mark, arg);
}

static void
ask_open(struct desk *d, struct prep_screen *l, const char *by)
{
	char text[200];

	str_fmt(text, sizeof(text), tr(SAY_PL_ASK_OPEN_TEXT), by);
	l->mark.said = WORK_REOPENED;
	desk_ask_yes(d, tr(SAY_PL_ASK_OPEN), text, open_again, l);
}

static void
tick_off(struct desk *d, struct prep_screen *l)
{
	const struct prep_task *t = prep_list_task(l);
	const struct work_mark *gone = prep_list_gone(l);

	str_copy(l->asked, sizeof(l->asked), l->service);
	if (gone != NULL) {
		l->mark.key = gone->key;
		str_copy(l->mark.what, sizeof(l->mark.what), gone->dish_name);
		ask_open(d, l, gone->at.by);
		return;
	}
	if (t == NULL) {
		desk_say(d, LEVEL_NOTE, "%s", tr(SAY_PL_NO_ROW));
		return;
	}
	l->mark.key = t->key;
	str_copy(l->mark.what, sizeof(l->mark.what), prep_list_what(l, t));
	if (t->said == WORK_DONE) {
		ask_open(d, l, t->by.by);
		return;
	}
	l->mark.said = WORK_DONE;
	desk_record(d, DUTY_ANYONE, say_mark, l);
}

/* --- a breakdown is begun --------------------------------------------------*/

/* The task that was asked for, if the plan still has it. */
static const struct prep_task *
marked(const struct prep_screen *l)
{
	size_t i;

	if (l->page == NULL || !str_eq(l->service, l->asked))
		return NULL;
	for (i = 0; i < l->page->task_count; i++)
		if (work_key_same(&l->page->tasks[i].key, &l->mark.key) &&
		    !l->page->tasks[i].later)
			return &l->page->tasks[i];
	return NULL;
}

static void
start_now(struct desk *d, void *arg)
{
	struct prep_screen *l = arg;
	const struct prep_task *t = marked(l);
	struct work_say say = {
		.service = l->service, .said = WORK_STARTED, .by = d->by
	};
	struct breakdown_begin b = { .service = l->service };
	struct work_key key;
	struct err err = { 0 };

	if (t == NULL || t->job < 0) {
		desk_say(d, LEVEL_NOTE, "%s", tr(SAY_PL_CHANGED));
		return;
	}
	if (t->said == WORK_DONE) {
		desk_say(d, LEVEL_NOTE, tr(SAY_PL_IS_DONE), t->by.by);
		return;
	}
	key = say.key = t->key;
	b.batch = key.batch;
	b.dish = key.dish;
	b.step = key.step;
	b.fish = l->page->jobs[t->job].fish;
	b.portions = l->page->jobs[t->job].portions;
	if (t->said == WORK_REOPENED &&
	    work_mark_say(NULL, d->sn, &say, &err) != RC_OK) {
		desk_fail(d, &err);
		return;
	}
	breakdown_begin(d, &b);
}

/* The fish are cut where their job comes last. */
static void
go_further(struct desk *d, struct prep_screen *l, const struct prep_task *t)
{
	size_t i;

	for (i = 0; i < l->page->task_count; i++)
		if (l->page->tasks[i].job == t->job && !l->page->tasks[i].later)
			l->tasks.at = (int)i;
	desk_say(d, LEVEL_NOTE, "%s", tr(SAY_PL_FIRST_STEP));
}

static void
start(struct desk *d, struct prep_screen *l)
{
	const struct prep_task *t = prep_list_task(l);

	if (l->by_dish) {
		l->by_dish = false;
		return;
	}
	if (t == NULL)
		desk_say(d, LEVEL_NOTE, "%s", tr(SAY_PL_NO_ROW));
	else if (t->job < 0)
		desk_say(d, LEVEL_NOTE, "%s", tr(SAY_PL_BENCH));
	else if (t->said == WORK_DONE)
		desk_say(d, LEVEL_NOTE, tr(SAY_PL_IS_DONE), t->by.by);
	else if (t->later)
		go_further(d, l, t);
	else {
		str_copy(l->asked, sizeof(l->asked), l->service);
		l->mark.key = t->key;
		desk_record(d, DUTY_ANYONE, start_now, l);
	}
}

/* --- texts to read ---------------------------------------------------------*/

static void
read_text(struct desk *d, const struct prep_screen *l, int action)
{
	const char *title = tr(SAY_PL_TITLE_WHY);
	struct buf text;
	int line = prep_list_line(l);
	size_t i;

	buf_init(&text, 262144);
	if (action == PL_CUT) {
		title = tr(SAY_PL_TITLE_CUT);
		prep_cuts(&text, l->page, NULL);
		if (text.len == 0)
			buf_puts(&text, tr(SAY_PL_NO_CUT));
	} else if (action == PL_ORDER) {
		title = tr(SAY_PL_TITLE_ORDER);
		prep_orders(&text, l->page);
	} else if (action == PL_MIND) {
		title = tr(SAY_PL_TITLE_MIND);
		prep_cautions(&text, l->page);
	} else if (line >= 0) {
		prep_line_why(&text, l->page, (size_t)line);
	} else {
		for (i = 0; i < l->page->plan->count; i++) {
			prep_line_why(&text, l->page, i);
			buf_putc(&text, '\n');
		}
	}
	desk_read(d, title, buf_text(&text));
	buf_fini(&text);
}

static void
act(struct desk *d, void *state, int action)
{
	struct prep_screen *l = state;

	switch ((enum prep_list_action)action) {
	case PL_START:
		start(d, l);
		break;
	case PL_TICK:
		tick_off(d, l);
		break;
	case PL_WHY:
	case PL_CUT:
	case PL_ORDER:
	case PL_MIND:
		read_text(d, l, action);
		break;
	case PL_VIEW:
		l->by_dish = !l->by_dish;
		break;
	case PL_SERVICE:
		prep_list_ask_service(d, l);
		break;
	case PL_FISH:
		prep_list_ask_fish(d, l);
		break;
	case PL_EXPECT:
		prep_list_ask_expect(d, l);
		break;
	case PL_PRINT:
		prep_list_ask_print(d, l);
		break;
	case PL_PLAN:
		prep_list_plan(d, l);
		break;
	}
}

static bool
can(const struct desk *d, const void *state, int action)
{
	const struct prep_screen *l = state;

	(void)d;
	if (action == PL_SERVICE)
		return l->services.count > 1;
	if (action == PL_PLAN || action == PL_EXPECT)
		return l->service[0] != '\0';
	if (l->page == NULL || l->page->plan->count == 0)
		return false;
	if (action == PL_START || action == PL_TICK)
		return l->tasks.count > 0;
	return action != PL_CUT || l->page->plan->fish_seen > 0;
}

static bool
key(struct desk *d, void *state, const struct key *k)
{
	struct prep_screen *l = state;

	(void)d;
	if (l->by_dish && k->code == KEY_CODE_ESC) {
		l->by_dish = false;
		return true;
	}
	return list_key(l->by_dish ? &l->dishes : &l->tasks, k);
}

/* A batch scanned here chooses its first open task. */
static bool
scan(struct desk *d, void *state, const struct desk_scan *s)
{
	struct prep_screen *l = state;
	const struct prep_task *t;
	size_t i;

	(void)d;
	for (i = 0; s->kind == SCAN_BATCH && l->page != NULL &&
	     i < l->page->task_count;
	     i++) {
		t = &l->page->tasks[i];
		if (t->job < 0 || t->said == WORK_DONE ||
		    !str_eq(t->key.batch, s->code))
			continue;
		l->by_dish = false;
		l->tasks.at = (int)i;
		return true;
	}
	return false;
}

const struct screen screen_prep_list = {
	.title = SAY_PL_TITLE,
	.actions = actions,
	.state_size = sizeof(struct prep_screen),
	.fini = fini,
	.load = load,
	.draw = prep_list_draw,
	.key = key,
	.act = act,
	.scan = scan,
	.can = can,
	.tick = tick,
};
