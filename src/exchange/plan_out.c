/* plan_out.c - the prep list and the order list as text for people. */
#include "exchange/plan_out.h"

#include <inttypes.h>

#include "base/clock.h"
#include "base/str.h"
#include "plan_data.h"

static const char *
reason_text(enum plan_reason r)
{
	switch (r) {
	case PLAN_TAKEN:
		return "taken";
	case PLAN_HELD:
		return "on hold";
	case PLAN_EXPIRED:
		return "out of date before the service ends";
	case PLAN_NO_YIELD:
		return "no yield known from this presentation";
	case PLAN_TOO_SMALL:
		return "pieces too small for this portion";
	case PLAN_TOO_LARGE:
		return "pieces too large for this portion";
	}
	return "?";
}

const char *
plan_reason_word(enum plan_reason r)
{
	static const char *const words[] = {
		[PLAN_TAKEN] = "taken",
		[PLAN_HELD] = "held",
		[PLAN_EXPIRED] = "expired",
		[PLAN_NO_YIELD] = "no-yield",
		[PLAN_TOO_SMALL] = "too-small",
		[PLAN_TOO_LARGE] = "too-large",
	};

	return words[r];
}

/* "fillet", "fillets"; the species' own word for what a fish gives. */
static const char *
piece_word(const struct plan_line *line, const struct species *sp)
{
	if (line->cut.kind == CUT_WHOLE || sp->piece_word[0] == '\0')
		return "piece";
	return sp->piece_word;
}

static void
yield_text(struct buf *out, const struct yield *y)
{
	char p[32];

	buf_printf(out, "yield %s", percent_print(p, sizeof(p), y->bp));
	if (y->low_bp != y->bp || y->high_bp != y->bp) {
		buf_printf(out, " (%s", percent_print(p, sizeof(p), y->low_bp));
		buf_printf(
		    out, " to %s)", percent_print(p, sizeof(p), y->high_bp));
	}
	buf_printf(out, "%s: %s", y->verified ? "" : " unverified", y->source);
}

static void
take_tray(struct buf *out, const struct plan_take *t)
{
	char code[CODE_SIZE], when[48];

	buf_printf(out, "      have  %" PRId64 " of %s, use by %s", t->portions,
	    code_show(code, t->code),
	    time_short(when, sizeof(when), t->use_by_utc));
	if (t->reason != PLAN_TAKEN)
		buf_printf(out, " - not used: %s", reason_text(t->reason));
	buf_putc(out, '\n');
}

static void
take_batch(struct buf *out, const struct plan_line *line,
    const struct plan_take *t, const struct species *sp)
{
	char code[CODE_SIZE], when[48], w[32];
	const char *word = piece_word(line, sp);

	code_show(code, t->code);
	time_short(when, sizeof(when), t->use_by_utc);
	if (t->reason != PLAN_TAKEN) {
		buf_printf(out, "      leave %s, use by %s: %s", code, when,
		    reason_text(t->reason));
		if (t->piece_g > 0)
			buf_printf(out, " (about %" PRId64 " g)", t->piece_g);
		buf_putc(out, '\n');
		return;
	}
	weight_print(w, sizeof(w), t->weight_g);
	if (t->fish == 0) {
		buf_printf(
		    out, "      take  %s of %s, use by %s\n", w, code, when);
		return;
	}
	buf_printf(out,
	    "      take  %" PRId64 " fish of %s, about %s, use by %s\n",
	    t->fish, code, w, when);
	if (line->cut.kind == CUT_WHOLE)
		buf_printf(out,
		    "            served whole, about %" PRId64
		    " g each when dressed",
		    t->piece_g);
	else
		buf_printf(out,
		    "            %" PRId64 " %s%s of about %" PRId64
		    " g, %" PRId64 " portion%s each",
		    t->pieces, word, t->pieces == 1 ? "" : "s", t->piece_g,
		    t->per_piece, t->per_piece == 1 ? "" : "s");
	if (t->spare > 0)
		buf_printf(out, ", %" PRId64 " to spare", t->spare);
	buf_putc(out, '\n');
}

/* The arithmetic behind one line, for whoever doubts it. */
static void
line_why(struct buf *out, const struct plan_line *line)
{
	const struct plan_take *t;
	struct buf why;
	char p[32];
	size_t i;

	buf_init(&why, 8192);
	buf_printf(&why,
	    "why: %" PRId64 " covers x %s = %" PRId64 ".%02" PRId64
	    ", rounded up to %" PRId64,
	    line->covers, percent_print(p, sizeof(p), line->cut.mix_bp),
	    line->covers * line->cut.mix_bp / BP_ONE,
	    line->covers * line->cut.mix_bp % BP_ONE / 100, line->need);
	if (line->cut.used > 0)
		buf_printf(&why, ", %" PRId64 " used already", line->cut.used);
	for (i = 0; i < line->take_count; i++) {
		t = &line->takes[i];
		if (t->tray || t->reason != PLAN_TAKEN)
			continue;
		buf_puts(&why, "; ");
		if (t->fish > 0)
			buf_printf(
			    &why, "mean fish %" PRId64 " g, ", t->fish_g);
		yield_text(&why, &t->yield);
	}
	buf_wrap(out, buf_text(&why), 6, 79);
	buf_fini(&why);
}

