/* screen_table.c - every screen, one line each. */
#include "screens/desk.h"

#define SCREEN_EXTERN(NAME, name) extern const struct screen screen_##name;
SCREEN_LIST(SCREEN_EXTERN)
#undef SCREEN_EXTERN

const struct screen *const screens[SCREEN_COUNT] = {
#define SCREEN_ROW(NAME, name) [SCREEN_##NAME] = &screen_##name,
	SCREEN_LIST(SCREEN_ROW)
#undef SCREEN_ROW
};
