/*
 * ops/label.h - labels of batches and portions: preview, print, reprint.
 *
 * Asking for a label and sending it are apart: it is queued first, then the
 * queue is worked (ops/queue.h).
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

enum label_want {
	LABEL_FIRST,   /* once only */
	LABEL_AGAIN,   /* with a visible mark and count */
	LABEL_ON_HOLD, /* "do not use", for what is on hold; as often as asked,
			  each further one marked */
};

struct label_order {
	const char *const *codes; /* as keyed or scanned */
	size_t count;
	enum label_want want;
	const char *printer; /* name in the settings; NULL: main */
	const char *by;
	bool only_queue; /* do not work the queue now */
	int wait_ms;     /* else: until they are settled, at most so long */
};

/*
 * label_print - queue these labels in one transaction, then work the queue
 * until they are settled or the time is over.  What is queued already is not
 * queued again: that job is worked on.
 * *out has a job for each code, as far as it got; the caller frees it with
 * job_list_fini() whatever is returned.  It is empty when nothing was queued.
 * RC_OK        sent or confirmed (or queued, when that was asked)
 * RC_INVALID, RC_NOTFOUND  nothing was queued
 * RC_REFUSED   nothing was queued: the clock, a refused batch, an expired or
 *              used-up portion, a second first print, a reprint of what was
 *              never printed; or one was cancelled before it was sent
 * RC_RETRY     a printer is not ready: at least one label is still queued
 * RC_FAILED    at least one failed, or is unsure: err says which
 */
enum rc label_print(struct job_list *out, struct station *sn,
    const struct label_order *order, struct err *err) MUST_CHECK;

/*
 * label_due - what a person who wants a label of this needs: a hold label of
 * what is on hold, a reprint when one that says the same may be out already
 * (*copy: which reprint it will be), else the first.  Records nothing.
 * RC_OK, RC_INVALID, RC_NOTFOUND; RC_REFUSED: it gets none now, or one is
 * queued already.
 */
enum rc label_due(enum label_want *out, int *copy, struct station *sn,
    const char *code, struct err *err) MUST_CHECK;

/*
 * label_again - queue a job once more as a reprint with its count, inside the
 * caller's transaction.  RC_OK, RC_INVALID.
 */
enum rc label_again(struct print_job *out, struct station *sn,
    const struct print_job *old, const struct moment *at,
    struct err *err) MUST_CHECK;

/*
 * label_check - do the settings for labels work: every printer's language and
 * address, and the fonts?  Prints nothing.  RC_OK, RC_INVALID, RC_FAILED.
 */
enum rc label_check(struct station *sn, struct err *err) MUST_CHECK;

#endif /* OPS_LABEL_H */
