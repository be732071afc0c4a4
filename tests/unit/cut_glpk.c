/* cut_glpk.c - a cut plan by glpsol: write MPS, run, read, judge. */
#include "cut_glpk.h"

#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "base/buf.h"
#include "base/file.h"
#include "base/mem.h"
#include "base/str.h"
#include "cut_judge.h"
#include "cut_pattern.h"

#define MPS_MAX ((size_t)64 * 1024 * 1024)

enum kind {
	COL_OPEN,    /* fish a in way b */
	COL_WHOLE,   /* fish a for dish b */
	COL_KEEP,    /* pieces of fish a in way b left whole */
	COL_PATTERN, /* pieces of type a cut as pattern b of it */
	COL_SHORT,   /* portions of dish a */
	COL_TRIM,    /* grams of species a for pool b */
	COL_BUY,     /* grams for pool a bought */
};

struct column {
	enum kind kind;
	size_t a, b;
	int64_t value; /* in the answer */
};

/* Pieces that are alike in all but the credit for leaving them whole. */
struct type {
	int species;
	struct cut_way like;
	struct pattern_list patterns;
	size_t next; /* column of the pattern dealt out next */
	size_t first;
	int64_t pieces;
};

struct model {
	const struct cut_problem *p;
	struct type *types;
	size_t type_count, type_cap;
	size_t *type_of; /* fish * CUT_WAYS_MAX + way */
	struct column *columns;
	size_t column_count, column_cap;
	struct buf text;
	char folder[64];
};

static size_t
find_type(struct model *m, const struct cut_fish *f, int way)
{
	const struct cut_way *w = &f->ways[way];
	struct type *t;
	size_t i;

	for (i = 0; i < m->type_count; i++) {
		t = &m->types[i];
		if (t->species == f->species && t->like.piece_g == w->piece_g &&
		    t->like.thick_g == w->thick_g &&
		    t->like.dishes == w->dishes)
			break;
	}
	if (i == m->type_count) {
		m->types = grow(m->types, &m->type_cap, i, sizeof(*m->types));
		t = &m->types[m->type_count++];
		*t = (struct type){ .species = f->species, .like = *w };
		pattern_list(&t->patterns, m->p, f, way);
		pattern_best(&t->patterns, m->p);
	}
	m->types[i].pieces += w->pieces;
	return i;
}

static void
find_types(struct model *m)
{
	size_t i;
	int w;

	m->type_of =
	    xcalloc(m->p->fish_count * CUT_WAYS_MAX + 1, sizeof(*m->type_of));
	for (i = 0; i < m->p->fish_count; i++)
		for (w = 0; w < m->p->fish[i].way_count; w++)
			m->type_of[i * CUT_WAYS_MAX + (size_t)w] =
			    find_type(m, &m->p->fish[i], w);
}

/* --- writing ----------------------------------------------------------------
 */

/* A new column; entries follow by put(). */
static void
column(struct model *m, enum kind kind, size_t a, size_t b, int64_t cost)
{
	m->columns = grow(
	    m->columns, &m->column_cap, m->column_count, sizeof(*m->columns));
	m->columns[m->column_count++] =
	    (struct column){ .kind = kind, .a = a, .b = b };
	if (cost != 0)
		buf_printf(&m->text, " c%zu cost %" PRId64 "\n",
		    m->column_count, cost);
}

static void
put(struct model *m, char row, size_t n, int64_t value)
{
	if (value != 0)
		buf_printf(&m->text, " c%zu %c%zu %" PRId64 "\n",
		    m->column_count, row, n, value);
}

static bool
takes_whole(const struct cut_problem *p, const struct cut_fish *f, size_t d)
{
	const struct cut_dish *dish = &p->dishes[d];

	return dish->serve == SERVE_WHOLE &&
	    (dish->species >> f->species & 1) != 0 &&
	    f->whole_g >= dish->low_g && f->whole_g <= dish->high_g;
}

static bool
any_takes_whole(const struct cut_problem *p, const struct cut_fish *f)
{
	size_t d;

	for (d = 0; d < p->dish_count; d++)
		if (takes_whole(p, f, d))
			return true;
	return false;
}

