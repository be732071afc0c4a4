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
	if (!str_fmt(
		path, CONFIG_PATH_SIZE, "%s/%s", sn->cfg.data_folder, name))
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

/* One table: its file, and the parser that fills its place in the station. */
#define TABLE(file, field, parse)                                              \
	do {                                                                   \
		rc = read_table(path, &text, sn, file, err);                   \
		if (rc == RC_OK)                                               \
			rc = parse(                                            \
			    &sn->field, path, buf_text(&text), text.len, err); \
		if (rc != RC_OK)                                               \
			goto done;                                             \
	} while (0)

enum rc
tables_load(struct station *sn, struct err *err)
{
	char path[CONFIG_PATH_SIZE];
	struct buf text;
	enum rc rc;

	buf_init(&text, FILE_READ_MAX);
	TABLE("species.csv", species, species_parse);
	TABLE("yields.csv", yields, yield_parse);
	if ((rc = check_yields(sn, path, err)) != RC_OK)
		goto done;
	TABLE("areas.csv", areas, area_parse);
	TABLE("gear.csv", gears, gear_parse);
	TABLE("freshness.csv", freshness, freshness_parse);
	TABLE(
	    "freshness-groups.csv", freshness_species, freshness_species_parse);
	TABLE("quality-index.csv", quality, qi_parse);
	TABLE("sizes.csv", sizes, size_parse);
	TABLE("seasons.csv", seasons, season_parse);
	TABLE("ice-life.csv", icelife, icelife_parse);
	TABLE("minutes.csv", minutes, minutes_parse);
done:
	buf_fini(&text);
	return rc;
}

#undef TABLE

void
tables_fini(struct station *sn)
{
	species_fini(&sn->species);
	yield_fini(&sn->yields);
	area_fini(&sn->areas);
	gear_fini(&sn->gears);
	freshness_fini(&sn->freshness);
	freshness_species_fini(&sn->freshness_species);
	qi_fini(&sn->quality);
	size_fini(&sn->sizes);
	season_fini(&sn->seasons);
	icelife_fini(&sn->icelife);
	minutes_fini(&sn->minutes);
}
