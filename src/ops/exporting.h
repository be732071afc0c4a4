/*
 * exporting.h - an export while it is written.  Private to src/ops.
 */
#ifndef OPS_EXPORTING_H
#define OPS_EXPORTING_H

#include "base/buf.h"
#include "base/file.h"
#include "core/code.h"
#include "ops/export.h"

/* What of the record: some days, or one batch and all that was made of it. */
struct span {
	char batch[CODE_SIZE]; /* without hyphen; "" days */
	day_no from, to;       /* both counted in */
	char name[64];         /* in the file's name */
};

struct exporting {
	struct station *sn;
	const struct export_wish *wish;
	struct file_new file;
	struct buf part; /* not written yet */
	int64_t bytes;
};

typedef enum rc put_fn(struct exporting *x, struct err *err);

/* exporting_flush - write the part; exporting_goes_on - tell how far it is:
 * RC_REFUSED when it shall stop. */
enum rc exporting_flush(struct exporting *x, struct err *err) MUST_CHECK;
enum rc exporting_goes_on(struct exporting *x, int64_t done, int64_t total,
    struct err *err) MUST_CHECK;

/*
 * span_parse - "2026-11-25", "2026-11-01..2026-11-30", "all", or a code; NULL
 * is today.
 * RC_OK, RC_INVALID, RC_NOTFOUND no such code.
 */
enum rc span_parse(struct span *out, struct station *sn, const char *what,
    struct err *err) MUST_CHECK;

/* span_utc - the instants the day begins and ends at. */
void span_utc(int64_t out[2], day_no day);

/* What the record kinds write. */
enum rc put_receiving(struct exporting *x, struct err *err) MUST_CHECK;
enum rc put_chain(struct exporting *x, struct err *err) MUST_CHECK;
enum rc put_epcis(struct exporting *x, struct err *err) MUST_CHECK;

#endif /* OPS_EXPORTING_H */
