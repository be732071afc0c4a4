/* plan_stock.c - what is on hand, and what the chef said about it. */
#include <inttypes.h>
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "base/str.h"
#include "mix.h"
#include "ops/freeze.h"
#include "plan_load.h"
#include "store/batch_fish.h"
#include "store/batches.h"
#include "store/portions.h"

/* Single weights, largest first, when every fish left has its own. */
static enum rc
load_fish(struct plan_batch *b, struct station *sn, struct err *err)
{
	struct batch_fish_list l;
	struct batch_fish t;
	size_t i, j;
	enum rc rc;

	rc = batch_fish_cv(&b->cv_bp, sn->st, b->species, err);
	if (rc != RC_OK ||
	    (rc = batch_fish_left(&l, sn->st, b->id, err)) != RC_OK)
		return rc;
	if (l.count > 0 && l.count == (size_t)b->count) {
		b->fish_g = xcalloc(l.count, sizeof(*b->fish_g));
		b->fish_number = xcalloc(l.count, sizeof(*b->fish_number));
		for (i = 1; i < l.count; i++) {
			t = l.items[i];
			for (j = i;
			     j > 0 && l.items[j - 1].weight_g < t.weight_g; j--)
				l.items[j] = l.items[j - 1];
			l.items[j] = t;
		}
		for (i = 0; i < l.count; i++) {
			b->fish_g[i] = l.items[i].weight_g;
			b->fish_number[i] = (int)l.items[i].number;
		}
	}
	batch_fish_fini(&l);
	return RC_OK;
}

static enum rc
load_batch(struct plan_batch *b, struct station *sn, const struct batch *from,
    struct err *err)
{
	const struct species *sp = species_find(&sn->species, from->species);
	const struct figure *figures = sn->rules.set.figures;

	b->id = from->id;
	str_copy(b->code, sizeof(b->code), from->code);
	str_copy(b->species, sizeof(b->species), from->species);
	b->presentation = from->presentation;
	b->supplier_id = from->supplier.id;
	b->count = from->count_left;
	b->by_weight = from->count == 0;
	b->weight_g = from->weight_left;
	b->price = from->price;
	b->use_by_utc = from->use_by_utc;
	b->use_by_day = local_from_utc(from->use_by_utc).day;
	b->held = from->held;
	b->parasite_free = sp != NULL &&
	    (figure_words_have(&figures[FIG_EXEMPT_SPECIES], sp->code) ||
		figure_words_have(
		    &figures[FIG_EXEMPT_FORMS], body_form_word(sp->form)));
	return b->by_weight ? RC_OK : load_fish(b, sn, err);
}

static enum rc
load_batches(struct plan_stock *stock, struct station *sn, struct err *err)
{
	struct batch_list l;
	size_t i;
	enum rc rc;

	if ((rc = batch_list_open(&l, sn->st, err)) != RC_OK)
		return rc;
	stock->batches = xcalloc(l.count, sizeof(*stock->batches));
	stock->batch_count = l.count;
	for (i = 0; i < l.count && rc == RC_OK; i++)
		rc = load_batch(&stock->batches[i], sn, &l.items[i], err);
	batch_list_fini(&l);
	return rc;
}

static enum rc
load_trays(struct plan_stock *stock, struct station *sn, struct err *err)
{
	struct portion_list l;
	struct plan_tray *t;
	size_t i;
	enum rc rc;

	if ((rc = portion_list_on_hand(&l, sn->st, err)) != RC_OK)
		return rc;
	stock->trays = xcalloc(l.count, sizeof(*stock->trays));
	stock->tray_count = l.count;
	for (i = 0; i < l.count; i++) {
		t = &stock->trays[i];
		t->id = l.items[i].id;
		str_copy(t->code, sizeof(t->code), l.items[i].code);
		t->cut_id = l.items[i].cut_id;
		str_copy(t->dish, sizeof(t->dish), l.items[i].dish);
		str_copy(t->species, sizeof(t->species), l.items[i].species);
		t->left = l.items[i].left;
		t->use_by_utc = l.items[i].use_by_utc;
		t->held = l.items[i].held;
		t->frozen = l.items[i].keep == KEEP_FROZEN;
	}
	portion_list_fini(&l);
	return RC_OK;
}

