/*
 * fake_printer.h - a label printer that does as it is told, behind a transport
 * and a language of its own: for the session, the spool and the queue.
 *
 * A label is "<ID.COPY|", filling, ">"; it comes out when its last byte is
 * there and nothing is wrong, else when that is over.  A label begun inside
 * another one spoils both.  A reset drops what has not come out.
 */
#ifndef FAKE_PRINTER_H
#define FAKE_PRINTER_H

#include <stdbool.h>
#include <stdint.h>

#include "base/bitmap.h"
#include "print/printer.h"

#define FAKE_OUT_MAX 4096

struct fake_printer {
	/* How it behaves; a test changes it at any time. */
	unsigned state;                    /* PRINTER_ bits it reports */
	bool port_silent, language_silent; /* no answer in time */
	bool garbled; /* answers, but not in its language */
	enum rc open_rc, begin_rc, finish_rc, reset_rc, status_rc;
	unsigned open_state;
	long room;   /* bytes it takes before it stops; -1: any number */
	long breaks; /* bytes after which the port breaks; -1: never */
	bool lies;   /* says that it took more than it was given */
	size_t most; /* bytes of one write; 0: any number */
	int heals;   /* after so many looks nothing is wrong; 0: never */
	const char *commands;
	/* Called before a byte is taken; may not come back. */
	void (*taking)(struct fake_printer *f, char c);

	/* What happened to it. */
	int opens, closes, resets, finishes, looks, questions;
	int inside; /* questions put while a label was half there */
	size_t taken;
	char begun[64];
	struct fake_out {
		int64_t id;
		int copy;
	} out[FAKE_OUT_MAX]; /* labels that came out */
	size_t out_count;
	int spoilt; /* labels that swallowed another */

	/* Its own. */
	char half[4096];
	size_t half_len;
	bool held; /* whole, and waiting for the fault to be over */
	char reply[64];
	size_t reply_len;
	char asked[8];
	size_t asked_len;
};

/* The one a port leads to; it outlives a process that is killed. */
extern struct fake_printer *fake_one;
#define fake (*fake_one)

/* A new printer nothing is wrong with. */
void fake_reset(void);

extern const struct lang fake_lang;
extern const struct transport fake_talks; /* status and a way back */
extern const struct transport fake_blind; /* neither */

/* Both ways of asking, short deadlines. */
struct printer fake_printer(const struct transport *via);

/* fake_label - the picture of a job; its id and copy come out again. */
struct bitmap *fake_label(int64_t id, int copy, int filling);

/* fake_count - how many labels of this job came out. */
int fake_count(int64_t id);

#endif /* FAKE_PRINTER_H */
