#!/bin/sh
# run.sh PROGRAM FOLDER - documents of a kitchen to which everything happens,
# against the published EPCIS 2.0 schema.  FOLDER keeps what npm fetched.  Where
# that cannot be had: SKIP, and nothing counts as passed.
set -u
here=$(cd "$(dirname "$0")" && pwd)
program=$1
mkdir -p "$2" || exit 2
tools=$(cd "$2" && pwd)/tools

why=$("$here/fetch.sh" "$tools") || {
	echo "SKIP epcis: $why: NO DOCUMENT WAS HELD AGAINST THE SCHEMA"
	exit 0
}
box=$(mktemp -d) || exit 2
[ "${KEEP:-}" = 1 ] && echo "kept in $box" || trap 'rm -rf "$box"' EXIT
# The documents come out of a command test, which runs as all of them do.
mkdir "$box/tests" "$box/documents"
cat >"$box/tests/01-epcis.sh" <<END
. "\$TOP/tests/cli/lib.sh"
. "\$TOP/tests/cli/kitchen.sh"
. "\$TOP/tests/epcis/story.sh"
documents "$box/documents"
END
CLI_TESTS=$box/tests "$here/../cli/run.sh" "$program" 01 >"$box/log" 2>&1 || {
	cat "$box/log"
	exit 1
}
node "$here/validate.js" "$tools" "$box"/documents/*.jsonld
