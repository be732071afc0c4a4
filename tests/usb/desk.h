/*
 * desk.h - a kitchen whose labels go to one USB printer on the test's bus: the
 * real spool, session, language and libusb, with short deadlines.
 *
 * It remembers what each label's bytes must be, and takes apart what the
 * printer took.
 */
#ifndef DESK_H
#define DESK_H

#include "print/spool.h"
#include "rig.h"
#include "talkers.h"
#include "tests/unit/queue_kitchen.h"

#define DESK_LABELS 4

struct desk {
	struct spool sp;
	const struct lang *lang;
	struct vprinter *printer; /* that which is plugged in last */
	int deadline_ms, patience_ms;
	size_t skip;  /* bytes it took at first that are part of nothing */
	bool may_not; /* opens it as a user who is not permitted */
	/* A job's state is durable: before its first byte, after its last. */
	void (*moved)(const struct print_job *job);

	struct desk_label {
		int64_t id;
		struct bitmap *picture; /* as drawn last */
		struct buf bytes;       /* the same in the language */
	} labels[DESK_LABELS];
	int count;
};
extern struct desk desk;

/* desk_tcase - a case with bus and kitchen, added. */
TCase *desk_tcase(Suite *s, const char *name);

/* desk_sit - the language of the settings, and a printer that is plugged in
 * and speaks it, two-way unless `one_way`. */
void desk_sit(const struct lang *lang, bool one_way);

/* desk_printer - plugged in; its ID says `commands`, NULL: the language. */
struct vprinter *desk_printer(const char *commands, bool one_way);

/* desk_queue - one more label is asked for; its number. */
int desk_queue(void);

/* desk_expect - the label of a portion, -1: the test label, that a program is
 * going to print; its number. */
#define DESK_TEST (-1)
int desk_expect(int portion, int copy);

/* desk_step - one thing is done; the pauses are over. */
void desk_step(void);
/* desk_drain - until nothing more can be done. */
void desk_drain(void);

/* desk_job - as the file has it. */
struct print_job desk_job(int label);

/*
 * desk_took - the printer took exactly these parts of labels, in order, and
 * whole questions between them, never inside.  A part as long as its label is
 * read as a printer reads it, and is the picture drawn.
 */
#define DESK_WHOLE SIZE_MAX
struct desk_part {
	int label;
	size_t len;
};
void desk_took(const struct desk_part *parts, size_t count, const char *where);

#endif /* DESK_H */
