/*
 * ops/cut_board.h - plan the cuts of any fish on the board, from files.
 */
#ifndef OPS_CUT_BOARD_H
#define OPS_CUT_BOARD_H

#include "base/buf.h"
#include "base/err.h"
#include "base/format.h"

struct cut_files {
	const char *fish, *dishes;
	const char *trim; /* NULL: no trim wanted */
};

/*
 * cut_board - read the files ("-" standard input, for one of them), solve, and
 * append the plan.  Needs no station and records nothing.
 * RC_OK; RC_NOTFOUND no such file; RC_INVALID with file, line and column;
 * RC_FAILED.
 */
enum rc cut_board(struct buf *out, const struct cut_files *files,
    enum format format, struct err *err) MUST_CHECK;

#endif /* OPS_CUT_BOARD_H */
