/*
 * base/ini.h - the items of an ini file, as plain data.
 *
 * config/ini.h reads a file into it; whoever understands the items parses them
 * strictly.  Section and key are lower case, as ini files ignore case.
 */
#ifndef BASE_INI_H
#define BASE_INI_H

#include <stddef.h>

struct ini_item {
	char section[64];
	char key[64];
	char value[400]; /* UTF-8, blanks and quotes around it taken off */
};

struct ini_doc {
	char path[512];         /* for messages */
	struct ini_item *items; /* in the order of the file; owned */
	size_t count;
};

/* ini_fini - free the items. */
void ini_fini(struct ini_doc *doc);

/* ini_get - value of a key, or NULL. */
const char *ini_get(
    const struct ini_doc *doc, const char *section, const char *key);

#endif /* BASE_INI_H */
