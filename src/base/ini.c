/* ini.c - the items of an ini file, as plain data. */
#include "base/ini.h"

#include <stdlib.h>
#include <string.h>

#include "base/str.h"

void
ini_fini(struct ini_doc *doc)
{
	free(doc->items);
	memset(doc, 0, sizeof(*doc));
}

const char *
ini_get(const struct ini_doc *doc, const char *section, const char *key)
{
	size_t i;

	for (i = 0; i < doc->count; i++)
		if (str_eq(doc->items[i].section, section) &&
		    str_eq(doc->items[i].key, key))
			return doc->items[i].value;
	return NULL;
}
