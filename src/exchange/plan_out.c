/* plan_out.c - the prep list and the order list as text for people. */
#include "exchange/plan_out.h"

#include <inttypes.h>

#include "base/clock.h"
#include "base/str.h"
#include "plan_data.h"
#include "plan_text.h"

const char *
plan_reason_words(const struct plan_take *t)
{
	switch (t->reason) {
	case PLAN_TAKEN:
		return "taken";
	case PLAN_BARRED:
		return stock_reason_text(t->bar);
	case PLAN_NO_YIELD:
		return "no yield is known from this presentation";
	case PLAN_TOO_SMALL:
		return "its pieces are too small for this portion";
	case PLAN_TOO_LARGE:
		return "its pieces are too large for this portion";
	case PLAN_TOO_HEAVY:
		return "its fish are too heavy to plan one by one: break one "
		       "down";
	case PLAN_LEFT:
		return "the chef leaves it closed";
	case PLAN_NOT_NEEDED:
		return "not needed";
	case PLAN_ELSEWHERE:
		return "its portions go to another service or dish";
	}
	return "?";
}

const char *
plan_reason_word(const struct plan_take *t)
{
	static const char *const words[] = {
		[PLAN_TAKEN] = "taken",
		[PLAN_BARRED] = "barred",
		[PLAN_NO_YIELD] = "no-yield",
		[PLAN_TOO_SMALL] = "too-small",
		[PLAN_TOO_LARGE] = "too-large",
		[PLAN_TOO_HEAVY] = "too-heavy",
		[PLAN_LEFT] = "left-closed",
		[PLAN_NOT_NEEDED] = "not-needed",
		[PLAN_ELSEWHERE] = "elsewhere",
	};

	return t->reason == PLAN_BARRED ? stock_reason_word(t->bar)
					: words[t->reason];
}

void
yield_text(struct buf *out, const struct plan_yield *y)
{
	const struct yield *p = &y->published;
	char s[32];

	buf_printf(out, "yield %s", percent_print(s, sizeof(s), y->mean_bp));
	if (y->breakdowns > 0)
		buf_printf(out, " learned from %" PRId64 " breakdown%s",
		    y->breakdowns, y->breakdowns == 1 ? "" : "s");
	if (p->bp == 0)
		return;
	if (y->breakdowns > 0)
		buf_printf(
		    out, "; published %s", percent_print(s, sizeof(s), p->bp));
	if (p->low_bp != p->bp || p->high_bp != p->bp) {
		buf_printf(out, " (%s", percent_print(s, sizeof(s), p->low_bp));
		buf_printf(
		    out, " to %s)", percent_print(s, sizeof(s), p->high_bp));
	}
	buf_printf(out, "%s: %s",
	    p->verified || str_eq(p->source, "the kitchen's menu")
		? ""
		: " unverified",
	    p->source);
}

static void
take_tray(struct buf *out, const struct plan_take *t)
{
	char code[CODE_SIZE], when[48], thaw[48];

	code_show(code, t->code);
	time_short(when, sizeof(when), t->use_by_utc);
	if (t->reason == PLAN_TAKEN && t->frozen)
		buf_printf(out,
		    "      thaw  %" PRId64
		    " of %s, frozen: take it out by %s;\n"
		    "            then use by %s\n",
		    t->portions, code,
		    time_short(thaw, sizeof(thaw), t->thaw_by_utc), when);
	else if (t->reason == PLAN_TAKEN)
		buf_printf(out, "      have  %" PRId64 " of %s, use by %s\n",
		    t->portions, code, when);
	else
		buf_printf(out,
		    "      leave %s%s, use by %s:\n            %s\n", code,
		    t->frozen ? ", frozen" : "", when, plan_reason_words(t));
}

void
plan_take_words(struct buf *out, const struct plan_take *t)
{
	char w[32];

	weight_print(w, sizeof(w), t->weight_g);
	if (t->opened && t->portions == 0)
		buf_printf(out, "%s of trim", w);
	else
		buf_printf(out, "%" PRId64 " portion%s", t->portions,
		    t->portions == 1 ? "" : "s");
	if (t->opened)
		buf_printf(out, " from %" PRId64 " fish", t->fish);
	else if (t->fish > 0)
		buf_printf(
		    out, " from %" PRId64 " of them, about %s", t->fish, w);
	else
		buf_printf(out, " from %s", w);
}

