/*
 * exchange/audit_out.h - the audit trail as text, JSON or CSV.
 */
#ifndef EXCHANGE_AUDIT_OUT_H
#define EXCHANGE_AUDIT_OUT_H

#include "base/buf.h"
#include "base/format.h"
#include "store/audit.h"

/* audit_write - append a list of rows, as it is ordered. */
void audit_write(
    struct buf *out, const struct audit_list *l, enum format format);

/* The CSV of a trail too long to be held at once: its header, then parts. */
void audit_csv_head(struct buf *out);
void audit_csv_rows(struct buf *out, const struct audit_list *l);

#endif /* EXCHANGE_AUDIT_OUT_H */
