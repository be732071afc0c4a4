/* goods_in_label.c - Goods in: a supplier's label fills the form. */
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "base/str.h"
#include "goods_in.h"
#include "says_goods_in.h"

static const char *
label_value(const struct receive_label *l, int field)
{
	return l->value[goods_concerns(field)];
}

/* Is it as the label before filled it? */
static bool
filled_by(const struct goods *g, const struct receive_label *l, int field)
{
	const char *says = label_value(l, field);
	const char *value = form_value(&g->form, field);

	return says[0] != '\0' && value != NULL && str_eq(says, value);
}

/* What was typed stays; the rest is as this label says. */
static int
fill(struct goods *g, const struct receive_label *now)
{
	int i, n = 0;

	for (i = 0; i < GOODS_FIELDS; i++) {
		if (g->form.fields[i].text[0] != '\0' &&
		    !filled_by(g, &g->label, i))
			continue;
		if (label_value(now, i)[0] == '\0' &&
		    g->form.fields[i].text[0] == '\0')
			continue;
		form_set(&g->form, i, label_value(now, i));
		n += label_value(now, i)[0] != '\0';
		if (i == GOODS_SPECIES)
			goods_form_choices(g);
	}
	g->label = *now;
	return n;
}

void
goods_label_off(struct goods *g)
{
	struct receive_label none;
	struct field *f;
	char text[FIELD_SIZE];
	int i;

	memset(&none, 0, sizeof(none));
	none.first_freeze = none.best_before = DAY_NONE;
	(void)fill(g, &none);
	while (g->scan_count > 0)
		free(g->scans[--g->scan_count]);
	/* What was said of the label at the fields goes with it. */
	for (i = 0; i < GOODS_FIELDS; i++) {
		f = &g->form.fields[i];
		/* a day stays the day it was typed for */
		str_copy(text, sizeof(text),
		    f->row->kind == FIELD_DATE && f->value[0] != '\0'
			? f->value
			: f->text);
		form_set(&g->form, i, text);
	}
}

static void
refuse_scan(struct desk *d, const struct goods *g, const struct err *err)
{
	char words[ERR_TEXT_MAX];

	goods_words(words, sizeof(words), err->text);
	if (g->scan_count == 0)
		desk_say(d, LEVEL_WARN, "%s", words);
	else
		desk_say(d, LEVEL_WARN, tr(SAY_GI_SCAN_OTHER), words);
}

void
goods_scan(struct desk *d, struct goods *g, const char *text)
{
	const char *all[RECEIVE_SCANS_MAX];
	struct receive_label now;
	struct err err = { 0 };
	size_t i;
	int n;

	if (g->page == PAGE_DONE)
		goods_form_next(g);
	g->page = PAGE_GOODS;
	for (i = 0; i < g->scan_count; i++) {
		all[i] = g->scans[i];
		if (str_eq(all[i], text)) {
			desk_say(d, LEVEL_NOTE, "%s", tr(SAY_GI_SCAN_AGAIN));
			return;
		}
	}
	if (i == RECEIVE_SCANS_MAX) {
		desk_say(
		    d, LEVEL_WARN, tr(SAY_GI_SCAN_MANY), RECEIVE_SCANS_MAX);
		return;
	}
	all[i] = text;
	if (receive_prefill(&now, d->sn, all, i + 1, &err) != RC_OK) {
		refuse_scan(d, g, &err);
		return;
	}
	g->scans[g->scan_count++] = xstrdup(text);
	n = fill(g, &now);
	g->form.dirty = true;
	if (n == 0)
		desk_say(d, LEVEL_NOTE, "%s", tr(SAY_GI_FILLED_NOTHING));
	else
		desk_say(d, LEVEL_NOTE, trn(SAY_GI_FILLED, n), n);
}

void
goods_label_marks(struct goods *g)
{
	char with[sizeof(g->form.fields[0].shown)];
	const char *says, *mark = tr(SAY_GI_FROM_LABEL);
	size_t before = strcspn(tr(SAY_GI_WITH_LABEL), "%");
	struct field *f;
	int i;

	for (i = 0; i < GOODS_FIELDS; i++) {
		f = &g->form.fields[i];
		says = label_value(&g->label, i);
		if (says[0] == '\0' || f->wrong[0] != '\0')
			continue;
		if (!filled_by(g, &g->label, i)) {
			str_fmt(f->shown, sizeof(f->shown),
			    tr(SAY_GI_LABEL_SAYS), says);
			continue;
		}
		if (str_eq(f->shown, mark) ||
		    strncmp(f->shown, tr(SAY_GI_WITH_LABEL), before) == 0)
			continue; /* said already */
		if (f->shown[0] == '\0') {
			str_fmt(f->shown, sizeof(f->shown), "%s", mark);
			continue;
		}
		str_fmt(with, sizeof(with), tr(SAY_GI_WITH_LABEL), f->shown);
		str_copy(f->shown, sizeof(f->shown), with);
	}
}