static void
take_batch(struct buf *out, const struct plan_take *t, const char *name)
{
	char code[CODE_SIZE], when[48];

	code_show(code, t->code);
	time_short(when, sizeof(when), t->use_by_utc);
	if (t->reason != PLAN_TAKEN) {
		buf_printf(out, "      leave %s, use by %s:\n            %s\n",
		    code, when, plan_reason_words(t));
		return;
	}
	buf_printf(out, "      take  %s%s, use by %s:\n            ", code,
	    name, when);
	plan_take_words(out, t);
	buf_putc(out, '\n');
	if (t->ask_parasites)
		buf_puts(out,
		    "            " PLAN_RAW_CAUTION
		    ";\n            prep asks for it\n");
}

/* "fixed by the chef", "8 in 10 services ask for 5 to 12". */
static void
demand_why(struct buf *why, const struct plan_line *l)
{
	const struct demand_line *d = &l->demand;
	char s[32];

	buf_printf(why,
	    "expected %" PRId64 ".%" PRId64 ", 8 times in 10 from %d to %d, ",
	    d->expected_c / 100, d->expected_c % 100 / 10, d->low, d->high);
	buf_printf(why, "at %s of the covers ",
	    percent_print(s, sizeof(s), d->share_bp));
	if (d->taught > 0)
		buf_printf(why, "(learned from %d service%s); ", d->taught,
		    d->taught == 1 ? "" : "s");
	else
		buf_puts(why, "(the menu's figure); ");
	switch (d->why) {
	case WHY_NOT_OFFERED:
		buf_puts(why, "not on this menu");
		break;
	case WHY_RATIO:
	case WHY_LIFE:
		buf_printf(why, "have %d so that %s%s %s, ", d->target,
		    d->why == WHY_LIFE
			? "over the services it keeps a portion short costs "
			  "as much as one thrown away, ratio "
			: "one short costs as much as one too many, ratio ",
		    percent_print(s, sizeof(s), d->ratio_bp),
		    d->ratio == RATIO_PRICES ? "(from the prices)"
					     : "(ours: no price is known)");
		buf_printf(why, "runs out %s of the time",
		    percent_print(s, sizeof(s), d->out_bp));
		break;
	case WHY_FLOOR:
		buf_printf(why, "the chef wants at least %d", l->typed.floor);
		break;
	case WHY_CEILING:
		buf_printf(why, "the chef wants at most %d", l->typed.ceiling);
		break;
	case WHY_FIXED:
		buf_printf(why, "the chef fixed %d", l->typed.fixed);
		break;
	}
	if (l->used > 0)
		buf_printf(why, ", %" PRId64 " used already", l->used);
}

/* For whoever doubts a number. */
void
plan_why(struct buf *out, const struct plan_line *line)
{
	const struct plan_take *t;
	char code[CODE_SIZE];
	size_t i;

	demand_why(out, line);
	if (line->on_hand > 0)
		buf_printf(out, "; less %" PRId64 " on hand", line->on_hand);
	for (i = 0; i < line->take_count; i++) {
		t = &line->takes[i];
		if (t->tray || t->reason != PLAN_TAKEN)
			continue;
		buf_printf(out, "; %s: ", code_show(code, t->code));
		if (t->estimated)
			buf_puts(out, "weights estimated, ");
		if (t->dead_bp > 0)
			buf_printf(out, "%d %% allowed for as dead, ",
			    t->dead_bp / 100);
		yield_text(out, &t->yield);
	}
}

static void
line_why(struct buf *out, const struct plan_line *line)
{
	struct buf why;

	buf_init(&why, 16384);
	buf_puts(&why, "why: ");
	plan_why(&why, line);
	buf_wrap(out, buf_text(&why), 6, 79);
	buf_fini(&why);
}

void
plan_cut_words(struct buf *out, const struct plan_cut *c)
{
	buf_printf(out, "%s %s", cut_word(c->kind),
	    c->kind == CUT_FILLET || c->kind == CUT_SUPREME
		? c->skin_on ? "skin on, " : "skin off, "
		: "");
	if (c->animals > 0)
		buf_printf(out, "%d for %d", c->animals, c->animals_make);
	else
		buf_printf(out, "%" PRId64 " g (%" PRId64 " to %" PRId64 ")",
		    c->target_g, c->low_g, c->high_g);
}

static void
heading_of(struct buf *out, const struct plan_line *line)
{
	const struct plan_cut *c = &line->cut;
	const char *mark = line->demand.why == WHY_FIXED ? ", FIXED by the chef"
	    : line->demand.why == WHY_FLOOR              ? ", the chef's least"
	    : line->demand.why == WHY_CEILING            ? ", the chef's most"
							 : "";

	buf_printf(out, "\n[ ] %s (%s)\n", c->dish_name, c->dish);
	buf_printf(out, "      expect %" PRId64 ".%" PRId64 ", ",
	    line->demand.expected_c / 100, line->demand.expected_c % 100 / 10);
	buf_printf(out,
	    "need %" PRId64 "%s, on hand %" PRId64 ", MAKE %" PRId64,
	    line->to_have, mark, line->on_hand, line->to_make);
	if (line->short_of > 0)
		buf_printf(out, ", SHORT %" PRId64, line->short_of);
	buf_puts(out, "\n      ");
	plan_cut_words(out, c);
	buf_putc(out, '\n');
}