static void
write_line(
    struct buf *out, const struct plan_line *line, const struct species *sp)
{
	size_t i;

	buf_printf(out, "\n[ ] %s (%s)\n", line->cut.dish_name, line->cut.dish);
	buf_printf(out,
	    "      need %" PRId64 ", on hand %" PRId64 ", MAKE %" PRId64,
	    line->to_have, line->on_hand, line->to_make);
	if (line->short_of > 0)
		buf_printf(out, ", SHORT %" PRId64, line->short_of);
	buf_printf(out, "    %s %s", cut_word(line->cut.kind),
	    line->cut.kind == CUT_FILLET || line->cut.kind == CUT_SUPREME
		? line->cut.skin_on ? "skin on, " : "skin off, "
		: "");
	buf_printf(out, "%" PRId64 " g (%" PRId64 " to %" PRId64 ")\n",
	    line->cut.target_g, line->cut.low_g, line->cut.high_g);
	for (i = 0; i < line->take_count; i++)
		if (line->takes[i].tray)
			take_tray(out, &line->takes[i]);
		else
			take_batch(out, line, &line->takes[i], sp);
	if (line->short_of > 0)
		buf_puts(out,
		    line->order_known
			? "      short: see the order list\n"
			: "      short: no yield known, order by hand\n");
	line_why(out, line);
}

static void
write_prep(struct buf *out, const struct plan_report *r)
{
	static const char *const boards[] = {
		[ALLERGEN_FISH] = "FISH",
		[ALLERGEN_CRUSTACEANS] = "CRUSTACEANS - own board and cloth",
		[ALLERGEN_MOLLUSCS] = "MOLLUSCS - own board and cloth",
	};
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
			buf_printf(out, "\n== %s\n", boards[board]);
		}
		if (!str_eq(last, sp->code))
			buf_printf(out, "\n%s (%s), %s\n", sp->name,
			    sp->scientific, body_form_word(sp->form));
		last = sp->code;
		write_line(out, line, sp);
	}
	if (r->plan.count == 0)
		buf_puts(out, "\nno dish of the menu is on for this service\n");
}

static void
order_why(struct buf *out, const struct plan_line *line)
{
	struct buf why;

	buf_init(&why, 4096);
	buf_printf(&why, "%s: %" PRId64 " x %" PRId64 " g = %" PRId64 " g",
	    line->cut.dish, line->short_of, line->cut.target_g,
	    line->short_of * line->cut.target_g);
	buf_printf(&why, ", bought %" PRId64 " g", line->order_g);
	if (line->order_pieces > 0)
		buf_printf(
		    &why, ", at least %" PRId64 " fish", line->order_pieces);
	buf_puts(&why, "; ");
	yield_text(&why, &line->order_yield);
	buf_wrap(out, buf_text(&why), 13, 79);
	buf_fini(&why);
}

static void
write_order(struct buf *out, const struct plan_report *r)
{
	const struct plan_line *line;
	const struct plan_order *o;
	const struct species *sp;
	char w[32];
	size_t i, j;

	for (i = 0; i < r->order_count; i++) {
		o = &r->orders[i];
		sp = species_find(r->species, o->species);
		buf_printf(out, "\n%11s  %s, %s: %" PRId64 " portion%s\n",
		    weight_print(w, sizeof(w), o->order_g), sp->name,
		    presentation_word(o->bought), o->portions,
		    o->portions == 1 ? "" : "s");
		for (j = 0; j < r->plan.count; j++) {
			line = &r->plan.lines[j];
			if (line->short_of > 0 && line->order_known &&
			    str_eq(line->cut.species, o->species) &&
			    line->cut.bought == o->bought)
				order_why(out, line);
		}
		buf_printf(out,
		    "             in all %" PRId64
		    " g, rounded up to steps of %" PRId64 " g\n",
		    o->need_g, r->round_up_g);
	}
	for (j = 0; j < r->plan.count; j++) {
		line = &r->plan.lines[j];
		if (line->short_of > 0 && !line->order_known)
			buf_printf(out,
			    "\n    by hand  %s: %" PRId64
			    " portions of %" PRId64 " g, no yield known\n",
			    line->cut.dish, line->short_of, line->cut.target_g);
	}
	if (r->order_count == 0)
		buf_puts(out, "\nnothing to order that a yield is known for\n");
}

static void
heading(struct buf *out, const struct plan_report *r, const char *title)
{
	char day[48], made[48];

	buf_printf(out, "%s  %s, %s, %" PRId64 " covers\n", title,
	    day_words(day, sizeof(day), r->day), r->service, r->covers);
	buf_printf(out, "%s, made %s", r->kitchen,
	    time_minute(made, sizeof(made), r->made_utc));
	if (r->earlier > 0)
		buf_printf(out, ", after the needs of %d earlier service%s",
		    r->earlier, r->earlier == 1 ? "" : "s");
	buf_putc(out, '\n');
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
		write_order(out, r);
	}
	buf_puts(out,
	    "\nWeights are estimates from published yields; weigh before you "
	    "rely on them.\n");
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
