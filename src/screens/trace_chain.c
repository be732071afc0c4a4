/* trace_chain.c - one batch or unit on the Trace screen: back and forward. */
#include <string.h>

#include "base/str.h"
#include "hand_words.h"
#include "says_trace.h"
#include "trace_inner.h"

#define LABEL_W 10 /* of the lines that lead back */
#define W_CODE 10
#define W_DATE 12

/* "Thu 3 Dec 09:10" */
static char *
at_text(char *dst, size_t size, int64_t utc)
{
	struct local_time t = local_from_utc(utc);
	char date[48];

	str_fmt(dst, size, "%s %02d:%02d", hand_date(date, sizeof(date), t.day),
	    t.hour, t.minute);
	return dst;
}

static const char *
amount(char *dst, size_t size, int64_t fish, grams weight)
{
	char w[32];

	weight_print(w, sizeof(w), weight);
	if (fish > 0)
		str_fmt(dst, size, tr(SAY_TR_FISH), (long long)fish, w);
	else
		str_copy(dst, size, w);
	return dst;
}

/* Joins `more` to what is there with a comma. */
static void
join(char *text, size_t size, const char *more)
{
	char was[400];

	str_fmt(was, sizeof(was), "%s", text);
	str_fmt(text, size, "%s%s%s", was, was[0] == '\0' ? "" : ", ", more);
}

/* --- head -----------------------------------------------------------------*/

/* The one word that matters most; "" when nothing is the matter. */
static const char *
standing(const struct trace_page *p)
{
	const struct portion *u = &p->unit.portion;
	int64_t use_by = p->of_portion ? u->use_by_utc : p->batch.use_by_utc;
	int64_t left = p->of_portion ? u->left : p->batch.weight_left;

	if (p->of_portion ? u->struck : p->batch.struck)
		return tr(SAY_TR_STRUCK);
	if (p->batch.decision == DECISION_REFUSED)
		return tr(SAY_TR_REFUSED);
	if (p->hold.id != 0)
		return tr(SAY_TR_ON_HOLD);
	if (p->of_portion && left == 0)
		return tr(SAY_TR_USED_UP);
	if (left > 0 && use_by < p->now_utc)
		return tr(SAY_TR_EXPIRED);
	if (p->of_portion && u->keep == KEEP_FROZEN)
		return tr(SAY_TR_FROZEN);
	return p->of_portion && u->keep == KEEP_THAWED ? tr(SAY_TR_THAWED) : "";
}

static void
draw_title(const struct trace_page *p, const struct pane *q)
{
	const char *stands = standing(p);
	int end = q->w;
	char code[CODE_SIZE], date[64], text[300];
	enum style style = p->hold.id != 0 || p->batch.struck ||
		p->unit.portion.struck ||
		p->batch.decision == DECISION_REFUSED ||
		str_eq(stands, tr(SAY_TR_EXPIRED))
	    ? STYLE_BAD
	    : STYLE_STRONG;

	if (stands[0] != '\0') {
		pane_right(q, end, 0, style, stands);
		end -= text_columns(stands) + 2;
	}
	hand_date_at(date, sizeof(date),
	    p->of_portion ? p->unit.portion.use_by_utc : p->batch.use_by_utc);
	code_show(code, p->code);
	if (p->of_portion)
		str_fmt(text, sizeof(text), tr(SAY_TR_PORTION), code,
		    p->unit.portion.dish_name, date);
	else
		str_fmt(text, sizeof(text), tr(SAY_TR_BATCH), code, p->species,
		    presentation_word(p->batch.presentation), date);
	pane_cut(q, 0, 0, end, STYLE_STRONG, text);
}

