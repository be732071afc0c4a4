/* hand_use.c - a unit that is to be used: at once, how many, or why not. */
#include <string.h>

#include "base/mem.h"
#include "base/str.h"
#include "hand_deed.h"
#include "hand_words.h"
#include "ops/on_hand.h"
#include "says_hand.h"

/* --- not this one, loudly -------------------------------------------------*/

struct refusal {
	const char *big;
	char text[400];
};

static void
refusal_draw(struct desk *d, void *state, const struct pane *p)
{
	const struct refusal *r = state;
	struct pane below;

	(void)d;
	hand_big(p, 0, 0, STYLE_BAD, tr(r->big));
	below = pane_part(p, 0, BIG_ROWS + 1, p->w, p->h - BIG_ROWS - 1);
	(void)pane_wrap(&below, 0, STYLE_STRONG, r->text);
}

static bool
refusal_key(struct desk *d, void *state, const struct key *k)
{
	(void)state;
	if (k->code != KEY_CODE_ENTER)
		return false;
	desk_shut(d);
	return true;
}

/* The right one is scanned at once: no key is needed in between. */
static bool
refusal_scan(struct desk *d, void *state, const struct desk_scan *s)
{
	struct desk_scan copy = *s;

	(void)state;
	desk_pass(d, d->at, &copy);
	return true;
}

static const struct sheet refusal_sheet = {
	.title = SAY_NO_TITLE,
	.draw = refusal_draw,
	.key = refusal_key,
	.scan = refusal_scan,
	.want_w = 66,
	.want_h = BIG_ROWS + 4,
};

static void
refuse(struct desk *d, const struct use_look *l)
{
	const struct portion *p = &l->portion;
	struct refusal *r = xcalloc(1, sizeof(*r));
	char code[CODE_SIZE], onto[CODE_SIZE], date[64];
	size_t n = sizeof(r->text);

	code_show(code, p->code);
	hand_date_at(date, sizeof(date), p->use_by_utc);
	if (l->verdict == USE_EXPIRED) {
		r->big = SAY_NO_EXPIRED;
		str_fmt(r->text, n, tr(SAY_NO_EXPIRED_TEXT), code, p->dish_name,
		    date);
	} else if (l->verdict == USE_HELD) {
		r->big = SAY_NO_HELD;
		str_fmt(r->text, n, tr(SAY_NO_HELD_TEXT), code, p->dish_name);
	} else if (l->verdict == USE_FROZEN) {
		r->big = SAY_NO_FROZEN;
		str_fmt(r->text, n, tr(SAY_NO_FROZEN_TEXT), code, p->dish_name);
	} else if (l->onto[0] != '\0') {
		r->big = SAY_NO_USED_UP;
		str_fmt(r->text, n, tr(SAY_NO_ONTO_TEXT), code, p->dish_name,
		    code_show(onto, l->onto));
	} else {
		r->big = SAY_NO_USED_UP;
		str_fmt(
		    r->text, n, tr(SAY_NO_USED_UP_TEXT), code, p->dish_name);
	}
	d->notice[0] = '\0'; /* the sheet says it all */
	desk_open(d, &refusal_sheet, r);
}

/* --- how many -------------------------------------------------------------*/

/* Which row of On hand it is, so that it is found on the shelf. */
static enum rc
find_row(struct deed *g, struct station *sn, struct err *err)
{
	struct on_hand_wish w = { .limit = 1, .code = g->look.older.code };
	struct on_hand_page p;
	enum rc rc = on_hand_load(&p, sn, &w, err);

	if (rc == RC_OK) {
		g->older_row = p.found + 1;
		on_hand_fini(&p);
	}
	return rc;
}

static void
take_unit(struct deed_unit *u, const struct portion *p)
{
	memset(u, 0, sizeof(*u));
	u->kind = CODE_PORTION;
	str_copy(u->code, sizeof(u->code), p->code);
	str_copy(u->name, sizeof(u->name), p->dish_name);
	u->left = p->left;
	u->use_by_utc = p->use_by_utc;
}

void
deed_use(struct desk *d, struct deed *g, const char *code, const char *service)
{
	struct err err = { 0 };
	enum rc rc;

	g->kind = DEED_USE;
	g->count = 1;
	g->run = false;
	str_copy(g->service, sizeof(g->service), service);
	rc = use_look(&g->look, d->sn, code, &err);
	if (rc == RC_OK && g->look.verdict == USE_OLDER_FIRST)
		rc = find_row(g, d->sn, &err);
	if (rc != RC_OK) {
		desk_fail(d, &err);
		return;
	}
	take_unit(&g->units[0], &g->look.portion);
	if (g->look.verdict != USE_MAY && g->look.verdict != USE_OLDER_FIRST) {
		refuse(d, &g->look);
	} else if (g->look.verdict == USE_MAY && g->units[0].left == 1) {
		g->number = 1;
		g->reason[0] = '\0';
		deed_record(d, g);
	} else {
		deed_ask(d, g);
	}
}
