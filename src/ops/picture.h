/*
 * picture.h - what a label is about, whether it may be printed, and the label
 * itself.  Private to src/ops.
 */
#ifndef OPS_PICTURE_H
#define OPS_PICTURE_H

#include "base/bitmap.h"
#include "base/err.h"
#include "core/code.h"
#include "ops/station.h"
#include "print/facts.h"
#include "print/printer.h"
#include "store/batches.h"
#include "store/jobs.h"
#include "store/portions.h"

/* What a label is about, read from the store. */
struct about {
	enum code_kind kind;
	char code[CODE_SIZE];
	struct batch batch;
	struct portion portion; /* when kind is CODE_PORTION */
	struct subject subject;
};

/* about_find - by code as keyed or scanned.  RC_OK, RC_INVALID, RC_NOTFOUND. */
enum rc about_find(struct about *out, struct station *sn, const char *code,
    struct err *err) MUST_CHECK;

/* about_says - what its label says of the food, when it is not on hold. */
enum job_says about_says(const struct about *a);

/*
 * about_may_print - docs/rules.md R-L1, R-L4: may it get this label now?
 * RC_OK, RC_REFUSED with the reason.
 */
enum rc about_may_print(const struct about *a, enum job_says says,
    int64_t now_utc, struct err *err) MUST_CHECK;

/*
 * about_draw - the label's picture for a printer; *out is owned by the caller.
 * RC_OK, RC_INVALID (it cannot be drawn), or an error of the file or fonts.
 */
enum rc about_draw(struct bitmap **out, struct station *sn,
    const struct about *a, enum job_says says, int copy,
    const struct printer *p, struct err *err) MUST_CHECK;

/* about_name - a name for its file: "portion-001-H7C-reprint-2". */
void about_name(char *dst, size_t size, const struct about *a,
    enum job_says says, int copy);

/* ticket_picture - a page of a list, or a test label.  RC_OK, RC_INVALID. */
enum rc ticket_picture(struct bitmap **out, struct station *sn,
    const struct print_job *job, const struct printer *p,
    struct err *err) MUST_CHECK;

/* test_picture - the test label of a printer.  RC_OK, RC_INVALID. */
enum rc test_picture(struct bitmap **out, struct station *sn,
    const struct printer *p, struct err *err) MUST_CHECK;

/* picture_address - a printer's names on a job, and its picture's digest. */
enum rc picture_address(struct print_job *job, const struct printer *p,
    const struct bitmap *picture, struct err *err) MUST_CHECK;

/* picture_house - what the settings say about every label. */
struct label_house picture_house(const struct station *sn);

/* picture_fonts - open the fonts unless they are. */
enum rc picture_fonts(struct station *sn, struct err *err) MUST_CHECK;

#endif /* OPS_PICTURE_H */
