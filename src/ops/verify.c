/* verify.c - the record against its trail, and the trail against paper. */
#include "ops/verify.h"

#include <inttypes.h>
#include <stdlib.h>
#include <string.h>

#include "core/paper_code.h"
#include "exchange/changes_out.h"
#include "exchange/verify_out.h"
#include "store/audit.h"
#include "store/store.h"

static enum rc
judge_found(const struct trail_report *r, bool paper, struct err *err)
{
	if (r->found > 0)
		return err_set(err, RC_FAILED, 0,
		    "%" PRId64
		    " place%s not as recorded: keep this file and "
		    "every backup as they are, and tell who answers for the "
		    "records",
		    r->found, r->found == 1 ? " is" : "s are");
	if (paper && r->paper_row == 0)
		return err_set(err, RC_FAILED, 0,
		    "no row of this trail has the code of the day sheet: the "
		    "trail was written anew, or the sheet is of another "
		    "station");
	return RC_OK;
}

enum rc
verify(struct buf *out, struct station *sn, const struct verify_order *o,
    struct err *err)
{
	struct verify_wish wish = { .tell = o->tell, .arg = o->arg };
	char code[PAPER_CODE_SIZE];
	struct trail_report r = { 0 };
	enum rc rc;

	if (o->paper != NULL) {
		if ((rc = paper_code_parse(code, o->paper, err)) != RC_OK)
			return rc;
		wish.paper = code;
	}
	rc = store_verify(
	    &r, o->file == NULL ? store_path(sn->st) : o->file, &wish, err);
	if (rc == RC_OK) {
		verify_write(out, &r, o->paper != NULL, o->format);
		rc = judge_found(&r, o->paper != NULL, err);
	}
	trail_report_fini(&r);
	return rc;
}

enum rc
trail_end(struct trail_end *out, struct station *sn, struct err *err)
{
	char code[PAPER_CODE_SIZE];
	struct trail_head head;
	enum rc rc = trail_head(&head, sn->st, err);

	memset(out, 0, sizeof(*out));
	if (rc != RC_OK)
		return rc;
	out->row = head.row;
	paper_code_show(out->code, paper_code_make(code, head.digest));
	return RC_OK;
}

enum rc
changes_of(struct buf *out, struct station *sn, int64_t row, struct err *err)
{
	char *changes = NULL;
	enum rc rc = audit_changes(&changes, sn->st, row, err);

	if (rc == RC_OK)
		changes_text(out, changes, "");
	free(changes);
	return rc;
}