static void
write_rows(struct model *m)
{
	static const char by_pin[] = {
		[PIN_NONE] = 'L',
		[PIN_CLOSED] = 'L',
		[PIN_OPEN] = 'E',
		[PIN_WHOLE] = 'E',
	};
	const struct cut_problem *p = m->p;
	const struct cut_fish *f;
	size_t i;

	buf_puts(&m->text, "NAME cuts\nROWS\n N cost\n");
	for (i = 0; i < p->fish_count; i++) {
		f = &p->fish[i];
		buf_printf(&m->text, " %c f%zu\n",
		    f->pin == PIN_WHOLE && !any_takes_whole(p, f)
			? 'L'
			: by_pin[f->pin],
		    i);
		buf_printf(&m->text, " L k%zu\n L k%zu\n", i * CUT_WAYS_MAX,
		    i * CUT_WAYS_MAX + 1);
	}
	for (i = 0; i < m->type_count; i++)
		buf_printf(&m->text, " E t%zu\n", i);
	for (i = 0; i < p->dish_count; i++)
		buf_printf(&m->text, " G d%zu\n", i);
	for (i = 0; i < CUT_SPECIES_MAX; i++)
		buf_printf(&m->text, " G s%zu\n", i);
	for (i = 0; i < p->pool_count; i++)
		buf_printf(&m->text, " G p%zu\n", i);
	buf_puts(&m->text, "COLUMNS\n M1 'MARKER' 'INTORG'\n");
}

static void
write_fish(struct model *m, size_t i)
{
	const struct cut_fish *f = &m->p->fish[i];
	bool whole_only = f->pin == PIN_WHOLE && any_takes_whole(m->p, f);
	const struct cut_way *w;
	size_t d, type, row;
	int way;

	if (f->pin == PIN_CLOSED)
		return;
	for (way = 0; way < f->way_count && !whole_only; way++) {
		w = &f->ways[way];
		type = m->type_of[i * CUT_WAYS_MAX + (size_t)way];
		row = i * CUT_WAYS_MAX + (size_t)way;
		column(m, COL_OPEN, i, (size_t)way, f->cost);
		put(m, 'f', i, 1);
		put(m, 't', type, -w->pieces);
		put(m, 'k', row, -w->pieces);
		put(m, 's', (size_t)f->species, w->byproduct_g);
		column(m, COL_KEEP, i, (size_t)way, -w->keep);
		put(m, 't', type, 1);
		put(m, 'k', row, 1);
	}
	for (d = 0; d < m->p->dish_count; d++)
		if (takes_whole(m->p, f, d)) {
			column(m, COL_WHOLE, i, d,
			    f->cost +
				judge_under(&m->p->dishes[d], f->whole_g));
			put(m, 'f', i, 1);
			put(m, 'd', d, 1);
		}
}

static void
write_patterns(struct model *m, size_t i)
{
	struct type *t = &m->types[i];
	const struct pattern *pat;
	size_t k, d;

	t->first = t->next = m->column_count;
	for (k = 0; k < t->patterns.count; k++) {
		pat = &t->patterns.items[k];
		column(m, COL_PATTERN, i, k, pat->cost);
		put(m, 't', i, 1);
		for (d = 0; d < m->p->dish_count; d++)
			put(m, 'd', d, pat->n[d]);
		put(m, 's', (size_t)t->species, pat->trim);
	}
}

static void
write_short(struct model *m)
{
	const struct cut_problem *p = m->p;
	size_t i, s;

	for (i = 0; i < p->dish_count; i++) {
		column(m, COL_SHORT, i, 0, p->dishes[i].short_cost);
		put(m, 'd', i, 1);
	}
	for (i = 0; i < p->pool_count; i++) {
		for (s = 0; s < CUT_SPECIES_MAX; s++)
			if (p->pools[i].species >> s & 1) {
				column(m, COL_TRIM, s, i, 0);
				put(m, 's', s, -1);
				put(m, 'p', i, 1);
			}
		column(m, COL_BUY, i, 0, p->pools[i].price);
		put(m, 'p', i, 1);
	}
}

