# common.sh - sourced by every check; not run by itself.
#
# A check prints one line per finding, "file:line: text", and exits 1 when it
# printed any.  LINT_TOP names another checkout, which is how selftest.sh
# shows each check a fault.
set -u
LC_ALL=C
export LC_ALL
lint=$(cd "$(dirname "$0")" && pwd)
top=${LINT_TOP:-$lint/../..}
cd "$top" || exit 2

work=$(mktemp -d) || exit 2
trap 'rm -rf "$work"' EXIT
found=$work/found
: >"$found"

# sources EXT... - every file of the program with one of these endings.
sources()
{
	for ext in "$@"; do
		for dir in src include drivers tests; do
			[ -d "$dir" ] && find "$dir" -type f -name "*.$ext"
		done
	done | sort
}

# files - what is, or is about to be, under version control.
files()
{
	if [ -e .git ]; then
		git ls-files --cached --others --exclude-standard |
		while IFS= read -r f; do
			[ -f "$f" ] && printf '%s\n' "$f"
		done
	else
		find . -type f | sed 's:^\./::' |
		    grep -v -e '^build/' -e '^demo/out/'
	fi | sort -u
}

# need FILE - a check that looked at nothing has not passed.
need()
{
	[ -s "$1" ] || printf '%s:0: nothing to check was found\n' \
	    "$(basename "$0")" >>"$found"
}

# need_tool NAME - a missing tool is a finding, never a skipped check.
need_tool()
{
	command -v "$1" >/dev/null 2>&1 && return 0
	printf '%s:0: %s is not installed: make deps-lint\n' \
	    "$(basename "$0")" "$1" >>"$found"
	return 1
}

# finish - print the findings and end the check.
finish()
{
	cat "$found"
	[ ! -s "$found" ]
	exit
}
