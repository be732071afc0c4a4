/* cmd_backup.c - backup, export. */
#include "cmds.h"

#include <inttypes.h>

#include "base/jsonw.h"
#include "base/str.h"
#include "ops/backup.h"
#include "ops/export.h"
#include "ops/stick.h"
#include "progress.h"

/* --- backup ----------------------------------------------------------------*/

static const struct opt backup_options[] = {
	{ "keep", "N",
	    "so many stay there, the new one counted; from the settings when "
	    "not given" },
	{ "stick", "LABEL", "on the stick of this label, where it is mounted" },
	{ "list", NULL, "say what is there and make none" },
	{ NULL, NULL, NULL },
};

static void
put_backup(struct buf *out, struct jsonw *w, const struct backup *b)
{
	char when[48], size[32];

	if (w != NULL) {
		jsonw_object(w, NULL);
		jsonw_str(w, "name", b->name);
		jsonw_int(w, "bytes", b->bytes);
		jsonw_int(w, "row", b->head.last_row);
		jsonw_time(w, "until", b->head.last_utc);
		if (b->apart_after != BACKUP_TOGETHER)
			jsonw_int(w, "apart_after", b->apart_after);
		jsonw_end(w);
		return;
	}
	str_fmt(size, sizeof(size), "%" PRId64 ".%" PRId64 " MB",
	    b->bytes / 1000000, b->bytes / 100000 % 10);
	buf_printf(out, "%s  %10s  until %s, row %" PRId64 "\n", b->name, size,
	    time_minute(when, sizeof(when), b->head.last_utc),
	    b->head.last_row);
	if (b->apart_after != BACKUP_TOGETHER)
		buf_printf(out,
		    "    another copy of this station went its own way after "
		    "row %" PRId64 "\n",
		    b->apart_after);
}

static enum rc
list_backups(struct buf *out, struct station *sn, const char *folder,
    enum format format, struct err *err)
{
	struct jsonw *w = NULL;
	struct backup_list l;
	size_t i;
	enum rc rc = backup_list_open(&l, sn, folder, err);

	if (rc == RC_OK && format == FORMAT_JSON) {
		w = jsonw_new_object();
		jsonw_int(w, "free_bytes", l.free_bytes);
		jsonw_int(w, "others", l.others);
		jsonw_array(w, "backups");
	}
	for (i = 0; rc == RC_OK && i < l.count; i++)
		put_backup(out, w, &l.items[i]);
	if (w != NULL) {
		jsonw_end(w);
		jsonw_dump(out, w, true);
		jsonw_free(w);
	} else if (rc == RC_OK) {
		buf_printf(out,
		    "%zu backup%s of this station; %" PRId64 " MB free\n",
		    l.count, l.count == 1 ? "" : "s", l.free_bytes / 1000000);
		if (l.others > 0)
			buf_printf(out,
			    "%d other%s: of another station, or damaged; "
			    "never removed\n",
			    l.others, l.others == 1 ? "" : "s");
	}
	backup_list_fini(&l);
	return rc;
}

static enum rc
run_backup(
    struct buf *out, struct station *sn, const struct args *a, struct err *err)
{
	struct progress p;
	struct backup_wish wish = { .tell = progress_copy, .arg = &p };
	struct backup_done d;
	char folder[FILE_PATH_SIZE];
	int64_t keep = sn->cfg.backup_keep;
	enum rc rc;

	progress_begin(&p);
	rc = stick_folder(folder, sn, args_get(a, "stick"),
	    a->operand_count > 0 ? a->operand[0] : NULL, err);
	if (rc != RC_OK)
		return rc;
	wish.folder = folder;
	if (args_flag(a, "list"))
		return list_backups(out, sn, wish.folder, a->format, err);
	if ((rc = args_int(&keep, a, "keep", 1, BACKUP_KEEP_MAX, err)) !=
		RC_OK ||
	    (rc = cmd_by(&wish.by, a, err)) != RC_OK)
		return rc;
	wish.keep = (int)keep;
	rc = backup_run(&d, sn, &wish, err);
	if (rc != RC_OK)
		return rc;
	if (a->format == FORMAT_JSON) {
		struct jsonw *w = jsonw_new_object();

		jsonw_array(w, "backups");
		put_backup(out, w, &d.made);
		jsonw_end(w);
		jsonw_int(w, "removed", d.dropped);
		jsonw_bool(w, "same_disk", backup_same_disk(sn, folder));
		jsonw_dump(out, w, true);
		jsonw_free(w);
		return RC_OK;
	}
	put_backup(out, NULL, &d.made);
	if (backup_same_disk(sn, folder))
		buf_puts(out,
		    "it is on the disk of the station file and lost with it: "
		    "is the stick in?\n");
	buf_printf(out, "read back and whole; %d older removed\n", d.dropped);
	return RC_OK;
}

const struct cmd cmd_backup = {
	.name = "backup",
	.operands = "[FOLDER]",
	.summary = "a checked copy of the station file, on a stick",
	.help =
	    "FOLDER must be there; without it [backup] stick or folder of the "
	    "settings is taken.  Work may go on meanwhile.  The copy gets its "
	    "name once "
	    "it was read back and is whole; then the oldest beyond N are "
	    "removed, never those of another station.",
	.options = backup_options,
	.max_operands = 1,
	.needs = NEEDS_STORE,
	.records = true,
	.run = run_backup,
};

