/* inspect.c - is the station file whole? */
#include "ops/inspect.h"

#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

#include "base/file.h"
#include "base/jsonw.h"
#include "base/str.h"
#include "ops/watch.h"
#include "store/store.h"
#include "store/swap.h"

static void
look_at_modes(struct inspected *out, const char *file)
{
	static const char *const tails[] = { "", "-wal", "-shm" };
	char path[CONFIG_PATH_SIZE + 8], more[CONFIG_PATH_SIZE + 40];
	struct stat st;
	size_t i, len;

	for (i = 0; i < sizeof(tails) / sizeof(tails[0]); i++) {
		if (!str_fmt(path, sizeof(path), "%s%s", file, tails[i]) ||
		    stat(path, &st) != 0 ||
		    (st.st_mode & (S_IROTH | S_IWOTH)) == 0)
			continue;
		str_fmt(more, sizeof(more), "%s%s (mode %03o)",
		    out->open_to_world[0] == '\0' ? "" : ", ", path,
		    (unsigned)st.st_mode & 0777);
		len = strlen(out->open_to_world);
		str_fmt(out->open_to_world + len,
		    sizeof(out->open_to_world) - len, "%.120s", more);
	}
	utf8_clean(out->open_to_world);
}

enum rc
inspect_file(struct inspected *out, const char *file, int64_t budget_ms,
    bool (*goes_on)(void *arg), void *arg, struct err *err)
{
	enum rc rc;

	memset(out, 0, sizeof(*out));
	/* Another file is about to be here: opening it sees to that. */
	if (budget_ms > 0 && swap_pending(file)) {
		out->whole.good = true;
		return RC_OK;
	}
	rc = budget_ms > 0 ? whole_quick(&out->whole, file, budget_ms, err)
			   : whole_full(&out->whole, file, goes_on, arg, err);
	if (rc != RC_OK)
		return rc;
	look_at_modes(out, file);
	if (!out->whole.good) {
		damage_mark(file, out->whole.found);
		return err_set(err, RC_FATAL, DAMAGE_LIB,
		    "%s: damaged (%s): nothing is written to it any more; "
		    "pinbone restore puts a backup in its place",
		    file, out->whole.found);
	}
	if (budget_ms == 0)
		damage_clear(file);
	return RC_OK;
}

void
inspect_words(struct buf *out, const struct inspected *i, enum format format)
{
	struct jsonw *w;

	if (format == FORMAT_JSON) {
		w = jsonw_new_object();
		jsonw_bool(w, "whole", i->whole.good);
		jsonw_bool(w, "all", i->whole.all);
		jsonw_int(w, "tables", i->whole.tables);
		jsonw_int(w, "tables_all", i->whole.tables_all);
		jsonw_int(w, "ms", i->whole.ms);
		jsonw_str(w, "open_to_world", i->open_to_world);
		jsonw_dump(out, w, true);
		jsonw_free(w);
		return;
	}
	if (i->whole.all)
		buf_printf(
		    out, "whole: %d tables looked through\n", i->whole.tables);
	else
		buf_printf(out,
		    "nothing wrong in %d of %d tables; the rest was not "
		    "reached in the time\n",
		    i->whole.tables, i->whole.tables_all);
	if (i->open_to_world[0] != '\0')
		buf_printf(out,
		    "open to everybody on this computer: %s: chmod 600\n",
		    i->open_to_world);
}

enum rc
inspect_record(struct station *sn, const struct inspected *i, struct err *err)
{
	char utc[24];
	struct moment at;
	enum rc rc = station_moment(&at, sn, "station", err);

	if (rc == RC_REFUSED) { /* the clock: said elsewhere */
		err_clear(err);
		return RC_OK;
	}
	if (rc != RC_OK || (rc = store_begin(sn->st, err)) != RC_OK)
		return rc;
	str_fmt(utc, sizeof(utc), "%lld", (long long)at.utc);
	if ((rc = store_fact_set(sn->st, "inspected_utc", utc, err)) == RC_OK &&
	    (rc = station_audit(sn, &at, err, "inspect", "file",
		 "whole: every page, index and link of %d tables",
		 i->whole.tables)) == RC_OK)
		rc = store_commit(sn->st, err);
	store_rollback(sn->st);
	return rc;
}

enum rc
inspect_last(int64_t *utc, struct station *sn, struct err *err)
{
	struct err none = { 0 };
	char text[24];
	enum rc rc =
	    store_fact_get(text, sizeof(text), sn->st, "inspected_utc", &none);

	*utc = rc == RC_OK ? strtoll(text, NULL, 10) : 0;
	if (rc == RC_OK || rc == RC_NOTFOUND)
		return RC_OK;
	return err_set(err, rc, none.lib, "%s", none.text);
}
