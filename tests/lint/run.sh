#!/bin/sh
# All checks; `make lint` runs this.  Prints each finding as file:line: text
# and ends with 1 when there was any.  Each check also runs alone.
set -u
lint=$(cd "$(dirname "$0")" && pwd)
log=$(mktemp) || exit 2
trap 'rm -f "$log"' EXIT
checks=0
findings=0
failed=
for check in selftest toplevel words shell layers banned sizes headers \
    format cppcheck; do
	checks=$((checks + 1))
	"$lint/$check.sh" >"$log" 2>&1
	rc=$?
	[ $rc -eq 0 ] && [ ! -s "$log" ] && continue
	n=$(grep -c '' "$log")
	[ "$n" -eq 0 ] && n=1 && echo "$check.sh:0: ended with $rc" >"$log"
	cat "$log"
	findings=$((findings + n))
	failed="$failed $check"
done
if [ "$findings" -eq 0 ]; then
	echo "lint: $checks checks, no findings"
	exit 0
fi
echo "lint: $checks checks, $findings findings in:$failed"
exit 1
