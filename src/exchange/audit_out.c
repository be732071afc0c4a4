/* audit_out.c - the audit trail as text, JSON or CSV. */
#include "exchange/audit_out.h"

#include <inttypes.h>

#include "base/clock.h"
#include "base/csv.h"
#include "base/jsonw.h"
#include "exchange/changes_out.h"

static void
put_json(struct buf *out, const struct audit_list *l)
{
	struct jsonw *w = jsonw_new_object();
	const struct audit_row *row;
	size_t i;

	jsonw_array(w, "log");
	for (i = 0; i < l->count; i++) {
		row = &l->items[i];
		jsonw_object(w, NULL);
		jsonw_int(w, "row", row->id);
		jsonw_time(w, "at", row->at.utc);
		jsonw_str(w, "by", row->at.by);
		jsonw_str(w, "action", row->action);
		jsonw_str(w, "subject", row->subject);
		jsonw_str(w, "detail", row->detail);
		if (row->changes != NULL)
			changes_json(w, "changes", row->changes);
		jsonw_end(w);
	}
	jsonw_end(w);
	jsonw_dump(out, w, true);
	jsonw_free(w);
}

static void
put_text(struct buf *out, const struct audit_list *l)
{
	const struct audit_row *row;
	char when[48];
	size_t i;

	for (i = 0; i < l->count; i++) {
		row = &l->items[i];
		buf_printf(out, "%5" PRId64 "  %s  %-6s %-8s %-12s %s\n",
		    row->id, time_minute(when, sizeof(when), row->at.utc),
		    row->at.by, row->action, row->subject, row->detail);
		changes_text(out, row->changes, "           ");
	}
}

void
audit_csv_head(struct buf *out)
{
	buf_puts(out, "row,at,by,action,subject,detail\r\n");
}

void
audit_csv_rows(struct buf *out, const struct audit_list *l)
{
	const struct audit_row *row;
	char when[48];
	size_t i;

	for (i = 0; i < l->count; i++) {
		row = &l->items[i];
		buf_printf(out, "%" PRId64 ",%s,", row->id,
		    time_rfc3339(when, sizeof(when), row->at.utc));
		csv_quote(out, row->at.by);
		buf_printf(out, ",%s,", row->action);
		csv_quote(out, row->subject);
		buf_putc(out, ',');
		csv_quote(out, row->detail);
		buf_puts(out, "\r\n");
	}
}

void
audit_write(struct buf *out, const struct audit_list *l, enum format format)
{
	if (format == FORMAT_JSON) {
		put_json(out, l);
	} else if (format == FORMAT_CSV) {
		audit_csv_head(out);
		audit_csv_rows(out, l);
	} else {
		put_text(out, l);
	}
}
