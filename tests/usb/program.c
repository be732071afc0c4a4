/* program.c - the whole program at work in a kitchen. */
#include "program.h"

#include <stdlib.h>
#include <string.h>

#include "base/str.h"

void
program_line(struct program_line *l, const struct kitchen *k, const char *line,
    const char *more)
{
	const char *const first[] = { getenv("PINBONE"), "--config", k->ini,
		"--db", k->db, "--now", KITCHEN_NOW };
	char *at = l->words;
	size_t n = NELEM(first);

	ck_assert_msg(first[0] != NULL, "PINBONE must name the program");
	memset(l, 0, sizeof(*l));
	memcpy(l->argv, first, sizeof(first));
	ck_assert(str_copy(l->words, sizeof(l->words), line));
	while (*at != '\0') {
		ck_assert_uint_lt(n, PROGRAM_WORDS - 2);
		l->argv[n++] = at;
		at += strcspn(at, " ");
		if (*at == ' ')
			*at++ = '\0';
	}
	l->argv[n] = more;
}

int
program_run(char *out, size_t size, const struct kitchen *k, const char *line,
    const char *more)
{
	struct program_line l;

	program_line(&l, k, line, more);
	return rig_child(out, size, l.argv);
}
