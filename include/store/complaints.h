/*
 * store/complaints.h - what guests said was wrong, and drills that were held.
 * Rows are only added.  Changes need an open transaction (store_begin).
 */
#ifndef STORE_COMPLAINTS_H
#define STORE_COMPLAINTS_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "base/digest.h"
#include "base/err.h"
#include "base/units.h"
#include "core/code.h"
#include "store/moment.h"

struct store;

#define COMPLAINT_WHAT_SIZE 400
#define COMPLAINT_PLACE_SIZE 48

struct complaint {
	int64_t id;
	char code[CODE_SIZE]; /* without hyphen; empty: dish and service */
	char dish[32], service[48];
	char what[COMPLAINT_WHAT_SIZE];
	char place[COMPLAINT_PLACE_SIZE]; /* a table; may be empty */
	int64_t served_utc;               /* 0: nobody knows */
	char digest[DIGEST_HEX_MAX];      /* of the frozen trace */
	struct moment at;

	/* Filled when read. */
	int64_t notes;
	bool closed;
	char outcome[COMPLAINT_WHAT_SIZE];
};

/* complaint_insert - sets c->id; `trace` is kept as it is. */
enum rc complaint_insert(struct store *st, struct complaint *c,
    const char *trace, struct err *err) MUST_CHECK;

/* complaint_get - RC_OK, RC_NOTFOUND. */
enum rc complaint_get(struct complaint *out, struct store *st, int64_t id,
    struct err *err) MUST_CHECK;
/* complaint_trace - the frozen trace, owned. */
enum rc complaint_trace(
    char **out, struct store *st, int64_t id, struct err *err) MUST_CHECK;

struct complaint_list {
	struct complaint *items; /* owned: free() */
	size_t count;
};

/* complaint_list_open - newest first, at most `most`; with `open` those that
 * are not closed. */
enum rc complaint_list_open(struct complaint_list *out, struct store *st,
    bool open, size_t most, struct err *err) MUST_CHECK;

/* complaint_count_open - how many are not closed; a few hundred rows are read
 * after ten years. */
enum rc complaint_count_open(
    int64_t *out, struct store *st, struct err *err) MUST_CHECK;

struct complaint_note {
	bool closes;
	char text[COMPLAINT_WHAT_SIZE];
	struct moment at;
};

struct complaint_notes {
	struct complaint_note *items; /* owned: free() */
	size_t count;
};

enum rc complaint_note_insert(struct store *st, int64_t id,
    const struct complaint_note *n, struct err *err) MUST_CHECK;
/* complaint_notes_open - oldest first. */
enum rc complaint_notes_open(struct complaint_notes *out, struct store *st,
    int64_t id, struct err *err) MUST_CHECK;

/* --- drills ----------------------------------------------------------------*/

struct drill {
	int64_t id;
	char batch[CODE_SIZE];
	bool has_seed;
	int64_t seed;
	int64_t took_us;
	int64_t units, back;
	grams received_g, gap_g;
	struct moment at;
};

struct drill_list {
	struct drill *items; /* owned: free() */
	size_t count;
};

enum rc drill_insert(struct store *st, struct drill *d, const char *report,
    struct err *err) MUST_CHECK;
/* drill_list_open - newest first. */
enum rc drill_list_open(struct drill_list *out, struct store *st, size_t most,
    struct err *err) MUST_CHECK;
/* drill_report_get - the report as JSON, owned.  RC_OK, RC_NOTFOUND. */
enum rc drill_report_get(
    char **out, struct store *st, int64_t id, struct err *err) MUST_CHECK;

/*
 * drill_batch - a batch for a drill, `back` batches before the newest, counted
 * by their numbers: that one, or the next older that was taken in and not
 * struck out, or else the oldest.  RC_OK, RC_NOTFOUND: there is none.
 * drill_newest - the number of the newest batch, 0 when there is none.
 */
enum rc drill_newest(
    int64_t *out, struct store *st, struct err *err) MUST_CHECK;
enum rc drill_batch(char code[CODE_SIZE], struct store *st, int64_t id,
    struct err *err) MUST_CHECK;

#endif /* STORE_COMPLAINTS_H */
