/* breakdown_go.c - a breakdown is recorded, its labels queued; the scale is
 * asked. */
#include <inttypes.h>
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "base/str.h"
#include "breakdown_desk.h"
#include "ops/label.h"
#include "ops/weigh.h"
#include "says_breakdown.h"

/* --- record ----------------------------------------------------------------*/

/* The breakdown stands, whatever becomes of its labels. */
static void
queue_labels(struct desk *d, struct breakdown_desk *b)
{
	struct label_order order = {
		.want = LABEL_FIRST, .by = d->by, .only_queue = true
	};
	const char **codes;
	struct job_list jobs = { 0 };
	struct err err = { 0 };
	size_t i;

	b->labels_queued = 0;
	b->labels_fault[0] = '\0';
	if (b->made.portion_count == 0)
		return;
	codes = xcalloc(b->made.portion_count, sizeof(*codes));
	for (i = 0; i < b->made.portion_count; i++)
		codes[i] = b->made.portions[i].code;
	order.codes = codes;
	order.count = b->made.portion_count;
	if (label_print(&jobs, d->sn, &order, &err) == RC_OK)
		desk_print(d);
	else
		str_copy(b->labels_fault, sizeof(b->labels_fault), err.text);
	b->labels_queued = jobs.count;
	job_list_fini(&jobs);
	free(codes);
}

static void
say_labels(struct desk *d, const struct breakdown_desk *b)
{
	if (b->labels_fault[0] != '\0')
		desk_say(d, LEVEL_WARN, tr(SAY_BD_NO_LABELS), b->labels_fault);
	else if (b->labels_queued > 0)
		desk_say(d, LEVEL_DONE,
		    trn(SAY_BD_LABELS, (long)b->labels_queued),
		    (int)b->labels_queued);
	else
		d->notice[0] = '\0';
}

static void record_now(struct desk *d, void *arg);

static void
yield_is_right(struct desk *d, void *arg)
{
	struct breakdown_desk *b = arg;

	b->yield_ok = true;
	desk_record(d, DUTY_ANYONE, record_now, b);
}

static void
minutes_are_right(struct desk *d, void *arg)
{
	struct breakdown_desk *b = arg;

	b->minutes_ok = true;
	desk_record(d, DUTY_ANYONE, record_now, b);
}

/* Refused, with what is expected; a person may say that it is right. */
static void
doubted(struct desk *d, struct breakdown_desk *b, const struct breakdown *r)
{
	char text[400], seen[32], want[32];
	int expected = (int)div_up(r->pace.expected_s, 60);

	if (r->doubt == DOUBT_YIELD) {
		percent_print(seen, sizeof(seen), r->yield.observed_bp);
		percent_print(want, sizeof(want), r->yield.expected_bp);
		str_fmt(
		    text, sizeof(text), tr(SAY_BD_ASK_YIELD_TEXT), seen, want);
		desk_say(d, LEVEL_REFUSED, tr(SAY_BD_DOUBT_YIELD), seen, want);
		desk_ask_yes(d, tr(SAY_BD_ASK_YIELD), text, yield_is_right, b);
		return;
	}
	str_fmt(text, sizeof(text), tr(SAY_BD_ASK_MINUTES_TEXT),
	    (int)r->pace.minutes, expected);
	desk_say(d, LEVEL_REFUSED, tr(SAY_BD_DOUBT_MINUTES),
	    (int)r->pace.minutes, expected);
	desk_ask_yes(d, tr(SAY_BD_ASK_MINUTES), text, minutes_are_right, b);
}

static void
fill_minutes(struct breakdown_in *in, const struct breakdown_desk *b,
    const struct desk *d)
{
	const char *typed = form_value(&b->form, bd_rest(b, BD_MINUTES));

	in->minutes =
	    typed != NULL ? strtoll(typed, NULL, 10) : bd_minutes(b, d);
	in->minutes_ok = b->minutes_ok && in->minutes > 0;
}

static void
record_now(struct desk *d, void *arg)
{
	struct breakdown_desk *b = arg;
	struct breakdown made;
	struct bd_typed typed;
	struct err err = { 0 };

	if (b->mode != BD_MODE_WORK)
		return;
	if (bd_settle(&typed, b, &err) != RC_OK) {
		desk_fail(d, &err);
		return;
	}
	typed.in.by = d->by;
	fill_minutes(&typed.in, b, d);
	if (breakdown_record(&made, d->sn, &typed.in, &err) != RC_OK) {
		if (err.rc == RC_REFUSED && made.doubt != DOUBT_NOTHING)
			doubted(d, b, &made);
		else
			desk_fail(d, &err);
		return;
	}
	breakdown_fini(&b->made);
	b->made = made;
	b->mode = BD_MODE_MADE;
	b->units = (struct list){ .count = (int)made.portion_count };
	list_fit(&b->units);
	b->waiting_known = false;
	b->with_count = 0;
	bench_fini(&b->bench);
	memset(&b->form, 0, sizeof(b->form));
	queue_labels(d, b);
	say_labels(d, b);
}

void
bd_record(struct desk *d, struct breakdown_desk *b)
{
	struct bd_typed typed;
	struct err err = { 0 };

	/* What was said to be right, was said of what stood there then. */
	b->yield_ok = b->minutes_ok = false;
	if (bd_settle(&typed, b, &err) != RC_OK)
		desk_fail(d, &err);
	else
		desk_record(d, DUTY_ANYONE, record_now, b);
}

/* --- the scale -------------------------------------------------------------*/

void
bd_weigh(struct desk *d, struct breakdown_desk *b)
{
	static const char *const args[] = { "weigh", NULL };
	struct err err = { 0 };

	if (b->scale != NULL)
		return;
	if (b->rows[b->form.at].kind != FIELD_WEIGHT) {
		desk_say(d, LEVEL_NOTE, "%s", tr(SAY_BD_NO_SCALE_FIELD));
		return;
	}
	b->scale_field = b->form.at;
	if (beside_start(&b->scale, d, args, WEIGH_WAIT_S * 1000, &err) !=
	    RC_OK)
		desk_say(d, LEVEL_WARN, tr(SAY_BD_NOT_WEIGHED), err.text);
	else
		desk_say(d, LEVEL_NOTE, "%s", tr(SAY_BD_WEIGHING));
}

/* Without the name the program puts before what it says. */
static const char *
said(const char *text)
{
	static const char name[] = "pinbone: ";

	return strncmp(text, name, strlen(name)) == 0 ? text + strlen(name)
						      : text;
}

/* A weight goes only where it was asked for, and only while that is still
 * there. */
void
bd_weigh_tick(struct desk *d, struct breakdown_desk *b)
{
	char text[BESIDE_LINE_SIZE], shown[32];
	int status;
	grams g;

	if (b->scale == NULL)
		return;
	(void)beside_tick(b->scale, d->now_ms);
	if (beside_running(b->scale))
		return;
	status = beside_status(b->scale);
	str_copy(text, sizeof(text), beside_last(b->scale));
	beside_free(b->scale, 0);
	b->scale = NULL;
	if (b->mode != BD_MODE_WORK)
		return;
	if (status != 0 || weight_parse(&g, "", text, NULL) != RC_OK) {
		desk_say(d, LEVEL_WARN, tr(SAY_BD_NOT_WEIGHED), said(text));
		return;
	}
	str_fmt(shown, sizeof(shown), "%" PRId64, g);
	form_set(&b->form, b->scale_field, shown);
	b->form.dirty = true;
	desk_say(d, LEVEL_DONE, tr(SAY_BD_WEIGHED),
	    weight_print(shown, sizeof(shown), g));
}
