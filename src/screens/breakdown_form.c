/* breakdown_form.c - the fields of a breakdown, and what they are worth. */
#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/str.h"
#include "breakdown_desk.h"
#include "prep_list.h"
#include "says_breakdown.h"
#include "term/when.h"

static const struct field_row first_rows[BD_WITH] = {
	[BD_FISH] = { SAY_BD_F_FISH, FIELD_COUNT, 0, NULL },
	[BD_WHICH] = { SAY_BD_F_WHICH, FIELD_TEXT, 0, SAY_BD_F_WHICH_HINT },
	[BD_IN] = { SAY_BD_F_IN, FIELD_WEIGHT, 0, SAY_BD_F_WEIGH_HINT },
};

static const struct field_row rest_rows[BD_REST] = {
	[BD_TRIM] = { SAY_BD_F_TRIM, FIELD_WEIGHT, 0, SAY_BD_F_WEIGH_HINT },
	[BD_FRAMES] = { SAY_BD_F_FRAMES, FIELD_WEIGHT, 0, SAY_BD_F_WEIGH_HINT },
	[BD_WASTE] = { SAY_BD_F_WASTE, FIELD_WEIGHT, 0, SAY_BD_F_WEIGH_HINT },
	[BD_MINUTES] = { SAY_BD_F_MINUTES, FIELD_COUNT, 0,
	    SAY_BD_F_MINUTES_HINT },
	[BD_NOTE] = { SAY_BD_F_NOTE, FIELD_TEXT, 0, NULL },
	[BD_FROZEN] = { SAY_BD_F_FROZEN, FIELD_TEXT, 0, SAY_BD_F_TIME_HINT },
	[BD_THAWED] = { SAY_BD_F_THAWED, FIELD_TEXT, 0, SAY_BD_F_TIME_HINT },
	[BD_DEGREES] = { SAY_BD_F_DEGREES, FIELD_DEGREES, 0,
	    SAY_BD_F_DEGREES_HINT },
	[BD_FEED] = { SAY_BD_F_FEED, FIELD_TEXT, 0, SAY_BD_F_FEED_HINT },
};

int
bd_dish(size_t i, enum bd_dish_field f)
{
	return BD_DISH_FIRST + (int)i * BD_DISH_FIELDS + (int)f;
}

int
bd_rest(const struct breakdown_desk *b, enum bd_rest f)
{
	return BD_DISH_FIRST + (int)b->bench.dish_count * BD_DISH_FIELDS +
	    (int)f;
}

/* --- the fields ------------------------------------------------------------*/

/* Portions of a dish the last plan makes of this batch; 0: none. */
static int64_t
planned(struct desk *d, const struct breakdown_desk *b, const char *dish)
{
	const struct prep_page *p = prep_list_of(d)->page;
	const struct plan_take *t;
	size_t i;

	for (i = 0; p != NULL && i < p->plan->count; i++) {
		if (!str_eq(p->plan->lines[i].cut.dish, dish))
			continue;
		t = prep_take(p, (int)i, b->bench.batch.code);
		if (t != NULL)
			return t->portions;
	}
	return 0;
}

static void
dish_rows(struct desk *d, struct breakdown_desk *b, size_t i)
{
	const struct plan_cut *c = &b->bench.dishes[i].cut;
	char(*l)[80] = b->labels[i];
	int64_t n = planned(d, b, c->dish);

	str_fmt(l[BD_PORTIONS], 80, tr(SAY_BD_F_PORTIONS), c->dish);
	str_fmt(l[BD_WEIGHT], 80, tr(SAY_BD_F_WEIGHT), c->dish);
	str_fmt(l[BD_LABEL], 80, tr(SAY_BD_F_LABEL), c->dish);
	b->hints[i][0][0] = '\0';
	if (n > 0)
		str_fmt(b->hints[i][0], 40, tr(SAY_BD_F_PLANNED), (int)n);
	str_fmt(b->hints[i][1], 40, tr(SAY_BD_F_TARGET), (int)c->target_g);
	b->rows[bd_dish(i, BD_PORTIONS)] = (struct field_row){ l[BD_PORTIONS],
		FIELD_COUNT, 0, n > 0 ? b->hints[i][0] : NULL };
	b->rows[bd_dish(i, BD_WEIGHT)] =
	    (struct field_row){ l[BD_WEIGHT], FIELD_WEIGHT, 0, b->hints[i][1] };
	b->rows[bd_dish(i, BD_LABEL)] = (struct field_row){ l[BD_LABEL],
		FIELD_COUNT, 0, SAY_BD_F_LABEL_HINT };
}

