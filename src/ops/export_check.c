/* export_check.c - a receiving table held against the record. */
#include "ops/export.h"

#include <stdlib.h>
#include <string.h>

#include "base/csv.h"
#include "base/file.h"
#include "base/mem.h"
#include "base/str.h"
#include "exporting.h"
#include "received_of.h"
#include "store/batches.h"
#include "store/snapshot.h"

/* Of a large kitchen about 20 years. */
#define CHECK_MAX ((size_t)64 * 1024 * 1024)

struct checking {
	struct export_check *out;
	struct station *sn;
	const struct csv *csv;
	day_no first, last;      /* of goods in, in the file */
	char (*seen)[CODE_SIZE]; /* owned; batches of the file */
	size_t seen_count, seen_cap;
};

static void
differs(struct checking *k, const char *batch, const char *column,
    const char *file, const char *record)
{
	struct export_differs *d;

	if (k->out->differ_count++ >= EXPORT_DIFFERS_MAX)
		return;
	d = &k->out->differs[k->out->differ_count - 1];
	str_copy(d->batch, sizeof(d->batch), batch);
	d->line = csv_line(k->csv);
	d->column = column;
	str_fmt(d->file, sizeof(d->file), "%.79s", file);
	str_fmt(d->record, sizeof(d->record), "%.79s", record);
	utf8_clean(d->file); /* may end within a letter */
	utf8_clean(d->record);
}

/* Both as they would be written, so that "12.5" is "12.500". */
static void
compare(struct checking *k, const struct received *file,
    const struct received *record)
{
	const char *const *columns = received_columns();
	char a[RECEIVED_CELL_MAX], b[RECEIVED_CELL_MAX];
	bool same = true;
	size_t i;

	for (i = 0; columns[i] != NULL; i++) {
		received_cell(a, file, i);
		received_cell(b, record, i);
		if (str_eq(a, b))
			continue;
		same = false;
		differs(k, record->batch.code, columns[i], a, b);
	}
	if (same)
		k->out->same++;
}

static enum rc
check_row(struct checking *k, const struct received *file, struct err *err)
{
	struct received record;
	struct err none = { 0 };
	struct batch b;
	day_no day;
	enum rc rc;

	k->out->rows++;
	rc = batch_get(&b, k->sn->st, file->batch.code, &none);
	if (rc == RC_NOTFOUND) {
		k->out->unknown++;
		differs(k, file->batch.code, "batch", file->batch.code, "");
		return RC_OK;
	}
	if (rc != RC_OK)
		return err_set(err, rc, none.lib, "%s", none.text);
	if ((rc = received_of(&record, k->sn, &b, err)) != RC_OK)
		return rc;
	k->seen = grow(k->seen, &k->seen_cap, k->seen_count, sizeof(*k->seen));
	str_copy(k->seen[k->seen_count++], CODE_SIZE, b.code);
	/* The record's day: what the file says of it may be wrong. */
	day = local_from_utc(b.received.utc).day;
	if (k->first == DAY_NONE || day < k->first)
		k->first = day;
	if (k->last == DAY_NONE || day > k->last)
		k->last = day;
	compare(k, file, &record);
	return RC_OK;
}

static int
by_code(const void *a, const void *b)
{
	return strcmp(a, b);
}

/*
 * Batches of these days the record has: each that is not in the file counts.
 * One that stands in it twice makes up for no other.
 */
static enum rc
count_absent(struct checking *k, struct err *err)
{
	int64_t known = 0, there = 0;
	struct batch_list l;
	day_no day;
	size_t i;
	enum rc rc = RC_OK;

	if (k->seen_count > 0)
		qsort(k->seen, k->seen_count, sizeof(*k->seen), by_code);
	for (i = 0; i < k->seen_count; i++)
		if (i == 0 || !str_eq(k->seen[i], k->seen[i - 1]))
			known++;
		else
			k->out->twice++;

	for (day = k->first; rc == RC_OK && day != DAY_NONE && day <= k->last;
	     day++) {
		rc = batch_list_day(&l, k->sn->st, day, err);
		if (rc == RC_OK)
			there += (int64_t)l.count;
		batch_list_fini(&l);
	}
	k->out->absent = there > known ? there - known : 0;
	return rc;
}

enum rc
export_check(struct export_check *out, struct station *sn, const char *path,
    struct err *err)
{
	struct checking k = {
		.out = out, .sn = sn, .first = DAY_NONE, .last = DAY_NONE
	};
	struct received row;
	struct csv *c = NULL;
	struct buf text;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	buf_init(&text, CHECK_MAX);
	if ((rc = file_read(&text, path, err)) != RC_OK ||
	    (rc = csv_open(&c, path, buf_text(&text), text.len,
		 received_columns(), NULL, err)) != RC_OK)
		goto done;
	k.csv = c;
	if ((rc = snapshot_begin(sn->st, err)) != RC_OK)
		goto done;
	while ((rc = csv_next(c, err)) == RC_OK)
		if ((rc = received_read(&row, c, err)) != RC_OK ||
		    (rc = check_row(&k, &row, err)) != RC_OK)
			goto done;
	if (rc == RC_END)
		rc = count_absent(&k, err);
done:
	snapshot_end(sn->st);
	csv_close(c);
	buf_fini(&text);
	free(k.seen);
	return rc;
}
