/*
 * screens/screen.h - what a screen is, and a sheet over it: tables of slots.
 */
#ifndef SCREENS_SCREEN_H
#define SCREENS_SCREEN_H

#include <stdbool.h>
#include <stddef.h>

#include "base/say.h"
#include "core/code.h"
#include "term/canvas.h"
#include "term/key.h"

/* The screens, in the order of their function keys: F1 is Help. */
#define SCREEN_LIST(X)                                                         \
	X(HELP, help)                                                          \
	X(TODAY, today)                                                        \
	X(GOODS_IN, goods_in)                                                  \
	X(PREP_LIST, prep_list)                                                \
	X(BREAKDOWN, breakdown)                                                \
	X(ON_HAND, on_hand)                                                    \
	X(SERVICE, service)                                                    \
	X(TRACE, trace)                                                        \
	X(MENU, menu)                                                          \
	X(PRINTING, printing)                                                  \
	X(RECORDS, records)

enum screen_id {
#define SCREEN_ENUM(NAME, name) SCREEN_##NAME,
	SCREEN_LIST(SCREEN_ENUM)
#undef SCREEN_ENUM
	    SCREEN_COUNT
};

struct desk;

/* A thing a key does on a screen.  Footer and Help show the same rows. */
struct action {
	int id; /* the screen's own; > 0.  A row with 0 ends the table */
	struct key key;
	const char *word; /* for the footer, N_() */
	const char *help; /* a sentence, N_() */
};

/* What was scanned, as far as it is known. */
enum scan_kind {
	SCAN_UNKNOWN,
	SCAN_PORTION,  /* of this station: `code` */
	SCAN_BATCH,    /* of this station: `code` */
	SCAN_SUPPLIER, /* a label the trade uses, not ours: GS1, EAN-13 */
};

struct desk_scan {
	enum scan_kind kind;
	char code[CODE_SIZE]; /* without hyphen */
	const char *text;     /* as scanned, ended by a 0; may hold GS */
	size_t len;
};

struct screen {
	const char *title; /* N_() */
	const struct action *actions;
	size_t state_size;

	/* Once; the state is zeroed before.  May be NULL, as may all but
	 * draw. */
	void (*init)(struct desk *d, void *state);
	void (*fini)(void *state);
	/* It is shown, or the record changed while it is: load what is drawn.
	 * Typed text and the chosen row stay. */
	void (*load)(struct desk *d, void *state);
	void (*draw)(struct desk *d, void *state, const struct pane *p);
	/* A key no action row is for, or that goes into a field.  True: taken.
	 * Called before the actions for a character typing() is true for. */
	bool (*key)(struct desk *d, void *state, const struct key *k);
	void (*act)(struct desk *d, void *state, int action);
	/* True: taken.  Else a portion or batch opens Trace, a supplier's
	 * label Goods in. */
	bool (*scan)(struct desk *d, void *state, const struct desk_scan *s);
	/* Would this character be typed into a field now? */
	bool (*typing)(const void *state, const struct key *k);
	/* Is this action possible now?  Those that are not, are not shown. */
	bool (*can)(const struct desk *d, const void *state, int action);
	/* About once a second: something typed may have to be kept. */
	void (*tick)(struct desk *d, void *state);
};

/* By enum screen_id; screen_table.c. */
extern const struct screen *const screens[SCREEN_COUNT];

/* A sheet is shown over the screen and gets every key and scan until it ends.
 */
struct sheet {
	const char *title; /* N_() */
	void (*draw)(struct desk *d, void *state, const struct pane *p);
	bool (*key)(struct desk *d, void *state, const struct key *k);
	bool (*scan)(struct desk *d, void *state, const struct desk_scan *s);
	bool (*typing)(const void *state, const struct key *k);
	void (*fini)(void *state); /* frees what the state owns */
	int want_w, want_h;        /* inside its frame; more than fits is cut */
};

#endif /* SCREENS_SCREEN_H */
