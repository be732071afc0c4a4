/* years_days.c - service, keeping, and day after day. */
#include <assert.h>
#include <inttypes.h>
#include <stdlib.h>
#include <string.h>

#include "base/clock.h"
#include "base/mem.h"
#include "base/str.h"
#include "years_work.h"

static const char *const sittings[] = { "lunch", "dinner" };

/* --- service --------------------------------------------------------------*/

static void
fate(struct work *w, struct unit *u, const char *kind, const char *action,
    int64_t servings, int64_t service, const char *reason)
{
	const char *by = years_someone(w);
	char shown[CODE_SIZE], detail[120];

	u->left -= servings;
	assert(u->left >= 0);
	row_put(w->r, ROW_EVENT, "iitiktiwt", years_id(w, ROW_EVENT), u->id,
	    kind, servings, service, reason, w->utc, w->offset, by);
	str_fmt(detail, sizeof(detail), "%" PRId64 " of %s%s%s%s", servings,
	    w->f->kinds[u->kind].dish,
	    str_eq(kind, "missing") ? " missing" : "",
	    reason[0] == '\0' ? "" : ": ", reason);
	years_audit(w, by, action, code_show(shown, u->code), detail);
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
		if (years_one_in(w, 2500))
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
	seated = booked - years_chance(w, booked / 8 + 1);
	walk_ins = years_chance(w, 40) / w->part;
	years_time(w, sitting == 0 ? 12 : 18, 5);
	while (w->thawed_count > 0) {
		struct unit *u = w->thawed[--w->thawed_count];

		fate(w, u, "used", "use", u->left, service, "");
		free(u);
	}
	for (i = 0; i < KINDS; i++) {
		const struct kind *k = &w->f->kinds[i];

		share = sitting == 0 ? k->lunch : k->dinner;
		wanted = years_about(w, USUAL * share / w->part, 15) / 100;
		sold[i] = share == 0 ? -1 : serve_dish(w, i, service, wanted);
		all += share == 0 ? 0 : sold[i];
		dishes += share != 0;
	}
	years_time(w, sitting == 0 ? 15 : 23, 10);
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
	years_audit(w, "AK", "close", label, detail);
}

