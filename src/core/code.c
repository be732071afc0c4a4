/* code.c - batch and portion codes with an ISO/IEC 7064 check character. */
#include "core/code.h"

#include <assert.h>
#include <string.h>

#include "base/str.h"
#include "core/label_code.h"

static int
value37(char c)
{
	if (c >= '0' && c <= '9')
		return c - '0';
	if (c >= 'A' && c <= 'Z')
		return c - 'A' + 10;
	return -1;
}

char
mod37_36(const char *s, size_t len)
{
	static const char set[] = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ";
	int p = 36;
	size_t i;
	int v;

	for (i = 0; i < len; i++) {
		v = value37(s[i]);
		if (v < 0)
			return '\0';
		p = (p + v) % 36;
		if (p == 0)
			p = 36;
		p = p * 2 % 37;
	}
	return set[(37 - p) % 36];
}

static bool
in_alphabet(char c)
{
	return c != '\0' && strchr(CODE_ALPHABET, c) != NULL;
}

/* Complete a body of `len` characters; false when its check is unusable. */
static bool
add_check(char *code, size_t len)
{
	code[len] = mod37_36(code, len);
	code[len + 1] = '\0';
	return in_alphabet(code[len]);
}

int
batch_code_make(char code[CODE_SIZE], day_no day, int number)
{
	struct civil c = day_civil(day);

	assert(number >= 1);
	for (; number <= BATCH_NUMBER_MAX; number++) {
		str_fmt(code, CODE_SIZE, "%02d%03d%02d", c.year % 100,
		    day_of_year(day), number);
		if (add_check(code, BATCH_CODE_LEN - 1))
			return number;
	}
	code[0] = '\0';
	return 0;
}

int64_t
portion_code_make(char code[CODE_SIZE], int64_t serial)
{
	static const char set[] = CODE_ALPHABET;
	int64_t left;
	int i;

	assert(serial >= 1);
	for (; serial <= PORTION_SERIAL_MAX; serial++) {
		left = serial;
		for (i = PORTION_CODE_LEN - 2; i >= 0; i--) {
			code[i] = set[left % 28];
			left /= 28;
		}
		if (add_check(code, PORTION_CODE_LEN - 1))
			return serial;
	}
	code[0] = '\0';
	return 0;
}

/* Upper case without hyphens and blanks; false when it is too long. */
static bool
tidy(char *dst, size_t size, const char *s)
{
	size_t n = 0;

	for (; *s != '\0'; s++) {
		if (*s == '-' || *s == ' ')
			continue;
		if (n + 1 >= size)
			return false;
		dst[n++] = *s;
	}
	dst[n] = '\0';
	str_upper(dst);
	for (n = 0; dst[n] != '\0'; n++) {
		if (dst[n] == 'O')
			dst[n] = '0';
		else if (dst[n] == 'I' || dst[n] == 'L')
			dst[n] = '1';
	}
	return true;
}

enum rc
code_parse(
    enum code_kind *kind, char code[CODE_SIZE], const char *s, struct err *err)
{
	struct label_code label;
	char t[CODE_SIZE];
	size_t n, i;

	if (label_code_looks_like(s)) {
		enum rc rc = label_code_parse(&label, s, err);

		if (rc != RC_OK)
			return rc;
		*kind = label.portion[0] != '\0' ? CODE_PORTION : CODE_BATCH;
		str_copy(code, CODE_SIZE,
		    *kind == CODE_PORTION ? label.portion : label.batch);
		return RC_OK;
	}
	n = tidy(t, sizeof(t), s) ? strlen(t) : 0;
	if (n != BATCH_CODE_LEN && n != PORTION_CODE_LEN)
		return err_set(err, RC_INVALID, 0,
		    "\"%.40s\" is not a code: a batch looks like 26330-09C, a "
		    "portion like 001-H7C",
		    s);
	for (i = 0; i < n; i++)
		if (!in_alphabet(t[i]) ||
		    (n == BATCH_CODE_LEN && i + 1 < n &&
			(t[i] < '0' || t[i] > '9')))
			return err_set(err, RC_INVALID, 0,
			    "code \"%.40s\": '%c' cannot stand at place %zu: "
			    "read the code again",
			    s, t[i], i + 1);
	if (mod37_36(t, n - 1) != t[n - 1])
		return err_set(err, RC_INVALID, 0,
		    "code \"%.40s\": the check character is wrong, read it "
		    "again from the label",
		    s);
	*kind = n == BATCH_CODE_LEN ? CODE_BATCH : CODE_PORTION;
	str_copy(code, CODE_SIZE, t);
	return RC_OK;
}

char *
code_show(char dst[CODE_SIZE], const char *code)
{
	size_t n = strlen(code);
	int at = n == BATCH_CODE_LEN ? 5 : 3;

	if (n != BATCH_CODE_LEN && n != PORTION_CODE_LEN)
		str_copy(dst, CODE_SIZE, code);
	else
		str_fmt(dst, CODE_SIZE, "%.*s-%s", at, code, code + at);
	return dst;
}
