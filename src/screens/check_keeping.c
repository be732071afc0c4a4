/* check_keeping.c - asked from the checks of Records. */
#include "records_inner.h"
#include "says_checks.h"

void
check_keeping(struct desk *d, struct records *s)
{
	(void)s;
	desk_say(d, LEVEL_NOTE, "%s", tr(SAY_CHECK_KEEPING_IS));
}
