/*
 * ops/judge.h - what the station can say about goods at the door.
 *
 * It proposes with reasons; the person decides, and gives a reason where the
 * proposal was a refusal.  docs/goods-in.md.
 */
#ifndef OPS_JUDGE_H
#define OPS_JUDGE_H

#include "base/buf.h"
#include "core/freshness.h"
#include "core/landing.h"
#include "core/papers.h"
#include "core/quality_index.h"
#include "ops/station.h"
#include "store/batches.h"

/* What was looked at; texts as typed. */
struct judge_in {
	const char *marks[FRESHNESS_MARKS_MAX]; /* "eye=a" */
	size_t mark_count;
	const char *points[QI_ATTRIBUTES_MAX]; /* "skin=1", quality index */
	size_t point_count;
	const char *size; /* of the smallest: mm, or g where it is weighed */
	bool berried, soft, notched;
};

/* What judge() looks at, in its order. */
enum judge_part {
	JUDGE_AREA,
	JUDGE_MARKS,
	JUDGE_POINTS,
	JUDGE_CONDITION,
	JUDGE_SIZE,
	JUDGE_DONE,
};

struct judgement {
	enum judge_part at; /* looked at last: what was refused */

	bool graded; /* marks were given */
	struct freshness_verdict verdict;
	char marks[FRESHNESS_MARKS_MAX][32]; /* names of the marks */
	enum freshness_grade grades[FRESHNESS_MARKS_MAX];
	size_t mark_count;

	const struct qi_scheme *scheme; /* NULL: no points were given */
	int qi_points;
	bool qi_days_known; /* the scheme has a published line */
	int qi_day_tenths;

	bool berried, soft, notched; /* as seen */

	bool sized;
	enum size_measure measure;
	int size;
	struct landing_size landing;

	struct paper_line papers[PAPERS_LINES_MAX];
	size_t paper_count, paper_missing;

	const struct season_row *seasons[SEASON_ADVICE_MAX];
	size_t season_count;

	char area_name[64]; /* of the area code, or empty */
};

/*
 * judge - look at a parsed batch.  The area code is brought to dot form and
 * the gear to its category, where they are known.
 * RC_OK
 * RC_INVALID  a mark, a size or a code-like area that is not known
 * RC_REFUSED  berried, soft-shelled or notched where the law forbids it
 */
enum rc judge(struct judgement *out, struct batch *b, const struct station *sn,
    const struct judge_in *in, day_no today, struct err *err) MUST_CHECK;

/*
 * judge_decision - may this decision stand?  A plain acceptance may not where
 * a refusal is proposed or the fish is undersized: then a note must say why.
 * RC_OK or RC_REFUSED with the reasons.
 */
enum rc judge_decision(const struct judgement *j, enum decision decision,
    struct err *err) MUST_CHECK;

/* judge_text - append it in words, a line each; judge_json - as one object. */
void judge_text(struct buf *out, const struct judgement *j);
void judge_json(struct buf *out, const struct judgement *j);

#endif /* OPS_JUDGE_H */
