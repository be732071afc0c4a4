/*
 * core/cut.h - how fish is bought and how it is cut.
 */
#ifndef CORE_CUT_H
#define CORE_CUT_H

#include <stdbool.h>

#include "base/err.h"

/* Presentation: the state a batch was bought in. */
enum presentation {
	PRES_WHOLE,  /* as caught, ungutted */
	PRES_GUTTED, /* head on */
	PRES_HEADED, /* gutted, head off */
	PRES_FILLET, /* skin on */
	PRES_FILLET_SKINLESS,
	PRES_LOIN,
	PRES_TAIL,
	PRES_WING,
	PRES_LIVE,    /* crustaceans and shellfish, in shell */
	PRES_SHUCKED, /* out of the shell */
	PRES_COUNT
};

/* Cut: what one portion of a dish is. */
enum cut_kind {
	CUT_WHOLE,   /* one whole fish, gutted */
	CUT_FILLET,  /* one whole fillet */
	CUT_SUPREME, /* a piece cut across a fillet */
	CUT_LOIN,    /* the thick back part of a fillet, skinless */
	CUT_TRONCON, /* a steak across the bone */
	CUT_TAIL,
	CUT_WING,
	CUT_SHELL, /* served in its shell, by weight */
	CUT_MEAT,  /* out of the shell, or cleaned cephalopod */
	CUT_TRIM,  /* usable offcuts */
	CUT_COUNT
};

/* What a yield is counted from or to. */
enum yield_form {
	YIELD_WHOLE,
	YIELD_GUTTED,
	YIELD_HEADED,
	YIELD_FILLET, /* skin on */
	YIELD_SKINLESS,
	YIELD_LOIN,
	YIELD_TAIL,
	YIELD_WING,
	YIELD_MEAT,
	YIELD_FORM_COUNT
};

/* Words as files and commands write them: "fillet-skinless", "troncon". */
const char *presentation_word(enum presentation p);
const char *cut_word(enum cut_kind c);
const char *yield_form_word(enum yield_form f);

/* In any case.  RC_OK, or RC_INVALID listing the words that are known. */
enum rc presentation_parse(
    enum presentation *out, const char *s, struct err *err) MUST_CHECK;
enum rc cut_parse(
    enum cut_kind *out, const char *s, struct err *err) MUST_CHECK;
enum rc yield_form_parse(
    enum yield_form *out, const char *s, struct err *err) MUST_CHECK;

/* presentation_form - what the bought weight is a weight of. */
enum yield_form presentation_form(enum presentation p);

/*
 * cut_form - what the weight of a portion is a weight of.
 * `skin_on` counts for fillets and supremes only.  CUT_TRIM has no yield of
 * its own and gives YIELD_SKINLESS; CUT_SHELL and CUT_TRONCON give the form
 * they are cut from, so `from` is returned for them.
 */
enum yield_form cut_form(enum cut_kind c, bool skin_on, enum yield_form from);

/* cut_by_piece - portions come out of fillets, loins, wings or whole fish one
 * by one (true), or out of a weight (false: shell, meat, tail, trim). */
bool cut_by_piece(enum cut_kind c);

#endif /* CORE_CUT_H */
