/* cmd_scan.c - scan. */
#include "cmds.h"

#include "base/file.h"
#include "base/str.h"
#include "ops/scan.h"

#define INPUT_MAX ((size_t)1024 * 1024)

/*
 * Input too large to be taken in whole is cut far above what a scan may have,
 * so that the reader refuses it like any other that is too long.
 */
static enum rc
take_input(struct buf *in, const char *operand, struct err *err)
{
	enum rc rc;

	if (!str_eq(operand, "-")) {
		buf_puts(in, operand);
		return RC_OK;
	}
	rc = file_read(in, "-", err);
	if (rc == RC_OK || !in->full)
		return rc;
	err_clear(err);
	return RC_OK;
}

static enum rc
run_scan(
    struct buf *out, struct station *sn, const struct args *a, struct err *err)
{
	struct buf in;
	enum rc rc;

	buf_init(&in, INPUT_MAX);
	if ((rc = take_input(&in, a->operand[0], err)) == RC_OK)
		rc = scan_say(out, sn, buf_text(&in), in.len, a->format, err);
	buf_fini(&in);
	return rc;
}

const struct cmd cmd_scan = {
	.name = "scan",
	.operands = "TEXT|-",
	.summary = "say what a code is: supplier label, packet or our own",
	.help =
	    "Reads GS1-128, GS1 DataMatrix and GS1 QR as the scanner sends "
	    "them, the same with identifiers in brackets, EAN-13, EAN-8, "
	    "UPC-A, GTIN-14, GS1 Digital Link, and the codes on our own "
	    "labels.  - reads one scan from standard input.  Records nothing.",
	.min_operands = 1,
	.max_operands = 1,
	.needs = NEEDS_TABLES,
	.run = run_scan,
};
