#!/bin/sh
# The top folder holds exactly what DEVELOPERS.md describes.
. "$(dirname "$0")/common.sh"
want="README.md DEVELOPERS.md Makefile LICENSE src include drivers tests \
config demo docs"
files | sed 's:/.*::' | sort -u >"$work/list"
need "$work/list"
for name in $want; do
	grep -qxF "$name" "$work/list" ||
	    printf '%s:0: missing from the top folder\n' "$name" >>"$found"
done
while IFS= read -r name; do
	case $name in
	.*) continue ;;
	esac
	case " $want " in
	*" $name "*) ;;
	*)
		printf '%s:0: does not belong in the top folder\n' "$name" \
		    >>"$found"
		;;
	esac
done <"$work/list"
finish
