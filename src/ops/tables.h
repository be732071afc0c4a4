/*
 * tables.h - the data files of a station.  Private to src/ops.
 */
#ifndef OPS_TABLES_H
#define OPS_TABLES_H

#include "base/err.h"
#include "ops/station.h"

/*
 * tables_load - every table of the settings' data folder, checked against each
 * other.  RC_OK, RC_NOTFOUND (a file), RC_INVALID with file, line and column.
 */
enum rc tables_load(struct station *sn, struct err *err) MUST_CHECK;

void tables_fini(struct station *sn);

#endif /* OPS_TABLES_H */
