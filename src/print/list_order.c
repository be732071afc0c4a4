/* list_order.c - the order list on paper. */
#include "print/lists.h"

#include <inttypes.h>

#include "base/str.h"
#include "list_words.h"

static void
put_supplier(struct ticket *t, const char *code,
    const struct supplier *suppliers, size_t count)
{
	size_t i;

	if (code[0] == '\0') {
		ticket_add(t, TICKET_HEAD, "No supplier known", NULL);
		return;
	}
	for (i = 0; i < count; i++)
		if (str_eq_nocase(suppliers[i].code, code))
			break;
	ticket_add(t, TICKET_HEAD, i < count ? suppliers[i].name : code, NULL);
	if (i < count && suppliers[i].contact[0] != '\0')
		ticket_add(t, TICKET_SMALL, suppliers[i].contact, NULL);
}

static void
put_order(
    struct ticket *t, const struct plan_report *r, const struct plan_order *o)
{
	char weight[32], grade[80] = "", g[32], day[32];
	struct buf why;

	ticket_printf(t, TICKET_TICK,
	    weight_print(weight, sizeof(weight), o->order_g), "%s, %s",
	    list_species(r->species, o->species), presentation_word(o->bought));
	if (o->fish > 0)
		str_fmt(grade, sizeof(grade), "%" PRId64 " fish of about %s, ",
		    o->fish, weight_print(g, sizeof(g), o->fish_g));
	else if (o->at_least > 0)
		str_fmt(grade, sizeof(grade), "at least %" PRId64 " of them, ",
		    o->at_least);
	ticket_printf(t, TICKET_SMALL, NULL,
	    "%s%" PRId64 " portion%s for %s %s", grade, o->portions,
	    PLURAL(o->portions), r->service,
	    list_day_short(day, sizeof(day), r->day));
	if (!r->why)
		return;
	buf_init(&why, PARAGRAPH_MAX);
	plan_order_why(&why, o);
	list_paragraph(t, TICKET_SMALL, &why);
}

/* All orders of one supplier, where the first of them stands. */
static void
put_orders(struct ticket *t, const struct plan_report *r,
    const struct supplier *suppliers, size_t count)
{
	const struct plan_order *orders = r->plan.orders;
	size_t n = r->plan.order_count, i, j;

	for (i = 0; i < n; i++) {
		for (j = 0; j < i; j++)
			if (str_eq(orders[j].supplier, orders[i].supplier))
				break;
		if (j < i)
			continue;
		put_supplier(t, orders[i].supplier, suppliers, count);
		for (j = i; j < n; j++)
			if (str_eq(orders[j].supplier, orders[i].supplier))
				put_order(t, r, &orders[j]);
	}
}

void
list_order(struct ticket *t, const struct plan_report *r,
    const struct supplier *suppliers, size_t count)
{
	const struct plan_line *line;
	bool any = false;
	char n[64];
	size_t i;

	list_plan_head(t, r, "Order");
	put_orders(t, r, suppliers, count);
	for (i = 0; i < r->plan.count; i++) {
		line = &r->plan.lines[i];
		if (line->short_of == 0 || line->order_known)
			continue;
		if (!any)
			ticket_add(
			    t, TICKET_HEAD, "By hand, no yield is known", NULL);
		any = true;
		str_fmt(n, sizeof(n), "%" PRId64 " x %" PRId64 " g",
		    line->short_of, line->cut.target_g);
		ticket_add(t, TICKET_TICK, line->cut.dish_name, n);
		ticket_add(t, TICKET_SMALL,
		    list_species(r->species, line->cut.species), NULL);
	}
	if (r->plan.order_count == 0)
		ticket_add(t, TICKET_LINE,
		    "nothing to order that a yield is known for", NULL);
	ticket_add(t, TICKET_RULE, NULL, NULL);
	ticket_add(t, TICKET_SMALL, PLAN_CAUTION, NULL);
}
