#!/bin/sh
# Banned calls, // comments and unfinished-work marks.
. "$(dirname "$0")/common.sh"
sources c h inc >"$work/list"
need "$work/list"

# shellcheck disable=SC2046
awk -f "$lint/code.awk" $(cat "$work/list") |
awk -F '\t' '
BEGIN {
	everywhere = "strcpy strcat sprintf vsprintf gets strtok atoi atol " \
	    "atoll atof strncpy strncat system popen alloca localtime " \
	    "gmtime ctime asctime rand srand random tmpnam mktemp " \
	    "sqlite3_mprintf"
	n = split(everywhere, name, " ")
	for (i = 1; i <= n; i++)
		banned[name[i]] = 1
	to_stdio = "printf fprintf vprintf vfprintf puts fputs putchar " \
	    "fputc putc perror"
	# No shell and no other program: what a CSV, a scan or a setting says
	# is never a command.  The station starts itself again beside itself.
	starts = "execl execlp execle execv execvp execvpe execve fexecve " \
	    "posix_spawn posix_spawnp wordexp dlopen fork vfork"
	n = split(starts, name, " ")
	for (i = 1; i <= n; i++)
		starter[name[i]] = 1
	n = split(to_stdio, name, " ")
	for (i = 1; i <= n; i++)
		stdio[name[i]] = 1
}
{
	file = $1
	at = file ":" $2 ": "
	text = substr($0, length($1) + length($2) + 3)
	if (index(text, "//") > 0)
		print at "// comment; write /* */"
	sub(/\/\/.*/, "", text)
	while (match(text, /[A-Za-z_][A-Za-z0-9_]*[ \t]*\(/)) {
		before = RSTART > 1 ? substr(text, RSTART - 1, 1) : ""
		call = substr(text, RSTART, RLENGTH - 1)
		text = substr(text, RSTART + RLENGTH)
		sub(/[ \t]*$/, "", call)
		if (before == "." || before == ">")
			continue
		if (call in banned)
			print at call "() is banned"
		else if (call in starter && file !~ /^tests\// &&
		    !(file == "src/screens/beside.c" &&
		    (call == "execv" || call == "fork")))
			print at call "() starts another program"
		else if (call == "sqlite3_exec" && file !~ /^tests\// &&
		    file != "src/store/store.c")
			print at "sqlite3_exec() belongs to " \
			    "src/store/store.c only"
		else if (call in stdio && file ~ /^(src|include)\/core\//)
			print at call "() in core, which does no output"
	}
}' >>"$found"

# SQL is the store's, and there a test takes each statement in hand: a string
# that begins as one is nowhere else.
grep -nE '"(SELECT|INSERT INTO|DELETE FROM|UPDATE [a-z_]+ SET|PRAGMA|ATTACH) ' \
    $(grep -E '^(src|include|drivers)/' "$work/list" |
	grep -v '^src/store/') /dev/null |
sed 's|^\([^:]*:[0-9]*\):.*|\1: SQL outside src/store|' >>"$found"

# Spelt with brackets, so that this file does not find itself.
files | grep -v -e '^docs/' -e '^LICENSE$' |
while IFS= read -r f; do
	grep -nIE '(^|[^A-Za-z0-9_])(TO[D]O|FIX[M]E|XX[X])([^A-Za-z0-9_]|$)' \
	    "$f" | sed "s|^\([0-9]*\):.*|$f:\1: a mark of unfinished work|"
done >>"$found"
finish
