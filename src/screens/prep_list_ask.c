/* prep_list_ask.c - what the prep list asks: service, the chef's numbers and
 * words about fish, what to print. */
#include <inttypes.h>
#include <stdlib.h>
#include <string.h>

#include "base/str.h"
#include "ops/expect.h"
#include "prep_list.h"
#include "says_prep_list.h"

/* --- service ---------------------------------------------------------------*/

static const char *
service_row(const void *arg, size_t i)
{
	static char text[120];
	const struct prep_screen *l = arg;
	const struct service *s;
	struct civil c;

	if (i >= l->services.count)
		return ""; /* one has ended since it was asked */
	s = &l->services.items[i].service;
	c = day_civil(s->day);
	str_fmt(text, sizeof(text), tr(SAY_PL_SERVICE_ROW),
	    tr(weekday_name(day_weekday(s->day))), c.day,
	    tr(month_name(c.month)), s->name, (int)s->covers);
	return text;
}

static void
take_service(struct desk *d, void *arg, size_t i)
{
	struct prep_screen *l = arg;

	if (i >= l->services.count ||
	    str_eq(l->services.items[i].text, l->service))
		return;
	str_copy(l->service, sizeof(l->service), l->services.items[i].text);
	l->chosen = true;
	prep_page_free(l->page);
	l->page = NULL;
	l->why_not[0] = '\0';
	l->tasks.at = l->dishes.at = 0;
	prep_list_plan(d, l);
}

void
prep_list_ask_service(struct desk *d, struct prep_screen *l)
{
	struct choices c = {
		.count = l->services.count, .word = service_row, .arg = l
	};

	desk_ask_pick(d, tr(SAY_PL_ASK_SERVICE), &c, take_service, l);
}

/* --- numbers the chef expects ----------------------------------------------*/

enum expect_field { E_DISH, E_LEAST, E_MOST, E_EXACT };

static const struct field_row expect_rows[] = {
	[E_DISH] = { SAY_PL_F_DISH, FIELD_CHOICE, FIELD_MUST,
	    SAY_PL_F_DISH_HINT },
	[E_LEAST] = { SAY_PL_F_LEAST, FIELD_COUNT, 0, NULL },
	[E_MOST] = { SAY_PL_F_MOST, FIELD_COUNT, 0, NULL },
	[E_EXACT] = { SAY_PL_F_EXACT, FIELD_COUNT, 0, NULL },
};

static const char *
dish_word(const void *arg, size_t i)
{
	const struct prep_screen *l = arg;

	return i < l->dish_count ? l->dishes_known[i] : "covers";
}

/* Copied: the plan may be made anew while the form is open. */
static void
list_dishes(struct prep_screen *l)
{
	const struct plan *p = l->page->plan;

	for (l->dish_count = 0;
	     l->dish_count < p->count && l->dish_count < DEMAND_DISHES_MAX;
	     l->dish_count++)
		str_copy(l->dishes_known[l->dish_count],
		    sizeof(l->dishes_known[0]),
		    p->lines[l->dish_count].cut.dish);
}

/* A dish is cleared and typed anew, so that an empty field takes back. */
static void
fill_expect(
    struct expect_in *in, char texts[4][80], const char *dish, struct form *f)
{
	static const enum expect_kind kinds[] = {
		[E_LEAST] = EXPECT_FLOOR,
		[E_MOST] = EXPECT_CEILING,
		[E_EXACT] = EXPECT_FIXED,
	};
	int i;

	in->words[in->count].kind = EXPECT_CLEAR;
	in->words[in->count++].text = dish;
	for (i = E_LEAST; i <= E_EXACT; i++) {
		if (form_value(f, i) == NULL)
			continue;
		str_fmt(texts[i], 80, "%s:%s", dish, form_value(f, i));
		in->words[in->count].kind = kinds[i];
		in->words[in->count++].text = texts[i];
	}
}

static bool
take_expect(struct desk *d, void *arg, struct form *f)
{
	struct prep_screen *l = arg;
	const char *dish = form_value(f, E_DISH), *exact;
	struct expect_in in = {
		.service = l->asked, .covers = -1, .by = d->by
	};
	char texts[4][80];
	struct err err = { 0 };
	struct buf out;
	enum rc rc;

	exact = form_value(f, E_EXACT);
	if (!str_eq(dish, "covers")) {
		fill_expect(&in, texts, dish, f);
	} else if (form_value(f, E_LEAST) != NULL ||
	    form_value(f, E_MOST) != NULL) {
		desk_say(d, LEVEL_NOTE, "%s", tr(SAY_PL_COVERS_EXACT));
		return false;
	} else if (exact != NULL) {
		in.covers = strtoll(exact, NULL, 10);
	} else {
		in.words[in.count].kind = EXPECT_CLEAR;
		in.words[in.count++].text = dish;
	}
	buf_init(&out, 262144);
	rc = expect(&out, d->sn, &in, FORMAT_TEXT, &err);
	buf_fini(&out);
	if (rc != RC_OK) {
		desk_fail(d, &err);
		return false;
	}
	desk_say(d, LEVEL_DONE, "%s", tr(SAY_PL_EXPECTED));
	prep_list_plan(d, l);
	return true;
}

