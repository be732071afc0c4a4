/* cmd_label.c - preview, print and reprint labels. */
#include "cmds.h"

#include "base/file.h"
#include "base/jsonw.h"
#include "base/str.h"
#include "core/code.h"
#include "ops/label.h"

static const struct opt options[] = {
	{ "png", "FILE", "preview: a picture" },
	{ "wire", "LANGUAGE", "preview: the bytes a printer would get" },
	{ "out", "FILE", "preview: where the bytes go, - for standard output" },
	{ "size", "SIZE", "preview: 60x40 or 50x25" },
	{ "dpi", "DPI", "preview: 203 or 300" },
	{ NULL, NULL, NULL },
};

static enum rc
preview(
    struct buf *out, struct station *sn, const struct args *a, struct err *err)
{
	const char *png = args_get(a, "png"), *wire = args_get(a, "wire");
	const char *file = png != NULL ? png : args_get(a, "out");
	struct label_wish wish = {
		.code = a->operand[1],
		.language = png != NULL ? "png" : wire,
		.size = args_get(a, "size"),
	};
	int64_t dpi = 0;
	struct buf bytes;
	enum rc rc;

	if ((png != NULL) == (wire != NULL) || file == NULL)
		return err_set(err, RC_INVALID, 0,
		    "preview takes --png FILE, or --wire LANGUAGE with --out "
		    "FILE");
	if (a->operand_count != 2)
		return err_set(
		    err, RC_INVALID, 0, "preview takes one code at a time");
	if ((rc = args_int(&dpi, a, "dpi", 203, 300, err)) != RC_OK)
		return rc;
	wish.dpi = (int)dpi;
	buf_init(&bytes, FILE_READ_MAX);
	rc = label_preview(&bytes, sn, &wish, err);
	if (rc == RC_OK)
		rc = file_write(file, bytes.data, bytes.len, err);
	if (rc == RC_OK && !str_eq(file, "-"))
		buf_printf(out, "%s: %zu bytes\n", file, bytes.len);
	buf_fini(&bytes);
	return rc;
}

static void
put_job(struct buf *out, struct jsonw *w, const struct print_job *job,
    const char *code)
{
	if (w == NULL) {
		buf_printf(
		    out, "%s: label %s", code, job_state_word(job->state));
		if (job->copy > 0)
			buf_printf(out, ", reprint %d", job->copy);
		buf_printf(out, " to %s\n", job->printer);
		return;
	}
	jsonw_object(w, NULL);
	jsonw_str(w, "code", code);
	jsonw_int(w, "copy", job->copy);
	jsonw_str(w, "state", job_state_word(job->state));
	jsonw_str(w, "printer", job->printer);
	jsonw_end(w);
}

static enum rc
print_labels(struct buf *out, struct station *sn, const struct args *a,
    bool again, struct err *err)
{
	struct jsonw *w = NULL;
	char code[CODE_SIZE], shown[CODE_SIZE];
	enum code_kind kind;
	struct print_job job;
	const char *by;
	size_t i;
	enum rc rc;

	if ((rc = cmd_by(&by, a, err)) != RC_OK)
		return rc;
	if (a->format == FORMAT_JSON) {
		w = jsonw_new_object();
		jsonw_array(w, "labels");
	}
	for (i = 1; i < a->operand_count && rc == RC_OK; i++) {
		if ((rc = code_parse(&kind, code, a->operand[i], err)) !=
			RC_OK ||
		    (rc = label_print(&job, sn, code, again, by, err)) != RC_OK)
			break;
		put_job(out, w, &job, code_show(shown, code));
	}
	if (w != NULL) {
		jsonw_end(w);
		jsonw_dump(out, w, true);
		jsonw_free(w);
	}
	return rc;
}

static enum rc
run(struct buf *out, struct station *sn, const struct args *a, struct err *err)
{
	const char *verb = a->operand[0];

	if (str_eq(verb, "preview"))
		return preview(out, sn, a, err);
	if (str_eq(verb, "print") || str_eq(verb, "reprint"))
		return print_labels(out, sn, a, str_eq(verb, "reprint"), err);
	return err_set(err, RC_INVALID, 0,
	    "label takes preview, print or reprint, not \"%.30s\"", verb);
}

const struct cmd cmd_label = {
	.name = "label",
	.operands = "preview|print|reprint CODE...",
	.summary = "labels of batches and portions",
	.help =
	    "A label is printed once; a reprint carries a visible mark "
	    "and its count.",
	.options = options,
	.min_operands = 2,
	.max_operands = ARGS_OPERANDS_MAX,
	.needs = NEEDS_STORE,
	.records = true,
	.run = run,
};