/* Who blocked it or struck it out and why; else what fish it is. */
static void
draw_state(const struct trace_page *p, const struct pane *q)
{
	char when[64], text[400];
	const struct hold *h = &p->hold;
	bool part = p->of_portion || p->window.prep_id != 0;
	bool of_batch = part && p->hold_of_batch;
	bool of_prep = p->of_portion && p->hold_of_prep;

	if (p->of_portion && p->prep.struck)
		str_fmt(text, sizeof(text), tr(SAY_TR_STRUCK_BY),
		    at_text(when, sizeof(when), p->prep.struck_at.utc),
		    p->prep.struck_at.by, p->prep.struck_reason);
	else if (p->batch_struck.is)
		str_fmt(text, sizeof(text), tr(SAY_TR_STRUCK_BY),
		    at_text(when, sizeof(when), p->batch_struck.at.utc),
		    p->batch_struck.at.by, p->batch_struck.reason);
	else if (h->id != 0)
		str_fmt(text, sizeof(text),
		    tr(of_batch       ? SAY_TR_HELD_BATCH
			    : of_prep ? SAY_TR_HELD_PREP
				      : SAY_TR_HELD_BY),
		    at_text(when, sizeof(when), h->at_utc), h->by, h->reason);
	else
		text[0] = '\0';
	if (text[0] != '\0') {
		pane_cut(q, 0, 1, q->w, STYLE_BAD, text);
		return;
	}
	if (p->scientific[0] == '\0')
		str_copy(text, sizeof(text), p->species);
	else
		str_fmt(text, sizeof(text), tr(SAY_TR_SPECIES), p->species,
		    p->scientific);
	pane_cut(q, 0, 1, q->w, STYLE_FAINT, text);
}

static void
draw_counts(const struct trace_page *p, const struct pane *q)
{
	const struct chain_counts *c = &p->counts;
	const struct trace_unit *u = &p->unit;
	bool of = p->of_portion;
	const struct {
		int64_t n;
		const char *word;
	} counts[] = {
		{ of ? u->portion.servings - u->struck : c->made, SAY_TR_MADE },
		{ of ? u->used : c->used, SAY_TR_USED },
		{ of ? u->portion.left : c->left, SAY_TR_ON_HAND },
		{ of ? u->discarded : c->discarded, SAY_TR_THROWN },
		{ of ? u->missing : c->missing, SAY_TR_MISSING },
	};
	int n = counts[4].n > 0 ? 5 : 4, w = q->w / n, i;
	struct pane part;
	char text[32];

	for (i = 0; i < n; i++) {
		part = pane_part(q, i * w, 2, w - 1, BIG_ROWS + 1);
		str_fmt(text, sizeof(text), "%lld", (long long)counts[i].n);
		hand_big(&part, 0, 0, STYLE_STRONG, text);
		pane_cut(&part, 0, BIG_ROWS, part.w, STYLE_FAINT,
		    tr(counts[i].word));
	}
}

/* --- back -----------------------------------------------------------------*/

static int
put_line(const struct pane *q, int y, const char *label, const char *text)
{
	pane_cut(q, 0, y, LABEL_W, STYLE_FAINT, label);
	pane_cut(q, LABEL_W, y, q->w - LABEL_W, STYLE_PLAIN, text);
	return y + 1;
}

static int
put_made(const struct trace_page *p, const struct pane *q, int y)
{
	char when[64], first[CODE_SIZE], much[64], text[400];
	char code[CODE_SIZE + PREP_ALSO_SIZE];
	const struct prep *r = &p->prep;
	const struct portion *u = &p->unit.portion;

	if (u->joined) {
		str_fmt(text, sizeof(text), tr(SAY_TR_JOINED),
		    at_text(when, sizeof(when), u->made.utc), u->made.by,
		    at_text(much, sizeof(much), u->prepared_utc));
		return put_line(q, y, tr(SAY_TR_L_MADE), text);
	}
	amount(much, sizeof(much), r->all_fish, r->all_g);
	str_fmt(code, sizeof(code), "%s%s%s", code_show(first, r->batch),
	    r->also[0] == '\0' ? "" : " + ", r->also);
	at_text(when, sizeof(when), r->at.utc);
	if (r->note[0] == '\0')
		str_fmt(text, sizeof(text), tr(SAY_TR_MADE_OF), when, r->at.by,
		    code, much);
	else
		str_fmt(text, sizeof(text), tr(SAY_TR_MADE_NOTE), when,
		    r->at.by, code, much, r->note);
	return put_line(q, y, tr(SAY_TR_L_MADE), text);
}

static int
put_from(const struct batch *b, const struct pane *q, int y)
{
	char text[400], more[120];

	str_fmt(text, sizeof(text), tr(SAY_TR_FROM), b->supplier.name,
	    b->supplier.address);
	if (b->supplier.approval[0] != '\0')
		join(text, sizeof(text), b->supplier.approval);
	if (b->supplier.contact[0] != '\0') {
		str_fmt(
		    more, sizeof(more), tr(SAY_TR_CALL), b->supplier.contact);
		join(text, sizeof(text), more);
	}
	return put_line(q, y, tr(SAY_TR_L_FROM), text);
}

