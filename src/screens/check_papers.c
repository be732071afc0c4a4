/* check_papers.c - asked from the checks of Records. */
#include "records_inner.h"
#include "says_checks.h"

void
check_papers(struct desk *d, struct records *s)
{
	(void)s;
	desk_say(d, LEVEL_NOTE, "%s", tr(SAY_CHECK_PAPERS_IS));
}
