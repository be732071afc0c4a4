/*
 * fuzz_settings.c - the settings file.
 *
 * Properties: nothing out of its range reaches struct config; a file that is
 * refused is told of in one line; what is accepted is text.
 */
#include <string.h>

#include "base/str.h"
#include "config/config.h"
#include "fuzz.h"
#include "rig.h"
#include "src/config/table.h"

static int
number(const struct config *cfg, const struct setting *s)
{
	int n;

	memcpy(&n, (const char *)cfg + s->offset, sizeof(n));
	return n;
}

static void
check(const struct config *cfg)
{
	const struct setting *s;
	const char *text;

	for (s = settings; s->section != NULL; s++) {
		text = (const char *)cfg + s->offset;
		switch (s->type) {
		case SETTING_INT:
		case SETTING_TEMP:
			FUZZ_HOLDS(s->size == sizeof(int));
			FUZZ_HOLDS(number(cfg, s) >= s->min &&
			    number(cfg, s) <= s->max);
			break;
		case SETTING_TEXT:
		case SETTING_FILE:
		case SETTING_WORD:
			FUZZ_HOLDS(memchr(text, '\0', s->size) != NULL);
			FUZZ_HOLDS(utf8_valid(text, strlen(text)));
			break;
		case SETTING_YES_NO:
		case SETTING_CHOICE:
			break;
		}
	}
	FUZZ_HOLDS(cfg->service_count >= 0 &&
	    cfg->service_count <= CONFIG_SERVICES_MAX);
	FUZZ_HOLDS(cfg->printer_count >= 1 &&
	    cfg->printer_count <= CONFIG_PRINTERS_MAX);
}

int
LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
	static struct config cfg;
	struct err err = { 0 };
	enum rc rc;

	rc = config_load(&cfg, rig_file("input", data, size), &err);
	FUZZ_HOLDS(rc == RC_OK || rc == RC_INVALID || rc == RC_REFUSED);
	if (rc == RC_OK)
		check(&cfg);
	else
		rig_err(&err);
	return 0;
}
