/* scale_rig.c - what the suites about the scale share. */
#include "scale_rig.h"

#define SCALES_MAX 4

static struct vscale *scales[SCALES_MAX];
static size_t scale_count;

static void
setup(void)
{
	bus = vusb_new();
	err_clear(&err);
	scale_count = 0;
}

static void
teardown(void)
{
	size_t i;

	vusb_as_root();
	vusb_free(bus);
	for (i = 0; i < scale_count; i++)
		vscale_free(scales[i]);
}

TCase *
scale_rig_tcase(Suite *s, const char *name, void (*let_go)(void))
{
	TCase *tc = tcase_create(name);

	/* the last fixture added is the first torn down */
	tcase_add_checked_fixture(tc, setup, teardown);
	tcase_add_checked_fixture(tc, NULL, let_go);
	tcase_set_timeout(tc, 20);
	suite_add_tcase(s, tc);
	return tc;
}

struct vscale *
scale_rig_plug(const struct vscale_as *as)
{
	ck_assert_uint_lt(scale_count, SCALES_MAX);
	scales[scale_count] = vscale_new(bus, as);
	return scales[scale_count++];
}
