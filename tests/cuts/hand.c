/* hand.c - random steps, each reported. */
#include "hand.h"

#include <inttypes.h>
#include <stdio.h>
#include <string.h>
#include <time.h>
#include <unistd.h>

#include "base/buf.h"
#include "base/file.h"
#include "base/str.h"
#include "image.h"
#include "ops/backup.h"
#include "ops/breakdown.h"
#include "ops/export.h"
#include "ops/fate.h"
#include "ops/label.h"
#include "ops/receive.h"
#include "tests/unit/chance.h"

#define STEPS 40

struct hand {
	struct day *d;
	uint64_t chance;
	int who, fd, lot, cut; /* fish of the batch */
	unsigned seed;
	char batch[CODE_SIZE], unit[CODE_SIZE]; /* own; empty: none yet */
	int64_t left;
	bool held;
	struct buf line;
};

void
pause_us(int us)
{
	struct timespec t = { .tv_nsec = us * 1000L };

	nanosleep(&t, NULL);
}

char *
hand_hash(char dst[24], const char *path)
{
	struct buf b;

	dst[0] = '\0';
	buf_init(&b, FILE_READ_MAX);
	if (file_read(&b, path, NULL) == RC_OK)
		str_fmt(dst, 24, "%016" PRIx64, hash_bytes(0, b.data, b.len));
	buf_fini(&b);
	return dst;
}

static void
say(struct hand *h, const char *text)
{
	/* Nobody listens any more: nothing to be done. */
	if (write(h->fd, text, strlen(text)) < 0)
		_exit(0);
}

static void
done(struct hand *h)
{
	buf_puts(&h->line, ".\n");
	say(h, buf_text(&h->line));
	buf_clear(&h->line);
}

#define UNIT_SQL "SELECT servings || ' ' || left FROM portion WHERE code = '%s'"
#define HELD_SQL                                                               \
	"SELECT count(*) FROM hold h JOIN batch b ON b.id = h.batch_id"        \
	" WHERE h.released_utc IS NULL AND b.code = '%s'"

static void
unit_may_change(struct hand *h)
{
	char line[300];

	str_fmt(line, sizeof(line), "?" UNIT_SQL "\n", h->unit);
	say(h, line);
}

static void
hold_may_change(struct hand *h)
{
	char line[300];

	str_fmt(line, sizeof(line), "?" HELD_SQL "\n", h->batch);
	say(h, line);
}

static enum rc
goods(struct hand *h, struct err *err)
{
	struct receive_in in = { .supplier = "quay",
		.species = "HKE",
		.presentation = "gutted",
		.count = "6",
		.weight = "13.8kg",
		.temp = "1.2",
		.area = "27.7.j",
		.method = "caught",
		.gear = "Hooks and lines",
		.caught = "2026-12-02",
		.decision = DECISION_ACCEPTED,
		.by = "AK" };
	char lot[40], document[40];
	struct batch b;
	enum rc rc;

	/* A day has so many numbers for batches: few of them a life. */
	if (h->lot > 1)
		return RC_END;
	str_fmt(lot, sizeof(lot), "S%u-%d-%d", h->seed, h->who, h->lot);
	str_fmt(document, sizeof(document), "D%u", h->seed % 7);
	in.lot = lot;
	in.document = document;
	say(h, "?goods\n");
	if ((rc = receive(&b, NULL, h->d->sn, &in, err)) != RC_OK)
		return rc;
	h->lot++;
	h->cut = 0;
	h->held = false;
	h->unit[0] = '\0';
	str_copy(h->batch, sizeof(h->batch), b.code);
	buf_printf(&h->line,
	    "=SELECT lot || ' ' || weight_g || ' ' || count FROM batch"
	    " WHERE code = '%s'\t%s 13800 6\n",
	    b.code, lot);
	done(h);
	return RC_OK;
}

static enum rc
cutting(struct hand *h, struct err *err)
{
	struct breakdown_in in = { .batch = h->batch,
		.fish = 1,
		.weight_g = 2300,
		.makes = { { "hake-beans", 6, 1000, 3 } },
		.make_count = 1,
		.loss_g = { [LOSS_FRAMES] = 900, [LOSS_WASTE] = 300 },
		.yield_ok = true,
		.by = "AK" };
	struct breakdown out;
	size_t i;
	enum rc rc;

	if (h->batch[0] == '\0' || h->held || h->cut == 6)
		return RC_END;
	say(h, "?breakdown\n");
	rc = breakdown_record(&out, h->d->sn, &in, err);
	if (rc != RC_OK)
		return rc;
	for (i = 0; i < out.portion_count; i++)
		buf_printf(
		    &h->line, "=" UNIT_SQL "\t3 3\n", out.portions[i].code);
	str_copy(h->unit, sizeof(h->unit), out.portions[0].code);
	h->left = 3;
	h->cut++;
	breakdown_fini(&out);
	done(h);
	return RC_OK;
}

