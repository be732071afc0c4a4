/*
 * print/printer.h - a configured printer: its language, its way in, and how
 * long to be patient with it.
 */
#ifndef PRINT_PRINTER_H
#define PRINT_PRINTER_H

#include "base/bitmap.h"
#include "base/buf.h"
#include "base/err.h"
#include "config/config.h"
#include "driver/lang.h"
#include "driver/transport.h"

/* How it is asked for its state. */
enum printer_asking {
	ASK_AUTO,     /* in both ways, as far as it has them */
	ASK_LANGUAGE, /* in its own language */
	ASK_PORT,     /* the port's status */
	ASK_NO,       /* it cannot be asked: labels stay "sent" */
};

/* Pointers are borrowed from the registry and the settings. */
struct printer {
	const char *name;       /* section of the settings: "main" */
	const char *configured; /* address as the settings write it */
	const char *address;    /* the part behind the colon */
	const struct lang *lang;
	const struct transport *via;
	struct lang_media media;
	enum printer_asking ask;
	int deadline_ms; /* of one call to the transport */
	int patience_ms; /* it may stop in mid-label for so long */
	int look_ms;     /* first pause between two looks at it */
};

/*
 * printer_of - as the settings have it.  Opens and sends nothing.
 * RC_OK, or RC_INVALID naming section and key, and what is known.
 */
enum rc printer_of(struct printer *out, const struct printer_setting *set,
    struct err *err) MUST_CHECK;

/* printer_paper - "60 x 40 mm"; of a continuous roll "roll of 80 mm". */
#define PAPER_SIZE 48
const char *printer_paper(
    char dst[PAPER_SIZE], int width_mm, int height_mm, int gap_mm);

/*
 * printer_encode - append a picture in the printer's language.
 * RC_OK, or RC_INVALID: a picture beyond the language's limits.
 */
enum rc printer_encode(struct buf *out, const struct printer *p,
    const struct bitmap *picture, struct err *err) MUST_CHECK;

/* printers_found - devices every way in can see now; appended to `out`, which
 * the caller frees.  A way in that cannot look is named in `trouble`. */
struct printers_found {
	struct port_found *items; /* owned */
	size_t count;
	char trouble[200]; /* empty: all could look */
};
void printers_find(struct printers_found *out);
void printers_found_fini(struct printers_found *f);

/* A label and its words in any language are not larger. */
#define LABEL_BYTES_MAX ((size_t)4 * 1024 * 1024)

#endif /* PRINT_PRINTER_H */