static void
write_line(
    struct buf *out, const struct plan_report *r, const struct plan_line *line)
{
	const struct plan_take *t;
	char name[80];
	size_t i;

	heading_of(out, line);
	for (i = 0; i < line->take_count; i++) {
		t = &line->takes[i];
		if (t->reason == PLAN_NOT_NEEDED && !r->why)
			continue;
		name[0] = '\0';
		if (line->species_count > 1)
			str_fmt(name, sizeof(name), " %s",
			    species_find(r->species, t->species)->name);
		if (t->tray)
			take_tray(out, t);
		else
			take_batch(out, t, name);
	}
	if (line->by_choice)
		buf_printf(out,
		    "      short by choice: a closed fish would do, but "
		    "opening "
		    "it costs more\n      than the %s bring%s; pin it to open "
		    "it\n",
		    line->short_of == 1 ? "portion" : "portions",
		    line->short_of == 1 ? "s" : "");
	if (line->short_of > 0)
		buf_puts(out,
		    line->order_known
			? "      short: see the order list\n"
			: "      short: no yield known, order by hand\n");
	if (r->why)
		line_why(out, line);
}

const char *
plan_board_words(enum allergen a)
{
	static const char *const boards[] = {
		[ALLERGEN_FISH] = "FISH",
		[ALLERGEN_CRUSTACEANS] = "CRUSTACEANS - own board and cloth",
		[ALLERGEN_MOLLUSCS] = "MOLLUSCS - own board and cloth",
	};

	return boards[a];
}

static void
write_prep(struct buf *out, const struct plan_report *r)
{
	const struct plan_line *line;
	const struct species *sp;
	const char *last = "";
	int board = -1;
	size_t i;

	for (i = 0; i < r->plan.count; i++) {
		line = &r->plan.lines[i];
		sp = species_find(r->species, line->cut.species);
		if ((int)sp->allergen != board) {
			board = (int)sp->allergen;
			buf_printf(
			    out, "\n== %s\n", plan_board_words(sp->allergen));
		}
		if (!str_eq(last, sp->code))
			buf_printf(out, "\n%s (%s), %s\n", sp->name,
			    sp->scientific, body_form_word(sp->form));
		last = sp->code;
		write_line(out, r, line);
	}
	if (r->plan.count == 0)
		buf_puts(out, "\nno dish of the menu is on for this service\n");
	plan_text_cuts(out, r);
	plan_text_work(out, r);
}

static void
heading(struct buf *out, const struct plan_report *r, const char *title)
{
	char day[48], made[48];

	buf_printf(out, "%s  %s, %s\n", title,
	    day_words(day, sizeof(day), r->day), r->service);
	buf_printf(out,
	    "%" PRId64 " covers booked, %" PRId64 ".%" PRId64
	    " guests expected",
	    r->covers, r->expected_c / 100, r->expected_c % 100 / 10);
	if (r->typed)
		buf_puts(out, " (typed by the chef)");
	if (r->earlier > 0)
		buf_printf(out, "\nafter the needs of %d earlier service%s",
		    r->earlier, r->earlier == 1 ? "" : "s");
	buf_printf(out, "\n%s, made %s\n", r->kitchen,
	    time_minute(made, sizeof(made), r->made_utc));
}

static void
write_text(struct buf *out, const struct plan_report *r)
{
	if (r->want_prep) {
		heading(out, r, "PREP LIST");
		write_prep(out, r);
	}
	if (r->want_prep && r->want_order)
		buf_puts(out, "\n\n");
	if (r->want_order) {
		heading(out, r, "ORDER LIST");
		plan_text_order(out, r);
	}
	buf_puts(out, "\n" PLAN_CAUTION "\n");
	if (!r->why)
		buf_puts(out, "Where a number comes from: plan --why\n");
}

void
plan_write(struct buf *out, const struct plan_report *r, enum format format)
{
	switch (format) {
	case FORMAT_TEXT:
		write_text(out, r);
		break;
	case FORMAT_JSON:
		plan_write_json(out, r);
		break;
	case FORMAT_CSV:
		plan_write_csv(out, r);
		break;
	}
}
