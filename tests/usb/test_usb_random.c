/*
 * test_usb_random.c - whatever the printer takes, in whatever pieces, with
 * whatever pauses, halts and deadlines: the bytes it has are the label's, from
 * the first, without a gap or a repeat, and as many as we were told.
 */
#include "rig.h"

#define SEEDS 24
#define LABEL 60000

static uint32_t
next(uint32_t *x)
{
	*x = *x * 1664525 + 1013904223;
	return *x >> 8;
}

/* Something for the printer to do, at a place of its own. */
static void
trouble(struct vprinter *p, uint32_t *x)
{
	size_t after = next(x) % 9000;

	switch (next(x) % 6) {
	case 0:
		vprinter_fault(p, after, VPRINTER_HANG, 0x38);
		break;
	case 1:
		vprinter_fault(p, after, VPRINTER_STALL, 0);
		break;
	default:
		vprinter_mend(p);
	}
}

START_TEST(prefix)
{
	uint32_t x = (uint32_t)_i + 1;
	struct vprinter *p = rig_printer(NULL);
	struct port *port = rig_open("usb:any");
	const uint8_t *job = rig_job(LABEL);
	size_t at = 0, sent;
	int calls = 0;

	vprinter_ragged(p, 1 + next(&x) % (_i % 2 == 0 ? 600 : 20000), x);
	while (at < LABEL) {
		size_t most = 1 + next(&x) % 40000;
		size_t len = LABEL - at < most ? LABEL - at : most;
		enum rc rc;

		trouble(p, &x);
		/* a halt a label is borne: let each call be one */
		ck_assert_int_eq(
		    port->via->begin(port, "a", "zpl", NULL), RC_OK);
		rc =
		    rig_write(&sent, port, job + at, len, (int)(next(&x) % 25));
		at += sent;
		ck_assert_msg(rc == (sent == len ? RC_OK : RC_RETRY),
		    "seed %d: %s", _i, err.text);
		rig_took(p, job, at);
		ck_assert_int_lt(++calls, 2000);
	}
	rig_took(p, job, LABEL);
}
END_TEST

Suite *
suite_usb_random(void)
{
	Suite *s = suite_create("usb_random");
	TCase *tc = rig_tcase(s, "random");

	tcase_set_tags(tc, USB_ON_A_KERNEL);
	tcase_add_loop_test(tc, prefix, 0, rig_rows(SEEDS));
	return s;
}
