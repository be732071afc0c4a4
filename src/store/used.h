/*
 * used.h - what was scanned out for a service, in SQL over portion_event e.
 * Private to src/store.  A use taken back names its service, and counts
 * against it.
 */
#ifndef STORE_USED_H
#define STORE_USED_H

#define USED_OR_BACK "e.kind IN ('used', 'returned')"
#define USED_SIGNED                                                            \
	"CASE e.kind WHEN 'used' THEN e.servings ELSE -e.servings END"

#endif /* STORE_USED_H */
