/* records_checks.c - the page of what the record can be asked. */
#include "records_inner.h"
#include "says_checks.h"

const struct records_check records_checks[] = {
	{ SAY_CHECK_VERIFY, SAY_CHECK_VERIFY_IS, check_verify },
	{ SAY_CHECK_BALANCE, SAY_CHECK_BALANCE_IS, check_balance },
	{ SAY_CHECK_PAPERS, SAY_CHECK_PAPERS_IS, check_papers },
	{ SAY_CHECK_DRILL, SAY_CHECK_DRILL_IS, check_drill },
	{ SAY_CHECK_KEEPING, SAY_CHECK_KEEPING_IS, check_keeping },
	{ SAY_CHECK_COMPLAINTS, SAY_CHECK_COMPLAINTS_IS, check_complaints },
};

int
records_check_count(void)
{
	return (int)(sizeof(records_checks) / sizeof(records_checks[0]));
}
