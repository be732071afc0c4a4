/* cut_out.c - a cut plan as text, JSON and CSV. */
#include "exchange/cut_out.h"

#include <inttypes.h>

#include "base/csv.h"
#include "base/jsonw.h"
#include "base/str.h"

#define CLOSED_TEXT_MAX ((size_t)2 * 1024 * 1024)

/* Sums of the plan that no single line shows. */
struct totals {
	size_t cut, whole, closed;
	grams opened_g, portions_g, kept_g, byproduct_g, rest_g;
};

double
cut_gap(const struct cut_plan *p)
{
	double cost = (double)p->cost;

	if (p->cost == 0)
		return 0;
	return (double)(p->cost - p->bound) / (cost < 0 ? -cost : cost);
}

static const char *
mode_word(enum cut_mode m)
{
	switch (m) {
	case MODE_CLOSED:
		return "closed";
	case MODE_WHOLE:
		return "whole";
	case MODE_CUT:
		return "cut";
	}
	return "?";
}

static bool
same_cut(const struct cut_portion *a, const struct cut_portion *b)
{
	return a->dish == b->dish && a->portion_g == b->portion_g;
}

static bool
same_piece(const struct cut_piece *a, const struct cut_piece *b)
{
	size_t i;

	if (a->cut_count != b->cut_count || a->trim_g != b->trim_g ||
	    a->kept != b->kept)
		return false;
	for (i = 0; i < a->cut_count; i++)
		if (!same_cut(&a->cuts[i], &b->cuts[i]))
			return false;
	return true;
}

static void
add_up(struct totals *t, const struct cut_board *b, const struct cut_plan *p)
{
	const struct cut_choice *c;
	const struct cut_way *w;
	size_t i, k;
	int j;

	for (i = 0; i < p->fish_count; i++) {
		c = &p->fish[i];
		t->closed += c->mode == MODE_CLOSED;
		t->whole += c->mode == MODE_WHOLE;
		t->cut += c->mode == MODE_CUT;
		if (c->mode != MODE_CLOSED)
			t->opened_g += b->fish[i].whole_g;
		if (c->mode == MODE_WHOLE)
			t->portions_g += b->fish[i].whole_g;
		if (c->mode != MODE_CUT)
			continue;
		w = &b->fish[i].ways[c->way];
		t->byproduct_g += w->byproduct_g;
		for (j = 0; j < w->pieces; j++) {
			if (c->pieces[j].kept)
				t->kept_g += w->piece_g;
			else
				t->rest_g += c->pieces[j].trim_g;
			for (k = 0; k < c->pieces[j].cut_count; k++)
				t->portions_g += c->pieces[j].cuts[k].portion_g;
		}
	}
}

static void
text_piece(
    struct buf *out, const struct cut_board *b, const struct cut_piece *piece)
{
	const struct cut_portion *cut;
	size_t i, same;

	for (i = 0; i < piece->cut_count; i += same) {
		cut = &piece->cuts[i];
		for (same = 1; i + same < piece->cut_count; same++)
			if (!same_cut(cut, &piece->cuts[i + same]))
				break;
		buf_puts(out, i == 0 ? "" : " + ");
		if (same > 1)
			buf_printf(out, "%zu x ", same);
		buf_printf(out, "%" PRId64 " g %s", cut->portion_g,
		    b->dish_names[cut->dish].text);
	}
	if (piece->kept)
		buf_puts(out, "leave whole");
	else if (piece->cut_count == 0)
		buf_printf(out, "%" PRId64 " g trim", piece->trim_g);
	else if (piece->trim_g > 0)
		buf_printf(out, ", %" PRId64 " g trim", piece->trim_g);
}

static void
text_pieces(struct buf *out, const struct cut_board *b,
    const struct cut_choice *c, const struct cut_way *w)
{
	struct buf line;
	int i, same;

	buf_init(&line, CLOSED_TEXT_MAX);
	for (i = 0; i < w->pieces; i += same) {
		for (same = 1; i + same < w->pieces; same++)
			if (!same_piece(&c->pieces[i], &c->pieces[i + same]))
				break;
		buf_clear(&line);
		buf_printf(&line, "%d piece%s: ", same, same == 1 ? "" : "s");
		text_piece(&line, b, &c->pieces[i]);
		buf_wrap(out, buf_text(&line), 6, 79);
	}
	buf_fini(&line);
}

static void
text_fish(struct buf *out, const struct cut_board *b, size_t i,
    const struct cut_choice *c)
{
	const struct cut_fish *f = &b->fish[i];
	const struct cut_way *w = &f->ways[c->way];
	char weight[32];

	buf_printf(out, "\n[ ] fish %s: %s, %s", b->fish_names[i].text,
	    b->species[f->species].text,
	    weight_print(weight, sizeof(weight), f->whole_g));
	if (c->mode == MODE_WHOLE) {
		buf_printf(
		    out, "\n      whole: %s\n", b->dish_names[c->dish].text);
		return;
	}
	buf_printf(out, ", %d piece%s of %" PRId64 " g\n", w->pieces,
	    w->pieces == 1 ? "" : "s", w->piece_g);
	text_pieces(out, b, c, w);
}

