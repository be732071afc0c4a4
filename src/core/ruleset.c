/* ruleset.c - the legal figures behind dates and refusals, as data. */
#include "core/ruleset.h"

#include <string.h>

#include "base/str.h"
#include "base/units.h"

enum kind { DAYS, LONG_DAYS, HOURS, TEMP, YES_NO, WORDS };
enum stricter { LESS, MORE, YES, NO, FEWER };

static const struct {
	const char *name;
	enum kind kind;
	enum stricter stricter;
} table[FIGURE_COUNT] = {
#define FIGURE_ROW(id, name, kind, strict) [id] = { name, kind, strict },
	FIGURE_LIST(FIGURE_ROW)
#undef FIGURE_ROW
};

const char *
figure_name(enum figure_id id)
{
	return table[id].name;
}

static enum rc
bad(const struct ini_doc *doc, const struct ini_item *it, struct err *err,
    const char *what)
{
	return err_set(err, RC_INVALID, 0, "%s: [%s] %s = %.60s: %s", doc->path,
	    it->section, it->key, it->value, what);
}

static enum rc
yes_no(bool *out, const struct ini_doc *doc, const struct ini_item *it,
    struct err *err)
{
	*out = str_eq(it->value, "yes");
	if (*out || str_eq(it->value, "no"))
		return RC_OK;
	return bad(doc, it, err, "must be yes or no");
}

static enum rc
set_value(struct figure *f, enum figure_id id, const struct ini_doc *doc,
    const struct ini_item *it, struct err *err)
{
	int64_t v = 0;
	bool flag;
	enum rc rc = RC_OK;

	f->set = true;
	switch (table[id].kind) {
	case DAYS:
		rc = int_parse(&v, "it", it->value, 1, 400, NULL);
		break;
	case LONG_DAYS:
		rc =
		    int_parse(&v, "it", it->value, 1, RULE_LONG_DAYS_MAX, NULL);
		break;
	case HOURS:
		rc = int_parse(&v, "it", it->value, 1, 2000, NULL);
		break;
	case TEMP:
		rc = temp_parse(&f->value, "it", it->value, NULL);
		if (rc == RC_OK)
			return RC_OK;
		break;
	case YES_NO:
		rc = yes_no(&flag, doc, it, err);
		f->value = flag;
		return rc;
	case WORDS:
		if (!str_copy(f->words, sizeof(f->words), it->value))
			return bad(doc, it, err, "too long");
		return RC_OK;
	}
	f->value = (int)v;
	return rc == RC_OK
	    ? RC_OK
	    : bad(doc, it, err, "not a figure of this kind, or out of range");
}

static enum rc
set_figure(struct figure *f, enum figure_id id, const struct ini_doc *doc,
    const struct ini_item *it, struct err *err)
{
	bool fits;

	if (str_eq(it->key, "value"))
		return set_value(f, id, doc, it, err);
	if (str_eq(it->key, "verified"))
		return yes_no(&f->verified, doc, it, err);
	if (str_eq(it->key, "source"))
		fits = str_copy(f->source, sizeof(f->source), it->value);
	else if (str_eq(it->key, "section"))
		fits = str_copy(f->section, sizeof(f->section), it->value);
	else
		return bad(doc, it, err,
		    "unknown key: value, source, section or verified");
	return fits ? RC_OK : bad(doc, it, err, "too long");
}

static enum figure_id
find_figure(const char *section)
{
	int i;

	for (i = 0; i < FIGURE_COUNT; i++)
		if (str_eq(table[i].name, section))
			break;
	return (enum figure_id)i;
}

static enum rc
set_head(struct ruleset *rs, const struct ini_doc *doc,
    const struct ini_item *it, struct err *err)
{
	bool fits;

	if (str_eq(it->key, "name"))
		fits = str_copy(rs->name, sizeof(rs->name), it->value);
	else if (str_eq(it->key, "title"))
		fits = str_copy(rs->title, sizeof(rs->title), it->value);
	else if (str_eq(it->key, "strictest of") && it->value[0] == '\0')
		return bad(doc, it, err, "strictest of which sets?");
	else if (str_eq(it->key, "strictest of"))
		fits = str_copy(
		    rs->strictest_of, sizeof(rs->strictest_of), it->value);
	else
		return bad(
		    doc, it, err, "unknown key: name, title or strictest of");
	return fits ? RC_OK : bad(doc, it, err, "too long");
}

/* Does a file say anything about the figure beside its value? */
static bool
mentioned(const struct figure *f)
{
	return f->source[0] != '\0' || f->section[0] != '\0' || f->verified;
}

