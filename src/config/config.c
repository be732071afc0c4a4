/* config.c - load the settings file strictly. */
#include "config/config.h"

#include <string.h>

#include "base/file.h"
#include "base/str.h"
#include "base/units.h"
#include "config/ini.h"
#include "table.h"

struct place {
	const char *path, *section, *key, *value;
};

static enum rc
bad(const struct place *at, struct err *err, const char *what)
{
	return err_set(err, RC_INVALID, 0, "%s: [%s] %s = %.60s: %s", at->path,
	    at->section, at->key, at->value, what);
}

static enum rc
set_int(int *field, const struct setting *s, const struct place *at,
    struct err *err)
{
	char what[80];
	int64_t v;
	int dc;
	enum rc rc;

	if (s->type == SETTING_TEMP) {
		rc = temp_parse(&dc, "it", at->value, NULL);
		v = dc;
	} else {
		rc = int_parse(&v, "it", at->value, INT32_MIN, INT32_MAX, NULL);
	}
	if (rc == RC_OK && v >= s->min && v <= s->max) {
		*field = (int)v;
		return RC_OK;
	}
	if (s->type == SETTING_TEMP)
		str_fmt(what, sizeof(what),
		    "must be degrees Celsius from %d to %d", s->min / 10,
		    s->max / 10);
	else
		str_fmt(what, sizeof(what),
		    "must be a whole number from %d to %d", s->min, s->max);
	return bad(at, err, what);
}

/* One of a list: a number, or a word kept as it is. */
static enum rc
set_choice(void *field, const struct setting *s, const struct place *at,
    struct err *err)
{
	char what[80], list[40];
	const char *word;
	char *rest = list;
	int64_t v;

	str_copy(list, sizeof(list), s->choices);
	while ((word = strtok_r(rest, " ", &rest)) != NULL) {
		if (!str_eq(word, at->value))
			continue;
		if (s->type == SETTING_WORD && str_copy(field, s->size, word))
			return RC_OK;
		if (int_parse(&v, "it", word, 0, INT32_MAX, NULL) == RC_OK) {
			*(int *)field = (int)v;
			return RC_OK;
		}
	}
	str_fmt(what, sizeof(what), "must be one of: %s", s->choices);
	return bad(at, err, what);
}

static enum rc
set_text(char *field, const struct setting *s, const struct place *at,
    struct err *err)
{
	char what[80];
	size_t n = strlen(at->value);

	if (s->type == SETTING_FILE) {
		if (n > 0 && file_beside(field, s->size, at->path, at->value))
			return RC_OK;
		return bad(at, err, "must be a file name that is not too long");
	}
	if (n >= (size_t)s->min && n <= (size_t)s->max &&
	    text_check("it", at->value, (size_t)s->max, false, NULL) == RC_OK &&
	    str_copy(field, s->size, at->value))
		return RC_OK;
	str_fmt(what, sizeof(what), "must be text of %d to %d bytes", s->min,
	    s->max);
	return bad(at, err, what);
}

/* `base` is the struct config, or for another printer as far behind it as the
 * printer is behind the first. */
static enum rc
set_value(void *base, const struct setting *s, const struct place *at,
    struct err *err)
{
	void *field = (char *)base + s->offset;

	switch (s->type) {
	case SETTING_TEXT:
	case SETTING_FILE:
		return set_text(field, s, at, err);
	case SETTING_INT:
	case SETTING_TEMP:
		return set_int(field, s, at, err);
	case SETTING_CHOICE:
	case SETTING_WORD:
		return set_choice(field, s, at, err);
	case SETTING_YES_NO:
		if (!str_eq(at->value, "yes") && !str_eq(at->value, "no"))
			return bad(at, err, "must be yes or no");
		*(bool *)field = str_eq(at->value, "yes");
		return RC_OK;
	}
	return RC_FATAL;
}

static const struct setting *
find_setting(const char *section, const char *key)
{
	const struct setting *s;

	for (s = settings; s->section != NULL; s++)
		if (str_eq(s->section, section) && str_eq(s->key, key))
			return s;
	return NULL;
}

/* "HH:MM" as minutes, 24:00 included, or -1. */
static int
clock_minutes(const char *s)
{
	int64_t h, m;
	char hh[3];

	if (strlen(s) != 5 || s[2] != ':')
		return -1;
	hh[0] = s[0];
	hh[1] = s[1];
	hh[2] = '\0';
	if (int_parse(&h, "", hh, 0, 24, NULL) != RC_OK ||
	    int_parse(&m, "", s + 3, 0, 59, NULL) != RC_OK ||
	    h * 60 + m > 24 * 60)
		return -1;
	return (int)(h * 60 + m);
}

