/* upgrade.h - a file of an older schema being opened, recorded. */
#ifndef UPGRADE_H
#define UPGRADE_H

#include "story.h"

/* upgrade_story - record it; the first state is the old file. */
bool upgrade_story(struct story *s);

/* upgrade_copy_wrong - NULL, or what is wrong with the copy beside a file whose
 * state is `is`, in an image written to `folder`. */
const char *upgrade_copy_wrong(const struct story *s, const struct left *l,
    const char *folder, const struct state *is);

#endif /* UPGRADE_H */
