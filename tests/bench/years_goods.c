/* years_goods.c - goods in and breakdowns of the years. */
#include <assert.h>
#include <inttypes.h>
#include <stdlib.h>
#include <string.h>

#include "base/clock.h"
#include "base/mem.h"
#include "base/str.h"
#include "years_work.h"

/* --- goods in -------------------------------------------------------------*/

/* What will be made of it, from the portions back to the fish. */
static void
lot_plan(struct work *w, struct lot *b)
{
	const struct kind *k = &w->f->kinds[b->kind];
	int i, j, half;

	b->units = (UNITS_LEAST + (int)years_chance(w, UNITS_SPREAD)) / w->part;
	b->preps = years_one_in(w, 4) ? 2 : 1;
	for (i = 0; i < b->units; i++) {
		b->servings[i] =
		    years_one_in(w, 7) ? 2 + years_chance(w, 2) : 1;
		b->g[i] = b->servings[i] * years_about(w, k->target_g, 4);
	}
	half = b->units / b->preps;
	for (j = 0; j < b->preps; j++) {
		b->prep[j].first = j * half;
		b->prep[j].units =
		    j + 1 < b->preps ? half : b->units - j * half;
		for (i = 0; i < b->prep[j].units; i++)
			b->prep[j].out_g += b->g[b->prep[j].first + i];
		b->prep[j].in_g =
		    b->prep[j].out_g * BP_ONE / years_about(w, k->yield_bp, 2) +
		    1;
		if (b->prep[j].in_g < b->prep[j].out_g)
			b->prep[j].in_g = b->prep[j].out_g;
		if (k->fish_g != 0)
			b->prep[j].fish = 1 +
			    (b->prep[j].in_g - 1) /
				years_about(w, k->fish_g, 6);
	}
	if (years_chance(w, 100) < LEFT_OVER_PC) {
		b->rest_fish = k->fish_g != 0;
		b->rest_g = k->fish_g != 0 ? years_about(w, k->fish_g, 6) : 400;
	}
}

static void
row_batch(struct work *w, const struct lot *b, int64_t delivery, bool refused,
    const char *by)
{
	const struct kind *k = &w->f->kinds[b->kind];
	int64_t count = b->rest_fish + b->prep[0].fish + b->prep[1].fish;
	grams g = b->rest_g + b->prep[0].in_g + b->prep[1].in_g;
	bool live = str_eq(k->presentation, "live");
	bool open = !refused && (!b->broken || b->rest_g > 0);
	char why[STENCIL_SIZE], lot[16], shown[CODE_SIZE], detail[120];

	if (refused)
		str_copy(why, sizeof(why), "{}");
	else
		stencil_put(why, &k->batch_why, w->day);
	str_fmt(lot, sizeof(lot), "L%05d", (int)years_chance(w, 100000));
	row_put(w->r, ROW_BATCH, "itittiitwtttwktwtiwittttw", b->id, b->code,
	    delivery, k->species, k->presentation, count, g, lot,
	    refused ? 84 : 5 + (int)years_chance(w, 20), k->area, k->method,
	    k->gear, w->day - 1, live ? INT64_C(0) : (int64_t)w->day + 3,
	    refused ? "refused" : "accepted", (int)open,
	    refused ? "8.4 C, no ice left" : "", w->utc, w->offset,
	    years_end_of(refused ? w->day : w->day + k->batch_days), why, by,
	    "Fair Wind FH 12", k->judgement, 600 + (int)years_chance(w, 900));
	str_fmt(detail, sizeof(detail), "%s: %s %s %" PRId64 " g: %s",
	    k->supplier, k->species, k->presentation, g,
	    refused ? "refused" : "accepted");
	years_audit(w, by, "receive", code_show(shown, b->code), detail);
}

/* Fish weighed one by one, each known to the breakdown that took it. */
static void
row_fish(struct work *w, const struct lot *b)
{
	int64_t number = 0, fish;
	grams left;
	int j;

	for (j = 0; j < b->preps; j++) {
		left = b->prep[j].in_g;
		for (fish = b->prep[j].fish; fish > 0; fish--) {
			grams g = fish == 1 ? left : left / fish;

			left -= g;
			row_put(w->r, ROW_FISH, "iiik", b->id, ++number, g,
			    b->broken ? b->prep[j].id : INT64_C(0));
		}
	}
	if (b->rest_fish > 0)
		row_put(w->r, ROW_FISH, "iiin", b->id, ++number, b->rest_g);
}

static void
keep_rest(struct work *w, const struct lot *b)
{
	struct rest *r = &w->rests[w->rest_count++];

	assert(w->rest_count < sizeof(w->rests) / sizeof(w->rests[0]));
	r->id = b->id;
	r->fish = b->rest_fish;
	r->g = b->rest_g;
	r->last = w->day + w->f->kinds[b->kind].batch_days;
	str_copy(r->code, sizeof(r->code), b->code);
}

