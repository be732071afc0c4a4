/* registry.c - all printer languages and transports. */
#include "drivers.h"

#include <string.h>

#include "base/str.h"

const struct lang *const langs[] = {
	&lang_zpl,
	&lang_png,
	NULL,
};

const struct transport *const transports[] = {
	&transport_file,
	&transport_preview,
	NULL,
};

const struct lang *
lang_find(const char *name)
{
	size_t i;

	for (i = 0; langs[i] != NULL; i++)
		if (str_eq(langs[i]->name, name))
			return langs[i];
	return NULL;
}

const struct transport *
transport_find(const char **address, const char *configured)
{
	const char *colon = strchr(configured, ':');
	size_t i, n;

	if (colon == NULL)
		return NULL;
	n = (size_t)(colon - configured);
	for (i = 0; transports[i] != NULL; i++)
		if (strlen(transports[i]->scheme) == n &&
		    memcmp(transports[i]->scheme, configured, n) == 0) {
			*address = colon + 1;
			return transports[i];
		}
	return NULL;
}
