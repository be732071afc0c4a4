#include "unit.h"
Suite *
suite_drivers_codes(void)
{
	return suite_create("drivers_codes");
}
