/* cut_boards.c - invented boards of fish from a seed. */
#include "cut_boards.h"

#include <inttypes.h>
#include <string.h>

#define SPECIES_ALL ((UINT32_C(1) << BOARD_SPECIES) - 1)

/* In the range of a kitchen; all figures invented. */
static const struct {
	int low_g, high_g;   /* of a fish */
	int low_bp, high_bp; /* usable flesh of it, in 1/10 000 */
	int pieces;
	int price; /* a kilogram, in the smallest coin */
} kinds[BOARD_SPECIES] = {
	{ 1000, 2000, 4400, 4800, 2, 1100 }, /* hake */
	{ 1400, 2600, 3600, 4200, 2, 1400 }, /* cod */
	{ 450, 1100, 3600, 4000, 4, 800 },   /* plaice, four quarters */
	{ 500, 950, 4200, 4700, 2, 1600 },   /* bass */
	{ 1600, 2800, 5000, 5600, 2, 1300 }, /* sea trout */
};

/* Dishes cut, by species; a species without more begins again. */
static const struct {
	int target_g, down_g, up_g;
} cuts[BOARD_SPECIES][5] = {
	{ { 160, 10, 10 }, { 90, 8, 8 }, { 120, 9, 9 }, { 110, 8, 8 },
	    { 75, 7, 7 } },
	{ { 180, 12, 12 }, { 100, 8, 8 }, { 140, 10, 10 }, { 120, 9, 9 },
	    { 85, 7, 7 } },
	{ { 75, 8, 8 }, { 90, 8, 8 }, { 50, 5, 5 }, { 60, 6, 6 },
	    { 45, 5, 5 } },
	{ { 130, 12, 12 }, { 70, 6, 6 }, { 100, 9, 9 }, { 85, 7, 7 },
	    { 60, 6, 6 } },
	{ { 160, 12, 12 }, { 90, 8, 8 }, { 120, 10, 10 }, { 140, 10, 10 },
	    { 75, 7, 7 } },
};

/* What a fish is worth closed, by days left, in percent of its price. */
static const int worth[2][4] = {
	{ 5, 50, 80, 100 }, { 1, 8, 60, 400 }, /* strict */
};

int
board_draw(struct board *b, int n)
{
	/* The multiplier and increment are Knuth's MMIX. */
	b->seed = b->seed * UINT64_C(6364136223846793005) +
	    UINT64_C(1442695040888963407);
	return (int)((b->seed >> 33) % (uint64_t)n);
}

static int
between(struct board *b, int low, int high)
{
	return low + board_draw(b, high - low + 1);
}

static void
make_fish(struct board *b, const struct board_recipe *r, size_t i)
{
	struct cut_fish *f = &b->fish[i];
	struct cut_way *w = f->ways;
	int s = (int)i % r->species, bp;

	f->species = s;
	f->whole_g = between(b, kinds[s].low_g, kinds[s].high_g);
	b->days_left[i] = 3 - board_draw(b, 100) / 30;
	f->cost = f->whole_g * kinds[s].price *
	    worth[r->strict][b->days_left[i]] / 100;
	f->way_count = r->ways && s == 0 ? 2 : 1;
	bp = between(b, kinds[s].low_bp, kinds[s].high_bp);
	w->pieces = kinds[s].pieces;
	w->piece_g = f->whole_g * bp / (10000 * w->pieces);
	w->byproduct_g = f->whole_g * between(b, 190, 400) / 10000;
	w->keep = b->days_left[i] == 0 ? 0 : f->cost * 6 / (10 * w->pieces);
	if (f->way_count == 2) {
		w[1] = w[0];
		w[1].pieces = 1;
		w[1].piece_g = f->whole_g * 62 / 100;
		w[1].keep = b->days_left[i] == 0 ? 0 : f->cost * 6 / 10;
	}
	w[0].thick_g = w[0].piece_g * (r->thick ? 60 : 100) / 100;
	w[1].thick_g = w[1].piece_g;
	if (r->pins && board_draw(b, 5) == 0)
		f->pin = (enum cut_pin)(1 + board_draw(b, 3));
}