static enum rc using(struct hand *h, struct err *err) {
	struct use_in in = { .code = h->unit,
	    .servings = 1,
	    .reason = "as asked",
	    .by = "LM" };
	struct portion p;
	enum rc rc;

	if (h->unit[0] == '\0' || h->left == 0 || h->held) return RC_END;
	unit_may_change(h);
	if ((rc = use(&p, h->d->sn, &in, err)) != RC_OK) return rc;
	h->left = p.left;
	buf_printf(
	    &h->line, "=" UNIT_SQL "\t3 %lld\n", h->unit, (long long)p.left);
	done(h);
	return RC_OK;
}

static enum rc
binning(struct hand *h, struct err *err)
{
	struct discard_in in = {
		.code = h->unit, .reason = "dropped", .by = "LM"
	};
	struct discarded out;
	enum rc rc;

	if (h->unit[0] == '\0' || h->left == 0)
		return RC_END;
	unit_may_change(h);
	if ((rc = discard(&out, h->d->sn, &in, err)) != RC_OK)
		return rc;
	h->left = 0;
	buf_printf(&h->line, "=" UNIT_SQL "\t3 0\n", h->unit);
	done(h);
	return RC_OK;
}

static enum rc
holding(struct hand *h, struct err *err)
{
	enum rc rc;

	if (h->batch[0] == '\0')
		return RC_END;
	hold_may_change(h);
	rc = h->held ? release(NULL, h->d->sn, h->batch, "fine", "AK", err)
		     : hold(NULL, h->d->sn, h->batch, "smell", "AK", err);
	if (rc != RC_OK)
		return rc;
	h->held = !h->held;
	buf_printf(&h->line, "=" HELD_SQL "\t%d\n", h->batch, h->held);
	done(h);
	return RC_OK;
}

/* Refusals are no fault: used up, on hold, printed already. */
static enum rc
printing(struct hand *h, struct err *err)
{
	const char *code = h->unit;
	struct label_order o = { &code, 1, LABEL_FIRST, .by = "AK" };
	struct job_list jobs = { 0 };
	struct err none = { 0 };
	enum label_want want;
	int copy;
	enum rc rc;

	if (h->unit[0] == '\0' ||
	    label_due(&want, &copy, h->d->sn, code, &none) != RC_OK)
		return RC_END;
	o.want = want;
	say(h, "?label\n");
	rc = label_print(&jobs, h->d->sn, &o, err);
	if (rc == RC_OK) {
		/* Out; unless somebody died at it before. */
		buf_printf(&h->line,
		    "=SELECT state FROM print_job WHERE id = %lld\t%s\n",
		    (long long)jobs.items[0].id,
		    job_state_word(jobs.items[0].state));
		done(h);
	}
	job_list_fini(&jobs);
	return rc;
}

static enum rc
saving(struct hand *h, struct err *err)
{
	struct backup_wish w = { .folder = h->d->stick, .keep = 3, .by = "AK" };
	struct backup_done out;
	char hash[24];
	enum rc rc;

	/* Two would drop what the other reports. */
	if (h->who != 0)
		return RC_END;
	say(h, "?backup\n");
	if ((rc = backup_run(&out, h->d->sn, &w, err)) != RC_OK)
		return rc;
	buf_printf(
	    &h->line, "=file %s\t%s\n", out.path, hand_hash(hash, out.path));
	done(h);
	return RC_OK;
}

static enum rc
exporting(struct hand *h, struct err *err)
{
	struct export_wish w = {
		.kind = "stock", .folder = h->d->out, .replace = true
	};
	struct export_done out;

	return export_run(&out, h->d->sn, &w, err);
}

static enum rc
again(struct hand *h, struct err *err)
{
	day_shut(h->d);
	return day_open(h->d, err);
}

typedef enum rc hand_fn(struct hand *h, struct err *err);

int
hand_play(struct day *d, unsigned seed, int who, int fd)
{
	static hand_fn *const all[] = { goods, cutting, cutting, using, using,
		binning, holding, printing, printing, printing, saving,
		exporting, again };
	struct hand h = { .d = d, .who = who, .fd = fd, .seed = seed };
	struct err err = { 0 };
	enum rc rc;
	int i;

	h.chance = seed * 2u + (unsigned)who;
	buf_init(&h.line, 1 << 16);
	while ((rc = day_open(d, &err)) == RC_RETRY)
		err_clear(&err);
	for (i = 0; i < STEPS && (rc == RC_OK || rc == RC_END); i++) {
		rc = all[i == 0 ? 0 : chance_next(&h.chance) % 13](&h, &err);
		/* The other one was writing, or printing. */
		while (rc == RC_RETRY) {
			buf_clear(&h.line);
			err_clear(&err);
			pause_us(1000);
			rc = d->sn->st == NULL ? day_open(d, &err) : RC_END;
		}
	}
	if (rc != RC_OK && rc != RC_END)
		fprintf(stderr, "cuts: seed %u: %s: %s\n", seed, rc_word(rc),
		    err.text);
	day_shut(d);
	buf_fini(&h.line);
	return rc == RC_OK || rc == RC_END ? 0 : 3;
}