static void
book(struct work *w, day_no day)
{
	char parties[32], detail[80], date[16];
	int64_t twos, fours;
	int i;

	for (i = 0; i < 2; i++) {
		twos = (60 + years_chance(w, 60)) / w->part;
		fours = (60 + years_chance(w, 40)) / w->part;
		str_fmt(parties, sizeof(parties), "2x%d 4x%d", (int)twos,
		    (int)fours);
		w->services[(day - w->from) * 2 + i] = years_id(w, ROW_SERVICE);
		row_put(w->r, ROW_SERVICE, "iwtitn",
		    w->services[(day - w->from) * 2 + i], day, sittings[i],
		    2 * twos + 4 * fours, parties);
	}
	str_fmt(detail, sizeof(detail), "%s: 2 added, 0 changed",
	    day_print(date, sizeof(date), day));
	years_audit(w, "AK", "import", "bookings", detail);
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
	u->use_by = years_end_of(w->day + t->freeze_days);
	u->frozen = w->utc;
	stencil_put(why, &t->freeze, w->day);
	row_put(w->r, ROW_FREEZING, "iitwiiitiwt", years_id(w, ROW_FREEZING),
	    u->id, "frozen", -210, t->freeze_left, before, u->use_by, why,
	    w->utc, w->offset, "LM");
	str_fmt(detail, sizeof(detail),
	    "%" PRId64 " of plaice-crumb at -21.0 C", u->left);
	years_audit(w, "LM", "freeze", code_show(shown, u->code), detail);
	years_print(w, 0, u->id, u->code, "frozen", "LM");
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
		int64_t use_by = years_end_of(base + t->thaw_days);

		memmove(w->frozen, w->frozen + 1,
		    --w->frozen_count * sizeof(w->frozen[0]));
		stencil_put(why, &t->thaw, base);
		row_put(w->r, ROW_FREEZING, "iitniiitiwt",
		    years_id(w, ROW_FREEZING), u->id, "thawed", t->thaw_left,
		    u->use_by, use_by, why, w->utc, w->offset, "LM");
		row_put(w->r, ROW_THAWED, "iii", use_by, w->utc, u->id);
		str_fmt(detail, sizeof(detail), "%" PRId64 " of plaice-crumb",
		    u->left);
		years_audit(w, "LM", "thaw", code_show(shown, u->code), detail);
		years_print(w, 0, u->id, u->code, "thawed", "LM");
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

	years_time(w, 23, 30);
	for (i = 0; i < KINDS; i++)
		while ((u = front(&w->on_hand[i])) != NULL &&
		    u->use_by <= years_end_of(w->day))
			fate(w, u, "discarded", "discard", u->left, 0,
			    "expires tonight");
	for (n = 0; n < w->rest_count; n++) {
		struct rest *r = &w->rests[n];

		if (r->last > w->day)
			continue;
		row_put(w->r, ROW_BATCH_EVENT, "iiiitiwt",
		    years_id(w, ROW_BATCH_EVENT), r->id, r->fish, r->g,
		    "expires tonight", w->utc, w->offset, "AK");
		row_put(w->r, ROW_SHUT, "i", r->id);
		str_fmt(detail, sizeof(detail),
		    "%" PRId64 " g: expires tonight", r->g);
		years_audit(
		    w, "AK", "discard", code_show(shown, r->code), detail);
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

	if (w->rest_count == 0 || (w->day < w->last && !years_one_in(w, 4)))
		return;
	r = &w->rests[years_chance(w, (int64_t)w->rest_count)];
	code_show(shown, r->code);
	if (w->day == w->last) {
		row_put(w->r, ROW_HOLD, "iititnnn", years_id(w, ROW_HOLD),
		    r->id, why, w->utc, "AK");
		years_audit(w, "AK", "hold", shown, why);
		return;
	}
	row_put(w->r, ROW_HOLD, "iitititt", years_id(w, ROW_HOLD), r->id, why,
	    w->utc, "AK", w->utc + 1800, "AK", "note found");
	years_audit(w, "AK", "hold", shown, why);
	w->utc += 1800;
	years_audit(w, "AK", "release", shown, "note found");
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

/* Up to eleven; *count batches came in. */
static void
morning(struct work *w)
{
	struct lot lots[LOTS_MAX];
	char title[40];
	int i, count;

	years_time(w, 6, 0);
	if (w->day - w->from > 0 && day_of_year(w->day) == 1) {
		row_put(w->r, ROW_CLOCK, "iiwtttt", years_id(w, ROW_CLOCK),
		    w->utc, w->offset, "AK", "Europe/London", "New Year's Day",
		    "asked at the start");
		years_audit(w, "AK", "clock", "clock", "confirmed");
	}
	book(w, w->day + BOOKED_AHEAD);
	for (i = 0; i < 2; i++) {
		str_fmt(title, sizeof(title), "Prep, %s", sittings[i]);
		years_print_list(w, "prep", title);
	}
	w->batches += BATCHES_A_DAY;
	count = w->batches / 100;
	w->batches -= count * 100;
	memset(lots, 0, sizeof(lots));
	for (i = 0; i < count; i++)
		lots[i].kind = w->turn++ % KINDS;
	years_take_in(w, lots, count);
	years_time(w, 8, 0);
	if (w->day < w->last)
		thaw_due(w);
	years_break_all(w, lots, count);
	years_time(w, 10, 50);
	hold_one(w);
}

static void
afternoon(struct work *w)
{
	serve(w, 0);
	years_time(w, 15, 20);
	if (years_one_in(w, 3))
		freeze_one(w);
	serve(w, 1);
	empty(w);
	years_time(w, 23, 40);
	years_print_list(w, "day", "Day sheet");
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
	years_time(&w, 5, 0);
	for (w.day = from; w.day < from + BOOKED_AHEAD; w.day++)
		book(&w, w.day);
	for (w.day = from; w.day <= to; w.day++) {
		morning(&w);
		if (w.day == to)
			break;
		afternoon(&w);
		write_units(&w, false);
		rows_seal(r);
	}
	write_units(&w, true);
	for (i = 0; i < w.frozen_count; i++)
		free(w.frozen[i]);
	for (i = 0; i < KINDS; i++)
		free(w.on_hand[i].items);
	free(w.units);
	free(w.services);
}
