/*
 * ops/papers.h - is what was recorded of a delivery all that each law asks
 * for, and what to do about what is not?
 */
#ifndef OPS_PAPERS_H
#define OPS_PAPERS_H

#include "exchange/papers_out.h"
#include "ops/station.h"

#define PAPERS_BATCHES_MAX 100

/*
 * papers_load - of a batch (or a unit's batch) by code, of what came in on a
 * day, or of what came under a document.  With `all` every law, else those of
 * the rule set in force.  Records nothing.
 * RC_OK: the caller frees out->items; RC_NOTFOUND.
 */
enum rc papers_load(struct papers_report *out, struct station *sn,
    const char *what, bool all, struct err *err) MUST_CHECK;

/* papers - load and append. */
enum rc papers(struct buf *out, struct station *sn, const char *what, bool all,
    enum format format, struct err *err) MUST_CHECK;

/*
 * papers_say - record what the papers say, or the supplier answered: a datum by
 * its word (core/papers.h) and its value.  What was said before stays on
 * record; the newest counts.
 * RC_OK, RC_INVALID: no such datum, not a value of it, or one that goods in has
 * recorded, which is not changed here; RC_NOTFOUND.
 */
enum rc papers_say(struct station *sn, const char *code, const char *datum,
    const char *value, const char *by, struct err *err) MUST_CHECK;

/* papers_askable - is it one papers_say() takes? */
bool papers_askable(enum paper_datum d);

#endif /* OPS_PAPERS_H */
