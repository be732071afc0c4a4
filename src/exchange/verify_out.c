/* verify_out.c - faults of the record as text or JSON. */
#include "exchange/verify_out.h"

#include <inttypes.h>

#include "base/jsonw.h"
#include "core/paper_code.h"

static const char *
code_of(char shown[PAPER_SHOW_SIZE], const struct trail_report *r)
{
	char code[PAPER_CODE_SIZE];

	return paper_code_show(shown, paper_code_make(code, r->head.digest));
}

static void
put_json(struct buf *out, const struct trail_report *r, bool paper)
{
	struct jsonw *w = jsonw_new_object();
	char shown[PAPER_SHOW_SIZE];
	size_t i;

	jsonw_int(w, "found", r->found);
	jsonw_int(w, "trail_rows", r->trail_rows);
	jsonw_int(w, "adopted_rows", r->adopted_rows);
	jsonw_int(w, "rows", r->rows);
	jsonw_int(w, "row", r->head.row);
	jsonw_str(w, "digest", r->head.digest);
	jsonw_str(w, "code", code_of(shown, r));
	if (paper) {
		jsonw_int(w, "paper_row", r->paper_row);
		if (r->paper_row > 0)
			jsonw_int(w, "rows_since", r->head.row - r->paper_row);
	}
	jsonw_array(w, "faults");
	for (i = 0; i < r->fault_count; i++) {
		jsonw_object(w, NULL);
		jsonw_str(w, "kind", tamper_word(r->faults[i].kind));
		jsonw_str(w, "table", r->faults[i].table);
		jsonw_str(w, "key", r->faults[i].key);
		jsonw_str(w, "text", r->faults[i].text);
		jsonw_end(w);
	}
	jsonw_end(w);
	jsonw_dump(out, w, true);
	jsonw_free(w);
}

static void
put_text(struct buf *out, const struct trail_report *r, bool paper)
{
	char shown[PAPER_SHOW_SIZE];
	size_t i;

	for (i = 0; i < r->fault_count; i++)
		buf_printf(out, "%s\n", r->faults[i].text);
	if (r->found > (int64_t)r->fault_count)
		buf_printf(out, "and %" PRId64 " more\n",
		    r->found - (int64_t)r->fault_count);
	buf_printf(out,
	    "rows looked at: %" PRId64 " of the audit trail, %" PRId64
	    " of the record; not as recorded: %" PRId64 "\n",
	    r->trail_rows, r->rows, r->found);
	if (r->adopted_rows > 0)
		buf_printf(out,
		    "%" PRId64
		    " rows are older than the trail: as they were "
		    "when it began\n",
		    r->adopted_rows);
	buf_printf(out, "the trail ends with row %" PRId64 ", %s\n",
	    r->head.row, code_of(shown, r));
	if (paper && r->paper_row > 0)
		buf_printf(out,
		    "the paper is of row %" PRId64 "; rows since: %" PRId64
		    "\n",
		    r->paper_row, r->head.row - r->paper_row);
}

void
verify_write(struct buf *out, const struct trail_report *r, bool paper,
    enum format format)
{
	if (format == FORMAT_JSON)
		put_json(out, r, paper);
	else
		put_text(out, r, paper);
}
