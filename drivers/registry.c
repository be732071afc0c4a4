/* registry.c - all printer languages, ways in and scales. */
#include "drivers.h"

#include <string.h>
#include <strings.h>

#include "base/str.h"

const struct lang *const langs[] = {
	&lang_zpl,
	&lang_tspl,
	&lang_epl2,
	&lang_epl2_lf,
	&lang_escpos,
	&lang_pwg,
	&lang_png,
	NULL,
};

const struct transport *const transports[] = {
	&transport_file,
	&transport_preview,
	&transport_usb,
	NULL,
};

const struct scale_driver *const scale_drivers[] = {
	&scale_usb,
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

bool
lang_spoken(const struct lang *lang, const char *command_sets)
{
	const char *set = command_sets, *name;
	size_t n;

	if (lang->command_sets == NULL)
		return false;
	for (; *set != '\0'; set += strcspn(set, ","), set += *set == ',')
		for (name = lang->command_sets; *name != '\0';
		     name += n, name += strspn(name, " ")) {
			n = strcspn(name, " ");
			set += strspn(set, " ");
			if (strncasecmp(set, name, n) == 0)
				return true;
		}
	return false;
}

/* The entry of a configured address such as "usb:any" behind the colon. */
static bool
has_scheme(const char **address, const char *configured, const char *scheme)
{
	size_t n = strlen(scheme);

	if (strncmp(configured, scheme, n) != 0 || configured[n] != ':')
		return false;
	*address = configured + n + 1;
	return true;
}

const struct transport *
transport_find(const char **address, const char *configured)
{
	size_t i;

	for (i = 0; transports[i] != NULL; i++)
		if (has_scheme(address, configured, transports[i]->scheme))
			return transports[i];
	return NULL;
}

const struct scale_driver *
scale_find(const char **address, const char *configured)
{
	size_t i;

	for (i = 0; scale_drivers[i] != NULL; i++)
		if (has_scheme(address, configured, scale_drivers[i]->scheme))
			return scale_drivers[i];
	return NULL;
}

const char *
printer_state_words(char *dst, size_t size, unsigned state)
{
	static const struct {
		unsigned bit;
		const char *words;
	} table[] = {
#define STATE_ROW(name, bit, words) { 1U << (bit), words },
		PRINTER_STATE_LIST(STATE_ROW)
#undef STATE_ROW
	};
	size_t i, n = 0;
	bool fits = true;

	dst[0] = '\0';
	for (i = 0; i < sizeof(table) / sizeof(table[0]) && fits; i++)
		if ((state & table[i].bit) != 0) {
			fits = str_fmt(dst + n, size - n, "%s%s",
			    n > 0 ? ", " : "", table[i].words);
			n += strlen(dst + n);
		}
	if (n == 0)
		str_copy(dst, size, "ready");
	return dst;
}

const char *
scale_state_words(enum scale_state s)
{
	static const char *const words[SCALE_STATE_COUNT] = {
#define SCALE_WORDS(name, usage, words) [SCALE_##name] = words,
		SCALE_STATE_LIST(SCALE_WORDS)
#undef SCALE_WORDS
	};

	return words[s];
}
