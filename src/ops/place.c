/* place.c - where stock is. */
#include "ops/place.h"

#include <assert.h>
#include <string.h>

#include "base/str.h"
#include "ops/scan.h"
#include "store/batches.h"
#include "store/store.h"
#include "unit.h"

/* One more, unless it is there or empty. */
static size_t
put_word(char (*words)[PLACE_SIZE], size_t n, const char *text, size_t len)
{
	char word[PLACE_SIZE];
	size_t i;

	while (len > 0 && text[0] == ' ') {
		text++;
		len--;
	}
	while (len > 0 && text[len - 1] == ' ')
		len--;
	if (len == 0 || len >= PLACE_SIZE || n == PLACES_MAX)
		return n;
	str_fmt(word, sizeof(word), "%.*s", (int)len, text);
	for (i = 0; i < n; i++)
		if (str_eq_nocase(words[i], word))
			return n;
	str_copy(words[n], PLACE_SIZE, word);
	return n + 1;
}

size_t
place_words(char (*words)[PLACE_SIZE], const struct config *cfg)
{
	const char *at = cfg->places, *end;
	size_t n = 0;

	n = put_word(words, n, cfg->place_chilled, strlen(cfg->place_chilled));
	n = put_word(words, n, cfg->place_frozen, strlen(cfg->place_frozen));
	for (;; at = end + 1) {
		end = strchr(at, ',');
		n = put_word(words, n, at,
		    end == NULL ? strlen(at) : (size_t)(end - at));
		if (end == NULL)
			return n;
	}
}

enum rc
place_check(char dst[PLACE_SIZE], const struct config *cfg, const char *text,
    struct err *err)
{
	char words[PLACES_MAX][PLACE_SIZE], list[200] = "", more[200];
	size_t i, n = place_words(words, cfg);

	for (i = 0; i < n; i++) {
		if (str_eq_nocase(words[i], text)) {
			str_copy(dst, PLACE_SIZE, words[i]);
			return RC_OK;
		}
		if (str_fmt(more, sizeof(more), "%s%s%s", list,
			i == 0 ? "" : ", ", words[i]))
			str_copy(list, sizeof(list), more);
	}
	return err_set(err, RC_INVALID, 0,
	    "\"%.40s\" is no place of this kitchen: %s (or add it to [places] "
	    "in the settings)",
	    text, list);
}

enum rc
place_of_unit(char dst[PLACE_SIZE], struct station *sn, const struct portion *p,
    struct err *err)
{
	const struct subject s = { .portion_id = p->id };
	enum rc rc = place_get(dst, sn->st, &s, err);

	if (rc == RC_NOTFOUND)
		str_copy(dst, PLACE_SIZE,
		    p->keep == KEEP_FROZEN ? sn->cfg.place_frozen
					   : sn->cfg.place_chilled);
	return rc == RC_NOTFOUND ? RC_OK : rc;
}

enum rc
place_of_batch(
    char dst[PLACE_SIZE], struct station *sn, int64_t batch_id, struct err *err)
{
	const struct subject s = { .batch_id = batch_id };
	enum rc rc = place_get(dst, sn->st, &s, err);

	if (rc == RC_NOTFOUND)
		str_copy(dst, PLACE_SIZE, sn->cfg.place_chilled);
	return rc == RC_NOTFOUND ? RC_OK : rc;
}

/* What the code is about, with something of it left. */
static enum rc
find(struct subject *s, char shown[CODE_SIZE], struct station *sn,
    const char *text, struct err *err)
{
	char code[CODE_SIZE];
	enum code_kind kind;
	struct portion p;
	struct batch b;
	int64_t left;
	enum rc rc;

	memset(s, 0, sizeof(*s));
	if ((rc = scan_code(&kind, code, sn, text, err)) != RC_OK)
		return rc;
	if (kind == CODE_BATCH) {
		if ((rc = batch_get(&b, sn->st, code, err)) != RC_OK)
			return rc;
		s->batch_id = b.id;
		left = b.decision == DECISION_REFUSED ? 0 : b.weight_left;
	} else {
		if ((rc = unit_by_code(&p, sn, text, err)) != RC_OK)
			return rc;
		s->portion_id = p.id;
		left = p.left;
	}
	code_show(shown, code);
	return left > 0 ? RC_OK
			: err_set(err, RC_REFUSED, 0,
			      "nothing of %s is on hand: there is nothing to "
			      "move",
			      shown);
}

static enum rc
move_one(struct station *sn, const char *code, const char *place,
    const struct moment *at, struct err *err)
{
	char shown[CODE_SIZE];
	struct subject s;
	enum rc rc;

	if ((rc = find(&s, shown, sn, code, err)) != RC_OK ||
	    (rc = place_set(sn->st, &s, place, at, err)) != RC_OK)
		return rc;
	return station_audit(sn, at, err, "move", shown, "to %s", place);
}

enum rc
move(char place[PLACE_SIZE], struct station *sn, const struct move_in *in,
    struct err *err)
{
	char own[PLACE_SIZE];
	struct moment at;
	size_t i;
	enum rc rc;

	assert(in->count >= 1 && in->count <= MOVE_CODES_MAX);
	if (place == NULL)
		place = own;
	if ((rc = station_moment(&at, sn, in->by, err)) != RC_OK ||
	    (rc = place_check(place, &sn->cfg, in->place, err)) != RC_OK ||
	    (rc = store_begin(sn->st, err)) != RC_OK)
		return rc;
	for (i = 0; i < in->count && rc == RC_OK; i++)
		rc = move_one(sn, in->codes[i], place, &at, err);
	if (rc == RC_OK)
		rc = store_commit(sn->st, err);
	store_rollback(sn->st);
	return rc;
}