/* Initials first: the answer of a form may not ask anything more. */
static void
ask_expect(struct desk *d, void *arg)
{
	struct prep_screen *l = arg;
	struct form *f;
	int line = prep_list_line(l);

	if (l->page == NULL)
		return;
	str_copy(l->asked, sizeof(l->asked), l->service);
	list_dishes(l);
	f = desk_ask_fields(
	    d, tr(SAY_PL_ASK_EXPECT), expect_rows, 4, take_expect, l);
	f->fields[E_DISH].choices = (struct choices){
		.count = l->dish_count + 1,
		.word = dish_word,
		.arg = l,
	};
	if (line >= 0) {
		form_set(f, E_DISH, l->page->plan->lines[line].cut.dish);
		f->at = E_LEAST;
	}
}

void
prep_list_ask_expect(struct desk *d, struct prep_screen *l)
{
	desk_record(d, DUTY_ANYONE, ask_expect, l);
}

/* --- words about fish ------------------------------------------------------*/

enum fish_field { F_WORD, F_BATCH, F_FISH, F_BOARD };

static const struct field_row fish_rows[] = {
	[F_WORD] = { SAY_PL_F_WORD, FIELD_CHOICE, FIELD_MUST, NULL },
	[F_BATCH] = { SAY_PL_F_BATCH, FIELD_CHOICE, FIELD_MUST, NULL },
	[F_FISH] = { SAY_PL_F_FISH, FIELD_COUNT, 0, SAY_PL_F_FISH_HINT },
	[F_BOARD] = { SAY_PL_F_BOARD, FIELD_WEIGHTS, 0, SAY_PL_F_BOARD_HINT },
};

static const struct {
	const char *word, *says;
	int say; /* enum plan_word; -1: take back */
} fish_words[] = {
	{ "first", SAY_PL_W_FIRST, PLAN_SAY_FIRST },
	{ "leave", SAY_PL_W_LEAVE, PLAN_SAY_LEAVE },
	{ "whole", SAY_PL_W_WHOLE, PLAN_SAY_WHOLE },
	{ "board", SAY_PL_W_BOARD, PLAN_SAY_BOARD },
	{ "back", SAY_PL_W_CLEAR, -1 },
};

#define FISH_WORDS (sizeof(fish_words) / sizeof(fish_words[0]))

static const char *
word_word(const void *arg, size_t i)
{
	(void)arg;
	return fish_words[i].word;
}

static const char *
word_says(const void *arg, size_t i)
{
	(void)arg;
	return tr(fish_words[i].says);
}

static const char *
batch_word(const void *arg, size_t i)
{
	static char shown[CODE_SIZE];
	const struct prep_screen *l = arg;

	return code_show(shown, l->batches[i]);
}

static void
add_batch(struct prep_screen *l, const char *code)
{
	size_t i;

	for (i = 0; i < l->batch_count; i++)
		if (str_eq(l->batches[i], code))
			return;
	if (l->batch_count < sizeof(l->batches) / sizeof(l->batches[0]))
		str_copy(l->batches[l->batch_count++], CODE_SIZE, code);
}

/* Every batch the plan looked at. */
static void
list_batches(struct prep_screen *l)
{
	const struct plan_line *line;
	size_t i, k;

	l->batch_count = 0;
	for (i = 0; i < l->page->plan->count; i++) {
		line = &l->page->plan->lines[i];
		for (k = 0; k < line->take_count; k++)
			if (!line->takes[k].tray)
				add_batch(l, line->takes[k].code);
	}
}

/* One thing was said of a batch or fish: what is said now takes its place. */
static bool
take_back(struct prep_screen *l, const char *target)
{
	size_t n = strlen(target), i, to = 0;
	char texts[PREP_SAYS_MAX][PREP_SAY_SIZE];
	enum plan_word words[PREP_SAYS_MAX];
	bool any;

	for (i = 0; i < l->say_count; i++) {
		if (strncmp(l->say_texts[i], target, n) == 0 &&
		    (l->say_texts[i][n] == '\0' ||
			(l->says[i].word == PLAN_SAY_BOARD &&
			    l->say_texts[i][n] == ':')))
			continue;
		memcpy(texts[to], l->say_texts[i], PREP_SAY_SIZE);
		words[to++] = l->says[i].word;
	}
	any = to < l->say_count;
	for (i = 0; i < to; i++) {
		memcpy(l->say_texts[i], texts[i], PREP_SAY_SIZE);
		l->says[i].word = words[i];
		l->says[i].text = l->say_texts[i];
	}
	l->say_count = to;
	return any;
}

