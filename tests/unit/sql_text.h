/*
 * sql_text.h - every SQL statement that stands in preprocessed C, found two
 * ways: as a string that begins with a word of SQL, and as what is handed to
 * the functions that prepare one.
 */
#ifndef SQL_TEXT_H
#define SQL_TEXT_H

#include <stdbool.h>
#include <stddef.h>

struct sql_text {
	char *sql;     /* the whole string, its pieces joined; owned */
	char file[64]; /* src/store/batches.c */
	int line;      /* where it begins, after the preprocessor */
	bool handed;   /* an argument of a function that prepares, or in a
			  constant such a function is handed */
};

struct sql_texts {
	struct sql_text *items; /* owned */
	size_t count;
	char wrong[300]; /* the first argument that is neither a string nor a
			    constant; empty: none */
	size_t calls;    /* of functions that prepare */
};

/*
 * sql_texts_find - in text of the preprocessor; only its parts from under
 * `folder` count.  `may` names buffers that may be handed on all the same,
 * NULL-terminated, or is NULL.  Freed with sql_texts_fini().
 */
void sql_texts_find(struct sql_texts *out, const char *text, const char *folder,
    const char *const *may);
void sql_texts_fini(struct sql_texts *t);

/* sql_begins - does a string begin as a statement does? */
bool sql_begins(const char *s);

#endif /* SQL_TEXT_H */
