/* screen_printing.c - the queue of labels, its questions, the printers. */
#include <string.h>

#include "base/str.h"
#include "ops/label.h"
#include "ops/printers.h"
#include "printing_inner.h"
#include "says_desk.h"
#include "says_printing.h"
#include "today_inner.h"
#include "term/when.h"

enum {
	ACT_YES = 1,
	ACT_NO,
	ACT_LATER,
	ACT_CANCEL,
	ACT_AGAIN,
	ACT_TEST,
	ACT_STATE,
	ACT_SHOW,
};

static const struct action actions[] = {
	{ ACT_YES, { KEY_CODE_CHAR, 'y' }, SAY_ACT_YES, SAY_HELP_YES },
	{ ACT_NO, { KEY_CODE_CHAR, 'n' }, SAY_ACT_NO, SAY_HELP_NO },
	{ ACT_LATER, { KEY_CODE_CHAR, 'l' }, SAY_ACT_LATER, SAY_HELP_LATER },
	{ ACT_CANCEL, { KEY_CODE_CHAR, 'x' }, SAY_ACT_CANCEL, SAY_HELP_CANCEL },
	{ ACT_AGAIN, { KEY_CODE_CHAR, 'p' }, SAY_ACT_AGAIN, SAY_HELP_AGAIN },
	{ ACT_TEST, { KEY_CODE_CHAR, 't' }, SAY_ACT_TEST, SAY_HELP_TEST },
	{ ACT_STATE, { KEY_CODE_CHAR, 's' }, SAY_ACT_STATE, SAY_HELP_STATE },
	{ ACT_SHOW, { KEY_CODE_ENTER, 0 }, SAY_ACT_SHOW, SAY_HELP_SHOW },
	{ 0, { KEY_CODE_NONE, 0 }, NULL, NULL },
};

/* A printer that does not answer is waited for so long, each. */
#define LOOK_MS 4000

const struct print_job *
printing_job(const struct printing *s, int row)
{
	const struct job_list *parts[] = { &s->rows.unsure, &s->rows.waiting,
		&s->rows.settled };
	size_t i, at = row < 0 ? SIZE_MAX : (size_t)row;

	for (i = 0; i < 3; i++) {
		if (at < parts[i]->count)
			return &parts[i]->items[at];
		if (at != SIZE_MAX)
			at -= parts[i]->count;
	}
	return NULL;
}

/* --- loading --------------------------------------------------------------*/

/* The choice stays with this job wherever it moves, also to what is settled: a
 * key pressed twice answers one question. */
static void
choose(struct printing *s)
{
	const struct print_job *j = printing_job(s, s->list.at);

	s->chosen_id = j == NULL ? 0 : j->id;
}

static void
keep_choice(struct printing *s)
{
	const struct print_job *j;
	int i;

	s->list.count = (int)(s->rows.unsure.count + s->rows.waiting.count +
	    s->rows.settled.count);
	for (i = 0; i < s->list.count && s->chosen_id != 0; i++) {
		j = printing_job(s, i);
		if (j != NULL && j->id == s->chosen_id)
			s->list.at = i;
	}
	list_fit(&s->list);
	choose(s);
}

static void
load(struct desk *d, void *state)
{
	struct printing *s = state;
	struct queue_rows rows;
	struct err err = { 0 };
	struct today t = { 0 };
	enum rc rc;

	if ((rc = queue_rows(&rows, d->sn, PRINTING_ROWS, &err)) == RC_OK) {
		queue_rows_fini(&s->rows);
		s->rows = rows;
		rc = today_labels(&t, d->sn, &err);
	}
	if (rc != RC_OK) {
		desk_fail(d, &err);
		return;
	}
	memcpy(s->printers, t.printers, sizeof(s->printers));
	s->printer_count = t.printer_count;
	s->queued = t.queued;
	s->unsure = t.unsure;
	s->loaded = true;
	keep_choice(s);
	fault_foot(d);
}

static void
fini(void *state)
{
	struct printing *s = state;

	queue_rows_fini(&s->rows);
	beside_free(s->look, 0);
}

/* --- the printers' states, asked beside -----------------------------------*/

/* "main         not ready: out of labels": what is said of one of them. */
static bool
of_printer(
    char *dst, size_t size, const char *line, size_t len, const char *name)
{
	size_t n = strlen(name);

	if (len <= n || strncmp(line, name, n) != 0 || line[n] != ' ')
		return false;
	while (n < len && line[n] == ' ')
		n++;
	str_fmt(dst, size, "%.*s", (int)(len - n), line + n);
	utf8_clean(dst);
	return true;
}

static bool
take_answers(struct printing *s)
{
	const char *line;
	struct buf text;
	size_t len;
	bool any = false;
	int i;

	buf_init(&text, BESIDE_LINES * BESIDE_LINE_SIZE);
	beside_text(&text, s->look);
	for (line = buf_text(&text); *line != '\0'; line += len + 1) {
		len = strcspn(line, "\n");
		for (i = 0; i < s->printer_count; i++)
			any |= of_printer(s->says[i], sizeof(s->says[i]), line,
			    len, s->printers[i].name);
	}
	buf_fini(&text);
	return any;
}

