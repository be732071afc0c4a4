#!/bin/sh
# Install the Debian packages named that are missing.  Says nothing when all
# are there.  Runs apt-get, with sudo when not root.
set -u
missing=
for p in "$@"; do
	dpkg-query -W -f='${Status}' "$p" 2>/dev/null |
	    grep -q 'install ok installed' || missing="$missing $p"
done
[ -z "$missing" ] && exit 0
echo "installing:$missing"
if [ "$(id -u)" = 0 ]; then
	as_root=
elif command -v sudo >/dev/null 2>&1; then
	as_root=sudo
else
	echo "deps: not root and no sudo; ask for: apt-get install$missing" >&2
	exit 1
fi
log=$(mktemp)
trap 'rm -f "$log"' EXIT
export DEBIAN_FRONTEND=noninteractive
# Two tries: a package list can be older than the archive it names.
for try in 1 2; do
	# shellcheck disable=SC2086
	if $as_root apt-get install -y --no-install-recommends $missing \
	    >"$log" 2>&1; then
		exit 0
	fi
	[ "$try" = 1 ] && $as_root apt-get update >>"$log" 2>&1
done
tail -n 5 "$log" >&2
echo "deps: apt-get could not install:$missing (are the sources reachable?)" >&2
exit 1
