#!/bin/sh
# Every shell script parses, and those that say what runs them are executable.
. "$(dirname "$0")/common.sh"
files | while IFS= read -r f; do
	case $f in
	*.sh) printf '%s\n' "$f" ;;
	*) head -n 1 "$f" 2>/dev/null | tr -d '\0' |
	    grep -qaE '^#!.*[/ ](sh|dash|bash)( |$)' && printf '%s\n' "$f" ;;
	esac
done >"$work/list"
need "$work/list"
while IFS= read -r f; do
	first=$(head -n 1 "$f")
	case $first in
	*bash*) sh=bash ;;
	*) sh='sh' ;;
	esac
	case $first in
	'#!'*)
		[ -x "$f" ] || printf '%s:1: not executable\n' "$f" >>"$found"
		;;
	esac
	$sh -n "$f" >"$work/log" 2>&1 && continue
	line=$(sed -n 's/^[^:]*: \(line \)*\([0-9][0-9]*\):.*/\2/p' \
	    "$work/log" | head -n 1)
	printf '%s:%s: %s\n' "$f" "${line:-0}" \
	    "$(head -n 1 "$work/log" | sed 's/^[^:]*: //')" >>"$found"
done <"$work/list"
finish