void
years_take_in(struct work *w, struct lot *lots, int count)
{
	int64_t delivery[KINDS] = { 0 };
	int i, j, number = 0;

	years_time(w, 6, 40);
	for (i = 0; i < count; i++) {
		struct lot *b = &lots[i];
		const struct kind *k = &w->f->kinds[b->kind];
		const char *by = years_someone(w);
		bool refused = years_one_in(w, 80);

		w->utc += 90;
		if (delivery[k->supplier_id] == 0) {
			char note[24];

			delivery[k->supplier_id] = years_id(w, ROW_DELIVERY);
			str_fmt(note, sizeof(note), "DN-%d", (int)w->day);
			row_put(w->r, ROW_DELIVERY, "iitw",
			    delivery[k->supplier_id], k->supplier_id, note,
			    w->day);
		}
		lot_plan(w, b);
		b->id = years_id(w, ROW_BATCH);
		b->broken = !refused && (w->day < w->last || i * 4 < count);
		for (j = 0; j < b->preps; j++)
			b->prep[j].id = b->broken ? years_id(w, ROW_PREP) : 0;
		number = batch_code_make(b->code, w->day, number + 1);
		assert(number != 0);
		row_batch(w, b, delivery[k->supplier_id], refused, by);
		if (refused)
			continue;
		if (k->fish_g > 1000)
			row_fish(w, b);
		years_print(w, b->id, 0, b->code, "use-by", by);
		if (b->broken && b->rest_g > 0)
			keep_rest(w, b);
	}
}

/* --- breakdowns -----------------------------------------------------------*/

static void
queue_add(struct queue *q, struct unit *u)
{
	if (q->first > 4096) {
		memmove(q->items, q->items + q->first,
		    q->count * sizeof(*q->items));
		q->first = 0;
	}
	q->items =
	    grow(q->items, &q->cap, q->first + q->count, sizeof(*q->items));
	q->items[q->first + q->count++] = u;
}

static void
make_unit(
    struct work *w, const struct lot *b, int i, int64_t output, const char *by)
{
	struct unit *u = xcalloc(1, sizeof(*u));

	w->serial = portion_code_make(u->code, w->serial + 1);
	assert(w->serial != 0);
	u->id = years_id(w, ROW_PORTION);
	u->serial = w->serial;
	u->output = output;
	u->batch = b->id;
	u->kind = b->kind;
	u->servings = u->left = b->servings[i];
	u->g = b->g[i];
	u->made = w->utc;
	u->day = w->day;
	u->use_by = years_end_of(w->day + w->f->kinds[b->kind].portion_days);
	u->by = by;
	w->units = grow(w->units, &w->cap, w->count, sizeof(*w->units));
	w->units[w->count++] = u;
	queue_add(&w->on_hand[b->kind], u);
}

static void
break_down(struct work *w, struct lot *b, int j)
{
	const struct kind *k = &w->f->kinds[b->kind];
	grams in = b->prep[j].in_g, out = b->prep[j].out_g, rest = in - out;
	int64_t id = b->prep[j].id, output = years_id(w, ROW_OUTPUT);
	int64_t portions = 0;
	const char *by = years_someone(w);
	char shown[CODE_SIZE], detail[120];
	int i;

	row_put(w->r, ROW_PREP, "iiwtt", id, w->utc, w->offset, by, "");
	row_put(w->r, ROW_INPUT, "iiiii", years_id(w, ROW_INPUT), id, b->id,
	    b->prep[j].fish, in);
	row_put(w->r, ROW_LOSS, "iti", id, "trim", rest / 5);
	row_put(w->r, ROW_LOSS, "iti", id, "frames", rest / 2);
	row_put(w->r, ROW_LOSS, "iti", id, "waste", rest / 4);
	for (i = 0; i < b->prep[j].units; i++)
		portions += b->servings[b->prep[j].first + i];
	row_put(
	    w->r, ROW_OUTPUT, "iiiii", output, id, k->cut_id, portions, out);
	for (i = 0; i < b->prep[j].units; i++)
		make_unit(w, b, b->prep[j].first + i, output, by);
	if (k->bought[0] != '\0')
		row_put(w->r, ROW_YIELD, "itttiiii", id, k->species, k->bought,
		    k->cut, k->supplier_id, b->prep[j].fish, in, out);
	if (years_one_in(w, 4))
		row_put(w->r, ROW_MINUTES, "iii", id, INT64_C(20), INT64_C(0));
	str_fmt(detail, sizeof(detail),
	    "%" PRId64 " g in, %d labelled units, %" PRId64 " g unexplained",
	    in, b->prep[j].units, rest - rest / 5 - rest / 2 - rest / 4);
	years_audit(w, by, "prep", code_show(shown, b->code), detail);
	for (i = 0; i < b->prep[j].units; i++) {
		struct unit *u =
		    w->units[w->count - (size_t)b->prep[j].units + (size_t)i];

		years_print(w, 0, u->id, u->code, "use-by", by);
	}
}

void
years_break_all(struct work *w, struct lot *lots, int count)
{
	int i, j;

	for (j = 0; j < 2; j++) {
		years_time(w, j == 0 ? 8 : 10, 10);
		for (i = 0; i < count; i++)
			if (lots[i].broken && j < lots[i].preps) {
				break_down(w, &lots[i], j);
				w->utc += 120;
			}
	}
}
