#!/bin/sh
# cppcheck over the program; what it may be wrong about, with the reason, is in
# cppcheck.suppressions.
. "$(dirname "$0")/common.sh"
need_tool cppcheck || finish
dirs=
for dir in src drivers; do
	[ -n "$(find "$dir" -name '*.c' 2>/dev/null)" ] && dirs="$dirs $dir"
done
echo "$dirs" | tr -d ' \n' >"$work/list"
need "$work/list"
[ -s "$work/list" ] || finish
# shellcheck disable=SC2086
cppcheck --quiet --std=c11 --enable=warning,performance,portability \
    --inline-suppr --suppressions-list=tests/lint/cppcheck.suppressions \
    --error-exitcode=1 -j2 -Iinclude -D_POSIX_C_SOURCE=200809L \
    --template='{file}:{line}: {message} [{id}]' $dirs >"$work/log" 2>&1
rc=$?
grep -E '^[^ :]+:[0-9]+: ' "$work/log" >>"$found"
[ $rc -ne 0 ] && [ ! -s "$found" ] &&
    sed 's|^|cppcheck:0: |' "$work/log" >>"$found"
finish
