/* hand_label.h - labels of what is on hand.  Private to src/screens. */
#ifndef SCREENS_HAND_LABEL_H
#define SCREENS_HAND_LABEL_H

#include "ops/freeze.h"
#include "screens/desk.h"

struct hand_labels {
	char codes[FREEZE_UNITS_MAX][CODE_SIZE];
	size_t count;
};

/* hand_label - queue a label of each as it is due; asks first when one may lie
 * around already.  `l` is a part of a screen's state. */
void hand_label(struct desk *d, struct hand_labels *l);

#endif /* SCREENS_HAND_LABEL_H */
