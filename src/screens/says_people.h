/* says_people.h - what the station says of who works, and of PINs. */
#ifndef SCREENS_SAYS_PEOPLE_H
#define SCREENS_SAYS_PEOPLE_H

#include "base/say.h"

#define SAY_WHO N_("Who works?")
#define SAY_WHO_INITIALS N_("Initials")
#define SAY_WHO_NAME N_("Name")
#define SAY_WHO_NONE                                                           \
	N_("Nobody is on the list yet: type your initials and Enter.")
#define SAY_WHO_HINT N_("or the number above")
#define SAY_WHO_KEYS N_("Tab: all people, and their PINs")
/* initials */
#define SAY_WHO_NEW N_("%s is new here: type the name, Enter adds it.")
#define SAY_WHO_WORKS N_("%s works now.")
#define SAY_WHO_ADDED N_("%s (%s) is on the list now.")
#define SAY_WHO_UNLISTED                                                       \
	N_("%s works now, but is not on the list: that waits until the date "  \
	   "is confirmed.")

#define SAY_PIN_TITLE N_("A chef's PIN")
#define SAY_PIN_CHEF N_("Chef")
#define SAY_PIN_PIN N_("PIN")
#define SAY_PIN_HINT N_("digits, shown as stars")
/* what for: one of the next */
#define SAY_PIN_ASKS N_("%s: the house asks a chef's PIN for this.")
#define SAY_DUTY_ANYONE N_("To go on")
#define SAY_DUTY_RELEASE N_("To lift a hold")
#define SAY_DUTY_CLOCK N_("To confirm the date")
#define SAY_DUTY_CANCEL N_("To give up an unsure label")
#define SAY_DUTY_DISCARD N_("To discard a batch")
#define SAY_DUTY_RESTORE N_("To put a backup in place")
#define SAY_DUTY_PRUNE N_("To remove old records")
#define SAY_DUTY_PEOPLE N_("To change people")
#define SAY_PIN_EMPTY N_("Type the PIN, then Enter.")
#define SAY_PIN_WHOSE N_("Type whose PIN it is: a chef's initials.")
#define SAY_PIN_NOBODY N_("No chef has a PIN yet, so nobody was asked for one.")

#define SAY_PEOPLE N_("People")
#define SAY_PEOPLE_NONE                                                        \
	N_("Nobody is on the list yet. Press a to add the first person; a "    \
	   "chef gets a PIN at once.")
#define SAY_PEOPLE_KEYS N_("a add   Enter change   p PIN   Esc back")
#define SAY_PEOPLE_UNLOCKED                                                    \
	N_("No chef has a PIN yet: what the house marks as the chef's is "     \
	   "open to everybody.")
#define SAY_PEOPLE_CHEF N_("chef")
#define SAY_PEOPLE_CHEF_NO_PIN N_("chef, no PIN yet")
#define SAY_PEOPLE_PIN N_("PIN")
#define SAY_PEOPLE_LEFT N_("gone")
#define SAY_PEOPLE_WAITS                                                       \
	NN_("%d wrong PIN, has to wait", "%d wrong PINs, has to wait")

#define SAY_PERSON_NEW N_("Somebody new")
#define SAY_PERSON_EDIT N_("Change a person")
#define SAY_PERSON_CHEF N_("Chef?")
#define SAY_PERSON_CHEF_HINT N_("yes: their PIN opens what is the chef's")
#define SAY_PERSON_HERE N_("Works here?")
#define SAY_PERSON_HERE_HINT N_("no: left; records keep the initials")
#define SAY_PERSON_PIN N_("New PIN")
#define SAY_PERSON_PIN_HINT N_("4 to 12 digits; empty: as it is")
#define SAY_PERSON_AGAIN N_("New PIN again")
#define SAY_PERSON_DIFFER N_("the two differ")
#define SAY_PERSON_FIRST N_("the first chef needs a PIN")
#define SAY_PERSON_SAVED N_("Saved: %s, %s.")
#define SAY_YES N_("yes")
#define SAY_NO N_("no")

#endif /* SCREENS_SAYS_PEOPLE_H */
