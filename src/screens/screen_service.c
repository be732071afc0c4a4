/* screen_service.c - scan out, and close a service. */
#include <string.h>

#include "base/str.h"
#include "says_service.h"
#include "screens/undo.h"
#include "service.h"

enum service_action {
	ACT_USE = 1,
	ACT_UNDO,
	ACT_CLOSE,
	ACT_CORRECT,
	ACT_PRESENT,
	ACT_BEFORE,
	ACT_AFTER,
	ACT_RECORD,
};

#define CH(c)                                                                  \
	{                                                                      \
		KEY_CODE_CHAR, c                                               \
	}
static const struct action actions[] = {
	{ ACT_RECORD, { KEY_CODE_F12, 0 }, SAY_SERVE_KEY_RECORD,
	    SAY_SERVE_KEY_RECORD_HELP },
	{ ACT_USE, CH('u'), SAY_SERVE_KEY_USE, SAY_SERVE_KEY_USE_HELP },
	{ ACT_UNDO, CH('z'), SAY_SERVE_KEY_UNDO, SAY_SERVE_KEY_UNDO_HELP },
	{ ACT_CLOSE, CH('c'), SAY_SERVE_KEY_CLOSE, SAY_SERVE_KEY_CLOSE_HELP },
	{ ACT_CORRECT, CH('k'), SAY_SERVE_KEY_CORRECT,
	    SAY_SERVE_KEY_CORRECT_HELP },
	{ ACT_PRESENT, CH('x'), SAY_SERVE_KEY_PRESENT,
	    SAY_SERVE_KEY_PRESENT_HELP },
	{ ACT_BEFORE, { KEY_CODE_LEFT, 0 }, SAY_SERVE_KEY_BEFORE,
	    SAY_SERVE_KEY_BEFORE_HELP },
	{ ACT_AFTER, { KEY_CODE_RIGHT, 0 }, SAY_SERVE_KEY_AFTER,
	    SAY_SERVE_KEY_AFTER_HELP },
	{ 0, { KEY_CODE_NONE, 0 }, NULL, NULL },
};
#undef CH

/* --- the page -------------------------------------------------------------*/

static bool
is_at(
    const struct service_screen *s, day_no day, const struct service_window *w)
{
	return s->loaded && s->page.day == day && s->page.window == w;
}

/* Put the forecast in when it is made; `wait_ms` as service_beside_take(). */
static void
take_forecast(struct desk *d, struct service_screen *s, int wait_ms)
{
	struct err err = { 0 };
	enum rc rc;

	if (s->beside == NULL)
		return;
	rc = service_beside_take(&s->page, d->sn, s->beside, wait_ms, &err);
	if (rc == RC_END)
		return;
	service_beside_free(s->beside);
	s->beside = NULL;
	if (rc != RC_OK)
		desk_fail(d, &err);
}

/* A new forecast, when there is none or it may no longer be right.  One at a
 * time: what comes of one for a sitting no longer shown is left out. */
static void
want_forecast(struct desk *d, struct service_screen *s)
{
	struct err err = { 0 };
	int64_t now;
	enum rc rc;

	if (s->beside != NULL)
		return;
	rc = service_recorded(&now, d->sn, s->recorded, &err);
	if (rc == RC_OK && now == s->recorded && !s->page.due)
		return;
	if (rc == RC_OK) {
		s->recorded = now;
		rc = service_beside_start(&s->beside, d->sn, &s->page, &err);
	}
	if (rc != RC_OK)
		desk_fail(d, &err);
	/* Where nothing surrounds the desk it is waited for: what is seen must
	 * not depend on who is faster. */
	if (d->host == NULL || d->host->print == NULL)
		take_forecast(d, s, -1);
}

/* The page was loaded again: the chosen dish stays chosen, wherever it stands
 * now.  `at` is its code, empty when none was. */
static void
keep_dish(struct service_screen *s, const char *at)
{
	size_t i;

	s->list.count = s->loaded ? (int)s->page.dish_count : 0;
	for (i = 0; s->loaded && i < s->page.dish_count; i++)
		if (str_eq(s->page.dishes[i].dish, at))
			s->list.at = (int)i;
	list_fit(&s->list);
}

/* The code of the chosen dish, or "". */
static void
chosen_dish(char *dst, size_t size, const struct service_screen *s)
{
	bool any = s->loaded && s->list.at >= 0 &&
	    s->list.at < (int)s->page.dish_count;

	str_copy(dst, size, any ? s->page.dishes[s->list.at].dish : "");
}

/* What is shown stays when it cannot be read. */
static void
fetch(struct desk *d, struct service_screen *s, day_no day,
    const struct service_window *w)
{
	char at[sizeof(s->page.dishes->dish)];
	struct service_page page;
	struct err err = { 0 };

	chosen_dish(at, sizeof(at), s);
	if (is_at(s, day, w)) {
		if (service_page_again(&s->page, d->sn, &err) != RC_OK)
			desk_fail(d, &err);
	} else if (service_page_load(&page, d->sn, day, w, false, &err) !=
	    RC_OK) {
		desk_fail(d, &err);
	} else {
		if (s->loaded)
			service_page_fini(&s->page);
		s->page = page;
		s->loaded = true;
	}
	if (s->loaded)
		want_forecast(d, s);
	keep_dish(s, at);
}

