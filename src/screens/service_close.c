/* service_close.c - close a service, or put a closed one right. */
#include <stdlib.h>
#include <string.h>

#include "base/str.h"
#include "ops/close.h"
#include "says_service.h"
#include "service.h"

#define LABEL_W 44
#define NAME_W 25 /* of a dish, in columns */
#define ANSWER_MAX 65536

/* --- the form -------------------------------------------------------------*/

/* So much of a name that what stands behind it is seen too. */
static void
short_name(char *dst, size_t size, const char *name)
{
	const char *at = name;
	size_t len = 0;
	int n = 0;
	uint32_t ch;

	while ((ch = utf8_next(&at)) != 0 && n + glyph_columns(ch) < NAME_W) {
		n += glyph_columns(ch);
		len = (size_t)(at - name);
	}
	if (ch == 0)
		str_copy(dst, size, name);
	else
		str_fmt(dst, size, "%.*s\xe2\x80\xa6", (int)len, name);
}

static void
dish_label(char *dst, size_t size, const struct service_dish *d)
{
	char name[80];

	short_name(name, sizeof(name), d->name);
	if (d->forecast)
		str_fmt(dst, size, tr(SAY_CLOSE_DISH), name,
		    (long long)((d->expected_c + 50) / 100), (long long)d->out);
	else
		str_fmt(
		    dst, size, tr(SAY_CLOSE_DISH_OUT), name, (long long)d->out);
}

static void
guest_labels(struct service_close *c, const struct service_page *p)
{
	str_fmt(c->labels[0], sizeof(c->labels[0]), tr(SAY_CLOSE_SEATED),
	    (long long)(p->closed ? p->closing.booked : p->covers));
	if (p->forecast)
		str_fmt(c->labels[1], sizeof(c->labels[1]),
		    tr(SAY_CLOSE_WALKED_LIKELY),
		    (long long)((p->report.walk_ins_c + 50) / 100));
	else
		str_copy(
		    c->labels[1], sizeof(c->labels[1]), tr(SAY_CLOSE_WALKED));
}

/* "12", "12:40", "12:out" */
static void
put_sold(struct form *f, int i, const struct service_dish *d)
{
	char text[64];

	if (!d->sold_known)
		return;
	if (d->ran_out_at >= 0)
		str_fmt(text, sizeof(text), "%lld:%lld", (long long)d->sold,
		    (long long)d->ran_out_at);
	else
		str_fmt(text, sizeof(text), "%lld%s", (long long)d->sold,
		    d->ran_out_at == SOLD_ON ? "" : ":out");
	form_set(f, i, text);
}

/* What stands on record is there to be changed. */
static void
put_record(struct service_close *c, const struct service_page *p)
{
	char text[32];
	int i;

	str_fmt(text, sizeof(text), "%lld", (long long)p->closing.seated);
	form_set(&c->form, 0, text);
	str_fmt(text, sizeof(text), "%lld", (long long)p->closing.walk_ins);
	form_set(&c->form, 1, text);
	for (i = 2; i < c->form.count; i++)
		put_sold(&c->form, i, &p->dishes[i - 2]);
	c->form.dirty = false;
}

static void
make_form(struct service_close *c, const struct service_page *p, day_no today)
{
	int n = 2, i;

	memset(c->rows, 0, sizeof(c->rows));
	guest_labels(c, p);
	for (i = 0; i < (int)p->dish_count && n < FORM_FIELDS_MAX; i++, n++) {
		str_copy(c->dishes[i], sizeof(c->dishes[i]), p->dishes[i].dish);
		dish_label(c->labels[n], sizeof(c->labels[n]), &p->dishes[i]);
	}
	for (i = 0; i < n; i++) {
		c->rows[i].label = c->labels[i];
		c->rows[i].kind = i < 2 ? FIELD_COUNT : FIELD_TEXT;
		c->rows[i].flags = i < 2 ? FIELD_MUST : 0;
		c->rows[i].hint = i < 2 ? NULL : SAY_CLOSE_SOLD_HINT;
	}
	form_init(&c->form, c->rows, n, today);
	c->correct = p->closed;
	str_copy(c->label, sizeof(c->label), p->label);
	if (c->correct)
		put_record(c, p);
}

