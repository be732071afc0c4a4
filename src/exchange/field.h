/*
 * field.h - shared by the readers of this folder.
 */
#ifndef EXCHANGE_FIELD_H
#define EXCHANGE_FIELD_H

#include "exchange/records_in.h"

/* service_index - place of a service name in any case, or -1. */
int service_index(const struct service_names *services, const char *name);

#endif /* EXCHANGE_FIELD_H */
