/* lesson.c - a training station of its own for the first lesson. */
#include "ops/lesson.h"

#include <errno.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "base/file.h"
#include "base/str.h"
#include "ops/bring_in.h"

#define BY "lesson"

static const char suppliers[] =
    "code,name,address,approval,contact\n"
    "lowtide,Lowtide Landings,\"1 Slipway, Marram Bay\",XX 1003,office\n";

static const char menu[] =
    "dish,name,state,species,cut,skin,bought,low,target,high,mix,price,pieces,"
    "allergens\n"
    "hake-lemon,\"Roast hake, lemon\",raw,HKE,supreme,on,gutted,150,165,185,"
    "dinner:40,21.00,,\n";

static enum rc
find_folder(char *dst, size_t size, const char *folder, struct err *err)
{
	const char *xdg = getenv("XDG_DATA_HOME"), *home = getenv("HOME");
	bool fits;

	if (folder != NULL)
		fits = str_copy(dst, size, folder);
	else if (xdg != NULL && xdg[0] == '/')
		fits = str_fmt(dst, size, "%s/pinbone/lesson", xdg);
	else
		fits = str_fmt(dst, size, "%s/.local/share/pinbone/lesson",
		    home == NULL ? "" : home);
	if (!fits)
		return err_set(err, RC_INVALID, 0,
		    "the folder of the lesson has too long a path");
	return RC_OK;
}

static enum rc
put_settings(const struct lesson_place *p, const struct station *sn,
    const char *folder, struct err *err)
{
	const struct config *c = &sn->cfg;
	struct buf b;
	enum rc rc;

	buf_init(&b, 8192);
	buf_printf(&b,
	    "[station]\nkitchen = Lesson kitchen\ntraining = yes\n"
	    "timezone = %s\ndata_folder = %s\n"
	    "[rules]\nset = %s\n"
	    "[label]\nfont = %s\nfont_mono = %s\n"
	    "[printer]\nlanguage = png\naddress = preview:%s/labels\n"
	    "[service dinner]\nstarts = 18:00\nends = 23:00\n",
	    c->timezone, c->data_folder, c->rules_set, c->font, c->font_mono,
	    folder);
	rc = file_write(p->config, b.data, b.len, err);
	buf_fini(&b);
	return rc;
}

/* A file of an earlier lesson, with what SQLite keeps beside it. */
static enum rc
remove_old(const char *db, struct err *err)
{
	static const char *const ends[] = { "", "-wal", "-shm", "-journal" };
	char path[CONFIG_PATH_SIZE + 16];
	size_t i;

	for (i = 0; i < sizeof(ends) / sizeof(ends[0]); i++) {
		str_fmt(path, sizeof(path), "%s%s", db, ends[i]);
		if (unlink(path) != 0 && errno != ENOENT)
			return err_set(err, RC_FAILED, errno, "%s: %s", path,
			    strerror(errno));
	}
	return RC_OK;
}

typedef enum rc bring_in_fn(struct import_result *out, struct station *sn,
    const char *path, const char *by, struct err *err);

static enum rc
bring(struct station *sn, const char *folder, const char *name,
    const char *text, bring_in_fn *in, struct err *err)
{
	char path[CONFIG_PATH_SIZE + 32];
	struct import_result seen;
	enum rc rc;

	str_fmt(path, sizeof(path), "%s/%s", folder, name);
	if ((rc = file_write(path, text, strlen(text), err)) != RC_OK)
		return rc;
	return in(&seen, sn, path, BY, err);
}

static enum rc
fill(const struct lesson_place *p, const char *folder, day_no today,
    struct err *err)
{
	const struct station_options o = { p->db, p->config, p->now };
	char bookings[120], day[16], path[CONFIG_PATH_SIZE];
	struct station *sn = NULL;
	enum rc rc;

	str_fmt(bookings, sizeof(bookings),
	    "date,service,covers\n%s,dinner,24\n",
	    day_print(day, sizeof(day), today));
	if ((rc = station_init(path, &o, err)) != RC_OK ||
	    (rc = station_open(&sn, &o, true, err)) != RC_OK)
		return rc;
	if ((rc = bring(sn, folder, "suppliers.csv", suppliers,
		 import_suppliers, err)) == RC_OK &&
	    (rc = bring(sn, folder, "menu.csv", menu, import_menu, err)) ==
		RC_OK)
		rc = bring(
		    sn, folder, "bookings.csv", bookings, import_bookings, err);
	station_close(sn);
	return rc;
}

enum rc
lesson_make(struct lesson_place *out, const struct station *sn,
    const char *folder, struct err *err)
{
	char place[CONFIG_PATH_SIZE - 32], day[16];
	day_no today = local_from_utc(clock_now(&sn->clock)).day;
	enum rc rc;

	if ((rc = find_folder(place, sizeof(place), folder, err)) != RC_OK)
		return rc;
	str_fmt(out->config, sizeof(out->config), "%s/station.ini", place);
	str_fmt(out->db, sizeof(out->db), "%s/lesson.db", place);
	str_fmt(out->now, sizeof(out->now), "%sT09:00",
	    day_print(day, sizeof(day), today));
	if ((rc = file_make_folder(out->config, err)) != RC_OK ||
	    (rc = remove_old(out->db, err)) != RC_OK ||
	    (rc = put_settings(out, sn, place, err)) != RC_OK)
		return rc;
	return fill(out, place, today, err);
}
