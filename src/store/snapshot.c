/* snapshot.c - read the record as it was at one instant. */
#include "store/snapshot.h"

#include <assert.h>

#include "stmt.h"

enum rc
snapshot_begin(struct store *st, struct err *err)
{
	struct stmt q;
	enum rc rc;

	assert(!st->in_txn);
	if ((rc = stmt_open(&q, st, "BEGIN", err)) != RC_OK ||
	    (rc = stmt_run(&q, err)) != RC_OK)
		return rc;
	/* The instant is that of the first read, which is now. */
	rc = stmt_open(&q, st, "SELECT 1 FROM station LIMIT 1" SCAN_OK, err);
	if (rc == RC_OK) {
		rc = stmt_step(&q, err);
		stmt_close(&q);
	}
	if (rc == RC_OK || rc == RC_END)
		return RC_OK;
	snapshot_end(st);
	return rc;
}

void
snapshot_end(struct store *st)
{
	struct stmt q;

	if (sqlite3_get_autocommit(st->db) != 0)
		return;
	/* Nothing was written: whatever ends it, nothing is lost. */
	if (stmt_open(&q, st, "ROLLBACK", NULL) == RC_OK)
		ignore_rc(stmt_run(&q, NULL));
}
