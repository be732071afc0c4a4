/*
 * ops/lesson.h - a training station of its own for a new cook's first lesson.
 *
 * An invented kitchen with one supplier, one dish and a dinner tonight, made
 * anew each time in a folder of its own.  It has nothing to do with the
 * station's record, prints pictures into its folder instead of labels, and its
 * clock stands at nine in the morning.
 */
#ifndef OPS_LESSON_H
#define OPS_LESSON_H

#include "base/err.h"
#include "ops/station.h"

struct lesson_place {
	char config[CONFIG_PATH_SIZE], db[CONFIG_PATH_SIZE];
	char now[48];
};

/*
 * lesson_make - make it in `folder` (NULL: beside the user's own files), with
 * the tables, rule set and zone of `sn`, which needs no file.  What an earlier
 * lesson left there is replaced.
 * RC_OK, RC_INVALID (path too long), RC_FAILED.
 */
enum rc lesson_make(struct lesson_place *out, const struct station *sn,
    const char *folder, struct err *err) MUST_CHECK;

#endif /* OPS_LESSON_H */
