#!/bin/sh
# Run test programs in a virtual machine with Debian's own kernel, because only
# a real kernel has real USB.  Emulated throughout (no KVM): it runs anywhere.
#
# usage: run.sh FOLDER PROGRAM TEST...
# PROGRAM is pinbone; each TEST is called vm_NAME and prints what Check prints.
set -u
here=$(cd "$(dirname "$0")" && pwd)
folder=$1
pinbone=$2
shift 2

# A skipped run is said loudly and counted, never taken for a pass.
skipped() {
	echo "vm: SKIPPED: $1" >&2
	echo "vm: 0 passed, 0 failed, $2 skipped"
	exit 0
}

for tool in qemu-system-x86_64 busybox cpio xz dpkg-deb; do
	command -v "$tool" >/dev/null 2>&1 ||
	    skipped "$tool is not there and could not be installed" $#
done
"$here/image.sh" "$folder" "$pinbone" "$@"
case $? in
0) ;;
77) skipped "see above" $# ;;
*)
	echo "vm: the image could not be made" >&2
	exit 1
	;;
esac

timeout "${VM_SECONDS:-400}" qemu-system-x86_64 -M q35 -accel tcg -m 512 \
    -nodefaults -no-reboot -nic none -display none -serial stdio \
    -kernel "$folder/vmlinux" -initrd "$folder/initrd" \
    -append "${VM_APPEND:-} console=ttyS0 panic=-1 quiet nokaslr mitigations=off tsc=unstable" \
    </dev/null >"$folder/log" 2>&1
ended=$?
tr -d '\r' <"$folder/log" >"$folder/out"
cat "$folder/out"
passed=0
failed=0
for program in "$@"; do
	name=$(basename "$program")
	if grep -qx "@@ $name rc=0" "$folder/out"; then
		passed=$((passed + 1))
	else
		failed=$((failed + 1))
		echo "vm: $name failed or did not end" >&2
	fi
done
grep -qx '@@ end' "$folder/out" || {
	failed=$((failed + 1))
	echo "vm: the machine did not come to its end (status $ended)" >&2
}
if grep '^@@ module' "$folder/out" >&2; then
	failed=$((failed + 1))
fi
echo "vm: $passed passed, $failed failed"
[ "$failed" = 0 ]
