/* rules.c - load the rule set in force. */
#include "ops/rules.h"

#include <string.h>

#include "base/file.h"
#include "base/str.h"
#include "base/units.h"
#include "config/ini.h"

static enum rc
load_set(struct ruleset *out, const struct config *cfg, const char *name,
    struct err *err)
{
	char path[CONFIG_PATH_SIZE * 2];
	struct ini_doc doc;
	enum rc rc;

	if (strchr(name, '/') != NULL || name[0] == '.' ||
	    !str_fmt(
		path, sizeof(path), "%s/rules/%s.ini", cfg->data_folder, name))
		return err_set(err, RC_INVALID, 0,
		    "\"%.30s\" is no name of a rule set", name);
	rc = ini_load(&doc, path, err);
	if (rc == RC_NOTFOUND) {
		err_clear(err);
		return err_set(err, RC_NOTFOUND, 0,
		    "no rule set \"%.30s\" in %s/rules: strict, england, eu "
		    "and "
		    "us-food-code come with the program",
		    name, cfg->data_folder);
	}
	if (rc != RC_OK)
		return rc;
	rc = ruleset_parse(out, &doc, err);
	ini_fini(&doc);
	if (rc == RC_OK && !str_eq(out->name, name))
		return err_set(err, RC_INVALID, 0,
		    "%s: [rule set] name = %s: a set is named as its file is",
		    path, out->name);
	return rc;
}

/* The strictest of the sets named, figure by figure. */
static enum rc
load_strictest(struct ruleset *rs, const struct config *cfg, struct err *err)
{
	char names[sizeof(rs->strictest_of)];
	struct ruleset part;
	char *word, *rest = names;
	bool first = true;
	enum rc rc;

	str_copy(names, sizeof(names), rs->strictest_of);
	while ((word = strtok_r(rest, " ", &rest)) != NULL) {
		if ((rc = load_set(&part, cfg, word, err)) != RC_OK)
			return rc;
		if (part.strictest_of[0] != '\0')
			return err_set(err, RC_INVALID, 0,
			    "rule set %s: \"strictest of\" must name sets with "
			    "figures, %s has none",
			    rs->name, part.name);
		if (first)
			memcpy(rs->figures, part.figures, sizeof(rs->figures));
		else
			ruleset_strictest(rs, &part);
		first = false;
	}
	return RC_OK;
}

static const struct {
	enum food_state state;
	enum figure_id figure;
	const char *key;
} lives[] = {
	{ STATE_RAW, FIG_RAW_DAYS, "raw_days" },
	{ STATE_SERVED_RAW, FIG_SERVED_RAW_DAYS, "served_raw_days" },
	{ STATE_COOKED, FIG_COOKED_DAYS, "cooked_days" },
	{ STATE_LIVE, FIG_LIVE_DAYS, "live_days" },
	{ STATE_VACUUM, FIG_VACUUM_DAYS, "vacuum_days" },
	{ STATE_THAWED, FIG_THAWED_DAYS, "thawed_days" },
};

#define LIVES (sizeof(lives) / sizeof(lives[0]))

static int
general_days(const struct config *cfg, enum food_state state)
{
	const int days[STATE_COUNT] = {
		[STATE_RAW] = cfg->raw_days,
		[STATE_SERVED_RAW] = cfg->served_raw_days,
		[STATE_COOKED] = cfg->cooked_days,
		[STATE_LIVE] = cfg->live_days,
		[STATE_VACUUM] = cfg->vacuum_days,
		[STATE_THAWED] = cfg->thawed_days,
	};

	return days[state];
}

static struct species_life *
life_of(struct rules *r, const char *code)
{
	struct species_life *l;
	size_t i;

	for (i = 0; i < r->life_count; i++)
		if (str_eq(r->lives[i].species, code))
			return &r->lives[i];
	if (r->life_count == SPECIES_LIVES_MAX)
		return NULL;
	l = &r->lives[r->life_count++];
	str_copy(l->species, sizeof(l->species), code);
	return l;
}

/* "[life COD] raw_days = 1": shorter than the general one, never longer. */
static enum rc
set_life(struct rules *r, const struct config *cfg, const struct ini_doc *doc,
    const struct ini_item *it, struct err *err)
{
	char code[8];
	struct species_life *l;
	int64_t days;
	size_t i;

	str_copy(code, sizeof(code), it->section + strlen("life "));
	str_upper(code);
	for (i = 0; i < LIVES; i++)
		if (str_eq(lives[i].key, it->key))
			break;
	if (strlen(code) != 3 || i == LIVES ||
	    int_parse(&days, "", it->value, 1, 30, NULL) != RC_OK)
		return err_set(err, RC_INVALID, 0,
		    "%s: [%s] %s = %.40s: write [life CODE] with raw_days and "
		    "so on, 1 to 30",
		    doc->path, it->section, it->key, it->value);
	if (days > general_days(cfg, lives[i].state))
		return err_set(err, RC_REFUSED, 0,
		    "%s: [%s] %s = %d would loosen the general %d days of %s",
		    doc->path, it->section, it->key, (int)days,
		    general_days(cfg, lives[i].state), cfg->path);
	if ((l = life_of(r, code)) == NULL)
		return err_set(err, RC_INVALID, 0,
		    "%s: more than %d [life] "
		    "sections",
		    doc->path, SPECIES_LIVES_MAX);
	l->days[lives[i].state] = (int)days;
	return RC_OK;
}

