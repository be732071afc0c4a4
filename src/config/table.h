/*
 * table.h - every setting as data.  Private to src/config.
 */
#ifndef CONFIG_TABLE_H
#define CONFIG_TABLE_H

#include <stddef.h>

enum setting_type {
	SETTING_TEXT, /* min..max bytes */
	SETTING_FILE, /* path, taken from the settings file's folder */
	SETTING_YES_NO,
	SETTING_INT,    /* min..max */
	SETTING_TEMP,   /* tenths of a degree, min..max */
	SETTING_CHOICE, /* a number */
	SETTING_WORD,   /* a word of a list */
};

struct setting {
	const char *section, *key;
	enum setting_type type;
	int min, max;
	const char *choices; /* blank separated, for the last two */
	const char *value;   /* default; NULL: must be given */
	const char *sample;  /* value in the sample when there is no default */
	const char *help;    /* unit and meaning, one line */
	size_t offset, size; /* the field in struct config */
};

/* All settings, ended by a row without a section. */
extern const struct setting settings[];

#endif /* CONFIG_TABLE_H */