static int
put_paper(const struct batch *b, const struct pane *q, int y)
{
	char text[400], more[80], date[48];

	str_fmt(text, sizeof(text), tr(SAY_TR_PAPER), b->document, b->lot);
	y = put_line(q, y, tr(SAY_TR_L_PAPER), text);
	str_fmt(text, sizeof(text), tr(SAY_TR_ORIGIN), b->method, b->area);
	if (b->caught_day != DAY_NONE) {
		str_fmt(more, sizeof(more), tr(SAY_TR_CAUGHT_ON),
		    hand_date(date, sizeof(date), b->caught_day));
		join(text, sizeof(text), more);
	}
	if (b->gear[0] != '\0')
		join(text, sizeof(text), b->gear);
	if (b->vessel[0] != '\0')
		join(text, sizeof(text), b->vessel);
	return put_line(q, y, tr(SAY_TR_L_ORIGIN), text);
}

static int
put_goods_in(const struct batch *b, const struct pane *q, int y)
{
	char when[64], temp[32], much[64], text[400];

	str_fmt(text, sizeof(text), tr(SAY_TR_IN),
	    at_text(when, sizeof(when), b->received.utc), b->received.by,
	    temp_print(temp, sizeof(temp), b->temp_dc),
	    amount(much, sizeof(much), b->count, b->weight_g),
	    decision_word(b->decision));
	if (b->note[0] != '\0')
		join(text, sizeof(text), b->note);
	return put_line(q, y, tr(SAY_TR_L_IN), text);
}

/* Where all of a batch is now. */
static int
put_where(const struct trace_page *p, const struct pane *q, int y)
{
	const struct chain_counts *c = &p->counts;
	char text[300] = "", more[120], much[64];

	if (p->batch.weight_left > 0 && p->batch.decision != DECISION_REFUSED) {
		str_fmt(more, sizeof(more), tr(SAY_TR_WHOLE),
		    amount(much, sizeof(much), p->batch.count_left,
			p->batch.weight_left));
		join(text, sizeof(text), more);
	}
	if (c->left > 0) {
		str_fmt(more, sizeof(more),
		    trn(SAY_TR_UNITS_ON_HAND, (long)c->left),
		    (long long)c->left);
		join(text, sizeof(text), more);
	}
	if (c->frozen > 0) {
		str_fmt(more, sizeof(more), tr(SAY_TR_OF_THEM_FROZEN),
		    (long long)c->frozen);
		join(text, sizeof(text), more);
	}
	if (c->expired > 0) {
		str_fmt(more, sizeof(more), tr(SAY_TR_OF_THEM_EXPIRED),
		    (long long)c->expired);
		join(text, sizeof(text), more);
	}
	return put_line(q, y, tr(SAY_TR_L_WHERE),
	    text[0] == '\0' ? tr(SAY_TR_NOTHING_LEFT) : text);
}

/* --- rows -----------------------------------------------------------------*/

struct trace_row
trace_row(const struct trace *s, int i)
{
	const struct trace_page *p = &s->page;
	size_t n = (size_t)i;

	if (p->of_portion) {
		/* Its own batch, then the others it is made of. */
		if (n <= p->other_count)
			return (struct trace_row){ TROW_BATCH, n };
		n -= 1 + p->other_count;
		if (n < p->preps.count)
			return (struct trace_row){ TROW_PREP, n };
		n -= p->preps.count;
		if (n < p->freezings.count)
			return (struct trace_row){ TROW_FREEZE, n };
		return (struct trace_row){ TROW_EVENT, n - p->freezings.count };
	}
	if (p->window.prep_id == 0) {
		if (n < p->preps.count)
			return (struct trace_row){ TROW_PREP, n };
		n -= p->preps.count;
	}
	return (struct trace_row){ TROW_UNIT, n };
}

int
trace_row_count(const struct trace *s)
{
	const struct trace_page *p = &s->page;

	if (s->mode == TRACE_DISH)
		return (int)s->guess.count;
	if (s->mode != TRACE_CHAIN)
		return 0;
	if (p->of_portion)
		return 1 +
		    (int)(p->other_count + p->preps.count + p->freezings.count +
			p->events.count);
	return (int)(p->window.prep_id == 0 ? p->preps.count : 0) +
	    (int)p->counts.units;
}

const struct trace_unit *
trace_unit_at(const struct trace *s, size_t i)
{
	const struct trace_page *p = &s->page;

	if (i < p->window.first || i >= p->window.first + p->unit_count)
		return NULL;
	return &p->units[i - p->window.first];
}

