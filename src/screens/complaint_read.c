/* complaint_read.c - complaints on record: read, noted, closed. */
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "base/str.h"
#include "complaint.h"
#include "hand_words.h"
#include "says_complaint.h"

static const struct complaint *
chosen(const struct complaint_read *r)
{
	return &r->rows.items[r->at];
}

static void
read_it(struct desk *d, struct complaint_read *r)
{
	char title[80];
	struct buf out;
	struct err err = { 0 };

	buf_init(&out, (size_t)1 << 24);
	if (complaint_show(&out, d->sn, chosen(r)->id, FORMAT_TEXT, &err) ==
	    RC_OK) {
		str_fmt(title, sizeof(title), tr(SAY_CO_DO),
		    (long long)chosen(r)->id);
		desk_read(d, title, buf_text(&out));
	} else {
		desk_fail(d, &err);
	}
	buf_fini(&out);
}

static void ask_text(struct desk *d, struct complaint_read *r);

static void
record(struct desk *d, void *arg)
{
	struct complaint_read *r = arg;
	struct err err = { 0 };

	if (complaint_note(d->sn, chosen(r)->id, r->text, r->close, d->by,
		&err) != RC_OK) {
		ask_text(d, r);
		desk_fail(d, &err);
		return;
	}
	r->text[0] = '\0';
	desk_say(d, LEVEL_DONE, "%s",
	    tr(r->close ? SAY_CO_CLOSED_NOW : SAY_CO_NOTED));
}

static bool
text_read(struct desk *d, void *arg, struct form *f)
{
	struct complaint_read *r = arg;

	str_copy(r->text, sizeof(r->text), form_value(f, 0));
	desk_shut(d);
	desk_record(d, DUTY_ANYONE, record, r);
	return false;
}

static void
ask_text(struct desk *d, struct complaint_read *r)
{
	static const struct field_row row[] = {
		{ SAY_CO_WHAT, FIELD_TEXT, FIELD_MUST, NULL },
	};
	struct form *f = desk_ask_fields(d,
	    tr(r->close ? SAY_CO_CLOSE_ASK : SAY_CO_NOTE_ASK), row, 1,
	    text_read, r);

	form_set(f, 0, r->text);
}

static const char *
what_word(const void *arg, size_t i)
{
	const struct complaint_read *r = arg;

	return r->shown[i];
}

static void
pick_what(struct desk *d, void *arg, size_t i)
{
	struct complaint_read *r = arg;

	if (i == 0) {
		read_it(d, r);
		return;
	}
	r->close = i == 2;
	ask_text(d, r);
}

static const char *
row_word(const void *arg, size_t i)
{
	const struct complaint_read *r = arg;

	return r->words[i];
}

static void
pick_row(struct desk *d, void *arg, size_t i)
{
	static const char *const says[] = { SAY_CO_READ, SAY_CO_NOTE,
		SAY_CO_CLOSE };
	struct complaint_read *r = arg;
	struct choices c = { 3, what_word, NULL, r };
	char title[80];
	int k;

	r->at = i;
	for (k = 0; k < 3; k++)
		str_copy(r->shown[k], sizeof(r->shown[k]), tr(says[k]));
	/* A closed one is only read. */
	if (chosen(r)->closed)
		c.count = 1;
	str_fmt(title, sizeof(title), tr(SAY_CO_DO), (long long)chosen(r)->id);
	desk_ask_pick(d, title, &c, pick_what, r);
}

void
complaint_ask_list(struct desk *d, struct complaint_read *r)
{
	const struct complaint *c;
	struct choices choices = { 0, row_word, NULL, r };
	char date[48], code[CODE_SIZE];
	struct err err = { 0 };
	size_t i;

	complaint_read_fini(r);
	if (complaint_rows(&r->rows, d->sn, false, &err) != RC_OK) {
		desk_fail(d, &err);
		return;
	}
	if (r->rows.count == 0) {
		desk_say(d, LEVEL_NOTE, "%s", tr(SAY_CO_NONE));
		return;
	}
	r->words = xcalloc(r->rows.count, sizeof(*r->words));
	for (i = 0; i < r->rows.count; i++) {
		c = &r->rows.items[i];
		str_fmt(r->words[i], sizeof(r->words[i]), tr(SAY_CO_ROW),
		    (long long)c->id,
		    hand_date(
			date, sizeof(date), local_from_utc(c->at.utc).day),
		    c->closed ? tr(SAY_CO_CLOSED) : "",
		    c->code[0] != '\0' ? code_show(code, c->code) : c->dish,
		    c->what);
		utf8_clean(r->words[i]);
	}
	choices.count = r->rows.count;
	desk_ask_pick(d, tr(SAY_CO_WHICH), &choices, pick_row, r);
}

void
complaint_read_fini(struct complaint_read *r)
{
	free(r->rows.items);
	free(r->words);
	r->rows = (struct complaint_list){ 0 };
	r->words = NULL;
}
