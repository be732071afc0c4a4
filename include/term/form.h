/*
 * term/form.h - fields to fill in.
 *
 * Typed text stays until it is cleared, also while another screen is shown.
 * Numbers take a comma or a point; dates are typed as people say them and shown
 * back in words.  A field that is wrong says so on its line.
 */
#ifndef TERM_FORM_H
#define TERM_FORM_H

#include <stdbool.h>
#include <stddef.h>

#include "base/day.h"
#include "base/err.h"
#include "term/canvas.h"
#include "term/key.h"

#define FORM_FIELDS_MAX 48
#define FIELD_SIZE 200 /* bytes of text in a field, with its end */

enum field_kind {
	FIELD_TEXT,
	FIELD_COUNT,   /* a whole number */
	FIELD_WEIGHT,  /* 850, 1,2kg, 12.4 kg */
	FIELD_WEIGHTS, /* several, with blanks between: 2100 1950 */
	FIELD_DEGREES, /* 1,5 or -18 */
	FIELD_PRICE,   /* of a kilogram, two decimals */
	FIELD_DATE,    /* fri, +2, 27.11: term/when.h */
	FIELD_CHOICE,  /* one of a list, by its first letters */
};

/* What a FIELD_CHOICE may be: `word` is its value, `says` what people read. */
struct choices {
	size_t count;
	const char *(*word)(const void *arg, size_t i);
	const char *(*says)(const void *arg, size_t i); /* NULL: the word */
	const void *arg;
};

enum field_flags {
	FIELD_MUST = 1, /* may not be empty */
	FIELD_PAST = 2, /* a date: `fri` is the last one, not the next */
	FIELD_HIDE = 4, /* shown as dots: a PIN */
};

struct field_row {
	const char *label; /* a message of the table, N_() */
	enum field_kind kind;
	unsigned flags;
	const char *hint; /* shown while the field is empty and chosen, or NULL
			   */
};

struct field {
	const struct field_row *row;
	char text[FIELD_SIZE];   /* as typed */
	size_t caret;            /* byte of it */
	char before[FIELD_SIZE]; /* the last character, for a take back */
	size_t before_caret;
	char value[FIELD_SIZE]; /* for ops; empty when text is, or is wrong */
	char shown[80];         /* the value in words, when they say more */
	char wrong[160];        /* why it is wrong, or empty */
	struct choices choices; /* FIELD_CHOICE; set by the owner */
	bool off;               /* not asked now: not drawn, not checked */
};

struct form {
	struct field fields[FORM_FIELDS_MAX];
	int count;
	int at, top;
	int pick; /* of what fits in a FIELD_CHOICE, by the arrows */
	day_no today;
	bool dirty; /* typed into since form_clear(); the owner may reset it */
	bool was_dirty; /* before the last character, for a take back */
};

/* form_init - `rows` are kept, and outlive the form. */
void form_init(
    struct form *f, const struct field_row *rows, int count, day_no today);
void form_clear(struct form *f);

enum form_said {
	FORM_NOT_MINE,
	FORM_TAKEN,
	FORM_MOVED, /* another field is chosen now, the last was checked */
	FORM_END,   /* Enter in the last field */
};
/* form_key - letters in a number field are not the form's: they may be
 * actions ("w" weighs). */
enum form_said form_key(struct form *f, const struct key *k);
/* form_typing - would this character be typed into the chosen field? */
bool form_typing(const struct form *f, const struct key *k);

/* form_value - for ops, or NULL when empty or off. */
const char *form_value(const struct form *f, int i);
/* form_set - put text in a field, as if typed and left. */
void form_set(struct form *f, int i, const char *text);
/* form_check - every field; RC_INVALID: the first wrong one is chosen, err
 * says what. */
enum rc form_check(struct form *f, struct err *err) MUST_CHECK;
/* form_wrong - mark a field as an operation refused it. */
void form_wrong(struct form *f, int i, const char *why);

/*
 * form_draw - a line for each field, scrolled so that the chosen one is seen;
 * labels take `label_w` columns.  For a chosen FIELD_CHOICE the last rows list
 * what fits what was typed.
 */
void form_draw(struct form *f, const struct pane *p, int label_w);

#endif /* TERM_FORM_H */
