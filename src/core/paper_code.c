/* paper_code.c - a digest short enough to be keyed from paper. */
#include "core/paper_code.h"

#include <string.h>

#include "base/str.h"
#include "core/code.h"

#define BASE 28
#define DATA_LEN (PAPER_CODE_LEN - 1)
#define BYTES 14 /* 112 bits; the last 2 are left out */

static int
value_of(char c)
{
	const char *at = c == '\0' ? NULL : strchr(CODE_ALPHABET, c);

	return at == NULL ? -1 : (int)(at - CODE_ALPHABET);
}

/* The check character of the first DATA_LEN. */
static char
check_of(const char *code)
{
	int p = BASE, i;

	for (i = 0; i < DATA_LEN; i++) {
		p = (p + value_of(code[i])) % BASE;
		if (p == 0)
			p = BASE;
		p = p * 2 % (BASE + 1);
	}
	return CODE_ALPHABET[(BASE + 1 - p) % BASE];
}

static int
nibble(char c)
{
	if (c >= '0' && c <= '9')
		return c - '0';
	return c >= 'a' && c <= 'f' ? c - 'a' + 10 : -1;
}

char *
paper_code_make(char out[PAPER_CODE_SIZE], const char *digest)
{
	unsigned char number[BYTES];
	int i, j, high, low, rest;

	out[0] = '\0';
	if (strlen(digest) < BYTES * 2)
		return out;
	for (i = 0; i < BYTES; i++) {
		high = nibble(digest[i * 2]);
		low = nibble(digest[i * 2 + 1]);
		if (high < 0 || low < 0)
			return out;
		number[i] = (unsigned char)(high << 4 | low);
	}
	for (i = BYTES - 1; i >= 0; i--)
		number[i] = (unsigned char)(number[i] >> 2 |
		    (i == 0 ? 0 : number[i - 1] << 6));
	for (i = DATA_LEN - 1; i >= 0; i--) {
		rest = 0;
		for (j = 0; j < BYTES; j++) {
			rest = rest << 8 | number[j];
			number[j] = (unsigned char)(rest / BASE);
			rest %= BASE;
		}
		out[i] = CODE_ALPHABET[rest];
	}
	out[DATA_LEN] = check_of(out);
	out[PAPER_CODE_LEN] = '\0';
	return out;
}

char *
paper_code_show(char dst[PAPER_SHOW_SIZE], const char *code)
{
	size_t i, n = 0;

	for (i = 0; code[i] != '\0' && i < PAPER_CODE_LEN; i++) {
		if (i > 0 && i % 4 == 0)
			dst[n++] = '-';
		dst[n++] = code[i];
	}
	dst[n] = '\0';
	return dst;
}

enum rc
paper_code_parse(char code[PAPER_CODE_SIZE], const char *s, struct err *err)
{
	size_t n = 0;
	char c[2] = "";

	for (; *s != '\0'; s++) {
		if (*s == '-' || *s == ' ')
			continue;
		c[0] = *s;
		str_upper(c);
		if (c[0] == 'O')
			c[0] = '0';
		if (c[0] == 'I' || c[0] == 'L')
			c[0] = '1';
		if (value_of(c[0]) < 0)
			return err_set(err, RC_INVALID, 0,
			    "%c is in no code: key the 6 groups of 4 from the "
			    "day sheet",
			    (unsigned char)*s >= 0x20 &&
				    (unsigned char)*s < 0x7f
				? *s
				: '?');
		if (n == PAPER_CODE_LEN)
			return err_set(err, RC_INVALID, 0,
			    "over %d characters: key the 6 groups of 4 from "
			    "the day sheet",
			    PAPER_CODE_LEN);
		code[n++] = c[0];
	}
	code[n] = '\0';
	if (n < PAPER_CODE_LEN)
		return err_set(err, RC_INVALID, 0,
		    "only %zu of %d: key the 6 groups of 4 from the day "
		    "sheet",
		    n, PAPER_CODE_LEN);
	if (check_of(code) != code[PAPER_CODE_LEN - 1])
		return err_set(err, RC_INVALID, 0,
		    "a wrong character: compare each group with the day "
		    "sheet");
	return RC_OK;
}
