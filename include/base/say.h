/*
 * base/say.h - the messages of the station, in one table, ready for
 * translation.
 *
 * Every text a screen shows is a macro of a says_*.h header (src/term,
 * src/screens): SAY_X is N_("...")
 * for one text and NN_("one", "many") for a plural.  At its use tr() or trn()
 * translates; both keep the compiler's check of formats against arguments.
 * The catalogue is made from those headers (Makefile, `make messages`).
 */
#ifndef BASE_SAY_H
#define BASE_SAY_H

#define N_(text) text
#define NN_(one, many) one, many

/* tr - in the language of the locale (LC_MESSAGES, LANGUAGE). */
const char *tr(const char *text) __attribute__((format_arg(1)));
/* trn - the form for `n` things. */
const char *trn(const char *one, const char *many, long n)
    __attribute__((format_arg(1), format_arg(2)));

/* say_start - take the language from the environment.  `folder` holds the
 * catalogues; NULL: where they were installed. */
void say_start(const char *folder);

#endif /* BASE_SAY_H */
