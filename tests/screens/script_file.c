/* script_file.c - a file that cannot be used, and a backup put in its place. */
#include "script.h"

#include "base/str.h"
#include "screens/restore.h"

struct desk *
script_rescue(struct station **sn, const struct station_options *o,
    const struct desk_host *host, int w, int h, const struct err *why)
{
	if (!damage_said(why) || station_open(sn, o, false, NULL) != RC_OK)
		return NULL;
	str_copy((*sn)->file, sizeof((*sn)->file), o->db);
	return desk_new_rescue(*sn, host, (*sn)->file, why->text, w, h);
}

struct desk *
script_swap(struct desk *d, struct station **sn, const char *now,
    const struct desk_host *host, int w, int h, struct err *err)
{
	const struct station_options o = {
		.db = "pinbone.db",
		.config = "station.ini",
		.now = now,
	};
	char from[DESK_PATH_SIZE], by[16];
	struct buf said;

	str_copy(from, sizeof(from), d->restore_from);
	str_copy(by, sizeof(by), d->by);
	desk_free(d);
	buf_init(&said, 65536);
	if (desk_swap(sn, &o, from, by, &said, err) != RC_OK)
		desk_swap_failed(&said, err);
	d = NULL;
	if (*sn != NULL) {
		d = desk_new(*sn, host, w, h);
		desk_read(d, desk_swap_title(), buf_text(&said));
	}
	buf_fini(&said);
	return d;
}
