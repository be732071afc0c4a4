/* check_keeping.c - asked from the checks of Records: how long records must be
 * kept, what may go, and its removal. */
#include "base/str.h"
#include "ops/keeping.h"
#include "records_inner.h"
#include "says_checks.h"

/* Batches looked at: a moment, on a file of years. */
#define LOOK_MOST 1000
/* Transactions until it is somebody's turn again. */
#define STEPS_MOST 20

static bool
some_steps(void *arg, const struct prune_sum *sum)
{
	int *left = arg;

	(void)sum;
	return --*left > 0;
}

static void
remove_now(struct desk *d, void *arg)
{
	struct checks *c = arg;
	int left = STEPS_MOST;
	const struct keeping_wish wish = { .before = DAY_NONE,
		.today = c->what,
		.by = d->by,
		.tell = some_steps,
		.arg = &left };
	struct prune_sum sum;
	struct err err = { 0 };
	char gone[120];
	enum rc rc = keeping_prune(&sum, d->sn, &wish, &err);

	str_fmt(gone, sizeof(gone), trn(SAY_KEEPING_GONE, (long)sum.batches),
	    (long long)sum.batches);
	if (rc == RC_OK)
		desk_say(d, LEVEL_DONE, "%s", gone);
	else if (left == 0)
		desk_say(d, LEVEL_NOTE, tr(SAY_KEEPING_MORE), gone);
	else
		desk_fail(d, &err);
}

static bool
date_read(struct desk *d, void *arg, struct form *f)
{
	struct checks *c = arg;

	str_copy(c->what, sizeof(c->what), form_value(f, 0));
	desk_shut(d);
	desk_record(d, DUTY_PRUNE, remove_now, c);
	return false;
}

static void
ask_date(struct desk *d, void *arg)
{
	static const struct field_row row[] = {
		{ SAY_KEEPING_TODAY, FIELD_DATE, FIELD_MUST | FIELD_PAST,
		    SAY_KEEPING_TODAY_HINT },
	};

	(void)desk_ask_fields(d, tr(SAY_KEEPING_ASK), row, 1, date_read, arg);
}

void
check_keeping(struct desk *d, struct records *s)
{
	struct keeping k;
	struct err err = { 0 };
	struct buf out;
	enum rc rc = keeping_look(&k, d->sn, DAY_NONE, LOOK_MOST, &err);

	if (rc != RC_OK) {
		desk_fail(d, &err);
		keeping_fini(&k);
		return;
	}
	buf_init(&out, 65536);
	keeping_show(&out, &k, FORMAT_TEXT);
	if (k.may.from_day == DAY_NONE) {
		desk_read(d, tr(SAY_CHECK_KEEPING), buf_text(&out));
	} else {
		buf_printf(&out, "\n%s\n", tr(SAY_KEEPING_NEXT));
		desk_read_on(d, tr(SAY_CHECK_KEEPING), buf_text(&out), ask_date,
		    &s->asked);
	}
	buf_fini(&out);
	keeping_fini(&k);
}