void
service_close_begin(struct desk *d, struct service_screen *s)
{
	struct service_close *c = &s->close;

	if (!str_eq(c->label, s->page.label) || c->correct != s->page.closed ||
	    !c->form.dirty)
		make_form(c, &s->page, desk_today(d));
	c->shown = true;
}

void
service_close_draw(struct service_screen *s, const struct pane *p)
{
	struct service_close *c = &s->close;
	int label_w = p->w > LABEL_W + 36 ? p->w - 36 : LABEL_W;
	struct pane part;
	int y;

	pane_fmt(p, 0, 0, STYLE_STRONG,
	    tr(c->correct ? SAY_CLOSE_CORRECT : SAY_CLOSE_HEAD), c->label);
	part = pane_part(p, 0, 1, p->w, p->h - 1);
	y = 1 +
	    pane_wrap(&part, 0, STYLE_FAINT,
		tr(c->correct ? SAY_CLOSE_HELP_CORRECT : SAY_CLOSE_HELP)) +
	    1;
	part = pane_part(p, 0, y, p->w, p->h - y);
	form_draw(&c->form, &part, label_w);
}

bool
service_close_key(struct desk *d, struct service_screen *s, const struct key *k)
{
	enum form_said said = form_key(&s->close.form, k);

	if (said == FORM_END)
		service_close_record(d, s);
	else if (said == FORM_NOT_MINE && k->code == KEY_CODE_ESC)
		s->close.shown = false;
	else if (said == FORM_NOT_MINE)
		return false;
	return true;
}

/* --- the record -----------------------------------------------------------*/

static int64_t
covers(const struct form *f, int i)
{
	const char *text = form_value(f, i);
	int64_t n;

	if (text == NULL ||
	    int_parse(&n, "covers", text, 0, COUNT_MAX, NULL) != RC_OK)
		return -1;
	return n;
}

static void
record(struct desk *d, void *arg)
{
	struct service_screen *s = arg;
	struct service_close *c = &s->close;
	char sold[CLOSE_DISHES_MAX][32 + FIELD_SIZE];
	const char *words[CLOSE_DISHES_MAX];
	struct close_in in = { .service = c->label,
		.seated = covers(&c->form, 0),
		.walk_ins = covers(&c->form, 1),
		.sold = words,
		.correct = c->correct,
		.by = d->by };
	struct err err = { 0 };
	const char *text;
	struct buf answer; /* the same is on the screen */
	int i;
	enum rc rc;

	for (i = 2; i < c->form.count; i++) {
		if ((text = form_value(&c->form, i)) == NULL)
			continue;
		str_fmt(sold[i - 2], sizeof(sold[0]), "%s:%s", c->dishes[i - 2],
		    text);
		words[in.sold_count++] = sold[i - 2];
	}
	buf_init(&answer, ANSWER_MAX);
	rc = close_service(&answer, d->sn, &in, FORMAT_TEXT, &err);
	buf_fini(&answer);
	if (rc != RC_OK) {
		desk_fail(d, &err);
		return;
	}
	if (c->correct)
		desk_say(d, LEVEL_DONE, tr(SAY_CORRECTED), c->label);
	else
		desk_say(d, LEVEL_DONE, tr(SAY_CLOSED), c->label,
		    (long long)in.seated, (long long)s->page.covers,
		    (long long)in.walk_ins);
	c->shown = false;
	c->label[0] = '\0';
	form_clear(&c->form);
}

void
service_close_record(struct desk *d, struct service_screen *s)
{
	struct err err = { 0 };

	if (form_check(&s->close.form, &err) != RC_OK)
		desk_say(d, LEVEL_NOTE, "%s", err.text);
	else
		desk_record(d, DUTY_ANYONE, record, s);
}
