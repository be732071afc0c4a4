/*
 * process.h - what /proc says of another process.
 */
#ifndef PROCESS_H
#define PROCESS_H

#include <stdbool.h>
#include <sys/types.h>

/* process_state - its state letter, and its parent; 0 when it is gone. */
char process_state(pid_t pid, pid_t *parent);
/* process_child - a child of it; 0: it has none. */
pid_t process_child(pid_t parent);
/* process_listens - has it got so far as to catch SIGTERM? */
bool process_listens(pid_t pid);

#endif /* PROCESS_H */
