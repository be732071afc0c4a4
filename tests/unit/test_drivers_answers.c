#include "unit.h"
Suite *
suite_drivers_answers(void)
{
	return suite_create("drivers_answers");
}