static void
tick(struct desk *d, void *state)
{
	struct printing *s = state;
	bool any;

	if (s->look == NULL)
		return;
	beside_tick(s->look, d->now_ms);
	if (beside_running(s->look))
		return;
	any = take_answers(s);
	if (!any && d->at == SCREEN_PRINTING)
		desk_say(
		    d, LEVEL_WARN, tr(SAY_ASKED_NOTHING), beside_last(s->look));
	beside_free(s->look, 0);
	s->look = NULL;
}

static void
ask_printers(struct desk *d, struct printing *s)
{
	static const char *const args[] = { "printer", "status", NULL };
	struct err err = { 0 };

	if (s->look != NULL) {
		desk_say(d, LEVEL_NOTE, "%s", tr(SAY_ASK_BUSY));
		return;
	}
	memset(s->says, 0, sizeof(s->says));
	if (beside_start(&s->look, d, args, (int64_t)s->printer_count * LOOK_MS,
		&err) != RC_OK)
		desk_fail(d, &err);
}

/* --- what is recorded -----------------------------------------------------*/

static void
record_answer(struct desk *d, void *arg)
{
	struct printing *s = arg;
	struct print_job old, again;
	struct err err = { 0 };
	char name[32];

	str_fmt(name, sizeof(name), "job%lld", (long long)s->job_id);
	if (queue_answer(&old, &again, d->sn, name, s->answer, d->by, &err) !=
	    RC_OK) {
		desk_fail(d, &err);
		return;
	}
	if (again.id != 0)
		desk_print(d);
	desk_say(d, LEVEL_DONE,
	    tr(s->answer == ANSWER_YES          ? SAY_DID_YES
		    : s->answer == ANSWER_NO    ? SAY_DID_NO
		    : s->answer == ANSWER_LATER ? SAY_DID_LATER
						: SAY_DID_DROP),
	    s->which);
}

static void
record_cancel(struct desk *d, void *arg)
{
	struct printing *s = arg;
	struct print_job job;
	struct err err = { 0 };
	char name[32];

	str_fmt(name, sizeof(name), "job%lld", (long long)s->job_id);
	if (queue_cancel(&job, d->sn, name, d->by, &err) != RC_OK)
		desk_fail(d, &err);
	else
		desk_say(d, LEVEL_DONE, tr(SAY_DID_CANCEL), s->which);
}

static void
record_again(struct desk *d, void *arg)
{
	struct printing *s = arg;
	const char *codes[] = { s->code };
	struct label_order order = {
		.codes = codes,
		.count = 1,
		.want = s->hold ? LABEL_ON_HOLD : LABEL_AGAIN,
		.by = d->by,
		.only_queue = true,
	};
	struct job_list jobs;
	struct err err = { 0 };

	if (label_print(&jobs, d->sn, &order, &err) != RC_OK) {
		desk_fail(d, &err);
	} else {
		desk_say(d, LEVEL_DONE, tr(SAY_DID_AGAIN), s->which);
		desk_print(d);
	}
	job_list_fini(&jobs);
}

static void
record_test(struct desk *d, void *arg)
{
	struct printing *s = arg;
	const char *name = d->sn->cfg.printers[s->printer].name;
	struct label_order order = {
		.printer = name, .by = d->by, .only_queue = true
	};
	struct job_list jobs;
	struct err err = { 0 };

	if (printers_test(&jobs, d->sn, &order, &err) != RC_OK) {
		desk_fail(d, &err);
	} else {
		desk_say(d, LEVEL_DONE, tr(SAY_DID_TEST), name);
		desk_print(d);
	}
	job_list_fini(&jobs);
}

/* --- questions before it --------------------------------------------------*/

static void
drop_sure(struct desk *d, void *arg)
{
	desk_record(d, DUTY_CANCEL_UNSURE, record_answer, arg);
}

static void
cancel_sure(struct desk *d, void *arg)
{
	desk_record(d, DUTY_ANYONE, record_cancel, arg);
}

static void
ask_cancel(struct desk *d, struct printing *s, const struct print_job *j)
{
	char text[600];

	if (j->state == JOB_UNSURE) {
		s->answer = ANSWER_DROP;
		str_fmt(text, sizeof(text), tr(SAY_DROP_TEXT), s->which);
		desk_ask_yes(d, tr(SAY_DROP_ASK), text, drop_sure, s);
		return;
	}
	str_fmt(text, sizeof(text), tr(SAY_CANCEL_TEXT), s->which);
	desk_ask_yes(d, tr(SAY_CANCEL_ASK), text, cancel_sure, s);
}