void
bd_form(struct desk *d, struct breakdown_desk *b)
{
	size_t i;
	int k;

	memcpy(b->rows, first_rows, sizeof(first_rows));
	for (i = 0; i < BREAKDOWN_WITH_MAX; i++) {
		b->rows[bd_with(i, BD_WITH_FISH)] =
		    (struct field_row){ b->with_labels[i][BD_WITH_FISH],
			    FIELD_COUNT, 0, NULL };
		b->rows[bd_with(i, BD_WITH_IN)] =
		    (struct field_row){ b->with_labels[i][BD_WITH_IN],
			    FIELD_WEIGHT, 0, SAY_BD_F_WEIGH_HINT };
	}
	for (i = 0; i < b->bench.dish_count; i++)
		dish_rows(d, b, i);
	for (k = 0; k < BD_REST; k++)
		b->rows[bd_rest(b, (enum bd_rest)k)] = rest_rows[k];
	form_init(&b->form, b->rows, bd_rest(b, BD_REST), desk_today(d));
	b->all_dishes = false;
	bd_ask(b);
	form_clear(&b->form);
}

static bool
typed(const struct breakdown_desk *b, int i)
{
	return b->form.fields[i].text[0] != '\0';
}

static bool
dish_asked(const struct breakdown_desk *b, size_t i)
{
	const char *dish = b->bench.dishes[i].cut.dish;
	bool wanted = b->dish[0] == '\0' || str_eq(b->dish, dish) ||
	    b->hints[i][0][0] != '\0';

	return b->all_dishes || wanted || typed(b, bd_dish(i, BD_PORTIONS)) ||
	    typed(b, bd_dish(i, BD_WEIGHT));
}

void
bd_ask(struct breakdown_desk *b)
{
	struct field *f = b->form.fields;
	bool raw = false, asked;
	size_t i;
	int k;

	f[BD_FISH].off = b->bench.batch.count == 0;
	f[BD_WHICH].off = b->bench.fish.count == 0;
	for (i = 0; i < BREAKDOWN_WITH_MAX; i++) {
		asked = i < b->with_count;
		f[bd_with(i, BD_WITH_FISH)].off =
		    !asked || b->with[i].count == 0;
		f[bd_with(i, BD_WITH_IN)].off = !asked;
	}
	for (i = 0; i < b->bench.dish_count; i++) {
		asked = dish_asked(b, i);
		for (k = 0; k < BD_DISH_FIELDS; k++)
			f[bd_dish(i, (enum bd_dish_field)k)].off = !asked;
		raw = raw ||
		    (asked && b->bench.dishes[i].cut.state == STATE_SERVED_RAW);
	}
	for (k = BD_FROZEN; k <= BD_FEED; k++)
		f[bd_rest(b, (enum bd_rest)k)].off =
		    !raw && !typed(b, bd_rest(b, (enum bd_rest)k));
}

void
bd_first_empty(struct breakdown_desk *b, int before)
{
	int i;

	for (i = 0; i < before; i++)
		if (!b->form.fields[i].off && !typed(b, i)) {
			b->form.at = i;
			return;
		}
}

/* --- what is typed ---------------------------------------------------------*/

static grams
grams_of(const struct breakdown_desk *b, int i)
{
	const struct field *f = &b->form.fields[i];
	grams g = 0;

	if (f->off || f->text[0] == '\0' ||
	    weight_parse(&g, "", f->text, NULL) != RC_OK)
		return 0;
	return g;
}

static int64_t
count_of(const struct breakdown_desk *b, int i)
{
	const struct field *f = &b->form.fields[i];
	int64_t n = 0;

	if (f->off || f->text[0] == '\0' ||
	    int_parse(&n, "", f->text, 0, COUNT_MAX, NULL) != RC_OK)
		return 0;
	return n;
}

static const char *
text_of(const struct breakdown_desk *b, enum bd_rest r)
{
	const struct field *f = &b->form.fields[bd_rest(b, r)];

	return f->off || f->text[0] == '\0' ? NULL : f->text;
}

/* "3 5, 7" as "3,5,7". */
static void
read_which(char dst[FIELD_SIZE], const char *text)
{
	size_t n = 0;

	for (; *text != '\0'; text++) {
		if (*text != ' ' && *text != ',')
			dst[n++] = *text;
		else if (n > 0 && dst[n - 1] != ',')
			dst[n++] = ',';
	}
	if (n > 0 && dst[n - 1] == ',')
		n--;
	dst[n] = '\0';
}