static enum rc
no_value(const struct ini_doc *doc, int id, struct err *err)
{
	return err_set(err, RC_INVALID, 0, "%s: [%s]: value is missing",
	    doc->path, table[id].name);
}

/* A figure without its source is an opinion. */
static enum rc
check_figures(
    const struct ruleset *rs, const struct ini_doc *doc, struct err *err)
{
	const struct figure *f;
	int i, count = 0;

	for (i = 0; i < FIGURE_COUNT; i++) {
		f = &rs->figures[i];
		count += f->set;
		if (!f->set && mentioned(f))
			return no_value(doc, i, err);
		if (f->set && f->source[0] == '\0')
			return err_set(err, RC_INVALID, 0,
			    "%s: [%s]: source is missing", doc->path,
			    table[i].name);
		if (f->set && rs->strictest_of[0] != '\0')
			return err_set(err, RC_INVALID, 0,
			    "%s: [%s]: a set that takes the strictest of "
			    "others has no figures of its own",
			    doc->path, table[i].name);
	}
	if (count == 0 && rs->strictest_of[0] == '\0')
		return err_set(err, RC_INVALID, 0,
		    "%s: no figure, and no other sets to take them from",
		    doc->path);
	return RC_OK;
}

static void
name_origin(struct ruleset *rs, const char *name)
{
	int i;

	for (i = 0; i < FIGURE_COUNT; i++)
		str_copy(rs->figures[i].set_name,
		    sizeof(rs->figures[i].set_name), name);
}

static enum rc
set_item(struct ruleset *rs, const struct ini_doc *doc,
    const struct ini_item *it, struct err *err)
{
	enum figure_id id;

	if (str_eq(it->section, "rule set"))
		return set_head(rs, doc, it, err);
	id = find_figure(it->section);
	if (id == FIGURE_COUNT)
		return bad(doc, it, err, "this section is no known figure");
	return set_figure(&rs->figures[id], id, doc, it, err);
}

enum rc
ruleset_parse(struct ruleset *out, const struct ini_doc *doc, struct err *err)
{
	struct ruleset rs;
	size_t i;
	enum rc rc;

	memset(&rs, 0, sizeof(rs));
	for (i = 0; i < doc->count; i++)
		if ((rc = set_item(&rs, doc, &doc->items[i], err)) != RC_OK)
			return rc;
	if (rs.name[0] == '\0' || rs.title[0] == '\0')
		return err_set(err, RC_INVALID, 0,
		    "%s: [rule set] needs name and title", doc->path);
	if ((rc = check_figures(&rs, doc, err)) != RC_OK)
		return rc;
	name_origin(&rs, rs.name);
	*out = rs;
	return RC_OK;
}

bool
figure_words_have(const struct figure *f, const char *word)
{
	const char *p = f->words;
	size_t n = strlen(word), len;

	if (!f->set)
		return false;
	for (; *p != '\0'; p += len) {
		p += strspn(p, " ");
		len = strcspn(p, " ");
		if (len == n && strncmp(p, word, n) == 0)
			return true;
	}
	return false;
}

/* Words in both, in the order of the first. */
static void
both_words(
    char *dst, size_t size, const struct figure *a, const struct figure *b)
{
	char word[sizeof(a->words)];
	const char *p = a->words;
	size_t len, n = 0;

	dst[0] = '\0';
	for (; *p != '\0'; p += len) {
		p += strspn(p, " ");
		len = strcspn(p, " ");
		if (len > 0 &&
		    str_fmt(word, sizeof(word), "%.*s", (int)len, p) &&
		    figure_words_have(b, word) && n + (n > 0) + len < size) {
			str_fmt(
			    dst + n, size - n, "%s%s", n > 0 ? " " : "", word);
			n = strlen(dst);
		}
	}
}

/* Is there a word in `a` that `b` lacks? */
static bool
has_other_word(const struct figure *a, const struct figure *b)
{
	char word[sizeof(a->words)];
	const char *p = a->words;
	size_t len;

	for (; *p != '\0'; p += len) {
		p += strspn(p, " ");
		len = strcspn(p, " ");
		if (len > 0 &&
		    (!str_fmt(word, sizeof(word), "%.*s", (int)len, p) ||
			!figure_words_have(b, word)))
			return true;
	}
	return false;
}

/* Is `a` stricter than `b`, both set? */
static bool
is_stricter(enum figure_id id, const struct figure *a, const struct figure *b)
{
	switch (table[id].stricter) {
	case LESS:
	case NO:
		return a->value < b->value;
	case MORE:
	case YES:
		return a->value > b->value;
	case FEWER:
		return has_other_word(b, a);
	}
	return false;
}

/*
 * An exemption or permission that a set does not speak of is not given by it;
 * a limit it does not speak of does not bind.  Freezing against parasites is
 * what permits food served raw.
 */
