/* cmd_restore.c - restore, inspect, moved: the station file itself. */
#include "cmds.h"

#include <stdio.h>

#include "base/jsonw.h"
#include "base/str.h"
#include "ops/home.h"
#include "ops/inspect.h"
#include "ops/restore.h"
#include "ops/stick.h"
#include "progress.h"

/* --- restore ---------------------------------------------------------------*/

static const struct opt restore_options[] = {
	{ "newest", NULL,
	    "the newest whole one of FOLDER, or of the settings' stick or "
	    "folder" },
	{ "stick", "LABEL", "the newest whole one on the stick of this label" },
	{ "yes", NULL, "do it; without it only says what would be lost" },
	{ "aside", NULL, "only set the file aside, whole; there is none then" },
	{ NULL, NULL, NULL },
};

/* Which backup is meant. */
static enum rc
find_backup(char from[SWAP_PATH_SIZE], struct station *sn, const char *file,
    const struct args *a, struct err *err)
{
	const char *label = args_get(a, "stick");
	const char *operand = a->operand_count > 0 ? a->operand[0] : NULL;
	char folder[FILE_PATH_SIZE];
	int skipped = 0;
	enum rc rc;

	if (label == NULL && !args_flag(a, "newest")) {
		if (operand != NULL && str_copy(from, SWAP_PATH_SIZE, operand))
			return RC_OK;
		return err_set(err, RC_INVALID, 0,
		    "name the backup, or say --newest [FOLDER] or --stick "
		    "LABEL");
	}
	if ((rc = stick_folder(folder, sn, label, operand, err)) != RC_OK ||
	    (rc = restore_newest(from, &skipped, sn, file, folder, err)) !=
		RC_OK)
		return rc;
	if (skipped > 0)
		fprintf(stderr, "%d newer not whole: passed over\n", skipped);
	return RC_OK;
}

static enum rc
only_say(struct buf *out, const struct station *sn, const char *file,
    const char *from, const struct args *a, struct err *err)
{
	struct restore_look l;
	struct jsonw *w;
	enum rc rc = restore_look(&l, sn, file, from, NULL, NULL, err);

	if (rc == RC_OK && a->format == FORMAT_JSON) {
		w = jsonw_new_object();
		restore_json(w, &l);
		jsonw_dump(out, w, true);
		jsonw_free(w);
	} else if (rc == RC_OK) {
		restore_words(out, &l);
	}
	restore_look_fini(&l);
	if (rc != RC_OK)
		return rc;
	return err_set(err, RC_REFUSED, 0,
	    "nothing was changed: --yes --by INITIALS puts that backup in "
	    "place");
}

static enum rc
do_it(struct buf *out, struct station *sn, const char *file, const char *from,
    const struct args *a, struct err *err)
{
	struct progress p;
	struct restore_wish w = {
		.file = file, .from = from, .tell = progress_copy, .arg = &p
	};
	struct restore_done d;
	struct jsonw *j;
	enum rc rc = cmd_by(&w.by, a, err);

	if (rc != RC_OK)
		return rc;
	progress_begin(&p);
	rc = restore_run(&d, sn, &w, err);
	if (rc == RC_OK && a->format == FORMAT_JSON) {
		j = jsonw_new_object();
		restore_json(j, &d.look);
		jsonw_str(j, "aside", d.aside);
		jsonw_int(j, "held_again", d.held_again);
		jsonw_int(j, "held_gone", d.held_gone);
		jsonw_int(j, "unsure", d.unsure);
		jsonw_str(j, "doubt", d.doubt);
		jsonw_dump(out, j, true);
		jsonw_free(j);
	} else if (rc == RC_OK) {
		restore_words(out, &d.look);
		restore_done_words(out, &d);
	}
	restore_done_fini(&d);
	return rc;
}

