/* years_days.c - a kitchen at work, day after day. */
#include <assert.h>
#include <inttypes.h>
#include <stdlib.h>
#include <string.h>

#include "base/clock.h"
#include "base/mem.h"
#include "base/str.h"
#include "core/code.h"
#include "tests/unit/chance.h"
#include "years_parts.h"

#define BATCHES_A_DAY 1644 /* hundredths */
#define UNITS_LEAST 30     /* of a batch; 23 more at most */
#define UNITS_SPREAD 24
#define BOOKED_AHEAD 2 /* days */
#define LEFT_OVER_PC 15
#define KEEP_DAYS 3 /* longer no unit waits, but for the freezer */
/* Portions of a dish in a day, about: two batches of 42 units. */
#define USUAL 102

/* A labelled unit that is not written yet. */
struct unit {
	int64_t id, serial, output, batch;
	int kind;
	int64_t servings, left;
	grams g;
	int64_t made, use_by, frozen;
	day_no day;
	char code[CODE_SIZE];
	const char *by;
};

struct queue {
	struct unit **items;
	size_t first, count, cap;
};

/* A batch with something left in it. */
struct rest {
	int64_t id, fish;
	grams g;
	day_no last;
	char code[CODE_SIZE];
};

struct work {
	struct rows *r;
	const struct first_day *f;
	uint64_t seed;
	day_no day, last;
	int64_t utc;
	int offset;
	int64_t serial;
	int batches; /* owed, hundredths */

	struct unit **units; /* of the last days, in order; owned */
	size_t count, cap, written;
	struct queue on_hand[KINDS];
	struct unit *frozen[64];
	size_t frozen_count;
	struct unit *thawed[64]; /* this morning */
	size_t thawed_count;
	struct rest rests[256];
	size_t rest_count;
	int64_t *services; /* ids: two a day; owned */
	day_no from;
	int turn; /* of the kinds */
	int part; /* of the numbers of a large kitchen: 1, or an eighth */
};

static const char *const people[] = { "AK", "LM", "RS", "DT" };
static const char *const sittings[] = { "lunch", "dinner" };

static int64_t
chance(struct work *w, int64_t below)
{
	return (int64_t)(chance_next(&w->seed) % (uint64_t)below);
}

static bool
one_in(struct work *w, int n)
{
	return chance(w, n) == 0;
}

static const char *
someone(struct work *w)
{
	return people[chance(w, 4)];
}

static void
set_time(struct work *w, int hour, int minute)
{
	w->utc = utc_from_local(w->day, hour, minute, 0);
	w->offset = local_from_utc(w->utc).offset_min;
}

static int64_t
end_of(day_no day)
{
	return utc_from_local(day, 23, 59, 59);
}

static int64_t
next_id(struct work *w, enum row_kind k)
{
	return w->r->next[k]++;
}

static void
audit(struct work *w, const char *by, const char *action, const char *subject,
    const char *detail)
{
	row_put(w->r, ROW_AUDIT, "iiitttt", next_id(w, ROW_AUDIT), w->utc,
	    (int64_t)w->offset, by, action, subject, detail);
}

/* --- labels ---------------------------------------------------------------*/

static void
digest(struct work *w, char hex[65])
{
	static const char set[] = "0123456789abcdef";
	uint64_t v = 0;
	int i;

	for (i = 0; i < 64; i++) {
		if (i % 7 == 0)
			v = chance_next(&w->seed);
		hex[i] = set[v & 15];
		v >>= 4;
	}
	hex[64] = '\0';
}

/* Of a batch or a unit: the other id is 0. */
static void
print(struct work *w, int64_t batch, int64_t unit, const char *code,
    const char *says, const char *by)
{
	char hex[65], shown[CODE_SIZE], detail[160];
	int copy, copies = one_in(w, 1500) ? 2 : 1;

	code_show(shown, code);
	for (copy = 0; copy < copies; copy++) {
		digest(w, hex);
		row_put(w->r, ROW_JOB, "ikkkwtwttiit", next_id(w, ROW_JOB),
		    batch, unit, INT64_C(0), 0, says, copy, "main", hex, w->utc,
		    w->utc + 2, by);
		str_fmt(detail, sizeof(detail),
		    "%s, copy %d, picture %.16s on main (usb:any)", says, copy,
		    hex);
		audit(w, by, copy == 0 ? "print" : "reprint", shown, detail);
	}
}

