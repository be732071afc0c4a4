/*
 * fuzz_ruleset.c - the reader of rule files, and what a house may lay over a
 * set.
 *
 * Properties: what is read is text; every figure of an accepted set has its
 * source and is in range; a set folded with itself is itself; a house that is
 * accepted loosens no figure, so that no fact is dated later; an error is one
 * line of text that names the file.
 */
#include "fuzz.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "base/str.h"
#include "config/ini.h"
#include "core/ruleset.h"

static void
check_error(const struct err *err)
{
	FUZZ_HOLDS(text_check("it", err->text, ERR_TEXT_MAX - 1, false, NULL) ==
	    RC_OK);
}

/* The library reads files only. */
static enum rc
load(struct ini_doc *doc, const uint8_t *data, size_t size, struct err *err)
{
	const char *folder = getenv("TMPDIR");
	char path[300];
	FILE *fp;
	int fd;
	enum rc rc;

	FUZZ_HOLDS(str_fmt(path, sizeof(path), "%s/fuzz-ruleset-XXXXXX",
	    folder == NULL ? "/tmp" : folder));
	fd = mkstemp(path);
	FUZZ_HOLDS(fd >= 0);
	fp = fdopen(fd, "wb");
	FUZZ_HOLDS(fp != NULL);
	FUZZ_HOLDS(fwrite(data, 1, size, fp) == size);
	FUZZ_HOLDS(fclose(fp) == 0);
	rc = ini_load(doc, path, err);
	unlink(path);
	return rc;
}

/* A figure by figure comparison that knows nothing of the table. */
static bool
more_is_stricter(int id)
{
	return id == FIG_VACUUM_FROZEN || id == FIG_THAW_DAY ||
	    id == FIG_PARASITE_HOURS || id == FIG_PARASITE_DEEP_HOURS ||
	    id == FIG_TAG_DAYS;
}

static bool
is_words(int id)
{
	return id == FIG_EXEMPT_SPECIES || id == FIG_EXEMPT_FORMS;
}

/* Every word of `own` is in `law`. */
static bool
words_within(const char *own, const struct figure *law)
{
	char word[sizeof(law->words)];
	size_t n;

	for (; *own != '\0'; own += n) {
		own += strspn(own, " ");
		n = strcspn(own, " ");
		str_fmt(word, sizeof(word), "%.*s", (int)n, own);
		if (n > 0 && !figure_words_have(law, word))
			return false;
	}
	return true;
}

static void
check_no_looser(const struct ruleset *own, const struct ruleset *law)
{
	const struct figure *f, *g;
	int i;

	for (i = 0; i < FIGURE_COUNT; i++) {
		f = &own->figures[i];
		g = &law->figures[i];
		FUZZ_HOLDS(f->set);
		if (is_words(i))
			FUZZ_HOLDS(words_within(f->words, g));
		else if (more_is_stricter(i))
			FUZZ_HOLDS(f->value >= g->value);
		else
			FUZZ_HOLDS(f->value <= g->value);
	}
}

/* A set that has every figure. */
static void
full_set(struct ruleset *rs)
{
	struct figure *f;
	int i;

	memset(rs, 0, sizeof(*rs));
	str_copy(rs->name, sizeof(rs->name), "law");
	for (i = 0; i < FIGURE_COUNT; i++) {
		f = &rs->figures[i];
		f->set = true;
		f->value = i == FIG_VACUUM_FROZEN || i == FIG_THAW_DAY ||
			i == FIG_EXEMPT_FARMED
		    ? 1
		    : 7;
		if (is_words(i))
			str_copy(f->words, sizeof(f->words), "ALB YFT bivalve");
		str_copy(f->source, sizeof(f->source), "A law");
	}
}

static void
check_set(const struct ruleset *rs)
{
	struct ruleset twice = *rs;
	const struct figure *f;
	struct buf text;
	int i;

	FUZZ_HOLDS(rs->name[0] != '\0' && rs->title[0] != '\0');
	for (i = 0; i < FIGURE_COUNT; i++) {
		f = &rs->figures[i];
		if (!f->set)
			continue;
		FUZZ_HOLDS(f->source[0] != '\0');
		FUZZ_HOLDS(rs->strictest_of[0] == '\0');
		FUZZ_HOLDS(f->value >= -600 && f->value <= 2000);
		FUZZ_HOLDS(str_eq(f->set_name, rs->name));
	}
	ruleset_strictest(&twice, rs);
	for (i = 0; i < FIGURE_COUNT; i++) {
		FUZZ_HOLDS(twice.figures[i].set == rs->figures[i].set);
		FUZZ_HOLDS(twice.figures[i].value == rs->figures[i].value);
		FUZZ_HOLDS(
		    words_within(rs->figures[i].words, &twice.figures[i]));
	}
	buf_init(&text, 65536);
	ruleset_print(&text, rs);
	FUZZ_HOLDS(buf_check(&text, "a rule set", NULL) == RC_OK);
	FUZZ_HOLDS(text.len > 0);
	buf_fini(&text);
}

int
LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
	struct err err = { 0 };
	struct ruleset rs, law, own;
	struct ini_doc doc;
	size_t i;
	enum rc rc;

	if ((rc = load(&doc, data, size, &err)) != RC_OK) {
		check_error(&err);
		FUZZ_HOLDS(doc.items == NULL);
		return 0;
	}
	for (i = 0; i < doc.count; i++)
		FUZZ_HOLDS(utf8_valid(doc.items[i].value,
			       strlen(doc.items[i].value)) &&
		    utf8_valid(
			doc.items[i].section, strlen(doc.items[i].section)) &&
		    utf8_valid(doc.items[i].key, strlen(doc.items[i].key)));
	rc = ruleset_parse(&rs, &doc, &err);
	FUZZ_HOLDS(rc == RC_OK || rc == RC_INVALID);
	if (rc == RC_OK)
		check_set(&rs);
	else
		check_error(&err);
	err_clear(&err);
	full_set(&law);
	own = law;
	rc = ruleset_tighten(&own, &doc, &err);
	FUZZ_HOLDS(rc == RC_OK || rc == RC_INVALID || rc == RC_REFUSED);
	if (rc == RC_OK)
		check_no_looser(&own, &law);
	else
		check_error(&err);
	ini_fini(&doc);
	return 0;
}
