/* cut_board.c - plan the cuts of any fish on the board, from files. */
#include "ops/cut_board.h"

#include "base/file.h"
#include "base/str.h"
#include "core/cutplan.h"
#include "exchange/cut_in.h"
#include "exchange/cut_out.h"

typedef enum rc board_fn(struct cut_board *b, const char *name,
    const char *data, size_t len, struct err *err);

static enum rc
read_into(
    struct cut_board *b, const char *path, board_fn *parse, struct err *err)
{
	struct buf text;
	enum rc rc;

	buf_init(&text, FILE_READ_MAX);
	rc = file_read(&text, path, err);
	if (rc == RC_OK)
		rc = parse(b, path, buf_text(&text), text.len, err);
	buf_fini(&text);
	return rc;
}

static enum rc
read_files(struct cut_board *b, const struct cut_files *f, struct err *err)
{
	int stdins = str_eq(f->fish, "-") + str_eq(f->dishes, "-") +
	    (f->trim != NULL && str_eq(f->trim, "-"));
	enum rc rc;

	if (stdins > 1)
		return err_set(err, RC_INVALID, 0,
		    "standard input can be one file only: name the others");
	if ((rc = read_into(b, f->fish, board_fish, err)) != RC_OK ||
	    (rc = read_into(b, f->dishes, board_dishes, err)) != RC_OK)
		return rc;
	return f->trim == NULL ? RC_OK : read_into(b, f->trim, board_trim, err);
}

enum rc
cut_board(struct buf *out, const struct cut_files *files, enum format format,
    struct err *err)
{
	struct cut_board b = { 0 };
	struct cut_plan plan = { 0 };
	struct cut_problem p;
	enum rc rc;

	if ((rc = read_files(&b, files, err)) != RC_OK)
		goto done;
	p = board_problem(&b);
	if ((rc = cut_solve(&plan, &p, err)) != RC_OK) {
		err_prefix(err, "%s, %s: ", files->fish, files->dishes);
		goto done;
	}
	cut_write(out, &b, &plan, format);
	rc = buf_check(out, "the cut plan", err);
done:
	cut_plan_fini(&plan);
	board_fini(&b);
	return rc;
}