static bool
is_permission(enum figure_id id)
{
	return table[id].stricter == FEWER || table[id].stricter == NO ||
	    (id >= FIG_PARASITE_C && id <= FIG_PARASITE_DEEP_HOURS);
}

/* A set that is silent about the day of thawing counts it. */
static void
strictest_thaw_day(struct figure *a, const struct figure *b)
{
	if (a->set && a->value)
		return;
	if (b->set && b->value)
		*a = *b;
	else if (!a->set || !b->set)
		memset(a, 0, sizeof(*a));
}

void
ruleset_strictest(struct ruleset *to, const struct ruleset *other)
{
	const struct figure *b;
	struct figure *a;
	char both[120];
	int i;

	for (i = 0; i < FIGURE_COUNT; i++) {
		a = &to->figures[i];
		b = &other->figures[i];
		if (i == FIG_THAW_DAY) {
			strictest_thaw_day(a, b);
			continue;
		}
		if (is_permission((enum figure_id)i)) {
			if (!a->set || !b->set) {
				memset(a, 0, sizeof(*a));
			} else if (table[i].kind == WORDS) {
				both_words(both, sizeof(both), a, b);
				str_copy(a->words, sizeof(a->words), both);
			} else if (is_stricter((enum figure_id)i, b, a)) {
				*a = *b;
			}
			continue;
		}
		if (b->set && (!a->set || is_stricter((enum figure_id)i, b, a)))
			*a = *b;
	}
}

static void
value_text(char *dst, size_t size, enum figure_id id, const struct figure *f)
{
	char t[32];

	switch (table[id].kind) {
	case DAYS:
	case LONG_DAYS:
		str_fmt(dst, size, "%d days", f->value);
		break;
	case HOURS:
		str_fmt(dst, size, "%d hours", f->value);
		break;
	case TEMP:
		str_copy(dst, size, temp_print(t, sizeof(t), f->value));
		break;
	case YES_NO:
		str_copy(dst, size, f->value ? "yes" : "no");
		break;
	case WORDS:
		str_fmt(
		    dst, size, "%s", f->words[0] == '\0' ? "none" : f->words);
		break;
	}
}

enum rc
ruleset_tighten(
    struct ruleset *to, const struct ini_doc *house, struct err *err)
{
	struct ruleset over;
	struct figure *a, *b;
	const struct ini_item *it;
	char own[130], law[130];
	size_t k;
	int i;
	enum rc rc;

	memset(&over, 0, sizeof(over));
	for (k = 0; k < house->count; k++) {
		it = &house->items[k];
		if (str_eq(it->section, "rule set"))
			return bad(house, it, err,
			    "a house file only tightens figures");
		if ((rc = set_item(&over, house, it, err)) != RC_OK)
			return rc;
	}
	name_origin(&over, "house");
	for (i = 0; i < FIGURE_COUNT; i++) {
		a = &to->figures[i];
		b = &over.figures[i];
		if (!b->set && mentioned(b))
			return no_value(house, i, err);
		if (!b->set)
			continue;
		if (b->source[0] == '\0')
			str_copy(b->source, sizeof(b->source),
			    "the kitchen's own food safety plan");
		b->verified = true;
		if ((a->set && is_stricter((enum figure_id)i, a, b)) ||
		    (!a->set &&
			(is_permission((enum figure_id)i) ||
			    (i == FIG_THAW_DAY && !b->value)))) {
			value_text(own, sizeof(own), (enum figure_id)i, b);
			value_text(law, sizeof(law), (enum figure_id)i, a);
			return err_set(err, RC_REFUSED, 0,
			    "%s: [%s]: the house's %s would loosen %s of rule "
			    "set %s",
			    house->path, table[i].name, own,
			    a->set ? law : "none", to->name);
		}
		*a = *b;
	}
	return RC_OK;
}

char *
figure_source(char *dst, size_t size, const struct figure *f)
{
	str_fmt(dst, size, "%s%s%s", f->source,
	    f->section[0] == '\0' ? "" : ", ", f->section);
	return dst;
}

void
ruleset_print(struct buf *out, const struct ruleset *rs)
{
	const struct figure *f;
	char value[130], source[210];
	int i;

	buf_printf(out, "%s: %s\n", rs->name, rs->title);
	for (i = 0; i < FIGURE_COUNT; i++) {
		f = &rs->figures[i];
		if (!f->set)
			continue;
		value_text(value, sizeof(value), (enum figure_id)i, f);
		buf_printf(out, "%s = %s (%s; %s%s)\n", table[i].name, value,
		    f->set_name, figure_source(source, sizeof(source), f),
		    f->verified ? "" : "; unverified");
	}
}
