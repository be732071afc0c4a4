/*
 * rig.h - what the USB suites share: a bus for each test, a port on it, and
 * the checks that every test makes.
 */
#ifndef RIG_H
#define RIG_H

#include <check.h>
#include <stddef.h>
#include <stdint.h>
#include <sys/types.h>

#include "driver/transport.h"
#include "tests/usb/suites.h"
#include "tests/usb/vprinter.h"

#define NELEM(a) (sizeof(a) / sizeof((a)[0]))

/* Of the running test: the bus, and what the last call said. */
extern struct vusb *bus;
extern struct err err;
extern unsigned state;

/* rig_tcase - a case with a timeout and the bus as its fixture, added. */
TCase *rig_tcase(Suite *s, const char *name);

/* rig_rows - how many rows of a table to play: all; but on a real kernel, where
 * plugging in takes a second, the first three. */
int rig_rows(size_t rows);

/* rig_printer - plugged in, freed with the bus. */
struct vprinter *rig_printer(const struct vprinter_as *as);

/* rig_try - open(); what it says is in `err` and `state`. */
enum rc rig_try(struct port **out, const char *address);
/* rig_open - open() that must succeed; closed with the bus. */
struct port *rig_open(const char *address);
/* rig_close - before the test ends. */
void rig_close(struct port *port);

/* rig_job - `len` bytes in which no place looks like another. */
const uint8_t *rig_job(size_t len);

/* rig_write - write() of bytes from a place nothing may write to. */
enum rc rig_write(
    size_t *sent, struct port *port, const uint8_t *buf, size_t len, int ms);
/* rig_write_all - all of it in one call. */
void rig_write_all(struct port *port, const uint8_t *buf, size_t len);

/* rig_took - the printer has exactly the first `len` bytes of `job`. */
void rig_took(struct vprinter *p, const uint8_t *job, size_t len);

/* rig_says - the last error's text holds `words`, and is one line that ends
 * without a full stop. */
void rig_says(const char *words);

/*
 * rig_child - run a program with the bus of this test as its USB, and say what
 * it printed on standard output and error (at most `size` - 1 bytes).
 * Returns its exit status, or the signal that ended it, negative.  `argv` ends
 * with NULL.  In two halves: the program runs between them.
 */
int rig_child(char *out, size_t size, const char *const argv[]);
pid_t rig_child_start(int *output, const char *const argv[]);
int rig_child_end(char *out, size_t size, pid_t pid, int output);

#endif /* RIG_H */
