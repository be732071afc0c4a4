/* label_samples.h - labels of an invented kitchen, for several suites. */
#ifndef LABEL_SAMPLES_H
#define LABEL_SAMPLES_H

#include "labels/font.h"
#include "labels/label.h"

/* Both sizes at both resolutions. */
#define LABEL_SAMPLE_MEDIA 4

struct label_media label_sample_media(int index);

/* label_sample - a plain label of a kind, made Wed 25 Nov 2026 at 10:05. */
struct label_facts label_sample(enum label_kind kind);

/*
 * label_sample_as - the same of a variant: frozen that day, which was a
 * Wednesday, and good until Fri 26 Mar 2027; thawed on Thursday at 09:20; held
 * on Thursday at 15:40 by JB for "Fridge at 9 C".
 */
struct label_facts label_sample_as(
    enum label_kind kind, enum label_variant variant);

/* label_sample_fonts - Debian's fonts-dejavu-core; fails the test if absent. */
struct fonts *label_sample_fonts(void);

#endif /* LABEL_SAMPLES_H */
