/* term.c - the only file that knows ncurses. */
#define NCURSES_WIDECHAR 1

#include "term/term.h"

#include <errno.h>
#include <langinfo.h>
#include <ncurses.h>
#include <poll.h>
#include <stdlib.h>
#include <string.h>
#include <termios.h>
#include <unistd.h>
#include <wchar.h>

#include "base/mem.h"
#include "base/str.h"
#include "font.h"

#define ESC_MS 25 /* a key that begins with Esc has come whole by then */
#define CONTROL(letter) ((letter)&0x1f)
#define STRING_SIZE 64

static struct {
	bool open;
	bool ascii;
	SCREEN *screen;
	attr_t attr[STYLE_COUNT];
	short pair[STYLE_COUNT];
	/* for a crash: what puts the terminal back, ready to be written */
	struct termios before;
	char reset[4 * STRING_SIZE];
	size_t reset_len;
} term;

static volatile sig_atomic_t stop_signal;

/* --- signals ---------------------------------------------------------------*/

static const int ends[] = { SIGINT, SIGTERM, SIGHUP };
static const int crashes[] = { SIGSEGV, SIGBUS, SIGFPE, SIGILL, SIGABRT };

static void
on_end(int sig)
{
	stop_signal = sig;
}

/* Only calls that a signal handler may make (POSIX.1-2008, 2.4.3). */
static void
on_crash(int sig)
{
	ssize_t n = write(STDOUT_FILENO, term.reset, term.reset_len);

	(void)n; /* nothing is left to be done about it */
	(void)tcsetattr(STDIN_FILENO, TCSANOW, &term.before);
	(void)raise(sig); /* SA_RESETHAND: this time it ends the program */
}

static void
put_handlers(void)
{
	struct sigaction sa;
	size_t i;

	memset(&sa, 0, sizeof(sa));
	sigemptyset(&sa.sa_mask);
	sa.sa_handler = on_end; /* no SA_RESTART: waiting ends */
	for (i = 0; i < sizeof(ends) / sizeof(ends[0]); i++)
		(void)sigaction(ends[i], &sa, NULL);
	sa.sa_handler = on_crash;
	sa.sa_flags = SA_RESETHAND | SA_NODEFER;
	for (i = 0; i < sizeof(crashes) / sizeof(crashes[0]); i++)
		(void)sigaction(crashes[i], &sa, NULL);
	sa.sa_handler = SIG_IGN; /* a closed terminal is seen when reading */
	sa.sa_flags = 0;
	(void)sigaction(SIGPIPE, &sa, NULL);
}

/* --- open and close --------------------------------------------------------*/

static void
keep_reset(const char *name)
{
	const char *s = tigetstr(name);
	size_t n;

	if (s == NULL || s == (const char *)-1)
		return;
	n = strlen(s);
	if (n >= STRING_SIZE || term.reset_len + n > sizeof(term.reset))
		return;
	memcpy(term.reset + term.reset_len, s, n);
	term.reset_len += n;
}

static void
set_style(enum style s, attr_t attr, attr_t mono, int colour)
{
	bool coloured = colour >= 0 && COLOR_PAIRS > (int)s + 1 && COLORS >= 8;

	term.attr[s] = coloured ? attr : mono;
	term.pair[s] = 0;
	if (coloured && init_pair((short)(s + 1), (short)colour, -1) == OK)
		term.pair[s] = (short)(s + 1);
	else
		term.attr[s] = mono;
}

static void
set_styles(bool no_colour)
{
	bool colour = !no_colour && has_colors() && start_color() == OK &&
	    use_default_colors() == OK;
	/* the Linux console draws faint text dark blue on some maps */
	attr_t faint = str_eq(termname(), "linux") ? A_NORMAL : A_DIM;

	set_style(STYLE_PLAIN, A_NORMAL, A_NORMAL, -1);
	set_style(STYLE_STRONG, A_BOLD, A_BOLD, -1);
	set_style(STYLE_FAINT, faint, faint, -1);
	set_style(STYLE_CHOSEN, A_REVERSE, A_REVERSE, -1);
	set_style(STYLE_FIELD, A_UNDERLINE, A_UNDERLINE, -1);
	set_style(STYLE_GOOD, A_NORMAL, A_NORMAL, colour ? COLOR_GREEN : -1);
	set_style(STYLE_WARN, A_BOLD, A_BOLD, colour ? COLOR_YELLOW : -1);
	set_style(STYLE_BAD, A_BOLD, A_BOLD, colour ? COLOR_RED : -1);
	set_style(STYLE_MARK, A_BOLD | A_REVERSE, A_BOLD | A_REVERSE, -1);
}