static bool
add_say(struct desk *d, struct prep_screen *l, enum plan_word word,
    const char *text)
{
	if (l->say_count == PREP_SAYS_MAX) {
		desk_say(d, LEVEL_NOTE, tr(SAY_PL_SAYS_FULL), PREP_SAYS_MAX);
		return false;
	}
	if (!str_copy(l->say_texts[l->say_count], PREP_SAY_SIZE, text))
		return false;
	l->says[l->say_count].word = word;
	l->says[l->say_count].text = l->say_texts[l->say_count];
	l->say_count++;
	l->said = true;
	return true;
}

static bool
take_fish(struct desk *d, void *arg, struct form *f)
{
	struct prep_screen *l = arg;
	const char *word = form_value(f, F_WORD), *fish = form_value(f, F_FISH);
	const char *board = form_value(f, F_BOARD);
	char target[PREP_SAY_SIZE], text[FIELD_SIZE + CODE_SIZE + 2];
	size_t i;

	for (i = 0; i < FISH_WORDS - 1; i++)
		if (str_eq(fish_words[i].word, word))
			break;
	str_fmt(target, sizeof(target), "%s%s%s", form_value(f, F_BATCH),
	    fish == NULL ? "" : ":", fish == NULL ? "" : fish);
	str_fmt(text, sizeof(text), "%s", target);
	if (fish_words[i].say == PLAN_SAY_BOARD) {
		if (board == NULL) {
			form_wrong(f, F_BOARD, tr(SAY_PL_BOARD_WHICH));
			return false;
		}
		str_fmt(target, sizeof(target), "%s", form_value(f, F_BATCH));
		str_fmt(text, sizeof(text), "%s:%s", target, board);
	}
	if (!take_back(l, target) && fish_words[i].say < 0) {
		desk_say(d, LEVEL_NOTE, "%s", tr(SAY_PL_SAYS_NONE));
		return false;
	}
	if (fish_words[i].say >= 0 &&
	    !add_say(d, l, (enum plan_word)fish_words[i].say, text))
		return false;
	desk_say(d, LEVEL_DONE, "%s", tr(SAY_PL_EXPECTED));
	prep_list_plan(d, l);
	return true;
}

void
prep_list_ask_fish(struct desk *d, struct prep_screen *l)
{
	const struct prep_task *t = prep_list_task(l);
	char shown[CODE_SIZE];
	struct form *f;

	list_batches(l);
	f = desk_ask_fields(d, tr(SAY_PL_ASK_FISH), fish_rows, 4, take_fish, l);
	f->fields[F_WORD].choices = (struct choices){
		.count = FISH_WORDS, .word = word_word, .says = word_says
	};
	f->fields[F_BATCH].choices = (struct choices){
		.count = l->batch_count, .word = batch_word, .arg = l
	};
	if (t != NULL && t->job >= 0)
		form_set(f, F_BATCH, code_show(shown, t->key.batch));
}

/* --- paper -----------------------------------------------------------------*/

static const char *
print_says(const void *arg, size_t i)
{
	(void)arg;
	return i == 0 ? tr(SAY_PL_PRINT_PREP) : tr(SAY_PL_PRINT_ORDER);
}

static void
print_now(struct desk *d, void *arg)
{
	struct prep_screen *l = arg;
	struct label_order order = { .by = d->by, .only_queue = true };
	struct job_list jobs = { 0 };
	struct err err = { 0 };

	if (l->page == NULL)
		return;
	if (prep_print(&jobs, d->sn, l->page, l->print, &order, &err) != RC_OK)
		desk_fail(d, &err);
	else {
		desk_print(d);
		desk_say(d, LEVEL_DONE, trn(SAY_PL_PRINTED, (long)jobs.count),
		    (int)jobs.count);
	}
	job_list_fini(&jobs);
}

static void
take_print(struct desk *d, void *arg, size_t i)
{
	struct prep_screen *l = arg;

	l->print = i == 0 ? TICKET_PREP : TICKET_ORDER;
	desk_record(d, DUTY_ANYONE, print_now, l);
}

void
prep_list_ask_print(struct desk *d, struct prep_screen *l)
{
	struct choices c = { .count = 2, .word = print_says, .arg = l };

	desk_ask_pick(d, tr(SAY_PL_ASK_PRINT), &c, take_print, l);
}
