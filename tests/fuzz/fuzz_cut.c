/*
 * fuzz_cut.c - the files of `pinbone cut`, and the plan made from them.
 *
 * The bytes are the fish, the dishes and the trim, each up to a line of three
 * dashes.  Properties: an error is one line that names its file; what is
 * accepted is solved; no plan costs less than its bound; the plan is allowed,
 * and its cost is what cut_check() adds up; the cook's plan costs no less than
 * the bound; the same board gives the same plan again.
 */
#include "fuzz.h"

#include <stdlib.h>
#include <string.h>

#include "base/str.h"
#include "core/cut_head.h"
#include "exchange/cut_in.h"

/* Larger boards are for the bench: here many small ones tell more. */
#define FISH_MAX 40
#define WANTED_MAX 200

static void
check_error(const struct err *err)
{
	FUZZ_HOLDS(text_check("it", err->text, ERR_TEXT_MAX - 1, false, NULL) ==
	    RC_OK);
}

/* The part up to a line of three dashes, or to the end. */
static const char *
next_part(const char **rest, size_t *left, size_t *len)
{
	const char *start = *rest;
	size_t i;

	for (i = 0; i + 4 <= *left; i++)
		if (memcmp(start + i, "---\n", 4) == 0 &&
		    (i == 0 || start[i - 1] == '\n'))
			break;
	*len = i + 4 <= *left ? i : *left;
	i = i + 4 <= *left ? i + 4 : *left;
	*rest += i;
	*left -= i;
	return start;
}

static enum rc
read_board(
    struct cut_board *b, const uint8_t *data, size_t size, struct err *err)
{
	const char *rest = (const char *)data, *part;
	size_t left = size, len;
	enum rc rc;

	part = next_part(&rest, &left, &len);
	if ((rc = board_fish(b, "fish", part, len, err)) != RC_OK)
		return rc;
	part = next_part(&rest, &left, &len);
	if ((rc = board_dishes(b, "dishes", part, len, err)) != RC_OK)
		return rc;
	if (left == 0)
		return RC_OK;
	part = next_part(&rest, &left, &len);
	return board_trim(b, "trim", part, len, err);
}

static void
check_plan(struct cut_problem *p)
{
	struct cut_plan a, b, head;
	struct err err = { 0 };
	int64_t cost;

	p->memory_max = (size_t)16 << 20;
	if (cut_solve(&a, p, &err) != RC_OK) {
		check_error(&err);
		return;
	}
	FUZZ_HOLDS(a.bound <= a.cost);
	cost = a.cost;
	FUZZ_HOLDS(cut_check(&a, p, &err) == RC_OK);
	FUZZ_HOLDS(a.cost == cost);
	FUZZ_HOLDS(cut_by_head(&head, p, &err) == RC_OK);
	FUZZ_HOLDS(head.cost >= a.bound);
	FUZZ_HOLDS(cut_solve(&b, p, &err) == RC_OK);
	FUZZ_HOLDS(a.cost == b.cost && a.bound == b.bound);
	cut_plan_fini(&a);
	cut_plan_fini(&b);
	cut_plan_fini(&head);
}

int
LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
	struct cut_board *b = calloc(1, sizeof(*b));
	struct cut_problem p;
	struct err err = { 0 };
	int64_t wanted = 0;
	size_t i;

	FUZZ_HOLDS(b != NULL);
	if (read_board(b, data, size, &err) != RC_OK)
		check_error(&err);
	else {
		p = board_problem(b);
		for (i = 0; i < p.dish_count; i++)
			wanted += p.dishes[i].wanted;
		if (p.fish_count <= FISH_MAX && wanted <= WANTED_MAX)
			check_plan(&p);
	}
	board_fini(b);
	free(b);
	return 0;
}
