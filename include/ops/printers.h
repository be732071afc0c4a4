/*
 * ops/printers.h - the printers of the settings, and those that are there.
 */
#ifndef OPS_PRINTERS_H
#define OPS_PRINTERS_H

#include "base/buf.h"
#include "base/err.h"
#include "base/format.h"
#include "ops/label.h"
#include "ops/station.h"

struct printer; /* print/printer.h */

/* printers_get - by name in the settings; NULL: main.  RC_OK, RC_INVALID. */
enum rc printers_get(struct printer *out, struct station *sn, const char *name,
    struct err *err) MUST_CHECK;

/* printers_list - append those of the settings and every device seen. */
enum rc printers_list(struct buf *out, struct station *sn, enum format format,
    struct err *err) MUST_CHECK;

/*
 * printers_status - ask a printer, or with NULL all of them, how it is now.
 * RC_OK all ready (or cannot be asked, which the text says); RC_INVALID;
 * RC_RETRY one is not ready, or labels are being printed right now.
 */
enum rc printers_status(struct buf *out, struct station *sn, const char *name,
    enum format format, struct err *err) MUST_CHECK;

/*
 * printers_test - queue the test label of a printer and work the queue, as
 * label_print(); of `order` only printer, by, only_queue and wait_ms count.
 */
enum rc printers_test(struct job_list *out, struct station *sn,
    const struct label_order *order, struct err *err) MUST_CHECK;

#endif /* OPS_PRINTERS_H */
