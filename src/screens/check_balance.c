/* check_balance.c - asked from the checks of Records: grams in and out. */
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "base/str.h"
#include "hand_words.h"
#include "records_inner.h"
#include "says_checks.h"
#include "says_records.h"

static bool
read_balance(struct desk *d, const struct balance_ask *ask, struct err *err)
{
	struct buf out;
	bool done;

	buf_init(&out, (size_t)1 << 22);
	done = balance(&out, d->sn, ask, FORMAT_TEXT, err) == RC_OK;
	if (done)
		desk_read(d, tr(SAY_CHECK_BALANCE), buf_text(&out));
	buf_fini(&out);
	return done;
}

/* A wrong answer stays in its form, with what is wrong. */
static bool
answer(struct desk *d, struct form *f, const struct balance_ask *ask)
{
	struct balance_report r;
	struct err err = { 0 };

	if (balance_load(&r, d->sn, ask, &err) != RC_OK) {
		form_wrong(f, 0, err.text);
		desk_fail(d, &err);
		return false;
	}
	balance_fini(&r);
	desk_shut(d);
	if (!read_balance(d, ask, &err))
		desk_fail(d, &err);
	return false;
}

static bool
code_read(struct desk *d, void *arg, struct form *f)
{
	struct checks *c = arg;
	const struct balance_ask ask = { .what = c->what };

	str_copy(c->what, sizeof(c->what), form_value(f, 0));
	return answer(d, f, &ask);
}

static bool
supplier_read(struct desk *d, void *arg, struct form *f)
{
	struct checks *c = arg;
	const struct balance_ask ask = { .supplier = c->what };

	str_copy(c->what, sizeof(c->what), form_value(f, 0));
	return answer(d, f, &ask);
}

static void
ask_one(struct desk *d, struct checks *c, const char *title,
    enum field_kind kind, desk_form_fn *go)
{
	static const struct field_row text[] = {
		{ SAY_BAL_CODE_ASK, FIELD_TEXT, FIELD_MUST, NULL },
	};
	static const struct field_row date[] = {
		{ SAY_DAY_FIELD, FIELD_DATE, FIELD_MUST | FIELD_PAST,
		    SAY_DAY_HINT },
	};

	(void)desk_ask_fields(
	    d, title, kind == FIELD_DATE ? date : text, 1, go, c);
}

/* --- gaps -----------------------------------------------------------------*/

static void ask_why(struct desk *d, struct checks *c);

static void
explain(struct desk *d, void *arg)
{
	struct checks *c = arg;
	struct err err = { 0 };
	grams gap;

	if (balance_explain(&gap, d->sn, c->what, c->text, d->by, &err) !=
	    RC_OK) {
		ask_why(d, c);
		desk_fail(d, &err);
		return;
	}
	c->text[0] = '\0';
	desk_say(d, LEVEL_DONE, tr(SAY_BAL_EXPLAINED), (long long)gap);
}

static bool
why_read(struct desk *d, void *arg, struct form *f)
{
	struct checks *c = arg;

	str_copy(c->text, sizeof(c->text), form_value(f, 0));
	desk_shut(d);
	desk_record(d, DUTY_ANYONE, explain, c);
	return false;
}

static void
ask_why(struct desk *d, struct checks *c)
{
	static const struct field_row row[] = {
		{ SAY_BAL_WHY, FIELD_TEXT, FIELD_MUST, SAY_BAL_WHY_HINT },
	};
	struct form *f =
	    desk_ask_fields(d, tr(SAY_BAL_WHY), row, 1, why_read, c);

	form_set(f, 0, c->text);
}

static const char *
gap_word(const void *arg, size_t i)
{
	const struct checks *c = arg;

	return c->gap_words[i];
}

static void
pick_gap(struct desk *d, void *arg, size_t i)
{
	struct checks *c = arg;
	const struct mass_gap *g = &c->gaps.items[i];
	char code[CODE_SIZE];

	if (g->prep_id != 0)
		str_fmt(
		    c->what, sizeof(c->what), "%lld", (long long)g->prep_id);
	else
		str_copy(c->what, sizeof(c->what), code_show(code, g->batch));
	ask_why(d, c);
}

static void
put_gap(char dst[120], const struct mass_gap *g)
{
	char code[CODE_SIZE], date[48];

	code_show(code, g->batch);
	hand_date(date, sizeof(date), local_from_utc(g->at_utc).day);
	if (g->prep_id != 0)
		str_fmt(dst, 120, tr(SAY_BAL_GAP_PREP), (long long)g->gap_g,
		    (long long)g->in_g, code, (long long)g->prep_id, date,
		    g->by);
	else
		str_fmt(dst, 120, tr(SAY_BAL_GAP_BATCH), (long long)g->gap_g,
		    (long long)g->in_g, code);
}

static void
ask_gaps(struct desk *d, struct checks *c)
{
	const struct balance_ask ask = { 0 };
	struct choices choices = { 0, gap_word, NULL, c };
	struct gaps_report r;
	struct err err = { 0 };
	size_t i;

	if (balance_gaps_load(&r, d->sn, &ask, &err) != RC_OK) {
		desk_fail(d, &err);
		return;
	}
	free(c->gaps.items);
	free(c->gap_words);
	c->gaps = r.gaps;
	c->gap_words = xcalloc(r.gaps.count, sizeof(*c->gap_words));
	for (i = 0; i < r.gaps.count; i++)
		put_gap(c->gap_words[i], &r.gaps.items[i]);
	choices.count = r.gaps.count;
	if (r.gaps.count == 0)
		desk_say(d, LEVEL_DONE, "%s", tr(SAY_BAL_NO_GAPS));
	else
		desk_ask_pick(d, tr(SAY_BAL_WHICH), &choices, pick_gap, c);
}

static void
pick(struct desk *d, void *arg, size_t i)
{
	struct checks *c = arg;
	const struct balance_ask ask = { .what = c->what };
	struct err err = { 0 };

	switch (i) {
	case 0:
		day_print(c->what, sizeof(c->what), desk_today(d));
		if (!read_balance(d, &ask, &err))
			desk_fail(d, &err);
		break;
	case 1:
		ask_one(d, c, tr(SAY_BAL_DAY), FIELD_DATE, code_read);
		break;
	case 2:
		ask_one(d, c, tr(SAY_BAL_CODE_ASK), FIELD_TEXT, code_read);
		break;
	case 3:
		ask_one(
		    d, c, tr(SAY_BAL_SUPPLIER_ASK), FIELD_TEXT, supplier_read);
		break;
	default:
		ask_gaps(d, c);
		break;
	}
}

void
check_balance(struct desk *d, struct records *s)
{
	static const char *const says[] = { SAY_BAL_TODAY, SAY_BAL_DAY,
		SAY_BAL_CODE, SAY_BAL_SUPPLIER, SAY_BAL_GAPS };

	checks_pick(d, &s->asked, tr(SAY_CHECK_BALANCE), says,
	    sizeof(says) / sizeof(says[0]), pick);
}
