#!/bin/sh
# Include rules and one-place libraries, from layers.tsv.
. "$(dirname "$0")/common.sh"
sources c h inc >"$work/list"
need "$work/list"

# FreeType's real headers come through macros (#include FT_FREETYPE_H).
# shellcheck disable=SC2046
awk -f "$lint/code.awk" $(cat "$work/list") |
awk -F '\t' '
NR == FNR {
	if ($1 ~ /^#/ || NF < 3)
		next
	n = split($3, w, " ")
	for (i = 1; i <= n; i++) {
		if ($1 == "area")
			may[$2, w[i]] = 1
		else if ($1 == "std")
			std[w[i]] = 1
		else
			place[$1, $2, ++places[$1, $2]] = w[i]
	}
	if ($1 == "area")
		area_known[$2] = 1
	if ($1 == "call")
		calls[++call_count] = $2
	next
}
function find(text) {
	print file ":" line ": " text
}
# Is this file one of the places the row names?
function placed(kind, name,    i, p) {
	for (i = 1; i <= places[kind, name]; i++) {
		p = place[kind, name, i]
		if (p == file || (p ~ /\/$/ && index(file, p) == 1))
			return 1
	}
	return 0
}
function where(kind, name,    i, s) {
	for (i = 1; i <= places[kind, name]; i++)
		s = s (i > 1 ? ", " : "") place[kind, name, i]
	return s
}
function area_of(path,    p) {
	split(path, p, "/")
	if (path == "src/main.c")
		return "main"
	if (p[1] == "drivers" || p[1] == "tests")
		return p[1]
	return p[2]
}
function exists(path,    rc, l) {
	rc = (getline l < path)
	close(path)
	return rc >= 0
}
function check_own(name,    dir, to) {
	if (index(name, "..") > 0 || name ~ /^\//)
		return find("\"" name "\" leaves the folder; " \
		    "use \"area/module.h\"")
	if (name !~ /\//) {
		dir = file
		sub(/[^\/]*$/, "", dir)
		if (!exists(dir name))
			find("\"" name "\" is not a header of " dir)
		return
	}
	if (area == "tests")
		return
	if (name !~ /^[a-z]+\/[a-z0-9_]+\.h$/)
		return find("\"" name "\" is not of the form \"area/module.h\"")
	if (!exists("include/" name))
		return find("\"" name "\" is not under include/")
	to = name
	sub(/\/.*/, "", to)
	if (to != area && !((area, to) in may))
		find("includes " to "/, not allowed for " area)
}
function check_foreign(name) {
	if (area == "tests" || name in std)
		return
	if (!(("lib", name) in places))
		return find("<" name "> is no listed header; " \
		    "see tests/lint/layers.tsv")
	if (file ~ /^include\//)
		return find("<" name "> in a public header; " \
		    "no foreign type crosses an area")
	if (!placed("lib", name))
		find("<" name "> belongs to " where("lib", name) " only")
}
{
	file = $1
	line = $2
	text = substr($0, length($1) + length($2) + 3)
	area = area_of(file)
	if (area != "tests" && !(area in area_known) && !seen[area]++)
		find("the area " area " is not in tests/lint/layers.tsv")
	if (text ~ /^[ \t]*#[ \t]*include/) {
		name = text
		sub(/^[ \t]*#[ \t]*include[ \t]*/, "", name)
		sub(/[ \t]*$/, "", name)
		if (name ~ /^".*"$/)
			check_own(substr(name, 2, length(name) - 2))
		else if (name ~ /^<.*>$/)
			check_foreign(substr(name, 2, length(name) - 2))
		else if (name ~ /^FT_[A-Z_]+_H$/ && placed("lib", "ft2build.h"))
			;
		else if (area != "tests")
			find("include through a macro: " name)
		next
	}
	if (area == "tests")
		next
	for (i = 1; i <= call_count; i++) {
		re = "(^|[^A-Za-z0-9_.>])" calls[i] "[ \t]*\\("
		if (index(text, calls[i]) > 0 && text ~ re &&
		    !placed("call", calls[i]))
			find(calls[i] "() belongs to " where("call", calls[i]) \
			    " only")
	}
}' "$lint/layers.tsv" - >>"$found"
finish
