/*
 * store/tickets.h - lists that came out of a printer, as they were printed.
 */
#ifndef STORE_TICKETS_H
#define STORE_TICKETS_H

#include <stdint.h>

#include "base/err.h"
#include "store/moment.h"

struct store;

enum ticket_kind {
	TICKET_PREP,
	TICKET_ORDER,
	TICKET_RECALL,
	TICKET_DAY,
	TICKET_TEST, /* and those behind it: not asked for by name */
	TICKET_DRILL,
	TICKET_REPORT,
	TICKET_KIND_COUNT
};

const char *ticket_kind_word(enum ticket_kind k); /* "prep" */

struct ticket_record {
	int64_t id; /* filled when inserted */
	enum ticket_kind kind;
	char *title, *body; /* owned by the row when read */
	struct moment at;
};

/* ticket_insert - needs an open transaction; sets r->id. */
enum rc ticket_insert(
    struct store *st, struct ticket_record *r, struct err *err) MUST_CHECK;

/* ticket_get - RC_OK, RC_NOTFOUND; the caller frees with ticket_record_fini().
 */
enum rc ticket_get(struct ticket_record *out, struct store *st, int64_t id,
    struct err *err) MUST_CHECK;
void ticket_record_fini(struct ticket_record *r);

#endif /* STORE_TICKETS_H */
