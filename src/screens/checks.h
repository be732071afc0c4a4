/*
 * checks.h - what the checks of Records keep while they ask.  Private to
 * src/screens.
 */
#ifndef SCREENS_CHECKS_H
#define SCREENS_CHECKS_H

#include "complaint.h"
#include "core/papers.h"
#include "ops/balance.h"
#include "ops/drill.h"

#define CHECK_WORDS_MAX 6

struct checks {
	struct complaint_read complaints;
	/* What may be asked, in words of the language of the station. */
	char words[CHECK_WORDS_MAX][80];
	char what[FIELD_SIZE]; /* a code, a document, a breakdown */
	char text[FIELD_SIZE]; /* typed last: a reason, a value */
	/* balance */
	struct mass_gaps gaps;  /* owned */
	char (*gap_words)[120]; /* owned */
	size_t gap;
	/* papers */
	char datum[24];
	/* drill */
	struct drill_list drills; /* owned */
	char (*drill_words)[120]; /* owned */
	int64_t drill;            /* shown last; 0: none */
};

void checks_fini(struct checks *c);

/* checks_pick - ask for one of `says`, at most CHECK_WORDS_MAX messages. */
void checks_pick(struct desk *d, struct checks *c, const char *title,
    const char *const *says, size_t count, desk_pick_fn *go);

#endif /* SCREENS_CHECKS_H */
