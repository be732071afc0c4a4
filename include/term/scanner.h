/*
 * term/scanner.h - tell a scanner that types from a person who types.
 *
 * A keyboard-wedge scanner sends a label as keystrokes, far faster than hands,
 * and ends it with Enter or Tab.  Until that is clear its characters must not
 * act as keys.  Pure: time comes in as milliseconds, and should be time spent
 * waiting for keys, so that a program that was busy takes no pause for a gap.
 */
#ifndef TERM_SCANNER_H
#define TERM_SCANNER_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "term/key.h"

/* Two characters closer than this came from a machine.  Keyboards repeat a
 * held key every 33 ms or slower, scanners type every 1 to 20 ms: common
 * practice, no source. */
#define SCANNER_GAP_MS 25
/* A label that is coming may pause for so long.  One that ends without Enter or
 * Tab may lack its rest: nothing of it is used. */
#define SCANNER_END_MS 300
#define SCANNER_REST_MS 1000
#define SCANNER_MIN 6 /* characters; fewer are taken as typed */
#define SCANNER_MAX                                                            \
	4096 /* bytes of one label; what is longer is cut there                \
		and marked */

struct scanner {
	char text[SCANNER_MAX + 1];
	size_t len;
	int chars;        /* in the burst, the one let through included */
	int64_t last_ms;  /* when the last of them came */
	bool let_through; /* the first was handed on at once */
	bool too_long;
	bool was_cut;   /* a label without its end came at cut_ms: what */
	int64_t cut_ms; /* follows soon is its rest, and not used either */
};

enum scanner_says {
	SCANNER_NOTHING,
	SCANNER_KEY,  /* `key` was typed */
	SCANNER_SCAN, /* text[0 .. len - 1] was scanned */
	SCANNER_CUT,  /* a label came without its end */
};

struct scanner_event {
	enum scanner_says says;
	struct key key;
	/* before anything else: the character that was let through was part
	 * of a scan, take it back */
	bool take_back;
};

/* Told of every event, in order. */
typedef void scanner_fn(void *arg, const struct scanner_event *e);

/*
 * scanner_key - a key came at `now_ms`.  With `typing` a single character is
 * let through at once, because a field can take it back; else it is held for
 * the gap, because it might act.
 * The scanned text stays in s->text until the next call.
 */
void scanner_key(struct scanner *s, const struct key *k, int64_t now_ms,
    bool typing, scanner_fn *tell, void *arg);
/* scanner_pause - nothing came until `now_ms`: what was held may be clear. */
void scanner_pause(
    struct scanner *s, int64_t now_ms, scanner_fn *tell, void *arg);
/* scanner_wait - milliseconds until scanner_pause() has something to do; -1:
 * nothing is held. */
int scanner_wait(const struct scanner *s, int64_t now_ms);

#endif /* TERM_SCANNER_H */
