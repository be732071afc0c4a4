/* menu.c - dishes, their cuts, and their share of each service. */
#include "store/menu.h"

#include <stdlib.h>
#include <string.h>

#include "base/str.h"
#include "stmt.h"

/* An update whose only parameter is the list of what stays. */
static enum rc
drop_others(int *dropped, struct store *st, const char *sql, int64_t dish_id,
    const char *kept, struct err *err)
{
	struct stmt q;
	enum rc rc;

	if ((rc = stmt_open(&q, st, sql, err)) != RC_OK)
		return rc;
	bind_text(&q, ":kept", kept);
	if (dish_id != 0)
		bind_int(&q, ":dish", dish_id);
	if ((rc = stmt_run(&q, err)) == RC_OK)
		*dropped = rows_changed(st);
	return rc;
}

enum rc
menu_keep_dishes(
    int *dropped, struct store *st, const char *kept, struct err *err)
{
	return drop_others(dropped, st,
	    "UPDATE dish SET on_menu = 0" SCAN_OK
	    "WHERE on_menu = 1 AND instr(:kept, ',' || code || ',') = 0",
	    0, kept, err);
}

enum rc
menu_keep_cuts(int *dropped, struct store *st, int64_t dish_id,
    const char *kept, struct err *err)
{
	return drop_others(dropped, st,
	    "UPDATE cut SET current = 0 WHERE dish_id = :dish AND current = 1"
	    " AND instr(:kept, ',' || species || ',') = 0",
	    dish_id, kept, err);
}

#define DISH_COLUMNS                                                           \
	"SELECT id, code, name, state, allergens, on_menu,"                    \
	" coalesce(price, -1) FROM dish "

static enum rc
read_dish(void *item, const struct stmt *q, struct err *err)
{
	struct dish *d = item;
	char state[16];

	d->id = col_int(q, 0);
	col_text(d->code, sizeof(d->code), q, 1);
	col_text(d->name, sizeof(d->name), q, 2);
	col_text(state, sizeof(state), q, 3);
	col_text(d->allergens, sizeof(d->allergens), q, 4);
	d->price = col_int(q, 6);
	return food_state_parse(&d->state, state, err);
}

/* RC_END: there is none. */
static enum rc
find_dish(struct dish *out, bool *on_menu, struct store *st, const char *code,
    struct err *err)
{
	struct stmt q;
	enum rc rc;

	rc = stmt_open(&q, st, DISH_COLUMNS "WHERE code = :code", err);
	if (rc != RC_OK)
		return rc;
	bind_text(&q, ":code", code);
	rc = stmt_step(&q, err);
	if (rc == RC_OK)
		rc = read_dish(out, &q, err);
	if (rc == RC_OK)
		*on_menu = col_int(&q, 5) == 1;
	stmt_close(&q);
	return rc;
}

enum rc
dish_get(struct dish *out, bool *on_menu, struct store *st, const char *code,
    struct err *err)
{
	enum rc rc = find_dish(out, on_menu, st, code, err);

	if (rc == RC_END)
		return err_set(err, RC_NOTFOUND, 0,
		    "dish \"%.40s\" was never on the menu", code);
	return rc;
}

enum rc
dish_menu(struct store *st, int64_t id, bool on, struct err *err)
{
	struct stmt q;
	enum rc rc;

	rc = stmt_open(
	    &q, st, "UPDATE dish SET on_menu = :on WHERE id = :id", err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":on", on);
	bind_int(&q, ":id", id);
	return stmt_run(&q, err);
}

enum rc
dish_list_open(struct dish_list *out, struct store *st, bool on, int64_t skip,
    int64_t most, struct err *err)
{
	struct stmt q;
	void *rows;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	rc = stmt_open(&q, st,
	    DISH_COLUMNS SCAN_OK
	    "WHERE on_menu = :on ORDER BY code LIMIT :most OFFSET :skip",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":on", on);
	bind_int(&q, ":most", most);
	bind_int(&q, ":skip", skip);
	rc = stmt_rows(
	    &rows, &out->count, sizeof(*out->items), &q, read_dish, err);
	out->items = rows;
	return rc;
}

void
dish_list_fini(struct dish_list *l)
{
	free(l->items);
	memset(l, 0, sizeof(*l));
}

static bool
same_dish(const struct dish *a, const struct dish *b)
{
	return str_eq(a->name, b->name) && a->state == b->state &&
	    str_eq(a->allergens, b->allergens) && a->price == b->price;
}

