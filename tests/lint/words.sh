#!/bin/sh
# No file names a path of the machine it was written on.
. "$(dirname "$0")/common.sh"
files >"$work/list"
need "$work/list"
# Spelt with brackets, so that this file does not find itself.
re='(^|[^A-Za-z0-9_.~-])(/wor[k]/|/roo[t](/|[^A-Za-z0-9_]|$)|/tmp/[h]([^a-z]|$))'
while IFS= read -r f; do
	grep -nIE "$re" "$f" |
	    sed "s|^\([0-9]*\):.*|$f:\1: a path of one machine|"
done <"$work/list" >>"$found"
finish
