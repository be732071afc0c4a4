#!/bin/sh
# The screens of docs/manual.md are those the program shows.
#
#	tests/screens/manual.sh		say where they differ
#	tests/screens/manual.sh --write	put them in, from 80-manual.txt
#
# A screen stands behind a line <!-- screen NAME --> as a fenced block.
set -eu
top=$(cd "$(dirname "$0")/../.." && pwd)
manual=$top/docs/manual.md
made=$(mktemp)
trap 'rm -f "$made"' EXIT
awk -v seen="$top/tests/screens/80-manual.txt" '
BEGIN {
	while ((getline line <seen) > 0) {
		if (line ~ /^==== /) {
			name = line
			sub(/^==== /, "", name)
			sub(/ [0-9]+x[0-9]+$/, "", name)
			count[name] = 0
		} else if (line !~ /^cursor /)
			text[name, count[name]++] = substr(line, 2)
	}
}
skipping && /^```$/ { skipping = 0; next }
skipping { next }
{ print }
/^<!-- screen .* -->$/ {
	name = $0
	sub(/^<!-- screen /, "", name)
	sub(/ -->$/, "", name)
	if (!(name in count)) {
		print "manual.sh: no such screen: " name >"/dev/stderr"
		exit 1
	}
	print "```text"
	for (i = 0; i < count[name]; i++)
		print text[name, i]
	print "```"
	# the old block, if there is one
	if ((getline line) > 0) {
		if (line ~ /^```text$/)
			skipping = 1
		else
			print line
	}
}' "$manual" >"$made"
if [ "${1-}" = --write ]; then
	cp "$made" "$manual"
elif ! diff -u "$manual" "$made"; then
	echo "manual.sh: docs/manual.md shows other screens than the program:" \
	    "look at them, then tests/screens/manual.sh --write" >&2
	exit 1
fi
