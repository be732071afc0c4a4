/* tables.c - the data files of a station. */
#include "tables.h"

#include "base/file.h"
#include "base/str.h"

/* One file of the data folder; `path` and `text` are the caller's. */
static enum rc
read_table(char path[CONFIG_PATH_SIZE], struct buf *text,
    const struct station *sn, const char *name, struct err *err)
{
	buf_clear(text);
	if (!str_fmt(path, CONFIG_PATH_SIZE, "%s/%s", sn->cfg.data_folder,
		name))
		return err_set(err, RC_INVALID, 0,
		    "%s: [station] data_folder: too long", sn->cfg.path);
	return file_read(text, path, err);
}

/* Each yield speaks of a species the other table knows. */
static enum rc
check_yields(const struct station *sn, const char *path, struct err *err)
{
	size_t i;

	for (i = 0; i < sn->yields.count; i++)
		if (species_find(&sn->species, sn->yields.items[i].species) ==
		    NULL)
			return err_set(err, RC_INVALID, 0,
			    "%s: species %s is not in species.csv", path,
			    sn->yields.items[i].species);
	return RC_OK;
}

enum rc
tables_load(struct station *sn, struct err *err)
{
	char path[CONFIG_PATH_SIZE];
	struct buf text;
	enum rc rc;

	buf_init(&text, FILE_READ_MAX);
	if ((rc = read_table(path, &text, sn, "species.csv", err)) == RC_OK)
		rc = species_parse(
		    &sn->species, path, buf_text(&text), text.len, err);
	if (rc == RC_OK &&
	    (rc = read_table(path, &text, sn, "yields.csv", err)) == RC_OK &&
	    (rc = yield_parse(
		 &sn->yields, path, buf_text(&text), text.len, err)) == RC_OK)
		rc = check_yields(sn, path, err);
	buf_fini(&text);
	return rc;
}

void
tables_fini(struct station *sn)
{
	species_fini(&sn->species);
	yield_fini(&sn->yields);
}