/* --- out of the freezer ----------------------------------------------------
 */

/* R-S4: the use-by of a frozen tray taken out as late as each service lets. */
static enum rc
thaw_tray(struct plan_tray *t, struct station *sn,
    const struct plan_service *services, size_t count, struct err *err)
{
	struct mix_dates dates;
	struct frozen_life life;
	struct portion p;
	struct mix mix;
	struct err why;
	int64_t out_utc;
	size_t i;
	enum rc rc;

	if ((rc = portion_get(&p, sn->st, t->code, err)) != RC_OK ||
	    (rc = mix_of_unit(&mix, sn, &p, err)) != RC_OK ||
	    (rc = frozen_life_of(&life, sn, &p, err)) != RC_OK)
		return rc;
	t->thawed_use_by_utc = xcalloc(count, sizeof(*t->thawed_use_by_utc));
	for (i = 0; i < count; i++) {
		out_utc =
		    services[i].start_utc - (int64_t)sn->cfg.thaw_hours * 3600;
		err_clear(&why);
		/* Refused, or any other reason: no date, so it never serves. */
		if (mix_thawed(&dates, sn, &mix, &p, &life, out_utc, &why) ==
		    RC_OK)
			t->thawed_use_by_utc[i] =
			    useby_utc(&dates.each[dates.first]);
	}
	return RC_OK;
}

enum rc
plan_stock_thaw(struct plan_stock *stock, struct station *sn,
    const struct plan_service *services, size_t count, struct err *err)
{
	size_t i;
	enum rc rc = RC_OK;

	for (i = 0; i < stock->tray_count && rc == RC_OK; i++)
		if (stock->trays[i].frozen)
			rc = thaw_tray(
			    &stock->trays[i], sn, services, count, err);
	return rc;
}

/* --- what the chef said --------------------------------------------------- */

static const char *const options[] = {
	[PLAN_SAY_FIRST] = "--first",
	[PLAN_SAY_LEAVE] = "--leave",
	[PLAN_SAY_WHOLE] = "--serve-whole",
	[PLAN_SAY_BOARD] = "--board",
};

static enum rc
find_batch(struct plan_batch **out, struct plan_stock *stock,
    const char *option, const char *typed, struct err *err)
{
	char code[CODE_SIZE];
	enum code_kind kind;
	size_t i;
	enum rc rc;

	if ((rc = code_parse(&kind, code, typed, err)) != RC_OK) {
		err_prefix(err, "%s: ", option);
		return rc;
	}
	for (i = 0; i < stock->batch_count; i++)
		if (str_eq(stock->batches[i].code, code)) {
			*out = &stock->batches[i];
			return RC_OK;
		}
	return err_set(err, RC_NOTFOUND, 0,
	    "%s %s: no such batch on hand; pinbone stock lists them", option,
	    typed);
}

/* Pieces on the board: the fish they came from are no longer closed. */
static enum rc
say_board(struct plan_batch *b, const struct station *sn, char *weights,
    struct err *err)
{
	const struct species *sp = species_find(&sn->species, b->species);
	int pieces = pieces_per_fish(sp, b->presentation);
	char *word, *rest = weights;
	int64_t fish, before, i;
	size_t cap = b->board_count;
	enum rc rc;

	if (b->by_weight || pieces == 0)
		return err_set(err, RC_INVALID, 0,
		    "--board: that batch is not counted fish");
	if (b->fish_pin != NULL)
		return err_set(err, RC_INVALID, 0,
		    "--board: which fish the pieces are of is not known, so "
		    "no fish of that batch can be named beside it");
	before = div_up((int64_t)b->board_count, pieces);
	while ((word = strtok_r(rest, ",", &rest)) != NULL) {
		b->board_g =
		    grow(b->board_g, &cap, b->board_count, sizeof(*b->board_g));
		rc = weight_parse(
		    &b->board_g[b->board_count], "--board weight", word, err);
		if (rc != RC_OK)
			return rc;
		b->board_count++;
	}
	if (b->board_count == 0)
		return err_set(err, RC_INVALID, 0,
		    "--board: write BATCH:WEIGHT,WEIGHT,...");
	fish = div_up((int64_t)b->board_count, pieces) - before;
	if (fish > b->count)
		return err_set(err, RC_INVALID, 0,
		    "--board: %zu pieces come from %" PRId64
		    " fish, the batch has %" PRId64,
		    b->board_count, fish + before, b->count + before);
	/* Which ones they were is not said, so the rest is estimated. */
	for (i = 0; i < fish; i++) {
		b->weight_g -= b->weight_g / b->count;
		b->count--;
	}
	free(b->fish_g);
	free(b->fish_number);
	free(b->fish_pin);
	b->fish_g = NULL;
	b->fish_number = NULL;
	b->fish_pin = NULL;
	return RC_OK;
}

