#!/bin/sh
# 600 lines a .c, 200 a header, 60 a function body, 80 columns at tab 8.
. "$(dirname "$0")/common.sh"
sources c h >"$work/list"
need "$work/list"

# Continuation bytes of UTF-8 take no column of their own.
# shellcheck disable=SC2046
awk '
FNR == 1 && NR > 1 {
	total()
}
{
	file = FILENAME
	lines = FNR
	s = $0
	gsub(/[\200-\277]/, "", s)
	columns = 0
	while ((i = index(s, "\t")) > 0) {
		columns += i - 1
		columns += 8 - columns % 8
		s = substr(s, i + 1)
	}
	columns += length(s)
	if (columns > 80)
		print file ":" FNR ": " columns " columns, at most 80"
}
END {
	if (NR > 0)
		total()
}
function total(    max) {
	max = file ~ /\.h$/ ? 200 : 600
	if (lines > max)
		print file ":" lines ": " lines " lines, at most " max
}' $(cat "$work/list") >>"$found"

# A body runs from the brace that opens it to the first } in column 0.
# shellcheck disable=SC2046
awk -f "$lint/code.awk" $(cat "$work/list") |
awk -F '\t' '
function lost() {
	if (inside)
		print file ":" from ": " name "() has no } in column 0"
	inside = 0
}
$1 != file {
	lost()
	file = $1
	name = "?"
}
{
	text = substr($0, length($1) + length($2) + 3)
	sub(/[ \t]+$/, "", text)
	if (inside) {
		if (text ~ /^}/) {
			n = $2 - from - 1
			if (n > 60)
				print file ":" from ": " name "() has " n \
				    " lines, at most 60"
			inside = 0
		}
		next
	}
	if (text ~ /^#/)
		next
	if (text ~ /^[A-Za-z_].*\(/) {
		name = text
		sub(/[ \t]*\(.*/, "", name)
		sub(/.*[ \t*]/, "", name)
	}
	if (text ~ /^{/ || (text ~ /\).*{$/ && text !~ /^[ \t]/ &&
	    text !~ /=/)) {
		inside = 1
		from = $2
	}
}
END {
	lost()
}' >>"$found"
finish
