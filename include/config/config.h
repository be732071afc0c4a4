/*
 * config/config.h - the station's settings, loaded once, const afterwards.
 *
 * An ini file, split by iniparser and parsed strictly: every error names the
 * file, section, key and value; unknown sections and keys are refused.
 */
#ifndef CONFIG_CONFIG_H
#define CONFIG_CONFIG_H

#include <stdbool.h>

#include "base/buf.h"
#include "base/err.h"

#define CONFIG_PATH_SIZE 512
#define CONFIG_SERVICES_MAX 8
#define SERVICE_NAME_SIZE 24
#define CONFIG_PRINTERS_MAX 4
#define PRINTER_NAME_SIZE 24

/* A sitting that comes back on many days, from a section [service NAME]. */
struct service_window {
	char name[SERVICE_NAME_SIZE]; /* lower case */
	int starts_min, ends_min;     /* minutes after local midnight */
};

/* What a printer is, what is in it, and how it is spoken to. */
struct printer_setting {
	char name[PRINTER_NAME_SIZE];   /* lower case; "main" is the first */
	char language[16];              /* driver/lang.h */
	char address[CONFIG_PATH_SIZE]; /* "usb:any", "preview:labels" */
	char ask[12];                   /* auto, language, port or no */
	int patience_s; /* a printer may stop in mid-label for this long */
	int width_mm, height_mm;
	int gap_mm; /* 0: continuous, cut to height_mm by hand */
	int dpi;
	int darkness_pct;
	int speed_mm_s; /* 0: as the printer is set */
	bool ribbon;    /* thermal transfer; else direct thermal */
};

struct config {
	char path[CONFIG_PATH_SIZE]; /* the file it was read from */

	char kitchen[64];
	char address[160]; /* of the kitchen, or "none" */
	bool training;     /* labels say TRAINING, the clock may be set */
	char timezone[64];
	char data_folder[CONFIG_PATH_SIZE]; /* tables and rule sets */
	char machine_id[CONFIG_PATH_SIZE];  /* "none": computers are alike */
	int idle_minutes; /* without a key until nobody works any more */

	/* What asks a chef's PIN; ops/people.h. */
	bool chef_release, chef_clock, chef_cancel_unsure, chef_discard_batch;
	bool chef_restore;

	struct service_window services[CONFIG_SERVICES_MAX];
	int service_count; /* in the order of their start */

	int note_above_dc; /* tenths of a degree Celsius */
	int refuse_above_dc;
	int live_refuse_above_dc;

	int jump_days; /* a longer pause puts the clock in doubt */

	char rules_set[24];
	char house_file[CONFIG_PATH_SIZE]; /* "none": no house file */
	bool freezing_day_counts;
	int served_raw_days, vacuum_days, thawed_days;
	int frozen_days; /* day of freezing is day 1 */
	int thaw_hours;  /* from the freezer to thawed through */

	int batch_days, live_batch_days;      /* day of receipt is day 1 */
	int raw_days, cooked_days, live_days; /* day of preparation is day 1 */

	int round_up_g;                          /* order list, grams */
	int dead_shell_pct, dead_crustacean_pct; /* allowed for, percent */

	int bench_minutes; /* raw food out of the fridge at most */

	char font[CONFIG_PATH_SIZE];
	char font_mono[CONFIG_PATH_SIZE];
	char storage_text[64];
	bool bars;           /* a second code beside the first, 60 x 40 only */
	char gs1_prefix[16]; /* "none", or the kitchen's own company prefix */

	/* ops/place.h: all of them with commas; where stock is by its kind. */
	char places[404];
	char place_chilled[48], place_frozen[48];

	char separator[8]; /* "none", or what a scanner types for GS */

	/* printers[0] is [label] and [printer], called "main"; every section
	 * [printer NAME] adds one, which takes from it what it does not say. */
	struct printer_setting printers[CONFIG_PRINTERS_MAX];
	int printer_count;
	char ticket_printer[PRINTER_NAME_SIZE]; /* lists come out of this one */

	char scale[CONFIG_PATH_SIZE]; /* "none", "usb:any", ... */

	char backup_folder[CONFIG_PATH_SIZE]; /* "none": asked each time */
	char backup_stick[100];               /* label, or "none" */
	int backup_keep; /* so many of this station stay there */

	/* Days records are kept beyond the rule set's; 0: those. */
	int keep_records_days, keep_cases_days;
	int keep_sales_days, keep_clock_days;

	char epcis_base[160]; /* "none", or what our URIs begin with */
};

/*
 * config_load - read and check a settings file.
 * RC_OK, RC_NOTFOUND (no such file) or RC_INVALID.
 */
enum rc config_load(
    struct config *out, const char *path, struct err *err) MUST_CHECK;

/*
 * config_sample - append a complete settings file with every key, its range,
 * default and help as comments.  config/station.ini is this text.
 */
void config_sample(struct buf *out);

/* config_printer - by name in any case, or NULL. */
const struct printer_setting *config_printer(
    const struct config *cfg, const char *name);

/* config_service - window by name in any case, or NULL. */
const struct service_window *config_service(
    const struct config *cfg, const char *name);

#endif /* CONFIG_CONFIG_H */
