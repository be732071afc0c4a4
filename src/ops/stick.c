/* stick.c - where a stick with a label is mounted. */
#define _XOPEN_SOURCE 700 /* realpath() */
#include "ops/stick.h"

#include <errno.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/sysmacros.h>

#include "base/buf.h"
#include "base/mount.h"
#include "base/str.h"

const struct stick_place stick_here = {
	.by_label = "/dev/disk/by-label",
	.mountinfo = "/proc/self/mountinfo",
};

/* The device behind udev's name for the label. */
static enum rc
find_device(char device[FILE_PATH_SIZE], struct stat *st, const char *label,
    const struct stick_place *place, struct err *err)
{
	char name[4 * STICK_LABEL_MAX + 8], link[FILE_PATH_SIZE];
	char *real;
	bool fits;

	if (!mount_label_name(name, sizeof(name), label) ||
	    !str_fmt(link, sizeof(link), "%s/%s", place->by_label, name))
		return err_set(err, RC_INVALID, 0,
		    "stick \"%.40s\": the label is too long", label);
	real = realpath(link, NULL);
	if (real == NULL)
		return err_set(err, RC_NOTFOUND, errno,
		    "no stick is labelled %s: is it in?", label);
	fits = str_copy(device, FILE_PATH_SIZE, real) && stat(real, st) == 0;
	free(real);
	if (fits)
		return RC_OK;
	return err_set(err, RC_NOTFOUND, errno,
	    "the stick labelled %s was just taken out", label);
}

enum rc
stick_find(char folder[FILE_PATH_SIZE], const char *label,
    const struct stick_place *place, const char *touch, struct err *err)
{
	char device[FILE_PATH_SIZE];
	struct mount m;
	struct stat st, ignored;
	struct buf text;
	bool block, found;
	enum rc rc;

	folder[0] = '\0';
	if ((rc = text_check("the stick's label", label, STICK_LABEL_MAX, false,
		 err)) != RC_OK ||
	    (rc = find_device(device, &st, label, place, err)) != RC_OK)
		return rc;
	if (touch != NULL && stat(touch, &ignored) != 0)
		errno = 0; /* what is there now is asked below */
	buf_init(&text, FILE_READ_MAX);
	if ((rc = file_read(&text, place->mountinfo, err)) != RC_OK) {
		buf_fini(&text);
		return rc;
	}
	block = S_ISBLK(st.st_mode);
	found = mount_of(&m, buf_text(&text), device,
	    block ? major(st.st_rdev) : 0, block ? minor(st.st_rdev) : 0);
	buf_fini(&text);
	if (!found)
		return err_set(err, RC_NOTFOUND, 0,
		    "the stick labelled %s (%s) is in, but not mounted: mount "
		    "it, or have it mounted as docs/install.md shows",
		    label, device);
	if (m.read_only)
		return err_set(err, RC_REFUSED, EROFS,
		    "the stick labelled %s is mounted read-only at %s: it may "
		    "have a switch, or have failed: take another one",
		    label, m.at);
	str_copy(folder, FILE_PATH_SIZE, m.at);
	return RC_OK;
}

enum rc
stick_folder(char folder[FILE_PATH_SIZE], const struct station *sn,
    const char *label, const char *path, struct err *err)
{
	const char *set = sn->cfg.backup_folder;
	const char *touch = str_eq(set, "none") ? NULL : set;

	if (label == NULL && path == NULL &&
	    !str_eq(sn->cfg.backup_stick, "none"))
		label = sn->cfg.backup_stick;
	if (label != NULL)
		return stick_find(folder, label, &stick_here, touch, err);
	if (path == NULL && touch == NULL)
		return err_set(err, RC_INVALID, 0,
		    "name a folder: the settings say [backup] folder = none "
		    "and stick = none");
	if (!str_copy(folder, FILE_PATH_SIZE, path != NULL ? path : set))
		return err_set(err, RC_INVALID, ENAMETOOLONG,
		    "%.60s...: the path is too long", path);
	return RC_OK;
}
