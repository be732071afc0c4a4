/* forecast_out.c - what a service is expected to ask for, for people. */
#include "exchange/forecast_out.h"

#include <inttypes.h>
#include <stdlib.h>
#include <string.h>

#include "base/clock.h"
#include "base/str.h"
#include "base/units.h"
#include "forecast_data.h"

/* A longer code stands on a line of its own. */
#define DISH_WIDTH 22

void
demand_report_fini(struct demand_report *r)
{
	free(r->items);
	memset(r, 0, sizeof(*r));
}

const char *
demand_why_word(enum demand_why why)
{
	switch (why) {
	case WHY_NOT_OFFERED:
		return "not-offered";
	case WHY_RATIO:
		return "ratio";
	case WHY_LIFE:
		return "life";
	case WHY_FLOOR:
		return "floor";
	case WHY_CEILING:
		return "ceiling";
	case WHY_FIXED:
		return "fixed";
	}
	return "?";
}

/* "12.3" from hundredths. */
static char *
tenths(char *dst, size_t size, int64_t hundredths)
{
	int64_t t = (hundredths + 5) / 10;

	str_fmt(dst, size, "%" PRId64 ".%" PRId64, t / 10, t % 10);
	return dst;
}

static void
because(char *dst, size_t size, const struct demand_row *row)
{
	switch (row->bound) {
	case WHY_FIXED:
		str_copy(dst, size, "fixed, typed");
		break;
	case WHY_FLOOR:
		str_copy(dst, size, "floor, typed");
		break;
	case WHY_CEILING:
		str_copy(dst, size, "ceiling, typed");
		break;
	case WHY_LIFE:
		str_fmt(dst, size, "keeps %d services", row->life);
		break;
	case WHY_RATIO:
	case WHY_NOT_OFFERED:
		str_copy(dst, size, "one service only");
		break;
	}
}

static const char *
ratio_text(enum demand_ratio r)
{
	switch (r) {
	case RATIO_PRICES:
		return "from the prices";
	case RATIO_DEFAULT:
		return "house figure";
	case RATIO_LOSS:
		return "house figure, price below cost";
	}
	return "?";
}

/* Whatever the chef typed, whether it settled the target or not. */
static void
write_typed(struct buf *out, const struct demand_row *row)
{
	if (row->floor < 0 && row->ceiling < 0 && row->fixed < 0)
		return;
	buf_puts(out, "  typed by the chef:");
	if (row->floor >= 0)
		buf_printf(out, " at least %" PRId64, row->floor);
	if (row->ceiling >= 0)
		buf_printf(out, "%s at most %" PRId64,
		    row->floor >= 0 ? "," : "", row->ceiling);
	if (row->fixed >= 0)
		buf_printf(out, "%s exactly %" PRId64,
		    row->floor >= 0 || row->ceiling >= 0 ? "," : "",
		    row->fixed);
	buf_putc(out, '\n');
}

static void
write_row(struct buf *out, const struct demand_row *row)
{
	char expected[32], range[48], chance[32], why[48], p[32], m[32], t[32];

	str_fmt(range, sizeof(range), "%" PRId64 " to %" PRId64, row->low80,
	    row->high80);
	because(why, sizeof(why), row);
	if (strlen(row->dish) >= DISH_WIDTH)
		buf_printf(out, "%s\n", row->dish);
	buf_printf(out, "%-*s%8s%13s%6" PRId64 "%10s  %s\n", DISH_WIDTH,
	    strlen(row->dish) >= DISH_WIDTH ? "" : row->dish,
	    tenths(expected, sizeof(expected), row->expected_c), range,
	    row->target, percent_print(chance, sizeof(chance), row->out_bp),
	    why);
	buf_printf(out, "  share %s (menu %s, %d service%s); ratio %s, %s\n",
	    percent_print(p, sizeof(p), row->learned_bp),
	    percent_print(m, sizeof(m), row->menu_bp), row->taught,
	    row->taught == 1 ? "" : "s",
	    percent_print(t, sizeof(t), row->tau_bp), ratio_text(row->ratio));
	write_typed(out, row);
}

static void
write_covers(struct buf *out, const struct demand_report *r)
{
	char e[32], show[32], walk[32];

	if (r->typed >= 0) {
		buf_printf(out,
		    "covers  %" PRId64 " typed by the chef (%" PRId64
		    " booked)\n",
		    r->typed, r->booked);
		return;
	}
	buf_printf(out,
	    "covers  %" PRId64
	    " booked, %s of them come, %s walk in\n"
	    "        %s expected, %" PRId64 " to %" PRId64
	    " eight times in ten\n",
	    r->booked, percent_print(show, sizeof(show), r->show_bp),
	    tenths(walk, sizeof(walk), r->walk_ins_c),
	    tenths(e, sizeof(e), r->covers_c), r->covers_low, r->covers_high);
}