static enum rc
apply_house(struct rules *r, const struct config *cfg, struct err *err)
{
	char path[CONFIG_PATH_SIZE * 2];
	struct ini_doc doc;
	size_t i, kept = 0;
	enum rc rc = RC_OK;

	if (str_eq(cfg->house_file, "none"))
		return RC_OK;
	if (!file_beside(path, sizeof(path), cfg->path, cfg->house_file))
		return err_set(err, RC_INVALID, 0, "house_file: path too long");
	if ((rc = ini_load(&doc, path, err)) != RC_OK)
		return rc;
	for (i = 0; i < doc.count && rc == RC_OK; i++)
		if (strncmp(doc.items[i].section, "life ", 5) == 0)
			rc = set_life(r, cfg, &doc, &doc.items[i], err);
		else
			doc.items[kept++] = doc.items[i];
	doc.count = kept;
	if (rc == RC_OK)
		rc = ruleset_tighten(&r->set, &doc, err);
	ini_fini(&doc);
	return rc;
}

static enum rc
looser(const struct config *cfg, const char *key, const char *own,
    const char *law, const struct figure *f, struct err *err)
{
	return err_set(err, RC_REFUSED, 0,
	    "%s: %s = %s would loosen %s (rule set %s, %s): shorten it",
	    cfg->path, key, own, law, f->set_name, f->source);
}

/* The settings' own figures may be stricter than the law, never looser. */
static enum rc
check_settings(const struct rules *r, const struct config *cfg, struct err *err)
{
	const struct figure *f;
	char own[16], law[16];
	size_t i;
	int days;

	for (i = 0; i < LIVES; i++) {
		f = &r->set.figures[lives[i].figure];
		days = general_days(cfg, lives[i].state);
		str_fmt(own, sizeof(own), "%d", days);
		str_fmt(law, sizeof(law), "%d days", f->value);
		if (f->set && days > f->value)
			return looser(cfg, lives[i].key, own, law, f, err);
	}
	f = &r->set.figures[FIG_RECEIVE_MAX];
	if (f->set && cfg->refuse_above_dc > f->value)
		return looser(cfg, "refuse_above_c",
		    temp_print(own, sizeof(own), cfg->refuse_above_dc),
		    temp_print(law, sizeof(law), f->value), f, err);
	f = &r->set.figures[FIG_RECEIVE_LIVE_MAX];
	if (f->set && cfg->live_refuse_above_dc > f->value)
		return looser(cfg, "live_refuse_above_c",
		    temp_print(own, sizeof(own), cfg->live_refuse_above_dc),
		    temp_print(law, sizeof(law), f->value), f, err);
	return RC_OK;
}

enum rc
rules_keep(struct keep_rule *out, const struct rules *rules,
    const struct config *cfg, struct err *err)
{
	const struct keep_house house = {
		.records_days = cfg->keep_records_days,
		.cases_days = cfg->keep_cases_days,
		.sales_days = cfg->keep_sales_days,
		.clock_days = cfg->keep_clock_days,
	};
	enum rc rc = keep_rule_make(out, &rules->set, &house, err);

	if (rc != RC_OK)
		err_prefix(err, "%s: ", cfg->path);
	return rc;
}

enum rc
rules_load(struct rules *out, const struct config *cfg, const char *name,
    struct err *err)
{
	struct keep_rule keep;
	struct buf text;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	if (name == NULL)
		name = cfg->rules_set;
	if ((rc = load_set(&out->set, cfg, name, err)) != RC_OK)
		return rc;
	if (out->set.strictest_of[0] != '\0' &&
	    (rc = load_strictest(&out->set, cfg, err)) != RC_OK)
		return rc;
	if ((rc = apply_house(out, cfg, err)) != RC_OK ||
	    (rc = check_settings(out, cfg, err)) != RC_OK ||
	    (rc = rules_keep(&keep, out, cfg, err)) != RC_OK)
		return rc;
	buf_init(&text, 65536);
	ruleset_print(&text, &out->set);
	digest_hex(out->digest, buf_text(&text), text.len);
	buf_fini(&text);
	return RC_OK;
}

enum rc
rules_check_species(const struct rules *rules,
    const struct species_table *species, const struct config *cfg,
    struct err *err)
{
	size_t i;

	for (i = 0; i < rules->life_count; i++)
		if (species_find(species, rules->lives[i].species) == NULL)
			return err_set(err, RC_INVALID, 0,
			    "%s: [life %s]: no such species in species.csv",
			    cfg->house_file, rules->lives[i].species);
	return RC_OK;
}

int
house_days(const struct config *cfg, const struct rules *rules,
    const char *species, enum food_state state)
{
	size_t i;

	for (i = 0; i < rules->life_count; i++)
		if (str_eq(rules->lives[i].species, species) &&
		    rules->lives[i].days[state] > 0)
			return rules->lives[i].days[state];
	return general_days(cfg, state);
}
