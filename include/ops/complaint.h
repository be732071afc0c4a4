/*
 * ops/complaint.h - what a guest said was wrong, with the chain as it was at
 * that moment.
 *
 * A complaint is kept as it was taken; what is found out later is a note.  It
 * names no guest: a table is enough to find the plate, and what else may be
 * kept of a person is for local data protection law.
 */
#ifndef OPS_COMPLAINT_H
#define OPS_COMPLAINT_H

#include "base/buf.h"
#include "base/format.h"
#include "ops/station.h"
#include "store/complaints.h"

#define COMPLAINTS_SHOWN_MAX 200
#define COMPLAINT_HELD_MAX 16

struct complaint_in {
	const char *code; /* as keyed or scanned; NULL: dish and service */
	const char *dish, *service; /* service "DATE/NAME" */
	const char *what;
	const char *place; /* a table; may be NULL */
	const char *at;    /* "HH:MM" it was served; may be NULL */
	bool hold;
	const char *by;
};

struct complaint_taken {
	struct complaint complaint;
	/* Put on hold with it, or held before. */
	char held[COMPLAINT_HELD_MAX][CODE_SIZE];
	size_t held_count;
	bool time_wrong; /* what was refused is `at` */
};

/*
 * complaint_add - record it with the chain of the code back and forward, or
 * with the batches a plate of that dish may have come from.  With `hold` the
 * batch is blocked in the same transaction; of a dish every batch that is
 * certain when all that was sold was scanned out, else every one it may have
 * been: in doubt nothing of it goes out.
 * RC_OK, RC_INVALID, RC_NOTFOUND, RC_REFUSED: more batches than can be held
 * at once.
 */
enum rc complaint_add(struct complaint_taken *out, struct station *sn,
    const struct complaint_in *in, struct err *err) MUST_CHECK;

/* complaint_note - add what was found out, or (`close`) how it ended.
 * RC_OK, RC_INVALID, RC_NOTFOUND, RC_REFUSED: it is closed. */
enum rc complaint_note(struct station *sn, int64_t id, const char *text,
    bool close, const char *by, struct err *err) MUST_CHECK;

/* complaint_rows - newest first; freed by the caller. */
enum rc complaint_rows(struct complaint_list *out, struct station *sn,
    bool open, struct err *err) MUST_CHECK;

/* complaint_list - append them. */
enum rc complaint_list(struct buf *out, struct station *sn, bool open,
    enum format format, struct err *err) MUST_CHECK;

/*
 * complaint_show - append one with its notes, the frozen chain, whether that is
 * still as it was kept (by its digest), and what has changed in the chain
 * since.  JSON has both chains whole.  RC_OK, RC_NOTFOUND.
 */
enum rc complaint_show(struct buf *out, struct station *sn, int64_t id,
    enum format format, struct err *err) MUST_CHECK;

#endif /* OPS_COMPLAINT_H */
