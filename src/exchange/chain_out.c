/* chain_out.c - what happened to food as a table. */
#include "exchange/chain_out.h"

#include <inttypes.h>

#include "base/clock.h"
#include "base/csv.h"

/* What differs from row to row of one happening. */
struct row {
	const char *what;
	const char *batch, *portion; /* codes; "" none */
	const char *into;            /* the tray it went onto; NULL none */
	const char *species, *dish;
	int64_t servings, left, fish; /* below 0: empty */
	grams weight_g;               /* 0: empty */
	int64_t use_by_utc;           /* 0: empty */
};

void
chain_head(struct buf *out)
{
	buf_puts(out,
	    "at,what,batch,portion,into,breakdown,species,dish,servings,left,"
	    "fish,"
	    "weight_g,temperature_c,use_by,service,reason,by,undone,undone_by,"
	    "undone_reason\r\n");
}

static void
put_code(struct buf *out, const char *code)
{
	char shown[CODE_SIZE];

	buf_putc(out, ',');
	if (code[0] != '\0')
		buf_puts(out, code_show(shown, code));
}

static void
put_int(struct buf *out, int64_t v, bool known)
{
	buf_putc(out, ',');
	if (known)
		buf_printf(out, "%" PRId64, v);
}

static void
put_text(struct buf *out, const char *s)
{
	buf_putc(out, ',');
	csv_quote(out, s);
}

static void
put_temperature(struct buf *out, const struct happening *h)
{
	int v = h->temp_dc < 0 ? -h->temp_dc : h->temp_dc;

	buf_putc(out, ',');
	if (h->kind == HAPPENED_FROZEN)
		buf_printf(
		    out, "%s%d.%d", h->temp_dc < 0 ? "-" : "", v / 10, v % 10);
}

static void
put_undone(struct buf *out, const struct happening *h)
{
	char when[48];

	put_text(out,
	    h->undone ? time_rfc3339_at(when, sizeof(when), h->undone_at.utc,
			    h->undone_at.offset_min)
		      : "");
	put_text(out, h->undone_at.by);
	put_text(out, h->undone_reason);
	buf_puts(out, "\r\n");
}

static void
put_row(struct buf *out, const struct happening *h, const struct row *r)
{
	bool made =
	    h->kind == HAPPENED_BREAKDOWN || h->kind == HAPPENED_COMBINED;
	char when[48];

	buf_puts(out,
	    time_rfc3339_at(when, sizeof(when), h->at.utc, h->at.offset_min));
	put_text(out, r->what);
	put_code(out, r->batch);
	put_code(out, r->portion);
	put_code(out, r->into == NULL ? "" : r->into);
	put_int(out, h->prep_id, h->prep_id != 0);
	put_text(out, r->species);
	put_text(out, r->dish);
	put_int(out, r->servings, r->servings > 0);
	put_int(out, r->left, r->left >= 0 && !made);
	put_int(out, r->fish, r->fish > 0);
	put_int(out, r->weight_g, r->weight_g != 0);
	put_temperature(out, h);
	put_text(out,
	    r->use_by_utc == 0
		? ""
		: time_rfc3339(when, sizeof(when), r->use_by_utc));
	put_text(out, h->service);
	put_text(out, h->reason);
	put_text(out, h->at.by);
	put_undone(out, h);
}

/* Grams of a breakdown that are on no label; overweight is below 0. */
static void
put_rest(struct buf *out, const struct happening *h, const char *what, grams g)
{
	const struct row r = { .what = what,
		.batch = "",
		.portion = "",
		.species = "",
		.dish = "",
		.weight_g = g };

	if (g != 0)
		put_row(out, h, &r);
}

static void
put_breakdown(
    struct buf *out, const struct happening *h, const struct prep_sides *s)
{
	struct row r;
	size_t i;
	int k;

	for (i = 0; i < s->in_count; i++) {
		r = (struct row){ .what = "breakdown",
			.portion = "",
			.dish = "",
			.batch = s->in[i].batch,
			.species = s->in[i].species,
			.fish = s->in[i].fish,
			.weight_g = s->in[i].weight_g };
		put_row(out, h, &r);
	}
	for (i = 0; i < s->unit_count; i++) {
		r = (struct row){ .what = "made",
			.species = "",
			.batch = s->units[i].batch,
			.portion = s->units[i].code,
			.dish = s->units[i].dish,
			.servings = s->units[i].servings,
			.weight_g = s->units[i].weight_g,
			.use_by_utc = s->units[i].use_by_utc };
		put_row(out, h, &r);
	}
	for (k = 0; k < LOSS_COUNT; k++)
		put_rest(out, h, loss_word((enum loss_kind)k), s->loss_g[k]);
	put_rest(out, h, "unlabelled", s->unlabelled_g);
	put_rest(out, h, "unexplained", s->unexplained_g);
}

/* A row for each unit that gave its rest, and one for the tray. */
static void
put_combined(
    struct buf *out, const struct happening *h, const struct prep_sides *s)
{
	const struct prep_unit *u;
	struct row r;
	size_t i;

	for (i = 0; i < s->from_count + s->unit_count; i++) {
		u = i < s->from_count ? &s->from[i]
				      : &s->units[i - s->from_count];
		r = (struct row){ .what =
				      i < s->from_count ? "combined" : "made",
			.species = h->species,
			.batch = u->batch,
			.portion = u->code,
			.into = i < s->from_count ? h->portion : NULL,
			.dish = u->dish,
			.servings = u->servings,
			.weight_g = u->weight_g };
		if (i >= s->from_count)
			r.use_by_utc = u->use_by_utc;
		put_row(out, h, &r);
	}
}

void
chain_rows(
    struct buf *out, const struct happening *h, const struct prep_sides *sides)
{
	struct row r = { .what = happening_word(h->kind),
		.batch = h->batch,
		.portion = h->portion,
		.species = h->species,
		.dish = h->dish,
		.servings = h->servings,
		.left = h->portion[0] != '\0' ? h->left : -1,
		.fish = h->fish,
		.weight_g = h->weight_g,
		.use_by_utc = h->use_by_utc };

	if (h->kind == HAPPENED_BREAKDOWN)
		put_breakdown(out, h, sides);
	else if (h->kind == HAPPENED_COMBINED)
		put_combined(out, h, sides);
	else
		put_row(out, h, &r);
}
