/*
 * store/papers.h - what the papers of a batch say beyond what goods in asks.
 */
#ifndef STORE_PAPERS_H
#define STORE_PAPERS_H

#include <stddef.h>
#include <stdint.h>

#include "base/day.h"
#include "base/err.h"
#include "core/code.h"
#include "store/moment.h"

struct store;

#define PAPER_VALUE_SIZE 200

struct paper_said {
	char datum[24]; /* word of core/papers.h */
	char value[PAPER_VALUE_SIZE];
	struct moment at;
};

struct paper_said_list {
	struct paper_said *items; /* owned: free() */
	size_t count;
};

/* paper_list_open - the newest word on each datum of a batch. */
enum rc paper_list_open(struct paper_said_list *out, struct store *st,
    int64_t batch_id, struct err *err) MUST_CHECK;

/* paper_say - needs an open transaction. */
enum rc paper_say(struct store *st, int64_t batch_id,
    const struct paper_said *said, struct err *err) MUST_CHECK;

/* paper_batches - codes of the batches that came under a document, newest
 * delivery first, at most `most`. */
struct paper_codes {
	char (*items)[CODE_SIZE]; /* owned: free() */
	size_t count;
};
enum rc paper_batches(struct paper_codes *out, struct store *st,
    const char *document, size_t most, struct err *err) MUST_CHECK;

#endif /* STORE_PAPERS_H */
