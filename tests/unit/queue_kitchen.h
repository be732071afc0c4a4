/*
 * queue_kitchen.h - a kitchen with six portions of cod whose labels are to be
 * printed into its folder; for the suites of the queue.
 */
#ifndef QUEUE_KITCHEN_H
#define QUEUE_KITCHEN_H

#include <stdbool.h>
#include <stdint.h>

#include "kitchen.h"
#include "store/jobs.h"

extern struct kitchen qk;
extern struct breakdown qk_made;
extern struct err qk_err; /* of the last call that takes none */

void qk_setup(void);
void qk_teardown(void);

/* qk_printer - another printer in the settings, and the station opened anew;
 * its labels cannot be looked for with qk_on_paper(). */
void qk_printer(const char *language, const char *address, int patience_s);

/* qk_code - of the i-th portion. */
const char *qk_code(int i);

/* qk_queued - ask for its label, only queue it; must succeed. */
struct print_job qk_queued(int i, enum label_want want);

struct print_job qk_now(int64_t id);

/* qk_work - as pinbone printer work --once. */
enum rc qk_work(void);

/* qk_force - set a state straight into the file, as a crash would leave it. */
void qk_force(int64_t id, const char *state);

/* qk_on_paper - did its label (and rest of the name) come out? */
bool qk_on_paper(int i, const char *rest);

/* qk_gone - the printer is not there: a folder that cannot be made. */
void qk_gone(bool gone);

#endif /* QUEUE_KITCHEN_H */
