/*
 * cut_child.h - run a program or a function in a process of its own, and what
 * it took: a fault ends only the child, and its peak memory is its own.
 */
#ifndef CUT_CHILD_H
#define CUT_CHILD_H

#include <stdbool.h>
#include <stddef.h>

struct child_use {
	double cpu_s;  /* user and system time */
	long peak_kib; /* largest resident set */
};

/*
 * child_run - run argv[0] from PATH, standard output and error to the file
 * `output`.  Exit status, 127 when it cannot be started, -1 when a signal
 * ended it.  `use` may be NULL.
 */
int child_run(
    struct child_use *use, const char *const *argv, const char *output);

/*
 * child_call - call fn(result, arg) in a child, which may take `seconds` of
 * the clock; its `size` bytes of result come back, at most 4096.  False when
 * it did not end by itself.
 */
bool child_call(struct child_use *use, void *result, size_t size,
    void (*fn)(void *result, const void *arg), const void *arg,
    unsigned seconds);

#endif /* CUT_CHILD_H */