static void
read_makes(struct breakdown_in *in, const struct breakdown_desk *b)
{
	struct make *m;
	size_t i;

	for (i = 0; i < b->bench.dish_count; i++) {
		m = &in->makes[in->make_count];
		m->dish = b->bench.dishes[i].cut.dish;
		m->portions = count_of(b, bd_dish(i, BD_PORTIONS));
		m->weight_g = grams_of(b, bd_dish(i, BD_WEIGHT));
		m->per_label = count_of(b, bd_dish(i, BD_LABEL));
		if (m->per_label == 0)
			m->per_label = 1;
		if (m->portions > 0 || m->weight_g > 0)
			in->make_count++;
	}
}

void
bd_read(struct bd_typed *out, const struct breakdown_desk *b)
{
	struct breakdown_in *in = &out->in;

	memset(out, 0, sizeof(*out));
	in->batch = b->bench.batch.code;
	in->fish = count_of(b, BD_FISH);
	if (!b->form.fields[BD_WHICH].off && typed(b, BD_WHICH)) {
		read_which(out->which, b->form.fields[BD_WHICH].text);
		in->which = out->which[0] == '\0' ? NULL : out->which;
	}
	in->weight_g = grams_of(b, BD_IN);
	for (; in->with_count < b->with_count; in->with_count++)
		in->with[in->with_count] = (struct breakdown_with){
			.batch = b->with[in->with_count].code,
			.fish =
			    count_of(b, bd_with(in->with_count, BD_WITH_FISH)),
			.weight_g =
			    grams_of(b, bd_with(in->with_count, BD_WITH_IN)),
		};
	read_makes(in, b);
	in->loss_g[LOSS_TRIM] = grams_of(b, bd_rest(b, BD_TRIM));
	in->loss_g[LOSS_FRAMES] = grams_of(b, bd_rest(b, BD_FRAMES));
	in->loss_g[LOSS_WASTE] = grams_of(b, bd_rest(b, BD_WASTE));
	in->note = text_of(b, BD_NOTE);
	in->feed_statement = text_of(b, BD_FEED);
	in->yield_ok = b->yield_ok;
	in->draft = DRAFT_BREAKDOWN;
	if (b->service[0] != '\0') {
		out->task.service = b->service;
		out->task.key = b->task;
		in->task = &out->task;
	}
}

int64_t
bd_minutes(const struct breakdown_desk *b, const struct desk *d)
{
	int64_t s = clock_now(&d->sn->clock) - b->started_utc;

	if (b->started_utc == 0 || s < 0 ||
	    s > (int64_t)BREAKDOWN_MINUTES_MAX * 60)
		return 0;
	return div_up(s, 60);
}

/* --- times -----------------------------------------------------------------*/

enum rc
bd_time(
    char dst[32], const char *text, day_no today, bool late, struct err *err)
{
	char copy[FIELD_SIZE], day_text[16], *word, *clock = NULL;
	int64_t utc;
	int hour = late ? 23 : 0, minute = late ? 59 : 0, n = 0;
	day_no day;

	str_fmt(copy, sizeof(copy), "%s", text);
	word = str_trim(copy);
	if (strchr(word, 'T') != NULL &&
	    time_parse(&utc, "", word, NULL) == RC_OK &&
	    str_copy(dst, 32, word))
		return RC_OK;
	if ((clock = strrchr(word, ' ')) != NULL &&
	    strchr(clock, ':') != NULL) {
		*clock++ = '\0';
		if (sscanf(clock, "%2d:%2d%n", &hour, &minute, &n) != 2 ||
		    clock[n] != '\0' || hour < 0 || hour > 23 || minute < 0 ||
		    minute > 59)
			return err_set(
			    err, RC_INVALID, 0, "%s", tr(SAY_BD_TIME_HOW));
	}
	if (when_parse(&day, str_trim(word), today, true, NULL) != RC_OK)
		return err_set(err, RC_INVALID, 0, "%s", tr(SAY_BD_TIME_HOW));
	str_fmt(dst, 32, "%sT%02d:%02d",
	    day_print(day_text, sizeof(day_text), day), hour, minute);
	return RC_OK;
}

bool
bd_is_time(const struct breakdown_desk *b, int i)
{
	return i == bd_rest(b, BD_FROZEN) || i == bd_rest(b, BD_THAWED);
}

