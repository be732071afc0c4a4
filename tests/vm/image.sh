#!/bin/sh
# Make what the virtual machine boots: Debian's own kernel, and an initial
# RAM disk with the modules, udev, a shell and the programs to test.
#
# usage: image.sh FOLDER PROGRAM...    leaves FOLDER/vmlinux, FOLDER/initrd
# Exit 77: something needed cannot be had here (said on standard error).
set -eu
here=$(cd "$(dirname "$0")" && pwd)
folder=$1
shift
mkdir -p "$folder"

skip() {
	echo "vm: $1" >&2
	exit 77
}

# The kernel's package changes its name with each release: ask which it is.
kernel_packages() {
	name=$(apt-cache depends linux-image-amd64 2>/dev/null |
	    awk '/Depends: linux-image/ { print $2; exit }')
	[ -n "$name" ] || skip "no linux-image-amd64 known: apt-get update?"
	(cd "$folder" && apt-get download "$name" udev) >"$folder/apt.log" 2>&1 ||
	    skip "cannot fetch $name and udev: $(tail -n 1 "$folder/apt.log")"
}

# Of 400 MB only the kernel and the USB modules are wanted.
unpack() {
	mkdir -p "$folder/kernel" "$folder/udev"
	dpkg-deb --fsys-tarfile "$folder"/linux-image-*.deb |
	    tar -x -C "$folder/kernel" --wildcards './boot/vmlinuz-*' \
	    './lib/modules/*/kernel/drivers/usb/*' \
	    './lib/modules/*/kernel/drivers/hid/*' \
	    './lib/modules/*/kernel/fs/configfs/*' \
	    './lib/modules/*/modules.builtin'
	dpkg-deb --fsys-tarfile "$folder"/udev_*.deb | tar -x -C "$folder/udev"
	rm -f "$folder"/*.deb
}

# QEMU starts the plain ELF kernel in half the time of the packed one, whose
# payload begins at the magic number of xz.
vmlinux() {
	packed=$(echo "$folder"/kernel/boot/vmlinuz-*)
	at=$(LC_ALL=C grep -abo "$(printf '\3757zXZ')" "$packed" |
	    head -n 1 | cut -d: -f1)
	[ -n "$at" ] || skip "$packed is packed in a way not known here"
	# What follows the payload makes xz complain after all is out.
	tail -c +$((at + 1)) "$packed" | xz -dc >"$folder/vmlinux" \
	    2>/dev/null || true
	[ -s "$folder/vmlinux" ] || skip "$packed does not unpack"
}

if [ ! -s "$folder/vmlinux" ]; then
	kernel_packages
	unpack
	vmlinux
fi

root=$folder/root
rm -rf "$root"
mkdir -p "$root/bin" "$root/dev" "$root/proc" "$root/sys" "$root/run" \
    "$root/tmp" "$root/etc/udev/rules.d" "$root/lib64" "$root/lib/modules" \
    "$root/lib/udev/rules.d"
cp "$here/init" "$root/init"
chmod 755 "$root/init"
cp "$(command -v busybox)" "$root/bin/busybox"
for module in usb-common usbcore usbip-core vhci-hcd usblp configfs udc-core \
    dummy_hcd libcomposite usb_f_printer usbhid hid; do
	file=$(find "$folder/kernel/lib/modules" -name "$module.ko*" |
	    head -n 1)
	# What is built into the kernel needs no file.
	[ -z "$file" ] || cp "$file" "$root/lib/modules/"
done
cp "$folder/udev/bin/udevadm" "$root/bin/"
cp "$folder/udev/lib/udev/rules.d/50-udev-default.rules" \
    "$root/lib/udev/rules.d/"
cp "$here/../../config/udev/"*.rules "$root/etc/udev/rules.d/" 2>/dev/null ||
    true
printf 'root:x:0:0::/:/bin/sh\ncook:x:1000:1000::/:/bin/sh\n' \
    >"$root/etc/passwd"
printf 'root:x:0:\nlp:x:7:\ncook:x:1000:\n' >"$root/etc/group"

# Every library a program asks for, at the path it asks for.
libraries() {
	ldd "$1" | awk '$2 == "=>" { print $3 } $1 ~ /^\// { print $1 }'
}
for program in "$@" "$root/bin/udevadm"; do
	[ "$program" = "$root/bin/udevadm" ] ||
	    cp "$program" "$root/bin/$(basename "$program")"
	for lib in $(libraries "$program"); do
		mkdir -p "$root$(dirname "$lib")"
		cp -L "$lib" "$root$lib"
	done
done
# What the program itself needs to run: tables, fonts, time zones.
cp -r "$here/../../config" "$root/config"
for data in /usr/share/fonts/truetype/dejavu/DejaVuSans-Bold.ttf \
    /usr/share/fonts/truetype/dejavu/DejaVuSansMono-Bold.ttf \
    /usr/share/zoneinfo/Europe/London; do
	mkdir -p "$root$(dirname "$data")"
	cp -L "$data" "$root$data"
done
(cd "$root" && find . | cpio -o -H newc --quiet) | gzip -1 >"$folder/initrd"