static enum rc
set_service(struct config *cfg, const struct place *at, struct err *err)
{
	const char *name = at->section + strlen("service ");
	struct service_window *w;
	int minutes, i;

	for (i = 0; i < cfg->service_count; i++)
		if (str_eq(cfg->services[i].name, name))
			break;
	if (i == CONFIG_SERVICES_MAX)
		return bad(at, err, "more than 8 services");
	w = &cfg->services[i];
	if (i == cfg->service_count) {
		if (name[0] == '\0' || strchr(name, '/') != NULL ||
		    !str_copy(w->name, sizeof(w->name), name))
			return bad(
			    at, err, "a service name has 1 to 23 bytes, no /");
		w->starts_min = w->ends_min = -1;
		cfg->service_count++;
	}
	if (!str_eq(at->key, "starts") && !str_eq(at->key, "ends"))
		return bad(at, err, "unknown key: starts or ends");
	minutes = clock_minutes(at->value);
	if (minutes < 0)
		return bad(at, err, "must be a time such as 18:30");
	*(at->key[0] == 's' ? &w->starts_min : &w->ends_min) = minutes;
	return RC_OK;
}

/* Can this key stand in a [printer NAME] section? */
static const struct setting *
find_of_printer(const char *key)
{
	size_t from = offsetof(struct config, printers[0]);
	const struct setting *s;

	for (s = settings; s->section != NULL; s++)
		if (str_eq(s->key, key) && s->offset >= from &&
		    s->offset < from + sizeof(struct printer_setting))
			return s;
	return NULL;
}

/* Another printer starts as a copy of the first. */
static enum rc
set_printer(struct config *cfg, const struct place *at, struct err *err)
{
	const char *name = at->section + strlen("printer ");
	const struct setting *s;
	struct printer_setting *p;
	int i;

	for (i = 1; i < cfg->printer_count; i++)
		if (str_eq(cfg->printers[i].name, name))
			break;
	if (i == CONFIG_PRINTERS_MAX)
		return bad(at, err, "more than 4 printers");
	p = &cfg->printers[i];
	if (i == cfg->printer_count) {
		*p = cfg->printers[0];
		if (name[0] == '\0' || strchr(name, ' ') != NULL ||
		    str_eq(name, "main") ||
		    !str_copy(p->name, sizeof(p->name), name))
			return bad(at, err,
			    "a printer's name has 1 to 23 bytes, no blank, and "
			    "is not main");
		cfg->printer_count++;
	}
	if ((s = find_of_printer(at->key)) == NULL)
		return bad(at, err, "no key of a printer");
	return set_value((char *)cfg + (size_t)i * sizeof(*p), s, at, err);
}

static enum rc
set_key(struct config *cfg, const struct place *at, struct err *err)
{
	const struct setting *s;

	if (strncmp(at->section, "service ", 8) == 0)
		return set_service(cfg, at, err);
	s = find_setting(at->section, at->key);
	if (s == NULL)
		return bad(at, err, "unknown section or key");
	return set_value(cfg, s, at, err);
}

static enum rc
check_services(struct config *cfg, struct err *err)
{
	struct service_window *a, *b, t;
	int i, j;

	if (cfg->service_count == 0)
		return err_set(err, RC_INVALID, 0,
		    "%s: no [service NAME] section: add one for each sitting",
		    cfg->path);
	for (i = 0; i < cfg->service_count; i++) {
		a = &cfg->services[i];
		if (a->starts_min < 0 || a->ends_min <= a->starts_min)
			return err_set(err, RC_INVALID, 0,
			    "%s: [service %s]: needs starts and a later ends",
			    cfg->path, a->name);
	}
	for (i = 0; i < cfg->service_count; i++)
		for (j = i + 1; j < cfg->service_count; j++) {
			a = &cfg->services[i];
			b = &cfg->services[j];
			if (b->starts_min >= a->starts_min)
				continue;
			t = *a;
			*a = *b;
			*b = t;
		}
	return RC_OK;
}

/* A printer with a continuous roll may have any width: lists come out of it,
 * labels are then refused by their layout. */
static enum rc
check_printers(const struct config *cfg, struct err *err)
{
	const struct printer_setting *p;
	int i;

	for (i = 0; i < cfg->printer_count; i++) {
		p = &cfg->printers[i];
		if ((p->width_mm == 60 && p->height_mm == 40) ||
		    (p->width_mm == 50 && p->height_mm == 25) || p->gap_mm == 0)
			continue;
		return err_set(err, RC_INVALID, 0,
		    "%s: [%s%s] width_mm = %d with height_mm = %d: labels are "
		    "60 x 40 or 50 x 25, a continuous roll has gap_mm = 0",
		    cfg->path, i == 0 ? "label" : "printer ",
		    i == 0 ? "" : p->name, p->width_mm, p->height_mm);
	}
	p = config_printer(cfg, cfg->ticket_printer);
	if (p == NULL)
		return err_set(err, RC_INVALID, 0,
		    "%s: [printer] tickets = %s: there is no [printer %s]",
		    cfg->path, cfg->ticket_printer, cfg->ticket_printer);
	/* The default, main, may hold labels: a station without lists. */
	if (p != &cfg->printers[0] && p->gap_mm != 0)
		return err_set(err, RC_INVALID, 0,
		    "%s: [printer] tickets = %s: [printer %s] has gap_mm = %d; "
		    "lists need a continuous roll, gap_mm = 0",
		    cfg->path, p->name, p->name, p->gap_mm);
	return RC_OK;
}

