/*
 * print/ask.h - ask a printer how it is: the port, and its own language.
 */
#ifndef PRINT_ASK_H
#define PRINT_ASK_H

#include <stdbool.h>

#include "base/err.h"
#include "print/printer.h"

struct answer {
	bool able;      /* there was a way to ask */
	unsigned state; /* PRINTER_ bits; PRINTER_SILENT: no answer in time */
	bool half;      /* a part of a question is stuck in the printer */
	bool told;      /* it answered in its own language */
};

/*
 * printer_ask - only between labels: a question inside one would be printed.
 * Silence until the deadline is an answer, PRINTER_SILENT; so is one that is
 * not in the printer's language.
 * RC_OK, or RC_FAILED: the port broke, close it.
 */
enum rc printer_ask(struct answer *out, const struct printer *p,
    struct port *port, struct err *err) MUST_CHECK;

/* printer_ask_port - the port's status alone, also inside a label. */
enum rc printer_ask_port(struct answer *out, const struct printer *p,
    struct port *port, struct err *err) MUST_CHECK;

#endif /* PRINT_ASK_H */