static struct cut_dish *
add_dish(struct board *b, const struct board_recipe *r, enum cut_serve serve,
    uint32_t species, int target, int down, int up)
{
	struct cut_dish *d = &b->dishes[b->p.dish_count++];
	int s = 0;

	while ((species >> s & 1) == 0)
		s++;
	d->serve = serve;
	d->species = species;
	d->target_g = target;
	d->high_g = target + up;
	d->low_g = target;
	if (r->tolerance != TOLERANCE_NONE)
		d->low_g -= r->tolerance == TOLERANCE_HALF ? down / 2 : down;
	d->short_cost =
	    (int64_t)target * kinds[s].price * between(b, 300, 600) / 100;
	if (r->under)
		d->under_price = kinds[s].price * between(b, 150, 300) / 100;
	if (r->strict)
		d->short_cost *= 4;
	return d;
}

static void
make_dishes(struct board *b, const struct board_recipe *r)
{
	struct cut_dish *d;
	int i, s, nth;

	for (i = 0; i < r->dishes; i++) {
		s = i % r->species;
		nth = i / r->species % 5;
		d = add_dish(b, r, SERVE_CUT, UINT32_C(1) << s,
		    cuts[s][nth].target_g, cuts[s][nth].down_g,
		    cuts[s][nth].up_g);
		d->thick = r->thick && i % 2 == 0;
	}
	if (r->stew)
		add_dish(b, r, SERVE_CUT, SPECIES_ALL, 60, 15, 15);
	if (r->whole)
		add_dish(b, r, SERVE_WHOLE, UINT32_C(1) << 2, 500, 50, 50);
	if (r->piece)
		add_dish(b, r, SERVE_PIECE,
		    UINT32_C(1) << (r->species > 3 ? 3 : 0),
		    r->species > 3 ? 150 : 330, r->species > 3 ? 20 : 60,
		    r->species > 3 ? 20 : 60);
	if (r->ways)
		add_dish(b, r, SERVE_CUT, 1, 210, 15, 15);
}

/* Shares of what there is; a dish of several species takes a little. */
static void
make_wanted(struct board *b, const struct board_recipe *r)
{
	grams flesh[BOARD_SPECIES] = { 0 };
	int dishes[BOARD_SPECIES] = { 0 };
	const struct cut_way *w;
	struct cut_dish *d;
	size_t i;
	int s;

	for (i = 0; i < b->p.fish_count; i++) {
		w = b->fish[i].ways;
		flesh[b->fish[i].species] += w->pieces * w->piece_g;
	}
	for (i = 0; i < b->p.dish_count; i++)
		for (s = 0; s < BOARD_SPECIES; s++)
			dishes[s] += b->dishes[i].species == UINT32_C(1) << s;
	for (i = 0; i < b->p.dish_count; i++) {
		d = &b->dishes[i];
		for (s = 0; d->species != UINT32_C(1) << s; s++)
			if (s == BOARD_SPECIES)
				break;
		if (d->serve == SERVE_WHOLE)
			d->wanted =
			    1 + board_draw(b, 2 + (int)b->p.fish_count / 10);
		else if (s == BOARD_SPECIES)
			d->wanted = 1 + b->p.fish_count / 4;
		else
			d->wanted = flesh[s] * r->load * between(b, 70, 130) /
				(10000 * dishes[s] * d->target_g) +
			    board_draw(b, 2);
	}
}

static void
make_pools(struct board *b, const struct board_recipe *r)
{
	static const struct {
		uint32_t species;
		int price;
	} pools[] = { { SPECIES_ALL, 700 }, { 5, 1200 }, { 3, 300 } };
	int i;

	for (i = 0; i < r->pools; i++) {
		b->pools[i].species = pools[i].species;
		b->pools[i].price = pools[i].price;
		b->pools[i].wanted_g =
		    between(b, 20, 45) * (grams)b->p.fish_count;
		b->p.pool_count++;
	}
}

void
board_make(struct board *b, const struct board_recipe *r, uint64_t seed)
{
	struct cut_way *w;
	uint32_t all, second;
	size_t i;

	/* Not all of it: what is never touched takes no memory. */
	memset(&b->p, 0, sizeof(b->p));
	memset(b->fish, 0, (size_t)r->fish * sizeof(b->fish[0]));
	memset(b->dishes, 0, sizeof(b->dishes));
	memset(b->pools, 0, sizeof(b->pools));
	b->seed = seed;
	b->p.fish = b->fish;
	b->p.dishes = b->dishes;
	b->p.pools = b->pools;
	b->p.within = 1;
	b->p.fish_count = (size_t)r->fish;
	board_draw(b, 2); /* small seeds are alike in their first number */
	for (i = 0; i < b->p.fish_count; i++)
		make_fish(b, r, i);
	make_dishes(b, r);
	make_wanted(b, r);
	make_pools(b, r);
	all = (UINT32_C(1) << b->p.dish_count) - 1;
	second = r->ways ? UINT32_C(1) << (b->p.dish_count - 1) : 0;
	for (i = 0; i < b->p.fish_count; i++) {
		w = b->fish[i].ways;
		w[0].dishes = all & ~second;
		w[1].dishes = second;
	}
}

