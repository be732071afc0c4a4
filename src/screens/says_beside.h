/* says_beside.h - how far a program beside the station is. */
#ifndef SCREENS_SAYS_BESIDE_H
#define SCREENS_SAYS_BESIDE_H

#include "base/say.h"

#define SAY_BESIDE_OF_ABOUT N_("%s of about %s")
#define SAY_BESIDE_LONGER N_("%s, longer than expected")
#define SAY_BESIDE_SECONDS N_("%ld s")
#define SAY_BESIDE_MINUTES N_("%ld min %ld s")

#endif /* SCREENS_SAYS_BESIDE_H */