enum rc
dish_put(enum change *out, struct store *st, struct dish *d, struct err *err)
{
	struct dish old;
	struct stmt q;
	bool on = false;
	enum rc rc;

	rc = find_dish(&old, &on, st, d->code, err);
	if (rc != RC_OK && rc != RC_END)
		return rc;
	*out = CHANGE_ADDED;
	if (rc == RC_OK) {
		d->id = old.id;
		*out = on && same_dish(&old, d) ? CHANGE_NONE : CHANGE_CHANGED;
	}
	rc = stmt_open(&q, st,
	    "INSERT INTO dish (code, name, state, allergens, on_menu, price)"
	    " VALUES (:code, :name, :state, :allergens, 1, :price)"
	    " ON CONFLICT (code) DO UPDATE SET name = :name, price = :price,"
	    " state = :state, allergens = :allergens, on_menu = 1",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_text(&q, ":code", d->code);
	bind_text(&q, ":name", d->name);
	bind_text(&q, ":state", food_state_word(d->state));
	bind_text(&q, ":allergens", d->allergens);
	if (d->price >= 0)
		bind_int(&q, ":price", d->price);
	if ((rc = stmt_run(&q, err)) == RC_OK && *out == CHANGE_ADDED)
		d->id = last_id(st);
	return rc;
}

#define CUT_COLUMNS                                                            \
	"SELECT c.id, d.code, d.name, d.allergens, d.state, c.species,"        \
	" c.kind, c.skin_on, c.bought, c.low_g, c.target_g, c.high_g,"         \
	" coalesce(c.yield_bp, 0), c.finish_bp, coalesce(d.price, -1),"        \
	" c.animals, c.animals_make, c.part, "

#define CUT_FROM " FROM cut c JOIN dish d ON d.id = c.dish_id "

static enum rc
read_cut(void *item, const struct stmt *q, struct err *err)
{
	struct plan_cut *c = item;
	char state[16], kind[24], bought[24];
	enum rc rc;

	memset(c, 0, sizeof(*c));
	c->id = col_int(q, 0);
	col_text(c->dish, sizeof(c->dish), q, 1);
	col_text(c->dish_name, sizeof(c->dish_name), q, 2);
	col_text(c->allergens, sizeof(c->allergens), q, 3);
	col_text(state, sizeof(state), q, 4);
	col_text(c->species, sizeof(c->species), q, 5);
	col_text(kind, sizeof(kind), q, 6);
	c->skin_on = col_int(q, 7) != 0;
	col_text(bought, sizeof(bought), q, 8);
	c->low_g = col_in(q, 9, 1, WEIGHT_MAX_G);
	c->target_g = col_in(q, 10, c->low_g, WEIGHT_MAX_G);
	c->high_g = col_in(q, 11, c->target_g, WEIGHT_MAX_G);
	c->house_yield_bp = (int)col_in(q, 12, 0, 10000);
	c->finish_bp = (int)col_in(q, 13, 1, 10000);
	c->price = col_int(q, 14);
	c->animals = (int)col_in(q, 15, 0, 1000);
	c->animals_make = (int)col_in(q, 16, 1, 1000);
	c->part = (int)col_int(q, 17);
	c->mix_bp = (int)col_in(q, 18, 0, 10000);
	if ((rc = food_state_parse(&c->state, state, err)) != RC_OK ||
	    (rc = cut_parse(&c->kind, kind, err)) != RC_OK)
		return rc;
	return presentation_parse(&c->bought, bought, err);
}

enum rc
cut_find(struct plan_cut *out, struct store *st, const char *dish,
    const char *species, struct err *err)
{
	struct stmt q;
	enum rc rc;

	rc = stmt_open(&q, st,
	    CUT_COLUMNS
	    "0" CUT_FROM
	    "WHERE d.code = :dish AND d.on_menu = 1 AND c.current = 1"
	    " AND c.species = :species",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_text(&q, ":dish", dish);
	bind_text(&q, ":species", species);
	rc = stmt_step(&q, err);
	if (rc == RC_OK)
		rc = read_cut(out, &q, err);
	stmt_close(&q);
	if (rc == RC_END)
		return err_set(err, RC_NOTFOUND, 0,
		    "the menu has no dish \"%.40s\" made of %s", dish, species);
	return rc;
}

static bool
same_cut(const struct plan_cut *a, const struct plan_cut *b)
{
	return a->kind == b->kind && a->skin_on == b->skin_on &&
	    a->bought == b->bought && a->low_g == b->low_g &&
	    a->target_g == b->target_g && a->high_g == b->high_g &&
	    a->house_yield_bp == b->house_yield_bp &&
	    a->finish_bp == b->finish_bp && a->animals == b->animals &&
	    a->animals_make == b->animals_make && a->part == b->part;
}

static enum rc
cut_insert(struct store *st, int64_t dish_id, const struct plan_cut *cut,
    struct err *err)
{
	struct stmt q;
	enum rc rc;

	rc = stmt_open(&q, st,
	    "INSERT INTO cut (dish_id, species, kind, skin_on, bought, low_g,"
	    " target_g, high_g, yield_bp, finish_bp, animals, animals_make,"
	    " part, current) VALUES (:dish, :species, :kind, :skin, :bought,"
	    " :low, :target, :high, :yield, :finish, :animals, :make, :part,"
	    " 1)",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":dish", dish_id);
	bind_text(&q, ":species", cut->species);
	bind_text(&q, ":kind", cut_word(cut->kind));
	bind_int(&q, ":skin", cut->skin_on);
	bind_text(&q, ":bought", presentation_word(cut->bought));
	bind_int(&q, ":low", cut->low_g);
	bind_int(&q, ":target", cut->target_g);
	bind_int(&q, ":high", cut->high_g);
	bind_id(&q, ":yield", cut->house_yield_bp);
	bind_int(&q, ":finish", cut->finish_bp);
	bind_int(&q, ":animals", cut->animals);
	bind_int(&q, ":make", cut->animals_make);
	bind_int(&q, ":part", cut->part);
	return stmt_run(&q, err);
}

enum rc
cut_put(enum change *out, struct store *st, int64_t dish_id,
    const struct plan_cut *cut, struct err *err)
{
	struct plan_cut old;
	struct stmt q;
	enum rc rc;

	rc = cut_find(&old, st, cut->dish, cut->species, NULL);
	if (rc == RC_OK && same_cut(&old, cut)) {
		*out = CHANGE_NONE;
		return RC_OK;
	}
	*out = rc == RC_OK ? CHANGE_CHANGED : CHANGE_ADDED;
	rc = stmt_open(&q, st,
	    "UPDATE cut SET current = 0"
	    " WHERE dish_id = :dish AND species = :species AND current = 1",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":dish", dish_id);
	bind_text(&q, ":species", cut->species);
	if ((rc = stmt_run(&q, err)) != RC_OK)
		return rc;
	return cut_insert(st, dish_id, cut, err);
}

enum rc
mix_put(enum change *out, struct store *st, int64_t dish_id,
    const char *service, int share_bp, struct err *err)
{
	struct stmt q;
	enum rc rc;

	rc = stmt_open(&q, st,
	    "INSERT INTO mix (dish_id, service, share_bp)"
	    " VALUES (:dish, :service, :share)"
	    " ON CONFLICT (dish_id, service) DO UPDATE SET share_bp = :share"
	    " WHERE share_bp <> :share",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":dish", dish_id);
	bind_text(&q, ":service", service);
	bind_int(&q, ":share", share_bp);
	if ((rc = stmt_run(&q, err)) == RC_OK)
		*out = rows_changed(st) > 0 ? CHANGE_CHANGED : CHANGE_NONE;
	return rc;
}

enum rc
mix_get(int *out, struct store *st, int64_t dish_id, const char *service,
    struct err *err)
{
	struct stmt q;
	enum rc rc;

	*out = 0;
	rc = stmt_open(&q, st,
	    "SELECT share_bp FROM mix WHERE dish_id = :dish"
	    " AND service = :service",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":dish", dish_id);
	bind_text(&q, ":service", service);
	if ((rc = stmt_step(&q, err)) == RC_OK)
		*out = (int)col_int(&q, 0);
	stmt_close(&q);
	return rc == RC_END ? RC_OK : rc;
}

enum rc
dish_cuts_open(
    struct menu_cuts *out, struct store *st, int64_t dish_id, struct err *err)
{
	struct stmt q;
	void *rows;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	rc = stmt_open(&q, st,
	    CUT_COLUMNS "0" CUT_FROM
			"WHERE c.dish_id = :dish AND c.current = 1 ORDER BY "
			"c.part, c.id" SORT_OK,
	    err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":dish", dish_id);
	rc = stmt_rows(
	    &rows, &out->count, sizeof(*out->items), &q, read_cut, err);
	out->items = rows;
	return rc;
}

enum rc
menu_cuts_open(struct menu_cuts *out, struct store *st, const char *service,
    struct err *err)
{
	struct stmt q;
	void *rows;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	rc = stmt_open(&q, st,
	    CUT_COLUMNS
	    "coalesce((SELECT m.share_bp FROM mix m"
	    "  WHERE m.dish_id = d.id AND m.service = :service), 0)" CUT_FROM
		SCAN_OK
	    "WHERE d.on_menu = 1 AND c.current = 1"
	    " ORDER BY d.code, c.part, c.id",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_text(&q, ":service", service);
	rc = stmt_rows(
	    &rows, &out->count, sizeof(*out->items), &q, read_cut, err);
	out->items = rows;
	return rc;
}

void
menu_cuts_fini(struct menu_cuts *l)
{
	free(l->items);
	memset(l, 0, sizeof(*l));
}
