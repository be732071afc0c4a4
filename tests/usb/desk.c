/* desk.c - a kitchen whose labels go to one USB printer. */
#include "desk.h"

#include <string.h>

#include "base/str.h"
#include "ops/printers.h"
#include "src/ops/picture.h"
#include "tests/unit/lang_readers.h"

struct desk desk;

/* --- what the spool asks --------------------------------------------------*/

static struct transport as_nobody;

static enum rc
open_as_nobody(struct port **out, unsigned *told, const char *address,
    int deadline_ms, struct err *why)
{
	enum rc rc;

	vusb_as_nobody(bus);
	rc = transport_find(&address, "usb:any")
		 ->open(out, told, address, deadline_ms, why);
	vusb_as_root();
	return rc;
}

static enum rc
host_ready(void *arg, struct err *why)
{
	(void)arg;
	return picture_fonts(qk.sn, why);
}

static enum rc
host_printer(struct printer *out, void *arg, const struct print_job *job,
    struct err *why)
{
	enum rc rc;

	(void)arg;
	if ((rc = printers_get(out, qk.sn, job->printer_name, why)) != RC_OK)
		return rc;
	out->deadline_ms = desk.deadline_ms;
	out->patience_ms = desk.patience_ms;
	out->look_ms = 5;
	if (desk.may_not) {
		as_nobody = *out->via;
		as_nobody.open = open_as_nobody;
		out->via = &as_nobody;
	}
	return RC_OK;
}

static struct desk_label *
label_of(const struct print_job *job)
{
	int i;

	for (i = 0; i < desk.count; i++)
		if (desk.labels[i].id == job->id)
			return &desk.labels[i];
	ck_abort_msg("job %lld is none of the desk's", (long long)job->id);
	return NULL;
}

/* The label takes the picture over. */
static void
remember(struct desk_label *l, struct bitmap *picture, const struct printer *p)
{
	bitmap_free(l->picture);
	l->picture = picture;
	buf_clear(&l->bytes);
	ck_assert_int_eq(printer_encode(&l->bytes, p, picture, NULL), RC_OK);
}

static struct bitmap *
draw(char name[64], const struct print_job *job, const struct printer *p)
{
	struct bitmap *picture;
	struct about a;

	ck_assert_int_eq(about_find(&a, qk.sn, job->code, NULL), RC_OK);
	ck_assert_int_eq(
	    about_draw(&picture, qk.sn, &a, job->says, job->copy, p, NULL),
	    RC_OK);
	about_name(name, 64, &a, job->says, job->copy);
	return picture;
}

static enum rc
host_draw(struct spool_label *out, void *arg, const struct print_job *job,
    const struct printer *p, struct err *why)
{
	(void)arg;
	(void)why;
	out->picture = draw(out->name, job, p);
	remember(label_of(job), draw(out->name, job, p), p);
	return RC_OK;
}

static int64_t
host_now(void *arg)
{
	(void)arg;
	return clock_now(&qk.sn->clock);
}

static void
host_moved(void *arg, const struct print_job *job)
{
	(void)arg;
	if (desk.moved != NULL)
		desk.moved(job);
}

static const struct spool_host host = { host_ready, host_printer, host_draw,
	host_now, host_moved };

/* --- the desk -------------------------------------------------------------*/

static void
teardown(void)
{
	int i;

	spool_rest(&desk.sp);
	for (i = 0; i < desk.count; i++) {
		bitmap_free(desk.labels[i].picture);
		buf_fini(&desk.labels[i].bytes);
	}
	qk_teardown();
}

TCase *
desk_tcase(Suite *s, const char *name)
{
	TCase *tc = rig_tcase(s, name);

	/* the last fixture added is the first torn down */
	tcase_add_checked_fixture(tc, qk_setup, teardown);
	return tc;
}

void
desk_sit(const struct lang *lang, bool one_way)
{
	memset(&desk, 0, sizeof(desk));
	desk.lang = lang;
	desk.deadline_ms = 2000;
	desk.patience_ms = 10000;
	qk_printer(lang->name, "usb:any", 60);
	spool_init(&desk.sp, qk.sn->st, &host, NULL, NULL);
	desk_printer(NULL, one_way);
}