/* --- export ----------------------------------------------------------------*/

static const struct opt export_options[] = {
	{ "check", "FILE",
	    "write nothing: does this receiving table still say what the "
	    "record says?" },
	{ "replace", NULL, "a file of that name, which is left alone else" },
	{ NULL, NULL, NULL },
};

static void
check_json(struct buf *out, const struct export_check *c)
{
	struct jsonw *w = jsonw_new_object();
	const struct export_differs *d;
	char code[CODE_SIZE];
	int64_t i;

	jsonw_int(w, "rows", c->rows);
	jsonw_int(w, "same", c->same);
	jsonw_int(w, "unknown", c->unknown);
	jsonw_int(w, "twice", c->twice);
	jsonw_int(w, "absent", c->absent);
	jsonw_int(w, "differing_cells", c->differ_count);
	jsonw_array(w, "differs");
	for (i = 0; i < c->differ_count && i < EXPORT_DIFFERS_MAX; i++) {
		d = &c->differs[i];
		jsonw_object(w, NULL);
		jsonw_int(w, "line", d->line);
		jsonw_str(w, "batch", code_show(code, d->batch));
		jsonw_str(w, "column", d->column);
		jsonw_str(w, "file", d->file);
		jsonw_str(w, "record", d->record);
		jsonw_end(w);
	}
	jsonw_end(w);
	jsonw_dump(out, w, true);
	jsonw_free(w);
}

static void
check_text(struct buf *out, const struct export_check *c)
{
	const struct export_differs *d;
	char code[CODE_SIZE];
	int64_t i;

	for (i = 0; i < c->differ_count && i < EXPORT_DIFFERS_MAX; i++) {
		d = &c->differs[i];
		buf_printf(out,
		    "line %d, %s, %s: the file says \"%s\", the "
		    "record \"%s\"\n",
		    d->line, code_show(code, d->batch), d->column, d->file,
		    d->record);
	}
	if (c->differ_count > EXPORT_DIFFERS_MAX)
		buf_printf(out, "and %" PRId64 " more cells\n",
		    c->differ_count - EXPORT_DIFFERS_MAX);
	buf_printf(out,
	    "%" PRId64 " rows: %" PRId64 " say what the record says; %" PRId64
	    " of batches that are not in it, %" PRId64 " twice; %" PRId64
	    " batches of those days are not in the file\n",
	    c->rows, c->same, c->unknown, c->twice, c->absent);
}

static enum rc
run_check(
    struct buf *out, struct station *sn, const struct args *a, struct err *err)
{
	const char *path = args_get(a, "check");
	struct export_check c;
	enum rc rc;

	if (a->operand_count > 0)
		return err_set(err, RC_INVALID, 0,
		    "--check takes no other words: it writes nothing");
	if ((rc = export_check(&c, sn, path, err)) != RC_OK)
		return rc;
	if (a->format == FORMAT_JSON)
		check_json(out, &c);
	else
		check_text(out, &c);
	if (c.same == c.rows && c.twice == 0 && c.absent == 0)
		return RC_OK;
	return err_set(
	    err, RC_REFUSED, 0, "%s: does not say what the record says", path);
}

static enum rc
run_export(
    struct buf *out, struct station *sn, const struct args *a, struct err *err)
{
	struct progress p;
	struct export_wish wish = {
		.kind = a->operand[0],
		.what = a->operand_count == 3 ? a->operand[1] : NULL,
		.replace = args_flag(a, "replace"),
		.tell = progress_rows,
		.arg = &p,
	};
	struct export_done d;
	enum rc rc;

	if (args_get(a, "check") != NULL)
		return run_check(out, sn, a, err);
	if (a->operand_count < 2)
		return err_set(err, RC_INVALID, 0,
		    "name what to export and the folder: see --help");
	wish.folder = a->operand[a->operand_count - 1];
	progress_begin(&p);
	if ((rc = export_run(&d, sn, &wish, err)) != RC_OK)
		return rc;
	if (a->format == FORMAT_JSON) {
		struct jsonw *w = jsonw_new_object();

		jsonw_str(w, "file", d.path);
		jsonw_int(w, "bytes", d.bytes);
		jsonw_dump(out, w, true);
		jsonw_free(w);
		return RC_OK;
	}
	buf_printf(out, "%s: %" PRId64 " bytes\n", d.path, d.bytes);
	return RC_OK;
}

const struct cmd cmd_export = {
	.name = "export",
	.operands =
	    "stock|day|trace|yields|waste|audit|receiving|chain|epcis "
	    "[DATE|FROM..TO|all|CODE] FOLDER",
	.summary = "a part of the record as a file in a folder",
	.help =
	    "stock, day DATE (today when not given), trace CODE, "
	    "yields "
	    "and waste (by week, for a year) or audit (the whole trail); "
	    "receiving (what came in), chain (what happened) or epcis (the "
	    "same as EPCIS 2.0), each of a DATE (today when not given), of "
	    "days FROM..TO, of all or of a batch's CODE.  The "
	    "file is pinbone-KIND-WHAT.csv, of epcis .jsonld; it is there "
	    "whole or not at all, and one that is there is left alone without "
	    "--replace.  --check ends with 3 when anything differs.",
	.options = export_options,
	.max_operands = 3,
	.needs = NEEDS_STORE,
	.run = run_export,
};
