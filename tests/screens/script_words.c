/* script_words.c - a line of a script, its names replaced, cut into words. */
#include "script.h"

#include <stdbool.h>
#include <stddef.h>
#include <ctype.h>
#include <string.h>

/* The words of a line, with "..." kept together; `text` is cut up. */
int
script_split(char **words, char *text)
{
	int n = 0;
	char *to;

	while (*(text += strspn(text, " ")) != '\0' && n < SCRIPT_WORDS_MAX) {
		words[n++] = to = text;
		for (; *text != '\0' && *text != ' '; text++)
			if (*text == '"')
				for (text++; *text != '"' && *text != '\0';
				     text++)
					*to++ = *text;
			else
				*to++ = *text;
		if (*text != '\0')
			text++;
		*to = '\0';
	}
	words[n] = NULL;
	return n;
}

void
script_replace(
    char *dst, size_t size, const struct script_names *names, const char *line)
{
	size_t n = 0, i, len, best;

	while (*line != '\0' && n + 1 < size) {
		best = SCRIPT_NAMES_MAX;
		for (i = 0; *line == '$' && i < names->count; i++) {
			len = strlen(names->items[i].name);
			if (strncmp(line + 1, names->items[i].name, len) == 0 &&
			    (best == SCRIPT_NAMES_MAX ||
				len > strlen(names->items[best].name)))
				best = i;
		}
		if (best == SCRIPT_NAMES_MAX) {
			dst[n++] = *line++;
			continue;
		}
		line += 1 + strlen(names->items[best].name);
		for (i = 0; names->items[best].value[i] != '\0' && n + 1 < size;
		     i++)
			dst[n++] = names->items[best].value[i];
	}
	dst[n] = '\0';
}

/* The code at the foot of a day sheet is another one in every file. */
void
script_mask(char *text)
{
	static const char form[] = "....-....-....-....-....-....";
	size_t len = strlen(form), i;

	for (; text != NULL && *text != '\0'; text++) {
		for (i = 0; i < len && (form[i] == '-') == (text[i] == '-') &&
		     (form[i] == '-' || isdigit((unsigned char)text[i]) ||
			 isupper((unsigned char)text[i]));
		     i++)
			;
		if (i == len)
			for (i = 0; i < len; i++)
				if (form[i] != '-')
					text[i] = 'X';
	}
}
