/*
 * store/sales.h - what came and what was sold, and what the chef typed.
 * Changes need an open transaction (store_begin).
 */
#ifndef STORE_SALES_H
#define STORE_SALES_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "base/day.h"
#include "base/err.h"
#include "core/parties.h"
#include "core/useby.h"
#include "store/moment.h"

struct store;

/* --- closed services ------------------------------------------------------ */

struct closing {
	int64_t service_id;
	int64_t booked;   /* covers, when it was closed */
	int64_t seated;   /* of those; at most booked */
	int64_t walk_ins; /* covers beyond them */
	struct moment at;
};

/* closing_get - RC_OK, RC_NOTFOUND when it is not closed. */
enum rc closing_get(struct closing *out, struct store *st, int64_t service_id,
    struct err *err) MUST_CHECK;
/*
 * closing_add - the first time.  closing_correct - afterwards, by the audit
 * row written last; the file refuses a change without one.
 */
enum rc closing_add(
    struct store *st, const struct closing *c, struct err *err) MUST_CHECK;
enum rc closing_correct(
    struct store *st, const struct closing *c, struct err *err) MUST_CHECK;

#define SOLD_ON (-1)           /* it did not run out */
#define RAN_OUT_SOME_TIME (-2) /* it did, nobody noted when */

struct sale {
	int64_t service_id, dish_id;
	char dish[32]; /* code */
	int64_t sold;  /* portions */
	/* Covers seated by then, SOLD_ON or RAN_OUT_SOME_TIME. */
	int64_t ran_out_at;
};

struct sale_list {
	struct sale *items; /* owned */
	size_t count;
};

/* sale_list_open - what was sold in a service, by dish code. */
enum rc sale_list_open(struct sale_list *out, struct store *st,
    int64_t service_id, struct err *err) MUST_CHECK;
/* sale_list_used - portions scanned out for it, as if they were sold; a dish of
 * several parts counts the one used most. */
enum rc sale_list_used(struct sale_list *out, struct store *st,
    int64_t service_id, struct err *err) MUST_CHECK;
void sale_list_fini(struct sale_list *l);

/* sale_add, sale_correct - as closing_add and closing_correct. */
enum rc sale_add(
    struct store *st, const struct sale *s, struct err *err) MUST_CHECK;
enum rc sale_correct(
    struct store *st, const struct sale *s, struct err *err) MUST_CHECK;

/* --- the record to learn from --------------------------------------------- */

#define RECORD_SERVICES_MAX 400 /* services */
#define RECORD_DAYS 800         /* none older than that before the newest */
#define RECORD_NEWEST_MAX 16

struct past_service {
	int64_t id;
	day_no day;
	char name[24];
	int64_t booked, seated, walk_ins;
	struct parties parties; /* count 0: nobody said */
	size_t first, count;    /* its sales; by dish_id */
};

struct sales_record {
	struct past_service *items; /* owned; newest day first */
	size_t count;
	struct sale *sales; /* owned; `dish` is empty */
	size_t sale_count;
};

/*
 * sales_record_open - closed services of the days `from` to `last`, the newest
 * RECORD_SERVICES_MAX of them, so that ten years of record cost no more than
 * one.
 */
enum rc sales_record_open(struct sales_record *out, struct store *st,
    day_no from, day_no last, struct err *err) MUST_CHECK;
/* sales_record_newest - the newest RECORD_NEWEST_MAX up to `last`, without
 * their sales: those of the last day at least. */
enum rc sales_record_newest(struct sales_record *out, struct store *st,
    day_no last, struct err *err) MUST_CHECK;
void sales_record_fini(struct sales_record *h);

/* --- dishes, and what the chef typed ---------------------------------------*/

/* A dish as the forecast sees it, on the menu or not. */
struct dish_sold {
	int64_t id;
	char code[32];
	char name[64];
	enum food_state state;
	int64_t price; /* smallest coin; -1: not said */
	int share_bp;  /* of the service's covers, as the menu says; 0: none */
	bool on_menu;
	char species[64]; /* of its present cuts, "COD,HAD"; may be empty */
};

struct dish_sold_list {
	struct dish_sold *items; /* owned; by code */
	size_t count;
};

/* dish_sold_list_open - every dish ever on the menu, with the share of the
 * service named. */
enum rc dish_sold_list_open(struct dish_sold_list *out, struct store *st,
    const char *service, struct err *err) MUST_CHECK;
void dish_sold_list_fini(struct dish_sold_list *l);

/* dish_sold_find - by code, or NULL. */
const struct dish_sold *dish_sold_find(
    const struct dish_sold_list *l, const char *code);

/* Portions the chef typed for a dish of a service; -1: nothing. */
struct typed {
	int64_t service_id, dish_id;
	int64_t floor, ceiling, fixed;
};

struct typed_list {
	struct typed *items; /* owned */
	size_t count;
};

enum rc typed_list_open(struct typed_list *out, struct store *st,
    int64_t service_id, struct err *err) MUST_CHECK;
void typed_list_fini(struct typed_list *l);

/* typed_put - replaces the dish's; all three -1 takes it out.  The caller has
 * checked that they agree. */
enum rc typed_put(
    struct store *st, const struct typed *t, struct err *err) MUST_CHECK;

/* expected_put - covers the chef expects, -1 for none. */
enum rc expected_put(struct store *st, int64_t service_id, int64_t covers,
    struct err *err) MUST_CHECK;

#endif /* STORE_SALES_H */
