/* plan_says.c - what the chef says about batches and fish. */
#include "plan_says.h"

enum rc
plan_says_read(struct plan_say says[PLAN_SAYS_MAX], size_t *count,
    const struct args *a, struct err *err)
{
	static const struct {
		const char *option;
		enum plan_word word;
	} words[] = {
		{ "first", PLAN_SAY_FIRST },
		{ "leave", PLAN_SAY_LEAVE },
		{ "serve-whole", PLAN_SAY_WHOLE },
		{ "board", PLAN_SAY_BOARD },
	};
	const char *s;
	size_t i, n;

	*count = 0;
	for (i = 0; i < sizeof(words) / sizeof(words[0]); i++)
		for (n = 0; (s = args_nth(a, words[i].option, n)) != NULL;
		     n++) {
			if (*count == PLAN_SAYS_MAX)
				return err_set(err, RC_INVALID, 0,
				    "more than %d batches or fish named",
				    PLAN_SAYS_MAX);
			says[*count].word = words[i].word;
			says[(*count)++].text = s;
		}
	return RC_OK;
}
