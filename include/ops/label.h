/*
 * ops/label.h - labels of batches and portions: preview, print, reprint.
 */
#ifndef OPS_LABEL_H
#define OPS_LABEL_H

#include <stdbool.h>

#include "base/buf.h"
#include "base/err.h"
#include "ops/station.h"
#include "store/jobs.h"

/*
 * label_preview - the label of a code as bytes of a language ("png", "zpl"):
 * exactly what a printer would be sent for a first print.  Records nothing.
 * `size` is "60x40" or "50x25", `dpi` 203 or 300; NULL and 0 take the
 * settings'.
 * RC_OK, RC_INVALID, RC_NOTFOUND.
 */
struct label_wish {
	const char *code;
	const char *language;
	const char *size;
	int dpi;
};
enum rc label_preview(struct buf *out, struct station *sn,
    const struct label_wish *wish, struct err *err) MUST_CHECK;

/*
 * label_print - print the label of a code for the first time, or with
 * `again` once more with a visible mark and count.
 * RC_OK        sent; *out tells which copy
 * RC_INVALID, RC_NOTFOUND
 * RC_REFUSED   the clock, a refused batch, an expired or used-up portion, a
 *              second first print, a reprint of what was never printed
 * RC_RETRY     printer not ready, nothing printed
 * RC_FAILED    nothing printed, or unsure: err says which
 */
enum rc label_print(struct print_job *out, struct station *sn, const char *code,
    bool again, const char *by, struct err *err) MUST_CHECK;

/*
 * label_check - do the settings for labels work: language, address, fonts?
 * Prints nothing.  RC_OK, RC_INVALID, RC_FAILED.
 */
enum rc label_check(struct station *sn, struct err *err) MUST_CHECK;

#endif /* OPS_LABEL_H */
