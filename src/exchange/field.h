/*
 * field.h - shared by the readers of this folder.
 */
#ifndef EXCHANGE_FIELD_H
#define EXCHANGE_FIELD_H

#include <stdbool.h>
#include <stddef.h>

#include "base/csv.h"
#include "base/err.h"
#include "exchange/records_in.h"

/* field_text - a checked text that must fit `size` bytes with its NUL. */
enum rc field_text(char *dst, size_t size, const struct csv *c,
    const char *column, bool may_be_empty, struct err *err) MUST_CHECK;

/* service_index - place of a service name in any case, or -1. */
int service_index(const struct service_names *services, const char *name);

#endif /* EXCHANGE_FIELD_H */
