/*
 * exchange/sales_in.h - what was sold, from a CSV file.
 *
 * One line for a dish of a service.  The file is read whole before anything is
 * recorded; errors carry file, line and column.
 */
#ifndef EXCHANGE_SALES_IN_H
#define EXCHANGE_SALES_IN_H

#include <stddef.h>
#include <stdint.h>

#include "base/day.h"
#include "base/err.h"
#include "exchange/records_in.h"
#include "store/sales.h"

/* Nobody serves more in one sitting: covers, or portions of one dish. */
#define SALES_MAX 5000

/* Dishes of one service. */
#define SALES_DISHES_MAX 64

/* A service the file speaks of. */
struct sales_service {
	day_no day;
	int service;              /* index into service_names */
	int line;                 /* where it stands first */
	int64_t seated, walk_ins; /* both -1: the file does not say */
	int first, last;          /* its rows, joined by `next` */
	int count;
};

struct sales_row {
	int64_t dish_id, sold, ran_out_at; /* as struct sale */
	int line;
	int next; /* row of the same service; -1: no more */
};

struct sales_file {
	struct sales_service *services; /* owned; in the file's order */
	size_t service_count;
	struct sales_row *rows; /* owned; in the file's order */
	size_t row_count;
};

/*
 * ran_out_parse - "" (it did not run out), "out" (nobody noted when), or the
 * covers seated by then.  RC_OK, RC_INVALID.
 */
enum rc ran_out_parse(
    int64_t *out, const char *text, struct err *err) MUST_CHECK;

/*
 * sales_parse - columns date, service, dish, sold; optional ran_out_at, and
 * seated (booked guests who came) with walk_ins, which speak of the whole
 * service: on one of its lines or more, and always the same.
 * RC_OK; RC_INVALID also for a dish that is not in `dishes` and for a dish
 * twice in a service, or more than SALES_DISHES_MAX of them.  The caller frees
 * with sales_fini().
 */
enum rc sales_parse(struct sales_file *out, const char *name, const char *data,
    size_t len, const struct service_names *services,
    const struct dish_sold_list *dishes, struct err *err) MUST_CHECK;
void sales_fini(struct sales_file *f);

#endif /* EXCHANGE_SALES_IN_H */
