/* cmd_ticket.c - prep, order and recall list, day sheet, reports on paper. */
#include "cmds.h"

#include "base/file.h"
#include "base/jsonw.h"
#include "base/str.h"
#include "ops/ticket.h"
#include "plan_says.h"

static const struct opt options[] = {
	{ "text", NULL, "on standard output, 40 columns; the default" },
	{ "preview", "FOLDER", "every page as a picture" },
	{ "png", "FILE", "one page as a picture, see --page" },
	{ "page", "N", "which one, 1 when not given" },
	{ "width", "MM", "of previews: width of the roll" },
	{ "dpi", "DPI", "of previews: 203 or 300" },
	{ "print", NULL, "keep it and queue its pages for the printer" },
	CMD_LABEL_OPTIONS,
	PLAN_SAYS_OPTIONS,
	{ NULL, NULL, NULL },
};

static enum rc
read_paper(struct ticket_paper *p, const struct args *a, struct err *err)
{
	int64_t width = 0, dpi = 0;
	enum rc rc;

	*p = (struct ticket_paper){ .printer = args_get(a, "printer") };
	if ((rc = args_int(&width, a, "width", TICKET_WIDTH_MIN_MM,
		 TICKET_WIDTH_MAX_MM, err)) != RC_OK ||
	    (rc = args_int(&dpi, a, "dpi", 203, 300, err)) != RC_OK)
		return rc;
	p->width_mm = (int)width;
	p->dpi = (int)dpi;
	return RC_OK;
}

/* A page drawn and written; *pages is how many there are. */
static enum rc
write_page(int *pages, struct buf *out, struct station *sn,
    const struct ticket *t, int page, const struct ticket_paper *paper,
    const char *file, struct err *err)
{
	struct buf png;
	enum rc rc;

	buf_init(&png, FILE_READ_MAX);
	rc = ticket_preview(&png, pages, sn, t, page, paper, err);
	if (rc == RC_OK)
		rc = file_write(file, png.data, png.len, err);
	if (rc == RC_OK && !str_eq(file, "-"))
		buf_printf(out, "%s: page %d of %d\n", file, page, *pages);
	buf_fini(&png);
	return rc;
}

/* "prep-2026-12-04-lunch-1.png" in the folder. */
static enum rc
write_all(struct buf *out, struct station *sn, const struct ticket *t,
    const struct args *a, const struct ticket_paper *paper, struct err *err)
{
	char name[80], file[1024], *c;
	int page, pages = 1;
	enum rc rc;

	str_fmt(name, sizeof(name), "%s%s%.60s", a->operand[0],
	    a->operand_count > 1 ? "-" : "",
	    a->operand_count > 1 ? a->operand[1] : "");
	for (c = name; *c != '\0'; c++)
		if (*c == '/' || *c == ' ' || *c < ' ')
			*c = '-';
	for (page = 1; page <= pages; page++) {
		if (!str_fmt(file, sizeof(file), "%s/%s-%d.png",
			args_get(a, "preview"), name, page))
			return err_set(
			    err, RC_INVALID, 0, "--preview: too long a path");
		if ((rc = file_make_folder(file, err)) != RC_OK ||
		    (rc = write_page(
			 &pages, out, sn, t, page, paper, file, err)) != RC_OK)
			return rc;
	}
	return RC_OK;
}

static enum rc
print_it(struct buf *out, struct station *sn, enum ticket_kind kind,
    const struct ticket *t, const struct args *a, struct err *err)
{
	struct label_order order = { 0 };
	struct job_list jobs;
	enum rc rc;

	if ((rc = cmd_label_order(&order, a, err)) != RC_OK)
		return rc;
	rc = ticket_print(&jobs, sn, kind, t, &order, err);
	if (jobs.count > 0)
		cmd_put_jobs(out, &jobs, a->format);
	job_list_fini(&jobs);
	return rc;
}

