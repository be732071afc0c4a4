/*
 * base/err.h - graded result codes and the error record the caller owns.
 *
 * No global, no thread-local, no errno across modules.  Every function that
 * can fail returns `enum rc` and takes a `struct err *` last; NULL is allowed
 * there and means the caller does not want the text.
 */
#ifndef BASE_ERR_H
#define BASE_ERR_H

/*
 * X(code, word, exit status of a command).
 * What is true afterwards:
 *   OK        done
 *   END       nothing more to iterate
 *   RETRY     nothing changed, the same call may work later
 *   NOTFOUND  the thing named does not exist
 *   INVALID   malformed input; the text names the place
 *   REFUSED   a kitchen rule forbids it; the text is the reason
 *   FAILED    this operation failed, recorded state is unchanged
 *   FATAL     stop the station: data may be at risk
 */
#define RC_LIST(X)                                                             \
	X(RC_OK, "ok", 0)                                                      \
	X(RC_END, "end", 0)                                                    \
	X(RC_RETRY, "not ready", 5)                                            \
	X(RC_NOTFOUND, "not found", 4)                                         \
	X(RC_INVALID, "invalid", 2)                                            \
	X(RC_REFUSED, "refused", 3)                                            \
	X(RC_FAILED, "failed", 1)                                              \
	X(RC_FATAL, "fatal", 70)

enum rc {
#define RC_ENUM(code, word, status) code,
	RC_LIST(RC_ENUM)
#undef RC_ENUM
};

#define ERR_TEXT_MAX 512

struct err {
	enum rc rc;
	int lib; /* code of the library or errno, 0 when there is none */
	char text[ERR_TEXT_MAX]; /* one line, UTF-8, no full stop */
};

#define MUST_CHECK __attribute__((warn_unused_result))

/*
 * err_set - record the first error and return its code.
 * A record that already holds an error is left alone.  Control characters and
 * bytes that are not UTF-8 become '?' in the finished text, so that it is
 * always one line of text, whatever a file held or wherever it was cut.
 */
enum rc err_set(struct err *err, enum rc rc, int lib, const char *fmt, ...)
    __attribute__((format(printf, 4, 5)));

/* err_clear - forget a recorded error.  NULL is accepted. */
void err_clear(struct err *err);

/*
 * err_prefix - put words in front of a recorded text, for the upper layer
 * that knows something the reader does not (a file name, a row).
 */
void err_prefix(struct err *err, const char *fmt, ...)
    __attribute__((format(printf, 2, 3)));

/* rc_word - "refused" and so on; never NULL. */
const char *rc_word(enum rc rc);

/* rc_exit_status - what a command exits with; the table is RC_LIST. */
int rc_exit_status(enum rc rc);

/* ignore_rc - a deliberate ignore; the reason stands beside the call. */
static inline void
ignore_rc(enum rc rc)
{
	(void)rc;
}

#endif /* BASE_ERR_H */