void
bd_time_fixed(char dst[FIELD_SIZE], const struct breakdown_desk *b, int i,
    struct err *err)
{
	const char *text = b->form.fields[i].text;
	bool late = i == bd_rest(b, BD_FROZEN);
	char read[32];

	str_copy(dst, FIELD_SIZE, text);
	if (!bd_is_time(b, i) || text[0] == '\0' ||
	    bd_time(read, text, b->form.today, late, err) != RC_OK)
		return;
	/* As it is typed; one with its zone stays as it was. */
	if (strlen(read) == strlen("2026-11-27T18:00"))
		read[10] = ' ';
	str_copy(dst, FIELD_SIZE, read);
}

/* --- strictly --------------------------------------------------------------*/

static enum rc
wrong(struct breakdown_desk *b, int i, struct err *err, const char *text)
{
	b->form.at = i;
	return err_set(err, RC_INVALID, 0, "%s", text);
}

/* Of every batch on the board: how much of it. */
static enum rc
settle_with(
    const struct bd_typed *out, struct breakdown_desk *b, struct err *err)
{
	char text[160], shown[CODE_SIZE];
	size_t i;

	for (i = 0; i < b->with_count; i++) {
		code_show(shown, b->with[i].code);
		if (b->with[i].count > 0 && out->in.with[i].fish == 0) {
			str_fmt(text, sizeof(text), tr(SAY_BD_NEED_WITH_FISH),
			    shown);
			return wrong(b, bd_with(i, BD_WITH_FISH), err, text);
		}
		if (out->in.with[i].weight_g == 0) {
			str_fmt(
			    text, sizeof(text), tr(SAY_BD_NEED_WITH_IN), shown);
			return wrong(b, bd_with(i, BD_WITH_IN), err, text);
		}
	}
	return RC_OK;
}

static enum rc
settle_makes(struct breakdown_desk *b, struct err *err)
{
	const char *name;
	char text[160];
	int64_t n;
	grams g;
	size_t i;

	for (i = 0; i < b->bench.dish_count; i++) {
		name = b->bench.dishes[i].cut.dish_name;
		n = count_of(b, bd_dish(i, BD_PORTIONS));
		g = grams_of(b, bd_dish(i, BD_WEIGHT));
		if (n > 0 && g == 0) {
			str_fmt(
			    text, sizeof(text), tr(SAY_BD_NEED_WEIGHT), name);
			return wrong(b, bd_dish(i, BD_WEIGHT), err, text);
		}
		if (g > 0 && n == 0) {
			str_fmt(
			    text, sizeof(text), tr(SAY_BD_NEED_PORTIONS), name);
			return wrong(b, bd_dish(i, BD_PORTIONS), err, text);
		}
	}
	return RC_OK;
}

static enum rc
settle_times(struct bd_typed *out, struct breakdown_desk *b, struct err *err)
{
	const char *frozen = text_of(b, BD_FROZEN);
	const char *thawed = text_of(b, BD_THAWED);
	day_no today = b->form.today;

	if (frozen != NULL) {
		if (bd_time(out->frozen, frozen, today, true, err) != RC_OK)
			return wrong(b, bd_rest(b, BD_FROZEN), err, "");
		out->in.frozen = out->frozen;
	}
	if (thawed != NULL) {
		if (bd_time(out->thawed, thawed, today, false, err) != RC_OK)
			return wrong(b, bd_rest(b, BD_THAWED), err, "");
		out->in.thawed = out->thawed;
	}
	out->in.freeze_c = form_value(&b->form, bd_rest(b, BD_DEGREES));
	return RC_OK;
}

enum rc
bd_settle(struct bd_typed *out, struct breakdown_desk *b, struct err *err)
{
	enum rc rc;

	if ((rc = form_check(&b->form, err)) != RC_OK)
		return rc;
	bd_read(out, b);
	if (!b->form.fields[BD_FISH].off && out->in.fish == 0 &&
	    out->in.which == NULL)
		return wrong(b, BD_FISH, err, tr(SAY_BD_NEED_FISH));
	if (out->in.weight_g == 0)
		return wrong(b, BD_IN, err, tr(SAY_BD_NEED_IN));
	if ((rc = settle_with(out, b, err)) != RC_OK ||
	    (rc = settle_makes(b, err)) != RC_OK)
		return rc;
	if (out->in.make_count == 0 &&
	    bench_unexplained(&out->in) == breakdown_total_g(&out->in))
		return wrong(
		    b, bd_dish(0, BD_PORTIONS), err, tr(SAY_BD_NEED_OUT));
	return settle_times(out, b, err);
}