static enum rc
say_fish(struct plan_batch *b, const char *option, const char *number,
    enum plan_pin pin, struct err *err)
{
	int64_t n, i;
	enum rc rc;

	rc = int_parse(&n, option, number, 1, COUNT_MAX, err);
	if (rc != RC_OK)
		return rc;
	for (i = 0; b->fish_number != NULL && i < b->count; i++)
		if (b->fish_number[i] == n)
			break;
	if (b->fish_number == NULL || i == b->count)
		return err_set(err, RC_NOTFOUND, 0,
		    "%s: no fish of that batch was weighed as number %" PRId64,
		    option, n);
	if (b->fish_pin == NULL)
		b->fish_pin = xcalloc((size_t)b->count, sizeof(*b->fish_pin));
	if (b->fish_pin[i] != PLAN_FREE && b->fish_pin[i] != pin)
		return err_set(err, RC_INVALID, 0,
		    "%s: of fish %" PRId64 " something else is said as well",
		    option, n);
	b->fish_pin[i] = pin;
	return RC_OK;
}

static enum rc
say_batch(struct plan_batch *b, const char *option, enum plan_pin pin,
    struct err *err)
{
	char code[CODE_SIZE];

	if (b->pin != PLAN_FREE && b->pin != pin)
		return err_set(err, RC_INVALID, 0,
		    "%s: of batch %s something else is said as well", option,
		    code_show(code, b->code));
	if (pin == PLAN_SERVE_WHOLE && b->by_weight)
		return err_set(err, RC_INVALID, 0,
		    "%s: batch %s is not counted fish", option,
		    code_show(code, b->code));
	b->pin = pin;
	return RC_OK;
}

static enum rc
say(struct plan_stock *stock, const struct station *sn,
    const struct plan_say *s, struct err *err)
{
	static const enum plan_pin pins[] = {
		[PLAN_SAY_FIRST] = PLAN_FIRST,
		[PLAN_SAY_LEAVE] = PLAN_LEAVE,
		[PLAN_SAY_WHOLE] = PLAN_SERVE_WHOLE,
		[PLAN_SAY_BOARD] = PLAN_FREE,
	};
	const char *option = options[s->word];
	struct plan_batch *b = NULL;
	char text[2000], *more;
	enum rc rc;

	if (!str_copy(text, sizeof(text), s->text))
		return err_set(err, RC_INVALID, 0, "%s is too long", option);
	if ((more = strchr(text, ':')) != NULL)
		*more++ = '\0';
	if ((rc = find_batch(&b, stock, option, text, err)) != RC_OK)
		return rc;
	if (s->word == PLAN_SAY_BOARD)
		return more != NULL
		    ? say_board(b, sn, more, err)
		    : err_set(err, RC_INVALID, 0,
			  "--board: write BATCH:WEIGHT,WEIGHT,...");
	if (more != NULL)
		return say_fish(b, option, more, pins[s->word], err);
	return say_batch(b, option, pins[s->word], err);
}

enum rc
plan_stock_load(struct plan_stock *out, struct station *sn,
    const struct plan_wish *wish, struct err *err)
{
	size_t i;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	if ((rc = load_batches(out, sn, err)) == RC_OK)
		rc = load_trays(out, sn, err);
	for (i = 0; i < wish->say_count && rc == RC_OK; i++)
		rc = say(out, sn, &wish->says[i], err);
	if (rc != RC_OK)
		plan_stock_fini(out);
	return rc;
}