static enum rc
set_aside(struct buf *out, const struct station *sn, const char *file,
    const struct args *a, struct err *err)
{
	char aside[SWAP_PATH_SIZE];
	enum rc rc;

	if (!args_flag(a, "yes"))
		return err_set(err, RC_REFUSED, 0,
		    "nothing was changed: --aside --yes takes %s out of its "
		    "place",
		    file);
	if ((rc = restore_set_aside(aside, sn, file, err)) == RC_OK)
		buf_printf(out, "set aside whole, as %s\n", aside);
	return rc;
}

static enum rc
run_restore(
    struct buf *out, struct station *sn, const struct args *a, struct err *err)
{
	char file[CONFIG_PATH_SIZE], from[SWAP_PATH_SIZE];
	enum rc rc = station_file(file, &a->where, sn, err);

	if (rc != RC_OK)
		return rc;
	if (args_flag(a, "aside"))
		return set_aside(out, sn, file, a, err);
	if ((rc = find_backup(from, sn, file, a, err)) != RC_OK)
		return rc;
	if (!args_flag(a, "yes"))
		return only_say(out, sn, file, from, a, err);
	return do_it(out, sn, file, from, a, err);
}

const struct cmd cmd_restore = {
	.name = "restore",
	.operands = "[FILE|FOLDER]",
	.summary = "a backup in place of the station file",
	.help =
	    "Looks at all of the backup, says what was recorded since and "
	    "would be lost, and changes nothing without --yes.  The file "
	    "before is set aside whole and stays.  Codes go on behind those "
	    "given out since; holds are put on again.",
	.options = restore_options,
	.max_operands = 1,
	.needs = NEEDS_TABLES,
	.records = true,
	.run = run_restore,
};

/* --- inspect ---------------------------------------------------------------*/

static const struct opt inspect_options[] = {
	{ "quick", NULL, "what can be looked at in a third of a second" },
	{ "record", NULL,
	    "write a good result into the file; the station does so daily" },
	{ NULL, NULL, NULL },
};

static enum rc
record_good(const struct args *a, const struct inspected *i, struct err *err)
{
	struct station *open = NULL;
	enum rc rc = station_open(&open, &a->where, true, err);

	if (rc == RC_OK)
		rc = inspect_record(open, i, err);
	station_close(open);
	return rc;
}

static enum rc
run_inspect(
    struct buf *out, struct station *sn, const struct args *a, struct err *err)
{
	char file[CONFIG_PATH_SIZE];
	bool quick = args_flag(a, "quick");
	struct inspected i;
	struct progress p;
	enum rc rc = station_file(file, &a->where, sn, err);

	if (rc != RC_OK)
		return rc;
	progress_begin(&p);
	rc = inspect_file(
	    &i, file, quick ? INSPECT_QUICK_MS : 0, progress_check, &p, err);
	if (rc != RC_OK)
		return rc;
	inspect_words(out, &i, a->format);
	if (quick || !args_flag(a, "record"))
		return RC_OK;
	return record_good(a, &i, err);
}

const struct cmd cmd_inspect = {
	.name = "inspect",
	.operands = "",
	.summary = "is the station file whole, and closed to others",
	.help =
	    "Every page, index and link of the file.  What is found damaged is "
	    "written down beside it, and nothing is written to the file from "
	    "then on; found whole again, it may be.",
	.options = inspect_options,
	.needs = NEEDS_TABLES,
	.run = run_inspect,
};

/* --- moved -----------------------------------------------------------------*/

static enum rc
run_moved(
    struct buf *out, struct station *sn, const struct args *a, struct err *err)
{
	const char *by;
	enum rc rc;

	if ((rc = cmd_by(&by, a, err)) != RC_OK ||
	    (rc = home_moved(sn, by, err)) != RC_OK)
		return rc;
	buf_puts(out, "it works on this computer from now on\n");
	return RC_OK;
}

const struct cmd cmd_moved = {
	.name = "moved",
	.operands = "",
	.summary = "say that the station file was moved to this computer",
	.help =
	    "Only when the other computer does not work with its file any "
	    "more: two stations on copies of one file would give the same "
	    "code twice.",
	.needs = NEEDS_STORE,
	.records = true,
	.run = run_moved,
};
