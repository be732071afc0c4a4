#!/bin/sh
# docs/install.md, run as it stands: every block marked sh, in a new Debian 12
# in a folder (debootstrap, chroot).
#
#	tests/install/run.sh FOLDER
#
# Needs root and an archive of Debian packages.  Without either it is skipped,
# says so, and ends with 77.  KEEP=1 keeps the folder.
set -u
top=$(cd "$(dirname "$0")/../.." && pwd)
work=${1:?usage: tests/install/run.sh FOLDER}
mkdir -p "$work" || exit 2
work=$(cd "$work" && pwd)
root=$work/root
log=$work/log

skip()
{
	echo "SKIP check-install: $1"
	exit 77
}

[ "$(id -u)" = 0 ] || skip 'not root'
command -v debootstrap >/dev/null 2>&1 || skip 'debootstrap is not installed'
[ ! -e "$root" ] || rm -rf --one-file-system "$root"

clean()
{
	umount "$root/dev/pts" "$root/proc" 2>/dev/null
	[ "${KEEP:-}" = 1 ] || rm -rf --one-file-system "$root"
}
trap clean EXIT

echo 'a bare Debian 12 ...'
debootstrap --variant=minbase bookworm "$root" >"$log" 2>&1 || {
	tail -n 3 "$log"
	skip 'debootstrap did not work here'
}
# Services would be started by their packages, if there were an init.
printf '#!/bin/sh\nexit 101\n' >"$root/usr/sbin/policy-rc.d"
chmod +x "$root/usr/sbin/policy-rc.d"
mount -t proc proc "$root/proc" 2>/dev/null ||
    echo 'note: /proc could not be mounted in it'
mount --bind /dev/pts "$root/dev/pts" 2>/dev/null ||
    echo 'note: no pseudo-terminals in it: the last look will fail'

# The source, without what was built in it.
mkdir "$root/src-of-pinbone"
(cd "$top" && tar -cf - README.md DEVELOPERS.md Makefile LICENSE src include \
    drivers tests config demo docs) | tar -xf - -C "$root/src-of-pinbone"

# The blocks, each with the line it stands on.
awk '/^```sh$/ { inside = 1; print "# docs/install.md:" NR; next }
    /^```$/ && inside { inside = 0; print "#--"; next }
    inside' "$top/docs/install.md" >"$work/blocks"
[ "$(grep -c '^#--$' "$work/blocks")" -ge 7 ] || {
	echo 'FAIL check-install: hardly a block in docs/install.md'
	exit 1
}

n=0
: >"$work/block"
while IFS= read -r line; do
	case $line in
	'# docs/install.md:'*)
		at=${line#'# '}
		: >"$work/block"
		;;
	'#--')
		n=$((n + 1))
		echo "$at ..."
		{
			echo 'set -e; cd /src-of-pinbone'
			cat "$work/block"
		} >"$root/block.sh"
		chroot "$root" env -i PATH=/usr/local/sbin:/usr/local/bin:/usr/sbin:/usr/bin:/sbin:/bin \
		    HOME=/ LC_ALL=C.UTF-8 TERM=dumb \
		    DEBIAN_FRONTEND=noninteractive sh /block.sh \
		    </dev/null >"$log" 2>&1 || {
			tail -n 20 "$log"
			echo "FAIL check-install: $at"
			exit 1
		}
		;;
	*) printf '%s\n' "$line" >>"$work/block" ;;
	esac
done <"$work/blocks"
echo "pass check-install: $n blocks of docs/install.md"