/* Rules between settings. */
static enum rc
check_whole(struct config *cfg, struct err *err)
{
	enum rc rc;

	if ((rc = check_printers(cfg, err)) != RC_OK)
		return rc;
	if (cfg->note_above_dc > cfg->refuse_above_dc)
		return err_set(err, RC_INVALID, 0,
		    "%s: [goods in] note_above_c is above refuse_above_c",
		    cfg->path);
	return check_services(cfg, err);
}

static enum rc
set_defaults(struct config *cfg, const struct ini_doc *doc, struct err *err)
{
	const struct setting *s;
	struct place at = { .path = cfg->path };
	enum rc rc;

	for (s = settings; s->section != NULL; s++) {
		if (ini_get(doc, s->section, s->key) != NULL)
			continue;
		if (s->value == NULL)
			return err_set(err, RC_INVALID, 0,
			    "%s: [%s] %s is missing: %s", cfg->path, s->section,
			    s->key, s->help);
		at.section = s->section;
		at.key = s->key;
		at.value = s->value;
		if ((rc = set_value(cfg, s, &at, err)) != RC_OK)
			return rc;
	}
	return RC_OK;
}

enum rc
config_load(struct config *out, const char *path, struct err *err)
{
	struct config cfg;
	const struct ini_item *item;
	struct ini_doc doc;
	struct place at;
	bool later;
	size_t i;
	enum rc rc;

	memset(&cfg, 0, sizeof(cfg));
	if ((rc = ini_load(&doc, path, err)) != RC_OK)
		return rc;
	if (!str_copy(cfg.path, sizeof(cfg.path), path)) {
		rc = err_set(err, RC_INVALID, 0, "settings path too long");
		goto done;
	}
	if ((rc = set_defaults(&cfg, &doc, err)) != RC_OK)
		goto done;
	str_copy(cfg.printers[0].name, sizeof(cfg.printers[0].name), "main");
	cfg.printer_count = 1;
	/* Other printers copy the first, which must be whole by then. */
	for (i = 0; i < 2 * doc.count && rc == RC_OK; i++) {
		item = &doc.items[i % doc.count];
		at.path = cfg.path;
		at.section = item->section;
		at.key = item->key;
		at.value = item->value;
		later = strncmp(item->section, "printer ", 8) == 0;
		if (!later && i < doc.count)
			rc = set_key(&cfg, &at, err);
		else if (later && i >= doc.count)
			rc = set_printer(&cfg, &at, err);
	}
	if (rc == RC_OK)
		rc = check_whole(&cfg, err);
	if (rc == RC_OK)
		*out = cfg;
done:
	ini_fini(&doc);
	return rc;
}

const struct service_window *
config_service(const struct config *cfg, const char *name)
{
	int i;

	for (i = 0; i < cfg->service_count; i++)
		if (str_eq_nocase(cfg->services[i].name, name))
			return &cfg->services[i];
	return NULL;
}

const struct printer_setting *
config_printer(const struct config *cfg, const char *name)
{
	int i;

	for (i = 0; i < cfg->printer_count; i++)
		if (str_eq_nocase(cfg->printers[i].name, name))
			return &cfg->printers[i];
	return NULL;
}

void
config_sample(struct buf *out)
{
	const struct setting *s;
	const char *section = "";

	buf_puts(out,
	    "# Pinbone station settings.  Every key is shown with its default\n"
	    "# or an example.  Unknown keys are refused.  Food safety figures\n"
	    "# here may only be set to what local law and the kitchen's own\n"
	    "# food safety plan allow; see docs/rules.md.\n");
	for (s = settings; s->section != NULL; s++) {
		if (!str_eq(section, s->section))
			buf_printf(out, "\n[%s]\n", s->section);
		section = s->section;
		buf_printf(out, "# %s\n%s = %s\n", s->help, s->key,
		    s->value != NULL ? s->value : s->sample);
	}
	buf_puts(out,
	    "\n# Another printer has a section [printer NAME] with the keys "
	    "of\n"
	    "# [printer] and [label] that differ; a continuous roll has\n"
	    "# gap_mm = 0 and its own width_mm, 48 to 120.\n"
	    "\n# One section for each sitting; times are local, HH:MM.\n"
	    "[service lunch]\nstarts = 12:00\nends = 15:00\n"
	    "\n[service dinner]\nstarts = 18:00\nends = 23:00\n");
}