enum rc
term_open(const struct term_options *o, struct err *err)
{
	if (!isatty(STDIN_FILENO) || !isatty(STDOUT_FILENO))
		return err_set(err, RC_INVALID, 0,
		    "the station needs a terminal for its screens: start it on "
		    "one, or name a command (pinbone --help)");
	if (tcgetattr(STDIN_FILENO, &term.before) != 0)
		return err_set(
		    err, RC_INVALID, errno, "terminal: %s", strerror(errno));
	term.screen = newterm(NULL, stdout, stdin);
	if (term.screen == NULL)
		return err_set(err, RC_INVALID, 0,
		    "TERM=%.40s is no terminal that terminfo knows: set TERM, "
		    "such as TERM=linux",
		    getenv("TERM") == NULL ? "" : getenv("TERM"));
	(void)set_term(term.screen);
	(void)raw();
	(void)noecho();
	(void)nonl();
	(void)keypad(stdscr, TRUE);
	(void)nodelay(stdscr, TRUE);
	(void)intrflush(stdscr, FALSE);
	(void)set_escdelay(ESC_MS);
	term.ascii = o->ascii || !str_eq(nl_langinfo(CODESET), "UTF-8");
	font_learn(STDOUT_FILENO);
	set_styles(o->no_colour);
	term.reset_len = 0;
	keep_reset("sgr0");
	keep_reset("rmkx");
	keep_reset("cnorm");
	keep_reset("rmcup");
	put_handlers();
	term.open = true;
	return RC_OK;
}

void
term_close(void)
{
	if (!term.open)
		return;
	term.open = false;
	(void)endwin();
	delscreen(term.screen);
	term.screen = NULL;
	font_forget();
}

/* --- keys ------------------------------------------------------------------*/

static const struct {
	int curses;
	enum key_code code;
} special[] = {
	{ KEY_ENTER, KEY_CODE_ENTER },
	{ KEY_BTAB, KEY_CODE_BACKTAB },
	{ KEY_BACKSPACE, KEY_CODE_BACKSPACE },
	{ KEY_DC, KEY_CODE_DELETE },
	{ KEY_UP, KEY_CODE_UP },
	{ KEY_DOWN, KEY_CODE_DOWN },
	{ KEY_LEFT, KEY_CODE_LEFT },
	{ KEY_RIGHT, KEY_CODE_RIGHT },
	{ KEY_HOME, KEY_CODE_HOME },
	{ KEY_END, KEY_CODE_END },
	{ KEY_PPAGE, KEY_CODE_PAGE_UP },
	{ KEY_NPAGE, KEY_CODE_PAGE_DOWN },
};

static const struct {
	wint_t ch;
	enum key_code code;
} control[] = {
	{ '\r', KEY_CODE_ENTER },
	{ '\n', KEY_CODE_ENTER },
	{ '\t', KEY_CODE_TAB },
	{ 0x1b, KEY_CODE_ESC },
	{ 0x7f, KEY_CODE_BACKSPACE },
	{ CONTROL('h'), KEY_CODE_BACKSPACE },
	{ CONTROL('u'), KEY_CODE_CUT_OFF },
	{ CONTROL('z'), KEY_CODE_UNDO },
	{ CONTROL('o'), KEY_CODE_WHO },
	{ CONTROL('l'), KEY_CODE_ANEW },
	{ CONTROL('q'), KEY_CODE_QUIT },
	{ CONTROL('n'), KEY_CODE_SKIP },
};

