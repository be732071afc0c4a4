/* rig.c - a training station for fuzz targets. */
#include "rig.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "base/buf.h"
#include "base/file.h"
#include "base/str.h"
#include "fuzz.h"
#include "ops/breakdown.h"
#include "ops/bring_in.h"
#include "ops/receive.h"

#define NOW "2026-11-25T10:05"

static const char menu[] =
    "dish,name,state,species,cut,skin,bought,low,target,high,mix,allergens\n"
    "cod-leeks,\"Cod, leeks\",raw,COD,supreme,on,gutted,150,165,180,"
    "lunch:10 dinner:20,milk\n";
static const char suppliers[] =
    "code,name,address,approval,contact\n"
    "pier,North Pier Fish,\"1 Netmakers Row, Fairhaven\",XX 1201,ext. 7\n";

static char folder[300];
static struct station *station;
static char batch_code[CODE_SIZE], tray_code[CODE_SIZE];

static void
leave(void)
{
	static const char *const names[] = { "station.ini", "station.db",
		"station.db-wal", "station.db-shm", "menu.csv", "suppliers.csv",
		"input", "queue.lock" };
	char path[400];
	size_t i;

	station_close(station);
	for (i = 0; i < sizeof(names) / sizeof(names[0]); i++)
		if (str_fmt(path, sizeof(path), "%s/%s", folder, names[i]))
			unlink(path);
	rmdir(folder);
}

static void
make_folder(void)
{
	const char *tmp = getenv("TMPDIR");

	if (folder[0] != '\0')
		return;
	if (tmp == NULL)
		tmp = access("/dev/shm", W_OK) == 0 ? "/dev/shm" : "/tmp";
	FUZZ_HOLDS(str_fmt(folder, sizeof(folder), "%s/fuzz-rig-XXXXXX", tmp));
	FUZZ_HOLDS(mkdtemp(folder) != NULL);
	atexit(leave);
}

const char *
rig_file(const char *name, const uint8_t *data, size_t size)
{
	static char path[400];
	FILE *fp;

	make_folder();
	FUZZ_HOLDS(str_fmt(path, sizeof(path), "%s/%s", folder, name));
	fp = fopen(path, "wb");
	FUZZ_HOLDS(fp != NULL);
	FUZZ_HOLDS(fwrite(data, 1, size, fp) == size);
	FUZZ_HOLDS(fclose(fp) == 0);
	return path;
}

void
rig_err(const struct err *err)
{
	FUZZ_HOLDS(text_check("it", err->text, ERR_TEXT_MAX - 1, false, NULL) ==
	    RC_OK);
}

static const char *
text_file(const char *name, const char *text)
{
	return rig_file(name, (const uint8_t *)text, strlen(text));
}

/* The sample settings, of a training station that finds its tables. */
static void
settings(char path[400])
{
	char here[1024], line[1200];
	struct buf sample, own;
	const char *p;
	size_t n;

	FUZZ_HOLDS(getcwd(here, sizeof(here)) != NULL);
	buf_init(&sample, 65536);
	buf_init(&own, 65536);
	config_sample(&sample);
	for (p = buf_text(&sample); *p != '\0'; p += n + (p[n] == '\n')) {
		n = strcspn(p, "\n");
		FUZZ_HOLDS(str_fmt(line, sizeof(line), "%.*s", (int)n, p));
		if (strncmp(line, "training =", 10) == 0)
			str_copy(line, sizeof(line), "training = yes");
		if (strncmp(line, "data_folder =", 13) == 0)
			str_fmt(line, sizeof(line), "data_folder = %s/config",
			    here);
		buf_printf(&own, "%s\n", line);
	}
	str_copy(path, 400, text_file("station.ini", buf_text(&own)));
	buf_fini(&sample);
	buf_fini(&own);
}

static void
goods(void)
{
	static const struct receive_in in = {
		.supplier = "pier",
		.document = "DN 4471",
		.species = "COD",
		.presentation = "gutted",
		.count = "10",
		.weight = "20 kg",
		.lot = "L-77",
		.temp = "1.5",
		.area = "27.4.a",
		.method = "caught",
		.gear = "longlines",
		.decision = DECISION_ACCEPTED,
		.by = "AB",
	};
	struct breakdown_in work = {
		.fish = 5,
		.weight_g = 10000,
		.makes = { { "cod-leeks", 12, 1980, 4 } },
		.make_count = 1,
		.yield_ok = true,
		.by = "CD",
	};
	struct import_result r;
	struct breakdown made;
	struct batch b;
	struct err err = { 0 };

	if (import_suppliers(&r, station, text_file("suppliers.csv", suppliers),
		"AB", &err) != RC_OK ||
	    import_menu(&r, station, text_file("menu.csv", menu), "AB", &err) !=
		RC_OK ||
	    receive(&b, NULL, station, &in, &err) != RC_OK)
		fuzz_broken(err.text, __FILE__, __LINE__);
	work.batch = b.code;
	if (breakdown_record(&made, station, &work, &err) != RC_OK)
		fuzz_broken(err.text, __FILE__, __LINE__);
	str_copy(batch_code, sizeof(batch_code), b.code);
	str_copy(tray_code, sizeof(tray_code), made.portions[0].code);
	breakdown_fini(&made);
}

struct station *
rig_station(void)
{
	char ini[400], db[400], path[CONFIG_PATH_SIZE];
	struct station_options o = { .db = db, .config = ini, .now = NOW };
	struct err err = { 0 };

	if (station != NULL)
		return station;
	settings(ini);
	FUZZ_HOLDS(str_fmt(db, sizeof(db), "%s/station.db", folder));
	if (station_init(path, &o, &err) != RC_OK ||
	    station_open(&station, &o, true, &err) != RC_OK)
		fuzz_broken(err.text, __FILE__, __LINE__);
	goods();
	return station;
}

const char *
rig_batch(void)
{
	return batch_code;
}

const char *
rig_tray(void)
{
	return tray_code;
}
