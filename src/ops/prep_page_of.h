/*
 * prep_page_of.h - a page changes hands.  Private to src/ops.
 */
#ifndef OPS_PREP_PAGE_OF_H
#define OPS_PREP_PAGE_OF_H

#include "ops/prep_page.h"

/* prep_page_of - borrow from this station what it borrowed from a copy of it.
 */
void prep_page_of(struct prep_page *p, const struct station *sn);

#endif /* OPS_PREP_PAGE_OF_H */
