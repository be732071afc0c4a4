/*
 * ops/species_page.h - all the station knows of a species, with sources.
 */
#ifndef OPS_SPECIES_PAGE_H
#define OPS_SPECIES_PAGE_H

#include "base/buf.h"
#include "base/err.h"
#include "base/format.h"
#include "ops/station.h"

/*
 * species_page - append the page of one species, by code or name: names, body
 * form, allergen group, histamine, yields with range, minimum sizes, closed
 * times, life in ice, freshness attributes; with a station file also what was
 * learned of its yields and weights.
 * RC_OK, RC_NOTFOUND, RC_FAILED when the file cannot be read.
 */
enum rc species_page(struct buf *out, const struct station *sn,
    const char *text, enum format format, struct err *err) MUST_CHECK;

/* species_list - append one line for each species. */
enum rc species_list(struct buf *out, const struct station *sn,
    enum format format, struct err *err) MUST_CHECK;

#endif /* OPS_SPECIES_PAGE_H */