static const struct {
	const char *word;
	enum ticket_kind kind;
	enum ticket_report report;
	const char *needs; /* NULL: nothing */
} kinds[] = {
	{ "prep", TICKET_PREP, 0, "DATE/SERVICE" },
	{ "order", TICKET_ORDER, 0, "DATE/SERVICE" },
	{ "recall", TICKET_RECALL, 0, "a code" },
	{ "day", TICKET_DAY, 0, NULL },
	{ "waste", TICKET_REPORT, REPORT_WASTE, NULL },
	{ "yields", TICKET_REPORT, REPORT_YIELDS, NULL },
};

static enum rc
read_kind(struct ticket_wish *out, const struct args *a, struct err *err)
{
	size_t i;

	for (i = 0; i < sizeof(kinds) / sizeof(kinds[0]); i++)
		if (str_eq(a->operand[0], kinds[i].word))
			break;
	if (i == sizeof(kinds) / sizeof(kinds[0]))
		return err_set(err, RC_INVALID, 0,
		    "ticket takes prep, order, recall, day, waste or yields, "
		    "not \"%.30s\"",
		    a->operand[0]);
	out->kind = kinds[i].kind;
	out->report = kinds[i].report;
	if (a->operand_count == 1 && kinds[i].needs != NULL)
		return err_set(err, RC_INVALID, 0, "ticket %s needs %s",
		    kinds[i].word, kinds[i].needs);
	return RC_OK;
}

static enum rc
put_out(struct buf *out, struct station *sn, enum ticket_kind kind,
    const struct ticket *t, const struct args *a, struct err *err)
{
	const char *png = args_get(a, "png");
	struct ticket_paper paper;
	int64_t page = 1;
	int pages;
	enum rc rc;

	if ((rc = read_paper(&paper, a, err)) != RC_OK ||
	    (rc = args_int(&page, a, "page", 1, 10000, err)) != RC_OK)
		return rc;
	if (args_flag(a, "text") ||
	    (png == NULL && args_get(a, "preview") == NULL &&
		!args_flag(a, "print")))
		ticket_show(out, t, a->format);
	if (png != NULL &&
	    (rc = write_page(
		 &pages, out, sn, t, (int)page, &paper, png, err)) != RC_OK)
		return rc;
	if (args_get(a, "preview") != NULL &&
	    (rc = write_all(out, sn, t, a, &paper, err)) != RC_OK)
		return rc;
	if (args_flag(a, "print") &&
	    (rc = print_it(out, sn, kind, t, a, err)) != RC_OK)
		return rc;
	return buf_check(out, "the list", err);
}

static enum rc
run(struct buf *out, struct station *sn, const struct args *a, struct err *err)
{
	struct plan_say says[PLAN_SAYS_MAX];
	struct ticket_wish wish = {
		.what = a->operand_count > 1 ? a->operand[1] : NULL,
		.why = args_flag(a, "why"),
		.strict = args_flag(a, "strict"),
		.says = says,
	};
	struct ticket *t = NULL;
	enum rc rc;

	if ((rc = read_kind(&wish, a, err)) != RC_OK ||
	    (rc = plan_says_read(says, &wish.say_count, a, err)) != RC_OK ||
	    (rc = ticket_make(&t, sn, &wish, err)) != RC_OK)
		return rc;
	rc = put_out(out, sn, wish.kind, t, a, err);
	ticket_free(t);
	return rc;
}

const struct cmd cmd_ticket = {
	.name = "ticket",
	.operands =
	    "prep|order DATE/SERVICE | recall CODE | day|waste|yields [DATE]",
	.summary =
	    "prep list, order list, recall list, day sheet, reports on a roll",
	.help =
	    "prep and order are the lists of plan, with its options; recall is "
	    "a batch, or a portion's batch, with all that was made of it and "
	    "what to pull first; day is what happened on a civil day, to be "
	    "signed; waste and yields are of the thirteen weeks that end with "
	    "a day's (today's when not given).",
	.options = options,
	.min_operands = 1,
	.max_operands = 2,
	.needs = NEEDS_STORE,
	.records = true,
	.run = run,
};