static bool
from_function(struct key *out, wint_t c)
{
	size_t i;

	if (c >= (wint_t)KEY_F(1) && c <= (wint_t)KEY_F(12)) {
		*out = key_of(
		    (enum key_code)(KEY_CODE_F1 + (int)(c - (wint_t)KEY_F(1))));
		return true;
	}
	for (i = 0; i < sizeof(special) / sizeof(special[0]); i++)
		if ((wint_t)special[i].curses == c) {
			*out = key_of(special[i].code);
			return true;
		}
	return false;
}

/* Esc and a key of the row of digits at once (Alt and the key) is a function
 * key, for keyboards without: F1 to F12. */
static bool
alt_digit(struct key *out)
{
	static const char row[] = "1234567890-=";
	const char *at;
	wint_t c;

	if (get_wch(&c) != OK)
		return false;
	if (c > 0 && c < 0x80 && (at = strchr(row, (int)c)) != NULL) {
		*out = key_of((enum key_code)(KEY_CODE_F1 + (at - row)));
		return true;
	}
	(void)unget_wch((wchar_t)c);
	return false;
}

static bool
from_char(struct key *out, wint_t c)
{
	size_t i;

	if (c == CONTROL('c')) { /* raw(): it is no signal by itself */
		stop_signal = SIGINT;
		return false;
	}
	if (c == 0x1b && alt_digit(out))
		return true;
	for (i = 0; i < sizeof(control) / sizeof(control[0]); i++)
		if (control[i].ch == c) {
			*out = key_of(control[i].code);
			return true;
		}
	/* GS is what a scanner types between elements; other controls are
	 * nobody's */
	if (c < 0x20 && c != 0x1d)
		return false;
	*out = key_char((uint32_t)c);
	return true;
}

enum rc
term_key(struct key *out, bool *resized, int wait_ms, struct err *err)
{
	struct pollfd in = { .fd = STDIN_FILENO, .events = POLLIN };
	bool waited = false, gone = false;
	wint_t c;
	int got;

	*resized = false;
	for (;;) {
		if (stop_signal != 0)
			return RC_END;
		got = get_wch(&c);
		if (got == KEY_CODE_YES && c == (wint_t)KEY_RESIZE) {
			*resized = true;
			return RC_RETRY;
		}
		if ((got == KEY_CODE_YES && from_function(out, c)) ||
		    (got == OK && from_char(out, c)))
			return RC_OK;
		if (got != ERR)
			continue;
		if (gone)
			return RC_END;
		if (waited)
			return RC_RETRY;
		got = poll(&in, 1, wait_ms);
		if (got < 0 && errno != EINTR)
			return err_set(err, RC_END, errno, "terminal: %s",
			    strerror(errno));
		/* What was typed before it went is still to be read. */
		gone = got > 0 &&
		    (in.revents & (POLLHUP | POLLERR | POLLNVAL)) != 0;
		waited = true;
	}
}

void
term_size(int *w, int *h)
{
	getmaxyx(stdscr, *h, *w);
}

/* --- painting --------------------------------------------------------------*/

static void
paint_cell(int x, int y, const struct cell *c)
{
	wchar_t text[2] = { (wchar_t)c->ch, 0 };
	cchar_t cc;

	if (c->ch == 0)
		return; /* the right half of a wide one */
	if ((term.ascii && c->ch >= 0x80) || !font_draws(c->ch))
		text[0] = (wchar_t)glyph_plain(c->ch);
	if (setcchar(&cc, text, term.attr[c->style], term.pair[c->style],
		NULL) == OK)
		(void)mvadd_wch(y, x, &cc);
}

void
term_paint(const struct canvas *c)
{
	int w, h, x, y;

	term_size(&w, &h);
	for (y = 0; y < c->h && y < h; y++)
		for (x = 0; x < c->w && x < w; x++)
			paint_cell(x, y, &c->cells[y * c->w + x]);
	if (c->cursor_x >= 0 && c->cursor_x < w && c->cursor_y < h) {
		(void)curs_set(1);
		(void)wmove(stdscr, c->cursor_y, c->cursor_x);
	} else {
		(void)curs_set(0);
	}
	(void)wrefresh(stdscr);
}

void
term_anew(void)
{
	(void)clearok(stdscr, TRUE);
}