static void
text_closed(
    struct buf *out, const struct cut_board *b, const struct cut_plan *p)
{
	struct buf line;
	size_t i;

	buf_init(&line, CLOSED_TEXT_MAX);
	for (i = 0; i < p->fish_count; i++)
		if (p->fish[i].mode == MODE_CLOSED)
			buf_printf(&line, "%s %s",
			    line.len == 0 ? "left closed:" : ",",
			    b->fish_names[i].text);
	if (line.len > 0) {
		buf_putc(out, '\n');
		buf_wrap(out, buf_text(&line), 4, 79);
	}
	buf_fini(&line);
}

/* Does a fish stay closed that this dish could have come from? */
static bool
closed_would_do(
    const struct cut_board *b, const struct cut_plan *p, size_t dish)
{
	const struct cut_dish *d = &b->dishes[dish];
	const struct cut_fish *f;
	size_t i;

	for (i = 0; i < p->fish_count; i++) {
		f = &b->fish[i];
		if (p->fish[i].mode != MODE_CLOSED ||
		    (d->species & UINT32_C(1) << f->species) == 0)
			continue;
		if (d->serve == SERVE_WHOLE
			? f->whole_g >= d->low_g && f->whole_g <= d->high_g
			: f->ways[0].piece_g >= d->low_g)
			return true;
	}
	return false;
}

static void
text_dishes(
    struct buf *out, const struct cut_board *b, const struct cut_plan *p)
{
	size_t i;

	buf_printf(
	    out, "\n%-28s %8s %8s %8s\n", "dish", "wanted", "made", "short");
	for (i = 0; i < b->dish_count; i++) {
		buf_printf(out, "%-28s %8" PRId64 " %8" PRId64 " %8" PRId64,
		    b->dish_names[i].text, b->dishes[i].wanted, p->made[i],
		    p->short_of[i]);
		if (p->short_of[i] > 0 && p->proved && closed_would_do(b, p, i))
			buf_puts(out, "  on purpose (1)");
		buf_putc(out, '\n');
	}
	for (i = 0; i < b->pool_count; i++)
		buf_printf(out,
		    "%-28s %6" PRId64 " g %6" PRId64 " g %6" PRId64 " g\n",
		    b->pool_names[i].text, b->pools[i].wanted_g, p->trim_g[i],
		    p->trim_short_g[i]);
	for (i = 0; i < b->dish_count; i++)
		if (p->short_of[i] > 0 && p->proved && closed_would_do(b, p, i))
			break;
	if (i < b->dish_count)
		buf_puts(out,
		    "(1) opening another fish would cost more than the "
		    "portions short\n");
}

/* Thousandths of the smallest coin, as coins. */
static void
text_money(struct buf *out, int64_t money)
{
	uint64_t m = money < 0 ? 0 - (uint64_t)money : (uint64_t)money;

	buf_printf(out, "%s%" PRIu64 ".%03" PRIu64, money < 0 ? "-" : "",
	    m / 1000, m % 1000);
}

static void
write_text(struct buf *out, const struct cut_board *b, const struct cut_plan *p)
{
	struct totals t = { 0 };
	char w[32];
	size_t i;

	add_up(&t, b, p);
	buf_printf(out,
	    "CUT PLAN  %zu fish: cut %zu, serve %zu whole, leave %zu closed\n",
	    p->fish_count, t.cut, t.whole, t.closed);
	for (i = 0; i < p->fish_count; i++)
		if (p->fish[i].mode != MODE_CLOSED)
			text_fish(out, b, i, &p->fish[i]);
	text_closed(out, b, p);
	text_dishes(out, b, p);
	buf_printf(out, "\nopened %zu fish, %s: ", t.cut + t.whole,
	    weight_print(w, sizeof(w), t.opened_g));
	buf_printf(
	    out, "portions %s, ", weight_print(w, sizeof(w), t.portions_g));
	buf_printf(
	    out, "left whole %s, ", weight_print(w, sizeof(w), t.kept_g));
	buf_printf(out, "trim %s",
	    weight_print(w, sizeof(w), t.rest_g + t.byproduct_g));
	buf_puts(out, "\ncost ");
	text_money(out, p->cost);
	buf_puts(out, " in the smallest coin; no plan costs less than ");
	text_money(out, p->bound);
	buf_printf(out, "\ngap %.4f %%: %s\n", 100 * cut_gap(p),
	    p->proved ? "proved, no plan is cheaper"
		      : "a cheaper plan may exist, by no more than the gap");
}

static void
json_piece(
    struct jsonw *w, const struct cut_board *b, const struct cut_piece *piece)
{
	size_t i;

