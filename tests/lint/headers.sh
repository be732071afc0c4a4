#!/bin/sh
# Every header compiles alone, and twice, under the Makefile's warnings.
. "$(dirname "$0")/common.sh"
need_tool gcc || finish
need_tool pkg-config || finish

# make_var NAME - a variable of the Makefile with its continuation lines.
make_var()
{
	awk -v name="$1" '
	$1 == name && ($2 == ":=" || $2 == "=") { on = 1; sub(/^[^=]*=/, "") }
	on { s = $0; more = sub(/\\$/, "", s); print s; on = more }' Makefile
}

warn=$(make_var WARN)
[ -n "$warn" ] || echo "Makefile:0: no WARN variable found" >>"$found"
run=$(make_var PC_RUN)
test="$(make_var PC_TEST) $(make_var PC_USB)"
# shellcheck disable=SC2086
libs=$(pkg-config --cflags $run $test 2>/dev/null)
sources h >"$work/list"
need "$work/list"
while IFS= read -r h; do
	case $h in
	include/*) foreign= ;;
	*) foreign=$libs ;;
	esac
	printf '#include "%s"\n#include "%s"\n' "$h" "$h" >"$work/alone.c"
	# shellcheck disable=SC2086
	gcc -fsyntax-only -x c -std=c11 -D_POSIX_C_SOURCE=200809L \
	    -DPINBONE_VERSION='"0"' -Iinclude -iquote . $foreign $warn \
	    -Werror "$work/alone.c" >"$work/log" 2>&1 && continue
	grep -E '^[^ ]+:[0-9]+:[0-9]+: (fatal )?(error|warning):' \
	    "$work/log" >"$work/lines" ||
	    sed "s|^|$h:0: |" "$work/log" >"$work/lines"
	sed 's|^\([^:]*:[0-9]*\):[0-9]*: |\1: does not compile alone: |' \
	    "$work/lines" >>"$found"
done <"$work/list"
finish