static void
write_bounds(struct model *m)
{
	const struct column *c;
	int64_t most;
	size_t i;

	buf_puts(&m->text, "BOUNDS\n FX b near 1\n");
	for (i = 0; i < m->column_count; i++) {
		c = &m->columns[i];
		most = 1;
		if (c->kind == COL_SHORT || c->kind == COL_TRIM ||
		    c->kind == COL_BUY)
			continue;
		if (c->kind == COL_KEEP)
			most = m->p->fish[c->a].ways[c->b].pieces;
		if (c->kind == COL_PATTERN)
			most = m->types[c->a].pieces;
		buf_printf(&m->text, " UP b c%zu %" PRId64 "\n", i + 1, most);
	}
	buf_puts(&m->text, "ENDATA\n");
}

static void
write_model(struct model *m, int64_t near)
{
	const struct cut_problem *p = m->p;
	size_t i;

	find_types(m);
	write_rows(m);
	for (i = 0; i < p->fish_count; i++)
		write_fish(m, i);
	for (i = 0; i < m->type_count; i++)
		write_patterns(m, i);
	buf_puts(&m->text, " M2 'MARKER' 'INTEND'\n");
	write_short(m);
	buf_printf(&m->text, " near cost %" PRId64 "\nRHS\n", -near);
	for (i = 0; i < p->fish_count; i++)
		buf_printf(&m->text, " r f%zu 1\n", i);
	for (i = 0; i < p->dish_count; i++)
		buf_printf(
		    &m->text, " r d%zu %" PRId64 "\n", i, p->dishes[i].wanted);
	for (i = 0; i < p->pool_count; i++)
		buf_printf(
		    &m->text, " r p%zu %" PRId64 "\n", i, p->pools[i].wanted_g);
	write_bounds(m);
}

/* --- reading ----------------------------------------------------------------
 */

/*
 * The lines of GLPK's own solution format that matter: "s mip ROWS COLUMNS
 * STATUS OBJECTIVE" and "j COLUMN VALUE".
 */
static bool
read_answer(struct glpk_result *out, struct model *m, const char *path)
{
	char line[200];
	size_t rows, columns, j;
	double value;
	FILE *f = fopen(path, "r");

	if (f == NULL)
		return false;
	while (fgets(line, sizeof(line), f) != NULL) {
		if (sscanf(line, "s mip %zu %zu %c", &rows, &columns,
			&out->status) == 3) {
			out->rows = rows;
			out->columns = columns;
		}
		if (sscanf(line, "j %zu %lf", &j, &value) == 2 && j >= 1 &&
		    j <= m->column_count)
			m->columns[j - 1].value =
			    (int64_t)(value + (value < 0 ? -0.5 : 0.5));
	}
	fclose(f);
	return out->columns == m->column_count + 1;
}

/* The next pattern of a type that still has pieces to be cut so. */
static const struct pattern *
deal(struct model *m, struct type *t)
{
	while (t->next < t->first + t->patterns.count &&
	    m->columns[t->next].value == 0)
		t->next++;
	if (t->next == t->first + t->patterns.count)
		return NULL;
	m->columns[t->next].value--;
	return &t->patterns.items[t->next - t->first];
}

static bool
cut_piece(struct model *m, struct cut_piece *piece, struct type *t)
{
	const struct pattern *pat = deal(m, t);
	size_t d, i;

	if (pat == NULL)
		return false;
	for (d = 0; d < m->p->dish_count; d++)
		piece->cut_count += (size_t)pat->n[d];
	piece->cuts = xcalloc(piece->cut_count + 1, sizeof(*piece->cuts));
	judge_pattern(piece->cuts, m->p, t->like.piece_g, pat->n);
	piece->trim_g = t->like.piece_g;
	for (i = 0; i < piece->cut_count; i++)
		piece->trim_g -= piece->cuts[i].portion_g;
	return true;
}