static const char *
printer_word(const void *arg, size_t i)
{
	const struct config *c = arg;

	return c->printers[i].name;
}

static void
test_picked(struct desk *d, void *arg, size_t i)
{
	struct printing *s = arg;

	s->printer = (int)i;
	desk_record(d, DUTY_ANYONE, record_test, s);
}

static void
ask_test(struct desk *d, struct printing *s)
{
	struct choices c = {
		.count = (size_t)d->sn->cfg.printer_count,
		.word = printer_word,
		.arg = &d->sn->cfg,
	};

	if (c.count == 1)
		test_picked(d, s, 0);
	else
		desk_ask_pick(d, tr(SAY_TEST_ASK), &c, test_picked, s);
}

static void
show_job(struct desk *d, const struct print_job *j)
{
	char name[QUEUE_NAME_SIZE], title[80], what[QUEUE_WHAT_SIZE], when[48];
	struct buf out;

	buf_init(&out, 8192);
	buf_printf(&out, tr(SAY_JOB_WHAT), job_words(what, j));
	buf_printf(&out, tr(SAY_JOB_STATE), job_state_words(j->state));
	if (j->error[0] != '\0')
		buf_printf(&out, tr(SAY_JOB_WHY), j->error);
	buf_printf(
	    &out, tr(SAY_JOB_ON), j->printer_name, j->language, j->printer);
	buf_printf(&out, tr(SAY_JOB_BY),
	    when_instant(when, sizeof(when), j->at.utc), j->at.by);
	buf_printf(&out, tr(SAY_JOB_SINCE),
	    when_instant(when, sizeof(when), j->changed_utc));
	if (j->said_by[0] != '\0')
		buf_printf(&out, tr(SAY_JOB_SAID), j->said_by);
	if (j->copy > 0)
		buf_printf(&out, tr(SAY_JOB_COPY), j->copy);
	str_fmt(title, sizeof(title), tr(SAY_JOB_TITLE), queue_name(name, j));
	desk_read(d, title, buf_text(&out));
	buf_fini(&out);
}

/* --- actions --------------------------------------------------------------*/

/* What is remembered of the chosen job: the list may change under a question.
 */
static void
remember(struct printing *s, const struct print_job *j)
{
	s->job_id = j->id;
	str_copy(s->code, sizeof(s->code), j->code);
	s->hold = j->says == SAYS_HOLD;
	job_which(s->which, j);
}

static void
act(struct desk *d, void *state, int action)
{
	struct printing *s = state;
	const struct print_job *j = printing_job(s, s->list.at);

	if (action == ACT_TEST) {
		ask_test(d, s);
		return;
	}
	if (action == ACT_STATE) {
		ask_printers(d, s);
		return;
	}
	if (j == NULL)
		return;
	remember(s, j);
	if (action == ACT_SHOW) {
		show_job(d, j);
	} else if (action == ACT_CANCEL) {
		ask_cancel(d, s, j);
	} else if (action == ACT_AGAIN) {
		desk_record(d, DUTY_ANYONE, record_again, s);
	} else {
		s->answer = action == ACT_YES ? ANSWER_YES
		    : action == ACT_NO        ? ANSWER_NO
					      : ANSWER_LATER;
		desk_record(d, DUTY_ANYONE, record_answer, s);
	}
}

static bool
can(const struct desk *d, const void *state, int action)
{
	const struct printing *s = state;
	const struct print_job *j = printing_job(s, s->list.at);

	(void)d;
	if (action == ACT_TEST || action == ACT_STATE)
		return s->loaded;
	if (j == NULL)
		return false;
	if (action == ACT_SHOW)
		return true;
	if (action == ACT_CANCEL)
		return j->state == JOB_QUEUED || j->state == JOB_UNSURE;
	if (action == ACT_AGAIN)
		return j->code[0] != '\0' && j->state != JOB_QUEUED &&
		    j->state != JOB_SENDING && j->state != JOB_UNSURE;
	return j->state == JOB_UNSURE;
}

static bool
key(struct desk *d, void *state, const struct key *k)
{
	struct printing *s = state;

	(void)d;
	if (!list_key(&s->list, k))
		return false;
	choose(s);
	return true;
}

/* The label in somebody's hand is the one they mean. */
static bool
scan(struct desk *d, void *state, const struct desk_scan *scanned)
{
	struct printing *s = state;
	int i;

	(void)d;
	for (i = 0; i < s->list.count && scanned->code[0] != '\0'; i++)
		if (str_eq(printing_job(s, i)->code, scanned->code)) {
			s->list.at = i;
			s->chosen_id = printing_job(s, i)->id;
			return true;
		}
	return false;
}

const struct screen screen_printing = {
	.title = SAY_PRINTING,
	.actions = actions,
	.state_size = sizeof(struct printing),
	.fini = fini,
	.load = load,
	.draw = printing_draw,
	.key = key,
	.act = act,
	.scan = scan,
	.can = can,
	.tick = tick,
};