void
board_write(struct buf *out, const struct cut_problem *p)
{
	const struct cut_dish *d;
	const struct cut_fish *f;
	const struct cut_way *w;
	size_t i;
	int k;

	buf_puts(out,
	    "dish wanted low target high short under species serve "
	    "thick\n");
	for (i = 0; i < p->dish_count; i++) {
		d = &p->dishes[i];
		buf_printf(out,
		    "%zu %" PRId64 " %" PRId64 " %" PRId64 " %" PRId64
		    " %" PRId64 " %" PRId64 " 0x%" PRIx32 " %d %d\n",
		    i, d->wanted, d->low_g, d->target_g, d->high_g,
		    d->short_cost, d->under_price, d->species, (int)d->serve,
		    d->thick);
	}
	buf_puts(out, "pool wanted_g price species\n");
	for (i = 0; i < p->pool_count; i++)
		buf_printf(out, "%zu %" PRId64 " %" PRId64 " 0x%" PRIx32 "\n",
		    i, p->pools[i].wanted_g, p->pools[i].price,
		    p->pools[i].species);
	buf_puts(out,
	    "fish species whole_g cost pin | pieces piece_g thick_g keep "
	    "byproduct_g dishes\n");
	for (i = 0; i < p->fish_count; i++) {
		f = &p->fish[i];
		buf_printf(out, "%zu %d %" PRId64 " %" PRId64 " %d", i,
		    f->species, f->whole_g, f->cost, (int)f->pin);
		for (k = 0; k < f->way_count; k++) {
			w = &f->ways[k];
			buf_printf(out,
			    " | %d %" PRId64 " %" PRId64 " %" PRId64 " %" PRId64
			    " 0x%" PRIx32,
			    w->pieces, w->piece_g, w->thick_g, w->keep,
			    w->byproduct_g, w->dishes);
		}
		buf_putc(out, '\n');
	}
}

/* "s0|s2" */
static void
species_words(struct buf *out, uint32_t species)
{
	const char *bar = "";
	int s;

	for (s = 0; s < CUT_SPECIES_MAX; s++)
		if (species >> s & 1) {
			buf_printf(out, "%ss%d", bar, s);
			bar = "|";
		}
}

void
board_csv(struct buf *fish, struct buf *dishes, struct buf *trim,
    const struct cut_problem *p)
{
	const struct cut_dish *d;
	const struct cut_fish *f;
	size_t i;

	buf_puts(fish,
	    "fish,species,bought_g,usable_g,pieces,cost,keep,byproduct_g\n");
	for (i = 0; i < p->fish_count; i++) {
		f = &p->fish[i];
		buf_printf(fish,
		    "%zu,s%d,%" PRId64 ",%" PRId64 ",%d,%" PRId64 ",%" PRId64
		    ",%" PRId64 "\n",
		    i + 1, f->species, f->whole_g, f->ways[0].piece_g,
		    f->ways[0].pieces, f->cost, f->ways[0].keep,
		    f->ways[0].byproduct_g);
	}
	buf_puts(dishes,
	    "dish,species,wanted,low_g,target_g,high_g,short_cost,whole,"
	    "under_price\n");
	for (i = 0; i < p->dish_count; i++) {
		d = &p->dishes[i];
		buf_printf(dishes, "%zu,", i + 1);
		species_words(dishes, d->species);
		buf_printf(dishes,
		    ",%" PRId64 ",%" PRId64 ",%" PRId64 ",%" PRId64 ",%" PRId64
		    ",%d,%" PRId64 "\n",
		    d->wanted, d->low_g, d->target_g, d->high_g, d->short_cost,
		    d->serve == SERVE_WHOLE, d->under_price);
	}
	buf_puts(trim, "pool,species,wanted_g,price_per_g\n");
	for (i = 0; i < p->pool_count; i++) {
		buf_printf(trim, "%zu,", i + 1);
		species_words(trim, p->pools[i].species);
		buf_printf(trim, ",%" PRId64 ",%" PRId64 "\n",
		    p->pools[i].wanted_g, p->pools[i].price);
	}
}