static void
draw_prep(const struct prep *r, const struct pane *row, enum style style)
{
	char when[64], in[64], out[64], text[300];

	at_text(when, sizeof(when), r->at.utc);
	amount(in, sizeof(in), r->fish, r->in_g);
	str_fmt(out, sizeof(out), trn(SAY_TR_PORTIONS, (long)r->portions),
	    (long long)r->portions);
	if (r->struck)
		str_fmt(text, sizeof(text), tr(SAY_TR_ROW_PREP_STRUCK), when,
		    r->at.by, r->struck_reason);
	else
		str_fmt(text, sizeof(text), tr(SAY_TR_ROW_PREP), when, r->at.by,
		    in, out);
	pane_cut(row, 0, 0, row->w, style, text);
}

/* "2 of 4 left, 1 used, frozen, ON HOLD" */
static void
unit_words(char *text, size_t size, const struct trace_unit *u, int64_t now)
{
	const struct portion *p = &u->portion;
	char more[64];

	text[0] = '\0';
	if (p->struck) {
		str_copy(text, size, tr(SAY_TR_STRUCK));
		return;
	}
	str_fmt(more, sizeof(more), tr(SAY_TR_COUNT_LEFT), (long long)p->left,
	    (long long)p->servings);
	join(text, size, more);
	if (u->missing > 0) {
		str_fmt(more, sizeof(more), tr(SAY_TR_COUNT_MISSING),
		    (long long)u->missing);
		join(text, size, more);
	}
	if (u->used > 0) {
		str_fmt(more, sizeof(more), tr(SAY_TR_COUNT_USED),
		    (long long)u->used);
		join(text, size, more);
	}
	if (u->discarded > 0) {
		str_fmt(more, sizeof(more), tr(SAY_TR_COUNT_THROWN),
		    (long long)u->discarded);
		join(text, size, more);
	}
	if (p->left == 0)
		return;
	if (p->held)
		join(text, size, tr(SAY_TR_UNIT_HELD));
	else if (p->use_by_utc < now)
		join(text, size, tr(SAY_TR_EXPIRED));
	if (p->keep != KEEP_CHILLED)
		join(text, size,
		    tr(p->keep == KEEP_FROZEN ? SAY_TR_FROZEN : SAY_TR_THAWED));
}

static void
draw_unit(const struct trace *s, const struct trace_unit *u,
    const struct pane *row, enum style style)
{
	const struct portion *p = &u->portion;
	int name = (row->w - W_CODE - W_DATE) / 3;
	char code[CODE_SIZE], date[48], text[300];
	struct local_time t = local_from_utc(p->use_by_utc);
	int x;

	unit_words(text, sizeof(text), u, s->page.now_utc);
	x = pane_cut(row, 0, 0, W_CODE, style, code_show(code, p->code));
	x = pane_cut(row, x, 0, name - 1, style, p->dish_name) + 1;
	x = pane_cut(
	    row, x, 0, W_DATE, style, hand_date(date, sizeof(date), t.day));
	pane_cut(row, x, 0, row->w - x, style, text);
}

static void
draw_event(
    const struct portion_event *e, const struct pane *row, enum style style)
{
	static const char *const words[] = {
		[FATE_USED] = SAY_TR_F_USED,
		[FATE_DISCARDED] = SAY_TR_F_DISCARDED,
		[FATE_MISSING] = SAY_TR_F_MISSING,
		[FATE_FOUND] = SAY_TR_F_FOUND,
		[FATE_RETURNED] = SAY_TR_F_RETURNED,
		[FATE_WITHDRAWN] = SAY_TR_F_WITHDRAWN,
		[FATE_STRUCK] = SAY_TR_F_STRUCK,
		[FATE_COMBINED] = SAY_TR_F_COMBINED,
	};
	char when[64], text[300], all[540];

	at_text(when, sizeof(when), e->at.utc);
	if (e->service[0] != '\0')
		str_fmt(text, sizeof(text), tr(SAY_TR_ROW_FOR),
		    tr(words[e->fate]), (long long)e->servings, e->service,
		    when, e->at.by);
	else
		str_fmt(text, sizeof(text), tr(SAY_TR_ROW_EVENT),
		    tr(words[e->fate]), (long long)e->servings, when, e->at.by);
	if (e->reason[0] == '\0')
		str_copy(all, sizeof(all), text);
	else
		str_fmt(
		    all, sizeof(all), tr(SAY_TR_ROW_REASON), text, e->reason);
	pane_cut(row, 0, 0, row->w, style, all);
}

