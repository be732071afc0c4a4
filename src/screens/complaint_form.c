/* complaint_form.c - a complaint is typed and recorded. */
#include <string.h>

#include "base/str.h"
#include "complaint.h"
#include "says_complaint.h"

enum { F_WHAT, F_PLACE, F_AT, F_HOLD, F_COUNT };

static const char *
hold_word(const void *arg, size_t i)
{
	(void)arg;
	return i == 0 ? "yes" : "no";
}

static const char *
hold_says(const void *arg, size_t i)
{
	(void)arg;
	return i == 0 ? tr(SAY_CO_YES) : tr(SAY_CO_NO);
}

/* A refusal loses nothing: the form comes back as it was typed. */
static void
record(struct desk *d, void *arg)
{
	struct complaint_ask *a = arg;
	struct complaint_in in = {
		.code = a->code[0] == '\0' ? NULL : a->code,
		.dish = a->code[0] == '\0' ? a->dish : NULL,
		.service = a->code[0] == '\0' ? a->service : NULL,
		.what = a->what,
		.place = a->place,
		.at = a->at[0] == '\0' ? NULL : a->at,
		.hold = str_eq(a->hold, "yes"),
		.by = d->by,
	};
	struct complaint_taken t;
	struct form *f;
	struct err err = { 0 };

	if (complaint_add(&t, d->sn, &in, &err) != RC_OK) {
		f = complaint_form(d, a);
		if (t.time_wrong) {
			f->at = F_AT;
			form_wrong(f, F_AT, err.text);
		}
		desk_fail(d, &err);
		return;
	}
	a->what[0] = a->place[0] = a->at[0] = a->hold[0] = '\0';
	if (t.held_count == 0)
		desk_say(
		    d, LEVEL_DONE, tr(SAY_CO_TAKEN), (long long)t.complaint.id);
	else
		desk_say(d, LEVEL_DONE,
		    trn(SAY_CO_TAKEN_HELD, (long)t.held_count),
		    (long long)t.complaint.id, (int)t.held_count);
}

static void
keep(char dst[FIELD_SIZE], const struct form *f, int i)
{
	const char *v = form_value(f, i);

	str_copy(dst, FIELD_SIZE, v == NULL ? "" : v);
}

static bool
form_read(struct desk *d, void *arg, struct form *f)
{
	struct complaint_ask *a = arg;

	keep(a->what, f, F_WHAT);
	keep(a->place, f, F_PLACE);
	keep(a->at, f, F_AT);
	str_copy(a->hold, sizeof(a->hold), form_value(f, F_HOLD));
	desk_shut(d); /* the form, now: initials may be asked over it */
	desk_record(d, DUTY_ANYONE, record, a);
	return false;
}

struct form *
complaint_form(struct desk *d, struct complaint_ask *a)
{
	static const struct field_row rows[F_COUNT] = {
		[F_WHAT] = { SAY_CO_WHAT, FIELD_TEXT, FIELD_MUST,
		    SAY_CO_WHAT_HINT },
		[F_PLACE] = { SAY_CO_TABLE, FIELD_TEXT, 0, SAY_CO_TABLE_HINT },
		[F_AT] = { SAY_CO_AT, FIELD_TEXT, 0, SAY_CO_AT_HINT },
		[F_HOLD] = { SAY_CO_HOLD, FIELD_CHOICE, FIELD_MUST, NULL },
	};
	struct form *f =
	    desk_ask_fields(d, tr(SAY_CO_FORM), rows, F_COUNT, form_read, a);

	f->fields[F_HOLD].choices =
	    (struct choices){ 2, hold_word, hold_says, NULL };
	form_set(f, F_WHAT, a->what);
	form_set(f, F_PLACE, a->place);
	form_set(f, F_AT, a->at);
	form_set(f, F_HOLD, a->hold);
	return f;
}
