/* screens_missing.c - stands in for what is not built yet; goes with it. */
#include "base/str.h"
#include "breakdown.h"
#include "says_desk.h"
#include "screens/people.h"
#include "screens/undo.h"

static void
draw(struct desk *d, void *state, const struct pane *p)
{
	(void)d;
	(void)state;
	pane_put(p, 0, 0, STYLE_PLAIN, "not built yet");
}

#define MISSING(name, t)                                                       \
	extern const struct screen screen_##name;                              \
	__attribute__((weak))                                                  \
	const struct screen screen_##name = { .title = t, .draw = draw };

MISSING(today, SAY_TODAY)
MISSING(goods_in, SAY_GOODS_IN)
MISSING(prep_list, SAY_PREP_LIST)
MISSING(breakdown, SAY_BREAKDOWN)
MISSING(on_hand, SAY_ON_HAND)
MISSING(service, SAY_SERVICE)
MISSING(trace, SAY_TRACE)
MISSING(menu, SAY_MENU)
MISSING(printing, SAY_PRINTING)
MISSING(records, SAY_RECORDS)

static void
named(struct desk *d, void *arg, const char *text)
{
	(void)arg;
	str_copy(d->by, sizeof(d->by), text);
	if (d->record.go != NULL)
		people_pin(d, d->record.duty, d->record.go, d->record.arg);
}

__attribute__((weak)) void
people_choose(struct desk *d, desk_fn *go, void *arg)
{
	(void)go;
	desk_ask_text(
	    d, tr(SAY_ASK_INITIALS), tr(SAY_ASK_INITIALS_HINT), named, arg);
}

__attribute__((weak)) void
people_pin(struct desk *d, enum duty duty, desk_fn *go, void *arg)
{
	(void)duty;
	go(d, arg);
}

__attribute__((weak)) void
undo_ask(struct desk *d)
{
	(void)d;
}

__attribute__((weak)) void
breakdown_begin(struct desk *d, const struct breakdown_begin *b)
{
	(void)b;
	desk_show(d, SCREEN_BREAKDOWN);
}
