#!/bin/sh
# clang-format has nothing to change; `make format` does it.
. "$(dirname "$0")/common.sh"
need_tool clang-format || finish
sources c h >"$work/list"
need "$work/list"
# shellcheck disable=SC2046
clang-format --style=file:tests/lint/clang-format --dry-run -Werror \
    $(cat "$work/list") >"$work/log" 2>&1
rc=$?
sed -n 's|^\([^ :]*:[0-9]*\):[0-9]*: [a-z]*: |\1: |p' "$work/log" |
    uniq >>"$found"
[ $rc -ne 0 ] && [ ! -s "$found" ] &&
    sed 's|^|tests/lint/clang-format:0: |' "$work/log" >>"$found"
finish
