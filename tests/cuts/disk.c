/* disk.c - what is noted of the disk, and which call fails. */
#include "disk_in.h"

#include <stdlib.h>
#include <string.h>

#include "base/buf.h"
#include "base/file.h"
#include "base/mem.h"
#include "base/str.h"

static char root[512];
static struct journal *noting, *paused;

/* What each name below the folder means now. */
static struct name {
	char *path;
	int file;
} * names;
static size_t name_count, name_cap;

static struct {
	enum fault kind;
	int64_t nth, seen;
	bool armed, on, hit;
} plan;

void
disk_root(const char *folder)
{
	str_copy(root, sizeof(root), folder);
}

/* Also while nobody is interested: what is opened now may be written later. */
bool
disk_sees(const char *path)
{
	return path != NULL && root[0] != '\0' &&
	    strncmp(path, root, strlen(root)) == 0;
}

/* --- faults ----------------------------------------------------------------*/

static const char *const words[FAULT_COUNT] = { "read", "write", "full",
	"short", "late", "sync", "truncate", "open", "delete", "lock", "shm",
	"rename" };

const char *
fault_word(enum fault f)
{
	return words[f];
}

void
disk_fail(enum fault f, int64_t n, bool on)
{
	memset(&plan, 0, sizeof(plan));
	plan.kind = f;
	plan.nth = n;
	plan.on = on;
	plan.armed = true;
}

int64_t
disk_heal(void)
{
	plan.armed = false;
	return plan.seen;
}

bool
disk_hit(void)
{
	return plan.hit;
}

bool
disk_fails(enum fault f)
{
	bool now;

	if (!plan.armed || plan.kind != f)
		return false;
	plan.seen++;
	now = plan.nth != 0 &&
	    (plan.seen == plan.nth || (plan.on && plan.seen > plan.nth));
	plan.hit |= now;
	return now;
}

enum fault
disk_fails_write(void)
{
	enum fault f = plan.kind;

	if (f != FAULT_WRITE && f != FAULT_FULL && f != FAULT_SHORT &&
	    f != FAULT_LATE)
		return FAULT_COUNT;
	return disk_fails(f) ? f : FAULT_COUNT;
}

/* --- notes -----------------------------------------------------------------*/

static struct name *
find(const char *path)
{
	size_t i;

	for (i = 0; i < name_count; i++)
		if (str_eq(names[i].path, path))
			return &names[i];
	return NULL;
}

static void
call_it(const char *path, int file)
{
	struct name *n = find(path);

	if (n == NULL) {
		names = grow(names, &name_cap, name_count, sizeof(*names));
		n = &names[name_count++];
		n->path = xstrdup(path);
	}
	n->file = file;
}

static struct disk_change *
note(enum change_kind kind, int file)
{
	struct disk_change *c;

	noting->items = grow(
	    noting->items, &noting->cap, noting->count, sizeof(*noting->items));
	c = &noting->items[noting->count++];
	memset(c, 0, sizeof(*c));
	c->kind = kind;
	c->file = file;
	return c;
}

void
disk_record(struct journal *j)
{
	size_t i;

	noting = j;
	if (j != NULL)
		return;
	for (i = 0; i < name_count; i++)
		free(names[i].path);
	free(names);
	names = NULL;
	name_count = name_cap = 0;
}

void
disk_mark(int64_t what)
{
	if (noting != NULL)
		note(CHANGE_MARK, 0)->at = what;
}

void
disk_pause(bool pause)
{
	if (pause) {
		paused = noting;
		noting = NULL;
	} else {
		noting = paused;
	}
}

void
disk_wrote(int file, int64_t at, const void *bytes, size_t len)
{
	struct disk_change *c;

	if (noting == NULL || file == 0 || len == 0)
		return;
	c = note(CHANGE_WRITE, file);
	c->at = at;
	c->len = len;
	c->bytes = xcalloc(len, 1);
	memcpy(c->bytes, bytes, len);
}

void
disk_cut(int file, int64_t size)
{
	if (noting != NULL && file != 0)
		note(CHANGE_TRUNCATE, file)->at = size;
}

void
disk_synced(int file)
{
	if (noting != NULL && file != 0)
		note(CHANGE_SYNC, file);
}

void
disk_synced_dir(const char *path, bool itself)
{
	const char *slash = strrchr(path, '/');
	struct disk_change *c;

	if (noting == NULL)
		return;
	c = note(CHANGE_SYNC_DIR, 0);
	c->name = xstrdup(path);
	if (!itself)
		c->name[slash - path] = '\0';
	/* "folder/." is the folder. */
	else if (slash != NULL && str_eq(slash, "/."))
		c->name[slash - path] = '\0';
}

int
disk_opened(const char *path, bool made)
{
	struct name *n;

	if (noting == NULL)
		return 0;
	if (!made && (n = find(path)) != NULL && n->file != 0)
		return n->file;
	call_it(path, ++noting->files);
	note(CHANGE_CREATE, noting->files)->name = xstrdup(path);
	return noting->files;
}

void
disk_gone(const char *path)
{
	if (noting == NULL)
		return;
	call_it(path, 0);
	note(CHANGE_UNLINK, 0)->name = xstrdup(path);
}

void
disk_moved(const char *from, const char *to)
{
	struct name *n;
	struct disk_change *c;

	if (noting == NULL || (n = find(from)) == NULL)
		return;
	call_it(to, n->file);
	c = note(CHANGE_RENAME, find(from)->file);
	find(from)->file = 0;
	c->name = xstrdup(from);
	c->other = xstrdup(to);
}

void
disk_adopt(struct journal *j, const char *path)
{
	struct buf b;
	int file;

	disk_record(j);
	buf_init(&b, FILE_READ_MAX);
	file = disk_opened(path, true);
	if (file_read(&b, path, NULL) == RC_OK)
		disk_wrote(file, 0, b.data, b.len);
	buf_fini(&b);
	disk_synced(file);
	disk_synced_dir(path, false);
}

void
journal_fini(struct journal *j)
{
	size_t i;

	for (i = 0; i < j->count; i++) {
		free(j->items[i].bytes);
		free(j->items[i].name);
		free(j->items[i].other);
	}
	free(j->items);
	memset(j, 0, sizeof(*j));
}
