/* screen_help.c - every key, from the same rows as the footer. */
#include "base/str.h"
#include "desk_inner.h"
#include "says_desk.h"
#include "term/pager.h"

struct help {
	struct pager pager;
	enum screen_id of; /* the screen it was made for */
};

static void
put_key(struct buf *out, const char *name, const char *text)
{
	const char *shown = tr(name);
	int pad = 10 - text_columns(shown);

	buf_printf(out, "  %s%*s%s\n", shown, pad < 1 ? 1 : pad, "", tr(text));
}

static void
put_actions(struct buf *out, const struct action *a)
{
	char name[KEY_NAME_SIZE];

	for (; a != NULL && a->id != 0; a++)
		if (a->help != NULL)
			put_key(out, key_label(name, &a->key), a->help);
}

static void
load(struct desk *d, void *state)
{
	struct help *h = state;
	enum screen_id of = d->before == SCREEN_HELP ? SCREEN_TODAY : d->before;
	char name[KEY_NAME_SIZE];
	struct buf out;
	struct key k;
	int i;

	if (h->pager.text != NULL && h->of == of)
		return; /* stay where it was read to */
	h->of = of;
	buf_init(&out, 32768);
	if (screens[of]->actions != NULL) {
		buf_printf(&out, tr(SAY_HELP_ON), tr(screens[of]->title));
		buf_putc(&out, '\n');
		put_actions(&out, screens[of]->actions);
		buf_putc(&out, '\n');
	}
	buf_printf(&out, "%s\n", tr(SAY_HELP_SCREENS));
	put_key(&out, "F1", SAY_HELP_F1);
	for (i = 1; i < (int)SCREEN_COUNT; i++) {
		k = key_of((enum key_code)(KEY_CODE_F1 + i));
		put_key(&out, key_label(name, &k), screens[i]->title);
	}
	buf_printf(&out, "\n%s\n", tr(SAY_HELP_EVERYWHERE));
	put_key(&out, "Enter", SAY_HELP_ENTER);
	put_key(&out, "Esc", SAY_HELP_ESC);
	put_key(&out, SAY_KEY_ARROWS, SAY_HELP_ARROWS);
	put_actions(&out, desk_actions);
	buf_printf(&out, "\n%s\n\n%s\n", tr(SAY_HELP_SCAN), tr(SAY_HELP_TYPE));
	pager_set(&h->pager, buf_text(&out));
	buf_fini(&out);
}

static void
fini(void *state)
{
	struct help *h = state;

	pager_fini(&h->pager);
}

static void
draw(struct desk *d, void *state, const struct pane *p)
{
	struct help *h = state;

	(void)d;
	pager_draw(&h->pager, p);
}

static bool
key(struct desk *d, void *state, const struct key *k)
{
	struct help *h = state;

	(void)d;
	return pager_key(&h->pager, k);
}

const struct screen screen_help = {
	.title = SAY_HELP,
	.state_size = sizeof(struct help),
	.load = load,
	.fini = fini,
	.draw = draw,
	.key = key,
};