/* Open a fish as column `at` says; the one behind it says what is kept. */
static bool
open_fish(struct model *m, struct cut_plan *plan, size_t at)
{
	const struct column *c = &m->columns[at];
	const struct cut_way *w = &m->p->fish[c->a].ways[c->b];
	struct cut_choice *to = &plan->fish[c->a];
	int i;

	to->mode = MODE_CUT;
	to->way = (int)c->b;
	to->pieces = xcalloc(CUT_PIECES_MAX, sizeof(*to->pieces));
	for (i = 0; i < w->pieces; i++) {
		to->pieces[i].kept = i < m->columns[at + 1].value;
		if (!to->pieces[i].kept &&
		    !cut_piece(m, &to->pieces[i],
			&m->types[m->type_of[c->a * CUT_WAYS_MAX + c->b]]))
			return false;
	}
	return true;
}

static bool
make_plan(struct model *m, struct cut_plan *plan)
{
	const struct column *c;
	size_t i;

	plan->fish_count = m->p->fish_count;
	plan->fish = xcalloc(plan->fish_count, sizeof(*plan->fish));
	for (i = 0; i < m->column_count; i++) {
		c = &m->columns[i];
		if (c->kind == COL_WHOLE && c->value == 1) {
			plan->fish[c->a].mode = MODE_WHOLE;
			plan->fish[c->a].dish = (int)c->b;
		}
		if (c->kind == COL_OPEN && c->value == 1 &&
		    !open_fish(m, plan, i))
			return false;
	}
	return true;
}

/* --- running ----------------------------------------------------------------
 */

static const char *
in_folder(char path[128], const struct model *m, const char *name)
{
	str_fmt(path, 128, "%s/%s", m->folder, name);
	return path;
}

static bool
fails(struct glpk_result *out, const char *what)
{
	str_copy(out->why, sizeof(out->why), what);
	return false;
}

static bool
run(struct glpk_result *out, struct model *m, int seconds)
{
	char mps[128], answer[128], log[128], limit[24];
	const char *argv[] = { "glpsol", "--freemps", mps, "--mipgap", "0",
		"--tmlim", limit, "--write", answer, NULL };
	int rc;

	str_fmt(limit, sizeof(limit), "%d", seconds);
	in_folder(mps, m, "cuts.mps");
	in_folder(answer, m, "cuts.sol");
	in_folder(log, m, "cuts.log");
	if (buf_check(&m->text, "the problem", NULL) != RC_OK ||
	    file_write(mps, m->text.data, m->text.len, NULL) != RC_OK)
		return fails(out, "the problem cannot be written");
	rc = child_run(&out->use, argv, log);
	if (rc == 127)
		return fails(out, "glpsol cannot be run: make deps-test");
	if (rc != 0 || !read_answer(out, m, answer))
		return fails(out, "glpsol gave no answer");
	return true;
}

static void
tidy(struct model *m)
{
	static const char *const names[] = { "cuts.mps", "cuts.sol",
		"cuts.log" };
	char path[128];
	size_t i;

	for (i = 0; i < sizeof(names) / sizeof(names[0]); i++)
		unlink(in_folder(path, m, names[i]));
	rmdir(m->folder);
	for (i = 0; i < m->type_count; i++)
		free(m->types[i].patterns.items);
	free(m->types);
	free(m->type_of);
	free(m->columns);
	buf_fini(&m->text);
}

bool
glpk_solve(struct glpk_result *out, const struct cut_problem *p, int64_t near,
    int seconds)
{
	struct model m = { .p = p, .folder = "/tmp/pinbone-glpk-XXXXXX" };
	struct cut_plan plan = { 0 };
	struct judgement j = { 0 };
	bool ok = false;

	*out = (struct glpk_result){ .status = 'u' };
	if (mkdtemp(m.folder) == NULL)
		return fails(out, "no folder for it");
	buf_init(&m.text, MPS_MAX);
	write_model(&m, near);
	if (!run(out, &m, seconds))
		goto done;
	ok = out->status == 'n' || out->status == 'u';
	if (ok)
		goto done;
	if (!make_plan(&m, &plan))
		fails(out, "its pieces and patterns do not add up");
	else if (!judge_plan(&j, p, &plan))
		fails(out, j.why);
	else
		ok = true;
	out->cost = j.cost;
done:
	cut_plan_fini(&plan);
	tidy(&m);
	return ok;
}
