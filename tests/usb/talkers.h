/*
 * talkers.h - printers that answer in their language: for each language of
 * langs[] what it says when all is well, and what it can say of a fault.
 */
#ifndef TALKERS_H
#define TALKERS_H

#include "driver/lang.h"
#include "tests/usb/vprinter.h"

enum saying {
	SAYS_READY,
	SAYS_PAPER,
	SAYS_OPEN,
	SAYS_RIBBON,
	SAYS_PAUSED,
	SAYS_HOT,
	SAYS_BUSY,
	SAYS_GARBAGE, /* nothing of its language */
	SAYS_NOTHING,
	SAYING_COUNT
};

/* talker_language - the n-th language a printer can speak, or NULL. */
const struct lang *talker_language(int n);

/*
 * talker_listen - let `p` answer the questions of `lang`; it is ready.  A
 * language with a question and without a row fails the test.  One at a time.
 */
void talker_listen(struct vprinter *p, const struct lang *lang);

/* talker_can - has the language a word for it?  Without one nothing is said
 * of it and the printer seems ready. */
bool talker_can(const struct lang *lang, enum saying what);

/* talker_says - for the next `times` questions, 0: from now on; then ready. */
void talker_says(enum saying what, int times);

/* talker_late - answers come so late; 0: at once. */
void talker_late(int ms);

#endif /* TALKERS_H */