static void
print_list(struct work *w, const char *kind, const char *title)
{
	int64_t id = next_id(w, ROW_TICKET);
	char hex[65], detail[160];
	int page;

	row_put(w->r, ROW_TICKET, "itttiwt", id, kind, title, w->f->ticket,
	    w->utc, w->offset, "AK");
	for (page = 1; page <= 2; page++) {
		digest(w, hex);
		row_put(w->r, ROW_JOB, "ikkkwtwttiit", next_id(w, ROW_JOB),
		    INT64_C(0), INT64_C(0), id, page, "use-by", 0, "roll", hex,
		    w->utc, w->utc + 2, "AK");
	}
	str_fmt(detail, sizeof(detail), "%s, 2 page(s) on roll", title);
	audit(w, "AK", "list", kind, detail);
}

/* --- goods in -------------------------------------------------------------*/

#define LOT_UNITS (UNITS_LEAST + UNITS_SPREAD)
#define LOTS_MAX 24

/* A batch of today and what will be made of it. */
struct lot {
	int64_t id, rest_fish;
	grams rest_g;
	int kind;
	bool broken; /* today; else it stays whole */
	char code[CODE_SIZE];
	int preps, units;
	struct {
		int first, units;
		int64_t fish, id;
		grams in_g, out_g;
	} prep[2];
	int64_t servings[LOT_UNITS];
	grams g[LOT_UNITS];
};

static grams
about(struct work *w, grams g, int percent)
{
	return g * (10000 - percent * 100 + chance(w, 200 * percent + 1)) /
	    10000;
}