struct vprinter *
desk_printer(const char *commands, bool one_way)
{
	static char sets[64];
	struct vprinter_as as = { .commands = sets,
		.protocols = { one_way ? 1 : 2 } };

	str_copy(sets, sizeof(sets),
	    commands != NULL ? commands : desk.lang->command_sets);
	sets[strcspn(sets, " ")] = '\0';
	desk.printer = rig_printer(&as);
	talker_listen(desk.printer, desk.lang);
	return desk.printer;
}

static struct desk_label *
new_label(void)
{
	struct desk_label *l = &desk.labels[desk.count];

	ck_assert_int_lt(desk.count++, DESK_LABELS);
	buf_init(&l->bytes, LABEL_BYTES_MAX);
	return l;
}

int
desk_queue(void)
{
	int n = desk.count;

	new_label()->id = qk_queued(n, LABEL_FIRST).id;
	return n;
}

int
desk_expect(int portion, int copy)
{
	struct print_job job = { .says = SAYS_USE_BY, .copy = copy };
	struct bitmap *picture;
	struct printer p;
	char name[64];

	ck_assert_int_eq(printers_get(&p, qk.sn, NULL, NULL), RC_OK);
	ck_assert_int_eq(picture_fonts(qk.sn, NULL), RC_OK);
	if (portion < 0) {
		ck_assert_int_eq(
		    test_picture(&picture, qk.sn, &p, NULL), RC_OK);
	} else {
		str_copy(job.code, sizeof(job.code), qk_code(portion));
		picture = draw(name, &job, &p);
	}
	remember(new_label(), picture, &p);
	return desk.count - 1;
}

void
desk_step(void)
{
	struct err why = { 0 };
	int wait_ms;

	spool_wake(&desk.sp);
	ck_assert_msg(spool_step(&desk.sp, NULL, &wait_ms, &why) == RC_OK, "%s",
	    why.text);
}

void
desk_drain(void)
{
	int wait_ms;

	spool_wake(&desk.sp);
	while (spool_step(&desk.sp, NULL, &wait_ms, NULL) == RC_OK)
		;
}

struct print_job
desk_job(int label)
{
	return qk_now(desk.labels[label].id);
}

/* --- what the printer took ------------------------------------------------*/

/* The picture a printer makes of these bytes is the one drawn. */
static void
comes_out(const struct desk_label *l, const char *bytes, const char *where)
{
	struct seen_label seen;
	const char *why = NULL;

	ck_assert_msg(lang_reader_find(desk.lang->name)
			  ->read(&seen, &why, bytes, l->bytes.len),
	    "%s: %s", where, why);
	ck_assert_msg(
	    same_dots(seen.picture, l->picture), "%s: other dots", where);
	bitmap_free(seen.picture);
}

static size_t
skip_questions(const char *bytes, size_t at, size_t len)
{
	size_t n = desk.lang->query_len;

	while (n > 0 && len - at >= n &&
	    memcmp(bytes + at, desk.lang->query, n) == 0)
		at += n;
	return at;
}

void
desk_took(const struct desk_part *parts, size_t count, const char *where)
{
	const struct desk_label *l;
	size_t len, at = desk.skip, i, n;
	const char *took = (const char *)vprinter_took(desk.printer, &len);

	for (i = 0; i < count; i++) {
		l = &desk.labels[parts[i].label];
		n = parts[i].len == DESK_WHOLE ? l->bytes.len : parts[i].len;
		ck_assert_uint_gt(l->bytes.len, 0);
		at = skip_questions(took, at, len);
		ck_assert_msg(
		    len - at >= n && memcmp(took + at, l->bytes.data, n) == 0,
		    "%s: not %zu bytes of label %d at %zu of %zu", where, n,
		    parts[i].label, at, len);
		if (n == l->bytes.len)
			comes_out(l, took + at, where);
		at += n;
	}
	at = skip_questions(took, at, len);
	ck_assert_msg(at == len, "%s: %zu bytes too many", where, len - at);
}
