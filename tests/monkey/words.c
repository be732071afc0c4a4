/* words.c - what a monkey types and scans. */
#include <stdio.h>
#include <string.h>

#include "base/str.h"
#include "monkey.h"

/* A word of the label beside a field, and what may stand in it; one list for
 * each row, parted by '|'. */
static const struct {
	const char *label, *words;
} known[] = {
	{ "supplier's", "+3|+4|+2|" },
	{ "use-by", "+3|+4|" },
	{ "supplier", "quay|isle|quay" },
	{ "document", "DN-1|DN-2" },
	{ "note", "more ice on at once|" },
	{ "species", "HKE|POK|PLE|LEM|MAC|MUS|CRE|TRR|hake|plaice" },
	{ "presentation", "gutted|gutted|whole|live|fillet" },
	{ "bought", "gutted|whole|live" },
	{ "temperature", "1,2|0.8|2|4.1|-19|-21" },
	{ "reached", "-19|-21" },
	{ "degrees", "1,2|-20" },
	{ "lot", "L1|L-77" },
	{ "area", "27.7.j|27.7.e|27.6.a|Far Holm" },
	{ "method", "caught|farmed|caught" },
	{ "gear", "Trawls|Hooks and lines|FPO" },
	{ "caught", "-1|-2|today" },
	{ "dispatched", "-1|today" },
	{ "vessel", "Fair Wind FH 12" },
	{ "price", "12,50|9.80" },
	{ "portions", "1|2|4|6" },
	{ "per label", "1|2" },
	{ "servings", "1|2" },
	{ "weight", "2,4 kg|850|1200|300|4kg|2100 1950" },
	{ "weigh", "2,4 kg|850|1200|300|160|330" },
	{ "trim", "10|40|80" },
	{ "frames", "40|200|90" },
	{ "waste", "20|60|5" },
	{ "grams", "160|300|1200" },
	{ "fish", "1|2|3|10" },
	{ "count", "1|2|12" },
	{ "minutes", "12|25" },
	{ "covers", "40|60|350" },
	{ "booked", "40|60" },
	{ "seated", "40|38" },
	{ "walk", "2|0|5" },
	{ "sold", "1|8|12" },
	{ "expected", "44|60" },
	{ "parties", "2x8 4x5" },
	{ "date", "today|fri|+1|-1" },
	{ "day", "today|fri|+1" },
	{ "from", "-7|-30" },
	{ "dish", "hake-beans|plaice-crumb|mussel-pot" },
	{ "reason", "fell on the floor|asked by the chef" },
	{ "initials", "AK|LM" },
	{ "who", "AK|LM" },
	{ "name", "Ada Kern|Lena Moor" },
	{ "pin", "4711|1234|4711" },
	{ "code", "000-01U" },
};

static const char *const anything[] = { "1", "2", "12", "850", "AK",
	"asked by the chef", "fri", "+1", "27.11", "quay", "HKE", "-3", "0",
	"999999999999", "\xc3\xa9t\xc3\xa9", "x", "1,5", "%s%n", "';--",
	"\xe9\xb1\x88" };

const char *
monkey_word(struct monkey *m)
{
	static char word[64];
	const char *from, *to;
	size_t i;
	int n;

	for (i = 0; i < sizeof(known) / sizeof(known[0]); i++)
		if (strstr(m->label, known[i].label) != NULL)
			break;
	if (i == sizeof(known) / sizeof(known[0]) || chance_of(m, 12) == 0)
		return anything[chance_of(
		    m, (int)(sizeof(anything) / sizeof(anything[0])))];
	for (n = 1, from = known[i].words; *from != '\0'; from++)
		n += *from == '|';
	n = chance_of(m, n);
	for (from = known[i].words; n > 0; from++)
		n -= *from == '|';
	to = from + strcspn(from, "|");
	str_fmt(word, sizeof(word), "%.*s", (int)(to - from), from);
	return word;
}

/* A code of the file: a unit on hand, any unit, an open batch, any batch. */
bool
monkey_code(struct monkey *m, char *dst, size_t size)
{
	static const char *const sql[] = {
		"SELECT code FROM portion WHERE left > 0 ORDER BY use_by_utc,"
		" serial LIMIT 1 OFFSET ?1 % 8",
		"SELECT code FROM portion WHERE id >= ?1 % (SELECT max(id)"
		" FROM portion) LIMIT 1",
		"SELECT code FROM batch WHERE open = 1 ORDER BY id LIMIT 1"
		" OFFSET ?1 % 20",
		"SELECT code FROM batch WHERE id >= ?1 % (SELECT max(id)"
		" FROM batch) LIMIT 1",
	};
	sqlite3_stmt *s = NULL;
	int which = chance_of(m, 4);
	bool found = false;

	if (sqlite3_prepare_v2(m->db, sql[which], -1, &s, NULL) != SQLITE_OK)
		return false;
	sqlite3_bind_int(s, 1, chance_of(m, 1000000));
	if (sqlite3_step(s) == SQLITE_ROW)
		found = str_copy(
		    dst, size, (const char *)sqlite3_column_text(s, 0));
	sqlite3_finalize(s);
	return found;
}

static int
supplier_label(struct monkey *m, char *dst, int size)
{
	static const char *const labels[] = {
		"(01)04012345678901(7008)TRR(10)T-88(17)261209(3103)004200",
		"\x1d"
		"0104012345678901"
		"10L44\x1d"
		"3103002400",
		"]C1010401234567890117261207"
		"10H4471",
		"5901234123457",
		"https://id.example.org/01/04012345678901/10/L9",
		"(01)04012345678901(10)",
	};

	str_fmt(dst, (size_t)size, "%s", labels[chance_of(m, 6)]);
	return (int)strlen(dst);
}

static int
garbage(struct monkey *m, char *dst, int size)
{
	int n = 1 + chance_of(m, chance_of(m, 20) == 0 ? size - 1 : 60), i;

	for (i = 0; i < n; i++)
		dst[i] = (char)(1 + chance_of(m, 255));
	dst[n] = '\0';
	return n;
}

int
monkey_label(struct monkey *m, char *dst, int size)
{
	char code[CODE_SIZE];
	int what = chance_of(m, 10);

	if (what < 7 && monkey_code(m, code, sizeof(code))) {
		str_fmt(dst, (size_t)size, "%s", code);
		if (chance_of(m, 15) == 0) /* a smear */
			dst[chance_of(m, (int)strlen(dst))] = 'K';
		return (int)strlen(dst);
	}
	return what < 9 ? supplier_label(m, dst, size) : garbage(m, dst, size);
}
