/*
 * fuzz_import.c - the readers of every kind of CSV that is brought in; the
 * first byte chooses which.
 *
 * Properties: a file that is refused leaves nothing behind and is told of in
 * one line that begins with its name; what is accepted is text, in range, and
 * as many rows as lines at most.
 */
#include <stdlib.h>
#include <string.h>

#include "base/buf.h"
#include "base/file.h"
#include "base/str.h"
#include "exchange/offers_in.h"
#include "exchange/records_in.h"
#include "exchange/sales_in.h"
#include "fuzz.h"
#include "rig.h"

static const struct service_names services = { { "lunch", "dinner" }, 2 };

static struct dish_sold dishes[2];
static const struct dish_sold_list menu = { dishes, 2 };

static struct species_table species;

static void
load(void)
{
	struct buf b;

	if (species.count > 0)
		return;
	buf_init(&b, FILE_READ_MAX);
	FUZZ_HOLDS(file_read(&b, "config/species.csv", NULL) == RC_OK);
	FUZZ_HOLDS(
	    species_parse(&species, "species", b.data, b.len, NULL) == RC_OK);
	buf_fini(&b);
	dishes[0].id = 1;
	str_copy(dishes[0].code, sizeof(dishes[0].code), "cod-leeks");
	dishes[1].id = 2;
	str_copy(dishes[1].code, sizeof(dishes[1].code), "mussels");
}

static void
check(enum rc rc, const struct err *err, const void *rows)
{
	FUZZ_HOLDS(rc == RC_OK || rc == RC_INVALID || rc == RC_REFUSED);
	if (rc == RC_OK)
		return;
	FUZZ_HOLDS(rows == NULL);
	rig_err(err);
	FUZZ_HOLDS(strncmp(err->text, "in.csv", 6) == 0);
}

static size_t
line_count(const char *s, size_t len)
{
	size_t i, n = 1;

	for (i = 0; i < len; i++)
		n += s[i] == '\n' || s[i] == '\r';
	return n;
}

static void
text(const char *s)
{
	FUZZ_HOLDS(utf8_valid(s, strlen(s)));
	FUZZ_HOLDS(strpbrk(s, "\n\r\t") == NULL);
}

static void
bookings(const char *s, size_t len)
{
	struct service *rows = NULL;
	struct err err = { 0 };
	size_t i, n = 0;
	enum rc rc =
	    bookings_parse(&rows, &n, "in.csv", s, len, &services, &err);

	check(rc, &err, rows);
	FUZZ_HOLDS(n <= line_count(s, len));
	for (i = 0; i < n; i++) {
		text(rows[i].name);
		FUZZ_HOLDS(rows[i].covers >= 0 && rows[i].covers <= COUNT_MAX);
		FUZZ_HOLDS(rows[i].day >= DAY_MIN && rows[i].day <= DAY_MAX);
	}
	free(rows);
}

static void
suppliers(const char *s, size_t len)
{
	struct supplier *rows = NULL;
	struct err err = { 0 };
	size_t i, n = 0;
	enum rc rc = suppliers_parse(&rows, &n, "in.csv", s, len, &err);

	check(rc, &err, rows);
	for (i = 0; i < n; i++) {
		FUZZ_HOLDS(rows[i].code[0] != '\0');
		text(rows[i].code);
		text(rows[i].name);
		text(rows[i].address);
	}
	free(rows);
}

static void
dishes_of(const char *s, size_t len)
{
	struct menu_row *rows = NULL;
	struct err err = { 0 };
	size_t i, n = 0;
	enum rc rc =
	    menu_parse(&rows, &n, "in.csv", s, len, &services, &species, &err);

	check(rc, &err, rows);
	for (i = 0; i < n; i++) {
		text(rows[i].cut.dish);
		FUZZ_HOLDS(
		    rows[i].share_bp[0] >= 0 && rows[i].share_bp[0] <= BP_ONE);
		FUZZ_HOLDS(rows[i].cut.low_g > 0 &&
		    rows[i].cut.low_g <= rows[i].cut.target_g &&
		    rows[i].cut.target_g <= rows[i].cut.high_g);
	}
	free(rows);
}

static void
offers(const char *s, size_t len)
{
	struct plan_offer *rows = NULL;
	struct err err = { 0 };
	int *lines = NULL;
	size_t n = 0;
	enum rc rc =
	    offers_parse(&rows, &lines, &n, "in.csv", s, len, &species, &err);

	check(rc, &err, rows);
	FUZZ_HOLDS(rc == RC_OK || lines == NULL);
	free(rows);
	free(lines);
}

static void
sales(const char *s, size_t len)
{
	struct sales_file f;
	struct err err = { 0 };
	enum rc rc = sales_parse(&f, "in.csv", s, len, &services, &menu, &err);
	size_t i;

	check(rc, &err, NULL);
	if (rc == RC_OK)
		for (i = 0; i < f.row_count; i++)
			FUZZ_HOLDS(
			    f.rows[i].sold >= 0 && f.rows[i].sold <= SALES_MAX);
	sales_fini(&f);
}

int
LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
	static void (*const kinds[])(const char *s, size_t len) = { bookings,
		suppliers, dishes_of, offers, sales };
	char *copy;

	if (size == 0)
		return 0;
	load();
	/* As file_read() gives it: with a NUL behind. */
	copy = malloc(size);
	FUZZ_HOLDS(copy != NULL);
	memcpy(copy, data + 1, size - 1);
	copy[size - 1] = '\0';
	kinds[data[0] % (sizeof(kinds) / sizeof(kinds[0]))](copy, size - 1);
	free(copy);
	return 0;
}
