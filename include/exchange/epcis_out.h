/*
 * exchange/epcis_out.h - what happened to food as EPCIS 2.0 JSON-LD
 * (ISO/IEC 19987) with the words of CBV 2.0 (ISO/IEC 19988).
 *
 * One document, an event a line, written as the events come: nothing is held
 * but the event being written.  docs/records-out.md has which record becomes
 * which event, in which words, and why.
 *
 * Identifiers.  A batch is a class (a lot of so many kilograms), a labelled
 * unit an instance.  With a GS1 company prefix a unit is the GS1 Digital Link
 * of its GTIN and serial number, as its label has it.  Everything else, and
 * units without a prefix, are URIs below `base`, which is the kitchen's own
 * ([epcis] base) or that of the station file: a UUID made of its name and the
 * instant it was made, so that it is the same in every export and no other
 * station's.  An event's id is a UUID of the same kind out of the row it tells
 * of: told again, it is the same event.
 */
#ifndef EXCHANGE_EPCIS_OUT_H
#define EXCHANGE_EPCIS_OUT_H

#include <stddef.h>
#include <stdint.h>

#include "base/buf.h"
#include "base/err.h"
#include "core/species.h"
#include "store/batches.h"
#include "store/happenings.h"

#define EPCIS_BASE_SIZE 160
#define EPCIS_UUID_SIZE 37

struct epcis_house {
	const char *kitchen;
	char base[EPCIS_BASE_SIZE];
	const char *gs1_prefix; /* or "none" */
	const struct species_table *species;
};

/* epcis_uuid - version 8 (RFC 9562) of a text: the same text, the same UUID. */
void epcis_uuid(char dst[EPCIS_UUID_SIZE], const char *text);

/* epcis_base - of a station file, from its name and when it was made. */
void epcis_base(
    char dst[EPCIS_BASE_SIZE], const char *kitchen, const char *created);

/*
 * epcis_base_check - may a house's identifiers begin with this?
 * RC_OK, or RC_INVALID: no absolute URI of printable ASCII that ends with / or
 * # or :, or one in a namespace that is GS1's own.
 */
enum rc epcis_base_check(const char *base, struct err *err) MUST_CHECK;

/* A happening with what belongs to it. */
struct epcis_about {
	const struct happening *it;
	const struct batch *batch;      /* received, refused; NULL else */
	const struct prep_sides *sides; /* of a breakdown, made or held, or a
					 * tray put together; NULL else */
};

void epcis_head(
    struct buf *out, const struct epcis_house *house, int64_t created_utc);
/* epcis_event - append one event; `first` of the document or not. */
void epcis_event(struct buf *out, const struct epcis_house *house,
    const struct epcis_about *about, bool first);
void epcis_tail(struct buf *out);

#endif /* EXCHANGE_EPCIS_OUT_H */