	jsonw_object(w, NULL);
	jsonw_array(w, "cuts");
	for (i = 0; i < piece->cut_count; i++) {
		jsonw_object(w, NULL);
		jsonw_str(w, "dish", b->dish_names[piece->cuts[i].dish].text);
		jsonw_int(w, "grams", piece->cuts[i].portion_g);
		jsonw_end(w);
	}
	jsonw_end(w);
	jsonw_int(w, "trim_g", piece->trim_g);
	jsonw_bool(w, "kept", piece->kept);
	jsonw_end(w);
}

static void
json_fish(struct jsonw *w, const struct cut_board *b, const struct cut_plan *p)
{
	const struct cut_choice *c;
	size_t i;
	int j;

	jsonw_array(w, "fish");
	for (i = 0; i < p->fish_count; i++) {
		c = &p->fish[i];
		jsonw_object(w, NULL);
		jsonw_str(w, "fish", b->fish_names[i].text);
		jsonw_str(w, "mode", mode_word(c->mode));
		jsonw_str(w, "dish",
		    c->mode == MODE_WHOLE ? b->dish_names[c->dish].text : "");
		jsonw_array(w, "pieces");
		for (j = 0;
		     c->mode == MODE_CUT && j < b->fish[i].ways[c->way].pieces;
		     j++)
			json_piece(w, b, &c->pieces[j]);
		jsonw_end(w);
		jsonw_end(w);
	}
	jsonw_end(w);
}

static void
write_json(struct buf *out, const struct cut_board *b, const struct cut_plan *p)
{
	struct jsonw *w = jsonw_new_object();
	size_t i;

	jsonw_int(w, "cost", p->cost);
	jsonw_int(w, "bound", p->bound);
	jsonw_bool(w, "proved", p->proved);
	jsonw_real(w, "gap", cut_gap(p));
	json_fish(w, b, p);
	jsonw_array(w, "dishes");
	for (i = 0; i < b->dish_count; i++) {
		jsonw_object(w, NULL);
		jsonw_str(w, "dish", b->dish_names[i].text);
		jsonw_int(w, "made", p->made[i]);
		jsonw_int(w, "short", p->short_of[i]);
		jsonw_end(w);
	}
	jsonw_end(w);
	jsonw_array(w, "trim");
	for (i = 0; i < b->pool_count; i++) {
		jsonw_object(w, NULL);
		jsonw_str(w, "pool", b->pool_names[i].text);
		jsonw_int(w, "made_g", p->trim_g[i]);
		jsonw_int(w, "short_g", p->trim_short_g[i]);
		jsonw_end(w);
	}
	jsonw_end(w);
	jsonw_dump(out, w, true);
	jsonw_free(w);
}

/* One row; `piece` from 1, 0 for none; `g` below 0 for none. */
static void
csv_row(struct buf *out, const char *fish, enum cut_mode mode, int piece,
    const char *use, const char *dish, grams g)
{
	csv_quote(out, fish);
	buf_printf(out, ",%s,", mode_word(mode));
	if (piece > 0)
		buf_printf(out, "%d", piece);
	buf_printf(out, ",%s,", use);
	csv_quote(out, dish);
	buf_putc(out, ',');
	if (g >= 0)
		buf_printf(out, "%" PRId64, g);
	buf_puts(out, "\r\n");
}

static void
csv_piece(struct buf *out, const struct cut_board *b, const char *fish,
    int number, const struct cut_piece *piece, grams piece_g)
{
	size_t i;

	for (i = 0; i < piece->cut_count; i++)
		csv_row(out, fish, MODE_CUT, number, "portion",
		    b->dish_names[piece->cuts[i].dish].text,
		    piece->cuts[i].portion_g);
	if (piece->kept)
		csv_row(out, fish, MODE_CUT, number, "kept", "", piece_g);
	else if (piece->trim_g > 0)
		csv_row(out, fish, MODE_CUT, number, "trim", "", piece->trim_g);
}

static void
write_csv(struct buf *out, const struct cut_board *b, const struct cut_plan *p)
{
	const struct cut_choice *c;
	const struct cut_way *w;
	const char *name;
	size_t i;
	int j;

	buf_puts(out, "fish,mode,piece,use,dish,grams\r\n");
	for (i = 0; i < p->fish_count; i++) {
		c = &p->fish[i];
		name = b->fish_names[i].text;
		switch (c->mode) {
		case MODE_CLOSED:
			csv_row(out, name, c->mode, 0, "", "", -1);
			break;
		case MODE_WHOLE:
			csv_row(out, name, c->mode, 0, "portion",
			    b->dish_names[c->dish].text, b->fish[i].whole_g);
			break;
		case MODE_CUT:
			w = &b->fish[i].ways[c->way];
			for (j = 0; j < w->pieces; j++)
				csv_piece(out, b, name, j + 1, &c->pieces[j],
				    w->piece_g);
			break;
		}
	}
}

void
cut_write(struct buf *out, const struct cut_board *b, const struct cut_plan *p,
    enum format format)
{
	switch (format) {
	case FORMAT_TEXT:
		write_text(out, b, p);
		break;
	case FORMAT_JSON:
		write_json(out, b, p);
		break;
	case FORMAT_CSV:
		write_csv(out, b, p);
		break;
	}
}