/* What will be made of it, from the portions back to the fish. */
static void
lot_plan(struct work *w, struct lot *b)
{
	const struct kind *k = &w->f->kinds[b->kind];
	int i, j, half;

	b->units = (UNITS_LEAST + (int)chance(w, UNITS_SPREAD)) / w->part;
	b->preps = one_in(w, 4) ? 2 : 1;
	for (i = 0; i < b->units; i++) {
		b->servings[i] = one_in(w, 7) ? 2 + chance(w, 2) : 1;
		b->g[i] = b->servings[i] * about(w, k->target_g, 4);
	}
	half = b->units / b->preps;
	for (j = 0; j < b->preps; j++) {
		b->prep[j].first = j * half;
		b->prep[j].units =
		    j + 1 < b->preps ? half : b->units - j * half;
		for (i = 0; i < b->prep[j].units; i++)
			b->prep[j].out_g += b->g[b->prep[j].first + i];
		b->prep[j].in_g =
		    b->prep[j].out_g * BP_ONE / about(w, k->yield_bp, 2) + 1;
		if (b->prep[j].in_g < b->prep[j].out_g)
			b->prep[j].in_g = b->prep[j].out_g;
		if (k->fish_g != 0)
			b->prep[j].fish =
			    1 + (b->prep[j].in_g - 1) / about(w, k->fish_g, 6);
	}
	if (chance(w, 100) < LEFT_OVER_PC) {
		b->rest_fish = k->fish_g != 0;
		b->rest_g = k->fish_g != 0 ? about(w, k->fish_g, 6) : 400;
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
	str_fmt(lot, sizeof(lot), "L%05d", (int)chance(w, 100000));
	row_put(w->r, ROW_BATCH, "itittiitwtttwktwtiwittttw", b->id, b->code,
	    delivery, k->species, k->presentation, count, g, lot,
	    refused ? 84 : 5 + (int)chance(w, 20), k->area, k->method, k->gear,
	    w->day - 1, live ? INT64_C(0) : (int64_t)w->day + 3,
	    refused ? "refused" : "accepted", (int)open,
	    refused ? "8.4 C, no ice left" : "", w->utc, w->offset,
	    end_of(refused ? w->day : w->day + k->batch_days), why, by,
	    "Fair Wind FH 12", k->judgement, 600 + (int)chance(w, 900));
	str_fmt(detail, sizeof(detail), "%s: %s %s %" PRId64 " g: %s",
	    k->supplier, k->species, k->presentation, g,
	    refused ? "refused" : "accepted");
	audit(w, by, "receive", code_show(shown, b->code), detail);
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

static void
take_in(struct work *w, struct lot *lots, int count)
{
	int64_t delivery[KINDS] = { 0 };
	int i, j, number = 0;

	set_time(w, 6, 40);
	for (i = 0; i < count; i++) {
		struct lot *b = &lots[i];
		const struct kind *k = &w->f->kinds[b->kind];
		const char *by = someone(w);
		bool refused = one_in(w, 80);

		w->utc += 90;
		if (delivery[k->supplier_id] == 0) {
			char note[24];

			delivery[k->supplier_id] = next_id(w, ROW_DELIVERY);
			str_fmt(note, sizeof(note), "DN-%d", (int)w->day);
			row_put(w->r, ROW_DELIVERY, "iitw",
			    delivery[k->supplier_id], k->supplier_id, note,
			    w->day);
		}
		lot_plan(w, b);
		b->id = next_id(w, ROW_BATCH);
		b->broken = !refused && (w->day < w->last || i * 4 < count);
		for (j = 0; j < b->preps; j++)
			b->prep[j].id = b->broken ? next_id(w, ROW_PREP) : 0;
		number = batch_code_make(b->code, w->day, number + 1);
		assert(number != 0);
		row_batch(w, b, delivery[k->supplier_id], refused, by);
		if (refused)
			continue;
		if (k->fish_g > 1000)
			row_fish(w, b);
		print(w, b->id, 0, b->code, "use-by", by);
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
	u->id = next_id(w, ROW_PORTION);
	u->serial = w->serial;
	u->output = output;
	u->batch = b->id;
	u->kind = b->kind;
	u->servings = u->left = b->servings[i];
	u->g = b->g[i];
	u->made = w->utc;
	u->day = w->day;
	u->use_by = end_of(w->day + w->f->kinds[b->kind].portion_days);
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
	int64_t id = b->prep[j].id, output = next_id(w, ROW_OUTPUT);
	int64_t portions = 0;
	const char *by = someone(w);
	char shown[CODE_SIZE], detail[120];
	int i;

	row_put(w->r, ROW_PREP, "iiwtt", id, w->utc, w->offset, by, "");
	row_put(w->r, ROW_INPUT, "iiiii", next_id(w, ROW_INPUT), id, b->id,
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
	if (one_in(w, 4))
		row_put(w->r, ROW_MINUTES, "iii", id, INT64_C(20), INT64_C(0));
	str_fmt(detail, sizeof(detail),
	    "%" PRId64 " g in, %d labelled units, %" PRId64 " g unexplained",
	    in, b->prep[j].units, rest - rest / 5 - rest / 2 - rest / 4);
	audit(w, by, "prep", code_show(shown, b->code), detail);
	for (i = 0; i < b->prep[j].units; i++) {
		struct unit *u =
		    w->units[w->count - (size_t)b->prep[j].units + (size_t)i];

		print(w, 0, u->id, u->code, "use-by", by);
	}
}

/* --- service --------------------------------------------------------------*/

static void
fate(struct work *w, struct unit *u, const char *kind, const char *action,
    int64_t servings, int64_t service, const char *reason)
{
	const char *by = someone(w);
	char shown[CODE_SIZE], detail[120];

	u->left -= servings;
	assert(u->left >= 0);
	row_put(w->r, ROW_EVENT, "iitiktiwt", next_id(w, ROW_EVENT), u->id,
	    kind, servings, service, reason, w->utc, w->offset, by);
	str_fmt(detail, sizeof(detail), "%" PRId64 " of %s%s%s%s", servings,
	    w->f->kinds[u->kind].dish,
	    str_eq(kind, "missing") ? " missing" : "",
	    reason[0] == '\0' ? "" : ": ", reason);
	audit(w, by, action, code_show(shown, u->code), detail);
}

/* The first of a queue, or NULL. */
static struct unit *
front(struct queue *q)
{
	while (q->count > 0 && q->items[q->first]->left == 0) {
		q->first++;
		q->count--;
	}
	return q->count > 0 ? q->items[q->first] : NULL;
}

/* Portions of one dish for one sitting; returns how many went out. */
static int64_t
serve_dish(struct work *w, int kind, int64_t service, int64_t wanted)
{
	struct unit *u;
	int64_t n, sold = 0;

	while (sold < wanted && (u = front(&w->on_hand[kind])) != NULL) {
		n = u->left < wanted - sold ? u->left : wanted - sold;
		w->utc += 15;
		if (one_in(w, 2500))
			fate(w, u, "missing", "count", 1, 0,
			    "not where it should be");
		else
			fate(w, u, "used", "use", n, service, "");
		sold += n;
	}
	return sold;
}

static void
serve(struct work *w, int sitting)
{
	int64_t service = w->services[(w->day - w->from) * 2 + sitting];
	int64_t booked, seated, walk_ins, wanted, sold[KINDS], all = 0;
	char sql[80], label[40], date[16], detail[160];
	int i, share, dishes = 0;

	str_fmt(sql, sizeof(sql),
	    "SELECT covers FROM service WHERE id = %" PRId64, service);
	booked = rows_number(w->r->db, sql);
	seated = booked - chance(w, booked / 8 + 1);
	walk_ins = chance(w, 40) / w->part;
	set_time(w, sitting == 0 ? 12 : 18, 5);
	while (w->thawed_count > 0) {
		struct unit *u = w->thawed[--w->thawed_count];

		fate(w, u, "used", "use", u->left, service, "");
		free(u);
	}
	for (i = 0; i < KINDS; i++) {
		const struct kind *k = &w->f->kinds[i];

		share = sitting == 0 ? k->lunch : k->dinner;
		wanted = about(w, USUAL * share / w->part, 15) / 100;
		sold[i] = share == 0 ? -1 : serve_dish(w, i, service, wanted);
		all += share == 0 ? 0 : sold[i];
		dishes += share != 0;
	}
	set_time(w, sitting == 0 ? 15 : 23, 10);
	row_put(w->r, ROW_CLOSED, "iiiiiwt", service, booked, seated, walk_ins,
	    w->utc, w->offset, "AK");
	for (i = 0; i < KINDS; i++)
		if (sold[i] >= 0)
			row_put(w->r, ROW_SOLD,
			    front(&w->on_hand[i]) == NULL ? "iiiw" : "iiin",
			    service, w->f->kinds[i].dish_id, sold[i], -2);
	str_fmt(label, sizeof(label), "%s/%s",
	    day_print(date, sizeof(date), w->day), sittings[sitting]);
	str_fmt(detail, sizeof(detail),
	    "%" PRId64 " of %" PRId64 " booked seated, %" PRId64
	    " walk-ins, %" PRId64 " sold of %d dishes",
	    seated, booked, walk_ins, all, dishes);
	audit(w, "AK", "close", label, detail);
}

static void
book(struct work *w, day_no day)
{
	char parties[32], detail[80], date[16];
	int64_t twos, fours;
	int i;

	for (i = 0; i < 2; i++) {
		twos = (60 + chance(w, 60)) / w->part;
		fours = (60 + chance(w, 40)) / w->part;
		str_fmt(parties, sizeof(parties), "2x%d 4x%d", (int)twos,
		    (int)fours);
		w->services[(day - w->from) * 2 + i] = next_id(w, ROW_SERVICE);
		row_put(w->r, ROW_SERVICE, "iwtitn",
		    w->services[(day - w->from) * 2 + i], day, sittings[i],
		    2 * twos + 4 * fours, parties);
	}
	str_fmt(detail, sizeof(detail), "%s: 2 added, 0 changed",
	    day_print(date, sizeof(date), day));
	audit(w, "AK", "import", "bookings", detail);
}

/* --- keeping --------------------------------------------------------------*/

#define PLAICE 2 /* of the kinds */

static void
freeze_one(struct work *w)
{
	struct queue *q = &w->on_hand[PLAICE];
	const struct frozen_texts *t = &w->f->frozen;
	char why[STENCIL_SIZE], shown[CODE_SIZE], detail[120];
	int64_t before;
	struct unit *u;

	if (front(q) == NULL || w->frozen_count >= 60)
		return;
	u = q->items[q->first + q->count - 1];
	if (u->day != w->day || u->left == 0)
		return;
	q->count--;
	before = u->use_by;
	u->use_by = end_of(w->day + t->freeze_days);
	u->frozen = w->utc;
	stencil_put(why, &t->freeze, w->day);
	row_put(w->r, ROW_FREEZING, "iitwiiitiwt", next_id(w, ROW_FREEZING),
	    u->id, "frozen", -210, t->freeze_left, before, u->use_by, why,
	    w->utc, w->offset, "LM");
	str_fmt(detail, sizeof(detail),
	    "%" PRId64 " of plaice-crumb at -21.0 C", u->left);
	audit(w, "LM", "freeze", code_show(shown, u->code), detail);
	print(w, 0, u->id, u->code, "frozen", "LM");
	w->frozen[w->frozen_count++] = u;
}

/* Out of the freezer in the morning, and on a plate at lunch. */
static void
thaw_due(struct work *w)
{
	const struct frozen_texts *t = &w->f->frozen;
	char why[STENCIL_SIZE], shown[CODE_SIZE], detail[120];

	while (
	    w->frozen_count > 0 && w->frozen[0]->day + THAW_AFTER <= w->day) {
		struct unit *u = w->frozen[0];
		day_no base = u->day;
		int64_t use_by = end_of(base + t->thaw_days);

		memmove(w->frozen, w->frozen + 1,
		    --w->frozen_count * sizeof(w->frozen[0]));
		stencil_put(why, &t->thaw, base);
		row_put(w->r, ROW_FREEZING, "iitniiitiwt",
		    next_id(w, ROW_FREEZING), u->id, "thawed", t->thaw_left,
		    u->use_by, use_by, why, w->utc, w->offset, "LM");
		row_put(w->r, ROW_THAWED, "iii", use_by, w->utc, u->id);
		str_fmt(detail, sizeof(detail), "%" PRId64 " of plaice-crumb",
		    u->left);
		audit(w, "LM", "thaw", code_show(shown, u->code), detail);
		print(w, 0, u->id, u->code, "thawed", "LM");
		w->thawed[w->thawed_count++] = u;
	}
}

/* Before the lights go out nothing is left that expires tonight. */
static void
empty(struct work *w)
{
	char shown[CODE_SIZE], detail[80];
	struct unit *u;
	size_t n;
	int i;

	set_time(w, 23, 30);
	for (i = 0; i < KINDS; i++)
		while ((u = front(&w->on_hand[i])) != NULL &&
		    u->use_by <= end_of(w->day))
			fate(w, u, "discarded", "discard", u->left, 0,
			    "expires tonight");
	for (n = 0; n < w->rest_count; n++) {
		struct rest *r = &w->rests[n];

		if (r->last > w->day)
			continue;
		row_put(w->r, ROW_BATCH_EVENT, "iiiitiwt",
		    next_id(w, ROW_BATCH_EVENT), r->id, r->fish, r->g,
		    "expires tonight", w->utc, w->offset, "AK");
		row_put(w->r, ROW_SHUT, "i", r->id);
		str_fmt(detail, sizeof(detail),
		    "%" PRId64 " g: expires tonight", r->g);
		audit(w, "AK", "discard", code_show(shown, r->code), detail);
		w->rests[n--] = w->rests[--w->rest_count];
	}
}

/* A batch blocked for half an hour; on the last day for longer. */
static void
hold_one(struct work *w)
{
	static const char why[] = "delivery note to be cleared";
	char shown[CODE_SIZE];
	const struct rest *r;

	if (w->rest_count == 0 || (w->day < w->last && !one_in(w, 4)))
		return;
	r = &w->rests[chance(w, (int64_t)w->rest_count)];
	code_show(shown, r->code);
	if (w->day == w->last) {
		row_put(w->r, ROW_HOLD, "iititnnn", next_id(w, ROW_HOLD), r->id,
		    why, w->utc, "AK");
		audit(w, "AK", "hold", shown, why);
		return;
	}
	row_put(w->r, ROW_HOLD, "iitititt", next_id(w, ROW_HOLD), r->id, why,
	    w->utc, "AK", w->utc + 1800, "AK", "note found");
	audit(w, "AK", "hold", shown, why);
	w->utc += 1800;
	audit(w, "AK", "release", shown, "note found");
}

/* --- a day ----------------------------------------------------------------*/

/* Units that nothing will happen to any more, or all of them. */
static void
write_units(struct work *w, bool all)
{
	char why[STENCIL_SIZE];
	day_no day = 0;
	int kind = -1;
	struct unit *u;

	for (; w->written < w->count; w->written++) {
		u = w->units[w->written];
		if (!all && u->day > w->day - KEEP_DAYS)
			break;
		if (u->day != day || u->kind != kind)
			stencil_put(
			    why, &w->f->kinds[u->kind].portion_why, u->day);
		day = u->day;
		kind = u->kind;
		row_put(w->r, ROW_PORTION, "iitiiiiiiiwittk", u->id, u->serial,
		    u->code, u->output, u->batch, w->f->kinds[kind].cut_id,
		    u->servings, u->left, u->g, u->made,
		    local_from_utc(u->made).offset_min, u->use_by, why, u->by,
		    u->frozen);
		if (u->left == 0 || u->frozen == 0)
			free(u);
	}
	if (w->written > 4096 || all) {
		w->count -= w->written;
		memmove(w->units, w->units + w->written,
		    w->count * sizeof(*w->units));
		w->written = 0;
	}
}

static void
break_all(struct work *w, struct lot *lots, int count)
{
	int i, j;

	for (j = 0; j < 2; j++) {
		set_time(w, j == 0 ? 8 : 10, 10);
		for (i = 0; i < count; i++)
			if (lots[i].broken && j < lots[i].preps) {
				break_down(w, &lots[i], j);
				w->utc += 120;
			}
	}
}

/* Up to eleven; *count batches came in. */
static void
morning(struct work *w)
{
	struct lot lots[LOTS_MAX];
	char title[40];
	int i, count;

	set_time(w, 6, 0);
	if (w->day - w->from > 0 && day_of_year(w->day) == 1) {
		row_put(w->r, ROW_CLOCK, "iiwtttt", next_id(w, ROW_CLOCK),
		    w->utc, w->offset, "AK", "Europe/London", "New Year's Day",
		    "asked at the start");
		audit(w, "AK", "clock", "clock", "confirmed");
	}
	book(w, w->day + BOOKED_AHEAD);
	for (i = 0; i < 2; i++) {
		str_fmt(title, sizeof(title), "Prep, %s", sittings[i]);
		print_list(w, "prep", title);
	}
	w->batches += BATCHES_A_DAY;
	count = w->batches / 100;
	w->batches -= count * 100;
	memset(lots, 0, sizeof(lots));
	for (i = 0; i < count; i++)
		lots[i].kind = w->turn++ % KINDS;
	take_in(w, lots, count);
	set_time(w, 8, 0);
	if (w->day < w->last)
		thaw_due(w);
	break_all(w, lots, count);
	set_time(w, 10, 50);
	hold_one(w);
}

static void
afternoon(struct work *w)
{
	serve(w, 0);
	set_time(w, 15, 20);
	if (one_in(w, 3))
		freeze_one(w);
	serve(w, 1);
	empty(w);
	set_time(w, 23, 40);
	print_list(w, "day", "Day sheet");
}

void
days_play(struct rows *r, const struct first_day *f,
    const struct years_wish *wish, day_no from, day_no to)
{
	struct work w = {
		.r = r, .f = f, .seed = wish->seed, .from = from, .last = to
	};
	size_t i;

	w.part = wish->small ? 8 : 1;
	w.services = xcalloc(
	    (size_t)(to - from + 1 + BOOKED_AHEAD) * 2, sizeof(*w.services));
	w.serial =
	    rows_number(r->db, "SELECT coalesce(max(serial), 0) FROM portion");
	w.day = from;
	set_time(&w, 5, 0);
	for (w.day = from; w.day < from + BOOKED_AHEAD; w.day++)
		book(&w, w.day);
	for (w.day = from; w.day <= to; w.day++) {
		morning(&w);
		if (w.day == to)
			break;
		afternoon(&w);
		write_units(&w, false);
	}
	write_units(&w, true);
	for (i = 0; i < w.frozen_count; i++)
		free(w.frozen[i]);
	for (i = 0; i < KINDS; i++)
		free(w.on_hand[i].items);
	free(w.units);
	free(w.services);
}