static void
draw_batch_row(
    const struct trace_page *p, const struct pane *row, enum style style)
{
	const struct chain_counts *c = &p->counts;
	char code[CODE_SIZE], text[240], more[80];

	str_fmt(text, sizeof(text), tr(SAY_TR_ROW_BATCH),
	    code_show(code, p->batch.code), (long long)c->made,
	    (long long)c->used, (long long)c->left, (long long)c->discarded);
	if (c->brought != 0) {
		str_fmt(more, sizeof(more), tr(SAY_TR_ROW_BROUGHT),
		    (long long)c->brought);
		join(text, sizeof(text), more);
	}
	pane_cut(row, 0, 0, row->w, style, text);
}

/* Another batch of the same unit, with who sent it. */
static void
draw_other_row(const struct batch *b, const struct pane *row, enum style style)
{
	char code[CODE_SIZE], text[240];

	str_fmt(text, sizeof(text), tr(SAY_TR_ROW_OTHER),
	    code_show(code, b->code), b->supplier.name, b->document, b->lot);
	pane_cut(row, 0, 0, row->w,
	    style == STYLE_PLAIN && b->held ? STYLE_BAD : style, text);
}

static void
draw_row(const void *arg, int i, const struct pane *row, enum style style)
{
	const struct trace *s = arg;
	const struct trace_page *p = &s->page;
	const struct trace_row r = trace_row(s, i);
	const struct trace_unit *u;
	const struct freezing *f;
	char when[64], text[200];

	switch (r.kind) {
	case TROW_BATCH:
		if (r.i > 0)
			draw_other_row(&p->others[r.i - 1], row, style);
		else
			draw_batch_row(p, row, style);
		break;
	case TROW_PREP:
		draw_prep(&p->preps.items[r.i], row, style);
		break;
	case TROW_FREEZE:
		f = &p->freezings.items[r.i];
		str_fmt(text, sizeof(text), tr(SAY_TR_ROW_FREEZE),
		    tr(f->to == KEEP_FROZEN ? SAY_TR_FROZEN : SAY_TR_THAWED),
		    at_text(when, sizeof(when), f->at.utc), f->at.by);
		pane_cut(row, 0, 0, row->w, style, text);
		break;
	case TROW_EVENT:
		draw_event(&p->events.items[r.i], row, style);
		break;
	case TROW_UNIT:
		if ((u = trace_unit_at(s, r.i)) != NULL)
			draw_unit(s, u, row, style);
		break;
	}
}

/* Of one breakdown it says so above its units. */
static int
draw_narrowed(const struct trace_page *p, const struct pane *q, int y)
{
	char when[64], text[160];
	size_t i;

	for (i = 0; i < p->preps.count && p->window.prep_id != 0; i++) {
		if (p->preps.items[i].id != p->window.prep_id)
			continue;
		str_fmt(text, sizeof(text), tr(SAY_TR_UNITS_OF),
		    at_text(when, sizeof(when), p->preps.items[i].at.utc),
		    p->preps.items[i].at.by);
		pane_cut(q, 0, y, q->w, STYLE_FAINT, text);
		return y + 1;
	}
	return y;
}

void
trace_draw_chain(struct desk *d, struct trace *s, const struct pane *p)
{
	const struct trace_page *g = &s->page;
	struct pane part;
	int y = 2 + BIG_ROWS + 1;

	draw_title(g, p);
	draw_state(g, p);
	draw_counts(g, p);
	y = g->of_portion ? put_made(g, p, y) : put_where(g, p, y);
	y = put_from(&g->batch, p, y);
	y = put_paper(&g->batch, p, y);
	y = put_goods_in(&g->batch, p, y);
	pane_rule(p, y++);
	y = draw_narrowed(g, p, y);
	if (s->list.count == 0) {
		part = pane_part(p, 0, y, p->w, p->h - y);
		(void)pane_wrap(&part, 0, STYLE_FAINT,
		    tr(g->batch.struck || g->batch.decision == DECISION_REFUSED
			    ? SAY_TR_NO_ROWS_STRUCK
			    : SAY_TR_NO_ROWS));
		return;
	}
	part = pane_part(p, 0, y, p->w, p->h - y);
	trace_see(d, s, s->list.top,
	    s->list.top + part.h < s->list.count ? s->list.top + part.h
						 : s->list.count);
	list_draw(&s->list, &part, draw_row, s);
}
