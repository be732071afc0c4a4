/* script_words.c - a line of a script cut into words. */
#include "script.h"

#include <stdbool.h>
#include <stddef.h>
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