static void
load(struct desk *d, void *state)
{
	struct service_screen *s = state;
	const struct service_window *w = s->page.window;
	day_no day = s->page.day;

	if (!s->other || !s->loaded)
		service_page_default(&day, &w, d->sn);
	fetch(d, s, day, w);
}

/* The present sitting changes as time goes by. */
static void
tick(struct desk *d, void *state)
{
	struct service_screen *s = state;
	char at[sizeof(s->page.dishes->dish)];
	const struct service_window *w;
	day_no day;

	if (s->beside != NULL) {
		chosen_dish(at, sizeof(at), s);
		take_forecast(d, s, 0);
		want_forecast(d, s);
		keep_dish(s, at);
	}
	if (s->other || !s->loaded || d->at != SCREEN_SERVICE ||
	    d->sheet_count > 0 || s->close.shown)
		return;
	service_page_default(&day, &w, d->sn);
	if (!is_at(s, day, w))
		fetch(d, s, day, w);
}

static void
step(struct desk *d, struct service_screen *s, int by)
{
	const struct service_window *w = s->page.window, *present;
	day_no day = s->page.day, today;

	service_page_step(&day, &w, &d->sn->cfg, by);
	service_page_default(&today, &present, d->sn);
	s->other = day != today || w != present;
	d->notice[0] = '\0'; /* it was about the other one */
	fetch(d, s, day, w);
	s->list.at = s->list.top = 0;
	list_fit(&s->list);
}

static void
fini(void *state)
{
	struct service_screen *s = state;

	service_beside_free(s->beside);
	if (s->loaded)
		service_page_fini(&s->page);
}

/* --- scan out -------------------------------------------------------------*/

/* False: nothing goes out for the sitting shown, and why is said. */
static bool
may_go_out(struct desk *d, const struct service_screen *s)
{
	if (!s->other)
		return true;
	if (s->page.phase == SERVICE_AHEAD)
		desk_say(d, LEVEL_REFUSED, "%s", tr(SAY_SERVE_LATER));
	else if (!s->page.booked)
		desk_say(d, LEVEL_REFUSED, "%s", tr(SAY_SERVE_NO_BOOK_OTHER));
	else
		return true;
	return false;
}

static void
use_code(struct desk *d, struct service_screen *s, const char *code)
{
	if (!may_go_out(d, s))
		return;
	s->deed.done = NULL;
	deed_use(d, &s->deed, code, s->page.booked ? s->page.label : "");
}

static bool
scan(struct desk *d, void *state, const struct desk_scan *sc)
{
	struct service_screen *s = state;
	char shown[CODE_SIZE];

	if (!s->loaded || (sc->kind != SCAN_PORTION && sc->kind != SCAN_BATCH))
		return false;
	/* A scan in the middle of a close is no part of it. */
	if (s->close.shown)
		s->close.shown = false;
	if (sc->kind == SCAN_BATCH)
		desk_say(d, LEVEL_REFUSED, tr(SAY_SERVE_IS_BATCH),
		    code_show(shown, sc->code));
	else
		use_code(d, s, sc->code);
	return true;
}

static void
use_next(struct desk *d, struct service_screen *s)
{
	const struct service_dish *dish = &s->page.dishes[s->list.at];

	if (dish->next_count == 0)
		desk_say(d, LEVEL_NOTE, tr(SAY_SERVE_NONE_LEFT), dish->name);
	else
		use_code(d, s, dish->next[0].code);
}

/* --- keys -----------------------------------------------------------------*/

static bool
key(struct desk *d, void *state, const struct key *k)
{
	struct service_screen *s = state;

	if (s->close.shown)
		return service_close_key(d, s, k);
	return list_key(&s->list, k);
}

static bool
typing(const void *state, const struct key *k)
{
	const struct service_screen *s = state;

	return s->close.shown && form_typing(&s->close.form, k);
}

static void
act(struct desk *d, void *state, int action)
{
	struct service_screen *s = state;

	switch (action) {
	case ACT_USE:
		use_next(d, s);
		break;
	case ACT_UNDO:
		undo_ask(d);
		break;
	case ACT_CLOSE:
	case ACT_CORRECT:
		service_close_begin(d, s);
		break;
	case ACT_RECORD:
		service_close_record(d, s);
		break;
	case ACT_PRESENT:
		s->other = false;
		d->notice[0] = '\0';
		load(d, s);
		break;
	default:
		step(d, s, action == ACT_BEFORE ? -1 : 1);
	}
}

static bool
can(const struct desk *d, const void *state, int action)
{
	const struct service_screen *s = state;
	const struct service_page *g = &s->page;

	(void)d;
	if (!s->loaded)
		return false;
	if (s->close.shown || action == ACT_RECORD)
		return s->close.shown && action == ACT_RECORD;
	switch (action) {
	case ACT_USE:
		return s->list.count > 0 && !g->closed;
	case ACT_UNDO:
		return g->uses.count > 0;
	case ACT_CLOSE:
		return g->booked && !g->closed && g->phase != SERVICE_AHEAD;
	case ACT_CORRECT:
		return g->closed;
	case ACT_PRESENT:
		return s->other;
	default:
		return true;
	}
}

const struct screen screen_service = {
	.title = SAY_SERVE_TITLE,
	.actions = actions,
	.state_size = sizeof(struct service_screen),
	.fini = fini,
	.load = load,
	.draw = service_draw,
	.key = key,
	.act = act,
	.scan = scan,
	.typing = typing,
	.can = can,
	.tick = tick,
};
