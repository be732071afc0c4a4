/* cmd_label.c - preview, print and reprint labels. */
#include "cmds.h"

#include "base/file.h"
#include "base/jsonw.h"
#include "base/str.h"
#include "ops/label.h"
#include "ops/queue.h"

static const struct opt options[] = {
	{ "png", "FILE", "preview: a picture" },
	{ "wire", "LANGUAGE", "preview: the bytes a printer would get" },
	{ "out", "FILE", "preview: where the bytes go, - for standard output" },
	{ "size", "SIZE", "preview: 60x40 or 50x25" },
	{ "dpi", "DPI", "preview: 203 or 300" },
	CMD_LABEL_OPTIONS,
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

enum rc
cmd_label_order(struct label_order *out, const struct args *a, struct err *err)
{
	int64_t wait_s = 10;
	enum rc rc;

	out->printer = args_get(a, "printer");
	out->only_queue = args_flag(a, "queue");
	if ((rc = cmd_by(&out->by, a, err)) != RC_OK ||
	    (rc = args_int(&wait_s, a, "wait", 0, 600, err)) != RC_OK)
		return rc;
	out->wait_ms = (int)wait_s * 1000;
	return RC_OK;
}

static void
put_job(struct buf *out, const struct print_job *job, const char *name)
{
	char what[QUEUE_WHAT_SIZE];

	buf_printf(out, "%s: %s %s", name, queue_what(what, job),
	    job_state_word(job->state));
	if (job->copy > 0)
		buf_printf(out, ", reprint %d", job->copy);
	buf_printf(out, " to %s\n", job->printer);
}

void
cmd_put_jobs(struct buf *out, const struct job_list *jobs, enum format format)
{
	char name[QUEUE_NAME_SIZE];
	const struct print_job *job;
	struct jsonw *w = NULL;
	size_t i;

	if (format == FORMAT_JSON) {
		w = jsonw_new_object();
		jsonw_array(w, "labels");
	}
	for (i = 0; i < jobs->count; i++) {
		job = &jobs->items[i];
		queue_name(name, job);
		if (w == NULL) {
			put_job(out, job, name);
			continue;
		}
		jsonw_object(w, NULL);
		jsonw_str(w, "code", name);
		jsonw_int(w, "job", job->id);
		jsonw_str(w, "says", job_says_word(job->says));
		jsonw_str(w, "list", job->list);
		jsonw_int(w, "page", job->page);
		jsonw_int(w, "copy", job->copy);
		jsonw_str(w, "state", job_state_word(job->state));
		jsonw_str(w, "reason", job->error);
		jsonw_str(w, "printer", job->printer);
		jsonw_end(w);
	}
	if (w == NULL)
		return;
	jsonw_end(w);
	jsonw_dump(out, w, true);
	jsonw_free(w);
}

static enum rc
print_labels(struct buf *out, struct station *sn, const struct args *a,
    enum label_want want, struct err *err)
{
	const char *codes[ARGS_OPERANDS_MAX];
	struct label_order order = { .codes = codes, .want = want };
	struct job_list jobs;
	enum rc rc;

	if ((rc = cmd_label_order(&order, a, err)) != RC_OK)
		return rc;
	for (; order.count + 1 < a->operand_count; order.count++)
		codes[order.count] = a->operand[order.count + 1];
	rc = label_print(&jobs, sn, &order, err);
	if (jobs.count > 0)
		cmd_put_jobs(out, &jobs, a->format);
	job_list_fini(&jobs);
	return rc;
}

static enum rc
run(struct buf *out, struct station *sn, const struct args *a, struct err *err)
{
	const char *verb = a->operand[0];

	if (str_eq(verb, "preview"))
		return preview(out, sn, a, err);
	if (str_eq(verb, "print"))
		return print_labels(out, sn, a, LABEL_FIRST, err);
	if (str_eq(verb, "reprint"))
		return print_labels(out, sn, a, LABEL_AGAIN, err);
	if (str_eq(verb, "hold"))
		return print_labels(out, sn, a, LABEL_ON_HOLD, err);
	return err_set(err, RC_INVALID, 0,
	    "label takes preview, print, reprint or hold, not \"%.30s\"", verb);
}

const struct cmd cmd_label = {
	.name = "label",
	.operands = "preview|print|reprint|hold CODE...",
	.summary = "labels of batches and portions",
	.help =
	    "A label is printed once; a reprint carries a visible mark "
	    "and its count. hold prints a label that says do not use, for "
	    "what is on hold.\nA label that cannot be printed now stays in "
	    "the queue and comes out when the printer is ready: see pinbone "
	    "printer --help.",
	.options = options,
	.min_operands = 2,
	.max_operands = ARGS_OPERANDS_MAX,
	.needs = NEEDS_STORE,
	.records = true,
	.run = run,
};