static void
write_report(struct buf *out, const struct demand_report *r)
{
	char day[48];
	size_t i;

	buf_printf(out, "\n== %s, %s%s\n", day_words(day, sizeof(day), r->day),
	    r->service, r->over ? " (over; as it was known before it)" : "");
	if (r->beyond) {
		buf_printf(out,
		    "no forecast: %" PRId64 " covers, it takes at most %d\n",
		    r->booked, DEMAND_COVERS_MAX);
		return;
	}
	write_covers(out, r);
	if (r->services_learned == 0)
		buf_puts(out,
		    "no service is closed yet: house figures and the menu's "
		    "own shares\n");
	else
		buf_printf(out, "learned from %d closed service%s\n",
		    r->services_learned, r->services_learned == 1 ? "" : "s");
	if (r->count == 0) {
		buf_puts(out, "no dish of the menu is on for this service\n");
		return;
	}
	buf_printf(out, "\n%-*s%8s%13s%6s%10s  %s\n", DISH_WIDTH, "dish",
	    "expected", "8 in 10", "HAVE", "runs out", "because");
	for (i = 0; i < r->count; i++)
		write_row(out, &r->items[i]);
}

/* --- the record tested ---------------------------------------------------- */

/* "1.234" portions from 1/10 000. */
static char *
thousandths(char *dst, size_t size, int64_t bp)
{
	int64_t t = (bp + 5) / 10;

	str_fmt(dst, size, "%" PRId64 ".%03" PRId64, t / 1000, t % 1000);
	return dst;
}

static void
score_line(struct buf *out, const char *what, int64_t ours, int64_t flat)
{
	buf_printf(out, "%-34s%12" PRId64 "%22" PRId64 "\n", what, ours, flat);
}

static void
write_verdict(struct buf *out, const struct demand_score *s)
{
	char p[32];
	int skill = s->skill_bp < 0 ? -s->skill_bp : s->skill_bp;

	if (!s->enough)
		buf_printf(out,
		    "%" PRId64
		    " service%s: under %d, too few to say which "
		    "is better\n",
		    s->services, s->services == 1 ? "" : "s", DEMAND_ENOUGH);
	else if (skill == 0)
		buf_puts(out, "neither is better\n");
	else
		buf_printf(out, "the forecast's loss is %s %s the rule's\n",
		    percent_print(p, sizeof(p), skill),
		    s->skill_bp > 0 ? "below" : "above");
}

static void
write_score(struct buf *out, const struct forecast_page *p)
{
	const struct demand_score *s = &p->score;
	char a[32], b[32];

	buf_printf(out,
	    "\n== Tested on the record: %s, %" PRId64 " service%s, %" PRId64
	    " dish counts\n",
	    p->score_of == NULL ? "all sittings" : p->score_of, s->services,
	    s->services == 1 ? "" : "s", s->dish_services);
	buf_puts(out,
	    "each service forecast from those before it, portions of one "
	    "night\n");
	if (s->dish_services == 0) {
		buf_puts(out, "nothing to compare yet\n");
		return;
	}
	buf_printf(
	    out, "\n%-34s%12s%22s\n", "", "forecast", "booked x share x 1.1");
	buf_printf(out, "%-34s%12s%22s\n", "loss a dish, portions by ratio",
	    thousandths(a, sizeof(a), s->ours.pinball_bp),
	    thousandths(b, sizeof(b), s->flat.pinball_bp));
	score_line(out, "times a dish ran out", s->ours.stock_outs,
	    s->flat.stock_outs);
	score_line(out, "services in which one did", s->ours.with_any,
	    s->flat.with_any);
	score_line(out, "portions short", s->ours.short_of, s->flat.short_of);
	score_line(out, "portions left", s->ours.left, s->flat.left);
	buf_printf(out, "\nsold within the 8-in-10 range: %s of the time\n",
	    percent_print(a, sizeof(a), s->in_range_bp));
	buf_printf(out, "enough of the dish: %s of the time, meant %s\n",
	    percent_print(a, sizeof(a), s->met_bp),
	    percent_print(b, sizeof(b), s->ratio_bp));
	if (s->left_out > 0)
		buf_printf(out,
		    "%" PRId64
		    " counts left out: the dish ran out, what was wanted is "
		    "not known\n",
		    s->left_out);
	write_verdict(out, s);
}

static void
write_text(struct buf *out, const struct forecast_page *p)
{
	char made[48];
	size_t i;

	buf_printf(out, "FORECAST  %s, made %s\n", p->kitchen,
	    time_minute(made, sizeof(made), p->made_utc));
	if (p->scored) {
		write_score(out, p);
		return;
	}
	for (i = 0; i < p->count; i++)
		write_report(out, &p->reports[i]);
	if (p->count == 0) {
		buf_puts(out, "\nno coming service is in the book\n");
		return;
	}
	buf_puts(out,
	    "\nHAVE counts what is on hand already.  Runs out: the chance "
	    "that more are asked\nfor.  Ratio: what one short costs, of one "
	    "short and one left together.\n");
}

void
forecast_write(
    struct buf *out, const struct forecast_page *p, enum format format)
{
	switch (format) {
	case FORMAT_TEXT:
		write_text(out, p);
		break;
	case FORMAT_JSON:
		forecast_write_json(out, p);
		break;
	case FORMAT_CSV:
		forecast_write_csv(out, p);
		break;
	}
}
